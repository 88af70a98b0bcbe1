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
mod promises;
mod read_only;
mod storm;
mod twice;

use threadmark::progress::{Did, Mode, Moment, Piece, Tray};

use crate::builder::Whole;

/// A piece of a run's tray, looked at from outside.
#[track_caller]
fn look(whole: &Whole, name: &str) -> Piece {
    let tray = Tray::open(&whole.tray());
    let piece = tray.open_piece(name, Mode::Look, Moment::now());
    piece.unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The steps that a piece's journal says were stood at, one after another.
#[track_caller]
fn moves(whole: &Whole, name: &str) -> Vec<u32> {
    let mut moves = vec![];
    let read = look(whole, name).history(|entry| {
        if let Did::Move { step, .. } = entry.did {
            moves.push(step);
        }
    });
    read.expect("its journal");
    moves
}
