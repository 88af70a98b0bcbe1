//! Which bead ends touch: where thread can go on from a hole without crossing
//! open space.
//!
//! ```text
//!        [ child ]
//!   [ bead i ] [ bead i+1 ]     the front of bead i touches the back of the
//!        [ parent ]             child over gap i and of the parent under it
//! ```
//!
//! A pair touches end to end; neighbours drawn together too; join beads touch
//! the edge beads on all the sides locked into their row; and the corners that
//! a join has brought together touch at that corner.

use super::end::{End, Hole};
use super::layout::{Layout, Part, RowIndex, Seat};
use super::number::{Bead, Panel, Side};
use super::panel::PanelLayout;
use super::seams::{Corner, Direction, Seams};
use super::stage::Lock;
use super::work::Work;
use std::collections::HashSet;

/// Beads up to a number, and the joins among them.
#[derive(Clone, Copy)]
pub struct Touching<'a> {
    layout: &'a Layout,
    seams: &'a Seams,
    /// Beads above this number are left out.
    strung: u32,
}

impl Work {
    /// What touches what, among the beads that are strung.
    pub fn touching(&self) -> Touching<'_> {
        Touching {
            layout: &self.layout,
            seams: &self.seams,
            strung: self.strung,
        }
    }
}

impl Work {
    /// Whether two panels hang together, by joins or by corners that have come
    /// together: else no bead of the one leads to the other.
    pub(super) fn hang_together(&self, from: Panel, to: Panel) -> bool {
        if from == to {
            return true;
        }
        // From both sides in turn: the nearest panels first, and no further
        // than the smaller of two works that lie apart.
        let mut known = [HashSet::from([from]), HashSet::from([to])];
        let mut last = [vec![from], vec![to]];
        let mut side = 0;
        loop {
            let mut next = vec![];
            for panel in last[side].drain(..) {
                for beside in self.beside_panel(panel) {
                    if known[1 - side].contains(&beside) {
                        return true;
                    }
                    if known[side].insert(beside) {
                        next.push(beside);
                    }
                }
            }
            if next.is_empty() {
                return false;
            }
            last[side] = next;
            side = 1 - side;
        }
    }

    /// Whether all panels hang together so.
    pub fn is_one_piece(&self) -> bool {
        let mut panels = self.layout.begun_panels().map(|(panel, _)| panel);
        let first = panels.next();
        let mut known: HashSet<Panel> = first.into_iter().collect();
        let mut open: Vec<Panel> = first.into_iter().collect();
        while let Some(panel) = open.pop() {
            let beside = self.beside_panel(panel).into_iter();
            open.extend(beside.filter(|beside| known.insert(*beside)));
        }
        panels.all(|panel| known.contains(&panel))
    }

    /// The panels that a panel is joined to, or meets at a corner.
    fn beside_panel(&self, panel: Panel) -> Vec<Panel> {
        let (layout, seams) = (&self.layout, &self.seams);
        let mut beside = vec![];
        for side in (0..layout.kind(panel).sides()).map(Side) {
            let own = layout.any_row_on(panel, side);
            let locked = seams.row_of((panel, side)).map(|(row, _)| row);
            for row in own.into_iter().chain(locked) {
                beside.push(layout.row(row).panel);
                beside.extend(seams.sides_of(row).iter().map(|(panel, ..)| *panel));
                beside.extend(seams.fills_on(row).iter().map(|(panel, _)| *panel));
            }
            let together = seams.together((panel, side)).iter();
            beside.extend(together.map(|(panel, _)| *panel));
        }
        if let Some(rim) = layout.panel(panel).rim {
            beside.extend(layout.rim(rim).iter().map(|side| side.panel));
        }
        beside.extend(seams.in_middle_of(panel));
        beside.extend(seams.around(panel));
        beside
    }
}

impl Touching<'_> {
    /// The bead ends that touch this one, beads not strung yet left out.
    pub fn of(&self, hole: Hole) -> Vec<Hole> {
        let mut found = self.beside(hole);
        self.across_corners(hole, &mut found);
        found
    }

    /// Adds those that only lie at one corner with it.
    pub(super) fn across_corners(&self, hole: Hole, found: &mut Vec<Hole>) {
        self.across_corners_of((hole, self.layout.seat(hole.bead)), found);
    }

    /// The same if it is known where the bead sits.
    pub(super) fn across_corners_of(&self, (hole, seat): (Hole, Seat), found: &mut Vec<Hole>) {
        for corner in self.corners_of(seat, hole.end) {
            for &other in self.seams.together(corner) {
                let there = self.holes_at(other).into_iter();
                found.extend(there.filter(|h| h.bead != hole.bead && h.bead.0 <= self.strung));
            }
        }
    }

    /// Whether two ends lie at one corner, one of them an end of a tip bead.
    pub(super) fn meet_at_a_tip(&self, one: Hole, other: Hole) -> bool {
        let tip = |hole: Hole| {
            let seat = self.layout.seat(hole.bead);
            matches!(seat.part, Part::Tip(_)).then_some((seat.panel, seat.side))
        };
        let at = |hole| tip(hole).map_or_else(|| self.corners_at(hole), |corner| vec![corner]);
        let (corners, others) = (at(one), at(other));
        let meets = |corner| {
            let mut others = others.iter();
            others.any(|other| self.seams.are_together(corner, *other))
        };
        let is_tip = tip(one).or(tip(other)).is_some();
        is_tip && one.bead != other.bead && corners.into_iter().any(meets)
    }

    /// The same without those that only lie at one corner with it: a corner
    /// is a wider place, and what touches one bead there need not touch
    /// another.
    pub fn beside(&self, hole: Hole) -> Vec<Hole> {
        self.beside_seat(self.layout.seat(hole.bead), hole.end)
    }

    /// The same for an end of the bead in a seat.
    pub(super) fn beside_seat(&self, seat: Seat, end: End) -> Vec<Hole> {
        let mut found = Vec::with_capacity(8);
        match seat.part {
            Part::Face => self.of_face(seat, end, &mut found),
            Part::JoinRow(row) => self.of_join_bead(row, seat.place, end, &mut found),
            Part::Tip(row) => self.of_tip(row, seat.place, end, &mut found),
        }
        found.retain(|h| h.bead.0 <= self.strung);
        found
    }

    /// Adds what an end of a bead within a whole panel touches: what [`beside`] and
    /// [`across_corners`] find. `false` for a bead at an edge or in work that is
    /// not whole.
    ///
    /// [`beside`]: Touching::beside
    /// [`across_corners`]: Touching::across_corners
    pub(super) fn add_inner(&self, hole: Hole, found: &mut Vec<Hole>) -> bool {
        let Some((panel, number)) = self.layout.in_panel(hole.bead) else {
            return false;
        };
        let (making, before) = (self.layout.making(panel), self.layout.before_panel(panel));
        // The last gap of all is drawn together as the next bead comes.
        if before + making.beads() >= self.strung || self.seams.in_middle_of(panel).is_some() {
            return false;
        }
        let kind = self.layout.kind(panel);
        let Some(ends) = making.inner_ends(kind, (number, hole.end)) else {
            return false;
        };
        found.extend(ends.iter().map(|&(number, end)| Hole {
            bead: Bead(before + number + 1),
            end,
        }));
        true
    }

    /// Where a bead sits.
    pub(super) fn seat(&self, bead: Bead) -> Seat {
        self.layout.seat(bead)
    }

    /// Whether a bead is a tip bead.
    pub(super) fn is_tip(&self, bead: Bead) -> bool {
        self.layout.in_panel(bead).is_none() && matches!(self.seat(bead).part, Part::Tip(_))
    }

    /// The corners at which this end of an edge bead lies.
    pub fn corners_at(&self, hole: Hole) -> Vec<Corner> {
        self.corners_of(self.layout.seat(hole.bead), hole.end)
            .collect()
    }

    fn corners_of(&self, seat: Seat, end: End) -> impl Iterator<Item = Corner> {
        let kind = self.layout.kind(seat.panel);
        let is_edge = seat.part == Part::Face && seat.round == kind.last();
        let edges = (is_edge && kind.can_be_joined()).then(|| edges_of(kind, seat));
        // A corner bead lies at its corner with both its ends.
        let both = kind.corner(kind.last()) == 1;
        edges.into_iter().flatten().filter_map(move |(side, j)| {
            if j + 1 == kind.edge(side) && (both || end == End::Front) {
                Some((seat.panel, side))
            } else if j == 0 && (both || end == End::Back) {
                Some((seat.panel, kind.side_before(side)))
            } else {
                None
            }
        })
    }

    /// The ends of edge beads that lie at a corner.
    pub fn holes_at(&self, (panel, side): Corner) -> [Hole; 2] {
        let next = self.layout.kind(panel).next_side(side);
        [
            Hole::front(self.layout.edge_end(panel, side)),
            Hole::back(self.layout.edge_bead(panel, next, 0)),
        ]
    }

    fn of_face(&self, seat: Seat, end: End, found: &mut Vec<Hole>) {
        let (panel, kind) = (seat.panel, self.layout.kind(seat.panel));
        if seat.round == kind.last() {
            self.over_the_edge(seat, end, found);
        }
        self.at_the_middle(seat, end, found);
        let mut spots = Vec::with_capacity(4);
        let (making, strung) = (self.layout.making(panel), self.strung_of(panel));
        kind.touching(making, strung, seat.spot(), end, &mut spots);
        found.extend(spots.into_iter().map(|(spot, end)| Hole {
            bead: self.layout.bead(panel, spot.round, spot.index),
            end,
        }));
    }

    /// What lies against an end of a bead where a panel is set in the open
    /// middle of another.
    fn at_the_middle(&self, seat: Seat, end: End, found: &mut Vec<Hole>) {
        let (panel, layout) = (seat.panel, self.layout);
        let other = end.other();
        if let Some(set_in) = self.seams.in_middle_of(panel) {
            let lock = Lock {
                panel: set_in,
                around: panel,
            };
            if seat.round == lock.ring(layout) {
                let bead = lock.edge_beside(layout, seat.index, end);
                let [first, last] = lock.over(layout, seat.index);
                let mate = match end {
                    End::Front => last,
                    End::Back => first,
                };
                // In a pair, the other half lies between.
                let bead = match layout.bead_in(seat) == mate {
                    true => bead,
                    false => mate,
                };
                found.push(Hole { bead, end: other });
            }
        }
        if let Some(around) = self.seams.around(panel) {
            let lock = Lock { panel, around };
            if seat.round == layout.kind(panel).last() {
                let place = layout.kind(panel).place(seat.round, seat.index);
                let [first, last] = lock.ring_beside(layout, place, end);
                let bead = match end {
                    End::Front => first,
                    End::Back => last,
                };
                found.push(Hole { bead, end: other });
            }
        }
    }

    /// Beads strung of a panel that is begun.
    fn strung_of(&self, panel: Panel) -> u32 {
        self.strung.saturating_sub(self.layout.before_panel(panel))
    }

    /// What lies over an end of a bead of the last round: a join bead of its
    /// own side, a tip bead, a join bead it is locked to, the anchor of a
    /// fill, the beads of corners that have come together.
    fn over_the_edge(&self, seat: Seat, end: End, found: &mut Vec<Hole>) {
        let (panel, kind) = (seat.panel, self.layout.kind(seat.panel));
        if self.layout.panel(panel).rim.is_some() {
            found.extend(self.on_the_rim(seat, end));
        }
        for (side, j) in edges_of(kind, seat) {
            let own = self.layout.row_on(panel, side);
            let own = own.map(|row| (row, Direction::With)).into_iter();
            for row in own.chain(self.seams.row_of((panel, side))) {
                self.over_a_gap(row, (panel, side), j, end, found);
            }
            if let Some(row) = self.layout.edge_row_on(panel, side) {
                self.of_locked_sides((row, j), end, found);
            }
            self.tips_beside(panel, side, j, end, found);
        }
    }

    /// What lies beside an end of a bead of a fill's first round: a bead in the
    /// same gap, or the join bead behind or before it.
    fn on_the_rim(&self, seat: Seat, end: End) -> Option<Hole> {
        let (fill, layout) = (seat.panel, self.layout);
        let gaps = layout.rim_gaps(fill);
        let all = layout.kind(fill).in_round(seat.round);
        let start = layout.making(fill).start(seat.round);
        let nth = (seat.index + all - start) % all;
        let gap = gaps.gap_of(nth);
        let beads = gaps.in_gap(gap);
        let (is_last, other) = match end {
            End::Front => (nth + 1 == beads.end, nth + 1),
            End::Back => (nth == beads.start, nth.wrapping_sub(1)),
        };
        if !is_last {
            return Some(facing(layout.rim_round_bead(fill, other), end));
        }
        self.rim_join_facing(fill, gaps.join_at(gap, end)?, end)
    }

    /// The end of a join bead of a rim that faces the given end of a bead of
    /// the fill.
    fn rim_join_facing(&self, fill: Panel, join: (Side, u32), end: End) -> Option<Hole> {
        let rim = self.layout.panel(fill).rim?;
        let bead = self.layout.rim_join(fill, join)?;
        let leaves = self.layout.rim(rim)[join.0.index()].leaving(bead);
        Some(match end {
            End::Back => leaves,
            End::Front => leaves.through(),
        })
    }

    /// Gaps of a side over which the beads of its row are spread, and how many
    /// of them lie before its first up bead.
    fn gaps(&self, (panel, side): Corner) -> (u32, u32) {
        let before = u32::from(self.seams.lies_within((panel, side)));
        let gaps = self.layout.kind(panel).edge(side) - 1;
        (gaps + 2 * before, before)
    }

    /// The join bead in the gap at an end of edge bead `j`; where the gap holds
    /// none, the next edge bead, drawn to this one.
    fn over_a_gap(
        &self,
        (index, way): (RowIndex, Direction),
        (panel, side): Corner,
        j: u32,
        end: End,
        found: &mut Vec<Hole>,
    ) {
        let row = self.layout.row(index);
        let (gaps, before) = self.gaps((panel, side));
        let ahead = j + before;
        let gap = match end {
            End::Front if ahead < gaps => ahead,
            End::Back if ahead > 0 => ahead - 1,
            _ => return,
        };
        let with_the_row = way == Direction::With;
        let beads = row.in_gap(if with_the_row { gap } else { gaps - 1 - gap }, gaps);
        if beads.is_empty() {
            let next = if end == End::Front { j + 1 } else { j - 1 };
            found.push(facing(self.layout.edge_bead(panel, side, next), end));
            return;
        }
        let bead = match (end == End::Front) == with_the_row {
            true => beads.start,
            false => beads.end - 1,
        };
        let bead = self.layout.row_bead(index, bead);
        found.push(match with_the_row {
            true => facing(bead, end),
            false => Hole { bead, end },
        });
    }

    /// What an end of a join bead touches of an edge that it lies on: the edge
    /// bead at that end of its gap, or another join bead in it.
    fn beside_a_join_bead(
        &self,
        (index, j): (RowIndex, u32),
        (panel, side): Corner,
        way: Direction,
        end: End,
        found: &mut Vec<Hole>,
    ) {
        let row = self.layout.row(index);
        let (gaps, before) = self.gaps((panel, side));
        let gap = row.gap_of(j, gaps);
        let beads = row.in_gap(gap, gaps);
        let ahead = end == End::Front;
        if (ahead && j + 1 < beads.end) || (!ahead && j > beads.start) {
            let other = if ahead { j + 1 } else { j - 1 };
            found.push(facing(self.layout.row_bead(index, other), end));
            return;
        }
        // The edge bead there, in the direction of the row; none at an end of a
        // row that begins and ends the join.
        let last = self.layout.kind(panel).edge(side) - 1;
        let own = (gap + u32::from(ahead)).checked_sub(before);
        let Some(own) = own.filter(|own| *own <= last) else {
            return;
        };
        found.push(match way {
            Direction::Against => Hole {
                bead: self.layout.edge_bead(panel, side, last - own),
                end,
            },
            Direction::With => facing(self.layout.edge_bead(panel, side, own), end),
        });
    }

    fn tips_beside(&self, panel: Panel, side: Side, j: u32, end: End, found: &mut Vec<Hole>) {
        let kind = self.layout.kind(panel);
        if end == End::Front && j + 1 == kind.edge(side) {
            let tips = self.layout.tips_after((panel, side));
            found.extend(tips.first().map(|tip| Hole::back(*tip)));
        } else if end == End::Back && j == 0 {
            let before = kind.side_before(side);
            let tips = self.layout.tips_after((panel, before));
            found.extend(tips.last().map(|tip| Hole::front(*tip)));
        }
    }

    fn of_join_bead(&self, index: RowIndex, j: u32, end: End, found: &mut Vec<Hole>) {
        let row = self.layout.row(index);
        let own = (row.panel, row.side);
        self.beside_a_join_bead((index, j), own, Direction::With, end, found);
        self.of_locked_sides((index, j), end, found);
        let bead = self.layout.row_bead(index, j);
        for &(panel, side) in self.seams.fills_on(index) {
            let rim = self.layout.panel(panel).rim;
            let rim = rim.expect("a fill stands on a rim");
            let on = self.layout.rim(rim)[side.index()];
            // The needle comes to the join bead from the fill bead before it, and
            // leaves it for the one behind.
            let towards = match on.leaving(bead).end == end {
                true => End::Front,
                false => End::Back,
            };
            let gaps = self.layout.rim_gaps(panel);
            let gap = gaps.gap_at(side, on.nth(j, row.beads), towards);
            let beads = gaps.in_gap(gap);
            let fill = match towards {
                // Where the gap is empty, the next join bead, once the needle is past.
                _ if beads.is_empty() => {
                    let next = self.layout.rim_round_bead(panel, beads.start);
                    let is_drawn = next.0 <= self.strung;
                    let join = gaps.join_at(gap, towards).filter(|_| is_drawn);
                    found.extend(join.and_then(|j| self.rim_join_facing(panel, j, towards)));
                    continue;
                }
                End::Front => Hole::back(self.layout.rim_round_bead(panel, beads.start)),
                End::Back => Hole::front(self.layout.rim_round_bead(panel, beads.end - 1)),
            };
            found.push(fill);
        }
    }

    /// What an end of a bead of a row touches of the sides locked into it.
    fn of_locked_sides(&self, (index, j): (RowIndex, u32), end: End, found: &mut Vec<Hole>) {
        for &(panel, side, way) in self.seams.sides_of(index) {
            self.beside_a_join_bead((index, j), (panel, side), way, end, found);
        }
    }

    fn of_tip(&self, index: RowIndex, place: u32, end: End, found: &mut Vec<Hole>) {
        let row = self.layout.row(index);
        let next = self.layout.kind(row.panel).next_side(row.side);
        let other = |place| self.layout.row_bead(index, row.beads + place);
        match end {
            End::Back if place == 0 => {
                found.push(Hole::front(self.layout.edge_end(row.panel, row.side)));
            }
            End::Front if place + 1 == row.tips => {
                found.push(Hole::back(self.layout.edge_bead(row.panel, next, 0)));
            }
            End::Back => found.push(Hole::front(other(place - 1))),
            End::Front => found.push(Hole::back(other(place + 1))),
        }
    }
}

/// The end of `bead` that faces the given end of its neighbour in the same
/// direction of work.
fn facing(bead: Bead, end: End) -> Hole {
    Hole {
        bead,
        end: end.other(),
    }
}

/// The edges that a bead of the last round lies on, with its place on each
/// from 0: one, or two for a corner bead.
fn edges_of(kind: &PanelLayout, seat: Seat) -> impl Iterator<Item = (Side, u32)> {
    let has_corners = kind.corner(kind.last()) == 1;
    let is_corner = has_corners && seat.place + 1 == seat.of;
    let next = is_corner.then(|| (kind.next_side(seat.side), 0));
    std::iter::once((seat.side, seat.place + u32::from(has_corners))).chain(next)
}

impl Layout {
    /// The tip beads in the corner behind a side.
    pub fn tips_after(&self, (panel, side): Corner) -> Vec<Bead> {
        let tips = self.row_on(panel, side).map(|index| {
            let row = self.row(index);
            (row.beads..row.beads + row.tips).map(move |nth| self.row_bead(index, nth))
        });
        tips.into_iter().flatten().collect()
    }

    /// What lies before bead `a` (from 0) of a fill's edge, or behind its last:
    /// join beads, none if a bead of the same gap does, or the corner.
    pub fn before_on_rim(&self, fill: Panel, side: Side, a: u32) -> BeforeOnRim {
        let kind = self.kind(fill);
        if a == 0 || a >= kind.edge(side) {
            return BeforeOnRim::Corner;
        }
        let gaps = self.rim_gaps(fill);
        let all = kind.in_round(kind.last());
        let start = self.making(fill).start(kind.last());
        let nth = (kind.edge_index(side, a) + all - start) % all;
        let gap = gaps.gap_of(nth);
        let before = gaps.gap_of((nth + all - 1) % all);
        // Gaps between join beads of one gap of the row hold no bead.
        let passed = 1..=(gap + gaps.all() - before) % gaps.all();
        let passed = passed.map(|nth| (before + nth) % gaps.all());
        let join = |gap| self.rim_join(fill, gaps.join_at(gap, End::Back)?);
        let joins: Vec<Bead> = passed.filter_map(join).collect();
        match joins.is_empty() && gap != before {
            true => BeforeOnRim::Corner,
            false => BeforeOnRim::Joins(joins),
        }
    }
}

/// What lies before a bead of a fill's edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BeforeOnRim {
    /// The join beads of the rim between it and the bead before, in the order of
    /// the fill; none if that one is in the same gap.
    Joins(Vec<Bead>),
    /// A corner of the rim.
    Corner,
}
