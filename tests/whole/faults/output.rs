//! Output that has nowhere to go: a reader who has seen enough is no error
//! anywhere, a full disk always is.

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;

/// One call of everything that prints.
const CALLS: [&str; 25] = [
    "--help",
    "-h",
    "--version",
    "steps --help",
    "rounds a.json",
    "rounds a.json --json",
    "steps a.json",
    "steps a.json --json",
    "beads a.json",
    "verify a.json",
    "plan a.json",
    "plan a.json --json",
    "sheet a.json --to text",
    "draft triangle -o -",
    "check a.json --job 1 --round 4 --count 12",
    "locate a.json",
    "pieces",
    "pieces --json",
    "manual --to man",
    "manual --to zsh",
    "help steps",
    "patterns",
    "patterns --json",
    "pieces export evening-star -o -",
    "stitch evening-star --plain",
];

fn resting() -> Whole {
    let whole = threadmark("stitch a.json --plain").file("a.json", triangle(9));
    whole.output();
    whole
}

#[test]
fn a_full_output_is_an_error_of_every_command_and_of_the_help() {
    let whole = resting();
    for call in CALLS {
        let full = ["bash", "-c", "exec \"$0\" \"$@\" > /dev/full"];
        let output = whole.again(call).through(&full).stdin("\nq\n").output();
        let said = String::from_utf8(output.stderr).expect("text");
        assert_eq!(output.status.code(), Some(2), "{call}: {said}");
        assert!(
            said.starts_with("error: the output could not be written: ")
                || said.contains("\"error\":\"the output could not be written: "),
            "{call}: {said}"
        );
    }
}

#[test]
fn a_closed_pipe_is_no_error_of_any_command() {
    let whole = resting();
    // The reader is gone before the program starts.
    let closed = "exec 3> >(:); wait $!; exec \"$0\" \"$@\" >&3";
    for call in CALLS {
        let again = whole.again(call).through(&["bash", "-c", closed]);
        let output = again.stdin("\nq\n").output();
        let said = String::from_utf8(output.stderr).expect("text");
        assert_eq!(
            (output.status.code(), said.as_str()),
            (Some(0), ""),
            "{call}"
        );
    }
}
