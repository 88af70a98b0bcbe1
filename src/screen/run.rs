//! The loop of the full screen: wait for input, let the top layer do what it
//! asks, and only then paint, once.

use super::layer::{Busy, Choice, Context, Exit};
use super::layers::{self, LookAt, TakeIn, TrayList, TrayState, free_asked};
use super::look::Look;
use super::session::Session;
use super::speech::Speech;
use super::stack::Stack;
use super::terminal::{Input, Screen, ScreenEvent};
use crate::beadwork::Sequence;
use crate::progress::{self, Moment, Piece, Settings, Tray, paths};
use std::io;
use std::time::{Duration, Instant};

/// How often the journal is checked while nobody types.
const LOOK_AFTER: Duration = Duration::from_secs(1);

/// The same while the maker waits for something in the background.
const LOOK_APART: Duration = Duration::from_millis(50);

/// How long a frame stays while something moves automatically.
const FRAME: Duration = Duration::from_millis(40);

/// What the caller can set for the screen.
#[derive(Clone, Debug)]
pub struct Options {
    /// Colours and signs; [`Look::detect`] finds them in the environment.
    pub look: Look,
    /// Whether the terminal is asked for its background.
    pub asks_for_ground: bool,
    /// The command of a speech program that says everything aloud.
    pub say: Option<String>,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            look: Look::detect(),
            asks_for_ground: true,
            say: None,
        }
    }
}

/// A pattern that can be begun from the tray.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PatternOffer {
    /// Its title.
    pub title: String,
    /// A few words about it.
    pub about: String,
}

/// Why a sitting failed.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// Input or output is not a terminal.
    #[error(
        "input or output is not a terminal, and the full screen needs one: use the plain mode, \
         which prints one line a step"
    )]
    NotATerminal,
    /// The terminal, or the input or output of the plain mode, failed.
    #[error("the terminal failed: {0}")]
    Io(#[from] io::Error),
    /// The tray cannot be read.
    #[error(transparent)]
    Tray(progress::Error),
    /// Some of the last steps could not be saved.
    #[error("the last steps were not kept: {0}")]
    NotSaved(progress::NotSaved),
}

/// Opens the full screen on a piece, and closes the piece at the end.
///
/// # Errors
/// [`Error::NotATerminal`], [`Error::Io`], or [`Error::NotSaved`] if something
/// could not be saved by the end.
pub fn stitch(seq: Sequence, piece: Piece, options: &Options) -> Result<Exit, Error> {
    let mut screen = open_screen(options)?;
    unless_gone(sitting(&mut screen, seq, piece, options))
}

/// Takes the terminal.
fn open_screen(options: &Options) -> Result<Screen, Error> {
    let mut screen = Screen::open().map_err(|error| match error.kind() {
        io::ErrorKind::Unsupported => Error::NotATerminal,
        _ => Error::Io(error),
    })?;
    // The Linux console may print what it does not know.
    #[cfg(unix)]
    if options.asks_for_ground && std::env::var_os("TERM").is_none_or(|term| term != "linux") {
        screen.ask_for_ground()?;
    }
    screen.speech = options.say.as_deref().map(Speech::new);
    Ok(screen)
}

/// A terminal that was closed is a normal end: nobody is there to read an
/// error.
fn unless_gone(outcome: Result<Exit, Error>) -> Result<Exit, Error> {
    #[cfg(unix)]
    if matches!(outcome, Err(Error::Io(_))) && super::signals::terminal_is_gone() {
        return Ok(Exit::Ended);
    }
    outcome
}

/// Opens the full screen on the tray, and on the pieces chosen there. `open`
/// opens or begins a piece, or says why it cannot; `take_in` takes in a piece
/// from a file, and `look_at` reads one for its picture. `asks` asks for a
/// piece without a pattern first, for one of that name if it has one.
///
/// # Errors
/// As [`stitch`]; and when the tray cannot be read.
pub fn tray(
    tray: &Tray,
    patterns: Vec<PatternOffer>,
    options: &Options,
    (take_in, look_at): (TakeIn, LookAt),
    asks: Option<Option<String>>,
    open: impl FnMut(Choice) -> Result<(Sequence, Piece), String>,
) -> Result<Exit, Error> {
    let mut screen = open_screen(options)?;
    let state = TrayState {
        tray: tray.clone(),
        take_in,
        look_at,
        pieces: vec![],
        away: vec![],
        patterns,
        said: String::new(),
        now: Moment::now(),
        look: options.look,
        settings_file: paths::settings_file(),
        settings: Settings::default(),
    };
    unless_gone(tray_and_pieces(&mut screen, state, (options, asks), open))
}

fn tray_and_pieces(
    screen: &mut Screen,
    mut state: TrayState,
    (options, mut asks): (&Options, Option<Option<String>>),
    mut open: impl FnMut(Choice) -> Result<(Sequence, Piece), String>,
) -> Result<Exit, Error> {
    let mut next = None;
    loop {
        state.read().map_err(Error::Tray)?;
        state.look = screen.look(state.look);
        let choice = match next.take() {
            Some(choice) => choice,
            None => {
                let mut stack = Stack::new(TrayList::new(&state));
                if let Some(name) = asks.take() {
                    stack.open(free_asked(name));
                }
                let exit = run(screen, &mut stack, &mut state)?;
                screen.ground = Some(state.look.ground);
                match exit {
                    Exit::Open(choice) => choice,
                    _ => return Ok(Exit::Quit),
                }
            }
        };
        match open(choice) {
            Ok((seq, piece)) => match sitting(screen, seq, piece, options) {
                Ok(Exit::Tray) => state.said.clear(),
                Ok(Exit::Open(choice)) => next = Some(choice),
                Ok(exit) => return Ok(exit),
                Err(Error::NotSaved(what)) => state.said = what.to_string(),
                Err(error) => return Err(error),
            },
            Err(why) => state.said = why,
        }
    }
}

/// One sitting at a piece.
fn sitting(
    screen: &mut Screen,
    seq: Sequence,
    piece: Piece,
    options: &Options,
) -> Result<Exit, Error> {
    let mut session = Session::new(seq, piece, screen.look(options.look), Moment::now());
    let mut stack = layers::sitting(&session);
    let exit = run(screen, &mut stack, &mut session);
    screen.ground = Some(session.look().ground);
    let kept = session.close(Moment::now());
    let left = exit.and_then(|exit| {
        screen.mouse(false)?;
        screen.picture(None)?;
        Ok(exit)
    });
    kept.map_err(Error::NotSaved)?;
    left
}

/// Runs a stack until it is left.
fn run<C: Context>(
    screen: &mut Screen,
    stack: &mut Stack<C>,
    context: &mut C,
) -> Result<Exit, Error> {
    let mut last_frame = Instant::now();
    let mut pressed = None;
    // The first picture waits for nothing that is worked out in the background.
    screen.paint(|buf| stack.draw(context, buf.area, buf))?;
    loop {
        let wait = match stack.tick(context) {
            Busy::Moving => FRAME.saturating_sub(last_frame.elapsed()),
            Busy::Waiting => LOOK_APART,
            Busy::No => LOOK_AFTER,
        };
        screen.mouse(stack.top().takes_mouse())?;
        let is_fine = context.session().is_some_and(|s| s.wants_fine_picture());
        let area = match is_fine {
            true => stack.fine_area(context, screen.area()?),
            false => None,
        };
        let points = area.map_or((1, 1), |_| screen.points());
        if let Some(session) = context.session() {
            if session.fine.is_unsure() {
                screen.ask_for_pictures()?;
            }
            screen.picture(session.refine(area, points))?;
        }
        screen.paint(|buf| stack.draw(context, buf.area, buf))?;
        if let Some(session) = context.session() {
            session.piece.sync();
            if std::mem::take(&mut session.bell) {
                screen.ring()?;
            }
        }
        if let Some(speech) = &mut screen.speech {
            speech.tell(stack.spoken(context), stack.is_lowest())?;
        }
        // The same key is often pressed again.
        if let Some(key) = pressed.take().filter(|_| stack.is_lowest()) {
            let frame = screen.area()?;
            let session = context.session();
            if let Some(frame) = session.and_then(|session| session.frame_after(key, frame)) {
                screen.draw_ahead(key, frame)?;
            }
        }
        match screen.wait(wait)? {
            ScreenEvent::Input(input) => {
                pressed = match input[..] {
                    [Input::Key(key)] if stack.is_lowest() => Some(key),
                    _ => None,
                };
                let mut input = input.into_iter();
                while let Some(touch) = input.next() {
                    match stack.handle(context, touch, Moment::now()) {
                        None => {}
                        Some(Exit::Suspend) => screen.suspend()?,
                        Some(exit) => {
                            screen.keep(input);
                            return Ok(exit);
                        }
                    }
                }
                let trouble = context.session().and_then(|s| s.piece.trouble());
                let is_kept = stack.is_lowest() && trouble.is_none();
                screen.paint_ahead(pressed.filter(|_| is_kept))?;
            }
            ScreenEvent::Waited => {
                if let Some(session) = context.session() {
                    session.try_again();
                }
            }
            #[cfg(unix)]
            ScreenEvent::Suspend => screen.suspend()?,
            #[cfg(unix)]
            ScreenEvent::End => return Ok(Exit::Ended),
        }
        // However long it takes to send a frame, one frame follows: a slow
        // terminal shows fewer of them, and old ones never queue up.
        if last_frame.elapsed() >= FRAME {
            stack.top_mut().frame(context);
            last_frame = Instant::now();
        }
    }
}
