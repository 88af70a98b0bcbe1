//! A call that the program does not understand, or one that asks for help.

use std::io::Write;
use std::process::ExitCode;

use crate::progress::PlainText;

/// Prints help, or what is wrong with the call. A call may quote what it was
/// given by a script or a file name: that loses what could steer a terminal,
/// and the colours with it.
pub(super) fn refused(error: &clap::Error) -> ExitCode {
    let text = error.render().to_string();
    let plain: Vec<String> = text
        .lines()
        .map(|line| PlainText::new(line).to_string())
        .collect();
    let is_plain = plain.iter().map(String::as_str).eq(text.lines());
    if is_plain {
        error.exit();
    }
    // If even this has nowhere to go, the exit code still tells.
    let _ = writeln!(std::io::stderr(), "{}", plain.join("\n"));
    ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(super::exit::WRONG))
}
