//! Numbers, texts, lists, tables and words with limits: what is beyond them is
//! refused when a file is read, and the schema has the same limits.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use std::ops::Deref;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{
    Deserialize, Deserializer, EnumAccess, Error, MapAccess, SeqAccess, Unexpected, VariantAccess,
    Visitor,
};
use serde::{Serialize, Serializer};

use super::super::node::{EMPTY, GROUP, LIST, TEXT, or_stand_in};
use crate::beadwork::Rgb;
use crate::beadwork::bead::PRESETS;
use crate::beadwork::thread::{NEEDLES, THREADS};
use crate::problem::quoted;

/// A type with limits, read from one value of the file.
trait Bounded: Sized {
    /// What is allowed, in words.
    fn expected() -> String;

    /// The value read from the file, if it is within the limits. `Err` holds
    /// what is wrong and, in a second line, how to mend it, where that is more
    /// than what was expected.
    fn take(value: Raw) -> Result<Option<Self>, String>;
}

/// A value of the file.
enum Raw<'v> {
    Whole(u32),
    Decimal(f64),
    Text(&'v str),
}

/// Reads a bounded type.
struct BoundedReader<T>(PhantomData<T>);

impl<T: Bounded> BoundedReader<T> {
    fn read<E: Error>(self, value: Raw) -> Result<T, E> {
        let taken = T::take(value).map_err(E::custom)?;
        taken.ok_or_else(|| E::invalid_value(Unexpected::Other("value"), &self))
    }
}

impl<T: Bounded> Visitor<'_> for BoundedReader<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&T::expected())
    }

    fn visit_u32<E: Error>(self, number: u32) -> Result<T, E> {
        self.read(Raw::Whole(number))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<T, E> {
        self.read(Raw::Decimal(number))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<T, E> {
        self.read(Raw::Text(text))
    }
}

/// How a bounded type is read, with a stand-in for what is refused, and its
/// schema.
macro_rules! bounded {
    ([$($generics:tt)*] $type:ty, $read:ident, $stand_in:expr, $schema:expr) => {
        impl<'de, $($generics)*> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                or_stand_in(from.$read(BoundedReader(PhantomData)), $stand_in)
            }
        }

        schema!([$($generics)*] $type, |_of| $schema);
    };
}

macro_rules! schema {
    ([$($generics:tt)*] $type:ty, |$of:ident| $schema:expr) => {
        impl<$($generics)*> JsonSchema for $type {
            fn inline_schema() -> bool {
                true
            }

            fn schema_name() -> Cow<'static, str> {
                stringify!($type).into()
            }

            fn json_schema($of: &mut SchemaGenerator) -> Schema {
                $schema
            }
        }
    };
}

/// A schema with one more bound, unless the bound has no effect.
fn with(mut schema: Schema, bound: &str, least: usize, number: usize) -> Schema {
    if number > least {
        schema.insert(bound.into(), number.into());
    }
    schema
}

/// A whole number from `MIN` to `MAX`, a multiple of `STEP`.
#[derive(Serialize, Clone, Copy, Debug, PartialEq)]
pub struct WholeNumber<const MIN: u32, const MAX: u32, const STEP: u32 = 1>(
    /// The number.
    pub u32,
);

impl<const MIN: u32, const MAX: u32, const STEP: u32> Bounded for WholeNumber<MIN, MAX, STEP> {
    fn expected() -> String {
        match STEP {
            _ if MIN == MAX => format!("the number {MIN}"),
            2 => format!("an even whole number from {MIN} to {MAX}"),
            _ => format!("a whole number from {MIN} to {MAX}"),
        }
    }

    fn take(value: Raw) -> Result<Option<Self>, String> {
        Ok(match value {
            Raw::Whole(n) if (MIN..=MAX).contains(&n) && n % STEP == 0 => Some(WholeNumber(n)),
            _ => None,
        })
    }
}

bounded!([const MIN: u32, const MAX: u32, const STEP: u32] WholeNumber<MIN, MAX, STEP>,
    deserialize_u32, WholeNumber(MIN), {
        let schema = json_schema!({
            "type": "integer", "format": "uint32", "minimum": MIN, "maximum": MAX
        });
        with(schema, "multipleOf", 1, STEP as usize)
    }
);

/// Measures, each with its limits.
macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident: $min:literal to $max:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub struct $name(
            /// The measure.
            pub f64,
        );

        impl Bounded for $name {
            fn expected() -> String {
                format!("a number from {} to {}", $min, $max)
            }

            fn take(value: Raw) -> Result<Option<Self>, String> {
                Ok(match value {
                    Raw::Decimal(n) if ($min..=$max).contains(&n) => Some($name(n)),
                    _ => None,
                })
            }
        }

        bounded!([] $name, deserialize_f64, $name($min), json_schema!({
            "type": "number", "format": "double", "minimum": $name($min), "maximum": $name($max)
        }));

        impl Serialize for $name {
            /// Writes a whole number without a decimal point: 1500, not 1500.0.
            fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                match self.0.fract() == 0.0 {
                    true => to.serialize_i64(self.0 as i64),
                    false => to.serialize_f64(self.0),
                }
            }
        }
    )*};
}

measures! {
    /// Diameter of a bead, its hole, a thread or a needle, mm.
    Width: 0.01 to 1000.0;
    /// A length of thread, mm.
    ThreadLength: 1.0 to 100000.0;
    /// Diameter of a stone, mm.
    StoneMm: 1.0 to 99.0;
    /// How many beads weigh one gram.
    PerGram: 0.01 to 100000.0;
}

/// A text of `MIN` to `MAX` characters.
#[derive(Serialize, Clone, Debug, PartialEq)]
pub struct Text<const MIN: usize, const MAX: usize>(
    /// The text.
    pub String,
);

impl<const MIN: usize, const MAX: usize> Bounded for Text<MIN, MAX> {
    fn expected() -> String {
        TEXT.to_string()
    }

    fn take(value: Raw) -> Result<Option<Self>, String> {
        let Raw::Text(text) = value else {
            return Ok(None);
        };
        match text.chars().count() {
            0 if MIN > 0 => Err("this text is empty\nwrite something here".to_string()),
            n if n > MAX => Err(format!(
                "this text has {n} characters; {MAX} is the most\nshorten it"
            )),
            _ => Ok(Some(Text(text.to_string()))),
        }
    }
}

bounded!([const MIN: usize, const MAX: usize] Text<MIN, MAX>,
    deserialize_str, Text(String::new()),
    with(json_schema!({ "type": "string", "maxLength": MAX }), "minLength", 0, MIN)
);

impl<const MIN: usize, const MAX: usize> Deref for Text<MIN, MAX> {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

/// A colour on the screen, written `#rrggbb`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HexColour(
    /// The colour.
    pub Rgb,
);

impl Bounded for HexColour {
    fn expected() -> String {
        "a colour such as \"#2f7f79\"".to_string()
    }

    fn take(value: Raw) -> Result<Option<Self>, String> {
        Ok(match value {
            Raw::Text(text) => match text.parse() {
                Ok(colour) => Some(HexColour(colour)),
                Err(_) => return Err(no_colour(text)),
            },
            _ => None,
        })
    }
}

/// What is wrong with a text that is no colour, and how to mend it.
fn no_colour(text: &str) -> String {
    let typed: String = text.chars().filter(|c| *c != '#' && *c != ' ').collect();
    let meant = typed.replace(['o', 'O'], "0").replace(['l', 'I'], "1");
    let is_hex = meant.bytes().all(|b| b.is_ascii_hexdigit());
    let mend = match (is_hex, meant.len()) {
        (true, 6) => format!("write \"#{meant}\""),
        (true, 3) => {
            let twice = meant.chars().flat_map(|digit| [digit, digit]);
            format!("write \"#{}\"", twice.collect::<String>())
        }
        (true, _) => format!("write six digits; these are {}", meant.len()),
        (false, _) => "write two digits each of red, green and blue, from 00 to ff".into(),
    };
    format!(
        "{} is no colour: # and six digits, such as \"#2f7f79\"\n{mend}",
        quoted(text)
    )
}

bounded!([] HexColour, deserialize_str, HexColour(Rgb(0, 0, 0)), json_schema!({
    "type": "string", "pattern": "^#[0-9a-fA-F]{6}$"
}));

impl Serialize for HexColour {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&self.0)
    }
}

/// The size number of a beading needle.
#[derive(Serialize, Clone, Copy, Debug, PartialEq)]
pub struct NeedleSize(
    /// The number.
    pub u32,
);

fn needle_sizes() -> [u32; NEEDLES.len()] {
    NEEDLES.map(|(size, _)| size.into())
}

impl Bounded for NeedleSize {
    fn expected() -> String {
        format!(
            "one of {}",
            needle_sizes().map(|size| size.to_string()).join(", ")
        )
    }

    fn take(value: Raw) -> Result<Option<Self>, String> {
        Ok(match value {
            Raw::Whole(size) if needle_sizes().contains(&size) => Some(NeedleSize(size)),
            _ => None,
        })
    }
}

bounded!([] NeedleSize, deserialize_u32, NeedleSize(0), json_schema!({
    "type": "integer", "enum": needle_sizes()
}));

/// Names from a table.
macro_rules! names {
    ($($(#[$doc:meta])* $name:ident of $table:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Serialize, Clone, Debug, PartialEq)]
        pub struct $name(
            /// The name.
            pub String,
        );

        impl $name {
            const KNOWN: [&str; $table.len()] = first_of(&$table);
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                from.deserialize_enum(stringify!($name), &Self::KNOWN, NameReader).map($name)
            }
        }

        schema!([] $name, |_of| json_schema!({ "type": "string", "enum": $name::KNOWN }));

        impl From<&str> for $name {
            fn from(name: &str) -> Self {
                $name(name.to_string())
            }
        }
    )*};
}

names! {
    /// A size of bead.
    SizeName of PRESETS;
    /// A thread.
    ThreadName of THREADS;
}

/// The names of a table.
const fn first_of<T: Copy, const N: usize>(table: &[(&'static str, T); N]) -> [&'static str; N] {
    let mut names = [""; N];
    let mut at = 0;
    while at < N {
        names[at] = table[at].0;
        at += 1;
    }
    names
}

struct NameReader;

impl<'de> Visitor<'de> for NameReader {
    type Value = String;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a name that is known")
    }

    fn visit_enum<A: EnumAccess<'de>>(self, name: A) -> Result<String, A::Error> {
        let (name, rest): (String, _) = name.variant()?;
        rest.unit_variant()?;
        Ok(name)
    }
}

/// A list of `MIN` to `MAX` entries.
#[derive(Serialize, Clone, Debug, Default, PartialEq)]
pub struct List<T, const MIN: usize, const MAX: usize>(
    /// The entries.
    pub Vec<T>,
);

impl<'de, T: Deserialize<'de>, const MIN: usize, const MAX: usize> Deserialize<'de>
    for List<T, MIN, MAX>
{
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let read = from.deserialize_seq(ListReader(List(Vec::new())));
        or_stand_in(read, List(Vec::new()))
    }
}

/// Reads a list, which is empty to begin with.
struct ListReader<T, const MIN: usize, const MAX: usize>(List<T, MIN, MAX>);

impl<'de, T: Deserialize<'de>, const MIN: usize, const MAX: usize> Visitor<'de>
    for ListReader<T, MIN, MAX>
{
    type Value = List<T, MIN, MAX>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(LIST)
    }

    fn visit_seq<A: SeqAccess<'de>>(mut self, mut seq: A) -> Result<Self::Value, A::Error> {
        let List(list) = &mut self.0;
        while let Some(entry) = seq.next_element()? {
            list.push(entry);
        }
        let mend = match list.len() {
            n if (MIN..=MAX).contains(&n) => return Ok(self.0),
            0 => return Err(A::Error::custom(EMPTY)),
            n if n < MIN => "add what is missing",
            _ => "take out what is too many",
        };
        let right = match MIN == MAX {
            true => MIN.to_string(),
            false => format!("{MIN} to {MAX}"),
        };
        let found = list.len();
        Err(A::Error::custom(format!(
            "expected {right} entries, found {found}\n{mend}"
        )))
    }
}

schema!([T: JsonSchema, const MIN: usize, const MAX: usize] List<T, MIN, MAX>, |of| {
    let items = of.subschema_for::<T>();
    with(json_schema!({ "type": "array", "items": items, "maxItems": MAX }), "minItems", 0, MIN)
});

impl<T, const MIN: usize, const MAX: usize> Deref for List<T, MIN, MAX> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.0
    }
}

/// Names and their values, in the order of the file; at least one. The order
/// matters to makers: the first bead colours whatever no colour word covers,
/// and panels are listed in the order in which they were written.
#[derive(Clone, Debug, PartialEq)]
pub struct NameTable<T>(
    /// The entries.
    pub Vec<(String, T)>,
);

impl<T> NameTable<T> {
    /// The entries in order.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &T)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value))
    }
}

impl<T: Serialize> Serialize for NameTable<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.iter())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for NameTable<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let read = from.deserialize_map(Entries(PhantomData));
        or_stand_in(read, Vec::new()).map(NameTable)
    }
}

struct Entries<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
    type Value = Vec<(String, T)>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(GROUP)
    }

    fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Self::Value, M::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        match entries.is_empty() {
            true => Err(M::Error::custom(EMPTY)),
            false => Ok(entries),
        }
    }
}

schema!([T: JsonSchema] NameTable<T>, |of| json_schema!({
    "type": "object", "additionalProperties": of.subschema_for::<T>(), "minProperties": 1
}));
