//! The maker's settings for all pieces: a JSON file in the platform's directory
//! for configuration, with the names that a journal has for settings.
//!
//! ```json
//! {
//!   "bell": ["decrease"],
//!   "left-handed": true,
//!   "unit": "in"
//! }
//! ```
//!
//! A setting of the piece itself has priority.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use super::error::Error;
use super::plain::PlainText;
use super::setting::{Settings, Value};
use crate::atomic_file;
use crate::plain_file;

/// The most bytes that the file may have.
const MAX_BYTES: u64 = 64 << 10;

/// A setting: its name, what it accepts in words, and a test for a value.
type SettingRule = (&'static str, &'static str, fn(&Value) -> bool);

/// All settings.
const SETTINGS: [SettingRule; 9] = [
    ("bell", "a list of movements in quotes", |v| {
        matches!(v, Value::Words(_))
    }),
    (
        "colours",
        "\"auto\", \"true\", \"256\", \"16\" or \"none\"",
        |v| is_one_of(v, &["auto", "true", "256", "16", "none"]),
    ),
    ("ground", "\"auto\", \"light\" or \"dark\"", |v| {
        is_one_of(v, &["auto", "light", "dark"])
    }),
    (
        "keys",
        "a list such as [\"End as space\"]",
        |v| matches!(v, Value::Words(words) if words.iter().all(|w| w.as_str().contains(" as "))),
    ),
    ("left-handed", "true or false", |v| {
        matches!(v, Value::Flag(_))
    }),
    ("rest-reminder", "minutes, 0 for none", is_count),
    ("say", "a command in quotes", |v| {
        matches!(v, Value::Text(_))
    }),
    ("spare-percent", "a percentage from 0", is_count),
    ("unit", "\"mm\" or \"in\"", |v| is_one_of(v, &["mm", "in"])),
];

fn is_one_of(value: &Value, words: &[&str]) -> bool {
    matches!(value, Value::Text(text) if words.contains(&text.as_str()))
}

fn is_count(value: &Value) -> bool {
    matches!(value, Value::Number(0..))
}

/// The maker's settings, and the file that keeps them.
#[derive(Clone, Debug)]
pub struct MakerSettings {
    path: PathBuf,
    values: BTreeMap<PlainText, Value>,
}

impl MakerSettings {
    /// Reads the file; if it is missing, nothing is set.
    ///
    /// # Errors
    /// [`Error::BadSettings`], or the error of reading the file.
    pub fn open(path: &Path) -> Result<MakerSettings, Error> {
        let read = plain_file::read_own(path, MAX_BYTES).map_err(Error::reading(path))?;
        let values = match read {
            Some(bytes) => values(path, &bytes)?,
            None => BTreeMap::new(),
        };
        let path = path.into();
        Ok(MakerSettings { path, values })
    }

    /// What is set, by name.
    pub fn values(&self) -> &BTreeMap<PlainText, Value> {
        &self.values
    }

    /// The settings without those of a piece.
    pub fn settings(&self) -> Settings {
        let mut settings = Settings::default();
        settings.set_maker(&self.values);
        settings
    }

    /// The text under this name.
    pub fn text(&self, name: &str) -> Option<&str> {
        match self.values.get(&PlainText::new(name)) {
            Some(Value::Text(text)) => Some(text.as_str()),
            _ => None,
        }
    }

    /// Sets one. Settings that another program has changed meanwhile stay.
    ///
    /// # Errors
    /// The file cannot be read or written; it stays as it was.
    pub fn set(&mut self, name: &str, value: Value) -> Result<(), Error> {
        let mut now = MakerSettings::open(&self.path)?;
        now.values.insert(PlainText::new(name), value);
        let mut text = serde_json::to_vec_pretty(&now.values)
            .map_err(|error| Error::io("cannot write", &self.path)(io::Error::from(error)))?;
        text.push(b'\n');
        let failed = || Error::io("cannot write", &self.path);
        if let Some(dir) = self.path.parent() {
            std::fs::create_dir_all(dir).map_err(failed())?;
        }
        atomic_file::write(&self.path, &text).map_err(failed())?;
        *self = now;
        Ok(())
    }
}

fn values(path: &Path, bytes: &[u8]) -> Result<BTreeMap<PlainText, Value>, Error> {
    let bad = |line: usize, what: String| Error::BadSettings {
        path: path.into(),
        line,
        what,
    };
    let read: BTreeMap<PlainText, Value> =
        serde_json::from_slice(bytes).map_err(|error| bad(error.line(), error.to_string()))?;
    let text = String::from_utf8_lossy(bytes);
    for (name, value) in &read {
        let name = name.as_str();
        let at = text.find(&format!("\"{name}\"")).unwrap_or(0);
        let line = text[..at].matches('\n').count() + 1;
        let rule = SETTINGS.iter().find(|(own, ..)| *own == name);
        let Some((_, takes, fits)) = rule else {
            let names: Vec<&str> = SETTINGS.iter().map(|(own, ..)| *own).collect();
            let what = format!(
                "no setting is called '{name}'; there are {}",
                names.join(", ")
            );
            return Err(bad(line, what));
        };
        if !fits(value) {
            return Err(bad(line, format!("{name}: expected {takes}")));
        }
    }
    Ok(read)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> String {
        let error = values(Path::new("settings.json"), text.as_bytes());
        error.unwrap_err().to_string()
    }

    #[test]
    fn a_wrong_setting_is_refused_with_its_line() {
        assert_eq!(
            refused("{\n  \"unit\": \"ell\"\n}"),
            "settings.json:2: unit: expected \"mm\" or \"in\""
        );
        assert!(refused("{\"units\": \"mm\"}").contains("no setting is called 'units'"));
        assert!(refused("{\n\"unit\": }").starts_with("settings.json:2: "));
        assert!(refused("{\"rest-reminder\": -1}").contains("expected minutes"));
    }

    #[test]
    fn settings_that_another_program_set_stay() {
        let dir = tempfile::TempDir::new().unwrap();
        let path = dir.path().join("config/settings.json");
        let mut mine = MakerSettings::open(&path).unwrap();
        let mut other = MakerSettings::open(&path).unwrap();
        other.set("left-handed", Value::Flag(true)).unwrap();
        let inches = Value::Text(PlainText::new("in"));
        mine.set("unit", inches.clone()).unwrap();
        let again = MakerSettings::open(&path).unwrap();
        let all: Vec<_> = again.values().values().cloned().collect();
        assert_eq!(all, [Value::Flag(true), inches]);
    }
}
