//! More or fewer tetrahedra in a ring that is not closed yet.

use super::Amendment;
use crate::beadwork::goal::Goal;
use crate::beadwork::project::{Make, Project};
use crate::beadwork::rules::Refusal;
use crate::beadwork::work::Work;

impl Work {
    /// The ring with two tetrahedra more, and with two fewer, where that can be.
    pub(super) fn ring_changes(&self) -> Vec<Amendment> {
        let Make::Ring { tetrahedra, .. } = self.layout.project().make else {
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

    /// The same ring of another number of tetrahedra. What is begun must be a
    /// part of it, and nothing else may be meant otherwise than by the pattern.
    fn ring_of(&self, tetrahedra: u16) -> Result<(Project, Goal), Refusal> {
        let mut project = self.layout.project().clone();
        let kinds = self.layout.shared_kinds();
        let meant = Goal::of(&project, &kinds);
        let Make::Ring { tetrahedra: n, .. } = &mut project.make else {
            return Err(Refusal::NoRing);
        };
        if tetrahedra == *n || tetrahedra % 2 == 1 || !(6..=1000).contains(&tetrahedra) {
            return Err(Refusal::NoSuchRing);
        }
        *n = tetrahedra;
        let goal = self.goal();
        if (&goal.order, &goal.jobs, &goal.made) != (&meant.order, &meant.jobs, &meant.made) {
            return Err(Refusal::OtherChanges);
        }
        let mut new = Goal::of(&project, &kinds);
        new.take_colours_of(goal);
        new.threads.clone_from(&goal.threads);
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
