//! Breaks out a bead too many, if nothing is sewn onto it.

use super::as_stitched::Restated;
use crate::beadwork::stage::{BreakOut, Steps as _};
use crate::beadwork::{Colour, Fact, Kind, Refusal, Round, Run, Sequence, Stage, Step, Work};

impl Sequence {
    /// Breaks out a bead too many in the gap of step `at`, after `done` steps:
    /// a recorded bead, or one more. It is the bead that was strung last, and
    /// the gap closes over it.
    ///
    /// # Errors
    /// The reason why the work does not allow it.
    pub fn break_out(&self, done: Step, at: Step, is_noted: bool) -> Result<Restated, Refusal> {
        let (beads, most) = self.beads_worked(at).ok_or(Refusal::NoSuchGap)?;
        Refusal::NoSuchGap
            .when(at > done || is_noted && beads == 0 || !is_noted && beads == most)?;
        Refusal::BeadOfTheString
            .when(self.gap_of(at).is_none() && self.row_gap_of(at).is_none())?;
        let (after, colour, mut work) = match is_noted {
            true => {
                let colour = self.work_at(done).check_free(at)?;
                let found = self.as_stitched(done, at, beads - 1, None)?;
                let work = found.sequence.work_at(Step(found.step));
                (found.after, colour, work)
            }
            false => {
                let work = self.work_at(done);
                // Whatever goes through a join bead goes through one beside it, too.
                let colour = match self.row_gap_of(at) {
                    Some(_) if beads > 0 => work.check_free(at)?,
                    _ => self.with_one_more(done, at, beads + 1)?.check_free(at)?,
                };
                (done.0, colour, work)
            }
        };
        let bead = self.to_break_out(at, colour).ok_or(Refusal::NoSuchGap)?;
        let (stage, from, to) = (Stage::from(bead), 0, 1);
        work.try_play(Fact::Run(Run { stage, from, to }))?;
        Ok(Restated::of(after, work))
    }

    /// Whether the gap that a step has worked is recorded with more beads than
    /// planned.
    pub fn is_one_too_many(&self, at: Step) -> bool {
        let layout = self.layout();
        if let Some(gap) = self.row_gap_of(at) {
            let row = layout
                .row_on(gap.panel, gap.side)
                .map(|row| layout.row(row));
            return row.is_some_and(|row| u32::from(gap.beads) > row.planned_in(gap.gap));
        }
        self.gap_of(at).is_some_and(|at| {
            if layout.is_rim_round(at.panel, at.gap.round) {
                return at.gap.beads > 1;
            }
            let open = layout.open_gaps(at.panel, at.gap.round);
            let open = open.get(at.gap.gap as usize);
            open.is_some_and(|open| at.gap.beads > open.lawful)
        })
    }

    /// The work until a step, with this number of beads in the gap of step
    /// `at`.
    fn with_one_more(&self, done: Step, at: Step, beads: u8) -> Result<Work, Refusal> {
        let work = match self.row_gap_of(at) {
            Some(gap) => self.restate_row(done, at, gap, beads).map(|found| found.1),
            None => self.restate(done, at, beads, None).map(|found| found.2),
        };
        work.map_err(|refusal| match refusal {
            // A thread end that was woven in there goes through the bead.
            Refusal::OutOfReach(_) | Refusal::NotStrung(_) => Refusal::ThreadAtRisk,
            refusal => refusal,
        })
    }

    fn to_break_out(&self, at: Step, colour: Colour) -> Option<BreakOut> {
        if let Some(row) = self.row_gap_of(at) {
            return Some(BreakOut {
                panel: row.panel,
                round: Round(self.layout().kind(row.panel).rounds() + 1),
                side: Some(row.side),
                gap: row.gap,
                colour,
            });
        }
        let gap = self.gap_of(at)?;
        Some(BreakOut {
            panel: gap.panel,
            round: gap.gap.round,
            side: None,
            gap: gap.gap.gap,
            colour,
        })
    }
}

impl Work {
    /// The colour of the bead that step `at` strung last, if nothing has gone
    /// through it since.
    fn check_free(&self, at: Step) -> Result<Colour, Refusal> {
        let mut steps = self.spans().iter().flat_map(|span| {
            let Run { stage, from, to } = &span.run;
            let first = from + (at.0 - 1).saturating_sub(span.steps_before);
            (first..*to).map(|i| stage.step(&self.layout, i))
        });
        let strung = steps.next().ok_or(Refusal::NoSuchGap)?;
        let &bead = strung.strings.last().ok_or(Refusal::NoSuchGap)?;
        Refusal::NeedleInIt.when(self.needle().is_some_and(|needle| needle.bead == bead))?;
        for draft in steps {
            use Kind::{Close, Decrease, Increase, StepDown, StepUp, Stitch, Zip};
            let through = draft.passes.contains(&bead);
            let weaves = matches!(draft.kind, Kind::StartThread | Kind::EndThread);
            let beside = strung
                .strings
                .iter()
                .any(|bead| draft.passes.contains(bead));
            match draft.kind {
                Stitch | Increase | Decrease | StepUp | StepDown | Zip | Close if through => {
                    return Err(Refusal::SewnOnto);
                }
                _ if through || weaves && beside => return Err(Refusal::ThreadAtRisk),
                _ => {}
            }
        }
        Ok(self.layout.colour(bead))
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::movement::Movement;
    use crate::beadwork::number::Bead;
    use crate::beadwork::planner::PlanRule;
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::record::{Record, Undone};
    use crate::beadwork::testing;
    use crate::beadwork::verify::{Fault, verify};
    use proptest::prelude::*;

    fn step_of(seq: &Sequence, round: u32, gap: u32) -> Step {
        let is = |step: &Step| {
            let at = seq.gap_of(*step);
            at.is_some_and(|at| (at.gap.round.0, at.gap.gap) == (round, gap))
        };
        (1..=seq.steps()).map(Step).find(is).unwrap()
    }

    /// The record with a correction or a new movement, and what undo takes
    /// back.
    fn record_of(seq: &Sequence, done: Step, found: &Restated) -> Record {
        let mut record = Record::default();
        record.play(&seq.work().facts(0, done.0), done.0);
        let was = record.clone();
        let undone = match found.after == done.0 {
            true => {
                record.play(&found.made, found.step);
                Undone::Movement
            }
            false => {
                record.restate(found.after, &found.made, found.step);
                Undone::Restated
            }
        };
        let mut back = record.clone();
        assert_eq!(back.undo(), Some(undone));
        assert_eq!(back, was);
        record
    }

    fn assert_comes_back(project: &Project, record: &Record, seq: &Sequence) {
        let resumed = Sequence::resume(project.clone(), &[], record, PlanRule::default());
        assert_eq!(resumed.refused, None);
        assert!(resumed.sequence.iter_as_made().eq(seq.iter_as_made()));
    }

    fn faults(seq: &Sequence, steps: Vec<Movement>) -> Vec<Fault> {
        let layout = seq.layout();
        let size = |_| layout.bead_kinds()[0].size;
        let steps = steps.into_iter();
        let report = verify(layout.project(), seq.goal(), seq.jobs(), steps, size);
        report.findings.into_iter().map(|f| f.fault).collect()
    }

    /// Two beads are found in a gap of round 5 while round 5 is worked, and one
    /// of them is broken out: the panel is as planned, and the steps mention
    /// the bead.
    #[test]
    fn a_bead_too_many_is_broken_out_of_the_current_round() {
        let project = testing::single(testing::panel(3, 6));
        let plain = Sequence::new(project.clone());
        let (at, done) = (step_of(&plain, 5, 6), step_of(&plain, 5, 9));
        let found = plain.break_out(done, at, false).unwrap();
        let seq = &found.sequence;
        assert_eq!((found.after, found.step), (done.0, done.0 + 1));
        assert_eq!(seq.layout().beads(), plain.layout().beads());
        assert_proved(seq);
        let steps: Vec<Movement> = seq.iter_as_made().collect();
        let (strung, broken) = (&steps[at.0 as usize - 1], &steps[done.0 as usize]);
        let bead = strung.strings[1];
        assert_eq!(strung.kind, Kind::Increase);
        assert_eq!((broken.kind, broken.removes), (Kind::BreakOut, Some(bead)));
        // Beads are numbered as strung, including that one.
        let all = steps.iter().flat_map(|m| m.strings.iter().map(|b| b.0));
        assert!(all.eq(1..=plain.layout().beads() + 1));
        let passed = steps.iter().filter(|m| m.passes.contains(&bead));
        assert_eq!(passed.count(), 1);
        // The round has one more bead until then.
        let before = &steps[done.0 as usize - 1];
        assert_eq!(before.round_beads, broken.round_beads + 1);
        assert_eq!((before.round_target, broken.round_target), (16, 15));
        // The thread that went through it stays.
        let (after, to) = (Step(at.0 - 1), Step(seq.steps()));
        let more = seq.drawn_mm(after, to) - plain.drawn_mm(after, Step(plain.steps()));
        assert!((more - seq.layout().pass_mm()).abs() < 1e-6);
        let record = record_of(&plain, done, &found);
        assert_comes_back(&project, &record, seq);
    }

    /// The proof finds what is wrong with a break-out.
    #[test]
    fn a_break_out_that_is_wrong_is_found() {
        let plain = Sequence::new(testing::single(testing::panel(3, 6)));
        let (at, done) = (step_of(&plain, 5, 6), step_of(&plain, 5, 9));
        let seq = plain.break_out(done, at, false).unwrap().sequence;
        let steps: Vec<Movement> = seq.iter_as_made().collect();
        assert_eq!(faults(&seq, steps.clone()), []);
        let at_break = done.0 as usize;
        let bead = steps[at_break].removes.unwrap();

        let mut sewn_onto = steps.clone();
        sewn_onto[at_break + 3].passes.insert(0, bead);
        assert_eq!(faults(&seq, sewn_onto), [Fault::SewnOnto(bead)]);

        // A bead that belongs there is taken out instead.
        let mut other = steps.clone();
        let wanted = Bead(bead.0 + 2);
        other[at_break].removes = Some(wanted);
        let found = faults(&seq, other);
        assert!(found.iter().any(|f| matches!(f, Fault::GapHolds { .. })));

        let mut never = steps.clone();
        never[at_break].removes = None;
        let found = faults(&seq, never);
        assert!(found.contains(&Fault::NotThere(None)), "{found:?}");

        let mut twice = steps.clone();
        twice[at_break + 2].removes = Some(bead);
        let found = faults(&seq, twice);
        assert!(found.contains(&Fault::NotThere(Some(bead))));

        let mut miscounted = steps.clone();
        miscounted[at_break].round_beads += 1;
        let found = faults(&seq, miscounted);
        let is_count = |f: &Fault| matches!(f, Fault::RoundFields { .. });
        assert!(found.iter().any(is_count), "{found:?}");

        // A record without the break-out is not proved.
        let mut jobs = seq.jobs().to_vec();
        jobs[0].break_outs = 0;
        let size = |_| seq.layout().bead_kinds()[0].size;
        let project = seq.layout().project();
        let report = verify(project, seq.goal(), &jobs, steps.into_iter(), size);
        assert!(!report.is_proved());
    }

    /// A bead that was strung, working inward, at a corner that should be
    /// pulled together: the most common mistake.
    #[test]
    fn a_bead_at_a_corner_is_broken_out() {
        let project = testing::single(testing::inward(3, 7, 0));
        let plain = Sequence::new(project.clone());
        let corner = |m: &Movement| m.kind == Kind::Decrease && m.round == Some(Round(4));
        let at = plain.iter().find(corner).unwrap().step;
        let done = Step(at.0 + 2);
        let found = plain.break_out(done, at, false).unwrap();
        assert_proved(&found.sequence);
        let strung = found.sequence.as_made(found.sequence.step(at).unwrap());
        assert_eq!((strung.kind, strung.strings.len()), (Kind::Stitch, 1));
        let record = record_of(&plain, done, &found);
        assert_comes_back(&project, &record, &found.sequence);
        // The last corner has no movement of its own: the step-down pulls it
        // together.
        let down = |m: &Movement| m.kind == Kind::StepDown && m.round == Some(Round(4));
        let down = plain.iter().find(down).unwrap().step;
        let found = plain.break_out(Step(down.0 + 2), down, false).unwrap();
        assert_proved(&found.sequence);
    }

    /// A bead that was kept as stitched is broken out after all: the gap is as
    /// planned again.
    #[test]
    fn a_bead_that_was_kept_is_broken_out() {
        let project = testing::single(testing::panel(3, 6));
        let plain = Sequence::new(project.clone());
        let (at, done) = (step_of(&plain, 5, 6), step_of(&plain, 5, 9));
        let kept = plain.as_stitched(done, at, 2, None).unwrap().sequence;
        let found = kept.break_out(done, at, true).unwrap();
        assert_proved(&found.sequence);
        let direct = plain.break_out(done, at, false).unwrap();
        let (now, direct) = (
            found.sequence.iter_as_made(),
            direct.sequence.iter_as_made(),
        );
        assert!(now.eq(direct));
    }

    #[test]
    fn what_cannot_be_broken_out_says_why() {
        let plain = Sequence::new(testing::single(testing::panel(3, 6)));
        let at = step_of(&plain, 4, 2);
        let over = step_of(&plain, 5, 4);
        let refused = |done: Step, at: Step| plain.break_out(done, at, false).unwrap_err();
        assert_eq!(refused(over, at), Refusal::SewnOnto);
        // The last gap of a round: the needle comes out of the bead.
        let last = plain
            .iter()
            .find(|m| m.kind == Kind::StepUp && m.round == Some(Round(4)));
        let last = Step(last.unwrap().step.0 - 1);
        assert_eq!(refused(last, last), Refusal::NeedleInIt);
        // The ring is strung again instead.
        assert_eq!(refused(Step(9), Step(3)), Refusal::BeadOfTheString);
        assert_eq!(refused(Step(at.0 - 1), at), Refusal::NoSuchGap);
    }

    /// At every gap of a pair of tetrahedra, from its step until much later:
    /// what is allowed is proved, and every reason comes up. A bead at the edge
    /// of a panel is broken out in a later job, too.
    #[test]
    fn every_gap_is_broken_out_or_says_why_not() {
        let plain = Sequence::new(testing::folded_pair(4, 1));
        let (mut later_job, mut refused) = (0, vec![]);
        for at in (1..=plain.steps()).map(Step) {
            if plain.beads_worked(at).is_none() {
                continue;
            }
            for later in [0, 1, 4, 15, 30, 60] {
                let done = Step((at.0 + later).min(plain.steps()));
                match plain.break_out(done, at, false) {
                    Ok(found) => {
                        assert_proved(&found.sequence);
                        let seq = &found.sequence;
                        let broken = seq.as_made(seq.step(Step(found.step)).unwrap());
                        let is_later = seq.job_of(at) != broken.job;
                        assert_eq!(broken.round.is_none(), is_later);
                        later_job += u32::from(is_later);
                    }
                    Err(refusal) if !refused.contains(&refusal) => refused.push(refusal),
                    Err(_) => {}
                }
            }
        }
        assert!(later_job > 0);
        use Refusal::{BeadOfTheString, NeedleInIt, SewnOnto, ThreadAtRisk};
        let reasons = [BeadOfTheString, SewnOnto, NeedleInIt, ThreadAtRisk];
        assert_eq!(refused, reasons);
    }

    /// A join bead too many, until a side is zipped into the row.
    #[test]
    fn a_join_bead_is_broken_out_before_the_zip() {
        let project = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        let plain = Sequence::new(project.clone());
        let is_row = |step: &Step| plain.row_gap_of(*step).is_some();
        let at = (1..=plain.steps()).map(Step).filter(is_row).nth(2).unwrap();
        for done in [at.0 + 1, at.0 + 40] {
            let found = plain.break_out(Step(done), at, false).unwrap();
            assert_proved(&found.sequence);
            let record = record_of(&plain, Step(done), &found);
            assert_comes_back(&project, &record, &found.sequence);
        }
        let late = plain.break_out(Step(plain.steps()), at, false);
        assert_eq!(late.unwrap_err(), Refusal::SewnOnto);
    }

    /// A bead too many in the first round of a fill, and one that was kept there.
    #[test]
    fn a_bead_is_broken_out_of_the_first_round_of_a_fill() {
        let project = testing::folded_pair(5, 1);
        let plain = Sequence::new(project.clone());
        let is_rim = |step: &Step| {
            let gap = plain.gap_of(*step);
            gap.is_some_and(|at| plain.layout().is_rim_round(at.panel, at.gap.round))
        };
        let at = (1..=plain.steps()).map(Step).filter(is_rim).nth(6).unwrap();
        let done = Step(at.0 + 5);
        let found = plain.break_out(done, at, false).unwrap();
        assert_proved(&found.sequence);
        let record = record_of(&plain, done, &found);
        assert_comes_back(&project, &record, &found.sequence);
        let kept = plain.as_stitched(done, at, 2, None).unwrap().sequence;
        assert!(kept.is_one_too_many(at));
        let again = kept.break_out(done, at, true).unwrap().sequence;
        assert!(again.iter_as_made().eq(found.sequence.iter_as_made()));
    }

    /// The thread of a strip was woven in while the bead was there: without it
    /// there is a path with one turn more.
    #[test]
    fn an_end_woven_in_before_a_bead_is_broken_out_holds() {
        let plain = Sequence::new(testing::single(testing::strip(4, 4)));
        for step in (1..=plain.steps()).map(Step) {
            if let Ok(found) = plain.break_out(Step(plain.steps()), step, true) {
                assert_proved(&found.sequence);
            }
        }
    }

    fn projects() -> impl Strategy<Value = Project> {
        (3u8..=6, 4u32..10, 0u8..6).prop_map(|(sides, rounds, what)| match what {
            0 | 1 => testing::single(testing::panel(sides, rounds)),
            2 => testing::single(testing::inward(sides, rounds, 0)),
            3 => testing::solid(Solid::Tetrahedron, rounds.min(5), Closing::Fill),
            4 => testing::single(testing::strip(sides.into(), rounds)),
            _ => testing::folded_pair(rounds.min(5), 1),
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(120))]

        /// A bead of any gap, recorded or not, broken out at the needle or
        /// later, and then a gap before or after it as stitched: the piece is
        /// proved, and the journal restores it.
        #[test]
        fn any_bead_too_many_may_be_broken_out(
            project in projects(),
            at in 0.0f64..1.0,
            later in 0u32..50,
            is_noted: bool,
            then in 0.0f64..1.0,
            beads in 0u8..3,
        ) {
            let plain = Sequence::new(project.clone());
            let gaps: Vec<Step> = (1..=plain.steps()).map(Step)
                .filter(|step| plain.beads_worked(*step).is_some()).collect();
            let at = gaps[(at * gaps.len() as f64) as usize];
            let done = Step((at.0 + later).min(plain.steps()));
            let mut record = Record::default();
            record.play(&plain.work().facts(0, done.0), done.0);
            let Ok(found) = plain.break_out(done, at, is_noted) else { return Ok(()) };
            let record = record_of(&plain, done, &found);
            let seq = &found.sequence;
            assert_comes_back(&project, &record, seq);
            assert_proved(seq);
            if !is_noted {
                prop_assert_eq!(seq.layout().beads(), plain.layout().beads());
            }
            let then = Step(1 + (then * f64::from(found.step)) as u32);
            let was = found.step;
            let Ok(again) = seq.as_stitched(Step(was), then, beads, None) else { return Ok(()) };
            let mut record = record;
            match again.after == was {
                true => record.play(&again.made, again.step),
                false => record.restate(again.after, &again.made, again.step),
            }
            assert_comes_back(&project, &record, &again.sequence);
            assert_proved(&again.sequence);
        }
    }
}
