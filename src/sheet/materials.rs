//! What the piece takes, with the numbers from the plan.

use askama::Template;

use super::drawing::GreyMark;
use super::template::rendered;
use crate::beadwork::kaleidocycle::RingVerdict;
use crate::beadwork::{BeadKind, Rgb, Sequence};
use crate::plan::Plan;
use crate::plan::flat::Lie;
use crate::plan::level::Level;
use crate::plan::page::{Unit, filters};
use crate::plan::size::WHY_RANGES;

/// Beads of one colour.
#[derive(Clone, Debug, PartialEq)]
pub struct BeadRow {
    /// Its letter.
    pub letter: char,
    /// Its colour in words.
    pub name: String,
    /// Its colour as shown.
    pub colour: Rgb,
    /// Diameter and length.
    pub size: String,
    /// Number of beads in the piece.
    pub count: u32,
    /// What these weigh, g.
    pub grams: f64,
    /// What to buy, spare beads included.
    pub to_buy: String,
    /// The mark of its beads where they are too small for the letter.
    pub mark: Option<GreyMark>,
}

/// The beads that the piece takes.
pub(super) fn beads(kinds: &[BeadKind], plan: &Plan, unit: Unit) -> Vec<BeadRow> {
    let rows = plan.beads.iter().zip(kinds).enumerate();
    let used = rows.filter(|(_, (row, _))| row.count > 0);
    used.map(|(nth, (row, kind))| BeadRow {
        letter: row.letter,
        name: row.name.clone(),
        colour: kind.colour,
        size: {
            let across = fine(kind.size.diameter_mm, unit);
            let along = fine(kind.size.length_mm, unit);
            let measures = format!("{across} across, {along} along the hole");
            match kind.size.name() {
                Some(name) => format!("{name}: {measures}"),
                None => measures,
            }
        },
        count: row.count,
        grams: row.grams,
        to_buy: row.to_buy(),
        mark: GreyMark::of(nth),
    })
    .collect()
}

fn fine(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetres => format!("{mm} mm"),
        Unit::Inches => format!("{:.3} in", mm / crate::plan::size::MM_PER_INCH),
    }
}

/// A length without a decimal point if the decimals are zero.
fn round(length: String) -> String {
    length.replace(".0 mm", " mm")
}

/// From this many lengths of thread on, the handout says how to cut them to
/// fit.
const FITTED: usize = 4;

/// A label (something that the piece takes, or a property) and its value.
pub type LabelledFact = (String, String);

#[derive(Template)]
#[template(path = "sheet/facts.txt", config = "src/askama.toml")]
struct FactsText<'a> {
    plan: &'a Plan,
    unit: Unit,
    level: Level,
}

/// Thread, needle, size and time.
pub(super) fn facts(seq: &Sequence, plan: &Plan, unit: Unit) -> Vec<LabelledFact> {
    let level = Level::of(seq.layout().project().make.shape(), plan.minutes);
    let text = rendered(&FactsText { plan, unit, level });
    let facts = text.lines().filter_map(|line| line.split_once(": "));
    let owned = |(label, words): (&str, &str)| (label.to_string(), words.to_string());
    facts.map(owned).collect()
}
