//! Unpicking: how far back, what that takes, and back movement by movement.
//!
//! ```text
//! to where -> the way back, with its cautions -> all at once
//!                                             \-> movement by movement
//! ```
//!
//! In the journal it is a move forward in time: `b` takes it back.

use super::{Pane, Session};
use crate::beadwork::number::Step;
use crate::progress::Why;
use crate::screen::place::{self, NoPlace};
use crate::unpick::{self, Plan, Undo};

/// Where unpicking can lead to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Target {
    /// In words.
    pub words: String,
    /// The last step that stays.
    pub to: Step,
}

impl Session {
    /// Good places to unpick to, the nearest first.
    pub fn unpick_targets(&self) -> Vec<Target> {
        let (seq, done) = (&self.seq, self.done());
        let Some(last) = seq.step(done) else {
            return vec![];
        };
        let mut targets: Vec<Target> = vec![];
        let mut offer = |words: String, to: Step| {
            if to < done && targets.iter().all(|t| t.to != to) {
                targets.push(Target { words, to });
            }
        };
        offer("the last movement".into(), Step(done.0 - 1));
        if let Some(round) = last.round {
            let begin = unpick::before_round(seq, done, 0);
            offer(format!("all of round {round} so far"), begin);
            let earlier = unpick::before_round(seq, done, 1);
            let words = match seq.step(begin).and_then(|m| m.round) {
                Some(before) => format!("rounds {round} and {before}"),
                None => "the round before too".into(),
            };
            offer(words, earlier);
        }
        let title = &seq.job(last.job).title;
        let words = format!("all of this job so far: {title}");
        offer(words, unpick::before_job(seq, last.job));
        if last.job.0 > 0 {
            let before = crate::beadwork::Job(last.job.0 - 1);
            let words = format!("the job before too: {}", seq.job(before).title);
            offer(words, unpick::before_job(seq, before));
        }
        targets
    }

    pub(super) fn open_unpick(&mut self) {
        match self.done().0 {
            0 => self.said = "Nothing is stitched yet.".into(),
            _ => {
                self.pane = Pane::Unpick {
                    at: 0,
                    typed: String::new(),
                    found: Err(NoPlace::Empty),
                }
            }
        }
    }

    pub(super) fn unpick_letter(&mut self, change: impl FnOnce(&mut String)) {
        let here = self.job();
        if let Pane::Unpick { typed, found, .. } = &mut self.pane {
            change(typed);
            *found = place::find(&self.seq, typed, here);
        }
    }

    /// What was chosen or typed.
    pub(super) fn choose_target(&mut self) {
        let Pane::Unpick { at, typed, found } = &self.pane else {
            return;
        };
        let to = match (typed.trim().is_empty(), found) {
            (true, _) => self.unpick_targets().get(*at).map(|t| t.to),
            (false, Ok(next)) => Some(Step(next.0 - 1)),
            (false, Err(_)) => None,
        };
        if let Some(to) = to {
            self.open_way_back(to);
        }
    }

    /// The way back to a step, before anything is pulled.
    pub(super) fn open_way_back(&mut self, to: Step) {
        match Plan::new(&self.seq, self.done(), to) {
            Some(plan) => self.pane = Pane::WayBack { plan, at: 0 },
            None => {
                self.said = "That is not behind you: there is nothing to unpick.".into();
                self.pane = Pane::Stitch;
            }
        }
    }

    /// All of it is unpicked.
    pub(super) fn unpicked(&mut self, to: Step) {
        self.move_to(to.0, Why::Unpick);
        self.pane = Pane::Stitch;
        self.said = "Unpicked. b takes that back.".into();
    }

    /// One movement unpicked; at the first the way back is kept.
    pub(super) fn unpick_one(&mut self, from: Step, to: Step) {
        let done = self.done();
        let why = match done == from {
            true => Why::Unpick,
            false => Why::Back,
        };
        self.move_to(done.0 - 1, why);
        if self.done() <= to {
            self.pane = Pane::Stitch;
            self.said = "Unpicked as far as you wished. b takes all of it back.".into();
        }
    }

    /// One movement too many was unpicked on the screen.
    pub(super) fn unpick_less(&mut self, from: Step) {
        match self.done() < from {
            true => self.move_to(self.done().0 + 1, Why::Return),
            false => self.said = "Nothing is unpicked yet.".into(),
        }
    }

    /// The movement to be unpicked now.
    pub fn undo(&self) -> Option<Undo> {
        self.seq.step(self.done()).as_ref().map(Undo::of)
    }
}
