//! The last lines of every view: a word to the maker, and the key bar.

use super::{Shown, lesson, text, warn};
use crate::beadwork::number::Step;
use crate::screen::keys::{self, Place};
use crate::screen::look::Look;
use crate::screen::session::Pane;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use unicode_width::UnicodeWidthStr as _;

/// The key bar: as many keys as there is room for, the most needed first.
pub fn keys(look: Look, place: Place, area: Rect, buf: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let blank = " ".repeat(usize::from(area.width));
    text::line(area, buf, &blank, Style::reset().patch(look.bar()));
    let bold = look.bar().add_modifier(Modifier::BOLD);
    let mut x = area.x;
    for (key, does) in keys::bar(place) {
        let long = (key.width() + does.width() + 3) as u16;
        if x + long > area.right() {
            break;
        }
        buf.set_string(x + 1, area.y, key, bold);
        buf.set_string(x + 2 + key.width() as u16, area.y, does, look.bar());
        x += long;
    }
}

/// A word to the maker, the most pressing, and how it looks.
pub fn word(shown: &Shown, width: u16) -> Option<(String, Style)> {
    let (session, look) = (shown.session, shown.session.look());
    if let Some(trouble) = &shown.trouble {
        return Some((format!("{} {trouble}", look.signs().watch), look.alarm()));
    }
    let stitching = session.pane == Pane::Stitch;
    let warned = |warn: fn(&Shown, u16) -> Option<(String, Style)>| {
        stitching.then(|| warn(shown, width)).flatten()
    };
    if let Some((words, style)) = warned(warn::urgent) {
        // What was said of the last key stands behind it.
        let words = format!("{words}. {}", session.said);
        return Some((words.trim_end().to_string(), style));
    }
    if !session.said.is_empty() {
        return Some((session.said.clone(), look.seat()));
    }
    if session.one_at_a_time {
        let beads = session
            .movement()
            .map_or(0, |m| super::super::session::entered(&m));
        let at = session.taken + 1;
        let words = format!("One at a time: bead {at} of {beads}. x takes them together again.");
        return Some((words, look.seat()));
    }
    if let (Pane::Stitch, Some(kept)) = (&session.pane, session.as_stitched_here()) {
        return Some((format!("{} {kept}", look.signs().watch), look.ahead()));
    }
    let here = session.done().0 + 1;
    if let Some(note) = session.piece.state().notes.get(&here) {
        return Some((format!("{} {note}", look.signs().note), look.enter_sign()));
    }
    if session.only_looking() {
        let words = "Only looking: this piece is open elsewhere, steps are not kept.";
        return Some((words.into(), look.ahead()));
    }
    if let (Pane::Stitch, Some(lesson), false) = (
        &session.pane,
        session.lesson(),
        lesson::has_room(session.size),
    ) {
        return Some((lesson::line(lesson), look.seat()));
    }
    if let Some(in_time) = warned(warn::in_time) {
        return Some(in_time);
    }
    if let (Pane::Stitch, Some(q)) = (&session.pane, session.offered()) {
        let what = match q.side {
            Some(side) => format!("side {side} of {}", round_words(shown, q.job, q.round)),
            None => round_words(shown, q.job, q.round),
        };
        let words = format!("Count {what}? Type the number, or go on.");
        return Some((words, look.enter_sign()));
    }
    None
}

/// `round 5`, or `the join row`.
pub fn round_words(
    shown: &Shown,
    job: crate::beadwork::Job,
    round: crate::beadwork::Round,
) -> String {
    let seq = &shown.session.seq;
    let kind = seq.layout().kind(seq.job(job).panel());
    match round > kind.last() {
        true => "the join row".into(),
        false => format!("round {round}"),
    }
}

/// Rows that the word takes, at most three.
pub fn word_rows(shown: &Shown, width: u16) -> u16 {
    word(shown, width).map_or(1, |(words, _)| text::height(words, width).clamp(1, 3))
}

/// Writes the word.
pub fn write_word(shown: &Shown, area: Rect, buf: &mut Buffer) {
    if let Some((words, style)) = word(shown, area.width) {
        if shown.trouble.is_some() {
            buf.set_style(area, style);
        }
        text::wrapped(area, buf, &words, style);
    }
}

/// The line at the top: which piece, which job, how far.
pub fn head(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    let (seq, done) = (&session.seq, session.done());
    let job = session.job();
    let dot = look.signs().dot;
    let step = match done.0 == seq.steps() {
        true => format!("all {} steps done", seq.steps()),
        false => format!("step {} of {}", Step(done.0 + 1), seq.steps()),
    };
    let jobs = match seq.jobs().len() {
        1 => seq.job(job).title.clone(),
        n => format!("job {job} of {n}: {}", seq.job(job).title),
    };
    let looking = if session.only_looking() {
        "LOOKING ONLY "
    } else {
        ""
    };
    let room = usize::from(area.width).saturating_sub(step.width() + 3);
    let title = session.piece.title().as_str();
    let full = format!(" {looking}{title}{dot}{jobs}");
    let left = match full.width() <= room {
        true => full,
        // The job matters more than the title.
        false => format!(" {looking}{jobs}"),
    };
    text::band(
        area,
        buf,
        &super::super::picture::fit(&left, room),
        look.bar(),
    );
    let right = area
        .right()
        .saturating_sub(step.width() as u16 + 1)
        .max(area.x);
    let space = Rect {
        x: right,
        width: area.right() - right,
        ..area
    };
    text::line(space, buf, &step, look.bar().add_modifier(Modifier::BOLD));
}
