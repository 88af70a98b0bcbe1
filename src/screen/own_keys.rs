//! The maker's own keys: one key does the work of another, for example a foot
//! pedal. They are stored as words, `End as space`.

use super::keys;
use crate::progress::{PlainText, Settings, Value};
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// The name of the setting that stores them.
pub const SETTING: &str = "keys";

/// One of the maker's own keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OwnKey {
    pub pressed: KeyCode,
    /// The key whose work it does.
    pub stands_for: KeyCode,
}

impl OwnKey {
    /// Reads `End as space`. Esc cannot be changed.
    fn read(words: &str) -> Option<OwnKey> {
        let (pressed, stands_for) = words.split_once(" as ")?;
        let (pressed, stands_for) = (keys::code(pressed)?, keys::code(stands_for)?);
        (pressed != KeyCode::Esc).then_some(OwnKey {
            pressed,
            stands_for,
        })
    }

    /// In the words that are stored, if both keys have names.
    pub fn words(self) -> Option<String> {
        let (pressed, stands_for) = (keys::name(self.pressed)?, keys::name(self.stands_for)?);
        Some(format!("{pressed} as {stands_for}"))
    }
}

/// The keys that are set.
pub fn all(settings: &Settings) -> Vec<OwnKey> {
    let Some(Value::Words(words)) = settings.get(SETTING) else {
        return vec![];
    };
    words
        .iter()
        .filter_map(|words| OwnKey::read(words.as_str()))
        .collect()
}

/// These keys and a new one, as they are stored; a key that stands for itself
/// is removed.
pub fn with(settings: &Settings, new: OwnKey) -> Value {
    let mut all = all(settings);
    all.retain(|key| key.pressed != new.pressed);
    all.extend((new.pressed != new.stands_for).then_some(new));
    let words = all.into_iter().filter_map(OwnKey::words);
    Value::Words(words.map(|words| PlainText::new(&words)).collect())
}

/// The key whose work a pressed key does: its own, unless the maker has given
/// it another's.
pub fn stands_for(settings: &Settings, event: KeyEvent) -> KeyEvent {
    let held = KeyModifiers::CONTROL | KeyModifiers::ALT;
    let own = all(settings)
        .into_iter()
        .find(|key| key.pressed == event.code);
    match own {
        Some(own) if !event.modifiers.intersects(held) => own.stands_for.into(),
        _ => event,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_again() {
        for (pressed, stands_for) in [
            (KeyCode::PageDown, KeyCode::Char(' ')),
            (KeyCode::F(9), KeyCode::Backspace),
            (KeyCode::Char('='), KeyCode::Char('a')),
            (KeyCode::Char(' '), KeyCode::End),
        ] {
            let key = OwnKey {
                pressed,
                stands_for,
            };
            assert_eq!(OwnKey::read(&key.words().unwrap()), Some(key));
        }
        for words in ["Esc as space", "space", "Hyper as space", ""] {
            assert_eq!(OwnKey::read(words), None, "{words}");
        }
    }
}
