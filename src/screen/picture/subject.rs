//! What the picture shows: the part of the work that a movement is about.

use super::join::JoinView;
use super::patch::{Extent, Patch};
use super::rim::RimView;
use super::rounds::RoundsView;
use crate::beadwork::layout::{Layout, Part, Seat};
use crate::beadwork::panel::Spot;
use crate::beadwork::project::WorkDirection;
use crate::beadwork::stage::Stage;
use crate::beadwork::{Bead, Kind, Movement, Panel, Round, Sequence, Side, Step};

/// What the picture shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A stretch of a panel.
    Rounds(RoundsView),
    /// The first round of a fill.
    Rim(RimView),
    /// Two edges and the row between them.
    Join(JoinView),
}

impl Subject {
    /// Number of beads along it: up beads of a side, teeth of a join.
    pub fn length(&self, layout: &Layout) -> u32 {
        match self {
            Subject::Rounds(view) => view.length(layout),
            Subject::Rim(view) => view.length(layout),
            Subject::Join(view) => view.length(layout),
        }
    }

    /// The patch to draw when `strung` beads are strung.
    pub fn patch(&self, seq: &Sequence, strung: u32, extent: Extent) -> Patch {
        match self {
            Subject::Rounds(view) => view.patch(seq, strung, extent),
            Subject::Rim(view) => view.patch(seq, extent),
            Subject::Join(view) => view.patch(seq, extent),
        }
    }

    /// The subject of the next movement, with `done` steps done; for a finished
    /// piece, of its last movement.
    pub fn of(seq: &Sequence, done: Step) -> Option<Subject> {
        let now = Step((done.0 + 1).min(seq.steps()));
        let movement = seq.step(now)?;
        Some(of_movement(seq, done, &movement))
    }

    /// The same, but for a movement that leads from panel to panel one subject
    /// for each panel, in the order in which the needle reaches them; `most` at
    /// most. `taken` of the beads to enter have been taken one at a time.
    pub fn all(seq: &Sequence, done: Step, taken: usize, most: usize) -> Vec<Subject> {
        let now = seq.step(Step(done.0 + 1));
        let run = |m: &Movement| matches!(seq.stage_of(m.step), Stage::Through(_));
        let Some(m) = now.filter(|m| run(m) && !m.passes.is_empty()) else {
            return Subject::of(seq, done).into_iter().collect();
        };
        let ahead = &m.passes[taken.min(m.passes.len() - 1)..];
        let leaves = match taken {
            0 => seq.leaves(done),
            n => m.passes.get(n - 1).copied(),
        };
        // What is entered matters more than what is left.
        let leaves = leaves.filter(|_| most > 1);
        let mut seats: Vec<Seat> = vec![];
        for &bead in leaves.iter().chain(ahead) {
            let seat = seq.layout().seat(bead);
            match seats.iter_mut().find(|s| s.panel == seat.panel) {
                None => seats.push(seat),
                Some(first) if bead == ahead[0] => *first = seat,
                Some(_) => {}
            }
        }
        let seats = seats.iter().take(most);
        seats.map(|seat| near(seq, *seat, done)).collect()
    }
}

fn of_movement(seq: &Sequence, done: Step, m: &Movement) -> Subject {
    let layout = seq.layout();
    let rounds = |panel, even| Subject::Rounds(in_panel(seq, panel, even, m, done));
    match seq.stage_of(m.step) {
        Stage::Ring(ring) => rounds(ring.panel, Round(1)),
        Stage::TwoRows(string) => rounds(string.panel, Round(2)),
        Stage::FreeStart(start) => rounds(start.panel, layout.kind(start.panel).last()),
        Stage::Rounds(stage) => {
            let even = match layout.making(stage.panel).begin.way() {
                WorkDirection::Outward => Round(stage.on.0 + 1),
                WorkDirection::Inward => stage.on,
            };
            rounds(stage.panel, even)
        }
        Stage::RowStage(stage) => {
            let row = layout.row(stage.row);
            let view = in_panel(seq, row.panel, layout.kind(row.panel).last(), m, done);
            Subject::Rounds(RoundsView {
                side: row.side,
                row: Some(stage.row),
                ..view
            })
        }
        Stage::RimRound(rim) => {
            let bead = m.strings.first().or(m.passes.last());
            let seat = bead.map(|&b| layout.seat(b));
            let on_fill = seat.filter(|s| s.panel == rim.panel);
            let side = m.side.unwrap_or(Side(0));
            let beads = layout.kind(rim.panel).edge(side);
            let last = Side(layout.kind(rim.panel).sides() - 1);
            let is_down = m.kind == Kind::StepDown;
            Subject::Rim(RimView {
                panel: rim.panel,
                rim: rim.rim,
                side: if is_down { last } else { side },
                at: match on_fill {
                    Some(seat) if !is_down => seat.place,
                    // A gap without a bead, after the existing ones.
                    _ if m.kind == Kind::Decrease => {
                        let gaps = layout.rim_gaps(rim.panel);
                        let before = gaps.before(gaps.first(side));
                        m.round_beads - before
                    }
                    _ => beads,
                },
            })
        }
        Stage::Lock(lock) => rounds(lock.around, lock.ring(layout)),
        Stage::Zip(zip) => Subject::Join(JoinView {
            zip: *zip,
            locked: if done < m.step {
                m.round_beads.saturating_sub(1)
            } else {
                m.round_beads
            },
        }),
        Stage::Through(_) | Stage::Still(_) | Stage::Own(_) | Stage::BreakOut(_) => {
            through(seq, done, m)
        }
    }
}

/// A movement through existing beads, or without thread.
fn through(seq: &Sequence, done: Step, m: &Movement) -> Subject {
    let layout = seq.layout();
    if m.passes.is_empty() && matches!(m.kind, Kind::StartThread | Kind::Fold) {
        // Its purpose is what comes next.
        if let Some(next) = seq.step(Step(m.step.0 + 1)) {
            return of_movement(seq, done, &next);
        }
    }
    let bead = match m.kind {
        Kind::Count => None,
        _ => m.passes.first().copied().or_else(|| seq.leaves(done)),
    };
    let job = seq.job(m.job);
    let Some(bead) = bead else {
        let panel = job.panel();
        let kind = layout.kind(panel);
        let side = m.side.unwrap_or(Side(0));
        let middle = kind.on_side(kind.last(), side) / 2;
        return Subject::Rounds(RoundsView {
            panel,
            even: kind.last(),
            way: WorkDirection::Outward,
            focus: kind.index(kind.last(), side, middle),
            side,
            row: None,
        });
    };
    near(seq, layout.seat(bead), done)
}

/// The work near a seat.
fn near(seq: &Sequence, seat: Seat, done: Step) -> Subject {
    let layout = seq.layout();
    let kind = layout.kind(seat.panel);
    let making = layout.making(seat.panel);
    let even = match (seat.part, making.begin.way()) {
        (Part::JoinRow(_) | Part::Tip(_), _) => kind.last(),
        (Part::Face, WorkDirection::Inward) => {
            Round(seat.round.0.max(making.innermost().0 + 1)).min(kind.last())
        }
        (Part::Face, WorkDirection::Outward) => {
            // Two more rounds, if they exist, for orientation.
            let strung = seq.strung_after(done);
            let there = |k: &u32| {
                let index = making.start(Round(*k));
                layout.bead(seat.panel, Round(*k), index).0 <= strung
            };
            let two = (seat.round.0..=kind.rounds()).take(3);
            Round(two.take_while(there).last().unwrap_or(seat.round.0))
        }
    };
    Subject::Rounds(RoundsView {
        panel: seat.panel,
        even,
        way: making.begin.way(),
        focus: carry(layout, seat, even),
        side: seat.side,
        row: None,
    })
}

/// A stretch of a panel round the first of the movement's beads that belongs to
/// it.
fn in_panel(seq: &Sequence, panel: Panel, even: Round, m: &Movement, done: Step) -> RoundsView {
    let layout = seq.layout();
    let of_panel = |b: &Bead| Some(layout.seat(*b)).filter(|s| s.panel == panel);
    let beads = m.strings.iter().chain(&m.passes);
    let seat = beads.filter_map(of_panel).next();
    let seat = seat.or_else(|| seq.leaves(done).as_ref().and_then(of_panel));
    let (focus, side) = match seat {
        Some(seat) => (carry(layout, seat, even), seat.side),
        None => (layout.making(panel).start(even), Side(0)),
    };
    RoundsView {
        panel,
        even,
        way: layout.making(panel).begin.way(),
        focus,
        side: m.side.unwrap_or(side),
        row: None,
    }
}

/// The bead of round `to` nearest to a seat.
fn carry(layout: &Layout, seat: Seat, to: Round) -> u32 {
    let kind = layout.kind(seat.panel);
    let (round, index) = match seat.part {
        Part::Face => (seat.round, seat.index),
        Part::JoinRow(row) => {
            let row = layout.row(row);
            let gap = row.gap_of(seat.place, row.gaps);
            (kind.last(), kind.edge_index(seat.side, gap))
        }
        Part::Tip(_) => {
            let end = kind.edge(seat.side) - 1;
            (kind.last(), kind.edge_index(seat.side, end))
        }
    };
    kind.nearest(Spot { round, index }, to)
}
