//! Whether a panel is there, and fit for what it is named for.

use super::error::{MakeFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::panel::PanelKind;
use crate::beadwork::project::{Closing, SpecIndex, Way};

/// The kind of panel that a name stands for.
pub(super) fn kind(
    name: &str,
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) -> Option<SpecIndex> {
    let found = kinds.iter().position(|kind| kind.name == name);
    if found.is_none() {
        let names = || kinds.iter().map(|kind| kind.name.as_str());
        let no_such = MakeFault::NoSuchPanel {
            name: Quote::new(name),
            nearest: faults.nearest(name, names()),
            known: names().take(20).map(str::to_string).collect(),
        };
        faults.add(at, no_such);
    }
    found
}

/// A panel named to fill an opening must be one that is worked inward.
pub(super) fn inward(
    kind: SpecIndex,
    closing: Closing,
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) {
    if closing == Closing::Fill && kinds[kind].way == Way::Outward {
        faults.add(at, MakeFault::NotInward(Quote::new(&kinds[kind].name)));
    }
    fills(&[kind], closing, kinds, at, faults);
}

/// Panels that fill an opening must end in corner pairs: each of their beads
/// lies between two anchors of one side.
pub(super) fn fills(
    faces: &[SpecIndex],
    closing: Closing,
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) {
    let mut faces = faces.iter().map(|&face| &kinds[face]);
    let unfit = faces.find(|kind| closing == Closing::Fill && kind.ends_in_corner_beads());
    if let Some(kind) = unfit {
        let no_fill = MakeFault::NoFill {
            panel: Quote::new(&kind.name),
            round: kind.rounds,
        };
        faults.add(at, no_fill);
    }
}

/// Tip beads: 0 to 2, as the shape of the file has made sure. They need the gap
/// inside a corner pair on each of the panels that may carry them.
pub(super) fn tips(
    tips: Option<u32>,
    carriers: &[SpecIndex],
    kinds: &[PanelKind],
    at: &Field,
    faults: &mut Faults,
) -> u8 {
    let tips = tips.unwrap_or(0) as u8;
    let mut carriers = carriers.iter().map(|&panel| &kinds[panel]);
    let unfit = carriers.find(|kind| tips > 0 && kind.ends_in_corner_beads());
    if let Some(kind) = unfit {
        let no_tips = MakeFault::NoTips {
            panel: Quote::new(&kind.name),
            round: kind.rounds,
        };
        faults.add(at, no_tips);
    }
    tips
}
