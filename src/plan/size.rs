//! The finished size: edge, height, and the widest measure of the piece, mm.
//!
//! Sizes are measured between the planes in which the beads lie. Walls are one
//! bead thick, half of it outside, so the outside is about one bead wider.
//!
//! Sizes of joined pieces are ranges. At the least their faces are flat plates,
//! two bead lengths for each up bead on a side. At the most they lie as
//! [`BeadPlaces`](crate::beadwork::places::BeadPlaces) has them: no bead lies in
//! another, and faces bulge over their joins. How much of that is pressed out
//! depends on the maker's tension. A separate computation of beads drawn together
//! by thread has sides 2 to 3 % longer than those of plates, and solids 12 to 18 %
//! deeper.

use crate::beadwork::Sequence;
use crate::beadwork::frame::outward;
use crate::beadwork::kaleidocycle::Kaleidocycle;
use crate::beadwork::layout::Layout;
use crate::beadwork::project::{Make, Solid, SpecIndex};
use crate::beadwork::solid::Polyhedra;
use glam::{DVec2, DVec3};
use std::f64::consts::PI;

/// Millimetres in an inch, exactly.
pub const MM_PER_INCH: f64 = 25.4;

/// How big a piece is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Size {
    /// A finished side, mm; the longest one if panels differ in size. For a
    /// flat panel by itself, through the middles of its outermost beads.
    pub edge_mm: f64,
    /// How high it is, mm: a flat panel from a side to what lies opposite, a
    /// solid standing on a face, a folded pair standing on an edge, a ring
    /// lying down. `None` for jobs in the maker's own order and for a part of a
    /// shape, because it is not known what they stand on.
    pub height_mm: Option<f64>,
    /// From one corner to the corner farthest from it, mm; for a ring, its
    /// diameter. `None` for jobs that leave loose pieces.
    pub through_mm: Option<f64>,
    /// A ring's hole when it lies down, mm: between the nearest opposite
    /// points.
    pub hole_mm: Option<f64>,
    /// The most that these can be, if it is of several panels.
    pub bellied: Option<Bellied>,
}

/// How big a piece is whose faces bulge, all its beads having room. Measured as
/// [`Size`] is, through the middles of the outermost beads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bellied {
    /// A finished side, mm; the longest.
    pub edge_mm: f64,
    /// How high it is, mm.
    pub height_mm: Option<f64>,
    /// The widest measure, mm.
    pub through_mm: Option<f64>,
}

/// Why sizes are ranges.
pub const WHY_RANGES: &str =
    "from flat plates to faces that bulge, whose beads all have their room";

impl Size {
    /// The measures of the piece, mm: each with its name, its value, and the
    /// largest value if it is a range.
    pub fn measures(&self) -> impl Iterator<Item = (&'static str, f64, Option<f64>)> {
        let most = self.bellied.as_ref();
        let all = [
            ("edge", Some(self.edge_mm), most.map(|m| m.edge_mm)),
            ("height", self.height_mm, most.and_then(|m| m.height_mm)),
            (
                "through at its widest",
                self.through_mm,
                most.and_then(|m| m.through_mm),
            ),
            ("its hole as it lies", self.hole_mm, None),
        ];
        all.into_iter()
            .filter_map(|(what, least, most)| Some((what, least?, most)))
    }
}

/// The longest side of the panels that are made, mm.
pub fn longest_edge_mm(layout: &Layout) -> f64 {
    let made = layout.begun_panels().map(|(_, p)| layout.edge_mm(p.spec));
    made.fold(0.0, f64::max)
}

/// The size of a piece.
pub fn size(seq: &Sequence) -> Size {
    let layout = seq.layout();
    let project = layout.project();
    let longest = longest_edge_mm(layout);
    let is_in_part = seq.goal().is_in_part && layout.begun_panels().count() < layout.panels().len();
    let size = match project.make.shape() {
        _ if is_in_part => own_jobs(seq, longest),
        Make::Single(_) => one_panel(layout).unwrap_or_else(|| own_jobs(seq, longest)),
        Make::Solid { solid, .. } => of_solid(*solid, longest),
        Make::FoldedPair { .. } => folded_pair(longest),
        Make::Ring { tetrahedra, .. } | Make::RingOfNets { tetrahedra, .. } => {
            ring(*tetrahedra, longest)
        }
        Make::Jobs(_) => own_jobs(seq, longest),
    };
    let is_joined = layout.begun_panels().count() > 1;
    let bellied = is_joined.then(|| bellied(seq, &size));
    Size { bellied, ..size }
}

/// How big it is when its faces bulge.
fn bellied(seq: &Sequence, least: &Size) -> Bellied {
    let layout = seq.layout();
    let made = layout.begun_panels();
    let edges = made.map(|(_, made)| layout.lying_edge_mm(made.spec));
    let corners = seq.work().bead_places().rim_corners();
    let up = match layout.project().make.shape() {
        // It stands on its first face.
        Make::Solid { .. } => outward(layout.panels()[0].frame.corners()),
        _ => DVec3::Z,
    };
    let up = corners.iter().map(|corner| corner.dot(up));
    let high = up.clone().fold(f64::MIN, f64::max) - up.fold(f64::MAX, f64::min);
    Bellied {
        edge_mm: edges.fold(least.edge_mm, f64::max),
        height_mm: least.height_mm.map(|least| least.max(high)),
        through_mm: least.through_mm.map(|least| least.max(furthest(&corners))),
    }
}

/// The one panel of a piece, as it is worked; none if the maker began others.
fn one_panel(layout: &Layout) -> Option<Size> {
    let mut made = layout.begun_panels();
    let ((_, only), None) = (made.next()?, made.next()) else {
        return None;
    };
    let kind = layout.kind_of(only.spec);
    Some(match kind.strip() {
        Some(_) => strip(layout, only.spec),
        None => panel(kind.sides(), layout.lying_edge_mm(only.spec)),
    })
}

/// A flat panel of equal sides.
pub fn panel(sides: u8, edge_mm: f64) -> Size {
    let half = PI / f64::from(sides);
    let (radius, apothem) = (edge_mm / (2.0 * half.sin()), edge_mm / (2.0 * half.tan()));
    let (height, through) = match sides % 2 {
        0 => (2.0 * apothem, 2.0 * radius),
        // A panel with an odd number of sides has a corner opposite each side,
        // and is widest between two corners that are most nearly opposite.
        _ => (apothem + radius, 2.0 * radius * (half / 2.0).cos()),
    };
    Size {
        edge_mm,
        height_mm: Some(height),
        through_mm: Some(through),
        ..Size::default()
    }
}

/// A strip: its width, its height, and its diagonal.
fn strip(layout: &Layout, spec: SpecIndex) -> Size {
    let strip = layout.kind_of(spec).strip();
    let size = strip.map_or(DVec2::ZERO, |s| s.size(layout.project().bead_mm()));
    Size {
        edge_mm: size.x,
        height_mm: Some(size.y),
        through_mm: Some(size.length()),
        ..Size::default()
    }
}

/// A regular solid.
pub fn of_solid(solid: Solid, edge_mm: f64) -> Size {
    let shape = Polyhedra::regular(solid, edge_mm);
    let face = &shape.faces[0];
    let corner = |i: usize| shape.corners[face[i]];
    let up = (corner(1) - corner(0))
        .cross(corner(2) - corner(1))
        .normalize();
    let depth = |c: &DVec3| (corner(0) - *c).dot(up);
    Size {
        edge_mm,
        height_mm: Some(shape.corners.iter().map(depth).fold(0.0, f64::max)),
        through_mm: Some(furthest(&shape.corners)),
        ..Size::default()
    }
}

/// Two tetrahedra on one hinge, folded evenly: the distance between the outer
/// edges is twice the distance between opposite edges of one tetrahedron.
pub fn folded_pair(edge_mm: f64) -> Size {
    let across = edge_mm / 2f64.sqrt();
    Size {
        edge_mm,
        height_mm: Some(edge_mm),
        through_mm: Some((2.0 * across).hypot(edge_mm)),
        ..Size::default()
    }
}

/// A ring lying down with all its hinges at the same angle.
pub fn ring(tetrahedra: u16, edge_mm: f64) -> Size {
    let ring = Kaleidocycle::of_plates(tetrahedra, edge_mm);
    let t = ring.even_turn();
    let ends = [0, 1].map(|i| {
        let (middle, along) = ring.hinge(i, t);
        [
            middle + along * edge_mm / 2.0,
            middle - along * edge_mm / 2.0,
        ]
    });
    let ends = ends.concat();
    let radius = |p: &DVec3| p.x.hypot(p.y);
    let most = |of: fn(&DVec3) -> f64| ends.iter().map(of).fold(f64::MIN, f64::max);
    let inner = ends.iter().map(radius).fold(f64::MAX, f64::min);
    Size {
        edge_mm,
        height_mm: Some(most(|p| p.z) + most(|p| -p.z)),
        through_mm: Some(2.0 * most(|p| p.x.hypot(p.y))),
        hole_mm: Some(2.0 * inner),
        ..Size::default()
    }
}

/// A piece made of the maker's own jobs, or with a panel left out, in the shape
/// into which its joins draw it.
fn own_jobs(seq: &Sequence, edge_mm: f64) -> Size {
    let made = seq.layout().begun_panels();
    let panels: Vec<&[DVec3]> = made.map(|(_, p)| p.frame.corners()).collect();
    Size {
        edge_mm,
        through_mm: (seq.work().is_one_piece()).then(|| furthest(&panels.concat())),
        ..Size::default()
    }
}

/// The greatest distance between two corners.
fn furthest(corners: &[DVec3]) -> f64 {
    let middle = corners.iter().sum::<DVec3>() / corners.len() as f64;
    let mut out: Vec<(f64, DVec3)> = corners.iter().map(|c| (c.distance(middle), *c)).collect();
    out.sort_unstable_by(|a, b| b.0.total_cmp(&a.0));
    let mut most: f64 = 0.0;
    for (nth, (from, a)) in out.iter().enumerate() {
        // Two corners are no farther apart than the sum of their distances from
        // the middle.
        let likely = out[nth..].iter().take_while(|(to, _)| from + to > most);
        let squares = likely.map(|(_, b)| a.distance_squared(*b));
        most = squares.fold(most * most, f64::max).sqrt();
    }
    most
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::amend::Amendment;
    use crate::beadwork::job::JobKind;
    use crate::beadwork::number::Panel;
    use crate::beadwork::project::{Closing, JobList};
    use crate::beadwork::{Step, testing};

    /// The largest distance between corners as the layout places them, which is
    /// the size seen in the picture.
    fn seen(layout: &Layout) -> f64 {
        let corners: Vec<DVec3> = (0..layout.panels().len() as u16)
            .flat_map(|p| layout.panel(Panel(p)).frame.corners().to_vec())
            .collect();
        furthest(&corners)
    }

    fn near(found: Option<f64>, wanted: f64) -> bool {
        found.is_some_and(|found| (found - wanted).abs() < 1e-9)
    }

    /// Heights on a face and distances of opposite corners of the regular
    /// solids: handbook values, from memory.
    #[test]
    fn solids_are_as_high_and_as_wide_as_any_handbook_says() {
        let golden = (1.0 + 5f64.sqrt()) / 2.0;
        for (solid, height, through) in [
            (Solid::Tetrahedron, (2f64 / 3.0).sqrt(), 1.0),
            (Solid::Octahedron, (2f64 / 3.0).sqrt(), 2f64.sqrt()),
            (Solid::Cube, 1.0, 3f64.sqrt()),
            (
                Solid::Icosahedron,
                golden * golden / 3f64.sqrt(),
                (golden * golden + 1.0).sqrt(),
            ),
        ] {
            let size = of_solid(solid, 20.0);
            assert!(near(size.height_mm, 20.0 * height), "{solid:?}");
            assert!(near(size.through_mm, 20.0 * through), "{solid:?}");
        }
    }

    /// Regular polygons: a triangle is ½·√3 high, a square 1, a hexagon √3
    /// high and 2 wide, a pentagon ½·√(5 + 2√5) high and the golden ratio
    /// wide (any handbook, from memory).
    #[test]
    fn panels_are_as_high_and_as_wide_as_regular_polygons() {
        let golden = (1.0 + 5f64.sqrt()) / 2.0;
        for (sides, height, through) in [
            (3, 3f64.sqrt() / 2.0, 1.0),
            (4, 1.0, 2f64.sqrt()),
            (5, (5.0 + 2.0 * 5f64.sqrt()).sqrt() / 2.0, golden),
            (6, 3f64.sqrt(), 2.0),
        ] {
            let size = panel(sides, 10.0);
            assert!(near(size.height_mm, 10.0 * height), "{sides}");
            assert!(near(size.through_mm, 10.0 * through), "{sides}");
        }
    }

    /// The closed forms against the corners of the panels in the layout.
    #[test]
    fn the_picture_is_as_wide_as_the_plan_says() {
        for project in [
            testing::solid(Solid::Icosahedron, 4, Closing::SetIn),
            testing::solid(Solid::Cube, 9, Closing::SetIn),
            testing::folded_pair(8, 2),
            testing::ring(8, 8, Closing::SetIn),
            testing::ring(12, 8, Closing::SetIn),
        ] {
            let seq = Sequence::new(project);
            let through = size(&seq).through_mm.unwrap();
            let seen = seen(seq.layout());
            assert!((through - seen).abs() < 0.02 * through, "{through} {seen}");
        }
    }

    /// A tetrahedron from the maker's own jobs is as wide as the built-in one.
    /// Its parts have no single size before they are joined.
    #[test]
    fn a_tetrahedron_by_hand_is_as_wide_as_the_one_by_name() {
        let by_name = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        let by_hand = testing::listed_tetrahedron(6);
        let [by_name, by_hand] = [by_name, by_hand].map(|project| {
            let seq = Sequence::new(project);
            size(&seq).through_mm.expect("one piece")
        });
        assert!((by_name - by_hand).abs() < 0.02, "{by_name} {by_hand}");

        let loose = Make::Jobs(JobList {
            panels: testing::named(&[("one", 0), ("two", 0)]),
            jobs: vec![JobKind::Panel(Panel(0)), JobKind::Panel(Panel(1))],
            shape: None,
        });
        let loose = Sequence::new(testing::project(vec![testing::panel(3, 6)], loose));
        assert_eq!(size(&loose).through_mm, None);
    }

    /// Sides 2 to 4 % longer and solids up to 18 % deeper than flat plates: a
    /// separate computation of beads drawn together by thread. It has them 12 %
    /// deeper at the least; here larger ones are less so, as their joins are the
    /// same and their faces larger.
    #[test]
    fn joined_pieces_are_sized_from_flat_plates_to_bellied_faces() {
        for rounds in 8..=10 {
            let solid = testing::solid(Solid::Tetrahedron, rounds, Closing::SetIn);
            let size = size(&Sequence::new(solid));
            let most = size.bellied.expect("its faces bulge");
            let longer = most.edge_mm / size.edge_mm;
            assert!((1.02..=1.04).contains(&longer), "{rounds}: {longer}");
            let deeper = most.height_mm.unwrap() / size.height_mm.unwrap();
            assert!((1.08..=1.18).contains(&deeper), "{rounds}: {deeper}");
        }
        let flat = size(&Sequence::new(testing::single(testing::panel(3, 8))));
        assert_eq!(flat.bellied, None);
        let ring = size(&Sequence::new(testing::ring(8, 4, Closing::SetIn)));
        let told: Vec<_> = ring.measures().map(|m| m.2.is_some()).collect();
        assert_eq!(told, [true, true, true, false]);
    }

    /// What grows out of a ring is as big as the panel that is planned so from the
    /// first; a second panel, joined to nothing, leaves no overall size.
    #[test]
    fn a_piece_without_a_plan_is_as_big_as_it_is_worked() {
        let ring = Sequence::new(testing::single(testing::panel(3, 2)));
        let amended = |seq: &Sequence, change| seq.amended(Step(0), &change).unwrap();
        let jobs = vec![ring.goal().order[0]];
        let grown = amended(&ring, Amendment::Rounds { jobs, rounds: 7 });
        let planned = Sequence::new(testing::single(testing::panel(3, 7)));
        assert_eq!(size(&grown), size(&planned));
        let [lies] = &crate::plan::flat::panels(grown.layout())[..] else {
            panic!("one panel is made");
        };
        assert_eq!(lies.rounds, 7);

        let two = amended(&grown, Amendment::Another(0));
        assert_eq!(size(&two).through_mm, None);
    }

    /// 8 rounds of cylinder 11/0: 8 up beads, two bead lengths each.
    #[test]
    fn a_side_is_two_bead_lengths_for_each_high_bead() {
        let seq = Sequence::new(testing::solid(Solid::Octahedron, 8, Closing::SetIn));
        assert!((size(&seq).edge_mm - 20.8).abs() < 1e-9);
    }
}
