//! `threadmark pieces`, and pieces where a pattern may stand.

use threadmark::progress::{Entry, Moment, MoveReason, Saved, Tray};

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;

/// Wednesday, 5 March 2025, 14:30 UTC.
const MARCH: Moment = Moment(1_741_185_000_000);

/// Puts a piece of a triangle of four rounds in the tray, worked so far.
fn with_piece(whole: Whole, title: &str, step: u32) -> Whole {
    let tray = Tray::open(&whole.tray());
    let pattern = triangle(4);
    let mut piece = tray
        .begin(title, pattern.as_bytes(), None, 32, MARCH)
        .expect("a piece is begun");
    for n in 1..=step {
        let saved = piece.record(Entry::to(n, MoveReason::Forward, MARCH));
        assert_eq!(saved, Saved::Written);
    }
    piece.close(MARCH).expect("it is put away");
    whole
}

#[test]
fn an_empty_tray_says_how_to_begin() {
    threadmark("pieces")
        .stdout("The tray is empty. `threadmark stitch` begins the demo piece.\n")
        .run();
    threadmark("pieces --json").stdout("").run();
}

#[test]
fn a_piece_with_its_progress() {
    let whole = with_piece(threadmark("pieces"), "Evening star", 8);
    whole
        .stdout(
            "  piece         title         step  of       last worked
  evening-star  Evening star     8  32  25%  2025-03-05 14:30
Each is a directory of [dir]/tray.
",
        )
        .run();
}

#[test]
fn a_piece_in_json() {
    let whole = with_piece(threadmark("pieces --json"), "Evening star", 32);
    let pieces = whole
        .stdout(concat!(
            r#"{"format":1,"piece":"evening-star","title":"Evening star","step":32,"steps":32,"#,
            r#""finished":true,"last_worked":"2025-03-05T14:30:00Z","path":"[dir]/tray/evening-star","condition":"sound","note":null}"#,
            "\n"
        ))
        .objects("pieces");
    assert_eq!(pieces.len(), 1);
}

#[test]
fn a_torn_journal_is_told() {
    let whole = with_piece(threadmark("pieces --json"), "Evening star", 8);
    let journal = whole.tray().join("evening-star/journal");
    let mut bytes = std::fs::read(&journal).unwrap();
    bytes.truncate(bytes.len() - 3);
    std::fs::write(&journal, bytes).unwrap();
    let pieces = whole.objects("pieces");
    assert_eq!(pieces[0]["condition"], "damaged");
    assert!(pieces[0]["note"].is_string());
}

#[test]
fn another_tray_is_another_tray() {
    let whole = with_piece(threadmark("pieces --tray elsewhere"), "Evening star", 8);
    whole
        .stdout("The tray is empty. `threadmark stitch` begins the demo piece.\n")
        .run();
}

#[test]
fn a_check_takes_a_piece_by_its_name() {
    let args = "check evening-star --job 1 --round 2 --count 6";
    with_piece(threadmark(args), "Evening star", 32)
        .stdout("face. Round 2: 6. Yes, that is right.\n")
        .run();
}

#[test]
fn a_piece_that_is_not_there_asks_for_the_nearest() {
    let args = "check evening-sta --job 1 --round 2 --count 6";
    with_piece(threadmark(args), "Evening star", 1)
        .stderr(
            "error: 'evening-sta' is no piece of the tray, no file, and no pattern of threadmark\n  \
             mend: did you mean 'evening-star'?\n",
        )
        .code(2)
        .run();
}

#[test]
fn looking_changes_nothing() {
    let args = "check evening-star --job 1 --round 2 --count 6";
    let whole = with_piece(threadmark(args), "Evening star", 8);
    let journal = whole.tray().join("evening-star/journal");
    let before = std::fs::read(&journal).unwrap();
    whole.run();
    assert_eq!(std::fs::read(&journal).unwrap(), before);
}

#[test]
fn a_piece_stands_wherever_a_pattern_does() {
    let whole = with_piece(threadmark(""), "Evening star", 8).file("a.json", triangle(4));
    for args in [
        "rounds",
        "steps",
        "beads",
        "verify",
        "plan",
        "plan --json --cut 900",
        "sheet --to text",
        "check --job 1 --round 2 --count 6",
    ] {
        let of_piece = whole.again(args).arg("evening-star").run();
        let of_pattern = whole.again(args).arg("a.json").run();
        let piped = whole.again(args).arg("-").stdin(triangle(4)).run();
        assert_eq!(of_piece, of_pattern, "{args}");
        assert_eq!(piped, of_pattern, "{args}");
    }
}

/// The tray shows titles; they are taken as names too.
#[test]
fn a_title_stands_wherever_a_name_does() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    let by_name = whole.again("steps evening-star --count 2").run();
    for title in ["Evening star", "EVENING STAR"] {
        let steps = whole.again("steps").arg(title).arg("--count").arg("2");
        assert_eq!(steps.run(), by_name);
    }
    let by_name = whole.again("rounds practice-pair").run();
    for title in ["Pair of sails", "pair-of-sails"] {
        assert_eq!(whole.again("rounds").arg(title).run(), by_name);
    }
    // A way out of the tray is no title.
    whole
        .again("pieces put-away ../evening-star")
        .code(2)
        .output();
}

#[test]
fn each_step_of_a_piece_says_whether_it_is_worked() {
    let whole = with_piece(threadmark("steps evening-star --json"), "Evening star", 8);
    for step in whole.objects("steps") {
        assert_eq!(step["worked"], step["step"].as_u64() <= Some(8), "{step}");
        assert_eq!(step["job_number"], 1);
    }
    let pattern = whole
        .again("steps a.json --json")
        .file("a.json", triangle(4));
    for step in pattern.objects("steps") {
        assert!(step.get("worked").is_none(), "a pattern is not worked on");
    }
}

/// The files of a tray with their bytes, in order; lock files left out.
fn files(dir: &std::path::Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(dir).into_iter().flatten().flatten() {
        let name = entry.file_name().into_string().unwrap();
        if entry.path().is_dir() {
            let inner = files(&entry.path()).into_iter();
            found.extend(inner.map(|(file, bytes)| (format!("{name}/{file}"), bytes)));
        } else if name != "lock" {
            found.push((name, std::fs::read(entry.path()).unwrap()));
        }
    }
    found.sort();
    found
}

#[test]
fn a_piece_is_renamed_and_keeps_its_place() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    whole
        .again("pieces rename evening-star")
        .arg("For Anna")
        .stdout("'evening-star' is now 'for-anna'.\n")
        .run();
    let pieces = whole.again("pieces --json").objects("pieces");
    assert_eq!(pieces.len(), 1);
    assert_eq!(pieces[0]["piece"], "for-anna");
    assert_eq!(pieces[0]["title"], "For Anna");
    assert_eq!(pieces[0]["step"], 8);
    // Another of that name gets a number, and a name may be given again.
    with_piece(whole.again(""), "Night", 3);
    let again = whole.again("pieces rename night").arg("For Anna");
    again.stdout("'night' is now 'for-anna-2'.\n").run();
    let same = whole.again("pieces rename for-anna-2").arg("for Anna!");
    same.stdout("'for-anna-2' is now 'for-anna-2'.\n").run();
}

#[test]
fn a_renamed_piece_is_still_the_one_that_its_pattern_goes_on_with() {
    let whole = threadmark("stitch practice-triangle --plain").stdin("\nq\n");
    whole.run();
    whole.again("pieces rename first-sail Key-tag").run();
    let again = whole.again("stitch practice-triangle --plain");
    assert!(
        again
            .stdin("\nq\n")
            .run()
            .contains("Key-tag rests after step 2 of ")
    );
}

#[test]
fn a_piece_is_put_away_and_brought_back_whole() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    let before = files(&whole.tray());
    whole
        .again("pieces put-away evening-star")
        .stdout("'evening-star' is put away; `threadmark pieces bring-back evening-star` brings it back.\n")
        .run();
    whole
        .again("pieces")
        .stdout("The tray is empty. `threadmark stitch` begins the demo piece.\n")
        .run();
    let away = whole.again("pieces --away --json").objects("pieces");
    assert_eq!(away[0]["piece"], "evening-star");
    whole
        .again("pieces bring-back evening-star")
        .stdout("'evening-star' is back; `threadmark stitch evening-star` goes on with it.\n")
        .run();
    assert_eq!(files(&whole.tray()), before);
    whole
        .again("pieces --away")
        .stdout("Nothing is put away.\n")
        .run();
}

#[test]
fn a_piece_that_is_not_put_away_is_not_brought_back() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    whole
        .again("pieces bring-back evening-star")
        .stderr(
            "error: no piece named 'evening-star' is put away in [dir]/tray/.away\n  \
             mend: `threadmark pieces --away` lists what is put away\n",
        )
        .code(2)
        .run();
}

/// A piece that goes to and fro between two computers.
#[test]
fn a_copy_of_a_piece_that_is_here_already_says_so() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    let other = |step| {
        let tray = Tray::open(&whole.dir().join("other"));
        let mut piece = tray
            .open_piece("evening-star", threadmark::progress::Mode::Work, MARCH)
            .unwrap();
        let saved = piece.record(Entry::to(step, MoveReason::Forward, MARCH));
        assert_eq!(saved, Saved::Written);
        piece.close(MARCH).unwrap();
    };
    whole.again("pieces export evening-star").run();
    whole
        .again("pieces import evening-star.piece --tray other")
        .stdout(
            "'evening-star' is in the tray; `threadmark stitch evening-star` goes on with it.\n",
        )
        .run();
    other(9);
    whole
        .again("pieces export evening-star --tray other -o back.piece")
        .run();
    let said = |name: &str, others: &str, rest: &str| {
        format!(
            "'{name}' is in the tray; `threadmark stitch {name}` goes on with it. \
             It is a copy of a piece that is here already: {others}. This one is at step 9. \
             Go on with one of them, and put the {rest} away.\n"
        )
    };
    let first = "'evening-star' at step 8";
    whole
        .again("pieces import back.piece")
        .stdout(&said("evening-star-2", first, "other"))
        .run();
    let both = "'evening-star' at step 8, 'evening-star-2' at step 9";
    whole
        .again("pieces import back.piece")
        .stdout(&said("evening-star-3", both, "others"))
        .run();
}

#[test]
fn of_one_name_nothing_is_lost_by_putting_away_and_bringing_back() {
    let whole = threadmark("");
    for step in [3, 8] {
        with_piece(whole.again(""), "Evening star", step);
        whole.again("pieces put-away evening-star").run();
    }
    with_piece(whole.again(""), "Evening star", 5);
    whole.again("pieces bring-back evening-star").run();
    whole.again("pieces bring-back evening-star-2").run();
    let pieces = whole.again("pieces --json").objects("pieces");
    let mut steps: Vec<_> = pieces.iter().map(|p| p["step"].as_u64().unwrap()).collect();
    steps.sort_unstable();
    assert_eq!(steps, [3, 5, 8]);
}

#[test]
fn a_piece_that_is_open_is_not_moved() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    let tray = Tray::open(&whole.tray());
    let open = tray.open_piece("evening-star", threadmark::progress::Mode::Work, MARCH);
    for args in [
        "pieces put-away evening-star",
        "pieces rename evening-star night",
    ] {
        let refused = whole.again(args).code(2);
        refused
            .stderr(
                "error: the piece 'evening-star' is open elsewhere\n  mend: close it there and try again\n",
            )
            .run();
    }
    drop(open);
    assert_eq!(whole.again("pieces --json").objects("pieces")[0]["step"], 8);
}

#[test]
fn a_piece_goes_to_another_tray_as_one_file() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    let before = files(&whole.tray());
    whole
        .again("pieces export evening-star")
        .stdout("evening-star.piece holds 'evening-star'; `threadmark pieces import evening-star.piece` brings it into a tray.\n")
        .run();
    assert_eq!(files(&whole.tray()), before, "copying changes nothing");
    let printed = whole.again("pieces export evening-star -o -").run();
    let copy = std::fs::read(whole.dir().join("evening-star.piece")).unwrap();
    assert_eq!(printed.as_bytes(), copy);
    whole
        .again("pieces export evening-star")
        .stderr("error: evening-star.piece is there already, and was left as it is\n  mend: name another file with -o FILE, or add --force to write over it\n")
        .code(2)
        .run();
    std::fs::create_dir(whole.dir().join("stick")).unwrap();
    for forced in ["", " --force"] {
        whole
            .again(&format!("pieces export evening-star -o stick{forced}"))
            .stderr("error: stick: cannot be written: it is a directory\n  mend: name a file in it with -o FILE\n")
            .code(2)
            .run();
    }
    let taken = whole.again("pieces import evening-star.piece --tray other --json");
    let taken = taken.objects("pieces");
    assert_eq!(
        (&taken[0]["piece"], &taken[0]["step"]),
        (&"evening-star".into(), &8.into())
    );
    assert_eq!(taken[0]["steps"], 28, "as its pattern has");
    for name in ["journal", "pattern.json"] {
        let of = |tray: &str| std::fs::read(whole.dir().join(tray).join("evening-star").join(name));
        assert_eq!(of("other").unwrap(), of("tray").unwrap(), "{name}");
    }
    let again = whole.again("pieces import evening-star.piece");
    let name = "'evening-star-2' is in the tray; `threadmark stitch evening-star-2` goes on with it. It is a copy of a piece that is here already: 'evening-star' at step 8. This one is at step 8. Go on with one of them, and put the other away.\n";
    again.stdout(name).run();
}

#[test]
fn of_a_spoiled_copy_nothing_is_kept() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    whole.again("pieces export evening-star").run();
    let copy = std::fs::read(whole.dir().join("evening-star.piece")).unwrap();
    let before = files(&whole.tray());
    let refused = |bytes: &[u8], what: &str| {
        let run = whole
            .again("pieces import spoiled.piece")
            .file("spoiled.piece", bytes);
        let output = run.output();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{what}: {said}");
        assert!(said.starts_with("error: spoiled.piece"), "{what}: {said}");
        assert!(said.contains("\n  mend: "), "{what}: {said}");
        assert_eq!(files(&whole.tray()), before, "{what}");
    };
    // Every byte counts; each run is a program, so not all are tried.
    for at in (0..copy.len()).step_by(copy.len() / 40) {
        let mut spoiled = copy.clone();
        spoiled[at] ^= 0x04;
        refused(&spoiled, &format!("byte {at}"));
        refused(&copy[..at], &format!("cut at {at}"));
    }
    let lines: Vec<&[u8]> = copy.split_inclusive(|&byte| byte == b'\n').collect();
    refused(&lines[..lines.len() - 1].concat(), "a line less");
    refused(&[&copy[..], b"\n"].concat(), "a line more");
    refused(triangle(3).as_bytes(), "a pattern");
    refused(b"", "nothing");
    let directory = whole.again("pieces import tray").code(2);
    let said = String::from_utf8(directory.output().stderr).unwrap();
    assert!(
        said.contains("tray cannot be imported: it is not a plain file"),
        "{said}"
    );
    assert!(
        said.contains("mend: name a file that `threadmark pieces export` wrote"),
        "{said}"
    );
}

#[test]
fn an_exported_piece_is_no_pattern() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    whole.again("pieces export evening-star").run();
    for command in ["plan", "stitch --plain"] {
        whole
            .again(command)
            .arg("evening-star.piece")
            .stderr(
                "error: evening-star.piece is an exported piece, and no pattern\n  \
                 mend: bring it into the tray with `threadmark pieces import FILE`, then name the piece\n",
            )
            .code(2)
            .run();
    }
}

#[test]
fn a_copy_whose_pattern_cannot_be_sewn_is_refused() {
    let whole = threadmark("");
    let wrong = triangle(4).replace("\"sides\": 3", "\"sides\": 2");
    let tray = Tray::open(&whole.tray());
    let piece = tray.begin("Evening star", wrong.as_bytes(), None, 32, MARCH);
    piece.unwrap().close(MARCH).unwrap();
    whole.again("pieces export evening-star").run();
    let taken = whole.again("pieces import evening-star.piece --tray other");
    let output = taken.output();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said.starts_with("error: evening-star.piece (its pattern):"),
        "{said}"
    );
    assert_eq!(files(&whole.dir().join("other")), []);
}

#[cfg(unix)]
#[test]
fn nothing_is_put_away_through_a_link() {
    let whole = with_piece(threadmark(""), "Evening star", 8);
    let elsewhere = whole.dir().join("elsewhere");
    std::fs::create_dir(&elsewhere).unwrap();
    std::os::unix::fs::symlink(&elsewhere, whole.tray().join(".away")).unwrap();
    let output = whole.again("pieces put-away evening-star").output();
    assert_eq!(output.status.code(), Some(2));
    assert!(whole.tray().join("evening-star/journal").exists());
    assert_eq!(files(&elsewhere), []);
}

#[test]
fn the_days_of_a_piece_are_a_chart_and_lines_for_programs() {
    let whole =
        threadmark("stitch practice-triangle --plain").stdin(format!("{}q\n", "\n".repeat(12)));
    whole.run();
    let chart = whole.again("pieces days first-sail").run();
    assert!(
        chart.contains("########") && chart.contains("  12 movements, "),
        "{chart}"
    );
    let days = whole.again("pieces days first-sail --json").objects("days");
    assert_eq!(days.len(), 1);
    assert_eq!(days[0]["movements"], 12);
}
