//! The techniques of a piece, each drawn once with the thread path, and the
//! other words of the trade that its handout uses.
//!
//! ```text
//!      2 1        a stitch, the outer edge up: the needle comes from the
//!    3  _  1      right, through an up bead, picks up one bead and goes
//!      3 1        through the next up bead
//! ```

use std::f64::consts::{PI, TAU};
use std::sync::LazyLock;

use glam::DVec2;
use serde::Deserialize;

use super::drawing::{BeadOnPaper, BeadRole, Drawing, Element, Pen, TextSetting};
use super::{Hand, Sheet};
use crate::beadwork::Rgb;
use crate::words::static_text;
use crate::words::{Word, found};

/// A technique: its name, what to do, and the thread path.
#[derive(Clone, Debug, PartialEq)]
pub struct Technique {
    /// Its name, for a heading.
    pub name: &'static str,
    /// What to do.
    pub words: &'static str,
    /// Beads and thread.
    pub drawing: Drawing,
}

/// A bead of a sketch: its position along in bead lengths, its height in half
/// beads, and its rotation in degrees clockwise.
type SketchedBead = (f64, f64, f64);

/// How a technique of techniques.json is drawn.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Sketch {
    /// The word of the trade that it explains.
    #[serde(deserialize_with = "static_text")]
    word: &'static str,
    #[serde(deserialize_with = "static_text")]
    name: &'static str,
    #[serde(deserialize_with = "static_text")]
    words: &'static str,
    /// Beads that are already there.
    old: Vec<SketchedBead>,
    /// Beads that are picked up.
    new: Vec<SketchedBead>,
    /// Where the thread comes from and where it goes on: position along, and
    /// height.
    ends: [(f64, f64); 2],
    /// The beads that the thread passes, in order: those already there are
    /// counted from 0, then the new ones.
    way: Vec<usize>,
    /// Whether the beads are numbered in the order of the needle.
    numbered: bool,
}

/// The techniques that have drawings, in the order in which they are listed.
fn sketches() -> &'static [Sketch] {
    static SKETCHES: LazyLock<Vec<Sketch>> = LazyLock::new(|| {
        serde_json::from_str(include_str!("techniques.json")).expect("the tests read these")
    });
    &SKETCHES
}

/// Length of a bead on paper, mm.
const LENGTH: f64 = 4.6;

/// Beads that are already there, and new ones: light, so that the thread shows.
const OLD: Rgb = Rgb(255, 255, 255);
const NEW: Rgb = Rgb(206, 206, 206);

/// Words that need no explanation, and words about the program.
const EVERYDAY: [&str; 10] = [
    "bead", "needle", "thread", "flat", "count", "step", "own step", "job", "pattern", "piece",
];

/// The techniques that a handout mentions, and its other words of the trade
/// with their meanings, in the order of the table of words.
pub(super) fn of(sheet: &Sheet, ratio: f64, hand: Hand) -> (Vec<Technique>, Vec<&'static Word>) {
    let mut words = found(&sheet.text());
    let weave = crate::words::named("weave in");
    words.extend(weave.filter(|weave| !words.contains(weave)));
    let is_mentioned = |word: &str| words.iter().any(|w| w.word == word);
    let mut first = sheet.panels.iter().flat_map(|panel| panel.rounds.first());
    let first = first.find(|round| round.how.starts_with("Ring:"));
    let ring = first.map(|round| ring(round.beads, ratio));
    let drawn = sketches().iter().filter(|sketch| is_mentioned(sketch.word));
    let drawn = drawn.map(|sketch| sketch.technique(ratio));
    let mut techniques: Vec<Technique> = ring.into_iter().chain(drawn).collect();
    for technique in &mut techniques {
        let drawing = std::mem::replace(&mut technique.drawing, Drawing::new("", ""));
        technique.drawing = drawing.for_hand(hand);
    }
    let is_drawn = |word: &&Word| sketches().iter().any(|sketch| sketch.word == word.word);
    let everyday = |word: &&Word| EVERYDAY.contains(&word.word);
    words.retain(|word| !is_drawn(word) && !everyday(word));
    for word in techniques
        .iter()
        .flat_map(|technique| found(technique.words))
    {
        if !words.contains(&word) && !is_drawn(&word) && !everyday(&word) {
            words.push(word);
        }
    }
    // A strip has rows and edges too, but they join nothing.
    let joins = |word: &&Word| ["edge", "join row"].contains(&word.word);
    words.retain(|word| !(joins(word) && sheet.is_of_strips()));
    words.sort_by_key(|word| word.word);
    (techniques, words)
}

/// A bead on a thread: its middle, and half of it along its hole.
type OnThread = (DVec2, DVec2);

/// The thread path from a point through beads. The thread enters each bead at
/// the nearer end.
fn thread(from: DVec2, beads: impl IntoIterator<Item = OnThread>, to: DVec2) -> Vec<DVec2> {
    let mut way = vec![from];
    for (middle, half) in beads {
        let last = way[way.len() - 1];
        let ends = [middle - half * 0.8, middle + half * 0.8];
        let near = ends[0].distance_squared(last) > ends[1].distance_squared(last);
        way.extend([ends[usize::from(near)], ends[usize::from(!near)]]);
    }
    way.push(to);
    way
}

/// A bead, new or already there, with its role on its thread.
fn bead(drawing: &mut Drawing, at: DVec2, size: DVec2, turn: f64, is_new: bool) -> OnThread {
    let (fill, part) = match is_new {
        true => (NEW, BeadRole::First),
        false => (OLD, BeadRole::Plain),
    };
    drawing.shapes.push(Element::Bead(BeadOnPaper {
        turn,
        part,
        ..BeadOnPaper::level(at, size * 0.93, fill)
    }));
    (at, DVec2::from_angle(turn.to_radians()) * size.x / 2.0)
}

/// A number in the order of the needle, below the thread in its bead.
fn number(drawing: &mut Drawing, (at, _): OnThread, nth: usize, size: DVec2) {
    let at = at + DVec2::Y * size.y * 0.26;
    drawing.words(at, nth.to_string(), 1.8, TextSetting::Tag);
}

impl Sketch {
    fn technique(&self, ratio: f64) -> Technique {
        let size = DVec2::new(LENGTH, LENGTH * ratio);
        let at = |x: f64, level: f64| DVec2::new(x, -level / 2.0) * size;
        let mut drawing = Drawing::new(self.name, self.words);
        let old = self.old.iter().map(|bead| (bead, false));
        let new = self.new.iter().map(|bead| (bead, true));
        let beads: Vec<OnThread> = old
            .chain(new)
            .map(|(&(x, level, turn), is_new)| bead(&mut drawing, at(x, level), size, turn, is_new))
            .collect();
        let on_it = || self.way.iter().map(|&nth| beads[nth]);
        let [from, to] = self.ends.map(|(x, level)| at(x, level));
        drawing.line(thread(from, on_it(), to), Pen::Needle);
        if self.numbered {
            // For a step-up or step-down number its two beads, for a zip all.
            let counted = if self.new.is_empty() {
                self.way.len()
            } else {
                2
            };
            for (nth, bead) in (1..).zip(on_it().skip(self.way.len() - counted)) {
                number(&mut drawing, bead, nth, size);
            }
        }
        Technique {
            name: self.name,
            words: self.words,
            drawing: drawing.on_paper(1.0),
        }
    }
}

/// How to close a ring of `sides` beads.
fn ring(sides: u32, ratio: f64) -> Technique {
    let name = "Begin";
    let words = "Pick up the beads of the ring, leave a tail, and go through the first again: they close to a ring.";
    let size = DVec2::new(LENGTH, LENGTH * ratio);
    let mut drawing = Drawing::new(name, words);
    let part = TAU / f64::from(sides);
    let middle = size.x / (2.0 * (part / 2.0).tan()) + size.y / 2.0;
    let beads: Vec<OnThread> = (0..sides)
        .map(|nth| {
            // The first bead is at the top, and the needle leaves it to the
            // left.
            let out = -PI / 2.0 - part * f64::from(nth);
            let turn = (out + PI / 2.0).to_degrees();
            bead(
                &mut drawing,
                DVec2::from_angle(out) * middle,
                size,
                turn,
                true,
            )
        })
        .collect();
    let apart = DVec2::Y * size.y * 0.12;
    let (first, half) = beads[0];
    let again = std::iter::once((first - apart, half));
    let on_it = beads.iter().copied().chain(again);
    let on_it = std::iter::once((first + apart, half)).chain(on_it.skip(1));
    let ends = [first + half * 2.6 + apart, first - half * 2.6 - apart];
    drawing.line(thread(ends[0], on_it, ends[1]), Pen::Needle);
    Technique {
        name,
        words,
        drawing: drawing.on_paper(1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Project, Sequence, testing};
    use crate::plan::{Plan, Wishes};
    use crate::sheet::SheetOptions;

    fn sheet(project: Project, hand: Hand) -> Sheet {
        let seq = Sequence::new(project);
        let plan = Plan::of(&seq, Wishes::default());
        let ask = SheetOptions {
            hand,
            ..SheetOptions::default()
        };
        Sheet::of(&seq, &plan, "Star", "", ask)
    }

    /// Where its thread begins and ends, along the paper.
    fn needle(technique: &Technique) -> (f64, f64) {
        let mut shapes = technique.drawing.shapes.iter();
        let way = shapes.find_map(|shape| match shape {
            Element::Line(points, Pen::Needle) => Some((points[0].x, points[points.len() - 1].x)),
            _ => None,
        });
        way.expect("a way of the thread")
    }

    #[test]
    fn a_piece_lists_only_the_techniques_that_it_takes() {
        let names = |project| -> Vec<&str> {
            sheet(project, Hand::Right)
                .techniques
                .iter()
                .map(|t| t.name)
                .collect()
        };
        let outward = ["Begin", "Stitch", "Increase", "Step up", "Weave in"];
        assert_eq!(names(testing::single(testing::panel(3, 5))), outward);
        let inward = [
            "Begin inward",
            "Stitch",
            "Decrease",
            "Step down",
            "Weave in",
        ];
        assert_eq!(names(testing::single(testing::inward(3, 6, 2))), inward);
        let solid = names(testing::solid(Solid::Tetrahedron, 5, Closing::SetIn));
        assert!(solid.contains(&"Zip"));
    }

    #[test]
    fn every_word_of_the_trade_on_a_handout_is_drawn_or_explained() {
        for project in [
            testing::single(testing::panel(3, 5)),
            testing::single(testing::inward(3, 6, 2)),
            testing::solid(Solid::Tetrahedron, 5, Closing::Open),
            testing::ring(8, 5, Closing::SetIn),
            testing::folded_pair(5, 2),
        ] {
            let sheet = sheet(project, Hand::Right);
            let techniques = sheet.techniques.iter().map(|technique| technique.words);
            let all: Vec<&str> = techniques.collect();
            for word in found(&format!("{}. {}", sheet.text(), all.join(" "))) {
                let drawn = sketches().iter().any(|sketch| sketch.word == word.word);
                let known = EVERYDAY.contains(&word.word) || sheet.words.contains(&word);
                assert!(drawn || known, "{}", word.word);
            }
        }
    }

    /// The words of the trade that a strip takes, and none of joins or solids.
    #[test]
    fn words_that_do_not_come_up_are_not_explained() {
        let sheet = sheet(testing::single(testing::strip(4, 7)), Hand::Right);
        let words: Vec<&str> = sheet.words.iter().map(|word| word.word).collect();
        assert_eq!(words, ["gap", "sew through", "up bead"]);
    }

    #[test]
    fn a_stitch_for_the_left_hand_goes_to_the_right() {
        for (hand, to_the_left) in [(Hand::Right, true), (Hand::Left, false)] {
            let sheet = sheet(testing::single(testing::panel(3, 5)), hand);
            let stitch = sheet
                .techniques
                .iter()
                .find(|t| t.name == "Stitch")
                .unwrap();
            let (from, to) = needle(stitch);
            assert_eq!(from > to, to_the_left);
        }
    }

    #[test]
    fn thread_goes_through_each_bead_from_end_to_end_and_never_back() {
        for sketch in sketches() {
            let drawn = sketch.technique(1.2).drawing;
            let ways = drawn.shapes.iter().filter_map(|shape| match shape {
                Element::Line(points, Pen::Needle) => Some(points),
                _ => None,
            });
            let ways: Vec<_> = ways.collect();
            let name = sketch.name;
            assert_eq!(ways.len(), 1, "{name}");
            assert_eq!(ways[0].len(), 2 * sketch.way.len() + 2, "{name}");
            // There is no open space between two beads: at most a bead's width.
            for hop in ways[0][2..ways[0].len() - 2].chunks(2) {
                let between = hop[0].distance(hop[1]);
                assert!(between < 1.6 * 1.2 * LENGTH, "{name}: {between}");
            }
        }
    }

    /// An end is woven in through at least eight beads with at least two turns:
    /// common practice, no source.
    #[test]
    fn an_end_is_woven_in_through_eight_beads_with_two_turns() {
        let weave = sketches().iter().find(|s| s.word == "weave in").unwrap();
        assert!(weave.way.len() >= 8);
        let along: Vec<f64> = weave.way.iter().map(|&nth| weave.old[nth].0).collect();
        let ways: Vec<bool> = along
            .windows(2)
            .filter(|w| w[0] != w[1])
            .map(|w| w[0] < w[1])
            .collect();
        assert_eq!(ways.windows(2).filter(|w| w[0] != w[1]).count(), 2);
    }
}
