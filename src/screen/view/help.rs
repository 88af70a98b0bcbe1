//! The help: what this movement is, where the maker is, keys, cautions.

use super::text::{self, rows, styled};
use super::{Shown, foot};
use crate::screen::keys::{self, Place};
use crate::words::{self, care};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

/// Where the words are explained.
const WORDS: &str = "a asks about a word, here and on every screen: those on the screen first, then all, each with \
     a drawing and the words next to it. docs/words.md has the same.";

/// Draws the help from line `at` on.
pub fn draw(shown: &Shown, at: usize, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Help, rows(area, area.height - 1, 1), buf);
    let space = text::inset(rows(area, 1, area.height.saturating_sub(3)), 1);
    let more = text::scrolled(space, buf, lines(shown), at);
    if more {
        let words = " more below: down arrow";
        text::line(rows(area, area.height - 2, 1), buf, words, look.quiet());
    }
}

fn lines(shown: &Shown) -> Vec<Line<'static>> {
    let session = shown.session;
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let plain = Style::new();
    let mut lines = explained(shown);
    let head = |lines: &mut Vec<Line>, text: &str| {
        lines.push(Line::default());
        lines.push(styled(text.to_string(), session.look().seat()));
    };
    lines.push(styled(care::PICTURE.to_string(), plain));
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
    head(&mut lines, "Keys");
    for binding in keys::help(Place::Stitch) {
        lines.push(Line::from(vec![
            Span::styled(format!("{}: ", binding.named), bold),
            Span::raw(binding.does),
        ]));
    }
    head(&mut lines, "When something is wrong");
    lines.extend(care::ADVICE.iter().map(|a| styled(format!("- {a}"), plain)));
    head(&mut lines, "Take care");
    lines.extend(
        care::CAUTIONS
            .iter()
            .map(|c| styled(format!("- {c}"), plain)),
    );
    head(&mut lines, "Words of the trade");
    lines.push(styled(WORDS, plain));
    lines
}

/// What this movement is, and where the maker is.
pub fn explained(shown: &Shown) -> Vec<Line<'static>> {
    let session = shown.session;
    let seq = &session.seq;
    let bold = Style::new().add_modifier(Modifier::BOLD);
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
        lines.push(styled(seq.say(&m), bold));
        let place = seq.say_where(&m);
        if !place.is_empty() {
            lines.push(styled(place, plain));
        }
        for term in words::of_movement(seq, &m) {
            lines.push(Line::from(vec![
                Span::styled(format!("{}: ", term.word), bold),
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
    lines
}
