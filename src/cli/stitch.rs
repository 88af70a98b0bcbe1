//! `stitch`, and the program without a command: the stitch-along and the tray.

use std::io::{self, IsTerminal, Write as _};
use std::path::Path;

use super::CommandEnd;
use super::args::{self, ColourDepth, GroundArg, ScreenOptions};
use super::failure::Failure;
use super::open::{self, OpenOptions, Opened};
use super::{free, out, shipped, source};
use crate::beadwork::{Sequence, Step};
use crate::plain_file;
use crate::progress::{Entry, MakerSettings, Mode, Moment, Tray, paths};
use crate::screen::{self, Aloud, Choice, Depth, Exit, Ground, Look, PatternOffer, Speech};

/// Runs `stitch`.
///
/// # Errors
/// There is no terminal, or the piece cannot be found, opened or saved.
pub(super) fn run(
    args: &args::StitchArgs,
    tray: &Tray,
    options: ScreenOptions,
) -> Result<CommandEnd, Failure> {
    let how = OpenOptions {
        look: args.look,
        new: args.new,
    };
    let options = &checked(options)?;
    if args.free {
        return free_piece(tray, args, options);
    }
    let opened = match &args.name {
        Some(name) => open::named(tray, name, how)?,
        None => open::demo(tray, how)?,
    };
    stitch(tray, opened, options)
}

/// Stitches a piece without a pattern. Asks what it begins with if the command
/// line does not say it.
fn free_piece(
    tray: &Tray,
    args: &args::StitchArgs,
    options: &ScreenOptions,
) -> Result<CommandEnd, Failure> {
    let start = match free::request(tray, args)? {
        free::FreeRequest::Continue(name) => {
            return stitch(tray, open::piece(tray, &name, OpenOptions::WORK)?, options);
        }
        free::FreeRequest::Begin(start) => start,
        free::FreeRequest::Ask(name) if options.plain => {
            let speech = options.say.as_deref().map(Speech::new);
            let mut out = Aloud::new(io::stdout().lock(), speech);
            match screen::asked_plainly(tray, name, &mut io::stdin().lock(), &mut out)? {
                Some(start) => start,
                None => return Ok(CommandEnd::Done),
            }
        }
        free::FreeRequest::Ask(name) => {
            return show_tray(tray, options, Some(name));
        }
    };
    stitch(tray, free::begin(tray, &start)?, options)
}

/// Runs the program without a command: the tray, or the demo piece if the tray
/// is empty.
///
/// # Errors
/// As [`run`], or the tray cannot be read.
pub(super) fn no_command(tray: &Tray, options: ScreenOptions) -> Result<CommandEnd, Failure> {
    let options = &checked(options)?;
    let pieces = tray.pieces()?;
    if pieces.is_empty() {
        return stitch(tray, open::demo(tray, OpenOptions::WORK)?, options);
    }
    if options.plain {
        return out::print(|out| {
            super::pieces::text(&pieces, out)?;
            Ok(writeln!(
                out,
                "`threadmark stitch PIECE --plain` goes on with one."
            )?)
        });
    }
    show_tray(tray, options, None)
}

/// Checks that there is a terminal before anything is begun or written, and
/// fills in from the maker's settings what the command line does not say. A
/// terminal that cannot move its cursor gets the plain mode.
fn checked(mut options: ScreenOptions) -> Result<ScreenOptions, Failure> {
    let is_from_settings = options.say.is_none();
    if let Some(maker) = maker_settings()? {
        options.say = options.say.or_else(|| {
            maker
                .text("say")
                .filter(|say| !say.is_empty())
                .map(String::from)
        });
        options.ground = options.ground.or(match maker.text("ground") {
            Some("light") => Some(GroundArg::Light),
            Some("dark") => Some(GroundArg::Dark),
            _ => None,
        });
    }
    options.plain |= std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    if let Some(command) = &options.say {
        let program = command.split_whitespace().next().unwrap_or_default();
        if let Err(error) = Speech::new(command).try_out() {
            let why = plain_file::reason(&error);
            let what = format!("the speech program '{program}' cannot be started: {why}");
            if !is_from_settings {
                return Err(Failure::new(
                    what,
                    "give the command of one that is installed and reads what it says from standard input",
                ));
            }
            // A setting that no longer works must not keep a maker from the
            // piece.
            let mend = "nothing is read aloud, and `s` sets another";
            let _ = writeln!(io::stderr(), "note: {what}; {mend}");
            options.say = None;
        }
    }
    if options.plain {
        return Ok(options);
    }
    let ends = [
        (io::stdin().is_terminal(), "standard input"),
        (io::stdout().is_terminal(), "standard output"),
    ];
    match ends.into_iter().find(|(is_terminal, _)| !is_terminal) {
        Some((_, what)) => Err(Failure::no_terminal(what)),
        None => Ok(options),
    }
}

/// Stitches a piece until the maker quits, and shows the tray if the maker goes
/// there.
fn stitch(tray: &Tray, mut opened: Opened, options: &ScreenOptions) -> Result<CommandEnd, Failure> {
    apply_options(&mut opened, options)?;
    let piece = &opened.1;
    let name = piece.dir().is_some().then(|| piece.name().to_string());
    let ended = match options.plain {
        true => {
            let speech = options.say.as_deref().map(Speech::new);
            let out = Aloud::new(io::stdout().lock(), speech);
            screen::plain(opened.0, opened.1, io::stdin().lock(), out)?
        }
        false => screen::stitch(opened.0, opened.1, &look(options))?,
    };
    match ended {
        Exit::Open(_) => stitch(tray, open::tour(tray)?, options),
        Exit::Tray => show_tray(tray, options, None),
        Exit::Quit | Exit::Suspend => match name {
            Some(name) => print_farewell(tray, &name),
            None => Ok(CommandEnd::Done),
        },
        Exit::Ended => Ok(CommandEnd::Done),
    }
}

/// Shows the tray, and stitches the pieces that are chosen there; may begin by
/// asking about a free piece.
fn show_tray(
    tray: &Tray,
    options: &ScreenOptions,
    asks: Option<Option<String>>,
) -> Result<CommandEnd, Failure> {
    let names = shipped::EASIEST_FIRST;
    let mut offers = Vec::with_capacity(names.len());
    for name in names {
        let pattern = source::pattern(name)?.pattern;
        offers.push(PatternOffer {
            title: pattern.title,
            about: pattern.about,
        });
    }
    let import = |tray: &Tray, file: &Path| open::import(tray, file).map_err(|f| f.one_line());
    screen::tray(
        tray,
        offers,
        &look(options),
        (import, look_at),
        asks,
        |choice| {
            let opened = match choice {
                Choice::Tour => open::tour(tray),
                Choice::Piece(name) => open::piece(tray, &name, OpenOptions::WORK),
                Choice::Free(start) => free::begin(tray, &start),
                Choice::Pattern(at) => source::pattern(names[at])
                    .and_then(|found| open::begin(tray, found, OpenOptions::WORK)),
            };
            let mut opened = opened.map_err(|failure| failure.one_line())?;
            apply_options(&mut opened, options).map_err(|failure| failure.one_line())?;
            Ok(opened)
        },
    )?;
    Ok(CommandEnd::Done)
}

/// The sequence of a line of the tray and its steps done, for the picture.
fn look_at(tray: &Tray, choice: Choice) -> Option<(Sequence, Option<Step>)> {
    const LOOK: OpenOptions = OpenOptions {
        look: true,
        new: false,
    };
    match choice {
        Choice::Piece(name) => {
            let (seq, piece) = open::piece(tray, &name, LOOK).ok()?;
            let done = Step(piece.state().step);
            Some((seq, Some(done)))
        }
        Choice::Pattern(at) => {
            let pattern = source::pattern(shipped::EASIEST_FIRST.get(at)?)
                .ok()?
                .pattern;
            Some((Sequence::new(pattern.project), None))
        }
        Choice::Tour | Choice::Free(_) => None,
    }
}

/// The maker's settings, if the platform has a directory for them.
///
/// # Errors
/// They cannot be read.
fn maker_settings() -> Result<Option<MakerSettings>, Failure> {
    let file = paths::settings_file();
    Ok(file.map(|file| MakerSettings::open(&file)).transpose()?)
}

/// Applies the maker's settings, and what the command line asks for, which the
/// piece remembers.
///
/// # Errors
/// The maker's settings cannot be read.
fn apply_options((_, piece): &mut Opened, options: &ScreenOptions) -> Result<(), Failure> {
    if let Some(maker) = maker_settings()? {
        piece.use_maker_settings(maker);
    }
    if options.left_handed && !piece.state().settings.left_handed() {
        // If this cannot be written, the piece tries again, and the screen says
        // so.
        let _ = piece.record(Entry::left_handed(true, Moment::now()));
    }
    Ok(())
}

fn look(options: &ScreenOptions) -> screen::Options {
    let detected = Look::detect();
    let depth = match options.colour {
        ColourDepth::Auto => detected.depth,
        ColourDepth::True => Depth::True,
        ColourDepth::Fixed => Depth::Indexed,
        ColourDepth::Basic => Depth::Sixteen,
        ColourDepth::None => Depth::None,
    };
    let ground = match options.ground {
        Some(GroundArg::Light) => Ground::Light,
        Some(GroundArg::Dark) | None => Ground::Dark,
    };
    screen::Options {
        look: Look {
            depth,
            ground,
            ..detected
        },
        asks_for_ground: options.ground.is_none() && depth != Depth::None,
        say: options.say.clone(),
    }
}

/// Prints at the end how far the piece is, and how to continue it.
fn print_farewell(tray: &Tray, name: &str) -> Result<CommandEnd, Failure> {
    let piece = tray.open_piece(name, Mode::Look, Moment::now())?;
    let (title, done) = (piece.title().clone(), piece.state().step);
    out::print(|out| {
        match piece.steps() {
            Some(steps) if done >= steps => {
                writeln!(
                    out,
                    "{title} is finished.\n\
                     `threadmark stitch {name} --look` shows it; `threadmark` opens the tray."
                )?;
                return Ok(());
            }
            Some(steps) => writeln!(out, "{title} rests after step {done} of {steps}.")?,
            None => writeln!(out, "{title} rests after step {done}.")?,
        }
        writeln!(
            out,
            "`threadmark stitch {name}` goes on with it; `threadmark` opens the tray."
        )?;
        Ok(())
    })
}
