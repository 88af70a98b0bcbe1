//! Ends of thread: each is woven in through beads enough, with turns enough, to
//! hold, and a new thread begins the same way. The thread that a panel begins
//! with has no beads yet.
//!
//! A short end is a fault unless there is no way that holds: all ways are tried
//! that the links of the thread allow, through beads that are held in their place
//! and have room left. The middle of a panel worked inward is drawn tight.

use super::end::BeadEnd;
use super::finding::Fault;
use super::verify_state::VerifyState;
use crate::beadwork::bead::BeadSize;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::Bead;

/// Beads that an end is woven in through, and turns on the way, at the least
/// (common practice, no source).
const BEADS: usize = 8;
const TURNS: u32 = 2;

/// Passes that a bead must still take for an end to go through it: other thread
/// may have to pass it yet.
const SPARE: u32 = 6;

/// Passes that hold a bead in its place: one that was only strung is still loose.
/// The first beads from the needle may be.
const HELD: u32 = 2;
const LOOSE: usize = 2;

/// Beads looked at for a way.
const LOOKED_AT: u32 = 20_000;

/// Reads a movement, before the needle goes.
pub(super) fn read(m: &Movement, book: &mut VerifyState, size_of: &impl Fn(Bead) -> BeadSize) {
    if book.short_ends {
        return;
    }
    let starts = m.kind == Kind::StartThread;
    match m.kind {
        Kind::EndThread => {}
        Kind::StartThread if !m.passes.is_empty() => {}
        Kind::Close => return book.closed.extend(m.passes.iter()),
        kind => {
            if kind != Kind::Ring && !m.passes.is_empty() && book.thread.is_new() {
                let (beads, turns) = (0, 0);
                book.find(Fault::EndSlides { beads, turns });
            }
            return;
        }
    }
    let leaving: Vec<BeadEnd> = match starts {
        true => vec![],
        false => book.thread.leaving().collect(),
    };
    // The ends that the needle may be leaving, each with the turns on the way.
    let mut ends: Vec<(BeadEnd, u32)> = leaving.iter().map(|&end| (end, 0)).collect();
    let mut beads: Vec<Bead> = vec![];
    for &bead in &m.passes {
        let turns = |into: BeadEnd| {
            let from = ends
                .iter()
                .filter(|(from, _)| book.thread.may_go(*from, into));
            let turns = from.map(|&(from, n)| n + u32::from(book.thread.is_turn(from, into)));
            turns.max().or((starts && beads.is_empty()).then_some(0))
        };
        let on = BeadEnd::both(bead).map(|into| Some((into.through(), turns(into)?)));
        ends = on.into_iter().flatten().collect();
        if !beads.contains(&bead) {
            beads.push(bead);
        }
    }
    let turns = ends.iter().map(|(_, turns)| *turns).max().unwrap_or(0);
    // A way that the needle cannot go is found where it goes.
    if ends.is_empty() || (beads.len() >= BEADS && turns >= TURNS) {
        return;
    }
    // A thread that starts: backwards from the bead where it begins to work.
    let (from, needed) = match starts {
        true => (
            ends.iter().map(|(end, _)| end.through()).collect(),
            BEADS - 1,
        ),
        false => (leaving, BEADS),
    };
    let mut search = HoldSearch {
        book,
        size_of,
        left: LOOKED_AT,
    };
    let mut ways = from.into_iter();
    if ways.any(|from| search.is_there_a_way(from, needed, TURNS, &mut vec![from.bead()])) {
        let beads = beads.len() as u32;
        book.find(Fault::EndSlides { beads, turns });
    }
}

struct HoldSearch<'a, F> {
    book: &'a VerifyState<'a>,
    size_of: &'a F,
    left: u32,
}

impl<F: Fn(Bead) -> BeadSize> HoldSearch<'_, F> {
    /// Whether so many beads more can be gone through from an end, with so many
    /// turns, none of them on the way already.
    fn is_there_a_way(
        &mut self,
        from: BeadEnd,
        beads: usize,
        turns: u32,
        way: &mut Vec<Bead>,
    ) -> bool {
        if beads == 0 {
            return turns == 0;
        }
        let book = self.book;
        let straight: Vec<BeadEnd> = book.thread.links.of(from).collect();
        let turned = straight
            .iter()
            .flat_map(|&third| book.thread.links.of(third));
        for into in straight.iter().copied().chain(turned) {
            let bead = into.bead();
            let is_held = way.len() <= LOOSE || book.holes.passes(bead) >= HELD;
            let has_room = || book.holes.has_room(bead, SPARE, self.size_of);
            if way.contains(&bead) || book.closed.contains(&bead) || !is_held || !has_room() {
                continue;
            }
            if self.left == 0 {
                return false;
            }
            self.left -= 1;
            way.push(bead);
            let turns = turns.saturating_sub(u32::from(book.thread.is_turn(from, into)));
            if self.is_there_a_way(into.through(), beads - 1, turns, way) {
                return true;
            }
            way.pop();
        }
        false
    }
}
