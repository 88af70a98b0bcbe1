//! Reads the rounds that a line of colours is for: `all`, `3`, `1-4`, `3 6 9`,
//! `1-9 by 2`.

use crate::problem::{Problem, quoted};

/// A range of rounds, both ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Range {
    from: u32,
    to: u32,
    by: u32,
}

impl Range {
    /// The rounds in order.
    pub(super) fn rounds(self) -> impl Iterator<Item = u32> {
        (self.from..=self.to).step_by(self.by as usize)
    }
}

/// Reads the part of a line before its colon, for a panel of `rounds` rounds.
///
/// # Errors
/// It names no rounds, or some that the panel does not have.
pub(super) fn read(text: &str, rounds: u32) -> Result<Vec<Range>, Problem> {
    let mut ranges: Vec<Range> = Vec::new();
    let mut words = text
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty())
        .peekable();
    if words.peek().is_none() {
        return Err(Problem::new(
            "no rounds stand before the colon",
            "write rounds there, such as all, 3 or 1-8",
        ));
    }
    while let Some(word) = words.next() {
        if word == "by" {
            let by = words.next().and_then(|by| by.parse().ok());
            match (ranges.last_mut(), by) {
                (Some(last), Some(by)) if by > 0 && last.to > last.from && last.by == 1 => {
                    last.by = by;
                }
                _ => {
                    return Err(Problem::new(
                        "'by' stands between a range and a number from 1",
                        "write it like 1-9 by 2",
                    ));
                }
            }
            continue;
        }
        ranges.push(range(word, rounds)?);
    }
    Ok(ranges)
}

fn range(word: &str, rounds: u32) -> Result<Range, Problem> {
    let (from, to) = match word.split_once('-') {
        _ if word == "all" => (1, rounds),
        Some((from, to)) => (number(from, word, rounds)?, number(to, word, rounds)?),
        None => (number(word, word, rounds)?, number(word, word, rounds)?),
    };
    if from > to {
        return Err(Problem::new(
            format!("rounds {from} to {to} run backwards"),
            format!("write {to}-{from}"),
        ));
    }
    Ok(Range { from, to, by: 1 })
}

fn number(digits: &str, word: &str, rounds: u32) -> Result<u32, Problem> {
    let number = digits.parse().ok();
    match number.filter(|_| digits.bytes().all(|b| b.is_ascii_digit())) {
        Some(round) if (1..=rounds).contains(&round) => Ok(round),
        Some(round) => Err(Problem::new(
            format!("there is no round {round}: the panel has rounds 1 to {rounds}"),
            "name a round that is there, or write all",
        )),
        None => Err(Problem::new(
            format!("{} is not a round", quoted(word)),
            match plainly(word).filter(|plain| range(plain, rounds).is_ok()) {
                Some(plain) => format!("write {plain}"),
                None => "write rounds as 3, 1-8, 1-9 by 2, or all".into(),
            },
        )),
    }
}

/// The word with the hyphen that is typed on a keyboard, and in small letters; `None`
/// if it is so already.
fn plainly(word: &str) -> Option<String> {
    let plain = word.replace(['–', '—', '−', '‑'], "-").replace("..", "-");
    let plain = plain.to_lowercase();
    (plain != word).then_some(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chosen(text: &str) -> Vec<u32> {
        let ranges = read(text, 12).unwrap();
        ranges.into_iter().flat_map(Range::rounds).collect()
    }

    #[test]
    fn rounds_are_chosen() {
        assert_eq!(chosen("all"), (1..=12).collect::<Vec<_>>());
        assert_eq!(chosen("3"), [3]);
        assert_eq!(chosen("1-4"), [1, 2, 3, 4]);
        assert_eq!(chosen("3 6, 9"), [3, 6, 9]);
        assert_eq!(chosen("1-9 by 4 12"), [1, 5, 9, 12]);
        assert_eq!(chosen("all by 6"), [1, 7]);
    }

    #[test]
    fn a_range_with_another_dash_is_mended_with_a_hyphen() {
        let mend = |text| read(text, 12).unwrap_err().mend;
        for (text, plain) in [
            ("2–6", "write 2-6"),
            ("2..6", "write 2-6"),
            ("All", "write all"),
        ] {
            assert_eq!(mend(text), plain);
        }
        for text in ["2–99", "odd", "2…6"] {
            assert_eq!(mend(text), "write rounds as 3, 1-8, 1-9 by 2, or all");
        }
    }

    #[test]
    fn what_cannot_be_read_is_refused() {
        let empty = "no rounds stand before the colon";
        let by = "'by' stands between a range and a number from 1";
        for (text, what) in [
            ("", empty),
            (" , ", empty),
            ("every", "'every' is not a round"),
            ("1-", "'1-' is not a round"),
            ("+3", "'+3' is not a round"),
            ("99999999999", "'99999999999' is not a round"),
            ("13", "there is no round 13: the panel has rounds 1 to 12"),
            ("0", "there is no round 0: the panel has rounds 1 to 12"),
            ("4-2", "rounds 4 to 2 run backwards"),
            ("by 2", by),
            ("3 by 2", by),
            ("1-4 by", by),
            ("1-4 by 0", by),
            ("1-9 by 2 by 2", by),
        ] {
            assert_eq!(read(text, 12).unwrap_err().what, what, "{text}");
        }
    }
}
