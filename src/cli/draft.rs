//! `draft`: a new pattern file.

use std::io::Write;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::Format;
use super::out;
use super::source;
use crate::beadwork::kaleidocycle::RingVerdict;
use crate::pattern;
use crate::plan::draft::{BeadSort, DraftOptions, DraftShape, Measure, PatternDraft, draft};
use crate::plan::json::thousandths;
use crate::plan::page::Unit;
use crate::plan::{Plan, Wishes};
use crate::progress::{Mode, Moment, Tray};

/// What was drafted, as `draft --json` prints it; docs/outputs.md says what
/// each field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "The object of draft --json")]
pub(super) struct DraftLine<'a> {
    format: Format,
    #[schemars(length(min = 1))]
    file: String,
    #[schemars(length(min = 1))]
    title: &'a str,
    #[schemars(extend("enum" = shapes()))]
    shape: Option<&'static str>,
    #[schemars(range(min = 1))]
    rounds: u32,
    #[schemars(extend("exclusiveMinimum" = 0))]
    edge_mm: f64,
    #[schemars(extend("exclusiveMinimum" = 0))]
    through_mm: Option<f64>,
    #[schemars(range(min = 1))]
    total_beads: u32,
}

/// The shapes by name, and none for a piece.
fn shapes() -> Vec<Option<&'static str>> {
    let names = DraftShape::ALL.iter().map(|(name, _)| Some(*name));
    names.chain([None]).collect()
}

/// Runs the command.
///
/// # Errors
/// The request cannot be met, or the file exists or cannot be written.
pub(super) fn run(args: &args::DraftArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let Some(shape) = args.shape else {
        return from_piece(args, tray);
    };
    let draft = draft(&ask(args, shape))?;
    let file = args.output.clone();
    let file = file.unwrap_or_else(|| format!("{}.json", shape.name()).into());
    let Some(name) = out::save_or_print(&file, draft.text.as_bytes(), args.force)? else {
        return Ok(CommandEnd::Done);
    };
    let title = &draft.pattern.title;
    let object = line(&name, title, Some(shape), draft.rounds, &draft.plan);
    out::answer(args.json, [object], |out| text(&draft, &name, out))
}

/// Writes a piece as it was worked.
fn from_piece(args: &args::DraftArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let name = &source::piece_meant(tray, args.from.as_deref().unwrap_or_default());
    let mut piece = tray.open_piece(name, Mode::Look, Moment::now())?;
    let seq = source::of_piece(&mut piece)?;
    let text = pattern::as_worked(piece.pattern(), &seq).map_err(|why| {
        let mend =
            "see `threadmark rounds` and `threadmark steps` of the piece for what was worked";
        Failure::new(
            format!("'{name}' cannot be written as a pattern: {why}"),
            mend,
        )
    })?;
    let file = args.output.clone();
    let file = file.unwrap_or_else(|| format!("{name}.json").into());
    let Some(file) = out::save_or_print(&file, text.as_bytes(), args.force)? else {
        return Ok(CommandEnd::Done);
    };
    let (layout, title) = (seq.layout(), piece.title().as_str());
    let object = std::iter::once_with(|| {
        let rounds = layout.begun_panels().map(|(p, _)| layout.kind(p).rounds());
        let plan = Plan::of(&seq, Wishes::default());
        line(&file, title, None, rounds.max().unwrap_or(1), &plan)
    });
    out::answer(args.json, object, |out| {
        Ok(writeln!(out, "{file}: {title}, {} beads", layout.beads())?)
    })
}

fn ask(args: &args::DraftArgs, shape: DraftShape) -> DraftOptions {
    let rounds = args.rounds.map(Measure::Rounds);
    let edge = args.edge.map(Measure::EdgeMm);
    let across = args.across.map(Measure::AcrossMm);
    DraftOptions {
        shape,
        measure: rounds.or(edge).or(across),
        bead: BeadSort {
            name: args.size.clone(),
            diameter_mm: args.diameter,
            length_mm: args.length,
            hole_mm: args.hole,
            per_gram: args.per_gram,
        },
        colours: args.beads.clone(),
        stone_mm: args.stone,
        tetrahedra: args.tetrahedra,
        title: args.title.clone(),
        thread: args.thread.clone(),
        needle: args.needle,
    }
}

fn line<'a>(
    file: &str,
    title: &'a str,
    shape: Option<DraftShape>,
    rounds: u32,
    plan: &Plan,
) -> DraftLine<'a> {
    DraftLine {
        format: Format,
        file: file.to_string(),
        title,
        shape: shape.map(DraftShape::name),
        rounds,
        edge_mm: thousandths(plan.size.edge_mm),
        through_mm: plan.size.through_mm.map(thousandths),
        total_beads: plan.total_beads,
    }
}

fn text(draft: &PatternDraft, file: &str, out: &mut dyn Write) -> Result<(), Failure> {
    let plan = &draft.plan;
    let longest = plan.size.bellied.map(|most| most.edge_mm);
    writeln!(
        out,
        "{file}: {}, panels of {} rounds, edge {}, {} beads",
        draft.pattern.title,
        draft.rounds,
        Unit::Millimetres.range(plan.size.edge_mm, longest),
        plan.total_beads
    )?;
    match plan.ring.as_ref().map(|ring| ring.verdict) {
        Some(RingVerdict::Tight) => {
            writeln!(out, "  it will turn, tightly: see `threadmark plan {file}`")?
        }
        Some(RingVerdict::Binds) => writeln!(
            out,
            "  it will not turn all the way through: see `threadmark plan {file}`"
        )?,
        Some(RingVerdict::Turns) | None => {}
    }
    writeln!(out, "  see what it takes: threadmark plan {file}")?;
    Ok(())
}
