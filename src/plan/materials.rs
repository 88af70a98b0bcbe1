//! Beads to buy: how many of each colour, what they weigh, and some over for
//! odd beads: chipped, bent, too thin, lost.

use crate::beadwork::layout::Layout;
use crate::beadwork::making::Begin;
use crate::beadwork::{Colour, Panel, Round, Side};
use std::collections::HashMap;

/// Beads of one colour.
#[derive(Clone, Debug, PartialEq)]
pub struct Beads {
    /// Which.
    pub colour: Colour,
    /// Its letter.
    pub letter: char,
    /// Its colour in words.
    pub name: String,
    /// How many the piece takes.
    pub count: u32,
    /// What these weigh, g.
    pub grams: f64,
    /// How many over for odd beads.
    pub spare: u32,
    /// What all of them weigh, those over included, g.
    pub buy_grams: f64,
}

/// The beads of a piece, colour by colour in the order of the pattern, with
/// `spare_percent` over (rounded up to whole beads).
pub fn beads(layout: &Layout, spare_percent: f64) -> Vec<Beads> {
    bought(layout, &count(layout), spare_percent)
}

/// The same for beads that are counted already, colour by colour.
pub fn bought(layout: &Layout, counted: &[u32], spare_percent: f64) -> Vec<Beads> {
    let kinds = layout.project().beads.iter().zip(counted);
    let of_kind = |(nth, (kind, count)): (usize, (&crate::beadwork::BeadKind, &u32))| {
        let spare = (f64::from(*count) * spare_percent / 100.0).ceil() as u32;
        Beads {
            colour: Colour(nth as u8),
            letter: kind.letter,
            name: kind.name.clone(),
            count: *count,
            grams: f64::from(*count) / kind.size.per_gram,
            spare,
            buy_grams: (f64::from(*count) + f64::from(spare)) / kind.size.per_gram,
        }
    };
    kinds.enumerate().map(of_kind).collect()
}

/// Beads of each colour. Like panels are counted once.
pub fn count(layout: &Layout) -> Vec<u32> {
    let colours = layout.project().beads.len();
    let mut all = vec![0; colours];
    let mut known: HashMap<(usize, Begin, u32), Vec<u32>> = HashMap::new();
    for (panel, made) in layout.begun_panels() {
        let making = layout.making(panel);
        let key = (made.spec, making.begin, making.open);
        let of_panel = known
            .entry(key)
            .or_insert_with(|| of_panel(layout, panel, colours));
        for (sum, beads) in all.iter_mut().zip(of_panel) {
            *sum += *beads;
        }
    }
    for row in layout.rows() {
        let colours = &layout.project().panels[layout.panel(row.panel).spec].colours;
        for place in 0..row.beads {
            let colour = colours.row.word(row.side).at(place, row.beads);
            all[usize::from(colour.0)] += 1;
        }
        all[usize::from(colours.tip.0)] += row.tips;
    }
    all
}

fn of_panel(layout: &Layout, panel: Panel, colours: usize) -> Vec<u32> {
    let mut all = vec![0; colours];
    let kind = layout.kind(panel);
    let rules = &layout.project().panels[layout.panel(panel).spec].colours;
    for round in (layout.making(panel).innermost().0..=kind.rounds()).map(Round) {
        for side in (0..kind.sides()).map(Side) {
            let beads = kind.on_side(round, side);
            for place in 0..beads {
                all[usize::from(rules.at(round, side, place, beads).0)] += 1;
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::bead::{BeadKind, Rgb, preset};
    use crate::beadwork::colour::{ColourWord, Rule};
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::{Bead, Sequence, testing};

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

    /// Panel by panel is the same as bead by bead.
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
    /// the regular solid); at 200 to the gram 1.41 g, and 15 over at 5 %.
    #[test]
    fn grams_and_spare_beads_are_as_by_hand() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let beads = &beads(seq.layout(), 5.0)[0];
        assert_eq!((beads.count, beads.spare), (282, 15));
        assert!((beads.grams - 1.41).abs() < 1e-12);
        assert!((beads.buy_grams - 1.485).abs() < 1e-12);
    }
}
