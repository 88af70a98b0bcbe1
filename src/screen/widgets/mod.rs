//! What screens share: lists, long pages, and text fields.

use crate::progress::PlainText;
use crate::screen::keys::{self, letter};
use crate::screen::look::Look;
pub use crate::screen::look::bold;
use crate::words::{Word, mirrored};
use ratatui::crossterm::event::{KeyCode, KeyEvent};
use ratatui::prelude::{Buffer, Line, Rect, Style};
use unicode_width::UnicodeWidthStr as _;

pub mod big;
mod map;
pub mod scene;
pub mod text;

pub use text::{columns, last_columns, rows, styled};

/// The chosen line of a list, or the first visible row of a long page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scroll {
    /// The line or row, from 0.
    pub at: usize,
    /// Its largest possible value.
    last: usize,
    /// Rows of a page, as last drawn.
    page: usize,
    /// The note below that says where in the page one is, as last drawn.
    pub note: Option<String>,
    /// Whether one of its lines is chosen.
    pub is_list: bool,
}

impl Scroll {
    /// A long page, from its top. Its length is known once it is drawn.
    pub fn new() -> Scroll {
        Scroll {
            is_list: false,
            ..Scroll::list(0, usize::MAX)
        }
    }

    /// A list with this many lines.
    pub fn list(at: usize, lines: usize) -> Scroll {
        Scroll {
            at,
            last: lines.saturating_sub(1),
            page: 10,
            note: None,
            is_list: true,
        }
    }

    /// Moves if the key asks for it; returns whether it does.
    pub fn input(&mut self, event: &KeyEvent) -> bool {
        let by = match keys::SCROLLING.find(event) {
            Some("down") => 1,
            Some("up") => -1,
            Some("page_down") => self.page as isize,
            Some("page_up") => -(self.page as isize),
            Some("first") => isize::MIN,
            Some("last") => isize::MAX,
            _ => return false,
        };
        self.at = self.at.saturating_add_signed(by).min(self.last);
        true
    }

    /// The number of lines of a list.
    pub fn lines(&self) -> Option<usize> {
        self.is_list.then_some(self.last + 1)
    }

    /// Fits it to `rows` rows, of which `seen` are visible at once.
    pub fn fit(&mut self, rows: usize, seen: u16) {
        self.page = usize::from(seen.max(1));
        let last = rows.saturating_sub(self.page);
        self.note = more(self.at < last);
        if !self.is_list {
            self.last = last;
            self.at = self.at.min(last);
        }
    }

    /// Writes a page that can be longer than the area.
    pub fn page(&mut self, area: Rect, buf: &mut Buffer, lines: Vec<Line<'static>>) {
        let heights = lines.iter().map(|l| text::height(l.clone(), area.width));
        self.fit(heights.map(usize::from).sum(), area.height);
        text::scrolled(area, buf, lines, self.at);
    }

    /// The first visible row of a list with `rows` rows; the chosen one, at row
    /// `here`, stays in the middle.
    pub fn from(&mut self, rows: usize, here: usize, seen: u16) -> usize {
        self.page = usize::from(seen.max(1));
        let last = rows.saturating_sub(self.page);
        let from = here.saturating_sub(self.page / 2).min(last);
        self.note = match rows {
            0 => Some(" no line has these letters".into()),
            _ => more(from < last),
        };
        from
    }

    /// Draws the visible ones of the `rows` rows of a list, the chosen one, at
    /// row `here`, as a bar.
    pub fn rows(
        &mut self,
        look: Look,
        area: Rect,
        buf: &mut Buffer,
        (rows, here): (usize, Option<usize>),
        row: impl Fn(usize) -> ListRow,
    ) {
        let from = self.from(rows, here.unwrap_or(0), area.height);
        for (y, nth) in (0..area.height).zip(from..rows) {
            let space = text::rows(area, y, 1);
            let row = row(nth);
            let style = match here == Some(nth) {
                true => row.style.patch(look.bar()),
                false => row.style,
            };
            buf.set_style(space, style);
            let room = usize::from(space.width).saturating_sub(row.right.width() + 1);
            let left = text::fit(&row.left, room);
            text::line(space, buf, &left, style.patch(row.weight));
            text::right(space, buf, &row.right, style);
        }
    }

    /// Writes a list so that its chosen line, which has the mark, is visible.
    pub fn chosen(&mut self, look: Look, area: Rect, buf: &mut Buffer, lines: Vec<Line<'static>>) {
        let mark = look.signs().enter[1];
        let line = lines
            .iter()
            .position(|line| line.to_string().starts_with(mark));
        let height = |l: &Line<'static>| usize::from(text::height(l.clone(), area.width));
        let before = lines.iter().take(line.unwrap_or(0)).map(height).sum();
        let all = lines.iter().map(height).sum();
        let from = self.from(all, before, area.height);
        text::scrolled(area, buf, lines, from);
    }
}

/// A row of a list: text at its left, and at its right end.
#[derive(Clone, Debug)]
pub struct ListRow {
    pub left: String,
    pub right: String,
    pub style: Style,
    /// The style of the text at the left, over that of the row.
    pub weight: Style,
}

impl ListRow {
    /// A row with text at its left.
    pub fn new(left: impl Into<String>, style: Style) -> ListRow {
        ListRow {
            left: left.into(),
            right: String::new(),
            style,
            weight: Style::new(),
        }
    }
}

fn more(is_more: bool) -> Option<String> {
    is_more.then(|| " more below: down arrow".into())
}

/// A line of a list, marked if it is the chosen one.
pub fn choice(look: Look, here: bool, words: &str) -> Line<'static> {
    match here {
        true => text::styled(format!("{} {words}", look.signs().enter[1]), bold()),
        false => text::styled(format!("  {words}"), Style::new()),
    }
}

/// The lines of a list, the one at `at` chosen.
pub fn choices<W: AsRef<str>>(
    look: Look,
    at: usize,
    words: impl IntoIterator<Item = W>,
) -> Vec<Line<'static>> {
    let line = |(nth, words): (usize, W)| choice(look, nth == at, words.as_ref());
    words.into_iter().enumerate().map(line).collect()
}

/// The parts of a page, each below its heading.
pub fn sections<'a>(
    heading: Style,
    parts: impl IntoIterator<Item = (&'a str, Vec<Line<'static>>)>,
) -> Vec<Line<'static>> {
    let mut lines = vec![];
    for (words, part) in parts {
        if !lines.is_empty() {
            lines.push(Line::default());
        }
        lines.push(text::styled(words, heading));
        lines.extend(part);
    }
    lines
}

/// Whether this can stand where several numbers are typed.
pub fn is_of_numbers(c: char) -> bool {
    c.is_ascii_digit() || c == ' ' || c == ','
}

/// A text field.
#[derive(Clone, Debug)]
pub struct TextEntry {
    /// The letters so far.
    pub typed: String,
    /// The most letters.
    most: usize,
    takes: fn(char) -> bool,
    /// Why the text was refused, until it is edited.
    refused: Option<String>,
}

impl TextEntry {
    /// A field for any letters.
    pub fn text(most: usize) -> TextEntry {
        TextEntry::of(most, |_| true)
    }

    /// A field for numbers with blanks or commas between them.
    pub fn numbers(most: usize) -> TextEntry {
        TextEntry::of(most, is_of_numbers)
    }

    /// A field for certain letters only.
    pub fn of(most: usize, takes: fn(char) -> bool) -> TextEntry {
        TextEntry {
            typed: String::new(),
            most,
            takes,
            refused: None,
        }
    }

    /// With a text in it.
    pub fn with(mut self, typed: &str) -> TextEntry {
        self.typed = typed.into();
        self
    }

    /// Types a letter or deletes some; returns whether the key does that.
    pub fn input(&mut self, event: &KeyEvent) -> bool {
        if let Some(name) = keys::TYPING.find(event) {
            self.refused = None;
            match name {
                "clear" => self.typed.clear(),
                _ => drop(self.typed.pop()),
            }
            return true;
        }
        let letter = letter(event);
        letter.into_iter().for_each(|c| self.add(c));
        letter.is_some()
    }

    /// Types a letter.
    pub fn add(&mut self, c: char) {
        self.refused = None;
        if (self.takes)(c) && self.typed.chars().count() < self.most {
            self.typed.push_str(PlainText::new(&c.to_string()).as_str());
        }
    }

    /// Says why the text is refused.
    pub fn refuse(&mut self, why: impl Into<String>) {
        self.refused = Some(why.into());
    }

    /// The line below: help, or why the text was refused.
    pub fn below(&self, help: impl Into<Line<'static>>) -> Line<'static> {
        self.refused.clone().map_or_else(|| help.into(), Line::from)
    }

    /// The question, and the text so far.
    pub fn line(&self, look: Look, asked: &str) -> Line<'static> {
        let cursor = if look.unicode { '█' } else { '_' };
        text::styled(format!("{asked} {}{cursor}", self.typed), bold())
    }
}

/// The drawing of a word, and what it shows.
pub fn drawing(word: &'static Word, left_handed: bool, look: Look) -> Vec<Line<'static>> {
    let drawn = match left_handed {
        true => mirrored(word.drawing),
        false => word.drawing.iter().map(|l| l.to_string()).collect(),
    };
    let drawn = drawn
        .into_iter()
        .map(|l| format!("    {}", look.letters(&l)));
    let mut lines: Vec<Line> = drawn.map(Line::from).collect();
    lines.push(text::styled(look.letters(word.shows), look.quiet()));
    lines
}

/// The letters that lines must contain, while they are typed and afterwards.
#[derive(Debug, Default)]
pub struct Filter {
    entry: Option<TextEntry>,
}

impl Filter {
    /// Whether letters are being typed.
    pub fn is_open(&self) -> bool {
        self.entry.is_some()
    }

    /// Whether a line belongs in the list; upper and lower case are the same.
    pub fn fits(&self, words: &str) -> bool {
        let typed = self.entry.as_ref().map(|entry| entry.typed.to_lowercase());
        typed.is_none_or(|typed| words.to_lowercase().contains(typed.trim()))
    }

    /// Handles a key; returns whether it belongs to the filter.
    pub fn input(&mut self, event: &KeyEvent) -> bool {
        let opens = keys::FINDING.find(event).is_some();
        match &mut self.entry {
            None if opens => self.entry = Some(TextEntry::text(40)),
            None => return false,
            Some(_) if event.code == KeyCode::Esc => self.entry = None,
            Some(entry) if entry.typed.is_empty() && keys::TYPING.find(event) == Some("erase") => {
                self.entry = None;
            }
            Some(entry) => return entry.input(event),
        }
        true
    }

    /// What is typed so far.
    pub fn line(&self, look: Look) -> Option<Line<'static>> {
        let entry = self.entry.as_ref()?;
        Some(entry.line(look, "Lines with:"))
    }
}
