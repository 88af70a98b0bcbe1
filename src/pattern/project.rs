//! From the types of the file to a [`Project`] that can be sewn.

use super::Pattern;
use super::beads;
use super::file::File;
use super::make;
use super::panel;
use super::source::Field;
use super::thread;
use crate::beadwork::Project;
use crate::clean::{clean, clean_lines};

/// Checks all of a file, and notes what is wrong. Nothing, if something is.
pub(super) fn read(file: &File, top: Field) -> Option<Pattern> {
    let title = clean(&file.title);
    if title.is_empty() {
        let at = top.key("title");
        at.refuse("this text is empty", "write something here");
    }
    let letters = beads::letters(&file.beads);
    let beads = beads::read(&file.beads, top.key("beads"));
    let at = top.key("thread");
    let thread = thread::thread(&file.thread, at);
    let needle = thread::needle(&file.needle)?;
    thread::lasts(&beads, thread, at);
    thread::fit(&file.beads, &beads, thread, needle, top.key("beads"));
    let kinds = panel::read(&file.panels, &letters, top.key("panels"));
    let made = make::read(&file.make, &kinds, top.key("make"));
    if let Some(made) = &made {
        thread::suffice(made.beads, &beads, thread, at);
    }
    let panels = kinds.into_iter().map(|kind| kind.spec);
    Some(Pattern {
        title,
        about: clean_lines(file.about.as_deref().unwrap_or_default()),
        project: Project {
            beads,
            thread: thread?,
            needle,
            panels: panels.collect::<Option<Vec<_>>>()?,
            make: made?.make,
        },
    })
}
