//! A handout of a piece of two million beads: small, and honest.

use roxmltree::Document;

use super::xml;
use crate::builder::threadmark;

#[test]
fn two_million_beads_give_a_file_that_opens() {
    let drafted = threadmark("draft ring --rounds 200 -o wheel.json");
    drafted.run();
    let mut call = drafted.again("sheet wheel.json");
    if cfg!(unix) {
        // Ended by the system after a minute of the processor.
        call = call.through(&["bash", "-c", "ulimit -t 60; exec \"$0\" \"$@\""]);
    }
    let page = call.run();
    assert!(page.len() < 2_000_000, "{} bytes", page.len());
    Document::parse(xml(&page)).unwrap();
    assert!(page.contains("its beads are too many to be drawn one by one"));
    let told = drafted.again("sheet wheel.json --json").objects("sheet");
    assert!(told[0]["total_beads"].as_u64() > Some(1_900_000));
    assert_eq!(told[0]["panels"][0]["drawn_by"], "rounds");
}

#[test]
fn what_is_left_out_is_counted_and_said() {
    let drafted = threadmark("draft ring --rounds 3 --tetrahedra 60 -o long.json");
    drafted.run();
    let told = drafted.again("sheet long.json --json").objects("sheet");
    let left = |what: &str| told[0]["left_out"][what].as_u64().unwrap();
    let stages = told[0]["stages"].as_u64().unwrap();
    assert!(left("stages") > 0 && left("joins") > 0);
    let page = drafted.again("sheet long.json").run();
    let text = drafted.again("sheet long.json --to text").run();
    for said in [&page, &text] {
        let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&format!(
            "{} more stages are not printed here",
            left("stages")
        )));
        assert!(flat.contains(&format!(
            "{} more joins are not printed here",
            left("joins")
        )));
    }
    // Each stage that is told has its box, also where some are told as one.
    let boxes = text.split("[ ]").skip(1);
    let numbered = boxes.filter(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()));
    assert!(numbered.count() as u64 >= stages - left("stages"));
    assert!(page.contains("more like these are not drawn"));
}

#[test]
fn rounds_that_are_left_out_are_counted() {
    let drafted = threadmark("draft triangle --rounds 450 -o tall.json");
    drafted.run();
    let told = drafted.again("sheet tall.json --json").objects("sheet");
    assert_eq!(told[0]["left_out"]["rounds"], 50);
    assert_eq!(told[0]["panels"][0]["rounds"], 450);
    let page = drafted.again("sheet tall.json").run();
    assert!(page.contains("50 more rounds are not printed here"));
}
