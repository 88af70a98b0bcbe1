//! Mistakes in words: what happened, and what to look at to be sure.
//!
//! All sentences about wrong counts are made here.

use super::answer::{Answer, Verdict};
use super::expected::{BeadsInRound, CountQuestion, before, is_stringing};
use super::mistake::{CountedRound, Mistake, RoundPlace};
use crate::beadwork::project::Growth;
use crate::beadwork::{Kind, Movement, Sequence, Side, Step, plural};

/// With more sides than this to look at, it says 'any of the sides'.
const MAX_SIDES_NAMED: usize = 6;

impl CountQuestion {
    /// What is counted once a step is done: `side 2 of round 5`, `the string`,
    /// `the join row on side 1`, `the teeth of side 3`.
    pub fn say(&self, seq: &Sequence, done: Step) -> String {
        let kind = seq.layout().kind(seq.job(self.job).panel());
        let strip = kind.strip().is_some();
        let round = match self.round {
            _ if self.is_of_a_zip(seq) => "the teeth".into(),
            round if round > kind.last() => "the join row".into(),
            round if is_stringing(seq, self.job, round, done) => "the string".into(),
            round if strip => format!("row {round}"),
            round => format!("round {round}"),
        };
        match self.side {
            Some(side) if self.is_of_a_zip(seq) => format!("{round} of side {side}"),
            Some(side) if self.round > kind.last() => format!("{round} on side {side}"),
            Some(side) => format!("side {side} of {round}"),
            None => round,
        }
    }

    /// What should be in place, to be sure of the step: `Panel 2, round 5: 7 of
    /// 15 beads so far; side 1: 5, side 2: 2, side 3: none`.
    pub fn say_beads(&self, seq: &Sequence, done: Step, beads: &BeadsInRound) -> String {
        let name = &seq.layout().panel(seq.job(self.job).panel()).name;
        let (there, whole) = beads.of(self.side).unwrap_or_default();
        let what = match self.is_of_a_zip(seq) {
            true => "locked",
            false => "beads so far",
        };
        let all = format!("{name}, {}: {there} of {whole} {what}", self.say(seq, done));
        if self.side.is_some() || beads.there.len() == 1 {
            return all;
        }
        let sides = beads.there.iter().enumerate().map(|(s, n)| match n {
            0 => format!("side {}: none", s + 1),
            n => format!("side {}: {n}", s + 1),
        });
        format!("{all}; {}", sides.collect::<Vec<_>>().join(", "))
    }
}

/// What is in place before a movement: `7 of 15 in place`, `2 of 4 locked`.
pub fn say_before(seq: &Sequence, m: &Movement) -> Option<String> {
    let (there, whole) = before(seq, m)?;
    Some(match m.kind {
        Kind::Zip => format!("{there} of {whole} locked"),
        Kind::Ring => format!("{there} of {whole} strung"),
        _ => format!("{there} of {whole} in place"),
    })
}

impl Answer {
    /// The answer as a sentence: `Round 5: 6 counted, there should be 5: 1 too
    /// many.`
    pub fn say(&self, seq: &Sequence, q: &CountQuestion, done: Step) -> String {
        let what = q.say(seq, done);
        let what = format!("{}{}", what[..1].to_uppercase(), &what[1..]);
        let (counted, expected) = (self.counted, self.expected);
        let off = expected.abs_diff(counted);
        match self.verdict {
            Verdict::Match => match self.whole.saturating_sub(expected) {
                0 => format!("{what}: {counted}. Yes, that is right."),
                more => format!("{what}: {counted}. Yes, that is right so far; {more} to come."),
            },
            _ if off == 0 => {
                let sides = self.sides.iter().map(|(side, by)| match by {
                    1.. => format!("side {side} has {by} too many"),
                    _ => format!("side {side} has {} too few", by.unsigned_abs()),
                });
                let sides = sides.collect::<Vec<_>>().join(", ");
                format!("{what}: {counted} in all is right, but the sides differ: {sides}.")
            }
            Verdict::Over => {
                format!("{what}: {counted} counted, there should be {expected}: {off} too many.")
            }
            Verdict::Under => {
                format!("{what}: {counted} counted, there should be {expected}: {off} too few.")
            }
        }
    }
}

impl CountedRound<'_> {
    /// What happened.
    pub(super) fn cause(&self, mistake: &Mistake) -> String {
        let round = self.round;
        match mistake {
            Mistake::BeadAtCorner(_) if self.is_join_row() => {
                "a bead in the corner gap, which takes none".into()
            }
            Mistake::BeadAtCorner(_) => {
                "a bead at a corner that should have been drawn together".into()
            }
            Mistake::PairAsOne(..) => format!("a {} worked as one bead", self.pair()),
            Mistake::CornerPassed(_) => format!("a {} left out", self.pair()),
            Mistake::TwoInGap(_) => "two beads in one gap".into(),
            Mistake::GapSkipped(_) => "a gap skipped".into(),
            Mistake::StrungOver(_) => "a bead too many on the first string".into(),
            Mistake::StrungUnder(_) => "a bead too few on the first string".into(),
            Mistake::OtherRound(other) => {
                format!("round {other} was counted, or worked, instead of round {round}")
            }
            Mistake::BothEdges(_) => "high and low beads were both counted".into(),
            Mistake::OtherStep(step) => format!("you are {}", self.distance(*step)),
            Mistake::ToothOpen(_) => "a tooth left open".into(),
            Mistake::TurnMissed => {
                format!("the step at the end of round {round} was missed, so the work spirals")
            }
            Mistake::WrongSide(side) => {
                format!("the counting began at side {side} instead of side 1")
            }
            Mistake::OneSide => {
                let all: u32 = self.sides().iter().sum();
                match self.is_begun() {
                    true => format!("that is one side; on all sides so far there should be {all}"),
                    false => format!("that is one side; all round there should be {all}"),
                }
            }
            Mistake::OnThread(by) => {
                let beads = plural(by.unsigned_abs() as usize, "bead");
                let off = if *by > 0 { "many" } else { "few" };
                format!("{beads} too {off} on the thread")
            }
            Mistake::Two(a, b) => match (self.cause(a), self.cause(b)) {
                (a, b) if a == b => format!("{a}, at two places"),
                (a, b) => format!("{a}, and {b}"),
            },
        }
    }

    /// The round before or after, where either gives the count.
    pub(super) fn cause_of_neighbours(&self) -> String {
        let named: Vec<String> = self
            .neighbours()
            .iter()
            .map(|r| format!("round {r}"))
            .collect();
        let round = self.round;
        format!(
            "{} was counted, or worked, instead of round {round}",
            named.join(" or ")
        )
    }

    /// `3 movements ahead of the screen`.
    fn distance(&self, step: Step) -> String {
        let at = self.at.unwrap_or(step);
        let presses = plural(at.0.abs_diff(step.0) as usize, "movement");
        match step > at {
            true => format!("{presses} ahead of the screen"),
            false => format!("{presses} behind the screen"),
        }
    }

    /// A pair is at a corner by a corner law, but can be anywhere with gap
    /// words.
    fn pair(&self) -> &'static str {
        let layout = self.seq.layout();
        let spec = layout.panel(self.panel()).spec;
        match layout.project().panels[spec].growth {
            Growth::Law(_) | Growth::Own(_) => "corner pair",
            Growth::Words { .. } | Growth::Rows { .. } => "pair",
        }
    }

    /// What to look at to be sure, at these places; of two mistakes, the places
    /// of each.
    pub(super) fn look(
        &self,
        mistake: &Mistake,
        [places, second]: &[Vec<RoundPlace>; 2],
    ) -> String {
        let round = self.round;
        let (ends, on) = (self.corners(places), self.along(places));
        let at = match places.iter().all(|p| p.corner) {
            true => &ends,
            false => &on,
        };
        match mistake {
            Mistake::BeadAtCorner(_) if self.is_join_row() => {
                format!("{ends} the corner gap should be empty")
            }
            Mistake::BeadAtCorner(_) if places.iter().all(|p| p.corner) => {
                format!("{ends} the two end beads should touch with no bead between them")
            }
            Mistake::BeadAtCorner(_) => {
                format!("{on} at the decrease two beads should touch with no bead between them")
            }
            Mistake::PairAsOne(..) => {
                format!("{at} two beads should lie side by side in one gap")
            }
            Mistake::CornerPassed(_) => {
                format!("{at} there should be a pair of beads; see if bare thread spans the gap")
            }
            Mistake::TwoInGap(_) if !places.iter().any(|p| p.corner) => {
                format!("{on} every gap should show one bead; two sit crowded")
            }
            Mistake::TwoInGap(_) => {
                format!(
                    "{on} every gap should show one bead; two sit crowded, or three at a corner"
                )
            }
            Mistake::GapSkipped(_) => {
                format!("{on} two low beads lie side by side, with bare thread between them")
            }
            Mistake::StrungOver(_) => {
                format!(
                    "{on} count the beads of the string again before it is closed: one more lies there"
                )
            }
            Mistake::StrungUnder(_) => {
                format!(
                    "{on} count the beads of the string again before it is closed: one is missing there"
                )
            }
            Mistake::OtherRound(other) => format!(
                "look along the round from its first bead; if every gap is right, it is round {other}"
            ),
            Mistake::BothEdges(under) => format!(
                "count only the beads that stick out; those of round {under} lie lower, between them"
            ),
            Mistake::OtherStep(step) => {
                let m = self.seq.step(*step);
                let said = m.map_or(String::new(), |m| self.seq.say(&m));
                format!("the last movement that you made should be step {step}: {said}")
            }
            Mistake::ToothOpen(_) => {
                format!("{on} every join bead should sit between two edge beads; one stands out")
            }
            Mistake::TurnMissed => format!(
                "where round {round} begins, on side {}, the needle should have gone through two beads \
                 in one movement",
                places.first().map_or(Side(0), |p| p.side)
            ),
            Mistake::WrongSide(_) => {
                "side 1 is the first that is worked behind the round's first bead; count from there"
                    .into()
            }
            Mistake::OneSide if self.is_begun() => {
                "count on past the corners, from the first bead of the round to the needle".into()
            }
            Mistake::OneSide => {
                "count on past the corners, until you are back at the bead that you began with"
                    .into()
            }
            Mistake::OnThread(by) => {
                let beads = by.unsigned_abs();
                match *by > 0 {
                    true => format!("nothing is closed yet: take {beads} off the thread"),
                    false => format!("nothing is closed yet: pick up {beads} more"),
                }
            }
            Mistake::Two(a, b) if self.cause(a) == self.cause(b) => {
                self.look(a, &[[&places[..], second].concat(), vec![]])
            }
            Mistake::Two(a, b) => format!(
                "{}; and {}",
                self.look(a, &[places.clone(), vec![]]),
                self.look(b, &[second.clone(), vec![]])
            ),
        }
    }

    /// `at the end of side 1, side 2 or side 3`.
    fn corners(&self, places: &[RoundPlace]) -> String {
        format!("at the end of {}", self.sides_in_words(places))
    }

    /// `on side 1 or side 2`.
    fn along(&self, places: &[RoundPlace]) -> String {
        format!("on {}", self.sides_in_words(places))
    }

    fn sides_in_words(&self, places: &[RoundPlace]) -> String {
        let mut sides: Vec<Side> = places.iter().map(|p| p.side).collect();
        sides.sort_unstable();
        sides.dedup();
        let named: Vec<String> = sides.iter().map(|s| format!("side {s}")).collect();
        match named.as_slice() {
            [] => "one of the sides".into(),
            [one] => one.clone(),
            many if many.len() > MAX_SIDES_NAMED => "any of the sides".into(),
            [most @ .., last] => format!("{} or {last}", most.join(", ")),
        }
    }
}
