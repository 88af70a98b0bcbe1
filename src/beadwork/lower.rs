//! From what a pattern asks for to jobs: which faces there are, in which order
//! they are made and joined, and how the last is closed.

use super::assembly::{Assembly, Face, JoinRows, Made};
use super::frame::Frame;
use super::goal::{Goal, GoalPanel};
use super::job::{JobKind, SideJoin};
use super::kaleidocycle::Kaleidocycle;
use super::number::{GoalJob, Panel, Side};
use super::panel::PanelLayout;
use super::project::{Closing, JobList, Make, Project, Solid, SpecIndex};
use super::seams::Corner;
use super::settle::{Plate, Ties, settle};
use super::solid::Polyhedra;
use glam::DVec3;

impl Goal {
    /// The jobs that make what a project asks for. The project has been
    /// checked; `kinds` are the layouts of its kinds of panel.
    pub fn of(project: &Project, kinds: &[PanelLayout]) -> Goal {
        let mut lowering = Lowering {
            project,
            kinds,
            goal: Goal::default(),
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
                closing,
                tips,
            } => ring(to, *tetrahedra, faces, *closing, *tips),
            Make::Jobs(list) => job_list(to, list),
        }
        let mut goal = lowering.goal;
        goal.order = (0..goal.jobs.len() as u16).map(GoalJob).collect();
        goal
    }
}

/// The goal as it grows, job by job.
pub(super) struct Lowering<'a> {
    pub project: &'a Project,
    kinds: &'a [PanelLayout],
    goal: Goal,
}

impl Lowering<'_> {
    fn edge_mm(&self, spec: SpecIndex) -> f64 {
        self.project.edge_mm(&self.kinds[spec])
    }

    fn add_panel(&mut self, name: String, spec: SpecIndex, frame: Frame) -> Panel {
        let panels = &mut self.goal.panels;
        panels.push(GoalPanel {
            name,
            spec,
            frame,
            open: None,
            rounds: None,
            eased: vec![],
        });
        Panel(panels.len() as u16 - 1)
    }

    pub fn panel(&mut self, name: String, spec: SpecIndex, frame: Frame) -> Panel {
        let panel = self.add_panel(name, spec, frame);
        self.goal.jobs.push(JobKind::Panel(panel));
        panel
    }

    pub fn fill(&mut self, name: String, spec: SpecIndex, rim: Vec<Corner>, frame: Frame) {
        let panel = self.add_panel(name, spec, frame);
        self.goal.jobs.push(JobKind::Fill { panel, rim });
    }

    pub fn row(&mut self, panel: Panel, sides: Vec<Side>, tips: u8) {
        self.goal.jobs.push(JobKind::JoinRow { panel, sides, tips });
    }

    pub fn zip(&mut self, panel: Panel, joins: Vec<SideJoin>) {
        let spec = self.goal.panels[panel.index()].spec;
        let whole = joins.len() == usize::from(self.kinds[spec].sides());
        self.goal.jobs.push(match whole {
            true => JobKind::SetIn(panel, joins),
            false => JobKind::Zip(panel, joins),
        });
    }

    pub fn firm_rim(&mut self, rim: Vec<Corner>) {
        self.goal.jobs.push(JobKind::FirmRim(rim));
    }
}

fn single(b: &mut Lowering, spec: SpecIndex) {
    let panel = &b.project.panels[spec];
    let (name, sides) = (panel.name.clone(), panel.sides);
    let frame = match b.kinds[spec].strip() {
        Some(strip) => Frame::rectangle(strip.size(b.project.bead_mm())),
        None => Frame::flat(sides, b.edge_mm(spec), DVec3::ZERO),
    };
    b.panel(name, spec, frame);
}

fn regular_solid(b: &mut Lowering, solid: Solid, specs: &[SpecIndex], closing: Closing, tips: u8) {
    let shape = Polyhedra::regular(solid, b.edge_mm(specs[0]));
    let order = by_neighbours(&shape.faces);
    let last = order.len() - 1;
    let face = |(nth, &f): (usize, &usize)| Face {
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
    let joins = with_carriers(&assembly);
    assembly.sew(b, &joins, &mut vec![]);
}

fn with_carriers(assembly: &Assembly) -> Vec<JoinRows> {
    let joins = assembly.joins();
    let carriers = assembly.carriers(&joins);
    let join = joins.into_iter().zip(carriers);
    join.map(|(sides, carrier)| JoinRows { sides, carrier })
        .collect()
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
///      3 --- 2          corner 0 is the point; 1 and 4 are tied, and the
///     / \   / \         hinge is the edge from the point to the tie
///    4 - 0 - 1
///     \ /   \ /
///      5 --- 6
/// ```
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
    let rim = |i: usize| (i % 6) + 1;
    let panel = |i: usize| Face {
        name: format!("Panel {}", i + 1),
        spec: specs[i % specs.len()],
        sides: vec![(0, rim(i)), (rim(i), rim(i + 1)), (rim(i + 1), 0)],
        closing: Closing::SetIn,
    };
    let mut faces: Vec<Face> = (0..6).map(panel).collect();
    for (half, (spec, closing)) in closings.into_iter().enumerate() {
        // Seen from outside, against the three rim sides of its half.
        let (a, m) = (3 * half, 3 * half + 1);
        faces.push(Face {
            name: format!("Face {}", ["A", "B"][half]),
            spec,
            sides: vec![
                (rim(m), rim(a)),
                (rim(a + 3), rim(a + 2)),
                (rim(a + 2), rim(m)),
            ],
            closing,
        });
    }
    let mut assembly = Assembly {
        faces,
        corners,
        tips,
    };
    // Every panel carries the row of the spoke behind it and of its rim side:
    // one kind of panel, and each next is zipped by its bare side.
    let carried = |join: &Vec<(usize, usize)>| {
        let carries = |&(face, side): &(usize, usize)| face < 6 && side > 0;
        join.iter().position(carries).expect("a panel carries it")
    };
    let joins: Vec<JoinRows> = assembly
        .joins()
        .into_iter()
        .map(|sides| JoinRows {
            carrier: carried(&sides),
            sides,
        })
        .collect();
    let closing_faces = assembly.faces.split_off(6);
    let mut made = vec![];
    assembly.sew(b, &joins, &mut made);
    let corner = |i: usize, made: &[Option<Made>]| {
        // The corner at the start of panel i's rim side.
        let face = made[i].expect("the panels are made");
        (face.panel, Side(((3 - face.turn) % 3) as u8))
    };
    b.goal
        .jobs
        .push(JobKind::Tie(corner(0, &made), corner(3, &made)));
    assembly.faces.extend(closing_faces);
    assembly.sew(b, &joins, &mut made);
}

/// Tetrahedron by tetrahedron, each hinged to the one before by one row.
fn ring(b: &mut Lowering, n: u16, specs: &[SpecIndex], closing: Closing, tips: u8) {
    let hinge_mm = b.edge_mm(specs[0]);
    let cycle = Kaleidocycle {
        tetrahedra: n,
        hinge_mm,
    };
    let shape = cycle.at(cycle.even_turn());
    let face = |(f, corners): (usize, &Vec<usize>)| Face {
        name: format!("Tetrahedron {}, face {}", f / 4 + 1, f % 4 + 1),
        spec: specs[f % specs.len()],
        sides: sides_of(corners),
        closing: if f % 4 == 3 { closing } else { Closing::SetIn },
    };
    let faces: Vec<Face> = shape.faces.iter().enumerate().map(face).collect();
    let corners = shape.corners.clone();
    let mut whole = Assembly {
        faces,
        corners,
        tips,
    };
    let mut joins = ring_joins(&whole, n);
    if closing != Closing::SetIn {
        close_first_opening_last(&mut whole, &mut joins);
    }
    whole.sew(b, &joins, &mut vec![]);
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
    let one = Assembly {
        faces: ring.faces[..4].to_vec(),
        corners: ring.corners.clone(),
        tips: ring.tips,
    };
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
    let frames = settled(b, list);
    b.goal.jobs = list.jobs.clone();
    let panels = list.panels.iter().zip(frames);
    b.goal.panels = panels
        .map(|(panel, frame)| GoalPanel {
            name: panel.name.clone(),
            spec: panel.spec,
            frame,
            open: None,
            rounds: None,
            eased: vec![],
        })
        .collect();
}

/// Where the panels of a job list lie when all its joins are made.
fn settled(b: &Lowering, list: &JobList) -> Vec<Frame> {
    let corner = |(panel, side): Corner| (panel.index(), side.index());
    let mut ties = Ties::default();
    for job in &list.jobs {
        match job {
            JobKind::Fill { panel, rim } => {
                let sides = rim.iter().enumerate();
                let join = |(s, &onto): (usize, &Corner)| ((panel.index(), s), corner(onto));
                ties.joins.extend(sides.map(join));
            }
            JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
                let join = |j: &SideJoin| (corner((*panel, j.side)), corner((j.onto, j.at)));
                ties.joins.extend(joins.iter().map(join));
            }
            JobKind::Tie(from, to) => ties.corners.push((corner(*from), corner(*to))),
            JobKind::Panel(_) | JobKind::JoinRow { .. } | JobKind::FirmRim(_) => {}
        }
    }
    let plate = |panel: &super::project::NamedPanel| Plate {
        sides: b.project.panels[panel.spec].sides.into(),
        edge_mm: b.edge_mm(panel.spec),
    };
    let plates: Vec<Plate> = list.panels.iter().map(plate).collect();
    settle(&plates, &ties).into_iter().map(Frame::new).collect()
}
