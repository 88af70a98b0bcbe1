//! The beginner's tour in a sitting: which lesson is due, and what is kept of
//! it with the piece; and words asked about.

use super::{Pane, Session};
use crate::beadwork::number::Step;
use crate::progress::{Entry, PlainText, Setting, Value};
use crate::screen::asking::Asking;
use crate::screen::view;
use crate::tour::{self, Lesson, Reader, Shown};
use crate::words;

impl Session {
    /// Whether the maker takes the tour on this piece.
    pub fn tour_is_on(&self) -> bool {
        self.piece.state().settings.is_on(Setting::TOUR)
    }

    /// The lessons that came up.
    pub fn shown(&self) -> Shown {
        let words = self.piece.state().settings.words(Setting::TOUR_SHOWN);
        Shown::from_words(words.unwrap_or_default())
    }

    /// The lesson that is due now.
    pub fn lesson(&self) -> Option<&'static Lesson> {
        match self.tour_is_on() {
            true => tour::due(&self.seq, self.done(), &self.shown()),
            false => None,
        }
    }

    /// For whom lessons are told.
    pub fn reader(&self) -> Reader {
        Reader {
            left_handed: self.left_handed(),
            plain: self.plain,
        }
    }

    /// Whether the tour's own piece is offered: on a piece of ours that was
    /// just begun, without a tour of its own.
    pub fn offers_tour(&self) -> bool {
        !self.tour_is_on() && self.piece.state().furthest == 0 && self.piece.source().is_none()
    }

    /// Keeps that the lesson came up before its movement was made.
    pub(super) fn lesson_came_up(&mut self) {
        let Some(lesson) = self.lesson() else { return };
        let shown = self.shown();
        if !shown.came_up(lesson) {
            let here = Step(self.done().0 + 1);
            self.keep_shown(shown.with(lesson, here));
        }
    }

    fn keep_shown(&mut self, shown: Shown) {
        let words = shown.words().iter().map(|w| PlainText::new(w)).collect();
        let value = Value::Words(words);
        self.record(Entry::set(Setting::TOUR_SHOWN, value, self.now));
    }

    /// The page of the lesson that is due, or of the last that came up.
    pub(super) fn open_lesson(&mut self) {
        let shown = self.shown();
        let last = tour::lessons().iter().rev().find(|l| shown.came_up(l));
        let lesson = self.lesson().or(last);
        let at = lesson.map_or(0, Lesson::index);
        self.pane = Pane::Lesson { at, scroll: 0 };
    }

    /// Takes the tour up, or leaves it.
    pub(super) fn switch_tour(&mut self) {
        let on = !self.tour_is_on();
        self.record(Entry::set(Setting::TOUR, Value::Flag(on), self.now));
        self.said = match on {
            true => "The tour is on: lessons come up as you stitch.".into(),
            false => "The tour is left. Here, x takes it up again.".into(),
        };
    }

    /// All lessons come up again, each at the next movement that it is about.
    pub(super) fn repeat_tour(&mut self) {
        self.keep_shown(Shown::default());
        if !self.tour_is_on() {
            self.switch_tour();
        }
        self.said = "Every lesson comes up again, from here on.".into();
    }

    /// Another lesson, a line at a time; a page at a time on in its text.
    pub(super) fn turn_lesson(&mut self, by: isize) {
        let Pane::Lesson { at, scroll } = &mut self.pane else {
            return;
        };
        let last = tour::lessons().len() - 1;
        match by.unsigned_abs() {
            1 => (*at, *scroll) = (at.saturating_add_signed(by).min(last), 0),
            _ => *scroll = scroll.saturating_add_signed(by.signum() * 3).min(40),
        }
    }

    /// Asks about a word, those on the screen first.
    pub(super) fn ask(&mut self) {
        let size = self.size;
        let mut going_on = self
            .movement()
            .map_or(vec![], |m| words::of_movement(&self.seq, &m));
        going_on.extend(words::of_job(&self.seq.job(self.job()).kind));
        let asking = Asking::about(&view::said(self, size), &going_on);
        let from = Box::new(self.pane.clone());
        self.pane = Pane::Words { asking, from };
    }
}
