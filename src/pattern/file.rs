//! The pattern file as it is written: the types behind the JSON.
//!
//! They say what is allowed where: files are read through them, and the JSON
//! Schema is made from them. Whether a bead or a panel can be sewn is checked
//! when they become a [`crate::beadwork::Project`].

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_with_macros::skip_serializing_none;

use crate::beadwork::amend::OwnStepKind;
use crate::beadwork::corner_law::Start;
use crate::beadwork::project::{Closing, Solid};
use crate::beadwork::seams::Direction;

mod bounded;

pub use bounded::*;

/// Reads an enum whose variants are distinguished by the value itself: by its
/// kind (`text`, `number`, `list` or `group`), or by a field that each of
/// several groups has. The reader knows it by its name,
/// [`super::node::CHOICE`].
macro_rules! choice {
    ($name:ident: $($tag:literal => $variant:ident($of:ty)),*) => {
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                #[derive(serde::Deserialize)]
                enum ValueChoice {
                    $(#[serde(rename = $tag)] $variant($of)),*
                }
                Ok(match ValueChoice::deserialize(from)? {
                    $(ValueChoice::$variant(value) => $name::$variant(value)),*
                })
            }
        }
    };
}

/// A threadmark pattern: beads, thread, panels, and what is made from them.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
#[schemars(title = "threadmark pattern")]
pub struct File {
    /// The version of the format, 1.
    pub threadmark: WholeNumber<1, 1>,
    /// The name of the piece.
    pub title: Text<1, 120>,
    /// Anything worth saying about the piece.
    pub about: Option<Text<0, 4000>>,
    /// The beads, each under its letter. The first one colours whatever no
    /// colour word covers.
    pub beads: NameTable<BeadFile>,
    /// The thread.
    pub thread: ThreadFile,
    /// The needle.
    pub needle: NeedleFile,
    /// The kinds of panel, each under its name.
    pub panels: NameTable<PanelFile>,
    /// What is made from the panels.
    pub make: MakeFile,
    /// What is to be different in single joins.
    pub joins: Option<List<JoinFile, 1, 10000>>,
    /// Steps that string no bead: setting a stone, sewing a join again, trying
    /// the fit, a note.
    pub own: Option<List<OwnFile, 1, 200>>,
}

/// One kind of bead.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct BeadFile {
    /// The colour's name.
    pub name: Text<1, 60>,
    /// Its size.
    pub size: SizeFile,
    /// The colour on the screen: red, green and blue as #rrggbb.
    pub colour: HexColour,
}

/// The size of a bead: by name, or measured.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum SizeFile {
    /// A size by name.
    Named(SizeName),
    /// Measured; with a name, only what differs from that size.
    Measured(MeasuredSize),
}

choice!(SizeFile: "text" => Named(SizeName), "group" => Measured(MeasuredSize));

/// The measurements of a bead, in mm.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredSize {
    /// A named size from which all measurements that are not given are taken.
    pub name: Option<SizeName>,
    /// Diameter of the bead, mm.
    pub diameter_mm: Option<Width>,
    /// Length along its hole, mm.
    pub length_mm: Option<Width>,
    /// Width of its hole, mm.
    pub hole_mm: Option<Width>,
    /// How many beads weigh one gram.
    pub per_gram: Option<PerGram>,
}

/// The thread: by name, or in detail.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum ThreadFile {
    /// A thread by name.
    Named(ThreadName),
    /// In detail; with a name, only what differs from that thread.
    Detailed(ThreadDetail),
}

choice!(ThreadFile: "text" => Named(ThreadName), "group" => Detailed(ThreadDetail));

/// The details of a thread, in mm.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ThreadDetail {
    /// A named thread from which all details that are not given are taken.
    pub name: Option<ThreadName>,
    /// Diameter of the thread, mm.
    pub diameter_mm: Option<Width>,
    /// The length to which thread is cut, mm; 1500 if not given.
    pub cut_mm: Option<ThreadLength>,
    /// The length left hanging at each end, mm; 150 if not given.
    pub tail_mm: Option<ThreadLength>,
}

/// The needle: by size number, or measured.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum NeedleFile {
    /// A beading needle by its size number.
    Sized(NeedleSize),
    /// Measured.
    Measured(MeasuredNeedle),
}

choice!(NeedleFile: "number" => Sized(NeedleSize), "group" => Measured(MeasuredNeedle));

/// The measurements of a needle.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredNeedle {
    /// Diameter of the needle at its widest, mm.
    pub diameter_mm: Width,
}

/// One kind of panel.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelFile {
    /// The stitch in which it is made; round peyote if not given.
    pub stitch: Option<StitchFile>,
    /// How many sides it has; not for a strip.
    pub sides: Option<WholeNumber<3, 12>>,
    /// How many rounds it has, the ring in the middle being round 1; not for a
    /// strip.
    pub rounds: Option<WholeNumber<1, 1000>>,
    /// For a strip, how many beads wide it is: an even number.
    pub width: Option<WholeNumber<2, 1000>>,
    /// For a strip, how many rows it has.
    pub rows: Option<WholeNumber<2, 10000>>,
    /// Beads at each corner, round by round from round 2, repeating.
    pub corners: Option<List<WholeNumber<0, 2>, 1, 1000>>,
    /// What the ring is made of: the sides or the corner points.
    pub start: Option<Start>,
    /// Beads in the ring, for a panel with its own gap words.
    pub ring: Option<WholeNumber<3, 1000>>,
    /// Its own gap words, from round 2: how many beads go into each gap. For a
    /// strip from row 3; rows for which there is none have a bead in each gap.
    pub words: Option<List<String, 0, 9998>>,
    /// Of a panel that grows by its corners: gaps that hold other than these
    /// say, in the order in which they are worked. A round without one has a
    /// bead in each gap of the round before it as it is, but for the corners.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gaps: Option<List<GapFile, 1, 10000>>,
    /// For a panel with its own gap words, which beads of its last round end
    /// its sides, from 1 in working order, so that its sides can be joined.
    pub corner_beads: Option<List<WholeNumber<1, 100000>, 3, 12>>,
    /// The direction in which it is worked; outward if not given.
    pub way: Option<WayFile>,
    /// Rounds that are left open in the middle, for inward work.
    pub open: Option<WholeNumber<0, 999>>,
    /// Diameter of the round stone that the open middle holds, mm. A step sets
    /// it before the round that closes over it.
    pub stone: Option<StoneMm>,
    /// Its colours: lines such as "1-8: A S* A". A later line overrides an
    /// earlier one.
    pub colours: List<String, 1, 2000>,
    /// The colours of a join row on any of its sides, or a word for each side,
    /// separated by /.
    pub row: Option<String>,
    /// The bead used for tip beads.
    pub tip: Option<String>,
}

/// A gap that holds other than the corners of the panel say.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct GapFile {
    /// The round that is made.
    pub round: WholeNumber<1, 1000>,
    /// The gap, from 1 at the bead that the needle leaves before the round. Of a
    /// round that is strung first, or worked on a rim, the bead that it would have
    /// there.
    pub gap: WholeNumber<1, 100000>,
    /// The beads in it.
    pub beads: WholeNumber<0, 4>,
}

/// The stitch in which a panel is made.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum StitchFile {
    /// In rounds round a middle.
    RoundPeyote,
    /// Flat peyote of even count, in rows back and forth.
    Strip,
}

impl PanelFile {
    /// Whether it is a strip.
    pub fn is_strip(&self) -> bool {
        self.stitch == Some(StitchFile::Strip)
    }

    /// Its sides; a strip has one, the edge along its last row. If the field is
    /// missing, that is reported elsewhere, and the panel is read as a
    /// triangle.
    pub fn sides(&self) -> u32 {
        match self.is_strip() {
            true => 1,
            false => self.sides.map_or(3, |sides| sides.0),
        }
    }

    /// Its rounds, or the rows of a strip.
    pub fn rounds(&self) -> u32 {
        match self.is_strip() {
            true => self.rows.map_or(2, |rows| rows.0),
            false => self.rounds.map_or(1, |rounds| rounds.0),
        }
    }
}

/// The direction in which a panel is worked.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum WayFile {
    /// From the ring, increasing.
    Outward,
    /// From the outermost round, decreasing.
    Inward,
    /// The same, from a strip of its outermost two rounds for each side, and not
    /// from one string.
    InwardFromStrips,
}

/// What is made from the panels.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum MakeFile {
    /// One panel, flat.
    Panel(MakePanel),
    /// A regular solid.
    Solid(MakeSolid),
    /// Two tetrahedra that share a hinge, folded from six panels.
    FoldedPair(MakeFoldedPair),
    /// A ring of hinged tetrahedra.
    Ring(MakeRing),
    /// A ring of hinged tetrahedra, made of six-panel nets.
    RingOfNets(MakeRingOfNets),
    /// Jobs in the maker's own order.
    Jobs(MakeJobs),
}

choice!(MakeFile: "panel" => Panel(MakePanel), "solid" => Solid(MakeSolid),
    "folded-pair" => FoldedPair(MakeFoldedPair), "ring" => Ring(MakeRing),
    "ring-of-nets" => RingOfNets(MakeRingOfNets), "jobs" => Jobs(MakeJobs));

/// One panel, flat.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakePanel {
    /// The name of the panel.
    pub panel: String,
}

/// A regular solid.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeSolid {
    /// Which solid.
    pub solid: Solid,
    /// The panels of its faces in order; the list repeats if it is too short.
    pub faces: List<String, 1, 20>,
    /// How the last face is closed; set in if not given.
    pub close: Option<Closing>,
    /// Tip beads at the ends of the join rows.
    pub tips: Option<WholeNumber<0, 2>>,
    /// The panels of a three-faced insert for the last face, if it stays open;
    /// the list repeats if it is too short.
    pub insert: Option<List<String, 1, 3>>,
}

/// How openings are closed: all alike, or a list that repeats if it is too
/// short.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum HowsFile {
    /// All alike.
    All(Closing),
    /// One after another.
    Each(List<Closing, 1, 1000>),
}

choice!(HowsFile: "text" => All(Closing), "list" => Each(List<Closing, 1, 1000>));

/// Two tetrahedra that share a hinge, folded from six panels.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeFoldedPair {
    /// The six panels; the list repeats if it is too short.
    #[serde(rename = "folded-pair")]
    pub folded_pair: List<String, 1, 6>,
    /// How the two openings are closed.
    pub close: List<CloseFile, 2, 2>,
    /// Tip beads at the ends of the join rows.
    pub tips: Option<WholeNumber<0, 2>>,
    /// The panels of a three-faced insert for each face that stays open; the list
    /// repeats if it is too short.
    pub insert: Option<List<String, 1, 3>>,
}

/// How one opening is closed.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct CloseFile {
    /// The way to close it.
    pub how: Closing,
    /// The panel that closes it; not needed for an opening that stays open.
    pub with: Option<String>,
}

/// A ring of hinged tetrahedra.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeRing {
    /// How many tetrahedra: an even number from 6.
    pub ring: WholeNumber<6, 1000, 2>,
    /// The panels of the faces, four for each tetrahedron; the list repeats if
    /// it is too short.
    pub faces: List<String, 1, 4000>,
    /// How the last face of each tetrahedron is closed: one way for all, or a
    /// list that repeats if it is too short; set in if not given.
    pub close: Option<HowsFile>,
    /// Tip beads at the ends of the join rows.
    pub tips: Option<WholeNumber<0, 2>>,
    /// The panels of a three-faced insert for each face that stays open; the list
    /// repeats if it is too short.
    pub insert: Option<List<String, 1, 3>>,
}

/// A ring of hinged tetrahedra made from six-panel nets. The nets are joined by
/// opposite sides, then folded and closed one by one.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeRingOfNets {
    /// How many tetrahedra, two for each net: an even number from 6.
    #[serde(rename = "ring-of-nets")]
    pub ring_of_nets: WholeNumber<6, 1000, 2>,
    /// The panels of the nets, six for each net; the list repeats if it is too
    /// short.
    pub faces: List<String, 1, 3000>,
    /// How the openings are closed, two for each net; the list repeats if it is
    /// too short.
    pub close: List<CloseFile, 1, 1000>,
    /// Tip beads at the ends of the join rows.
    pub tips: Option<WholeNumber<0, 2>>,
    /// The panels of a three-faced insert for each face that stays open; the list
    /// repeats if it is too short.
    pub insert: Option<List<String, 1, 3>>,
}

/// Jobs in the maker's own order.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeJobs {
    /// The ring that they make, if they make one. Panels that are called as those
    /// of such a ring lie where they do.
    pub shape: Option<ShapeFile>,
    /// The jobs.
    pub jobs: List<JobFile, 1, 10000>,
}

/// The ring that a list of jobs makes.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum ShapeFile {
    /// Of single tetrahedra.
    Ring(RingShape),
    /// Of six-panel nets.
    RingOfNets(NetsShape),
}

choice!(ShapeFile: "ring" => Ring(RingShape), "ring-of-nets" => RingOfNets(NetsShape));

/// A ring of hinged tetrahedra.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct RingShape {
    /// How many tetrahedra: an even number from 6.
    pub ring: WholeNumber<6, 1000, 2>,
}

/// A ring of hinged tetrahedra made from six-panel nets.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct NetsShape {
    /// How many tetrahedra: an even number from 6.
    #[serde(rename = "ring-of-nets")]
    pub ring_of_nets: WholeNumber<6, 1000, 2>,
}

/// One job.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum JobFile {
    /// Make a panel.
    Panel(PanelJob),
    /// Work join rows.
    Row(RowJob),
    /// Zip bare sides onto join rows.
    Zip(ZipJob),
    /// Fill an opening inward.
    Fill(FillJob),
    /// Reinforce a rim.
    Firm(FirmJob),
    /// Draw two corners together.
    Tie(TieJob),
    /// Set a finished panel in the open middle of another.
    SetIn(SetInJob),
    /// Go through a join a second time.
    Reinforce(ReinforceJob),
}

choice!(JobFile: "panel" => Panel(PanelJob), "row" => Row(RowJob), "zip" => Zip(ZipJob),
    "fill" => Fill(FillJob), "firm" => Firm(FirmJob), "tie" => Tie(TieJob),
    "set-in" => SetIn(SetInJob), "reinforce" => Reinforce(ReinforceJob));

/// Make a panel.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelJob {
    /// Its kind: a name from "panels".
    pub panel: String,
    /// Its name in later jobs; the name of its kind if not given.
    #[serde(rename = "as")]
    pub name: Option<Text<1, 60>>,
}

/// Work join rows on sides of one panel.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct RowJob {
    /// The panel, by its name in the jobs.
    pub row: String,
    /// Its sides in order, from 1.
    pub sides: List<WholeNumber<1, 12>, 1, 12>,
    /// Tip beads after each row.
    pub tips: Option<WholeNumber<0, 2>>,
    /// Number of join beads in each row, spread evenly, if not one in each gap.
    pub beads: Option<WholeNumber<1, 2000>>,
}

/// Zip bare sides of one panel onto join rows.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ZipJob {
    /// The panel whose bare sides are zipped.
    pub zip: String,
    /// Which side goes onto which row, one after another.
    pub sides: List<ZipSide, 1, 12>,
}

/// One side of a zip.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ZipSide {
    /// The bare side, from 1.
    pub side: WholeNumber<1, 12>,
    /// The panel that carries the row.
    pub onto: String,
    /// The side of it that carries the row, from 1.
    pub at: WholeNumber<1, 12>,
    /// Whether the two sides differ in length, so that the row's beads are
    /// spread over the bare side.
    pub eased: Option<bool>,
    /// At a hinge, where more sides than one are zipped onto the row: in which
    /// direction this one runs beside it.
    pub runs: Option<Direction>,
}

/// Fill an opening inward on its rim.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct FillJob {
    /// The kind of panel that fills it: a name from "panels".
    pub fill: String,
    /// Its name in later jobs; the name of its kind if not given.
    #[serde(rename = "as")]
    pub name: Option<Text<1, 60>>,
    /// The open sides, each with its row, in the order in which the fill meets
    /// them. The fill runs along each side from its end to its start.
    pub rim: List<RimSideFile, 1, 12>,
    /// How many beads of its first round go into each gap of the rim, a word for
    /// each side, if not one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gaps: Option<List<String, 1, 12>>,
}

/// Reinforce the rim of an opening.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct FirmJob {
    /// The open sides, each with its row, in the same order as for a fill.
    pub firm: List<RimSideFile, 1, 100>,
}

/// Draw two corners together.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct TieJob {
    /// The corner at the end of this side
    pub tie: SideFile,
    /// and the corner at the end of this one.
    pub to: SideFile,
}

/// Set a finished panel in the open middle of another: its edge is zipped into
/// the innermost round there.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct SetInJob {
    /// The panel, which has as many rounds as the other leaves open.
    #[serde(rename = "set-in")]
    pub set_in: String,
    /// The panel around it.
    pub within: String,
}

/// Go through the join of a zipped side a second time.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ReinforceJob {
    /// The panel whose side was zipped.
    pub reinforce: String,
    /// The side, from 1.
    pub side: WholeNumber<1, 12>,
}

/// A side of a panel that is already made.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct SideFile {
    /// The panel, by its name in the jobs.
    pub panel: String,
    /// The side, from 1.
    pub side: WholeNumber<1, 12>,
}

/// A side of the rim of an opening.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct RimSideFile {
    /// The panel with the row, by its name in the jobs.
    pub panel: String,
    /// The side, from 1.
    pub side: WholeNumber<1, 12>,
    /// At a hinge, where other sides are zipped onto the row: in which direction
    /// the fill runs beside it.
    pub runs: Option<Direction>,
}

/// What is to be different in the join of one side.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct JoinFile {
    /// The number of the job that zips the side, or works its row, from 1 in the
    /// list of jobs.
    pub job: WholeNumber<1, 60000>,
    /// The side, from 1.
    pub side: WholeNumber<1, 12>,
    /// Of a zip: beads that the needle goes past, through the row next door,
    /// counted from 1 along the side, its edge beads and the gaps between them in
    /// turn.
    pub past: Option<List<WholeNumber<1, 10000>, 1, 1000>>,
    /// Of a row: how many join beads go into each gap.
    pub gaps: Option<String>,
}

/// A step that strings no bead.
#[skip_serializing_none]
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct OwnFile {
    /// The number of the job that the step ends, or in which it is, from 1 in the
    /// list of jobs.
    pub after_job: WholeNumber<1, 60000>,
    /// After how many movements of that job the step is done, those not counted
    /// that begin, end or weave thread; at the end of the job if not given.
    pub after_steps: Option<WholeNumber<0, 4000000>>,
    /// What to do.
    #[serde(rename = "do")]
    pub what: OwnStepKind,
    /// A note on it.
    pub text: Option<Text<0, 200>>,
}
