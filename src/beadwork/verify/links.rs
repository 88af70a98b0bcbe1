//! Bead ends that thread has drawn together.

use super::end::BeadEnd;
use std::collections::HashMap;

/// The ends to which each end has been drawn. Most have one or two such
/// neighbours, which are kept in a flat table; those at edges and corners have
/// more.
#[derive(Debug)]
pub(super) struct Links {
    near: Vec<[u32; 2]>,
    more: HashMap<u32, Vec<u32>>,
}

impl Links {
    /// For beads numbered up to `beads`.
    pub fn new(beads: u32) -> Self {
        Links {
            near: vec![[0; 2]; 2 * (beads as usize + 1)],
            more: HashMap::new(),
        }
    }

    /// Draws two ends together. Ends of beads that the piece does not have are
    /// ignored.
    pub fn join(&mut self, a: BeadEnd, b: BeadEnd) {
        let all = self.near.len();
        let known = a.index() < all && b.index() < all;
        if known && a != b && !self.are_joined(a, b) {
            self.add(a, b);
            self.add(b, a);
        }
    }

    fn add(&mut self, a: BeadEnd, b: BeadEnd) {
        // No bead has the number 0, so 0 is an empty place.
        let near = &mut self.near[a.index()];
        match near.iter().position(|&n| n == 0) {
            Some(free) => near[free] = b.number(),
            None => self.more.entry(a.number()).or_default().push(b.number()),
        }
    }

    /// The ends drawn to an end.
    pub fn of(&self, end: BeadEnd) -> impl Iterator<Item = BeadEnd> + '_ {
        let near = self.near.get(end.index()).copied().unwrap_or_default();
        let more = match near[1] {
            0 => None,
            _ => self.more.get(&end.number()),
        };
        near.into_iter()
            .filter(|&n| n != 0)
            .chain(more.into_iter().flatten().copied())
            .map(BeadEnd::from_number)
    }

    /// Whether two ends were drawn together.
    pub fn are_joined(&self, a: BeadEnd, b: BeadEnd) -> bool {
        self.of(a).any(|end| end == b)
    }

    /// Whether two ends lie at the same place against a third.
    pub fn meet_at_a_third(&self, a: BeadEnd, b: BeadEnd) -> bool {
        self.of(a).any(|third| self.are_joined(third, b))
    }
}
