//! Files of the right shape with wild values.

use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::{Value, json};

use super::chain::goes_through;
use super::{bases, cases};

/// A value that could stand anywhere: sizes up to those that are refused,
/// words of the format, names that nobody has given, nonsense.
fn value() -> impl Strategy<Value = Value> {
    let words = vec![
        "face",
        "window",
        "square",
        "sun",
        "inward",
        "outward",
        "fill",
        "set-in",
        "open",
        "points",
        "sides",
        "tetrahedron",
        "octahedron",
        "cube",
        "icosahedron",
        "braided 0.12",
        "nylon 0.30",
        "cylinder 8/0",
        "round 15/0",
        "#ffffff",
        "S",
        "A",
        "",
        "\u{1b}[31m",
        "\u{202e}x",
    ];
    prop_oneof![
        6 => (0..14_u32).prop_map(Value::from),
        4 => (0..1_100_u32).prop_map(Value::from),
        1 => any::<i64>().prop_map(Value::from),
        2 => (0..4_000_u32).prop_map(|n| json!(f64::from(n) / 100.0)),
        1 => any::<f64>().prop_map(|x| json!(x)),
        1 => any::<bool>().prop_map(Value::from),
        4 => select(words).prop_map(Value::from),
        3 => "(all|[1-9]{1,2}|[1-9]-[1-9]{1,2}( by [1-9])?): [AS0-9 ()*|]{0,24}".prop_map(Value::from),
        1 => "[012* ()]{0,20}".prop_map(Value::from),
        1 => "\\PC{0,2000}".prop_map(Value::from),
        2 => prop::collection::vec(0..4_u8, 0..12).prop_map(|law| json!(law)),
        1 => prop::collection::vec(select(vec!["face", "sun", "rain", "window"]), 0..9)
            .prop_map(|names| json!(names)),
    ]
}

/// Every place of a value that holds no other, as a JSON pointer.
fn leaves(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(group) => group.iter().for_each(|(name, value)| {
            let name = name.replace('~', "~0").replace('/', "~1");
            leaves(value, &format!("{at}/{name}"), found);
        }),
        Value::Array(list) => list.iter().enumerate().for_each(|(place, value)| {
            leaves(value, &format!("{at}/{place}"), found);
        }),
        _ => found.push(at.to_string()),
    }
}

/// A pattern with another value in some places: anything anywhere, or, so that
/// many can still be sewn, a number where a number was.
fn wild(base: &str, changes: &[(Index, Value, u32)]) -> String {
    let mut pattern: Value = serde_json::from_str(base).expect("a pattern");
    for (which, value, size) in changes {
        let mut found = vec![];
        leaves(&pattern, "", &mut found);
        let is_number =
            |at: &String| at != "/threadmark" && pattern.pointer(at).is_some_and(Value::is_number);
        let numbers: Vec<String> = found.iter().filter(|at| is_number(at)).cloned().collect();
        let (places, value) = match size % 4 > 0 && !numbers.is_empty() {
            true => (&numbers, json!(size)),
            false => (&found, value.clone()),
        };
        let at = which.get::<String>(places);
        *pattern.pointer_mut(at).expect("a place") = value;
    }
    pattern.to_string()
}

fn change() -> impl Strategy<Value = (Index, Value, u32)> {
    (
        any::<Index>(),
        value(),
        prop_oneof![4 => 1..24_u32, 1 => 1..1_001_u32],
    )
}

proptest! {
    #![proptest_config(cases(2_000))]

    #[test]
    fn a_pattern_with_wild_values_is_refused_or_sewn(
        base in select(bases()),
        changes in prop::collection::vec(change(), 1..6),
    ) {
        let text = wild(&base, &changes);
        goes_through(text.as_bytes()).map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?;
    }
}

/// All sizes set as large and as small as the format lets them be, together and
/// one by one.
#[test]
fn the_largest_that_can_be_written_is_refused_or_sewn() {
    let sizes = [0, 1, 2, 3, 12, 40, 200, 577, 1000, 4_000_000];
    for base in bases() {
        let pattern: Value = serde_json::from_str(&base).expect("a pattern");
        let mut found = vec![];
        leaves(&pattern, "", &mut found);
        found.retain(|at| pattern.pointer(at).is_some_and(Value::is_number) && at != "/threadmark");
        let with = |places: &[String], size: i32| {
            let mut changed = pattern.clone();
            for at in places {
                *changed.pointer_mut(at).expect("a place") = json!(size);
            }
            changed.to_string()
        };
        let goes = |text: String| {
            let through = goes_through(text.as_bytes());
            through.unwrap_or_else(|error| panic!("{error}\n{text}"))
        };
        let mut sewn = 0;
        for (nth, at) in found.iter().enumerate() {
            // From each end, until one can be sewn.
            let one = |size: &i32| goes(with(std::slice::from_ref(at), *size));
            sewn += u32::from(sizes.iter().any(one)) + u32::from(sizes.iter().rev().any(one));
            // The first by itself is tried above.
            if nth > 0 {
                for size in sizes {
                    sewn += u32::from(goes(with(&found[..=nth], size)));
                }
            }
        }
        assert!(sewn > 0, "none can be sewn\n{base}");
    }
}

/// Patterns that once took long: a hole so wide that hundreds of threads lie in
/// it, and a ring of more tetrahedra than anybody sews.
#[test]
fn what_once_took_long_is_soon_worked_out() {
    let wide = |pattern: &mut Value| {
        pattern["beads"]["A"]["size"]["diameter_mm"] = json!(1000);
        pattern["beads"]["A"]["size"]["hole_mm"] = json!(999);
        pattern["thread"]["diameter_mm"] = json!(0.01);
        pattern["thread"]["cut_mm"] = json!(100_000);
    };
    let many = |pattern: &mut Value| {
        pattern["make"]["ring"] = json!(654);
        pattern["panels"]["face"]["rounds"] = json!(21);
    };
    let ring = bases()
        .into_iter()
        .find(|text| text.contains("\"ring\": 8, \"faces\": [\"face\"]"));
    let ring: Value = serde_json::from_str(&ring.expect("the ring")).expect("a pattern");
    let changes: [&dyn Fn(&mut Value); 2] = [&wide, &many];
    for change in changes {
        let mut pattern = ring.clone();
        change(&mut pattern);
        let through = goes_through(pattern.to_string().as_bytes());
        assert!(matches!(through, Ok(true)), "{through:?}\n{pattern}");
    }
}

/// No empty show: of the patterns gone wild some can be sewn, and some not.
#[test]
fn many_that_are_wild_can_be_sewn() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let given = (select(bases()), prop::collection::vec(change(), 1..4));
    let sewn = (0..300).filter(|_| {
        let (base, changes) = given.new_tree(&mut runner).expect("a case").current();
        goes_through(wild(&base, &changes).as_bytes()).expect("it goes through")
    });
    let sewn = sewn.count();
    assert!((25..275).contains(&sewn), "{sewn} of 300");
}
