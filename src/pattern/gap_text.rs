//! Reads a gap word: `2*3`, `(2 1)*6`, `1 0 1 1`.
//!
//! ```text
//! word  = item item ...
//! item  = 0 | 1 | 2 | ( word )      then maybe  * times
//! ```
//!
//! A word is counted before it is written out, so that no number of times can
//! fill the memory.

use super::error::{BadGaps, Quote};
use super::limit;
use crate::beadwork::gap_word::GapWord;

/// Brackets within each other.
const DEEPEST: usize = 8;

/// A gap word as it is written.
pub(super) struct GapText(Vec<Item>);

struct Item {
    what: What,
    times: u32,
}

enum What {
    Gap(u8),
    Group(Vec<Item>),
}

impl GapText {
    /// Reads a word.
    pub(super) fn read(text: &str) -> Result<GapText, BadGaps> {
        if text.len() > limit::LINE_CHARS {
            return Err(BadGaps::TooLong);
        }
        let mut open: Vec<Vec<Item>> = vec![Vec::new()];
        let mut words = Words(text);
        while let Some(word) = words.next() {
            match word {
                "(" if open.len() > DEEPEST => return Err(BadGaps::Deep),
                "(" => open.push(Vec::new()),
                ")" => {
                    let group = open.pop().unwrap_or_default();
                    let around = open.last_mut().ok_or(BadGaps::Brackets)?;
                    if group.is_empty() {
                        return Err(BadGaps::Brackets);
                    }
                    around.push(once(What::Group(group)));
                }
                "*" => {
                    let times = words.next().and_then(|times| times.parse().ok());
                    let item = open.last_mut().and_then(|items| items.last_mut());
                    match (item, times) {
                        (Some(item), Some(times)) if times > 0 && item.times == 1 => {
                            item.times = times;
                        }
                        _ => return Err(BadGaps::Times),
                    }
                }
                gap => {
                    let items = open.last_mut().ok_or(BadGaps::Brackets)?;
                    items.push(once(What::Gap(beads(gap)?)));
                }
            }
        }
        match (open.pop(), open.is_empty()) {
            (Some(items), true) if items.is_empty() => Err(BadGaps::Empty),
            (Some(items), true) => Ok(GapText(items)),
            _ => Err(BadGaps::Brackets),
        }
    }

    /// How many gaps it is for.
    pub(super) fn gaps(&self) -> Result<u32, BadGaps> {
        match gaps(&self.0) {
            found if found > limit::PIECE_BEADS => Err(BadGaps::Many),
            found => Ok(found as u32),
        }
    }

    /// The word written out.
    pub(super) fn word(&self) -> GapWord {
        let mut word = GapWord::default();
        push(&self.0, &mut word);
        word
    }
}

fn once(what: What) -> Item {
    Item { what, times: 1 }
}

fn beads(gap: &str) -> Result<u8, BadGaps> {
    if !gap.bytes().all(|b| b.is_ascii_digit()) {
        return Err(BadGaps::Sign(Quote::new(gap)));
    }
    match gap.parse() {
        Ok(beads @ 0..=2) => Ok(beads),
        _ => Err(BadGaps::Gap(Quote::new(gap))),
    }
}

fn gaps(items: &[Item]) -> u64 {
    let gaps = items.iter().map(|item| {
        let each = match &item.what {
            What::Gap(_) => 1,
            What::Group(group) => gaps(group),
        };
        each.saturating_mul(u64::from(item.times))
    });
    gaps.fold(0, u64::saturating_add)
}

fn push(items: &[Item], word: &mut GapWord) {
    for item in items {
        match &item.what {
            What::Gap(each) => word.push(*each, item.times),
            What::Group(group) => (0..item.times).for_each(|_| push(group, word)),
        }
    }
}

/// Parts a text into signs and what stands between them.
struct Words<'t>(&'t str);

impl<'t> Iterator for Words<'t> {
    type Item = &'t str;

    fn next(&mut self) -> Option<&'t str> {
        let text = self.0.trim_start();
        let sign = |c: char| matches!(c, '(' | ')' | '*');
        let end = match text.chars().next()? {
            c if sign(c) => 1,
            _ => text
                .find(|c: char| c.is_whitespace() || sign(c))
                .unwrap_or(text.len()),
        };
        let (word, rest) = text.split_at(end);
        self.0 = rest;
        Some(word)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spell(text: &str) -> Result<String, BadGaps> {
        let read = GapText::read(text)?;
        let word = read.word();
        assert_eq!(read.gaps()?, word.gaps());
        Ok(word.iter().map(|each| each.to_string()).collect())
    }

    #[test]
    fn words_are_written_out() {
        for (text, word) in [
            ("2*3", "222"),
            ("1 0 2", "102"),
            ("(2 1)*3", "212121"),
            ("(2 1*2)*2 0", "2112110"),
            ("((2 1)*2 0)*2", "2121021210"),
            ("  1*2(0)2 ", "1102"),
        ] {
            assert_eq!(spell(text).as_deref(), Ok(word), "{text}");
        }
    }

    #[test]
    fn what_does_not_read_is_refused() {
        for (text, bad) in [
            ("", BadGaps::Empty),
            ("  ", BadGaps::Empty),
            ("1 x", BadGaps::Sign(Quote::new("x"))),
            ("-1", BadGaps::Sign(Quote::new("-1"))),
            ("3*2", BadGaps::Gap(Quote::new("3"))),
            ("111", BadGaps::Gap(Quote::new("111"))),
            ("1*", BadGaps::Times),
            ("*2", BadGaps::Times),
            ("1*0", BadGaps::Times),
            ("1*2*2", BadGaps::Times),
            ("1*99999999999", BadGaps::Times),
            ("(1", BadGaps::Brackets),
            ("1)", BadGaps::Brackets),
            ("()", BadGaps::Brackets),
            ("(((((((((1)))))))))", BadGaps::Deep),
            ("(1*4000000000)*4000000000", BadGaps::Many),
        ] {
            let read = GapText::read(text).and_then(|word| word.gaps());
            assert_eq!(read, Err(bad), "{text}");
        }
        let long = "1 ".repeat(limit::LINE_CHARS);
        assert_eq!(GapText::read(&long).err(), Some(BadGaps::TooLong));
    }
}
