//! The beads of a pattern: letters, sizes, colours.

use unicode_width::UnicodeWidthChar;

use super::colour_text::Letters;
use super::error::{BeadFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::file::{BeadFile, MeasuredSize, SizeFile};
use super::limit;
use super::table::Table;
use crate::beadwork::bead::{self, BeadKind, BeadSize, Rgb};
use crate::clean::clean;

/// Reads the beads, in the order of the file.
pub(super) fn read(table: &Table<BeadFile>, faults: &mut Faults) -> Vec<BeadKind> {
    let at = Field::Top.key("beads");
    if table.0.len() > limit::BEAD_KINDS {
        faults.add(&at, BeadFault::TooManyKinds(table.0.len()));
    }
    let read = |(key, file): (&str, &BeadFile)| {
        let at = at.key(key);
        let letter = letter(key);
        if letter.is_none() {
            faults.add_name(&at, BeadFault::NotALetter(Quote::new(key)));
        }
        let name = clean(&file.name);
        if name.is_empty() {
            faults.add(&at.key("name"), BeadFault::NoName);
        }
        let size = size(&file.size, &at.key("size"), faults);
        Some(BeadKind {
            letter: letter?,
            name,
            size: size?,
            colour: rgb(&file.colour)?,
        })
    };
    table.iter().filter_map(read).collect()
}

/// The letters that the file gives its beads, whatever else is wrong with
/// them; so that a bead with a fault is not missed by colour words as well.
pub(super) fn letters(table: &Table<BeadFile>) -> Letters {
    let letters = table.iter().filter_map(|(key, _)| letter(key));
    Letters(letters.take(limit::BEAD_KINDS).collect())
}

/// A key that is one letter, one character wide.
fn letter(key: &str) -> Option<char> {
    let mut chars = key.chars();
    let letter = chars.next().filter(|c| c.is_alphabetic())?;
    (chars.next().is_none() && letter.width() == Some(1)).then_some(letter)
}

fn size(file: &SizeFile, at: &Field, faults: &mut Faults) -> Option<BeadSize> {
    let measured = match file {
        SizeFile::Named(name) => return bead::preset(name),
        SizeFile::Measured(measured) => measured,
    };
    let like = measured.name.as_deref().and_then(bead::preset);
    let mut measure =
        |name, given: fn(&MeasuredSize) -> Option<f64>, usual: fn(BeadSize) -> f64| {
            let found = given(measured).or(like.map(usual));
            if found.is_none() {
                faults.add(at, BeadFault::NoMeasure(name));
            }
            found
        };
    let diameter = measure("diameter_mm", |m| m.diameter_mm, |s| s.diameter_mm);
    let length = measure("length_mm", |m| m.length_mm, |s| s.length_mm);
    let hole = measure("hole_mm", |m| m.hole_mm, |s| s.hole_mm);
    let per_gram = measure("per_gram", |m| m.per_gram, |s| s.per_gram);
    let size = BeadSize {
        diameter_mm: diameter?,
        length_mm: length?,
        hole_mm: hole?,
        per_gram: per_gram?,
    };
    if size.hole_mm >= size.diameter_mm {
        let wide = BeadFault::HoleTooWide {
            hole: size.hole_mm,
            diameter: size.diameter_mm,
        };
        faults.add(&at.key("hole_mm"), wide);
    }
    Some(size)
}

/// #rrggbb, as the shape of the file has made sure.
fn rgb(text: &str) -> Option<Rgb> {
    let digits = u32::from_str_radix(text.strip_prefix('#')?, 16).ok()?;
    let [_, red, green, blue] = digits.to_be_bytes();
    Some(Rgb(red, green, blue))
}
