//! What each side was used for.

use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::{HashMap, HashSet};

/// What is known of a panel for joining it.
#[derive(Clone, Debug, Default)]
pub(super) struct SewnPanel {
    /// The up beads of each side, from corner to corner; empty if its sides do
    /// not end in beads.
    pub edges: Vec<Vec<Bead>>,
}

/// What a side was used for.
#[derive(Clone, Debug)]
pub(super) enum Use {
    /// It carries a row.
    Row(Row),
    /// It was zipped into a row.
    Zipped,
    /// It is a side of a fill and is joined to a row.
    Filled,
}

/// A join row.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    pub beads: Vec<Bead>,
    /// The number of join beads in each gap of the side that carries the row.
    pub gaps: Vec<usize>,
    /// Sides zipped into it, and fills worked on it.
    pub partners: u32,
    /// Fills worked on it, and openings of whose rim it is a part.
    pub fills: u32,
    pub firmed: u32,
}

/// All panels and sides.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    pub panels: Vec<Option<SewnPanel>>,
    pub uses: HashMap<(Panel, Side), Use>,
    /// The side whose row a join bead belongs to.
    rows: HashMap<Bead, (Panel, Side)>,
    /// The side whose row a tip bead belongs to.
    tips: HashMap<Bead, (Panel, Side)>,
    /// The tip beads after the row on a side.
    tips_behind: HashMap<(Panel, Side), Vec<Bead>>,
    /// The innermost round of each panel with an open middle: each bead with
    /// its side.
    pub middles: HashMap<Panel, Vec<(Side, Bead)>>,
    /// For each bare side, the side whose row it is locked into.
    pub zipped_onto: HashMap<(Panel, Side), (Panel, Side)>,
    /// Beads of the join of a bare side that the needle skipped.
    pub passed_by: HashSet<((Panel, Side), Bead)>,
    pub fills: u32,
    pub firmed: u32,
    /// The rims of openings that are reinforced and not closed.
    pub open_rims: Vec<Vec<(Panel, Side)>>,
}

impl Ledger {
    /// The up beads of a side, if it can be joined.
    pub fn edge(&self, (panel, side): (Panel, Side)) -> Option<&[Bead]> {
        let panel = self.panels.get(panel.index())?.as_ref()?;
        panel.edges.get(side.index()).map(Vec::as_slice)
    }

    /// The side before a side, and the one after it.
    pub fn neighbours(&self, (panel, side): (Panel, Side)) -> [(Panel, Side); 2] {
        let n = self.sides(panel).max(1) as u8;
        let other = |step: u8| (panel, Side((side.0 % n + step) % n));
        [other(n - 1), other(1)]
    }

    /// Sides of a panel that can be joined.
    pub fn sides(&self, panel: Panel) -> usize {
        let panel = self.panels.get(panel.index()).and_then(Option::as_ref);
        panel.map_or(0, |panel| panel.edges.len())
    }

    pub fn row(&self, side: (Panel, Side)) -> Option<&Row> {
        match self.uses.get(&side) {
            Some(Use::Row(row)) => Some(row),
            _ => None,
        }
    }

    pub fn row_mut(&mut self, side: (Panel, Side)) -> Option<&mut Row> {
        match self.uses.get_mut(&side) {
            Some(Use::Row(row)) => Some(row),
            _ => None,
        }
    }

    /// The side that carries the row of a join bead.
    pub fn row_of(&self, bead: Bead) -> Option<(Panel, Side)> {
        self.rows.get(&bead).copied()
    }

    /// The side that carries the row of a join bead or a tip bead.
    pub fn side_of(&self, bead: Bead) -> Option<(Panel, Side)> {
        self.row_of(bead).or_else(|| self.tips.get(&bead).copied())
    }

    pub fn is_tip(&self, bead: Bead) -> bool {
        self.tips.contains_key(&bead)
    }

    /// The tip beads after the row on a side.
    pub fn tips_behind(&self, side: (Panel, Side)) -> &[Bead] {
        self.tips_behind.get(&side).map_or(&[], Vec::as_slice)
    }

    /// Records tip beads after a side's row.
    pub fn add_tips(&mut self, side: (Panel, Side), tips: &[Bead]) {
        self.tips.extend(tips.iter().map(|&tip| (tip, side)));
        self.tips_behind.entry(side).or_default().extend(tips);
    }

    /// Records a row; `false` if the side was used before.
    pub fn add_row(&mut self, side: (Panel, Side), beads: Vec<Bead>, gaps: Vec<usize>) -> bool {
        for &bead in &beads {
            self.rows.insert(bead, side);
        }
        let row = Row {
            beads,
            gaps,
            ..Row::default()
        };
        self.put(side, Use::Row(row))
    }

    /// A face is about to close an opening: if its rim was reinforced, the face
    /// replaces the opening.
    pub fn close_rim(&mut self, sides: &[(Panel, Side)]) {
        let is_it = |rim: &Vec<(Panel, Side)>| {
            rim.len() == sides.len() && rim.iter().all(|side| sides.contains(side))
        };
        let Some(at) = self.open_rims.iter().position(is_it) else {
            return;
        };
        for side in self.open_rims.remove(at) {
            if let Some(row) = self.row_mut(side) {
                row.partners -= 1;
            }
        }
    }

    /// Records the use of a side; `false` if it was used before.
    pub fn put(&mut self, side: (Panel, Side), what: Use) -> bool {
        self.uses.insert(side, what).is_none()
    }
}
