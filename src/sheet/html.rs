//! The handout as one HTML page, which contains its drawings and its style: no
//! script, nothing loaded from elsewhere. It is well-formed XML too.

use std::fmt::Write as _;

use glam::DVec2;

use super::drawing::Drawing;
use super::markup::{Markup, put};
use super::panel::PanelOnPaper;
use super::svg::{self, DrawingPlace};
use super::{Paper, Sheet, TECHNIQUES, WORDS};
use crate::beadwork::plural;
use crate::words::care::{ADVICE, CAUTIONS};

/// How it looks, on a screen and on paper.
const STYLE: &str = include_str!("style.css");

/// Panels of up to this many rounds are drawn beside their table of rounds.
const BESIDE: usize = 10;
/// With up to this many rounds or faces the drawing is small.
const SMALL: usize = 4;
/// With up to this many faces, they are drawn beside the list of their joins.
const FACES_BESIDE: usize = 8;

/// With up to this many faces, the faces and the joins are kept together.
const PAIR: usize = 2;

/// The most boxes for one round: one for each panel of the kind.
const BOXES: usize = 6;

/// A list of up to this many stages is kept on one page.
const KEPT: usize = 10;

/// Letters of a title at the foot of a page.
const TITLE: usize = 60;

/// A part of the page: its link name and its heading.
type PageSection = (&'static str, &'static str);

const NEED: PageSection = ("need", "What you need");
const READ: PageSection = ("read", "How to read the drawings");
const METHODS: PageSection = ("techniques", TECHNIQUES);
const TRADE: PageSection = ("words", WORDS);
const FACES: PageSection = ("faces", "How the faces lie");
const JOINS: PageSection = ("joins", "The joins");
const STAGES: PageSection = ("stages", "Stage by stage");
const HELP: PageSection = ("help", "If something is wrong");

/// A column of a table: its heading, and its class.
type Column = (&'static str, &'static str);

/// The class that sets a drawing of `drawn` rounds or faces beside its text, if
/// there are at most `most`.
fn beside(drawn: usize, most: usize) -> &'static str {
    match drawn {
        _ if drawn <= SMALL => "beside small",
        _ if drawn <= most => "beside",
        _ => "",
    }
}

/// A page being written.
struct HtmlPage<'a> {
    sheet: &'a Sheet,
    m: Markup,
    /// Drawings and check boxes written so far.
    drawings: usize,
    boxes: usize,
}

/// The page.
pub fn page(sheet: &Sheet) -> String {
    let mut page = HtmlPage {
        sheet,
        m: Markup::default(),
        drawings: 0,
        boxes: 0,
    };
    page.head();
    page.title();
    page.contents();
    put!(page.m, "<main>");
    page.part(("care", "Take care"), "care");
    page.list(CAUTIONS);
    page.need();
    page.help();
    page.legend();
    page.techniques();
    page.words();
    for (nth, panel) in (1..).zip(&sheet.panels) {
        page.panel(nth, panel);
    }
    let faces: usize = sheet.panels.iter().map(|panel| panel.panels.len()).sum();
    let is_small = faces <= PAIR;
    put!(
        page.m,
        r#"<div class="{}">"#,
        if is_small { "together" } else { "" }
    );
    page.faces(faces);
    page.joins();
    put!(page.m, "</div>");
    page.stages();
    let stages = plural(sheet.all_stages(), "stage");
    let (title, beads) = (&sheet.title, sheet.total_beads);
    put!(
        page.m,
        "</main>\n<footer><p>{}: {} beads in {}.</p></footer>",
        title,
        beads,
        stages
    );
    put!(page.m, "</body></html>\n");
    page.m.done()
}

impl HtmlPage<'_> {
    /// The head of the page. Its policy forbids a browser to load anything from
    /// elsewhere (W3C Content Security Policy).
    fn head(&mut self) {
        put!(
            self.m,
            r#"<!DOCTYPE html>
<html lang="en" xmlns="http://www.w3.org/1999/xhtml"><head><meta charset="utf-8"/><meta name="viewport" content="width=device-width, initial-scale=1"/><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'"/><title>{}: handout</title><style>
"#,
            self.sheet.title
        );
        self.m.write(format_args!("{}{STYLE}", paper(self.sheet)));
        put!(self.m, "</style></head>\n<body>");
    }

    fn title(&mut self) {
        put!(self.m, "<header>");
        if let Some(picture) = &self.sheet.picture {
            self.m
                .write(format_args!("<div class=\"finished\">{picture}</div>"));
        }
        put!(self.m, "<h1>{}</h1>", self.sheet.title);
        let about = self.sheet.about.lines();
        for paragraph in about.filter(|line| !line.trim().is_empty()) {
            put!(self.m, r#"<p class="about">{}</p>"#, paragraph);
        }
        put!(
            self.m,
            "<p class=\"who\">Name <span>\u{a0}</span>Begun on <span>\u{a0}</span></p></header>"
        );
    }

    /// Links to the parts, for the screen; on paper there are page numbers.
    fn contents(&mut self) {
        let sheet = self.sheet;
        put!(self.m, "\n<nav aria-label=\"Contents\"><ul>");
        let link = |m: &mut Markup, id: &str, heading: &str| {
            put!(m, "<li><a href=\"#{}\">{}</a></li>", id, heading);
        };
        let faces = sheet.net.as_ref().map(|_| FACES);
        for (id, heading) in [NEED, HELP, READ, METHODS, TRADE] {
            link(&mut self.m, id, heading);
        }
        for (nth, panel) in (1..).zip(&sheet.panels) {
            link(
                &mut self.m,
                &format!("panel-{nth}"),
                &format!("Panel '{}'", panel.name),
            );
        }
        let joins = (!sheet.joins.is_empty()).then_some(JOINS);
        for (id, heading) in faces.into_iter().chain(joins).chain([STAGES]) {
            link(&mut self.m, id, heading);
        }
        put!(self.m, "</ul></nav>");
    }

    /// Opens a part with its heading. The caller closes it.
    fn part(&mut self, (id, heading): (&str, &str), class: &str) {
        put!(
            self.m,
            "\n<section id=\"{}\" class=\"{}\" aria-labelledby=\"{}-h\">",
            id,
            class,
            id
        );
        put!(self.m, "<h2 id=\"{}-h\">{}</h2>\n", id, heading);
    }

    /// A whole part: a list.
    fn list(&mut self, lines: &[&str]) {
        put!(self.m, "<ul>");
        for line in lines {
            put!(self.m, "<li>{}</li>", line);
        }
        put!(self.m, "</ul></section>");
    }

    fn help(&mut self) {
        self.part(HELP, "keep help");
        self.list(ADVICE);
    }

    /// Opens a table.
    fn table(&mut self, caption: &str, columns: &[Column]) {
        put!(self.m, "<table><caption>{}</caption><thead><tr>", caption);
        for (heading, class) in columns {
            put!(
                self.m,
                r#"<th scope="col" class="{}">{}</th>"#,
                class,
                heading
            );
        }
        put!(self.m, "</tr></thead><tbody>\n");
    }

    /// The last cells of a row, which are numbers.
    fn numbers(&mut self, numbers: &[String]) {
        for number in numbers {
            put!(self.m, r#"<td class="n">{}</td>"#, number);
        }
        put!(self.m, "</tr>\n");
    }

    /// A line that says what is left out, if anything is.
    fn more(&mut self, words: Option<String>) {
        if let Some(words) = words {
            put!(self.m, "<p>{}</p>", words);
        }
    }

    /// A drawing with its description below. Screen readers read its title and
    /// this description.
    fn drawing(&mut self, drawing: &Drawing) {
        self.drawings += 1;
        let id = format!("d{}", self.drawings);
        let caption = format!("{id}-words");
        put!(self.m, "<figure>");
        svg::inside(&mut self.m, drawing, &id, DrawingPlace::Page(&caption));
        put!(
            self.m,
            "<figcaption id=\"{}\">{}</figcaption></figure>\n",
            caption,
            drawing.desc
        );
    }

    /// A check box, with its label shown or only read aloud.
    fn tick(&mut self, label: &str, shown: &str) {
        self.boxes += 1;
        let nth = self.boxes;
        put!(
            self.m,
            r#"<label for="b{}"><input type="checkbox" id="b{}""#,
            nth,
            nth
        );
        if label != shown {
            put!(self.m, r#" aria-label="{}""#, label);
        }
        put!(self.m, "/>{}</label>", shown);
    }

    fn need(&mut self) {
        let sheet = self.sheet;
        self.part(NEED, "");
        let (beads, spare) = (sheet.total_beads, sheet.spare_percent);
        self.table(
            &format!("Beads: {beads} in all; what to buy includes {spare} % spare"),
            &[
                ("Letter", "short"),
                ("Colour", ""),
                ("Size", ""),
                ("Beads", "n"),
                ("Grams", "n"),
                ("Buy", "n"),
            ],
        );
        for row in &sheet.beads {
            put!(
                self.m,
                r#"<tr><th scope="row" class="short"><svg xmlns="http://www.w3.org/2000/svg" class="swatch" role="img" aria-label="bead {}" width="5mm" height="5mm" viewBox="0 0 6 6" font-family="sans-serif"><title>bead {}</title>"#,
                row.letter,
                row.letter
            );
            svg::swatch(&mut self.m, DVec2::splat(3.0), row.colour, row.letter);
            put!(
                self.m,
                "</svg></th><td>{}</td><td>{}</td>",
                row.name,
                row.size
            );
            self.numbers(&[
                row.count.to_string(),
                format!("{:.1} g", row.grams),
                format!("{:.1} g", row.buy_grams),
            ]);
        }
        put!(self.m, "</tbody></table>\n<dl class=\"facts\">");
        for (what, words) in &sheet.facts {
            put!(self.m, "<dt>{}</dt><dd>{}</dd>\n", what, words);
        }
        put!(self.m, "</dl></section>");
    }

    fn legend(&mut self) {
        self.part(READ, "");
        put!(self.m, r#"<dl class="legend">"#);
        for line in &self.sheet.legend {
            put!(self.m, "<div><dt>");
            if let Some(sign) = &line.sign {
                svg::inside(&mut self.m, sign, "", DrawingPlace::Beside);
            }
            put!(self.m, "{}</dt> <dd>{}</dd></div>\n", line.name, line.words);
        }
        put!(self.m, "</dl></section>");
    }

    /// The techniques with the thread path.
    fn techniques(&mut self) {
        self.part(METHODS, "");
        let six = if self.sheet.techniques.len() == 6 {
            " six"
        } else {
            ""
        };
        put!(self.m, r#"<div class="techniques{}">"#, six);
        for technique in &self.sheet.techniques {
            put!(self.m, "<div><h3>{}</h3>", technique.name);
            self.drawing(&technique.drawing);
            put!(self.m, "</div>\n");
        }
        put!(self.m, "</div></section>");
    }

    /// The other words of the trade.
    fn words(&mut self) {
        self.part(TRADE, "");
        put!(self.m, r#"<dl class="glossary">"#);
        for word in &self.sheet.words {
            put!(
                self.m,
                "<div><dt>{}</dt> <dd>{}</dd></div>\n",
                word.word,
                word.in_short()
            );
        }
        put!(self.m, "</dl></section>");
    }

    /// How the faces lie, and which sides meet.
    fn faces(&mut self, faces: usize) {
        let sheet = self.sheet;
        let Some(net) = &sheet.net else { return };
        self.part(FACES, "faces");
        let class = beside(faces, FACES_BESIDE);
        put!(self.m, r#"<div class="{}">"#, class);
        self.drawing(net);
        put!(
            self.m,
            "<div><h3>Which sides meet</h3><p>Number and name of a face, and its side. The first of each carries the join row. Sides with the same letter in the drawing meet.</p><ul class=\"meetings\">"
        );
        for meeting in &sheet.meetings {
            put!(self.m, "<li>{}</li>\n", meeting.words());
        }
        put!(self.m, "</ul>");
        self.more(sheet.more_meetings_words());
        put!(self.m, "</div></div></section>");
    }

    fn panel(&mut self, nth: usize, panel: &PanelOnPaper) {
        let (name, made) = (&panel.name, panel.panels.len());
        self.part(
            (&format!("panel-{nth}"), &format!("Panel '{name}'")),
            "panel",
        );
        let each = if made == 1 { "" } else { " each" };
        put!(
            self.m,
            r#"<p><span class="make">Make {} of these</span>"#,
            made
        );
        put!(
            self.m,
            " {} beads{}. {} {}</p>",
            panel.beads,
            each,
            panel.become_words(),
            panel.begins
        );
        let class = beside(panel.rounds.len(), BESIDE);
        put!(self.m, r#"<div class="{}">"#, class);
        self.drawing(&panel.drawing);
        put!(self.m, "<div>");
        self.rounds(panel);
        if let Some(edge) = &panel.edge {
            put!(self.m, r#"<p class="keep"><strong>{}</strong></p>"#, edge);
        }
        put!(self.m, "</div></div></section>");
    }

    fn rounds(&mut self, panel: &PanelOnPaper) {
        let (name, made) = (&panel.name, panel.panels.len());
        let boxes = if made > BOXES { 1 } else { made };
        let ticks = match made {
            1 => String::new(),
            n if n > BOXES => {
                format!(
                    "; boxes for the first of the {n}, the others are ticked off stage by stage"
                )
            }
            n => format!(", a box for each of the {n}"),
        };
        let class = if boxes > 1 { "boxes" } else { "short" };
        self.table(
            &format!("Rounds of '{name}', in the order of the work{ticks}"),
            &[
                ("Done", class),
                ("Round", "n"),
                ("What to do", ""),
                ("Pick up, in order", ""),
                ("Each side", "n"),
                ("In the round", "n"),
                ("In all", "n"),
            ],
        );
        for line in &panel.rounds {
            let round = line.round;
            put!(self.m, r#"<tr><td class="{}">"#, class);
            for nth in 1..=boxes {
                let which = if boxes > 1 {
                    format!(", panel {nth}")
                } else {
                    String::new()
                };
                self.tick(&format!("round {round} of {name}{which}"), "");
            }
            put!(self.m, r#"</td><th scope="row" class="n">{}</th>"#, round);
            put!(
                self.m,
                r#"<td>{}</td><td class="letters">{}</td>"#,
                line.how,
                line.pick_up
            );
            let (beads, total) = (line.beads.to_string(), line.total.to_string());
            self.numbers(&[line.each_side(), beads, total]);
        }
        put!(self.m, "</tbody></table>\n");
        self.more(panel.more_words());
    }

    fn joins(&mut self) {
        let sheet = self.sheet;
        if sheet.joins.is_empty() {
            return;
        }
        self.part(JOINS, "joins");
        for join in &sheet.joins {
            let (title, times) = (&join.title, join.times_words());
            put!(
                self.m,
                r#"<div class="keep"><h3>{} ({})</h3><div class="words"><div>"#,
                title,
                times
            );
            for words in &join.words {
                put!(self.m, "<p>{}</p>", words);
            }
            put!(self.m, "</div>");
            if let Some(drawing) = &join.drawing {
                self.drawing(drawing);
            }
            put!(self.m, "</div></div>\n");
        }
        put!(self.m, "</section>");
    }

    fn stages(&mut self) {
        let sheet = self.sheet;
        self.part(
            STAGES,
            if sheet.stages.len() <= KEPT {
                "keep"
            } else {
                ""
            },
        );
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
            let (number, is_one) = (stage.number, stage.number == stage.last);
            put!(self.m, r#"<tr><td class="short">"#);
            match is_one {
                true => self.tick(
                    &format!("stage {number}: {}", stage.title),
                    &number.to_string(),
                ),
                false => put!(self.m, "{}–{}", number, stage.last),
            }
            put!(
                self.m,
                r#"</td><th scope="row">{}</th><td>{} "#,
                stage.title,
                stage.words
            );
            for number in (number..=stage.last).filter(|_| !is_one) {
                self.tick(
                    &format!("stage {number}: {}", stage.title),
                    &number.to_string(),
                );
            }
            put!(self.m, "</td>");
            self.numbers(&[stage.beads.to_string(), stage.total.to_string()]);
        }
        put!(self.m, "</tbody></table>\n");
        self.more(sheet.more_stages_words());
        put!(self.m, "</section>");
    }
}

/// What the printer needs: the paper, its margins, and at the foot of each page
/// the title and the page number, so that loose sheets can be put back in
/// order.
fn paper(sheet: &Sheet) -> String {
    let size = match sheet.paper {
        Some(Paper::A4) => "size: A4; ",
        Some(Paper::Letter) => "size: letter; ",
        None => "",
    };
    let foot = "font: 8pt Helvetica, Arial, sans-serif; color: #1a1a1a;";
    format!(
        "@page {{ {size}margin: 12mm; \
         @bottom-left {{ content: \"{}\"; {foot} }} \
         @bottom-right {{ content: counter(page) \" / \" counter(pages); {foot} }} }}\n",
        css_string(&sheet.title)
    )
}

/// A text as a CSS string: everything except ASCII letters and digits is
/// written as its number, so that it can end neither the string nor the element
/// around it (CSS Syntax Level 3, 4.3.7).
fn css_string(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars().take(TITLE).filter(|c| !c.is_control()) {
        match c.is_ascii_alphanumeric() {
            true => out.push(c),
            false => _ = write!(out, "\\{:x} ", u32::from(c)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_title_breaks_out_of_its_string() {
        assert_eq!(css_string("Lamp"), "Lamp");
        assert_eq!(css_string("\"</style>"), r"\22 \3c \2f style\3e ");
        assert_eq!(css_string("Törn\n"), r"T\f6 rn");
    }
}
