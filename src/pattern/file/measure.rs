//! Measures as makers write them.

use serde::Serializer;

/// Writes a whole number of mm without a point: 1500, not 1500.0.
pub(super) fn plain<S: Serializer>(measure: &f64, to: S) -> Result<S::Ok, S::Error> {
    // Well within the whole numbers that an f64 holds exactly.
    if measure.fract() == 0.0 && measure.abs() < 1e12 {
        to.serialize_i64(*measure as i64)
    } else {
        to.serialize_f64(*measure)
    }
}

/// The same for a measure that may be left out.
pub(super) fn plain_option<S: Serializer>(measure: &Option<f64>, to: S) -> Result<S::Ok, S::Error> {
    match measure {
        Some(measure) => plain(measure, to),
        None => to.serialize_none(),
    }
}
