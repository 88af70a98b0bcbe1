//! A note on the next step.

use crate::progress::Entry;
use crate::screen::furniture::TextEntry;
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "note" "n" ["n note"] "write a note on this step; an empty one takes it away" |_, session| Flow::open(Note::of(session)); Note);

/// The longest note that can be typed here.
const LONGEST: usize = 500;

/// A note being written.
pub struct Note {
    entry: TextEntry,
}

impl Layer<Session> for Note {
    keys! { Session, "Writing a note";
        keep "Enter" ["Enter done"] "keep the note"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let asked = format!("Note on step {}:", session.done().0 + 1);
        vec![self.entry.line(session.look(), &asked)]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl Note {
    /// Starts with the existing note; where text cannot be edited, with an
    /// empty one.
    fn of(session: &Session) -> Note {
        let old = session.piece.state().notes.get(&(session.done().0 + 1));
        let old = old.filter(|_| !session.plain);
        let entry = TextEntry::text(LONGEST).with(old.map_or("", |note| note.as_str()));
        Note { entry }
    }

    fn keep(&mut self, session: &mut Session) -> Flow<Session> {
        let text = self.entry.typed.trim().to_string();
        if !text.is_empty() {
            session.say("The note is kept with this step.");
        }
        let step = session.done().0 + 1;
        session.record(Entry::note(&session.seq, step, &text, session.now));
        Flow::Close
    }
}
