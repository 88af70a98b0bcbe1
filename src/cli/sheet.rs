//! `sheet`: a handout that works without the program.

use std::io::{self, IsTerminal as _, Write};
use std::path::Path;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args::{self, JsonOption, PaperName, SheetKind};
use super::failure::Failure;
use super::line::Format;
use super::{out, source};
use crate::beadwork::many;
use crate::clean::clean;
use crate::plan::page::Unit;
use crate::plan::{Plan, Wishes};
use crate::progress::Tray;
use crate::sheet::{Hand, Paper, Sheet, SheetOptions, html, svg, text};

/// What is on the handout, as `sheet --json` prints it; docs/outputs.md says
/// what each field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "The object of sheet --json")]
pub(super) struct SheetLine<'a> {
    format: Format,
    #[schemars(length(min = 1))]
    file: Option<String>,
    #[schemars(extend("enum" = ["html", "svg", "text"]))]
    to: &'static str,
    #[schemars(extend("enum" = ["a4", "letter", null]))]
    paper: Option<&'static str>,
    #[schemars(length(min = 1))]
    title: &'a str,
    #[schemars(range(min = 1))]
    total_beads: u32,
    #[schemars(length(min = 1))]
    panels: Vec<PanelLine<'a>>,
    joins: Vec<JoinLine<'a>>,
    #[schemars(range(min = 1))]
    stages: usize,
    #[schemars(range(min = 1))]
    drawings: usize,
    left_out: LeftOut,
}

/// A kind of panel.
#[derive(Serialize, JsonSchema)]
struct PanelLine<'a> {
    #[schemars(length(min = 1))]
    panel: &'a str,
    #[schemars(range(min = 1))]
    make: usize,
    #[schemars(range(min = 1))]
    beads: u32,
    #[schemars(range(min = 1))]
    rounds: usize,
    #[schemars(extend("enum" = ["beads", "rounds"]))]
    drawn_by: &'static str,
}

/// A kind of join.
#[derive(Serialize, JsonSchema)]
struct JoinLine<'a> {
    #[schemars(length(min = 1))]
    join: &'a str,
    #[schemars(range(min = 1))]
    times: u32,
}

/// What is not on it because there is too much.
#[derive(Serialize, JsonSchema)]
struct LeftOut {
    rounds: u32,
    joins: usize,
    stages: usize,
}

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened, or the file exists or cannot be
/// written.
pub(super) fn run(
    args: &args::SheetArgs,
    tray: &Tray,
    left_handed: bool,
) -> Result<CommandEnd, Failure> {
    let file = args
        .output
        .as_deref()
        .filter(|file| file.as_os_str() != "-");
    let to = kind(args, file)?;
    if args.paper.is_some() && to != SheetKind::Html {
        return Err(Failure::new(
            "--paper is for a handout in HTML; drawings and plain text have no pages",
            "add --to html, or leave --paper out",
        ));
    }
    file.map_or(Ok(()), |file| out::may_save(file, args.force))?;
    let of = source::sequence(tray, &args.of.name)?;
    let plan = Plan::of(&of.seq, Wishes::default());
    let ask = SheetOptions {
        hand: match left_handed || args.left_handed {
            true => Hand::Left,
            false => Hand::Right,
        },
        unit: match args.inches {
            true => Unit::Inches,
            false => Unit::Millimetres,
        },
        paper: args.paper.map(|paper| match paper {
            PaperName::A4 => Paper::A4,
            PaperName::Letter => Paper::Letter,
        }),
        picture: to == SheetKind::Html,
    };
    let sheet = Sheet::of(&of.seq, &plan, &of.title, &of.about, ask);
    let written = match to {
        SheetKind::Html => html::page(&sheet),
        SheetKind::Svg => svg::file(&sheet),
        SheetKind::Text => text::page(&sheet),
    };
    if let Some(file) = file {
        out::save(file, written.as_bytes(), args.force)?;
    }
    let name = file.map(|file| clean(&file.display().to_string()));
    let json = JsonOption { json: args.json };
    let line = line(to, &sheet, name);
    out::answer(json, [&line], |out| match &line.file {
        Some(file) => summary(&sheet, file, out),
        None => Ok(out.write_all(written.as_bytes())?),
    })
}

/// What is to be written: as asked for, or as the name of the file says; without
/// a file, what its reader can read.
fn kind(args: &args::SheetArgs, file: Option<&Path>) -> Result<SheetKind, Failure> {
    let is_read_here = !args.json && io::stdout().is_terminal();
    let Some(file) = file.filter(|_| args.to.is_none()) else {
        return Ok(args.to.unwrap_or(match is_read_here {
            true => SheetKind::Text,
            false => SheetKind::Html,
        }));
    };
    let Some(ending) = file.extension() else {
        return Ok(SheetKind::Html);
    };
    match ending.to_ascii_lowercase().to_str() {
        Some("html" | "htm") => Ok(SheetKind::Html),
        Some("svg") => Ok(SheetKind::Svg),
        Some("txt" | "text") => Ok(SheetKind::Text),
        _ => Err(Failure::new(
            format!(
                "{}: a handout is HTML, SVG or plain text",
                clean(&file.display().to_string())
            ),
            "end the file's name in .html, .svg or .txt, or say with --to what to write",
        )),
    }
}

fn line<'a>(to: SheetKind, sheet: &'a Sheet, file: Option<String>) -> SheetLine<'a> {
    SheetLine {
        format: Format,
        file,
        to: match to {
            SheetKind::Html => "html",
            SheetKind::Svg => "svg",
            SheetKind::Text => "text",
        },
        paper: sheet.paper.map(|paper| match paper {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
        }),
        title: &sheet.title,
        total_beads: sheet.total_beads,
        panels: sheet
            .panels
            .iter()
            .map(|panel| PanelLine {
                panel: &panel.name,
                make: panel.panels.len(),
                beads: panel.beads,
                rounds: panel.rounds.len() + panel.more_rounds as usize,
                drawn_by: match panel.drawing.has_beads() {
                    true => "beads",
                    false => "rounds",
                },
            })
            .collect(),
        joins: sheet
            .joins
            .iter()
            .map(|join| JoinLine {
                join: &join.title,
                times: join.times,
            })
            .collect(),
        stages: sheet.all_stages(),
        drawings: sheet.drawings().count(),
        left_out: LeftOut {
            rounds: sheet.panels.iter().map(|panel| panel.more_rounds).sum(),
            joins: sheet.more_meetings,
            stages: sheet.more_stages,
        },
    }
}

fn summary(sheet: &Sheet, file: &str, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(
        out,
        "{file}: {}, {}, {}, {}",
        sheet.title,
        many(sheet.panels.len(), "kind of panel", "kinds of panel"),
        many(sheet.drawings().count(), "drawing", "drawings"),
        many(sheet.all_stages(), "stage", "stages"),
    )?;
    Ok(())
}
