//! `draft`: a new pattern file.

use std::io::Write;
use std::path::PathBuf;

use schemars::JsonSchema;
use serde::Serialize;

use super::args;
use super::exit::CommandEnd;
use super::failure::Failure;
use super::line::{Format, Lines};
use super::out;
use super::source;
use crate::beadwork::kaleidocycle::RingVerdict;
use crate::clean::clean;
use crate::pattern;
use crate::plan::draft::{BeadSort, DraftOptions, DraftShape, Measure, PatternDraft, draft};
use crate::plan::page::Unit;
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
    #[schemars(extend("enum" = DraftShape::ALL.map(|(name, _)| name)))]
    shape: &'static str,
    #[schemars(range(min = 1))]
    rounds: u32,
    #[schemars(extend("exclusiveMinimum" = 0))]
    edge_mm: f64,
    #[schemars(extend("exclusiveMinimum" = 0))]
    through_mm: Option<f64>,
    #[schemars(range(min = 1))]
    total_beads: u32,
}

/// Runs the command.
///
/// # Errors
/// A wish that cannot be met, a file that is there, or one that cannot be
/// written.
pub(super) fn run(args: &args::DraftArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let Some(shape) = args.shape else {
        return of_piece(args, tray);
    };
    let drafted = draft(&ask(args, shape))?;
    let file = match &args.output {
        Some(file) => file.clone(),
        None => PathBuf::from(format!("{}.json", shape.name())),
    };
    if file.as_os_str() == "-" {
        out::print(|out| Ok(out.write_all(drafted.text.as_bytes())?))?;
        return Ok(CommandEnd::Done);
    }
    out::save(&file, drafted.text.as_bytes(), args.force)?;
    let name = clean(&file.display().to_string());
    out::print(|out| match args.json.json {
        true => json(args, &drafted, &name, out),
        false => text(&drafted, &name, out),
    })?;
    Ok(CommandEnd::Done)
}

/// A piece as it was worked.
fn of_piece(args: &args::DraftArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let name = args.from.as_deref().unwrap_or_default();
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
    let file = match &args.output {
        Some(file) => file.clone(),
        None => PathBuf::from(format!("{name}.json")),
    };
    if file.as_os_str() == "-" {
        out::print(|out| Ok(out.write_all(text.as_bytes())?))?;
        return Ok(CommandEnd::Done);
    }
    out::save(&file, text.as_bytes(), args.force)?;
    let (file, beads) = (clean(&file.display().to_string()), seq.layout().beads());
    out::print(|out| Ok(writeln!(out, "{file}: {}, {beads} beads", piece.title())?))?;
    Ok(CommandEnd::Done)
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

fn json(
    args: &args::DraftArgs,
    drafted: &PatternDraft,
    file: &str,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let thousandths = |mm: f64| (mm * 1000.0).round() / 1000.0;
    let size = drafted.plan.size;
    Lines::new(out).write(&DraftLine {
        format: Format,
        file: file.to_string(),
        title: &drafted.pattern.title,
        shape: args.shape.map_or("", DraftShape::name),
        rounds: drafted.rounds,
        edge_mm: thousandths(size.edge_mm),
        through_mm: size.through_mm.map(thousandths),
        total_beads: drafted.plan.total_beads,
    })?;
    Ok(())
}

fn text(drafted: &PatternDraft, file: &str, out: &mut dyn Write) -> Result<(), Failure> {
    let plan = &drafted.plan;
    let longest = plan.size.bellied.map(|most| most.edge_mm);
    writeln!(
        out,
        "{file}: {}, panels of {} rounds, edge {}, {} beads",
        drafted.pattern.title,
        drafted.rounds,
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
