//! Changes of colour: replaced beads, added beads, paint. They apply to beads
//! still to come; sewn beads keep their colours, unless the maker says that
//! other beads were really strung.

use crate::beadwork::bead::preset;
use crate::beadwork::paint::{PaintedPart, RoundColours};
use crate::beadwork::{
    Bead, BeadKind, Colour, ColourWord, Colours, Goal, Layout, Panel, PanelLayout, Part, Refusal,
    Rgb, Round, Seat, Sequence, Side, SpecIndex, Step, Work,
};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// A change of the colours of what is still to come.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ColourChange {
    /// Add a kind of bead to the piece.
    NewBead(NewBead),
    /// Replace a kind of bead by another.
    Swap(BeadSwap),
    /// Paint a part of a panel, and of all panels of its kind that have the
    /// same colours there.
    Paint {
        /// The first bead of the piece to which it applies.
        from: Bead,
        /// The panel.
        panel: Panel,
        /// The colours of the part.
        #[serde(rename = "coat")]
        round_colours: RoundColours,
    },
    /// Set the next beads of a panel one by one, and all after them like the
    /// last, until they are as planned again. Its join rows and tip beads stay.
    Take {
        /// The first bead of the piece to which it applies.
        from: Bead,
        /// The panel.
        panel: Panel,
        /// The colours, at least one.
        beads: Vec<Colour>,
    },
    /// Beads that were chosen one by one end: the next are as planned, but for
    /// rounds beyond those of the pattern.
    AsPlanned {
        /// The first bead of the piece to which it applies.
        from: Bead,
    },
    /// These beads were really strung, one after another: a mistake that stays.
    /// Those around them keep their colours.
    Strung {
        /// The first of them, which is sewn, as the others are.
        from: Bead,
        /// The colours, at least one.
        beads: Vec<Colour>,
    },
}

/// A kind of bead that is not in the pattern.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NewBead {
    /// Its letter: a capital from A to Z that no other bead has. Small letters
    /// are used for joins.
    pub letter: char,
    /// Its colour in words.
    pub name: String,
    /// The name of its size; `None` for the size of the pattern's first bead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Its colour as shown.
    pub colour: Rgb,
}

/// A kind of bead that replaces another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BeadSwap {
    /// The first bead of the piece to which it applies.
    pub from: Bead,
    /// The bead that is no longer used, as an index from 0 into the beads of
    /// the piece.
    pub old: Colour,
    /// The new bead, in the same way.
    pub new: Colour,
    /// Where it is replaced.
    pub scope: SwapScope,
}

/// Where one kind of bead replaces another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SwapScope {
    /// In a round of a panel.
    Round(Panel, Round),
    /// In the join row on a side of a panel, without tip beads.
    Row(Panel, Side),
    /// In a panel and its join rows.
    Panel(Panel),
    /// In the whole piece.
    All,
}

impl SwapScope {
    /// The panel that it changes, if it is only one.
    fn panel(self) -> Option<Panel> {
        match self {
            SwapScope::Round(panel, _) | SwapScope::Row(panel, _) | SwapScope::Panel(panel) => {
                Some(panel)
            }
            SwapScope::All => None,
        }
    }

    /// Whether a panel of this kind has such a part.
    fn is_part_of(self, kind: &PanelLayout) -> bool {
        match self {
            SwapScope::Round(_, round) => (1..=kind.rounds()).contains(&round.0),
            SwapScope::Row(_, side) => side.0 < kind.sides(),
            SwapScope::Panel(_) | SwapScope::All => true,
        }
    }

    /// Whether it includes the bead in a seat.
    pub fn takes_in(self, seat: Seat) -> bool {
        match self {
            SwapScope::Round(panel, round) => {
                (seat.panel, seat.part, seat.round) == (panel, Part::Face, round)
            }
            SwapScope::Row(panel, side) => {
                let is_row = matches!(seat.part, Part::JoinRow(_));
                is_row && (seat.panel, seat.side) == (panel, side)
            }
            SwapScope::Panel(panel) => seat.panel == panel,
            SwapScope::All => true,
        }
    }
}

impl ColourChange {
    /// The change in words, for a piece before the change.
    pub fn say(&self, seq: &Sequence) -> String {
        let layout = seq.layout();
        let name = |panel: &Panel| match layout.panels().get(panel.index()) {
            Some(made) => made.name.clone(),
            None => format!("panel {panel}"),
        };
        let letter = |colour: &Colour| {
            let kind = layout.bead_kinds().get(usize::from(colour.0));
            kind.map_or('?', |kind| kind.letter)
        };
        match self {
            ColourChange::NewBead(bead) => format!("A bead more: {} ({})", bead.letter, bead.name),
            ColourChange::Swap(swap) => {
                let far = match &swap.scope {
                    SwapScope::Round(panel, round) => {
                        format!("in round {round} of {}", name(panel))
                    }
                    SwapScope::Row(panel, side) => {
                        format!("in the join row on side {side} of {}", name(panel))
                    }
                    SwapScope::Panel(panel) => {
                        format!("in the rest of {} and its join rows", name(panel))
                    }
                    SwapScope::All => "in everything still to come".into(),
                };
                let (old, new) = (letter(&swap.old), letter(&swap.new));
                format!("{new} instead of {old} {far}, from bead {} on", swap.from)
            }
            ColourChange::Paint {
                from,
                panel,
                round_colours,
            } => {
                let part = match round_colours.part() {
                    PaintedPart::Round(round) => format!("round {round}"),
                    PaintedPart::Row => "the join rows".into(),
                    PaintedPart::Tip => "the tip beads".into(),
                };
                format!("Paint on {part} of {}, from bead {from} on", name(panel))
            }
            ColourChange::Take { from, panel, beads } => {
                let letters: Vec<String> = beads.iter().map(|b| letter(b).to_string()).collect();
                let (letters, name) = (letters.join(" "), name(panel));
                format!("{letters} from bead {from} on, in {name}")
            }
            ColourChange::AsPlanned { from } => {
                format!("The colours of the plan again, from bead {from} on")
            }
            ColourChange::Strung { from, beads } => {
                let letters: Vec<String> = beads.iter().map(|b| letter(b).to_string()).collect();
                let (at, letters) = (seq.step_of(*from), letters.join(" "));
                format!("Step {at} strung {letters}, as stitched")
            }
        }
    }

    /// Whether it says that another bead than planned was strung here.
    pub fn has_strung(&self, bead: Bead) -> bool {
        match self {
            ColourChange::Strung { from, beads } => {
                let nth = bead.0.checked_sub(from.0);
                nth.is_some_and(|nth| (nth as usize) < beads.len())
            }
            _ => false,
        }
    }

    fn first(&self) -> Option<Bead> {
        match self {
            ColourChange::NewBead(_) | ColourChange::Strung { .. } => None,
            ColourChange::Swap(swap) => Some(swap.from),
            ColourChange::Paint { from, .. }
            | ColourChange::Take { from, .. }
            | ColourChange::AsPlanned { from } => Some(*from),
        }
    }
}

impl Sequence {
    /// The possible scopes of a swap of beads after a step, the smallest first.
    pub fn swap_scopes(&self, done: Step) -> Vec<SwapScope> {
        let next = self.strung_after(done) + 1;
        if next > self.layout().beads() {
            return vec![];
        }
        let seat = self.layout().seat(Bead(next));
        let near = match seat.part {
            Part::Face => Some(SwapScope::Round(seat.panel, seat.round)),
            Part::JoinRow(_) => Some(SwapScope::Row(seat.panel, seat.side)),
            Part::Tip(_) => None,
        };
        let far = [SwapScope::Panel(seat.panel), SwapScope::All];
        near.into_iter().chain(far).collect()
    }
}

impl Work {
    /// Changes the colours of beads after the last sewn one.
    pub(in crate::beadwork) fn recolour(
        &mut self,
        change: &ColourChange,
        sewn: Bead,
    ) -> Result<(), Refusal> {
        let mut goal = Goal::clone(self.goal());
        goal.recolour(change, &self.layout, sewn)?;
        self.set_goal(Arc::new(goal));
        Ok(())
    }
}

impl Goal {
    /// Paints a kind of panel completely, as if the pattern had these colours.
    /// The colours must fit.
    pub(in crate::beadwork) fn paint_all(&mut self, spec: SpecIndex, round_colours: &RoundColours) {
        let is_affected = |_, of: SpecIndex, _: &Colours| of == spec;
        self.change_colours(Bead(1), is_affected, |colours| {
            colours.set(round_colours.clone())
        });
    }

    fn recolour(
        &mut self,
        change: &ColourChange,
        layout: &Layout,
        sewn: Bead,
    ) -> Result<(), Refusal> {
        let from = change.first().unwrap_or(Bead(1)).max(Bead(sewn.0 + 1));
        let beads = self.beads.len();
        match change {
            ColourChange::NewBead(bead) => {
                let bead = self.new_bead(bead)?;
                Arc::make_mut(&mut self.beads).push(bead);
            }
            ColourChange::Swap(swap) => {
                let is_there = |colour: Colour| usize::from(colour.0) < beads;
                Refusal::NoSuchBead.when(!is_there(swap.old) || !is_there(swap.new))?;
                let only = swap.scope.panel();
                let mut sides = 0;
                if let Some(panel) = only {
                    Refusal::OtherShape.when(panel.index() >= self.panels.len())?;
                    let kind = layout.kind(panel);
                    sides = kind.sides();
                    Refusal::OtherShape.unless(swap.scope.is_part_of(kind))?;
                }
                let is_affected = |panel, _, _: &Colours| only.is_none() || panel == only;
                self.change_colours(from, is_affected, |colours| colours.swap(swap, sides));
            }
            ColourChange::Paint {
                panel,
                round_colours,
                ..
            } => {
                let painted = self.panels.get(panel.index()).ok_or(Refusal::NoSuchKind)?;
                let spec = painted.spec;
                if !round_colours.fits(&layout.planned_kind(*panel), beads) {
                    return Err(Refusal::OtherShape);
                }
                let was = painted
                    .colours
                    .to_come()
                    .round_colours(round_colours.part());
                let is_affected = |_, of: SpecIndex, colours: &Colours| {
                    of == spec && colours.round_colours(round_colours.part()) == was
                };
                self.change_colours(from, is_affected, |colours| {
                    colours.set(round_colours.clone())
                });
            }
            ColourChange::Take { panel, beads, .. } => {
                let known = self.beads.len();
                if beads.is_empty() || beads.iter().any(|c| usize::from(c.0) >= known) {
                    return Err(Refusal::NoSuchBead);
                }
                let panel = self.panels.get_mut(panel.index());
                let colours = &mut panel.ok_or(Refusal::OtherShape)?.colours;
                for (bead, &colour) in (from.0..).map(Bead).zip(beads) {
                    let was = colours.to_come();
                    let (row, tip) = (was.row.clone(), was.tip);
                    let plain = Colours::plain(colour, 1);
                    let rules = Colours { row, tip, ..plain };
                    if rules != **was {
                        if colours.planned().is_none() {
                            colours.plan(colours.to_come().clone());
                        }
                        colours.change(bead, Arc::new(rules));
                    }
                }
            }
            ColourChange::Strung { from, beads } => {
                let known = self.beads.len();
                let is_known = |colour: &Colour| usize::from(colour.0) < known;
                let last = u64::from(from.0) + (beads.len() as u64).saturating_sub(1);
                let are_sewn = from.0 > 0 && last <= u64::from(sewn.0);
                Refusal::NoSuchBead.unless(are_sewn && beads.iter().all(is_known))?;
                for (bead, &colour) in (from.0..).map(Bead).zip(beads) {
                    let panel = layout.panel_of(bead);
                    self.panels[panel.index()].colours.put(bead, colour);
                }
            }
            ColourChange::AsPlanned { .. } => {
                for (nth, panel) in self.panels.iter_mut().enumerate() {
                    if !layout.is_past_pattern(Panel(nth as u16), from) {
                        panel.colours.as_planned(from);
                    }
                }
            }
        }
        Ok(())
    }

    /// Changes the colours of some panels from a bead on, and of some kinds of
    /// panel for those that come to the goal later.
    fn change_colours(
        &mut self,
        from: Bead,
        is_affected: impl Fn(Option<Panel>, SpecIndex, &Colours) -> bool,
        change: impl Fn(&mut Colours),
    ) {
        // Panels with the same colours continue to share their rules.
        let mut known: Vec<(Arc<Colours>, Arc<Colours>)> = vec![];
        let mut changed = |old: &Arc<Colours>| {
            if let Some((_, new)) = known.iter().find(|(known, _)| Arc::ptr_eq(known, old)) {
                return new.clone();
            }
            let mut new = Colours::clone(old);
            change(&mut new);
            let new = if new == **old {
                old.clone()
            } else {
                Arc::new(new)
            };
            known.push((old.clone(), new.clone()));
            new
        };
        for (spec, colours) in self.colours.iter_mut().enumerate() {
            if is_affected(None, spec, colours) {
                *colours = changed(colours);
            }
        }
        for (nth, panel) in self.panels.iter_mut().enumerate() {
            let to_come = panel.colours.to_come();
            if is_affected(Some(Panel(nth as u16)), panel.spec, to_come) {
                let rules = changed(to_come);
                panel.colours.change(from, rules);
            }
            if let Some(planned) = panel.colours.planned()
                && is_affected(Some(Panel(nth as u16)), panel.spec, planned)
            {
                let rules = changed(planned);
                panel.colours.plan(rules);
            }
        }
    }

    fn new_bead(&self, bead: &NewBead) -> Result<BeadKind, Refusal> {
        // Text read from a journal is shown on a terminal.
        let is_plain = |c: char| c.is_alphanumeric() || " -'.,/()".contains(c);
        let name = bead.name.trim();
        if name.is_empty()
            || name.chars().count() > NewBead::LONGEST_NAME
            || !name.chars().all(is_plain)
        {
            return Err(Refusal::NoName);
        }
        let is_taken = self.beads.iter().any(|kind| kind.letter == bead.letter);
        Refusal::LetterTaken(bead.letter).when(is_taken || !bead.letter.is_ascii_uppercase())?;
        let size = match &bead.size {
            Some(name) => preset(name).ok_or(Refusal::NoSuchSize)?,
            None => self.beads.first().ok_or(Refusal::NoSuchBead)?.size,
        };
        Ok(BeadKind {
            letter: bead.letter,
            name: name.into(),
            size,
            colour: bead.colour,
        })
    }
}

impl NewBead {
    /// Letters that a name may have.
    pub const LONGEST_NAME: usize = 40;
}

impl Colours {
    /// Replaces a bead by another within its scope, in a panel of `sides`
    /// sides.
    fn swap(&mut self, swap: &BeadSwap, sides: u8) {
        let instead = |colour: &mut Colour| {
            if *colour == swap.old {
                *colour = swap.new;
            }
        };
        let in_words = |words: &mut [ColourWord]| {
            let parts = words
                .iter_mut()
                .flat_map(|w| [&mut w.head, &mut w.middle, &mut w.tail]);
            parts.flatten().for_each(instead);
        };
        match swap.scope {
            SwapScope::Round(_, round) => {
                let mut words = self.rule(round).sides.clone();
                in_words(&mut words);
                self.set(RoundColours::Round(round, words));
            }
            SwapScope::Row(_, side) => {
                let word = |side| self.row.word(Side(side)).clone();
                let mut words: Vec<ColourWord> = (0..sides).map(word).collect();
                in_words(&mut words[side.index()..=side.index()]);
                self.row.sides = words;
            }
            SwapScope::Panel(_) | SwapScope::All => {
                self.rules
                    .iter_mut()
                    .for_each(|rule| in_words(&mut rule.sides));
                in_words(&mut self.row.sides);
                instead(&mut self.tip);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::amend::Amendment;
    use crate::beadwork::colour::Rule;
    use crate::beadwork::planner::PlanRule;
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::record::Record;
    use crate::beadwork::testing;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    const AMBER: Colour = Colour(1);

    /// The edge and the rows in amber, all else in slate.
    fn in_two_colours(mut project: Project) -> Project {
        let mut amber = project.beads[0].clone();
        (amber.letter, amber.name) = ('A', "amber".into());
        project.beads.push(amber);
        for panel in &mut project.panels {
            let rounds = panel.rounds as usize;
            panel.colours.rules.push(Rule::plain(AMBER));
            panel.colours.of_round[rounds - 2..].fill(1);
            panel.colours.row = Rule::plain(AMBER);
            panel.colours.tip = AMBER;
        }
        project
    }

    fn shapes() -> Vec<Project> {
        let shapes = [
            testing::single(testing::panel(3, 7)),
            testing::single(testing::inward(4, 7, 2)),
            testing::single(testing::strip(5, 9)),
            testing::folded_pair(4, 1),
            testing::solid(Solid::Tetrahedron, 4, Closing::Fill),
        ];
        shapes.map(in_two_colours).to_vec()
    }

    fn plum() -> NewBead {
        NewBead {
            letter: 'P',
            name: "plum".into(),
            size: Some("round 11/0".into()),
            colour: Rgb(74, 33, 69),
        }
    }

    fn swap(from: u32, old: u8, new: u8, scope: SwapScope) -> ColourChange {
        ColourChange::Swap(BeadSwap {
            from: Bead(from),
            old: Colour(old),
            new: Colour(new),
            scope,
        })
    }

    fn colours(seq: &Sequence) -> Vec<Colour> {
        let beads = (1..=seq.layout().beads()).map(Bead);
        beads.map(|bead| seq.layout().colour(bead)).collect()
    }

    #[test]
    fn a_bead_that_runs_out_in_a_round_is_replaced_from_the_needle_to_its_end() {
        let seq = Sequence::new(in_two_colours(testing::single(testing::panel(3, 5))));
        // Round 5 is beads 31 to 45; 37 are strung.
        let done = seq.step_of(Bead(37));
        let scopes = seq.swap_scopes(done);
        let (panel, round) = (Panel(0), Round(5));
        let all = [
            SwapScope::Round(panel, round),
            SwapScope::Panel(panel),
            SwapScope::All,
        ];
        assert_eq!(scopes, all);
        let seq = seq.recoloured(done, &swap(38, 1, 0, scopes[0])).unwrap();
        let amber = |bead: u32| seq.layout().colour(Bead(bead)) == AMBER;
        let still: Vec<u32> = (1..=45).filter(|bead| amber(*bead)).collect();
        assert_eq!(still, (19..=37).collect::<Vec<_>>());
    }

    /// A wrong bead is often seen some rounds later, and stays.
    #[test]
    fn a_sewn_bead_of_another_colour_changes_no_bead_around_it() {
        for project in shapes() {
            let plain = Sequence::new(project.clone());
            let done = Step(plain.steps() * 2 / 3);
            let sewn = plain.strung_after(done);
            let other = |bead: u32| Colour(1 - plain.layout().colour(Bead(bead)).0);
            for (from, n) in [(1, 1), (2, 2), (sewn / 2, 1), (sewn - 1, 2)] {
                let beads = (from..from + n).map(other).collect();
                let from_bead = Bead(from);
                let strung = ColourChange::Strung {
                    from: from_bead,
                    beads,
                };
                let seq = plain.recoloured(done, &strung).unwrap();
                let differ = |bead: &u32| {
                    seq.layout().colour(Bead(*bead)) != plain.layout().colour(Bead(*bead))
                };
                let different: Vec<u32> = (1..=seq.layout().beads()).filter(differ).collect();
                assert_eq!(different, (from..from + n).collect::<Vec<_>>());
                assert!(seq.iter().eq(plain.iter()));
                let mut record = Record::default();
                record.play(&plain.work().facts(0, done.0), done.0);
                record.amend(Amendment::Colours(strung));
                comes_back(&record, &seq, &project);
            }
        }
    }

    #[test]
    fn a_bead_that_is_to_come_was_not_strung_in_another_colour() {
        let plain = Sequence::new(in_two_colours(testing::single(testing::panel(3, 4))));
        let done = plain.step_of(Bead(5));
        for (from, beads) in [(6, 1), (5, 2), (0, 1), (u32::MAX, 2), (1, 0)] {
            let strung = ColourChange::Strung {
                from: Bead(from),
                beads: vec![AMBER; beads],
            };
            let refused = plain.recoloured(done, &strung).err();
            let wanted = (beads > 0).then_some(Refusal::NoSuchBead);
            assert_eq!(refused, wanted, "{from} {beads}");
        }
    }

    #[test]
    fn beads_that_are_named_are_taken_and_then_the_last_of_them() {
        let plain = Sequence::new(in_two_colours(testing::single(testing::panel(3, 4))));
        let take = |from, beads: &[u8]| ColourChange::Take {
            from: Bead(from),
            panel: Panel(0),
            beads: beads.iter().copied().map(Colour).collect(),
        };
        // Each gap of round 2 takes a pair: beads 4 and 5 are sewn.
        let done = plain.step_of(Bead(4));
        let seq = plain.recoloured(done, &take(6, &[0, 1, 0, 1])).unwrap();
        assert_eq!([spelt(&seq, 2), spelt(&seq, 3)], ["SSSASA", "AAAAAAAAA"]);
        // A change to the same colours is no change.
        let same = seq.recoloured(plain.step_of(Bead(12)), &take(13, &[1]));
        assert_eq!(same.unwrap().goal(), seq.goal());
        for none in [take(5, &[]), take(5, &[2])] {
            assert_eq!(
                plain.recoloured(done, &none).err(),
                Some(Refusal::NoSuchBead)
            );
        }
    }

    /// A change of the plan while beads are chosen holds in the plan, too; and a
    /// panel with rounds that the pattern does not have keeps the last bead there.
    #[test]
    fn after_beads_that_were_chosen_the_rest_is_as_planned() {
        let plain = Sequence::new(in_two_colours(testing::single(testing::panel(3, 5))));
        let take = ColourChange::Take {
            from: Bead(4),
            panel: Panel(0),
            beads: vec![AMBER],
        };
        let chosen = plain.recoloured(Step(0), &take).unwrap();
        let back = |seq: &Sequence, sewn| {
            let (done, from) = (plain.step_of(Bead(sewn)), Bead(sewn + 1));
            let back = ColourChange::AsPlanned { from };
            seq.recoloured(done, &back).unwrap()
        };
        let rounds = |seq: &Sequence| [2, 3].map(|round| spelt(seq, round));
        let planned = back(&chosen, 5);
        assert_eq!(rounds(&planned), ["AASSSS", "SSSSSSSSS"]);
        assert_eq!(back(&planned, 7).goal(), planned.goal());
        let swapped = chosen.recoloured(plain.step_of(Bead(4)), &swap(5, 1, 0, SwapScope::All));
        let swapped = back(&swapped.unwrap(), 9);
        assert_eq!(rounds(&swapped), ["AASSSS", "SSSSSSSSS"]);
        // Beads 46 to 63 are round 6, which the pattern does not have.
        let jobs = vec![chosen.goal().order[0]];
        let more = Amendment::Rounds { jobs, rounds: 6 };
        let longer = chosen.amended(Step(0), &more).unwrap();
        let slate = ColourChange::Take {
            from: Bead(44),
            panel: Panel(0),
            beads: vec![Colour(0)],
        };
        let longer = longer.recoloured(plain.step_of(Bead(43)), &slate).unwrap();
        for (sewn, last) in [(44, AMBER), (46, Colour(0))] {
            let done = longer.step_of(Bead(sewn));
            let from = Bead(sewn + 1);
            let back = longer.recoloured(done, &ColourChange::AsPlanned { from });
            assert_eq!(back.unwrap().layout().colour(Bead(60)), last, "{sewn}");
        }
    }

    #[test]
    fn a_swap_in_one_panel_leaves_the_other_panels_as_planned() {
        let plain = Sequence::new(in_two_colours(testing::folded_pair(4, 0)));
        let change = swap(1, 1, 0, SwapScope::Panel(Panel(2)));
        let seq = plain.recoloured(Step(0), &change).unwrap();
        for bead in (1..=seq.layout().beads()).map(Bead) {
            let seat = seq.layout().seat(bead);
            let planned = match seat.panel {
                Panel(2) => Colour(0),
                _ => plain.layout().colour(bead),
            };
            assert_eq!(seq.layout().colour(bead), planned, "{seat:?}");
        }
    }

    /// One side's join row gets another bead, the rows on other sides do not.
    #[test]
    fn a_join_row_is_changed_by_itself() {
        let plain = Sequence::new(in_two_colours(testing::folded_pair(4, 0)));
        let row = plain.layout().rows().nth(1).unwrap().1.clone();
        let change = swap(1, 1, 0, SwapScope::Row(row.panel, row.side));
        let seq = plain.recoloured(Step(0), &change).unwrap();
        let changed = (1..=seq.layout().beads()).map(Bead);
        let changed = changed.filter(|b| plain.layout().colour(*b) != seq.layout().colour(*b));
        let seats: Vec<Seat> = changed.map(|bead| seq.layout().seat(bead)).collect();
        assert_eq!(seats.len() as u32, row.beads);
        let is_there = |seat: &Seat| (seat.panel, seat.side) == (row.panel, row.side);
        assert!(seats.iter().all(is_there));
    }

    #[test]
    fn a_new_bead_has_a_letter_of_its_own() {
        let seq = Sequence::new(in_two_colours(testing::single(testing::panel(3, 4))));
        let add = |bead| seq.recoloured(Step(5), &ColourChange::NewBead(bead));
        let added = add(plum()).unwrap();
        let kinds = added.layout().bead_kinds();
        assert_eq!((kinds.len(), kinds[2].letter), (3, 'P'));
        // The bead lengths of a project determine its layout, so they do not
        // change.
        assert_eq!(added.layout().project(), seq.layout().project());
        for (letter, name, size) in [
            ('A', "ash", None),
            ('p', "plum", None),
            ('é', "plum", None),
            ('P', " ", None),
            ('P', "plum\u{1b}[2J", None),
            ('P', "plum", Some("cylinder 3/0")),
        ] {
            let bead = NewBead {
                letter,
                name: name.into(),
                size: size.map(String::from),
                ..plum()
            };
            let refused = add(bead).expect_err("refused");
            assert!(!refused.to_string().is_empty());
        }
        let like = add(NewBead {
            size: None,
            ..plum()
        })
        .unwrap();
        assert_eq!(like.layout().bead_kinds()[2].size, kinds[0].size);
    }

    /// The beads of panel 1 by round and colour, those that are amber as `A`.
    fn spelt(seq: &Sequence, round: u32) -> String {
        let layout = seq.layout();
        let beads = (1..=layout.beads()).map(Bead);
        let of_round = beads.filter(|bead| layout.seat(*bead).round == Round(round));
        let letter = |bead| {
            if layout.colour(bead) == AMBER {
                'A'
            } else {
                'S'
            }
        };
        of_round.map(letter).collect()
    }

    /// Plays a change and opens the piece again from the record.
    fn comes_back(record: &Record, seq: &Sequence, project: &Project) {
        let resumed = Sequence::resume(project.clone(), &[], record, PlanRule::default());
        assert_eq!(resumed.refused, None);
        assert_eq!(colours(&resumed.sequence), colours(seq));
        assert_eq!(resumed.sequence.goal(), seq.goal());
    }

    /// Round 5 is the last of the pattern; rounds 6 and 7 are the maker's.
    #[test]
    fn a_round_that_the_pattern_does_not_have_changes_by_itself() {
        let project = in_two_colours(testing::single(testing::panel(3, 5)));
        let plain = Sequence::new(project.clone());
        let done = plain.step_of(Bead(31));
        let mut record = Record::default();
        record.play(&plain.work().facts(0, done.0), done.0);
        let more = |rounds| Amendment::Rounds {
            jobs: vec![plain.goal().order[0]],
            rounds,
        };
        let mut seq = plain.amended(done, &more(7)).unwrap();
        assert_eq!(spelt(&seq, 7), "A".repeat(21));
        let from = seq.strung_after(done) + 1;
        let change = swap(from, 1, 0, SwapScope::Round(Panel(0), Round(7)));
        seq = seq.recoloured(done, &change).unwrap();
        // One more round is like the pattern's last, not like the changed one.
        seq = seq.amended(done, &more(8)).unwrap();
        assert_eq!(spelt(&seq, 6), "A".repeat(18));
        assert_eq!(spelt(&seq, 7), "S".repeat(21));
        assert_eq!(spelt(&seq, 8), "A".repeat(24));
        let paint = ColourChange::Paint {
            from: Bead(from),
            panel: Panel(0),
            round_colours: RoundColours::Round(Round(8), vec![ColourWord::plain(Colour(0))]),
        };
        seq = seq.recoloured(done, &paint).unwrap();
        assert_eq!(spelt(&seq, 8), "S".repeat(24));
        record.amend(more(7));
        record.amend(Amendment::Colours(change));
        record.amend(more(8));
        record.amend(Amendment::Colours(paint));
        comes_back(&record, &seq, &project);
    }

    /// A gap of round 4 holds a bead too many. Sewn beads keep their colours,
    /// and the longer round takes paint like the planned round.
    #[test]
    fn a_panel_as_stitched_changes_from_the_needle_on() {
        let project = in_two_colours(testing::single(testing::panel(3, 5)));
        let plain = Sequence::new(project.clone());
        let at = plain.step_of(Bead(22));
        let done = Step(at.0 - 1);
        let two = plain.as_stitched(done, at, 2, None).unwrap();
        let (seq, done) = (two.sequence, Step(two.step));
        let mut record = Record::default();
        record.play(&plain.work().facts(0, at.0 - 1), at.0 - 1);
        record.play(&two.made, two.step);
        assert_eq!(spelt(&seq, 4), "A".repeat(13));
        let change = swap(1, 1, 0, SwapScope::Panel(Panel(0)));
        let amber = seq.recoloured(done, &change).unwrap();
        let sewn = seq.strung_after(done) as usize;
        let (before, after) = (colours(&seq), colours(&amber));
        assert_eq!(after[..sewn], before[..sewn]);
        assert!(after[sewn..].iter().all(|colour| *colour == Colour(0)));
        let mut swapped = record.clone();
        swapped.amend(Amendment::Colours(change));
        comes_back(&swapped, &amber, &project);
        // Twelve beads were planned in round 4, four on a side.
        let word = ColourWord {
            head: [0, 1, 1, 0].map(Colour).to_vec(),
            middle: vec![],
            ..ColourWord::plain(Colour(0))
        };
        let paint = ColourChange::Paint {
            from: Bead(1),
            panel: Panel(0),
            round_colours: RoundColours::Round(Round(4), vec![word]),
        };
        let painted = seq.recoloured(done, &paint).unwrap();
        assert_eq!(colours(&painted)[..sewn], before[..sewn]);
        // The round begins after the first bead of a side; five are sewn.
        assert_eq!(spelt(&painted, 4), "AAAAASSAASSAA");
        record.amend(Amendment::Colours(paint));
        comes_back(&record, &painted, &project);
    }

    /// A random change at the needle.
    fn change(seq: &Sequence, done: Step, dice: [u32; 4]) -> ColourChange {
        let layout = seq.layout();
        let kinds = layout.bead_kinds().len() as u32;
        let from = seq.strung_after(done) + 1;
        let scopes = seq.swap_scopes(done);
        match dice[0] % 5 {
            4 => ColourChange::AsPlanned { from: Bead(from) },
            0 if kinds == 2 => ColourChange::NewBead(plum()),
            1 => {
                let panel = Panel((dice[1] % layout.panels().len() as u32) as u16);
                let kind = layout.kind(panel);
                let words = vec![ColourWord::plain(Colour((dice[2] % kinds) as u8))];
                let round_colours = match dice[3] % 4 {
                    0 => RoundColours::Row(words),
                    1 => RoundColours::Tip(Colour((dice[2] % kinds) as u8)),
                    _ => RoundColours::Round(Round(1 + dice[3] % kind.rounds()), words),
                };
                let from = Bead(from);
                ColourChange::Paint {
                    from,
                    panel,
                    round_colours,
                }
            }
            2 => ColourChange::Take {
                from: Bead(from),
                panel: Panel((dice[1] % layout.panels().len() as u32) as u16),
                beads: dice[2..]
                    .iter()
                    .map(|d| Colour((d % kinds) as u8))
                    .collect(),
            },
            _ if scopes.is_empty() => swap(from, 0, 1, SwapScope::All),
            _ => {
                let scope = scopes[dice[1] as usize % scopes.len()];
                swap(
                    from,
                    (dice[2] % kinds) as u8,
                    (dice[3] % kinds) as u8,
                    scope,
                )
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 60,
            rng_seed: RngSeed::Fixed(7),
            failure_persistence: None,
            ..ProptestConfig::default()
        })]

        /// For any change at any step: sewn beads keep their colours, no step
        /// moves, the record restores the same piece, and undo restores the
        /// piece before.
        #[test]
        fn what_is_sewn_keeps_its_colour(
            shape in 0usize..5,
            changes in proptest::collection::vec((0u32..40, any::<[u32; 4]>()), 1..9)
        ) {
            let project = shapes()[shape].clone();
            let planned = Sequence::new(project.clone());
            let resume = |record: &Record| {
                let resumed = Sequence::resume(project.clone(), &[], record, PlanRule::default());
                assert_eq!(resumed.refused, None);
                resumed.sequence
            };
            let (mut seq, mut record, mut done) = (planned.clone(), Record::default(), 0);
            let mut before = vec![];
            for (steps, dice) in changes {
                let next = (done + steps).min(seq.steps());
                if next > done {
                    record.play(&seq.work().facts(done, next), next);
                }
                done = next;
                before.push((record.clone(), seq.clone()));
                let change = change(&seq, Step(done), dice);
                let after = seq.recoloured(Step(done), &change).unwrap();
                let sewn = seq.strung_after(Step(done)) as usize;
                prop_assert_eq!(&colours(&after)[..sewn], &colours(&seq)[..sewn]);
                prop_assert!(after.iter().eq(planned.iter()));
                record.amend(Amendment::Colours(change));
                let again = resume(&record);
                prop_assert_eq!(again.goal(), after.goal());
                prop_assert_eq!(colours(&again), colours(&after));
                seq = after;
            }
            // Going back and forward again changes no colour.
            let mut there = record.clone();
            if done > 0 {
                there.back_to(done / 2);
                there.play(&seq.work().facts(done / 2, done), done);
            }
            prop_assert_eq!(colours(&resume(&there)), colours(&seq));
            for (was, seq) in before.into_iter().rev() {
                while record.steps() > was.steps() {
                    record.undo();
                }
                record.undo();
                prop_assert_eq!(&record, &was);
                let again = resume(&record);
                prop_assert_eq!(again.goal(), seq.goal());
            }
        }
    }
}
