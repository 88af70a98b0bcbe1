//! Completion in the shell: commands, options, and the names of pieces and
//! patterns.
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
use crate::progress::{Tray, paths};

/// The environment variable that a shell sets to ask for completions.
const VARIABLE: &str = "THREADMARK_COMPLETE";

/// Answers a shell that asks for completions, and then exits.
pub(super) fn answer() {
    CompleteEnv::with_factory(Cli::command)
        .var(VARIABLE)
        .complete();
}

/// Writes the script that makes a shell ask for completions.
///
/// # Errors
/// When the system refuses.
pub(super) fn script(shell: &dyn EnvCompleter, out: &mut dyn io::Write) -> io::Result<()> {
    shell.write_registration(VARIABLE, "threadmark", "threadmark", "threadmark", out)
}

/// Pieces of the tray.
pub(super) fn pieces(typed: &OsStr) -> Vec<CompletionCandidate> {
    named(names(|tray| tray), typed)
}

/// Pieces that are put away.
pub(super) fn away(typed: &OsStr) -> Vec<CompletionCandidate> {
    named(names(|tray| tray.away()), typed)
}

/// Pieces, patterns that come with the program, and pattern files.
pub(super) fn pieces_and_patterns(typed: &OsStr) -> Vec<CompletionCandidate> {
    let ours = shipped::names().map(String::from);
    let mut names: Vec<String> = names(|tray| tray).into_iter().chain(ours).collect();
    names.sort();
    names.dedup();
    let is_pattern = |path: &Path| path.extension().is_some_and(|end| end == "json");
    let files = PathCompleter::any().filter(is_pattern).complete(typed);
    named(names, typed).into_iter().chain(files).collect()
}

fn names(which: impl Fn(Tray) -> Tray) -> Vec<String> {
    let tray = paths::tray_dir(None).map(|dir| which(Tray::open(&dir)));
    let mut names = tray.and_then(|tray| tray.names()).unwrap_or_default();
    names.sort();
    names
}

fn named(names: Vec<String>, typed: &OsStr) -> Vec<CompletionCandidate> {
    let typed = typed.to_string_lossy();
    let matching = names.into_iter().filter(|name| name.starts_with(&*typed));
    matching.map(CompletionCandidate::new).collect()
}
