//! A finished panel set in the open middle of a fill.
//!
//! The fill stops, and the panel has as many rounds as the middle that is left
//! open: it takes the place of those, and its edge is zipped into the innermost
//! round of the fill.

use super::OpeningEnd;
use crate::beadwork::{Goal, GoalJob, JobKind, Panel, Refusal, Round, Work, WorkDirection};

impl Work {
    /// The panels that can be set in the middle of a fill: in the current
    /// round, or in the one at which the fill is planned to stop.
    pub(super) fn middle_ways(&self, goal: &Goal, fill: Panel) -> Vec<OpeningEnd> {
        let kinds = 0..self.layout.shared_kinds().len();
        let rounds = self.layout.kind(fill).rounds();
        let here = rounds.saturating_sub(self.rounds_begun(fill).max(2));
        let mut open = vec![here, self.layout.panel(fill).open()];
        open.dedup();
        let ways = open.into_iter().flat_map(|rounds| {
            let set_in = move |kind| OpeningEnd::SetInMiddle { kind, rounds };
            kinds.clone().map(set_in)
        });
        let can_be = |how: &OpeningEnd| self.set_in_middle(&mut goal.clone(), fill, *how).is_ok();
        ways.filter(can_be).collect()
    }

    /// Stops a fill, and sets a panel in its middle.
    pub(super) fn set_in_middle(
        &self,
        goal: &mut Goal,
        fill: Panel,
        how: OpeningEnd,
    ) -> Result<(), Refusal> {
        let OpeningEnd::SetInMiddle { kind, rounds } = how else {
            return Err(Refusal::NoOpening);
        };
        self.leave_middle_open(goal, fill)?;
        let is_fill =
            |job: &GoalJob| matches!(goal[*job], JobKind::Fill { panel, .. } if panel == fill);
        let at = goal.order.iter().position(is_fill);
        let at = at.ok_or(Refusal::NoSuchJob)?;
        let is_begun = self.is_taken_up(goal.order[at]);
        let all = self.layout.kind(fill).rounds();
        let is_firm = is_begun && self.is_closed(fill);
        if self.rounds_begun(fill) + rounds > all
            || (is_firm && rounds != self.layout.panel(fill).open())
        {
            return Err(Refusal::AlreadySewn(fill));
        }
        let kinds = self.layout.shared_kinds();
        let layout = kinds.get(kind).ok_or(Refusal::NoSuchKind)?;
        let way = self.layout.project().panels[kind].way;
        let fits = (2..=all.saturating_sub(2)).contains(&rounds)
            && way == WorkDirection::Outward
            && layout.fits_middle(rounds, self.layout.kind(fill), Round(rounds + 1));
        Refusal::OtherEdge.unless(fits)?;
        goal[fill].open = Some(rounds);
        // The panel closes the opening that was to hold one.
        goal[fill].stone = None;
        let within = &goal[fill];
        let (name, frame) = (
            format!("{}, middle", within.name),
            within.frame.middle(rounds, all),
        );
        let panel = goal.add_panel(name, kind, frame);
        goal[panel].rounds = (rounds != layout.rounds()).then_some(rounds);
        let at = match is_begun {
            true => self.place_ahead(goal),
            false => at + 1,
        };
        goal.insert(
            at,
            JobKind::SetInMiddle {
                panel,
                around: fill,
            },
        );
        goal.insert(at, JobKind::Panel(panel));
        Ok(())
    }

    /// The job that sets a panel in the middle of another, and the panel.
    fn middle_job(&self, goal: &Goal, around: Panel) -> Option<(GoalJob, Panel)> {
        let mut jobs = goal.order.iter();
        jobs.find_map(|&job| match goal[job] {
            JobKind::SetInMiddle { panel, around: of } if of == around => Some((job, panel)),
            _ => None,
        })
    }

    /// Removes a panel that was to be set in the middle of another; returns
    /// whether there was one.
    pub(super) fn leave_middle_open(
        &self,
        goal: &mut Goal,
        around: Panel,
    ) -> Result<bool, Refusal> {
        let Some((set_in, panel)) = self.middle_job(goal, around) else {
            return Ok(false);
        };
        Refusal::PanelsAfter(panel).when(self.layout.is_begun(panel))?;
        let jobs = &goal.jobs;
        goal.order
            .retain(|job| *job != set_in && jobs[job.index()] != JobKind::Panel(panel));
        self.forget_panel(goal, panel)?;
        Ok(true)
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::amend::Amendment;
    use crate::beadwork::movement::Kind;
    use crate::beadwork::project::{Closing, Make, Project};
    use crate::beadwork::sequence::Sequence;
    use crate::beadwork::{Step, testing};

    fn pair(rounds: u32) -> Project {
        let make = Make::FoldedPair {
            faces: vec![0],
            closings: [(0, Closing::SetIn), (1, Closing::Fill)],
            tips: 0,
        };
        let panels = vec![testing::panel(3, rounds), testing::inward(3, rounds, 0)];
        testing::project(panels, make)
    }

    fn after_fill_rounds(seq: &Sequence, rounds: usize) -> Step {
        let turns = seq.iter().filter(|m| m.kind == Kind::StepDown);
        turns.map(|m| m.step).nth(rounds - 1).unwrap()
    }

    fn change(seq: &Sequence, how: OpeningEnd) -> Amendment {
        let jobs = &seq.goal().jobs;
        let fill = |job: &&GoalJob| matches!(jobs[job.index()], JobKind::Fill { .. });
        let job = *seq.goal().order.iter().find(fill).unwrap();
        Amendment::Opening { job, how }
    }

    /// A triangle of k rounds has 3k beads in its last, so it is zipped with 3k
    /// teeth into the round of 3(k + 1) around it; the whole has as many beads
    /// as if it were filled to the centre.
    #[test]
    fn a_face_of_six_rounds_locks_into_round_seven() {
        let plain = Sequence::new(pair(8));
        let two = after_fill_rounds(&plain, 2);
        let open = change(&plain, OpeningEnd::Open);
        let opened = plain.amended(two, &open).unwrap();
        let how = OpeningEnd::SetInMiddle { kind: 0, rounds: 6 };
        // At once, during the reinforcing of the rim, and after it.
        for (from, done) in [
            (&plain, two),
            (&opened, two),
            (&opened, Step(two.0 + 3)),
            (&opened, Step(opened.steps())),
        ] {
            let set_in = from.amended(done, &change(from, how)).unwrap();
            assert_proved(&set_in);
            assert_eq!(set_in.layout().beads(), plain.layout().beads());
            let job = set_in.jobs().len() as u16 - 1;
            let job = crate::beadwork::Job(job);
            let teeth = set_in
                .iter()
                .filter(|m| m.job == job && m.kind == Kind::Zip);
            assert_eq!(teeth.count(), 18);
            // Undone by another change, while the face is not begun.
            let again = set_in.amended(done, &change(&set_in, OpeningEnd::Open));
            assert_eq!(again.err(), None);
        }
    }

    /// Beads of the panel are where the fill's own would be.
    #[test]
    fn the_face_lies_where_the_rounds_of_the_fill_would() {
        let plain = Sequence::new(pair(8));
        let two = after_fill_rounds(&plain, 2);
        let how = OpeningEnd::SetInMiddle { kind: 0, rounds: 6 };
        let set_in = plain.amended(two, &change(&plain, how)).unwrap();
        let points = |seq: &Sequence| {
            let places = seq.work().bead_places();
            let fill = seq.goal().panels.iter().position(|p| p.spec == 1).unwrap();
            let later = |p: usize| p >= fill;
            let beads = (1..=seq.layout().beads()).map(crate::beadwork::Bead);
            let of = beads.filter(|b| later(seq.layout().panel_of(*b).index()));
            let mut points: Vec<[i64; 3]> = of
                .map(|b| (places.bead(b) * 1e6).to_array().map(|x| x.round() as i64))
                .collect();
            points.sort_unstable();
            points
        };
        let (a, b) = (points(&plain), points(&set_in));
        assert_eq!(a.len(), b.len());
        let near = |a: &[i64; 3], b: &[i64; 3]| (0..3).all(|i| (a[i] - b[i]).abs() < 1000);
        assert!(a.iter().zip(&b).filter(|(a, b)| !near(a, b)).count() < 3);
    }

    /// Every face that fits can be set in, at every round; one that does not
    /// fit is refused.
    #[test]
    fn what_fits_is_offered_and_what_does_not_is_refused() {
        let plain = Sequence::new(pair(8));
        for rounds in 2..=6 {
            let done = after_fill_rounds(&plain, (8 - rounds) as usize);
            let offered = plain.amendments(done);
            let how = OpeningEnd::SetInMiddle { kind: 0, rounds };
            let change = change(&plain, how);
            assert!(offered.contains(&change), "{rounds}");
            assert_proved(&plain.amended(done, &change).unwrap());
        }
        let two = after_fill_rounds(&plain, 2);
        for (kind, rounds) in [(0, 7), (1, 6), (0, 1), (9, 4)] {
            let how = OpeningEnd::SetInMiddle { kind, rounds };
            assert!(plain.amended(two, &change(&plain, how)).is_err());
        }
        // The middle is closed.
        let how = OpeningEnd::SetInMiddle { kind: 0, rounds: 2 };
        let end = Step(plain.steps());
        assert!(plain.amended(end, &change(&plain, how)).is_err());
    }

    /// A square that cups has rounds with one corner bead and with two.
    #[test]
    fn corner_beads_and_corner_gaps_lock_too() {
        use crate::beadwork::project::Solid;
        let cube = |rounds| Sequence::new(testing::solid(Solid::Cube, rounds, Closing::Fill));
        let mut made = 0;
        for rounds in 5..12 {
            let plain = cube(rounds);
            if !plain.layout().kind_of(0).can_be_joined() {
                continue;
            }
            for done in (0..plain.steps()).step_by(60).chain([plain.steps() - 30]) {
                for how in plain.amendments(Step(done)) {
                    if let Amendment::Opening {
                        how: OpeningEnd::SetInMiddle { .. },
                        ..
                    } = how
                    {
                        let set_in = plain.amended(Step(done), &how).unwrap();
                        assert_proved(&set_in);
                        made += 1;
                    }
                }
            }
        }
        assert!(made > 0);
    }

    /// The needle goes through a join a second time: through each bead once
    /// more, and no bead is added.
    #[test]
    fn a_join_is_reinforced_by_a_second_pass() {
        use crate::beadwork::amend::{JoinChange, JoinWhat};
        for project in [
            pair(6),
            testing::solid(crate::beadwork::project::Solid::Cube, 9, Closing::SetIn),
        ] {
            let plain = Sequence::new(project);
            let end = Step(plain.steps());
            let offered = plain.amendments(end);
            let again = |change: &&Amendment| {
                matches!(
                    change,
                    Amendment::Join(JoinChange {
                        what: JoinWhat::Again,
                        ..
                    })
                )
            };
            let mut made = 0;
            for change in offered.iter().filter(again) {
                let twice = plain.amended(end, change).unwrap();
                assert_proved(&twice);
                assert_eq!(twice.layout().beads(), plain.layout().beads());
                let firm = twice
                    .iter()
                    .filter(|m| m.step > end && m.kind == Kind::Firm);
                let through: usize = firm.map(|m| m.passes.len()).sum();
                let Amendment::Join(join) = change else {
                    unreachable!()
                };
                let edge = plain.layout().kind(join.panel).edge(join.side) as usize;
                assert_eq!(through, 2 * (edge - 1));
                made += 1;
            }
            assert!(made > 6, "{made}");
            let one = offered.iter().find(again).unwrap();
            let all = plain.all_like(end, one).unwrap();
            assert_proved(&plain.amended(end, &all).unwrap());
        }
    }
}
