//! Panels that are named for a piece: whether they exist, suit their purpose,
//! and can be joined to each other.

use super::file::WholeNumber;
use super::panel::{CheckedPanel, edges};
use super::source::Field;
use super::strip;
use crate::beadwork::number::Side;
use crate::beadwork::project::{Closing, SpecIndex, WorkDirection};
use crate::problem::{Problem, names, quoted};

/// Requirements on the faces of a solid, a net or a ring.
pub(super) struct Faces {
    /// What is made from them.
    pub(super) piece: &'static str,
    /// Sides of each face.
    pub(super) sides: u8,
    /// How many faces there are.
    pub(super) number: usize,
}

impl Faces {
    /// Reads the kinds of the faces.
    pub(super) fn read(
        &self,
        names: &[String],
        kinds: &[CheckedPanel],
        at: Field,
    ) -> Option<Vec<SpecIndex>> {
        if names.len() > self.number {
            let (given, number) = (names.len(), self.number);
            at.refuse(
                format!("{given} faces for a piece of {number}"),
                format!("list at most {number}; a shorter list is taken round again"),
            );
        }
        let names = names.iter().enumerate();
        let faces = names.map(|(place, name)| kind(name, kinds, at.entry(place)));
        let faces: Vec<Option<SpecIndex>> = faces.collect();
        let faces: Vec<SpecIndex> = faces.into_iter().collect::<Option<_>>()?;
        self.are_joined(&faces, kinds, at).then_some(faces)
    }

    /// Whether all of these panels can be joined to each other. Each kind of
    /// panel is reported once.
    pub(super) fn are_joined(
        &self,
        faces: &[SpecIndex],
        kinds: &[CheckedPanel],
        at: Field,
    ) -> bool {
        let before = at.problems();
        let mut first: Option<(&CheckedPanel, u32)> = None;
        for (place, &index) in faces.iter().enumerate() {
            if faces[..place].contains(&index) {
                continue;
            }
            let panel = &kinds[index];
            if panel.is_strip() {
                at.note(strip::alone(&panel.name));
                continue;
            }
            if panel.sides != self.sides {
                let (piece, wanted) = (self.piece, self.sides);
                let (name, sides) = (quoted(&panel.name), panel.sides);
                at.refuse(
                    format!(
                        "the panel {name} has {sides} sides, a face of the {piece} has {wanted}"
                    ),
                    format!("take a panel with \"sides\": {wanted}"),
                );
                continue;
            }
            match panel.joinable() {
                Ok(None) => {}
                Ok(Some(layout)) => {
                    let (other, other_beads) = *first.get_or_insert((panel, layout.edge(Side(0))));
                    let (panel, other) = (quoted(&panel.name), quoted(&other.name));
                    let problem = edges(layout)
                        .find_map(|beads| unequal((&panel, beads), (&other, other_beads)));
                    problem.into_iter().for_each(|problem| at.note(problem));
                }
                Err(problem) => at.note(problem),
            }
        }
        at.problems() == before
    }
}

/// Reports that sides of two panels, with these numbers of up beads, do not fit
/// each other.
pub(super) fn unequal(
    (panel, beads): (&str, u32),
    (other, other_beads): (&str, u32),
) -> Option<Problem> {
    let what = || {
        format!(
            "a side of {panel} has {beads} up beads and one of {other} has {other_beads}, so they \
             cannot be joined"
        )
    };
    let mend = "give both panels the same \"rounds\"";
    (beads != other_beads).then(|| Problem::new(what(), mend))
}

/// The kind of panel with a name.
pub(super) fn kind(name: &str, kinds: &[CheckedPanel], at: Field) -> Option<SpecIndex> {
    let found = kinds.iter().position(|kind| kind.name == name);
    if found.is_none() {
        let known = || kinds.iter().map(|kind| kind.name.as_str());
        at.refuse(
            format!("there is no panel {}", quoted(name)),
            match at.nearest(name, known()) {
                Some(near) => format!("write {}, or add the panel to \"panels\"", quoted(near)),
                None => {
                    let known: Vec<&str> = known().take(20).collect();
                    format!("name one of {}", names(&known, "and"))
                }
            },
        );
    }
    found
}

/// Checks that a panel named to fill an opening is worked inward.
pub(super) fn inward(index: SpecIndex, closing: Closing, kinds: &[CheckedPanel], at: Field) {
    if closing == Closing::Fill && kinds[index].way == WorkDirection::Outward {
        let name = quoted(&kinds[index].name);
        at.refuse(
            format!("an opening is filled inward, and the panel {name} is worked outward"),
            format!("write \"way\": \"inward\" in the panel {name}, or name another panel"),
        );
    }
}

/// Checks that a panel that fills an opening ends in corner pairs, because each of
/// its beads lies between two anchors of one side.
pub(super) fn fills(face: SpecIndex, closing: Closing, kinds: &[CheckedPanel], at: Field) {
    let face = &kinds[face];
    if closing == Closing::Fill && face.ends_in_corner_beads() {
        let (name, round) = (quoted(&face.name), face.rounds);
        at.refuse(
            format!(
                "an opening is filled with corner pairs, and the last round of the panel {name}, \
                 {round}, has 1 bead at its corners"
            ),
            "end the panel on a round whose corners take 2 beads: change \"rounds\" or \"corners\"",
        );
    }
}

/// Tip beads. They need the gap inside a corner pair on each of the panels that
/// can carry them.
pub(super) fn tips(
    tips: Option<WholeNumber<0, 2>>,
    carriers: &[SpecIndex],
    kinds: &[CheckedPanel],
    at: Field,
) -> u8 {
    let tips = tips.map_or(0, |tips| tips.0 as u8);
    let mut carriers = carriers.iter().map(|&panel| &kinds[panel]);
    let unfit = carriers.find(|kind| tips > 0 && kind.ends_in_corner_beads());
    if let Some(CheckedPanel { name, rounds, .. }) = unfit {
        let name = quoted(name);
        at.refuse(
            format!(
                "tip beads lie inside a corner pair, and the last round of the panel {name}, {rounds}, \
                 has 1 bead at its corners"
            ),
            "take \"tips\" out, or end the panel on a round whose corners take 2 beads",
        );
    }
    tips
}
