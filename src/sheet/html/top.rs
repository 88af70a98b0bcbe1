//! Title, cautions, what the piece takes, how to read the drawings, what helps.

use glam::DVec2;

use super::{FACES, HELP, JOINS, NEED, Page, READ, STAGES};
use crate::sheet::svg::{self, Place};
use crate::words::care::ADVICE;
use crate::words::care::CAUTIONS;

impl Page<'_> {
    pub(super) fn top(&mut self) {
        let sheet = self.sheet;
        self.m.open("header", &[]);
        self.m.say("h1", &[], &sheet.title);
        for paragraph in sheet.about.lines().filter(|l| !l.trim().is_empty()) {
            self.m.say("p", &[("class", "about")], paragraph);
        }
        self.m.open("p", &[("class", "who")]);
        for what in ["Name", "Begun on"] {
            self.m.text(what);
            self.m.text(" ");
            self.m.say("span", &[], "\u{a0}");
        }
        self.m.close();
        self.m.close();
    }

    /// Links to the parts, for a screen; paper has page numbers.
    pub(super) fn contents(&mut self) {
        let sheet = self.sheet;
        let mut links = vec![NEED, READ, HELP]
            .into_iter()
            .map(owned)
            .collect::<Vec<_>>();
        links.extend(sheet.net.as_ref().map(|_| owned(FACES)));
        for (nth, panel) in sheet.panels.iter().enumerate() {
            links.push((panel_id(nth), panel_heading(&panel.name)));
        }
        links.extend((!sheet.joins.is_empty()).then(|| owned(JOINS)));
        links.extend([STAGES, HELP].map(owned));
        self.m.line();
        self.m.open("nav", &[("aria-label", "Contents")]);
        self.m.open("ul", &[]);
        for (id, heading) in links {
            self.m.open("li", &[]);
            self.m.say("a", &[("href", &format!("#{id}"))], &heading);
            self.m.close();
        }
        self.m.close();
        self.m.close();
    }

    pub(super) fn care(&mut self) {
        self.part(("care", "Take care"), "care");
        self.m.open("ul", &[]);
        for line in CAUTIONS {
            self.m.say("li", &[], line);
        }
        self.m.close();
        self.m.close();
    }

    pub(super) fn need(&mut self) {
        let sheet = self.sheet;
        self.part(NEED, "");
        self.table(
            &format!(
                "Beads: {} in all; {} % over are reckoned in what to buy",
                sheet.total_beads, sheet.spare_percent
            ),
            &[
                ("Letter", "short"),
                ("Colour", ""),
                ("Size", ""),
                ("Beads", "n"),
                ("Grams", "n"),
                ("Buy", "n"),
            ],
        );
        for bead in &sheet.beads {
            let m = &mut self.m;
            m.open("tr", &[]);
            m.open("th", &[("scope", "row"), ("class", "short")]);
            m.open(
                "svg",
                &[
                    ("xmlns", "http://www.w3.org/2000/svg"),
                    ("class", "swatch"),
                    ("role", "img"),
                    ("aria-label", &format!("bead {}", bead.letter)),
                    ("width", "5mm"),
                    ("height", "5mm"),
                    ("viewBox", "0 0 6 6"),
                    ("font-family", "sans-serif"),
                ],
            );
            m.say("title", &[], &format!("bead {}", bead.letter));
            svg::swatch(m, DVec2::new(3.0, 3.0), bead.colour, bead.letter);
            m.close();
            m.close();
            m.say("td", &[], &bead.name);
            m.say("td", &[], &bead.size);
            self.number(bead.count);
            self.number(format!("{:.1} g", bead.grams));
            self.number(format!("{:.1} g", bead.buy_grams));
            self.m.close();
            self.m.line();
        }
        self.end_table();
        self.m.open("dl", &[("class", "facts")]);
        for (what, words) in &sheet.facts {
            self.m.say("dt", &[], what);
            self.m.say("dd", &[], words);
            self.m.line();
        }
        self.m.close();
        self.m.close();
    }

    pub(super) fn legend(&mut self) {
        self.part(READ, "");
        self.m.open("dl", &[("class", "facts legend")]);
        for line in &self.sheet.legend {
            self.m.open("dt", &[]);
            if let Some(sign) = &line.sign {
                svg::inside(&mut self.m, sign, "", Place::Beside);
            }
            self.m.say("span", &[("class", "name")], line.name);
            self.m.close();
            self.m.say("dd", &[], &line.words);
            self.m.line();
        }
        self.m.close();
        self.m.close();
    }

    /// Whether what helps is printed early: on the first page, or over the
    /// drawing of the faces. Before a panel that takes a page for itself it would
    /// stand alone on one.
    pub(super) fn help_fits(&self) -> bool {
        /// Lines of the lists before it that leave it room on the first page.
        const LINES: usize = 15;
        let sheet = self.sheet;
        let lines = sheet.beads.len() + sheet.facts.len() + sheet.legend.len();
        sheet.net.is_some() || lines <= LINES
    }

    pub(super) fn help(&mut self) {
        self.part(HELP, "keep");
        self.m.open("ul", &[]);
        for line in ADVICE {
            self.m.say("li", &[], line);
        }
        self.m.close();
        self.m.close();
    }
}

fn owned((id, heading): (&str, &str)) -> (String, String) {
    (id.to_string(), heading.to_string())
}

/// The name by which a kind of panel is linked.
pub(super) fn panel_id(nth: usize) -> String {
    format!("panel-{}", nth + 1)
}

/// The heading of a kind of panel.
pub(super) fn panel_heading(name: &str) -> String {
    format!("Panel '{name}'")
}
