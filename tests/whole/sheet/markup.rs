//! The page as markup: parsed by a reader of XML that shares nothing with what
//! wrote it.

use std::collections::HashSet;

use roxmltree::{Document, Node};

use super::{SHIPPED, xml};
use crate::builder::threadmark;
use crate::pattern::triangle;

const SVG: &str = "http://www.w3.org/2000/svg";
const HTML: &str = "http://www.w3.org/1999/xhtml";

fn pages() -> impl Iterator<Item = (String, String)> {
    let calls = SHIPPED.map(|pattern| format!("sheet {pattern}"));
    let more = [
        "sheet night-kite --paper a4",
        "sheet night-kite --paper letter --left-handed --inches",
    ];
    let calls = calls.into_iter().chain(more.map(String::from));
    calls.map(|call| {
        let page = threadmark(&call).run();
        (call, page)
    })
}

fn named<'a>(page: &'a Document<'a>, name: &str) -> Vec<Node<'a, 'a>> {
    let all = page.descendants().filter(|n| n.is_element());
    all.filter(|n| n.tag_name().name() == name).collect()
}

#[test]
fn a_page_is_well_formed_alone_and_without_scripts() {
    for (call, page) in pages() {
        let read = Document::parse(xml(&page)).unwrap_or_else(|e| panic!("{call}: {e}"));
        for node in read.descendants().filter(|n| n.is_element()) {
            let tag = node.tag_name().name();
            assert!(
                ![
                    "script", "link", "img", "iframe", "object", "embed", "image", "use", "base"
                ]
                .contains(&tag),
                "{call}: {tag}"
            );
            for attribute in node.attributes() {
                let (name, value) = (attribute.name(), attribute.value());
                assert!(!name.starts_with("on"), "{call}: {name}");
                assert!(
                    !["src", "srcset", "style", "action"].contains(&name),
                    "{call}: {name}"
                );
                if name == "href" {
                    assert!(value.starts_with('#'), "{call}: {value}");
                }
            }
        }
        let style = named(&read, "style")[0].text().unwrap().to_string();
        assert!(
            !style.contains("url(") && !style.contains("@import"),
            "{call}"
        );
    }
}

#[test]
fn links_and_labels_lead_somewhere_and_names_are_given_once() {
    for (call, page) in pages() {
        let read = Document::parse(xml(&page)).unwrap();
        let mut ids = HashSet::new();
        for id in read.descendants().filter_map(|n| n.attribute("id")) {
            assert!(ids.insert(id), "{call}: {id} twice");
        }
        for node in read.descendants().filter(|n| n.is_element()) {
            let href = node.attribute("href").map(|href| &href[1..]);
            let listed = ["aria-labelledby", "aria-describedby", "for"];
            let listed = listed.iter().filter_map(|name| node.attribute(*name));
            for id in listed.flat_map(|all| all.split(' ')).chain(href) {
                assert!(ids.contains(id), "{call}: nothing is named {id}");
            }
        }
    }
}

/// WCAG 2.2: language of the page, title, headings in order, landmarks, a name
/// for each drawing and each box, headers of table cells.
#[test]
fn a_reader_who_does_not_see_it_finds_the_way() {
    for (call, page) in pages() {
        let read = Document::parse(xml(&page)).unwrap();
        let html = read.root_element();
        assert_eq!(html.attribute("lang"), Some("en"));
        assert_eq!(named(&read, "title")[0].tag_name().namespace(), Some(HTML));
        for landmark in ["header", "nav", "main", "footer", "h1"] {
            assert_eq!(named(&read, landmark).len(), 1, "{call}: {landmark}");
        }
        let mut level = 0;
        for node in read.descendants().filter(|n| n.is_element()) {
            let tag = node.tag_name().name();
            if let Some(next) = tag.strip_prefix('h').and_then(|n| n.parse::<u32>().ok()) {
                assert!(next <= level + 1, "{call}: from h{level} to h{next}");
                level = next;
            }
        }
        let svgs = named(&read, "svg");
        assert!(svgs.len() > 2);
        for svg in svgs {
            assert_eq!(svg.tag_name().namespace(), Some(SVG), "{call}");
            let hidden = svg.attribute("aria-hidden") == Some("true");
            let title = svg.children().find(|n| n.has_tag_name((SVG, "title")));
            let said = title.and_then(|title| title.text()).unwrap_or_default();
            assert!(hidden || svg.attribute("role") == Some("img") && !said.is_empty());
        }
        for input in named(&read, "input") {
            let label = input.parent().unwrap();
            assert_eq!(label.attribute("for"), input.attribute("id"));
            let shown = label
                .children()
                .filter_map(|n| n.text())
                .collect::<String>();
            let said = input.attribute("aria-label").unwrap_or(&shown);
            assert!(!said.trim().is_empty(), "{call}");
        }
        for th in named(&read, "th") {
            assert!(["col", "row"].contains(&th.attribute("scope").unwrap_or_default()));
        }
    }
}

#[test]
fn every_bead_of_every_kind_of_panel_is_drawn_at_its_place_once() {
    for (pattern, beads) in [
        ("practice-triangle", 63),
        ("flat-hexagon", 414),
        ("lamp-pull", 165),
    ] {
        let page = threadmark(&format!("sheet {pattern}")).run();
        let read = Document::parse(xml(&page)).unwrap();
        let figure = named(&read, "section")
            .into_iter()
            .find(|n| n.attribute("class") == Some("panel"))
            .unwrap();
        let svg = figure
            .descendants()
            .find(|n| n.has_tag_name((SVG, "svg")))
            .unwrap();
        let shapes = svg.children().filter(|n| n.is_element());
        // Beads have a colour; signs and fields are black or white.
        let drawn = shapes.filter(|n| {
            ["rect", "polygon"].contains(&n.tag_name().name())
                && n.attribute("fill")
                    .is_some_and(|f| f.len() == 7 && f != "#1a1a1a")
        });
        assert_eq!(drawn.count(), beads, "{pattern}");
    }
}

/// Nothing from a pattern can end an element, an attribute, or the style.
#[test]
fn text_of_a_pattern_stays_text() {
    let evil = r#"</style><script>alert(1)</script>\" onload=\"x"#;
    let pattern = triangle(4).replace(
        "\"title\": \"Evening star\"",
        &format!("\"title\": \"{evil}\", \"about\": \"{evil} ]]> &amp; <b>\""),
    );
    let shown = r#"</style><script>alert(1)</script>" onload="x"#;
    for to in ["html", "svg"] {
        let run = threadmark(&format!("sheet evil.json --to {to}")).file("evil.json", &pattern);
        let page = run.run();
        let page = page.strip_prefix("<!DOCTYPE html>\n").unwrap_or(&page);
        let read = Document::parse(page).unwrap();
        let tags: HashSet<_> = read.descendants().map(|n| n.tag_name().name()).collect();
        assert!(!tags.contains("script") && !tags.contains("b"));
        let title = named(&read, if to == "html" { "h1" } else { "title" })[0];
        assert_eq!(title.text(), Some(shown));
    }
}

#[test]
fn an_svg_holds_every_drawing_with_title_and_description() {
    for pattern in SHIPPED {
        let told = threadmark(&format!("sheet {pattern} --json")).objects("sheet");
        let file = threadmark(&format!("sheet {pattern} --to svg")).run();
        let read = Document::parse(&file).unwrap();
        let root = read.root_element();
        assert!(root.has_tag_name((SVG, "svg")));
        let inner: Vec<_> = root
            .children()
            .filter(|n| n.has_tag_name((SVG, "svg")))
            .collect();
        assert_eq!(told[0]["drawings"], inner.len(), "{pattern}");
        let number =
            |n: Node<'_, '_>, name: &str| n.attribute(name).unwrap().parse::<f64>().unwrap();
        let view: Vec<f64> = root
            .attribute("viewBox")
            .unwrap()
            .split(' ')
            .map(|n| n.parse().unwrap())
            .collect();
        let mut below = 0.0;
        for svg in inner {
            let says = |tag| {
                svg.children()
                    .any(|n: Node<'_, '_>| n.has_tag_name((SVG, tag)) && n.text().is_some())
            };
            assert!(says("title") && says("desc"));
            // One below the other, within the file.
            assert!(number(svg, "y") >= below, "{pattern}");
            below = number(svg, "y") + number(svg, "height");
            assert!(number(svg, "x") + number(svg, "width") <= view[2] && below <= view[3]);
        }
    }
}
