//! JSON lines: one object a line, each with the version of its shape first.

use std::io::{self, Write};

use serde::Serialize;

/// The version of all shapes in docs/outputs.md. It is the first field of
/// every object, so that any one line tells what it is.
pub(super) const FORMAT: u8 = 1;

/// Objects written one a line.
pub(super) struct Lines<'out> {
    out: &'out mut dyn Write,
    /// The line being made, kept for its memory.
    line: Vec<u8>,
}

impl<'out> Lines<'out> {
    pub(super) fn new(out: &'out mut dyn Write) -> Self {
        let line = Vec::with_capacity(512);
        Lines { out, line }
    }

    /// Writes an object on a line of its own.
    ///
    /// # Errors
    /// When the system refuses.
    pub(super) fn write(&mut self, object: &impl Serialize) -> io::Result<()> {
        self.line.clear();
        serde_json::to_writer(&mut self.line, object)?;
        self.line.push(b'\n');
        self.out.write_all(&self.line)
    }
}
