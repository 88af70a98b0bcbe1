//! The maker marks which gaps of a panel without a plan are its corners.

use super::Amendment;
use super::rounds::is_joined;
use crate::beadwork::corner_mark::{CornerMark, FEWEST_CORNERS, MOST_CORNERS};
use crate::beadwork::plural;
use crate::beadwork::{
    Frame, Goal, Growth, Panel, Refusal, Sequence, Side, Step, Work, WorkDirection,
};

impl Sequence {
    /// The amendment that marks the gap of the next step as a corner, or
    /// unmarks it.
    ///
    /// # Errors
    /// The next step works no gap.
    pub fn corner_marked(&self, next: Step) -> Result<Amendment, Refusal> {
        let at = self.gap_of(next).ok_or(Refusal::NoSuchGap)?;
        let (round, gap) = (at.gap.round, at.gap.gap);
        let mark = CornerMark { round, gap };
        let mut marks = self.goal()[at.panel].corners.clone();
        let before = marks.len();
        marks.retain(|other| *other != mark);
        if marks.len() == before {
            marks.push(mark);
        }
        let panel = at.panel;
        Ok(Amendment::Corners { panel, marks })
    }
}

impl Work {
    pub(super) fn mark_corners(
        &self,
        goal: &mut Goal,
        panel: Panel,
        marks: &[CornerMark],
    ) -> Result<(), Refusal> {
        let is_there = panel.index() < goal.panels.len() && self.layout.is_begun(panel);
        Refusal::NoCorners.when(!is_there || self.layout.way(panel) == WorkDirection::Inward)?;
        let spec = &self.layout.project().panels[self.layout.kind_by_pattern(panel)];
        if is_joined(goal, panel) || !matches!(spec.growth, Growth::Words { .. }) {
            return Err(Refusal::NoCorners);
        }
        Refusal::ManyCorners.when(marks.len() > MOST_CORNERS)?;
        goal[panel].corners = marks.to_vec();
        let mut planned = self.layout.clone();
        planned.set_goal(goal);
        let kind = planned.kind(panel);
        let edge = (0..kind.sides()).map(|side| kind.edge(Side(side))).max();
        let edge_mm = 2.0 * planned.project().bead_length_mm() * f64::from(edge.unwrap_or(1));
        goal[panel].frame = Frame::flat(kind.sides(), edge_mm);
        Ok(())
    }
}

/// `work: 3 corners marked, so it has 3 sides`.
pub(super) fn say(seq: &Sequence, panel: Panel, marks: &[CornerMark]) -> String {
    let name = seq.goal().name(panel);
    let corners = plural(marks.len(), "corner");
    match FEWEST_CORNERS.checked_sub(marks.len()) {
        None | Some(0) => format!("{name}: {corners} marked, with a side between each two"),
        Some(more) => format!("{name}: {corners} marked, {more} more make sides"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::assert_proved;
    use super::*;
    use crate::beadwork::gap_word::GapWord;
    use crate::beadwork::number::Round;
    use crate::beadwork::panel::PanelLayout;
    use crate::beadwork::planner::PlanRule;
    use crate::beadwork::project::Project;
    use crate::beadwork::record::{Record, Undone};
    use crate::beadwork::testing;

    /// A panel of gap words without corners, with a ring of three beads.
    fn of_words(words: &[&[u8]]) -> Project {
        let mut project = testing::single(testing::panel(3, words.len() as u32 + 1));
        project.panels[0].growth = Growth::Words {
            ring: 3,
            words: words
                .iter()
                .map(|word| GapWord::new(word.to_vec()))
                .collect(),
        };
        project
    }

    /// Marks gaps of a round as they come to the needle.
    fn marked(project: &Project, round: u32, gaps: &[u32]) -> (Sequence, Record) {
        let mut seq = Sequence::new(project.clone());
        let mut record = Record::default();
        let mut done = 0;
        for &gap in gaps {
            let is_it = |step: &Step| {
                let at = seq.gap_of(*step).map(|at| at.gap);
                at.is_some_and(|at| (at.round, at.gap) == (Round(round), gap))
            };
            let next = (1..=seq.steps()).map(Step).find(is_it).expect("a gap");
            let mark = seq.corner_marked(next).unwrap();
            record.play(&seq.work().facts(done, next.0 - 1), next.0 - 1);
            record.amend(mark.clone());
            seq = seq.amended(Step(next.0 - 1), &mark).unwrap();
            done = next.0 - 1;
        }
        (seq, record)
    }

    const PAPER: [&[u8]; 6] = [
        &[2, 2, 2],
        &[1; 6],
        &[2; 6],
        &[1; 12],
        &[1; 12],
        &[1, 2, 1, 2, 1, 2, 1, 2, 1, 2, 1, 2],
    ];

    /// A hexagon from a ring of three (J. Riggs, "Circular Peyote Hexagon
    /// Stars", 2020) has six sides once its six corners are marked: two beads a
    /// side in round 4 and three in round 7, with pairs at each corner.
    #[test]
    fn marked_corners_make_sides_that_are_counted_and_joined() {
        let project = of_words(&PAPER);
        let (seq, mut record) = marked(&project, 4, &[0, 1, 2, 3, 4, 5]);
        assert_proved(&seq);
        let kind = seq.layout().kind(Panel(0));
        assert_eq!(kind.sides(), 6);
        for (round, each, corner) in [(4, 2, 2), (5, 2, 1), (6, 2, 0), (7, 3, 2)] {
            let round = Round(round);
            let sides = (0..6).map(|side| kind.on_side(round, Side(side)));
            assert!(sides.eq([each; 6]), "{round}");
            assert_eq!(kind.corner(round), corner, "{round}");
        }
        assert!(kind.can_be_joined());
        assert!((0..6).all(|side| kind.edge(Side(side)) == 3));
        assert_eq!(seq.goal().panels[0].frame.corners().len(), 6);
        // It continues by its law, and is restored from its record.
        assert_eq!(seq.law_ahead(Step(seq.steps())), Some(vec![1, 0, 2]));
        let resumed = |record: &Record| {
            let back = Sequence::resume(project.clone(), &[], record, PlanRule::default());
            assert_eq!(back.refused, None);
            back.sequence
        };
        assert!(resumed(&record).iter().eq(seq.iter()));
        assert!(matches!(record.undo(), Some(Undone::Amendment(_))));
        assert_eq!(resumed(&record).layout().kind(Panel(0)).sides(), 5);
    }

    /// Marked corners of a triangle are where its law has them.
    #[test]
    fn marked_corners_lie_where_a_law_has_them() {
        let lawful = Sequence::new(testing::single(testing::panel(3, 6)));
        let law = lawful.layout().kind(Panel(0)).clone();
        let words: Vec<Vec<u8>> = (2..=6)
            .map(|k| law.word(Round(k)).iter().collect())
            .collect();
        let words: Vec<&[u8]> = words.iter().map(Vec::as_slice).collect();
        for (round, gaps) in [(2, [0, 1, 2]), (3, [0, 2, 4]), (5, [0, 4, 8])] {
            let (seq, _) = marked(&of_words(&words), round, &gaps);
            let kind = seq.layout().kind(Panel(0));
            for k in (round..=6).map(Round) {
                let places = |kind: &PanelLayout| {
                    let beads = 0..kind.in_round(k);
                    beads.map(|at| kind.place(k, at)).collect::<Vec<_>>()
                };
                assert_eq!(places(kind), places(&law), "{k}");
                assert_eq!(kind.corner(k), 2);
            }
        }
    }

    #[test]
    fn corners_of_a_law_or_in_one_place_are_not_marked() {
        let lawful = Sequence::new(testing::single(testing::panel(3, 4)));
        let next = (1..)
            .map(Step)
            .find(|step| lawful.gap_of(*step).is_some())
            .unwrap();
        let mark = lawful.corner_marked(next).unwrap();
        let refused = lawful.amended(Step(next.0 - 1), &mark).err();
        assert_eq!(refused, Some(Refusal::NoCorners));
        // Marking the same gap again unmarks it.
        let (seq, _) = marked(&of_words(&PAPER), 4, &[0]);
        let next = (1..=seq.steps()).map(Step).find(|step| {
            let at = seq.gap_of(*step).map(|at| at.gap);
            at.is_some_and(|at| (at.round, at.gap) == (Round(4), 0))
        });
        let marks = vec![];
        let again = Amendment::Corners {
            panel: Panel(0),
            marks,
        };
        assert_eq!(seq.corner_marked(next.unwrap()), Ok(again));
    }
}
