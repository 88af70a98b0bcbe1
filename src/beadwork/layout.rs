//! The layout of a piece: the seat of every bead, without a list of beads.
//!
//! Beads are strung panel by panel and row by row, so the layout is a short
//! list of blocks. Inside a block a bead's seat is computed from its kind of
//! panel.

mod own;
mod rim_gaps;

pub(in crate::beadwork) use own::same_index;
pub use rim_gaps::RimGaps;

use super::goal::GoalPanel;
use super::number::NumberMap;
pub use super::number::{RimIndex, RowIndex};
use super::{
    Bead, BeadKind, Begin, Colour, Colours, Corner, Direction, GapChange, GapWord, Goal, Hole,
    Make, Making, Panel, PanelColours, PanelLayout, Project, Round, RoundWork, RowGap, Side,
    SpecIndex, Spot, WorkDirection,
};
use std::collections::BTreeMap;
use std::ops::{Deref, Range};
use std::sync::Arc;

/// Where every bead of a piece sits.
#[derive(Clone, Debug)]
pub struct Layout {
    project: Arc<Project>,
    beads_of: Arc<Vec<BeadKind>>,
    /// A layout for each kind of panel.
    kinds: Arc<[PanelLayout]>,
    /// The layouts of kinds that the pattern does not have; their numbers
    /// follow those of the pattern.
    own_kinds: Vec<PanelLayout>,
    /// Gaps that were stitched differently from the pattern.
    changed: BTreeMap<Panel, Vec<GapChange>>,
    makings: Vec<(SpecIndex, Making)>,
    panels: Vec<LayoutPanel>,
    rows: Vec<JoinRow>,
    row_on: NumberMap<Corner, RowIndex>,
    rims: Vec<Rim>,
    blocks: Vec<Block>,
    beads: u32,
}

/// One panel of the piece: what is planned of it, and what the work adds.
#[derive(Clone, Debug)]
pub struct LayoutPanel {
    /// As planned.
    pub planned: GoalPanel,
    /// Its kind as it is worked.
    pub spec: SpecIndex,
    /// The rim on which it is worked, if it is a fill.
    pub rim: Option<RimIndex>,
    /// The colours of its beads and of its join rows.
    pub colours: PanelColours,
    /// Rounds left open in its middle, unless it is worked outward.
    open: u32,
    /// For a fill, the gaps of its rim.
    rim_gaps: Option<Arc<RimGaps>>,
    begun: Option<Begun>,
}

impl Deref for LayoutPanel {
    type Target = GoalPanel;

    fn deref(&self) -> &GoalPanel {
        &self.planned
    }
}

/// What is fixed once a panel is begun.
#[derive(Clone, Copy, Debug)]
struct Begun {
    /// Index of the order in which its beads are strung.
    making: usize,
    /// Beads of the piece strung before its first.
    before: u32,
}

/// A side of a rim, with its join row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RimSide {
    /// The panel.
    pub panel: Panel,
    /// The side with the row.
    pub side: Side,
    /// The direction round the rim beside it: against its own direction, unless
    /// the row is on the other side of a hinge.
    pub runs: Direction,
}

impl RimSide {
    /// The end of one of its beads from which the needle comes out.
    pub fn leaving(self, bead: Bead) -> Hole {
        match self.runs {
            Direction::Against => Hole::back(bead),
            Direction::With => Hole::front(bead),
        }
    }

    /// The index along the side, from 0, of the `nth` bead, from 0, of `of` in
    /// the direction round the rim.
    pub fn nth(self, nth: u32, of: u32) -> u32 {
        match self.runs {
            Direction::Against => of - 1 - nth,
            Direction::With => nth,
        }
    }
}

/// The rim of an opening.
#[derive(Clone, Debug)]
struct Rim {
    sides: Vec<RimSide>,
    /// For the corner after each side, the bead ends from which the needle
    /// comes out when a fill goes through it.
    corners: Vec<Vec<Hole>>,
}

/// A join row on a side of a panel: beads in the gaps of its edge, and optional
/// tip beads in the corner gap after it.
#[derive(Clone, Debug)]
pub struct JoinRow {
    /// Its panel.
    pub panel: Panel,
    /// Its side.
    pub side: Side,
    /// Join beads: one for each gap, unless the maker chose another number.
    pub beads: u32,
    /// Gaps of the edge, one fewer than it has up beads.
    pub gaps: u32,
    /// Tip beads, 0 to 2.
    pub tips: u32,
    /// Whether it is not a real row: its beads are the up beads of the side,
    /// into which another side is zipped directly.
    pub is_edge: bool,
    /// Join beads in each gap.
    own: GapWord,
    /// The same as planned.
    planned: GapWord,
    before: u32,
}

/// How a panel is made: in which order its beads are strung, and in which
/// colours.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelMaking {
    making: usize,
    rules: Vec<(u32, Arc<Colours>)>,
}

/// Consecutive beads of a panel or of a row.
#[derive(Clone, Copy, Debug)]
struct Block {
    before: u32,
    of: Owner,
}

#[derive(Clone, Copy, Debug)]
enum Owner {
    Panel(Panel),
    Row(RowIndex),
}

/// What a bead is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A bead of a round.
    Face,
    /// A join bead.
    JoinRow(RowIndex),
    /// A tip bead.
    Tip(RowIndex),
}

/// Where a bead sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seat {
    /// Its panel; for a join bead, the panel with the row.
    pub panel: Panel,
    /// What it is.
    pub part: Part,
    /// Its round; a join row is part of the round after the last.
    pub round: Round,
    /// Its side.
    pub side: Side,
    /// Its place on that side, from 0; tip beads are counted separately.
    pub place: u32,
    /// Beads of its kind on that side.
    pub of: u32,
    /// Its index in the round, from 0; for a row bead, its place.
    pub index: u32,
}

impl Seat {
    /// Its round and its index in it.
    pub fn spot(&self) -> Spot {
        Spot {
            round: self.round,
            index: self.index,
        }
    }
}

impl JoinRow {
    /// Whether each gap of its edge holds one bead.
    pub fn is_plain(&self) -> bool {
        self.beads == self.gaps && self.is_as_planned()
    }

    /// Whether all its gaps are as planned.
    pub fn is_as_planned(&self) -> bool {
        self.own == self.planned
    }

    /// The gaps that do not hold exactly one bead, from 0, with their number of
    /// beads.
    pub fn uneven_gaps(&self) -> impl Iterator<Item = (u32, u32)> + '_ {
        let gaps = (0..self.gaps).map(|gap| (gap, self.in_gap(gap, self.gaps).len() as u32));
        gaps.filter(|(_, beads)| *beads != 1)
    }

    /// The join beads, from 0, in gap `gap` of an edge of `gaps` gaps, counted
    /// in the direction of the row. Join beads are spread evenly over the row's
    /// own edge and over the edges zipped into it. If gaps were stitched
    /// differently, that holds for edges of the same length as its own.
    pub fn in_gap(&self, gap: u32, gaps: u32) -> Range<u32> {
        self.before_gap(gap, gaps)..self.before_gap(gap + 1, gaps)
    }

    /// The number of join beads before a gap; for `gap` = `gaps`, of all of
    /// them.
    pub fn before_gap(&self, gap: u32, gaps: u32) -> u32 {
        match gaps == self.gaps {
            true => self.own.beads_before(gap),
            false => evenly_before(self.beads, gap, gaps),
        }
    }

    /// How many join beads were planned for a gap of its edge.
    pub(super) fn planned_in(&self, gap: u32) -> u32 {
        self.planned.gap(gap).into()
    }

    /// Sets the number of join beads in a gap.
    fn change_gap(&mut self, gap: u32, beads: u8) {
        let held = (0..self.gaps).map(|of| match of == gap {
            true => beads,
            false => self.own.gap(of),
        });
        self.own = GapWord::new(held);
        self.beads = self.own.beads();
    }

    /// The join bead of the planned row whose colour a bead has, and how many
    /// were planned: the one of its gap, or the one before.
    fn coloured_like(&self, bead: u32) -> (u32, u32) {
        let (gap, all) = (self.gap_of(bead, self.gaps), self.planned.beads());
        let nth = bead - self.own.beads_before(gap);
        let last = self.planned.beads_before(gap + 1).max(1) - 1;
        ((self.planned.beads_before(gap) + nth).min(last), all)
    }

    /// The bead at the place that a bead had in `old`, before gaps were
    /// changed.
    pub(super) fn same_bead(&self, old: &JoinRow, bead: u32) -> Option<u32> {
        let gap = old.gap_of(bead, old.gaps);
        let nth = bead - old.before_gap(gap, old.gaps);
        self.in_gap(gap, self.gaps).nth(nth as usize)
    }

    /// The gap, of an edge of `gaps` gaps, that holds a join bead.
    pub fn gap_of(&self, bead: u32, gaps: u32) -> u32 {
        if gaps == self.gaps {
            return self.own.gap_of(bead);
        }
        let is_before = |gap: &u32| self.in_gap(*gap, gaps).end <= bead;
        let near = (u64::from(bead) * u64::from(gaps) / u64::from(self.beads.max(1))) as u32;
        let from = near.saturating_sub(1);
        from + (from..gaps).take_while(is_before).count() as u32
    }
}

/// The number of beads before a gap if `beads` are spread evenly over `gaps`
/// gaps.
fn evenly_before(beads: u32, gap: u32, gaps: u32) -> u32 {
    (2 * gap * beads + gaps) / (2 * gaps).max(1)
}

impl LayoutPanel {
    /// The panels of a goal, none of them begun.
    fn all_of(goal: &Goal, project: &Project) -> Vec<LayoutPanel> {
        let panel = |planned: &GoalPanel| LayoutPanel {
            planned: planned.clone(),
            spec: planned.spec,
            rim: None,
            colours: planned.colours.clone(),
            open: planned.open.unwrap_or(project.panels[planned.spec].open),
            rim_gaps: None,
            begun: None,
        };
        goal.panels.iter().map(panel).collect()
    }

    /// Rounds left open in its middle.
    pub fn open(&self) -> u32 {
        self.open
    }

    /// Whether the needle goes past a bead of a side's join, through the bead
    /// in the row next door.
    pub fn goes_next_door(&self, side: Side, place: u32) -> bool {
        self.next_door.contains(&(side, place))
    }
}

impl Layout {
    /// A layout of the goal's panels, none of them begun.
    pub(super) fn new(project: Arc<Project>, kinds: Arc<[PanelLayout]>, goal: &Goal) -> Self {
        let mut layout = Layout {
            panels: LayoutPanel::all_of(goal, &project),
            project,
            beads_of: goal.beads.clone(),
            kinds,
            own_kinds: vec![],
            changed: BTreeMap::new(),
            makings: vec![],
            rows: vec![],
            row_on: NumberMap::default(),
            rims: vec![],
            blocks: vec![],
            beads: 0,
        };
        layout.make_all_own();
        layout
    }

    fn make_all_own(&mut self) {
        (0..self.panels.len()).for_each(|p| self.make_own(Panel(p as u16)));
    }

    /// Begins a panel, so that its beads have numbers.
    pub(super) fn begin_panel(&mut self, panel: Panel, begin: Begin, rim: Option<RimIndex>) {
        let making = self.find_making(panel, begin);
        let before = self.beads;
        let made = &mut self.panels[panel.index()];
        made.begun = Some(Begun { making, before });
        made.rim = rim;
        // Gaps changed beforehand depend on how the panel is begun.
        self.make_own(panel);
        self.add_block(Owner::Panel(panel), self.making(panel).beads());
    }

    /// The index of the order in which the beads of a panel begun like this are
    /// strung.
    fn find_making(&mut self, panel: Panel, begin: Begin) -> usize {
        let LayoutPanel { spec, open, .. } = *self.panel(panel);
        let open = match begin {
            Begin::Ring | Begin::TwoRows => 0,
            Begin::FreeStart | Begin::Rim => open,
        };
        let known = |(s, m): &(SpecIndex, Making)| *s == spec && (m.begin, m.open) == (begin, open);
        self.makings.iter().position(known).unwrap_or_else(|| {
            let making = Making::new(self.kind_of(spec), begin, open);
            self.makings.push((spec, making));
            self.makings.len() - 1
        })
    }

    /// Changes to another goal. Panels that are begun stay; only the number of
    /// open rounds may change for the current one.
    pub(super) fn set_goal(&mut self, goal: &Goal) {
        self.forget_own();
        self.beads_of = goal.beads.clone();
        let mut panels = LayoutPanel::all_of(goal, &self.project);
        for (new, old) in panels.iter_mut().zip(&self.panels) {
            if old.begun.is_some() {
                (new.begun, new.rim) = (old.begun, old.rim);
            }
        }
        self.panels = panels;
        self.make_all_own();
        (0..self.panels.len()).for_each(|p| self.begin_again(Panel(p as u16)));
    }

    /// Updates the order of a panel that is begun, if its plan has changed.
    fn begin_again(&mut self, panel: Panel) {
        let Some(old) = self.panel(panel).begun else {
            return;
        };
        let begin = self.makings[old.making].1.begin;
        let making = self.find_making(panel, begin);
        if making != old.making {
            // Only the current panel, whose beads have the last numbers, can
            // get more or fewer beads.
            if old.before + self.makings[old.making].1.beads() == self.beads {
                self.beads = old.before + self.makings[making].1.beads();
            }
            self.panels[panel.index()].begun = Some(Begun { making, ..old });
        }
    }

    /// Lays a join row on a side.
    pub(super) fn add_row(&mut self, on: Corner, tips: u32, beads: Option<u32>) {
        let gaps = self.kind(on.0).edge(on.1).saturating_sub(1);
        let beads = beads.unwrap_or(gaps);
        let row = self.push_row(on, (beads, tips), false);
        self.add_block(Owner::Row(row), beads + tips);
    }

    /// Prepares a side for another one that is zipped directly into it: its up
    /// beads become a row without new beads.
    pub(super) fn add_edge_row(&mut self, on: Corner) {
        let beads = self.kind(on.0).edge(on.1);
        self.push_row(on, (beads, 0), true);
    }

    fn push_row(&mut self, on: Corner, (beads, tips): (u32, u32), is_edge: bool) -> RowIndex {
        let (panel, side) = on;
        let row = RowIndex(self.rows.len() as u16);
        let gaps = self.kind(panel).edge(side).saturating_sub(1);
        let before = |gap| evenly_before(beads, gap, gaps);
        let planned = GapWord::new((0..gaps).map(|gap| (before(gap + 1) - before(gap)) as u8));
        self.rows.push(JoinRow {
            panel,
            side,
            beads,
            gaps,
            tips,
            is_edge,
            own: planned.clone(),
            planned,
            before: self.beads,
        });
        self.row_on.insert(on, row);
        row
    }

    /// Changes a gap of the row strung last.
    pub(super) fn change_row_gap(&mut self, change: RowGap) {
        let Some(index) = self.row_on(change.panel, change.side) else {
            return;
        };
        let row = &mut self.rows[index.0 as usize];
        row.change_gap(change.gap, change.beads);
        self.beads = row.before + row.beads + row.tips;
    }

    pub(super) fn add_rim(&mut self, sides: Vec<RimSide>, corners: Vec<Vec<Hole>>) -> RimIndex {
        self.rims.push(Rim { sides, corners });
        RimIndex(self.rims.len() as u16 - 1)
    }

    fn add_block(&mut self, of: Owner, beads: u32) {
        if beads > 0 {
            let before = self.beads;
            self.blocks.push(Block { before, of });
            self.beads += beads;
        }
    }

    /// The project as in the pattern, without kinds that were added.
    pub fn shared_project(&self) -> Arc<Project> {
        let mut project = self.project.clone();
        if !self.own_kinds.is_empty() {
            Arc::make_mut(&mut project).forget_own();
        }
        project
    }

    pub(super) fn shared_kinds(&self) -> Arc<[PanelLayout]> {
        self.kinds.clone()
    }

    /// The rim with these sides.
    pub(super) fn find_rim(&self, sides: &[(Panel, Side)]) -> Option<RimIndex> {
        let goes = |rim: &Rim| {
            rim.sides
                .iter()
                .map(|s| (s.panel, s.side))
                .eq(sides.iter().copied())
        };
        let at = self.rims.iter().position(goes)?;
        Some(RimIndex(at as u16))
    }

    /// The project.
    pub fn project(&self) -> &Project {
        &self.project
    }

    /// The kinds of bead: those of the pattern, then those that the maker
    /// added.
    pub fn bead_kinds(&self) -> &[BeadKind] {
        &self.beads_of
    }

    /// The kind of bead of a colour.
    pub fn bead_kind(&self, colour: Colour) -> &BeadKind {
        &self.beads_of[usize::from(colour.0)]
    }

    /// Changes the piece that is made of the panels.
    pub(super) fn set_make(&mut self, make: Make) {
        Arc::make_mut(&mut self.project).make = make;
    }

    /// The number of beads of the piece.
    pub fn beads(&self) -> u32 {
        self.beads
    }

    /// The panels of the goal.
    pub fn panels(&self) -> &[LayoutPanel] {
        &self.panels
    }

    /// One panel.
    pub fn panel(&self, panel: Panel) -> &LayoutPanel {
        &self.panels[panel.index()]
    }

    /// The layout of a panel's kind.
    pub fn kind(&self, panel: Panel) -> &PanelLayout {
        self.kind_of(self.panel(panel).spec)
    }

    /// The layout of a kind of panel, by its index in the project.
    pub fn kind_of(&self, spec: SpecIndex) -> &PanelLayout {
        match spec.checked_sub(self.kinds.len()) {
            None => &self.kinds[spec],
            Some(own) => &self.own_kinds[own],
        }
    }

    /// The direction in which a panel is worked. It depends on how the panel
    /// was begun, since a fill can be of a kind that is otherwise worked
    /// outward.
    pub fn way(&self, panel: Panel) -> WorkDirection {
        match self.is_begun(panel) {
            true => self.making(panel).begin.way(),
            false => self.project.panels[self.panel(panel).spec].way,
        }
    }

    /// The round that round `makes` of a panel is worked on; `None` if it is
    /// strung or worked on a rim.
    pub(super) fn worked_on(&self, panel: Panel, makes: Round) -> Option<Round> {
        let on = match self.way(panel) {
            WorkDirection::Outward => Round(makes.0.checked_sub(1)?),
            WorkDirection::Inward => Round(makes.0 + 1),
        };
        // The first two rows of a strip are strung together.
        let kind = self.kind(panel);
        let first = if kind.strip().is_some() { 2 } else { 1 };
        (first..=kind.rounds()).contains(&on.0).then_some(on)
    }

    /// Whether a panel, worked inward by itself, begins with a strip for each side.
    pub fn begins_with_strips(&self, panel: Panel) -> bool {
        self.project.panels[self.panel(panel).spec].strips
            && self.making(panel).begin == Begin::FreeStart
    }

    /// The order in which a panel's beads are strung.
    pub fn making(&self, panel: Panel) -> &Making {
        &self.makings[self.begun(panel).making].1
    }

    /// The work of the round of a panel that is made on round `on`.
    pub fn work(&self, panel: Panel, on: Round) -> RoundWork<'_> {
        let (kind, making) = (self.kind(panel), self.making(panel));
        kind.work(making.begin.way(), on, making.start(on))
    }

    fn begun(&self, panel: Panel) -> Begun {
        self.panel(panel).begun.expect("the panel is begun")
    }

    /// The number of beads strung before a panel's first.
    pub(super) fn before_panel(&self, panel: Panel) -> u32 {
        self.begun(panel).before
    }

    /// Whether a panel is begun; a panel that is left out never is.
    pub fn is_begun(&self, panel: Panel) -> bool {
        let made = self.panels.get(panel.index());
        made.is_some_and(|made| made.begun.is_some())
    }

    /// The panels that are begun, in the order of their numbers.
    pub fn begun_panels(&self) -> impl Iterator<Item = (Panel, &LayoutPanel)> + Clone {
        let panels = (0..).map(Panel).zip(&self.panels);
        panels.filter(|(_, made)| made.begun.is_some())
    }

    /// Rounds that a panel leaves open in the middle: all of them for a panel
    /// that is left out.
    pub fn open_rounds(&self, panel: Panel) -> u32 {
        match self.is_begun(panel) {
            true => self.making(panel).open,
            false => self.kind(panel).rounds(),
        }
    }

    /// The join rows, in the order in which they are worked, without edges that
    /// sides are zipped into.
    pub fn rows(&self) -> impl Iterator<Item = (RowIndex, &JoinRow)> {
        let rows = (0..).map(RowIndex).zip(&self.rows);
        rows.filter(|(_, row)| !row.is_edge)
    }

    /// One join row.
    pub fn row(&self, row: RowIndex) -> &JoinRow {
        &self.rows[row.0 as usize]
    }

    /// The join row on a side, or its up beads as a row if another side is
    /// zipped into them.
    pub fn any_row_on(&self, panel: Panel, side: Side) -> Option<RowIndex> {
        self.row_on.get(&(panel, side)).copied()
    }

    /// The join row on a side, if there is one.
    pub fn row_on(&self, panel: Panel, side: Side) -> Option<RowIndex> {
        let row = self.any_row_on(panel, side);
        row.filter(|row| !self.row(*row).is_edge)
    }

    /// The up beads of a side as a row, if another side is zipped into them.
    pub(super) fn edge_row_on(&self, panel: Panel, side: Side) -> Option<RowIndex> {
        let row = self.any_row_on(panel, side);
        row.filter(|row| self.row(*row).is_edge)
    }

    /// The sides round an opening, in the order in which a fill meets them.
    pub fn rim(&self, rim: RimIndex) -> &[RimSide] {
        &self.rims[rim.0 as usize].sides
    }

    /// Whether the last round of a kind of panel has one bead at each corner.
    pub(super) fn ends_in_corner_beads(&self, spec: SpecIndex) -> bool {
        let kind = self.kind_of(spec);
        kind.corner(kind.last()) == 1
    }

    /// The corners at which a side starts and ends.
    pub fn ends(&self, (panel, side): Corner) -> [Corner; 2] {
        [(panel, self.kind(panel).side_before(side)), (panel, side)]
    }

    /// The corners at which the needle reaches and leaves a rim side.
    pub fn rim_corners(&self, rim: RimSide) -> [Corner; 2] {
        let [start, end] = self.ends((rim.panel, rim.side));
        match rim.runs {
            Direction::Against => [end, start],
            Direction::With => [start, end],
        }
    }

    /// The bead ends from which the needle comes out at the corner after a side
    /// of a fill, in order.
    pub fn corner_way(&self, rim: RimIndex, side: Side) -> &[Hole] {
        &self.rims[rim.0 as usize].corners[side.index()]
    }

    /// A bead of a panel, by its round and its index in it.
    pub fn bead(&self, panel: Panel, round: Round, index: u32) -> Bead {
        let number = self.making(panel).number(self.kind(panel), round, index);
        Bead(self.begun(panel).before + number + 1)
    }

    /// Up bead `j` (from 0) of a panel's side.
    pub fn edge_bead(&self, panel: Panel, side: Side, j: u32) -> Bead {
        let kind = self.kind(panel);
        self.bead(panel, kind.last(), kind.edge_index(side, j))
    }

    /// The bead of the round before that is just before up bead `j` (from 1) of
    /// a side; the up bead itself if there is no such round.
    pub fn under_edge(&self, (panel, side): Corner, j: u32) -> Bead {
        let (kind, last) = (self.kind(panel), self.kind(panel).last());
        if last.0 < 2 {
            return self.edge_bead(panel, side, j);
        }
        let gap = kind.word(last).gap_of(kind.edge_index(side, j));
        self.bead(panel, Round(last.0 - 1), gap)
    }

    /// The last up bead of a panel's side.
    pub fn edge_end(&self, panel: Panel, side: Side) -> Bead {
        self.edge_bead(panel, side, self.kind(panel).edge(side) - 1)
    }

    /// Join bead `j` (from 0) of a row; tip beads follow the join beads.
    pub fn row_bead(&self, row: RowIndex, j: u32) -> Bead {
        let row = self.row(row);
        match row.is_edge {
            true => self.edge_bead(row.panel, row.side, j),
            false => Bead(row.before + j + 1),
        }
    }

    /// The bead of a panel that is strung last.
    pub(super) fn last_of_panel(&self, panel: Panel) -> Bead {
        Bead(self.begun(panel).before + self.making(panel).beads())
    }

    /// The last bead of a row, including tip beads.
    pub(super) fn last_of_row(&self, row: &JoinRow) -> Bead {
        Bead(row.before + row.beads + row.tips)
    }

    /// Whose bead it is, and its number there, from 0, in the order of stringing.
    fn owner(&self, bead: Bead) -> (Owner, u32) {
        let number = bead.0 - 1;
        let at = self.blocks.partition_point(|b| b.before <= number) - 1;
        let block = self.blocks[at];
        (block.of, number - block.before)
    }

    /// The panel of a bead, and its number there, from 0, in the order of
    /// stringing; `None` for a bead of a row.
    pub(super) fn in_panel(&self, bead: Bead) -> Option<(Panel, u32)> {
        match self.owner(bead) {
            (Owner::Panel(panel), number) => Some((panel, number)),
            (Owner::Row(_), _) => None,
        }
    }

    /// The panel of a bead; of one in a row the panel that the row is on.
    pub fn panel_of(&self, bead: Bead) -> Panel {
        match self.owner(bead).0 {
            Owner::Panel(panel) => panel,
            Owner::Row(row) => self.row(row).panel,
        }
    }

    /// Where a bead sits.
    pub fn seat(&self, bead: Bead) -> Seat {
        let (owner, number) = self.owner(bead);
        match owner {
            Owner::Panel(panel) => {
                let kind = self.kind(panel);
                let (round, index) = self.making(panel).bead(kind, number);
                let place = kind.place(round, index);
                Seat {
                    panel,
                    part: Part::Face,
                    round,
                    side: place.side,
                    place: place.place,
                    of: place.of,
                    index,
                }
            }
            Owner::Row(row) => self.row_seat(row, number),
        }
    }

    /// The seat at a place (from 0) of a side of a panel's round.
    pub fn face_seat(&self, panel: Panel, round: Round, side: Side, place: u32) -> Seat {
        let kind = self.kind(panel);
        Seat {
            panel,
            part: Part::Face,
            round,
            side,
            place,
            of: kind.on_side(round, side),
            index: kind.index(round, side, place),
        }
    }

    /// The seat of bead `j` (from 0) of a row; tip beads come after the join
    /// beads.
    pub fn row_seat(&self, index: RowIndex, j: u32) -> Seat {
        let row = self.row(index);
        let (part, place, of) = match j.checked_sub(row.beads) {
            Some(tip) => (Part::Tip(index), tip, row.tips),
            None => (Part::JoinRow(index), j, row.beads),
        };
        Seat {
            panel: row.panel,
            part,
            round: Round(self.kind(row.panel).rounds() + 1),
            side: row.side,
            place,
            of,
            index: place,
        }
    }

    /// The bead in a seat.
    pub fn bead_in(&self, seat: Seat) -> Bead {
        match seat.part {
            Part::Face => self.bead(seat.panel, seat.round, seat.index),
            Part::JoinRow(row) => self.row_bead(row, seat.place),
            Part::Tip(row) => self.row_bead(row, self.row(row).beads + seat.place),
        }
    }

    /// How a panel that is begun is made. Equal for panels whose beads are
    /// strung in the same order with the same colours.
    pub fn making_of(&self, panel: Panel) -> PanelMaking {
        let Begun { making, before } = self.begun(panel);
        let colours = &self.panel(panel).colours;
        let rules = colours.of_run(Bead(before + 1), self.last_of_panel(panel));
        PanelMaking { making, rules }
    }

    /// The colour rules of a join row, each with the number of its beads strung
    /// before the rule applies.
    pub fn row_rules(&self, row: RowIndex) -> Vec<(u32, Arc<Colours>)> {
        let row = self.row(row);
        let colours = &self.panel(row.panel).colours;
        colours.of_run(Bead(row.before + 1), self.last_of_row(row))
    }

    /// A bead's colour.
    pub fn colour(&self, bead: Bead) -> Colour {
        self.colour_of(self.seat(bead))
    }

    /// The colour of the bead in a seat: by the rules when it was strung, or by
    /// the current rules if it is not strung yet.
    pub fn colour_of(&self, seat: Seat) -> Colour {
        let made = self.panel(seat.panel);
        let colours = match made.colours.is_plain() || made.begun.is_none() {
            true => made.colours.to_come(),
            false => made.colours.at(self.bead_in(seat)),
        };
        match seat.part {
            Part::Face => colours.at(seat.round, seat.side, seat.place, seat.of),
            Part::JoinRow(row) => {
                let (place, of) = match self.rows.get(row.0 as usize) {
                    Some(row) if !row.is_as_planned() => row.coloured_like(seat.place),
                    _ => (seat.place, seat.of),
                };
                colours.row.word(seat.side).at(place, of)
            }
            Part::Tip(_) => colours.tip,
        }
    }
}
