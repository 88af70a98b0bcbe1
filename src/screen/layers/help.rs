//! The help: what the next movement is, where the maker is, what the screen
//! below shows, its keys, cautions.

use crate::screen::furniture::text::styled;
use crate::screen::furniture::{Scroll, bold};
use crate::screen::keys::{KeyLine, keys, opener};
use crate::screen::layer::{Context, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::stack::Stack;
use crate::words::{self, care};
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Where the words are explained.
const WORDS: &str = "a asks about a word, here and on every screen: those on the screen first, then all, each with \
     a drawing and the words next to it. docs/words.md has the same.";

/// How it is opened, from anywhere.
pub const fn opener<C: Context>() -> Opener<C> {
    opener!(C; "help" "? F1" ["? help"] "what this screen shows, where you are, and all keys" open; <HelpPage as Layer<C>>::table)
}

fn open<C: Context>(stack: &mut Stack<C>, context: &mut C) -> Flow<C> {
    let seat = context.look().seat();
    let about = stack.top().about(context);
    let mut lines = match about.is_empty() {
        true => context.explained(),
        false => about,
    };
    lines.push(Line::default());
    lines.push(styled("Keys", seat));
    lines.extend(stack.keys().into_iter().map(line));
    let parts: [(&str, &[&str]); 3] = [
        ("When something is wrong", care::ADVICE),
        ("Take care", care::CAUTIONS),
        ("Words of the trade", &[WORDS]),
    ];
    for (heading, words) in parts {
        lines.push(Line::default());
        lines.push(styled(heading, seat));
        lines.extend(words.iter().map(|words| Line::from(format!("- {words}"))));
    }
    Flow::open(HelpPage {
        lines,
        scroll: Scroll::new(),
    })
}

fn line(key: &'static KeyLine) -> Line<'static> {
    Line::from(vec![
        Span::styled(format!("{}: ", key.named()), bold()),
        Span::raw(key.does),
    ])
}

pub struct HelpPage {
    lines: Vec<Line<'static>>,
    scroll: Scroll,
}

impl<C: Context> Layer<C> for HelpPage {
    keys! { C, "Help" [scroll page]; }

    fn lines(&self, _context: &C) -> Vec<Line<'static>> {
        self.lines.clone()
    }
}

/// What the next movement is, where the maker is, and what the picture shows.
pub fn explained(session: &Session) -> Vec<Line<'static>> {
    let seq = &session.seq;
    let plain = Style::new();
    let mut lines = vec![];
    let head = |lines: &mut Vec<Line>, text: &str| {
        if !lines.is_empty() {
            lines.push(Line::default());
        }
        lines.push(styled(text.to_string(), session.look().seat()));
    };
    if let Some(m) = session.movement() {
        head(&mut lines, "Now");
        lines.push(styled(seq.say(&m), bold()));
        let place = seq.say_where(&m);
        if !place.is_empty() {
            lines.push(styled(place, plain));
        }
        for term in words::of_movement(seq, &m) {
            lines.push(Line::from(vec![
                Span::styled(format!("{}: ", term.word), bold()),
                Span::raw(term.means),
            ]));
        }
    }
    head(&mut lines, "Where you are");
    let job = session.job();
    let info = seq.job(job);
    lines.push(styled(
        format!(
            "Job {job} of {}, {}: it strings {} beads in {} steps.",
            seq.jobs().len(),
            info.title,
            info.beads,
            info.steps
        ),
        plain,
    ));
    if session.plain {
        return lines;
    }
    lines.push(Line::default());
    lines.push(styled(care::PICTURE, plain));
    let signs = session.look().signs();
    lines.push(styled(
        format!(
            "In the picture a solid brick is a bead in place, a hollow one is to come. {} is where the \
             needle comes out, the strong frame {}{} is where the new bead goes, {} or {} (or 1, 2, 3) \
             are the beads to go into, in that order.",
            signs.needle, signs.seat[0], signs.seat[1], signs.enter[0], signs.enter[1]
        ),
        plain,
    ));
    lines
}
