//! The list of changes of mind: what is offered, some of it in lists of its own.

use crate::builder::Whole;
#[cfg(unix)]
use crate::pty::Screen;

/// Opens the list on the screen, and goes to the line with these words.
#[cfg(unix)]
pub fn choose(screen: &mut Screen, words: &[&str]) {
    screen.keys("m").sees("What should change");
    let line = |screen: &Screen| {
        let text = screen.text();
        let line = text
            .lines()
            .find(|line| line.contains('▶'))
            .unwrap_or_default();
        line.trim().to_string()
    };
    let is_it = |line: &str| words.iter().all(|word| line.contains(word));
    // Down a list to the line, or to its end.
    let down = |screen: &mut Screen| loop {
        let before = line(screen);
        if is_it(&before) {
            return true;
        }
        screen.walk("<down>");
        if line(screen) == before {
            return false;
        }
    };
    if down(screen) {
        return;
    }
    // In one of the lists that it leads to, from the last one up.
    loop {
        let before = line(screen);
        if before.ends_with("...") {
            screen.walk("<enter>");
            if down(screen) {
                return;
            }
            screen.walk("<esc>");
        }
        screen.walk("<up>");
        assert_ne!(
            line(screen),
            before,
            "no line with {words:?}:\n{}",
            screen.text()
        );
    }
}

/// What is typed in the plain mode to come to the line with these words. The
/// program is called with what has been typed, and nothing is changed.
pub fn typed(whole: &Whole, call: &str, before: &str, words: &[&str]) -> String {
    let list = |typed: &str, heading: &str| {
        let said = whole
            .again(call)
            .stdin(format!("{before}{typed}esc\nesc\nq\n"))
            .run();
        let lines = said.lines().skip_while(|line| !line.starts_with(heading));
        let rows = lines.skip(1).take_while(|row| row.starts_with(['>', ' ']));
        rows.map(String::from).collect::<Vec<_>>()
    };
    let nth = |rows: &[String]| {
        rows.iter()
            .position(|row| words.iter().all(|word| row.contains(word)))
    };
    let top = list("m\n", "What should change");
    if let Some(at) = nth(&top) {
        return format!("m\n{}", "down\n".repeat(at));
    }
    for (at, row) in top.iter().enumerate() {
        let Some(heading) = row[2..].strip_suffix(" ...") else {
            continue;
        };
        let open = format!("m\n{}\n", "down\n".repeat(at));
        if let Some(at) = nth(&list(&open, heading)) {
            return format!("{open}{}", "down\n".repeat(at));
        }
    }
    panic!("no row with {words:?}: {top:#?}");
}
