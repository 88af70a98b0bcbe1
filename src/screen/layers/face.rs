//! The whole face: the panel as beads, and the bead pointed at in words.

use crate::beadwork::{Panel, Sequence};
use crate::screen::face::{self, FaceView, HoleFill, picture, title, touch};
use crate::screen::input::Input;
use crate::screen::layer::{Busy, Context as _, Flow, Layer, Opener, keys, opener};
use crate::screen::session::Session;
use crate::screen::widgets::text;
use glam::DVec2;
use ratatui::prelude::{Buffer, Line, Rect, Span, Style};
use unicode_width::UnicodeWidthStr as _;

pub const OPENER: Opener<Session> = opener!(Session; "face" "f" ["f whole face"] "the whole face: the current panel as beads, from a few large ones to all; and its colours, to be painted" |_, session| open(session); FaceScreen::table);

fn open(session: &mut Session) -> Flow<Session> {
    to_needle(session);
    session.face.show_whole();
    session.face.holes = false;
    let done = session.done();
    session.face.passes.ask(&session.seq, done);
    Flow::open(FaceScreen)
}

/// The whole face, for viewing.
pub struct FaceScreen;

impl Layer<Session> for FaceScreen {
    keys! { Session, "The whole face" [mouse] opens ["help" "words" "solid"];
        larger "+ = wheel_up" ["+/- zoom"] "larger, with the bead pointed at in the window" => |s| in_face(s, |face, seq, mirrored| face.zoom(seq, true, mirrored));
        point_left "left" ["arrows bead"] "point at the bead to the left; a click of the mouse points at any bead" => |s| point(s, -DVec2::X);
        go "Enter" ["Enter go"] "go to the step that strings the bead pointed at; b leads back from there"
        colour "c" ["c colour"] "take up the brush: paint the panel in the piece's colours" => |_| Flow::Screen("brush");
        smaller "- _ wheel_down" [] "smaller, down to the whole panel" => |s| in_face(s, |face, seq, mirrored| face.zoom(seq, false, mirrored));
        whole "0" [] "the whole panel" => |s| s.face.show_whole();
        point_down "down" [] "point at the bead below" => |s| point(s, -DVec2::Y);
        point_up "up" [] "point at the bead above" => |s| point(s, DVec2::Y);
        point_right "right" [] "point at the bead to the right" => |s| point(s, DVec2::X);
        ..
        next_panel "n PageDown" ["n next panel"] "the next panel of the piece" => |s| go_to_panel(s, 1);
        panel_before "p PageUp" [] "the panel before" => |s| go_to_panel(s, -1);
        thread "t" ["t thread"] "show the way of the thread through the last and the next movements of the round, or hide it" => |s| s.face.route ^= true;
        holes "h" ["h holes"] "show how full the holes of the beads in place are, or show the colours again"
        turn "r" ["r turn"] "turn the panel: the side of the bead pointed at up, then the next side" => |s| in_face(s, FaceView::turn);
        needle ". Home" [". needle"] "back to the bead under the needle" => to_needle;
        next_bead "Tab" [] "point at the next bead of the round, in working direction" => |s| along(s, true);
        bead_before "Shift-Tab" [] "point at the bead before it in the round" => |s| along(s, false);
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let look = session.look();
        Some((title(session, "The whole face"), look.seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let told = face::told(&session.seq, &session.face, session.done(), true);
        told.into_iter().map(Line::from).collect()
    }

    fn spoken(&self, session: &Session) -> Vec<Line<'static>> {
        let told = face::told(&session.seq, &session.face, session.done(), false);
        told.into_iter().map(Line::from).collect()
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let words = picture(session, text::inset(area, 2), buf);
        text::scrolled(words, buf, lines(session, words), 0);
    }

    fn about(&self, _context: &Session) -> Vec<Line<'static>> {
        ABOUT.map(Line::from).to_vec()
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        Busy::waiting(session.face.passes.look())
    }

    fn mouse(&mut self, input: Input, session: &mut Session) {
        touch(session, input);
    }
}

impl FaceScreen {
    fn go(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(seat) = session.face.at else {
            return Flow::Stay;
        };
        let bead = session.seq.layout().bead_in(seat);
        session.jump(session.seq.step_of(bead))
    }

    fn holes(&mut self, session: &mut Session) -> Flow<Session> {
        session.face.holes ^= true;
        if !session.face.holes {
            return session.say("The beads have their own colours again.");
        }
        let said = session
            .face
            .passes
            .say_holes(&session.seq, session.face.panel);
        session.say(said)
    }
}

fn to_needle(session: &mut Session) {
    let done = session.done();
    session.face.go_to_needle(&session.seq, done);
}

/// Does something with what is viewed, mirrored or not.
fn in_face<T>(session: &mut Session, act: impl FnOnce(&mut FaceView, &Sequence, bool) -> T) -> T {
    let mirrored = session.left_handed();
    act(&mut session.face, &session.seq, mirrored)
}

pub(super) fn point(session: &mut Session, by: DVec2) {
    if !in_face(session, |face, seq, mirrored| face.point(seq, by, mirrored)) {
        session.say("There is no bead further that way.");
    }
}

pub(super) fn along(session: &mut Session, forward: bool) {
    in_face(session, |face, seq, mirrored| {
        face.along(seq, forward, mirrored)
    });
}

fn go_to_panel(session: &mut Session, by: i32) -> Flow<Session> {
    let begun = session.seq.layout().begun_panels();
    let panels: Vec<Panel> = begun.map(|(panel, _)| panel).collect();
    if panels.len() < 2 {
        return session.say("The piece is this one panel.");
    }
    let here = panels.partition_point(|panel| *panel < session.face.panel) as i32;
    let panel = panels[(here + by).rem_euclid(panels.len() as i32) as usize];
    session.face.go_to_panel(&session.seq, panel);
    Flow::Stay
}

fn lines(session: &Session, area: Rect) -> Vec<Line<'static>> {
    let beside = area.height > 6;
    let is_narrow = area.width < 60 && !beside;
    let told = face::told(&session.seq, &session.face, session.done(), is_narrow);
    let mut lines: Vec<Line> = told.into_iter().map(Line::from).collect();
    if beside {
        lines.push(Line::default());
        let legend = legend(session).into_iter();
        lines.extend(legend.map(|(words, style)| text::styled(words, style)));
    } else if lines.len() < usize::from(area.height) {
        lines.push(one_line(session, area.width));
    }
    lines
}

/// The meaning of the signs.
fn legend(session: &Session) -> Vec<(String, Style)> {
    let (look, signs) = (session.look(), session.look().signs());
    let mirrored = session.left_handed();
    let enter = signs.enter[usize::from(mirrored)];
    let mut legend = vec![
        (format!("{} needle comes out", signs.needle), look.quiet()),
        (format!("{} new bead", signs.new), look.seat()),
        (format!("{enter} go in here"), look.enter_sign()),
        ("[ ] pointed at".to_string(), look.seat()),
    ];
    if session.face.holes {
        let fills = HoleFill::ALL.map(|fill| {
            let words = format!("{} {}", fill.sign(), fill.name());
            (words, look.solid(fill.colour()))
        });
        return fills.to_vec();
    }
    if session.face.route {
        let [made, next] = signs.thread;
        legend.push((format!("{made} the thread as it lies"), look.quiet()));
        legend.push((format!("{next} its way on"), look.enter_sign()));
    }
    legend
}

fn one_line(session: &Session, width: u16) -> Line<'static> {
    let mut line = Line::default();
    let mut room = usize::from(width);
    for (words, style) in legend(session) {
        if words.width() + 3 > room {
            break;
        }
        room -= words.width() + 3;
        line.push_span(Span::styled(words, style));
        line.push_span("   ");
    }
    line
}

/// What the whole face shows.
const ABOUT: [&str; 4] = [
    "The whole face shows a panel as it lies on the mat, seen from outside. A solid bead is in place; one that is to \
     come is an outline, or where beads are small a faint grain. Numbers stand beside the sides. + makes beads larger \
     until each has its letter.",
    "The bead between [ ] is the one pointed at: by the arrows, by Tab along its round, or by a click. Below or beside the \
     face stand its round, side and place, its colour, its step, and how often the thread goes through it.",
    "h colours the beads in place by how full their holes are, each with its sign: . room for more passes, 1 one more \
     comfortable pass, t tight, X full. Go past a full bead, through the bead next to it.",
    "Enter goes to its step. That is a jump like any other: b leads back.",
];
