//! How joins are told and drawn.

use roxmltree::Document;
use serde_json::Value;

use super::xml;
use crate::builder::{Whole, threadmark};
use crate::pattern::pattern;

/// Triangles of so many rounds one after another, each zipped onto the one before:
/// onto a row of so many join beads, or directly.
fn chain(rounds: &[u32], rows: &[Option<u32>]) -> Whole {
    let mut jobs: Vec<String> = vec![r#"{ "panel": "p0" }"#.into()];
    for (nth, row) in rows.iter().enumerate() {
        let (last, next) = (format!("p{nth}"), format!("p{}", nth + 1));
        jobs.extend(
            row.map(|beads| format!(r#"{{ "row": "{last}", "sides": [1], "beads": {beads} }}"#)),
        );
        let eased = if row.is_some() {
            r#", "eased": true"#
        } else {
            ""
        };
        jobs.push(format!(r#"{{ "panel": "{next}" }}"#));
        jobs.push(format!(
            r#"{{ "zip": "{next}", "sides": [{{ "side": 2, "onto": "{last}", "at": 1{eased} }}] }}"#
        ));
    }
    let panels = rounds.iter().enumerate();
    let panels: Vec<(String, String)> = panels
        .map(|(nth, rounds)| {
            (
                format!("p{nth}"),
                format!("\"sides\": 3, \"rounds\": {rounds}"),
            )
        })
        .collect();
    let panels: Vec<(&str, &str)> = panels.iter().map(|(a, b)| (&a[..], &b[..])).collect();
    let make = format!(r#"{{ "jobs": [{}] }}"#, jobs.join(", "));
    threadmark("").file("chain.json", pattern(&panels, &make))
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The numbers on the beads of the drawings of joins.
fn numbers(page: &str) -> Vec<u32> {
    let page = Document::parse(xml(page)).unwrap();
    let mut all = page.descendants();
    let joins = all.find(|n| n.attribute("id") == Some("joins")).unwrap();
    let texts = joins
        .descendants()
        .filter(|n| n.tag_name().name() == "text");
    let mut numbers: Vec<u32> = texts.filter_map(|n| n.text()?.parse().ok()).collect();
    numbers.sort_unstable();
    numbers
}

/// The number of beads of each tooth but its edge bead, by the steps.
fn joins_of_teeth(steps: &[Value]) -> Vec<usize> {
    let zips = steps.iter().filter(|step| step["kind"] == "zip");
    let passes = |step: &Value| step["passes"].as_array().unwrap().len();
    zips.map(|step| passes(step) - 1).collect()
}

/// Sides of 9 and 6 edge beads: the drawing has every bead of the zip once, in the
/// order of the needle, and stage and join say at which teeth the steps have other
/// than one join bead.
#[test]
fn an_eased_zip_is_drawn_and_says_where_a_tooth_is_not_like_the_others() {
    for beads in [4, 5, 7, 8] {
        let whole = chain(&[9, 6], &[Some(beads)]);
        let steps = whole.again("steps chain.json --json").objects("steps");
        let page = whole.again("sheet chain.json").run();
        assert_eq!(numbers(&page), (1..=6 + beads).collect::<Vec<_>>());
        let joins = joins_of_teeth(&steps);
        let at = |n: usize| (1..).zip(&joins).filter(move |(_, joins)| **joins == n);
        let at = |n: usize| at(n).map(|(tooth, _): (u32, _)| tooth.to_string());
        let (none, two): (Vec<String>, Vec<String>) = (at(0).collect(), at(2).collect());
        let said = match (&none[..], &two[..]) {
            ([], []) => String::new(),
            ([one], _) => format!("none at tooth {one}"),
            (_, [one, other]) => format!("2 join beads at teeth {one} and {other}"),
            (_, [one, two, last]) => format!("2 join beads at teeth {one}, {two} and {last}"),
            _ => panic!("{joins:?}"),
        };
        let text = flat(&whole.again("sheet chain.json --to text").run());
        let is_even = said.is_empty();
        assert_eq!(is_even, beads == 5);
        let told = format!("One join bead at each tooth, but {said}.");
        assert_eq!(text.contains(&told), !is_even, "{text}");
        let told = format!("5 teeth locked, {said}.");
        assert_eq!(text.contains(&told), !is_even, "{text}");
    }
}

/// A zip that goes through the row next door has its drawing too.
#[test]
fn a_zip_past_a_bead_is_drawn() {
    let jobs = r#""joins": [{ "job": 5, "side": 3, "past": [4, 7] }], "make""#;
    let past = crate::pattern::tetrahedron(6).replace("\"make\"", jobs);
    let whole = threadmark("sheet past.json").file("past.json", past);
    let page = whole.run();
    let steps = whole.again("steps past.json --json").objects("steps");
    assert!(
        steps
            .iter()
            .any(|step| step["text"].to_string().contains("next door"))
    );
    let plain = threadmark("sheet plain.json")
        .file("plain.json", crate::pattern::tetrahedron(6))
        .run();
    let (own, alike) = (numbers(&page), numbers(&plain));
    // Six edge beads and five join beads, in one drawing more.
    let mut more = [alike, (1..=11).collect()].concat();
    more.sort_unstable();
    assert_eq!(own, more);
}

/// Sides that differ by one edge bead have no row, and nothing says that they have.
#[test]
fn sides_that_lock_directly_are_said_to() {
    let page = chain(&[6, 5], &[None]).again("sheet chain.json").run();
    assert!(page.contains("p0, side 1 meets 2 · p1, side 2, locked directly<"));
    assert!(!page.contains("carries the join row") && !page.contains("carry a join row"));
    let both = chain(&[6, 6, 5], &[Some(5), None]);
    let page = both.again("sheet chain.json").run();
    assert!(page.contains("p0, side 1 meets 2 · p1, side 2<"));
    assert!(page.contains("p1, side 1 meets 3 · p2, side 2, locked directly<"));
    assert!(page.contains("carries the join row, but where they are locked directly."));
    assert!(page.contains("Thick lines carry a join row."));
}

/// Ten edge beads and a row of six: three of its nine gaps hold none.
#[test]
fn gaps_that_hold_none_are_named_together() {
    let whole = chain(&[10, 7], &[Some(6)]);
    let text = flat(&whole.again("sheet chain.json --to text").run());
    assert!(
        text.contains(", but none in gaps 2, 5 and 8 of side 1."),
        "{text}"
    );
}

#[test]
fn a_tie_names_the_beads_of_each_corner() {
    let text = flat(&threadmark("sheet harbour-lantern --to text").run());
    let tie = "sew through 2 beads of the one corner and 2 beads of the other, adding none; then go \
               through the same beads once more.";
    assert!(text.contains(tie), "{text}");
    let stage = "Fold and tie the corners. Fold the work along its middle until the two corners meet: at \
                 the end of side 3 of Panel 1, and at the end of side 1 of Panel 4. Draw the corners \
                 together: sew through 2 beads: A (side 1 bead 8) of Panel 4, then A (side 3 bead 1) of \
                 Panel 3. Draw the corners together: sew through 2 beads: A (side 3 bead 8) of Panel 1, \
                 then A (side 3 bead 1) of Panel 6. Then go through the same beads once more.";
    assert!(text.contains(stage), "{text}");
}

/// Where the needle is elsewhere, the way to the corners is told; in jobs of
/// the maker's own no net is folded along its middle, and a corner can take
/// more than one movement.
#[test]
fn a_tie_tells_the_way_to_it_and_every_movement() {
    let ring = flat(&threadmark("sheet heron-ring --to text").run());
    let way = "Fold Net 1 and tie its corners. Sew through 15 beads, adding none (";
    assert!(ring.contains(way), "{ring}");
    let jobs = r#"[
        { "panel": "face", "as": "left" },
        { "panel": "small", "as": "right" },
        { "zip": "right", "sides": [{ "side": 1, "onto": "left", "at": 1 }] },
        { "panel": "face", "as": "top" },
        { "row": "top", "sides": [1] },
        { "row": "top", "sides": [2] },
        { "zip": "left", "sides": [{ "side": 2, "onto": "top", "at": 2 }] },
        { "tie": { "panel": "right", "side": 2 }, "to": { "panel": "top", "side": 3 } }
    ]"#;
    let panels = [
        ("face", "\"sides\": 3, \"rounds\": 6"),
        ("small", "\"sides\": 3, \"rounds\": 5"),
    ];
    let text = pattern(&panels, &format!(r#"{{ "jobs": {jobs} }}"#));
    let whole = threadmark("").file("tied.json", text);
    let text = flat(&whole.again("sheet tied.json --to text").run());
    let steps = whole.again("steps tied.json --json").objects("steps");
    let of_tie = |kind: &str| {
        let here = steps
            .iter()
            .filter(|s| s["job_number"] == 8 && s["kind"] == kind);
        here.map(|s| s["passes"].as_array().unwrap().len())
            .filter(|n| *n > 0)
            .collect::<Vec<_>>()
    };
    let way: usize = of_tie("pass-through").iter().sum();
    let said = format!("Sew through {}, adding none (", many(way));
    let stage = text.split("Fold and tie the corners.").nth(1).unwrap();
    assert!(stage.trim_start().starts_with(&said), "{text}");
    assert!(
        stage.contains("Fold the work until the two corners meet: at the end of side 2 of right")
    );
    let loops = of_tie("fold");
    assert!(loops.len() > 4, "{loops:?}");
    for beads in &loops[..loops.len() / 2] {
        assert!(
            stage.contains(&format!("sew through {}: ", many(*beads))),
            "{text}"
        );
    }
    let once: Vec<String> = loops[..loops.len() / 2].iter().map(|n| many(*n)).collect();
    assert!(text.contains(&format!(
        "sew through {} of the corners",
        once.join(", then ")
    )));
}

/// A tetrahedron by hand; its last opening is closed by this job.
fn by_hand(panels: &[(&str, &str)], last: &str) -> String {
    let rim = r#"[{ "panel": "left", "side": 3 }, { "panel": "back", "side": 3 }, { "panel": "right", "side": 2 }]"#;
    let jobs = format!(
        r#"[
        {{ "panel": "face", "as": "left" }},
        {{ "row": "left", "sides": [1, 2, 3] }},
        {{ "panel": "face", "as": "right" }},
        {{ "zip": "right", "sides": [{{ "side": 1, "onto": "left", "at": 1 }}] }},
        {{ "row": "right", "sides": [2, 3] }},
        {{ "panel": "face", "as": "back" }},
        {{ "zip": "back", "sides": [
            {{ "side": 1, "onto": "left", "at": 2 }}, {{ "side": 2, "onto": "right", "at": 3 }}
        ] }},
        {{ "row": "back", "sides": [3] }},
        {}
    ]"#,
        last.replace("RIM", rim)
    );
    pattern(panels, &format!(r#"{{ "jobs": {jobs} }}"#))
}

const FACE: (&str, &str) = ("face", "\"sides\": 3, \"rounds\": 6");

#[test]
fn a_rim_is_reinforced_side_by_side_once_the_needle_is_there() {
    let whole = threadmark("").file("open.json", by_hand(&[FACE], r#"{ "firm": RIM }"#));
    let text = flat(&whole.again("sheet open.json --to text").run());
    let steps = whole.again("steps open.json --json").objects("steps");
    let way = |s: &&Value| s["job_number"] == 9 && s["kind"] == "pass-through";
    let way = steps
        .iter()
        .filter(way)
        .map(|s| s["passes"].as_array().unwrap().len());
    let way: usize = way.sum();
    assert!(way > 1);
    let stage = text.split("9 Reinforce the rim").nth(1).unwrap();
    let said = format!(
        " between left, back, right. Sew through {}, adding none (",
        many(way)
    );
    assert!(stage.starts_with(&said), "{stage}");
    let round = "Go twice round the rim of 3 sides, adding no bead: left, side 3; back, side 3; right, side 2.";
    assert!(stage.contains(round), "{stage}");
}

/// One side of the rim takes a bead more than the others.
#[test]
fn a_fill_of_unlike_sides_is_not_called_as_long_all_round() {
    let window = "\"sides\": 3, \"rounds\": 6, \"way\": \"inward\", \"gaps\": [{ \"round\": 6, \"gap\": 4, \
                  \"beads\": 2 }, { \"round\": 5, \"gap\": 5, \"beads\": 0 }]";
    let fill =
        r#"{ "fill": "window", "as": "front", "rim": RIM, "gaps": ["1*3 2 1*2", "1*6", "1*6"] }"#;
    let whole = threadmark("").file("fill.json", by_hand(&[FACE, ("window", window)], fill));
    let text = flat(&whole.again("sheet fill.json --to text").run());
    assert!(
        text.contains("Fill on a rim of 19 beads, on the sides 7 6 6 (once"),
        "{text}"
    );
}

/// `1 bead`, `2 beads`.
fn many(beads: usize) -> String {
    let s = if beads == 1 { "" } else { "s" };
    format!("{beads} bead{s}")
}

/// A kind of bead that no panel uses is nothing to buy.
#[test]
fn beads_that_are_not_used_are_not_on_the_list() {
    let whole = threadmark("").file("star.json", crate::pattern::triangle(4));
    for call in [
        "plan star.json",
        "sheet star.json",
        "sheet star.json --to text",
        "sheet star.json --to svg",
    ] {
        let said = whole.again(call).run();
        assert!(
            said.contains("sea green") && !said.contains("amber"),
            "{call}: {said}"
        );
    }
    let plan = whole.again("plan star.json --json").objects("plan");
    let unused = &plan[0]["beads"]["A"];
    assert_eq!((&unused["count"], &unused["spare"]), (&0.into(), &0.into()));
}
