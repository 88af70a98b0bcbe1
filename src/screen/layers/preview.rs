//! Before and after a change: what comes of it, and where the plans differ.

use crate::beadwork::amend::colours::ColourChange;
use crate::beadwork::amend::{Amendment, JoinWhat};
use crate::beadwork::job::JobKind;
use crate::beadwork::rules::Refusal;
use crate::beadwork::seams::Corner;
use crate::beadwork::{BeadKind, Panel, Sequence, Step};
use crate::plan::materials;
use crate::screen::layer::{Context as _, Flow, Layer, keys};
use crate::screen::picture::{self, StripScene};
use crate::screen::session::Session;
use crate::screen::session::amend::Preview;
use crate::screen::widgets::{Scroll, text};
use crate::tracking::pace::{self, FullHoles, ThreadReach};
use ratatui::prelude::{Buffer, Line, Rect, Style};

/// The work before and after a change.
pub struct Previewed {
    lines: Vec<String>,
    preview: Preview,
    /// The same change for all that are alike, or for this one alone.
    other: Option<Amendment>,
    scroll: Scroll,
}

impl Layer<Session> for Previewed {
    keys! { Session, "Before and after a change" [scroll];
        make "Enter" ["Enter make the change"] "make the change; z takes it back"
        switch "Tab" ["Tab this one or all"] "this one, or all that are like it"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((self.preview.words.clone(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let sewn = match session.done().0 {
            0 => "Nothing is sewn yet.".into(),
            done => format!("Steps 1 to {done} are sewn and stay as they are."),
        };
        let other = match &self.other {
            Some(Amendment::All(all)) => Some(format!(
                "This one? Press Tab for all {} like it.",
                all.len()
            )),
            Some(_) => Some("All of them? Press Tab for the first one alone.".into()),
            None => None,
        };
        let closing = "Enter makes the change, Esc leaves all as it was.".into();
        let lines = other.into_iter().chain(self.lines.iter().cloned());
        lines.chain([sewn, closing]).map(Line::from).collect()
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let area = text::inset(area, 1);
        let lines = self.lines(session);
        let high = text::height(lines.clone(), area.width);
        let left = area.height.saturating_sub(high + 1);
        if left < PICTURE_ROWS || area.width < 60 {
            self.scroll.page(area, buf, lines);
            return;
        }
        self.scroll.page(text::rows(area, 0, high), buf, lines);
        let below = text::rows(area, high + 1, left);
        draw(session, &self.preview.after, below, buf);
    }
}

/// The fewest rows for the pictures before and after.
const PICTURE_ROWS: u16 = 7;

impl Previewed {
    pub(super) fn new(session: &Session, preview: Preview) -> Self {
        Previewed {
            lines: lines(session, &preview),
            preview,
            other: None,
            scroll: Scroll::new(),
        }
    }

    fn make(&mut self, session: &mut Session) -> Flow<Session> {
        session.amend(&self.preview)
    }

    fn switch(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(other) = self.other.clone() else {
            return session.say("No other is like it.");
        };
        match session.preview(other) {
            Ok(preview) => {
                let other = self.preview.amendment().cloned();
                *self = Previewed {
                    other,
                    ..Previewed::new(session, preview)
                };
                Flow::Stay
            }
            Err(why) => session.say(why),
        }
    }
}

/// The result of a change, before it is made, or why it cannot be made.
pub(super) fn previewed(session: &Session, amendment: Amendment) -> Result<Previewed, String> {
    let other = session.all_like(&amendment);
    let preview = session.preview(amendment)?;
    Ok(Previewed {
        other,
        ..Previewed::new(session, preview)
    })
}

/// The same, opened; why it cannot be made is said.
pub(super) fn look_at(session: &mut Session, amendment: Amendment) -> Flow<Session> {
    match previewed(session, amendment) {
        Ok(layer) => Flow::open(layer),
        Err(why) => session.say(why),
    }
}

/// The result of a change, one line for each thing.
fn lines(session: &Session, change: &Preview) -> Vec<String> {
    let (before, after) = (&*session.seq, &*change.after);
    let mut lines: Vec<String> = change.cautions.iter().copied().map(String::from).collect();
    match change.amendment().is_none_or(Amendment::moves_steps) {
        true => lines.extend(figures(session, before, after)),
        false => lines.push(STEPS_STAY.into()),
    }
    if change.amendment().is_some_and(changes_passes) {
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
    if let Some(Amendment::Colours(ColourChange::Swap(swap))) = change.amendment() {
        let size = |colour| after.layout().bead_kind(colour).size;
        if size(swap.old) != size(swap.new) {
            lines.push(OTHER_SIZE.into());
        }
    }
    for (what, told) in [
        ("job", titles as fn(&Sequence) -> Vec<String>),
        ("join", joins),
        ("stone", stones),
    ] {
        let (old, new) = (told(before), told(after));
        let gone = old.iter().filter(|words| !new.contains(words));
        lines.extend(gone.flat_map(|words| {
            let gone = format!("No longer a {what}: {words}");
            std::iter::once(gone).chain(why_left_out(after, words))
        }));
        let added = new.iter().filter(|words| !old.contains(words));
        lines.extend(added.map(|words| format!("A new {what}: {words}")));
    }
    lines
}

/// Why a job is left out of the plan, and how it comes back.
fn why_left_out(seq: &Sequence, title: &str) -> Option<String> {
    let goal = seq.goal();
    let mut left_out = seq.left_out().into_iter();
    let (_, why) = left_out.find(|(job, _)| untagged(&goal.title(&goal[*job])) == title)?;
    let side = |(panel, side): Corner| format!("side {side} of {}", untagged(&goal[panel].name));
    Some(match why {
        Some(Refusal::UnlikeSides(ours, up, theirs, onto)) => format!(
            "  {} has {up} up beads and {} has {onto}. After the change m offers how they are joined.",
            side(ours),
            side(theirs)
        ),
        Some(why) => format!("  It is left out: {why}."),
        None => "  It is left out with the join that it needs.".into(),
    })
}

/// Whether a change is made because of room in holes.
fn changes_passes(amendment: &Amendment) -> bool {
    match amendment {
        Amendment::All(all) => all.first().is_some_and(changes_passes),
        Amendment::Join(change) => matches!(change.what, JoinWhat::NextDoor(_)),
        change => matches!(change, Amendment::Thread(_)),
    }
}

/// Whether the current thread lasts, and how far.
fn reach(session: &Session, after: &Sequence) -> Option<String> {
    let (done, state) = (session.done(), session.piece.state());
    let hand = pace::current_thread(after, done, &state.threads)?;
    let left = session.thread_unit().say(hand.left_mm);
    let thread = format!("The current thread has {left} to stitch with");
    Some(match hand.reach {
        ThreadReach::Piece => format!("{thread} and reaches to the end of the piece."),
        ThreadReach::PlannedEnd(step) | ThreadReach::Step(step) => {
            let job = &after.job(after.job_of(step)).title;
            format!("{thread} and reaches to step {step}, in {job}; then a new one is taken.")
        }
    })
}

/// Where the plans differ: the first movement that is not the same, before
/// and after.
fn draw(session: &Session, after: &Sequence, area: Rect, buf: &mut Buffer) {
    let done = session.done();
    let from = Step(done.0 + 1);
    let both = session.seq.iter_from(from).zip(after.iter_from(from));
    let same = both.take_while(|(a, b)| a == b).count() as u32;
    let at = Step(done.0 + same);
    let half = area.width / 2;
    for (nth, (words, seq)) in [("before", &*session.seq), ("after", after)]
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

/// Without the tags of panels that are made in advance.
fn untagged(words: &str) -> String {
    let mut parts = words.split(" #");
    let first = parts.next().unwrap_or_default().to_string();
    let rest = parts.map(|part| part.trim_start_matches(|c: char| c.is_ascii_digit()));
    rest.fold(first, |words, part| words + part)
}

const STEPS_STAY: &str = "No movement changes: thread and time stay as they are.";
const OTHER_SIZE: &str = "The beads are not of one size: the work may not lie flat there.";

fn figures(session: &Session, before: &Sequence, after: &Sequence) -> Vec<String> {
    let unit = session.thread_unit();
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
    let (old, new) = (count(before), count(after));
    let kinds = after.layout().bead_kinds().iter().zip(new).enumerate();
    let differs = kinds.filter(|(at, (_, new))| old.get(*at) != Some(new));
    let say = |(at, (kind, new)): (usize, (&BeadKind, u32))| {
        let old = old.get(at).copied().unwrap_or(0);
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

/// The stones that are set into openings.
fn stones(seq: &Sequence) -> Vec<String> {
    let panels = seq.layout().begun_panels();
    let stone = panels.filter_map(|(_, panel)| Some((panel.stone?.mm, untagged(&panel.name))));
    stone
        .map(|(mm, panel)| format!("{mm} mm in {panel}"))
        .collect()
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
    let name = |panel: Panel| untagged(&seq.goal()[panel].name);
    let mut joins = vec![];
    for job in seq.jobs() {
        let own = name(job.panel());
        joins.extend(job.kind.joins().iter().map(|join| {
            let (side, onto, at) = (join.side, name(join.onto), join.at);
            format!("side {side} of {own} to side {at} of {onto}")
        }));
        match &job.kind {
            JobKind::SetInMiddle { panel, around } => {
                let round = seq.layout().making(*around).innermost();
                let (panel, around) = (name(*panel), name(*around));
                joins.push(format!("{panel} to round {round} of {around}"));
            }
            JobKind::Fill { panel, rim } => joins.extend(
                rim.iter()
                    .map(|(onto, at)| format!("{} to side {at} of {}", name(*panel), name(*onto))),
            ),
            _ => {}
        }
    }
    joins
}
