//! How soon the whole face is painted on a panel of a million beads (a
//! triangle of 816 rounds: 3·816·817/2 = 1,000,008 of them, by OEIS A045943),
//! through a pseudo-terminal: opened, pointed at, moved, made larger, a whole
//! round of it painted and that undone. To reach: a key within a frame of
//! 16 ms. Run with `cargo bench --bench face`.

mod running;

use running::{Running, median, stitch};
use std::time::Duration;

/// A frame at sixty a second.
const FRAME: Duration = Duration::from_millis(16);
/// How often each key is measured.
const TIMES: usize = 40;

const TRIANGLE: &str = r##"{
  "threadmark": 1,
  "title": "A very large triangle",
  "beads": {
    "S": { "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" },
    "A": { "name": "amber", "size": "cylinder 11/0", "colour": "#d98a24" }
  },
  "thread": "braided 0.15",
  "needle": 12,
  "panels": { "face": { "sides": 3, "rounds": 816, "colours": ["all: A S* A", "1: S*"] } },
  "make": { "panel": "face" }
}"##;

fn main() {
    let dir = tempfile::tempdir().expect("a directory");
    let pattern = dir.path().join("triangle.json");
    std::fs::write(&pattern, TRIANGLE).expect("the pattern");
    let command = stitch(&pattern, &dir.path().join("tray"));
    let mut running = Running::start(command);
    let first = running.painted().duration_since(running.begun);
    println!("{:28} {first:>12.2?}", "the piece begun and painted");
    running.key(b" ");
    // Half the beads in place.
    for key in [&b"g"[..], b"500000", b"\r"] {
        running.key(key);
    }
    let mut late = 0;
    let mut measure = |what: &str, running: &mut Running, keys: [&[u8]; 2]| {
        let each = |n: usize| running.key(keys[n % 2]);
        let time = median((0..TIMES).map(each).collect());
        let word = if time <= FRAME { "" } else { "   too late" };
        late += usize::from(time > FRAME);
        println!("{what:28} {time:>12.2?}{word}");
    };
    measure("open, leave", &mut running, [b"f", b"f"]);
    running.key(b"f");
    measure("whole: point", &mut running, [b"\x1b[D", b"\x1b[C"]);
    measure("larger, smaller", &mut running, [b"+", b"-"]);
    for _ in 0..8 {
        running.key(b"+");
    }
    measure("large: point", &mut running, [b"\x1b[D", b"\x1b[C"]);
    measure("large: move", &mut running, [b"\x1b[A", b"\x1b[B"]);
    running.key(b"c");
    running.key(b"A");
    measure("paint a bead, undo", &mut running, [b" ", b"u"]);
    for _ in 0..4 {
        running.key(b"s");
    }
    measure("paint a round, undo", &mut running, [b" ", b"u"]);
    println!("to reach: {FRAME:?} each");
    assert_eq!(late, 0, "some key is painted too late");
}
