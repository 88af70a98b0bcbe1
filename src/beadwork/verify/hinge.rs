//! Faces at a hinge: each is sewn only to its own solid.
//!
//! While a face is made (stitch, corner, decrease, step-down), the needle goes
//! through its own beads, beads of panels of its solid, and rows that join
//! these. Moving to where work starts, zips and ties may cross a hinge.
//!
//! Which panels form a solid is worked out from the finished piece. At an edge
//! of a solid, the sides of two faces run between the same two corners; at a
//! hinge, more sides do, and there one solid ends and the other begins.

use super::corners::PanelCorner;
use super::finding::{Fault, Finding};
use super::verify_state::VerifyState;
use crate::beadwork::movement::{Kind, Movement};
use crate::beadwork::number::{Bead, Panel, Side};
use std::collections::HashMap;

/// A bead that a face was sewn through although it is not part of the face.
#[derive(Debug)]
pub(super) struct SewnThrough {
    /// Where this happened.
    at: Finding,
    face: Panel,
    bead: Bead,
}

/// Notes what a step sews the current face through.
pub(super) fn note(m: &Movement, state: &mut VerifyState) {
    let Some(face) = state.face else {
        return;
    };
    // Once a face has a bead, the needle is no longer on its way to it.
    let gets_there = m.kind == Kind::PassThrough && !state.face_is_begun;
    let of_the_thread = matches!(m.kind, Kind::StartThread | Kind::EndThread);
    if gets_there || of_the_thread {
        return;
    }
    for &bead in &m.passes {
        if !m.strings.contains(&bead) && state.is_strung(bead) && state.face_of(bead) != Some(face)
        {
            let at = state.finding(Fault::AcrossTheHinge(bead));
            state.sewn_through.push(SewnThrough { at, face, bead });
        }
    }
}

/// Finds beads of other solids among those that faces were sewn through.
pub(super) fn check(state: &mut VerifyState) {
    let sewn = std::mem::take(&mut state.sewn_through);
    if sewn.is_empty() {
        return;
    }
    let solids = Solids::of(state);
    for SewnThrough { at, face, bead } in sewn {
        let own = solids.of_panel(face);
        let panels = match (state.face_of(bead), state.ledger.side_of(bead)) {
            (Some(panel), _) => vec![panel],
            (None, Some(side)) => solids.panels_along(side, state),
            (None, None) => continue,
        };
        if !panels
            .into_iter()
            .any(|panel| solids.of_panel(panel) == own)
        {
            state.record_earlier(at);
        }
    }
}

/// Two corners, as groups of corners that have come together, the lower number
/// first.
type HingeEdge = (u32, u32);

/// Panels in groups, each of which is a solid.
struct Solids {
    /// For each panel, another one of its solid, or itself if it represents the
    /// solid.
    towards: Vec<usize>,
    edges: HashMap<HingeEdge, Vec<Panel>>,
}

impl Solids {
    fn of(state: &VerifyState) -> Solids {
        let mut edges: HashMap<HingeEdge, Vec<Panel>> = HashMap::new();
        let panels = &state.ledger.panels;
        for (p, sewn) in panels.iter().enumerate() {
            let sides = sewn.as_ref().map_or(0, |sewn| sewn.edges.len());
            for side in (0..sides).map(|s| (Panel(p as u16), Side(s as u8))) {
                if let Some(edge) = edge(side, state) {
                    edges.entry(edge).or_default().push(side.0);
                }
            }
        }
        let mut towards: Vec<usize> = (0..panels.len()).collect();
        for panels in edges.values() {
            if let [a, b] = panels[..] {
                let (a, b) = (group(&towards, a.index()), group(&towards, b.index()));
                towards[a] = b;
            }
        }
        Solids { towards, edges }
    }

    fn of_panel(&self, panel: Panel) -> usize {
        match panel.index() {
            known if known < self.towards.len() => group(&self.towards, known),
            unknown => unknown,
        }
    }

    /// The panels whose sides meet where a side runs.
    fn panels_along(&self, side: PanelCorner, state: &VerifyState) -> Vec<Panel> {
        let found = edge(side, state).and_then(|edge| self.edges.get(&edge));
        found.cloned().unwrap_or_default()
    }
}

fn group(towards: &[usize], mut panel: usize) -> usize {
    while towards[panel] != panel {
        panel = towards[panel];
    }
    panel
}

/// The two corners between which a side runs.
fn edge(side: PanelCorner, state: &VerifyState) -> Option<HingeEdge> {
    let [start, _] = state.ledger.neighbours(side);
    let corners = &state.thread.corners;
    let (a, b) = (corners.group_of(start)?, corners.group_of(side)?);
    Some((a.min(b), a.max(b)))
}
