//! The bead pointed at, in words.

use super::room::FaceRoom;
use crate::beadwork::{Sequence, Step};
use crate::screen::standing;

/// Where it is and its colour; whether it is sewn, and its step; how often
/// the thread goes through it.
pub fn told(seq: &Sequence, room: &FaceRoom, done: Step) -> Vec<String> {
    let Some(seat) = room.at else {
        return vec![];
    };
    let layout = seq.layout();
    let bead = room.flat(seq).bead(seat);
    let step = seq.step_of(bead);
    let kind = &layout.project().beads[usize::from(layout.colour(bead).0)];
    let of = match seat.round > layout.kind(seat.panel).last() {
        true => String::new(),
        false => format!(" of {}", seat.of),
    };
    let sewn = match step <= done {
        true => format!("In place since step {step}."),
        false => format!("To come: step {step} strings it."),
    };
    let passes = match room.passes.counted() {
        Some(counted) => format!(
            "The thread goes through it {}, so far {}.",
            times(counted.all),
            counted.done
        ),
        None => "How often the thread goes through it is being counted ...".into(),
    };
    vec![
        format!("{}{of}", standing::seat_words(seq, seat)),
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

/// The same for few columns.
pub fn told_shortly(seq: &Sequence, room: &FaceRoom, done: Step) -> Vec<String> {
    let Some(seat) = room.at else {
        return vec![];
    };
    let layout = seq.layout();
    let bead = room.flat(seq).bead(seat);
    let step = seq.step_of(bead);
    let kind = &layout.project().beads[usize::from(layout.colour(bead).0)];
    let sewn = match step <= done {
        true => "in place",
        false => "to come",
    };
    let passes = match room.passes.counted() {
        Some(counted) => format!("passed {}/{}", counted.done, counted.all),
        None => "passed ...".into(),
    };
    let place = match seat.round > layout.kind(seat.panel).last() {
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
