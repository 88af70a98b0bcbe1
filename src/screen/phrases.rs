//! In a few words: a movement for the big letters, what follows it, a bead and
//! its place, how long ago something was.

use crate::beadwork::layout::{Part, Seat};
use crate::beadwork::{Bead, Kind, Movement, Sequence, Step, plural};
use crate::progress::Moment;
use crate::screen::session::Session;

/// The movement in as few words as possible: `1 S`, `no bead`, `sew through 4`.
pub fn short_label(seq: &Sequence, m: &Movement) -> String {
    let passed = m.passes.len();
    match m.kind {
        Kind::Ring if m.strings.is_empty() => "close the ring".into(),
        Kind::Stitch | Kind::Increase if seq.is_tip(m) => format!("tip, {}", seq.letters(m)),
        Kind::Ring | Kind::Stitch | Kind::Increase => seq.letters(m),
        Kind::Decrease => "no bead".into(),
        Kind::StepUp => "step up".into(),
        Kind::StepDown => "step down".into(),
        Kind::PassThrough => format!("sew through {passed}"),
        Kind::Zip => "zip".into(),
        Kind::Fold if passed > 0 => "draw together".into(),
        Kind::Fold => "fold".into(),
        Kind::Close => "close".into(),
        Kind::Firm => "reinforce".into(),
        Kind::StartThread => "new thread".into(),
        Kind::EndThread => "end thread".into(),
        Kind::Count => format!("count {}", m.round_target),
        Kind::Own => "your step".into(),
        Kind::BreakOut => "break out 1".into(),
    }
}

/// What is announced one step ahead: a movement that differs from the plain
/// stitches, in words. `None` for a plain one, or for another one of a kind
/// already begun.
pub fn announced(seq: &Sequence, now: Option<&Movement>, next: &Movement) -> Option<String> {
    let under_way = now.is_some_and(|n| n.kind == next.kind && n.job == next.job);
    let beads = |n: usize| plural(n, "bead");
    let passed = beads(next.passes.len());
    let words = match next.kind {
        Kind::Stitch | Kind::Increase if seq.is_tip(next) => {
            format!("tip: {}", seq.letters(next))
        }
        Kind::Increase if seq.corner_before(next).is_some() => {
            format!("corner pair: {}", seq.letters(next))
        }
        Kind::Increase => format!("increase: {}", seq.letters(next)),
        Kind::Stitch if seq.corner_before(next).is_some() => {
            format!("corner bead: {}", seq.letters(next))
        }
        Kind::Decrease if seq.is_corner(next) => "corner, no bead".into(),
        Kind::Decrease => "draw two together, no bead".into(),
        Kind::StepUp => format!("step up through {passed}"),
        Kind::StepDown => format!("step down through {passed}"),
        _ if under_way => return None,
        Kind::PassThrough => format!("sew through {passed}, adding none"),
        Kind::Zip => "zip the two edges".into(),
        Kind::Fold if next.passes.is_empty() => "fold".into(),
        Kind::Fold => "draw the corners together".into(),
        Kind::Close => "close the middle".into(),
        Kind::Firm => "reinforce".into(),
        Kind::StartThread => "new thread".into(),
        Kind::EndThread => "the thread ends here".into(),
        Kind::Count => "count before you go on".into(),
        Kind::Own => "a step of your own".into(),
        Kind::BreakOut => "break a bead out".into(),
        Kind::Ring if next.strings.is_empty() => "close the ring".into(),
        Kind::Ring | Kind::Stitch => return None,
    };
    Some(words)
}

/// The same for the movement after one.
pub fn announced_after(seq: &Sequence, m: &Movement) -> Option<String> {
    announced(seq, Some(m), &seq.step(Step(m.step.0 + 1))?)
}

/// How many movements to look ahead.
const FAR: usize = 40;

/// What follows a step, with like movements grouped: `3 × 1 S, then no bead,
/// then 2 × 1 S`; as much as fits.
pub fn then(seq: &Sequence, after: Step, groups: usize, times: char) -> String {
    let mut said: Vec<(String, u32)> = vec![];
    for m in seq.iter_from(Step(after.0 + 1)).take(FAR) {
        let word = short_label(seq, &m);
        let full = said.len() == groups;
        match said.last_mut() {
            Some((last, n)) if *last == word => *n += 1,
            _ if full => break,
            _ => said.push((word, 1)),
        }
    }
    let words = said.into_iter().map(|(word, n)| match n {
        1 => word,
        n => format!("{n} {times} {word}"),
    });
    words.collect::<Vec<_>>().join(", then ")
}

/// A bead in words: `S (slate), Panel 2, round 5, side 1, bead 3`.
pub fn bead_words(seq: &Sequence, bead: Bead) -> String {
    let layout = seq.layout();
    let seat = layout.seat(bead);
    let colour = layout.colour_of(seat);
    let kind = layout.bead_kind(colour);
    format!("{} ({}), {}", kind.letter, kind.name, seat_words(seq, seat))
}

/// A seat in words: `Panel 2, round 5, side 1, bead 3`.
pub fn seat_words(seq: &Sequence, seat: Seat) -> String {
    let name = &seq.layout().panel(seat.panel).name;
    let (side, bead) = (seat.side, seat.place + 1);
    match seat.part {
        Part::Face => format!("{name}, round {}, side {side}, bead {bead}", seat.round),
        Part::JoinRow(_) => format!("{name}, side {side}, join bead {bead}"),
        Part::Tip(_) => format!("{name}, side {side}, tip bead {bead}"),
    }
}

/// That no thread is in the work, and what takes one up.
pub fn no_thread(session: &Session) -> String {
    match session.movement() {
        Some(_) => "No thread is in the work: the next movement takes up a new one.".into(),
        None => "No thread is in the work.".into(),
    }
}

/// How long ago, in words: `today`, `yesterday`, `9 days ago`. `then` comes
/// from the machine's clock, which may have been wrong.
pub fn ago(then: Moment, now: Moment) -> String {
    let Some(since) = now.since(then) else {
        return "at a time to come (was a clock set back?)".into();
    };
    let hours = since.as_secs() / 3600;
    match (hours, hours / 24) {
        (0, _) => "less than an hour ago".into(),
        (1, _) => "an hour ago".into(),
        (h, 0) => format!("{h} hours ago"),
        (_, 1) => "a day ago".into(),
        (_, d) if d < 60 => format!("{d} days ago"),
        (_, d) if d < 730 => format!("{} months ago", d / 30),
        (_, d) => format!("{} years ago", d / 365),
    }
}

#[cfg(test)]
mod short_label_tests {
    use super::*;
    use crate::screen::proof;

    fn ahead(seq: &Sequence, done: u32) -> Option<String> {
        let now = seq.step(Step(done + 1));
        announced(seq, now.as_ref(), &seq.step(Step(done + 2))?)
    }

    #[test]
    fn every_corner_of_an_inward_panel_is_announced_one_step_ahead() {
        let seq = proof::inward(3, 6, 0);
        for m in seq.iter().filter(|m| m.kind == Kind::Decrease) {
            let words = ahead(&seq, m.step.0 - 2).unwrap();
            assert_eq!(words, "corner, no bead");
            assert_eq!(short_label(&seq, &m), "no bead");
        }
    }

    #[test]
    fn plain_stitches_are_not_announced() {
        let seq = proof::panel(3, 6);
        for m in seq.iter().filter(|m| m.kind == Kind::Stitch) {
            assert_eq!(ahead(&seq, m.step.0 - 2), None);
        }
    }

    #[test]
    fn a_corner_bead_of_a_hexagon_is_announced() {
        let seq = proof::panel(6, 7);
        let words: Vec<_> = (0..seq.steps()).filter_map(|s| ahead(&seq, s)).collect();
        assert!(words.iter().any(|w| w.starts_with("corner bead: 1 ")));
        assert!(words.iter().any(|w| w.starts_with("corner pair: 2 ")));
    }

    #[test]
    fn what_follows_is_grouped() {
        let seq = proof::panel(3, 5);
        // Round 4 of a triangle: a corner pair, then two stitches, three times.
        let first = seq.iter().find(|m| m.round.is_some_and(|r| r.0 == 4));
        let before = Step(first.unwrap().step.0 - 1);
        assert_eq!(then(&seq, before, 3, 'x'), "2 P, then 2 x 1 N, then 2 P");
    }
}

#[cfg(test)]
mod standing_tests {
    use super::*;

    #[test]
    fn days_are_written_as_people_say_them() {
        let day = 86_400_000;
        let said = |days: i64| ago(Moment(0), Moment(days * day + 5));
        assert_eq!(said(0), "less than an hour ago");
        assert_eq!(said(1), "a day ago");
        assert_eq!(said(9), "9 days ago");
        assert_eq!(said(100), "3 months ago");
        assert!(ago(Moment(day), Moment(0)).contains("clock"));
    }
}
