//! Jobs: the stages of a piece that a maker would name.
//!
//! A pattern, a solid, a ring and a maker's own list all come down to the same
//! jobs. A job says what is to be made; how the needle gets there is the
//! planner's business.

use super::number::{Panel, Side};
use super::own_rounds::RowGap;
use super::seams::{Corner, Direction};
use serde::{Deserialize, Serialize};

/// What a job is for. Panels are numbered in the order of [`super::goal::Goal::panels`].
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum JobKind {
    /// Make a panel.
    Panel(Panel),
    /// Work join rows on sides of a panel, in this order.
    JoinRow {
        /// The panel that carries them.
        panel: Panel,
        /// The sides, in the order in which they are worked.
        sides: Vec<Side>,
        /// Tip beads in the corner after each row, 0 to 2.
        tips: u8,
        /// Join beads of each row, if not one in each gap.
        beads: Option<u32>,
    },
    /// Zip bare sides of a panel onto rows or sides of others, one after another.
    Zip(Panel, Vec<SideJoin>),
    /// Zip in a finished panel along all its sides.
    SetIn(Panel, Vec<SideJoin>),
    /// Set in a finished panel in the open middle of another, whose innermost
    /// round its edge locks into.
    SetInMiddle {
        /// The panel.
        panel: Panel,
        /// The one around it.
        around: Panel,
    },
    /// Fill an opening from its rim.
    Fill {
        /// The panel that comes of it.
        panel: Panel,
        /// The open sides, each with its join row, in the order in which the
        /// fill meets them: each against its own direction.
        rim: Vec<(Panel, Side)>,
    },
    /// Firm the rim of an opening that stays open: its open sides, as for a
    /// fill.
    FirmRim(Vec<(Panel, Side)>),
    /// Go a second time through the join of a side that was zipped.
    Reinforce(Panel, Side),
    /// Fold, and draw two corners together.
    Tie(Corner, Corner),
}

/// A bare side and what it is locked into: a row, or the edge of another side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct SideJoin {
    /// The bare side.
    pub side: Side,
    /// The other panel, which carries the row if there is one.
    pub onto: Panel,
    /// Its side.
    pub at: Side,
    /// Which way the bare side runs beside the row.
    pub runs: Direction,
    /// How the two sides lock into each other.
    pub fit: SideFit,
}

/// How two sides that are joined lock into each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SideFit {
    /// They are as long as each other: a join bead of the row lies in each gap
    /// of the bare side.
    Equal,
    /// One has one up bead more than the other, and its up beads lie on either
    /// side of the other's. There is no row.
    Locked,
    /// The side that carries the row has two up beads more than the bare side,
    /// whose up beads lie between the beads of the row.
    OnTheLonger,
    /// The row's beads are spread over the gaps of a bare side that is longer or
    /// shorter than the one that carries them.
    Eased,
}

impl SideFit {
    /// How sides of so many up beads lock into each other without easing, if they
    /// can; else eased.
    pub fn of(bare: u32, onto: u32) -> SideFit {
        match bare.abs_diff(onto) {
            0 => SideFit::Equal,
            1 => SideFit::Locked,
            2 => SideFit::OnTheLonger,
            _ => SideFit::Eased,
        }
    }

    /// Whether a bare side of so many up beads and one of `onto` up beads that
    /// carries so many join beads lock into each other so.
    pub fn suits(self, bare: u32, onto: u32, joins: u32) -> bool {
        match self {
            SideFit::Equal => bare == onto,
            SideFit::Locked => bare.abs_diff(onto) == 1,
            SideFit::OnTheLonger => bare + 2 == onto,
            // A gap takes two join beads at the most.
            SideFit::Eased => joins <= 2 * bare.saturating_sub(1),
        }
    }
}

impl JobKind {
    /// The panel that the job is about: the one it makes, or the one it works
    /// on or brings in.
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

    /// The panel that the job adds to the piece, if it adds one.
    pub fn makes(&self) -> Option<Panel> {
        match self {
            JobKind::Panel(panel) | JobKind::Fill { panel, .. } => Some(*panel),
            _ => None,
        }
    }

    /// The sides on which the job works rows.
    pub(super) fn rows_worked(&self) -> Vec<Corner> {
        match self {
            JobKind::JoinRow { panel, sides, .. } => sides.iter().map(|s| (*panel, *s)).collect(),
            _ => vec![],
        }
    }

    /// The sides whose rows the job needs.
    pub(super) fn rows_met(&self) -> Vec<Corner> {
        match self {
            JobKind::Fill { rim, .. } | JobKind::FirmRim(rim) => rim.clone(),
            _ => {
                let on_rows = self.joins().iter().filter(|j| j.fit != SideFit::Locked);
                on_rows.map(|j| (j.onto, j.at)).collect()
            }
        }
    }

    /// Does something with the number of every panel that the job names.
    pub(super) fn each_panel(&mut self, mut each: impl FnMut(&mut Panel)) {
        let corner = |(panel, _): &mut Corner, each: &mut dyn FnMut(&mut Panel)| each(panel);
        match self {
            JobKind::Panel(panel)
            | JobKind::JoinRow { panel, .. }
            | JobKind::Reinforce(panel, _) => each(panel),
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                each(panel);
                joins.iter_mut().for_each(|join| each(&mut join.onto));
            }
            JobKind::SetInMiddle { panel, around } => {
                each(panel);
                each(around);
            }
            JobKind::Fill { panel, rim } => {
                each(panel);
                rim.iter_mut().for_each(|side| corner(side, &mut each));
            }
            JobKind::FirmRim(rim) => rim.iter_mut().for_each(|side| corner(side, &mut each)),
            JobKind::Tie(from, to) => {
                corner(from, &mut each);
                corner(to, &mut each);
            }
        }
    }

    /// Whether the job locks a finished panel to what is there, tooth by tooth.
    pub fn is_zip(&self) -> bool {
        matches!(self, JobKind::SetInMiddle { .. }) || !self.joins().is_empty()
    }

    /// The sides that the job zips, each with what it is locked into.
    pub fn joins(&self) -> &[SideJoin] {
        match self {
            JobKind::Zip(_, joins) | JobKind::SetIn(_, joins) => joins,
            _ => &[],
        }
    }
}

/// One job of a piece, as far as it is worked or planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobInfo {
    /// What it is for.
    pub kind: JobKind,
    /// What it is called.
    pub title: String,
    /// Gaps of its join rows, or of the rim of a fill, that hold other than was meant; of two for one gap
    /// the later counts.
    pub row_gaps: Vec<RowGap>,
    /// Its steps that break a bead out.
    pub break_outs: u32,
    /// Steps of the piece before its first.
    pub steps_before: u32,
    /// Its steps.
    pub steps: u32,
    /// Beads of the piece strung before it.
    pub beads_before: u32,
    /// Beads that it strings.
    pub beads: u32,
    /// Panels begun before it, fills among them.
    pub panels_before: u32,
}

impl JobInfo {
    /// Panels begun up to it, itself included.
    pub(super) fn panels_begun(&self) -> u32 {
        let begins = matches!(self.kind, JobKind::Panel(_) | JobKind::Fill { .. });
        self.panels_before + u32::from(begins)
    }

    /// The panel that the job is about.
    pub fn panel(&self) -> Panel {
        self.kind.panel()
    }
}
