//! A difference from the layout that the maker keeps.

use serde::{Deserialize, Serialize};

use crate::beadwork::number::{Job, Round, Side};

/// Beads more or fewer than the layout has, on one side of one round. Written
/// with the maker's numbers: job, round and side from 1.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stitched {
    /// Steps done when it was decided.
    pub step: u32,
    /// The job that works the round.
    pub job: Job,
    /// The round; a join row is the round after the panel's last.
    pub round: Round,
    /// The side.
    pub side: Side,
    /// Beads more, or negative fewer; 0 keeps nothing.
    pub by: i32,
}

impl Stitched {
    /// Whether both are about the same side of the same round.
    pub(super) fn is_at_the_place_of(&self, other: &Stitched) -> bool {
        (self.job, self.round, self.side) == (other.job, other.round, other.side)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_as_the_maker_says_them() {
        let stitched = Stitched {
            step: 30,
            job: Job(0),
            round: Round(9),
            side: Side(1),
            by: -1,
        };
        let json = serde_json::to_string(&stitched).unwrap();
        assert_eq!(json, r#"{"step":30,"job":1,"round":9,"side":2,"by":-1}"#);
        assert_eq!(serde_json::from_str::<Stitched>(&json).unwrap(), stitched);
        assert!(serde_json::from_str::<Stitched>(&json.replace(":2,", ":0,")).is_err());
    }
}
