//! The whole solid in a sitting, and the text below its picture: the current work
//! and what follows, the state of the faces, and what the picture cannot show.

use super::labels::word;
use crate::beadwork::Sequence;
use crate::beadwork::job::JobKind;
use crate::geometry::{FaceColours, FaceState, PlateSide, Shape, Standing, names};
use crate::picture::View;
use crate::plan::flat::{self, Flatness, Lie};
use crate::screen::session::Session;

/// Sides of a join that stay this far apart, relative to their length, are
/// reported.
const GAPES: f64 = 0.05;

/// The last view of the solid.
#[derive(Debug)]
pub struct SolidView {
    /// How it is viewed.
    pub view: View,
    /// Whether it was last opened from the whole face.
    from_face: bool,
    /// In how many places faces of the flat net overlap.
    pub overlapping: usize,
    /// Joins that stiff faces leave open.
    pub gaping: Vec<usize>,
    /// The first kind of panel that does not lie flat.
    pub bent: Option<Flatness>,
}

impl SolidView {
    /// The first view of a piece.
    fn new(seq: &Sequence) -> SolidView {
        let view = View::new(seq);
        let is_bent = |panel: &Flatness| matches!(panel.lie, Lie::Cups | Lie::Ruffles);
        SolidView {
            from_face: false,
            overlapping: view.net.overlapping(),
            gaping: view.body.gaping(GAPES),
            bent: flat::panels(seq.layout()).into_iter().find(is_bent),
            view,
        }
    }
}

impl Session {
    /// Shows the whole solid as it lies on the mat; opened from the face, where
    /// colours are tried, it is shown as finished.
    pub fn look_at_solid(&mut self, from_face: bool) {
        let mut solid = match self.solid.take() {
            Some(solid) => solid,
            None => SolidView::new(&self.seq),
        };
        if solid.from_face != from_face {
            solid.view.states = !from_face;
        }
        solid.from_face = from_face;
        let standing = self.standing(&solid.view.body);
        let job = self.movement().map(|m| m.job);
        solid.view.aim_at(&standing, job, self.done());
        self.solid = Some(solid);
    }

    /// Updates the solid to the new colours.
    pub fn recolour_solid(&mut self) {
        if let Some(solid) = &mut self.solid {
            solid.view.face_colours = FaceColours::new(self.seq.layout());
        }
        self.fine.forget();
    }

    /// The state of the faces at the current step.
    pub fn standing(&self, body: &Shape) -> Standing {
        Standing::at(&self.seq, body, self.done())
    }
}

/// The current work, and what follows.
pub fn now(session: &Session, view: &View, standing: &Standing) -> String {
    let seq = &session.seq;
    let Some(movement) = session.movement() else {
        return "All steps are done: this is the finished piece.".into();
    };
    let job = seq.job(movement.job);
    let body = &view.body;
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
pub fn legend(view: &View, standing: &Standing, in_sight: bool) -> String {
    let mut parts = vec![];
    if view.states {
        let states = FaceState::ALL.map(|state| (state, standing.count(state)));
        for (state, count) in states.into_iter().filter(|(_, count)| *count > 0) {
            let (sign, word) = word(state);
            parts.push(format!("{sign} {word} {count}"));
        }
    } else {
        parts.push("as finished".into());
    }
    if view.folded < 1.0 {
        let part = view.folded * 100.0;
        parts.push(format!("folded {part:.0} %: the same letters meet"));
    } else if view.is_ring() {
        parts.push(format!("ring turned {} degrees", view.cycle_degrees()));
    }
    let works = standing.faces.contains(&FaceState::Now) || !standing.join.is_empty();
    if view.states && works && !in_sight {
        // Comes first, so that a narrow screen does not cut it off.
        parts.insert(0, "now out of sight".into());
    }
    parts.join(", ")
}

/// What the picture cannot show, if there is anything.
pub fn cannot(solid: &SolidView) -> Option<String> {
    if solid.view.folded < 1.0 && solid.overlapping > 0 {
        let many = solid.overlapping;
        return Some(format!(
            "In this net faces lie on each other in {many} places: unfold it halfway."
        ));
    }
    if let [first, more @ ..] = &solid.gaping[..] {
        let more = match more.len() {
            0 => String::new(),
            n => format!(" and {n} more"),
        };
        let first = names::seam(*first);
        return Some(format!(
            "Stiff faces do not meet along join {first}{more}: the picture leaves a gap."
        ));
    }
    let bent = solid.bent.as_ref()?;
    Some(format!(
        "Drawn flat, but {} {}.",
        bent.panel,
        bent.lie.words()
    ))
}
