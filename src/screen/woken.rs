//! What wakes the program: keys, the mouse, signals, or the time.

use ratatui::crossterm::event::{
    KeyCode, KeyEvent, KeyModifiers, MouseButton, MouseEvent, MouseEventKind,
};

/// What woke the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Woken {
    /// Keys and clicks, in order, and perhaps a new size.
    Input(Vec<Touch>),
    /// The time asked for has passed.
    Waited,
    /// Go into the background.
    Suspend,
    /// The system asks the program to end, or the terminal is gone.
    End,
}

/// What the maker touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Touch {
    /// A key.
    Key(KeyEvent),
    /// A click on a cell: its column and its row, from 0.
    Click(u16, u16),
    /// The mouse at a cell with its button held.
    Drag(u16, u16),
    /// The wheel, up or down.
    Wheel(bool),
}

impl Touch {
    /// What the mouse did, if it is of use.
    pub(super) fn of(mouse: MouseEvent) -> Option<Touch> {
        match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Touch::Click(mouse.column, mouse.row)),
            MouseEventKind::Drag(MouseButton::Left) => Some(Touch::Drag(mouse.column, mouse.row)),
            MouseEventKind::ScrollUp => Some(Touch::Wheel(true)),
            MouseEventKind::ScrollDown => Some(Touch::Wheel(false)),
            _ => None,
        }
    }

    /// Keys from the bytes that a terminal sends for them: letters, Enter,
    /// Tab, Backspace, Ctrl and a letter, the arrows. Other keys are few, and
    /// left out.
    pub(super) fn typed(bytes: &[u8]) -> Vec<Touch> {
        let key = |code, held| Touch::Key(KeyEvent::new(code, held));
        let plain = |code| key(code, KeyModifiers::NONE);
        let mut typed = vec![];
        let mut left = bytes;
        while let Some((&first, rest)) = left.split_first() {
            left = rest;
            typed.push(match (first, rest) {
                (0x1b, [b'[' | b'O', way @ b'A'..=b'D', ..]) => {
                    left = &rest[2..];
                    let ways = [KeyCode::Up, KeyCode::Down, KeyCode::Right, KeyCode::Left];
                    plain(ways[usize::from(way - b'A')])
                }
                (0x1b, [b'[' | b'O', ..]) => {
                    let long = rest[1..].iter().position(|b| (0x40..=0x7e).contains(b));
                    left = &rest[long.map_or(rest.len(), |long| long + 2)..];
                    continue;
                }
                (0x1b, _) => plain(KeyCode::Esc),
                (b'\r', _) => plain(KeyCode::Enter),
                (b'\t', _) => plain(KeyCode::Tab),
                (0x7f, _) => plain(KeyCode::Backspace),
                (1..=26, _) => {
                    let letter = char::from(first - 1 + b'a');
                    key(KeyCode::Char(letter), KeyModifiers::CONTROL)
                }
                (b' '..=b'~', _) => plain(KeyCode::Char(char::from(first))),
                _ => continue,
            });
        }
        typed
    }
}

/// What is ready.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ready {
    Input,
    Nothing,
    Suspend,
    End,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_read_from_what_a_terminal_sends() {
        let codes = |bytes: &[u8]| -> Vec<KeyCode> {
            let of = |touch: Touch| match touch {
                Touch::Key(key) => key.code,
                other => panic!("{other:?}"),
            };
            Touch::typed(bytes).into_iter().map(of).collect()
        };
        use KeyCode::{Backspace, Char, Enter, Esc, Left, Up};
        assert_eq!(codes(b" j\r\x7f"), [Char(' '), Char('j'), Enter, Backspace]);
        assert_eq!(codes(b"\x1b[A\x1bOD\x1b"), [Up, Left, Esc]);
        assert_eq!(codes(b"\x1b[5~x"), [Char('x')]);
        let stop = Touch::Key(KeyEvent::new(Char('c'), KeyModifiers::CONTROL));
        assert_eq!(Touch::typed(b"\x03"), [stop]);
    }
}
