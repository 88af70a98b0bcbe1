//! The answer to a count.

use super::text::{self, rows, styled};
use super::{Shown, foot};
use crate::count::{Answer, Question, Verdict};
use crate::screen::keys::Place;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Draws the answer.
pub fn draw(shown: &Shown, q: &Question, answer: &Answer, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Answer, rows(area, area.height - 1, 1), buf);
    let word = if shown.trouble.is_some() { 2 } else { 0 };
    foot::write_word(
        shown,
        rows(area, area.height.saturating_sub(1 + word), word),
        buf,
    );
    let (words, style) = match answer.verdict {
        Verdict::Match => (verdict(shown, q, answer), look.good()),
        _ => (verdict(shown, q, answer), look.alarm()),
    };
    text::band(rows(area, 2, 1), buf, &format!("  {words}"), style);
    let space = rows(area, 4, area.height.saturating_sub(5 + word));
    text::scrolled(text::inset(space, 2), buf, causes(answer), 0);
}

/// `Side 2 of round 5: 6 counted, 5 must be there. 1 too many.`
pub fn verdict(shown: &Shown, q: &Question, answer: &Answer) -> String {
    let round = foot::round_words(shown, q.job, q.round);
    let what = match q.side {
        Some(side) => format!("Side {side} of {round}"),
        None => {
            let mut letters = round.chars();
            let first = letters.next().map(|c| c.to_ascii_uppercase());
            first.into_iter().chain(letters).collect()
        }
    };
    let (counted, expected) = (answer.counted, answer.expected);
    match answer.verdict {
        Verdict::Match => format!("{what}: {counted}. Yes, that is right."),
        Verdict::Over => format!(
            "{what}: {counted} counted, {expected} must be there: {} too many.",
            counted - expected
        ),
        Verdict::Under => format!(
            "{what}: {counted} counted, {expected} must be there: {} too few.",
            expected - counted
        ),
    }
}

fn causes(answer: &Answer) -> Vec<Line<'static>> {
    let bold = Style::new().add_modifier(Modifier::BOLD);
    if answer.verdict == Verdict::Match {
        return vec![styled("The count is kept with the piece.", Style::new())];
    }
    if answer.causes.is_empty() {
        return vec![styled(
            "No one or two mistakes of this round give that number. Count again, each side by \
             itself; then the round before.",
            Style::new(),
        )];
    }
    let mut lines = vec![];
    for (i, cause) in answer.causes.iter().enumerate() {
        let head = match i {
            0 => "Most likely",
            _ => "Or",
        };
        lines.push(styled(format!("{head}: {}", cause.cause), bold));
        lines.push(styled(format!("Look: {}", cause.look), Style::new()));
        lines.push(Line::default());
    }
    lines
}
