//! A zip: a bare side's up beads and a row's join beads taken in turn, so
//! that the two edges lock like teeth.
//!
//! ```text
//! bare side      b0      b1      b2      b3      its own direction ->
//! join row           r2      r1      r0          its direction <-
//! ```
//!
//! (At a hinge one side of each further solid runs with the row instead.)
//!
//! Where sides differ by one up bead there is no row: the up beads of the other
//! side take its place. The bare side may then lie within, and the beads of the
//! row begin and end the join; so it does where it is two up beads shorter than
//! the side that carries the row.
//!
//! ```text
//! bare side          b0      b1      b2
//! row or edge    r3      r2      r1      r0
//! ```
//!
//! Where a hole has no room, the needle can go through the row next door: past a
//! join bead through the bead under its gap in the bare side's own panel, past an
//! edge bead through the one that faces it beyond the row.
//!
//! ```text
//! bare panel            p1                  past r1: b1, p1, b2
//! bare side      b0      b1      b2
//! join row           r2      r1      r0
//! its panel      e3      e2      e1      e0  past b1: r2, e2, r1
//! ```

use super::{Draft, Holes, Steps};
use crate::beadwork::layout::RowIndex;
use crate::beadwork::{Bead, Direction, Hole, Kind, Layout, Panel, Side, SideFit, SideJoin};
use serde::{Deserialize, Serialize};
use std::iter::once;

/// A bare side locked into a join row, or into the edge of another side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Zip {
    /// The row.
    pub row: RowIndex,
    /// The panel whose side is bare.
    pub panel: Panel,
    /// The bare side.
    pub side: Side,
    /// Which way the bare side runs beside the row.
    pub runs: Direction,
    /// Whether the needle goes along the bare side in its own direction.
    pub forward: bool,
    /// Whether the bare side's up beads lie between the beads of the row, which
    /// begin and end the join. Since minor version 7 of the journal.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub within: bool,
}

impl Zip {
    /// The zip of a side into a row or an edge; none if that is not there.
    pub fn of(layout: &Layout, panel: Panel, join: &SideJoin, forward: bool) -> Option<Zip> {
        let row = match join.fit {
            SideFit::Locked => layout.edge_row_on(join.onto, join.at),
            _ => layout.row_on(join.onto, join.at),
        }?;
        let beads = layout.row(row);
        let is_one_in_each = beads.is_edge || beads.is_plain();
        let is_within = layout.kind(panel).edge(join.side) + 1 == beads.beads;
        Some(Zip {
            row,
            panel,
            side: join.side,
            runs: join.runs,
            forward,
            within: is_within && is_one_in_each && join.fit != SideFit::Eased,
        })
    }

    /// Gaps over which the beads of the row are spread: between the up beads of
    /// the bare side, and at either end if it lies within.
    pub fn gaps(&self, layout: &Layout) -> u32 {
        self.edge_beads(layout) - 1 + 2 * u32::from(self.within)
    }

    /// Teeth of the join, each locked by one step.
    pub fn teeth(&self, layout: &Layout) -> u32 {
        self.edge_beads(layout) - u32::from(!self.within)
    }

    /// Up beads of the bare side.
    pub fn edge_beads(&self, layout: &Layout) -> u32 {
        layout.kind(self.panel).edge(self.side)
    }

    /// Edge bead `j` on the needle's way.
    fn edge(&self, layout: &Layout, j: u32) -> Bead {
        let j = match self.forward {
            true => j,
            false => self.edge_beads(layout) - 1 - j,
        };
        layout.edge_bead(self.panel, self.side, j)
    }

    /// Whether the needle goes along the row in its direction.
    pub fn with_the_row(&self) -> bool {
        self.forward == (self.runs == Direction::With)
    }

    /// The bead end that the needle leaves before the first tooth.
    pub fn start(&self, layout: &Layout) -> Hole {
        let mut first = self.joins(layout, 0).filter(|_| self.within);
        match first.next() {
            Some(bead) => leaving(bead, self.with_the_row()),
            None => leaving(self.edge(layout, 0), self.forward),
        }
    }

    /// The tip beads at the corner at which one zip of a panel ended and this one
    /// begins, on the needle's way: behind the row of the one, then of the other.
    /// None if it begins elsewhere.
    pub fn tips_behind(&self, last: &Zip, layout: &Layout) -> Vec<Hole> {
        let corner = |side, is_end: bool| layout.ends(side)[usize::from(is_end)];
        let begins = corner((self.panel, self.side), !self.forward);
        if begins != corner((last.panel, last.side), last.forward) {
            return vec![];
        }
        let mut found: Vec<Hole> = vec![];
        for (zip, is_end) in [(last, last.with_the_row()), (self, !self.with_the_row())] {
            let row = layout.row(zip.row);
            let tips = layout.tips_after(corner((row.panel, row.side), is_end));
            let leave = |tip| leaving(tip, zip.with_the_row());
            let mut tips: Vec<Hole> = tips.into_iter().map(leave).collect();
            if !zip.with_the_row() {
                tips.reverse();
            }
            let is_new = |tip: &Hole| found.iter().all(|other| other.bead != tip.bead);
            tips.retain(is_new);
            found.extend(tips);
        }
        found
    }

    /// All beads of the join behind the first, in the order in which the needle
    /// takes them, each with the end by which it leaves them.
    pub fn beads(&self, layout: &Layout) -> Vec<Hole> {
        let tooth = |i| self.tooth(layout, i);
        (0..self.teeth(layout)).flat_map(tooth).collect()
    }

    fn tooth(&self, layout: &Layout, i: u32) -> Vec<Hole> {
        let (ahead, with_the_row) = (self.forward, self.with_the_row());
        let edge = |j| once(leaving(self.edge(layout, j), ahead));
        let joins = |gap| {
            let joins = self.joins(layout, gap);
            joins.map(move |bead| leaving(bead, with_the_row))
        };
        if self.within {
            return edge(i).chain(joins(i + 1)).collect();
        }
        let panel = layout.panel(self.panel);
        let [join_place, edge_place] = self.places(layout, i);
        let past = |place, hole| match panel.goes_next_door(self.side, place) {
            true => self.next_door(layout, place).unwrap_or(hole),
            false => hole,
        };
        let joins = joins(i).map(|hole| past(join_place, hole));
        let edge = edge(i + 1).map(|hole| past(edge_place, hole));
        joins.chain(edge).collect()
    }

    /// The places in the join of a tooth's join beads and of its edge bead: counted
    /// from 0 in the bare side's own direction, edge beads and gaps in turn.
    pub fn places(&self, layout: &Layout, i: u32) -> [u32; 2] {
        let last = 2 * self.teeth(layout);
        [2 * i + 1, 2 * i + 2].map(|place| match self.forward {
            true => place,
            false => last - place,
        })
    }

    /// The tooth with the bead at a place of the join; none for the bead that the
    /// needle leaves before the first.
    pub fn tooth_at(&self, layout: &Layout, place: u32) -> Option<u32> {
        (0..self.teeth(layout)).find(|i| self.places(layout, *i).contains(&place))
    }

    /// The bead next door through which the needle can go past the bead at a place
    /// of the join, and the end by which it leaves that; none where no single bead
    /// leads past it.
    pub fn next_door(&self, layout: &Layout, place: u32) -> Option<Hole> {
        let (row, gaps) = (layout.row(self.row), self.gaps(layout));
        let is_one_in_each = row.is_edge || row.is_plain();
        if self.within || row.beads != gaps || !is_one_in_each || place > 2 * gaps {
            return None;
        }
        let nth = place / 2;
        if place % 2 == 1 {
            let under = layout.under_gap((self.panel, self.side), nth)?;
            return Some(leaving(under, self.forward));
        }
        let beyond = match self.runs {
            Direction::With => nth,
            Direction::Against => gaps - nth,
        };
        let bead = match row.is_edge {
            // It lies between two edge beads of the other side, but for its ends.
            true if (1..gaps).contains(&beyond) => {
                layout.under_gap((row.panel, row.side), beyond - 1)?
            }
            true => return None,
            false => layout.edge_bead(row.panel, row.side, beyond),
        };
        Some(leaving(bead, self.with_the_row()))
    }

    /// The join beads in gap `i` on the needle's way, in the order in which it
    /// takes them. One, unless the maker left some out or added some.
    pub fn joins(&self, layout: &Layout, i: u32) -> impl Iterator<Item = Bead> + use<> {
        let (row, gaps) = (layout.row(self.row), self.gaps(layout));
        let with_the_row = self.with_the_row();
        let gap = if with_the_row { i } else { gaps - 1 - i };
        let mut beads: Vec<Bead> = row
            .in_gap(gap, gaps)
            .map(|nth| layout.row_bead(self.row, nth))
            .collect();
        if !with_the_row {
            beads.reverse();
        }
        beads.into_iter()
    }
}

impl Layout {
    /// The bead of the round before that lies under a gap of a side's edge; none
    /// where not one bead does.
    fn under_gap(&self, (panel, side): (Panel, Side), gap: u32) -> Option<Bead> {
        let (kind, last) = (self.kind(panel), self.kind(panel).last());
        let word = kind.word(last);
        let [before, behind] = [gap, gap + 1].map(|j| word.gap_of(kind.edge_index(side, j)));
        let is_one = behind == (before + 1) % word.gaps();
        is_one.then(|| self.under_edge((panel, side), gap + 1))
    }
}

/// A bead left by its front, if the needle goes ahead, or by its back.
fn leaving(bead: Bead, ahead: bool) -> Hole {
    match ahead {
        true => Hole::front(bead),
        false => Hole::back(bead),
    }
}

impl Steps for Zip {
    fn steps(&self, layout: &Layout) -> u32 {
        self.teeth(layout)
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let mut draft = Draft::new(Kind::Zip)
            .at(None, Some(self.side))
            .counting(i + 1, self.teeth(layout));
        let tooth = self.tooth(layout, i);
        tooth.iter().for_each(|hole| draft.pass(hole.bead));
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        let (row, gaps) = (layout.row(self.row), self.gaps(layout));
        let before = |gap| match self.with_the_row() {
            true => row.before_gap(gap, gaps),
            false => row.beads - row.before_gap(gaps - gap, gaps),
        };
        let first = u32::from(self.within);
        i + before(i + first) - before(first)
    }

    fn holes(&self, layout: &Layout, i: u32) -> Holes {
        self.tooth(layout, i).into_iter().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::job::JobKind;
    use crate::beadwork::project::{JobList, Make};
    use crate::beadwork::stage::Stage;
    use crate::beadwork::verify::verify;
    use crate::beadwork::{Sequence, testing};

    /// Two triangles, the second zipped onto the first, whose side runs with the
    /// row or against it.
    fn roof(rounds: [u32; 2], runs: Direction, fit: SideFit) -> Sequence {
        let side = Side(1);
        let (panel, onto) = (Panel(1), Panel(0));
        let beads = (fit == SideFit::Eased).then_some(rounds[1] - 1);
        let row = JobKind::JoinRow {
            panel: onto,
            sides: vec![Side(0)],
            tips: 0,
            beads,
        };
        let join = SideJoin {
            side,
            onto,
            at: Side(0),
            runs,
            fit,
        };
        let mut jobs = vec![JobKind::Panel(onto)];
        jobs.extend((fit != SideFit::Locked).then_some(row));
        jobs.extend([JobKind::Panel(panel), JobKind::Zip(panel, vec![join])]);
        let panels = testing::named(&[("first", 0), ("second", 1)]);
        let kinds = rounds.map(|rounds| testing::panel(3, rounds)).to_vec();
        let make = Make::Jobs(JobList {
            panels,
            jobs,
            shape: None,
        });
        Sequence::new(testing::project(kinds, make))
    }

    /// Sides that are not as long as each other, whichever way they run, as at a
    /// hinge one does with the row: the beads of the row are taken in their order,
    /// each against the next, and the proof agrees.
    #[test]
    fn unlike_sides_lock_whichever_way_they_run() {
        for (rounds, fit) in [
            ([6, 6], SideFit::Equal),
            ([6, 5], SideFit::Locked),
            ([5, 6], SideFit::Locked),
            ([7, 5], SideFit::OnTheLonger),
            ([8, 5], SideFit::Eased),
            ([5, 8], SideFit::Eased),
        ] {
            for runs in [Direction::With, Direction::Against] {
                let seq = roof(rounds, runs, fit);
                let (layout, jobs) = (seq.layout(), seq.jobs());
                let size = |bead| layout.bead_kind(layout.colour(bead)).size;
                let report = verify(layout.project(), seq.goal(), jobs, seq.iter(), size);
                assert!(
                    report.is_proved(),
                    "{runs:?} {fit:?}: {:?}",
                    report.findings
                );
                let spans = seq.work().spans().iter();
                let zip = spans.filter_map(|span| match span.run.stage {
                    Stage::Zip(zip) => Some(zip),
                    _ => None,
                });
                let zips: Vec<Zip> = zip.collect();
                let zip = zips[0];
                assert_eq!(zip.with_the_row(), zip.forward == (runs == Direction::With));
                let touching = seq.work().touching();
                let way: Vec<Hole> = once(zip.start(layout)).chain(zip.beads(layout)).collect();
                for hop in way.windows(2) {
                    let into = hop[1].through();
                    assert!(
                        touching.beside(hop[0]).contains(&into),
                        "{runs:?} {fit:?} {hop:?}"
                    );
                }
                let beads = layout.row(zip.row).beads;
                let mut row: Vec<Bead> = (0..beads)
                    .map(|nth| layout.row_bead(zip.row, nth))
                    .collect();
                if !zip.with_the_row() {
                    row.reverse();
                }
                let mut taken: Vec<Bead> = way.iter().map(|hole| hole.bead).collect();
                taken.retain(|bead| row.contains(bead));
                assert_eq!(taken, row, "{runs:?} {fit:?}");
                assert_eq!(way.len() as u32, beads + zip.edge_beads(layout));
                // One tooth a step, also where two join beads share a gap.
                let teeth = zip.teeth(layout);
                let zipped = seq.iter().filter(|m| m.kind == Kind::Zip);
                let counted: Vec<(u32, u32)> =
                    zipped.map(|m| (m.round_beads, m.round_target)).collect();
                let wanted: Vec<(u32, u32)> = (1..=teeth).map(|n| (n, teeth)).collect();
                assert_eq!(counted, wanted, "{runs:?} {fit:?}");
            }
        }
    }
}
