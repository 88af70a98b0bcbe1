//! Names given twice in one group. Most readers take the last without a word,
//! and the maker wonders where the first has gone.

use std::collections::HashSet;

use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;

use super::error::{Quote, Shape};
use super::faults::Faults;
use super::field::Field;

/// Looks at every group of the file.
pub(super) fn check(value: &Value, at: &Field, faults: &mut Faults) {
    match value {
        Value::Object(group) => {
            let mut seen = HashSet::new();
            for entry in &group.properties {
                let name = entry.name.as_str();
                let field = at.key(name);
                if !seen.insert(name) {
                    let twice = Shape::Twice(Quote::new(name));
                    faults.add_byte(entry.start(), &field, twice);
                }
                check(&entry.value, &field, faults);
            }
        }
        Value::Array(list) => {
            for (place, value) in list.elements.iter().enumerate() {
                check(value, &at.place(place), faults);
            }
        }
        _ => {}
    }
}
