//! The answer to a count.

use super::text::styled;
use super::{Shown, foot, room};
use crate::count::{Answer, Question, Verdict};
use crate::screen::session::counting::Answered;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

/// Draws the answer.
pub fn draw(shown: &Shown, answered: &Answered, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    let words = verdict(shown, &answered.question, &answered.answer);
    let style = match answered.may_be_kept() {
        false => look.good(),
        true => look.alarm(),
    };
    let space = room::frame(shown, (&words, style), area, buf);
    // A cause is three lines: itself, the look, and a gap.
    room::list(space, buf, causes(shown, answered), 3 * answered.cause);
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
        Verdict::Match if !answer.causes.is_empty() => {
            format!("{what}: {counted} in all, as it must be, but not side by side.")
        }
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

fn causes(shown: &Shown, answered: &Answered) -> Vec<Line<'static>> {
    if !answered.may_be_kept() {
        return vec![styled("The count is kept with the piece.", Style::new())];
    }
    if answered.answer.causes.is_empty() {
        return vec![styled(
            "No one or two mistakes of this round give that number. Count again, each side by \
             itself (5 5 6); then the round before.",
            Style::new(),
        )];
    }
    let mut lines = vec![];
    for (i, cause) in answered.answer.causes.iter().enumerate() {
        let head = match i {
            0 => "Most likely",
            _ => "Or",
        };
        let words = format!("{head}: {}", cause.cause);
        lines.push(room::choice(shown, i == answered.cause, &words));
        lines.push(styled(format!("  Look: {}", cause.look), Style::new()));
        lines.push(Line::default());
    }
    lines
}
