//! How soon a frame of the whole solid is painted, of a ring of eight with 200
//! rounds a face (about two million beads), from the key that turns it to the
//! last byte on a pseudo-terminal. To reach: 16 ms, in the median, at every
//! size. Run with `cargo bench --bench solid`.
//!
//! A frame is over when the program has been silent for a while; its time is
//! that of the last byte that came.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// Silence after which a frame counts as over.
const SILENCE: Duration = Duration::from_millis(30);
/// Frames measured of each kind.
const FRAMES: usize = 60;
/// The median to reach.
const WITHIN: Duration = Duration::from_millis(16);

struct Running {
    child: Box<dyn Child + Send + Sync>,
    keyboard: Box<dyn Write + Send>,
    bytes: Receiver<(Instant, usize)>,
    _master: Box<dyn MasterPty + Send>,
}

impl Running {
    fn start(pattern: &Path, tray: &Path, (cols, rows): (u16, u16)) -> Running {
        let size = PtySize {
            rows,
            cols,
            ..PtySize::default()
        };
        let pty = native_pty_system().openpty(size).expect("a pty");
        let mut reader = pty.master.try_clone_reader().expect("a reader");
        let keyboard = pty.master.take_writer().expect("a writer");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_threadmark"));
        command.args(["stitch", pattern.to_str().expect("a plain path")]);
        command.env("THREADMARK_TRAY", tray);
        command.env("TERM", "xterm-256color");
        command.env("COLORTERM", "truecolor");
        command.env("LANG", "C.UTF-8");
        let child = pty.slave.spawn_command(command).expect("it starts");
        let (send, bytes) = channel();
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
            keyboard,
            bytes,
            _master: pty.master,
        }
    }

    /// When the last byte of a frame came, and how many came.
    fn painted(&self) -> (Instant, usize) {
        let first = self.bytes.recv_timeout(Duration::from_secs(10));
        let (mut last, mut bytes) = first.expect("something is painted");
        while let Ok((at, n)) = self.bytes.recv_timeout(SILENCE) {
            (last, bytes) = (at, bytes + n);
        }
        (last, bytes)
    }

    /// How long a key's frame took, and its bytes.
    fn key(&mut self, key: &[u8]) -> (Duration, usize) {
        // What came late belongs to the frame before.
        while self.bytes.recv_timeout(SILENCE).is_ok() {}
        let pressed = Instant::now();
        self.keyboard.write_all(key).expect("a key");
        let (last, bytes) = self.painted();
        (last.duration_since(pressed), bytes)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn median<T: Ord + Copy>(mut of: Vec<T>) -> T {
    of.sort();
    of[of.len() / 2]
}

const RING: &str = r##"{
  "threadmark": 1,
  "title": "A very large ring",
  "beads": {
    "S": { "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" },
    "A": { "name": "amber", "size": "cylinder 11/0", "colour": "#d98a24" }
  },
  "thread": "braided 0.15",
  "needle": 12,
  "panels": { "face": { "sides": 3, "rounds": 200, "colours": ["all: (A S S)*", "1: S*"] } },
  "make": { "ring": 8, "faces": ["face"], "close": "set-in" }
}"##;

fn main() {
    let dir = tempfile::tempdir().expect("a directory");
    let pattern = dir.path().join("ring.json");
    std::fs::write(&pattern, RING).expect("the pattern");
    for (nth, size) in [(80, 24), (120, 40), (200, 60)].into_iter().enumerate() {
        let tray = dir.path().join(format!("tray-{nth}"));
        let mut running = Running::start(&pattern, &tray, size);
        running.painted();
        running.key(b" ");
        let first = running.key(b"v").0;
        // As finished, so that every bead has its colour.
        running.key(b"s");
        for (what, key, nears) in [
            ("turned", &b"\x1b[C"[..], 0),
            ("ring turned on", b".", 0),
            ("turned, near", b"\x1b[C", 14),
        ] {
            for _ in 0..nears {
                running.key(b"+");
            }
            let frames: Vec<(Duration, usize)> = (0..FRAMES).map(|_| running.key(key)).collect();
            let time = median(frames.iter().map(|f| f.0).collect());
            let bytes = median(frames.iter().map(|f| f.1).collect());
            let reached = if time <= WITHIN { "reached" } else { "MISSED" };
            println!(
                "{:>3} x {:<3} {what:15} {time:>10.2?}  {bytes:>6} bytes  ({WITHIN:?}: {reached})",
                size.0, size.1
            );
        }
        println!(
            "{:>3} x {:<3} first look      {first:>10.2?}",
            size.0, size.1
        );
    }
}
