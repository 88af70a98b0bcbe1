//! The handout as one HTML page: its drawings and its style inside, no script,
//! nothing from elsewhere. It is well-formed XML too.
//!
//! | file | writes |
//! |---|---|
//! | [`top`] | title, cautions, what the piece takes, how to read the drawings, what helps |
//! | [`panel`] | a kind of panel with its rounds |
//! | [`join`] | how the faces lie, and the kinds of join |
//! | [`stage`] | the stages with their boxes |
//! | [`paper`] | what is asked of the printer |

mod join;
mod panel;
mod paper;
mod stage;
mod top;

use super::drawing::Drawing;
use super::markup::Markup;
use super::{Sheet, svg};

/// How it looks, on a screen and on paper.
const STYLE: &str = include_str!("style.css");

/// No scripts, and nothing from elsewhere (W3C Content Security Policy).
const ALONE: &str = "default-src 'none'; style-src 'unsafe-inline'";

/// A page of headings, paragraphs, tables and drawings.
struct Page<'a> {
    sheet: &'a Sheet,
    m: Markup,
    /// Drawings written so far.
    drawings: usize,
    /// Boxes written so far.
    boxes: usize,
}

/// A part of the page: the name it is linked by, and its heading.
type Part = (&'static str, &'static str);

const NEED: Part = ("need", "What you need");
const READ: Part = ("read", "How to read the drawings");
const FACES: Part = ("faces", "How the faces lie");
const JOINS: Part = ("joins", "The joins");
const STAGES: Part = ("stages", "Stage by stage");
const HELP: Part = ("help", "If something is wrong");

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
    page.top();
    page.contents();
    page.m.open("main", &[]);
    page.care();
    page.need();
    page.legend();
    let early = page.help_fits();
    if early {
        page.help();
    }
    page.faces();
    page.panels();
    page.joins();
    page.stages();
    if !early {
        page.help();
    }
    page.m.close();
    page.foot();
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
        // Whatever a browser may do by itself, this page asks it for nothing.
        m.empty(
            "meta",
            &[
                ("http-equiv", "Content-Security-Policy"),
                ("content", ALONE),
            ],
        );
        m.say("title", &[], &format!("{}: handout", self.sheet.title));
        m.open("style", &[]);
        m.own("\n");
        m.own(&paper::rule(self.sheet));
        m.own(STYLE);
        m.close();
        m.close();
        m.line();
    }

    /// Opens a part with its heading. Whoever opens it closes it.
    fn part(&mut self, (id, heading): (&str, &str), class: &str) {
        let name = format!("{id}-h");
        self.m.line();
        self.m.open(
            "section",
            &[("id", id), ("class", class), ("aria-labelledby", &name)],
        );
        self.m.say("h2", &[("id", &name)], heading);
        self.m.line();
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

    fn number(&mut self, number: impl ToString) {
        self.m.say("td", &[("class", "n")], &number.to_string());
    }

    /// A drawing with its words below. Who cannot see it hears its title and
    /// these words.
    fn drawing(&mut self, drawing: &Drawing) {
        self.drawings += 1;
        let id = format!("d{}", self.drawings);
        let caption = format!("{id}-words");
        self.m.open("figure", &[]);
        svg::inside(&mut self.m, drawing, &id, svg::Place::Page(&caption));
        self.m.say("figcaption", &[("id", &caption)], &drawing.desc);
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
}
