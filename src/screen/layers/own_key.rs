//! A key of the maker's own: the next key pressed, then the key whose work it
//! should do.

use crate::screen::event::Input;
use crate::screen::keys::{self, keys, opener};
use crate::screen::layer::{Context, Flow, Layer, Opener};
use crate::screen::own_keys::{self, OwnKey, SETTING};
use ratatui::crossterm::event::KeyCode;
use ratatui::text::Line;

/// How it is opened, from the settings.
pub const fn opener<C: Context>() -> Opener<C> {
    opener!(C; "own key" "" [] "" |_, _| Flow::open(OwnKeyAsked::default()); OwnKeyAsked)
}

/// Asks for two keys.
#[derive(Default)]
pub struct OwnKeyAsked {
    pressed: Option<KeyCode>,
}

impl<C: Context> Layer<C> for OwnKeyAsked {
    keys! { C, "A key of your own";
        ~ "any_key" [] "the key to be used, then the key whose work it does; the same key twice gives it back its own"
    }

    fn lines(&self, _context: &C) -> Vec<Line<'static>> {
        let words = match self.pressed.and_then(keys::name) {
            None => {
                "Press the key that you want to use, for example that of a pedal. Esc: none.".into()
            }
            Some(pressed) => format!(
                "{pressed}: now press the key whose work it does; {pressed} again gives it back its own."
            ),
        };
        vec![Line::from(words)]
    }

    fn is_box(&mut self) -> bool {
        true
    }

    fn takes_every_key(&self) -> bool {
        true
    }

    fn opens(&self, _screen: &str) -> bool {
        false
    }

    fn other(&mut self, input: Input, context: &mut C) -> Option<Flow<C>> {
        let Input::Key(event) = input else {
            return None;
        };
        let code = event.code;
        match (self.pressed, keys::name(code)) {
            (None, _) if code == KeyCode::Esc => None,
            (_, None) => {
                context.tell("This key has no name here, so it cannot be used.");
                Some(Flow::Stay)
            }
            (None, Some(_)) => {
                self.pressed = Some(code);
                Some(Flow::Stay)
            }
            (Some(pressed), Some(stands_for)) => {
                let key = OwnKey {
                    pressed,
                    stands_for: code,
                };
                let value = own_keys::with(context.settings(), key);
                let pressed = keys::name(pressed).unwrap_or_default();
                let said = match pressed == stands_for {
                    true => format!("{pressed} does its own work again."),
                    false => format!("{pressed} does the work of {stands_for} now."),
                };
                let failed = context.set_for_all(SETTING, value);
                context.tell(&failed.unwrap_or(said));
                Some(Flow::Close)
            }
        }
    }
}
