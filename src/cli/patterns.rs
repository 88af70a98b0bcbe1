//! `patterns`: the available patterns, easiest first.

use std::io::Write;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::Format;
use super::source::FoundPattern;
use super::table::{Align, Table};
use super::{out, shipped, source};
use crate::beadwork::Sequence;
use crate::clean::clean;
use crate::plan::json::thousandths;
use crate::plan::level::Level;
use crate::plan::page::hours;
use crate::plan::{pace, size, walk::Walk};

/// The most pattern files that are read in the current directory.
const MAX_FILES: usize = 100;

/// One pattern as `patterns --json` prints it; docs/outputs.md says what each
/// field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "A line of patterns --json")]
pub(super) struct PatternLine {
    format: Format,
    #[schemars(length(min = 1))]
    pattern: String,
    own_file: bool,
    title: String,
    about: String,
    #[schemars(extend("enum" = Level::ALL.map(Level::name)))]
    level: &'static str,
    #[schemars(extend("exclusiveMinimum" = 0))]
    edge_mm: f64,
    #[schemars(extend("exclusiveMinimum" = 0))]
    through_mm: Option<f64>,
    #[schemars(range(min = 1))]
    total_beads: u32,
    #[schemars(range(min = 0))]
    minutes: f64,
}

/// Runs the command.
///
/// # Errors
/// The output cannot be written.
pub(super) fn run(args: &args::PatternsArgs) -> Result<CommandEnd, Failure> {
    let ours = shipped::names().map(String::from);
    let patterns = easiest_first(ours.chain(own_files()));
    out::answer(args.json, &patterns, |out| text(&patterns, out))
}

/// The patterns of these names; those that cannot be sewn are left out.
fn easiest_first(names: impl Iterator<Item = String>) -> Vec<PatternLine> {
    let mut patterns: Vec<(Level, PatternLine)> = names
        .filter_map(|name| Some(line(name.clone(), source::pattern(&name).ok()?)))
        .collect();
    patterns.sort_by(|(a, x), (b, y)| a.cmp(b).then(x.minutes.total_cmp(&y.minutes)));
    patterns.into_iter().map(|(_, line)| line).collect()
}

/// JSON files of the current directory, in order. Those that are not patterns,
/// or cannot be sewn, are left out later.
fn own_files() -> Vec<String> {
    let entries = std::fs::read_dir(".").into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names
        .filter(|name| name.ends_with(".json") && clean(name) == *name)
        .collect();
    names.sort();
    names.truncate(MAX_FILES);
    names
}

fn line(name: String, found: FoundPattern) -> (Level, PatternLine) {
    let pattern = found.pattern;
    let seq = Sequence::new(pattern.project);
    let size = size::size(&seq);
    let minutes = pace::of_piece(&Walk::over(&seq), pace::STITCH);
    let level = Level::of(&seq.layout().project().make, minutes);
    let line = PatternLine {
        format: Format,
        pattern: name,
        own_file: found.file.is_some(),
        title: pattern.title,
        about: clean(&pattern.about),
        level: level.name(),
        edge_mm: thousandths(size.edge_mm),
        through_mm: size.through_mm.map(thousandths),
        total_beads: seq.layout().beads(),
        minutes: thousandths(minutes),
    };
    (level, line)
}

/// A line of figures for each pattern, and below it the first sentence of its
/// description.
fn text(patterns: &[PatternLine], out: &mut dyn Write) -> Result<(), Failure> {
    let mut table = Table::new([
        ("pattern", Align::Left),
        ("title", Align::Left),
        ("mm", Align::Right),
        ("beads", Align::Right),
        ("time", Align::Right),
        ("level", Align::Left),
    ]);
    for line in patterns {
        table.push([
            line.pattern.clone(),
            line.title.clone(),
            format!("{:.0}", line.through_mm.unwrap_or(line.edge_mm)),
            line.total_beads.to_string(),
            hours(line.minutes),
            line.level.into(),
        ]);
    }
    let mut rows = Vec::new();
    table.write(&mut rows)?;
    let rows = String::from_utf8_lossy(&rows);
    let abouts = patterns.iter().map(|line| line.about.as_str());
    for (row, about) in rows.lines().zip(std::iter::once("").chain(abouts)) {
        writeln!(out, "{row}")?;
        if about.is_empty() {
            continue;
        }
        let first = about.split_inclusive(['.', ':']).next().unwrap_or_default();
        let options = textwrap::Options::new(78).initial_indent("      ");
        for line in textwrap::wrap(
            first.trim_end_matches(':'),
            options.subsequent_indent("      "),
        ) {
            writeln!(out, "{line}")?;
        }
    }
    writeln!(
        out,
        "`threadmark stitch PATTERN` goes on with one, or begins it."
    )?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The tray shows them in this fixed order instead of planning them all.
    #[test]
    fn the_patterns_of_the_program_are_listed_easiest_first() {
        let lines = easiest_first(shipped::names().map(String::from));
        let names: Vec<String> = lines.into_iter().map(|line| line.pattern).collect();
        assert_eq!(names, shipped::EASIEST_FIRST);
    }
}
