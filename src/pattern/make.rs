//! What is made from the panels.

use super::faces::{Faces, fills, inward, kind, tips};
use super::file::{
    CloseFile, HowsFile, JobFile, JoinFile, List, MakeFile, MakeFoldedPair, MakeRing,
    MakeRingOfNets, MakeSolid,
};
use super::jobs;
use super::limit;
use super::panel::CheckedPanel;
use super::source::Field;
use crate::beadwork::project::{Closing, INSERT_FACES, Make, Solid, SpecIndex};
use std::collections::HashSet;

/// Triangles of one tetrahedron in a ring.
const TETRAHEDRON_FACES: usize = 4;

/// Join rows for each tetrahedron in a ring: four of its own, and a hinge.
const TETRAHEDRON_JOINS: usize = 5;

/// Triangles of a net that folds into a pair.
const NET_FACES: usize = 6;

/// Join rows of a folded pair: six spokes of the net, and six sides of its two
/// openings.
const PAIR_JOINS: usize = 12;

/// An opening of a net: the kind of panel that closes it, and how.
type NetOpening = (SpecIndex, Closing);

/// What is made, and approximately how many beads it takes: rows and tips are
/// counted as if every join had its own.
pub(super) struct MadePiece {
    pub(super) make: Make,
    /// The kinds of the faces of its inserts, or none.
    pub(super) insert: Vec<SpecIndex>,
    pub(super) beads: u64,
}

/// Reads what is made. `None` if something is wrong with it.
pub(super) fn read(
    file: &MakeFile,
    joins: &[JoinFile],
    kinds: &[CheckedPanel],
    at: Field,
) -> Option<MadePiece> {
    let made = match file {
        MakeFile::Panel(one) => kind(&one.panel, kinds, at.key("panel")).map(|panel| MadePiece {
            make: Make::Single(panel),
            insert: vec![],
            beads: kinds[panel].beads,
        }),
        MakeFile::Solid(file) => solid(file, kinds, at),
        MakeFile::FoldedPair(file) => folded_pair(file, kinds, at),
        MakeFile::Ring(file) => ring(file, kinds, at),
        MakeFile::RingOfNets(file) => ring_of_nets(file, kinds, at),
        MakeFile::Jobs(file) => jobs::read(file, joins, kinds, at),
    }?;
    // Checked before a layout is made that would fill the memory.
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

/// The kinds of panel that are worked on the rim of an opening.
pub(super) fn worked_on_rims(make: &MakeFile) -> HashSet<&str> {
    fn around<T>(list: &[T], nth: usize) -> Option<&T> {
        list.get(nth % list.len().max(1))
    }
    fn lids(close: &[CloseFile]) -> HashSet<&str> {
        let fills = close.iter().filter(|close| close.how == Closing::Fill);
        fills.filter_map(|close| close.with.as_deref()).collect()
    }
    fn fill(job: &JobFile) -> Option<&str> {
        match job {
            JobFile::Fill(job) => Some(&job.fill),
            _ => None,
        }
    }
    match make {
        MakeFile::Panel(_) => HashSet::new(),
        MakeFile::Solid(file) => {
            let last = around(&file.faces, file.solid.faces() - 1);
            let fill = last.filter(|_| file.close == Some(Closing::Fill));
            fill.map(String::as_str).into_iter().collect()
        }
        MakeFile::FoldedPair(file) => lids(&file.close),
        MakeFile::Ring(file) => {
            let is_filled = |nth: usize| match &file.close {
                Some(HowsFile::All(how)) => *how == Closing::Fill,
                Some(HowsFile::Each(hows)) => around(hows, nth) == Some(&Closing::Fill),
                None => false,
            };
            let nth = (0..file.ring.0 as usize).filter(|nth| is_filled(*nth));
            let last = |nth| around(&file.faces, nth * TETRAHEDRON_FACES + TETRAHEDRON_FACES - 1);
            nth.filter_map(last).map(String::as_str).collect()
        }
        MakeFile::RingOfNets(file) => lids(&file.close),
        MakeFile::Jobs(file) => file.jobs.iter().filter_map(fill).collect(),
    }
}

/// Beads of `number` faces, whose list of kinds repeats, and of the rows and
/// tips of their joins.
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
    let (solid, number) = (file.solid, file.solid.faces());
    let named = Solid::ALL.iter().find(|(_, known)| *known == solid);
    let piece = Faces {
        piece: named.map_or("solid", |(name, _)| name),
        sides: solid.face_sides(),
        number,
    };
    let last = |face| (face == number - 1).then_some(0);
    let how = HowsFile::All(file.close.unwrap_or(Closing::SetIn));
    let close = (&how, at.key("close"));
    let (faces, closings) = closed(&piece, &file.faces, close, last, kinds, at)?;
    let tips = tips(file.tips, &faces, kinds, at.key("tips"));
    // Every face has its sides, and every edge belongs to two faces.
    let joins = number * usize::from(solid.face_sides()) / 2;
    let is_open = closings[0] == Closing::Open;
    let open = (solid.face_sides(), usize::from(is_open));
    let (insert, of_insert) = inserts(&file.insert, open, tips, kinds, at)?;
    Some(MadePiece {
        beads: beads((number, &faces), joins, tips, kinds) + of_insert,
        make: Make::Solid {
            solid,
            faces,
            closing: closings[0],
            tips,
        },
        insert,
    })
}

/// Reads the faces of the inserts, one for each of so many open faces with so many
/// sides, three; and how many beads all take.
fn inserts(
    names: &Option<List<String, 1, 3>>,
    (sides, open): (u8, usize),
    tips: u8,
    kinds: &[CheckedPanel],
    at: Field,
) -> Option<(Vec<SpecIndex>, u64)> {
    let Some(names) = names else {
        return Some((vec![], 0));
    };
    let at = at.key("insert");
    let before = at.problems();
    if open == 0 {
        at.refuse(
            "an insert, but no face stays open for it",
            match sides {
                3 => "let a face stay open (\"open\" in \"close\"), or leave the insert out",
                _ => "leave the insert out",
            },
        );
    }
    let piece = Faces {
        piece: "insert",
        sides: 3,
        number: INSERT_FACES,
    };
    if sides != piece.sides {
        at.refuse(
            "an insert of three faces does not fit a face of four sides",
            "leave it out, or take a solid of triangles",
        );
    }
    let faces = piece.read(names, kinds, at)?;
    let each = beads((INSERT_FACES, &faces), INSERT_FACES, tips, kinds);
    (at.problems() == before).then_some((faces, open as u64 * each))
}

/// How many of so many openings stay open, if the list of how they are closed is
/// taken round again.
fn left_open(closings: impl Iterator<Item = Closing> + Clone, openings: usize) -> usize {
    let all = closings.cycle().take(openings);
    all.filter(|closing| *closing == Closing::Open).count()
}

fn ring(file: &MakeRing, kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let tetrahedra = file.ring.0 as usize;
    let piece = Faces {
        piece: "ring",
        sides: 3,
        number: tetrahedra * TETRAHEDRON_FACES,
    };
    let last = |face| {
        let is_last = face % TETRAHEDRON_FACES == TETRAHEDRON_FACES - 1;
        is_last.then_some(face / TETRAHEDRON_FACES)
    };
    let set_in = HowsFile::All(Closing::SetIn);
    let close = (file.close.as_ref().unwrap_or(&set_in), at.key("close"));
    let (faces, closings) = closed(&piece, &file.faces, close, last, kinds, at)?;
    let tips = tips(file.tips, &faces, kinds, at.key("tips"));
    let joins = tetrahedra * TETRAHEDRON_JOINS;
    let open = left_open(closings.iter().copied(), tetrahedra);
    let (insert, of_insert) = inserts(&file.insert, (3, open), tips, kinds, at)?;
    Some(MadePiece {
        beads: beads((piece.number, &faces), joins, tips, kinds) + of_insert,
        insert,
        make: Make::Ring {
            tetrahedra: u16::try_from(tetrahedra).ok()?,
            faces,
            closings,
            tips,
        },
    })
}

/// Reads the faces of a solid or a ring, and how its openings are closed.
/// `opening` numbers the faces that close one.
fn closed(
    piece: &Faces,
    names: &[String],
    (close, close_at): (&HowsFile, Field),
    opening: impl Fn(usize) -> Option<usize>,
    kinds: &[CheckedPanel],
    at: Field,
) -> Option<(Vec<SpecIndex>, Vec<Closing>)> {
    let faces = piece.read(names, kinds, at.key("faces"))?;
    let closings: Vec<Closing> = match close {
        HowsFile::All(how) => vec![*how],
        HowsFile::Each(hows) => hows.to_vec(),
    };
    // An empty list has already been reported.
    closings.first()?;
    for face in 0..piece.number {
        if let Some(opening) = opening(face) {
            let face = faces[face % faces.len()];
            let closing = closings[opening % closings.len()];
            let before = close_at.problems();
            fills(face, closing, kinds, close_at);
            if close_at.problems() > before {
                break;
            }
        }
    }
    Some((faces, closings))
}

fn ring_of_nets(file: &MakeRingOfNets, kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let tetrahedra = usize::from(file.ring_of_nets.0 as u16);
    let piece = Faces {
        piece: "ring",
        sides: 3,
        number: tetrahedra / 2 * NET_FACES,
    };
    let faces = piece.read(&file.faces, kinds, at.key("faces"));
    let close = (&file.close[..], at.key("close"));
    let (faces, closings) = openings(&piece, faces, close, kinds)?;
    let all: Vec<SpecIndex> = faces
        .iter()
        .copied()
        .chain(closings.iter().map(|c| c.0))
        .collect();
    let tips = tips(file.tips, &all, kinds, at.key("tips"));
    let lids: Vec<SpecIndex> = closings.iter().map(|c| c.0).collect();
    // 11 rows for each net: where it folds, two lie side by side.
    let joins = tetrahedra / 2 * (PAIR_JOINS - 1);
    let open = left_open(closings.iter().map(|c| c.1), tetrahedra);
    let (insert, of_insert) = inserts(&file.insert, (3, open), tips, kinds, at)?;
    Some(MadePiece {
        beads: beads((piece.number, &faces), joins, tips, kinds)
            + beads((tetrahedra, &lids), 0, 0, kinds)
            + of_insert,
        insert,
        make: Make::RingOfNets {
            tetrahedra: u16::try_from(tetrahedra).ok()?,
            faces,
            closings,
            tips,
        },
    })
}

fn folded_pair(file: &MakeFoldedPair, kinds: &[CheckedPanel], at: Field) -> Option<MadePiece> {
    let piece = Faces {
        piece: "folded pair",
        sides: 3,
        number: NET_FACES,
    };
    let faces = piece.read(&file.folded_pair, kinds, at.key("folded-pair"));
    let close = (&file.close[..], at.key("close"));
    let (faces, closings) = openings(&piece, faces, close, kinds)?;
    let closings: [(SpecIndex, Closing); 2] = closings.try_into().ok()?;
    let all = [&faces[..], &closings.map(|c| c.0)].concat();
    let tips = tips(file.tips, &all, kinds, at.key("tips"));
    let closed = closings.iter().map(|c| kinds[c.0].beads).sum::<u64>();
    let open = left_open(closings.iter().map(|c| c.1), closings.len());
    let (insert, of_insert) = inserts(&file.insert, (3, open), tips, kinds, at)?;
    Some(MadePiece {
        beads: beads((NET_FACES, &faces), PAIR_JOINS, tips, kinds) + closed + of_insert,
        insert,
        make: Make::FoldedPair {
            faces,
            closings,
            tips,
        },
    })
}

/// Reads how the openings of nets are closed. `faces` are the kinds of the
/// nets' own panels, if nothing is wrong with them.
fn openings(
    piece: &Faces,
    faces: Option<Vec<SpecIndex>>,
    (close, list): (&[CloseFile], Field),
    kinds: &[CheckedPanel],
) -> Option<(Vec<SpecIndex>, Vec<NetOpening>)> {
    let opening = |(place, close): (usize, &CloseFile)| {
        let at = list.entry(place);
        let closing = close.how;
        let with = match &close.with {
            Some(name) => kind(name, kinds, at.key("with"))?,
            // An opening that stays open is given the kind of the net's panels.
            None if closing == Closing::Open => *faces.as_ref()?.first()?,
            None => {
                return at.refused(
                    "nothing says which panel closes the opening",
                    "add \"with\" and the name of a panel",
                );
            }
        };
        inward(with, closing, kinds, at.key("with"));
        fills(with, closing, kinds, at.key("with"));
        Some((with, closing))
    };
    let closings: Vec<_> = close.iter().enumerate().map(opening).collect();
    let faces = faces?;
    let closings: Vec<(SpecIndex, Closing)> = closings.into_iter().collect::<Option<_>>()?;
    let lids = closings.iter().map(|c| c.0);
    let all: Vec<SpecIndex> = faces.iter().copied().chain(lids).collect();
    let is_closed = !closings.is_empty() && piece.are_joined(&all, kinds, list);
    is_closed.then_some((faces, closings))
}
