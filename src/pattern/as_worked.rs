//! A piece as it was really worked, written as a pattern.
//!
//! A panel that follows a corner law is written as that law, in one line; any
//! other is written gap by gap, with repeats in brackets.

use std::fmt;
use std::sync::Arc;

use super::file::{
    File, FillJob, FirmJob, GapFile, JobFile, JoinFile, List, MakeFile, MakeJobs, NameTable,
    OwnFile, PanelFile, PanelJob, ReinforceJob, RowJob, SetInJob, SideFile, StoneMm, Text, TieJob,
    WholeNumber, ZipJob, ZipSide,
};
use super::{json, paint, read, write};
use crate::beadwork::amend::{OwnStep, RoundsByLaw};
use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::goal::{Goal, Stone};
use crate::beadwork::job::{JobKind, SideFit, SideJoin};
use crate::beadwork::layout::{Layout, Part};
use crate::beadwork::number::{GoalJob, Panel, Round, Side};
use crate::beadwork::own_rounds::{GapChange, OwnRounds, RoundSides};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::{Growth, Make, PanelSpec, Project, WorkDirection};
use crate::beadwork::seams::{Corner, Direction};
use crate::beadwork::stage::{Own, Stage};
use crate::beadwork::{Bead, Colour, Sequence};
use crate::problem::{Problems, quoted};

/// Why a piece cannot be written as a pattern.
#[derive(Clone, Debug, PartialEq)]
pub enum NotWritten {
    /// The piece's own copy of the pattern cannot be read.
    NoPattern(Problems),
    /// Its jobs differ from those of its pattern.
    OtherJobs,
    /// Panels of this kind are no longer alike.
    Unlike(String),
    /// A pattern file cannot describe what was worked.
    Refused(Problems),
    /// The pattern would not give the same beads.
    OtherBeads,
}

impl fmt::Display for NotWritten {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NotWritten::NoPattern(problems) => {
                write!(
                    f,
                    "the piece's own copy of the pattern cannot be read: {problems}"
                )
            }
            NotWritten::OtherJobs => f.write_str(
                "its jobs were changed, and a pattern file cannot say this of them: sides that run the same way",
            ),
            NotWritten::Unlike(kind) => write!(
                f,
                "its panels of kind {} are not alike any more, and one kind stands for all",
                quoted(kind)
            ),
            NotWritten::Refused(problems) => {
                write!(f, "a pattern file cannot say what was worked: {problems}")
            }
            NotWritten::OtherBeads => f.write_str("as a pattern it would not give the same beads"),
        }
    }
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
    let more_telling = |why, other| match other {
        NotWritten::OtherJobs => why,
        other => other,
    };
    // Jobs in another order are written in that order, if they can be.
    match seq.goal().order.is_sorted() {
        true => as_in_pattern().or_else(|why| own_jobs().map_err(|other| more_telling(why, other))),
        false => {
            own_jobs().or_else(|why| as_in_pattern().map_err(|other| more_telling(why, other)))
        }
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
fn as_in_pattern(mut file: File, seq: &Sequence, project: &Project) -> Result<String, NotWritten> {
    let goal = seq.goal();
    let kinds: Vec<PanelLayout> = project.panels.iter().map(PanelLayout::new).collect();
    let plain = Goal::of(project, &kinds);
    let mut order = goal.order.clone();
    order.sort();
    let mut panels = seq.layout().begun_panels().map(|(panel, _)| panel);
    let is_changed = |panel| own_rim(seq, panel).is_some();
    if (&plain.jobs, &plain.order) != (&goal.jobs, &order) || panels.any(is_changed) {
        return Err(NotWritten::OtherJobs);
    }
    kinds_alike(&mut file, seq, project)?;
    let number = |job: GoalJob| u32::from(job.0) + 1;
    file.joins = joins(seq, number);
    file.own = own_steps(seq, &plain.slip_in, number);
    same_beads(&file, seq, |_, panel| panel)
}

/// Writes the kinds of panel as they were worked, if all panels of each kind
/// are alike.
fn kinds_alike(file: &mut File, seq: &Sequence, project: &Project) -> Result<(), NotWritten> {
    let layout = seq.layout();
    for (kind, (name, panel)) in file.panels.0.iter_mut().enumerate() {
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
            return Err(NotWritten::Unlike(name.clone()));
        }
        rewrite(panel, seq, first, &project.panels[kind]);
    }
    Ok(())
}

/// Writes jobs that differ from those of the pattern, panels that are alike as one
/// kind.
fn own_jobs(mut file: File, seq: &Sequence, project: &Project) -> Result<String, NotWritten> {
    let (goal, layout) = (seq.goal(), seq.layout());
    let name = |panel: &Panel| goal.panels[panel.index()].name.clone();
    let number = |side: &Side| WholeNumber(u32::from(side.0) + 1);
    let side = |(panel, at): &Corner| SideFile {
        panel: name(panel),
        side: number(at),
    };
    let rim = |rim: &[Corner]| rim.iter().map(side).collect();
    let mut panels: Vec<(String, PanelFile)> = vec![];
    let (mut jobs, mut made) = (vec![], String::new());
    for job in &goal.order {
        let kind = &goal.jobs[job.index()];
        if let Some(panel) = kind.makes() {
            let kind = layout.kind_by_pattern(panel);
            let by_pattern = file.panels.0.get(kind).ok_or(NotWritten::OtherJobs)?;
            let (of, mut written) = by_pattern.clone();
            rewrite(&mut written, seq, panel, &project.panels[kind]);
            let is_new = |name: &String| panels.iter().all(|(other, _)| other != name);
            made = match panels.iter().find(|(_, other)| *other == written) {
                Some((known, _)) => known.clone(),
                None => [of, name(&panel)]
                    .into_iter()
                    .find(is_new)
                    .ok_or(NotWritten::OtherJobs)?,
            };
            if is_new(&made) {
                panels.push((made.clone(), written));
            }
        }
        let called = |panel: &Panel| (name(panel) != made).then(|| Text(name(panel)));
        jobs.push(match kind {
            JobKind::Panel(panel) => {
                let (panel, name) = (made.clone(), called(panel));
                JobFile::Panel(PanelJob { panel, name })
            }
            JobKind::Fill { panel, rim: sides } => JobFile::Fill(FillJob {
                fill: made.clone(),
                name: called(panel),
                rim: List(rim(sides)),
                gaps: own_rim(seq, *panel).map(List),
            }),
            JobKind::FirmRim(sides) => JobFile::Firm(FirmJob {
                firm: List(rim(sides)),
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
                if joins.iter().any(|join| join.runs != Direction::Against) {
                    return Err(NotWritten::OtherJobs);
                }
                let side = |join: &SideJoin| ZipSide {
                    side: number(&join.side),
                    onto: name(&join.onto),
                    at: number(&join.at),
                    eased: (join.fit == SideFit::Eased).then_some(true),
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
    file.panels = NameTable(panels);
    file.make = MakeFile::Jobs(MakeJobs { jobs: List(jobs) });
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

/// The maker's own steps, each at the end of its job, but for the stone of a panel
/// and those that are `known`.
fn own_steps(
    seq: &Sequence,
    known: &[(GoalJob, OwnStep)],
    number: impl Fn(GoalJob) -> u32,
) -> Option<List<OwnFile, 1, 200>> {
    let panels = seq.layout().begun_panels();
    let stones: Vec<OwnStep> = panels
        .filter_map(|(panel, _)| Some(stone(seq, panel)?.own_step()))
        .collect();
    let own = seq.iter().filter_map(|m| match seq.stage_of(m.step) {
        Stage::Own(Own(own))
            if !stones.contains(own) && known.iter().all(|(_, other)| other != own) =>
        {
            Some(OwnFile {
                after_job: WholeNumber(number(seq.goal().order[m.job.index()])),
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
        let job = &goal.jobs[nth.index()];
        let on = |side: Side, past, gaps| JoinFile {
            job: WholeNumber(number(nth)),
            side: WholeNumber(u32::from(side.0) + 1),
            past,
            gaps,
        };
        for join in job.joins() {
            let past = seq.layout().panel(job.panel()).next_door().iter();
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
    seq.goal().panels[panel.index()]
        .stone
        .filter(|_| changes.is_empty())
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

fn rewrite(panel: &mut PanelFile, seq: &Sequence, made: Panel, pattern: &PanelSpec) {
    let piece = seq.layout();
    let layout = piece.kind(made);
    let (open, stone) = (piece.panel(made).open(), stone(seq, made));
    if open != pattern.open {
        panel.open = Some(WholeNumber(open));
    }
    panel.stone = stone.map(|stone| StoneMm(stone.mm));
    // The panel as the file will have it; its sides may divide the rounds at
    // other places.
    let mut written = layout.clone();
    let growth = &piece.project().panels[piece.panel(made).spec].growth;
    if layout.strip().is_some() {
        panel.rows = Some(WholeNumber(layout.rounds()));
        if let Growth::Rows { words, .. } = growth {
            let is_own = |word: &GapWord| word.iter().any(|beads| beads != 1);
            let own = words.iter().rposition(is_own).map(|last| &words[..=last]);
            panel.words = own.map(|words| List(words.iter().map(spell).collect()));
        }
    } else {
        panel.rounds = Some(WholeNumber(layout.rounds()));
        if layout.sides() != pattern.sides {
            panel.sides = Some(WholeNumber(layout.sides().into()));
        }
        match (growth, law_of(layout)) {
            (Growth::Law(_), _) => {}
            (_, Some(law)) => {
                (panel.ring, panel.words, panel.corner_beads) = (None, None, None);
                panel.gaps = None;
                panel.start = Some(law.start());
                let corners = law.word().iter().map(|c| WholeNumber((*c).into()));
                panel.corners = Some(List(corners.collect()));
                let growth = Growth::Law(law);
                written = PanelLayout::grown(layout.sides(), layout.rounds(), &growth);
            }
            // As in the pattern, with its corners.
            (Growth::Own(_), None) if pattern.growth == *growth => {}
            (Growth::Own(_), None) if matches!(pattern.growth, Growth::Law(_)) => {
                panel.gaps = Some(List(gaps_as_worked(piece, made)));
            }
            (_, None) => {
                (panel.gaps, panel.corner_beads) = (None, None);
                (panel.start, panel.corners) = (None, None);
                panel.ring = Some(WholeNumber(layout.in_round(Round(1))));
                let words = (2..=layout.rounds()).map(|k| layout.word(Round(k)).clone());
                let words: Vec<GapWord> = words.collect();
                let ring = layout.in_round(Round(1));
                let by_law = folded(ring, &words);
                let own = by_law.as_ref().map_or(words.len(), |(own, _)| *own);
                panel.words = Some(List(words[..own].iter().map(spell).collect()));
                panel.corners = by_law.map(|(_, corners)| {
                    List(corners.into_iter().map(|c| WholeNumber(c.into())).collect())
                });
                let corners = corner_beads(layout, growth);
                let growth = match &corners {
                    Some(corners) => {
                        let ends = corners.iter().map(|bead| WholeNumber(*bead));
                        panel.corner_beads = Some(List(ends.collect()));
                        let ring = std::iter::once(ring);
                        let rounds = ring.clone().chain(words.iter().map(GapWord::beads));
                        let sides = rounds.map(|beads| RoundSides::shared(beads, layout.sides()));
                        let mut sides: Vec<RoundSides> = sides.collect();
                        let end = layout.last();
                        if let (Some(last), Some(at)) = (sides.last_mut(), corners.last()) {
                            let each = (0..layout.sides()).map(Side);
                            *last = RoundSides {
                                first: at % layout.in_round(end),
                                lengths: each.map(|side| layout.on_side(end, side)).collect(),
                                corner: layout.corner(end),
                            };
                        }
                        let ring = layout.in_round(Round(1));
                        Growth::Own(Arc::new(OwnRounds { ring, words, sides }))
                    }
                    None => Growth::Words { ring, words },
                };
                written = PanelLayout::grown(layout.sides(), layout.rounds(), &growth);
            }
        }
    }
    let open = match piece.way(made) {
        WorkDirection::Outward => 0,
        WorkDirection::Inward => piece.panel(made).open(),
    };
    let face = |round| {
        let colour = |side, place| {
            let at = layout.place(round, written.index(round, side, place));
            piece.colour_of(piece.face_seat(made, round, at.side, at.place))
        };
        let side = |side| {
            let places = 0..written.on_side(round, side);
            places.map(|place| colour(side, place)).collect()
        };
        (0..written.sides())
            .map(Side)
            .map(side)
            .collect::<Vec<Vec<Colour>>>()
    };
    let rounds: Vec<_> = (open + 1..=layout.rounds()).map(Round).collect();
    let to_come = piece.panel(made).colours.to_come();
    let row_beads = |side| written.edge(side).saturating_sub(1);
    let row = |side| match piece.row_on(made, side) {
        Some(row) => {
            let beads = 0..piece.row(row).beads;
            beads
                .map(|nth| piece.colour(piece.row_bead(row, nth)))
                .collect()
        }
        None => {
            let (word, beads) = (to_come.row.word(side), row_beads(side));
            (0..beads)
                .map(|place| word.at(place, beads))
                .collect::<Vec<Colour>>()
        }
    };
    let is_joined = written.can_be_joined() && written.rounds() > 1;
    let row = is_joined.then(|| (0..written.sides()).map(Side).map(row).collect::<Vec<_>>());
    let is_as_in_pattern = (growth, layout.rounds()) == (&pattern.growth, pattern.rounds)
        && rounds
            .iter()
            .all(|round| face(*round) == pattern.colours.spelt(layout, *round))
        && row
            .as_ref()
            .is_none_or(|row| *row == pattern.colours.row.spelt(layout.sides(), row_beads));
    if !is_as_in_pattern {
        let words = |sides: &[Vec<Colour>]| paint::spell(piece.bead_kinds(), sides);
        panel.colours = List(lines(
            rounds.iter().map(|round| (round.0, words(&face(*round)))),
        ));
        panel.row = row.as_deref().map(words);
    }
    if to_come.tip != pattern.colours.tip {
        panel.tip = Some(paint::spell(piece.bead_kinds(), &[vec![to_come.tip]]));
    }
}

/// The gaps of a panel that hold other than its corners say, in the order in which
/// they are worked.
fn gaps_as_worked(layout: &Layout, panel: Panel) -> Vec<GapFile> {
    let (_, changes) = layout.planned_kind_and_changes(panel);
    let mut gaps: Vec<GapChange> = vec![];
    // Of two entries for a gap the later one counts.
    for change in changes.into_iter().rev() {
        let is_same = |gap: &GapChange| (gap.round, gap.gap) == (change.round, change.gap);
        if !gaps.iter().any(is_same) {
            gaps.push(change);
        }
    }
    gaps.sort_by_key(|gap| (gap.round, gap.gap));
    if layout.way(panel) == WorkDirection::Inward {
        gaps.sort_by_key(|gap| std::cmp::Reverse(gap.round));
    }
    let gap = |gap: GapChange| GapFile {
        round: WholeNumber(gap.round.0),
        gap: WholeNumber(gap.gap + 1),
        beads: WholeNumber(gap.beads.into()),
    };
    gaps.into_iter().map(gap).collect()
}

/// The last beads of the sides of a panel with its own gap words, from 1, if
/// they are known.
fn corner_beads(layout: &PanelLayout, growth: &Growth) -> Option<Vec<u32>> {
    let (last, sides) = (layout.last(), (0..layout.sides()).map(Side));
    let mut lengths = sides.clone().map(|side| layout.on_side(last, side));
    let is_known = matches!(growth, Growth::Own(_)) && layout.corner(last) > 0;
    let end = |side| layout.index(last, side, layout.on_side(last, side) - 1) + 1;
    (is_known && lengths.all(|length| length > 0)).then(|| sides.map(end).collect())
}

/// The corner law that a panel follows, if there is one.
fn law_of(layout: &PanelLayout) -> Option<CornerLaw> {
    let (sides, rounds) = (layout.sides(), layout.rounds());
    let n = u32::from(sides);
    [Start::Sides, Start::Points].into_iter().find_map(|start| {
        // Beads of a side without its corner, and beads of the corner.
        let (mut side, mut corner) = match start {
            Start::Sides => (1, 0),
            Start::Points => (0, 1),
        };
        let corners = (2..=rounds).map(|k| {
            side = if corner == 0 { side - 1 } else { side + 1 };
            corner = layout.in_round(Round(k)) as i64 / i64::from(n) - side;
            u8::try_from(corner).ok()
        });
        let corners: Vec<u8> = corners.collect::<Option<_>>()?;
        let is_so = |law: &CornerLaw| {
            let lawful = PanelLayout::grown(sides, rounds, &Growth::Law(law.clone()));
            let same = |k| lawful.word(Round(k)) == layout.word(Round(k));
            // Sides have the numbers that joins use for them.
            let edge = |kind: &PanelLayout| kind.edge_index(Side(0), 0);
            let is_unknown = layout.corner(layout.last()) == 0;
            lawful.in_round(Round(1)) == layout.in_round(Round(1))
                && (2..=rounds).all(same)
                && (is_unknown || edge(&lawful) == edge(layout))
        };
        (1..=corners.len()).find_map(|repeat| {
            let law = CornerLaw::new(start, &corners[..repeat]).ok()?;
            is_so(&law).then_some(law)
        })
    })
}

/// The smallest number of words after which the remaining rounds have repeating
/// corners, with at least one round repeated; with it, the corners.
fn folded(ring: u32, words: &[GapWord]) -> Option<(usize, Vec<u8>)> {
    (1..words.len()).find_map(|own| {
        let mut law = RoundsByLaw::after(ring, &words[..own])?;
        let corner = |word: &GapWord| {
            let fits = |corner: &u8| law.clone().next(*corner).as_ref() == Some(word);
            let corner = [0, 1, 2].into_iter().find(fits)?;
            law.next(corner).map(|_| corner)
        };
        let corners: Vec<u8> = words[own..].iter().map(corner).collect::<Option<_>>()?;
        let repeats = |by: &usize| corners.iter().zip(&corners[*by..]).all(|(a, b)| a == b);
        let by = (1..corners.len()).find(repeats)?;
        Some((own, corners[..by].to_vec()))
    })
}

/// A gap word as the file writes it: `(2 1*3)*3`.
fn spell(word: &GapWord) -> String {
    let gaps: Vec<u8> = word.iter().collect();
    let repeats = |by: &usize| {
        gaps.len().is_multiple_of(*by) && gaps.iter().zip(&gaps[*by..]).all(|(a, b)| a == b)
    };
    let by = (1..=gaps.len()).find(repeats).unwrap_or(gaps.len());
    let mut items: Vec<(u8, usize)> = vec![];
    for &gap in &gaps[..by] {
        match items.last_mut() {
            Some((last, times)) if *last == gap => *times += 1,
            _ => items.push((gap, 1)),
        }
    }
    let item = |&(gap, times): &(u8, usize)| match times {
        1 => gap.to_string(),
        _ => format!("{gap}*{times}"),
    };
    let times = gaps.len() / by.max(1);
    let once: Vec<String> = items.iter().map(item).collect();
    match (items.as_slice(), times) {
        (_, 1) => once.join(" "),
        ([(gap, 1)], _) => format!("{gap}*{times}"),
        _ => format!("({})*{times}", once.join(" ")),
    }
}

/// The colours of rounds; rounds with the same text share a line.
fn lines(rounds: impl Iterator<Item = (u32, String)>) -> Vec<String> {
    let mut lines: Vec<(u32, u32, String)> = vec![];
    for (round, words) in rounds {
        match lines.last_mut() {
            Some((_, to, last)) if *last == words => *to = round,
            _ => lines.push((round, round, words)),
        }
    }
    let line = |(from, to, words): (u32, u32, String)| match from == to {
        true => format!("{from}: {words}"),
        false => format!("{from}-{to}: {words}"),
    };
    lines.into_iter().map(line).collect()
}

#[cfg(test)]
mod tests;
