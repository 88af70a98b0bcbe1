//! A lesson of the tour: beside or below the picture as long as its movement is
//! the next one, and on its own page, where the tour can be left, resumed or
//! repeated.

use crate::screen::layer::{Choice, Context as _, Exit, Flow, Layer, Opener, keys, opener};
use crate::screen::look::Look;
use crate::screen::picture::{self, StripScene};
use crate::screen::session::Session;
use crate::screen::widgets::{Scroll, bold, columns, drawing, last_columns, rows, styled, text};
use crate::tour::{self, Lesson, Reader};
use crate::words::named;
use ratatui::prelude::{Buffer, Line, Rect, Span};

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
    keys! { Session, "A lesson of the tour" [scroll page];
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
        let mut lines = told(one, session.reader(), look);
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

    fn next(&mut self, _session: &mut Session) {
        self.turn((self.at + 1).min(tour::lessons().len() - 1));
    }

    fn before(&mut self, _session: &mut Session) {
        self.turn(self.at.saturating_sub(1));
    }

    fn turn(&mut self, at: usize) {
        let scroll = Scroll::new();
        *self = LessonPage { at, scroll };
    }
}

/// The smallest size at which a lesson is shown with the stitches; below it a
/// line says that there is one.
const LEAST: (u16, u16) = (76, 24);

/// Columns of a lesson beside the picture.
const BESIDE: u16 = 34;

/// The fewest rows that the picture keeps above a lesson.
const PICTURE: u16 = 7;

/// Whether a lesson fits a stitch view with this many columns and rows.
pub fn has_room((wide, high): (u16, u16)) -> bool {
    wide >= LEAST.0 && high >= LEAST.1
}

/// Writes the current lesson into the picture's area; returns what is left for
/// the picture.
pub fn share(session: &Session, scene: &StripScene, area: Rect, buf: &mut Buffer) -> Rect {
    let Some(lesson) = session.lesson() else {
        return area;
    };
    let look = session.look();
    let lines = told(lesson, session.reader(), look);
    let high = |width| text::height(lines.clone(), width);
    let most = area.height.saturating_sub(PICTURE).max(area.height / 2);
    let taken = high(area.width.saturating_sub(2)).min(most);
    let above = rows(area, 0, area.height - taken);
    let beside = BESIDE + u16::from(area.width >= 100) * 10;
    let picture = columns(area, 0, area.width.saturating_sub(beside));
    if picture.width > 40
        && picture::is_as_large(scene, picture, above)
        && high(beside - 2) <= area.height
    {
        let space = last_columns(area, beside);
        for y in space.top()..space.bottom().min(space.top() + high(beside - 2)) {
            let sign = look.signs().upright.to_string();
            buf.set_string(space.x, y, sign, look.quiet());
        }
        text::scrolled(last_columns(space, beside - 2), buf, lines, 0);
        return picture;
    }
    let space = rows(area, area.height - taken, taken);
    text::scrolled(text::inset(space, 1), buf, lines, 0);
    above
}

/// The lesson as it is shown beside the movement.
pub fn told(lesson: &'static Lesson, reader: Reader, look: Look) -> Vec<Line<'static>> {
    let say = |head: &'static str, words: &str| {
        let words = reader.text(words);
        Line::from(vec![Span::styled(head, bold()), Span::raw(words)])
    };
    vec![
        styled(
            format!("Lesson{}{}", look.signs().dot, lesson.title),
            look.seat(),
        ),
        say("", lesson.hands),
        say("Look: ", lesson.look),
        say("Careful: ", lesson.wrong),
    ]
}

/// A short line where there is no room for more.
pub fn line(lesson: &Lesson) -> String {
    let short = lesson.title.split([':', ',']).next();
    format!("e reads the lesson: {}", short.unwrap_or(lesson.title))
}
