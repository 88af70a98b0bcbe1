//! Lengths as makers say them.

use crate::plan::size::MM_PER_INCH;

/// In which unit sizes are told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches.
    Inches,
}

impl Unit {
    /// A length in this unit, to three figures: no more is known of beadwork.
    pub fn length(self, mm: f64) -> String {
        match self {
            Unit::Millimetres if mm >= 99.95 => format!("{mm:.0} mm"),
            Unit::Millimetres => format!("{mm:.1} mm"),
            Unit::Inches => format!("{:.2} in", mm / MM_PER_INCH),
        }
    }

    /// A length of thread: in metres, or in feet of twelve inches.
    pub fn thread(self, mm: f64) -> String {
        match self {
            Unit::Millimetres => format!("{:.2} m", mm / 1000.0),
            Unit::Inches => format!("{:.1} ft", mm / MM_PER_INCH / 12.0),
        }
    }
}

/// Minutes as a maker says them.
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

    #[test]
    fn minutes_are_said_as_makers_say_them() {
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
