//! One suite for every store: the same tests over memory and over a file, each
//! with the same faults round it.

use std::sync::{Arc, Mutex};
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::faulty::{Faults, Faulty};
use super::{FileStore, MemoryStore, Store};
use crate::progress::journal_writer::JournalWriter;
use crate::progress::trouble::{Saved, TroubleKind};

/// A place for a store, that can be looked at from outside.
trait Bench {
    fn store(&self) -> Box<dyn Store>;

    fn lies_there(&self) -> String;
}

struct Memory(MemoryStore);
impl Bench for Memory {
    fn store(&self) -> Box<dyn Store> {
        Box::new(self.0.clone())
    }
    fn lies_there(&self) -> String {
        String::from_utf8(self.0.bytes().clone()).unwrap()
    }
}

struct OnDisk(tempfile::TempDir);
impl Bench for OnDisk {
    fn store(&self) -> Box<dyn Store> {
        Box::new(FileStore::open(&self.0.path().join("piece/journal")).unwrap())
    }
    fn lies_there(&self) -> String {
        std::fs::read_to_string(self.0.path().join("piece/journal")).unwrap_or_default()
    }
}

/// A store that begins with one line, and its faults.
fn begun(bench: &dyn Bench) -> (Box<dyn Store>, Arc<Mutex<Faults>>) {
    bench.store().replace(b"begun\n").unwrap();
    let (faulty, faults) = Faulty::new(bench.store());
    (Box::new(faulty), faults)
}

fn ledger(bench: &dyn Bench) -> (JournalWriter, Arc<Mutex<Faults>>) {
    let (store, faults) = begun(bench);
    (
        JournalWriter::sound(store, b"begun\n".to_vec(), false),
        faults,
    )
}

fn kind(ledger: &mut JournalWriter) -> Option<TroubleKind> {
    ledger.trouble().map(|trouble| trouble.kind)
}

fn until(what: &str, mut holds: impl FnMut() -> bool) {
    let since = Instant::now();
    while !holds() {
        assert!(
            since.elapsed() < Duration::from_secs(60),
            "waited in vain until {what}"
        );
        sleep(Duration::from_millis(2));
    }
}

impl Store for Box<dyn Store> {
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), super::Short> {
        (**self).append(length, bytes)
    }
    fn cut(&mut self, length: u64) -> std::io::Result<()> {
        (**self).cut(length)
    }
    fn replace(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        (**self).replace(bytes)
    }
    fn set_aside(&mut self) -> std::io::Result<Option<String>> {
        (**self).set_aside()
    }
    fn settler(&mut self) -> std::io::Result<Arc<dyn super::Settle>> {
        (**self).settler()
    }
}

fn a_store_is_added_to_cut_and_replaced(bench: &dyn Bench) {
    assert_eq!(bench.lies_there(), "");
    let (mut store, _) = begun(bench);
    store.append(6, b"one\n").unwrap();
    store.append(10, b"two\n").unwrap();
    assert_eq!(bench.lies_there(), "begun\none\ntwo\n");
    store.cut(10).unwrap();
    store.append(10, b"three\n").unwrap();
    assert_eq!(bench.lies_there(), "begun\none\nthree\n");
    store.replace(b"anew\n").unwrap();
    store.append(5, b"four\n").unwrap();
    store.settler().unwrap().settle().unwrap();
    assert_eq!(bench.lies_there(), "anew\nfour\n");
}

fn a_line_is_there_as_soon_as_it_is_added(bench: &dyn Bench) {
    let (mut ledger, _) = ledger(bench);
    assert_eq!(ledger.add(b"one\n"), Saved::Written);
    assert_eq!(bench.lies_there(), "begun\none\n");
    assert_eq!(kind(&mut ledger), None);
}

fn the_disk_is_asked_to_confirm_every_line(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    let _ = ledger.add(b"one\n");
    assert_eq!(
        faults.lock().unwrap().settled,
        0,
        "nobody waits for the disk"
    );
    ledger.settle();
    until("the line is confirmed", || {
        faults.lock().unwrap().settled == 1
    });
    let _ = ledger.add(b"two\n");
    assert_eq!(ledger.finish(), None);
    assert_eq!(faults.lock().unwrap().settled, 2);
}

fn a_full_disk_loses_nothing_and_leaves_no_half_line(bench: &dyn Bench) {
    for room in 0..8 {
        let (mut ledger, faults) = ledger(bench);
        faults.lock().unwrap().room = Some(room);
        let _ = ledger.add(b"one\n");
        let _ = ledger.add(b"two\n");
        assert_eq!(ledger.add(b"three\n"), Saved::Held);
        let trouble = ledger.trouble().expect("the trouble is told at once");
        assert_eq!(trouble.kind, TroubleKind::Full);
        let there = bench.lies_there();
        assert!(there.ends_with('\n'), "{room} bytes of room left {there:?}");
        let lines = there.lines().count() - 1;
        assert_eq!(trouble.waiting, 3 - lines, "{room} bytes of room");

        faults.lock().unwrap().room = None;
        assert_eq!(ledger.retry(), Saved::Written);
        assert_eq!(kind(&mut ledger), None);
        assert_eq!(bench.lies_there(), "begun\none\ntwo\nthree\n");
    }
}

fn a_half_line_that_cannot_be_taken_off_is_gone_on_with(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    *faults.lock().unwrap() = Faults {
        room: Some(2),
        no_cutting: true,
        ..Faults::default()
    };
    assert_eq!(ledger.add(b"one\n"), Saved::Held);
    assert_eq!(bench.lies_there(), "begun\non");
    faults.lock().unwrap().room = None;
    assert_eq!(ledger.add(b"two\n"), Saved::Written);
    assert_eq!(bench.lies_there(), "begun\none\ntwo\n");
}

fn a_store_that_may_not_be_written_loses_nothing(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    faults.lock().unwrap().read_only = true;
    assert_eq!(ledger.add(b"one\n"), Saved::Held);
    assert_eq!(kind(&mut ledger), Some(TroubleKind::ReadOnly));
    assert_eq!(ledger.retry(), Saved::Held);
    faults.lock().unwrap().read_only = false;
    assert_eq!(ledger.add(b"two\n"), Saved::Written);
    assert_eq!(bench.lies_there(), "begun\none\ntwo\n");
}

fn a_store_that_is_gone_is_made_anew_with_everything(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    let _ = ledger.add(b"one\n");
    *faults.lock().unwrap() = Faults {
        gone: true,
        no_replacing: true,
        ..Faults::default()
    };
    assert_eq!(ledger.add(b"two\n"), Saved::Held);
    assert_eq!(kind(&mut ledger), Some(TroubleKind::Gone));
    assert_eq!(ledger.retry(), Saved::Held);
    assert_eq!(ledger.add(b"three\n"), Saved::Held);
    faults.lock().unwrap().no_replacing = false;
    assert_eq!(ledger.retry(), Saved::Written);
    assert_eq!(kind(&mut ledger), None);
    assert_eq!(bench.lies_there(), "begun\none\ntwo\nthree\n");
    assert_eq!(ledger.add(b"four\n"), Saved::Written);
    assert_eq!(ledger.finish(), None);
    assert_eq!(bench.lies_there(), "begun\none\ntwo\nthree\nfour\n");
}

fn a_store_that_somebody_empties_gets_everything_again(bench: &dyn Bench) {
    let (mut ledger, _) = ledger(bench);
    let _ = ledger.add(b"one\n");
    bench.store().cut(3).unwrap();
    assert_eq!(ledger.add(b"two\n"), Saved::Held);
    assert_eq!(kind(&mut ledger), Some(TroubleKind::Gone));
    assert_eq!(ledger.retry(), Saved::Written);
    assert_eq!(bench.lies_there(), "begun\none\ntwo\n");
    assert_eq!(ledger.finish(), None);
}

fn a_disk_that_does_not_confirm_gets_everything_again(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    faults.lock().unwrap().no_settling = true;
    let _ = ledger.add(b"one\n");
    ledger.settle();
    until("the failure is told", || {
        matches!(kind(&mut ledger), Some(TroubleKind::Unconfirmed(_)))
    });
    assert_eq!(ledger.add(b"two\n"), Saved::Written);
    assert!(
        kind(&mut ledger).is_some(),
        "what was not confirmed stays trouble"
    );
    // The disk lost what it did not confirm.
    bench.store().cut(6).unwrap();
    faults.lock().unwrap().no_settling = false;
    let _ = ledger.retry();
    assert_eq!(kind(&mut ledger), None);
    assert_eq!(bench.lies_there(), "begun\none\ntwo\n");
}

fn a_damaged_store_is_kept_beside_once_and_written_anew(bench: &dyn Bench) {
    let (store, faults) = begun(bench);
    faults.lock().unwrap().room = Some(0);
    let mut ledger = JournalWriter::damaged(store, b"mended\n".to_vec());
    assert_eq!(kind(&mut ledger), Some(TroubleKind::Full));
    assert_eq!(ledger.add(b"one\n"), Saved::Held);
    assert_eq!(
        bench.lies_there(),
        "begun\n",
        "nothing is added to a damaged journal"
    );
    assert_eq!(ledger.retry(), Saved::Held);
    assert!(ledger.kept_as().unwrap().ends_with(".damaged-1"));
    faults.lock().unwrap().room = None;
    assert_eq!(ledger.retry(), Saved::Written);
    assert!(
        ledger.kept_as().unwrap().ends_with(".damaged-1"),
        "kept once"
    );
    assert_eq!(bench.lies_there(), "mended\none\n");
}

fn a_missing_last_line_feed_is_added_first(bench: &dyn Bench) {
    bench.store().replace(b"begun").unwrap();
    let mut ledger = JournalWriter::sound(bench.store(), b"begun".to_vec(), true);
    let _ = ledger.add(b"one\n");
    assert_eq!(bench.lies_there(), "begun\none\n");
}

fn what_is_dropped_is_brought_to_the_store(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    faults.lock().unwrap().read_only = true;
    let _ = ledger.add(b"one\n");
    faults.lock().unwrap().read_only = false;
    drop(ledger);
    assert_eq!(bench.lies_there(), "begun\none\n");
}

fn the_end_tells_what_could_not_be_kept(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    faults.lock().unwrap().read_only = true;
    let _ = ledger.add(b"one\n");
    let trouble = ledger.finish().unwrap();
    assert_eq!((trouble.kind, trouble.waiting), (TroubleKind::ReadOnly, 1));
}

fn the_journal_can_be_read_while_it_is_written(bench: &dyn Bench) {
    let (mut ledger, faults) = ledger(bench);
    let _ = ledger.add(b"one\n");
    faults.lock().unwrap().room = Some(0);
    let _ = ledger.add(b"two\n");
    assert_eq!(ledger.journal(), b"begun\none\ntwo\n");
}

/// Any faults in any order, coming and going: once they are over, every line
/// is there, once and in order.
fn whatever_fails_and_heals_nothing_is_lost(bench: &dyn Bench) {
    let mut state = 12_345_u64;
    let mut next = |below: u64| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % below
    };
    for _ in 0..20 {
        let (mut ledger, faults) = ledger(bench);
        let mut expected = String::from("begun\n");
        for number in 0..60 {
            let mut fault = faults.lock().unwrap();
            match next(8) {
                0 => fault.room = Some(next(20) as usize),
                1 => fault.no_settling = !fault.no_settling,
                2 => fault.gone = true,
                3 => fault.no_replacing = !fault.no_replacing,
                4 => fault.no_cutting = !fault.no_cutting,
                5 => fault.read_only = !fault.read_only,
                6 => *fault = Faults::default(),
                _ => {}
            }
            drop(fault);
            let line = format!("line {number}\n");
            expected += &line;
            let _ = ledger.add(line.as_bytes());
            if next(3) == 0 {
                let _ = ledger.retry();
            }
        }
        *faults.lock().unwrap() = Faults::default();
        assert_eq!(ledger.finish(), None);
        assert_eq!(bench.lies_there(), expected);
    }
}

macro_rules! over_every_store {
    ($($test:ident)*) => {
        mod memory {
            $(#[test]
            fn $test() {
                super::$test(&super::Memory(super::MemoryStore::default()));
            })*
        }
        mod on_disk {
            $(#[test]
            fn $test() {
                super::$test(&super::OnDisk(tempfile::tempdir().unwrap()));
            })*
        }
    };
}

over_every_store! {
    a_store_is_added_to_cut_and_replaced
    a_line_is_there_as_soon_as_it_is_added
    the_disk_is_asked_to_confirm_every_line
    a_full_disk_loses_nothing_and_leaves_no_half_line
    a_half_line_that_cannot_be_taken_off_is_gone_on_with
    a_store_that_may_not_be_written_loses_nothing
    a_store_that_is_gone_is_made_anew_with_everything
    a_store_that_somebody_empties_gets_everything_again
    a_disk_that_does_not_confirm_gets_everything_again
    a_damaged_store_is_kept_beside_once_and_written_anew
    a_missing_last_line_feed_is_added_first
    what_is_dropped_is_brought_to_the_store
    the_end_tells_what_could_not_be_kept
    the_journal_can_be_read_while_it_is_written
    whatever_fails_and_heals_nothing_is_lost
}
