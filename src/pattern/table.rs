//! A JSON object whose keys keep the order of the file.
//!
//! The order matters to makers: the first bead is the one that colours what
//! no word colours, and panels are listed as they were written.

use std::fmt;
use std::marker::PhantomData;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error, MapAccess, Visitor};
use serde::ser::{Serialize, Serializer};

use super::node::{EMPTY, GROUP, or_stand_in};

/// Names and what they stand for, in the order of the file; at least one.
#[derive(Clone, Debug, PartialEq)]
pub struct NameTable<T>(
    /// The entries.
    pub Vec<(String, T)>,
);

impl<T> NameTable<T> {
    /// The entries in order.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &T)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value))
    }
}

impl<T: Serialize> Serialize for NameTable<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.iter())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for NameTable<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let read = from.deserialize_map(Entries(PhantomData));
        or_stand_in(read, Vec::new()).map(NameTable)
    }
}

struct Entries<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
    type Value = Vec<(String, T)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(GROUP)
    }

    fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Self::Value, M::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        match entries.is_empty() {
            true => Err(M::Error::custom(EMPTY)),
            false => Ok(entries),
        }
    }
}

impl<T: JsonSchema> JsonSchema for NameTable<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        format!("Table_of_{}", T::schema_name()).into()
    }

    fn json_schema(of: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "object", "additionalProperties": of.subschema_for::<T>(), "minProperties": 1
        })
    }
}
