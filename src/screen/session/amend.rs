//! The maker changes her mind, or undoes what she did last.

use super::Session;
use crate::beadwork::amend::as_stitched::{GapOfStep, GapPlace, Restated};
use crate::beadwork::amend::colours::ColourChange;
use crate::beadwork::amend::{Amendment, JoinWhat};
use crate::beadwork::record::{Record, Undone};
use crate::beadwork::rules::Refusal;
use crate::beadwork::{Project, Round, Sequence, Step, plural};
use crate::pattern::paint;
use crate::progress::{Entry, Event, MoveReason};
use crate::screen::face::FaceView;
use crate::screen::layer::Flow;
use crate::words::care;
use std::sync::Arc;

/// A change, before it is made.
pub struct Preview {
    /// The entry for the journal.
    did: Event,
    /// What is changed, in words.
    pub words: String,
    /// What can do damage, before it is done.
    pub cautions: &'static [&'static str],
    /// The piece with the change.
    pub after: Arc<Sequence>,
}

/// The sentence about a change that cannot be made.
pub fn cannot(why: Refusal) -> String {
    format!("That cannot be: {why}.")
}

/// `Step 41, round 5, gap 3 of side 2: 2 beads`.
pub fn gap_words(seq: &Sequence, at: Step, beads: u8) -> String {
    let mut place = format!("Step {at}");
    if let Some(m) = seq.step(at) {
        let is_strip = seq.layout().kind(seq.job(m.job).panel()).strip().is_some();
        let what = if is_strip { "row" } else { "round" };
        place.extend(m.round.map(|round| format!(", {what} {round}")));
        place.extend(match seq.place_of_gap(at) {
            Some(GapPlace::OnSide(side, nth)) => Some(format!(", gap {} of side {side}", nth + 1)),
            Some(GapPlace::AtCorner(side)) => Some(format!(", the corner behind side {side}")),
            Some(GapPlace::InRow(nth)) => Some(format!(", gap {}", nth + 1)),
            None => m
                .side
                .filter(|_| !is_strip)
                .map(|side| format!(", side {side}")),
        });
    }
    format!("{place}: {}", in_gap(beads))
}

/// `2 beads`, in a gap.
pub fn in_gap(beads: u8) -> String {
    match beads {
        0 => "no bead, drawn together".into(),
        beads => plural(beads.into(), "bead"),
    }
}

impl Preview {
    /// The change to the plan, if it is one.
    pub fn amendment(&self) -> Option<&Amendment> {
        match &self.did {
            Event::Amend(amendment) => Some(amendment),
            _ => None,
        }
    }
}

impl Session {
    /// The same change for all that are alike: for beads without room, all that
    /// the needle meets later.
    pub fn all_like(&self, one: &Amendment) -> Option<Amendment> {
        let done = self.done();
        match (one, self.stats.fulls()) {
            (Amendment::Join(change), Some(fulls))
                if matches!(change.what, JoinWhat::NextDoor(_)) =>
            {
                let ahead = fulls
                    .next_door(Step(done.0 + 1))
                    .map(|way| Amendment::Join(way.change));
                let others = ahead.filter(|other| other != one);
                self.seq
                    .all_of(done, [one.clone()].into_iter().chain(others).collect())
            }
            _ => self.seq.all_like(done, one),
        }
    }

    /// The result of a change, before it is made.
    ///
    /// # Errors
    /// Why it cannot be made.
    pub fn preview(&self, amendment: Amendment) -> Result<Preview, String> {
        let after = self.seq.amended(self.done(), &amendment);
        Ok(Preview {
            after: Arc::new(after.map_err(cannot)?),
            words: amendment.say(&self.seq),
            cautions: &[],
            did: Event::Amend(amendment),
        })
    }

    /// The result if the gap of step `at` holds `beads` beads, as stitched, and
    /// round `eased` has made up for the difference.
    ///
    /// # Errors
    /// Why that is not possible.
    pub fn preview_as_stitched(
        &self,
        at: Step,
        beads: u8,
        eased: Option<Round>,
    ) -> Result<Preview, Refusal> {
        let found = self.seq.as_stitched(self.done(), at, beads, eased)?;
        let words = format!("{}, as stitched", gap_words(&self.seq, at, beads));
        Ok(self.preview_restated(found, words, &[]))
    }

    /// The result of breaking an extra bead out of the gap of a step: one that
    /// is noted there, or another one.
    ///
    /// # Errors
    /// Why the work does not allow it.
    pub fn preview_break_out(&self, at: Step, is_noted: bool) -> Result<Preview, Refusal> {
        let found = self.seq.break_out(self.done(), at, is_noted)?;
        let after = &found.sequence;
        let broken = after.step(Step(found.step));
        let words = broken.map_or(String::new(), |m| after.say(&m));
        Ok(self.preview_restated(found, words, care::BREAK_OUT))
    }

    fn preview_restated(
        &self,
        found: Restated,
        words: String,
        cautions: &'static [&'static str],
    ) -> Preview {
        Preview {
            words,
            cautions,
            did: Event::restated(&found, self.done()),
            after: Arc::new(found.sequence),
        }
    }

    /// Makes a change at once, where the maker need not look at its result first.
    ///
    /// # Errors
    /// Why it cannot be made.
    pub fn change(&mut self, amendment: Amendment) -> Result<(), String> {
        let preview = self.preview(amendment)?;
        self.amend(&preview);
        Ok(())
    }

    /// Says what is not possible.
    pub fn tried(&mut self, tried: Result<(), String>) -> Flow<Session> {
        match tried {
            Ok(()) => Flow::Stay,
            Err(why) => self.say(why),
        }
    }

    /// Makes a change. What is sewn stays, and the place stays the same.
    pub fn amend(&mut self, preview: &Preview) -> Flow<Session> {
        self.make(preview.did.clone(), preview.after.clone());
        self.pass_what_is_made();
        self.say(format!("Changed. {}. z takes it back.", preview.words));
        Flow::Lowest
    }

    /// Skips panels that were made before or elsewhere: their movements are not
    /// made here.
    pub fn pass_what_is_made(&mut self) {
        while self.done().0 < self.seq.steps() && self.seq.is_made_already(self.job()) {
            let job = self.seq.job(self.job());
            let (words, end) = (
                format!("{} is made already.", job.title),
                job.steps_before + job.steps,
            );
            self.move_to(end, MoveReason::Other);
            self.say(words);
        }
    }

    /// What the pattern asks for, without changes.
    fn pattern_project(&self) -> Project {
        let pattern = crate::pattern::read(self.piece.name(), self.piece.pattern());
        pattern.map_or_else(
            |_| self.seq.layout().project().clone(),
            |pattern| pattern.project,
        )
    }

    /// The changes made so far, each with the step after which it was made; then the
    /// gaps that hold other than was planned.
    pub fn changes_made(&self) -> Vec<String> {
        let project = self.pattern_project();
        let rule = self.piece.plan_rule();
        let painted = paint::painted(&project, self.piece.state().painting());
        let made = self.piece.state().record.changes_made();
        let words = |(before, amendment): (Record, Amendment)| {
            let seq = Sequence::resume(project.clone(), &painted, &before, rule).sequence;
            format!("After step {}: {}", before.steps(), amendment.say(&seq))
        };
        let layout = self.seq.layout();
        // Rounds that the pattern does not have are the maker's own.
        let is_own_round = |at: GapOfStep| {
            let of = layout.kind_by_pattern(at.panel);
            at.gap.round.0 > layout.project().panels[of].rounds
        };
        let gaps = (1..=self.seq.steps()).map(Step).filter_map(|step| {
            let (beads, _) = self.seq.beads_worked(step)?;
            let is_kept =
                self.seq.is_changed_at(step) && !self.seq.gap_of(step).is_some_and(is_own_round);
            is_kept.then(|| format!("{}, as stitched", gap_words(&self.seq, step, beads)))
        });
        made.into_iter().map(words).chain(gaps).collect()
    }

    /// Changes colours from the needle on, if that gives any bead another
    /// colour. No step changes.
    ///
    /// # Errors
    /// The change does not fit the piece.
    pub fn recolour(&mut self, change: ColourChange) -> Result<(), Refusal> {
        let after = Arc::new(self.seq.recoloured(self.done(), &change)?);
        if after.goal() != self.seq.goal() {
            self.make(Event::Amend(Amendment::Colours(change)), after);
        }
        Ok(())
    }

    fn make(&mut self, did: Event, after: Arc<Sequence>) {
        let at = self.now;
        let moves_steps = match &did {
            Event::Amend(amendment) => amendment.moves_steps(),
            _ => true,
        };
        self.record(Entry { at, did });
        self.take_up(after, moves_steps);
    }

    /// Undoes the last movement or the last change.
    pub fn undo(&mut self) -> Flow<Session> {
        // A panel that was made elsewhere is skipped as a whole, in both
        // directions.
        if let Some(last) = self.seq.step(self.done())
            && self.seq.is_made_already(last.job)
        {
            let job = self.seq.job(last.job);
            let (words, start) = (job.title.clone(), job.steps_before);
            self.move_to(start, MoveReason::Back);
            self.say(format!("Back before {words}."));
            return Flow::Lowest;
        }
        let Some(words) = self.take_back() else {
            return self.say("There is nothing to take back.");
        };
        self.say(format!("Taken back: {words}."));
        Flow::Lowest
    }

    /// Redoes what was undone last.
    pub fn redo(&mut self) -> Flow<Session> {
        let mut undone = std::mem::take(&mut self.undone);
        let (words, next) = match undone.pop() {
            Some(Undone::Movement) => {
                let movement = self.movement();
                (movement.map(|m| self.seq.say(&m)), Flow::Stay)
            }
            Some(Undone::Amendment(amendment)) => match self.preview(amendment) {
                Ok(preview) => (Some(preview.words.clone()), self.amend(&preview)),
                Err(why) => return self.say(why),
            },
            // Statements about earlier work are not redone: the maker makes them
            // again.
            Some(Undone::Restated) | None => (None, Flow::Stay),
        };
        let Some(words) = words else {
            return self.say("There is nothing to do again.");
        };
        if matches!(next, Flow::Stay) {
            self.move_to(self.done().0 + 1, MoveReason::Forward);
        }
        self.undone = undone;
        self.say(format!("Done again: {words}."));
        next
    }

    /// Undoes the last movement or the last change; returns it in words.
    pub fn take_back(&mut self) -> Option<String> {
        let is_gap = self.piece.state().record.undoes_a_gap();
        let undone = self.piece.state().record.clone().undo()?;
        let (at, done) = (self.now, self.done());
        self.one_at_a_time = None;
        self.record(Entry {
            at,
            did: Event::Undo,
        });
        let last = self.seq.step(done);
        let last = last.map_or(String::new(), |m| self.seq.say(&m));
        // A gap that was worked differently from the plan changed the plan.
        let is_plain = undone == Undone::Movement && !self.seq.is_changed_at(done);
        if !is_plain {
            let project = self.pattern_project();
            let painted = paint::painted(&project, self.piece.state().painting());
            let seq = Arc::new(self.piece.resume(project, &painted));
            let is_colour = matches!(&undone, Undone::Amendment(a) if !a.moves_steps());
            self.take_up(seq, !is_colour);
        }
        self.undone.push(match undone {
            // Statements about the work are not redone: the maker makes them
            // again.
            Undone::Movement if !is_plain => Undone::Restated,
            ref undone => undone.clone(),
        });
        Some(match undone {
            Undone::Movement => last,
            Undone::Amendment(amendment) => amendment.say(&self.seq),
            Undone::Restated if is_gap => "a gap as you stitched it".into(),
            Undone::Restated => "what you said of the work done before".into(),
        })
    }

    /// Continues with the piece as it is now planned and coloured.
    fn take_up(&mut self, seq: Arc<Sequence>, moves_steps: bool) {
        // Background tasks continue with the piece they began with.
        self.seq = seq;
        self.plan = None;
        self.stats.recolour();
        if !moves_steps {
            self.face.forget_filled();
            self.recolour_solid();
            return;
        }
        self.piece.replanned(&self.seq);
        self.one_at_a_time = None;
        let brush = std::mem::take(&mut self.face.brush);
        self.face = FaceView::default();
        self.face.brush = brush;
        self.solid = None;
        self.fine.forget();
    }
}
