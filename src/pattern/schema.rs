//! The JSON Schema of the format, made from the types of [`super::file`].

use schemars::Schema;
use schemars::generate::SchemaSettings;
use schemars::transform::transform_subschemas;
use serde_json::{Value, json};

use super::file::File;
use super::node::FOR_OTHERS;

/// The schema, in the draft that it names itself.
pub fn schema() -> Value {
    let mut schema = SchemaSettings::default()
        .with_transform(without_null)
        .with_transform(with_fields_for_others)
        .into_generator()
        .into_root_schema_for::<File>();
    schema.insert("$id".into(), json!("urn:threadmark:pattern:1"));
    schema.to_value()
}

/// A field that can be left out is not written as null.
fn without_null(schema: &mut Schema) {
    let null = json!({ "type": "null" });
    for name in ["type", "anyOf", "enum"] {
        if let Some(Value::Array(kinds)) = schema.get_mut(name) {
            kinds.retain(|kind| !kind.is_null() && *kind != null && *kind != null["type"]);
        }
    }
    if let Some([only]) = schema
        .get("type")
        .and_then(Value::as_array)
        .map(Vec::as_slice)
    {
        let only = only.clone();
        schema.insert("type".into(), only);
    }
    if let Some([Value::Object(only)]) = schema
        .get("anyOf")
        .and_then(Value::as_array)
        .map(Vec::as_slice)
    {
        let only = only.clone();
        schema.remove("anyOf");
        schema.ensure_object().extend(only);
    }
    transform_subschemas(&mut without_null, schema);
}

/// A name that is nearly right is reported to the maker, here as in the reader,
/// so extra fields must have names of a special form.
fn with_fields_for_others(schema: &mut Schema) {
    if schema.get("additionalProperties") == Some(&json!(false)) {
        schema.insert("patternProperties".into(), json!({ FOR_OTHERS: true }));
    }
    transform_subschemas(&mut with_fields_for_others, schema);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `THREADMARK_WRITE_SCHEMA=1 cargo test schema` rewrites the file.
    #[test]
    fn the_schema_in_the_docs_agrees_with_the_types() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/pattern.schema.json");
        let made = format!("{}\n", serde_json::to_string_pretty(&schema()).unwrap());
        if std::env::var_os("THREADMARK_WRITE_SCHEMA").is_some() {
            std::fs::write(path, &made).unwrap();
        }
        let kept = std::fs::read_to_string(path).unwrap();
        assert_eq!(kept, made, "THREADMARK_WRITE_SCHEMA=1 rewrites it");
    }
}
