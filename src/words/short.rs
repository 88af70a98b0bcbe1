//! Words of gaps and of colours, written as short as a pattern file takes
//! them: `(2 1*3)*3`, `A S3 A`.

/// Equal letters side by side, from the first to the last.
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

/// Joins runs, writing `times` only where it says something.
fn spell<T: ToString>(runs: Vec<(T, u32)>, times: &str) -> String {
    let said = runs.into_iter().map(|(letter, n)| match n {
        1 => letter.to_string(),
        n => format!("{}{times}{n}", letter.to_string()),
    });
    said.collect::<Vec<_>>().join(" ")
}

/// The gaps of one side, of a gap word that is the same on every side.
pub fn side(word: &[u8], sides: usize) -> Option<&[u8]> {
    let period = word.len() / sides.max(1);
    let alike = sides > 1
        && period > 0
        && word.len().is_multiple_of(sides)
        && word.chunks(period).all(|side| side == &word[..period]);
    alike.then(|| &word[..period])
}

/// A gap word; one that is the same on every side is written once.
pub fn gaps(word: &[u8], sides: usize) -> String {
    let spelt = |word: &[u8]| spell(runs(word.iter().copied()), "*");
    match side(word, sides) {
        Some(side) if side.len() > 1 => format!("({})*{sides}", spelt(side)),
        _ => spelt(word),
    }
}

/// The colours of one side by the letters of their beads.
pub fn colours(letters: impl IntoIterator<Item = char>) -> String {
    spell(runs(letters), "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gap_word_is_written_once_for_all_sides() {
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
