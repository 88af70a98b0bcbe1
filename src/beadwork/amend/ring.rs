//! More or fewer tetrahedra in a ring that is not closed yet.

use super::Amendment;
use crate::beadwork::goal::Goal;
use crate::beadwork::project::{Make, Project};
use crate::beadwork::rules::Refusal;
use crate::beadwork::work::Work;

impl Work {
    /// The ring with two more tetrahedra, and with two fewer, if possible.
    pub(super) fn ring_changes(&self) -> Vec<Amendment> {
        let (Make::Ring { tetrahedra, .. } | Make::RingOfNets { tetrahedra, .. }) =
            self.layout.project().make
        else {
            return vec![];
        };
        let sizes = [tetrahedra.saturating_add(2), tetrahedra.saturating_sub(2)];
        let can_be = |n: &u16| self.ring_of(*n).is_ok();
        sizes
            .into_iter()
            .filter(can_be)
            .map(Amendment::Tetrahedra)
            .collect()
    }

    pub(super) fn resize_ring(&mut self, goal: &mut Goal, tetrahedra: u16) -> Result<(), Refusal> {
        let (project, new) = self.ring_of(tetrahedra)?;
        *goal = new;
        self.layout.set_make(project.make);
        Ok(())
    }

    /// Changes the number of tetrahedra of a ring. What is begun must be part
    /// of the new ring, and nothing else may differ from the pattern.
    fn ring_of(&self, tetrahedra: u16) -> Result<(Project, Goal), Refusal> {
        let mut project = self.layout.project().clone();
        // Changes of single joins stay with the panels that are kept.
        project.joins.clear();
        let kinds = self.layout.shared_kinds();
        let planned = Goal::of(&project, &kinds);
        let (Make::Ring { tetrahedra: n, .. } | Make::RingOfNets { tetrahedra: n, .. }) =
            &mut project.make
        else {
            return Err(Refusal::NoRing);
        };
        if tetrahedra == *n || tetrahedra % 2 == 1 || !(6..=1000).contains(&tetrahedra) {
            return Err(Refusal::NoSuchRing);
        }
        *n = tetrahedra;
        let goal = self.goal();
        // Inserts come after the whole ring, and so does the step of each.
        if !project.insert.is_empty()
            || (&goal.order, &goal.jobs, &goal.made)
                != (&planned.order, &planned.jobs, &planned.made)
        {
            return Err(Refusal::OtherChanges);
        }
        let mut new = Goal::of(&project, &kinds);
        new.take_over_choices(goal);
        let begun = goal.order.iter().filter(|job| self.is_begun(**job));
        let mut differ = begun.filter(|job| {
            let at = job.index();
            new.jobs.get(at) != Some(&goal.jobs[at])
        });
        match differ.next() {
            Some(_) => Err(Refusal::RingClosed),
            None => Ok((project, new)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::number::{Panel, Step};
    use crate::beadwork::project::Closing;
    use crate::beadwork::sequence::Sequence;
    use crate::beadwork::testing;

    /// A ring of nets takes a net more, or one fewer, until it is closed.
    #[test]
    fn a_ring_of_nets_takes_a_net_more() {
        let plain = Sequence::new(testing::ring_of_nets(8, 3, 0));
        let nets = |seq: &Sequence| seq.goal().panels.len() / 8;
        assert_eq!(nets(&plain), 4);
        let mut refused = 0;
        for done in (0..plain.steps()).step_by(97).map(Step) {
            for tetrahedra in [6, 10] {
                match plain.amended(done, &Amendment::Tetrahedra(tetrahedra)) {
                    Ok(other) => {
                        assert_proved(&other);
                        assert_eq!(nets(&other), usize::from(tetrahedra) / 2);
                    }
                    Err(refusal) => {
                        assert_eq!(refusal, Refusal::RingClosed);
                        refused += 1;
                    }
                }
            }
        }
        assert!(refused > 0);
    }

    /// Earlier amendments of panels stay in a ring of another size.
    #[test]
    fn a_ring_of_another_size_keeps_rounds_and_the_way_back() {
        let plain = Sequence::new(testing::ring(8, 5, Closing::SetIn));
        let at = (1..).map(Step).find(|step| {
            let gap = plain.gap_of(*step);
            gap.is_some_and(|at| at.gap.round.0 == 3 && at.gap.gap == 1)
        });
        let at = at.unwrap();
        let found = plain.as_stitched(at, at, 2, None).unwrap();
        let done = Step(found.step);
        let eased = found.sequence.amendments(done).into_iter();
        let mut eased = eased.filter(|change| matches!(change, Amendment::Ease { .. }));
        let eased = found
            .sequence
            .amended(done, &eased.next().unwrap())
            .unwrap();
        let longer = eased.amendments(done).into_iter().find(
            |change| matches!(change, Amendment::Rounds { jobs, rounds: 6 } if jobs.len() > 1),
        );
        let longer = eased.amended(done, &longer.unwrap()).unwrap();
        for (seq, rounds) in [(eased, 5), (longer, 6)] {
            let ten = seq.amended(done, &Amendment::Tetrahedra(10)).unwrap();
            assert_proved(&ten);
            let panels = 0..ten.goal().panels.len();
            let all = panels.map(|panel| ten.layout().kind(Panel(panel as u16)).rounds());
            assert_eq!(all.collect::<Vec<_>>(), [rounds; 40]);
            let goal = (ten.goal().panels[0].eased.len(), ten.goal().amendments);
            assert_eq!(goal, (1, rounds - 3));
        }
    }
}
