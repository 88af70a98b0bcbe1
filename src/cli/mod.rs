//! The commands: each has a file of its own, all are defined in `args.rs`.
//!
//! ```text
//! arguments -> args -> source: the pattern   -> a command -> out -> exit code
//!                      or the tray: a piece      \-> failure: error and mend
//! ```

mod args;
mod beads;
mod call;
mod check;
mod completion;
mod draft;
mod exit;
mod failure;
mod file_limit;
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

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

use args::{Cli, Command};
use exit::{CommandEnd, WRONG};
use failure::Failure;

use crate::progress::{Tray, place};

/// Runs the program on the arguments it was called with.
pub fn run() -> ExitCode {
    // If the system refuses, nothing changes, and there is nothing to say to a
    // maker.
    let _ = file_limit::becomes_an_error();
    completion::answer();
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return ended(call::answered(&error)),
    };
    ended(command(cli).map(ExitCode::from))
}

fn ended(outcome: Result<ExitCode, Failure>) -> ExitCode {
    match outcome {
        Ok(code) => code,
        Err(failure) if failure.is_closed_pipe() => ExitCode::SUCCESS,
        Err(failure) => {
            let mut to = std::io::stderr();
            // If even this cannot be written, the exit code still tells.
            let _ = match call::wants_json() {
                true => failure.json(&mut to),
                false => writeln!(to, "{failure}"),
            };
            ExitCode::from(WRONG)
        }
    }
}

fn command(cli: Cli) -> Result<CommandEnd, Failure> {
    let tray = || place::tray_dir(cli.tray.as_deref()).map(|dir| Tray::open(&dir));
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
