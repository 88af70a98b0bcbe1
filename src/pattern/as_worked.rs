//! A piece as it was really worked, written as a pattern.
//!
//! A panel that follows a corner law is written as that law, in one line; any
//! other is written gap by gap, with repeats in brackets.

use std::fmt;
use std::sync::Arc;

use super::file::{
    File, FillJob, FirmJob, JobFile, JoinFile, List, MakeFile, MakeJobs, NameTable, OwnFile,
    PanelFile, PanelJob, RowJob, SideFile, StoneMm, Text, TieJob, WholeNumber, ZipJob, ZipSide,
};
use super::{json, own, paint, read, write};
use crate::beadwork::amend::{OwnStep, RoundsByLaw};
use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::goal::Goal;
use crate::beadwork::job::{JobKind, SideFit, SideJoin};
use crate::beadwork::layout::Part;
use crate::beadwork::number::{GoalJob, Panel, Round, Side};
use crate::beadwork::own_rounds::{OwnRounds, RoundSides};
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
    /// A gap of the rim of a fill holds a different number of beads than planned.
    UnevenRim,
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
                "its jobs were changed, and a pattern file cannot say this of them: a panel set in the middle of a \
                 fill, a join that is reinforced, sides that run the same way, or steps of one's own behind jobs",
            ),
            NotWritten::Unlike(kind) => write!(
                f,
                "its panels of kind {} are not alike any more, and one kind stands for all",
                quoted(kind)
            ),
            NotWritten::UnevenRim => f.write_str(
                "a gap of the rim of a fill holds other than was meant, which a pattern file cannot say yet",
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
    let mut fills = layout.begun_panels().filter(|(_, made)| made.rim.is_some());
    if fills.any(|(panel, _)| layout.rim_gaps(panel).is_changed()) {
        return Err(NotWritten::UnevenRim);
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
    if (&plain.jobs, &plain.order) != (&goal.jobs, &order) {
        return Err(NotWritten::OtherJobs);
    }
    kinds_alike(&mut file, seq, project)?;
    let number = |job: GoalJob| u32::from(job.0) + 1;
    file.joins = joins(seq, number);
    file.own = own_steps(seq, &own::slip_in(project), number);
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
            (spec, open, seq.goal().panels[panel.index()].stone)
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
            _ => return Err(NotWritten::OtherJobs),
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
    let stones: Vec<OwnStep> = (seq.goal().panels.iter())
        .filter_map(|panel| Some(panel.stone?.own_step()))
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

fn rewrite(panel: &mut PanelFile, seq: &Sequence, made: Panel, pattern: &PanelSpec) {
    let piece = seq.layout();
    let layout = piece.kind(made);
    let (open, stone) = (
        piece.panel(made).open(),
        seq.goal().panels[made.index()].stone,
    );
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
                panel.start = Some(law.start());
                let corners = law.word().iter().map(|c| WholeNumber((*c).into()));
                panel.corners = Some(List(corners.collect()));
                let growth = Growth::Law(law);
                written = PanelLayout::grown(layout.sides(), layout.rounds(), &growth);
            }
            // As in the pattern, with its corners.
            (Growth::Own(_), None) if pattern.growth == *growth => {}
            (_, None) => {
                panel.corner_beads = None;
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
                        if let (Some(last), Some(at)) = (sides.last_mut(), corners.last()) {
                            last.first = at % layout.in_round(layout.last());
                            last.corner = layout.corner(layout.last());
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

/// The last beads of the sides of a panel with its own gap words, from 1, if
/// they are known and the sides are equally long.
fn corner_beads(layout: &PanelLayout, growth: &Growth) -> Option<Vec<u32>> {
    let (last, sides) = (layout.last(), (0..layout.sides()).map(Side));
    let long = layout.on_side(last, Side(0));
    let is_even = sides.clone().all(|side| layout.on_side(last, side) == long);
    let is_known = matches!(growth, Growth::Own(_)) && layout.corner(last) > 0;
    let ends = sides.map(|side| layout.index(last, side, long - 1) + 1);
    (is_known && is_even).then(|| ends.collect())
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
mod tests {
    use super::*;
    use crate::beadwork::Step;
    use crate::beadwork::amend::colours::ColourChange;
    use crate::beadwork::amend::{Amendment, OwnStepKind};
    use crate::beadwork::movement::Kind;
    use crate::beadwork::planner::PlanRule;
    use crate::beadwork::record::Record;
    use crate::beadwork::rules::Refusal;
    use crate::beadwork::verify::verify;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    const BEGUN: &str = r##"{
      "threadmark": 1,
      "title": "Sail",
      "beads": {
        "A": { "name": "first", "size": "cylinder 11/0", "colour": "#2f7f79" },
        "B": { "name": "second", "size": "cylinder 11/0", "colour": "#d98a24" }
      },
      "thread": "braided 0.12",
      "needle": 12,
      "panels": { "work": { "sides": 3, "ring": 3, "rounds": 2, "words": ["1*3"], "colours": ["all: A*"] } },
      "make": { "panel": "work" }
    }"##;

    const STRIP: &str = r#""stitch": "strip", "width": 6, "rows": 3, "colours": ["all: A*"]"#;

    fn begun_as_strip() -> String {
        let (before, after) = (BEGUN.find("\"sides\""), BEGUN.find(" } },\n      \"make\""));
        let (before, after) = (before.unwrap(), after.unwrap());
        format!("{}{STRIP}{}", &BEGUN[..before], &BEGUN[after..])
    }

    /// A piece without a plan: a number of beads of a colour in each gap, and
    /// as many rounds as needed.
    fn worked_freely(begun: &str, gaps: &[(u8, u8)]) -> Sequence {
        let begun = read::read("begun", begun.as_bytes()).unwrap();
        let (mut seq, mut done) = (Sequence::new(begun.project), Step(0));
        for &(beads, colour) in gaps {
            let next = |seq: &Sequence| {
                let mut steps = (done.0 + 1..=seq.steps()).map(Step);
                steps.find(|step| seq.gap_of(*step).is_some())
            };
            if next(&seq).is_none() {
                let jobs = vec![seq.goal().order[0]];
                let rounds = seq.layout().kind(Panel(0)).rounds() + 1;
                let more = Amendment::Rounds { jobs, rounds };
                seq = seq.amended(done, &more).unwrap();
            }
            let step = next(&seq).unwrap();
            let take = ColourChange::Take {
                from: Bead(seq.strung_after(Step(step.0 - 1)) + 1),
                panel: Panel(0),
                beads: vec![Colour(colour)],
            };
            seq = seq.recoloured(Step(step.0 - 1), &take).unwrap();
            let gap = seq.gap_of(step).unwrap().gap;
            done = step;
            if gap.beads != beads {
                let before = Step(step.0 - 1);
                match seq.as_stitched(before, step, beads, None) {
                    Ok(stitched) => (seq, done) = (stitched.sequence, Step(stitched.step)),
                    // A round keeps a bead, and the edge of a strip has one.
                    Err(Refusal::NoSuchGap | Refusal::EdgeOfStrip) => {}
                    Err(refusal) => panic!("{refusal}"),
                }
            }
        }
        seq
    }

    fn read_again(text: &str) -> Sequence {
        Sequence::new(read::read("again", text.as_bytes()).unwrap().project)
    }

    /// The pattern written for a piece, and the piece that it gives: the needle goes
    /// the same way, and the pattern written for that is the same.
    fn assert_written(bytes: &[u8], seq: &Sequence) -> (String, Sequence) {
        let text = as_worked(bytes, seq).expect("a pattern");
        let again = read_again(&text);
        let passes = |seq: &Sequence| seq.iter().map(|m| m.passes).collect::<Vec<_>>();
        assert_eq!(passes(&again), passes(seq));
        assert_eq!(as_worked(text.as_bytes(), &again).as_ref(), Ok(&text));
        (text, again)
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 60,
            rng_seed: RngSeed::Fixed(12),
            failure_persistence: None,
            ..ProptestConfig::default()
        })]

        /// Whatever was stitched without a plan, the pattern written from it is
        /// proved, and has the same rounds, beads and colours.
        #[test]
        fn free_work_is_written_as_a_pattern_with_the_same_beads(
            gaps in prop::collection::vec((0u8..5, 0u8..2), 0..60),
            is_strip in any::<bool>(),
        ) {
            let begun = if is_strip { begun_as_strip() } else { BEGUN.to_string() };
            let seq = worked_freely(&begun, &gaps);
            let text = as_worked(begun.as_bytes(), &seq).expect("a pattern");
            let again = read_again(&text);
            let seen = |seq: &Sequence| {
                let layout = seq.layout();
                let bead = |bead| (layout.seat(bead).round, layout.seat(bead).index, layout.colour(bead));
                (1..=layout.beads()).map(Bead).map(bead).collect::<Vec<_>>()
            };
            prop_assert_eq!(seen(&again), seen(&seq));
            prop_assert_eq!(&as_worked(text.as_bytes(), &again).expect("a pattern"), &text);
            prop_assert!(again.iter().map(|m| m.passes).eq(seq.iter().map(|m| m.passes)));
            let size = |bead| again.layout().bead_kind(again.layout().colour(bead)).size;
            let (project, goal) = (again.layout().project(), again.goal());
            let report = verify(project, goal, again.jobs(), again.iter(), size);
            prop_assert!(report.is_proved(), "{:?}", report.findings.first());
            // That pattern, worked otherwise again, is written as well.
            let other: Vec<_> = gaps.iter().rev().take(20).copied().collect();
            let other = worked_freely(&text, &other);
            let (project, goal) = (other.layout().project(), other.goal());
            let report = verify(project, goal, other.jobs(), other.iter(), size);
            prop_assert!(report.is_proved(), "{:?}", report.findings.first());
            let written = as_worked(text.as_bytes(), &other).expect("a pattern");
            let again = read_again(&written);
            prop_assert_eq!(seen(&again), seen(&other));
        }
    }

    /// Ways past full beads are written for any piece, a ring of more tetrahedra
    /// among them, and the pattern gives the same steps.
    #[test]
    fn ways_through_the_row_next_door_are_written_with_the_piece() {
        let ring = "tests/data/patterns/draft-ring-of-six.json";
        for (file, tetrahedra) in [(ring, Some(8)), ("patterns/harbour-lantern.json", None)] {
            let bytes = std::fs::read(file).unwrap();
            let mut seq = Sequence::new(read::read(file, &bytes).unwrap().project);
            if let Some(tetrahedra) = tetrahedra {
                let other = Amendment::Tetrahedra(tetrahedra);
                seq = seq.amended(Step(0), &other).unwrap();
            }
            let zips: Vec<Step> = seq
                .iter()
                .filter(|m| m.kind == Kind::Zip)
                .map(|m| m.step)
                .collect();
            for step in zips.iter().step_by(zips.len() / 5) {
                let way = seq.next_door(*step)[0];
                let past = Amendment::Join(way.change);
                seq = seq.amended(Step(step.0 - 1), &past).unwrap();
            }
            let said = seq
                .layout()
                .panels()
                .iter()
                .map(|panel| panel.next_door().len());
            assert!(said.sum::<usize>() > 3);
            assert_written(&bytes, &seq);
        }
    }

    /// A row with gaps as stitched is written for any piece, at a hinge and round an
    /// opening too, and the pattern gives the same steps.
    #[test]
    fn gaps_of_rows_are_written_with_the_piece() {
        let ring = "tests/data/patterns/draft-ring-of-six.json";
        for file in [ring, "patterns/harbour-lantern.json"] {
            let bytes = std::fs::read(file).unwrap();
            let mut seq = Sequence::new(read::read(file, &bytes).unwrap().project);
            let gaps = (1..=seq.steps()).map(Step);
            let gaps: Vec<Step> = gaps
                .filter(|step| seq.row_gap_of(*step).is_some())
                .collect();
            for (nth, step) in gaps.iter().enumerate().step_by(gaps.len() / 9) {
                let beads = 2 * (nth % 2) as u8;
                let at = (step.0..)
                    .map(Step)
                    .find(|at| seq.row_gap_of(*at).is_some())
                    .unwrap();
                seq = seq
                    .as_stitched(Step(at.0 - 1), at, beads, None)
                    .unwrap()
                    .sequence;
            }
            assert!(
                seq.layout()
                    .rows()
                    .filter(|(_, row)| !row.is_as_planned())
                    .count()
                    > 4
            );
            let (text, again) = assert_written(&bytes, &seq);
            let (layout, goal) = (again.layout(), again.goal());
            let size = |bead| layout.bead_kind(layout.colour(bead)).size;
            let report = verify(layout.project(), goal, again.jobs(), again.iter(), size);
            assert!(report.is_proved(), "{:?}", report.findings.first());
            // Sewn half way, it goes on from there.
            for done in [gaps[0].0 - 1, gaps[0].0, gaps[4].0 + 1] {
                let mut record = Record::default();
                record.play(&again.work().facts(0, done), done);
                let project = read::read("again", text.as_bytes()).unwrap().project;
                let resumed = Sequence::resume(project, &[], &record, PlanRule::default());
                assert_eq!(resumed.refused, None);
                assert!(resumed.sequence.iter().eq(again.iter()));
            }
        }
    }

    /// More steps of the maker's own than a pattern may have: none is left out in
    /// silence.
    #[test]
    fn a_piece_with_too_many_steps_of_its_own_is_not_written() {
        let begun = read::read("begun", BEGUN.as_bytes()).unwrap();
        let mut seq = Sequence::new(begun.project);
        for n in 1..=201 {
            let text = format!("look {n}");
            let what = OwnStepKind::Note;
            let own = Amendment::Own(OwnStep { what, text });
            seq = seq.amended(Step(1), &own).unwrap();
            let written = as_worked(BEGUN.as_bytes(), &seq);
            match n {
                200 => assert_eq!(written.unwrap().matches("look").count(), 200),
                201 => assert!(matches!(written, Err(NotWritten::Refused(_)))),
                _ => {}
            }
        }
    }

    /// A list of jobs cannot describe a side that runs with the row, as one
    /// does at a hinge: a ring whose jobs were changed is not written, and the
    /// message says why.
    #[test]
    fn a_side_that_runs_with_a_row_is_written_only_as_part_of_a_ring() {
        let bytes = std::fs::read("tests/data/patterns/draft-ring-of-six.json").unwrap();
        let plain = Sequence::new(read::read("ring", &bytes).unwrap().project);
        assert!(as_worked(&bytes, &plain).is_ok());
        let offered = plain.amendments(Step(0)).into_iter();
        let mut tips =
            offered.filter(|change| change.say(&plain).ends_with("1 tip bead at its corner"));
        let tipped = plain.amended(Step(0), &tips.next().unwrap()).unwrap();
        let refused = as_worked(&bytes, &tipped).unwrap_err();
        assert_eq!(refused, NotWritten::OtherJobs);
        assert!(refused.to_string().contains("sides that run the same way"));
    }

    #[test]
    fn repeats_are_written_in_brackets() {
        let word = |gaps: &[u8]| spell(&GapWord::new(gaps.iter().copied()));
        assert_eq!(word(&[2, 2, 2]), "2*3");
        assert_eq!(word(&[2, 1, 1, 2, 1, 1]), "(2 1*2)*2");
        assert_eq!(word(&[1, 1, 0, 2, 1]), "1*2 0 2 1");
    }
}
