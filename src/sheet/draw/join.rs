//! Joins, drawn bead by bead along an edge, level by level away from it.
//!
//! ```text
//!      [ ]   [ ]   [ ]         a zip: bare side, the round before
//!    [1]   [3]   [5]   [7]     its up beads
//!       [2]   [4]   [6]        join row
//!    [ ]   [ ]   [ ]   [ ]     the edge that carries it
//!
//!     (1)   (3)   (5)   (7)    a fill: its first beads
//!        [2]   [4]   [6]       the join row of the rim: anchors
//!     [ ]   [ ]   [ ]   [ ]    the edge that carries it
//! ```

use std::collections::HashMap;
use std::f64::consts::PI;

use glam::DVec2;

use super::{PAPER, SMALLEST};
use crate::beadwork::layout::RimIndex;
use crate::beadwork::number::{Bead, Panel, Side};
use crate::beadwork::seams::Direction;
use crate::beadwork::stage::Zip;
use crate::beadwork::{Rgb, Sequence};
use crate::sheet::drawing::{BeadOnPaper, BeadRole, Drawing, Element, Pen, TextSetting};
use crate::sheet::{Hand, way};

/// The largest length at which a bead is drawn, mm.
const LONGEST: f64 = 9.0;

/// Edges with up to this many up beads are drawn whole, longer ones only at
/// both ends.
pub(in crate::sheet) const WHOLE: u32 = 11;

/// For a longer edge: up beads drawn at its start and at its end.
const ENDS: (u32, u32) = (6, 4);

/// How far the bare side of a zip and the first beads of a fill are above the
/// edge that carries the row, in half beads.
const BARE: f64 = 3.3;
const FILLED: f64 = 2.6;

/// The up beads of an edge that are drawn: each with its own number from 0 and
/// its place in the drawing.
fn positions(edge: u32) -> Vec<(u32, u32)> {
    if edge <= WHOLE {
        return (0..edge).map(|j| (j, j)).collect();
    }
    let end = (edge - ENDS.1..edge).zip(ENDS.0 + 1..);
    (0..ENDS.0).map(|j| (j, j)).chain(end).collect()
}

/// Places that an edge takes in the drawing.
fn places(edge: u32) -> u32 {
    edge.min(ENDS.0 + 1 + ENDS.1)
}

/// Edges being drawn.
struct Edges<'a> {
    seq: &'a Sequence,
    drawing: Drawing,
    /// Up beads on each edge.
    edge: u32,
    /// Length and width of a bead, mm on paper.
    size: DVec2,
}

impl<'a> Edges<'a> {
    /// Edges of `edge` up beads, with room for `more` beads beside them.
    fn new(seq: &'a Sequence, drawing: Drawing, edge: u32, more: usize) -> Self {
        let layout = seq.layout();
        let beads = f64::from(2 * places(edge) + 1) + more as f64;
        let length = ((PAPER.x - 8.0) / beads).min(LONGEST);
        let width = length * layout.bead_diameter_mm() / layout.bead_length_mm();
        Edges {
            seq,
            drawing,
            edge,
            size: DVec2::new(length, width),
        }
    }

    /// A point `along` in bead lengths, and `level` in half beads above the
    /// edge that carries the row.
    fn at(&self, along: f64, level: f64) -> DVec2 {
        DVec2::new(along, -level / 2.0) * self.size
    }

    /// The point at the last up bead of a level.
    fn end(&self, level: f64) -> DVec2 {
        self.at(2.0 * f64::from(places(self.edge) - 1), level)
    }

    /// Draws a bead, with its number in the order of the needle.
    fn bead(&mut self, bead: Bead, at: DVec2, part: BeadRole, number: Option<u32>) {
        let layout = self.seq.layout();
        let colour = layout.bead_kind(layout.colour(bead));
        let mut brick = BeadOnPaper {
            letter: Some(colour.letter),
            part,
            ..BeadOnPaper::level(at, self.size * 0.93, colour.colour)
        };
        let room = brick.size.y >= 6.0;
        if brick.letter_size() < SMALLEST || number.is_some() && !room {
            brick.letter = None;
        }
        let Some(number) = number else {
            return self.drawing.shapes.push(Element::Bead(brick));
        };
        brick.letter_off.y = -brick.size.y * 0.18;
        self.drawing.shapes.push(Element::Bead(brick));
        let aside = if room { self.size.y * 0.25 } else { 0.0 };
        let at = at + DVec2::Y * aside;
        self.drawing
            .words(at, number.to_string(), 2.2, TextSetting::Tag);
    }

    /// Beads that are passed through one after another, drawn in a line.
    fn passed<'b>(
        &mut self,
        beads: impl Iterator<Item = &'b Bead>,
        from: DVec2,
        to_the_right: bool,
    ) {
        let way = if to_the_right { 1.0 } else { -1.0 };
        let step = DVec2::new(way * 1.02, 0.16) * self.size;
        for (nth, &bead) in (1..).zip(beads) {
            self.bead(bead, from + step * f64::from(nth), BeadRole::Passed, None);
            if let Some(Element::Bead(brick)) = self.drawing.shapes.last_mut() {
                brick.turn = way * 9.0;
            }
        }
    }

    fn words(&mut self, at: DVec2, text: impl Into<String>, set: TextSetting) {
        self.drawing.words(at, text, 3.0, set);
    }

    /// Labels the edges (the upper one at a level) and the place where beads
    /// are left out.
    fn named(mut self, (above, level): (String, f64), below: String) -> Drawing {
        if places(self.edge) < self.edge {
            self.words(self.at(12.0, 1.3), "…", TextSetting::Strong);
        }
        let middle = self.end(level).with_y(0.0) / 2.0;
        let up = self.at(0.0, level) - DVec2::Y * 4.0;
        self.words(middle + up, above, TextSetting::Middle);
        self.words(middle + self.at(0.0, -2.0), below, TextSetting::Middle);
        self.drawing.on_paper(1.5)
    }
}

/// The drawing of a zip, with the beads that the needle passes through before
/// and after it.
pub fn zip(seq: &Sequence, zip: Zip, before: &[Bead], after: &[Bead], hand: Hand) -> Drawing {
    let layout = seq.layout();
    let row = layout.row(zip.row);
    let (bare_beads, teeth) = (zip.edge_beads(layout), zip.teeth(layout));
    // With one join bead at each tooth, and as many gaps on both sides, the
    // edge beads of the one lie opposite those of the other.
    let is_even = (0..zip.gaps(layout)).all(|gap| zip.joins(layout, gap).count() == 1);
    let is_opposite = !row.is_edge && is_even && row.gaps == zip.gaps(layout);
    let (title, desc) = match row.is_edge {
        true => (
            format!(
                "Zip of {bare_beads} and {} edge beads, without a row",
                row.beads
            ),
            "Two edges one above the other. Numbers give the order in which the needle goes through the edge beads of \
             the one and of the other in turn.",
        ),
        false => (
            format!(
                "Zip of {bare_beads} edge beads and {} join beads",
                row.beads
            ),
            match is_opposite {
                true => {
                    "Two edges one above the other, the join row on the lower one. Numbers give the order in which \
                     the needle goes through edge beads and join beads in turn."
                }
                false => {
                    "The edge beads of the bare side above, the join row below, without the edge that carries it. \
                     Numbers give the order in which the needle goes through them."
                }
            },
        ),
    };
    let mut drawing = Drawing::new(title, desc);
    if before.len() + after.len() > 0 {
        drawing.desc += " Beads with a broken outline are passed through, adding none.";
    }
    let mut edges = Edges::new(seq, drawing, teeth + 1, before.len() + after.len() + 2);
    // The bare side's own direction is from left to right, seen from outside.
    let nth = |j: u32| if zip.forward { j } else { teeth - j };
    let under_it = |j: u32, last: u32| match zip.runs {
        Direction::Against => last - j,
        Direction::With => j,
    };
    let beads = zip.beads(layout).into_iter();
    let beads = std::iter::once(zip.start(layout)).chain(beads);
    let order: HashMap<Bead, u32> = beads.map(|hole| hole.bead).zip(1..).collect();
    let number = |bead| order.get(&bead).copied();
    let bare = |j| layout.edge_bead(zip.panel, zip.side, j);
    let carrier = |j| layout.edge_bead(row.panel, row.side, under_it(j, row.gaps));
    let mut draw = |bead, along, level| {
        let at = edges.at(along, level);
        edges.bead(bead, at, BeadRole::Plain, number(bead));
    };
    for (j, x) in positions(teeth + 1) {
        let x = 2.0 * f64::from(x);
        match zip.within {
            true => {
                let join = layout.row_bead(zip.row, under_it(j, teeth));
                draw(join, x, 1.0);
            }
            false => draw(bare(j), x, BARE),
        }
        // The beads of a row lie in the gaps of the edge that carries it.
        let (behind, ends) = match zip.within {
            true => (1.0, j == teeth),
            false => (0.0, false),
        };
        if is_opposite {
            draw(carrier(j), x - behind, 0.0);
        }
        if is_opposite && ends {
            draw(carrier(j + 1), x + behind, 0.0);
        }
    }
    for (j, x) in positions(teeth + 1).into_iter().filter(|p| p.0 < teeth) {
        // The needle's own numbers for the teeth on both sides of it.
        let tooth = nth(j).min(nth(j + 1));
        let x = 2.0 * f64::from(x) + 1.0;
        if zip.within {
            draw(bare(j), x, BARE);
            continue;
        }
        let joins: Vec<Bead> = zip.joins(layout, tooth).collect();
        let middle = (joins.len() as f64 - 1.0) / 2.0;
        for (i, join) in joins.into_iter().enumerate() {
            let aside = (i as f64 - middle) * if zip.forward { 1.0 } else { -1.0 };
            draw(join, x + aside, 1.0);
        }
        // Past a join bead the needle goes through the bare side's next round.
        let [place, _] = zip.places(layout, tooth);
        let past = zip.next_door(layout, place).map(|hole| hole.bead);
        if let Some(bead) = past.filter(|bead| order.contains_key(bead)) {
            draw(bead, x, BARE + 1.0);
        }
    }
    let ends = (edges.at(0.0, BARE), edges.end(BARE));
    let (start, finish) = match zip.forward {
        true => ends,
        false => (ends.1, ends.0),
    };
    edges.passed(before.iter().rev(), start, !zip.forward);
    edges.passed(after.iter(), finish, zip.forward);
    let panel = layout.panel(zip.panel);
    let goes_past = panel.next_door.iter().any(|(side, _)| *side == zip.side);
    let level = BARE + if goes_past { 3.0 } else { 2.0 };
    let (left, right) = (edges.at(0.0, level), edges.end(level));
    let step = edges.at(2.0, 0.0).min(right.with_y(0.0));
    let needle = match zip.forward {
        true => [left, left + step],
        false => [right, right - step],
    };
    edges.drawing.line(needle, Pen::Needle);
    let name = |panel: Panel, side: Side| format!("{}, side {side}", layout.panel(panel).name);
    let above = format!("bare side: {}", name(zip.panel, zip.side));
    let other = name(row.panel, row.side);
    let below = match row.is_edge {
        true => format!("it is locked into: {other}"),
        false if is_opposite => format!("it carries the join row: {other}"),
        false => format!("join row of: {other}"),
    };
    edges.named((above, level), below).for_hand(hand)
}

/// The drawing of the first round of a fill on one side of its rim: a bead
/// between each two anchors, and at the corner the path through beads that are
/// already there. `None` if the rim has no row there.
pub fn fill(seq: &Sequence, panel: Panel, rim: RimIndex, hand: Hand) -> Option<Drawing> {
    let layout = seq.layout();
    let side = Side(0);
    let on = layout.rim(rim)[side.index()];
    let row_index = layout.row_on(on.panel, on.side)?;
    let row = layout.row(row_index);
    let way = layout.corner_way(rim, side).iter().map(|h| h.bead);
    let way: Vec<Bead> = way.collect();
    let drawing = Drawing::new(
        "First round of the fill on its rim",
        "One side of the rim. The upper beads, in strong outline, are new, each between two anchors of the join row; numbers \
         give the order of the needle. Beads with a broken outline stand at the corner and are passed \
         through, adding none.",
    );
    let mut edges = Edges::new(seq, drawing, row.beads + 1, way.len() + 2);
    let gaps = layout.rim_gaps(panel);
    for (j, x) in positions(edges.edge) {
        let x = 2.0 * f64::from(x);
        let carries = layout.edge_bead(on.panel, on.side, on.nth(j, edges.edge));
        edges.bead(carries, edges.at(x, 0.0), BeadRole::Plain, None);
        // Where a gap holds several beads only the first is drawn: the text
        // describes the rest.
        let beads = (j < gaps.on_side(side))
            .then(|| gaps.in_gap(j))
            .filter(|gap| !gap.is_empty());
        if let Some(beads) = beads {
            let new = layout.rim_round_bead(panel, beads.start);
            edges.bead(new, edges.at(x, FILLED), BeadRole::First, Some(2 * j + 1));
        }
    }
    for (j, x) in positions(edges.edge)
        .into_iter()
        .filter(|p| p.0 < row.beads)
    {
        let anchor = layout.row_bead(row_index, on.nth(j, row.beads));
        let place = edges.at(2.0 * f64::from(x) + 1.0, 1.0);
        edges.bead(anchor, place, BeadRole::Plain, Some(2 * j + 2));
    }
    edges.passed(way.iter(), edges.end(1.6), true);
    let level = FILLED + 1.8;
    let right = edges.at(2.0, level).min(edges.end(level));
    let needle = [edges.at(0.0, level), right];
    edges.drawing.line(needle, Pen::Needle);
    let above = format!("new: {}, side {side}", layout.panel(panel).name);
    let below = format!(
        "rim: {}, side {}, with its join row",
        layout.panel(on.panel).name,
        on.side
    );
    Some(edges.named((above, level), below).for_hand(hand))
}

/// The drawing of a corner tie: the beads of the loops, one loop after another,
/// in the order in which the needle passes the two corners.
pub fn tie(seq: &Sequence, loops: &[Vec<Bead>], hand: Hand) -> Drawing {
    let beads = loops.iter().map(Vec::len).max().unwrap_or(1) as u32;
    let drawing = Drawing::new(
        "Corner tie: two corners drawn together",
        "The beads of the two corners in the order in which the needle goes through them, one corner \
         above the other. No bead is added.",
    );
    let mut edges = Edges::new(seq, drawing, beads, 4);
    let size = edges.size;
    let mut along = vec![];
    for (nth, beads) in loops.iter().enumerate() {
        let (y, half) = (nth as f64 * size.y * 2.0, beads.len() as f64 / 2.0);
        let way = if nth % 2 == 0 { 1.15 } else { -1.15 };
        for (i, &bead) in beads.iter().enumerate() {
            let at = DVec2::new((i as f64 + 0.5 - half) * size.x * way, y);
            along.push(at);
            edges.bead(bead, at, BeadRole::Passed, Some(along.len() as u32));
        }
        let beside = DVec2::new(size.x * (half + 1.2), y);
        edges.words(beside, way::in_words(seq, beads), TextSetting::Right);
    }
    let (first, last) = (along[0], along[along.len() - 1]);
    let off = DVec2::X * size.x * 0.9;
    let mut drawing = edges.drawing;
    drawing.line([first - off * 1.8, first - off], Pen::Needle);
    if loops.len() > 1 {
        drawing.line([last - off, last - off * 1.8], Pen::Needle);
    }
    drawing.on_paper(1.5).for_hand(hand)
}

/// A face at a hinge: its name, and the solid it belongs to.
pub struct HingeFace {
    /// `Tetrahedron 1, face 2: side 3`.
    pub name: String,
    /// Its solid, counted from 0 in the order of the faces.
    pub solid: usize,
    /// Whether it carries the row.
    pub carries: bool,
}

/// The drawing of a hinge seen along its row: one join bead in the middle, and
/// the faces round it.
pub fn hinge(faces: &[HingeFace], (colour, letter): (Rgb, char)) -> Drawing {
    let mut drawing = Drawing::new(
        format!("Hinge: {} sides on one join row", faces.len()),
        "A hinge seen along its row: the join row in the middle as one bead, and the faces that stand on \
         it. The face with the thick line carries the row.",
    );
    let solids = faces.iter().map(|f| f.solid).max().map_or(1, |s| s + 1);
    let of_solid = |faces: &[HingeFace], solid| faces.iter().filter(|f| f.solid == solid).count();
    for (nth, face) in faces.iter().enumerate() {
        let (before, of) = (
            of_solid(&faces[..nth], face.solid),
            of_solid(faces, face.solid),
        );
        // The first solid lies to the left, the next ones follow to the right.
        let part = PI / solids as f64;
        let spread = 0.8 * ((before as f64 + 0.5) / of as f64 - 0.5);
        let out = DVec2::from_angle(PI + part * (2.0 * face.solid as f64 + spread));
        let pen = if face.carries { Pen::Row } else { Pen::Edge };
        drawing.line([out * 5.0, out * 30.0], pen);
        let set = if out.x < 0.0 {
            TextSetting::Left
        } else {
            TextSetting::Right
        };
        drawing.words(out * 31.5, face.name.clone(), 3.0, set);
    }
    drawing.shapes.push(Element::Bead(BeadOnPaper {
        letter: Some(letter),
        ..BeadOnPaper::level(DVec2::ZERO, DVec2::splat(8.0), colour)
    }));
    drawing.on_paper(2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_edge_is_drawn_whole_and_a_long_one_at_both_ends() {
        assert_eq!(positions(3), [(0, 0), (1, 1), (2, 2)]);
        let long = positions(60);
        assert_eq!(long.len(), 10);
        assert_eq!((long[5], long[6]), ((5, 5), (56, 7)));
        assert_eq!(long[9], (59, 10));
        assert_eq!(places(60), 11);
    }
}
