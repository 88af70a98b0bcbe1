//! The picture with the map beside it, and below it the meaning of its signs,
//! or where the beads are that do not fit in it.

use super::map;
use super::text::{self, columns, rows};
use crate::beadwork::movement::NEEDLEFUL;
use crate::beadwork::{Bead, Movement, Step};
use crate::screen::layer::Context as _;
use crate::screen::phrases;
use crate::screen::picture::{self, BeadMark, StripScene};
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
    let (hidden, elsewhere) = loop {
        let space = rows(columns(area, 0, wide), 0, area.height - foot);
        let hidden = picture::draw(&scene, space, buf);
        let elsewhere = named(session, &hidden);
        let high = text::height(elsewhere.as_str(), wide).min(most);
        if hidden.is_empty() || high <= foot {
            break (hidden, elsewhere);
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
    match (hidden.is_empty(), legend_row) {
        (false, _) if session.seq.step(Step(done.0 + 1)).is_some() => {
            let last = last(foot.max(1));
            Clear.render(last, buf);
            text::wrapped(last, buf, &elsewhere, look.enter_sign());
        }
        (_, 1) => legend(&scene, signs, last(1), buf),
        _ => {}
    }
}

/// The marked beads outside the picture, in words.
fn named(session: &Session, hidden: &[(BeadMark, Bead)]) -> String {
    // For the many beads of an end of thread, the movement names the places.
    let is_long = |m: Movement| m.strings.is_empty() && m.passes.len() > NEEDLEFUL;
    let is_long = session.movement().is_some_and(is_long);
    let words = hidden.iter().map(|(mark, bead)| {
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

/// The meaning of the picture's signs.
fn legend(scene: &StripScene, means: &Legend, area: Rect, buf: &mut Buffer) {
    let (look, signs) = (scene.look, scene.look.signs());
    let enter = signs.enter[usize::from(scene.left_handed)];
    let [left, right, ..] = signs.seat;
    let words = [
        (format!("{} {}", signs.needle, means[0]), look.quiet()),
        (format!("{left}{right} {}", means[1]), look.seat()),
        (format!("{enter} {}", means[2]), look.enter_sign()),
        (
            format!("{}{} {}", signs.hollow[0], signs.hollow[1], means[3]),
            look.quiet(),
        ),
    ];
    let mut x = area.x;
    for (text, style) in words {
        let long = text.width() as u16;
        if x + long > area.right() {
            break;
        }
        buf.set_string(x, area.y, &text, style);
        x += long + 3;
    }
}
