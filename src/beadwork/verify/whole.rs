//! The piece as a whole: every bead strung, every side used once, and the
//! number of rows and corners that the solid has.

use super::corners::PanelCorner;
use super::finding::Fault;
use super::ledger::Use;
use super::required::ClosedPiece;
use super::verify_state::VerifyState;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::{Job, Panel, Side};

/// Checks what is only known at the end.
pub(super) fn check(jobs: u32, state: &mut VerifyState) {
    if state.thread.is_in() {
        state.record(Fault::ThreadLeft);
    }
    if let Some(bead) = state.first_missing() {
        state.record(Fault::NeverStrung(bead));
    }
    let (expected, found) = (state.required.panels.len() as u32, state.panels());
    if found != expected {
        state.record(Fault::Panels { expected, found });
    }
    if let Some(list) = &state.required.jobs {
        let (expected, found) = (list.len() as u32, jobs);
        if found != expected {
            state.record(Fault::Jobs { expected, found });
        }
    }
    if let Some(piece) = state.required.closed_piece {
        let has_rims = sides(state, piece);
        openings(state, piece);
        if has_rims {
            corners(state, piece);
        }
    }
}

/// Checks that every side is used, and that the rows are joined to the right
/// number of sides. Whether the rims of inserts are joined to nothing; if the maker
/// has joined them, rows and corners are others.
fn sides(state: &mut VerifyState, piece: ClosedPiece) -> bool {
    let (mut rows, mut bare) = ([0, 0], 0);
    let mut faults = vec![];
    for (p, sewn) in state.ledger.panels.iter().enumerate() {
        let sides = sewn.as_ref().map_or(0, |sewn| sewn.edges.len());
        let panel = Panel(p as u16);
        if !state.required.is_of_pattern(panel) {
            continue;
        }
        let mut may_be_bare = state.required.may_be_bare.contains(&panel);
        for side in (0..sides).map(|s| Side(s as u8)) {
            match state.ledger.uses.get(&(panel, side)) {
                None if std::mem::take(&mut may_be_bare) => bare += 1,
                None => faults.push(Fault::SideOpen { panel, side }),
                Some(Use::Row(row)) if row.partners == 1 => rows[0] += 1,
                Some(Use::Row(row)) if row.partners == 3 && piece.hinges > 0 => rows[1] += 1,
                Some(Use::Row(row)) => faults.push(Fault::RowPartners {
                    panel,
                    side,
                    expected: if row.partners > 1 && piece.hinges > 0 {
                        3
                    } else {
                        1
                    },
                    found: row.partners,
                }),
                Some(Use::Zipped | Use::Filled) => {}
            }
        }
    }
    faults.into_iter().for_each(|fault| state.record(fault));
    let has_rims = bare >= piece.bare;
    let expected = [piece.joins, piece.hinges];
    for (expected, found) in expected.into_iter().zip(rows).filter(|_| has_rims) {
        if found != expected {
            state.record(Fault::Rows { expected, found });
        }
    }
    has_rims
}

fn openings(state: &mut VerifyState, piece: ClosedPiece) {
    let counts = [
        (piece.fills, state.ledger.fills),
        (piece.open, state.ledger.firmed),
    ];
    for (expected, found) in counts {
        if found != expected {
            state.record(Fault::Openings { expected, found });
        }
    }
}

fn corners(state: &mut VerifyState, piece: ClosedPiece) {
    let is_counted = |panel| state.required.is_of_pattern(panel);
    let sizes = state.thread.corners.group_sizes(is_counted);
    let (expected, found) = (piece.corners, sizes.len() as u32);
    if found != expected {
        state.record(Fault::Corners { expected, found });
    }
    if let Some(expected) = piece.at_corner {
        let odd = sizes.iter().find(|&&size| size as u32 != expected);
        if let Some(&found) = odd {
            let found = found as u32;
            state.record(Fault::FacesAtCorner { expected, found });
        }
    }
}

/// A fill in a maker's own list of jobs names the sides of its rim; their
/// corners come together.
pub(super) fn hold_rim(job: Job, state: &mut VerifyState) {
    let listed = state
        .required
        .jobs
        .as_ref()
        .and_then(|list| list.get(job.index()));
    let Some(JobKind::Fill { rim, .. }) = listed.cloned() else {
        return;
    };
    for (nth, &side) in rim.iter().enumerate() {
        meet_next(side, rim[(nth + 1) % rim.len()], state);
    }
}

/// A side of a rim and the next meet at a corner. Across a hinge a side can run the
/// other way, so where two of their ends are together already, they stay so.
pub(super) fn meet_next(side: PanelCorner, next: PanelCorner, state: &mut VerifyState) {
    let ends = |side: PanelCorner| [state.ledger.neighbours(side)[0], side];
    let ([start, end], next) = (ends(side), ends(next));
    let corners = &mut state.thread.corners;
    let meets = |a: PanelCorner| next.iter().any(|b| corners.are_together(a, *b));
    if !meets(start) && !meets(end) {
        corners.meet(start, next[1]);
    }
}
