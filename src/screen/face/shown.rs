//! What viewing and painting the face share: the heading, the picture and the
//! area for words, the mouse, the passes of a bead.

use super::{FaceScene, draw};
use crate::screen::event::Input;
use crate::screen::furniture::text::rows;
use crate::screen::layer::{Context as _, Flow};
use crate::screen::session::Session;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Columns of the words when they are beside the face.
const BESIDE: u16 = 34;

/// Draws the panel; returns what is left for words.
pub fn picture(session: &Session, area: Rect, buf: &mut Buffer) -> Rect {
    let (picture, words) = parted(area);
    let sight = FaceScene {
        seq: &session.seq,
        room: &session.face,
        done: session.done(),
        taken: session.taken,
        mirrored: session.left_handed(),
        look: session.look(),
    };
    draw(&sight, picture, buf);
    words
}

/// The area of the picture, and the area of the words beside it or below it.
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

/// What is viewed: the panel, its size, the side that is up.
pub fn title(session: &Session, what: &str) -> String {
    let layout = session.seq.layout();
    let panel = session.face.panel;
    let name = &layout.panel(panel).name;
    let of = match layout.begun_panels().count() {
        1 => String::new(),
        n => {
            let before = layout.begun_panels().take_while(|(p, _)| *p < panel);
            format!(" ({} of {n})", before.count() + 1)
        }
    };
    let rounds = layout.kind(panel).rounds();
    let up = session.face.up;
    match session.size.0 {
        0..60 => format!("{name}, side {up} up"),
        _ => format!("{what}: {name}{of}, {rounds} rounds, side {up} up"),
    }
}

/// Handles the mouse, which points at a bead or zooms; returns whether another
/// bead is pointed at.
pub fn touch(session: &mut Session, input: Input) -> bool {
    let mirrored = session.left_handed();
    let before = session.face.at;
    let (seq, face) = (&session.seq, &mut session.face);
    let hit = match input {
        Input::Click(column, row) => face.click(seq, (column, row), mirrored),
        Input::Drag(column, row) => face.click(seq, (column, row), mirrored) && face.at != before,
        Input::Wheel(up) => {
            face.zoom(seq, up, mirrored);
            false
        }
        Input::Key(_) | Input::Pictures(_) | Input::Ground(_) => false,
    };
    if hit {
        session.said.clear();
        ask_passes(session);
    }
    hit
}

/// Asks how often the thread goes through the bead pointed at.
pub fn ask_passes(session: &mut Session) -> Flow<Session> {
    if let Some(seat) = session.face.at {
        let bead = session.seq.layout().bead_in(seat);
        let done = session.done();
        session.face.passes.ask(&session.seq, bead, done);
    }
    Flow::Stay
}
