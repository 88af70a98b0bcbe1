//! How the work looks after a step: the answer to every question.

use super::ask::Ask;
use crate::beadwork::job::JobKind;
use crate::beadwork::layout::Part;
use crate::beadwork::making::Begin;
use crate::beadwork::{Bead, Job, Kind, Movement, Panel, Round, Sequence, Side, Step};

/// The most sides a panel has.
const SIDES: usize = 12;

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

/// Follows the steps and keeps the state needed for the look of the next.
pub(super) struct LookTracker<'a> {
    seq: &'a Sequence,
    /// The panel begun last, and the job that makes it.
    newest: Option<(Panel, Job)>,
    joined: u32,
    locked: u32,
    round: Option<Round>,
    round_beads: u32,
    on_side: [u32; SIDES],
    closed: bool,
    strung: u32,
    leaves: Option<Bead>,
    faces: u32,
}

impl<'a> LookTracker<'a> {
    /// The state before `first`, which is the first step of a job, or of a
    /// round of a panel.
    fn before(seq: &'a Sequence, first: Step) -> Self {
        let before = Step(first.0 - 1);
        let mut tracker = LookTracker {
            seq,
            newest: None,
            joined: 0,
            locked: 0,
            round: None,
            round_beads: 0,
            on_side: [0; SIDES],
            closed: true,
            strung: seq.strung_after(before),
            leaves: seq.leaves(before),
            faces: 0,
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
                    let whole = tracker.strung >= job.beads_before + job.beads;
                    tracker.faces = job.panels_before + u32::from(whole);
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
        tracker.restore_round(before);
        tracker
    }

    /// Restores the state of the newest round, if a panel is unfinished.
    fn restore_round(&mut self, before: Step) {
        let Some((panel, job)) = self.newest else {
            return;
        };
        let first = self.seq.job(job).beads_before + 1;
        let string = super::stretch::string(self.seq, panel);
        if self.strung < first {
            self.closed = string == 0;
            return;
        }
        if self.strung >= first + self.seq.job(job).beads - 1 {
            return;
        }
        let layout = self.seq.layout();
        let in_string = self.strung < first + string;
        let round = layout.seat(Bead(self.strung)).round;
        for bead in (first..=self.strung).rev().map(Bead) {
            let seat = layout.seat(bead);
            if seat.round != round && !in_string {
                break;
            }
            self.round_beads += 1;
            self.on_side[seat.side.index().min(SIDES - 1)] += 1;
        }
        self.round = Some(round);
        let closing = || self.seq.step_of(Bead(first + string - 1)).0 + 1;
        self.closed = !in_string || (self.strung + 1 == first + string && before.0 >= closing());
    }

    /// Applies a movement.
    fn apply(&mut self, m: &Movement) {
        let job = self.seq.job(m.job);
        if let (JobKind::Panel(panel) | JobKind::Fill { panel, .. }, false) =
            (&job.kind, self.newest.is_some_and(|(_, j)| j == m.job))
        {
            self.newest = Some((*panel, m.job));
            self.joined = 0;
            self.round = None;
            self.closed = super::stretch::string(self.seq, *panel) == 0;
        }
        self.strung += m.strings.len() as u32;
        let whole = m.round_beads == m.round_target;
        match m.kind {
            Kind::Zip if whole => (self.joined, self.locked) = (self.joined + 1, 0),
            Kind::Zip => self.locked = m.round_beads,
            Kind::Ring if m.strings.is_empty() => self.closed = true,
            Kind::StepDown => self.closed = true,
            Kind::EndThread => self.leaves = None,
            _ => {}
        }
        match m.passes.last() {
            Some(&bead) if m.kind != Kind::EndThread => self.leaves = Some(bead),
            None if m.kind == Kind::StartThread => self.leaves = None,
            _ => {}
        }
        if let (JobKind::Panel(_) | JobKind::Fill { .. }, false) = (&job.kind, m.strings.is_empty())
        {
            self.add_beads(m);
            let all = job.beads_before + job.beads;
            self.faces += u32::from(self.strung == all);
        }
    }

    /// Adds the beads of a panel that a movement strings.
    fn add_beads(&mut self, m: &Movement) {
        // The string of a free start counts as one round, though it makes two.
        let round = m.round;
        if round != self.round && (self.closed || self.round.is_none()) {
            self.round_beads = 0;
            self.on_side = [0; SIDES];
        }
        self.round = round;
        self.round_beads += m.strings.len() as u32;
        for &bead in &m.strings {
            let side = self.seq.layout().seat(bead).side;
            self.on_side[side.index().min(SIDES - 1)] += 1;
        }
    }

    /// The look now.
    fn look(&self) -> Appearance {
        let mut look = Appearance::default();
        look.set(Ask::Faces, self.faces);
        look.set(Ask::Corner, 3);
        look.set(Ask::Joined, self.joined);
        look.set(Ask::Locked, self.locked);
        let half_done = self.half_done(&mut look);
        look.set(Ask::HalfDone, half_done as u32);
        if let Some((panel, _)) = self.newest {
            look.set(Ask::Rows, self.finished_rows(panel));
        }
        if matches!(
            half_done,
            HalfDone::String | HalfDone::Panel | HalfDone::Fill | HalfDone::Row
        ) {
            let colour = self.seq.layout().colour(Bead(self.strung));
            look.set(Ask::LastColour, u32::from(colour.0) + 1);
        }
        self.thread(&mut look);
        look
    }

    fn half_done(&self, look: &mut Appearance) -> HalfDone {
        let Some((panel, job)) = self.newest else {
            return HalfDone::Nothing;
        };
        let info = self.seq.job(job);
        let layout = self.seq.layout();
        if self.strung < info.beads_before + info.beads {
            return self.half_done_panel(panel, look);
        }
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

    fn half_done_panel(&self, panel: Panel, look: &mut Appearance) -> HalfDone {
        let Some(round) = self.round else {
            return HalfDone::Nothing;
        };
        let layout = self.seq.layout();
        let kind = layout.kind(panel);
        look.set(Ask::InRound, self.round_beads);
        let begin = layout.making(panel).begin;
        if !self.closed {
            look.set(Ask::Rounds, 1);
            return HalfDone::String;
        }
        let rounds = match begin {
            Begin::Ring | Begin::TwoRows => round.0,
            Begin::FreeStart | Begin::Rim => kind.rounds() + 1 - round.0,
        };
        look.set(Ask::Rounds, rounds);
        look.set(Ask::Corner, u32::from(kind.corner(round)).min(2));
        let side = layout.seat(Bead(self.strung)).side;
        look.set(Ask::Edge, self.on_side[side.index().min(SIDES - 1)]);
        let whole = |s: &u8| {
            let of = kind.on_side(round, Side(*s));
            of > 0 && self.on_side[usize::from(*s).min(SIDES - 1)] >= of
        };
        let sides = (0..kind.sides()).filter(whole).count();
        look.set(Ask::SidesWhole, sides as u32);
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

    fn thread(&self, look: &mut Appearance) {
        let Some(bead) = self.leaves else {
            return;
        };
        let layout = self.seq.layout();
        let seat = layout.seat(bead);
        let colour = layout.colour_of(seat);
        look.set(Ask::LeavesColour, u32::from(colour.0) + 1);
        look.set(Ask::Ahead, seat.of - 1 - seat.place.min(seat.of - 1));
        let is_panel_unfinished = look.get(Ask::Rounds) > 0;
        let high = match (self.newest, self.round) {
            (Some((panel, _)), Some(round)) if panel == seat.panel && is_panel_unfinished => {
                seat.round == round
            }
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

/// The looks of steps `first` to `last`, in order. `first` is the first step of
/// a job, or of a round of a panel.
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
            (m.step, tracker.look())
        })
}

/// The look of one step.
pub fn look(seq: &Sequence, step: Step) -> Option<Appearance> {
    if step.0 == 0 || step.0 > seq.steps() {
        return None;
    }
    let first = super::stretch::begin_of(seq, step);
    looks(seq, first, step).last().map(|(_, look)| look)
}
