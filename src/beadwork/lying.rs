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
//! Panels that are not flat, and those that no law grows the same, are taken as
//! plates: their rounds share the way from the middle to a side, and the beads of
//! a round share the side.

use super::corner_law::Start;
use super::{CornerLaw, Frame, Growth, Layout, PanelLayout, Part, Project, Round, Seat, SpecIndex};
use std::f64::consts::PI;
use std::sync::Arc;

/// How far F may be from 1 for a panel to lie flat (common practice, no source).
const FLAT: f64 = 0.07;

/// How deep a bead of a corner pair may lie in the other, in diameters.
const AT_CORNER: f64 = 0.22;

/// A panel as it lies.
#[derive(Clone, Debug, PartialEq)]
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
    /// For a panel of other growth, the one by a law that has its beads.
    by_law: Option<Arc<ByLaw>>,
}

impl Project {
    /// Length of a side of a kind of panel as it lies by itself, mm: through the
    /// middles of its outermost beads.
    pub fn lying_edge_mm(&self, spec: SpecIndex, kind: &PanelLayout) -> f64 {
        Lying::of(self, spec, kind).edge_mm()
    }
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
                by_law: None,
            }
        })
    }

    /// How a panel lies whose beads have room; none for a panel that is not flat
    /// or that no law grows the same.
    fn of_beads(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> Option<Lying> {
        let (law, by_law) = match &project.panels[spec].growth {
            Growth::Law(law) => (law.clone(), None),
            _ => {
                let (law, by_law) = ByLaw::of(kind)?;
                (law, Some(Arc::new(by_law)))
            }
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
            by_law,
        })
    }

    /// A side where the join rows of a panel by itself would lie, mm: as its beads
    /// lie, or as a plate.
    fn join_edge_of(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> f64 {
        match Lying::of_beads(project, spec, kind) {
            Some(lying) => lying.side_mm(Round(lying.rounds + 1)),
            None => project.edge_mm(kind),
        }
    }

    /// Where a panel of a kind lies that is joined to nothing.
    pub fn frame_alone(project: &Project, spec: SpecIndex, kind: &PanelLayout) -> Frame {
        match kind.strip() {
            Some(strip) => Frame::rectangle(strip.size(project.bead_mm())),
            None => {
                let edge_mm = Lying::join_edge_of(project, spec, kind);
                Frame::flat(kind.sides(), edge_mm)
            }
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

    /// The seat by which the bead in a seat lies: on the side that a law gives it,
    /// where only that says where the corners of its round are.
    pub fn by_law(&self, seat: Seat) -> Seat {
        match (&self.by_law, seat.part) {
            (Some(by_law), Part::Face) => by_law.seat(seat),
            _ => seat,
        }
    }

    /// Beads at each corner of a round.
    fn corner(&self, layout: &Layout, seat: Seat) -> u8 {
        match &self.by_law {
            Some(by_law) => by_law.kind.corner(seat.round),
            None => layout.kind(seat.panel).corner(seat.round),
        }
    }

    /// Whether the bead in a seat lies across a corner.
    pub fn is_on_corner(&self, layout: &Layout, seat: Seat) -> bool {
        match seat.part {
            Part::Face => self.corner(layout, seat) == 1 && seat.place + 1 == seat.of,
            Part::JoinRow(_) => false,
            Part::Tip(_) => true,
        }
    }

    /// How far out from the middle of a panel the bead in a seat lies, and how
    /// far along its side from the middle of that, mm.
    pub fn at(&self, layout: &Layout, seat: Seat) -> (f64, f64) {
        let (mut out, half_side) = (self.out_mm(seat.round), self.side_mm(seat.round) / 2.0);
        let has_corner = seat.part == Part::Face && self.corner(layout, seat) == 1;
        let from_middle =
            f64::from(2 * seat.place + 1 + u32::from(has_corner)) - f64::from(seat.of);
        let along = match (seat.part, self.length_mm) {
            (Part::Tip(_), _) => {
                out = self.rim_mm() + self.half_column_mm;
                out * self.tan
            }
            (Part::Face, _) if self.is_on_corner(layout, seat) => half_side,
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

/// A panel by a corner law that has the beads of another, on the same sides.
#[derive(Clone, Debug, PartialEq)]
struct ByLaw {
    kind: PanelLayout,
    /// What to add to the index of a bead of the other, round by round.
    turns: Vec<u32>,
}

impl ByLaw {
    /// The panel by a law that has the beads of this one, and the law, if there is one.
    fn of(kind: &PanelLayout) -> Option<(CornerLaw, ByLaw)> {
        if kind.strip().is_some() {
            return None;
        }
        let starts = [Start::Sides, Start::Points].into_iter();
        let mut laws = starts.filter_map(|start| law_of(kind, start));
        laws.find_map(|law| {
            let growth = Growth::Law(law.clone());
            let by_law = PanelLayout::grown(kind.sides(), kind.rounds(), &growth);
            let turns = (0..kind.sides().into()).find_map(|first| turns(kind, &by_law, first))?;
            let kind = by_law;
            Some((law, ByLaw { kind, turns }))
        })
    }

    /// The seat of the same bead.
    fn seat(&self, seat: Seat) -> Seat {
        let turn = self.turns[seat.round.0 as usize - 1];
        let index = (seat.index + turn) % self.kind.in_round(seat.round);
        let at = self.kind.place(seat.round, index);
        Seat {
            side: at.side,
            place: at.place,
            of: at.of,
            ..seat
        }
    }
}

/// The law by which a panel has as many beads in each round as it has: the usual
/// one, or else the shortest.
fn law_of(kind: &PanelLayout, start: Start) -> Option<CornerLaw> {
    let sides = u32::from(kind.sides());
    if kind.in_round(Round(1)) != sides {
        return None;
    }
    let mut corners = vec![start.corner()];
    for k in 2..=kind.rounds() {
        let more = kind
            .in_round(Round(k))
            .checked_sub(kind.in_round(Round(k - 1)))?;
        corners.push(match (corners[k as usize - 2], more) {
            (1, 0) => 0,
            (_, 0) => 1,
            (0 | 2, more) if more == sides => 2,
            _ => return None,
        });
    }
    let short =
        (1..=corners.len()).filter_map(|len| CornerLaw::new(start, corners.get(1..=len)?).ok());
    let mut laws = std::iter::once(CornerLaw::usual(kind.sides())).chain(short);
    laws.find(|law| {
        (1..)
            .zip(&corners)
            .all(|(k, corner)| law.corner(k) == *corner)
    })
}

/// What to add to the index of a bead of a panel for the same bead of another,
/// round by round, `first` in the ring; none if their words differ, or the sides
/// of the last round.
fn turns(panel: &PanelLayout, other: &PanelLayout, first: u32) -> Option<Vec<u32>> {
    let mut turns = vec![first];
    let mut turn = first;
    for round in (2..=panel.rounds()).map(Round) {
        let (word, of_other) = (panel.word(round), other.word(round));
        let gaps = of_other.iter().skip(turn as usize).chain(of_other.iter());
        if word.gaps() != of_other.gaps() || !word.iter().eq(gaps.take(word.gaps() as usize)) {
            return None;
        }
        turn = of_other.beads_before(turn) % other.in_round(round);
        turns.push(turn);
    }
    let (last, beads) = (panel.last(), panel.in_round(panel.last()));
    let is_alike = |index| panel.place(last, index) == other.place(last, (index + turn) % beads);
    let corners = [panel, other].map(|panel| panel.corner(last));
    (corners[0] == corners[1] && (0..beads).all(is_alike)).then_some(turns)
}
