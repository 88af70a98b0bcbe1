//! The piece's directory is taken away while it is open, or something else
//! comes to lie in its place.

use std::fs;

use super::stitching;

const GONE: &str = "the piece's directory is gone";

#[test]
fn a_directory_taken_away_is_made_again_with_every_step() {
    let (whole, mut screen) = stitching();
    fs::remove_dir_all(whole.tray()).expect("it is taken away");
    screen.press(b" ").sees("step 5 of ");
    // Told with the step, or made again by then: within a second in any case.
    screen.loses("Not kept");
    assert_eq!(whole.piece("evening-star").state().step, 4);
    screen.keys("<space> q");
    assert_eq!(screen.ends().0, 0);
    let piece = whole.piece("evening-star");
    assert_eq!(
        (piece.state().step, piece.title().as_str()),
        (5, "Evening star")
    );
    assert!(piece.notices().is_empty(), "{:?}", piece.notices());
}

/// This bites for every user: no right makes a directory where a file lies.
#[test]
fn a_place_that_cannot_be_had_is_told_at_once_and_waited_for() {
    let (whole, mut screen) = stitching();
    fs::remove_dir_all(whole.tray()).expect("it is taken away");
    fs::write(whole.tray(), "in the way").expect("a file is put there");
    screen.press(b" ").sees("step 5 of ").settle();
    assert!(screen.text().contains("Not kept"), "{}", screen.text());
    screen
        .rush("<space>4")
        .sees("step 9 of ")
        .says("5 entries wait in memory");
    assert_eq!(
        fs::read_to_string(whole.tray()).expect("it stays"),
        "in the way"
    );
    fs::remove_file(whole.tray()).expect("it is taken away");
    // Without a key.
    screen.loses("Not kept");
    assert_eq!(whole.piece("evening-star").state().step, 8);
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert!(whole.piece("evening-star").notices().is_empty());
}

#[test]
fn quitting_with_no_place_to_write_says_so() {
    let (whole, mut screen) = stitching();
    fs::remove_dir_all(whole.tray()).expect("it is taken away");
    fs::write(whole.tray(), "in the way").expect("a file is put there");
    screen.keys("<space>2 q");
    let (code, left) = screen.ends();
    assert_eq!(code, 2);
    assert!(
        left.contains("wait in memory") || left.contains(GONE),
        "{left}"
    );
}

#[test]
fn a_directory_moved_away_stays_whole_and_a_new_one_has_every_step() {
    let (whole, mut screen) = stitching();
    let away = whole.dir().join("away");
    fs::rename(whole.tray(), &away).expect("it is moved");
    screen.press(b" ").sees("step 5 of ").loses("Not kept");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(whole.piece("evening-star").state().step, 4);
    fs::remove_dir_all(whole.tray()).expect("it is taken away");
    fs::rename(&away, whole.tray()).expect("it is moved back");
    let moved = whole.piece("evening-star");
    assert_eq!((moved.state().step, moved.notices()), (3, &[][..]));
}
