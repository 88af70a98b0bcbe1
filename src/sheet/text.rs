//! The handout as plain text, at most 80 columns wide.

use unicode_width::UnicodeWidthStr;

use super::panel::PanelOnPaper;
use super::{Sheet, TECHNIQUES, WORDS};
use crate::beadwork::plural;
use crate::words::care::{ADVICE, CAUTIONS};

/// The most columns of a line.
const WIDTH: usize = 80;

/// The most check boxes on a line.
const BOXES: usize = 8;

/// The most rounds drawn in letters, and the most beads on a side of them.
const DRAWN: (usize, usize) = (60, 34);

/// The text of a page being written.
#[derive(Default)]
struct TextPage(String);

/// The page.
pub fn page(sheet: &Sheet) -> String {
    let mut page = TextPage::default();
    page.line(&sheet.title);
    page.line(&"=".repeat(sheet.title.width().min(WIDTH)));
    for paragraph in sheet.about.lines() {
        page.paragraph(paragraph);
    }
    page.heading("Take care");
    for line in CAUTIONS {
        page.wrapped("- ", "  ", line);
    }
    page.materials(sheet);
    page.heading("If something is wrong");
    for line in ADVICE {
        page.wrapped("- ", "  ", line);
    }
    page.legend(sheet);
    page.techniques(sheet);
    for panel in &sheet.panels {
        page.panel(panel);
    }
    page.meetings(sheet);
    page.joins(sheet);
    page.stages(sheet);
    page.0
}

impl TextPage {
    fn line(&mut self, line: &str) {
        match line.width() > WIDTH {
            true => self.wrapped("", "", line),
            false => {
                self.0.push_str(line.trim_end());
                self.0.push('\n');
            }
        }
    }

    fn wrapped(&mut self, first: &str, rest: &str, text: &str) {
        let options = textwrap::Options::new(WIDTH)
            .initial_indent(first)
            .subsequent_indent(rest)
            .word_separator(textwrap::WordSeparator::AsciiSpace)
            .word_splitter(textwrap::WordSplitter::NoHyphenation);
        for line in textwrap::wrap(text, options) {
            self.0.push_str(line.trim_end());
            self.0.push('\n');
        }
    }

    fn paragraph(&mut self, text: &str) {
        self.wrapped("", "", text);
    }

    fn heading(&mut self, heading: &str) {
        self.0.push('\n');
        self.line(heading);
        self.line(&"-".repeat(heading.width().min(WIDTH)));
    }

    fn materials(&mut self, sheet: &Sheet) {
        self.heading("What you need");
        for bead in &sheet.beads {
            let words = format!(
                "{}, {}: {} beads, {:.1} g; buy {:.1} g",
                bead.name, bead.size, bead.count, bead.grams, bead.buy_grams
            );
            self.wrapped(&format!("{}  ", bead.letter), "   ", &words);
        }
        self.paragraph(&format!(
            "In all {} beads; what to buy includes {} % spare.",
            sheet.total_beads, sheet.spare_percent
        ));
        for (what, words) in &sheet.facts {
            self.wrapped("", "    ", &format!("{what}: {words}"));
        }
    }

    fn techniques(&mut self, sheet: &Sheet) {
        self.heading(TECHNIQUES);
        for technique in &sheet.techniques {
            self.wrapped(
                "",
                "    ",
                &format!("{}: {}", technique.name, technique.words),
            );
        }
        self.heading(WORDS);
        for word in &sheet.words {
            self.wrapped("", "    ", &format!("{}: {}", word.word, word.in_short()));
        }
    }

    fn panel(&mut self, panel: &PanelOnPaper) {
        let made = panel.panels.len();
        self.heading(&format!("Panel '{}': make {made}", panel.name));
        self.paragraph(&panel.become_words());
        let beads = match made {
            1 => format!("{} beads.", panel.beads),
            _ => format!("{} beads each.", panel.beads),
        };
        self.paragraph(&format!("{} {beads}", panel.begins));
        self.0.push('\n');
        let indent = " ".repeat(15);
        for round in &panel.rounds {
            let sides = match round.each_side() {
                _ if round.per_side.len() == 1 => String::new(),
                each if each.contains(' ') => format!(", on the sides {each}"),
                each => format!(", {each} on each side"),
            };
            let first = format!("[ ] round {:>3}  ", round.round);
            let words = format!(
                "{}. Count {}{sides}; {} in all.",
                round.how, round.beads, round.total
            );
            self.wrapped(&first, &indent, &words);
            if !round.pick_up.is_empty() {
                let beads = format!("Pick up: {}", round.pick_up);
                self.wrapped(&indent, &" ".repeat(17), &beads);
            }
        }
        self.more(panel.more_words());
        if let Some(edge) = &panel.edge {
            self.wrapped("[ ] ", "    ", edge);
        }
        self.drawing(panel);
    }

    fn more(&mut self, words: Option<String>) {
        if let Some(words) = words {
            self.paragraph(&words);
        }
    }

    /// Side 1 in letters, with the outer edge at the top, if it fits.
    fn drawing(&mut self, panel: &PanelOnPaper) {
        let letters = panel.side_letters.iter().map(|(_, l)| l.chars().count());
        let widest = letters.max().unwrap_or(0);
        if panel.side_letters.len() > DRAWN.0 || widest > DRAWN.1 {
            return;
        }
        self.0.push('\n');
        let is_strip = panel.rounds.first().is_some_and(|r| r.per_side.len() == 1);
        self.paragraph(match is_strip {
            true => "As it lies, row 1 below, each bead as its letter:",
            false => "Side 1, the outer edge up, each bead as its letter:",
        });
        for (round, letters) in &panel.side_letters {
            let spaced: Vec<String> = letters.chars().map(String::from).collect();
            let row = spaced.join(" ");
            // The columns of odd rows lie between the columns of even rows.
            let row = match is_strip {
                true if round % 2 == 1 => format!(" {row}"),
                true => format!("{row} "),
                false => row,
            };
            let middle = (70_usize.saturating_sub(row.width())) / 2;
            self.line(&format!("{round:>5}  {}{row}", " ".repeat(middle)));
        }
    }

    fn meetings(&mut self, sheet: &Sheet) {
        if sheet.meetings.is_empty() {
            return;
        }
        self.heading("Which sides meet");
        self.paragraph(
            "Number and name of a face, and its side. The first of each carries the join row.",
        );
        for meeting in &sheet.meetings {
            self.wrapped("- ", "    ", &meeting.words());
        }
        self.more(sheet.more_meetings_words());
    }

    fn joins(&mut self, sheet: &Sheet) {
        if sheet.joins.is_empty() {
            return;
        }
        self.heading("The joins");
        for join in &sheet.joins {
            let heading = format!("{} ({})", join.title, join.times_words());
            self.wrapped("* ", "  ", &heading);
            for words in &join.words {
                self.wrapped("  ", "  ", words);
            }
        }
    }

    fn stages(&mut self, sheet: &Sheet) {
        self.heading("Stage by stage");
        for stage in &sheet.stages {
            let words = format!(
                "{}. {} {}, {} in the piece.",
                stage.title,
                stage.words,
                plural(stage.beads as usize, "bead"),
                stage.total
            );
            let first = format!("[ ] {:>3}  ", stage.number);
            self.wrapped(&first, &" ".repeat(9), &words);
            let more: Vec<String> = (stage.number + 1..=stage.last)
                .map(|number| format!("[ ] {number:<4}"))
                .collect();
            for boxes in more.chunks(BOXES) {
                self.line(&format!("{}{}", " ".repeat(9), boxes.concat()));
            }
        }
        self.more(sheet.more_stages_words());
    }

    /// Explains the signs of the lists, not those of the drawings.
    fn legend(&mut self, sheet: &Sheet) {
        self.heading("How to read the lists");
        for line in sheet.legend.iter().filter(|line| line.sign.is_none()) {
            self.wrapped("", "    ", &format!("{}: {}", line.name, line.words));
        }
    }
}
