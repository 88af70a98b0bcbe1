//! A run through beads already there: weaving, passing corners, closing the
//! middle, firming a rim. A needle takes a few beads at a time, so a long run
//! is several steps.

use super::{Draft, Holes, Steps};
use crate::beadwork::end::Hole;
use crate::beadwork::layout::{Layout, RimIndex, RimSide};
use crate::beadwork::movement::{Kind, MOST_PASSED, NEEDLEFUL};
use crate::beadwork::number::{Bead, Panel, Round, Side, last_where};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// The needle going through beads that are there.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Through {
    /// What it is for.
    pub kind: Kind,
    /// The round it belongs to, if it belongs to one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub round: Option<Round>,
    /// The side it runs along, if it runs along one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// The beads it goes through.
    pub path: Path,
}

/// The beads that a needle goes through one after another.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Path {
    /// These, in order, each by the end it is left by. May be none where a thread is only taken up or cut.
    Beads(BeadPath),
    /// Along a panel's side from its first up bead, which the needle
    /// leaves, to its last, through the beads between.
    Edge(Panel, Side),
    /// Through all beads of round 1 from the one the needle leaves, and once
    /// more through the first of them.
    Close(Panel),
    /// Twice round the rim of a panel's open middle, which this round bounds.
    Centre(Panel, Round),
    /// Twice round the rim of an opening between panels, through the up beads and
    /// the join beads of each side. The needle leaves the first up bead it meets on
    /// the first side.
    Rim(RimIndex),
    /// The same where sides of one panel meet in a corner bead: once through that.
    /// Earlier builds went through it for each side.
    RimWithCorners(RimIndex),
}

/// Bead ends that a needle leaves one after another. The same path on equal
/// panels is kept once.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(from = "Vec<Hole>", into = "Vec<Hole>")]
pub struct BeadPath {
    first: Arc<[Hole]>,
    /// How many beads later it runs than on the first panel.
    later: u32,
}

impl BeadPath {
    /// How many beads it goes through.
    pub(in crate::beadwork) fn len(&self) -> usize {
        self.first.len()
    }

    /// The holes, in order.
    pub(in crate::beadwork) fn iter(&self) -> impl ExactSizeIterator<Item = Hole> + '_ {
        self.first.iter().map(|hole| hole.later(self.later))
    }
}

impl From<Vec<Hole>> for BeadPath {
    fn from(holes: Vec<Hole>) -> Self {
        BeadPath {
            first: holes.into(),
            later: 0,
        }
    }
}

impl From<BeadPath> for Vec<Hole> {
    fn from(path: BeadPath) -> Self {
        path.iter().collect()
    }
}

impl PartialEq for BeadPath {
    fn eq(&self, other: &Self) -> bool {
        self.iter().eq(other.iter())
    }
}

impl Eq for BeadPath {}

impl Through {
    /// The firming of an opening between panels.
    pub(in crate::beadwork) fn firming(layout: &Layout, rim: RimIndex) -> Through {
        let path = match along_rim(layout, rim, true).eq(along_rim(layout, rim, false)) {
            true => Path::Rim(rim),
            false => Path::RimWithCorners(rim),
        };
        Through::new(Kind::Firm, path)
    }

    /// A way that belongs to no round or side.
    pub(in crate::beadwork) fn new(kind: Kind, path: Path) -> Through {
        Through {
            kind,
            round: None,
            side: None,
            path,
        }
    }

    /// A way along a side.
    pub(in crate::beadwork) fn along(side: Side, kind: Kind, path: Path) -> Through {
        Through {
            side: Some(side),
            ..Through::new(kind, path)
        }
    }

    /// Beads of one step.
    pub(in crate::beadwork) fn at_once(&self) -> u32 {
        match self.kind {
            Kind::StartThread | Kind::EndThread => MOST_PASSED as u32,
            _ => NEEDLEFUL as u32,
        }
    }
}

impl Path {
    /// The same path on an equal panel whose beads come `later` beads after
    /// these.
    pub(super) fn on_panel(&self, panel: Panel, later: u32) -> Path {
        match self {
            Path::Beads(beads) => Path::Beads(BeadPath {
                first: beads.first.clone(),
                later: beads.later + later,
            }),
            Path::Edge(_, side) => Path::Edge(panel, *side),
            Path::Close(_) => Path::Close(panel),
            Path::Centre(_, round) => Path::Centre(panel, *round),
            Path::Rim(rim) => Path::Rim(*rim),
            Path::RimWithCorners(rim) => Path::RimWithCorners(*rim),
        }
    }

    fn len(&self, layout: &Layout) -> u32 {
        match self {
            Path::Beads(beads) => beads.len() as u32,
            Path::Edge(panel, side) => 2 * (layout.kind(*panel).edge(*side) - 1),
            Path::Close(panel) => layout.kind(*panel).in_round(Round(1)) + 1,
            Path::Centre(panel, inner) => 2 * round_the_centre(layout, *panel, *inner),
            Path::Rim(rim) => 2 * round_the_rim(layout, *rim, false),
            Path::RimWithCorners(rim) => 2 * round_the_rim(layout, *rim, true),
        }
    }

    /// Bead `i` on the way, and the end that the needle leaves it by.
    fn hole(&self, layout: &Layout, i: u32) -> Hole {
        match self {
            Path::Beads(beads) => beads.first[i as usize].later(beads.later),
            Path::Edge(panel, side) => Hole::front(edge(layout, *panel, *side, i)),
            Path::Close(panel) => {
                let start = layout.making(*panel).start(Round(1));
                let beads = layout.kind(*panel).in_round(Round(1));
                let index = (start + 1 + i) % beads;
                Hole::front(layout.bead(*panel, Round(1), index))
            }
            Path::Centre(panel, inner) => Hole::front(centre(layout, *panel, *inner, i)),
            Path::Rim(rim) => rim_hole(layout, *rim, false, i),
            Path::RimWithCorners(rim) => rim_hole(layout, *rim, true, i),
        }
    }
}

/// Bead `i` on the way along an edge: the bead under the gap, then the next
/// up bead.
fn edge(layout: &Layout, panel: Panel, side: Side, i: u32) -> Bead {
    let j = i / 2 + 1;
    if i % 2 == 1 {
        return layout.edge_bead(panel, side, j);
    }
    layout.under_edge((panel, side), j)
}

/// Beads once round the rim of an open middle: the innermost round's and
/// those of the round around it.
fn round_the_centre(layout: &Layout, panel: Panel, inner: Round) -> u32 {
    let kind = layout.kind(panel);
    kind.in_round(inner) + kind.in_round(Round(inner.0 + 1))
}

fn centre(layout: &Layout, panel: Panel, inner: Round, i: u32) -> Bead {
    let (kind, making) = (layout.kind(panel), layout.making(panel));
    let outer = Round(inner.0 + 1);
    let word = kind.word(outer);
    let start = making.start(inner);
    let (n, around) = (kind.in_round(inner), round_the_centre(layout, panel, inner));
    // Position 0 of the way is the inner bead the needle leaves; behind inner
    // bead b come the outer beads in its gap.
    let before_start = start + word.beads_before(start);
    let p = (before_start + 1 + i) % around;
    let b = last_where(0..n, |b| b + word.beads_before(b) <= p);
    match p - b - word.beads_before(b) {
        0 => layout.bead(panel, inner, b),
        nth => layout.bead(panel, outer, word.beads_before(b) + nth - 1),
    }
}

/// The sides of a rim, each with its beads on the way round: its up beads and its
/// join beads. With `corners`, a corner bead that it has in common with the next
/// side is left to that.
fn along_rim(
    layout: &Layout,
    rim: RimIndex,
    corners: bool,
) -> impl Iterator<Item = (RimSide, u32)> {
    let sides = layout.rim(rim).iter();
    let next = sides.clone().cycle().skip(1);
    sides.zip(next).map(move |(side, next)| {
        let row = layout.row_on(side.panel, side.side);
        let up = layout.kind(side.panel).edge(side.side);
        let meet = layout.rim_corners(*side)[1] == layout.rim_corners(*next)[0];
        let spec = layout.panel(side.panel).spec;
        let is_shared = corners && meet && layout.ends_in_corner_beads(spec);
        let join = row.map_or(0, |row| layout.row(row).beads);
        (*side, up + join - u32::from(is_shared))
    })
}

fn round_the_rim(layout: &Layout, rim: RimIndex, corners: bool) -> u32 {
    along_rim(layout, rim, corners)
        .map(|(_, beads)| beads)
        .sum()
}

/// Bead `i` on the way round a rim, and the end by which the needle leaves it.
fn rim_hole(layout: &Layout, rim: RimIndex, corners: bool, i: u32) -> Hole {
    // The needle leaves position 0.
    let mut p = (i + 1) % round_the_rim(layout, rim, corners);
    for (side, beads) in along_rim(layout, rim, corners) {
        if p < beads {
            let row = layout.row_on(side.panel, side.side);
            let row = row.expect("a rim is made of join rows");
            let made = layout.row(row);
            let up = layout.kind(side.panel).edge(side.side);
            let nth = side.nth(p, up + made.beads);
            // Before up bead j come those before it and the join beads between.
            let before = |j: u32| j + made.before_gap(j, made.gaps);
            let j = last_where(0..made.gaps + 1, |j| before(j) <= nth);
            return side.leaving(match nth - before(j) {
                0 => layout.edge_bead(side.panel, side.side, j),
                _ => layout.row_bead(row, nth - j - 1),
            });
        }
        p -= beads;
    }
    unreachable!("the position lies on one of the rim's sides")
}

impl Steps for Through {
    fn steps(&self, layout: &Layout) -> u32 {
        self.path.len(layout).div_ceil(self.at_once()).max(1)
    }

    fn step(&self, layout: &Layout, i: u32) -> Draft {
        let [from, to] = [i, i + 1].map(|i| self.passes_before(layout, i));
        let mut draft = Draft::new(self.kind).at(self.round, self.side);
        for p in from..to {
            draft.pass(self.path.hole(layout, p).bead);
        }
        draft
    }

    fn passes_before(&self, layout: &Layout, i: u32) -> u32 {
        i.saturating_mul(self.at_once()).min(self.path.len(layout))
    }

    fn holes(&self, layout: &Layout, i: u32) -> Holes {
        let passed = self.passes_before(layout, i)..self.passes_before(layout, i + 1);
        passed.map(|p| self.path.hole(layout, p)).collect()
    }
}
