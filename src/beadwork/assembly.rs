//! The assembly of a solid: faces, the joins between them, and the order in
//! which they are made and sewn together.
//!
//! Each face is made, and then the needle goes once round it: where the body
//! is ready a side is zipped, where the face carries a row the row is worked.
//! A row that must be locked to a side already there is worked last, and the
//! needle zips back along it.

use super::carry::{self, Join, Wish};
use super::lower::Lowering;
use super::{Closing, Direction, Frame, Panel, Project, Side, SideFit, SideJoin, SpecIndex};
use glam::DVec3;
use std::collections::{BTreeMap, HashMap};

/// A face of an assembly.
#[derive(Clone, Debug)]
pub(super) struct AssemblyFace {
    pub name: String,
    pub spec: SpecIndex,
    /// Each side as the corners that it runs from and to. Two sides are
    /// joined that run between the same corners.
    pub sides: Vec<(usize, usize)>,
    /// How it comes into the piece.
    pub closing: Closing,
}

/// Faces in the order in which they are made.
#[derive(Clone, Debug)]
pub(super) struct Assembly {
    pub faces: Vec<AssemblyFace>,
    pub corners: Vec<DVec3>,
    pub tips: u8,
}

impl Assembly {
    /// The joins: sides that run between the same two corners, face by face.
    pub fn joins(&self) -> Vec<Join> {
        let mut by_corners: BTreeMap<(usize, usize), Join> = BTreeMap::new();
        let mut order = vec![];
        for (f, face) in self.faces.iter().enumerate() {
            for (s, &(a, b)) in face.sides.iter().enumerate() {
                let key = (a.min(b), a.max(b));
                let join = by_corners.entry(key).or_default();
                if join.len() == 1 {
                    order.push(key);
                }
                join.push((f, s));
            }
        }
        order.iter().map(|key| by_corners[key].clone()).collect()
    }

    /// The choice of carriers with fewest kinds of panel.
    pub fn carriers(&self, joins: &[Join]) -> Vec<usize> {
        let specs: Vec<SpecIndex> = self.faces.iter().map(|f| f.spec).collect();
        let not_set_in = |f: &usize| self.faces[*f].closing != Closing::SetIn;
        let bare: Vec<usize> = (0..self.faces.len()).filter(not_set_in).collect();
        carry::choose(&Wish {
            specs: &specs,
            sides: self.faces[0].sides.len(),
            joins,
            bare: &bare,
        })
    }

    /// Makes and joins all faces from `from` to `to` (not included); `made`
    /// has the panel of each face made so far.
    pub fn sew(&self, b: &mut Lowering, joins: &JoinOf, made: &mut Vec<Option<MadeFace>>) {
        for f in made.len()..self.faces.len() {
            let done = self.sew_face(b, f, joins, made);
            made.push(done);
        }
    }

    fn sew_face(
        &self,
        b: &mut Lowering,
        f: usize,
        joins: &JoinOf,
        made: &[Option<MadeFace>],
    ) -> Option<MadeFace> {
        let face = &self.faces[f];
        let n = face.sides.len();
        let roles: Vec<Role> = (0..n).map(|s| self.role(f, s, joins, made)).collect();
        let turn = match face.closing {
            Closing::SetIn if turns_freely(b.project, face.spec) => best_turn(&roles),
            _ => 0,
        };
        let now = MadeFace {
            turn,
            panel: Panel(0),
        };
        let frame = self.frame(face, turn);
        let of = |s: usize| &roles[(s + turn) % n];
        if face.closing != Closing::SetIn {
            let rim = (0..n).map(|s| of(s).row_of_others()).collect();
            match face.closing {
                Closing::Open => b.firm_rim(rim, frame, self.tips),
                _ => b.fill(face.name.clone(), face.spec, rim, frame),
            }
            return None;
        }
        let panel = b.panel(face.name.clone(), face.spec, frame);
        let mut acts: Vec<Act> = vec![];
        let mut late = vec![];
        for s in 0..n {
            let side = Side(s as u8);
            match of(s) {
                Role::Later => {}
                Role::Bare { onto, at, runs } => {
                    let join = SideJoin {
                        side,
                        onto: *onto,
                        at: *at,
                        runs: *runs,
                        fit: SideFit::Equal,
                    };
                    match acts.last_mut() {
                        Some(Act::Zip(joins)) => joins.push(join),
                        _ => acts.push(Act::Zip(vec![join])),
                    }
                }
                Role::Carrier { others } => {
                    match acts.last_mut() {
                        Some(Act::Row(sides)) => sides.push(side),
                        _ => acts.push(Act::Row(vec![side])),
                    }
                    for &(bare, bare_side, runs) in others {
                        let (onto, at) = (panel, side);
                        let join = SideJoin {
                            side: bare_side,
                            onto,
                            at,
                            runs,
                            fit: SideFit::Equal,
                        };
                        late.push((bare, join));
                    }
                }
            }
        }
        for act in acts {
            match act {
                Act::Row(sides) => b.row(panel, sides, self.tips),
                Act::Zip(joins) => b.zip(panel, joins),
            }
        }
        for (bare, join) in late.into_iter().rev() {
            b.zip(bare, vec![join]);
        }
        Some(MadeFace { panel, ..now })
    }

    fn frame(&self, face: &AssemblyFace, turn: usize) -> Frame {
        let n = face.sides.len();
        let end = |s: usize| self.corners[face.sides[(s + turn) % n].1];
        Frame::new((0..n).map(end).collect())
    }

    /// What a side is when its face comes to be joined.
    fn role(&self, f: usize, s: usize, joins: &JoinOf, made: &[Option<MadeFace>]) -> Role {
        let Some(join) = joins.get(&(f, s)) else {
            return Role::Later;
        };
        let side_of = |(face, side): (usize, usize)| {
            let made = (*made.get(face)?)?;
            let n = self.faces[face].sides.len();
            Some((made.panel, Side(((side + n - made.turn) % n) as u8)))
        };
        // Corners that will be tied have numbers of their own, so two sides
        // that do not run alike run against each other.
        let runs = |a: (usize, usize), b: (usize, usize)| {
            let corners = |(face, side): (usize, usize)| self.faces[face].sides[side];
            match corners(a) == corners(b) {
                true => Direction::With,
                false => Direction::Against,
            }
        };
        let carrier = join.sides[join.carrier];
        if carrier == (f, s) {
            let bare = join.sides.iter().filter(|&&other| other != carrier);
            let others = bare
                .filter_map(|&other| {
                    let (panel, side) = side_of(other)?;
                    Some((panel, side, runs(other, carrier)))
                })
                .collect();
            return Role::Carrier { others };
        }
        match side_of(carrier) {
            Some((onto, at)) => Role::Bare {
                onto,
                at,
                runs: runs((f, s), carrier),
            },
            None => Role::Later,
        }
    }
}

/// A face that has been made, and how many sides it was turned by.
#[derive(Clone, Copy, Debug)]
pub(super) struct MadeFace {
    pub panel: Panel,
    pub turn: usize,
}

/// A join with its carrier chosen.
#[derive(Clone, Debug)]
pub(super) struct JoinRows {
    pub sides: Join,
    pub carrier: usize,
}

/// The join of each side, a face and its side.
pub(super) type JoinOf<'a> = HashMap<(usize, usize), &'a JoinRows>;

/// The join of each side.
pub(super) fn by_side(joins: &[JoinRows]) -> JoinOf<'_> {
    let sides = joins.iter();
    sides
        .flat_map(|join| join.sides.iter().map(move |&side| (side, join)))
        .collect()
}

enum Act {
    Row(Vec<Side>),
    Zip(Vec<SideJoin>),
}

/// What a side is to be when its face is joined.
enum Role {
    /// Nothing yet: the other side is not there.
    Later,
    /// Zipped onto a row that is there.
    Bare {
        onto: Panel,
        at: Side,
        runs: Direction,
    },
    /// Carries the row; bare sides that are there are zipped onto it.
    Carrier {
        others: Vec<(Panel, Side, Direction)>,
    },
}

impl Role {
    fn row_of_others(&self) -> (Panel, Side) {
        match self {
            Role::Bare { onto, at, .. } => (*onto, *at),
            _ => unreachable!("an opening is closed when all its rim is there"),
        }
    }
}

/// Whether a panel looks the same on every side, so that any side may be
/// called its first.
fn turns_freely(project: &Project, spec: SpecIndex) -> bool {
    let rules = &project.panels[spec].colours.rules;
    rules.iter().all(|rule| rule.sides.len() == 1)
}

/// The turn of a face that saves the needle most ways: rows that are zipped
/// back come last, and no side is passed by between two that are worked.
fn best_turn(roles: &[Role]) -> usize {
    let n = roles.len();
    let cost = |turn: &usize| {
        let mut cost = 0;
        let mut idle = 0;
        let mut late_before = 0;
        for s in 0..n {
            let role = &roles[(s + turn) % n];
            if matches!(role, Role::Later) {
                idle += 1;
                continue;
            }
            cost += idle + late_before;
            idle = 0;
            if let Role::Carrier { others } = role {
                late_before += usize::from(!others.is_empty());
            }
        }
        cost
    };
    (0..n).min_by_key(cost).unwrap_or(0)
}
