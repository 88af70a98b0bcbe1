//! `threadmark locate`.

use threadmark::beadwork::{Sequence, Step};
use threadmark::progress::{Mode, Moment, Tray};
use threadmark::tracking::locate::look::look;
use threadmark::tracking::locate::{Choices, Next, Reply, Search};

use crate::builder::threadmark;
use crate::pattern::triangle;

/// What a maker types whose work is at a step, question by question.
fn true_answers(step: u32) -> String {
    let pattern = threadmark::pattern::read("a.json", triangle(6).as_bytes()).unwrap();
    let seq = Sequence::new(pattern.project);
    let seen = look(&seq, Step(step)).unwrap();
    let (mut search, mut typed) = (Search::new(&seq), String::new());
    while let Next::Ask(question) = search.turn() {
        let value = seen.get(question.ask);
        let answer = match &question.choices {
            Choices::Number(_) => value,
            Choices::OneOf(all) => all.iter().position(|(v, _)| *v == value).unwrap() as u32 + 1,
        };
        typed += &format!("{answer}\n");
        search.reply(question.ask, Reply::Value(value));
    }
    typed
}

#[test]
fn true_answers_find_the_step() {
    let found = threadmark("locate a.json --json")
        .file("a.json", triangle(6))
        .stdin(true_answers(40) + "y\n");
    let output = found.output();
    assert_eq!(output.status.code(), Some(0));
    let line = String::from_utf8(output.stdout).unwrap();
    let object = crate::schema::named("locate").read(line.trim());
    assert_eq!(object["steps"], serde_json::json!([40]));
    assert_eq!(object["found"], true);
    let asked = String::from_utf8(output.stderr).unwrap();
    assert!(asked.contains("Question 1: "), "{asked}");
    assert!(asked.contains("There should be on the mat:"), "{asked}");
}

#[test]
fn giving_up_finds_nothing_and_says_so_by_its_code() {
    let whole = threadmark("locate a.json").file("a.json", triangle(6));
    let said = whole.stdin("q\n").code(1).run();
    assert!(said.starts_with("Lay the work on the mat as it is; pull nothing yet.\n"));
    let whole = threadmark("locate a.json").file("a.json", triangle(6));
    whole.code(1).run();
}

#[test]
fn a_picture_that_is_refused_is_followed_by_more_questions() {
    let said = threadmark("locate a.json")
        .file("a.json", triangle(6))
        .stdin(true_answers(40) + "n\nq\n")
        .code(1)
        .run();
    assert!(
        said.contains("one of the answers was not right. The search goes on."),
        "{said}"
    );
}

#[test]
fn a_piece_is_moved_there_if_wished_and_keeps_the_way_back() {
    let whole = threadmark("locate evening-star").stdin(true_answers(40) + "y\ny\n");
    let tray = Tray::open(&whole.tray());
    let text = triangle(6);
    let piece = tray.begin("Evening star", text.as_bytes(), None, 84, Moment(0));
    piece.unwrap().close(Moment(1)).unwrap();
    let said = whole.run();
    assert!(said.ends_with("Moved. `threadmark stitch evening-star` goes on from there.\n"));
    let piece = tray
        .open_piece("evening-star", Mode::Look, Moment(2))
        .unwrap();
    assert_eq!(
        (piece.state().step, &piece.state().way_back[..]),
        (40, &[0][..])
    );
}
