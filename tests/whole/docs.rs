//! The examples in docs/outputs.md: each has the promised shape, and each that
//! shows its call is what that call prints.

use crate::builder::threadmark;
use crate::schema::{self, docs};

/// The commands with output for other programs.
const COMMANDS: [&str; 11] = [
    "patterns", "rounds", "steps", "beads", "verify", "plan", "check", "draft", "sheet", "locate",
    "pieces",
];

/// The part of the page about a command.
fn part(command: &str) -> String {
    let text = std::fs::read_to_string(docs().join("outputs.md")).expect("docs/outputs.md");
    let heading = format!("## `{command} --json`");
    let (_, part) = text
        .split_once(&heading)
        .unwrap_or_else(|| panic!("no {heading}"));
    part.split("\n## ").next().unwrap_or_default().to_string()
}

/// The lines of all blocks of a kind.
fn blocks(part: &str, kind: &str) -> Vec<String> {
    let fence = format!("```{kind}\n");
    let blocks = part.split(&fence).skip(1);
    let lines = blocks.flat_map(|block| block.split("```").next().unwrap_or_default().lines());
    lines.map(String::from).collect()
}

#[test]
fn every_example_has_the_promised_shape() {
    for command in COMMANDS {
        let part = part(command);
        let mut examples = blocks(&part, "json");
        examples.extend(blocks(&part, "console"));
        examples.retain(|line| !line.starts_with("$ "));
        assert!(!examples.is_empty(), "no example of {command}");
        for line in examples {
            schema::named(command).read(&line);
        }
    }
}

#[test]
fn every_call_that_is_shown_prints_what_is_shown() {
    let mut calls = 0;
    for command in COMMANDS {
        let lines = blocks(&part(command), "console");
        let mut shown = lines.iter().peekable();
        while let Some(call) = shown.next() {
            let args = call.strip_prefix("$ threadmark ").expect("a call");
            let mut wanted = String::new();
            while let Some(line) = shown.next_if(|line| !line.starts_with("$ ")) {
                wanted += &format!("{line}\n");
            }
            let printed = threadmark(args).output().stdout;
            assert_eq!(String::from_utf8(printed).unwrap(), wanted, "{args}");
            calls += 1;
        }
    }
    assert!(calls >= 5);
}

#[test]
fn a_schema_refuses_fields_that_are_missing_or_more() {
    for command in COMMANDS {
        let part = part(command);
        let mut examples = blocks(&part, "console");
        examples.extend(blocks(&part, "json"));
        examples.retain(|line| !line.starts_with("$ "));
        let schema = schema::named(command);
        let whole = schema.read(&examples[0]);
        let fields = whole.as_object().expect("an object");
        for field in fields.keys() {
            let mut less = fields.clone();
            less.remove(field);
            assert!(!schema.takes(&less.into()), "{command} without {field}");
        }
        let mut more = fields.clone();
        more.insert("hue".into(), 1.into());
        assert!(!schema.takes(&more.into()), "{command} with more");
    }
}

#[test]
fn the_errors_that_are_shown_have_the_promised_shape() {
    let text = std::fs::read_to_string(docs().join("outputs.md")).expect("docs/outputs.md");
    let (_, part) = text.split_once("## Errors").expect("a part about errors");
    let examples = blocks(part.split("\n## ").next().unwrap_or_default(), "json");
    assert_eq!(examples.len(), 2);
    for line in examples {
        schema::named("error").read(&line);
    }
}
