//! The patch of a panel worked round by round, and of a join row on its edge.

use super::patch::{Extent, Hold, Patch};
use super::strip::{Half, RoundStretch};
use crate::beadwork::layout::{Layout, RowIndex};
use crate::beadwork::project::WorkDirection;
use crate::beadwork::stage::Lock;
use crate::beadwork::{Panel, Round, Sequence, Side};
use std::ops::Range;

/// A stretch of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoundsView {
    pub panel: Panel,
    /// The round that lies evenly.
    pub even: Round,
    /// The direction in which the panel is worked.
    pub way: WorkDirection,
    /// Index in that round of the bead nearest to the needle.
    pub focus: u32,
    /// The side being worked.
    pub side: Side,
    /// The join row being worked there, if any.
    pub row: Option<RowIndex>,
}

impl RoundsView {
    /// Number of beads along the side being worked, in the round that lies
    /// evenly.
    pub fn length(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).on_side(self.even, self.side)
    }

    /// The patch, as far as needed.
    pub fn patch(&self, seq: &Sequence, strung: u32, extent: Extent) -> Patch {
        let layout = seq.layout();
        let kind = layout.kind(self.panel);
        let shown = |row: RowIndex| {
            let worked = self.row == Some(row);
            worked || layout.row_bead(row, 0).0 <= strung
        };
        let on_edge = self.even == kind.last();
        let over = |index: u32| {
            let gap = on_edge.then(|| self.over(layout, index)).flatten();
            let (row, beads) = gap.filter(|(row, _)| shown(*row))?;
            Some(beads.map(move |nth| layout.row_bead(row, nth)))
        };
        let in_gap = |index| over(index).map_or(0, |beads| beads.len() as u32);
        let even = RoundStretch::cut(kind, self.even, self.focus, extent.across, in_gap);
        let mut patch = Patch {
            bricks: vec![],
            focus: 0,
            side: self.ends(layout, &even),
            hold: match self.way {
                WorkDirection::Outward => Hold::Top,
                WorkDirection::Inward => Hold::Bottom,
            },
            names: side_names(layout, self.panel, self.side),
        };
        for pair in even.beads.windows(2) {
            let ((u, x), (_, y)) = (pair[0], pair[1]);
            let Some(beads) = over(even.index(u)) else {
                continue;
            };
            let apart = (y - x) / (beads.len() as Half + 1);
            for (bead, n) in beads.zip(1..) {
                patch.add(bead, x + apart * n, self.even.0 as i32 + 1, true);
            }
        }
        self.add(layout, &even, &mut patch);
        match self.way {
            WorkDirection::Outward => {
                let mut next = even.inner(kind);
                let lowest = self.even.0 as i32 - extent.rounds;
                while let Some(stretch) = next.filter(|s| s.round.0 as i32 > lowest) {
                    self.add(layout, &stretch, &mut patch);
                    next = stretch.inner(kind);
                }
            }
            WorkDirection::Inward => {
                let making = layout.making(self.panel);
                let made = |s: &RoundStretch| s.round >= making.innermost();
                match even.inner(kind) {
                    Some(inner) if made(&inner) => self.add(layout, &inner, &mut patch),
                    Some(inner) => self.add_set_in(seq, strung, &inner, &mut patch),
                    None => {}
                }
                let mut next = even.outer(kind);
                let highest = self.even.0 as i32 + extent.rounds;
                while let Some(stretch) = next.filter(|s| (s.round.0 as i32) < highest) {
                    self.add(layout, &stretch, &mut patch);
                    next = stretch.outer(kind);
                }
            }
        }
        patch
    }

    /// Adds the edge of a panel that is set in the open middle, if it is there.
    fn add_set_in(&self, seq: &Sequence, strung: u32, stretch: &RoundStretch, patch: &mut Patch) {
        let (layout, around) = (seq.layout(), self.panel);
        let lock = seq.seams().in_middle_of(around);
        let lock = lock.map(|panel| Lock { panel, around });
        let is_there = |lock: &Lock| lock.start(layout).bead.0 <= strung;
        let Some(lock) = lock.filter(is_there) else {
            return;
        };
        for &(u, x) in &stretch.beads {
            let bead = lock.bead_under(layout, stretch.index(u));
            patch.add(bead, x, stretch.round.0 as i32, true);
        }
    }

    /// Adds a round; beads of the side being worked are in front.
    fn add(&self, layout: &Layout, stretch: &RoundStretch, patch: &mut Patch) {
        let kind = layout.kind(self.panel);
        let own = |u: i64| kind.place(stretch.round, stretch.index(u)).side == self.side;
        // Every other row of a strip is strung from its other end.
        let ends = [0, kind.in_round(stretch.round) - 1];
        let [first, last] = ends.map(|index| layout.bead(self.panel, stretch.round, index));
        let forward = kind.strip().is_none() || first <= last;
        for in_front in [true, false] {
            for &(u, x) in stretch.beads.iter().filter(|(u, _)| own(*u) == in_front) {
                let bead = layout.bead(self.panel, stretch.round, stretch.index(u));
                patch.add(bead, x, stretch.round.0 as i32, forward);
            }
        }
    }

    /// The row that lies on the edge behind bead `index`, and its beads there:
    /// join beads, or at the corner its tip beads.
    fn over(&self, layout: &Layout, index: u32) -> Option<(RowIndex, Range<u32>)> {
        let (side, gap) = layout.kind(self.panel).gap_behind(self.even, index);
        let index = layout.row_on(self.panel, side)?;
        let row = layout.row(index);
        let beads = match gap < row.gaps {
            true => row.in_gap(gap, row.gaps),
            false => row.beads..row.beads + row.tips,
        };
        Some((index, beads))
    }

    /// Where the side's first and last bead lie, if both are near.
    fn ends(&self, layout: &Layout, even: &RoundStretch) -> Option<(Half, Half)> {
        let kind = layout.kind(self.panel);
        let last = kind.on_side(self.even, self.side).checked_sub(1)?;
        let at = |place| even.find(kind.index(self.even, self.side, place));
        let (from, to) = (at(0)?, at(last)?);
        (from <= to).then_some((from, to))
    }
}

/// The ruler's name for a side, and for the sides before and after it.
pub fn side_names(layout: &Layout, panel: Panel, side: Side) -> [String; 3] {
    let kind = layout.kind(panel);
    if kind.strip().is_some() {
        // A row has nothing before it and nothing after it.
        return [
            layout.panel(panel).name.clone(),
            String::new(),
            String::new(),
        ];
    }
    let own = format!("side {side} of {}", kind.sides());
    [
        match layout.panels().len() {
            1 => own,
            _ => format!("{}, {own}", layout.panel(panel).name),
        },
        format!("side {}", kind.side_before(side)),
        format!("side {}", kind.next_side(side)),
    ]
}
