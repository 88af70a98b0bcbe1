//! Continuing by a law: asks for how many rounds, and with which corners if
//! they differ from those of the last rounds.

use super::changes::previewed;
use crate::beadwork::amend::Amendment;
use crate::screen::furniture::TextEntry;
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use ratatui::text::Line;

pub const OPENER: Opener<Session> =
    opener!(Session; "by law" "" [] "" |_, session| Flow::open(ByLaw::new(session)); ByLaw);

/// The most rounds that are planned at once.
const MOST_ROUNDS: u32 = 200;

/// What is typed: rounds, then corners.
pub struct ByLaw {
    /// The corners of the last rounds, the next one first.
    shown: Option<Vec<u8>>,
    entry: TextEntry,
}

impl Layer<Session> for ByLaw {
    keys! { Session, "Going on by a law";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let help = match &self.shown {
            Some(corners) => format!(
                "The last rounds show corners of {} next, again and again. Type 6 2 1 0 for six rounds by corners of 2, 1 and 0.",
                spelt(corners)
            ),
            None => "The last rounds show no law. Type rounds and corners: 6 2 1 0 is six rounds by corners of 2, 1 and 0.".into(),
        };
        vec![
            self.entry.line(session.look(), "How many rounds?"),
            self.entry.below(help),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

fn spelt(corners: &[u8]) -> String {
    let corners: Vec<String> = corners.iter().map(u8::to_string).collect();
    corners.join(" ")
}

impl ByLaw {
    fn new(session: &Session) -> ByLaw {
        ByLaw {
            shown: session.seq.law_ahead(session.done()),
            entry: TextEntry::of(100, |c| c.is_ascii_digit() || c == ' '),
        }
    }

    fn planned(&self, session: &Session) -> Result<Amendment, String> {
        let numbers = self.entry.typed.split_whitespace().map(str::parse);
        let numbers: Result<Vec<u32>, _> = numbers.collect();
        let rounds = format!("From 1 to {MOST_ROUNDS} rounds, please.");
        let numbers = numbers.map_err(|_| rounds.clone())?;
        let (&all, typed) = numbers.split_first().ok_or(rounds.clone())?;
        if !(1..=MOST_ROUNDS).contains(&all) {
            return Err(rounds);
        }
        let small = |corner: &u32| u8::try_from(*corner).map_err(|_| "A corner takes 0, 1 or 2.");
        let typed: Vec<u8> = typed.iter().map(small).collect::<Result<_, _>>()?;
        let corners = match (&self.shown, typed.is_empty()) {
            (Some(shown), true) => shown.clone(),
            (None, true) => return Err("Type the corners behind the number of rounds.".into()),
            (_, false) => typed,
        };
        let law = session.seq.by_law(session.done(), &corners, all);
        law.map_err(|why| format!("That cannot be: {why}."))
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let planned = self.planned(session);
        match planned.and_then(|law| previewed(session, law)) {
            Ok(layer) => Flow::replace(layer),
            Err(why) => {
                self.entry.refuse(why);
                Flow::Stay
            }
        }
    }
}
