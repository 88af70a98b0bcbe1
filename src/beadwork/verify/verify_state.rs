//! What the verifier knows while it reads: the work so far, and what it has
//! found.

use super::end::BeadEnd;
use super::face::Face;
use super::finding::{Fault, Finding};
use super::hinge::SewnThrough;
use super::holes::HoleUse;
use super::labels::Labels;
use super::ledger::{Ledger, SewnPanel};
use super::required::{Required, RequiredPanel};
use super::thread::ThreadState;
use super::{MOST_FINDINGS, Report};
use crate::beadwork::goal::Goal;
use crate::beadwork::job::JobInfo;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Job, Panel, Round, Side, Step};
use crate::beadwork::project::{PanelSpec, Project, SpecIndex};
use std::collections::{HashMap, HashSet};
use std::rc::Rc;

#[derive(Debug)]
pub(super) struct VerifyState<'a> {
    pub project: &'a Project,
    pub required: Required,
    pub thread: ThreadState,
    /// The beads that close the middle of a panel.
    pub closed: HashSet<Bead>,
    /// Whether ends of thread may be short.
    pub short_ends: bool,
    pub holes: HoleUse,
    pub ledger: Ledger,
    pub report: Report,
    strung: Vec<bool>,
    /// The panel whose face the current job makes, and whether it has a bead
    /// yet.
    pub face: Option<Panel>,
    pub face_is_begun: bool,
    /// The panel of each bead that is part of a face.
    faces_of: Vec<Option<Panel>>,
    /// Beads outside the face that faces were sewn through.
    pub sewn_through: Vec<SewnThrough>,
    /// The face of each kind of panel and number of open rounds.
    faces: HashMap<(SpecIndex, u32), Rc<Face>>,
    panels: u32,
    /// The step, the job and the round to which findings refer.
    place: PlaceInSteps,
}

/// Where in the steps something is.
type PlaceInSteps = (Option<Step>, Option<Job>, Option<Round>);

impl<'a> VerifyState<'a> {
    pub fn new(project: &'a Project, goal: &Goal, (jobs, broken_out): (&[JobInfo], usize)) -> Self {
        let beads = jobs.iter().map(|job| job.beads).sum::<u32>() + broken_out as u32;
        VerifyState {
            project,
            required: Required::new(project, goal),
            thread: ThreadState::new(beads),
            closed: HashSet::new(),
            short_ends: goal.short_ends,
            holes: HoleUse::new(goal, beads),
            ledger: Ledger::default(),
            report: Report::default(),
            strung: vec![false; beads as usize + 1],
            face: None,
            face_is_begun: false,
            faces_of: vec![None; beads as usize + 1],
            sewn_through: vec![],
            faces: HashMap::new(),
            panels: 0,
            place: (None, None, None),
        }
    }

    /// From here on findings refer to this step.
    pub fn set_step(&mut self, m: &Movement) {
        self.place = (Some(m.step), Some(m.job), m.round);
    }

    /// From here on findings refer to this job, or to the whole piece.
    pub fn set_job(&mut self, job: Option<Job>) {
        self.place = (None, job, None);
    }

    /// Records something that breaks a rule.
    pub fn record(&mut self, fault: Fault) {
        if self.report.findings.len() >= MOST_FINDINGS {
            self.report.more += 1;
            return;
        }
        let finding = self.finding(fault);
        self.report.findings.push(finding);
    }

    /// A finding with the current place in the steps.
    pub fn finding(&self, fault: Fault) -> Finding {
        let (step, job, round) = self.place;
        Finding {
            step,
            job,
            round,
            fault,
        }
    }

    /// Records something that breaks a rule at an earlier step, in the order of
    /// the steps.
    pub fn record_earlier(&mut self, finding: Finding) {
        let findings = &mut self.report.findings;
        let is_before = |other: &Finding| other.step.is_some_and(|step| Some(step) <= finding.step);
        let at = findings.iter().rposition(is_before);
        findings.insert(at.map_or(0, |before| before + 1), finding);
        if findings.len() > MOST_FINDINGS {
            findings.pop();
            self.report.more += 1;
        }
    }

    /// Records a fault, if there is one.
    pub fn check(&mut self, result: Result<(), Fault>) {
        if let Err(fault) = result {
            self.record(fault);
        }
    }

    pub fn report(mut self) -> Report {
        self.report.fullest = self.holes.fullest();
        self.report
    }

    // --- beads ---

    pub fn is_known(&self, bead: Bead) -> bool {
        bead.0 > 0 && (bead.0 as usize) < self.strung.len()
    }

    pub fn is_strung(&self, bead: Bead) -> bool {
        self.is_known(bead) && self.strung[bead.0 as usize]
    }

    pub fn string(&mut self, bead: Bead) {
        self.strung[bead.0 as usize] = true;
        self.faces_of[bead.0 as usize] = self.face;
        self.face_is_begun = true;
        self.report.beads += 1;
    }

    /// The panel whose face a bead is part of.
    pub fn face_of(&self, bead: Bead) -> Option<Panel> {
        self.faces_of.get(bead.0 as usize).copied().flatten()
    }

    /// The first bead that was never strung.
    pub fn first_missing(&self) -> Option<Bead> {
        let missing = self.strung.iter().skip(1).position(|&strung| !strung);
        missing.map(|before| Bead(before as u32 + 1))
    }

    // --- the thread ---

    /// Requires that the needle leaves this end.
    pub fn must_leave(&mut self, end: BeadEnd) {
        let result = self.thread.must_leave(end);
        self.check(result);
    }

    /// Two ends are drawn together here by the law of the work.
    pub fn draw_together(&mut self, a: BeadEnd, b: BeadEnd) {
        self.thread.links.join(a, b);
    }

    // --- checks that many readers share ---

    /// Checks that a stitch fills a gap, counted from 0, with this number of
    /// beads.
    pub fn check_fill(&mut self, m: &Movement, gap: usize, beads: usize) {
        let kind = match beads {
            0 => Kind::Decrease,
            1 => Kind::Stitch,
            _ => Kind::Increase,
        };
        if m.strings.len() != beads || m.kind != kind {
            self.record_gap(m, gap, beads);
        }
    }

    /// Records that a gap, counted from 0, takes another number of beads.
    pub fn record_gap(&mut self, m: &Movement, gap: usize, beads: usize) {
        self.record(Fault::GapHolds {
            gap: gap as u32 + 1,
            expected: beads as u32,
            found: m.strings.len() as u32,
        });
    }

    /// Records a movement that does not belong here.
    pub fn unexpected(&mut self, m: &Movement, expected: Option<Kind>) {
        let found = m.kind;
        self.record(Fault::Unexpected { expected, found });
    }

    /// Checks the kind of a movement; `false` if it is another one.
    pub fn check_kind(&mut self, m: &Movement, expected: Kind) -> bool {
        if m.kind != expected {
            self.unexpected(m, Some(expected));
        }
        m.kind == expected
    }

    /// Checks the round that a step names.
    pub fn check_round(&mut self, m: &Movement, expected: Round) {
        if m.round != Some(expected) {
            self.record(Fault::RoundNumber { expected });
        }
    }

    /// Checks the side that a step names.
    pub fn check_side(&mut self, m: &Movement, expected: Side) {
        let found = m.side;
        if found != Some(expected) {
            self.record(Fault::SideNumber { expected, found });
        }
    }

    /// Checks the number of beads of a complete round.
    pub fn check_round_holds(&mut self, expected: usize, found: usize) {
        if found != expected {
            let (expected, found) = (expected as u32, found as u32);
            self.record(Fault::RoundHolds { expected, found });
        }
    }

    /// Checks the step's own count, and the full number of its round.
    pub fn check_counts(&mut self, m: &Movement, beads: usize, target: usize) {
        let expected = (beads as u32, target as u32);
        let found = (m.round_beads, m.round_target);
        if found != expected {
            self.record(Fault::RoundFields { expected, found });
        }
    }

    /// Checks the beads already there that are passed, at most one.
    pub fn check_old_bead(&mut self, m: &Movement, expected: Option<Bead>) {
        let found = old_bead(m);
        if found != expected || m.passes.len() != m.strings.len() + usize::from(found.is_some()) {
            self.record(Fault::WrongBead { expected, found });
        }
    }

    // --- panels ---

    /// Moves on to the next panel, which the job says is `panel`; returns what
    /// is asked of it.
    pub fn next_panel(&mut self, panel: Panel) -> Option<RequiredPanel> {
        let required = self.required.panels.get(self.panels as usize).copied();
        let expected = required.map_or(Panel(self.panels as u16), |next| next.panel);
        self.panels += 1;
        if panel != expected {
            let found = panel;
            self.record(Fault::WrongPanel { expected, found });
        }
        required
    }

    /// The face of the next panel, which the job says is `panel`.
    pub fn next_face(&mut self, panel: Panel) -> Option<Rc<Face>> {
        let RequiredPanel { spec, open, .. } = self.next_panel(panel)?;
        let project = self.project;
        let face = || Rc::new(Face::new(&project.panels[spec], open));
        Some(self.faces.entry((spec, open)).or_insert_with(face).clone())
    }

    /// Whether a face was planned to end in corner beads, whatever its gaps now
    /// hold.
    pub fn ends_in_corner_beads(&self, panel: Panel, face: &Face) -> bool {
        let required = self
            .required
            .panels
            .iter()
            .find(|required| required.panel == panel);
        let spec = required.map(|panel| &self.project.panels[panel.spec]);
        let planned = spec.and_then(|spec| spec.own.as_ref());
        match planned.map(|own| &self.project.panels[own.of]) {
            Some(planned) => {
                let planned = PanelSpec {
                    rounds: face.last(),
                    ..planned.clone()
                };
                Face::new(&planned, 0).corner() == 1
            }
            None => face.corner() == 1,
        }
    }

    pub fn panels(&self) -> u32 {
        self.panels
    }

    /// Records the edges of a panel whose outermost round is complete: its
    /// beads, the first being bead `first` of the layout's round.
    pub fn record_face_edges(
        &mut self,
        panel: Panel,
        face: &Face,
        labels: &Labels,
        (beads, first): (&[Bead], usize),
    ) {
        let n = face.sides;
        let all = face.beads(face.last());
        let mut edges = vec![vec![]; n];
        for read in 0..n as u8 {
            let bead = |i: usize| beads.get((i + all - first) % all).copied();
            let edge = face.edge(read).into_iter().filter_map(bead).collect();
            edges[labels.number(read).index()] = edge;
        }
        self.record_edges(panel, edges);
    }

    /// Records the beads of a panel's edges, side by side.
    pub fn record_edges(&mut self, panel: Panel, mut edges: Vec<Vec<Bead>>) {
        let n = edges.len();
        let joinable = edges.iter().all(|edge| !edge.is_empty());
        if joinable {
            for s in 0..n {
                let corner = (panel, Side(s as u8));
                let (end, begin) = (edges[s][edges[s].len() - 1], edges[(s + 1) % n][0]);
                let corners = &mut self.thread.corners;
                corners.add(BeadEnd::front(end), corner);
                corners.add(BeadEnd::back(begin), corner);
                if end == begin {
                    // A corner bead lies at its corner with both ends.
                    corners.add(BeadEnd::back(end), corner);
                    corners.add(BeadEnd::front(end), corner);
                }
            }
        }
        let panels = &mut self.ledger.panels;
        if panels.len() <= panel.index() {
            panels.resize(panel.index() + 1, None);
        }
        if !joinable {
            edges.clear();
        }
        panels[panel.index()] = Some(SewnPanel { edges });
    }

    /// A side's up beads, or a finding.
    pub fn edge(&mut self, (panel, side): (Panel, Side)) -> Option<Vec<Bead>> {
        let edge = self.ledger.edge((panel, side)).map(<[Bead]>::to_vec);
        if edge.is_none() {
            self.record(Fault::CannotBeJoined { panel, side });
        }
        edge
    }

    pub fn tips(&self, job: Job) -> u32 {
        self.required.tips(self.project, job.index())
    }
}

/// The last bead that a step passes but did not string.
pub(super) fn old_bead(m: &Movement) -> Option<Bead> {
    m.passes
        .iter()
        .rev()
        .find(|bead| !m.strings.contains(bead))
        .copied()
}
