//! The engine is a library that could be published alone: no terminal, clock,
//! disk or randomness in it, and nothing of the rest of the project.

use std::path::{Path, PathBuf};

fn sources(dir: &Path) -> Vec<PathBuf> {
    let mut found = vec![];
    for entry in std::fs::read_dir(dir).expect("the engine's folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
    found
}

fn engine() -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/beadwork");
    let read = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).expect("a source file");
        (path, text)
    };
    sources(&root).into_iter().map(read).collect()
}

#[test]
fn the_engine_knows_no_terminal_clock_disk_or_chance() {
    let outside = [
        "std::fs",
        "std::io",
        "std::time",
        "std::env",
        "std::net",
        "std::process",
        "std::thread",
        "chrono",
        "crossterm",
        "ratatui",
        "directories",
        "rand::",
    ];
    let files = engine();
    assert!(files.len() > 30, "the engine was found");
    for (path, text) in files {
        for word in outside {
            assert!(!text.contains(word), "{} uses {word}", path.display());
        }
    }
}

#[test]
fn the_engine_imports_nothing_of_the_rest_of_the_project() {
    for (path, text) in engine() {
        for line in text.lines().filter(|l| l.contains("crate::")) {
            assert!(
                line.contains("crate::beadwork"),
                "{}: {line}",
                path.display()
            );
        }
    }
}

#[test]
fn nothing_earlier_imports_anything_later() {
    // Each room may use the rooms before it, in the order of the work.
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let may_use = [
        ("pattern", vec!["beadwork", "pattern"]),
        ("count", vec!["beadwork", "count"]),
        ("progress", vec!["beadwork", "count", "progress"]),
        (
            "screen",
            vec!["beadwork", "count", "pattern", "progress", "screen"],
        ),
    ];
    for (room, uses) in may_use {
        for path in sources(&root.join(room)) {
            let text = std::fs::read_to_string(&path).expect("a source file");
            for other in ["cli", "screen", "progress", "pattern", "count"] {
                let import = format!("crate::{other}");
                assert!(
                    uses.contains(&other) || !text.contains(&import),
                    "{} uses {other}",
                    path.display()
                );
            }
        }
    }
}
