//! The pattern file as it is written: the types behind the JSON.
//!
//! They say what may stand where: a file is read by them, and the JSON Schema
//! is made from them. What a bead or a panel must be like to be sewn is checked
//! when they become a [`crate::beadwork::Project`].

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

mod bounded;

pub use bounded::*;

/// Reads an enum whose variants are told apart by the value itself: by its kind
/// (`text`, `number`, `list` or `group`), or by the field that each of several groups
/// has. The reader knows it by its name, [`super::node::CHOICE`].
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

/// A threadmark pattern: beads, thread, panels, and what is made of them.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
#[schemars(title = "threadmark pattern")]
pub struct File {
    /// The version of the format, 1.
    pub threadmark: WholeNumber<1, 1>,
    /// What the piece is called.
    pub title: Text<1, 120>,
    /// Anything worth saying about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub about: Option<Text<0, 4000>>,
    /// The beads, each under its letter. The first colours what no word does.
    pub beads: NameTable<BeadFile>,
    /// The thread.
    pub thread: ThreadFile,
    /// The needle.
    pub needle: NeedleFile,
    /// The kinds of panel, each under its name.
    pub panels: NameTable<PanelFile>,
    /// What is made of the panels.
    pub make: MakeFile,
    /// Steps that string no bead: a stone that is set, a join that is
    /// sewn again, fit and look, a note.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own: Option<List<OwnFile, 1, 200>>,
}

/// One kind of bead.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct BeadFile {
    /// Its colour in words.
    pub name: Text<1, 60>,
    /// Its size.
    pub size: SizeFile,
    /// Its colour as shown: red, green and blue as #rrggbb.
    pub colour: HexColour,
}

/// The size of a bead: by name, or measured.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum SizeFile {
    /// A size by its name.
    Named(SizeName),
    /// Measured; with a name, only what differs from that size.
    Measured(MeasuredSize),
}

choice!(SizeFile: "text" => Named(SizeName), "group" => Measured(MeasuredSize));

/// A bead as measured. Lengths in mm.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredSize {
    /// The size it is like; what is not given is taken from it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<SizeName>,
    /// Across the bead, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter_mm: Option<Width>,
    /// Along its hole, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<Width>,
    /// Width of its hole, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hole_mm: Option<Width>,
    /// How many weigh one gram.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub per_gram: Option<PerGram>,
}

/// The thread: by name, or in detail.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum ThreadFile {
    /// A thread by its name.
    Named(ThreadName),
    /// In detail; with a name, only what differs.
    Detailed(ThreadDetail),
}

choice!(ThreadFile: "text" => Named(ThreadName), "group" => Detailed(ThreadDetail));

/// A thread in detail. Lengths in mm.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, Default, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ThreadDetail {
    /// A thread by its name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<ThreadName>,
    /// Across the thread, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter_mm: Option<Width>,
    /// How long a piece is cut at a time, mm; 1500 if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cut_mm: Option<ThreadLength>,
    /// What is left hanging at each end, mm; 150 if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
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

/// A needle as measured.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MeasuredNeedle {
    /// Across the needle at its widest, mm.
    pub diameter_mm: Width,
}

/// One kind of panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelFile {
    /// The stitch it is made in; round peyote if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch: Option<StitchFile>,
    /// How many sides it has; not of a strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sides: Option<WholeNumber<3, 12>>,
    /// How many rounds it has, the ring in the middle being round 1; not of a
    /// strip.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rounds: Option<WholeNumber<1, 1000>>,
    /// Of a strip, how many beads wide it is: an even number.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<WholeNumber<2, 1000>>,
    /// Of a strip, how many rows it has.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rows: Option<WholeNumber<2, 10000>>,
    /// Beads at each corner, round after round from round 2, repeating.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corners: Option<List<WholeNumber<0, 2>, 1, 1000>>,
    /// What the ring is made of: the sides or the corner points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<StartFile>,
    /// Beads in the ring, for a panel with words of its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ring: Option<WholeNumber<3, 1000>>,
    /// Gap words of its own, from round 2: how many beads go into each gap.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub words: Option<List<String, 0, 999>>,
    /// Of a panel with words of its own, which beads of its last round end its
    /// sides, from 1 in working order: so its sides can be joined.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_beads: Option<List<WholeNumber<1, 100000>, 3, 12>>,
    /// Which way it is worked; outward if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way: Option<WayFile>,
    /// Rounds that stay open in the middle, for inward work.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub open: Option<WholeNumber<0, 999>>,
    /// Across the round stone that the open middle holds, mm. A step sets it before
    /// the round that closes over it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stone: Option<StoneMm>,
    /// Its colours: lines such as "1-8: A S* A". A later line goes over an
    /// earlier one.
    pub colours: List<String, 1, 2000>,
    /// The colours of a join row on one of its sides, or a word for each side
    /// with / between.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub row: Option<String>,
    /// The bead that tips are made of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tip: Option<String>,
}

/// The stitch that a panel is made in.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum StitchFile {
    /// In rounds round a middle.
    RoundPeyote,
    /// Flat peyote of even count, in rows to and fro.
    Strip,
}

impl PanelFile {
    /// Whether it is a strip.
    pub fn is_strip(&self) -> bool {
        self.stitch == Some(StitchFile::Strip)
    }

    /// Its sides; a strip has one, the edge along its last row. Where none are
    /// given that is told apart, and it is read on as a triangle.
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

/// What the ring of a panel is made of.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum StartFile {
    /// A bead a side; the corners lie over its gaps.
    Sides,
    /// A bead a corner.
    Points,
}

/// Which way a panel is worked.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum WayFile {
    /// From the ring, increasing.
    Outward,
    /// From the outermost round, decreasing.
    Inward,
}

/// What is made of the panels.
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
    /// Jobs in your own order.
    Jobs(MakeJobs),
}

choice!(MakeFile: "panel" => Panel(MakePanel), "solid" => Solid(MakeSolid),
    "folded-pair" => FoldedPair(MakeFoldedPair), "ring" => Ring(MakeRing),
    "ring-of-nets" => RingOfNets(MakeRingOfNets), "jobs" => Jobs(MakeJobs));

/// One panel, flat.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakePanel {
    /// Its name.
    pub panel: String,
}

/// A regular solid.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeSolid {
    /// Which.
    pub solid: SolidFile,
    /// The panels of its faces in order, taken round again.
    pub faces: List<String, 1, 20>,
    /// How the last face is closed; set in if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub close: Option<HowFile>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
    /// The panels of a three-faced insert for the last face, which stays open,
    /// taken round again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub insert: Option<List<String, 1, 3>>,
}

/// The regular solids of equal panels.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum SolidFile {
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
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum HowFile {
    /// A finished panel is zipped in.
    SetIn,
    /// It is filled inward from its rim.
    Fill,
    /// It stays open, and its rim is reinforced.
    Open,
}

/// How all openings are closed, or one after another, taken round again.
#[derive(Serialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(untagged)]
pub enum HowsFile {
    /// All in one way.
    All(HowFile),
    /// One after another.
    Each(List<HowFile, 1, 1000>),
}

choice!(HowsFile: "text" => All(HowFile), "list" => Each(List<HowFile, 1, 1000>));

/// Two tetrahedra that share a hinge, folded from six panels.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeFoldedPair {
    /// The six panels, taken round again.
    #[serde(rename = "folded-pair")]
    pub folded_pair: List<String, 1, 6>,
    /// How the two openings are closed.
    pub close: List<CloseFile, 2, 2>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
}

/// How one opening is closed.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct CloseFile {
    /// In which way.
    pub how: HowFile,
    /// The panel that closes it; not needed for one that stays open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
}

/// A ring of hinged tetrahedra.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeRing {
    /// How many tetrahedra: an even number from 6.
    pub ring: WholeNumber<6, 1000, 2>,
    /// The panels of the faces, four a tetrahedron, taken round again.
    pub faces: List<String, 1, 4000>,
    /// How the last face of each tetrahedron is closed: one way for all, or a
    /// list that is taken round again; set in if not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub close: Option<HowsFile>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
}

/// A ring of hinged tetrahedra, made of six-panel nets: these are joined by
/// opposite sides, and then folded and closed one by one.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeRingOfNets {
    /// How many tetrahedra, two a net: an even number from 6.
    #[serde(rename = "ring-of-nets")]
    pub ring_of_nets: WholeNumber<6, 1000, 2>,
    /// The panels of the nets, six a net, taken round again.
    pub faces: List<String, 1, 3000>,
    /// How the openings are closed, two a net, taken round again.
    pub close: List<CloseFile, 1, 1000>,
    /// Tip beads at the ends of the join rows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
}

/// Jobs in your own order.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MakeJobs {
    /// The jobs.
    pub jobs: List<JobFile, 1, 10000>,
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
}

choice!(JobFile: "panel" => Panel(PanelJob), "row" => Row(RowJob), "zip" => Zip(ZipJob),
    "fill" => Fill(FillJob), "firm" => Firm(FirmJob), "tie" => Tie(TieJob));

/// Make a panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PanelJob {
    /// Its kind, a name from "panels".
    pub panel: String,
    /// What it is called from here on; the name of its kind if not given.
    #[serde(rename = "as", skip_serializing_if = "Option::is_none")]
    pub name: Option<Text<1, 60>>,
}

/// Work join rows on sides of one panel.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct RowJob {
    /// The panel, as it is called.
    pub row: String,
    /// Its sides in order, from 1.
    pub sides: List<WholeNumber<1, 12>, 1, 12>,
    /// Tip beads after each row.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tips: Option<WholeNumber<0, 2>>,
    /// Join beads of each row, spread evenly, if not one in each gap.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub beads: Option<WholeNumber<1, 2000>>,
}

/// Zip bare sides of one panel onto join rows.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ZipJob {
    /// The panel whose bare sides are zipped.
    pub zip: String,
    /// Which side onto which row, one after another.
    pub sides: List<ZipSide, 1, 12>,
}

/// One side of a zip.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct ZipSide {
    /// The bare side, from 1.
    pub side: WholeNumber<1, 12>,
    /// The panel that carries the row.
    pub onto: String,
    /// The side of it that carries the row, from 1.
    pub at: WholeNumber<1, 12>,
    /// Whether the two sides are not as long, and the row's beads are spread over
    /// the bare one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eased: Option<bool>,
}

/// Fill an opening inward on its rim.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct FillJob {
    /// The kind of panel that fills it, a name from "panels".
    pub fill: String,
    /// What it is called from here on; the name of its kind if not given.
    #[serde(rename = "as", skip_serializing_if = "Option::is_none")]
    pub name: Option<Text<1, 60>>,
    /// The open sides, each with its row, as the fill meets them: each ends
    /// to start, against its own direction.
    pub rim: List<SideFile, 1, 12>,
}

/// Reinforce the rim of an opening.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct FirmJob {
    /// The open sides, each with its row, in the order of a fill.
    pub firm: List<SideFile, 1, 100>,
}

/// Draw two corners together.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct TieJob {
    /// The corner at the end of this side,
    pub tie: SideFile,
    /// and the corner at the end of this one.
    pub to: SideFile,
}

/// A side of a panel made before.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct SideFile {
    /// The panel, as it is called.
    pub panel: String,
    /// The side, from 1.
    pub side: WholeNumber<1, 12>,
}

/// A step that strings no bead.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Debug, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct OwnFile {
    /// The job that it ends, by its number in the list of jobs, from 1.
    pub after_job: WholeNumber<1, 60000>,
    /// What is done.
    #[serde(rename = "do")]
    pub what: OwnKindFile,
    /// What there is to say of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub text: Option<Text<0, 200>>,
}

/// What is done in a step that strings no bead.
#[derive(Serialize, Deserialize, JsonSchema, Clone, Copy, Debug, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum OwnKindFile {
    /// A stone is set.
    Stone,
    /// A join is gone through a second time.
    Join,
    /// The piece is fitted and looked at.
    Fit,
    /// Something to be ticked off.
    Note,
}
