//! Thread and time: the current thread and how far it lasts, beads that get
//! full, hours left, pace; and taking up a new thread.

use super::menu::Prompt;
use crate::beadwork::amend::Amendment;
use crate::beadwork::{Kind, Sequence, Step};
use crate::progress::Entry;
use crate::screen::background_task::BackgroundTask;
use crate::screen::layer::{
    Busy, Context as _, Flow, Keys, Layer, Opener, key_table, keys, opener,
};
use crate::screen::phrases;
use crate::screen::session::Session;
use crate::screen::settings;
use crate::screen::widgets::{Scroll, TextEntry, bold, sections, styled};
use crate::tracking::pace::thread::{ThreadVerdict, new_thread_start};
use crate::tracking::pace::{self, CurrentThread, Left, Rest, ThreadReach, WorkDays};
use ratatui::prelude::Line;

pub const OPENER: Opener<Session> = opener!(Session; "thread" "h" ["h thread, hours"] "thread and time: how far the thread reaches, where to end it, full beads, the hours left; from there n takes up a new thread" |_, session| Flow::open(ThreadTime::of(session)); ThreadTime::table, || NEW);

const NEW: &Keys = &key_table!("A new thread"; take "Enter" ["Enter done"] "take it up");

/// The shortest and the longest accepted thread, mm.
const CUT_MM: std::ops::RangeInclusive<u32> = 100..=20_000;

pub struct ThreadTime {
    /// The hours left, once they are worked out.
    left: BackgroundTask<Left>,
    days: WorkDays,
    scroll: Scroll,
}

impl Layer<Session> for ThreadTime {
    keys! { Session, "Thread and time" [scroll page];
        new_thread "n" ["n new thread"] "you take up a new thread here, or tell how long the one just taken up is cut" => new_thread;
        new_length "0-9" [] "the length of the new thread, at once" => new_thread;
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let parts = [
            ("The current thread", thread(session)),
            ("Full beads", full(session)),
            ("Time left", left(session, self.left.get())),
            ("Your pace", pace(session)),
            ("Days", self.days(session)),
            ("Rest", rest(session)),
        ];
        sections(session.look().seat(), parts)
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        let fulls = session.tick();
        Busy::waiting(self.left.look() | fulls)
    }
}

impl ThreadTime {
    fn of(session: &mut Session) -> ThreadTime {
        let mut days = WorkDays::default();
        // A journal that cannot be read again gives no days; why it cannot be
        // read is reported elsewhere.
        let _ = session.piece.recent(usize::MAX, |entry| days.add(entry));
        let (seq, pace) = (session.seq.clone(), session.stats.pace.clone());
        let done = session.done();
        ThreadTime {
            left: BackgroundTask::begin(move || pace::left(&seq, &pace, done)),
            days,
            scroll: Scroll::new(),
        }
    }

    fn days(&self, session: &Session) -> Said {
        let bar = session.look().signs().bar[0];
        let columns = usize::from(session.size.0).saturating_sub(4);
        let lines = self.days.chart(columns, (!session.plain).then_some(bar));
        match lines.is_empty() {
            true => vec![Line::from("No movement is made yet.")],
            false => lines.into_iter().map(Line::from).collect(),
        }
    }
}

/// Asks how long a new thread is.
fn new_thread(session: &mut Session) -> Flow<Session> {
    if session.done().0 >= session.seq.steps() {
        return session.say("The piece is finished: no thread is taken up after this.");
    }
    let asks = |session: &Session, typed: &str| {
        let unit = session.thread_unit();
        let after = new_thread_start(&session.seq, session.done());
        let asked = format!(
            "A new thread after step {after}. How long is it cut, in {}?",
            unit.name
        );
        let below = match cut_mm(session, typed) {
            Some(_) => {
                let usual = unit.say(f64::from(usual_mm(session)));
                format!("Enter without a number: {usual}, tails included.")
            }
            None => format!(
                "A thread can be {} to {} long.",
                unit.say(f64::from(*CUT_MM.start()) + unit.mm - 1e-3),
                unit.say(f64::from(*CUT_MM.end()))
            ),
        };
        (asked, below)
    };
    let take = |session: &mut Session, typed: &str| {
        let Some(mm) = cut_mm(session, typed) else {
            // It stays open; the box says what is wrong.
            return Ok(Flow::Stay);
        };
        let tails = 2.0 * session.seq.layout().project().thread.tail_mm;
        let after = new_thread_start(&session.seq, session.done());
        let current = session.current_thread();
        let is_in_work = current.is_some_and(|current| current.start.after < after);
        session.record(Entry::thread(&session.seq, after.0, mm, session.now));
        // The thread in the work ends here, where it can.
        let ends = is_in_work && session.change(Amendment::ThreadEnds).is_ok();
        let is_short = f64::from(mm) <= tails;
        session.say(match (session.only_looking, is_short, ends) {
            (true, ..) => "Only looking: the new thread is not kept.",
            (_, true, _) => "The new thread is kept; it is hardly longer than its two tails.",
            (_, _, true) => "The old thread is woven in first; z takes that back.",
            (_, _, false) => "The new thread is kept with this step.",
        });
        Ok(Flow::Lowest)
    };
    let entry = TextEntry::of(6, |c| c.is_ascii_digit() || c == '.');
    Flow::open(Prompt::new(NEW, entry, asks, take))
}

/// The typed length, mm. `None` if it is not a possible length of thread.
fn cut_mm(session: &Session, typed: &str) -> Option<u32> {
    if typed.is_empty() {
        return Some(usual_mm(session));
    }
    let number: f64 = typed.parse().ok()?;
    let unit = session.thread_unit();
    let mm = (number * unit.mm).round();
    (mm >= 0.0 && CUT_MM.contains(&(mm as u32))).then_some(mm as u32)
}

/// The length of a new thread if none is typed, mm: that of the maker's last
/// thread, or the one the piece gives.
fn usual_mm(session: &Session) -> u32 {
    let own = session.piece.state().threads.range(..=session.done().0);
    match own.last() {
        Some((_, mm)) => *mm,
        None => session.seq.goal().thread_to_come().thread.cut_mm.round() as u32,
    }
}

type Said = Vec<Line<'static>>;

fn thread(session: &Session) -> Said {
    let unit = session.thread_unit();
    let Some(current) = session.current_thread() else {
        let seq = &session.seq;
        let next = session.movement();
        let enough = next.and_then(|m| seq.thread_of(m.step)).map(|length| {
            let enough = unit.say(Sequence::fitted_mm(seq.takes_mm(length)));
            format!(" The plan takes {enough} of it, tails included.")
        });
        let enough = enough.unwrap_or_default();
        return vec![Line::from(phrases::no_thread(session) + &enough)];
    };
    let hangs = format!(
        "About {} hang at the needle: {} to stitch with, and {} to weave in.",
        unit.say(current.loose_mm),
        unit.say(current.left_mm),
        unit.say(current.weave_in_mm)
    );
    let mut said = vec![styled(hangs, bold())];
    let whose = match current.start.own {
        true => "as you said",
        false => "by the pattern",
    };
    // In the plain mode the page is left again once it is said.
    let press = session.reader().text("{see:Press n}{hear:Type h n}");
    said.push(Line::from(format!(
        "It was taken up after step {}, cut to {} {whose}. Cut to another length, or a new one? {press}.",
        current.start.after,
        unit.say(current.start.cut_mm)
    )));
    said.push(Line::from(reach(session, current)));
    let look = session.look();
    let (side, next) = (unit.say(current.side_mm), unit.say(current.next_side_mm));
    match current.verdict {
        ThreadVerdict::Enough => {}
        ThreadVerdict::LastSide => said.push(styled(
            format!(
                "It is enough for this side ({side}), not for the one after ({next} more): end it before \
                 then and take up a new one."
            ),
            look.ahead(),
        )),
        ThreadVerdict::TooShort => said.push(styled(
            format!("It is not enough for this side ({side}): end it now and take up a new one."),
            look.alarm(),
        )),
    }
    if !current.good_ends.is_empty() {
        said.push(Line::from(
            "Good places to end it and to begin another, mid-side, away from corners and hinges:",
        ));
        said.extend(current.good_ends.iter().map(|&step| {
            let place = session.seq.step(step).map(|m| session.seq.say_where(&m));
            Line::from(format!(
                "  after step {step}: {}",
                place.unwrap_or_default()
            ))
        }));
    }
    said
}

fn reach(session: &Session, current: &CurrentThread) -> String {
    match current.reach {
        ThreadReach::Piece => "It reaches to the end of the piece.".into(),
        ThreadReach::PlannedEnd(step) => {
            format!("It reaches to step {step}, after which the pattern ends it.")
        }
        ThreadReach::Step(step) => {
            let steps = step.0.saturating_sub(session.done().0);
            let place = session.seq.step(step).map(|m| session.seq.say_where(&m));
            let place = place.filter(|p| !p.is_empty());
            let place = place.map_or(String::new(), |p| format!(" ({p})"));
            format!("It reaches about {steps} movements on, to step {step}{place}.")
        }
    }
}

fn full(session: &Session) -> Said {
    let look = session.look();
    let next = session.next_step();
    let mut said: Said = vec![];
    for full in session.stats.full(next) {
        let mut words = full.explain(&session.seq).into_iter();
        said.extend(words.next().map(|first| styled(first, look.ahead())));
        said.extend(words.map(Line::from));
    }
    let Some(fulls) = session.stats.fulls() else {
        said.push(styled("All steps are being gone through ...", look.quiet()));
        return said;
    };
    match fulls.next(Step(next.0 + 1)) {
        _ if fulls.left(next).0 == 0 => said.push(Line::from(
            "From here on the needle goes through every bead comfortably.",
        )),
        Some(full) => said.push(Line::from(format!(
            "The next after this movement: step {}, bead {} with {} threads in it.",
            full.step,
            session.seq.bead_as_made(full.bead),
            full.threads
        ))),
        None => {}
    }
    said
}

fn left(session: &Session, left: Option<&Left>) -> Said {
    let look = session.look();
    let Some(left) = left else {
        return vec![styled(
            "The steps ahead are being counted ...",
            look.quiet(),
        )];
    };
    vec![
        Line::from(format!("This round: {}", left.round.say())),
        Line::from(format!("This job: {}", left.job.say())),
        styled(format!("The piece: {}", left.piece.say()), bold()),
        styled(
            "In brackets: as on your quick days, and as on your slow ones; rests left out.",
            look.quiet(),
        ),
    ]
}

fn pace(session: &Session) -> Said {
    let usual = |kind| session.stats.pace.usual(kind);
    let timed = Kind::ALL.iter().filter(|(kind, _)| usual(*kind).timed > 0);
    let mut said: Said = timed
        .map(|(kind, name)| {
            let usual = usual(*kind);
            Line::from(format!(
                "{name}: {:.0} s ({:.0} to {:.0}), {} timed",
                usual.mean, usual.quick, usual.slow, usual.timed
            ))
        })
        .collect();
    if said.is_empty() {
        let usual = usual(Kind::Stitch);
        said.push(Line::from(format!(
            "Nothing is timed yet. Until then hours are worked out with {:.0} s a stitch, a typical pace.",
            usual.mean
        )));
    }
    said
}

fn rest(session: &Session) -> Said {
    let minutes = settings::rest_minutes(&session.piece.state().settings);
    let working = session.stats.rest.working(session.now).as_secs() / 60;
    let mut said = vec![];
    if session.stats.reminds() {
        said.push(styled(format!("{}.", Rest::say()), session.look().ahead()));
    }
    said.push(Line::from(match minutes {
        0 => "The reminder to rest is off (s, settings).".to_string(),
        _ => format!(
            "{working} min without a rest; a reminder comes after {minutes} min (s, settings)."
        ),
    }));
    said
}
