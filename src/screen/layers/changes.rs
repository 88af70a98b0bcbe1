//! A change of mind: what can be changed, what the result is, and the change.
//!
//! ```text
//! what can be changed -> before and after -> changed
//!          \-> a number, words -/
//! ```

use super::as_stitched::{self, GapNamed};
use super::way_back;
use crate::beadwork::amend::thread::ThreadChange;
use crate::beadwork::amend::{Amendment, OpeningEnd, OwnStep, OwnStepKind};
use crate::beadwork::number::{GoalJob, Round, Step};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::rules::Refusal;
use crate::beadwork::seams::Corner;
use crate::progress::PlainText;
use crate::screen::furniture::text;
use crate::screen::furniture::{Scroll, TextEntry, choices};
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::session::amend::Preview;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "changes" "m" ["m change your mind"] "change your mind: a gap as stitched and the way back, a bead too many broken out, how many rounds a panel has, how an opening is closed, which job is next or left out, joins, panels made already, a thread that ends, another thread, needle or length, a step of your own, other beads, finish here; what is sewn stays" |_, session| open(session); Changes, AskNumber, GapNamed, OwnText, Previewed, ChangesMade);

fn open(session: &Session) -> Flow<Session> {
    let in_hand = session.movement().map(|m| m.job);
    let in_hand = in_hand.map(|job| format!("{}: ", session.seq.job(job).title));
    let mut here = vec![];
    let [
        mut openings,
        mut rounds,
        mut order,
        mut joins,
        mut made,
        mut threads,
    ] = [const { vec![] }; 6];
    let mut offered = session.seq.amendments(session.done());
    // These are offered when a panel alone cannot have other rounds.
    let with_joins = |change: &Amendment| matches!(change, Amendment::All(all) if matches!(all.last(), Some(Amendment::Rounds { .. })));
    offered.retain(|change| !with_joins(change));
    for amendment in offered {
        let words = amendment.say(&session.seq);
        let is_here = in_hand
            .as_ref()
            .is_some_and(|title| words.starts_with(title));
        let list = match &amendment {
            Amendment::Opening { .. } if !is_here => &mut openings,
            Amendment::Rounds { .. } | Amendment::Ease { .. } if !is_here => &mut rounds,
            Amendment::Next(_)
            | Amendment::LeaveOut(_)
            | Amendment::Tetrahedra(_)
            | Amendment::Finish => &mut order,
            Amendment::Join(_) => &mut joins,
            Amendment::Made(_) => &mut made,
            Amendment::Thread(_) => &mut threads,
            _ => &mut here,
        };
        list.push((words.clone(), ChangeRow::Ready(amendment.clone())));
        // A fill to the centre can stop at an earlier round, too.
        if let Amendment::Opening { job, how } = amendment
            && let OpeningEnd::Fill { kind, open: 0 } = how
        {
            let named = |end| words.replace("to the centre", end);
            let (round, stone) = (
                named("as far as a round that you name"),
                named("until it holds a stone"),
            );
            list.push((round, ChangeRow::Ask(AskedNumber::Round(job, kind))));
            list.push((stone, ChangeRow::Ask(AskedNumber::Stone(job, kind))));
        }
    }
    let next = Step(session.done().0 + 1);
    for way in session.seq.next_door(next) {
        let change = Amendment::Join(way.change);
        let row = (change.say(&session.seq), ChangeRow::Ready(change));
        let mut full = session.stats.full(next).iter();
        match full.any(|full| full.next_door == Some(way)) {
            true => here.insert(0, row),
            false => joins.push(row),
        }
    }
    if !threads.is_empty() {
        let words = "Thread cut to another length that you name";
        threads.push((words.into(), ChangeRow::Ask(AskedNumber::Cut)));
    }
    let mut rows = here;
    rows.extend(as_stitched::at_the_needle(session));
    for (words, list) in [
        ("How openings are closed", openings),
        ("How many rounds panels have", rounds),
        ("What is next, what is left out, finish here", order),
        (
            "Joins: tip beads, the other side, more or fewer join beads",
            joins,
        ),
        ("Panels that are made already, before or elsewhere", made),
        ("Another thread, needle or length from here on", threads),
        (
            "A step of your own: a stone, a join, fit and look, a note",
            own_steps(),
        ),
    ] {
        match list.len() {
            0 => {}
            1 => rows.extend(list),
            _ => rows.push((format!("{words} ..."), ChangeRow::List(words, list))),
        }
    }
    if session.seq.can_go_by_law(session.done()) {
        let words = "Go on by the corners of the last rounds, or by others ...";
        rows.push((words.into(), ChangeRow::Asked("by law")));
    }
    if session.seq.layout().begun_panels().nth(1).is_some() {
        let words = "Join two sides of what is made ...";
        rows.push((words.into(), ChangeRow::Asked("join sides")));
    }
    rows.extend(BY_SCREEN.map(|(words, screen)| (words.to_string(), ChangeRow::Asked(screen))));
    Flow::open(Changes::new(ASKED, rows))
}

const ASKED: &str = "What should change from here on? What is sewn stays.";

fn own_steps() -> Vec<(String, ChangeRow)> {
    let row = |(what, _, words): (OwnStepKind, _, &str)| (words.into(), ChangeRow::Own(what));
    OwnStepKind::ALL.into_iter().map(row).collect()
}

/// What is asked for on a screen of its own, with the screen's name.
const BY_SCREEN: [(&str, &str); 3] = [
    ("Sew through to a bead ...", "sew through"),
    (
        "One bead in place of another, because one runs out",
        "another bead",
    ),
    ("A bead that the pattern lacks", "new bead"),
];

/// What can be changed.
pub struct Changes {
    asked: String,
    rows: Vec<(String, ChangeRow)>,
    scroll: Scroll,
}

#[derive(Clone)]
pub(super) enum ChangeRow {
    Ready(Amendment),
    /// The gap of a step holds this many beads, as stitched; then, once that
    /// was asked, which later round made up for the difference.
    AsStitched(Step, u8, Option<Option<Round>>),
    /// A step and its beads are asked for first.
    GapNamed,
    /// A bead of the gap of a step is broken out: one that is noted there, or
    /// an extra one.
    BreakOut(Step, bool),
    /// The step is asked for first.
    BeadNamed,
    /// Shows how to unpick back to a step.
    WayBack(Step),
    /// A number is asked for first.
    Ask(AskedNumber),
    /// A list of its own.
    List(&'static str, Vec<(String, ChangeRow)>),
    /// A step of the maker's own; the note on it is asked for first.
    Own(OwnStepKind),
    /// More is asked for on this screen.
    Asked(&'static str),
}

impl Layer<Session> for Changes {
    keys! { Session, "A change of mind";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
        colour "c" ["c another bead"] "one bead in place of another from here on, because one runs out: which, which instead, how far" => |_| Flow::Screen("another bead");
        new_bead "n" ["n new bead"] "a bead that the pattern lacks: its letter and name, and if you like its size and colour" => |_| Flow::Screen("new bead");
        undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later" => |s| s.undo();
        history "i" ["i made so far"] "the changes of mind made so far"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((self.asked.clone(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let words = self.rows.iter().map(|(words, _)| words.as_str());
        choices(session.look(), self.scroll.at, words)
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }
}

impl Changes {
    /// The different ways of doing something.
    pub(super) fn ways(session: &Session, asked: impl Into<String>, ways: Vec<Amendment>) -> Self {
        let row = |way: Amendment| (way.say(&session.seq), ChangeRow::Ready(way));
        Changes::new(asked, ways.into_iter().map(row).collect())
    }

    /// If a panel alone cannot have other rounds because its sides would be unlike
    /// those that they meet: which sides these are, and the ways to join them.
    fn ways_to_fit(session: &Session, change: &Amendment) -> Option<Self> {
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
        let mut ways = session.seq.amendments(session.done());
        ways.retain(is_way);
        let side = |(panel, side): Corner| {
            format!("side {side} of {}", session.seq.layout().panel(panel).name)
        };
        let (ours, theirs) = (side(ours), side(theirs));
        let asked = format!(
            "The sides would differ: {up} up beads on {ours}, {onto} on {theirs}. How are they joined?"
        );
        (!ways.is_empty()).then(|| Changes::ways(session, asked, ways))
    }

    pub(super) fn new(asked: impl Into<String>, rows: Vec<(String, ChangeRow)>) -> Self {
        let scroll = Scroll::list(0, rows.len());
        Changes {
            asked: asked.into(),
            rows,
            scroll,
        }
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let Some((_, row)) = self.rows.get(self.scroll.at) else {
            return Flow::Stay;
        };
        match row.clone() {
            ChangeRow::Ready(amendment) => match previewed(session, amendment.clone()) {
                Ok(layer) => Flow::open(layer),
                Err(why) => match Changes::ways_to_fit(session, &amendment) {
                    Some(ways) => Flow::open(ways),
                    None => session.say(why),
                },
            },
            ChangeRow::Ask(asked) => Flow::open(AskNumber {
                asked,
                entry: TextEntry::of(6, |c| c.is_ascii_digit() || c == '.'),
            }),
            ChangeRow::AsStitched(at, beads, since) => as_stitched::look(session, at, beads, since),
            ChangeRow::GapNamed => Flow::open(GapNamed::new(false)),
            ChangeRow::BeadNamed => Flow::open(GapNamed::new(true)),
            ChangeRow::BreakOut(at, is_noted) => as_stitched::break_out(session, at, is_noted),
            ChangeRow::WayBack(to) => way_back(session, to),
            ChangeRow::List(asked, rows) => Flow::open(Changes::new(asked, rows)),
            ChangeRow::Own(what) => Flow::open(OwnText {
                what,
                entry: TextEntry::text(80),
            }),
            ChangeRow::Asked(screen) => Flow::Screen(screen),
        }
    }

    fn history(&mut self, session: &mut Session) -> Flow<Session> {
        Flow::open(ChangesMade {
            lines: session.changes_made(),
            scroll: Scroll::new(),
        })
    }
}

pub(super) fn previewed(session: &Session, amendment: Amendment) -> Result<Previewed, String> {
    let cannot = |refusal| format!("That cannot be: {refusal}.");
    let all = session.all_like(&amendment);
    let preview = session.preview(amendment).map_err(cannot)?;
    Ok(Previewed {
        other: all,
        ..Previewed::new(session, preview)
    })
}

/// Which number is asked for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum AskedNumber {
    /// The round at which a fill stops.
    Round(GoalJob, SpecIndex),
    /// The diameter of a stone, mm.
    Stone(GoalJob, SpecIndex),
    /// The length to which thread is cut, mm.
    Cut,
}

/// A number that a change asks for.
pub struct AskNumber {
    asked: AskedNumber,
    entry: TextEntry,
}

impl Layer<Session> for AskNumber {
    keys! { Session, "A number for a change";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let (asked, help) = match self.asked {
            AskedNumber::Round(_, kind) => (
                "Which round is the last one?",
                format!(
                    "Round {} is sewn first, round 1 is the centre.",
                    session.seq.layout().kind_of(kind).rounds()
                ),
            ),
            AskedNumber::Cut => (
                "How long is each length cut from here on, in mm?",
                format!(
                    "With both its tails; now {:.0} mm.",
                    session.seq.goal().thread_to_come().thread.cut_mm
                ),
            ),
            AskedNumber::Stone(..) => (
                "How wide is the stone, in mm?",
                "It is set from within, and the rounds close over it.".into(),
            ),
        };
        vec![
            self.entry.line(session.look(), asked),
            self.entry.below(help),
        ]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl AskNumber {
    fn change(&self, session: &Session) -> Result<Amendment, String> {
        let typed = self.entry.typed.as_str();
        match self.asked {
            AskedNumber::Round(job, kind) => {
                let most = session.seq.layout().kind_of(kind).rounds() - 1;
                let last = typed.parse().ok().filter(|last| (1..=most).contains(last));
                let last: u32 = last.ok_or(format!("A round from 1 to {most}, please."))?;
                let open = last - 1;
                let how = OpeningEnd::Fill { kind, open };
                Ok(Amendment::Opening { job, how })
            }
            AskedNumber::Cut => {
                let cut_mm = typed.parse();
                let cut_mm = cut_mm.map_err(|_| "A number of whole millimetres, please.")?;
                Ok(Amendment::Thread(ThreadChange::Cut(cut_mm)))
            }
            AskedNumber::Stone(job, kind) => {
                let mm = typed.parse().ok().filter(|mm| (1.0..=99.0).contains(mm));
                let mm: f64 = mm.ok_or("From 1 to 99 mm, please.")?;
                let tenths = (mm * 10.0).round() as u32;
                let how = OpeningEnd::Stone { kind, tenths };
                Ok(Amendment::Opening { job, how })
            }
        }
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let change = self.change(session);
        let layer = change.and_then(|change| previewed(session, change));
        match layer {
            Ok(layer) => Flow::replace(layer),
            Err(why) => {
                self.entry.refuse(why);
                Flow::Stay
            }
        }
    }
}

/// The maker's note on a step of her own.
pub struct OwnText {
    what: OwnStepKind,
    entry: TextEntry,
}

impl Layer<Session> for OwnText {
    keys! { Session, "A step of your own";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let asked = "Your words for it, if any:";
        let below = "It comes before the next movement.";
        vec![self.entry.line(session.look(), asked), Line::from(below)]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl OwnText {
    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let text = PlainText::new(self.entry.typed.trim()).as_str().to_string();
        let what = self.what;
        match previewed(session, Amendment::Own(OwnStep { what, text })) {
            Ok(layer) => Flow::replace(layer),
            Err(why) => session.say(why),
        }
    }
}

/// The changes made so far, in words.
pub struct ChangesMade {
    lines: Vec<String>,
    scroll: Scroll,
}

impl Layer<Session> for ChangesMade {
    keys! { Session, "Changes of mind so far";
        undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later" => |s| s.undo();
    }

    fn lines(&self, _session: &Session) -> Vec<Line<'static>> {
        match self.lines.is_empty() {
            true => vec![Line::from("All is as the pattern has it.")],
            false => self.lines.iter().cloned().map(Line::from).collect(),
        }
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }
}

/// The work before and after a change.
pub struct Previewed {
    lines: Vec<String>,
    preview: Preview,
    /// The same change for all that are alike, or for this one alone.
    other: Option<Amendment>,
    scroll: Scroll,
}

impl Layer<Session> for Previewed {
    keys! { Session, "Before and after a change";
        make "Enter" ["Enter make the change"] "make the change; z takes it back"
        switch "Tab" ["Tab this one or all"] "this one, or all that are like it"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((self.preview.words.clone(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let sewn = match session.done().0 {
            0 => "Nothing is sewn yet.".into(),
            done => format!("Steps 1 to {done} are sewn and stay as they are."),
        };
        let other = match &self.other {
            Some(Amendment::All(all)) => Some(format!(
                "This one? Press Tab for all {} like it.",
                all.len()
            )),
            Some(_) => Some("All of them? Press Tab for the first one alone.".into()),
            None => None,
        };
        let closing = "Enter makes the change, Esc leaves all as it was.".into();
        let lines = other.into_iter().chain(self.lines.iter().cloned());
        lines.chain([sewn, closing]).map(Line::from).collect()
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let area = text::inset(area, 1);
        let lines = self.lines(session);
        let high = text::height(lines.clone(), area.width);
        let left = area.height.saturating_sub(high + 1);
        if left < PICTURE_ROWS || area.width < 60 {
            self.scroll.page(area, buf, lines);
            return;
        }
        self.scroll.page(text::rows(area, 0, high), buf, lines);
        self.preview
            .draw(session, text::rows(area, high + 1, left), buf);
    }
}

/// The fewest rows for the pictures before and after.
const PICTURE_ROWS: u16 = 7;

impl Previewed {
    pub(super) fn new(session: &Session, preview: Preview) -> Self {
        Previewed {
            lines: preview.lines(session),
            preview,
            other: None,
            scroll: Scroll::new(),
        }
    }

    fn make(&mut self, session: &mut Session) -> Flow<Session> {
        session.amend(&self.preview)
    }

    fn switch(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(other) = self.other.clone() else {
            return session.say("No other is like it.");
        };
        match session.preview(other) {
            Ok(preview) => {
                let other = self.preview.amendment().cloned();
                *self = Previewed {
                    other,
                    ..Previewed::new(session, preview)
                };
                Flow::Stay
            }
            Err(refusal) => session.say(format!("That cannot be: {refusal}.")),
        }
    }
}
