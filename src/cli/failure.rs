//! Why a command could not do its work.

use std::fmt;
use std::io::{self, Write};

use schemars::JsonSchema;
use serde::Serialize;

use super::line::{Format, Lines};
use crate::plain_file;
use crate::problem::{Problem, Problems};
use crate::progress::{self, NotSaved};
use crate::screen;

/// Why a command could not do its work.
#[derive(Debug)]
pub(super) enum Failure {
    /// Problems that the maker can mend.
    Problems(Problems),
    /// Standard output or the terminal could not be written.
    Output(io::Error),
}

impl Failure {
    /// Whether the reader of the output has seen enough and closed it, which is
    /// not an error.
    pub(super) fn is_closed_pipe(&self) -> bool {
        matches!(self, Failure::Output(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }

    /// A failure from what is wrong and how to mend it.
    pub(super) fn new(what: impl AsRef<str>, mend: impl AsRef<str>) -> Self {
        Problem::new(what, mend).into()
    }

    /// A file that cannot be read.
    pub(super) fn no_file(file: &str, error: &io::Error) -> Self {
        let mend = match plain_file::is_refused(error) {
            true => "name a plain file, or name - and pipe the pattern in",
            false => "check the file's name and place, and that you may read it",
        };
        let problem = Problem::new(
            format!("cannot be read: {}", plain_file::reason(error)),
            mend,
        );
        problem.at(file, None, "").into()
    }

    /// A piece whose last steps could not be saved.
    pub(super) fn not_saved(what: NotSaved) -> Self {
        Failure::new(
            format!("the last steps could not be saved: {what}"),
            "solve that, open the piece again, and check that the last steps are there",
        )
    }

    /// `what` is not a terminal, and the full screen needs one.
    pub(super) fn no_terminal(what: &str) -> Self {
        Failure::new(
            format!("the stitch-along draws a full screen, and {what} is not a terminal"),
            "run it in a terminal, or add --plain for one line a step",
        )
    }

    /// Writes the failure as lines of JSON, one for each problem.
    ///
    /// # Errors
    /// The output cannot be written.
    pub(super) fn json(&self, out: &mut dyn Write) -> io::Result<()> {
        let mut lines = Lines::new(out);
        match self {
            Failure::Problems(problems) => {
                let mut each = problems.list.iter();
                each.try_for_each(|problem| lines.write(&ErrorLine::of(problem)))
            }
            Failure::Output(error) => lines.write(&ErrorLine::of(&output_problem(error))),
        }
    }

    /// Error and mend in one line, for the screen.
    pub(super) fn one_line(&self) -> String {
        match self {
            Failure::Problems(problems) => problems.one_line(),
            Failure::Output(error) => Problems::from(output_problem(error)).one_line(),
        }
    }
}

fn output_problem(error: &io::Error) -> Problem {
    Problem::new(
        format!(
            "the output could not be written: {}",
            plain_file::reason(error)
        ),
        "check that there is room there",
    )
}

/// An error as `--json` prints it; docs/outputs.md says what each field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "A line on standard error of any command with --json")]
pub(super) struct ErrorLine<'a> {
    format: Format,
    #[schemars(length(min = 1))]
    error: String,
    mend: &'a str,
    file: Option<&'a str>,
    #[schemars(range(min = 1))]
    line: Option<usize>,
    #[schemars(range(min = 1))]
    column: Option<usize>,
    field: Option<&'a str>,
}

impl<'a> ErrorLine<'a> {
    /// The line of a problem.
    pub(super) fn of(problem: &'a Problem) -> Self {
        let place = problem.place.as_deref();
        let position = problem.position();
        ErrorLine {
            format: Format,
            error: problem.sentence(),
            mend: &problem.mend,
            file: place.map(|place| place.file.as_str()),
            line: position.map(|position| position.line),
            column: position.map(|position| position.column),
            field: place
                .map(|place| place.field.as_str())
                .filter(|field| !field.is_empty()),
        }
    }
}

/// The lines for standard error.
impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Failure::Problems(problems) => problems.fmt(f),
            Failure::Output(error) => output_problem(error).fmt(f),
        }
    }
}

impl From<Problems> for Failure {
    fn from(problems: Problems) -> Self {
        Failure::Problems(problems)
    }
}

impl From<Problem> for Failure {
    fn from(problem: Problem) -> Self {
        Failure::Problems(problem.into())
    }
}

impl From<progress::Error> for Failure {
    fn from(error: progress::Error) -> Self {
        use progress::Error;
        let mend = match error {
            Error::Io { ref source, .. } if source.kind() == io::ErrorKind::NotFound => {
                "check the file's name and place"
            }
            Error::Io { .. } => {
                "check that there is room and that you may write there, or name another tray with --tray DIR"
            }
            Error::BadSettings { .. } => "mend that line, or take it out; nothing was changed",
            Error::InUse { .. } => "close it there and try again",
            Error::NotACopy { .. } => {
                "name a file that `threadmark pieces export` wrote; if it is one, export it again"
            }
            Error::NoSuchPiece { is_away: true, .. } => {
                "`threadmark pieces --away` lists what is put away"
            }
            Error::NoSuchPiece { .. } => "`threadmark pieces` lists what lies in the tray",
            Error::Format { .. } | Error::UnknownFormat { .. } => {
                "nothing was changed; a newer threadmark opens it"
            }
            Error::NoPattern { .. } => "put the file back, then open the piece again",
            Error::NotAFile { .. } | Error::TooLarge { .. } => {
                "move it away, then open the piece again"
            }
            Error::NoPlace { .. } => "add --tray DIR",
        };
        Failure::new(error.to_string(), mend)
    }
}

impl From<screen::Error> for Failure {
    fn from(error: screen::Error) -> Self {
        match error {
            screen::Error::NotATerminal => Failure::no_terminal("standard input or output"),
            screen::Error::Io(error) => Failure::Output(error),
            screen::Error::Tray(error) => error.into(),
            screen::Error::NotSaved(what) => Failure::not_saved(what),
        }
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Failure::Output(error)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_has_a_mend_on_a_line_of_its_own() {
        let error = io::Error::other("no such disk");
        assert_eq!(
            Failure::no_file("star\u{1b}[2J\u{7}.json", &error).to_string(),
            "error: star.json: cannot be read: no such disk\n  \
             mend: check the file's name and place, and that you may read it"
        );
    }
}
