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

pub mod brick;
pub mod draw;
pub mod drawing;
pub mod html;
pub mod join;
pub mod legend;
mod markup;
pub mod materials;
pub mod panel;
pub mod round;
pub mod stage;
pub mod svg;
pub mod technique;
pub mod text;
mod way;

use crate::beadwork::Sequence;
use crate::geometry::Shape;
use crate::picture::Scene;
use crate::plan::Plan;
use crate::plan::joins::Joins;
use crate::plan::page::Unit;
use crate::words::Word;

use drawing::Drawing;
use join::JoinKind;
use legend::LegendLine;
use materials::{BeadRow, LabelledFact};
use panel::PanelOnPaper;
use stage::{Meeting, StageLine};
use technique::Technique;

/// For which hand the drawings are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// The needle in the right hand.
    #[default]
    Right,
    /// The needle in the left: drawings and directions mirrored.
    Left,
}

/// Paper that a handout is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216: 210 × 297 mm.
    A4,
    /// North American letter: 8.5 × 11 in.
    Letter,
}

/// How a handout is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SheetOptions {
    /// For which hand.
    pub hand: Hand,
    /// In which unit lengths are told.
    pub unit: Unit,
    /// For which paper; without one it fits both.
    pub paper: Option<Paper>,
    /// Whether it opens with the finished piece, as a page does.
    pub picture: bool,
}

/// A handout.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What the piece is called.
    pub title: String,
    /// What its pattern says about it; may have several lines, or none.
    pub about: String,
    /// The finished piece as an SVG element; none of a piece of very many beads.
    pub picture: Option<String>,
    /// Beads to buy over what is needed, percent.
    pub spare_percent: f64,
    /// The beads, colour by colour.
    pub beads: Vec<BeadRow>,
    /// All beads.
    pub total_beads: u32,
    /// Thread, needle, size, time.
    pub facts: Vec<LabelledFact>,
    /// How to read the drawings.
    pub legend: Vec<LegendLine>,
    /// The techniques that it speaks of.
    pub techniques: Vec<Technique>,
    /// Its other words of the trade.
    pub words: Vec<&'static Word>,
    /// The kinds of panel.
    pub panels: Vec<PanelOnPaper>,
    /// The faces laid out flat, if the piece joins any.
    pub net: Option<Drawing>,
    /// Which sides meet.
    pub meetings: Vec<Meeting>,
    /// Joins that are not told.
    pub more_meetings: usize,
    /// The kinds of join.
    pub joins: Vec<JoinKind>,
    /// The stages of the work.
    pub stages: Vec<StageLine>,
    /// Stages that are not told.
    pub more_stages: usize,
    /// The paper that is asked for.
    pub paper: Option<Paper>,
}

/// Headings of the box of techniques, and of the words.
const TECHNIQUES: &str = "Techniques";
const WORDS: &str = "Words";

/// Pieces of more beads than this have no picture on their handout.
const PICTURED: u32 = 20_000;
/// Width and height of the picture, in points of its own.
const PICTURE: usize = 400;

/// The finished piece.
fn picture(seq: &Sequence, hand: Hand) -> Option<String> {
    (seq.layout().beads() <= PICTURED).then(|| {
        let mut scene = Scene::of(seq, None, (PICTURE, PICTURE), 1.0);
        scene.camera.mirrored = hand == Hand::Left;
        scene.svg(seq, None)
    })
}

impl Sheet {
    /// The handout of a piece. Title and text about it are the pattern's.
    pub fn of(seq: &Sequence, plan: &Plan, title: &str, about: &str, ask: SheetOptions) -> Sheet {
        let body = Shape::of(seq);
        let joins = Joins::of(seq, &body);
        let mut budget = draw::Budget::default();
        let panels = panel::kinds(seq, ask.hand, &mut budget);
        let stages = stage::stages(seq);
        let mut sheet = Sheet {
            title: title.to_string(),
            about: about.to_string(),
            picture: ask.picture.then(|| picture(seq, ask.hand)).flatten(),
            spare_percent: plan.wishes.spare_percent,
            beads: materials::beads(seq.layout().bead_kinds(), plan, ask.unit),
            total_beads: plan.total_beads,
            facts: materials::facts(seq, plan, ask.unit),
            legend: vec![],
            techniques: vec![],
            words: vec![],
            net: draw::net::net(seq, &body, ask.hand),
            meetings: stage::meetings(seq, &joins),
            more_meetings: joins.joins.len().saturating_sub(stage::MEETINGS_TOLD),
            joins: join::kinds(seq, &body, &joins, ask.hand),
            more_stages: seq
                .jobs()
                .len()
                .saturating_sub(stages.last().map_or(0, |s| s.last as usize)),
            stages,
            panels,
            paper: ask.paper,
        };
        let size = &seq.layout().bead_kinds()[0].size;
        let ratio = size.diameter_mm / size.length_mm;
        (sheet.techniques, sheet.words) = technique::of(&sheet, ratio, ask.hand);
        sheet.legend = legend::legend(&sheet, ask.hand);
        sheet
    }

    /// What it says of materials and work, for words of the trade to be found in.
    fn said(&self) -> String {
        let facts = self.facts.iter().map(|(_, words)| words);
        let panels = self.panels.iter().flat_map(|panel| {
            let rounds = panel.rounds.iter().map(|round| &round.how);
            rounds.chain([&panel.begins]).chain(&panel.edge)
        });
        let joins = self
            .joins
            .iter()
            .flat_map(|join| join.words.iter().chain([&join.title]));
        let stages = self
            .stages
            .iter()
            .flat_map(|stage| [&stage.title, &stage.words]);
        let all: Vec<&str> = facts
            .chain(panels)
            .chain(joins)
            .chain(stages)
            .map(String::as_str)
            .collect();
        all.join(". ")
    }

    /// Whether all its panels are strips, which have one side.
    fn is_of_strips(&self) -> bool {
        let rounds = self.panels.iter().flat_map(|panel| &panel.rounds);
        rounds.map(|round| round.per_side.len()).max() == Some(1)
    }

    /// That there are more joins, if there are.
    pub fn more_meetings_words(&self) -> Option<String> {
        left_out(self.more_meetings, "join", "joins")
    }

    /// How many stages the work has.
    pub fn all_stages(&self) -> usize {
        self.stages.last().map_or(0, |stage| stage.last as usize) + self.more_stages
    }

    /// That there are more stages, if there are.
    pub fn more_stages_words(&self) -> Option<String> {
        left_out(self.more_stages, "stage", "stages")
    }

    /// All its drawings, in order.
    pub fn drawings(&self) -> impl Iterator<Item = &Drawing> {
        let joins = self.joins.iter().filter_map(|join| join.drawing.as_ref());
        self.net
            .iter()
            .chain(self.techniques.iter().map(|technique| &technique.drawing))
            .chain(self.panels.iter().map(|panel| &panel.drawing))
            .chain(joins)
    }
}

/// That there is more than a handout can hold, and where it is to be had.
fn left_out(more: usize, one: &str, many: &str) -> Option<String> {
    let words = match more {
        0 => return None,
        1 => format!("1 more {one} is not printed here"),
        n => format!("{n} more {many} are not printed here"),
    };
    Some(format!(
        "{words}: a handout would be too long. The program has every round and every step."
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `6000` as the pages write it.
    fn thousands(n: usize) -> String {
        match n {
            n if n >= 1000 => format!("{},{:03}", n / 1000, n % 1000),
            n => n.to_string(),
        }
    }

    #[test]
    fn the_page_about_handouts_tells_the_limits_that_hold() {
        let page = include_str!("../../docs/handout.md");
        let (in_one, in_all) = draw::limits();
        for (what, most) in [
            ("beads drawn one by one in a drawing", in_one),
            ("beads drawn one by one in all", in_all),
            ("rounds listed for a kind of panel", panel::ROUNDS_TOLD),
            ("faces laid out flat", draw::net::FACES),
            ("joins listed one by one", stage::MEETINGS_TOLD),
            ("stages listed one by one", stage::TOLD),
            (
                "beads of an edge drawn in a join",
                draw::join::WHOLE as usize,
            ),
            ("letters of the beads of a round", round::COLOURS_TOLD),
        ] {
            let row = format!("| {what} | {}", thousands(most));
            assert!(page.contains(&row), "{row}");
        }
    }
}
