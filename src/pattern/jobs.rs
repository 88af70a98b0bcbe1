//! A maker's own list of jobs, checked in order.

use super::faces;
use super::file::{
    FillJob, JobFile, JoinFile, MakeJobs, PanelJob, RimSideFile, RowJob, SetInJob, ShapeFile,
    TieJob, ZipJob, ZipSide,
};
use super::gap_text;
use super::make::MadePiece;
use super::mat::{Mat, MetCorners, MetSide, SideOnMat};
use super::panel::{CheckedPanel, bad_name};
use super::source::Field;
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::job::{JobKind, SideFit, SideJoin};
use crate::beadwork::number::{Panel, Round, Side};
use crate::beadwork::plural;
use crate::beadwork::project::{Closing, JobList, Make, SpecIndex, WorkDirection};
use crate::beadwork::seams::{Corner, Direction};
use crate::problem::{Problem, quoted};

/// Reads the jobs. `None` if something is wrong with one. `joins` says what is
/// different in single joins.
pub(super) fn read(
    file: &MakeJobs,
    joins: &[JoinFile],
    kinds: &[CheckedPanel],
    at: Field,
) -> Option<MadePiece> {
    let at = at.key("jobs");
    let before = at.problems();
    let mut mat = Mat::new(kinds);
    let mut beads = 0;
    let read = |(place, job)| {
        let rims = mat.open_rims.len();
        let job = job_at(job, &mut mat, &mut beads, at.entry(place));
        mat.open_rims[rims..]
            .iter_mut()
            .for_each(|(nth, _)| *nth = place);
        if let Some(JobKind::JoinRow { panel, sides, .. }) = &job {
            let of_job = joins.iter().filter(|join| join.job.0 as usize == place + 1);
            for join in of_job {
                // What is wrong with its gaps is reported elsewhere.
                let side = Side(join.side.0 as u8 - 1);
                if let (Some(gaps), true) = (&join.gaps, sides.contains(&side))
                    && let Ok(word) = gap_text::read(gaps, 2)
                {
                    mat.rows.insert((*panel, side), word.beads());
                }
            }
        }
        job
    };
    let jobs: Vec<Option<JobKind>> = file.jobs.iter().enumerate().map(read).collect();
    let jobs: Vec<JobKind> = jobs.into_iter().collect::<Option<_>>()?;
    let corners = mat.corners_after(&jobs);
    for (place, rim) in &mat.open_rims {
        let at = at.entry(*place);
        let key = match &jobs[*place] {
            JobKind::Fill { .. } => "rim",
            _ => "firm",
        };
        check_rim(rim, &corners, &mat, at.key(key));
    }
    let panels = mat.named()?;
    let shape = file.shape.as_ref();
    let shape = shape.and_then(|file| shape_of(file, &jobs, panels.first()?.spec));
    let make = Make::Jobs(JobList {
        panels,
        jobs,
        shape: shape.map(Box::new),
    });
    (at.problems() == before).then_some(MadePiece {
        make,
        insert: vec![],
        beads,
    })
}

/// The ring that jobs make of panels of a kind.
fn shape_of(file: &ShapeFile, jobs: &[JobKind], kind: SpecIndex) -> Option<Make> {
    let tips = jobs.iter().find_map(|job| match job {
        JobKind::JoinRow { tips, .. } => Some(*tips),
        _ => None,
    });
    let tips = tips.unwrap_or(0);
    let is_open = jobs.iter().any(|job| matches!(job, JobKind::FirmRim(_)));
    let closing = match is_open {
        true => Closing::Open,
        false => Closing::SetIn,
    };
    let faces = vec![kind];
    Some(match file {
        ShapeFile::Ring(shape) => Make::Ring {
            tetrahedra: u16::try_from(shape.ring.0).ok()?,
            faces,
            closings: vec![closing],
            tips,
        },
        ShapeFile::RingOfNets(shape) => Make::RingOfNets {
            tetrahedra: u16::try_from(shape.ring_of_nets.0).ok()?,
            faces,
            closings: vec![(kind, closing)],
            tips,
        },
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
            let sides = rim.into_iter().map(|(side, _)| side);
            Some(JobKind::FirmRim(sides.collect()))
        }
        JobFile::Tie(job) => tie(job, mat, at),
        JobFile::SetIn(job) => set_in(job, mat, at),
        JobFile::Reinforce(job) => {
            let panel = mat.panel(&job.reinforce, at.key("reinforce"))?;
            let side = mat.numbered(panel, job.side.0, at.key("side"))?;
            if !mat.zipped.contains(&side) {
                at.refuse(
                    format!("{} is not zipped onto another", mat.side_name(side)),
                    "name a side that a zip before this job joins, and not the side with the row",
                );
            }
            Some(JobKind::Reinforce(panel, side.1))
        }
    }?;
    let kind = |panel: &Panel| Some(&mat.kinds[mat.kind(*panel)?]);
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
    spec.map(|_| JobKind::Panel(panel))
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
        panel,
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
        true => JobKind::SetIn(panel, joins),
        false => JobKind::Zip(panel, joins),
    })
}

fn one_zip(panel: Panel, zip: &ZipSide, mat: &mut Mat, at: Field) -> Option<SideJoin> {
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
    let hinge = zip.runs.is_some();
    if let Some(problem) = unjoinable(bare, (carrier, hinge), mat).or_else(misfit) {
        at.note(problem);
    }
    let runs = zip.runs.unwrap_or(Direction::Against);
    // They are joined anyway, so that the rest is read as the maker meant it.
    if bare != carrier {
        mat.join(bare, (carrier, runs));
    }
    mat.zipped.insert(bare);
    Some(SideJoin {
        side: bare.1,
        onto: carrier.0,
        at: carrier.1,
        runs,
        fit,
    })
}

/// Why two sides do not lock into each other. Sides that differ by one do so
/// directly; of sides that differ by two, the longer carries the row.
fn misfit((bare, carrier): (Corner, Corner), fit: SideFit, mat: &Mat) -> Option<Problem> {
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
/// other is zipped. At a hinge others are zipped onto it already.
fn unjoinable(bare: Corner, (carrier, hinge): (Corner, bool), mat: &Mat) -> Option<Problem> {
    let name = mat.side_name(bare);
    let problem = match (mat.state(bare), mat.state(carrier)) {
        _ if bare == carrier => Problem::new(
            format!("{name} cannot be joined to itself"),
            "name the side that it meets",
        ),
        (SideOnMat::Joined, _) => mat.joined_twice(bare),
        (SideOnMat::Bare, SideOnMat::Joined) if hinge && mat.rows.contains_key(&carrier) => {
            return None;
        }
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
        return at.key("rim").refused(
            format!("{panel} has {sides} sides, and the rim has {rim}"),
            format!("list {sides} sides"),
        );
    }
    let pairs = (0..sides)
        .map(|number| (panel, Side(number)))
        .zip(rim.iter().copied());
    match &job.gaps {
        Some(gaps) => {
            let gaps = rim_gaps(gaps, (spec, &rim), mat, at.key("gaps"));
            mat.set_rim(panel, gaps?);
        }
        None => {
            let mut misfits = pairs.clone();
            let misfit = misfits.find_map(|(filled, (open, _))| mat.misfit(filled, open));
            if let Some(problem) = misfit {
                at.key("rim").note(problem);
            }
        }
    }
    // A corner bead lies between two rows, behind the last join bead of each.
    let is_uneven = |(side, _): &&MetSide| {
        let gaps = mat.edge(*side).ok().flatten().map(|edge| edge - 1);
        mat.rows.get(side).copied() != gaps
    };
    if mat.kinds[spec].ends_in_corner_beads()
        && let Some((side, _)) = rim.iter().find(is_uneven)
    {
        at.key("rim").refuse(
            format!(
                "{} has one bead at each corner, and so one join bead in each gap of its rim, but not on {}",
                quoted(&job.fill),
                mat.side_name(*side)
            ),
            "take \"beads\" and \"gaps\" of that row out, or fill with a panel that ends in corner pairs",
        );
    }
    pairs.for_each(|(filled, open)| mat.join(filled, open));
    Some(JobKind::Fill {
        panel,
        rim: rim.into_iter().map(|(side, _)| side).collect(),
    })
}

/// How many beads of a fill go into the gaps of its rim, side by side.
fn rim_gaps(
    texts: &[String],
    (spec, rim): (usize, &[MetSide]),
    mat: &Mat,
    at: Field,
) -> Option<Vec<GapWord>> {
    let kind = &mat.kinds[spec];
    if texts.len() != rim.len() {
        return at.refused(
            format!(
                "{} of gaps for a rim of {}",
                plural(texts.len(), "word"),
                plural(rim.len(), "side")
            ),
            "write a word for each side",
        );
    }
    let mut words = vec![];
    for (place, (text, (side, _))) in texts.iter().zip(rim).enumerate() {
        let at = at.entry(place);
        let joins = mat.rows.get(side).copied().unwrap_or(0);
        // A corner bead lies between two rows, in the last gap of its side.
        let wanted = joins + u32::from(!kind.ends_in_corner_beads());
        let word = at.accept(gap_text::read(text, kind.rounds))?;
        let found = word.gaps();
        if found != wanted {
            return at.refused(
                format!("these are {found} gaps, and this side of the rim has {wanted}"),
                format!("give {wanted} numbers"),
            );
        }
        let ends = [0, wanted - 1].map(|gap| word.gap(gap));
        if ends.contains(&0) {
            return at.refused(
                "at the corner of an opening the fill needs a bead",
                "put at least one bead into the first and the last gap",
            );
        }
        words.push(word);
    }
    let beads: u32 = words.iter().map(GapWord::beads).sum();
    let layout = kind.layout.as_ref()?;
    let first = layout.in_round(layout.last());
    if beads != first {
        return at.refused(
            format!("the gaps hold {beads} beads, and the last round of the panel has {first}"),
            "let them hold as many, or change \"gaps\" of the panel",
        );
    }
    Some(words)
}

/// A finished panel in the open middle of another.
fn set_in(job: &SetInJob, mat: &mut Mat, at: Field) -> Option<JobKind> {
    let panel = mat.panel(&job.set_in, at.key("set-in"));
    let around = mat.panel(&job.within, at.key("within"))?;
    let panel = panel?;
    let (inner, outer) = (mat.kind(panel)?, mat.kind(around)?);
    let (inner, outer) = (&mat.kinds[inner], &mat.kinds[outer]);
    let bare = (0..inner.sides).map(|side| (panel, Side(side)));
    if let Some(side) = bare
        .clone()
        .find(|side| mat.state(*side) != SideOnMat::Bare)
    {
        at.key("set-in").refuse(
            format!("{} has a row, or is joined already", mat.side_name(side)),
            "set in a panel whose sides are all bare",
        );
    }
    let open = outer.open;
    let fits =
        (inner.layout.as_ref()?).fits_middle(inner.rounds, outer.layout.as_ref()?, Round(open + 1));
    if open != inner.rounds || inner.way == WorkDirection::Inward || !fits {
        at.refuse(
            format!(
                "{} does not fit into the open middle of {}",
                mat.name(panel),
                mat.name(around)
            ),
            "take a panel worked outward, of the same corners, with as many \"rounds\" as the other leaves \"open\"",
        );
    }
    if !mat.filled_middles.insert(around) {
        at.key("within").refuse(
            format!("another panel is set in {} already", mat.name(around)),
            "name another panel",
        );
    }
    bare.for_each(|side| mat.set(side, SideOnMat::Joined));
    Some(JobKind::SetInMiddle { panel, around })
}

/// The open sides of a rim, each with its row, which must form a closed path.
fn rim(files: &[RimSideFile], mat: &mut Mat, at: Field) -> Option<Vec<MetSide>> {
    let mut rim: Vec<MetSide> = Vec::with_capacity(files.len());
    for (place, file) in files.iter().enumerate() {
        let at = at.entry(place);
        let side = mat.side(&file.panel, file.side.0, at)?;
        if rim.iter().any(|(other, _)| *other == side) {
            return at.refused(
                format!("{} is in this rim already", mat.side_name(side)),
                "list each side of the rim once",
            );
        }
        match mat.state(side) {
            SideOnMat::Row => {}
            SideOnMat::Bare => at.note(mat.no_row(side)),
            SideOnMat::Joined if file.runs.is_some() && mat.rows.contains_key(&side) => {}
            SideOnMat::Joined => at.note(mat.joined_twice(side)),
        }
        rim.push((side, file.runs.unwrap_or(Direction::Against)));
    }
    if slit(&rim, &mat.corners).is_some() {
        mat.open_rims.push((0, rim.clone()));
    }
    Some(rim)
}

/// The first side of a rim after which it does not go on with the next.
fn slit(rim: &[MetSide], corners: &MetCorners) -> Option<usize> {
    let next = |place: usize| rim[(place + 1) % rim.len()];
    (0..rim.len()).find(|&place| !corners.goes_on(rim[place], next(place)))
}

/// Reports a rim that does not close.
fn check_rim(rim: &[MetSide], corners: &MetCorners, mat: &Mat, at: Field) {
    let next = |place: usize| rim[(place + 1) % rim.len()];
    let Some(place) = slit(rim, corners) else {
        return;
    };
    if (0..rim.len()).all(|place| corners.goes_on(next(place), rim[place])) {
        at.refuse(
            "the rim is listed the wrong way round",
            "list its sides in the opposite order: each is met against its own direction",
        );
        return;
    }
    let (from, to) = (mat.side_name(rim[place].0), mat.side_name(next(place).0));
    at.entry(place).refuse(
        format!("the rim does not close: {from} does not meet {to}"),
        "zip the panels between them first, or list the sides in the order in which they meet",
    );
}

fn tie(job: &TieJob, mat: &mut Mat, at: Field) -> Option<JobKind> {
    let from = mat.side(&job.tie.panel, job.tie.side.0, at.key("tie"));
    let to = mat.side(&job.to.panel, job.to.side.0, at.key("to"))?;
    let from = from?;
    // A corner without a bead, or an unknown one, cannot be sewn.
    for (side, key) in [(from, "tie"), (to, "to")] {
        let edge = mat.edge(side);
        at.key(key).accept(edge)?;
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
    Some(JobKind::Tie(from, to))
}
