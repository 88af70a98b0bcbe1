//! Finds the words of the trade in a text.

use super::{Word, all};

/// The words of the trade in a text, each once, in the order in which they come
/// up. The longest match counts: 'join row' does not count as 'row' too.
pub fn found(text: &str) -> Vec<&'static Word> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text = text.to_lowercase();
    let mut forms: Vec<(String, &'static Word)> = all()
        .flat_map(|w| w.spellings().map(move |s| (s, w)))
        .collect();
    // The longest first.
    forms.sort_by_key(|(spelling, _)| std::cmp::Reverse(spelling.len()));
    let mut out: Vec<&'static Word> = vec![];
    let mut rest = text.as_str();
    let mut before: Option<char> = None;
    while let Some(first) = rest.chars().next() {
        let starts_word = !before.is_some_and(char::is_alphanumeric);
        let ends_word = |s: &str| !rest[s.len()..].starts_with(char::is_alphanumeric);
        let is_here = |(s, _): &&(String, _)| rest.starts_with(s.as_str()) && ends_word(s);
        let here = starts_word.then(|| forms.iter().find(is_here)).flatten();
        let length = match here {
            Some((spelling, word)) => {
                if !out.contains(word) {
                    out.push(word);
                }
                spelling.len()
            }
            None => first.len_utf8(),
        };
        before = rest[..length].chars().next_back();
        rest = &rest[length..];
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(text: &str) -> Vec<&'static str> {
        found(text).into_iter().map(|w| w.word).collect()
    }

    #[test]
    fn words_are_found_in_order_and_each_once() {
        let text = "Step up: sew through two beads. Round 5 of 8\n  outward, round bead";
        assert_eq!(names(text)[..3], ["step-up", "sew through", "bead"]);
        assert_eq!(names(text).iter().filter(|w| **w == "round").count(), 1);
    }

    #[test]
    fn the_longest_match_counts_and_parts_of_words_do_not() {
        assert_eq!(names("the JOIN\n ROWS"), ["join row"]);
        assert_eq!(names("up beads"), ["up bead"]);
        assert_eq!(names("surrounding, gapless"), Vec::<&str>::new());
        assert_eq!(names(""), Vec::<&str>::new());
    }
}
