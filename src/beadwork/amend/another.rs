//! Panels and joins that the maker adds to the pattern.

use super::Amendment;
use crate::beadwork::lower::settled_beside;
use crate::beadwork::{
    Corner, Direction, Goal, JobKind, Make, Panel, PanelLayout, Refusal, Sequence, Side, SideFit,
    SideJoin, SpecIndex, Work,
};
use serde::{Deserialize, Serialize};

/// The most panels that a piece can have with those added by the maker.
const MOST_PANELS: usize = 1_000;

/// Two sides to be joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct SidesJoined {
    /// The panel with the bare side.
    pub panel: Panel,
    /// The bare side.
    pub side: Side,
    /// The panel with the row.
    pub onto: Panel,
    /// The side with the row.
    pub at: Side,
    /// How the two sides fit; `None` for a row with a join bead for each gap of
    /// the bare side. Since minor version 7 of the journal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit: Option<SideFit>,
}

impl SidesJoined {
    pub(super) fn say(&self, goal: &Goal) -> String {
        let (panel, onto) = (goal.name(self.panel), goal.name(self.onto));
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
    /// The ways to join two sides of finished panels: if they differ by one up
    /// bead, directly; if by two, with a row on the longer; and always with a
    /// row with a join bead for each gap of the bare side.
    pub fn ways_to_join(&self, join: SidesJoined) -> Vec<Amendment> {
        let edge = |(panel, side): Corner| {
            let kind = self
                .layout()
                .is_begun(panel)
                .then(|| self.layout().kind(panel))?;
            (side.0 < kind.sides()).then(|| kind.edge(side))
        };
        let exact = match (edge((join.panel, join.side)), edge((join.onto, join.at))) {
            (Some(bare), Some(onto)) => match SideFit::of(bare, onto) {
                fit @ SideFit::OnTheLonger if bare > onto => Some(SidesJoined {
                    panel: join.onto,
                    side: join.at,
                    onto: join.panel,
                    at: join.side,
                    fit: Some(fit),
                }),
                fit @ (SideFit::Locked | SideFit::OnTheLonger) => Some(SidesJoined {
                    fit: Some(fit),
                    ..join
                }),
                SideFit::Equal | SideFit::Eased => None,
            },
            _ => None,
        };
        let ways = exact.into_iter().chain([join]);
        ways.map(Amendment::JoinSides).collect()
    }
}

impl Work {
    /// One more panel of each kind.
    pub(super) fn another_ways(&self) -> Vec<Amendment> {
        let kinds = 0..self.layout.shared_kinds().len();
        kinds.map(Amendment::Another).collect()
    }

    pub(super) fn add_another(&self, goal: &mut Goal, kind: SpecIndex) -> Result<(), Refusal> {
        Refusal::NoSuchKind.when(kind >= self.layout.shared_kinds().len())?;
        let added = goal.panels.iter().filter(|panel| panel.is_added);
        Refusal::TooManyChanges.when(added.count() >= MOST_PANELS)?;
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
        goal[panel].is_added = true;
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
        Refusal::SamePanel.when(panel == onto)?;
        for (panel, side) in [(panel, side), (onto, at)] {
            if panel.index() >= goal.panels.len() || !self.layout.is_begun(panel) {
                return Err(Refusal::Unfinished(panel));
            }
            Refusal::NoEdge(panel).when(side.0 >= self.layout.kind(panel).sides())?;
            Refusal::SideTaken(panel, side).when(is_used(goal, (panel, side)))?;
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
        let row = JobKind::row((onto, at), 0, is_eased.then_some(beads));
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

    /// Places the panels as their joins hold them. A solid of the pattern keeps
    /// its place while nothing is joined to it, and added panels are placed
    /// beside it.
    fn settle_again(&self, goal: &mut Goal) {
        let mut planned = self.layout.clone();
        planned.set_goal(goal);
        let is_added = |panel: Panel| goal[panel].is_added;
        let jobs = || goal.ordered();
        let is_between = |job: &JobKind| {
            let panels = job.panels();
            panels.iter().any(|panel| is_added(*panel)) && !panels.into_iter().all(is_added)
        };
        let is_loose = matches!(planned.project().make, Make::Single(_) | Make::Jobs(_));
        let all_moved = is_loose || jobs().any(is_between);
        let panels = (0..goal.panels.len() as u16).map(Panel);
        let (moved, fixed): (Vec<Panel>, Vec<Panel>) =
            panels.partition(|panel| all_moved || is_added(*panel));
        let bead = planned.project().bead_mm();
        let kinds: Vec<&PanelLayout> = moved.iter().map(|panel| planned.kind(*panel)).collect();
        let fixed = fixed.iter().map(|panel| &goal[*panel].frame);
        let frames = settled_beside(fixed, &moved, &kinds, bead, jobs());
        for (panel, frame) in moved.iter().zip(frames) {
            goal[*panel].frame = frame;
        }
    }
}

/// Whether a job works or will work on a side.
fn is_used(goal: &Goal, side: Corner) -> bool {
    goal.ordered().any(|kind| {
        let mut joins = kind.joins().iter();
        let zipped =
            joins.any(|join| [(kind.panel(), join.side), (join.onto, join.at)].contains(&side));
        let closes = match kind {
            JobKind::Fill { panel, .. } | JobKind::SetInMiddle { panel, .. } => *panel == side.0,
            _ => false,
        };
        zipped || closes || kind.rows_worked().contains(&side) || kind.rows_met().contains(&side)
    })
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::number::{GoalJob, Round, Step};
    use crate::beadwork::planner::PlanRule;
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

    /// Four triangles made one after another are joined to a tetrahedron: 4 *
    /// 18 beads of faces + 6 * 2 of rows.
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
        let back = Sequence::resume(testing::free_triangle(), &[], &record, PlanRule::default());
        assert_eq!(back.refused, None);
        assert!(back.sequence.iter().eq(seq.iter()));
    }

    /// A panel is added during a solid, a ring or a strip and another one at
    /// its end, and the two are joined: the panels of the pattern keep their
    /// places, and the two are beside them.
    #[test]
    fn panels_added_to_what_the_pattern_makes_lie_beside_it() {
        use crate::beadwork::project::{Closing, Solid};
        for project in [
            testing::solid(Solid::Tetrahedron, 4, Closing::SetIn),
            testing::solid(Solid::Octahedron, 3, Closing::Open),
            testing::folded_pair(4, 1),
            testing::ring(8, 3, Closing::Fill),
            testing::single(testing::strip(4, 6)),
        ] {
            let plain = Sequence::new(project.clone());
            let first = plain.goal().panels.len() as u16;
            let is_strip = plain.layout().kind(Panel(0)).strip().is_some();
            let mut record = Record::default();
            let half = plain.steps() / 2;
            record.play(&plain.work().facts(0, half), half);
            let mut seq = plain.clone();
            let mut changes = vec![Amendment::Another(0), Amendment::Another(0)];
            changes.extend((!is_strip).then(|| join(first, 0, first + 1, 1)));
            for change in changes {
                let done = record.steps();
                seq = seq.amended(Step(done), &change).unwrap();
                assert_proved(&seq);
                record.amend(change);
                record.play(&seq.work().facts(done, seq.steps()), seq.steps());
            }
            let made = |seq: &Sequence, panel: usize| {
                seq.layout().panel(Panel(panel as u16)).frame.clone()
            };
            let right = |panels: std::ops::Range<usize>| {
                let corners = panels.flat_map(|panel| made(&seq, panel).corners().to_vec());
                corners.map(|c| c.x).reduce(f64::max)
            };
            let here = usize::from(first);
            for panel in 0..here {
                assert!(is_strip || made(&seq, panel) == made(&plain, panel));
            }
            for panel in here..here + 2 {
                let corners = made(&seq, panel).corners().to_vec();
                assert!(corners.iter().all(|c| Some(c.x) > right(0..here)));
            }
            let beads = plain.layout().kind(Panel(0));
            let added: u32 = (1..=beads.rounds()).map(|k| beads.in_round(Round(k))).sum();
            let row = if is_strip { 0 } else { beads.edge(Side(0)) - 1 };
            let more = seq.layout().beads() - plain.layout().beads();
            assert_eq!(more, 2 * added + row);
            let back = Sequence::resume(project, &[], &record, PlanRule::default());
            assert_eq!(back.refused, None);
            assert!(back.sequence.iter().eq(seq.iter()));
        }
    }

    /// Of two panels added one after the other, the first is left open and the
    /// second is not.
    #[test]
    fn a_new_panel_is_not_modelled_on_one_that_stays_open() {
        let plain = Sequence::new(testing::folded_pair(5, 0));
        let mut seq = plain.clone();
        for _ in 0..2 {
            seq = seq.amended(Step(9), &Amendment::Another(1)).unwrap();
        }
        let makes = |job: &&GoalJob| seq.goal()[**job] == JobKind::Panel(Panel(8));
        let job = *seq.goal().order.iter().find(makes).unwrap();
        let jobs = vec![job];
        let rounds = Amendment::Rounds { jobs, rounds: 2 };
        let open = seq.amended(Step(9), &rounds).unwrap();
        assert_proved(&open);
        assert_eq!(seq.layout().beads() - open.layout().beads(), 9 + 6 + 3);
    }

    /// A panel is joined to a bare side of a solid that was finished early.
    #[test]
    fn a_panel_is_joined_to_a_solid_left_in_part() {
        use crate::beadwork::project::{Closing, Solid};
        let plain = Sequence::new(testing::solid(Solid::Octahedron, 4, Closing::SetIn));
        let second = plain
            .jobs()
            .iter()
            .position(|job| !job.kind.joins().is_empty());
        let job = &plain.jobs()[second.unwrap()];
        let done = Step(job.steps_before + 2);
        let mut seq = plain.amended(done, &Amendment::Finish).unwrap();
        let panels = seq.layout().begun_panels().count() as u16;
        let first = seq.goal().panels.len() as u16;
        let end = |seq: &Sequence| Step(seq.steps());
        seq = seq.amended(end(&seq), &Amendment::Another(0)).unwrap();
        let bare = (0..3).map(|side| join(first, 0, panels - 1, side));
        let joined = bare.filter_map(|join| seq.amended(end(&seq), &join).ok());
        let joined: Vec<Sequence> = joined.collect();
        assert!(!joined.is_empty());
        joined.iter().for_each(assert_proved);
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
