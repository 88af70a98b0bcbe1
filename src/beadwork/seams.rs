//! What has been joined so far: which bare sides are zipped into which join
//! rows, which corners have come together, on which rows fills are worked.

use super::layout::RowIndex;
use super::number::{NumberMap, NumberSet};
use super::stage::Zip;
use super::{Panel, Side};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A corner of a panel: the one at the end of this side.
pub type Corner = (Panel, Side);

/// The direction of a zipped side beside its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// Against the row, like two sides of one solid, seen from outside.
    Against,
    /// With the row, like one of the two faces across a hinge.
    With,
}

/// The joins of a piece that have been made.
#[derive(Clone, Debug, Default)]
pub struct Seams {
    /// The row and the direction of each zipped side.
    zipped: NumberMap<(Panel, Side), (RowIndex, Direction)>,
    /// The sides zipped into each row; more than one at a hinge.
    members: NumberMap<RowIndex, Vec<(Panel, Side, Direction)>>,
    /// The zipped sides whose up beads are between the beads of their row.
    within: NumberSet<(Panel, Side)>,
    /// The fills, with their sides, that are worked on a row; two at a hinge.
    fills: NumberMap<RowIndex, Vec<(Panel, Side)>>,
    /// The panel set in the open middle of another, by the outer panel.
    middles: NumberMap<Panel, Panel>,
    /// Corners that have come together.
    group_of: NumberMap<Corner, usize>,
    groups: Vec<Vec<Corner>>,
}

impl Seams {
    /// Zips a bare side into a row.
    pub(super) fn zip(&mut self, zip: &Zip) {
        let side = (zip.panel, zip.side);
        self.zipped.insert(side, (zip.row, zip.runs));
        let members = self.members.entry(zip.row).or_default();
        members.push((zip.panel, zip.side, zip.runs));
        if zip.within {
            self.within.insert(side);
        }
    }

    /// Adds a side of a fill that is worked on a row.
    pub(super) fn fill(&mut self, row: RowIndex, fill: (Panel, Side)) {
        self.fills.entry(row).or_default().push(fill);
    }

    /// Sets a panel in the open middle of another.
    pub(super) fn set_in_middle(&mut self, panel: Panel, around: Panel) {
        self.middles.insert(around, panel);
    }

    /// The panel that is set in the open middle of another.
    pub fn in_middle_of(&self, around: Panel) -> Option<Panel> {
        self.middles.get(&around).copied()
    }

    /// The panel in whose open middle a panel is set.
    pub fn around(&self, panel: Panel) -> Option<Panel> {
        let mut middles = self.middles.iter();
        middles
            .find(|(_, set_in)| **set_in == panel)
            .map(|(around, _)| *around)
    }

    /// Brings two corners together.
    pub(crate) fn meet(&mut self, a: Corner, b: Corner) {
        let (a, b) = (self.group(a), self.group(b));
        if a != b {
            let moved = std::mem::take(&mut self.groups[b]);
            for corner in &moved {
                self.group_of.insert(*corner, a);
            }
            self.groups[a].extend(moved);
        }
    }

    fn group(&mut self, corner: Corner) -> usize {
        let groups = &mut self.groups;
        *self.group_of.entry(corner).or_insert_with(|| {
            groups.push(vec![corner]);
            groups.len() - 1
        })
    }

    /// The row into which a side is zipped, and the direction of the side.
    pub fn row_of(&self, side: (Panel, Side)) -> Option<(RowIndex, Direction)> {
        self.zipped.get(&side).copied()
    }

    /// Whether the up beads of a zipped side are between the beads of its row,
    /// so that the row begins and ends the join.
    pub(super) fn lies_within(&self, side: (Panel, Side)) -> bool {
        self.within.contains(&side)
    }

    /// The sides zipped into a row.
    pub fn sides_of(&self, row: RowIndex) -> &[(Panel, Side, Direction)] {
        self.members.get(&row).map_or(&[], Vec::as_slice)
    }

    /// The sides of fills worked on a row.
    pub fn fills_on(&self, row: RowIndex) -> &[(Panel, Side)] {
        self.fills.get(&row).map_or(&[], Vec::as_slice)
    }

    /// The corners that have come together with a corner, including itself;
    /// empty if there are none.
    pub fn together(&self, corner: Corner) -> &[Corner] {
        match self.group_of.get(&corner) {
            Some(&group) => &self.groups[group],
            None => &[],
        }
    }

    /// The same, the corner alone if there are none.
    pub(super) fn all_at<'a>(&'a self, corner: &'a Corner) -> &'a [Corner] {
        match self.together(*corner) {
            [] => std::slice::from_ref(corner),
            together => together,
        }
    }

    /// One of the corners that have come together with a corner, the same for
    /// each of them.
    pub fn first_of(&self, corner: Corner) -> Corner {
        self.all_at(&corner)[0]
    }

    /// Whether two corners have come together.
    pub fn are_together(&self, a: Corner, b: Corner) -> bool {
        let group = |corner| self.group_of.get(&corner);
        a == b || (group(a).is_some() && group(a) == group(b))
    }
}
