//! Continuing by a law: the rest of a panel is planned with the corners of its
//! last rounds, or with others.
//!
//! A corner is where the maker marked one, or else where two beads are in one
//! gap. After two beads or none a corner takes one or two, after one it takes
//! none.

use super::Amendment;
use crate::beadwork::corner_mark::{CornerMark, RoundCorners};
use crate::beadwork::own_rounds::{MOST_IN_A_GAP, open_gaps};
use crate::beadwork::stage::Rounds;
use crate::beadwork::{
    Begin, GapChange, GapWord, Goal, GoalJob, JobKind, Panel, Refusal, Round, Sequence, Stage,
    Step, Work, WorkDirection,
};

/// The most rounds that a panel can be planned to have.
const MOST_ROUNDS: u32 = 1_000;

/// The law of the last rounds of a panel.
struct LawReading {
    /// Beads at each corner in the rounds of the law, in order.
    worked: Vec<u8>,
    corners: RoundCorners,
}

/// Finds the law of rounds from their gap words, from the earliest round from
/// which it applies to the last; if corners are marked, from there.
fn read(words: &[GapWord], ring: u32, marks: &[CornerMark]) -> Option<LawReading> {
    if let Some((on, corners)) = RoundCorners::marked(words, ring, marks) {
        let later = &words[on.0 as usize - 1..];
        // Marked gaps are corners, whatever was worked since.
        return read_on(corners.clone(), vec![], later).or_else(|| {
            let corners = later.iter().fold(corners, |at, word| at.after(word));
            let worked = vec![];
            Some(LawReading { worked, corners })
        });
    }
    (0..words.len()).find_map(|first| {
        let corners = RoundCorners::begun_by(&words[first])?;
        read_on(corners, vec![2], &words[first + 1..])
    })
}

fn read_on(
    mut corners: RoundCorners,
    mut worked: Vec<u8>,
    words: &[GapWord],
) -> Option<LawReading> {
    for word in words {
        let fits = |corner: &u8| corners.word(word.gaps(), *corner).as_ref() == Some(word);
        worked.push([0, 1, 2].into_iter().find(fits)?);
        corners = corners.after(word);
    }
    Some(LawReading { worked, corners })
}

/// The corners that come next, repeated, if the work shows it: the shortest law
/// that has been repeated once.
fn going_on(worked: &[u8]) -> Option<Vec<u8>> {
    let repeats = |by: &usize| worked.iter().zip(&worked[*by..]).all(|(a, b)| a == b);
    let by = (1..worked.len()).find(repeats)?;
    let next = worked.len() % by;
    Some((0..by).map(|i| worked[(next + i) % by]).collect())
}

/// Rounds that continue from gap words, with a corner where two beads are in
/// one gap.
#[derive(Clone, Debug)]
pub struct RoundsByLaw {
    corners: RoundCorners,
    /// The number of beads of the round worked last.
    beads: u32,
}

impl RoundsByLaw {
    /// From the gap words of round 2 and later, on a ring of this many beads;
    /// `None` if they show no corners.
    pub fn after(ring: u32, words: &[GapWord]) -> Option<RoundsByLaw> {
        let LawReading { corners, .. } = read(words, ring, &[])?;
        let beads = words.last()?.beads();
        Some(RoundsByLaw { corners, beads })
    }

    /// The next round, if each corner can take this many beads.
    pub fn next(&mut self, corner: u8) -> Option<GapWord> {
        let word = self.corners.word(self.beads, corner)?;
        self.corners = self.corners.after(&word);
        self.beads = word.beads();
        Some(word)
    }
}

impl Sequence {
    /// The corners with which the current panel continues after a step, the
    /// next round that is not begun first; `None` if its last rounds show no
    /// law.
    pub fn law_ahead(&self, done: Step) -> Option<Vec<u8>> {
        let work = self.work_at(done);
        let (panel, words, _) = work.current_rounds().ok()?;
        going_on(&work.read_law(panel, &words)?.worked)
    }

    /// Whether the current panel is worked outward in rounds, so that it can
    /// continue by a law.
    pub fn can_go_by_law(&self, done: Step) -> bool {
        self.work_at(done).current_rounds().is_ok()
    }

    /// The amendment by which this many rounds from the current one on are
    /// worked with repeated corners.
    ///
    /// # Errors
    /// The corners cannot follow what was worked.
    pub fn by_law(&self, done: Step, corners: &[u8], rounds: u32) -> Result<Amendment, Refusal> {
        let work = self.work_at(done);
        let (panel, words, begun) = work.current_rounds()?;
        let before = words.len() as u32 + 1;
        let Some(rounds) = rounds.checked_add(before).filter(|all| *all <= MOST_ROUNDS) else {
            return Err(Refusal::TooManyChanges);
        };
        let mut at = (work.read_law(panel, &words).ok_or(Refusal::NoLaw)?).corners;
        // What is planned without this amendment.
        let mut planned = Goal::clone(work.goal());
        work.plan_gaps(&mut planned, panel, rounds, &[])?;
        let mut layout = work.layout.clone();
        layout.set_goal(&planned);
        let (base, mut changes) = layout.planned_kind_and_changes(panel);
        let mut gaps = vec![];
        for (makes, &corner) in (before + 1..=rounds).map(Round).zip(corners.iter().cycle()) {
            let open = open_gaps(&base, Begin::Ring, &changes, makes);
            let lawful = at.word(open.len() as u32, corner).ok_or(Refusal::NoLaw)?;
            let word: Vec<u8> = lawful.iter().collect();
            let done = if makes.0 == before + 1 {
                &begun[..]
            } else {
                &[]
            };
            Refusal::NoLaw.unless(word.starts_with(done))?;
            let differs = (0..).zip(open.iter().zip(&word)).skip(done.len());
            let change = differs.filter(|(_, (open, beads))| open.plain != **beads);
            let change = change.map(|(gap, (_, &beads))| GapChange {
                round: makes,
                gap,
                beads,
            });
            let first = gaps.len();
            gaps.extend(change);
            changes.extend(&gaps[first..]);
            at = at.after(&lawful);
        }
        Ok(Amendment::Law {
            panel,
            rounds,
            gaps,
        })
    }
}

impl Work {
    fn read_law(&self, panel: Panel, words: &[GapWord]) -> Option<LawReading> {
        let ring = self.layout.kind(panel).in_round(Round(1));
        let marks = &self.goal()[panel].corners;
        read(words, ring, marks)
    }

    /// The current panel, the gap words of its finished rounds from round 2 on,
    /// and the beads in the worked gaps of the current round.
    fn current_rounds(&self) -> Result<(Panel, Vec<GapWord>, Vec<u8>), Refusal> {
        let job = self.jobs().last().ok_or(Refusal::NoJob)?;
        let panel = job.panel();
        let is_panel = matches!(job.kind, JobKind::Panel(_));
        let kind = self.layout.kind(panel);
        if !is_panel || kind.strip().is_some() || self.layout.way(panel) == WorkDirection::Inward {
            return Err(Refusal::NoLaw);
        }
        let mut words = vec![];
        for on in (1..kind.rounds()).map(Round) {
            let stage = Stage::from(Rounds { panel, on });
            let runs = self.spans().iter().map(|span| &span.run);
            let of_round = runs.filter(|run| run.stage == stage);
            let done = of_round.map(|run| run.to).max().unwrap_or(0);
            let round = self.layout.work(panel, on);
            let gap = |gap| round.in_gap_from_entry(gap) as u8;
            let word: Vec<u8> = (0..done.min(round.gaps())).map(gap).collect();
            if done < round.gaps() {
                return Ok((panel, words, word));
            }
            words.push(GapWord::new(word));
        }
        Ok((panel, words, vec![]))
    }

    /// Replaces the gaps of the current panel that will be worked differently
    /// from the plan.
    pub(super) fn plan_gaps(
        &self,
        goal: &mut Goal,
        panel: Panel,
        rounds: u32,
        gaps: &[GapChange],
    ) -> Result<(), Refusal> {
        let (current, words, begun) = self.current_rounds()?;
        Refusal::NoLaw.when(current != panel || rounds > MOST_ROUNDS)?;
        let next = (words.len() as u32 + 2, begun.len() as u32);
        let is_ahead = |gap: &GapChange| (gap.round.0, gap.gap) >= next;
        let is_allowed = |gap: &GapChange| is_ahead(gap) && gap.beads <= MOST_IN_A_GAP;
        if !gaps
            .iter()
            .all(|gap| is_allowed(gap) && gap.round.0 <= rounds)
        {
            return Err(Refusal::NoSuchGap);
        }
        let makes = |job: &GoalJob| goal[*job] == JobKind::Panel(panel);
        let jobs: Vec<GoalJob> = goal.order.iter().copied().filter(makes).collect();
        self.set_rounds(goal, &jobs, rounds)?;
        let eased = &mut goal[panel].eased;
        eased.retain(|gap| !is_ahead(gap));
        eased.extend(gaps);
        Ok(())
    }
}

/// `work: the rounds to come are planned again, to round 12`.
pub(super) fn say(seq: &Sequence, panel: Panel, rounds: u32) -> String {
    let name = seq.goal().name(panel);
    format!("{name}: the rounds to come are planned again, to round {rounds}")
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::planner::PlanRule;
    use crate::beadwork::record::{Record, Undone};
    use crate::beadwork::testing;

    fn words(seq: &Sequence) -> Vec<Vec<u8>> {
        let kind = seq.layout().kind(Panel(0));
        let word = |k| kind.word(Round(k)).iter().collect();
        (2..=kind.rounds()).map(word).collect()
    }

    /// A panel that is worked plainly after its first rounds continues like a
    /// panel with more rounds of its law.
    #[test]
    fn a_panel_goes_on_by_the_corners_of_its_last_rounds() {
        for (sides, worked, corners) in [
            (3, 4, &[2][..]),
            (4, 8, &[2, 1, 0, 2, 2]),
            (6, 8, &[2, 1, 0]),
        ] {
            let planned = Sequence::new(testing::single(testing::panel(sides, 14)));
            let mut project = testing::single(testing::panel(sides, worked));
            project.panels[0].growth = crate::beadwork::project::Growth::Words {
                ring: sides.into(),
                words: (2..=worked)
                    .map(|k| planned.layout().kind(Panel(0)).word(Round(k)).clone())
                    .collect(),
            };
            let seq = Sequence::new(project.clone());
            let mut steps = (1..=seq.steps()).rev().map(Step);
            let last = steps.find(|step| seq.gap_of(*step).is_some());
            // At the end of the last round, and in the middle of it.
            for back in [0, u32::from(sides)] {
                let done = Step(last.unwrap().0 - back);
                let mut corners = corners.to_vec();
                if back == 0 {
                    assert_eq!(seq.law_ahead(done), Some(corners.clone()), "{sides} sides");
                } else {
                    corners = seq.law_ahead(done).unwrap();
                }
                let rounds = 14 - worked + u32::from(back > 0);
                let law = seq.by_law(done, &corners, rounds).unwrap();
                let after = seq.amended(done, &law).unwrap();
                assert_eq!(words(&after), words(&planned), "{sides} sides");
                assert_proved(&after);
                let mut record = Record::default();
                record.play(&seq.work().facts(0, done.0), done.0);
                let before = record.clone();
                record.amend(law.clone());
                let resumed = Sequence::resume(project.clone(), &[], &record, PlanRule::default());
                assert_eq!(resumed.refused, None);
                assert!(resumed.sequence.iter().eq(after.iter()));
                assert_eq!(record.undo(), Some(Undone::Amendment(law)));
                assert_eq!(record, before);
            }
        }
    }

    #[test]
    fn corners_that_cannot_follow_are_refused() {
        let seq = Sequence::new(testing::single(testing::panel(3, 4)));
        let done = Step(seq.steps());
        for corners in [&[0][..], &[1, 1], &[1, 2]] {
            assert_eq!(seq.by_law(done, corners, 3), Err(Refusal::NoLaw));
        }
        assert!(seq.by_law(done, &[1, 0], 4).is_ok());
        let inward = Sequence::new(testing::single(testing::inward(3, 5, 0)));
        assert_eq!(inward.law_ahead(Step(30)), None);
    }
}
