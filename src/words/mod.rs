//! The words of the trade: one table, words.json, with the meaning of each
//! word, a drawing of it, and the words related to it.
//!
//! The screen explains from it, the plain mode reads from it, docs/words.md is
//! made from it, and tests compare the sentences of the program and its pages
//! with it, so that one thing has one name everywhere.
//!
//! ```text
//!        ╔N╗          a drawing uses the signs of the picture:
//!   ◀[A]     [A]◆     [A] a bead in place, ╔N╗ the new one, ◆ where the
//!        [B]          needle comes out, ◀ where it goes in
//! ```
//!
//! A drawing is for the right hand, like the picture: the needle goes to the
//! left. It contains only single letters and digits, no words, so that it can
//! be mirrored for the left hand.
//!
//! ```
//! use threadmark::beadwork::Kind;
//! use threadmark::words;
//!
//! let about = words::of_kind(Kind::StepDown);
//! assert_eq!(about[0].word, "step-down");
//! ```

mod about;
pub mod care;
#[cfg(test)]
mod drift;
#[cfg(test)]
mod page;
pub mod short;

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::{Deserialize, Deserializer};

pub use about::{of_job, of_kind, of_movement};

/// A word of the trade, or one of the tool's own.
#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Word {
    /// The word, as the program and its pages spell it.
    #[serde(deserialize_with = "static_text")]
    pub word: &'static str,
    /// Other forms that sentences use; a plural in -s is always included.
    #[serde(default, deserialize_with = "static_texts")]
    pub forms: &'static [&'static str],
    /// What it means, in plain words.
    #[serde(deserialize_with = "static_text")]
    pub means: &'static str,
    /// A small drawing, line by line, for the right hand.
    #[serde(default, deserialize_with = "static_texts")]
    pub drawing: &'static [&'static str],
    /// What the drawing shows.
    #[serde(default, deserialize_with = "static_text")]
    pub shows: &'static str,
    /// Related words.
    #[serde(deserialize_with = "static_texts")]
    pub see: &'static [&'static str],
    /// Names that are not used for it here.
    #[serde(default, deserialize_with = "static_texts")]
    pub not: &'static [&'static str],
}

/// How typed letters match a word, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WordFit {
    /// They are the whole word.
    Exact,
    /// The word begins with them.
    Begins,
    /// The word contains them.
    Contains,
    /// Another name of it contains them: this one.
    OtherName(&'static str),
}

/// Words that belong together.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WordGroup {
    /// What they are about.
    #[serde(deserialize_with = "static_text")]
    pub title: &'static str,
    /// The words, in the order in which a maker meets them.
    pub words: Vec<Word>,
}

/// All words, group by group, in the order in which a maker meets them.
pub fn groups() -> &'static [WordGroup] {
    static TABLE: LazyLock<Vec<WordGroup>> = LazyLock::new(|| {
        serde_json::from_str(include_str!("words.json")).expect("the tests read this table")
    });
    &TABLE
}

/// All words, in the order of the table.
pub fn all() -> impl Iterator<Item = &'static Word> {
    groups().iter().flat_map(|group| &group.words)
}

/// The word with this name or form.
pub fn named(name: &str) -> Option<&'static Word> {
    let name = name.trim().to_lowercase();
    let exact = all().find(|w| w.word == name);
    exact.or_else(|| all().find(|w| w.spellings().any(|s| s == name)))
}

impl Word {
    /// Every spelling of it in a sentence, in lower case.
    pub fn spellings(&self) -> impl Iterator<Item = String> {
        let forms = self.forms.iter().map(|f| f.to_string());
        [self.word.to_string(), format!("{}s", self.word)]
            .into_iter()
            .chain(forms)
    }

    /// What it means in one sentence.
    pub fn in_short(&self) -> &'static str {
        self.means
            .split_inclusive(". ")
            .next()
            .unwrap_or_default()
            .trim_end()
    }

    /// How well typed letters match its name, a form, or a name that is not
    /// used for it here; `None` if they do not. Smaller is better.
    pub fn fit(&self, typed: &str) -> Option<WordFit> {
        let typed = typed.trim().to_lowercase();
        if self.word == typed {
            Some(WordFit::Exact)
        } else if self.word.starts_with(&typed) {
            Some(WordFit::Begins)
        } else if self.word.contains(&typed) {
            Some(WordFit::Contains)
        } else {
            let mut others = self.forms.iter().chain(self.not);
            let other = others.find(|name| name.contains(&typed))?;
            Some(WordFit::OtherName(other))
        }
    }

    /// The related words.
    pub fn related(&self) -> impl Iterator<Item = &'static Word> {
        self.see.iter().filter_map(|name| named(name))
    }
}

/// The words of the trade in a text, each once, in the order in which they come
/// up. The longest match counts: 'join row' does not count as 'row' too.
pub fn found(text: &str) -> Vec<&'static Word> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text = text.to_lowercase();
    let mut out: Vec<&'static Word> = vec![];
    // What is left, from the start of a word on.
    let mut rest = text.trim_start_matches(|c: char| !c.is_alphanumeric());
    while !rest.is_empty() {
        let ends_word = |s: &str| !rest[s.len()..].starts_with(char::is_alphanumeric);
        let is_here = |(s, _): &&(String, _)| rest.starts_with(s.as_str()) && ends_word(s);
        let first = rest
            .chars()
            .next()
            .and_then(|first| spellings().get(&first));
        if let Some((spelling, word)) = first.into_iter().flatten().find(is_here) {
            if !out.contains(word) {
                out.push(word);
            }
            rest = &rest[spelling.len()..];
        }
        rest = rest.trim_start_matches(char::is_alphanumeric);
        rest = rest.trim_start_matches(|c: char| !c.is_alphanumeric());
    }
    out
}

/// Spellings with their words.
type Spellings = Vec<(String, &'static Word)>;

/// Every spelling of every word by its first letter, the longest first.
fn spellings() -> &'static HashMap<char, Spellings> {
    static SPELLINGS: LazyLock<HashMap<char, Spellings>> = LazyLock::new(|| {
        let of = |word: &'static Word| word.spellings().map(move |spelling| (spelling, word));
        let mut all: Spellings = all().flat_map(of).collect();
        all.sort_by_key(|(spelling, _)| std::cmp::Reverse(spelling.len()));
        let mut by_letter: HashMap<char, Spellings> = HashMap::new();
        for (spelling, word) in all {
            let first = spelling.chars().next().expect("a letter");
            by_letter.entry(first).or_default().push((spelling, word));
        }
        by_letter
    });
    &SPELLINGS
}

/// Characters that are each other's mirror image.
const PAIRS: [(char, char); 10] = [
    ('[', ']'),
    ('(', ')'),
    ('<', '>'),
    ('/', '\\'),
    ('◀', '▶'),
    ('←', '→'),
    ('╔', '╗'),
    ('╚', '╝'),
    ('┌', '┐'),
    ('└', '┘'),
];

/// The mirror image of a drawing. Letters and digits stay as they are.
pub fn mirrored(drawing: &[&str]) -> Vec<String> {
    let width = drawing.iter().map(|l| l.chars().count()).max().unwrap_or(0);
    let mirror = |line: &&str| {
        let line = format!("{line:width$}");
        let mirrored: String = line.chars().rev().map(mirrored_char).collect();
        mirrored.trim_end().to_string()
    };
    drawing.iter().map(mirror).collect()
}

fn mirrored_char(sign: char) -> char {
    let pair = PAIRS.iter().find(|(a, b)| *a == sign || *b == sign);
    match pair {
        Some((a, b)) if *a == sign => *b,
        Some((a, _)) => *a,
        None => sign,
    }
}

/// Reads a text of a built-in table that is read once: the text stays in memory
/// as long as the program runs.
///
/// # Errors
/// The value is not a text.
pub fn static_text<'de, D: Deserializer<'de>>(from: D) -> Result<&'static str, D::Error> {
    Ok(String::deserialize(from)?.leak())
}

/// Reads a list of such texts.
///
/// # Errors
/// The value is not a list of texts.
pub fn static_texts<'de, D: Deserializer<'de>>(
    from: D,
) -> Result<&'static [&'static str], D::Error> {
    let texts = Vec::<String>::deserialize(from)?;
    let texts = texts.into_iter().map(|text| &*text.leak());
    Ok(texts.collect::<Vec<_>>().leak())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn no_spelling_belongs_to_two_words() {
        let mut seen = BTreeSet::new();
        for word in all() {
            let own: BTreeSet<String> = word.spellings().collect();
            for spelling in own {
                assert!(seen.insert(spelling.clone()), "'{spelling}' twice");
            }
        }
    }

    #[test]
    fn related_words_are_words_and_never_the_word_itself() {
        for word in all() {
            assert!(!word.see.is_empty(), "{}", word.word);
            for name in word.see {
                let other = all().find(|w| w.word == *name);
                assert!(other.is_some(), "{}: no word '{name}'", word.word);
                assert_ne!(*name, word.word);
            }
            assert!(word.see.len() <= 9, "a digit chooses one: {}", word.word);
        }
    }

    #[test]
    fn every_word_can_be_reached_from_round_by_related_words() {
        let mut reached = BTreeSet::from(["round"]);
        loop {
            let next: Vec<_> = reached
                .iter()
                .filter_map(|w| named(w))
                .flat_map(Word::related)
                .map(|w| w.word)
                .collect();
            let before = reached.len();
            reached.extend(next);
            if reached.len() == before {
                break;
            }
        }
        let unreached: Vec<_> = all()
            .map(|w| w.word)
            .filter(|w| !reached.contains(w))
            .collect();
        assert_eq!(unreached, Vec::<&str>::new());
    }

    #[test]
    fn a_word_is_found_by_any_of_its_forms() {
        assert_eq!(named("Step up").unwrap().word, "step-up");
        assert_eq!(named("gaps").unwrap().word, "gap");
        assert_eq!(named("gizmo"), None);
    }

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

    #[test]
    fn a_mirrored_stitch_goes_to_the_right() {
        let stitch = ["     ╔N╗", "◀[A]     [A]◆", "     [B]"];
        let wanted = ["     ╔N╗", "◆[A]     [A]▶", "     [B]"];
        assert_eq!(mirrored(&stitch), wanted);
    }

    #[test]
    fn mirroring_twice_gives_the_same_drawing() {
        for word in all() {
            let once = mirrored(word.drawing);
            let once: Vec<&str> = once.iter().map(String::as_str).collect();
            let indent_of = |lines: &[&str]| {
                let blanks = |l: &&str| l.chars().take_while(|c| *c == ' ').count();
                lines.iter().map(blanks).min().unwrap_or(0)
            };
            // A drawing does not begin with a blank column.
            assert_eq!(indent_of(word.drawing), 0, "{}", word.word);
            assert_eq!(mirrored(&once), word.drawing, "{}", word.word);
        }
    }

    #[test]
    fn a_drawing_is_small_and_holds_no_words() {
        for word in all() {
            let (name, drawing) = (word.word, word.drawing);
            assert_eq!(drawing.is_empty(), word.shows.is_empty(), "{name}");
            assert!(drawing.len() <= 5, "{name}");
            for line in drawing {
                assert!(line.chars().count() <= 34, "{name}");
                let chars: Vec<char> = line.chars().collect();
                let has_word = chars
                    .windows(2)
                    .any(|w| w[0].is_alphanumeric() && w[1].is_alphanumeric());
                assert!(!has_word, "{name}: a word cannot be mirrored:  {line}");
            }
        }
    }
}
