//! Reads for which rounds a line of colours is: `all`, `3`, `1-4`, `3 6 9`,
//! `1-9 by 2`.

use super::error::{BadSelector, ColourFault, Quote};

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
pub(super) fn read(text: &str, rounds: u32) -> Result<Vec<Range>, ColourFault> {
    let mut ranges: Vec<Range> = Vec::new();
    let mut words = text
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !word.is_empty())
        .peekable();
    if words.peek().is_none() {
        return Err(ColourFault::Rounds(BadSelector::Empty));
    }
    while let Some(word) = words.next() {
        if word == "by" {
            let by = words.next().and_then(|by| by.parse().ok());
            match (ranges.last_mut(), by) {
                (Some(last), Some(by)) if by > 0 && last.to > last.from && last.by == 1 => {
                    last.by = by;
                }
                _ => return Err(ColourFault::Rounds(BadSelector::By)),
            }
            continue;
        }
        ranges.push(range(word, rounds)?);
    }
    Ok(ranges)
}

fn range(word: &str, rounds: u32) -> Result<Range, ColourFault> {
    if word == "all" {
        return Ok(Range {
            from: 1,
            to: rounds,
            by: 1,
        });
    }
    let number = |text: &str| {
        let digits = text.bytes().all(|b| b.is_ascii_digit());
        let not = || ColourFault::Rounds(BadSelector::NotARound(Quote::new(word)));
        let round: u32 = digits
            .then(|| text.parse().ok())
            .flatten()
            .ok_or_else(not)?;
        if round == 0 || round > rounds {
            return Err(ColourFault::NoSuchRound { round, rounds });
        }
        Ok(round)
    };
    let (from, to) = match word.split_once('-') {
        Some((from, to)) => (number(from)?, number(to)?),
        None => (number(word)?, number(word)?),
    };
    if from > to {
        return Err(ColourFault::Rounds(BadSelector::Backward(from, to)));
    }
    Ok(Range { from, to, by: 1 })
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
    fn what_does_not_read_is_refused() {
        let bad = ColourFault::Rounds;
        let not = |text: &str| bad(BadSelector::NotARound(Quote::new(text)));
        for (text, why) in [
            ("", bad(BadSelector::Empty)),
            (" , ", bad(BadSelector::Empty)),
            ("every", not("every")),
            ("1-", not("1-")),
            ("+3", not("+3")),
            ("99999999999", not("99999999999")),
            (
                "13",
                ColourFault::NoSuchRound {
                    round: 13,
                    rounds: 12,
                },
            ),
            (
                "0",
                ColourFault::NoSuchRound {
                    round: 0,
                    rounds: 12,
                },
            ),
            ("4-2", bad(BadSelector::Backward(4, 2))),
            ("by 2", bad(BadSelector::By)),
            ("3 by 2", bad(BadSelector::By)),
            ("1-4 by", bad(BadSelector::By)),
            ("1-4 by 0", bad(BadSelector::By)),
            ("1-9 by 2 by 2", bad(BadSelector::By)),
        ] {
            assert_eq!(read(text, 12), Err(why), "{text}");
        }
    }
}
