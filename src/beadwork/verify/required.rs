//! What the pattern asks for, counted: the kind of each panel, and how many
//! rows and corners the finished piece must have.

use crate::beadwork::goal::{AtNeedle, Goal, GoalPanel, Insert};
use crate::beadwork::job::JobKind;
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::project::{Closing, Make, Project, Solid, SpecIndex};
use std::collections::HashSet;

/// What must be found at the end.
#[derive(Debug)]
pub(super) struct Required {
    /// The panels, in the order in which they are made.
    pub panels: Vec<RequiredPanel>,
    /// The jobs, where they are given one by one.
    pub jobs: Option<Vec<JobKind>>,
    pub closed_piece: Option<ClosedPiece>,
    /// The panels that the maker has added.
    added: HashSet<Panel>,
    /// The panels of which one side may be joined to nothing: the rim of an insert.
    pub may_be_bare: HashSet<Panel>,
    /// Beads of joins that the maker skips by going through the row next to
    /// them: the side that is zipped, and the place along it, counting edge
    /// beads and gaps alternately.
    pub next_door: HashSet<(Panel, Side, u32)>,
    /// The steps after which the maker wants the thread to end.
    pub thread_ends: HashSet<u32>,
}

/// A panel that must be made.
#[derive(Clone, Copy, Debug)]
pub(super) struct RequiredPanel {
    pub panel: Panel,
    pub spec: SpecIndex,
    /// Rounds that stay open in its middle, if it is worked inward.
    pub open: u32,
}

/// A piece that closes on itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct ClosedPiece {
    /// Join rows to which one other side is joined.
    pub joins: u32,
    /// Join rows to which three other sides are joined.
    pub hinges: u32,
    /// Corners of the solid, at each of which the corners of several panels
    /// meet.
    pub corners: u32,
    /// How many panel corners meet at each, if it is the same number
    /// everywhere.
    pub at_corner: Option<u32>,
    /// Openings that are filled.
    pub fills: u32,
    /// Openings whose rim is firmed.
    pub open: u32,
    /// Sides joined to nothing: the rims of inserts.
    pub bare: u32,
}

impl ClosedPiece {
    /// The whole with so many inserts: each has three faces, three joins, the point and
    /// three corners of the rim.
    fn with_inserts(self, inserts: u32) -> ClosedPiece {
        ClosedPiece {
            joins: self.joins + 3 * inserts,
            corners: self.corners + 4 * inserts,
            bare: 3 * inserts,
            ..self
        }
    }
}

/// Panels, jobs, the whole and its inserts.
type Asked = (
    Vec<RequiredPanel>,
    Option<Vec<JobKind>>,
    Option<ClosedPiece>,
    u32,
);

impl Required {
    /// What the pattern asks for, or what the maker asks for after amending its
    /// goal.
    pub fn new(project: &Project, goal: &Goal) -> Self {
        let (panels, jobs, piece, inserts) = match goal.amendments > 0 {
            true => amended(project, goal),
            false => planned(project),
        };
        let goal_panels = || (0..).map(Panel).zip(&goal.panels);
        let which = |is: &dyn Fn(&GoalPanel) -> bool| {
            let found = goal_panels().filter(|(_, panel)| is(panel));
            found.map(|(panel, _)| panel).collect()
        };
        let past = |(panel, of): (Panel, &GoalPanel)| {
            let past = of.next_door.clone().into_iter();
            past.map(move |(side, at)| (panel, side, at))
        };
        let ends = goal.here.iter();
        let ends = ends.filter(|(_, what)| matches!(what, AtNeedle::EndThread));
        Required {
            panels,
            jobs,
            closed_piece: piece.map(|piece| piece.with_inserts(inserts)),
            added: which(&|panel| panel.is_added),
            may_be_bare: which(&|panel| project.insert.contains(&panel.spec)),
            next_door: goal_panels().flat_map(past).collect(),
            thread_ends: ends.map(|(step, _)| *step).collect(),
        }
    }

    /// Whether a panel is one of those that the pattern asks for.
    pub fn is_of_pattern(&self, panel: Panel) -> bool {
        !self.added.contains(&panel)
    }

    /// Tip beads after a row in job `nth` of the piece.
    pub fn tips(&self, project: &Project, nth: usize) -> u32 {
        let rows = self.jobs.as_ref().map(|jobs| jobs.get(nth));
        match (rows, &project.make) {
            (Some(Some(JobKind::JoinRow { tips, .. })), _) => u32::from(*tips),
            (
                None,
                Make::Solid { tips, .. }
                | Make::FoldedPair { tips, .. }
                | Make::Ring { tips, .. }
                | Make::RingOfNets { tips, .. },
            ) => u32::from(*tips),
            _ => 0,
        }
    }
}

/// What the pattern asks for.
fn planned(project: &Project) -> Asked {
    let (mut specs, piece) = of_pattern(project);
    let inserts = match &piece {
        Some(piece) if !project.insert.is_empty() => piece.open,
        _ => 0,
    };
    specs.extend((0..inserts).flat_map(|_| (0..3).map(|f| around(&project.insert, f))));
    let panel = |(panel, spec): (Panel, SpecIndex)| RequiredPanel {
        panel,
        spec: project.kind_of_panel(panel, spec),
        open: project.panels[spec].open,
    };
    let panels = (0..).map(Panel).zip(specs).map(panel).collect();
    let jobs = match &project.make {
        Make::Jobs(list) => Some(list.jobs.clone()),
        _ => None,
    };
    (panels, jobs, piece, inserts)
}

/// What the maker asks for.
fn amended(project: &Project, goal: &Goal) -> Asked {
    let jobs = goal.order.iter().map(|j| goal.jobs[j.index()].clone());
    let jobs: Vec<JobKind> = jobs.collect();
    let panel = |panel: Panel| {
        let GoalPanel { spec, open, .. } = goal.panels[panel.index()];
        RequiredPanel {
            panel,
            spec: project.kind_of_panel(panel, spec),
            open: open.unwrap_or(project.panels[spec].open),
        }
    };
    let panels = jobs.iter().filter_map(JobKind::makes).map(panel).collect();
    let many = |is: fn(&JobKind) -> bool| jobs.iter().filter(|job| is(job)).count() as u32;
    let fills = many(|job| matches!(job, JobKind::Fill { .. }));
    let open = many(|job| matches!(job, JobKind::FirmRim(_)));
    let (_, piece) = of_pattern(project);
    let piece = piece.filter(|_| !goal.is_in_part).map(|piece| ClosedPiece {
        fills,
        open,
        at_corner: piece.at_corner.filter(|_| open == 0),
        ..piece
    });
    let is_made = |insert: &&Insert| insert.left_out.is_empty();
    let inserts = goal.inserts.iter().filter(is_made).count() as u32;
    (panels, Some(jobs), piece, inserts)
}

/// The kinds of the panels of the piece itself, in the order in which they are made,
/// and the whole.
fn of_pattern(project: &Project) -> (Vec<SpecIndex>, Option<ClosedPiece>) {
    match &project.make {
        Make::Single(spec) => (vec![*spec], None),
        Make::Solid {
            solid,
            faces,
            closing,
            ..
        } => {
            let (corners, edges, count, degree) = handbook(*solid);
            let panels = count - u32::from(*closing == Closing::Open);
            let piece = ClosedPiece {
                joins: edges,
                hinges: 0,
                corners,
                at_corner: (*closing != Closing::Open).then_some(degree),
                fills: u32::from(*closing == Closing::Fill),
                open: u32::from(*closing == Closing::Open),
                bare: 0,
            };
            let specs = (0..panels).map(|f| around(faces, f));
            (specs.collect(), Some(piece))
        }
        Make::FoldedPair {
            faces, closings, ..
        } => {
            let closed = closings.iter().filter(|c| c.1 != Closing::Open);
            let of = |what| closings.iter().filter(|c| c.1 == what).count() as u32;
            let piece = ClosedPiece {
                joins: 12,
                hinges: 0,
                corners: 6,
                at_corner: None,
                fills: of(Closing::Fill),
                open: of(Closing::Open),
                bare: 0,
            };
            let specs = (0..6).map(|f| around(faces, f));
            (specs.chain(closed.map(|c| c.0)).collect(), Some(piece))
        }
        Make::Ring {
            tetrahedra,
            faces,
            closings,
            ..
        } => {
            let n = u32::from(*tetrahedra);
            let closing = |t: u32| closings[t as usize % closings.len()];
            let of = |what| (0..n).filter(|t| closing(*t) == what).count() as u32;
            let open = of(Closing::Open);
            let piece = ClosedPiece {
                joins: 4 * n,
                hinges: n,
                corners: 2 * n,
                at_corner: (open == 0).then_some(6),
                fills: of(Closing::Fill),
                open,
                bare: 0,
            };
            let mut order: Vec<u32> = (0..4 * n).collect();
            if closing(0) != Closing::SetIn {
                // The first opening's rim is only complete when the last hinge
                // is sewn.
                order[3..].rotate_left(1);
            }
            order.retain(|f| f % 4 != 3 || closing(f / 4) != Closing::Open);
            let specs = order.into_iter().map(|f| around(faces, f));
            (specs.collect(), Some(piece))
        }
        Make::RingOfNets {
            tetrahedra,
            faces,
            closings,
            ..
        } => {
            let n = u32::from(*tetrahedra);
            let all = (0..n as usize).map(|t| closings[t % closings.len()]);
            let of = |what| all.clone().filter(|c| c.1 == what).count() as u32;
            let open = of(Closing::Open);
            // Six spokes for each net, two of them side by side at its hinge,
            // and four rim sides that are joined only in its own openings.
            let piece = ClosedPiece {
                joins: 5 * n,
                hinges: n / 2,
                corners: 2 * n,
                at_corner: (open == 0).then_some(6),
                fills: of(Closing::Fill),
                open,
                bare: 0,
            };
            let specs = (0..3 * n).map(|f| around(faces, f));
            let closed = all.filter(|c| c.1 != Closing::Open).map(|c| c.0);
            (specs.chain(closed).collect(), Some(piece))
        }
        Make::Jobs(list) => (list.panels.iter().map(|panel| panel.spec).collect(), None),
    }
}

fn around(faces: &[SpecIndex], f: u32) -> SpecIndex {
    faces[f as usize % faces.len()]
}

/// Corners, edges, faces, and faces at a corner.
fn handbook(solid: Solid) -> (u32, u32, u32, u32) {
    match solid {
        Solid::Tetrahedron => (4, 6, 4, 3),
        Solid::Octahedron => (6, 12, 8, 4),
        Solid::Icosahedron => (12, 30, 20, 5),
        Solid::Cube => (8, 12, 6, 3),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::outside_values::REGULAR_SOLIDS;

    #[test]
    fn solids_have_the_corners_edges_and_faces_of_any_handbook() {
        for (name, corners, edges, faces, at_corner) in REGULAR_SOLIDS {
            let (_, solid) = Solid::ALL.into_iter().find(|(n, _)| *n == name).unwrap();
            assert_eq!(handbook(solid), (corners, edges, faces, at_corner));
            // Euler.
            assert_eq!(corners + faces, edges + 2);
        }
    }
}
