//! The promised shapes of JSON output: the schemas in docs/outputs/.

use std::path::PathBuf;

use jsonschema::Validator;
use serde_json::Value;

/// A schema, ready to hold lines against.
pub struct Schema {
    name: String,
    /// As others read it: fields may be added.
    validator: Validator,
    /// As our own lines must be: without a field that the schema does not name.
    strict: Validator,
}

/// Where the documents lie.
pub fn docs() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("docs")
}

/// The schema `docs/outputs/NAME.schema.json`.
pub fn named(name: &str) -> Schema {
    let path = docs().join(format!("outputs/{name}.schema.json"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path:?}: {e}"));
    let schema: Value = serde_json::from_str(&text).expect("a schema is JSON");
    let validator = |schema| jsonschema::validator_for(schema).expect("a schema is a schema");
    let mut strict = schema.clone();
    forbid_more(&mut strict);
    Schema {
        name: name.to_string(),
        validator: validator(&schema),
        strict: validator(&strict),
    }
}

/// Allows no fields but those that are named.
fn forbid_more(schema: &mut Value) {
    match schema {
        Value::Object(fields) => {
            fields.values_mut().for_each(forbid_more);
            if fields.get("properties").is_some_and(Value::is_object)
                && !fields.contains_key("additionalProperties")
            {
                fields.insert("additionalProperties".into(), false.into());
            }
        }
        Value::Array(each) => each.iter_mut().for_each(forbid_more),
        _ => {}
    }
}

impl Schema {
    /// The object of a line, if it has the promised shape.
    #[track_caller]
    pub fn read(&self, line: &str) -> Value {
        let object: Value =
            serde_json::from_str(line).unwrap_or_else(|error| panic!("not JSON: {error}: {line}"));
        let faults: Vec<String> = self
            .strict
            .iter_errors(&object)
            .map(|fault| fault.to_string())
            .collect();
        assert!(
            faults.is_empty(),
            "not a {} line: {faults:?}\n{line}",
            self.name
        );
        object
    }

    /// Whether a value has the promised shape.
    pub fn takes(&self, object: &Value) -> bool {
        self.validator.is_valid(object)
    }
}
