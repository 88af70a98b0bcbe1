//! What lies on the mat while a maker's jobs are checked: the panels made so
//! far, the state of their sides, and which corners have met.

use std::collections::{HashMap, HashSet};

use super::faces::unequal;
use super::panel::CheckedPanel;
use super::source::Field;
use crate::beadwork::gap_word::GapWord;
use crate::beadwork::job::{JobKind, SideFit};
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::project::{NamedPanel, SpecIndex};
use crate::beadwork::seams::{Corner, Direction, Seams};
use crate::problem::{Problem, names, quoted, shown};

/// The state of a side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum SideOnMat {
    /// Open, without a row.
    Bare,
    /// Open, with a join row.
    Row,
    Joined,
}

/// The panels made so far.
pub(super) struct Mat<'k> {
    pub(super) kinds: &'k [CheckedPanel],
    panels: Vec<PanelOnMat>,
    names: HashMap<String, Panel>,
    pub(super) corners: MetCorners,
    /// Join beads of each row.
    pub(super) rows: HashMap<Corner, u32>,
    /// Bare sides that are zipped.
    pub(super) zipped: HashSet<Corner>,
    /// Panels in whose open middle another is set.
    pub(super) filled_middles: HashSet<Panel>,
    /// Rims that joins after them are to close: the number of the job, from 0, and
    /// the sides.
    pub(super) open_rims: Vec<(usize, Vec<MetSide>)>,
}

struct PanelOnMat {
    name: String,
    /// Its kind, unless unknown; then nothing more is reported about it.
    kind: Option<SpecIndex>,
    sides: Vec<SideOnMat>,
    /// For a fill, the beads of its first round in each gap of the rim, if given.
    rim: Vec<GapWord>,
}

impl<'k> Mat<'k> {
    pub(super) fn new(kinds: &'k [CheckedPanel]) -> Self {
        Mat {
            kinds,
            panels: Vec::new(),
            names: HashMap::new(),
            corners: MetCorners::default(),
            rows: HashMap::new(),
            zipped: HashSet::new(),
            filled_middles: HashSet::new(),
            open_rims: vec![],
        }
    }

    /// Adds a panel whose sides are bare.
    pub(super) fn add(&mut self, name: &str, kind: Option<SpecIndex>, at: Field) -> Panel {
        let sides = kind.map_or(0, |kind| self.kinds[kind].sides);
        let panel = Panel(self.panels.len() as u16);
        if self.names.insert(name.to_string(), panel).is_some() {
            at.refuse(
                format!("a job before this one has made a panel {}", quoted(name)),
                "give this one another name with \"as\"",
            );
        }
        self.panels.push(PanelOnMat {
            name: name.to_string(),
            kind,
            sides: vec![SideOnMat::Bare; usize::from(sides)],
            rim: vec![],
        });
        self.corners.add_panel(sides);
        panel
    }

    /// Says what the gaps of the rim of a fill hold.
    pub(super) fn set_rim(&mut self, panel: Panel, rim: Vec<GapWord>) {
        self.panels[panel.index()].rim = rim;
    }

    /// All panels, if the kind of each is known.
    pub(super) fn named(&self) -> Option<Vec<NamedPanel>> {
        let named = |panel: &PanelOnMat| {
            Some(NamedPanel {
                name: panel.name.clone(),
                spec: panel.kind?,
                rim: panel.rim.clone(),
            })
        };
        self.panels.iter().map(named).collect()
    }

    /// The panel with a name, if its kind is known.
    pub(super) fn panel(&self, name: &str, at: Field) -> Option<Panel> {
        if let Some(&panel) = self.names.get(name) {
            return self.kind(panel).map(|_| panel);
        }
        let made = || self.panels.iter().map(|panel| panel.name.as_str());
        at.refuse(
            format!("no job before this one makes a panel {}", quoted(name)),
            match at.nearest(name, made()) {
                Some(near) => format!("write {}", quoted(near)),
                None if self.panels.is_empty() => "make the panel in an earlier job".to_string(),
                None => {
                    let made: Vec<&str> = made().take(20).collect();
                    let made = names(&made, "and");
                    format!("make it in an earlier job; so far there is {made}")
                }
            },
        );
        None
    }

    /// The kind of a panel, if it is known.
    pub(super) fn kind(&self, panel: Panel) -> Option<SpecIndex> {
        self.panels[panel.index()].kind
    }

    /// A side of a panel by its number, from 1.
    pub(super) fn numbered(&self, panel: Panel, number: u32, at: Field) -> Option<Corner> {
        let sides = self.panels[panel.index()].sides.len();
        if number == 0 || number as usize > sides {
            let panel = self.name(panel);
            return at.refused(
                format!("{panel} has no side {number}: its sides are 1 to {sides}"),
                "name a side that it has",
            );
        }
        Some((panel, Side(number as u8 - 1)))
    }

    /// A side named in the file.
    pub(super) fn side(&self, panel: &str, number: u32, at: Field) -> Option<Corner> {
        let panel = self.panel(panel, at.key("panel"))?;
        self.numbered(panel, number, at.key("side"))
    }

    pub(super) fn state(&self, (panel, side): Corner) -> SideOnMat {
        self.panels[panel.index()].sides[side.index()]
    }

    pub(super) fn set(&mut self, (panel, side): Corner, state: SideOnMat) {
        self.panels[panel.index()].sides[side.index()] = state;
    }

    /// Two sides are joined, and lie together.
    pub(super) fn join(&mut self, one: Corner, other: MetSide) {
        self.set(one, SideOnMat::Joined);
        self.set(other.0, SideOnMat::Joined);
        self.corners.join(one, other);
    }

    /// The name of a panel, for messages.
    pub(super) fn name(&self, panel: Panel) -> String {
        quoted(&self.panels[panel.index()].name)
    }

    /// Which corners have come together when all these jobs are done, but for those
    /// that a fill holds together.
    pub(super) fn corners_after(&self, jobs: &[JobKind]) -> MetCorners {
        let mut corners = MetCorners::default();
        for panel in &self.panels {
            corners.add_panel(panel.sides.len() as u8);
        }
        for job in jobs {
            for join in job.joins() {
                let onto = (join.onto, join.at);
                corners.join((job.panel(), join.side), (onto, join.runs));
            }
            if let JobKind::Tie(from, to) = job {
                corners.tie(*from, *to);
            }
        }
        corners
    }

    /// A side as it is named in messages.
    pub(super) fn side_name(&self, (panel, side): Corner) -> String {
        format!("side {} of {}", side.number(), self.name(panel))
    }

    /// Reports that a side is already joined.
    pub(super) fn joined_twice(&self, side: Corner) -> Problem {
        Problem::new(
            format!("{} is joined already", self.side_name(side)),
            "name a side that is still open",
        )
    }

    /// Reports that a side has no join row.
    pub(super) fn no_row(&self, side: Corner) -> Problem {
        let (panel, number) = (shown(&self.panels[side.0.index()].name), side.1.number());
        Problem::new(
            format!("{} has no join row", self.side_name(side)),
            format!("work one in a job before: {{\"row\": \"{panel}\", \"sides\": [{number}]}}"),
        )
    }

    /// Up beads along a side, if they are known.
    ///
    /// # Errors
    /// The panel cannot be joined at all.
    pub(super) fn edge(&self, (panel, side): Corner) -> Result<Option<u32>, Problem> {
        let kind = self.kind(panel).map(|kind| &self.kinds[kind]);
        let layout = kind.map_or(Ok(None), CheckedPanel::joinable)?;
        Ok(layout.map(|layout| layout.edge(side)))
    }

    /// Why a side cannot be eased into a row: it has too few gaps for the row's
    /// beads, or no edge.
    pub(super) fn too_short_for_its_row(&self, bare: Corner, row: Corner) -> Option<Problem> {
        let gaps = match self.edge(bare) {
            Err(problem) => return Some(problem),
            Ok(edge) => edge? - 1,
        };
        let beads = self.rows.get(&row).copied().unwrap_or(0);
        (beads > 2 * gaps).then(|| {
            Problem::new(
                format!(
                    "the row has {beads} join beads, and {} only {gaps} gaps: a gap takes two at the most",
                    self.side_name(bare)
                ),
                format!("give the row \"beads\": {gaps}"),
            )
        })
    }

    /// How two sides lock into each other, by their lengths.
    pub(super) fn fit(&self, one: Corner, other: Corner) -> SideFit {
        match (self.edge(one), self.edge(other)) {
            (Ok(Some(beads)), Ok(Some(other))) => SideFit::of(beads, other),
            _ => SideFit::Equal,
        }
    }

    /// Why two sides cannot lie together: one has no edge, or one is longer.
    pub(super) fn misfit(&self, one: Corner, other: Corner) -> Option<Problem> {
        match (self.edge(one), self.edge(other)) {
            (Err(problem), _) | (_, Err(problem)) => Some(problem),
            (Ok(Some(beads)), Ok(Some(other_beads))) => unequal(
                (&self.name(one.0), beads),
                (&self.name(other.0), other_beads),
            ),
            (Ok(_), Ok(_)) => None,
        }
    }
}

/// A side, and how a path runs beside it.
pub(super) type MetSide = (Corner, Direction);

/// The corners of all panels made so far, and which of them have come together.
///
/// ```text
///            end of 3 = start of 1
///                    o
///           side 3 ↙   ↘ side 1       sides run in working direction;
///                o ————— o            a join lays two sides together in
///                  side 2             opposite directions
/// ```
#[derive(Default)]
pub(super) struct MetCorners {
    /// How many sides each panel has.
    sides: Vec<u8>,
    seams: Seams,
}

impl MetCorners {
    /// Adds a panel that is joined to nothing.
    pub(super) fn add_panel(&mut self, sides: u8) {
        self.sides.push(sides);
    }

    /// Two sides lie together, usually in opposite directions.
    pub(super) fn join(&mut self, one: Corner, other: MetSide) {
        let [comes, leaves] = self.ends(other);
        self.seams.meet(comes, self.start(one));
        self.seams.meet(leaves, one);
    }

    /// The corners at which a path that runs so beside a side reaches and leaves it.
    fn ends(&self, (side, runs): MetSide) -> [Corner; 2] {
        match runs {
            Direction::Against => [side, self.start(side)],
            Direction::With => [self.start(side), side],
        }
    }

    /// Draws together the corners at the ends of two sides. `false` if they are
    /// already together.
    pub(super) fn tie(&mut self, one: Corner, other: Corner) -> bool {
        let are_apart = !self.seams.are_together(one, other);
        self.seams.meet(one, other);
        are_apart
    }

    /// Whether a path beside `one` continues along `next`.
    pub(super) fn goes_on(&self, one: MetSide, next: MetSide) -> bool {
        let ([_, leaves], [comes, _]) = (self.ends(one), self.ends(next));
        self.seams.are_together(leaves, comes)
    }

    /// The corner at the start of a side, which ends the side before.
    fn start(&self, (panel, side): Corner) -> Corner {
        let sides = self.sides[panel.index()];
        (panel, Side((side.0 + sides - 1) % sides))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::number::Panel;
    use Direction::Against;

    /// Three triangles round a corner, a tetrahedron without its last face: the
    /// three sides left form a closed rim, and before that there is none.
    #[test]
    fn three_faces_of_a_tetrahedron_leave_a_closed_rim() {
        let mut corners = MetCorners::default();
        (0..3).for_each(|_| corners.add_panel(3));
        let side = |panel, number: u8| (Panel(panel), Side(number - 1));
        let rim = [side(0, 3), side(2, 3), side(1, 2)];
        let closed = |corners: &MetCorners| {
            (0..3).all(|i| corners.goes_on((rim[i], Against), (rim[(i + 1) % 3], Against)))
        };
        corners.join(side(1, 1), (side(0, 1), Against));
        corners.join(side(2, 1), (side(0, 2), Against));
        assert!(!closed(&corners));
        corners.join(side(2, 2), (side(1, 3), Against));
        assert!(closed(&corners));
    }
}
