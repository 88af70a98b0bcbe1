//! `threadmark sheet`: the handout.
//!
//! | file | holds the handout to |
//! |---|---|
//! | [`counts`] | the numbers of `rounds`, `plan` and `verify` |
//! | [`markup`] | its promises as a page: well-formed, alone, for every reader |
//! | [`joins`] | how joins are told and drawn, where sides are not alike too |
//! | [`huge`] | staying small and quick, and saying what is left out |
//! | [`printed`] | paper, by a real browser, where there is one |
//! | [`access`] | an accessibility checker, where there is one |
//! | [`browser`] | (that browser) |

#[cfg(unix)]
mod access;
mod browser;
mod counts;
mod huge;
mod joins;
mod markup;
mod printed;

use crate::builder::threadmark;
#[cfg(unix)]
use crate::pty::Screen;

/// The patterns that come with the program.
const SHIPPED: [&str; 8] = [
    "flat-hexagon",
    "harbour-lantern",
    "lamp-pull",
    "night-kite",
    "practice-decrease",
    "practice-pair",
    "practice-triangle",
    "weather-wheel",
];

/// A page without its first line, which XML does not know.
fn xml(page: &str) -> &str {
    page.strip_prefix("<!DOCTYPE html>\n").expect("a doctype")
}

#[test]
fn a_file_is_told_of_and_stays_unless_forced() {
    let run = threadmark("sheet practice-pair -o pair.html")
        .stdout("pair.html: Pair of sails, 2 kinds of panel, 13 drawings, 4 stages\n");
    run.run();
    let file = run.dir().join("pair.html");
    let written = std::fs::read_to_string(&file).unwrap();
    assert!(written.starts_with("<!DOCTYPE html>\n"));
    // That is asked first, before anything is read.
    for pattern in ["practice-triangle", "no-such-piece"] {
        run.again(&format!("sheet {pattern} -o pair.html"))
            .stderr(
                "error: pair.html is there already, and was left as it is\n  \
                 mend: name another file with -o FILE, or add --force to write over it\n",
            )
            .code(2)
            .run();
    }
    assert_eq!(std::fs::read_to_string(&file).unwrap(), written);
    run.again("sheet practice-triangle -o pair.html --force")
        .run();
    assert_ne!(std::fs::read_to_string(&file).unwrap(), written);
    let files = std::fs::read_dir(run.dir()).unwrap();
    assert_eq!(files.count(), 1, "nothing else is left");
}

#[test]
fn the_name_of_the_file_says_what_is_written() {
    let whole = threadmark("");
    for (file, start) in [
        ("pair.html", "<!DOCTYPE html>\n"),
        ("pair", "<!DOCTYPE html>\n"),
        ("pair.SVG", "<?xml "),
        ("pair.txt", "Pair of sails\n"),
    ] {
        whole.again(&format!("sheet practice-pair -o {file}")).run();
        let written = std::fs::read_to_string(whole.dir().join(file)).unwrap();
        assert!(written.starts_with(start), "{file}: {written}");
    }
    let refused = whole.again("sheet practice-pair -o pair.pdf").stderr(
        "error: pair.pdf: a handout is HTML, SVG or plain text\n  \
         mend: end the file's name in .html, .svg or .txt, or say with --to what to write\n",
    );
    refused.code(2).run();
    assert!(!whole.dir().join("pair.pdf").exists());
    // Said outright, it goes by that.
    whole
        .again("sheet practice-pair --to svg -o pair.html --force")
        .run();
    let written = std::fs::read_to_string(whole.dir().join("pair.html")).unwrap();
    assert!(written.starts_with("<?xml "), "{written}");
}

/// A terminal shows no HTML; a pipe gets it as ever.
#[cfg(unix)]
#[test]
fn a_terminal_gets_the_text() {
    let whole = threadmark("sheet practice-triangle --to text");
    let text = whole.run();
    let last = text.lines().last().unwrap();
    let (code, shown) = Screen::open(&whole.again("sheet practice-triangle"), 80, 24).ends();
    assert_eq!(code, 0);
    assert!(shown.trim_end().ends_with(last), "{shown}");
    let (_, shown) = Screen::open(&whole.again("sheet practice-triangle --to svg"), 80, 24).ends();
    assert!(shown.contains("</svg>"), "{shown}");
    let piped = whole.again("sheet practice-triangle").run();
    assert!(piped.starts_with("<!DOCTYPE html>\n"));
}

#[test]
fn paper_is_for_pages() {
    for to in ["svg", "text"] {
        threadmark(&format!("sheet lamp-pull --paper a4 --to {to}"))
            .stderr(
                "error: --paper is for a handout in HTML; drawings and plain text have no pages\n  \
                 mend: add --to html, or leave --paper out\n",
            )
            .code(2)
            .run();
    }
    let said = threadmark("sheet lamp-pull --paper letter --json").objects("sheet");
    assert_eq!(said[0]["paper"], "letter");
}

#[test]
fn a_pattern_that_cannot_be_sewn_writes_nothing() {
    let run = threadmark("sheet broken.json -o broken.html").file("broken.json", "{");
    assert_eq!(run.output().status.code(), Some(2));
    assert!(!run.dir().join("broken.html").exists());
}

/// A file may not grow over 20 blocks of 1024 bytes: as on a full disk, writing
/// ends half way.
#[cfg(unix)]
#[test]
fn where_there_is_no_room_the_old_handout_stays() {
    let run = threadmark("sheet practice-triangle -o sheet.html");
    run.run();
    let file = run.dir().join("sheet.html");
    let old = std::fs::read(&file).unwrap();
    for call in [
        "sheet weather-wheel -o sheet.html --force",
        "sheet weather-wheel -o new.html",
    ] {
        let full = run.again(call);
        let full = full.through(&["bash", "-c", "ulimit -f 20; exec \"$0\" \"$@\""]);
        let output = full.output();
        assert_eq!(output.status.code(), Some(2), "{call}");
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains("cannot be written: "), "{said}");
        let files = std::fs::read_dir(run.dir()).unwrap();
        assert_eq!(files.count(), 1, "{call}: nothing half-written is left");
        assert_eq!(std::fs::read(&file).unwrap(), old);
    }
}

#[test]
fn a_handout_for_the_left_hand_is_mirrored_wherever_the_hand_is_named() {
    let right = threadmark("sheet practice-triangle").run();
    let left = threadmark("sheet practice-triangle --left-handed").run();
    assert!(right.contains("goes anticlockwise") && left.contains("goes clockwise"));
    assert_ne!(right, left);
    let before = threadmark("--left-handed sheet practice-triangle").run();
    assert_eq!(before, left);
}

#[test]
fn plain_text_is_eighty_columns_or_fewer_and_says_what_the_page_says() {
    for pattern in SHIPPED {
        let text = threadmark(&format!("sheet {pattern} --to text")).run();
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{pattern}: {line}");
            assert_eq!(line, line.trim_end());
        }
        for heading in [
            "Take care",
            "What you need",
            "If something is wrong",
            "Stage by stage",
        ] {
            assert!(
                text.contains(&format!("\n{heading}\n")),
                "{pattern}: {heading}"
            );
        }
    }
}

/// Looked at: materials, rounds with counts, side 1 in letters, the zip, stages.
#[test]
fn a_small_handout_to_the_letter() {
    let text = threadmark("sheet practice-pair --to text").run();
    insta::assert_snapshot!(text);
}
