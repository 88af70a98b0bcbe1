//! A list filtered to the lines that contain the letters typed.

use super::TextEntry;
use crate::screen::keys;
use crate::screen::look::Look;
use ratatui::crossterm::event::{KeyCode, KeyEvent};
use ratatui::text::Line;

/// The letters that lines must contain, while they are typed and afterwards.
#[derive(Debug, Default)]
pub struct Filter {
    entry: Option<TextEntry>,
}

impl Filter {
    /// Whether letters are being typed.
    pub fn is_open(&self) -> bool {
        self.entry.is_some()
    }

    /// Whether a line belongs in the list; upper and lower case are the same.
    pub fn fits(&self, words: &str) -> bool {
        let typed = self.entry.as_ref().map(|entry| entry.typed.to_lowercase());
        typed.is_none_or(|typed| words.to_lowercase().contains(typed.trim()))
    }

    /// Handles a key; returns whether it belongs to the filter.
    pub fn input(&mut self, event: &KeyEvent) -> bool {
        let opens = keys::FINDING.find(event).is_some();
        match &mut self.entry {
            None if opens => self.entry = Some(TextEntry::text(40)),
            None => return false,
            Some(_) if event.code == KeyCode::Esc => self.entry = None,
            Some(entry) if entry.typed.is_empty() && keys::TYPING.find(event).is_some() => {
                self.entry = None;
            }
            Some(entry) => return entry.input(event),
        }
        true
    }

    /// What is typed so far.
    pub fn line(&self, look: Look) -> Option<Line<'static>> {
        let entry = self.entry.as_ref()?;
        Some(entry.line(look, "Lines with:"))
    }
}
