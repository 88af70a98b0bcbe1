//! docs/keeping.md names tests beside every promise; each of them exists.

use std::path::Path;

/// The cells of a row of a table.
fn cells(row: &str) -> Vec<&str> {
    let row = row.trim_start_matches('|').trim_end().trim_end_matches('|');
    row.split('|').map(str::trim).collect()
}

/// What stands between the first two backquotes.
fn quoted(cell: &str) -> Option<&str> {
    cell.split('`').nth(1)
}

#[test]
fn every_promise_names_a_test_that_there_is() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let docs = std::fs::read_to_string(root.join("docs/keeping.md")).expect("docs/keeping.md");
    // Tables of promises are those whose last columns are 'tested in', 'by'.
    let mut in_table = false;
    let mut named = std::collections::BTreeSet::new();
    for line in docs.lines() {
        let cells = if line.starts_with('|') {
            cells(line)
        } else {
            vec![]
        };
        match cells[..] {
            [.., "tested in", "by"] => in_table = true,
            [] => in_table = false,
            [.., file, test] if in_table && !line.starts_with("|---") => {
                let file = quoted(file).unwrap_or_else(|| panic!("no file: {line}"));
                let test = quoted(test).unwrap_or_else(|| panic!("no test: {line}"));
                let code = std::fs::read_to_string(root.join(file));
                let code = code.unwrap_or_else(|error| panic!("{file}: {error}"));
                let is_there = code.lines().any(|line| is_named(line, test));
                assert!(is_there, "{file} has no {test}");
                named.insert((file.to_string(), test.to_string()));
            }
            _ => {}
        }
    }
    assert!(named.len() >= 45, "{} tests are named", named.len());
    // Nothing under this roof goes unmentioned.
    for entry in std::fs::read_dir(root.join("tests/whole/faults"))
        .expect("the faults")
        .flatten()
    {
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_fault = !["mod.rs", "dice.rs", "promises.rs"].contains(&name.as_str());
        let file = format!("tests/whole/faults/{name}");
        assert!(
            !is_fault || named.iter().any(|(at, _)| *at == file),
            "{file} keeps no promise"
        );
    }
}

/// A test of that name begins in this line: `fn` and the name, or, in a suite
/// over several stores, the same with the store.
fn is_named(line: &str, test: &str) -> bool {
    let line = line.trim_start();
    let rest = line
        .strip_prefix("fn ")
        .and_then(|rest| rest.strip_prefix(test));
    rest.is_some_and(|rest| rest.starts_with('('))
}
