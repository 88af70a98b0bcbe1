//! What lies on the mat while a maker's jobs are gone through: the panels made
//! so far, what has become of their sides, and which corners have met.

use std::collections::HashMap;

use super::corners::{Corners, MadeSide};
use super::error::{JobFault, MakeFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::job_line::MadePanel;
use super::panel::PanelKind;
use crate::beadwork::number::Side;
use crate::beadwork::project::SpecIndex;

/// What has become of a side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum SideState {
    /// Open, without a row.
    Bare,
    /// Open, with a join row.
    Row,
    /// Joined.
    Joined,
}

/// The panels made so far.
pub(super) struct Made<'k> {
    pub(super) kinds: &'k [PanelKind],
    panels: Vec<Panel>,
    names: HashMap<String, MadePanel>,
    pub(super) corners: Corners,
}

struct Panel {
    name: String,
    /// Its kind, unless that is not known: then nothing more is said of it.
    kind: Option<SpecIndex>,
    sides: Vec<SideState>,
}

impl<'k> Made<'k> {
    pub(super) fn new(kinds: &'k [PanelKind]) -> Self {
        Made {
            kinds,
            panels: Vec::new(),
            names: HashMap::new(),
            corners: Corners::default(),
        }
    }

    /// Lays down a panel whose sides are all in one state.
    pub(super) fn add(
        &mut self,
        name: &str,
        kind: Option<SpecIndex>,
        state: SideState,
        at: &Field,
        faults: &mut Faults,
    ) -> MadePanel {
        let sides = kind.map_or(0, |kind| self.kinds[kind].sides);
        let panel = self.panels.len();
        if self.names.insert(name.to_string(), panel).is_some() {
            faults.add(at, JobFault::MadeTwice(Quote::new(name)));
        }
        self.panels.push(Panel {
            name: name.to_string(),
            kind,
            sides: vec![state; usize::from(sides)],
        });
        self.corners.add_panel(sides);
        panel
    }

    /// The panel of a name, if its kind is known.
    pub(super) fn panel(&self, name: &str, at: &Field, faults: &mut Faults) -> Option<MadePanel> {
        let Some(&panel) = self.names.get(name) else {
            let names = || self.panels.iter().map(|panel| panel.name.as_str());
            let not_made = JobFault::NotMade {
                name: Quote::new(name),
                nearest: faults.nearest(name, names()),
                made: names().take(20).map(str::to_string).collect(),
            };
            faults.add(at, not_made);
            return None;
        };
        self.panels[panel].kind.map(|_| panel)
    }

    /// The kind of a panel, if it is known.
    pub(super) fn kind(&self, panel: MadePanel) -> Option<SpecIndex> {
        self.panels[panel].kind
    }

    /// A side of a panel by its number, from 1.
    pub(super) fn side(
        &self,
        panel: MadePanel,
        number: u32,
        at: &Field,
        faults: &mut Faults,
    ) -> Option<MadeSide> {
        let sides = self.panels[panel].sides.len();
        if number == 0 || number as usize > sides {
            let no_side = JobFault::NoSuchSide {
                panel: self.name(panel),
                side: number,
                sides: sides as u8,
            };
            faults.add(at, no_side);
            return None;
        }
        Some((panel, Side(number as u8 - 1)))
    }

    /// What has become of a side.
    pub(super) fn state(&self, (panel, side): MadeSide) -> SideState {
        self.panels[panel].sides[side.index()]
    }

    /// Something becomes of a side.
    pub(super) fn set(&mut self, (panel, side): MadeSide, state: SideState) {
        self.panels[panel].sides[side.index()] = state;
    }

    /// The name of a panel, for messages.
    pub(super) fn name(&self, panel: MadePanel) -> Quote {
        Quote::new(&self.panels[panel].name)
    }

    /// A side as messages name it.
    pub(super) fn told(&self, (panel, side): MadeSide) -> (Quote, u32) {
        (self.name(panel), side.number())
    }

    /// High beads along a side.
    ///
    /// # Errors
    /// The panel cannot be joined at all.
    pub(super) fn edge(&self, (panel, _): MadeSide) -> Result<Option<u32>, MakeFault> {
        let kind = self.panels[panel].kind.map(|kind| &self.kinds[kind]);
        kind.map_or(Ok(None), PanelKind::edge)
    }

    /// Whether two sides can lie together: both with an edge, as long as each
    /// other.
    pub(super) fn fit(&self, one: MadeSide, other: MadeSide) -> Result<(), MakeFault> {
        let (Some(beads), Some(other_beads)) = (self.edge(one)?, self.edge(other)?) else {
            return Ok(());
        };
        if beads == other_beads {
            return Ok(());
        }
        Err(MakeFault::Unequal {
            panel: self.name(one.0),
            beads,
            other: self.name(other.0),
            other_beads,
        })
    }
}
