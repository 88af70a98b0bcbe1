//! A panel as it was really worked, written as a panel of a pattern.

use super::stone;
use crate::beadwork::Colour;
use crate::beadwork::amend::RoundsByLaw;
use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::layout::Layout;
use crate::beadwork::number::{Panel, Round, Side};
use crate::beadwork::own_rounds::GapChange;
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::{Growth, PanelSpec, WorkDirection};
use crate::beadwork::sequence::Sequence;
use crate::pattern::file::{GapFile, List, PanelFile, StoneMm, WayFile, WholeNumber};
use crate::pattern::gap_text::spell;
use crate::pattern::{colour_write, growth, paint};

/// Changes a panel of the file to one that was worked; `pattern` is the panel that
/// the file had.
pub(super) fn rewrite(panel: &mut PanelFile, seq: &Sequence, made: Panel, pattern: &PanelSpec) {
    let piece = seq.layout();
    let (open, stone) = (piece.panel(made).open(), stone(seq, made));
    if open != pattern.open {
        panel.open = Some(WholeNumber(open));
    }
    // A panel that is worked outward elsewhere can fill an opening.
    let (_, changes) = piece.planned_kind_and_changes(made);
    let is_outward = matches!(panel.way, None | Some(WayFile::Outward));
    let is_inward = piece.way(made) == WorkDirection::Inward;
    if is_outward && is_inward && (open > 0 || !changes.is_empty()) {
        panel.way = Some(WayFile::Inward);
    }
    panel.stone = stone.map(|stone| StoneMm(stone.mm));
    write_growth(panel, piece, made, pattern);
    write_colours(panel, piece, made, pattern);
}

/// Writes how the panel grows: as the pattern, by a corner law, or by gap words.
fn write_growth(panel: &mut PanelFile, piece: &Layout, made: Panel, pattern: &PanelSpec) {
    let layout = piece.kind(made);
    let growth = &piece.project().panels[piece.panel(made).spec].growth;
    if layout.strip().is_some() {
        panel.rows = Some(WholeNumber(layout.rounds()));
        if let Growth::Rows { words, .. } = growth {
            let is_own = |word: &GapWord| word.iter().any(|beads| beads != 1);
            let own = words.iter().rposition(is_own).map(|last| &words[..=last]);
            panel.words = own.map(|words| List(words.iter().map(spell).collect()));
        }
    } else {
        panel.rounds = Some(WholeNumber(layout.rounds()));
        if layout.sides() != pattern.sides {
            panel.sides = Some(WholeNumber(layout.sides().into()));
        }
        match (growth, law_of(layout)) {
            (Growth::Law(_), _) => {}
            (_, Some(law)) => {
                (panel.ring, panel.words, panel.corner_beads) = (None, None, None);
                panel.gaps = None;
                panel.start = Some(law.start());
                let corners = law.word().iter().map(|c| WholeNumber((*c).into()));
                panel.corners = Some(List(corners.collect()));
            }
            // As in the pattern, with its corners.
            (Growth::Own(_), None) if pattern.growth == *growth => {}
            (Growth::Own(_), None) if matches!(pattern.growth, Growth::Law(_)) => {
                panel.gaps = Some(List(gaps_as_worked(piece, made)));
            }
            (_, None) => {
                (panel.gaps, panel.corner_beads) = (None, None);
                (panel.start, panel.corners) = (None, None);
                let ring = layout.in_round(Round(1));
                panel.ring = Some(WholeNumber(ring));
                let words = (2..=layout.rounds()).map(|k| layout.word(Round(k)).clone());
                let words: Vec<GapWord> = words.collect();
                let by_law = folded(ring, &words);
                let own = by_law.as_ref().map_or(words.len(), |(own, _)| *own);
                panel.words = Some(List(words[..own].iter().map(spell).collect()));
                panel.corners = by_law.map(|(_, corners)| {
                    List(corners.into_iter().map(|c| WholeNumber(c.into())).collect())
                });
                panel.corner_beads = corner_beads(layout, growth)
                    .map(|ends| List(ends.into_iter().map(WholeNumber).collect()));
            }
        }
    }
}

/// Writes the colours of a panel whose growth is written, if they are not those of
/// the pattern.
fn write_colours(panel: &mut PanelFile, piece: &Layout, made: Panel, pattern: &PanelSpec) {
    let layout = piece.kind(made);
    let growth = &piece.project().panels[piece.panel(made).spec].growth;
    // The panel as the file will have it; its sides may divide the rounds at
    // other places.
    let fills = piece.panel(made).rim.is_some();
    let written = growth::layout(panel, fills).unwrap_or_else(|| layout.clone());
    let open = match piece.way(made) {
        WorkDirection::Outward => 0,
        WorkDirection::Inward => piece.panel(made).open(),
    };
    let face = |round| {
        let colour = |side, place| {
            let at = layout.place(round, written.index(round, side, place));
            piece.colour_of(piece.face_seat(made, round, at.side, at.place))
        };
        let side = |side| {
            let places = 0..written.on_side(round, side);
            places.map(|place| colour(side, place)).collect()
        };
        (0..written.sides())
            .map(Side)
            .map(side)
            .collect::<Vec<Vec<Colour>>>()
    };
    let rounds: Vec<_> = (open + 1..=layout.rounds()).map(Round).collect();
    let to_come = piece.panel(made).colours.to_come();
    let row_beads = |side| written.edge(side).saturating_sub(1);
    let row = |side| match piece.row_on(made, side) {
        Some(row) => {
            let beads = 0..piece.row(row).beads;
            beads
                .map(|nth| piece.colour(piece.row_bead(row, nth)))
                .collect()
        }
        None => {
            let (word, beads) = (to_come.row.word(side), row_beads(side));
            (0..beads)
                .map(|place| word.at(place, beads))
                .collect::<Vec<Colour>>()
        }
    };
    let is_joined = written.can_be_joined() && written.rounds() > 1;
    let row = is_joined.then(|| (0..written.sides()).map(Side).map(row).collect::<Vec<_>>());
    let is_as_in_pattern = (growth, layout.rounds()) == (&pattern.growth, pattern.rounds)
        && rounds
            .iter()
            .all(|round| face(*round) == pattern.colours.spelt(layout, *round))
        && row
            .as_ref()
            .is_none_or(|row| *row == pattern.colours.row.spelt(layout.sides(), row_beads));
    if !is_as_in_pattern {
        let words = |sides: &[Vec<Colour>]| paint::spell(piece.bead_kinds(), sides);
        let lines = rounds.iter().map(|round| (round.0, words(&face(*round))));
        panel.colours = List(colour_write::lines(&lines.collect::<Vec<_>>()));
        panel.row = row.as_deref().map(words);
    }
    if to_come.tip != pattern.colours.tip {
        panel.tip = Some(paint::spell(piece.bead_kinds(), &[vec![to_come.tip]]));
    }
}

/// The gaps of a panel that hold other than its corners say, in the order in which
/// they are worked.
fn gaps_as_worked(layout: &Layout, panel: Panel) -> Vec<GapFile> {
    let (_, changes) = layout.planned_kind_and_changes(panel);
    let mut gaps: Vec<GapChange> = vec![];
    // Of two entries for a gap the later one counts.
    for change in changes.into_iter().rev() {
        let is_same = |gap: &GapChange| (gap.round, gap.gap) == (change.round, change.gap);
        if !gaps.iter().any(is_same) {
            gaps.push(change);
        }
    }
    gaps.sort_by_key(|gap| (gap.round, gap.gap));
    if layout.way(panel) == WorkDirection::Inward {
        gaps.sort_by_key(|gap| std::cmp::Reverse(gap.round));
    }
    let gap = |gap: GapChange| GapFile {
        round: WholeNumber(gap.round.0),
        gap: WholeNumber(gap.gap + 1),
        beads: WholeNumber(gap.beads.into()),
    };
    gaps.into_iter().map(gap).collect()
}

/// The last beads of the sides of a panel with its own gap words, from 1, if
/// they are known.
fn corner_beads(layout: &PanelLayout, growth: &Growth) -> Option<Vec<u32>> {
    let (last, sides) = (layout.last(), (0..layout.sides()).map(Side));
    let mut lengths = sides.clone().map(|side| layout.on_side(last, side));
    let is_known = matches!(growth, Growth::Own(_)) && layout.corner(last) > 0;
    let end = |side| layout.index(last, side, layout.on_side(last, side) - 1) + 1;
    (is_known && lengths.all(|length| length > 0)).then(|| sides.map(end).collect())
}

/// The corner law that a panel follows, if there is one.
fn law_of(layout: &PanelLayout) -> Option<CornerLaw> {
    let (sides, rounds) = (layout.sides(), layout.rounds());
    let n = u32::from(sides);
    [Start::Sides, Start::Points].into_iter().find_map(|start| {
        // Beads of a side without its corner, and beads of the corner.
        let (mut side, mut corner) = match start {
            Start::Sides => (1, 0),
            Start::Points => (0, 1),
        };
        let corners = (2..=rounds).map(|k| {
            side = if corner == 0 { side - 1 } else { side + 1 };
            corner = layout.in_round(Round(k)) as i64 / i64::from(n) - side;
            u8::try_from(corner).ok()
        });
        let corners: Vec<u8> = corners.collect::<Option<_>>()?;
        let is_so = |law: &CornerLaw| {
            let lawful = PanelLayout::grown(sides, rounds, &Growth::Law(law.clone()));
            let same = |k| lawful.word(Round(k)) == layout.word(Round(k));
            // Sides have the numbers that joins use for them.
            let edge = |kind: &PanelLayout| kind.edge_index(Side(0), 0);
            let is_unknown = layout.corner(layout.last()) == 0;
            lawful.in_round(Round(1)) == layout.in_round(Round(1))
                && (2..=rounds).all(same)
                && (is_unknown || edge(&lawful) == edge(layout))
        };
        (1..=corners.len()).find_map(|repeat| {
            let law = CornerLaw::new(start, &corners[..repeat]).ok()?;
            is_so(&law).then_some(law)
        })
    })
}

/// The smallest number of words after which the remaining rounds have repeating
/// corners, with at least one round repeated; with it, the corners.
fn folded(ring: u32, words: &[GapWord]) -> Option<(usize, Vec<u8>)> {
    (1..words.len()).find_map(|own| {
        let mut law = RoundsByLaw::after(ring, &words[..own])?;
        let corner = |word: &GapWord| {
            let fits = |corner: &u8| law.clone().next(*corner).as_ref() == Some(word);
            let corner = [0, 1, 2].into_iter().find(fits)?;
            law.next(corner).map(|_| corner)
        };
        let corners: Vec<u8> = words[own..].iter().map(corner).collect::<Option<_>>()?;
        let repeats = |by: &usize| corners.iter().zip(&corners[*by..]).all(|(a, b)| a == b);
        let by = (1..corners.len()).find(repeats)?;
        Some((own, corners[..by].to_vec()))
    })
}
