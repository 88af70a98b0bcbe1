//! Settings of a piece.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::plain::PlainText;

/// The names of settings that are saved with a piece. A setting of a newer
/// version is kept and does no harm.
pub struct Setting;

impl Setting {
    /// Pictures and directions are mirrored: a flag.
    pub const LEFT_HANDED: &'static str = "left-handed";
    /// The kinds of step for which the terminal's bell rings one step before:
    /// words, such as `decrease` or `step-down`.
    pub const BELL: &'static str = "bell";
    /// The beginner's tour is on: a flag.
    pub const TOUR: &'static str = "tour";
    /// The lessons that came up, each with its step: words, such as
    /// `step-up@9`.
    pub const TOUR_SHOWN: &'static str = "tour-shown";
}

/// The value of a setting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Value {
    /// On or off.
    Flag(bool),
    /// A whole number; the setting says of what.
    Number(i64),
    /// One text.
    Text(PlainText),
    /// Several words.
    Words(Vec<PlainText>),
    /// A value that this version does not know. No setting reads it.
    Unknown(serde_json::Value),
}

/// All settings of a piece, by name, and the maker's settings, which apply
/// where the piece has none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settings {
    own: BTreeMap<PlainText, Value>,
    maker: BTreeMap<PlainText, Value>,
}

impl Settings {
    pub(super) fn set(&mut self, name: &PlainText, value: &Value) {
        self.own.insert(name.clone(), value.clone());
    }

    pub(super) fn set_maker(&mut self, maker: &BTreeMap<PlainText, Value>) {
        self.maker = maker.clone();
    }

    /// The value of this name, if it was ever set.
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.own.get(name).or_else(|| self.maker.get(name))
    }

    /// Whether the piece has a setting of its own under this name.
    pub fn is_own(&self, name: &str) -> bool {
        self.own.contains_key(name)
    }

    /// Whether the flag of this name is on; off if it was never set.
    pub fn is_on(&self, name: &str) -> bool {
        matches!(self.get(name), Some(Value::Flag(true)))
    }

    /// The number of this name.
    pub fn number(&self, name: &str) -> Option<i64> {
        match self.get(name)? {
            Value::Number(n) => Some(*n),
            _ => None,
        }
    }

    /// The words of this name; `None` if they were never set, empty if they
    /// were set to none.
    pub fn words(&self, name: &str) -> Option<Vec<&str>> {
        match self.get(name)? {
            Value::Words(words) => Some(words.iter().map(PlainText::as_str).collect()),
            _ => None,
        }
    }

    /// Mirrored for the left hand.
    pub fn left_handed(&self) -> bool {
        self.is_on(Setting::LEFT_HANDED)
    }

    /// The kinds of step for which the bell rings, if they were ever set.
    pub fn bell(&self) -> Option<Vec<&str>> {
        self.words(Setting::BELL)
    }
}
