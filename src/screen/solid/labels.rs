//! Letters on the picture: how a face stands, and the numbers of the sides
//! that will meet.

use super::raster::Picture;
use crate::sight::{Body, FaceState, Standing};
use glam::DVec2;

/// A face needs so many spots across to bear a letter, and a word.
const LETTER: usize = 4;
/// How far out on a face the number of a side stands.
const OUT: f64 = 0.74;

/// A text on the picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The text.
    pub text: String,
    /// Its first spot's column, and its spots' row.
    pub at: (usize, usize),
    /// It belongs to what is worked now.
    pub now: bool,
}

/// The letter of a state, and its word.
pub fn word(state: FaceState) -> (char, &'static str) {
    match state {
        FaceState::Now => ('n', "now"),
        FaceState::Joined => ('j', "joined"),
        FaceState::Made => ('m', "made"),
        FaceState::Open => ('o', "open"),
    }
}

/// What stands on the picture: a letter on each face that has room, and with
/// `numbers` the number of its seam on each side.
pub fn labels(picture: &Picture, body: &Body, standing: &Standing, numbers: bool) -> Vec<Label> {
    let mut out = vec![];
    for (plate, state) in standing.faces.iter().enumerate() {
        let face = &picture.faces[plate];
        let (letter, word) = word(*state);
        let now = *state == FaceState::Now;
        let nth = plate + 1;
        let mut texts = vec![format!("{nth}{letter}"), letter.to_string()];
        if !numbers {
            texts.insert(0, format!("{nth} {word}"));
        }
        out.extend(fitted(picture, plate, face.middle, &texts, now));
        if !numbers {
            continue;
        }
        for (side, seam) in body.plates[plate].seams.iter().enumerate() {
            let Some(seam) = seam else { continue };
            let n = face.corners.len();
            let middle = (face.corners[(side + n - 1) % n] + face.corners[side]) / 2.0;
            let at = face.middle.lerp(middle, OUT);
            let lit = standing
                .join
                .iter()
                .any(|s| (s.plate, s.side) == (plate, side));
            let text = [(seam + 1).to_string()];
            if face.reach[side] >= 5.0 {
                out.extend(fitted(picture, plate, at, &text, lit));
            }
        }
    }
    out
}

/// The first of the texts for which the face has room round a point.
fn fitted(
    picture: &Picture,
    plate: usize,
    at: DVec2,
    texts: &[String],
    now: bool,
) -> Option<Label> {
    if !(at.x >= 0.0 && at.y >= 0.0) {
        return None;
    }
    // Letters stand in whole cells, of two spots one above the other.
    let (x, y) = (at.x as usize, at.y as usize / 2 * 2);
    let own = |x: usize, y: usize| {
        picture
            .at(x, y)
            .is_some_and(|spot| spot.plate as usize == plate)
    };
    texts.iter().find_map(|text| {
        let long = text.chars().count();
        let from = x.checked_sub(long / 2)?;
        let margin = usize::from(long >= LETTER);
        let mut across = from.saturating_sub(margin)..from + long + margin;
        let room = across.all(|x| own(x, y) && own(x, y + 1));
        room.then(|| Label {
            text: text.clone(),
            at: (from, y),
            now,
        })
    })
}
