//! How a panel lies as beads, none in another, and not as a plate that is
//! parted into bricks.
//!
//! ```text
//!   round 3   [  ]    [  ]    [  ]     beads of a round two lengths apart, those
//!   round 2       [  ]    [  ]         of the next over their gaps; rounds
//!   round 1           [  ]             half a column apart
//! ```
//!
//! A column stands F diameters from bead to bead, F being the flatness of the
//! panel's corners: within 7 % of 1 no bead lies deeper in another than that.
//! Where two sides meet, the beads of a pair turn into each other. How far
//! out the rounds lie follows from there: so far that the two lie no more than
//! [`AT_CORNER`] in each other. The sides come out at 1.02 to 1.04 times two
//! lengths for each up bead, as a separate computation of beads drawn together
//! by thread has them.
//!
//! Panels that are not flat, and those not grown by a law, are taken as plates:
//! their rounds share the way from the middle to a side, and the beads of a
//! round share the side.

use super::layout::{Layout, Part, Seat};
use super::number::Round;
use super::panel::PanelLayout;
use super::project::{Growth, Project, SpecIndex};
use std::f64::consts::PI;

/// How far F may be from 1 for a panel to lie flat (common practice, no source).
const FLAT: f64 = 0.07;

/// How deep a bead of a corner pair may lie in the other, in diameters.
const AT_CORNER: f64 = 0.22;

/// A panel as it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lying {
    rounds: u32,
    /// From the middle to the ring, mm.
    first_mm: f64,
    /// From round to round, mm.
    pitch_mm: f64,
    /// Of half the angle that a side takes up.
    tan: f64,
    /// How long the beads are, mm; none where they share the side.
    length_mm: Option<f64>,
    half_column_mm: f64,
}

impl Lying {
    /// How a panel of a kind lies.
    pub fn of(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> Lying {
        Lying::of_beads(project, spec, kind).unwrap_or_else(|| {
            let tan = (PI / f64::from(kind.sides())).tan();
            let pitch_mm = project.edge_mm(kind) / (2.0 * tan) / f64::from(kind.rounds());
            Lying {
                rounds: kind.rounds(),
                first_mm: pitch_mm / 2.0,
                pitch_mm,
                tan,
                length_mm: None,
                half_column_mm: project.bead_diameter_mm() / 2.0,
            }
        })
    }

    /// How a panel lies whose beads have room; none for a panel that is not flat
    /// or not grown by a law.
    fn of_beads(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> Option<Lying> {
        let Growth::Law(law) = &project.panels[spec].growth else {
            return None;
        };
        let half = PI / f64::from(kind.sides());
        let (tan, bead) = (half.tan(), project.bead_mm());
        let pitch_mm = law.pairs_per_round() * bead.x / tan;
        if (2.0 * pitch_mm / bead.y - 1.0).abs() > FLAT {
            return None;
        }
        // So far out a bead must lie that reaches so far along its side, not to
        // lie too deep in the one round the corner.
        let clear = |reach: f64| reach / tan + (0.5 - AT_CORNER / (2.0 * half.sin())) * bead.y;
        let least = |beads: u32, corner: u8| match corner {
            // Corner beads all round, and none between: the ring.
            1 if beads == 0 => clear(bead.x / 2.0) * half.cos(),
            1 => 0.0,
            _ => clear((f64::from(beads) - 0.5) * bead.x),
        };
        // The corners repeat, and so does what they need.
        let mut first_mm: f64 = 0.0;
        let mut side = u32::from(law.corner(1) == 0);
        for k in 1..=2 * law.word().len() as u32 + 2 {
            let corner = law.corner(k);
            let beads = side + if corner == 2 { 2 } else { 0 };
            first_mm = first_mm.max(least(beads, corner) - f64::from(k - 1) * pitch_mm);
            side = match corner {
                0 => side - 1,
                _ => side + 1,
            };
        }
        Some(Lying {
            rounds: kind.rounds(),
            first_mm,
            pitch_mm,
            tan,
            length_mm: Some(bead.x),
            half_column_mm: pitch_mm.max(bead.y / 2.0),
        })
    }

    /// A side where the join rows of a panel by itself would lie, mm: as its beads
    /// lie, or as a plate.
    pub fn join_edge_of(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> f64 {
        match Lying::of_beads(project, spec, kind) {
            Some(lying) => lying.side_mm(Round(lying.rounds + 1)),
            None => project.edge_mm(kind),
        }
    }

    /// Whether each of its beads has its room.
    pub fn has_room(&self) -> bool {
        self.length_mm.is_some()
    }

    /// From the middle to the line of a round of beads, mm.
    fn out_mm(&self, round: Round) -> f64 {
        self.first_mm + f64::from(round.0 - 1) * self.pitch_mm
    }

    /// A side of the panel along the line of a round, mm.
    fn side_mm(&self, round: Round) -> f64 {
        2.0 * self.tan * self.out_mm(round)
    }

    /// From the middle to the line of the outermost beads, mm.
    pub fn rim_mm(&self) -> f64 {
        self.out_mm(Round(self.rounds))
    }

    /// A side through the middles of the outermost beads, mm; of a plate the
    /// side itself.
    pub fn edge_mm(&self) -> f64 {
        match self.length_mm {
            Some(_) => self.side_mm(Round(self.rounds)),
            None => 2.0 * self.tan * self.pitch_mm * f64::from(self.rounds),
        }
    }

    /// From round to round, mm.
    pub fn pitch_mm(&self) -> f64 {
        self.pitch_mm
    }

    /// Half of what up beads that meet at a join stand apart, mm: half a column,
    /// and half a bead at least.
    pub fn half_column_mm(&self) -> f64 {
        self.half_column_mm
    }

    /// How far out from the middle of a panel the bead in a seat lies, and how
    /// far along its side from the middle of that, mm.
    pub fn at(&self, layout: &Layout, seat: Seat) -> (f64, f64) {
        let (mut out, half_side) = (self.out_mm(seat.round), self.side_mm(seat.round) / 2.0);
        let has_corner = seat.part == Part::Face && layout.kind(seat.panel).corner(seat.round) == 1;
        let from_middle =
            f64::from(2 * seat.place + 1 + u32::from(has_corner)) - f64::from(seat.of);
        let along = match (seat.part, self.length_mm) {
            (Part::Tip(_), _) => {
                out = self.rim_mm() + self.half_column_mm;
                out * self.tan
            }
            (Part::Face, _) if is_on_corner(layout, seat) => half_side,
            (Part::Face, Some(length_mm)) => from_middle * length_mm,
            (Part::Face, None) => (from_middle / f64::from(seat.of)) * half_side,
            // The row's beads share its gaps.
            (Part::JoinRow(row), length_mm) => {
                let gaps = f64::from(layout.row(row).gaps);
                let gap = length_mm.unwrap_or(self.rim_mm() * self.tan / (gaps + 1.0));
                from_middle / f64::from(seat.of) * gaps * gap
            }
        };
        (out, along)
    }
}

/// Whether the bead in a seat lies across a corner.
pub(super) fn is_on_corner(layout: &Layout, seat: Seat) -> bool {
    match seat.part {
        Part::Face => layout.kind(seat.panel).corner(seat.round) == 1 && seat.place + 1 == seat.of,
        Part::JoinRow(_) => false,
        Part::Tip(_) => true,
    }
}
