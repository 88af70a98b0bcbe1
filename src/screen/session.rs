//! A sitting at a piece: the piece, the clock, and the last message. It knows
//! no terminal and no screen.

use crate::beadwork::record::Undone;
use crate::beadwork::{Job, Movement, Sequence, Step};
use crate::plan::Plan;
use crate::progress::{
    Entry, Event, Mode, Moment, MoveReason, NotSaved, Piece, PlainText, Saved, Setting,
    SourceState, Value,
};
use crate::screen::face::FaceView;
use crate::screen::input::Input;
use crate::screen::layer::Flow;
use crate::screen::layers::Stitches;
use crate::screen::look::Look;
use crate::screen::settings::{self, ThreadUnit};
use crate::screen::solid::{FinePicture, SolidView};
use crate::screen::stack::Stack;
use crate::screen::work_stats::WorkStats;
use crate::tour::{self, Lesson, Reader, Shown};
use crate::tracking::count::{self, CountQuestion};
use crate::tracking::pace::CurrentThread;
use ratatui::crossterm::event::KeyEvent;
use ratatui::prelude::{Buffer, Rect};
use std::sync::Arc;

pub mod amend;
mod messages;

/// A sitting at a piece.
pub struct Session {
    /// The piece, worked out.
    pub seq: Arc<Sequence>,
    /// The piece and its journal.
    pub piece: Piece,
    /// Whether the pattern file has changed since the piece was begun. Read
    /// once at opening, because the card is painted more often.
    pub source_changed: bool,
    /// What was undone in this sitting, if nothing was done since; the last one
    /// undone is at the end.
    pub undone: Vec<Undone>,
    /// If the current movement is taken one bead at a time, the number of beads
    /// that were taken.
    pub one_at_a_time: Option<usize>,
    /// The message about the last action.
    pub said: String,
    /// Whether the bell should ring.
    pub bell: bool,
    /// The time of the last action.
    pub now: Moment,
    /// Thread, holes, hours and rest, kept up to date as the work continues.
    pub stats: WorkStats,
    /// The last plan made, to be used again.
    pub plan: Option<Arc<Plan>>,
    /// The whole face as it was last viewed.
    pub face: FaceView,
    /// The whole solid, once it was viewed.
    pub solid: Option<SolidView>,
    pub fine: FinePicture,
    /// Whether there are only lines, and no picture.
    pub plain: bool,
    /// Steps done when the stitches were last said in the plain mode: a lesson
    /// is said once before its movement.
    pub heard_at: Option<Step>,
    /// Columns and rows of the screen.
    pub size: (u16, u16),
    /// Whether steps are not saved, because the piece is open elsewhere.
    pub only_looking: bool,
    /// What prevents steps from being saved, in words.
    trouble: Option<String>,
    /// Steps that were done before the last input.
    done_before: Step,
    terminal: Look,
}

impl Session {
    /// A sitting at a piece.
    pub fn new(
        seq: impl Into<Arc<Sequence>>,
        mut piece: Piece,
        look: Look,
        now: Moment,
    ) -> Session {
        let seq: Arc<Sequence> = seq.into();
        if seq.is_planned() {
            piece.set_steps(seq.steps());
        }
        let stats = WorkStats::new(&seq, &mut piece);
        Session {
            source_changed: piece.source_state() == SourceState::Changed,
            only_looking: piece.mode() == Mode::Look,
            ..Session::fresh(seq, piece, stats, look, now)
        }
    }

    fn fresh(
        seq: Arc<Sequence>,
        piece: Piece,
        stats: WorkStats,
        look: Look,
        now: Moment,
    ) -> Session {
        Session {
            seq,
            piece,
            source_changed: false,
            undone: vec![],
            one_at_a_time: None,
            said: String::new(),
            bell: false,
            now,
            stats,
            plan: None,
            face: FaceView::default(),
            solid: None,
            fine: FinePicture::default(),
            plain: false,
            heard_at: None,
            size: (80, 24),
            only_looking: false,
            trouble: None,
            done_before: Step(0),
            terminal: look,
        }
    }

    /// A sitting at the same place in memory only, with what is shown beside
    /// the stitches.
    fn in_memory_as_now(&self) -> Session {
        let (seq, piece) = (self.seq.clone(), self.piece.copy_in_memory());
        let stats = self.stats.beside_stitches();
        Session {
            source_changed: self.source_changed,
            one_at_a_time: self.one_at_a_time,
            said: self.said.clone(),
            size: self.size,
            only_looking: self.only_looking,
            done_before: self.done_before,
            ..Session::fresh(seq, piece, stats, self.terminal, self.now)
        }
    }

    /// Whether there is something to say at opening: cautions, or where the
    /// work rested. A piece that is only in memory never rested.
    pub fn has_card(&self) -> bool {
        let state = self.piece.state();
        let fresh = state.step == 0 && state.furthest == 0;
        fresh || state.sittings > 1 || !self.piece.notices().is_empty()
    }

    /// Steps done.
    pub fn done(&self) -> Step {
        match self.piece.state().step {
            // Known without the plan.
            0 => Step(0),
            // A journal from another pattern cannot lead past the end.
            step => Step(step.min(self.seq.steps())),
        }
    }

    /// Beads of the current movement that were taken one at a time.
    pub fn taken(&self) -> usize {
        self.one_at_a_time.unwrap_or(0)
    }

    /// The number of the next step.
    pub fn next_step(&self) -> Step {
        Step(self.done().0 + 1)
    }

    /// The next movement.
    pub fn movement(&self) -> Option<Movement> {
        self.seq.step(self.next_step())
    }

    /// The current job.
    pub fn job(&self) -> Job {
        let last = Step(self.seq.steps());
        self.seq.job_of(self.next_step().min(last))
    }

    /// The count that is worth offering now.
    pub fn offered(&self) -> Option<CountQuestion> {
        count::due(&self.seq, self.done())
    }

    /// Gives the maker a message.
    pub fn say(&mut self, words: impl Into<String>) -> Flow<Session> {
        self.said = words.into();
        Flow::Stay
    }

    /// Records an entry. Whether it was saved is checked at each painting.
    pub fn record(&mut self, entry: Entry) {
        self.stats.add(&self.seq, &entry);
        if entry.did != Event::Undo {
            self.undone.clear();
        }
        let (Saved::Written | Saved::Held | Saved::LookOnly) = self.piece.record(entry);
    }

    /// Takes what was worked out in the background; returns whether more is
    /// waited for.
    pub fn tick(&mut self) -> bool {
        let is_waiting = self.stats.tick(&self.seq);
        if self.seq.is_planned() && self.piece.steps() != Some(self.seq.steps()) {
            self.piece.set_steps(self.seq.steps());
        }
        is_waiting
    }

    /// Closes the piece, with the number of its steps if it is known by now.
    ///
    /// # Errors
    /// As [`Piece::close`].
    pub fn close(mut self, now: Moment) -> Result<(), NotSaved> {
        self.tick();
        self.piece.close(now)
    }

    /// Tries again to save what could not be saved.
    pub fn try_again(&mut self) {
        if self.piece.trouble().is_some() {
            let (Saved::Written | Saved::Held | Saved::LookOnly) = self.piece.retry();
        }
    }

    /// Moves to the place where `step` steps are done.
    pub fn move_to(&mut self, step: u32, why: MoveReason) {
        self.one_at_a_time = None;
        let from = self.piece.state().step;
        self.record(Entry::played(&self.seq, (from, step), why, self.now));
    }

    /// Jumps to the stitches, where `next` is the next step.
    pub fn jump(&mut self, next: Step) -> Flow<Session> {
        let done = next.0 - 1;
        if done != self.done().0 {
            self.move_to(done, MoveReason::Jump);
            self.said = "b leads back to where you were.".into();
        }
        Flow::Lowest
    }

    /// Back to where the last jump began, at the stitches.
    pub fn way_back(&mut self) -> Flow<Session> {
        let Some(step) = self.piece.state().way_back.last().copied() else {
            return self.say("There is no way back: you did not go to another place.");
        };
        self.move_to(step, MoveReason::Return);
        self.said = "Back to where you were.".into();
        Flow::Lowest
    }

    /// Mirrors everything for the left hand, or back.
    pub fn switch_hand(&mut self) {
        let left = !self.piece.state().settings.left_handed();
        self.record(Entry::left_handed(left, self.now));
        self.said = match left {
            true => "Mirrored for the left hand.".into(),
            false => "As for the right hand.".into(),
        };
    }

    /// The unit in which thread is measured.
    pub fn thread_unit(&self) -> ThreadUnit {
        settings::thread_unit(&self.piece.state().settings)
    }

    /// The current thread, if there is one.
    pub fn current_thread(&self) -> Option<&CurrentThread> {
        let state = self.piece.state();
        self.stats.current_thread(&self.seq, self.done(), state)
    }
}

/// Number of beads that are entered and not new.
pub fn entered(m: &Movement) -> usize {
    m.passes.len() - m.strings.len()
}

impl Session {
    /// How the stitches will look after this key; `None` if it does not move
    /// the work, or if a movement could not be saved.
    pub fn frame_after(&self, key: KeyEvent, area: Rect) -> Option<Buffer> {
        if self.trouble.is_some() {
            return None;
        }
        let mut session = self.in_memory_as_now();
        let mut stack = Stack::new(Stitches);
        stack.handle(&mut session, Input::Key(key), Moment::now());
        let moves = session.done() != self.done();
        moves.then(|| {
            let mut frame = Buffer::empty(area);
            stack.draw(&mut session, area, &mut frame);
            frame
        })
    }
}

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
            let here = self.next_step();
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
