//! Panels: name, growth, direction and colours put together.

use super::colour_text::Letters;
use super::colours;
use super::file::NameTable;
use super::file::{PanelFile, WayFile};
use super::growth;
use super::source::Field;
use super::strip;
use crate::beadwork::amend::stone::{HELD_BY_MM, opening_mm};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::many;
use crate::beadwork::number::{Round, Side};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::{Growth, PanelSpec, Project, WorkDirection};
use crate::clean::clean;
use crate::problem::{Problem, quoted};
use std::collections::HashSet;

/// A kind of panel, as far as it could be read. What is made from it is checked
/// even when its colours are wrong.
pub(super) struct CheckedPanel {
    pub(super) name: String,
    pub(super) sides: u8,
    pub(super) rounds: u32,
    pub(super) way: WorkDirection,
    /// Beads of the panel as it is worked.
    pub(super) beads: u64,
    /// Rounds that stay open in its middle.
    pub(super) open: u32,
    /// How its beads lie, unless its growth cannot be read.
    pub(super) layout: Option<PanelLayout>,
    /// Whether it has gap words of its own, so that its corners are not known.
    own_words: bool,
    /// The complete panel, unless something is wrong.
    pub(super) spec: Option<PanelSpec>,
}

/// How much of the limits for all panels the panels read so far have used.
#[derive(Default)]
struct Spent {
    beads: u64,
    letters: usize,
}

impl CheckedPanel {
    /// Whether it is a strip, whose sides cannot be joined yet.
    pub(super) fn is_strip(&self) -> bool {
        self.sides == 1
    }

    /// The layout with whose edges it is joined, if known.
    ///
    /// # Errors
    /// It cannot be joined at all.
    pub(super) fn joinable(&self) -> Result<Option<&PanelLayout>, Problem> {
        if self.is_strip() {
            return Err(strip::alone(&self.name));
        }
        let Some(layout) = &self.layout else {
            return Ok(None);
        };
        let (why, mend) = match layout.corner(layout.last()) {
            _ if self.own_words => (
                "gap words of its own do not say where its corners are".to_string(),
                "say which beads of its last round end its sides: \"corner_beads\"",
            ),
            _ if self.rounds == 1 => (
                "its one round has no edge".to_string(),
                "give it at least 2 \"rounds\"",
            ),
            0 => (
                format!(
                    "its last round, {}, has no bead at its corners",
                    self.rounds
                ),
                "end the panel on a round whose corners take 1 or 2 beads: change \"rounds\" or \
                 \"corners\"",
            ),
            _ => return Ok(Some(layout)),
        };
        let name = quoted(&self.name);
        let what = format!("the panel {name} cannot be joined: {why}");
        Err(Problem::new(what, mend))
    }

    /// Beads of a join row on its longest side: one in each gap between its up
    /// beads. 0 if it cannot be joined.
    pub(super) fn row(&self) -> u64 {
        let layout = self.joinable().ok().flatten();
        let longest = layout.and_then(|layout| edges(layout).max());
        longest.map_or(0, |edge| u64::from(edge - 1))
    }

    /// Whether its sides share a bead at each corner, where a corner pair would
    /// leave a gap.
    pub(super) fn ends_in_corner_beads(&self) -> bool {
        (self.layout.as_ref()).is_some_and(|layout| layout.corner(layout.last()) == 1)
    }
}

/// Up beads along each side of a panel.
pub(super) fn edges(layout: &PanelLayout) -> impl Iterator<Item = u32> {
    (0..layout.sides()).map(|side| layout.edge(Side(side)))
}

/// Reads the panels, in the order of the file; `fills` are those that are worked
/// on the rim of an opening.
pub(super) fn read(
    table: &NameTable<PanelFile>,
    fills: &HashSet<&str>,
    letters: &Letters,
    at: Field,
) -> Vec<CheckedPanel> {
    let mut spent = Spent::default();
    let read = |(name, file): (&str, &PanelFile)| {
        let at = at.key(name);
        if let Some(problem) = bad_name(name) {
            at.note_name(problem);
        }
        panel((name, file), fills.contains(name), letters, at, &mut spent)
    };
    table.iter().map(read).collect()
}

/// Why a panel cannot have this name. Jobs refer to names, so a bad name is
/// refused rather than changed.
pub(super) fn bad_name(name: &str) -> Option<Problem> {
    let is_good = !name.is_empty() && name.chars().count() <= 60 && clean(name) == name;
    let what = || {
        let name = quoted(name);
        format!("{name} cannot be a name: it is empty, too long, or has a sign that cannot be seen")
    };
    let mend = "take 1 to 60 characters, all of which can be seen";
    (!is_good).then(|| Problem::new(what(), mend))
}

fn panel(
    (name, file): (&str, &PanelFile),
    fills: bool,
    letters: &Letters,
    at: Field,
    spent: &mut Spent,
) -> CheckedPanel {
    strip::check(file, at);
    let (sides, rounds) = (file.sides() as u8, file.rounds());
    let grown = growth::read(file, fills, at, &mut spent.beads);
    let way = match file.way {
        Some(WayFile::Inward | WayFile::InwardFromStrips) => WorkDirection::Inward,
        Some(WayFile::Outward) | None => WorkDirection::Outward,
    };
    if way == WorkDirection::Inward && rounds == 1 {
        at.key("rounds").refuse(
            "inward work begins with two rounds, and this panel has 1",
            "give it at least 2 \"rounds\", or take \"way\" out",
        );
    }
    let open = open(file, way, at.key("open"));
    let (growth, layout) = grown.unzip();
    let words = match &growth {
        Some(Growth::Words { words, .. }) => Some(words),
        Some(Growth::Own(own)) if file.gaps.is_none() => Some(&own.words),
        _ => None,
    };
    if let (WorkDirection::Inward, Some(words)) = (way, words) {
        inward_words(words, open, at.key("words"));
    }
    let colours = colours::read(
        &colours::Panel {
            file,
            letters,
            layout: layout.as_ref(),
            open,
        },
        at,
        &mut spent.letters,
    );
    let own_words = matches!(growth, Some(Growth::Words { .. }));
    let strips = file.way == Some(WayFile::InwardFromStrips);
    let corner = layout.as_ref().map(|layout| layout.corner(layout.last()));
    if let Some(corner) = corner.filter(|corner| strips && *corner != 2) {
        at.key("way").refuse(
            format!(
                "a strip for each side ends in a corner pair, and the last round here, {rounds}, has {} at its corners",
                many(corner.into(), "bead", "beads")
            ),
            "end on a round whose corners take 2 beads, or write \"inward\" for one string",
        );
    }
    let beads =
        (layout.as_ref()).map_or(0, |layout| layout.beads() - layout.before(Round(open + 1)));
    let spec = growth.zip(colours).map(|(growth, colours)| PanelSpec {
        name: name.to_string(),
        sides,
        rounds,
        growth,
        way,
        strips,
        open,
        stone_mm: file.stone.map(|stone| stone.0),
        colours,
        own: None,
    });
    CheckedPanel {
        name: name.to_string(),
        sides,
        rounds,
        way,
        beads: u64::from(beads),
        open,
        layout,
        own_words,
        spec,
    }
}

/// Rounds that stay open, or 0 if that is not possible.
fn open(file: &PanelFile, way: WorkDirection, at: Field) -> u32 {
    let open = file.open.map_or(0, |open| open.0);
    let rounds = file.rounds();
    if open > 0 && way == WorkDirection::Outward {
        at.refuse(
            "a panel worked outward begins in the middle, which cannot stay open",
            "write \"way\": \"inward\", or take \"open\" out",
        );
        return 0;
    }
    // Inward work begins with two rounds, strung together or worked on a rim.
    if open > 0 && open + 2 > rounds {
        at.refuse(
            format!("{open} of {rounds} rounds stay open, and inward work needs at least two"),
            match rounds.saturating_sub(2) {
                0 => "take \"open\" out, or give it more \"rounds\"".to_string(),
                most => format!("leave at most {most} open"),
            },
        );
        return 0;
    }
    open
}

/// Reports each stone that the open middle of its panel does not hold.
pub(super) fn stones_are_held(project: &Project, panels: Field) {
    let with_stone = |spec: &'_ PanelSpec| Some((spec.stone_mm?, PanelLayout::new(spec)));
    for spec in &project.panels {
        let Some((stone, kind)) = with_stone(spec) else {
            continue;
        };
        let at = panels.key(&spec.name);
        let at = at.key("stone");
        if spec.open == 0 {
            at.refuse(
                "this panel has no open middle that holds a stone",
                "write \"open\" with the rounds that stay open, or take \"stone\" out",
            );
            continue;
        }
        let bead = project.bead_mm_of(spec);
        let lip = |open: u32| stone - opening_mm(&kind, Round(open + 1), bead);
        // A wider stone is held where no round further out holds it.
        let holds = |open: u32| lip(open) >= *HELD_BY_MM.start();
        let mut outer = spec.open + 1..spec.rounds - 1;
        let is_outermost = holds(spec.open) && !outer.any(holds) && lip(spec.rounds - 1) <= 0.0;
        if is_outermost || HELD_BY_MM.contains(&lip(spec.open)) {
            continue;
        }
        let others = 1..spec.rounds.saturating_sub(1);
        let held = others.rev().find(|open| holds(*open));
        let (least, most) = (HELD_BY_MM.start(), HELD_BY_MM.end());
        let across = stone - lip(spec.open);
        at.refuse(
            format!("the opening is {across:.1} mm across and does not hold a stone of {stone} mm"),
            match held {
                Some(open) => format!("write \"open\": {open}, or take another stone"),
                None => format!(
                    "take a stone of {:.1} to {:.1} mm, or other \"rounds\" and beads",
                    across + least,
                    across + most
                ),
            },
        );
    }
}

/// Reports own gap words that cannot be worked backwards: inward, a gap takes
/// at most two beads. Words of rounds whose inner neighbour stays open are not
/// checked.
fn inward_words(words: &[GapWord], open: u32, list: Field) {
    for (place, word) in words.iter().enumerate().skip(open as usize) {
        if !reads_inward(word) {
            let round = place + 2;
            list.entry(place).refuse(
                format!(
                    "worked inward, a gap of round {round} would have to take more than two beads, or \
                     the whole of round {}",
                    round - 1
                ),
                "let no two gaps side by side go without a bead, or take \"way\" out",
            );
        }
    }
}

/// Whether no two neighbouring gaps are empty, all the way round, and the beads
/// are not all in one gap.
fn reads_inward(word: &GapWord) -> bool {
    let last = word.iter().last().unwrap_or(0);
    let (mut before, mut filled) = (last, 0);
    for each in word.iter() {
        if each == 0 && before == 0 {
            return false;
        }
        filled += u32::from(each > 0);
        before = each;
    }
    filled > 1
}
