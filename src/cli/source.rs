//! Where a pattern comes from: a file, standard input, the program itself, or
//! a piece of the tray that has its own copy.

use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::shipped;
use crate::beadwork::{Project, Sequence, Step};
use crate::pattern::{self, Pattern, limit};
use crate::plain_file;
use crate::problem::nearest;
use crate::progress::{self, Mode, Moment, Piece, Tray};

/// A pattern that was found and read.
#[derive(Debug)]
pub(super) struct FoundPattern {
    pub(super) pattern: Pattern,
    /// Its bytes as they were read, for a piece to keep.
    pub(super) bytes: Vec<u8>,
    /// Its file, unless it came with the program.
    pub(super) file: Option<PathBuf>,
}

/// The work of a pattern, and how far its piece has come.
pub(super) struct PatternAt {
    /// The title of the pattern or the piece.
    pub(super) title: String,
    /// What the pattern says about itself.
    pub(super) about: String,
    pub(super) seq: Sequence,
    /// The last step done, where a piece was named.
    pub(super) at: Option<Step>,
}

/// Finds and reads the pattern of this name: `-` is standard input, a name
/// with a separator or with `.json` at its end a file, another one the name or
/// the title of a pattern that comes with the program, or else a file after all.
///
/// # Errors
/// It cannot be found, read, or sewn.
pub(super) fn pattern(name: &str) -> Result<FoundPattern, Failure> {
    match find(name)? {
        Some(found) => Ok(found),
        None => Err(Failure::new(
            format!("no pattern '{name}' comes with threadmark, and there is no such file"),
            match nearest(name, shipped::names()) {
                Some(near) => format!("did you mean '{near}'?"),
                None => format!("name a pattern file, or one of: {}", patterns()),
            },
        )),
    }
}

/// The pattern of this name; none if there is neither a file nor one of ours.
fn find(name: &str) -> Result<Option<FoundPattern>, Failure> {
    if name == "-" {
        return read("standard input", &mut io::stdin().lock(), None).map(Some);
    }
    if !is_file_name(name) {
        if let Some(bytes) = shipped::bytes(name) {
            return read(name, &mut &*bytes, None).map(Some);
        }
        if !Path::new(name).exists() {
            let mut ours = shipped::names().filter_map(|ours| pattern(ours).ok());
            let title = name.to_lowercase().replace('-', " ");
            return Ok(ours.find(|found| found.pattern.title.to_lowercase() == title));
        }
    }
    let path = Path::new(name);
    let mut file = plain_file::open(path).map_err(|error| Failure::no_file(name, &error))?;
    read(name, &mut file, Some(path.into())).map(Some)
}

fn read(name: &str, from: &mut dyn Read, file: Option<PathBuf>) -> Result<FoundPattern, Failure> {
    let mut bytes = Vec::new();
    // One byte more tells the reader that there are too many.
    from.take(limit::FILE_BYTES as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| Failure::no_file(name, &error))?;
    Ok(FoundPattern {
        pattern: pattern::read(name, &bytes)?,
        bytes,
        file,
    })
}

/// The patterns that come with the program, by name.
fn patterns() -> String {
    shipped::names().collect::<Vec<_>>().join(", ")
}

fn is_file_name(name: &str) -> bool {
    name.ends_with(".json") || name.contains(std::path::is_separator)
}

/// The work of a piece, as it was played, and the plan from there, in the
/// colours that the maker painted.
///
/// # Errors
/// Its copy of the pattern cannot be sewn, for example because somebody changed
/// it.
pub(super) fn of_piece(piece: &mut Piece) -> Result<Sequence, Failure> {
    let project = own_pattern(piece)?.project;
    Ok(resume(piece, project))
}

fn own_pattern(piece: &Piece) -> Result<Pattern, Failure> {
    let dir = piece.dir().unwrap_or(Path::new("")).join("pattern.json");
    Ok(pattern::read(&dir.display().to_string(), piece.pattern())?)
}

fn resume(piece: &mut Piece, project: Project) -> Sequence {
    // Paint that does not fit is from a copy that somebody changed, which is
    // told when the piece is opened.
    let painted = pattern::paint::painted(&project, piece.state().painting());
    piece.resume(project, &painted)
}

/// What a name stands for that may be a piece's or a pattern's.
pub(super) enum Named {
    Piece(Box<Piece>),
    Pattern(Box<FoundPattern>),
}

/// The piece of this name, or else the pattern.
///
/// # Errors
/// There is neither, or it cannot be opened or read.
pub(super) fn piece_or_pattern(tray: &Tray, name: &str, mode: Mode) -> Result<Named, Failure> {
    let near_piece = match is_file_name(name) || name == "-" {
        true => None,
        false => match tray.open_piece(name, mode, Moment::now()) {
            Ok(piece) => return Ok(Named::Piece(Box::new(piece))),
            Err(progress::Error::NoSuchPiece { nearest, .. }) => nearest,
            Err(error) => return Err(error.into()),
        },
    };
    match find(name)? {
        Some(found) => Ok(Named::Pattern(Box::new(found))),
        None => Err(Failure::new(
            format!("'{name}' is no piece of the tray, no file, and no pattern of threadmark"),
            match near_piece
                .as_deref()
                .or_else(|| nearest(name, shipped::names()))
            {
                Some(near) => format!("did you mean '{near}'?"),
                None => format!(
                    "`threadmark pieces` lists the tray; the patterns are: {}",
                    patterns()
                ),
            },
        )),
    }
}

/// The work of a piece or of a pattern's name, for a command that changes
/// neither.
///
/// # Errors
/// As [`piece_or_pattern`].
pub(super) fn place(tray: &Tray, name: &str) -> Result<PatternAt, Failure> {
    changed_place(tray, name, |_| Ok(()))
}

/// As [`place`], with what `change` does to the pattern before it is worked
/// out.
///
/// # Errors
/// As [`piece_or_pattern`], or what `change` fails with.
pub(super) fn changed_place(
    tray: &Tray,
    name: &str,
    change: impl FnOnce(&mut Project) -> Result<(), Failure>,
) -> Result<PatternAt, Failure> {
    match piece_or_pattern(tray, name, Mode::Look)? {
        Named::Piece(mut piece) => {
            let mut pattern = own_pattern(&piece)?;
            change(&mut pattern.project)?;
            let seq = resume(&mut piece, pattern.project);
            Ok(PatternAt {
                title: piece.title().to_string(),
                about: pattern.about,
                at: Some(Step(piece.state().step.min(seq.steps()))),
                seq,
            })
        }
        Named::Pattern(found) => {
            let mut pattern = found.pattern;
            change(&mut pattern.project)?;
            Ok(PatternAt {
                title: pattern.title,
                about: pattern.about,
                seq: Sequence::new(pattern.project),
                at: None,
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_separator_or_json_makes_a_file_name() {
        assert!(is_file_name("star.json"));
        assert!(is_file_name("./star"));
        assert!(!is_file_name("evening-star"));
        assert!(!is_file_name("-"));
    }

    #[test]
    fn every_pattern_of_ours_can_be_sewn() {
        assert!(shipped::names().count() > 0);
        for name in shipped::names() {
            if let Err(failure) = pattern(name) {
                panic!("{failure}");
            }
        }
    }

    #[test]
    fn what_the_call_says_cannot_steer_the_terminal() {
        let told = pattern("star\u{1b}[2J\u{7}").unwrap_err().to_string();
        assert!(told.contains("no pattern 'star' comes"), "{told}");
        assert!(!told.contains(|c: char| c.is_control() && c != '\n'));
    }

    #[test]
    fn a_name_that_is_nothing_asks_for_the_nearest() {
        let failure = pattern("practice-triangel").unwrap_err();
        assert_eq!(
            failure.to_string(),
            "error: no pattern 'practice-triangel' comes with threadmark, and there is no such file\n  \
             mend: did you mean 'practice-triangle'?"
        );
    }
}
