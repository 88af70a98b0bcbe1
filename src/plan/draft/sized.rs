//! From a wished size to rounds, and from a stone to the round at which to
//! stop.

use super::{Ask, DraftError, Measure};
use crate::beadwork::bead::{BeadSize, PRESETS};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::{Round, Side};
use crate::plan::stone;

/// The most rounds that a pattern file takes.
const MOST_ROUNDS: u32 = 1000;

/// The longest length that makes sense, mm.
const LONGEST_MM: f64 = 100_000.0;

/// Rounds outside an opening, so that there is work to hold it.
const AROUND: u32 = 3;

/// Rounds of the panels: as asked, or those that come nearest.
pub(super) fn rounds(ask: &Ask) -> Result<u32, DraftError> {
    let bead = size(ask)?;
    match ask.measure {
        None => {
            let usual = ask.shape.usual_rounds();
            // A stone may need more than the usual; the next that can be
            // joined.
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
            // All measures of a shape grow with its edge.
            let unit = ask.shape.size(1.0, ask.tetrahedra).through_mm;
            nearest(ask, across / unit.unwrap_or(1.0), bead)
        }
    }
}

fn size(ask: &Ask) -> Result<BeadSize, DraftError> {
    let size = ask.bead.size();
    let bead = size.ok_or_else(|| DraftError::NoSize(ask.bead.name.clone().unwrap_or_default()))?;
    length("the length of a bead", bead.length_mm)?;
    length("the diameter of a bead", bead.diameter_mm)?;
    length("the hole of a bead", bead.hole_mm)?;
    Ok(bead)
}

fn length(what: &'static str, mm: f64) -> Result<f64, DraftError> {
    match mm > 0.0 && mm <= LONGEST_MM {
        true => Ok(mm),
        false => Err(DraftError::BadMeasure { what, asked: mm }),
    }
}

fn layout(ask: &Ask, rounds: u32) -> PanelLayout {
    PanelLayout::new(&ask.shape.panel(rounds))
}

/// The fewest rounds that a shape is made of: a joined side needs a gap, an
/// inward start two rounds.
fn least(ask: &Ask) -> u32 {
    match (ask.shape.is_joined(), ask.stone_mm) {
        (_, Some(_)) => 3,
        (true, None) => 2,
        (false, None) => 1,
    }
}

/// Whether panels of so many rounds do: `largest` is one of the most.
fn can_be(ask: &Ask, largest: &PanelLayout, rounds: u32) -> bool {
    rounds >= least(ask) && (!ask.shape.is_joined() || largest.corner(Round(rounds)) > 0)
}

fn given(ask: &Ask, rounds: u32) -> Result<u32, DraftError> {
    let least = least(ask);
    if !(least..=MOST_ROUNDS).contains(&rounds) {
        return Err(DraftError::Rounds {
            rounds,
            least,
            most: MOST_ROUNDS,
        });
    }
    let largest = layout(ask, MOST_ROUNDS);
    if can_be(ask, &largest, rounds) {
        return Ok(rounds);
    }
    let other = (1..MOST_ROUNDS).flat_map(|off| [rounds + off, rounds.saturating_sub(off)]);
    let mut other = other.filter(|k| (least..=MOST_ROUNDS).contains(k));
    let nearest = other.find(|&k| can_be(ask, &largest, k));
    Err(DraftError::NoEdge {
        rounds,
        nearest: nearest.unwrap_or(least),
    })
}

/// Rounds whose edge comes nearest to this; of two equally near the fewer.
fn nearest(ask: &Ask, edge_mm: f64, bead: BeadSize) -> Result<u32, DraftError> {
    let largest = layout(ask, MOST_ROUNDS);
    let edge = |k: u32| 2.0 * bead.length_mm * f64::from(edge_beads(&largest, k));
    if edge_mm > edge(MOST_ROUNDS) + bead.length_mm {
        return Err(DraftError::Rounds {
            rounds: (edge_mm / edge(MOST_ROUNDS) * f64::from(MOST_ROUNDS)) as u32,
            least: least(ask),
            most: MOST_ROUNDS,
        });
    }
    let off = |k: &u32| (edge(*k) - edge_mm).abs();
    let fit = (1..=MOST_ROUNDS).filter(|&k| can_be(ask, &largest, k));
    let best = fit.min_by(|a, b| off(a).total_cmp(&off(b)));
    Ok(best.unwrap_or(least(ask)))
}

/// High beads on a side of a panel that stops at a round: a corner bead
/// counts on both its sides.
fn edge_beads(largest: &PanelLayout, rounds: u32) -> u32 {
    let round = Round(rounds);
    largest.on_side(round, Side(0)) + u32::from(largest.corner(round) == 1)
}

/// The round at which the panel with the stone stops.
pub(super) fn stop_at(ask: &Ask, rounds: u32) -> Result<Option<Round>, DraftError> {
    let Some(stone_mm) = ask.stone_mm else {
        return Ok(None);
    };
    length("a stone", stone_mm)?;
    let bead = size(ask)?;
    let kind = layout(ask, rounds);
    let fit = stone::stop_for("face", &kind, stone_mm, bead);
    match &fit.held {
        Some(opening) => Ok(Some(opening.stop_at)),
        None => {
            let large = layout(ask, MOST_ROUNDS);
            let holds = |size: &BeadSize| {
                let fit = stone::stop_for("face", &large, stone_mm, *size);
                fit.held.is_some_and(|o| o.stop_at.0 < rounds)
            };
            let sizes = PRESETS.iter().filter(|(_, size)| holds(size));
            Err(DraftError::Stone {
                sizes: sizes.map(|(name, _)| *name).collect(),
                fit,
            })
        }
    }
}
