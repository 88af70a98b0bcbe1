//! What is made of the panels.

use super::faces::{Faces, fills, inward, kind, tips};
use super::file::{HowFile, MakeFile, MakeFoldedPair, MakeRing, MakeSolid, SolidFile, WholeNumber};
use super::jobs;
use super::limit;
use super::panel::CheckedPanel;
use super::source::Field;
use super::strip;
use crate::beadwork::project::{Closing, Make, Solid, SpecIndex};

/// Triangles of a ring's tetrahedron.
const TETRAHEDRON_FACES: usize = 4;

/// Join rows of a ring for each tetrahedron: four of its own, and a hinge.
const TETRAHEDRON_JOINS: usize = 5;

/// Triangles of a net that folds into a pair.
const NET_FACES: usize = 6;

/// Join rows of a folded pair: six spokes of the net, and six sides of its two
/// openings.
const PAIR_JOINS: usize = 12;

/// What is made, and about how many beads it takes: rows and tips as if every
/// join had its own.
pub(super) struct MadePiece {
    pub(super) make: Make,
    pub(super) beads: u64,
}

/// Reads what is made. Nothing, if something is wrong with it.
pub(super) fn read(file: &MakeFile, kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let made = match file {
        MakeFile::Panel(one) => kind(&one.panel, kinds, at.key("panel")).map(|panel| MadePiece {
            make: Make::Single(panel),
            beads: kinds[panel].beads,
        }),
        MakeFile::Solid(file) => solid(file, kinds, at),
        MakeFile::FoldedPair(file) => folded_pair(file, kinds, at),
        MakeFile::Ring(file) => ring(file, kinds, at),
        MakeFile::Jobs(file) => jobs::read(&file.jobs, kinds, at.key("jobs")),
    }?;
    if let Make::Jobs(list) = &made.make {
        let mut panels = list.panels.iter().map(|panel| &kinds[panel.spec]);
        if let Some(panel) = panels.find(|panel| panel.is_strip()) {
            at.key("jobs").note(strip::alone(&panel.name));
            return None;
        }
    }
    // So that nothing is laid out that would fill the memory.
    if made.beads > limit::PIECE_BEADS {
        at.refuse(
            format!(
                "about {} beads; {} is the most",
                made.beads,
                limit::PIECE_BEADS
            ),
            "take fewer rounds or fewer panels",
        );
    }
    Some(made)
}

/// Beads of so many faces, whose kinds are taken round again, and of the rows
/// and tips of their joins.
fn beads(
    (number, faces): (usize, &[SpecIndex]),
    joins: usize,
    tips: u8,
    kinds: &[CheckedPanel],
) -> u64 {
    let all = faces.iter().cycle().take(number);
    let row = faces.first().map_or(0, |&face| kinds[face].row());
    all.map(|&face| kinds[face].beads).sum::<u64>() + joins as u64 * (row + u64::from(tips))
}

fn solid(file: &MakeSolid, kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let (solid, number) = match file.solid {
        SolidFile::Tetrahedron => (Solid::Tetrahedron, 4),
        SolidFile::Octahedron => (Solid::Octahedron, 8),
        SolidFile::Icosahedron => (Solid::Icosahedron, 20),
        SolidFile::Cube => (Solid::Cube, 6),
    };
    let named = Solid::ALL.iter().find(|(_, known)| *known == solid);
    let piece = Faces {
        piece: named.map_or("solid", |(name, _)| name),
        sides: solid.face_sides(),
        number,
    };
    let last = |face| face == number - 1;
    let (faces, closing, tips) =
        closed(&piece, &file.faces, file.close, file.tips, last, kinds, at)?;
    // Every face has its sides, every edge has two faces.
    let joins = number * usize::from(solid.face_sides()) / 2;
    Some(MadePiece {
        beads: beads((number, &faces), joins, tips, kinds),
        make: Make::Solid {
            solid,
            faces,
            closing,
            tips,
        },
    })
}

fn ring(file: &MakeRing, kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let tetrahedra = file.ring.0 as usize;
    let piece = Faces {
        piece: "ring",
        sides: 3,
        number: tetrahedra * TETRAHEDRON_FACES,
    };
    let last = |face| face % TETRAHEDRON_FACES == TETRAHEDRON_FACES - 1;
    let (faces, closing, tips) =
        closed(&piece, &file.faces, file.close, file.tips, last, kinds, at)?;
    let joins = tetrahedra * TETRAHEDRON_JOINS;
    Some(MadePiece {
        beads: beads((piece.number, &faces), joins, tips, kinds),
        make: Make::Ring {
            tetrahedra: u16::try_from(tetrahedra).ok()?,
            faces,
            closing,
            tips,
        },
    })
}

/// Reads the faces of a solid or a ring, how the `last` of them are closed, and
/// the tips.
fn closed(
    piece: &Faces,
    names: &[String],
    close: Option<HowFile>,
    tip_beads: Option<WholeNumber<0, 2>>,
    last: impl Fn(usize) -> bool,
    kinds: &[CheckedPanel],
    at: Field,
) -> Option<(Vec<SpecIndex>, Closing, u8)> {
    let faces = piece.read(names, kinds, at.key("faces"))?;
    let tips = tips(tip_beads, &faces, kinds, at.key("tips"));
    let closing = closing(close.unwrap_or(HowFile::SetIn));
    let last = (0..piece.number).filter(|&face| last(face));
    let mut last = last.map(|face| faces[face % faces.len()]);
    fills(&mut last, closing, kinds, at.key("close"));
    Some((faces, closing, tips))
}

fn folded_pair(file: &MakeFoldedPair, kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let piece = Faces {
        piece: "folded pair",
        sides: 3,
        number: NET_FACES,
    };
    let faces = piece.read(&file.folded_pair, kinds, at.key("folded-pair"));
    let list = at.key("close");
    let opening = |(place, close): (usize, &super::file::CloseFile)| {
        let at = list.entry(place);
        let closing = closing(close.how);
        let with = match &close.with {
            Some(name) => kind(name, kinds, at.key("with"))?,
            // An opening that stays open has the kind of the net, to go by.
            None if closing == Closing::Open => *faces.as_ref()?.first()?,
            None => {
                at.refuse(
                    "nothing says which panel closes the opening",
                    "add \"with\" and the name of a panel",
                );
                return None;
            }
        };
        inward(with, closing, kinds, at.key("with"));
        Some((with, closing))
    };
    let closings: Vec<_> = file.close.iter().enumerate().map(opening).collect();
    let faces = faces?;
    let [Some(one), Some(other)] = closings[..] else {
        return None;
    };
    let all = [&faces[..], &[one.0, other.0]].concat();
    let is_closed = piece.are_joined(&all, kinds, list);
    let tips = tips(file.tips, &all, kinds, at.key("tips"));
    let closed = kinds[one.0].beads + kinds[other.0].beads;
    is_closed.then(|| MadePiece {
        beads: beads((NET_FACES, &faces), PAIR_JOINS, tips, kinds) + closed,
        make: Make::FoldedPair {
            faces,
            closings: [one, other],
            tips,
        },
    })
}

fn closing(how: HowFile) -> Closing {
    match how {
        HowFile::SetIn => Closing::SetIn,
        HowFile::Fill => Closing::Fill,
        HowFile::Open => Closing::Open,
    }
}
