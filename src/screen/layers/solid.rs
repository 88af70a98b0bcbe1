//! The whole solid: the picture, the current work on it, and the state of its
//! faces.

use crate::geometry::{FaceState, Standing};
use crate::picture::{self, View};
use crate::screen::layer::{Busy, Context as _, Flow, Layer, Opener, keys, opener};
use crate::screen::look::Look;
use crate::screen::session::Session;
use crate::screen::solid::{self, SolidView, view};
use crate::screen::widgets::{bold, rows, sections, text};
use ratatui::prelude::{Buffer, Line, Rect, Span, Style};

pub const OPENER: Opener<Session> = opener!(Session; "solid" "v" ["v solid"] "the whole solid: the piece in three dimensions, turned by keys, folded from its net, a ring turned through its cycle" |stack, session| open(!stack.is_lowest(), session); SolidScreen::table);

/// With fewer rows than this the current work gets one line, and nothing else
/// is said.
const ROOMY: u16 = 16;

fn open(from_face: bool, session: &mut Session) -> Flow<Session> {
    session.look_at_solid(from_face);
    Flow::open(SolidScreen)
}

/// The whole solid.
pub struct SolidScreen;

impl Layer<Session> for SolidScreen {
    keys! { Session, "The whole solid";
        turn_left "left" ["arrows turn"] "turn the piece to the left" => |s| turn(s, -1.0, 0.0);
        turn_right "right" [] "turn it to the right" => |s| turn(s, 1.0, 0.0);
        turn_up "up" [] "turn it up, away from you" => |s| turn(s, 0.0, -1.0);
        turn_down "down" [] "turn it down, towards you" => |s| turn(s, 0.0, 1.0);
        leave "Enter" [] "back to the stitches, or to the face" => |_| Flow::Close;
        play "space" ["space move"] "a ring turns through its cycle, any other piece unfolds or folds; press it again to stop" => |s| with(s, View::play);
        net "n" ["n net"] "unfold the piece to its flat net, or fold the net; sides with the same letter will meet" => |s| with(s, View::play_fold);
        move_on ". >" [] "a little on: the ring in its cycle, or the net in its folding" => |s| with(s, |solid| solid.move_by(1.0));
        move_back ", <" [] "a little back; a piece that is all folded begins to open" => |s| with(s, |solid| solid.move_by(-1.0));
        home "0 Home" [] "as it was at first: all of the piece, with what is worked in front" => |s| with(s, View::go_home);
        states "s" ["s finished"] "show the piece as it will be when finished, or how its faces stand now" => |s| with(s, View::switch_states);
        fine "i" [] "a fine picture while nothing moves, if the terminal shows pictures; again back to cells" => |s| s.turn_fine();
        nearer "+ =" ["+/- zoom"] "nearer, to what is worked" => |s| with(s, |solid| solid.zoom(true));
        farther "- _" [] "farther away" => |s| with(s, |solid| solid.zoom(false));
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let Some(solid) = &session.solid else {
            return vec![];
        };
        let standing = standing(session, &solid.view);
        let mut lines = vec![
            view::now(session, &solid.view, &standing),
            view::legend(&solid.view, &standing, true),
        ];
        lines.extend(view::cannot(solid));
        lines.extend(solid::meetings(&solid.view));
        lines.into_iter().map(Line::from).collect()
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let look = session.look();
        let Some(solid) = &session.solid else { return };
        let standing = standing(session, &solid.view);
        let below = below(session, solid, &standing, area);
        let space = picture_area(area, &below);
        let in_sight = picture(session, &solid.view, &standing, space, buf);
        let legend = view::legend(&solid.view, &standing, in_sight);
        let lines = below.into_iter().chain([(legend, look.quiet())]);
        for (y, (words, style)) in (space.height..).zip(lines) {
            text::line(text::inset(rows(area, y, 1), 1), buf, &words, style);
        }
    }

    fn about(&self, session: &Session) -> Vec<Line<'static>> {
        about(session.look())
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        let fine = Busy::waiting(session.fine.look());
        let moving = session
            .solid
            .as_ref()
            .is_some_and(|s| s.view.moving.is_some());
        if moving { Busy::Moving } else { fine }
    }

    fn frame(&mut self, session: &mut Session) {
        with(session, View::frame);
    }

    fn fine_area(&self, session: &Session, area: Rect) -> Option<Rect> {
        let solid = session.solid.as_ref()?;
        let standing = standing(session, &solid.view);
        Some(picture_area(area, &below(session, solid, &standing, area)))
    }
}

/// Does something with the solid; gives the message about it, if any.
fn with(session: &mut Session, act: impl FnOnce(&mut View) -> Option<String>) {
    if let Some(solid) = &mut session.solid
        && let Some(words) = act(&mut solid.view)
    {
        session.say(words);
    }
}

fn turn(session: &mut Session, across: f64, down: f64) {
    let hand = if session.left_handed() { -1.0 } else { 1.0 };
    with(session, |solid| solid.turn_by(hand * across, down));
}

/// What stands between the picture and its legend: what the picture cannot show,
/// and the current work.
fn below(
    session: &Session,
    solid: &SolidView,
    standing: &Standing,
    area: Rect,
) -> Vec<(String, Style)> {
    let look = session.look();
    let roomy = session.size.1 >= ROOMY;
    let note = view::cannot(solid).filter(|_| roomy);
    let mut lines: Vec<_> = note.into_iter().map(|note| (note, look.quiet())).collect();
    if solid.view.states {
        let now = view::now(session, &solid.view, standing);
        let rows = text::wrap(&now, area.width.saturating_sub(2)).into_iter();
        let most = if roomy { 2 } else { 1 };
        lines.extend(rows.take(most).map(|row| (row.into_owned(), look.seat())));
    }
    lines
}

fn picture_area(area: Rect, below: &[(String, Style)]) -> Rect {
    rows(area, 0, area.height.saturating_sub(below.len() as u16 + 1))
}

fn standing(session: &Session, view: &View) -> Standing {
    match view.states {
        true => session.standing(&view.body),
        false => Standing::finished(&session.seq, &view.body),
    }
}

/// Draws the picture; returns whether the current work is visible in it.
fn picture(
    session: &Session,
    view: &View,
    standing: &Standing,
    area: Rect,
    buf: &mut Buffer,
) -> bool {
    if area.is_empty() {
        return false;
    }
    let standing = view.states.then_some(standing);
    let seen = solid::draw_view(session, view, standing, area, buf);
    let worth = |spot| standing.map_or(0, |s| picture::weight(spot, s));
    seen.spots().any(|spot| worth(spot) > 0)
}

/// The meaning of the picture's signs and letters.
fn about(look: Look) -> Vec<Line<'static>> {
    let state = |state: FaceState| {
        let (sign, word) = solid::word(state);
        let means = match state {
            FaceState::Now => "it is worked now, or joined now; what is not made of it is grey",
            FaceState::Joined => "made, and joined on all sides that are to be joined",
            FaceState::Made => "made, and waiting to be joined; its colours are paler",
            FaceState::Open => "not made yet: its place is open, its colours are dark",
        };
        let word = Span::styled(format!("{sign} {word}: "), bold());
        Line::from(vec![word, Span::raw(means)])
    };
    sections(
        look.seat(),
        [
            ("Faces", FaceState::ALL.map(state).to_vec()),
            ("Sides", SIDES.map(Line::from).to_vec()),
        ],
    )
}

/// The meaning of the signs of sides.
const SIDES: [&str; 2] = [
    "The side that is joined now is bright, without colours a line of #. A side that waits for \
     its join is white, without colours a line of %. Without colours a face is filled with its sign, or \
     with the letters of its beads where they have room.",
    "Small letters stand on sides that will meet: a meets a, b meets b. A join that is closed \
     early has a letter early in the alphabet.",
];
