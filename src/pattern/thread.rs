//! Thread and needle, and whether they go through the beads.

use super::error::BeadFault;
use super::faults::Faults;
use super::field::Field;
use super::file::{BeadFile, NeedleFile, ThreadDetail, ThreadFile};
use super::limit;
use super::table::Table;
use crate::beadwork::bead::BeadKind;
use crate::beadwork::thread::{NEEDLES, Needle, THREADS, Thread};
use crate::beadwork::thread_use::pass_mm;

/// A thread as makers like to cut it, about as long as both arms apart, mm
/// (common practice, no source).
const CUT_MM: f64 = 1500.0;

/// A tail long enough to hold and to weave in, mm (common practice, no source).
const TAIL_MM: f64 = 150.0;

/// Beads that a piece of thread must last for: with fewer it is all tails, and
/// the work all ends (common practice, no source).
const FEWEST_PASSES: f64 = 35.0;

/// Reads the thread.
pub(super) fn thread(file: &ThreadFile, faults: &mut Faults) -> Option<Thread> {
    let at = Field::Top.key("thread");
    let detail = match file {
        ThreadFile::Detailed(detail) => detail,
        ThreadFile::Named(name) => &ThreadDetail {
            name: Some(name.clone()),
            ..ThreadDetail::default()
        },
    };
    let named = |name: &String| THREADS.iter().find(|(n, _)| n == name).map(|(_, mm)| *mm);
    let diameter = detail.diameter_mm.or(detail.name.as_ref().and_then(named));
    if diameter.is_none() {
        faults.add(&at, BeadFault::NoMeasure("diameter_mm"));
    }
    let (cut, tail) = (
        detail.cut_mm.unwrap_or(CUT_MM),
        detail.tail_mm.unwrap_or(TAIL_MM),
    );
    if 2.0 * tail >= cut {
        faults.add(&at, BeadFault::TailsTooLong { cut, tail });
    }
    Some(Thread {
        diameter_mm: diameter?,
        cut_mm: cut,
        tail_mm: tail,
    })
}

/// Reads the needle.
pub(super) fn needle(file: &NeedleFile) -> Option<Needle> {
    let diameter_mm = match file {
        NeedleFile::Measured(measured) => measured.diameter_mm,
        NeedleFile::Sized(size) => NEEDLES.iter().find(|(s, _)| u32::from(*s) == *size)?.1,
    };
    Some(Needle { diameter_mm })
}

/// Whether a piece of thread lasts for enough beads.
pub(super) fn lasts(beads: &[BeadKind], thread: Option<Thread>, faults: &mut Faults) {
    let Some(thread) = thread else {
        return;
    };
    let needed = (FEWEST_PASSES * pass(beads)).ceil();
    let (cut, tail, usable) = (thread.cut_mm, thread.tail_mm, thread.usable_mm());
    if usable > 0.0 && usable < needed {
        faults.add(
            &Field::Top.key("thread"),
            BeadFault::ShortThread { cut, tail, needed },
        );
    }
}

/// Times that the needle goes through a bead, about, over the making of a large
/// piece: with its own stitch and with one of the next round, the outermost
/// beads less often.
const PASSES: f64 = 1.75;

/// Whether the piece can do with as many threads as a piece may have. `beads`
/// are those of the piece, about.
pub(super) fn suffice(beads: u64, kinds: &[BeadKind], thread: Option<Thread>, faults: &mut Faults) {
    let Some(thread) = thread else {
        return;
    };
    let tails = 2.0 * thread.tail_mm;
    let usable = thread.usable_mm();
    let all = beads as f64 * PASSES * pass(kinds);
    let threads = all / usable;
    let is_told = beads > limit::PIECE_BEADS;
    if !is_told && usable > 0.0 && threads > limit::THREADS as f64 {
        let many = BeadFault::ManyThreads {
            threads: threads as u64,
            cut: thread.cut_mm,
            needed: (all / limit::THREADS as f64 + tails).ceil(),
        };
        faults.add(&Field::Top.key("thread"), many);
    }
}

/// What a pass takes of the thread, mm, by the longest and the widest bead.
fn pass(beads: &[BeadKind]) -> f64 {
    let most = |of: fn(&BeadKind) -> f64| beads.iter().map(of).fold(0.0, f64::max);
    pass_mm(
        most(|bead| bead.size.length_mm),
        most(|bead| bead.size.diameter_mm),
    )
}

/// Whether needle and thread go through the beads, at least once.
pub(super) fn fit(
    table: &Table<BeadFile>,
    beads: &[BeadKind],
    thread: Option<Thread>,
    needle: Option<Needle>,
    faults: &mut Faults,
) {
    let at = Field::Top.key("beads");
    let tools = [
        ("needle", needle.map(|needle| needle.diameter_mm)),
        ("thread", thread.map(|thread| thread.diameter_mm)),
    ];
    for (key, _) in table.iter() {
        let Some(bead) = beads.iter().find(|bead| key.chars().eq([bead.letter])) else {
            continue;
        };
        let hole = bead.size.hole_mm;
        for (what, width) in tools {
            if let Some(width) = width.filter(|width| *width > hole) {
                let small = BeadFault::HoleTooSmall { hole, what, width };
                faults.add(&at.key(key).key("size"), small);
            }
        }
    }
}
