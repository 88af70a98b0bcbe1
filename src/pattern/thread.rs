//! Thread and needle, and whether they go through the beads.

use super::beads::measure;
use super::file::NameTable;
use super::file::{BeadFile, NeedleFile, ThreadDetail, ThreadFile};
use super::limit;
use super::source::Field;
use crate::beadwork::bead::BeadKind;
use crate::beadwork::thread::{NEEDLES, Needle, THREADS, Thread, pass_mm};

/// The length to which makers usually cut thread, about an arm span, mm (common
/// practice, no source).
const CUT_MM: f64 = 1500.0;

/// A tail long enough to hold and to weave in, mm (common practice, no source).
const TAIL_MM: f64 = 150.0;

/// The fewest beads for which a length of thread must last: with fewer, it is
/// almost only tails and ends (common practice, no source).
const FEWEST_PASSES: f64 = 35.0;

/// Reads the thread.
pub(super) fn thread(file: &ThreadFile, at: Field) -> Option<Thread> {
    let detail = match file {
        ThreadFile::Detailed(detail) => detail,
        ThreadFile::Named(name) => &ThreadDetail {
            name: Some(name.clone()),
            ..ThreadDetail::default()
        },
    };
    let name = detail.name.as_ref();
    let named = name.and_then(|name| THREADS.iter().find(|(known, _)| *known == name.0));
    let diameter = detail.diameter_mm.map(|width| width.0);
    let diameter_mm = measure("diameter_mm", diameter.or(named.map(|(_, mm)| *mm)), at);
    let cut_mm = detail.cut_mm.map_or(CUT_MM, |cut| cut.0);
    let tail_mm = detail.tail_mm.map_or(TAIL_MM, |tail| tail.0);
    if 2.0 * tail_mm >= cut_mm {
        at.refuse(
            format!(
                "two tails of {tail_mm} mm leave nothing of a thread of {cut_mm} mm to sew with"
            ),
            "cut the thread longer, or leave shorter tails",
        );
    }
    Some(Thread {
        diameter_mm: diameter_mm?,
        cut_mm,
        tail_mm,
    })
}

/// Reads the needle.
pub(super) fn needle(file: &NeedleFile) -> Option<Needle> {
    let diameter_mm = match file {
        NeedleFile::Measured(measured) => measured.diameter_mm.0,
        NeedleFile::Sized(size) => NEEDLES.iter().find(|(s, _)| u32::from(*s) == size.0)?.1,
    };
    Some(Needle { diameter_mm })
}

/// Checks whether a length of thread lasts for enough beads.
pub(super) fn lasts(beads: &[BeadKind], thread: Option<Thread>, at: Field) {
    let Some(thread) = thread else {
        return;
    };
    let (cut_mm, tail_mm, usable) = (thread.cut_mm, thread.tail_mm, thread.usable_mm());
    let needed = (FEWEST_PASSES * pass(beads)).ceil();
    if usable > 0.0 && usable < needed {
        at.refuse(
            format!(
                "a thread of {cut_mm} mm with two tails of {tail_mm} mm is too short: between the \
                 tails these beads need {needed} mm"
            ),
            format!(
                "write \"cut_mm\": {} or more, or leave shorter tails",
                (needed + 2.0 * tail_mm).ceil()
            ),
        );
    }
}

/// Roughly how often the needle goes through a bead while a large piece is
/// made: with its own stitch and with one of the next round, the outermost
/// beads less often.
const PASSES: f64 = 1.75;

/// Checks whether the piece can be made with the most threads that a piece can
/// have. `beads` is roughly the number of beads.
pub(super) fn suffice(beads: u64, kinds: &[BeadKind], thread: Option<Thread>, at: Field) {
    let Some(thread) = thread else {
        return;
    };
    let tails = 2.0 * thread.tail_mm;
    let usable = thread.usable_mm();
    let all = beads as f64 * PASSES * pass(kinds);
    let threads = all / usable;
    let is_reported = beads > limit::PIECE_BEADS;
    if !is_reported && usable > 0.0 && threads > limit::THREADS as f64 {
        let needed = (all / limit::THREADS as f64 + tails).ceil();
        at.refuse(
            format!(
                "about {} threads of {} mm would be needed; {} is the most",
                threads as u64,
                thread.cut_mm,
                limit::THREADS
            ),
            format!("write \"cut_mm\": {needed} or more, or take fewer rounds"),
        );
    }
}

/// The thread used by one pass, mm, for the longest and widest bead.
fn pass(beads: &[BeadKind]) -> f64 {
    let most = |of: fn(&BeadKind) -> f64| beads.iter().map(of).fold(0.0, f64::max);
    pass_mm(
        most(|bead| bead.size.length_mm),
        most(|bead| bead.size.diameter_mm),
    )
}

/// Checks whether needle and thread go through the beads at least once.
pub(super) fn fit(
    table: &NameTable<BeadFile>,
    beads: &[BeadKind],
    thread: Option<Thread>,
    needle: Needle,
    at: Field,
) {
    let tools = [
        ("needle", Some(needle.diameter_mm)),
        ("thread", thread.map(|thread| thread.diameter_mm)),
    ];
    for (key, _) in table.iter() {
        let Some(bead) = beads.iter().find(|bead| key.chars().eq([bead.letter])) else {
            continue;
        };
        let hole = bead.size.hole_mm;
        for (what, width) in tools {
            if let Some(width) = width.filter(|width| *width > hole) {
                at.key(key).key("size").refuse(
                    format!("the {what} is {width} mm across and does not go through a hole of {hole} mm"),
                    format!("take a finer {what} or a bead with a wider hole; forcing it breaks the bead"),
                );
            }
        }
    }
}
