//! Why a sitting failed.

use crate::progress;
use std::io;

/// Why a sitting failed.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// Input or output is not a terminal.
    #[error(
        "input or output is not a terminal, and the full screen needs one: use the plain mode, \
         which prints one line a step"
    )]
    NotATerminal,
    /// The terminal, or the input or output of the plain mode, failed.
    #[error("the terminal failed: {0}")]
    Io(#[from] io::Error),
    /// The tray cannot be read.
    #[error(transparent)]
    Tray(progress::Error),
    /// Some of the last steps could not be saved.
    #[error("the last steps were not kept: {0}")]
    NotKept(progress::NotKept),
}

impl Error {
    pub(super) fn opening(error: io::Error) -> Error {
        match error.kind() {
            io::ErrorKind::Unsupported => Error::NotATerminal,
            _ => Error::Io(error),
        }
    }
}
