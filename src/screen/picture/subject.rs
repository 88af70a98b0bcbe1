//! What the picture is of: which part of the work a movement is about.

use crate::beadwork::layout::{Part, RimIndex, RowIndex, Seat};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Round, Side, Step};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::Way;
use crate::beadwork::sequence::Sequence;
use crate::beadwork::stage::{Stage, Zip};

/// What the picture is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A stretch of a panel.
    Rounds {
        /// The panel.
        panel: Panel,
        /// The round that lies evenly: outward the one that is made, inward
        /// the one that is worked on.
        even: Round,
        /// Which way the panel is worked.
        way: Way,
        /// Index in that round of the bead nearest to the needle.
        focus: u32,
        /// The side that is worked.
        side: Side,
        /// A join row that is worked there now.
        row: Option<RowIndex>,
    },
    /// The first round of a fill.
    Rim {
        /// The fill.
        panel: Panel,
        /// Its rim.
        rim: RimIndex,
        /// The side that is worked.
        side: Side,
        /// The bead on that side nearest to the needle, from 0.
        at: u32,
    },
    /// Two edges and the row between them.
    Join {
        /// The join.
        zip: Zip,
        /// Teeth that are locked.
        locked: u32,
    },
}

impl Subject {
    /// The subject of the movement that follows once `done` steps are done; of
    /// a finished piece, of its last.
    pub fn of(seq: &Sequence, done: Step) -> Option<Subject> {
        let now = Step((done.0 + 1).min(seq.steps()));
        let movement = seq.step(now)?;
        Some(of_movement(seq, done, &movement))
    }
}

fn of_movement(seq: &Sequence, done: Step, m: &Movement) -> Subject {
    let layout = seq.layout();
    match seq.stage_of(m.step) {
        Stage::Ring(ring) => in_panel(seq, ring.panel, Round(1), m, done),
        Stage::FreeStart(start) => {
            let even = layout.kind(start.panel).last();
            in_panel(seq, start.panel, even, m, done)
        }
        Stage::Rounds(rounds) => {
            let even = match layout.making(rounds.panel).begin.way() {
                Way::Outward => Round(rounds.on.0 + 1),
                Way::Inward => rounds.on,
            };
            in_panel(seq, rounds.panel, even, m, done)
        }
        Stage::RowStage(stage) => {
            let row = layout.row(stage.row);
            let subject = in_panel(seq, row.panel, layout.kind(row.panel).last(), m, done);
            match subject {
                Subject::Rounds {
                    panel,
                    even,
                    way,
                    focus,
                    ..
                } => Subject::Rounds {
                    panel,
                    even,
                    way,
                    focus,
                    side: row.side,
                    row: Some(stage.row),
                },
                other => other,
            }
        }
        Stage::RimRound(rim) => {
            let bead = m.strings.first().or(m.passes.last());
            let seat = bead.map(|&b| layout.seat(b));
            let on_fill = seat.filter(|s| s.panel == rim.panel);
            let side = m.side.unwrap_or(Side(0));
            let last = layout.kind(rim.panel).edge(side) - 1;
            Subject::Rim {
                panel: rim.panel,
                rim: rim.rim,
                side: if m.kind == Kind::StepDown {
                    Side(layout.kind(rim.panel).sides() - 1)
                } else {
                    side
                },
                at: match on_fill {
                    Some(seat) if m.kind == Kind::Stitch => seat.place,
                    _ => last,
                },
            }
        }
        Stage::Zip(zip) => Subject::Join {
            zip: *zip,
            locked: if done < m.step {
                m.round_beads.saturating_sub(1)
            } else {
                m.round_beads
            },
        },
        Stage::Through(_) | Stage::Still(_) => through(seq, done, m),
    }
}

/// A movement through beads already there, or without thread.
fn through(seq: &Sequence, done: Step, m: &Movement) -> Subject {
    let layout = seq.layout();
    if m.passes.is_empty() && matches!(m.kind, Kind::StartThread | Kind::Fold) {
        // What it is for comes next.
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
        return Subject::Rounds {
            panel,
            even: kind.last(),
            way: Way::Outward,
            focus: kind.index(kind.last(), side, middle),
            side,
            row: None,
        };
    };
    let seat = layout.seat(bead);
    let kind = layout.kind(seat.panel);
    let making = layout.making(seat.panel);
    let even = match (seat.part, making.begin.way()) {
        (Part::JoinRow(_) | Part::Tip(_), _) => kind.last(),
        (Part::Face, Way::Inward) => {
            Round(seat.round.0.max(making.innermost().0 + 1)).min(kind.last())
        }
        (Part::Face, Way::Outward) => {
            // Two more rounds if they are there, for the eye to find its way.
            let strung = seq.strung_after(done);
            let there = |k: &u32| {
                let index = making.start(Round(*k));
                layout.bead(seat.panel, Round(*k), index).0 <= strung
            };
            let two = (seat.round.0..=kind.rounds()).take(3);
            Round(two.take_while(there).last().unwrap_or(seat.round.0))
        }
    };
    in_panel(seq, seat.panel, even, m, done)
}

/// A stretch of a panel round the first of the movement's beads that belongs
/// to it.
fn in_panel(seq: &Sequence, panel: Panel, even: Round, m: &Movement, done: Step) -> Subject {
    let layout = seq.layout();
    let kind = layout.kind(panel);
    let of_panel = |b: &Bead| Some(layout.seat(*b)).filter(|s| s.panel == panel);
    let beads = m.strings.iter().chain(&m.passes);
    let seat = beads.filter_map(of_panel).next();
    let seat = seat.or_else(|| seq.leaves(done).as_ref().and_then(of_panel));
    let (focus, side) = match seat {
        Some(seat) => (carry(kind, seat, even), seat.side),
        None => (layout.making(panel).start(even), Side(0)),
    };
    Subject::Rounds {
        panel,
        even,
        way: layout.making(panel).begin.way(),
        focus,
        side: m.side.unwrap_or(side),
        row: None,
    }
}

/// The bead of round `to` that lies nearest to a seat.
fn carry(kind: &PanelLayout, seat: Seat, to: Round) -> u32 {
    let (mut round, mut index) = match seat.part {
        Part::Face => (seat.round, seat.index),
        Part::JoinRow(_) => (kind.last(), kind.edge_index(seat.side, seat.place)),
        Part::Tip(_) => {
            let end = kind.edge(seat.side) - 1;
            (kind.last(), kind.edge_index(seat.side, end))
        }
    };
    while round < to {
        round = Round(round.0 + 1);
        index = kind.word(round).beads_before(index) % kind.in_round(round);
    }
    while round > to {
        index = kind.word(round).gap_of(index);
        round = Round(round.0 - 1);
    }
    index
}
