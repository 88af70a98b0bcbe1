//! Strips: a panel of rows, read as a panel of one side whose rounds are its
//! rows.

use super::error::{PanelFault, Shape};
use super::faults::Faults;
use super::field::Field;
use super::file::{PanelFile, StitchFile};

/// A strip as a panel of one side; none if the panel is no strip. Fields that
/// are missing or do not belong to the stitch are told of.
pub(super) fn as_rounds(file: &PanelFile, at: &Field, faults: &mut Faults) -> Option<PanelFile> {
    let is_strip = file.stitch == Some(StitchFile::Strip);
    let of_rounds = [
        ("sides", file.sides > 0),
        ("rounds", file.rounds > 0),
        ("corners", file.corners.is_some()),
        ("start", file.start.is_some()),
        ("ring", file.ring.is_some()),
        ("words", file.words.is_some()),
        ("way", file.way.is_some()),
        ("open", file.open.is_some()),
        ("row", file.row.is_some()),
        ("tip", file.tip.is_some()),
    ];
    let of_strips = [
        ("width", file.width.is_some()),
        ("rows", file.rows.is_some()),
    ];
    let (other, needed) = match is_strip {
        true => (&of_rounds[..], &of_strips[..]),
        false => (&of_strips[..], &of_rounds[..2]),
    };
    for (name, _) in other.iter().filter(|(_, is_given)| *is_given) {
        faults.add_name(&at.key(name), PanelFault::OtherStitch(name, is_strip));
    }
    for (name, _) in needed.iter().filter(|(_, is_given)| !*is_given) {
        let missing = Shape::Missing {
            name: name.to_string(),
            expected: expected(name).to_string(),
        };
        faults.add(at, missing);
    }
    if let Some(width) = file.width.filter(|width| is_strip && width % 2 == 1) {
        faults.add(&at.key("width"), PanelFault::OddWidth(width));
    }
    let rows = file.rows.filter(|_| file.width.is_some_and(|w| w % 2 == 0));
    is_strip.then(|| PanelFile {
        stitch: file.stitch,
        sides: 1,
        rounds: rows.unwrap_or(0),
        width: file.width,
        rows: file.rows,
        corners: None,
        start: None,
        ring: None,
        words: None,
        way: None,
        open: None,
        colours: file.colours.clone(),
        row: None,
        tip: None,
    })
}

/// What belongs in a field.
fn expected(name: &str) -> &'static str {
    match name {
        "sides" => "a whole number from 3 to 12",
        "rounds" => "a whole number from 1 to 1000",
        "width" => "an even number from 2 to 1000",
        _ => "a whole number from 2 to 10000",
    }
}
