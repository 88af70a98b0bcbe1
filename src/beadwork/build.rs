//! The builder: carries out jobs one after another, as the needle goes.
//!
//! It knows where the needle leaves, weaves it to where the next stage must
//! start, and takes up new thread where the old will not do or does not reach.

use super::end::{End, Hole};
use super::frame::Frame;
use super::job::{JobInfo, JobKind, SideJoin, Span};
use super::layout::{Layout, Part, RowIndex};
use super::making::Begin;
use super::movement::Kind;
use super::number::{Bead, Panel, Round, Side};
use super::project::{Project, SpecIndex, Way};
use super::route;
use super::seams::{Corner, Direction, Seams};
use super::stage::{
    FreeStart, RimRound, Ring, Rounds, RowStage, Run, Stage, Steps, Still, Through, Zip,
};
use super::touch::Work;
use std::collections::HashMap;
use std::ops::Range;

/// Beads that an end of thread is woven through.
const WOVEN: usize = 4;

/// Holes looked at before a way is given up as too far; new thread is then
/// the better way.
const FAR: usize = 4_000;

/// A piece being worked out.
pub(super) struct Builder {
    pub layout: Layout,
    pub seams: Seams,
    pub jobs: Vec<JobInfo>,
    pub spans: Vec<Span>,
    /// Steps before each start of a thread.
    pub threads: Vec<u32>,
    /// Where the needle leaves; none while no thread is in the work.
    needle: Option<Hole>,
    /// Beads that the thread in hand can still go through.
    reach: u64,
    steps: u32,
    strung: u32,
    passes: u64,
    /// How each kind of panel was made the first time.
    made: HashMap<(SpecIndex, Begin), Made>,
}

/// What has been done so far.
#[derive(Clone, Copy)]
struct Tally {
    steps: u32,
    strung: u32,
    passes: u64,
}

/// The making of one panel, to be repeated.
#[derive(Clone)]
struct Made {
    from: Tally,
    to: Tally,
    spans: Range<usize>,
    threads: Range<usize>,
    reach: u64,
    needle: Option<Hole>,
}

impl Builder {
    pub fn new(project: Project) -> Self {
        Builder {
            layout: Layout::new(project),
            seams: Seams::default(),
            jobs: vec![],
            spans: vec![],
            threads: vec![],
            needle: None,
            reach: 0,
            steps: 0,
            strung: 0,
            passes: 0,
            made: HashMap::new(),
        }
    }

    pub fn project(&self) -> &Project {
        self.layout.project()
    }

    pub fn steps(&self) -> u32 {
        self.steps
    }

    pub fn passes(&self) -> u64 {
        self.passes
    }

    fn work(&self) -> Work<'_> {
        Work {
            layout: &self.layout,
            seams: &self.seams,
            strung: self.strung,
        }
    }

    fn begin(&mut self, kind: JobKind, title: String) {
        self.jobs.push(JobInfo {
            kind,
            title,
            steps_before: self.steps,
            steps: 0,
            beads_before: self.strung,
            beads: 0,
        });
    }

    fn name(&self, panel: Panel) -> String {
        self.layout.panel(panel).name.clone()
    }

    // --- jobs ---------------------------------------------------------------

    /// Makes a panel by itself, with thread of its own.
    pub fn panel(&mut self, name: String, spec: SpecIndex, frame: Frame) -> Panel {
        self.end_thread();
        let begin = match self.layout.project().panels[spec].way {
            Way::Outward => Begin::Ring,
            Way::Inward => Begin::FreeStart,
        };
        let title = name.clone();
        let panel = self.layout.add_panel(name, spec, begin, None, frame);
        self.begin(JobKind::Panel(panel), title);
        let known = (spec, begin);
        if let Some(like) = self.made.get(&known).cloned() {
            self.repeat(&like, panel);
            return panel;
        }
        let (from, spans, threads) = (self.tally(), self.spans.len(), self.threads.len());
        self.take_thread(vec![]);
        self.work_panel(panel, begin);
        let made = Made {
            from,
            to: self.tally(),
            spans: spans..self.spans.len(),
            threads: threads..self.threads.len(),
            reach: self.reach,
            needle: self.needle,
        };
        self.made.insert(known, made);
        panel
    }

    fn work_panel(&mut self, panel: Panel, begin: Begin) {
        match begin {
            Begin::Ring => {
                self.push(Ring { panel });
                for k in 1..self.layout.kind(panel).rounds() {
                    let on = Round(k);
                    self.push(Rounds { panel, on });
                }
                self.leave(self.first_of(panel, self.layout.kind(panel).last()));
                self.count_edge(panel);
            }
            Begin::FreeStart | Begin::Rim => {
                self.push(FreeStart { panel });
                let before = self.layout.kind(panel).rounds() - 1;
                self.inward(panel, Round(before));
            }
        }
    }

    /// Makes a panel just as an earlier one of its kind was made: both begin
    /// with fresh thread, so step for step they differ in nothing but the
    /// beads. A piece with many like panels opens in the time that one takes.
    fn repeat(&mut self, like: &Made, panel: Panel) {
        let on = self.strung - like.from.strung;
        let later = Tally {
            steps: self.steps - like.from.steps,
            strung: on,
            passes: self.passes - like.from.passes,
        };
        for at in like.spans.clone() {
            let mut span = self.spans[at].clone();
            span.stage = span.stage.on_panel(panel, on);
            span.steps_before += later.steps;
            span.beads_before += later.strung;
            span.passes_before += later.passes;
            self.spans.push(span);
        }
        for at in like.threads.clone() {
            self.threads.push(self.threads[at] + later.steps);
        }
        self.steps = like.to.steps + later.steps;
        self.strung = like.to.strung + later.strung;
        self.passes = like.to.passes + later.passes;
        self.reach = like.reach;
        self.needle = like.needle.map(|h| Hole {
            bead: Bead(h.bead.0 + on),
            ..h
        });
        let job = self.jobs.last_mut().expect("the panel is a job");
        job.steps = like.to.steps - like.from.steps;
        job.beads = like.to.strung - like.from.strung;
    }

    fn tally(&self) -> Tally {
        Tally {
            steps: self.steps,
            strung: self.strung,
            passes: self.passes,
        }
    }

    /// Fills the opening that a rim surrounds.
    pub fn fill(
        &mut self,
        name: String,
        spec: SpecIndex,
        rim: Vec<(Panel, Side)>,
        frame: Frame,
    ) -> Panel {
        let rows: Vec<RowIndex> = rim.iter().map(|&side| self.row_on(side)).collect();
        self.meet_round(&rim);
        let rim = self.layout.add_rim(rim);
        let title = format!("Fill {name}");
        let panel = self
            .layout
            .add_panel(name, spec, Begin::Rim, Some(rim), frame);
        for (s, row) in rows.into_iter().enumerate() {
            self.seams.fill(row, (panel, Side(s as u8)));
        }
        self.begin_at(
            JobKind::Fill(panel),
            title,
            Hole::back(self.layout.anchor(rim, Side(0), 0)),
        );
        self.push(RimRound { panel, rim });
        self.inward(panel, self.layout.kind(panel).last());
        panel
    }

    /// Works join rows.
    pub fn row(&mut self, panel: Panel, sides: &[Side], tips: u32) {
        let name = self.name(panel);
        let title = format!("Join row on {name}, {}", sides_in_words(sides));
        let first = Hole::front(self.layout.edge_bead(panel, sides[0], 0));
        self.begin_at(JobKind::JoinRow(panel, sides.to_vec()), title, first);
        for &side in sides {
            self.weave_to(Hole::front(self.layout.edge_bead(panel, side, 0)));
            let row = self.layout.add_row(panel, side, tips);
            self.push(RowStage { row });
            let end = match tips {
                0 => self.layout.edge_end(panel, side),
                _ => {
                    let next = self.layout.kind(panel).next_side(side);
                    self.layout.edge_bead(panel, next, 0)
                }
            };
            self.leave(Hole::front(end));
        }
    }

    /// Zips bare sides of a panel onto the rows of others.
    pub fn zip(&mut self, panel: Panel, joins: &[SideJoin]) {
        let name = self.name(panel);
        let whole = joins.len() == usize::from(self.layout.kind(panel).sides());
        let (kind, title) = if whole {
            (
                JobKind::SetIn(panel, joins.to_vec()),
                format!("Set in {name}"),
            )
        } else {
            let onto: Vec<String> = joins.iter().map(|j| self.name(j.onto)).collect();
            let title = format!("Zip {name} to {}", onto.join(" and "));
            (JobKind::Zip(panel, joins.to_vec()), title)
        };
        let mut begun = false;
        for (nth, join) in joins.iter().enumerate() {
            let row = self.row_on((join.onto, join.at));
            let (ours, theirs) = (self.layout.kind(panel), self.layout.kind(join.onto));
            let start = (panel, ours.side_before(join.side));
            let end = (panel, join.side);
            let row_start = (join.onto, theirs.side_before(join.at));
            let row_end = (join.onto, join.at);
            let (at_start, at_end) = match join.runs {
                Direction::Against => (row_end, row_start),
                Direction::With => (row_start, row_end),
            };
            self.seams.meet(start, at_start);
            self.seams.meet(end, at_end);
            let ahead = Hole::front(self.layout.edge_bead(panel, join.side, 0));
            let astern = Hole::back(self.layout.edge_end(panel, join.side));
            let forward = self.is_nearer(ahead, astern);
            let first = if forward { ahead } else { astern };
            if !begun {
                self.begin_at(kind.clone(), title.clone(), first);
                begun = true;
            }
            if nth > 0 {
                self.push(Still {
                    kind: Kind::Fold,
                    round: None,
                    side: Some(join.side),
                    beads: 0,
                });
            }
            self.weave_to(first);
            let zip = Zip {
                row,
                panel,
                side: join.side,
                runs: join.runs,
                forward,
                entered: true,
            };
            self.push(zip);
            let last = zip.edge(&self.layout, self.layout.row(row).beads);
            self.leave(if forward {
                Hole::front(last)
            } else {
                Hole::back(last)
            });
            self.seams.zip((panel, join.side), row, join.runs);
        }
    }

    /// Firms the rim of an opening between panels.
    pub fn firm_rim(&mut self, rim: Vec<(Panel, Side)>) {
        self.meet_round(&rim);
        let (panel, side) = rim[0];
        let first = Hole::back(self.layout.edge_end(panel, side));
        let names: Vec<String> = rim.iter().map(|&(p, _)| self.name(p)).collect();
        let title = format!("Firm the opening between {}", names.join(", "));
        let index = self.layout.add_rim(rim.clone());
        self.begin_at(JobKind::FirmRim(rim), title, first);
        self.push(Through {
            kind: Kind::Firm,
            round: None,
            side: None,
            run: Run::Rim(index),
        });
        self.leave(first);
    }

    /// Folds the work and draws two corners together.
    pub fn tie(&mut self, from: Corner, to: Corner) {
        let (there, here) = (self.loop_at(to), self.loop_at(from));
        let title = "Fold and tie the corners".to_string();
        let at_corner: Vec<Hole> = self.corner_holes(from);
        let work = self.work();
        let way = self.needle.and_then(|needle| {
            route::shortest(work, needle, FAR, |h| {
                at_corner.iter().any(|c| c.bead == h.bead && c.end == h.end)
            })
        });
        match way {
            Some(beads) => {
                self.begin(JobKind::Tie(from, to), title);
                self.pass(beads);
            }
            None => {
                self.end_thread();
                self.begin(JobKind::Tie(from, to), title);
                let beads = route::weave_out(self.work(), at_corner[0], WOVEN);
                self.take_thread(beads);
            }
        }
        self.push(Still {
            kind: Kind::Fold,
            round: None,
            side: None,
            beads: 0,
        });
        self.seams.meet(from, to);
        for _ in 0..2 {
            for beads in [&there, &here] {
                self.push(Through {
                    kind: Kind::Fold,
                    round: None,
                    side: None,
                    run: Run::Beads(beads.clone().into()),
                });
            }
        }
        self.leave(self.leaving_after(&here, &at_corner));
    }

    /// Ends the thread at the end of the piece.
    pub fn finish(&mut self) {
        self.end_thread();
    }

    // --- parts of jobs ------------------------------------------------------

    /// Works a panel inward from round `from`, which is whole, and closes its
    /// middle or firms it.
    fn inward(&mut self, panel: Panel, from: Round) {
        let innermost = self.layout.making(panel).innermost();
        for k in (innermost.0 + 1..=from.0).rev() {
            self.push(Rounds {
                panel,
                on: Round(k),
            });
        }
        self.leave(self.first_of(panel, innermost));
        let (kind, run) = if innermost.0 == 1 {
            (Kind::Close, Run::Close(panel))
        } else {
            (Kind::Firm, Run::Centre(panel))
        };
        self.push(Through {
            kind,
            round: Some(innermost),
            side: None,
            run,
        });
        if innermost.0 == 1 {
            let beads = self.layout.kind(panel).in_round(innermost);
            let start = self.layout.making(panel).start(innermost);
            let last = self.layout.bead(panel, innermost, (start + 1) % beads);
            self.leave(Hole::front(last));
        }
    }

    fn count_edge(&mut self, panel: Panel) {
        let kind = self.layout.kind(panel);
        let beads = kind.in_round(kind.last());
        self.push(Still {
            kind: Kind::Count,
            round: Some(kind.last()),
            side: None,
            beads,
        });
    }

    fn first_of(&self, panel: Panel, round: Round) -> Hole {
        let start = self.layout.making(panel).start(round);
        Hole::front(self.layout.bead(panel, round, start))
    }

    fn row_on(&self, (panel, side): (Panel, Side)) -> RowIndex {
        self.layout
            .row_on(panel, side)
            .expect("the plan works a row before it is joined")
    }

    /// The corners round an opening meet: the start of each rim side and the
    /// end of the next.
    fn meet_round(&mut self, rim: &[(Panel, Side)]) {
        for (nth, &(panel, side)) in rim.iter().enumerate() {
            let next = rim[(nth + 1) % rim.len()];
            let start = (panel, self.layout.kind(panel).side_before(side));
            self.seams.meet(start, next);
        }
    }

    fn corner_holes(&self, corner: Corner) -> Vec<Hole> {
        let work = self.work();
        let alone = [corner];
        let together = match self.seams.together(corner) {
            [] => &alone[..],
            together => together,
        };
        together.iter().flat_map(|&c| work.holes_at(c)).collect()
    }

    /// The shortest loop that goes in at a corner and comes out at it again.
    fn loop_at(&self, corner: Corner) -> Vec<Bead> {
        let holes = self.corner_holes(corner);
        let work = self.work();
        let ways = holes.iter().filter_map(|into| {
            let out = into.through();
            let way = route::shortest(work, out, FAR, |h| {
                h.bead != into.bead && holes.contains(&h)
            })?;
            Some([vec![into.bead], way].concat())
        });
        ways.min_by_key(Vec::len)
            .unwrap_or_else(|| vec![holes[0].bead])
    }

    fn leaving_after(&self, beads: &[Bead], holes: &[Hole]) -> Hole {
        let last = *beads.last().expect("a loop has beads");
        let at = holes.iter().find(|h| h.bead == last);
        at.copied().unwrap_or(Hole::front(last))
    }

    // --- the needle ---------------------------------------------------------

    fn leave(&mut self, hole: Hole) {
        self.needle = Some(hole);
    }

    /// Whether `a` is no further from the needle than `b`. A long way is only
    /// sought when neither is at hand.
    fn is_nearer(&self, a: Hole, b: Hole) -> bool {
        let at_hand = |to| self.way_at_hand(to).map(|w| w.beads(&self.layout));
        let far = |to| self.way_to(to).map_or(u32::MAX, |w| w.beads(&self.layout));
        match (at_hand(a), at_hand(b)) {
            (Some(a), Some(b)) => a <= b,
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => far(a) <= far(b),
        }
    }

    /// Begins a job that starts where the needle leaves `first`: the thread in
    /// hand is taken there if it can be, else it is ended and a new one begun.
    fn begin_at(&mut self, kind: JobKind, title: String, first: Hole) {
        let way = self.way_to(first);
        if way.is_none() {
            self.end_thread();
        }
        self.begin(kind, title);
        self.weave(way, first);
    }

    /// Takes the needle through beads already there until it leaves `to`.
    fn weave_to(&mut self, to: Hole) {
        let way = self.way_to(to);
        self.weave(way, to);
    }

    /// Goes a way; if there is none, ends the thread and takes up a new one.
    fn weave(&mut self, way: Option<Weave>, to: Hole) {
        match way {
            Some(Weave::Beads(beads)) => self.pass(beads),
            Some(Weave::Side(panel, side)) => {
                self.enter_side(panel, side);
                self.push(Through {
                    kind: Kind::PassThrough,
                    round: None,
                    side: Some(side),
                    run: Run::Edge(panel, side),
                });
                self.leave(Hole::front(self.layout.edge_end(panel, side)));
                self.enter_side(panel, self.layout.kind(panel).next_side(side));
            }
            None => {
                self.end_thread();
                let beads = route::weave_out(self.work(), to, WOVEN);
                self.take_thread(beads);
            }
        }
        self.leave(to);
    }

    /// Takes the needle from the corner before a side through its first bead.
    fn enter_side(&mut self, panel: Panel, side: Side) {
        let first = self.layout.edge_bead(panel, side, 0);
        if self.needle != Some(Hole::front(first)) {
            self.pass(vec![first]);
            self.leave(Hole::front(first));
        }
    }

    /// The way of the needle to leave `to`.
    fn way_to(&self, to: Hole) -> Option<Weave> {
        self.way_at_hand(to).or_else(|| {
            let way = route::shortest(self.work(), self.needle?, FAR, |h| h == to)?;
            Some(Weave::Beads(way))
        })
    }

    /// A way that is known without a search: none at all, one bead, or along
    /// one whole side of a panel. That moves one bead length a pass, and no
    /// way moves more.
    fn way_at_hand(&self, to: Hole) -> Option<Weave> {
        let needle = self.needle?;
        if needle == to {
            return Some(Weave::Beads(vec![]));
        }
        if route::next_holes(self.work(), needle).contains(&to.through()) {
            return Some(Weave::Beads(vec![to.bead]));
        }
        let goal = self.layout.seat(to.bead);
        let (panel, kind) = (goal.panel, self.layout.kind(goal.panel));
        let first = |side| Hole::front(self.layout.edge_bead(panel, side, 0));
        if goal.part != Part::Face || goal.round != kind.last() || to != first(goal.side) {
            return None;
        }
        let side = kind.side_before(goal.side);
        let corner = (panel, kind.side_before(side));
        let at = self.work().corners_at(needle);
        let here = |&c: &Corner| self.seams.are_together(c, corner);
        (needle == first(side) || at.iter().any(here)).then_some(Weave::Side(panel, side))
    }

    fn pass(&mut self, beads: Vec<Bead>) {
        if beads.is_empty() {
            return;
        }
        self.push(Through {
            kind: Kind::PassThrough,
            round: None,
            side: None,
            run: Run::Beads(beads.into()),
        });
    }

    // --- thread -------------------------------------------------------------

    /// Millimetres of thread for each bead gone through: its hole, and the hop
    /// to the next, half a diameter as in neighbouring rounds.
    fn pass_mm(&self) -> f64 {
        self.layout.pass_mm()
    }

    fn take_thread(&mut self, through: Vec<Bead>) {
        self.threads.push(self.steps);
        let thread = self.layout.project().thread;
        let usable = thread.cut_mm - 2.0 * thread.tail_mm;
        self.reach = (usable / self.pass_mm()).max(1.0) as u64;
        self.add(Through {
            kind: Kind::StartThread,
            round: None,
            side: None,
            run: Run::Beads(through.into()),
        });
    }

    fn end_thread(&mut self) {
        let Some(needle) = self.needle.take() else {
            return;
        };
        let beads = route::weave_in(self.work(), needle, WOVEN);
        self.add(Through {
            kind: Kind::EndThread,
            round: None,
            side: None,
            run: Run::Beads(beads.into()),
        });
    }

    fn renew_thread(&mut self, at: Hole) {
        self.leave(at);
        self.end_thread();
        let beads = route::weave_out(self.work(), at, WOVEN);
        self.take_thread(beads);
        self.leave(at);
    }

    // --- stages -------------------------------------------------------------

    /// Adds a stage, renewing thread before it or within it where it would
    /// not last.
    fn push(&mut self, stage: impl Into<Stage>) {
        let stage = stage.into();
        let steps = stage.steps(&self.layout);
        let mut from = 0;
        loop {
            let done = stage.passes_before(&self.layout, from);
            let all = stage.passes_before(&self.layout, steps);
            if u64::from(all - done) <= self.reach || !may_renew(&stage) {
                self.add_span(stage, from, steps);
                return;
            }
            let at = self.break_before(&stage, from, done + self.reach as u32);
            if at > from {
                let hole = self.hole_after(&stage, at - 1);
                self.add_span(stage.clone(), from, at);
                self.renew_thread(hole);
            } else {
                // Not one step more: renew first. A fresh thread always does
                // a few steps, so this ends.
                let Some(needle) = self.stage_needle(&stage, from) else {
                    self.add_span(stage, from, steps);
                    return;
                };
                self.renew_thread(needle);
                if self.reach < 8 {
                    self.add_span(stage, from, steps);
                    return;
                }
            }
            from = at;
        }
    }

    /// Where the needle leaves before step `from` of a stage.
    fn stage_needle(&self, stage: &Stage, from: u32) -> Option<Hole> {
        if from > 0 {
            return Some(self.hole_after(stage, from - 1));
        }
        match stage {
            Stage::Rounds(r) => Some(self.first_of(r.panel, r.on)),
            _ => self.needle,
        }
    }

    /// The best place to renew thread: the last step that the thread does,
    /// moved back into the middle of a side if a corner is near.
    fn break_before(&self, stage: &Stage, from: u32, passes: u32) -> u32 {
        let (mut low, mut high) = (from, stage.steps(&self.layout));
        while high - low > 1 {
            let mid = low + (high - low) / 2;
            if stage.passes_before(&self.layout, mid) <= passes {
                low = mid;
            } else {
                high = mid;
            }
        }
        let quiet = |i: &u32| self.is_mid_side(stage, *i - 1);
        let earliest = low.saturating_sub(64).max(from + 1);
        (earliest..=low).rev().find(quiet).unwrap_or(low)
    }

    fn is_mid_side(&self, stage: &Stage, i: u32) -> bool {
        let draft = stage.step(&self.layout, i);
        match (draft.kind, draft.strings.first()) {
            (Kind::Stitch, Some(&bead)) => {
                let seat = self.layout.seat(bead);
                let margin = (seat.of / 4).min(3);
                seat.place >= margin && seat.place + margin < seat.of
            }
            (Kind::Zip, _) => true,
            _ => false,
        }
    }

    /// Where the needle leaves after step `i` of a stage.
    fn hole_after(&self, stage: &Stage, i: u32) -> Hole {
        let draft = stage.step(&self.layout, i);
        let bead = *draft.passes.last().expect("such a step passes beads");
        let end = match stage {
            Stage::Zip(zip) if !zip.forward => End::Back,
            // Anchors are met against their own direction.
            Stage::RimRound(_) if draft.kind != Kind::StepDown => End::Back,
            _ => End::Front,
        };
        Hole { bead, end }
    }

    fn add(&mut self, stage: impl Into<Stage>) {
        let stage = stage.into();
        let steps = stage.steps(&self.layout);
        self.add_span(stage, 0, steps);
    }

    fn add_span(&mut self, stage: Stage, from: u32, to: u32) {
        let layout = &self.layout;
        let passes = stage.passes_before(layout, to) - stage.passes_before(layout, from);
        let strung = stage.strung_before(layout, to) - stage.strung_before(layout, from);
        self.spans.push(Span {
            stage,
            from,
            to,
            steps_before: self.steps,
            beads_before: self.strung,
            passes_before: self.passes,
        });
        self.steps += to - from;
        self.strung += strung;
        self.passes += u64::from(passes);
        self.reach = self.reach.saturating_sub(u64::from(passes));
        let job = self.jobs.last_mut().expect("a stage belongs to a job");
        job.steps += to - from;
        job.beads += strung;
    }
}

/// A way of the needle.
enum Weave {
    /// Through these beads.
    Beads(Vec<Bead>),
    /// Along this side of a panel to its end and round the corner.
    Side(Panel, Side),
}

impl Weave {
    fn beads(&self, layout: &Layout) -> u32 {
        match self {
            Weave::Beads(beads) => beads.len() as u32,
            Weave::Side(panel, side) => 2 * layout.kind(*panel).edge(*side),
        }
    }
}

/// Whether thread can be renewed in the midst of a stage: not while a string
/// is not yet a ring, and not in a run that is over in a few steps.
fn may_renew(stage: &Stage) -> bool {
    matches!(
        stage,
        Stage::Rounds(_) | Stage::RimRound(_) | Stage::RowStage(_) | Stage::Zip(_)
    )
}

fn sides_in_words(sides: &[Side]) -> String {
    let numbers: Vec<String> = sides.iter().map(Side::to_string).collect();
    match numbers.as_slice() {
        [one] => format!("side {one}"),
        [most @ .., last] => format!("sides {} and {last}", most.join(", ")),
        [] => String::new(),
    }
}

impl Layout {
    /// Millimetres of thread for each bead gone through: the hole, and the hop
    /// to the next hole, half a diameter between neighbouring rounds.
    pub fn pass_mm(&self) -> f64 {
        self.bead_length_mm() + self.bead_diameter_mm() / 2.0
    }
}
