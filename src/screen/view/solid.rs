//! The whole solid: the picture, what is worked on it, and how its faces stand.

mod explained;
mod said;

use super::text::{self, rows};
use super::{Shown, foot};
use crate::screen::keys::Place;
use crate::screen::session::solid_room::SolidRoom;
use crate::screen::session::{Pane, Session};
use crate::screen::solid::{self, CELL, Painter, Writing};
use crate::sight::Standing;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::cell::Cell;

/// Below so many rows what is worked has one line, and nothing else is said.
const ROOMY: u16 = 16;

/// Where everything stands, and what is said there.
struct Sheet {
    word: Rect,
    legend: Rect,
    now: Vec<String>,
    nows: Rect,
    note: Option<String>,
    noted: Rect,
    picture: Rect,
}

impl Sheet {
    fn of(shown: &Shown, room: &SolidRoom, standing: &Standing, area: Rect) -> Sheet {
        let mut foot = area.height.saturating_sub(1);
        let mut above = |high: u16| {
            foot = foot.saturating_sub(high);
            rows(area, foot, high)
        };
        let is_word = foot::word(shown, area.width).is_some();
        let word = above(match is_word {
            true => foot::word_rows(shown, area.width),
            false => 0,
        });
        let legend = above(1);
        let roomy = area.height >= ROOMY;
        let width = area.width.saturating_sub(2);
        let most = if roomy { 2 } else { 1 };
        let now = match room.states {
            true => text::broken(&said::now(shown, room, standing), width, most),
            false => vec![],
        };
        let nows = above(now.len() as u16);
        let note = said::cannot(room).filter(|_| roomy);
        let noted = above(u16::from(note.is_some()));
        let high = (noted.y - area.y).saturating_sub(1);
        Sheet {
            word,
            legend,
            now,
            nows,
            note,
            noted,
            picture: rows(area, 1, high),
        }
    }
}

/// The cells of the picture, if the solid is in front.
pub fn place(shown: &Shown, area: Rect) -> Option<Rect> {
    let session = shown.session;
    let room = (session.solid.as_ref()).filter(|_| session.pane == Pane::Solid)?;
    let standing = standing(session, room);
    Some(Sheet::of(shown, room, &standing, area).picture)
}

fn standing(session: &Session, room: &SolidRoom) -> Standing {
    match room.states {
        true => session.standing(&room.body),
        false => Standing::finished(&session.seq, &room.body),
    }
}

/// Draws it.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Solid, rows(area, area.height - 1, 1), buf);
    let Some(room) = &session.solid else { return };
    if let Some(at) = room.explained {
        let space = rows(area, 1, area.height.saturating_sub(2));
        explained::draw(look, at, space, buf);
        return;
    }
    let standing = standing(session, room);
    let sheet = Sheet::of(shown, room, &standing, area);
    foot::write_word(shown, sheet.word, buf);
    let in_sight = picture(shown, room, &standing, sheet.picture, buf);
    let legend = said::legend(room, &standing, in_sight);
    text::line(text::inset(sheet.legend, 1), buf, &legend, look.quiet());
    for (nth, line) in (0..).zip(&sheet.now) {
        let row = rows(sheet.nows, nth, 1);
        text::line(text::inset(row, 1), buf, line, look.seat());
    }
    if let Some(note) = &sheet.note {
        text::line(text::inset(sheet.noted, 1), buf, note, look.quiet());
    }
}

/// Draws the picture; whether what is worked is in sight on it.
fn picture(
    shown: &Shown,
    room: &SolidRoom,
    standing: &Standing,
    area: Rect,
    buf: &mut Buffer,
) -> bool {
    if area.is_empty() {
        return false;
    }
    let session = shown.session;
    let (across, down) = CELL;
    let size = (
        across * usize::from(area.width),
        down * usize::from(area.height),
    );
    // A cell is about twice as high as wide.
    let slim = 2.0 * across as f64 / down as f64;
    let places = room.places();
    let left = session.left_handed();
    let camera = room.camera(&places, size, slim, left);
    let seen = solid::picture(&camera, &places);
    let layout = session.seq.layout();
    let standing = room.states.then_some(standing);
    let painter = Painter {
        layout,
        coats: &room.coats,
        standing,
        depth: session.look().depth,
        last: Cell::default(),
    };
    let all = (0..size.1).flat_map(|y| (0..size.0).map(move |x| (x, y)));
    let is_fine = session.fine().is_some();
    let spots: Vec<_> = all
        // The fine picture shows through cells that are left alone.
        .map(|(x, y)| seen.at(x, y).filter(|_| !is_fine))
        .map(|spot| spot.map(|spot| painter.paint(&seen, spot)))
        .collect();
    let writing = Writing {
        body: &room.body,
        standing,
        places: &places,
        cell: CELL,
    };
    let labels = writing.labels(&seen);
    let beads = &layout.project().beads;
    let letters = painter.parts(&seen);
    solid::put(session.look(), &spots, beads, letters, &labels, area, buf);
    let worth = |spot| standing.map_or(0, |s| solid::aim::worth(spot, s));
    seen.spots().any(|spot| worth(spot) > 0)
}
