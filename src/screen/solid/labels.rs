//! Labels on the picture: the name and state of each face, and the letters of
//! the sides that will meet.
//!
//! Corners that will be tied have the word `tie`. A face shows as much as fits:
//! `Face 3 made`, `3 made`, `3+`.

use super::cells::CELL;
use crate::beadwork::frame::side_of;
use crate::geometry::shape::apart;
use crate::geometry::{FaceState, PlateSide, Shape, Standing, names};
use crate::picture::{Picture, View};
use glam::{DVec2, DVec3};

/// A text at least this long has a free cell on both sides.
const LONG: usize = 4;
/// The smallest area of a face with a sign, in spots as wide as high.
const SIGNED: f64 = 14.0;
/// How far out on a face the letter of a side can be, best first.
const OUT: [f64; 3] = [0.74, 0.66, 0.84];
/// Sides of a seam closer than this part of their length need no letters: it is
/// visible that they meet.
const MET: f64 = 0.02;

/// The label at a corner that will be tied, and how far from the corner it is
/// towards the middle of the face.
const TIE: &str = "tie";
const TIED: f64 = 0.15;

/// A text in the picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    pub text: String,
    /// The column of its first letter, and its row, in cells.
    pub at: (usize, usize),
    /// Whether it belongs to the current work.
    pub now: bool,
}

/// The sign of a state, and its word.
pub fn word(state: FaceState) -> (char, &'static str) {
    match state {
        FaceState::Now => ('*', "now"),
        FaceState::Joined => ('=', "joined"),
        FaceState::Made => ('+', "made"),
        FaceState::Open => ('-', "open"),
    }
}

/// The same by ear: for each letter the sides that will meet, and the corners that
/// will be tied.
pub fn meetings(view: &View) -> Vec<String> {
    let (body, places) = (&view.body, &view.places()[..]);
    let side = |s: &PlateSide| format!("side {} of {}", s.side + 1, body.plates[s.plate].name);
    let mut lines = vec![];
    for (one, other) in &body.ties {
        if is_open(body, places, (*one, *other)) {
            let (one, other) = (side(one), side(other));
            lines.push(format!("{TIE}: the end of {one}, the end of {other}"));
        }
    }
    for (nth, seam) in body.seams.iter().enumerate() {
        let sides = seam.sides.iter();
        let sides: Vec<String> = sides
            .filter(|s| is_apart(body, places, nth, **s))
            .map(side)
            .collect();
        if sides.len() > 1 {
            lines.push(format!("{}: {}", names::seam(nth), sides.join(", ")));
        }
    }
    let more = lines.len().saturating_sub(MOST_SAID);
    if more > 0 {
        lines.truncate(MOST_SAID);
        lines.push(format!("and {more} more"));
    }
    lines
}

/// The most letters that are said.
const MOST_SAID: usize = 40;

/// Whether a side will meet others against which it does not lie yet.
fn is_apart(body: &Shape, places: &[Vec<DVec3>], seam: usize, side: PlateSide) -> bool {
    let (from, to) = side_of(&places[side.plate], side.side);
    let long = from.distance(to);
    let mut others = body.seams[seam].sides.iter().filter(|o| **o != side);
    others.any(|other| apart(places, side, *other) > MET * long)
}

/// Whether two corners that will be tied do not lie together yet.
fn is_open(body: &Shape, places: &[Vec<DVec3>], (one, other): (PlateSide, PlateSide)) -> bool {
    let corner = |at: PlateSide| places[at.plate][at.side];
    let (a, b) = (corner(one), corner(other));
    a.distance(b) > MET * a.distance(body.plates[one.plate].middle())
}

/// What the labels are made from.
pub struct Writing<'a> {
    /// The faces and seams.
    pub body: &'a Shape,
    /// The state of faces and sides; `None` to show the piece as finished.
    pub standing: Option<&'a Standing>,
    /// Where all corners lie, mm.
    pub places: &'a [Vec<DVec3>],
}

impl Writing<'_> {
    /// The labels: first those of the current work, then those of the other
    /// faces, then those of the sides. Labels never overlap.
    pub fn labels(&self, picture: &Picture) -> Vec<Label> {
        let mut out: Vec<Label> = vec![];
        let now = |plate: &usize| self.state(*plate) == Some(FaceState::Now);
        let (first, others): (Vec<usize>, Vec<usize>) = (0..self.body.plates.len()).partition(now);
        for plate in first.into_iter().chain(others) {
            let texts = self.texts(picture, plate);
            let at = picture.faces[plate].middle;
            let is_now = self.state(plate) == Some(FaceState::Now);
            let label = self.fitted(picture, plate, at, &texts, is_now, &out);
            out.extend(label);
        }
        for (one, other) in &self.body.ties {
            if is_open(self.body, self.places, (*one, *other)) {
                out.extend(self.tie(picture, *one));
                out.extend(self.tie(picture, *other));
            }
        }
        for (nth, seam) in self.body.seams.iter().enumerate() {
            let before = out.len();
            for &side in &seam.sides {
                if is_apart(self.body, self.places, nth, side) {
                    let label = self.letter(picture, nth, side, &out);
                    out.extend(label);
                }
            }
            // A letter that appears only once says nothing.
            if out.len() - before < 2 {
                out.truncate(before);
            }
        }
        out
    }

    /// The label at a corner that will be tied, if the corner is visible.
    fn tie(&self, picture: &Picture, at: PlateSide) -> Option<Label> {
        let face = &picture.faces[at.plate];
        let spot = face.corners[at.side].lerp(face.middle, TIED);
        let (across, down) = CELL;
        let (x, y) = (spot.x.max(0.0) as usize, spot.y.max(0.0) as usize);
        let seen = picture.at(x, y)?;
        let from = (x / across).checked_sub(TIE.len() / 2)?;
        (seen.plate as usize == at.plate).then(|| Label {
            text: TIE.into(),
            at: (from, y / down),
            now: false,
        })
    }

    fn state(&self, plate: usize) -> Option<FaceState> {
        self.standing.map(|s| s.faces[plate])
    }

    fn texts(&self, picture: &Picture, plate: usize) -> Vec<String> {
        let Some(state) = self.state(plate) else {
            return vec![];
        };
        let ((sign, word), face) = (word(state), &self.body.plates[plate]);
        let mut texts = vec![
            format!("{} {word}", face.name),
            format!("{} {word}", face.short),
            format!("{}{sign}", face.short),
        ];
        // On a very small face a sign would hide the face.
        if picture.faces[plate].spots >= SIGNED || state == FaceState::Now {
            texts.push(sign.to_string());
        }
        texts
    }

    fn letter(
        &self,
        picture: &Picture,
        seam: usize,
        PlateSide { plate, side }: PlateSide,
        others: &[Label],
    ) -> Option<Label> {
        let face = &picture.faces[plate];
        let (from, to) = side_of(&face.corners, side);
        let middle = (from + to) / 2.0;
        let own = PlateSide { plate, side };
        let lit = self.standing.is_some_and(|s| s.join.contains(&own));
        let text = [names::seam(seam)];
        OUT.iter().find_map(|out| {
            let at = face.middle.lerp(middle, *out);
            self.fitted(picture, plate, at, &text, lit, others)
        })
    }

    /// The first of the texts for which the face has room round a point.
    fn fitted(
        &self,
        picture: &Picture,
        plate: usize,
        at: DVec2,
        texts: &[String],
        now: bool,
        others: &[Label],
    ) -> Option<Label> {
        if !(at.x >= 0.0 && at.y >= 0.0) {
            return None;
        }
        // Letters take whole cells.
        let (across, down) = CELL;
        let (x, y) = (at.x as usize / across, at.y as usize / down);
        let own = |x: usize| {
            let spots = (0..across).flat_map(|i| (0..down).map(move |j| (i, j)));
            let mut spots = spots.map(|(i, j)| picture.at(x * across + i, y * down + j));
            spots.all(|spot| spot.is_some_and(|spot| spot.plate as usize == plate))
        };
        texts.iter().find_map(|text| {
            let long = text.chars().count();
            let from = x.checked_sub(long / 2)?;
            let margin = usize::from(long >= LONG);
            let mut cells = from.saturating_sub(margin)..from + long + margin;
            let label = Label {
                text: text.clone(),
                at: (from, y),
                now,
            };
            let is_free = !others.iter().any(|other| label.touches(other));
            (is_free && cells.all(own)).then_some(label)
        })
    }
}

impl Label {
    /// Whether another label is in the same row with less than a cell between.
    fn touches(&self, other: &Label) -> bool {
        let long = |label: &Label| label.text.chars().count();
        let ((x, y), (ox, oy)) = (self.at, other.at);
        y == oy && x <= ox + long(other) && ox <= x + long(self)
    }
}
