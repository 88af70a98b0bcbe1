//! Killed as nothing can be killed harder, at random moments: every step that
//! was painted is there the next time.
//!
//! ```text
//! keys typed:  space space back space ...     what the piece must go through
//! painted:     41    42    41    42           read off the terminal, frame by frame
//! journal:     41    42    41    42  43       a beginning of the first, never
//!                                             shorter than what was painted
//! ```

use std::thread;
use std::time::{Duration, Instant};

use threadmark::progress::{Notice, Tray};

use super::dice::Dice;
use super::moves;
use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
use crate::pty::{PAINTED, PATIENCE, Screen};

const KILLS: u64 = 1_000;
const THREADS: u64 = 2;
/// Sittings at one piece before the next is begun.
const SITTINGS: u64 = 10;
/// The longest that keys are typed, in microseconds.
const LONGEST: u64 = 25_000;

/// Triangle of 12 rounds: 234 beads.
const ROUNDS: u32 = 12;

#[test]
fn killed_at_a_thousand_random_moments_every_painted_step_is_there() {
    let seed = Dice::seeded().0;
    println!("SEED={seed}");
    let threads = (0..THREADS).map(|n| thread::spawn(move || kills(Dice(seed + n))));
    let threads: Vec<_> = threads.collect();
    let done = threads
        .into_iter()
        .map(|t| t.join().expect("no kill lost a step"));
    let (steps, midway) = done.fold((0, 0), |all, one| (all.0 + one.0, all.1 + one.1));
    // No empty show: most sittings painted steps, and some were killed with
    // more in the journal than on the screen.
    assert!(steps > KILLS / 4, "{steps} steps painted");
    println!("{steps} steps painted; {midway} kills between journal and screen");
}

/// Kills one thread's share; how many steps were painted, and how often the
/// journal was ahead of the screen.
fn kills(mut dice: Dice) -> (u64, u64) {
    let (mut painted, mut midway) = (0, 0);
    for _ in 0..KILLS / THREADS / SITTINGS {
        let whole = threadmark("stitch a.json --plain").file("a.json", triangle(ROUNDS));
        whole.output();
        let all = whole.piece("evening-star").steps().expect("steps in all");
        let mut kept = vec![];
        for _ in 0..SITTINGS {
            let sitting = Sitting::killed(&whole, &mut dice, &kept, all);
            let seen;
            (seen, kept) = sitting.is_kept(&whole);
            painted += seen as u64;
            midway += u64::from(kept.len() > sitting.before + seen);
        }
    }
    (painted, midway)
}

/// One sitting at a piece, cut short.
struct Sitting {
    /// Moves in the journal before.
    before: usize,
    /// The steps that the keys lead through, the one that was rested at first.
    asked: Vec<u32>,
    /// The steps that were painted, frame by frame.
    painted: Vec<u32>,
}

impl Sitting {
    /// The piece goes through `all` steps; its journal has the moves `before`.
    fn killed(whole: &Whole, dice: &mut Dice, before: &[u32], all: u32) -> Sitting {
        let mut sitting = Sitting {
            before: before.len(),
            asked: vec![before.last().copied().unwrap_or(0)],
            painted: vec![],
        };
        let mut screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
        // Only when it has painted are keys taken one by one; one sitting in four may be
        // killed before.
        let may_end_early = dice.roll(4) == 0;
        let most = Duration::from_micros(dice.roll(LONGEST));
        let begun = Instant::now();
        let patience = if may_end_early { most } else { PATIENCE };
        let painted = screen.painted_within(patience);
        let end = match may_end_early {
            true => begun + most,
            false => Instant::now() + most,
        };
        let left = || end.saturating_duration_since(Instant::now());
        if painted {
            screen.press(b" ");
            while !left().is_zero() {
                screen.press(&sitting.key(dice, all));
                thread::sleep(Duration::from_micros(dice.roll(3_000)).min(left()));
            }
        }
        screen.kill();
        sitting.painted = steps_painted(&screen.bytes());
        sitting
    }

    /// A key, or several at once, and where that leads.
    fn key(&mut self, dice: &mut Dice, all: u32) -> Vec<u8> {
        let at = *self.asked.last().expect("a step");
        let (next, keys) = match dice.roll(16) {
            0 => {
                let step = dice.roll(u64::from(all)) as u32;
                (step, format!("g{}\r", step + 1))
            }
            1 | 2 => (at.saturating_sub(1), "\x7f".into()),
            _ => ((at + 1).min(all), " ".into()),
        };
        if next != at {
            self.asked.push(next);
        }
        keys.into_bytes()
    }

    /// Holds the journal against what was asked for and painted; how many steps were
    /// painted, and all moves in the journal.
    fn is_kept(&self, whole: &Whole) -> (usize, Vec<u32>) {
        let mut piece = whole.piece("evening-star");
        let all = moves(&mut piece);
        let kept = &all[self.before..];
        let asked = &self.asked[1..];
        assert!(
            asked.starts_with(kept),
            "the journal has {kept:?} and the keys ask for {asked:?}"
        );
        // The least that must be kept: the earliest steps that can have given
        // the paintings.
        let mut least = 0;
        for step in &self.painted {
            let on = self.asked[least..].iter().position(|asked| asked == step);
            least += on.unwrap_or_else(|| panic!("{step} was painted: {self:?}"));
        }
        assert!(kept.len() >= least, "{self:?}, kept only {kept:?}");
        // A system that kills a program may cut the line it writes, where one page of the file
        // ends and the next begins; that step was not painted yet.
        let is_torn_end = |told: &Notice| matches!(told, Notice::Damaged(d) if d.only_torn_end);
        assert!(
            piece.notices().iter().all(is_torn_end),
            "{:?}",
            piece.notices()
        );
        (least, all)
    }
}

impl std::fmt::Debug for Sitting {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        let (asked, painted) = (&self.asked, &self.painted);
        write!(f, "asked for {asked:?}, painted {painted:?}")
    }
}

/// The steps done that each whole painting showed.
fn steps_painted(bytes: &[u8]) -> Vec<u32> {
    let mut terminal = vt100::Parser::new(
        24.try_into().expect("rows"),
        80.try_into().expect("columns"),
        0,
    );
    let mut steps = vec![];
    let mut from = 0;
    while let Some(at) = bytes[from..]
        .windows(PAINTED.len())
        .position(|w| w == PAINTED)
    {
        let to = from + at + PAINTED.len();
        terminal.process(&bytes[from..to]);
        from = to;
        let screen = terminal.screen().contents();
        let head = screen.lines().next().unwrap_or_default();
        if let Some((_, step)) = head.rsplit_once("step ") {
            let next: u32 = step
                .split(' ')
                .next()
                .and_then(|n| n.parse().ok())
                .expect("a step");
            steps.push(next - 1);
        } else if let Some((_, all)) = head.rsplit_once("all ") {
            steps.push(
                all.split(' ')
                    .next()
                    .and_then(|n| n.parse().ok())
                    .expect("steps"),
            );
        }
    }
    steps
}

#[test]
fn a_begin_killed_at_any_moment_leaves_a_whole_piece_or_none() {
    let mut dice = Dice::seeded();
    println!("SEED={}", dice.0);
    let whole = threadmark("stitch a.json --new").file("a.json", triangle(ROUNDS));
    let pieces = || Tray::open(&whole.tray()).pieces().expect("the tray");
    // How long it takes here to begin one, from the start to the first picture.
    let started = Instant::now();
    Screen::open(&whole, 80, 24).sees("A new piece").kill();
    let longest = started.elapsed().as_micros() as u64;
    println!("{longest} µs");
    let mut most = 0;
    for _ in 0..100 {
        let moment = Duration::from_micros(dice.roll(longest));
        let mut screen = Screen::open(&whole, 80, 24);
        thread::sleep(moment);
        screen.kill();
        for piece in pieces() {
            let told = whole.piece(&piece.name).notices().to_vec();
            assert!(told.is_empty(), "{}: {told:?}", piece.name);
        }
        most = most.max(pieces().len());
    }
    assert!(most > 1, "none was ever begun but the first");
    whole.again("stitch a.json --new --plain").output();
    assert_eq!(pieces().len(), most + 1);
    let left = std::fs::read_dir(whole.tray()).expect("the tray").flatten();
    let begun = left.filter(|e| e.file_name().to_string_lossy().starts_with(".begin-"));
    assert_eq!(begun.count(), 0, "what was cut short is swept away");
}
