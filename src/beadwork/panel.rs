//! A panel as a layout of rounds, whatever stitch it is made in.
//!
//! Rounds (or rows) are numbered from 1; the beads of each are indexed from 0.
//! Everything that the rest of the program asks of a panel it asks here:
//! how many beads a round has, on which side and at which place each lies,
//! what it touches, and how a round is worked.
//!
//! | stitch | |
//! |---|---|
//! | [`round_peyote`] | a face of n sides in rounds, outward or inward |
//! | [`strip`] | flat peyote of even count, in rows to and fro; a panel of one side |
//!
//! A new stitch is a file that says what touches in it, a line in `PanelStitch`, and
//! its own reading in [`super::verify`].

use super::gap_word::grow_plainly;
use super::round_peyote;
use super::strip::{self, Strip};
use super::{
    Begin, End, GapWord, Growth, Making, OwnRounds, PanelSpec, Round, RoundWork, Side,
    WorkDirection,
};

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

/// The stitch that a panel is made in.
#[derive(Clone, Copy, Debug, PartialEq)]
enum PanelStitch {
    /// Rounds round a middle.
    RoundPeyote,
    /// Rows to and fro, the widest of so many beads.
    Strip { widest: u32 },
}

/// The layout of one kind of panel, in one of the stitches.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelLayout {
    stitch: PanelStitch,
    sides: u8,
    rounds: Vec<RoundLayout>,
}

#[derive(Clone, Debug, PartialEq)]
struct RoundLayout {
    /// Beads in the round.
    beads: u32,
    /// Beads in all rounds before it.
    before: u32,
    /// How it grows on the round before; empty for the ring.
    word: GapWord,
    /// What to add to a bead's index to count from side 0, place 0.
    turn: u32,
    /// Beads at each corner.
    corner: u8,
    /// Where each side starts, counted so, and the number of beads behind
    /// them; none where all sides have their equal share.
    starts: Option<Box<[u32]>>,
}

impl RoundLayout {
    /// The first bead of side `s` (from 0) of n, counted from side 0, place
    /// 0; `s` may be n.
    fn side_start(&self, s: u32, n: u32) -> u32 {
        match &self.starts {
            Some(starts) => starts[s as usize],
            None => (s * self.beads).div_ceil(n),
        }
    }

    /// The side of the bead counted so.
    fn side_of(&self, v: u32, n: u32) -> u32 {
        match &self.starts {
            Some(starts) => starts.partition_point(|&start| start <= v) as u32 - 1,
            None => v * n / self.beads,
        }
    }
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
        let peyote = |own: &OwnRounds| Self::of(PanelStitch::RoundPeyote, sides, own);
        match growth {
            Growth::Law(law) => peyote(&OwnRounds::by_law(sides, rounds, law)),
            Growth::Words { ring, words } => peyote(&OwnRounds::by_words(sides, *ring, words)),
            Growth::Own(own) => peyote(own),
            Growth::Rows { beads, words } => {
                // Rows 1 and 2 are strung together.
                let mut all = vec![];
                grow_plainly(*beads, &mut all, 1);
                all.extend_from_slice(words);
                grow_plainly(*beads, &mut all, rounds - 1);
                let widest = all.iter().map(GapWord::beads).max().unwrap_or(*beads);
                let own = OwnRounds::by_words(sides, *beads, &all);
                Self::of(PanelStitch::Strip { widest }, sides, &own)
            }
        }
    }

    fn of(stitch: PanelStitch, sides: u8, own: &OwnRounds) -> Self {
        let mut layout = PanelLayout {
            stitch,
            sides,
            rounds: Vec::with_capacity(own.sides.len()),
        };
        let ring = std::iter::once((GapWord::default(), own.ring));
        let words = own.words.iter().map(|word| (word.clone(), word.beads()));
        for ((word, beads), at) in ring.chain(words).zip(&own.sides) {
            let mut starts = vec![0];
            starts.extend(at.lengths.iter().scan(0, |sum, length| {
                *sum += length;
                Some(*sum)
            }));
            let n = u32::from(sides);
            let mut round = RoundLayout {
                beads,
                before: layout.beads(),
                word,
                turn: (beads - at.first) % beads.max(1),
                corner: at.corner,
                starts: None,
            };
            let even = (0..=n).all(|s| starts[s as usize] == round.side_start(s, n));
            round.starts = (!even).then(|| starts.into());
            layout.rounds.push(round);
        }
        layout
    }

    fn round(&self, round: Round) -> &RoundLayout {
        &self.rounds[round.0 as usize - 1]
    }

    /// A bead's number in its round, counted from side 0, place 0.
    fn number_in_round(&self, round: Round, index: u32) -> u32 {
        let r = self.round(round);
        match index + r.turn {
            v if v >= r.beads => v - r.beads,
            v => v,
        }
    }

    /// The outermost round.
    pub fn last(&self) -> Round {
        Round(self.rounds())
    }

    /// All beads of the layout.
    pub fn beads(&self) -> u32 {
        self.rounds.last().map_or(0, |r| r.before + r.beads)
    }

    /// The side after a side, in working direction.
    pub fn next_side(&self, side: Side) -> Side {
        Side((side.0 + 1) % self.sides())
    }

    /// The side before a side.
    pub fn side_before(&self, side: Side) -> Side {
        Side((side.0 + self.sides() - 1) % self.sides())
    }

    /// The layout as a strip, if it is one.
    pub fn strip(&self) -> Option<Strip<'_>> {
        match self.stitch {
            PanelStitch::Strip { widest } => Some(Strip::of(self, widest)),
            PanelStitch::RoundPeyote => None,
        }
    }

    /// How many sides.
    pub fn sides(&self) -> u8 {
        self.sides
    }

    /// How many rounds.
    pub fn rounds(&self) -> u32 {
        self.rounds.len() as u32
    }

    /// Beads in a round.
    pub fn in_round(&self, round: Round) -> u32 {
        self.round(round).beads
    }

    /// Beads in the rounds before a round; `round` may be one past the last.
    pub fn before(&self, round: Round) -> u32 {
        match self.rounds.get(round.0 as usize - 1) {
            Some(r) => r.before,
            None => self.beads(),
        }
    }

    /// The word by which a round grows on the one before it: round 2 and on, or row
    /// 3 and on of a strip.
    pub fn word(&self, round: Round) -> &GapWord {
        &self.round(round).word
    }

    /// Where bead `index` of a round lies.
    pub fn place(&self, round: Round, index: u32) -> Place {
        let r = self.round(round);
        let v = self.number_in_round(round, index);
        let n = u32::from(self.sides);
        let side = r.side_of(v, n);
        let first = r.side_start(side, n);
        Place {
            side: Side(side as u8),
            place: v - first,
            of: r.side_start(side + 1, n) - first,
        }
    }

    /// The side on which bead `index` of a round lies.
    pub fn side(&self, round: Round, index: u32) -> Side {
        let v = self.number_in_round(round, index);
        Side(self.round(round).side_of(v, self.sides.into()) as u8)
    }

    /// Beads that a side has in a round.
    pub fn on_side(&self, round: Round, side: Side) -> u32 {
        let (n, s) = (u32::from(self.sides), u32::from(side.0));
        let r = self.round(round);
        r.side_start(s + 1, n) - r.side_start(s, n)
    }

    /// The index of the bead at a place (from 0) of a side. Places past the
    /// side's end go on along the next side.
    pub fn index(&self, round: Round, side: Side, place: u32) -> u32 {
        let r = self.round(round);
        let v = r.side_start(side.0.into(), self.sides.into()) + place;
        (v + r.beads - r.turn) % r.beads
    }

    /// Beads at each corner of a round; 0 where nothing says where its corners
    /// are.
    pub fn corner(&self, round: Round) -> u8 {
        self.round(round).corner
    }

    /// Whether sides of this panel can be joined: each has a bead at both
    /// ends.
    pub fn can_be_joined(&self) -> bool {
        self.corner(self.last()) > 0
    }

    /// Up beads along a side of the finished panel, both ends counted. A
    /// corner bead ends one side and begins the next, and counts on both.
    pub fn edge(&self, side: Side) -> u32 {
        if self.strip().is_some() {
            return self.in_round(Round(1));
        }
        let shared = u32::from(self.corner(self.last()) == 1);
        self.on_side(self.last(), side) + shared
    }

    /// The index in the last round of up bead `j` (from 0) of a side.
    pub fn edge_index(&self, side: Side, j: u32) -> u32 {
        let last = self.last();
        if self.corner(last) == 1 {
            // The corner bead that ends the side before begins this one.
            let first = self.index(last, side, 0);
            let t = self.in_round(last);
            (first + t - 1 + j) % t
        } else {
            self.index(last, side, j)
        }
    }

    /// The gap behind bead `index` of a round: its side, and its number there
    /// from 0. Where no bead is at the corner, the gap at the corner is the last
    /// of the side before.
    pub fn gap_behind(&self, round: Round, index: u32) -> (Side, u32) {
        let Place { side, place, of } = self.place(round, index);
        match self.corner(round) == 1 {
            true if place + 1 == of => (self.next_side(side), 0),
            true => (side, place + 1),
            false => (side, place),
        }
    }

    /// How a panel begins that is made by itself.
    pub fn begin(&self, way: WorkDirection) -> Begin {
        match (self.stitch, way) {
            (PanelStitch::Strip { .. }, _) => Begin::TwoRows,
            (PanelStitch::RoundPeyote, WorkDirection::Outward) => Begin::Ring,
            (PanelStitch::RoundPeyote, WorkDirection::Inward) => Begin::FreeStart,
        }
    }

    /// The work of the round made on `on`, the needle leaving bead `entry` of
    /// it (which a strip does not ask).
    pub fn work(&self, way: WorkDirection, on: Round, entry: u32) -> RoundWork<'_> {
        match self.stitch {
            PanelStitch::RoundPeyote => RoundWork::new(self, way, on, entry),
            PanelStitch::Strip { .. } => RoundWork::row(self, on),
        }
    }

    /// The ends of beads of the same panel that touch an end of a bead, when
    /// `strung` beads of the panel are. Some of them may not be strung yet.
    pub fn touching(
        &self,
        making: &Making,
        strung: u32,
        at: Spot,
        end: End,
        found: &mut Vec<(Spot, End)>,
    ) {
        match self.stitch {
            PanelStitch::RoundPeyote => {
                round_peyote::touching(self, (making, strung), at, end, found);
            }
            PanelStitch::Strip { .. } => strip::touching(self, at, end, found),
        }
    }

    /// The index of the bead of round `to` that lies nearest to a bead.
    pub fn nearest(&self, from: Spot, to: Round) -> u32 {
        let Spot {
            mut round,
            mut index,
        } = from;
        if self.strip().is_some() {
            return index.min(self.in_round(to) - 1);
        }
        while round < to {
            round = Round(round.0 + 1);
            index = self.word(round).beads_before(index) % self.in_round(round);
        }
        while round > to {
            index = self.word(round).gap_of(index);
            round = Round(round.0 - 1);
        }
        index
    }

    /// The column of a bead, from 1, in work that lies in straight columns.
    pub fn column(&self, at: Spot) -> Option<u32> {
        self.strip().map(|strip| strip.column_of(at))
    }
}
