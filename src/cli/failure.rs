//! Why a command could not do its work: data first, and the one place where
//! that becomes an error and its mend.

use std::fmt;
use std::io::{self, Write};

use serde::Serialize;

use super::line::{FORMAT, Lines};
use crate::beadwork::Round;
use crate::clean::clean;
use crate::pattern::PatternErrors;
use crate::plain_file;
use crate::plan::draft::DraftError;
use crate::progress::{self, NotKept};
use crate::screen;

/// Why a command could not do its work.
#[derive(Debug)]
pub(super) enum Failure {
    /// The pattern cannot be sewn.
    Pattern(PatternErrors),
    /// A file that the system does not let us read.
    NoFile {
        /// As it was named.
        file: String,
        /// The system's words.
        error: io::Error,
    },
    /// Neither a file nor a pattern that comes with the program.
    NoPattern {
        name: String,
        /// The name that was most likely meant.
        nearest: Option<String>,
    },
    /// Nothing of this name: no piece, no file, no pattern of ours.
    NoPieceOrPattern {
        name: String,
        /// The name that was most likely meant.
        nearest: Option<String>,
    },
    /// The stitch-along cannot read a pattern where its keys come from.
    KeysComeThere,
    /// The tray or a piece cannot be read or written.
    Tray(progress::Error),
    /// A piece could not be put away.
    NotSaved(NotKept),
    /// A step past the end.
    NoStep { from: u32, steps: u32 },
    /// No job of this number or title.
    NoJob {
        job: String,
        /// All jobs, numbered.
        jobs: Vec<String>,
    },
    /// Several jobs have this in their titles.
    ManyJobs {
        job: String,
        /// Those jobs, numbered.
        jobs: Vec<String>,
    },
    /// The job works on no such round.
    NoRound {
        round: Round,
        job: String,
        /// The first and the last round that it can be asked for.
        rounds: (Round, Round),
    },
    /// Counts for another number of sides than the panel has.
    Sides { given: usize, sides: usize },
    /// Sides that do not add up to the count.
    Sum { sum: u64, count: u32 },
    /// Thread cut so short that its ends leave nothing to sew with.
    CutTooShort {
        /// As asked, mm.
        cut_mm: f64,
        /// What the pattern leaves at each end, mm.
        tail_mm: f64,
    },
    /// A wish that a draft cannot meet.
    Draft(DraftError),
    /// A draft does not go over a file that is there.
    FileIsThere {
        /// As it was named.
        file: String,
    },
    /// Paper asked for what has no pages.
    PaperOfPage,
    /// A file that the system does not let us write.
    NotWritten {
        /// As it was named.
        file: String,
        /// The system's words.
        error: io::Error,
    },
    /// The full screen needs a terminal.
    NoTerminal {
        /// What is not a terminal.
        what: &'static str,
    },
    /// Standard output, or the terminal, refused.
    Output(io::Error),
}

/// An error and its mend.
struct Sentence {
    says: String,
    mend: String,
}

/// Jobs named in a message.
const JOBS: usize = 12;

impl Failure {
    /// Whether whoever read the output has seen enough and closed it, which is
    /// no fault of anybody.
    pub(super) fn is_closed_pipe(&self) -> bool {
        matches!(self, Failure::Output(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }

    fn sentence(&self) -> Sentence {
        let (says, mend) = match self {
            Failure::Pattern(errors) => (errors.to_string(), String::new()),
            Failure::NoFile { file, error } => (
                format!("{file}: cannot be read: {error}"),
                match plain_file::is_refused(error) {
                    true => "name a plain file, or name - and pipe the pattern in",
                    false => {
                        "look at how the file is named, where it lies, and whether you may read it"
                    }
                }
                .into(),
            ),
            Failure::NoPattern { name, nearest } => (
                format!("no pattern '{name}' comes with threadmark, and there is no such file"),
                match nearest {
                    Some(nearest) => format!("did you mean '{nearest}'?"),
                    None => format!(
                        "name a pattern file, or one of: {}",
                        super::shipped::names().collect::<Vec<_>>().join(", ")
                    ),
                },
            ),
            Failure::NoPieceOrPattern { name, nearest } => (
                format!("'{name}' is no piece of the tray, no file, and no pattern of threadmark"),
                match nearest {
                    Some(nearest) => format!("did you mean '{nearest}'?"),
                    None => format!(
                        "`threadmark pieces` lists the tray; the patterns are: {}",
                        super::shipped::names().collect::<Vec<_>>().join(", ")
                    ),
                },
            ),
            Failure::KeysComeThere => (
                "the stitch-along takes its keys from standard input and reads no pattern there"
                    .into(),
                "save the pattern in a file and name that".into(),
            ),
            Failure::Tray(error) => (error.to_string(), tray_mend(error).into()),
            Failure::NotSaved(what) => (
                format!("the piece could not be put away whole: {what}"),
                "mend that, open the piece again, and see whether the last steps are there".into(),
            ),
            Failure::NoStep { from, steps } => (
                format!("there is no step {from}: the piece has {steps} steps"),
                format!("give a number from 1 to {steps} after --from"),
            ),
            Failure::NoJob { job, jobs } => (
                format!("the piece has no job '{job}'"),
                format!("give a number from 1 or a part of a title: {}", list(jobs)),
            ),
            Failure::ManyJobs { job, jobs } => (
                format!("'{job}' stands in the titles of {} jobs", jobs.len()),
                format!("give the number of one: {}", list(jobs)),
            ),
            Failure::NoRound {
                round,
                job,
                rounds: (first, last),
            } => (
                format!("the job '{job}' works on no round {round}"),
                match first == last {
                    true => format!("its only round is {first}"),
                    false => format!("give a round from {first} to {last}"),
                },
            ),
            Failure::Sides { given, sides } => (
                format!("--sides has {given} numbers, but the panel has {sides} sides"),
                format!("give {sides} numbers with commas between, 0 for a side without beads"),
            ),
            Failure::Sum { sum, count } => (
                format!("the sides add up to {sum}, but --count says {count}"),
                "count again, or give --sides alone".into(),
            ),
            Failure::CutTooShort { cut_mm, tail_mm } => (
                format!(
                    "thread cut to {cut_mm} mm leaves nothing to sew with between its ends of {tail_mm} mm"
                ),
                format!("give more than {} mm after --cut", 2.0 * tail_mm),
            ),
            Failure::Draft(error) => (error.to_string(), error.mend()),
            Failure::FileIsThere { file } => (
                format!("{file} is there already, and was left as it is"),
                "name another file with -o FILE, or add --force to write over it".into(),
            ),
            Failure::PaperOfPage => (
                "--paper is for a handout in HTML; drawings and plain text have no pages".into(),
                "add --to html, or leave --paper out".into(),
            ),
            Failure::NotWritten { file, error } => (
                format!("{file}: cannot be written: {error}"),
                "see that the directory is there, that there is room, and that you may write there"
                    .into(),
            ),
            Failure::NoTerminal { what } => (
                format!("the stitch-along draws a full screen, and {what} is not a terminal"),
                "run it in a terminal, or add --plain for one line a step".into(),
            ),
            Failure::Output(error) => (
                format!("the output could not be written: {error}"),
                "see that there is room where it goes".into(),
            ),
        };
        Sentence { says, mend }
    }
}

fn tray_mend(error: &progress::Error) -> &'static str {
    use progress::Error;
    match error {
        Error::Io { .. } => {
            "see that there is room and that you may write there, or name another tray with --tray DIR"
        }
        Error::InUse { .. } => "close it there and try again",
        Error::NotACopy { .. } => "export it again with `threadmark pieces export`",
        Error::NoSuchPiece { .. } => "`threadmark pieces` lists what lies in the tray",
        Error::Format { .. } | Error::UnknownFormat { .. } => {
            "nothing was changed; a newer threadmark opens it"
        }
        Error::NoPattern { .. } => "put the file back, then open the piece again",
        Error::NotAFile { .. } | Error::TooLarge { .. } => {
            "move it away, then open the piece again"
        }
        Error::NoPlace { .. } => "add --tray DIR",
    }
}

fn list(jobs: &[String]) -> String {
    match jobs.len() {
        n if n > JOBS => format!("{}, and {} more", jobs[..JOBS].join(", "), n - JOBS),
        _ => jobs.join(", "),
    }
}

/// An error as `--json` prints it; docs/outputs.md says what each field means.
#[derive(Serialize)]
pub(super) struct ErrorLine<'a> {
    format: u8,
    error: &'a str,
    mend: &'a str,
    file: Option<&'a str>,
    line: Option<usize>,
    column: Option<usize>,
    field: Option<&'a str>,
}

/// Writes an error that is about no place in a file.
///
/// # Errors
/// When the system refuses.
pub(super) fn error_line(error: &str, mend: &str, out: &mut dyn Write) -> io::Result<()> {
    Lines::new(out).write(&ErrorLine {
        format: FORMAT,
        error: &clean(error),
        mend: &clean(mend),
        file: None,
        line: None,
        column: None,
        field: None,
    })
}

impl Failure {
    /// The failure as lines of JSON: one for each thing that is wrong.
    ///
    /// # Errors
    /// When the system refuses.
    pub(super) fn json(&self, out: &mut dyn Write) -> io::Result<()> {
        let Failure::Pattern(errors) = self else {
            let Sentence { says, mend } = self.sentence();
            return error_line(&says, &mend, out);
        };
        let file = clean(&errors.file);
        for fault in &errors.faults {
            let sentence = fault.kind.sentence();
            Lines::new(out).write(&ErrorLine {
                format: FORMAT,
                error: &sentence.says,
                mend: &sentence.mend,
                file: Some(&file),
                line: fault.position.map(|position| position.line),
                column: fault.position.map(|position| position.column),
                field: Some(clean(&fault.field).as_str()).filter(|field| !field.is_empty()),
            })?;
        }
        Ok(())
    }

    /// Error and mend in one line, for the screen.
    pub(super) fn in_a_line(&self) -> String {
        clean(&self.to_string())
    }
}

/// The lines for standard error. What comes from files or from the call is
/// cleaned of whatever could steer a terminal.
impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Failure::Pattern(errors) = self {
            return errors.fmt(f);
        }
        let Sentence { says, mend } = self.sentence();
        write!(f, "error: {}\n  mend: {}", clean(&says), clean(&mend))
    }
}

impl From<PatternErrors> for Failure {
    fn from(errors: PatternErrors) -> Self {
        Failure::Pattern(errors)
    }
}

impl From<DraftError> for Failure {
    fn from(error: DraftError) -> Self {
        Failure::Draft(error)
    }
}

impl From<progress::Error> for Failure {
    fn from(error: progress::Error) -> Self {
        Failure::Tray(error)
    }
}

impl From<screen::Error> for Failure {
    fn from(error: screen::Error) -> Self {
        match error {
            screen::Error::NotATerminal => Failure::NoTerminal {
                what: "standard input or output",
            },
            screen::Error::Io(error) => Failure::Output(error),
            screen::Error::Tray(error) => Failure::Tray(error),
            screen::Error::NotKept(what) => Failure::NotSaved(what),
        }
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Failure::Output(error)
    }
}

/// The name that was most likely meant, if any comes near.
pub(super) fn nearest<'n>(name: &str, known: impl Iterator<Item = &'n str>) -> Option<String> {
    let near = |other: &str| strsim::normalized_damerau_levenshtein(other, name);
    let close = known.filter(|other| near(other) >= 0.6);
    close
        .max_by(|a, b| near(a).total_cmp(&near(b)))
        .map(str::to_string)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_has_a_mend_on_a_line_of_its_own() {
        let failure = Failure::NoStep {
            from: 99,
            steps: 40,
        };
        assert_eq!(
            failure.to_string(),
            "error: there is no step 99: the piece has 40 steps\n  mend: give a number from 1 to 40 after --from"
        );
    }

    #[test]
    fn what_the_call_says_cannot_steer_the_terminal() {
        let name = "star\u{1b}[2J\u{7}".to_string();
        let said = Failure::NoPattern {
            name,
            nearest: None,
        }
        .to_string();
        assert!(said.contains("no pattern 'star' comes"), "{said}");
        assert!(!said.contains(|c: char| c.is_control() && c != '\n'));
    }

    #[test]
    fn a_slip_of_the_finger_is_seen() {
        let known = ["practice-triangle", "octahedron"];
        let found = nearest("octahedrn", known.into_iter());
        assert_eq!(found.as_deref(), Some("octahedron"));
        assert_eq!(nearest("teapot", known.into_iter()), None);
    }

    #[test]
    fn a_long_list_of_jobs_is_cut() {
        let jobs: Vec<String> = (1..=40).map(|n| format!("{n} Face")).collect();
        assert!(list(&jobs).ends_with("12 Face, and 28 more"));
    }
}
