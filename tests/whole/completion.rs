//! Completion in the shell.

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;

/// What is offered for the last of these words.
fn offered(whole: &Whole, words: &str) -> Vec<String> {
    let count = words.split(' ').count();
    let mut run = whole
        .again("--")
        .variable("THREADMARK_COMPLETE", "bash")
        .variable("_CLAP_COMPLETE_INDEX", &(count - 1).to_string())
        .variable("_CLAP_IFS", "\n");
    for word in words.split(' ') {
        run = run.arg(word);
    }
    run.run().lines().map(str::to_string).collect()
}

fn with_a_piece() -> Whole {
    let whole = threadmark("stitch a.json --plain")
        .file("a.json", triangle(3))
        .stdin("\nq\n");
    whole.run();
    whole
}

#[test]
fn commands_options_pieces_and_patterns_are_offered() {
    let whole = with_a_piece();
    assert_eq!(offered(&whole, "threadmark ro"), ["rounds"]);
    assert_eq!(offered(&whole, "threadmark stitch --lo"), ["--look"]);
    assert_eq!(offered(&whole, "threadmark stitch eve"), ["evening-star"]);
    assert_eq!(offered(&whole, "threadmark plan wea"), ["weather-wheel"]);
    assert_eq!(offered(&whole, "threadmark steps a"), ["a.json"]);
    assert_eq!(
        offered(&whole, "threadmark sheet lamp-pull --to t"),
        ["text"]
    );
    for command in [
        "stitch", "rounds", "steps", "beads", "verify", "plan", "check", "sheet", "locate",
    ] {
        let names = offered(&whole, &format!("threadmark {command} "));
        for name in ["evening-star", "practice-triangle", "a.json"] {
            assert!(names.iter().any(|n| n == name), "{command}: {names:?}");
        }
    }
}

#[test]
fn what_is_put_away_is_offered_to_bring_it_back() {
    let whole = with_a_piece();
    let away = "threadmark pieces bring-back ev";
    assert!(offered(&whole, away).is_empty());
    assert_eq!(
        offered(&whole, "threadmark pieces put-away ev"),
        ["evening-star"]
    );
    whole.again("pieces put-away evening-star").run();
    assert_eq!(offered(&whole, away), ["evening-star"]);
    assert!(offered(&whole, "threadmark pieces put-away ev").is_empty());
}

/// In a real shell, as a person presses Tab.
#[cfg(unix)]
#[test]
fn bash_asks_the_program() {
    let whole = with_a_piece();
    let script = whole.again("manual --to bash").run();
    let asks = "source ./completion; COMP_WORDS=(threadmark stitch eve); COMP_CWORD=2; \
                _clap_complete_threadmark threadmark eve stitch; printf '%s\\n' \"${COMPREPLY[@]}\"";
    let bash = format!("PATH=\"${{0%/*}}:$PATH\"; {asks}");
    let run = whole.again("").file("completion", script);
    assert_eq!(run.through(&["bash", "-c", &bash]).run(), "evening-star\n");
}
