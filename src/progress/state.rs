//! The state of a piece, from the entries of its journal.

use std::collections::BTreeMap;

use super::anchored::Anchored;
use super::check::{Check, Stitched};
use super::entry::{Entry, Event, MoveReason};
use super::moment::Moment;
use super::plain::PlainText;
use super::setting::Settings;
use crate::beadwork::Sequence;
use crate::beadwork::record::{Record, Undone};
use crate::beadwork::work::Fact;

/// The state of a piece: all entries applied in order to a new piece. The same
/// journal gives the same state on any machine at any time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct State {
    /// Steps done; 0 for a new piece.
    pub step: u32,
    /// What was played up to there.
    pub record: Record,
    /// The furthest step ever reached.
    pub furthest: u32,
    /// Notes by step; 0 is the piece as a whole.
    pub notes: Anchored<PlainText>,
    /// Counts, in the order in which they were made.
    pub checks: Vec<Check>,
    /// Differences from the layout that the maker kept in an earlier build, at
    /// most one for each side of a round.
    pub stitched: Vec<Stitched>,
    /// Threads that the maker started without a plan, or cut to another length:
    /// by steps done, the length in mm.
    pub threads: Anchored<u32>,
    /// Paint of earlier builds: by kind of panel and part, its colours in words
    /// of the pattern file.
    pub painted: BTreeMap<(PlainText, PlainText), PlainText>,
    /// What is set for this piece.
    pub settings: Settings,
    /// When the maker last moved, counted, noted or painted, by the order of
    /// the journal (not the latest date, since a clock may have been wrong).
    pub last_worked: Option<Moment>,
    /// When it was last opened for work.
    pub opened: Option<Moment>,
    /// How many times it was opened for work.
    pub sittings: u32,
    /// Whether it was closed since it was last opened.
    pub rested: bool,
    /// The steps from which jumps started, the latest last.
    pub way_back: Vec<u32>,
}

impl State {
    /// The most jumps that the way back remembers; older ones are forgotten.
    pub const MAX_WAY_BACK: usize = 100;

    /// Applies an entry. The result depends only on the entry and the state.
    pub fn apply(&mut self, entry: &Entry) {
        match &entry.did {
            Event::Move { step, why, made } => self.move_to(*step, *why, made),
            Event::Check(check) => self.checks.push(check.clone()),
            Event::Note { step, place, text } => {
                let text = (!text.is_empty()).then(|| text.clone());
                self.notes.set(*step, *place, text);
            }
            Event::AsStitched(stitched) => self.keep_difference(stitched),
            Event::Thread {
                step,
                place,
                cut_mm,
            } => {
                let cut_mm = (*cut_mm > 0).then_some(*cut_mm);
                self.threads.set(*step, *place, cut_mm);
            }
            Event::Paint {
                panel,
                part,
                colours,
            } => self.paint(panel, part, colours),
            Event::Amend(amendment) => {
                self.record.amend(amendment.clone());
                if amendment.moves_steps() {
                    self.forget_ahead();
                }
            }
            Event::Restated { after, step, made } => {
                self.record.restate(*after, made, *step);
                self.step = *step;
                self.forget_ahead();
            }
            Event::Undo => match self.record.undo() {
                Some(Undone::Amendment(amendment)) if amendment.moves_steps() => {
                    self.forget_ahead();
                }
                Some(Undone::Movement) => self.step = self.record.steps(),
                Some(Undone::Restated) => {
                    self.step = self.record.steps();
                    self.forget_ahead();
                }
                Some(Undone::Amendment(_)) | None => {}
            },
            Event::Set { name, value } => self.settings.set(name, value),
            Event::Opened => {
                self.opened = Some(entry.at);
                self.sittings = self.sittings.saturating_add(1);
                self.rested = false;
            }
            Event::Rested => self.rested = true,
        }
        if matches!(
            entry.did,
            Event::Move { .. }
                | Event::Check(_)
                | Event::Note { .. }
                | Event::AsStitched(_)
                | Event::Thread { .. }
                | Event::Paint { .. }
                | Event::Amend(_)
                | Event::Restated { .. }
                | Event::Undo
        ) {
            self.last_worked = Some(entry.at);
        }
    }

    fn keep_difference(&mut self, stitched: &Stitched) {
        self.stitched.retain(|s| !s.is_same_side_as(stitched));
        if stitched.by != 0 {
            self.stitched.push(stitched.clone());
        }
    }

    fn paint(&mut self, panel: &PlainText, part: &PlainText, colours: &PlainText) {
        let place = (panel.clone(), part.clone());
        match colours.is_empty() {
            true => self.painted.remove(&place),
            false => self.painted.insert(place, colours.clone()),
        };
    }

    /// Paint of earlier builds: kind of panel, part, and colours in words.
    pub fn painting(&self) -> impl Iterator<Item = (&str, &str, &str)> {
        let painted = self.painted.iter();
        painted.map(|((panel, part), colours)| (panel.as_str(), part.as_str(), colours.as_str()))
    }

    /// Updates the steps of notes and threads for the current plan.
    pub fn update_steps(&mut self, sequence: &Sequence) {
        self.notes.update_steps(|place| sequence.step_at(place));
        self.threads.update_steps(|place| sequence.step_at(place));
    }

    /// Forgets steps ahead, which are different now.
    fn forget_ahead(&mut self) {
        self.furthest = self.step;
        self.way_back.retain(|from| *from <= self.step);
    }

    fn move_to(&mut self, step: u32, why: MoveReason, made: &[Fact]) {
        match why {
            MoveReason::Jump | MoveReason::Unpick => {
                if self.way_back.len() == Self::MAX_WAY_BACK {
                    self.way_back.remove(0);
                }
                self.way_back.push(self.step);
            }
            // Found by its step, so that a jump lost in a damaged journal does
            // not change all later returns.
            MoveReason::Return => {
                if let Some(at) = self.way_back.iter().rposition(|&from| from == step) {
                    self.way_back.truncate(at);
                }
            }
            MoveReason::Forward | MoveReason::Back | MoveReason::Other => {}
        }
        match made {
            [] => {
                self.record.back_to(step);
                self.record.skip_to(step);
            }
            made => self.record.play(made, step),
        }
        self.step = step;
        self.furthest = self.furthest.max(step);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::amend::Amendment;
    use crate::beadwork::number::{Job, Round, Side};
    use crate::beadwork::testing;

    fn state_after(entries: &[Entry]) -> State {
        let mut state = State::default();
        entries.iter().for_each(|entry| state.apply(entry));
        state
    }

    fn sequence() -> Sequence {
        Sequence::new(testing::single(testing::panel(3, 8)))
    }

    fn moved(step: u32, why: MoveReason) -> Entry {
        Entry::to(step, why, Moment(1))
    }

    #[test]
    fn going_back_is_a_move_of_its_own() {
        let state = state_after(&[
            moved(1, MoveReason::Forward),
            moved(2, MoveReason::Forward),
            moved(1, MoveReason::Back),
        ]);
        assert_eq!((state.step, state.furthest), (1, 2));
    }

    /// Back in the middle of a round, in an entry of today and in one of an earlier
    /// build, which had a run backward: undo takes back the movement before.
    #[test]
    fn undo_after_going_back_within_a_round_takes_back_the_movement_before() {
        let seq = sequence();
        let played = |from, to, why| Entry::played(&seq, (from, to), why, Moment(1));
        let forward = played(0, 20, MoveReason::Forward);
        let today = played(20, 18, MoveReason::Back);
        assert!(matches!(&today.did, Event::Move { made, .. } if made.is_empty()));
        let run = r#"{"run":{"stage":{"rounds":{"panel":1,"on":3}},"from":4,"to":2}}"#;
        let earlier = Entry {
            at: Moment(1),
            did: Event::Move {
                step: 18,
                why: MoveReason::Unpick,
                made: vec![serde_json::from_str(run).unwrap()],
            },
        };
        let undo = Entry {
            at: Moment(1),
            did: Event::Undo,
        };
        for back in [today, earlier] {
            let mut state = state_after(&[forward.clone(), back]);
            assert_eq!((state.step, state.record.steps()), (18, 18));
            state.apply(&undo);
            assert_eq!((state.step, state.record.steps()), (17, 17));
        }
    }

    #[test]
    fn unpicking_can_be_taken_back() {
        let mut state = state_after(&[
            moved(40, MoveReason::Forward),
            moved(31, MoveReason::Unpick),
        ]);
        assert_eq!((state.step, state.furthest), (31, 40));
        assert_eq!(state.way_back, [40]);
        state.apply(&moved(40, MoveReason::Return));
        assert_eq!((state.step, state.way_back.len()), (40, 0));
    }

    #[test]
    fn a_change_of_plan_removes_steps_ahead_from_the_way_back() {
        let mut state = state_after(&[
            moved(40, MoveReason::Forward),
            moved(60, MoveReason::Jump),
            moved(50, MoveReason::Jump),
        ]);
        let did = Event::Amend(Amendment::Finish);
        state.apply(&Entry { at: Moment(1), did });
        assert_eq!((state.step, state.furthest), (50, 50));
        assert_eq!(state.way_back, [40]);
        let undo = Entry {
            at: Moment(1),
            did: Event::Undo,
        };
        state.apply(&undo);
        assert_eq!((state.step, state.record.amendments().count()), (50, 0));
        state.apply(&undo);
        assert_eq!(state.step, 49);
    }

    #[test]
    fn a_difference_is_replaced_by_a_later_one_on_the_same_side() {
        let kept = |side: u8, by: i32| Entry {
            at: Moment(1),
            did: Event::AsStitched(Stitched {
                step: 30,
                job: Job(0),
                round: Round(4),
                side: Side(side),
                by,
            }),
        };
        let mut state = state_after(&[kept(0, 1), kept(1, -1), kept(0, 2)]);
        let by: Vec<i32> = state.stitched.iter().map(|s| s.by).collect();
        assert_eq!(by, [-1, 2]);
        state.apply(&kept(1, 0));
        assert_eq!(state.stitched.len(), 1);
    }

    #[test]
    fn a_jump_has_a_way_back() {
        let mut state = state_after(&[moved(7, MoveReason::Forward), moved(90, MoveReason::Jump)]);
        state.apply(&moved(91, MoveReason::Forward));
        state.apply(&moved(3, MoveReason::Jump));
        assert_eq!(state.way_back, [7, 91]);
        state.apply(&moved(91, MoveReason::Return));
        assert_eq!(
            (state.step, state.way_back.as_slice()),
            (91, [7].as_slice())
        );
        state.apply(&moved(7, MoveReason::Return));
        assert_eq!((state.step, state.way_back.len()), (7, 0));
    }

    #[test]
    fn a_return_whose_jump_was_lost_changes_no_other() {
        let state = state_after(&[
            moved(7, MoveReason::Jump),
            moved(20, MoveReason::Jump),
            moved(13, MoveReason::Return),
        ]);
        assert_eq!(
            (state.step, state.way_back.as_slice()),
            (13, [0, 7].as_slice())
        );
    }

    #[test]
    fn the_way_back_has_a_limit() {
        let jumps: Vec<_> = (1..=250)
            .map(|step| moved(step, MoveReason::Jump))
            .collect();
        let state = state_after(&jumps);
        assert_eq!(state.way_back.len(), State::MAX_WAY_BACK);
        assert_eq!(state.way_back.last(), Some(&249));
    }

    #[test]
    fn an_empty_note_takes_the_note_away() {
        let seq = sequence();
        let note = |text| Entry::note(&seq, 4, text, Moment(1));
        assert_eq!(
            state_after(&[note("loose"), note("firm")]).notes[&4].as_str(),
            "firm"
        );
        assert!(state_after(&[note("loose"), note("")]).notes.is_empty());
    }

    #[test]
    fn a_thread_is_replaced_by_a_later_one_at_the_same_step() {
        let seq = sequence();
        let thread = |step, cut_mm| Entry::thread(&seq, step, cut_mm, Moment(1));
        let state = state_after(&[thread(12, 900), thread(40, 1500), thread(12, 1200)]);
        assert_eq!(*state.threads, BTreeMap::from([(12, 1200), (40, 1500)]));
        let state = state_after(&[thread(12, 900), thread(12, 0)]);
        assert!(state.threads.is_empty());
    }

    #[test]
    fn paint_is_replaced_by_later_paint_of_the_same_round() {
        let painted = |part, colours| Entry::paint("wall", part, colours, Moment(1));
        let state = state_after(&[
            painted("5", "A S* A"),
            painted("row", "S*"),
            painted("5", "F*"),
        ]);
        let all: Vec<_> = state.painting().collect();
        assert_eq!(all, [("wall", "5", "F*"), ("wall", "row", "S*")]);
        assert!(
            state_after(&[painted("5", "A*"), painted("5", "")])
                .painted
                .is_empty()
        );
    }

    #[test]
    fn a_setting_is_replaced_by_a_later_one() {
        let at = Moment(1);
        let state = state_after(&[
            Entry::left_handed(true, at),
            Entry::bell(&["decrease"], at),
            Entry::bell(&["decrease", "step-down"], at),
        ]);
        assert!(state.settings.left_handed());
        assert_eq!(state.settings.bell(), Some(vec!["decrease", "step-down"]));
        assert!(!State::default().settings.left_handed());
        assert_eq!(State::default().settings.bell(), None);
    }

    #[test]
    fn last_worked_follows_the_journal_not_a_wrong_clock() {
        let state = state_after(&[
            Entry::to(1, MoveReason::Forward, Moment(9_000_000)),
            Entry::to(2, MoveReason::Forward, Moment(1_000)),
            Entry {
                at: Moment(2_000),
                did: Event::Rested,
            },
            Entry {
                at: Moment(3_000),
                did: Event::Opened,
            },
        ]);
        assert_eq!(state.step, 2);
        assert_eq!(state.last_worked, Some(Moment(1_000)));
        assert_eq!(state.opened, Some(Moment(3_000)));
    }
}
