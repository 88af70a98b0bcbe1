//! `pieces`: the pieces of the tray.

use std::io::Write;
use std::path::Path;

use chrono::{DateTime, Local, SecondsFormat, Utc};
use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args::{self, JsonOption, PiecesAction};
use super::failure::Failure;
use super::line::Format;
use super::table::{Align, Table};
use super::{open, out};
use crate::clean::clean;
use crate::progress::{Condition, Mode, Moment, PieceSummary, Tray};
use crate::tracking::pace::WorkDays;

/// One piece as `pieces --json` prints it; docs/outputs.md says what each
/// field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "A line of pieces --json")]
pub(super) struct PieceLine<'a> {
    format: Format,
    #[schemars(length(min = 1))]
    piece: &'a str,
    title: &'a str,
    step: u32,
    #[schemars(range(min = 1))]
    steps: Option<u32>,
    finished: bool,
    #[schemars(extend("format" = "date-time"))]
    last_worked: Option<String>,
    #[schemars(length(min = 1))]
    path: String,
    #[schemars(extend("enum" = ["sound", "damaged", "newer", "unreadable"]))]
    condition: &'static str,
    note: Option<String>,
}

/// The width of a chart in text, columns.
const COLUMNS: usize = 80;

/// Runs the command.
///
/// # Errors
/// The tray cannot be read, or the action fails.
pub(super) fn run(args: &args::PiecesArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    // The tray where the piece is now, its name there, and what was done.
    let (tray, name, done) = match &args.action {
        None => return list(args, tray),
        Some(PiecesAction::Days { piece }) => return days(tray, &piece.piece, args.json),
        Some(PiecesAction::Rename { piece, name }) => {
            let now = tray.rename(&piece.piece, name)?;
            let done = format!("'{}' is now '{now}'.", piece.piece);
            (tray.clone(), now, done)
        }
        Some(PiecesAction::Export {
            piece,
            output,
            force,
        }) => {
            let name = piece.piece.clone();
            let bytes = tray.export(&name)?;
            let file = output.clone();
            let file = file.unwrap_or_else(|| format!("{name}.piece").into());
            let Some(file) = out::save_or_print(&file, &bytes, *force)? else {
                return Ok(CommandEnd::Done);
            };
            let done = format!(
                "{file} holds '{name}'; `threadmark pieces import {file}` brings it into a tray."
            );
            (tray.clone(), name, done)
        }
        Some(PiecesAction::Import { file }) => {
            let name = open::import(tray, file)?;
            let mut done =
                format!("'{name}' is in the tray; `threadmark stitch {name}` goes on with it.");
            done.extend(tray.other_copies(&name).map(|copies| format!(" {copies}")));
            (tray.clone(), name, done)
        }
        Some(PiecesAction::PutAway { piece }) => {
            let now = tray.put_away(&piece.piece)?;
            let done = format!(
                "'{}' is put away; `threadmark pieces bring-back {now}` brings it back.",
                piece.piece
            );
            (tray.away(), now, done)
        }
        Some(PiecesAction::BringBack { piece }) => {
            let now = tray.bring_back(piece)?;
            let done = format!("'{now}' is back; `threadmark stitch {now}` goes on with it.");
            (tray.clone(), now, done)
        }
    };
    let pieces = tray.pieces()?;
    let piece = pieces.iter().filter(|piece| piece.name == name);
    out::answer(args.json, piece.map(line), |out| {
        Ok(writeln!(out, "{}", clean(&done))?)
    })
}

/// Prints the pieces of the tray, or those that are put away.
fn list(args: &args::PiecesArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let pieces = match args.away {
        true => tray.away().pieces()?,
        false => tray.pieces()?,
    };
    out::answer(args.json, pieces.iter().map(line), |out| {
        match args.away && pieces.is_empty() {
            true => Ok(writeln!(out, "Nothing is put away.")?),
            false => text(&pieces, out),
        }
    })
}

/// One day as `pieces days --json` prints it; docs/outputs.md says what each field
/// means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "A line of pieces days --json")]
pub(super) struct DayLine {
    format: Format,
    #[schemars(extend("format" = "date"))]
    date: String,
    #[schemars(range(min = 1))]
    movements: u32,
    minutes: f64,
}

/// Prints the days on which a piece was worked on.
fn days(tray: &Tray, name: &str, json: JsonOption) -> Result<CommandEnd, Failure> {
    let mut piece = tray.open_piece(name, Mode::Look, Moment::now())?;
    let mut days = WorkDays::default();
    piece
        .recent(usize::MAX, |entry| days.add(entry))
        .map_err(|error| Failure::new(error.to_string(), "check that its journal can be read"))?;
    let worked = days.days().into_iter();
    let lines = worked.map(|day| DayLine {
        format: Format,
        date: day.date.to_string(),
        movements: day.movements,
        minutes: (day.worked.as_secs_f64() / 6.0).round() / 10.0,
    });
    out::answer(json, lines, |out| {
        let chart = days.chart(COLUMNS, Some('#'));
        if chart.is_empty() {
            writeln!(out, "No movement is made yet.")?;
        }
        Ok(chart.iter().try_for_each(|line| writeln!(out, "{line}"))?)
    })
}

fn line(piece: &PieceSummary) -> PieceLine<'_> {
    let date = piece.last_worked.and_then(Moment::date);
    PieceLine {
        format: Format,
        piece: &piece.name,
        title: piece.title.as_str(),
        step: piece.step,
        steps: piece.steps,
        finished: piece.finished,
        last_worked: date.map(|d| d.to_rfc3339_opts(SecondsFormat::Secs, true)),
        path: printable(&piece.dir),
        condition: condition(&piece.condition),
        note: note(&piece.condition),
    }
}

pub(super) fn text(pieces: &[PieceSummary], out: &mut dyn Write) -> Result<(), Failure> {
    if pieces.is_empty() {
        writeln!(
            out,
            "The tray is empty. `threadmark stitch` begins the demo piece."
        )?;
        return Ok(());
    }
    let mut table = Table::new([
        ("piece", Align::Left),
        ("title", Align::Left),
        ("step", Align::Right),
        ("of", Align::Right),
        ("", Align::Right),
        ("last worked", Align::Left),
    ]);
    for piece in pieces {
        let date = piece.last_worked.and_then(Moment::date);
        table.push([
            piece.name.clone(),
            piece.title.to_string(),
            piece.step.to_string(),
            piece.steps.map_or("?".into(), |steps| steps.to_string()),
            progress(piece),
            date.map_or("never".into(), local),
        ]);
    }
    table.write(out)?;
    if let Some(tray) = pieces.first().and_then(|piece| piece.dir.parent()) {
        writeln!(out, "Each is a directory of {}.", printable(tray))?;
    }
    for piece in pieces {
        if let Some(note) = note(&piece.condition) {
            writeln!(out, "{}: {note}", piece.name)?;
        }
    }
    Ok(())
}

/// A path, safe to show.
fn printable(path: &Path) -> String {
    clean(&path.display().to_string())
}

/// How much is done, as a percentage; `done` only when all of it is.
fn progress(piece: &PieceSummary) -> String {
    match piece.steps {
        Some(_) if piece.finished => "done".into(),
        Some(steps) if steps > 0 => {
            let hundredths = u64::from(piece.step) * 100 / u64::from(steps);
            format!("{}%", hundredths.min(99))
        }
        _ => String::new(),
    }
}

/// A moment in local time.
fn local(date: DateTime<Utc>) -> String {
    let date = date.with_timezone(&Local);
    date.format("%Y-%m-%d %H:%M").to_string()
}

fn condition(condition: &Condition) -> &'static str {
    match condition {
        Condition::Sound => "sound",
        Condition::Damaged(_) => "damaged",
        Condition::Newer(_) => "newer",
        Condition::Unreadable(_) => "unreadable",
    }
}

/// What the maker should know about a piece that is not sound.
fn note(condition: &Condition) -> Option<String> {
    match condition {
        Condition::Sound => None,
        Condition::Damaged(damage) => Some(damage.to_string()),
        Condition::Newer(version) => Some(format!(
            "is of format {version}, newer than this threadmark reads"
        )),
        Condition::Unreadable(why) => Some(format!("cannot be read: {why}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(step: u32, steps: Option<u32>) -> PieceSummary {
        PieceSummary {
            name: "evening-star".into(),
            title: "Evening star".into(),
            dir: "/tray/evening-star".into(),
            source: None,
            pattern_crc32: None,
            begun: None,
            step,
            steps,
            last_worked: Some(Moment(1_700_000_000_000)),
            finished: steps == Some(step),
            condition: Condition::Sound,
        }
    }

    #[test]
    fn a_piece_in_json() {
        assert_eq!(
            serde_json::to_string(&line(&piece(41, Some(400)))).unwrap(),
            "{\"format\":1,\"piece\":\"evening-star\",\"title\":\"Evening star\",\"step\":41,\"steps\":400,\
             \"finished\":false,\"last_worked\":\"2023-11-14T22:13:20Z\",\
             \"path\":\"/tray/evening-star\",\"condition\":\"sound\",\"note\":null}"
        );
    }

    #[test]
    fn nearly_done_is_not_done() {
        assert_eq!(progress(&piece(399, Some(400))), "99%");
        assert_eq!(progress(&piece(400, Some(400))), "done");
        assert_eq!(progress(&piece(3, None)), "");
    }

    #[test]
    fn an_empty_tray_says_how_to_begin() {
        let mut out = Vec::new();
        text(&[], &mut out).unwrap();
        assert!(
            String::from_utf8(out)
                .unwrap()
                .contains("`threadmark stitch`")
        );
    }
}
