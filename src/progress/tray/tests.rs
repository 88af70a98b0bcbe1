use std::fs;

use super::*;
use crate::progress::{Condition, Entry, Event, MoveReason};

const NOW: Moment = Moment(1_700_000_000_000);

fn tray() -> (tempfile::TempDir, Tray) {
    let dir = tempfile::tempdir().unwrap();
    let tray = Tray::open(&dir.path().join("tray"));
    (dir, tray)
}

fn begin(tray: &Tray, title: &str) -> Piece {
    tray.begin(title, b"{\"format\":1}", None, 168, NOW)
        .unwrap()
}

fn names(tray: &Tray) -> Vec<String> {
    tray.pieces()
        .unwrap()
        .into_iter()
        .map(|piece| piece.name)
        .collect()
}

#[test]
fn a_missing_tray_is_empty_and_is_not_created() {
    let (_dir, tray) = tray();
    assert_eq!(tray.pieces().unwrap(), []);
    assert!(!tray.dir().exists());
}

#[test]
fn a_new_piece_is_in_the_tray_with_its_own_copy() {
    let (_dir, tray) = tray();
    let piece = begin(&tray, "Evening star");
    assert_eq!((piece.name(), piece.mode()), ("evening-star", Mode::Work));
    assert_eq!(piece.notices(), []);
    assert_eq!(
        fs::read(tray.dir().join("evening-star/pattern.json")).unwrap(),
        b"{\"format\":1}"
    );

    let summary = tray.pieces().unwrap().remove(0);
    assert_eq!(summary.title.as_str(), "Evening star");
    assert_eq!(
        (summary.step, summary.steps, summary.finished),
        (0, Some(168), false)
    );
    assert_eq!(
        (summary.last_worked, summary.condition),
        (Some(NOW), Condition::Sound)
    );
}

#[test]
fn pieces_with_the_same_title_get_numbers() {
    let (_dir, tray) = tray();
    for _ in 0..3 {
        drop(begin(&tray, "Star"));
    }
    assert_eq!(names(&tray), ["star", "star-2", "star-3"]);
}

#[test]
fn the_piece_worked_on_last_comes_first() {
    let (_dir, tray) = tray();
    drop(begin(&tray, "First"));
    let mut second = begin(&tray, "Second");
    let _ = second.record(Entry::to(168, MoveReason::Jump, Moment(NOW.0 + 5)));
    assert_eq!(names(&tray), ["second", "first"]);
    assert!(tray.pieces().unwrap()[0].finished);
}

#[test]
fn an_interrupted_beginning_is_not_a_piece_and_is_removed() {
    let (_dir, tray) = tray();
    let stale = tray.dir().join(".begin-1-1");
    fs::create_dir_all(&stale).unwrap();
    drop(PieceLock::take(&stale).unwrap());
    fs::write(stale.join(PATTERN), "{").unwrap();
    let empty = tray.dir().join(".begin-1-2");
    fs::create_dir(&empty).unwrap();
    let under_way = tray.dir().join(".begin-1-3");
    fs::create_dir(&under_way).unwrap();
    let lock = PieceLock::take(&under_way).unwrap();

    assert_eq!(names(&tray), [""; 0]);
    assert!(tray.open_piece(".begin-1-1", Mode::Look, NOW).is_err());
    drop(begin(&tray, "Star"));
    assert!(!stale.exists() && !empty.exists());
    assert!(under_way.exists(), "another program is just beginning it");
    drop(lock);
    drop(begin(&tray, "Star"));
    assert!(!under_way.exists());
}

#[test]
fn many_pieces_can_be_begun_at_once() {
    let (_dir, tray) = tray();
    std::thread::scope(|scope| {
        for _ in 0..8 {
            scope.spawn(|| (0..5).for_each(|_| drop(begin(&tray, "Star"))));
        }
    });
    assert_eq!(names(&tray).len(), 40);
    let left = fs::read_dir(tray.dir()).unwrap().count();
    assert_eq!(left, 40, "no temporary directory is left");
}

#[test]
fn other_files_are_not_shown() {
    let (_dir, tray) = tray();
    fs::create_dir_all(tray.dir().join("photographs")).unwrap();
    fs::write(tray.dir().join("list.txt"), "beads").unwrap();
    assert_eq!(names(&tray), [""; 0]);
}

#[test]
fn a_wrong_name_suggests_the_nearest() {
    let (_dir, tray) = tray();
    drop(begin(&tray, "Evening star"));
    let error = tray
        .open_piece("evning-star", Mode::Work, NOW)
        .err()
        .unwrap()
        .to_string();
    assert!(
        error.starts_with("no piece named 'evning-star' lies in the tray "),
        "{error}"
    );
    assert!(error.ends_with("; did you mean 'evening-star'?"), "{error}");
    for outside in ["../tray/evening-star", "..", "", "/etc"] {
        let error = tray.open_piece(outside, Mode::Work, NOW).err();
        assert!(
            matches!(error, Some(Error::NoSuchPiece { .. })),
            "{outside:?}"
        );
    }
}

#[test]
fn a_title_that_is_no_name_any_more_names_the_pieces_that_have_it() {
    let (_dir, tray) = tray();
    for _ in 0..3 {
        drop(begin(&tray, "Evening star"));
    }
    let said = |tray: &Tray| {
        tray.rename("Evening star", "Other")
            .unwrap_err()
            .to_string()
    };
    tray.put_away("evening-star").unwrap();
    let several = "; 'evening-star-2' and 'evening-star-3' have that title: name one of them";
    assert!(said(&tray).ends_with(several), "{}", said(&tray));
    tray.put_away("evening-star-2").unwrap();
    let one = "; 'evening-star-3' has that title";
    assert!(said(&tray).ends_with(one), "{}", said(&tray));
}

#[test]
fn damage_and_newer_formats_show_in_the_tray() {
    let (_dir, tray) = tray();
    for title in ["Newer piece", "Newer journal", "Torn", "Spoiled facts"] {
        let mut piece = begin(&tray, title);
        let _ = piece.record(Entry::to(7, MoveReason::Forward, NOW));
        piece.close(NOW).unwrap();
    }
    let at = |path: &str| tray.dir().join(path);
    let metadata = fs::read_to_string(at("newer-piece/piece.json")).unwrap();
    fs::write(
        at("newer-piece/piece.json"),
        metadata.replace("\"major\": 1", "\"major\": 2"),
    )
    .unwrap();
    let newer = "{\"threadmark\":\"journal\",\"major\":2,\"minor\":0} 2326e7ef\n";
    fs::write(at("newer-journal/journal"), newer).unwrap();
    let torn = fs::read(at("torn/journal")).unwrap();
    fs::write(at("torn/journal"), &torn[..torn.len() - 5]).unwrap();
    fs::write(at("spoiled-facts/piece.json"), "{\u{7}").unwrap();

    let pieces = tray.pieces().unwrap();
    let piece = |name: &str| pieces.iter().find(|piece| piece.name == name).unwrap();
    let newer = |minor| Condition::Newer(crate::progress::Version { major: 2, minor });
    let ours = crate::progress::Version::OURS.minor;
    assert_eq!(piece("newer-piece").condition, newer(ours));
    assert_eq!(piece("newer-journal").condition, newer(0));
    assert!(matches!(&piece("torn").condition, Condition::Damaged(damage) if damage.only_torn_end));
    assert_eq!((piece("torn").step, piece("spoiled-facts").step), (7, 7));
    assert_eq!(piece("spoiled-facts").title.as_str(), "spoiled-facts");

    for name in ["newer-piece", "newer-journal"] {
        let before = snapshot(&tray.dir().join(name));
        let error = tray.open_piece(name, Mode::Work, NOW).err().unwrap();
        assert!(matches!(error, Error::Format { found, .. } if found.major == 2));
        assert!(
            error.to_string().ends_with("Nothing was changed"),
            "{error}"
        );
        assert_eq!(snapshot(&tray.dir().join(name)), before);
    }
}

fn snapshot(dir: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut files: Vec<_> = fs::read_dir(dir)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| (path.clone(), fs::read(path).unwrap()))
        .collect();
    files.sort();
    files
}

#[test]
fn a_tray_that_cannot_be_created_is_an_error_with_its_path() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("tray"), "a file").unwrap();
    let error = Tray::open(&dir.path().join("tray"))
        .begin("Star", b"", None, 1, NOW)
        .err()
        .unwrap();
    assert!(
        error.to_string().starts_with("cannot begin a piece in "),
        "{error}"
    );
}

#[test]
fn opening_is_an_entry() {
    let (_dir, tray) = tray();
    begin(&tray, "Star").close(NOW).unwrap();
    let mut piece = tray.open_piece("star", Mode::Work, NOW).unwrap();
    let mut events = Vec::new();
    piece
        .recent(usize::MAX, |entry| events.push(entry.did.clone()))
        .unwrap();
    assert_eq!(events, [Event::Opened, Event::Rested, Event::Opened]);
    assert_eq!(piece.state().sittings, 2);
}
