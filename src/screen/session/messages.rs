//! What is shown above and below every screen of a piece: which piece and how
//! far, and the most urgent message to the maker.

use super::{Session, entered};
use crate::beadwork::Step;
use crate::beadwork::amend::Amendment;
use crate::beadwork::hole::Passing;
use crate::progress::{Entry, Moment, Settings, Value};
use crate::screen::layer::{Context, Opener};
use crate::screen::layers::{self, lesson};
use crate::screen::look::{Ground, Look};
use crate::screen::settings;
use crate::screen::widgets::text;
use crate::tracking::pace::Rest;
use crate::tracking::pace::thread::ThreadVerdict;
use crate::words::{self, Word};
use ratatui::prelude::{Buffer, Line, Modifier, Rect, Style};
use unicode_width::UnicodeWidthStr as _;

/// Below this width, messages are shorter.
const NARROW: u16 = 70;

/// Text and its style.
type Styled = (String, Style);

impl Context for Session {
    fn screens() -> &'static [Opener<Session>] {
        layers::OF_A_PIECE
    }

    fn look(&self) -> Look {
        settings::look(self.terminal, &self.piece.state().settings)
    }

    fn settings(&self) -> &Settings {
        &self.piece.state().settings
    }

    fn can_set(&self) -> (bool, bool) {
        (self.piece.has_maker(), true)
    }

    fn set_for_all(&mut self, name: &'static str, value: Value) -> Option<String> {
        match self.piece.set_for_maker(name, value.clone()) {
            Ok(true) => None,
            Ok(false) => {
                self.set_for_piece(name, value);
                None
            }
            Err(error) => Some(error.to_string()),
        }
    }

    fn set_for_piece(&mut self, name: &'static str, value: Value) {
        self.record(Entry::set(name, value, self.now));
    }

    fn said(&self) -> &str {
        &self.said
    }

    fn tell(&mut self, words: &str) {
        self.said = words.into();
    }

    fn begin(&mut self, now: Moment, anew: bool) {
        self.now = now;
        self.done_before = self.done();
        if anew {
            self.said.clear();
        }
    }

    fn end(&mut self) {
        if self.done() != self.done_before {
            self.stats.moved(&self.piece.state().settings, self.now);
        }
    }

    fn refresh(&mut self, size: (u16, u16)) {
        self.size = size;
        let trouble = self.piece.trouble();
        self.trouble = trouble.map(|t| format!("Not kept: {t}"));
    }

    fn session(&mut self) -> Option<&mut Session> {
        Some(self)
    }

    fn lies_on(&mut self, ground: Ground) {
        self.terminal.ground = ground;
    }

    fn words_now(&self) -> Vec<&'static Word> {
        let now = self.movement();
        let mut now = now.map_or(vec![], |m| words::of_movement(&self.seq, &m));
        now.extend(words::of_job(&self.seq.job(self.job()).kind));
        now
    }

    fn explained(&self) -> Vec<Line<'static>> {
        layers::explained(self)
    }

    /// Which piece, which job, how far.
    fn head(&self, area: Rect, buf: &mut Buffer) {
        let look = self.look();
        let title = self.piece.title().as_str();
        // The first picture does not wait for the plan.
        if !self.seq.is_planned() {
            return text::band(area, buf, &format!(" {title}"), look.bar());
        }
        let (seq, done, job) = (&self.seq, self.done(), self.job());
        let dot = look.signs().dot;
        let step = match done.0 == seq.steps() {
            true => format!("all {} steps done", seq.steps()),
            false => format!("step {} of {}", Step(done.0 + 1), seq.steps()),
        };
        let jobs = match seq.jobs().len() {
            1 => seq.job(job).title.clone(),
            n => format!("job {job} of {n}: {}", seq.job(job).title),
        };
        let looking = match self.only_looking {
            true => "LOOKING ONLY ",
            false => "",
        };
        let room = usize::from(area.width).saturating_sub(step.width() + 3);
        let full = format!(" {looking}{title}{dot}{jobs}");
        let left = match full.width() <= room {
            true => full,
            // The job is more important than the title.
            false => format!(" {looking}{jobs}"),
        };
        text::band(area, buf, &text::fit(&left, room), look.bar());
        let bold = look.bar().add_modifier(Modifier::BOLD);
        text::right(area, buf, &format!("{step} "), bold);
    }

    fn word(&self, stitching: bool, width: u16) -> Option<Styled> {
        let look = self.look();
        let watch = look.signs().watch;
        if let Some(trouble) = &self.trouble {
            return Some((format!("{watch} {trouble}"), look.alarm()));
        }
        if stitching && let Some((words, style)) = self.urgent(width) {
            // The message about the last key comes after it.
            let words = format!("{words}. {}", self.said);
            return Some((words.trim_end().to_string(), style));
        }
        if !self.said.is_empty() {
            return Some((self.said.clone(), look.seat()));
        }
        if let Some(taken) = self.one_at_a_time {
            let beads = self.movement().map_or(0, |m| entered(&m));
            let at = taken + 1;
            let words =
                format!("One at a time: bead {at} of {beads}. x takes them together again.");
            return Some((words, look.seat()));
        }
        let here = self.done().0 + 1;
        if let Some(note) = self.piece.state().notes.get(&here) {
            return Some((format!("{} {note}", look.signs().note), look.enter_sign()));
        }
        if self.only_looking {
            let words = "Only looking: steps are not kept.";
            return Some((words.into(), look.ahead()));
        }
        if !stitching {
            return None;
        }
        if let Some(lesson) = self.lesson().filter(|_| !lesson::has_room(self.size)) {
            return Some((lesson::line(lesson), look.seat()));
        }
        if let Some(in_time) = self.in_time(width) {
            return Some(in_time);
        }
        let q = self.offered()?;
        let what = q.say(&self.seq, self.done());
        let words = format!("Count {what}? Type the number, or go on.");
        Some((words, look.enter_sign()))
    }
}

impl Session {
    /// What prevents steps from being saved, in words.
    pub fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
    }

    /// Words about thread, full beads and rest, in whole sentences.
    pub fn warnings(&self) -> Vec<String> {
        let all = [self.urgent(u16::MAX), self.in_time(u16::MAX)];
        all.into_iter().flatten().map(|(words, _)| words).collect()
    }

    /// What cannot wait: a full bead that the movement goes through, a thread
    /// too short for this side.
    pub fn urgent(&self, width: u16) -> Option<Styled> {
        let look = self.look();
        let full = self.stats.full(self.next_step());
        if let Some(full) = full.first() {
            let words = match width {
                0..NARROW => full.say_shortly(),
                _ => full.say(&self.seq),
            };
            let style = match full.passing {
                Passing::Blocked => look.alarm(),
                _ => look.ahead(),
            };
            return Some((format!("{} {words}", look.signs().watch), style));
        }
        self.thread(width, ThreadVerdict::TooShort, look.alarm())
    }

    /// What is good to know in advance: the last side for which the thread
    /// lasts, and that a rest is due.
    fn in_time(&self, width: u16) -> Option<Styled> {
        let look = self.look();
        if let Some(word) = self.thread(width, ThreadVerdict::LastSide, look.ahead()) {
            return Some(word);
        }
        let is_kept = self.piece.state().record.undoes_a_gap();
        if is_kept && self.seq.is_changed_at(self.next_step()) {
            let words = match width {
                0..NARROW => "As you stitched it; z undoes that.",
                _ => "This gap is planned as you stitched it. z takes that back.",
            };
            return Some((words.into(), look.ahead()));
        }
        if let Some(words) = self.strung_otherwise(width) {
            return Some((words.into(), look.ahead()));
        }
        let words = match width {
            0..NARROW => "Rest your eyes and hands a moment.".to_string(),
            _ => format!("{}.", Rest::say()),
        };
        self.stats.reminds().then_some((words, look.ahead()))
    }

    /// That a bead to come was once strung otherwise than planned, and is planned
    /// so again.
    fn strung_otherwise(&self, width: u16) -> Option<&'static str> {
        let next = self.movement()?.strings;
        let has_strung = |amendment: &Amendment| matches!(amendment, Amendment::Colours(change) if next.iter().any(|bead| change.has_strung(*bead)));
        let record = &self.piece.state().record;
        let is_undone = record.last_amendment().is_some_and(has_strung);
        record
            .amendments()
            .any(has_strung)
            .then_some(match (width, is_undone) {
                (0..NARROW, true) => "As you strung it; z undoes that.",
                (_, true) => "This bead is planned as you strung it. z takes that back.",
                (0..NARROW, false) => "As you strung it once.",
                (_, false) => "This bead is planned as you strung it, and not as in the pattern.",
            })
    }

    fn thread(&self, width: u16, wanted: ThreadVerdict, style: Style) -> Option<Styled> {
        let current = self.current_thread();
        let current = current.filter(|thread| thread.verdict == wanted)?;
        let unit = self.thread_unit();
        let words = match width {
            0..NARROW => current.say_shortly(|mm| unit.say(mm))?,
            _ => current.say(|mm| unit.say(mm))?,
        };
        Some((format!("{} {words}", self.look().signs().watch), style))
    }
}
