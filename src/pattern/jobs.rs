//! A maker's own list of jobs, checked in order.

use super::corners::MadeSide;
use super::faces;
use super::file::{FillJob, JobFile, PanelJob, RowJob, SideFile, TieJob, ZipJob, ZipSide};
use super::make::MadePiece;
use super::mat::{Mat, PanelIndex, SideOnMat};
use super::panel::{CheckedPanel, bad_name};
use super::source::Field;
use crate::beadwork::job::{JobKind, SideFit, SideJoin};
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::plural;
use crate::beadwork::project::{Closing, JobList, Make};
use crate::beadwork::seams::Direction;
use crate::problem::{Problem, quoted};

/// Reads the jobs. `None` if something is wrong with one.
pub(super) fn read(jobs: &[JobFile], kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let before = at.problems();
    let mut mat = Mat::new(kinds);
    let mut beads = 0;
    let read = |(place, job)| job_at(job, &mut mat, &mut beads, at.entry(place));
    let jobs: Vec<Option<JobKind>> = jobs.iter().enumerate().map(read).collect();
    let make = Make::Jobs(JobList {
        jobs: jobs.into_iter().collect::<Option<_>>()?,
        panels: mat.named()?,
    });
    (at.problems() == before).then_some(MadePiece {
        make,
        insert: vec![],
        beads,
    })
}

/// Reads a job; `beads` counts the beads of all jobs.
fn job_at(job: &JobFile, mat: &mut Mat, beads: &mut u64, at: Field) -> Option<JobKind> {
    let job = match job {
        JobFile::Panel(job) => panel(job, mat, at),
        JobFile::Row(job) => row(job, mat, at),
        JobFile::Zip(job) => zip(job, mat, at),
        JobFile::Fill(job) => fill(job, mat, at),
        JobFile::Firm(job) => {
            let rim = rim(&job.firm, mat, at.key("firm"))?;
            Some(JobKind::FirmRim(rim.into_iter().map(corner).collect()))
        }
        JobFile::Tie(job) => tie(job, mat, at),
    }?;
    let kind = |panel: &Panel| Some(&mat.kinds[mat.kind(panel.index())?]);
    *beads += match &job {
        JobKind::Panel(panel) | JobKind::Fill { panel, .. } => kind(panel)?.beads,
        JobKind::JoinRow {
            panel,
            sides,
            tips,
            beads,
        } => {
            let row = beads.map_or(kind(panel)?.row(), u64::from);
            sides.len() as u64 * (row + u64::from(*tips))
        }
        _ => 0,
    };
    Some(job)
}

fn number(panel: PanelIndex) -> Panel {
    Panel(panel as u16)
}

fn corner((panel, side): MadeSide) -> (Panel, Side) {
    (number(panel), side)
}

/// The name that a job gives its new panel.
fn new_name(given: Option<&str>, kind: &str, at: Field) -> String {
    if let Some(problem) = given.and_then(bad_name) {
        at.key("as").note(problem);
    }
    given.unwrap_or(kind).to_string()
}

fn panel(job: &PanelJob, mat: &mut Mat, at: Field) -> Option<JobKind> {
    let spec = faces::kind(&job.panel, mat.kinds, at.key("panel"));
    let name = new_name(job.name.as_deref(), &job.panel, at);
    let panel = mat.add(&name, spec, at);
    spec.map(|_| JobKind::Panel(number(panel)))
}

fn row(job: &RowJob, mat: &mut Mat, at: Field) -> Option<JobKind> {
    let panel = mat.panel(&job.row, at.key("row"))?;
    let list = at.key("sides");
    let mut sides = Vec::with_capacity(job.sides.len());
    for (place, number) in job.sides.iter().enumerate() {
        let at = list.entry(place);
        let side = mat.numbered(panel, number.0, at)?;
        match mat.state(side) {
            SideOnMat::Bare => {}
            SideOnMat::Row => at.refuse(
                format!("{} has a join row already", mat.side_name(side)),
                "take the side out here",
            ),
            SideOnMat::Joined => at.note(mat.joined_twice(side)),
        }
        mat.edge(side).map_err(|problem| at.note(problem)).ok()?;
        if mat.state(side) == SideOnMat::Bare {
            mat.set(side, SideOnMat::Row);
        }
        sides.push(side.1);
        let gaps = mat.edge(side).ok().flatten().map_or(0, |edge| edge - 1);
        let beads = job.beads.map_or(gaps, |beads| beads.0);
        if beads > 2 * gaps && job.beads.is_some() {
            at.refuse(
                format!(
                    "{beads} join beads do not fit into {gaps} gaps: a gap takes two at the most"
                ),
                format!("write \"beads\": {} or fewer", 2 * gaps),
            );
        }
        mat.rows.insert(side, beads);
    }
    let kind = mat.kind(panel)?;
    let tips = faces::tips(job.tips, &[kind], mat.kinds, at.key("tips"));
    Some(JobKind::JoinRow {
        panel: number(panel),
        sides,
        tips,
        beads: job.beads.map(|beads| beads.0),
    })
}

fn zip(job: &ZipJob, mat: &mut Mat, at: Field) -> Option<JobKind> {
    let panel = mat.panel(&job.zip, at.key("zip"))?;
    let list = at.key("sides");
    let zips = job.sides.iter().enumerate();
    let sides = zips.map(|(place, zip)| one_zip(panel, zip, mat, list.entry(place)));
    let joins: Vec<Option<SideJoin>> = sides.collect();
    let joins = joins.into_iter().collect::<Option<Vec<_>>>()?;
    let all = usize::from(mat.kinds[mat.kind(panel)?].sides);
    Some(match joins.len() == all {
        true => JobKind::SetIn(number(panel), joins),
        false => JobKind::Zip(number(panel), joins),
    })
}

fn one_zip(panel: PanelIndex, zip: &ZipSide, mat: &mut Mat, at: Field) -> Option<SideJoin> {
    let bare = mat.numbered(panel, zip.side.0, at.key("side"));
    let onto = mat.panel(&zip.onto, at.key("onto"))?;
    let carrier = mat.numbered(onto, zip.at.0, at.key("at"))?;
    let bare = bare?;
    let fit = match zip.eased {
        Some(true) => SideFit::Eased,
        _ => mat.fit(bare, carrier),
    };
    let misfit = || match fit {
        SideFit::Eased if zip.eased == Some(true) => mat.too_short_for_its_row(bare, carrier),
        fit => misfit((bare, carrier), fit, mat),
    };
    if let Some(problem) = unjoinable(bare, carrier, mat).or_else(misfit) {
        at.note(problem);
    }
    // They are joined anyway, so that the rest is read as the maker meant it.
    if bare != carrier {
        mat.join(bare, carrier);
    }
    Some(SideJoin {
        side: bare.1,
        onto: number(carrier.0),
        at: carrier.1,
        runs: Direction::Against,
        fit,
    })
}

/// Why two sides do not lock into each other. Sides that differ by one do so
/// directly; of sides that differ by two, the longer carries the row.
fn misfit((bare, carrier): (MadeSide, MadeSide), fit: SideFit, mat: &Mat) -> Option<Problem> {
    let problem = mat.misfit(bare, carrier)?;
    let gaps = |side| mat.edge(side).ok().flatten().map_or(0, |edge| edge - 1);
    let row = mat.rows.get(&carrier);
    let mend = match fit {
        SideFit::Locked if row.is_none() => return None,
        SideFit::OnTheLonger if gaps(bare) < gaps(carrier) && row == Some(&gaps(carrier)) => {
            return None;
        }
        SideFit::Locked => "leave out the row: sides that differ by one lock directly",
        SideFit::OnTheLonger => {
            "sides that differ by two take a row on the longer, a bead in each gap: work it there, and zip the shorter \
             onto it"
        }
        SideFit::Eased => {
            "write \"eased\": true in this side of the zip, or give both panels the same \"rounds\""
        }
        SideFit::Equal => return Some(problem),
    };
    let mend = mend.into();
    Some(Problem { mend, ..problem })
}

/// Exactly one of two sides that meet carries a row: the one onto which the
/// other is zipped.
fn unjoinable(bare: MadeSide, carrier: MadeSide, mat: &Mat) -> Option<Problem> {
    let name = mat.side_name(bare);
    let problem = match (mat.state(bare), mat.state(carrier)) {
        _ if bare == carrier => Problem::new(
            format!("{name} cannot be joined to itself"),
            "name the side that it meets",
        ),
        (SideOnMat::Joined, _) => mat.joined_twice(bare),
        (_, SideOnMat::Joined) => mat.joined_twice(carrier),
        (SideOnMat::Bare, SideOnMat::Row) => return None,
        (SideOnMat::Bare, SideOnMat::Bare) if mat.fit(bare, carrier) == SideFit::Locked => {
            return None;
        }
        (SideOnMat::Bare, SideOnMat::Bare) => mat.no_row(carrier),
        (SideOnMat::Row, SideOnMat::Row) => Problem::new(
            format!("both sides of this join have a row, {name} among them"),
            format!("leave out the row on {name}"),
        ),
        (SideOnMat::Row, SideOnMat::Bare) => Problem::new(
            format!("{name} has the row, and the side it is zipped onto has none"),
            "zip the other panel onto this one, or work the row on the other side",
        ),
    };
    Some(problem)
}

fn fill(job: &FillJob, mat: &mut Mat, at: Field) -> Option<JobKind> {
    let spec = faces::kind(&job.fill, mat.kinds, at.key("fill"));
    let name = new_name(job.name.as_deref(), &job.fill, at);
    let rim = rim(&job.rim, mat, at.key("rim"));
    let panel = mat.add(&name, spec, at);
    let (spec, rim) = (spec?, rim?);
    faces::inward(spec, Closing::Fill, mat.kinds, at.key("fill"));
    let sides = mat.kinds[spec].sides;
    if rim.len() != usize::from(sides) {
        let (panel, rim) = (quoted(&job.fill), plural(rim.len(), "side"));
        at.key("rim").refuse(
            format!("{panel} has {sides} sides, and the rim has {rim}"),
            format!("list {sides} sides"),
        );
        return None;
    }
    let pairs = (0..sides)
        .map(|number| (panel, Side(number)))
        .zip(rim.iter().copied());
    let misfit = pairs
        .clone()
        .find_map(|(filled, open)| mat.misfit(filled, open));
    pairs.for_each(|(filled, open)| mat.join(filled, open));
    if let Some(problem) = misfit {
        at.key("rim").note(problem);
    }
    Some(JobKind::Fill {
        panel: number(panel),
        rim: rim.into_iter().map(corner).collect(),
    })
}

/// The open sides of a rim, each with its row, which must form a closed path.
fn rim(files: &[SideFile], mat: &mut Mat, at: Field) -> Option<Vec<MadeSide>> {
    let mut rim = Vec::with_capacity(files.len());
    for (place, file) in files.iter().enumerate() {
        let at = at.entry(place);
        let side = mat.side(file, at)?;
        if rim.contains(&side) {
            at.refuse(
                format!("{} is in this rim already", mat.side_name(side)),
                "list each side of the rim once",
            );
            return None;
        }
        match mat.state(side) {
            SideOnMat::Row => {}
            SideOnMat::Bare => at.note(mat.no_row(side)),
            SideOnMat::Joined => at.note(mat.joined_twice(side)),
        }
        rim.push(side);
    }
    closes(&rim, mat, at).then_some(rim)
}

fn closes(rim: &[MadeSide], mat: &mut Mat, at: Field) -> bool {
    let next = |place: usize| rim[(place + 1) % rim.len()];
    let corners = &mut mat.corners;
    let open = (0..rim.len()).find(|&place| !corners.goes_on(rim[place], next(place)));
    let Some(place) = open else {
        return true;
    };
    if (0..rim.len()).all(|place| corners.goes_on(next(place), rim[place])) {
        at.refuse(
            "the rim is listed the wrong way round",
            "list its sides in the opposite order: each is met against its own direction",
        );
        return false;
    }
    let (from, to) = (mat.side_name(rim[place]), mat.side_name(next(place)));
    at.entry(place).refuse(
        format!("the rim does not close: {from} does not meet {to}"),
        "zip the panels between them first, or list the sides in the order in which they meet",
    );
    false
}

fn tie(job: &TieJob, mat: &mut Mat, at: Field) -> Option<JobKind> {
    let from = mat.side(&job.tie, at.key("tie"));
    let to = mat.side(&job.to, at.key("to"))?;
    let from = from?;
    // A corner without a bead, or an unknown one, cannot be sewn.
    for (side, key) in [(from, "tie"), (to, "to")] {
        let edge = mat.edge(side);
        edge.map_err(|problem| at.key(key).note(problem)).ok()?;
    }
    if !mat.corners.tie(from, to) {
        at.refuse(
            format!(
                "the corner at the end of {} cannot be tied to itself",
                mat.side_name(from)
            ),
            "name the corner that it is drawn to",
        );
    }
    Some(JobKind::Tie(corner(from), corner(to)))
}
