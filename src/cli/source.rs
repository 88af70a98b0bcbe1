//! Where a pattern comes from: a file, standard input, the program itself, or
//! a piece of the tray that has its own copy.

use std::collections::BTreeMap;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::shipped;
use crate::beadwork::{Project, Sequence, Step};
use crate::pattern::{self, Pattern, limit};
use crate::plain_file;
use crate::problem::nearest;
use crate::progress::{self, Mode, Moment, Piece, PieceSummary, Tray};

/// A pattern that was found and read.
#[derive(Debug)]
pub(super) struct FoundPattern {
    pub(super) pattern: Pattern,
    /// Its bytes as they were read; a piece keeps a copy.
    pub(super) bytes: Vec<u8>,
    /// Its file, unless it came with the program.
    pub(super) file: Option<PathBuf>,
}

/// The sequence of a pattern or a piece, and how far the piece has come.
pub(super) struct PatternAt {
    /// The title of the pattern or the piece.
    pub(super) title: String,
    /// What the pattern says about itself.
    pub(super) about: String,
    pub(super) seq: Sequence,
    /// The last step done, where a piece was named.
    pub(super) at: Option<Step>,
    /// The name of the piece in the tray, where one was named.
    pub(super) piece: Option<String>,
    /// How long the maker cut threads, mm, by the steps done before.
    pub(super) threads: BTreeMap<u32, u32>,
}

/// Finds and reads the pattern of this name. `-` is standard input; a name with
/// a path separator or that ends in `.json` is a file; any other name is a
/// pattern that comes with the program, by name or title, or else a file.
///
/// # Errors
/// It cannot be found, read, or sewn.
pub(super) fn pattern(name: &str) -> Result<FoundPattern, Failure> {
    match find(name)? {
        Some(found) => Ok(found),
        None => Err(Failure::new(
            format!("no pattern '{name}' comes with threadmark, and there is no such file"),
            match near(name, None) {
                Some(near) => format!("did you mean '{near}'?"),
                None => format!("name a pattern file, or one of: {}", patterns()),
            },
        )),
    }
}

/// The pattern of this name; `None` if there is no such file and no such
/// pattern.
fn find(name: &str) -> Result<Option<FoundPattern>, Failure> {
    if name == "-" {
        return read("standard input", &mut io::stdin().lock(), None).map(Some);
    }
    if !is_file_name(name) {
        if let Some(bytes) = shipped::bytes(name) {
            return read(name, &mut &*bytes, None).map(Some);
        }
        if !Path::new(name).exists() {
            return Ok(of_title(&name.replace('-', " ")));
        }
    }
    let path = Path::new(name);
    let mut file = plain_file::open(path).map_err(|error| Failure::no_file(name, &error))?;
    read(name, &mut file, Some(path.into())).map(Some)
}

/// The pattern that comes with the program and has this title. Of the others
/// only the titles are read.
fn of_title(title: &str) -> Option<FoundPattern> {
    #[derive(serde::Deserialize)]
    struct Titled {
        title: String,
    }
    let title = title.to_lowercase();
    let has_title = |name: &&str| {
        let bytes = shipped::bytes(name).unwrap_or_default();
        let titled = serde_json::from_slice::<Titled>(bytes);
        titled.is_ok_and(|titled| titled.title.to_lowercase() == title)
    };
    pattern(shipped::names().find(has_title)?).ok()
}

/// The pattern that comes with the program and has exactly this name, or this
/// title as it is written.
pub(super) fn shipped_pattern(name: &str) -> Option<FoundPattern> {
    match shipped::bytes(name) {
        Some(_) => pattern(name).ok(),
        None if is_file_name(name) || Path::new(name).exists() => None,
        None => of_title(name),
    }
}

fn read(name: &str, from: &mut dyn Read, file: Option<PathBuf>) -> Result<FoundPattern, Failure> {
    let mut bytes = Vec::new();
    // With one byte too many, the reader can tell that the file is too large.
    from.take(limit::FILE_BYTES as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| Failure::no_file(name, &error))?;
    if progress::is_exported(&bytes) {
        return Err(Failure::new(
            format!("{name} is an exported piece, and no pattern"),
            "bring it into the tray with `threadmark pieces import FILE`, then name the piece",
        ));
    }
    Ok(FoundPattern {
        pattern: pattern::read(name, &bytes)?,
        bytes,
        file,
    })
}

/// What was most likely meant by a name that is none: a file beside, the nearest
/// piece, or a pattern that comes with the program.
fn near(name: &str, piece: Option<String>) -> Option<String> {
    let file = format!("{name}.json");
    let file = Path::new(&file).is_file().then_some(file);
    file.or(piece)
        .or_else(|| nearest(name, shipped::names()).map(String::from))
}

/// The patterns that come with the program, by name.
fn patterns() -> String {
    shipped::names().collect::<Vec<_>>().join(", ")
}

fn is_file_name(name: &str) -> bool {
    name.ends_with(".json") || name.contains(std::path::is_separator)
}

/// The sequence of a piece: the steps as worked and the plan from there, in the
/// colours that the maker painted.
///
/// # Errors
/// The piece's copy of the pattern cannot be sewn, for example because somebody
/// changed it.
pub(super) fn of_piece(piece: &mut Piece) -> Result<Sequence, Failure> {
    let project = own_pattern(piece)?.project;
    Ok(resume(piece, project))
}

fn own_pattern(piece: &Piece) -> Result<Pattern, Failure> {
    let dir = piece.dir().unwrap_or(Path::new("")).join("pattern.json");
    Ok(pattern::read(&dir.display().to_string(), piece.pattern())?)
}

fn resume(piece: &mut Piece, project: Project) -> Sequence {
    // Paint that does not fit comes from a changed copy; opening the piece
    // reports it.
    let painted = pattern::paint::painted(&project, piece.state().painting());
    piece.resume(project, &painted)
}

/// A piece or a pattern, whichever has the name.
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
        false => match tray.open_piece(&piece_meant(tray, name), mode, Moment::now()) {
            Ok(piece) => return Ok(Named::Piece(Box::new(piece))),
            Err(progress::Error::NoSuchPiece { nearest, .. }) => nearest,
            Err(error) => return Err(error.into()),
        },
    };
    match find(name)? {
        Some(found) => Ok(Named::Pattern(Box::new(found))),
        None => Err(Failure::new(
            format!("'{name}' is no piece of the tray, no file, and no pattern of threadmark"),
            match near(name, near_piece) {
                Some(near) => format!("did you mean '{near}'?"),
                None => format!(
                    "`threadmark pieces` lists the tray; the patterns are: {}",
                    patterns()
                ),
            },
        )),
    }
}

/// The name of the piece that a name means: where an unfinished piece has the name of
/// its pattern, the unfinished one of the pattern that was worked on last.
pub(super) fn piece_meant(tray: &Tray, name: &str) -> String {
    let of_it = shipped_pattern(name)
        .and_then(|found| pieces_of(tray, name, &found).ok().flatten())
        .unwrap_or_default();
    let mut unfinished = of_it.iter().filter(|piece| !piece.finished);
    let last = unfinished.clone().next();
    match last.filter(|_| unfinished.any(has_name(name))) {
        Some(last) => last.name.clone(),
        None => name.into(),
    }
}

/// The pieces of a pattern, the one worked on last first; `None` if the pattern's
/// name is that of an unfinished piece of another pattern.
pub(super) fn pieces_of(
    tray: &Tray,
    name: &str,
    found: &FoundPattern,
) -> Result<Option<Vec<PieceSummary>>, Failure> {
    let pieces = tray.pieces()?;
    let (of_it, others): (Vec<_>, Vec<_>) = pieces.into_iter().partition(is_of(found));
    let mut others = others.iter().filter(|piece| !piece.finished);
    Ok((!others.any(has_name(name))).then_some(of_it))
}

fn has_name(name: &str) -> impl Fn(&PieceSummary) -> bool {
    move |piece| piece.name == name || piece.title.as_str().eq_ignore_ascii_case(name)
}

/// Whether a piece was begun from this pattern.
pub(super) fn is_of(found: &FoundPattern) -> impl Fn(&PieceSummary) -> bool + use<> {
    let absolute = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.into());
    let file = found.file.as_deref().map(absolute);
    let crc32 = crc32fast::hash(&found.bytes);
    let title = found.pattern.title.clone();
    move |piece| match (&file, &piece.source) {
        (Some(file), Some(source)) => absolute(source) == *file,
        // A piece can be renamed, and the program's patterns can change.
        (None, None) => piece.pattern_crc32 == Some(crc32) || piece.title.as_str() == title,
        _ => false,
    }
}

/// The sequence of the piece or pattern of this name, for a command that
/// changes neither.
///
/// # Errors
/// As [`piece_or_pattern`].
pub(super) fn sequence(tray: &Tray, name: &str) -> Result<PatternAt, Failure> {
    changed_sequence(tray, name, |_| Ok(()))
}

/// As [`sequence`], with the pattern changed by `change` first.
///
/// # Errors
/// As [`piece_or_pattern`], or what `change` fails with.
pub(super) fn changed_sequence(
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
                piece: Some(piece.name().to_string()),
                threads: (*piece.state().threads).clone(),
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
                piece: None,
                threads: BTreeMap::new(),
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As `stitch` takes it: `steps` and all that look at a piece.
    #[test]
    fn of_two_pieces_of_a_pattern_every_command_takes_the_one_worked_on_last() {
        let dir = tempfile::TempDir::new().unwrap();
        let tray = Tray::open(dir.path());
        let bytes = shipped::bytes(shipped::DEMO).unwrap();
        let begun = |at| tray.begin("Harbour lantern", bytes, None, 900, Moment(at));
        for at in [1, 2] {
            begun(at).unwrap().close(Moment(at)).unwrap();
        }
        let taken = |name: &str| sequence(&tray, name).ok().and_then(|found| found.piece);
        for name in [shipped::DEMO, "Harbour lantern", "harbour-lantern-2"] {
            assert_eq!(taken(name).as_deref(), Some("harbour-lantern-2"), "{name}");
        }
        tray.rename(shipped::DEMO, "The first one").unwrap();
        assert_eq!(taken("the-first-one").as_deref(), Some("the-first-one"));
        assert_eq!(taken(shipped::DEMO), None, "the pattern itself");
    }

    #[test]
    fn a_separator_or_json_makes_a_file_name() {
        assert!(is_file_name("star.json"));
        assert!(is_file_name("./star"));
        assert!(!is_file_name("evening-star"));
        assert!(!is_file_name("-"));
    }

    #[test]
    fn every_shipped_pattern_can_be_sewn() {
        assert!(shipped::names().count() > 0);
        for name in shipped::names() {
            if let Err(failure) = pattern(name) {
                panic!("{failure}");
            }
        }
    }

    #[test]
    fn a_name_cannot_control_the_terminal() {
        let message = pattern("star\u{1b}[2J\u{7}").unwrap_err().to_string();
        assert!(message.contains("no pattern 'star' comes"), "{message}");
        assert!(!message.contains(|c: char| c.is_control() && c != '\n'));
    }

    #[test]
    fn an_unknown_name_suggests_the_nearest() {
        let failure = pattern("practice-triangel").unwrap_err();
        assert_eq!(
            failure.to_string(),
            "error: no pattern 'practice-triangel' comes with threadmark, and there is no such file\n  \
             mend: did you mean 'practice-triangle'?"
        );
    }
}
