//! Panels: their names, growth, way and colours put together.

use super::clean::clean;
use super::colour_text::Letters;
use super::colours;
use super::counts::Counts;
use super::error::{MakeFault, PanelFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::file::{PanelFile, WayFile};
use super::growth;
use super::table::Table;
use crate::beadwork::project::{Growth, PanelSpec, Way};

/// A kind of panel as far as it reads. What is made of it is checked even
/// when its colours are wrong.
pub(super) struct PanelKind {
    pub(super) name: String,
    pub(super) sides: u8,
    pub(super) rounds: u32,
    pub(super) way: Way,
    pub(super) open: u32,
    /// Beads of its rounds, unless its growth does not read.
    pub(super) counts: Option<Counts>,
    /// Whether its last round leaves a gap at each corner, so that it has no
    /// edge to join.
    gap_corners: bool,
    /// The whole of it, unless something is wrong.
    pub(super) spec: Option<PanelSpec>,
}

/// What the panels read so far take of what all panels may take together.
#[derive(Default)]
struct Spent {
    beads: u64,
    letters: usize,
}

impl PanelKind {
    /// Beads on each of its sides, if it can be joined at all.
    ///
    /// # Errors
    /// The corners of its last round are gaps.
    pub(super) fn edges(&self) -> Result<Option<Vec<u32>>, MakeFault> {
        if self.gap_corners {
            return Err(MakeFault::NoEdge {
                panel: Quote::new(&self.name),
                round: self.rounds,
            });
        }
        Ok(self.counts.as_ref().map(Counts::edges))
    }

    /// Beads of the panel as worked.
    pub(super) fn beads(&self) -> u64 {
        self.counts
            .as_ref()
            .map_or(0, |counts| counts.total(self.open))
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
    let grown = growth::read(file, at, &mut spent.beads, faults);
    let way = match file.way {
        Some(WayFile::Inward) => Way::Inward,
        Some(WayFile::Outward) | None => Way::Outward,
    };
    let open = open(file, way, &at.key("open"), faults);
    let (growth, counts) = grown.unzip();
    let colours = colours::read(
        &colours::Panel {
            file,
            letters,
            counts: counts.as_ref(),
            open,
        },
        at,
        &mut spent.letters,
        faults,
    );
    let gap_corners = match &growth {
        Some(Growth::Law(law)) => law.corner(file.rounds) == 0,
        _ => false,
    };
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
        open,
        counts,
        gap_corners,
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
    if open >= rounds {
        faults.add(at, PanelFault::AllOpen { open, rounds });
        return 0;
    }
    open
}
