//! What is made of the panels.

use super::error::{MakeFault, Quote};
use super::faces::{self, Faces};
use super::faults::Faults;
use super::field::Field;
use super::file::{HowFile, MakeFile, MakeFoldedPair, MakeRing, MakeSolid, SolidFile};
use super::fit::{fills, inward, kind, tips};
use super::job_line;
use super::jobs;
use super::panel::PanelKind;
use super::piece_size;
use crate::beadwork::project::{Closing, Make, Solid, SpecIndex};

/// Triangles of a ring's tetrahedron.
const TETRAHEDRON_FACES: usize = 4;

/// Triangles of a net that folds into a pair.
const NET_FACES: usize = 6;

/// Reads what is made. Nothing, if something is wrong with it.
pub(super) fn read(file: &MakeFile, kinds: &[PanelKind], faults: &mut Faults) -> Option<Make> {
    let at = Field::Top.key("make");
    let make = match file {
        MakeFile::Panel(one) => kind(&one.panel, kinds, &at.key("panel"), faults).map(Make::Single),
        MakeFile::Solid(file) => solid(file, kinds, &at, faults),
        MakeFile::FoldedPair(file) => folded_pair(file, kinds, &at, faults),
        MakeFile::Ring(file) => ring(file, kinds, &at, faults),
        MakeFile::Jobs(file) => jobs::read(&file.jobs, kinds, &at.key("jobs"), faults)
            .map(|lines| Make::Jobs(job_line::list(lines, |spec| kinds[spec].sides))),
    }?;
    if let Make::Jobs(list) = &make {
        let strip = list.panels.iter().find(|p| kinds[p.spec].is_strip());
        if let Some(panel) = strip {
            let name = Quote::new(&kinds[panel.spec].name);
            faults.add(&at.key("jobs"), MakeFault::StripAlone(name));
            return None;
        }
    }
    piece_size::check(&make, kinds, &at, faults);
    Some(make)
}

fn solid(file: &MakeSolid, kinds: &[PanelKind], at: &Field, faults: &mut Faults) -> Option<Make> {
    let solid = match file.solid {
        SolidFile::Tetrahedron => Solid::Tetrahedron,
        SolidFile::Octahedron => Solid::Octahedron,
        SolidFile::Icosahedron => Solid::Icosahedron,
        SolidFile::Cube => Solid::Cube,
    };
    let piece = Faces {
        piece: name(solid),
        sides: solid.face_sides(),
        most: faces::number(solid),
    };
    let faces = faces::read(&file.faces, &piece, kinds, &at.key("faces"), faults)?;
    let tips = tips(file.tips, &faces, kinds, &at.key("tips"), faults);
    let closing = closing(file.close.unwrap_or(HowFile::SetIn));
    let last = faces[(piece.most - 1) % faces.len()];
    fills(&[last], closing, kinds, &at.key("close"), faults);
    Some(Make::Solid {
        solid,
        faces,
        closing,
        tips,
    })
}

fn ring(file: &MakeRing, kinds: &[PanelKind], at: &Field, faults: &mut Faults) -> Option<Make> {
    let piece = Faces {
        piece: "ring",
        sides: 3,
        most: file.ring as usize * TETRAHEDRON_FACES,
    };
    let faces = faces::read(&file.faces, &piece, kinds, &at.key("faces"), faults)?;
    let tips = tips(file.tips, &faces, kinds, &at.key("tips"), faults);
    let closing = closing(file.close.unwrap_or(HowFile::SetIn));
    let each = (0..piece.most).skip(TETRAHEDRON_FACES - 1);
    let last = each.step_by(TETRAHEDRON_FACES);
    let last: Vec<SpecIndex> = last.map(|face| faces[face % faces.len()]).collect();
    fills(&last, closing, kinds, &at.key("close"), faults);
    Some(Make::Ring {
        tetrahedra: u16::try_from(file.ring).ok()?,
        faces,
        closing,
        tips,
    })
}

fn folded_pair(
    file: &MakeFoldedPair,
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) -> Option<Make> {
    let piece = Faces {
        piece: "folded pair",
        sides: 3,
        most: NET_FACES,
    };
    let net = at.key("folded-pair");
    let faces = faces::read(&file.folded_pair, &piece, kinds, &net, faults);
    let list = at.key("close");
    let closings: Vec<Option<(SpecIndex, Closing)>> = file
        .close
        .iter()
        .enumerate()
        .map(|(place, close)| {
            let at = list.place(place);
            let closing = closing(close.how);
            let with = match &close.with {
                Some(name) => kind(name, kinds, &at.key("with"), faults)?,
                // An opening that stays open has the kind of the net, to go by.
                None if closing == Closing::Open => *faces.as_ref()?.first()?,
                None => {
                    faults.add(&at, MakeFault::ClosedWithNothing);
                    return None;
                }
            };
            inward(with, closing, kinds, &at.key("with"), faults);
            Some((with, closing))
        })
        .collect();
    let faces = faces?;
    let [Some(one), Some(other)] = closings[..] else {
        return None;
    };
    let all = [&faces[..], &[one.0, other.0]].concat();
    let closed = faces::joined(&all, &piece, kinds, &list, faults);
    let tips = tips(file.tips, &all, kinds, &at.key("tips"), faults);
    closed.then_some(Make::FoldedPair {
        faces,
        closings: [one, other],
        tips,
    })
}

fn closing(how: HowFile) -> Closing {
    match how {
        HowFile::SetIn => Closing::SetIn,
        HowFile::Fill => Closing::Fill,
        HowFile::Open => Closing::Open,
    }
}

fn name(solid: Solid) -> &'static str {
    let known = Solid::ALL.iter().find(|(_, s)| *s == solid);
    known.map_or("solid", |(name, _)| name)
}
