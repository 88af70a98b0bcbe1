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
        let teeth = zip.teeth(layout) as Half;
        // A bare side that lies within the row is drawn half a tooth further
        // on, and everything below it half a tooth further back.
        let shift = if zip.within { LENGTH } else { 0 };
        let focus = 2 * LENGTH * self.locked as Half;
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
        let mut patch = Patch {
            bricks: vec![],
            focus,
            side: Some((0, 2 * LENGTH * teeth)),
            hold: Hold::Middle(3),
            names: [self.title(layout), String::new(), String::new()],
        };
        let from = ((focus - extent.across) / (2 * LENGTH) - 1).max(0);
        let to = ((focus + extent.across) / (2 * LENGTH) + 1).min(teeth);
        // The first bare bead that is not locked yet.
        let apart = self.locked + u32::from(!zip.within);
        let lift = |j: u32| if j >= apart { APART } else { 0 };
        for (x, j) in (from..=to + 1).map(|j| (2 * LENGTH * j, j as u32)) {
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
                    add(low, x - LENGTH, level + 1, zip.forward);
                }
            }
            let (side, x) = ((row.panel, row.side), x - shift);
            if j < gaps {
                let joins: Vec<Bead> = zip.joins(layout, j).collect();
                let apart = 2 * LENGTH / (joins.len() as Half + 1);
                for (n, &join) in joins.iter().enumerate() {
                    add(join, x + apart * (n as Half + 1), 2, with);
                }
                if let Some(low) = low(side, &edge).filter(|_| row.is_edge) {
                    add(low, x, 1, with);
                }
            }
            if j <= gaps && !row.is_edge {
                add(layout.edge_bead(side.0, side.1, carried(j)), x, 1, with);
                if let Some(low) = low(side, &carried) {
                    add(low, x - LENGTH, 0, with);
                }
            }
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
