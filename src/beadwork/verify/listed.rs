//! A maker's own list of jobs against the jobs as they are.

use crate::beadwork::job::JobKind;
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::project::{JobSpec, MadePanel};
use crate::beadwork::seams::Direction;

/// Whether a job does what a line of the list asks for. `made` is how many
/// panels were made before it.
pub(super) fn agrees(line: &JobSpec, job: &JobKind, made: u32) -> bool {
    let panel = |number: &MadePanel| Panel(*number as u16);
    let side = |(number, side): &(MadePanel, Side)| (panel(number), *side);
    let new = |p: &Panel| u32::from(p.0) == made;
    match (line, job) {
        (JobSpec::Panel { .. }, JobKind::Panel(p)) => new(p),
        (JobSpec::Fill { .. }, JobKind::Fill(p)) => new(p),
        (
            JobSpec::Row {
                panel: on, sides, ..
            },
            JobKind::JoinRow(p, worked),
        ) => panel(on) == *p && sides == worked,
        (
            JobSpec::Zip { panel: bare, sides },
            JobKind::Zip(p, joins) | JobKind::SetIn(p, joins),
        ) => {
            let asked = sides
                .iter()
                .map(|(bare, onto, at)| (*bare, panel(onto), *at));
            let is_against = joins.iter().all(|j| j.runs == Direction::Against);
            panel(bare) == *p
                && is_against
                && asked.eq(joins.iter().map(|j| (j.side, j.onto, j.at)))
        }
        (JobSpec::FirmRim { rim }, JobKind::FirmRim(firmed)) => {
            rim.iter().map(side).eq(firmed.iter().copied())
        }
        (JobSpec::Tie { from, to }, JobKind::Tie(a, b)) => (side(from), side(to)) == (*a, *b),
        _ => false,
    }
}
