//! `threadmark check`.

use crate::builder::threadmark;
use crate::pattern::{inward, tetrahedron, triangle};

#[test]
fn a_count_that_is_right() {
    threadmark("check a.json --job 1 --round 4 --count 12")
        .file("a.json", triangle(4))
        .stdout("face. Round 4: 12. Yes, that is right.\n")
        .run();
    threadmark("check a.json --job face --round 4 --sides 4,4,4 --json")
        .file("a.json", triangle(4))
        .stdout(
            "{\"format\":1,\"expected\":12,\"counted\":12,\"verdict\":\"match\",\"causes\":[]}\n",
        )
        .run();
}

#[test]
fn one_bead_too_many_inward_is_most_likely_at_a_corner() {
    let answers = threadmark("check a.json --job 1 --round 4 --count 13 --json")
        .file("a.json", inward(6))
        .code(1)
        .objects("check");
    assert_eq!(answers[0]["verdict"], "over");
    assert_eq!(answers[0]["expected"], 12);
    let cause = answers[0]["causes"][0]["cause"].as_str().unwrap();
    assert_eq!(
        cause,
        "a bead at a corner that should have been drawn together"
    );
}

#[test]
fn sides_tell_where_to_look() {
    let printed = threadmark("check a.json --job 1 --round 4 --sides 4,5,4")
        .file("a.json", inward(6))
        .code(1)
        .run();
    assert!(
        printed.starts_with(
            "face. Round 4: 13 counted, there should be 12: 1 too many.\nLikeliest first:\n  1. "
        ),
        "{printed}"
    );
    assert!(printed.contains("side 2"), "{printed}");
}

#[test]
fn blanks_part_the_sides_as_they_do_on_the_screen() {
    for option in ["--sides", "--count"] {
        threadmark("check a.json --job 1 --round 4")
            .arg(option)
            .arg("4 4 4")
            .file("a.json", triangle(4))
            .stdout("face. Round 4: 12. Yes, that is right.\n")
            .run();
        let wrong = threadmark("check a.json --job 1 --round 4");
        let output = wrong.arg(option).arg("4 x").output();
        assert_eq!(output.status.code(), Some(2));
        let said = String::from_utf8(output.stderr).unwrap();
        let wanted = "expected a whole number, or one for each side as in 5,5,6 or '5 5 6'";
        assert!(said.contains(wanted), "{said}");
    }
}

#[test]
fn too_few_is_under() {
    let answers = threadmark("check a.json --job 1 --round 3 --count 8 --json")
        .file("a.json", triangle(4))
        .code(1)
        .objects("check");
    assert_eq!(answers[0]["verdict"], "under");
    assert!(!answers[0]["causes"].as_array().unwrap().is_empty());
}

#[test]
fn standard_input_is_a_pattern_too() {
    threadmark("check - --job 1 --round 2 --count 6")
        .stdin(triangle(2))
        .stdout("face. Round 2: 6. Yes, that is right.\n")
        .run();
}

#[test]
fn what_cannot_be_checked_is_refused() {
    for (args, said) in [
        (
            "--job 9 --round 2 --count 6",
            "error: the piece has no job '9'\n  \
             mend: give a number from 1 or a part of a title: 1 face\n",
        ),
        (
            "--job 1 --round 9 --count 6",
            "error: the job 'face' has no round 9\n  mend: give a round from 1 to 3\n",
        ),
        (
            "--job 1 --round 2 --sides 2,2",
            "error: 2 numbers are given, but the panel has 3 sides\n  \
             mend: give 3 numbers with commas between, 0 for a side without beads\n",
        ),
        (
            "--job 1 --round 2 --sides 2,2,2 --count 7",
            "error: the sides add up to 6, but --count says 7\n  \
             mend: count again, or give --sides alone\n",
        ),
    ] {
        threadmark(&format!("check a.json {args}"))
            .file("a.json", triangle(2))
            .stderr(said)
            .code(2)
            .run();
    }
}

/// A zip and a join row have no rounds: the screen and the paper count 2 teeth there.
#[test]
fn the_teeth_of_a_zip_need_no_round_and_no_round_of_the_panel_is_taken_for_them() {
    let check = |args: &str| threadmark(&format!("check practice-pair {args}"));
    for round in ["", " --round 4"] {
        check(&format!("--job 4 --count 2{round}"))
            .stdout("Zip far sail to near sail. The teeth: 2. Yes, that is right.\n")
            .run();
        check(&format!("--job 2 --count 2{round}"))
            .stdout("Join row on near sail, side 1. The join row: 2. Yes, that is right.\n")
            .run();
    }
    for (args, said) in [
        (
            "--job 4 --round 2 --count 2",
            "error: the job 'Zip far sail to near sail' has no round 2\n  \
             mend: leave --round out: its teeth are counted\n",
        ),
        (
            "--job 2 --round 3 --count 2",
            "error: the job 'Join row on near sail, side 1' has no round 3\n  \
             mend: leave --round out: its join beads are counted\n",
        ),
        (
            "--job 1 --count 9",
            "error: the job 'near sail' has many rounds\n  \
             mend: say which was counted: --round 1 to --round 4\n",
        ),
    ] {
        check(args).stderr(said).code(2).run();
    }
}

#[test]
fn a_part_of_many_titles_is_asked_back() {
    threadmark("check a.json --job row --round 4 --count 6")
        .file("a.json", tetrahedron(3))
        .stderr(
            "error: 'row' is in the titles of 4 jobs\n  \
             mend: give the number of one: 2 Join row on Face 1, sides 1 and 2, \
             4 Join row on Face 2, sides 1 and 2, 7 Join row on Face 3, side 1, \
             9 Join row on Face 3, side 3\n",
        )
        .code(2)
        .run();
}

/// What is kept in the gap of a step becomes part of the work: later counts, the
/// rounds and the proof go by it.
#[test]
fn a_difference_is_kept_from_the_command_line() {
    let whole =
        threadmark("stitch practice-triangle --plain").stdin(format!("{}q\n", "\n".repeat(40)));
    whole.run();
    let said = whole
        .again("check first-sail --job 1 --round 4 --sides 5,5,4 --keep 19")
        .run();
    // The gap is on side 1, and takes what that side has more.
    assert!(
        said.ends_with("Kept as stitched: it is part of the work.\n"),
        "{said}"
    );
    whole
        .again("check first-sail --job 1 --round 4 --sides 5,4,4")
        .stdout("sail. Round 4: 13. Yes, that is right.\n")
        .run();
    // A bead more in a round is one more in all rounds worked on it.
    whole
        .again("check first-sail --job 1 --round 5 --count 16")
        .stdout("sail. Round 5: 16. Yes, that is right.\n")
        .run();
    let said = whole.again("verify first-sail").run();
    assert!(said.contains(": proved"), "{said}");
    // A step that worked no gap of a round, one that is ahead, too many beads, a side
    // that is right.
    for (keep, why) in [
        (
            "1 --count 14",
            "the gap of step 1 cannot hold that: it worked no gap of a round",
        ),
        (
            "50 --count 14",
            "the gap of step 50 cannot hold that: it worked no gap of a round",
        ),
        (
            "23 --count 19",
            "the gap of step 23 cannot hold that: a gap takes 0 to 4 beads",
        ),
        (
            "24 --sides 6,4,4",
            "the gap of step 24 cannot hold that: the counts differ on other sides",
        ),
    ] {
        let call = format!("check first-sail --job 1 --round 4 --keep {keep}");
        let said = whole.again(&call).code(2).output().stderr;
        let said = String::from_utf8(said).expect("text");
        assert!(said.contains(why), "{said}");
        assert!(
            said.contains("`threadmark steps first-sail` lists them"),
            "{said}"
        );
    }
}

/// What is kept from the command line, while the piece is open elsewhere.
#[cfg(unix)]
#[test]
fn of_a_piece_that_is_open_elsewhere_nothing_is_kept_and_that_is_said() {
    use crate::pty::Screen;
    let whole = threadmark("stitch practice-triangle");
    let mut screen = Screen::begun(&whole);
    screen.rush("<space>40").sees("step 41 of ");
    let check = |more| {
        let args = "check first-sail --job 1 --round 4 --sides 5,4,4";
        whole.again(&format!("{args} {more}"))
    };
    let said = check("--keep 19").code(1).run();
    assert!(
        said.ends_with(
            "The piece is open elsewhere, and nothing was kept: close it there and try again.\n"
        ),
        "{said}"
    );
    let kept = |code, more| check(more).code(code).objects("check")[0]["kept"].clone();
    assert_eq!(kept(1, "--keep 19 --json"), "open-elsewhere");
    screen.keys("q");
    assert_eq!(screen.ends().0, 0);
    assert_eq!(kept(0, "--keep 19 --json"), "yes");
    assert_eq!(kept(0, "--keep 19 --json"), "no-difference");
    assert!(kept(0, "--json").is_null());
}
