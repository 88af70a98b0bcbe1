//! Where am I: the questions that find a lost place, one at a time.

use super::{Pane, Session};
use crate::beadwork::Sequence;
use crate::beadwork::number::Step;
use crate::locate::{Choices, Next, Reply, Search};
use std::sync::Arc;

/// Digits of an answer at the most.
const LONGEST: usize = 7;

/// A search in hand.
pub struct Locating {
    search: Search<Arc<Sequence>>,
    /// The question now, or what was found.
    pub next: Next,
}

impl Locating {
    fn begin(seq: Arc<Sequence>) -> Locating {
        let mut search = Search::new(seq);
        let next = search.turn();
        Locating { search, next }
    }

    /// Questions that were answered.
    pub fn answered(&self) -> usize {
        self.search.asked().len()
    }

    /// Lines to choose from: the answers, or the steps that were found.
    pub fn lines(&self) -> usize {
        match &self.next {
            Next::Ask(question) => match &question.choices {
                Choices::OneOf(choices) => choices.len(),
                Choices::Number(_) => 0,
            },
            Next::Found(found) => found.steps.len(),
        }
    }

    fn reply(&mut self, reply: Reply) {
        if let Next::Ask(question) = &self.next {
            let ask = question.ask;
            self.search.reply(ask, reply);
            self.next = self.search.turn();
        }
    }

    fn take_back(&mut self) -> bool {
        let any = self.search.take_back();
        self.next = self.search.turn();
        any
    }
}

impl Session {
    pub(super) fn open_locate(&mut self) {
        self.locating = Some(Locating::begin(self.seq.clone()));
        self.ask_next();
    }

    fn ask_next(&mut self) {
        self.pane = Pane::Locate {
            typed: String::new(),
            at: 0,
        };
    }

    /// Whether a place was found, and the maker compares.
    pub fn has_found(&self) -> bool {
        let next = self.locating.as_ref().map(|l| &l.next);
        matches!(next, Some(Next::Found(_)))
    }

    /// The step that the maker compares with, the last one done.
    pub fn compared(&self) -> Option<Step> {
        let (Pane::Locate { at, .. }, Some(locating)) = (&self.pane, &self.locating) else {
            return None;
        };
        match &locating.next {
            Next::Found(found) => found.steps.get(*at).copied(),
            Next::Ask(_) => None,
        }
    }

    /// A digit: the number of a choice answers at once, other numbers are
    /// typed out.
    pub(super) fn locate_letter(&mut self, c: char) {
        let Some(digit) = c.to_digit(10) else { return };
        let (Pane::Locate { typed, .. }, Some(locating)) = (&mut self.pane, &self.locating) else {
            return;
        };
        let Next::Ask(question) = &locating.next else {
            return;
        };
        match &question.choices {
            Choices::Number(_) if typed.len() < LONGEST => typed.push(c),
            Choices::Number(_) => {}
            Choices::OneOf(choices) => {
                let nth = (digit as usize).checked_sub(1);
                if let Some((value, _)) = nth.and_then(|n| choices.get(n)) {
                    let value = *value;
                    self.reply(Reply::Value(value));
                }
            }
        }
    }

    pub(super) fn locate_erase(&mut self) {
        if let Pane::Locate { typed, .. } = &mut self.pane
            && typed.pop().is_some()
        {
            return;
        }
        let any = self.locating.as_mut().is_some_and(Locating::take_back);
        self.ask_next();
        if !any {
            self.said = "This is the first question.".into();
        }
    }

    /// Enter: the answer chosen or typed; of what was found, go there.
    pub(super) fn locate_choose(&mut self) {
        if let Some(done) = self.compared() {
            self.jump(Step(done.0 + 1));
            self.locating = None;
            if self.said.is_empty() {
                self.said = "You are where the piece is.".into();
            }
            return;
        }
        let (Pane::Locate { typed, at }, Some(locating)) = (&self.pane, &self.locating) else {
            return;
        };
        let value = match &locating.next {
            Next::Ask(question) => match &question.choices {
                Choices::Number(_) => typed.parse().ok(),
                Choices::OneOf(choices) => choices.get(*at).map(|(value, _)| *value),
            },
            Next::Found(_) => {
                self.said =
                    "The place cannot be told from that. Backspace takes an answer back.".into();
                return;
            }
        };
        match value {
            Some(value) => self.reply(Reply::Value(value)),
            None => self.said = "Type a number, or ? if it cannot be told.".into(),
        }
    }

    pub(super) fn cannot_tell(&mut self) {
        self.reply(Reply::CannotTell);
    }

    fn reply(&mut self, reply: Reply) {
        if let Some(locating) = &mut self.locating {
            locating.reply(reply);
        }
        self.ask_next();
    }

    /// The picture is not that of the work: an answer was wrong.
    pub(super) fn not_this(&mut self) {
        if let Some(locating) = &mut self.locating {
            locating.search.not_this();
            locating.next = locating.search.turn();
        }
        self.ask_next();
        self.said = "Then one of the answers was not right. On we go.".into();
    }
}
