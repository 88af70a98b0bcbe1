//! From the size asked for to rounds, and from a stone to the round at which to
//! stop.

use super::{DraftOptions, Measure, file};
use crate::beadwork::bead::{BeadSize, PRESETS};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::{Round, Sequence, Side};
use crate::pattern;
use crate::plan::{size, stone};
use crate::problem::Problem;

/// The most rounds that a pattern file takes.
const MOST_ROUNDS: u32 = 1000;

/// The longest length accepted, mm.
const LONGEST_MM: f64 = 100_000.0;

/// Rounds outside an opening, so that enough work is left to hold the stone.
const AROUND: u32 = 3;

/// Rounds of the panels: as asked for, or those that come nearest.
pub(super) fn rounds(ask: &DraftOptions) -> Result<u32, Problem> {
    let bead = bead_size(ask)?;
    match ask.measure {
        None => {
            let usual = ask.shape.usual_rounds();
            // A stone may need more rounds than usual: then the next number
            // that can be joined.
            let Some(stone_mm) = ask.stone_mm else {
                return Ok(usual);
            };
            let bead = length("a stone", stone_mm).map(|_| bead)?;
            let largest = layout(ask, MOST_ROUNDS);
            let fit = stone::stop_for("face", &largest, stone_mm, bead);
            let wanted = fit
                .held
                .map_or(usual, |o| (o.stop_at.0 + AROUND).max(usual));
            Ok((wanted..MOST_ROUNDS)
                .find(|&k| can_be(ask, &largest, k))
                .unwrap_or(usual))
        }
        Some(Measure::Rounds(rounds)) => given(ask, rounds),
        Some(Measure::EdgeMm(mm)) => nearest(ask, length("an edge", mm)?, bead),
        Some(Measure::AcrossMm(mm)) => {
            let across = length("a piece", mm)?;
            // All measures of a shape grow in proportion to its edge.
            let unit = ask.shape.size(1.0, ask.tetrahedra).through_mm;
            nearest(ask, across / unit.unwrap_or(1.0), bead)
        }
    }
}

fn bead_size(ask: &DraftOptions) -> Result<BeadSize, Problem> {
    let size = ask.bead.size();
    let bead = size.ok_or_else(|| {
        let name = ask.bead.name.as_deref().unwrap_or_default();
        let names = PRESETS.map(|(name, _)| name).join(", ");
        Problem::new(
            format!("there is no bead size '{name}'"),
            format!("take one of: {names}; and say where yours differ, such as --length 1.28"),
        )
    })?;
    length("the length of a bead", bead.length_mm)?;
    length("the diameter of a bead", bead.diameter_mm)?;
    length("the hole of a bead", bead.hole_mm)?;
    Ok(bead)
}

fn length(what: &'static str, mm: f64) -> Result<f64, Problem> {
    match mm > 0.0 && mm <= LONGEST_MM {
        true => Ok(mm),
        false => Err(Problem::new(
            format!("{what} cannot be {mm} mm"),
            "give a length in mm above 0, up to 100000",
        )),
    }
}

fn layout(ask: &DraftOptions, rounds: u32) -> PanelLayout {
    PanelLayout::new(&ask.shape.panel(rounds))
}

/// The fewest rounds for a shape: a side that is joined needs a gap, and an
/// inward start needs two rounds.
fn least(ask: &DraftOptions) -> u32 {
    match (ask.shape.is_joined(), ask.stone_mm) {
        (_, Some(_)) => 3,
        (true, None) => 2,
        (false, None) => 1,
    }
}

/// Whether panels can have `rounds` rounds; `largest` is a panel with the most
/// rounds.
fn can_be(ask: &DraftOptions, largest: &PanelLayout, rounds: u32) -> bool {
    rounds >= least(ask) && (!ask.shape.is_joined() || largest.corner(Round(rounds)) > 0)
}

fn given(ask: &DraftOptions, rounds: u32) -> Result<u32, Problem> {
    let least = least(ask);
    if !(least..=MOST_ROUNDS).contains(&rounds) {
        return Err(rounds_out_of_range(ask, rounds));
    }
    let largest = layout(ask, MOST_ROUNDS);
    if can_be(ask, &largest, rounds) {
        return Ok(rounds);
    }
    let other = (1..MOST_ROUNDS).flat_map(|off| [rounds + off, rounds.saturating_sub(off)]);
    let mut other = other.filter(|k| (least..=MOST_ROUNDS).contains(k));
    let nearest = other.find(|&k| can_be(ask, &largest, k));
    let nearest = nearest.unwrap_or(least);
    Err(Problem::new(
        format!("panels of {rounds} rounds end with gaps at their corners and cannot be joined"),
        format!("take {nearest} rounds"),
    ))
}

/// Reports that a panel cannot have this many or this few rounds.
fn rounds_out_of_range(ask: &DraftOptions, rounds: u32) -> Problem {
    let (least, most) = (least(ask), MOST_ROUNDS);
    Problem::new(
        format!("a panel here has {least} to {most} rounds, not {rounds}"),
        format!("take {least} to {most} rounds, or another size of bead"),
    )
}

/// Rounds whose edge comes nearest to this length, or whose greatest width does to
/// that of such an edge; the fewer if two are equally near. Of a range the middle
/// counts.
fn nearest(ask: &DraftOptions, edge_mm: f64, bead: BeadSize) -> Result<u32, Problem> {
    let largest = layout(ask, MOST_ROUNDS);
    let edge = |k: u32| 2.0 * bead.length_mm * f64::from(edge_beads(&largest, k));
    if edge_mm > edge(MOST_ROUNDS) + bead.length_mm {
        let rounds = (edge_mm / edge(MOST_ROUNDS) * f64::from(MOST_ROUNDS)) as u32;
        return Err(rounds_out_of_range(ask, rounds));
    }
    let fits = (1..=MOST_ROUNDS).filter(|&k| can_be(ask, &largest, k));
    let mut all: Vec<u32> = fits.collect();
    if ask.shape.is_joined() {
        // The middle of a range is no less than its least.
        let enough = all.partition_point(|&k| edge(k) < edge_mm);
        all.truncate(enough + 1);
    }
    // Every size grows with the rounds.
    let longer = all.partition_point(|&k| middle_mm(ask, k, edge(k)) < edge_mm);
    let near = all[longer.saturating_sub(1)..].iter().take(2);
    let near = near.map(|&k| (k, (middle_mm(ask, k, edge(k)) - edge_mm).abs()));
    let nearest = near.min_by(|(_, a), (_, b)| a.total_cmp(b));
    Ok(nearest.map_or(least(ask), |(rounds, _)| rounds))
}

/// The edge of a draft of this many rounds, or if its width is asked for the edge
/// of plates of that width: of a range the middle. `edge_mm` is the edge of plates.
fn middle_mm(ask: &DraftOptions, rounds: u32, edge_mm: f64) -> f64 {
    let text = pattern::write(&file::file(ask, rounds, None));
    let Ok(read) = pattern::read("the draft", text.as_bytes()) else {
        return f64::MAX;
    };
    let lying = || read.project.lying_edge_mm(0, &layout(ask, rounds));
    match (ask.shape.is_joined(), ask.measure) {
        // A panel by itself lies as long as its beads need.
        (false, _) => lying(),
        (true, Some(Measure::AcrossMm(_))) => {
            let size = size::size(&Sequence::new(read.project));
            let most = size.bellied.and_then(|most| most.through_mm);
            let both = size.through_mm.zip(most);
            both.map_or(edge_mm, |(least, most)| {
                edge_mm * (1.0 + most / least) / 2.0
            })
        }
        (true, _) => (edge_mm + lying().max(edge_mm)) / 2.0,
    }
}

/// Up beads on a side of a panel that stops at a round: a corner bead counts
/// for both its sides.
fn edge_beads(largest: &PanelLayout, rounds: u32) -> u32 {
    let round = Round(rounds);
    largest.on_side(round, Side(0)) + u32::from(largest.corner(round) == 1)
}

/// The round at which the panel with the stone stops.
pub(super) fn stop_at(ask: &DraftOptions, rounds: u32) -> Result<Option<Round>, Problem> {
    let Some(stone_mm) = ask.stone_mm else {
        return Ok(None);
    };
    length("a stone", stone_mm)?;
    let bead = bead_size(ask)?;
    let kind = layout(ask, rounds);
    let fit = stone::stop_for("face", &kind, stone_mm, bead);
    if let Some(opening) = &fit.held {
        return Ok(Some(opening.stop_at));
    }
    let large = layout(ask, MOST_ROUNDS);
    let holds = |size: &BeadSize| {
        let fit = stone::stop_for("face", &large, stone_mm, *size);
        fit.held.is_some_and(|o| o.stop_at.0 < rounds)
    };
    let stones = fit.nearest.iter().map(|opening| {
        let (least, most) = opening.holds_mm();
        format!("take a stone of {least:.1} to {most:.1} mm")
    });
    let rounds = stone::stop_for("face", &large, stone_mm, bead).held;
    let rounds = rounds.map(|o| format!("take {} rounds", o.stop_at.0 + AROUND));
    let sizes = PRESETS.iter().filter(|(_, size)| holds(size));
    let sizes = sizes.map(|(name, _)| format!("take beads of size {name}"));
    let mends: Vec<String> = rounds.into_iter().chain(stones).chain(sizes).collect();
    let mend = match mends.is_empty() {
        true => "take a larger stone, or more rounds".to_string(),
        false => mends.join(", or "),
    };
    let what = format!("no opening holds a stone of {stone_mm} mm");
    Err(Problem::new(what, mend))
}
