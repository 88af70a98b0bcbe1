//! Which room may import which. The work flows one way, from the pattern over
//! the goal, the plan, the steps and the progress to the screen, and nothing
//! earlier imports anything later. The engine could be published alone: it
//! knows no terminal, clock, disk or randomness.

use proc_macro2::{TokenStream, TokenTree};
use std::path::{Path, PathBuf};

/// Every room with the rooms that it may import, each listed before it. Code
/// that only tests see is free.
const ROOMS: &[(&str, &[&str])] = &[
    ("clean", &[]),
    ("plain_file", &[]),
    ("problem", &["clean"]),
    ("atomic_file", &["plain_file"]),
    (ENGINE, &[]),
    ("geometry", &[ENGINE]),
    ("words", &[ENGINE]),
    ("tour", &[ENGINE, "words"]),
    ("pattern", &["clean", "plain_file", "problem", ENGINE]),
    ("plan", &["problem", ENGINE, "geometry", "words", "pattern"]),
    ("picture", &[ENGINE, "geometry"]),
    ("sheet", &[ENGINE, "geometry", "words", "plan", "picture"]),
    (
        "progress",
        &["clean", "plain_file", "problem", "atomic_file", ENGINE],
    ),
    ("tracking", &[ENGINE, "plan", "progress"]),
    (
        "screen",
        &[
            "plain_file",
            "problem",
            "atomic_file",
            ENGINE,
            "geometry",
            "words",
            "tour",
            "pattern",
            "plan",
            "picture",
            "progress",
            "tracking",
        ],
    ),
    (
        "cli",
        &[
            "clean",
            "plain_file",
            "problem",
            "atomic_file",
            ENGINE,
            "words",
            "pattern",
            "plan",
            "picture",
            "sheet",
            "progress",
            "tracking",
            "screen",
        ],
    ),
];

const ENGINE: &str = "beadwork";

/// Parts of `std` that the engine does without.
const OUTSIDE_STD: [&str; 7] = ["env", "fs", "io", "net", "process", "thread", "time"];
/// Crates that the engine does without.
const OUTSIDE_CRATES: [&str; 5] = ["chrono", "crossterm", "directories", "rand", "ratatui"];

/// A path in a source: where it starts, and the name after that.
#[derive(Debug, PartialEq)]
struct Import {
    from: String,
    name: String,
}

/// The first two names of every path in a source. A path that leaves the room
/// by `super` starts at `crate`; `depth` says how deep in the crate the
/// source lies, from 1. What only tests see is left out.
fn imports(source: &str, depth: usize) -> Vec<Import> {
    let tokens: TokenStream = source.parse().expect("a source of Rust");
    let mut found = vec![];
    collect(tokens, depth, &mut found);
    found
}

fn collect(tokens: TokenStream, depth: usize, found: &mut Vec<Import>) {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    let text = |at: usize| tokens.get(at).map(ToString::to_string).unwrap_or_default();
    let is_path = |at: usize| text(at) == ":" && text(at + 1) == ":";
    let (mut at, mut is_test) = (0, false);
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Ident(_) if is_path(at + 1) => {
                let (mut name, mut supers) = (at, 0);
                while text(name) == "super" && is_path(name + 1) {
                    (name, supers) = (name + 3, supers + 1);
                }
                let (from, name) = match supers {
                    0 => (text(at), at + 3),
                    _ if supers >= depth => ("crate".into(), name),
                    _ => (String::new(), name),
                };
                for name in tokens.get(name).map(heads).unwrap_or_default() {
                    let from = from.clone();
                    found.push(Import { from, name });
                }
                at += 3;
                continue;
            }
            TokenTree::Group(group) => {
                let inside = at > 1 && text(at - 2) == "mod";
                is_test |= group.to_string().replace(' ', "") == "[cfg(test)]";
                let ends_item = text(at).starts_with('{');
                if !(is_test && ends_item) {
                    collect(group.stream(), depth + usize::from(inside), found);
                }
                is_test &= !ends_item;
            }
            TokenTree::Punct(punct) if punct.as_char() == ';' => is_test = false,
            _ => {}
        }
        at += 1;
    }
}

/// The names that a path goes on with: one, or those that a brace opens with.
fn heads(token: &TokenTree) -> Vec<String> {
    let TokenTree::Group(group) = token else {
        return vec![token.to_string()];
    };
    let tokens: Vec<TokenTree> = group.stream().into_iter().collect();
    let parts = tokens.split(|token| token.to_string() == ",");
    let first = parts.filter_map(|part| part.first());
    first.map(ToString::to_string).collect()
}

/// What a source of a room imports against the rules.
fn faults(rooms: &[(&str, &[&str])], path: &str, source: &str) -> Vec<String> {
    let parts: Vec<&str> = path.trim_end_matches(".rs").split('/').collect();
    let depth = parts.len() - usize::from(parts.last() == Some(&"mod"));
    let room = parts[0];
    let Some((_, may)) = rooms.iter().find(|(name, _)| *name == room) else {
        return vec![format!("{room} is not in the table of rooms")];
    };
    let is_room = |name: &str| rooms.iter().any(|(room, _)| *room == name);
    let mut faults = vec![];
    for Import { from, name } in imports(source, depth) {
        let is_outside = from == "std" && OUTSIDE_STD.contains(&&*name)
            || OUTSIDE_CRATES.contains(&&*from)
            || from.is_empty() && OUTSIDE_CRATES.contains(&&*name);
        if room == ENGINE && is_outside {
            faults.push(format!("{path} uses {from}::{name}"));
        }
        if from != "crate" || name == room || may.contains(&&*name) {
            continue;
        }
        faults.push(match is_room(&name) {
            true => format!("{path} may not import {name}"),
            false => format!("{path} imports {name}, which is no room"),
        });
    }
    faults
}

/// Every source of the crate with its path below `src`, those left out that
/// only tests see.
fn sources(root: &Path) -> Vec<(String, String)> {
    let mut found = vec![];
    let mut folders: Vec<PathBuf> = vec![root.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            let stem = path.file_stem().and_then(|s| s.to_str()).unwrap_or("");
            let for_tests =
                ["tests", "testing", "suite"].contains(&stem) || stem.ends_with("_tests");
            if for_tests {
                continue;
            }
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let text = std::fs::read_to_string(&path).expect("a source");
                let below = path.strip_prefix(root).expect("below the root");
                let below: Vec<_> = below.iter().filter_map(|part| part.to_str()).collect();
                found.push((below.join("/"), text));
            }
        }
    }
    found
}

fn crate_sources() -> Vec<(String, String)> {
    let all = sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"));
    let rooms = |(path, _): &(String, String)| path != "lib.rs" && path != "main.rs";
    all.into_iter().filter(rooms).collect()
}

#[test]
fn every_room_imports_only_what_comes_before_it() {
    let sources = crate_sources();
    assert!(sources.len() > 150, "the sources were found");
    let all: Vec<String> = sources
        .iter()
        .flat_map(|(path, source)| faults(ROOMS, path, source))
        .collect();
    assert!(all.is_empty(), "{}", all.join("\n"));
}

#[test]
fn the_table_lists_rooms_that_are_there_in_the_order_of_the_work() {
    let sources = crate_sources();
    for (nth, (room, may)) in ROOMS.iter().enumerate() {
        let is_there = |path: &str| path.trim_end_matches(".rs").split('/').next() == Some(room);
        assert!(sources.iter().any(|(path, _)| is_there(path)), "{room}");
        for other in *may {
            let before = ROOMS[..nth].iter().any(|(room, _)| room == other);
            assert!(before, "{room} may import {other}, which comes later");
        }
    }
}

/// Whether the text about a module has an example that is run as a test.
fn has_example(source: &str) -> bool {
    let about = source.lines().map_while(|line| line.strip_prefix("//!"));
    let fences = about.map(str::trim).filter(|line| line.starts_with("```"));
    // Every second one ends a block.
    fences.step_by(2).any(|opening| opening == "```")
}

/// The commands have one function, which `main` calls.
#[test]
fn every_room_opens_with_an_example_that_runs() {
    assert!(!has_example("//! ```text\n//! a -> b\n//! ```\nmod a;"));
    for (path, source) in crate_sources() {
        let is_room = path.ends_with("/mod.rs") && path.matches('/').count() == 1;
        if is_room && path != "cli/mod.rs" {
            assert!(has_example(&source), "{path} has no example");
        }
    }
}

#[test]
fn a_broken_boundary_is_found() {
    let rooms: &[(&str, &[&str])] = &[("beadwork", &[]), ("plan", &["beadwork"]), ("screen", &[])];
    let found = |path: &str, source: &str| faults(rooms, path, source);
    for (path, source, fault) in [
        (
            "plan/page.rs",
            "use crate::screen::run;",
            "plan/page.rs may not import screen",
        ),
        (
            "plan/page.rs",
            "use crate::{beadwork::Step, screen};",
            "plan/page.rs may not import screen",
        ),
        (
            "plan/page.rs",
            "fn f() { crate::screen::run() }",
            "plan/page.rs may not import screen",
        ),
        (
            "plan/page.rs",
            "use super::super::screen;",
            "plan/page.rs may not import screen",
        ),
        (
            "plan/mod.rs",
            "use super::screen;",
            "plan/mod.rs may not import screen",
        ),
        (
            "plan.rs",
            "mod a { use super::super::screen; }",
            "plan.rs may not import screen",
        ),
        (
            "plan/page.rs",
            "use crate::cellar::Jar;",
            "plan/page.rs imports cellar, which is no room",
        ),
        ("cellar/jar.rs", "", "cellar is not in the table of rooms"),
        ("cellar.rs", "", "cellar is not in the table of rooms"),
        (
            "beadwork/a.rs",
            "use std::{fmt, fs};",
            "beadwork/a.rs uses std::fs",
        ),
        (
            "beadwork/a.rs",
            "fn f() { std::time::Instant::now(); }",
            "beadwork/a.rs uses std::time",
        ),
        (
            "beadwork/a.rs",
            "use rand::Rng;",
            "beadwork/a.rs uses rand::Rng",
        ),
        (
            "beadwork/a.rs",
            "use crate::plan::Page;",
            "beadwork/a.rs may not import plan",
        ),
        (
            "beadwork/a.rs",
            "#[cfg(test)] mod tests; use crate::plan::Page;",
            "beadwork/a.rs may not import plan",
        ),
    ] {
        assert_eq!(found(path, source), [fault], "{source}");
    }
    for (path, source) in [
        (
            "plan/page.rs",
            "use crate::beadwork::Step; use crate::plan::Size; use super::size;",
        ),
        (
            "plan/page.rs",
            "// crate::screen\n/// [`crate::screen`]\nfn f() { \"crate::screen\"; }",
        ),
        (
            "plan/page.rs",
            "#[cfg(test)] mod tests { use crate::screen::run; }",
        ),
        ("plan/page.rs", "use std::fs; pub(crate) fn f() {}"),
        ("plan/page.rs", "mod a { use super::super::size; }"),
    ] {
        assert_eq!(found(path, source), [""; 0], "{source}");
    }
}

/// DEVELOPERS.md says which files to change: each that it names is there. A name
/// without its folder is looked for in all of them.
#[test]
fn the_page_for_developers_names_files_that_are_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let page = std::fs::read_to_string(root.join("DEVELOPERS.md")).expect("the page");
    let mut all = vec![];
    let mut folders: Vec<PathBuf> = ["src", "tests", "docs", ".ci"].map(|f| root.join(f)).into();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            all.push(path.display().to_string());
            if path.is_dir() {
                folders.push(path);
            }
        }
    }
    let named = page.split(|c: char| !(c.is_alphanumeric() || "./_-".contains(c)));
    let is_file = |word: &&str| {
        let word = word.trim_end_matches('.');
        let kinds = [".rs", ".md", ".json", "/"];
        kinds.iter().any(|kind| word.ends_with(kind)) && word.len() > 4
    };
    let named: Vec<&str> = named.filter(is_file).collect();
    assert!(named.len() > 60, "the names were found");
    for word in named {
        let wanted = format!("/{}", word.trim_end_matches(['.', '/']));
        assert!(all.iter().any(|path| path.ends_with(&wanted)), "{word}");
    }
}
