//! Reads a gap word: `2*3`, `(2 1)*6`, `1 0 1 1`.
//!
//! ```text
//! word  = item item ...
//! item  = 0 | 1 | 2 | 3 | 4 | ( word )      then maybe  * times
//! ```
//!
//! A word is counted before it is expanded, so that a large repeat number
//! cannot fill the memory.

use super::limit;
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::own_rounds::MOST_IN_A_GAP;
use crate::problem::{Problem, quoted};

/// How deep brackets can be nested.
const DEEPEST: usize = 8;

/// What is wrong with a word, and how to mend it.
type BadGaps = (&'static str, &'static str);

const EMPTY: BadGaps = ("is empty", "write a number for each gap, such as 2*3");
const TOO_LONG: BadGaps = (
    "is too long to read",
    "shorten it: write 1*6 for 1 1 1 1 1 1",
);
const TIMES: BadGaps = (
    "has a * without something to repeat or how often",
    "write 1*6 or (2 1)*6",
);
const BRACKETS: BadGaps = (
    "has brackets that do not match",
    "close each ( with a ), with something between",
);
const DEEP: BadGaps = (
    "has brackets within brackets within brackets",
    "write it with fewer brackets",
);
const MANY: BadGaps = (
    "is for more gaps than a piece may have beads",
    "look for a number of times that is too high",
);

/// A gap word as written.
pub(super) struct GapText {
    items: Vec<GapItem>,
    /// The round it makes.
    round: u32,
}

struct GapItem {
    what: What,
    times: u32,
}

enum What {
    Gap(u8),
    Group(Vec<GapItem>),
}

impl GapText {
    /// Reads the word of a round.
    ///
    /// # Errors
    /// It is not a gap word.
    pub(super) fn read(text: &str, round: u32) -> Result<GapText, Problem> {
        let bad = |bad| problem(bad, round);
        if text.len() > limit::LINE_CHARS {
            return Err(bad(TOO_LONG));
        }
        let mut open: Vec<Vec<GapItem>> = vec![Vec::new()];
        let mut words = GapTokens(text);
        while let Some(word) = words.next() {
            match word {
                "(" if open.len() > DEEPEST => return Err(bad(DEEP)),
                "(" => open.push(Vec::new()),
                ")" => {
                    let group = open.pop().unwrap_or_default();
                    let around = open.last_mut().ok_or_else(|| bad(BRACKETS))?;
                    if group.is_empty() {
                        return Err(bad(BRACKETS));
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
                        _ => return Err(bad(TIMES)),
                    }
                }
                gap => {
                    let items = open.last_mut().ok_or_else(|| bad(BRACKETS))?;
                    items.push(once(What::Gap(beads(gap, round)?)));
                }
            }
        }
        match (open.pop(), open.is_empty()) {
            (Some(items), true) if items.is_empty() => Err(bad(EMPTY)),
            (Some(items), true) => Ok(GapText { items, round }),
            _ => Err(bad(BRACKETS)),
        }
    }

    /// The number of gaps it describes.
    ///
    /// # Errors
    /// There are more gaps than a piece can have beads.
    pub(super) fn gaps(&self) -> Result<u32, Problem> {
        match gaps(&self.items) {
            found if found > limit::PIECE_BEADS => Err(problem(MANY, self.round)),
            found => Ok(found as u32),
        }
    }

    /// The word, expanded.
    pub(super) fn word(&self) -> GapWord {
        let mut word = GapWord::default();
        push(&self.items, &mut word);
        word
    }
}

fn once(what: What) -> GapItem {
    GapItem { what, times: 1 }
}

fn problem((what, mend): (&str, &str), round: u32) -> Problem {
    Problem::new(format!("the gap word of round {round} {what}"), mend)
}

fn beads(gap: &str, round: u32) -> Result<u8, Problem> {
    let (what, mend) = match gap.parse() {
        Ok(beads @ 0..=MOST_IN_A_GAP) if !gap.starts_with('+') => return Ok(beads),
        _ if gap.bytes().all(|b| b.is_ascii_digit()) => (
            format!("puts {} beads into a gap", quoted(gap)),
            "a gap takes 0 to 4; part the numbers by spaces",
        ),
        _ => (
            format!("has {}, which means nothing there", quoted(gap)),
            "write the numbers 0 to 4, brackets ( ) and *, such as (2 1)*6",
        ),
    };
    Err(problem((&what, mend), round))
}

fn gaps(items: &[GapItem]) -> u64 {
    let gaps = items.iter().map(|item| {
        let each = match &item.what {
            What::Gap(_) => 1,
            What::Group(group) => gaps(group),
        };
        each.saturating_mul(u64::from(item.times))
    });
    gaps.fold(0, u64::saturating_add)
}

fn push(items: &[GapItem], word: &mut GapWord) {
    for item in items {
        match &item.what {
            What::Gap(each) => word.push(*each, item.times),
            What::Group(group) => (0..item.times).for_each(|_| push(group, word)),
        }
    }
}

/// Splits a text into signs and what is between them.
struct GapTokens<'t>(&'t str);

impl<'t> Iterator for GapTokens<'t> {
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

/// A gap word as the file writes it: `(2 1*3)*3`.
pub(super) fn spell(word: &GapWord) -> String {
    let gaps: Vec<u8> = word.iter().collect();
    let repeats = |by: &usize| {
        gaps.len().is_multiple_of(*by) && gaps.iter().zip(&gaps[*by..]).all(|(a, b)| a == b)
    };
    let by = (1..=gaps.len()).find(repeats).unwrap_or(gaps.len());
    let mut items: Vec<(u8, usize)> = vec![];
    for &gap in &gaps[..by] {
        match items.last_mut() {
            Some((last, times)) if *last == gap => *times += 1,
            _ => items.push((gap, 1)),
        }
    }
    let item = |&(gap, times): &(u8, usize)| match times {
        1 => gap.to_string(),
        _ => format!("{gap}*{times}"),
    };
    let times = gaps.len() / by.max(1);
    let once: Vec<String> = items.iter().map(item).collect();
    match (items.as_slice(), times) {
        (_, 1) => once.join(" "),
        ([(gap, 1)], _) => format!("{gap}*{times}"),
        _ => format!("({})*{times}", once.join(" ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spell(text: &str) -> Result<String, Problem> {
        let read = GapText::read(text, 3)?;
        let word = read.word();
        assert_eq!(read.gaps()?, word.gaps());
        Ok(word.iter().map(|each| each.to_string()).collect())
    }

    #[test]
    fn words_are_expanded() {
        for (text, word) in [
            ("2*3", "222"),
            ("1 0 2", "102"),
            ("(2 1)*3", "212121"),
            ("(2 1*2)*2 0", "2112110"),
            ("((2 1)*2 0)*2", "2121021210"),
            ("  1*2(0)2 ", "1102"),
        ] {
            assert_eq!(spell(text).unwrap(), word, "{text}");
        }
    }

    #[test]
    fn what_cannot_be_read_is_refused() {
        let says = |text: &str| {
            let read = GapText::read(text, 3).and_then(|word| word.gaps());
            let what = read.unwrap_err().what;
            what.strip_prefix("the gap word of round 3 ")
                .unwrap()
                .to_string()
        };
        for (text, what) in [
            ("", EMPTY.0),
            ("  ", EMPTY.0),
            ("1 x", "has 'x', which means nothing there"),
            ("-1", "has '-1', which means nothing there"),
            ("+1", "has '+1', which means nothing there"),
            ("5*2", "puts '5' beads into a gap"),
            ("111", "puts '111' beads into a gap"),
            ("1*", TIMES.0),
            ("*2", TIMES.0),
            ("1*0", TIMES.0),
            ("1*2*2", TIMES.0),
            ("1*99999999999", TIMES.0),
            ("(1", BRACKETS.0),
            ("1)", BRACKETS.0),
            ("()", BRACKETS.0),
            ("(((((((((1)))))))))", DEEP.0),
            ("(1*4000000000)*4000000000", MANY.0),
        ] {
            assert_eq!(says(text), what, "{text}");
        }
        assert_eq!(says(&"1 ".repeat(limit::LINE_CHARS)), TOO_LONG.0);
    }
}
