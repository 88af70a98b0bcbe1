//! The needle's path through a corner of a filled opening.
//!
//! The last bead of a side of the fill and the first bead of its next side lie
//! at one corner. Between them the needle goes through beads that are already
//! there, into the first at the corner and out of the last at the corner again:
//!
//! - tip beads, where the rim has them;
//! - a corner bead, both of whose ends lie there;
//! - otherwise down one side of the seam between the two rim panels and up the
//!   other: the bead that ends the previous side, and the one zipped next to it;
//! - where no such seam leads from the corner, round the first join bead of a
//!   seam that does: down the last bead of the previous side, through the join
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
//! hinge two solids meet, and a face is sewn only to its own. At an edge of a solid
//! the sides of two faces meet, at a hinge those of more. So starting at the fill and
//! going from panel to panel round the corner, its solid continues as long as edges
//! have two sides. Sides meet at an edge when both their ends have come together,
//! whether they are locked into one row or lie side by side where a net is folded.
//!
//! A fill that ends in corner beads has one bead at the corner; there the
//! needle simply goes on into the next side's join bead.

use super::{PlanRule, Planner};
use crate::beadwork::layout::RowIndex;
use crate::beadwork::route;
use crate::beadwork::{
    Bead, Corner, Direction, Hole, Layout, Panel, Part, RimSide, Seams, Side, SpecIndex,
};

/// Holes tried in search of a path through a corner: a few beads are enough.
const AT_HAND: usize = 500;

impl Planner {
    /// The path at the corner after each side of a rim: the ends by which the
    /// needle leaves the beads.
    pub(super) fn corner_ways(&self, fill: SpecIndex, rim: &[Corner]) -> Vec<Vec<Hole>> {
        let rim = self.work.rim_sides(rim);
        let way = |nth: usize| {
            let next = rim[(nth + 1) % rim.len()];
            if self.layout().ends_in_corner_beads(fill) {
                return vec![self.first_join_bead(next)];
            }
            let own = match self.plan_rule {
                PlanRule::AcrossHinge => None,
                _ => OwnSolid::at(self.layout(), &self.work.seams, &rim, nth),
            };
            self.corner_way(rim[nth], next, own.as_ref())
        };
        (0..rim.len()).map(way).collect()
    }

    fn first_join_bead(&self, on: RimSide) -> Hole {
        let row = self.layout().row_on(on.panel, on.side);
        let row = row.expect("a rim is made of join rows");
        let first = on.nth(0, self.layout().row(row).beads);
        on.leaving(self.layout().row_bead(row, first))
    }

    /// From the end of one rim side to the start of the next; if a solid is
    /// given, only through its beads.
    fn corner_way(&self, on: RimSide, next: RimSide, own: Option<&OwnSolid>) -> Vec<Hole> {
        let layout = self.layout();
        let is_own =
            |hole: &Hole| own.is_none_or(|own| own.has(layout, &self.work.seams, hole.bead));
        let ([_, from], [to, _]) = (layout.rim_corners(on), layout.rim_corners(next));
        // Two sides of one panel have a corner and its tip beads in common.
        let other = (to != from).then_some((next, to));
        let tips = std::iter::once((on, from)).chain(other);
        let tips = tips.flat_map(|(side, corner)| {
            let tips = layout.tips_after(corner);
            let of = tips.len() as u32;
            (0..of).map(move |nth| side.leaving(tips[side.nth(nth, of) as usize]))
        });
        let tips: Vec<Hole> = tips.filter(is_own).collect();
        if !tips.is_empty() {
            return tips;
        }
        // The end at the corner of the bead before the side that continues from
        // it, and of the bead that the next side follows.
        let (into, out) = (self.beyond(on, from), self.beyond(next, to));
        let own_end = self.own_end(on, from).bead;
        let corner_bead = (into.bead == own_end).then(|| vec![into.through()]);
        let down = self.beside(on, from);
        let down = down.map(|beside| vec![into.through(), beside]);
        let up = self.beside(next, to);
        let up = up.map(|beside| vec![beside.through(), out]);
        let mut by_the_rim = [corner_bead, down, up].into_iter().flatten();
        by_the_rim
            .find(|way| way.iter().all(is_own))
            .or_else(|| {
                let mut ends = [into, self.own_end(next, to)].into_iter().filter(is_own);
                ends.find_map(|into| self.round_a_join_bead(into, to, own?))
            })
            // The rim is not sewn together here, so no beads lead round.
            .unwrap_or_else(|| vec![out])
    }

    /// Which other side of a rim side's panel ends or starts at one of its
    /// corners, and whether it starts there.
    fn side_beyond(&self, on: RimSide, corner: Corner) -> (Side, bool) {
        let kind = self.layout().kind(on.panel);
        match corner.1 == on.side {
            true => (kind.next_side(on.side), true),
            false => (kind.side_before(on.side), false),
        }
    }

    /// The end at a corner of the first or last bead of the side beyond it.
    fn beyond(&self, on: RimSide, corner: Corner) -> Hole {
        match self.side_beyond(on, corner) {
            (side, true) => Hole::back(self.layout().edge_bead(on.panel, side, 0)),
            (side, false) => Hole::front(self.layout().edge_end(on.panel, side)),
        }
    }

    /// The end at a corner of the first or last bead of the rim side itself.
    fn own_end(&self, on: RimSide, corner: Corner) -> Hole {
        match corner.1 == on.side {
            true => Hole::front(self.layout().edge_end(on.panel, on.side)),
            false => Hole::back(self.layout().edge_bead(on.panel, on.side, 0)),
        }
    }

    /// The shortest path from an end at a corner, out at that corner again by
    /// another bead.
    fn round_a_join_bead(&self, into: Hole, corner: Corner, own: &OwnSolid) -> Option<Vec<Hole>> {
        let at_corner = self.work.corner_holes(corner);
        let is_own = |bead| own.has(self.layout(), &self.work.seams, bead);
        let arrives = |hole: Hole| hole.bead != into.bead && at_corner.contains(&hole);
        let from = into.through();
        let way = route::shortest_within(self.work.touching(), from, AT_HAND, is_own, arrives)?;
        Some([vec![from], way].concat())
    }

    /// The end at a corner of the bead that is zipped next to the one beyond
    /// it.
    fn beside(&self, on: RimSide, corner: Corner) -> Option<Hole> {
        let (side, starts) = self.side_beyond(on, corner);
        let (other, at, way) = self.zipped_beside(on.panel, side)?;
        let beside = match starts == (way == Direction::With) {
            true => Hole::back(self.layout().edge_bead(other, at, 0)),
            false => Hole::front(self.layout().edge_end(other, at)),
        };
        // Where the first gap of the seam is empty, the two do not touch.
        let beyond = self.beyond(on, corner).through();
        let next = route::next_holes(self.work.touching(), beyond);
        next.contains(&beside.through()).then_some(beside)
    }

    /// A side that lies along a seam with this one, and its direction relative
    /// to it.
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

/// The panels at a corner of an opening that belong to the fill's solid.
#[derive(Debug)]
struct OwnSolid {
    panels: Vec<Panel>,
    /// The rows on which the fill is worked at the corner.
    rows: Vec<RowIndex>,
}

impl OwnSolid {
    /// At the corner between rim side `nth` and the next one. `None` if the
    /// fill is sewn only to hinges there.
    fn at(layout: &Layout, seams: &Seams, rim: &[RimSide], nth: usize) -> Option<OwnSolid> {
        let [_, corner] = layout.rim_corners(rim[nth]);
        let rim: Vec<Corner> = rim.iter().map(|side| (side.panel, side.side)).collect();
        let sides = [rim[nth], rim[(nth + 1) % rim.len()]];
        // Where only the fill is still to come, the side belongs to its solid.
        let is_alone = |side: &(Panel, Side)| sides_along(layout, seams, *side).len() == 1;
        let alone = sides.into_iter().filter(is_alone);
        let mut panels: Vec<Panel> = alone.map(|(panel, _)| panel).collect();
        let mut seen = 0;
        while let Some(&panel) = panels.get(seen) {
            seen += 1;
            let here = seams.together(corner).iter().filter(|c| c.0 == panel);
            let of_corner = |c: &Corner| [c.1, layout.kind(panel).next_side(c.1)];
            for side in here.flat_map(of_corner) {
                let along = sides_along(layout, seams, (panel, side));
                if along.len() == 2 && !along.iter().any(|side| rim.contains(side)) {
                    let new = along.iter().map(|&(p, _)| p);
                    let new: Vec<Panel> = new.filter(|p| !panels.contains(p)).collect();
                    panels.extend(new);
                }
            }
        }
        let row = |(panel, side)| layout.row_on(panel, side);
        (!panels.is_empty()).then(|| OwnSolid {
            panels,
            rows: sides.into_iter().filter_map(row).collect(),
        })
    }

    /// Whether a bead belongs to this solid; a row between two solids belongs
    /// to both.
    fn has(&self, layout: &Layout, seams: &Seams, bead: Bead) -> bool {
        let seat = layout.seat(bead);
        let is_own = |panel: &Panel| self.panels.contains(panel);
        match seat.part {
            Part::Face => is_own(&seat.panel),
            Part::JoinRow(row) | Part::Tip(row) => {
                let zipped = || seams.sides_of(row).iter().any(|(p, _, _)| is_own(p));
                self.rows.contains(&row) || is_own(&seat.panel) || zipped()
            }
        }
    }
}

/// The sides that run between the same two corners as this one, including
/// itself.
fn sides_along(layout: &Layout, seams: &Seams, (panel, side): (Panel, Side)) -> Vec<(Panel, Side)> {
    let [start, end] = layout.ends((panel, side));
    let mut found = vec![];
    for &(p, s) in seams.all_at(&start) {
        let kind = layout.kind(p);
        let (before, next) = (kind.side_before(s), kind.next_side(s));
        // Of the two sides at a corner, one arrives and one leaves.
        if seams.are_together((p, before), end) {
            found.push((p, s));
        }
        if seams.are_together((p, next), end) {
            found.push((p, next));
        }
    }
    found
}
