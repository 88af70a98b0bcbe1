//! What is refused, and in which words.

use crate::builder::threadmark;
use crate::pattern::{pattern, triangle};

#[test]
fn a_file_that_is_not_there() {
    threadmark("rounds lost.json")
        .stderr(
            "error: lost.json: cannot be read: No such file or directory (os error 2)\n  \
             mend: look at how the file is named, where it lies, and whether you may read it\n",
        )
        .code(2)
        .run();
}

#[test]
fn a_name_that_is_nearly_one_of_ours() {
    threadmark("rounds practice-triangel")
        .stderr(
            "error: no pattern 'practice-triangel' comes with threadmark, and there is no such file\n  \
             mend: did you mean 'practice-triangle'?\n",
        )
        .code(2)
        .run();
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
fn errors(whole: &crate::builder::Whole) -> String {
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
fn nothing_from_a_file_can_steer_the_terminal() {
    let sly = pattern(
        &[("face", r#""sides": 3, "rounds": 2"#)],
        r#"{ "jobs": [{ "panel": "face", "as": "lid\u001b[2J\u0007" }] }"#,
    );
    for args in ["rounds", "steps", "beads"] {
        let printed = threadmark(&format!("{args} a.json"))
            .file("a.json", &sly)
            .run();
        assert!(
            !printed.contains(|c: char| c.is_control() && c != '\n'),
            "{printed:?}"
        );
    }
    let wrong = sly.replace("\"face\" }", "\"face\", \"x\\u001b[31m\": 1 }");
    let said = errors(
        &threadmark("rounds a.json").file("a.json", wrong.replace("sides", "si\\u001b[2Jdes")),
    );
    assert!(
        !said.contains(|c: char| c.is_control() && c != '\n'),
        "{said:?}"
    );
    let named = errors(&threadmark("rounds").arg("star\u{1b}[2J.json"));
    assert!(
        !named.contains(|c: char| c.is_control() && c != '\n'),
        "{named:?}"
    );
}
