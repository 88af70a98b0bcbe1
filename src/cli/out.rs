//! Standard output: buffered, and quiet when nobody listens any more.

use std::io::{self, BufWriter, Write};

use super::failure::Failure;

/// Bytes gathered before they go out.
const BUFFER: usize = 1 << 16;

/// Writes to standard output, and sees to it that all of it went out.
///
/// A reader that has seen enough and closed the pipe is no fault of anybody.
///
/// # Errors
/// What `print` fails with; [`Failure::Output`] when the system refuses.
pub(super) fn print<T>(
    print: impl FnOnce(&mut dyn Write) -> Result<T, Failure>,
) -> Result<Option<T>, Failure> {
    let mut out = BufWriter::with_capacity(BUFFER, io::stdout().lock());
    let printed = print(&mut out).and_then(|value| {
        out.flush()?;
        Ok(value)
    });
    match printed {
        Err(failure) if failure.is_closed_pipe() => {
            // What is still buffered has nowhere to go.
            let _ = out.into_parts();
            Ok(None)
        }
        Err(failure) => Err(failure),
        Ok(value) => Ok(Some(value)),
    }
}
