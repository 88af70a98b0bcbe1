//! The patch of a join: both edges, and the row between them whose beads lock
//! like teeth.
//!
//! ```text
//!      [ ]   [ ]   [ ]             bare side: locked ....  still apart
//!    [ ]   [ ]   [ ]   [ ]  [ ]
//!      [j]   [j]   [j]   [j]       join row
//!    [ ]   [ ]   [ ]   [ ]   [ ]   the edge that carries it
//! ```

use super::patch::{Hold, Patch, PatchBead, Reach};
use super::strip::{Half, LENGTH};
use crate::beadwork::layout::Layout;
use crate::beadwork::number::{Bead, Panel, Round, Side};
use crate::beadwork::seams::Direction;
use crate::beadwork::sequence::Sequence;
use crate::beadwork::stage::Zip;

/// How far apart edges lie that are not locked yet, in half diameters.
const APART: i32 = 2;

/// A join as it is being zipped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JoinView {
    /// The join.
    pub zip: Zip,
    /// Teeth that are locked.
    pub locked: u32,
}

impl JoinView {
    /// Teeth of the join.
    pub fn length(&self, layout: &Layout) -> u32 {
        self.zip.gaps(layout)
    }

    /// The patch, as far as it has to reach.
    pub fn patch(&self, seq: &Sequence, reach: Reach) -> Patch {
        let (zip, layout) = (self.zip, seq.layout());
        let row = layout.row(zip.row);
        let gaps = zip.gaps(layout);
        let teeth = gaps as Half;
        let focus = 2 * LENGTH * self.locked as Half;
        // Positions along the join, in the needle's direction, whose beads
        // can be seen.
        let near = |x: Half| (x - focus).abs() <= reach.across + LENGTH;
        let with = zip.forward == (zip.runs == Direction::With);
        let carried = |j: u32| {
            let j = if with { j } else { gaps - j };
            // Of an edge of another length, the bead that lies nearest.
            let j = (2 * j * row.gaps + gaps) / (2 * gaps).max(1);
            (j, layout.edge_bead(row.panel, row.side, j))
        };
        let bare = |j: u32| {
            let j = if zip.forward { j } else { gaps - j };
            (j, layout.edge_bead(zip.panel, zip.side, j))
        };
        let mut patch = Patch {
            bricks: vec![],
            focus,
            side: Some((0, 2 * LENGTH * teeth)),
            hold: Hold::Middle(3),
            names: [self.title(layout), String::new(), String::new()],
        };
        let from = ((focus - reach.across) / (2 * LENGTH) - 1).max(0);
        let to = ((focus + reach.across) / (2 * LENGTH) + 1).min(teeth);
        let lift = |j: Half| if j > self.locked as Half { APART } else { 0 };
        for j in from..=to {
            let x = 2 * LENGTH * j;
            let mut add = |bead: Bead, x: Half, level: i32, forward: bool| {
                if near(x) {
                    patch.bricks.push(PatchBead {
                        bead,
                        x,
                        level,
                        forward,
                    });
                }
            };
            add(bare(j as u32).1, x, 3 + lift(j), zip.forward);
            add(carried(j as u32).1, x, 1, with);
            if j < teeth {
                let joins: Vec<Bead> = zip.joins(layout, j as u32).collect();
                let apart = 2 * LENGTH / (joins.len() as Half + 1);
                for (n, &join) in joins.iter().enumerate() {
                    add(join, x + apart * (n as Half + 1), 2, with);
                }
                let (a, b) = (bare(j as u32).0, bare(j as u32 + 1).0);
                let high = 4 + lift(j + 1);
                add(
                    under(layout, zip.panel, zip.side, a.max(b)),
                    x + LENGTH,
                    high,
                    zip.forward,
                );
                let (a, b) = (carried(j as u32).0, carried(j as u32 + 1).0);
                let low = under(layout, row.panel, row.side, a.max(b));
                add(low, x + LENGTH, 0, with);
            }
        }
        // Seen from outside a panel's own direction is anticlockwise. So that
        // the needle goes the way it always goes in these pictures, a bare
        // side that runs forward lies below.
        if zip.forward {
            for brick in &mut patch.bricks {
                brick.level = 4 - brick.level;
            }
            patch.hold = Hold::Middle(1);
        }
        patch
    }

    /// What the ruler says of the join.
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

/// The bead of the round before that lies between up beads j - 1 and j.
fn under(layout: &Layout, panel: Panel, side: Side, j: u32) -> Bead {
    let kind = layout.kind(panel);
    let last = kind.last();
    if last.0 < 2 {
        return layout.edge_bead(panel, side, j);
    }
    let gap = kind.word(last).gap_of(kind.edge_index(side, j));
    layout.bead(panel, Round(last.0 - 1), gap)
}
