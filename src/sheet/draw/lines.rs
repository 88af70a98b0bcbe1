//! A panel of too many beads, drawn by its rounds: each a line, or every fifth,
//! tenth … of them, so that they stand apart on paper.

use crate::beadwork::Side;
use crate::sheet::drawing::{Drawing, Pen, Set, Shape};

use super::panel::Sheet;

impl Sheet<'_> {
    /// Rounds as lines, for a panel of too many beads.
    pub(super) fn rounds(&self, drawing: &mut Drawing) {
        let layout = self.layout();
        let (kind, making) = (layout.kind(self.panel), layout.making(self.panel));
        let rounds = kind.rounds();
        let row_mm = self.row_mm();
        let apart = |mm: f64| {
            let steps = [
                1, 5, 10, 50, 100, 500, 1000, 5000, 10_000, 50_000, 100_000, 500_000,
            ];
            let fits = |step: &&u32| f64::from(**step) * row_mm >= mm;
            steps.iter().find(fits).copied().unwrap_or(1_000_000)
        };
        let (line, number) = (apart(0.9), apart(3.6).max(5));
        let out = |k: u32| (f64::from(k) - 0.5) / (f64::from(rounds) + 0.5);
        let outline = |k: u32| {
            let out = out(k);
            if kind.strip().is_some() {
                return vec![self.at(Side(0), out, 0.0), self.at(Side(0), out, 1.0)];
            }
            let corners = (0..kind.sides()).map(|s| self.at(Side(s), out, 1.0));
            corners.collect::<Vec<_>>()
        };
        let mut tags = vec![];
        for k in making.innermost().0..=rounds {
            let strong = k % number == 0 || k == rounds;
            if !strong && k % line != 0 {
                continue;
            }
            let pen = if strong { Pen::Fifth } else { Pen::Round };
            drawing.shapes.push(Shape::Area(outline(k), pen));
            if k % number == 0 {
                tags.push((self.at(Side(0), out(k), 0.5), k));
            }
        }
        for (at, k) in tags {
            drawing.words(at, k.to_string(), 2.6, Set::Tag);
        }
    }
}
