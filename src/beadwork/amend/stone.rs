//! A stone in an opening: how far the fill goes so that it is held.
//!
//! The circle in an opening of q beads a side has a diameter of about
//! 2·q·length/√3 less one bead diameter, if it has three sides; of n sides,
//! 2·q·length/tan(π/n). A stone is held when it is half a millimetre to a
//! millimetre wider than that. It is set before the first round whose own
//! opening is smaller than the stone.

use super::{OpeningEnd, OwnKind, OwnStep};
use crate::beadwork::goal::Stone;
use crate::beadwork::number::Round;
use crate::beadwork::project::SpecIndex;
use crate::beadwork::rules::Refusal;
use crate::beadwork::work::Work;

/// How much wider than its opening a stone is at least that is held, mm.
const HELD_BY_MM: f64 = 0.5;

impl Stone {
    /// The step that sets it.
    pub fn own_step(&self) -> OwnStep {
        OwnStep {
            what: OwnKind::Stone,
            text: format!("{} mm, from within, its face outward", self.mm),
        }
    }
}

impl Work {
    /// The fill that holds a stone, with the stone; another way to close an
    /// opening has none.
    pub(super) fn with_stone(
        &self,
        how: OpeningEnd,
    ) -> Result<(OpeningEnd, Option<Stone>), Refusal> {
        let OpeningEnd::Stone { kind, tenths } = how else {
            return Ok((how, None));
        };
        let mm = f64::from(tenths) / 10.0;
        let (open, before) = self.round_that_holds(kind, mm)?;
        let stone = Stone { mm, before };
        Ok((OpeningEnd::Fill { kind, open }, Some(stone)))
    }

    /// Rounds that stay open, and the round before which the stone is set.
    fn round_that_holds(&self, kind: SpecIndex, mm: f64) -> Result<(u32, Round), Refusal> {
        let kinds = self.layout.shared_kinds();
        let layout = kinds.get(kind).ok_or(Refusal::NoSuchKind)?;
        let (sides, rounds) = (u32::from(layout.sides()), layout.rounds());
        let bead = self.layout.project().bead_mm();
        // The circle in the opening that round k leaves.
        let circle = |k: u32| {
            let beads = f64::from(layout.in_round(Round(k))) / f64::from(sides);
            let turn = std::f64::consts::PI / f64::from(sides);
            2.0 * beads * bead.x / turn.tan() - bead.y
        };
        // The innermost round sewn: two rounds at least are sewn, and one stays
        // open.
        let holds = |k: &u32| mm - circle(*k) >= HELD_BY_MM;
        let innermost = (2..rounds).rev().find(holds);
        let innermost = innermost.filter(|_| circle(rounds) >= mm);
        let innermost = innermost.ok_or(Refusal::NoSuchStone)?;
        let wide = |k: &u32| circle(*k) >= mm;
        let before = (innermost..=rounds).find(wide).map_or(rounds, |k| k - 1);
        Ok((innermost - 1, Round(before)))
    }
}
