//! The loops of the full screen: wait for keys, do what they ask, record, and
//! only then paint, once.

use super::asking::Asking;
use super::error::Error;
use super::keys::{self, Action, Place};
use super::look::Look;
use super::session::{Effect, Leaving, Session};
use super::term::{Screen, Touch, Woken};
use super::view;
use super::view::tray::TrayView;
use crate::beadwork::Sequence;
use crate::progress::{Moment, Piece, Saved, Tray};
use std::time::{Duration, Instant};

/// How often the journal is looked after while nobody types.
const LOOK_AFTER: Duration = Duration::from_secs(1);

/// The same while something is worked out apart that the maker waits for.
const LOOK_APART: Duration = Duration::from_millis(50);

/// How long a frame stands while something moves of itself.
const FRAME: Duration = Duration::from_millis(40);

/// What the caller wants of the screen.
#[derive(Clone, Copy, Debug)]
pub struct Options {
    /// Colours and signs; [`Look::detect`] asks the environment.
    pub look: Look,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            look: Look::detect(),
        }
    }
}

/// How a sitting ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The maker wants to end.
    Quit,
    /// The maker wants to see the tray.
    Tray,
    /// The maker wants to take the beginner's tour.
    Tour,
    /// The system asked the program to end, or the terminal is gone.
    Ended,
}

/// A pattern that can be begun from the tray.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PatternOffer {
    /// What it is called.
    pub title: String,
    /// A few words about it.
    pub about: String,
}

/// What was chosen in the tray.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The piece of this name.
    Piece(String),
    /// The pattern offered at this place, from 0.
    Pattern(usize),
    /// The piece of the beginner's tour.
    Tour,
}

/// Opens the full screen on a piece, and puts the piece away at the end.
///
/// # Errors
/// [`Error::NotATerminal`], [`Error::Io`], or [`Error::NotKept`] if something
/// could not be written to the end.
pub fn stitch(seq: Sequence, piece: Piece, options: &Options) -> Result<Outcome, Error> {
    let mut screen = Screen::open().map_err(Error::opening)?;
    unless_gone(sitting(&mut screen, seq, piece, options))
}

/// A terminal that was closed is an end like any other: nobody is there to
/// read of an error.
fn unless_gone(outcome: Result<Outcome, Error>) -> Result<Outcome, Error> {
    #[cfg(unix)]
    if matches!(outcome, Err(Error::Io(_))) && super::signals::terminal_is_gone() {
        return Ok(Outcome::Ended);
    }
    outcome
}

/// Opens the full screen on the tray, and on the pieces chosen there. `open`
/// opens a piece, or begins one, or says why it cannot.
///
/// # Errors
/// As [`stitch`]; and when the tray cannot be read.
pub fn tray(
    tray: &Tray,
    patterns: &[PatternOffer],
    options: &Options,
    open: impl FnMut(Choice) -> Result<(Sequence, Piece), String>,
) -> Result<Outcome, Error> {
    let mut screen = Screen::open().map_err(Error::opening)?;
    unless_gone(tray_and_pieces(&mut screen, tray, patterns, options, open))
}

fn tray_and_pieces(
    screen: &mut Screen,
    tray: &Tray,
    patterns: &[PatternOffer],
    options: &Options,
    mut open: impl FnMut(Choice) -> Result<(Sequence, Piece), String>,
) -> Result<Outcome, Error> {
    let mut view = TrayView {
        patterns: patterns
            .iter()
            .map(|p| (p.title.clone(), p.about.clone()))
            .collect(),
        ..TrayView::default()
    };
    let mut next = None;
    loop {
        view.pieces = tray.pieces().map_err(Error::Tray)?;
        view.scroll(0);
        let choice = match next.take() {
            Some(choice) => choice,
            None => match choose(screen, &mut view, options)? {
                Some(choice) => choice,
                None => return Ok(Outcome::Quit),
            },
        };
        view.said.clear();
        match open(choice) {
            Ok((seq, piece)) => match sitting(screen, seq, piece, options) {
                Ok(Outcome::Tray) => view.at = 0,
                Ok(Outcome::Tour) => next = Some(Choice::Tour),
                Ok(outcome) => return Ok(outcome),
                Err(Error::NotKept(what)) => view.said = what.to_string(),
                Err(error) => return Err(error),
            },
            Err(why) => view.said = why,
        }
    }
}

/// One sitting at a piece.
fn sitting(
    screen: &mut Screen,
    seq: Sequence,
    piece: Piece,
    options: &Options,
) -> Result<Outcome, Error> {
    let mut session = Session::new(seq, piece, options.look, Moment::now());
    let outcome = keys_and_paint(screen, &mut session);
    let kept = session.piece.close(Moment::now());
    let left = outcome.and_then(|outcome| {
        screen.mouse(false)?;
        screen.picture(None)?;
        Ok(outcome)
    });
    kept.map_err(Error::NotKept)?;
    left
}

fn keys_and_paint(screen: &mut Screen, session: &mut Session) -> Result<Outcome, Error> {
    let mut bell = false;
    let mut last_frame = Instant::now();
    loop {
        let wait = match (session.look_apart(), session.moves()) {
            (_, true) => FRAME.saturating_sub(last_frame.elapsed()),
            (true, _) => LOOK_APART,
            (false, _) => LOOK_AFTER,
        };
        screen.mouse(session.takes_clicks())?;
        if session.asks_for_pictures() {
            screen.ask_for_pictures()?;
        }
        if session.wants_fine() {
            let place = view::fine_place(session, screen.area()?);
            session.refine(place, screen.points());
        }
        screen.picture(session.fine())?;
        screen.paint(|frame| {
            session.page = usize::from(frame.area().height.saturating_sub(5).max(1));
            session.set_width(view::plan::columns(frame.area().width));
            let area = frame.area();
            view::draw(session, area, frame.buffer_mut());
        })?;
        if std::mem::take(&mut bell) {
            screen.ring()?;
        }
        match screen.wait(wait)? {
            Woken::Input(keys) => {
                let mut keys = keys.into_iter();
                while let Some(touch) = keys.next() {
                    let key = match touch {
                        Touch::Key(key) => key,
                        Touch::Click(column, row) => {
                            session.click((column, row));
                            continue;
                        }
                        Touch::Drag(column, row) => {
                            session.drag((column, row));
                            continue;
                        }
                        Touch::Wheel(up) => {
                            session.wheel(up);
                            continue;
                        }
                        Touch::Pictures(can) => {
                            session.answered(can);
                            continue;
                        }
                    };
                    let Some(action) = keys::action(session.place(), &key) else {
                        continue;
                    };
                    let effect = session.apply(action, Moment::now());
                    bell |= effect.bell;
                    if let Some(outcome) = leaving(effect) {
                        screen.keep(keys);
                        return Ok(outcome);
                    }
                    if effect.suspend {
                        screen.suspend()?;
                    }
                }
            }
            Woken::Waited => {
                if session.piece.trouble().is_some() {
                    let (Saved::Written | Saved::Held | Saved::LookOnly) = session.piece.retry();
                }
            }
            Woken::Suspend => screen.suspend()?,
            Woken::End => return Ok(Outcome::Ended),
        }
        // However long a frame took to be sent, one frame follows it: a slow
        // terminal sees fewer of them, and no queue of old ones.
        if last_frame.elapsed() >= FRAME {
            session.frame();
            last_frame = Instant::now();
        }
    }
}

fn leaving(effect: Effect) -> Option<Outcome> {
    match effect.leave? {
        Leaving::Tray => Some(Outcome::Tray),
        Leaving::Quit => Some(Outcome::Quit),
        Leaving::Tour => Some(Outcome::Tour),
    }
}

/// What is chosen in the tray; `None` to end.
fn choose(
    screen: &mut Screen,
    view: &mut TrayView,
    options: &Options,
) -> Result<Option<Choice>, Error> {
    loop {
        let mut page = 1;
        let mut size = (80, 24);
        screen.paint(|frame| {
            size = (frame.area().width, frame.area().height);
            page = isize::from(frame.area().height.saturating_sub(4).max(1) as i16);
            let area = frame.area();
            view.draw(options.look, Moment::now(), area, frame.buffer_mut());
        })?;
        let keys = match screen.wait(60 * LOOK_AFTER)? {
            Woken::Input(keys) => keys,
            Woken::Waited => continue,
            Woken::Suspend => {
                screen.suspend()?;
                continue;
            }
            Woken::End => return Ok(None),
        };
        let mut keys = keys.into_iter();
        while let Some(touch) = keys.next() {
            let Touch::Key(key) = touch else { continue };
            let place = view.asking.as_ref().map_or(Place::Tray, Asking::place);
            let action = keys::action(place, &key);
            if let (Some(asking), Some(action)) = (&mut view.asking, action)
                && !matches!(action, Action::Quit | Action::Suspend)
            {
                if !asking.apply(action, page.unsigned_abs()) {
                    view.asking = None;
                }
                continue;
            }
            match action {
                Some(Action::Ask) => view.ask(options.look, Moment::now(), size),
                Some(Action::Tour) => {
                    screen.keep(keys);
                    return Ok(Some(Choice::Tour));
                }
                Some(Action::Up) => view.scroll(-1),
                Some(Action::Down) => view.scroll(1),
                Some(Action::PageUp) => view.scroll(-page),
                Some(Action::PageDown) => view.scroll(page),
                Some(Action::Quit) => return Ok(None),
                Some(Action::Suspend) => screen.suspend()?,
                Some(Action::Choose) if view.lines() > 0 => {
                    screen.keep(keys);
                    return Ok(Some(match view.pieces.get(view.at) {
                        Some(piece) => Choice::Piece(piece.name.clone()),
                        None => Choice::Pattern(view.at - view.pieces.len()),
                    }));
                }
                _ => {}
            }
        }
    }
}
