//! The stages of the work, each with a check box and a count to check.

use crate::beadwork::job::{JobInfo, JobKind, SideFit};
use crate::beadwork::{Bead, Colour, Kind, Movement, Panel, Sequence, Side, Step};
use crate::plan::joins::Joins;
use crate::words::short;

use super::join::{loops_of_tie, movements, next_door, teeth, uneven_teeth, zip_of};
use super::round::each;
use super::{own_steps, way};
use crate::beadwork::plural;

/// One stage, which is a job of the piece; or several stages that repeat those
/// of an earlier solid.
#[derive(Clone, Debug, PartialEq)]
pub struct StageLine {
    /// Its number, from 1.
    pub number: u32,
    /// The number of its last stage; the same as `number` for a single stage.
    pub last: u32,
    /// Its title.
    pub title: String,
    /// What to do, and what to count.
    pub words: String,
    /// Number of beads that it strings.
    pub beads: u32,
    /// Number of beads in the piece when it is done.
    pub total: u32,
}

/// The most stages listed one by one.
pub(super) const STAGES_LISTED: usize = 240;

/// The stages of a piece.
pub(super) fn stages(seq: &Sequence) -> Vec<StageLine> {
    let threads: Vec<Step> = seq.thread_starts().collect();
    let jobs = seq.jobs().iter().take(STAGES_LISTED).enumerate();
    let lines = jobs.map(|(at, info)| StageLine {
        number: at as u32 + 1,
        last: at as u32 + 1,
        title: info.title.clone(),
        words: format!(
            "{}{}{}{}",
            thread(&threads, info),
            words(seq, info),
            own(seq, info),
            end(seq, info)
        ),
        beads: info.beads,
        total: info.beads_before + info.beads,
    });
    let lines: Vec<StageLine> = lines.collect();
    let listed = seq.jobs().iter().take(lines.len());
    let solids: Vec<Option<(&str, u32)>> = listed.map(|job| solid(seq, job)).collect();
    fold(lines, &solids)
}

/// The solid that a job is about, from the name of its panel (`Tetrahedron 3,
/// face 1`): the word and the number.
fn solid<'a>(seq: &'a Sequence, job: &JobInfo) -> Option<(&'a str, u32)> {
    let (name, _) = seq.layout().panel(job.panel()).name.split_once(", ")?;
    let (word, number) = name.rsplit_once(' ')?;
    Some((word, number.parse().ok()?))
}

/// Combines into one line the stages of a solid that repeat those of an earlier
/// solid, except for the numbers of the solids.
fn fold(lines: Vec<StageLine>, solids: &[Option<(&str, u32)>]) -> Vec<StageLine> {
    let mut folded: Vec<StageLine> = vec![];
    let mut known: Vec<(Vec<String>, u32, u32)> = vec![];
    let mut rest = &lines[..];
    while let [first, ..] = rest {
        let of = solids[first.number as usize - 1];
        let same = |line: &&StageLine| solids[line.number as usize - 1] == of;
        let (stages, after) = rest.split_at(rest.iter().take_while(same).count());
        rest = after;
        let (Some((word, number)), [_, .., last]) = (of, stages) else {
            folded.extend(stages.iter().cloned());
            continue;
        };
        let texts: Vec<String> = stages
            .iter()
            .map(|line| relative(&format!("{}. {}", line.title, line.words), word, number))
            .collect();
        let Some((_, like, from)) = known.iter().find(|(known, ..)| *known == texts) else {
            known.push((texts, number, first.number));
            folded.extend(stages.iter().cloned());
            continue;
        };
        folded.push(StageLine {
            last: last.number,
            title: format!("{word} {number}"),
            words: format!(
                "As {} {like}, stages {from} to {}: each number of a {} is {} higher.",
                word.to_lowercase(),
                from + (last.number - first.number),
                word.to_lowercase(),
                number - like,
            ),
            beads: stages.iter().map(|line| line.beads).sum(),
            total: last.total,
            ..*first
        });
    }
    folded
}

/// The text with the numbers of solids counted relative to `from`.
fn relative(words: &str, word: &str, from: u32) -> String {
    let word = format!("{word} ");
    let mut parts = words.split(&word);
    let mut all = parts.next().unwrap_or_default().to_string();
    for part in parts {
        let digits = part
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(part.len());
        let number = part[..digits].parse::<i64>().unwrap_or(0) - i64::from(from);
        all.push_str(&format!("{word}{number:+}{}", &part[digits..]));
    }
    all
}

/// Says which new lengths of thread are taken up in a job.
fn thread(starts: &[Step], info: &JobInfo) -> String {
    let from = starts.partition_point(|step| step.0 <= info.steps_before);
    let to = starts.partition_point(|step| step.0 <= info.steps_before + info.steps);
    let new = &starts[from..to];
    match (
        new,
        new.first().is_some_and(|s| s.0 == info.steps_before + 1),
    ) {
        ([], _) => String::new(),
        ([_], true) => "New thread. ".into(),
        (all, true) => format!("New thread, and {} more on the way. ", all.len() - 1),
        (all, false) => format!("{} on the way. ", plural(all.len(), "new thread")),
    }
}

/// Steps of the maker's own in the midst of a job.
fn own(seq: &Sequence, info: &JobInfo) -> String {
    let own = own_steps::in_job(seq, info).into_iter();
    own.map(|own| format!(" {}.", own.words)).collect()
}

/// What comes at the end of a job: steps of the maker's own, and the end of the
/// thread.
fn end(seq: &Sequence, info: &JobInfo) -> String {
    let steps = info.steps_before + 1..=info.steps_before + info.steps;
    let last = steps.rev().filter_map(|step| seq.step(Step(step)));
    let last = last.take_while(|m| matches!(m.kind, Kind::Own | Kind::EndThread));
    let mut words: Vec<String> = last
        .map(|m| match m.kind {
            Kind::Own => format!(" {}.", seq.say(&m)),
            _ => " End the thread.".into(),
        })
        .collect();
    words.reverse();
    words.concat()
}

fn words(seq: &Sequence, info: &JobInfo) -> String {
    let layout = seq.layout();
    match &info.kind {
        JobKind::Panel(panel) => {
            let kind = layout.kind(*panel);
            let name = &layout.project().panels[layout.panel(*panel).spec].name;
            if kind.strip().is_some() {
                let beads = plural(kind.in_round(kind.last()) as usize, "bead");
                return format!(
                    "Work strip '{name}' as drawn. Count the row that ends it: {beads}."
                );
            }
            let sides: Vec<u32> = (0..kind.sides())
                .map(|s| kind.on_side(kind.last(), Side(s)))
                .collect();
            format!(
                "Work panel '{name}' as drawn. Count the outer round: {} beads, {} on each side.",
                kind.in_round(kind.last()),
                each(&sides)
            )
        }
        JobKind::JoinRow { panel, sides, .. } => {
            let counts: Vec<String> = sides.iter().map(|&s| row(seq, *panel, s)).collect();
            let ways = ways_to_sides(seq, info);
            format!(
                "{}{}{} Count: {}.",
                ways.first().map_or(String::new(), |way| way.words(seq)),
                gaps_of_rows(seq, *panel, sides),
                corners_between(seq, *panel, &ways),
                counts.join("; ")
            )
        }
        JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins) => {
            let ways = ways_to_sides(seq, info);
            let each: Vec<String> = joins
                .iter()
                .map(|join| {
                    let way = ways.iter().find(|way| way.side == join.side);
                    let zip = zip_of(seq, info, join.side);
                    let what = match join.fit {
                        SideFit::Locked => "into the edge",
                        _ => "onto the row",
                    };
                    let past: Vec<String> = next_door(layout, *panel, join.side).collect();
                    let past = match past.is_empty() {
                        true => String::new(),
                        false => format!(" Through the row next door past {}.", past.join(", ")),
                    };
                    format!(
                        "{}Zip side {} {what} of {}, side {}: {} locked{}.{past}",
                        way.map_or(String::new(), |way| way.words(seq)),
                        join.side,
                        layout.panel(join.onto).name,
                        join.at,
                        teeth(zip.map_or(0, |zip| zip.teeth(layout))),
                        match zip.map_or(String::new(), |zip| uneven_teeth(layout, zip)) {
                            uneven if uneven.is_empty() => uneven,
                            uneven => format!(", {uneven}"),
                        }
                    )
                })
                .collect();
            each.join(" ")
        }
        JobKind::SetInMiddle { panel, around } => {
            let kind = layout.kind(*panel);
            format!(
                "{}Lock its edge into round {} of {}: a bead of that round and an edge bead in turn, all round. Count: \
                 {} locked.",
                way_there(seq, info),
                layout.making(*around).innermost(),
                layout.panel(*around).name,
                teeth(kind.in_round(kind.last()))
            )
        }
        JobKind::Fill { panel, .. } => {
            let kind = layout.kind(*panel);
            let name = &layout.project().panels[layout.panel(*panel).spec].name;
            let inner = layout.making(*panel).innermost();
            let gaps = match but_in_gaps(layout.rim_gaps(*panel).uneven()) {
                but if but.is_empty() => but,
                but => format!(", one in each gap{but}"),
            };
            format!(
                "{}Panel '{name}', worked on the rim and then inward to round {inner}. Count the first round: {} beads{gaps}.",
                way_there(seq, info),
                kind.in_round(kind.last()),
            )
        }
        JobKind::Reinforce(panel, side) => format!(
            "{}Go once more through the join of {}, side {side}: its edge beads and join beads in turn, adding none.",
            way_there(seq, info),
            layout.panel(*panel).name
        ),
        JobKind::FirmRim(rim) => {
            let name = |(panel, side): &(Panel, Side)| {
                format!("{}, side {side}", layout.panel(*panel).name)
            };
            let sides: Vec<String> = rim.iter().map(name).collect();
            format!(
                "{}Go twice round the rim of {} sides, adding no bead: {}.",
                way_there(seq, info),
                rim.len(),
                sides.join("; ")
            )
        }
        JobKind::Tie(..) => {
            let fold = |m: &Movement| m.kind == Kind::Fold && m.passes.is_empty();
            let fold = movements(seq, info).into_iter().find(fold);
            let loops = loops_of_tie(seq, info);
            let steps = fold.iter().chain(&loops);
            let said = steps.map(|m| format!("{}. ", seq.say_fully(m)));
            format!(
                "{}{}Then go through the same beads once more.",
                way_there(seq, info),
                said.collect::<String>()
            )
        }
    }
}

/// The beads of a join row: how many, and in which colours, in the order of
/// stringing.
fn row(seq: &Sequence, panel: Panel, side: Side) -> String {
    let layout = seq.layout();
    let Some(at) = layout.row_on(panel, side) else {
        return format!("side {side}");
    };
    let row = layout.row(at);
    let tips = match row.tips {
        0 => String::new(),
        tips => format!(" and {}", plural(tips as usize, "tip bead")),
    };
    let letter = |colour: Colour| layout.bead_kind(colour).letter;
    let letters = (0..row.beads + row.tips).map(|j| letter(layout.colour(layout.row_bead(at, j))));
    format!(
        "side {side}, {}{tips} ({})",
        plural(row.beads as usize, "join bead"),
        short::colours(letters)
    )
}

/// What goes into the gaps of a job's rows: one bead in each, except those that
/// are named.
fn gaps_of_rows(seq: &Sequence, panel: Panel, sides: &[Side]) -> String {
    let layout = seq.layout();
    let rows = sides.iter().filter_map(|&side| layout.row_on(panel, side));
    let uneven = rows.flat_map(|row| {
        let row = layout.row(row);
        let gaps = row.uneven_gaps();
        gaps.map(|(gap, beads)| (row.side, gap, beads))
    });
    let mut rows = sides.iter().filter_map(|&side| layout.row_on(panel, side));
    let tips = match rows.any(|row| layout.row(row).tips > 0) {
        true => ", and the tip beads in the gap at the corner",
        false => "",
    };
    format!(
        "One bead in each gap of the edge{}{tips}.",
        but_in_gaps(uneven)
    )
}

/// `, but none in gaps 2 and 5 of side 2, 2 in gap 4 of side 2`; empty if all
/// gaps hold one bead.
pub(super) fn but_in_gaps(uneven: impl Iterator<Item = (Side, u32, u32)>) -> String {
    let mut alike: Vec<((Side, u32), Vec<u32>)> = vec![];
    for (side, gap, beads) in uneven {
        match alike.iter_mut().find(|(of, _)| *of == (side, beads)) {
            Some((_, gaps)) => gaps.push(gap + 1),
            None => alike.push(((side, beads), vec![gap + 1])),
        }
    }
    let words = alike.into_iter().map(|((side, beads), gaps)| {
        let beads = none_or(beads);
        format!(
            "{beads} in {} of side {side}",
            numbered("gap", "gaps", &gaps)
        )
    });
    match words.collect::<Vec<_>>() {
        words if words.is_empty() => String::new(),
        words => format!(", but {}", words.join(", ")),
    }
}

/// `none`, or how many.
pub(super) fn none_or(beads: u32) -> String {
    match beads {
        0 => "none".into(),
        beads => beads.to_string(),
    }
}

/// `gap 2`, or `gaps 2, 5 and 7`.
pub(super) fn numbered(one: &str, more: &str, numbers: &[u32]) -> String {
    let all: Vec<String> = numbers.iter().map(u32::to_string).collect();
    match all.split_last() {
        Some((last, before)) if !before.is_empty() => {
            format!("{more} {} and {last}", before.join(", "))
        }
        _ => format!("{one} {}", all.concat()),
    }
}

/// The path to where a job begins to string.
fn way_there(seq: &Sequence, info: &JobInfo) -> String {
    let mut way = vec![];
    let steps = seq.iter_from(Step(info.steps_before + 1));
    for movement in steps.take(info.steps as usize) {
        match movement.kind {
            Kind::PassThrough => way.extend(movement.passes),
            Kind::StartThread => {}
            _ => break,
        }
    }
    through(seq, &way)
}

fn through(seq: &Sequence, way: &[Bead]) -> String {
    match way {
        [] => String::new(),
        way => format!(
            "Sew through {}, adding none ({}). ",
            plural(way.len(), "bead"),
            way::in_words(seq, way)
        ),
    }
}

/// What a job does before it works a side.
struct WayToSide {
    side: Side,
    /// How the panel is folded over.
    fold: Option<String>,
    /// The beads that the needle passes through.
    beads: Vec<Bead>,
}

impl WayToSide {
    /// `Fold Face 4 over until its side 2 meets Face 3. Sew through 1 bead …. `
    fn words(&self, seq: &Sequence) -> String {
        let fold = self.fold.iter().map(|fold| format!("{fold}. "));
        fold.chain([through(seq, &self.beads)]).collect()
    }
}

/// For each side that a job zips or lays a row on, the way to it.
fn ways_to_sides(seq: &Sequence, info: &JobInfo) -> Vec<WayToSide> {
    let mut ways: Vec<WayToSide> = vec![];
    let (mut fold, mut beads) = (None, vec![]);
    for movement in movements(seq, info) {
        match (movement.kind, movement.side) {
            (Kind::PassThrough, _) => beads.extend(movement.passes),
            (Kind::Fold, _) => fold = Some(seq.say(&movement)),
            (_, Some(side)) => {
                let (fold, beads) = (fold.take(), std::mem::take(&mut beads));
                if ways.last().is_none_or(|way| way.side != side) {
                    ways.push(WayToSide { side, fold, beads });
                }
            }
            _ => {}
        }
    }
    ways
}

/// How the needle goes on from row to row of a job.
fn corners_between(seq: &Sequence, panel: Panel, ways: &[WayToSide]) -> String {
    let layout = seq.layout();
    let pairs = ways.windows(2).filter(|pair| !pair[1].beads.is_empty());
    let words = pairs.map(|pair| {
        let (from, way) = (pair[0].side, pair[1].words(seq));
        let row = layout.row_on(panel, from).map(|row| layout.row(row));
        let is_empty = layout.kind(panel).next_side(from) == pair[1].side
            && row.is_some_and(|row| row.tips == 0);
        let corner = match is_empty {
            true => ": no bead goes into the gap at the corner",
            false => "",
        };
        let way = own_steps::in_a_sentence(way.trim_end_matches(". "));
        format!(" At the end of side {from} {way}{corner}.")
    });
    words.collect()
}

/// Which sides meet: the side with the row, and what is joined to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    /// The side that carries the row.
    pub carrier: String,
    /// The sides on it.
    pub others: Vec<String>,
    /// Whether they lock into its edge, without a join row.
    pub is_direct: bool,
}

impl Meeting {
    /// In words: `1 · Face 1, side 2 meets 2 · Face 2, side 1`.
    pub fn words(&self) -> String {
        let direct = if self.is_direct {
            ", locked directly"
        } else {
            ""
        };
        format!("{} meets {}{direct}", self.carrier, self.others.join("; "))
    }
}

/// The most meetings listed one by one.
pub(super) const MEETINGS_LISTED: usize = 160;

/// The joins of a piece in words.
pub(super) fn meetings(seq: &Sequence, joins: &Joins) -> Vec<Meeting> {
    let layout = seq.layout();
    let name = |&(panel, side): &(Panel, Side)| {
        format!(
            "{} · {}, side {side}",
            panel.number(),
            layout.panel(panel).name
        )
    };
    let listed = joins.joins.iter().take(MEETINGS_LISTED);
    listed
        .map(|join| Meeting {
            carrier: name(&join.carrier),
            others: join.others.iter().map(name).collect(),
            is_direct: {
                let row = layout.any_row_on(join.carrier.0, join.carrier.1);
                row.is_some_and(|row| layout.row(row).is_edge)
            },
        })
        .collect()
}
