//! A call that the program does not understand, or one that asks for help.

use std::io::{self, Write};
use std::process::ExitCode;

use super::failure::Failure;
use crate::progress::PlainText;

/// Whether errors are to be JSON too. A call that is not understood has no
/// options yet, so the arguments are looked through as they are.
pub(super) fn wants_json() -> bool {
    std::env::args_os().any(|arg| arg == "--json")
}

/// Prints help, or what is wrong with the call. The text may quote a script's
/// arguments or a file name: what could control a terminal is taken out, and
/// with it the colours.
///
/// # Errors
/// Help that was asked for and could not be printed.
pub(super) fn answered(error: &clap::Error) -> Result<ExitCode, Failure> {
    let text = error.render().to_string();
    if error.use_stderr() && wants_json() {
        let (says, more) = text.split_once("\n\n").unwrap_or((&text, ""));
        let says = says.strip_prefix("error: ").unwrap_or(says);
        // If it cannot be written, the exit code still tells.
        let _ = Failure::new(says, more).json(&mut io::stderr());
        return Ok(ExitCode::from(super::exit::WRONG));
    }
    let plain: Vec<String> = text
        .lines()
        .map(|line| PlainText::new(line).to_string())
        .collect();
    let is_plain = plain.iter().map(String::as_str).eq(text.lines());
    let printed = match is_plain {
        true => error.print().and_then(|()| io::stdout().flush()),
        false => writeln!(io::stderr(), "{}", plain.join("\n")),
    };
    // If an error cannot be written, the exit code still tells.
    if !error.use_stderr() {
        printed?;
    }
    Ok(ExitCode::from(
        u8::try_from(error.exit_code()).unwrap_or(super::exit::WRONG),
    ))
}
