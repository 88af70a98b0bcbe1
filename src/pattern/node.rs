//! A serde deserializer for a pattern's JSON. It notes everything that does not
//! fit the types of the file, with its place, and continues.
//!
//! Where something is wrong, a stand-in is used instead: 0, an empty text or
//! list, the first of several words, a group whose fields are stand-ins. So the
//! whole file is read and everything wrong is found at once. The result is then
//! useless: see [`Source::or_problems`].
//!
//! A type with its own limits refuses a value beyond them with an error, which
//! is noted here, and then uses a stand-in of its own ([`or_stand_in`]).

use std::collections::HashSet;
use std::fmt;

use jsonc_parser::ast::{Object, ObjectProp, Value};
use jsonc_parser::common::Ranged;
use serde::de::value::{MapAccessDeserializer, MapDeserializer, SeqDeserializer, StrDeserializer};
use serde::de::{Deserializer, Error, Expected, IntoDeserializer, Unexpected, Visitor};
use serde::forward_to_deserialize_any;

use super::source::{Field, Source};
use crate::problem::{Problem, names, quoted, shown};

pub(super) const TEXT: &str = "a text in quotes";
pub(super) const GROUP: &str = "a group in { }";
pub(super) const LIST: &str = "a list in [ ]";

/// The mend of a field that is given twice.
const FIELD_TWICE: &str = "take one of the two out";

/// Whether a field is for other programs, and so ignored: `$schema` tells an
/// editor where the schema is, and names that begin with `x-` are free for
/// anyone.
fn is_for_others(name: &str) -> bool {
    name == "$schema" || name.starts_with("x-")
}

/// The same as a regular expression for the schema.
pub(super) const FOR_OTHERS: &str = r"^(\$schema$|x-)";

/// The message for a list or a group that should not be empty, and how to mend
/// it.
pub(super) const EMPTY: &str = "nothing is in here\nadd at least one entry";

/// The name of enums whose variants are distinguished by the value itself; see
/// [`Node::choose`].
pub(super) const CHOICE: &str = "ValueChoice";

/// A value of the file, or a place where a value should be.
#[derive(Clone, Copy)]
pub(super) struct Node<'n> {
    /// `None` if it is missing.
    value: Option<&'n Value<'n>>,
    at: Field<'n>,
    /// What else would be allowed here.
    or_else: Option<&'static str>,
    /// Whether everything wrong here has been reported.
    is_reported: bool,
}

/// Why a type refuses a value.
#[derive(Debug, PartialEq, thiserror::Error)]
pub(super) enum ValueRefusal {
    /// It has been noted.
    #[error("noted")]
    Noted,
    /// Something else is expected there.
    #[error("{0}")]
    Expected(String),
    /// What is wrong and, in a second line, how to mend it.
    #[error("{0}")]
    Other(String),
}

impl Error for ValueRefusal {
    fn custom<T: fmt::Display>(text: T) -> Self {
        ValueRefusal::Other(text.to_string())
    }

    fn invalid_value(_: Unexpected, expected: &dyn Expected) -> Self {
        ValueRefusal::Expected(expected.to_string())
    }
}

/// What was read, or a stand-in for what was refused and already noted.
///
/// # Errors
/// Those that are not noted yet.
pub(super) fn or_stand_in<T, E: Error>(read: Result<T, E>, stand_in: T) -> Result<T, E> {
    match read {
        Err(error) if error.to_string() == ValueRefusal::Noted.to_string() => Ok(stand_in),
        read => read,
    }
}

impl<'n> Node<'n> {
    /// The whole pattern.
    pub(super) fn top(source: &'n Source<'n>) -> Self {
        Node {
            value: Some(&source.top),
            at: Field::top(source),
            or_else: None,
            is_reported: false,
        }
    }

    /// A stand-in for this node.
    fn stand_in(self) -> Self {
        Node {
            value: None,
            is_reported: true,
            ..self
        }
    }

    /// A field of this group; the group's place is `at`.
    fn field<'c>(self, at: &'c Field<'n>, name: &'c str, value: Option<&'c Value<'c>>) -> Node<'c>
    where
        'n: 'c,
    {
        let at = at.key(name);
        Node { value, at, ..self }
    }

    /// Notes that something else is expected here. `near` is the word that was
    /// most likely meant.
    fn wrong(self, expected: &str, near: Option<&str>) -> ValueRefusal {
        if self.is_reported {
            return ValueRefusal::Noted;
        }
        let expected = match self.or_else {
            Some(other) => format!("{expected} or {other}"),
            None => expected.to_string(),
        };
        let Some(value) = self.value else {
            let name = self.at.name();
            self.at.parent().refuse(
                format!("the field '{name}' is missing"),
                format!("add \"{name}\" with {expected}"),
            );
            return ValueRefusal::Noted;
        };
        let mend = match (near, number_in_quotes(value, &expected)) {
            (Some(near), _) => format!("write '{near}'"),
            (None, Some(number)) => format!("write {number} without quotes"),
            _ if expected == LIST && matches!(value, Value::StringLit(_)) => {
                "put [ ] round it".into()
            }
            _ if expected.starts_with("one of ") && self.or_else.is_none() => {
                "write one of them".into()
            }
            _ => format!("put {expected} here"),
        };
        self.at
            .note(Problem::expected(&expected, &found(value), mend));
        ValueRefusal::Noted
    }

    /// Notes why a type refuses this value.
    fn refused(self, refusal: ValueRefusal) -> ValueRefusal {
        match refusal {
            ValueRefusal::Expected(expected) => return self.wrong(&expected, None),
            ValueRefusal::Other(text) if !self.is_reported => {
                let (what, mend) = text.split_once('\n').unwrap_or((
                    text.as_str(),
                    "compare it with the example in docs/pattern-format.md",
                ));
                self.at.refuse(what, mend);
            }
            ValueRefusal::Other(_) | ValueRefusal::Noted => {}
        }
        ValueRefusal::Noted
    }

    /// Passes on a value if it is of the right kind, otherwise a stand-in.
    fn hand_on<T, R>(
        self,
        value: Option<T>,
        expected: &str,
        stand_in: T,
        visit: impl FnOnce(T) -> Result<R, ValueRefusal>,
    ) -> Result<R, ValueRefusal> {
        match value {
            Some(value) => visit(value).map_err(|refusal| self.refused(refusal)),
            None => {
                self.wrong(expected, None);
                visit(stand_in).map_err(|_| ValueRefusal::Noted)
            }
        }
    }

    fn number<T: std::str::FromStr>(self) -> Option<T> {
        match self.value? {
            Value::NumberLit(number) => number.value.parse().ok(),
            _ => None,
        }
    }

    fn text(self) -> Option<&'n str> {
        match self.value? {
            Value::StringLit(text) => Some(&text.value),
            _ => None,
        }
    }

    /// The group that is expected here, with each name given once. `mend`: what to
    /// do with a name that is given twice.
    fn group(self, mend: &str) -> Option<&'n Object<'n>> {
        let Some(Value::Object(group)) = self.value else {
            self.wrong(GROUP, None);
            return None;
        };
        let mut seen = HashSet::new();
        for entry in &group.properties {
            let name = entry.name.as_str();
            if !seen.insert(name) {
                let twice = Problem::new(format!("{} is given twice", quoted(name)), mend);
                self.at.key(name).note_at(entry.start(), twice);
            }
        }
        Some(group)
    }

    /// Reports an unknown field where those in `free` could be, and returns the
    /// one that was most likely meant.
    fn unknown(self, entry: &ObjectProp, free: &[&'static str]) -> Option<&'static str> {
        let name = entry.name.as_str();
        let near = self.at.nearest(name, free.iter().copied());
        let near = free.iter().copied().find(|free| Some(*free) == near);
        let what = format!("there is no field {} here", quoted(name));
        let mend = match near {
            Some(near) => format!("write '{near}'"),
            None => format!("take it out; here may stand {}", names(free, "and")),
        };
        let problem = Problem::new(what, mend);
        self.at.key(name).note_at(entry.start(), problem);
        near
    }

    /// Which of several kinds of value this is. `variants` either begin with
    /// `text` or `number`, and then `group` is the other; or they are the
    /// fields that distinguish groups, of which each group has one.
    fn choose(self, variants: &'static [&'static str]) -> (&'static str, Self) {
        let or_else = match () {
            () if variants.contains(&"group") => Some(GROUP),
            () if variants.contains(&"list") => Some(LIST),
            () => None,
        };
        if or_else.is_some() {
            let kind = match self.value {
                Some(Value::Object(_)) => "group",
                Some(Value::Array(_)) => "list",
                Some(Value::StringLit(_)) => "text",
                Some(Value::NumberLit(_)) => "number",
                _ => "",
            };
            return match variants.contains(&kind) {
                true => (kind, self),
                false => (variants[0], Node { or_else, ..self }),
            };
        }
        let Some(group) = self.group(FIELD_TWICE) else {
            return (variants[0], self.stand_in());
        };
        let mut heads = variants.iter().copied();
        if let Some(head) = heads.find(|head| group.get(head).is_some()) {
            return (head, self);
        }
        // One may be misspelt.
        let entries = group.properties.iter().map(|entry| entry.name.as_str());
        let near = |name: &'n str| Some((name, self.at.nearest(name, variants.iter().copied())?));
        match entries.filter_map(near).next() {
            Some((name, near)) => {
                let what = format!("there is no field {} here", quoted(name));
                let problem = Problem::new(what, format!("write '{near}'"));
                self.at.key(name).note_name(problem);
            }
            None => self.at.refuse(
                format!("nothing here says what it is: no {}", names(variants, "or")),
                "add one of these fields",
            ),
        }
        (variants[0], self.stand_in())
    }
}

/// The number that a text holds, where a number is expected.
fn number_in_quotes<'v>(value: &'v Value, expected: &str) -> Option<&'v str> {
    let Value::StringLit(text) = value else {
        return None;
    };
    let is_number = text.value.trim().parse::<f64>().is_ok_and(f64::is_finite);
    let choice = expected.strip_prefix("one of ").unwrap_or_default();
    let wants_one = expected.contains("number") || choice.starts_with(|c: char| c.is_ascii_digit());
    (is_number && wants_one).then(|| text.value.trim())
}

/// What was found, in words.
fn found(value: &Value) -> String {
    match value {
        Value::StringLit(text) => format!("the text {}", quoted(&text.value)),
        Value::NumberLit(number) => shown(number.value),
        Value::BooleanLit(truth) => truth.value.to_string(),
        Value::Object(_) => GROUP.to_string(),
        Value::Array(_) => LIST.to_string(),
        Value::NullKeyword(_) => "null".to_string(),
    }
}

fn wanted<'de>(visitor: &impl Visitor<'de>) -> String {
    (visitor as &dyn Expected).to_string()
}

impl<'de> IntoDeserializer<'de, ValueRefusal> for Node<'_> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Node<'_> {
    type Error = ValueRefusal;

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        let truth = match self.value {
            Some(Value::BooleanLit(truth)) => Some(truth.value),
            _ => None,
        };
        self.hand_on(truth, "true or false", false, |truth| {
            visitor.visit_bool(truth)
        })
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        let expected = wanted(&visitor);
        self.hand_on(self.number(), &expected, 0, |n| visitor.visit_u32(n))
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        let expected = wanted(&visitor);
        self.hand_on(self.number(), &expected, 0.0, |n| visitor.visit_f64(n))
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        let expected = wanted(&visitor);
        self.hand_on(self.text(), &expected, "", |text| visitor.visit_str(text))
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        self.hand_on(self.text(), TEXT, "", |text| visitor.visit_str(text))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        let list = match self.value {
            Some(Value::Array(list)) => Some(&list.elements[..]),
            _ => None,
        };
        self.hand_on(list, LIST, &[], |list| {
            let entries = list.iter().enumerate().map(|(place, value)| Node {
                value: Some(value),
                at: self.at.entry(place),
                ..self
            });
            visitor.visit_seq(SeqDeserializer::new(entries))
        })
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        let mend = "take one of the two out, or give it a name of its own";
        let entries = self.group(mend).map(|group| &group.properties[..]);
        let node = if entries.is_some() {
            self
        } else {
            self.stand_in()
        };
        let entries = entries.unwrap_or_default().iter().map(|entry| {
            let name = entry.name.as_str();
            (name, node.field(&node.at, name, Some(&entry.value)))
        });
        let read = visitor.visit_map(MapDeserializer::new(entries));
        read.map_err(|refusal| node.refused(refusal))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        known: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ValueRefusal> {
        let Some(group) = self.group(FIELD_TWICE) else {
            let stand_ins = known.iter().map(|name| (*name, self.stand_in()));
            return visitor.visit_map(MapDeserializer::new(stand_ins));
        };
        let is_free = |name: &&'static str| group.get(name).is_none();
        let mut free: Vec<&'static str> = known.iter().copied().filter(is_free).collect();
        free.sort_unstable();
        let entries = group.properties.iter();
        let unknown = entries.filter(|entry| {
            let name = entry.name.as_str();
            !known.contains(&name) && !is_for_others(name)
        });
        let misspelt = unknown.filter_map(|entry| self.unknown(entry, &free));
        let misspelt: Vec<&str> = misspelt.collect();
        let fields = known.iter().map(|&name| {
            let value = group.get(name).map(|entry| &entry.value);
            let field = self.field(&self.at, name, value);
            // A misspelt name is reported once.
            let is_reported = self.is_reported || misspelt.contains(&name);
            (
                name,
                Node {
                    is_reported,
                    ..field
                },
            )
        });
        visitor.visit_map(MapDeserializer::new(fields))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ValueRefusal> {
        if name == CHOICE {
            let chosen = MapDeserializer::new(std::iter::once(self.choose(variants)));
            return visitor.visit_enum(MapAccessDeserializer::new(chosen));
        }
        // Blanks at the ends of a name cannot be seen and mean nothing.
        let text = self.text().map(str::trim);
        let known = variants.iter().find(|word| Some(**word) == text);
        let word = known.copied().unwrap_or_else(|| {
            let words: Vec<String> = variants.iter().map(|word| format!("'{word}'")).collect();
            let near = text.and_then(|text| self.at.nearest(text, variants.iter().copied()));
            self.wrong(&format!("one of {}", words.join(", ")), near);
            variants[0]
        });
        let word: StrDeserializer<ValueRefusal> = word.into_deserializer();
        visitor.visit_enum(word)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        match self.value {
            Some(_) => visitor.visit_some(self),
            None => visitor.visit_none(),
        }
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ValueRefusal> {
        Err(self.wrong(&wanted(&visitor), None))
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u8 u16 u64 u128 f32 char bytes byte_buf unit unit_struct
        newtype_struct tuple tuple_struct identifier ignored_any
    }
}
