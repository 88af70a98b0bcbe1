//! Panels and joins of the maker's own, beyond what the pattern asks for.

use super::Amendment;
use crate::beadwork::goal::Goal;
use crate::beadwork::job::{JobKind, SideFit, SideJoin};
use crate::beadwork::lower::settled;
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::project::{Make, SpecIndex};
use crate::beadwork::rules::Refusal;
use crate::beadwork::seams::{Corner, Direction};
use crate::beadwork::sequence::Sequence;
use crate::beadwork::settle::StiffPlate;
use crate::beadwork::work::Work;
use serde::{Deserialize, Serialize};

/// Panels that a piece can have by the maker's own will.
const MOST_PANELS: usize = 1_000;

/// Two sides that are to be joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct SidesJoined {
    /// The panel whose side is bare.
    pub panel: Panel,
    /// The bare side.
    pub side: Side,
    /// The panel that carries the row.
    pub onto: Panel,
    /// The side that carries it.
    pub at: Side,
    /// How the two lock into each other; if that is not said, with a row that has
    /// a join bead for each gap of the bare side. Since minor version 7 of the
    /// journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit: Option<SideFit>,
}

impl SidesJoined {
    pub(super) fn say(&self, goal: &Goal) -> String {
        let name = |panel: Panel| goal.panels.get(panel.index()).map_or("", |p| &p.name);
        let (panel, onto) = (name(self.panel), name(self.onto));
        let way = match self.fit {
            Some(SideFit::Locked) => ", locked directly without a row",
            Some(SideFit::OnTheLonger) => {
                ", the shorter between the beads of the row on the longer"
            }
            _ => "",
        };
        format!(
            "Join side {} of {panel} to side {} of {onto}{way}",
            self.side, self.at
        )
    }
}

/// `Another panel like work`.
pub(super) fn say(seq: &Sequence, kind: SpecIndex) -> String {
    let kind = seq.layout().project().panels.get(kind);
    format!(
        "Another panel, begun like '{}'",
        kind.map_or("", |kind| &kind.name)
    )
}

impl Sequence {
    /// The ways in which two sides of what is made can be joined: with a row that
    /// has a join bead for each gap of the bare side, and before that, where they
    /// differ by one up bead, directly, or by two, with a row on the longer.
    pub fn ways_to_join(&self, join: SidesJoined) -> Vec<Amendment> {
        let (layout, sides) = (
            self.layout(),
            [(join.panel, join.side), (join.onto, join.at)],
        );
        let edges = sides.map(|(panel, side)| {
            let kind = layout.is_begun(panel).then(|| layout.kind(panel));
            kind.filter(|kind| side.0 < kind.sides())
                .map(|kind| kind.edge(side))
        });
        let natural = match edges {
            [Some(bare), Some(onto)] => Some(SideFit::of(bare, onto)),
            _ => None,
        };
        let fit = natural.filter(|fit| matches!(fit, SideFit::Locked | SideFit::OnTheLonger));
        let exact = fit.map(
            |_| match edges[0] > edges[1] && fit == Some(SideFit::OnTheLonger) {
                true => SidesJoined {
                    panel: join.onto,
                    side: join.at,
                    onto: join.panel,
                    at: join.side,
                    fit,
                },
                false => SidesJoined { fit, ..join },
            },
        );
        let ways = exact.into_iter().chain([join]);
        ways.map(Amendment::JoinSides).collect()
    }
}

impl Work {
    /// One more panel of each kind that can be added.
    pub(super) fn another_ways(&self) -> Vec<Amendment> {
        let kinds = 0..self.layout.shared_kinds().len();
        let is_single = matches!(self.layout.project().make, Make::Single(_));
        let can_be = |kind: &SpecIndex| is_single && self.check_added(*kind).is_ok();
        kinds.filter(can_be).map(Amendment::Another).collect()
    }

    fn check_added(&self, kind: SpecIndex) -> Result<(), Refusal> {
        let kinds = self.layout.shared_kinds();
        let is_loose = matches!(self.layout.project().make, Make::Single(_) | Make::Jobs(_));
        if !is_loose || kinds.iter().any(|kind| kind.strip().is_some()) {
            return Err(Refusal::NoneAdded);
        }
        match kind < kinds.len() {
            true => Ok(()),
            false => Err(Refusal::NoSuchKind),
        }
    }

    pub(super) fn add_another(&self, goal: &mut Goal, kind: SpecIndex) -> Result<(), Refusal> {
        self.check_added(kind)?;
        if goal.panels.len() >= MOST_PANELS {
            return Err(Refusal::TooManyChanges);
        }
        let spec = &self.layout.project().panels[kind].name;
        let names: Vec<&str> = goal
            .panels
            .iter()
            .map(|panel| panel.name.as_str())
            .collect();
        let name = (names.len() + 1..).map(|nth| format!("{spec} {nth}"));
        let name = { name }.find(|name| !names.contains(&name.as_str()));
        let frame = goal.panels[0].frame.clone();
        let panel = goal.add_panel(name.unwrap_or_default(), kind, frame);
        goal.insert(self.place_ahead(goal), JobKind::Panel(panel));
        self.settle_again(goal);
        Ok(())
    }

    pub(super) fn join_sides(&self, goal: &mut Goal, join: SidesJoined) -> Result<(), Refusal> {
        let SidesJoined {
            panel,
            side,
            onto,
            at,
            fit,
        } = join;
        self.check_added(0)?;
        if panel == onto {
            return Err(Refusal::SamePanel);
        }
        for (panel, side) in [(panel, side), (onto, at)] {
            if panel.index() >= goal.panels.len() || !self.layout.is_begun(panel) {
                return Err(Refusal::Unfinished(panel));
            }
            if side.0 >= self.layout.kind(panel).sides() {
                return Err(Refusal::NoEdge(panel));
            }
            if is_used(goal, (panel, side)) {
                return Err(Refusal::SideTaken(panel, side));
            }
        }
        let edge = |(panel, side): Corner| self.layout.kind(panel).edge(side);
        let (bare, carrier) = (edge((panel, side)), edge((onto, at)));
        // The row has a join bead for each gap of the bare side.
        let fit = fit.unwrap_or(match bare == carrier {
            true => SideFit::Equal,
            false => SideFit::Eased,
        });
        let beads = bare.saturating_sub(1);
        let is_eased = fit == SideFit::Eased;
        if bare < 1 + u32::from(is_eased)
            || carrier < 2
            || beads > 2 * (carrier - 1)
            || !fit.suits(bare, carrier, beads)
        {
            return Err(Refusal::UnlikeSides(
                (panel, side),
                bare,
                (onto, at),
                carrier,
            ));
        }
        let row = JobKind::JoinRow {
            panel: onto,
            sides: vec![at],
            tips: 0,
            beads: is_eased.then_some(beads),
        };
        let runs = Direction::Against;
        let zip = SideJoin {
            side,
            onto,
            at,
            runs,
            fit,
        };
        let row = (fit != SideFit::Locked).then_some(row);
        let jobs = row.into_iter().chain([JobKind::Zip(panel, vec![zip])]);
        for (nth, job) in jobs.enumerate() {
            self.check_ground(&job)?;
            let ahead = self.place_ahead(goal);
            goal.insert(ahead + nth, job);
        }
        self.settle_again(goal);
        Ok(())
    }

    /// Panels lie as their joins hold them.
    fn settle_again(&self, goal: &mut Goal) {
        let mut meant = self.layout.clone();
        meant.set_goal(goal);
        let length = meant.project().bead_length_mm();
        let plate = |panel: usize| {
            let kind = meant.kind(Panel(panel as u16));
            let edge = (0..kind.sides()).map(|side| kind.edge(Side(side))).max();
            StiffPlate {
                sides: kind.sides().into(),
                edge_mm: 2.0 * length * f64::from(edge.unwrap_or(1)),
            }
        };
        let plates: Vec<StiffPlate> = (0..goal.panels.len()).map(plate).collect();
        let frames = settled(
            &plates,
            goal.order.iter().map(|job| &goal.jobs[job.index()]),
        );
        for (panel, frame) in goal.panels.iter_mut().zip(frames) {
            panel.frame = frame;
        }
    }
}

/// Whether a job works on a side already, or is to.
fn is_used(goal: &Goal, side: Corner) -> bool {
    goal.order.iter().any(|job| {
        let kind = &goal.jobs[job.index()];
        let mut joins = kind.joins().iter();
        let zipped =
            joins.any(|join| [(kind.panel(), join.side), (join.onto, join.at)].contains(&side));
        zipped || kind.rows_worked().contains(&side) || kind.rows_met().contains(&side)
    })
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::number::Step;
    use crate::beadwork::planner::CornerRule;
    use crate::beadwork::record::Record;
    use crate::beadwork::testing;

    fn join(panel: u16, side: u8, onto: u16, at: u8) -> Amendment {
        let (panel, onto) = (Panel(panel), Panel(onto));
        let (side, at) = (Side(side), Side(at));
        Amendment::JoinSides(SidesJoined {
            panel,
            side,
            onto,
            at,
            fit: None,
        })
    }

    /// Four triangles begun one after another are joined to a tetrahedron, side
    /// by side: the beads of §7, 4 * 18 + 6 * 2.
    #[test]
    fn triangles_added_and_joined_one_by_one_are_a_tetrahedron() {
        let mut seq = Sequence::new(testing::free_triangle());
        let mut record = Record::default();
        let mut done = 0;
        let mut amend = |seq: &mut Sequence, change: Amendment| {
            let steps = seq.steps();
            record.play(&seq.work().facts(done, steps), steps);
            record.amend(change.clone());
            *seq = seq.amended(Step(steps), &change).unwrap();
            done = steps;
        };
        amend(&mut seq, testing::its_corners(0));
        for panel in 1..4 {
            amend(&mut seq, Amendment::Another(0));
            amend(&mut seq, testing::its_corners(panel));
        }
        for (panel, side, onto, at) in [
            (1, 0, 0, 0),
            (2, 0, 0, 1),
            (3, 0, 0, 2),
            (2, 1, 1, 2),
            (3, 1, 2, 2),
            (1, 1, 3, 2),
        ] {
            amend(&mut seq, join(panel, side, onto, at));
        }
        assert_eq!(seq.layout().beads(), 4 * 18 + 6 * 2);
        assert_proved(&seq);
        let back = Sequence::resume(
            testing::free_triangle(),
            &[],
            &record,
            CornerRule::default(),
        );
        assert_eq!(back.refused, None);
        assert!(back.sequence.iter().eq(seq.iter()));
    }

    #[test]
    fn sides_that_cannot_be_joined_say_why() {
        let refused = |seq: &Sequence, change| seq.amended(Step(seq.steps()), &change).err();
        let seq = Sequence::new(testing::free_triangle());
        assert_eq!(refused(&seq, join(0, 0, 0, 1)), Some(Refusal::SamePanel));
        assert_eq!(
            refused(&seq, join(1, 0, 0, 1)),
            Some(Refusal::Unfinished(Panel(1)))
        );
        let done = Step(seq.steps());
        let two = seq.amended(done, &Amendment::Another(0)).unwrap();
        let unmade = two.amended(done, &join(1, 0, 0, 1)).err();
        assert_eq!(unmade, Some(Refusal::Unfinished(Panel(1))));
        // Without corners no panel has an edge.
        assert_eq!(
            refused(&two, join(1, 0, 0, 1)),
            Some(Refusal::NoEdge(Panel(0)))
        );
        let solid = Sequence::new(testing::listed_tetrahedron(4));
        assert_eq!(
            refused(&solid, join(1, 0, 0, 0)),
            Some(Refusal::SideTaken(Panel(1), Side(0)))
        );
    }
}
