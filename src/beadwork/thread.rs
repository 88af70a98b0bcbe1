//! Thread and needle.

/// The thread of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    /// Its diameter in mm.
    pub diameter_mm: f64,
    /// How long a piece the maker cuts at a time, mm.
    pub cut_mm: f64,
    /// What is left hanging at each end to hold and to weave in, mm.
    pub tail_mm: f64,
}

/// Braided and nylon threads by diameter in mm (from memory).
pub const THREADS: [(&str, f64); 5] = [
    ("braided 0.12", 0.12),
    ("braided 0.15", 0.15),
    ("braided 0.18", 0.18),
    ("nylon 0.20", 0.20),
    ("nylon 0.30", 0.30),
];

/// The needle of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needle {
    /// Its diameter in mm.
    pub diameter_mm: f64,
}

/// Beading needles by size number, mm. Size 10 is published at 0.46 mm; the
/// rest are from memory.
pub const NEEDLES: [(u8, f64); 5] = [(10, 0.46), (11, 0.41), (12, 0.36), (13, 0.33), (15, 0.30)];
