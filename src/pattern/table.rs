//! A JSON object whose keys keep the order of the file.
//!
//! The order matters to makers: the first bead is the one that colours what
//! no word colours, and panels are listed as they were written.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};
use serde::ser::{Serialize, Serializer};

/// Names and what they stand for, in the order of the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Table<T>(
    /// The entries.
    pub Vec<(String, T)>,
);

impl<T> Table<T> {
    /// The entries in order.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &T)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value))
    }
}

impl<T: Serialize> Serialize for Table<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.iter())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Table<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_map(Entries(PhantomData))
    }
}

struct Entries<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
    type Value = Table<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a group in { }")
    }

    fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Table<T>, M::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        Ok(Table(entries))
    }
}
