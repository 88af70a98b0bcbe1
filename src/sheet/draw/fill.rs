//! The first round of a fill: a bead between each two anchors of the rim, and
//! at the corner the way through beads that are there already.
//!
//! ```text
//!     (1)   (3)   (5)   (7)      beads of the fill
//!        [2]   [4]   [6]         the join row of the rim: anchors
//!     [ ]   [ ]   [ ]   [ ]      the edge that carries it
//! ```

use glam::DVec2;

use crate::beadwork::Sequence;
use crate::beadwork::layout::RimIndex;
use crate::beadwork::number::{Bead, Panel, Round, Side};
use crate::sheet::Hand;
use crate::sheet::drawing::{Drawing, Part, Set};

use super::strip::{Strip, places, positions};

/// The drawing of one side of a fill on its rim, or nothing if the rim has no
/// row there.
pub fn fill(seq: &Sequence, panel: Panel, rim: RimIndex, hand: Hand) -> Option<Drawing> {
    let layout = seq.layout();
    let side = Side(0);
    let on = layout.rim(rim)[side.index()];
    let row_index = layout.row_on(on.panel, on.side)?;
    let row = *layout.row(row_index);
    let edge = row.beads + 1;
    let way: Vec<Bead> = layout
        .corner_way(rim, side)
        .iter()
        .map(|h| h.bead)
        .collect();
    let drawing = Drawing::new(
        "First round of the fill on its rim",
        "One side of the rim. The upper beads, in strong outline, are new, each between two anchors of the join row; numbers \
         give the order of the needle. Beads with a broken outline stand at the corner and are passed \
         through, adding none.",
    );
    let mut strip = Strip::new(seq, drawing, edge, way.len() as u32 + 2);
    let kind = layout.kind(panel);
    let last: Round = kind.last();
    let on_side = kind.on_side(last, side);
    for (j, x) in positions(edge) {
        let x = 2.0 * f64::from(x);
        let carries = layout.edge_bead(on.panel, on.side, on.nth(j, edge));
        let low = strip.at(x, 0.0);
        strip.bead(carries, low, 0.0, Part::Plain, None);
        if j < on_side {
            let new = layout.bead(panel, last, kind.index(last, side, j));
            let high = strip.at(x, 2.6);
            strip.bead(new, high, 0.0, Part::First, Some(2 * j + 1));
        }
    }
    for (j, x) in positions(edge) {
        if j < row.beads {
            let at = strip.at(2.0 * f64::from(x) + 1.0, 1.0);
            let anchor = layout.row_bead(row_index, on.nth(j, row.beads));
            strip.bead(anchor, at, 0.0, Part::Plain, Some(2 * j + 2));
        }
    }
    let end = 2.0 * f64::from(places(edge) - 1);
    let corner = strip.at(end, 1.6);
    strip.passed(&way, corner, true);
    if places(edge) < edge {
        let gap = strip.at(12.0, 1.2);
        strip.words(gap, "…", Set::Strong);
    }
    let above = strip.at(end / 2.0, 4.4) - DVec2::new(0.0, 4.0);
    let name = format!("new: {}, side {side}", layout.panel(panel).name);
    strip.words(above, name, Set::Middle);
    let (a, b) = (strip.at(0.0, 4.4), strip.at(end.min(2.0), 4.4));
    strip.needle(vec![a, b]);
    let below = strip.at(end / 2.0, -2.0);
    let name = format!(
        "rim: {}, side {}, with its join row",
        layout.panel(on.panel).name,
        on.side
    );
    strip.words(below, name, Set::Middle);
    Some(strip.done().for_hand(hand))
}
