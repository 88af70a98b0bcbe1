//! Without a plan: each key puts so many beads into the gap at the needle.
//!
//! ```text
//! 2 2 2          round 2 on a ring of three: 6 beads
//! 1 1 =          round 3: the side again, and again
//! ```
//!
//! The needle is taken to the gap by itself: through the ring, up to the next
//! round, and into a round more when the last one that was meant is whole.

use crate::beadwork::amend::Amendment;
use crate::beadwork::job::JobKind;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{GoalJob, Round, Step};
use crate::progress::MoveReason;
use crate::screen::furniture::scene;
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "free" "d" ["d without a plan"] "stitch without a plan: a number puts so many beads into the gap at the needle, and rounds go on as long as you like" |_, _| Flow::open(Free); Free);

/// Movements at the most from the needle to the next gap: a ring, and what is
/// around it.
const MOST_BETWEEN: usize = 400;

/// Stitching without a plan.
pub struct Free;

impl Layer<Session> for Free {
    keys! { Session, "Without a plan";
        one "1 space" ["1 one bead"] "one bead into the gap at the needle" => |s| put(s, 1);
        two "2" ["2 two"] "two beads, side by side" => |s| put(s, 2);
        three "3" [] "three beads" => |s| put(s, 3);
        four "4" [] "four beads" => |s| put(s, 4);
        none "0" ["0 none"] "no bead: the two beads beside the gap are drawn together" => |s| put(s, 0);
        again "=" ["= again"] "the side that was just worked once more; at the start of a round, the round before" => |s| again(s);
        undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later" => |s| undo(s);
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((place(session), session.look().seat()))
    }

    fn lines(&self, _session: &Session) -> Vec<Line<'static>> {
        vec!["A number puts so many beads into the gap; Esc goes back to the plan.".into()]
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        scene::draw(session, area, buf);
    }
}

/// `Round 3, side 1: 4 beads so far; gap 5 of 6`.
fn place(session: &Session) -> String {
    let (seq, done) = (&session.seq, session.done());
    let next = Step(done.0 + 1);
    if let (Some(at), Some(m)) = (seq.gap_of(next), seq.step(next))
        && !is_turn(m.kind)
    {
        let before = seq.step(done).filter(|last| last.round == m.round);
        let beads = before.map_or(0, |last| last.round_beads);
        let side = m
            .side
            .map_or(String::new(), |side| format!(", side {side}"));
        let (round, gap, gaps) = (at.gap.round, at.gap.gap + 1, seq.gaps_around(next));
        return format!(
            "Round {round}{side}: {beads} so far. Gap {gap} of {gaps}: how many beads?"
        );
    }
    let in_ring = seq.step(next).is_some_and(|m| m.kind == Kind::Ring);
    match seq.step(done).and_then(|last| last.round) {
        None => "A number begins with the ring and goes on to the first gap.".into(),
        Some(_) if in_ring => "A number finishes the ring and goes on to the first gap.".into(),
        Some(round) => format!("Round {round} is whole. The next gap is in the round after it."),
    }
}

fn is_turn(kind: Kind) -> bool {
    matches!(kind, Kind::StepUp | Kind::StepDown)
}

/// Takes the needle to the next gap. `false` if there is none.
fn to_a_gap(session: &mut Session) -> bool {
    for _ in 0..MOST_BETWEEN {
        let next = Step(session.done().0 + 1);
        let kind = session.seq.step(next).map(|m| m.kind);
        match kind {
            Some(Kind::Stitch | Kind::Increase | Kind::Decrease)
                if session.seq.gap_of(next).is_some() =>
            {
                return true;
            }
            Some(Kind::StartThread | Kind::Ring | Kind::StepUp | Kind::StepDown) => {
                session.move_to(next.0, MoveReason::Forward);
            }
            _ if one_round_more(session) => {}
            _ => return false,
        }
    }
    false
}

/// The panel in hand has its last round, and is to have one more.
fn one_round_more(session: &mut Session) -> bool {
    let done = session.done();
    let work = session.seq.work_at(done);
    let Some(JobKind::Panel(panel)) = work.jobs().last().map(|job| job.kind.clone()) else {
        return false;
    };
    let goal = work.goal();
    let makes = |job: &&GoalJob| goal.jobs[job.index()] == JobKind::Panel(panel);
    let jobs: Vec<_> = goal.order.iter().find(makes).copied().into_iter().collect();
    let rounds = session.seq.layout().kind(panel).rounds() + 1;
    match session.preview(Amendment::Rounds { jobs, rounds }) {
        Ok(preview) => {
            session.amend(&preview);
            true
        }
        Err(_) => false,
    }
}

fn put(session: &mut Session, beads: u8) -> Flow<Session> {
    // A last gap that is drawn together has no stitch; the turn does it.
    let next = Step(session.done().0 + 1);
    let at_turn = session.seq.step(next).is_some_and(|m| is_turn(m.kind));
    let is_at_gap = at_turn && session.seq.gap_of(next).is_some();
    if !is_at_gap && !to_a_gap(session) {
        return session.say("There is no gap at the needle, and the panel cannot go on here.");
    }
    let next = Step(session.done().0 + 1);
    let planned = session.seq.gap_of(next).map(|at| at.gap.beads);
    if planned == Some(beads) {
        session.move_to(next.0, MoveReason::Forward);
        session.say("");
    } else {
        match session.preview_as_stitched(next, beads, None) {
            Ok(preview) => {
                session.amend(&preview);
                session.say("");
            }
            Err(why) => {
                session.say(format!("That cannot be: {why}."));
            }
        }
    }
    Flow::Stay
}

/// The gaps worked last, once more: a side, or a whole round.
fn again(session: &mut Session) -> Flow<Session> {
    let (round_before, last) = worked(session);
    if !to_a_gap(session) {
        return session.say("There is no gap at the needle, and the panel cannot go on here.");
    }
    let next = Step(session.done().0 + 1);
    let gaps = session.seq.gaps_around(next) as usize;
    let Some(at) = session.seq.gap_of(next) else {
        return Flow::Stay;
    };
    let this_round = match round_before == Some(at.gap.round) {
        true => last.clone(),
        false => vec![],
    };
    let left = gaps - this_round.len().min(gaps);
    let sides = usize::from(session.seq.layout().kind(at.panel).sides());
    let side = gaps / sides.max(1);
    let numbers = match this_round.as_slice() {
        [] if last.len() == gaps => last,
        worked if side > 0 && gaps.is_multiple_of(sides) && worked.len() >= side => {
            worked[worked.len() - side..].to_vec()
        }
        _ => {
            return session.say(format!(
                "Work {side} gaps of this round first, one side: = repeats them."
            ));
        }
    };
    for beads in numbers.into_iter().take(left) {
        put(session, beads);
    }
    Flow::Stay
}

/// The round that was worked last, and the beads in its gaps, in order.
fn worked(session: &Session) -> (Option<Round>, Vec<u8>) {
    let (seq, done) = (&session.seq, session.done().0);
    let mut round = None;
    let mut gaps = vec![];
    for step in (1..=done).rev().map(Step) {
        match seq.gap_of(step) {
            Some(at) if round.is_none_or(|round| round == at.gap.round) => {
                round = Some(at.gap.round);
                gaps.push(at.gap.beads);
            }
            None if gaps.is_empty() => {}
            _ => break,
        }
    }
    gaps.reverse();
    (round, gaps)
}

fn undo(session: &mut Session) -> Flow<Session> {
    session.undo();
    Flow::Stay
}
