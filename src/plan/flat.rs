//! Whether a panel lies flat: F of its corner law for its beads, in words, and
//! the law that lies flattest.

use crate::beadwork::BeadSize;
use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::layout::Layout;
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::{Growth, PanelSpec};
use crate::beadwork::{BeadKind, Round};

/// The longest repeat of a law that is tried. Longer ones come closer still,
/// but nobody remembers a repeat of ten rounds (common practice, no source).
pub const LONGEST_REPEAT: usize = 8;

/// How a panel lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// The edge is too short for the rounds: the panel makes a bowl.
    Cups,
    /// Nearly flat, a shallow bowl.
    CupsALittle,
    /// Flat, or so nearly flat that the thread evens it out.
    Flat,
    /// Nearly flat, the edge a little slack.
    RufflesALittle,
    /// The edge is too long for the rounds: it waves.
    Ruffles,
}

impl Lie {
    /// What a flatness F means in practice: within 7 % of 1 is flat, within 15
    /// % nearly flat (common practice, no source).
    pub fn of(flatness: f64) -> Lie {
        match flatness {
            f if f < 0.85 => Lie::Cups,
            f if f < 0.93 => Lie::CupsALittle,
            f if f <= 1.07 => Lie::Flat,
            f if f <= 1.15 => Lie::RufflesALittle,
            _ => Lie::Ruffles,
        }
    }

    /// Its name in words.
    pub fn words(self) -> &'static str {
        match self {
            Lie::Cups => "cups like a bowl",
            Lie::CupsALittle => "cups a little",
            Lie::Flat => "lies flat",
            Lie::RufflesALittle => "ruffles a little",
            Lie::Ruffles => "ruffles",
        }
    }
}

/// The flatness of one kind of panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Flatness {
    /// Its name.
    pub panel: String,
    /// Its sides.
    pub sides: u8,
    /// Its rounds.
    pub rounds: u32,
    /// F: 1 is flat.
    pub flatness: f64,
    /// The same in words.
    pub lie: Lie,
    /// The law of this many sides that lies flattest with these beads.
    pub flattest: Flattest,
}

impl Flatness {
    /// Whether it does not lie flat, and another law would lie flatter.
    pub fn can_be_flatter(&self) -> bool {
        let off = |flatness: f64| (flatness - 1.0).abs();
        self.lie != Lie::Flat && off(self.flattest.flatness) + 1e-9 < off(self.flatness)
    }
}

/// A corner law and how flat it lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Flattest {
    /// The law.
    pub law: CornerLaw,
    /// Its F.
    pub flatness: f64,
}

/// The flatness of every kind of panel that is made and grows, in the order of the
/// pattern. Strips are left out: they do not grow, and lie flat.
pub fn panels(layout: &Layout) -> Vec<Flatness> {
    let project = layout.project();
    let bead = widest(&project.beads);
    let is_made = |at| layout.begun_panels().any(|(_, panel)| panel.spec == at);
    let specs = (0..).zip(&project.panels).filter(|(at, _)| is_made(*at));
    specs.filter_map(|(_, spec)| of(spec, bead)).collect()
}

/// The bead used for a piece with several bead sizes: the longest and widest,
/// as in the layout.
fn widest(beads: &[BeadKind]) -> BeadSize {
    let mut bead = beads[0].size;
    for kind in beads {
        bead.length_mm = bead.length_mm.max(kind.size.length_mm);
        bead.diameter_mm = bead.diameter_mm.max(kind.size.diameter_mm);
    }
    bead
}

fn of(spec: &PanelSpec, bead: BeadSize) -> Option<Flatness> {
    let flatness = match &spec.growth {
        Growth::Law(law) => law.flatness(spec.sides, bead),
        Growth::Words { .. } | Growth::Own(_) => by_growth(spec, bead),
        Growth::Rows { .. } => return None,
    };
    Some(Flatness {
        panel: spec.name.clone(),
        sides: spec.sides,
        rounds: spec.rounds,
        flatness,
        lie: Lie::of(flatness),
        flattest: flattest(spec.sides, bead),
    })
}

/// F of a panel with its own gap words, from how fast its rounds grow. Each
/// pair of a corner law makes its round one bead longer, so p is the growth per
/// corner and round.
fn by_growth(spec: &PanelSpec, bead: BeadSize) -> f64 {
    let layout = PanelLayout::new(spec);
    let (first, last) = (layout.in_round(Round(1)), layout.in_round(layout.last()));
    let rounds = f64::from(layout.rounds().max(2) - 1) * f64::from(spec.sides);
    let pairs = (f64::from(last) - f64::from(first)) / rounds;
    let tan = (std::f64::consts::PI / f64::from(spec.sides)).tan();
    2.0 * pairs * bead.length_mm / (bead.diameter_mm * tan)
}

/// The repeating corner law of `sides` sides whose F is nearest 1 for a bead,
/// among all that repeat within [`LONGEST_REPEAT`] rounds.
///
/// Of laws equally flat: the shortest repeat; then the usual law of that many
/// sides; then the one whose pairs lie most evenly; then the one that begins
/// with pairs.
pub fn flattest(sides: u8, bead: BeadSize) -> Flattest {
    let usual = CornerLaw::usual(sides);
    let rank = |law: &CornerLaw| {
        let off = (law.flatness(sides, bead) - 1.0).abs();
        // Laws with equally many pairs per round are equally flat; rounding
        // must not separate them.
        let off = (off * 1e9).round() as u64;
        let begins = law.word().iter().map(|&c| 2 - c).collect::<Vec<_>>();
        (off, law.word().len(), *law != usual, uneven(law), begins)
    };
    let law = laws().into_iter().min_by_key(rank).unwrap_or(usual);
    Flattest {
        flatness: law.flatness(sides, bead),
        law,
    }
}

/// All laws up to the longest repeat. Each is made of pairs "2" and of the two
/// rounds "1 0" (on a ring of corner points, "0 1").
fn laws() -> Vec<CornerLaw> {
    let mut words: Vec<Vec<u8>> = vec![vec![]];
    let mut laws = vec![];
    while let Some(word) = words.pop() {
        if word.len() > LONGEST_REPEAT {
            continue;
        }
        for start in [Start::Sides, Start::Points] {
            laws.extend(CornerLaw::new(start, &word));
        }
        for corner in 0..=2 {
            let follows = match word.last() {
                Some(1) => corner == 0,
                Some(_) => corner != 0,
                None => true,
            };
            if follows {
                words.push([&word[..], &[corner]].concat());
            }
        }
    }
    laws
}

/// How unevenly the pairs of a law are spread: the sum of the squares of the
/// rounds from each pair to the next, which is smallest when they are even.
fn uneven(law: &CornerLaw) -> usize {
    let word = law.word();
    let pairs: Vec<usize> = (0..word.len()).filter(|&i| word[i] == 2).collect();
    let next = pairs.iter().skip(1).copied();
    let round_again = pairs.first().map(|first| first + word.len());
    let gaps = pairs.iter().zip(next.chain(round_again));
    gaps.map(|(from, to)| (to - from).pow(2)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::bead::preset;
    use crate::beadwork::gap_word::GapWord;
    use crate::beadwork::{Sequence, testing};

    /// The model's own figures for cylinder 11/0 beads: the triangle's and the
    /// hexagon's usual laws, three pairs in five rounds for a square, three in
    /// seven for a pentagon.
    #[test]
    fn the_flattest_laws_of_cylinder_beads_are_the_usual_ones() {
        let bead = preset("cylinder 11/0").unwrap();
        for (sides, flatness) in [(3, 0.938), (4, 0.975), (5, 0.959), (6, 0.938)] {
            let found = flattest(sides, bead);
            assert_eq!(found.law, CornerLaw::usual(sides), "{sides}");
            assert!((found.flatness - flatness).abs() < 0.001, "{sides}");
        }
    }

    /// Every word over 0, 1 and 2 up to the longest repeat, whether or not it
    /// can be sewn, for beads of any shape: no law that can be sewn is flatter,
    /// and no equally flat one is shorter.
    #[test]
    fn no_law_is_flatter_whatever_the_bead() {
        let mut all = vec![];
        for len in 1..=LONGEST_REPEAT {
            for code in 0..3usize.pow(len as u32) {
                let digit = |i: usize| (code / 3usize.pow(i as u32) % 3) as u8;
                let word: Vec<u8> = (0..len).map(digit).collect();
                for start in [Start::Sides, Start::Points] {
                    all.extend(CornerLaw::new(start, &word));
                }
            }
        }
        assert_eq!(all.len(), laws().len());
        for sides in 3..=12 {
            for (diameter_mm, length_mm) in [(1.6, 1.3), (2.1, 1.5), (1.0, 2.4), (3.0, 1.1)] {
                let bead = BeadSize {
                    diameter_mm,
                    length_mm,
                    hole_mm: 0.5,
                    per_gram: 100.0,
                };
                let found = flattest(sides, bead);
                let off = |f: f64| (f - 1.0).abs();
                for law in &all {
                    let f = law.flatness(sides, bead);
                    assert!(off(found.flatness) < off(f) + 1e-8);
                    if (f - found.flatness).abs() < 1e-9 {
                        assert!(found.law.word().len() <= law.word().len());
                    }
                }
            }
        }
    }

    /// A hexagon given as gap words is as flat as the same hexagon given as a
    /// law.
    #[test]
    fn own_gap_words_lie_as_the_same_law_does() {
        let by_law = testing::panel(6, 13);
        let layout = PanelLayout::new(&by_law);
        let words: Vec<GapWord> = (2..=13).map(|k| layout.word(Round(k)).clone()).collect();
        let mut by_words = by_law.clone();
        by_words.growth = Growth::Words { ring: 6, words };
        let flat = |spec| panels(Sequence::new(testing::single(spec)).layout())[0].flatness;
        assert!((flat(by_law) - flat(by_words)).abs() < 1e-9);
    }

    #[test]
    fn flatness_in_words() {
        let words = [0.81, 0.9, 0.94, 1.0, 1.1, 1.5].map(|f| Lie::of(f).words());
        assert_eq!(
            words,
            [
                "cups like a bowl",
                "cups a little",
                "lies flat",
                "lies flat",
                "ruffles a little",
                "ruffles"
            ]
        );
    }
}
