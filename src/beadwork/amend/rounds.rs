//! Changes the number of rounds of panels.

use super::Amendment;
use crate::beadwork::lying::Lying;
use crate::beadwork::{
    Corner, Frame, Goal, GoalJob, JobKind, Panel, PanelLayout, Refusal, Sequence, Side, Work,
    WorkDirection,
};
use std::sync::Arc;

/// `Face 2: stop at round 5`.
pub(super) fn say(seq: &Sequence, jobs: &[GoalJob], rounds: u32) -> String {
    let (goal, layout) = (seq.goal(), seq.layout());
    let Some(JobKind::Panel(panel)) = jobs.first().and_then(|job| goal.jobs.get(job.index()))
    else {
        return String::new();
    };
    let who = match jobs.len() {
        1 => goal[*panel].name.clone(),
        many => {
            let kind = layout.kind_by_pattern(*panel);
            let kind = &layout.project().panels[kind].name;
            format!("All '{kind}' that are not finished ({many})")
        }
    };
    let kind = layout.kind(*panel);
    let planned = kind.rounds() - layout.panel(*panel).open();
    let rows = match kind.strip() {
        Some(_) => "row",
        None => "round",
    };
    match layout.way(*panel) {
        WorkDirection::Inward => format!("{who}: {rounds} {rows}s and the middle open"),
        WorkDirection::Outward if rounds == planned + 1 => {
            format!("{who}: one {rows} more, {rounds} in all")
        }
        WorkDirection::Outward if rounds > planned => format!("{who}: go on to {rows} {rounds}"),
        WorkDirection::Outward => format!("{who}: stop at {rows} {rounds}"),
    }
}

impl Work {
    /// The possible changes of the number of rounds: of the current panel, and
    /// of all unfinished panels of the same kind.
    pub(super) fn rounds_amendments(&self) -> Vec<Amendment> {
        let goal = self.goal();
        let panel_of = |job: GoalJob| match &goal[job] {
            JobKind::Panel(panel) => Some((job, *panel)),
            _ => None,
        };
        let panels: Vec<(GoalJob, Panel)> =
            goal.order.iter().copied().filter_map(panel_of).collect();
        let open = |&&(job, panel): &&(GoalJob, Panel)| {
            !(self.is_behind(job) || self.is_begun(job) && self.is_shut(panel))
        };
        let mut kinds = vec![];
        let mut found = vec![];
        for &(job, panel) in panels.iter().filter(open) {
            let kind = self.layout.kind_by_pattern(panel);
            let like = |other: &&(GoalJob, Panel)| {
                open(other) && self.layout.kind_by_pattern(other.1) == kind
            };
            let like: Vec<GoalJob> = panels.iter().filter(like).map(|(job, _)| *job).collect();
            for rounds in self.rounds_worth_offering(panel) {
                if self.is_begun(job) {
                    let jobs = vec![job];
                    found.push(Amendment::Rounds { jobs, rounds });
                    found.extend(self.with_other_joins(job, panel, rounds));
                }
                if !kinds.contains(&kind) && (like.len() > 1 || !self.is_begun(job)) {
                    let jobs = like.clone();
                    found.push(Amendment::Rounds { jobs, rounds });
                }
            }
            kinds.push(kind);
        }
        found
    }

    fn rounds_worth_offering(&self, panel: Panel) -> Vec<u32> {
        let planned = self.layout.kind(panel).rounds() - self.layout.panel(panel).open();
        let here = self.rounds_begun(panel).max(2);
        let mut rounds = vec![planned + 1];
        if here < planned {
            rounds.insert(0, here);
        }
        if self.layout.way(panel) == WorkDirection::Inward {
            rounds.retain(|rounds| *rounds < self.layout.kind(panel).rounds());
        }
        rounds
    }

    /// Gives panels another number of rounds; of a panel worked inward this
    /// many are sewn, and the rest stays open.
    pub(super) fn set_rounds(
        &self,
        goal: &mut Goal,
        jobs: &[GoalJob],
        rounds: u32,
    ) -> Result<(), Refusal> {
        for job in jobs {
            let Some(JobKind::Panel(panel)) = goal.jobs.get(job.index()) else {
                return Err(Refusal::NoSuchJob);
            };
            let panel = *panel;
            Refusal::JobBegun.when(self.is_behind(*job))?;
            let least = self.rounds_begun(panel).max(2);
            Refusal::AlreadySewn(panel).when(rounds < least || self.is_shut(panel))?;
            if self.layout.way(panel) == WorkDirection::Inward {
                let all = self.layout.kind(panel).rounds();
                let open = all.checked_sub(rounds).ok_or(Refusal::OtherEdge)?;
                Refusal::AlreadySewn(panel).when(open > 0 && self.is_closed(panel))?;
                goal[panel].open = Some(open);
                continue;
            }
            goal[panel].rounds = Some(rounds);
            if !is_joined(goal, panel) {
                goal[panel].frame = self.frame_of(goal, panel);
            }
        }
        Ok(())
    }

    /// The place of a panel that is joined to nothing, at its planned size.
    fn frame_of(&self, goal: &Goal, panel: Panel) -> Frame {
        let mut planned = self.layout.clone();
        planned.set_goal(goal);
        let (old, new) = (self.layout.kind(panel), planned.kind(panel));
        // Gaps worked differently from the plan have changed the edge.
        if new.strip().is_some() || goal.panels.len() == 1 {
            return Lying::frame_alone(planned.project(), planned.panel(panel).spec, new);
        }
        let edge = |kind: &PanelLayout| f64::from(kind.edge(Side(0)));
        goal[panel].frame.scaled(edge(new) / edge(old).max(1.0))
    }

    /// Ways to change the rounds of one panel whose sides would then not fit those
    /// they meet: the joins change too. Sides that differ by one lock directly, by
    /// two with a row on the longer, and others are eased, also onto a row that is
    /// already worked; or all are eased. Empty if no join has to change.
    fn with_other_joins(&self, job: GoalJob, panel: Panel, rounds: u32) -> Vec<Amendment> {
        let jobs = vec![job];
        let alone = Amendment::Rounds { jobs, rounds };
        let refused = self.clone().amend(&alone).err();
        if !matches!(refused, Some(Refusal::UnlikeSides(..))) {
            return vec![];
        }
        let mut goal = self.goal_as_begun();
        goal[panel].rounds = Some(rounds);
        let mut planned = self.clone();
        planned.set_goal(Arc::new(goal));
        let mut ways: Vec<Amendment> = vec![];
        for is_eased in [false, true] {
            let goal = self.goal();
            let jobs = goal.ordered();
            let joins = jobs.flat_map(|job| job.joins().iter().map(|join| (job.panel(), join)));
            let met = joins.filter(|(bare, join)| *bare == panel || join.onto == panel);
            let unlike = met.filter(|(bare, join)| !planned.locks(*bare, join));
            let changes = unlike.flat_map(|(bare, join)| planned.fitting(bare, join, is_eased));
            let all = Amendment::All(changes.chain([alone.clone()]).collect());
            if !ways.contains(&all) && self.clone().amend(&all).is_ok() {
                ways.push(all);
            }
        }
        ways
    }

    /// The number of join beads that the row on a side has or will have.
    pub(super) fn join_beads(&self, (panel, side): Corner) -> u32 {
        if let Some(row) = self.layout.row_on(panel, side) {
            return self.layout.row(row).beads;
        }
        let goal = self.goal();
        let mut jobs = goal.ordered();
        let beads = jobs.find_map(|job| match job {
            JobKind::JoinRow {
                panel: on,
                sides,
                beads,
                ..
            } if *on == panel && sides.contains(&side) => *beads,
            _ => None,
        });
        beads.unwrap_or(self.layout.kind(panel).edge(side).saturating_sub(1))
    }

    /// The first join of a job that meets sides which do not lock into each
    /// other.
    pub(in crate::beadwork) fn unlike_sides(&self, job: &JobKind) -> Option<Refusal> {
        // A fill that is begun on its rim fits, whatever its gaps hold, and so does
        // one for which the pattern says what they hold.
        if let JobKind::Fill { panel, .. } = job
            && (self.layout.panel(*panel).rim.is_some() || !self.goal()[*panel].row_gaps.is_empty())
        {
            return None;
        }
        let is_bare = |panel: &Panel| !self.layout.kind(*panel).can_be_joined();
        if !matches!(job, JobKind::Panel(_))
            && let Some(panel) = job.panels().into_iter().find(is_bare)
        {
            return Some(Refusal::NoEdge(panel));
        }
        let edge = |(panel, side): Corner| self.layout.kind(panel).edge(side);
        let unlike = |ours: Corner, theirs: Corner| {
            Refusal::UnlikeSides(ours, edge(ours), theirs, edge(theirs))
        };
        let mut joins = job.joins().iter();
        let misfit = joins.find(|join| !self.locks(job.panel(), join));
        let misfit = misfit.map(|join| unlike((job.panel(), join.side), (join.onto, join.at)));
        misfit.or_else(|| match job {
            JobKind::Fill { panel, rim } => {
                let sides = (0u8..).map(|side| (*panel, Side(side)));
                let mut rim = sides.zip(rim);
                let misfit = rim.find(|(ours, theirs)| edge(*ours) != edge(**theirs));
                misfit.map(|(ours, theirs)| unlike(ours, *theirs))
            }
            JobKind::JoinRow {
                panel,
                sides,
                beads: Some(beads),
                ..
            } => {
                let gaps = |side: &Side| edge((*panel, *side)).saturating_sub(1);
                let too_many = sides.iter().any(|side| *beads > 2 * gaps(side));
                too_many.then_some(Refusal::TooManyJoinBeads)
            }
            JobKind::SetInMiddle { panel, around } => self.check_middle(*panel, *around).err(),
            _ => None,
        })
    }
}

/// Whether a job other than the one that makes it works on a panel.
pub(super) fn is_joined(goal: &Goal, panel: Panel) -> bool {
    let mut jobs = goal.ordered();
    jobs.any(|job| !matches!(job, JobKind::Panel(_)) && job.panels().contains(&panel))
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::super::{JoinChange, JoinWhat};
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Step, testing};

    fn rounds(seq: &Sequence, nth: usize, rounds: u32) -> Amendment {
        let goal = seq.goal();
        let mut jobs = goal.order.iter().copied();
        let job = jobs.nth(nth).unwrap();
        let jobs = vec![job];
        Amendment::Rounds { jobs, rounds }
    }

    /// A panel that stops at a round, or goes further, is the same as that of a
    /// pattern with this number of rounds.
    #[test]
    fn a_lone_panel_stops_or_goes_on() {
        for (sides, planned) in [(3, 6), (4, 7), (6, 9)] {
            let plain = Sequence::new(testing::single(testing::panel(sides, planned)));
            let after_round = |k: u32| {
                let turns = plain.iter().filter(|m| m.round.is_some_and(|r| r.0 == k));
                turns.last().unwrap().step
            };
            for other in [3, 4, planned - 1, planned + 1, planned + 3] {
                let asked = Sequence::new(testing::single(testing::panel(sides, other)));
                for done in [Step(0), after_round(2), after_round(3)] {
                    let amended = plain.amended(done, &rounds(&plain, 0, other)).unwrap();
                    assert_proved(&amended);
                    assert!(
                        amended.iter().eq(asked.iter()),
                        "{sides} sides, {other} rounds"
                    );
                    let frame = |seq: &Sequence| seq.layout().panel(Panel(0)).frame.corners()[0];
                    assert!(frame(&amended).distance(frame(&asked)) < 1e-9);
                }
            }
            // Rounds that are sewn cannot be left out.
            let late = plain.amended(after_round(5), &rounds(&plain, 0, 4));
            assert_eq!(late.err(), Some(Refusal::AlreadySewn(Panel(0))));
            // The finished panel can be continued while nothing else is begun.
            let end = Step(plain.steps());
            let on = plain.amended(end, &rounds(&plain, 0, planned + 1)).unwrap();
            assert_proved(&on);
        }
    }

    #[test]
    fn an_inward_panel_leaves_its_middle_open_instead() {
        let plain = Sequence::new(testing::single(testing::inward(3, 7, 0)));
        let amended = plain.amended(Step(9), &rounds(&plain, 0, 4)).unwrap();
        assert_proved(&amended);
        let asked = Sequence::new(testing::single(testing::inward(3, 7, 3)));
        assert!(amended.iter().eq(asked.iter()));
    }

    #[test]
    fn a_strip_takes_more_rows_or_fewer() {
        let plain = Sequence::new(testing::single(testing::strip(4, 8)));
        for other in [6, 11] {
            let amended = plain.amended(Step(12), &rounds(&plain, 0, other)).unwrap();
            assert_proved(&amended);
            let asked = Sequence::new(testing::single(testing::strip(4, other)));
            assert!(amended.iter().eq(asked.iter()));
        }
    }

    /// A single face of a solid would not fit its neighbours; all together make
    /// a smaller solid.
    #[test]
    fn panels_that_are_joined_change_together_or_say_which_sides_would_not_meet() {
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let alone = plain.amended(Step(4), &rounds(&plain, 0, 5)).err().unwrap();
        let words = alone.to_string();
        assert!(
            words.contains("6 beads at its edge") && words.contains("differ by one"),
            "{words}"
        );
        let offered = plain.amendments(Step(4));
        let all = offered
            .iter()
            .find(|a| matches!(a, Amendment::Rounds { jobs, rounds: 7 } if jobs.len() == 4));
        let amended = plain.amended(Step(4), all.unwrap()).unwrap();
        assert_proved(&amended);
        let asked = Sequence::new(testing::solid(Solid::Tetrahedron, 7, Closing::SetIn));
        assert_eq!(amended.layout().beads(), asked.layout().beads());
        assert_eq!(amended.layout().project().panels.len(), 2, "told once");
    }

    /// The changes that give one panel of a piece another size, with its joins.
    fn of_another_size(plain: &Sequence) -> Vec<(Step, Amendment)> {
        let made = plain.jobs().iter();
        let made = made.filter(|job| matches!(job.kind, JobKind::Panel(_)));
        let offered = made.flat_map(|job| {
            let done = Step(job.steps_before + 8);
            let offered = plain.amendments(done).into_iter();
            offered.map(move |change| (done, change))
        });
        let is_it = |(_, change): &(Step, Amendment)| matches!(change, Amendment::All(all) if matches!(all.last(), Some(Amendment::Rounds { .. })));
        offered.filter(is_it).collect()
    }

    /// A single panel with one round fewer or more is zipped directly into its
    /// neighbours or eased in; it can get the same size as they again.
    #[test]
    fn a_panel_of_another_size_locks_into_its_neighbours_or_is_eased_in() {
        let (mut eased, mut locked) = (0, 0);
        for (solid, closing) in [
            (Solid::Tetrahedron, Closing::SetIn),
            (Solid::Octahedron, Closing::SetIn),
            (Solid::Octahedron, Closing::Fill),
        ] {
            let plain = Sequence::new(testing::solid(solid, 6, closing));
            for (done, change) in of_another_size(&plain) {
                let amended = plain.amended(done, &change).unwrap();
                assert_proved(&amended);
                let words = change.say(&plain);
                if words.ends_with("ease its sides into those that they meet") {
                    eased += 1;
                    continue;
                }
                // One change, and no choice.
                assert!(!words.contains(", or "), "{words}");
                let how = match words.contains("ease some of its sides in and ") {
                    true => "lock some of its sides directly",
                    false => "lock its sides directly",
                };
                assert!(words.contains(how), "{words}");
                locked += 1;
                let Amendment::All(all) = &change else {
                    unreachable!()
                };
                let Some(Amendment::Rounds {
                    jobs,
                    rounds: planned,
                }) = all.last()
                else {
                    unreachable!()
                };
                let (old, new) = (plain.layout().beads(), amended.layout().beads());
                let panel = |k: u32| 3 * k * (k + 1) / 2;
                if !words.contains("ease") {
                    // Its three joins have no row.
                    assert_eq!(new + panel(6) + 3 * 5, old + panel(*planned), "{words}");
                }
                let back = amended.amendments(done).into_iter().find(|change| {
                    matches!(change, Amendment::All(all) if matches!(all.last(),
                        Some(Amendment::Rounds { rounds: 6, jobs: again }) if again == jobs))
                });
                let Some(back) = back else {
                    assert_eq!(*planned, 7, "{words}");
                    continue;
                };
                assert!(back.say(&amended).contains("a join row again"));
                let again = amended.amended(done, &back).unwrap();
                assert_proved(&again);
                assert_eq!(again.layout().beads(), old, "{words}");
            }
        }
        assert!(eased > 10 && locked > 10, "{eased} {locked}");
    }

    /// A panel that was to be zipped into an opening directly, or eased in, can
    /// be replaced by a fill while it is not begun: the rows that were left out
    /// are worked before it.
    #[test]
    fn an_opening_without_rows_is_filled_after_all() {
        use crate::beadwork::amend::OpeningEnd;
        use crate::beadwork::job::SideFit;
        use crate::beadwork::project::Make;
        let piece = |closing| {
            let make = Make::FoldedPair {
                faces: vec![0],
                closings: [(0, Closing::SetIn), closing],
                tips: 0,
            };
            let panels = vec![testing::panel(3, 6), testing::inward(3, 6, 0)];
            Sequence::new(testing::project(panels, make))
        };
        let (plain, filled) = (piece((0, Closing::SetIn)), piece((1, Closing::Fill)));
        let mut made = 0;
        for (done, change) in of_another_size(&plain) {
            let other = plain.amended(done, &change).unwrap();
            let last = *other.goal().order.last().unwrap();
            let joins = other.goal()[last].joins();
            if joins.len() < 3 || joins.iter().any(|join| join.fit == SideFit::Equal) {
                continue;
            }
            let how = OpeningEnd::Fill { kind: 1, open: 0 };
            let fill = Amendment::Opening { job: last, how };
            assert_eq!(other.amended(done, &fill).err(), Some(Refusal::JobBegun));
            // Back before the panel that was to be set in.
            let done = Step(other.jobs()[other.jobs().len() - 2].steps_before);
            let offered = other.amendments(done).into_iter();
            let ways = offered
                .filter(|change| matches!(change, Amendment::Opening { job, .. } if *job == last));
            let ways: Vec<Amendment> = ways.collect();
            assert!(ways.contains(&fill));
            for way in ways {
                assert_proved(&other.amended(done, &way).unwrap());
            }
            let again = other.amended(done, &fill).unwrap();
            assert_eq!(again.layout().beads(), filled.layout().beads());
            made += 1;
        }
        assert!(made > 0, "{made}");
    }

    /// A bead too many that stays makes a side longer by one: its join, left
    /// out of the plan, can be zipped directly.
    #[test]
    fn a_side_that_stays_longer_by_one_can_be_locked_directly() {
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let at = plain
            .iter()
            .find(|m| m.round.is_some_and(|r| r.0 == 6) && m.kind == crate::beadwork::Kind::Stitch);
        let found = plain
            .as_stitched(at.clone().unwrap().step, at.unwrap().step, 2, None)
            .unwrap();
        let left_out = found.sequence.clone();
        let zips = |seq: &Sequence| {
            seq.jobs()
                .iter()
                .flat_map(|job| job.kind.joins().to_vec())
                .count()
        };
        assert!(zips(&left_out) < zips(&plain));
        let offered = left_out.amendments(Step(found.step)).into_iter();
        let mut offered =
            offered.filter(|change| change.say(&left_out).contains("lock it directly"));
        let lock = offered.next().expect("it is offered");
        let locked = left_out.amended(Step(found.step), &lock).unwrap();
        assert_proved(&locked);
        assert_eq!(zips(&locked), zips(&plain));
    }

    /// Two rounds fewer or more: the row is on the longer side; a row that is
    /// already worked stays as it is.
    #[test]
    fn a_panel_two_rounds_larger_or_smaller_takes_rows_on_the_longer_sides() {
        let mut made = 0;
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        for (done, change) in of_another_size(&plain) {
            let Amendment::All(all) = &change else {
                unreachable!()
            };
            let Some(Amendment::Rounds { jobs, .. }) = all.last() else {
                unreachable!()
            };
            for rounds in [4, 8] {
                let Some(JobKind::Panel(panel)) = plain.goal().jobs.get(jobs[0].index()) else {
                    unreachable!()
                };
                for way in plain
                    .work_at(done)
                    .with_other_joins(jobs[0], *panel, rounds)
                {
                    let amended = plain.amended(done, &way).unwrap();
                    assert_proved(&amended);
                    made += usize::from(way.say(&plain).contains("on the longer"));
                }
            }
        }
        assert!(made > 5, "{made}");
    }

    /// Join beads left out or added: from one to two in each gap.
    #[test]
    fn a_row_has_as_many_join_beads_as_the_maker_wants() {
        let plain = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let beads = plain.layout().beads();
        let rows = plain.amendments(Step(3));
        let row = rows.iter().find_map(|change| match change {
            Amendment::Join(change) if matches!(change.what, JoinWhat::Beads(_)) => Some(*change),
            _ => None,
        });
        let row = row.unwrap();
        for n in 0..=11 {
            let what = JoinWhat::Beads(n);
            let change = Amendment::Join(JoinChange { what, ..row });
            let amended = plain.amended(Step(3), &change);
            if n == 0 || n > 10 {
                assert_eq!(amended.err(), Some(Refusal::TooManyJoinBeads));
                continue;
            }
            let amended = amended.unwrap();
            assert_proved(&amended);
            // Five gaps, one bead each.
            assert_eq!(amended.layout().beads() + 5, beads + n, "{n}");
            let all = plain.all_like(Step(3), &change).unwrap();
            assert_proved(&plain.amended(Step(3), &all).unwrap());
        }
    }
}
