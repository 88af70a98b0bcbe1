//! Kinds of join: how each is sewn, drawn once for all that are sewn alike.

use std::cell::LazyCell;

use crate::beadwork::amend::place_in_join;
use crate::beadwork::job::{JobInfo, JobKind};
use crate::beadwork::layout::Layout;
use crate::beadwork::number::{Bead, Step};
use crate::beadwork::seams::{Corner, Direction};
use crate::beadwork::stage::{Stage, Zip};
use crate::beadwork::work::Span;
use crate::beadwork::{Kind, Movement, Panel, Sequence, Side, many, plural};
use crate::geometry::Shape;
use crate::plan::joins::Joins;

use super::draw::join::{self, HingeFace};
use super::drawing::Drawing;
use super::round::each;
use super::stage::{but_in_gaps, none_or, numbered};
use super::{Hand, way};

/// A kind of join.
#[derive(Clone, Debug, PartialEq)]
pub struct JoinKind {
    /// Its name.
    pub title: String,
    /// How often the piece has it.
    pub times: u32,
    /// How it is sewn, and what to count, sentence by sentence.
    pub words: Vec<String>,
    /// The drawing, unless the join has too many steps to look through.
    pub drawing: Option<Drawing>,
    /// Beads that the needle passes through in addition.
    passed: usize,
}

impl JoinKind {
    fn new(title: impl Into<String>, words: Vec<String>, drawing: Option<Drawing>) -> JoinKind {
        JoinKind {
            title: title.into(),
            times: 1,
            words,
            drawing,
            passed: 0,
        }
    }

    /// How often it occurs, in words.
    pub fn times_words(&self) -> String {
        match self.times {
            1 => "once in the piece".into(),
            n => format!("{n} in the piece"),
        }
    }
}

/// The most steps of a job that are looked through for a drawing.
const STEPS: u32 = 200_000;

/// The kinds of join of a piece, in the order in which they are first sewn.
pub(super) fn kinds(seq: &Sequence, body: &Shape, joins: &Joins, hand: Hand) -> Vec<JoinKind> {
    let mut kinds = JoinKinds::default();
    for info in seq.jobs() {
        match &info.kind {
            JobKind::Zip(panel, sides) | JobKind::SetIn(panel, sides) => {
                let steps = LazyCell::new(|| movements(seq, info));
                for join in sides {
                    let layout = seq.layout();
                    let Some(zip) = zip_of(seq, info, join.side) else {
                        continue;
                    };
                    let row = layout.row(zip.row);
                    let set_in = matches!(info.kind, JobKind::SetIn(..));
                    let with = join.runs == Direction::With;
                    let beads = [zip.edge_beads(layout), row.beads, row.tips];
                    let is_own = next_door(layout, *panel, join.side).next().is_some()
                        || !uneven_teeth(layout, zip).is_empty();
                    let own = is_own.then_some((*panel, join.side));
                    let key = Key::Zip(beads, [zip.within, row.is_edge, with, set_in], own);
                    kinds.add_best(key, || one_zip(seq, &steps, zip, set_in, hand));
                }
            }
            JobKind::Fill { panel, .. } => {
                let is_own = seq.layout().rim_gaps(*panel).uneven().next().is_some();
                let key = Key::Fill(edge_of_fill(seq.layout(), *panel), is_own.then_some(*panel));
                kinds.add(key, || fill(seq, *panel, hand));
            }
            JobKind::SetInMiddle { panel, around } => {
                let key = Key::Middle(edge(seq.layout(), *panel));
                kinds.add(key, || middle(seq, *panel, *around));
            }
            JobKind::Tie(..) => {
                let loops = loops_of_tie(seq, info);
                let beads = loops.iter().map(|m| m.passes.len()).sum();
                kinds.add(Key::Tie(loops.len(), beads), || tie(seq, &loops, hand));
            }
            JobKind::FirmRim(rim) => kinds.add(Key::Firm, || firm(rim.len())),
            JobKind::Panel(_) | JobKind::JoinRow { .. } | JobKind::Reinforce(..) => {}
        }
    }
    hinges(seq, body, joins, &mut kinds);
    for (key, kind) in &mut kinds.0 {
        if matches!(key, Key::Zip(..)) && kind.times > 1 {
            let all = match kind.times {
                2 => "Both".to_string(),
                times => format!("All {times}"),
            };
            kind.words.push(format!(
                "{all} are locked alike, each in its own colours. The way to each is in its stage."
            ));
        }
    }
    kinds.0.into_iter().map(|(_, kind)| kind).collect()
}

/// Joins with the same key are sewn alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    /// Edge beads, join beads, tip beads; whether the side lies within the row,
    /// whether there is no row, whether the side runs with the row, whether a
    /// finished panel is set in; and the side, if the needle passes beads of
    /// the join or a tooth has other than one join bead.
    Zip([u32; 3], [bool; 4], Option<Corner>),
    /// Up beads on the sides of the rim; and the panel, if any of its gaps
    /// holds a number of beads other than one.
    Fill(u32, Option<Panel>),
    /// Up beads of a panel that is set in a middle.
    Middle(u32),
    /// Movements that draw the corners together, and their beads.
    Tie(usize, usize),
    Firm,
    /// Sides on the row.
    Hinge(usize),
}

#[derive(Default)]
struct JoinKinds(Vec<(Key, JoinKind)>);

impl JoinKinds {
    fn add(&mut self, key: Key, make: impl FnOnce() -> JoinKind) {
        match self.0.iter_mut().find(|(known, _)| *known == key) {
            Some((_, kind)) => kind.times += 1,
            None => self.0.push((key, make())),
        }
    }

    /// Adds a join. Among the first few of the same kind, the one with the most
    /// beads passed through in addition is described.
    fn add_best(&mut self, key: Key, make: impl FnOnce() -> JoinKind) {
        match self.0.iter_mut().find(|(known, _)| *known == key) {
            Some((_, kind)) if kind.times < COMPARED => {
                let other = make();
                let times = kind.times + 1;
                if other.passed > kind.passed {
                    *kind = other;
                }
                kind.times = times;
            }
            _ => self.add(key, make),
        }
    }
}

/// Joins of one kind that are compared to choose the one to draw.
const COMPARED: u32 = 8;

fn edge(layout: &Layout, panel: Panel) -> u32 {
    layout.kind(panel).edge(Side(0))
}

/// Up beads of a side of the opening that a fill closes.
fn edge_of_fill(layout: &Layout, panel: Panel) -> u32 {
    layout.planned_kind(panel).edge(Side(0))
}

pub(super) fn teeth(n: u32) -> String {
    many(n as usize, "tooth", "teeth")
}

/// The movements of a job, if there are not too many.
pub(super) fn movements(seq: &Sequence, info: &JobInfo) -> Vec<Movement> {
    if info.steps > STEPS {
        return vec![];
    }
    let first = Step(info.steps_before + 1);
    seq.iter_from(first).take(info.steps as usize).collect()
}

/// The runs of movements of a job, in order.
pub(super) fn spans_of<'a>(seq: &'a Sequence, info: &JobInfo) -> impl Iterator<Item = &'a Span> {
    let spans = seq.work().spans();
    let from = spans.partition_point(|span| span.steps_before < info.steps_before);
    let end = info.steps_before + info.steps;
    let of_job = spans[from..].iter();
    of_job.take_while(move |span| span.steps_before < end)
}

/// The zip of a side in a job.
pub(super) fn zip_of(seq: &Sequence, info: &JobInfo, side: Side) -> Option<Zip> {
    spans_of(seq, info).find_map(|span| match span.run.stage {
        Stage::Zip(zip) if zip.side == side => Some(zip),
        _ => None,
    })
}

/// The teeth that have other than one join bead, counted as the needle goes:
/// `2 join beads at teeth 4 and 6, none at tooth 5`. Empty if there are none.
pub(super) fn uneven_teeth(layout: &Layout, zip: Zip) -> String {
    if zip.within {
        return String::new();
    }
    let joins = |tooth| zip.joins(layout, tooth).count() as u32;
    let teeth: Vec<u32> = (0..zip.teeth(layout)).map(joins).collect();
    let mut kinds = teeth.clone();
    kinds.sort_unstable();
    kinds.dedup();
    let kinds = kinds.into_iter().rev().filter(|beads| *beads != 1);
    let words = kinds.map(|beads| {
        let at = (1..).zip(&teeth).filter(|(_, joins)| **joins == beads);
        let at: Vec<u32> = at.map(|(tooth, _)| tooth).collect();
        let what = if beads == 0 { "" } else { " join beads" };
        format!(
            "{}{what} at {}",
            none_or(beads),
            numbered("tooth", "teeth", &at)
        )
    });
    words.collect::<Vec<_>>().join(", ")
}

/// A zip in a job with these steps.
fn one_zip(seq: &Sequence, steps: &[Movement], zip: Zip, set_in: bool, hand: Hand) -> JoinKind {
    let of_side =
        |m: &Movement| matches!(seq.stage_of(m.step), Stage::Zip(of) if of.side == zip.side);
    let Some(at) = steps.iter().position(of_side) else {
        let words = "An edge bead and a join bead in turn, adding none.".into();
        return JoinKind::new("Zip", vec![words], None);
    };
    let passed = |m: &&Movement| m.kind == Kind::PassThrough;
    let passes = |m: &Movement| m.passes.clone();
    let before = steps[..at].iter().rev();
    let before = before
        .take_while(|m| passed(m) || m.passes.is_empty())
        .count();
    let before = steps[at - before..at]
        .iter()
        .filter(passed)
        .flat_map(passes);
    let before: Vec<Bead> = before.collect();
    let after = steps[at..].iter().skip_while(|m| m.kind == Kind::Zip);
    let after = after.take_while(|m| passed(m) || m.kind == Kind::Fold);
    let after: Vec<Bead> = after.flat_map(passes).collect();
    let mut kind = words_of_zip(seq, zip, (&before, &after), hand);
    if set_in {
        kind.title = format!(
            "Set in a finished panel: {}",
            kind.title.replace("Zip", "zip")
        );
    }
    kind
}

/// The beads of a join that the needle skips by going through the row next to
/// them.
pub(super) fn next_door(layout: &Layout, panel: Panel, side: Side) -> impl Iterator<Item = String> {
    let past = layout.panel(panel).next_door.iter();
    let here = past.filter(move |(on, _)| *on == side);
    here.map(|(_, place)| place_in_join(*place))
}

/// The most passed beads drawn beside a zip, on each side.
const PASSED: usize = 4;

fn words_of_zip(
    seq: &Sequence,
    zip: Zip,
    (before, after): (&[Bead], &[Bead]),
    hand: Hand,
) -> JoinKind {
    let layout = seq.layout();
    let (row, panel) = (layout.row(zip.row), zip.panel);
    let edge = zip.edge_beads(layout);
    let uneven = uneven_teeth(layout, zip);
    let (joins, all) = (plural(row.beads as usize, "join bead"), edge + row.beads);
    let beads = match (row.is_edge, zip.within) {
        (true, _) => {
            let [fewer, more] = [edge.min(row.beads), edge.max(row.beads)];
            format!(
                "an edge bead of one side and of the other in turn: {more} edge beads and {fewer} between them"
            )
        }
        (_, true) => {
            format!(
                "a join bead and an edge bead of the bare side in turn: {joins} and {edge} edge beads between them"
            )
        }
        _ if uneven.is_empty() => {
            format!(
                "an edge bead of the bare side and a join bead in turn: {edge} edge beads and {joins} between them"
            )
        }
        _ => format!(
            "an edge bead of the bare side and the join beads over its gap in turn: {edge} edge beads and {joins} between \
             them"
        ),
    };
    let mut words = vec![format!(
        "The needle takes {beads}, {all} beads in all, adding none."
    )];
    if !uneven.is_empty() {
        words.push(format!("One join bead at each tooth, but {uneven}."));
    }
    if row.is_edge {
        words.push(
            "The sides differ by one edge bead and lock directly: there is no join row.".into(),
        );
    }
    if zip.runs == Direction::With {
        words.push(format!(
            "At this hinge side {} of {} runs the same way as the row.",
            zip.side,
            layout.panel(panel).name
        ));
    }
    let this = format!("side {} of {}", zip.side, layout.panel(panel).name);
    for (beads, when) in [(before, "Before"), (after, "After")] {
        if !beads.is_empty() {
            words.push(format!(
                "{when} {this} the needle passes through {}, adding none: {}.",
                plural(beads.len(), "bead"),
                way::in_words(seq, beads)
            ));
        }
    }
    words.push(format!(
        "Count when it is done: {} locked, none of the {edge} edge beads skipped.",
        teeth(zip.teeth(layout))
    ));
    // The zip itself begins with the last bead before it.
    let before = match before {
        [way @ .., last] if *last == zip.start(layout).bead => way,
        all => all,
    };
    let tail = &before[before.len().saturating_sub(PASSED)..];
    let head = &after[..after.len().min(PASSED)];
    let way = match zip.runs {
        Direction::Against => "",
        Direction::With => ", both sides running the same way",
    };
    let into = match (row.is_edge, zip.within) {
        (true, _) => format!(" and {}, without a row", row.beads),
        (_, true) => format!(" between {joins}"),
        _ => String::new(),
    };
    let past: Vec<String> = next_door(layout, panel, zip.side).collect();
    if !past.is_empty() {
        words.push(format!(
            "Where a hole has no room, through the row next door: past {}.",
            past.join(", ")
        ));
    }
    let mut drawing = join::zip(seq, zip, tail, head, hand);
    if before.len() + after.len() > tail.len() + head.len() {
        drawing.desc += " Of those only the nearest are drawn.";
    }
    JoinKind {
        passed: tail.len() + head.len(),
        ..JoinKind::new(
            format!("Zip of {edge} edge beads{into}{way}"),
            words,
            Some(drawing),
        )
    }
}

fn fill(seq: &Sequence, panel: Panel, hand: Hand) -> JoinKind {
    let layout = seq.layout();
    let edge = edge_of_fill(layout, panel);
    let but = but_in_gaps(layout.rim_gaps(panel).uneven());
    let kind = layout.kind(panel);
    let beads = match but.is_empty() {
        true => format!("{edge} new beads on each side"),
        false => format!("{} new beads", kind.in_round(kind.last())),
    };
    let rim = layout.panel(panel).rim;
    let drawing = rim.and_then(|rim| join::fill(seq, panel, rim, hand));
    let sides = layout.kind(panel).sides();
    let way = |s| rim.map_or(0, |rim| layout.corner_way(rim, Side(s)).len());
    let planned = layout.planned_kind(panel);
    let edges: Vec<u32> = (0..sides).map(|s| planned.edge(Side(s))).collect();
    let rim_beads = match edges.iter().all(|beads| *beads == edge) {
        true => format!("{edge} beads a side"),
        false => format!(
            "{} beads, on the sides {}",
            edges.iter().sum::<u32>(),
            each(&edges)
        ),
    };
    JoinKind::new(
        format!("Fill on a rim of {rim_beads}"),
        vec![
            format!(
                "Round {} is worked on the rim: one new bead between each two anchors{but}: {beads}. The join beads of the \
                 rim are the anchors.",
                kind.rounds()
            ),
            through_the_corners(&(0..sides).map(way).collect::<Vec<_>>()),
            format!("Count before you go on inward: {beads}."),
        ],
        drawing,
    )
}

/// What the corners of a fill are sewn through, with the number of beads after
/// each side.
fn through_the_corners(ways: &[usize]) -> String {
    let first = ways.first().copied().unwrap_or(0);
    if ways.iter().all(|&way| way == first) {
        let beads = plural(first, "bead");
        return format!(
            "At each corner the needle passes through {beads} that is there already, adding none."
        )
        .replace("beads that is", "beads that are");
    }
    let behind =
        |(way, side): (&usize, u32)| format!("{} behind side {side}", plural(*way, "bead"));
    let behind: Vec<String> = ways.iter().zip(1..).map(behind).collect();
    format!(
        "At each corner the needle passes through beads that are there already, adding none: {}.",
        behind.join(", ")
    )
}

/// The movements that draw the corners of a tie together, once round: they are
/// made twice.
pub(super) fn loops_of_tie(seq: &Sequence, info: &JobInfo) -> Vec<Movement> {
    let steps = movements(seq, info).into_iter();
    let mut loops: Vec<Movement> = steps
        .filter(|m| m.kind == Kind::Fold && !m.passes.is_empty())
        .collect();
    loops.truncate(loops.len().div_ceil(2));
    loops
}

fn tie(seq: &Sequence, loops: &[Movement], hand: Hand) -> JoinKind {
    let beads: Vec<String> = loops
        .iter()
        .map(|m| plural(m.passes.len(), "bead"))
        .collect();
    let through = match &beads[..] {
        [one, other] => format!("{one} of the one corner and {other} of the other"),
        all => format!("{} of the corners", all.join(", then ")),
    };
    let hinge = match seq.layout().project().make.ties_by_a_fold() {
        true => " The edge from the point in the middle to the tie is the hinge.",
        false => "",
    };
    let loops: Vec<Vec<Bead>> = loops.iter().map(|m| m.passes.to_vec()).collect();
    JoinKind::new(
        "Corner tie",
        vec![format!(
            "Draw the two corners together: sew through {through}, adding none; then go through the same beads once \
                 more.{hinge}"
        )],
        (!loops.is_empty()).then(|| join::tie(seq, &loops, hand)),
    )
}

fn middle(seq: &Sequence, panel: Panel, around: Panel) -> JoinKind {
    let layout = seq.layout();
    let (edge, ring) = (edge(layout, panel), layout.making(around).innermost());
    let words = vec![
        format!(
            "The panel of {edge} beads a side lies in the opening within round {ring}. The needle takes a bead of \
             that round and an edge bead of the panel in turn, adding none; no join row is needed."
        ),
        "At each corner it goes through both corner beads of that round.".into(),
        format!(
            "Count when it is done: {} locked.",
            teeth(layout.kind(panel).in_round(layout.kind(panel).last()))
        ),
    ];
    JoinKind::new("Set in a finished panel within a round", words, None)
}

fn firm(sides: usize) -> JoinKind {
    let words = format!(
        "Go twice round the rim, through the edge beads and join beads of its {sides} sides, adding \
         none, to reinforce it."
    );
    JoinKind::new("Open face", vec![words], None)
}

fn hinges(seq: &Sequence, body: &Shape, joins: &Joins, kinds: &mut JoinKinds) {
    let layout = seq.layout();
    let solids = body.solids();
    for join in joins.joins.iter().filter(|join| join.others.len() > 1) {
        let sides = || [&join.carrier].into_iter().chain(&join.others);
        let number = sides().count();
        let name =
            |(panel, side): &(Panel, Side)| format!("{}, side {side}", layout.panel(*panel).name);
        kinds.add(Key::Hinge(number), || {
            let mut seen = vec![];
            let face = |at: &(Panel, Side)| {
                let own = solids[at.0.index()];
                let solid = seen.iter().position(|solid| *solid == own);
                let solid = solid.unwrap_or_else(|| {
                    seen.push(own);
                    seen.len() - 1
                });
                HingeFace {
                    name: name(at),
                    solid,
                    carries: *at == join.carrier,
                }
            };
            let faces: Vec<HingeFace> = sides().map(face).collect();
            let row = layout.row_on(join.carrier.0, join.carrier.1);
            let bead = row.map(|row| layout.colour(layout.row_bead(row, 0)).0);
            let bead = &layout.bead_kinds()[usize::from(bead.unwrap_or(0))];
            let words = vec![
                format!(
                    "{number} sides lie on one join row. {} carries it; each of the others is zipped \
                     onto the same join beads in its turn.",
                    name(&join.carrier)
                ),
                "Take the beads of this row each time, not those of the side next door.".into(),
            ];
            let drawing = join::hinge(&faces, (bead.colour, bead.letter));
            JoinKind::new(format!("Hinge of {number} sides"), words, Some(drawing))
        });
    }
}
