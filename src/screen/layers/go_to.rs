//! Going to a typed place.

use crate::beadwork::number::Step;
use crate::screen::furniture::TextEntry;
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::place::{self, NoPlace};
use crate::screen::session::Session;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "go to" "g" ["g go to"] "go to a step (a number), a job (j3) or a round (r5, j3 r5)" |_, _| Flow::open(GoTo::new()); GoTo);

/// A place being typed.
pub struct GoTo {
    entry: TextEntry,
    found: Result<Step, NoPlace>,
}

impl Layer<Session> for GoTo {
    keys! { Session, "Going to a place";
        go "Enter" ["Enter done"] "go there"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let where_to = match &self.found {
            Ok(step) => {
                let (seq, job) = (&session.seq, session.seq.job_of(*step));
                let say = seq.step(*step).map_or(String::new(), |m| seq.say(&m));
                format!("step {step}, job {job} ({}): {say}", seq.job(job).title)
            }
            Err(error) => error.to_string(),
        };
        vec![
            self.entry.line(session.look(), "Go to:"),
            Line::from(where_to),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }

    fn edited(&mut self, session: &Session) {
        self.found = place::find(&session.seq, &self.entry.typed, session.job());
    }
}

impl GoTo {
    fn new() -> GoTo {
        GoTo {
            entry: TextEntry::text(40),
            found: Err(NoPlace::Empty),
        }
    }

    fn go(&mut self, session: &mut Session) -> Flow<Session> {
        match &self.found {
            Ok(step) => session.jump(*step),
            Err(_) => Flow::Stay,
        }
    }
}
