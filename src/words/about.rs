//! The words that explain a movement or a job.

use super::{Word, all};
use crate::beadwork::job::JobKind;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::sequence::Sequence;

fn words(names: &[&str]) -> Vec<&'static Word> {
    let word = |name: &&str| all().find(|w| w.word == *name);
    names.iter().filter_map(word).collect()
}

/// The words that explain a kind of movement.
pub fn of_kind(kind: Kind) -> Vec<&'static Word> {
    words(match kind {
        Kind::Ring => &["ring", "round"],
        Kind::Stitch => &["stitch", "gap", "up bead"],
        Kind::Increase => &["increase", "gap"],
        Kind::Decrease => &["decrease"],
        Kind::StepUp => &["step-up"],
        Kind::StepDown => &["step-down"],
        Kind::PassThrough => &["sew through"],
        Kind::Zip => &["zip", "join row"],
        Kind::Fold => &["fold"],
        Kind::Close => &["close"],
        Kind::Firm => &["reinforce"],
        Kind::StartThread => &["thread", "tail"],
        Kind::EndThread => &["weave in", "thread"],
        Kind::Count => &["count", "up bead"],
        Kind::Own => &["own step"],
        Kind::BreakOut => &["break out"],
    })
}

/// The words that explain a movement.
pub fn of_movement(seq: &Sequence, m: &Movement) -> Vec<&'static Word> {
    match m.kind {
        Kind::Stitch | Kind::Increase if seq.is_tip(m) => words(&["tip bead", "join row"]),
        Kind::Fold if !m.passes.is_empty() => words(&["tie"]),
        kind => of_kind(kind),
    }
}

/// The words that explain what a job is for.
pub fn of_job(kind: &JobKind) -> Vec<&'static Word> {
    words(match kind {
        JobKind::Panel(_) => &["panel"],
        JobKind::JoinRow { .. } => &["join row"],
        JobKind::Zip(..) => &["zip"],
        JobKind::SetIn(..) | JobKind::SetInMiddle { .. } => &["set in"],
        JobKind::Fill { .. } => &["fill"],
        JobKind::Reinforce(..) => &["reinforce", "join row"],
        JobKind::FirmRim(_) => &["reinforce", "rim"],
        JobKind::Tie(..) => &["tie", "folded pair"],
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::Sequence;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    #[test]
    fn every_kind_of_movement_has_its_word() {
        for (kind, name) in Kind::ALL {
            let words = of_kind(kind);
            assert!(!words.is_empty(), "{name}");
            // The two kinds of movement for thread have no word of their own; a
            // maker says 'reinforce' where output has 'firm'.
            if !matches!(kind, Kind::StartThread | Kind::EndThread | Kind::Firm) {
                let spoken = words[0].spellings().any(|s| s == name);
                assert!(spoken, "{name} is explained as '{}'", words[0].word);
            }
        }
    }

    #[test]
    fn every_movement_and_job_is_explained() {
        for seq in [
            testing::folded_pair(4, 1),
            testing::solid(Solid::Tetrahedron, 4, Closing::Open),
            testing::single(testing::inward(3, 4, 0)),
        ]
        .map(Sequence::new)
        {
            for m in seq.iter() {
                assert!(!of_movement(&seq, &m).is_empty(), "{:?}", m.kind);
            }
            for job in seq.jobs() {
                assert!(!of_job(&job.kind).is_empty(), "{}", job.title);
            }
        }
    }
}
