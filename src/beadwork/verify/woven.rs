//! Ends of thread: each is woven in through enough beads with enough turns to
//! hold, and a new thread begins the same way. The first thread of a panel has
//! no beads to be woven into yet.
//!
//! A short end is a fault unless there is no path that holds. To find out, all
//! paths are tried that the links of the thread allow, through beads that are
//! held in place and have room left. The middle of a panel worked inward is
//! drawn tight.

use super::end::BeadEnd;
use super::finding::Fault;
use super::verify_state::VerifyState;
use crate::beadwork::bead::BeadSize;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::Bead;

/// The fewest beads through which an end is woven in, and the fewest turns on
/// the way (common practice, no source).
const BEADS: usize = 8;
const TURNS: u32 = 2;

/// Passes that a bead must still have room for before an end can go through it,
/// because other thread may have to pass later.
const SPARE: u32 = 6;

/// Passes that hold a bead in its place: a bead that was only strung is still
/// loose. The first beads from the needle may be loose.
const HELD: u32 = 2;
const LOOSE: usize = 2;

/// The most beads that are tried in search of a path.
const LOOKED_AT: u32 = 20_000;

/// Reads a movement before the needle makes it. `has_extra` says that a bead lies
/// in the work that will be broken out: then the needle found other links than
/// those that are known here, and no better path can be asked for.
pub(super) fn read(
    m: &Movement,
    has_extra: bool,
    state: &mut VerifyState,
    size_of: &impl Fn(Bead) -> BeadSize,
) {
    if state.short_ends {
        return;
    }
    let starts = m.kind == Kind::StartThread;
    match m.kind {
        Kind::EndThread => {}
        Kind::StartThread if !m.passes.is_empty() => {}
        Kind::Close => return state.closed.extend(m.passes.iter()),
        kind => {
            if kind != Kind::Ring && !m.passes.is_empty() && state.thread.is_new() {
                let (beads, turns) = (0, 0);
                state.record(Fault::EndSlides { beads, turns });
            }
            return;
        }
    }
    let leaving: Vec<BeadEnd> = match starts {
        true => vec![],
        false => state.thread.leaving().collect(),
    };
    // The ends by which the needle may be leaving, each with the turns so far.
    let mut ends: Vec<(BeadEnd, u32)> = leaving.iter().map(|&end| (end, 0)).collect();
    let mut beads: Vec<Bead> = vec![];
    for &bead in &m.passes {
        let turns = |into: BeadEnd| {
            let from = ends
                .iter()
                .filter(|(from, _)| state.thread.may_go(*from, into));
            let turns = from.map(|&(from, n)| n + u32::from(state.thread.is_turn(from, into)));
            turns.max().or((starts && beads.is_empty()).then_some(0))
        };
        let on = BeadEnd::both(bead).map(|into| Some((into.through(), turns(into)?)));
        ends = on.into_iter().flatten().collect();
        if !beads.contains(&bead) {
            beads.push(bead);
        }
    }
    let turns = ends.iter().map(|(_, turns)| *turns).max().unwrap_or(0);
    // A path that the needle cannot take is reported where it goes.
    if has_extra || ends.is_empty() || (beads.len() >= BEADS && turns >= TURNS) {
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
        state,
        size_of,
        left: LOOKED_AT,
    };
    let mut ways = from.into_iter();
    if ways.any(|from| search.is_there_a_way(from, needed, TURNS, &mut vec![from.bead()])) {
        let beads = beads.len() as u32;
        state.record(Fault::EndSlides { beads, turns });
    }
}

struct HoldSearch<'a, F> {
    state: &'a VerifyState<'a>,
    size_of: &'a F,
    left: u32,
}

impl<F: Fn(Bead) -> BeadSize> HoldSearch<'_, F> {
    /// Whether this many more beads can be passed from an end, with this many
    /// turns, and none of them twice.
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
        let state = self.state;
        let straight: Vec<BeadEnd> = state.thread.links.of(from).collect();
        let turned = straight
            .iter()
            .flat_map(|&third| state.thread.links.of(third));
        for into in straight.iter().copied().chain(turned) {
            let bead = into.bead();
            let is_held = way.len() <= LOOSE || state.holes.passes(bead) >= HELD;
            let has_room = || state.holes.has_room(bead, SPARE, self.size_of);
            if way.contains(&bead) || state.closed.contains(&bead) || !is_held || !has_room() {
                continue;
            }
            if self.left == 0 {
                return false;
            }
            self.left -= 1;
            way.push(bead);
            let turns = turns.saturating_sub(u32::from(state.thread.is_turn(from, into)));
            if self.is_there_a_way(into.through(), beads - 1, turns, way) {
                return true;
            }
            way.pop();
        }
        false
    }
}
