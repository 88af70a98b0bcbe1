//! The version of the written form.

use std::fmt;

use crate::beadwork::planner::PlanRule;
use serde::{Deserialize, Serialize};

/// A format version. A new minor only adds kinds of entry and fields, which an
/// older program ignores and keeps; a new major changes what is there, so
/// an older program must leave it alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Version {
    /// Changes when what was written before means something else.
    pub major: u32,
    /// Changes when something is added.
    pub minor: u32,
}

impl Version {
    /// What this program writes.
    pub const OURS: Version = Version { major: 1, minor: 8 };

    /// The rule by which a piece begun in this version is planned.
    pub fn plan_rule(self) -> PlanRule {
        match (self.major, self.minor) {
            (..=1, ..=3) => PlanRule::AcrossHinge,
            (..=1, ..=6) => PlanRule::PastTips,
            (..=1, 7) => PlanRule::ShortEnds,
            _ => PlanRule::Current,
        }
    }

    /// Whether this program can read and add to it.
    pub fn is_readable(self) -> bool {
        self.major == Self::OURS.major
    }
}

impl fmt::Display for Version {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.major, self.minor)
    }
}
