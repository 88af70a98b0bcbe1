//! How it lies and moves: how flat its panels are, how a ring turns, and stones
//! and linings in its openings.

use super::{Page, Unit};
use crate::beadwork::corner_law::CornerLaw;
use crate::beadwork::kaleidocycle::RingVerdict;
use crate::beadwork::many;
use crate::plan::flat::{Flatness, Lie};
use crate::plan::json::start;
use crate::plan::stone::{Opening, StoneFit};
use crate::plan::turning::Turning;

impl Page<'_> {
    pub(super) fn flatness(&mut self) {
        let plan = self.plan;
        // Strips lie flat with any beads.
        if plan.panels.is_empty() {
            return;
        }
        self.heading("Flatness (F: 1 is flat, less cups, more ruffles)");
        for panel in &plan.panels {
            let Flatness {
                panel: name,
                flatness,
                lie,
                flattest,
                ..
            } = panel;
            self.line(format!("{name}: {}, F = {flatness:.2}", lie.words()));
            let better = (flattest.flatness - 1.0).abs() + 1e-9 < (flatness - 1.0).abs();
            if *lie != Lie::Flat && better {
                self.line(format!(
                    "  flattest of {} sides with these beads: {}, F = {:.2}",
                    panel.sides,
                    law(&flattest.law),
                    flattest.flatness
                ));
            }
        }
    }

    pub(super) fn ring(&mut self) {
        let Some(ring) = &self.plan.ring else { return };
        self.heading("Does the ring turn?");
        for line in ring_lines(ring, self.unit) {
            self.line(line);
        }
    }

    pub(super) fn openings(&mut self) {
        let plan = self.plan;
        if plan.openings.is_empty() && plan.stones.is_empty() && plan.lining.is_none() {
            return;
        }
        self.heading("Openings");
        for opening in &plan.openings {
            self.line(format!(
                "{}: stops at round {}, {} a side, {} across",
                opening.panel,
                opening.stop_at,
                many(opening.beads as usize, "bead", "beads"),
                self.unit.length(opening.incircle_mm)
            ));
            self.line(format!("  {}", self.holds(opening)));
        }
        for stone in &plan.stones {
            let line = self.stone(stone);
            self.line(line);
        }
        if let Some(lining) = plan.lining {
            self.line(match lining.rounds {
                0 => "an open face is too small for an insert of three faces".to_string(),
                rounds => format!(
                    "an insert of three faces for the open face: at most {rounds} rounds a face, \
                     edge {}, {} deep; {} are left behind it",
                    self.unit.length(lining.edge_mm),
                    self.unit.length(lining.depth_mm),
                    self.unit.length(lining.room_behind_mm)
                ),
            });
            if let Some(words) = lining.says_of_made() {
                self.line(words);
            }
        }
    }

    fn holds(&self, opening: &Opening) -> String {
        let (least, most) = opening.holds_mm();
        match opening.incircle_mm > 0.0 {
            true => {
                let (least, most) = (self.unit.length(least), self.unit.length(most));
                let set = opening.stone_mm.map(|mm| self.unit.length(mm));
                let set = set.map_or(String::new(), |mm| format!("a stone of {mm} is set; "));
                format!("{set}holds a round stone of {least} to {most} that fits behind")
            }
            false => "its beads close it: it holds no stone".to_string(),
        }
    }

    fn stone(&self, fit: &StoneFit) -> String {
        let stone = self.unit.length(fit.stone_mm);
        if let Some(held) = &fit.held {
            return format!(
                "a stone of {stone} in {}: work inward and stop at round {} (\"open\": {}), {} across",
                fit.panel,
                held.stop_at,
                held.stop_at.0 - 1,
                self.unit.length(held.incircle_mm)
            );
        }
        let near = fit.nearest.iter().map(|opening| {
            let (least, most) = opening.holds_mm();
            format!(
                "round {} holds {} to {}",
                opening.stop_at,
                self.unit.length(least),
                self.unit.length(most)
            )
        });
        let near: Vec<String> = near.collect();
        let near = match near.is_empty() {
            true => "it has no round that leaves an opening".to_string(),
            false => near.join(", "),
        };
        let others = fit.others.iter().map(|other| {
            format!(
                "; a panel of {} sides and {} rounds holds it in round {}",
                other.sides, other.rounds, other.stop_at
            )
        });
        format!(
            "a stone of {stone} in {}: no round holds it; {near}{}",
            fit.panel,
            match fit.others.is_empty() {
                true => "; nor does a panel of other rounds or sides in these beads".to_string(),
                false => others.collect(),
            }
        )
    }
}

/// What the page of a ring says about turning.
fn ring_lines(ring: &Turning, unit: Unit) -> Vec<String> {
    let (n, margin) = (ring.tetrahedra, unit.length(ring.margin_mm.abs()));
    let mut lines = vec![match ring.verdict {
        RingVerdict::Turns => {
            format!(
                "yes: {n} tetrahedra turn all the way through, with {margin} to spare at the middle"
            )
        }
        RingVerdict::Tight => format!(
            "yes, but tightly: {n} tetrahedra turn, tight by {margin} at the middle; soft beadwork gives that much"
        ),
        RingVerdict::Binds => format!("! no: {n} tetrahedra bind at the middle by {margin}"),
    }];
    if ring.verdict != RingVerdict::Binds {
        lines.push(match ring.plates_margin_mm < 0.0 {
            true => format!(
                "(thin plates hinged along their whole edges would bind by {}; the tips of beadwork are soft)",
                unit.length(-ring.plates_margin_mm)
            ),
            false => format!("the fewest of these tetrahedra that turn: {}", ring.smallest),
        });
        return lines;
    }
    lines.push(format!(
        "what would let it turn: {} tetrahedra or more;",
        ring.smallest
    ));
    lines.push(format!(
        "  or faces {} high on the hinge (these are {});",
        unit.length(ring.face_height_needed_mm),
        unit.length(ring.face_height_mm)
    ));
    lines.push(format!(
        "  or hinges of {} at most, no closer together than they are ({} long now)",
        unit.length(ring.longest_hinge_mm),
        unit.length(ring.hinge_mm)
    ));
    lines
}

/// A corner law in words.
pub fn law(law: &CornerLaw) -> String {
    let corners: Vec<String> = law.word().iter().map(u8::to_string).collect();
    format!(
        "corners {} on a ring of {}",
        corners.join(" "),
        start(law.start())
    )
}
