//! A reminder to rest eyes and hands.

use crate::progress::{Entry, Event, Moment};
use std::time::Duration;

/// A pause of this length is a rest.
pub(super) const REST: Duration = Duration::from_secs(300);

/// How long the maker has worked without a rest.
#[derive(Clone, Copy, Debug, Default)]
pub struct Rest {
    since: Option<Moment>,
    last: Option<Moment>,
}

impl Rest {
    /// The setting for the minutes after which to remind; 0 is off.
    pub const SETTING: &'static str = "rest-reminder";

    /// Adds the next entry of the journal.
    pub fn add(&mut self, entry: &Entry) {
        let paused = match self.last {
            // A clock set back counts as a rest.
            Some(last) => entry.at.since(last).is_none_or(|pause| pause >= REST),
            None => true,
        };
        if paused || matches!(entry.did, Event::Opened | Event::Rested) {
            self.since = Some(entry.at);
        }
        self.last = Some(entry.at);
    }

    /// How long the maker has worked without a rest, until now.
    pub fn working(&self, now: Moment) -> Duration {
        let paused = self.last.and_then(|last| now.since(last));
        if paused.is_none_or(|pause| pause >= REST) {
            return Duration::ZERO;
        }
        self.since
            .and_then(|since| now.since(since))
            .unwrap_or_default()
    }

    /// Whether to remind now, after this many minutes of work; 0 is never.
    pub fn is_due(&self, now: Moment, minutes: u32) -> bool {
        let after = Duration::from_secs(u64::from(minutes) * 60);
        minutes > 0 && self.working(now) >= after
    }

    /// The maker was reminded: the time starts again.
    pub fn reminded(&mut self, now: Moment) {
        self.since = Some(now);
    }

    /// The reminder.
    pub fn say() -> &'static str {
        "Rest your eyes and hands a moment: look into the distance, open and close your hands"
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::progress::MoveReason;

    fn minute(n: i64) -> Moment {
        Moment(1_700_000_000_000 + n * 60_000)
    }

    fn worked(minutes: impl Iterator<Item = i64>) -> Rest {
        let mut rest = Rest::default();
        minutes.for_each(|n| rest.add(&Entry::to(n as u32, MoveReason::Forward, minute(n))));
        rest
    }

    #[test]
    fn a_reminder_is_due_after_half_an_hour_and_again_half_an_hour_later() {
        let mut rest = worked(0..=30);
        assert!(rest.is_due(minute(30), 30));
        assert!(!rest.is_due(minute(29), 30));
        rest.reminded(minute(30));
        assert!(!rest.is_due(minute(31), 30));
    }

    #[test]
    fn a_pause_is_a_rest_and_off_is_off() {
        let rest = worked((0..20).chain(26..40));
        assert!(!rest.is_due(minute(39), 20));
        assert!(rest.is_due(minute(39), 13));
        assert!(!rest.is_due(minute(39), 0));
        assert!(!rest.is_due(minute(60), 13));
    }
}
