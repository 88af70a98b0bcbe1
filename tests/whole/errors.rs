//! What is refused, and in which words.

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;

#[test]
fn a_file_that_is_not_there() {
    threadmark("rounds lost.json")
        .stderr(
            "error: lost.json: cannot be read: No such file or directory\n  \
             mend: check the file's name and place, and that you may read it\n",
        )
        .code(2)
        .run();
}

#[test]
fn a_name_that_is_nearly_one_of_ours() {
    threadmark("rounds practice-triangel")
        .stderr(
            "error: 'practice-triangel' is no piece of the tray, no file, and no pattern of threadmark\n  \
             mend: did you mean 'practice-triangle'?\n",
        )
        .code(2)
        .run();
}

#[test]
fn a_name_that_is_a_file_without_its_ending() {
    for command in ["stitch Anna --plain", "stitch Anna --plain --new"] {
        let whole = threadmark(command).file("Anna.json", triangle(2));
        let said = errors(&whole);
        assert!(
            said.ends_with("\n  mend: did you mean 'Anna.json'?\n"),
            "{said}"
        );
    }
}

#[test]
fn a_field_that_is_wrong_is_told_with_line_and_mend() {
    let wrong = triangle(3).replace("\"rounds\"", "\"round\"");
    let whole = threadmark("steps a.json").file("a.json", wrong).code(2);
    let said = errors(&whole);
    let first = said.lines().next().unwrap();
    assert!(first.starts_with("error: a.json:10:"), "{said}");
    assert!(first.contains("round"), "{said}");
    assert!(said.contains("\n  mend: "), "{said}");
}

/// The standard error of a run that must fail before it prints anything.
fn errors(whole: &Whole) -> String {
    let output = whole.output();
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(String::from_utf8(output.stdout).unwrap(), "");
    String::from_utf8(output.stderr).unwrap()
}

#[test]
fn a_call_that_is_wrong_ends_with_two_as_well() {
    for args in [
        "rounds",
        "knit",
        "steps a.json --from 0",
        "check a.json --job 1",
    ] {
        let said = errors(&threadmark(args).file("a.json", triangle(2)));
        assert!(said.starts_with("error: "), "{said}");
    }
}

#[test]
fn a_number_that_does_not_fit_its_option_says_what_is_expected() {
    for (args, expected) in [
        ("draft triangle --edge -3", "a number above 0 up to 100000"),
        ("plan a.json --spare -5", "a number from 0 up to 1000"),
        (
            "draft ring --tetrahedra -6",
            "an even number from 6 to 1000",
        ),
        (
            "steps a.json --from -1",
            "a whole number from 1 to 4294967295",
        ),
        (
            "check a.json --job 1 --count 3 --round 0",
            "a whole number from 1 to 4294967295",
        ),
        (
            "picture a.json -o a.png --width 5",
            "a whole number from 100 to 1200",
        ),
        ("stitch --free --ring 13", "a whole number from 3 to 12"),
    ] {
        let said = errors(&threadmark(args).file("a.json", triangle(2)));
        let (option, value) = args.rsplit_once(' ').unwrap();
        let option = option.rsplit(' ').next().unwrap();
        let start = format!("error: invalid value '{value}' for '{option} <");
        assert!(said.starts_with(&start), "{said}");
        assert!(said.contains(&format!("expected {expected}\n")), "{said}");
    }
}

#[test]
fn a_directory_that_is_not_there_is_told_once() {
    threadmark("draft triangle -o nowhere/x.json")
        .stderr(
            "error: nowhere/x.json: cannot be written: the directory nowhere is not there\n  \
             mend: make it, or name another\n",
        )
        .code(2)
        .run();
}

/// A disk without room is told, and is not taken for done.
#[cfg(target_os = "linux")]
#[test]
fn output_that_cannot_be_written_is_an_error() {
    use crate::builder::{PROGRAM, prepare};
    use std::process::Command;

    let whole = threadmark("").file("a.json", triangle(4));
    for args in [
        "rounds a.json",
        "steps a.json --json",
        "beads a.json",
        "pieces",
        "manual",
    ] {
        let full = std::fs::File::create("/dev/full").expect("a device without room");
        let mut command = Command::new(PROGRAM);
        let output = prepare(&mut command, whole.dir())
            .args(args.split(' '))
            .stdout(full)
            .output()
            .expect("the program ends");
        assert_eq!(output.status.code(), Some(2), "{args}");
        let said = String::from_utf8(output.stderr).unwrap();
        let wanted = "error: the output could not be written: No space left on device\n  \
             mend: check that there is room there\n";
        match args.contains("--json") {
            true => assert!(
                said.contains("\"the output could not be written: "),
                "{said}"
            ),
            false => assert_eq!(said, wanted, "{args}"),
        }
    }
}

/// Nothing but lines of text.
#[track_caller]
fn assert_tame(text: &str) {
    let wild = |c: char| (c.is_control() && c != '\n') || ('\u{202a}'..='\u{202e}').contains(&c);
    assert!(!text.contains(wild), "{text:?}");
}

#[test]
fn nothing_from_a_file_can_steer_the_terminal() {
    let sly = triangle(2).replace("sea green", "sea \\u001b[2Jgreen\\u0007\\u202e");
    let printed = threadmark("rounds a.json").file("a.json", &sly).run();
    assert!(printed.contains("S  sea green\n"), "{printed}");
    for args in [
        "rounds",
        "steps",
        "beads",
        "verify",
        "steps --json",
        "verify --json",
    ] {
        let whole = threadmark(args).arg("a.json").file("a.json", &sly);
        assert_tame(&whole.run());
    }
}

#[test]
fn neither_can_an_error_about_it() {
    for (right, wrong) in [
        ("\"sides\"", "\"si\\u001b[2Jdes\""),
        ("\"face\"", "\"fa\\u001b]0;x\\u0007ce\""),
        ("all: S*", "all: \\u001b[31mS*"),
        ("threadmark", "thread\u{1b}[2Jmark"),
    ] {
        let wrong = triangle(2).replace(right, wrong);
        assert_tame(&errors(&threadmark("rounds a.json").file("a.json", wrong)));
    }
    for args in [
        "rounds",
        "stitch --plain",
        "check --job 1 --round 1 --count 3",
    ] {
        assert_tame(&errors(&threadmark(args).arg("star\u{1b}[2J.json")));
        assert_tame(&errors(&threadmark(args).arg("star\u{1b}[2J")));
    }
    let args = "check a.json --round 1 --count 3 --job";
    assert_tame(&errors(
        &threadmark(args)
            .arg("\u{1b}[2J")
            .file("a.json", triangle(2)),
    ));
}

/// A name without its quotes is two arguments; an unknown option is none.
#[test]
fn a_name_of_several_words_goes_in_quotes() {
    let tip = "tip: put a name of several words in quotes, as in 'Evening star'";
    let said = errors(&threadmark("rounds evening star"));
    assert!(said.contains(tip), "{said}");
    let said = errors(&threadmark("rounds evening-star --stars"));
    assert!(!said.contains("quotes"), "{said}");
}

/// The errors of a run that must fail, each held against its schema.
fn error_objects(whole: &Whole) -> Vec<serde_json::Value> {
    let schema = crate::schema::named("error");
    let said = errors(whole);
    said.lines().map(|line| schema.read(line)).collect()
}

#[test]
fn with_json_every_error_is_an_object() {
    let wrong = triangle(3).replace("\"rounds\"", "\"round\"");
    let whole = threadmark("")
        .file("wrong.json", wrong)
        .file("a.json", triangle(2));
    for args in [
        "rounds lost.json --json",
        "plan practice-triangel --json",
        "steps a.json --from 999 --json",
        "check a.json --job 9 --round 1 --count 3 --json",
        "locate nothing --json",
        "pieces rename nothing star --json",
        "pieces import a.json --json",
        "verify --json",
        "knit --json",
        "beads --json a.json --hue",
    ] {
        let errors = error_objects(&whole.again(args));
        assert_eq!(errors.len(), 1, "{args}");
        assert_eq!(errors[0]["line"], serde_json::Value::Null, "{args}");
        let says = errors[0]["error"].as_str().unwrap();
        assert!(!says.starts_with("error"), "{args}: {says}");
    }
    for error in error_objects(&whole.again("steps wrong.json --json")) {
        assert_eq!(error["file"], "wrong.json");
        assert!(
            error["line"].is_number() && error["column"].is_number(),
            "{error}"
        );
        assert!(
            error["field"].as_str().unwrap().starts_with("panels"),
            "{error}"
        );
        assert_ne!(error["mend"], "");
    }
}
