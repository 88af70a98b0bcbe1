//! The beads of a pattern: letters, sizes, colours.

use unicode_width::UnicodeWidthChar;

use super::colour_text::Letters;
use super::file::NameTable;
use super::file::{BeadFile, SizeFile};
use super::limit;
use super::source::Field;
use crate::beadwork::bead::{self, BeadKind, BeadSize};
use crate::clean::clean;
use crate::problem::{Problem, quoted};

/// Reads the beads, in the order of the file.
pub(super) fn read(table: &NameTable<BeadFile>, at: Field) -> Vec<BeadKind> {
    if table.0.len() > limit::BEAD_KINDS {
        at.refuse(
            format!(
                "{} kinds of bead; {} is the most",
                table.0.len(),
                limit::BEAD_KINDS
            ),
            "take out beads that no colour word uses",
        );
    }
    let read = |(key, file): (&str, &BeadFile)| {
        let at = at.key(key);
        let letter = letter(key);
        if letter.is_none() {
            at.note_name(Problem::new(
                format!("{} is not one letter", quoted(key)),
                "name the bead by a single letter such as \"S\"; its full name goes into \"name\"",
            ));
        }
        let name = clean(&file.name);
        if name.is_empty() {
            at.key("name").refuse(
                "this name has nothing that can be seen",
                "write a name, such as \"sea green\"",
            );
        }
        let size = size(&file.size, at.key("size"));
        Some(BeadKind {
            letter: letter?,
            name,
            size: size?,
            colour: file.colour.0,
        })
    };
    table.iter().filter_map(read).collect()
}

/// The letters that the file gives its beads, whatever else is wrong with them,
/// so that colour words with a faulty bead are not reported as well.
pub(super) fn letters(table: &NameTable<BeadFile>) -> Letters {
    let letters = table.iter().filter_map(|(key, _)| letter(key));
    Letters(letters.take(limit::BEAD_KINDS).collect())
}

/// A key that is one letter and one character wide.
fn letter(key: &str) -> Option<char> {
    let mut chars = key.chars();
    let letter = chars.next().filter(|c| c.is_alphabetic())?;
    (chars.next().is_none() && letter.width() == Some(1)).then_some(letter)
}

fn size(file: &SizeFile, at: Field) -> Option<BeadSize> {
    let measured = match file {
        SizeFile::Named(name) => return bead::preset(&name.0),
        SizeFile::Measured(measured) => measured,
    };
    let like = measured
        .name
        .as_ref()
        .and_then(|name| bead::preset(&name.0));
    let measure = |name, given: Option<f64>, usual: fn(BeadSize) -> f64| {
        measure(name, given.or(like.map(usual)), at)
    };
    let width = |given: Option<super::file::Width>| given.map(|width| width.0);
    let diameter = measure("diameter_mm", width(measured.diameter_mm), |s| {
        s.diameter_mm
    });
    let length = measure("length_mm", width(measured.length_mm), |s| s.length_mm);
    let hole = measure("hole_mm", width(measured.hole_mm), |s| s.hole_mm);
    let per_gram = measured.per_gram.map(|number| number.0);
    let per_gram = measure("per_gram", per_gram, |s| s.per_gram);
    let size = BeadSize {
        diameter_mm: diameter?,
        length_mm: length?,
        hole_mm: hole?,
        per_gram: per_gram?,
    };
    if size.hole_mm >= size.diameter_mm {
        at.key("hole_mm").refuse(
            format!(
                "a hole of {} mm in a bead {} mm across",
                size.hole_mm, size.diameter_mm
            ),
            "measure again: the hole must be narrower than the bead",
        );
    }
    Some(size)
}

/// A measure that is given; otherwise it is noted as missing.
pub(super) fn measure(name: &str, found: Option<f64>, at: Field) -> Option<f64> {
    if found.is_none() {
        at.refuse(
            format!("the field '{name}' is missing, and no \"name\" gives it"),
            format!("add \"{name}\", or a \"name\" to take it from"),
        );
    }
    found
}
