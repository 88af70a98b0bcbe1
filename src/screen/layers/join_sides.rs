//! A join of the maker's own: which side of which panel meets which.

use super::changes::{Changes, previewed};
use crate::beadwork::amend::SidesJoined;
use crate::beadwork::number::{Panel, Side};
use crate::screen::furniture::TextEntry;
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use ratatui::text::Line;

pub const OPENER: Opener<Session> =
    opener!(Session; "join sides" "" [] "" |_, _| Flow::open(JoinAsked::new()); JoinAsked);

const UNLIKE: &str = "These sides are not equally long. How are they joined?";

/// Four numbers are typed: panel and side, panel and side.
pub struct JoinAsked {
    entry: TextEntry,
}

impl Layer<Session> for JoinAsked {
    keys! { Session, "A join of your own";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let layout = session.seq.layout();
        let made = layout.begun_panels().map(|(panel, _)| {
            let (name, sides) = (&layout.panel(panel).name, layout.kind(panel).sides());
            format!("{panel} {name} ({sides} sides)")
        });
        let made: Vec<String> = made.collect();
        let asked = "Panel and side, panel and side?";
        let help = format!(
            "1 2 2 3 joins side 2 of panel 1 to side 3 of panel 2, which carries the row. Panels: {}.",
            made.join(", ")
        );
        vec![
            self.entry.line(session.look(), asked),
            self.entry.below(help),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl JoinAsked {
    fn new() -> JoinAsked {
        JoinAsked {
            entry: TextEntry::of(30, |c| c.is_ascii_digit() || c == ' '),
        }
    }

    fn join(&self) -> Result<SidesJoined, String> {
        let numbers = self.entry.typed.split_whitespace().map(str::parse);
        let numbers: Result<Vec<u16>, _> = numbers.collect();
        // Makers count from 1.
        let from_0 = |number: &u16| number.checked_sub(1);
        let numbers = numbers
            .ok()
            .and_then(|all| all.iter().map(from_0).collect());
        let numbers: Vec<u16> = numbers.unwrap_or_default();
        let &[panel, bare, onto, at] = numbers.as_slice() else {
            return Err("Four numbers, please: panel and side, panel and side.".into());
        };
        let side = |side: u16| Side(u8::try_from(side).unwrap_or(u8::MAX));
        Ok(SidesJoined {
            panel: Panel(panel),
            side: side(bare),
            onto: Panel(onto),
            at: side(at),
            fit: None,
        })
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let ways = self.join().map(|join| session.seq.ways_to_join(join));
        let looked = ways.and_then(|mut ways| match ways.len() {
            1 => previewed(session, ways.remove(0)).map(Flow::replace),
            _ => Ok(Flow::replace(Changes::ways(session, UNLIKE, ways))),
        });
        match looked {
            Ok(flow) => flow,
            Err(why) => {
                self.entry.refuse(why);
                Flow::Stay
            }
        }
    }
}
