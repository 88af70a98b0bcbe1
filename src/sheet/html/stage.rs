//! The stages of the work with their boxes.

use super::{Page, STAGES};
use crate::beadwork::plural;

/// A list of so few stages is not parted by the end of a page.
const KEPT: usize = 10;

impl Page<'_> {
    pub(super) fn stages(&mut self) {
        let sheet = self.sheet;
        let class = match sheet.stages.len() {
            ..=KEPT => "keep",
            _ => "",
        };
        self.part(STAGES, class);
        self.table(
            "The work in order; tick what is done and counted",
            &[
                ("Done", "short"),
                ("Stage", "stage"),
                ("What to do, and what to count", ""),
                ("Beads", "n"),
                ("In the piece", "n"),
            ],
        );
        for stage in &sheet.stages {
            self.m.open("tr", &[]);
            self.m.open("td", &[("class", "short")]);
            let number = stage.number.to_string();
            self.tick(&format!("stage {number}: {}", stage.title), &number);
            self.m.close();
            self.m.say("th", &[("scope", "row")], &stage.title);
            self.m.say("td", &[], &stage.words);
            self.number(stage.beads);
            self.number(stage.total);
            self.m.close();
            self.m.line();
        }
        self.end_table();
        if let Some(more) = sheet.more_stages_words() {
            self.m.say("p", &[], &more);
        }
        self.m.close();
    }

    pub(super) fn foot(&mut self) {
        self.m.line();
        self.m.open("footer", &[]);
        let sheet = self.sheet;
        let words = format!(
            "{}: {} beads in {}.",
            sheet.title,
            sheet.total_beads,
            plural(sheet.stages.len() + sheet.more_stages, "stage")
        );
        self.m.say("p", &[], &words);
        self.m.close();
    }
}
