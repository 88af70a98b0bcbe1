//! A piece as it was really worked, written as a pattern.
//!
//! A panel that follows a corner law is written as that law, in one line; any
//! other is written gap by gap, with repeats in brackets.

mod panel;

use super::file::{
    File, FillJob, FirmJob, JobFile, JoinFile, List, MakeFile, MakeJobs, NameTable, NetsShape,
    OwnFile, PanelFile, PanelJob, ReinforceJob, RimSideFile, RingShape, RowJob, SetInJob,
    ShapeFile, SideFile, Text, TieJob, WholeNumber, ZipJob, ZipSide,
};
use super::gap_text::spell;
use super::{json, paint, read, write};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::goal::{Goal, Insert, Stone};
use crate::beadwork::job::{JobKind, SideFit, SideJoin};
use crate::beadwork::layout::{Part, RimSide};
use crate::beadwork::number::{GoalJob, Panel, Side};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::{Make, Project};
use crate::beadwork::seams::{Corner, Direction};
use crate::beadwork::stage::{Own, Stage};
use crate::beadwork::{Bead, Sequence, Step};
use crate::problem::Problems;
use std::collections::HashSet;

/// Why a piece cannot be written as a pattern.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NotWritten {
    /// The piece's own copy of the pattern cannot be read.
    #[error("the piece's own copy of the pattern cannot be read: {0}")]
    NoPattern(Problems),
    /// A pattern file cannot describe what was worked.
    #[error("a pattern file cannot say what was worked: {}", first(.0))]
    Refused(Problems),
    /// The pattern would not give the same beads.
    #[error("as a pattern it would not give the same beads")]
    OtherBeads,
}

/// The first problem of a pattern that nobody has seen.
fn first(problems: &Problems) -> String {
    let first = problems.list.first();
    first.map_or_else(String::new, |problem| {
        let field = problem.place.as_ref().map(|place| &place.field);
        let field = field.filter(|field| !field.is_empty());
        let field = field.map(|field| format!("{field}: ")).unwrap_or_default();
        format!("{field}{}", problem.sentence())
    })
}

/// The text of a pattern that gives a piece as it was worked so far and as it
/// will continue; `bytes` are those of the pattern with which it was begun.
///
/// # Errors
/// [`NotWritten`]: something that no pattern file can describe.
pub fn as_worked(bytes: &[u8], seq: &Sequence) -> Result<String, NotWritten> {
    let name = "the piece's own copy";
    let layout = seq.layout();
    let (mut file, pattern) = read::both(name, bytes).map_err(NotWritten::NoPattern)?;
    let more = layout.bead_kinds().get(pattern.project.beads.len()..);
    let text = json::text(name, bytes).unwrap_or_default();
    let text = paint::with_beads(text, more.unwrap_or_default()).ok_or(NotWritten::OtherBeads)?;
    let with_beads = json::parse(name, text.as_str()).ok();
    let with_beads = with_beads.and_then(|source| read::file(&source));
    file.beads = with_beads.ok_or(NotWritten::OtherBeads)?.beads;
    let mut project = pattern.project;
    project.joins.clear();
    // A ring may have got more tetrahedra, or fewer.
    project.make = layout.project().make.clone();
    match (&mut file.make, &project.make) {
        (MakeFile::Ring(file), Make::Ring { tetrahedra, .. }) => {
            file.ring = WholeNumber(u32::from(*tetrahedra));
        }
        (MakeFile::RingOfNets(file), Make::RingOfNets { tetrahedra, .. }) => {
            file.ring_of_nets = WholeNumber(u32::from(*tetrahedra));
        }
        _ => {}
    }
    let as_in_pattern = || as_in_pattern(file.clone(), seq, &project);
    let own_jobs = || own_jobs(file.clone(), seq, &project);
    // Jobs in another order are written in that order, if they can be.
    match seq.goal().order.is_sorted() {
        true => as_in_pattern().map_or_else(own_jobs, Ok),
        false => own_jobs().or_else(|why| as_in_pattern().ok_or(why)),
    }
}

/// The text of the file, if it gives the same beads as the piece: each at its place
/// in its panel, which is known by `key`.
fn same_beads<K: Ord>(
    file: &File,
    seq: &Sequence,
    key: impl Fn(&Sequence, Panel) -> K,
) -> Result<String, NotWritten> {
    let text = write(file);
    let again = read::read("the new pattern", text.as_bytes()).map_err(NotWritten::Refused)?;
    let again = Sequence::new(again.project);
    let beads = |seq: &Sequence| {
        let layout = seq.layout();
        let bead = |bead| {
            let seat = layout.seat(bead);
            let part = match seat.part {
                Part::Face => 0,
                Part::JoinRow(_) => 1,
                Part::Tip(_) => 2,
            };
            // Sides may divide a round at other places.
            let side = (part > 0).then_some(seat.side);
            let at = (part, side, seat.round, seat.index);
            (key(seq, seat.panel), at, layout.colour(bead))
        };
        let mut beads: Vec<_> = (1..=layout.beads()).map(Bead).map(bead).collect();
        beads.sort();
        beads
    };
    match beads(&again) == beads(seq) {
        true => Ok(text),
        false => Err(NotWritten::OtherBeads),
    }
}

/// Writes a piece with the jobs of its pattern, if it has these, in whatever order.
fn as_in_pattern(mut file: File, seq: &Sequence, project: &Project) -> Option<String> {
    let goal = seq.goal();
    let kinds: Vec<PanelLayout> = project.panels.iter().map(PanelLayout::new).collect();
    let plain = Goal::of(project, &kinds);
    let mut order = goal.order.clone();
    order.sort();
    let mut panels = seq.layout().begun_panels().map(|(panel, _)| panel);
    let has_own_rims = panels.any(|panel| own_rim(seq, panel).is_some());
    if (&plain.jobs, &plain.order) != (&goal.jobs, &order) || has_own_rims {
        return None;
    }
    kinds_alike(&mut file, seq, project)?;
    let number = |job: GoalJob| u32::from(job.0) + 1;
    file.joins = joins(seq, number);
    file.own = own_steps(seq, &plain.inserts, number);
    same_beads(&file, seq, |_, panel| panel).ok()
}

/// Writes the kinds of panel as they were worked, if all panels of each kind
/// are alike.
fn kinds_alike(file: &mut File, seq: &Sequence, project: &Project) -> Option<()> {
    let layout = seq.layout();
    for (kind, (_, panel)) in file.panels.0.iter_mut().enumerate() {
        let panels = (0..layout.panels().len()).map(|p| Panel(p as u16));
        let mut of_kind = panels.filter(|panel| layout.kind_by_pattern(*panel) == kind);
        let Some(first) = of_kind.next() else {
            continue;
        };
        let made = |panel: Panel| {
            let (spec, open) = (layout.panel(panel).spec, layout.panel(panel).open());
            (spec, open, stone(seq, panel))
        };
        if of_kind.any(|panel| made(panel) != made(first)) {
            return None;
        }
        panel::rewrite(panel, seq, first, &project.panels[kind]);
    }
    Some(())
}

/// Writes jobs that differ from those of the pattern, panels that are alike as one
/// kind.
fn own_jobs(mut file: File, seq: &Sequence, project: &Project) -> Result<String, NotWritten> {
    let (goal, layout) = (seq.goal(), seq.layout());
    let name = |panel: &Panel| goal[*panel].name.clone();
    let number = |side: &Side| WholeNumber(u32::from(side.0) + 1);
    let side = |(panel, at): &Corner| SideFile {
        panel: name(panel),
        side: number(at),
    };
    // Rows onto which sides were joined before.
    let mut shared: HashSet<Corner> = HashSet::new();
    let runs = |row: Corner, runs, shared: &mut HashSet<Corner>| {
        let is_hinge = !shared.insert(row);
        (is_hinge || runs == Direction::With).then_some(runs)
    };
    let rim = |job: &JobKind, shared: &mut HashSet<Corner>| {
        let rim = seq
            .work()
            .rim_of(job)
            .map_or(&[][..], |rim| layout.rim(rim));
        let side = |on: &RimSide| RimSideFile {
            panel: name(&on.panel),
            side: number(&on.side),
            runs: match job {
                JobKind::Fill { .. } => runs((on.panel, on.side), on.runs, shared),
                // What is only reinforced can be filled later.
                _ => shared.contains(&(on.panel, on.side)).then_some(on.runs),
            },
        };
        rim.iter().map(side).collect::<Vec<_>>()
    };
    let kinds = kinds_as_worked(&file, seq, project);
    let (mut jobs, mut made) = (vec![], String::new());
    for job in &goal.order {
        let kind = &goal[*job];
        if let Some(panel) = kind.makes() {
            let mut of = kinds.iter().filter(|kind| kind.panels.contains(&panel));
            made = of.next().map_or_else(String::new, |kind| kind.name.clone());
        }
        let called = |panel: &Panel| (name(panel) != made).then(|| Text(name(panel)));
        jobs.push(match kind {
            JobKind::Panel(panel) => {
                let (panel, name) = (made.clone(), called(panel));
                JobFile::Panel(PanelJob { panel, name })
            }
            JobKind::Fill { panel, .. } => JobFile::Fill(FillJob {
                fill: made.clone(),
                name: called(panel),
                rim: List(rim(kind, &mut shared)),
                gaps: own_rim(seq, *panel).map(List),
            }),
            JobKind::FirmRim(_) => JobFile::Firm(FirmJob {
                firm: List(rim(kind, &mut shared)),
            }),
            JobKind::Tie(from, to) => JobFile::Tie(TieJob {
                tie: side(from),
                to: side(to),
            }),
            JobKind::JoinRow {
                panel,
                sides,
                tips,
                beads,
            } => JobFile::Row(RowJob {
                row: name(panel),
                sides: List(sides.iter().map(number).collect()),
                tips: (*tips > 0).then(|| WholeNumber((*tips).into())),
                beads: beads.map(WholeNumber),
            }),
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                let side = |join: &SideJoin| ZipSide {
                    side: number(&join.side),
                    onto: name(&join.onto),
                    at: number(&join.at),
                    eased: (join.fit == SideFit::Eased).then_some(true),
                    runs: runs((join.onto, join.at), join.runs, &mut shared),
                };
                JobFile::Zip(ZipJob {
                    zip: name(panel),
                    sides: List(joins.iter().map(side).collect()),
                })
            }
            JobKind::SetInMiddle { panel, around } => JobFile::SetIn(SetInJob {
                set_in: name(panel),
                within: name(around),
            }),
            JobKind::Reinforce(panel, at) => JobFile::Reinforce(ReinforceJob {
                reinforce: name(panel),
                side: number(at),
            }),
        });
    }
    let panels = kinds.into_iter().map(|kind| (kind.name, kind.written));
    file.panels = NameTable(panels.collect());
    let shape = match project.make.shape() {
        Make::Ring { tetrahedra, .. } => Some(ShapeFile::Ring(RingShape {
            ring: WholeNumber((*tetrahedra).into()),
        })),
        Make::RingOfNets { tetrahedra, .. } => Some(ShapeFile::RingOfNets(NetsShape {
            ring_of_nets: WholeNumber((*tetrahedra).into()),
        })),
        _ => None,
    };
    let jobs = List(jobs);
    file.make = MakeFile::Jobs(MakeJobs { shape, jobs });
    let number = |job: GoalJob| {
        let before = goal.order.iter().take_while(|other| **other != job);
        before.count() as u32 + 1
    };
    file.joins = joins(seq, number);
    file.own = own_steps(seq, &[], number);
    same_beads(&file, seq, |seq, panel| {
        seq.layout().panel(panel).name.clone()
    })
}

/// Panels that were worked alike.
struct KindAsWorked {
    /// The pattern's kind from which they come, as an index.
    of: usize,
    name: String,
    written: PanelFile,
    panels: Vec<Panel>,
}

/// The kinds of panel as they were worked, in the order of their first panels. The
/// one of which there are most keeps the name of the pattern's kind; the others are
/// called like their first panel.
fn kinds_as_worked(file: &File, seq: &Sequence, project: &Project) -> Vec<KindAsWorked> {
    let (goal, layout) = (seq.goal(), seq.layout());
    let mut kinds: Vec<KindAsWorked> = vec![];
    for panel in goal.ordered().filter_map(JobKind::makes) {
        let of = layout.kind_by_pattern(panel);
        let mut written = file.panels.0[of].1.clone();
        panel::rewrite(&mut written, seq, panel, &project.panels[of]);
        match kinds.iter_mut().find(|kind| kind.written == written) {
            Some(kind) => kind.panels.push(panel),
            None => kinds.push(KindAsWorked {
                of,
                name: String::new(),
                written,
                panels: vec![panel],
            }),
        }
    }
    let mut by_number: Vec<usize> = (0..kinds.len()).collect();
    by_number.sort_by_key(|nth| std::cmp::Reverse(kinds[*nth].panels.len()));
    for nth in by_number {
        let of = &file.panels.0[kinds[nth].of].0;
        let first = goal[kinds[nth].panels[0]].name.clone();
        let names = [of.clone(), first].into_iter();
        let mut names = names.chain((2..).map(|n| format!("{of} {n}")));
        let is_new = |name: &String| kinds.iter().all(|kind| kind.name != *name);
        kinds[nth].name = names.find(is_new).expect("names without end");
    }
    kinds
}

/// The maker's own steps, each where it was made, but for the stone of a panel and
/// those that slip in inserts of the pattern.
fn own_steps(
    seq: &Sequence,
    inserts: &[Insert],
    number: impl Fn(GoalJob) -> u32,
) -> Option<List<OwnFile, 1, 200>> {
    let panels = seq.layout().begun_panels();
    let stones: Vec<_> = panels
        .filter_map(|(panel, _)| Some(stone(seq, panel)?.own_step()))
        .collect();
    let own = seq.iter().filter_map(|m| match seq.stage_of(m.step) {
        Stage::Own(Own(own))
            if !stones.contains(own) && inserts.iter().all(|insert| insert.slip_in != *own) =>
        {
            let before = seq.movements_before(m.job, m.step);
            let is_at_end = before == seq.movements_before(m.job, Step(u32::MAX));
            Some(OwnFile {
                after_job: WholeNumber(number(seq.goal().order[m.job.index()])),
                after_steps: (!is_at_end).then_some(WholeNumber(before)),
                what: own.what,
                text: (!own.text.is_empty()).then(|| Text(own.text.clone())),
            })
        }
        _ => None,
    });
    let own: Vec<OwnFile> = own.collect();
    (!own.is_empty()).then_some(List(own))
}

/// What is different in single joins.
fn joins(seq: &Sequence, number: impl Fn(GoalJob) -> u32) -> Option<List<JoinFile, 1, 10000>> {
    let goal = seq.goal();
    let mut joins = vec![];
    for &nth in &goal.order {
        let job = &goal[nth];
        let on = |side: Side, past, gaps| JoinFile {
            job: WholeNumber(number(nth)),
            side: WholeNumber(u32::from(side.0) + 1),
            past,
            gaps,
        };
        for join in job.joins() {
            let past = seq.layout().panel(job.panel()).next_door.iter();
            let past = past.filter(|(side, _)| *side == join.side);
            let mut past: Vec<_> = past.map(|(_, place)| WholeNumber(place + 1)).collect();
            past.sort_unstable_by_key(|place| place.0);
            let past = (!past.is_empty()).then_some(List(past));
            joins.extend(past.map(|past| on(join.side, Some(past), None)));
        }
        for (panel, side) in job.rows_worked() {
            let row = seq
                .layout()
                .row_on(panel, side)
                .map(|row| seq.layout().row(row));
            let row = row.filter(|row| !row.is_as_planned());
            joins.extend(row.map(|row| {
                let gaps = (0..row.gaps).map(|gap| row.in_gap(gap, row.gaps).len() as u8);
                on(side, None, Some(spell(&GapWord::new(gaps))))
            }));
        }
    }
    (!joins.is_empty()).then_some(List(joins))
}

/// The stone of a panel, if the panel is as planned; in any other the stone is a step
/// of the maker's own.
fn stone(seq: &Sequence, panel: Panel) -> Option<Stone> {
    let (_, changes) = seq.layout().planned_kind_and_changes(panel);
    seq.goal()[panel].stone.filter(|_| changes.is_empty())
}

/// The beads in the gaps of a fill's rim, side by side, if they are not those that
/// its rows have room for.
fn own_rim(seq: &Sequence, panel: Panel) -> Option<Vec<String>> {
    let layout = seq.layout();
    layout.panel(panel).rim?;
    let gaps = layout.rim_gaps(panel);
    let side = |side: Side| {
        let of_side = (0..gaps.on_side(side)).map(|gap| gaps.first(side) + gap);
        spell(&GapWord::new(
            of_side.map(|gap| gaps.in_gap(gap).len() as u8),
        ))
    };
    let sides = (0..layout.kind(panel).sides()).map(Side);
    gaps.is_other_than_rows().then(|| sides.map(side).collect())
}

#[cfg(test)]
mod tests;
