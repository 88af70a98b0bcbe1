//! What is open on the mat: the gap at the needle, and the edges of the panels
//! that are finished.

use super::{Run, Work};
use crate::beadwork::number::{Bead, Panel, RowIndex, Side};
use crate::beadwork::stage::{Stage, Steps as _};

/// The gap into which the next beads go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The bead that the needle leaves.
    pub after: Bead,
    /// The bead that the needle goes into behind the gap.
    pub before: Bead,
}

/// An edge of a finished panel, from the corner before its side to the corner
/// at its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edge {
    /// The panel.
    pub panel: Panel,
    /// The side.
    pub side: Side,
    /// Its up beads, both ends counted.
    pub up_beads: u32,
    /// What has become of it.
    pub state: EdgeState,
}

/// What has become of an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeState {
    /// Nothing yet.
    Bare,
    /// It carries a join row into which nothing is locked yet.
    Row(RowIndex),
    /// It is joined: locked into a row, or its own row is joined to others.
    Joined(RowIndex),
}

impl Work {
    /// The gap at the needle; none where no round or row is in hand, or its
    /// last gap takes no further bead.
    pub fn gap(&self) -> Option<Gap> {
        let Run { stage, to, .. } = &self.spans().last()?.run;
        if *to >= stage.steps(&self.layout) {
            return None;
        }
        let next = stage.step(&self.layout, *to);
        let before = *next.passes.last()?;
        let is_stitch = !next.strings.is_empty() && self.is_strung(before);
        is_stitch.then_some(Gap {
            after: self.needle()?.bead,
            before,
        })
    }

    /// The edges of all panels that are finished and can be joined.
    pub fn edges(&self) -> Vec<Edge> {
        let panels = (0..self.layout.panels().len()).map(|p| Panel(p as u16));
        let joinable =
            |panel: &Panel| self.is_finished(*panel) && self.layout.kind(*panel).can_be_joined();
        let sides = |panel| (0..self.layout.kind(panel).sides()).map(move |s| (panel, Side(s)));
        let edge = |(panel, side)| Edge {
            panel,
            side,
            up_beads: self.layout.kind(panel).edge(side),
            state: self.edge_state((panel, side)),
        };
        panels.filter(joinable).flat_map(sides).map(edge).collect()
    }

    fn edge_state(&self, side: (Panel, Side)) -> EdgeState {
        let joined =
            |row| !self.seams.sides_of(row).is_empty() || !self.seams.fills_on(row).is_empty();
        // An edge that another side is locked into counts as its row.
        let own = self.layout.any_row_on(side.0, side.1);
        let own = own.filter(|row| !self.layout.row(*row).is_edge || joined(*row));
        let locked = self.seams.row_of(side).map(|(row, _)| row);
        match (locked.or_else(|| self.seams.row_under(side)), own) {
            (Some(row), _) => EdgeState::Joined(row),
            (None, Some(row)) if joined(row) => EdgeState::Joined(row),
            (None, Some(row)) => EdgeState::Row(row),
            (None, None) => EdgeState::Bare,
        }
    }

    /// How often thread goes through each bead that is strung, bead 1 first.
    pub fn passes_by_bead(&self) -> Vec<u16> {
        let mut passes = vec![0u16; self.strung as usize];
        let mut pass = |bead: Bead| {
            let count = &mut passes[bead.0 as usize - 1];
            *count = count.saturating_add(1);
        };
        for Run { stage, from, to } in self.spans().iter().map(|span| &span.run) {
            let steps = *from..*to;
            match stage {
                // What is the same for a whole round is worked out once.
                Stage::Rounds(round) => {
                    let ready = round.ready(&self.layout);
                    steps.for_each(|i| ready.step(i).passes.into_iter().for_each(&mut pass));
                }
                stage => steps.for_each(|i| {
                    let beads = stage.step(&self.layout, i).passes;
                    beads.into_iter().for_each(&mut pass);
                }),
            }
        }
        passes
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Kind, Sequence, Step, testing};

    #[test]
    fn the_gap_at_the_needle_is_where_the_next_stitch_goes() {
        let sequence = Sequence::new(testing::single(testing::panel(3, 5)));
        for m in sequence
            .iter()
            .filter(|m| m.kind == Kind::Stitch && m.passes.len() == 2)
        {
            let work = sequence.work_at(Step(m.step.0 - 1));
            let Some(gap) = work.gap() else { continue };
            assert_eq!(Some(gap.after), sequence.leaves(Step(m.step.0 - 1)));
            assert_eq!(gap.before, m.passes[1]);
        }
        assert_eq!(sequence.work().gap(), None);
    }

    /// A finished tetrahedron has 6 edges of two sides each: all joined.
    #[test]
    fn every_side_of_a_closed_solid_is_joined() {
        for closing in [Closing::SetIn, Closing::Fill] {
            let whole = Sequence::new(testing::solid(Solid::Tetrahedron, 4, closing));
            let edges = whole.work().edges();
            assert_eq!(edges.len(), 12);
            let is_joined = |e: &Edge| e.up_beads == 4 && matches!(e.state, EdgeState::Joined(_));
            assert!(edges.iter().all(is_joined), "{closing:?}: {edges:?}");
        }
        let whole = Sequence::new(testing::solid(Solid::Tetrahedron, 4, Closing::SetIn));
        let first = whole.job(crate::beadwork::Job(0)).steps;
        let bare = whole.work_at(Step(first)).edges();
        assert!(bare.len() == 3 && bare.iter().all(|e| e.state == EdgeState::Bare));
    }

    #[test]
    fn passes_are_those_of_the_movements() {
        let sequence = Sequence::new(testing::folded_pair(4, 1));
        let all: u64 = sequence
            .work()
            .passes_by_bead()
            .into_iter()
            .map(u64::from)
            .sum();
        assert_eq!(all, sequence.passes());
    }
}
