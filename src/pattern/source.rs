//! A pattern's text as JSON, with the place of every value in it, and
//! everything found wrong so far.

use std::cell::{Cell, RefCell};
use std::fmt;

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::limit;
use crate::problem::{self, Position, Problem, Problems, shown};

/// A pattern that is valid JSON; nothing else is known about it.
pub(super) struct Source<'t> {
    file: &'t str,
    text: &'t str,
    /// The outermost value.
    pub(super) top: Value<'t>,
    problems: RefCell<Vec<Problem>>,
    /// Problems beyond [`limit::PROBLEMS`], which are only counted.
    more: Cell<usize>,
}

impl<'t> Source<'t> {
    pub(super) fn new(file: &'t str, text: &'t str, top: Value<'t>) -> Self {
        Source {
            file,
            text,
            top,
            problems: RefCell::default(),
            more: Cell::new(0),
        }
    }

    /// The number of problems.
    pub(super) fn problems(&self) -> usize {
        self.problems.borrow().len() + self.more.get()
    }

    /// The value if nothing is wrong, otherwise what is wrong, in the order of
    /// the file.
    pub(super) fn or_problems<T>(self, value: Option<T>) -> Result<T, Problems> {
        let mut list = self.problems.into_inner();
        match value {
            Some(value) if list.is_empty() => return Ok(value),
            _ if list.is_empty() => list.push(
                Problem::new(
                    "this does not read as a pattern",
                    "compare it with the example in docs/pattern-format.md",
                )
                .at(self.file, None, ""),
            ),
            _ => list.sort_by_key(Problem::position),
        }
        let more = self.more.get();
        Err(Problems { list, more })
    }

    /// The value of a field, if present.
    fn find(&self, field: Field) -> Option<&Value<'t>> {
        match field.step {
            Step::Top => Some(&self.top),
            Step::Key(parent, key) => match self.find(*parent)? {
                Value::Object(group) => Some(&group.get(key)?.value),
                _ => None,
            },
            Step::Entry(parent, place) => match self.find(*parent)? {
                Value::Array(list) => list.elements.get(place),
                _ => None,
            },
        }
    }
}

/// A field of a pattern, as a path of names and indices. Each part borrows the
/// one before it, so that going through a file costs nothing until something is
/// wrong.
#[derive(Clone, Copy)]
pub(super) struct Field<'p> {
    source: &'p Source<'p>,
    step: Step<'p>,
}

#[derive(Clone, Copy)]
enum Step<'p> {
    /// The whole file.
    Top,
    /// An entry of a group in { }.
    Key(&'p Field<'p>, &'p str),
    /// An entry of a list, from 0; shown from 1, like everything in a pattern.
    Entry(&'p Field<'p>, usize),
}

impl<'p> Field<'p> {
    /// The whole pattern.
    pub(super) fn top(source: &'p Source<'p>) -> Self {
        let step = Step::Top;
        Field { source, step }
    }

    /// The entry `key` of this group.
    pub(super) fn key(&'p self, key: &'p str) -> Field<'p> {
        let step = Step::Key(self, key);
        Field { step, ..*self }
    }

    /// The entry at `place` (from 0) of this list.
    pub(super) fn entry(&'p self, place: usize) -> Field<'p> {
        let step = Step::Entry(self, place);
        Field { step, ..*self }
    }

    /// Its name in its group; empty for what is not in a group.
    pub(super) fn name(self) -> &'p str {
        match self.step {
            Step::Key(_, key) => key,
            Step::Top | Step::Entry(..) => "",
        }
    }

    /// The field that this is an entry of; for the whole file, itself.
    pub(super) fn parent(self) -> Field<'p> {
        match self.step {
            Step::Top => self,
            Step::Key(parent, _) | Step::Entry(parent, _) => *parent,
        }
    }

    /// Reports something wrong with the value of this field. If the value is
    /// missing, the place is the group that should have it.
    pub(super) fn note(self, problem: Problem) {
        if self.is_full() {
            return self.note_at(0, problem);
        }
        let mut field = self;
        let value = loop {
            match self.source.find(field) {
                Some(value) => break value,
                None => field = field.parent(),
            }
        };
        self.note_at(value.start(), problem);
    }

    /// The same, with a problem made here.
    pub(super) fn refuse(self, what: impl AsRef<str>, mend: impl AsRef<str>) {
        self.note(Problem::new(what, mend));
    }

    /// The same where nothing can be read then.
    pub(super) fn refused<T>(self, what: impl AsRef<str>, mend: impl AsRef<str>) -> Option<T> {
        self.refuse(what, mend);
        None
    }

    /// What was read; what is wrong with it is reported.
    pub(super) fn accept<T>(self, read: Result<T, Problem>) -> Option<T> {
        read.map_err(|problem| self.note(problem)).ok()
    }

    /// Reports something wrong with the name of this field.
    pub(super) fn note_name(self, problem: Problem) {
        if let Step::Key(parent, key) = self.step
            && let Some(Value::Object(group)) = self.source.find(*parent)
            && let Some(entry) = group.get(key)
        {
            return self.note_at(entry.start(), problem);
        }
        self.note(problem);
    }

    /// Reports something wrong with this field at a byte of the text.
    pub(super) fn note_at(self, byte: usize, problem: Problem) {
        let Source { file, text, .. } = self.source;
        if self.is_full() {
            return self.source.more.set(self.source.more.get() + 1);
        }
        let problem = problem.at(file, Some(Position::of(text, byte)), self);
        self.source.problems.borrow_mut().push(problem);
    }

    /// Whether another problem would only be counted.
    fn is_full(self) -> bool {
        self.source.problems.borrow().len() >= limit::PROBLEMS
    }

    /// The number of problems in the file.
    pub(super) fn problems(self) -> usize {
        self.source.problems()
    }

    /// The known name nearest to a wrong one. `None` once the list of problems
    /// is full, so that a file with many wrong names costs no more than one
    /// with few.
    pub(super) fn nearest<'n>(
        self,
        wrong: &str,
        names: impl IntoIterator<Item = &'n str>,
    ) -> Option<&'n str> {
        match self.is_full() {
            true => None,
            false => problem::nearest(wrong, names),
        }
    }
}

impl fmt::Display for Field<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (parent, key) = match self.step {
            Step::Top => return Ok(()),
            Step::Entry(parent, place) => return write!(f, "{parent}[{}]", place + 1),
            Step::Key(parent, key) => (parent, key),
        };
        if !matches!(parent.step, Step::Top) {
            write!(f, "{parent}.")?;
        }
        let plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
        match !key.is_empty() && key.chars().all(plain) {
            true => f.write_str(&shown(key)),
            false => write!(f, "\"{}\"", shown(key)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::json;
    use super::*;

    fn places(text: &str, note: impl FnOnce(Field)) -> Vec<(usize, usize, String)> {
        let source = json::parse("x.json", text).unwrap();
        note(Field::top(&source));
        let problems = source.or_problems(Some(())).unwrap_err().list;
        let place = |problem: Problem| {
            let position = problem.position().unwrap();
            (position.line, position.column, problem.place.unwrap().field)
        };
        problems.into_iter().map(place).collect()
    }

    #[test]
    fn a_field_is_found_by_line_and_column() {
        let text = "{\n  \"beads\": {\"Ü\": 1},\n  \"é\": [1, {\"sides\": 3}]\n}";
        let problem = || Problem::new("what", "mend");
        let found = places(text, |top| {
            let (beads, list, make) = (top.key("beads"), top.key("é"), top.key("make"));
            let second = list.entry(1);
            beads.key("Ü").note(problem());
            beads.key("Ü").note_name(problem());
            second.key("sides").note(problem());
            // For what is missing, the place is where its group begins.
            second.key("rounds").note(problem());
            make.key("jobs").note(problem());
        });
        let at = |line, column, field: &str| (line, column, field.to_string());
        assert_eq!(
            found,
            [
                at(1, 1, "make.jobs"),
                at(2, 13, "beads.Ü"),
                at(2, 18, "beads.Ü"),
                at(3, 12, "é[2].rounds"),
                at(3, 22, "é[2].sides"),
            ]
        );
    }

    #[test]
    fn a_path_counts_from_1() {
        let found = places("{}", |top| {
            let panels = top.key("panels");
            let face = panels.key("left face\x1b[2J");
            face.key("colours").entry(1).refuse("what", "mend");
        });
        assert_eq!(found[0].2, "panels.\"left face\".colours[2]");
    }
}
