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
    if session.face.asked {
        return face_lines(shown);
    }
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
    lines.extend(key_lines(Place::Stitch));
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

fn key_lines(place: Place) -> impl Iterator<Item = Line<'static>> {
    let bold = Style::new().add_modifier(Modifier::BOLD);
    keys::help(place).map(move |binding| {
        Line::from(vec![
            Span::styled(format!("{}: ", binding.named), bold),
            Span::raw(binding.does),
        ])
    })
}

/// What the whole face shows.
const FACE: [&str; 3] = [
    "The whole face shows a panel as it lies on the mat, seen from outside. A solid bead is in place; one that is to \
     come is an outline, or where beads are small a faint grain. Numbers stand beside the sides. + makes beads larger \
     until each has its letter.",
    "The bead between [ ] is the one pointed at: by hjkl, by Tab along its round, or by a click. Below or beside the \
     face stand its round, side and place, its colour, its step, and how often the thread goes through it.",
    "Enter goes to its step. That is a jump like any other: b leads back.",
];

/// What the brush does.
const BRUSH: [&str; 5] = [
    "Space paints the bead pointed at in the colour in hand, and a click the bead that it hits. c and x turn through \
     the piece's colours, a large letter takes the bead of that letter, e the colour pointed at.",
    "s says what is painted with a bead: only itself, its mirror image, its like on every side, both, or the whole \
     round. The mirror stands on the middle of the side that is up.",
    "Paint belongs to a kind of panel: all panels of that kind are alike. Its tip beads \
     are all alike.",
    "Every stroke is kept with the piece at once, and no step moves by it. What is sewn already stays on the mat as \
     it is; painting it says so.",
    "w writes what is painted into a pattern file, as lines of its colours. Every other letter of the file stays.",
];

fn face_lines(shown: &Shown) -> Vec<Line<'static>> {
    let session = shown.session;
    let (place, words): (Place, &[&str]) = match session.face.brush.on {
        true => (Place::Colouring, &BRUSH),
        false => (Place::Face, &FACE),
    };
    let mut lines: Vec<Line> = words
        .iter()
        .flat_map(|words| [Line::from(*words), Line::default()])
        .collect();
    lines.push(styled("Keys", session.look().seat()));
    lines.extend(key_lines(place));
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
