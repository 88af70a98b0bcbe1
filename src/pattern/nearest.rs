//! The right name that a wrong one most likely meant.

/// Longer words are no slips of the finger.
const LONGEST: usize = 60;

/// The name nearest to `wrong` by slips of typing (a letter wrong, missing,
/// too many, or two swapped), if it is near enough to have been meant.
pub(super) fn nearest<'n>(
    wrong: &str,
    names: impl IntoIterator<Item = &'n str>,
) -> Option<&'n str> {
    let length = wrong.chars().count();
    if length > LONGEST {
        return None;
    }
    let wrong = wrong.to_lowercase();
    names
        .into_iter()
        .filter(|name| name.chars().count() <= LONGEST)
        .map(|name| {
            let slips = strsim::damerau_levenshtein(&wrong, &name.to_lowercase());
            (slips, name)
        })
        // A slip in a word of up to three letters, then one more for each three.
        .filter(|(slips, _)| *slips <= 1 + length / 3 && *slips < length.max(2))
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_name() {
        let names = ["sides", "rounds", "colours", "way"];
        assert_eq!(nearest("side", names), Some("sides"));
        assert_eq!(nearest("colors", names), Some("colours"));
        assert_eq!(nearest("Ruonds", names), Some("rounds"));
        assert_eq!(nearest("needle", names), None);
        assert_eq!(nearest(&"sides".repeat(100), names), None);
    }
}
