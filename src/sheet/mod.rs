//! The handout: what a teacher gives to a class, so that the piece can be made
//! without the program.
//!
//! ```text
//! sequence and plan -> Sheet: words, numbers, drawings -> html | svg | text
//! ```
//!
//! [`Sheet`] holds all text and drawings; the templates beside this file
//! (handout.html, handout.txt, drawings.svg) only format it. What is
//! the same for several panels or joins is described once, with how many to
//! make. Counts come from the engine, materials from the plan.
//!
//! ```
//! use threadmark::beadwork::Sequence;
//! use threadmark::plan::{Plan, Wishes};
//! use threadmark::sheet::{Sheet, SheetOptions, text};
//!
//! let project = threadmark::pattern::load("patterns/practice-triangle.json")?.project;
//! let sequence = Sequence::new(project);
//! let plan = Plan::of(&sequence, Wishes::default());
//! let sheet = Sheet::of(&sequence, &plan, "A triangle", "", SheetOptions::default());
//! assert_eq!(sheet.total_beads, sequence.layout().beads());
//! assert!(text::page(&sheet).contains("A triangle"));
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

pub mod draw;
pub mod drawing;
pub mod html;
pub mod join;
pub mod legend;
pub mod materials;
mod own_steps;
pub mod panel;
pub mod round;
pub mod stage;
pub mod svg;
pub mod technique;
mod template;
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

/// The hand for which the drawings are made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// The needle is in the right hand.
    #[default]
    Right,
    /// The needle is in the left hand: drawings and directions are mirrored.
    Left,
}

/// The paper size of a handout.
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
    /// The hand for which the drawings are made.
    pub hand: Hand,
    /// The unit in which lengths are given.
    pub unit: Unit,
    /// The paper size; without one, the handout fits both.
    pub paper: Option<Paper>,
    /// Whether it begins with a picture of the finished piece, as a page does.
    pub picture: bool,
}

/// A handout.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The name of the piece.
    pub title: String,
    /// What its pattern says about it; can have several lines, or none.
    pub about: String,
    /// The finished piece as an SVG element; `None` for a piece with very many
    /// beads.
    pub picture: Option<String>,
    /// Spare beads to buy beyond what is needed, percent.
    pub spare_percent: f64,
    /// The beads, colour by colour.
    pub beads: Vec<BeadRow>,
    /// Number of beads in the piece.
    pub total_beads: u32,
    /// Thread, needle, size, time.
    pub facts: Vec<LabelledFact>,
    /// How to read the drawings.
    pub legend: Vec<LegendLine>,
    /// The techniques that it mentions.
    pub techniques: Vec<Technique>,
    /// The other words of the trade that it uses.
    pub words: Vec<&'static Word>,
    /// The kinds of panel.
    pub panels: Vec<PanelOnPaper>,
    /// The faces laid out flat, if the piece has joins.
    pub net: Option<Drawing>,
    /// Which sides meet.
    pub meetings: Vec<Meeting>,
    /// Number of joins that are not listed.
    pub more_meetings: usize,
    /// The kinds of join.
    pub joins: Vec<JoinKind>,
    /// The stages of the work.
    pub stages: Vec<StageLine>,
    /// Number of stages that are not listed.
    pub more_stages: usize,
    /// The paper size asked for.
    pub paper: Option<Paper>,
}

/// Handouts of pieces with more beads than this have no picture.
const PICTURED: u32 = 20_000;
/// Width and height of the picture, in its own units.
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
    /// The handout of a piece. The title and the text about it come from the
    /// pattern.
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
            more_meetings: joins.joins.len().saturating_sub(stage::MEETINGS_LISTED),
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

    /// What it says about materials and work, as text in which words of the
    /// trade are looked up.
    fn text(&self) -> String {
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

    /// Whether all its panels are strips.
    fn is_of_strips(&self) -> bool {
        self.panels.iter().all(PanelOnPaper::is_strip)
    }

    /// Says how many more joins there are, if any.
    pub fn more_meetings_words(&self) -> Option<String> {
        left_out(self.more_meetings, "join", "joins")
    }

    /// How to read the list of sides that meet.
    fn meetings_words(&self) -> String {
        let is_direct = |meeting: &Meeting| meeting.is_direct;
        let carries = match self.meetings.iter().any(is_direct) {
            _ if self.meetings.iter().all(is_direct) => "",
            true => " The first of each carries the join row, but where they are locked directly.",
            false => " The first of each carries the join row.",
        };
        format!("Number and name of a face, and its side.{carries}")
    }

    /// The number of panels of all kinds.
    fn faces(&self) -> usize {
        self.panels.iter().map(|panel| panel.panels.len()).sum()
    }

    /// The number of stages of the work.
    pub fn all_stages(&self) -> usize {
        self.stages.last().map_or(0, |stage| stage.last as usize) + self.more_stages
    }

    /// Says how many more stages there are, if any.
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

/// Says that there is more than the handout can hold, and where to find it.
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
    use crate::beadwork::amend::{Amendment, OpeningEnd};
    use crate::beadwork::job::JobKind;
    use crate::beadwork::project::{Closing, Make};
    use crate::beadwork::{GoalJob, Step, testing};
    use crate::plan::Wishes;

    /// A number as the pages write it: `6000`.
    fn thousands(n: usize) -> String {
        match n {
            n if n >= 1000 => format!("{},{:03}", n / 1000, n % 1000),
            n => n.to_string(),
        }
    }

    #[test]
    fn an_opening_in_which_a_panel_is_set_does_not_stay_open() {
        let make = Make::FoldedPair {
            faces: vec![0],
            closings: [(1, Closing::Fill); 2],
            tips: 0,
        };
        let panels = vec![testing::panel(3, 8), testing::inward(3, 8, 3)];
        let plain = Sequence::new(testing::project(panels, make));
        let jobs = &plain.goal().jobs;
        let is_fill = |job: &&GoalJob| matches!(jobs[job.index()], JobKind::Fill { .. });
        let job = *plain.goal().order.iter().find(is_fill).expect("a fill");
        let how = OpeningEnd::SetInMiddle { kind: 0, rounds: 5 };
        let change = Amendment::Opening { job, how };
        let seq = plain.amended(Step(0), &change).unwrap();
        let plan = Plan::of(&seq, Wishes::default());
        let sheet = Sheet::of(&seq, &plan, "Pair", "", SheetOptions::default());
        let begins = |words: &str| {
            let kinds = sheet.panels.iter();
            kinds.filter(|kind| kind.begins.contains(words)).count()
        };
        assert_eq!(
            begins("stop at round 6: another panel is set in its middle"),
            1
        );
        assert_eq!(begins("stop at round 4: its middle stays open"), 1);
    }

    #[test]
    fn the_page_about_handouts_gives_the_actual_limits() {
        let page = include_str!("../../docs/handout.md");
        let (in_one, in_all) = draw::limits();
        for (what, most) in [
            ("beads drawn one by one in a drawing", in_one),
            ("beads drawn one by one in all", in_all),
            ("rounds listed for a kind of panel", panel::ROUNDS_LISTED),
            ("faces laid out flat", draw::net::FACES),
            ("joins listed one by one", stage::MEETINGS_LISTED),
            ("stages listed one by one", stage::STAGES_LISTED),
            (
                "beads of an edge drawn in a join",
                draw::join::WHOLE as usize,
            ),
            ("letters of the beads of a round", round::LETTERS_LISTED),
        ] {
            let row = format!("| {what} | {}", thousands(most));
            assert!(page.contains(&row), "{row}");
        }
    }
}
