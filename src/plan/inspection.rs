//! Route inspection: the least that must be sewn along twice so that all joins
//! are sewn with a given number of threads.
//!
//! Joins are edges between the corners of a piece. A thread that sews one join
//! after another without going along any twice begins and ends at corners where
//! an odd number of joins meet. So with T threads all but 2·T of the odd
//! corners must be connected in pairs, each by the shortest path between the
//! two, which is sewn along once more.

use std::collections::VecDeque;

/// An edge between two corners, and the beads along it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Where it begins and ends, corners from 0.
    pub ends: (usize, usize),
    /// What going along it once more costs.
    pub cost: u32,
}

/// The least cost of going along edges again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Least {
    /// That cost, or a bound below it.
    pub cost: u64,
    /// Whether this cost can be reached; otherwise it is only a bound.
    pub exact: bool,
}

/// Up to this many odd corners, all pairings are compared.
const ALL_PAIRINGS: usize = 16;

/// The least that `threads` threads must go along again to sew all edges. The
/// edges are connected, or each connected part needs a thread of its own.
pub fn least(corners: usize, edges: &[Edge], threads: usize) -> Least {
    let odd = odd_corners(corners, edges);
    // Each thread may begin and end at an odd corner.
    let free = (2 * threads).min(odd.len());
    if odd.len() == free {
        return Least {
            cost: 0,
            exact: true,
        };
    }
    if odd.len() <= ALL_PAIRINGS {
        return Least {
            cost: pair_all(&ways(corners, edges, &odd), free),
            exact: true,
        };
    }
    // No pair costs less than the cheapest edge. If enough pairs can be found
    // at that cost, the bound is reached.
    let cheapest = edges.iter().map(|e| e.cost).min().unwrap_or(0);
    let pairs = (odd.len() - free) / 2;
    Least {
        cost: pairs as u64 * u64::from(cheapest),
        exact: neighbours_paired(corners, &odd, edges, cheapest) >= pairs,
    }
}

/// Corners where an odd number of edges meet.
pub fn odd_corners(corners: usize, edges: &[Edge]) -> Vec<usize> {
    let mut meet = vec![0u32; corners];
    for edge in edges {
        meet[edge.ends.0] += 1;
        meet[edge.ends.1] += 1;
    }
    (0..corners).filter(|&c| meet[c] % 2 == 1).collect()
}

/// What it costs to go between odd corners: `u64::MAX` where there is no path.
fn ways(corners: usize, edges: &[Edge], odd: &[usize]) -> Vec<Vec<u64>> {
    let mut next = vec![vec![]; corners];
    for edge in edges {
        let (a, b) = edge.ends;
        next[a].push((b, u64::from(edge.cost)));
        next[b].push((a, u64::from(edge.cost)));
    }
    let from = |&start: &usize| {
        let mut cost = vec![u64::MAX; corners];
        cost[start] = 0;
        let mut open = VecDeque::from([start]);
        while let Some(at) = open.pop_front() {
            for &(to, step) in &next[at] {
                if cost[at] + step < cost[to] {
                    cost[to] = cost[at] + step;
                    open.push_back(to);
                }
            }
        }
        odd.iter().map(|&c| cost[c]).collect()
    };
    odd.iter().map(from).collect()
}

/// The cheapest pairing that leaves out `free` of the odd corners, set by set.
fn pair_all(ways: &[Vec<u64>], free: usize) -> u64 {
    let n = ways.len();
    let mut best = vec![u64::MAX; 1 << n];
    best[0] = 0;
    let mut least = u64::MAX;
    for done in 0..1usize << n {
        let cost = best[done];
        if cost == u64::MAX {
            continue;
        }
        let paired = done.count_ones() as usize;
        if n - paired == free {
            least = least.min(cost);
            continue;
        }
        for a in (0..n).filter(|a| done >> a & 1 == 0) {
            for b in (a + 1..n).filter(|b| done >> b & 1 == 0) {
                let with = &mut best[done | 1 << a | 1 << b];
                *with = (*with).min(cost.saturating_add(ways[a][b]));
            }
            if free == 0 {
                // Every pairing contains the first corner that is left.
                break;
            }
        }
    }
    least
}

/// How many pairs of odd corners a cheapest edge connects, found by taking each
/// such edge whose corners are both free.
fn neighbours_paired(corners: usize, odd: &[usize], edges: &[Edge], cheapest: u32) -> usize {
    let mut is_free = vec![false; corners];
    odd.iter().for_each(|&corner| is_free[corner] = true);
    let cheapest = edges.iter().filter(|edge| edge.cost == cheapest);
    let pairs = cheapest.filter(|edge| {
        let (a, b) = edge.ends;
        let is_pair = a != b && is_free[a] && is_free[b];
        if is_pair {
            (is_free[a], is_free[b]) = (false, false);
        }
        is_pair
    });
    pairs.count()
}

#[cfg(test)]
mod tests;
