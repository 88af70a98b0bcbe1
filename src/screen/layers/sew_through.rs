//! Sewing through to a bead that is pointed at on the face, or typed.

use super::face::{along, point};
use crate::beadwork::amend::Amendment;
use crate::beadwork::movement::NEEDLEFUL;
use crate::beadwork::{Bead, Kind, Panel, Round, Side, Step, plural};
use crate::progress::MoveReason;
use crate::screen::face::{picture, touch};
use crate::screen::input::Input;
use crate::screen::layer::{Context as _, Flow, Layer, Opener, keys, opener};
use crate::screen::phrases::seat_words;
use crate::screen::session::Session;
use crate::screen::session::amend::cannot;
use crate::screen::widgets::{TextEntry, text};
use crate::tracking::count::numbers;
use glam::DVec2;
use ratatui::prelude::{Buffer, Line, Rect};

pub const OPENER: Opener<Session> =
    opener!(Session; "sew through" "" [] "" |_, session| open(session); SewThrough::table);

fn open(session: &mut Session) -> Flow<Session> {
    let done = session.done();
    session.face.go_to_needle(&session.seq, done);
    session.face.show_whole();
    Flow::open(SewThrough {
        entry: TextEntry::numbers(30),
    })
}

/// A bead is pointed at or typed, and the needle is taken there.
pub struct SewThrough {
    entry: TextEntry,
}

impl Layer<Session> for SewThrough {
    keys! { Session, "Sewing through to a bead" [entry mouse];
        sew "Enter" ["Enter sew through"] "the needle is sewn through to the bead pointed at, or the one that is typed; z takes it back"
        point_left "left" ["arrows bead"] "point at the bead to the left; a click of the mouse points at any bead" => |s| point(s, -DVec2::X);
        point_right "right" [] "point at the bead to the right" => |s| point(s, DVec2::X);
        point_up "up" [] "point at the bead above" => |s| point(s, DVec2::Y);
        point_down "down" [] "point at the bead below" => |s| point(s, -DVec2::Y);
        next_bead "Tab" ["Tab next"] "point at the next bead of the round, in working direction" => |s| along(s, true);
        bead_before "Shift-Tab" [] "point at the bead before it in the round" => |s| along(s, false);
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let asked = "Sew through to which bead?";
        let way = match self.bead(session) {
            Ok(bead) => way_words(session, bead),
            Err(why) => why,
        };
        vec![
            self.entry.line(session.look(), asked),
            Line::from(way),
            self.entry.below(TYPED),
        ]
    }

    fn is_box(&mut self) -> bool {
        false
    }

    fn mouse(&mut self, input: Input, session: &mut Session) {
        touch(session, input);
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let left = text::above(text::inset(area, 1), buf, self.lines(session));
        picture(session, left, buf);
    }
}

const TYPED: &str = "Or type its number, or round, side and bead, as 3 2 1; with the panel's number first for another \
                     panel, and without the side in a strip.";

/// Steps done after the step-up or step-down of a complete round.
fn after_turn(session: &Session) -> Step {
    let is_turn = |kind| matches!(kind, Kind::StepUp | Kind::StepDown);
    let turns = session.movement().is_some_and(|m| is_turn(m.kind));
    Step(session.done().0 + u32::from(turns))
}

/// How far it is, and to which bead.
fn way_words(session: &Session, bead: Bead) -> String {
    let seq = &session.seq;
    let seat = seat_words(seq, seq.layout().seat(bead));
    match seq.way_through(after_turn(session), bead) {
        Ok(way) => {
            let beads = plural(way.len(), "bead");
            format!("To {seat}: through {beads}, itself the last.")
        }
        Err(why) => format!("To {seat}: that cannot be: {why}."),
    }
}

impl SewThrough {
    /// The bead pointed at or typed.
    fn bead(&self, session: &Session) -> Result<Bead, String> {
        let layout = session.seq.layout();
        let numbers: Vec<u32> = numbers(&self.entry.typed).unwrap_or_default();
        let here = session.face.panel;
        let nowhere = || "There is no such bead.".to_string();
        // Makers count from 1.
        let (panel, round, side, place) = match *numbers.as_slice() {
            [] => {
                let pointed_at = session.face.at.map(|seat| layout.bead_in(seat));
                return pointed_at.ok_or_else(nowhere);
            }
            [bead] => {
                let is_there = (1..=layout.beads()).contains(&bead);
                return is_there.then_some(Bead(bead)).ok_or_else(nowhere);
            }
            [row, place] => (here, row, 1, place),
            [round, side, place] => (here, round, side, place),
            [panel, round, side, place] => {
                let panel = u16::try_from(panel.wrapping_sub(1)).unwrap_or(u16::MAX);
                (Panel(panel), round, side, place)
            }
            _ => return Err("Four numbers at the most, please.".into()),
        };
        let begun = || layout.begun_panels().any(|(begun, _)| begun == panel);
        if !begun() {
            return Err(nowhere());
        }
        let kind = layout.kind(panel);
        let side = u8::try_from(side.wrapping_sub(1)).unwrap_or(u8::MAX);
        let is_there = (1..=kind.rounds()).contains(&round)
            && side < kind.sides()
            && (1..=kind.on_side(Round(round), Side(side))).contains(&place);
        let seat = || layout.face_seat(panel, Round(round), Side(side), place - 1);
        is_there.then(|| layout.bead_in(seat())).ok_or_else(nowhere)
    }

    fn sew(&mut self, session: &mut Session) -> Flow<Session> {
        let sewn = self.bead(session).and_then(|bead| sewn(session, bead));
        match sewn {
            Ok(()) => Flow::Lowest,
            Err(why) => {
                self.entry.refuse(why);
                Flow::Stay
            }
        }
    }
}

/// Takes the needle to a bead; returns through which beads it went.
fn sewn(session: &mut Session, bead: Bead) -> Result<(), String> {
    let from = after_turn(session);
    let way = session.seq.way_through(from, bead);
    let steps = way.map_err(cannot)?.len().div_ceil(NEEDLEFUL) as u32;
    if from != session.done() {
        session.move_to(from.0, MoveReason::Forward);
    }
    session.change(Amendment::SewThrough(bead))?;
    let done = session.done().0;
    session.move_to(done + steps, MoveReason::Forward);
    let made = (done + 1..=done + steps).filter_map(|step| session.seq.step(Step(step)));
    let passed: Vec<String> = made.filter_map(|m| session.seq.say_passed(&m)).collect();
    session.say(format!("Sewn through {}.", passed.join(", ")));
    Ok(())
}
