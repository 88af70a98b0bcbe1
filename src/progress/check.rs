//! A count that the maker made, and a difference from the layout that the maker
//! keeps.

use serde::{Deserialize, Serialize};

use crate::beadwork::number::{Job, Round, Side};

/// Beads counted on the mat, and how many there should be. Written with the
/// maker's numbers: job, round and side from 1.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Check {
    /// Steps done when it was counted.
    pub step: u32,
    /// The job that was counted.
    pub job: Job,
    /// The round that was counted.
    pub round: Round,
    /// The side that was counted, or `None` for the whole round.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// How many beads there should be.
    pub expected: u32,
    /// Beads that the maker saw.
    pub counted: u32,
}

/// A difference from the layout in the number of beads on one side of one
/// round. Written with the maker's numbers: job, round and side from 1.
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
    /// How many beads more, or, if negative, fewer; 0 removes the difference.
    pub by: i32,
}

impl Stitched {
    /// Whether both are about the same side of the same round.
    pub(super) fn is_same_side_as(&self, other: &Stitched) -> bool {
        (self.job, self.round, self.side) == (other.job, other.round, other.side)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn counted(counted: u32) -> Check {
        Check {
            step: 30,
            job: Job(0),
            round: Round(4),
            side: None,
            expected: 12,
            counted,
        }
    }

    #[test]
    fn a_check_is_written_with_numbers_from_1() {
        let check = Check {
            side: Some(Side(1)),
            ..counted(4)
        };
        let json = serde_json::to_string(&check).unwrap();
        assert_eq!(
            json,
            r#"{"step":30,"job":1,"round":4,"side":2,"expected":12,"counted":4}"#
        );
        assert_eq!(serde_json::from_str::<Check>(&json).unwrap(), check);
    }

    #[test]
    fn side_0_and_job_0_are_refused() {
        let side = r#"{"step":30,"job":1,"round":4,"side":0,"expected":12,"counted":4}"#;
        let job = r#"{"step":30,"job":0,"round":4,"expected":12,"counted":4}"#;
        assert!(serde_json::from_str::<Check>(side).is_err());
        assert!(serde_json::from_str::<Check>(job).is_err());
    }

    #[test]
    fn a_difference_is_written_with_numbers_from_1() {
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
