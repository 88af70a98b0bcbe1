//! The stitch view: the movement now, where it is, what comes next, and the
//! picture.

use super::text::{self, rows};
use super::{Shown, big, foot, lesson, scene};
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::Step;
use crate::pace::thread::Word;
use crate::screen::gist;
use crate::screen::keys::Place;
use crate::screen::settings;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use unicode_width::UnicodeWidthStr as _;

/// Columns of the numbers beside the big letters.
const NUMBERS: u16 = 23;

/// Draws the view.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    let word = foot::word_rows(shown, area.width);
    let foot = area.height.saturating_sub(2 + word);
    progress(shown, rows(area, foot, 1), buf);
    foot::write_word(shown, rows(area, foot + 1, word), buf);
    foot::keys(look, Place::Stitch, rows(area, area.height - 1, 1), buf);

    let mut top = 1;
    let body = rows(area, 0, foot);
    let movement = session.movement();
    match &movement {
        Some(m) if area.height >= 20 => {
            let high = if area.height >= 38 { 8 } else { 4 };
            large(shown, m, rows(body, top, high), buf);
            top += high;
            let sentence = session.seq.say(m);
            let bold = Style::new().add_modifier(Modifier::BOLD);
            top += text::wrapped(rows(body, top, 2), buf, &sentence, bold);
        }
        Some(m) => top += compact(shown, m, rows(body, top, 4), buf),
        None => top += finished(shown, rows(body, top, 5), buf),
    }
    if let Some(m) = &movement {
        ahead(shown, m, rows(body, top, 1), buf);
        top += 1;
    }
    let space = rows(body, top, body.height.saturating_sub(top));
    let space = match lesson::has_room((area.width, area.height)) {
        true => lesson::share(session, &scene::of(session, session.done()), space, buf),
        false => space,
    };
    scene::draw(shown, space, buf);
}

/// The movement in big letters, the bead's patch, and the numbers.
fn large(shown: &Shown, m: &Movement, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let (look, seq) = (session.look(), &session.seq);
    let special = gist::announced(seq, None, m).is_some();
    let style = match special {
        true => look.seat(),
        false => Style::new(),
    };
    let patch = big::patch_width(m);
    let here = Rect {
        width: patch.min(area.width),
        ..area
    };
    big::patch(look, seq, m, here, buf);
    let left = if patch > 0 { patch + 1 } else { 0 };
    let numbers = NUMBERS.min(area.width / 3);
    let letters = Rect {
        x: area.x + left,
        width: area.width.saturating_sub(left + numbers),
        ..area
    };
    big::write(look, &gist::gist(seq, m), letters, buf, style);
    let column = Rect {
        x: area.right() - numbers,
        width: numbers,
        ..area
    };
    let place = seq.say_where(m);
    let mut lines: Vec<String> = place.split(", ").map(str::to_string).collect();
    if m.round_target > 0 && m.kind != Kind::Zip {
        let before = in_place(m);
        lines.push(format!("{before} of {} in place", m.round_target));
    }
    lines.retain(|l| !l.is_empty());
    let bold = Style::new().add_modifier(Modifier::BOLD);
    for (i, line) in lines.iter().enumerate() {
        text::line(rows(column, i as u16, 1), buf, line, bold);
    }
}

/// Beads of the round that are in place before the movement.
fn in_place(m: &Movement) -> u32 {
    match m.kind {
        Kind::Count => m.round_beads,
        Kind::Zip => m.round_beads.saturating_sub(1),
        _ => m.round_beads - (m.strings.len() as u32).min(m.round_beads),
    }
}

/// The same in two or three rows, for small terminals; how many it took.
fn compact(shown: &Shown, m: &Movement, area: Rect, buf: &mut Buffer) -> u16 {
    let session = shown.session;
    let (look, seq) = (session.look(), &session.seq);
    let patch = match m.strings.len() as u16 {
        0 => 0,
        n => 4 * n,
    };
    let sentence = seq.say(m);
    let narrow = Rect {
        x: area.x + patch,
        width: area.width.saturating_sub(patch),
        ..area
    };
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let taken = text::wrapped(rows(narrow, 0, 2), buf, &sentence, bold);
    let here = Rect {
        width: patch.saturating_sub(1),
        ..rows(area, 0, taken)
    };
    big::patch(look, seq, m, here, buf);
    let place = seq.say_where(m);
    if place.is_empty() {
        return taken;
    }
    let place = match place.width() > usize::from(area.width) {
        true => place.replace(" of ", "/"),
        false => place,
    };
    text::line(rows(area, taken, 1), buf, &place, Style::new());
    taken + 1
}

fn finished(shown: &Shown, area: Rect, buf: &mut Buffer) -> u16 {
    let look = shown.session.look();
    let high = if area.height >= 5 { 4 } else { 1 };
    big::write(look, "finished", rows(area, 0, high), buf, look.seat());
    let words = format!(
        "All {} steps are done: {} beads. Look it over, and wear or give it with joy.",
        shown.session.seq.steps(),
        shown.session.seq.layout().beads()
    );
    high + text::wrapped(rows(area, high, 2), buf, &words, Style::new())
}

/// What comes next: in a striking band if it is no plain stitch.
fn ahead(shown: &Shown, m: &Movement, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let (look, seq) = (session.look(), &session.seq);
    let times = if look.unicode { '×' } else { 'x' };
    let Some(next) = seq.step(Step(m.step.0 + 1)) else {
        text::line(area, buf, "This is the last step.", look.quiet());
        return;
    };
    let then = gist::then(seq, m.step, 3, times);
    match gist::announced(seq, Some(m), &next) {
        Some(words) => {
            let watch = look.signs().watch;
            let line = format!(" {watch} NEXT: {words} {watch}");
            text::band(area, buf, &line, look.ahead());
            // What follows that, if there is room.
            let rest = gist::then(seq, next.step, 2, times);
            let rest = format!("then {rest} ");
            let x = area.right().saturating_sub(rest.width() as u16);
            if !rest.is_empty() && x > area.x + line.width() as u16 + 1 {
                let space = Rect {
                    x,
                    width: area.right() - x,
                    ..area
                };
                text::line(
                    space,
                    buf,
                    &rest,
                    look.ahead().remove_modifier(Modifier::BOLD),
                );
            }
        }
        None => text::line(area, buf, &format!("then {then}"), look.quiet()),
    }
}

/// The round as a bar, the piece in numbers, the thread left.
fn progress(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let (look, seq, done) = (session.look(), &session.seq, session.done());
    let signs = look.signs();
    let mut line = String::new();
    let bar = match area.width {
        0..60 => 10,
        60..100 => 16,
        _ => 30,
    };
    if let Some(m) = session.movement().filter(|m| m.round_target > 0) {
        let now = in_place(&m);
        let what = match m.kind {
            Kind::Zip => "join",
            _ => "round",
        };
        let part = (u64::from(now), u64::from(m.round_target));
        line = format!(
            "{what} {} {now} of {}",
            text::bar(signs.bar, part.0, part.1, bar),
            m.round_target
        );
    }
    let dot = signs.dot;
    let percent = u64::from(done.0) * 100 / u64::from(seq.steps().max(1));
    let mut more = vec![format!("piece {percent} %")];
    if let Some(hand) = session.going.hand() {
        let unit = settings::thread_unit(&session.piece.state().settings);
        let left = unit.say(hand.loose_mm);
        let short = match hand.word {
            Word::Enough => String::new(),
            Word::LastSide | Word::WillNotDo => format!(" {}", look.signs().watch),
        };
        more.push(match area.width {
            0..60 => format!("thread {left}{short}"),
            _ => format!("thread left about {left}{short}"),
        });
    }
    if !session.going.full(Step(done.0 + 1)).is_empty() {
        more.push(format!("{} full bead", look.signs().watch));
    }
    if session.left_handed() {
        more.push("left hand".into());
    }
    for words in more {
        let next = match line.is_empty() {
            true => words,
            false => format!("{line}{dot}{words}"),
        };
        if next.width() <= usize::from(area.width) {
            line = next;
        }
    }
    text::line(area, buf, &line, Style::new());
}
