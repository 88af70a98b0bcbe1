//! The maker changes her mind, and takes back what she did last.

use super::Session;
use crate::beadwork::amend::Amendment;
use crate::beadwork::amend::as_stitched::Restated;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::{Round, Step};
use crate::beadwork::plural;
use crate::beadwork::record::Undone;
use crate::beadwork::rules::Refusal;
use crate::beadwork::sequence::Sequence;
use crate::pattern::paint;
use crate::progress::{Did, Entry, Why};
use crate::screen::face::FaceRoom;
use crate::screen::layer::Flow;
use crate::screen::settings;
use std::sync::Arc;

/// A change, before it is made.
pub struct Preview {
    /// What the journal says of it.
    did: Did,
    /// What is changed, in words.
    pub words: String,
    /// The piece with it.
    after: Arc<Sequence>,
}

impl Preview {
    /// What comes of it, a line each.
    pub fn lines(&self, session: &Session) -> Vec<String> {
        let (before, after) = (&*session.seq, &*self.after);
        let unit = settings::thread_unit(&session.piece.state().settings);
        let thread = |seq: &Sequence| unit.say(seq.thread_mm(Step(0), Step(seq.steps())));
        let figures = [
            (
                "Beads",
                before.layout().beads().to_string(),
                after.layout().beads().to_string(),
            ),
            (
                "Steps",
                before.steps().to_string(),
                after.steps().to_string(),
            ),
            ("Thread", thread(before), thread(after)),
        ];
        let figure = |(what, before, after)| format!("{what}: before {before}, after {after}");
        let mut lines: Vec<String> = figures.into_iter().map(figure).collect();
        for (what, told) in [
            ("job", titles as fn(&Sequence) -> Vec<String>),
            ("join", joins),
        ] {
            let (old, new) = (told(before), told(after));
            let gone = old.iter().filter(|words| !new.contains(words));
            lines.extend(gone.map(|words| format!("No longer a {what}: {words}")));
            let added = new.iter().filter(|words| !old.contains(words));
            lines.extend(added.map(|words| format!("A new {what}: {words}")));
        }
        lines
    }
}

/// `Step 41, round 5, side 2: 2 beads`.
pub fn gap_words(seq: &Sequence, at: Step, beads: u8) -> String {
    let place = match seq.step(at) {
        Some(m) => {
            let round = m
                .round
                .map_or(String::new(), |round| format!(", round {round}"));
            let side = m
                .side
                .map_or(String::new(), |side| format!(", side {side}"));
            format!("Step {at}{round}{side}")
        }
        None => format!("Step {at}"),
    };
    match beads {
        0 => format!("{place}: no bead, drawn together"),
        beads => format!("{place}: {}", plural(beads.into(), "bead")),
    }
}

fn titles(seq: &Sequence) -> Vec<String> {
    seq.jobs().iter().map(|job| job.title.clone()).collect()
}

/// Sides that are joined, and edges that a fill grows from.
fn joins(seq: &Sequence) -> Vec<String> {
    let name = |panel: crate::beadwork::Panel| &seq.goal().panels[panel.index()].name;
    let mut joins = vec![];
    for job in seq.jobs() {
        for join in job.kind.joins() {
            let (side, onto) = (name(job.panel()), name(join.onto));
            joins.push(format!(
                "side {} of {side} to side {} of {onto}",
                join.side, join.at
            ));
        }
        if let JobKind::Fill { panel, rim } = &job.kind {
            for (onto, at) in rim {
                joins.push(format!("{} to side {at} of {}", name(*panel), name(*onto)));
            }
        }
    }
    joins
}

impl Session {
    /// What a change of mind would come to.
    ///
    /// # Errors
    /// Why it cannot be made.
    pub fn preview(&self, amendment: Amendment) -> Result<Preview, Refusal> {
        Ok(Preview {
            after: Arc::new(self.seq.amended(self.done(), &amendment)?),
            words: amendment.say(&self.seq),
            did: Did::Amend(amendment),
        })
    }

    /// What would come of it if the gap of step `at` holds so many beads, as
    /// stitched, and round `eased` has brought the work back since.
    ///
    /// # Errors
    /// Why it cannot be so.
    pub fn preview_as_stitched(
        &self,
        at: Step,
        beads: u8,
        eased: Option<Round>,
    ) -> Result<Preview, Refusal> {
        let done = self.done();
        let Restated {
            after,
            step,
            made,
            sequence,
        } = self.seq.as_stitched(done, at, beads, eased)?;
        let why = Why::Forward;
        Ok(Preview {
            words: format!("{}, as stitched", gap_words(&self.seq, at, beads)),
            after: Arc::new(sequence),
            did: match after == done.0 {
                true => Did::Move { step, why, made },
                false => Did::Restated { after, step, made },
            },
        })
    }

    /// Makes a change. What is sewn stays, and so does the place.
    pub fn amend(&mut self, preview: &Preview) -> Flow<Session> {
        let (at, did) = (self.now, preview.did.clone());
        self.record(Entry { at, did });
        self.take_up(Sequence::clone(&preview.after));
        self.say(format!("Changed. {}. z takes it back.", preview.words));
        Flow::Lowest
    }

    /// Takes back the last movement or the last change of mind.
    pub fn undo(&mut self) -> Flow<Session> {
        let Some(undone) = self.piece.state().record.clone().undo() else {
            return self.say("There is nothing to take back.");
        };
        let (at, done) = (self.now, self.done());
        self.taken = 0;
        self.one_at_a_time = false;
        self.record(Entry { at, did: Did::Undo });
        let last = self.seq.step(done);
        let last = last.map_or(String::new(), |m| self.seq.say(&m));
        // A gap that was worked otherwise than planned changed the plan.
        let is_plain = undone == Undone::Movement && !self.seq.is_changed_at(done);
        if !is_plain {
            let project = self.seq.layout().project().clone();
            let seq = self.piece.resume(project);
            self.take_up(seq);
        }
        let words = match undone {
            Undone::Movement => last,
            Undone::Amendment(amendment) => amendment.say(&self.seq),
            Undone::Restated => "what you said of the work done before".into(),
        };
        self.say(format!("Taken back: {words}."));
        Flow::Lowest
    }

    /// Goes on with the steps as they are planned now.
    fn take_up(&mut self, mut seq: Sequence) {
        paint::put_on(&mut seq, self.piece.state().painting());
        self.piece.replanned(&seq);
        self.seq = Arc::new(seq);
        self.taken = 0;
        self.one_at_a_time = false;
        self.plan = None;
        self.stats.recolour();
        let brush = std::mem::take(&mut self.face.brush);
        self.face = FaceRoom::default();
        self.face.brush = brush;
        self.solid = None;
        self.fine.forget();
    }
}
