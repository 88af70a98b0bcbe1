//! The whole solid: the picture, how its faces stand, and what it does.

use super::text::{self, rows};
use super::{Shown, foot};
use crate::screen::keys::Place;
use crate::screen::session::solid_room::SolidRoom;
use crate::screen::solid::{self, Painter};
use crate::sight::{FaceState, Standing};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Draws it.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let session = shown.session;
    let look = session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Solid, rows(area, area.height - 1, 1), buf);
    let Some(room) = &session.solid else { return };
    let standing = match room.states {
        true => session.standing(&room.body),
        false => Standing::finished(&session.seq, &room.body),
    };
    let word = match foot::word(shown, area.width) {
        Some(_) => foot::word_rows(shown, area.width),
        None => 0,
    };
    let foot = area.height.saturating_sub(1 + word);
    foot::write_word(shown, rows(area, foot, word), buf);
    let legend = foot.saturating_sub(1);
    let line = legend_line(shown, room, &standing);
    text::line(rows(area, legend, 1), buf, &line, look.quiet());
    let space = rows(area, 1, legend.saturating_sub(1));
    picture(shown, room, &standing, space, buf);
}

/// How many faces stand how, and what moves.
fn legend_line(shown: &Shown, room: &SolidRoom, standing: &Standing) -> String {
    let dot = shown.session.look().signs().dot;
    let mut parts = vec![];
    if room.states {
        let states = FaceState::ALL.map(|state| (state, standing.count(state)));
        for (state, count) in states.into_iter().filter(|(_, count)| *count > 0) {
            let (letter, word) = solid::word(state);
            parts.push(format!("{letter} {word} {count}"));
        }
    } else {
        parts.push("as finished".into());
    }
    if room.folded < 1.0 {
        parts.push(format!(
            "folded {:.0} %: sides of one number meet",
            room.folded * 100.0
        ));
    } else if room.is_ring() {
        parts.push(format!("ring turned {} degrees", room.cycle_degrees()));
    }
    format!(" {}", parts.join(dot))
}

fn picture(shown: &Shown, room: &SolidRoom, standing: &Standing, area: Rect, buf: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let session = shown.session;
    let size = (usize::from(area.width), 2 * usize::from(area.height));
    let places = room.places();
    let left = session.piece.state().settings.left_handed();
    let camera = room.camera(&places, size, left);
    let seen = solid::picture(&camera, &places);
    let layout = session.seq.layout();
    let dye = |seat| session.colour_seen(seat);
    let painter = Painter {
        layout,
        coats: &room.coats,
        dye: &dye,
        standing: room.states.then_some(standing),
    };
    let spots: Vec<_> = (0..size.1)
        .flat_map(|y| (0..size.0).map(move |x| (x, y)))
        .map(|(x, y)| seen.at(x, y).map(|spot| painter.paint(&seen, spot)))
        .collect();
    let folding = room.folded < 1.0;
    let mut labels = match room.states || folding {
        true => solid::labels(&seen, &room.body, standing, folding),
        false => vec![],
    };
    if !room.states {
        labels.iter_mut().for_each(|l| l.now = false);
    }
    let beads = &layout.project().beads;
    solid::put(
        session.look(),
        &spots,
        beads,
        painter.parts(&seen),
        &labels,
        area,
        buf,
    );
}
