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

/// Thread and needle from one length of thread on: what the maker decides at
/// the needle holds from the next length that she takes up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadChoice {
    /// Lengths of thread taken up before.
    pub lengths_before: usize,
    /// The thread.
    pub thread: Thread,
    /// The needle.
    pub needle: Needle,
}

impl Thread {
    /// Its name among the usual threads, if it has one.
    pub fn name(self) -> Option<&'static str> {
        let same = |(_, mm): &&(&str, f64)| (mm - self.diameter_mm).abs() < 1e-9;
        THREADS.iter().find(same).map(|(name, _)| *name)
    }
}

impl Needle {
    /// Its size number, if it is a usual one.
    pub fn size(self) -> Option<u8> {
        let same = |(_, mm): &&(u8, f64)| (mm - self.diameter_mm).abs() < 1e-9;
        NEEDLES.iter().find(same).map(|(size, _)| *size)
    }
}

/// Beading needles by size number, mm. Size 10 is published at 0.46 mm; the
/// rest are from memory.
pub const NEEDLES: [(u8, f64); 5] = [(10, 0.46), (11, 0.41), (12, 0.36), (13, 0.33), (15, 0.30)];
