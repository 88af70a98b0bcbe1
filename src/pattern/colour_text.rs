//! Reads a colour word: `A S* A`, `(A S)*`, `S3 A mirror`.
//!
//! ```text
//! word  = unit unit ... then maybe mirror
//! unit  = letter | ( letters )       then maybe a number, then maybe *
//! ```
//!
//! A number repeats its unit, the one `*` lets its unit stretch, and `mirror`
//! says that the word gives the first half of a side. A `|` means the same;
//! earlier builds wrote it.

use super::limit;
use crate::beadwork::bead::Colour;
use crate::beadwork::colour::ColourWord;
use crate::problem::{Problem, names, nearest, quoted};

/// Mirrors what comes before it.
pub(super) const MIRROR_WORD: &str = "mirror";

/// The letters of the beads, in order.
pub(super) struct Letters(pub(super) Vec<char>);

impl Letters {
    /// Whether `mirror` consists of letters of beads here, and so is not a
    /// word.
    pub(super) fn spell_mirror(&self) -> bool {
        MIRROR_WORD.chars().all(|letter| self.0.contains(&letter))
    }

    /// The bead with a letter.
    pub(super) fn colour(&self, letter: char) -> Option<Colour> {
        let index = self.0.iter().position(|&l| l == letter)?;
        u8::try_from(index).ok().map(Colour)
    }

    /// Reports that no bead has a letter.
    fn unknown(&self, letter: char, text: &str) -> Problem {
        let lower = |c: char| c.to_lowercase().collect::<String>();
        // Probably the same letter in the other case was meant.
        let near = self.0.iter().find(|&&l| lower(l) == lower(letter));
        let known = || self.0.iter().map(char::to_string).collect::<Vec<_>>();
        Problem::new(
            format!(
                "no bead has the letter '{letter}' of the word {}",
                quoted(text)
            ),
            match (near, mirror_misspelt(text)) {
                (_, Some(wrong)) => format!("write '{MIRROR_WORD}' in place of '{wrong}'"),
                (Some(near), _) => format!("write '{near}', or add a bead \"{letter}\""),
                _ if self.0.is_empty() => format!("add a bead \"{letter}\""),
                _ => format!("add a bead \"{letter}\", or use {}", names(&known(), "or")),
            },
        )
    }
}

/// A misspelt `mirror` at the end of a word.
fn mirror_misspelt(text: &str) -> Option<&str> {
    let last = text.split_whitespace().last()?;
    // Letters of beads may stand right before it.
    let is_a_word = last.starts_with(['m', 'M']) && (5..=7).contains(&last.len());
    (is_a_word && nearest(last, [MIRROR_WORD]).is_some()).then_some(last)
}

/// Reads the word of one side.
///
/// # Errors
/// It is not a word, or has a letter that no bead has.
pub(super) fn read(text: &str, letters: &Letters) -> Result<ColourWord, Problem> {
    let bad =
        |(what, mend): BadWord| Problem::new(format!("the word {} {what}", quoted(text)), mend);
    let mut word = WordReader::default();
    let signs = match letters.spell_mirror() {
        true => text.to_string(),
        false => text.replace(MIRROR_WORD, "|"),
    };
    let mut chars = signs.trim().chars().peekable();
    let mut mirror = false;
    while let Some(c) = chars.next() {
        let read = match c {
            _ if mirror => Err(MIRROR),
            '|' => {
                mirror = true;
                Ok(())
            }
            '(' => word.open(),
            ')' => word.close(),
            '*' => word.stretch(),
            '0'..='9' => {
                let mut digits = c.to_string();
                while let Some(digit) = chars.next_if(char::is_ascii_digit) {
                    digits.push(digit);
                }
                word.times(&digits)
            }
            c if c.is_whitespace() => Ok(()),
            c if c.is_alphabetic() => match letters.colour(c) {
                Some(colour) => word.letter(colour),
                None => return Err(letters.unknown(c, text)),
            },
            c => {
                let what = format!("has {}, which means nothing there", quoted(&c.to_string()));
                let mend = "write letters of beads, numbers, ( ), * and at the end mirror";
                return Err(bad((&what, mend)));
            }
        };
        read.map_err(bad)?;
    }
    word.done(mirror).map_err(bad)
}

/// What is wrong with a word, and how to mend it.
type BadWord<'a> = (&'a str, &'a str);

const EMPTY: BadWord = ("is empty", "write at least one letter, such as S*");
const BRACKETS: BadWord = (
    "has brackets that do not match",
    "close each ( with a ), with letters but no other brackets between",
);
const SECOND_STAR: BadWord = (
    "has more than one *",
    "let only one letter or group repeat as needed",
);
const STAR: BadWord = (
    "has a * where nothing can repeat",
    "put * after a letter or after a closing bracket",
);
const STAR_WITHIN: BadWord = (
    "has a * within brackets",
    "put * after the closing bracket, or after a letter outside of brackets",
);
const NUMBER: BadWord = (
    "has a number with no letter to repeat",
    "put the number, from 1, after its letter or bracket, such as S3",
);
const MIRROR: BadWord = (
    "has mirror before its end",
    "write mirror once, at the end of the first half",
);
const TOO_LONG: BadWord = (
    "gives more than 4096 letters",
    "put * after the letter that may repeat",
);

/// A word while it is read.
#[derive(Default)]
struct WordReader {
    /// Head and middle, once a star has separated them from the rest.
    stretched: Option<(Vec<Colour>, Vec<Colour>)>,
    /// The beads since then.
    beads: Vec<Colour>,
    /// Where the last unit begins in `beads`, if there is one to repeat.
    unit: Option<usize>,
    /// Where the open bracket begins in `beads`.
    bracket: Option<usize>,
    /// Whether the unit already has its number.
    numbered: bool,
}

type ReadColours = Result<(), BadWord<'static>>;

impl WordReader {
    fn letter(&mut self, colour: Colour) -> ReadColours {
        self.begin(self.beads.len());
        self.beads.push(colour);
        self.room(0)
    }

    fn begin(&mut self, at: usize) {
        self.unit = Some(at);
        self.numbered = false;
    }

    fn room(&self, more: usize) -> ReadColours {
        let before = self
            .stretched
            .as_ref()
            .map_or(0, |(h, m)| h.len() + m.len());
        if before + self.beads.len() + more > limit::WORD_LETTERS {
            return Err(TOO_LONG);
        }
        Ok(())
    }

    fn open(&mut self) -> ReadColours {
        match self.bracket {
            Some(_) => Err(BRACKETS),
            None => {
                self.bracket = Some(self.beads.len());
                self.unit = None;
                Ok(())
            }
        }
    }

    fn close(&mut self) -> ReadColours {
        match self.bracket.take() {
            Some(at) if at < self.beads.len() => {
                self.begin(at);
                Ok(())
            }
            _ => Err(BRACKETS),
        }
    }

    fn times(&mut self, digits: &str) -> ReadColours {
        let (Some(unit), false) = (self.unit, self.numbered) else {
            return Err(NUMBER);
        };
        let times: usize = match digits.parse() {
            Ok(0) => return Err(NUMBER),
            Ok(times) => times,
            Err(_) => return Err(TOO_LONG),
        };
        let unit = self.beads[unit..].to_vec();
        self.room(unit.len().saturating_mul(times - 1))?;
        for _ in 1..times {
            self.beads.extend(&unit);
        }
        self.numbered = true;
        Ok(())
    }

    fn stretch(&mut self) -> ReadColours {
        if self.bracket.is_some() {
            return Err(STAR_WITHIN);
        }
        let Some(unit) = self.unit.take() else {
            return Err(STAR);
        };
        if self.stretched.is_some() {
            return Err(SECOND_STAR);
        }
        let middle = self.beads.split_off(unit);
        self.stretched = Some((std::mem::take(&mut self.beads), middle));
        Ok(())
    }

    fn done(self, mirror: bool) -> Result<ColourWord, BadWord<'static>> {
        if self.bracket.is_some() {
            return Err(BRACKETS);
        }
        let (head, middle, tail) = match self.stretched {
            Some((head, middle)) => (head, middle, self.beads),
            None if self.beads.is_empty() => return Err(EMPTY),
            None => (self.beads, Vec::new(), Vec::new()),
        };
        Ok(ColourWord {
            head,
            middle,
            tail,
            mirror,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn beads() -> Letters {
        Letters(vec!['A', 'S', 'λ'])
    }

    fn spell(text: &str, len: u32) -> String {
        let word = read(text, &beads()).unwrap();
        assert!(word.fits(len), "{text} on {len}");
        (0..len)
            .map(|place| beads().0[word.at(place, len).0 as usize])
            .collect()
    }

    #[test]
    fn words_colour_their_sides() {
        for (text, len, side) in [
            ("A S* A", 5, "ASSSA"),
            ("AS*A", 2, "AA"),
            ("S3", 3, "SSS"),
            ("S3 A2", 5, "SSSAA"),
            ("(A S)* A", 6, "ASASAA"),
            ("A (S A)2 S", 6, "ASASAS"),
            ("(A S2)*", 7, "ASSASSA"),
            ("A2*", 3, "AAA"),
            ("S S A mirror", 6, "SSAASS"),
            ("S S A |", 6, "SSAASS"),
            ("S* A mirror", 5, "SSASS"),
            ("λ A*", 3, "λAA"),
            ("S*", 0, ""),
        ] {
            assert_eq!(spell(text, len), side, "{text}");
        }
    }

    #[test]
    fn mirror_is_letters_where_each_of_them_is_a_bead() {
        let word = read("mirror", &Letters(vec!['m', 'i', 'r', 'o'])).unwrap();
        assert!(!word.mirror);
        let colours = [0, 1, 2, 2, 3, 2].map(Colour);
        assert_eq!(word.head, colours);
    }

    #[test]
    fn what_cannot_be_read_is_refused() {
        for (text, why) in [
            ("", EMPTY),
            ("mirror", EMPTY),
            ("(A", BRACKETS),
            ("A)", BRACKETS),
            ("()", BRACKETS),
            ("((A)S)", BRACKETS),
            ("A* S*", SECOND_STAR),
            ("* A", STAR),
            ("A**", STAR),
            ("(A*)", STAR_WITHIN),
            ("(A S* A", STAR_WITHIN),
            ("3 A", NUMBER),
            ("A0", NUMBER),
            ("A2 3", NUMBER),
            ("(2A)", NUMBER),
            ("A | S", MIRROR),
            ("A mirror S", MIRROR),
            ("A mirror |", MIRROR),
            ("A4097", TOO_LONG),
            ("A4096 S", TOO_LONG),
            ("A99999999999999999999999", TOO_LONG),
        ] {
            let what = format!("the word '{text}' {}", why.0);
            let problem = read(text, &beads()).unwrap_err();
            assert_eq!((problem.what, problem.mend.as_str()), (what, why.1));
        }
        let what = |text| read(text, &beads()).unwrap_err().what;
        let mend = |text: &str| read(text, &beads()).unwrap_err().mend;
        for wrong in ["miror", "Mirror", "mirrror"] {
            let text = format!("A S {wrong}");
            assert_eq!(mend(&text), format!("write 'mirror' in place of '{wrong}'"));
        }
        assert_eq!(mend("A m S"), "add a bead \"m\", or use 'A', 'S' or 'λ'");
        assert_eq!(what("A Q"), "no bead has the letter 'Q' of the word 'A Q'");
        assert_eq!(
            what("A - S"),
            "the word 'A - S' has '-', which means nothing there"
        );
        assert!(TOO_LONG.0.contains(&limit::WORD_LETTERS.to_string()));
    }
}
