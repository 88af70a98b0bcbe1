//! The picture: the work near the needle, bead by bead, as it lies.
//!
//! Always seen from outside, the outer edge up, so that a right hand sews
//! from right to left; mirrored for the left hand.

mod brick;
mod join;
mod marks;
mod patch;
mod rim;
mod rounds;
mod strip;
mod subject;

use crate::beadwork::number::{Bead, Step};
use crate::beadwork::sequence::Sequence;
use crate::screen::look::Look;
use brick::{Canvas, Drawn, SCALES, Scale};
use join::JoinView;
pub use marks::{Mark, Marks};
use patch::{Hold, Patch, Reach};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use rim::RimView;
use rounds::RoundsView;
use strip::Half;
pub use subject::Subject;
use unicode_width::UnicodeWidthStr as _;

/// What the picture is drawn from.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    /// The piece.
    pub seq: &'a Sequence,
    /// Steps done.
    pub done: Step,
    /// Beads of this movement that were taken one at a time.
    pub taken: usize,
    /// Mirrored for the left hand.
    pub left_handed: bool,
    /// The look.
    pub look: Look,
}

/// Whether the needle goes to the right on the screen.
fn rightward(scene: &Scene) -> bool {
    scene.left_handed
}

impl Subject {
    fn length(&self, seq: &Sequence) -> u32 {
        let layout = seq.layout();
        match self {
            Subject::Rounds { .. } => self.rounds().map_or(1, |v| v.length(layout)),
            Subject::Rim {
                panel, rim, side, ..
            } => rim_view(*panel, *rim, *side, 0).length(layout),
            Subject::Join { zip, locked } => JoinView {
                zip: *zip,
                locked: *locked,
            }
            .length(layout),
        }
    }

    fn rounds(&self) -> Option<RoundsView> {
        match *self {
            Subject::Rounds {
                panel,
                even,
                way,
                focus,
                side,
                row,
            } => Some(RoundsView {
                panel,
                even,
                way,
                focus,
                side,
                row,
            }),
            _ => None,
        }
    }

    fn patch(&self, seq: &Sequence, strung: u32, reach: Reach) -> Patch {
        match *self {
            Subject::Rim {
                panel,
                rim,
                side,
                at,
            } => rim_view(panel, rim, side, at).patch(seq, reach),
            Subject::Join { zip, locked } => JoinView { zip, locked }.patch(seq, reach),
            Subject::Rounds { .. } => {
                let view = self.rounds().expect("it is rounds");
                view.patch(seq, strung, reach)
            }
        }
    }
}

fn rim_view(
    panel: crate::beadwork::Panel,
    rim: crate::beadwork::layout::RimIndex,
    side: crate::beadwork::Side,
    at: u32,
) -> RimView {
    RimView {
        panel,
        rim,
        side,
        at,
    }
}

/// Draws the picture into an area of any size, and gives the beads that are
/// marked but could not be shown in it.
pub fn draw(scene: &Scene, area: Rect, buf: &mut Buffer) -> Vec<(Mark, Bead)> {
    let marks = Marks::of(scene.seq, scene.done, scene.taken);
    let mut hidden = marks.all();
    if area.width < 4 || area.height < 3 {
        return hidden;
    }
    let Some(subject) = Subject::of(scene.seq, scene.done) else {
        return hidden;
    };
    let strung = scene.seq.strung_after(scene.done);
    let whole = area;
    let area = Rect {
        y: area.y + 1,
        height: area.height - 1,
        ..area
    };
    let scale = scale_for(&subject, scene.seq, area);
    let across = 2 * Half::from(area.width as i16) / scale.wide;
    let reach = Reach {
        across,
        rounds: i32::from(area.height) / scale.half + 1,
    };
    let patch = subject.patch(scene.seq, strung, reach);
    let view = View::new(&patch, scale, area, rightward(scene));
    let mut taken = Occupied::new(area);
    let mut canvas = Canvas { buf, area };
    for brick in &patch.bricks {
        let (x, y) = view.place(brick.x, brick.level);
        if !taken.take(x, y, scale) {
            continue;
        }
        hidden.retain(|(_, bead)| *bead != brick.bead);
        let kind = scene.seq.layout().colour(brick.bead);
        let kind = &scene.seq.layout().project().beads[usize::from(kind.0)];
        let bead = Drawn {
            letter: kind.letter,
            colour: kind.colour,
            placed: brick.bead.0 <= strung,
            mark: marks.of_bead(brick.bead),
            rightward: rightward(scene),
        };
        canvas.brick(scene.look, scale, x, y, bead);
    }
    // The ruler lies on the beads, not far above them.
    let above = (view.top - patch.levels().1).max(0) * scale.half;
    let ruler = Rect {
        y: whole.y + (above as u16).min(whole.height - 1),
        height: 1,
        ..whole
    };
    draw_ruler(scene, &patch, &view, ruler, buf);
    hidden
}

/// Whether a picture so much narrower shows the beads as big.
pub fn spares(scene: &Scene, area: Rect, columns: u16) -> bool {
    let Some(subject) = Subject::of(scene.seq, scene.done) else {
        return true;
    };
    let less = Rect {
        width: area.width.saturating_sub(columns),
        ..area
    };
    scale_for(&subject, scene.seq, area) == scale_for(&subject, scene.seq, less)
}

/// The biggest scale that shows the whole side and a few rounds; for a long
/// side the biggest at which a letter and a mark fit.
fn scale_for(subject: &Subject, seq: &Sequence, area: Rect) -> Scale {
    let columns = (2 * subject.length(seq) as i32).saturating_add(3);
    let fits = |s: &&Scale| {
        columns.saturating_mul(s.wide) <= i32::from(area.width)
            && 5 * s.half <= i32::from(area.height)
    };
    let long = if area.width < 60 {
        SCALES[3]
    } else {
        SCALES[2]
    };
    let found = SCALES[..5].iter().find(fits);
    found.copied().unwrap_or(long)
}

/// From places in the work to cells.
struct View {
    area: Rect,
    scale: Scale,
    /// The place in the middle of the area.
    middle: Half,
    /// The half level in the top rows.
    top: i32,
    rightward: bool,
}

impl View {
    fn new(patch: &Patch, scale: Scale, area: Rect, rightward: bool) -> View {
        let halves = i32::from(area.height) / scale.half;
        let (low, high) = patch.levels();
        let spare = halves - (high - low + 1);
        let top = if spare >= 0 {
            high + spare / 2
        } else {
            match patch.hold {
                Hold::Top => high,
                Hold::Bottom => low + halves - 1,
                Hold::Middle(level) => level + (halves + 1) / 2,
            }
        };
        let seen = 2 * i32::from(area.width) / scale.wide;
        let middle = match patch.side {
            // A side that fits stays where it is while it is worked.
            Some((from, to)) if to - from + 4 <= seen => (from + to) / 2,
            // One that does not is followed, but not past its ends.
            Some((from, to)) => {
                let (first, last) = (from - 4 + seen / 2, to + 4 - seen / 2);
                patch.focus.clamp(first.min(last), last.max(first))
            }
            None => patch.focus,
        };
        View {
            area,
            scale,
            middle,
            top,
            rightward,
        }
    }

    /// The column of a place: the left cell of a brick whose middle is there.
    fn column(&self, x: Half) -> i32 {
        // Rounded one way, or bricks side by side would come apart.
        let away = ((x - self.middle) * self.scale.wide).div_euclid(2);
        let away = if self.rightward { away } else { -away };
        i32::from(self.area.x) + i32::from(self.area.width) / 2 + away - self.scale.wide / 2
    }

    fn place(&self, x: Half, level: i32) -> (i32, i32) {
        let row = (self.top - (level + 1)) * self.scale.half;
        (self.column(x), i32::from(self.area.y) + row)
    }
}

/// Cells that have a brick.
struct Occupied {
    area: Rect,
    cells: Vec<bool>,
}

impl Occupied {
    fn new(area: Rect) -> Occupied {
        let cells = vec![false; usize::from(area.width) * usize::from(area.height)];
        Occupied { area, cells }
    }

    /// Takes the cells of a brick, unless one is taken, or none is in view.
    fn take(&mut self, x: i32, y: i32, scale: Scale) -> bool {
        let area = self.area;
        let (left, top) = (x - i32::from(area.x), y - i32::from(area.y));
        let (wide, high) = (i32::from(area.width), i32::from(area.height));
        let cols = left.max(0)..(left + scale.wide).min(wide);
        let rows = top.max(0)..(top + 2 * scale.half).min(high);
        // A brick cut by the side of the area would hide its letter.
        if cols.len() < scale.wide as usize || rows.is_empty() {
            return false;
        }
        let mut cells = rows.flat_map(|r| cols.clone().map(move |c| (r * wide + c) as usize));
        let all: Vec<usize> = cells.by_ref().collect();
        let free = all.iter().all(|&c| !self.cells[c]);
        if free {
            all.iter().for_each(|&c| self.cells[c] = true);
        }
        free
    }
}

/// The line over the picture: which side is worked, from where to where, and
/// which way the needle goes.
fn draw_ruler(scene: &Scene, patch: &Patch, view: &View, area: Rect, buf: &mut Buffer) {
    let signs = scene.look.signs();
    let wide = i32::from(area.width);
    let left = i32::from(area.x);
    let (from, to) = match patch.side {
        Some((a, b)) => {
            let (a, b) = (view.column(a), view.column(b));
            (a.min(b), a.max(b) + view.scale.wide - 1)
        }
        None => (left, left + wide - 1),
    };
    let (from, to) = (
        from.clamp(left, left + wide - 1),
        to.clamp(left, left + wide - 1),
    );
    let arrow = signs.arrow[usize::from(view.rightward)];
    let y = area.y;
    for x in from..=to {
        let sign = match x {
            x if x == from => signs.rule[1],
            x if x == to => signs.rule[2],
            _ => signs.rule[0],
        };
        if let Some(cell) = buf.cell_mut((x as u16, y)) {
            cell.set_char(sign).set_style(scene.look.seat());
        }
    }
    // The name over the middle of the side, over its ends if it must be.
    let name = fit(&patch.names[0], (wide - 6).max(0) as usize);
    let name = format!(" {arrow} {name} {arrow} ");
    let long = name.width() as i32;
    let at = ((from + to + 1 - long) / 2).clamp(left, (left + wide - long).max(left));
    buf.set_stringn(at as u16, y, &name, wide as usize, scene.look.seat());
    let (from, to) = (from.min(at), to.max(at + long - 1));
    let (before, behind) = match view.rightward {
        true => (&patch.names[1], &patch.names[2]),
        false => (&patch.names[2], &patch.names[1]),
    };
    let at = from - 1 - before.width() as i32;
    if at >= left {
        buf.set_string(at as u16, y, before, scene.look.quiet());
    }
    if to + 2 + behind.width() as i32 <= left + wide {
        buf.set_string((to + 2) as u16, y, behind, scene.look.quiet());
    }
}

/// As much of a text as fits, or nothing if that would be a scrap.
pub(super) fn fit(text: &str, room: usize) -> String {
    if text.width() <= room {
        return text.to_string();
    }
    let mut out = String::new();
    for c in text.chars() {
        let mut more = out.clone();
        more.push(c);
        if more.width() > room {
            break;
        }
        out = more;
    }
    out
}
