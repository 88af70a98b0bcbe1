//! Ends of thread, woven in so that they cannot slide: on through eight beads
//! with two turns. A new thread begins the same way, backwards.
//!
//! ```text
//!   needle --> bead  bead  bead --.
//!          .-- bead  bead  bead <-'      each arrow back is a turn
//!          '-> bead  bead                cut here
//! ```
//!
//! The best beads are inside a panel, away from edges, where no other thread
//! has to pass later. Beads without room for it are left out; but where no path
//! holds without them, those are used that have room for the end alone. An end
//! that slides undoes the work, while a full bead gives a warning.

use super::Planner;
use crate::beadwork::end::{End, Hole};
use crate::beadwork::hole::{self, Passing};
use crate::beadwork::layout::{Part, Seat};
use crate::beadwork::making::Begin;
use crate::beadwork::movement::MOST_PASSED;
use crate::beadwork::number::{Bead, NumberMap, Panel, Round, Side};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::route::{self, WOVEN_TURNS};
use crate::beadwork::stage::{Path, Stage, Through};
use crate::beadwork::thread::ThreadChoice;
use std::rc::Rc;

/// Beads between two turns, if possible.
const LEG: u32 = 3;

/// The cost of a bead that suits an end, and of one that is only possible.
const FIT: u32 = 4;
const DEAR: u32 = 24;

/// The most beads tried for one end, among those that suit it.
const LOOKED_AT: u32 = 500;

/// The most tried after that, among all.
const LOOKED_AT_ALL: u32 = 4_000;

/// Rounds between an end and where work continues or joins, if possible.
const INSIDE: u32 = 2;

/// Fewest beads of a round that an end goes through, if possible: a smaller
/// ring is drawn tight.
const FEWEST: u32 = 4;

/// The most times that a bead inside a panel is passed while the piece is made,
/// and the most times that one at an edge is.
const PASSES: [u32; 2] = [3, 6];

/// A kind of panel, how it is begun and its open rounds; where a path begins,
/// and how many beads it needs.
type PanelWay = (SpecIndex, Begin, u32, Hole, usize);

/// What a bead needs room for if an end goes through it.
enum Room {
    /// All thread that may come, even if the maker takes a thicker one.
    Later,
    /// All thread that may come, as thick as this one.
    ThisThread,
    /// This end alone. The times that each bead is passed so far, bead 1 first.
    ThisEnd(Vec<u16>),
}

/// What the planner remembers of ends.
#[derive(Default)]
pub(super) struct WovenEnds {
    /// How often each bead is passed on paths of the needle; beads after the end
    /// of the list are never passed.
    on_ways: Vec<u8>,
    /// Number of runs of the work that were examined for that.
    looked_at: usize,
    /// Paths in the face of a complete panel, with beads counted from its
    /// first.
    known: NumberMap<PanelWay, Vec<Hole>>,
}

impl WovenEnds {
    /// For a piece of about so many beads.
    pub(super) fn of_beads(beads: usize) -> WovenEnds {
        WovenEnds {
            on_ways: Vec::with_capacity(beads),
            ..WovenEnds::default()
        }
    }

    fn on_ways(&self, bead: Bead) -> u32 {
        self.on_ways
            .get(bead.0 as usize)
            .map_or(0, |&ways| ways.into())
    }

    fn go_through(&mut self, bead: Bead) {
        let at = bead.0 as usize;
        if at >= self.on_ways.len() {
            self.on_ways.resize(at + 1, 0);
        }
        self.on_ways[at] = self.on_ways[at].saturating_add(1);
    }
}

impl Planner {
    /// A path from a hole through `length` beads, with the turns that hold it;
    /// if there is none, the one that comes nearest to it.
    pub(super) fn weave_in(&mut self, leaving: Hole, length: usize) -> Vec<Hole> {
        self.count_ways();
        let touching = self.work.touching();
        let mut begins = touching.beside(leaving);
        begins.iter_mut().for_each(|into| *into = into.through());
        begins.insert(0, leaving);
        for begin in begins {
            let Some(way) = self.way_in_panel(begin, length) else {
                continue;
            };
            let hop = (begin != leaving).then_some(begin);
            let way: Vec<Hole> = hop.into_iter().chain(way).collect();
            let is_used = |hole: &Hole| self.ends.on_ways(hole.bead) > 0;
            let mut seats = way
                .iter()
                .map(|hole| (hole.bead, self.layout().seat(hole.bead)));
            let newest = self.newest();
            // At the edge, where it begins, it may meet other ends.
            let is_free = !way.iter().skip(LEG as usize).any(is_used);
            let has_room = |at: (Bead, Seat)| {
                let near = self.nearness(at.1, newest);
                self.has_room(at, near, &Room::Later)
            };
            if is_free && seats.all(has_room) {
                return way;
            }
        }
        self.search(leaving, length, None)
    }

    /// A path that holds in the face of a complete panel: the same for all
    /// panels of its kind.
    fn way_in_panel(&mut self, leaving: Hole, length: usize) -> Option<Vec<Hole>> {
        let seat = self.layout().seat(leaving.bead);
        let last = self.layout().last_of_panel(seat.panel);
        if seat.part != Part::Face
            || !self.work.is_strung(last)
            || self.has_an_empty_gap(seat.panel)
        {
            return None;
        }
        let before = self.layout().before_panel(seat.panel);
        let making = self.layout().making(seat.panel);
        let spec = self.layout().panel(seat.panel).spec;
        let from = leaving.earlier(before);
        let key = (spec, making.begin, making.open, from, length);
        let way = match self.ends.known.get(&key) {
            Some(way) => way,
            None => {
                let way = self.search(leaving, length, Some(seat.panel)).into_iter();
                let way = way.map(|hole| hole.earlier(before)).collect();
                self.ends.known.entry(key).or_insert(way)
            }
        };
        let way: Vec<Hole> = way.iter().map(|hole| hole.later(before)).collect();
        (way.len() >= length).then_some(way)
    }

    /// Whether a gap of a row on a side of a panel, of one that is locked into it, or
    /// of the rim that it fills holds no bead, so that two beads of its edge touch.
    fn has_an_empty_gap(&self, panel: Panel) -> bool {
        let layout = self.layout();
        let kind = layout.kind(panel);
        let of_side = |side| {
            let locked = self.work.seams.row_of((panel, side)).map(|(row, _)| row);
            let rows = layout.row_on(panel, side).into_iter().chain(locked);
            rows.map(move |row| (row, kind.edge(side).saturating_sub(1)))
        };
        let of_sides = (0..kind.sides()).map(Side).flat_map(of_side);
        let rim = layout
            .panel(panel)
            .rim
            .map_or(&[][..], |rim| layout.rim(rim));
        let of_rim = rim.iter().filter_map(|on| layout.row_on(on.panel, on.side));
        let of_rim = of_rim.map(|row| (row, layout.row(row).gaps));
        of_sides.chain(of_rim).any(|(row, gaps)| {
            let row = layout.row(row);
            let is_plain = row.is_edge || row.is_plain() && gaps == row.gaps;
            !is_plain && (0..gaps).any(|gap| row.in_gap(gap, gaps).is_empty())
        })
    }

    /// The best path found; if a panel is given, only through beads of its
    /// face.
    fn search(&self, leaving: Hole, length: usize, within: Option<Panel>) -> Vec<Hole> {
        let mut search = EndSearch {
            planner: self,
            newest: self.newest(),
            room: Room::Later,
            is_any_full: false,
            within,
            length,
            dearest: FIT,
            way: vec![leaving],
            worth: 0,
            best: vec![],
            left: LOOKED_AT,
            beside: NumberMap::default(),
            costs: NumberMap::default(),
        };
        let mut holds = search.holds();
        if within.is_some() {
            return if holds { search.best } else { vec![] };
        }
        if !holds && search.is_any_full {
            holds = search.holds_with(Room::ThisThread);
        }
        if !holds && search.is_any_full {
            search.holds_with(Room::ThisEnd(self.work.passes_by_bead()));
        }
        search.best
    }

    fn newest(&self) -> Seat {
        self.layout().seat(Bead(self.work.strung))
    }

    /// Whether a bead this near to where work continues has room for an end.
    fn has_room(&self, (bead, seat): (Bead, Seat), near: u32, room: &Room) -> bool {
        let layout = self.layout();
        let passes = match room {
            Room::ThisEnd(passes) => passes[bead.0 as usize - 1].into(),
            _ => PASSES[usize::from(near > 0)] + self.ends.on_ways(bead),
        };
        let to_come = self.work.goal().thread_to_come();
        let to_come = matches!(room, Room::Later).then_some(to_come);
        let mut choices = [self.work.thread_choice()].into_iter().chain(to_come);
        let size = layout.bead_kind(layout.colour_of(seat)).size;
        let verdict = |c: ThreadChoice| hole::verdict(passes, size, c.thread, c.needle);
        choices.all(|choice| verdict(choice) != Passing::Blocked)
    }

    /// By how many rounds a bead is too near to where work continues, beside the
    /// newest bead, or joins.
    fn nearness(&self, seat: Seat, newest: Seat) -> u32 {
        let layout = self.layout();
        let kind = layout.kind(seat.panel);
        if seat.part != Part::Face || kind.in_round(seat.round) < FEWEST {
            return INSIDE + 1;
        }
        let inner = layout.making(seat.panel).innermost();
        let working = match newest.panel == seat.panel && newest.part == Part::Face {
            true => newest.round,
            false => kind.last(),
        };
        let rounds = [kind.last(), inner, working];
        let rounds = rounds.map(|round| round.0.abs_diff(seat.round.0));
        let nearest = rounds.into_iter().min().unwrap_or(0);
        INSIDE.saturating_sub(nearest)
    }

    /// Whether thread holds two touching ends together. When working outward,
    /// neighbours that the next round draws together are held only once that
    /// round is worked.
    fn are_drawn(&self, (a, seat): (Hole, Seat), b: Hole) -> bool {
        let layout = self.layout();
        let apart = a.bead.0.abs_diff(b.bead.0);
        let (kind, making) = (layout.kind(seat.panel), layout.making(seat.panel));
        // Neighbours are strung one after the other, or last and first.
        if seat.part != Part::Face
            || making.begin != Begin::Ring
            || seat.round == Round(1)
            || ![1, kind.in_round(seat.round) - 1].contains(&apart)
        {
            return true;
        }
        let beside = layout.seat(b.bead);
        if (seat.panel, seat.part, seat.round) != (beside.panel, beside.part, beside.round) {
            return true;
        }
        let [a, b] = match a.end {
            End::Front => [seat, beside],
            End::Back => [beside, seat],
        };
        let gap = |seat: Seat| kind.word(a.round).gap_of(seat.index);
        if gap(a) == gap(b) {
            return a.index + 1 == b.index;
        }
        let later = Round(a.round.0 + 2);
        self.work.is_strung(match later <= kind.last() {
            true => layout.bead(a.panel, later, making.start(later)),
            false => layout.last_of_panel(a.panel),
        })
    }

    /// Counts how often beads are passed on paths of the needle.
    fn count_ways(&mut self) {
        let spans = self.work.spans();
        for span in &spans[self.ends.looked_at.min(spans.len())..] {
            let Stage::Through(Through { path, .. }) = &span.run.stage else {
                continue;
            };
            if let Path::Beads(beads) = path {
                for hole in beads.iter() {
                    self.ends.go_through(hole.bead);
                }
            }
        }
        self.ends.looked_at = spans.len();
    }
}

/// A search for a path, the most likely bead first.
struct EndSearch<'a> {
    planner: &'a Planner,
    /// Where the newest bead sits.
    newest: Seat,
    room: Room,
    /// Whether a bead was left out because it has no room.
    is_any_full: bool,
    within: Option<Panel>,
    /// The fewest beads that hold.
    length: usize,
    /// The highest cost of a bead, after the first few of the path.
    dearest: u32,
    /// The holes left so far; the first is where the needle was.
    way: Vec<Hole>,
    /// How well the best path found holds, and its holes.
    worth: usize,
    best: Vec<Hole>,
    /// How many more beads can be tried.
    left: u32,
    /// What was worked out about the beads that were tried.
    beside: NumberMap<Hole, Rc<EndNeighbours>>,
    costs: NumberMap<Bead, Option<u32>>,
}

/// What lies at the end of a bead.
struct EndNeighbours {
    /// The ends that touch it.
    touched: Vec<Hole>,
    /// Those of them that thread holds together with it.
    drawn: Vec<Hole>,
}

impl EndSearch<'_> {
    /// Whether a path that holds is found if beads need only this much room.
    fn holds_with(&mut self, room: Room) -> bool {
        self.room = room;
        self.costs.clear();
        self.holds()
    }

    /// Whether a path that holds is found, among beads that suit it best, and then
    /// among all.
    fn holds(&mut self) -> bool {
        let levels = [
            (FIT, LOOKED_AT),
            (DEAR, LOOKED_AT),
            (u32::MAX, LOOKED_AT_ALL),
        ];
        levels.into_iter().any(|(dearest, left)| {
            (self.dearest, self.left) = (dearest, left);
            self.go_on(1, 0)
        })
    }

    /// Continues the path, `leg` beads after the last turn; returns whether a
    /// path that holds was found.
    fn go_on(&mut self, leg: u32, turns: u32) -> bool {
        let beads = self.way.len() - 1;
        let worth = beads.min(self.length) + 2 * turns.min(WOVEN_TURNS) as usize;
        if worth > self.worth {
            (self.worth, self.best) = (worth, self.way[1..].to_vec());
        }
        if beads >= self.length && turns >= WOVEN_TURNS {
            return true;
        }
        if self.way.len() >= MOST_PASSED {
            return false;
        }
        for (_, hole, turned) in self.next(leg, turns) {
            if self.left == 0 {
                return false;
            }
            self.left -= 1;
            self.way.push(hole);
            let (leg, turns) = match turned {
                true => (1, turns + 1),
                false => (leg + 1, turns),
            };
            if self.go_on(leg, turns) {
                return true;
            }
            self.way.pop();
        }
        false
    }

    /// The holes that the needle can leave next, the best first, and whether it
    /// turns on the way there.
    fn next(&mut self, leg: u32, turns: u32) -> Vec<(u32, Hole, bool)> {
        let touching = self.planner.work.touching();
        let at = self.way[self.way.len() - 1];
        let here = self.beside(at);
        let mut all: Vec<(Hole, bool)> = Vec::with_capacity(32);
        all.extend(here.drawn.iter().map(|&third| (third, false)));
        if self.dearest == u32::MAX {
            let mut across = vec![];
            touching.across_corners(at, &mut across);
            all.extend(across.into_iter().map(|into| (into, false)));
        }
        for third in &here.drawn {
            let there = self.beside(*third);
            all.extend(there.drawn.iter().map(|&into| (into, true)));
        }
        let mut next: Vec<(u32, Hole, bool)> = Vec::with_capacity(all.len());
        for (into, is_beyond) in all {
            let hole = into.through();
            let is_known = self.way.iter().any(|on| on.bead == hole.bead)
                || next.iter().any(|(_, on, _)| *on == hole);
            let Some(cost) = self.cost(hole.bead).filter(|_| !is_known) else {
                continue;
            };
            let is_turn = is_beyond && route::is_turn_past(&here.touched, touching, at, into);
            let out_of_turn = match is_turn {
                true if turns >= WOVEN_TURNS => 4,
                true => 8 * u32::from(leg < 2) + 4 * u32::from(leg < LEG),
                false if turns >= WOVEN_TURNS => 0,
                false => 6 * u32::from(leg >= LEG) + DEAR * u32::from(leg > LEG),
            };
            let is_begun = self.way.len() > LEG as usize || self.dearest > FIT;
            let cost = match self.dearest {
                // Any path will do: turns first.
                u32::MAX => u32::from(is_turn != (turns < WOVEN_TURNS)),
                _ => cost + out_of_turn,
            };
            if cost <= self.dearest || !is_begun {
                next.push((cost, hole, is_turn));
            }
        }
        next.sort_by_key(|(cost, ..)| *cost);
        next
    }

    fn beside(&mut self, hole: Hole) -> Rc<EndNeighbours> {
        let planner = self.planner;
        let find = || {
            let touching = planner.work.touching();
            let seat = planner.layout().seat(hole.bead);
            let mut touched = touching.beside_seat(seat, hole.end);
            let is_drawn = |&into: &Hole| planner.are_drawn((hole, seat), into);
            let drawn = touched.iter().copied().filter(is_drawn).collect();
            touching.across_corners_of((hole, seat), &mut touched);
            EndNeighbours { touched, drawn }.into()
        };
        self.beside.entry(hole).or_insert_with(find).clone()
    }

    /// How badly a bead suits an end; `None` if the needle cannot go there.
    fn cost(&mut self, bead: Bead) -> Option<u32> {
        if let Some(cost) = self.costs.get(&bead) {
            return *cost;
        }
        let planner = self.planner;
        let seat = planner.layout().seat(bead);
        let near = planner.nearness(seat, self.newest);
        let cost = match self.within {
            Some(panel) => (seat.panel == panel && seat.part == Part::Face).then_some(3 * near),
            None if planner.has_room((bead, seat), near, &self.room) => {
                Some(3 * near + 3 * planner.ends.on_ways(bead).min(3))
            }
            None => {
                self.is_any_full = true;
                None
            }
        };
        self.costs.insert(bead, cost);
        cost
    }
}
