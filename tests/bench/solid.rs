//! How soon a frame of the whole solid is painted, of a ring of eight with 200
//! rounds a face (about two million beads), from the key that turns it to the
//! last byte on a pseudo-terminal. To reach: 16 ms, in the median, at every
//! size. Run with `cargo bench --bench solid`.

mod running;

use running::{Running, median, ring, stitch};
use std::time::Duration;

/// Frames measured of each kind.
const FRAMES: usize = 60;
/// The median to reach.
const WITHIN: Duration = Duration::from_millis(16);

fn main() {
    let dir = tempfile::tempdir().expect("a directory");
    let pattern = ring(dir.path(), "(A S S)*");
    for (nth, size) in [(80, 24), (120, 40), (200, 60)].into_iter().enumerate() {
        let tray = dir.path().join(format!("tray-{nth}"));
        let mut running = Running::start_in(stitch(&pattern, &tray), size);
        running.painted();
        running.key(b" ");
        let first = running.key(b"v");
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
            let frames: Vec<(Duration, usize)> = (0..FRAMES).map(|_| running.frame(key)).collect();
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
