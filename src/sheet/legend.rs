//! How to read the drawings: each sign with its meaning, and only signs that
//! occur.

use glam::DVec2;

use crate::beadwork::Rgb;

use super::drawing::{BeadOnPaper, BeadRole, Drawing, Element, Pen, Sign, TextSetting, Words};
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
    // The direction in which the needle is seen to go, and its angle.
    let (round, begins, way, angle) = match hand {
        Hand::Right => ("anticlockwise", "left", DVec2::X, 0.0),
        Hand::Left => ("clockwise", "right", DVec2::NEG_X, 180.0),
    };
    let example = sheet.beads.first();
    let (colour, letter) = example.map_or((Rgb(255, 255, 255), 'A'), |b| (b.colour, b.letter));
    let bead = |part| {
        Element::Bead(BeadOnPaper {
            letter: Some(letter),
            part,
            ..brick(colour)
        })
    };
    let sign = |sign| Element::Sign(DVec2::ZERO, sign);
    let line = |along: DVec2, pen| Element::Line(vec![along * -3.0, along * 3.0], pen);
    let number = Words {
        text: "5".to_string(),
        size: 2.8,
        set: TextSetting::Tag,
    };
    let shown = |name, sign: Element, words: &str| {
        let mut shapes = sheet.drawings().flat_map(|drawing| &drawing.shapes);
        let occurs = shapes.any(|shape| is_alike(&sign, shape));
        occurs.then(|| LegendLine {
            name,
            sign: Some(drawn(name, sign)),
            words: words.to_string(),
        })
    };
    let mut lines = vec![];
    lines.extend(shown(
        "Letter",
        bead(BeadRole::Plain),
        "the colour of the bead, as in the list of beads",
    ));
    for bead in &sheet.beads {
        let mark = bead.mark.map(|mark| BeadOnPaper {
            mark: Some(mark),
            ..brick(bead.colour)
        });
        let (letter, name) = (bead.letter, &bead.name);
        let words = format!("{letter}, {name}, in a bead too small for its letter");
        lines.extend(mark.and_then(|mark| shown("Mark", Element::Bead(mark), &words)));
    }
    for (name, sign, words) in [
        (
            "Number on white",
            Element::Label(DVec2::ZERO, number),
            match sheet.joins.is_empty() {
                _ if sheet.is_of_strips() => "the row, counted from below",
                true => "in a panel the round, counted from the middle",
                false => {
                    "in a panel the round, counted from the middle; in a join the order of the needle"
                }
            },
        ),
        (
            "Strong outline",
            bead(BeadRole::First),
            match sheet.is_of_strips() {
                true => "the first bead of its row; elsewhere a new bead",
                false => {
                    "in a panel the first bead of its round: a step-up or step-down goes through two of \
                     these; elsewhere a new bead"
                }
            },
        ),
        (
            "Black triangle",
            sign(Sign::Start(angle)),
            "the first bead of all, and the way the needle goes through it",
        ),
        (
            "White dot",
            sign(Sign::Increase),
            "increase: the two beads beside it are picked up together, into one gap",
        ),
        (
            "Black dot",
            sign(Sign::Decrease),
            "decrease: pick up no bead, draw the two neighbours together",
        ),
        (
            "Broken outline",
            bead(BeadRole::Passed),
            "passed through, adding no bead",
        ),
        (
            "Thick line",
            line(DVec2::X, Pen::Row),
            "this side carries the join row",
        ),
        (
            "Arrow",
            line(way, Pen::Needle),
            "the way the needle goes; through beads, the thread",
        ),
    ] {
        lines.extend(shown(name, sign, words));
    }
    let mut of_lists = |name, words| {
        lines.push(LegendLine {
            name,
            sign: None,
            words,
        });
    };
    if let Some(other) = sheet.beads.get(1).map(|bead| bead.letter) {
        let round = if sheet.is_of_strips() { "row" } else { "round" };
        let words = format!(
            "3 × ({letter}2 {other}4): pick up 2 {letter}, then 4 {other}, and all that three times in the \
             {round}. An increase takes two of them, a plain stitch one, a decrease none"
        );
        of_lists("Beads in order", words);
    }
    let seen = match sheet.is_of_strips() {
        true => format!("the front, row 1 below; the string begins on the {begins}"),
        false => format!("outside; the needle goes {round} round the work"),
    };
    of_lists("Seen from", seen);
    lines
}

/// Whether a shape is drawn as a sign is.
fn is_alike(sign: &Element, shape: &Element) -> bool {
    match (sign, shape) {
        (Element::Bead(sign), Element::Bead(bead)) if sign.mark.is_some() => sign.mark == bead.mark,
        (Element::Bead(sign), Element::Bead(bead)) => sign.part == bead.part,
        (Element::Line(_, sign), Element::Line(_, pen)) => sign == pen,
        (Element::Sign(_, Sign::Start(_)), Element::Sign(_, Sign::Start(_))) => true,
        (Element::Sign(_, sign), Element::Sign(_, other)) => sign == other,
        (Element::Label(..), _) => true,
        _ => false,
    }
}

fn brick(fill: Rgb) -> BeadOnPaper {
    BeadOnPaper::level(DVec2::ZERO, DVec2::new(4.0, 4.4), fill)
}

/// A sign in the middle of a field of the same size as the others.
fn drawn(name: &str, sign: Element) -> Drawing {
    let mut drawing = Drawing::new(name, "");
    drawing.shapes = vec![sign];
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
    use crate::sheet::drawing::GreyMark;

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
