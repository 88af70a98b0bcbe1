//! The gaps of a rim, and the beads that the first round of a fill has in them.
//!
//! ```text
//!   corner  x1   x2 x3   x4    corner       beads of the fill
//!      | 0 |   | 1     |     2   |          gaps of the side
//!          [j1]        [j2]                 join beads of the rim
//! ```
//!
//! Gaps and beads are counted from 0 in the order in which they are worked,
//! all round the rim. A fill that ends in corner beads has those in the last
//! gap of each side, between two join beads.

use super::Layout;
use crate::beadwork::end::End;
use crate::beadwork::number::{Bead, Panel, Round, Side};
use crate::beadwork::own_rounds::first_round_made;
use crate::beadwork::panel::PanelLayout;
use std::ops::Range;
use std::sync::Arc;

/// The gaps of a rim.
#[derive(Clone, Debug)]
pub struct RimGaps {
    /// Gaps of each side.
    pub per_side: u32,
    sides: u32,
    /// Whether corner beads end its sides.
    corner_beads: bool,
    /// Beads before each gap, and in all, if not one lies in each.
    own: Option<Arc<[u32]>>,
}

impl RimGaps {
    /// The gaps that the first round of a fill of this kind is worked in.
    fn of(kind: &PanelLayout, own: Option<Arc<[u32]>>) -> RimGaps {
        let sides = u32::from(kind.sides());
        RimGaps {
            per_side: kind.in_round(kind.last()) / sides,
            sides,
            corner_beads: kind.corner(kind.last()) == 1,
            own,
        }
    }

    /// Beads in the gaps before one, which may be one past the last.
    pub fn before(&self, gap: u32) -> u32 {
        match &self.own {
            Some(own) => own[gap as usize],
            None => gap,
        }
    }

    /// The beads in a gap, in the order in which they are strung.
    pub fn in_gap(&self, gap: u32) -> Range<u32> {
        self.before(gap)..self.before(gap + 1)
    }

    /// All gaps.
    pub fn all(&self) -> u32 {
        self.per_side * self.sides
    }

    /// The gap that a bead lies in.
    pub fn gap_of(&self, bead: u32) -> u32 {
        match &self.own {
            Some(own) => own.partition_point(|before| *before <= bead) as u32 - 1,
            None => bead,
        }
    }

    /// Whether a gap lies at a corner.
    pub fn is_at_corner(&self, gap: u32) -> bool {
        let place = gap % self.per_side;
        place == 0 || place + 1 == self.per_side
    }

    /// The gaps that hold other than one bead: side, place of the gap on it, and
    /// beads.
    pub fn uneven(&self) -> impl Iterator<Item = (Side, u32, u32)> + '_ {
        let gaps = (0..self.all()).filter(|gap| self.in_gap(*gap).len() != 1);
        gaps.map(|gap| {
            let side = Side((gap / self.per_side) as u8);
            (side, gap % self.per_side, self.in_gap(gap).len() as u32)
        })
    }

    /// The join bead at an end of a gap: its side, and its number along it in
    /// the order of the fill. None at the corners of a fill without corner beads.
    pub(in crate::beadwork) fn join_at(&self, gap: u32, end: End) -> Option<(Side, u32)> {
        let (side, place) = (gap / self.per_side, gap % self.per_side);
        let corner = u32::from(self.corner_beads);
        let (side, nth) = match end {
            End::Back => (side, (place + corner).checked_sub(1)?),
            End::Front if place + 1 < self.per_side => (side, place + corner),
            End::Front if self.corner_beads => ((side + 1) % self.sides, 0),
            End::Front => return None,
        };
        Some((Side(side as u8), nth))
    }

    /// The gap at an end of a join bead, which has this number along its side.
    pub(in crate::beadwork) fn gap_at(&self, side: Side, nth: u32, end: End) -> u32 {
        let behind = u32::from(side.0) * self.per_side + nth + u32::from(!self.corner_beads);
        let back = u32::from(end == End::Back);
        (behind + self.all() - back) % self.all()
    }
}

impl Layout {
    /// The gaps of the rim that a fill stands on.
    pub fn rim_gaps(&self, fill: Panel) -> RimGaps {
        if let Some(own) = &self.panel(fill).rim_gaps {
            return own.clone();
        }
        RimGaps::of(self.kind(fill), None)
    }

    /// Finds the gaps of a fill of which the first round holds other than was
    /// meant.
    pub(super) fn find_rim_gaps(&self, fill: Panel) -> RimGaps {
        let (_, base) = self.as_meant(fill);
        let begin = self.making(fill).begin;
        let mut held = vec![0; base.in_round(base.last()) as usize];
        let mut gap = 0;
        for meant in first_round_made(&base, begin, &self.changes(fill)) {
            gap = meant.unwrap_or(gap);
            held[gap as usize] += 1;
        }
        let mut before = vec![0];
        held.into_iter()
            .for_each(|beads: u32| before.push(before[before.len() - 1] + beads));
        RimGaps::of(&base, Some(before.into()))
    }

    /// Whether a round of a panel is the first of a fill, worked on its rim.
    pub(in crate::beadwork) fn is_rim_round(&self, panel: Panel, round: Round) -> bool {
        self.panel(panel).rim.is_some() && round == self.kind(panel).last()
    }

    /// A bead of a fill's first round, from 0 in the order in which they are
    /// strung.
    pub fn rim_round_bead(&self, fill: Panel, nth: u32) -> Bead {
        let kind = self.kind(fill);
        let start = self.making(fill).start(kind.last());
        let index = (start + nth) % kind.in_round(kind.last());
        self.bead(fill, kind.last(), index)
    }

    /// A join bead of the rim that a fill stands on, by its side and its number
    /// along that in the order of the fill.
    pub(in crate::beadwork) fn rim_join(
        &self,
        fill: Panel,
        (side, nth): (Side, u32),
    ) -> Option<Bead> {
        let on = self.rim(self.panel(fill).rim?)[side.index()];
        let row = self.row_on(on.panel, on.side)?;
        let beads = self.row(row).beads;
        (nth < beads).then(|| self.row_bead(row, on.nth(nth, beads)))
    }
}
