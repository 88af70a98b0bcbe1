//! Unpicking: how far back, what that takes, and then back movement by
//! movement.
//!
//! ```text
//! to where -> the way back, with its cautions -> all at once
//!                                             \-> movement by movement
//! ```
//!
//! In the journal it is a move forward in time: `b` undoes it.

use super::go_to;
use crate::beadwork::{Job, Step};
use crate::progress::MoveReason;
use crate::screen::layer::{Context as _, Flow, Layer, Opener, keys, opener};
use crate::screen::phrases;
use crate::screen::session::Session;
use crate::screen::widgets::{
    Scroll, TextEntry, bold, choices, rows, scene, sections, styled, text,
};
use crate::tracking::unpick::{self, Stop, StopAt, Undo, UnpickPlan};
use ratatui::prelude::{Buffer, Line, Rect, Style};

pub const OPENER: Opener<Session> = opener!(Session; "unpick" "u" ["u unpick"] "unpick: how far, what comes off, and back movement by movement" |_, session| open(session); Unpick::table, WayBack::table, Unpicking::table);

/// The most movements that are listed.
const LISTED: usize = 300;
/// The most places to stop that are listed.
const STOPS: usize = 5;

fn open(session: &mut Session) -> Flow<Session> {
    if session.done().0 == 0 {
        return session.say("Nothing is stitched yet.");
    }
    let targets = targets(session);
    Flow::open(Unpick {
        scroll: Scroll::list(0, targets.len()),
        targets,
        entry: TextEntry::text(40),
    })
}

/// Asks how far to unpick.
pub struct Unpick {
    targets: Vec<UnpickTarget>,
    scroll: Scroll,
    entry: TextEntry,
}

/// A place to unpick to, in words, and the last step that stays in the work.
type UnpickTarget = (String, Step);

impl Layer<Session> for Unpick {
    keys! { Session, "How far to unpick" [scroll entry];
        look "Enter" ["Enter look at the way back"] "what that takes; nothing is unpicked yet"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some(("Unpick: how far back?".into(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let look = session.look();
        let typing = !self.entry.typed.is_empty();
        let chosen = if typing { usize::MAX } else { self.scroll.at };
        let words = self.targets.iter().map(|(words, _)| words);
        let mut lines = choices(look, chosen, words);
        lines.push(Line::default());
        let asked = "Or type the step, job or round to begin again with:";
        lines.push(self.entry.line(look, asked));
        if typing {
            lines.push(Line::from(match self.found(session) {
                Ok(next) => {
                    let m = session.seq.step(next);
                    let say = m.map_or(String::new(), |m| session.seq.say(&m));
                    format!("step {next} is then the next: {say}")
                }
                Err(why) => why,
            }));
        }
        lines
    }
}

impl Unpick {
    /// The step that would be next, if it is typed.
    fn found(&self, session: &Session) -> Result<Step, String> {
        go_to::find(&session.seq, &self.entry.typed, session.job())
    }

    /// Shows how to unpick to the place chosen or typed.
    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let to = match self.entry.typed.trim().is_empty() {
            true => self.targets.get(self.scroll.at).map(|(_, to)| *to),
            false => self.found(session).ok().map(|next| Step(next.0 - 1)),
        };
        to.map_or(Flow::Stay, |to| way_back(session, to))
    }
}

/// Shows how to unpick to a step, before any thread is pulled out.
pub fn way_back(session: &mut Session, to: Step) -> Flow<Session> {
    match UnpickPlan::new(&session.seq, session.done(), to) {
        Some(plan) => {
            let scroll = Scroll::new();
            Flow::open(WayBack { plan, scroll })
        }
        None => {
            session.say("That is not behind you: there is nothing to unpick.");
            Flow::Lowest
        }
    }
}

/// What unpicking takes.
pub struct WayBack {
    plan: UnpickPlan,
    scroll: Scroll,
}

impl Layer<Session> for WayBack {
    keys! { Session, "The way back" [scroll];
        begin "space right" ["space step by step"] "unpick movement by movement"
        all "Enter" ["Enter all is out"] "all of it is unpicked: go on from there"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((self.plan.say(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let (seq, plan) = (&session.seq, &self.plan);
        let stop = |stop: &Stop| {
            let whole = match stop.at {
                StopAt::Round(round) => format!("round {round} is whole"),
                StopAt::Side => "a side is whole".into(),
                StopAt::Job => "a job is whole".into(),
            };
            Line::from(format!("- step {}: {whole}", stop.step))
        };
        let undo = |undo: Undo| Line::from(format!("step {}: {}", undo.step, undo.say(seq)));
        let first = plan
            .warnings
            .iter()
            .map(|w| Line::from(format!("- {}", w.say())));
        let stops: Vec<Line> = plan.stops.iter().take(STOPS).map(stop).collect();
        let more = ((plan.from.0 - plan.to.0) as usize).saturating_sub(LISTED);
        let more = (more > 0).then(|| Line::from(format!("and {more} more")));
        let order = plan.undo(seq).take(LISTED).map(undo).chain(more);
        let mut parts = vec![
            ("First", first.collect()),
            ("Good places to stop and look on the way", stops),
            ("In this order", order.collect()),
        ];
        parts.retain(|(_, lines): &(_, Vec<Line>)| !lines.is_empty());
        sections(bold(), parts)
    }
}

impl WayBack {
    fn begin(&mut self, _session: &mut Session) -> Flow<Session> {
        let (from, to) = (self.plan.from, self.plan.to);
        Flow::Only(Box::new(Unpicking { from, to }))
    }

    fn all(&mut self, session: &mut Session) -> Flow<Session> {
        session.move_to(self.plan.to.0, MoveReason::Unpick);
        session.say("Unpicked. b takes that back.");
        Flow::Lowest
    }
}

/// Unpicking, movement by movement.
pub struct Unpicking {
    /// The last step done when it began.
    from: Step,
    /// The last step that stays in the work.
    to: Step,
}

impl Layer<Session> for Unpicking {
    keys! { Session, "Unpicking";
        out "space Enter right PageDown" ["space this one is out"] "this movement is unpicked; the one before it comes next"
        still_in "Backspace left PageUp" ["bksp not that one"] "that movement is still in the work"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let words = match session.done().0.saturating_sub(self.to.0) {
            1 => "Unpicking: the last movement".to_string(),
            n => format!("Unpicking: {n} movements to go"),
        };
        Some((words, session.look().alarm()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let seq = &session.seq;
        let Some(undo) = seq.step(session.done()).as_ref().map(Undo::of) else {
            return vec![];
        };
        let now = format!("Step {}: {}", undo.step, undo.say(seq));
        let mut lines = vec![styled(now, bold())];
        for &bead in &undo.freed {
            let what = match undo.off.contains(&bead) {
                true => "comes off",
                false => "thread out of",
            };
            let words = phrases::bead_words(seq, bead);
            lines.push(Line::from(format!("- {what}: {words}")));
        }
        lines
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let left = text::above(text::inset(area, 2), buf, self.lines(session));
        // The movement as it was made: what comes off, what is freed.
        let before = Step(session.done().0.saturating_sub(1));
        let picture = rows(area, left.y - area.y + 1, area.height);
        scene::draw_at(session, before, &scene::UNPICKING, picture, buf);
    }
}

impl Unpicking {
    /// Unpicks one movement; at the first one the place to come back to is
    /// stored.
    fn out(&mut self, session: &mut Session) -> Flow<Session> {
        let done = session.done();
        let why = match done == self.from {
            true => MoveReason::Unpick,
            false => MoveReason::Back,
        };
        session.move_to(done.0 - 1, why);
        if session.done() > self.to {
            return Flow::Stay;
        }
        session.say("Unpicked as far as you wished. b takes all of it back.");
        Flow::Lowest
    }

    /// One movement too many was unpicked on the screen.
    fn still_in(&mut self, session: &mut Session) -> Flow<Session> {
        if session.done() >= self.from {
            return session.say("Nothing is unpicked yet.");
        }
        session.move_to(session.done().0 + 1, MoveReason::Return);
        Flow::Stay
    }
}

/// Good places to unpick to, the nearest first.
fn targets(session: &Session) -> Vec<UnpickTarget> {
    let (seq, done) = (&session.seq, session.done());
    let Some(last) = seq.step(unpick::last_sewn(seq, done)) else {
        return vec![];
    };
    let mut targets: Vec<UnpickTarget> = vec![];
    let mut offer = |words: String, to: Step| {
        if to < done && targets.iter().all(|(_, other)| *other != to) {
            let words = match done.0 - to.0 {
                1 => words,
                n => format!("{words} ({n} steps)"),
            };
            targets.push((words, to));
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
        let before = Job(last.job.0 - 1);
        let words = format!("the job before too: {}", seq.job(before).title);
        offer(words, unpick::before_job(seq, before));
    }
    targets
}
