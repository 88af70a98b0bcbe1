//! Writes a colour word: the shortest one that gives the colours of a side and
//! is easy to read.
//!
//! ```text
//! A S S S S A   ->  A S* A        the longest run stretches
//! A S A S A S   ->  (A S)*        what repeats
//! A S F F S A   ->  A S F mirror  a side that is its own mirror image
//! ```

use super::colour_text::{Letters, MIRROR_WORD};
use crate::beadwork::bead::Colour;

/// The most beads of a group that repeats.
const GROUP: usize = 8;
/// The most beads before and after a group that repeats.
const AROUND: usize = 3;

/// The words of a round's sides, separated by `/`; a single word if it fits
/// all.
pub(super) fn sides(sides: &[Vec<Colour>], letters: &[char]) -> String {
    let words: Vec<String> = sides.iter().map(|side| word(side, letters)).collect();
    match words.iter().all(|word| *word == words[0]) {
        true => words[0].clone(),
        false => words.join(" / "),
    }
}

/// The word of one side.
pub(super) fn word(side: &[Colour], letters: &[char]) -> String {
    let letter = |colour: &Colour| letters.get(usize::from(colour.0)).copied();
    let spelt: Vec<char> = side.iter().filter_map(letter).collect();
    if spelt.is_empty() {
        // The side has no beads, but a word is required.
        let first = letters.first().copied().unwrap_or('A');
        return format!("{first}*");
    }
    let half = spelt.len().div_ceil(2);
    let mirrored = spelt.len() > 3
        && !Letters(letters.to_vec()).spell_mirror()
        && spelt.iter().eq(spelt.iter().rev());
    let half = mirrored.then(|| shortest(&spelt[..half]));
    let whole = shortest(&spelt);
    // Half a word is harder to read than a whole one.
    match half.filter(|half| half.len() + 5 < whole.len()) {
        Some(half) => format!("{half} {MIRROR_WORD}"),
        None => whole,
    }
}

fn shortest(spelt: &[char]) -> String {
    let mut best = runs(spelt);
    for group in 2..=GROUP.min(spelt.len() / 2) {
        for head in 0..=AROUND.min(spelt.len() - 2 * group) {
            for tail in 0..=AROUND.min(spelt.len() - 2 * group - head) {
                let middle = &spelt[head..spelt.len() - tail];
                let repeats = middle.iter().zip(&middle[group..]).all(|(a, b)| a == b);
                if repeats {
                    let (before, after) = (&spelt[..head], &spelt[spelt.len() - tail..]);
                    let parts = [
                        counted(before),
                        format!("({})*", counted(&middle[..group])),
                        counted(after),
                    ];
                    let word = joined(&parts);
                    if word.chars().count() < best.chars().count() {
                        best = word;
                    }
                }
            }
        }
    }
    best
}

/// Runs of one colour; the longest stretches.
fn runs(spelt: &[char]) -> String {
    let runs: Vec<&[char]> = spelt.chunk_by(|a, b| a == b).collect();
    let longest = runs.iter().map(|run| run.len()).max().unwrap_or(0);
    let stretched = runs
        .iter()
        .position(|run| run.len() == longest && (longest > 2 || runs.len() == 1));
    let parts: Vec<String> = runs
        .iter()
        .enumerate()
        .map(|(at, run)| match Some(at) == stretched {
            true => format!("{}*", run[0]),
            false => counted(run),
        })
        .collect();
    joined(&parts)
}

/// Letters with their numbers: `A S3`.
fn counted(spelt: &[char]) -> String {
    let runs = spelt.chunk_by(|a, b| a == b);
    let parts: Vec<String> = runs
        .map(|run| match run.len() {
            1 => run[0].to_string(),
            n => format!("{}{n}", run[0]),
        })
        .collect();
    joined(&parts)
}

fn joined(parts: &[String]) -> String {
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let parts: Vec<&str> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    parts.join(" ")
}

/// Rounds as they are written in a line: `3`, `3 5`, `1-4`, `4-12 by 2`.
pub(super) fn rounds(rounds: &[u32]) -> String {
    let by = match rounds {
        [a, b, _, ..] if b - a > 1 => Some(b - a),
        _ => None,
    };
    if let Some(by) = by.filter(|by| rounds.windows(2).all(|pair| pair[1] - pair[0] == *by)) {
        return format!("{}-{} by {by}", rounds[0], rounds[rounds.len() - 1]);
    }
    let parts: Vec<String> = rounds
        .chunk_by(|a, b| a + 1 == *b)
        .map(|run| match run {
            [one] => one.to_string(),
            [from, .., to] => format!("{from}-{to}"),
            [] => String::new(),
        })
        .collect();
    joined(&parts)
}

/// Lines of colours for rounds and their words; rounds that follow each other with
/// the same words share a line.
pub(super) fn lines(words: &[(u32, String)]) -> Vec<String> {
    let line = |alike: &[(u32, String)]| {
        let numbers: Vec<u32> = alike.iter().map(|(round, _)| *round).collect();
        format!("{}: {}", rounds(&numbers), alike[0].1)
    };
    words.chunk_by(|a, b| a.1 == b.1).map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::super::colour_text::{Letters, read};
    use super::*;
    use proptest::prelude::*;

    const LETTERS: [char; 3] = ['A', 'S', 'F'];

    fn colours(text: &str) -> Vec<Colour> {
        let at = |c| LETTERS.iter().position(|l| *l == c).unwrap();
        text.chars().map(|c| Colour(at(c) as u8)).collect()
    }

    #[test]
    fn words_are_short_and_as_a_maker_would_write_them() {
        for (side, text) in [
            ("A", "A*"),
            ("SSSSS", "S*"),
            ("ASSSA", "A S* A"),
            ("AS", "A S"),
            ("ASA", "A S A"),
            ("ASASAS", "(A S)*"),
            ("ASASASA", "(A S)*"),
            ("FASASASA", "F (A S)*"),
            ("SSAAA", "S2 A*"),
            ("ASSASSASS", "(A S2)*"),
            ("", "A*"),
        ] {
            assert_eq!(word(&colours(side), &LETTERS), text, "{side}");
        }
        let mirrored = word(&colours("ASFFSASFSASFFSA"), &LETTERS);
        assert_eq!(mirrored, "A S F2 S A S F mirror");
    }

    #[test]
    fn sides_alike_have_one_word() {
        let all = [colours("ASSSA"), colours("ASSSA"), colours("ASSSA")];
        assert_eq!(sides(&all, &LETTERS), "A S* A");
        let one = [colours("AAS"), colours("SSS"), colours("SSS")];
        assert_eq!(sides(&one, &LETTERS), "A2 S / S* / S*");
    }

    #[test]
    fn rounds_are_named_as_the_reader_reads_them() {
        for (numbers, text) in [
            (&[3][..], "3"),
            (&[3, 4], "3-4"),
            (&[3, 5], "3 5"),
            (&[1, 2, 3, 7, 9, 10], "1-3 7 9-10"),
            (&[4, 6, 8, 10], "4-10 by 2"),
            (&[2, 5, 8], "2-8 by 3"),
            (&[2, 5, 9], "2 5 9"),
        ] {
            assert_eq!(rounds(numbers), text);
            let read = super::super::round_text::read(text, 12).unwrap();
            let back: Vec<u32> = read.into_iter().flat_map(|r| r.rounds()).collect();
            assert_eq!(back, numbers);
        }
    }

    proptest! {
        /// The written word reads as the side for which it was written.
        #[test]
        fn a_word_gives_its_side(side in proptest::collection::vec(0u8..3, 0..40)) {
            let side: Vec<Colour> = side.into_iter().map(Colour).collect();
            let text = word(&side, &LETTERS);
            let letters = Letters(LETTERS.to_vec());
            let read = read(&text, &letters).unwrap();
            let len = side.len() as u32;
            prop_assert!(read.fits(len), "{text}");
            let back: Vec<Colour> = (0..len).map(|p| read.at(p, len)).collect();
            prop_assert_eq!(back, side, "{}", text);
        }
    }
}
