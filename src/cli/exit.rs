//! What the program ends with.

use std::process::ExitCode;

/// How a command ended that did its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum CommandEnd {
    /// Done; or the answer is yes.
    Done,
    /// It looked, and the answer is no.
    No,
}

impl From<CommandEnd> for ExitCode {
    fn from(outcome: CommandEnd) -> ExitCode {
        match outcome {
            CommandEnd::Done => ExitCode::SUCCESS,
            CommandEnd::No => ExitCode::from(1),
        }
    }
}

/// The call or the file is wrong.
pub(super) const WRONG: u8 = 2;
