//! Letters that are hard to tell apart on a screen or a sheet.

use crate::beadwork::{BeadKind, Colour};

/// Letters of one shape, or nearly (common practice, no source).
const LIKE: [&str; 15] = [
    "IlijJ", "OoQD", "Cc", "Ss", "Kk", "Pp", "Uu", "VvUu", "Ww", "Xx", "Zz", "Mm", "EF", "BR", "MN",
];

/// Two letters that are easily misread, and another for the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LikeLetters {
    /// The one, earlier in the pattern.
    pub a: Colour,
    /// The other.
    pub b: Colour,
    /// A letter for the second that is like none of the pattern's.
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

/// A letter of the colour's own name, or else of the alphabet.
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
    use crate::beadwork::Rgb;
    use crate::beadwork::bead::preset;

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
    fn letters_of_one_shape_are_told_of_with_another_from_the_name() {
        assert!(like_letters(&beads("SAN")).is_empty());
        let pairs = like_letters(&beads("OIQ"));
        assert_eq!(pairs.len(), 1);
        assert_eq!((pairs[0].a, pairs[0].b), (Colour(0), Colour(2)));
        // O is taken, L is not, D is like O, I is taken, V is free; L comes first.
        assert_eq!(pairs[0].better, Some('L'));
    }
}
