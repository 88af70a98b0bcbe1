//! A stone in an opening: how far the fill goes so that it is held.
//!
//! The circle in an opening of q beads a side has a diameter of about
//! 2·q·length/√3 less one bead diameter, if it has three sides; of n sides,
//! 2·q·length/tan(π/n). A stone is held when it is half a millimetre to a
//! millimetre wider than that. It is set before the first round whose own
//! opening is smaller than the stone.

use super::{OpeningEnd, OwnStep, OwnStepKind};
use crate::beadwork::goal::Stone;
use crate::beadwork::{PanelLayout, Refusal, Round, SpecIndex, Work};
use glam::DVec2;
use std::ops::RangeInclusive;

/// How much wider than its opening a stone is that is held, mm.
pub const HELD_BY_MM: RangeInclusive<f64> = 0.5..=1.0;

/// The diameter of the circle in an opening of this many beads a side, mm;
/// negative if the beads leave no opening. `bead_mm`: the length and the width
/// of a bead.
pub fn incircle_mm(sides: u8, beads: f64, bead_mm: DVec2) -> f64 {
    let turn = std::f64::consts::PI / f64::from(sides);
    2.0 * beads * bead_mm.x / turn.tan() - bead_mm.y
}

/// The diameter of the circle in the opening that a round of a panel leaves,
/// mm.
pub fn opening_mm(kind: &PanelLayout, round: Round, bead_mm: DVec2) -> f64 {
    let beads = f64::from(kind.in_round(round)) / f64::from(kind.sides());
    incircle_mm(kind.sides(), beads, bead_mm)
}

impl Stone {
    /// A stone for the opening inside this round: set before the first round,
    /// inward, whose own opening is smaller than the stone.
    pub fn set_in(kind: &PanelLayout, innermost: Round, mm: f64, bead_mm: DVec2) -> Stone {
        let wide = |k: &u32| opening_mm(kind, Round(*k), bead_mm) >= mm;
        let rounds = kind.rounds();
        let behind = (innermost.0..=rounds).find(wide).unwrap_or(rounds);
        Stone {
            mm,
            behind: Round(behind),
        }
    }

    /// The step that sets it.
    pub fn own_step(&self) -> OwnStep {
        OwnStep {
            what: OwnStepKind::Stone,
            text: format!("{} mm, from within, its face outward", self.mm),
        }
    }
}

impl Work {
    /// The fill with a stone; other ways to close an opening have none.
    pub(super) fn with_stone(
        &self,
        how: OpeningEnd,
    ) -> Result<(OpeningEnd, Option<Stone>), Refusal> {
        let OpeningEnd::Stone {
            kind,
            tenths,
            in_time,
        } = how
        else {
            return Ok((how, None));
        };
        let mm = f64::from(tenths) / 10.0;
        let (open, mut stone) = self.round_that_holds(kind, mm)?;
        stone.behind.0 -= u32::from(!in_time);
        Ok((OpeningEnd::Fill { kind, open }, Some(stone)))
    }

    /// The number of open rounds, and the stone with the round before which it
    /// is set.
    fn round_that_holds(&self, kind: SpecIndex, mm: f64) -> Result<(u32, Stone), Refusal> {
        let kinds = self.layout.shared_kinds();
        let layout = kinds.get(kind).ok_or(Refusal::NoSuchKind)?;
        let rounds = layout.rounds();
        let bead = self.layout.project().bead_mm();
        let circle = |k: u32| opening_mm(layout, Round(k), bead);
        // The innermost round sewn: at least two rounds are sewn, and one stays
        // open.
        let holds = |k: &u32| mm - circle(*k) >= *HELD_BY_MM.start();
        let innermost = (2..rounds).rev().find(holds);
        let innermost = innermost.filter(|_| circle(rounds) >= mm);
        let innermost = innermost.ok_or(Refusal::NoSuchStone)?;
        let stone = Stone::set_in(layout, Round(innermost), mm, bead);
        Ok((innermost - 1, stone))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::PanelSpec;
    use crate::beadwork::{Kind, Sequence, testing};

    /// By hand, cylinder 11/0: the opening of round 5 is 2·5·1.3/√3 − 1.6 = 5.9
    /// mm across, that of round 4 is 4.4 mm: a stone of 5 mm goes in between.
    #[test]
    fn a_stone_of_the_pattern_is_set_before_the_round_that_closes_over_it() {
        let window = PanelSpec {
            stone_mm: Some(5.0),
            ..testing::inward(3, 8, 3)
        };
        let seq = Sequence::new(testing::single(window));
        let set: Vec<_> = seq.iter().filter(|m| m.kind == Kind::Own).collect();
        assert_eq!(set.len(), 1);
        let at = set[0].step;
        let round = |n: u32| seq.step(crate::beadwork::Step(n)).and_then(|m| m.round);
        assert_eq!(round(at.0 - 1), Some(Round(5)));
        assert_eq!(round(at.0 + 1), Some(Round(4)));
    }
}
