//! What viewing and painting the face share: the heading, the picture and the
//! area for words, the mouse, and the bead pointed at in words.

use super::draw;
use super::view::FaceView;
use crate::beadwork::layout::{Part, Seat};
use crate::beadwork::{BeadKind, Sequence, Step};
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
pub fn told(seq: &Sequence, view: &FaceView, done: Step) -> Vec<String> {
    let Some((seat, kind, step)) = pointed_at(seq, view) else {
        return vec![];
    };
    let of = match seat.part != Part::Face {
        true => String::new(),
        false => format!(" of {}", seat.of),
    };
    let sewn = match step <= done {
        true => format!("In place since step {step}."),
        false => format!("To come: step {step} strings it."),
    };
    let passes = match view.passes.of(seq.layout().bead_in(seat)) {
        Some(counted) => format!(
            "The thread goes through it {} in all, {} so far.",
            times(counted.all),
            times(counted.done)
        ),
        None => "How often the thread goes through it is being counted ...".into(),
    };
    vec![
        format!("{}{of}", phrases::seat_words(seq, seat)),
        format!("{} ({}). {sewn}", kind.letter, kind.name),
        passes,
    ]
}

/// The bead pointed at: its seat, its kind, and the step that strings it.
fn pointed_at<'a>(seq: &'a Sequence, view: &FaceView) -> Option<(Seat, &'a BeadKind, Step)> {
    let seat = view.at?;
    let layout = seq.layout();
    let kind = layout.bead_kind(layout.colour_of(seat));
    Some((seat, kind, seq.step_of(layout.bead_in(seat))))
}

fn times(n: u32) -> String {
    match n {
        1 => "once".into(),
        2 => "twice".into(),
        n => format!("{n} times"),
    }
}

/// The same for a narrow screen.
pub fn told_shortly(seq: &Sequence, view: &FaceView, done: Step) -> Vec<String> {
    let Some((seat, kind, step)) = pointed_at(seq, view) else {
        return vec![];
    };
    let sewn = if step <= done { "in place" } else { "to come" };
    let passes = match view.passes.of(seq.layout().bead_in(seat)) {
        Some(counted) => format!("passed {}/{}", counted.done, counted.all),
        None => "passed ...".into(),
    };
    let place = match seat.part != Part::Face {
        true => phrases::seat_words(seq, seat),
        false => format!(
            "round {}, side {}, bead {} of {}",
            seat.round,
            seat.side,
            seat.place + 1,
            seat.of
        ),
    };
    vec![
        place,
        format!("{} {sewn}, step {step}, {passes}", kind.letter),
    ]
}
