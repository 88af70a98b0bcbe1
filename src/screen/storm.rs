//! A storm of keys: 20,000 random ones (the same every time; `SEED` gives
//! others, `KEYS` more), from all possible keys, in a window whose size changes
//! all the time. Nothing may stop the screen or be drawn outside it, a terminal
//! without Unicode must not get any, and the journal read again must agree with
//! the piece.

use super::input::Input;
use super::layer::{Context, Exit};
use super::look::{Depth, Ground, Look};
use super::proof;
use super::session::Session;
use super::tests::Sitting;
use crate::beadwork::Sequence;
use crate::progress::{Mode, Moment, State, Tray};
use ratatui::buffer::Cell;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::prelude::{Buffer, Rect};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};

const KEYS: usize = 20_000;
/// A piece with more steps than this is replaced with a new one.
const MOST_STEPS: u32 = 3_000;
const TITLE: &str = "Storm lamp";
const NAME: &str = "storm-lamp";

/// Numbers by a linear congruence (Knuth's MMIX multiplier, from memory).
struct Dice(u64);

impl Dice {
    /// A number from 0 to `n` - 1.
    fn roll(&mut self, n: u64) -> u64 {
        let next = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = next.wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % n
    }

    /// One of several, with equal probability.
    fn one_of<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.roll(from.len() as u64) as usize]
    }

    /// Any key that a terminal can send, ordinary keys more often.
    fn key(&mut self, unicode: bool) -> KeyEvent {
        use KeyCode::*;
        let code = match self.roll(16) {
            0..4 => Char(' '),
            4 => self.one_of(&[Enter, Esc, Backspace]),
            // Often enough to the changes, down their list, and made.
            5 => self.one_of(&[Char('m'), Down, Enter, Enter]),
            6 => self.one_of(&[Up, Down, Left, Right, PageUp, PageDown, Home, End]),
            7 => self.one_of(&[
                Tab,
                BackTab,
                Delete,
                Insert,
                Null,
                CapsLock,
                Menu,
                KeypadBegin,
            ]),
            8 => F(1 + self.roll(24) as u8),
            9 => Char(self.one_of(&['0', '1', '2', '3', '4', '5', '6', '7', '8', '9'])),
            10..15 => Char((b' ' + self.roll(95) as u8) as char),
            _ if !unicode => Char('é'),
            _ => Char(char::from_u32(self.roll(0x11_0000) as u32).unwrap_or('é')),
        };
        let modifiers = match self.roll(12) {
            0 => KeyModifiers::from_bits_truncate(self.roll(64) as u8),
            1 => KeyModifiers::SHIFT,
            _ => KeyModifiers::NONE,
        };
        KeyEvent::new(code, modifiers)
    }

    /// Any size from 1×1 to 300×100, small ones more often.
    fn size(&mut self) -> (u16, u16) {
        let (wide, high) = match self.roll(16) {
            0 => (300, 100),
            1..4 => (120, 40),
            4..8 => (80, 24),
            _ => (42, 14),
        };
        (1 + self.roll(wide) as u16, 1 + self.roll(high) as u16)
    }
}

/// Draws in the middle of a larger buffer; nothing may be drawn outside.
fn draw(session: &mut Sitting, (wide, high): (u16, u16)) {
    let whole = Rect::new(0, 0, wide + 2, high + 2);
    let area = Rect::new(1, 1, wide, high);
    let mut buf = Buffer::empty(whole);
    session.draw(area, &mut buf);
    let untouched = Cell::default();
    let mut edge = whole.positions().filter(|p| !area.contains(*p));
    assert!(edge.all(|p| buf[p] == untouched), "drawn outside {area}");
    if !session.session.look().unicode {
        // What the maker typed is allowed.
        let mut cells = buf.content.iter().map(Cell::symbol);
        let odd = cells.find(|symbol| !symbol.is_ascii() && *symbol != "é");
        assert_eq!(odd, None, "{}", session.open());
    }
}

/// The piece as read again from its journal.
fn replayed(tray: &Tray) -> State {
    let piece = tray.open_piece(NAME, Mode::Look, Moment(0));
    let piece = piece.expect("the piece");
    assert!(piece.notices().is_empty(), "{:?}", piece.notices());
    piece.state().clone()
}

/// Keys and sizes for one piece; returns how many kinds of screen were seen.
fn storm(seq: Sequence, seed: u64, number: usize) -> usize {
    let mut dice = Dice(seed);
    let look = Look {
        depth: dice.one_of(&Depth::ALL).1,
        unicode: dice.roll(2) == 0,
        ground: Ground::Dark,
    };
    let dir = tempfile::tempdir().expect("a directory");
    let tray = Tray::open(dir.path());
    let mut now = Moment(1_700_000_000_000);
    let begin = |tray: &Tray, now: Moment| {
        let piece = tray.begin(TITLE, b"{}", None, seq.steps(), now);
        Sitting::of(Session::new(seq.clone(), piece.expect("begun"), look, now))
    };
    let (mut dirs, mut tray) = (vec![dir], tray);
    let mut session = begin(&tray, now);
    let mut size = (80, 24);
    let mut seen = std::collections::HashSet::new();
    for n in 1..=number {
        // The clock runs on, stops, and is sometimes set back.
        now.0 += dice.roll(9_000) as i64 - 500;
        let key = dice.key(look.unicode);
        seen.insert(session.open());
        session.now = now;
        let turn = || {
            if session.stack.top().takes_mouse() {
                let (wide, high) = dice.size();
                session.touch(Input::Click(wide - 1, high - 1));
                session.touch(Input::Drag(wide / 2, high / 2));
                session.touch(Input::Wheel(dice.roll(3) > 0));
            }
            match session.touch(Input::Key(key)) {
                None | Some(Exit::Suspend) => {}
                Some(_) => return true,
            }
            let resized = dice.roll(8) == 0;
            if resized {
                size = dice.size();
            }
            if resized || dice.roll(2) == 0 {
                draw(&mut session, size);
            }
            false
        };
        let left = catch_unwind(AssertUnwindSafe(turn)).unwrap_or_else(|panic| {
            eprintln!("seed {seed}, key {n}, {key:?}, {size:?}");
            resume_unwind(panic)
        });
        if left {
            // Closed and opened again.
            let Session { seq, piece, .. } = session.session;
            piece.close(now).expect("it is kept");
            let piece = tray.open_piece(NAME, Mode::Work, now).expect("the piece");
            session = Sitting::of(Session::new(seq, piece, look, now));
        }
        if left || n % 1_000 == 0 || n == number || session.seq.steps() > MOST_STEPS {
            // What depends on the work is found by the current plan.
            let settled = |mut state: State| {
                state.update_steps(&session.seq);
                state
            };
            let is_so = settled(replayed(&tray)) == settled(session.piece.state().clone());
            assert!(is_so, "seed {seed}, key {n}: the journal says otherwise");
            if session.seq.steps() > MOST_STEPS {
                let dir = tempfile::tempdir().expect("a directory");
                tray = Tray::open(dir.path());
                dirs.push(dir);
                session = begin(&tray, now);
            }
        }
    }
    seen.len()
}

#[test]
fn random_keys_and_sizes_stop_nothing_and_are_all_kept() {
    let seqs = proof::pieces();
    let given = |name| std::env::var(name).ok()?.parse::<u64>().ok();
    let seed = given("SEED").unwrap_or(1);
    let each = given("KEYS").map_or(KEYS, |keys| keys as usize) / seqs.len();
    let mut halves = [vec![], vec![]];
    for (n, seq) in seqs.into_iter().enumerate() {
        halves[n % 2].push((seed + n as u64, seq));
    }
    let storms = |half: Vec<(u64, Sequence)>| {
        let places = half.into_iter().map(|(seed, seq)| storm(seq, seed, each));
        places.max().unwrap_or(0)
    };
    let most = std::thread::scope(|threads| {
        let halves = halves.map(|half| threads.spawn(move || storms(half)));
        halves.map(|half| half.join().expect("nothing stops it"))
    });
    // The test reaches the screens: stitches, card, count, answer, jump, note,
    // overview, settings and help were all shown.
    assert!(most.into_iter().max() >= Some(9), "seed {seed}: {most:?}");
}
