//! The examples in docs/outputs.md: each has the promised shape, and each that
//! shows its call is what that call prints.

use crate::builder::threadmark;
use crate::schema::{self, docs};
use serde_json::Value;
use threadmark::beadwork::hole::BUNDLE;

/// The commands with output for other programs.
const COMMANDS: [&str; 12] = [
    "patterns", "rounds", "steps", "beads", "verify", "plan", "check", "draft", "sheet", "picture",
    "locate", "pieces",
];

/// The part of the page about a command.
fn part(command: &str) -> String {
    let text = page("outputs.md");
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
fn a_schema_refuses_what_lacks_a_field_and_allows_more() {
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
        assert!(schema.takes(&more.into()), "{command} with more");
    }
}

fn page(name: &str) -> String {
    std::fs::read_to_string(docs().join(name)).expect("a page")
}

/// The plan of a pattern that comes with the program.
fn plan(pattern: &str) -> Value {
    let whole = threadmark(&format!("plan {pattern} --json"));
    whole.objects("plan").remove(0)
}

#[test]
fn the_table_of_lost_places_has_every_pattern_with_its_steps() {
    let page = page("mending.md");
    let (_, table) = page.split_once("| pattern | steps |").expect("the table");
    let rows = table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'));
    let mut told: Vec<String> = vec![];
    for row in rows {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let name = cells[1].split(',').next().expect("a name");
        assert_eq!(plan(name)["total_steps"].to_string(), cells[2], "{name}");
        told.push(name.into());
    }
    let patterns = threadmark("patterns --json").objects("patterns");
    let mut all: Vec<_> = patterns
        .iter()
        .filter_map(|p| p["pattern"].as_str())
        .collect();
    all.sort_unstable();
    assert_eq!(told, all);
}

#[test]
fn the_worked_example_of_thread_is_what_the_plan_says() {
    let page = page("planning.md").replace('\n', " ");
    let (_, example) = page
        .split_once("A worked example: in `")
        .expect("the example");
    let (name, example) = example.split_once('`').expect("a pattern");
    let mm = plan(name)["thread_mm"].to_string();
    assert!(example.contains(&format!("of 150 mm {mm} mm.")), "{mm}");
}

#[test]
fn the_table_of_bundles_is_that_of_the_engine() {
    let row: Vec<String> = BUNDLE.iter().map(f64::to_string).collect();
    let row = format!("| ρ | {} |", row.join(" | "));
    assert!(page("planning.md").contains(&row), "{row}");
}

#[test]
fn the_errors_that_are_shown_have_the_promised_shape() {
    let text = page("outputs.md");
    let (_, part) = text.split_once("## Errors").expect("a part about errors");
    let examples = blocks(part.split("\n## ").next().unwrap_or_default(), "json");
    assert_eq!(examples.len(), 2);
    for line in examples {
        schema::named("error").read(&line);
    }
}

/// Every whole pattern of the page about the format, typed as it is shown.
#[test]
fn every_pattern_that_is_shown_is_proved_and_can_be_stitched() {
    let text = page("pattern-format.md");
    let blocks = text.split("```json\n").skip(1);
    let patterns = blocks.filter_map(|block| block.split("```").next());
    let patterns: Vec<&str> = patterns
        .filter(|block| block.contains("\"threadmark\": 1"))
        .collect();
    assert_eq!(patterns.len(), 2);
    for pattern in patterns {
        let verify = threadmark("verify shown.json").file("shown.json", pattern);
        let said = verify.run();
        assert!(said.contains(": proved"), "{said}");
        let stitch = verify.again("stitch shown.json --plain").stdin("\n\nq\n");
        assert!(stitch.run().contains(" rests at step 2 of "));
    }
}
