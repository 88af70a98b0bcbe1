//! The examples in docs/outputs.md, each held against its schema.

use crate::schema::{self, docs};

/// The commands with output for other programs.
const COMMANDS: [&str; 6] = ["rounds", "steps", "beads", "verify", "check", "pieces"];

#[test]
fn every_example_has_the_promised_shape() {
    let text = std::fs::read_to_string(docs().join("outputs.md")).unwrap();
    for command in COMMANDS {
        let heading = format!("## `{command} --json`");
        let (_, part) = text
            .split_once(&heading)
            .unwrap_or_else(|| panic!("no {heading}"));
        let part = part.split("\n## ").next().unwrap();
        let examples: Vec<&str> = part
            .split("```json\n")
            .skip(1)
            .flat_map(|block| block.split("```").next().unwrap().lines())
            .collect();
        assert!(!examples.is_empty(), "no example of {command}");
        for line in examples {
            schema::named(command).read(line);
        }
    }
}

#[test]
fn a_schema_refuses_fields_that_are_missing_or_more() {
    let text = std::fs::read_to_string(docs().join("outputs.md")).unwrap();
    for command in COMMANDS {
        let (_, part) = text.split_once(&format!("## `{command} --json`")).unwrap();
        let (_, block) = part.split_once("```json\n").unwrap();
        let schema = schema::named(command);
        let whole = schema.read(block.lines().next().unwrap());
        let fields = whole.as_object().unwrap();
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
