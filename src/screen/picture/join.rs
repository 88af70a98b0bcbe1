//! The patch of a join: both edges, and the row between them whose beads lock
//! like teeth.
//!
//! ```text
//!      [ ]   [ ]   [ ]             bare side: locked ....  still apart
//!    [ ]   [ ]   [ ]   [ ]  [ ]
//!      [j]   [j]   [j]   [j]       join row
//!    [ ]   [ ]   [ ]   [ ]   [ ]   the edge that carries it
//! ```
//!
//! Where sides lock directly there is no row, and the beads of the round before
//! are drawn below the other edge.

use super::patch::{Extent, Hold, Patch};
use super::strip::{Half, LENGTH};
use crate::beadwork::layout::Layout;
use crate::beadwork::stage::Zip;
use crate::beadwork::{Bead, Panel, Sequence, Side};

/// The distance between edges that are not locked yet, in half diameters.
const APART: i32 = 2;

/// A join as it is being zipped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JoinView {
    /// The join.
    pub zip: Zip,
    /// Number of teeth that are locked.
    pub locked: u32,
}

impl JoinView {
    /// Number of teeth of the join.
    pub fn length(&self, layout: &Layout) -> u32 {
        self.zip.teeth(layout)
    }

    /// The patch, as far as needed.
    pub fn patch(&self, seq: &Sequence, extent: Extent) -> Patch {
        let (zip, layout) = (self.zip, seq.layout());
        let row = layout.row(zip.row);
        let gaps = zip.gaps(layout);
        let teeth = zip.teeth(layout);
        // A bare side that lies within the row is drawn half a tooth further
        // on, and everything below it half a tooth further back.
        let shift = if zip.within { LENGTH } else { 0 };
        let focus = 2 * LENGTH * self.locked as Half;
        let joins = |j: u32| {
            let gap = (j < gaps).then(|| zip.joins(layout, j));
            gap.into_iter().flatten().collect::<Vec<Bead>>()
        };
        // A gap is as wide as its join beads side by side.
        let wide = |j: u32| LENGTH * (joins(j).len() as Half + 1).max(2);
        // Positions along the join, in the needle's direction, whose beads are
        // visible.
        let near = |x: Half| (x - focus).abs() <= extent.across + LENGTH;
        let with = zip.with_the_row();
        let along = |j: u32, last: u32, ahead| if ahead { j } else { last - j };
        let carried = |j: u32| {
            let j = along(j, gaps, with);
            // For an edge of a different length, the nearest bead.
            (2 * j * row.gaps + gaps) / (2 * gaps).max(1)
        };
        let bare_beads = zip.edge_beads(layout);
        let bare = |j: u32| along(j, bare_beads - 1, zip.forward);
        let edge = |j: u32| along(j, gaps - 1, with);
        let reach = (extent.across / (2 * LENGTH) + 1) as u32;
        let from = self.locked.saturating_sub(reach);
        let to = (self.locked + reach).min(teeth);
        let mut x = focus - (from..self.locked).map(wide).sum::<Half>();
        let end = focus + (self.locked..to).map(wide).sum::<Half>();
        let beyond = |teeth: u32| 2 * LENGTH * teeth as Half;
        let mut patch = Patch {
            bricks: vec![],
            focus,
            side: Some((x - beyond(from), end + beyond(teeth - to))),
            hold: Hold::Middle(3),
            names: [self.title(layout), String::new(), String::new()],
        };
        // The first bare bead that is not locked yet.
        let apart = self.locked + u32::from(!zip.within);
        let lift = |j: u32| if j >= apart { APART } else { 0 };
        // Half the gap before.
        let mut half = LENGTH;
        for j in from..=to + 1 {
            let mut add = |bead: Bead, x: Half, level: i32, forward: bool| {
                if near(x) {
                    patch.add(bead, x, level, forward);
                }
            };
            // The bead of the round before, between this up bead and the last.
            let low = |(panel, side), nth: &dyn Fn(u32) -> u32| {
                (j > 0).then(|| layout.under_edge((panel, side), nth(j).max(nth(j - 1))))
            };
            if j < bare_beads {
                let (side, level, x) = ((zip.panel, zip.side), 3 + lift(j), x + shift);
                add(
                    layout.edge_bead(side.0, side.1, bare(j)),
                    x,
                    level,
                    zip.forward,
                );
                if let Some(low) = low(side, &bare) {
                    add(low, x - half, level + 1, zip.forward);
                }
            }
            let (side, at) = ((row.panel, row.side), x - shift);
            if j < gaps {
                for (join, n) in joins(j).into_iter().zip(1..) {
                    add(join, at + LENGTH * n, 2, with);
                }
                if let Some(low) = low(side, &edge).filter(|_| row.is_edge) {
                    add(low, at, 1, with);
                }
            }
            if j <= gaps && !row.is_edge {
                add(layout.edge_bead(side.0, side.1, carried(j)), at, 1, with);
                if let Some(low) = low(side, &carried) {
                    add(low, at - half, 0, with);
                }
            }
            x += wide(j);
            half = wide(j) / 2;
        }
        // Seen from outside, a panel's own direction is anticlockwise. So that
        // the needle always goes the same way in these pictures, a bare side
        // that runs forward is drawn below.
        if zip.forward {
            for brick in &mut patch.bricks {
                brick.level = 4 - brick.level;
            }
            patch.hold = Hold::Middle(1);
        }
        patch
    }

    /// The text of the ruler for the join.
    fn title(&self, layout: &Layout) -> String {
        let row = layout.row(self.zip.row);
        let name = |panel: Panel, side: Side| format!("{} side {side}", layout.panel(panel).name);
        format!(
            "{} onto {}",
            name(self.zip.panel, self.zip.side),
            name(row.panel, row.side)
        )
    }
}
