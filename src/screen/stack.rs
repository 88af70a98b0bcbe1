//! The stack: which layer gets an input, and what all screens share: the line
//! at the top, the heading, the message to the maker, the key bar, boxes.

use super::input::Input;
use super::keys::{self, KeyLine, Keys, letter};
use super::layer::{Busy, Context, Exit, Flow, Layer, Opener};
use super::look::{ASCII, Look};
use super::widgets::bold;
use super::widgets::text::{self, rows};
use crate::progress::Moment;
use ratatui::crossterm::event::{KeyCode, KeyEvent};
use ratatui::prelude::{Buffer, Line, Modifier, Rect, Style, Widget as _};
use ratatui::widgets::Clear;
use unicode_width::UnicodeWidthStr as _;

/// The smallest size at which a picture helps; below it there are only words.
const LEAST: (u16, u16) = (40, 12);

/// The layers, the lowest first.
pub struct Stack<C: Context> {
    layers: Vec<Open<C>>,
    size: (u16, u16),
    /// What is below the box while something is typed into it.
    below: Option<Buffer>,
}

struct Open<C: Context> {
    layer: Box<dyn Layer<C>>,
    /// The name of the screen that was opened.
    screen: &'static str,
}

impl<C: Context> Stack<C> {
    /// A stack with only its lowest layer.
    pub fn new(lowest: impl Layer<C> + 'static) -> Stack<C> {
        let mut stack = Stack {
            layers: vec![],
            size: (80, 24),
            below: None,
        };
        stack.push(Box::new(lowest), "");
        stack
    }

    fn push(&mut self, layer: Box<dyn Layer<C>>, screen: &'static str) {
        self.layers.push(Open { layer, screen });
    }

    /// Puts a layer on top.
    pub fn open(&mut self, layer: impl Layer<C> + 'static) {
        self.push(Box::new(layer), "");
    }

    /// Closes the top layer, unless it is the lowest.
    pub fn close(&mut self) {
        if !self.is_lowest() {
            self.layers.pop();
        }
    }

    /// Whether nothing is open over the lowest layer.
    pub fn is_lowest(&self) -> bool {
        self.layers.len() == 1
    }

    pub fn top(&self) -> &dyn Layer<C> {
        &*self.layers[self.layers.len() - 1].layer
    }

    /// The top layer, mutable.
    pub fn top_mut(&mut self) -> &mut dyn Layer<C> {
        let last = self.layers.len() - 1;
        &mut *self.layers[last].layer
    }

    /// Handles one input; returns how the stack is left, if it is.
    pub fn handle(&mut self, context: &mut C, input: Input, now: Moment) -> Option<Exit> {
        if let Input::Pictures(can) = input {
            if let Some(session) = context.session() {
                session.fine_answered(can);
            }
            return None;
        }
        if let Input::Ground(ground) = input {
            context.lies_on(ground);
            return None;
        }
        context.begin(now, matches!(input, Input::Key(_) | Input::Click(..)));
        let next = self.next(context, input);
        let exit = self.follow(context, next);
        context.end();
        exit
    }

    fn next(&mut self, context: &mut C, input: Input) -> Flow<C> {
        let below = self.below.take();
        let lowest = self.is_lowest();
        let opened_by = self.layers[self.layers.len() - 1].screen;
        let top = self.top_mut();
        let Input::Key(event) = input else {
            top.mouse(input, context);
            return Flow::Stay;
        };
        let types = letter(&event).is_some()
            && (top.entry().is_some() || top.filter().is_some_and(|f| f.is_open()));
        let event = match types || top.takes_every_key() {
            true => event,
            false => context.stands_for(event),
        };
        match keys::EVERYWHERE.find(&event) {
            Some("quit") => return Flow::Leave(Exit::Quit),
            Some(_) => return Flow::Leave(Exit::Suspend),
            None => {}
        }
        if top.filter().is_some_and(|filter| filter.input(&event)) {
            top.edited(context);
            return Flow::Stay;
        }
        if let Some(name) = top.keys().find(&event) {
            return with_digit(top.run(name, context), &event, context);
        }
        if let Some(next) = top.other(&event, context) {
            return next;
        }
        if top.extends_below() {
            let under = self.layers.len() - 2;
            let under = &mut self.layers[under].layer;
            if let Some(name) = under.keys().find(&event) {
                return under.run(name, context);
            }
        }
        let top = self.top_mut();
        if top.entry().is_some_and(|entry| entry.input(&event)) {
            top.edited(context);
            self.below = below;
            return Flow::Stay;
        }
        if top.scroll().is_some_and(|scroll| scroll.input(&event)) {
            return Flow::Stay;
        }
        let screen = C::screens().iter().find(|s| s.key.is(&event));
        let again = |s: &Opener<C>| s.key.name == opened_by && !is_digit(&event);
        if !lowest && (back(top).find(&event).is_some() || screen.is_some_and(again)) {
            return Flow::Close;
        }
        match screen.filter(|s| top.opens(s.key.name)) {
            Some(screen) => self.begin_with(context, screen, &event),
            None => {
                self.tell_caps_lock(context, &event);
                Flow::Stay
            }
        }
    }

    /// Says so if a capital letter is no key here and its small one is; returns
    /// whether it is so. It does not do the work of the small one, which may
    /// change the piece.
    pub fn tell_caps_lock(&mut self, context: &mut C, event: &KeyEvent) -> bool {
        let Some(capital) = letter(event).filter(|c| c.is_uppercase()) else {
            return false;
        };
        let small = capital.to_ascii_lowercase();
        let event = context.stands_for(KeyCode::Char(small).into());
        let is_meant = self.keys().iter().any(|key| key.is(&event));
        if is_meant {
            context.tell(&format!(
                "{capital} is no key here, {small} is: is Caps Lock on?"
            ));
        }
        is_meant
    }

    /// Opens a screen.
    fn begin_with(&mut self, context: &mut C, screen: &Opener<C>, event: &KeyEvent) -> Flow<C> {
        match with_digit((screen.open)(self, context), event, context) {
            Flow::Open(layer) => {
                self.push(layer, screen.key.name);
                Flow::Stay
            }
            next => next,
        }
    }

    fn follow(&mut self, context: &mut C, next: Flow<C>) -> Option<Exit> {
        match next {
            Flow::Stay => {}
            Flow::Close => {
                self.top_mut().closed(context);
                self.close();
            }
            Flow::Lowest => {
                let is_work = |open: &Open<C>| open.layer.is_work();
                let last = self.layers.iter().rposition(is_work);
                self.layers.truncate(last.unwrap_or(0) + 1);
            }
            Flow::Open(layer) => self.push(layer, ""),
            Flow::Replace(layer) => {
                let last = self.layers.len() - 1;
                self.layers[last].layer = layer;
            }
            Flow::Only(layer) => {
                self.layers.truncate(1);
                self.push(layer, "");
            }
            Flow::Screen(name) => {
                let screen = C::screens().iter().find(|s| s.key.name == name);
                if let Some(screen) = screen {
                    let next = (screen.open)(self, context);
                    return self.follow(context, next);
                }
            }
            Flow::Leave(exit) => return Some(exit),
        }
        None
    }

    /// Takes what was worked out in the background.
    pub fn tick(&mut self, context: &mut C) -> Busy {
        let busy = self.top_mut().tick(context);
        if busy != Busy::No {
            self.below = None;
        }
        busy
    }

    /// All keys of the top layer: its own, those of its text or list, how to
    /// close it, and what can be opened.
    pub fn keys(&mut self) -> Vec<&'static KeyLine> {
        let lowest = self.is_lowest();
        let own = self.top().keys();
        let top = self.top_mut();
        let finds = top.filter().map(|filter| filter.is_open());
        let is_finding = finds == Some(true);
        let types = top.entry().is_some() || is_finding;
        let has_back = own.all().any(|key| key.keys.contains("Esc"));
        let shared = [
            (types, &keys::TYPING),
            (finds == Some(false), &keys::FINDING),
            (top.scroll().is_some(), &keys::SCROLLING),
            (is_finding, &keys::FOUND),
            (!is_finding && !lowest && !has_back, back(top)),
        ];
        let top = self.top();
        // While letters are typed, those that are keys elsewhere are text.
        let is_text = |key: &KeyLine| is_finding && key.keys.split(' ').all(|word| word.len() <= 1);
        let shown = own.lines.iter().filter(|key| !top.hides(key.name));
        let mut all: Vec<_> = shown.filter(|key| !is_text(key)).collect();
        let shared = shared.into_iter().filter(|(is_there, _)| *is_there);
        all.extend(shared.flat_map(|(_, keys)| keys.lines));
        let free = |key: &&KeyLine| !own.all().any(|o| shares(o, key));
        let opened = C::screens().iter().map(|screen| &screen.key);
        let opened = opened.filter(|key| !key.keys.is_empty() && top.opens(key.name));
        match types && top.opens("help") {
            true => all.extend(keys::TYPED_HELP.lines.iter().filter(free)),
            false => all.extend(opened.filter(free)),
        }
        if top.extends_below() {
            let below = &self.layers[self.layers.len() - 2].layer;
            all.extend(below.keys().all().filter(free));
        }
        if !is_finding {
            all.extend(own.rest);
        }
        all.extend(keys::EVERYWHERE.lines);
        all
    }

    /// What there is to hear: the last message, and the top layer.
    pub fn spoken(&self, context: &C) -> Vec<String> {
        let said = std::iter::once(context.said().to_string());
        let all = said.chain(self.spoken_of_top(context));
        let all = all.filter(|line| !line.trim().is_empty());
        all.map(|line| ASCII.letters(&line)).collect()
    }

    /// The same without the message.
    pub fn spoken_of_top(&self, context: &C) -> impl Iterator<Item = String> {
        let top = self.top();
        let heading = top.heading(context).map(|(words, _)| words);
        let lines = top.spoken(context).into_iter();
        heading
            .into_iter()
            .chain(lines.map(|line| line.to_string()))
    }

    /// What there is to see, as text.
    pub fn text(&mut self, context: &mut C) -> String {
        let (wide, high) = self.size;
        let mut buf = Buffer::empty(Rect::new(0, 0, wide, high));
        self.draw(context, buf.area, &mut buf);
        text::letters_of(&buf)
    }

    /// The cells of a picture that can be shown more finely than in cells.
    pub fn fine_area(&self, context: &C, area: Rect) -> Option<Rect> {
        self.top()
            .fine_area(context, body(area))
            .filter(|_| !is_small(area))
    }

    /// Draws the top layer, and what a box covers.
    pub fn draw(&mut self, context: &mut C, area: Rect, buf: &mut Buffer) {
        if area.is_empty() {
            return;
        }
        self.size = (area.width, area.height);
        context.refresh(self.size);
        if is_small(area) {
            return self.draw_words(context, area, buf);
        }
        let (lowest, look) = (self.is_lowest(), context.look());
        let keys = self.keys();
        let from_top = self.layers.iter_mut().rev();
        let boxes = from_top
            .map(|open| open.layer.is_box())
            .take_while(|is_box| *is_box)
            .count();
        let at = self.layers.len() - 1 - boxes;
        let word = context.word(lowest, area.width);
        let shown = &mut self.layers[at].layer;
        let below = self.below.take();
        match below.filter(|below| boxes > 0 && below.area == area) {
            Some(below) => buf.clone_from(&below),
            None => {
                context.head(rows(area, 0, 1), buf);
                let mut space = heading(context, &**shown, body(area), buf);
                if let Some(line) = shown.filter().and_then(|filter| filter.line(look)) {
                    let line = line.to_string();
                    text::line(text::inset(rows(space, 0, 1), 1), buf, &line, bold());
                    space = rows(space, 1, space.height.saturating_sub(1));
                }
                shown.draw(context, space, buf);
            }
        }
        let note = shown.scroll().and_then(|scroll| scroll.note.clone());
        // A long message covers part of the body, whose height does not change.
        let foot = |high: u16| rows(area, area.height.saturating_sub(1 + high), high);
        match (word, note) {
            (word, _) if boxes > 0 => {
                self.below = Some(buf.clone());
                let mut lines = self.top().lines(context);
                lines.extend(word.map(|(words, style)| text::styled(words, style)));
                draw_box(look, lines, area, buf);
            }
            (Some((words, style)), _) => {
                let foot = foot(text::height(words.as_str(), area.width).clamp(1, 3));
                Clear.render(foot, buf);
                text::wrapped(foot, buf, &words, style);
            }
            (None, Some(note)) => text::line(foot(1), buf, &note, look.quiet()),
            (None, None) => {}
        }
        bar(look, &keys, rows(area, area.height - 1, 1), buf);
    }

    /// Below the smallest size: only words, as many as fit.
    fn draw_words(&mut self, context: &C, area: Rect, buf: &mut Buffer) {
        let top = self.top_mut();
        let mut lines = top.lines(context);
        if let Some(line) = top.filter().and_then(|filter| filter.line(context.look())) {
            lines.insert(0, line);
        }
        match top.scroll() {
            Some(scroll) if scroll.is_list => {
                return scroll.chosen(context.look(), area, buf, lines);
            }
            Some(scroll) => return scroll.page(area, buf, lines),
            None => {}
        }
        let mut from = 0;
        for line in lines {
            let style = line.spans.first().map_or(Style::new(), |s| s.style);
            let words = line.to_string();
            from += text::wrapped(
                rows(area, from, area.height),
                buf,
                &words,
                style.patch(line.style),
            );
        }
    }
}

/// What a screen has between the line at the top and the two lines at the foot.
fn body(area: Rect) -> Rect {
    rows(area, 1, area.height.saturating_sub(3))
}

fn is_small(area: Rect) -> bool {
    area.width < LEAST.0 || area.height < LEAST.1
}

fn is_digit(event: &KeyEvent) -> bool {
    matches!(event.code, KeyCode::Char('0'..='9'))
}

/// If a digit opens a text field, that digit is the first one typed there.
fn with_digit<C: Context>(mut next: Flow<C>, event: &KeyEvent, context: &C) -> Flow<C> {
    if let Flow::Open(layer) | Flow::Replace(layer) = &mut next
        && is_digit(event)
        && let Some(entry) = layer.entry()
    {
        entry.input(event);
        layer.edited(context);
    }
    next
}

fn shares(one: &KeyLine, other: &KeyLine) -> bool {
    let mut words = one.keys.split(' ');
    words.any(|word| other.keys.split(' ').any(|o| o == word))
}

/// The keys that close a layer.
fn back<C: Context>(top: &mut dyn Layer<C>) -> &'static Keys {
    match top.entry() {
        Some(_) => &keys::CANCEL,
        None => &keys::BACK,
    }
}

/// Writes the heading of a layer; returns what is left for the layer.
fn heading<C: Context>(context: &C, layer: &dyn Layer<C>, body: Rect, buf: &mut Buffer) -> Rect {
    let Some((words, style)) = layer.heading(context) else {
        return body;
    };
    let gap = u16::from(body.height >= 13);
    let wide = text::inset(body, 2);
    let high = text::height(words.as_str(), wide.width).min(2);
    buf.set_style(rows(body, gap, high), style);
    text::wrapped(rows(wide, gap, high), buf, &words, style);
    let top = gap + high + gap;
    rows(body, top, body.height.saturating_sub(top))
}

/// Lines in a box at the foot of the screen.
fn draw_box(look: Look, lines: Vec<Line<'static>>, area: Rect, buf: &mut Buffer) {
    let wide = area.width.saturating_sub(2);
    let high = text::height(lines.clone(), wide);
    let high = (high + 1).min(area.height.saturating_sub(1));
    let space = rows(area, area.height.saturating_sub(1 + high), high);
    Clear.render(space, buf);
    let rule: String = std::iter::repeat_n(look.signs().rule[0], usize::from(area.width)).collect();
    text::line(space, buf, &rule, look.seat());
    let inside = text::inset(rows(space, 1, high.saturating_sub(1)), 1);
    text::scrolled(inside, buf, lines, usize::MAX);
}

/// The key bar: as many keys as fit, the most important first, and how to go
/// back.
fn bar(look: Look, keys: &[&KeyLine], area: Rect, buf: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let blank = " ".repeat(usize::from(area.width));
    text::line(area, buf, &blank, Style::reset().patch(look.bar()));
    let bold = look.bar().add_modifier(Modifier::BOLD);
    let long = |(key, does): (&str, &str)| (key.width() + does.width() + 3) as u16;
    let all: Vec<(&str, &str)> = keys.iter().filter_map(|key| key.on_bar()).collect();
    let back = all.iter().position(|(key, _)| *key == "Esc");
    let (mut x, mut is_full) = (area.x, false);
    for (nth, &(key, does)) in all.iter().enumerate() {
        // Room is reserved for the key to go back until it is drawn.
        let kept = back
            .filter(|back| *back > nth)
            .map_or(0, |back| long(all[back]));
        is_full |= Some(nth) != back && x + long((key, does)) + kept > area.right();
        if is_full && Some(nth) != back {
            continue;
        }
        let room = |x: u16| usize::from(area.right().saturating_sub(x));
        buf.set_stringn(x + 1, area.y, key, room(x + 1), bold);
        let at = x + 2 + key.width() as u16;
        buf.set_stringn(at, area.y, does, room(at), look.bar());
        x += long((key, does));
    }
}
