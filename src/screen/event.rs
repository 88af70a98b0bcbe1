//! What wakes the program: keys, the mouse, signals, or the time.

use super::look::Ground;
use ratatui::crossterm::event::KeyEvent;
#[cfg(not(unix))]
use ratatui::crossterm::event::{MouseButton, MouseEvent, MouseEventKind};

/// What woke the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ScreenEvent {
    /// Keys and clicks, in order, and perhaps a new size.
    Input(Vec<Input>),
    /// The time asked for has passed.
    Waited,
    /// Go into the background.
    #[cfg(unix)]
    Suspend,
    /// The system asks the program to end, or the terminal is closed.
    #[cfg(unix)]
    End,
}

/// What the maker did, or what the terminal answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    Key(KeyEvent),
    /// A click on a cell: its column and its row, from 0.
    Click(u16, u16),
    /// The mouse at a cell with its button held.
    Drag(u16, u16),
    /// The wheel, up or down.
    Wheel(bool),
    /// Whether the terminal shows pictures: its answer, or no answer in time.
    Pictures(bool),
    /// The terminal's background: its answer.
    Ground(Ground),
}

#[cfg(not(unix))]
impl Input {
    /// What the mouse did, if it matters here.
    pub(super) fn of(mouse: MouseEvent) -> Option<Input> {
        match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Input::Click(mouse.column, mouse.row)),
            MouseEventKind::Drag(MouseButton::Left) => Some(Input::Drag(mouse.column, mouse.row)),
            MouseEventKind::ScrollUp => Some(Input::Wheel(true)),
            MouseEventKind::ScrollDown => Some(Input::Wheel(false)),
            _ => None,
        }
    }
}

/// What is ready to be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ready {
    Input,
    Nothing,
    #[cfg(unix)]
    Suspend,
    #[cfg(unix)]
    End,
}
