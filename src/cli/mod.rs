//! The commands: each has a file of its own, all are defined in `args.rs`.
//!
//! ```text
//! arguments -> args -> source: the pattern   -> a command -> out -> exit code
//!                      or the tray: a piece      \-> failure: error and mend
//! ```

mod args;
mod beads;
mod check;
mod completion;
mod draft;
mod failure;
mod free;
mod jobs;
mod line;
mod locate;
mod manual;
mod open;
mod out;
mod patterns;
mod picture;
mod pieces;
mod plan;
mod rounds;
mod sheet;
mod shipped;
mod source;
mod step_line;
mod steps;
mod stitch;
mod table;
mod value;
mod verify;

use std::io::{self, Write};
use std::process::ExitCode;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, FromArgMatches};

use args::{Cli, Command};
use failure::Failure;

use crate::progress::{PlainText, Tray, paths};

/// Runs the program on the arguments it was called with.
pub fn run() -> ExitCode {
    // If this fails, the program works as before; a maker need not know.
    let _ = ignore_file_size_signal();
    completion::answer();
    let cli = match parsed() {
        Ok(cli) => cli,
        Err(error) => return exit_code(print_call_error(&error)),
    };
    exit_code(command(cli).map(ExitCode::from))
}

/// The arguments. A number below zero after an option is its value, so that the
/// option says what it expects.
///
/// # Errors
/// They are wrong, or only ask for help.
fn parsed() -> Result<Cli, clap::Error> {
    let takes_any = |arg: clap::Arg| match arg.is_positional() || !arg.get_action().takes_values() {
        true => arg,
        false => arg.allow_negative_numbers(true),
    };
    let command = Cli::command().mut_subcommands(|command| command.mut_args(takes_any));
    let matches = command.try_get_matches().map_err(with_quotes)?;
    Cli::from_arg_matches(&matches)
}

/// Adds how a name of several words is written, if one word too many is given.
fn with_quotes(mut error: clap::Error) -> clap::Error {
    let one_more = match error.get(ContextKind::InvalidArg) {
        Some(ContextValue::String(arg)) => !arg.starts_with('-'),
        _ => false,
    };
    if one_more && error.kind() == ErrorKind::UnknownArgument {
        let tip = "put a name of several words in quotes, as in 'Evening star'";
        let tips = ContextValue::StyledStrs(vec![tip.into()]);
        error.insert(ContextKind::Suggested, tips);
    }
    error
}

fn exit_code(outcome: Result<ExitCode, Failure>) -> ExitCode {
    match outcome {
        Ok(code) => code,
        Err(failure) if failure.is_closed_pipe() => ExitCode::SUCCESS,
        Err(failure) => {
            let mut to = std::io::stderr();
            // If this cannot be written, the exit code still says it.
            let _ = match wants_json() {
                true => failure.json(&mut to),
                false => writeln!(to, "{failure}"),
            };
            ExitCode::from(EXIT_ERROR)
        }
    }
}

fn command(cli: Cli) -> Result<CommandEnd, Failure> {
    let tray = || paths::tray_dir(cli.tray.as_deref()).map(|dir| Tray::open(&dir));
    match cli.command {
        None => stitch::no_command(&tray()?, cli.screen),
        Some(Command::Stitch(args)) => {
            stitch::run(&args, &tray()?, args.screen.clone().or(cli.screen))
        }
        Some(Command::Patterns(args)) => patterns::run(&args),
        Some(Command::Rounds(args)) => rounds::run(&args, &tray()?),
        Some(Command::Steps(args)) => steps::run(&args, &tray()?),
        Some(Command::Beads(args)) => beads::run(&args, &tray()?),
        Some(Command::Verify(args)) => verify::run(&args, &tray()?),
        Some(Command::Plan(args)) => plan::run(&args, &tray()?),
        Some(Command::Sheet(args)) => sheet::run(&args, &tray()?, cli.screen.left_handed),
        Some(Command::Picture(args)) => picture::run(&args, &tray()?),
        Some(Command::Draft(args)) => draft::run(&args, &tray()?),
        Some(Command::Check(args)) => check::run(&args, &tray()?),
        Some(Command::Locate(args)) => locate::run(&args, &tray()?),
        Some(Command::Pieces(args)) => pieces::run(&args, &tray()?),
        Some(Command::Manual(args)) => manual::run(&args),
    }
}

/// The result of a command that could do its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CommandEnd {
    /// Done, or the answer is yes.
    Done,
    /// The answer is no.
    No,
}

impl From<CommandEnd> for ExitCode {
    fn from(end: CommandEnd) -> ExitCode {
        match end {
            CommandEnd::Done => ExitCode::SUCCESS,
            CommandEnd::No => ExitCode::from(1),
        }
    }
}

/// The exit code if the command line or a file is wrong.
const EXIT_ERROR: u8 = 2;

/// Whether errors are printed as JSON. It must work for arguments that cannot
/// be parsed, so it looks at the raw arguments.
fn wants_json() -> bool {
    std::env::args_os().any(|arg| arg == "--json")
}

/// Prints help, or what is wrong with the command line. The text may quote
/// arguments or file names. If these contain control characters, they are
/// removed, and the colours with them.
///
/// # Errors
/// Help that was asked for cannot be printed.
fn print_call_error(error: &clap::Error) -> Result<ExitCode, Failure> {
    let text = error.render().to_string();
    if error.use_stderr() && wants_json() {
        let (error_text, more) = text.split_once("\n\n").unwrap_or((&text, ""));
        let error_text = error_text.strip_prefix("error: ").unwrap_or(error_text);
        // If this cannot be written, the exit code still says it.
        let _ = Failure::new(error_text, more).json(&mut io::stderr());
        return Ok(ExitCode::from(EXIT_ERROR));
    }
    let printable: Vec<String> = text
        .lines()
        .map(|line| PlainText::new(line).to_string())
        .collect();
    let is_unchanged = printable.iter().map(String::as_str).eq(text.lines());
    let printed = match is_unchanged {
        true => error.print().and_then(|()| io::stdout().flush()),
        false => writeln!(io::stderr(), "{}", printable.join("\n")),
    };
    // If an error cannot be written, the exit code still says it.
    if !error.use_stderr() {
        printed?;
    }
    Ok(ExitCode::from(
        u8::try_from(error.exit_code()).unwrap_or(EXIT_ERROR),
    ))
}

/// Makes a write beyond the user's file size limit an error like that of a full
/// disk, which the program can report. Otherwise the signal would end the
/// program.
///
/// # Errors
/// The signal handler cannot be registered.
#[cfg(unix)]
fn ignore_file_size_signal() -> io::Result<()> {
    use signal_hook::{consts::SIGXFSZ, flag};
    use std::sync::{Arc, atomic::AtomicBool};
    flag::register(SIGXFSZ, Arc::new(AtomicBool::new(false))).map(drop)
}

/// There is no such signal on this system.
#[cfg(not(unix))]
fn ignore_file_size_signal() -> io::Result<()> {
    Ok(())
}
