//! Reads a colour word: `A S* A`, `(A S)*`, `S3 A |`.
//!
//! ```text
//! word  = unit unit ... then maybe |
//! unit  = letter | ( letters )       then maybe a number, then maybe *
//! ```
//!
//! A number repeats its unit, the one `*` lets its unit stretch, and `|` says
//! that the word gives the first half of a side.

use super::error::BadWord;
use super::error::Quote;
use super::limit;
use crate::beadwork::bead::Colour;
use crate::beadwork::colour::ColourWord;

/// The letters of the beads, in order.
pub(super) struct Letters(pub(super) Vec<char>);

impl Letters {
    /// The bead of a letter.
    pub(super) fn colour(&self, letter: char) -> Option<Colour> {
        let index = self.0.iter().position(|&l| l == letter)?;
        u8::try_from(index).ok().map(Colour)
    }

    /// The same letter in the other case, which was likely meant.
    pub(super) fn nearest(&self, letter: char) -> Option<char> {
        let lower = |c: char| c.to_lowercase().collect::<String>();
        let found = self.0.iter().find(|&&l| lower(l) == lower(letter));
        found.copied()
    }

    /// All of them, for a message.
    pub(super) fn names(&self) -> Vec<String> {
        self.0.iter().map(char::to_string).collect()
    }
}

/// Why a word does not read.
#[derive(Debug, PartialEq)]
pub(super) enum Unread {
    Bad(BadWord),
    NoBead(char),
}

/// Reads the word of one side.
pub(super) fn read(text: &str, letters: &Letters) -> Result<ColourWord, Unread> {
    let mut word = Word::default();
    let mut chars = text.trim().chars().peekable();
    let mut mirror = false;
    while let Some(c) = chars.next() {
        match c {
            _ if mirror => return Err(Unread::Bad(BadWord::Mirror)),
            '|' => mirror = true,
            '(' => word.open()?,
            ')' => word.close()?,
            '*' => word.stretch()?,
            '0'..='9' => {
                let mut digits = c.to_string();
                while let Some(digit) = chars.next_if(char::is_ascii_digit) {
                    digits.push(digit);
                }
                word.times(&digits)?;
            }
            c if c.is_whitespace() => {}
            c if c.is_alphabetic() => {
                word.letter(letters.colour(c).ok_or(Unread::NoBead(c))?)?;
            }
            c => return Err(Unread::Bad(BadWord::Sign(Quote::new(&c.to_string())))),
        }
    }
    word.done(mirror)
}

/// A word while it is read.
#[derive(Default)]
struct Word {
    /// Head and middle, once the star has parted them from what follows.
    stretched: Option<(Vec<Colour>, Vec<Colour>)>,
    /// What has come since.
    beads: Vec<Colour>,
    /// Where the last unit begins in it, if there is one to repeat.
    unit: Option<usize>,
    /// Where the open bracket stands in it.
    bracket: Option<usize>,
    /// Whether the unit has its number.
    numbered: bool,
}

type Read = Result<(), Unread>;

impl Word {
    fn letter(&mut self, colour: Colour) -> Read {
        self.begin(self.beads.len());
        self.beads.push(colour);
        self.room(0)
    }

    fn begin(&mut self, at: usize) {
        self.unit = Some(at);
        self.numbered = false;
    }

    fn room(&self, more: usize) -> Read {
        let before = self
            .stretched
            .as_ref()
            .map_or(0, |(h, m)| h.len() + m.len());
        if before + self.beads.len() + more > limit::WORD_LETTERS {
            return Err(Unread::Bad(BadWord::TooLong));
        }
        Ok(())
    }

    fn open(&mut self) -> Read {
        match self.bracket {
            Some(_) => Err(Unread::Bad(BadWord::Brackets)),
            None => {
                self.bracket = Some(self.beads.len());
                self.unit = None;
                Ok(())
            }
        }
    }

    fn close(&mut self) -> Read {
        match self.bracket.take() {
            Some(at) if at < self.beads.len() => {
                self.begin(at);
                Ok(())
            }
            _ => Err(Unread::Bad(BadWord::Brackets)),
        }
    }

    fn times(&mut self, digits: &str) -> Read {
        let (Some(unit), false) = (self.unit, self.numbered) else {
            return Err(Unread::Bad(BadWord::Number));
        };
        let times: usize = match digits.parse() {
            Ok(0) => return Err(Unread::Bad(BadWord::Number)),
            Ok(times) => times,
            Err(_) => return Err(Unread::Bad(BadWord::TooLong)),
        };
        let unit = self.beads[unit..].to_vec();
        self.room(unit.len().saturating_mul(times - 1))?;
        for _ in 1..times {
            self.beads.extend(&unit);
        }
        self.numbered = true;
        Ok(())
    }

    fn stretch(&mut self) -> Read {
        let (Some(unit), None) = (self.unit.take(), self.bracket) else {
            return Err(Unread::Bad(BadWord::Star));
        };
        if self.stretched.is_some() {
            return Err(Unread::Bad(BadWord::SecondStar));
        }
        let middle = self.beads.split_off(unit);
        self.stretched = Some((std::mem::take(&mut self.beads), middle));
        Ok(())
    }

    fn done(self, mirror: bool) -> Result<ColourWord, Unread> {
        if self.bracket.is_some() {
            return Err(Unread::Bad(BadWord::Brackets));
        }
        let (head, middle, tail) = match self.stretched {
            Some((head, middle)) => (head, middle, self.beads),
            None if self.beads.is_empty() => return Err(Unread::Bad(BadWord::Empty)),
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
            ("S S A |", 6, "SSAASS"),
            ("S* A |", 5, "SSASS"),
            ("λ A*", 3, "λAA"),
            ("S*", 0, ""),
        ] {
            assert_eq!(spell(text, len), side, "{text}");
        }
    }

    #[test]
    fn what_does_not_read_is_refused() {
        let bad = Unread::Bad;
        for (text, why) in [
            ("", bad(BadWord::Empty)),
            (" | ", bad(BadWord::Empty)),
            ("A Q", Unread::NoBead('Q')),
            ("A - S", bad(BadWord::Sign(Quote::new("-")))),
            ("(A", bad(BadWord::Brackets)),
            ("A)", bad(BadWord::Brackets)),
            ("()", bad(BadWord::Brackets)),
            ("((A)S)", bad(BadWord::Brackets)),
            ("A* S*", bad(BadWord::SecondStar)),
            ("* A", bad(BadWord::Star)),
            ("A**", bad(BadWord::Star)),
            ("(A*)", bad(BadWord::Star)),
            ("3 A", bad(BadWord::Number)),
            ("A0", bad(BadWord::Number)),
            ("A2 3", bad(BadWord::Number)),
            ("(2A)", bad(BadWord::Number)),
            ("A | S", bad(BadWord::Mirror)),
            ("A ||", bad(BadWord::Mirror)),
            ("A4097", bad(BadWord::TooLong)),
            ("A4096 S", bad(BadWord::TooLong)),
            ("A99999999999999999999999", bad(BadWord::TooLong)),
        ] {
            assert_eq!(read(text, &beads()), Err(why), "{text}");
        }
    }
}
