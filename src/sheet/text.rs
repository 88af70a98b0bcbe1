//! The handout as plain text of 80 columns or fewer.

use unicode_width::UnicodeWidthStr;

use super::Sheet;
use super::html::{names, times};
use super::panel::PanelKind;

/// Columns of a line at most.
const WIDTH: usize = 80;

/// Rounds drawn in letters at most, and beads on a side of them.
const DRAWN: (usize, u32) = (60, 34);

/// A page being written.
#[derive(Default)]
struct Page {
    text: String,
}

/// The page.
pub fn page(sheet: &Sheet) -> String {
    let mut page = Page::default();
    page.line(&sheet.title);
    page.line(&"=".repeat(sheet.title.width().min(WIDTH)));
    for paragraph in sheet.about.lines() {
        page.wrapped("", "", paragraph);
    }
    page.heading("Take care");
    for line in sheet.cautions {
        page.wrapped("- ", "  ", line);
    }
    page.materials(sheet);
    for panel in &sheet.panels {
        page.panel(panel);
    }
    page.meetings(sheet);
    page.joins(sheet);
    page.stages(sheet);
    page.text
}

impl Page {
    fn line(&mut self, line: &str) {
        match line.width() > WIDTH {
            true => self.wrapped("", "", line),
            false => {
                self.text.push_str(line.trim_end());
                self.text.push('\n');
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
            self.text.push_str(line.trim_end());
            self.text.push('\n');
        }
    }

    fn heading(&mut self, heading: &str) {
        self.text.push('\n');
        self.line(heading);
        self.line(&"-".repeat(heading.width().min(WIDTH)));
    }

    fn materials(&mut self, sheet: &Sheet) {
        self.heading("What you need");
        for bead in &sheet.beads {
            let words = format!(
                "{}: {} beads, {:.1} g; buy {:.1} g",
                bead.name, bead.count, bead.grams, bead.buy_grams
            );
            self.wrapped(&format!("{}  ", bead.letter), "   ", &words);
        }
        let all = format!(
            "In all {} beads; {} % over are reckoned in what to buy.",
            sheet.total_beads, sheet.spare_percent
        );
        self.wrapped("", "", &all);
        for (what, words) in &sheet.facts {
            self.wrapped("", "    ", &format!("{what}: {words}"));
        }
    }

    fn panel(&mut self, panel: &PanelKind) {
        self.heading(&format!(
            "Panel '{}': make {}",
            panel.name,
            panel.panels.len()
        ));
        self.wrapped("", "", &names(&panel.panels));
        self.wrapped(
            "",
            "",
            &format!("{} {} beads each.", panel.begins, panel.beads),
        );
        self.text.push('\n');
        for round in &panel.rounds {
            let sides = match round.each_side() {
                each if each.contains(' ') => format!("on the sides {each}"),
                each => format!("{each} on each side"),
            };
            let words = format!(
                "{}. Count {}, {sides}; {} in all.",
                round.how, round.beads, round.total
            );
            self.wrapped(
                &format!("[ ] round {:>3}  ", round.round),
                &" ".repeat(15),
                &words,
            );
            let indent = " ".repeat(15);
            self.wrapped(
                &indent,
                &" ".repeat(17),
                &format!("Colours of a side: {}", round.colours),
            );
        }
        if panel.more_rounds > 0 {
            self.wrapped(
                "",
                "",
                &format!(
                    "{} more rounds are not printed; they go on alike.",
                    panel.more_rounds
                ),
            );
        }
        if let Some(edge) = &panel.edge {
            self.wrapped("[ ] ", "    ", edge);
        }
        self.drawing(panel);
    }

    /// Side 1 in letters, the outer edge up, where it fits.
    fn drawing(&mut self, panel: &PanelKind) {
        let widest = panel
            .side_letters
            .iter()
            .map(|(_, letters)| letters.chars().count());
        if panel.side_letters.len() > DRAWN.0 || widest.max().unwrap_or(0) > DRAWN.1 as usize {
            return;
        }
        self.text.push('\n');
        self.line("Side 1, the outer edge up, each bead as its letter:");
        for (round, letters) in &panel.side_letters {
            let spaced: Vec<String> = letters.chars().map(String::from).collect();
            let row = spaced.join(" ");
            let middle = (70 - row.width()) / 2;
            self.line(&format!("{round:>5}  {}{row}", " ".repeat(middle)));
        }
    }

    fn meetings(&mut self, sheet: &Sheet) {
        if sheet.meetings.is_empty() {
            return;
        }
        self.heading("Which sides meet");
        self.wrapped(
            "",
            "",
            "Number and name of the face, and the side; the first side carries the join row.",
        );
        for meeting in &sheet.meetings {
            let words = format!("{}  meets  {}", meeting.carrier, meeting.others.join("; "));
            self.wrapped("- ", "    ", &words);
        }
        if sheet.more_meetings > 0 {
            self.wrapped(
                "",
                "",
                &format!(
                    "{} more joins are not printed; they go on alike.",
                    sheet.more_meetings
                ),
            );
        }
    }

    fn joins(&mut self, sheet: &Sheet) {
        if sheet.joins.is_empty() {
            return;
        }
        self.heading("The joins");
        for join in &sheet.joins {
            self.wrapped(
                "* ",
                "  ",
                &format!("{} ({})", join.title, times(join.times)),
            );
            for words in &join.words {
                self.wrapped("  ", "  ", words);
            }
        }
    }

    fn stages(&mut self, sheet: &Sheet) {
        self.heading("Stage by stage");
        for stage in &sheet.stages {
            let words = format!(
                "{}. {} {} beads, {} in the piece.",
                stage.title, stage.words, stage.beads, stage.total
            );
            self.wrapped(
                &format!("[ ] {:>3}  ", stage.number),
                &" ".repeat(9),
                &words,
            );
        }
        if sheet.more_stages > 0 {
            self.wrapped(
                "",
                "",
                &format!(
                    "{} more stages are not printed; they go on alike.",
                    sheet.more_stages
                ),
            );
        }
    }
}
