//! Which side carries each join row.
//!
//! Of the sides that meet in a join exactly one carries the row. Panels that
//! carry rows on the same sides are of one kind; fewest kinds is best, since a
//! maker learns one panel and makes it again. After that, it is easier if the
//! last panel carries none, so that it is set in whole, and if rows are
//! carried by the panel that is made first, so that the next is zipped as it
//! comes.

use super::SpecIndex;
use std::collections::HashSet;

/// A join: the sides that meet, each as face and side (from 0), faces
/// numbered in the order in which they are made.
pub type Join = Vec<(usize, usize)>;

/// What the choice has to heed.
pub struct Wish<'a> {
    /// The kind of each face.
    pub specs: &'a [SpecIndex],
    /// Sides of each face.
    pub sides: usize,
    /// The joins; of each, any side may carry.
    pub joins: &'a [Join],
    /// Faces that may carry no row.
    pub bare: &'a [usize],
}

/// Up to this many joins every choice is weighed.
const EXHAUSTIVE: usize = 12;

/// For each join, which of its sides carries the row.
pub fn choose(wish: &Wish<'_>) -> Vec<usize> {
    if wish.joins.len() <= EXHAUSTIVE {
        weigh_all(wish)
    } else {
        search(wish)
    }
}

/// How many kinds of panel a choice makes.
pub fn kinds(wish: &Wish<'_>, carriers: &[usize]) -> usize {
    let masks = masks(wish, carriers);
    let kinds: HashSet<(SpecIndex, u32)> = masks
        .iter()
        .zip(wish.specs)
        .map(|(&mask, &spec)| (spec, least_turned(mask, wish.sides)))
        .collect();
    kinds.len()
}

fn masks(wish: &Wish<'_>, carriers: &[usize]) -> Vec<u32> {
    let mut masks = vec![0; wish.specs.len()];
    for (join, &carrier) in wish.joins.iter().zip(carriers) {
        let (face, side) = join[carrier];
        masks[face] |= 1 << side;
    }
    masks
}

/// A mask of sides, turned so that it reads least.
fn least_turned(mask: u32, sides: usize) -> u32 {
    let all = (1 << sides) - 1;
    let turned = |r: usize| (mask << r | mask >> (sides - r)) & all;
    (0..sides).map(turned).min().unwrap_or(mask)
}

fn weigh_all(wish: &Wish<'_>) -> Vec<usize> {
    let choices: usize = wish.joins.iter().map(Vec::len).product();
    let nth = |mut n: usize| -> Vec<usize> {
        let digit = |join: &Join| {
            let d = n % join.len();
            n /= join.len();
            d
        };
        wish.joins.iter().map(digit).collect()
    };
    let allowed = |carriers: &Vec<usize>| {
        let faces = wish.joins.iter().zip(carriers).map(|(j, &c)| j[c].0);
        faces.into_iter().all(|face| !wish.bare.contains(&face))
    };
    (0..choices)
        .map(nth)
        .filter(allowed)
        .min_by_key(|carriers| {
            let last = wish.specs.len() - 1;
            let last_carries = masks(wish, carriers)[last] != 0;
            (kinds(wish, carriers), last_carries, late(wish, carriers))
        })
        .unwrap_or_else(|| vec![0; wish.joins.len()])
}

/// Joins in which a later face carries the row for an earlier one.
fn late(wish: &Wish<'_>, carriers: &[usize]) -> usize {
    let is_late = |(join, &carrier): (&Join, &usize)| {
        let first = join.iter().map(|(face, _)| *face).min();
        Some(join[carrier].0) != first
    };
    wish.joins
        .iter()
        .zip(carriers)
        .filter(|&p| is_late(p))
        .count()
}

/// Looks for a choice in which every face carries rows in one of few ways,
/// one way at first, then two.
fn search(wish: &Wish<'_>) -> Vec<usize> {
    let ways: Vec<u32> = {
        let mut all: Vec<u32> = (0..1 << wish.sides)
            .map(|m| least_turned(m, wish.sides))
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    };
    let mut sets: Vec<Vec<u32>> = ways.iter().map(|&w| vec![w]).collect();
    for (i, &a) in ways.iter().enumerate() {
        sets.extend(ways[i + 1..].iter().map(|&b| vec![a, b]));
    }
    sets.push(ways.clone());
    let found = sets.into_iter().find_map(|set| {
        let mut search = CarrySearch {
            wish,
            set: &set,
            masks: vec![0; wish.specs.len()],
            left: open_joins(wish),
            carriers: vec![],
            tries: 0,
        };
        search.go().then_some(search.carriers)
    });
    found.unwrap_or_else(|| vec![0; wish.joins.len()])
}

fn open_joins(wish: &Wish<'_>) -> Vec<usize> {
    let mut left = vec![0; wish.specs.len()];
    for (face, _) in wish.joins.iter().flatten() {
        left[*face] += 1;
    }
    left
}

struct CarrySearch<'a> {
    wish: &'a Wish<'a>,
    set: &'a [u32],
    masks: Vec<u32>,
    left: Vec<usize>,
    carriers: Vec<usize>,
    tries: u32,
}

impl CarrySearch<'_> {
    /// More tries than this mean that a set of ways will not do.
    const MOST: u32 = 200_000;

    fn go(&mut self) -> bool {
        let at = self.carriers.len();
        let Some(join) = self.wish.joins.get(at) else {
            return true;
        };
        self.tries += 1;
        if self.tries > Self::MOST {
            return false;
        }
        for (carrier, &(face, side)) in join.iter().enumerate() {
            if self.wish.bare.contains(&face) {
                continue;
            }
            self.masks[face] |= 1 << side;
            join.iter().for_each(|(f, _)| self.left[*f] -= 1);
            self.carriers.push(carrier);
            if join.iter().all(|(f, _)| self.may_be(*f)) && self.go() {
                return true;
            }
            self.carriers.pop();
            join.iter().for_each(|(f, _)| self.left[*f] += 1);
            self.masks[face] &= !(1 << side);
        }
        false
    }

    /// Whether a face can still come to carry its rows in one of the ways.
    fn may_be(&self, face: usize) -> bool {
        let mask = self.masks[face];
        if self.left[face] == 0 {
            return self.set.contains(&least_turned(mask, self.wish.sides));
        }
        let most = self.set.iter().map(|w| w.count_ones()).max();
        most.is_some_and(|most| mask.count_ones() <= most)
    }
}
