//! `picture`: the finished piece, or as far as it is worked.

use std::path::Path;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::Format;
use super::{out, source};
use crate::clean::clean;
use crate::picture::{MOST_BEADS, Scene};
use crate::progress::Tray;

/// What was drawn, as `picture --json` prints it; docs/outputs.md says what each
/// field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "The object of picture --json")]
pub(super) struct PictureLine {
    format: Format,
    #[schemars(length(min = 1))]
    file: String,
    #[schemars(extend("enum" = ["png", "svg"]))]
    to: &'static str,
    #[schemars(range(min = 100, max = 1200))]
    width: u16,
    #[schemars(range(min = 100, max = 1200))]
    height: u16,
    worked: Option<u32>,
}

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened, or the file is of another kind,
/// exists, or cannot be written.
pub(super) fn run(args: &args::PictureArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let to = kind(&args.output)?;
    out::may_save(&args.output, args.force)?;
    let source::PatternAt { seq, at, .. } = source::sequence(tray, &args.of.name)?;
    let worked = match (args.worked, at) {
        (false, _) => None,
        (true, Some(step)) => Some(step),
        (true, None) => {
            return Err(Failure::new(
                format!(
                    "{} is a pattern, of which nothing is worked",
                    clean(&args.of.name)
                ),
                "name a piece of the tray, or leave --worked out",
            ));
        }
    };
    let side = usize::from(args.width);
    let scene = Scene::of(&seq, worked, (side, side), 1.0);
    let beads = seq.layout().beads();
    let written = match to {
        "svg" if beads > MOST_BEADS => {
            return Err(Failure::new(
                format!(
                    "{beads} beads are too many for SVG, which draws each of them: {MOST_BEADS} at most"
                ),
                "give a file that ends in .png",
            ));
        }
        "svg" => scene.svg(&seq, worked).into_bytes(),
        _ => scene.png(seq.layout()),
    };
    out::save(&args.output, &written, args.force)?;
    let file = clean(&args.output.display().to_string());
    let line = PictureLine {
        format: Format,
        file,
        to,
        width: args.width,
        height: args.width,
        worked: worked.map(|step| step.0),
    };
    out::answer(args.json, [&line], |out| {
        writeln!(out, "{}: {side} by {side} points", line.file)?;
        Ok(())
    })
}

/// The kind of a file by its extension.
fn kind(file: &Path) -> Result<&'static str, Failure> {
    let ending = file.extension().map(|e| e.to_ascii_lowercase());
    match ending.as_deref().and_then(|e| e.to_str()) {
        Some("png") => Ok("png"),
        Some("svg") => Ok("svg"),
        _ => Err(Failure::new(
            format!(
                "{}: a picture is a PNG or an SVG",
                clean(&file.display().to_string())
            ),
            "end the file's name in .png or .svg",
        )),
    }
}
