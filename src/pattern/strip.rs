//! Strips: which fields belong to a panel made in rows, and which to one made
//! in rounds.

use super::file::PanelFile;
use super::source::Field;
use crate::beadwork::plural;
use crate::problem::{Problem, quoted};

/// Reports fields that are missing, or that belong to another stitch.
pub(super) fn check(file: &PanelFile, at: Field) {
    let is_strip = file.is_strip();
    let of_rounds = [
        ("sides", file.sides.is_some()),
        ("rounds", file.rounds.is_some()),
        ("corners", file.corners.is_some()),
        ("start", file.start.is_some()),
        ("ring", file.ring.is_some()),
        ("gaps", file.gaps.is_some()),
        ("corner_beads", file.corner_beads.is_some()),
        ("way", file.way.is_some()),
        ("open", file.open.is_some()),
        ("stone", file.stone.is_some()),
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
    for (name, _) in needed.iter().filter(|(_, is_given)| !*is_given) {
        at.refuse(
            format!("the field '{name}' is missing"),
            format!("add \"{name}\" with {}", expected(name)),
        );
    }
    for (name, _) in other.iter().filter(|(_, is_given)| *is_given) {
        at.key(name).note_name(of_other_stitch(name, is_strip));
    }
    if let Some(width) = file.width.filter(|width| is_strip && width.0 % 2 == 1) {
        let width = width.0;
        at.key("width").refuse(
            format!(
                "a strip {} wide needs a turn of its own at one edge, which is not made yet",
                plural(width as usize, "bead")
            ),
            format!("make it {} or {} wide", (width - 1).max(2), width + 1),
        );
    }
}

fn of_other_stitch(name: &str, is_strip: bool) -> Problem {
    if !is_strip {
        return Problem::new(
            format!("only a strip has '{name}'"),
            format!("write \"stitch\": \"strip\", or take \"{name}\" out"),
        );
    }
    let mend = match name {
        "rounds" => "write \"rows\" instead".to_string(),
        "sides" => "write \"width\", the beads that it is wide, instead".to_string(),
        _ => format!("take \"{name}\" out"),
    };
    Problem::new(format!("a strip has no '{name}'"), mend)
}

/// Reports a strip that is to be joined.
pub(super) fn alone(name: &str) -> Problem {
    Problem::new(
        format!(
            "the panel {} is a strip, and strips cannot be joined yet",
            quoted(name)
        ),
        "make the strip by itself, or take another panel",
    )
}

/// What is expected in a field.
fn expected(name: &str) -> &'static str {
    match name {
        "sides" => "a whole number from 3 to 12",
        "rounds" => "a whole number from 1 to 1000",
        "width" => "an even number from 2 to 1000",
        _ => "a whole number from 2 to 10000",
    }
}
