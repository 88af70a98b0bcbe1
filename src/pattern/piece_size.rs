//! How many beads a piece will take, about: so that one beyond the limit is
//! refused before anything is laid out.

use super::error::MakeFault;
use super::faces;
use super::faults::Faults;
use super::field::Field;
use super::limit;
use super::panel::PanelKind;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::Panel;
use crate::beadwork::project::{JobList, Make, SpecIndex};

/// Join rows of a folded pair: six spokes of the net, and six sides of its two
/// openings.
const PAIR_JOINS: u64 = 12;

/// Join rows of a ring for each tetrahedron: four of its own, and a hinge.
const RING_JOINS: u64 = 5;

/// Holds the piece to the limit.
pub(super) fn check(make: &Make, kinds: &[PanelKind], at: &Field, faults: &mut Faults) {
    let beads = estimate(make, kinds);
    if beads > limit::PIECE_BEADS {
        faults.add(at, MakeFault::TooBig(beads));
    }
}

/// Beads of the panels, and of rows and tips as if every join had its own.
pub(super) fn estimate(make: &Make, kinds: &[PanelKind]) -> u64 {
    let all = |faces: &[SpecIndex], number: usize| -> u64 {
        let faces = faces.iter().cycle().take(number);
        faces.map(|&face| kinds[face].beads).sum()
    };
    let joins = |number: u64, faces: &[SpecIndex], tips: u8| {
        let row = faces.first().map_or(0, |&face| kinds[face].row());
        number * (row + u64::from(tips))
    };
    match make {
        Make::Single(panel) => kinds[*panel].beads,
        Make::Solid {
            solid, faces, tips, ..
        } => {
            let number = faces::edges(*solid) as u64;
            all(faces, faces::number(*solid)) + joins(number, faces, *tips)
        }
        Make::FoldedPair {
            faces,
            closings,
            tips,
        } => {
            let closed: u64 = closings.iter().map(|(face, _)| kinds[*face].beads).sum();
            all(faces, 6) + closed + joins(PAIR_JOINS, faces, *tips)
        }
        Make::Ring {
            tetrahedra,
            faces,
            tips,
            ..
        } => {
            let number = u64::from(*tetrahedra);
            all(faces, 4 * number as usize) + joins(RING_JOINS * number, faces, *tips)
        }
        Make::Jobs(jobs) => of_jobs(jobs, kinds),
    }
}

fn of_jobs(list: &JobList, kinds: &[PanelKind]) -> u64 {
    let kind = |panel: Panel| &kinds[list.panels[panel.index()].spec];
    let beads = |job: &JobKind| match job {
        JobKind::Panel(panel) | JobKind::Fill { panel, .. } => kind(*panel).beads,
        JobKind::JoinRow { panel, sides, tips } => {
            sides.len() as u64 * (kind(*panel).row() + u64::from(*tips))
        }
        _ => 0,
    };
    list.jobs.iter().map(beads).sum()
}
