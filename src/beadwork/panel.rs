//! A panel as a layout of rounds, whatever stitch it is made in.
//!
//! Rounds (or rows) are numbered from 1; the beads of each are indexed from 0.
//! Everything that the rest of the program asks of a panel it asks here:
//! how many beads a round has, on which side and at which place each lies,
//! what it touches, and how a round is worked. A stitch answers by
//! [`PanelStitch`]:
//!
//! | stitch | |
//! |---|---|
//! | [`RoundPeyote`] | a face of n sides in rounds, outward or inward |
//! | [`Strip`] | flat peyote of even count, in rows to and fro |
//!
//! A new stitch is a file with its layout, a line in the list below, and its
//! own reading in [`super::verify`].

use super::end::End;
use super::gap_word::GapWord;
use super::making::{Begin, Making};
use super::number::{Round, Side};
use super::own_rounds::OwnRounds;
use super::project::{Growth, PanelSpec, WorkDirection};
use super::round_peyote::RoundPeyote;
use super::round_work::RoundWork;
use super::strip::Strip;

/// Where a bead lies in its round, all from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its side.
    pub side: Side,
    /// Its place on that side.
    pub place: u32,
    /// Beads that the side has in this round.
    pub of: u32,
}

/// A bead of a panel: its round, and its index in it from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The round.
    pub round: Round,
    /// The index.
    pub index: u32,
}

/// What a stitch says of a panel that is made in it.
pub trait PanelStitch {
    /// How many sides.
    fn sides(&self) -> u8;
    /// How many rounds.
    fn rounds(&self) -> u32;
    /// Beads in a round.
    fn in_round(&self, round: Round) -> u32;
    /// Beads in the rounds before a round; `round` may be one past the last.
    fn before(&self, round: Round) -> u32;
    /// The word by which a round grows on the one before it: round 2 and on, or row
    /// 3 and on of a strip.
    fn word(&self, round: Round) -> &GapWord;
    /// Where bead `index` of a round lies.
    fn place(&self, round: Round, index: u32) -> Place;
    /// The side on which bead `index` of a round lies.
    fn side(&self, round: Round, index: u32) -> Side;
    /// Beads that a side has in a round.
    fn on_side(&self, round: Round, side: Side) -> u32;
    /// The index of the bead at a place (from 0) of a side. Places past the
    /// side's end go on along the next side.
    fn index(&self, round: Round, side: Side, place: u32) -> u32;
    /// Beads at each corner of a round; 0 where nothing says where its corners
    /// are.
    fn corner(&self, round: Round) -> u8;
    /// Whether sides of this panel can be joined: each has a bead at both
    /// ends.
    fn can_be_joined(&self) -> bool;
    /// Up beads along a side of the finished panel, both ends counted. A
    /// corner bead ends one side and begins the next, and counts on both.
    fn edge(&self, side: Side) -> u32;
    /// The index in the last round of up bead `j` (from 0) of a side.
    fn edge_index(&self, side: Side, j: u32) -> u32;
    /// How a panel begins that is made by itself.
    fn begin(&self, way: WorkDirection) -> Begin;
    /// The work of the round made on `on`, the needle leaving bead `entry` of
    /// it (which a strip does not ask).
    fn work(&self, way: WorkDirection, on: Round, entry: u32) -> RoundWork<'_>;
    /// The ends of beads of the same panel that touch an end of a bead, when
    /// `strung` beads of the panel are. Some of them may not be strung yet.
    fn touching(
        &self,
        making: &Making,
        strung: u32,
        at: Spot,
        end: End,
        found: &mut Vec<(Spot, End)>,
    );
    /// The index of the bead of round `to` that lies nearest to a bead.
    fn nearest(&self, from: Spot, to: Round) -> u32;
    /// The column of a bead, from 1, in work that lies in straight columns.
    fn column(&self, at: Spot) -> Option<u32>;
}

macro_rules! ask {
    ($self:ident, $stitch:ident => $answer:expr) => {
        match $self {
            PanelLayout::RoundPeyote($stitch) => $answer,
            PanelLayout::Strip($stitch) => $answer,
        }
    };
}

/// The layout of one kind of panel, in one of the stitches.
#[derive(Clone, Debug, PartialEq)]
pub enum PanelLayout {
    /// Rounds round a middle.
    RoundPeyote(RoundPeyote),
    /// Rows to and fro.
    Strip(Strip),
}

impl PanelLayout {
    /// Lays out a panel as its spec says.
    ///
    /// The spec has been checked: at least one round, and words that fit.
    pub fn new(spec: &PanelSpec) -> Self {
        Self::grown(spec.sides, spec.rounds, &spec.growth)
    }

    /// Lays out a panel with these sides and rounds by what makes it grow.
    pub fn grown(sides: u8, rounds: u32, growth: &Growth) -> Self {
        let round = |own: &OwnRounds| Self::RoundPeyote(RoundPeyote::new(sides, own));
        match growth {
            Growth::Law(law) => round(&OwnRounds::by_law(sides, rounds, law)),
            Growth::Words { ring, words } => round(&OwnRounds::by_words(sides, *ring, words)),
            Growth::Own(own) => round(own),
            Growth::Rows { beads, words } => Self::Strip(Strip::new(*beads, rounds, words)),
        }
    }

    /// The outermost round.
    pub fn last(&self) -> Round {
        Round(self.rounds())
    }

    /// All beads of the layout.
    pub fn beads(&self) -> u32 {
        self.before(Round(self.rounds() + 1))
    }

    /// The side after a side, in working direction.
    pub fn next_side(&self, side: Side) -> Side {
        Side((side.0 + 1) % self.sides())
    }

    /// The side before a side.
    pub fn side_before(&self, side: Side) -> Side {
        Side((side.0 + self.sides() - 1) % self.sides())
    }

    /// See [`PanelStitch::word`].
    pub fn word(&self, round: Round) -> &GapWord {
        ask!(self, s => s.word(round))
    }

    /// The layout as a strip, if it is one.
    pub fn strip(&self) -> Option<&Strip> {
        match self {
            PanelLayout::Strip(strip) => Some(strip),
            PanelLayout::RoundPeyote(_) => None,
        }
    }

    /// See [`PanelStitch::sides`].
    pub fn sides(&self) -> u8 {
        ask!(self, s => s.sides())
    }

    /// See [`PanelStitch::rounds`].
    pub fn rounds(&self) -> u32 {
        ask!(self, s => s.rounds())
    }

    /// See [`PanelStitch::in_round`].
    pub fn in_round(&self, round: Round) -> u32 {
        ask!(self, s => s.in_round(round))
    }

    /// See [`PanelStitch::before`].
    pub fn before(&self, round: Round) -> u32 {
        ask!(self, s => s.before(round))
    }

    /// See [`PanelStitch::place`].
    pub fn place(&self, round: Round, index: u32) -> Place {
        ask!(self, s => s.place(round, index))
    }

    /// See [`PanelStitch::side`].
    pub fn side(&self, round: Round, index: u32) -> Side {
        ask!(self, s => s.side(round, index))
    }

    /// See [`PanelStitch::on_side`].
    pub fn on_side(&self, round: Round, side: Side) -> u32 {
        ask!(self, s => s.on_side(round, side))
    }

    /// See [`PanelStitch::index`].
    pub fn index(&self, round: Round, side: Side, place: u32) -> u32 {
        ask!(self, s => s.index(round, side, place))
    }

    /// See [`PanelStitch::corner`].
    pub fn corner(&self, round: Round) -> u8 {
        ask!(self, s => s.corner(round))
    }

    /// See [`PanelStitch::can_be_joined`].
    pub fn can_be_joined(&self) -> bool {
        ask!(self, s => s.can_be_joined())
    }

    /// See [`PanelStitch::edge`].
    pub fn edge(&self, side: Side) -> u32 {
        ask!(self, s => s.edge(side))
    }

    /// See [`PanelStitch::edge_index`].
    pub fn edge_index(&self, side: Side, j: u32) -> u32 {
        ask!(self, s => s.edge_index(side, j))
    }

    /// See [`PanelStitch::begin`].
    pub fn begin(&self, way: WorkDirection) -> Begin {
        ask!(self, s => s.begin(way))
    }

    /// See [`PanelStitch::work`].
    pub fn work(&self, way: WorkDirection, on: Round, entry: u32) -> RoundWork<'_> {
        ask!(self, s => s.work(way, on, entry))
    }

    /// See [`PanelStitch::touching`].
    pub fn touching(
        &self,
        making: &Making,
        strung: u32,
        at: Spot,
        end: End,
        found: &mut Vec<(Spot, End)>,
    ) {
        ask!(self, s => s.touching(making, strung, at, end, found));
    }

    /// See [`PanelStitch::nearest`].
    pub fn nearest(&self, from: Spot, to: Round) -> u32 {
        ask!(self, s => s.nearest(from, to))
    }

    /// See [`PanelStitch::column`].
    pub fn column(&self, at: Spot) -> Option<u32> {
        ask!(self, s => s.column(at))
    }
}
