//! The engine can sew what the reader accepts: random patterns of every form,
//! none of which may stop it.

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde_json::{Value, json};

use super::LANTERN;
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::seams::{Corner, Direction};
use crate::beadwork::verify::verify;
use crate::beadwork::{Kind, Sequence, Step};
use crate::pattern::mat::{MetCorners, MetSide};
use crate::pattern::read;

/// The most steps taken for each piece.
const STEPS: usize = 50_000;

/// So far from the middle no bead lies, mm: a hundred metres.
const FARTHEST_MM: f64 = 100_000.0;

/// Choices, taken one by one; after the last, the first option is always
/// chosen.
struct Draw(std::vec::IntoIter<u16>);

fn against(side: Corner) -> MetSide {
    (side, Direction::Against)
}

impl Draw {
    /// A number below `n`.
    fn below(&mut self, n: usize) -> usize {
        usize::from(self.0.next().unwrap_or(0)) % n
    }

    fn one_of<T: Clone>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())].clone()
    }
}

fn pattern(panels: &Value, make: Value) -> String {
    let mut pattern: Value = serde_json::from_str(LANTERN).unwrap();
    pattern["panels"] = panels.clone();
    pattern["make"] = make;
    // Short lengths, so that thread is renewed in small pieces too.
    pattern["thread"] = json!({"name": "braided 0.12", "cut_mm": 120, "tail_mm": 10});
    pattern.to_string()
}

fn taken(text: &str) -> bool {
    read("x.json", text.as_bytes()).is_ok()
}

/// A kind of panel; a plain triangle if the choice cannot be sewn.
fn panel(draw: &mut Draw) -> Value {
    let sides = draw.one_of(&[3, 3, 3, 4, 4, 5, 6, 12]);
    let rounds = draw.below(6) + 1;
    let mut panel = json!({"sides": sides, "rounds": rounds, "colours": ["all: (A S)*"]});
    match draw.below(4) {
        0 | 1 => {}
        2 => {
            let length = draw.below(5) + 1;
            let law: Vec<usize> = (0..length).map(|_| draw.below(3)).collect();
            panel["corners"] = json!(law);
            panel["start"] = json!(draw.one_of(&["sides", "points"]));
        }
        _ => {
            let ring = draw.below(4) + 3;
            let mut before = ring;
            let mut words = vec![];
            for _ in 1..rounds {
                let gap = |place: usize| match place {
                    0 => draw.below(2) + 1,
                    _ => draw.below(3),
                };
                let word: Vec<usize> = (0..before).map(gap).collect();
                before = word.iter().sum();
                words.push(word.iter().map(|g| format!("{g} ")).collect::<String>());
            }
            panel["ring"] = json!(ring);
            panel["words"] = json!(words);
        }
    }
    or_plain(turned(panel, draw))
}

/// The same panel, perhaps worked inward.
fn turned(mut panel: Value, draw: &mut Draw) -> Value {
    let rounds = panel["rounds"].as_u64().unwrap() as usize;
    if draw.below(3) > 0 {
        panel["way"] = json!("inward");
        panel["open"] = json!(draw.below(rounds));
    }
    panel
}

fn or_plain(panel: Value) -> Value {
    match taken(&pattern(&json!({"a": panel}), json!({"panel": "a"}))) {
        true => panel,
        false => json!({"sides": 3, "rounds": 4, "colours": ["all: S*"]}),
    }
}

/// A pattern that the reader accepts.
fn drawn(choices: Vec<u16>) -> String {
    let mut draw = Draw(choices.into_iter());
    let one = panel(&mut draw);
    let like = or_plain(turned(one.clone(), &mut draw));
    let other = panel(&mut draw);
    let panels = json!({"a": one, "b": like, "c": other});
    let faces = |draw: &mut Draw| -> Vec<&str> {
        let number = draw.below(4) + 1;
        (0..number)
            .map(|_| draw.one_of(&["a", "a", "b", "c"]))
            .collect()
    };
    let how = ["set-in", "fill", "open"];
    let make = match draw.below(8) {
        0 => json!({"panel": "a"}),
        1 => {
            let solid = match one["sides"].as_u64() {
                Some(3) => draw.one_of(&["tetrahedron", "octahedron", "icosahedron"]),
                _ => "cube",
            };
            json!({"solid": solid, "faces": faces(&mut draw),
                "close": draw.one_of(&how), "tips": draw.below(3)})
        }
        2 => json!({"folded-pair": faces(&mut draw), "tips": draw.below(3), "close": [
            {"how": draw.one_of(&how), "with": draw.one_of(&["a", "b"])},
            {"how": draw.one_of(&how), "with": draw.one_of(&["a", "b"])}]}),
        3 => json!({"ring": draw.one_of(&[6, 8]), "faces": faces(&mut draw),
            "close": draw.one_of(&how), "tips": draw.below(3)}),
        _ => return Table::new(panels).worked(&mut draw),
    };
    let text = pattern(&panels, make);
    match taken(&text) {
        true => text,
        false => Table::new(panels).worked(&mut draw),
    }
}

/// A table for choosing jobs one after another; jobs that the reader refuses
/// are skipped.
struct Table {
    panels: Value,
    jobs: Vec<Value>,
    /// Sides of each panel made.
    made: Vec<u8>,
    bare: Vec<Corner>,
    rows: Vec<Corner>,
    corners: MetCorners,
}

impl Table {
    fn new(panels: Value) -> Self {
        let mut table = Table {
            panels,
            jobs: vec![],
            made: vec![],
            bare: vec![],
            rows: vec![],
            corners: MetCorners::default(),
        };
        table.make("a");
        table
    }

    fn worked(mut self, draw: &mut Draw) -> String {
        for _ in 0..draw.below(24) {
            self.job(draw);
        }
        pattern(&self.panels, json!({"jobs": self.jobs}))
    }

    fn job(&mut self, draw: &mut Draw) {
        match draw.below(10) {
            0 | 1 => {
                self.make(draw.one_of(&["a", "a", "b", "c"]));
            }
            2 | 3 if !self.bare.is_empty() => {
                let panel = draw.one_of(&self.bare).0;
                let mut sides: Vec<Corner> = self.bare.clone();
                let all = draw.below(2) == 0;
                sides.retain(|side| side.0 == panel && (all || draw.below(3) > 0));
                let numbers: Vec<u32> = sides.iter().map(|side| side.1.number()).collect();
                let job = json!({"row": name(panel), "sides": numbers, "tips": draw.below(3)});
                if self.did(job) {
                    self.bare.retain(|side| !sides.contains(side));
                    self.rows.extend(sides);
                }
            }
            4..=6 if !self.bare.is_empty() && !self.rows.is_empty() => self.zip(draw),
            7 | 8 if !self.rows.is_empty() => {
                if let Some(rim) = (0..8).find_map(|_| self.rim(draw)) {
                    self.on_rim(rim, draw);
                }
            }
            9 => {
                let mut corner = || {
                    let panel = draw.below(self.made.len());
                    let side = draw.below(self.made[panel].into());
                    (Panel(panel as u16), Side(side as u8))
                };
                let (from, to) = (corner(), corner());
                if self.did(json!({"tie": side(from), "to": side(to)})) {
                    self.corners.tie(from, to);
                }
            }
            _ => {}
        }
    }

    fn did(&mut self, job: Value) -> bool {
        self.jobs.push(job);
        let taken = taken(&pattern(&self.panels, json!({"jobs": self.jobs})));
        if !taken {
            self.jobs.pop();
        }
        taken
    }

    fn make(&mut self, kind: &str) {
        let panel = Panel(self.made.len() as u16);
        if self.did(json!({"panel": kind, "as": name(panel)})) {
            let sides = self.lay_down(kind);
            self.bare.extend((0..sides).map(|side| (panel, Side(side))));
        }
    }

    fn lay_down(&mut self, kind: &str) -> u8 {
        let sides = self.panels[kind]["sides"].as_u64().unwrap() as u8;
        self.made.push(sides);
        self.corners.add_panel(sides);
        sides
    }

    /// One to three sides of a panel, each onto some row.
    fn zip(&mut self, draw: &mut Draw) {
        let panel = draw.one_of(&self.bare).0;
        let (mut bare, mut rows) = (self.bare.clone(), self.rows.clone());
        bare.retain(|side| side.0 == panel);
        let mut pairs = vec![];
        for _ in 0..draw.below(3) + 1 {
            if !bare.is_empty() && !rows.is_empty() {
                let side = bare.swap_remove(draw.below(bare.len()));
                pairs.push((side, rows.swap_remove(draw.below(rows.len()))));
            }
        }
        let side = |&(bare, row): &(Corner, Corner)| {
            json!({"side": bare.1.number(),
            "onto": name(row.0), "at": row.1.number()})
        };
        let sides: Vec<Value> = pairs.iter().map(side).collect();
        if self.did(json!({"zip": name(panel), "sides": sides})) {
            for (bare, row) in pairs {
                self.bare.retain(|side| *side != bare);
                self.rows.retain(|side| *side != row);
                self.corners.join(bare, against(row));
            }
        }
    }

    /// A closed path along rows.
    fn rim(&mut self, draw: &mut Draw) -> Option<Vec<Corner>> {
        let mut rim = vec![draw.one_of(&self.rows)];
        while rim.len() < 12 {
            let last = *rim.last()?;
            if self.corners.goes_on(against(last), against(rim[0]))
                && (rim.len() > 2 || draw.below(2) == 0)
            {
                return Some(rim);
            }
            let mut next = self.rows.clone();
            next.retain(|&side| {
                !rim.contains(&side) && self.corners.goes_on(against(last), against(side))
            });
            if next.is_empty() {
                return None;
            }
            rim.push(draw.one_of(&next));
        }
        None
    }

    fn on_rim(&mut self, rim: Vec<Corner>, draw: &mut Draw) {
        let sides: Vec<Value> = rim.iter().map(|corner| side(*corner)).collect();
        let panel = Panel(self.made.len() as u16);
        let fill = |kind: &str| json!({"fill": kind, "as": name(panel), "rim": sides});
        let kinds: &[&str] = match draw.below(4) {
            0 => &[],
            _ => &["a", "b", "c"],
        };
        if let Some(&kind) = kinds.iter().find(|kind| self.did(fill(kind))) {
            let sides = self.lay_down(kind);
            for (side, &open) in (0..sides).zip(&rim) {
                self.corners.join((panel, Side(side)), against(open));
                self.rows.retain(|row| *row != open);
            }
        } else {
            self.did(json!({"firm": sides.clone()}));
        }
    }
}

fn name(panel: Panel) -> String {
    format!("p{}", panel.0)
}

fn side((panel, side): Corner) -> Value {
    json!({"panel": name(panel), "side": side.number()})
}

/// Plans the piece and goes through its steps, as the screen would.
fn sewn(text: &str) -> Result<(), TestCaseError> {
    let project = read("x.json", text.as_bytes()).unwrap().project;
    let sequence = Sequence::new(project);
    let places = sequence.work().bead_places();
    let mut strung = 0;
    for movement in sequence.iter().take(STEPS) {
        for bead in &movement.strings {
            strung += 1;
            prop_assert_eq!(bead.0, strung, "{:?}", movement);
            prop_assert!(places.bead(*bead).length() < FARTHEST_MM, "{bead}");
        }
        for bead in &movement.passes {
            prop_assert!(bead.0 > 0 && bead.0 <= strung, "{:?}", movement);
        }
        sequence.say(&movement);
        sequence.say_where(&movement);
        prop_assert_eq!(sequence.strung_after(movement.step), strung);
    }
    if sequence.steps() as usize <= STEPS {
        prop_assert_eq!(strung, sequence.layout().beads());
    }
    let thread = sequence.thread_of(Step(1));
    prop_assert!(thread.is_some_and(|length| sequence.cut_mm(length) > 0.0));
    Ok(())
}

/// The two faces of a pillow lie on each other, one edge in front and the next
/// behind: their beads still have an end to how far they are pushed apart.
#[test]
fn a_panel_tied_to_a_pillow_lies_near_it() {
    let pattern = json!({
        "threadmark": 1, "title": "Pillow and sail", "thread": "braided 0.12", "needle": 12,
        "beads": { "S": { "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" } },
        "panels": {
            "face": { "sides": 3, "rounds": 4, "colours": ["all: S*"] },
            "sail": { "sides": 5, "rounds": 3, "colours": ["all: S*"] },
        },
        "make": { "jobs": [
            { "panel": "face", "as": "front" },
            { "panel": "face", "as": "back" },
            { "panel": "sail", "as": "sail" },
            { "row": "front", "sides": [1, 2, 3], "tips": 0 },
            { "zip": "back", "sides": [
                { "side": 3, "onto": "front", "at": 2 },
                { "side": 2, "onto": "front", "at": 3 },
                { "side": 1, "onto": "front", "at": 1 },
            ] },
            { "tie": { "panel": "front", "side": 3 }, "to": { "panel": "sail", "side": 2 } },
            { "tie": { "panel": "sail", "side": 1 }, "to": { "panel": "front", "side": 1 } },
        ] },
    });
    sewn(&pattern.to_string()).unwrap();
}

#[test]
fn the_title_of_a_zip_names_each_panel_once() {
    let kinds = json!({ "face": { "sides": 3, "rounds": 4, "colours": ["all: S*"] } });
    let jobs = json!({ "jobs": [
        { "panel": "face", "as": "front" },
        { "panel": "face", "as": "back" },
        { "row": "front", "sides": [1, 2] },
        { "zip": "back", "sides": [
            { "side": 1, "onto": "front", "at": 2 }, { "side": 2, "onto": "front", "at": 1 },
        ] },
    ] });
    let read = read("x.json", pattern(&kinds, jobs).as_bytes()).unwrap();
    let seq = Sequence::new(read.project);
    assert_eq!(seq.jobs()[3].title, "Zip back to front");
}

/// All sides of the rim are of one panel, and meet at its tip beads, or at corner
/// beads that two of them share: the needle goes through each of these once.
#[test]
fn the_rows_of_one_panel_are_a_rim() {
    let mut proved = 0;
    for (sides, rounds, tips) in (3..=6).flat_map(|sides| {
        (2..=6).flat_map(move |rounds| (0..=2).map(move |tips| (sides, rounds, tips)))
    }) {
        let kinds = json!({
            "face": { "sides": sides, "rounds": rounds, "colours": ["all: S*"] },
            "lid": { "sides": sides, "rounds": rounds, "way": "inward", "colours": ["all: S*"] },
        });
        let all: Vec<u8> = (1..=sides).collect();
        let rim = all.iter().rev();
        let rim = rim.map(|side| json!({ "panel": "face", "side": side }));
        let rim: Vec<Value> = rim.collect();
        for last in [json!({ "fill": "lid", "rim": rim }), json!({ "firm": rim })] {
            let jobs = json!({ "jobs": [
                { "panel": "face" }, { "row": "face", "sides": all, "tips": tips }, last,
            ] });
            // Some have gaps at their corners, or no room for tip beads there.
            let Ok(read) = read("x.json", pattern(&kinds, jobs).as_bytes()) else {
                continue;
            };
            let seq = Sequence::new(read.project);
            let mut last = None;
            for movement in seq.iter() {
                last = last.filter(|_| movement.kind != Kind::StartThread);
                for &bead in &movement.passes {
                    let before = last.replace(bead);
                    assert_ne!(
                        before,
                        Some(bead),
                        "{sides}, {rounds}, {tips}: {movement:?}"
                    );
                }
            }
            let (layout, goal, jobs) = (seq.layout(), seq.goal(), seq.jobs());
            let size = |bead| layout.bead_kind(layout.colour(bead)).size;
            let report = verify(layout.project(), goal, jobs, seq.iter(), size);
            assert_eq!(
                report.findings,
                [],
                "{sides} sides of {rounds} rounds, {tips} tips"
            );
            proved += 1;
        }
    }
    assert!(proved > 50, "{proved}");
}

proptest! {
    #[test]
    fn a_pattern_that_is_taken_can_be_sewn(
        choices in prop::collection::vec(any::<u16>(), 0..200),
    ) {
        let text = drawn(choices);
        let caught = std::panic::catch_unwind(|| sewn(&text));
        match caught {
            Ok(sewn) => sewn.map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?,
            Err(_) => return Err(TestCaseError::fail(format!("the engine stopped at\n{text}"))),
        }
    }
}

/// The random patterns are varied: every form of piece, job and panel occurs.
#[test]
fn patterns_of_every_form_are_drawn() {
    let mut runner = TestRunner::deterministic();
    let choices = prop::collection::vec(any::<u16>(), 200);
    let patterns: Vec<String> = (0..150)
        .map(|_| drawn(choices.new_tree(&mut runner).unwrap().current()))
        .collect();
    for form in [
        "panel\":\"a\"",
        "solid",
        "folded-pair",
        "ring\":6",
        "row",
        "zip",
        "fill\":",
        "firm",
        "tie",
        "words",
        "points",
        "inward",
        "set-in",
        "\"close\":\"fill",
        "\"close\":\"open",
    ] {
        let number = patterns.iter().filter(|text| text.contains(form)).count();
        assert!(number > 0, "{form}");
    }
}
