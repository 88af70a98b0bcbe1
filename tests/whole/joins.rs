//! Joins changed at the needle: a tooth through the row next door, a join that is
//! gone through once more.

use crate::builder::{Whole, threadmark};
use crate::list_of_changes::{choose, typed};
use crate::pty::Screen;
use serde_json::{Value, json};

const PIECE: &str = "narrow-holes";

/// A tetrahedron with thread so thick that the last bead of some zips has little
/// room.
fn narrow_holes() -> String {
    let bead = |name: &str, colour: &str| json!({ "name": name, "size": "cylinder 11/0", "colour": colour });
    let face = json!({ "sides": 3, "rounds": 5, "colours": ["all: A*"], "row": "S*" });
    json!({
        "threadmark": 1, "title": "Narrow holes",
        "beads": { "S": bead("sand", "#d8c49a"), "A": bead("amber", "#d08020") },
        "thread": { "name": "nylon 0.20", "cut_mm": 1500 }, "needle": 10,
        "panels": { "face": face },
        "make": { "solid": "tetrahedron", "faces": ["face"], "close": "set-in" },
    })
    .to_string()
}

fn objects(whole: &Whole, what: &str) -> Vec<Value> {
    whole.again(&format!("{what} {PIECE} --json")).objects(what)
}

/// The last tooth of the zip whose last bead has little room, and the one that faces
/// it has more.
fn last_tooth(steps: &[Value]) -> &Value {
    let zips = steps.iter().filter(|step| step["kind"] == "zip");
    let mut zips = zips.filter(|step| step["job"] == "Zip Face 1 to Face 3");
    zips.next_back().expect("a zip")
}

fn all_passes(steps: &[Value]) -> Vec<&Value> {
    steps.iter().map(|step| &step["passes"]).collect()
}

/// The last edge bead of a zip is nearly full: the needle goes through the one that
/// faces it, and the piece is worked to its end so.
#[test]
fn a_bead_without_room_is_gone_past_through_the_row_next_door() {
    let whole = threadmark("stitch narrow.json").file("narrow.json", narrow_holes());
    let mut screen = Screen::begun(&whole);
    let planned = objects(&whole, "steps");
    let tooth = last_tooth(&planned);
    let (step, full) = (tooth["step"].as_u64().unwrap(), tooth["passes"][1].clone());
    screen.keys(&format!("<space> g {step} <enter>"));
    screen.sees(&format!("Bead {full} is nearly full"));
    let to_come = |screen: &Screen| {
        let text = screen.text();
        let line = text
            .lines()
            .find(|line| line.contains("Times that the needle meets"));
        let numbers = line.map(|line| line.split(|c: char| !c.is_ascii_digit()));
        let numbers: Vec<u32> = numbers
            .into_iter()
            .flatten()
            .filter_map(|n| n.parse().ok())
            .collect();
        numbers
    };
    screen
        .keys("m")
        .sees("▶ Join of Face 1, side 3: past edge bead 5, through the row next door");
    screen.keys("<enter>").sees("Times that the needle meets");
    let [before, after] = to_come(&screen)[..] else {
        panic!("two numbers:\n{}", screen.text());
    };
    assert!(after <= before, "{after} of {before}");
    screen
        .keys("<enter>")
        .says("Changed.")
        .sees("the bead next door (Face 3, side");
    screen.sees("past the edge bead");
    whole.is_proved(PIECE);
    // Only that bead is another one, the corner of the other panel.
    let changed = objects(&whole, "steps");
    let at = step as usize - 1;
    let through = &changed[at]["passes"][1];
    assert_ne!(*through, full);
    let bead = objects(&whole, "beads")
        .into_iter()
        .find(|bead| bead["bead"] == *through);
    assert_eq!(bead.unwrap()["panel"], "Face 3");
    assert_eq!(all_passes(&changed[..at]), all_passes(&planned[..at]));
    let said = whole.again(&format!("sheet {PIECE} --to text -o -")).run();
    assert!(
        said.contains("Through the row next door past edge bead 5"),
        "{said}"
    );
    // As a pattern it gives the same steps.
    whole
        .again(&format!("draft --from {PIECE} -o again.json"))
        .run();
    let again = whole.again("steps again.json --json").objects("steps");
    assert_eq!(all_passes(&again), all_passes(&changed));
    let proof = whole.again("verify again.json --json").objects("verify");
    assert_eq!(proof[0]["proved"], true);

    screen.rush(&format!("<space>{}", changed.len() - at));
    screen
        .sees(&format!("all {} steps done", changed.len()))
        .keys("q");
    assert_eq!(screen.ends().0, 0);
    whole.is_proved(PIECE);

    // Taken back, all is as it was planned; in the plain mode it is said the same way.
    let call = format!("stitch {PIECE} --plain");
    let back = format!("\n\ng {step}\n");
    let said = whole.again(&call).stdin(format!("{back}z\nz\nq\n")).run();
    assert!(
        said.contains("Taken back: Join of Face 1, side 3: past edge bead 5"),
        "{said}"
    );
    assert_eq!(all_passes(&objects(&whole, "steps")), all_passes(&planned));
    let open = typed(&whole, &call, &back, &["past edge bead 5"]);
    let said = whole
        .again(&call)
        .stdin(format!("{back}{open}\n\nq\n"))
        .run();
    assert!(
        said.contains("sew through the join bead and the bead next door"),
        "{said}"
    );
    assert_eq!(all_passes(&objects(&whole, "steps")), all_passes(&changed));
    whole.is_proved(PIECE);
}

/// A join that is zipped is gone through once more, next of all.
#[test]
fn a_join_is_reinforced() {
    let whole = threadmark("stitch narrow.json").file("narrow.json", narrow_holes());
    let mut screen = Screen::begun(&whole);
    let planned = objects(&whole, "steps");
    let zips = planned.iter().filter(|step| step["kind"] == "zip");
    let first: Vec<&Value> = zips
        .take_while(|step| step["job"] == "Zip Face 2 to Face 1")
        .collect();
    let last = first.last().unwrap()["step"].as_u64().unwrap() as usize;
    screen.keys(&format!("<space> g {} <enter>", last + 1));
    choose(&mut screen, &["Join of Face 2, side 3", "reinforce it"]);
    screen
        .keys("<enter>")
        .sees("A new job: Reinforce the join of Face 2, side 3");
    screen.sees("Beads: before 204, after 204");
    // Esc leaves all as it was.
    screen.keys("<esc>");
    assert_eq!(all_passes(&objects(&whole, "steps")), all_passes(&planned));
    screen
        .keys("<enter> <enter>")
        .says("reinforce it. z takes it back");
    let changed = objects(&whole, "steps");
    whole.is_proved(PIECE);
    assert_eq!(all_passes(&changed[..last]), all_passes(&planned[..last]));
    // Its 5 edge beads and 4 join beads; the needle leaves the first of them.
    let firm = changed.iter().filter(|step| step["kind"] == "firm");
    let beads = |steps: &[&Value]| {
        let passes = steps
            .iter()
            .flat_map(|step| step["passes"].as_array().unwrap());
        let mut beads: Vec<u64> = passes.filter_map(Value::as_u64).collect();
        beads.sort_unstable();
        beads
    };
    let again = beads(&firm.collect::<Vec<_>>());
    let zipped = beads(&first);
    assert_eq!((again.len(), zipped.len()), (8, 8));
    assert!(again.iter().filter(|bead| zipped.contains(bead)).count() >= 7);
    let passes = |beads: Vec<Value>| {
        beads
            .iter()
            .map(|bead| bead["passes"].as_u64().unwrap())
            .sum::<u64>()
    };
    let more = all_passes(&changed)
        .iter()
        .map(|p| p.as_array().unwrap().len() as u64)
        .sum::<u64>();
    assert_eq!(passes(objects(&whole, "beads")), more);

    let call = format!("draft --from {PIECE} -o again.json");
    whole.again(&call).run();
    let proved = whole.again("verify again.json").run();
    assert!(proved.contains("proved"), "{proved}");
    screen.rush(&format!("<space>{}", changed.len() - last));
    screen
        .sees(&format!("all {} steps done", changed.len()))
        .keys("q");
    assert_eq!(screen.ends().0, 0);

    let back = format!("\n\ng {}\nz\nz\nq\n", last + 1);
    let said = whole
        .again(&format!("stitch {PIECE} --plain"))
        .stdin(back)
        .run();
    assert!(
        said.contains("Taken back: Join of Face 2, side 3: reinforce it"),
        "{said}"
    );
    assert_eq!(all_passes(&objects(&whole, "steps")), all_passes(&planned));
}
