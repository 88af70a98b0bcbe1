//! Why something cannot be played, each with its sentence.

use crate::beadwork::corner_mark::MOST_CORNERS;
use crate::beadwork::{Bead, Corner, Hole, Panel, Side};

/// Why something cannot be played.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// The goal has no such job.
    #[error("the piece has no such job")]
    NoSuchJob,
    /// The job is begun already.
    #[error("this job is begun already: unpick to before it first")]
    JobBegun,
    /// No job is begun that this would be a part of.
    #[error("no job is begun yet")]
    NoJob,
    /// The panel is not finished.
    #[error("panel {0} isn't finished yet")]
    Unfinished(Panel),
    /// The side has a row, or is joined, already.
    #[error("side {1} of panel {0} is joined or has a row already")]
    SideTaken(Panel, Side),
    /// The job closes no opening.
    #[error("this job closes no opening")]
    NoOpening,
    /// The pattern has no such kind of panel.
    #[error("the pattern has no such kind of panel")]
    NoSuchKind,
    /// The panel's edge is not as long as that of the opening, or that many
    /// rounds cannot stay open.
    #[error("that panel does not fit the opening")]
    OtherEdge,
    /// Rounds of the panel are sewn that would have to be open.
    #[error("panel {0} is sewn further than that: unpick it first")]
    AlreadySewn(Panel),
    /// The row is locked to more sides than one.
    #[error(
        "side {1} of panel {0} is joined to more sides than one, so its row stays there: ease a side in, or change its join beads"
    )]
    SharedRow(Panel, Side),
    /// The shorter side lies between the beads of the row on this one.
    #[error(
        "side {1} of panel {0} carries the row that the shorter side lies in, a bead in each gap"
    )]
    LongerSide(Panel, Side),
    /// The row is part of the rim of an opening.
    #[error(
        "side {1} of panel {0} is the edge of an opening, so its row stays there: change its join beads, or how the opening is closed"
    )]
    RowOfOpening(Panel, Side),
    /// A corner takes two tip beads at the most.
    #[error("a corner takes two tip beads at the most")]
    TooManyTips,
    /// A gap takes two join beads at the most, and a row has one at least.
    #[error("a row has one join bead at least, and a gap takes two at the most")]
    TooManyJoinBeads,
    /// The row has not one join bead in each gap, as a fill with corner beads
    /// needs.
    #[error(
        "side {1} of panel {0} is to have one join bead in each gap, since the fill has one bead at each corner: set a finished panel in"
    )]
    UnevenRow(Panel, Side),
    /// No single bead leads past that one.
    #[error("no bead next door leads past that one: not one bead lies in each gap there")]
    NoRoomNextDoor,
    /// The needle goes past a bead beside that one already.
    #[error(
        "the needle goes past a bead beside that one already, and two in a row would leave the sides open there"
    )]
    TwoNextDoor,
    /// The piece is no ring of tetrahedra.
    #[error("this piece is no ring of tetrahedra")]
    NoRing,
    /// A ring has an even number of tetrahedra, from 6 to 1000.
    #[error("a ring has an even number of tetrahedra, from 6 to 1000")]
    NoSuchRing,
    /// The ring is closed, or sewn further than that.
    #[error("the ring is closed, or sewn further than that")]
    RingClosed,
    /// Other changes of what is to come stand against it.
    #[error("other changes of what is to come stand against it: take them back first")]
    OtherChanges,
    /// Corners have to be joined or tied first.
    #[error("its corners have to be joined first")]
    Untied,
    /// The job makes no panel.
    #[error("this job makes no panel")]
    NoPanel,
    /// No opening of the panel holds such a stone.
    #[error("no round of this panel leaves an opening that holds such a stone")]
    NoSuchStone,
    /// The current part cannot be split: a string that is no ring yet.
    #[error("the thread has to hold this part until it is closed: finish it first")]
    CannotPart,
    /// This panel was begun, and comes after the one that is not to be made.
    #[error("panel {0} is begun already: close that one first")]
    PanelsAfter(Panel),
    /// Other beads are sewn onto a bead that is to be broken out.
    #[error(
        "other beads are sewn onto that bead and would come loose: unpick to before them, or keep it as stitched"
    )]
    SewnOnto,
    /// A bead of the ring or the string that a panel begins with is not broken
    /// out.
    #[error(
        "that bead is part of the ring or the string: unpick to there and string it again, or keep it as stitched"
    )]
    BeadOfTheString,
    /// The needle comes out of the bead that is to be broken out.
    #[error(
        "the needle comes out of that bead: go back one step and slip it off, or keep it as stitched"
    )]
    NeedleInIt,
    /// Thread was woven in through the bead that is to be broken out, or
    /// beside it.
    #[error(
        "thread that was woven in there could be cut: unpick to before it, or keep the bead as stitched"
    )]
    ThreadAtRisk,
    /// The piece has no such bead.
    #[error("the piece has no such bead")]
    NoSuchBead,
    /// The letter is another bead's, or may not stand for one.
    #[error("{}", not_a_letter(*.0))]
    LetterTaken(char),
    /// The bead has no name that can be shown.
    #[error(
        "the bead needs a name of at most 40 letters, digits, blanks and the signs - ' . , / ( )"
    )]
    NoName,
    /// No size is called so.
    #[error("no size of bead is called so")]
    NoSuchSize,
    /// The colours do not fit the panel.
    #[error("those colours do not fit the panel")]
    OtherShape,
    /// The side carries no row.
    #[error("side {1} of panel {0} has no join row yet")]
    NoRow(Panel, Side),
    /// Sides of this panel have no beads at their corners.
    #[error("panel {0} has no corner beads to join by")]
    NoEdge(Panel),
    /// This part of the job was prepared already, or another comes first.
    #[error("another part of this job comes first")]
    NotNext,
    /// The current job has no such stage, or another comes first.
    #[error("another round or side comes first")]
    OutOfTurn,
    /// A thread is in the work already.
    #[error("end the current thread first")]
    ThreadInWork,
    /// No thread is in the work.
    #[error("there is no thread in the work")]
    NoThread,
    /// Sides that are to be joined do not lock into each other: each with its
    /// beads at the edge.
    #[error(
        "side {side} of panel {panel} would have {up} beads at its edge, and side {at} of panel {onto} that it is joined to {row}: {mend}",
        side = .0.1, panel = .0.0, up = .1, at = .2.1, onto = .2.0, row = .3, mend = what_joins(.1.abs_diff(*.3))
    )]
    UnlikeSides(Corner, u32, Corner, u32),
    /// A later round must bring this panel back to its plan.
    #[error("a later round of panel {0} is to bring it back to the pattern: take that back first")]
    Eased(Panel),
    /// No such gap is at the needle, or it cannot hold that many beads.
    #[error("no such gap is at the needle")]
    NoSuchGap,
    /// The current panel shows no corners, or they cannot continue like that.
    #[error(
        "after two beads or none a corner takes one or two, after one it takes none; \
         and all rounds since the corners were begun have to keep to that"
    )]
    NoLaw,
    /// A panel cannot be joined to itself.
    #[error("a panel cannot be joined to itself")]
    SamePanel,
    /// The corners of this panel cannot be marked.
    #[error(
        "corners are marked in the current panel, worked outward and joined to nothing yet, where its pattern \
         doesn't say where they are"
    )]
    NoCorners,
    /// A panel has at most this many corners.
    #[error("a panel has {MOST_CORNERS} corners at the most")]
    ManyCorners,
    /// A string that is not closed to a ring yet needs no more than another
    /// bead, or one fewer.
    #[error("the string isn't closed to a ring yet: string one bead more, or slip one off")]
    OpenString,
    /// No thread or needle is like that.
    #[error("thread and needle are from 0.01 to 1 mm thick, and a length is 100 m at the most")]
    NoSuchThread,
    /// The work is sewn with it already.
    #[error("you sew with that already")]
    SameThread,
    /// A length would be no longer than its two tails.
    #[error("that leaves nothing to sew with between its two tails")]
    ShortThread,
    /// At a corner the first round of a fill has a bead.
    #[error("at the corner of an opening the fill needs a bead: go back to there and string it")]
    CornerOfFill,
    /// At its edge a row of a strip has a bead.
    #[error("at the edge of a strip the needle turns round a bead: go back to there and string it")]
    EdgeOfStrip,
    /// A ring has three beads at the least.
    #[error("a ring needs three beads at least: take it out and string it again")]
    SmallRing,
    /// The string would begin elsewhere.
    #[error(
        "the string begins there: take it out and string it again, or put it right with a decrease or an \
         increase in the next round"
    )]
    StringBegins,
    /// The needle leaves this bead already.
    #[error("the needle comes out of that bead already")]
    AtNeedle(Bead),
    /// No beads that touch lead to this one.
    #[error("no beads that touch lead to that bead")]
    NoWay(Bead),
    /// The needle leaves elsewhere.
    #[error("{}", leaves_elsewhere(*.0))]
    NeedleElsewhere(Option<Hole>),
    /// The piece has been changed as often as it can be.
    #[error("the plan was changed too often: undo a change first")]
    TooManyChanges,
    /// No job would be left.
    #[error("nothing would be left to make")]
    NothingLeft,
    /// The bead is not there yet.
    #[error("bead {} isn't strung yet", .0.bead)]
    NotStrung(Hole),
    /// The needle cannot go there without crossing open space.
    #[error("bead {} doesn't touch the bead that the needle leaves", .0.bead)]
    OutOfReach(Hole),
}

impl Refusal {
    /// This refusal, if something is so.
    pub(in crate::beadwork) fn when(self, is_so: bool) -> Result<(), Refusal> {
        match is_so {
            true => Err(self),
            false => Ok(()),
        }
    }

    /// This refusal, if something is not so.
    pub(in crate::beadwork) fn unless(self, is_so: bool) -> Result<(), Refusal> {
        self.when(!is_so)
    }
}

fn not_a_letter(letter: char) -> String {
    match letter.is_ascii_uppercase() {
        true => format!("{letter} stands for another bead already"),
        false => {
            "a new bead takes a capital letter from A to Z: small letters stand for joins".into()
        }
    }
}

fn leaves_elsewhere(expected: Option<Hole>) -> String {
    match expected {
        Some(hole) => format!("the needle has to leave bead {} for that", hole.bead),
        None => "the needle leaves another bead".into(),
    }
}

/// What can be done where sides differ by this number of beads.
fn what_joins(differ: u32) -> &'static str {
    match differ {
        0 => "equal sides take one row",
        1 => {
            "sides that differ by one lock directly, without a row; or ease them in, or make the other panel as long"
        }
        2 => {
            "sides that differ by two take a row on the longer; or ease them in, or make the other panel as long"
        }
        _ => "that takes an easing row, or another panel; or make the other panel as long",
    }
}
