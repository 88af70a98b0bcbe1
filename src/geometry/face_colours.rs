//! The colours of a face seen from any distance: bead by bead from near, their
//! average from far away.
//!
//! A place on a face is given as [`Layout::bead_at`] takes it. From far away
//! many beads fall on one spot of the picture, and showing a single one would
//! flicker as the piece turns. So each side has averages in 4 × 4, 8 × 8, 16 ×
//! 16 … squares.

use crate::beadwork::layout::Layout;
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::{Colour, Rgb};
use std::sync::OnceLock;

/// Squares per side of the finest averages, and of the coarsest.
const FINEST: usize = 64;
const COARSEST: usize = 4;
/// Samples in a square, in each direction.
const SAMPLES: usize = 3;

/// The averages of all panels, shared by identical panels, each worked out when
/// first needed.
#[derive(Debug)]
pub struct FaceColours {
    /// For each panel, the panel whose averages it uses.
    same_as: Vec<usize>,
    panels: Vec<OnceLock<PanelAverages>>,
}

/// The averages of one panel, from the finest to the coarsest.
#[derive(Debug)]
struct PanelAverages {
    /// The averages of each side.
    sides: Vec<Vec<Squares>>,
}

#[derive(Debug)]
struct Squares {
    each_way: usize,
    /// Mean of the squares of red, green and blue: amounts of light add up, and
    /// light goes roughly by the square of these numbers.
    of: Vec<[f32; 3]>,
}

impl FaceColours {
    /// The averages of a piece in its current colours.
    pub fn new(layout: &Layout) -> FaceColours {
        let key = |panel: Panel| {
            let sides = (0..layout.kind(panel).sides()).map(Side);
            let row = |side| {
                let row = layout.row_on(panel, side)?;
                let uneven: Vec<_> = layout.row(row).uneven_gaps().collect();
                Some((layout.row_rules(row), uneven))
            };
            let rows: Vec<_> = sides.map(row).collect();
            let is_begun = layout.is_begun(panel);
            (is_begun.then(|| layout.making_of(panel)), rows)
        };
        let mut keys = vec![];
        let same_as = (0..layout.panels().len()).map(|at| {
            let key = key(Panel(at as u16));
            let found = keys.iter().find(|(_, other)| *other == key);
            let first = found.map_or(at, |(first, _)| *first);
            if first == at {
                keys.push((at, key));
            }
            first
        });
        FaceColours {
            same_as: same_as.collect(),
            panels: layout.panels().iter().map(|_| OnceLock::new()).collect(),
        }
    }

    /// The average colour round a place. A square is no smaller than a spot of
    /// the picture on a face that is `spots` spots high.
    pub fn average(
        &self,
        layout: &Layout,
        panel: Panel,
        side: usize,
        (out, along): (f64, f64),
        spots: f64,
    ) -> Rgb {
        let averages = &self.panels[self.same_as[panel.index()]];
        let averages = averages.get_or_init(|| PanelAverages::of(layout, panel));
        let levels = &averages.sides[side % averages.sides.len()];
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

impl PanelAverages {
    fn of(layout: &Layout, panel: Panel) -> PanelAverages {
        let sides = layout.panel(panel).frame.corners().len();
        let beads = layout.bead_kinds();
        let light = |colour: Colour| {
            let Rgb(r, g, b) = beads[usize::from(colour.0)].colour;
            [r, g, b].map(|c| f32::from(c) * f32::from(c))
        };
        let square = |side: usize, row: usize, column: usize| {
            let (mut sum, mut seen) = ([0f32; 3], 0);
            for sample in 0..SAMPLES * SAMPLES {
                let part = |at: usize, nth: usize| {
                    (at as f64 + (nth as f64 + 0.5) / SAMPLES as f64) / FINEST as f64
                };
                let (out, along) = (part(row, sample / SAMPLES), part(column, sample % SAMPLES));
                if let Some(found) = layout.bead_at(panel, side, out, along) {
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
        PanelAverages {
            sides: (0..sides).map(side).collect(),
        }
    }
}

impl Squares {
    /// Half as many squares per side: each is the average of four.
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
    use crate::beadwork::Sequence;
    use crate::geometry::testing::project;

    /// From far away, a face in one colour still has that colour.
    #[test]
    fn from_far_away_a_face_in_one_colour_has_that_colour() {
        let seq = Sequence::new(project::single(project::panel(3, 40)));
        let layout = seq.layout();
        let face_colours = FaceColours::new(layout);
        for spots in [1.0, 9.0, 500.0] {
            let rgb = face_colours.average(layout, Panel(0), 1, (0.6, 0.4), spots);
            assert_eq!(rgb, layout.bead_kinds()[0].colour);
        }
    }

    /// A panel whose row was stitched with a gap has averages of its own.
    #[test]
    fn a_row_as_stitched_has_its_own_averages() {
        use crate::beadwork::Step;
        use crate::beadwork::project::{Closing, Solid};
        let solid = project::solid(Solid::Icosahedron, 4, Closing::SetIn);
        let plain = Sequence::new(solid);
        let mut steps = (1..=plain.steps()).map(Step);
        let at = steps
            .find(|step| plain.row_gap_of(*step).is_some())
            .unwrap();
        let panel = plain.row_gap_of(at).unwrap().panel;
        let found = plain.as_stitched(at, at, 2, None).unwrap();
        let sharing = |seq: &Sequence| {
            let same_as = FaceColours::new(seq.layout()).same_as;
            let same = same_as
                .iter()
                .filter(|first| **first == same_as[panel.index()]);
            same.count()
        };
        assert!(sharing(&plain) > 1);
        assert_eq!(sharing(&found.sequence), 1);
    }
}
