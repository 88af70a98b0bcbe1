//! The faces of a solid, net or ring: whether they can be joined all round.

use super::error::{MakeFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::fit;
use super::panel::PanelKind;
use crate::beadwork::project::{Solid, SpecIndex};

/// What the faces must be like.
pub(super) struct Faces {
    /// What is made of them.
    pub(super) piece: &'static str,
    /// Sides of each.
    pub(super) sides: u8,
    /// How many there are.
    pub(super) most: usize,
}

/// Faces of a solid.
pub(super) fn number(solid: Solid) -> usize {
    match solid {
        Solid::Tetrahedron => 4,
        Solid::Octahedron => 8,
        Solid::Icosahedron => 20,
        Solid::Cube => 6,
    }
}

/// Edges of a solid: every face has its sides, every edge has two faces.
pub(super) fn edges(solid: Solid) -> usize {
    number(solid) * usize::from(solid.face_sides()) / 2
}

/// Reads the kinds of the faces.
pub(super) fn read(
    names: &[String],
    piece: &Faces,
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) -> Option<Vec<SpecIndex>> {
    if names.len() > piece.most {
        let many = MakeFault::TooManyFaces {
            given: names.len(),
            faces: piece.most,
        };
        faults.add(at, many);
    }
    let faces: Vec<Option<SpecIndex>> = names
        .iter()
        .enumerate()
        .map(|(place, name)| fit::kind(name, kinds, &at.place(place), faults))
        .collect();
    let faces: Vec<SpecIndex> = faces.into_iter().collect::<Option<_>>()?;
    joined(&faces, piece, kinds, at, faults).then_some(faces)
}

/// Whether all of these panels can be joined to each other. Tells of each kind
/// of panel once.
pub(super) fn joined(
    faces: &[SpecIndex],
    piece: &Faces,
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) -> bool {
    let before = faults.len();
    let mut first: Option<(&PanelKind, u32)> = None;
    for (place, &index) in faces.iter().enumerate() {
        if faces[..place].contains(&index) {
            continue;
        }
        let panel = &kinds[index];
        if panel.is_strip() {
            faults.add(at, MakeFault::StripAlone(Quote::new(&panel.name)));
            continue;
        }
        if panel.sides != piece.sides {
            let wrong = MakeFault::WrongSides {
                panel: Quote::new(&panel.name),
                sides: panel.sides,
                piece: piece.piece,
                wanted: piece.sides,
            };
            faults.add(at, wrong);
            continue;
        }
        let beads = match panel.edge() {
            Ok(Some(beads)) => beads,
            Ok(None) => continue,
            Err(fault) => {
                faults.add(at, fault);
                continue;
            }
        };
        let (other, other_beads) = *first.get_or_insert((panel, beads));
        if beads != other_beads {
            let unequal = MakeFault::Unequal {
                panel: Quote::new(&panel.name),
                beads,
                other: Quote::new(&other.name),
                other_beads,
            };
            faults.add(at, unequal);
        }
    }
    faults.len() == before
}
