//! The part at one corner of an opening of the solid that a fill closes.
//!
//! At an edge of a solid the sides of two faces meet. At a hinge the sides of
//! more faces meet, because two solids share that edge. So starting at the fill
//! and going from panel to panel round the corner, its solid continues as long
//! as edges have two sides. Sides meet at an edge when both their ends have
//! come together, whether they are locked into one row or lie side by side
//! where a net is folded.
//! are locked into one row or lie side by side where a net is folded.

use crate::beadwork::layout::{Layout, Part, RimSide, RowIndex};
use crate::beadwork::number::{Bead, Panel, Side};
use crate::beadwork::seams::{Corner, Seams};

/// The panels at a corner of an opening that belong to the fill's solid.
#[derive(Debug)]
pub(super) struct OwnSolid {
    panels: Vec<Panel>,
    /// The rows on which the fill is worked at the corner.
    rows: Vec<RowIndex>,
}

impl OwnSolid {
    /// At the corner between rim side `nth` and the next one. `None` if the
    /// fill is sewn only to hinges there.
    pub fn at(layout: &Layout, seams: &Seams, rim: &[RimSide], nth: usize) -> Option<OwnSolid> {
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
    pub fn has(&self, layout: &Layout, seams: &Seams, bead: Bead) -> bool {
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
    let start = (panel, layout.kind(panel).side_before(side));
    let end = (panel, side);
    let alone = [start];
    let at_start = match seams.together(start) {
        [] => &alone[..],
        together => together,
    };
    let mut found = vec![];
    for &(p, s) in at_start {
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
