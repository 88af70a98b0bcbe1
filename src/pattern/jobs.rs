//! A maker's own list of jobs, gone through in order.

use super::corners::MadeSide;
use super::error::{JobFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::file::{JobFile, PanelJob, RowJob, TieJob, ZipJob, ZipSide};
use super::fit;
use super::job_line::{JobLine, MadePanel};
use super::job_words::{new_name, side};
use super::made::{Made, SideState};
use super::panel::PanelKind;
use super::rim;
use crate::beadwork::number::Side;

/// Reads the jobs. Nothing, if something is wrong with one.
pub(super) fn read(
    jobs: &[JobFile],
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) -> Option<Vec<JobLine>> {
    let before = faults.len();
    let mut made = Made::new(kinds);
    let specs: Vec<Option<JobLine>> = jobs
        .iter()
        .enumerate()
        .map(|(place, job)| {
            let at = at.place(place);
            match job {
                JobFile::Panel(job) => panel(job, &mut made, &at, faults),
                JobFile::Row(job) => row(job, &mut made, &at, faults),
                JobFile::Zip(job) => zip(job, &mut made, &at, faults),
                JobFile::Fill(job) => rim::fill(job, &mut made, &at, faults),
                JobFile::Firm(job) => rim::firm(job, &mut made, &at, faults),
                JobFile::Tie(job) => tie(job, &mut made, &at, faults),
            }
        })
        .collect();
    let specs = specs.into_iter().collect::<Option<Vec<JobLine>>>()?;
    (faults.len() == before).then_some(specs)
}

fn panel(job: &PanelJob, made: &mut Made, at: &Field, faults: &mut Faults) -> Option<JobLine> {
    let spec = fit::kind(&job.panel, made.kinds, &at.key("panel"), faults);
    let name = new_name(job.name.as_ref(), &job.panel, at, faults);
    made.add(&name, spec, SideState::Bare, at, faults);
    Some(JobLine::Panel { name, spec: spec? })
}

fn row(job: &RowJob, made: &mut Made, at: &Field, faults: &mut Faults) -> Option<JobLine> {
    let panel = made.panel(&job.row, &at.key("row"), faults)?;
    let list = at.key("sides");
    let mut sides = Vec::with_capacity(job.sides.len());
    for (place, &number) in job.sides.iter().enumerate() {
        let at = list.place(place);
        let side = made.side(panel, number, &at, faults)?;
        let told = |fault: fn(Quote, u32) -> JobFault| {
            let (panel, side) = made.told(side);
            fault(panel, side)
        };
        match made.state(side) {
            SideState::Bare => {}
            SideState::Row => faults.add(&at, told(JobFault::RowTwice)),
            SideState::Joined => faults.add(&at, told(JobFault::JoinedTwice)),
        }
        if let Err(fault) = made.edge(side) {
            faults.add(&at, fault);
            return None;
        }
        if made.state(side) == SideState::Bare {
            made.set(side, SideState::Row);
        }
        sides.push(side.1);
    }
    let kind = made.kind(panel)?;
    let tips = fit::tips(job.tips, &[kind], made.kinds, &at.key("tips"), faults);
    Some(JobLine::Row { panel, sides, tips })
}

fn zip(job: &ZipJob, made: &mut Made, at: &Field, faults: &mut Faults) -> Option<JobLine> {
    let panel = made.panel(&job.zip, &at.key("zip"), faults)?;
    let list = at.key("sides");
    let sides: Vec<Option<(Side, MadePanel, Side)>> = job
        .sides
        .iter()
        .enumerate()
        .map(|(place, zip)| one_zip(panel, zip, made, &list.place(place), faults))
        .collect();
    Some(JobLine::Zip {
        panel,
        sides: sides.into_iter().collect::<Option<_>>()?,
    })
}

fn one_zip(
    panel: MadePanel,
    zip: &ZipSide,
    made: &mut Made,
    at: &Field,
    faults: &mut Faults,
) -> Option<(Side, MadePanel, Side)> {
    let bare = made.side(panel, zip.side, &at.key("side"), faults);
    let onto = made.panel(&zip.onto, &at.key("onto"), faults)?;
    let carrier = made.side(onto, zip.at, &at.key("at"), faults)?;
    let bare = bare?;
    if let Some(fault) = unjoinable(bare, carrier, made) {
        faults.add(at, fault);
    } else if let Err(fault) = made.fit(bare, carrier) {
        faults.add(at, fault);
    }
    // Joined even so: what follows is read as the maker meant it.
    if bare != carrier {
        made.set(bare, SideState::Joined);
        made.set(carrier, SideState::Joined);
        made.corners.join(bare, carrier);
    }
    Some((bare.1, carrier.0, carrier.1))
}

/// Exactly one of two sides that meet carries a row: the one zipped onto.
fn unjoinable(bare: MadeSide, carrier: MadeSide, made: &Made) -> Option<JobFault> {
    let told = |side, fault: fn(Quote, u32) -> JobFault| {
        let (panel, side) = made.told(side);
        Some(fault(panel, side))
    };
    if bare == carrier {
        return told(bare, JobFault::JoinedToItself);
    }
    match (made.state(bare), made.state(carrier)) {
        (SideState::Joined, _) => told(bare, JobFault::JoinedTwice),
        (_, SideState::Joined) => told(carrier, JobFault::JoinedTwice),
        (SideState::Bare, SideState::Row) => None,
        (SideState::Bare, SideState::Bare) => told(carrier, JobFault::NoRow),
        (SideState::Row, SideState::Row) => told(bare, JobFault::TwoRows),
        (SideState::Row, SideState::Bare) => told(bare, JobFault::RowOnWrongSide),
    }
}

fn tie(job: &TieJob, made: &mut Made, at: &Field, faults: &mut Faults) -> Option<JobLine> {
    let from = side(&job.tie, made, &at.key("tie"), faults);
    let to = side(&job.to, made, &at.key("to"), faults)?;
    let from = from?;
    // A corner without a bead, or one that is not known, cannot be sewn.
    for (side, key) in [(from, "tie"), (to, "to")] {
        if let Err(fault) = made.edge(side) {
            faults.add(&at.key(key), fault);
            return None;
        }
    }
    if !made.corners.tie(from, to) {
        let (panel, side) = made.told(from);
        faults.add(at, JobFault::TiedToItself(panel, side));
    }
    Some(JobLine::Tie { from, to })
}
