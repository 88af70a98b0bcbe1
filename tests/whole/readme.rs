//! The readme: every command that it shows does what it says.

use crate::builder::threadmark;
use crate::pattern::triangle;

/// The commands of the readme's shell blocks, without what is said of them.
fn commands() -> Vec<String> {
    let readme = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
    let text = std::fs::read_to_string(readme).expect("README.md");
    let blocks = text.split("```sh\n").skip(1);
    blocks
        .flat_map(|block| block.split("```").next().unwrap_or_default().lines())
        .map(|line| {
            line.split(" #")
                .next()
                .unwrap_or_default()
                .trim()
                .to_string()
        })
        .collect()
}

#[test]
fn the_two_commands_come_first() {
    let commands = commands();
    assert_eq!(commands[0], "cargo run --release");
    assert_eq!(commands[1], "cargo test");
}

#[test]
fn every_command_is_run() {
    let mut run = 0;
    for command in commands() {
        let Some(args) = command.strip_prefix("threadmark ") else {
            assert!(command.starts_with("cargo "), "{command}");
            continue;
        };
        let opens = args.starts_with("stitch");
        let args = match opens {
            true => format!("{args} --plain"),
            false => args.to_string(),
        };
        let whole = threadmark(&args)
            .file("my-own.json", triangle(3))
            .stdin("\nq\n")
            // The one count that the readme shows is not the right one.
            .code(i32::from(args.starts_with("check")));
        let said = whole.run();
        if opens {
            assert!(said.contains(" rests after step 1 of "), "{args}: {said}");
            let again = whole.again(&args).stdin("\nq\n").run();
            assert!(again.contains(" rests after step 2 of "), "{args}: {again}");
        }
        run += 1;
    }
    assert!(run > 10, "{run}");
}

#[test]
fn every_page_that_is_linked_is_there() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(root.join("README.md")).expect("README.md");
    let links: Vec<&str> = text
        .split("](")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
        .collect();
    assert!(links.len() > 5);
    for link in links {
        assert!(root.join(link).exists(), "{link}");
    }
}
