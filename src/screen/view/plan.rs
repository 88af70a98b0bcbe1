//! The plan, part by part; on a wide screen with its parts beside it.

use super::text::{self, rows};
use super::{Shown, foot};
use crate::screen::keys::Place;
use crate::screen::look::Look;
use crate::screen::session::plan_room::{PlanRoom, Row};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};

/// From this width on the parts stand beside the plan.
const WIDE: u16 = 110;
/// Columns that they take.
const PARTS: u16 = 30;
/// The widest that a line of the plan is set: longer ones are hard to follow.
const LINE: u16 = 100;

/// Columns of the plan's own lines on a screen so wide.
pub fn columns(width: u16) -> u16 {
    match width {
        WIDE.. => (width - PARTS).min(LINE),
        _ => width,
    }
}

/// Draws the plan from row `at` on.
pub(super) fn draw(shown: &Shown, at: usize, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Plan, rows(area, area.height - 1, 1), buf);
    let body = rows(area, 1, area.height.saturating_sub(3));
    let last = rows(area, area.height.saturating_sub(2), 1);
    let bold = Style::new().add_modifier(Modifier::BOLD);
    if let Err(word) = session.plan.parts() {
        text::line(rows(body, 1, 1), buf, " The plan", bold);
        text::wrapped(text::inset(rows(body, 2, 2), 1), buf, &word, look.quiet());
        return;
    }
    let wide = columns(area.width);
    let (lines, begins) = session.plan.rows(wide);
    let from = at.min(lines.len().saturating_sub(1));
    let part = begins.partition_point(|b| *b <= from).saturating_sub(1);
    let left = match area.width {
        WIDE.. => {
            let space = Rect {
                width: PARTS - 1,
                ..body
            };
            contents(look, &session.plan, part, space, buf);
            PARTS
        }
        _ => 0,
    };
    let space = Rect {
        x: area.x + left,
        width: wide.min(area.width - left),
        ..body
    };
    for (nth, row) in lines
        .iter()
        .skip(from)
        .take(usize::from(space.height))
        .enumerate()
    {
        let line = rows(space, nth as u16, 1);
        match row {
            Row::Heading(words) => text::line(line, buf, words, look.seat()),
            Row::Words(words) => text::line(line, buf, words, Style::new()),
            Row::Watch(words) => text::line(line, buf, words, look.ahead()),
        }
    }
    let shown_to = (from + usize::from(space.height)).min(lines.len());
    let more = match shown_to < lines.len() {
        true => "; more below",
        false => "",
    };
    let words = format!(" part {} of {}{more}", part + 1, begins.len());
    text::line(last, buf, &words, look.quiet());
}

/// The parts, the one in sight marked.
fn contents(look: Look, plan: &PlanRoom, here: usize, area: Rect, buf: &mut Buffer) {
    for (nth, part) in plan.parts().unwrap_or_default().iter().enumerate() {
        let style = match nth == here {
            true => look.bar(),
            false => look.quiet(),
        };
        let line = rows(area, nth as u16, 1);
        // What stands in brackets explains the heading and is no name.
        let name = part.heading.split(" (").next().unwrap_or_default();
        let name = super::super::picture::fit(name, usize::from(area.width).saturating_sub(2));
        if line.height > 0 {
            text::band(line, buf, &format!(" {name}"), style);
        }
    }
}
