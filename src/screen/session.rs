//! A sitting at a piece: what the maker sees besides the piece itself, and
//! what each action does to both. Knows no terminal.

mod acts;
pub mod colouring;
pub mod counting;
mod facing;
pub mod fine;
pub mod going;
pub mod locating;
mod paint_file;
pub mod plan_room;
pub mod solid_room;
mod touring;
pub mod unpicking;

use crate::beadwork::movement::Movement;
use crate::beadwork::number::{Job, Step};
use crate::beadwork::sequence::Sequence;
use crate::count::{self, Question};
use crate::progress::{Mode, Moment, Piece, SourceState, Value};
use crate::screen::asking::Asking;
use crate::screen::face::FaceRoom;
use crate::screen::keys::Place;
use crate::screen::look::{Depth, Look};
use crate::screen::place::NoPlace;
use crate::screen::settings;
use crate::unpick;
use counting::Answered;
use fine::Fine;
use going::Going;
use locating::Locating;
use plan_room::PlanRoom;
use solid_room::SolidRoom;
use std::sync::Arc;

/// What is in front of the maker.
#[derive(Clone, Debug, PartialEq)]
pub enum Pane {
    /// The stitches.
    Stitch,
    /// The card at opening.
    Card,
    /// A count being typed.
    Count {
        /// The digits so far.
        typed: String,
        /// What is counted.
        question: Question,
    },
    /// The answer to a count.
    Answer(Answered),
    /// The mend of one of its causes.
    Mend(Answered),
    /// A question about a lost place, or what was found.
    Locate {
        /// The digits so far.
        typed: String,
        /// The line that the maker is on.
        at: usize,
    },
    /// How far to unpick.
    Unpick {
        /// The line that the maker is on.
        at: usize,
        /// Letters of another place.
        typed: String,
        /// Where that is: the step to be made next.
        found: Result<Step, NoPlace>,
    },
    /// What unpicking takes.
    WayBack {
        /// The way.
        plan: unpick::Plan,
        /// Lines scrolled past.
        at: usize,
    },
    /// Unpicking, movement by movement.
    Unpicking {
        /// The last step done when it began.
        from: Step,
        /// The last step that stays.
        to: Step,
    },
    /// A place being typed.
    Jump {
        /// The letters so far.
        typed: String,
        /// Where that is.
        found: Result<Step, NoPlace>,
    },
    /// A note being written.
    Note {
        /// The letters so far.
        typed: String,
    },
    /// The overview; the line that the maker is on.
    Overview(usize),
    /// The settings; the line that the maker is on.
    Settings(usize),
    /// The help; lines scrolled past.
    Help(usize),
    /// The plan; rows scrolled past.
    Plan(usize),
    /// Thread and time; rows scrolled past.
    Going(usize),
    /// The length of a new thread being typed.
    Thread {
        /// The digits so far.
        typed: String,
    },
    /// The whole solid.
    Solid,
    /// A lesson of the tour, on a page.
    Lesson {
        /// Which, from 0.
        at: usize,
        /// Lines scrolled past.
        scroll: usize,
    },
    /// The whole face.
    Face,
    /// Where to write what is painted.
    WritePaint {
        /// The file's name so far.
        typed: String,
        /// Whether a file that is there may be changed.
        over: bool,
    },
    /// A word asked about.
    Words {
        /// What is asked.
        asking: Asking,
        /// What was in front of the maker before.
        from: Box<Pane>,
    },
}

/// What has to be done outside after an action.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effect {
    /// Ring the bell.
    pub bell: bool,
    /// Leave the screen.
    pub leave: Option<Leaving>,
    /// Go into the background.
    pub suspend: bool,
}

/// How the screen is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaving {
    /// For the tray.
    Tray,
    /// For good.
    Quit,
    /// For the piece of the beginner's tour.
    Tour,
}

/// A line of the overview.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OverviewLine {
    /// A job.
    Job(Job),
    /// A note on a step.
    Note(u32),
}

/// A sitting at a piece.
pub struct Session {
    /// The piece worked out.
    pub seq: Arc<Sequence>,
    /// The piece and its journal.
    pub piece: Piece,
    /// What is in front of the maker.
    pub pane: Pane,
    /// Whether the pattern file has changed since the piece was begun. Read
    /// once at opening: the card is painted more often than that.
    pub source_changed: bool,
    /// Beads of this movement taken one at a time.
    pub taken: usize,
    /// Whether this movement is taken one at a time.
    pub one_at_a_time: bool,
    /// A word about the last action.
    pub said: String,
    /// The time of the last action.
    pub now: Moment,
    /// Letters in a row of the picture, for paging.
    pub page: usize,
    /// Letters in a row.
    pub width: u16,
    /// Thread, holes, hours and rest as the work goes.
    pub going: Going,
    /// The plan, once it was asked for.
    pub plan: PlanRoom,
    /// The whole face.
    pub face: FaceRoom,
    /// The whole solid, once it was looked at.
    pub solid: Option<SolidRoom>,
    /// Its fine picture.
    fine: Fine,
    /// The search for a lost place, while there is one.
    pub locating: Option<Locating>,
    /// Whether there are lines only, no picture.
    pub plain: bool,
    /// Lines of the card scrolled past.
    pub scroll: usize,
    /// Columns and rows of the screen.
    pub size: (u16, u16),
    terminal: Look,
}

impl Session {
    /// A sitting that begins with the card, unless there is nothing to say.
    pub fn new(
        seq: impl Into<Arc<Sequence>>,
        mut piece: Piece,
        look: Look,
        now: Moment,
    ) -> Session {
        let seq: Arc<Sequence> = seq.into();
        piece.know_steps(seq.steps());
        let going = Going::new(&seq, &mut piece);
        let source_changed = piece.source_state() == SourceState::Changed;
        let mut session = Session {
            seq,
            piece,
            pane: Pane::Card,
            source_changed,
            taken: 0,
            one_at_a_time: false,
            said: String::new(),
            now,
            page: 10,
            width: 80,
            going,
            plan: PlanRoom::default(),
            face: FaceRoom::default(),
            solid: None,
            fine: Fine::default(),
            locating: None,
            plain: false,
            scroll: 0,
            size: (80, 24),
            terminal: look,
        };
        let state = session.piece.state();
        let fresh = state.step == 0 && state.furthest == 0;
        if !fresh && state.sittings <= 1 && session.piece.told().is_empty() {
            // Worked on in memory only: there was no rest.
            session.pane = Pane::Stitch;
        }
        session.look_ahead(false);
        session
    }

    /// Steps done.
    pub fn done(&self) -> Step {
        // A journal from another pattern cannot lead past the end.
        Step(self.piece.state().step.min(self.seq.steps()))
    }

    /// Takes in what was worked out apart; whether what is in front of the
    /// maker waits for more.
    pub fn look_apart(&mut self) -> bool {
        let (plan, going) = (self.plan.look(), self.going.look());
        match self.pane {
            Pane::Plan(_) => plan,
            Pane::Stitch | Pane::Card | Pane::Going(_) => going,
            Pane::Solid => self.fine.look(),
            Pane::Face => self.face.brush.look() | self.face.passes.look(&self.seq),
            _ => false,
        }
    }

    /// Whether all is mirrored, for the left hand.
    pub fn left_handed(&self) -> bool {
        self.piece.state().settings.left_handed()
    }

    /// The movement to be made.
    pub fn movement(&self) -> Option<Movement> {
        self.seq.step(Step(self.done().0 + 1))
    }

    /// The job in hand.
    pub fn job(&self) -> Job {
        self.seq
            .job_of(Step((self.done().0 + 1).min(self.seq.steps())))
    }

    /// The look, as the maker set it for this piece.
    pub fn look(&self) -> Look {
        let set = self.piece.state().settings.get(settings::COLOURS);
        let depth = match set {
            Some(Value::Text(name)) => Depth::named(name.as_str()),
            _ => None,
        };
        Look {
            // NO_COLOR and the like hold in spite of a setting made elsewhere.
            depth: match (self.terminal.depth, depth) {
                (Depth::None, _) | (_, None) => self.terminal.depth,
                (_, Some(depth)) => depth,
            },
            ..self.terminal
        }
    }

    /// Where keys go.
    pub fn place(&self) -> Place {
        match self.pane {
            Pane::Stitch => Place::Stitch,
            Pane::Card => Place::Card,
            Pane::Count { .. } => Place::Count,
            Pane::Answer(_) => Place::Answer,
            Pane::Mend(_) => Place::Mend,
            Pane::Locate { .. } if self.has_found() => Place::Found,
            Pane::Locate { .. } => Place::Locate,
            Pane::Unpick { .. } => Place::Unpick,
            Pane::WayBack { .. } => Place::WayBack,
            Pane::Unpicking { .. } => Place::Unpicking,
            Pane::Jump { .. } => Place::Jump,
            Pane::Note { .. } => Place::Note,
            Pane::Overview(_) => Place::Overview,
            Pane::Settings(_) => Place::Settings,
            Pane::Help(_) => Place::Help,
            Pane::Plan(_) => Place::Plan,
            Pane::Going(_) => Place::Going,
            Pane::Face if self.face.brush.on => Place::Colouring,
            Pane::Face => Place::Face,
            Pane::WritePaint { .. } => Place::WritePaint,
            Pane::Thread { .. } => Place::Thread,
            Pane::Solid => Place::Solid,
            Pane::Lesson { .. } => Place::Lesson,
            Pane::Words { ref asking, .. } => asking.place(),
        }
    }

    /// The count that is worth offering now.
    pub fn offered(&self) -> Option<Question> {
        count::due(&self.seq, self.done())
    }

    /// What a count typed now is about: what is offered, or else the round of
    /// the last movement.
    fn question(&self) -> Option<Question> {
        self.offered().or_else(|| {
            let at = [self.done(), Step(self.done().0 + 1)];
            let round = |m: Movement| Some((m.job, m.round?));
            let (job, round) = at.iter().find_map(|&s| self.seq.step(s).and_then(round))?;
            Some(Question {
                job,
                round,
                side: None,
            })
        })
    }

    /// The lines of the overview: the jobs, each with its notes behind it.
    pub fn overview(&self) -> Vec<OverviewLine> {
        let notes = &self.piece.state().notes;
        let mut lines = vec![];
        let mut after = 0;
        for (j, job) in self.seq.jobs().iter().enumerate() {
            lines.push(OverviewLine::Job(Job(j as u16)));
            let end = job.steps_before + job.steps;
            let mine = notes.range(after..=end.max(after));
            lines.extend(mine.map(|(step, _)| OverviewLine::Note(*step)));
            after = end + 1;
        }
        lines.extend(notes.range(after..).map(|(s, _)| OverviewLine::Note(*s)));
        lines
    }

    /// Whether steps are kept.
    pub fn only_looking(&self) -> bool {
        self.piece.mode() == Mode::Look
    }
}

/// Beads that are entered and not new.
pub fn entered(m: &Movement) -> usize {
    m.passes.len() - m.strings.len()
}

#[cfg(test)]
mod tests;
