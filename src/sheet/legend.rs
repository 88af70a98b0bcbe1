//! How to read the drawings: each sign with its meaning, and only signs that
//! occur.

use glam::DVec2;

use crate::beadwork::Rgb;

use super::drawing::{BeadOnPaper, BeadRole, Drawing, Element, GreyMark, Pen, Sign, TextSetting};
use super::materials::BeadRow;
use super::{Hand, Sheet};

/// A sign and what it means.
#[derive(Clone, Debug, PartialEq)]
pub struct LegendLine {
    /// Its name.
    pub name: &'static str,
    /// The sign by itself, where it can be drawn.
    pub sign: Option<Drawing>,
    /// What it means.
    pub words: String,
}

/// The lines for the drawings and lists of a handout.
pub(super) fn legend(sheet: &Sheet, hand: Hand) -> Vec<LegendLine> {
    let (way, begins) = match hand {
        Hand::Right => ("anticlockwise", "left"),
        Hand::Left => ("clockwise", "right"),
    };
    let shapes = || sheet.drawings().flat_map(|drawing| &drawing.shapes);
    let part = |of: BeadRole| shapes().any(|s| matches!(s, Element::Bead(b) if b.part == of));
    let sign = |of: fn(&Sign) -> bool| shapes().any(|s| matches!(s, Element::Sign(_, s) if of(s)));
    let pen = |of: Pen| shapes().any(|s| matches!(s, Element::Line(_, pen) if *pen == of));
    let beads = shapes().any(|s| matches!(s, Element::Bead(_)));
    let example = sheet.beads.first();
    let (colour, letter) = example.map_or((Rgb(255, 255, 255), 'A'), |b| (b.colour, b.letter));
    let bead = |part| Element::Bead(brick(colour, Some(letter), part));
    let marked =
        |mark: GreyMark| shapes().any(|s| matches!(s, Element::Bead(b) if b.mark == Some(mark)));
    let marks: Vec<(GreyMark, &BeadRow)> = sheet
        .beads
        .iter()
        .enumerate()
        .filter_map(|(colour, bead)| Some((GreyMark::of(colour)?, bead)))
        .filter(|(mark, _)| marked(*mark))
        .collect();
    let mut lines = vec![];
    let mut line = |there: bool, name, sign: Vec<Element>, words: String| {
        if there {
            let sign = (!sign.is_empty()).then(|| drawn(name, sign));
            lines.push(LegendLine { name, sign, words });
        }
    };
    line(
        beads,
        "Letter",
        vec![bead(BeadRole::Plain)],
        "the colour of the bead, as in the list of beads".into(),
    );
    for (mark, of) in marks {
        let small = BeadOnPaper {
            mark: Some(mark),
            ..brick(of.colour, None, BeadRole::Plain)
        };
        line(
            true,
            "Mark",
            vec![Element::Bead(small)],
            format!(
                "{}, {}, in a bead too small for its letter",
                of.letter, of.name
            ),
        );
    }
    line(
        true,
        "Number on white",
        vec![number()],
        match sheet.joins.is_empty() {
            true => "in a panel the round, counted from the middle".into(),
            false => {
                "in a panel the round, counted from the middle; in a join the order of the needle"
                    .into()
            }
        },
    );
    line(
        part(BeadRole::First),
        "Strong outline",
        vec![bead(BeadRole::First)],
        "in a panel the first bead of its round: a step-up or step-down goes through two of these; \
         elsewhere a new bead"
            .into(),
    );
    line(
        sign(|s| matches!(s, Sign::Start(_))),
        "Black triangle",
        vec![Element::Sign(
            DVec2::ZERO,
            Sign::Start(match hand {
                Hand::Right => 0.0,
                Hand::Left => 180.0,
            }),
        )],
        "the first bead of all, and the way the needle goes through it".into(),
    );
    line(
        sign(|s| *s == Sign::Increase),
        "White dot",
        vec![Element::Sign(DVec2::ZERO, Sign::Increase)],
        "increase: the two beads beside it are picked up together, into one gap".into(),
    );
    line(
        sign(|s| *s == Sign::Decrease),
        "Black dot",
        vec![Element::Sign(DVec2::ZERO, Sign::Decrease)],
        "decrease: pick up no bead, draw the two neighbours together".into(),
    );
    line(
        part(BeadRole::Passed),
        "Broken outline",
        vec![bead(BeadRole::Passed)],
        "passed through, adding no bead".into(),
    );
    line(
        pen(Pen::Row),
        "Thick line",
        vec![Element::Line(
            vec![DVec2::new(-3.0, 0.0), DVec2::new(3.0, 0.0)],
            Pen::Row,
        )],
        "this side carries the join row".into(),
    );
    line(
        pen(Pen::Needle),
        "Arrow",
        vec![Element::Line(
            match hand {
                Hand::Right => vec![DVec2::new(-3.0, 0.0), DVec2::new(3.0, 0.0)],
                Hand::Left => vec![DVec2::new(3.0, 0.0), DVec2::new(-3.0, 0.0)],
            },
            Pen::Needle,
        )],
        "the way the needle goes; through beads, the thread".into(),
    );
    let other = sheet.beads.get(1).map_or(letter, |bead| bead.letter);
    line(
        other != letter,
        "Beads in order",
        vec![],
        format!(
            "3 × ({letter}2 {other}4): pick up 2 {letter}, then 4 {other}, and all that three times in the \
             round. An increase takes two of them, a plain stitch one, a decrease none"
        ),
    );
    line(
        true,
        "Seen from",
        vec![],
        match sheet.is_of_strips() {
            true => format!("the front, row 1 below; the string begins on the {begins}"),
            false => format!("outside; the needle goes {way} round the work"),
        },
    );
    lines
}

fn brick(fill: Rgb, letter: Option<char>, part: BeadRole) -> BeadOnPaper {
    BeadOnPaper {
        letter,
        part,
        ..BeadOnPaper::level(DVec2::ZERO, DVec2::new(4.0, 4.4), fill)
    }
}

fn number() -> Element {
    let mut drawing = Drawing::new("", "");
    drawing.words(DVec2::ZERO, "5", 2.8, TextSetting::Tag);
    drawing.shapes.remove(0)
}

/// A sign in the middle of a field of the same size as the others.
fn drawn(name: &str, shapes: Vec<Element>) -> Drawing {
    let mut drawing = Drawing::new(name, "");
    drawing.shapes = shapes;
    drawing.centred(DVec2::new(8.0, 5.4))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Solid;
    use crate::beadwork::{
        Colour, Project, Sequence, colour::ColourWord, project::Closing, testing,
    };
    use crate::plan::{Plan, Wishes};
    use crate::sheet::SheetOptions;

    fn names(project: Project) -> Vec<&'static str> {
        let seq = Sequence::new(project);
        let plan = Plan::of(&seq, Wishes::default());
        let sheet = Sheet::of(&seq, &plan, "Star", "", SheetOptions::default());
        sheet.legend.iter().map(|line| line.name).collect()
    }

    #[test]
    fn a_sign_that_does_not_occur_is_not_explained() {
        let outward = names(testing::single(testing::panel(3, 5)));
        assert!(outward.contains(&"White dot") && outward.contains(&"Black triangle"));
        for other in ["Black dot", "Broken outline", "Thick line", "Mark"] {
            assert!(!outward.contains(&other), "{other}");
        }
        let inward = names(testing::single(testing::inward(3, 6, 2)));
        assert!(inward.contains(&"Black dot") && !inward.contains(&"White dot"));
        let solid = names(testing::solid(Solid::Tetrahedron, 5, Closing::SetIn));
        assert!(solid.contains(&"Thick line") && solid.contains(&"Broken outline"));
    }

    /// In grey, two colours may look alike, so each bead has a letter or a
    /// mark, except beads of the first colour.
    #[test]
    fn beads_too_small_for_letters_have_marks_that_are_explained() {
        let mut project = testing::single(testing::panel(3, 40));
        let mut other = project.beads[0].clone();
        other.letter = 'A';
        project.beads.push(other);
        for rule in &mut project.panels[0].colours.rules {
            rule.sides = vec![ColourWord {
                head: vec![],
                middle: vec![Colour(0), Colour(1)],
                tail: vec![],
                mirror: false,
            }];
        }
        let seq = Sequence::new(project.clone());
        let plan = Plan::of(&seq, Wishes::default());
        let sheet = Sheet::of(&seq, &plan, "Star", "", SheetOptions::default());
        let mut marked = 0;
        for shape in &sheet.panels[0].drawing.shapes {
            if let Element::Bead(brick) = shape {
                assert_eq!(brick.letter, None);
                marked += usize::from(brick.mark == GreyMark::of(1));
            }
        }
        assert_eq!(marked as u32, plan.beads[1].count);
        assert!(names(project).contains(&"Mark"));
    }
}
