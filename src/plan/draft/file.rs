//! The file of a draft: beads, panels, colours, and what is made from them.

use super::{ColourAsk, DraftOptions, DraftShape};
use crate::beadwork::Round;
use crate::beadwork::project::Closing;
use crate::pattern::NameTable;
use crate::pattern::file::{
    BeadFile, CloseFile, File, HexColour, HowsFile, List, MakeFile, MakeFoldedPair, MakePanel,
    MakeRing, MakeSolid, NeedleFile, NeedleSize, PanelFile, StoneMm, Text, ThreadFile, WayFile,
    WholeNumber,
};

/// The thread and the needle with which a draft begins. If its holes get too
/// full for them, the draft uses finer ones.
pub(super) const THREAD: &str = "braided 0.15";
pub(super) const NEEDLE: u32 = 12;

/// The panel of every face.
const FACE: &str = "face";

/// The panel that keeps an opening for the stone.
const WINDOW: &str = "window";

/// The pattern file for panels of `rounds` rounds, with an opening if the work
/// stops at a round.
pub(super) fn file(ask: &DraftOptions, rounds: u32, stop_at: Option<Round>) -> File {
    let palette = ask.palette();
    let bead = |colour: &ColourAsk| {
        let bead = BeadFile {
            name: Text(colour.name.clone()),
            size: ask.bead.file(),
            colour: HexColour(colour.colour),
        };
        (colour.letter.to_string(), bead)
    };
    let mut panels = vec![];
    let window = stop_at.map(|stop_at| PanelFile {
        way: Some(WayFile::Inward),
        open: Some(WholeNumber(stop_at.0 - 1)),
        stone: ask.stone_mm.map(StoneMm),
        ..panel(ask, rounds, &palette)
    });
    match window {
        // A single flat panel keeps the opening itself.
        Some(window) if !ask.shape.is_joined() => panels.push((FACE.to_string(), window)),
        window => {
            panels.push((FACE.to_string(), panel(ask, rounds, &palette)));
            panels.extend(window.map(|w| (WINDOW.to_string(), w)));
        }
    }
    let named = ask.shape.name().replace('-', " ");
    let title = ask.title.clone();
    let title = title.unwrap_or_else(|| format!("New {named}"));
    File {
        threadmark: WholeNumber(1),
        title: Text(title),
        about: None,
        beads: NameTable(palette.iter().map(bead).collect()),
        thread: ThreadFile::Named(ask.thread.as_deref().unwrap_or(THREAD).into()),
        needle: NeedleFile::Sized(NeedleSize(ask.needle.unwrap_or(NEEDLE))),
        panels: NameTable(panels),
        make: make(ask, stop_at.is_some()),
        joins: None,
        own: None,
    }
}

/// A panel in stripes: its first colour everywhere, then each other colour in
/// every few rounds, including the outermost.
fn panel(ask: &DraftOptions, rounds: u32, palette: &[ColourAsk]) -> PanelFile {
    let all = palette.len() as u32;
    let mut colours = vec![format!("all: {}*", palette[0].letter)];
    for (nth, colour) in (1..all).zip(&palette[1..]) {
        // Counted back from the outermost round, which the last colour has.
        let back = all - 1 - nth;
        let first = (rounds + all - back - 1) % all + 1;
        if first <= rounds {
            let rounds = match rounds - first < all {
                true => first.to_string(),
                false => format!("{first}-{rounds} by {all}"),
            };
            colours.push(format!("{rounds}: {}*", colour.letter));
        }
    }
    let last = palette[palette.len() - 1].letter;
    let joined = ask.shape.is_joined();
    PanelFile {
        sides: Some(WholeNumber(ask.shape.sides().into())),
        rounds: Some(WholeNumber(rounds)),
        colours: List(colours),
        row: joined.then(|| format!("{last}*")),
        ..PanelFile::default()
    }
}

fn make(ask: &DraftOptions, with_stone: bool) -> MakeFile {
    let faces = |count: usize| {
        let mut faces = vec![FACE.to_string(); if with_stone { count } else { 1 }];
        if with_stone {
            faces[count - 1] = WINDOW.to_string();
        }
        faces
    };
    let close = with_stone.then_some(Closing::Fill);
    if let Some(solid) = ask.shape.solid() {
        return MakeFile::Solid(MakeSolid {
            solid,
            faces: List(faces(solid.faces())),
            close,
            tips: None,
            insert: None,
        });
    }
    match ask.shape {
        DraftShape::FoldedPair => {
            let closed = |how, with: &str| CloseFile {
                how,
                with: Some(with.into()),
            };
            MakeFile::FoldedPair(MakeFoldedPair {
                folded_pair: List(vec![FACE.into()]),
                close: List(vec![
                    closed(Closing::SetIn, FACE),
                    match with_stone {
                        true => closed(Closing::Fill, WINDOW),
                        false => closed(Closing::SetIn, FACE),
                    },
                ]),
                tips: None,
                insert: None,
            })
        }
        DraftShape::Ring => MakeFile::Ring(MakeRing {
            ring: WholeNumber(ask.tetrahedra.into()),
            faces: List(faces(4)),
            close: close.map(HowsFile::All),
            tips: None,
            insert: None,
        }),
        _ => MakeFile::Panel(MakePanel { panel: FACE.into() }),
    }
}
