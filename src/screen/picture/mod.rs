//! The picture: the work near the needle, bead by bead, as it lies.
//!
//! It is always seen from outside, with the outer edge up, so that a
//! right-handed maker sews from right to left; it is mirrored for the left
//! hand.

use crate::beadwork::end::End;
use crate::beadwork::{Bead, Sequence, Side, Step};
use crate::screen::look::Look;
use crate::screen::widgets::text::{columns, rows};
use brick::{Canvas, Drawn, FULL_SIDES, LONG, LONG_NARROW};
use patch::{Extent, Hold, Occupied, WorkView, draw_ruler};
use ratatui::prelude::{Buffer, Rect};
use strip::Half;
use subject::Subject;

mod brick;
mod join;
mod marks;
mod patch;
mod rim;
mod rounds;
mod strip;
mod subject;

pub(super) use brick::Scale;

pub use marks::{BeadMark, Marks};

/// What the picture is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct StripScene<'a> {
    /// The piece.
    pub seq: &'a Sequence,
    /// Steps done.
    pub done: Step,
    /// Beads of the current movement that were taken one at a time.
    pub taken: usize,
    /// Whether it is mirrored for the left hand.
    pub left_handed: bool,
    pub look: Look,
}

/// Whether the needle goes to the right on the screen.
fn rightward(scene: &StripScene) -> bool {
    scene.left_handed
}

/// Columns that each part of a picture of several panels needs.
const PART: u16 = 22;

/// Which signs a picture has.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DrawnSigns {
    /// The marks in it.
    pub seen: Vec<BeadMark>,
    /// The beads that are marked but do not fit in it.
    pub hidden: Vec<(BeadMark, Bead)>,
    /// Whether a bead is drawn that is to come later than in this movement.
    pub to_come: bool,
}

/// Draws the picture into an area of any size; returns the signs in it.
pub fn draw(scene: &StripScene, area: Rect, buf: &mut Buffer) -> DrawnSigns {
    let marks = Marks::of(scene.seq, scene.done, scene.taken);
    let mut signs = DrawnSigns {
        hidden: marks.all(),
        ..DrawnSigns::default()
    };
    if area.width < 4 || area.height < 3 {
        return signs;
    }
    // Several panels are drawn side by side, first the one from which the
    // needle comes.
    let most = usize::from(area.width / PART).max(1);
    let subjects = Subject::all(scene.seq, scene.done, scene.taken, most);
    let parts = subjects.len() as u16;
    for (i, subject) in subjects.iter().enumerate() {
        let nth = match rightward(scene) {
            true => i as u16,
            false => parts - 1 - i as u16,
        };
        let wide = area.width / parts;
        let part = columns(area, nth * wide, wide - u16::from(parts > 1));
        draw_subject(scene, subject, &marks, part, buf, &mut signs);
    }
    signs
}

fn draw_subject(
    scene: &StripScene,
    subject: &Subject,
    marks: &Marks,
    area: Rect,
    buf: &mut Buffer,
    signs: &mut DrawnSigns,
) {
    let strung = scene.seq.strung_after(scene.done);
    let whole = area;
    let area = rows(area, 1, area.height - 1);
    let scale = scale_for(scene, subject, area);
    let across = 2 * Half::from(area.width as i16) / scale.wide;
    let extent = Extent {
        across,
        rounds: i32::from(area.height) / scale.half + 1,
    };
    let mut patch = subject.patch(scene.seq, strung, extent);
    let mut view = WorkView::new(&patch, scale, area, rightward(scene));
    // The bead to go into first is kept in view, also where there are few rows.
    let first = marks.first_entered();
    let first = patch.bricks.iter().find(|brick| Some(brick.bead) == first);
    if let Some(level) = first.map(|brick| brick.level).filter(|l| !view.shows(*l)) {
        patch.hold = Hold::Middle(level);
        view = WorkView::new(&patch, scale, area, rightward(scene));
    }
    let mut taken = Occupied::new(area);
    let mut canvas = Canvas { buf, area };
    for brick in &patch.bricks {
        let (x, y) = view.place(brick.x, brick.level);
        if !taken.take(x, y, scale) {
            continue;
        }
        // A mark is in the lower half of its bead.
        if y + 2 * scale.half <= i32::from(area.bottom()) {
            let seen = |(_, bead): &mut (BeadMark, Bead)| *bead == brick.bead;
            let seen = signs.hidden.extract_if(.., seen);
            signs.seen.extend(seen.map(|(mark, _)| mark));
        }
        let kind = scene.seq.layout().colour(brick.bead);
        let kind = scene.seq.layout().bead_kind(kind);
        let mark = marks.of_bead(brick.bead);
        let placed = brick.bead.0 <= strung;
        signs.to_come |= !placed && mark != Some(BeadMark::Seat);
        let goes_forward = match mark {
            Some(BeadMark::Enter(_, end)) => brick.forward == (end == End::Front),
            _ => true,
        };
        let bead = Drawn {
            letter: kind.letter,
            colour: kind.colour,
            placed,
            mark,
            rightward: goes_forward == rightward(scene),
        };
        canvas.brick(scene.look, scale, x, y, bead);
    }
    // The ruler is directly above the beads.
    let above = (view.top - patch.levels().1).max(0) * scale.half;
    let line = rows(whole, (above as u16).min(whole.height - 1), 1);
    draw_ruler(scene, &patch, &view, line, buf);
}

/// Whether a picture in one area shows its beads as large as in another.
pub fn is_as_large(scene: &StripScene, one: Rect, other: Rect) -> bool {
    Subject::of(scene.seq, scene.done).is_none_or(|subject| {
        scale_for(scene, &subject, one).wide >= scale_for(scene, &subject, other).wide
    })
}

/// How large the beads are drawn.
#[cfg(test)]
pub fn scale(scene: &StripScene, area: Rect) -> Scale {
    let subject = Subject::of(scene.seq, scene.done).expect("a movement");
    scale_for(scene, &subject, area)
}

/// The largest scale that shows the longest side of the panel and a few rounds,
/// so that it stays the same from step to step; for a long side, the largest at
/// which a letter and a mark fit.
fn scale_for(scene: &StripScene, subject: &Subject, area: Rect) -> Scale {
    let layout = scene.seq.layout();
    let next = Step((scene.done.0 + 1).min(scene.seq.steps()));
    let kind = layout.kind(scene.seq.job(scene.seq.job_of(next)).panel());
    let sides = (0..kind.sides()).map(Side);
    let longest = sides.map(|side| kind.on_side(kind.last(), side)).max();
    let longest = longest.unwrap_or(0).max(subject.length(layout));
    let columns = (2 * longest as i32).saturating_add(3);
    let fits = |s: &&Scale| {
        columns.saturating_mul(s.wide) <= i32::from(area.width)
            && 5 * s.half <= i32::from(area.height)
    };
    let found = FULL_SIDES.iter().find(fits);
    found.copied().unwrap_or(match area.width {
        0..60 => LONG_NARROW,
        _ => LONG,
    })
}
