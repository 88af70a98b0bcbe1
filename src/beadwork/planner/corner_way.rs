//! The needle's way through a corner of a filled opening.
//!
//! The last bead of a fill's side and the first of its next side lie at one
//! corner. Between them the needle goes through beads that are there, into
//! the first at the corner and out of the last at the corner again:
//!
//! - tip beads, where the rim has them;
//! - a corner bead, whose both ends lie there;
//! - else down one side of the seam between the two rim panels and up the
//!   other: the bead that ends the side before, and the one zipped beside it;
//! - where no such seam leads from the corner, round the first join bead of a
//!   seam that does: down the last bead of the side before, through the join
//!   bead and a bead of the round inside, up the first bead of the next side.
//!
//! ```text
//!   … x4 ]   [ x1 …      the fill, its corner in the middle
//!       ↓     ↑
//!      [ ] r [ ]         the first bead on either side of the seam, and the
//!      [ ] r [ ]         last join bead r between them
//! ```
//!
//! All of these belong to the solid that the fill closes ([`OwnSolid`]): at a
//! hinge two solids meet, and a face is sewn to its own only.
//!
//! A fill that ends in corner beads itself has one bead at the corner; there
//! the needle just goes on into the next side's join bead.

use super::Planner;
use super::own_solid::OwnSolid;
use crate::beadwork::end::Hole;
use crate::beadwork::number::{Bead, Panel, Side};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::route;
use crate::beadwork::seams::{Corner, Direction};

/// Holes looked at for a way through a corner: a few beads lead round.
const AT_HAND: usize = 500;

/// Which beads a fill's corners are sewn through where two solids meet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CornerRule {
    /// Those of the solid that the fill closes.
    #[default]
    OwnSolid,
    /// Those next to the rim, be they of the solid across the hinge. Pieces
    /// were planned so once, and are sewn as they were planned.
    AcrossHinge,
}

impl Planner {
    /// The way at the corner behind each side of a rim: the ends by which the
    /// needle leaves the beads.
    pub(super) fn corner_ways(&self, fill: SpecIndex, rim: &[(Panel, Side)]) -> Vec<Vec<Hole>> {
        let way = |nth: usize| {
            let next = rim[(nth + 1) % rim.len()];
            if self.layout().ends_in_corner_beads(fill) {
                return vec![Hole::back(self.last_join_bead(next))];
            }
            let own = match self.corner_rule {
                CornerRule::OwnSolid => OwnSolid::at(self.layout(), &self.work.seams, rim, nth),
                CornerRule::AcrossHinge => None,
            };
            self.corner_way(rim[nth], next, own.as_ref())
        };
        (0..rim.len()).map(way).collect()
    }

    fn last_join_bead(&self, (panel, side): (Panel, Side)) -> Bead {
        let row = self.layout().row_on(panel, side);
        let row = row.expect("a rim is made of join rows");
        self.layout()
            .row_bead(row, self.layout().row(row).beads - 1)
    }

    /// From the start of one rim side to the end of the next, through beads of
    /// one solid only if that is given.
    fn corner_way(
        &self,
        (panel, side): (Panel, Side),
        next: (Panel, Side),
        own: Option<&OwnSolid>,
    ) -> Vec<Hole> {
        let layout = self.layout();
        let is_own =
            |hole: &Hole| own.is_none_or(|own| own.has(layout, &self.work.seams, hole.bead));
        let before = layout.kind(panel).side_before(side);
        let tips = [(panel, before), next];
        let tips = tips
            .into_iter()
            .filter_map(|(p, s)| layout.tips_after(p, s))
            .flat_map(|(first, last)| (first.0..=last.0).rev().map(|b| Hole::back(Bead(b))))
            .filter(is_own);
        let tips: Vec<Hole> = tips.collect();
        if !tips.is_empty() {
            return tips;
        }
        let end = layout.edge_end(panel, before);
        let after = layout.kind(next.0).next_side(next.1);
        let begin = Hole::back(layout.edge_bead(next.0, after, 0));
        let corner_bead = (end == layout.edge_bead(panel, side, 0)).then(|| vec![Hole::back(end)]);
        let down = self.beside_end(panel, before);
        let down = down.map(|beside| vec![Hole::back(end), beside]);
        let up = self.beside_start(next.0, after);
        let up = up.map(|beside| vec![beside, begin]);
        let mut by_the_rim = [corner_bead, down, up].into_iter().flatten();
        by_the_rim
            .find(|way| way.iter().all(is_own))
            .or_else(|| {
                let ends = [end, layout.edge_end(next.0, next.1)];
                let mut ends = ends.into_iter().map(Hole::front).filter(is_own);
                ends.find_map(|into| self.round_a_join_bead(into, next, own?))
            })
            // The rim is not sewn together here; no bead leads round.
            .unwrap_or_else(|| vec![begin])
    }

    /// From an end at a corner the shortest way out at that corner again by
    /// another bead.
    fn round_a_join_bead(&self, into: Hole, corner: Corner, own: &OwnSolid) -> Option<Vec<Hole>> {
        let at_corner = self.work.corner_holes(corner);
        let is_own = |bead| own.has(self.layout(), &self.work.seams, bead);
        let arrives = |hole: Hole| hole.bead != into.bead && at_corner.contains(&hole);
        let from = into.through();
        let way = route::shortest_within(self.work.touching(), from, AT_HAND, is_own, arrives)?;
        Some([vec![from], way].concat())
    }

    /// The end at the corner of the bead zipped beside the last bead of a side.
    fn beside_end(&self, panel: Panel, side: Side) -> Option<Hole> {
        let (other, at, way) = self.zipped_beside(panel, side)?;
        Some(match way {
            Direction::Against => Hole::back(self.layout().edge_bead(other, at, 0)),
            Direction::With => Hole::front(self.layout().edge_end(other, at)),
        })
    }

    /// The inner end of the bead zipped beside the first bead of a side: the
    /// needle goes into it at the corner.
    fn beside_start(&self, panel: Panel, side: Side) -> Option<Hole> {
        let (other, at, way) = self.zipped_beside(panel, side)?;
        Some(match way {
            Direction::Against => Hole::back(self.layout().edge_end(other, at)),
            Direction::With => Hole::front(self.layout().edge_bead(other, at, 0)),
        })
    }

    /// A side that lies along a seam with this one, and how it runs beside it.
    fn zipped_beside(&self, panel: Panel, side: Side) -> Option<(Panel, Side, Direction)> {
        if let Some((row, way)) = self.work.seams.row_of((panel, side)) {
            let row = self.layout().row(row);
            return Some((row.panel, row.side, way));
        }
        let row = self.layout().row_on(panel, side)?;
        let members = self.work.seams.sides_of(row);
        let against = members.iter().find(|m| m.2 == Direction::Against);
        against.or(members.first()).copied()
    }
}
