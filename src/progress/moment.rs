//! A time stamp.

use std::time::{Duration, SystemTime, UNIX_EPOCH};

use chrono::{DateTime, Local, NaiveDate, Utc};
use serde::{Deserialize, Serialize};

/// A moment by the machine's clock: milliseconds since 1970, UTC, so that a
/// change of time zone does not matter.
///
/// A clock can be set back, so a later entry may have an earlier moment. The
/// order of the journal counts; a moment is only shown and used for pace.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Moment(
    /// Milliseconds since 1970-01-01T00:00:00Z; negative before.
    pub i64,
);

impl Moment {
    /// The machine's clock now.
    pub fn now() -> Moment {
        let millis = |d: Duration| i64::try_from(d.as_millis()).unwrap_or(i64::MAX);
        match SystemTime::now().duration_since(UNIX_EPOCH) {
            Ok(after) => Moment(millis(after)),
            Err(before) => Moment(-millis(before.duration())),
        }
    }

    /// How long after `earlier` this is; `None` if the clock was set back
    /// between the two.
    pub fn since(self, earlier: Moment) -> Option<Duration> {
        let millis = self.0.checked_sub(earlier.0)?;
        u64::try_from(millis).ok().map(Duration::from_millis)
    }

    /// The same moment as a calendar date; `None` beyond the calendar.
    pub fn date(self) -> Option<DateTime<Utc>> {
        DateTime::from_timestamp_millis(self.0)
    }

    /// Its day in the machine's time zone; `None` beyond the calendar.
    pub fn local_date(self) -> Option<NaiveDate> {
        let date = self.date()?.with_timezone(&Local);
        Some(date.date_naive())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_set_back_gives_no_duration() {
        assert_eq!(
            Moment(5_000).since(Moment(3_000)),
            Some(Duration::from_secs(2))
        );
        assert_eq!(Moment(3_000).since(Moment(5_000)), None);
        assert_eq!(Moment(i64::MIN).since(Moment(i64::MAX)), None);
    }

    #[test]
    fn a_moment_has_a_date_within_the_calendar() {
        let date = Moment(0).date().map(|d| d.to_rfc3339());
        assert_eq!(date.as_deref(), Some("1970-01-01T00:00:00+00:00"));
        assert_eq!(Moment(i64::MAX).date(), None);
    }
}
