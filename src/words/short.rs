//! Gap words and colour words in the short form of a pattern file: `(2 1*3)*3`,
//! `A S3 A`.

/// The runs of equal neighbouring letters, in order: each letter and how often
/// it is repeated.
pub fn runs<T: PartialEq + Copy>(letters: impl IntoIterator<Item = T>) -> Vec<(T, u32)> {
    let mut runs: Vec<(T, u32)> = vec![];
    for letter in letters {
        match runs.last_mut() {
            Some((last, times)) if *last == letter => *times += 1,
            _ => runs.push((letter, 1)),
        }
    }
    runs
}

/// Writes runs with spaces between them; `times` and the number only where a
/// letter is repeated.
fn joined<T: ToString>(runs: Vec<(T, u32)>, times: &str) -> String {
    let words = runs.into_iter().map(|(letter, n)| match n {
        1 => letter.to_string(),
        n => format!("{}{times}{n}", letter.to_string()),
    });
    words.collect::<Vec<_>>().join(" ")
}

/// The gaps of one side, if the gap word is the same on every side.
pub fn side(word: &[u8], sides: usize) -> Option<&[u8]> {
    let period = word.len() / sides.max(1);
    let repeats = sides > 1
        && period > 0
        && word.len().is_multiple_of(sides)
        && word.chunks(period).all(|side| side == &word[..period]);
    repeats.then(|| &word[..period])
}

/// A gap word; one that is the same on every side is written once.
pub fn gaps(word: &[u8], sides: usize) -> String {
    let written = |word: &[u8]| joined(runs(word.iter().copied()), "*");
    match side(word, sides) {
        Some(side) if side.len() > 1 => format!("({})*{sides}", written(side)),
        _ => written(word),
    }
}

/// The colours of one side by the letters of their beads.
pub fn colours(letters: impl IntoIterator<Item = char>) -> String {
    joined(runs(letters), "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gap_word_that_repeats_is_written_once() {
        assert_eq!(gaps(&[2, 1, 1, 2, 1, 1, 2, 1, 1], 3), "(2 1*2)*3");
        assert_eq!(gaps(&[2, 2, 2], 3), "2*3");
        assert_eq!(gaps(&[1, 1, 0, 1, 1, 1], 3), "1*2 0 1*3");
        assert_eq!(gaps(&[2, 1, 1, 1], 3), "2 1*3");
        assert_eq!(gaps(&[1, 1, 0, 1, 1, 0, 1, 1, 0], 3), "(1*2 0)*3");
    }

    #[test]
    fn a_colour_word_counts_equal_beads() {
        assert_eq!(colours("ASSSA".chars()), "A S3 A");
        assert_eq!(colours("".chars()), "");
    }
}
