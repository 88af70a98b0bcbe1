//! Fills the window: for every half cell, the bead behind it.

use super::grid::{Grid, SeenBead};
use super::ink::{self, Ink};
use super::passes::HoleFill;
use super::view::Window;
use crate::beadwork::flat_face::{Brick, FlatFace};
use crate::beadwork::layout::Seat;
use crate::beadwork::{Bead, BeadKind, Job, Movement, Panel, Round, Sequence, Side, Step};
use crate::screen::layer::Context as _;
use crate::screen::look::{Depth, Look};
use crate::screen::picture::{BeadMark, Marks};
use crate::screen::session::Session;
use glam::DVec2;
use ratatui::prelude::{Buffer, Modifier, Rect, Style};
use std::cell::RefCell;
use std::f64::consts::FRAC_PI_4;

/// From this many columns per bead on, beads have a border and a letter.
const LARGE: f64 = 3.9;

/// Draws the face of a sitting into an area of any size.
pub fn draw(session: &Session, area: Rect, buf: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let (seq, view, done) = (&session.seq, &session.face, session.done());
    let face = view.flat(seq);
    let window = view.window(&face, area, session.left_handed());
    let size = face.brick() * window.per_mm;
    let painter = Painter {
        session,
        look: session.look(),
        done,
        beads: seq.layout().bead_kinds(),
        strung: seq.strung_after(done),
        large: size.min_element() >= LARGE,
        face,
        window,
    };
    painter.fill(buf);
    painter.numbers(buf);
    if view.route {
        painter.thread(buf);
    }
    painter.marks(buf);
}

/// What a filled window depends on, besides the piece.
#[derive(Debug, PartialEq)]
struct FilledFrom {
    panel: Panel,
    up: Side,
    window: Window,
    /// Beads in place.
    strung: u32,
    look: Look,
    /// Whether it is shown how full the holes are.
    holes: bool,
    /// After which step passes were counted, once they are.
    counted_after: Option<Step>,
}

/// The window as it was filled last for this piece. It stays the same while only
/// the bead pointed at changes.
#[derive(Debug, Default)]
pub struct LastFilled(RefCell<Option<(FilledFrom, Buffer)>>);

struct Painter<'a> {
    session: &'a Session,
    look: Look,
    /// Steps done.
    done: Step,
    beads: &'a [BeadKind],
    strung: u32,
    /// Whether beads are large enough for borders and letters.
    large: bool,
    face: FlatFace<'a>,
    window: Window,
}

impl Painter<'_> {
    fn seen(&self, brick: Brick) -> SeenBead {
        SeenBead::of(&self.face, brick, self.strung)
    }

    fn ink(&self, grid: &Grid, column: u16, half: u16) -> Ink {
        let Some(seen) = grid.at(column, half) else {
            return Ink::Bare;
        };
        let colour = match self.fill_of(seen) {
            Some(fill) => fill.colour(),
            None => self.beads[seen.kind].colour,
        };
        let border = self.large && grid.is_border(column, half);
        match (seen.placed, self.large) {
            (true, _) if border => Ink::Border(colour),
            (true, _) => Ink::Solid(colour),
            (false, true) if border => Ink::Line(colour),
            (false, true) => Ink::Bare,
            (false, false) => Ink::Grain(colour),
        }
    }

    /// Every cell, with a letter in the middle of each large bead.
    fn fill(&self, buf: &mut Buffer) {
        let view = &self.session.face;
        let of = FilledFrom {
            panel: view.panel,
            up: view.up,
            window: self.window,
            strung: self.strung,
            look: self.look,
            holes: view.holes,
            counted_after: view.passes.counted_after(),
        };
        let mut last = view.filled.0.borrow_mut();
        if !last.as_ref().is_some_and(|(last, _)| *last == of) {
            *last = Some((of, self.filled()));
        }
        let cells = last.iter().flat_map(|(_, filled)| &filled.content);
        for (at, cell) in self.window.area.positions().zip(cells) {
            buf[at].clone_from(cell);
        }
    }

    /// The window, filled.
    fn filled(&self) -> Buffer {
        let (area, look) = (self.window.area, self.look);
        let lettered = !self.large && (look.depth == Depth::None || self.session.face.holes);
        let grid = Grid::new(&self.face, &self.window, self.strung, look.unicode);
        let mut filled = Buffer::empty(area);
        for row in 0..area.height {
            for column in 0..area.width {
                let cell = (area.x + column, area.y + row);
                let halves = [2 * row, 2 * row + 1];
                let [upper, lower] = halves.map(|half| self.ink(&grid, column, half));
                let mut seen = halves.into_iter().filter_map(|half| grid.at(column, half));
                let (mut sign, mut style) = ink::cell(look, upper, lower);
                let first = seen.clone().next();
                let is_middle =
                    |seen: &&SeenBead| self.window.cell(seen.brick.middle) == Some(cell);
                if let Some(seen) = seen.rfind(|s| self.large && is_middle(s)) {
                    (sign, style) = self.letter(seen);
                } else if let Some(seen) = first.filter(|seen| lettered && self.is_lettered(seen)) {
                    (sign, style) = self.letter(seen);
                }
                filled[cell].set_char(sign).set_style(style);
            }
        }
        filled
    }

    /// How full its hole is, if that is shown.
    fn fill_of(&self, seen: &SeenBead) -> Option<HoleFill> {
        let view = &self.session.face;
        view.holes
            .then(|| view.passes.fill(&self.session.seq, seen.bead))?
    }

    /// Whether a small bead has a letter, or the sign of its hole.
    fn is_lettered(&self, seen: &SeenBead) -> bool {
        !self.session.face.holes || self.fill_of(seen).is_some()
    }

    fn letter(&self, seen: &SeenBead) -> (char, Style) {
        let kind = &self.beads[seen.kind];
        let look = self.look;
        if let Some(fill) = self.fill_of(seen) {
            return (fill.sign(), look.solid(fill.colour()));
        }
        let style = match seen.placed {
            true => look.solid(kind.colour),
            false => look.hollow(),
        };
        let fits = look.unicode || kind.letter.is_ascii();
        (if fits { kind.letter } else { '?' }, style)
    }

    /// The numbers of the sides beside them.
    fn numbers(&self, buf: &mut Buffer) {
        let sides = self.session.seq.layout().kind(self.face.panel()).sides();
        let by = 1.5 / self.window.per_mm;
        for side in (0..sides).map(Side) {
            let beside = self.window.cell(self.face.beside(side, by));
            if let Some((x, y)) = beside.filter(|cell| buf[*cell].symbol() == " ") {
                let words = side.number().to_string();
                let room = usize::from(self.window.area.right() - x);
                buf.set_stringn(x, y, words, room, self.look.quiet());
            }
        }
    }

    /// The cell of a bead of this panel, if visible.
    fn cell_of(&self, bead: Bead) -> Option<(u16, u16)> {
        let seat = self.session.seq.layout().seat(bead);
        let here = seat.panel == self.face.panel();
        here.then(|| self.window.cell(self.face.lies(seat).middle))?
    }

    /// The path of the thread, dot by dot.
    fn thread(&self, buf: &mut Buffer) {
        let route = route(&self.session.seq, self.done);
        let (look, signs) = (self.look, self.look.signs());
        self.way(&route.made, signs.thread[0], look.needle(), buf);
        self.way(&route.next, signs.thread[1], look.enter_sign(), buf);
    }

    /// The arrow for a direction, in half cells.
    fn arrow(&self, way: DVec2) -> char {
        let signs = self.look.signs();
        let eighth = (way.to_angle() / FRAC_PI_4).round().rem_euclid(8.0) as usize;
        signs.ways[eighth]
    }

    fn way(&self, beads: &[Bead], sign: char, style: Style, buf: &mut Buffer) {
        let layout = self.session.seq.layout();
        let place = |bead: Bead| {
            let seat = layout.seat(bead);
            let here = seat.panel == self.face.panel();
            here.then(|| self.window.place(self.face.lies(seat).middle))
        };
        let area = self.window.area;
        let size = DVec2::new(f64::from(area.width), 2.0 * f64::from(area.height));
        for pair in beads.windows(2) {
            let (Some(from), Some(to)) = (place(pair[0]), place(pair[1])) else {
                continue;
            };
            let dots = (to - from).abs().max_element().clamp(1.0, 600.0) as u32;
            for n in 0..=dots {
                let at = from.lerp(to, f64::from(n) / f64::from(dots));
                if at.min_element() < 0.0 || at.x >= size.x || at.y >= size.y {
                    continue;
                }
                let cell = (area.x + at.x as u16, area.y + (at.y / 2.0) as u16);
                // Halfway between two beads an arrow shows the direction.
                let sign = match 2 * n == dots - dots % 2 && dots > 1 {
                    true => self.arrow(to - from),
                    false => sign,
                };
                buf[cell].set_char(sign).set_style(style);
            }
        }
        // The beads that it goes through must stay readable.
        for bead in beads.iter().filter(|_| self.large) {
            if let Some(cell) = self.cell_of(*bead) {
                let seat = layout.seat(*bead);
                let seen = self.seen(self.face.lies(seat));
                let (letter, own) = self.letter(&seen);
                buf[cell]
                    .set_char(letter)
                    .set_style(own.add_modifier(Modifier::BOLD));
            }
        }
    }

    /// The needle, the new beads, the beads to enter, and the one pointed at.
    fn marks(&self, buf: &mut Buffer) {
        let (look, signs) = (self.look, self.look.signs());
        let marks = Marks::of(&self.session.seq, self.done, self.session.taken());
        let enter = signs.enter[usize::from(self.window.mirrored)];
        for (mark, bead) in marks.all() {
            let Some(cell) = self.cell_of(bead) else {
                continue;
            };
            let (sign, style) = match mark {
                BeadMark::Leaves => ((None, signs.needle), look.needle()),
                BeadMark::Seat => ((Some(signs.seat[5]), signs.new), look.seat()),
                BeadMark::Enter(number, _) => {
                    let digit = number.and_then(|n| char::from_digit(n as u32 % 10, 10));
                    ((Some(enter), digit.unwrap_or(enter)), look.enter())
                }
            };
            self.sign(cell, sign, style, buf);
        }
        let Some(seat) = self.session.face.at else {
            return;
        };
        if let Some(cell) = self.window.cell(self.face.lies(seat).middle) {
            self.pointer(cell, seat, buf);
        }
    }

    /// A sign in the middle of a bead, and what is shown beside it in a large
    /// one.
    fn sign(
        &self,
        (x, y): (u16, u16),
        (beside, sign): (Option<char>, char),
        style: Style,
        buf: &mut Buffer,
    ) {
        put(buf, (x, y), sign, style);
        for x in [x.wrapping_sub(1), x + 1] {
            if let Some(beside) = beside.filter(|_| self.large && self.has_column(x)) {
                put(buf, (x, y), beside, style);
            }
        }
    }

    fn has_column(&self, x: u16) -> bool {
        let area = self.window.area;
        (area.left()..area.right()).contains(&x)
    }

    fn pointer(&self, (x, y): (u16, u16), seat: Seat, buf: &mut Buffer) {
        let style = self.look.ahead();
        let wide = (self.face.brick().x * self.window.per_mm) as u16;
        let by = if self.large && wide >= 6 { 2 } else { 1 };
        for (x, sign) in [(x.wrapping_sub(by), '['), (x + by, ']')] {
            if self.has_column(x) {
                put(buf, (x, y), sign, style);
            }
        }
        let is_bare = buf[(x, y)].symbol().chars().all(|c| "▀▄█▒░ .#".contains(c));
        if !self.large && is_bare {
            let (letter, own) = self.letter(&self.seen(self.face.lies(seat)));
            put(buf, (x, y), letter, own);
        }
    }
}

/// A sign in a cell, of which nothing else is left.
fn put(buf: &mut Buffer, cell: (u16, u16), sign: char, style: Style) {
    buf[cell]
        .set_char(sign)
        .set_style(Style::reset().patch(style));
}

/// Movements of the round that are shown before and after the needle.
const REACH: u32 = 8;

/// Beads in the order in which the thread goes through them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Route {
    /// Up to the bead that the needle is leaving.
    pub made: Vec<Bead>,
    /// From there on.
    pub next: Vec<Bead>,
}

/// The path near the needle, with `done` steps done.
pub fn route(seq: &Sequence, done: Step) -> Route {
    let here = [Step(done.0 + 1), done];
    let Some(m) = here.iter().find_map(|s| seq.step(*s)) else {
        return Route::default();
    };
    let round = (m.job, m.round);
    let of_round = |m: &Movement, round: (Job, Option<Round>)| (m.job, m.round) == round;
    let mut first = done.0;
    let mut way = round;
    while first > 0 && done.0 - first < REACH {
        let Some(m) = seq.step(Step(first)) else {
            break;
        };
        // Directly after a round is begun, the path so far belongs to the round
        // before.
        if first == done.0 && m.job == way.0 {
            way.1 = m.round;
        }
        if !of_round(&m, way) {
            break;
        }
        first -= 1;
    }
    let mut route = Route::default();
    route.made.extend(seq.leaves(Step(first)));
    let made = (first + 1..=done.0).filter_map(|n| seq.step(Step(n)));
    route.made.extend(made.flat_map(|m| m.passes));
    route.next.extend(seq.leaves(done));
    let next = (done.0 + 1..=done.0 + REACH).map_while(|n| seq.step(Step(n)));
    let next = next.take_while(|m| of_round(m, round));
    route.next.extend(next.flat_map(|m| m.passes));
    route
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::proof;

    #[test]
    fn the_path_ends_at_the_needle_and_continues_from_there() {
        let seq = proof::panel(3, 7);
        for done in 1..seq.steps() {
            let route = route(&seq, Step(done));
            let leaves = seq.leaves(Step(done));
            if leaves.is_some() {
                assert_eq!(route.made.last().copied(), leaves, "step {done}");
                assert_eq!(route.next.first().copied(), leaves, "step {done}");
            }
            let next = seq.step(Step(done + 1)).expect("a step");
            assert!(
                next.passes.iter().all(|b| route.next.contains(b)),
                "step {done}"
            );
            assert!(route.made.len() <= 1 + REACH as usize * 4);
        }
    }
}
