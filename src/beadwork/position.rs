//! Where a bead lies on a face as it is drawn, and which bead lies at a place of
//! it. Where beads lie in the finished piece is worked out in `places.rs`.
//!
//! A panel of K rounds is drawn to scale inside its polygon: round k lies at
//! (k − ½)/(K + ½) of the way from the middle to a side, so that a join row,
//! round K + 1 less a half, lies on the join line itself. Along a side the
//! beads are spread evenly between its corners. A strip is a rectangle, with a
//! bead in each place of its columns.

use super::strip::Strip;
use super::{Layout, Panel, Part, Round, Seat, Side};
use glam::DVec2;

/// A bead found on a face, and where in it the place lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaceInBead {
    /// Its seat.
    pub seat: Seat,
    /// How far along it the place lies, 0 to 1.
    pub along: f64,
    /// How far out in it, 0 to 1.
    pub out: f64,
}

impl Layout {
    /// Length of a finished side of a kind of panel, mm.
    pub fn edge_mm(&self, spec: usize) -> f64 {
        self.project().edge_mm(self.kind_of(spec))
    }

    /// See [`Project::lying_edge_mm`](super::Project::lying_edge_mm).
    pub fn lying_edge_mm(&self, spec: usize) -> f64 {
        self.project().lying_edge_mm(spec, self.kind_of(spec))
    }

    /// The length of the piece's beads, mm: the longest kind.
    pub fn bead_length_mm(&self) -> f64 {
        self.project().bead_length_mm()
    }

    /// The diameter of the piece's beads, mm: the widest kind.
    pub fn bead_diameter_mm(&self) -> f64 {
        self.project().bead_diameter_mm()
    }

    /// A seat on the flat panel: how far from the middle (0) to the join line
    /// (1), and how far along the side from its start (0) to its end (1). On a
    /// strip how far up and how far along it.
    pub fn flat(&self, seat: Seat) -> (f64, f64) {
        let kind = self.kind(seat.panel);
        if let Some(strip) = kind.strip() {
            let middle = strip.middle(seat.spot());
            return (middle.y, middle.x);
        }
        let rounds = f64::from(kind.rounds());
        let out = (f64::from(seat.round.0) - 0.5) / (rounds + 0.5);
        let (place, of) = (f64::from(seat.place), f64::from(seat.of));
        let along = match seat.part {
            Part::Face if kind.corner(seat.round) == 1 => (place + 1.0) / of,
            Part::Face => (place + 0.5) / of,
            // The row's beads lie over the gaps between the edge's beads.
            Part::JoinRow(_) => (place + 1.0) / (of + 1.0),
            Part::Tip(_) => 1.0,
        };
        (out, along)
    }

    /// The bead at a place of a panel, which is given as [`Layout::flat`] gives
    /// it; `None` where no bead is, in an opening.
    pub fn bead_at(&self, panel: Panel, side: usize, out: f64, along: f64) -> Option<PlaceInBead> {
        let kind = self.kind(panel);
        if let Some(strip) = kind.strip() {
            return self.on_strip(panel, strip, (side, out, along));
        }
        let (rounds, sides) = (kind.rounds(), usize::from(kind.sides()));
        let reach = out.clamp(0.0, 1.0) * (f64::from(rounds) + 0.5);
        let side = Side((side % sides) as u8);
        let along = along.clamp(0.0, 1.0);
        let at_edge = reach >= f64::from(rounds);
        let row = at_edge.then(|| self.row_on(panel, side)).flatten();
        if let Some(index) = row {
            let beads = self.row(index).beads;
            // Its beads lie over the gaps between the edge's.
            let at = along * f64::from(beads + 1) - 0.5;
            if beads > 0 && at >= 0.0 && at < f64::from(beads) {
                let seat = self.row_seat(index, at as u32);
                let out = (reach - f64::from(rounds)) * 2.0;
                let along = at.fract();
                return Some(PlaceInBead { seat, along, out });
            }
        }
        let round = Round((reach as u32 + 1).min(rounds));
        if round.0 <= self.open_rounds(panel) {
            return None;
        }
        let mut side = side;
        let mut of = kind.on_side(round, side);
        if of == 0 {
            return None;
        }
        let shift = if kind.corner(round) == 1 { 0.5 } else { 0.0 };
        let mut at = along * f64::from(of) - shift;
        if at < 0.0 {
            // The corner bead of the side before.
            side = kind.side_before(side);
            of = kind.on_side(round, side);
            at += f64::from(of);
        }
        let place = (at as u32).min(of - 1);
        let seat = self.face_seat(panel, round, side, place);
        Some(PlaceInBead {
            seat,
            along: (at - f64::from(place)).clamp(0.0, 1.0),
            out: (reach - f64::from(round.0 - 1)).clamp(0.0, 1.0),
        })
    }

    /// The bead of a strip at a place of the rectangle that it fills.
    fn on_strip(
        &self,
        panel: Panel,
        strip: Strip,
        (side, out, along): (usize, f64, f64),
    ) -> Option<PlaceInBead> {
        let frame = &self.panel(panel).frame;
        let part = frame.part_of_rectangle(frame.point(side, out, along));
        let spot = strip.at(part)?;
        let within =
            ((part - strip.middle(spot)) / strip.cell() + 0.5).clamp(DVec2::ZERO, DVec2::ONE);
        Some(PlaceInBead {
            seat: self.face_seat(panel, spot.round, Side(0), spot.index),
            along: within.x,
            out: within.y,
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::beadwork::layout::Part;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Bead, Panel, Sequence, testing};

    /// The place where a bead's middle lies shows that bead, of every face
    /// and every join row.
    #[test]
    fn every_bead_is_found_where_its_middle_lies() {
        for project in [
            testing::single(testing::panel(6, 12)),
            testing::single(testing::panel(5, 9)),
            testing::single(testing::inward(3, 8, 3)),
            testing::solid(Solid::Cube, 9, Closing::SetIn),
            testing::folded_pair(6, 2),
        ] {
            let seq = Sequence::new(project);
            let layout = seq.layout();
            for bead in (1..=layout.beads()).map(Bead) {
                let seat = layout.seat(bead);
                if matches!(seat.part, Part::Tip(_)) {
                    continue;
                }
                let (out, along) = layout.flat(seat);
                // A row's own middle is the join line itself; a corner bead
                // lies on the line between two sides, at the end of its own.
                let (out, along) = (out - 1e-6, (along - 1e-9).max(0.0));
                let found = layout.bead_at(seat.panel, seat.side.index(), out, along);
                let found = found.expect("a bead").seat;
                assert_eq!(found, seat, "{bead:?}");
            }
        }
    }

    #[test]
    fn an_opening_shows_no_bead() {
        let seq = Sequence::new(testing::single(testing::inward(3, 8, 3)));
        assert_eq!(seq.layout().bead_at(Panel(0), 0, 0.1, 0.5), None);
        assert!(seq.layout().bead_at(Panel(0), 0, 0.9, 0.5).is_some());
    }
}
