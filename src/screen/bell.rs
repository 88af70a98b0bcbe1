//! What rings the terminal's bell one step ahead: groups of movements that the
//! maker switches on and off, stored with the piece.

use crate::beadwork::movement::Kind;
use crate::progress::Settings;

/// A group of movements that a maker would name.
pub struct BellGroup {
    /// Its name in the settings.
    pub name: &'static str,
    /// Its title on the screen.
    pub title: &'static str,
    kinds: &'static [Kind],
}

/// The groups. The settings store the name of each.
pub const GROUPS: [BellGroup; 9] = [
    BellGroup {
        name: "decrease",
        title: "corners and gaps without a bead",
        kinds: &[Kind::Decrease],
    },
    BellGroup {
        name: "increase",
        title: "increases and corner pairs",
        kinds: &[Kind::Increase],
    },
    BellGroup {
        name: "step-up",
        title: "step-ups",
        kinds: &[Kind::StepUp],
    },
    BellGroup {
        name: "step-down",
        title: "step-downs",
        kinds: &[Kind::StepDown],
    },
    BellGroup {
        name: "pass-through",
        title: "sewing through, closing, reinforcing",
        kinds: &[Kind::PassThrough, Kind::Close, Kind::Firm],
    },
    BellGroup {
        name: "zip",
        title: "zips and folds",
        kinds: &[Kind::Zip, Kind::Fold],
    },
    BellGroup {
        name: "thread",
        title: "thread that ends and begins",
        kinds: &[Kind::StartThread, Kind::EndThread],
    },
    BellGroup {
        name: "count",
        title: "counts asked for",
        kinds: &[Kind::Count],
    },
    BellGroup {
        name: "own",
        title: "steps of your own",
        kinds: &[Kind::Own, Kind::BreakOut],
    },
];

/// Whether the maker wants to hear of a kind of movement.
pub fn rings(settings: &Settings, kind: Kind) -> bool {
    let group = GROUPS.iter().find(|g| g.kinds.contains(&kind));
    group.is_some_and(|g| is_on(settings, g.name))
}

/// Whether a group is switched on; by default none is.
pub fn is_on(settings: &Settings, name: &str) -> bool {
    settings.bell().is_some_and(|on| on.contains(&name))
}

/// The groups that are on after one of them is switched. Names from a newer
/// version are kept.
pub fn switched(settings: &Settings, name: &str) -> Vec<String> {
    let mut on: Vec<String> = settings
        .bell()
        .unwrap_or_default()
        .into_iter()
        .map(str::to_string)
        .collect();
    match on.iter().position(|n| n == name) {
        Some(at) => drop(on.remove(at)),
        None => on.push(name.to_string()),
    }
    on
}
