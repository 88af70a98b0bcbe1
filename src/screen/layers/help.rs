//! The help: what the next movement is, where the maker is, what the screen
//! below shows, its keys, cautions.

use crate::screen::keys::{KeyLine, keys, opener};
use crate::screen::layer::{Context, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::stack::Stack;
use crate::screen::widgets::{Scroll, bold, sections, styled};
use crate::words::{self, care};
use ratatui::prelude::{Line, Span};

/// Where the words are explained.
const WORDS: &str = "a asks about a word, here and on every screen: those on the screen first, then all, each with \
     a drawing and the words next to it. docs/words.md has the same.";

/// How it is opened, from anywhere.
pub const fn opener<C: Context>() -> Opener<C> {
    opener!(C; "help" "? F1" ["? help"] "what this screen shows, where you are, and all keys" open; <HelpPage as Layer<C>>::table)
}

fn open<C: Context>(stack: &mut Stack<C>, context: &mut C) -> Flow<C> {
    let about = stack.top().about(context);
    let mut lines = match about.is_empty() {
        true => context.explained(),
        false => about,
    };
    let points = |words: &[&str]| {
        let points = words.iter().map(|words| Line::from(format!("- {words}")));
        points.collect()
    };
    let parts = [
        ("Keys", stack.keys().into_iter().map(line).collect()),
        ("When something is wrong", points(care::ADVICE)),
        ("Take care", points(care::CAUTIONS)),
        ("Words of the trade", points(&[WORDS])),
    ];
    lines.push(Line::default());
    lines.extend(sections(context.look().seat(), parts));
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
    let signs = session.look().signs();
    let mut parts = vec![];
    if let Some(m) = session.movement() {
        let place = Some(seq.say_where(&m)).filter(|place| !place.is_empty());
        let terms = words::of_movement(seq, &m).into_iter().map(|term| {
            let word = Span::styled(format!("{}: ", term.word), bold());
            Line::from(vec![word, Span::raw(term.means)])
        });
        let now = std::iter::once(styled(seq.say_fully(&m), bold()));
        let now = now.chain(place.map(Line::from)).chain(terms);
        parts.push(("Now", now.collect()));
    }
    let job = session.job();
    let info = seq.job(job);
    let here = format!(
        "Job {job} of {}, {}: it strings {} beads in {} steps.",
        seq.jobs().len(),
        info.title,
        info.beads,
        info.steps
    );
    let mut here = vec![Line::from(here)];
    if !session.plain {
        here.extend([Line::default(), Line::from(care::PICTURE)]);
        here.push(Line::from(format!(
            "In the picture a solid brick is a bead in place, a hollow one is to come. {} is where the \
             needle comes out, the strong frame {}{} is where the new bead goes, {} or {} (or 1, 2, 3) \
             are the beads to go into, in that order.",
            signs.needle, signs.seat[0], signs.seat[1], signs.enter[0], signs.enter[1]
        )));
    }
    parts.push(("Where you are", here));
    sections(session.look().seat(), parts)
}
