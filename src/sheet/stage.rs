//! The stages of the work, each with a box to tick and a count to check at.

use crate::beadwork::job::{JobInfo, JobKind};
use crate::beadwork::{Panel, Sequence, Side};
use crate::plan::joins::Joins;

use super::panel::PanelKind;
use super::round::each;

/// One stage: a job of the piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// Its number, from 1.
    pub number: u32,
    /// What it is called.
    pub title: String,
    /// What to do, and what to count.
    pub words: String,
    /// Beads that it strings.
    pub beads: u32,
    /// Beads of the piece when it is done.
    pub total: u32,
}

/// Stages told one by one.
pub(super) const TOLD: usize = 240;

/// The stages of a piece.
pub(super) fn stages(seq: &Sequence, kinds: &[PanelKind]) -> Vec<Stage> {
    let jobs = seq.jobs().iter().take(TOLD).enumerate();
    jobs.map(|(at, info)| Stage {
        number: at as u32 + 1,
        title: info.title.clone(),
        words: words(seq, info, kinds),
        beads: info.beads,
        total: info.beads_before + info.beads,
    })
    .collect()
}

fn words(seq: &Sequence, info: &JobInfo, kinds: &[PanelKind]) -> String {
    let layout = seq.layout();
    let edge = |panel: Panel, side: Side| layout.kind(panel).edge(side);
    match &info.kind {
        JobKind::Panel(panel) => {
            let kind = layout.kind(*panel);
            let name = &layout.project().panels[layout.panel(*panel).spec].name;
            let sides: Vec<u32> = (0..kind.sides())
                .map(|s| kind.on_side(kind.last(), Side(s)))
                .collect();
            let ticked = kinds.iter().any(|k| k.name == *name);
            let shown = if ticked {
                format!("As drawn under '{name}'. ")
            } else {
                String::new()
            };
            format!(
                "{shown}Count the outer round: {} beads, on each side {}.",
                kind.in_round(kind.last()),
                each(&sides)
            )
        }
        JobKind::JoinRow(panel, sides) => {
            let rows = sides.iter().filter_map(|&side| layout.row_on(*panel, side));
            let counts: Vec<String> = sides
                .iter()
                .zip(rows)
                .map(|(side, row)| {
                    let row = layout.row(row);
                    let tips = match row.tips {
                        0 => String::new(),
                        1 => " and 1 tip bead".into(),
                        tips => format!(" and {tips} tip beads"),
                    };
                    format!("{} join beads{tips} on side {side}", row.beads)
                })
                .collect();
            format!(
                "One bead in each gap of the edge. Count: {}.",
                counts.join(", ")
            )
        }
        JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
            let each: Vec<String> = joins
                .iter()
                .map(|join| {
                    format!(
                        "side {} onto the row of {}, side {} ({} teeth)",
                        join.side,
                        layout.panel(join.onto).name,
                        join.at,
                        edge(*panel, join.side).saturating_sub(1)
                    )
                })
                .collect();
            format!("Zip {}.", each.join("; "))
        }
        JobKind::Fill(panel) => {
            let kind = layout.kind(*panel);
            let inner = layout.making(*panel).innermost();
            format!(
                "On the rim first, then inward to round {inner}. Count the first round: {} beads.",
                kind.in_round(kind.last())
            )
        }
        JobKind::FirmRim(rim) => format!(
            "Go twice round the rim of {} sides, adding no bead.",
            rim.len()
        ),
        JobKind::Tie(..) => "Fold along the middle and draw the two corners together.".into(),
    }
}

/// Which sides meet: the row's side, and what is joined to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    /// The side that carries the row.
    pub carrier: String,
    /// The sides on it.
    pub others: Vec<String>,
}

/// Meetings told one by one.
pub(super) const MEETINGS_TOLD: usize = 160;

/// The joins of a piece in words.
pub(super) fn meetings(seq: &Sequence, joins: &Joins) -> Vec<Meeting> {
    let layout = seq.layout();
    let name = |&(panel, side): &(Panel, Side)| {
        format!(
            "{} · {}, side {side}",
            panel.number(),
            layout.panel(panel).name
        )
    };
    let told = joins.joins.iter().take(MEETINGS_TOLD);
    told.map(|join| Meeting {
        carrier: name(&join.carrier),
        others: join.others.iter().map(name).collect(),
    })
    .collect()
}
