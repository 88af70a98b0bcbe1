//! Paint: a bead of a panel takes another colour, and with it those that lie
//! as it does.
//!
//! ```text
//!   (x)     one bead              x at the needle's bead,
//!   x . x   its mirror image      o what goes with it
//!   o     o on every side
//! ```
//!
//! All beads that go together are of one round, since turning a panel by a
//! side and holding it to a mirror leave each round where it is. What the
//! beads of a round are made of changes no movement: the steps stay.

use super::colour::Rule;
use super::{Colour, ColourWord, Colours, PanelLayout, Round, Side};
use serde::{Deserialize, Serialize};
use std::fmt;

/// Which beads are painted together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Symmetry {
    /// One bead.
    #[default]
    Bead,
    /// The bead and its mirror image: the mirror stands on the middle of one
    /// side.
    Mirror,
    /// Its like on every side.
    Sides,
    /// Its like and their mirror images on every side.
    SidesMirror,
    /// The whole round.
    Round,
}

impl Symmetry {
    /// All of them, from the fewest beads to the most.
    pub const ALL: [Symmetry; 5] = [
        Symmetry::Bead,
        Symmetry::Mirror,
        Symmetry::Sides,
        Symmetry::SidesMirror,
        Symmetry::Round,
    ];

    /// The one after it, round and round.
    pub fn next(self) -> Symmetry {
        let at = Symmetry::ALL.iter().position(|r| *r == self).unwrap_or(0);
        Symmetry::ALL[(at + 1) % Symmetry::ALL.len()]
    }

    fn turns(self) -> bool {
        matches!(self, Symmetry::Sides | Symmetry::SidesMirror)
    }

    fn mirrors(self) -> bool {
        matches!(self, Symmetry::Mirror | Symmetry::SidesMirror)
    }
}

/// Whether a round has the same number of beads on every side.
pub fn is_even(kind: &PanelLayout, round: Round) -> bool {
    kind.in_round(round).is_multiple_of(u32::from(kind.sides()))
}

/// The beads of a round that are painted with one of it, each once, as side
/// and place (from 0). The mirror stands on the middle of side `up`.
///
/// A round that has not the same number of beads on every side is not the
/// same when it is turned: there a bead is painted alone.
pub fn reached(
    kind: &PanelLayout,
    round: Round,
    (side, place): (Side, u32),
    reach: Symmetry,
    up: Side,
) -> Vec<(Side, u32)> {
    if reach == Symmetry::Round {
        let on = |s| (0..kind.on_side(round, Side(s))).map(move |p| (Side(s), p));
        return (0..kind.sides()).flat_map(on).collect();
    }
    if !is_even(kind, round) {
        return vec![(side, place)];
    }
    let (n, of) = (kind.sides(), kind.in_round(round) / u32::from(kind.sides()));
    // A corner bead is the last of its side, and no mirror image of its first.
    let corner = u32::from(kind.corner(round) == 1);
    alike((n, of, corner), (side, place), reach, up)
}

/// The beads of the join rows that are painted with one of them, as if every
/// side of the panel carried its row of `of` beads.
pub fn reached_on_rows(
    sides: u8,
    of: u32,
    bead: (Side, u32),
    reach: Symmetry,
    up: Side,
) -> Vec<(Side, u32)> {
    if reach == Symmetry::Round {
        let on = |s| (0..of).map(move |p| (Side(s), p));
        return (0..sides).flat_map(on).collect();
    }
    alike((sides, of, 0), bead, reach, up)
}

/// Of n sides with the same number of beads, the last `corner` of which lie on
/// the corner.
fn alike(
    (n, of, corner): (u8, u32, u32),
    (side, place): (Side, u32),
    reach: Symmetry,
    up: Side,
) -> Vec<(Side, u32)> {
    // Counted round the panel from the first bead of the first side.
    let beads = u32::from(n) * of;
    let number = |side: Side, place: u32| u32::from(side.0) * of + place;
    let mirrored = |v: u32| (2 * number(up, 0) + of + 2 * beads - 1 - corner - v) % beads;
    let mut all = vec![number(side, place)];
    if reach.mirrors() {
        all.push(mirrored(all[0]));
    }
    if reach.turns() {
        let once = all.clone();
        all.extend((1..u32::from(n)).flat_map(|s| once.iter().map(move |v| (v + s * of) % beads)));
    }
    all.sort_unstable();
    all.dedup();
    let seat = |v: u32| (Side((v / of) as u8), v % of);
    all.into_iter().map(seat).collect()
}

/// A part of a kind of panel that is painted by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PaintedPart {
    /// A round.
    Round(Round),
    /// Its join rows.
    Row,
    /// Its tip beads.
    Tip,
}

impl fmt::Display for PaintedPart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PaintedPart::Round(round) => write!(f, "{round}"),
            PaintedPart::Row => f.write_str("row"),
            PaintedPart::Tip => f.write_str("tip"),
        }
    }
}

impl PaintedPart {
    /// The part that is written so.
    pub fn named(text: &str) -> Option<PaintedPart> {
        match text {
            "row" => Some(PaintedPart::Row),
            "tip" => Some(PaintedPart::Tip),
            round => match round.parse() {
                Ok(0) | Err(_) => None,
                Ok(round) => Some(PaintedPart::Round(Round(round))),
            },
        }
    }
}

/// What a part of a panel is made of, in full.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RoundColours {
    /// A round: one word, or as many as the panel has sides.
    Round(Round, Vec<ColourWord>),
    /// Its join rows: one word, or as many as the panel has sides.
    Row(Vec<ColourWord>),
    /// Its tip beads.
    Tip(Colour),
}

impl RoundColours {
    /// What it covers.
    pub fn part(&self) -> PaintedPart {
        match self {
            RoundColours::Round(round, _) => PaintedPart::Round(*round),
            RoundColours::Row(_) => PaintedPart::Row,
            RoundColours::Tip(_) => PaintedPart::Tip,
        }
    }

    /// Whether it fits a kind of panel in a piece of so many kinds of bead.
    pub fn fits(&self, kind: &PanelLayout, beads: usize) -> bool {
        let is_there = |colour: &Colour| usize::from(colour.0) < beads;
        let (words, of): (_, &dyn Fn(Side) -> Option<u32>) = match self {
            RoundColours::Tip(colour) => return is_there(colour),
            RoundColours::Round(round, _) if !(1..=kind.rounds()).contains(&round.0) => {
                return false;
            }
            RoundColours::Round(round, words) => (words, &|side| Some(kind.on_side(*round, side))),
            RoundColours::Row(words) => (words, &|_| row_beads(kind)),
        };
        let sides = kind.sides();
        let mut colours = words.iter().flat_map(ColourWord::letters);
        (words.len() == 1 || words.len() == usize::from(sides))
            && colours.all(is_there)
            && (0..sides).map(Side).all(|side| {
                let word = &words[side.index() % words.len()];
                of(side).is_none_or(|beads| word.fits(beads))
            })
    }
}

/// Join beads on a side, if the panel can be joined.
pub fn row_beads(kind: &PanelLayout) -> Option<u32> {
    let joined = kind.can_be_joined() && kind.rounds() > 1;
    joined.then(|| kind.edge(Side(0)) - 1)
}

impl Colours {
    /// What a part of the panel is made of now.
    pub fn round_colours(&self, part: PaintedPart) -> RoundColours {
        match part {
            PaintedPart::Round(round) => RoundColours::Round(round, self.rule(round).sides.clone()),
            PaintedPart::Row => RoundColours::Row(self.row.sides.clone()),
            PaintedPart::Tip => RoundColours::Tip(self.tip),
        }
    }

    /// Sets the colours of a part. They must fit the panel.
    pub fn set(&mut self, round_colours: RoundColours) {
        match round_colours {
            RoundColours::Round(round, sides) => self.word_for(round, sides),
            RoundColours::Row(sides) => self.row = Rule { sides },
            RoundColours::Tip(colour) => self.tip = colour,
        }
    }

    /// A round's own words from now on. Rounds after the last go on as it was.
    fn word_for(&mut self, round: Round, sides: Vec<ColourWord>) {
        let at = round.0 as usize - 1;
        if at >= self.of_round.len() {
            let last = *self.of_round.last().unwrap_or(&0);
            self.of_round.resize(at + 2, last);
        }
        let rule = self.of_round[at];
        let alone = self.of_round.iter().filter(|r| **r == rule).count() == 1;
        let rule = match alone {
            true => rule,
            false => {
                let named = |n: &u16| self.of_round.contains(n);
                // One that colours nothing any more, or a new one.
                let free = (0..self.rules.len() as u16).find(|n| !named(n));
                free.unwrap_or(self.rules.len() as u16)
            }
        };
        let painted = Rule { sides };
        match self.rules.get_mut(usize::from(rule)) {
            Some(old) => *old = painted,
            None => self.rules.push(painted),
        }
        self.of_round[at] = rule;
    }

    /// The colours of a round's sides, bead by bead in working order.
    pub fn spelt(&self, kind: &PanelLayout, round: Round) -> Vec<Vec<Colour>> {
        let of = |side| kind.on_side(round, side);
        self.rule(round).spelt(kind.sides(), of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::flat_face::FlatFace;
    use crate::beadwork::{Panel, Sequence, testing};

    /// Turned and mirrored beads lie where a turned and mirrored mat shows
    /// them: judged by where each bead lies, not by its number.
    #[test]
    fn beads_that_go_together_lie_alike_on_the_mat() {
        for (sides, rounds) in [(3, 7), (4, 11), (5, 9), (6, 10)] {
            let seq = Sequence::new(testing::single(testing::panel(sides, rounds)));
            let kind = seq.layout().kind(Panel(0));
            let up = Side(1);
            let face = FlatFace::new(seq.layout(), Panel(0), up);
            let lies = |round, (side, place)| face.lies(face.seat(round, side, place)).middle;
            for round in (1..=rounds).map(Round) {
                for bead in 0..kind.in_round(round) {
                    let at = kind.place(round, bead);
                    let from = lies(round, (at.side, at.place));
                    let bead = (at.side, at.place);
                    let mirror = reached(kind, round, bead, Symmetry::Mirror, up);
                    let image = glam::DVec2::new(-from.x, from.y);
                    assert!(mirror.contains(&bead) && mirror.len() <= 2);
                    let found = mirror
                        .iter()
                        .any(|b| (lies(round, *b) - image).length() < 1e-9);
                    assert!(found, "{sides} sides, round {round}, {at:?}: {mirror:?}");
                    let turned = reached(kind, round, bead, Symmetry::Sides, up);
                    assert_eq!(turned.len(), usize::from(sides));
                    for s in 0..sides {
                        let angle = std::f64::consts::TAU * f64::from(s) / f64::from(sides);
                        let image = glam::DVec2::from_angle(angle).rotate(from);
                        let found = turned
                            .iter()
                            .any(|b| (lies(round, *b) - image).length() < 1e-9);
                        assert!(found, "{sides} sides, round {round}, {at:?}");
                    }
                    let both = reached(kind, round, bead, Symmetry::SidesMirror, up);
                    assert!(mirror.iter().chain(&turned).all(|b| both.contains(b)));
                    assert!(both.len() <= 2 * usize::from(sides));
                }
                let all = reached(kind, round, (Side(0), 0), Symmetry::Round, up);
                assert_eq!(all.len() as u32, kind.in_round(round));
            }
        }
    }

    /// The same of join rows, by where their beads lie.
    #[test]
    fn join_beads_that_go_together_lie_alike_on_the_mat() {
        let seq = Sequence::new(testing::single(testing::panel(3, 7)));
        let (up, of) = (Side(2), 6);
        let face = FlatFace::new(seq.layout(), Panel(0), up);
        let lies = |(side, place): (Side, u32)| {
            let seat = crate::beadwork::layout::Seat {
                part: crate::beadwork::layout::Part::JoinRow(crate::beadwork::layout::RowIndex(0)),
                round: Round(8),
                of,
                index: place,
                ..face.seat(Round(7), side, place)
            };
            face.lies(seat).middle
        };
        for bead in (0..3).flat_map(|s| (0..of).map(move |p| (Side(s), p))) {
            let from = lies(bead);
            let image = glam::DVec2::new(-from.x, from.y);
            let mirror = reached_on_rows(3, of, bead, Symmetry::Mirror, up);
            let found = |all: &[(Side, u32)], at: glam::DVec2| {
                all.iter().any(|b| (lies(*b) - at).length() < 1e-9)
            };
            assert!(found(&mirror, image) && found(&mirror, from), "{bead:?}");
            let third = glam::DVec2::from_angle(std::f64::consts::TAU / 3.0);
            let turned = reached_on_rows(3, of, bead, Symmetry::Sides, up);
            assert!(found(&turned, third.rotate(from)), "{bead:?}");
        }
        assert_eq!(
            reached_on_rows(3, of, (up, 0), Symmetry::Round, up).len(),
            18
        );
    }

    #[test]
    fn a_coat_goes_over_its_round_and_no_other() {
        let plain = Colours::plain(Colour(0), 9);
        let mut colours = plain.clone();
        let word = ColourWord::plain(Colour(1));
        for _ in 0..3 {
            colours.set(RoundColours::Round(Round(4), vec![word.clone()]));
            colours.set(RoundColours::Round(Round(5), vec![word.clone()]));
        }
        for round in (1..=9).map(Round) {
            let painted = [4, 5].contains(&round.0);
            let expected = Colour(u8::from(painted));
            assert_eq!(colours.at(round, Side(1), 0, 9), expected);
        }
        // Painting over and over takes no more room.
        assert_eq!(colours.rules.len(), 3);
    }
}
