//! The command of the speech program that says everything aloud.

use crate::progress::{PlainText, Value};
use crate::screen::furniture::TextEntry;
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::settings::SAY;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "speech command" "" [] "" |_, session| Flow::open(SpeechCommand::of(session)); SpeechCommand);

/// The longest command.
const LONGEST: usize = 300;

/// A command that is written.
pub struct SpeechCommand {
    entry: TextEntry,
}

impl Layer<Session> for SpeechCommand {
    keys! { Session, "The speech program";
        keep "Enter" ["Enter done"] "keep the command; with none nothing is said aloud"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        vec![
            self.entry
                .line(session.look(), "Command that reads aloud what it gets:"),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl SpeechCommand {
    /// With the command that is set.
    pub fn of(session: &Session) -> SpeechCommand {
        let old = match session.piece.state().settings.get(SAY) {
            Some(Value::Text(command)) => command.as_str(),
            _ => "",
        };
        let entry = TextEntry::text(LONGEST).with(old);
        SpeechCommand { entry }
    }

    fn keep(&mut self, session: &mut Session) -> Flow<Session> {
        let command = PlainText::new(self.entry.typed.trim());
        let failed = session.set_for_all(SAY, Value::Text(command));
        session.tell(&failed.unwrap_or("It holds from the next start of the program on.".into()));
        Flow::Close
    }
}
