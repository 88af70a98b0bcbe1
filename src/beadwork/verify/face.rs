//! A panel's rounds, bead by bead, worked out from its law.
//!
//! Each bead has a side and may be a corner bead. The next round is laid by
//! looking at each pair of neighbours: the gap between the halves of a corner
//! pair, or between the last bead of one side and the first of the next, is a
//! corner and takes what the law says; every other gap takes one bead.

use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::own_rounds::{OwnRounds, RoundSides};
use crate::beadwork::project::{Growth, PanelSpec, WorkDirection};

/// The rounds of one kind of panel.
#[derive(Debug)]
pub(super) struct Face {
    pub sides: usize,
    pub open: u32,
    rounds: Vec<FaceRound>,
    /// Whether it is known where the sides end.
    knows_corners: bool,
}

#[derive(Debug, Default)]
struct FaceRound {
    /// Beads in each gap of the round before.
    word: Vec<u8>,
    seats: Vec<SidePlace>,
}

/// Where a bead lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct SidePlace {
    side: u8,
    at: At,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum At {
    Side,
    /// A corner bead, or the half of a pair that ends a side.
    Corner,
    /// The half of a pair that begins a side.
    SecondHalf,
}

impl Face {
    pub fn new(spec: &PanelSpec, open: u32) -> Self {
        let sides = usize::from(spec.sides);
        let rounds = match &spec.growth {
            Growth::Law(law) => by_law(spec.sides, spec.rounds, law),
            Growth::Own(own) => by_hand(own),
            // A strip has no rounds; it is read separately.
            Growth::Rows { .. } => vec![],
            Growth::Words { ring, words } => {
                let first = FaceRound {
                    word: vec![],
                    seats: shared_out(*ring as usize, sides),
                };
                let next = words.iter().map(|word| {
                    let word: Vec<u8> = word.iter().collect();
                    let beads = word.iter().map(|&g| usize::from(g)).sum();
                    FaceRound {
                        word,
                        seats: shared_out(beads, sides),
                    }
                });
                std::iter::once(first).chain(next).collect()
            }
        };
        Face {
            sides,
            open,
            rounds,
            knows_corners: matches!(spec.growth, Growth::Law(_) | Growth::Own(_)),
        }
    }

    /// The outermost round.
    pub fn last(&self) -> u32 {
        self.rounds.len() as u32
    }

    fn round(&self, k: u32) -> &FaceRound {
        &self.rounds[k as usize - 1]
    }

    /// Beads in round `k`.
    pub fn beads(&self, k: u32) -> usize {
        self.round(k).seats.len()
    }

    /// The side, from 0, of bead `index` of round `k`.
    pub fn side(&self, k: u32, index: usize) -> u8 {
        let seats = &self.round(k).seats;
        seats[index % seats.len()].side
    }

    /// The beads for each gap of round `on` when the next round in direction
    /// `way` is worked on it; gap `i` is the one after bead `i`.
    pub fn gaps(&self, on: u32, way: WorkDirection) -> Vec<u8> {
        match way {
            WorkDirection::Outward => self.round(on + 1).word.clone(),
            WorkDirection::Inward => {
                let over = self.gap_of_each(on);
                let inner = self.beads(on - 1);
                // After the last bead the gaps begin again.
                let next = over.iter().copied().skip(1).chain([over[0] + inner]);
                over.iter().zip(next).map(|(a, b)| (b - a) as u8).collect()
            }
        }
    }

    /// The index, in the next round in that direction, of the bead after bead
    /// `index` of round `on`, or of the next bead if that gap is empty.
    pub fn next_index(&self, on: u32, way: WorkDirection, index: usize) -> usize {
        match way {
            WorkDirection::Outward => {
                let before = &self.round(on + 1).word[..index];
                before.iter().map(|&g| usize::from(g)).sum::<usize>() % self.beads(on + 1)
            }
            WorkDirection::Inward => (self.gap_of_each(on)[index] + 1) % self.beads(on - 1),
        }
    }

    /// For each bead of a round, the gap of the round before in which it lies.
    fn gap_of_each(&self, k: u32) -> Vec<usize> {
        let gaps = self.round(k).word.iter().enumerate();
        gaps.flat_map(|(gap, &beads)| std::iter::repeat_n(gap, usize::from(beads)))
            .collect()
    }

    /// The index of the first bead of side 0 in the outermost round.
    pub fn first_of_side_0(&self) -> usize {
        self.first_of(0)
    }

    fn first_of(&self, side: u8) -> usize {
        let seats = &self.round(self.last()).seats;
        let before = |i: usize| seats[(i + seats.len() - 1) % seats.len()].side;
        (0..seats.len())
            .find(|&i| seats[i].side == side && before(i) != side)
            .unwrap_or(0)
    }

    /// Beads at each corner of the outermost round.
    pub fn corner(&self) -> usize {
        let seats = &self.round(self.last()).seats;
        seats.iter().filter(|s| s.at != At::Side).count() / self.sides
    }

    /// The indices in the outermost round of the up beads of a side, from
    /// corner to corner; empty if its sides do not end in beads.
    pub fn edge(&self, side: u8) -> Vec<usize> {
        let corner = self.corner();
        if corner == 0 || !self.knows_corners {
            return vec![];
        }
        let beads = self.beads(self.last());
        let first = self.first_of(side);
        let here = (0..beads)
            .map(|i| (first + i) % beads)
            .take_while(|&i| self.side(self.last(), i) == side);
        // A corner bead belongs to the side that it ends, but lies on both
        // sides.
        let before = (corner == 1).then_some((first + beads - 1) % beads);
        before.into_iter().chain(here).collect()
    }
}

/// Rounds gap by gap, and where their sides lie, as the maker worked them.
fn by_hand(own: &OwnRounds) -> Vec<FaceRound> {
    let words = own.words.iter().map(|word| word.iter().collect());
    let words = std::iter::once(vec![]).chain(words);
    let round = |(word, at): (Vec<u8>, &RoundSides)| {
        let on_side = |(side, &beads): (u8, &u32)| {
            (0..beads).map(move |place| SidePlace {
                side,
                at: match (at.corner, place) {
                    (1 | 2, place) if place + 1 == beads => At::Corner,
                    (2, 0) => At::SecondHalf,
                    _ => At::Side,
                },
            })
        };
        let mut seats: Vec<SidePlace> = (0u8..).zip(&at.lengths).flat_map(on_side).collect();
        seats.rotate_right(at.first as usize);
        FaceRound { word, seats }
    };
    words.zip(&own.sides).map(round).collect()
}

fn by_law(sides: u8, rounds: u32, law: &CornerLaw) -> Vec<FaceRound> {
    let at = match law.start() {
        Start::Sides => At::Side,
        Start::Points => At::Corner,
    };
    let ring = (0..sides).map(|side| SidePlace { side, at }).collect();
    let mut face_rounds = vec![FaceRound {
        word: vec![],
        seats: ring,
    }];
    for k in 2..=rounds {
        let corner = law.word()[(k as usize - 2) % law.word().len()];
        let below = &face_rounds[k as usize - 2].seats;
        face_rounds.push(grow(below, sides, corner));
    }
    face_rounds
}

fn grow(below: &[SidePlace], sides: u8, corner: u8) -> FaceRound {
    let mut round = FaceRound::default();
    for (i, &a) in below.iter().enumerate() {
        let b = below[(i + 1) % below.len()];
        let is_corner = match (a.at, b.at) {
            (At::Corner, At::SecondHalf) => true,
            (At::Side, At::Side) => a.side != b.side,
            _ => false,
        };
        let next = (a.side + 1) % sides;
        if is_corner {
            round.word.push(corner);
            let at = |side, at| SidePlace { side, at };
            let beads = [at(a.side, At::Corner), at(next, At::SecondHalf)];
            round.seats.extend(&beads[..usize::from(corner)]);
        } else {
            round.word.push(1);
            let side = if a.at == At::Corner { next } else { a.side };
            round.seats.push(SidePlace { side, at: At::Side });
        }
    }
    round
}

/// A round with its own gap words has no corners; its beads are shared evenly
/// between the sides.
fn shared_out(beads: usize, sides: usize) -> Vec<SidePlace> {
    let side = |i: usize| (i * sides / beads.max(1)) as u8;
    let at = At::Side;
    (0..beads)
        .map(|i| SidePlace { side: side(i), at })
        .collect()
}

#[cfg(test)]
mod tests;
