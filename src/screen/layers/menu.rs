//! Screens that are values: a list from which a line is chosen, and a question
//! whose answer is typed.

use crate::screen::layer::{Context, Flow, Keys, Layer};
use crate::screen::widgets::{Scroll, TextEntry, choices, text};
use ratatui::prelude::{Buffer, Line, Rect, Style};
use std::rc::Rc;

/// A line of a menu, and what choosing it does.
pub type MenuRow<C> = (String, Box<dyn Fn(&mut C) -> Flow<C>>);

/// A line of a menu.
pub fn row<C>(words: impl Into<String>, act: impl Fn(&mut C) -> Flow<C> + 'static) -> MenuRow<C>
where
    C: Context,
{
    (words.into(), Box::new(act))
}

/// A list from which a line is chosen.
pub struct Menu<C: Context> {
    keys: &'static Keys,
    heading: String,
    rows: Rc<[MenuRow<C>]>,
    scroll: Scroll,
    /// What the keys other than `choose` do.
    more: fn(&str, &mut C) -> Flow<C>,
    picture: Option<Box<ItemPicture<C>>>,
}

/// Draws what the chosen line, counted from 0, is about.
type ItemPicture<C> = dyn Fn(&C, usize, Rect, &mut Buffer);

/// The fewest rows for a picture below a list.
const PICTURE_ROWS: u16 = 9;

impl<C: Context> Menu<C> {
    /// With a table in which `choose` is the key that chooses.
    pub fn new(
        keys: &'static Keys,
        heading: impl Into<String>,
        rows: impl Into<Rc<[MenuRow<C>]>>,
    ) -> Menu<C> {
        let rows = rows.into();
        Menu {
            keys,
            heading: heading.into(),
            scroll: Scroll::list(0, rows.len()),
            rows,
            more: |_, _| Flow::Stay,
            picture: None,
        }
    }

    /// With further keys.
    pub fn with(self, more: fn(&str, &mut C) -> Flow<C>) -> Menu<C> {
        Menu { more, ..self }
    }

    /// With a picture below the list, where there is room for it.
    pub fn with_picture(self, picture: impl Fn(&C, usize, Rect, &mut Buffer) + 'static) -> Menu<C> {
        let picture: Box<ItemPicture<C>> = Box::new(picture);
        Menu {
            picture: Some(picture),
            ..self
        }
    }

    fn choose(&self, context: &mut C) -> Flow<C> {
        let chosen = self.rows.get(self.scroll.at);
        chosen.map_or(Flow::Stay, |(_, act)| act(context))
    }
}

impl<C: Context> Layer<C> for Menu<C> {
    fn keys(&self) -> &'static Keys {
        self.keys
    }

    fn run(&mut self, name: &str, context: &mut C) -> Flow<C> {
        match name {
            "choose" => self.choose(context),
            name => (self.more)(name, context),
        }
    }

    fn heading(&self, context: &C) -> Option<(String, Style)> {
        let words = Some(self.heading.clone()).filter(|words| !words.is_empty());
        Some((words?, context.look().seat()))
    }

    fn lines(&self, context: &C) -> Vec<Line<'static>> {
        let words = self.rows.iter().map(|(words, _)| words.as_str());
        choices(context.look(), self.scroll.at, words)
    }

    fn draw(&mut self, context: &C, area: Rect, buf: &mut Buffer) {
        let (lines, list) = (self.lines(context), text::inset(area, 2));
        let most = area.height.saturating_sub(PICTURE_ROWS + 1);
        let has_room = area.width >= 60 && most >= 3;
        let picture = self.picture.as_ref().filter(|_| has_room);
        let high = match picture {
            Some(_) => text::height(lines.clone(), list.width).min(most),
            None => area.height,
        };
        let list = text::rows(list, 0, high);
        self.scroll.chosen(context.look(), list, buf, lines);
        if let Some(picture) = picture {
            let below = text::rows(area, high + 1, area.height);
            picture(context, self.scroll.at, below, buf);
        }
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    /// In a list of beads a capital letter chooses the line that begins with it.
    fn typed(&mut self, letter: char, context: &mut C) -> Option<Flow<C>> {
        let by_letter = self.keys.lines.iter().any(|line| line.keys == "A-Z");
        if !by_letter || !is_bead_letter(letter) {
            return None;
        }
        match self
            .rows
            .iter()
            .position(|(words, _)| words.starts_with(letter))
        {
            Some(at) => self.scroll.at = at,
            None => {
                context.tell(&format!("{letter} is no bead of this list."));
                return Some(Flow::Stay);
            }
        }
        Some(self.choose(context))
    }
}

/// Whether a letter can be that of a bead: any but `a` to `z`, which are keys.
pub fn is_bead_letter(letter: char) -> bool {
    letter.is_alphabetic() && !letter.is_ascii_lowercase()
}

type Asks<C> = dyn Fn(&C, &str) -> (String, Line<'static>);
type Answers<C> = dyn FnMut(&mut C, &str) -> Result<Flow<C>, String>;

/// A question whose answer is typed, over the screen below.
pub struct Prompt<C: Context> {
    keys: &'static Keys,
    entry: TextEntry,
    asks: Box<Asks<C>>,
    answer: Box<Answers<C>>,
}

impl<C: Context> Prompt<C> {
    /// With a table of its one key, which answers; the question and the line
    /// below it, for what is typed so far; and what the answer does, or why it
    /// is refused.
    pub fn new<Q: Into<String>, B: Into<Line<'static>>>(
        keys: &'static Keys,
        entry: TextEntry,
        asks: impl Fn(&C, &str) -> (Q, B) + 'static,
        answer: impl FnMut(&mut C, &str) -> Result<Flow<C>, String> + 'static,
    ) -> Prompt<C> {
        let asks = move |context: &C, typed: &str| {
            let (asked, below) = asks(context, typed);
            (asked.into(), below.into())
        };
        Prompt {
            keys,
            entry,
            asks: Box::new(asks),
            answer: Box::new(answer),
        }
    }
}

impl<C: Context> Layer<C> for Prompt<C> {
    fn keys(&self) -> &'static Keys {
        self.keys
    }

    fn run(&mut self, _name: &str, context: &mut C) -> Flow<C> {
        match (self.answer)(context, &self.entry.typed) {
            Ok(next) => next,
            Err(why) => {
                self.entry.refuse(why);
                Flow::Stay
            }
        }
    }

    fn lines(&self, context: &C) -> Vec<Line<'static>> {
        let (asked, below) = (self.asks)(context, &self.entry.typed);
        let below = self.entry.below(below);
        let lines = [self.entry.line(context.look(), &asked), below];
        let is_said = |line: &Line| line.width() > 0;
        lines.into_iter().filter(is_said).collect()
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}
