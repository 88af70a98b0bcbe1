//! Jobs on the rim of an opening: to fill it, or to firm it.

use super::corners::MadeSide;
use super::error::{JobFault, MakeFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::file::{FillJob, FirmJob, SideFile};
use super::fit;
use super::job_line::JobLine;
use super::job_words::{new_name, side};
use super::made::{Made, SideState};
use crate::beadwork::number::Side;
use crate::beadwork::project::Closing;

/// Reads a fill.
pub(super) fn fill(
    job: &FillJob,
    made: &mut Made,
    at: &Field,
    faults: &mut Faults,
) -> Option<JobLine> {
    let spec = fit::kind(&job.fill, made.kinds, &at.key("fill"), faults);
    let name = new_name(job.name.as_ref(), &job.fill, at, faults);
    let rim = rim(&job.rim, made, &at.key("rim"), faults);
    let panel = made.add(&name, spec, SideState::Bare, at, faults);
    let (spec, rim) = (spec?, rim?);
    fit::inward(spec, Closing::Fill, made.kinds, &at.key("fill"), faults);
    let sides = made.kinds[spec].sides;
    if rim.len() != usize::from(sides) {
        let sides = JobFault::RimSides {
            panel: Quote::new(&job.fill),
            sides,
            rim: rim.len(),
        };
        faults.add(&at.key("rim"), sides);
        return None;
    }
    let mut unfit: Option<MakeFault> = None;
    for (number, &open) in (0..sides).zip(&rim) {
        let filled = (panel, Side(number));
        unfit = unfit.or(made.fit(filled, open).err());
        for side in [filled, open] {
            made.set(side, SideState::Joined);
        }
        made.corners.join(filled, open);
    }
    if let Some(fault) = unfit {
        faults.add(&at.key("rim"), fault);
    }
    Some(JobLine::Fill { name, spec, rim })
}

/// Reads a rim to be firmed.
pub(super) fn firm(
    job: &FirmJob,
    made: &mut Made,
    at: &Field,
    faults: &mut Faults,
) -> Option<JobLine> {
    let rim = rim(&job.firm, made, &at.key("firm"), faults)?;
    Some(JobLine::FirmRim { rim })
}

/// The open sides of a rim, each with its row, that lead round to where they
/// began.
fn rim(
    files: &[SideFile],
    made: &mut Made,
    at: &Field,
    faults: &mut Faults,
) -> Option<Vec<MadeSide>> {
    let mut rim = Vec::with_capacity(files.len());
    for (place, file) in files.iter().enumerate() {
        let at = at.place(place);
        let side = side(file, made, &at, faults)?;
        let (panel, number) = made.told(side);
        if rim.contains(&side) {
            faults.add(&at, JobFault::RimTwice(panel, number));
            return None;
        }
        match made.state(side) {
            SideState::Row => {}
            SideState::Bare => faults.add(&at, JobFault::NoRow(panel, number)),
            SideState::Joined => faults.add(&at, JobFault::JoinedTwice(panel, number)),
        }
        rim.push(side);
    }
    closes(&rim, made, at, faults).then_some(rim)
}

fn closes(rim: &[MadeSide], made: &mut Made, at: &Field, faults: &mut Faults) -> bool {
    let next = |place: usize| rim[(place + 1) % rim.len()];
    let corners = &mut made.corners;
    let open = (0..rim.len()).find(|&place| !corners.goes_on(rim[place], next(place)));
    let Some(place) = open else {
        return true;
    };
    if (0..rim.len()).all(|place| corners.goes_on(next(place), rim[place])) {
        faults.add(at, JobFault::RimBackward);
        return false;
    }
    let (from, to) = (made.told(rim[place]), made.told(next(place)));
    faults.add(&at.place(place), JobFault::RimOpen { from, to });
    false
}
