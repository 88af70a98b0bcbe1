//! The version of the files' format.

use std::fmt;

use crate::beadwork::planner::PlanRule;
use serde::{Deserialize, Serialize};

/// A format version. A new minor version only adds kinds of entry and fields,
/// which an older program ignores and keeps. A new major version changes the
/// meaning of what is there, so an older program must not open it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Version {
    /// Increased when the meaning of existing files changes.
    pub major: u32,
    /// Increased when something is added.
    pub minor: u32,
}

impl Version {
    /// The version that this program writes.
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

    /// Whether this program can read it and append to it.
    pub fn is_readable(self) -> bool {
        self.major == Self::OURS.major
    }
}

impl fmt::Display for Version {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.major, self.minor)
    }
}
