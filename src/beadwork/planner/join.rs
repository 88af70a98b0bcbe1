//! Joins: rows are worked, bare sides are zipped onto them, rims are
//! reinforced.

use super::needle::Weave;
use super::{PlanRule, Planner};
use crate::beadwork::stage::{Lock, Path, RowStage, Still, Through, Zip};
use crate::beadwork::work::GoalJob;
use crate::beadwork::{Corner, Hole, Kind, Panel, Side, SideJoin, Stage};

impl Planner {
    /// Works join rows.
    pub(super) fn row(&mut self, job: GoalJob, (panel, sides): (Panel, &[Side])) {
        let first = |p: &Planner, side| Hole::front(p.layout().edge_bead(panel, side, 0));
        let done = self.stages_begun_at(job, first(self, sides[0]));
        for (part, &side) in sides.iter().enumerate() {
            if let Some((stage, steps)) = done.get(part) {
                self.go_on(stage.clone(), *steps);
                continue;
            }
            self.weave_to(first(self, side));
            self.prepare(job, part as u16);
            let row = self.layout().row_on(panel, side).expect(WORKED_BEFORE);
            self.push(RowStage { row });
        }
    }

    /// Zips bare sides of a panel onto the rows of others.
    pub(super) fn zip(&mut self, job: GoalJob, panel: Panel, joins: &[SideJoin]) {
        let done = self.stages_begun(job);
        let mut begun = done.is_some();
        let done = done.unwrap_or_default();
        let folds = done.iter().filter(|(stage, _)| is_fold(stage)).count();
        let mut zips = done.iter().filter(|(stage, _)| !is_fold(stage));
        let mut sewn: Vec<Zip> = vec![];
        for (part, join) in joins.iter().enumerate() {
            self.prepare(job, part as u16);
            if let Some((stage, steps)) = zips.next() {
                self.go_on(stage.clone(), *steps);
                if let Stage::Zip(zip) = stage {
                    sewn.push(*zip);
                }
                continue;
            }
            let layout = self.layout();
            let zip = |forward| Zip::of(layout, panel, join, forward);
            let zips = [true, false].map(|forward| zip(forward).expect(WORKED_BEFORE));
            let by_the_tips = sewn.last().and_then(|last| self.by_the_tips(last, zips));
            let (zip, way) = match by_the_tips {
                Some((zip, way)) => (zip, Some(Weave::Beads(way))),
                None => {
                    let ends = zips.map(|zip| zip.start(layout));
                    let (first, way) = self.nearer(ends);
                    (zips[usize::from(first != ends[0])], way)
                }
            };
            if !begun {
                self.begin_by(job, way.is_some());
                begun = true;
            }
            if part > folds {
                self.push(Still::fold(Some(join.side)));
            }
            self.weave(way, zip.start(self.layout()));
            self.push(zip);
            sewn.push(zip);
        }
        // Round the last corner of a panel that is zipped all the way round.
        if let [first, .., last] = sewn[..]
            && sewn.len() == usize::from(self.layout().kind(panel).sides())
            && let Some((_, mut way)) = self.by_the_tips(&last, [first; 2])
        {
            way.pop();
            self.pass(way);
        }
    }

    /// From the end of a zip through the tip beads at the corner there to one
    /// of the zips that begin at it. `None` if there are no tip beads or the
    /// needle is elsewhere.
    fn by_the_tips(&self, last: &Zip, next: [Zip; 2]) -> Option<(Zip, Vec<Hole>)> {
        if self.plan_rule < PlanRule::ShortEnds {
            return None;
        }
        let (needle, layout) = (self.work.needle()?, self.layout());
        let touching = self.work.touching();
        next.into_iter().find_map(|zip| {
            let tips = zip.tips_behind(last, layout);
            let passed = tips.iter().position(|tip| tip.bead == needle.bead);
            let left = &tips[passed.map_or(0, |at| at + 1)..];
            let way: Vec<Hole> = left.iter().copied().chain([zip.start(layout)]).collect();
            let before = [needle].into_iter().chain(way.iter().copied());
            let mut hops = before.zip(&way);
            let leads = hops.all(|(from, to)| touching.meet_at_a_tip(from, to.through()));
            leads.then_some((zip, way))
        })
    }

    /// Sews a second time through the join of a zipped side, from the nearer
    /// end.
    pub(super) fn reinforce(&mut self, job: GoalJob, (panel, side): Corner) {
        let Some((row, runs)) = self.work.seams.row_of((panel, side)) else {
            return;
        };
        let within = self.work.seams.lies_within((panel, side));
        let zip = |forward| Zip {
            row,
            panel,
            side,
            runs,
            forward,
            within,
        };
        let done = self.stages_begun(job);
        if let Some((stage, steps)) = done.as_ref().and_then(|done| done.first()) {
            self.go_on(stage.clone(), *steps);
            return;
        }
        let ends = [true, false].map(|forward| zip(forward).start(self.layout()));
        let (first, way) = self.nearer(ends);
        if done.is_none() {
            self.begin_by(job, way.is_some());
        }
        self.weave(way, first);
        let beads = zip(first == ends[0]).beads(self.layout());
        self.push(Through::along(side, Kind::Firm, Path::Beads(beads.into())));
    }

    /// Locks a finished panel into the open middle of another.
    pub(super) fn set_in_middle(&mut self, job: GoalJob, panel: Panel, around: Panel) {
        let lock = Lock { panel, around };
        let done = self.stages_begun_at(job, lock.start(self.layout()));
        self.in_turn(vec![lock.into()], &done);
    }

    /// Reinforces the rim of an opening between panels.
    pub(super) fn firm_rim(&mut self, job: GoalJob, rim: &[Corner]) {
        self.prepare(job, 0);
        let index = self.layout().find_rim(rim).expect("the rim is prepared");
        let (panel, side) = rim[0];
        let first = Hole::back(self.layout().edge_end(panel, side));
        let done = self.stages_begun_at(job, first);
        self.in_turn(vec![Through::firming(self.layout(), index).into()], &done);
    }
}

const WORKED_BEFORE: &str = "the goal works a row before it is joined";

fn is_fold(stage: &Stage) -> bool {
    matches!(stage, Stage::Still(_))
}
