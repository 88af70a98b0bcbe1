//! The command of the speech program that says everything aloud.

use crate::progress::{PlainText, Settings, Value};
use crate::screen::furniture::TextEntry;
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context, Flow, Layer, Opener};
use crate::screen::settings::SAY;
use ratatui::text::Line;

/// How it is opened, from the settings.
pub const fn opener<C: Context>() -> Opener<C> {
    opener!(C; "speech command" "" [] "" |_, context| Flow::open(SpeechCommand::of(context.settings())); SpeechCommand)
}

/// The longest command.
const LONGEST: usize = 300;

/// A command being typed.
pub struct SpeechCommand {
    entry: TextEntry,
}

impl<C: Context> Layer<C> for SpeechCommand {
    keys! { C, "The speech program";
        keep "Enter" ["Enter done"] "keep the command; without one nothing is read aloud"
    }

    fn lines(&self, context: &C) -> Vec<Line<'static>> {
        vec![
            self.entry
                .line(context.look(), "Command that reads aloud what it gets:"),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl SpeechCommand {
    /// Starts with the command that is set.
    pub fn of(settings: &Settings) -> SpeechCommand {
        let old = match settings.get(SAY) {
            Some(Value::Text(command)) => command.as_str(),
            _ => "",
        };
        let entry = TextEntry::text(LONGEST).with(old);
        SpeechCommand { entry }
    }

    fn keep<C: Context>(&mut self, context: &mut C) -> Flow<C> {
        let command = PlainText::new(self.entry.typed.trim());
        let failed = context.set_for_all(SAY, Value::Text(command));
        context.tell(&failed.unwrap_or("It is used from the next start of the program.".into()));
        Flow::Close
    }
}
