//! The four directions on a screen.

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScreenDirection {
    Left,
    Right,
    Up,
    Down,
}
