//! A stone in an opening: at which round to stop, and which stones fit an
//! opening.
//!
//! An opening with q beads on each of n sides has an incircle with a diameter
//! of s/tan(π/n) less one bead diameter, where s = 2·q·length is the length of
//! a side. (For a triangle that is 2·q·length/√3 less one bead diameter.) A
//! stone is held when it is 0.5 to 1 mm wider than that and fits behind the
//! opening.

use crate::beadwork::amend::stone::{self, HELD_BY_MM};
use crate::beadwork::corner_law::CornerLaw;
use crate::beadwork::layout::Layout;
use crate::beadwork::making::Begin;
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::Growth;
use crate::beadwork::{BeadSize, Round, Sequence, Side, plural};
use glam::DVec2;

/// An opening in the middle of a panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// The name of its kind of panel.
    pub panel: String,
    /// The panels that have it, if others of this kind have another.
    pub of_panels: Vec<String>,
    /// The round at which the work stops: the rim of the opening.
    pub stop_at: Round,
    /// Beads on the sides of that round.
    pub beads: Vec<u32>,
    /// Diameter of the incircle of the opening, mm.
    pub incircle_mm: f64,
    /// The stone that is set into it, mm.
    pub stone_mm: Option<f64>,
}

impl Opening {
    /// The kind of panel, and which panels where others differ: "fill (Face 4)".
    pub fn name(&self) -> String {
        match &self.of_panels[..] {
            [] => self.panel.clone(),
            panels => format!("{} ({})", self.panel, panels.join(", ")),
        }
    }

    /// How many beads are on its sides: "3 beads a side", or for each side.
    pub fn beads_words(&self) -> String {
        let [first, others @ ..] = &self.beads[..] else {
            return String::new();
        };
        match others.iter().all(|other| other == first) {
            true => format!("{} a side", plural(*first as usize, "bead")),
            false => {
                let each: Vec<String> = self.beads.iter().map(u32::to_string).collect();
                format!("{} beads on its sides", each.join(", "))
            }
        }
    }

    /// The narrowest and the widest round stone that it holds, mm.
    pub fn holds_mm(&self) -> (f64, f64) {
        (
            (self.incircle_mm + HELD_BY_MM.start()).max(0.0),
            (self.incircle_mm + HELD_BY_MM.end()).max(0.0),
        )
    }

    /// Whether it holds a round stone of this diameter.
    pub fn holds(&self, stone_mm: f64) -> bool {
        let (least, most) = self.holds_mm();
        self.incircle_mm > 0.0 && (least..=most).contains(&stone_mm)
    }

    /// How much wider than the opening the stone is that is set into it, mm, if that
    /// is not the usual.
    pub fn over_rim_mm(&self) -> Option<f64> {
        let stone_mm = self.stone_mm.filter(|mm| !self.holds(*mm));
        stone_mm.map(|mm| mm - self.incircle_mm)
    }
}

/// The openings of a piece into which no panel is set, in the order of their panels:
/// of those that are alike in one kind of panel, one.
pub fn openings(seq: &Sequence) -> Vec<Opening> {
    let layout = seq.layout();
    let bead = bead(layout);
    let is_closed = |panel| seq.seams().in_middle_of(panel).is_some();
    let mut found: Vec<(Opening, Vec<String>)> = vec![];
    for (panel, made) in layout.begun_panels() {
        let making = layout.making(panel);
        if making.begin == Begin::Ring || making.open == 0 || is_closed(panel) {
            continue;
        }
        let name = &layout.project().panels[made.spec].name;
        let opening = Opening {
            stone_mm: made.stone.map(|stone| stone.mm),
            ..opening(name, layout.kind(panel), making.innermost(), bead)
        };
        match found.iter_mut().find(|(other, _)| *other == opening) {
            Some((_, panels)) => panels.push(made.name.clone()),
            None => found.push((opening, vec![made.name.clone()])),
        }
    }
    let openings = found.iter().map(|(opening, panels)| {
        let is_like = |(other, _): &&(Opening, _)| other.panel == opening.panel;
        let of_panels = match found.iter().filter(is_like).count() {
            1 => vec![],
            _ => panels.clone(),
        };
        let opening = opening.clone();
        Opening {
            of_panels,
            ..opening
        }
    });
    openings.collect()
}

/// The opening that is left when a panel is worked inward to a round.
pub fn opening(name: &str, kind: &PanelLayout, stop_at: Round, bead: BeadSize) -> Opening {
    let sides = (0..kind.sides()).map(Side);
    let bead_mm = DVec2::new(bead.length_mm, bead.diameter_mm);
    Opening {
        panel: name.to_string(),
        of_panels: vec![],
        stop_at,
        beads: sides.map(|side| kind.on_side(stop_at, side)).collect(),
        incircle_mm: stone::opening_mm(kind, stop_at, bead_mm).max(0.0),
        stone_mm: None,
    }
}

/// Where to stop for a stone.
#[derive(Clone, Debug, PartialEq)]
pub struct StoneFit {
    /// The stone's diameter, mm.
    pub stone_mm: f64,
    /// The panel's name.
    pub panel: String,
    /// The opening that holds it, if there is one: the one that fits best.
    pub held: Option<Opening>,
    /// If none does: the largest that is too narrow, and the smallest through
    /// which it would fall.
    pub nearest: Vec<Opening>,
    /// Panels of other sizes that hold it, the nearest first.
    pub others: Vec<OtherPanel>,
}

/// A panel of the usual corners whose opening holds a stone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OtherPanel {
    /// Its sides.
    pub sides: u8,
    /// The round at which its work stops, with the same number of beads per
    /// side.
    pub stop_at: Round,
    /// The fewest rounds that it can have.
    pub rounds: u32,
}

/// The most other panels that are listed.
const OTHERS: usize = 3;

/// Rounds of the largest panel that is tried: its opening is wider than any
/// stone.
const MOST_ROUNDS: u32 = 60;

/// Panels of other sizes whose opening holds a stone, those with the same
/// number of sides first.
fn others(kind: &PanelLayout, stone_mm: f64, bead: BeadSize) -> Vec<OtherPanel> {
    let mut all_sides: Vec<u8> = (3..=6).collect();
    all_sides.sort_by_key(|sides| sides.abs_diff(kind.sides()));
    let panel = |sides: u8| {
        let law = Growth::Law(CornerLaw::usual(sides));
        let large = PanelLayout::grown(sides, MOST_ROUNDS, &law);
        let holds = |&k: &Round| opening("", &large, k, bead).holds(stone_mm);
        let stop_at = (2..MOST_ROUNDS).map(Round).find(holds)?;
        Some(OtherPanel {
            sides,
            stop_at,
            rounds: kind.rounds().max(stop_at.0 + 1),
        })
    };
    all_sides
        .into_iter()
        .filter_map(panel)
        .take(OTHERS)
        .collect()
}

/// Where to stop a panel for a round stone. Only rounds that leave an opening
/// and at least two rounds of work are considered.
pub fn stop_for(name: &str, kind: &PanelLayout, stone_mm: f64, bead: BeadSize) -> StoneFit {
    let rounds = (2..kind.rounds()).map(Round);
    let all: Vec<Opening> = rounds
        .map(|k| opening(name, kind, k, bead))
        .filter(|o| o.incircle_mm > 0.0)
        .collect();
    let middle = (HELD_BY_MM.start() + HELD_BY_MM.end()) / 2.0;
    let off = |o: &&Opening| (stone_mm - o.incircle_mm - middle).abs();
    let held = all
        .iter()
        .filter(|o| o.holds(stone_mm))
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .cloned();
    let (nearest, others) = match held {
        Some(_) => (vec![], vec![]),
        None => {
            let narrow = all.iter().rfind(|o| o.holds_mm().1 < stone_mm);
            let wide = all.iter().find(|o| o.holds_mm().0 > stone_mm);
            let nearest = narrow.into_iter().chain(wide).cloned().collect();
            (nearest, others(kind, stone_mm, bead))
        }
    };
    StoneFit {
        stone_mm,
        panel: name.to_string(),
        held,
        nearest,
        others,
    }
}

/// The bead with which openings are computed.
pub fn bead(layout: &Layout) -> BeadSize {
    BeadSize {
        length_mm: layout.bead_length_mm(),
        diameter_mm: layout.bead_diameter_mm(),
        ..layout.bead_kinds()[0].size
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::amend::{Amendment, OpeningEnd};
    use crate::beadwork::bead::preset;
    use crate::beadwork::job::JobKind;
    use crate::beadwork::project::{Closing, Make};
    use crate::beadwork::{GoalJob, Step, testing};

    /// By hand: four beads a side of cylinder 11/0, 2·4·1.3/√3 − 1.6 = 4.404
    /// mm across, so stones of 4.904 to 5.404 mm.
    #[test]
    fn an_opening_of_four_beads_a_side_is_as_by_hand() {
        let seq = Sequence::new(testing::single(testing::inward(3, 9, 3)));
        let openings = openings(&seq);
        assert_eq!(openings.len(), 1);
        let opening = &openings[0];
        assert_eq!(opening.stop_at, Round(4));
        assert_eq!(opening.beads_words(), "4 beads a side");
        assert!((opening.incircle_mm - 4.404).abs() < 0.0005);
        assert!(opening.holds(5.0) && !opening.holds(4.9) && !opening.holds(5.5));
    }

    /// Of two fills with one kind of panel the first gets a stone, and then a panel is
    /// set in its middle.
    #[test]
    fn openings_and_stones_are_those_of_the_work_and_not_of_the_pattern() {
        let closings = [(1, Closing::Fill); 2];
        let make = Make::FoldedPair {
            faces: vec![0],
            closings,
            tips: 0,
        };
        let panels = vec![testing::panel(3, 8), testing::inward(3, 8, 3)];
        let plain = Sequence::new(testing::project(panels, make));
        let [alike] = &openings(&plain)[..] else {
            panic!("both fills are alike");
        };
        assert_eq!((alike.stop_at, alike.stone_mm), (Round(4), None));

        let jobs = &plain.goal().jobs;
        let fill = |job: &&GoalJob| matches!(jobs[job.index()], JobKind::Fill { .. });
        let job = *plain.goal().order.iter().find(fill).expect("a fill");
        let changed = |how| {
            let change = Amendment::Opening { job, how };
            openings(&plain.amended(Step(0), &change).unwrap())
        };
        let (kind, tenths, in_time) = (1, 30, true);
        let mut told = changed(OpeningEnd::Stone {
            kind,
            tenths,
            in_time,
        });
        told.sort_by_key(|opening| opening.stop_at);
        let [holds, other] = &told[..] else {
            panic!("the fills are not alike: {told:?}");
        };
        assert_eq!((holds.stop_at, holds.stone_mm), (Round(2), Some(3.0)));
        let (of_panels, alone) = (vec![], other.clone());
        assert_eq!(Opening { of_panels, ..alone }, *alike);
        let names = [holds.name(), other.name()];
        assert_eq!(names, ["inward (Face A)", "inward (Face B)"]);
        assert_eq!(alike.name(), alike.panel);
        // By hand: 2·2·1.3/√3 − 1.6 = 1.402 mm across.
        let over = holds.over_rim_mm().expect("a wide stone");
        assert!((over - 1.598).abs() < 0.0005, "{over}");

        let set_in = changed(OpeningEnd::SetInMiddle { kind: 0, rounds: 5 });
        assert_eq!(set_in, std::slice::from_ref(alike));
    }

    /// A rim of 4, 3 and 3 beads has the opening of 10/3 beads a side.
    #[test]
    fn an_opening_of_unlike_sides_names_each() {
        let bead = preset("cylinder 11/0").unwrap();
        let even = opening("", &PanelLayout::new(&testing::panel(3, 9)), Round(3), bead);
        assert_eq!(even.beads_words(), "3 beads a side");
        let uneven = Opening {
            beads: vec![4, 3, 3],
            ..even
        };
        assert_eq!(uneven.beads_words(), "4, 3, 3 beads on its sides");
    }

    #[test]
    fn panels_without_an_opening_have_none() {
        for spec in [testing::panel(3, 9), testing::inward(3, 9, 0)] {
            let seq = Sequence::new(testing::single(spec));
            assert!(openings(&seq).is_empty());
        }
    }

    /// The round for a stone leaves an opening that holds that stone. Where no
    /// round holds it, the nearest rounds explain why.
    #[test]
    fn the_round_for_a_stone_leaves_an_opening_that_holds_it() {
        let bead = preset("cylinder 11/0").unwrap();
        let kind = PanelLayout::new(&testing::panel(3, 14));
        let (mut held, mut others) = (0, 0);
        for tenth in 20..180 {
            let stone = f64::from(tenth) / 10.0;
            let fit = stop_for("face", &kind, stone, bead);
            match fit.held {
                Some(opening) => {
                    held += 1;
                    let lip = stone - opening.incircle_mm;
                    assert!(HELD_BY_MM.contains(&lip));
                }
                None => {
                    for round in (2..14).map(Round) {
                        assert!(!opening("face", &kind, round, bead).holds(stone));
                    }
                    assert!(!fit.nearest.is_empty());
                    for other in fit.others {
                        others += 1;
                        let spec = testing::panel(other.sides, other.rounds);
                        let kind = PanelLayout::new(&spec);
                        let opening = opening("face", &kind, other.stop_at, bead);
                        assert!(opening.holds(stone), "{stone} mm: {other:?}");
                    }
                }
            }
        }
        // Openings grow by 1.5 mm a round, and each holds half a mm.
        assert!((40..70).contains(&held), "{held}");
        assert!(others > 30, "{others}");
    }
}
