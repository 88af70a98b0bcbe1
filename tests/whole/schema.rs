//! The promised shapes of JSON output: the schemas in docs/outputs/.

use std::path::PathBuf;

use jsonschema::Validator;
use serde_json::Value;

/// A schema, ready to hold lines against.
pub struct Schema {
    name: String,
    validator: Validator,
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
    let validator = jsonschema::validator_for(&schema).expect("a schema is a schema");
    let name = name.to_string();
    Schema { name, validator }
}

impl Schema {
    /// The object of a line, if it has the promised shape.
    #[track_caller]
    pub fn read(&self, line: &str) -> Value {
        let object: Value =
            serde_json::from_str(line).unwrap_or_else(|error| panic!("not JSON: {error}: {line}"));
        let faults: Vec<String> = self
            .validator
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
