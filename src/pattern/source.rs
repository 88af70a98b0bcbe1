//! The text of a pattern with its structure: where each field stands.

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::field::Field;
use super::position::{Position, position};

/// A pattern that is JSON, and maybe nothing more.
pub(super) struct Source<'t> {
    text: &'t str,
    /// The outermost value.
    pub(super) top: Value<'t>,
}

impl<'t> Source<'t> {
    pub(super) fn new(text: &'t str, top: Value<'t>) -> Self {
        Source { text, top }
    }

    /// Where the value of `field` begins; for a field that is not there,
    /// where the group begins that should have it.
    pub(super) fn value(&self, field: &Field) -> Position {
        let mut field = field;
        loop {
            if let Some(value) = self.find(field) {
                return position(self.text, value.start());
            }
            field = field.parent().unwrap_or(&Field::Top);
        }
    }

    /// Where the name of `field` stands.
    pub(super) fn name(&self, field: &Field) -> Position {
        if let Field::Key(parent, key) = field
            && let Some(Value::Object(group)) = self.find(parent)
            && let Some(entry) = group.get(key)
        {
            return position(self.text, entry.start());
        }
        self.value(field)
    }

    /// Where byte `at` stands.
    pub(super) fn byte(&self, at: usize) -> Position {
        position(self.text, at)
    }

    fn find(&self, field: &Field) -> Option<&Value<'t>> {
        match field {
            Field::Top => Some(&self.top),
            Field::Key(parent, key) => match self.find(parent)? {
                Value::Object(group) => Some(&group.get(key)?.value),
                _ => None,
            },
            Field::Place(parent, place) => match self.find(parent)? {
                Value::Array(list) => list.elements.get(*place),
                _ => None,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::parse::parse;
    use super::*;

    #[test]
    fn a_field_is_found_by_line_and_column() {
        let text = "{\n  \"beads\": {\"Ü\": 1},\n  \"é\": [1, {\"sides\": 3}]\n}";
        let source = parse(text).unwrap();
        let at = |line, column| Position { line, column };
        let top = Field::Top;
        let list = top.key("é");
        let second = list.place(1);
        assert_eq!(source.value(&top.key("beads").key("Ü")), at(2, 18));
        assert_eq!(source.name(&top.key("beads").key("Ü")), at(2, 13));
        assert_eq!(source.value(&second.key("sides")), at(3, 22));
        // What is not there is asked for where its group begins.
        assert_eq!(source.value(&second.key("rounds")), at(3, 12));
        assert_eq!(source.value(&top.key("make").key("jobs")), at(1, 1));
    }
}
