//! Values that belong to a place in the work: notes, threads that the maker
//! started.

use std::collections::BTreeMap;
use std::ops::Deref;

use crate::beadwork::Step;
use crate::beadwork::sequence::Anchor;

/// Values by the number of steps done at their place. The journal stores the
/// place as an anchor, which stays right when the plan changes; journals of
/// earlier builds have only the number.
#[derive(Clone, Debug, PartialEq)]
pub struct Anchored<T> {
    recorded: Vec<(u32, Option<Anchor>, T)>,
    by_step: BTreeMap<u32, T>,
}

impl<T> Default for Anchored<T> {
    fn default() -> Self {
        Anchored {
            recorded: Vec::new(),
            by_step: BTreeMap::new(),
        }
    }
}

impl<T> Deref for Anchored<T> {
    type Target = BTreeMap<u32, T>;

    fn deref(&self) -> &BTreeMap<u32, T> {
        &self.by_step
    }
}

impl<T: Clone> Anchored<T> {
    /// Sets the value at a place; `None` removes it.
    pub(super) fn set(&mut self, step: u32, at: Option<Anchor>, value: Option<T>) {
        self.recorded.retain(|(old, place, _)| match (place, at) {
            (Some(place), Some(at)) => *place != at,
            _ => *old != step,
        });
        self.by_step.remove(&step);
        if let Some(value) = value {
            self.by_step.insert(step, value.clone());
            self.recorded.push((step, at, value));
        }
    }

    /// Updates the steps for a new plan, in which `step_at` gives the step of
    /// each place.
    pub(super) fn update_steps(&mut self, step_at: impl Fn(Anchor) -> Step) {
        let step = |(step, at, value): &(u32, Option<Anchor>, T)| {
            (at.map_or(*step, |at| step_at(at).0), value.clone())
        };
        self.by_step = self.recorded.iter().map(step).collect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_stays_at_its_place_when_steps_move() {
        let at = |bead| Some(Anchor { bead, then: 0 });
        let mut notes = Anchored::default();
        notes.set(5, at(4), Some("loose"));
        notes.set(9, None, Some("old"));
        notes.update_steps(|place| Step(place.bead + 3));
        assert_eq!(*notes, BTreeMap::from([(7, "loose"), (9, "old")]));
        // Set again at its place, which has another step now.
        notes.set(7, at(4), Some("firm"));
        notes.update_steps(|place| Step(place.bead + 1));
        assert_eq!(*notes, BTreeMap::from([(5, "firm"), (9, "old")]));
        notes.set(9, at(8), None);
        assert_eq!(notes.len(), 1);
    }
}
