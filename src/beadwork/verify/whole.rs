//! The piece as a whole: every bead strung, every side used once, and the
//! number of rows and corners that the solid has.

use super::asked::Whole;
use super::finding::Fault;
use super::ledger::Use;
use super::verify_state::VerifyState;
use crate::beadwork::job::JobKind;
use crate::beadwork::number::{Job, Panel, Side};

/// Checks what is only known at the end.
pub(super) fn check(jobs: u32, book: &mut VerifyState) {
    if book.thread.is_in() {
        book.find(Fault::ThreadLeft);
    }
    if let Some(bead) = book.first_missing() {
        book.find(Fault::NeverStrung { bead });
    }
    let (expected, found) = (book.asked.panels.len() as u32, book.panels());
    if found != expected {
        book.find(Fault::Panels { expected, found });
    }
    if let Some(list) = &book.asked.jobs {
        let (expected, found) = (list.len() as u32, jobs);
        if found != expected {
            book.find(Fault::Jobs { expected, found });
        }
    }
    if let Some(whole) = book.asked.whole {
        sides(book, whole);
        openings(book, whole);
        corners(book, whole);
    }
}

/// Checks that every side is used, and that the rows are joined to the right
/// number of sides.
fn sides(book: &mut VerifyState, whole: Whole) {
    let mut rows = [0, 0];
    let mut faults = vec![];
    let of_whole = |p: &usize| book.asked.is_of_the_whole(Panel(*p as u16));
    let asked = (0..book.ledger.panels.len()).filter(of_whole).count();
    let bare_from = asked - (whole.bare as usize).min(asked);
    for (p, made) in book.ledger.panels.iter().enumerate() {
        let sides = made.as_ref().map_or(0, |made| made.edges.len());
        let panel = Panel(p as u16);
        if !book.asked.is_of_the_whole(panel) {
            continue;
        }
        let mut may_be_bare = p >= bare_from;
        for side in (0..sides).map(|s| Side(s as u8)) {
            match book.ledger.uses.get(&(panel, side)) {
                None if std::mem::take(&mut may_be_bare) => {}
                None => faults.push(Fault::SideOpen { panel, side }),
                Some(Use::Row(row)) if row.partners == 1 => rows[0] += 1,
                Some(Use::Row(row)) if row.partners == 3 && whole.hinges > 0 => rows[1] += 1,
                Some(Use::Row(row)) => faults.push(Fault::RowPartners {
                    panel,
                    side,
                    expected: if row.partners > 1 && whole.hinges > 0 {
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
    faults.into_iter().for_each(|fault| book.find(fault));
    for (expected, found) in [whole.joins, whole.hinges].into_iter().zip(rows) {
        if found != expected {
            book.find(Fault::Rows { expected, found });
        }
    }
}

fn openings(book: &mut VerifyState, whole: Whole) {
    let counts = [
        (whole.fills, book.ledger.fills),
        (whole.open, book.ledger.firmed),
    ];
    for (expected, found) in counts {
        if found != expected {
            book.find(Fault::Openings { expected, found });
        }
    }
}

fn corners(book: &mut VerifyState, whole: Whole) {
    let is_counted = |panel| book.asked.is_of_the_whole(panel);
    let sizes = book.thread.corners.group_sizes(is_counted);
    let (expected, found) = (whole.corners, sizes.len() as u32);
    if found != expected {
        book.find(Fault::Corners { expected, found });
    }
    if let Some(expected) = whole.at_corner {
        let odd = sizes.iter().find(|&&size| size as u32 != expected);
        if let Some(&found) = odd {
            let found = found as u32;
            book.find(Fault::FacesAtCorner { expected, found });
        }
    }
}

/// A fill in a maker's own list of jobs names the sides of its rim; their
/// corners come together.
pub(super) fn hold_rim(job: Job, book: &mut VerifyState) {
    let listed = book
        .asked
        .jobs
        .as_ref()
        .and_then(|list| list.get(job.index()));
    let Some(JobKind::Fill { rim, .. }) = listed.cloned() else {
        return;
    };
    for (nth, &side) in rim.iter().enumerate() {
        let [start, _] = book.ledger.neighbours(side);
        let next = rim[(nth + 1) % rim.len()];
        book.thread.corners.meet(start, next);
    }
}
