//! Settings: of the maker, for all pieces, and of one piece.

use crate::builder::threadmark;
use crate::pty::Screen;

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

#[test]
fn the_maker_s_speech_program_is_the_one_of_the_call() {
    threadmark("stitch practice-triangle --plain")
        .file("settings.json", "{\"say\": \"no-such-program-here\"}")
        .stdin("q\n")
        .code(2)
        .stderr(
            "error: the speech program 'no-such-program-here' cannot be started: No such file or directory (os error 2)\n  \
             mend: give the command of one that is installed and reads what it says from standard input\n",
        )
        .run();
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
