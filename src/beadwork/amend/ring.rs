//! More or fewer tetrahedra in a ring that is not closed yet.

use super::Amendment;
use crate::beadwork::{Goal, Make, Project, Refusal, Work};

impl Work {
    /// The ring with two more tetrahedra, and with two fewer, if possible.
    pub(super) fn ring_changes(&self) -> Vec<Amendment> {
        let Some((tetrahedra, _)) = self.layout.project().make.ring() else {
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
        if (&goal.order, &goal.jobs, &goal.made) != (&planned.order, &planned.jobs, &planned.made) {
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
    use crate::beadwork::Kind;
    use crate::beadwork::number::{GoalJob, Panel, Step};
    use crate::beadwork::project::{Closing, INSERT_FACES, Solid};
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

    /// Its inserts come after the whole ring, one for each open face, and keep what
    /// was chosen for them.
    #[test]
    fn a_ring_with_inserts_takes_more_tetrahedra_or_fewer() {
        let mut project = testing::ring(8, 4, Closing::Open);
        project.panels.push(testing::panel(3, 3));
        project.insert = vec![1];
        let plain = Sequence::new(project);
        let of_insert = |job: &GoalJob| {
            let panel = plain.goal()[*job].makes();
            panel.is_some_and(|panel| plain.goal()[panel].spec == 1)
        };
        let jobs = plain.goal().order.iter().copied().filter(of_insert);
        let done = Step(50);
        let (jobs, rounds) = (jobs.take(INSERT_FACES).collect(), 2);
        let smaller = plain.amended(done, &Amendment::Rounds { jobs, rounds });
        for seq in [&plain, &smaller.unwrap()] {
            for tetrahedra in [6, 10] {
                let other = seq
                    .amended(done, &Amendment::Tetrahedra(tetrahedra))
                    .unwrap();
                assert_proved(&other);
                let slipped = other.iter().filter(|m| m.kind == Kind::Own);
                assert_eq!(slipped.count(), usize::from(tetrahedra));
                let rounds = |seq: &Sequence| {
                    let of_insert = seq.goal().panels.iter().filter(|panel| panel.spec == 1);
                    of_insert.map(|panel| panel.rounds).collect::<Vec<_>>()
                };
                assert_eq!(rounds(&other)[..18], rounds(seq)[..18]);
            }
        }
    }

    /// An insert is slipped in when its last end is woven in.
    #[test]
    fn an_insert_is_slipped_in_without_a_needle() {
        let seq = Sequence::new(testing::with_insert(Solid::Tetrahedron, 5, 3));
        let last: Vec<Kind> = seq.iter().map(|m| m.kind).collect();
        assert!(last.ends_with(&[Kind::EndThread, Kind::Own]), "{last:?}");
        // Nor is an end woven in twice, wherever the piece is opened again.
        for done in (seq.steps() - 4..=seq.steps()).map(Step) {
            assert!(
                Sequence::from_work(seq.work().at(done))
                    .iter()
                    .eq(seq.iter())
            );
        }
        let length = seq.thread_lengths().last().unwrap();
        assert_eq!(length.last, Step(seq.steps() - 1));
        assert!(length.sewn < length.last);
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
