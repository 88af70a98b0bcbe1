//! A difference from the layout that the maker keeps.

use serde::{Deserialize, Serialize};

use super::check::{job_number, round_number};
use crate::beadwork::number::{Job, Round, Side};

/// Beads more or fewer than the layout has, on one side of one round. Written
/// with the maker's numbers: job, round and side from 1.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stitched {
    /// Steps done when it was decided.
    pub step: u32,
    /// The job that works the round.
    #[serde(with = "job_number")]
    pub job: Job,
    /// The round; a join row is the round after the panel's last.
    #[serde(with = "round_number")]
    pub round: Round,
    /// The side.
    #[serde(with = "side_number")]
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

mod side_number {
    use super::Side;
    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    pub fn serialize<S: Serializer>(side: &Side, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_u32(side.number())
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Side, D::Error> {
        let number = u32::deserialize(d)?;
        let index = number.checked_sub(1).and_then(|i| u8::try_from(i).ok());
        index
            .map(Side)
            .ok_or_else(|| D::Error::custom("no such side"))
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
