//! The maker changes her mind, or undoes what she did last.

use super::Session;
use crate::beadwork::amend::as_stitched::Restated;
use crate::beadwork::amend::colours::ColourChange;
use crate::beadwork::amend::{Amendment, JoinWhat};
use crate::beadwork::job::JobKind;
use crate::beadwork::record::{Record, Undone};
use crate::beadwork::rules::Refusal;
use crate::beadwork::{BeadKind, Project, Round, Sequence, Step, plural};
use crate::pattern::paint;
use crate::plan::materials;
use crate::progress::{Entry, Event, MoveReason};
use crate::screen::face::FaceView;
use crate::screen::layer::{Context as _, Flow};
use crate::screen::picture::{self, StripScene};
use crate::screen::settings;
use crate::screen::widgets::text;
use crate::tracking::pace::{self, FullHoles, ThreadReach};
use crate::words::care;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use std::sync::Arc;

/// A change, before it is made.
pub struct Preview {
    /// The entry for the journal.
    did: Event,
    /// What is changed, in words.
    pub words: String,
    /// What can do damage, before it is done.
    cautions: &'static [&'static str],
    /// The piece with the change.
    after: Arc<Sequence>,
}

impl Preview {
    /// The result of it, one line for each thing.
    pub fn lines(&self, session: &Session) -> Vec<String> {
        let (before, after) = (&*session.seq, &*self.after);
        let mut lines: Vec<String> = self.cautions.iter().copied().map(String::from).collect();
        match moves_steps(&self.did) {
            true => lines.extend(figures(session, before, after)),
            false => lines.push(STEPS_STAY.into()),
        }
        if self.amendment().is_some_and(changes_passes) {
            let full = |seq: &Sequence| {
                let (warnings, more) = FullHoles::of(seq).left(session.done());
                format!("{}{warnings}", if more { "over " } else { "" })
            };
            let (before, after) = (full(before), full(after));
            lines.push(format!(
                "Times that the needle meets a full or nearly full bead: before {before}, after {after}"
            ));
        }
        lines.extend(beads_to_come(before, after, session.done()));
        if let Event::Amend(Amendment::Colours(ColourChange::Swap(swap))) = &self.did {
            let size = |colour| after.layout().bead_kind(colour).size;
            if size(swap.old) != size(swap.new) {
                lines.push(OTHER_SIZE.into());
            }
        }
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

/// Whether a change is made because of room in holes.
fn changes_passes(amendment: &Amendment) -> bool {
    match amendment {
        Amendment::All(all) => all.first().is_some_and(changes_passes),
        Amendment::Join(change) => matches!(change.what, JoinWhat::NextDoor(_)),
        change => matches!(change, Amendment::Thread(_)),
    }
}

/// The sentence about a change that cannot be made.
pub fn cannot(why: Refusal) -> String {
    format!("That cannot be: {why}.")
}

/// `Step 41, round 5, side 2: 2 beads`.
pub fn gap_words(seq: &Sequence, at: Step, beads: u8) -> String {
    let mut place = format!("Step {at}");
    if let Some(m) = seq.step(at) {
        let is_strip = seq.layout().kind(seq.job(m.job).panel()).strip().is_some();
        let what = if is_strip { "row" } else { "round" };
        let round = m.round.map(|round| format!(", {what} {round}"));
        let side = m.side.filter(|_| !is_strip);
        place.extend(round);
        place.extend(side.map(|side| format!(", side {side}")));
    }
    match beads {
        0 => format!("{place}: no bead, drawn together"),
        beads => format!("{place}: {}", plural(beads.into(), "bead")),
    }
}

/// Whether the current thread lasts, and how far.
fn reach(session: &Session, after: &Sequence) -> Option<String> {
    let (done, state) = (session.done(), session.piece.state());
    let hand = pace::current_thread(after, done, &state.threads)?;
    let left = settings::thread_unit(&state.settings).say(hand.left_mm);
    let thread = format!("The current thread has {left} to stitch with");
    Some(match hand.reach {
        ThreadReach::Piece => format!("{thread} and reaches to the end of the piece."),
        ThreadReach::PlannedEnd(step) | ThreadReach::Step(step) => {
            let job = &after.job(after.job_of(step)).title;
            format!("{thread} and reaches to step {step}, in {job}; then a new one is taken.")
        }
    })
}

impl Preview {
    /// The change to the plan, if it is one.
    pub fn amendment(&self) -> Option<&Amendment> {
        match &self.did {
            Event::Amend(amendment) => Some(amendment),
            _ => None,
        }
    }

    /// Where the plans differ: the first movement that is not the same, before
    /// and after.
    pub fn draw(&self, session: &Session, area: Rect, buf: &mut Buffer) {
        let done = session.done();
        let from = Step(done.0 + 1);
        let (before, after) = (session.seq.iter_from(from), self.after.iter_from(from));
        let same = before.zip(after).take_while(|(a, b)| a == b).count() as u32;
        let at = Step(done.0 + same);
        let half = area.width / 2;
        for (nth, (words, seq)) in [("before", &*session.seq), ("after", &*self.after)]
            .into_iter()
            .enumerate()
        {
            let area = text::columns(area, nth as u16 * half, half.saturating_sub(1));
            let next = seq.step(Step(at.0 + 1));
            let next = next.map_or("the piece is finished".into(), |m| seq.say(&m));
            let words = format!("{words}: {next}");
            text::line(text::rows(area, 0, 1), buf, &words, session.look().quiet());
            let scene = StripScene {
                seq,
                done: Step(at.0.min(seq.steps())),
                taken: 0,
                left_handed: session.left_handed(),
                look: session.look(),
            };
            let space = text::rows(area, 1, area.height - 1);
            picture::draw(&scene, space, buf);
        }
    }
}

/// Without the tags of panels that are made in advance.
fn untagged(words: &str) -> String {
    let mut parts = words.split(" #");
    let first = parts.next().unwrap_or_default().to_string();
    let rest = parts.map(|part| part.trim_start_matches(|c: char| c.is_ascii_digit()));
    rest.fold(first, |words, part| words + part)
}

/// Whether the change alters later steps.
fn moves_steps(did: &Event) -> bool {
    match did {
        Event::Amend(amendment) => amendment.moves_steps(),
        _ => true,
    }
}

const STEPS_STAY: &str = "No movement changes: thread and time stay as they are.";
const OTHER_SIZE: &str = "The beads are not of one size: the work may not lie flat there.";

fn figures(session: &Session, before: &Sequence, after: &Sequence) -> Vec<String> {
    let unit = settings::thread_unit(&session.piece.state().settings);
    let thread = |seq: &Sequence| unit.say(seq.thread_mm(Step(0), Step(seq.steps())));
    let beads = |seq: &Sequence| seq.layout().beads().to_string();
    let steps = |seq: &Sequence| seq.steps().to_string();
    let still = |seq: &Sequence| {
        pace::left(seq, &session.stats.pace, session.done())
            .piece
            .say()
    };
    let figures = [
        ("Beads", beads(before), beads(after)),
        ("Steps", steps(before), steps(after)),
        ("Thread", thread(before), thread(after)),
        ("Time still to go", still(before), still(after)),
    ];
    let figure = |(what, before, after)| format!("{what}: before {before}, after {after}");
    let mut lines: Vec<String> = figures.into_iter().map(figure).collect();
    lines.extend(reach(session, after));
    lines.extend(next_job(session, after));
    lines
}

/// Beads still to come in the colours whose number will change.
fn beads_to_come(before: &Sequence, after: &Sequence, done: Step) -> Vec<String> {
    let count = |seq: &Sequence| materials::to_come(seq.layout(), seq.strung_after(done));
    let mut old = count(before);
    let kinds = after.layout().bead_kinds();
    old.resize(kinds.len(), 0);
    let rows = kinds.iter().zip(old).zip(count(after));
    let is_new = before.layout().bead_kinds().len();
    let differs = rows
        .enumerate()
        .filter(|(at, ((_, old), new))| old != new || *at >= is_new);
    let say = |(_, ((kind, old), new)): (usize, ((&BeadKind, u32), u32))| {
        let grams = |beads: u32| f64::from(beads) / kind.size.per_gram;
        format!(
            "{} ({}) still to come: before {old} ({:.2} g), after {new} ({:.2} g)",
            kind.letter,
            kind.name,
            grams(old),
            grams(new)
        )
    };
    differs.map(say).collect()
}

fn titles(seq: &Sequence) -> Vec<String> {
    seq.jobs().iter().map(|job| untagged(&job.title)).collect()
}

/// The next job, if it is a different one than before.
fn next_job(session: &Session, after: &Sequence) -> Option<String> {
    let next = |seq: &Sequence| {
        let mut jobs = seq.jobs().iter();
        let next = jobs.find(|job| job.steps_before >= session.done().0 && job.steps > 0);
        next.map(|job| job.title.clone())
    };
    let (old, new) = (next(&session.seq), next(after));
    let differs = old.as_deref().map(untagged) != new.as_deref().map(untagged);
    new.filter(|_| differs)
        .map(|title| format!("The next job: {title}"))
}

/// Sides that are joined, and edges on which a fill is worked.
fn joins(seq: &Sequence) -> Vec<String> {
    let name = |panel: crate::beadwork::Panel| untagged(&seq.goal().panels[panel.index()].name);
    let mut joins = vec![];
    for job in seq.jobs() {
        for join in job.kind.joins() {
            let (side, onto) = (name(job.panel()), name(join.onto));
            joins.push(format!(
                "side {} of {side} to side {} of {onto}",
                join.side, join.at
            ));
        }
        if let JobKind::SetInMiddle { panel, around } = job.kind {
            let round = seq.layout().making(around).innermost();
            joins.push(format!(
                "{} to round {round} of {}",
                name(panel),
                name(around)
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
        while let Some(next) = self.movement() {
            if !self.seq.is_made_already(next.job) {
                return;
            }
            let job = self.seq.job(next.job);
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

    /// The changes made so far, each with the step after which it was made.
    pub fn changes_made(&self) -> Vec<String> {
        let project = self.pattern_project();
        let rule = self.piece.plan_rule();
        let painted = paint::painted(&project, self.piece.state().painting());
        let made = self.piece.state().record.changes_made();
        let words = |(before, amendment): (Record, Amendment)| {
            let seq = Sequence::resume(project.clone(), &painted, &before, rule).sequence;
            format!("After step {}: {}", before.steps(), amendment.say(&seq))
        };
        made.into_iter().map(words).collect()
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
        let (at, moves_steps) = (self.now, moves_steps(&did));
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
        let undone = self.piece.state().record.clone().undo()?;
        let (at, done) = (self.now, self.done());
        self.taken = 0;
        self.one_at_a_time = false;
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
            self.recolour_solid();
            return;
        }
        let seq = self.seq.clone();
        self.piece.replanned(&seq);
        self.taken = 0;
        self.one_at_a_time = false;
        let brush = std::mem::take(&mut self.face.brush);
        self.face = FaceView::default();
        self.face.brush = brush;
        self.solid = None;
        self.fine.forget();
    }
}
