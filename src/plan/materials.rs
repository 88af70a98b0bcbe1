//! Beads to buy: how many of each colour, what they weigh, and spare ones for
//! beads that are chipped, bent, too thin or lost.

use crate::beadwork::layout::{Layout, PanelMaking};
use crate::beadwork::{Bead, Colour, Panel, Round, Side};

/// Beads of one colour.
#[derive(Clone, Debug, PartialEq)]
pub struct ColourAmount {
    /// The colour.
    pub colour: Colour,
    /// Its letter.
    pub letter: char,
    /// Its colour in words.
    pub name: String,
    /// The name of its size, if it has one.
    pub size: Option<&'static str>,
    /// How many the piece takes.
    pub count: u32,
    /// What `count` beads weigh, g.
    pub grams: f64,
    /// Spare beads for bad ones.
    pub spare: u32,
    /// What all of them weigh, spare ones included, g.
    pub buy_grams: f64,
}

impl ColourAmount {
    /// What to buy, in grams as they are weighed out: rounded up to a tenth, so that
    /// no spare bead is missing.
    pub fn to_buy(&self) -> String {
        let tenths = (self.buy_grams * 10.0 - 1e-9).ceil().abs();
        format!("{:.1} g", tenths / 10.0)
    }

    /// What so many of its beads weigh, g.
    pub fn grams_of(&self, count: &u32) -> f64 {
        match self.count {
            0 => 0.0,
            all => self.grams * f64::from(*count) / f64::from(all),
        }
    }
}

/// The beads of a piece, colour by colour in the order of the pattern, with
/// `spare_percent` more (rounded up to whole beads).
pub fn beads(layout: &Layout, spare_percent: f64) -> Vec<ColourAmount> {
    bought(layout, &count(layout), spare_percent)
}

/// The same for beads that are already counted, colour by colour.
pub fn bought(layout: &Layout, counted: &[u32], spare_percent: f64) -> Vec<ColourAmount> {
    let kinds = layout.bead_kinds().iter().zip(counted);
    let of_kind = |(nth, (kind, count)): (usize, (&crate::beadwork::BeadKind, &u32))| {
        let spare = (f64::from(*count) * spare_percent / 100.0).ceil() as u32;
        ColourAmount {
            colour: Colour(nth as u8),
            letter: kind.letter,
            name: kind.name.clone(),
            size: kind.size.name(),
            count: *count,
            grams: f64::from(*count) / kind.size.per_gram,
            spare,
            buy_grams: (f64::from(*count) + f64::from(spare)) / kind.size.per_gram,
        }
    };
    kinds.enumerate().map(of_kind).collect()
}

/// Beads of each colour. Identical panels are counted once.
pub fn count(layout: &Layout) -> Vec<u32> {
    let mut all = vec![0; layout.bead_kinds().len()];
    let mut known: Vec<(PanelMaking, Vec<u32>)> = vec![];
    for (panel, _) in layout.begun_panels() {
        let making = layout.making_of(panel);
        let at = known.iter().position(|(known, _)| *known == making);
        let at = at.unwrap_or_else(|| {
            known.push((making, of_panel(layout, panel)));
            known.len() - 1
        });
        for (sum, beads) in all.iter_mut().zip(&known[at].1) {
            *sum += *beads;
        }
    }
    for (index, row) in layout.rows() {
        for nth in 0..row.beads + row.tips {
            let colour = layout.colour_of(layout.row_seat(index, nth));
            all[usize::from(colour.0)] += 1;
        }
    }
    all
}

fn of_panel(layout: &Layout, panel: Panel) -> Vec<u32> {
    let mut all = vec![0; layout.bead_kinds().len()];
    let kind = layout.kind(panel);
    for round in (layout.making(panel).innermost().0..=kind.rounds()).map(Round) {
        for side in (0..kind.sides()).map(Side) {
            for place in 0..kind.on_side(round, side) {
                let colour = layout.colour_of(layout.face_seat(panel, round, side, place));
                all[usize::from(colour.0)] += 1;
            }
        }
    }
    all
}

/// Beads of each colour still to come once `strung` beads are strung.
pub fn to_come(layout: &Layout, strung: u32) -> Vec<u32> {
    let mut all = vec![0; layout.bead_kinds().len()];
    for bead in strung + 1..=layout.beads() {
        all[usize::from(layout.colour(Bead(bead)).0)] += 1;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::bead::{BeadKind, Rgb, preset};
    use crate::beadwork::colour::{ColourWord, Rule};
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::{Sequence, testing};

    fn in_two_colours(mut project: Project) -> Project {
        project.beads.push(BeadKind {
            letter: 'A',
            name: "amber".into(),
            size: preset("cylinder 8/0").expect("a preset"),
            colour: Rgb(200, 140, 40),
        });
        for panel in &mut project.panels {
            let ends = ColourWord {
                head: vec![Colour(1)],
                middle: vec![Colour(0)],
                tail: vec![],
                mirror: false,
            };
            panel.colours.rules.push(Rule { sides: vec![ends] });
            panel.colours.of_round[2..].fill(1);
            panel.colours.row = Rule::plain(Colour(1));
        }
        project
    }

    /// Counting panel by panel gives the same as counting bead by bead.
    #[test]
    fn beads_are_counted_as_they_lie() {
        for project in [
            testing::solid(Solid::Cube, 9, Closing::SetIn),
            testing::folded_pair(7, 2),
            testing::ring(8, 5, Closing::Fill),
            testing::single(testing::inward(6, 13, 4)),
        ] {
            let seq = Sequence::new(in_two_colours(project));
            let layout = seq.layout();
            let mut one_by_one = [0, 0];
            for bead in (1..=layout.beads()).map(Bead) {
                one_by_one[usize::from(layout.colour(bead).0)] += 1;
            }
            let counted: Vec<u32> = beads(layout, 0.0).iter().map(|b| b.count).collect();
            assert_eq!(counted, one_by_one);
            assert!(one_by_one.iter().all(|&beads| beads > 0));
        }
    }

    /// A tetrahedron of 6 rounds: 4·63 + 6·5 = 282 beads (the closed form of
    /// the regular solid); at 200 to the gram 1.41 g, and 15 spare at 5 %.
    #[test]
    fn grams_and_spare_beads_are_as_by_hand() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let none_spare = &beads(seq.layout(), 0.0)[0];
        assert_eq!(none_spare.to_buy(), "1.5 g", "1.4 g are 280 beads");
        assert_eq!(bought(seq.layout(), &[0], 5.0)[0].to_buy(), "0.0 g");
        let beads = &beads(seq.layout(), 5.0)[0];
        assert_eq!((beads.count, beads.spare), (282, 15));
        assert!((beads.grams - 1.41).abs() < 1e-12);
        assert!((beads.buy_grams - 1.485).abs() < 1e-12);
    }
}
