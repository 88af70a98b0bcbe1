//! Opens and begins pieces for the stitch-along.

use super::failure::Failure;
use super::shipped;
use super::source::{self, FoundPattern, Named};
use crate::beadwork::Sequence;
use crate::pattern;
use crate::progress::{Entry, Mode, Moment, Notice, Piece, PieceSummary, Setting, Tray, Value};
use std::path::Path;

/// A piece and its sequence of steps.
pub(super) type Opened = (Sequence, Piece);

/// How a piece is to be opened.
#[derive(Clone, Copy, Debug)]
pub(super) struct OpenOptions {
    /// To look only: nothing is written.
    pub(super) look: bool,
    /// A new piece, even if the pattern has an unfinished one.
    pub(super) new: bool,
}

impl OpenOptions {
    /// To continue, or to begin if there is no unfinished piece.
    pub(super) const WORK: OpenOptions = OpenOptions {
        look: false,
        new: false,
    };

    fn mode(self) -> Mode {
        match self.look {
            true => Mode::Look,
            false => Mode::Work,
        }
    }
}

/// The piece of this name; or else the unfinished piece worked on last of the
/// pattern of this name, or a new one. A piece of a pattern does not hide the
/// pattern of the same name.
///
/// # Errors
/// There is neither, or it cannot be opened, sewn or begun.
pub(super) fn named(tray: &Tray, name: &str, how: OpenOptions) -> Result<Opened, Failure> {
    if name == "-" {
        return Err(Failure::new(
            "the stitch-along takes its keys from standard input and reads no pattern there",
            "save the pattern in a file and name that",
        ));
    }
    if how.new {
        return of_pattern(tray, source::pattern(name)?, how);
    }
    if let Some(found) = source::shipped_pattern(name).filter(|_| !how.look)
        && let Some(of_it) = source::pieces_of(tray, name, &found)?
    {
        return one_of(tray, of_it, found, how);
    }
    match source::piece_or_pattern(tray, name, how.mode())? {
        Named::Piece(piece) => resume(*piece),
        Named::Pattern(found) => of_pattern(tray, *found, how),
    }
}

/// The unfinished piece of this pattern worked on last, or a new one.
fn of_pattern(tray: &Tray, found: FoundPattern, how: OpenOptions) -> Result<Opened, Failure> {
    if how.new {
        return begin(tray, found, how);
    }
    let of_it = tray
        .pieces()?
        .into_iter()
        .filter(source::is_of(&found))
        .collect();
    one_of(tray, of_it, found, how)
}

/// The first unfinished one of the pieces of a pattern, or a new one.
fn one_of(
    tray: &Tray,
    pieces: Vec<PieceSummary>,
    found: FoundPattern,
    how: OpenOptions,
) -> Result<Opened, Failure> {
    let unfinished = pieces.into_iter().filter(|piece| !piece.finished);
    let mut names = unfinished.map(|piece| piece.name);
    let Some(last) = names.next() else {
        return begin(tray, found, how);
    };
    let (seq, mut opened) = piece(tray, &last, how)?;
    let others: Vec<String> = names.collect();
    if !others.is_empty() {
        let piece = last;
        opened.notify(Notice::LastOfSeveral { piece, others });
    }
    Ok((seq, opened))
}

/// The piece of this name in the tray.
///
/// # Errors
/// It cannot be opened or sewn.
pub(super) fn piece(tray: &Tray, name: &str, how: OpenOptions) -> Result<Opened, Failure> {
    resume(tray.open_piece(name, how.mode(), Moment::now())?)
}

/// The demo piece worked on last that is not finished, or a new one.
///
/// # Errors
/// The tray cannot be read, or the piece cannot be opened or begun.
pub(super) fn demo(tray: &Tray, how: OpenOptions) -> Result<Opened, Failure> {
    of_pattern(tray, source::pattern(shipped::DEMO)?, how)
}

/// The piece of the beginner's tour worked on last that is not finished, or a
/// new one.
///
/// # Errors
/// As [`demo`].
pub(super) fn tour(tray: &Tray) -> Result<Opened, Failure> {
    of_pattern(tray, source::pattern(shipped::TOUR)?, OpenOptions::WORK)
}

/// Imports a piece from a file that `export` made, after checking all of it.
/// Returns its name in the tray.
///
/// # Errors
/// Something in the file is wrong; the tray stays as it was.
pub(super) fn import(tray: &Tray, file: &Path) -> Result<String, Failure> {
    tray.import(file, Moment::now(), |piece| {
        let shown = format!("{} (its pattern)", file.display());
        let pattern = pattern::read(&shown, piece.pattern())?;
        Ok(piece.resume(pattern.project, &[]).steps())
    })
}

fn resume(mut piece: Piece) -> Result<Opened, Failure> {
    Ok((source::of_piece(&mut piece)?, piece))
}

/// Begins a new piece; one that is only looked at is not saved.
///
/// # Errors
/// The tray cannot be written.
pub(super) fn begin(tray: &Tray, found: FoundPattern, how: OpenOptions) -> Result<Opened, Failure> {
    let FoundPattern {
        pattern,
        bytes,
        file,
    } = found;
    let seq = Sequence::new(pattern.project);
    // Its steps are counted once it is planned, which the first picture does not wait for.
    let (title, steps, now) = (&pattern.title, None, Moment::now());
    let mut piece = match how.look {
        true => Piece::in_memory(title, &bytes, steps, now),
        false => tray.begin(title, &bytes, file.as_deref(), steps, now)?,
    };
    if file.is_none() && shipped::is_practice(&bytes) {
        // If this cannot be written, the piece tries again, and the screen says
        // so.
        let _ = piece.record(Entry::set(Setting::TOUR, Value::Flag(true), now));
    }
    Ok((seq, piece))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::Bead;
    use crate::progress::{MoveReason, Saved};
    use tempfile::TempDir;

    fn tray() -> (TempDir, Tray) {
        let dir = TempDir::new().unwrap();
        let tray = Tray::open(dir.path());
        (dir, tray)
    }

    fn names(tray: &Tray) -> Vec<String> {
        let pieces = tray.pieces().unwrap().into_iter();
        let mut names: Vec<String> = pieces.map(|piece| piece.name).collect();
        names.sort();
        names
    }

    fn work(tray: &Tray, opened: Opened, step: u32) {
        let (seq, mut piece) = opened;
        // As a sitting does once the piece is planned.
        piece.set_steps(seq.steps());
        let now = Moment::now();
        let saved = piece.record(Entry::to(step, MoveReason::Jump, now));
        assert_eq!(saved, Saved::Written);
        piece.close(now).unwrap();
        assert!(!names(tray).is_empty());
    }

    const NEW: OpenOptions = OpenOptions {
        look: false,
        new: true,
    };

    #[test]
    fn the_demo_continues_until_it_is_finished() {
        let (_dir, tray) = tray();
        work(&tray, demo(&tray, OpenOptions::WORK).unwrap(), 5);
        let (seq, again) = demo(&tray, OpenOptions::WORK).unwrap();
        assert_eq!(again.state().step, 5);
        let steps = seq.steps();
        work(&tray, (seq, again), steps);
        let (_, fresh) = demo(&tray, OpenOptions::WORK).unwrap();
        assert_eq!(fresh.state().step, 0);
        assert_eq!(names(&tray).len(), 2);
    }

    #[test]
    fn the_tour_is_on_in_practice_pieces_from_the_first_step() {
        let (dir, tray) = tray();
        let is_on = |name: &str, look| {
            let how = OpenOptions { look, new: true };
            let (_, piece) = named(&tray, name, how).unwrap();
            piece.state().settings.is_on(Setting::TOUR)
        };
        for name in shipped::names() {
            assert_eq!(is_on(name, false), name.starts_with("practice-"), "{name}");
        }
        assert!(is_on(shipped::TOUR, true), "to look at as well");
        // A maker's own file of the same kind is left alone.
        let file = dir.path().join("mine.json");
        std::fs::write(&file, shipped::bytes(shipped::TOUR).unwrap()).unwrap();
        assert!(!is_on(file.to_str().unwrap(), false));
    }

    #[test]
    fn the_tour_continues() {
        let (_dir, tray) = tray();
        work(&tray, super::tour(&tray).unwrap(), 7);
        let (_, again) = super::tour(&tray).unwrap();
        assert_eq!(again.state().step, 7);
    }

    #[test]
    fn a_pattern_with_the_title_of_the_demo_is_not_the_demo() {
        let (dir, tray) = tray();
        let file = dir.path().join("mine.json");
        std::fs::write(&file, shipped::bytes(shipped::DEMO).unwrap()).unwrap();
        let mine = named(&tray, file.to_str().unwrap(), OpenOptions::WORK).unwrap();
        work(&tray, mine, 3);
        let (_, piece) = demo(&tray, OpenOptions::WORK).unwrap();
        assert_eq!(piece.state().step, 0);
    }

    #[test]
    fn a_name_means_a_piece_first_unless_a_new_one_is_wanted() {
        let (_dir, tray) = tray();
        work(&tray, demo(&tray, OpenOptions::WORK).unwrap(), 7);
        let name = names(&tray).remove(0);
        let (_, piece) = named(&tray, &name, OpenOptions::WORK).unwrap();
        assert_eq!(piece.state().step, 7);
        drop(piece);
        let (_, piece) = named(&tray, shipped::DEMO, NEW).unwrap();
        assert_eq!(piece.state().step, 0);
    }

    #[test]
    fn a_pattern_continues_with_its_unfinished_piece_worked_on_last() {
        let (dir, tray) = tray();
        let file = dir.path().join("mine.json");
        std::fs::write(&file, shipped::bytes(shipped::DEMO).unwrap()).unwrap();
        for name in [file.to_str().unwrap(), shipped::TOUR] {
            let step = |how| named(&tray, name, how).unwrap().1.state().step;
            work(&tray, named(&tray, name, OpenOptions::WORK).unwrap(), 7);
            assert_eq!(step(OpenOptions::WORK), 7);
            work(&tray, named(&tray, name, NEW).unwrap(), 9);
            assert_eq!(step(OpenOptions::WORK), 9, "the one worked on last");
            let (seq, piece) = named(&tray, name, OpenOptions::WORK).unwrap();
            let steps = seq.steps();
            work(&tray, (seq, piece), steps);
            assert_eq!(step(OpenOptions::WORK), 7, "the other is finished");
            assert_eq!(step(NEW), 0);
        }
    }

    #[test]
    fn of_two_pieces_of_a_pattern_its_name_means_the_one_worked_on_last() {
        let (_dir, tray) = tray();
        let opened = |name: &str| named(&tray, name, OpenOptions::WORK).unwrap().1;
        work(&tray, named(&tray, shipped::DEMO, NEW).unwrap(), 7);
        assert!(opened(shipped::DEMO).notices().is_empty());
        work(&tray, named(&tray, shipped::DEMO, NEW).unwrap(), 9);
        for name in [shipped::DEMO, "Harbour lantern"] {
            let piece = opened(name);
            assert_eq!((piece.name(), piece.state().step), ("harbour-lantern-2", 9));
            assert_eq!(
                piece.notices()[0].to_string(),
                "this is 'harbour-lantern-2', worked on last. 'harbour-lantern' is begun too: open it \
                 from the tray (t), or give it another name with `threadmark pieces rename`"
            );
        }
        work(&tray, named(&tray, shipped::DEMO, NEW).unwrap(), 11);
        let said = opened(shipped::DEMO).notices()[0].to_string();
        let others = "'harbour-lantern-2' and 'harbour-lantern' are begun too: open one of them";
        assert!(said.contains(others), "{said}");
        tray.rename(shipped::DEMO, "The first one").unwrap();
        assert_eq!(opened("the-first-one").state().step, 7);
        // A piece of another pattern keeps its name for itself.
        let other = named(&tray, "flat-hexagon", NEW).unwrap();
        let name = other.1.name().to_string();
        work(&tray, other, 3);
        tray.rename(&name, "Night kite").unwrap();
        for name in ["night-kite", "Night kite"] {
            assert_eq!(opened(name).state().step, 3);
        }
    }

    #[test]
    fn a_finished_piece_does_not_hide_the_pattern_of_the_same_name() {
        let (_dir, tray) = tray();
        let (seq, piece) = named(&tray, shipped::DEMO, OpenOptions::WORK).unwrap();
        let steps = seq.steps();
        assert_eq!(piece.name(), shipped::DEMO);
        work(&tray, (seq, piece), steps);
        let look = OpenOptions {
            look: true,
            ..OpenOptions::WORK
        };
        let step = |how| named(&tray, shipped::DEMO, how).unwrap().1.state().step;
        assert_eq!(step(look), steps);
        assert_eq!(step(OpenOptions::WORK), 0);
    }

    /// A panel that is the same on every side may be turned to suit the needle.
    /// Paint on one side must not turn a panel that is partly sewn.
    #[test]
    fn no_step_moves_when_a_painted_piece_is_opened_again() {
        let (_dir, tray) = tray();
        let (seq, mut piece) = demo(&tray, OpenOptions::WORK).unwrap();
        let paint = Entry::paint("wall", "1", "N* / N* / S*", Moment::now());
        assert_eq!(piece.record(paint), Saved::Written);
        drop(piece);
        let (again, piece) = demo(&tray, OpenOptions::WORK).unwrap();
        assert_eq!(piece.state().painting().count(), 1);
        assert!(again.iter().eq(seq.iter()));
        let colours = |seq: &Sequence| [1, 2, 3].map(|b| seq.layout().colour(Bead(b)));
        assert_ne!(colours(&again), colours(&seq));
    }

    #[test]
    fn looking_at_a_pattern_leaves_the_tray_as_it_is() {
        let (_dir, tray) = tray();
        let look = OpenOptions {
            look: true,
            ..OpenOptions::WORK
        };
        named(&tray, shipped::DEMO, look).unwrap();
        assert_eq!(names(&tray), Vec::<String>::new());
    }
}
