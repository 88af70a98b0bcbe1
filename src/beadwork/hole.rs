//! The hole of a bead: how many threads it holds, and whether the needle
//! still goes through beside them.
//!
//! N threads of diameter t lie together in a round bundle of diameter ρ(N)·t.
//!
//! ```text
//!    .-----.
//!   /  ooo  \      ooo  the bundle, ρ(N)·t across
//!  |   oooo  |
//!   \  (N)  /      (N)  the needle beside it
//!    '-----'
//! ```

use super::{BeadSize, Needle, Thread};

/// ρ(N) for N = 1 to 12: the diameter of the smallest circle round N circles
/// of diameter 1. Source: R. L. Graham et al., "Dense packings of congruent
/// circles in a circle", Discrete Mathematics 181 (1998).
pub const BUNDLE: [f64; 12] = [
    1.0, 2.0, 2.1547, 2.4142, 2.7013, 3.0, 3.0, 3.3048, 3.6131, 3.8130, 3.9238, 4.0296,
];

/// Threads that the table tells of.
const TABLE: usize = BUNDLE.len();

/// The part of a hole's area that threads and needle can fill when they are
/// forced past one another.
const FILLED_TIGHTLY: f64 = 0.75;

/// How a needle goes through a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Passing {
    /// Beside the threads that are there, without force.
    Comfortable,
    /// With a pull; the threads must shift.
    Tight,
    /// Not at all; forcing it can break the bead.
    Blocked,
}

/// The diameter of a bundle of `threads` threads, in thread diameters; 0 for
/// none.
///
/// Up to 12 threads it is the published ρ. Beyond, it is the smallest circle
/// round that many circles of a honeycomb, the middle of the circle lying on
/// a thread, between two or between three: a bound that is never too small
/// and, up to 20 threads, at most 11 % too wide.
pub fn bundle(threads: u32) -> f64 {
    match threads {
        0 => 0.0,
        n if n as usize <= BUNDLE.len() => BUNDLE[n as usize - 1],
        n => honeycomb(n),
    }
}

/// Two rows of a honeycomb of circles of diameter 1 are so far apart.
const ROW: f64 = 0.866_025_403_784_438_6;

/// The middles of a circle round a honeycomb: on a thread, between two, or
/// between three.
const MIDDLES: [(f64, f64); 3] = [(0.0, 0.0), (0.5, 0.0), (0.5, ROW / 3.0)];

/// The smallest circle, in diameters, round `n` circles of a honeycomb, its
/// middle at one of three places.
fn honeycomb(n: u32) -> f64 {
    let reach = f64::from(n).sqrt() as i32 + 2;
    let radius = |(x, y): (f64, f64)| {
        let mut far = Vec::with_capacity((4 * reach * reach) as usize);
        for b in -reach..=reach {
            for a in -reach..=reach {
                let (a, b) = (f64::from(a) + 0.5 * f64::from(b & 1), f64::from(b) * ROW);
                far.push((a - x).hypot(b - y));
            }
        }
        far.sort_unstable_by(f64::total_cmp);
        far[n as usize - 1]
    };
    let smallest = MIDDLES.map(radius).into_iter().fold(f64::MAX, f64::min);
    1.0 + 2.0 * smallest
}

/// The inverse: the most circles of a honeycomb in a circle of this many
/// diameters across. Row by row, so that a wide hole is quick to compute.
fn honeycomb_in(across: f64) -> u32 {
    let radius = ((across - 1.0) / 2.0).max(-1.0);
    if radius < 0.0 {
        return 0;
    }
    let rows = (radius / ROW) as i64 + 2;
    let threads = |(x, y): (f64, f64)| -> f64 {
        let in_row = |b: i64| {
            let off = b as f64 * ROW - y;
            let half = (radius * radius - off * off).sqrt();
            let first = x - 0.5 * (b & 1) as f64;
            // No half chord, no thread: NaN compares with nothing.
            match half >= 0.0 {
                true => (first + half).floor() - (first - half).ceil() + 1.0,
                false => 0.0,
            }
        };
        (-rows..=rows).map(in_row).sum()
    };
    MIDDLES.map(threads).into_iter().fold(0.0, f64::max) as u32
}

/// How the needle goes through a bead that `threads` threads pass already.
///
/// Comfortably while ρ(N)·t + needle ≤ hole; tightly while
/// N·t² + needle² ≤ 0.75·hole²; else not at all.
pub fn verdict(threads: u32, bead: BeadSize, thread: Thread, needle: Needle) -> Passing {
    let fit = Fit::of(bead, thread, needle);
    // The area is looked at first: it is the cheaper question.
    let forced = fit.fills_area(threads);
    if fit.lies_beside(threads) {
        Passing::Comfortable
    } else if forced {
        Passing::Tight
    } else {
        Passing::Blocked
    }
}

/// The most times that a needle goes through a bead, the stringing counted:
/// the pass after that would be [`Passing::Blocked`].
pub fn most_passes(bead: BeadSize, thread: Thread, needle: Needle) -> u32 {
    let fit = Fit::of(bead, thread, needle);
    let room = FILLED_TIGHTLY * fit.hole.powi(2) - fit.needle.powi(2);
    let mut passes = match room / fit.thread.powi(2) {
        threads if threads >= 0.0 => (threads as u32).saturating_add(1),
        _ => 0,
    };
    passes = passes.max(fit.most_beside().map_or(0, |most| most.saturating_add(1)));
    // What was reckoned can be one off by rounding.
    while passes < u32::MAX && (fit.fills_area(passes) || fit.lies_beside(passes)) {
        passes += 1;
    }
    passes
}

/// Three diameters, mm.
struct Fit {
    hole: f64,
    thread: f64,
    needle: f64,
}

impl Fit {
    fn of(bead: BeadSize, thread: Thread, needle: Needle) -> Fit {
        Fit {
            hole: bead.hole_mm,
            thread: thread.diameter_mm,
            needle: needle.diameter_mm,
        }
    }

    fn lies_beside(&self, threads: u32) -> bool {
        match threads as usize {
            0..=TABLE => bundle(threads) * self.thread + self.needle <= self.hole,
            _ => self.most_beside().is_some_and(|most| threads <= most),
        }
    }

    /// The most threads that lie beside the needle in a bundle, if that is
    /// more than the table tells of.
    fn most_beside(&self) -> Option<u32> {
        let most = honeycomb_in((self.hole - self.needle) / self.thread);
        (most as usize > TABLE).then_some(most)
    }

    fn fills_area(&self, threads: u32) -> bool {
        let filled = f64::from(threads) * self.thread.powi(2) + self.needle.powi(2);
        filled <= FILLED_TIGHTLY * self.hole.powi(2)
    }
}

#[cfg(test)]
mod tests;
