//! Kinds of panel: panels that carry join rows on the same sides are one kind,
//! and a maker learns each kind once.

use crate::beadwork::layout::Layout;
use std::collections::BTreeMap;

/// One kind of panel, and how many of it the piece has.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelKind {
    /// The name of its pattern.
    pub panel: String,
    /// Join rows it carries.
    pub rows: u32,
    /// Whether those rows are on sides next to each other.
    pub side_by_side: bool,
    /// How many panels are of this kind.
    pub count: usize,
}

/// The kinds of panel of a piece, and why they cannot be fewer.
#[derive(Clone, Debug, PartialEq)]
pub struct Kinds {
    /// The kinds.
    pub kinds: Vec<PanelKind>,
    /// The fewest kinds that there can be.
    pub fewest: usize,
    /// Why there cannot be fewer.
    pub why: KindsReason,
}

/// Why there cannot be fewer kinds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KindsReason {
    /// There is already only one kind for each panel pattern.
    OneEach,
    /// The rows cannot be shared evenly between the panels of one pattern, but
    /// panels of one kind carry equally many.
    Uneven {
        /// Join rows.
        rows: u32,
        /// Panels.
        panels: usize,
    },
    /// Fewer kinds might be possible.
    NotProved,
}

/// The kinds of panel of a piece as it is planned.
pub fn kinds(layout: &Layout) -> Kinds {
    // The sides that carry a row, one bit for each side.
    let mut masks = vec![0_u32; layout.panels().len()];
    for (_, row) in layout.rows() {
        masks[row.panel.index()] |= 1 << row.side.0;
    }
    let mut found: BTreeMap<(usize, u32), usize> = BTreeMap::new();
    // For each pattern: its panels, the rows on them, and how many are fills,
    // which cannot carry a row.
    let mut shares: BTreeMap<usize, Share> = BTreeMap::new();
    for (panel, made) in layout.begun_panels() {
        let mask = masks[panel.index()];
        let sides = u32::from(layout.project().panels[made.spec].sides);
        *found
            .entry((made.spec, least_turned(mask, sides)))
            .or_default() += 1;
        let share = shares.entry(made.spec).or_default();
        share.panels += 1;
        share.rows += mask.count_ones();
        share.fills += usize::from(made.rim.is_some());
    }
    let kinds: Vec<PanelKind> = found
        .iter()
        .map(|(&(spec, mask), &count)| PanelKind {
            panel: layout.project().panels[spec].name.clone(),
            rows: mask.count_ones(),
            side_by_side: side_by_side(mask, u32::from(layout.project().panels[spec].sides)),
            count,
        })
        .collect();
    let (fewest, why) = fewest(&shares, kinds.len());
    Kinds { kinds, fewest, why }
}

/// Panels of one pattern, and what they carry.
#[derive(Clone, Copy, Debug, Default)]
struct Share {
    panels: usize,
    rows: u32,
    fills: usize,
}

fn fewest(shares: &BTreeMap<usize, Share>, kinds: usize) -> (usize, KindsReason) {
    if kinds == shares.len() {
        return (kinds, KindsReason::OneEach);
    }
    let free = shares.values().filter(|s| s.fills < s.panels);
    if let [Share { panels, rows, .. }] = free.copied().collect::<Vec<_>>()[..] {
        // All rows lie on this one pattern, however they are shared.
        if !(rows as usize).is_multiple_of(panels) {
            let why = match kinds == shares.len() + 1 {
                true => KindsReason::Uneven { rows, panels },
                false => KindsReason::NotProved,
            };
            return (shares.len() + 1, why);
        }
    }
    (shares.len(), KindsReason::NotProved)
}

/// A mask of sides, rotated to its smallest value.
fn least_turned(mask: u32, sides: u32) -> u32 {
    let all = (1 << sides) - 1;
    let turned = |r: u32| (mask << r | mask >> (sides - r)) & all;
    (0..sides).map(turned).min().unwrap_or(mask)
}

/// In the smallest rotation, rows side by side fill the lowest bits.
fn side_by_side(mask: u32, sides: u32) -> bool {
    mask.count_ones() < 2 || least_turned(mask, sides) == (1 << mask.count_ones()) - 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Make, Solid};
    use crate::beadwork::solid::Polyhedra;
    use crate::beadwork::{Sequence, testing};
    use std::collections::HashSet;

    /// The fewest kinds, by trying every choice of carriers of a solid. Only
    /// the solid's faces are taken from the engine.
    fn exhaustive(solid: Solid) -> usize {
        let faces = Polyhedra::regular(solid, 1.0).faces;
        let sides = faces[0].len();
        let mut joins = vec![];
        for (f, face) in faces.iter().enumerate() {
            for s in 0..sides {
                let (a, b) = (face[s], face[(s + 1) % sides]);
                for (g, other) in faces.iter().enumerate().skip(f + 1) {
                    let back = (0..sides).find(|&t| (other[(t + 1) % sides], other[t]) == (a, b));
                    joins.extend(back.map(|t| [(f, s), (g, t)]));
                }
            }
        }
        (0..1u32 << joins.len())
            .map(|choice| {
                let mut masks = vec![0u32; faces.len()];
                for (nth, join) in joins.iter().enumerate() {
                    let (face, side) = join[(choice >> nth & 1) as usize];
                    masks[face] |= 1 << side;
                }
                let turned = masks.iter().map(|&m| least_turned(m, sides as u32));
                turned.collect::<HashSet<_>>().len()
            })
            .min()
            .unwrap()
    }

    #[test]
    fn every_choice_of_carriers_tried_no_solid_has_fewer_kinds() {
        for (solid, rounds) in [
            (Solid::Tetrahedron, 6),
            (Solid::Octahedron, 6),
            (Solid::Cube, 9),
        ] {
            let seq = Sequence::new(testing::solid(solid, rounds, Closing::SetIn));
            let kinds = kinds(seq.layout());
            assert_eq!(kinds.kinds.len(), exhaustive(solid), "{solid:?}");
            assert_eq!(kinds.fewest, kinds.kinds.len(), "{solid:?}");
            assert_ne!(kinds.why, KindsReason::NotProved, "{solid:?}");
        }
    }

    /// 30 rows on 20 faces, and 5N rows on 4N faces: each face cannot carry the
    /// same number, so one kind is not enough, and two are.
    #[test]
    fn icosahedron_and_ring_have_two_kinds_and_cannot_have_one() {
        for (project, rows, panels) in [
            (
                testing::solid(Solid::Icosahedron, 4, Closing::SetIn),
                30,
                20,
            ),
            (testing::ring(8, 5, Closing::SetIn), 40, 32),
        ] {
            let kinds = kinds(Sequence::new(project).layout());
            assert_eq!((kinds.kinds.len(), kinds.fewest), (2, 2), "{kinds:?}");
            assert_eq!(kinds.why, KindsReason::Uneven { rows, panels });
        }
    }

    /// A ring whose last faces are filled with a panel of their own: these
    /// cannot carry a row, and 40 rows cannot be shared evenly between the 24
    /// others.
    #[test]
    fn fills_are_a_kind_of_their_own() {
        let mut project = testing::ring(8, 6, Closing::Fill);
        project.panels.push(testing::inward(3, 6, 2));
        if let Make::Ring { faces, .. } = &mut project.make {
            *faces = vec![0, 0, 0, 1];
        }
        let kinds = kinds(Sequence::new(project).layout());
        assert_eq!((kinds.kinds.len(), kinds.fewest), (3, 3), "{kinds:?}");
        let (rows, panels) = (40, 24);
        assert_eq!(kinds.why, KindsReason::Uneven { rows, panels });
    }

    #[test]
    fn each_pattern_has_its_own_kinds() {
        let mut project = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        let mut other = project.panels[0].clone();
        other.name = "other".into();
        project.panels.push(other);
        if let Make::Solid { faces, .. } = &mut project.make {
            *faces = vec![0, 1];
        }
        let kinds = kinds(Sequence::new(project).layout());
        let all: usize = kinds.kinds.iter().map(|k| k.count).sum();
        assert_eq!(all, 4);
        assert!(kinds.kinds.iter().any(|k| k.panel == "other"));
    }
}
