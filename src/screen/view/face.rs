//! The whole face: the panel as beads, and the bead pointed at in words.

use super::text::{self, rows};
use super::{Shown, foot, palette, room};
use crate::screen::face::{self, Sight};
use crate::screen::session::Session;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr as _;

/// Columns of the words when they stand beside the face.
const BESIDE: u16 = 34;

/// Draws it.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    let space = room::frame(
        shown,
        (&heading(session, area.width), look.seat()),
        area,
        buf,
    );
    let space = steady(shown, space, area.width);
    let (picture, words) = parted(space);
    let sight = Sight {
        seq: &session.seq,
        room: &session.face,
        done: session.done(),
        taken: session.taken,
        mirrored: session.left_handed(),
        look,
    };
    face::draw(&sight, picture, buf);
    let lines = lines(session, words);
    text::scrolled(words, buf, lines, 0);
}

/// Rows that the word to the maker may take while one paints, before the
/// picture has to move under the mouse.
const WORD_ROWS: u16 = 2;

/// While one paints, a narrow window keeps the picture where it is whether a
/// word is long or short.
fn steady(shown: &Shown, space: Rect, width: u16) -> Rect {
    let word = foot::word_rows(shown, width);
    let spare = match shown.session.face.brush.on && width < 80 {
        true => WORD_ROWS.saturating_sub(word),
        false => 0,
    };
    rows(space, 0, space.height.saturating_sub(spare))
}

/// What the room says, for a screen too small for the picture.
pub fn said(session: &Session) -> Vec<Line<'static>> {
    if session.face.brush.on {
        return palette::below(session, 60, 2);
    }
    let told = face::told_shortly(&session.seq, &session.face, session.done());
    told.into_iter().map(Line::from).collect()
}

fn heading(session: &Session, width: u16) -> String {
    let layout = session.seq.layout();
    let panel = session.face.panel;
    let name = &layout.panel(panel).name;
    let of = match layout.panels().len() {
        1 => String::new(),
        n => format!(" ({panel} of {n})"),
    };
    let rounds = layout.kind(panel).rounds();
    let up = session.face.up;
    let what = match session.face.brush.on {
        true => "Colouring",
        false => "The whole face",
    };
    match width {
        0..60 => format!("{name}, side {up} up"),
        _ => format!("{what}: {name}{of}, {rounds} rounds, side {up} up"),
    }
}

/// The picture, and beside it or below it the words.
fn parted(space: Rect) -> (Rect, Rect) {
    if space.width >= 3 * BESIDE {
        let picture = Rect {
            width: space.width - BESIDE - 2,
            ..space
        };
        let words = Rect {
            x: picture.right() + 2,
            width: BESIDE,
            ..space
        };
        return (picture, words);
    }
    let high = match space.height {
        0..4 => 0,
        4..14 => 2,
        _ => 4,
    };
    let above = space.height - high;
    (rows(space, 0, above), rows(space, above, high))
}

fn lines(session: &Session, area: Rect) -> Vec<Line<'static>> {
    let (seq, room, done) = (&session.seq, &session.face, session.done());
    let beside = area.height > 6;
    if room.brush.on {
        return match beside {
            true => palette::beside(session),
            false => palette::below(session, area.width, area.height),
        };
    }
    let mut lines: Vec<Line<'static>> = match area.width < 60 && !beside {
        true => face::told_shortly(seq, room, done),
        false => face::told(seq, room, done),
    }
    .into_iter()
    .map(Line::from)
    .collect();
    let rows = if beside { 16 } else { area.height };
    if lines.len() < usize::from(rows) {
        if beside {
            lines.push(Line::default());
            lines.extend(
                legend(session)
                    .into_iter()
                    .map(|(words, style)| text::styled(words, style)),
            );
        } else {
            lines.push(one_line(session, area.width));
        }
    }
    lines
}

/// What the signs mean.
fn legend(session: &Session) -> Vec<(String, ratatui::style::Style)> {
    let (look, signs) = (session.look(), session.look().signs());
    let mirrored = session.left_handed();
    let enter = signs.enter[usize::from(mirrored)];
    let mut legend = vec![
        (format!("{} needle comes out", signs.needle), look.quiet()),
        (format!("{} new bead", signs.new), look.seat()),
        (format!("{enter} go in here"), look.enter_sign()),
        ("[ ] pointed at".to_string(), look.seat()),
    ];
    if session.face.route {
        let [made, next] = signs.thread;
        legend.push((format!("{made} the thread as it lies"), look.quiet()));
        legend.push((format!("{next} its way on"), look.enter_sign()));
    }
    legend
}

fn one_line(session: &Session, width: u16) -> Line<'static> {
    let mut line = Line::default();
    let mut room = usize::from(width);
    for (words, style) in legend(session) {
        if words.width() + 3 > room {
            break;
        }
        room -= words.width() + 3;
        line.push_span(ratatui::text::Span::styled(words, style));
        line.push_span("   ");
    }
    line
}
