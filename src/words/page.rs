//! Makes docs/words.md from the table.

use super::{Word, groups, named};

/// The anchor that Markdown gives the heading.
fn anchor(word: &str) -> String {
    word.replace(' ', "-")
}

fn entry(word: &Word, out: &mut String) {
    out.push_str(&format!("\n### {}\n\n{}\n", word.word, word.means));
    if !word.drawing.is_empty() {
        let drawing = word.drawing.join("\n");
        out.push_str(&format!("\n```text\n{drawing}\n```\n\n{}\n", word.shows));
    }
    let see = word.see.iter().map(|w| format!("[{w}](#{})", anchor(w)));
    let see = see.collect::<Vec<_>>().join(", ");
    out.push_str(&format!("\nSee also: {see}.\n"));
    if !word.not.is_empty() {
        let not = word.not.iter().map(|n| format!("'{n}'"));
        let not = not.collect::<Vec<_>>().join(", ");
        out.push_str(&format!("\nNot called here: {not}.\n"));
    }
}

/// The page.
pub fn manual() -> String {
    let mut out = String::from(
        "# The words of the trade\n\n\
         This page is made from the table that the program itself explains from (src/words/); a test \
         sees to it that they agree. On the screen the key `a` asks about a word.\n\n\
         In the drawings `[A]` is a bead in place, `╔N╗` the new one; the needle comes out at `◆` and \
         goes in at `◀`. They are drawn for the right hand: the needle goes to the left. The program \
         turns them round for the left hand.\n",
    );
    for group in groups() {
        out.push_str(&format!("\n## {}\n", group.title));
        for word in &group.words {
            entry(word, &mut out);
        }
    }
    out
}

#[test]
fn the_page_about_words_is_the_table() {
    let page = include_str!("../../docs/words.md").replace("\r\n", "\n");
    if page != manual() {
        let path = std::env::temp_dir().join("threadmark-words.md");
        let _ = std::fs::write(&path, manual());
        panic!("docs/words.md differs from the table; what it should be: {path:?}");
    }
}

#[test]
fn every_link_of_the_page_leads_to_a_heading() {
    let page = manual();
    let links = page.split("](#").skip(1);
    for link in links.filter_map(|rest| rest.split(')').next()) {
        let heading = format!("\n### {}\n", link.replace('-', " "));
        let dashed = format!("\n### {link}\n");
        assert!(page.contains(&heading) || page.contains(&dashed), "{link}");
    }
    assert!(named("step-up").is_some());
}
