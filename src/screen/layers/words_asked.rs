//! Asking about a word: first the words on the screen, then all; and the page
//! of one word, which leads to related words.

use crate::screen::layer::{Context, Flow, Layer, Opener, keys, opener};
use crate::screen::look::Look;
use crate::screen::stack::Stack;
use crate::screen::widgets::{ListRow, Scroll, TextEntry, bold, drawing, rows, styled, text};
use crate::words::{self, Word, WordFit};
use ratatui::prelude::{Buffer, Line, Rect, Span, Style};

/// How it is opened, from anywhere.
pub const fn opener<C: Context>() -> Opener<C> {
    opener!(C; "words" "a" ["a word?"] "ask about a word: those on the screen first, then all, each with a small drawing" open; <WordList as Layer<C>>::table, <WordPage as Layer<C>>::table)
}

fn open<C: Context>(stack: &mut Stack<C>, context: &mut C) -> Flow<C> {
    let text = stack.text(context);
    Flow::open(WordList::about(&text, &context.words_now()))
}

#[derive(Debug)]
pub struct WordList {
    /// All words; first those that were on the screen, so many.
    words: Vec<&'static Word>,
    here: usize,
    scroll: Scroll,
    /// Typed letters: only words that begin with them are in the list.
    entry: TextEntry,
}

impl WordList {
    /// For the text of a screen; words about the current work come first, if
    /// they are in it.
    fn about(screen: &str, going_on: &[&'static Word]) -> WordList {
        let mut words = words::found(screen);
        words.sort_by_key(|word| {
            let at = going_on.iter().position(|w| w == word);
            at.unwrap_or(going_on.len())
        });
        let here = words.len();
        let others: Vec<_> = words::all().filter(|w| !words.contains(w)).collect();
        words.extend(others);
        WordList {
            scroll: Scroll::list(0, words.len()),
            words,
            here,
            entry: TextEntry::of(40, |c| !c.is_control()),
        }
    }

    /// The words of the list in order: by how well they fit what is typed.
    fn list(&self) -> Vec<&'static Word> {
        let mut list = self.words.clone();
        if !self.entry.typed.is_empty() {
            list.retain(|word| word.fit(&self.entry.typed).is_some());
            list.sort_by_key(|word| word.fit(&self.entry.typed));
        }
        list
    }

    fn explain<C: Context>(&mut self, context: &mut C) -> Flow<C> {
        match self.list().get(self.scroll.at) {
            Some(word) => Flow::open(WordPage::of(word)),
            None => {
                context.tell("That word is not among these.");
                Flow::Stay
            }
        }
    }

    /// The headings and the words, each with its index in the list.
    fn rows(&self) -> Vec<(String, Option<usize>)> {
        let mut rows = vec![];
        let parted = self.entry.typed.is_empty();
        for (i, word) in self.list().into_iter().enumerate() {
            if parted && i == 0 && self.here > 0 {
                rows.push(("Words on the screen just now".into(), None));
            }
            if parted && i == self.here {
                rows.push(("All other words".into(), None));
            }
            let first = word.means.split('.').next().unwrap_or_default();
            let other = match word.fit(&self.entry.typed) {
                Some(WordFit::OtherName(name)) => format!(" ({name})"),
                _ => String::new(),
            };
            rows.push((format!("{}{other}: {first}", word.word), Some(i)));
        }
        rows
    }
}

impl<C: Context> Layer<C> for WordList {
    keys! { C, "Asking about a word" [scroll entry];
        explain "Enter right" ["Enter explain"] "explain the word"
        ~ "letters" ["type filter"] "only words with these letters, in their name or in another name for the thing"
    }

    fn lines(&self, _context: &C) -> Vec<Line<'static>> {
        let names = |words: &[&'static Word]| {
            let names: Vec<_> = words.iter().map(|w| w.word).collect();
            names.join(", ")
        };
        let list = self.list();
        if !self.entry.typed.is_empty() {
            let words = format!("Words with {}: {}.", self.entry.typed, names(&list));
            return vec![Line::from(words)];
        }
        let (here, others) = self.words.split_at(self.here);
        let mut lines = vec![Line::from(format!("Other words: {}.", names(others)))];
        if !here.is_empty() {
            let here = format!("In this step: {}.", names(here));
            lines.insert(0, Line::from(here));
        }
        lines.push(Line::from("Type one of them, or letters of it."));
        lines
    }

    fn edited(&mut self, _context: &C) {
        self.scroll = Scroll::list(0, self.list().len());
    }

    fn draw(&mut self, context: &C, area: Rect, buf: &mut Buffer) {
        let look = context.look();
        let mut area = text::inset(area, 1);
        if !self.entry.typed.is_empty() {
            let line = self.entry.line(look, "Words with:").to_string();
            text::line(area, buf, &line, bold());
            area = rows(area, 1, area.height);
        }
        let lines = self.rows();
        let at = |row: &(String, Option<usize>)| row.1 == Some(self.scroll.at);
        let here = lines.iter().position(at);
        let row = |nth: usize| {
            let (words, index) = &lines[nth];
            let (style, indent) = match index {
                None => (look.seat(), 0),
                Some(_) => (Style::new(), 2),
            };
            let room = area.width.saturating_sub(2 * indent);
            let words = text::wrap(words, room).swap_remove(0);
            ListRow::new(" ".repeat(indent.into()) + &words, style)
        };
        self.scroll.rows(look, area, buf, (lines.len(), here), row);
    }
}

#[derive(Debug)]
pub struct WordPage {
    word: &'static Word,
    scroll: Scroll,
}

impl WordPage {
    fn of(word: &'static Word) -> WordPage {
        let scroll = Scroll::new();
        WordPage { word, scroll }
    }
}

impl<C: Context> Layer<C> for WordPage {
    keys! { C, "A word explained" [scroll page];
        ~ "1 2 3 4 5 6 7 8 9" ["1-9 see also"] "go to the word with that number"
    }

    fn lines(&self, context: &C) -> Vec<Line<'static>> {
        explained(self.word, context.left_handed(), context.look())
    }

    fn typed(&mut self, c: char, _context: &mut C) -> Option<Flow<C>> {
        let nth = c.to_digit(10)?.checked_sub(1)?;
        let next = self.word.related().nth(nth as usize);
        Some(next.map_or(Flow::Stay, |word| Flow::open(WordPage::of(word))))
    }
}

/// A word explained: its meaning, a drawing, related words.
fn explained(word: &'static Word, left_handed: bool, look: Look) -> Vec<Line<'static>> {
    let mut lines = vec![styled(word.word, look.seat()), Line::from(word.means)];
    if !word.drawing.is_empty() {
        lines.push(Line::default());
        lines.extend(drawing(word, left_handed, look));
    }
    lines.push(Line::default());
    let mut spans = vec![Span::raw("See also: ")];
    for (i, other) in word.related().enumerate() {
        if i > 0 {
            spans.push(Span::raw(", "));
        }
        spans.push(Span::styled((i + 1).to_string(), bold()));
        spans.push(Span::raw(format!(" {}", other.word)));
    }
    lines.push(Line::from(spans));
    lines
}
