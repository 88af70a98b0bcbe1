use super::*;
use petgraph::algo::dijkstra;
use petgraph::graph::{NodeIndex, UnGraph};

fn edges(pairs: &[(usize, usize)]) -> Vec<Edge> {
    pairs.iter().map(|&ends| Edge { ends, cost: 1 }).collect()
}

fn tetrahedron() -> Vec<Edge> {
    edges(&[(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)])
}

fn octahedron() -> Vec<Edge> {
    let all = (0..6).flat_map(|a| (a + 1..6).map(move |b| (a, b)));
    edges(&all.filter(|(a, b)| a + b != 5).collect::<Vec<_>>())
}

fn cube() -> Vec<Edge> {
    let all = (0..8usize).flat_map(|a| (a + 1..8).map(move |b| (a, b)));
    edges(
        &all.filter(|(a, b)| (a ^ b).count_ones() == 1)
            .collect::<Vec<_>>(),
    )
}

fn icosahedron() -> Vec<Edge> {
    use crate::beadwork::project::Solid;
    use crate::beadwork::solid::Polyhedra;
    let shape = Polyhedra::regular(Solid::Icosahedron, 1.0);
    let near =
        |a: usize, b: usize| (shape.corners[a].distance(shape.corners[b]) - 1.0).abs() < 1e-9;
    let all = (0..12).flat_map(|a| (a + 1..12).map(move |b| (a, b)));
    edges(&all.filter(|&(a, b)| near(a, b)).collect::<Vec<_>>())
}

/// Exhaustive search: the fewest edges that must be sewn along again, found by
/// walking from every corner in every direction. The state is the set of edges
/// sewn; the walk may stop and start again elsewhere `threads − 1` times.
fn walked(corners: usize, edges: &[Edge], threads: usize) -> u64 {
    use std::collections::HashMap;
    let all = (1u32 << edges.len()) - 1;
    let mut best: HashMap<(usize, u32, usize), u64> = HashMap::new();
    let mut open: VecDeque<(usize, u32, usize, u64)> = VecDeque::new();
    open.extend((0..corners).map(|c| (c, 0, 1, 0)));
    let mut least = u64::MAX;
    while let Some((at, sewn, used, cost)) = open.pop_front() {
        if cost >= least || best.get(&(at, sewn, used)).is_some_and(|&b| b <= cost) {
            continue;
        }
        best.insert((at, sewn, used), cost);
        if sewn == all {
            least = cost;
            continue;
        }
        for (nth, edge) in edges.iter().enumerate() {
            let to = match edge.ends {
                (a, b) if a == at => b,
                (a, b) if b == at => a,
                _ => continue,
            };
            match sewn >> nth & 1 {
                0 => open.push_front((to, sewn | 1 << nth, used, cost)),
                _ => open.push_back((to, sewn, used, cost + u64::from(edge.cost))),
            }
        }
        if used < threads {
            open.extend((0..corners).map(|c| (c, sewn, used + 1, cost)));
        }
    }
    least
}

#[test]
fn the_bound_is_what_an_exhaustive_search_of_small_solids_finds() {
    for (corners, edges) in [(4, tetrahedron()), (6, octahedron()), (8, cube())] {
        for threads in 1..=2 {
            let least = least(corners, &edges, threads);
            assert!(least.exact);
            assert_eq!(
                least.cost,
                walked(corners, &edges, threads),
                "{corners} {threads}"
            );
        }
    }
    // A path with edges of different cost, a cross, and a house.
    for (corners, pairs) in [
        (5, vec![(0, 1), (0, 2), (0, 3), (0, 4)]),
        (
            5,
            vec![
                (0, 1),
                (1, 2),
                (2, 3),
                (3, 0),
                (0, 2),
                (1, 3),
                (2, 4),
                (3, 4),
            ],
        ),
    ] {
        let mut edges = edges(&pairs);
        for (nth, edge) in edges.iter_mut().enumerate() {
            edge.cost = 1 + nth as u32 % 3;
        }
        for threads in 1..=2 {
            let least = least(corners, &edges, threads);
            assert_eq!(least.cost, walked(corners, &edges, threads));
        }
    }
}

/// Known numbers: an octahedron can be drawn in one line; a tetrahedron needs
/// one edge twice, a cube three, an icosahedron five.
#[test]
fn the_regular_solids_in_one_line() {
    let least = |corners, edges: Vec<Edge>| least(corners, &edges, 1).cost;
    assert_eq!(least(4, tetrahedron()), 1);
    assert_eq!(least(6, octahedron()), 0);
    assert_eq!(least(8, cube()), 3);
    assert_eq!(least(12, icosahedron()), 5);
}

/// A general graph library finds the shortest paths between the odd corners,
/// all pairings of them are tried, and the library then confirms that with the
/// edges of those paths doubled at most two odd corners are left, so that one
/// line is enough.
#[test]
fn a_general_graph_library_finds_the_same_least() {
    for (corners, edges) in [
        (4, tetrahedron()),
        (6, octahedron()),
        (8, cube()),
        (12, icosahedron()),
    ] {
        let mut graph: UnGraph<(), u32> = UnGraph::new_undirected();
        let nodes: Vec<NodeIndex> = (0..corners).map(|_| graph.add_node(())).collect();
        for edge in &edges {
            graph.add_edge(nodes[edge.ends.0], nodes[edge.ends.1], edge.cost);
        }
        let odd: Vec<NodeIndex> = nodes
            .iter()
            .copied()
            .filter(|&n| graph.edges(n).count() % 2 == 1)
            .collect();
        let ways: Vec<_> = odd
            .iter()
            .map(|&n| dijkstra(&graph, n, None, |e| *e.weight()))
            .collect();
        fn pairings(left: &[usize], free: usize, cost: &dyn Fn(usize, usize) -> u32) -> u32 {
            let Some((&first, rest)) = left.split_first() else {
                return 0;
            };
            let mut best = u32::MAX;
            if free > 0 {
                best = pairings(rest, free - 1, cost);
            }
            for i in 0..rest.len() {
                let mut others = rest.to_vec();
                let partner = others.remove(i);
                let with = pairings(&others, free, cost).saturating_add(cost(first, partner));
                best = best.min(with);
            }
            best
        }
        let all: Vec<usize> = (0..odd.len()).collect();
        let free = odd.len().min(2);
        let cost = |a: usize, b: usize| ways[a][&odd[b]];
        let found = pairings(&all, free, &cost);
        assert_eq!(
            u64::from(found),
            least(corners, &edges, 1).cost,
            "{corners}"
        );
    }
}

/// With more corners than all pairings can be compared for, a ring's hinges
/// pair them, and the bound is reached.
#[test]
fn the_bound_of_a_long_ring_is_reached_by_its_hinges() {
    use super::super::joins::Joins;
    use crate::beadwork::project::Closing;
    use crate::beadwork::{Sequence, testing};
    use crate::geometry::Shape;
    let seq = Sequence::new(testing::ring(20, 4, Closing::SetIn));
    let joins = Joins::of(&seq, &Shape::of(&seq));
    let edges: Vec<Edge> = joins
        .joins
        .iter()
        .map(|j| Edge {
            ends: j.ends,
            cost: j.beads,
        })
        .collect();
    let least = least(joins.corners, &edges, 1);
    assert_eq!(odd_corners(joins.corners, &edges).len(), 40);
    assert_eq!(least.cost, 19 * 7);
    assert!(least.exact);
}
