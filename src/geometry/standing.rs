//! The state of each face and each side at a step: made, joined, open, or being
//! worked on.
//!
//! It is worked out from the jobs without replaying steps: a face is made when
//! its job is done, a side is joined when the zip has passed it.

use super::shape::{PlateSide, Shape};
use crate::beadwork::job::JobKind;
use crate::beadwork::number::{Round, Step};
use crate::beadwork::project::WorkDirection;
use crate::beadwork::{Job, Kind, Sequence};

/// The most movements of a zip between two of its sides.
const MAX_BETWEEN_SIDES: usize = 500;

/// The state of a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FaceState {
    /// Not made yet.
    Open,
    /// It is being made or joined by the current job.
    Now,
    /// It is made, and some of its sides are still to be joined.
    Made,
    /// All its sides that will ever be joined are joined.
    Joined,
}

impl FaceState {
    /// All of them, in the order of a legend.
    pub const ALL: [FaceState; 4] = [
        FaceState::Now,
        FaceState::Joined,
        FaceState::Made,
        FaceState::Open,
    ];
}

/// The state of a side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SideState {
    /// It is never joined.
    Free,
    /// It will be joined.
    Waiting,
    /// It is being joined.
    Now,
    /// It is joined.
    Joined,
}

/// The state of the faces and sides of a piece after some steps.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Of each plate.
    pub faces: Vec<FaceState>,
    /// Of each side of each plate.
    pub sides: Vec<Vec<SideState>>,
    /// If a face is being made: its plate, and its first and last finished
    /// rounds.
    pub finished_rounds: Option<(usize, Round, Round)>,
    /// The sides that are being joined.
    pub join: Vec<PlateSide>,
}

/// What the current job works on.
#[derive(Clone, Debug, Default)]
struct CurrentJob {
    job: Option<Job>,
    plate: Option<usize>,
    /// Sides of this job that are already joined.
    joined: Vec<PlateSide>,
    join: Vec<PlateSide>,
    finished_rounds: Option<(usize, Round, Round)>,
}

impl Standing {
    /// The state of everything when `done` steps are done.
    pub fn at(seq: &Sequence, body: &Shape, done: Step) -> Standing {
        let current = CurrentJob::at(seq, body, done);
        let is_done = |job: Job| match current.job {
            Some(now) => job < now,
            None => true,
        };
        let side = |plate: usize, side: usize| {
            let Some(nth) = body.plates[plate].seams[side] else {
                return SideState::Free;
            };
            let own = PlateSide { plate, side };
            if current.join.contains(&own) {
                return SideState::Now;
            }
            let seam = &body.seams[nth];
            let at = seam.sides.iter().position(|s| *s == own).unwrap_or(0);
            let mut jobs = seam.joined_by.iter().zip(&seam.sides).skip(1);
            let joined =
                |(job, bare): (&Job, &PlateSide)| is_done(*job) || current.joined.contains(bare);
            // The side with the join row is joined when the last of the others
            // is.
            let is_joined = match at {
                0 => jobs.all(joined),
                at => joined((&seam.joined_by[at], &own)),
            };
            match is_joined {
                true => SideState::Joined,
                false => SideState::Waiting,
            }
        };
        let sides: Vec<Vec<SideState>> = (body.plates.iter().enumerate())
            .map(|(p, plate)| (0..plate.corners.len()).map(|s| side(p, s)).collect())
            .collect();
        let face = |(p, sides): (usize, &Vec<SideState>)| {
            if current.plate == Some(p) {
                return FaceState::Now;
            }
            let joins = || sides.iter().filter(|s| **s != SideState::Free);
            match () {
                () if !body.plates[p].made_by.is_some_and(is_done) => FaceState::Open,
                () if body
                    .middle_of(p)
                    .is_some_and(|set_in| is_done(set_in.joined_by)) =>
                {
                    FaceState::Joined
                }
                () if joins().next().is_some() && joins().all(|s| *s == SideState::Joined) => {
                    FaceState::Joined
                }
                () => FaceState::Made,
            }
        };
        Standing {
            faces: sides.iter().enumerate().map(face).collect(),
            sides,
            finished_rounds: current.finished_rounds,
            join: current.join,
        }
    }

    /// As [`at`](Self::at) when all steps are done.
    pub fn finished(seq: &Sequence, body: &Shape) -> Standing {
        Standing::at(seq, body, Step(seq.steps()))
    }

    /// How many faces are in this state.
    pub fn count(&self, state: FaceState) -> usize {
        self.faces.iter().filter(|f| **f == state).count()
    }
}

impl CurrentJob {
    fn at(seq: &Sequence, body: &Shape, done: Step) -> CurrentJob {
        let next = Step(done.0 + 1);
        let Some(movement) = seq.step(next) else {
            return CurrentJob::default();
        };
        let info = seq.job(movement.job);
        let mut current = CurrentJob {
            job: Some(movement.job),
            plate: Some(info.panel().index()),
            ..CurrentJob::default()
        };
        match &info.kind {
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                // On the way from one side to another, the next side counts.
                let zips = seq
                    .iter_from(next)
                    .take(MAX_BETWEEN_SIDES)
                    .take_while(|m| m.job == movement.job)
                    .filter(|m| m.kind == Kind::Zip);
                let at = zips
                    .filter_map(|m| m.side)
                    .find_map(|side| joins.iter().position(|j| j.side == side));
                let ends = |nth: usize| {
                    let join = &joins[nth];
                    [(*panel, join.side), (join.onto, join.at)].map(PlateSide::of)
                };
                let past = at.unwrap_or(joins.len());
                current.joined = (0..past).map(|nth| ends(nth)[0]).collect();
                current.join = at.map_or(vec![], |at| ends(at).to_vec());
            }
            JobKind::Panel(panel) | JobKind::Fill { panel, .. } => {
                let direction = seq.layout().making(*panel).begin.way();
                let all = seq.layout().kind(*panel).rounds();
                let open = body.plates[panel.index()].open;
                let round = movement.round.unwrap_or(match direction {
                    WorkDirection::Outward => Round(1),
                    WorkDirection::Inward => Round(all),
                });
                // Drawn as made: the rounds finished before the current one.
                let finished = match direction {
                    WorkDirection::Outward => (Round(1), Round(round.0.saturating_sub(1))),
                    WorkDirection::Inward => (Round(round.0 + 1), Round(all)),
                };
                let closing = movement.round.is_none() && movement.step.0 > info.steps_before + 2;
                current.finished_rounds = Some(match closing {
                    true => (panel.index(), Round(open + 1), Round(all)),
                    false => (panel.index(), finished.0, finished.1),
                });
            }
            JobKind::JoinRow { panel, .. } => {
                if let Some(side) = movement.side {
                    current.join = vec![PlateSide::of((*panel, side))];
                }
            }
            JobKind::SetInMiddle { .. }
            | JobKind::Reinforce(..)
            | JobKind::FirmRim(_)
            | JobKind::Tie(..) => {}
        }
        current
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    fn states(seq: &Sequence, body: &Shape, done: u32) -> Vec<FaceState> {
        Standing::at(seq, body, Step(done)).faces
    }

    #[test]
    fn a_tetrahedron_comes_together_face_by_face() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 4, Closing::SetIn));
        let body = Shape::of(&seq);
        use FaceState::*;
        assert_eq!(states(&seq, &body, 0), [Now, Open, Open, Open]);
        assert_eq!(states(&seq, &body, seq.steps()), [Joined; 4]);
        // While the second face is being made, the first waits to be joined to
        // it.
        let second = seq
            .jobs()
            .iter()
            .find(|j| j.kind == JobKind::Panel(crate::beadwork::Panel(1)));
        let at = second.unwrap().steps_before + 5;
        assert_eq!(states(&seq, &body, at), [Made, Now, Open, Open]);
    }

    /// A face that is left out is never made.
    #[test]
    fn what_is_left_out_stays_open() {
        use crate::beadwork::amend::Amendment;
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 4, Closing::SetIn));
        let seq = seq.amended(Step(3), &Amendment::Finish).unwrap();
        let finished = Standing::finished(&seq, &Shape::of(&seq));
        assert_eq!(finished.count(FaceState::Made), 1);
        assert_eq!(finished.count(FaceState::Open), 3);
    }

    /// A joined face or side never goes back to made.
    #[test]
    fn what_is_joined_stays_joined() {
        for project in [
            testing::solid(Solid::Octahedron, 3, Closing::SetIn),
            testing::ring(8, 3, Closing::Fill),
            testing::folded_pair(4, 1),
        ] {
            let seq = Sequence::new(project);
            let body = Shape::of(&seq);
            let mut before: Vec<(usize, usize)> = vec![];
            for done in 0..=seq.steps() {
                let now = Standing::at(&seq, &body, Step(done));
                let joined: Vec<(usize, usize)> = (0..now.sides.len())
                    .flat_map(|p| (0..now.sides[p].len()).map(move |s| (p, s)))
                    .filter(|&(p, s)| now.sides[p][s] == SideState::Joined)
                    .collect();
                for &(p, s) in &before {
                    let still = now.sides[p][s];
                    // Sides are joined to the row of a hinge one after another.
                    let hinge =
                        body.plates[p].seams[s].is_some_and(|n| body.seams[n].sides.len() > 2);
                    assert!(
                        still == SideState::Joined || hinge,
                        "step {done}: {p} {s} {still:?}"
                    );
                }
                before = joined;
            }
            let all = before.len();
            let joins: usize = body.seams.iter().map(|s| s.sides.len()).sum();
            assert_eq!(all, joins);
        }
    }

    #[test]
    fn every_zip_marks_both_its_sides() {
        let seq = Sequence::new(testing::solid(Solid::Cube, 9, Closing::SetIn));
        let body = Shape::of(&seq);
        for job in seq
            .jobs()
            .iter()
            .filter(|j| matches!(j.kind, JobKind::Zip(..)))
        {
            let now = Standing::at(&seq, &body, Step(job.steps_before));
            assert_eq!(now.join.len(), 2);
            for side in &now.join {
                assert_eq!(now.sides[side.plate][side.side], SideState::Now);
            }
        }
    }
}
