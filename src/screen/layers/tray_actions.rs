//! What can be done with a piece of the tray besides opening it: rename it,
//! copy it to a file, put it away or bring it back; and taking in a piece from
//! a file.

use super::menu::{Menu, Prompt, row};
use super::tray::TrayState;
use crate::progress::{PieceSummary, PlainText, paths};
use crate::screen::layer::{Context as _, Flow, Keys, key_table};
use crate::screen::widgets::{TextEntry, styled};
use crate::{atomic_file, plain_file};
use std::error::Error;
use std::io::ErrorKind;

pub(super) const ACTIONS: &Keys = &key_table!("A piece of the tray";
    choose "Enter space right" ["Enter do it"] "do it; a name is asked for first where it takes one");

pub(super) const NAME: &Keys = &key_table!("A name that is asked for";
    done "Enter" ["Enter done"] "rename the piece, copy it to that file, or take in the piece of that file");

/// The longest name that can be typed.
const LONGEST_NAME: usize = 1000;

type PieceAction = fn(&mut TrayState, &PieceSummary) -> Flow<TrayState>;

/// What can be done with a piece in the tray, and with one that is put away.
const IN_THE_TRAY: &[(&str, PieceAction)] = &[
    ("Give it another name", rename),
    ("Copy it, with all its progress, to one file", copy_out),
    (
        "Put it away, out of this list; it can be brought back",
        put_away,
    ),
];
const AWAY: &[(&str, PieceAction)] = &[("Bring it back", bring_back)];

/// For a piece in the tray or put away, or for another line.
pub(super) fn actions(
    tray: &TrayState,
    piece: Option<&PieceSummary>,
    is_away: bool,
) -> Flow<TrayState> {
    let (mut rows, mut asked) = (vec![], String::new());
    if let Some(piece) = piece {
        let offered = if is_away { AWAY } else { IN_THE_TRAY };
        rows.extend(offered.iter().map(|&(words, act)| {
            let piece = piece.clone();
            row(words, move |tray| act(tray, &piece))
        }));
        asked = format!("What do you want to do with {}?", tray.called(piece));
    }
    let words = "Take in a piece from a file; all of it is checked first";
    rows.push(row(words, |_| take_in()));
    Flow::open(Menu::new(ACTIONS, asked, rows))
}

fn rename(_: &mut TrayState, piece: &PieceSummary) -> Flow<TrayState> {
    let name = piece.name.clone();
    let help = "Its place, its notes and all else stay as they are.";
    let title = piece.title.as_str();
    ask("New name:", help, title, move |tray, typed| {
        tray.tray.rename(&name, typed)?;
        Ok(format!("It is called '{}' now.", PlainText::new(typed)))
    })
}

fn copy_out(_: &mut TrayState, piece: &PieceSummary) -> Flow<TrayState> {
    let name = piece.name.clone();
    let file = format!("{name}.piece");
    let help = "The piece stays here too. No file is written over.";
    ask("Copy to:", help, &file, move |tray, typed| {
        let file = paths::typed(typed);
        let saved = atomic_file::save(&file, &tray.tray.export(&name)?, false);
        saved.map_err(|error| match error.kind() {
            _ if file.is_dir() => {
                format!("{typed} is a directory: type the name of a file in it")
            }
            ErrorKind::AlreadyExists => {
                format!("{typed} is there already, and was left as it is: type another name")
            }
            _ => format!("{typed}: {}", plain_file::reason(&error)),
        })?;
        let whole = std::path::absolute(&file).unwrap_or(file);
        let whole = whole.display().to_string();
        Ok(format!("Copied to {}.", PlainText::new(&whole)))
    })
}

fn put_away(tray: &mut TrayState, piece: &PieceSummary) -> Flow<TrayState> {
    let called = tray.called(piece);
    let done = format!(
        "{called} is put away: it stands at the end of the list, and d there brings it back."
    );
    let put = tray.tray.put_away(&piece.name);
    tray.did(put.map_or_else(|error| error.to_string(), |_| done))
}

fn bring_back(tray: &mut TrayState, piece: &PieceSummary) -> Flow<TrayState> {
    let done = format!("{} is back among your pieces.", tray.called(piece));
    let brought = tray.tray.bring_back(&piece.name);
    tray.did(brought.map_or_else(|error| error.to_string(), |_| done))
}

fn take_in() -> Flow<TrayState> {
    let help = "Such as evening-star.piece. If anything is wrong with it, nothing is kept.";
    ask("Take in from:", help, "", |tray, typed| {
        let name = (tray.take_in)(&tray.tray, &paths::typed(typed))?;
        let mut done = format!("'{name}' is among your pieces.");
        done.extend(
            tray.tray
                .other_copies(&name)
                .map(|copies| format!(" {copies}")),
        );
        Ok(done)
    })
}

/// Asks for the new name of a piece, or for the name of a file; what is done
/// with it says what was done, or why it was not.
fn ask(
    asked: &'static str,
    help: &'static str,
    typed: &str,
    act: impl Fn(&mut TrayState, &str) -> Result<String, Box<dyn Error>> + 'static,
) -> Flow<TrayState> {
    let asks = move |tray: &TrayState, _: &str| (asked, styled(help, tray.look().quiet()));
    // Where it is not done it stays open, with the name as typed.
    let done = move |tray: &mut TrayState, typed: &str| match typed.trim() {
        "" => Err("Type a name first.".into()),
        name => match act(tray, name) {
            Ok(done) => Ok(tray.did(done)),
            Err(why) => Err(format!("Not done: {}", PlainText::new(&why.to_string()))),
        },
    };
    let entry = TextEntry::text(LONGEST_NAME).with(typed);
    Flow::open(Prompt::new(NAME, entry, asks, done))
}
