//! What makes the rounds of a panel grow: a corner law, or words of its own.

use super::file::{GapFile, PanelFile, WayFile};
use super::gap_text;
use super::json;
use super::limit;
use super::source::Field;
use crate::beadwork::amend::RoundsByLaw;
use crate::beadwork::corner_law::{BadLaw, CornerLaw, Start};
use crate::beadwork::gap_word::{GapWord, grow_plainly};
use crate::beadwork::making::Begin;
use crate::beadwork::number::Round;
use crate::beadwork::own_rounds::{BadGap, GapChange, OwnRounds, RoundSides};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::plural;
use crate::beadwork::project::Growth;
use crate::problem::Problem;
use std::sync::Arc;

/// The growth and the layout that follows from it. `fills` says whether the panel
/// is worked on the rim of an opening. `spent` counts the beads of all panels of the
/// file, which together must stay within the limit for a piece.
pub(super) fn read(
    file: &PanelFile,
    fills: bool,
    at: Field,
    spent: &mut u64,
) -> Option<(Growth, PanelLayout)> {
    // Once the limit is passed and reported, counting stops.
    if *spent > limit::PIECE_BEADS {
        return None;
    }
    let (sides, rounds) = (file.sides() as u8, file.rounds());
    if file.is_strip() {
        let growth = rows(file, at, spent)?;
        let layout = PanelLayout::grown(sides, rounds, &growth);
        return Some((growth, layout));
    }
    if file.words.is_none() && file.corner_beads.is_some() {
        at.key("corner_beads").note_name(Problem::new(
            "only a panel with 'words' of its own is told where its corners are",
            "take out \"corner_beads\"",
        ));
    }
    if let (None, None) = (&file.words, file.ring) {
        let growth = Growth::Law(law(file, at)?);
        let layout = PanelLayout::grown(sides, rounds, &growth);
        spend(layout.beads(), spent, at)?;
        let Some(gaps) = &file.gaps else {
            return Some((growth, layout));
        };
        let own = with_gaps(file, (&layout, fills), gaps, at.key("gaps"))?;
        let growth = Growth::Own(Arc::new(own));
        let layout = PanelLayout::grown(sides, rounds, &growth);
        spend(layout.beads(), spent, at)?;
        return Some((growth, layout));
    }
    if file.gaps.is_some() {
        at.key("gaps").note_name(Problem::new(
            "a panel with 'words' of its own says there what each gap holds",
            "take out \"gaps\"",
        ));
    }
    let is_short = (file.words.as_ref()).is_some_and(|words| (words.len() as u32) + 1 < rounds);
    let given = [
        ("corners", file.corners.is_some() && !is_short),
        ("start", file.start.is_some()),
    ];
    for (name, _) in given.iter().filter(|(_, given)| *given) {
        at.key(name).note_name(Problem::new(
            format!("a panel with 'words' of its own cannot have '{name}'"),
            format!("take out \"{name}\", or take out \"words\" and \"ring\""),
        ));
    }
    let (Some(words), Some(ring)) = (&file.words, file.ring) else {
        let (missing, mend) = match file.ring {
            Some(_) => (
                "words",
                "add \"words\" with a gap word for round 2 and on, or take \"ring\" out",
            ),
            None => ("ring", "add \"ring\" with the beads of round 1"),
        };
        let what = format!("'ring' and 'words' go together, and '{missing}' is missing");
        return at.refused(what, mend);
    };
    let whole = at;
    let at = at.key("words");
    let goes_on = file.corners.as_ref().filter(|_| is_short);
    if words.len() as u64 + 1 != u64::from(rounds) && goes_on.is_none() {
        return at.refused(
            format!(
                "{rounds} rounds need {} after the ring, found {}",
                plural(rounds as usize - 1, "gap word"),
                words.len()
            ),
            format!(
                "give a word for each round from 2 on, or \"corners\" by which the rest goes on, or write \"rounds\": {}",
                words.len() + 1
            ),
        );
    }
    let ring = ring.0;
    spend(ring, spent, at)?;
    let mut words = own_words(words, (2, ring), at, spent)?;
    if let Some(corners) = goes_on {
        let corners: Vec<u8> = corners.iter().map(|corner| corner.0 as u8).collect();
        by_law(ring, &mut words, (&corners, rounds), whole, spent)?;
    }
    let growth = match &file.corner_beads {
        Some(corners) => {
            let corners: Vec<u32> = corners.iter().map(|corner| corner.0).collect();
            let at = whole.key("corner_beads");
            Growth::Own(Arc::new(with_corners(sides, (ring, words), &corners, at)?))
        }
        None => Growth::Words { ring, words },
    };
    let layout = PanelLayout::grown(sides, rounds, &growth);
    Some((growth, layout))
}

/// The layout of a panel as the file has it, if it can be read.
pub(super) fn layout(file: &PanelFile, fills: bool) -> Option<PanelLayout> {
    let nothing = json::parse("", "{}").ok()?;
    let (_, layout) = read(file, fills, Field::top(&nothing), &mut 0)?;
    (nothing.problems() == 0).then_some(layout)
}

/// Rounds by corners, with other beads in some gaps.
fn with_gaps(
    file: &PanelFile,
    (base, fills): (&PanelLayout, bool),
    gaps: &[GapFile],
    at: Field,
) -> Option<OwnRounds> {
    let change = |gap: &GapFile| GapChange {
        round: Round(gap.round.0),
        gap: gap.gap.0 - 1,
        beads: gap.beads.0 as u8,
    };
    let changes: Vec<GapChange> = gaps.iter().map(change).collect();
    let begin = match file.way {
        Some(WayFile::Inward | WayFile::InwardFromStrips) if fills => Begin::Rim,
        Some(WayFile::Inward | WayFile::InwardFromStrips) => Begin::FreeStart,
        Some(WayFile::Outward) | None => Begin::Ring,
    };
    let open = file.open.map_or(0, |open| open.0);
    let read = OwnRounds::with_gaps(base, begin, open, &changes);
    let bad = |(nth, why): (usize, BadGap)| {
        let GapChange { round, gap, .. } = changes[nth];
        let (what, mend) = match why {
            BadGap::NoSuchRound => (
                format!("round {round} is not worked"),
                format!("name a round from {} to {}", open + 1, base.rounds()),
            ),
            BadGap::NoSuchGap(gaps) => (
                format!("round {round} has no gap {}", gap + 1),
                format!("name a gap from 1 to {gaps}"),
            ),
            BadGap::BeadNeeded => (
                format!("round {round} needs a bead in gap {}", gap + 1),
                "put at least one bead there, or leave another gap empty".to_string(),
            ),
            BadGap::SmallRing => (
                "the ring in the middle would have fewer than three beads".to_string(),
                "leave fewer gaps empty".to_string(),
            ),
        };
        at.entry(nth).refuse(what, mend);
    };
    read.map_err(bad).ok()
}

/// The rows of a strip, with gap words of their own from row 3 on as far as there
/// are any.
fn rows(file: &PanelFile, at: Field, spent: &mut u64) -> Option<Growth> {
    let (beads, rows) = (file.width?.0 / 2, file.rounds());
    let mut words = vec![];
    if let Some(own) = &file.words {
        let at = at.key("words");
        if own.len() as u64 > u64::from(rows) - 2 {
            return at.refused(
                format!(
                    "a strip of {rows} rows takes {} at the most, found {}",
                    plural(rows as usize - 2, "gap word"),
                    own.len()
                ),
                format!(
                    "write \"rows\": {}, or take words out; the first is that of row 3",
                    own.len() + 2
                ),
            );
        }
        words = own_words(own, (3, beads), at, spent)?;
        let turns = words.iter().position(|word| word.gap(0) == 0);
        if let Some(place) = turns {
            return at.entry(place).refused(
                format!(
                    "row {} has no bead in its first gap, at the edge where the needle turns",
                    place + 3
                ),
                "begin the gap word with 1 or more",
            );
        }
    }
    let last = words.last().map_or(beads, GapWord::beads);
    let plain = u64::from(rows) - words.len() as u64;
    spend(plain.saturating_mul(last.into()), spent, at)?;
    match words
        .iter()
        .all(|word| word.beads() == beads && word.iter().all(|gap| gap == 1))
    {
        true => words.clear(),
        false => grow_plainly(beads, &mut words, rows - 2),
    }
    Some(Growth::Rows { beads, words })
}

/// Rounds from gap words, with the corners of the last round where the file
/// puts them.
fn with_corners(
    sides: u8,
    (ring, words): (u32, Vec<GapWord>),
    corners: &[u32],
    at: Field,
) -> Option<OwnRounds> {
    // The sides of earlier rounds do not matter, so their beads are shared
    // evenly.
    let shared = |beads: u32| RoundSides::shared(beads, sides);
    let each = std::iter::once(ring).chain(words.iter().map(GapWord::beads));
    let mut all: Vec<RoundSides> = each.map(shared).collect();
    let (Some(last), Some(edge)) = (words.last(), all.last_mut()) else {
        return at.refused(
            "one round has no edge to join by",
            "give it at least 2 \"rounds\"",
        );
    };
    let beads = last.beads();
    let before = corners.iter().cycle().skip(corners.len() - 1);
    // Any of them can come first.
    let length = |(end, before): (&u32, &u32)| match (end + beads - before) % beads {
        0 => beads,
        length => length,
    };
    let are_beads = corners.iter().all(|end| *end <= beads);
    let lengths: Vec<u32> = match are_beads {
        true => corners.iter().zip(before).map(length).collect(),
        false => vec![],
    };
    if corners.len() != usize::from(sides) || lengths.iter().sum::<u32>() != beads {
        return at.refused(
            format!(
                "the last round has {beads} beads, and these are not the ends of {sides} sides"
            ),
            format!("name {sides} beads in working order, from 1 to {beads}"),
        );
    }
    // The other half of a pair lies in the same gap.
    let is_pair = |&end: &u32| last.gap_of(end - 1) == last.gap_of(end % beads);
    let pairs = corners.iter().filter(|end| is_pair(end)).count();
    if pairs != 0 && pairs != corners.len() {
        return at.refused(
            "some of these beads are the first of a pair, and some are single",
            "let all corners be pairs, or all single beads",
        );
    }
    *edge = RoundSides {
        first: corners[corners.len() - 1] % beads,
        lengths,
        corner: if pairs > 0 { 2 } else { 1 },
    };
    let sides = all;
    Some(OwnRounds { ring, words, sides })
}

/// Counts the beads of a panel. `None` if there are too many.
fn spend(beads: impl Into<u64>, spent: &mut u64, at: Field) -> Option<()> {
    *spent = spent.saturating_add(beads.into());
    let (is_too_big, most) = (*spent > limit::PIECE_BEADS, limit::PIECE_BEADS);
    if is_too_big {
        at.refuse(
            format!("the panels up to this one take {spent} beads; {most} is the most"),
            "take fewer rounds, or take out panels that nothing is made of",
        );
    }
    (!is_too_big).then_some(())
}

fn law(file: &PanelFile, at: Field) -> Option<CornerLaw> {
    let usual = CornerLaw::usual(file.sides() as u8);
    let start = file.start.unwrap_or(usual.start());
    let word: Vec<u8> = match &file.corners {
        Some(corners) => corners.iter().map(|corner| corner.0 as u8).collect(),
        None => usual.word().to_vec(),
    };
    let bad = match CornerLaw::new(start, &word) {
        Ok(law) => return Some(law),
        Err(bad) => bad,
    };
    if file.corners.is_some() {
        at.key("corners").note(no_law(&bad, start.corner()));
        return None;
    }
    let (sides, usual) = match usual.start() {
        Start::Sides => (file.sides(), "sides"),
        Start::Points => (file.sides(), "points"),
    };
    at.key("start").refuse(
        format!("the usual corners of a panel of {sides} sides cannot follow this ring"),
        format!("write \"start\": \"{usual}\", or add \"corners\" that follow it"),
    );
    None
}

/// Why a corner law cannot be sewn on a ring with `ring` beads at its corners.
fn no_law(bad: &BadLaw, ring: u8) -> Problem {
    let may_follow = |before| match before {
        1 => "write 0 there: nothing else follows a corner of 1 bead",
        _ => "write 1 or 2 there: one of them follows a corner of 0 or 2 beads",
    };
    match *bad {
        BadLaw::Empty => Problem::new("no corners are given", "write a list such as [2]"),
        BadLaw::NotACorner(at, found) => Problem::new(
            format!("corner {at} of the law has {found} beads"),
            "a corner takes 0, 1 or 2",
        ),
        BadLaw::CannotFollow { at, before, after } if at == 1 && before == ring => Problem::new(
            format!("the law begins with {after}, which cannot follow the {before} of the ring"),
            format!("{}; or change \"start\"", may_follow(before)),
        ),
        BadLaw::CannotFollow {
            at: 1,
            before,
            after,
        } => Problem::new(
            format!(
                "the law ends with {before}; when it repeats, its first, {after}, cannot follow"
            ),
            match before {
                1 => "add 0 at the end",
                _ => "add 1 at the end",
            },
        ),
        BadLaw::CannotFollow { at, before, after } => Problem::new(
            format!("corner {at} of the law has {after}, which cannot follow {before}"),
            may_follow(before),
        ),
    }
}

/// The gap words of rounds from `first` on, behind a round of `before` beads.
fn own_words(
    texts: &[String],
    (first, mut before): (u32, u32),
    at: Field,
    spent: &mut u64,
) -> Option<Vec<GapWord>> {
    let mut words: Vec<GapWord> = Vec::with_capacity(texts.len());
    for (place, text) in texts.iter().enumerate() {
        let at = at.entry(place);
        // Everything after depends on this round.
        words.push(at.accept(word(text, place as u32 + first, before))?);
        before = words[place].beads();
        spend(before, spent, at)?;
    }
    Some(words)
}

/// The rounds after those with their own words, by repeating corners.
fn by_law(
    ring: u32,
    words: &mut Vec<GapWord>,
    (corners, rounds): (&[u8], u32),
    at: Field,
    spent: &mut u64,
) -> Option<()> {
    let corners_at = at.key("corners");
    let Some(mut law) = RoundsByLaw::after(ring, words) else {
        return corners_at.refused(
            "the words before them do not show where the corners are",
            "end the words with a round of pairs at the corners and one bead in each other gap, and the rounds after it",
        );
    };
    for (round, &corner) in (words.len() as u32 + 2..=rounds).zip(corners.iter().cycle()) {
        let Some(word) = law.next(corner) else {
            return corners_at.refused(
                format!("a corner of {corner} cannot follow in round {round}"),
                "after 2 beads or none write 1 or 2, after 1 write 0",
            );
        };
        spend(word.beads(), spent, at)?;
        words.push(word);
    }
    Some(())
}

/// The gap word of a round, on a round of `before` beads.
fn word(text: &str, round: u32, before: u32) -> Result<GapWord, Problem> {
    let word = gap_text::read(text, round)?;
    let gaps = word.gaps();
    if gaps != before {
        return Err(Problem::new(
            format!(
                "the gap word of round {round} is for {}, round {} has {}",
                plural(gaps as usize, "gap"),
                round - 1,
                plural(before as usize, "bead")
            ),
            format!(
                "give {}, one for each bead",
                plural(before as usize, "number")
            ),
        ));
    }
    if word.beads() == 0 {
        return Err(Problem::new(
            format!("round {round} has no beads"),
            "put a bead into at least one gap, or end the panel a round earlier",
        ));
    }
    Ok(word)
}
