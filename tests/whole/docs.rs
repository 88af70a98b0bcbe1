//! The examples in docs/outputs.md: each has the promised shape, and each that
//! shows its call is what that call prints.

use crate::builder::{Whole, threadmark};
use crate::pattern::triangle;
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
        let whole = threadmark("").file("shown.json", pattern);
        is_proved_and_stitched(&whole, "shown.json");
    }
}

/// A call as a shell parts it: quoted words stay whole.
fn called(call: &str) -> Whole {
    let mut run = threadmark("");
    for (nth, part) in call.split('\'').enumerate() {
        let words: Vec<&str> = match nth % 2 {
            0 => part.split_whitespace().collect(),
            _ => vec![part],
        };
        run = words.into_iter().fold(run, Whole::arg);
    }
    run
}

/// Every call of the pages that tell how to plan and to hand out, typed as it is
/// shown. A pattern that it writes is proved and can be stitched.
#[test]
fn every_call_of_the_pages_does_what_it_says() {
    let mut patterns = 0;
    for name in ["planning.md", "handout.md"] {
        let lines = blocks(&page(name), "text");
        let calls = lines
            .iter()
            .filter_map(|line| line.strip_prefix("threadmark "));
        for call in calls {
            let run = called(call).file("star.json", triangle(6));
            run.run();
            let written = call.split(" -o ").nth(1).map(String::from);
            let written = written.or_else(|| {
                let drafted = call.strip_prefix("draft ")?;
                Some(format!("{}.json", drafted.split(' ').next()?))
            });
            let written = written.expect("a file");
            assert!(run.dir().join(&written).exists(), "{call}");
            if call.starts_with("draft") {
                is_proved_and_stitched(&run, &written);
                patterns += 1;
            }
        }
    }
    assert!(patterns >= 4);
}

fn is_proved_and_stitched(whole: &Whole, file: &str) {
    let said = whole.again(&format!("verify {file}")).run();
    assert!(said.contains(": proved"), "{said}");
    let stitch = whole.again(&format!("stitch {file} --plain"));
    assert!(
        stitch
            .stdin("\n\nq\n")
            .run()
            .contains(" rests after step 2 of ")
    );
}

/// The other examples of the format show fields as they stand in a pattern: in
/// the worked example they are proved, and can be stitched.
#[test]
fn every_part_of_a_pattern_that_is_shown_is_proved_and_can_be_stitched() {
    let text = page("pattern-format.md");
    let frame = text.split("```json\n").nth(1).expect("the worked example");
    let frame = frame.split("```").next().unwrap_or_default();
    let mut parts = 0;
    for block in text.split("```json ").skip(1) {
        let (_, rest) = block.split_once('\n').expect("a block");
        let shown = rest.split("```").next().unwrap_or_default();
        let fields: Value = serde_json::from_str(&format!("{{{shown}}}")).expect("fields");
        let mut pattern: Value = serde_json::from_str(frame).expect("a pattern");
        let mut makes = vec![pattern["make"].clone()];
        for (name, value) in fields.as_object().expect("fields") {
            // Panels that are shown stand beside the example's own; each is made.
            match (name.as_str(), value.as_object()) {
                ("panels", Some(panels)) => {
                    makes.clear();
                    for (panel, value) in panels {
                        pattern["panels"][panel] = value.clone();
                        makes.push(serde_json::json!({ "panel": panel }));
                    }
                }
                ("make", _) => makes = vec![value.clone()],
                _ => pattern[name] = value.clone(),
            }
        }
        for make in makes {
            pattern["make"] = make;
            let whole = threadmark("").file("shown.json", pattern.to_string());
            is_proved_and_stitched(&whole, "shown.json");
            parts += 1;
        }
    }
    assert!(parts >= 15, "{parts}");
}
