//! Reads a pattern: from a file or from bytes.

use std::io::{self, Read};
use std::path::Path;

use jsonc_parser::ast::Value;
use serde::Deserialize;

use super::file::File;
use super::node::Node;
use super::own;
use super::source::{Field, Source};
use super::{Pattern, beads, json, limit, make, panel, thread};
use crate::beadwork::Project;
use crate::clean::{clean, clean_lines};
use crate::plain_file;
use crate::problem::{Problem, Problems, shown};

/// Reads the pattern file at `path`.
///
/// # Errors
/// The file cannot be read, or everything that is wrong with it.
pub fn load(path: impl AsRef<Path>) -> Result<Pattern, Problems> {
    let path = path.as_ref();
    let name = path.display().to_string();
    let bytes = bytes(path).map_err(|error| {
        let what = format!("the file cannot be read: {}", plain_file::reason(&error));
        let mend = "check the name, and that you may read the file";
        Problem::new(what, mend).at(&name, None, "")
    })?;
    read(&name, &bytes)
}

/// The bytes of a file; for one that is too large, just enough to show that it
/// is.
fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let most = limit::FILE_BYTES as u64 + 1;
    plain_file::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Reads the bytes of a pattern file; messages refer to it as `file_name`.
///
/// # Errors
/// Everything that is wrong with it.
pub fn read(file_name: &str, bytes: &[u8]) -> Result<Pattern, Problems> {
    both(file_name, bytes).map(|(_, pattern)| pattern)
}

/// The file as it is written, and the pattern it gives.
///
/// # Errors
/// As [`read`].
pub(super) fn both(file_name: &str, bytes: &[u8]) -> Result<(File, Pattern), Problems> {
    let text = json::text(file_name, bytes)?;
    let source = json::parse(file_name, text)?;
    let file = file(&source);
    let pattern = file.and_then(|file| {
        let pattern = project(&file, Field::top(&source))?;
        Some((file, pattern))
    });
    source.or_problems(pattern)
}

/// The file as it is written, if its form is correct.
pub(super) fn file(source: &Source) -> Option<File> {
    if let Some(problem) = other_version(source) {
        // Nothing else can be said about another version.
        Field::top(source).key("threadmark").note(problem);
        return None;
    }
    let file = File::deserialize(Node::top(source)).ok();
    file.filter(|_| source.problems() == 0)
}

/// Reports a version of the format that this program does not know.
fn other_version(source: &Source) -> Option<Problem> {
    let Value::Object(top) = &source.top else {
        return None;
    };
    let version = top.get_number("threadmark")?.value;
    let (found, known) = (shown(version), "this threadmark knows version 1");
    match version.parse::<u64>() {
        Ok(1) => None,
        Ok(2..) => Some(Problem::new(
            format!("the pattern is of format version {found}; {known}"),
            "open it with a newer threadmark",
        )),
        _ => Some(Problem::new(
            format!("there is no format version {found}; {known}"),
            "write \"threadmark\": 1",
        )),
    }
}

/// Checks all of a file, and reports what is wrong. `None` if something is.
fn project(file: &File, top: Field) -> Option<Pattern> {
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
    let fills = make::worked_on_rims(&file.make);
    let kinds = panel::read(&file.panels, &fills, &letters, top.key("panels"));
    let joins = file.joins.as_ref().map_or(&[][..], |joins| &joins.0);
    let made = make::read(&file.make, joins, &kinds, top.key("make"));
    if let Some(made) = &made {
        thread::suffice(made.beads, &beads, thread, at);
    }
    let panels = kinds.into_iter().map(|kind| kind.spec);
    let mut project = Project {
        beads,
        thread: thread?,
        needle,
        panels: panels.collect::<Option<Vec<_>>>()?,
        insert: made.as_ref()?.insert.clone(),
        make: made?.make,
        own: vec![],
        joins: vec![],
    };
    panel::stones_are_held(&project, top.key("panels"));
    if let (Some(steps), 0) = (&file.own, top.problems()) {
        project.own = own::read(&steps.0, &project, top.key("own"));
    }
    if let (Some(joins), 0) = (&file.joins, top.problems()) {
        project.joins = own::joins(&joins.0, &project, top.key("joins"));
    }
    Some(Pattern {
        title,
        about: clean_lines(file.about.as_deref().unwrap_or_default()),
        project,
    })
}
