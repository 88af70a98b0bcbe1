//! Colours that a maker painted, as words of the pattern file: read from the
//! journal of a piece, and written into a pattern's text.
//!
//! ```text
//! "colours": ["all: S*", "2-8: A S* A"]              the file
//!             round 5 painted: S A S A S             the maker
//! "colours": ["all: S*", "2-8: A S* A", "5: (S A)*"] the file again
//! ```
//!
//! Only the colours of painted panels are rewritten; the rest of the file stays
//! as it is.

use std::collections::BTreeSet;

use super::colour_text::{self, Letters};
use super::colour_write;
use super::edit;
use super::json;
use super::{read, round_text};
use crate::beadwork::bead::BeadSize;
use crate::beadwork::colour::{ColourWord, Colours};
use crate::beadwork::number::{Round, Side};
use crate::beadwork::paint::{PaintedPart, RoundColours, row_beads};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::{PanelSpec, SpecIndex};
use crate::beadwork::{BeadKind, Colour, Project};
use crate::problem::{Problems, quoted};

/// Why painting cannot be written into a pattern's text.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NotPainted {
    /// The text is not a pattern.
    #[error("what is there is no pattern: {0}")]
    NoPattern(Problems),
    /// It has no panel of this name, or one with another shape.
    #[error(
        "the file has no panel of this shape that is called {}; write to another file",
        quoted(.0)
    )]
    OtherPanel(String),
    /// It does not have the same beads.
    #[error("the beads in the file are not those of this piece; write to another file")]
    OtherBeads,
    /// With the painting it would not be a valid pattern, for example because
    /// it would be too large.
    #[error("it would not read any more: {0}")]
    Refused(Problems),
}

pub(super) fn letters(beads: &[BeadKind]) -> Letters {
    Letters(beads.iter().map(|bead| bead.letter).collect())
}

/// The current colours of a part of a panel, as words of the pattern file.
pub(super) fn words(
    project: &Project,
    spec: SpecIndex,
    layout: &PanelLayout,
    part: PaintedPart,
) -> String {
    let letters = letters(&project.beads).0;
    let colours = &project.panels[spec].colours;
    match part {
        PaintedPart::Round(round) => colour_write::sides(&colours.spelt(layout, round), &letters),
        PaintedPart::Row => {
            let beads = row_beads(layout).unwrap_or(0);
            colour_write::sides(&colours.row.spelt(layout.sides(), |_| beads), &letters)
        }
        PaintedPart::Tip => letters[usize::from(colours.tip.0)].to_string(),
    }
}

/// The colours of sides as one word, or with a word for each side.
pub fn spell(beads: &[BeadKind], sides: &[Vec<Colour>]) -> String {
    colour_write::sides(sides, &letters(beads).0)
}

/// Reads words for a part of a panel. `None` if the text is not a word or does
/// not fit the panel.
pub fn round_colours(
    beads: &[BeadKind],
    layout: &PanelLayout,
    part: PaintedPart,
    words: &str,
) -> Option<RoundColours> {
    let words = side_words(words, &letters(beads))?;
    let round_colours = match part {
        PaintedPart::Round(round) => RoundColours::Round(round, words),
        PaintedPart::Row => RoundColours::Row(words),
        PaintedPart::Tip => RoundColours::Tip(*words.first()?.head.first()?),
    };
    round_colours
        .fits(layout, beads.len())
        .then_some(round_colours)
}

/// One word, or one for each side.
fn side_words(text: &str, letters: &Letters) -> Option<Vec<ColourWord>> {
    let words = text.split('/');
    words
        .map(|word| colour_text::read(word, letters).ok())
        .collect()
}

/// The painted colours for each part of a panel, by name. What does not fit is
/// left out.
pub fn painted<'a>(
    project: &Project,
    painting: impl IntoIterator<Item = (&'a str, &'a str, &'a str)>,
) -> Vec<(SpecIndex, RoundColours)> {
    let read = |(panel, part, words): (&str, &str, &str)| {
        let spec = project.panels.iter().position(|spec| spec.name == panel)?;
        let layout = PanelLayout::new(&project.panels[spec]);
        Some((
            spec,
            round_colours(&project.beads, &layout, PaintedPart::named(part)?, words)?,
        ))
    };
    painting.into_iter().filter_map(read).collect()
}

/// The parts of panels whose colours differ between two projects with the same
/// panels.
pub fn differing(a: &Project, b: &Project) -> Vec<(SpecIndex, PaintedPart)> {
    let mut parts = vec![];
    for (spec, (a, b)) in a.panels.iter().zip(&b.panels).enumerate() {
        let rounds = (1..=a.rounds).map(|round| PaintedPart::Round(Round(round)));
        let all = rounds.chain([PaintedPart::Row, PaintedPart::Tip]);
        let differs =
            |part: &PaintedPart| a.colours.round_colours(*part) != b.colours.round_colours(*part);
        parts.extend(all.filter(differs).map(|part| (spec, part)));
    }
    parts
}

/// The text of a pattern with these parts of panels as in `painted`, and with
/// the beads that only `painted` has.
///
/// # Errors
/// [`NotPainted`]: the text is another pattern, or would not be a valid one.
pub fn rewritten(
    name: &str,
    bytes: &[u8],
    painted: &Project,
    parts: &[(SpecIndex, PaintedPart)],
) -> Result<Vec<u8>, NotPainted> {
    let (file, old) = read::both(name, bytes).map_err(NotPainted::NoPattern)?;
    let letters = letters(&painted.beads);
    if !letters.0.starts_with(&self::letters(&old.project.beads).0) {
        return Err(NotPainted::OtherBeads);
    }
    let text = json::text(name, bytes).unwrap_or_default();
    let more = &painted.beads[old.project.beads.len()..];
    let mut new = with_beads(text, more).ok_or(NotPainted::OtherBeads)?;
    let specs: BTreeSet<SpecIndex> = parts.iter().map(|(spec, _)| *spec).collect();
    let parts_of = |spec| {
        parts
            .iter()
            .filter(move |(s, _)| *s == spec)
            .map(|(_, part)| *part)
    };
    for &spec in &specs {
        let wanted = &painted.panels[spec];
        let other = || NotPainted::OtherPanel(wanted.name.clone());
        let there = old.project.panels.iter().find(|p| p.name == wanted.name);
        let there = there
            .filter(|p| shape(p) == shape(wanted))
            .ok_or_else(other)?;
        let lines = file.panels.iter().find(|(name, _)| *name == wanted.name);
        let (_, panel) = lines.ok_or_else(other)?;
        let layout = PanelLayout::new(wanted);
        let mut rounds: BTreeSet<u32> = BTreeSet::new();
        for part in parts_of(spec) {
            let words = words(painted, spec, &layout, part);
            match part {
                PaintedPart::Round(round) => _ = rounds.insert(round.0),
                PaintedPart::Row if there.colours.row != wanted.colours.row => {
                    new = edit::text(&new, &wanted.name, "row", &words).ok_or_else(other)?;
                }
                PaintedPart::Tip if there.colours.tip != wanted.colours.tip => {
                    new = edit::text(&new, &wanted.name, "tip", &words).ok_or_else(other)?;
                }
                PaintedPart::Row | PaintedPart::Tip => {}
            }
        }
        let both = (&there.colours, &wanted.colours);
        if let Some(lines) = lines_of(&panel.colours, both, &layout, &rounds, &letters) {
            new = edit::list(&new, &wanted.name, "colours", &lines).ok_or_else(other)?;
        }
    }
    let mark = &bytes[..bytes.len() - text.len()];
    let new = [mark, new.as_bytes()].concat();
    let again = read::read(name, &new).map_err(NotPainted::Refused)?;
    for &spec in &specs {
        let wanted = &painted.panels[spec];
        let layout = PanelLayout::new(wanted);
        let panels = &again.project.panels;
        let found = panels.iter().position(|p| p.name == wanted.name);
        let says = |part| {
            found.map(|found| words(&again.project, found, &layout, part))
                == Some(words(painted, spec, &layout, part))
        };
        if !parts_of(spec).all(says) {
            return Err(NotPainted::OtherPanel(wanted.name.clone()));
        }
    }
    Ok(new)
}

/// The text of a pattern with more beads after its own. `None` if it already
/// has a bead with one of these letters.
pub(super) fn with_beads(text: &str, more: &[BeadKind]) -> Option<String> {
    let add = |text: String, bead: &BeadKind| edit::bead(&text, bead.letter, &bead_json(bead));
    more.iter().try_fold(text.to_string(), add)
}

/// A bead as it is written in the file.
fn bead_json(bead: &BeadKind) -> String {
    let size = match bead.size.name() {
        Some(name) => format!("\"{name}\""),
        None => {
            let BeadSize {
                diameter_mm,
                length_mm,
                hole_mm,
                per_gram,
            } = bead.size;
            format!(
                "{{ \"diameter_mm\": {diameter_mm}, \"length_mm\": {length_mm}, \
                 \"hole_mm\": {hole_mm}, \"per_gram\": {per_gram} }}"
            )
        }
    };
    let name = serde_json::to_string(&bead.name).unwrap_or_default();
    let colour = bead.colour;
    format!("{{ \"name\": {name}, \"size\": {size}, \"colour\": \"{colour}\" }}")
}

/// What must be the same in two panels for the colours of one to fit the other.
fn shape(spec: &PanelSpec) -> impl PartialEq + use<> {
    (spec.sides, spec.rounds, spec.growth.clone())
}

/// The lines of a panel's colours with these rounds painted; empty if the
/// existing lines already say everything.
fn lines_of(
    lines: &[String],
    (there, wanted): (&Colours, &Colours),
    layout: &PanelLayout,
    painted: &BTreeSet<u32>,
    letters: &Letters,
) -> Option<Vec<String>> {
    let spelt = |colours: &Colours, round: u32| colours.spelt(layout, Round(round));
    if painted
        .iter()
        .all(|r| spelt(there, *r) == spelt(wanted, *r))
    {
        return None;
    }
    let named: Vec<BTreeSet<u32>> = lines
        .iter()
        .map(|line| {
            let rounds = line.split_once(':').map_or("", |(rounds, _)| rounds);
            let read = round_text::read(rounds, layout.rounds()).unwrap_or_default();
            read.into_iter().flat_map(|r| r.rounds()).collect()
        })
        .collect();
    // A line that names only painted rounds is removed.
    let stays = |at: &usize| named[*at].iter().any(|r| !painted.contains(r));
    let kept: Vec<usize> = (0..lines.len()).filter(stays).collect();
    // What the remaining lines say about a round.
    let left = |round: u32| {
        let last = kept.iter().rfind(|at| named[**at].contains(&round))?;
        let rule = &there.rules[*last];
        let of = |side| layout.on_side(Round(round), side);
        let mut sides = (0..layout.sides()).map(Side);
        let fits = sides.all(|side| rule.word(side).fits(of(side)));
        fits.then(|| rule.spelt(layout.sides(), of))
    };
    let mut groups: Vec<(String, Vec<u32>)> = vec![];
    // Long sides show best what stretches.
    for round in painted.iter().rev().copied() {
        let sides = spelt(wanted, round);
        if left(round).as_ref() == Some(&sides) {
            continue;
        }
        let says = |(text, _): &&mut (String, Vec<u32>)| says_of(text, &sides, letters);
        match groups.iter_mut().find(says) {
            Some((_, rounds)) => rounds.push(round),
            None => groups.push((colour_write::sides(&sides, &letters.0), vec![round])),
        }
    }
    for (_, rounds) in &mut groups {
        rounds.reverse();
    }
    groups.sort_by_key(|(_, rounds)| rounds[0]);
    let kept = kept.into_iter().map(|at| lines[at].clone());
    let new = groups
        .iter()
        .map(|(text, rounds)| format!("{}: {text}", colour_write::rounds(rounds)));
    Some(kept.chain(new).collect())
}

/// Whether words give the colours of these sides.
fn says_of(text: &str, sides: &[Vec<Colour>], letters: &Letters) -> bool {
    side_words(text, letters).is_some_and(|words| {
        sides.iter().enumerate().all(|(at, side)| {
            let (word, of) = (&words[at % words.len()], side.len() as u32);
            word.fits(of) && (0..of).all(|p| word.at(p, of) == side[p as usize])
        })
    })
}
