//! The beginner's tour in a sitting: which lesson comes next, and what is
//! stored about it with the piece.

use super::Session;
use crate::beadwork::number::Step;
use crate::progress::{Entry, PlainText, Setting, Value};
use crate::screen::layer::Flow;
use crate::tour::{self, Lesson, Reader, Shown};

impl Session {
    /// Whether the tour is on for this piece.
    pub fn tour_is_on(&self) -> bool {
        self.piece.state().settings.is_on(Setting::TOUR)
    }

    /// The lessons that were shown.
    pub fn shown(&self) -> Shown {
        let words = self.piece.state().settings.words(Setting::TOUR_SHOWN);
        Shown::from_words(words.unwrap_or_default())
    }

    /// The current lesson.
    pub fn lesson(&self) -> Option<&'static Lesson> {
        match self.tour_is_on() {
            true => tour::due(&self.seq, self.done(), &self.shown()),
            false => None,
        }
    }

    /// For whom the lessons are written.
    pub fn reader(&self) -> Reader {
        Reader {
            left_handed: self.piece.state().settings.left_handed(),
            plain: self.plain,
        }
    }

    /// Whether the tour's own piece is offered: on a shipped piece that was
    /// just begun and has no tour of its own.
    pub fn offers_tour(&self) -> bool {
        !self.tour_is_on() && self.piece.state().furthest == 0 && self.piece.source().is_none()
    }

    /// Records that the lesson was shown before its movement was made.
    pub fn lesson_came_up(&mut self) {
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

    /// Starts the tour, or leaves it.
    pub fn switch_tour(&mut self) -> Flow<Session> {
        let on = !self.tour_is_on();
        self.record(Entry::set(Setting::TOUR, Value::Flag(on), self.now));
        self.say(match on {
            true => "The tour is on: lessons come up as you stitch.",
            false => "The tour is left. Here, x takes it up again.",
        })
    }

    /// All lessons are shown again, each at the next movement that it is about.
    pub fn repeat_tour(&mut self) -> Flow<Session> {
        self.keep_shown(Shown::default());
        if !self.tour_is_on() {
            self.switch_tour();
        }
        self.say("Every lesson comes up again, from here on.")
    }
}
