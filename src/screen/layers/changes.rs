//! A change of mind: what can be changed, what comes of it, and the change.
//!
//! ```text
//! what can be changed -> before and after -> changed
//!          \-> as far as which round -/
//! ```

use super::as_stitched::{self, GapNamed};
use crate::beadwork::amend::{Amendment, OpeningEnd};
use crate::beadwork::number::{GoalJob, Round, Step};
use crate::beadwork::project::SpecIndex;
use crate::screen::furniture::text;
use crate::screen::furniture::{Scroll, TextEntry, choice};
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::session::amend::Preview;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "changes" "m" ["m change your mind"] "change your mind: a gap as stitched and the way back, how many rounds a panel has, how an opening is closed, which job is next or left out, finish here; what is sewn stays" |_, session| open(session); Changes, FillTo, GapNamed, Previewed);

fn open(session: &mut Session) -> Flow<Session> {
    let mut rows = vec![];
    for amendment in session.seq.amendments(session.done()) {
        let words = amendment.say(&session.seq);
        rows.push((words, ChangeRow::Ready(amendment.clone())));
        // A fill to the centre can stop at any round before it, too.
        if let Amendment::Opening { job, how } = amendment
            && let OpeningEnd::Fill { kind, open: 0 } = how
        {
            let goal = session.seq.goal();
            let title = goal.title(&goal.jobs[job.index()]);
            let panel = &session.seq.layout().project().panels[kind].name;
            let words = format!("{title}: fill with '{panel}' as far as a round that you name");
            rows.push((words, ChangeRow::FillTo(job, kind)));
        }
    }
    rows.extend(as_stitched::at_the_needle(session));
    if rows.is_empty() {
        return session.say("Nothing can be changed here: no job is left to be done.");
    }
    let asked = "What is to be otherwise from here on? What is sewn stays.";
    Flow::open(Changes::new(asked, rows))
}

/// What can be changed.
pub struct Changes {
    asked: &'static str,
    rows: Vec<(String, ChangeRow)>,
    scroll: Scroll,
}

pub(super) enum ChangeRow {
    Ready(Amendment),
    /// The gap of a step holds so many beads, as stitched; and which round has
    /// brought the work back since, once that was asked.
    AsStitched(Step, u8, Option<Option<Round>>),
    /// A step and its beads are asked for first.
    GapNamed,
    /// A round is asked for first.
    FillTo(GoalJob, SpecIndex),
}

impl Layer<Session> for Changes {
    keys! { Session, "A change of mind";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
        undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later" => |s| s.undo();
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((self.asked.into(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let rows = self.rows.iter().enumerate();
        let line = |(at, (words, _)): (usize, &(String, ChangeRow))| {
            choice(session.look(), at == self.scroll.at, words)
        };
        rows.map(line).collect()
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let (lines, at) = (self.lines(session), self.scroll.at);
        self.scroll.chosen(text::inset(area, 2), buf, lines, at);
    }
}

impl Changes {
    pub(super) fn new(asked: &'static str, rows: Vec<(String, ChangeRow)>) -> Self {
        let scroll = Scroll::list(0, rows.len());
        Changes {
            asked,
            rows,
            scroll,
        }
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        match self.rows.get(self.scroll.at) {
            Some((_, ChangeRow::Ready(amendment))) => match previewed(session, amendment.clone()) {
                Ok(layer) => Flow::open(layer),
                Err(why) => session.say(why),
            },
            Some((_, ChangeRow::FillTo(job, kind))) => Flow::open(FillTo {
                job: *job,
                kind: *kind,
                entry: TextEntry::of(5, |c| c.is_ascii_digit()),
                refused: None,
            }),
            Some((_, ChangeRow::AsStitched(at, beads, since))) => {
                as_stitched::look(session, *at, *beads, *since)
            }
            Some((_, ChangeRow::GapNamed)) => Flow::open(GapNamed::new()),
            None => Flow::Stay,
        }
    }
}

fn previewed(session: &Session, amendment: Amendment) -> Result<Previewed, String> {
    match session.preview(amendment) {
        Ok(preview) => Ok(Previewed::new(session, preview)),
        Err(refusal) => Err(format!("That cannot be: {refusal}.")),
    }
}

/// The round that a fill stops at, typed.
pub struct FillTo {
    job: GoalJob,
    kind: SpecIndex,
    entry: TextEntry,
    refused: Option<String>,
}

impl Layer<Session> for FillTo {
    keys! { Session, "The last round of a fill";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let outermost = session.seq.layout().kind_of(self.kind).rounds();
        let asked = "Which round is the last one?";
        let below = match &self.refused {
            Some(why) => why.clone(),
            None => format!("Round {outermost} is sewn first, round 1 is the centre."),
        };
        vec![self.entry.line(session.look(), asked), Line::from(below)]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }

    fn edited(&mut self, _session: &Session) {
        self.refused = None;
    }

    fn is_box(&self) -> bool {
        true
    }
}

impl FillTo {
    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let outermost = session.seq.layout().kind_of(self.kind).rounds();
        let last = self.entry.typed.parse().ok();
        let Some(last) = last.filter(|last| (1..outermost).contains(last)) else {
            let most = outermost - 1;
            self.refused = Some(format!("A round from 1 to {most}, please."));
            return Flow::Stay;
        };
        let (job, kind) = (self.job, self.kind);
        let how = OpeningEnd::Fill {
            kind,
            open: last - 1,
        };
        match previewed(session, Amendment::Opening { job, how }) {
            Ok(layer) => Flow::replace(layer),
            Err(why) => {
                self.refused = Some(why);
                Flow::Stay
            }
        }
    }
}

/// Before and after.
pub struct Previewed {
    lines: Vec<String>,
    preview: Preview,
    scroll: Scroll,
}

impl Layer<Session> for Previewed {
    keys! { Session, "Before and after a change";
        make "Enter" ["Enter make the change"] "make the change; z takes it back"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((self.preview.words.clone(), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let sewn = match session.done().0 {
            0 => "Nothing is sewn yet.".into(),
            done => format!("Steps 1 to {done} are sewn and stay as they are."),
        };
        let lines = self.lines.iter().cloned().chain([
            sewn,
            "Enter makes the change, Esc leaves all as it was.".into(),
        ]);
        lines.map(Line::from).collect()
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }
}

impl Previewed {
    pub(super) fn new(session: &Session, preview: Preview) -> Self {
        Previewed {
            lines: preview.lines(session),
            preview,
            scroll: Scroll::new(),
        }
    }

    fn make(&mut self, session: &mut Session) -> Flow<Session> {
        session.amend(&self.preview)
    }
}
