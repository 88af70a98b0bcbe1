//! Asks in words what a piece without a pattern begins with.
//!
//! ```text
//! ring 3       a ring of three beads, worked outward
//! string 8     rounds 8 and 7 as one string, closed to a ring, worked inward
//! strip 12     a strip of flat peyote, twelve beads across
//! ```

use super::menu::Prompt;
use super::tray::TrayState;
use crate::plain_file::{self, Line as TypedLine};
use crate::progress::Tray;
use crate::screen::Error;
use crate::screen::layer::{Choice, Exit, Flow, Keys, key_table};
use crate::screen::widgets::TextEntry;
use std::io::{BufRead, Write};

/// How a piece without a pattern begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FreeBeginning {
    /// A ring of this many beads, 3 to 12, worked outward.
    Ring(u8),
    /// A string with this many rounds to the middle, 2 to 200, on this many
    /// sides, 3 to 12, closed to a ring and worked inward.
    String(u16, u8),
    /// A strip of flat peyote this many beads across: an even number, 2 to 200.
    Strip(u16),
}

/// A piece without a pattern, to be begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewFreePiece {
    /// Its name.
    pub name: String,
    /// What it begins with.
    pub beginning: FreeBeginning,
}

impl FreeBeginning {
    /// Reads what was typed: a word, and a number if it is not the usual one.
    ///
    /// # Errors
    /// What to type instead.
    pub fn read(typed: &str) -> Result<FreeBeginning, String> {
        let mut words = typed.split_whitespace();
        let what = words.next().unwrap_or_default().to_lowercase();
        let numbers: Result<Vec<u16>, _> = words.map(str::parse).collect();
        let numbers = numbers.map_err(|_| format!("Type a word and a number: {BEGINNINGS}"))?;
        let sides = |number: u16| u8::try_from(number).ok().filter(|n| (3..=12).contains(n));
        match (what.as_str(), numbers.as_slice()) {
            ("ring", []) => Ok(FreeBeginning::Ring(3)),
            ("ring", [beads]) => match sides(*beads) {
                Some(beads) => Ok(FreeBeginning::Ring(beads)),
                None => Err("The first ring has 3 to 12 beads.".into()),
            },
            ("string", numbers @ ([] | [_] | [_, _])) => {
                let rounds = numbers.first().copied().unwrap_or(8);
                match (rounds, sides(numbers.get(1).copied().unwrap_or(3))) {
                    (2..=200, Some(sides)) => Ok(FreeBeginning::String(rounds, sides)),
                    _ => {
                        Err("A string has 2 to 200 rounds to its middle, and 3 to 12 sides.".into())
                    }
                }
            }
            ("strip", numbers @ ([] | [_])) => {
                let beads = numbers.first().copied().unwrap_or(8);
                match (2..=200).contains(&beads) && beads.is_multiple_of(2) {
                    true => Ok(FreeBeginning::Strip(beads)),
                    false => Err("A strip is 2 to 200 beads across, an even number.".into()),
                }
            }
            _ => Err(format!("Type a word and a number: {BEGINNINGS}")),
        }
    }
}

pub(super) const ASKED: &Keys = &key_table!("A piece without a pattern";
    done "Enter" ["Enter done"] "begin with that; a name is asked for then");

const BEGINNING_ASKED: &str = "What does the piece begin with?";
const BEGINNINGS: &str = "ring 3 (3 to 12 beads, worked outward), string 8 (rounds 8 and 7 as one string, worked \
                          inward), or strip 12 (so many beads across).";
const NAME_ASKED: &str = "What is the piece called?";

/// The name of a new piece.
///
/// # Errors
/// Another piece already has it, or it is not a valid name.
fn new_name(tray: &Tray, typed: &str) -> Result<String, String> {
    let name = typed.trim();
    let pieces = tray.pieces().map_err(|error| error.to_string())?;
    match pieces
        .iter()
        .any(|piece| piece.name == name || piece.title.as_str() == name)
    {
        _ if name.is_empty() => Err("Type a name first.".into()),
        true => Err("A piece is called that already: type another name.".into()),
        false => Ok(name.into()),
    }
}

/// Asks how a piece begins, and for its name if it has none yet.
pub fn free_asked(name: Option<String>) -> Prompt<TrayState> {
    let asks = |_: &TrayState, _: &str| (BEGINNING_ASKED, BEGINNINGS);
    Prompt::new(ASKED, TextEntry::text(80), asks, move |_, typed| {
        let beginning = FreeBeginning::read(typed)?;
        let name = name.clone();
        Ok(match name {
            Some(name) => begin(name, beginning),
            None => Flow::replace(name_asked(beginning)),
        })
    })
}

fn name_asked(beginning: FreeBeginning) -> Prompt<TrayState> {
    let help = "`threadmark stitch` finds it by that name again.";
    let asks = move |_: &TrayState, _: &str| (NAME_ASKED, help);
    Prompt::new(
        ASKED,
        TextEntry::text(80),
        asks,
        move |tray: &mut TrayState, typed| {
            let name = new_name(&tray.tray, typed)?;
            Ok(begin(name, beginning))
        },
    )
}

fn begin(name: String, beginning: FreeBeginning) -> Flow<TrayState> {
    Flow::Leave(Exit::Open(Choice::Free(NewFreePiece { name, beginning })))
}

/// Asks the same line by line, until there is an answer or no more lines.
///
/// # Errors
/// [`Error::Io`].
pub fn asked_plainly(
    tray: &Tray,
    name: Option<String>,
    input: &mut impl BufRead,
    out: &mut impl Write,
) -> Result<Option<NewFreePiece>, Error> {
    let Some(beginning) = ask(input, out, BEGINNING_ASKED, BEGINNINGS, FreeBeginning::read)? else {
        return Ok(None);
    };
    let name = match name {
        Some(name) => name,
        None => match ask(input, out, NAME_ASKED, "", |typed| new_name(tray, typed))? {
            Some(name) => name,
            None => return Ok(None),
        },
    };
    Ok(Some(NewFreePiece { name, beginning }))
}

/// Asks for one line, with help, until it can be read; `None` if there are no more
/// lines.
fn ask<T>(
    input: &mut impl BufRead,
    out: &mut impl Write,
    question: &str,
    help: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Result<Option<T>, Error> {
    let mut help = help.to_string();
    loop {
        writeln!(out, "{question} {help}")?;
        out.flush()?;
        let typed = match plain_file::line(input)? {
            TypedLine::Text(line) => line,
            TypedLine::TooLong => String::new(),
            TypedLine::End => return Ok(None),
        };
        match read(&typed) {
            Ok(answer) => return Ok(Some(answer)),
            Err(why) => help = why,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_beginning_is_a_word_and_a_number() {
        use FreeBeginning::{Ring, Strip};
        for (typed, read) in [
            ("ring", Ring(3)),
            ("Ring 6", Ring(6)),
            ("string", FreeBeginning::String(8, 3)),
            ("string 5 4", FreeBeginning::String(5, 4)),
            ("strip 12", Strip(12)),
        ] {
            assert_eq!(FreeBeginning::read(typed), Ok(read));
        }
        for typed in [
            "",
            "rope",
            "ring 2",
            "ring 13",
            "ring x",
            "string 1",
            "strip 7",
            "strip 2 2",
        ] {
            assert!(FreeBeginning::read(typed).is_err(), "{typed}");
        }
    }
}
