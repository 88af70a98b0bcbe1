//! The mend of a wrong count: the cause, where it can have been, what to do.

use super::text::{self, styled};
use super::{Shown, count, room};
use crate::count::{Mend, Place};
use crate::screen::session::counting::Answered;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Draws it.
pub fn draw(shown: &Shown, answered: &Answered, area: Rect, buf: &mut Buffer) {
    let verdict = count::verdict(shown, &answered.question, &answered.answer);
    let look = shown.session.look();
    let space = room::frame(shown, (&verdict, look.alarm()), area, buf);
    text::scrolled(space, buf, lines(shown, answered), 0);
}

/// What it says.
pub fn lines(shown: &Shown, answered: &Answered) -> Vec<Line<'static>> {
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let Some(cause) = answered.cause() else {
        return vec![];
    };
    let mut lines = vec![
        styled(format!("If it was this: {}", cause.cause), bold),
        styled(format!("Look: {}.", cause.look), Style::new()),
        Line::default(),
    ];
    if answered.choices() > 0 {
        lines.push(styled("Where do you see it?", bold));
        let any = "I have not found it yet".to_string();
        let places = std::iter::once(any).chain(cause.places.iter().map(place));
        for (i, words) in places.enumerate() {
            lines.push(room::choice(shown, i == answered.place, &words));
        }
        lines.push(Line::default());
    }
    let seq = &shown.session.seq;
    let Some(mend) = shown.session.mend(answered) else {
        return lines;
    };
    lines.push(styled(format!("{}.", mend.say(seq)), bold));
    let then = match mend {
        Mend::Unpick { .. } => "Enter shows the way back, bead by bead.",
        Mend::MoveTo(_) => "Enter goes there; b leads back.",
        Mend::CountAgain => "Enter counts again.",
        Mend::GoOn(_) => "Enter goes on.",
    };
    lines.push(styled(then, Style::new()));
    if cause.mistake.is_in_the_work() {
        let keep = "Or leave it as it is: k keeps it, as stitched, and later counts go by it.";
        lines.push(styled(keep, Style::new()));
    }
    lines
}

/// `side 2, one of gaps 1 to 4 (steps 40 to 43)`.
fn place(place: &Place) -> String {
    let steps = match place.steps {
        (first, last) if first == last => format!("step {first}"),
        (first, last) => format!("steps {first} to {last}"),
    };
    let side = place.side;
    match (place.corner, place.gaps) {
        (true, _) => format!("at the corner behind side {side} ({steps})"),
        (false, 1) => format!("on side {side}, in one gap ({steps})"),
        (false, gaps) => format!("on side {side}, in one of {gaps} gaps ({steps})"),
    }
}
