//! Whatever the input, the reader answers.

use std::sync::LazyLock;

use proptest::prelude::*;
use serde_json::{Value, json};

use super::round_trip::BY_HAND;
use super::{LANTERN, making};
use crate::pattern::{json as source, read, schema};

fn answers(bytes: &[u8]) -> Result<(), TestCaseError> {
    let told = read::read("x.json", bytes).map_err(|errors| errors.to_string());
    if let Err(told) = told {
        let controls = told.chars().any(|c| c.is_control() && c != '\n');
        prop_assert!(!controls, "{told:?}");
        prop_assert!(told.len() < 40_000);
    }
    Ok(())
}

/// Every place of a value, as a JSON pointer.
fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    found.push(at.to_string());
    match value {
        Value::Object(group) => {
            for (name, value) in group {
                let name = name.replace('~', "~0").replace('/', "~1");
                places(value, &format!("{at}/{name}"), found);
            }
        }
        Value::Array(list) => {
            for (place, value) in list.iter().enumerate() {
                places(value, &format!("{at}/{place}"), found);
            }
        }
        _ => {}
    }
}

fn scalar() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        (-3_i64..70).prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        // Never whole: the schema accepts 3.0 as a whole number, and we do not.
        any::<i32>().prop_map(|n| json!(f64::from(n) + 0.5)),
        any::<f64>().prop_map(|x| json!(x * 1e-3 + 1e-9)),
        "\\PC{0,8}".prop_map(Value::from),
        "[AS0-9 ()*|/:,-]{0,24}".prop_map(Value::from),
        "(all|[1-9]|[1-9]-[1-9]): ?[AS*0-9()/| ]{0,16}".prop_map(Value::from),
        "[\\x00-\\x1f\u{80}-\u{9f}\u{202e}a]{0,8}".prop_map(Value::from),
        prop::sample::select(vec![
            "face", "window", "left", "right", "inward", "fill", "cube", "points", "#fff", "2*3",
        ])
        .prop_map(Value::from),
        Just(json!([])),
        Just(json!({})),
        Just(json!([[[[1]]]])),
        Just(json!({"panel": "face", "side": 1})),
    ]
}

#[derive(Clone, Debug)]
enum Change {
    Put(Value),
    Remove,
    Rename(String),
    Double,
    CopyOf(prop::sample::Index),
}

fn change() -> impl Strategy<Value = Change> {
    prop_oneof![
        4 => scalar().prop_map(Change::Put),
        2 => Just(Change::Remove),
        1 => "[a-z]{1,7}|as|with|row|open|x-[a-z]{0,3}|\\$schema|\\PC{0,3}".prop_map(Change::Rename),
        1 => Just(Change::Double),
        2 => any::<prop::sample::Index>().prop_map(Change::CopyOf),
    ]
}

fn changed(mut value: Value, which: prop::sample::Index, change: &Change) -> Value {
    let mut found = Vec::new();
    places(&value, "", &mut found);
    let at = which.get(&found).clone();
    let (parent, name) = match at.rsplit_once('/') {
        Some((parent, name)) => (
            parent.to_string(),
            name.replace("~1", "/").replace("~0", "~"),
        ),
        None => (String::new(), String::new()),
    };
    let here = value.pointer(&at).cloned().unwrap_or_default();
    match change {
        Change::Put(new) => *value.pointer_mut(&at).unwrap() = new.clone(),
        Change::CopyOf(other) => {
            let copy = value.pointer(other.get::<String>(&found)).cloned().unwrap();
            *value.pointer_mut(&at).unwrap() = copy;
        }
        _ => match value.pointer_mut(&parent).unwrap() {
            Value::Object(group) => match change {
                Change::Remove => {
                    group.remove(&name);
                }
                Change::Rename(new) => {
                    group.remove(&name);
                    group.insert(new.clone(), here);
                }
                _ => {
                    group.insert(format!("{name}2"), here);
                }
            },
            Value::Array(list) => {
                let place: usize = name.parse().unwrap_or(0);
                match change {
                    Change::Remove if place < list.len() => {
                        list.remove(place);
                    }
                    _ => list.push(here),
                }
            }
            _ => {}
        },
    }
    value
}

/// A general library's reading of the published schema.
static JUDGE: LazyLock<jsonschema::Validator> =
    LazyLock::new(|| jsonschema::validator_for(&schema()).unwrap());

fn mutated() -> impl Strategy<Value = Value> {
    let bases = [
        LANTERN.to_string(),
        making(BY_HAND),
        making(r#"{"ring": 8, "faces": ["face"], "close": "fill", "tips": 1}"#),
        making(r#"{"folded-pair": ["face"], "close": [{"how": "open"}, {"how": "open"}]}"#),
    ];
    let bases = bases.map(|text| serde_json::from_str::<Value>(&text).unwrap());
    let changes = prop::collection::vec((any::<prop::sample::Index>(), change()), 1..4);
    (prop::sample::select(bases.to_vec()), changes).prop_map(|(base, changes)| {
        changes.iter().fold(base, |value, (which, change)| {
            changed(value, *which, change)
        })
    })
}

proptest! {
    #[test]
    fn any_bytes_are_answered(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        answers(&bytes)?;
    }

    #[test]
    fn any_text_of_json_characters_is_answered(text in "[\\[\\]{}:,\"\\\\ntrue0-9.eE+-]{0,200}") {
        answers(text.as_bytes())?;
    }

    #[test]
    fn a_pattern_with_bytes_changed_is_answered(
        at in 0..LANTERN.len(),
        cut in 0_usize..40,
        new in prop::collection::vec(any::<u8>(), 0..20),
    ) {
        let mut bytes = LANTERN.as_bytes().to_vec();
        let end = (at + cut).min(bytes.len());
        bytes.splice(at..end, new);
        answers(&bytes)?;
    }

    #[test]
    fn a_pattern_with_parts_changed_is_answered(value in mutated()) {
        answers(value.to_string().as_bytes())?;
    }

    /// A general library checks the published schema: what it accepts we
    /// accept, and what it refuses we refuse.
    #[test]
    fn our_reading_of_the_schema_agrees_with_a_general_library(value in mutated()) {
        let text = value.to_string();
        let source = source::parse("x.json", &text).unwrap();
        let file = read::file(&source);
        let problems = source.or_problems(Some(()));
        prop_assert_eq!(problems.is_ok(), JUDGE.is_valid(&value), "{}\n{:?}", text, problems);
        prop_assert_eq!(file.is_some(), problems.is_ok());
    }
}

/// The list is cut short, and says by how much.
#[test]
fn twenty_faults_are_reported_and_the_rest_counted() {
    let text = LANTERN.replace("\"all: S*\"", &vec!["\"all: Q*\""; 30].join(", "));
    let errors = read::read("x.json", text.as_bytes()).unwrap_err();
    assert_eq!((errors.list.len(), errors.more), (20, 10));
    assert!(
        errors
            .to_string()
            .ends_with("\nand 10 more; mend these first")
    );
}
