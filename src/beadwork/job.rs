//! Jobs: the stages of a piece that a maker would name.

use super::number::{Panel, Side};
use super::seams::Direction;
use super::stage::Stage;

/// What a job is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JobKind {
    /// Make a panel.
    Panel(Panel),
    /// Work join rows on sides of a panel.
    JoinRow(Panel, Vec<Side>),
    /// Zip bare sides of a panel onto rows of others.
    Zip(Panel, Vec<SideJoin>),
    /// Zip in a finished panel along all its sides.
    SetIn(Panel, Vec<SideJoin>),
    /// Fill an opening from its rim.
    Fill(Panel),
    /// Firm the rim of an opening that stays open.
    FirmRim(Vec<(Panel, Side)>),
    /// Fold, and draw two corners together.
    Tie((Panel, Side), (Panel, Side)),
}

/// A bare side and the row that it is locked into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SideJoin {
    /// The bare side.
    pub side: Side,
    /// The panel that carries the row.
    pub onto: Panel,
    /// The side that carries it.
    pub at: Side,
    /// Which way the bare side runs beside the row.
    pub runs: Direction,
}

/// One job of a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobInfo {
    /// What it is for.
    pub kind: JobKind,
    /// What it is called.
    pub title: String,
    /// Steps of the piece before its first.
    pub steps_before: u32,
    /// Its steps.
    pub steps: u32,
    /// Beads of the piece strung before it.
    pub beads_before: u32,
    /// Beads that it strings.
    pub beads: u32,
}

impl JobInfo {
    /// The panel that the job is about: the one it makes, or the one it works
    /// on or brings in.
    pub fn panel(&self) -> Panel {
        match &self.kind {
            JobKind::Panel(p) | JobKind::Fill(p) => *p,
            JobKind::JoinRow(p, _) | JobKind::Zip(p, _) | JobKind::SetIn(p, _) => *p,
            JobKind::FirmRim(rim) => rim[0].0,
            JobKind::Tie((p, _), _) => *p,
        }
    }
}

impl JobInfo {
    /// The panel and side whose row a bare side is locked into, if the job
    /// zips that side.
    pub fn row_met(&self, side: Side) -> Option<(Panel, Side)> {
        let (JobKind::Zip(_, joins) | JobKind::SetIn(_, joins)) = &self.kind else {
            return None;
        };
        let join = joins.iter().find(|join| join.side == side)?;
        Some((join.onto, join.at))
    }
}

/// Steps `from` to `to` of a stage (from 0, `to` not included), as they
/// follow one another in the piece. A stage is cut in two where thread is
/// renewed.
#[derive(Clone, Debug)]
pub struct Span {
    /// The stage.
    pub stage: Stage,
    /// Its first step here.
    pub from: u32,
    /// The step after its last here.
    pub to: u32,
    /// Steps of the piece before this span.
    pub steps_before: u32,
    /// Beads of the piece strung before this span.
    pub beads_before: u32,
    /// Beads gone through, in the whole piece, before this span.
    pub passes_before: u64,
}
