//! A change of mind: what can be changed, what the result is, and the change.
//!
//! ```text
//! what can be changed -> before and after -> changed
//!          \-> a number, words -/
//! ```

use super::as_stitched;
use super::menu::{Menu, MenuRow, Prompt, row};
use super::preview::previewed;
use crate::beadwork::amend::thread::ThreadChange;
use crate::beadwork::amend::{
    Amendment, JoinChange, JoinWhat, OpeningEnd, OwnStep, OwnStepKind, SidesJoined,
};
use crate::beadwork::number::GoalJob;
use crate::beadwork::project::SpecIndex;
use crate::beadwork::rules::Refusal;
use crate::beadwork::seams::Corner;
use crate::beadwork::{Panel, Side};
use crate::progress::PlainText;
use crate::screen::layer::{Flow, Keys, LOOK, Layer, Opener, key_table, keys, opener};
use crate::screen::session::Session;
use crate::screen::session::amend::cannot;
use crate::screen::widgets::{Scroll, TextEntry};
use crate::tracking::count::numbers;
use ratatui::text::Line;
use std::rc::Rc;

pub const OPENER: Opener<Session> = opener!(Session; "changes" "m" ["m change your mind"] "change your mind: a gap as stitched and the way back, a bead too many broken out, how many rounds a panel has, how an opening is closed, which job is next or left out, joins, panels made already, a thread that ends, another thread, needle or length, a step of your own, other beads, finish here; what is sewn stays" |_, session| open(session); || CHANGES, || NUMBER, || as_stitched::GAP, || OWN_STEP, super::preview::Previewed::table, ChangesMade::table);

pub const BY_LAW: Opener<Session> =
    opener!(Session; "by law" "" [] "" |_, session| by_law(session); || LAW);

pub const JOIN_SIDES: Opener<Session> =
    opener!(Session; "join sides" "" [] "" |_, _| join_sides(); || JOIN);

const CHANGES: &Keys = &key_table!("A change of mind";
    choose "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    colour "c" ["c another bead"] "one bead in place of another from here on, because one runs out: which, which instead, how far"
    new_bead "n" ["n new bead"] "a bead that the pattern lacks: its letter and name, and if you like its size and colour"
    undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later"
    history "i" ["i made so far"] "the changes of mind made so far");

const NUMBER: &Keys = &Keys::new("A number for a change", LOOK);

const OWN_STEP: &Keys = &Keys::new("A step of your own", LOOK);

const LAW: &Keys = &Keys::new("Going on by a law", LOOK);

const JOIN: &Keys = &Keys::new("A join of your own", LOOK);

/// A list of changes, opened.
pub(super) fn changes(asked: impl Into<String>, rows: impl Into<Rc<[ChangeRow]>>) -> Flow<Session> {
    Flow::open(list(asked, rows))
}

/// A list of changes.
pub(super) fn list(asked: impl Into<String>, rows: impl Into<Rc<[ChangeRow]>>) -> Menu<Session> {
    let more = |name: &str, session: &mut Session| match name {
        "colour" => Flow::Screen("another bead"),
        "new_bead" => Flow::Screen("new bead"),
        "undo" => session.undo(),
        _ => Flow::open(ChangesMade {
            lines: session.changes_made(),
            scroll: Scroll::new(),
        }),
    };
    Menu::new(CHANGES, asked, rows).with(more)
}

pub(super) type ChangeRow = MenuRow<Session>;

/// A line that shows the result of a change.
fn ready(session: &Session, change: Amendment) -> ChangeRow {
    let words = change.say(&session.seq);
    row(words, move |session| {
        match previewed(session, change.clone()) {
            Ok(layer) => Flow::open(layer),
            Err(why) => ways_to_fit(session, &change).unwrap_or_else(|| session.say(why)),
        }
    })
}

/// The different ways of doing something.
fn ways(session: &Session, asked: impl Into<String>, ways: Vec<Amendment>) -> Flow<Session> {
    let rows: Vec<_> = ways.into_iter().map(|way| ready(session, way)).collect();
    changes(asked, rows)
}

fn open(session: &Session) -> Flow<Session> {
    let current = session.movement().map(|m| m.job);
    let current = current.map(|job| format!("{}: ", session.seq.job(job).title));
    let mut here = vec![];
    let mut groups = GROUPS.map(|words| (words, vec![]));
    let mut offered = session.seq.amendments(session.done());
    // These are offered when a panel alone cannot have other rounds.
    let with_joins = |change: &Amendment| matches!(change, Amendment::All(all) if matches!(all.last(), Some(Amendment::Rounds { .. })));
    offered.retain(|change| !with_joins(change));
    let left_out = session.seq.left_out().into_iter();
    let left_out: Vec<GoalJob> = left_out.map(|(job, _)| job).collect();
    offered.retain(|change| is_of_the_plan(session, &left_out, change));
    for amendment in offered {
        let words = amendment.say(&session.seq);
        let is_here = current
            .as_ref()
            .is_some_and(|title| words.starts_with(title));
        let list = match group(&amendment, is_here) {
            Some(group) => &mut groups[group].1,
            None => &mut here,
        };
        list.push(ready(session, amendment.clone()));
        // A fill to the centre can stop at an earlier round, too.
        if let Amendment::Opening { job, how } = amendment
            && let OpeningEnd::Fill { kind, open: 0 } = how
        {
            let named = |end| words.replace("to the centre", end);
            let round = named("as far as a round that you name");
            list.push(row(round, move |_| last_round(job, kind)));
            let stone = named("until it holds a stone");
            list.push(row(stone, move |_| stone_width(job, kind)));
        }
    }
    let next = session.next_step();
    for way in session.seq.next_door(next) {
        let row = ready(session, Amendment::Join(way.change));
        let mut full = session.stats.full(next).iter();
        match full.any(|full| full.next_door == Some(way)) {
            true => here.insert(0, row),
            false => groups[JOINS].1.push(row),
        }
    }
    if !groups[THREADS].1.is_empty() {
        let words = "Thread cut to another length that you name";
        groups[THREADS].1.push(row(words, |_| cut_length()));
    }
    let own_steps = OwnStepKind::ALL.map(|(what, _, words)| row(words, move |_| own_step(what)));
    groups[OWN_STEPS].1.extend(own_steps);
    let mut rows = here;
    rows.extend(as_stitched::at_the_needle(session));
    for (words, list) in groups {
        match list.len() {
            0 => {}
            1 => rows.extend(list),
            _ => {
                let list: Rc<[ChangeRow]> = list.into();
                let open = move |_: &mut Session| changes(words, list.clone());
                rows.push(row(format!("{words} ..."), open));
            }
        }
    }
    let is_law = session.seq.can_go_by_law(session.done());
    let joins = session.seq.layout().begun_panels().nth(1).is_some();
    let screen = |words, screen| row(words, move |_| Flow::Screen(screen));
    let words = "Go on by the corners of the last rounds, or by others ...";
    rows.extend(is_law.then(|| screen(words, "by law")));
    let words = "Join two sides of what is made ...";
    rows.extend(joins.then(|| screen(words, "join sides")));
    rows.push(screen("Sew through to a bead ...", "sew through"));
    let words = "One bead in place of another, because one runs out";
    rows.push(screen(words, "another bead"));
    rows.push(screen("A bead that the pattern lacks", "new bead"));
    changes("What should change from here on? What is sewn stays.", rows)
}

/// Whether a change is about what the plan has, or brings back what it leaves out.
fn is_of_the_plan(session: &Session, left_out: &[GoalJob], change: &Amendment) -> bool {
    match change {
        Amendment::LeaveOut(job) | Amendment::Next(job) => !left_out.contains(job),
        Amendment::Opening { job, .. } if left_out.contains(job) => {
            let after = session.seq.amended(session.done(), change);
            after.is_ok_and(|after| after.left_out().len() < left_out.len())
        }
        _ => true,
    }
}

/// What changes are about; those about the same stand in a list of their own.
const GROUPS: [&str; 7] = [
    "How openings are closed",
    "How many rounds panels have",
    "What is next, what is left out, finish here",
    "Joins: tip beads, the other side, more or fewer join beads",
    "Panels that are made already, before or elsewhere",
    "Another thread, needle or length from here on",
    "A step of your own: a stone, a join, fit and look, a note",
];
const JOINS: usize = 3;
const THREADS: usize = 5;
const OWN_STEPS: usize = 6;

/// The group of a change; `None` if it is offered at once: most of those here at
/// the needle.
fn group(change: &Amendment, is_here: bool) -> Option<usize> {
    Some(match change {
        Amendment::Opening { .. } if !is_here => 0,
        Amendment::Rounds { .. } | Amendment::Ease { .. } if !is_here => 1,
        Amendment::Next(_) | Amendment::LeaveOut(_) => 2,
        Amendment::Tetrahedra(_) | Amendment::Finish => 2,
        // These bring a join back that is left out.
        Amendment::Join(JoinChange {
            what: JoinWhat::Fit(_),
            ..
        }) => return None,
        Amendment::Join(_) => JOINS,
        Amendment::Made(_) => 4,
        Amendment::Thread(_) => THREADS,
        _ => return None,
    })
}

/// If a panel alone cannot have other rounds because its sides would be unlike
/// those that they meet: which sides these are, and the ways to join them.
fn ways_to_fit(session: &Session, change: &Amendment) -> Option<Flow<Session>> {
    let Amendment::Rounds { jobs, rounds } = change else {
        return None;
    };
    let refused = session.seq.amended(session.done(), change).err();
    let Some(Refusal::UnlikeSides(ours, up, theirs, onto)) = refused else {
        return None;
    };
    let is_way = |way: &Amendment| match way {
        Amendment::All(all) => all.last() == Some(change),
        Amendment::Rounds {
            jobs: all,
            rounds: of,
        } => of == rounds && all.len() > 1 && jobs.iter().all(|job| all.contains(job)),
        _ => false,
    };
    let mut fitting = session.seq.amendments(session.done());
    fitting.retain(is_way);
    let side = |(panel, side): Corner| {
        format!("side {side} of {}", session.seq.layout().panel(panel).name)
    };
    let (ours, theirs) = (side(ours), side(theirs));
    let asked = format!(
        "The sides would differ: {up} up beads on {ours}, {onto} on {theirs}. How are they joined?"
    );
    (!fitting.is_empty()).then(|| ways(session, asked, fitting))
}

/// Asks for something from which a change is made.
pub(super) fn ask<Q: Into<String>, B: Into<Line<'static>>>(
    keys: &'static Keys,
    entry: TextEntry,
    asks: impl Fn(&Session, &str) -> (Q, B) + 'static,
    change: impl Fn(&Session, &str) -> Result<Amendment, String> + 'static,
) -> Flow<Session> {
    Flow::open(Prompt::new(keys, entry, asks, move |session, typed| {
        previewed(session, change(session, typed)?).map(Flow::replace)
    }))
}

fn number_entry() -> TextEntry {
    TextEntry::of(6, |c| c.is_ascii_digit() || c == '.')
}

/// Asks for the round at which a fill stops.
fn last_round(job: GoalJob, kind: SpecIndex) -> Flow<Session> {
    let rounds = move |session: &Session| session.seq.layout().kind_of(kind).rounds();
    let asks = move |session: &Session, _: &str| {
        let first = rounds(session);
        let help = format!("Round {first} is sewn first, round 1 is the centre.");
        ("Which round is the last one?", help)
    };
    ask(NUMBER, number_entry(), asks, move |session, typed| {
        let most = rounds(session) - 1;
        let last = typed.parse().ok().filter(|last| (1..=most).contains(last));
        let last: u32 = last.ok_or(format!("A round from 1 to {most}, please."))?;
        let open = last - 1;
        let how = OpeningEnd::Fill { kind, open };
        Ok(Amendment::Opening { job, how })
    })
}

/// Asks for the diameter of a stone.
fn stone_width(job: GoalJob, kind: SpecIndex) -> Flow<Session> {
    let help = "It is set from within, and the rounds close over it.";
    let asks = move |_: &Session, _: &str| ("How wide is the stone, in mm?", help);
    ask(NUMBER, number_entry(), asks, move |_, typed| {
        let mm = typed.parse().ok().filter(|mm| (1.0..=99.0).contains(mm));
        let mm: f64 = mm.ok_or("From 1 to 99 mm, please.")?;
        let tenths = (mm * 10.0).round() as u32;
        let in_time = true;
        let how = OpeningEnd::Stone {
            kind,
            tenths,
            in_time,
        };
        Ok(Amendment::Opening { job, how })
    })
}

/// Asks for the length to which thread is cut.
fn cut_length() -> Flow<Session> {
    let asks = |session: &Session, _: &str| {
        let now = session.seq.goal().thread_to_come().thread.cut_mm;
        let help = format!("With both its tails; now {now:.0} mm.");
        ("How long is each length cut from here on, in mm?", help)
    };
    ask(NUMBER, number_entry(), asks, |_, typed| {
        let cut_mm = typed.parse();
        let cut_mm = cut_mm.map_err(|_| "A number of whole millimetres, please.")?;
        Ok(Amendment::Thread(ThreadChange::Cut(cut_mm)))
    })
}

/// Asks for the maker's note on a step of her own.
fn own_step(what: OwnStepKind) -> Flow<Session> {
    let below = "It comes before the next movement.";
    let asks = move |_: &Session, _: &str| ("Your words for it, if any:", below);
    ask(OWN_STEP, TextEntry::text(80), asks, move |_, typed| {
        let text = PlainText::new(typed.trim()).as_str().to_string();
        Ok(Amendment::Own(OwnStep { what, text }))
    })
}

/// The most rounds that are planned at once by a law.
const MOST_ROUNDS: u32 = 200;

/// Asks for how many rounds to go on, and with which corners if they differ from
/// those of the last rounds.
fn by_law(session: &Session) -> Flow<Session> {
    let shown = session.seq.law_ahead(session.done());
    let help = match &shown {
        Some(corners) => {
            let corners: Vec<String> = corners.iter().map(u8::to_string).collect();
            format!(
                "The last rounds show corners of {} next, again and again. Type 6 2 1 0 for six rounds by corners of 2, 1 and 0.",
                corners.join(" ")
            )
        }
        None => "The last rounds show no law. Type rounds and corners: 6 2 1 0 is six rounds by corners of 2, 1 and 0.".into(),
    };
    let asks = move |_: &Session, _: &str| ("How many rounds?", help.clone());
    ask(LAW, TextEntry::numbers(100), asks, move |session, typed| {
        let numbers = numbers::<u32>(typed).unwrap_or_default();
        let corners = match numbers.split_first() {
            Some((1..=MOST_ROUNDS, corners)) => corners.iter(),
            _ => return Err(format!("From 1 to {MOST_ROUNDS} rounds, please.")),
        };
        let small = |corner: &u32| u8::try_from(*corner).map_err(|_| "A corner takes 0, 1 or 2.");
        let typed: Vec<u8> = corners.map(small).collect::<Result<_, _>>()?;
        let corners = match (&shown, typed.is_empty()) {
            (Some(shown), true) => shown.clone(),
            (None, true) => return Err("Type the corners behind the number of rounds.".into()),
            (_, false) => typed,
        };
        let law = session.seq.by_law(session.done(), &corners, numbers[0]);
        law.map_err(cannot)
    })
}

/// Asks which side of which panel meets which: panel and side, panel and side.
fn join_sides() -> Flow<Session> {
    let asks = |session: &Session, _: &str| {
        let layout = session.seq.layout();
        let made = layout.begun_panels().map(|(panel, _)| {
            let (name, sides) = (&layout.panel(panel).name, layout.kind(panel).sides());
            format!("{panel} {name} ({sides} sides)")
        });
        let made: Vec<String> = made.collect();
        let help = format!(
            "1 2 2 3 joins side 2 of panel 1 to side 3 of panel 2, which carries the row. Panels: {}.",
            made.join(", ")
        );
        ("Panel and side, panel and side?", help)
    };
    let join = |session: &mut Session, typed: &str| {
        // Makers count from 1.
        let from_0 = |number: &u16| number.checked_sub(1);
        let numbers = numbers(typed).and_then(|all| all.iter().map(from_0).collect());
        let numbers: Vec<u16> = numbers.unwrap_or_default();
        let &[panel, bare, onto, at] = numbers.as_slice() else {
            return Err("Four numbers, please: panel and side, panel and side.".into());
        };
        let side = |side: u16| Side(u8::try_from(side).unwrap_or(u8::MAX));
        let join = SidesJoined {
            panel: Panel(panel),
            side: side(bare),
            onto: Panel(onto),
            at: side(at),
            fit: None,
        };
        let mut fits = session.seq.ways_to_join(join);
        if fits.len() == 1 {
            return previewed(session, fits.remove(0)).map(Flow::replace);
        }
        let asked = "These sides are not equally long. How are they joined?";
        Ok(ways(session, asked, fits).instead())
    };
    Flow::open(Prompt::new(JOIN, TextEntry::numbers(30), asks, join))
}

/// The changes made so far, in words.
pub struct ChangesMade {
    lines: Vec<String>,
    scroll: Scroll,
}

impl Layer<Session> for ChangesMade {
    keys! { Session, "Changes of mind so far" [scroll];
        undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later" => |s| s.undo();
    }

    fn lines(&self, _session: &Session) -> Vec<Line<'static>> {
        match self.lines.is_empty() {
            true => vec![Line::from("All is as the pattern has it.")],
            false => self.lines.iter().cloned().map(Line::from).collect(),
        }
    }
}
