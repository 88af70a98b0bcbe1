//! The goal: what is to be made, as an ordered list of jobs.
//!
//! ```text
//! pattern -> Project -> Goal -> planner -> movements
//!                        jobs, and the panels they make
//! ```

use super::corner_mark::CornerMark;
use super::project::INSERT_FACES;
use super::{
    Bead, BeadKind, Colours, Frame, GapChange, GoalJob, JobKind, OwnStep, Panel, PanelColours,
    Project, Round, RowGap, Side, SpecIndex, ThreadChoice,
};
use std::ops::{Index, IndexMut};
use std::sync::Arc;

/// What is to be made, independent of what has been stitched.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Goal {
    /// The kinds of bead: those of the pattern, then those added by the maker.
    pub beads: Arc<Vec<BeadKind>>,
    /// For each kind of panel, the colours of a panel begun now.
    pub colours: Vec<Arc<Colours>>,
    /// The panels, in the order in which the jobs make them.
    pub panels: Vec<GoalPanel>,
    /// The jobs. They keep their numbers, which the work refers to.
    pub jobs: Vec<JobKind>,
    /// The jobs to be done, in order.
    pub order: Vec<GoalJob>,
    /// The inserts that are slipped into the faces that stay open.
    pub inserts: Vec<Insert>,
    /// How often the maker has changed it.
    pub amendments: u32,
    /// Whether a job was left out, so that the piece is not complete.
    pub is_in_part: bool,
    /// What the maker wants to do at the needle, each with the number of steps
    /// before it.
    pub here: Vec<(u32, AtNeedle)>,
    /// Panels that were made before or elsewhere, by the jobs that make them.
    pub made: Vec<GoalJob>,
    /// Thread and needle: those of the pattern, then those that the maker chose
    /// later.
    pub threads: Vec<ThreadChoice>,
    /// Whether thread ends are woven in through four beads, as in pieces of
    /// earlier builds.
    pub short_ends: bool,
}

macro_rules! index {
    ($number:ident, $list:ident: $of:ty) => {
        impl Index<$number> for Goal {
            type Output = $of;

            fn index(&self, number: $number) -> &$of {
                &self.$list[number.index()]
            }
        }

        impl IndexMut<$number> for Goal {
            fn index_mut(&mut self, number: $number) -> &mut $of {
                &mut self.$list[number.index()]
            }
        }
    };
}

index!(GoalJob, jobs: JobKind);
index!(Panel, panels: GoalPanel);

/// A panel that a job makes.
#[derive(Clone, Debug, PartialEq)]
pub struct GoalPanel {
    /// Its name.
    pub name: String,
    /// Its kind.
    pub spec: SpecIndex,
    /// Where it lies in the finished piece.
    pub frame: Frame,
    /// Rounds left open in its middle; `None` for as many as its kind.
    pub open: Option<u32>,
    /// The colours of its beads and of its join rows, if it is worked as in the
    /// pattern.
    pub colours: PanelColours,
    /// How many rounds it has; `None` for as many as its kind.
    pub rounds: Option<u32>,
    /// Gaps planned differently from the pattern, to return to the planned
    /// rounds.
    pub eased: Vec<GapChange>,
    /// Corners that the maker has marked in it.
    pub corners: Vec<CornerMark>,
    /// Join beads that the needle goes past, through the bead in the row next
    /// door: each with its side and its place there, see
    /// [`JoinWhat::NextDoor`](super::amend::JoinWhat::NextDoor).
    pub next_door: Vec<(Side, u32)>,
    /// What gaps of its join rows are to hold, those of each side in order; or, of
    /// a fill, all gaps of its rim.
    pub row_gaps: Vec<RowGap>,
    /// The stone that is set into it.
    pub stone: Option<Stone>,
    /// Whether the maker added it.
    pub is_added: bool,
}

/// An insert for a face that stays open.
#[derive(Clone, Debug, PartialEq)]
pub struct Insert {
    /// The job that reinforces the rim of the face.
    pub rim: GoalJob,
    /// The jobs that make the insert.
    pub jobs: Vec<GoalJob>,
    /// The step that slips it in, at the end of the last of them.
    pub slip_in: OwnStep,
    /// Those of its jobs that are left out of the order, as the face is closed.
    pub left_out: Vec<GoalJob>,
}

/// Something that the maker wants to do at the needle.
#[derive(Clone, Debug, PartialEq)]
pub enum AtNeedle {
    /// An own step.
    Own(OwnStep),
    /// The current thread ends.
    EndThread,
    /// The needle is sewn through to a bead.
    SewThrough(Bead),
}

/// A stone in the opening of a fill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stone {
    /// Its diameter, mm.
    pub mm: f64,
    /// It is set in after this round, before the next one inward is sewn.
    pub behind: Round,
}

impl Goal {
    /// Adds a job at a position of the order.
    pub(super) fn insert(&mut self, at: usize, kind: JobKind) {
        self.jobs.push(kind);
        self.order.insert(at, GoalJob(self.jobs.len() as u16 - 1));
    }

    /// The jobs to be done, in order.
    pub fn ordered(&self) -> impl Iterator<Item = &JobKind> + Clone {
        self.order.iter().map(|job| &self[*job])
    }

    /// Leaves of a job what comes before a part of it, and makes another job of
    /// what comes after. Returns the place in the order where the part was.
    ///
    /// # Panics
    /// The job is not in the order.
    pub(super) fn take_out(
        &mut self,
        job: GoalJob,
        before: Option<JobKind>,
        after: Option<JobKind>,
    ) -> usize {
        let at = self.order.iter().position(|other| *other == job);
        let mut at = at.expect("the job is in the order");
        match before {
            Some(before) => {
                self[job] = before;
                at += 1;
            }
            None => _ = self.order.remove(at),
        }
        if let Some(after) = after {
            self.insert(at, after);
        }
        at
    }

    /// A goal with the beads and colours of a project, and no jobs.
    pub(super) fn empty(project: &Project) -> Goal {
        let colours = project.panels.iter().map(|spec| &spec.colours);
        Goal {
            beads: Arc::new(project.beads.clone()),
            colours: colours.cloned().map(Arc::new).collect(),
            threads: vec![ThreadChoice {
                lengths_before: 0,
                thread: project.thread,
                needle: project.needle,
            }],
            ..Goal::default()
        }
    }

    /// Thread and needle of the length that is started after `lengths` lengths.
    pub fn thread_after(&self, lengths: usize) -> ThreadChoice {
        let is_chosen = |choice: &&ThreadChoice| choice.lengths_before <= lengths;
        *(self.threads.iter().rfind(is_chosen)).expect("a goal begins with a thread")
    }

    /// Thread and needle of the lengths that are still to be started.
    pub fn thread_to_come(&self) -> ThreadChoice {
        self.thread_after(usize::MAX)
    }

    /// Panels before those of the inserts.
    fn panels_before_inserts(&self) -> usize {
        self.panels.len() - INSERT_FACES * self.inserts.len()
    }

    /// Takes over beads, thread and panels from the goal of a shorter or longer
    /// ring, panel by panel and insert by insert. Panels that the other goal does
    /// not have get what all its panels of the same kind have.
    pub(super) fn take_over_choices(&mut self, other: &Goal) {
        (self.beads, self.colours) = (other.beads.clone(), other.colours.clone());
        (self.threads, self.here) = (other.threads.clone(), other.here.clone());
        self.amendments = other.amendments;
        self.short_ends = other.short_ends;
        let inserts = self.panels_before_inserts();
        let (ring, of_inserts) = other.panels.split_at(other.panels_before_inserts());
        for (nth, panel) in self.panels.iter_mut().enumerate() {
            let mut like = other.panels.iter().filter(|other| other.spec == panel.spec);
            let own = match nth.checked_sub(inserts) {
                None => ring.get(nth),
                Some(nth) => of_inserts.get(nth),
            };
            if let Some(own) = own.filter(|own| own.spec == panel.spec) {
                let (name, frame) = (panel.name.clone(), panel.frame.clone());
                *panel = GoalPanel {
                    name,
                    frame,
                    ..own.clone()
                };
                continue;
            }
            panel.colours = PanelColours::new(self.colours[panel.spec].clone());
            let rounds = like.next().and_then(|first| first.rounds);
            panel.rounds = rounds.filter(|rounds| like.all(|other| other.rounds == Some(*rounds)));
        }
    }

    /// Adds a panel of a kind, in the current colours of the kind.
    pub(super) fn add_panel(&mut self, name: String, spec: SpecIndex, frame: Frame) -> Panel {
        self.panels.push(GoalPanel {
            name,
            spec,
            frame,
            open: None,
            rounds: None,
            eased: vec![],
            corners: vec![],
            next_door: vec![],
            row_gaps: vec![],
            stone: None,
            is_added: false,
            colours: PanelColours::new(self.colours[spec].clone()),
        });
        Panel(self.panels.len() as u16 - 1)
    }

    /// The name of a panel; none of one that is left out.
    pub(super) fn name(&self, panel: Panel) -> &str {
        // A job that is no longer to be done may refer to a panel that is left
        // out.
        self.panels.get(panel.index()).map_or("", |p| &p.name)
    }

    /// The title of a job.
    pub fn title(&self, job: &JobKind) -> String {
        let name = |panel: &Panel| self.name(*panel);
        match job {
            JobKind::Panel(panel) => name(panel).to_string(),
            JobKind::JoinRow { panel, sides, .. } => {
                format!("Join row on {}, {}", name(panel), sides_in_words(sides))
            }
            JobKind::Zip(panel, joins) => {
                let mut onto: Vec<&str> = joins.iter().map(|join| name(&join.onto)).collect();
                onto.dedup();
                format!("Zip {} to {}", name(panel), onto.join(" and "))
            }
            JobKind::SetIn(panel, _) => format!("Set in {}", name(panel)),
            JobKind::SetInMiddle { panel, around } => {
                format!("Set in {} within {}", name(panel), name(around))
            }
            JobKind::Fill { panel, .. } => format!("Fill {}", name(panel)),
            JobKind::FirmRim(rim) => {
                let names: Vec<&str> = rim.iter().map(|(panel, _)| name(panel)).collect();
                match rim.iter().all(|(panel, _)| *panel == rim[0].0) {
                    true => format!("Reinforce the rim of {}", names[0]),
                    false => format!("Reinforce the rim between {}", names.join(", ")),
                }
            }
            JobKind::Reinforce(panel, side) => {
                format!("Reinforce the join of {}, side {side}", name(panel))
            }
            JobKind::Tie((from, _), (to, _)) => {
                let net = |panel: &Panel| self.name(*panel).split_once(", ").map(|(net, _)| net);
                match net(from).filter(|of| net(to) == Some(of)) {
                    Some(net) => format!("Fold {net} and tie its corners"),
                    None => "Fold and tie the corners".to_string(),
                }
            }
        }
    }
}

fn sides_in_words(sides: &[Side]) -> String {
    let numbers: Vec<String> = sides.iter().map(Side::to_string).collect();
    match numbers.as_slice() {
        [one] => format!("side {one}"),
        [most @ .., last] => format!("sides {} and {last}", most.join(", ")),
        [] => String::new(),
    }
}
