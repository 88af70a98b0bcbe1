//! Stretches of a piece: a round, a row, a join. They allow a search in a large
//! piece without a list of its steps.

use super::look::{Appearance, looks};
use crate::beadwork::job::JobKind;
use crate::beadwork::{Bead, Job, Panel, Round, Sequence, Step};

/// Consecutive steps for which the coarse questions have the same answers.
#[derive(Clone, Copy, Debug)]
pub(super) struct StepRange {
    /// The first step.
    pub first: Step,
    /// The last step.
    pub last: Step,
    /// The look of its first step; only the answers to coarse questions are the
    /// same for all its steps.
    pub look: Appearance,
}

/// All stretches, in order.
pub(super) fn stretches(seq: &Sequence) -> Vec<StepRange> {
    let mut all = vec![];
    for at in 0..seq.jobs().len() {
        let job = Job(at as u16);
        let mut begins = begins(seq, job);
        let info = seq.job(job);
        begins.push(info.steps_before + info.steps + 1);
        for pair in begins.windows(2) {
            let (first, last) = (Step(pair[0]), Step(pair[1] - 1));
            let seen = looks(seq, first, first).next();
            all.extend(seen.map(|(_, look)| StepRange { first, last, look }));
        }
    }
    all
}

/// The first steps of a job's stretches, in order: where it begins, and
/// wherever a round or a row has its first bead or its last.
fn begins(seq: &Sequence, job: Job) -> Vec<u32> {
    let info = seq.job(job);
    let first = info.steps_before + 1;
    let mut begins = vec![first];
    let mut add = |bead: Bead, later: u32| begins.push(seq.step_of(bead).0 + later);
    match &info.kind {
        JobKind::Panel(panel) | JobKind::Fill { panel, .. } if info.beads > 0 => {
            let beads = first_beads(seq, *panel, info.beads_before);
            beads.into_iter().for_each(|(bead, later)| add(bead, later));
            add(Bead(info.beads_before + info.beads), 0);
        }
        JobKind::JoinRow { panel, sides, .. } => {
            let layout = seq.layout();
            for index in sides.iter().filter_map(|&s| layout.row_on(*panel, s)) {
                let row = layout.row(index);
                if let Some(last) = (row.beads + row.tips).checked_sub(1) {
                    add(layout.row_bead(index, last), 0);
                }
            }
        }
        _ => {}
    }
    begins.retain(|&b| b <= info.steps_before + info.steps);
    begins.sort_unstable();
    begins.dedup();
    begins
}

/// The first bead of each round of a panel that begins after `begun` beads, and
/// how many steps later the round can be seen.
fn first_beads(seq: &Sequence, panel: Panel, begun: u32) -> Vec<(Bead, u32)> {
    let layout = seq.layout();
    let (kind, making) = (layout.kind(panel), layout.making(panel));
    let first = |round: Round| layout.bead(panel, round, making.start(round));
    let rounds = making.innermost().0..=kind.rounds();
    let mut beads: Vec<(Bead, u32)> = vec![];
    for round in rounds.map(Round) {
        if !making.strung_rounds(kind).contains(&round.0) {
            beads.push((first(round), 0));
        }
    }
    // A string becomes rounds when it is closed.
    let string = string(seq, panel);
    if string > 0 {
        beads.push((Bead(begun + 1), 0));
        beads.push((Bead(begun + string), 1));
    }
    beads
}

/// Beads of the string that a panel begins with; 0 on a rim.
pub(super) fn string(seq: &Sequence, panel: Panel) -> u32 {
    let layout = seq.layout();
    let kind = layout.kind(panel);
    let rounds = layout.making(panel).strung_rounds(kind);
    rounds.map(|round| kind.in_round(Round(round))).sum()
}
