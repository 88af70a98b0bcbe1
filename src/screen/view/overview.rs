//! The piece by its jobs, with the maker's notes.

use super::text::{self, rows};
use super::{Shown, foot};
use crate::screen::keys::Place;
use crate::screen::session::OverviewLine;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use unicode_width::UnicodeWidthStr as _;

/// Draws the overview, the maker on line `at`.
pub fn draw(shown: &Shown, at: usize, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Overview, rows(area, area.height - 1, 1), buf);
    let word = foot::word_rows(shown, area.width);
    foot::write_word(
        shown,
        rows(area, area.height.saturating_sub(1 + word), word),
        buf,
    );
    let space = rows(area, 2, area.height.saturating_sub(3 + word));
    let lines = session.overview();
    let high = usize::from(space.height.max(1));
    // The line the maker is on stays in the middle third.
    let last = lines.len().saturating_sub(high);
    let from = at.saturating_sub(high / 2).min(last);
    for (row, line) in lines.iter().enumerate().skip(from).take(high) {
        let space = rows(space, (row - from) as u16, 1);
        let style = match row == at {
            true => look.bar(),
            false => Style::new(),
        };
        buf.set_style(space, style);
        match line {
            OverviewLine::Job(job) => self::job(shown, *job, space, buf, style),
            OverviewLine::Note(step) => {
                let note = session.piece.state().notes.get(step);
                let note = note.map_or("", |n| n.as_str());
                let words = format!("      {} step {step}: {note}", look.signs().note);
                text::line(space, buf, &words, style);
            }
        }
    }
}

fn job(shown: &Shown, job: crate::beadwork::Job, area: Rect, buf: &mut Buffer, style: Style) {
    let session = shown.session;
    let look = session.look();
    let (info, done) = (session.seq.job(job), session.done().0);
    let part = done.saturating_sub(info.steps_before).min(info.steps);
    let here = session.job() == job;
    let [ready, now, later] = look.signs().job;
    let sign = match (part == info.steps, here) {
        (true, _) => ready,
        (_, true) => now,
        _ => later,
    };
    let weight = match here {
        true => style.add_modifier(Modifier::BOLD),
        false => style,
    };
    let width = if area.width < 100 { 6 } else { 16 };
    let count = match area.width {
        0..60 => format!("{part}/{}", info.steps),
        60..100 => format!("{part:>4}/{:<4} steps {:>5} beads", info.steps, info.beads),
        _ => format!("{part} of {} steps, {} beads", info.steps, info.beads),
    };
    let right = format!(
        "{} {count} ",
        text::bar(look.signs().bar, part.into(), info.steps.into(), width)
    );
    let room = usize::from(area.width).saturating_sub(right.width() + 1);
    let name = format!(" {sign} {} {}", job, info.title);
    let name = super::super::picture::fit(&name, room);
    text::line(area, buf, &name, weight);
    let x = area
        .right()
        .saturating_sub(right.width() as u16)
        .max(area.x);
    let space = Rect {
        x,
        width: area.right() - x,
        ..area
    };
    text::line(space, buf, &right, style);
}
