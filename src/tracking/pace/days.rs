//! The days on which a piece was worked on, as a small chart.
//!
//! ```text
//! Sat 21 Nov 2026  ██████            61 movements, 12 min
//! Thu 26 Nov 2026  ████████████████  160 movements, 31 min
//! ```

use super::rest::REST;
use crate::plan::page::hours;
use crate::progress::{Entry, Event, Moment, MoveReason};
use chrono::NaiveDate;
use std::time::Duration;

/// Days listed one by one; earlier ones are combined.
const MAX_DAYS: usize = 14;

/// The most columns of a bar.
const MAX_BAR: usize = 24;

/// The columns of a line without its bar.
const WORD_COLUMNS: usize = 46;

/// A day on which movements were made.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkDay {
    /// The date in the machine's time zone.
    pub date: NaiveDate,
    /// Movements made, including those that were unpicked later.
    pub movements: u32,
    /// Time at work, without pauses of five minutes or more.
    pub worked: Duration,
}

/// The days of a piece, from its journal.
#[derive(Clone, Debug, Default)]
pub struct WorkDays {
    days: Vec<WorkDay>,
    before: Option<Moment>,
}

impl WorkDays {
    /// Adds the next entry of the journal.
    pub fn add(&mut self, entry: &Entry) {
        let before = self.before.replace(entry.at);
        let Some(date) = entry.at.local_date() else {
            return;
        };
        let took = before.and_then(|before| entry.at.since(before));
        let took = took.filter(|took| *took < REST).unwrap_or_default();
        let made = matches!(
            entry.did,
            Event::Move {
                why: MoveReason::Forward,
                ..
            }
        );
        // After a clock is set back, the day may exist already.
        let at = self.days.iter().rposition(|day| day.date == date);
        let at = at.unwrap_or_else(|| {
            let (movements, worked) = (0, Duration::ZERO);
            self.days.push(WorkDay {
                date,
                movements,
                worked,
            });
            self.days.len() - 1
        });
        self.days[at].movements += u32::from(made);
        self.days[at].worked += took;
    }

    /// The days on which movements were made, in order of date.
    pub fn days(&self) -> Vec<WorkDay> {
        let worked = self.days.iter().filter(|day| day.movements > 0);
        let mut days: Vec<WorkDay> = worked.cloned().collect();
        days.sort_by_key(|day| day.date);
        days
    }

    /// A line for each day, at most `columns` wide, with a bar of this
    /// character; without a bar if there is no room or no character.
    pub fn chart(&self, columns: usize, sign: Option<char>) -> Vec<String> {
        let days = self.days();
        let (earlier, listed) = days.split_at(days.len().saturating_sub(MAX_DAYS));
        let mut lines = vec![];
        if !earlier.is_empty() {
            let n = earlier.len();
            let days = if n == 1 { "day" } else { "days" };
            lines.push(format!("{n} earlier {days}: {}", sum(earlier)));
        }
        let most = listed.iter().map(|day| day.movements).max().unwrap_or(1);
        let room = columns.saturating_sub(WORD_COLUMNS).min(MAX_BAR);
        lines.extend(listed.iter().map(|day| {
            let date = day.date.format("%a %e %b %Y");
            let words = sum(std::slice::from_ref(day));
            match sign.filter(|_| room >= 8) {
                Some(sign) => {
                    let long = (day.movements as usize * room).div_ceil(most as usize);
                    let bar: String = std::iter::repeat_n(sign, long).collect();
                    format!("{date}  {bar:room$}  {words}")
                }
                None => format!("{date}: {words}"),
            }
        }));
        lines
    }
}

/// `160 movements, 31 min`.
fn sum(days: &[WorkDay]) -> String {
    let movements: u32 = days.iter().map(|day| day.movements).sum();
    let worked: Duration = days.iter().map(|day| day.worked).sum();
    let movements = crate::beadwork::plural(movements as usize, "movement");
    format!("{movements}, {}", hours(worked.as_secs_f64() / 60.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    const DAY: i64 = 86_400_000;

    /// Movements ten seconds apart, from noon of each day.
    fn worked(days: &[(i64, u32)]) -> WorkDays {
        let mut all = WorkDays::default();
        let mut step = 0;
        for &(day, movements) in days {
            for n in 0..movements {
                step += 1;
                let at = Moment(day * DAY + DAY / 2 + i64::from(n) * 10_000);
                all.add(&Entry::to(step, MoveReason::Forward, at));
            }
        }
        all
    }

    #[test]
    fn a_day_without_movements_is_left_out_and_pauses_are_not_work() {
        let mut days = worked(&[(20_000, 4), (20_002, 1)]);
        days.add(&Entry::to(
            4,
            MoveReason::Back,
            Moment(20_005 * DAY + DAY / 2),
        ));
        let days = days.days();
        assert_eq!(days.iter().map(|d| d.movements).collect::<Vec<_>>(), [4, 1]);
        assert_eq!(days[0].worked, Duration::from_secs(30));
        assert_eq!(days[1].worked, Duration::ZERO);
        assert_eq!((days[1].date - days[0].date).num_days(), 2);
    }

    #[test]
    fn bars_are_in_proportion_to_the_movements() {
        let days = worked(&[(20_000, 40), (20_002, 10)]);
        let lines = days.chart(80, Some('#'));
        let bars = |line: &str| line.matches('#').count();
        assert_eq!((bars(&lines[0]), bars(&lines[1])), (24, 6));
        assert!(lines[1].ends_with("10 movements, 2 min"), "{}", lines[1]);
        // Columns are aligned, and all lines fit.
        let begins = |line: &str, words: &str| line.find(words).unwrap();
        assert_eq!(begins(&lines[0], "40 mov"), begins(&lines[1], "10 mov"));
        assert!(lines.iter().all(|line| line.len() <= 80));
        for plain in [days.chart(80, None), days.chart(40, Some('#'))] {
            assert!(plain[0].ends_with(": 40 movements, 7 min"), "{}", plain[0]);
        }
    }

    #[test]
    fn earlier_days_are_combined() {
        let many: Vec<(i64, u32)> = (0..20).map(|day| (20_000 + day, 2)).collect();
        let lines = worked(&many).chart(80, None);
        assert_eq!(lines.len(), MAX_DAYS + 1);
        assert!(
            lines[0].starts_with("6 earlier days: 12 movements"),
            "{}",
            lines[0]
        );
    }
}
