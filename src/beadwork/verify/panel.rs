//! A panel as it is made: its beginning, its rounds, its middle.

use super::close::CloseWork;
use super::corners::PanelCorner;
use super::end::BeadEnd;
use super::face::Face;
use super::finding::Fault;
use super::firm::FirmWork;
use super::free_start::StringStart;
use super::labels::Labels;
use super::reading::ReadJob;
use super::rim::FilledRim;
use super::round::CurrentRound;
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Round};
use crate::beadwork::own_rounds::RowGap;
use crate::beadwork::project::WorkDirection;
use std::rc::Rc;

pub(super) struct PanelWork {
    panel: Panel,
    face: Rc<Face>,
    way: WorkDirection,
    labels: Labels,
    stage: PanelStage,
}

enum PanelStage {
    Ring(Vec<Bead>),
    StringStart(StringStart),
    Rim(FilledRim),
    Round(CurrentRound),
    /// The innermost round: drawn shut, or its rim made firm.
    Middle(Box<dyn ReadJob>),
    Complete,
}

impl PanelWork {
    /// A panel made by itself.
    pub fn alone(panel: Panel, way: WorkDirection, state: &mut VerifyState) -> Option<Self> {
        let face = state.next_face(panel)?;
        let stage = match way {
            WorkDirection::Outward => PanelStage::Ring(vec![]),
            WorkDirection::Inward if face.last() < 2 => return None,
            WorkDirection::Inward => PanelStage::StringStart(StringStart::new(&face)),
        };
        let labels = match way {
            WorkDirection::Outward => Labels::new(face.sides),
            WorkDirection::Inward => Labels::straight(face.sides),
        };
        Some(PanelWork {
            panel,
            labels,
            face,
            way,
            stage,
        })
    }

    /// A fill on the rim of an opening.
    pub fn fill(
        panel: Panel,
        (rim, gaps): (&[PanelCorner], &[RowGap]),
        state: &mut VerifyState,
    ) -> Option<Self> {
        let face = state.next_face(panel)?;
        let corner_beads = state.ends_in_corner_beads(panel, &face);
        Some(PanelWork {
            panel,
            labels: Labels::straight(face.sides),
            way: WorkDirection::Inward,
            stage: PanelStage::Rim(FilledRim::new(
                panel,
                &face,
                (corner_beads, gaps),
                rim,
                state,
            )),
            face,
        })
    }

    fn after_start(&mut self, state: &mut VerifyState) {
        let PanelStage::StringStart(start) =
            std::mem::replace(&mut self.stage, PanelStage::Complete)
        else {
            return;
        };
        let [(outer, first), (inner, next)] = start.into_rounds();
        state.record_face_edges(self.panel, &self.face, &self.labels, (&outer, first));
        self.go_on(self.face.last() - 1, inner, next, state);
    }

    fn after_round(&mut self, state: &mut VerifyState) {
        let PanelStage::Round(round) = std::mem::replace(&mut self.stage, PanelStage::Complete)
        else {
            return;
        };
        let (k, beads, first) = round.into_made();
        self.go_on(k, beads, first, state);
    }

    /// Round `k` is complete: continue with the next, or finish.
    fn go_on(&mut self, k: u32, beads: Vec<Bead>, first: usize, state: &mut VerifyState) {
        self.stage = PanelStage::Complete;
        if beads.is_empty() {
            state.record(Fault::JobUnfinished);
            return;
        }
        let innermost = self.face.open + 1;
        match self.way {
            WorkDirection::Outward if k == self.face.last() => {
                state.record_face_edges(self.panel, &self.face, &self.labels, (&beads, first));
            }
            WorkDirection::Inward if k == innermost => {
                let side = |i| self.labels.number(self.face.side(k, first + i));
                let ring = beads.iter().enumerate();
                let ring = ring.map(|(i, &bead)| (side(i), bead)).collect();
                state.ledger.middles.insert(self.panel, ring);
                self.stage = PanelStage::Middle(match innermost > 1 {
                    true => Box::new(FirmWork::middle(&beads)),
                    false => Box::new(CloseWork::new(beads, state)),
                });
            }
            way => {
                self.stage = PanelStage::Round(CurrentRound::new(&self.face, way, k, beads, first))
            }
        }
    }
}

impl ReadJob for PanelWork {
    fn read(&mut self, m: &Movement, state: &mut VerifyState) {
        let (face, labels) = (self.face.clone(), &mut self.labels);
        match &mut self.stage {
            PanelStage::Ring(beads) => {
                if read_ring(beads, m, &face, labels, state) {
                    let beads = std::mem::take(beads);
                    self.go_on(1, beads, 0, state);
                }
            }
            PanelStage::StringStart(start) => {
                if start.read(m, &face, labels, state) {
                    self.after_start(state);
                }
            }
            PanelStage::Rim(rim) => {
                if rim.read(m, &face, state) {
                    let beads = rim.beads().to_vec();
                    let first = face.first_of_side_0();
                    rim.close(state);
                    state.record_edges(self.panel, rim.edges());
                    rim.meet_corners(state);
                    self.go_on(face.last(), beads, first, state);
                }
            }
            // The middle was planned to stay open here, and its rim was
            // reinforced before the maker continued.
            PanelStage::Round(round) if m.kind == Kind::Firm && round.is_next_after(m.round) => {
                state.check_counts(m, 0, 0);
            }
            PanelStage::Round(round) => {
                if round.read(m, &face, labels, state) {
                    self.after_round(state);
                }
            }
            PanelStage::Middle(middle) => middle.read(m, state),
            PanelStage::Complete => {
                state.unexpected(m, None);
            }
        }
    }

    fn count(&self, m: &Movement, state: &mut VerifyState) {
        let beads = m.round.filter(|k| (1..=self.face.last()).contains(&k.0));
        let beads = beads.map_or(0, |k| self.face.beads(k.0));
        state.check_counts(m, beads, beads);
    }

    fn end_thread(&self, m: &Movement, state: &mut VerifyState) {
        if let PanelStage::Round(round) = &self.stage {
            round.end_thread(m, state);
        }
    }

    fn finish(&mut self, state: &mut VerifyState) {
        match &mut self.stage {
            PanelStage::Complete => {}
            PanelStage::Middle(middle) => middle.finish(state),
            _ => state.record(Fault::JobUnfinished),
        }
    }
}

/// Reads a step of the ring in the middle; `true` once it is closed.
fn read_ring(
    beads: &mut Vec<Bead>,
    m: &Movement,
    face: &Face,
    labels: &mut Labels,
    state: &mut VerifyState,
) -> bool {
    let target = face.beads(1);
    if !state.check_kind(m, Kind::Ring) {
        return false;
    }
    state.check_round(m, Round(1));
    if !m.strings.is_empty() {
        state.check(labels.check(face.side(1, beads.len()), m.side));
        beads.extend(&m.strings);
        state.check_old_bead(m, None);
        state.check_counts(m, beads.len(), target);
        return false;
    }
    state.check_round_holds(target, beads.len());
    if let (Some(&first), Some(&last)) = (beads.first(), beads.last()) {
        state.must_leave(BeadEnd::front(last));
        state.draw_together(BeadEnd::front(last), BeadEnd::back(first));
        state.check_old_bead(m, Some(first));
    }
    state.check_counts(m, target, target);
    state.report.rounds += 1;
    true
}
