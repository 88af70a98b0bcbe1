//! What viewing and painting the face share: the heading, the picture and the
//! area for words, the mouse, and the bead pointed at in words.

use super::draw;
use super::view::FaceView;
use crate::beadwork::layout::Part;
use crate::beadwork::{Sequence, Step};
use crate::screen::input::Input;
use crate::screen::layer::Context as _;
use crate::screen::phrases;
use crate::screen::session::Session;
use crate::screen::widgets::text::{columns, last_columns, rows};
use ratatui::prelude::{Buffer, Rect};

/// Columns of the words when they are beside the face.
const BESIDE: u16 = 34;

/// Draws the panel; returns what is left for words.
pub fn picture(session: &Session, area: Rect, buf: &mut Buffer) -> Rect {
    let (picture, words) = parted(area);
    draw(session, picture, buf);
    words
}

/// The area of the picture, and the area of the words beside it or below it.
fn parted(space: Rect) -> (Rect, Rect) {
    if space.width >= 3 * BESIDE {
        let picture = columns(space, 0, space.width - BESIDE - 2);
        return (picture, last_columns(space, BESIDE));
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
    }
    hit
}

/// Where it is and its colour; whether it is sewn, and in which step; how often
/// the thread goes through it.
pub fn told(seq: &Sequence, view: &FaceView, done: Step, is_narrow: bool) -> Vec<String> {
    let Some(seat) = view.at else {
        return vec![];
    };
    let layout = seq.layout();
    let (bead, kind) = (
        layout.bead_in(seat),
        layout.bead_kind(layout.colour_of(seat)),
    );
    let (step, passes) = (seq.step_of(bead), view.passes.of(bead));
    let is_sewn = step <= done;
    let on_face = seat.part == Part::Face;
    if is_narrow {
        let place = match on_face {
            true => format!(
                "round {}, side {}, bead {} of {}",
                seat.round,
                seat.side,
                seat.place + 1,
                seat.of
            ),
            false => phrases::seat_words(seq, seat),
        };
        let sewn = if is_sewn { "in place" } else { "to come" };
        let passes = passes.map_or("...".into(), |n| format!("{} of {}", n.done, n.all));
        let letter = kind.letter;
        return vec![
            place,
            format!("{letter} {sewn}, step {step}, {passes} passes"),
        ];
    }
    let place = phrases::seat_words(seq, seat);
    let of = on_face.then(|| format!(" of {}", seat.of));
    let sewn = match is_sewn {
        true => format!("In place since step {step}."),
        false => format!("To come: step {step} strings it."),
    };
    let passes = match passes {
        Some(counted) => format!(
            "The thread goes through it {} in all, {} so far.",
            times(counted.all),
            times(counted.done)
        ),
        None => "How often the thread goes through it is being counted ...".into(),
    };
    vec![
        place + &of.unwrap_or_default(),
        format!("{} ({}). {sewn}", kind.letter, kind.name),
        passes,
    ]
}

fn times(n: u32) -> String {
    match n {
        1 => "once".into(),
        2 => "twice".into(),
        n => format!("{n} times"),
    }
}
