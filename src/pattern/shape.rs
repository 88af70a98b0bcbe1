//! Holds a file against the schema: fields, types, ranges.
//!
//! The schema is made from the types of [`super::file`], so the two cannot
//! part; and unlike a plain read into those types, this goes on after the
//! first fault and knows where each stands.

use jsonc_parser::ast::{Object, Value};
use serde_json::Value as Rule;

use super::error::{Quote, Shape};
use super::expected::{expected, found, heads, integer, kind, resolve, words};
use super::faults::Faults;
use super::field::Field;
use super::file::COLOUR;

/// Looks at `value` and all within it.
pub(super) fn check(schema: &Rule, value: &Value, at: &Field, faults: &mut Faults) {
    Check { schema, faults }.value(value, schema, at);
}

struct Check<'c, 's> {
    schema: &'c Rule,
    faults: &'c mut Faults<'s>,
}

impl<'c> Check<'c, '_> {
    fn value(&mut self, value: &Value, rule: &'c Rule, at: &Field) {
        let rule = resolve(self.schema, rule);
        if let Some(branches) = rule["anyOf"].as_array() {
            return self.one_of_several(value, rule, branches, at);
        }
        if let Some(allowed) = words(rule) {
            return self.word(value, rule, &allowed, at);
        }
        match (value, kind(rule)) {
            (Value::Object(group), "object") => self.group(group, rule, at),
            (Value::Array(list), "array") => {
                self.entries(
                    list.elements.len(),
                    &rule["minItems"],
                    &rule["maxItems"],
                    at,
                );
                for (place, value) in list.elements.iter().enumerate() {
                    self.value(value, &rule["items"], &at.place(place));
                }
            }
            (Value::StringLit(text), "string") => self.text(&text.value, value, rule, at),
            (Value::NumberLit(number), "integer" | "number") => {
                if !in_range(number.value, rule) {
                    self.wrong(value, rule, at);
                }
            }
            _ => self.wrong(value, rule, at),
        }
    }

    fn wrong(&mut self, value: &Value, rule: &Rule, at: &Field) {
        let wrong = Shape::Wrong {
            expected: expected(self.schema, rule),
            found: found(value),
        };
        self.faults.add(at, wrong);
    }

    /// A value that may have several shapes: told apart by their type, groups
    /// by the field that each of them must have first.
    fn one_of_several(&mut self, value: &Value, rule: &Rule, branches: &'c [Rule], at: &Field) {
        let fitting: Vec<&'c Rule> = branches
            .iter()
            .map(|branch| resolve(self.schema, branch))
            .filter(|branch| same_kind(value, kind(branch)))
            .collect();
        match (&fitting[..], value) {
            ([], _) => self.wrong(value, rule, at),
            ([only], _) => self.value(value, only, at),
            (several, Value::Object(group)) => {
                let heads = heads(several);
                match heads.iter().position(|head| group.get(head).is_some()) {
                    Some(which) => self.group(group, several[which], at),
                    None => self.headless(group, heads, at),
                }
            }
            (several, _) => self.value(value, several[0], at),
        }
    }

    /// A group that none of its possible heads is in: one may be misspelt.
    fn headless(&mut self, group: &Object, heads: Vec<&str>, at: &Field) {
        for entry in &group.properties {
            let name = entry.name.as_str();
            let nearest = self.faults.nearest(name, heads.iter().copied());
            if nearest.is_some() {
                let known = owned(&heads);
                let name = Quote::new(name);
                let unknown = Shape::Unknown {
                    name,
                    nearest,
                    known,
                };
                return self.faults.add_name(&at.key(entry.name.as_str()), unknown);
            }
        }
        self.faults.add(at, Shape::MissingOneOf(owned(&heads)));
    }

    fn group(&mut self, group: &Object, rule: &'c Rule, at: &Field) {
        let fewest = &rule["minProperties"];
        self.entries(group.properties.len(), fewest, &Rule::Null, at);
        let known = rule["properties"].as_object();
        let mut meant = Vec::new();
        for entry in &group.properties {
            let name = entry.name.as_str();
            let field = at.key(name);
            match known.and_then(|known| known.get(name)) {
                Some(rule) => self.value(&entry.value, rule, &field),
                None if rule["additionalProperties"].is_object() => {
                    self.value(&entry.value, &rule["additionalProperties"], &field);
                }
                None => meant.extend(self.unknown(name, group, rule, &field)),
            }
        }
        for name in rule["required"].as_array().into_iter().flatten() {
            let name = name.as_str().unwrap_or_default();
            // A misspelt name is told of once.
            if group.get(name).is_none() && !meant.iter().any(|m| m == name) {
                let missing = Shape::Missing {
                    name: name.to_string(),
                    expected: expected(self.schema, &rule["properties"][name]),
                };
                self.faults.add(at, missing);
            }
        }
    }

    /// Tells of a field that is not known, and returns the one that was most
    /// likely meant.
    fn unknown(
        &mut self,
        name: &str,
        group: &Object,
        rule: &Rule,
        field: &Field,
    ) -> Option<String> {
        if self.faults.full() {
            self.faults.count();
            return None;
        }
        let free: Vec<&str> = rule["properties"]
            .as_object()
            .into_iter()
            .flat_map(|known| known.keys())
            .map(String::as_str)
            .filter(|known| group.get(known).is_none())
            .collect();
        let nearest = self.faults.nearest(name, free.iter().copied());
        let unknown = Shape::Unknown {
            name: Quote::new(name),
            nearest: nearest.clone(),
            known: owned(&free),
        };
        self.faults.add_name(field, unknown);
        nearest
    }

    fn word(&mut self, value: &Value, rule: &Rule, allowed: &[String], at: &Field) {
        let word = match value {
            Value::StringLit(text) => text.value.as_ref(),
            Value::NumberLit(number) => number.value,
            _ => "",
        };
        if allowed.iter().any(|one| one == word) {
            return;
        }
        let nearest = match value {
            Value::StringLit(_) => {
                let names = allowed.iter().map(String::as_str);
                self.faults.nearest(word, names)
            }
            _ => None,
        };
        let not_one = Shape::NotOneOf {
            expected: expected(self.schema, rule),
            found: found(value),
            nearest,
        };
        self.faults.add(at, not_one);
    }

    fn text(&mut self, text: &str, value: &Value, rule: &Rule, at: &Field) {
        let limit = |bound: &Rule| bound.as_u64().map(|n| n as usize);
        let found = text.chars().count();
        let most = limit(&rule["maxLength"]).unwrap_or(usize::MAX);
        let fewest = limit(&rule["minLength"]).unwrap_or(0);
        if found > most || found < fewest {
            self.faults.add(at, Shape::Length { found, most });
        }
        // The one pattern that the format has.
        if rule["pattern"] == COLOUR && !is_colour(text) {
            self.wrong(value, rule, at);
        }
    }

    fn entries(&mut self, found: usize, fewest: &Rule, most: &Rule, at: &Field) {
        let fewest = fewest.as_u64().unwrap_or(0) as usize;
        let most = most.as_u64().map(|most| most as usize);
        if found < fewest || most.is_some_and(|most| found > most) {
            let entries = Shape::Entries {
                found,
                fewest,
                most,
            };
            self.faults.add(at, entries);
        }
    }
}

fn owned(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| name.to_string()).collect()
}

fn same_kind(value: &Value, kind: &str) -> bool {
    matches!(
        (value, kind),
        (Value::Object(_), "object")
            | (Value::Array(_), "array")
            | (Value::StringLit(_), "string")
            | (Value::NumberLit(_), "integer" | "number")
    )
}

fn in_range(number: &str, rule: &Rule) -> bool {
    let Ok(value) = number.parse::<f64>() else {
        return false;
    };
    let bound = |name: &str, other: f64| rule[name].as_f64().unwrap_or(other);
    (!integer(rule) || number.parse::<u32>().is_ok())
        && value >= bound("minimum", f64::MIN)
        && value <= bound("maximum", f64::MAX)
        && rule["multipleOf"]
            .as_f64()
            .is_none_or(|unit| value % unit == 0.0)
}

/// Whether a text is # and six digits of a colour.
pub(super) fn is_colour(text: &str) -> bool {
    text.strip_prefix('#')
        .is_some_and(|hex| hex.len() == 6 && hex.bytes().all(|b| b.is_ascii_hexdigit()))
}
