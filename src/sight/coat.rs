//! The colours of a face seen from any distance: bead by bead near by, their
//! average from afar.
//!
//! A place on a face is given by its side, how far `out` it lies from the
//! middle (0) to the join line (1), and how far `along` the side, from its
//! start (0) to its end (1). Round, side and place follow by arithmetic. From
//! afar many beads fall on one spot, and any one of them would flicker as the
//! piece turns; so averages stand ready, in squares of 4, 8, 16 … a side.

use crate::beadwork::layout::{Layout, Seat};
use crate::beadwork::number::{Panel, Round, Side};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::strip::Strip;
use crate::beadwork::{Colour, Rgb};
use glam::DVec2;
use std::sync::OnceLock;

/// Squares a side of the finest averages, and of the coarsest.
const FINEST: usize = 64;
const COARSEST: usize = 4;
/// Places looked at in a square, each way.
const LOOKS: usize = 3;

/// A bead found on a face, and where in it the place lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// Its seat.
    pub seat: Seat,
    /// How far along it the place lies, 0 to 1.
    pub along: f64,
    /// How far out in it, 0 to 1.
    pub out: f64,
}

/// The bead at a place of a panel; `None` where no bead is, in an opening.
pub fn bead_at(layout: &Layout, panel: Panel, side: usize, out: f64, along: f64) -> Option<Found> {
    let kind = layout.kind(panel);
    if let Some(strip) = kind.strip() {
        return on_strip(layout, panel, strip, (side, out, along));
    }
    let (rounds, sides) = (kind.rounds(), usize::from(kind.sides()));
    let reach = out.clamp(0.0, 1.0) * (f64::from(rounds) + 0.5);
    let side = Side((side % sides) as u8);
    let along = along.clamp(0.0, 1.0);
    let at_edge = reach >= f64::from(rounds);
    let row = at_edge.then(|| layout.row_on(panel, side)).flatten();
    if let Some(index) = row {
        let beads = layout.row(index).beads;
        // Its beads lie over the gaps between the edge's.
        let at = along * f64::from(beads + 1) - 0.5;
        if beads > 0 && at >= 0.0 && at < f64::from(beads) {
            let seat = layout.row_seat(index, at as u32);
            let out = (reach - f64::from(rounds)) * 2.0;
            let along = at.fract();
            return Some(Found { seat, along, out });
        }
    }
    let round = Round((reach as u32 + 1).min(rounds));
    if round.0 <= layout.open_rounds(panel) {
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
    let seat = layout.face_seat(panel, round, side, place);
    Some(Found {
        seat,
        along: (at - f64::from(place)).clamp(0.0, 1.0),
        out: (reach - f64::from(round.0 - 1)).clamp(0.0, 1.0),
    })
}

/// The bead of a strip at a place of the rectangle that it fills.
fn on_strip(
    layout: &Layout,
    panel: Panel,
    strip: &Strip,
    (side, out, along): (usize, f64, f64),
) -> Option<Found> {
    let frame = &layout.panel(panel).frame;
    let part = frame.part_of_rectangle(frame.point(side, out, along));
    let spot = strip.at(part)?;
    let bead = DVec2::new(
        f64::from(strip.columns()),
        f64::from(strip.rows() + 1) / 2.0,
    );
    let within = ((part - strip.middle(spot)) * bead + 0.5).clamp(DVec2::ZERO, DVec2::ONE);
    Some(Found {
        seat: layout.face_seat(panel, spot.round, Side(0), spot.index),
        along: within.x,
        out: within.y,
    })
}

/// The averages of all kinds of panel, each worked out when it is first seen.
#[derive(Debug)]
pub struct Coats {
    kinds: Vec<OnceLock<Coat>>,
}

/// The averages of one kind, from the finest to the coarsest.
#[derive(Debug)]
struct Coat {
    /// Of each side.
    sides: Vec<Vec<Squares>>,
}

#[derive(Debug)]
struct Squares {
    each_way: usize,
    /// Mean of the squares of red, green and blue: light adds up, and light
    /// goes by about the square of these numbers.
    of: Vec<[f32; 3]>,
}

impl Coats {
    /// For so many kinds of panel.
    pub fn new(kinds: usize) -> Coats {
        Coats {
            kinds: (0..kinds).map(|_| OnceLock::new()).collect(),
        }
    }

    /// Works a kind's averages out anew when it is next seen: its colours have
    /// changed.
    pub fn forget(&mut self, spec: SpecIndex) {
        self.kinds[spec].take();
    }

    /// The average colour round a place, of squares no smaller than a spot if
    /// the face is `spots` spots high.
    pub fn average(
        &self,
        layout: &Layout,
        panel: Panel,
        side: usize,
        (out, along): (f64, f64),
        spots: f64,
    ) -> Rgb {
        let spec: SpecIndex = layout.panel(panel).spec;
        let coat = self.kinds[spec].get_or_init(|| Coat::of(layout, panel));
        let levels = &coat.sides[side % coat.sides.len()];
        let fits = |s: &&Squares| s.each_way as f64 <= spots;
        let squares = levels.iter().find(fits).or(levels.last());
        let Some(squares) = squares else {
            return Rgb(0, 0, 0);
        };
        let n = squares.each_way;
        let cell = |part: f64| ((part * n as f64) as usize).min(n - 1);
        let [r, g, b] = squares.of[cell(out) * n + cell(along)].map(|c| c.sqrt().round() as u8);
        Rgb(r, g, b)
    }
}

impl Coat {
    fn of(layout: &Layout, panel: Panel) -> Coat {
        let sides = layout.panel(panel).frame.corners().len();
        let beads = &layout.project().beads;
        let light = |colour: Colour| {
            let Rgb(r, g, b) = beads[usize::from(colour.0)].colour;
            [r, g, b].map(|c| f32::from(c) * f32::from(c))
        };
        let square = |side: usize, row: usize, column: usize| {
            let (mut sum, mut seen) = ([0f32; 3], 0);
            for look in 0..LOOKS * LOOKS {
                let part = |at: usize, nth: usize| {
                    (at as f64 + (nth as f64 + 0.5) / LOOKS as f64) / FINEST as f64
                };
                let (out, along) = (part(row, look / LOOKS), part(column, look % LOOKS));
                if let Some(found) = bead_at(layout, panel, side, out, along) {
                    let own = light(layout.colour_of(found.seat));
                    (0..3).for_each(|c| sum[c] += own[c]);
                    seen += 1;
                }
            }
            sum.map(|c| c / seen.max(1) as f32)
        };
        let side = |side: usize| {
            let finest = (0..FINEST * FINEST).map(|at| square(side, at / FINEST, at % FINEST));
            let mut levels = vec![Squares {
                each_way: FINEST,
                of: finest.collect(),
            }];
            while let Some(last) = levels.last().filter(|l| l.each_way > COARSEST) {
                let next = last.halved();
                levels.push(next);
            }
            levels
        };
        Coat {
            sides: (0..sides).map(side).collect(),
        }
    }
}

impl Squares {
    /// Four squares in one.
    fn halved(&self) -> Squares {
        let n = self.each_way / 2;
        let one = |at: usize| {
            let (row, column) = (2 * (at / n), 2 * (at % n));
            let four = [(0, 0), (0, 1), (1, 0), (1, 1)];
            let mut sum = [0f32; 3];
            for (r, c) in four {
                let own = self.of[(row + r) * self.each_way + column + c];
                (0..3).for_each(|i| sum[i] += own[i] / 4.0);
            }
            sum
        };
        Squares {
            each_way: n,
            of: (0..n * n).map(one).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::layout::Part;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Bead, Sequence};
    use crate::sight::testing::project;

    /// The place where a bead's middle lies shows that bead, of every face
    /// and every join row.
    #[test]
    fn every_bead_is_found_where_its_middle_lies() {
        for project in [
            project::single(project::panel(6, 12)),
            project::single(project::panel(5, 9)),
            project::single(project::inward(3, 8, 3)),
            project::solid(Solid::Cube, 9, Closing::SetIn),
            project::folded_pair(6, 2),
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
                let found = bead_at(layout, seat.panel, seat.side.index(), out, along);
                let found = found.expect("a bead").seat;
                assert_eq!(found, seat, "{bead:?}");
            }
        }
    }

    #[test]
    fn an_opening_shows_no_bead() {
        let seq = Sequence::new(project::single(project::inward(3, 8, 3)));
        assert_eq!(bead_at(seq.layout(), Panel(0), 0, 0.1, 0.5), None);
        assert!(bead_at(seq.layout(), Panel(0), 0, 0.9, 0.5).is_some());
    }

    /// From so far that all of a side is a few squares, the average is that
    /// of its beads: here of a face in one colour, that colour.
    #[test]
    fn from_afar_a_face_of_one_colour_has_that_colour() {
        let seq = Sequence::new(project::single(project::panel(3, 40)));
        let layout = seq.layout();
        let coats = Coats::new(1);
        for spots in [1.0, 9.0, 500.0] {
            let rgb = coats.average(layout, Panel(0), 1, (0.6, 0.4), spots);
            assert_eq!(rgb, layout.project().beads[0].colour);
        }
    }
}
