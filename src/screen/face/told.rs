//! The bead pointed at, in words.

use super::room::FaceRoom;
use crate::beadwork::layout::{Part, Seat};
use crate::beadwork::{BeadKind, Sequence, Step};
use crate::screen::standing;

/// Where it is and its colour; whether it is sewn, and in which step; how often
/// the thread goes through it.
pub fn told(seq: &Sequence, room: &FaceRoom, done: Step) -> Vec<String> {
    let Some((seat, kind, step)) = pointed_at(seq, room) else {
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
    let passes = match room.passes.counted() {
        Some(counted) => format!(
            "The thread goes through it {} in all, {} so far.",
            times(counted.all),
            times(counted.done)
        ),
        None => "How often the thread goes through it is being counted ...".into(),
    };
    vec![
        format!("{}{of}", standing::seat_words(seq, seat)),
        format!("{} ({}). {sewn}", kind.letter, kind.name),
        passes,
    ]
}

/// The bead pointed at: its seat, its kind, and the step that strings it.
fn pointed_at<'a>(seq: &'a Sequence, room: &FaceRoom) -> Option<(Seat, &'a BeadKind, Step)> {
    let seat = room.at?;
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
pub fn told_shortly(seq: &Sequence, room: &FaceRoom, done: Step) -> Vec<String> {
    let Some((seat, kind, step)) = pointed_at(seq, room) else {
        return vec![];
    };
    let sewn = match step <= done {
        true => "in place",
        false => "to come",
    };
    let passes = match room.passes.counted() {
        Some(counted) => format!("passed {}/{}", counted.done, counted.all),
        None => "passed ...".into(),
    };
    let place = match seat.part != Part::Face {
        true => standing::seat_words(seq, seat),
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
