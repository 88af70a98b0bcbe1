//! The handout: what a teacher gives to a class, so that the piece can be made
//! without the program.
//!
//! ```text
//! sequence and plan -> Sheet: words, numbers, drawings -> html | svg | text
//! ```
//!
//! [`Sheet`] holds all that is said and drawn; the writers only spell it. What
//! is the same for several panels or joins is told once, with how many of it
//! to make. Counts come from the engine, materials from the plan.

pub mod draw;
pub mod drawing;
pub mod html;
pub mod join;
mod markup;
pub mod materials;
pub mod panel;
pub mod round;
pub mod stage;
pub mod svg;
pub mod text;

use crate::beadwork::Sequence;
use crate::beadwork::project::Make;
use crate::plan::Plan;
use crate::plan::joins::Joins;
use crate::plan::page::Unit;
use crate::words::care::CAUTIONS;

use drawing::Drawing;
use join::JoinKind;
use materials::{BeadRow, Fact};
use panel::PanelKind;
use stage::{Meeting, Stage};

/// For which hand the drawings are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// The needle in the right hand.
    #[default]
    Right,
    /// The needle in the left: drawings and directions mirrored.
    Left,
}

/// How a handout is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ask {
    /// For which hand.
    pub hand: Hand,
    /// In which unit lengths are told.
    pub unit: Unit,
}

/// A handout.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What the piece is called.
    pub title: String,
    /// What its pattern says about it; may have several lines, or none.
    pub about: String,
    /// What can hurt.
    pub cautions: &'static [&'static str],
    /// Beads to buy over what is needed, percent.
    pub spare_percent: f64,
    /// The beads, colour by colour.
    pub beads: Vec<BeadRow>,
    /// All beads.
    pub total_beads: u32,
    /// Thread, needle, size, time.
    pub facts: Vec<Fact>,
    /// How to read the drawings.
    pub legend: Vec<(&'static str, String)>,
    /// The kinds of panel.
    pub panels: Vec<PanelKind>,
    /// The faces laid out flat, if the piece joins any.
    pub net: Option<Drawing>,
    /// Which sides meet.
    pub meetings: Vec<Meeting>,
    /// Joins that are not told.
    pub more_meetings: usize,
    /// The kinds of join.
    pub joins: Vec<JoinKind>,
    /// The stages of the work.
    pub stages: Vec<Stage>,
    /// Stages that are not told.
    pub more_stages: usize,
}

impl Sheet {
    /// The handout of a piece. Title and text about it are the pattern's.
    pub fn of(seq: &Sequence, plan: &Plan, title: &str, about: &str, ask: Ask) -> Sheet {
        let project = seq.layout().project();
        let joins = match project.make {
            Make::Single(_) => Joins::default(),
            _ => Joins::of(seq),
        };
        let mut budget = draw::Budget::default();
        let panels = panel::kinds(seq, ask.hand, &mut budget);
        let stages = stage::stages(seq, &panels);
        Sheet {
            title: title.to_string(),
            about: about.to_string(),
            cautions: CAUTIONS,
            spare_percent: plan.wishes.spare_percent,
            beads: materials::beads(project, plan, ask.unit),
            total_beads: plan.total_beads,
            facts: materials::facts(plan, ask.unit),
            legend: legend(ask.hand),
            net: draw::net::net(seq, &joins, ask.hand),
            meetings: stage::meetings(seq, &joins),
            more_meetings: joins.joins.len().saturating_sub(stage::MEETINGS_TOLD),
            joins: join::kinds(seq, &joins, ask.hand),
            more_stages: seq.jobs().len().saturating_sub(stages.len()),
            stages,
            panels,
        }
    }

    /// All its drawings, in order.
    pub fn drawings(&self) -> impl Iterator<Item = &Drawing> {
        let joins = self.joins.iter().filter_map(|join| join.drawing.as_ref());
        self.net
            .iter()
            .chain(self.panels.iter().map(|panel| &panel.drawing))
            .chain(joins)
    }
}

/// How to read the drawings.
fn legend(hand: Hand) -> Vec<(&'static str, String)> {
    let way = match hand {
        Hand::Right => "round the work anticlockwise",
        Hand::Left => "round the work clockwise",
    };
    vec![
        ("Letter in a bead", "its colour, as in the list of beads".into()),
        ("Number on white", "in a panel the round, counted from the middle; in a join the order of the needle".into()),
        ("Strong outline", "the first bead of a round. A step-up or step-down goes through this bead of the last round and this bead of the new one".into()),
        ("Black triangle", "here the needle starts".into()),
        ("Small white ring", "increase: two beads in one gap".into()),
        ("Small black dot", "decrease: no bead, the two neighbours are drawn together".into()),
        ("Broken outline", "passed through, adding no bead".into()),
        ("Seen", format!("from outside; the needle goes {way}")),
    ]
}
