//! Texts of a table that is built in and read once: they stay in memory as long
//! as the program runs.

use serde::{Deserialize, Deserializer};

/// Reads one text.
///
/// # Errors
/// It is no text.
pub fn text<'de, D: Deserializer<'de>>(from: D) -> Result<&'static str, D::Error> {
    Ok(String::deserialize(from)?.leak())
}

/// Reads a list of texts.
///
/// # Errors
/// It is no list of texts.
pub fn texts<'de, D: Deserializer<'de>>(from: D) -> Result<&'static [&'static str], D::Error> {
    let texts = Vec::<String>::deserialize(from)?;
    let texts = texts.into_iter().map(|text| &*text.leak());
    Ok(texts.collect::<Vec<_>>().leak())
}
