//! Colours and letters that are hard to tell apart (in daylight, in lamp light,
//! and with the common colour-vision deficiencies), and shades and letters that
//! would be easier.

mod seen;

pub use seen::{HARD_TO_TELL, Seen, colour_seen, difference};

use crate::beadwork::{BeadKind, Colour, Rgb};
use palette::{FromColor, Oklch, Srgb};

/// Two colours that are hard to tell apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Alike {
    /// The one that comes earlier in the pattern.
    pub a: Colour,
    /// The other.
    pub b: Colour,
    /// Each way of seeing in which their CIEDE2000 difference is below the
    /// limit, with that difference; the most alike first.
    pub seen: Vec<(Seen, f32)>,
    /// A lighter or darker shade for the second colour that can be told from
    /// every other colour in all ways of seeing, if there is one.
    pub better: Option<Rgb>,
}

impl Alike {
    /// Where they are hard to tell apart, in words: kinds of light first, then
    /// colour-vision deficiencies.
    pub fn ways(&self) -> String {
        let seen = |way: &&Seen| self.seen.iter().any(|(seen, _)| seen == *way);
        let ways: Vec<&str> = Seen::ALL
            .iter()
            .filter(seen)
            .map(|way| way.words())
            .collect();
        match ways.as_slice() {
            [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
            one => one.join(""),
        }
    }
}

/// All pairs of a pattern's colours that are hard to tell apart.
pub fn alike(beads: &[BeadKind]) -> Vec<Alike> {
    let mut pairs = vec![];
    for a in 0..beads.len() {
        for b in a + 1..beads.len() {
            let mut seen: Vec<(Seen, f32)> = Seen::ALL
                .map(|seen| (seen, difference(beads[a].colour, beads[b].colour, seen)))
                .into_iter()
                .filter(|&(_, far)| far < HARD_TO_TELL)
                .collect();
            if seen.is_empty() {
                continue;
            }
            seen.sort_by(|x, y| x.1.total_cmp(&y.1));
            pairs.push(Alike {
                a: Colour(a as u8),
                b: Colour(b as u8),
                seen,
                better: better_shade(beads, b),
            });
        }
    }
    pairs
}

/// Steps of lightness that are tried in each direction.
const STEPS: i32 = 40;

/// The shade of bead `which` nearest its own that can be told from every other
/// colour in every way of seeing. Its lightness changes, its hue does not.
pub fn better_shade(beads: &[BeadKind], which: usize) -> Option<Rgb> {
    let Rgb(red, green, blue) = beads[which].colour;
    let own = Oklch::from_color(Srgb::new(red, green, blue).into_format::<f32>());
    let tells = |shade: &Rgb| {
        let others = beads.iter().enumerate().filter(|&(nth, _)| nth != which);
        others.map(|(_, bead)| bead.colour).all(|other| {
            Seen::ALL
                .into_iter()
                .all(|s| difference(*shade, other, s) >= HARD_TO_TELL)
        })
    };
    (1..=STEPS)
        .flat_map(|step| [step, -step])
        .map(|step| own.l + step as f32 / STEPS as f32)
        .filter(|light| (0.08..=0.97).contains(light))
        .map(|light| shade(Oklch { l: light, ..own }))
        .find(tells)
}

/// The colour on a screen, made paler if the screen cannot show it.
fn shade(colour: Oklch) -> Rgb {
    let mut colour = colour;
    loop {
        let rgb = Srgb::from_color(colour);
        let inside = |part: f32| (-0.001..=1.001).contains(&part);
        if (inside(rgb.red) && inside(rgb.green) && inside(rgb.blue)) || colour.chroma < 0.005 {
            let rgb: Srgb<u8> = rgb.into_format();
            return Rgb(rgb.red, rgb.green, rgb.blue);
        }
        colour.chroma *= 0.9;
    }
}

/// Letters of the same or nearly the same shape (common practice, no source).
const LIKE: [&str; 15] = [
    "IlijJ", "OoQD", "Cc", "Ss", "Kk", "Pp", "Uu", "VvUu", "Ww", "Xx", "Zz", "Mm", "EF", "BR", "MN",
];

/// Two letters that are easily misread, and another for the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LikeLetters {
    /// The one that comes earlier in the pattern.
    pub a: Colour,
    /// The other.
    pub b: Colour,
    /// A letter for the second that looks like none of the pattern's letters.
    pub better: Option<char>,
}

/// All pairs of a pattern's letters that are easily misread.
pub fn like_letters(beads: &[BeadKind]) -> Vec<LikeLetters> {
    let mut pairs = vec![];
    for a in 0..beads.len() {
        for b in a + 1..beads.len() {
            if are_like(beads[a].letter, beads[b].letter) {
                pairs.push(LikeLetters {
                    a: Colour(a as u8),
                    b: Colour(b as u8),
                    better: better(beads, b),
                });
            }
        }
    }
    pairs
}

fn are_like(a: char, b: char) -> bool {
    LIKE.iter().any(|like| like.contains(a) && like.contains(b))
}

/// A letter from the colour's name, or else from the alphabet.
fn better(beads: &[BeadKind], which: usize) -> Option<char> {
    let free = |c: &char| {
        let mut others = beads.iter().enumerate().filter(|&(nth, _)| nth != which);
        others.all(|(_, bead)| bead.letter != *c && !are_like(bead.letter, *c))
    };
    let own = beads[which].letter;
    let name = beads[which].name.to_uppercase();
    let name: Vec<char> = name.chars().filter(char::is_ascii_uppercase).collect();
    name.into_iter()
        .chain('A'..='Z')
        .filter(|&c| c != own)
        .find(free)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::bead::preset;
    use palette::Lab;
    use palette::color_difference::Ciede2000;
    use palette::white_point::D65;

    fn bead(letter: char, colour: Rgb) -> BeadKind {
        BeadKind {
            letter,
            name: letter.to_string(),
            size: preset("cylinder 11/0").unwrap(),
            colour,
        }
    }

    /// The published test pairs of G. Sharma, W. Wu and E. N. Dalal, "The
    /// CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary
    /// Test Data, and Mathematical Observations", 2005, table 1 (from memory).
    #[test]
    fn the_difference_agrees_with_the_published_test_pairs() {
        type Pair = ([f32; 3], [f32; 3], f32);
        const PAIRS: [Pair; 34] = [
            ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
            ([50.0, 3.1571, -77.2803], [50.0, 0.0, -82.7485], 2.8615),
            ([50.0, 2.8361, -74.0200], [50.0, 0.0, -82.7485], 3.4412),
            ([50.0, -1.3802, -84.2814], [50.0, 0.0, -82.7485], 1.0),
            ([50.0, -1.1848, -84.8006], [50.0, 0.0, -82.7485], 1.0),
            ([50.0, -0.9009, -85.5211], [50.0, 0.0, -82.7485], 1.0),
            ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
            ([50.0, -1.0, 2.0], [50.0, 0.0, 0.0], 2.3669),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0009], 7.1792),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.001], 7.1792),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0011], 7.2195),
            ([50.0, 2.49, -0.001], [50.0, -2.49, 0.0012], 7.2195),
            ([50.0, -0.001, 2.49], [50.0, 0.0009, -2.49], 4.8045),
            ([50.0, -0.001, 2.49], [50.0, 0.001, -2.49], 4.8045),
            ([50.0, -0.001, 2.49], [50.0, 0.0011, -2.49], 4.7461),
            ([50.0, 2.5, 0.0], [50.0, 0.0, -2.5], 4.3065),
            ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
            ([50.0, 2.5, 0.0], [61.0, -5.0, 29.0], 22.8977),
            ([50.0, 2.5, 0.0], [56.0, -27.0, -3.0], 31.9030),
            ([50.0, 2.5, 0.0], [58.0, 24.0, 15.0], 19.4535),
            ([50.0, 2.5, 0.0], [50.0, 3.1736, 0.5854], 1.0),
            ([50.0, 2.5, 0.0], [50.0, 3.2972, 0.0], 1.0),
            ([50.0, 2.5, 0.0], [50.0, 1.8634, 0.5757], 1.0),
            ([50.0, 2.5, 0.0], [50.0, 3.2592, 0.3350], 1.0),
            (
                [60.2574, -34.0099, 36.2677],
                [60.4626, -34.1751, 39.4387],
                1.2644,
            ),
            (
                [63.0109, -31.0961, -5.8663],
                [62.8187, -29.7946, -4.0864],
                1.2630,
            ),
            (
                [61.2901, 3.7196, -5.3901],
                [61.4292, 2.2480, -4.9620],
                1.8731,
            ),
            (
                [35.0831, -44.1164, 3.7933],
                [35.0232, -40.0716, 1.5901],
                1.8645,
            ),
            (
                [22.7233, 20.0904, -46.6940],
                [23.0331, 14.9730, -42.5619],
                2.0373,
            ),
            (
                [36.4612, 47.8580, 18.3852],
                [36.2715, 50.5065, 21.2231],
                1.4146,
            ),
            (
                [90.8027, -2.0831, 1.4410],
                [91.1528, -1.6435, 0.0447],
                1.4441,
            ),
            (
                [90.9257, -0.5406, -0.9208],
                [88.6381, -0.8985, -0.7239],
                1.5381,
            ),
            (
                [6.7747, -0.2908, -2.4247],
                [5.8714, -0.0985, -2.2286],
                0.6377,
            ),
            (
                [2.0776, 0.0795, -1.1350],
                [0.9033, -0.0636, -0.5514],
                0.9082,
            ),
        ];
        for (nth, (a, b, wanted)) in PAIRS.into_iter().enumerate() {
            let lab = |[l, a, b]: [f32; 3]| Lab::<D65, f32>::new(l, a, b);
            let found = lab(a).difference(lab(b));
            // In pairs 9 to 15 a difference of 0.0001 reverses the hue; single
            // precision keeps the others to a thousandth.
            assert!(
                (found - wanted).abs() < 0.001,
                "pair {}: {found} {wanted}",
                nth + 1
            );
        }
    }

    /// Facts of the trade (common practice, no source): a red and a green of
    /// equal lightness are confused only by people without the cones for red or
    /// green; navy and black are confused in lamp light; black and white never.
    #[test]
    fn known_pairs_are_reported_and_others_are_not() {
        let ways = |a, b| -> Vec<Seen> {
            let pairs = alike(&[bead('A', a), bead('B', b)]);
            pairs
                .iter()
                .flat_map(|p| p.seen.iter().map(|s| s.0))
                .collect()
        };
        assert_eq!(ways(Rgb(0, 0, 0), Rgb(255, 255, 255)), []);
        let rust_moss = ways(Rgb(150, 90, 40), Rgb(100, 110, 30));
        assert!(!rust_moss.contains(&Seen::Daylight), "{rust_moss:?}");
        assert!(rust_moss.contains(&Seen::Deuteranopia) || rust_moss.contains(&Seen::Protanopia));
        assert!(ways(Rgb(20, 20, 45), Rgb(12, 12, 14)).contains(&Seen::LampLight));
        assert!(ways(Rgb(120, 60, 60), Rgb(121, 61, 60)).contains(&Seen::Daylight));
    }

    #[test]
    fn a_shade_that_is_proposed_can_be_told_from_every_colour() {
        let beads = [
            bead('A', Rgb(150, 90, 40)),
            bead('B', Rgb(110, 105, 40)),
            bead('C', Rgb(240, 235, 220)),
        ];
        let pairs = alike(&beads);
        assert!(!pairs.is_empty());
        for pair in pairs {
            let better = pair.better.expect("there is room in these three");
            for (nth, other) in beads.iter().enumerate() {
                if nth != usize::from(pair.b.0) {
                    for seen in Seen::ALL {
                        assert!(difference(better, other.colour, seen) >= HARD_TO_TELL);
                    }
                }
            }
        }
    }

    fn beads(letters: &str) -> Vec<BeadKind> {
        let bead = |letter| BeadKind {
            letter,
            name: "old ivory".into(),
            size: preset("cylinder 11/0").unwrap(),
            colour: Rgb(0, 0, 0),
        };
        letters.chars().map(bead).collect()
    }

    #[test]
    fn letters_of_one_shape_are_reported_with_another_from_the_name() {
        assert!(like_letters(&beads("SAN")).is_empty());
        let pairs = like_letters(&beads("OIQ"));
        assert_eq!(pairs.len(), 1);
        assert_eq!((pairs[0].a, pairs[0].b), (Colour(0), Colour(2)));
        // O is taken, L is not, D is like O, I is taken, V is free; L comes first.
        assert_eq!(pairs[0].better, Some('L'));
    }
}
