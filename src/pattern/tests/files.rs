//! Files on a disk, and everything that is too large.

use std::fs;

use super::{LANTERN, lantern, loaded, refused};
use crate::pattern::{limit, load, read};

#[test]
fn a_file_loads_and_is_named_in_what_is_wrong_with_it() {
    let place = tempfile::tempdir().unwrap();
    let path = place.path().join("lantern.json");
    fs::write(&path, LANTERN).unwrap();
    assert_eq!(load(&path).unwrap(), loaded(LANTERN));
    fs::write(
        &path,
        lantern("\"sides\": 3, \"rounds\": 8, \"c", "\"sides\": 3, \"c"),
    )
    .unwrap();
    let told = load(&path).unwrap_err().to_string();
    let start = format!("error: {}:11:13: panels.face: the field", path.display());
    assert!(told.starts_with(&start), "{told}");
}

#[test]
fn fields_for_other_programs_are_passed_over() {
    let more = r#""$schema": "pattern.schema.json", "x-shop": { "sides": null },"#;
    let fields = lantern("\"threadmark\"", &format!("{more} \"threadmark\""));
    let fields = fields.replace("\"open\": 2", "\"open\": 2, \"x-\": []");
    assert_eq!(loaded(&fields), loaded(LANTERN));
    refused(
        lantern("\"open\": 2", "\"x_open\": 2"),
        "error: lantern.json:12:59: panels.window.x_open: there is no field 'x_open' here
  mend: write 'open'",
    );
}

#[test]
fn blanks_at_the_ends_of_a_name_that_is_known_mean_nothing() {
    for (name, written) in [("braided 0.15", " braided 0.15 "), ("inward", "inward ")] {
        let [name, written] = [name, written].map(|name| format!("\"{name}\""));
        assert_eq!(loaded(&lantern(&name, &written)), loaded(LANTERN));
    }
}

#[test]
fn a_file_that_is_not_there() {
    let told = load("no/such/lantern.json").unwrap_err().to_string();
    let says = "error: no/such/lantern.json: the file cannot be read: ";
    assert!(told.starts_with(says), "{told}");
    assert!(told.ends_with("\n  mend: check the name, and that you may read the file"));
}

#[test]
fn a_file_name_is_clean_too() {
    let told = read("\x1b[2Jlantern\u{202e}.json", b"")
        .unwrap_err()
        .to_string();
    assert!(
        told.starts_with("error: lantern.json:1:1: not JSON"),
        "{told:?}"
    );
}

/// A device is not read at all, a long file no further than the limit.
#[cfg(target_os = "linux")]
#[test]
fn an_endless_file() {
    assert_eq!(
        load("/dev/zero").unwrap_err().to_string(),
        "error: /dev/zero: the file cannot be read: it is not a plain file
  mend: check the name, and that you may read the file"
    );
    let long = tempfile::NamedTempFile::new().unwrap();
    long.as_file().set_len(1 << 40).unwrap();
    let told = load(long.path()).unwrap_err().to_string();
    assert!(
        told.ends_with(
            "the file is larger than 1024 KiB, the most a pattern may be
  mend: check that it is a pattern; even a large one takes a few KiB"
        ),
        "{told}"
    );
}

#[test]
fn a_file_of_the_largest_size_is_read_and_one_byte_more_is_not() {
    let mut file = LANTERN.to_string();
    file.push_str(&" ".repeat(limit::FILE_BYTES - file.len()));
    assert_eq!(loaded(&file), loaded(LANTERN));
    file.push(' ');
    refused(
        &file,
        "error: lantern.json: the file is larger than 1024 KiB, the most a pattern may be
  mend: check that it is a pattern; even a large one takes a few KiB",
    );
}

#[test]
fn bytes_that_are_not_text() {
    let told = read("lantern.json", b"{\n  \"title\": \"\xff\"}").unwrap_err();
    assert_eq!(
        told.to_string(),
        "error: lantern.json:2:13: from here on this is not text (UTF-8)
  mend: save the file as UTF-8, and check that it is a pattern"
    );
}

#[test]
fn brackets_too_deep() {
    let deep = |depth: usize| format!("{}{}", "[".repeat(depth), "]".repeat(depth));
    let says = "error: lantern.json:1:33: more than 32 brackets within each other
  mend: close brackets that are open; a pattern needs seven at most";
    refused(deep(33), says);
    refused(deep(100_000), says);
    refused(
        deep(32),
        "error: lantern.json:1:1: expected a group in { }, found a list in [ ]
  mend: put a group in { } here",
    );
    // Brackets within a text do not count.
    let title = format!("\"{} \\\" {}\"", "[".repeat(50), "{".repeat(50));
    assert_eq!(
        loaded(&lantern("\"Harbour lantern\"", &title)).title.len(),
        103
    );
}

#[test]
fn lines_and_words_too_long() {
    let long = format!("all: {}", "S ".repeat(limit::LINE_CHARS));
    refused(
        lantern("\"all: S*\"", &format!("{long:?}")),
        "error: lantern.json:11:52: panels.face.colours[1]: this line has more than 10000 characters
  mend: shorten it: write S20 for twenty S, S* for as many as it takes",
    );
    let word = format!(
        r#""rounds": 2, "ring": 3, "words": ["{}"], "colours": ["all: S*"]"#,
        "1 ".repeat(limit::LINE_CHARS)
    );
    refused(
        lantern(r#""rounds": 8, "colours": ["all: S*"]"#, &word),
        "error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 is too long to read
  mend: shorten it: write 1*6 for 1 1 1 1 1 1",
    );
}

#[test]
fn too_many_letters() {
    let line = "\"1: A4096/A4096/A4096\",".repeat(100);
    let text = lantern("\"all: S*\"", &format!("{line} \"all: S*\""));
    let told = read("lantern.json", text.as_bytes()).unwrap_err();
    let says = "the colour words up to here give more than 1000000 letters";
    let mut problems = told.list.iter();
    assert!(problems.any(|problem| problem.what == says), "{told}");
}

#[test]
fn too_many_kinds_of_bead() {
    let letters = ('\u{4100}'..).filter(|c| c.is_alphabetic()).take(199);
    let beads: String = letters
        .map(|letter| {
            format!("\"{letter}\": {{\"name\": \"x\", \"size\": \"round 8/0\", \"colour\": \"#000000\"}}, ")
        })
        .collect();
    let told = read(
        "lantern.json",
        lantern("\"S\": {", &format!("{beads}\"S\": {{")).as_bytes(),
    );
    let told = told.unwrap_err().to_string();
    let says = "error: lantern.json:4:12: beads: 201 kinds of bead; 200 is the most
  mend: take out beads that no colour word uses";
    assert!(told.starts_with(says), "{told}");
}

/// The limit applies to all kinds of panel together, and is reported once.
#[test]
fn panels_that_are_too_much_together() {
    let large = r#"{ "sides": 3, "rounds": 1000, "colours": ["all: S*"] }"#;
    let panels =
        format!("\"p\": {large}, \"q\": {large}, \"r\": {large}, \"s\": {large}, \"face\"");
    refused(
        lantern("\"face\":", &format!("{panels}:")),
        "error: lantern.json:11:132: panels.r: the panels up to this one take 4504500 beads; 4000000 is the most
  mend: take fewer rounds, or take out panels that nothing is made of",
    );
}
