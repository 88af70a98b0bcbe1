//! Jobs: the stages of a piece that a maker would name.
//!
//! A panel, a solid, a ring and a maker's own list are all made of the same
//! jobs. A job says what is to be made; the planner finds the way of the
//! needle.

use super::{Corner, Direction, Panel, RowGap, Side};
use serde::{Deserialize, Serialize};

/// What a job is for. Panels are numbered in the order of [`super::goal::Goal::panels`].
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum JobKind {
    /// Make a panel.
    Panel(Panel),
    /// Work join rows on sides of a panel, in this order.
    JoinRow {
        /// The panel.
        panel: Panel,
        /// The sides, in the order in which they are worked.
        sides: Vec<Side>,
        /// Tip beads in the corner after each row, 0 to 2.
        tips: u8,
        /// Join beads of each row; `None` for one in each gap.
        beads: Option<u32>,
    },
    /// Zip bare sides of a panel onto rows or sides of others, one after another.
    Zip(Panel, Vec<SideJoin>),
    /// Zip in a finished panel along all its sides.
    SetIn(Panel, Vec<SideJoin>),
    /// Set a finished panel in the open middle of another: its edge is zipped
    /// into the innermost round.
    SetInMiddle {
        /// The panel.
        panel: Panel,
        /// The one around it.
        around: Panel,
    },
    /// Fill an opening from its rim.
    Fill {
        /// The panel that it makes.
        panel: Panel,
        /// The open sides, each with its join row, in the order of the fill:
        /// each against its own direction.
        rim: Vec<(Panel, Side)>,
    },
    /// Reinforce the rim of an opening that stays open: its open sides, as for
    /// a fill.
    FirmRim(Vec<(Panel, Side)>),
    /// Go through the join of a zipped side a second time.
    Reinforce(Panel, Side),
    /// Fold, and pull two corners together.
    Tie(Corner, Corner),
}

/// A bare side and what it is zipped into: a row, or the edge of another side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct SideJoin {
    /// The bare side.
    pub side: Side,
    /// The other panel, which has the row if there is one.
    pub onto: Panel,
    /// Its side.
    pub at: Side,
    /// The direction of the bare side beside the row.
    pub runs: Direction,
    /// How the two sides fit.
    pub fit: SideFit,
}

/// How two joined sides fit into each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SideFit {
    /// They have the same length: each gap of the bare side holds a join bead
    /// of the row.
    Equal,
    /// One has one up bead more than the other, and the up beads alternate.
    /// There is no row.
    Locked,
    /// The side with the row has two up beads more than the bare side, whose up
    /// beads are between the beads of the row.
    OnTheLonger,
    /// The beads of the row are spread over the gaps of a bare side that is
    /// longer or shorter than the side with the row.
    Eased,
}

impl SideFit {
    /// How sides with these numbers of up beads fit: without easing if
    /// possible.
    pub fn of(bare: u32, onto: u32) -> SideFit {
        match bare.abs_diff(onto) {
            0 => SideFit::Equal,
            1 => SideFit::Locked,
            2 => SideFit::OnTheLonger,
            _ => SideFit::Eased,
        }
    }

    /// Whether a bare side of `bare` up beads fits like this into a side of
    /// `onto` up beads with `joins` join beads.
    pub fn suits(self, bare: u32, onto: u32, joins: u32) -> bool {
        match self {
            SideFit::Equal => bare == onto,
            SideFit::Locked => bare.abs_diff(onto) == 1,
            SideFit::OnTheLonger => bare + 2 == onto,
            // A gap takes at most two join beads.
            SideFit::Eased => joins <= 2 * bare.saturating_sub(1),
        }
    }
}

impl JobKind {
    /// The panel of the job: the one that it makes, works on or joins.
    pub fn panel(&self) -> Panel {
        match self {
            JobKind::Panel(panel)
            | JobKind::Fill { panel, .. }
            | JobKind::JoinRow { panel, .. }
            | JobKind::Zip(panel, _)
            | JobKind::SetIn(panel, _)
            | JobKind::Reinforce(panel, _)
            | JobKind::SetInMiddle { panel, .. }
            | JobKind::Tie((panel, _), _) => *panel,
            JobKind::FirmRim(rim) => rim[0].0,
        }
    }

    /// The panel that the job adds to the piece, if any.
    pub fn makes(&self) -> Option<Panel> {
        match self {
            JobKind::Panel(panel) | JobKind::Fill { panel, .. } => Some(*panel),
            _ => None,
        }
    }

    /// The sides on which the job works rows.
    pub fn rows_worked(&self) -> Vec<Corner> {
        match self {
            JobKind::JoinRow { panel, sides, .. } => sides.iter().map(|s| (*panel, *s)).collect(),
            _ => vec![],
        }
    }

    /// The sides with rows that the job needs.
    pub(super) fn rows_met(&self) -> Vec<Corner> {
        match self {
            JobKind::Fill { rim, .. } | JobKind::FirmRim(rim) => rim.clone(),
            _ => {
                let on_rows = self.joins().iter().filter(|j| j.fit != SideFit::Locked);
                on_rows.map(|j| (j.onto, j.at)).collect()
            }
        }
    }

    /// The panels of the job, to be renumbered.
    pub(super) fn panels_mut(&mut self) -> Vec<&mut Panel> {
        match self {
            JobKind::Panel(panel)
            | JobKind::JoinRow { panel, .. }
            | JobKind::Reinforce(panel, _) => vec![panel],
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                let onto = joins.iter_mut().map(|join| &mut join.onto);
                [panel].into_iter().chain(onto).collect()
            }
            JobKind::SetInMiddle { panel, around } => vec![panel, around],
            JobKind::Fill { panel, rim } => {
                let rim = rim.iter_mut().map(|(panel, _)| panel);
                [panel].into_iter().chain(rim).collect()
            }
            JobKind::FirmRim(rim) => rim.iter_mut().map(|(panel, _)| panel).collect(),
            JobKind::Tie((from, _), (to, _)) => vec![from, to],
        }
    }

    /// All panels of the job.
    pub(super) fn panels(&self) -> Vec<Panel> {
        let mut job = self.clone();
        job.panels_mut().into_iter().map(|panel| *panel).collect()
    }

    /// Whether the job zips a finished panel to the piece, tooth by tooth.
    pub fn is_zip(&self) -> bool {
        matches!(self, JobKind::SetInMiddle { .. }) || !self.joins().is_empty()
    }

    /// The job that works one row.
    pub fn row((panel, side): Corner, tips: u8, beads: Option<u32>) -> JobKind {
        let sides = vec![side];
        JobKind::JoinRow {
            panel,
            sides,
            tips,
            beads,
        }
    }

    /// The same sides, to be changed.
    pub(super) fn joins_mut(&mut self) -> &mut [SideJoin] {
        match self {
            JobKind::Zip(_, joins) | JobKind::SetIn(_, joins) => joins,
            _ => &mut [],
        }
    }

    /// The sides that the job zips, each with what it is zipped into.
    pub fn joins(&self) -> &[SideJoin] {
        match self {
            JobKind::Zip(_, joins) | JobKind::SetIn(_, joins) => joins,
            _ => &[],
        }
    }
}

/// A job of a piece as worked and planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobInfo {
    /// What it is for.
    pub kind: JobKind,
    /// Its title.
    pub title: String,
    /// Gaps of its join rows, or of the rim of a fill, that were stitched
    /// differently; if a gap occurs twice, the later entry counts.
    pub row_gaps: Vec<RowGap>,
    /// How many of its steps break a bead out.
    pub break_outs: u32,
    /// The number of steps before its first.
    pub steps_before: u32,
    /// The number of its steps.
    pub steps: u32,
    /// The number of beads strung before it.
    pub beads_before: u32,
    /// The number of beads that it strings.
    pub beads: u32,
    /// The number of panels begun before it, including fills.
    pub panels_before: u32,
}

impl JobInfo {
    /// The number of panels begun, including its own.
    pub(super) fn panels_begun(&self) -> u32 {
        let begins = matches!(self.kind, JobKind::Panel(_) | JobKind::Fill { .. });
        self.panels_before + u32::from(begins)
    }

    /// The panel of the job.
    pub fn panel(&self) -> Panel {
        self.kind.panel()
    }
}
