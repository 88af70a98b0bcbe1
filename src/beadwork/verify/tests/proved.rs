//! The steps of every shape are proved, and have the number of beads that
//! formulas and published tables give.

use super::*;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::Panel;
use crate::beadwork::number::Side;
use crate::beadwork::outside_values::{A045943, HEXAGON_FROM_THREE};
use crate::beadwork::project::{Closing, JobList, Make, PanelSpec, Solid, WorkDirection};

fn assert_proved(name: &str, project: Project) -> Report {
    let report = prove(project);
    let first = report.findings.first();
    assert!(
        report.is_proved(),
        "{name}: {}",
        first.map_or(String::new(), ToString::to_string)
    );
    report
}

fn with_tips(mut project: Project, wanted: u8) -> Project {
    match &mut project.make {
        Make::Solid { tips, .. }
        | Make::FoldedPair { tips, .. }
        | Make::Ring { tips, .. }
        | Make::RingOfNets { tips, .. } => *tips = wanted,
        Make::Single(_) | Make::Jobs(_) => {}
    }
    project
}

const SOLIDS: [Solid; 4] = [
    Solid::Tetrahedron,
    Solid::Octahedron,
    Solid::Icosahedron,
    Solid::Cube,
];
const CLOSINGS: [Closing; 3] = [Closing::SetIn, Closing::Fill, Closing::Open];

/// An insert adds three triangles of 3K(K + 1)/2 beads (OEIS A045943) and three
/// rows of K − 1 to the open solid.
#[test]
fn inserts_are_proved_and_add_three_triangles_and_three_rows() {
    for solid in &SOLIDS[..3] {
        for k in [3, 5] {
            let open = assert_proved("open", testing::solid(*solid, 8, Closing::Open));
            let lined = assert_proved("lined", testing::with_insert(*solid, 8, k));
            let added = 3 * A045943[k as usize - 1] + 3 * (k - 1);
            assert_eq!(lined.beads, open.beads + added);
        }
    }
}

/// The same in every open face of a pair and of both rings.
#[test]
fn every_open_face_of_a_pair_or_ring_takes_an_insert() {
    let open = (0, Closing::Open);
    let pair = |closings| Make::FoldedPair {
        faces: vec![0],
        closings,
        tips: 0,
    };
    let nets = Make::RingOfNets {
        tetrahedra: 6,
        faces: vec![0],
        closings: vec![open, (0, Closing::SetIn)],
        tips: 1,
    };
    let ring = Make::Ring {
        tetrahedra: 8,
        faces: vec![0],
        closings: vec![Closing::SetIn, Closing::Open],
        tips: 0,
    };
    for (inserts, tips, make) in [
        (1, 0, pair([(0, Closing::SetIn), open])),
        (2, 0, pair([open, open])),
        (3, 1, nets),
        (4, 0, ring),
    ] {
        let panels = vec![testing::panel(3, 8), testing::panel(3, 5)];
        let plain = testing::project(panels, make);
        let lined = Project {
            insert: vec![1],
            ..plain.clone()
        };
        let [plain, lined] = [plain, lined].map(|project| assert_proved("inserts", project));
        let each = 3 * A045943[4] + 3 * (4 + tips);
        assert_eq!(lined.beads, plain.beads + inserts * each);
    }
}

/// Totals of a triangle: OEIS A045943.
#[test]
fn triangles_are_proved_and_have_the_published_totals() {
    for (k, total) in (1..).zip(A045943) {
        let report = assert_proved("triangle", testing::single(testing::panel(3, k)));
        assert_eq!((report.beads, report.rounds), (total, k));
        if k > 1 {
            let report = assert_proved("inward", testing::single(testing::inward(3, k, 0)));
            assert_eq!((report.beads, report.rounds), (total, k));
        }
    }
}

/// A panel that begins with a strip for each side has the same beads in the same
/// rounds as one from a string; each strip before the last has a thread of its own.
#[test]
fn separate_strips_are_drawn_together_to_the_same_panel() {
    for (sides, rounds) in [(3, 2), (3, 4), (3, 8), (3, 13), (4, 4), (4, 9), (5, 5)] {
        let string = testing::inward(sides, rounds, 0);
        let strips = PanelSpec {
            strips: true,
            ..string.clone()
        };
        let [string, strips] = [string, strips].map(|spec| {
            let name = format!("{sides} sides, {rounds} rounds");
            assert_proved(&name, testing::single(spec))
        });
        assert_eq!((strips.beads, strips.rounds), (string.beads, string.rounds));
        // The last strip's thread makes the panel, unless it does not last.
        let renewed = strips.threads - u32::from(sides);
        assert!(renewed < string.threads);
    }
}

#[test]
fn panels_of_all_sides_are_proved_outward_and_inward() {
    for sides in 3..=12 {
        for rounds in 2..=11 {
            let name = format!("{sides} sides, {rounds} rounds");
            assert_proved(&name, testing::single(testing::panel(sides, rounds)));
            for open in 0..=(rounds - 2).min(4) {
                let spec = testing::inward(sides, rounds, open);
                assert_proved(&name, testing::single(spec));
            }
        }
    }
}

/// Rounds as in J. Riggs, "Circular Peyote Hexagon Stars", 2020.
#[test]
fn the_six_sided_piece_from_a_ring_of_three_is_proved_in_gap_words() {
    let total = HEXAGON_FROM_THREE.iter().sum::<u32>();
    let report = assert_proved("outward", testing::single(from_three()));
    assert_eq!(report.beads, total);
    for (open, beads) in [(0, total), (2, total - 9)] {
        let inward = PanelSpec {
            way: WorkDirection::Inward,
            open,
            ..from_three()
        };
        let report = assert_proved("inward", testing::single(inward));
        assert_eq!(report.beads, beads);
    }
}

/// Gap words with decreases, which no corner law has.
#[test]
fn gap_words_with_decreases_are_proved() {
    let words = [
        GapWord::new([2, 2, 2, 2]),
        GapWord::new([0, 1, 1, 1, 1, 1, 1, 0]),
        GapWord::new([1, 2, 1, 1, 2, 1]),
        GapWord::new([0, 0, 1, 2, 1, 2, 1, 1]),
    ];
    let spec = PanelSpec {
        growth: Growth::Words {
            ring: 4,
            words: words.to_vec(),
        },
        ..testing::panel(4, 5)
    };
    assert_proved("words", testing::single(spec));
}

/// Flat peyote of even count: columns times rows gives the number of beads
/// (common practice, no source).
#[test]
fn strips_are_proved_whatever_their_width_and_length() {
    for beads in 1..=7 {
        for rows in 2..=12 {
            let name = format!("{beads} a row, {rows} rows");
            let report = assert_proved(&name, testing::single(testing::strip(beads, rows)));
            assert_eq!((report.beads, report.rounds), (beads * rows, rows));
        }
    }
    let mut long = testing::single(testing::strip(6, 200));
    long.thread.cut_mm = 600.0;
    let report = assert_proved("long", long);
    assert!(report.threads > 5, "{}", report.threads);
}

/// F faces of 3K(K+1)/2 beads and E rows of K−1; faces and edges from any
/// handbook.
#[test]
fn solids_of_triangles_are_proved_and_have_the_closed_form_totals() {
    for (solid, faces, edges) in [
        (Solid::Tetrahedron, 4, 6),
        (Solid::Octahedron, 8, 12),
        (Solid::Icosahedron, 20, 30),
    ] {
        for k in 2..=7 {
            for closing in [Closing::SetIn, Closing::Fill] {
                let report = assert_proved("solid", testing::solid(solid, k, closing));
                assert_eq!(report.beads, faces * 3 * k * (k + 1) / 2 + edges * (k - 1));
                assert_eq!(report.joins, edges);
            }
        }
    }
}

/// 4N faces, and 5N rows: N hinges and 4N other joins.
#[test]
fn rings_are_proved_and_have_the_closed_form_total() {
    for n in [6, 8, 10] {
        for k in 2..=5 {
            for closing in [Closing::SetIn, Closing::Fill] {
                let report = assert_proved("ring", testing::ring(n, k, closing));
                let n = u32::from(n);
                assert_eq!(report.beads, 4 * n * 3 * k * (k + 1) / 2 + 5 * n * (k - 1));
                assert_eq!(report.joins, 7 * n);
            }
        }
    }
}

/// Two rows at the hinge in each net, one where two nets meet: 11 rows for each
/// net.
#[test]
fn rings_of_nets_are_proved_and_have_the_closed_form_total() {
    for n in [6, 8, 10] {
        for k in 2..=5 {
            for tips in 0..=2 {
                let project = with_tips(testing::ring_of_nets(n, k, 0), tips);
                let report = assert_proved("ring of nets", project);
                let (n, tips) = (u32::from(n), u32::from(tips));
                let rows = 11 * n / 2 * (k - 1);
                if tips == 0 {
                    assert_eq!(report.beads, 4 * n * 3 * k * (k + 1) / 2 + rows);
                }
                assert_eq!(report.joins, 5 * n + 3 * n / 2);
            }
        }
    }
}

#[test]
fn a_ring_of_three_nets_of_eight_rounds_has_2823_beads_and_a_ring_of_six_2802() {
    let beads = |project| assert_proved("ring of six", project).beads;
    assert_eq!(beads(testing::ring_of_nets(6, 8, 0)), 2823);
    assert_eq!(beads(testing::ring(6, 8, Closing::SetIn)), 2802);
}

/// Each opening of a ring is closed in its own way, in any order.
#[test]
fn openings_of_a_ring_are_closed_one_by_one() {
    for first in CLOSINGS {
        for second in CLOSINGS {
            let mut project = testing::ring(6, 4, first);
            project.panels.push(testing::inward(3, 4, 0));
            if let Make::Ring { closings, .. } = &mut project.make {
                *closings = vec![first, second, Closing::SetIn];
            }
            assert_proved("ring", project);
            let mut project = testing::ring_of_nets(6, 4, 0);
            if let Make::RingOfNets { closings, .. } = &mut project.make {
                let kind = |closing| usize::from(closing == Closing::Fill);
                *closings = vec![
                    (kind(first), first),
                    (kind(second), second),
                    (0, Closing::SetIn),
                ];
            }
            assert_proved("ring of nets", project);
        }
    }
}

#[test]
fn cubes_are_proved_whether_they_end_in_pairs_or_in_corner_beads() {
    for rounds in [3, 4, 5, 7, 8, 9, 10, 12, 13] {
        for closing in CLOSINGS {
            assert_proved("cube", testing::solid(Solid::Cube, rounds, closing));
        }
    }
}

#[test]
fn folded_pairs_are_proved_with_every_closing() {
    for first in CLOSINGS {
        for second in CLOSINGS {
            for rounds in [2, 3, 8] {
                let mut project = testing::folded_pair(rounds, 0);
                if let Make::FoldedPair { closings, .. } = &mut project.make {
                    let kind = |closing| usize::from(closing == Closing::Fill);
                    *closings = [(kind(first), first), (kind(second), second)];
                }
                assert_proved(&format!("{first:?} {second:?} {rounds}"), project);
            }
        }
    }
    assert_proved("stone", testing::folded_pair(8, 3));
}

#[test]
fn tip_beads_are_proved() {
    for tips in [1, 2] {
        for rounds in [2, 3, 5] {
            for closing in CLOSINGS {
                for solid in SOLIDS {
                    let name = format!("{solid:?} {closing:?} of {rounds}, {tips} tips");
                    let project = testing::solid(solid, rounds, closing);
                    assert_proved(&name, with_tips(project, tips));
                }
                assert_proved("ring", with_tips(testing::ring(8, rounds, closing), tips));
            }
            assert_proved("pair", with_tips(testing::folded_pair(rounds, 0), tips));
        }
    }
}

/// A short thread is renewed in many different places.
#[test]
fn short_threads_are_proved() {
    for cut_mm in [330.0, 350.0, 400.0, 520.0, 800.0] {
        let cut = |mut project: Project| {
            project.thread.cut_mm = cut_mm;
            project
        };
        for rounds in 2..=8 {
            for sides in [3, 4, 6, 7] {
                let spec = testing::inward(sides, rounds, 0);
                assert_proved("inward", cut(testing::single(spec)));
                let spec = testing::panel(sides, rounds);
                assert_proved("outward", cut(testing::single(spec)));
            }
        }
        for rounds in [2, 3, 4, 5, 7] {
            for closing in CLOSINGS {
                for solid in SOLIDS {
                    assert_proved("solid", cut(testing::solid(solid, rounds, closing)));
                }
                assert_proved("ring", cut(testing::ring(8, rounds, closing)));
            }
            assert_proved("pair", cut(testing::folded_pair(rounds, 0)));
        }
    }
}

#[test]
fn a_list_of_jobs_is_proved() {
    let report = assert_proved("list", testing::listed_tetrahedron(5));
    assert_eq!(report.beads, 4 * 45 + 6 * 4);
}

/// One panel with a row on each of its sides, and another filled onto them: no
/// seam leads from a corner.
#[test]
fn two_panels_sewn_together_all_round_are_proved() {
    for (sides, rounds) in [(3, 2), (3, 6), (4, 7), (5, 6)] {
        let all: Vec<Side> = (0..sides).map(Side).collect();
        let jobs = vec![
            JobKind::Panel(Panel(0)),
            JobKind::JoinRow {
                panel: Panel(0),
                sides: all.clone(),
                tips: 0,
                beads: None,
            },
            JobKind::Fill {
                panel: Panel(1),
                rim: all.into_iter().rev().map(|side| (Panel(0), side)).collect(),
            },
        ];
        let list = JobList {
            panels: testing::named(&[("front", 0), ("back", 1)]),
            jobs,
            shape: None,
        };
        let panels = vec![
            testing::panel(sides, rounds),
            testing::inward(sides, rounds, 0),
        ];
        let name = format!("{sides} sides, {rounds} rounds");
        assert_proved(&name, testing::project(panels, Make::Jobs(list)));
    }
}

/// A ring and gap words: a number for each gap, 0 to 2, from a list that
/// repeats as often as needed.
fn gap_words() -> impl Strategy<Value = (u32, Vec<GapWord>)> {
    let numbers = proptest::collection::vec(0u8..=2, 1..40);
    (3u32..8, numbers, 2usize..9).prop_map(|(ring, numbers, rounds)| {
        let mut number = numbers.iter().copied().cycle();
        let mut words: Vec<GapWord> = vec![];
        while words.len() + 1 < rounds {
            let gaps = words.last().map_or(ring, GapWord::beads);
            let mut word: Vec<u8> = number.by_ref().take(gaps as usize).collect();
            // A round keeps at least three beads, so that it stays a round.
            let beads: usize = word.iter().map(|&g| usize::from(g)).sum();
            let empty = word.iter_mut().filter(|g| **g == 0);
            empty
                .take(3usize.saturating_sub(beads))
                .for_each(|g| *g = 1);
            words.push(GapWord::new(word));
        }
        (ring, words)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn panels_by_any_corner_law_are_proved(
        sides in 3u8..=12, rounds in 2u32..16, law in laws(), open in 0u32..4, cut_mm in 330.0f64..2000.0,
    ) {
        for (way, open) in [(WorkDirection::Outward, 0), (WorkDirection::Inward, open.min(rounds - 2))] {
            let growth = Growth::Law(law.clone());
            let spec = PanelSpec { growth, way, open, ..testing::panel(sides, rounds) };
            let mut project = testing::single(spec);
            project.thread.cut_mm = cut_mm;
            let report = prove(project);
            prop_assert!(report.is_proved(), "{}", report.findings[0]);
        }
    }

    #[test]
    fn any_gap_words_are_proved_outward(
        (ring, words) in gap_words(), cut_mm in 330.0f64..2000.0,
    ) {
        let spec = PanelSpec {
            rounds: words.len() as u32 + 1,
            growth: Growth::Words { ring, words },
            ..testing::panel(3, 1)
        };
        let mut project = testing::single(spec);
        project.thread.cut_mm = cut_mm;
        let report = prove(project);
        prop_assert!(report.is_proved(), "{}", report.findings[0]);
    }

    /// Worked backwards, an empty gap is an increase; several next to each
    /// other would need three beads in a gap.
    #[test]
    fn gap_words_without_two_empty_gaps_side_by_side_are_proved_inward(
        (ring, words) in gap_words(), cut_mm in 330.0f64..2000.0,
    ) {
        let next = |gaps: &[u8], i: usize| gaps[(i + 1) % gaps.len()];
        let is_single = |word: &GapWord| {
            let gaps: Vec<u8> = word.iter().collect();
            (0..gaps.len()).all(|i| gaps[i] + next(&gaps, i) > 0)
        };
        prop_assume!(words.iter().all(is_single));
        let spec = PanelSpec {
            rounds: words.len() as u32 + 1,
            growth: Growth::Words { ring, words },
            way: WorkDirection::Inward,
            ..testing::panel(3, 1)
        };
        let mut project = testing::single(spec);
        project.thread.cut_mm = cut_mm;
        let report = prove(project);
        prop_assert!(report.is_proved(), "{}", report.findings[0]);
    }

    #[test]
    fn shapes_by_any_corner_law_are_proved(
        shape in 0usize..5, rounds in 2u32..9, law in laws(), closing in 0usize..3, tips in 0u8..=2, cut_mm in 330.0f64..2000.0,
    ) {
        let closing = CLOSINGS[closing];
        // Sides that end in gaps cannot be joined, and tip beads need a gap.
        let corner = law.corner(rounds);
        prop_assume!(corner > 0);
        let tips = if corner == 1 { 0 } else { tips };
        let mut project = match shape {
            4 => testing::ring(8, rounds, closing),
            solid => testing::solid(SOLIDS[solid], rounds, closing),
        };
        for spec in &mut project.panels {
            spec.growth = Growth::Law(law.clone());
        }
        project.thread.cut_mm = cut_mm;
        let report = prove(with_tips(project, tips));
        prop_assert!(report.is_proved(), "{}", report.findings[0]);
    }
}
#[test]
fn a_large_ring_is_proved() {
    let report = assert_proved("ring", testing::ring(8, 60, Closing::Fill));
    assert_eq!(report.beads, 32 * 3 * 60 * 61 / 2 + 40 * 59);
}
