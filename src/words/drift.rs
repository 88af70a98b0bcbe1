//! Tests that the program's sentences and its pages use the words of the table.

use super::{all, found, of_job, of_kind};
use crate::beadwork::amend::{OwnStep, OwnStepKind};
use crate::beadwork::movement::Kind;
use crate::beadwork::number::GoalJob;
use crate::beadwork::project::{Closing, OwnInJob, Solid};
use crate::beadwork::{Sequence, Step, testing};
use proc_macro2::{TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All files below a directory with this ending.
fn files(dir: &Path, ending: &str) -> Vec<PathBuf> {
    let mut out = vec![];
    for entry in std::fs::read_dir(dir).expect("a directory") {
        let path = entry.expect("an entry").path();
        match path.is_dir() {
            true => out.extend(files(&path, ending)),
            false if path.extension().is_some_and(|e| e == ending) => out.push(path),
            false => {}
        }
    }
    out.sort();
    out
}

/// All that a maker reads, by file: the pages, the strings and templates of the
/// program, the texts of the patterns.
fn texts_by_file() -> BTreeMap<String, String> {
    let mut out = BTreeMap::new();
    let mut pages = files(&root().join("docs"), "md");
    pages.push(root().join("README.md"));
    pages.extend(files(&root().join("patterns"), "json"));
    for ending in ["json", "html", "txt"] {
        pages.extend(files(&root().join("src"), ending));
    }
    for path in pages {
        // The table and its page list the names that are not used.
        if !path.ends_with("docs/words.md") && !path.ends_with("words/words.json") {
            let text = std::fs::read_to_string(&path).expect("a page");
            out.insert(path.display().to_string(), text);
        }
    }
    for path in files(&root().join("src"), "rs") {
        if path != root().join("src/words/drift.rs") {
            let code = std::fs::read_to_string(&path).expect("a file of code");
            // Strings are joined with a mark, so that no phrase is found across
            // two of them. In args.rs the comments are read too: they are the
            // help of the commands.
            let texts = match path.ends_with("cli/args.rs") {
                true => code,
                false => string_literals(&code).join(" | "),
            };
            out.insert(path.display().to_string(), texts);
        }
    }
    out
}

fn normalized(text: &str) -> String {
    let words = text.split_whitespace().collect::<Vec<_>>();
    words.join(" ").to_lowercase()
}

/// Whether a text contains a phrase as whole words, in the singular or with an
/// -s.
fn contains_phrase(text: &str, phrase: &str) -> bool {
    text.match_indices(phrase).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let behind = &text[at + phrase.len()..];
        let behind = behind.strip_prefix('s').unwrap_or(behind);
        !before.is_some_and(char::is_alphanumeric) && !behind.starts_with(char::is_alphanumeric)
    })
}

#[test]
fn no_page_and_no_sentence_calls_a_thing_by_another_name() {
    let mut found = vec![];
    for (file, text) in texts_by_file() {
        let text = normalized(&text);
        for word in all() {
            for other in word.not {
                if contains_phrase(&text, other) {
                    found.push(format!("{file}: '{other}' is called '{}'", word.word));
                }
            }
        }
    }
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn a_name_that_is_not_used_here_is_no_spelling_of_another_word() {
    for word in all() {
        for other in word.not {
            let spelt = all().find(|w| w.spellings().any(|s| s == *other));
            assert_eq!(spelt.map(|w| w.word), None, "{other}");
            assert!(
                !contains_phrase(&normalized(word.means), other),
                "{}",
                word.word
            );
        }
    }
}

#[test]
fn the_test_for_other_names_finds_them() {
    assert!(contains_phrase("after the step up, count", "the step up"));
    assert!(contains_phrase("two circuits", "circuit"));
    assert!(!contains_phrase("short-circuited", "circuit"));
}

/// Plain English words in the sentences about movements and jobs. The table
/// must explain every other word.
const PLAIN: &str = "a about adding again all along an and at beads before between cm corners cut draw each end ends first \
     for from go going here high in into it its join last leave length long meet meets middle more movement \
     next no none of on once onto or other over pick place side sides that the then there third three \
     through to two until up with work x n round where half set carries open new is";

#[test]
fn every_trade_word_in_the_sentences_of_the_program_is_explained() {
    let plain: BTreeSet<&str> = PLAIN.split_whitespace().collect();
    let mut with_own_step = testing::single(testing::panel(6, 5));
    let own = OwnStep {
        what: OwnStepKind::Join,
        text: String::new(),
    };
    with_own_step.own.push(OwnInJob {
        job: GoalJob(0),
        after: None,
        step: own,
    });
    let seqs = [
        with_own_step,
        testing::single(testing::inward(3, 5, 2)),
        testing::single(testing::inward(3, 4, 0)),
        testing::solid(Solid::Tetrahedron, 4, Closing::Fill),
        testing::solid(Solid::Cube, 4, Closing::Open),
        testing::folded_pair(4, 1),
        testing::ring(8, 3, Closing::SetIn),
    ];
    let mut kinds = BTreeSet::new();
    let mut unknown = BTreeMap::new();
    let broken = Sequence::new(testing::single(testing::panel(3, 4)));
    let broken = broken
        .break_out(Step(20), Step(18), false)
        .unwrap()
        .sequence;
    for seq in seqs.map(Sequence::new).into_iter().chain([broken]) {
        let mut said: BTreeSet<String> = seq.jobs().iter().map(|j| j.title.clone()).collect();
        for m in seq.iter().take(4000) {
            kinds.insert(m.kind);
            said.insert(seq.say(&m));
            said.insert(seq.say_where(&m));
        }
        for sentence in said {
            let text = normalized(&sentence);
            for token in text.split(|c: char| !c.is_alphabetic() && c != '-') {
                let letters = token.chars().count();
                let is_colour = letters == 1;
                if token.is_empty() || is_colour || plain.contains(token) {
                    continue;
                }
                if found(token).is_empty() && !part_of_a_word(token) {
                    unknown.entry(token.to_string()).or_insert(sentence.clone());
                }
            }
        }
        for job in seq.jobs() {
            assert!(!of_job(&job.kind).is_empty(), "{}", job.title);
        }
    }
    assert_eq!(unknown, BTreeMap::new());
    // Every kind came up, so the test covers all of them.
    let missed: Vec<_> = Kind::ALL
        .iter()
        .filter(|(k, _)| !kinds.contains(k))
        .map(|(_, name)| *name)
        .collect();
    assert_eq!(missed, Vec::<&str>::new());
    assert!(Kind::ALL.iter().all(|(k, _)| !of_kind(*k).is_empty()));
}

/// Part of a spelling of more than one word, such as `tooth` or `row`.
fn part_of_a_word(token: &str) -> bool {
    all()
        .flat_map(|w| w.spellings())
        .any(|s| s.split([' ', '-']).any(|part| part == token))
}

/// The page about the model sets each word of the trade in bold where it first
/// comes up; headings in bold begin with a capital.
#[test]
fn every_word_in_bold_on_the_page_about_the_model_is_explained() {
    let page = std::fs::read_to_string(root().join("docs/model.md")).expect("the page");
    let bold = page.split("**").skip(1).step_by(2);
    let words: Vec<&str> = bold
        .filter(|b| b.starts_with(char::is_lowercase) && *b != "bold")
        .collect();
    assert!(words.len() > 10, "{words:?}");
    for word in words {
        let known = all().any(|w| w.spellings().any(|s| s == normalized(word)));
        assert!(known, "{word}");
    }
}

/// A word that no other page and no sentence of the program uses is not needed.
#[test]
fn every_word_of_the_table_is_used_somewhere() {
    let texts: String = texts_by_file()
        .into_values()
        .collect::<Vec<_>>()
        .join(" | ");
    let used = found(&texts);
    let unused: Vec<_> = all()
        .filter(|w| !used.contains(w))
        .map(|w| w.word)
        .collect();
    assert_eq!(unused, Vec::<&str>::new());
}

/// The strings of a file of code, in order, without doc comments and tests.
fn string_literals(code: &str) -> Vec<String> {
    let tokens: TokenStream = code.parse().expect("a file of code");
    let mut out = vec![];
    collect_strings(tokens, &mut out);
    out
}

fn collect_strings(tokens: TokenStream, out: &mut Vec<String>) {
    // The last two words before a token: `mod tests { … }`, `doc = "…"`.
    let mut before = [String::new(), String::new()];
    for token in tokens {
        let tests = before == ["mod", "tests"];
        let doc = before == ["doc", "="];
        before = [std::mem::take(&mut before[1]), token.to_string()];
        match token {
            TokenTree::Group(group) if !tests => collect_strings(group.stream(), out),
            TokenTree::Literal(literal) if !doc => {
                if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                    out.push(text.value());
                }
            }
            _ => {}
        }
    }
}

#[test]
fn strings_are_read_and_comments_and_tests_are_not() {
    let code = "/// A doc \"of\" it\nfn a() { say(\"one \\\n   two\", format!(r#\"x{y}\"#)); }\n\
                mod tests { fn b() { \"hidden\"; } }";
    assert_eq!(string_literals(code), ["one two", "x{y}"]);
}
