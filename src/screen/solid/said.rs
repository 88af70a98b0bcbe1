//! The text below the picture of the whole solid: the current work and what
//! follows, the state of the faces, and what the picture cannot show.

use super::labels::word;
use super::room::SolidRoom;
use crate::beadwork::job::JobKind;
use crate::geometry::{FaceState, PlateSide, Standing, names};
use crate::picture::View;
use crate::screen::session::Session;

/// The current work, and what follows.
pub fn now(session: &Session, room: &View, standing: &Standing) -> String {
    let seq = &session.seq;
    let Some(movement) = session.movement() else {
        return "All steps are done: this is the finished piece.".into();
    };
    let job = seq.job(movement.job);
    let body = &room.body;
    let side = |s: &PlateSide| format!("side {} of {}", s.side + 1, body.plates[s.plate].name);
    let seam = |s: &PlateSide| match body.plates[s.plate].seams[s.side] {
        Some(nth) => format!(" (join {})", names::seam(nth)),
        None => String::new(),
    };
    let doing = match (&job.kind, &standing.join[..]) {
        (JobKind::JoinRow { .. }, [row]) => format!("the join row on {}{}", side(row), seam(row)),
        (_, [bare, row]) => {
            format!("{} is zipped to {}{}", side(bare), side(row), seam(row))
        }
        (JobKind::Panel(panel) | JobKind::Fill { panel, .. }, _) => match movement.round {
            Some(round) => {
                let all = seq.layout().kind(*panel).rounds();
                format!("{}, round {round} of {all}", job.title)
            }
            None => job.title.clone(),
        },
        _ => job.title.clone(),
    };
    let next = usize::from(movement.job.0) + 1;
    match seq.jobs().get(next) {
        Some(next) => format!("Now: {doing}. Then: {}.", next.title),
        None => format!("Now: {doing}. Then the piece is done."),
    }
}

/// How many faces are in each state, and what moves.
pub fn legend(room: &View, standing: &Standing, in_sight: bool) -> String {
    let mut parts = vec![];
    if room.states {
        let states = FaceState::ALL.map(|state| (state, standing.count(state)));
        for (state, count) in states.into_iter().filter(|(_, count)| *count > 0) {
            let (sign, word) = word(state);
            parts.push(format!("{sign} {word} {count}"));
        }
    } else {
        parts.push("as finished".into());
    }
    if room.folded < 1.0 {
        let part = room.folded * 100.0;
        parts.push(format!("folded {part:.0} %: the same letters meet"));
    } else if room.is_ring() {
        parts.push(format!("ring turned {} degrees", room.cycle_degrees()));
    }
    let works = standing.faces.contains(&FaceState::Now) || !standing.join.is_empty();
    if room.states && works && !in_sight {
        // Comes first, so that a narrow screen does not cut it off.
        parts.insert(0, "now out of sight".into());
    }
    parts.join(", ")
}

/// What the picture cannot show, if there is anything.
pub fn cannot(room: &SolidRoom) -> Option<String> {
    if room.view.folded < 1.0 && room.overlapping > 0 {
        let many = room.overlapping;
        return Some(format!(
            "In this net faces lie on each other in {many} places: unfold it halfway."
        ));
    }
    if let [first, more @ ..] = &room.gaping[..] {
        let more = match more.len() {
            0 => String::new(),
            n => format!(" and {n} more"),
        };
        let first = names::seam(*first);
        return Some(format!(
            "Stiff faces do not meet along join {first}{more}: the picture leaves a gap."
        ));
    }
    let bent = room.bent.as_ref()?;
    Some(format!(
        "Drawn flat, but {} {}.",
        bent.panel,
        bent.lie.words()
    ))
}
