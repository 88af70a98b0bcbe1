//! Faults of machine and file, each made to happen to the running program; a
//! file a fault. docs/keeping.md promises what is tested here.

mod as_found;
mod clock;
mod damaged;
mod dice;
mod full;
mod gone;
mod hostile;
mod kill;
mod newer;
mod output;
mod planted;
mod promises;
mod read_only;
mod storm;
mod terminal;
mod twice;

use std::thread;

use threadmark::progress::{Event, Piece};

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::Screen;

/// A piece that rests after step 3.
fn resting() -> Whole {
    let whole = threadmark("").file("a.json", triangle(9));
    let stitch = whole.again("stitch a.json --plain");
    stitch.stdin("\n\n\nq\n").output();
    whole
}

/// A piece three steps on, on the screen.
#[track_caller]
fn stitching() -> (Whole, Screen) {
    let whole = threadmark("stitch a.json").file("a.json", triangle(9));
    let mut screen = Screen::begun(&whole);
    screen.rush("<space>3").sees("step 4 of ");
    (whole, screen)
}

/// The steps that a piece's journal says were stood at, one after another.
#[track_caller]
fn moves(piece: &mut Piece) -> Vec<u32> {
    let mut moves = vec![];
    let read = piece.recent(usize::MAX, |entry| {
        if let Event::Move { step, .. } = entry.did {
            moves.push(step);
        }
    });
    read.expect("its journal");
    moves
}

/// Does it for each, all at the same time: what is tried mostly waits.
fn at_once<T: Sync>(all: &[T], each: impl Fn(&T) + Sync) {
    thread::scope(|threads| {
        for one in all {
            threads.spawn(|| each(one));
        }
    });
}
