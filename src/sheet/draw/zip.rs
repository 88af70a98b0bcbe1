//! A zip: the bare side above, the edge that carries the row below, and the
//! beads numbered in the order in which the needle goes through them.
//!
//! ```text
//!      [ ]   [ ]   [ ]         bare side, the round before
//!    [1]   [3]   [5]   [7]     its high beads
//!       [2]   [4]   [6]        join row
//!    [ ]   [ ]   [ ]   [ ]     the edge that carries it
//! ```

use glam::DVec2;

use crate::beadwork::Sequence;
use crate::beadwork::number::Bead;
use crate::beadwork::seams::Direction;
use crate::beadwork::stage::Zip;
use crate::sheet::Hand;
use crate::sheet::drawing::{Drawing, Part, Set};

use super::strip::{Strip, places, positions};

/// How far the bare side stands off, in half beads.
const APART: f64 = 1.3;

/// The drawing of a zip, with the beads that the needle passes through before
/// and after it.
pub fn zip(seq: &Sequence, zip: Zip, before: &[Bead], after: &[Bead], hand: Hand) -> Drawing {
    let layout = seq.layout();
    let row = *layout.row(zip.row);
    let edge = row.beads + 1;
    let mut drawing = Drawing::new(
        format!("Zip of {edge} edge beads and {} join beads", row.beads),
        "Two edges one above the other, the join row on the lower one. Numbers give the order in which \
         the needle goes through edge beads and join beads in turn.",
    );
    if before.len() + after.len() > 0 {
        drawing.desc += " Beads with a broken outline are passed through, adding none.";
    }
    let more = (before.len() + after.len()) as u32 + 2;
    let mut strip = Strip::new(seq, drawing, edge, more);
    // The bare side's own direction is from left to right, seen from outside.
    let nth = |j: u32| if zip.forward { j } else { row.beads - j };
    let under_it = |j: u32| match zip.runs {
        Direction::Against => row.beads - j,
        Direction::With => j,
    };
    for (j, x) in positions(edge) {
        let x = 2.0 * f64::from(x);
        let bare = layout.edge_bead(zip.panel, zip.side, j);
        let at = strip.at(x, 2.0 + APART);
        strip.bead(bare, at, 0.0, Part::Plain, Some(2 * nth(j) + 1));
        let carries = layout.edge_bead(row.panel, row.side, under_it(j));
        let at = strip.at(x, 0.0);
        strip.bead(carries, at, 0.0, Part::Plain, None);
    }
    for (j, x) in positions(edge) {
        if j < row.beads {
            let x = 2.0 * f64::from(x) + 1.0;
            // The needle's own numbers of the teeth on either side of it.
            let tooth = nth(j).min(nth(j + 1));
            let at = strip.at(x, 1.0);
            strip.bead(
                zip.join(layout, tooth),
                at,
                0.0,
                Part::Plain,
                Some(2 * tooth + 2),
            );
        }
    }
    let end = 2.0 * f64::from(places(edge) - 1);
    let (start, finish) = match zip.forward {
        true => (strip.at(0.0, 2.0 + APART), strip.at(end, 2.0 + APART)),
        false => (strip.at(end, 2.0 + APART), strip.at(0.0, 2.0 + APART)),
    };
    let reversed: Vec<Bead> = before.iter().rev().copied().collect();
    strip.passed(&reversed, start, !zip.forward);
    strip.passed(after, finish, zip.forward);
    if places(edge) < edge {
        let gap = strip.at(12.0, 1.4);
        strip.words(gap, "…", Set::Strong);
    }
    let above = strip.at(end / 2.0, 4.0 + APART) - DVec2::new(0.0, 4.0);
    let name = format!(
        "bare side: {}, side {}",
        layout.panel(zip.panel).name,
        zip.side
    );
    strip.words(above, name, Set::Middle);
    let (a, b) = (
        strip.at(0.0, 4.0 + APART),
        strip.at(end.min(2.0), 4.0 + APART),
    );
    let (c, d) = (
        strip.at(end, 4.0 + APART),
        strip.at((end - 2.0).max(0.0), 4.0 + APART),
    );
    strip.needle(if zip.forward { vec![a, b] } else { vec![c, d] });
    let below = strip.at(end / 2.0, -2.0);
    let name = format!(
        "it carries the join row: {}, side {}",
        layout.panel(row.panel).name,
        row.side
    );
    strip.words(below, name, Set::Middle);
    strip.done().for_hand(hand)
}
