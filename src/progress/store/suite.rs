//! The same tests for every store, in memory and in a file, with the same
//! faults.

use std::sync::{Arc, Mutex};
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::faulty::{Faults, Faulty};
use super::{FileStore, MemoryStore, Store};
use crate::progress::journal_writer::JournalWriter;
use crate::progress::trouble::{Saved, TroubleKind};

/// A store under test, whose contents can be read from outside.
trait StoreUnderTest {
    fn store(&self) -> Box<dyn Store>;

    fn contents(&self) -> String;
}

struct Memory(MemoryStore);
impl StoreUnderTest for Memory {
    fn store(&self) -> Box<dyn Store> {
        Box::new(self.0.clone())
    }
    fn contents(&self) -> String {
        String::from_utf8(self.0.bytes().clone()).unwrap()
    }
}

struct OnDisk(tempfile::TempDir);
impl StoreUnderTest for OnDisk {
    fn store(&self) -> Box<dyn Store> {
        Box::new(FileStore::open(&self.0.path().join("piece/journal")).unwrap())
    }
    fn contents(&self) -> String {
        std::fs::read_to_string(self.0.path().join("piece/journal")).unwrap_or_default()
    }
}

/// A store that begins with one line, and its faults.
fn begun(under_test: &dyn StoreUnderTest) -> (Box<dyn Store>, Arc<Mutex<Faults>>) {
    under_test.store().replace(b"begun\n").unwrap();
    let (faulty, faults) = Faulty::new(under_test.store());
    (Box::new(faulty), faults)
}

fn writer(under_test: &dyn StoreUnderTest) -> (JournalWriter, Arc<Mutex<Faults>>) {
    let (store, faults) = begun(under_test);
    (
        JournalWriter::sound(store, b"begun\n".to_vec(), false),
        faults,
    )
}

fn kind(writer: &mut JournalWriter) -> Option<TroubleKind> {
    writer.trouble().map(|trouble| trouble.kind)
}

fn wait_until(what: &str, mut holds: impl FnMut() -> bool) {
    let since = Instant::now();
    while !holds() {
        assert!(
            since.elapsed() < Duration::from_secs(60),
            "waited too long until {what}"
        );
        sleep(Duration::from_millis(2));
    }
}

impl Store for Box<dyn Store> {
    fn append(&mut self, length: u64, bytes: &[u8]) -> Result<(), super::ShortWrite> {
        (**self).append(length, bytes)
    }
    fn truncate(&mut self, length: u64) -> std::io::Result<()> {
        (**self).truncate(length)
    }
    fn replace(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        (**self).replace(bytes)
    }
    fn set_aside(&mut self) -> std::io::Result<Option<String>> {
        (**self).set_aside()
    }
    fn sync_handle(&mut self) -> std::io::Result<Arc<dyn super::SyncToDisk>> {
        (**self).sync_handle()
    }
}

fn a_store_is_appended_to_truncated_and_replaced(under_test: &dyn StoreUnderTest) {
    assert_eq!(under_test.contents(), "");
    let (mut store, _) = begun(under_test);
    store.append(6, b"one\n").unwrap();
    store.append(10, b"two\n").unwrap();
    assert_eq!(under_test.contents(), "begun\none\ntwo\n");
    store.truncate(10).unwrap();
    store.append(10, b"three\n").unwrap();
    assert_eq!(under_test.contents(), "begun\none\nthree\n");
    store.replace(b"anew\n").unwrap();
    store.append(5, b"four\n").unwrap();
    store.sync_handle().unwrap().sync().unwrap();
    assert_eq!(under_test.contents(), "anew\nfour\n");
}

fn a_line_is_there_as_soon_as_it_is_added(under_test: &dyn StoreUnderTest) {
    let (mut writer, _) = writer(under_test);
    assert_eq!(writer.add(b"one\n"), Saved::Written);
    assert_eq!(under_test.contents(), "begun\none\n");
    assert_eq!(kind(&mut writer), None);
}

fn the_disk_is_asked_to_confirm_every_line(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    let _ = writer.add(b"one\n");
    assert_eq!(faults.lock().unwrap().syncs, 0, "nobody waits for the disk");
    writer.sync();
    wait_until("the line is confirmed", || {
        faults.lock().unwrap().syncs == 1
    });
    let _ = writer.add(b"two\n");
    assert_eq!(writer.finish(), None);
    assert_eq!(faults.lock().unwrap().syncs, 2);
}

fn a_full_disk_loses_nothing_and_leaves_no_partial_line(under_test: &dyn StoreUnderTest) {
    for room in 0..8 {
        let (mut writer, faults) = writer(under_test);
        faults.lock().unwrap().room = Some(room);
        let _ = writer.add(b"one\n");
        let _ = writer.add(b"two\n");
        assert_eq!(writer.add(b"three\n"), Saved::Held);
        let trouble = writer.trouble().expect("the trouble is told at once");
        assert_eq!(trouble.kind, TroubleKind::Full);
        let contents = under_test.contents();
        assert!(
            contents.ends_with('\n'),
            "{room} bytes of room left {contents:?}"
        );
        let lines = contents.lines().count() - 1;
        assert_eq!(trouble.waiting, 3 - lines, "{room} bytes of room");

        faults.lock().unwrap().room = None;
        assert_eq!(writer.retry(), Saved::Written);
        assert_eq!(kind(&mut writer), None);
        assert_eq!(under_test.contents(), "begun\none\ntwo\nthree\n");
    }
}

fn a_partial_line_that_cannot_be_removed_is_completed(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    *faults.lock().unwrap() = Faults {
        room: Some(2),
        no_truncate: true,
        ..Faults::default()
    };
    assert_eq!(writer.add(b"one\n"), Saved::Held);
    assert_eq!(under_test.contents(), "begun\non");
    faults.lock().unwrap().room = None;
    assert_eq!(writer.add(b"two\n"), Saved::Written);
    assert_eq!(under_test.contents(), "begun\none\ntwo\n");
}

fn a_store_that_may_not_be_written_loses_nothing(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    faults.lock().unwrap().read_only = true;
    assert_eq!(writer.add(b"one\n"), Saved::Held);
    assert_eq!(kind(&mut writer), Some(TroubleKind::ReadOnly));
    assert_eq!(writer.retry(), Saved::Held);
    faults.lock().unwrap().read_only = false;
    assert_eq!(writer.add(b"two\n"), Saved::Written);
    assert_eq!(under_test.contents(), "begun\none\ntwo\n");
}

fn a_removed_store_is_made_again_with_everything(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    let _ = writer.add(b"one\n");
    *faults.lock().unwrap() = Faults {
        gone: true,
        no_replace: true,
        ..Faults::default()
    };
    assert_eq!(writer.add(b"two\n"), Saved::Held);
    assert_eq!(kind(&mut writer), Some(TroubleKind::Gone));
    assert_eq!(writer.retry(), Saved::Held);
    assert_eq!(writer.add(b"three\n"), Saved::Held);
    faults.lock().unwrap().no_replace = false;
    assert_eq!(writer.retry(), Saved::Written);
    assert_eq!(kind(&mut writer), None);
    assert_eq!(under_test.contents(), "begun\none\ntwo\nthree\n");
    assert_eq!(writer.add(b"four\n"), Saved::Written);
    assert_eq!(writer.finish(), None);
    assert_eq!(under_test.contents(), "begun\none\ntwo\nthree\nfour\n");
}

fn a_store_that_somebody_empties_gets_everything_again(under_test: &dyn StoreUnderTest) {
    let (mut writer, _) = writer(under_test);
    let _ = writer.add(b"one\n");
    under_test.store().truncate(3).unwrap();
    assert_eq!(writer.add(b"two\n"), Saved::Held);
    assert_eq!(kind(&mut writer), Some(TroubleKind::Gone));
    assert_eq!(writer.retry(), Saved::Written);
    assert_eq!(under_test.contents(), "begun\none\ntwo\n");
    assert_eq!(writer.finish(), None);
}

fn a_disk_that_does_not_confirm_gets_everything_again(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    faults.lock().unwrap().no_sync = true;
    let _ = writer.add(b"one\n");
    writer.sync();
    wait_until("the failure is told", || {
        matches!(kind(&mut writer), Some(TroubleKind::Unconfirmed(_)))
    });
    assert_eq!(writer.add(b"two\n"), Saved::Written);
    assert!(
        kind(&mut writer).is_some(),
        "what was not confirmed stays trouble"
    );
    // The disk lost what it did not confirm.
    under_test.store().truncate(6).unwrap();
    faults.lock().unwrap().no_sync = false;
    let _ = writer.retry();
    assert_eq!(kind(&mut writer), None);
    assert_eq!(under_test.contents(), "begun\none\ntwo\n");
}

fn a_damaged_store_is_copied_once_and_rewritten(under_test: &dyn StoreUnderTest) {
    let (store, faults) = begun(under_test);
    faults.lock().unwrap().room = Some(0);
    let mut writer = JournalWriter::damaged(store, b"mended\n".to_vec());
    assert_eq!(kind(&mut writer), Some(TroubleKind::Full));
    assert_eq!(writer.add(b"one\n"), Saved::Held);
    assert_eq!(
        under_test.contents(),
        "begun\n",
        "nothing is added to a damaged journal"
    );
    assert_eq!(writer.retry(), Saved::Held);
    assert!(writer.kept_as().unwrap().ends_with(".damaged-1"));
    faults.lock().unwrap().room = None;
    assert_eq!(writer.retry(), Saved::Written);
    assert!(
        writer.kept_as().unwrap().ends_with(".damaged-1"),
        "kept once"
    );
    assert_eq!(under_test.contents(), "mended\none\n");
}

fn a_missing_last_line_feed_is_added_first(under_test: &dyn StoreUnderTest) {
    under_test.store().replace(b"begun").unwrap();
    let mut writer = JournalWriter::sound(under_test.store(), b"begun".to_vec(), true);
    let _ = writer.add(b"one\n");
    assert_eq!(under_test.contents(), "begun\none\n");
}

fn a_dropped_writer_writes_what_waits(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    faults.lock().unwrap().read_only = true;
    let _ = writer.add(b"one\n");
    faults.lock().unwrap().read_only = false;
    drop(writer);
    assert_eq!(under_test.contents(), "begun\none\n");
}

fn finishing_says_what_could_not_be_saved(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    faults.lock().unwrap().read_only = true;
    let _ = writer.add(b"one\n");
    let trouble = writer.finish().unwrap();
    assert_eq!((trouble.kind, trouble.waiting), (TroubleKind::ReadOnly, 1));
}

fn the_journal_can_be_read_while_it_is_written(under_test: &dyn StoreUnderTest) {
    let (mut writer, faults) = writer(under_test);
    let _ = writer.add(b"one\n");
    faults.lock().unwrap().room = Some(0);
    let _ = writer.add(b"two\n");
    assert_eq!(writer.journal(), b"begun\none\ntwo\n");
}

/// Any faults in any order: once they are over, every line is there, once and
/// in order.
fn nothing_is_lost_after_any_faults(under_test: &dyn StoreUnderTest) {
    let mut state = 12_345_u64;
    let mut next = |below: u64| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % below
    };
    for _ in 0..20 {
        let (mut writer, faults) = writer(under_test);
        let mut expected = String::from("begun\n");
        for number in 0..60 {
            let mut fault = faults.lock().unwrap();
            match next(8) {
                0 => fault.room = Some(next(20) as usize),
                1 => fault.no_sync = !fault.no_sync,
                2 => fault.gone = true,
                3 => fault.no_replace = !fault.no_replace,
                4 => fault.no_truncate = !fault.no_truncate,
                5 => fault.read_only = !fault.read_only,
                6 => *fault = Faults::default(),
                _ => {}
            }
            drop(fault);
            let line = format!("line {number}\n");
            expected += &line;
            let _ = writer.add(line.as_bytes());
            if next(3) == 0 {
                let _ = writer.retry();
            }
        }
        *faults.lock().unwrap() = Faults::default();
        assert_eq!(writer.finish(), None);
        assert_eq!(under_test.contents(), expected);
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
    a_store_is_appended_to_truncated_and_replaced
    a_line_is_there_as_soon_as_it_is_added
    the_disk_is_asked_to_confirm_every_line
    a_full_disk_loses_nothing_and_leaves_no_partial_line
    a_partial_line_that_cannot_be_removed_is_completed
    a_store_that_may_not_be_written_loses_nothing
    a_removed_store_is_made_again_with_everything
    a_store_that_somebody_empties_gets_everything_again
    a_disk_that_does_not_confirm_gets_everything_again
    a_damaged_store_is_copied_once_and_rewritten
    a_missing_last_line_feed_is_added_first
    a_dropped_writer_writes_what_waits
    finishing_says_what_could_not_be_saved
    the_journal_can_be_read_while_it_is_written
    nothing_is_lost_after_any_faults
}
