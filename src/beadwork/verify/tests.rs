//! Tests of the verifier.

mod broken;
mod proved;

use super::{Report, verify};
use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::project::{Growth, PanelSpec, Project};
use crate::beadwork::sequence::Sequence;
use crate::beadwork::testing;
use proptest::prelude::*;

/// The report on a project's own steps.
fn prove(project: Project) -> Report {
    let seq = Sequence::new(project);
    let project = seq.layout().project();
    verify(project, seq.goal(), seq.jobs(), seq.iter(), |bead| {
        project.beads[usize::from(seq.layout().colour(bead).0)].size
    })
}

/// The six-sided piece from a ring of three, as gap words.
pub(super) fn from_three() -> PanelSpec {
    let word = |gaps: &[u8], times: usize| GapWord::new(gaps.repeat(times));
    let words = vec![
        word(&[2], 3),
        word(&[1], 6),
        word(&[2], 6),
        word(&[1], 12),
        word(&[1], 12),
        word(&[1, 2], 6),
        word(&[1], 18),
    ];
    PanelSpec {
        growth: Growth::Words { ring: 3, words },
        ..testing::panel(6, 8)
    }
}

/// Corner laws that can be sewn.
pub(super) fn laws() -> impl Strategy<Value = CornerLaw> {
    let start = prop_oneof![Just(Start::Sides), Just(Start::Points)];
    (start, proptest::collection::vec(0u8..3, 1..6))
        .prop_filter_map("not a law", |(start, word)| {
            CornerLaw::new(start, &word).ok()
        })
}
