//! Mistakes in words: what happened, and the look that tells it from others.
//!
//! All sentences about wrong counts are made here.

use super::mistake::{Counted, Mistake};
use super::place::Place;
use crate::beadwork::Side;
use crate::beadwork::project::Growth;

/// Beyond so many sides to look at, it is 'any side'.
const SIDES_NAMED: usize = 6;

impl Counted<'_> {
    /// What happened.
    pub(super) fn cause(&self, mistake: &Mistake) -> String {
        let round = self.round;
        match mistake {
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
            Mistake::NotWhole => format!("round {round} is still in hand"),
            Mistake::TurnMissed => {
                format!("the step at the end of round {round} was missed, so the work spirals")
            }
            Mistake::WrongSide(side) => {
                format!("the counting began at side {side} instead of side 1")
            }
            Mistake::Two(a, b) => format!("{}, and {}", self.cause(a), self.cause(b)),
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

    /// A pair is a corner's by a law, and anywhere by words of the panel's own.
    fn pair(&self) -> &'static str {
        let layout = self.seq.layout();
        let spec = layout.panel(self.panel()).spec;
        match layout.project().panels[spec].growth {
            Growth::Law(_) | Growth::Own(_) => "corner pair",
            Growth::Words { .. } | Growth::Rows { .. } => "pair",
        }
    }

    /// What to look at to be sure, at these places.
    pub(super) fn look(&self, mistake: &Mistake, [places, second]: &[Vec<Place>; 2]) -> String {
        let round = self.round;
        let (ends, on) = (self.corners(places), self.along(places));
        let at = match places.iter().all(|p| p.corner) {
            true => &ends,
            false => &on,
        };
        match mistake {
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
            Mistake::TwoInGap(_) if self.sides().len() == 1 => {
                format!("{on} every gap should show one bead; two sit crowded")
            }
            Mistake::TwoInGap(_) => {
                format!(
                    "{on} every gap should show one bead; two sit crowded, or three at a corner"
                )
            }
            Mistake::GapSkipped(_) => {
                format!("{on} look for two low beads with bare thread between them")
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
                "trace the step from the round's first bead; if all else is right you are at round {other}"
            ),
            Mistake::BothEdges(under) => format!(
                "count only the beads that stick out; those of round {under} lie lower, between them"
            ),
            Mistake::NotWhole => {
                "the needle has not yet come round to the round's first bead".into()
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
            Mistake::Two(a, b) => format!(
                "{}; and {}",
                self.look(a, &[places.clone(), vec![]]),
                self.look(b, &[second.clone(), vec![]])
            ),
        }
    }

    /// `at the end of side 1, side 2 or side 3`.
    fn corners(&self, places: &[Place]) -> String {
        format!("at the end of {}", self.sides_in_words(places))
    }

    /// `on side 1 or side 2`.
    fn along(&self, places: &[Place]) -> String {
        format!("on {}", self.sides_in_words(places))
    }

    fn sides_in_words(&self, places: &[Place]) -> String {
        let mut sides: Vec<Side> = places.iter().map(|p| p.side).collect();
        sides.sort_unstable();
        sides.dedup();
        let named: Vec<String> = sides.iter().map(|s| format!("side {s}")).collect();
        match named.as_slice() {
            [] => "one of the sides".into(),
            [one] => one.clone(),
            many if many.len() > SIDES_NAMED => "any of the sides".into(),
            [most @ .., last] => format!("{} or {last}", most.join(", ")),
        }
    }
}
