//! The largest sizes that a pattern can have. Beyond these the reader refuses,
//! so that no file can hang the program or fill the memory.

/// Bytes of a pattern file.
pub const FILE_BYTES: usize = crate::plain_file::PATTERN_BYTES as usize;

/// Brackets within brackets. The format itself needs seven.
pub const NESTING: usize = 32;

/// Beads of a piece. It also bounds all kinds of panel of a pattern together.
pub const PIECE_BEADS: u64 = 4_000_000;

/// The approximate number of threads with which a piece can be sewn: the start
/// and end of each is stored.
pub const THREADS: u64 = 40_000;

/// Longest expansion of a colour word without `*`.
pub const WORD_LETTERS: usize = 4096;

/// The most letters that all colour words of a pattern can give together.
pub const PATTERN_LETTERS: usize = 1_000_000;

/// Characters of one line of colours or of one gap word.
pub const LINE_CHARS: usize = 10_000;

/// Kinds of bead in one pattern: each has an index of one byte.
pub const BEAD_KINDS: usize = 200;

/// Problems reported in one go; the rest are counted.
pub const PROBLEMS: usize = 20;
