//! Corners of panels, and which of them have come together.

use super::end::BeadEnd;
use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::HashMap;

/// The corner at the end of a panel's side.
pub(super) type PanelCorner = (Panel, Side);

/// Groups of corners that lie together.
#[derive(Debug, Default)]
pub(super) struct Corners {
    ids: HashMap<PanelCorner, u32>,
    /// For each corner, another one of its group, or itself if it represents
    /// the group.
    towards: Vec<u32>,
    /// The bead ends at each group, by the corner that represents it.
    ends: Vec<Vec<BeadEnd>>,
    /// The corners at which a bead end lies.
    at: HashMap<BeadEnd, Vec<u32>>,
    /// A bit for each end that lies at a corner. Few ends do, but every pass
    /// asks.
    marks: Vec<u64>,
}

impl Corners {
    fn id(&mut self, corner: PanelCorner) -> u32 {
        let next = self.towards.len() as u32;
        let id = *self.ids.entry(corner).or_insert(next);
        if id == next {
            self.towards.push(id);
            self.ends.push(vec![]);
        }
        id
    }

    /// Lays a bead end at a corner.
    pub fn add(&mut self, end: BeadEnd, corner: PanelCorner) {
        let id = self.id(corner);
        self.at.entry(end).or_default().push(id);
        let group = self.group(id) as usize;
        self.ends[group].push(end);
        let word = end.index() / 64;
        if self.marks.len() <= word {
            self.marks.resize(word + 1, 0);
        }
        self.marks[word] |= 1 << (end.index() % 64);
    }

    /// Brings two corners together.
    pub fn meet(&mut self, a: PanelCorner, b: PanelCorner) {
        let (a, b) = (self.id(a), self.id(b));
        let (a, b) = (self.group(a), self.group(b));
        if a == b {
            return;
        }
        // The smaller group is added to the larger, so that paths to the
        // representative stay short.
        let is_larger = self.ends[a as usize].len() > self.ends[b as usize].len();
        let (a, b) = if is_larger { (b, a) } else { (a, b) };
        self.towards[a as usize] = b;
        let moved = std::mem::take(&mut self.ends[a as usize]);
        self.ends[b as usize].extend(moved);
    }

    /// Leaves out the corners of a panel that lies inside another.
    pub fn forget(&mut self, panel: Panel) {
        self.ids.retain(|(of, _), _| *of != panel);
    }

    /// The number of the group to which a corner belongs; `None` if no bead
    /// lies there.
    pub fn group_of(&self, corner: PanelCorner) -> Option<u32> {
        self.ids.get(&corner).map(|&id| self.group(id))
    }

    fn group(&self, mut id: u32) -> u32 {
        while self.towards[id as usize] != id {
            id = self.towards[id as usize];
        }
        id
    }

    fn is_marked(&self, end: BeadEnd) -> bool {
        let word = self.marks.get(end.index() / 64).copied().unwrap_or(0);
        word >> (end.index() % 64) & 1 == 1
    }

    fn groups_at(&self, end: BeadEnd) -> impl Iterator<Item = u32> + '_ {
        let at = self.at.get(&end).map_or(&[][..], Vec::as_slice);
        at.iter().map(|&id| self.group(id))
    }

    /// Whether two ends lie at corners that have come together.
    pub fn lie_together(&self, a: BeadEnd, b: BeadEnd) -> bool {
        let share = |group| self.groups_at(b).any(|other| other == group);
        self.is_marked(a) && self.is_marked(b) && self.groups_at(a).any(share)
    }

    /// Whether an end lies at a corner or at one that has come together with
    /// it.
    pub fn is_at(&self, end: BeadEnd, corner: PanelCorner) -> bool {
        self.ids.get(&corner).is_some_and(|&id| {
            let group = self.group(id);
            self.groups_at(end).any(|other| other == group)
        })
    }

    /// Whether two corners have come together.
    pub fn are_together(&self, a: PanelCorner, b: PanelCorner) -> bool {
        match (self.ids.get(&a), self.ids.get(&b)) {
            (Some(&a), Some(&b)) => self.group(a) == self.group(b),
            _ => false,
        }
    }

    /// How many corners lie in each group, counting only corners of some
    /// panels.
    pub fn group_sizes(&self, counted: impl Fn(Panel) -> bool) -> Vec<usize> {
        let mut sizes: HashMap<u32, usize> = HashMap::new();
        for (_, &id) in self.ids.iter().filter(|((panel, _), _)| counted(*panel)) {
            *sizes.entry(self.group(id)).or_default() += 1;
        }
        sizes.into_values().collect()
    }

    /// The beads whose ends lie at a corner or at one that has come together
    /// with it.
    pub fn beads_at(&self, corner: PanelCorner) -> Vec<Bead> {
        let group = self.group_of(corner);
        let ends = group.map_or(&[][..], |group| &self.ends[group as usize]);
        ends.iter().map(|end| end.bead()).collect()
    }
}
