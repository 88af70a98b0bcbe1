//! Panels: their names, growth, way and colours put together.

use super::colour_text::Letters;
use super::colours;
use super::error::{MakeFault, PanelFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::file::{PanelFile, WayFile};
use super::growth;
use super::strip;
use super::table::Table;
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::number::{Round, Side};
use crate::beadwork::project::{Growth, PanelSpec, Way};
use crate::clean::clean;

/// A kind of panel as far as it reads. What is made of it is checked even
/// when its colours are wrong.
pub(super) struct PanelKind {
    pub(super) name: String,
    pub(super) sides: u8,
    pub(super) rounds: u32,
    pub(super) way: Way,
    /// Beads of the panel as worked.
    pub(super) beads: u64,
    /// What its sides end in, unless its growth does not read.
    last: Option<LastRound>,
    /// The whole of it, unless something is wrong.
    pub(super) spec: Option<PanelSpec>,
}

/// The last round of a panel: what is joined.
struct LastRound {
    /// High beads along each side.
    edge: u32,
    /// Beads at each corner.
    corner: u8,
    /// Whether it comes of gap words of its own, so that nothing says where
    /// its corners are.
    own_words: bool,
}

/// What the panels read so far take of what all panels may take together.
#[derive(Default)]
struct Spent {
    beads: u64,
    letters: usize,
}

impl PanelKind {
    /// Whether it is a strip, whose sides cannot be joined yet.
    pub(super) fn is_strip(&self) -> bool {
        self.sides == 1
    }

    /// High beads along each of its sides, if that is known.
    ///
    /// # Errors
    /// It cannot be joined at all.
    pub(super) fn edge(&self) -> Result<Option<u32>, MakeFault> {
        let Some(last) = &self.last else {
            return Ok(None);
        };
        let panel = Quote::new(&self.name);
        if last.own_words {
            return Err(MakeFault::OwnWords(panel));
        }
        if self.rounds == 1 {
            return Err(MakeFault::OneRound(panel));
        }
        if last.corner == 0 {
            let round = self.rounds;
            return Err(MakeFault::NoEdge { panel, round });
        }
        Ok(Some(last.edge))
    }

    /// Beads of a join row on one of its sides: one in each gap between its
    /// high beads. None if it cannot be joined.
    pub(super) fn row(&self) -> u64 {
        let edge = self.edge().ok().flatten();
        u64::from(edge.map_or(0, |edge| edge - 1))
    }

    /// Whether its sides share a bead at each corner, where a corner pair would
    /// leave a gap.
    pub(super) fn ends_in_corner_beads(&self) -> bool {
        self.last.as_ref().is_some_and(|last| last.corner == 1)
    }
}

/// Reads the panels, in the order of the file.
pub(super) fn read(
    table: &Table<PanelFile>,
    letters: &Letters,
    faults: &mut Faults,
) -> Vec<PanelKind> {
    let at = Field::Top.key("panels");
    let mut spent = Spent::default();
    table
        .iter()
        .map(|(name, file)| {
            let at = at.key(name);
            if !good_name(name) {
                faults.add_name(&at, PanelFault::BadName(Quote::new(name)));
            }
            panel(name, file, letters, &at, &mut spent, faults)
        })
        .collect()
}

/// Whether a panel can be called so: names are what jobs refer to, so they
/// are refused rather than changed.
pub(super) fn good_name(name: &str) -> bool {
    !name.is_empty() && name.chars().count() <= 60 && clean(name) == name
}

fn panel(
    name: &str,
    file: &PanelFile,
    letters: &Letters,
    at: &Field,
    spent: &mut Spent,
    faults: &mut Faults,
) -> PanelKind {
    let strip = strip::as_rounds(file, at, faults);
    let file = strip.as_ref().unwrap_or(file);
    let grown = growth::read(file, at, &mut spent.beads, faults);
    let way = match file.way {
        Some(WayFile::Inward) => Way::Inward,
        Some(WayFile::Outward) | None => Way::Outward,
    };
    if way == Way::Inward && file.rounds == 1 {
        faults.add(&at.key("rounds"), PanelFault::InwardRing);
    }
    let open = open(file, way, &at.key("open"), faults);
    let (growth, layout) = grown.unzip();
    if let (Way::Inward, Some(Growth::Words { words, .. })) = (way, &growth) {
        inward_words(words, open, &at.key("words"), faults);
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
        faults,
    );
    let last = layout.as_ref().map(|layout| LastRound {
        edge: layout.edge(Side(0)),
        corner: layout.corner(layout.last()),
        own_words: matches!(growth, Some(Growth::Words { .. })),
    });
    let beads = layout.map_or(0, |layout| layout.beads() - layout.before(Round(open + 1)));
    let spec = growth.zip(colours).map(|(growth, colours)| PanelSpec {
        name: name.to_string(),
        sides: file.sides as u8,
        rounds: file.rounds,
        growth,
        way,
        open,
        colours,
    });
    PanelKind {
        name: name.to_string(),
        sides: file.sides as u8,
        rounds: file.rounds,
        way,
        beads: u64::from(beads),
        last,
        spec,
    }
}

/// Rounds that stay open, or none if that cannot be.
fn open(file: &PanelFile, way: Way, at: &Field, faults: &mut Faults) -> u32 {
    let open = file.open.unwrap_or(0);
    let rounds = file.rounds;
    if open > 0 && way == Way::Outward {
        faults.add(at, PanelFault::OpenOutward);
        return 0;
    }
    // Inward work begins with two rounds: strung together, or on a rim.
    if open > 0 && open + 2 > rounds {
        faults.add(at, PanelFault::TooOpen { open, rounds });
        return 0;
    }
    open
}

/// Own words that cannot be read backwards: inward, a gap takes two beads at
/// most. Words of rounds whose inner neighbour stays open are not asked.
fn inward_words(words: &[GapWord], open: u32, list: &Field, faults: &mut Faults) {
    for (place, word) in words.iter().enumerate().skip(open as usize) {
        if !reads_inward(word) {
            let round = place as u32 + 2;
            faults.add(&list.place(place), PanelFault::InwardGaps(round));
        }
    }
}

/// Whether no two gaps side by side are without a bead, round and round, and
/// not all beads lie in one gap.
fn reads_inward(word: &GapWord) -> bool {
    // The first gap takes a bead, so no two empty ones meet across the end.
    let (mut before, mut filled) = (1, 0);
    for each in word.iter() {
        if each == 0 && before == 0 {
            return false;
        }
        filled += u32::from(each > 0);
        before = each;
    }
    filled > 1
}
