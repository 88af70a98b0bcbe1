//! What makes the rounds of a panel grow: a corner law, or words of its own.

use super::error::PanelFault;
use super::faults::Faults;
use super::field::Field;
use super::file::{PanelFile, StartFile, StitchFile};
use super::gap_text::GapText;
use super::limit;
use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::Growth;

/// Growth and the layout that comes of it. `spent` counts the beads of all
/// panels of the file, which together are held to the limit of a piece.
pub(super) fn read(
    file: &PanelFile,
    at: &Field,
    spent: &mut u64,
    faults: &mut Faults,
) -> Option<(Growth, PanelLayout)> {
    // Once the limit is passed, that has been told, and no more is counted.
    if *spent > limit::PIECE_BEADS {
        return None;
    }
    let sides = file.sides as u8;
    if sides == 0 || file.rounds == 0 {
        // Told already.
        return None;
    }
    if let (None, None) = (&file.words, file.ring) {
        let growth = match file.stitch {
            Some(StitchFile::Strip) => Growth::Rows {
                beads: file.width? / 2,
            },
            Some(StitchFile::RoundPeyote) | None => Growth::Law(law(file, at, faults)?),
        };
        let layout = PanelLayout::grown(sides, file.rounds, &growth);
        *spent = spent.saturating_add(u64::from(layout.beads()));
        if *spent > limit::PIECE_BEADS {
            faults.add(at, PanelFault::TooBig(*spent));
            return None;
        }
        return Some((growth, layout));
    }
    let given = [
        ("corners", file.corners.is_some()),
        ("start", file.start.is_some()),
    ];
    for (name, _) in given.iter().filter(|(_, given)| *given) {
        faults.add_name(&at.key(name), PanelFault::TwoGrowths(name));
    }
    let (Some(words), Some(ring)) = (&file.words, file.ring) else {
        let missing = if file.ring.is_some() { "words" } else { "ring" };
        faults.add(at, PanelFault::HalfGrowth(missing));
        return None;
    };
    let at = at.key("words");
    if words.len() as u64 + 1 != u64::from(file.rounds) {
        let count = PanelFault::WordCount {
            words: words.len(),
            rounds: file.rounds,
        };
        faults.add(&at, count);
        return None;
    }
    let growth = own_words(words, ring, &at, spent, faults)?;
    let layout = PanelLayout::grown(sides, file.rounds, &growth);
    Some((growth, layout))
}

fn law(file: &PanelFile, at: &Field, faults: &mut Faults) -> Option<CornerLaw> {
    let usual = CornerLaw::usual(file.sides as u8);
    let start = match file.start {
        Some(StartFile::Sides) => Start::Sides,
        Some(StartFile::Points) => Start::Points,
        None => usual.start(),
    };
    let word: Vec<u8> = match &file.corners {
        Some(corners) => corners.iter().map(|&c| c as u8).collect(),
        None => usual.word().to_vec(),
    };
    let ring = start.corner();
    let bad = match CornerLaw::new(start, &word) {
        Ok(law) => return Some(law),
        Err(bad) => bad,
    };
    if file.corners.is_some() {
        faults.add(&at.key("corners"), PanelFault::Law { bad, ring });
    } else {
        let usual = match usual.start() {
            Start::Sides => "sides",
            Start::Points => "points",
        };
        faults.add(&at.key("start"), PanelFault::Start(file.sides as u8, usual));
    }
    None
}

fn own_words(
    texts: &[String],
    ring: u32,
    at: &Field,
    spent: &mut u64,
    faults: &mut Faults,
) -> Option<Growth> {
    let mut words: Vec<GapWord> = Vec::with_capacity(texts.len());
    let mut before = ring;
    *spent = spent.saturating_add(u64::from(ring));
    for (place, text) in texts.iter().enumerate() {
        let at = at.place(place);
        let round = place as u32 + 2;
        let word = match word(text, round, before) {
            Ok(word) => word,
            // What comes after hangs on this round.
            Err(fault) => {
                faults.add(&at, fault);
                return None;
            }
        };
        before = word.beads();
        words.push(word);
        *spent = spent.saturating_add(u64::from(before));
        if *spent > limit::PIECE_BEADS {
            faults.add(&at, PanelFault::TooBig(*spent));
            return None;
        }
    }
    Some(Growth::Words { ring, words })
}

/// The gap word of a round, on a round of `before` beads.
fn word(text: &str, round: u32, before: u32) -> Result<GapWord, PanelFault> {
    let unread = |bad| PanelFault::Gaps { round, bad };
    let read = GapText::read(text).map_err(unread)?;
    let gaps = read.gaps().map_err(unread)?;
    if gaps != before {
        return Err(PanelFault::GapCount {
            round,
            gaps,
            before,
        });
    }
    let word = read.word();
    if word.beads() == 0 {
        return Err(PanelFault::NoBeads(round));
    }
    // The step-up passes bead 1 of the last round and the first bead of this
    // one. With nothing in the first gap it would have to pass bead 2 as well.
    if word.gap(0) == 0 {
        return Err(PanelFault::FirstGap(round));
    }
    Ok(word)
}
