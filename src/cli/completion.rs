//! Completion in the shell: commands, options, and the names that there are.
//!
//! The shell calls the program with [`VARIABLE`] set, and the library answers
//! from the definitions of the commands.

use std::ffi::OsStr;
use std::io;
use std::path::Path;

use clap::CommandFactory;
use clap_complete::engine::{CompletionCandidate, PathCompleter, ValueCompleter};
use clap_complete::env::{CompleteEnv, EnvCompleter};

use super::args::Cli;
use super::shipped;
use crate::progress::{Tray, place};

/// The environment variable by which a shell asks.
const VARIABLE: &str = "THREADMARK_COMPLETE";

/// Answers a shell that asks, and ends the program then.
pub(super) fn answer() {
    CompleteEnv::with_factory(Cli::command)
        .var(VARIABLE)
        .complete();
}

/// The lines by which a shell learns to ask.
///
/// # Errors
/// When the system refuses.
pub(super) fn script(shell: &dyn EnvCompleter, out: &mut dyn io::Write) -> io::Result<()> {
    shell.write_registration(VARIABLE, "threadmark", "threadmark", "threadmark", out)
}

/// Pieces of the tray.
pub(super) fn pieces(begun: &OsStr) -> Vec<CompletionCandidate> {
    named(names(|tray| tray), begun)
}

/// Pieces that are put away.
pub(super) fn away(begun: &OsStr) -> Vec<CompletionCandidate> {
    named(names(|tray| tray.away()), begun)
}

/// Pieces, patterns that come with the program, and pattern files.
pub(super) fn pieces_and_patterns(begun: &OsStr) -> Vec<CompletionCandidate> {
    let ours = shipped::names().map(String::from);
    let mut names: Vec<String> = names(|tray| tray).into_iter().chain(ours).collect();
    names.sort();
    names.dedup();
    let is_pattern = |path: &Path| path.extension().is_some_and(|end| end == "json");
    let files = PathCompleter::any().filter(is_pattern).complete(begun);
    named(names, begun).into_iter().chain(files).collect()
}

fn names(which: impl Fn(Tray) -> Tray) -> Vec<String> {
    let tray = place::tray_dir(None).map(|dir| which(Tray::open(&dir)));
    let mut names = tray.and_then(|tray| tray.names()).unwrap_or_default();
    names.sort();
    names
}

fn named(names: Vec<String>, begun: &OsStr) -> Vec<CompletionCandidate> {
    let begun = begun.to_string_lossy();
    let fitting = names.into_iter().filter(|name| name.starts_with(&*begun));
    fitting.map(CompletionCandidate::new).collect()
}
