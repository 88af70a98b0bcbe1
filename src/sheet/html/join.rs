//! How the faces lie, which sides meet, and the kinds of join.

use super::{FACES, JOINS, Page};

impl Page<'_> {
    pub(super) fn faces(&mut self) {
        let sheet = self.sheet;
        let Some(net) = &sheet.net else { return };
        self.part(FACES, "");
        self.drawing(net);
        self.m.say("h3", &[], "Which sides meet");
        self.m.say(
            "p",
            &[],
            "Number and name of a face, and its side. The first of each carries the join row.",
        );
        self.m.open("ul", &[("class", "meetings")]);
        for meeting in &sheet.meetings {
            self.m.say("li", &[], &meeting.words());
            self.m.line();
        }
        self.m.close();
        if let Some(more) = sheet.more_meetings_words() {
            self.m.say("p", &[], &more);
        }
        self.m.close();
    }

    pub(super) fn joins(&mut self) {
        let sheet = self.sheet;
        if sheet.joins.is_empty() {
            return;
        }
        self.part(JOINS, "joins");
        for join in &sheet.joins {
            self.m.open("div", &[("class", "keep")]);
            let heading = format!("{} ({})", join.title, join.times_words());
            self.m.say("h3", &[], &heading);
            for words in &join.words {
                self.m.say("p", &[], words);
            }
            if let Some(drawing) = &join.drawing {
                self.drawing(drawing);
            }
            self.m.close();
            self.m.line();
        }
        self.m.close();
    }
}
