//! A program in a pseudo-terminal, and how long its paints take.
//!
//! A paint is over when the program has been silent for a while; its time is
//! that of the last byte that came.

// Each bench uses a part of this.
#![allow(dead_code)]

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// Silence after which a paint counts as over.
const SILENCE: Duration = Duration::from_millis(25);

/// A running program.
pub struct Running {
    child: Box<dyn Child + Send + Sync>,
    writer: Box<dyn Write + Send>,
    bytes: Receiver<(Instant, usize)>,
    _master: Box<dyn MasterPty + Send>,
    /// When it was started.
    pub begun: Instant,
}

impl Running {
    /// Starts a program in 80 columns and 24 rows.
    pub fn start(command: CommandBuilder) -> Running {
        Running::start_in(command, (80, 24))
    }

    /// Starts a program in so many columns and rows.
    pub fn start_in(command: CommandBuilder, (cols, rows): (u16, u16)) -> Running {
        let size = PtySize {
            rows,
            cols,
            ..PtySize::default()
        };
        let pty = native_pty_system().openpty(size).expect("a pty");
        let mut reader = pty.master.try_clone_reader().expect("a reader");
        let writer = pty.master.take_writer().expect("a writer");
        let (send, bytes) = channel();
        let begun = Instant::now();
        let child = pty.slave.spawn_command(command).expect("it starts");
        std::thread::spawn(move || {
            let mut buffer = [0; 65536];
            while let Ok(n @ 1..) = reader.read(&mut buffer) {
                if send.send((Instant::now(), n)).is_err() {
                    break;
                }
            }
        });
        Running {
            child,
            writer,
            bytes,
            _master: pty.master,
            begun,
        }
    }

    /// The time of the last byte of the paint that is going on.
    pub fn painted(&self) -> Instant {
        self.paint().0
    }

    /// The same, and how many bytes came.
    fn paint(&self) -> (Instant, usize) {
        let first = self.bytes.recv_timeout(Duration::from_secs(10));
        let (mut last, mut bytes) = first.expect("something is painted");
        while let Ok((at, n)) = self.bytes.recv_timeout(SILENCE) {
            (last, bytes) = (at, bytes + n);
        }
        (last, bytes)
    }

    /// Presses a key; how long until it is painted.
    pub fn key(&mut self, key: &[u8]) -> Duration {
        self.frame(key).0
    }

    /// The same, and how many bytes came for it.
    pub fn frame(&mut self, key: &[u8]) -> (Duration, usize) {
        // What comes late belongs to the paint before.
        while self.bytes.try_recv().is_ok() {}
        let pressed = Instant::now();
        self.writer.write_all(key).expect("a key");
        let (last, bytes) = self.paint();
        (last.duration_since(pressed), bytes)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The middle one of several.
pub fn median<T: Ord + Copy>(mut of: Vec<T>) -> T {
    of.sort();
    of[of.len() / 2]
}

/// The pattern of a ring of eight with 200 rounds a face, about two million
/// beads, in a file of a directory.
pub fn ring(dir: &Path, colours: &str) -> PathBuf {
    let text = format!(
        r##"{{
  "threadmark": 1,
  "title": "A very large ring",
  "beads": {{
    "S": {{ "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" }},
    "A": {{ "name": "amber", "size": "cylinder 11/0", "colour": "#d98a24" }}
  }},
  "thread": "braided 0.15",
  "needle": 12,
  "panels": {{ "face": {{ "sides": 3, "rounds": 200, "colours": ["all: {colours}", "1: S*"] }} }},
  "make": {{ "ring": 8, "faces": ["face"], "close": "set-in" }}
}}"##
    );
    let file = dir.join("ring.json");
    std::fs::write(&file, text).expect("the pattern");
    file
}

/// The stitch-along on a pattern.
pub fn stitch(pattern: &Path, tray: &Path) -> CommandBuilder {
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_threadmark"));
    command.args(["stitch", pattern.to_str().expect("a plain path")]);
    command.env("THREADMARK_TRAY", tray);
    command.env("TERM", "xterm-256color");
    command.env("COLORTERM", "truecolor");
    command.env("LANG", "C.UTF-8");
    command
}
