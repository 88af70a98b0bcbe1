//! When a lesson comes up.

use serde::Deserialize;

use crate::beadwork::layout::Part;
use crate::beadwork::making::Begin;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::Step;
use crate::beadwork::sequence::Sequence;

/// The moment at which a lesson comes up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum When {
    /// New thread.
    Thread,
    /// The first bead of a ring.
    Ring,
    /// The ring closed.
    RingClosed,
    /// Two beads into a gap of a face.
    Increase,
    /// The end of an outward round.
    StepUp,
    /// An outward round just finished.
    RoundDone,
    /// One bead into a gap, working outward.
    Stitch,
    /// The edge to be counted.
    Edge,
    /// The needle goes through beads without adding any.
    PassThrough,
    /// A bead of a join row.
    JoinRow,
    /// Thread woven in.
    ThreadEnds,
    /// The first bead of a free start.
    FreeStart,
    /// A free start closed to a ring.
    FreeStartClosed,
    /// One bead into a gap, working inward.
    InwardStitch,
    /// A corner pulled together by a decrease.
    Decrease,
    /// The end of an inward round.
    StepDown,
    /// The middle closed.
    Close,
    /// A rim made firm.
    Firm,
    /// A panel folded to its next side.
    Fold,
    /// Two edges zipped.
    Zip,
    /// All steps done.
    Finished,
}

impl When {
    /// Whether this is the moment, after step `done` and before this movement;
    /// `None` if no step is left.
    pub fn is(self, seq: &Sequence, done: Step, movement: Option<&Movement>) -> bool {
        let Some(m) = movement else {
            return self == When::Finished;
        };
        if self == When::RoundDone {
            let before = seq.step(done);
            return before.is_some_and(|b| b.kind == Kind::StepUp && m.kind != Kind::Count);
        }
        self.of(seq, m)
    }

    fn of(self, seq: &Sequence, m: &Movement) -> bool {
        let begin = || seq.layout().making(seq.job(m.job).panel()).begin;
        let seat = m.strings.first().map(|&b| seq.layout().seat(b));
        let face = seat.is_some_and(|s| s.part == Part::Face);
        match self {
            When::Thread => m.kind == Kind::StartThread,
            When::Ring => m.kind == Kind::Ring && !m.strings.is_empty() && begin() == Begin::Ring,
            When::RingClosed => m.kind == Kind::Ring && m.strings.is_empty(),
            When::Increase => m.kind == Kind::Increase && face,
            When::StepUp => m.kind == Kind::StepUp,
            When::Stitch => m.kind == Kind::Stitch && face && begin() == Begin::Ring,
            When::Edge => m.kind == Kind::Count,
            When::PassThrough => m.kind == Kind::PassThrough,
            When::JoinRow => seat.is_some_and(|s| matches!(s.part, Part::JoinRow(_))),
            When::ThreadEnds => m.kind == Kind::EndThread,
            When::FreeStart => m.kind == Kind::Ring && face && begin() == Begin::FreeStart,
            When::FreeStartClosed => m.kind == Kind::StepDown && seq.closes_free_start(m),
            When::InwardStitch => m.kind == Kind::Stitch && face && begin() != Begin::Ring,
            When::Decrease => m.kind == Kind::Decrease,
            When::StepDown => m.kind == Kind::StepDown && !seq.closes_free_start(m),
            When::Close => m.kind == Kind::Close,
            When::Firm => m.kind == Kind::Firm,
            When::Fold => m.kind == Kind::Fold && m.passes.is_empty(),
            When::Zip => m.kind == Kind::Zip,
            When::RoundDone | When::Finished => false,
        }
    }
}
