//! The piece by its jobs, with the maker's notes; and writing a note.

use super::menu::Prompt;
use crate::beadwork::job::JobInfo;
use crate::beadwork::{Job, Step};
use crate::progress::Entry;
use crate::screen::layer::{Context as _, Flow, Keys, Layer, Opener, key_table, keys, opener};
use crate::screen::session::Session;
use crate::screen::widgets::{Filter, ListRow, Scroll, TextEntry, bold, choices, rows, text};
use ratatui::prelude::{Buffer, Line, Rect, Style};

pub const OPENER: Opener<Session> = opener!(Session; "overview" "o" ["o overview"] "the piece by its jobs, with your notes; from there to any of them" |_, session| Flow::open(Overview::of(session)); Overview::table);

pub const NOTE: Opener<Session> = opener!(Session; "note" "n" ["n note"] "write a note on this step; an empty one takes it away" |_, session| write_note(session); || WRITING);

const WRITING: &Keys = &key_table!("Writing a note"; keep "Enter" ["Enter done"] "keep the note");

/// The longest note that can be typed here.
const LONGEST: usize = 500;

/// A line of the overview.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum OverviewRow {
    Job(Job),
    /// A note on a step.
    Note(u32),
}

pub struct Overview {
    rows: Vec<OverviewRow>,
    scroll: Scroll,
    filter: Filter,
}

impl Layer<Session> for Overview {
    keys! { Session, "Overview" [scroll filter] opens ["help" "words" "changes"];
        go "Enter space right" ["Enter go there"] "go to the job or the note"
        way_back "b" ["b way back"] "back to where you were before you went to a place" => |s| s.way_back();
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let words = self.rows.iter().map(|row| row_words(session, *row));
        choices(session.look(), self.scroll.at, words)
    }

    fn edited(&mut self, session: &Session) {
        let filter = std::mem::take(&mut self.filter);
        *self = Overview {
            filter,
            ..Overview::of(session)
        };
        if self.filter.is_open() {
            let fits = |row: &OverviewRow| self.filter.fits(&row_words(session, *row));
            self.rows.retain(fits);
            self.scroll = Scroll::list(0, self.rows.len());
        }
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let area = rows(area, 1, area.height);
        let shown = (self.rows.len(), Some(self.scroll.at));
        let row = |nth: usize| match self.rows[nth] {
            OverviewRow::Job(job) => job_row(session, job, area.width),
            OverviewRow::Note(step) => {
                let (sign, note) = (session.look().signs().note, note(session, step));
                ListRow::new(format!("      {sign} step {step}: {note}"), Style::new())
            }
        };
        self.scroll.rows(session.look(), area, buf, shown, row);
    }
}

impl Overview {
    /// The jobs, each with its notes after it, starting at the current job.
    fn of(session: &Session) -> Overview {
        let notes = &session.piece.state().notes;
        let mut rows = vec![];
        let mut after = 0;
        for (j, job) in session.seq.jobs().iter().enumerate() {
            rows.push(OverviewRow::Job(Job(j as u16)));
            let end = job.steps_before + job.steps;
            let mine = notes.range(after..=end.max(after));
            rows.extend(mine.map(|(step, _)| OverviewRow::Note(*step)));
            after = end + 1;
        }
        rows.extend(notes.range(after..).map(|(s, _)| OverviewRow::Note(*s)));
        let here = OverviewRow::Job(session.job());
        let at = rows.iter().position(|row| *row == here);
        let scroll = Scroll::list(at.unwrap_or(0), rows.len());
        Overview {
            rows,
            scroll,
            filter: Filter::default(),
        }
    }

    fn go(&mut self, session: &mut Session) -> Flow<Session> {
        match self.rows.get(self.scroll.at) {
            Some(OverviewRow::Job(job)) => {
                session.jump(Step(session.seq.job(*job).steps_before + 1))
            }
            Some(OverviewRow::Note(step)) => {
                session.jump(Step((*step).clamp(1, session.seq.steps() + 1)))
            }
            None => Flow::Stay,
        }
    }
}

fn row_words(session: &Session, row: OverviewRow) -> String {
    match row {
        OverviewRow::Job(job) => {
            let (info, part) = part_done(session, job);
            let (title, steps) = (&info.title, info.steps);
            format!("job {job}, {title}: {part} of {steps} steps")
        }
        OverviewRow::Note(step) => format!("note on step {step}: {}", note(session, step)),
    }
}

fn note(session: &Session, step: u32) -> String {
    let note = session.piece.state().notes.get(&step);
    note.map_or(String::new(), |note| note.as_str().into())
}

/// Asks for the note on the next step, starting with the existing one; where
/// text cannot be edited, with an empty one.
fn write_note(session: &Session) -> Flow<Session> {
    let step = session.done().0 + 1;
    let old = match session.plain {
        true => String::new(),
        false => note(session, step),
    };
    let asks = move |_: &Session, _: &str| (format!("Note on step {step}:"), "");
    let keep = move |session: &mut Session, typed: &str| {
        let text = typed.trim();
        if !text.is_empty() {
            session.say(match session.only_looking {
                true => "Only looking: the note is not kept.",
                false => "The note is kept with this step.",
            });
        }
        session.record(Entry::note(&session.seq, step, text, session.now));
        Ok(Flow::Close)
    };
    let entry = TextEntry::text(LONGEST).with(&old);
    Flow::open(Prompt::new(WRITING, entry, asks, keep))
}

/// A job, and how many of its steps are done.
fn part_done(session: &Session, job: Job) -> (&JobInfo, u32) {
    let info = session.seq.job(job);
    let done = session.done().0.saturating_sub(info.steps_before);
    (info, done.min(info.steps))
}

fn job_row(session: &Session, job: Job, columns: u16) -> ListRow {
    let signs = session.look().signs();
    let (info, part) = part_done(session, job);
    let here = session.job() == job;
    let [ready, now, later] = signs.job;
    let sign = match (part == info.steps, here) {
        (true, _) => ready,
        (_, true) => now,
        _ => later,
    };
    let width = if columns < 100 { 6 } else { 16 };
    let count = match columns {
        0..60 => format!("{part}/{}", info.steps),
        60..100 => format!("{part:>4}/{:<4} steps {:>5} beads", info.steps, info.beads),
        _ => format!("{part} of {} steps, {} beads", info.steps, info.beads),
    };
    let bar = text::bar(signs.bar, part.into(), info.steps.into(), width);
    ListRow {
        right: format!("{bar} {count} "),
        weight: if here { bold() } else { Style::new() },
        ..ListRow::new(format!(" {sign} {job} {}", info.title), Style::new())
    }
}
