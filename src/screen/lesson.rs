//! A lesson of the tour, beside or below the picture as long as its movement is
//! the next one. Its page is in `layers/lesson_page.rs`.

use super::furniture::text::{self, rows, styled};
use crate::screen::layer::Context as _;
use crate::screen::look::Look;
use crate::screen::picture::{self, StripScene};
use crate::screen::session::Session;
use crate::tour::{Lesson, Reader};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

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
    let high = |width: u16| -> u16 {
        let rows = lines.iter().map(|l| text::height(l.clone(), width));
        rows.sum()
    };
    let most = area.height.saturating_sub(PICTURE).max(area.height / 2);
    let taken = high(area.width.saturating_sub(2)).min(most);
    let above = rows(area, 0, area.height - taken);
    let beside = BESIDE + u16::from(area.width >= 100) * 10;
    let picture = Rect {
        width: area.width.saturating_sub(beside),
        ..area
    };
    if picture.width > 40
        && picture::is_as_large(scene, picture, above)
        && high(beside - 2) <= area.height
    {
        let space = Rect {
            x: picture.right(),
            width: beside,
            ..area
        };
        for y in space.top()..space.bottom().min(space.top() + high(beside - 2)) {
            let sign = look.signs().upright.to_string();
            buf.set_string(space.x, y, sign, look.quiet());
        }
        let inside = Rect {
            x: space.x + 2,
            width: beside - 2,
            ..space
        };
        text::scrolled(inside, buf, lines, 0);
        return picture;
    }
    let space = rows(area, area.height - taken, taken);
    text::scrolled(text::inset(space, 1), buf, lines, 0);
    above
}

/// The lesson as it is shown beside the movement.
pub fn told(lesson: &'static Lesson, reader: Reader, look: Look) -> Vec<Line<'static>> {
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let say = |head: &'static str, words: &str| {
        let words = reader.text(words);
        Line::from(vec![Span::styled(head, bold), Span::raw(words)])
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
