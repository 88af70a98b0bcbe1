//! What the handout says agrees with the other commands.

use std::collections::BTreeMap;

use roxmltree::{Document, Node};
use serde_json::Value;

use super::{SHIPPED, xml};
use crate::builder::threadmark;

/// The rows of the tables of a part: the texts of their cells.
fn rows(part: Node<'_, '_>) -> Vec<Vec<String>> {
    let bodies = part.descendants().filter(|n| n.has_tag_name_in("tbody"));
    let rows = bodies.flat_map(|body| body.children().filter(|n| n.has_tag_name_in("tr")));
    rows.map(|row| {
        let cells = row.children().filter(|n| n.is_element());
        cells.map(text).collect()
    })
    .collect()
}

/// All text of an element, but for that of its drawings.
fn text(of: Node<'_, '_>) -> String {
    let texts = of.descendants().filter(|n| n.is_text());
    let texts = texts.filter(|n| !n.ancestors().any(|a| a.has_tag_name_in("svg")));
    texts.filter_map(|n| n.text()).collect()
}

trait Tag {
    fn has_tag_name_in(&self, name: &str) -> bool;
}

impl Tag for Node<'_, '_> {
    fn has_tag_name_in(&self, name: &str) -> bool {
        self.is_element() && self.tag_name().name() == name
    }
}

fn parts<'a>(page: &'a Document<'a>, class: &str) -> Vec<Node<'a, 'a>> {
    let sections = page.descendants().filter(|n| n.has_tag_name_in("section"));
    let named = sections.filter(|n| n.attribute("class") == Some(class));
    named.collect()
}

fn part<'a>(page: &'a Document<'a>, id: &str) -> Node<'a, 'a> {
    let mut all = page.descendants();
    all.find(|n| n.attribute("id") == Some(id))
        .unwrap_or_else(|| panic!("no {id}"))
}

/// Beads a side, in the round, in all, as `rounds` lists them.
fn said(line: &Value) -> [String; 4] {
    let sides: Vec<String> = line["per_side"]
        .as_array()
        .unwrap()
        .iter()
        .map(Value::to_string)
        .collect();
    let each = match sides.iter().all(|s| *s == sides[0]) {
        true => sides[0].clone(),
        false => sides.join(" "),
    };
    ["round", "beads", "total"]
        .map(|field| line[field].to_string())
        .into_iter()
        .chain([each])
        .collect::<Vec<_>>()
        .try_into()
        .unwrap()
}

#[test]
fn rounds_are_those_of_rounds() {
    for pattern in SHIPPED {
        let written = threadmark(&format!("sheet {pattern}")).run();
        let page = Document::parse(xml(&written)).unwrap();
        let lines = threadmark(&format!("rounds {pattern} --json")).objects("rounds");
        let mut by_job: BTreeMap<String, Vec<[String; 4]>> = BTreeMap::new();
        let of_panels = lines
            .iter()
            .filter(|l| l["job"] == l["panel"] || is_fill(l));
        for line in of_panels {
            let panel = line["panel"].as_str().unwrap();
            by_job.entry(panel.into()).or_default().push(said(line));
        }
        let mut panels = 0;
        for kind in parts(&page, "panel") {
            let rows = rows(kind);
            // Two rounds on one string are in place together.
            let are_strung = rows
                .get(1)
                .is_some_and(|row| row.concat().contains("already"));
            let told: Vec<[String; 4]> = rows
                .iter()
                .map(|row| [&row[1], &row[5], &row[6], &row[4]].map(String::clone))
                .collect();
            // Every panel that it is to become is made of these rounds.
            let words = text(kind);
            let named = words
                .split_once("become")
                .and_then(|(_, rest)| rest.split_once('.'));
            let (names, _) = named.unwrap();
            for name in names.trim_start_matches('s').split("; ") {
                let mut planned = by_job[name.trim()].clone();
                if are_strung {
                    planned[0][2] = planned[1][2].clone();
                }
                assert_eq!(planned, told, "{pattern}: {name}");
                panels += 1;
            }
        }
        assert_eq!(panels, by_job.len(), "{pattern}: every panel is told of");
    }
}

/// A fill's job has a title of its own.
fn is_fill(line: &Value) -> bool {
    line["job"].as_str().unwrap().starts_with("Fill ")
}

#[test]
fn beads_and_grams_are_those_of_plan() {
    for pattern in SHIPPED {
        let written = threadmark(&format!("sheet {pattern}")).run();
        let page = Document::parse(xml(&written)).unwrap();
        let plan = threadmark(&format!("plan {pattern} --json")).objects("plan");
        let (plan, need) = (&plan[0], part(&page, "need"));
        let swatch = |row: Node<'_, '_>| {
            let letter = row.descendants().find(|n| n.has_tag_name_in("text"));
            letter.unwrap().text().unwrap().to_string()
        };
        let mut beads = 0;
        let bodies = need.descendants().filter(|n| n.has_tag_name_in("tbody"));
        let lines = bodies.flat_map(|b| b.children().filter(|n| n.has_tag_name_in("tr")));
        for (line, row) in lines.zip(rows(need)) {
            let of = &plan["beads"][swatch(line)];
            assert_eq!(row[1], of["name"].as_str().unwrap(), "{pattern}");
            assert_eq!(row[3], of["count"].to_string(), "{pattern}");
            let grams = |field: &str| of[field].as_f64().unwrap();
            assert_eq!(row[4], format!("{:.1} g", grams("grams")), "{pattern}");
            // Enough for every spare bead.
            let to_buy: f64 = row[5].trim_end_matches(" g").parse().unwrap();
            let over = to_buy - grams("buy_grams");
            assert!((-1e-3..0.1).contains(&over), "{pattern}: {}", row[5]);
            beads += of["count"].as_u64().unwrap();
        }
        assert_eq!(plan["total_beads"], beads);
        let words = text(need);
        let (threads, steps) = (&plan["threads"], &plan["total_steps"]);
        assert!(
            words.contains(&format!("{beads} in all")),
            "{pattern}: {words}"
        );
        assert!(
            words.contains(&format!("{threads} length")),
            "{pattern}: {words}"
        );
        assert!(
            words.contains(&format!("{steps} steps")),
            "{pattern}: {words}"
        );
    }
}

/// `verify` counts joins, threads and beads from the steps alone.
#[test]
fn stages_are_those_that_verify_has_proved() {
    for pattern in SHIPPED {
        let written = threadmark(&format!("sheet {pattern}")).run();
        let page = Document::parse(xml(&written)).unwrap();
        let proof = threadmark(&format!("verify {pattern} --json")).objects("verify");
        let proof = &proof[0];
        assert_eq!(proof["proved"], true);
        let stages = told_in_full(rows(part(&page, "stages")));
        let last = stages.last().unwrap();
        assert_eq!(proof["beads"].to_string(), last[4], "{pattern}");
        let words: String = stages.iter().map(|row| row[2].as_str()).collect();
        let number = |n: usize| Value::from(n as u64);
        let threads: usize = stages.iter().map(|row| threads(&row[2])).sum();
        assert_eq!(proof["threads"], number(threads), "{pattern}");
        // A fill is joined by its first round, one side after another.
        let fills = stages
            .iter()
            .filter(|row| row[1].starts_with("Fill "))
            .count();
        let zips = words.matches("Zip side ").count();
        assert_eq!(proof["joins"], number(zips + 3 * fills), "{pattern}");
    }
}

/// The rows of the stages, each that says `As tetrahedron 2, stages 10 to 22`
/// replaced by those.
fn told_in_full(rows: Vec<Vec<String>>) -> Vec<Vec<String>> {
    let mut all: Vec<Vec<String>> = vec![];
    for row in rows {
        let Some((_, range)) = row[2]
            .strip_prefix("As ")
            .and_then(|w| w.split_once("stages "))
        else {
            all.push(row);
            continue;
        };
        let numbers: Vec<usize> = range
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|n| n.parse().ok())
            .collect();
        let mut same = all[numbers[0] - 1..numbers[1]].to_vec();
        same.last_mut().unwrap()[4] = row[4].clone();
        all.extend(same);
    }
    all
}

/// New lengths of thread that a stage speaks of.
fn threads(words: &str) -> usize {
    let first = usize::from(words.starts_with("New thread"));
    let head = words.split_once(" on the way. ").map(|(head, _)| head);
    let more = head.and_then(|head| head.split(' ').find_map(|word| word.parse::<usize>().ok()));
    first + more.unwrap_or(0)
}

/// What a maker can count when a panel is done: the edge of one that lies by itself,
/// the rim of an open middle; the edge of a fill is locked into its rim.
#[test]
fn what_is_counted_at_the_end_is_there_to_be_counted() {
    let opening = "Count the rim of the opening: 12 up beads, 4 along each side.";
    let edge = "Count the edge: 24 up beads, 8 along each side.";
    let page = threadmark("sheet harbour-lantern").run();
    let page = Document::parse(xml(&page)).unwrap();
    let counts = parts(&page, "panel").into_iter().map(|panel| {
        let said = panel.descendants().filter(|n| n.has_tag_name_in("strong"));
        said.map(text).collect::<String>()
    });
    assert_eq!(counts.collect::<Vec<_>>(), [edge, edge, opening]);
    let rounds = threadmark("rounds harbour-lantern --json").objects("rounds");
    let last = rounds.last().expect("the window comes last");
    assert_eq!((&last["round"], &last["beads"]), (&4.into(), &12.into()));

    let porthole = threadmark("sheet practice-decrease").run();
    let both = "27 up beads, 9 along each side. Count the rim of the opening: 15 up beads, 5 along each side.";
    assert!(porthole.contains(both));
}

/// A stage of a join tells each fold of the steps, and every bead that they go
/// through on the way to a side.
#[test]
fn stages_tell_the_folds_and_the_ways_to_the_sides() {
    let ring = crate::pattern::ring(6, 5).replace("\"faces\"", "\"tips\": 2, \"faces\"");
    let whole = threadmark("").file("ring.json", &ring);
    for pattern in SHIPPED.into_iter().chain(["ring.json"]) {
        let written = whole.again(&format!("sheet {pattern}")).run();
        let page = Document::parse(xml(&written)).unwrap();
        let steps = whole
            .again(&format!("steps {pattern} --json"))
            .objects("steps");
        let mut rows = rows(part(&page, "stages"));
        // What is told by another solid is not told again.
        rows.retain(|row| {
            ["Join row", "Zip", "Set in"]
                .iter()
                .any(|title| row[1].starts_with(title))
        });
        for row in rows {
            let number: u64 = row[0].trim().parse().unwrap();
            let of_job = steps.iter().filter(|step| step["job_number"] == number);
            let of_kind =
                |kind: &'static str| of_job.clone().filter(move |step| step["kind"] == kind);
            let passed: usize = of_kind("pass-through")
                .map(|step| step["passes"].as_array().unwrap().len())
                .sum();
            let told = row[2].split("ew through ").skip(1);
            let told = told.filter_map(|rest| rest.split(' ').next()?.parse::<usize>().ok());
            assert_eq!(told.sum::<usize>(), passed, "{pattern}: {row:?}");
            for fold in of_kind("fold") {
                let said = fold["text"].as_str().unwrap();
                assert!(row[2].contains(said), "{pattern}: {said}: {row:?}");
            }
        }
    }
}

/// The corner of two rows takes no bead, but tips.
#[test]
fn a_row_over_two_sides_tells_what_lies_in_its_corner() {
    let empty = "At the end of side 1 sew through 1 bead, adding none (Face 1, side 2, round 10): \
                 no bead goes into the gap at the corner.";
    let page = threadmark("sheet lamp-pull").run();
    assert!(page.contains(empty));
    let tips = crate::pattern::ring(6, 5).replace("\"faces\"", "\"tips\": 2, \"faces\"");
    let page = threadmark("sheet ring.json").file("ring.json", tips).run();
    assert!(page.contains("gap of the edge, and the tip beads in the gap at the corner."));
    assert!(!page.contains("no bead goes into the gap"));
}

/// A stone, and a step of one's own in the midst of a job, come where the steps have
/// them; one that is made in some panels of a kind only, in the stage alone.
#[test]
fn own_steps_are_told_where_they_come() {
    let stone = "After round 5 of 8 inward, set the stone: 5 mm, from within, its face outward";
    let page = threadmark("sheet harbour-lantern").run();
    let read = Document::parse(xml(&page)).unwrap();
    let stages = rows(part(&read, "stages"));
    assert!(stages[21][2].contains(stone), "{:?}", stages[21]);
    let window = parts(&read, "panel")[2];
    let told = rows(window).into_iter().find(|row| row[2].contains(stone));
    assert_eq!(told.expect("a round with the stone")[1], "5");
    let text = threadmark("sheet harbour-lantern --to text").run();
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(flat.matches(&format!("{stone}.")).count(), 2);

    let own = r#""own": [
        { "after_job": 1, "after_steps": 20, "do": "note", "text": "look twice" },
        { "after_job": 3, "after_steps": 20, "do": "fit" }
    ], "make""#;
    let pattern = crate::pattern::tetrahedron(4).replace("\"make\"", own);
    let whole = threadmark("sheet own.json --to text").file("own.json", &pattern);
    let text = whole.run();
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let steps = whole.again("steps own.json --json").objects("steps");
    for said in ["Do and tick off: look twice", "Fit it and look"] {
        let at = steps.iter().position(|step| step["text"] == said).unwrap();
        let (last, round) = (&steps[at - 1], steps[at - 1]["round"].to_string());
        assert_eq!(last["kind"], "stitch");
        let lower = said.to_lowercase();
        let stage = flat.split("[ ] ").find(|stage| stage.contains(&lower));
        let stage = stage.unwrap_or_else(|| panic!("{said}: {flat}"));
        assert!(
            stage.contains(&format!("After round {round} of 4 outward, side ")),
            "{stage}"
        );
        let number = format!("{} ", last["job_number"]);
        assert!(stage.starts_with(&number), "{stage}");
        assert_eq!(flat.matches(&lower).count(), 1);
    }
}
