//! What can be done with a piece of the tray besides opening it: rename it,
//! copy it to a file, put it away or bring it back; and taking in a piece from
//! a file.

use super::tray::TrayState;
use crate::atomic_file;
use crate::progress::{PieceSummary, PlainText};
use crate::screen::furniture::text::styled;
use crate::screen::furniture::{Scroll, TextEntry, choices};
use crate::screen::keys::keys;
use crate::screen::layer::{Context as _, Flow, Layer};
use ratatui::style::Style;
use ratatui::text::Line;
use std::path::Path;

/// The longest name that can be typed.
const LONGEST_NAME: usize = 1000;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Action {
    Rename,
    CopyOut,
    PutAway,
    BringBack,
    TakeIn,
}

impl Action {
    fn words(self) -> &'static str {
        match self {
            Action::Rename => "Give it another name",
            Action::CopyOut => "Copy it, with all its progress, to one file",
            Action::PutAway => "Put it away, out of this list; it can be brought back",
            Action::BringBack => "Bring it back",
            Action::TakeIn => "Take in a piece from a file; all of it is checked first",
        }
    }
}

/// What can be done with a line of the tray.
pub struct PieceActions {
    /// The piece's name and title, if the line is a piece.
    piece: Option<(String, String)>,
    actions: Vec<Action>,
    scroll: Scroll,
}

impl PieceActions {
    /// For a piece in the tray or put away, or for another line.
    pub fn of(piece: Option<&PieceSummary>, is_away: bool) -> PieceActions {
        let actions = match piece {
            Some(_) if is_away => vec![Action::BringBack, Action::TakeIn],
            Some(_) => vec![
                Action::Rename,
                Action::CopyOut,
                Action::PutAway,
                Action::TakeIn,
            ],
            None => vec![Action::TakeIn],
        };
        PieceActions {
            piece: piece.map(|piece| (piece.name.clone(), piece.title.to_string())),
            scroll: Scroll::list(0, actions.len()),
            actions,
        }
    }

    fn choose(&mut self, tray: &mut TrayState) -> Flow<TrayState> {
        let Some(&action) = self.actions.get(self.scroll.at) else {
            return Flow::Stay;
        };
        let (name, title) = self.piece.clone().unwrap_or_default();
        let done = match action {
            Action::PutAway => tray.tray.put_away(&name).map(|_| {
                format!("'{title}' is put away: it stands at the end of the list, and d there brings it back.")
            }),
            Action::BringBack => {
                let back = tray.tray.bring_back(&name);
                back.map(|_| format!("'{title}' is back among your pieces."))
            }
            Action::Rename => return Flow::open(NameAsked::new(action, name, &title)),
            Action::CopyOut => {
                let file = format!("{name}.piece");
                return Flow::open(NameAsked::new(action, name, &file));
            }
            Action::TakeIn => return Flow::open(NameAsked::new(action, name, "")),
        };
        match done {
            Ok(done) => tray.did(done),
            Err(error) => tray.did(error.to_string()),
        }
    }
}

impl Layer<TrayState> for PieceActions {
    keys! { TrayState, "A piece of the tray";
        choose "Enter space right" ["Enter do it"] "do it; a name is asked for first where it takes one"
    }

    fn heading(&self, tray: &TrayState) -> Option<(String, Style)> {
        let (_, title) = self.piece.as_ref()?;
        Some((
            format!("What do you want to do with '{title}'?"),
            tray.look().seat(),
        ))
    }

    fn lines(&self, tray: &TrayState) -> Vec<Line<'static>> {
        let words = self.actions.iter().map(|action| action.words());
        choices(tray.look(), self.scroll.at, words)
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }
}

/// Asks for the new name of a piece, or for the name of a file.
pub struct NameAsked {
    action: Action,
    piece: String,
    entry: TextEntry,
}

impl NameAsked {
    fn new(action: Action, piece: String, typed: &str) -> NameAsked {
        let entry = TextEntry::text(LONGEST_NAME).with(typed);
        NameAsked {
            action,
            piece,
            entry,
        }
    }

    fn done(&mut self, tray: &mut TrayState) -> Flow<TrayState> {
        let typed = self.entry.typed.trim();
        if typed.is_empty() {
            tray.tell("Type a name first.");
            return Flow::Stay;
        }
        let shown = PlainText::new(typed);
        let done = match self.action {
            Action::Rename => match tray.tray.rename(&self.piece, typed) {
                Ok(_) => Ok(format!("It is called '{shown}' now.")),
                Err(error) => Err(error.to_string()),
            },
            Action::CopyOut => match tray.tray.export(&self.piece) {
                Ok(bytes) => match atomic_file::save(Path::new(typed), &bytes, false) {
                    Ok(()) => {
                        let whole = std::path::absolute(typed).unwrap_or_else(|_| typed.into());
                        let whole = whole.display().to_string();
                        Ok(format!("Copied to {}.", PlainText::new(&whole)))
                    }
                    Err(error) => Err(format!("{shown}: {error}")),
                },
                Err(error) => Err(error.to_string()),
            },
            _ => (tray.take_in)(&tray.tray, Path::new(typed))
                .map(|name| format!("'{name}' is among your pieces.")),
        };
        match done {
            Ok(done) => tray.did(done),
            Err(why) => {
                // It stays open, with the name as typed.
                tray.tell(&format!("Not done: {}", PlainText::new(&why)));
                Flow::Stay
            }
        }
    }
}

impl Layer<TrayState> for NameAsked {
    keys! { TrayState, "A name that is asked for";
        done "Enter" ["Enter done"] "rename the piece, copy it to that file, or take in the piece of that file"
    }

    fn lines(&self, tray: &TrayState) -> Vec<Line<'static>> {
        let (asked, below) = match self.action {
            Action::Rename => (
                "New name:",
                "Its place, its notes and all else stay as they are.",
            ),
            Action::CopyOut => (
                "Copy to:",
                "The piece stays here too. No file is written over.",
            ),
            _ => (
                "Take in from:",
                "Such as evening-star.piece. If anything is wrong with it, nothing is kept.",
            ),
        };
        let below = match tray.said.is_empty() {
            true => below,
            false => &tray.said,
        };
        vec![
            self.entry.line(tray.look(), asked),
            styled(below.to_string(), tray.look().quiet()),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}
