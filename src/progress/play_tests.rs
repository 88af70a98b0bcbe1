//! Random goals and random play: the verifier proves the plan, the rules allow
//! every step, and the journal restores the piece.

use super::entry::{Entry, Event, MoveReason};
use super::journal::{header, line, read};
use super::moment::Moment;
use super::state::State;
use crate::beadwork::amend::{Amendment, OpeningEnd, SidesJoined};
use crate::beadwork::number::GoalJob;
use crate::beadwork::planner::PlanRule;
use crate::beadwork::project::{Closing, Make, Project, Solid};
use crate::beadwork::verify::verify;
use crate::beadwork::work::Fact;
use crate::beadwork::{Bead, Panel, Sequence, Side, Step, round_info, testing};
use proptest::prelude::*;
use serde_json::Value;

/// The number of random cases, unless `PROPTEST_CASES` is set.
fn cases(usual: u32) -> ProptestConfig {
    let asked = std::env::var("PROPTEST_CASES").ok();
    let cases = asked.and_then(|asked| asked.parse().ok());
    ProptestConfig {
        cases: cases.unwrap_or(usual),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// A small piece of any make.
fn any_project() -> impl Strategy<Value = Project> {
    let closing = prop::sample::select(vec![Closing::SetIn, Closing::Fill, Closing::Open]);
    let size = (3..=6u8, 2..=6u32, 0..3u32, 0..=2u8);
    (0..7, size, closing, any::<bool>()).prop_map(|(make, size, closing, is_short)| {
        let (sides, rounds, open, tips) = size;
        let inner = open.min(rounds - 2);
        let mut project = match make {
            0 => testing::single(testing::panel(sides, rounds)),
            1 => testing::single(testing::inward(sides, rounds + 1, inner)),
            2 => testing::solid(Solid::Tetrahedron, rounds, closing),
            3 => testing::solid(Solid::Octahedron, rounds.min(4), closing),
            4 => testing::folded_pair(rounds, inner),
            5 => testing::ring(8, rounds.min(3), closing),
            _ => testing::listed_tetrahedron(rounds),
        };
        match &mut project.make {
            Make::Solid { tips: t, .. } | Make::Ring { tips: t, .. } => *t = tips,
            Make::FoldedPair { tips: t, .. } => *t = tips,
            _ => {}
        }
        if is_short {
            project.thread.cut_mm = 500.0;
        }
        project
    })
}

/// What a maker does next.
#[derive(Clone, Debug)]
enum Play {
    Forward(u32),
    /// To a place, in thousandths of the piece.
    Jump(u32),
    Back(u32),
    Unpick(u32),
    Amend(Amendment),
    Undo,
}

fn any_amendment() -> impl Strategy<Value = Amendment> {
    let how = prop_oneof![
        Just(OpeningEnd::Open),
        (0..2usize, 0..2u32).prop_map(|(kind, open)| OpeningEnd::Fill { kind, open }),
        (0..2usize).prop_map(|kind| OpeningEnd::SetIn { kind }),
    ];
    let job = || (0..24u16).prop_map(GoalJob);
    prop_oneof![
        3 => (job(), how).prop_map(|(job, how)| Amendment::Opening { job, how }),
        1 => job().prop_map(Amendment::LeaveOut),
        1 => job().prop_map(Amendment::Next),
        1 => Just(Amendment::Finish),
        1 => (1..200u32).prop_map(|bead| Amendment::SewThrough(Bead(bead))),
        1 => (0..3usize).prop_map(Amendment::Another),
    ]
}

fn any_play() -> impl Strategy<Value = Play> {
    prop_oneof![
        3 => (1..12u32).prop_map(Play::Forward),
        2 => (0..=1000u32).prop_map(Play::Jump),
        1 => (1..5u32).prop_map(Play::Back),
        1 => (1..40u32).prop_map(Play::Unpick),
        3 => any_amendment().prop_map(Play::Amend),
        1 => Just(Play::Undo),
    ]
}

/// A piece in progress, with its journal.
struct TestPiece {
    project: Project,
    sequence: Sequence,
    state: State,
    entries: Vec<Entry>,
}

impl TestPiece {
    fn new(project: Project) -> TestPiece {
        TestPiece {
            sequence: Sequence::new(project.clone()),
            project,
            state: State::default(),
            entries: vec![],
        }
    }

    fn keep(&mut self, entry: Entry) {
        self.state.apply(&entry);
        self.entries.push(entry);
    }

    fn go(&mut self, to: u32, why: MoveReason) {
        let from = self.state.step;
        let entry = match to > from {
            true => Entry::played(&self.sequence, (from, to), why, Moment(1)),
            false => Entry::to(to, why, Moment(1)),
        };
        self.keep(entry);
    }

    fn play(&mut self, play: &Play) {
        let (at, steps) = (self.state.step, self.sequence.steps());
        match play {
            Play::Forward(more) => {
                for step in at + 1..=steps.min(at + more) {
                    self.go(step, MoveReason::Forward);
                }
            }
            Play::Jump(part) => self.go(steps * part / 1000, MoveReason::Jump),
            Play::Back(fewer) => self.go(at.saturating_sub(*fewer), MoveReason::Back),
            Play::Unpick(fewer) => self.go(at.saturating_sub(*fewer), MoveReason::Unpick),
            Play::Amend(amendment) => {
                let Ok(amended) = self.sequence.amended(Step(at), amendment) else {
                    return;
                };
                self.keep(entry(Event::Amend(amendment.clone())));
                self.sequence = amended;
            }
            Play::Undo => {
                self.keep(entry(Event::Undo));
                let resumed = resumed(&self.project, &self.state);
                self.sequence = resumed;
            }
        }
    }
}

fn entry(did: Event) -> Entry {
    Entry { at: Moment(1), did }
}

fn resumed(project: &Project, state: &State) -> Sequence {
    let resumed = Sequence::resume(project.clone(), &[], &state.record, PlanRule::default());
    assert_eq!(resumed.refused, None);
    resumed.sequence
}

fn assert_proved(sequence: &Sequence) {
    let (layout, jobs) = (sequence.layout(), sequence.jobs());
    let project = layout.project();
    let size = |bead| project.beads[usize::from(sequence.colour_as_made(bead).0)].size;
    let report = verify(
        project,
        sequence.goal(),
        jobs,
        sequence.iter_as_made(),
        size,
    );
    assert!(report.is_proved(), "{:?}", report.findings.first());
    let rounds: u32 = round_info::rounds(sequence).map(|r| r.beads()).sum();
    assert_eq!(rounds, report.beads, "beads of the rounds");
}

/// Asserts that the rules allow the facts, one movement at a time.
fn assert_allowed(sequence: &Sequence) {
    let mut work = sequence.work_at(Step(0));
    for step in 0..sequence.steps() {
        for fact in sequence.work().facts(step, step + 1) {
            assert_eq!(work.check(&fact), Ok(()), "step {}: {fact:?}", step + 1);
            work.play(fact);
        }
    }
}

fn written(entries: &[Entry]) -> Vec<u8> {
    entries.iter().fold(header(), |mut bytes, entry| {
        bytes.extend(line(entry));
        bytes
    })
}

/// Changes the `nth` number, word or flag of a JSON value.
fn change_value(value: &mut Value, nth: &mut usize, number: i64) {
    const WORDS: [&str; 8] = [
        "fold",
        "firm",
        "close",
        "start-thread",
        "end-thread",
        "pass-through",
        "stitch",
        "with",
    ];
    match value {
        Value::Array(items) => items.iter_mut().for_each(|v| change_value(v, nth, number)),
        Value::Object(fields) => fields
            .values_mut()
            .for_each(|v| change_value(v, nth, number)),
        Value::Null => {}
        other => {
            if *nth == 0 {
                *other = match other {
                    Value::Bool(is) => (!*is).into(),
                    Value::String(_) => WORDS[number.rem_euclid(8) as usize].into(),
                    _ => number.into(),
                };
            }
            *nth = nth.wrapping_sub(1);
        }
    }
}

/// A fault in a journal. Positions are in thousandths of its lines.
#[derive(Clone, Debug)]
enum JournalFault {
    Changed(usize, usize, i64),
    Lost(usize),
    /// One fact of a line is lost.
    FactLost(usize, usize),
    Copied(usize, usize),
    /// Facts are copied, with the step of the line adjusted.
    FactsCopied(usize, usize),
    Foreign(usize, usize),
    Amended(usize, Amendment),
}

fn any_fault() -> impl Strategy<Value = JournalFault> {
    let at = || 0..1000usize;
    prop_oneof![
        3 => (at(), 0..30usize, any_number()).prop_map(|(at, nth, n)| JournalFault::Changed(at, nth, n)),
        2 => at().prop_map(JournalFault::Lost),
        3 => (at(), 0..4usize).prop_map(|(at, nth)| JournalFault::FactLost(at, nth)),
        1 => (at(), at()).prop_map(|(from, to)| JournalFault::Copied(from, to)),
        3 => (at(), at()).prop_map(|(from, to)| JournalFault::FactsCopied(from, to)),
        1 => (at(), at()).prop_map(|(from, to)| JournalFault::Foreign(from, to)),
        2 => (at(), any_amendment()).prop_map(|(at, amendment)| JournalFault::Amended(at, amendment)),
    ]
}

impl JournalFault {
    fn apply_to(&self, lines: &mut Vec<Value>, foreign: &[Entry]) {
        let part = |part: usize, of: usize| part * of / 1000;
        let all = lines.len();
        if all == 0 {
            return;
        }
        match self {
            JournalFault::Changed(at, nth, number) => {
                let line = &mut lines[part(*at, all)]["did"];
                change_value(line, &mut nth.clone(), *number);
            }
            JournalFault::Lost(at) => drop(lines.remove(part(*at, all))),
            JournalFault::FactLost(at, nth) => {
                let made = lines[part(*at, all)].pointer_mut("/did/move/made");
                if let Some(Value::Array(made)) = made
                    && *nth < made.len()
                {
                    made.remove(*nth);
                }
            }
            JournalFault::Copied(from, to) => {
                let line = lines[part(*from, all)].clone();
                lines.insert(part(*to, all), line);
            }
            JournalFault::FactsCopied(from, to) => {
                let mut line = lines[part(*from, all)].clone();
                let to = part(*to, all);
                let step = lines[to].pointer("/did/move/step").and_then(Value::as_u64);
                if let (Some(step), Some(own)) = (step, line.pointer_mut("/did/move/step")) {
                    *own = (step + 1).into();
                }
                lines.insert(to + 1, line);
            }
            JournalFault::Foreign(from, to) => {
                if let Some(entry) = foreign.get(part(*from, foreign.len())) {
                    let line = serde_json::to_value(entry).unwrap();
                    lines.insert(part(*to, all), line);
                }
            }
            JournalFault::Amended(at, amendment) => {
                let entry = entry(Event::Amend(amendment.clone()));
                lines.insert(part(*at, all), serde_json::to_value(entry).unwrap());
            }
        }
    }
}

/// Asks the engine everything about a piece.
fn ask_all(sequence: &Sequence) {
    for movement in sequence.iter() {
        assert!(!sequence.say(&movement).is_empty());
    }
    let (layout, jobs) = (sequence.layout(), sequence.jobs());
    let project = layout.project();
    let size = |bead| project.beads[usize::from(sequence.colour_as_made(bead).0)].size;
    verify(
        project,
        sequence.goal(),
        jobs,
        sequence.iter_as_made(),
        size,
    );
    let beads: u32 = round_info::rounds(sequence).map(|r| r.beads()).sum();
    assert_eq!(beads, layout.beads());
    let work = sequence.work();
    assert_eq!(work.strung, layout.beads());
    assert_eq!(work.passes_by_bead().len(), layout.beads() as usize);
    for amendment in sequence.amendments(Step(sequence.steps() / 2)) {
        let _ = sequence.amended(Step(sequence.steps() / 2), &amendment);
    }
}

proptest! {
    #![proptest_config(cases(64))]

    #[test]
    fn play_is_proved_and_restored_from_the_journal(
        project in any_project(),
        plays in prop::collection::vec(any_play(), 1..12),
        cut in any::<prop::sample::Index>(),
    ) {
        let mut piece = TestPiece::new(project);
        plays.iter().for_each(|play| piece.play(play));
        assert_proved(&piece.sequence);
        assert_allowed(&piece.sequence);

        let bytes = written(&piece.entries);
        let reading = read(&bytes[..], |_| {}).unwrap();
        prop_assert!(reading.damage.is_none());
        prop_assert_eq!(&reading.state, &piece.state);
        let back = resumed(&piece.project, &reading.state);
        let steps = piece.state.step as usize;
        prop_assert!(back.iter().take(steps).eq(piece.sequence.iter().take(steps)));
        prop_assert_eq!(back.strung_after(Step(steps as u32)), piece.sequence.strung_after(Step(steps as u32)));
        prop_assert_eq!(back.layout().beads(), piece.sequence.layout().beads());

        // If the program is killed at any byte, the piece is as it was after
        // the last whole line.
        let at = cut.index(bytes.len() + 1);
        let reading = read(&bytes[..at], |_| {}).unwrap();
        let mut last_state = State::default();
        let lines = bytes[..at].iter().filter(|b| **b == b'\n').count();
        // A line that lacks only its line feed is whole too.
        let lines = (lines + usize::from(reading.lacks_line_feed)).saturating_sub(1);
        piece.entries[..lines].iter().for_each(|entry| last_state.apply(entry));
        prop_assert_eq!(&reading.state, &last_state);
        assert_proved(&resumed(&piece.project, &last_state));
    }

    /// A journal with right checksums and absurd facts: it is read, the facts
    /// that fit are kept, and the rest is planned.
    #[test]
    fn no_absurd_journal_stops_the_engine(
        project in any_project(),
        plays in prop::collection::vec(any_play(), 1..12),
        other in (any_project(), prop::collection::vec(any_play(), 1..4)),
        faults in prop::collection::vec(any_fault(), 1..8),
    ) {
        let [mut piece, mut foreign] = [TestPiece::new(project), TestPiece::new(other.0)];
        plays.iter().for_each(|play| piece.play(play));
        other.1.iter().for_each(|play| foreign.play(play));
        let mut lines: Vec<Value> = vec![];
        lines.extend(piece.entries.iter().map(|entry| serde_json::to_value(entry).unwrap()));
        faults.iter().for_each(|fault| fault.apply_to(&mut lines, &foreign.entries));
        let mut state = State::default();
        for line in lines {
            if let Ok(entry) = serde_json::from_value::<Entry>(line) {
                state.apply(&entry);
            }
        }
        let resumed = Sequence::resume(piece.project, &[], &state.record, PlanRule::default());
        ask_all(&resumed.sequence);
        state.update_steps(&resumed.sequence);
    }

    #[test]
    fn no_changed_fact_makes_the_rules_fail(
        project in any_project(),
        parts in prop::collection::vec((0..=1000u32, 0..1000u32, 0..12usize, any_number()), 20),
    ) {
        let sequence = Sequence::new(project);
        let facts = sequence.work().facts_until(Step(sequence.steps()));
        for (done, which, nth, number) in parts {
            let mut work = sequence.work_at(Step(sequence.steps() * done / 1000));
            let mut json = serde_json::to_value(&facts[which as usize % facts.len()]).unwrap();
            change_value(&mut json, &mut nth.clone(), number);
            if let Ok(fact) = serde_json::from_value::<Fact>(json) {
                let before = (work.steps(), work.strung);
                if work.try_play(fact).is_err() {
                    prop_assert_eq!((work.steps(), work.strung), before);
                }
            }
        }
    }
}

/// Asserts that a changed piece, killed at every byte, is as it was after the
/// last whole line, without a refusal.
fn assert_survives(project: Project, plays: &[Play], changes: usize) {
    let mut piece = TestPiece::new(project);
    plays.iter().for_each(|play| piece.play(play));
    let amendments = piece.state.record.amendments().count();
    assert_eq!(amendments, changes, "the amendments are accepted");
    assert_proved(&piece.sequence);
    let bytes = written(&piece.entries);
    let mut last_state = State::default();
    let mut entries = piece.entries.iter();
    let mut lines = 0;
    for at in header().len()..=bytes.len() {
        let reading = read(&bytes[..at], |_| {}).unwrap();
        // A line that lacks only its line feed is whole too.
        let ends = bytes[..at].ends_with(b"\n") || reading.lacks_line_feed;
        if ends && lines != reading.entries {
            last_state.apply(entries.next().unwrap());
            lines += 1;
            resumed(&piece.project, &last_state);
        }
        assert_eq!(reading.state, last_state, "killed at byte {at}");
    }
    assert_eq!(last_state, piece.state);
}

fn any_number() -> impl Strategy<Value = i64> {
    prop_oneof![
        -3..30i64,
        any::<i64>(),
        prop::sample::select(vec![
            i64::from(u16::MAX),
            i64::from(u32::MAX),
            i64::from(u32::MAX) - 1
        ]),
    ]
}

#[test]
fn a_changed_piece_killed_at_any_byte_is_as_it_was() {
    let project = testing::folded_pair(3, 1);
    let job = *Sequence::new(project.clone()).goal().order.last().unwrap();
    let open = Amendment::Opening {
        job,
        how: OpeningEnd::Open,
    };
    let plays = [
        Play::Forward(9),
        Play::Amend(open),
        Play::Jump(600),
        Play::Back(30),
        Play::Amend(Amendment::Finish),
        Play::Forward(5),
        Play::Undo,
        Play::Unpick(20),
        Play::Forward(3),
    ];
    assert_survives(project, &plays, 2);
}

/// The same without a plan: corners marked, a panel added, sides joined, the
/// needle sewn through to a bead.
#[test]
fn free_work_killed_at_any_byte_is_as_it_was() {
    let join = SidesJoined {
        panel: Panel(1),
        side: Side(0),
        onto: Panel(0),
        at: Side(1),
        fit: None,
    };
    let plays = [
        Play::Forward(9),
        Play::Amend(Amendment::SewThrough(Bead(2))),
        Play::Forward(200),
        Play::Amend(testing::its_corners(0)),
        Play::Amend(Amendment::Another(0)),
        Play::Forward(200),
        Play::Amend(testing::its_corners(1)),
        Play::Amend(Amendment::JoinSides(join)),
        Play::Forward(4),
        Play::Amend(Amendment::SewThrough(Bead(7))),
        Play::Forward(1),
        Play::Undo,
        Play::Undo,
        Play::Amend(Amendment::SewThrough(Bead(9))),
        Play::Forward(200),
    ];
    assert_survives(testing::free_triangle(), &plays, 6);
}
