//! The needle's way through a corner of a filled opening.
//!
//! The last bead of a fill's side and the first of its next side lie at one
//! corner. Between them the needle goes through beads that are there, into
//! the first at the corner and out of the last at the corner again:
//!
//! - tip beads, where the rim has them;
//! - a corner bead, whose both ends lie there;
//! - else down one side of the seam between the two rim panels and up the
//!   other: the bead that ends the side before, and the one zipped beside it.
//!
//! ```text
//!   … x4 ]   [ x1 …      the fill, its corner in the middle
//!       ↓     ↑
//!      [ ] r [ ]         the first bead on either side of the seam, and the
//!      [ ] r [ ]         last join bead r between them
//! ```
//!
//! A fill that ends in corner beads itself has one bead at the corner; there
//! the needle just goes on into the next side's join bead.

use super::Planner;
use crate::beadwork::end::Hole;
use crate::beadwork::number::{Bead, Panel, Side};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::seams::Direction;

impl Planner {
    /// The way at the corner behind each side of a rim: the ends by which the
    /// needle leaves the beads.
    pub(super) fn corner_ways(&self, fill: SpecIndex, rim: &[(Panel, Side)]) -> Vec<Vec<Hole>> {
        let next = |nth: usize| rim[(nth + 1) % rim.len()];
        let at = |(nth, &side): (usize, &(Panel, Side))| {
            if self.layout().ends_in_corner_beads(fill) {
                vec![Hole::back(self.last_join_bead(next(nth)))]
            } else {
                self.corner_way(side, next(nth))
            }
        };
        rim.iter().enumerate().map(at).collect()
    }

    fn last_join_bead(&self, (panel, side): (Panel, Side)) -> Bead {
        let row = self.layout().row_on(panel, side);
        let row = row.expect("a rim is made of join rows");
        self.layout()
            .row_bead(row, self.layout().row(row).beads - 1)
    }

    /// From the start of one rim side to the end of the next.
    fn corner_way(&self, (panel, side): (Panel, Side), next: (Panel, Side)) -> Vec<Hole> {
        let layout = self.layout();
        let before = layout.kind(panel).side_before(side);
        let tips = [(panel, before), next];
        let tips = tips
            .into_iter()
            .filter_map(|(p, s)| layout.tips_after(p, s))
            .flat_map(|(first, last)| (first.0..=last.0).rev().map(|b| Hole::back(Bead(b))));
        let tips: Vec<Hole> = tips.collect();
        if !tips.is_empty() {
            return tips;
        }
        let end = layout.edge_end(panel, before);
        if end == layout.edge_bead(panel, side, 0) {
            return vec![Hole::back(end)];
        }
        if let Some(beside) = self.beside_end(panel, before) {
            return vec![Hole::back(end), beside];
        }
        let after = layout.kind(next.0).next_side(next.1);
        let begin = Hole::back(layout.edge_bead(next.0, after, 0));
        match self.beside_start(next.0, after) {
            Some(beside) => vec![beside, begin],
            // The rim is not sewn together here; no bead leads round.
            None => vec![begin],
        }
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
