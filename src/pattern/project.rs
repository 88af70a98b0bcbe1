//! From the types of the file to a [`Project`] that can be sewn.

use super::Pattern;
use super::beads;
use super::error::Shape;
use super::faults::Faults;
use super::field::Field;
use super::file::File;
use super::make;
use super::panel;
use super::piece_size;
use super::thread;
use crate::beadwork::Project;
use crate::clean::{clean, clean_lines};

/// Reads all of it, and gathers what is wrong. Nothing, if something is.
pub(super) fn read(file: &File, faults: &mut Faults) -> Option<Pattern> {
    let title = clean(&file.title);
    if title.is_empty() {
        let empty = Shape::Length { found: 0, most: 0 };
        faults.add(&Field::Top.key("title"), empty);
    }
    let letters = beads::letters(&file.beads);
    let beads = beads::read(&file.beads, faults);
    let thread = thread::thread(&file.thread, faults);
    let needle = thread::needle(&file.needle);
    thread::lasts(&beads, thread, faults);
    thread::fit(&file.beads, &beads, thread, needle, faults);
    let kinds = panel::read(&file.panels, &letters, faults);
    let make = make::read(&file.make, &kinds, faults);
    if let Some(make) = &make {
        thread::suffice(piece_size::estimate(make, &kinds), &beads, thread, faults);
    }
    let panels = kinds.into_iter().map(|kind| kind.spec);
    Some(Pattern {
        title,
        about: clean_lines(file.about.as_deref().unwrap_or_default()),
        project: Project {
            beads,
            thread: thread?,
            needle: needle?,
            panels: panels.collect::<Option<Vec<_>>>()?,
            make: make?,
        },
    })
}
