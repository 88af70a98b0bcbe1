//! The JSON Schema of the format, made from the types of [`super::file`].

use std::sync::LazyLock;

use schemars::generate::SchemaSettings;
use serde_json::Value;

use super::file::File;

/// The schema, in the draft that the schema itself names.
pub fn schema() -> Value {
    SchemaSettings::default()
        .into_generator()
        .into_root_schema_for::<File>()
        .to_value()
}

/// The schema, made once: every file is held against it.
pub(super) fn made_once() -> &'static Value {
    static MADE: LazyLock<Value> = LazyLock::new(schema);
    &MADE
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `THREADMARK_WRITE_SCHEMA=1 cargo test schema` writes the file anew.
    #[test]
    fn the_schema_in_the_docs_is_that_of_the_types() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/pattern.schema.json");
        let made = format!("{}\n", serde_json::to_string_pretty(&schema()).unwrap());
        if std::env::var_os("THREADMARK_WRITE_SCHEMA").is_some() {
            std::fs::write(path, &made).unwrap();
        }
        let kept = std::fs::read_to_string(path).unwrap();
        assert_eq!(kept, made, "THREADMARK_WRITE_SCHEMA=1 writes it anew");
    }
}
