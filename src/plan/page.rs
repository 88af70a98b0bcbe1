//! The plan as a page for a beader: its sentences are in page.txt.

use askama::Template;

use super::Plan;
use super::ahead::Ahead;
use super::cuts::Cuts;
use super::json::{start, verdict};
use super::kinds::KindsReason;
use super::pace::STITCH;
use super::size::{MM_PER_INCH, WHY_RANGES};
use crate::beadwork::corner_law::CornerLaw;
use crate::beadwork::kaleidocycle::RingVerdict;
use crate::beadwork::thread::ThreadChoice;
use crate::words::care::CAUTIONS;

/// The most lengths of thread listed one by one; the rest is only counted.
const THREADS_LISTED: usize = 12;

/// The most ways to cut lengths listed on one line.
const CUTS_IN_A_LINE: usize = 5;

/// The most groups of lengths that can be one, listed one by one.
const JOINED_LISTED: usize = 6;

/// The most jobs listed one by one.
const JOBS_LISTED: usize = 24;

/// The sections of the page, with an empty line between them: a heading at the
/// margin, and its lines indented by two.
#[derive(Template)]
#[template(path = "plan/page.txt", config = "src/askama.toml")]
struct Page<'a> {
    plan: &'a Plan,
    ahead: Option<&'a Ahead>,
    unit: Unit,
}

/// One part of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanSection {
    /// What it is about.
    pub heading: String,
    /// Its lines; what belongs to the line before it is indented by two.
    pub lines: Vec<String>,
}

/// The whole page.
pub fn page(title: &str, plan: &Plan, unit: Unit) -> String {
    format!("{title}\n\n{}\n", sections(plan, None, unit))
}

/// The page, part by part; what is still ahead comes first once work has begun.
pub fn parts(plan: &Plan, ahead: Option<&Ahead>, unit: Unit) -> Vec<PlanSection> {
    let part = |section: &str| {
        let mut lines = section.lines();
        PlanSection {
            heading: lines.next().unwrap_or_default().to_string(),
            lines: lines.map(|line| line[2..].to_string()).collect(),
        }
    };
    sections(plan, ahead, unit)
        .split("\n\n")
        .map(part)
        .collect()
}

fn sections(plan: &Plan, ahead: Option<&Ahead>, unit: Unit) -> String {
    // Writing to a String does not fail.
    Page { plan, ahead, unit }.render().unwrap_or_default()
}

/// What templates can do with the values of a plan.
pub(crate) mod filters {
    use super::Unit;
    use askama::{Result, Values, filter_fn};
    use std::borrow::Borrow;

    /// A length in a unit.
    #[filter_fn]
    pub fn length(mm: impl Borrow<f64>, _: &dyn Values, unit: &Unit) -> Result<String> {
        Ok(unit.length(*mm.borrow()))
    }

    /// A length of thread.
    #[filter_fn]
    pub fn thread(mm: impl Borrow<f64>, _: &dyn Values, unit: &Unit) -> Result<String> {
        Ok(unit.thread(*mm.borrow()))
    }

    /// A length, or from that to a greater one.
    #[filter_fn]
    pub fn range(
        least: impl Borrow<f64>,
        _: &dyn Values,
        unit: &Unit,
        most: &Option<f64>,
    ) -> Result<String> {
        Ok(unit.range(*least.borrow(), *most))
    }

    /// Minutes as hours and minutes.
    #[filter_fn]
    pub fn hours(minutes: impl Borrow<f64>, _: &dyn Values) -> Result<String> {
        Ok(super::hours(*minutes.borrow()))
    }
}

/// A corner law in words.
pub fn law(law: &CornerLaw) -> String {
    let corners: Vec<String> = law.word().iter().map(u8::to_string).collect();
    format!(
        "corners {} on a ring of {}",
        corners.join(" "),
        start(law.start())
    )
}

/// The unit in which sizes are given.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches.
    Inches,
}

impl Unit {
    /// A length in this unit to three figures: beadwork is not more exact than
    /// that.
    pub fn length(self, mm: f64) -> String {
        match self {
            Unit::Millimetres if mm >= 99.95 => format!("{mm:.0} mm"),
            Unit::Millimetres => format!("{mm:.1} mm"),
            Unit::Inches => format!("{:.2} in", mm / MM_PER_INCH),
        }
    }

    /// `20.8 mm`, or `20.8 to 21.4 mm`.
    pub fn range(self, least: f64, most: Option<f64>) -> String {
        let from = self.length(least);
        match (most.map(|most| self.length(most)), from.split_once(' ')) {
            (Some(to), Some((least, _))) if to != from => format!("{least} to {to}"),
            _ => from,
        }
    }

    /// A length of thread: in metres, or in feet.
    pub fn thread(self, mm: f64) -> String {
        match self {
            Unit::Millimetres => format!("{:.2} m", mm / 1000.0),
            Unit::Inches => format!("{:.1} ft", mm / MM_PER_INCH / 12.0),
        }
    }

    /// How many lengths to cut to each measure: `3 of 0.95 m`.
    pub fn fitted(self, cuts: &Cuts) -> Vec<String> {
        let fitted = cuts.fitted.iter();
        let of = fitted.map(|(mm, lengths)| format!("{lengths} of {}", self.thread(*mm)));
        of.collect()
    }

    /// `2.85 m, 0.10 m left over; cut as planned 4.50 m, 1.75 m left over`.
    pub fn left_over(self, cuts: &Cuts) -> String {
        let all = |mm, over| format!("{}, {} left over", self.thread(mm), self.thread(over));
        format!(
            "{}; cut as planned {}",
            all(cuts.fitted_mm(), cuts.left_over_fitted_mm()),
            all(cuts.cut_mm, cuts.left_over_mm())
        )
    }

    /// `lengths 2 to 5: 0.15 mm thick, cut to 1.50 m, needle of size 12`.
    pub fn lengths(self, (first, last, choice): &(usize, usize, ThreadChoice)) -> String {
        let lengths = match first == last {
            true => format!("length {first}"),
            false => format!("lengths {first} to {last}"),
        };
        let needle = match choice.needle.size() {
            Some(size) => format!("of size {size}"),
            None => format!("{} mm thick", choice.needle.diameter_mm),
        };
        format!(
            "{lengths}: {} mm thick, cut to {}, needle {needle}",
            choice.thread.diameter_mm,
            self.thread(choice.thread.cut_mm)
        )
    }
}

/// Minutes in the words a maker would use.
pub fn hours(minutes: f64) -> String {
    let whole = minutes.round() as u64;
    match (whole / 60, whole % 60) {
        (0, 0) => "under a minute".to_string(),
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Sequence, testing};
    use crate::plan::Wishes;

    #[test]
    fn the_page_of_a_ring_that_binds_says_what_would_let_it_turn() {
        let seq = Sequence::new(testing::ring(6, 12, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        let page = page("Six", &plan, Unit::Millimetres);
        for words in [
            "no: 6 tetrahedra bind at the middle by 0.9 mm",
            "8 tetrahedra or more",
            "faces 28.3 mm high on the hinge (these are 27.0 mm)",
        ] {
            assert!(page.contains(words), "{words}\n{page}");
        }
    }

    #[test]
    fn lines_are_short_enough_to_read() {
        let seq = Sequence::new(testing::solid(Solid::Octahedron, 6, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        for line in page("Eight", &plan, Unit::Millimetres).lines() {
            assert!(line.chars().count() <= 110, "{line}");
        }
    }

    #[test]
    fn a_range_whose_ends_are_written_alike_is_one_length() {
        let edge = |most| Unit::Millimetres.range(18.21, Some(most));
        assert_eq!(edge(18.24), "18.2 mm");
        assert_eq!(edge(18.26), "18.2 to 18.3 mm");
    }

    /// A ring of six: the threads that begin its panels leave no corner to be
    /// reached twice, but the needle is moved.
    #[test]
    fn the_page_says_how_few_beads_the_best_order_passes() {
        let seq = Sequence::new(testing::ring(6, 5, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        assert!(plan.order.retravel > 0 && plan.order.with_panel_threads.cost == 0);
        let page = page("Six", &plan, Unit::Millimetres);
        let words =
            "passed only to move the needle; with as many threads the best order might pass none";
        assert!(page.contains(words), "{page}");
    }

    #[test]
    fn minutes_are_written_as_makers_say_them() {
        let said = [0.2, 45.0, 60.0, 154.6].map(hours);
        assert_eq!(said, ["under a minute", "45 min", "1 h", "2 h 35 min"]);
    }

    #[test]
    fn an_inch_is_25_4_mm() {
        assert_eq!(Unit::Inches.length(25.4), "1.00 in");
        let said = [1.25, 99.94, 99.96, 150.0].map(|mm| Unit::Millimetres.length(mm));
        assert_eq!(said, ["1.2 mm", "99.9 mm", "100 mm", "150 mm"]);
        assert_eq!(Unit::Inches.thread(304.8), "1.0 ft");
        assert_eq!(Unit::Millimetres.thread(1500.0), "1.50 m");
    }
}
