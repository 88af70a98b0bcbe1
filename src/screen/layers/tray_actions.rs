//! What can be done with a piece of the tray besides opening it: rename it,
//! copy it to a file, put it away or bring it back; and taking in a piece from
//! a file.

use super::menu::{Menu, MenuRow, Prompt, row};
use super::tray::TrayState;
use crate::atomic_file;
use crate::progress::{PieceSummary, PlainText};
use crate::screen::layer::{Context as _, Flow, Keys, key_table};
use crate::screen::widgets::TextEntry;
use crate::screen::widgets::text::styled;
use std::path::Path;

pub(super) const ACTIONS: &Keys = &key_table!("A piece of the tray";
    choose "Enter space right" ["Enter do it"] "do it; a name is asked for first where it takes one");

pub(super) const NAME: &Keys = &key_table!("A name that is asked for";
    done "Enter" ["Enter done"] "rename the piece, copy it to that file, or take in the piece of that file");

/// The longest name that can be typed.
const LONGEST_NAME: usize = 1000;

/// For a piece in the tray or put away, or for another line.
pub(super) fn actions(piece: Option<&PieceSummary>, is_away: bool) -> Flow<TrayState> {
    let mut rows = match piece {
        Some(piece) if is_away => vec![bring_back(piece)],
        Some(piece) => vec![rename(piece), copy_out(piece), put_away(piece)],
        None => vec![],
    };
    rows.push(take_in());
    let asked = piece.map_or(String::new(), |piece| {
        format!("What do you want to do with '{}'?", piece.title)
    });
    Flow::open(Menu::new(ACTIONS, asked, rows))
}

type ActionRow = MenuRow<TrayState>;

fn rename(piece: &PieceSummary) -> ActionRow {
    let (name, title) = (piece.name.clone(), piece.title.to_string());
    row("Give it another name", move |_| {
        let name = name.clone();
        let help = "Its place, its notes and all else stay as they are.";
        ask("New name:", help, &title, move |tray, typed| {
            let renamed = tray.tray.rename(&name, typed);
            renamed.map_err(|error| error.to_string())?;
            Ok(format!("It is called '{}' now.", PlainText::new(typed)))
        })
    })
}

fn copy_out(piece: &PieceSummary) -> ActionRow {
    let name = piece.name.clone();
    row("Copy it, with all its progress, to one file", move |_| {
        let (name, file) = (name.clone(), format!("{name}.piece"));
        let help = "The piece stays here too. No file is written over.";
        ask("Copy to:", help, &file, move |tray, typed| {
            let bytes = tray.tray.export(&name).map_err(|error| error.to_string())?;
            let saved = atomic_file::save(Path::new(typed), &bytes, false);
            saved.map_err(|error| format!("{}: {error}", PlainText::new(typed)))?;
            let whole = std::path::absolute(typed).unwrap_or_else(|_| typed.into());
            let whole = whole.display().to_string();
            Ok(format!("Copied to {}.", PlainText::new(&whole)))
        })
    })
}

fn put_away(piece: &PieceSummary) -> ActionRow {
    let (name, title) = (piece.name.clone(), piece.title.clone());
    let words = "Put it away, out of this list; it can be brought back";
    row(words, move |tray: &mut TrayState| {
        match tray.tray.put_away(&name) {
        Ok(_) => tray.did(format!(
            "'{title}' is put away: it stands at the end of the list, and d there brings it back."
        )),
        Err(error) => tray.did(error.to_string()),
    }
    })
}

fn bring_back(piece: &PieceSummary) -> ActionRow {
    let (name, title) = (piece.name.clone(), piece.title.clone());
    row("Bring it back", move |tray: &mut TrayState| {
        match tray.tray.bring_back(&name) {
            Ok(_) => tray.did(format!("'{title}' is back among your pieces.")),
            Err(error) => tray.did(error.to_string()),
        }
    })
}

fn take_in() -> ActionRow {
    let help = "Such as evening-star.piece. If anything is wrong with it, nothing is kept.";
    let words = "Take in a piece from a file; all of it is checked first";
    row(words, move |_| {
        ask("Take in from:", help, "", |tray, typed| {
            let name = (tray.take_in)(&tray.tray, Path::new(typed))?;
            Ok(format!("'{name}' is among your pieces."))
        })
    })
}

/// Asks for the new name of a piece, or for the name of a file; what is done
/// with it says what was done, or why it was not.
fn ask(
    asked: &'static str,
    help: &'static str,
    typed: &str,
    act: impl Fn(&mut TrayState, &str) -> Result<String, String> + 'static,
) -> Flow<TrayState> {
    let asks = move |tray: &TrayState, _: &str| {
        let below = match tray.said.is_empty() {
            true => help,
            false => &tray.said,
        };
        (asked, styled(below, tray.look().quiet()))
    };
    let done = move |tray: &mut TrayState, typed: &str| {
        // Where it is not done it stays open, with the name as typed.
        match typed.trim() {
            "" => tray.tell("Type a name first."),
            name => match act(tray, name) {
                Ok(done) => return Ok(tray.did(done)),
                Err(why) => tray.tell(&format!("Not done: {}", PlainText::new(&why))),
            },
        }
        Ok(Flow::Stay)
    };
    let entry = TextEntry::text(LONGEST_NAME).with(typed);
    Flow::open(Prompt::new(NAME, entry, asks, done))
}
