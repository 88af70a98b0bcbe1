//! What a pattern asks for, in the engine's own terms. The pattern file is
//! read into this; everything else is worked out from it.

use super::{
    BeadKind, ColourWord, Colours, CornerLaw, GapWord, GoalJob, JobKind, Needle, OwnRounds,
    OwnStep, Panel, PanelLayout, Round, Side, Thread,
};
use glam::DVec2;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// A whole piece as its pattern asks for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Project {
    /// The kinds of bead, each with its letter.
    pub beads: Vec<BeadKind>,
    /// The thread.
    pub thread: Thread,
    /// The needle.
    pub needle: Needle,
    /// The kinds of panel.
    pub panels: Vec<PanelSpec>,
    /// What is made of them.
    pub make: Make,
    /// The kinds of the three faces of an insert that is slipped into each face that
    /// stays open, taken round again; empty for none.
    pub insert: Vec<SpecIndex>,
    /// Steps of the maker's own.
    pub own: Vec<OwnInJob>,
    /// Settings of single joins; what their jobs say comes first.
    pub joins: Vec<JoinDetail>,
}

/// Triangles of an insert.
pub const INSERT_FACES: usize = 3;

/// A step of the maker's own within a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnInJob {
    /// The job.
    pub job: GoalJob,
    /// Movements of the job before it, those that begin, end or weave thread not
    /// counted; `None` at the job's end.
    pub after: Option<u32>,
    /// What to do.
    pub step: OwnStep,
}

/// The settings of the join of one side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JoinDetail {
    /// The job that zips it, or works its row.
    pub job: GoalJob,
    /// The side of the job's panel.
    pub side: Side,
    /// Beads that the needle goes past, through the row next door: their places,
    /// as of [`JoinWhat::NextDoor`](super::amend::JoinWhat::NextDoor).
    pub past: Vec<u32>,
    /// Beads in each gap of its row, if given.
    pub gaps: Vec<u8>,
}

/// One kind of panel.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelSpec {
    /// Its name in the pattern.
    pub name: String,
    /// How many sides it has: 3 to 12, or 1 for a strip, whose rows are its
    /// rounds.
    pub sides: u8,
    /// How many rounds its layout has, the middle ring being round 1; of a
    /// strip how many rows, at least 2.
    pub rounds: u32,
    /// What makes its rounds grow.
    pub growth: Growth,
    /// Which way it is worked.
    pub way: WorkDirection,
    /// Whether inward work begins with a strip for each side, rows K and K−1, and
    /// not with one string.
    pub strips: bool,
    /// How many rounds stay open in the middle (only for inward work); 0 when
    /// it closes.
    pub open: u32,
    /// Across the round stone that its open middle holds, mm, if it holds one.
    pub stone_mm: Option<f64>,
    /// Its colours.
    pub colours: Colours,
    /// The panels that are of this kind, if a maker has them otherwise than
    /// the pattern.
    pub own: Option<OwnKind>,
}

/// A kind that the pattern does not have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnKind {
    /// The panels.
    pub panels: Vec<Panel>,
    /// Its kind in the pattern.
    pub of: SpecIndex,
}

/// What makes the rounds of a panel grow.
#[derive(Clone, Debug, PartialEq)]
pub enum Growth {
    /// The same at every corner.
    Law(CornerLaw),
    /// Gap words of its own.
    Words {
        /// Beads in the ring, round 1.
        ring: u32,
        /// The words of round 2 and on; as many as there are rounds, less one.
        words: Vec<GapWord>,
    },
    /// Made gap by gap, its sides known.
    Own(Arc<OwnRounds>),
    /// It does not grow: a strip of flat peyote, of even count.
    Rows {
        /// Beads in each row, half the columns.
        beads: u32,
        /// The gaps of row 3 and on as they were stitched; none if one bead lies in
        /// each.
        words: Vec<GapWord>,
    },
}

/// Which way a panel is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WorkDirection {
    /// From the ring in the middle, increasing.
    Outward,
    /// From the outermost round, decreasing.
    Inward,
}

impl WorkDirection {
    /// The round that is worked on a round.
    pub fn next(self, on: Round) -> Round {
        match self {
            WorkDirection::Outward => Round(on.0 + 1),
            WorkDirection::Inward => Round(on.0 - 1),
        }
    }

    /// Whether a round is worked later than another.
    pub fn is_later(self, round: Round, than: Round) -> bool {
        match self {
            WorkDirection::Outward => round > than,
            WorkDirection::Inward => round < than,
        }
    }
}

/// A kind of panel: an index into [`Project::panels`], from 0.
pub type SpecIndex = usize;

/// What is made of the panels.
#[derive(Clone, Debug, PartialEq)]
pub enum Make {
    /// One panel, flat.
    Single(SpecIndex),
    /// A regular solid.
    Solid {
        /// Which.
        solid: Solid,
        /// The kinds of its faces in order, taken round again when there are
        /// more faces than kinds.
        faces: Vec<SpecIndex>,
        /// How the last face is closed.
        closing: Closing,
        /// Tip beads at the corners of the join rows, 0 to 2.
        tips: u8,
    },
    /// Six triangles round a point, folded and tied into a pair of tetrahedra
    /// that share a hinge.
    FoldedPair {
        /// The kinds of the six panels, taken round again.
        faces: Vec<SpecIndex>,
        /// The two openings: the kind of panel each takes, and how.
        closings: [(SpecIndex, Closing); 2],
        /// Tip beads at the corners of the join rows, 0 to 2.
        tips: u8,
    },
    /// A ring of hinged tetrahedra.
    Ring {
        /// How many tetrahedra, an even number from 6.
        tetrahedra: u16,
        /// The kinds of the faces, four a tetrahedron, taken round again.
        faces: Vec<SpecIndex>,
        /// How the last face of each tetrahedron is closed, taken round again.
        closings: Vec<Closing>,
        /// Tip beads at the corners of the join rows, 0 to 2.
        tips: u8,
    },
    /// A ring of hinged tetrahedra of six-panel nets that are joined to a band.
    RingOfNets {
        /// How many tetrahedra, an even number from 6; two a net.
        tetrahedra: u16,
        /// The kinds of the panels, six a net, taken round again.
        faces: Vec<SpecIndex>,
        /// The openings, two a net: the kind of panel each takes, and how;
        /// taken round again.
        closings: Vec<(SpecIndex, Closing)>,
        /// Tip beads at the corners of the join rows, 0 to 2.
        tips: u8,
    },
    /// Jobs in the maker's own order.
    Jobs(JobList),
}

/// The regular solids made from equal panels.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub enum Solid {
    /// 4 triangles.
    Tetrahedron,
    /// 8 triangles.
    Octahedron,
    /// 20 triangles.
    Icosahedron,
    /// 6 squares.
    Cube,
}

/// How an opening is closed.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub enum Closing {
    /// A finished panel is zipped in.
    SetIn,
    /// The opening is filled inward from its rim.
    Fill,
    /// It stays open, and its rim is reinforced.
    Open,
}

/// A maker's own list of jobs, and the panels that they make.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JobList {
    /// The panels, in the order in which the jobs make them.
    pub panels: Vec<NamedPanel>,
    /// The jobs, in order.
    pub jobs: Vec<JobKind>,
    /// The shape that they make, if it is one of the others: panels with the
    /// names that its own have lie where these do.
    pub shape: Option<Box<Make>>,
}

impl Make {
    /// Whether corners are tied by folding a net of six panels along its
    /// middle; a maker's own jobs can tie any two.
    pub fn ties_by_a_fold(&self) -> bool {
        match self {
            Make::Jobs(list) => list.shape.is_some(),
            _ => true,
        }
    }

    /// How many tetrahedra a ring has, and the tip beads at its joins.
    pub fn ring(&self) -> Option<(u16, u8)> {
        match self {
            Make::Ring {
                tetrahedra, tips, ..
            }
            | Make::RingOfNets {
                tetrahedra, tips, ..
            } => Some((*tetrahedra, *tips)),
            _ => None,
        }
    }

    /// The shape that is made, also by jobs in the maker's own order.
    pub fn shape(&self) -> &Make {
        match self {
            Make::Jobs(list) => list.shape.as_deref().unwrap_or(self),
            shape => shape,
        }
    }
}

/// A panel of a job list.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedPanel {
    /// What it is called.
    pub name: String,
    /// Its kind.
    pub spec: SpecIndex,
    /// For a fill, the beads of its first round in the gaps of the rim, side by
    /// side; empty for one in each.
    pub rim: Vec<GapWord>,
}

impl Project {
    /// The kind of a panel that has `kind` in the pattern: its own, if it has
    /// one.
    pub fn kind_of_panel(&self, panel: Panel, kind: SpecIndex) -> SpecIndex {
        let own = |spec: &PanelSpec| {
            let own = spec.own.as_ref();
            own.is_some_and(|own| own.panels.contains(&panel))
        };
        self.panels.iter().position(own).unwrap_or(kind)
    }

    /// Forgets the kinds that the pattern does not have.
    pub(super) fn forget_own(&mut self) {
        self.panels.retain(|spec| spec.own.is_none());
    }

    /// The length of the beads, mm: the longest kind.
    pub fn bead_length_mm(&self) -> f64 {
        let beads = self.beads.iter();
        beads.map(|b| b.size.length_mm).fold(0.0, f64::max)
    }

    /// The diameter of the beads, mm: the widest kind.
    pub fn bead_diameter_mm(&self) -> f64 {
        let beads = self.beads.iter();
        beads.map(|b| b.size.diameter_mm).fold(0.0, f64::max)
    }

    /// Length and diameter of the beads, mm.
    pub fn bead_mm(&self) -> DVec2 {
        DVec2::new(self.bead_length_mm(), self.bead_diameter_mm())
    }

    /// Length and diameter of the beads of which the rounds of a panel are, mm.
    pub fn bead_mm_of(&self, spec: &PanelSpec) -> DVec2 {
        let rounds = (spec.open + 1..=spec.rounds).map(Round);
        let words = rounds.flat_map(|round| &spec.colours.rule(round).sides);
        let colours = words.flat_map(ColourWord::letters);
        let sizes = colours.map(|colour| self.beads[usize::from(colour.0)].size);
        sizes.fold(DVec2::ZERO, |mm, size| {
            mm.max(DVec2::new(size.length_mm, size.diameter_mm))
        })
    }

    /// Length of a finished side of a kind of panel, mm: two bead lengths for
    /// each up bead.
    pub fn edge_mm(&self, kind: &PanelLayout) -> f64 {
        2.0 * self.bead_length_mm() * f64::from(kind.edge(Side(0)))
    }
}

impl Solid {
    /// All of them, with their names.
    pub const ALL: [(&'static str, Solid); 4] = [
        ("tetrahedron", Solid::Tetrahedron),
        ("octahedron", Solid::Octahedron),
        ("icosahedron", Solid::Icosahedron),
        ("cube", Solid::Cube),
    ];

    /// The number of its faces.
    pub fn faces(self) -> usize {
        match self {
            Solid::Tetrahedron => 4,
            Solid::Octahedron => 8,
            Solid::Icosahedron => 20,
            Solid::Cube => 6,
        }
    }

    /// Sides of each face.
    pub fn face_sides(self) -> u8 {
        match self {
            Solid::Cube => 4,
            _ => 3,
        }
    }
}
