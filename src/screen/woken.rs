//! What wakes the program: keys, the mouse, signals, or the time.

use super::look::Ground;
use ratatui::crossterm::event::KeyEvent;
#[cfg(not(unix))]
use ratatui::crossterm::event::{MouseButton, MouseEvent, MouseEventKind};

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

/// What the maker touched, or what the terminal answered.
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
    /// Whether the terminal shows pictures: its answer, or no answer in time.
    Pictures(bool),
    /// What the terminal writes on: its answer.
    Ground(Ground),
}

#[cfg(not(unix))]
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
}

/// What is ready.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ready {
    Input,
    Nothing,
    Suspend,
    End,
}
