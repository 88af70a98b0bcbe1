//! What the piece takes, with the numbers from the plan.

use crate::beadwork::kaleidocycle::RingVerdict;
use crate::beadwork::{BeadKind, Rgb, Sequence, many, plural};
use crate::plan::Plan;
use crate::plan::flat::Lie;
use crate::plan::level::Level;
use crate::plan::page::{Unit, hours};
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
    /// What to buy, spare beads included, g.
    pub buy_grams: f64,
}

pub(super) fn beads(kinds: &[BeadKind], plan: &Plan, unit: Unit) -> Vec<BeadRow> {
    let rows = plan.beads.iter().zip(kinds);
    rows.map(|(row, kind)| BeadRow {
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
        buy_grams: row.buy_grams,
    })
    .collect()
}

fn fine(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetres => format!("{mm} mm"),
        Unit::Inches => format!("{:.3} in", mm / crate::plan::size::MM_PER_INCH),
    }
}

/// Beads through which the needle does not pass comfortably every time.
fn full(plan: &Plan) -> Option<LabelledFact> {
    let fullest = &plan.fullest;
    if fullest.tight + fullest.blocked == 0 {
        return None;
    }
    let counts = [
        (fullest.tight, "tight"),
        (fullest.blocked, "too full for this needle"),
    ];
    let counts = counts.iter().filter(|(beads, _)| *beads > 0);
    let parts =
        counts.map(|(n, how)| format!("{} {how}", many(*n as usize, "bead is", "beads are")));
    let mut words = format!("on the last pass {}", parts.collect::<Vec<_>>().join(", "));
    for help in &fullest.help {
        words = format!("{words}; {}", help.words());
    }
    Some(("Full beads", words))
}

/// A length without a decimal point if the decimals are zero.
fn round(length: String) -> String {
    length.replace(".0 mm", " mm")
}

/// From this many lengths of thread on, the handout says how to cut them to
/// fit.
const FITTED: usize = 4;

/// A label (something that the piece takes, or a property) and its value.
pub type LabelledFact = (&'static str, String);

/// Thread, needle, size and time.
pub(super) fn facts(seq: &Sequence, plan: &Plan, unit: Unit) -> Vec<LabelledFact> {
    let threads = plan.threads.len();
    let lengths = plural(threads, "length");
    let mut facts = vec![(
        "Thread",
        format!(
            "{} mm: {lengths} cut to {}, with {} left at each end ({} in all)",
            match plan.thread.name() {
                Some(name) => name.to_string(),
                None => plan.thread.diameter_mm.to_string(),
            },
            unit.thread(plan.thread.cut_mm),
            round(unit.length(plan.thread.tail_mm)),
            unit.thread(plan.thread_mm()),
        ),
    )];
    let alike = plan.threads_alike();
    if alike.len() > 1 {
        let lengths = alike.iter().map(|alike| unit.lengths(alike));
        facts.push(("Thread by lengths", lengths.collect::<Vec<_>>().join("; ")));
    }
    // A short piece should keep a short handout.
    if threads >= FITTED {
        facts.push((
            "Cut to fit",
            format!(
                "{} (in all {})",
                unit.fitted(&plan.cuts).join(", "),
                unit.left_over(&plan.cuts)
            ),
        ));
    }
    if plan.too_long() > 0 {
        facts.push((
            "Cut longer",
            format!(
                "{} of these lengths need up to {} more than is cut",
                plan.too_long(),
                unit.length(plan.over_cut_mm())
            ),
        ));
    }
    let size = plan
        .needle
        .size()
        .map_or(String::new(), |size| format!("size {size}, "));
    facts.push(("Needle", format!("{size}{} mm", plan.needle.diameter_mm)));
    facts.extend(full(plan));
    let measures = plan.size.measures();
    let measures =
        measures.map(|(what, least, most)| format!("{what} {}", unit.range(least, most)));
    let mut measures = measures.collect::<Vec<_>>().join(", ");
    if plan.size.bellied.is_some() {
        measures = format!("{measures} ({WHY_RANGES})");
    }
    facts.push(("Finished size", measures));
    facts.extend(
        plan.panels
            .iter()
            .filter(|p| p.lie != Lie::Flat)
            .map(|p| ("Not flat", format!("panel '{}' {}", p.panel, p.lie.words()))),
    );
    let insert = plan.lining.and_then(|lining| lining.says_of_made());
    facts.extend(insert.map(|words| ("Insert", words)));
    for opening in &plan.openings {
        let (least, most) = opening.holds_mm();
        if opening.incircle_mm > 0.0 {
            facts.push((
                "Opening",
                match opening.stone_mm {
                    Some(mm) => format!("{}: a round stone of {}", opening.panel, unit.length(mm)),
                    None => format!(
                        "{}: holds a round stone of {} to {}",
                        opening.panel,
                        unit.length(least),
                        unit.length(most)
                    ),
                },
            ));
        }
    }
    if let Some(ring) = &plan.ring {
        facts.push(("Turning", {
            let (n, by) = (ring.tetrahedra, unit.length(ring.margin_mm.abs()));
            match ring.verdict {
                RingVerdict::Turns => format!("its {n} tetrahedra turn all the way through"),
                RingVerdict::Tight => {
                    format!("its {n} tetrahedra turn, tight by {by} at the middle")
                }
                RingVerdict::Binds => format!("its {n} tetrahedra bind at the middle by {by}"),
            }
        }));
    }
    facts.extend(plan.order.says_of_hinges().map(|words| ("Hinges", words)));
    facts.push((
        "Time",
        format!(
            "{} steps, about {} at {} s a stitch",
            plan.total_steps,
            hours(plan.minutes),
            (plan.wishes.stitch_seconds * 10.0).round() / 10.0
        ),
    ));
    let level = Level::of(seq.layout().project().make.shape(), plan.minutes);
    facts.push(("How hard", level.name().into()));
    facts
}
