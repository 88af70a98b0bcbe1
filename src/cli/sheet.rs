//! `sheet`: a handout that works without the program.

use std::io::Write;
use std::path::Path;

use serde::Serialize;

use super::args::{self, PaperName, SheetKind};
use super::exit::Outcome;
use super::failure::Failure;
use super::line::{FORMAT, Lines};
use super::save::save;
use super::{out, source};
use crate::beadwork::many;
use crate::clean::clean;
use crate::plan::page::Unit;
use crate::plan::{Plan, Wishes};
use crate::progress::Tray;
use crate::sheet::{Ask, Hand, Paper, Sheet, html, svg, text};

/// What is on the handout, as `sheet --json` prints it; docs/outputs.md says
/// what each field means.
#[derive(Serialize)]
struct SheetLine<'a> {
    format: u8,
    file: Option<String>,
    to: &'static str,
    paper: Option<&'static str>,
    title: &'a str,
    total_beads: u32,
    panels: Vec<PanelLine<'a>>,
    joins: Vec<JoinLine<'a>>,
    stages: usize,
    drawings: usize,
    left_out: LeftOut,
}

/// A kind of panel.
#[derive(Serialize)]
struct PanelLine<'a> {
    panel: &'a str,
    make: usize,
    beads: u32,
    rounds: usize,
    drawn_by: &'static str,
}

/// A kind of join.
#[derive(Serialize)]
struct JoinLine<'a> {
    join: &'a str,
    times: u32,
}

/// What is not on it because there is too much.
#[derive(Serialize)]
struct LeftOut {
    rounds: u32,
    joins: usize,
    stages: usize,
}

/// Runs the command.
///
/// # Errors
/// A pattern or piece that cannot be had, a file that is there, or one that cannot be
/// written.
pub(super) fn run(args: &args::Sheet, tray: &Tray, left_handed: bool) -> Result<Outcome, Failure> {
    if args.paper.is_some() && args.to != SheetKind::Html {
        return Err(Failure::PaperOfPage);
    }
    let of = source::place(tray, &args.of.name)?;
    let plan = Plan::of(&of.seq, Wishes::default());
    let ask = Ask {
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
    };
    let sheet = Sheet::of(&of.seq, &plan, &of.title, &of.about, ask);
    let written = match args.to {
        SheetKind::Html => html::page(&sheet),
        SheetKind::Svg => svg::file(&sheet),
        SheetKind::Text => text::page(&sheet),
    };
    let file = args
        .output
        .as_deref()
        .filter(|file| file.as_os_str() != "-");
    if let Some(file) = file {
        save(file, written.as_bytes(), args.force)?;
    }
    let name = file.map(|file| clean(&file.display().to_string()));
    out::print(|out| {
        match (args.json, file) {
            (true, _) => Lines::new(out).write(&line(args, &sheet, name))?,
            (false, Some(file)) => told(&sheet, file, out)?,
            (false, None) => out.write_all(written.as_bytes())?,
        }
        Ok(())
    })?;
    Ok(Outcome::Done)
}

fn line<'a>(args: &args::Sheet, sheet: &'a Sheet, file: Option<String>) -> SheetLine<'a> {
    SheetLine {
        format: FORMAT,
        file,
        to: match args.to {
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
        stages: sheet.stages.len() + sheet.more_stages,
        drawings: sheet.drawings().count(),
        left_out: LeftOut {
            rounds: sheet.panels.iter().map(|panel| panel.more_rounds).sum(),
            joins: sheet.more_meetings,
            stages: sheet.more_stages,
        },
    }
}

fn told(sheet: &Sheet, file: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(
        out,
        "{}: {}, {}, {}, {}",
        clean(&file.display().to_string()),
        sheet.title,
        many(sheet.panels.len(), "kind of panel", "kinds of panel"),
        many(sheet.drawings().count(), "drawing", "drawings"),
        many(sheet.stages.len() + sheet.more_stages, "stage", "stages"),
    )?;
    Ok(())
}
