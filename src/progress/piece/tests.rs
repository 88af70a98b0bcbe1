use std::fs;
use std::time::Instant;

use super::*;
use crate::progress::{MoveReason, Tray, TroubleKind};

const NOW: Moment = Moment(1_700_000_000_000);

struct TestTray {
    dir: tempfile::TempDir,
    tray: Tray,
}

impl TestTray {
    fn new() -> TestTray {
        let dir = tempfile::tempdir().unwrap();
        let tray = Tray::open(&dir.path().join("tray"));
        TestTray { dir, tray }
    }

    fn pattern(&self) -> PathBuf {
        let path = self.dir.path().join("star.json");
        fs::write(&path, "{\"star\":1}").unwrap();
        path
    }

    fn begin(&self) -> Piece {
        let pattern = self.pattern();
        self.tray
            .begin("Star", b"{\"star\":1}", Some(&pattern), 168, NOW)
            .unwrap()
    }

    /// A piece worked to step 5 and put away.
    fn rested(&self) -> &TestTray {
        let mut piece = self.begin();
        (1..=5).for_each(|step| assert_eq!(piece.record(forward(step)), Saved::Written));
        piece.close(NOW).unwrap();
        self
    }

    fn open(&self, mode: Mode) -> Piece {
        self.tray.open_piece("star", mode, NOW).unwrap()
    }

    fn at(&self, file: &str) -> PathBuf {
        self.tray.dir().join("star").join(file)
    }
}

fn forward(step: u32) -> Entry {
    Entry::to(
        step,
        MoveReason::Forward,
        Moment(NOW.0 + i64::from(step) * 1000),
    )
}

fn sequence() -> crate::beadwork::Sequence {
    use crate::beadwork::testing;
    crate::beadwork::Sequence::new(testing::single(testing::panel(3, 8)))
}

#[test]
fn a_piece_that_rested_is_found_as_it_was() {
    let test_tray = TestTray::new();
    let mut piece = test_tray.begin();
    let _ = piece.record(forward(41));
    let _ = piece.record(Entry::note(&sequence(), 41, "thread is short", NOW));
    let _ = piece.record(Entry::left_handed(true, NOW));
    let state_before = piece.state().clone();
    piece.close(NOW).unwrap();

    let piece = test_tray.open(Mode::Work);
    assert_eq!(piece.notices(), []);
    let state = piece.state();
    assert_eq!(
        (state.step, &state.notes, &state.settings),
        (41, &state_before.notes, &state_before.settings)
    );
    assert_eq!(state.last_worked, Some(NOW));
    assert_eq!(
        (piece.pattern(), piece.steps()),
        (&b"{\"star\":1}"[..], Some(168))
    );
}

#[test]
fn recorded_entries_survive_a_killed_program() {
    let test_tray = TestTray::new();
    let mut piece = test_tray.begin();
    for step in 1..=50 {
        assert_eq!(piece.record(forward(step)), Saved::Written);
        // No close, no drop, no sync, as if the program had been killed.
        assert_eq!(test_tray.open(Mode::Look).state().step, step);
    }
    std::mem::forget(piece);
}

#[test]
fn the_second_to_open_a_piece_may_only_look() {
    let test_tray = TestTray::new();
    let mut first = test_tray.begin();
    let _ = first.record(forward(1));
    let before = fs::read(test_tray.at("journal")).unwrap();

    let mut second = test_tray.open(Mode::Work);
    assert_eq!(
        (second.mode(), second.notices()),
        (Mode::Look, &[Notice::OpenElsewhere][..])
    );
    assert_eq!(second.record(forward(2)), Saved::LookOnly);
    assert_eq!((second.state().step, second.trouble()), (2, None));
    second.close(NOW).unwrap();
    assert_eq!(fs::read(test_tray.at("journal")).unwrap(), before);

    drop(first);
    assert_eq!(test_tray.open(Mode::Work).mode(), Mode::Work);
}

#[test]
fn an_incomplete_last_line_is_reported_copied_and_repaired() {
    let test_tray = TestTray::new();
    let sound = fs::read(test_tray.rested().at("journal")).unwrap();
    let torn = [&sound[..], b"{\"at\":17000"].concat();
    fs::write(test_tray.at("journal"), &torn).unwrap();

    let piece = test_tray.open(Mode::Look);
    let [Notice::Damaged(damage)] = piece.notices() else {
        panic!("told {:?}", piece.notices())
    };
    assert_eq!(
        (damage.bytes, damage.only_torn_end, &damage.kept_as),
        (11, true, &None)
    );
    assert_eq!(
        fs::read(test_tray.at("journal")).unwrap(),
        torn,
        "a looker changes nothing"
    );

    let piece = test_tray.open(Mode::Work);
    let [Notice::Damaged(damage)] = piece.notices() else {
        panic!("told {:?}", piece.notices())
    };
    assert_eq!(damage.kept_as.as_deref(), Some("journal.damaged-1"));
    assert_eq!(piece.state().step, 5);
    piece.close(NOW).unwrap();
    assert_eq!(fs::read(test_tray.at("journal.damaged-1")).unwrap(), torn);
    assert!(
        fs::read(test_tray.at("journal"))
            .unwrap()
            .starts_with(&sound)
    );
    assert_eq!(test_tray.open(Mode::Work).notices(), [], "told once");
}

#[test]
fn a_piece_opens_however_its_journal_is_cut() {
    let test_tray = TestTray::new();
    let sound = fs::read(test_tray.rested().at("journal")).unwrap();
    // Lines in the middle are cut as the last two are.
    let header = sound.iter().position(|&byte| byte == b'\n').unwrap() + 2;
    let last_two = sound.split_inclusive(|&byte| byte == b'\n').rev().take(2);
    let last_two: usize = last_two.map(<[u8]>::len).sum();
    for cut in (0..header).chain(sound.len() - last_two..sound.len()) {
        fs::write(test_tray.at("journal"), &sound[..cut]).unwrap();
        let mut piece = test_tray.open(Mode::Work);
        let step = piece.state().step;
        assert_eq!(piece.record(forward(step + 1)), Saved::Written);
        drop(piece);
        let piece = test_tray.open(Mode::Work);
        assert_eq!(
            (piece.state().step, piece.notices()),
            (step + 1, &[][..]),
            "cut at byte {cut}"
        );
    }
}

#[test]
fn a_journal_of_rubbish_is_kept_and_the_piece_begins_again() {
    let test_tray = TestTray::new();
    let rubbish: Vec<u8> = (0..=255).cycle().take(3000).collect();
    fs::write(test_tray.rested().at("journal"), &rubbish).unwrap();
    let mut piece = test_tray.open(Mode::Work);
    assert_eq!(piece.state().step, 0);
    let notices = piece.notices()[0].to_string();
    assert!(
        notices.contains("the piece stands at its beginning"),
        "{notices}"
    );
    assert!(
        notices.ends_with("kept beside as journal.damaged-1"),
        "{notices}"
    );
    assert_eq!(
        fs::read(test_tray.at("journal.damaged-1")).unwrap(),
        rubbish
    );
    assert_eq!(piece.record(forward(1)), Saved::Written);
}

#[test]
fn a_missing_journal_is_reported_and_created() {
    let test_tray = TestTray::new();
    fs::remove_file(test_tray.rested().at("journal")).unwrap();
    assert!(matches!(
        test_tray.open(Mode::Look).notices(),
        [Notice::Damaged(_)]
    ));
    assert!(!test_tray.at("journal").exists());
    let mut piece = test_tray.open(Mode::Work);
    assert_eq!(piece.record(forward(1)), Saved::Written);
    drop(piece);
    assert_eq!(test_tray.open(Mode::Work).state().step, 1);
}

#[cfg(unix)]
#[test]
fn a_removed_directory_is_made_again_with_all_its_files() {
    let test_tray = TestTray::new();
    let mut piece = test_tray.begin();
    let _ = piece.record(forward(1));
    fs::remove_dir_all(test_tray.tray.dir()).unwrap();
    assert_eq!(piece.record(forward(2)), Saved::Held);
    let trouble = piece.trouble().unwrap();
    assert_eq!((trouble.kind, trouble.waiting), (TroubleKind::Gone, 1));
    assert_eq!(piece.state().step, 2, "stitching goes on");

    assert_eq!(piece.retry(), Saved::Written);
    assert_eq!(piece.trouble(), None);
    assert_eq!(
        test_tray.open(Mode::Work).mode(),
        Mode::Look,
        "it is locked as before"
    );
    assert_eq!(piece.record(forward(3)), Saved::Written);
    piece.close(NOW).unwrap();
    let mut piece = test_tray.open(Mode::Work);
    let mut steps = Vec::new();
    piece
        .recent(usize::MAX, |entry| {
            steps.extend(match entry.did {
                Event::Move { step, .. } => Some(step),
                _ => None,
            })
        })
        .unwrap();
    assert_eq!((steps, piece.notices()), (vec![1, 2, 3], &[][..]));
    assert_eq!(piece.title().as_str(), "Star");
    assert_eq!(piece.pattern(), b"{\"star\":1}");
}

/// A new piece's directory has been renamed since its files were opened.
#[test]
fn a_new_piece_recovers_from_a_failed_sync_too() {
    let test_tray = TestTray::new();
    let mut piece = test_tray.begin();
    let _ = piece.record(forward(1));
    let writer = piece.writer.as_mut().unwrap();
    writer.unconfirmed(&io::Error::other("no confirmation"));
    let trouble = piece.trouble().unwrap();
    assert!(matches!(trouble.kind, TroubleKind::Unconfirmed(_)));
    let _ = piece.retry();
    assert_eq!(piece.trouble(), None);
    assert_eq!(piece.record(forward(2)), Saved::Written);
    assert_eq!(piece.close(NOW), Ok(()));
    let piece = test_tray.open(Mode::Work);
    assert_eq!((piece.state().step, piece.notices()), (2, &[][..]));
}

#[cfg(unix)]
#[test]
fn a_directory_whose_path_is_taken_is_waited_for() {
    let test_tray = TestTray::new();
    let mut piece = test_tray.begin();
    fs::remove_dir_all(test_tray.tray.dir()).unwrap();
    fs::write(test_tray.tray.dir(), "in the way").unwrap();
    for step in 1..=3 {
        assert_eq!(piece.record(forward(step)), Saved::Held);
        assert_eq!(piece.retry(), Saved::Held);
    }
    assert_eq!(piece.trouble().unwrap().waiting, 3);
    fs::remove_file(test_tray.tray.dir()).unwrap();
    assert_eq!(piece.retry(), Saved::Written);
    drop(piece);
    assert_eq!(test_tray.open(Mode::Work).state().step, 3);
}

#[cfg(unix)]
#[test]
fn a_piece_that_another_program_has_taken_is_not_overwritten() {
    let test_tray = TestTray::new();
    let mut first = test_tray.begin();
    let _ = first.record(forward(1));
    let away = test_tray.dir.path().join("away");
    fs::rename(test_tray.tray.dir(), &away).unwrap();
    let mut second = test_tray.begin();
    let _ = second.record(forward(9));
    assert_eq!(first.record(forward(2)), Saved::Held);
    assert_eq!(first.retry(), Saved::Held);
    assert_eq!(first.trouble().unwrap().kind, TroubleKind::TakenElsewhere);
    drop(second);
    // The path is free again; the other program's journal is kept under another
    // name.
    assert_eq!(first.retry(), Saved::Written);
    drop(first);
    assert_eq!(test_tray.open(Mode::Work).state().step, 2);
    let other = fs::read_to_string(test_tray.at("journal.other-1")).unwrap();
    assert!(other.contains("\"step\":9"), "{other}");
}

/// Root may write anywhere, so this tests only other users; the tests of every
/// store have the same fault for all.
#[cfg(unix)]
#[test]
fn a_read_only_tray_is_reported_at_opening_and_work_continues() {
    use std::os::unix::fs::PermissionsExt;
    let test_tray = TestTray::new();
    test_tray.rested();
    let set = |mode| {
        let files = fs::read_dir(test_tray.at(""))
            .unwrap()
            .map(|entry| entry.unwrap().path());
        files.chain([test_tray.at("")]).for_each(|path| {
            fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
        });
    };
    set(0o555);
    let root = fs::OpenOptions::new()
        .append(true)
        .open(test_tray.at("journal"))
        .is_ok();
    let mut piece = test_tray.open(Mode::Work);
    let saved = piece.record(forward(6));
    let trouble = piece.trouble().map(|trouble| trouble.kind);
    set(0o755);
    assert_eq!(piece.retry(), Saved::Written);
    drop(piece);
    assert_eq!(test_tray.open(Mode::Work).state().step, 6);
    if !root {
        assert_eq!((saved, trouble), (Saved::Held, Some(TroubleKind::ReadOnly)));
    }
}

#[test]
fn the_pattern_file_is_compared_with_the_own_copy() {
    let test_tray = TestTray::new();
    let piece = test_tray.begin();
    assert_eq!(piece.source_state(), SourceState::Same);
    fs::write(piece.source().unwrap(), "{\"star\":2}").unwrap();
    assert_eq!(piece.source_state(), SourceState::Changed);
    fs::remove_file(piece.source().unwrap()).unwrap();
    assert_eq!(piece.source_state(), SourceState::Gone);
    let built_in = test_tray.tray.begin("Demo", b"{}", None, 1, NOW).unwrap();
    assert_eq!(built_in.source_state(), SourceState::BuiltIn);
}

#[test]
fn a_changed_copy_of_the_pattern_is_reported() {
    let test_tray = TestTray::new();
    fs::write(test_tray.rested().at("pattern.json"), "{\"star\":9}").unwrap();
    assert_eq!(
        test_tray.open(Mode::Work).notices(),
        [Notice::OwnCopyChanged]
    );
}

#[test]
fn without_its_pattern_a_piece_says_what_to_put_back() {
    let test_tray = TestTray::new();
    fs::remove_file(test_tray.rested().at("pattern.json")).unwrap();
    let error = test_tray
        .tray
        .open_piece("star", Mode::Work, NOW)
        .err()
        .unwrap()
        .to_string();
    assert!(
        error.contains("put the pattern that it was begun from back as "),
        "{error}"
    );
    fs::write(test_tray.at("pattern.json"), "{\"star\":1}").unwrap();
    assert_eq!(test_tray.open(Mode::Work).state().step, 5);
}

#[test]
fn a_lost_piece_json_costs_the_title_not_the_progress() {
    let test_tray = TestTray::new();
    fs::write(test_tray.rested().at("piece.json"), "{ no").unwrap();
    let mut piece = test_tray.open(Mode::Work);
    let kept_as = Some("piece.json.damaged-1".into());
    assert_eq!(piece.notices(), [Notice::MetadataLost { kept_as }]);
    assert_eq!(
        (piece.state().step, piece.title().as_str(), piece.steps()),
        (5, "star", None)
    );
    piece.set_steps(168);
    drop(piece);
    let piece = test_tray.open(Mode::Work);
    assert_eq!((piece.notices(), piece.steps()), (&[][..], Some(168)));
}

#[cfg(unix)]
#[test]
fn a_journal_that_is_not_a_plain_file_is_refused() {
    let test_tray = TestTray::new();
    fs::remove_file(test_tray.rested().at("journal")).unwrap();
    std::os::unix::fs::symlink("/dev/zero", test_tray.at("journal")).unwrap();
    let error = test_tray
        .tray
        .open_piece("star", Mode::Work, NOW)
        .err()
        .unwrap();
    assert!(matches!(error, Error::NotAFile { .. }), "{error}");
}

#[test]
fn entries_of_a_newer_version_are_reported_and_stay() {
    let test_tray = TestTray::new();
    let newer = "{\"at\":1700000003000,\"did\":{\"unpick\":{\"from\":9,\"to\":1}},\"lamp\":\"warm\"} 17e4a5e7\n";
    let journal = fs::read_to_string(test_tray.rested().at("journal")).unwrap() + newer;
    fs::write(test_tray.at("journal"), journal).unwrap();
    let piece = test_tray.open(Mode::Work);
    assert_eq!(piece.notices(), [Notice::Unknown { entries: 1 }]);
    piece.close(NOW).unwrap();
    assert!(
        fs::read_to_string(test_tray.at("journal"))
            .unwrap()
            .contains(newer)
    );
}

#[test]
fn a_piece_in_memory_is_like_any_other() {
    let mut piece = Piece::in_memory("Try", b"{}", 9, NOW);
    assert_eq!((piece.mode(), piece.notices()), (Mode::Work, &[][..]));
    assert_eq!(piece.record(forward(3)), Saved::Written);
    let mut entries = 0;
    piece.recent(usize::MAX, |_| entries += 1).unwrap();
    assert_eq!((entries, piece.source_state()), (2, SourceState::BuiltIn));
    piece.close(NOW).unwrap();
}

/// Prints the times (`--nocapture`), but does not test them.
#[test]
fn ten_thousand_entries_are_all_saved() {
    let test_tray = TestTray::new();
    let mut piece = test_tray.begin();
    let mut times: Vec<_> = (1..=10_000)
        .map(|step| {
            let since = Instant::now();
            assert_eq!(piece.record(forward(step)), Saved::Written);
            since.elapsed()
        })
        .collect();
    times.sort();
    let since = Instant::now();
    piece.close(NOW).unwrap();
    let closed = since.elapsed();
    let since = Instant::now();
    let piece = test_tray.open(Mode::Look);
    println!(
        "10,000 entries: median {:?}, 99 of 100 within {:?}, longest {:?}; closed in {closed:?}, read in {:?}",
        times[5_000],
        times[9_900],
        times[9_999],
        since.elapsed()
    );
    assert_eq!((piece.state().step, piece.notices()), (10_000, &[][..]));
}
