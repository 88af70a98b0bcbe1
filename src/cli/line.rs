//! JSON lines: one object a line, which begins with the version of the format.

use std::borrow::Cow;
use std::io::{self, Write};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};

/// The version of all formats in docs/outputs.md. It is the first field of
/// every object, so that each line can be read alone.
pub(super) struct Format;

impl Format {
    pub(super) const VERSION: u8 = 1;
}

impl Serialize for Format {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_u8(Format::VERSION)
    }
}

impl JsonSchema for Format {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Format".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "const": Format::VERSION })
    }
}

/// Writes objects, one a line.
pub(super) struct Lines<'out> {
    out: &'out mut dyn Write,
    /// The buffer of a line, reused for the next.
    line: Vec<u8>,
}

impl<'out> Lines<'out> {
    pub(super) fn new(out: &'out mut dyn Write) -> Self {
        let line = Vec::with_capacity(512);
        Lines { out, line }
    }

    /// Writes an object on a line of its own.
    ///
    /// # Errors
    /// The output cannot be written.
    pub(super) fn write(&mut self, object: &impl Serialize) -> io::Result<()> {
        self.line.clear();
        serde_json::to_writer(&mut self.line, object)?;
        self.line.push(b'\n');
        self.out.write_all(&self.line)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli;
    use schemars::generate::SchemaSettings;
    use serde_json::json;

    fn schema<T: JsonSchema>() -> Schema {
        let settings = SchemaSettings::default().for_serialize();
        settings.into_generator().into_root_schema_for::<T>()
    }

    /// `THREADMARK_WRITE_SCHEMA=1 cargo test schema` rewrites the files.
    #[test]
    fn the_schemas_of_outputs_in_the_docs_are_those_of_the_types() {
        for (name, mut schema) in [
            ("beads", schema::<cli::beads::BeadLine>()),
            ("check", schema::<cli::check::CheckLine>()),
            ("days", schema::<cli::pieces::DayLine>()),
            ("draft", schema::<cli::draft::DraftLine>()),
            ("error", schema::<cli::failure::ErrorLine>()),
            ("locate", schema::<cli::locate::ResultLine>()),
            ("patterns", schema::<cli::patterns::PatternLine>()),
            ("plan", schema::<crate::plan::json::PlanObject>()),
            ("pieces", schema::<cli::pieces::PieceLine>()),
            ("picture", schema::<cli::picture::PictureLine>()),
            ("rounds", schema::<cli::rounds::RoundLine>()),
            ("sheet", schema::<cli::sheet::SheetLine>()),
            ("steps", schema::<cli::step_line::tests::StepLine>()),
            ("verify", schema::<cli::verify::ReportLine>()),
        ] {
            let id = format!("urn:threadmark:outputs:{name}:{}", Format::VERSION);
            schema.insert("$id".into(), json!(id));
            let dir = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/outputs");
            let path = format!("{dir}/{name}.schema.json");
            let made = format!("{}\n", serde_json::to_string_pretty(&schema).unwrap());
            if std::env::var_os("THREADMARK_WRITE_SCHEMA").is_some() {
                std::fs::write(&path, &made).unwrap();
            }
            let kept = std::fs::read_to_string(&path).unwrap();
            assert_eq!(kept, made, "THREADMARK_WRITE_SCHEMA=1 rewrites {name}");
        }
    }
}
