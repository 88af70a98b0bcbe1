//! The handout as one HTML page: its drawings and its style inside, no script,
//! nothing from elsewhere. It is well-formed XML too.

use glam::DVec2;

use super::markup::Markup;
use super::panel::PanelKind;
use super::{Sheet, svg};

/// How it looks, on a screen and on paper.
const STYLE: &str = include_str!("style.css");

/// A page of headings, paragraphs, tables and drawings.
struct Page<'a> {
    sheet: &'a Sheet,
    m: Markup,
    /// Drawings written so far.
    drawings: usize,
    /// Boxes written so far.
    boxes: usize,
}

/// Boxes for one round: one for each panel of the kind, if they are not more.
const BOXES: usize = 8;

/// The page.
pub fn page(sheet: &Sheet) -> String {
    let mut page = Page {
        sheet,
        m: Markup::default(),
        drawings: 0,
        boxes: 0,
    };
    page.m.own("<!DOCTYPE html>\n");
    page.m.open(
        "html",
        &[("lang", "en"), ("xmlns", "http://www.w3.org/1999/xhtml")],
    );
    page.head();
    page.m.open("body", &[]);
    page.m.open("main", &[]);
    page.top();
    page.materials();
    page.legend();
    page.net();
    page.panels();
    page.joins();
    page.stages();
    let mut text = page.m.done();
    text.push('\n');
    text
}

impl Page<'_> {
    fn head(&mut self) {
        let m = &mut self.m;
        m.open("head", &[]);
        m.empty("meta", &[("charset", "utf-8")]);
        m.empty(
            "meta",
            &[
                ("name", "viewport"),
                ("content", "width=device-width, initial-scale=1"),
            ],
        );
        m.say("title", &[], &format!("{}: handout", self.sheet.title));
        m.open("style", &[]);
        m.own(STYLE);
        m.close();
        m.close();
        m.line();
    }

    fn heading(&mut self, text: &str) {
        self.m.line();
        self.m.say("h2", &[], text);
        self.m.line();
    }

    fn top(&mut self) {
        let sheet = self.sheet;
        self.m.say("h1", &[], &sheet.title);
        for paragraph in sheet.about.lines().filter(|l| !l.trim().is_empty()) {
            self.m.say("p", &[("class", "about")], paragraph);
        }
        self.m.open("section", &[("class", "care")]);
        self.m.say("h2", &[], "Take care");
        self.m.open("ul", &[]);
        for line in sheet.cautions {
            self.m.say("li", &[], line);
        }
        self.m.close();
        self.m.close();
    }

    fn table(&mut self, caption: &str, headings: &[(&str, &'static str)]) {
        self.m.open("table", &[]);
        self.m.say("caption", &[], caption);
        self.m.open("thead", &[]);
        self.m.open("tr", &[]);
        for (heading, class) in headings {
            self.m
                .say("th", &[("scope", "col"), ("class", class)], heading);
        }
        self.m.close();
        self.m.close();
        self.m.open("tbody", &[]);
        self.m.line();
    }

    fn end_table(&mut self) {
        self.m.close();
        self.m.close();
        self.m.line();
    }

    fn materials(&mut self) {
        let sheet = self.sheet;
        self.heading("What you need");
        self.table(
            &format!(
                "Beads: {} in all; {} % over are reckoned in what to buy",
                sheet.total_beads, sheet.spare_percent
            ),
            &[
                ("Letter", ""),
                ("Colour", ""),
                ("Across × along the hole", ""),
                ("Beads", "n"),
                ("Grams", "n"),
                ("Buy", "n"),
            ],
        );
        for bead in &sheet.beads {
            let m = &mut self.m;
            m.open("tr", &[]);
            m.open("th", &[("scope", "row")]);
            m.open(
                "svg",
                &[
                    ("xmlns", "http://www.w3.org/2000/svg"),
                    ("class", "swatch"),
                    ("role", "img"),
                    ("width", "6mm"),
                    ("height", "6mm"),
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
            m.say("td", &[("class", "n")], &bead.count.to_string());
            m.say("td", &[("class", "n")], &format!("{:.1} g", bead.grams));
            m.say("td", &[("class", "n")], &format!("{:.1} g", bead.buy_grams));
            m.close();
            m.line();
        }
        self.end_table();
        self.list(
            sheet
                .facts
                .iter()
                .map(|(what, words)| (*what, words.as_str())),
        );
    }

    fn list<'b>(&mut self, facts: impl Iterator<Item = (&'b str, &'b str)>) {
        self.m.open("dl", &[("class", "facts")]);
        for (what, words) in facts {
            self.m.say("dt", &[], what);
            self.m.say("dd", &[], words);
            self.m.line();
        }
        self.m.close();
    }

    fn legend(&mut self) {
        let sheet = self.sheet;
        self.heading("How to read the drawings");
        self.list(
            sheet
                .legend
                .iter()
                .map(|(sign, words)| (*sign, words.as_str())),
        );
    }

    fn drawing(&mut self, drawing: &super::drawing::Drawing) {
        self.drawings += 1;
        self.m.open("figure", &[]);
        svg::inside(&mut self.m, drawing, &format!("d{}", self.drawings), &[]);
        self.m.say("figcaption", &[], &drawing.desc);
        self.m.close();
        self.m.line();
    }

    /// A box to tick, with its label shown or only read out.
    fn tick(&mut self, label: &str, shown: &str) {
        self.boxes += 1;
        let id = format!("b{}", self.boxes);
        self.m.open("label", &[("for", &id)]);
        let mut attributes = vec![("type", "checkbox"), ("id", id.as_str())];
        if label != shown {
            attributes.push(("aria-label", label));
        }
        self.m.empty("input", &attributes);
        self.m.text(shown);
        self.m.close();
    }

    fn net(&mut self) {
        let sheet = self.sheet;
        let Some(net) = &sheet.net else { return };
        self.heading("How the faces lie");
        self.drawing(net);
        self.table(
            "Which sides meet: number and name of the face, and the side",
            &[("The side with the join row", ""), ("meets", "")],
        );
        for meeting in &sheet.meetings {
            self.m.open("tr", &[]);
            self.m.say("td", &[], &meeting.carrier);
            self.m.say("td", &[], &meeting.others.join("; "));
            self.m.close();
            self.m.line();
        }
        self.end_table();
        if sheet.more_meetings > 0 {
            let more = format!(
                "{} more joins are not printed; they go on alike.",
                sheet.more_meetings
            );
            self.m.say("p", &[], &more);
        }
    }

    fn panels(&mut self) {
        let sheet = self.sheet;
        for panel in &sheet.panels {
            self.m.open("section", &[("class", "panel")]);
            self.panel(panel);
            self.m.close();
        }
    }

    fn panel(&mut self, panel: &PanelKind) {
        self.heading(&format!("Panel '{}'", panel.name));
        let made = panel.panels.len();
        self.m.open("p", &[]);
        let make = match made {
            1 => "Make 1 of these".to_string(),
            n => format!("Make {n} of these"),
        };
        self.m.say("span", &[("class", "make")], &make);
        self.m.text(&format!(
            " {} beads each. {}",
            panel.beads,
            names(&panel.panels)
        ));
        self.m.close();
        self.m.say("p", &[], &panel.begins);
        self.drawing(&panel.drawing);
        self.rounds(panel);
        if let Some(edge) = &panel.edge {
            self.m.open("p", &[("class", "keep")]);
            self.m.say("strong", &[], edge);
            self.m.close();
        }
    }

    fn rounds(&mut self, panel: &PanelKind) {
        let boxes = panel.panels.len().min(BOXES);
        let caption = match panel.panels.len() {
            n if n > BOXES => format!(
                "Rounds of '{}': tick one panel here, count the others by the list of stages",
                panel.name
            ),
            1 => format!("Rounds of '{}', in the order of the work", panel.name),
            n => format!(
                "Rounds of '{}', in the order of the work, a box for each of the {n}",
                panel.name
            ),
        };
        self.table(
            &caption,
            &[
                ("Done", "boxes"),
                ("Round", "n"),
                ("What to do", ""),
                ("Each side", "n"),
                ("In the round", "n"),
                ("In all", "n"),
                ("Colours of a side", ""),
            ],
        );
        for round in &panel.rounds {
            self.m.open("tr", &[]);
            self.m.open("td", &[("class", "boxes")]);
            for nth in 1..=boxes {
                let label = match boxes {
                    1 => format!("round {} of {}", round.round, panel.name),
                    _ => format!("round {} of {}, panel {nth}", round.round, panel.name),
                };
                self.tick(&label, "");
            }
            self.m.close();
            self.m.say(
                "th",
                &[("scope", "row"), ("class", "n")],
                &round.round.to_string(),
            );
            self.m.say("td", &[], &round.how);
            self.m.say("td", &[("class", "n")], &round.each_side());
            self.m
                .say("td", &[("class", "n")], &round.beads.to_string());
            self.m
                .say("td", &[("class", "n")], &round.total.to_string());
            self.m.say("td", &[("class", "letters")], &round.colours);
            self.m.close();
            self.m.line();
        }
        self.end_table();
        if panel.more_rounds > 0 {
            let more = format!(
                "{} more rounds are not printed; they go on alike.",
                panel.more_rounds
            );
            self.m.say("p", &[], &more);
        }
    }

    fn joins(&mut self) {
        let sheet = self.sheet;
        if sheet.joins.is_empty() {
            return;
        }
        self.m.open("section", &[("class", "joins")]);
        self.heading("The joins");
        for join in &sheet.joins {
            self.m.open("div", &[("class", "keep")]);
            self.m.say(
                "h3",
                &[],
                &format!("{} ({})", join.title, times(join.times)),
            );
            for words in &join.words {
                self.m.say("p", &[], words);
            }
            if let Some(drawing) = &join.drawing {
                self.drawing(drawing);
            }
            self.m.close();
        }
        self.m.close();
    }

    fn stages(&mut self) {
        let sheet = self.sheet;
        self.m.open("section", &[("class", "stages")]);
        self.heading("Stage by stage");
        self.table(
            "The work in order; tick what is done and counted",
            &[
                ("Done", "boxes"),
                ("Stage", ""),
                ("What to do, and what to count", ""),
                ("Beads", "n"),
                ("In the piece", "n"),
            ],
        );
        for stage in &sheet.stages {
            self.m.open("tr", &[]);
            self.m.open("td", &[("class", "boxes")]);
            let number = stage.number.to_string();
            self.tick(&format!("stage {number}: {}", stage.title), &number);
            self.m.close();
            self.m.say("th", &[("scope", "row")], &stage.title);
            self.m.say("td", &[], &stage.words);
            self.m
                .say("td", &[("class", "n")], &stage.beads.to_string());
            self.m
                .say("td", &[("class", "n")], &stage.total.to_string());
            self.m.close();
            self.m.line();
        }
        self.end_table();
        if sheet.more_stages > 0 {
            let more = format!(
                "{} more stages are not printed; they go on alike.",
                sheet.more_stages
            );
            self.m.say("p", &[], &more);
        }
        self.m.close();
    }
}

/// The names of the panels of a kind, unless there are very many.
pub(super) fn names(panels: &[String]) -> String {
    const NAMED: usize = 12;
    match panels {
        [] => String::new(),
        [one] => format!("It becomes {one}."),
        all if all.len() > NAMED => format!(
            "They become {} and {} more.",
            all[..NAMED].join("; "),
            all.len() - NAMED
        ),
        all => format!("They become {}.", all.join("; ")),
    }
}

/// How often a join comes up.
pub(super) fn times(times: u32) -> String {
    match times {
        1 => "once in the piece".into(),
        n => format!("{n} in the piece"),
    }
}
