//! Reads a gap word: `2*3`, `(2 1)*6`, `1 0 1 1`.
//!
//! ```text
//! word  = item item ...
//! item  = 0 | 1 | 2 | 3 | 4 | ( word )      then maybe  * times
//! ```
//!
//! What is repeated is counted first, so that a large repeat number cannot fill
//! the memory.

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

/// A word, or what stands between brackets: numbers, each with how many gaps
/// side by side hold it.
#[derive(Default)]
struct Group {
    runs: Vec<(u8, u32)>,
    gaps: u64,
}

impl Group {
    /// Adds another group so many times. `None` if that is for too many gaps.
    fn add(&mut self, group: &Group, times: u32) -> Option<()> {
        self.gaps += group.gaps * u64::from(times);
        if self.gaps > limit::PIECE_BEADS {
            return None;
        }
        match group.runs[..] {
            [(each, gaps)] => self.runs.push((each, gaps * times)),
            _ => (0..times).for_each(|_| self.runs.extend(&group.runs)),
        }
        Some(())
    }
}

/// Reads the word of a round.
///
/// # Errors
/// It is not a gap word, or is for more gaps than a piece can have beads.
pub(super) fn read(text: &str, round: u32) -> Result<GapWord, Problem> {
    let bad = |bad| problem(bad, round);
    if text.len() > limit::LINE_CHARS {
        return Err(bad(TOO_LONG));
    }
    // What stands before brackets that are still open, the outermost first.
    let mut before: Vec<Group> = vec![];
    let mut group = Group::default();
    // What was read last, and how many times it is there.
    let mut last: Option<(Group, u32)> = None;
    let mut tokens = GapTokens(text);
    loop {
        let token = tokens.next();
        if token == Some("*") {
            let times = tokens.next().and_then(|times| times.parse().ok());
            match (&mut last, times) {
                (Some((_, once @ 1)), Some(times)) if times > 0 => *once = times,
                _ => return Err(bad(TIMES)),
            }
            continue;
        }
        if let Some((item, times)) = last.take() {
            group.add(&item, times).ok_or_else(|| bad(MANY))?;
        }
        match token {
            None => break,
            Some("(") if before.len() == DEEPEST => return Err(bad(DEEP)),
            Some("(") => before.push(std::mem::take(&mut group)),
            Some(")") => {
                let around = before.pop().filter(|_| group.gaps > 0);
                let around = around.ok_or_else(|| bad(BRACKETS))?;
                last = Some((std::mem::replace(&mut group, around), 1));
            }
            Some(gap) => {
                let runs = vec![(beads(gap, round)?, 1)];
                last = Some((Group { runs, gaps: 1 }, 1));
            }
        }
    }
    match group.gaps {
        _ if !before.is_empty() => Err(bad(BRACKETS)),
        0 => Err(bad(EMPTY)),
        _ => {
            let mut word = GapWord::default();
            group
                .runs
                .iter()
                .for_each(|(each, times)| word.push(*each, *times));
            Ok(word)
        }
    }
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
        let word = read(text, 3)?;
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
            let what = read(text, 3).unwrap_err().what;
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
