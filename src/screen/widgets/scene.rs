//! The picture with the map beside it, and below it the meaning of its signs,
//! or where the beads are that do not fit in it.

use super::map;
use super::text::{self, columns, rows};
use crate::beadwork::movement::NEEDLEFUL;
use crate::beadwork::{Bead, Movement, Step};
use crate::screen::layer::Context as _;
use crate::screen::phrases;
use crate::screen::picture::{self, BeadMark, DrawnSigns, StripScene};
use crate::screen::session::Session;
use ratatui::prelude::{Buffer, Rect, Widget as _};
use ratatui::widgets::Clear;
use unicode_width::UnicodeWidthStr as _;

/// Columns of the map beside the picture.
const MAP: u16 = 24;

/// The meaning of the signs: needle, new bead, bead to enter, bead to come.
pub type Legend = [&'static str; 4];

/// While a movement is made.
pub const MAKING: Legend = ["needle comes out", "new bead", "go in here", "to come"];

/// While a movement is unpicked.
pub const UNPICKING: Legend = [
    "thread then comes out",
    "comes off",
    "thread out of here",
    "not there",
];

/// What the picture is drawn from when `done` steps are done.
pub fn of(session: &Session, done: Step) -> StripScene<'_> {
    let is_now = done == session.done();
    StripScene {
        seq: &session.seq,
        done,
        taken: if is_now { session.taken() } else { 0 },
        left_handed: session.left_handed(),
        look: session.look(),
    }
}

/// Draws it for the current state of the work.
pub fn draw(session: &Session, area: Rect, buf: &mut Buffer) {
    draw_at(session, session.done(), &MAKING, area, buf);
}

/// Draws it for the work with `done` steps done.
pub fn draw_at(session: &Session, done: Step, signs: &Legend, area: Rect, buf: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let look = session.look();
    let is_now = done == session.done();
    let scene = of(session, done);
    let legend_row = u16::from(area.height >= 11);
    let beside_map = columns(area, 0, area.width.saturating_sub(MAP));
    let with_map = is_now
        && area.height >= 9
        && area.width >= 60 + MAP
        && (area.width >= 110 || picture::is_as_large(&scene, beside_map, area));
    let wide = match with_map {
        true => area.width - MAP,
        false => area.width,
    };
    // The text that names beads outside the picture is below it, and may need
    // more rows.
    let (mut foot, most) = (legend_row, (area.height / 3).max(1));
    // Of beads that are taken one at a time, only the next one matters.
    let next = session.one_at_a_time.filter(|_| is_now);
    let matters = |(mark, _): &(BeadMark, Bead)| match (mark, next) {
        (BeadMark::Enter(Some(n), _), Some(taken)) => *n == taken + 1,
        _ => true,
    };
    let (drawn, elsewhere) = loop {
        let space = rows(columns(area, 0, wide), 0, area.height - foot);
        let mut drawn = picture::draw(&scene, space, buf);
        drawn.hidden.retain(matters);
        let elsewhere = named(session, &drawn.hidden);
        let high = text::height(elsewhere.as_str(), wide).min(most);
        if drawn.hidden.is_empty() || high <= foot {
            break (drawn, elsewhere);
        }
        foot = high;
        Clear.render(space, buf);
    };
    if with_map {
        map::draw(session, columns(area, wide + 1, MAP - 1), buf);
    }
    let last = |high: u16| {
        rows(
            columns(area, 0, wide),
            area.height.saturating_sub(high),
            high,
        )
    };
    match (drawn.hidden.is_empty(), legend_row) {
        (false, _) if session.seq.step(Step(done.0 + 1)).is_some() => {
            let last = last(foot.max(1));
            Clear.render(last, buf);
            text::wrapped(last, buf, &elsewhere, look.enter_sign());
        }
        (_, 1) => legend(&scene, &drawn, signs, last(1), buf),
        _ => {}
    }
}

/// The marked beads outside the picture, in words; last the one that is left, so
/// that a narrow screen does not cut the others off.
fn named(session: &Session, hidden: &[(BeadMark, Bead)]) -> String {
    // For the many beads of an end of thread, the movement names the places.
    let is_long = |m: Movement| m.strings.is_empty() && m.passes.len() > NEEDLEFUL;
    let is_long = session.one_at_a_time.is_none() && session.movement().is_some_and(is_long);
    let is_left = |(mark, _): &&(BeadMark, Bead)| *mark == BeadMark::Leaves;
    let (left, others): (Vec<&_>, Vec<&_>) = hidden.iter().partition(is_left);
    let words = others.into_iter().chain(left).map(|(mark, bead)| {
        let bead = match is_long {
            true => session.seq.letter(*bead).to_string(),
            false => phrases::bead_words(&session.seq, *bead),
        };
        match mark {
            BeadMark::Leaves => format!("needle at {bead}"),
            BeadMark::Seat => format!("new: {bead}"),
            BeadMark::Enter(Some(n), _) => format!("{n}: {bead}"),
            BeadMark::Enter(None, _) => format!("enter {bead}"),
        }
    });
    format!("elsewhere: {}", words.collect::<Vec<_>>().join("; "))
}

/// The meaning of the signs that the picture has, as many as fit.
fn legend(scene: &StripScene, drawn: &DrawnSigns, means: &Legend, area: Rect, buf: &mut Buffer) {
    let (look, signs) = (scene.look, scene.look.signs());
    let enter = signs.enter[usize::from(scene.left_handed)];
    let [left, right, ..] = signs.seat;
    let [hollow, end, ..] = signs.hollow;
    let has = |of: fn(&BeadMark) -> bool| drawn.seen.iter().any(of);
    let said = |first: &str| {
        let leaves = has(|mark| *mark == BeadMark::Leaves);
        let is_new = has(|mark| *mark == BeadMark::Seat);
        let is_entered = has(|mark| matches!(mark, BeadMark::Enter(..)));
        let all = [
            (leaves, format!("{} {first}", signs.needle), look.quiet()),
            (is_new, format!("{left}{right} {}", means[1]), look.seat()),
            (
                is_entered,
                format!("{enter} {}", means[2]),
                look.enter_sign(),
            ),
            (
                drawn.to_come,
                format!("{hollow}{end} {}", means[3]),
                look.quiet(),
            ),
        ];
        all.into_iter().filter(|(is_drawn, ..)| *is_drawn)
    };
    // The signs of the movement itself always fit.
    let marked = said(means[0]).filter(|(_, text, _)| !text.starts_with(hollow));
    let wide: usize = marked.map(|(_, text, _)| text.width() + 2).sum();
    let first = match wide <= usize::from(area.width) + 2 {
        true => means[0],
        false => means[0].split(' ').next().unwrap_or_default(),
    };
    let mut x = area.x;
    for (_, text, style) in said(first) {
        let long = text.width() as u16;
        if x + long > area.right() {
            break;
        }
        buf.set_string(x, area.y, &text, style);
        x += long + 2;
    }
}
