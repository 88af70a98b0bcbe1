//! A panel lying flat, seen from outside, with side 1 at the bottom.
//!
//! Every bead lies at its true place ([`FlatFace`]), along its side. The
//! numbers of the rounds are in the middle of side 1. The first bead of each
//! round has a strong outline, so that these beads show the step-ups or
//! step-downs.

use glam::DVec2;

use crate::beadwork::flat_face::FlatFace;
use crate::beadwork::layout::Seat;
use crate::beadwork::making::Begin;
use crate::beadwork::project::WorkDirection;
use crate::beadwork::round_info::RoundDirection;
use crate::beadwork::{Panel, Round, Sequence, Side};
use crate::geometry::polygon::bounds;
use crate::sheet::Hand;
use crate::sheet::drawing::{
    BeadOnPaper, BeadRole, Drawing, Element, GreyMark, Pen, Sign, TextSetting,
};

use super::{Budget, LONGEST, PAPER, SMALLEST};

/// Room round the panel for the names of its sides, mm.
const ROOM: f64 = 8.0;

/// The part of its length and width at which a bead is drawn, so that
/// neighbours stay separate.
const BODY: f64 = 0.93;

/// A panel laid on paper.
struct PanelDrawing<'a> {
    seq: &'a Sequence,
    panel: Panel,
    face: FlatFace<'a>,
    /// Millimetres on paper for each millimetre of the panel, across and up.
    scale: DVec2,
    /// Distance from round to round, mm on paper.
    row_mm: f64,
}

/// The drawing of a panel, at most `height` mm tall.
pub fn panel(
    seq: &Sequence,
    panel: Panel,
    hand: Hand,
    budget: &mut Budget,
    height: f64,
) -> Drawing {
    let layout = seq.layout();
    let (kind, making) = (layout.kind(panel), layout.making(panel));
    let spec = layout.panel(panel).spec;
    // Side 1 is at the bottom if what lies opposite is at the top.
    let face = FlatFace::turned(layout, panel, f64::from(kind.sides()) / 2.0);
    // Rows that are not equally wide would lie over one another.
    let are_apart = kind.strip().is_some_and(|strip| !strip.is_plain());
    let up = if are_apart { 2.0 } else { 1.0 };
    let scale = fits(&face, DVec2::new(PAPER.x, height), up);
    let paper = PanelDrawing {
        seq,
        panel,
        row_mm: face.brick().y / 2.0 * scale.y,
        face,
        scale,
    };
    let each = budget.take(making.beads());
    let name = &layout.project().panels[spec].name;
    let way = match making.begin.way() {
        _ if kind.strip().is_some() => "to and fro",
        WorkDirection::Outward => RoundDirection::Outward.name(),
        WorkDirection::Inward => RoundDirection::Inward.name(),
    };
    let (from, to) = (making.innermost(), kind.last());
    let how = match each {
        true => "every bead at its place, with the letter of its colour where there is room for it",
        false => "each round as a line, since its beads are too many to be drawn one by one",
    };
    let what = match kind.strip() {
        Some(strip) => format!(
            "A strip {} beads wide, rows {from} to {to}, row 1 below{}",
            strip.columns(),
            match are_apart {
                true => ", and further apart than they lie, since they are not equally wide",
                false => "",
            }
        ),
        None => format!(
            "A panel of {} sides seen from outside, side 1 below, rounds {from} to {to}",
            kind.sides()
        ),
    };
    let word = match kind.strip() {
        Some(_) => "Strip",
        None => "Panel",
    };
    let title = format!("{word} '{name}', worked {way}");
    let mut drawing = Drawing::new(title, format!("{what}: {how}."));
    match each {
        true => paper.beads(&mut drawing),
        false => paper.rounds(&mut drawing),
    }
    paper.sides(&mut drawing);
    if from.0 > 1 {
        drawing.words(DVec2::ZERO, "open", 3.0, TextSetting::Middle);
    }
    drawing.on_paper(1.0).for_hand(hand)
}

/// The largest scale at which the panel, drawn `up` times as high as it lies, fits
/// on the paper and no bead is longer than necessary.
fn fits(face: &FlatFace, paper: DVec2, up: f64) -> DVec2 {
    let layout = face.layout();
    let kind = layout.kind(face.panel());
    let sides = (0..kind.sides()).map(Side);
    let corners: Vec<DVec2> = match kind.strip() {
        Some(_) => <[DVec2; 2]>::from(face.bounds()).to_vec(),
        None => sides.map(|s| face.point(s, 1.0, 1.0)).collect(),
    };
    let (low, high) = bounds(&corners);
    // The outermost beads extend about one bead beyond the corners.
    let up = DVec2::new(1.0, up);
    let span = (high - low + 2.0 * layout.bead_diameter_mm()) * up;
    let fit = ((paper - 2.0 * ROOM) / span).min_element();
    fit.min(LONGEST / layout.bead_length_mm()) * up
}

impl PanelDrawing<'_> {
    /// A point of the face on paper, where y goes down.
    fn on_paper(&self, p: DVec2) -> DVec2 {
        DVec2::new(p.x, -p.y) * self.scale
    }

    fn at(&self, side: Side, out: f64, along: f64) -> DVec2 {
        self.on_paper(self.face.point(side, out, along))
    }

    fn seat(&self, round: Round, index: u32) -> Seat {
        let layout = self.seq.layout();
        layout.seat(layout.bead(self.panel, round, index))
    }

    fn brick(&self, seat: Seat) -> BeadOnPaper {
        let layout = self.seq.layout();
        let bead = layout.bead_kind(layout.colour_of(seat));
        let lies = self.face.lies(seat);
        let room = match layout.kind(self.panel).strip() {
            Some(strip) => strip.size(layout.project().bead_mm()).x / f64::from(seat.of.max(1)),
            None => f64::INFINITY,
        };
        let length = bead.size.length_mm.min(room);
        let size = DVec2::new(length, bead.size.diameter_mm) * self.scale.x * BODY;
        let mut brick = BeadOnPaper {
            turn: turn(self.on_paper(lies.along)),
            letter: Some(bead.letter),
            ..BeadOnPaper::level(self.on_paper(lies.middle), size, bead.colour)
        };
        if !lies.across && layout.kind(self.panel).strip().is_none() {
            self.keep_to_side(&mut brick, seat.side);
        }
        brick
    }

    /// Cuts off what would lie over the beads of a neighbouring side: at
    /// corners and in the middle beads lean, which a flat drawing cannot show.
    fn keep_to_side(&self, brick: &mut BeadOnPaper, side: Side) {
        let before = self.seq.layout().kind(self.panel).side_before(side);
        let (from, to) = (self.at(before, 1.0, 1.0), self.at(side, 1.0, 1.0));
        let gap = brick.size.x * (1.0 - BODY) / 2.0;
        // Inside is to the left of the line out to the start of the side, and
        // to the right of the line out to its end; y goes down.
        brick.cut_off(-from.normalize_or_zero().perp(), gap);
        brick.cut_off(to.normalize_or_zero().perp(), gap);
    }

    fn beads(&self, drawing: &mut Drawing) {
        let layout = self.seq.layout();
        let (kind, making) = (layout.kind(self.panel), layout.making(self.panel));
        let every = match self.row_mm {
            row if row >= 2.3 => 1,
            row if row >= 0.7 => 5,
            _ => 10,
        };
        let mut tags = vec![];
        let rounds = making.innermost().0..=kind.rounds();
        for k in rounds.clone() {
            let round = Round(k);
            let first = making.start(round);
            let on_axis = kind.on_side(round, Side(0)) / 2;
            let is_numbered = k % every == 0 || k == making.innermost().0 && every == 1;
            for index in 0..kind.in_round(round) {
                let seat = self.seat(round, index);
                let mut brick = self.brick(seat);
                if index == first {
                    brick.part = BeadRole::First;
                }
                if brick.letter_size() < SMALLEST {
                    brick.letter = None;
                    brick.mark = GreyMark::of(usize::from(layout.colour_of(seat).0));
                }
                if is_numbered && seat.side == Side(0) && seat.place == on_axis.min(seat.of - 1) {
                    let width = brick.size.y;
                    if brick.letter.is_some() && width >= 6.0 && k > 2 {
                        tags.push((brick.at + DVec2::Y * (width * 0.24), 2.3, k));
                        brick.letter_off.y = -width * 0.18;
                    } else {
                        let size = if every == 1 { 2.2 } else { 2.6 };
                        tags.push((brick.at + brick.letter_off, size, k));
                        brick.letter = None;
                    }
                }
                drawing.shapes.push(Element::Bead(brick));
            }
        }
        if self.row_mm >= 1.2 {
            rounds.for_each(|k| self.signs(drawing, Round(k)));
        }
        for (at, size, k) in tags {
            drawing.words(at, k.to_string(), size, TextSetting::Tag);
        }
        super::covered::uncover(drawing);
        let begin = match making.begin {
            Begin::Ring => Round(1),
            Begin::TwoRows => Round(2),
            Begin::FreeStart | Begin::Rim => kind.last(),
        };
        let seat = self.seat(begin, making.start(begin));
        let first = self.brick(seat);
        let way = self.at(seat.side, 1.0, 1.0) - self.at(seat.side, 1.0, 0.0);
        // Beside its letter, and not over the beads of its round.
        let off = first.at.normalize_or_zero() * first.size.y * 0.32;
        let sign = Sign::Start(way.to_angle().to_degrees());
        let at = first.at + first.letter_off + off;
        drawing.shapes.push(Element::Sign(at, sign));
    }

    /// The increases with which a round was made, or the decreases with which
    /// the next one is worked on it.
    fn signs(&self, drawing: &mut Drawing, on: Round) {
        let layout = self.seq.layout();
        let (kind, making) = (layout.kind(self.panel), layout.making(self.panel));
        let last = match making.begin.way() {
            WorkDirection::Outward => kind.last(),
            WorkDirection::Inward => making.innermost(),
        };
        if on == last {
            return;
        }
        let strung_first = making.begin == Begin::FreeStart && on == kind.last();
        let work = making.work(kind, on);
        for j in 0..work.gaps() {
            let (round, beads, sign) = match work.in_gap(j) {
                0 => (on, [j, j + 1].map(|j| work.old_bead(j)), Sign::Decrease),
                2 if !strung_first => {
                    let n = work.strung_before(j);
                    let beads = [n, n + 1].map(|n| work.new_bead(n));
                    (work.makes, beads, Sign::Increase)
                }
                _ => continue,
            };
            let [a, b] = beads.map(|index| self.brick(self.seat(round, index)).at);
            drawing.shapes.push(Element::Sign((a + b) / 2.0, sign));
        }
    }

    /// A panel with too many beads, drawn by its rounds: a line for each, or
    /// for every fifth, tenth … of them, so that they stay separate on paper.
    fn rounds(&self, drawing: &mut Drawing) {
        let layout = self.seq.layout();
        let (kind, making) = (layout.kind(self.panel), layout.making(self.panel));
        let rounds = kind.rounds();
        let apart = |mm: f64| {
            let powers = (0..6).map(|n| 10_u32.pow(n));
            let mut steps = powers.flat_map(|n| [n, 5 * n]);
            let fits = |step: &u32| f64::from(*step) * self.row_mm >= mm;
            steps.find(fits).unwrap_or(1_000_000)
        };
        let (line, number) = (apart(0.9), apart(3.6).max(5));
        let mut tags = vec![];
        for k in making.innermost().0..=rounds {
            let strong = k % number == 0 || k == rounds;
            if !strong && k % line != 0 {
                continue;
            }
            let pen = if strong { Pen::Fifth } else { Pen::Round };
            let out = (f64::from(k) - 0.5) / (f64::from(rounds) + 0.5);
            let outline = match kind.strip() {
                Some(_) => [0.0, 1.0]
                    .map(|along| self.at(Side(0), out, along))
                    .to_vec(),
                None => {
                    let sides = (0..kind.sides()).map(Side);
                    sides.map(|side| self.at(side, out, 1.0)).collect()
                }
            };
            drawing.shapes.push(Element::Area(outline, pen));
            if k % number == 0 {
                tags.push((self.at(Side(0), out, 0.5), k));
            }
        }
        for (at, k) in tags {
            drawing.words(at, k.to_string(), 2.6, TextSetting::Tag);
        }
    }

    /// The names of the sides, and the direction of the needle.
    fn sides(&self, drawing: &mut Drawing) {
        let layout = self.seq.layout();
        if layout.kind(self.panel).strip().is_some() {
            return;
        }
        let beside = layout.bead_diameter_mm() * self.scale.x * 0.35 + 3.2;
        for side in (0..layout.kind(self.panel).sides()).map(Side) {
            let middle = self.at(side, 1.0, 0.5);
            let away = middle.normalize_or_zero();
            let set = match away.x {
                x if x > 0.3 => TextSetting::Right,
                x if x < -0.3 => TextSetting::Left,
                _ => TextSetting::Middle,
            };
            drawing.words(middle + away * beside, format!("side {side}"), 3.0, set);
        }
        let below = self.at(Side(0), 1.0, 0.5) + DVec2::Y * beside;
        for ends in [[-20.0, -7.0], [7.0, 20.0]] {
            drawing.line(ends.map(|x| below + DVec2::X * x), Pen::Needle);
        }
    }
}

/// The angle of a direction from horizontal, degrees from -90 to 90.
fn turn(along: DVec2) -> f64 {
    match along.to_angle().to_degrees() {
        d if d > 90.0 => d - 180.0,
        d if d <= -90.0 => d + 180.0,
        d => d,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Closing;
    use crate::beadwork::testing;

    fn drawn(project: crate::beadwork::Project) -> Drawing {
        let seq = Sequence::new(project);
        panel(&seq, Panel(0), Hand::Right, &mut Budget::default(), PAPER.y)
    }

    fn bricks(drawing: &Drawing) -> Vec<&BeadOnPaper> {
        let mut bricks = vec![];
        for shape in &drawing.shapes {
            if let Element::Bead(brick) = shape {
                bricks.push(brick);
            }
        }
        bricks
    }

    /// OEIS A045943: 30, 108 beads after 4 and 8 rounds; 5490 after 60.
    #[test]
    fn every_bead_of_a_triangle_is_drawn_and_fits_the_paper() {
        for (rounds, beads) in [(1, 3), (4, 30), (8, 108), (60, 5490)] {
            let drawing = drawn(testing::single(testing::panel(3, rounds)));
            assert_eq!(bricks(&drawing).len(), beads);
            assert!(
                drawing.size.x <= PAPER.x && drawing.size.y <= PAPER.y,
                "{}",
                drawing.size
            );
        }
    }

    #[test]
    fn each_round_has_one_first_bead_and_its_number() {
        let drawing = drawn(testing::single(testing::panel(3, 8)));
        let first = bricks(&drawing)
            .into_iter()
            .filter(|b| b.part == BeadRole::First);
        assert_eq!(first.count(), 8);
        assert_eq!(tags(&drawing), ["1", "2", "3", "4", "5", "6", "7", "8"]);
    }

    fn tags(drawing: &Drawing) -> Vec<&str> {
        let mut tags = vec![];
        for shape in &drawing.shapes {
            if let Element::Label(_, words) = shape
                && words.set == TextSetting::Tag
            {
                tags.push(words.text.as_str());
            }
        }
        tags
    }

    #[test]
    fn with_sixty_rounds_every_fifth_is_numbered() {
        let drawing = drawn(testing::single(testing::panel(3, 60)));
        let numbers: Vec<String> = (1..=12).map(|n| (5 * n).to_string()).collect();
        assert_eq!(tags(&drawing), numbers);
    }

    #[test]
    fn a_panel_of_a_million_beads_is_drawn_by_its_rounds() {
        let drawing = drawn(testing::single(testing::panel(3, 900)));
        assert!(bricks(&drawing).is_empty());
        assert!(drawing.shapes.len() < 1000, "{}", drawing.shapes.len());
        assert!(drawing.desc.contains("too many to be drawn one by one"));
        assert!(tags(&drawing).len() > 5);
    }

    /// Seen from outside, the sides follow one another anticlockwise: side 1 at
    /// the bottom, side 2 to the right, side 3 to the left.
    #[test]
    fn side_two_of_a_triangle_lies_to_the_right_and_mirrored_to_the_left() {
        let seq = Sequence::new(testing::single(testing::panel(3, 5)));
        let side = |hand| {
            let drawing = panel(&seq, Panel(0), hand, &mut Budget::default(), PAPER.y);
            let at = |name: &str| {
                drawing.shapes.iter().find_map(|s| match s {
                    Element::Label(at, words) if words.text == name => Some(*at),
                    _ => None,
                })
            };
            let half = drawing.size / 2.0;
            assert!(at("side 1").unwrap().y > half.y);
            (
                at("side 2").unwrap().x - half.x,
                at("side 3").unwrap().x - half.x,
            )
        };
        let (two, three) = side(Hand::Right);
        assert!(two > 0.0 && three < 0.0);
        let (two, three) = side(Hand::Left);
        assert!(two < 0.0 && three > 0.0);
    }

    /// A triangle worked inward closes three corners each round.
    #[test]
    fn decreases_are_marked_round_by_round() {
        let drawing = drawn(testing::single(testing::inward(3, 6, 2)));
        let marks = drawing
            .shapes
            .iter()
            .filter(|s| matches!(s, Element::Sign(_, Sign::Decrease)));
        // Rounds 6, 5 and 4 are worked on; round 3 is the innermost.
        assert_eq!(marks.count(), 9);
    }

    /// A strip that takes beads in and out keeps every letter: no bead lies over
    /// another.
    #[test]
    fn rows_that_are_not_equally_wide_do_not_lie_over_one_another() {
        use crate::beadwork::gap_word::GapWord;
        use crate::beadwork::project::Growth;
        use crate::geometry::polygon::overlap;
        let words = [
            [1, 1, 1, 1].to_vec(),
            vec![1, 2, 2, 1],
            vec![1; 6],
            vec![2; 6],
        ];
        let words = words.map(GapWord::new).to_vec();
        let mut spec = testing::strip(4, 6);
        spec.growth = Growth::Rows { beads: 4, words };
        let drawing = drawn(testing::single(spec));
        let bricks = bricks(&drawing);
        assert_eq!(bricks.len(), 4 * 3 + 6 * 2 + 12);
        for (i, a) in bricks.iter().enumerate() {
            for b in &bricks[i + 1..] {
                assert!(!overlap(&a.outline(), &b.outline()), "{a:?} {b:?}");
            }
        }
        let numbered = tags(&drawing).len();
        let letters = bricks.iter().filter(|brick| brick.letter.is_some()).count();
        assert!(
            letters + numbered >= bricks.len(),
            "{letters} and {numbered}"
        );
        assert!(drawing.size.x <= PAPER.x && drawing.size.y <= PAPER.y);
    }

    #[test]
    fn beads_of_different_sides_do_not_lie_over_one_another() {
        let seq = Sequence::new(testing::solid(
            crate::beadwork::project::Solid::Tetrahedron,
            6,
            Closing::SetIn,
        ));
        let drawing = panel(&seq, Panel(0), Hand::Right, &mut Budget::default(), PAPER.y);
        let bricks = bricks(&drawing);
        let inside = |shape: &[DVec2], p: DVec2| {
            let turns: Vec<f64> = (0..shape.len())
                .map(|i| (shape[(i + 1) % shape.len()] - shape[i]).perp_dot(p - shape[i]))
                .collect();
            turns.iter().all(|t| *t > 1e-6) || turns.iter().all(|t| *t < -1e-6)
        };
        let middle = |shape: &[DVec2]| shape.iter().sum::<DVec2>() / shape.len() as f64;
        let shape = |b: &BeadOnPaper| b.outline();
        for (i, a) in bricks.iter().enumerate() {
            for b in &bricks[i + 1..] {
                let (a, b) = (shape(a), shape(b));
                assert!(!inside(&a, middle(&b)) && !inside(&b, middle(&a)));
            }
        }
    }
}
