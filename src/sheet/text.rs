//! The handout as plain text, at most 80 columns wide.

use askama::Template;
use unicode_width::UnicodeWidthStr;

use super::Sheet;
use super::panel::PanelOnPaper;
use super::stage::StageLine;
use super::template::rendered;
use crate::words::care::{ADVICE, CAUTIONS};

/// The most columns of a line.
const WIDTH: usize = 80;

/// The most check boxes on a line.
const BOXES: usize = 8;

/// The most rounds drawn in letters, and the most beads on a side of them.
const DRAWN: (usize, usize) = (60, 34);

#[derive(Template)]
#[template(path = "sheet/handout.txt", config = "src/askama.toml")]
struct TextPage<'a> {
    sheet: &'a Sheet,
}

/// The page.
pub fn page(sheet: &Sheet) -> String {
    rendered(&TextPage { sheet }) + "\n"
}

/// The line under a heading.
fn rule(sign: &str, heading: &str) -> String {
    sign.repeat(heading.width().min(WIDTH))
}

/// What the template can do with text.
mod filters {
    use std::fmt::Display;

    use textwrap::{WordSeparator, WordSplitter};

    /// Lines of at most 80 columns, all but the first indented.
    #[askama::filter_fn]
    pub fn hung(
        text: impl Display,
        _: &dyn askama::Values,
        indent: usize,
    ) -> askama::Result<String> {
        let indent = " ".repeat(indent);
        let options = textwrap::Options::new(super::WIDTH)
            .subsequent_indent(&indent)
            .word_separator(WordSeparator::AsciiSpace)
            .word_splitter(WordSplitter::NoHyphenation);
        let text = text.to_string();
        let lines = textwrap::wrap(&text, options);
        let lines: Vec<&str> = lines.iter().map(|line| line.trim_end()).collect();
        Ok(lines.join("\n"))
    }
}

/// Side 1 in letters, with the outer edge at the top, if it fits.
fn in_letters(panel: &PanelOnPaper) -> Vec<String> {
    let letters = panel.side_letters.iter().map(|(_, l)| l.chars().count());
    let widest = letters.max().unwrap_or(0);
    if panel.side_letters.len() > DRAWN.0 || widest > DRAWN.1 {
        return vec![];
    }
    let row = |(round, letters): &(u32, String)| {
        let spaced: Vec<String> = letters.chars().map(String::from).collect();
        let row = spaced.join(" ");
        // The columns of odd rows lie between the columns of even rows.
        let row = match panel.is_strip() {
            true if round % 2 == 1 => format!(" {row}"),
            true => format!("{row} "),
            false => row,
        };
        let middle = " ".repeat((70_usize.saturating_sub(row.width())) / 2);
        format!("{round:>5}  {middle}{row}").trim_end().to_string()
    };
    panel.side_letters.iter().map(row).collect()
}

/// Lines of check boxes for the other stages that a line stands for.
fn more_boxes(stage: &StageLine) -> Vec<String> {
    let boxes = (stage.number + 1..=stage.last).map(|number| format!("[ ] {number:<4}"));
    let boxes: Vec<String> = boxes.collect();
    let lines = boxes.chunks(BOXES).map(|line| line.concat());
    lines.map(|line| line.trim_end().to_string()).collect()
}
