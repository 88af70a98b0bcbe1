//! From what a pattern asks for to jobs: which faces there are, in which order
//! they are made and joined, and how the last is closed.

use super::amend::OwnStepKind;
use super::assembly::{Assembly, AssemblyFace, JoinRows, MadeFace, by_side};
use super::frame::{middle_of, outward};
use super::goal::{Insert, Stone};
use super::kaleidocycle::Kaleidocycle;
use super::lying::Lying;
use super::project::{INSERT_FACES, JobList};
use super::settle::{StiffPlate, Ties, settle};
use super::solid::Polyhedra;
use super::words::capitalised;
use super::{
    Closing, Corner, Direction, Frame, Goal, GoalJob, JobKind, Make, OwnStep, Panel, PanelLayout,
    Project, Round, RowGap, Side, SideFit, SideJoin, Solid, SpecIndex,
};
use glam::{DVec2, DVec3};
use std::collections::HashMap;

impl Goal {
    /// The jobs that make what a project asks for. The project has been
    /// checked; `kinds` are the layouts of its kinds of panel.
    pub fn of(project: &Project, kinds: &[PanelLayout]) -> Goal {
        let mut lowering = Lowering {
            project,
            kinds,
            goal: Goal::empty(project),
            open: vec![],
        };
        let to = &mut lowering;
        match &project.make {
            Make::Single(spec) => single(to, *spec),
            Make::Solid {
                solid,
                faces,
                closing,
                tips,
            } => regular_solid(to, *solid, faces, *closing, *tips),
            Make::FoldedPair {
                faces,
                closings,
                tips,
            } => folded_pair(to, faces, *closings, *tips),
            Make::Ring {
                tetrahedra,
                faces,
                closings,
                tips,
            } => ring(to, *tetrahedra, faces, closings, *tips),
            Make::RingOfNets {
                tetrahedra,
                faces,
                closings,
                tips,
            } => ring_of_nets(to, *tetrahedra, faces, closings, *tips),
            Make::Jobs(list) => job_list(to, list),
        }
        if !project.insert.is_empty() {
            inserts(to);
        }
        let mut goal = lowering.goal;
        set_stones(project, kinds, &mut goal);
        for join in &project.joins {
            let (panel, side) = (goal[join.job].panel(), join.side);
            let planned = &mut goal[panel];
            let past = join.past.iter().map(|place| (side, *place));
            planned.next_door.extend(past);
            let gaps = join.gaps.iter().copied();
            planned.row_gaps.extend(RowGap::along((panel, side), gaps));
        }
        goal.order = (0..goal.jobs.len() as u16).map(GoalJob).collect();
        goal
    }
}

/// Sets the stones that the pattern has into the openings of their panels.
fn set_stones(project: &Project, kinds: &[PanelLayout], goal: &mut Goal) {
    for panel in &mut goal.panels {
        let spec = &project.panels[panel.spec];
        panel.stone = spec.stone_mm.map(|mm| {
            let innermost = Round(spec.open + 1);
            Stone::set_in(&kinds[panel.spec], innermost, mm, project.bead_mm_of(spec))
        });
    }
}

/// The goal as it grows, job by job.
pub(super) struct Lowering<'a> {
    pub project: &'a Project,
    kinds: &'a [PanelLayout],
    goal: Goal,
    /// The faces that stay open, each with the job that reinforces its rim, and tip
    /// beads at the corners of their joins.
    open: Vec<(GoalJob, Frame, u8)>,
}

impl Lowering<'_> {
    fn edge_mm(&self, spec: SpecIndex) -> f64 {
        self.project.edge_mm(&self.kinds[spec])
    }

    pub fn panel(&mut self, name: String, spec: SpecIndex, frame: Frame) -> Panel {
        let panel = self.goal.add_panel(name, spec, frame);
        self.goal.jobs.push(JobKind::Panel(panel));
        panel
    }

    pub fn fill(&mut self, name: String, spec: SpecIndex, rim: Vec<Corner>, frame: Frame) {
        let panel = self.goal.add_panel(name, spec, frame);
        self.goal.jobs.push(JobKind::Fill { panel, rim });
    }

    pub fn row(&mut self, panel: Panel, sides: Vec<Side>, tips: u8) {
        self.goal.jobs.push(JobKind::JoinRow {
            panel,
            sides,
            tips,
            beads: None,
        });
    }

    pub fn zip(&mut self, panel: Panel, joins: Vec<SideJoin>) {
        let spec = self.goal[panel].spec;
        let whole = joins.len() == usize::from(self.kinds[spec].sides());
        self.goal.jobs.push(match whole {
            true => JobKind::SetIn(panel, joins),
            false => JobKind::Zip(panel, joins),
        });
    }

    /// Leaves a face open.
    pub fn firm_rim(&mut self, rim: Vec<Corner>, frame: Frame, tips: u8) {
        let job = GoalJob(self.goal.jobs.len() as u16);
        self.goal.jobs.push(JobKind::FirmRim(rim));
        self.open.push((job, frame, tips));
    }
}

fn single(b: &mut Lowering, spec: SpecIndex) {
    let panel = &b.project.panels[spec];
    let name = panel.name.clone();
    let frame = Lying::frame_alone(b.project, spec, &b.kinds[spec]);
    b.panel(name, spec, frame);
}

/// Lists the jobs of a regular solid.
fn regular_solid(b: &mut Lowering, solid: Solid, specs: &[SpecIndex], closing: Closing, tips: u8) {
    let shape = Polyhedra::regular(solid, b.edge_mm(specs[0]));
    let order = by_neighbours(&shape.faces);
    let last = order.len() - 1;
    let face = |(nth, &f): (usize, &usize)| AssemblyFace {
        name: format!("Face {}", nth + 1),
        spec: specs[nth % specs.len()],
        sides: sides_of(&shape.faces[f]),
        closing: if nth == last { closing } else { Closing::SetIn },
    };
    let assembly = Assembly {
        faces: order.iter().enumerate().map(face).collect(),
        corners: shape.corners.clone(),
        tips,
    };
    sew_freely(b, &assembly);
}

/// An insert for each face that stays open.
fn inserts(b: &mut Lowering) {
    let open = std::mem::take(&mut b.open);
    for (nth, (rim, frame, tips)) in open.iter().enumerate() {
        let (name, insert, face) = match open.len() {
            1 => (
                "Insert".to_string(),
                "the insert".into(),
                "the open face".into(),
            ),
            _ => {
                let named = |what| format!("{what} {}", nth + 1);
                (named("Insert"), named("insert"), named("open face"))
            }
        };
        let first = b.goal.jobs.len() as u16;
        three_faced_insert(b, &name, frame.corners(), *tips);
        let text = format!(
            "slip {insert} into {face}, its point inward, until its rim lies in the opening"
        );
        let what = OwnStepKind::Fit;
        let jobs = first..b.goal.jobs.len() as u16;
        b.goal.inserts.push(Insert {
            rim: *rim,
            jobs: jobs.map(GoalJob).collect(),
            slip_in: OwnStep { what, text },
            left_out: vec![],
        });
    }
}

/// Three triangles round a point, which lie in the open face like a cup. They are
/// worked on the side that one sees from outside, looking into the cup.
fn three_faced_insert(b: &mut Lowering, insert: &str, open: &[DVec3], tips: u8) {
    let specs = &b.project.insert;
    let edge = b.edge_mm(specs[0]);
    let middle = middle_of(open);
    let rim = open.iter().map(|corner| {
        let out = (*corner - middle).normalize();
        middle + out * edge / 3f64.sqrt()
    });
    let point = middle - outward(open) * edge * (2f64 / 3.0).sqrt();
    let face = |nth: usize| {
        let (from, to) = (nth + 1, (nth + 1) % 3 + 1);
        AssemblyFace {
            name: format!("{insert}, face {}", nth + 1),
            spec: specs[nth % specs.len()],
            sides: vec![(0, from), (from, to), (to, 0)],
            closing: Closing::SetIn,
        }
    };
    let assembly = Assembly {
        faces: (0..INSERT_FACES).map(face).collect(),
        corners: std::iter::once(point).chain(rim).collect(),
        tips,
    };
    sew_freely(b, &assembly);
}

/// Sews an assembly of which any side may carry a row.
fn sew_freely(b: &mut Lowering, assembly: &Assembly) {
    let joins = assembly.joins();
    let carriers = assembly.carriers(&joins);
    let join = joins.into_iter().zip(carriers);
    let joins: Vec<JoinRows> = join
        .map(|(sides, carrier)| JoinRows { sides, carrier })
        .collect();
    assembly.sew(b, &by_side(&joins), &mut vec![]);
}

/// The sides of a face: side s ends at corner s.
fn sides_of(corners: &[usize]) -> Vec<(usize, usize)> {
    let n = corners.len();
    (0..n)
        .map(|s| (corners[(s + n - 1) % n], corners[s]))
        .collect()
}

/// Faces in an order in which each next one shares as many sides as may be
/// with those before.
fn by_neighbours(faces: &[Vec<usize>]) -> Vec<usize> {
    let shared = |a: usize, b: usize| {
        let common = faces[a].iter().filter(|c| faces[b].contains(c)).count();
        usize::from(common == 2)
    };
    let mut order = vec![0];
    while order.len() < faces.len() {
        let ready = |f: &usize| -> usize { order.iter().map(|&g| shared(*f, g)).sum() };
        let left = (0..faces.len()).filter(|f| !order.contains(f)).rev();
        let next = left.max_by_key(ready).expect("faces are left");
        order.push(next);
    }
    order
}

/// Six triangles round a point, zipped spoke by spoke, folded along a
/// diameter and tied: two tetrahedra on one hinge, each with an open face.
///
/// ```text
///      3 --- 2          the corners of the rim, and the point in the middle;
///     / \   / \         1 and 4 are tied, and the hinge is the edge from the
///    4 -----  1         point to the tie
///     \ /   \ /
///      5 --- 6
/// ```
struct SixPanelNet {
    point: usize,
    /// Corners 1 to 6 of the rim.
    rim: [usize; 6],
}

impl SixPanelNet {
    fn rim(&self, nth: usize) -> usize {
        self.rim[nth % 6]
    }

    /// The six panels: side 1 from the point, side 2 on the rim, side 3 back.
    fn panels(&self, specs: impl Iterator<Item = SpecIndex>, prefix: &str) -> Vec<AssemblyFace> {
        let panel = |(i, spec)| AssemblyFace {
            name: capitalised(&format!("{prefix}panel {}", i + 1)),
            spec,
            sides: vec![
                (self.point, self.rim(i)),
                (self.rim(i), self.rim(i + 1)),
                (self.rim(i + 1), self.point),
            ],
            closing: Closing::SetIn,
        };
        (0..6).zip(specs).map(panel).collect()
    }

    /// The faces that close its two openings, seen from outside, each against
    /// the three rim sides of its half.
    fn lids(&self, closings: [(SpecIndex, Closing); 2], prefix: &str) -> Vec<AssemblyFace> {
        let lid = |half: usize| {
            let (spec, closing) = closings[half];
            let (a, m) = (3 * half, 3 * half + 1);
            AssemblyFace {
                name: capitalised(&format!("{prefix}face {}", ["A", "B"][half])),
                spec,
                sides: vec![
                    (self.rim(m), self.rim(a)),
                    (self.rim(a + 3), self.rim(a + 2)),
                    (self.rim(a + 2), self.rim(m)),
                ],
                closing,
            }
        };
        (0..2).map(lid).collect()
    }
}

fn folded_pair(
    b: &mut Lowering,
    specs: &[SpecIndex],
    closings: [(SpecIndex, Closing); 2],
    tips: u8,
) {
    let edge = b.edge_mm(specs[0]);
    let across = edge / 2f64.sqrt();
    let tie = DVec3::new(edge, 0.0, 0.0);
    let at = |y: f64, z: f64| DVec3::new(edge / 2.0, y * across, z * edge / 2.0);
    let corners = vec![
        DVec3::ZERO,
        tie,
        at(1.0, 1.0),
        at(1.0, -1.0),
        tie,
        at(-1.0, -1.0),
        at(-1.0, 1.0),
    ];
    let net = SixPanelNet {
        point: 0,
        rim: [1, 2, 3, 4, 5, 6],
    };
    sew_nets(b, &[net], corners, specs, &closings, tips);
}

/// Six-panel nets, joined by opposite sides into a band that is closed to a
/// ring, and then folded one by one.
fn ring_of_nets(
    b: &mut Lowering,
    tetrahedra: u16,
    specs: &[SpecIndex],
    closings: &[(SpecIndex, Closing)],
    tips: u8,
) {
    let cycle = Kaleidocycle::of_plates(tetrahedra, b.edge_mm(specs[0]));
    let mut corners = cycle.ends(cycle.even_turn());
    let hinges = corners.len();
    // Hinge h has the corners 2h and 2h + 1. A net folds at an odd hinge and
    // is joined to the next at an even one, where its rim sides 5-6 and 2-3
    // lie. Which end is which follows from its faces looking outward.
    let mut nets = vec![];
    let (mut five, mut six) = (0, 1);
    for nth in 0..usize::from(tetrahedra) / 2 {
        let fold = 4 * nth + 2;
        let ends = [fold, fold + 1];
        let outward = |one: usize, two: usize, three: usize, inside: usize| {
            let at = |c: usize| corners[c] - corners[one];
            at(two).cross(at(three)).dot(at(inside)) < 0.0
        };
        let [point, tie] = match outward(ends[0], five, six, ends[1]) {
            true => ends,
            false => [ends[1], ends[0]],
        };
        let next = [(fold + 2) % hinges, (fold + 3) % hinges];
        let [two, three] = match outward(point, next[0], next[1], tie) {
            true => next,
            false => [next[1], next[0]],
        };
        // The tied corners have numbers of their own.
        corners.push(corners[tie]);
        let other = corners.len() - 1;
        nets.push(SixPanelNet {
            point,
            rim: [tie, two, three, other, five, six],
        });
        // Seen from outside the sides that meet run against each other.
        (five, six) = (three, two);
    }
    sew_nets(b, &nets, corners, specs, closings, tips);
}

/// Makes nets, joins each to the next by opposite sides where it shares their
/// corners, and then folds and closes each. `specs` are the kinds of the
/// panels, six a net, and `closings` those of the openings, two a net; both are
/// taken round again.
fn sew_nets(
    b: &mut Lowering,
    nets: &[SixPanelNet],
    corners: Vec<DVec3>,
    specs: &[SpecIndex],
    closings: &[(SpecIndex, Closing)],
    tips: u8,
) {
    let prefix = |nth: usize| match nets.len() {
        1 => String::new(),
        _ => format!("net {}, ", nth + 1),
    };
    let mut specs = specs.iter().copied().cycle();
    let mut closings = closings.iter().copied().cycle();
    let mut closing = || closings.next().expect("openings are closed somehow");
    let panels = |(nth, net): (usize, &SixPanelNet)| net.panels(specs.by_ref(), &prefix(nth));
    let mut faces: Vec<AssemblyFace> = nets.iter().enumerate().flat_map(panels).collect();
    let panels = faces.len();
    for (nth, net) in nets.iter().enumerate() {
        faces.extend(net.lids([closing(), closing()], &prefix(nth)));
    }
    let mut assembly = Assembly {
        faces,
        corners,
        tips,
    };
    // Every panel carries the row of the spoke behind it and of its rim side,
    // and each next is zipped by its bare side. Where two nets meet, panel 2 of
    // the one carries the row, and panel 5 of the other is zipped to it.
    let carrier = |sides: &Vec<(usize, usize)>| {
        let is_shared = sides.len() > 2;
        let carries = |&(face, side): &(usize, usize)| {
            face < panels && side > 0 && !(is_shared && face % 6 == 4)
        };
        sides.iter().position(carries).expect("a panel carries it")
    };
    let with_carrier = |sides: Vec<(usize, usize)>| JoinRows {
        carrier: carrier(&sides),
        sides,
    };
    let joins: Vec<JoinRows> = assembly.joins().into_iter().map(with_carrier).collect();
    let lids = assembly.faces.split_off(panels);
    // Flat, net by net: where nets will meet there is only the row as yet.
    let (shared, own): (Vec<&JoinRows>, Vec<&JoinRows>) =
        joins.iter().partition(|join| join.sides.len() > 2);
    let row_alone = |join: &&JoinRows| JoinRows {
        sides: vec![join.sides[join.carrier]],
        carrier: 0,
    };
    let flat: Vec<JoinRows> = own
        .into_iter()
        .cloned()
        .chain(shared.iter().map(row_alone))
        .collect();
    let mut made = vec![];
    assembly.sew(b, &by_side(&flat), &mut made);
    // A side of a panel that is made, as it was turned.
    let side = |made: &[Option<MadeFace>], (face, side): (usize, usize)| {
        let face = made[face].expect("the panels are made");
        (face.panel, Side(((side + 3 - face.turn) % 3) as u8))
    };
    let mut seams = shared;
    seams.sort_by_key(|join| join.sides[join.carrier]);
    for join in seams {
        let (onto, at) = side(&made, join.sides[join.carrier]);
        let other = join.sides.iter().find(|s| s.0 < panels && s.0 % 6 == 4);
        let (panel, side) = side(&made, *other.expect("two nets meet there"));
        let runs = Direction::Against;
        b.zip(
            panel,
            vec![SideJoin {
                side,
                onto,
                at,
                runs,
                fit: SideFit::Equal,
            }],
        );
    }
    let mut lids = lids.into_iter();
    let by_side = by_side(&joins);
    for nth in 0..nets.len() {
        // A panel's corner after the point ends the side from there.
        let tied = |panel| side(&made, (6 * nth + panel, 0));
        b.goal.jobs.push(JobKind::Tie(tied(0), tied(3)));
        assembly.faces.extend(lids.by_ref().take(2));
        assembly.sew(b, &by_side, &mut made);
    }
}

/// Tetrahedron by tetrahedron, each hinged to the one before by one row.
fn ring(b: &mut Lowering, n: u16, specs: &[SpecIndex], closings: &[Closing], tips: u8) {
    let cycle = Kaleidocycle::of_plates(n, b.edge_mm(specs[0]));
    let shape = cycle.at(cycle.even_turn());
    let face = |(f, corners): (usize, &Vec<usize>)| AssemblyFace {
        name: format!("Tetrahedron {}, face {}", f / 4 + 1, f % 4 + 1),
        spec: specs[f % specs.len()],
        sides: sides_of(corners),
        closing: match f % 4 {
            3 => closings[f / 4 % closings.len()],
            _ => Closing::SetIn,
        },
    };
    let faces: Vec<AssemblyFace> = shape.faces.iter().enumerate().map(face).collect();
    let corners = shape.corners.clone();
    let mut whole = Assembly {
        faces,
        corners,
        tips,
    };
    let mut joins = ring_joins(&whole, n);
    if closings[0] != Closing::SetIn {
        close_first_opening_last(&mut whole, &mut joins);
    }
    whole.sew(b, &by_side(&joins), &mut vec![]);
}

/// The first tetrahedron's opening lies at the hinge that closes the ring, and
/// its rim is whole only when that is sewn.
fn close_first_opening_last(ring: &mut Assembly, joins: &mut [JoinRows]) {
    const OPENING: usize = 3;
    let opening = ring.faces.remove(OPENING);
    ring.faces.push(opening);
    for (face, _) in joins.iter_mut().flat_map(|join| &mut join.sides) {
        *face = match *face {
            OPENING => ring.faces.len() - 1,
            f if f > OPENING => f - 1,
            f => f,
        };
    }
}

/// One tetrahedron's choice of carriers, taken round the ring: a tetrahedron
/// carries its four inner joins and the hinge to the next.
fn ring_joins(ring: &Assembly, n: u16) -> Vec<JoinRows> {
    let mut one = Assembly {
        faces: ring.faces[..4].to_vec(),
        corners: ring.corners.clone(),
        tips: ring.tips,
    };
    // An opening that takes no finished panel carries no row: then none does.
    let mut openings = ring.faces.iter().map(|face| face.closing);
    if let Some(closing) = openings.find(|closing| *closing != Closing::SetIn) {
        one.faces[3].closing = closing;
    }
    // Its hinge to the one before is carried there.
    let inner: Vec<_> = one
        .joins()
        .into_iter()
        .filter(|join| join.iter().any(|&(face, _)| face >= 2))
        .collect();
    let chosen = one.carriers(&inner);
    let carries = |(face, side): (usize, usize)| {
        // The same face of tetrahedron 1, and its side between like corners.
        let first = face % 4;
        let like = |s: usize| kind_of_side(ring, face, side) == kind_of_side(ring, first, s);
        let s = (0..3).find(|&s| like(s)).expect("tetrahedra are alike");
        inner
            .iter()
            .zip(&chosen)
            .any(|(join, &c)| join[c] == (first, s))
    };
    debug_assert_eq!(ring.faces.len(), usize::from(n) * 4);
    ring.joins()
        .into_iter()
        .map(|sides| JoinRows {
            carrier: sides.iter().position(|&s| carries(s)).unwrap_or(0),
            sides,
        })
        .collect()
}

/// Which edge of its tetrahedron a side is: its corners as ends of the hinge
/// before (0, 1) or of the hinge behind (2, 3).
fn kind_of_side(ring: &Assembly, face: usize, side: usize) -> (usize, usize) {
    let hinge_before = 2 * (face / 4);
    let corners = ring.corners.len();
    let local = |c: usize| (c + corners - hinge_before) % corners;
    let (a, b) = ring.faces[face].sides[side];
    let (a, b) = (local(a), local(b));
    (a.min(b), a.max(b))
}

/// A maker's own jobs, in the maker's own order.
fn job_list(b: &mut Lowering, list: &JobList) {
    let frames = match &list.shape {
        Some(shape) => frames_in(b, shape, list),
        None => {
            let kinds: Vec<&PanelLayout> = (list.panels.iter())
                .map(|panel| &b.kinds[panel.spec])
                .collect();
            settled(&kinds, b.project.bead_mm(), &list.jobs)
        }
    };
    b.goal.jobs = list.jobs.clone();
    for (panel, frame) in list.panels.iter().zip(frames) {
        let added = b.goal.add_panel(panel.name.clone(), panel.spec, frame);
        let sides = (0..).map(|side| (added, Side(side))).zip(&panel.rim);
        let gaps = sides.flat_map(|(side, word)| RowGap::along(side, word.iter()));
        b.goal[added].row_gaps = gaps.collect();
    }
    for job in &list.jobs {
        if let JobKind::SetInMiddle { panel, around } = job {
            let rounds = |panel: &Panel| b.kinds[b.goal[*panel].spec].rounds();
            let within = &b.goal[*around].frame;
            let frame = within.middle(rounds(panel), rounds(around));
            b.goal[*panel].frame = frame;
        }
    }
}

/// Where the panels of a job list lie in a shape: those with the names of the shape's
/// own panels as these do, one that closes an opening in its rim, the others beside it.
fn frames_in(b: &Lowering, shape: &Make, list: &JobList) -> Vec<Frame> {
    let project = Project {
        make: shape.clone(),
        insert: vec![],
        joins: vec![],
        ..b.project.clone()
    };
    let shape = Goal::of(&project, b.kinds);
    let by_name: HashMap<&str, &Frame> = shape
        .panels
        .iter()
        .map(|panel| (panel.name.as_str(), &panel.frame))
        .collect();
    let named = |panel: Panel| by_name.get(list.panels[panel.index()].name.as_str());
    // Of each panel its sides that are joined, each with the side that it meets.
    let mut meets: Vec<Vec<(Side, Corner)>> = vec![vec![]; list.panels.len()];
    let mut rims = meets.clone();
    for (own, onto) in joined(&list.jobs) {
        rims[own.0.index()].push((own.1, onto));
        meets[own.0.index()].push((own.1, onto));
        meets[onto.0.index()].push((onto.1, own));
    }
    let mut frames: Vec<Option<Frame>> = vec![];
    for (nth, panel) in list.panels.iter().enumerate() {
        // Its sides are numbered by the jobs, which need not be those of the shape.
        let turned = |(side, (other, _)): &(Side, Corner)| {
            turned(named(Panel(nth as u16))?, *side, named(*other)?)
        };
        let in_rim = || {
            let rim = &mut rims[nth];
            rim.sort_by_key(|(side, _)| *side);
            let rim: Vec<Corner> = rim.iter().map(|(_, onto)| *onto).collect();
            let is_whole = rim.len() == usize::from(b.project.panels[panel.spec].sides);
            is_whole.then(|| frame_in_rim(&frames, &rim))?
        };
        let frame = meets[nth].iter().find_map(turned).or_else(in_rim);
        frames.push(frame);
    }
    let others = (0..).zip(&frames).filter(|(_, frame)| frame.is_none());
    let others: Vec<Panel> = others.map(|(nth, _)| Panel(nth)).collect();
    let kind = |panel: &Panel| &b.kinds[list.panels[panel.index()].spec];
    let kinds: Vec<&PanelLayout> = others.iter().map(kind).collect();
    let bead_mm = b.project.bead_mm();
    let mut beside = settled_beside(
        shape.panels.iter().map(|panel| &panel.frame),
        &others,
        &kinds,
        bead_mm,
        &list.jobs,
    )
    .into_iter();
    let frames = frames
        .into_iter()
        .map(|frame| frame.or_else(|| beside.next()));
    frames.flatten().collect()
}

/// The sides that jobs join, each with the side that it meets.
fn joined<'a>(
    jobs: impl IntoIterator<Item = &'a JobKind>,
) -> impl Iterator<Item = (Corner, Corner)> {
    jobs.into_iter().flat_map(|job| match job {
        JobKind::Fill { panel, rim } => {
            let own = (0..).map(|side| (*panel, Side(side)));
            own.zip(rim.iter().copied()).collect::<Vec<_>>()
        }
        _ => (job.joins().iter())
            .map(|join| ((job.panel(), join.side), (join.onto, join.at)))
            .collect(),
    })
}

/// A frame with its corners numbered so that a side lies along a side of another.
fn turned(frame: &Frame, side: Side, other: &Frame) -> Option<Frame> {
    let corners = frame.corners();
    let n = corners.len();
    let near = corners[0].distance(corners[1]) / 1000.0;
    let meets = |at: usize| {
        let other = other.corners().iter();
        other
            .into_iter()
            .any(|corner| corner.distance(corners[at]) < near)
    };
    let at = (0..n).find(|&at| meets(at) && meets((at + n - 1) % n))?;
    let corner = |s: usize| corners[(s + n + at - side.index()) % n];
    Some(Frame::new((0..n).map(corner).collect()))
}

/// Where a panel lies that closes the opening between these sides.
fn frame_in_rim(frames: &[Option<Frame>], rim: &[Corner]) -> Option<Frame> {
    let ends = |nth: usize| -> Option<[DVec3; 2]> {
        let (panel, side) = rim[nth % rim.len()];
        let corners = frames.get(panel.index())?.as_ref()?.corners();
        let before = (side.index() + corners.len() - 1) % corners.len();
        Some([corners[before], corners[side.index()]])
    };
    let behind = |nth: usize| {
        let (here, next) = (ends(nth)?, ends(nth + 1)?);
        let apart = |corner: &DVec3| next.map(|other| corner.distance(other));
        let nearest = |corner: &DVec3| apart(corner).into_iter().fold(f64::MAX, f64::min);
        here.into_iter()
            .min_by(|a, b| nearest(a).total_cmp(&nearest(b)))
    };
    let corners: Option<Vec<DVec3>> = (0..rim.len()).map(behind).collect();
    corners.map(Frame::new)
}

/// How far what lies beside other panels is from them, in bead lengths.
const BESIDE: f64 = 4.0;

/// Where these panels, in order of their numbers, lie beside others: right of them,
/// as their own joins hold them.
pub(super) fn settled_beside<'a>(
    others: impl Iterator<Item = &'a Frame>,
    panels: &[Panel],
    kinds: &[&PanelLayout],
    bead_mm: DVec2,
    jobs: impl IntoIterator<Item = &'a JobKind>,
) -> Vec<Frame> {
    // The jobs that join these, with the panels numbered like their plates.
    let number = |panel: Panel| panels.binary_search(&panel).ok();
    let renumbered = jobs.into_iter().filter_map(|job| {
        let mut job = job.clone();
        for panel in job.panels_mut() {
            *panel = Panel(number(*panel)? as u16);
        }
        Some(job)
    });
    let renumbered: Vec<JobKind> = renumbered.collect();
    let frames = settled(kinds, bead_mm, &renumbered);
    let x = |corner: &DVec3| corner.x;
    let right = others.flat_map(Frame::corners).map(x).reduce(f64::max);
    let left = frames
        .iter()
        .flat_map(Frame::corners)
        .map(x)
        .reduce(f64::min);
    let by = match (right, left) {
        (Some(right), Some(left)) => DVec3::X * (right - left + BESIDE * bead_mm.x),
        _ => DVec3::ZERO,
    };
    frames.iter().map(|frame| frame.moved(by)).collect()
}

/// Where panels of these kinds lie, of beads of this length and width, when all joins
/// of the jobs are made.
fn settled<'a>(
    kinds: &[&PanelLayout],
    bead_mm: DVec2,
    jobs: impl IntoIterator<Item = &'a JobKind> + Clone,
) -> Vec<Frame> {
    let corner = |(panel, side): Corner| (panel.index(), side.index());
    let pair = |(one, other): (Corner, Corner)| (corner(one), corner(other));
    let tied = jobs.clone().into_iter().filter_map(|job| match job {
        JobKind::Tie(from, to) => Some((*from, *to)),
        _ => None,
    });
    let ties = Ties {
        corners: tied.map(pair).collect(),
        joins: joined(jobs).map(pair).collect(),
    };
    let rectangle = |kind: &PanelLayout| kind.strip().map(|strip| strip.size(bead_mm));
    let plate = |kind: &&PanelLayout| match rectangle(kind) {
        Some(size) => StiffPlate {
            sides: 4,
            edge_mm: size.max_element(),
        },
        None => {
            let edge = (0..kind.sides()).map(|side| kind.edge(Side(side))).max();
            StiffPlate {
                sides: kind.sides().into(),
                edge_mm: 2.0 * bead_mm.x * f64::from(edge.unwrap_or(1)),
            }
        }
    };
    let plates: Vec<StiffPlate> = kinds.iter().map(plate).collect();
    let laid = settle(&plates, &ties).into_iter().zip(kinds);
    laid.map(|(corners, kind)| match rectangle(kind) {
        Some(size) => Frame::rectangle(size).moved(middle_of(&corners)),
        None => Frame::new(corners),
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::Solid;
    use crate::beadwork::{Closing, Sequence, testing};

    /// A strip among the jobs of a solid lies right of all its faces.
    #[test]
    fn a_strip_among_the_jobs_of_a_solid_lies_clear_of_it() {
        let mut project = testing::listed_tetrahedron(4);
        project.panels.push(testing::strip(4, 6));
        let spec = project.panels.len() - 1;
        let Make::Jobs(list) = &mut project.make else {
            panic!("it is a list of jobs");
        };
        list.shape = Some(Box::new(
            testing::solid(Solid::Tetrahedron, 4, Closing::Fill).make,
        ));
        for (nth, panel) in (1..).zip(&mut list.panels) {
            panel.name = format!("Face {nth}");
        }
        let strip = Panel(list.panels.len() as u16);
        let mut panel = list.panels[0].clone();
        (panel.name, panel.spec) = ("strap".into(), spec);
        list.panels.push(panel);
        list.jobs.push(JobKind::Panel(strip));
        let seq = Sequence::new(project);
        let x = |panel: u16| {
            let corners = seq.layout().panel(Panel(panel)).frame.corners().to_vec();
            corners.into_iter().map(|corner| corner.x)
        };
        let right = (0..strip.0).flat_map(x).fold(f64::MIN, f64::max);
        assert!(x(strip.0).all(|at| at > right));
        let solid = Sequence::new(testing::solid(Solid::Tetrahedron, 4, Closing::Fill));
        let here = |seq: &Sequence| seq.layout().panel(Panel(3)).frame.clone();
        let middle = |frame: Frame| middle_of(frame.corners());
        assert!(middle(here(&seq)).distance(middle(here(&solid))) < 1e-9);
    }

    /// A strip is settled as a square of its longer side, so nothing lies over it
    /// however tall it is.
    #[test]
    fn a_tall_strip_lies_clear_of_the_panel_beside_it() {
        let kinds = [testing::strip(4, 60), testing::panel(3, 6)].map(|p| PanelLayout::new(&p));
        let bead_mm = DVec2::new(1.3, 1.6);
        let frames = settled(&kinds.each_ref(), bead_mm, std::iter::empty());
        let bounds = |frame: &Frame| {
            let corners = frame.corners().iter().copied();
            let low = corners.clone().reduce(DVec3::min).expect("corners");
            (low, corners.reduce(DVec3::max).expect("corners"))
        };
        let [strip, panel] = [0, 1].map(|nth| bounds(&frames[nth]));
        let size = kinds[0].strip().expect("a strip").size(bead_mm);
        assert!(size.y > 2.0 * size.x, "it is taller than wide");
        assert!(((strip.1 - strip.0).truncate() - size).length() < 1e-9);
        let is_clear = |a: (DVec3, DVec3), b: (DVec3, DVec3)| a.1.x < b.0.x || a.1.y < b.0.y;
        assert!(is_clear(strip, panel) || is_clear(panel, strip));
    }
}
