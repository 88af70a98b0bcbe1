//! Settings: of the maker, for all pieces, and of one piece.

use crate::builder::threadmark;
use crate::pty::Screen;

/// To the last line of the list.
const LAST: &str = "<pagedown>2";

#[test]
fn what_is_set_holds_for_all_pieces_and_a_piece_may_differ() {
    let whole = threadmark("stitch practice-triangle");
    let mut screen = Screen::begun(&whole);
    screen.keys("s").sees("Changes are for all your pieces:");
    screen.keys("<enter>").sees("[yes]").keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
    let kept = std::fs::read_to_string(whole.dir().join("settings.json")).expect("the file");
    assert_eq!(kept, "{\n  \"left-handed\": true\n}\n");

    let mut other = Screen::begun(&whole.again("stitch practice-decrease"));
    other.keys("s").sees("[yes]").keys("<tab>");
    other
        .sees("Changes are kept with this piece")
        .keys("<enter>");
    other.loses("[yes]").keys("<esc> q");
    assert_eq!(other.ends().0, 0);

    let mut first = Screen::open(&whole.again("stitch practice-triangle"), 80, 24);
    first.keys("<space> s").sees("[yes]").keys("<esc> q");
    assert_eq!(first.ends().0, 0);
}

/// One that is gone keeps nobody from her piece.
#[test]
fn a_speech_program_of_the_settings_that_is_gone_is_told_and_left_out() {
    let said = threadmark("stitch practice-triangle --plain")
        .file("settings.json", "{\"say\": \"no-such-program-here\"}")
        .stdin("\nq\n")
        .stderr(
            "note: the speech program 'no-such-program-here' cannot be started: No such file or directory; \
             nothing is read aloud, and `s` sets another\n",
        )
        .run();
    assert!(said.contains("step 2 of"), "{said}");
}

#[test]
fn a_file_of_settings_that_cannot_be_read_is_refused_with_its_line() {
    threadmark("stitch practice-triangle --plain")
        .file("settings.json", "{\n  \"unit\": \"ell\"\n}\n")
        .stdin("q\n")
        .code(2)
        .stderr(
            "error: [dir]/settings.json:2: unit: expected \"mm\" or \"in\"\n  \
             mend: mend that line, or take it out; nothing was changed\n",
        )
        .run();
}

/// A pedal that types End makes a movement, in every piece.
#[test]
fn a_key_of_one_s_own_does_another_s_work() {
    let whole = threadmark("stitch practice-triangle");
    let mut screen = Screen::begun(&whole);
    screen
        .keys(&format!("s {LAST} <enter>"))
        .sees("Press the key that you want to use");
    screen.keys("<end>").sees("End: now press");
    screen
        .keys("<space>")
        .sees("End does the work of space now");
    screen.sees("[End as space]").keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
    let kept = std::fs::read_to_string(whole.dir().join("settings.json")).expect("the file");
    assert!(kept.contains("End as space"), "{kept}");

    let mut other = Screen::begun(&whole.again("stitch practice-decrease"));
    other.sees("step 1 of").keys("<end>").sees("step 2 of");
    // The same key twice has its own work again.
    other.keys(&format!("s {LAST} <enter> <end> <end>"));
    other
        .sees("End does its own work again")
        .keys("<esc> <end>");
    other.sees("step 2 of").keys("q");
    assert_eq!(other.ends().0, 0);
}

#[test]
fn light_ground_and_the_speech_program_are_set_on_the_screen() {
    let whole = threadmark("stitch practice-triangle");
    let mut screen = Screen::begun(&whole);
    screen.keys("s <down> <down> <enter>").sees("[light]");
    screen
        .keys(&format!("{LAST} <up> <enter>"))
        .sees("Command that reads aloud");
    screen
        .keys("c a t <enter>")
        .sees("from the next start")
        .sees("[cat]")
        .keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
    let kept = std::fs::read_to_string(whole.dir().join("settings.json")).expect("the file");
    assert_eq!(kept, "{\n  \"ground\": \"light\",\n  \"say\": \"cat\"\n}\n");
}

/// The tray opens the same settings; what is set there holds in a piece that
/// is opened from it, and a key of one's own works in the tray too.
#[test]
fn settings_and_keys_are_set_from_the_tray_too() {
    let whole = threadmark("");
    let begun = whole.again("stitch practice-triangle --plain");
    begun.stdin("\n\nq\n").run();
    let mut screen = Screen::open(&whole.again(""), 80, 24);
    screen.sees("s settings").keys("s");
    screen
        .sees("Changes are for all your pieces:")
        .loses("all pieces or this");
    screen.keys("<enter>").sees("[yes]");
    screen.keys("<down> <down> <enter>").sees("[light]");
    screen
        .keys(&format!("{LAST} <enter>"))
        .sees("Press the key that you want to use");
    screen.keys("<end> <enter>").sees("[End as Enter]");
    screen.keys("<esc>").sees("Your tray").keys("<end>");
    screen.sees("You were at").keys("<space> s");
    screen.sees("[yes]").sees("[light]").keys("<esc> q");
    assert_eq!(screen.ends().0, 0);
    let kept = std::fs::read_to_string(whole.dir().join("settings.json")).expect("the file");
    assert!(kept.contains("\"left-handed\": true"), "{kept}");
    assert!(kept.contains("End as Enter"), "{kept}");
}
