//! A lesson of the tour on its own page, where the tour can be left, resumed or
//! repeated.

use crate::screen::furniture::text::styled;
use crate::screen::furniture::{Scroll, drawing};
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Choice, Context as _, Exit, Flow, Layer, Opener};
use crate::screen::lesson;
use crate::screen::session::Session;
use crate::tour::{self, Lesson};
use crate::words::named;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "lesson" "e" [] "the lesson of the beginner's tour on a page, where you can also leave, take up or repeat the tour" |_, session| open(session); LessonPage::table);

/// The lesson; in the plain mode, where the card does not stay open, the tour
/// that the card offers.
fn open(session: &Session) -> Flow<Session> {
    match session.plain && session.offers_tour() {
        true => Flow::Leave(Exit::Open(Choice::Tour)),
        false => Flow::open(LessonPage::of(session)),
    }
}

pub struct LessonPage {
    /// Which, from 0.
    at: usize,
    scroll: Scroll,
}

impl Layer<Session> for LessonPage {
    keys! { Session, "A lesson of the tour";
        go_on "space Enter" ["space go on"] "back to the stitches" => |_| Flow::Lowest;
        next "right" ["left/right others"] "the next lesson"
        before "left" [] "the lesson before"
        on_off "x" ["x leave tour"] "leave the tour, or take it up: no lesson comes up while it is left" => |s| s.switch_tour();
        repeat "r" ["r repeat"] "all lessons come up again, each at the next movement that it is about" => |s| s.repeat_tour();
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let look = session.look();
        let left = session.left_handed();
        let lessons = tour::lessons();
        let one = &lessons[self.at];
        let mut lines = lesson::told(one, session.reader(), look);
        if let Some(word) = named(one.words[0]).filter(|w| !w.drawing.is_empty()) {
            lines.push(Line::default());
            lines.extend(drawing(word, left, look));
        }
        lines.push(Line::default());
        let state = match (session.tour_is_on(), session.shown().came_up(one)) {
            (true, true) => "This lesson has come up.",
            (true, false) if session.lesson() == Some(one) => "This lesson is due now.",
            (true, false) => "This lesson comes up when its movement does.",
            (false, _) => {
                "The tour is off on this piece: x takes it up, and lessons come as you stitch."
            }
        };
        let (n, all) = (self.at + 1, lessons.len());
        let words = format!("Lesson {n} of {all}. {state} Left and right arrow: other lessons.");
        lines.push(styled(words, look.quiet()));
        lines
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn waits(&self) -> bool {
        false
    }
}

impl LessonPage {
    /// The current lesson, or the last one shown.
    fn of(session: &Session) -> LessonPage {
        let shown = session.shown();
        let last = tour::lessons().iter().rev().find(|l| shown.came_up(l));
        let lesson = session.lesson().or(last);
        LessonPage {
            at: lesson.map_or(0, Lesson::index),
            scroll: Scroll::new(),
        }
    }

    fn next(&mut self, _session: &mut Session) -> Flow<Session> {
        self.turn((self.at + 1).min(tour::lessons().len() - 1))
    }

    fn before(&mut self, _session: &mut Session) -> Flow<Session> {
        self.turn(self.at.saturating_sub(1))
    }

    fn turn(&mut self, at: usize) -> Flow<Session> {
        let scroll = Scroll::new();
        *self = LessonPage { at, scroll };
        Flow::Stay
    }
}
