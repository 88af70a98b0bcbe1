//! Where am I: questions about what lies on the mat, one at a time, and the
//! result, with the picture for comparison.

use crate::beadwork::{Sequence, Step};
use crate::screen::layer::{Context as _, Flow, Layer, Opener, keys, opener};
use crate::screen::session::Session;
use crate::screen::widgets::{Scroll, TextEntry, bold, choice, choices, rows, scene, styled, text};
use crate::tracking::locate::{Choices, Found, Next as Turn, Question, Reply, Search};
use ratatui::prelude::{Buffer, Line, Rect, Style};
use std::sync::Arc;

pub const OPENER: Opener<Session> = opener!(Session; "locate" "w" ["w where am I"] "where am I: questions about what lies on the mat find a lost place" |_, session| Flow::Open(turn(Search::new(session.seq.clone()))); LostPlace::table, Compare::table);

/// Columns of an answer with its drawing beside it.
const BESIDE: u16 = 50;

/// The most digits of an answer.
const LONGEST: usize = 7;

type Searching = Search<Arc<Sequence>>;

/// A question about a lost place.
pub struct LostPlace {
    search: Searching,
    question: Question,
    entry: TextEntry,
    scroll: Scroll,
}

impl Layer<Session> for LostPlace {
    keys! { Session, "A lost place" [scroll];
        answer "Enter" ["Enter answer"] "the answer that is marked, or the number that was typed"
        cannot_tell "? space" ["? can't tell"] "you cannot tell: the next question"
        erase "Backspace left" ["bksp undo answer"] "take back a digit, or the last answer"
        ~ "0-9" [] "the number that is asked for, or that of an answer, which is then marked"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let nth = self.search.asked().len() + 1;
        let words = format!("Where am I: question {nth}");
        Some((words, session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let look = session.look();
        let mut lines = vec![];
        if self.search.asked().is_empty() {
            let first = "Lay the work on the mat as it is; pull nothing yet.";
            lines.push(Line::from(first));
            lines.push(Line::default());
        }
        lines.push(styled(self.question.text.clone(), bold()));
        lines.push(Line::default());
        match &self.question.choices {
            Choices::Number(_) => lines.push(self.entry.line(look, "Your count:")),
            Choices::OneOf(choices) => {
                for (i, (value, words)) in choices.iter().enumerate() {
                    let words = format!("{} {words}", i + 1);
                    let drawing = self.question.ask.drawing(*value).iter();
                    let mut drawing = drawing.filter(|_| !session.plain).map(|l| look.letters(l));
                    // Beside the words, if there is room.
                    let first = match session.size.0 >= BESIDE + 24 {
                        true => drawing.next().unwrap_or_default(),
                        false => String::new(),
                    };
                    let wide = usize::from(BESIDE);
                    let words = format!("{words:wide$}{first}");
                    let here = i + 1 == self.scroll.at;
                    lines.push(choice(look, here, words.trim_end()));
                    let wide = if first.is_empty() { 7 } else { wide + 2 };
                    lines.extend(drawing.map(|l| Line::from(format!("{:wide$}{l}", ""))));
                }
            }
        }
        lines.push(Line::default());
        lines.push(styled("? if you cannot tell.", look.quiet()));
        lines
    }

    /// A digit: the number of a choice marks it, other numbers are typed in full.
    /// Enter answers.
    fn typed(&mut self, c: char, _session: &mut Session) -> Option<Flow<Session>> {
        let digit = c.to_digit(10)?;
        let Choices::OneOf(choices) = &self.question.choices else {
            self.entry.add(c);
            return Some(Flow::Stay);
        };
        if (1..=choices.len()).contains(&(digit as usize)) {
            self.scroll.at = digit as usize;
        }
        Some(Flow::Stay)
    }
}

impl LostPlace {
    fn reply(&mut self, reply: Reply) -> Flow<Session> {
        self.search.reply(self.question.ask, reply);
        Flow::Replace(turn(self.search.clone()))
    }

    /// The answer chosen or typed.
    fn answer(&mut self, session: &mut Session) -> Flow<Session> {
        let value = match &self.question.choices {
            Choices::Number(_) => self.entry.typed.parse().ok(),
            // Nothing is marked until the maker moves to it.
            Choices::OneOf(choices) => {
                let marked = self.scroll.at.checked_sub(1).and_then(|at| choices.get(at));
                marked.map(|(value, _)| *value)
            }
        };
        match value {
            Some(value) => self.reply(Reply::Value(value)),
            None => session.say("Type the number of the answer, or ? if you cannot tell."),
        }
    }

    fn cannot_tell(&mut self, _session: &mut Session) -> Flow<Session> {
        self.reply(Reply::CannotTell)
    }

    fn erase(&mut self, session: &mut Session) -> Flow<Session> {
        if self.entry.typed.pop().is_some() {
            return Flow::Stay;
        }
        take_back(self.search.clone(), session)
    }
}

/// The next question, or the result.
fn turn(mut search: Searching) -> Box<dyn Layer<Session>> {
    match search.turn() {
        Turn::Ask(question) => {
            let choices = match &question.choices {
                Choices::OneOf(choices) => choices.len() + 1,
                Choices::Number(_) => 0,
            };
            Box::new(LostPlace {
                search,
                question,
                entry: TextEntry::of(LONGEST, |c| c.is_ascii_digit()),
                scroll: Scroll::list(0, choices),
            })
        }
        Turn::Found(found) => Box::new(Compare {
            search,
            scroll: Scroll::list(0, found.steps.len()),
            found,
        }),
    }
}

/// Undoes the last answer.
fn take_back(mut search: Searching, session: &mut Session) -> Flow<Session> {
    if !search.take_back() {
        session.say("This is the first question.");
    }
    Flow::Replace(turn(search))
}

/// The result, to compare with the work.
pub struct Compare {
    search: Searching,
    found: Found,
    scroll: Scroll,
}

impl Layer<Session> for Compare {
    keys! { Session, "A lost place is found" [scroll];
        go "Enter" ["Enter go there"] "go there"
        deny_result "n" ["n looks different"] "the work does not look like this: an answer was wrong, and the search goes on"
        erase "Backspace left" ["bksp undo answer"] "take back the last answer"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let words = match self.found.steps.len() {
            0 => "That is not enough to find the place",
            1 => "This is the place: compare the picture",
            _ => "One of these: compare the pictures",
        };
        Some((words.into(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let seq = &session.seq;
        let head = match self.found.steps.len() {
            0 => "Backspace takes an answer back.",
            1 => "The last movement that you made is:",
            _ => "The last movement that you made is one of these, which look alike:",
        };
        let mut lines = vec![Line::from(head)];
        let steps = self.found.steps.iter();
        let words = steps.filter_map(|&s| seq.step(s)).map(|m| {
            let place = seq.say_where(&m);
            let title = &seq.job(m.job).title;
            let dot = if place.is_empty() { "" } else { ", " };
            format!("step {}: {} ({title}{dot}{place})", m.step, seq.say(&m))
        });
        lines.extend(choices(session.look(), self.scroll.at, words));
        lines
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let space = text::inset(area, 2);
        let lines = self.lines(session);
        let high = text::height(lines.clone(), space.width);
        let high = high.min(space.height / 2).max(1);
        self.scroll
            .chosen(session.look(), rows(space, 0, high), buf, lines);
        if let Some(done) = self.compared() {
            let picture = rows(area, high + 1, area.height);
            scene::draw_at(session, done, &scene::MAKING, picture, buf);
        }
    }
}

impl Compare {
    /// The step that the maker compares with, as the last one done.
    fn compared(&self) -> Option<Step> {
        self.found.steps.get(self.scroll.at).copied()
    }

    fn go(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(done) = self.compared() else {
            return session
                .say("That is not enough to find the place. Backspace takes an answer back.");
        };
        let next = session.jump(Step(done.0 + 1));
        if session.said.is_empty() {
            session.say("You are where the piece is.");
        }
        next
    }

    fn deny_result(&mut self, session: &mut Session) -> Flow<Session> {
        self.search.deny_result();
        session.say("One of the answers was not right: the search goes on.");
        Flow::Replace(turn(self.search.clone()))
    }

    fn erase(&mut self, session: &mut Session) -> Flow<Session> {
        take_back(self.search.clone(), session)
    }
}
