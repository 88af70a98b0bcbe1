//! How the work looks after a step: the answer to every question.

use super::ask::Ask;
use crate::beadwork::job::JobKind;
use crate::beadwork::layout::Part;
use crate::beadwork::making::Begin;
use crate::beadwork::{Bead, Job, Kind, Movement, Panel, Round, Sequence, Side, Step};

/// The answers to all questions, in the order of [`Ask::ALL`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Appearance([u32; Ask::ALL.len()]);

impl Appearance {
    /// The answer to a question.
    pub fn get(&self, ask: Ask) -> u32 {
        self.0[ask.index()]
    }

    fn set(&mut self, ask: Ask, value: u32) {
        self.0[ask.index()] = value;
    }
}

/// What is half done, in the order of the answers to [`Ask::HalfDone`].
#[derive(Clone, Copy)]
enum HalfDone {
    Nothing,
    /// A string not yet closed to a ring.
    String,
    Panel,
    /// The filling of an opening.
    Fill,
    /// A join row.
    Row,
    Join,
}

/// The kind of bead that the thread comes out of, in the order of the answers
/// to [`Ask::Leaves`], of which 0 is no thread.
#[derive(Clone, Copy)]
enum Leaves {
    /// The bead strung last.
    Newest = 1,
    /// Another bead of the newest round or the outermost one.
    High,
    /// A bead further in.
    Low,
    Join,
    Tip,
}

/// Follows the steps and keeps what a look cannot be told from its step alone.
pub(super) struct LookTracker<'a> {
    seq: &'a Sequence,
    /// The panel begun last, and the job that makes it.
    newest: Option<(Panel, Job)>,
    /// Sides joined since then, and teeth locked of the next.
    joined: u32,
    locked: u32,
    strung: u32,
    leaves: Option<Bead>,
}

/// The newest round of an unfinished panel. A string counts as one round,
/// though it makes two.
struct NewestRound {
    round: Round,
    beads: u32,
    on_side: Vec<u32>,
    /// Whether it is a string that is not closed to a ring yet.
    is_open_string: bool,
}

impl<'a> LookTracker<'a> {
    /// The state before `first`. If its job joins sides, it is the first step of
    /// the job.
    fn before(seq: &'a Sequence, first: Step) -> Self {
        let before = Step(first.0 - 1);
        let mut tracker = LookTracker {
            seq,
            newest: None,
            joined: 0,
            locked: 0,
            strung: seq.strung_after(before),
            leaves: seq.leaves(before),
        };
        if before.0 == 0 {
            return tracker;
        }
        // Back to the job that made the newest panel; all before it are
        // finished.
        for at in (0..=seq.job_of(before).0).rev().map(Job) {
            let job = seq.job(at);
            match &job.kind {
                JobKind::Panel(panel) | JobKind::Fill { panel, .. } => {
                    tracker.newest = Some((*panel, at));
                    break;
                }
                JobKind::Zip(_, joins) | JobKind::SetIn(_, joins)
                    if job.steps_before + job.steps <= before.0 =>
                {
                    tracker.joined += joins.len() as u32;
                }
                _ => {}
            }
        }
        tracker
    }

    /// Applies a movement.
    fn apply(&mut self, m: &Movement) {
        if let (JobKind::Panel(panel) | JobKind::Fill { panel, .. }, false) = (
            &self.seq.job(m.job).kind,
            self.newest.is_some_and(|(_, job)| job == m.job),
        ) {
            self.newest = Some((*panel, m.job));
            self.joined = 0;
        }
        self.strung += m.strings.len() as u32;
        match m.kind {
            Kind::Zip if m.round_beads == m.round_target => {
                (self.joined, self.locked) = (self.joined + 1, 0);
            }
            Kind::Zip => self.locked = m.round_beads,
            _ => {}
        }
        match m.passes.last() {
            _ if m.kind == Kind::EndThread => self.leaves = None,
            Some(&bead) => self.leaves = Some(bead),
            None if m.kind == Kind::StartThread => self.leaves = None,
            None => {}
        }
    }

    /// The newest round after a step, if a panel is begun and not finished.
    fn newest_round(&self, done: Step) -> Option<NewestRound> {
        let (panel, job) = self.newest?;
        let (layout, info) = (self.seq.layout(), self.seq.job(job));
        let (kind, making) = (layout.kind(panel), layout.making(panel));
        let begun = self.strung.checked_sub(info.beads_before)?;
        if begun == 0 || begun >= info.beads {
            return None;
        }
        let round = layout.seat(Bead(self.strung)).round;
        let sides = (0..kind.sides()).map(Side);
        let string = super::stretch::string(self.seq, panel);
        if begun <= string {
            let last = self.seq.step_of(Bead(info.beads_before + string));
            let closes = |m: &Movement| match m.kind {
                Kind::Ring => m.strings.is_empty(),
                kind => kind == Kind::StepDown,
            };
            let mut after = (last.0 + 1..=done.0).filter_map(|step| self.seq.step(Step(step)));
            let rounds = || making.strung_rounds(kind).map(Round);
            let on_side = |side| rounds().map(|round| kind.on_side(round, side)).sum();
            return Some(NewestRound {
                round,
                beads: begun,
                on_side: sides.map(on_side).collect(),
                is_open_string: begun < string || !after.any(|m| closes(&m)),
            });
        }
        let (start, all) = (making.start(round), kind.in_round(round));
        let beads = self.strung + 1 - layout.bead(panel, round, start).0;
        // Beads are strung along the round, from its first on.
        let on_side = |side| {
            let first = (kind.index(round, side, 0) + all - start) % all;
            let end = first + kind.on_side(round, side);
            let up_to = |place: u32| beads.min(place);
            up_to(end.min(all)) - up_to(first.min(all)) + up_to(end.saturating_sub(all))
        };
        Some(NewestRound {
            round,
            beads,
            on_side: sides.map(on_side).collect(),
            is_open_string: false,
        })
    }

    /// The look after a step.
    fn look(&self, done: Step) -> Appearance {
        let mut look = Appearance::default();
        look.set(Ask::Corner, 3);
        look.set(Ask::Joined, self.joined);
        look.set(Ask::Locked, self.locked);
        let newest = self.newest_round(done);
        let half_done = match (&newest, self.newest) {
            (Some(newest), Some((panel, _))) => self.half_done_panel(panel, newest, &mut look),
            (None, Some((_, job))) => self.half_done(job, &mut look),
            (_, None) => HalfDone::Nothing,
        };
        look.set(Ask::HalfDone, half_done as u32);
        if let Some((panel, job)) = self.newest {
            let info = self.seq.job(job);
            let is_whole = self.strung >= info.beads_before + info.beads;
            look.set(Ask::Faces, info.panels_before + u32::from(is_whole));
            look.set(Ask::Rows, self.finished_rows(panel));
        }
        if matches!(
            half_done,
            HalfDone::String | HalfDone::Panel | HalfDone::Fill | HalfDone::Row
        ) {
            let colour = self.seq.layout().colour(Bead(self.strung));
            look.set(Ask::LastColour, u32::from(colour.0) + 1);
        }
        self.thread(newest.map(|newest| newest.round), &mut look);
        look
    }

    /// What is half done while no panel is.
    fn half_done(&self, job: Job, look: &mut Appearance) -> HalfDone {
        let info = self.seq.job(job);
        if self.strung < info.beads_before + info.beads {
            return HalfDone::Nothing;
        }
        let layout = self.seq.layout();
        let seat = layout.seat(Bead(self.strung));
        if let Part::JoinRow(index) | Part::Tip(index) = seat.part {
            let row = layout.row(index);
            let first = layout.row_bead(index, 0).0;
            let beads = self.strung + 1 - first;
            if beads < row.beads + row.tips {
                look.set(Ask::RowBeads, beads);
                return HalfDone::Row;
            }
        }
        match self.locked {
            0 => HalfDone::Nothing,
            _ => HalfDone::Join,
        }
    }

    fn half_done_panel(
        &self,
        panel: Panel,
        newest: &NewestRound,
        look: &mut Appearance,
    ) -> HalfDone {
        let layout = self.seq.layout();
        let kind = layout.kind(panel);
        look.set(Ask::InRound, newest.beads);
        let begin = layout.making(panel).begin;
        if newest.is_open_string {
            look.set(Ask::Rounds, 1);
            return HalfDone::String;
        }
        let round = newest.round;
        let rounds = match begin {
            Begin::Ring | Begin::TwoRows => round.0,
            Begin::FreeStart | Begin::Rim => kind.rounds() + 1 - round.0,
        };
        look.set(Ask::Rounds, rounds);
        look.set(Ask::Corner, u32::from(kind.corner(round)).min(2));
        let side = layout.seat(Bead(self.strung)).side;
        look.set(Ask::Edge, newest.on_side[side.index()]);
        let is_whole = |(side, &there): (Side, &u32)| {
            let of = kind.on_side(round, side);
            of > 0 && there >= of
        };
        let sides = (0..).map(Side).zip(&newest.on_side);
        look.set(
            Ask::SidesWhole,
            sides.filter(|side| is_whole(*side)).count() as u32,
        );
        match begin {
            Begin::Rim => HalfDone::Fill,
            _ => HalfDone::Panel,
        }
    }

    fn finished_rows(&self, panel: Panel) -> u32 {
        let layout = self.seq.layout();
        let whole = |s: &u8| {
            layout.row_on(panel, Side(*s)).is_some_and(|index| {
                let row = layout.row(index);
                let beads = row.beads + row.tips;
                beads > 0 && layout.row_bead(index, beads - 1).0 <= self.strung
            })
        };
        (0..layout.kind(panel).sides()).filter(whole).count() as u32
    }

    fn thread(&self, newest: Option<Round>, look: &mut Appearance) {
        let Some(bead) = self.leaves else {
            return;
        };
        let layout = self.seq.layout();
        let seat = layout.seat(bead);
        let colour = layout.colour_of(seat);
        look.set(Ask::LeavesColour, u32::from(colour.0) + 1);
        look.set(Ask::Ahead, seat.of - 1 - seat.place.min(seat.of - 1));
        let high = match (self.newest, newest) {
            (Some((panel, _)), Some(round)) if panel == seat.panel => seat.round == round,
            _ => seat.round >= layout.kind(seat.panel).last(),
        };
        let newest = bead.0 == self.strung && look.get(Ask::LastColour) > 0;
        let leaves = match seat.part {
            _ if newest => Leaves::Newest,
            Part::JoinRow(_) => Leaves::Join,
            Part::Tip(_) => Leaves::Tip,
            Part::Face if high => Leaves::High,
            Part::Face => Leaves::Low,
        };
        look.set(Ask::Leaves, leaves as u32);
        if seat.part == Part::Face {
            look.set(Ask::LeavesRound, seat.round.0);
        }
    }
}

/// The looks of steps `first` to `last`, in order. If the job of `first` joins
/// sides, it is the first step of the job.
pub(super) fn looks(
    seq: &Sequence,
    first: Step,
    last: Step,
) -> impl Iterator<Item = (Step, Appearance)> + '_ {
    let mut tracker = LookTracker::before(seq, first);
    seq.iter_from(first)
        .take((last.0 + 1 - first.0) as usize)
        .map(move |m| {
            tracker.apply(&m);
            (m.step, tracker.look(m.step))
        })
}

/// The look of one step.
pub fn look(seq: &Sequence, step: Step) -> Option<Appearance> {
    if step.0 == 0 || step.0 > seq.steps() {
        return None;
    }
    let first = match seq.job(seq.job_of(step)) {
        job if job.kind.is_zip() => Step(job.steps_before + 1),
        _ => step,
    };
    looks(seq, first, step).last().map(|(_, look)| look)
}
