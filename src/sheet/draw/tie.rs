//! A corner tie: the loops through the beads of both corners, as the needle
//! goes.

use glam::DVec2;

use crate::beadwork::Sequence;
use crate::beadwork::number::Bead;
use crate::sheet::drawing::{Drawing, Part, Set};
use crate::sheet::{Hand, way};

use super::strip::Strip;

/// The drawing of a tie: the beads of the loops, loop after loop.
pub fn tie(seq: &Sequence, loops: &[Vec<Bead>], hand: Hand) -> Drawing {
    let beads = loops.iter().map(Vec::len).max().unwrap_or(1) as u32;
    let drawing = Drawing::new(
        "Corner tie: two corners drawn together",
        "The beads of the two corners in the order in which the needle goes through them, one corner \
         above the other. No bead is added.",
    );
    let mut strip = Strip::new(seq, drawing, beads, 4);
    let (mut along, mut before) = (vec![], 0);
    for (nth, beads) in loops.iter().enumerate() {
        let y = nth as f64 * strip.width * 2.0;
        let set_off = |i: usize| {
            let x = (i as f64 - (beads.len() as f64 - 1.0) / 2.0) * strip.length * 1.15;
            DVec2::new(if nth % 2 == 0 { x } else { -x }, y)
        };
        let places: Vec<DVec2> = (0..beads.len()).map(set_off).collect();
        for (i, (&bead, &at)) in beads.iter().zip(&places).enumerate() {
            strip.bead(bead, at, 0.0, Part::Passed, Some((before + i) as u32 + 1));
        }
        before += beads.len();
        along.extend(places);
        let corner = way::told(seq, beads);
        let beside = DVec2::new(strip.length * (beads.len() as f64 / 2.0 + 1.2), y);
        strip.words(beside, corner, Set::Right);
    }
    let (first, last) = (along[0], along[along.len() - 1]);
    let off = DVec2::new(strip.length * 0.9, 0.0);
    strip.needle(vec![first - off * 1.8, first - off]);
    if loops.len() > 1 {
        strip.needle(vec![last - off, last - off * 1.8]);
    }
    strip.done().for_hand(hand)
}
