//! Values from outside the project, each with its source, for tests.

/// Beads of a triangle after K rounds, K from 1: the triangular matchstick
/// numbers, OEIS A045943 (whose term 0 is 0).
pub const A045943: [u32; 20] = [
    3, 9, 18, 30, 45, 63, 84, 108, 135, 165, 198, 234, 273, 315, 360, 408, 459, 513, 570, 630,
];

/// Rounds in which a six-sided flat piece from a ring of six increases:
/// "Hexagonal Flat Peyote Worked In Rounds", BellaOnline, after the late
/// A. Hawley's graph.
pub const HEXAGON_INCREASES: [u32; 4] = [3, 6, 9, 12];

/// Rounds of a six-sided piece from a ring of three: J. Riggs, "Circular
/// Peyote Hexagon Stars", 2020.
pub const HEXAGON_FROM_THREE: [u32; 8] = [3, 6, 6, 12, 12, 12, 18, 18];

/// The diameter of the smallest circle round N circles of diameter 1:
/// R. L. Graham et al., "Dense packings of congruent circles in a circle",
/// Discrete Mathematics 181 (1998).
pub const CIRCLES_IN_A_CIRCLE: [(u32, f64); 12] = [
    (1, 1.0),
    (2, 2.0),
    (3, 2.1547),
    (4, 2.4142),
    (5, 2.7013),
    (6, 3.0),
    (7, 3.0),
    (8, 3.3048),
    (9, 3.6131),
    (10, 3.8130),
    (11, 3.9238),
    (12, 4.0296),
];

/// Corners, edges and faces of the regular solids, and faces at a corner; any
/// handbook.
pub const REGULAR_SOLIDS: [(&str, u32, u32, u32, u32); 4] = [
    ("tetrahedron", 4, 6, 4, 3),
    ("octahedron", 6, 12, 8, 4),
    ("icosahedron", 12, 30, 20, 5),
    ("cube", 8, 12, 6, 3),
];
