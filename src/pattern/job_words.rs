//! The words that jobs share: what a new panel is called, and which side is
//! meant.

use super::corners::MadeSide;
use super::error::{PanelFault, Quote};
use super::faults::Faults;
use super::field::Field;
use super::file::SideFile;
use super::made::Made;
use super::panel::good_name;

/// What a job calls its new panel.
pub(super) fn new_name(
    given: Option<&String>,
    kind: &str,
    at: &Field,
    faults: &mut Faults,
) -> String {
    if let Some(name) = given.filter(|name| !good_name(name)) {
        faults.add(&at.key("as"), PanelFault::BadName(Quote::new(name)));
    }
    given.cloned().unwrap_or_else(|| kind.to_string())
}

/// A side as the file names it.
pub(super) fn side(
    file: &SideFile,
    made: &Made,
    at: &Field,
    faults: &mut Faults,
) -> Option<MadeSide> {
    let panel = made.panel(&file.panel, &at.key("panel"), faults)?;
    made.side(panel, file.side, &at.key("side"), faults)
}
