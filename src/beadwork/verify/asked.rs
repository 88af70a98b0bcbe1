//! What the pattern asks for, counted: which kind each panel is, and how many
//! rows and corners the whole must have.

use crate::beadwork::job::JobKind;
use crate::beadwork::project::{Closing, Make, Project, Solid, SpecIndex};

/// What is to be found at the end.
#[derive(Debug)]
pub(super) struct Asked {
    /// The kind of each panel, in the order in which they are made.
    pub specs: Vec<SpecIndex>,
    pub whole: Option<Whole>,
}

/// A piece that closes on itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct Whole {
    /// Join rows on which one other side stands.
    pub joins: u32,
    /// Join rows on which three other sides stand.
    pub hinges: u32,
    /// Corners, each of several panels' corners.
    pub corners: u32,
    /// Panels' corners at each, where it is the same for all.
    pub at_corner: Option<u32>,
    /// Openings that are filled.
    pub fills: u32,
    /// Openings whose rim is firmed.
    pub open: u32,
}

impl Asked {
    pub fn new(project: &Project) -> Self {
        match &project.make {
            Make::Single(spec) => Asked {
                specs: vec![*spec],
                whole: None,
            },
            Make::Solid {
                solid,
                faces,
                closing,
                ..
            } => {
                let (corners, edges, count, degree) = handbook(*solid);
                let panels = count - u32::from(*closing == Closing::Open);
                let whole = Whole {
                    joins: edges,
                    hinges: 0,
                    corners,
                    at_corner: (*closing != Closing::Open).then_some(degree),
                    fills: u32::from(*closing == Closing::Fill),
                    open: u32::from(*closing == Closing::Open),
                };
                Asked {
                    specs: (0..panels).map(|f| around(faces, f)).collect(),
                    whole: Some(whole),
                }
            }
            Make::FoldedPair {
                faces, closings, ..
            } => {
                let closed = closings.iter().filter(|c| c.1 != Closing::Open);
                let of = |what| closings.iter().filter(|c| c.1 == what).count() as u32;
                let whole = Whole {
                    joins: 12,
                    hinges: 0,
                    corners: 6,
                    at_corner: None,
                    fills: of(Closing::Fill),
                    open: of(Closing::Open),
                };
                Asked {
                    specs: (0..6)
                        .map(|f| around(faces, f))
                        .chain(closed.map(|c| c.0))
                        .collect(),
                    whole: Some(whole),
                }
            }
            Make::Ring {
                tetrahedra,
                faces,
                closing,
                ..
            } => {
                let n = u32::from(*tetrahedra);
                let is_open = *closing == Closing::Open;
                let whole = Whole {
                    joins: 4 * n,
                    hinges: n,
                    corners: 2 * n,
                    at_corner: (!is_open).then_some(6),
                    fills: if *closing == Closing::Fill { n } else { 0 },
                    open: if is_open { n } else { 0 },
                };
                let mut order: Vec<u32> = (0..4 * n).collect();
                match closing {
                    Closing::SetIn => {}
                    // The first opening's rim is whole only when the last
                    // hinge is sewn.
                    Closing::Fill => order[3..].rotate_left(1),
                    Closing::Open => order.retain(|f| f % 4 != 3),
                }
                Asked {
                    specs: order.into_iter().map(|f| around(faces, f)).collect(),
                    whole: Some(whole),
                }
            }
            Make::Jobs(jobs) => Asked {
                specs: jobs.panels.iter().map(|panel| panel.spec).collect(),
                whole: None,
            },
        }
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

/// Tip beads after a row of job `nth` of the piece.
pub(super) fn tips(project: &Project, nth: usize) -> u32 {
    match &project.make {
        Make::Single(_) => 0,
        Make::Solid { tips, .. } | Make::FoldedPair { tips, .. } | Make::Ring { tips, .. } => {
            u32::from(*tips)
        }
        Make::Jobs(jobs) => match jobs.jobs.get(nth) {
            Some(JobKind::JoinRow { tips, .. }) => u32::from(*tips),
            _ => 0,
        },
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
