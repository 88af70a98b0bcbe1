//! Without a plan: each key puts a number of beads into the gap at the needle.
//!
//! ```text
//! 2 2 2          round 2 on a ring of three: 6 beads
//! 1 1 = =        round 3: the side again, and again
//! A B 2          an A and a B in one gap; the next gaps take them too
//! ```
//!
//! The needle goes to the gap automatically: through the ring, up to the next
//! round, and into another round when the last planned one is complete.

use super::menu::is_bead_letter;
use super::preview::look_at;
use crate::beadwork::amend::Amendment;
use crate::beadwork::amend::as_stitched::GapOfStep;
use crate::beadwork::amend::colours::ColourChange;
use crate::beadwork::corner_mark::CornerMark;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::GoalJob;
use crate::beadwork::own_rounds::{GapChange, MOST_IN_A_GAP};
use crate::beadwork::rules::Refusal;
use crate::beadwork::{Bead, Colour, Kind, Panel, Round, Sequence, Step};
use crate::progress::MoveReason;
use crate::screen::layer::{Context as _, Flow, Layer, Opener, keys, opener};
use crate::screen::session::Session;
use crate::screen::session::amend::cannot;
use crate::screen::widgets::scene;
use ratatui::prelude::{Buffer, Line, Rect, Style};

pub const OPENER: Opener<Session> = opener!(Session; "free" "d" ["d without a plan"] "stitch without a plan: a number puts so many beads into the gap at the needle, and rounds go on as long as you like" |_, _| Flow::open(Free::default()); Free::table);

/// The most movements from the needle to the next gap: a ring, and what is
/// around it.
const MOST_BETWEEN: usize = 400;

/// Stitching without a plan.
#[derive(Default)]
pub struct Free {
    /// The chosen beads, for the first bead of a gap and those after it; empty
    /// for the planned ones.
    beads: Vec<Colour>,
    /// Whether beads were put in since they were chosen.
    is_used: bool,
}

impl Layer<Session> for Free {
    keys! { Session, "Without a plan" opens ["help" "words" "changes" "by law" "join sides" "sew through" "thread"];
        ~ "0 1 2 3 4 space" ["0-4 beads"] "so many beads into the gap at the needle: 0 draws the two beads beside it together, space is one bead"
        ~ "A-Z" ["A-Z which bead"] "the bead to take from now on; two letters and then 2 put two unlike beads into the gap, and so on"
        ..
        side "=" ["= side again"] "the side that was just worked once more, with the same beads"
        round "+" ["+ round again"] "the round before once more, or what is left of it, with the same beads"
        corner "." [". corner"] "the current gap is a corner, or no longer one: from three corners on the panel has a side between each two, which is counted, named and joined by itself"
        law ">" ["> by law"] "go on by the corners of the last rounds, or by others, for so many rounds: the rest is planned" => |_| Flow::Screen("by law");
        another "&" ["& another panel"] "one panel more, begun like the current one, comes next"
        join "j" ["j join sides"] "a side of one panel is joined to a side of another, both made: a join row, then the zip" => |_| Flow::Screen("join sides");
        sew "*" ["* sew through"] "sew through beads that touch to one that you point at on the face or type; for the next gap the needle goes back by itself" => |_| Flow::Screen("sew through");
        thread ";" ["; thread ends"] "the thread ends here, or broke: it is woven in before the next gap, and a new one begins"
        undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later" => |s| { s.undo(); Flow::Stay };
    }

    fn is_work(&self) -> bool {
        true
    }

    /// The beads after those that were chosen are as planned.
    fn closed(&mut self, session: &mut Session) {
        let from = Bead(session.seq.strung_after(session.done()) + 1);
        if let Err(why) = session.recolour(ColourChange::AsPlanned { from }) {
            session.say(cannot(why));
        }
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((self.place(session), session.look().seat()))
    }

    fn lines(&self, _session: &Session) -> Vec<Line<'static>> {
        vec!["A number puts so many beads into the gap, a letter chooses the bead; Esc goes back to the plan.".into()]
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        scene::draw(session, area, buf);
    }

    fn typed(&mut self, c: char, session: &mut Session) -> Option<Flow<Session>> {
        match c {
            ' ' => return Some(self.put(session, 1)),
            '0'..='4' => return Some(self.put(session, c as u8 - b'0')),
            _ if !is_bead_letter(c) => return None,
            _ => {}
        }
        let kinds = session.seq.layout().bead_kinds();
        let Some(at) = kinds.iter().position(|kind| kind.letter == c) else {
            return Some(session.say(format!(
                "No bead has the letter {c}. m and then n adds one."
            )));
        };
        if std::mem::take(&mut self.is_used) {
            self.beads.clear();
        }
        self.beads.push(Colour(at as u8));
        self.beads.truncate(MOST_IN_A_GAP.into());
        Some(session.say(""))
    }
}

impl Free {
    /// `Round 3, side 1: 4 so far. Gap 5 of 6: how many A?`
    fn place(&self, session: &Session) -> String {
        let (seq, done) = (&session.seq, session.done());
        // In the middle of a round the needle may have to be taken back to it.
        let last = (1..=done.0).rev().map(Step).take(MOST_BETWEEN);
        let last = { last }.find_map(|step| seq.step(step)?.round);
        let ahead = Step(led_to(session).0 + 1);
        let is_in_round = |at: GapOfStep| Some(at.gap.round) == last && at.gap.gap > 0;
        let is_ahead = seq.gap_of(ahead).is_some_and(is_in_round);
        let next = if is_ahead { ahead } else { session.next_step() };
        let many = self.letters(session);
        let is_strip = |panel| seq.layout().kind(panel).strip().is_some();
        let is_strip = current_panel(session).is_some_and(is_strip);
        let what = if is_strip { "Row" } else { "Round" };
        if let (Some(at), Some(m)) = (seq.gap_of(next), seq.step(next)) {
            let beads = m.round_beads - m.strings.len() as u32;
            let side = m.side.map(|side| format!(", side {side}"));
            let side = side.unwrap_or_default();
            let (round, gap) = (at.gap.round, at.gap.gap);
            let marks = &seq.goal()[at.panel].corners;
            let is_corner = marks.contains(&CornerMark { round, gap });
            let corner = if is_corner { ", a corner" } else { "" };
            let (gap, gaps) = (gap + 1, seq.gaps_around(next));
            return format!(
                "{what} {round}{side}: {beads} so far. Gap {gap} of {gaps}{corner}: {many}?"
            );
        }
        let in_ring = seq.step(next).is_some_and(|m| m.kind == Kind::Ring);
        match last {
            None => format!("A number begins with the ring or string, then the first gap: {many}?"),
            Some(_) if in_ring => {
                format!("A number finishes the ring or string, then the first gap: {many}?")
            }
            Some(round) => format!("{what} {round} is whole. A number begins the next: {many}?"),
        }
    }

    /// `how many A`: the next bead, or the chosen ones.
    fn letters(&self, session: &Session) -> String {
        let layout = session.seq.layout();
        let next = Bead(session.seq.strung_after(session.done()) + 1);
        let mut beads = self.beads.clone();
        if beads.is_empty() && next.0 <= layout.beads() {
            beads.push(layout.colour(next));
        }
        let letter = |colour: &Colour| layout.bead_kind(*colour).letter.to_string();
        let letters: Vec<String> = beads.iter().map(letter).collect();
        match letters.is_empty() {
            true => "how many beads".into(),
            false => format!("how many {}", letters.join(" ")),
        }
    }

    /// Puts `beads` of the chosen beads into the next gap.
    fn put(&mut self, session: &mut Session, beads: u8) -> Flow<Session> {
        self.is_used = true;
        let some = |many| self.beads.iter().cycle().copied().take(many).collect();
        let ring = beads_before_a_gap(session);
        take_beads(session, some(ring));
        fill(session, beads, some(beads.into()))
    }

    /// Repeats the gaps of the side that was worked last.
    fn side(&mut self, session: &mut Session) -> Flow<Session> {
        let worked = worked(session);
        let Some((at, gaps)) = gap_ahead(session) else {
            return session.say(NO_GAP);
        };
        let sides = usize::from(session.seq.layout().kind(at.panel).sides());
        if gaps < sides || !gaps.is_multiple_of(sides) {
            return session.say(format!(
                "The {gaps} gaps of this round cannot be shared evenly between {sides} sides."
            ));
        }
        let side = gaps / sides;
        let this = worked.iter().find(|(round, _)| *round == at.gap.round);
        let this = this.map_or(&[][..], |(_, gaps)| gaps);
        if this.len() < side {
            return session.say(format!(
                "Work {side} gaps of this round first, one side: = repeats them. + repeats the round before."
            ));
        }
        let last = this[this.len() - side..].iter();
        fill_all(session, last.take(gaps - this.len()))
    }

    /// Makes the current gap a corner.
    fn corner(&mut self, session: &mut Session) -> Flow<Session> {
        if gap_ahead(session).is_none() {
            return session.say(NO_GAP);
        }
        let marked = session.seq.corner_marked(session.next_step());
        let marked = marked.map_err(cannot);
        let made = marked.and_then(|change| session.change(change));
        session.tried(made)
    }

    /// Ends the current thread here.
    fn thread(&mut self, session: &mut Session) -> Flow<Session> {
        let made = session.change(Amendment::ThreadEnds);
        session.tried(made)
    }

    /// Adds another panel.
    fn another(&mut self, session: &mut Session) -> Flow<Session> {
        let kind = current_panel(session).map(|panel| session.seq.layout().kind_by_pattern(panel));
        look_at(session, Amendment::Another(kind.unwrap_or(0)))
    }

    /// Finishes the round like the round before.
    fn round(&mut self, session: &mut Session) -> Flow<Session> {
        let worked = worked(session);
        let Some((at, gaps)) = gap_ahead(session) else {
            return session.say(NO_GAP);
        };
        let this = worked.iter().find(|(round, _)| *round == at.gap.round);
        let this = this.map_or(0, |(_, gaps)| gaps.len());
        match worked.iter().find(|(round, _)| *round != at.gap.round) {
            None => session.say("There is no round before this one that was worked gap by gap."),
            Some((round, before)) if before.len() != gaps => session.say(format!(
                "Round {round} has {} gaps and this one {gaps}: + needs as many.",
                before.len()
            )),
            Some((_, before)) => fill_all(session, before[this..].iter()),
        }
    }
}

const NO_GAP: &str = "There is no gap at the needle, and the panel cannot go on here.";

/// Whether the needle goes through such a movement automatically.
fn leads_to_a_gap(kind: Kind) -> bool {
    use Kind::{EndThread, PassThrough, Ring, StartThread, StepDown, StepUp};
    matches!(
        kind,
        StepDown | StepUp | EndThread | PassThrough | Ring | StartThread
    )
}

/// The last step of the current job that the needle goes through automatically;
/// the last step done if there is none.
fn led_to(session: &Session) -> Step {
    let (seq, done) = (&session.seq, session.done());
    let next = Step(done.0 + 1);
    let is_led = |step: &Step| {
        let kind = seq.step(*step).map(|m| m.kind);
        seq.gap_of(*step).is_none()
            && kind.is_some_and(|kind| {
                leads_to_a_gap(kind) || kind == Kind::Count && another_follows(seq, *step)
            })
            && (seq.job_of(*step) == seq.job_of(next) || is_added(seq, *step))
    };
    let ahead = (next.0..=seq.steps()).map(Step).take(MOST_BETWEEN);
    ahead.take_while(is_led).last().unwrap_or(done)
}

/// Whether a step makes a panel that the maker has added.
fn is_added(seq: &Sequence, step: Step) -> bool {
    let job = &seq.job(seq.job_of(step)).kind;
    matches!(job, JobKind::Panel(panel) if seq.goal()[*panel].is_added)
}

/// Whether the job of a step is the last before such a panel.
fn another_follows(seq: &Sequence, step: Step) -> bool {
    let job = seq.job(seq.job_of(step));
    let next = Step(job.steps_before + job.steps + 1);
    next.0 <= seq.steps() && is_added(seq, next)
}

/// Takes the needle to the next gap. `false` if there is none.
fn to_a_gap(session: &mut Session) -> bool {
    for _ in 0..2 {
        let gap = Step(led_to(session).0 + 1);
        let is_gap = session.seq.gap_of(gap).is_some();
        let is_to_another = gap.0 > session.done().0 + 1 && is_added(&session.seq, Step(gap.0 - 1));
        while session.done().0 + 1 < gap.0 {
            let next = session.next_step();
            let kind = session.seq.step(next).map(|m| m.kind);
            // Without a gap ahead the thread stays in for another round.
            let stays = !is_gap && !is_to_another;
            if stays && matches!(kind, Some(Kind::EndThread | Kind::PassThrough)) {
                break;
            }
            session.move_to(next.0, MoveReason::Forward);
        }
        if is_gap {
            return true;
        }
        if !one_round_more(session) {
            return false;
        }
    }
    false
}

/// If the current panel has its last round, plans one more.
fn one_round_more(session: &mut Session) -> bool {
    let done = session.done();
    let work = session.seq.work_at(done);
    let Some(JobKind::Panel(panel)) = work.jobs().last().map(|job| job.kind.clone()) else {
        return false;
    };
    let goal = work.goal();
    let is_joined = |job: &GoalJob| {
        let kind = &goal[*job];
        let meets = kind.joins().iter().any(|join| join.onto == panel);
        *kind != JobKind::Panel(panel) && (kind.panel() == panel || meets)
    };
    if goal.order.iter().any(is_joined) {
        return false;
    }
    let makes = |job: &&GoalJob| goal[**job] == JobKind::Panel(panel);
    let jobs: Vec<_> = goal.order.iter().find(makes).copied().into_iter().collect();
    let rounds = session.seq.layout().kind(panel).rounds() + 1;
    session.change(Amendment::Rounds { jobs, rounds }).is_ok()
}

/// The number of beads to string before the next gap: those of a ring.
fn beads_before_a_gap(session: &Session) -> usize {
    let strung = |step| session.seq.strung_after(step);
    (strung(led_to(session)) - strung(session.done())) as usize
}

/// Takes the needle to the next gap; returns which gap it is, and how many gaps
/// the round has.
fn gap_ahead(session: &mut Session) -> Option<(GapOfStep, usize)> {
    if !to_a_gap(session) {
        return None;
    }
    let next = session.next_step();
    let gaps = session.seq.gaps_around(next) as usize;
    session.seq.gap_of(next).map(|at| (at, gaps))
}

/// The panel with the next gap, or the next bead, or the last bead.
fn current_panel(session: &Session) -> Option<Panel> {
    let (seq, done) = (&session.seq, session.done());
    let gap = seq.gap_of(Step(done.0 + 1));
    let bead = (seq.strung_after(done) + 1).min(seq.layout().beads());
    let seat = (bead > 0).then(|| seq.layout().seat(Bead(bead)).panel);
    gap.map(|at| at.panel).or(seat)
}

/// Chooses the next beads of the current panel; does nothing if none are
/// chosen.
fn take_beads(session: &mut Session, beads: Vec<Colour>) {
    let from = Bead(session.seq.strung_after(session.done()) + 1);
    if let (false, Some(panel)) = (beads.is_empty(), current_panel(session)) {
        let change = ColourChange::Take { from, panel, beads };
        if let Err(why) = session.recolour(change) {
            session.say(cannot(why));
        }
    }
}

/// Puts `beads` beads into the next gap, of these kinds or as planned.
fn fill(session: &mut Session, beads: u8, kinds: Vec<Colour>) -> Flow<Session> {
    let Some((at, _)) = gap_ahead(session) else {
        return session.say(NO_GAP);
    };
    take_beads(session, kinds);
    let next = session.next_step();
    if at.gap.beads == beads {
        session.move_to(next.0, MoveReason::Forward);
        return session.say("");
    }
    let rounds = session.seq.layout().kind(at.panel).rounds();
    let mut preview = session.preview_as_stitched(next, beads, None);
    if let Err(Refusal::Eased(panel)) = preview {
        // The plans for later rounds no longer apply.
        let planned = session.seq.goal()[panel].eased.iter();
        let this = |gap: &&GapChange| gap.round == at.gap.round && gap.gap >= at.gap.gap;
        let gaps = planned.copied().filter(|gap| this(&gap)).collect();
        let law = Amendment::Law {
            panel,
            rounds,
            gaps,
        };
        if session.change(law).is_ok() {
            preview = session.preview_as_stitched(next, beads, None);
        }
    }
    match preview {
        Ok(preview) => {
            session.amend(&preview);
            session.say("")
        }
        Err(why) => session.say(cannot(why)),
    }
}

fn fill_all<'a>(
    session: &mut Session,
    gaps: impl Iterator<Item = &'a Vec<Colour>>,
) -> Flow<Session> {
    for gap in gaps {
        fill(session, gap.len() as u8, gap.clone());
    }
    Flow::Stay
}

/// The last two rounds of the current panel, the later first: the gaps that
/// were worked, in order.
fn worked(session: &Session) -> Vec<(Round, Vec<Vec<Colour>>)> {
    let seq = &session.seq;
    let mut rounds: Vec<(Round, Vec<Vec<Colour>>)> = vec![];
    let mut panel = None;
    for step in (1..=session.done().0).rev().map(Step) {
        let Some(at) = seq.gap_of(step) else {
            continue;
        };
        if *panel.get_or_insert(at.panel) != at.panel {
            break;
        }
        let strung = seq.strung_after(Step(step.0 - 1)) + 1..=seq.strung_after(step);
        let gap = strung.map(|bead| seq.layout().colour(Bead(bead))).collect();
        let is_full = rounds.len() == 2;
        match rounds.last_mut() {
            Some((round, gaps)) if *round == at.gap.round => gaps.push(gap),
            _ if is_full => break,
            _ => rounds.push((at.gap.round, vec![gap])),
        }
    }
    rounds.iter_mut().for_each(|(_, gaps)| gaps.reverse());
    rounds
}
