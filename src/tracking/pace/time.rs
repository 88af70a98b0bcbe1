//! How long steps of each kind take this maker, from the journal.

use super::rest::REST;
use crate::beadwork::{Kind, Sequence, Step};
use crate::plan::pace::COMMON_PACE;
use crate::progress::{Entry, Event, Moment, MoveReason};
use std::collections::VecDeque;
use std::time::Duration;

/// Seconds for a step of a kind as plans assume, used until the maker's own
/// times are known.
fn usual_seconds(kind: Kind) -> f64 {
    COMMON_PACE[kind as usize].1
}

/// A time this many times longer than usual is a pause too.
const PAUSE_FACTOR: f64 = 8.0;

/// A shorter time is not a stitch but a key held down or pressed repeatedly to
/// catch up; the quickest hands take longer. A terminal waits about half a
/// second before it repeats a key.
const KEY_HELD: Duration = Duration::from_millis(1000);

/// After this many steps of a kind the maker's own pace counts more than the
/// usual one.
const TRUSTED: f64 = 5.0;

/// How many times of each kind are kept.
const KEPT: usize = 400;

/// How long steps take.
#[derive(Clone, Debug, Default)]
pub struct Pace {
    /// By kind, in the order of [`Kind::ALL`].
    times: [Times; Kind::ALL.len()],
    /// Where and when the maker was before.
    before: Option<(u32, Moment)>,
    /// The last step. It counts only if the next key is not pressed quickly
    /// after it, as when the maker catches up after several stitches.
    last: Option<(Kind, Duration)>,
}

/// How long the last steps of a kind took.
#[derive(Clone, Debug, Default)]
struct Times {
    /// Milliseconds, the latest last.
    millis: VecDeque<u64>,
    /// Their sum.
    sum: u64,
}

impl Times {
    fn add(&mut self, took: Duration) {
        let millis = took.as_millis() as u64;
        if self.millis.len() == KEPT {
            self.sum -= self.millis.pop_front().unwrap_or(0);
        }
        self.millis.push_back(millis);
        self.sum += millis;
    }

    fn count(&self) -> f64 {
        self.millis.len() as f64
    }

    /// Their sum in seconds.
    fn seconds(&self) -> f64 {
        self.sum as f64 / 1000.0
    }

    /// The weighted mean of the maker's own figure and the common one, seconds.
    fn mix(&self, own: f64, common: f64) -> f64 {
        (own * self.count() + common * TRUSTED) / (self.count() + TRUSTED)
    }
}

/// How long steps of a kind take, in seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// The mean, without rests.
    pub mean: f64,
    /// A quarter of the steps take less.
    pub quick: f64,
    /// A quarter of the steps take more.
    pub slow: f64,
    /// How many steps were timed; 0 if all figures are common practice.
    pub timed: usize,
}

impl Pace {
    /// Adds the next entry of the journal.
    pub fn add(&mut self, seq: &Sequence, entry: &Entry) {
        let Event::Move { step, why, .. } = entry.did else {
            // The maker is not sewing while painting a panel.
            if matches!(
                entry.did,
                Event::Opened | Event::Rested | Event::Paint { .. }
            ) {
                self.before = None;
            }
            return;
        };
        let last = self.last.take();
        let before = self.before.replace((step, entry.at));
        let Some((from, since)) = before else { return };
        let Some(took) = entry.at.since(since) else {
            return;
        };
        if let Some((kind, took)) = last.filter(|_| took >= KEY_HELD) {
            self.add_time(kind, took);
        }
        if why != MoveReason::Forward || from.checked_add(1) != Some(step) || took < KEY_HELD {
            return;
        }
        self.last = seq.step(Step(step)).map(|m| (m.kind, took));
    }

    fn add_time(&mut self, kind: Kind, took: Duration) {
        if took > REST || took.as_secs_f64() > PAUSE_FACTOR * self.mean(kind) {
            return;
        }
        self.times[kind as usize].add(took);
    }

    /// The mean time of a step of a kind, seconds.
    fn mean(&self, kind: Kind) -> f64 {
        let times = &self.times[kind as usize];
        let own = times.seconds() / times.count().max(1.0);
        times.mix(own, usual_seconds(kind) * self.scale())
    }

    /// How long steps of a kind take this maker. With few times, common
    /// practice counts more, scaled by how quick the maker is at other kinds.
    pub fn usual(&self, kind: Kind) -> Usual {
        let common = usual_seconds(kind) * self.scale();
        let times = &self.times[kind as usize];
        let mut sorted: Vec<u64> = times.millis.iter().copied().collect();
        sorted.sort_unstable();
        let at = |part: f64| match sorted.len() {
            0 => 0.0,
            len => sorted[((len - 1) as f64 * part).round() as usize] as f64 / 1000.0,
        };
        Usual {
            mean: self.mean(kind),
            quick: times.mix(at(0.25), common * 0.6),
            slow: times.mix(at(0.75), common * 1.8),
            timed: sorted.len(),
        }
    }

    /// How many times slower than common practice this maker is, over all
    /// kinds; 1 if nothing is known.
    fn scale(&self) -> f64 {
        let (mut own, mut common) = (TRUSTED * 10.0, TRUSTED * 10.0);
        for (kind, _) in Kind::ALL {
            let times = &self.times[kind as usize];
            own += times.seconds();
            common += usual_seconds(kind) * times.count();
        }
        own / common
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    fn seq() -> Sequence {
        Sequence::new(testing::single(testing::panel(3, 12)))
    }

    fn pace_after(seq: &Sequence, gaps: impl Iterator<Item = u64>) -> Pace {
        let (mut pace, mut at) = (Pace::default(), 1_700_000_000_000i64);
        pace.add(seq, &Entry::to(0, MoveReason::Jump, Moment(at)));
        for (n, gap) in gaps.enumerate() {
            at += gap as i64;
            pace.add(
                seq,
                &Entry::to(n as u32 + 1, MoveReason::Forward, Moment(at)),
            );
        }
        pace
    }

    #[test]
    fn a_steady_maker_gets_their_own_pace() {
        let seq = seq();
        let pace = pace_after(&seq, std::iter::repeat_n(9_000, 200));
        let usual = pace.usual(Kind::Stitch);
        assert!(usual.timed > 100);
        assert!((usual.mean - 9.0).abs() < 0.5, "{usual:?}");
        assert!(usual.quick <= usual.mean && usual.mean <= usual.slow);
    }

    #[test]
    fn rests_and_keys_held_down_do_not_count() {
        let seq = seq();
        let steady = pace_after(&seq, std::iter::repeat_n(9_000, 200));
        let rests = (0..200).map(|n| match n % 10 {
            3 => 3_600_000,
            7 => 50,
            _ => 9_000,
        });
        let rested = pace_after(&seq, rests);
        let (a, b) = (steady.usual(Kind::Stitch), rested.usual(Kind::Stitch));
        assert!((a.mean - b.mean).abs() < 0.3, "{a:?} {b:?}");
    }

    /// A terminal repeats a held key after half a second and then 30 times a
    /// second; after ten stitches the key is pressed ten times.
    #[test]
    fn keys_held_or_pressed_to_catch_up_and_pauses_do_not_count() {
        let seq = seq();
        let held = (0..120).map(|n| if n == 1 { 500 } else { 33 });
        let caught_up = (0..200).map(|n| if n % 10 == 0 { 45_000 } else { 300 });
        for gaps in [held.collect::<Vec<u64>>(), caught_up.collect()] {
            let pace = pace_after(&seq, gaps.into_iter());
            let timed: usize = Kind::ALL.iter().map(|(k, _)| pace.usual(*k).timed).sum();
            assert_eq!(timed, 0);
        }
        // The first stitches of all, with a pause of four minutes each.
        let paused = pace_after(&seq, std::iter::repeat_n(240_000, 9));
        assert_eq!(paused.usual(Kind::Stitch).timed, 0);
    }

    #[test]
    fn a_clock_set_back_and_going_back_do_not_count() {
        let seq = seq();
        let mut pace = Pace::default();
        pace.add(&seq, &Entry::to(5, MoveReason::Jump, Moment(10_000_000)));
        pace.add(&seq, &Entry::to(6, MoveReason::Forward, Moment(9_000_000)));
        pace.add(&seq, &Entry::to(5, MoveReason::Back, Moment(9_005_000)));
        pace.add(&seq, &Entry::to(30, MoveReason::Jump, Moment(9_010_000)));
        for (kind, _) in Kind::ALL {
            assert_eq!(pace.usual(kind).timed, 0);
        }
    }

    #[test]
    fn the_first_step_after_opening_is_not_timed() {
        let seq = seq();
        let mut pace = Pace::default();
        pace.add(&seq, &Entry::to(5, MoveReason::Forward, Moment(1_000)));
        let painted = Entry::paint("face", "2", "S*", Moment(0)).did;
        for did in [Event::Rested, Event::Opened, painted] {
            let at = Moment(60_000);
            pace.add(&seq, &Entry { at, did });
        }
        pace.add(&seq, &Entry::to(6, MoveReason::Forward, Moment(70_000)));
        let timed: usize = Kind::ALL.iter().map(|(k, _)| pace.usual(*k).timed).sum();
        assert_eq!(timed, 0);
    }
}
