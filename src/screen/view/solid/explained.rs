//! The page that explains the picture: its signs, its letters, its keys.

use crate::screen::keys::{self, Place};
use crate::screen::look::Look;
use crate::screen::solid;
use crate::screen::view::text::{self, rows, styled};
use crate::sight::FaceState;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

/// Draws the page from line `at` on.
pub fn draw(look: Look, at: usize, area: Rect, buf: &mut Buffer) {
    let high = area.height.saturating_sub(1);
    let space = text::inset(rows(area, 0, high), 1);
    let more = text::scrolled(space, buf, lines(look), at);
    if more {
        let words = " more below: down arrow";
        text::line(rows(area, high, 1), buf, words, look.quiet());
    }
}

fn lines(look: Look) -> Vec<Line<'static>> {
    let (plain, bold) = (Style::new(), Style::new().add_modifier(Modifier::BOLD));
    let told = |key: String, does: String| {
        Line::from(vec![Span::styled(key, bold), Span::styled(does, plain)])
    };
    let mut lines = vec![styled("Faces", look.seat())];
    for state in FaceState::ALL {
        let (sign, word) = solid::word(state);
        let means = match state {
            FaceState::Now => "it is worked now, or joined now; what is not made of it is grey",
            FaceState::Joined => "made, and joined on all sides that are to be joined",
            FaceState::Made => "made, and waiting to be joined; its colours are paler",
            FaceState::Open => "not made yet: its place is open, its colours are dark",
        };
        lines.push(told(format!("{sign} {word}: "), means.into()));
    }
    lines.push(Line::default());
    lines.push(styled("Sides", look.seat()));
    lines.push(styled(
        "The side that is joined now is bright, without colours a line of #. A side that waits for \
         its join is white, without colours a line of %. Without colours a face is filled with its sign, or \
         with the letters of its beads where they have room.",
        plain,
    ));
    lines.push(styled(
        "Small letters stand on sides that will meet: a meets a, b meets b. A join that is closed \
         early has a letter early in the alphabet.",
        plain,
    ));
    lines.push(Line::default());
    lines.push(styled("Keys", look.seat()));
    for binding in keys::help(Place::Solid) {
        lines.push(told(format!("{}: ", binding.named), binding.does.into()));
    }
    lines
}
