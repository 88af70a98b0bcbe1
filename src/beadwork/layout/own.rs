//! Kinds of panel that the pattern does not have, for panels that are made
//! differently from it.

use super::{Layout, Part};
use crate::beadwork::colour::Rule;
use crate::beadwork::gap_word::grow_plainly;
use crate::beadwork::own_rounds::{OpenGap, Origins, Worked, first_round_made, likes, open_gaps};
use crate::beadwork::paint::RoundColours;
use crate::beadwork::project::OwnKind;
use crate::beadwork::{
    Bead, Begin, Colour, ColourWord, Colours, GapChange, Growth, Panel, PanelLayout, PanelSpec,
    Round, Side, SpecIndex, WorkDirection,
};
use std::collections::BTreeSet;
use std::sync::Arc;

impl Layout {
    /// The kind of a panel in the pattern.
    pub fn kind_by_pattern(&self, panel: Panel) -> SpecIndex {
        let spec = self.panel(panel).spec;
        let own = self.project.panels[spec].own.as_ref();
        own.map_or(spec, |own| own.of)
    }

    /// Records a gap that was stitched differently from the pattern.
    pub(in crate::beadwork) fn change_gap(&mut self, panel: Panel, change: GapChange) {
        self.change_gaps([(panel, change)]);
    }

    /// Records several such gaps.
    pub(in crate::beadwork) fn change_gaps(
        &mut self,
        changes: impl IntoIterator<Item = (Panel, GapChange)>,
    ) {
        let mut changed = BTreeSet::new();
        for (panel, change) in changes {
            let known = self.changed.entry(panel).or_default();
            if panel.index() < self.panels.len() && !known.contains(&change) {
                known.push(change);
                changed.insert(panel);
            }
        }
        changed.into_iter().for_each(|panel| self.make_own(panel));
    }

    /// Whether gaps of a panel were stitched differently from the pattern.
    pub(in crate::beadwork) fn has_changes(&self, panel: Panel) -> bool {
        self.changed.contains_key(&panel)
    }

    /// Whether any panel has a kind that the pattern does not have.
    pub(in crate::beadwork) fn has_own_kinds(&self) -> bool {
        !self.own_kinds.is_empty()
    }

    /// The gaps of a panel that differ from the pattern, planned or stitched;
    /// if a gap occurs twice, the later entry counts.
    pub(super) fn changes(&self, panel: Panel) -> Vec<GapChange> {
        let planned = self.panel(panel).eased.iter();
        let on_mat = self.changed.get(&panel).into_iter().flatten();
        planned.chain(on_mat).copied().collect()
    }

    /// Whether a panel's gaps or sides differ from the pattern.
    pub(super) fn is_own(&self, panel: Panel) -> bool {
        !(self.changes(panel).is_empty() && self.panel(panel).corners.is_empty())
    }

    /// The panel as planned, with its number of rounds.
    pub(super) fn planned_panel(&self, panel: Panel) -> (PanelSpec, PanelLayout) {
        let spec = &self.project.panels[self.kind_by_pattern(panel)];
        let rounds = self.panel(panel).rounds.unwrap_or(spec.rounds);
        let spec = of_rounds(spec, rounds);
        let layout = PanelLayout::new(&spec);
        (spec, layout)
    }

    /// A panel as planned, and the gaps that differ.
    pub fn planned_kind_and_changes(&self, panel: Panel) -> (PanelLayout, Vec<GapChange>) {
        (self.planned_panel(panel).1, self.changes(panel))
    }

    /// The layout of a panel as planned, without differing gaps.
    pub fn planned_kind(&self, panel: Panel) -> PanelLayout {
        match self.is_own(panel) {
            true => self.planned_panel(panel).1,
            false => self.kind(panel).clone(),
        }
    }

    /// Whether a panel that is worked outward has all beads of the pattern's rounds
    /// before bead `from`, and has more rounds.
    pub(in crate::beadwork) fn is_past_pattern(&self, panel: Panel, from: Bead) -> bool {
        let rounds = self.project.panels[self.kind_by_pattern(panel)].rounds;
        let kind = self.kind(panel);
        // Worked outward, the beads of the first rounds are the first of the panel.
        let is_past = || from.0 > self.before_panel(panel) + kind.before(Round(rounds + 1));
        self.begin(panel).way() == WorkDirection::Outward
            && kind.rounds() > rounds
            && (!self.is_begun(panel) || is_past())
    }

    /// The colours of the beads to come in a panel, as planned.
    pub fn planned_colours(&self, panel: Panel) -> Colours {
        let rounds = self.project.panels[self.kind_by_pattern(panel)].rounds;
        let colours = self.panel(panel).planned.colours.to_come();
        planned_colours(colours, rounds, &self.planned_kind(panel))
    }

    /// For each bead of a round, in the order of the layout, the bead of the
    /// planned round whose colour it has: its side and its place there, from 0.
    pub fn coloured_like(&self, panel: Panel, round: Round) -> Vec<(Side, u32)> {
        let place = |kind: &PanelLayout, index| {
            let place = kind.place(round, index);
            (place.side, place.place)
        };
        if !self.is_own(panel) {
            let kind = self.kind(panel);
            return (0..kind.in_round(round)).map(|i| place(kind, i)).collect();
        }
        let (_, base) = self.planned_panel(panel);
        let likes = likes(&self.origins(panel)[round.0 as usize - 1]);
        likes.into_iter().map(|like| place(&base, like)).collect()
    }

    /// The gaps of a round to be made, with the beads that each takes, gap 0
    /// first: see [`GapChange`].
    pub(in crate::beadwork) fn open_gaps(&self, panel: Panel, makes: Round) -> Vec<OpenGap> {
        let (_, base) = self.planned_panel(panel);
        open_gaps(&base, self.begin(panel), &self.changes(panel), makes)
    }

    /// For each bead of a round, in the order of the layout, the bead of the
    /// planned round that it replaces.
    pub(in crate::beadwork) fn origins(&self, panel: Panel) -> Vec<Origins> {
        let (_, base) = self.planned_panel(panel);
        Worked::over(&base, self.begin(panel), &self.changes(panel)).origins
    }

    /// How a panel was or will be begun.
    fn begin(&self, panel: Panel) -> Begin {
        match self.is_begun(panel) {
            true => self.making(panel).begin,
            false => self.kind(panel).begin(self.way(panel)),
        }
    }

    /// Which planned bead of the string, or gap between two of them, the `nth`
    /// bead of a panel belongs to, from 0, and how many beads there are.
    pub(in crate::beadwork) fn strung_as(&self, panel: Panel, nth: u32) -> GapChange {
        let (kind, making) = (self.kind(panel), self.making(panel));
        let (round, index) = making.bead(kind, nth);
        let start = |round| making.start(round);
        if making.begin == Begin::FreeStart && round != kind.last() {
            let work = self.work(panel, kind.last());
            let beads = kind.in_round(round);
            let gap = work.gap_of_new((index + beads - start(round)) % beads);
            let beads = work.in_gap_from_entry(gap) as u8;
            return GapChange { round, gap, beads };
        }
        let made = self.first_round_made(panel);
        let at = (index as usize + made.len() - start(round) as usize) % made.len();
        let first = made[..=at].iter().rposition(Option::is_some).unwrap_or(0);
        let more = made[first + 1..].iter().take_while(|o| o.is_none());
        GapChange {
            round,
            gap: made[first].unwrap_or(0),
            beads: 1 + more.count() as u8,
        }
    }

    /// The number of beads of a panel's string before the place of a change;
    /// `None` if the string has no such place.
    pub(in crate::beadwork) fn strung_before(&self, panel: Panel, gap: GapChange) -> Option<u32> {
        let (kind, making) = (self.kind(panel), self.making(panel));
        if making.begin == Begin::FreeStart && gap.round != kind.last() {
            let work = self.work(panel, kind.last());
            let old = || making.number(kind, work.on, work.old_bead(gap.gap));
            return (gap.gap < work.gaps()).then(|| old() + 1);
        }
        let (_, base) = self.planned_panel(panel);
        let made = self.first_round_made(panel);
        let at = made.iter().position(|o| *o >= Some(gap.gap));
        let all = made.len() as u32;
        let number = |at: usize| {
            let index = (making.start(gap.round) + at as u32) % all;
            making.number(kind, gap.round, index)
        };
        let strung = making.strung_rounds(kind).map(Round);
        let beads = || strung.map(|round| kind.in_round(round)).sum();
        (gap.gap < base.in_round(gap.round)).then(|| at.map_or_else(beads, number))
    }

    /// The bead that corresponds to a bead of the layout `old`, before gaps
    /// were changed; if it is gone, the next one that is left.
    pub(in crate::beadwork) fn same_or_next(&self, old: &Layout, bead: Bead) -> Bead {
        let kept = (bead.0..=old.beads).find_map(|bead| self.same(old, Bead(bead)));
        kept.unwrap_or_else(|| {
            let behind = bead.0.max(old.beads + 1) - old.beads;
            Bead(self.beads + behind)
        })
    }

    fn same(&self, old: &Layout, bead: Bead) -> Option<Bead> {
        let mut seat = old.seat(bead);
        if seat.part == Part::Face && old.changes(seat.panel) != self.changes(seat.panel) {
            let round = seat.round.0 as usize - 1;
            let (was, now) = (old.origins(seat.panel), self.origins(seat.panel));
            seat.index = same_index((&was[round], &now[round]), seat.index)?;
        }
        if let Part::JoinRow(row) = seat.part {
            seat.place = self.row(row).same_bead(old.row(row), seat.place)?;
        }
        Some(self.bead_in(seat))
    }

    fn first_round_made(&self, panel: Panel) -> Origins {
        let (_, base) = self.planned_panel(panel);
        first_round_made(&base, self.begin(panel), &self.changes(panel))
    }

    /// Whether there is one bead of the round before under each gap between the
    /// up beads of a side.
    pub(in crate::beadwork) fn is_edge_even(&self, panel: Panel, side: Side) -> bool {
        let kind = self.kind(panel);
        let spec = &self.project.panels[self.panel(panel).spec];
        if !matches!(spec.growth, Growth::Own(_)) {
            return true;
        }
        let word = kind.word(kind.last());
        let gap = |j| word.gap_of(kind.edge_index(side, j));
        let next = |gap| (gap + 1) % word.gaps();
        (1..kind.edge(side)).all(|j| gap(j) == next(gap(j - 1)))
    }

    /// Gives a panel its own kind, if it needs one.
    pub(super) fn make_own(&mut self, panel: Panel) {
        let changes = self.changes(panel);
        self.panels[panel.index()].rim_gaps = self.find_rim_gaps(panel);
        let made = self.panel(panel);
        if made.rounds.is_none() && !self.is_own(panel) {
            return;
        }
        let of = self.kind_by_pattern(panel);
        let (mut spec, mut layout) = self.planned_panel(panel);
        let pattern = &self.project.panels[of];
        let rounds = pattern.rounds;
        let mut colours = made
            .planned
            .colours
            .map(|c| planned_colours(c, rounds, &layout));
        if self.is_own(panel) {
            let worked = Worked::over(&layout, self.begin(panel), &changes);
            let rounds = worked.rounds.clone().with_marks(&made.corners);
            if rounds.is_some() {
                spec.sides = made.corners.len() as u8;
            }
            let rounds = rounds.unwrap_or(worked.rounds);
            spec.growth = match layout.strip() {
                Some(_) => Growth::Rows {
                    beads: rounds.ring,
                    words: rounds.words,
                },
                None => Growth::Own(Arc::new(rounds)),
            };
            let own = PanelLayout::new(&spec);
            colours = colours.map(|c| worked_colours(c, (&layout, &own), &worked.origins));
            layout = own;
        }
        spec.name = match !self.is_own(panel) {
            true if layout.strip().is_some() => format!("{}, {} rows", pattern.name, spec.rounds),
            true => format!("{}, {} rounds", pattern.name, spec.rounds),
            false if made.name == pattern.name => format!("{}, as stitched", pattern.name),
            false => format!("{}, {}", pattern.name, made.name),
        };
        let panels = vec![panel];
        spec.own = Some(OwnKind { panels, of });
        self.panels[panel.index()].spec = self.keep_own(panel, spec, layout);
        self.panels[panel.index()].colours = colours;
        self.begin_again(panel);
    }

    /// Stores a panel's own kind: shared with an equal one, or in place of one
    /// that is no longer used, or as a new one.
    fn keep_own(&mut self, panel: Panel, spec: PanelSpec, layout: PanelLayout) -> SpecIndex {
        let first = self.kinds.len();
        let specs = &mut Arc::make_mut(&mut self.project).panels;
        let mut own = specs[first..].iter_mut().map(|spec| &mut spec.own);
        own.by_ref()
            .flatten()
            .for_each(|own| own.panels.retain(|other| *other != panel));
        let is_same = |other: &PanelSpec| {
            let of = |spec: &PanelSpec| spec.own.as_ref().map(|own| own.of);
            !matches!(spec.growth, Growth::Own(_))
                && of(other) == of(&spec)
                && (&other.growth, other.rounds) == (&spec.growth, spec.rounds)
        };
        if let Some(at) = specs[first..].iter().position(is_same) {
            let own = specs[first + at].own.as_mut();
            own.into_iter().for_each(|own| own.panels.push(panel));
            return first + at;
        }
        let is_free = |spec: &PanelSpec| spec.own.as_ref().is_some_and(|own| own.panels.is_empty());
        let free = specs[first..].iter().position(is_free);
        let at = free.unwrap_or(self.own_kinds.len());
        match free {
            Some(at) => {
                specs[first + at] = spec;
                self.own_kinds[at] = layout;
            }
            None => {
                specs.push(spec);
                self.own_kinds.push(layout);
            }
        }
        self.forget_making(first + at);
        first + at
    }

    /// Removes all own kinds, before they are made again.
    pub(super) fn forget_own(&mut self) {
        let first = self.kinds.len();
        if !self.own_kinds.is_empty() {
            Arc::make_mut(&mut self.project).forget_own();
            (0..self.own_kinds.len()).for_each(|at| self.forget_making(first + at));
            self.own_kinds.clear();
        }
    }

    /// Removes the orders of stringing of a kind.
    fn forget_making(&mut self, kind: SpecIndex) {
        for (spec, _) in &mut self.makings {
            if *spec == kind {
                *spec = SpecIndex::MAX;
            }
        }
    }
}

/// The index of a bead of a round after a change of its gaps; beads that
/// replace no planned bead keep their order.
pub(in crate::beadwork) fn same_index((was, now): (&Origins, &Origins), at: u32) -> Option<u32> {
    let origin = was[at as usize];
    let before = was[..at as usize].iter();
    let nth = before.filter(|other| **other == origin).count();
    let mut same = (0..).zip(now).filter(|(_, other)| **other == origin);
    same.nth(nth).map(|(index, _)| index)
}

/// A kind with another number of rounds. Rounds beyond the pattern follow its
/// law, or, for gap words, have one bead in each gap.
fn of_rounds(spec: &PanelSpec, rounds: u32) -> PanelSpec {
    let mut other = spec.clone();
    other.rounds = rounds;
    if let Growth::Own(own) = &spec.growth {
        // It is known only for the last round where its sides end.
        let (ring, words) = (own.ring, own.words.clone());
        if rounds != spec.rounds {
            other.growth = Growth::Words { ring, words };
        }
    }
    match &mut other.growth {
        Growth::Words { ring, words } => grow_plainly(*ring, words, rounds - 1),
        Growth::Rows { beads, words } if !words.is_empty() => {
            grow_plainly(*beads, words, rounds.saturating_sub(2))
        }
        _ => {}
    }
    other
}

/// The colours of a panel with the rounds of `kind`. Rounds beyond the
/// pattern's `rounds` have the colours of its last.
fn planned_colours(colours: &Colours, rounds: u32, kind: &PanelLayout) -> Colours {
    let mut colours = colours.clone();
    for round in (rounds + 1..=kind.rounds()).map(Round) {
        let rule = colours.rule(round);
        let fits = |side| rule.word(side).fits(kind.on_side(round, side));
        if !(0..kind.sides()).map(Side).all(fits) {
            let plain = ColourWord::plain(rule.word(Side(0)).first());
            colours.set(RoundColours::Round(round, vec![plain]));
        }
    }
    let fits = |side| {
        let beads = kind.edge(side).saturating_sub(1);
        colours.row.word(side).fits(beads)
    };
    if !(0..kind.sides()).map(Side).all(fits) {
        colours.row = Rule::plain(colours.row.word(Side(0)).first());
    }
    colours
}

/// The colours of a panel that was planned like `base`, with changed gaps: a
/// bead that replaces a planned one has its colour, an extra bead that of the
/// bead before it.
fn worked_colours(
    plain: &Colours,
    (base, own): (&PanelLayout, &PanelLayout),
    origins: &[Origins],
) -> Colours {
    let mut colours = plain.clone();
    if plain.is_one_colour() {
        return colours;
    }
    let explicit = |head: Vec<Colour>| ColourWord {
        head,
        middle: vec![],
        tail: vec![],
        mirror: false,
    };
    for (round, origins) in (1..).map(Round).zip(origins) {
        let beads = base.in_round(round);
        let is_as_planned = origins.len() as u32 == beads
            && origins.iter().all(Option::is_some)
            && (0..beads).all(|at| base.place(round, at) == own.place(round, at));
        if is_as_planned {
            continue;
        }
        let likes = likes(origins);
        let word = |side: Side| {
            let beads = own.on_side(round, side);
            if beads == 0 {
                // Beads that are set there later have the planned colour.
                let like = Side(side.0 % base.sides());
                return ColourWord::plain(plain.rule(round).word(like).first());
            }
            let at = |place| likes[own.index(round, side, place) as usize];
            let colour = |place| {
                let like = base.place(round, at(place));
                plain.at(round, like.side, like.place, like.of)
            };
            explicit((0..beads).map(colour).collect())
        };
        let words = (0..own.sides()).map(Side).map(word).collect();
        colours.set(RoundColours::Round(round, words));
    }
    let row = |side: Side| {
        let beads = |kind: &PanelLayout, side| kind.edge(side).saturating_sub(1);
        // Extra sides repeat the planned sides from the first.
        let like = Side(side.0 % base.sides());
        let (word, of, planned) = (plain.row.word(like), beads(own, side), beads(base, like));
        if word.fits(of) {
            return word.clone();
        }
        let colour = |place: u32| match planned {
            0 => word.first(),
            _ => word.at(place.min(planned - 1), planned),
        };
        explicit((0..of).map(colour).collect())
    };
    colours.row.sides = (0..own.sides()).map(Side).map(row).collect();
    colours
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    #[test]
    fn a_side_without_beads_keeps_its_colour_for_later() {
        let mut spec = testing::panel(4, 3);
        let base = PanelLayout::new(&spec);
        let (sea, amber) = (Colour(1), Colour(2));
        let mut plain = Colours::plain(sea, 3);
        plain.set(RoundColours::Round(
            Round(3),
            vec![ColourWord::plain(amber)],
        ));
        let none = |gap| GapChange {
            round: Round(3),
            gap,
            beads: 0,
        };
        let changes: Vec<GapChange> = (1..base.in_round(Round(2))).map(none).collect();
        let worked = Worked::over(&base, Begin::Ring, &changes);
        spec.growth = Growth::Own(Arc::new(worked.rounds));
        let own = PanelLayout::new(&spec);
        let colours = worked_colours(&plain, (&base, &own), &worked.origins);
        let is_empty = |side: &Side| own.on_side(Round(3), *side) == 0;
        let empty: Vec<Side> = (0..4).map(Side).filter(is_empty).collect();
        assert!(!empty.is_empty());
        for side in empty {
            assert_eq!(colours.rule(Round(3)).word(side).at(0, 1), amber);
        }
    }
}
