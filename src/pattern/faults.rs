//! Gathers what is wrong with a pattern while it is checked.

use super::error::{Fault, Kind, PatternErrors, Reading};
use super::field::Field;
use super::limit;
use super::nearest;
use super::source::Source;

/// What is wrong so far. After [`limit::ERRORS`] the rest is only counted.
pub(super) struct Faults<'s> {
    source: &'s Source<'s>,
    list: Vec<Fault>,
    more: usize,
}

impl<'s> Faults<'s> {
    pub(super) fn new(source: &'s Source<'s>) -> Self {
        Faults {
            source,
            list: Vec::new(),
            more: 0,
        }
    }

    /// Something is wrong with the value of a field.
    pub(super) fn add(&mut self, field: &Field, kind: impl Into<Kind>) {
        if self.full() {
            self.more += 1;
            return;
        }
        let at = self.source.value(field);
        self.list
            .push(Fault::at(at, field.to_string(), kind.into()));
    }

    /// Something is wrong with the name of a field.
    pub(super) fn add_name(&mut self, field: &Field, kind: impl Into<Kind>) {
        if self.full() {
            self.more += 1;
            return;
        }
        let at = self.source.name(field);
        self.list
            .push(Fault::at(at, field.to_string(), kind.into()));
    }

    /// Something is wrong with a field at a byte of the text.
    pub(super) fn add_byte(&mut self, byte: usize, field: &Field, kind: impl Into<Kind>) {
        if self.full() {
            self.more += 1;
            return;
        }
        let at = self.source.byte(byte);
        self.list
            .push(Fault::at(at, field.to_string(), kind.into()));
    }

    /// The name nearest to a wrong one. Nothing once the list is full, so that
    /// a file with many wrong names costs no more than one with few.
    pub(super) fn nearest<'n>(
        &self,
        wrong: &str,
        names: impl IntoIterator<Item = &'n str>,
    ) -> Option<String> {
        if self.full() {
            return None;
        }
        nearest::nearest(wrong, names).map(str::to_string)
    }

    /// Whether one more would only be counted: then its cause need not be
    /// looked for.
    pub(super) fn full(&self) -> bool {
        self.list.len() >= limit::ERRORS
    }

    /// Counts one more without saying what it is, when the list is full.
    pub(super) fn count(&mut self) {
        self.more += 1;
    }

    /// Whether nothing is wrong.
    pub(super) fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// How much is wrong.
    pub(super) fn len(&self) -> usize {
        self.list.len() + self.more
    }

    /// The value, unless something is wrong; what is wrong, in order of the
    /// file.
    pub(super) fn or<T>(mut self, file: &str, value: Option<T>) -> Result<T, PatternErrors> {
        match value {
            Some(value) if self.list.is_empty() => Ok(value),
            _ => {
                if self.list.is_empty() {
                    let reason = "nothing can be made of it".to_string();
                    self.add(&Field::Top, Reading::Other(reason));
                }
                self.list.sort_by_key(|fault| fault.position);
                Err(PatternErrors::new(file, self.list, self.more))
            }
        }
    }
}
