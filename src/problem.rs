//! A problem that the maker can mend: where it is, what is wrong, what was
//! expected, and how to mend it.
//!
//! It is made where it is found. Its sentence is made here, and nowhere else:
//!
//! ```text
//! error: lantern.json:11:24: panels.face.sides: expected a whole number from 3 to 12, found 13
//!   mend: put a whole number from 3 to 12 here
//! ```

use std::fmt;

use crate::clean::clean;

/// Something that is wrong, with its mend. All texts are fit for a terminal.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Where it is, if it is anywhere in a file.
    pub place: Option<Box<FilePlace>>,
    /// What is wrong; or what was found, if something else was expected.
    pub what: String,
    /// What should stand there instead, if that can be said.
    pub expected: Option<String>,
    /// How to mend it.
    pub mend: String,
}

/// A place in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct FilePlace {
    /// The file, as it was named.
    pub file: String,
    /// Line and column; none for the file as a whole.
    pub position: Option<Position>,
    /// The path of the field, such as `panels.face.sides`; empty for the file
    /// as a whole. Entries of lists count from 1.
    pub field: String,
}

/// A line and a column of a text. Both count from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// The line, from 1.
    pub line: usize,
    /// The column, from 1.
    pub column: usize,
}

/// All that is wrong with something; at least one problem.
#[derive(Clone, Debug, PartialEq)]
pub struct Problems {
    /// The problems, in order of the file.
    pub list: Vec<Problem>,
    /// How many more there are than are listed.
    pub more: usize,
}

impl Problem {
    /// A problem that is no place in a file, or not yet.
    pub fn new(what: impl AsRef<str>, mend: impl AsRef<str>) -> Self {
        Problem {
            place: None,
            what: clean(what.as_ref()),
            expected: None,
            mend: clean(mend.as_ref()),
        }
    }

    /// Something else was expected than was found.
    pub fn expected(expected: &str, found: &str, mend: impl AsRef<str>) -> Self {
        Problem {
            expected: Some(clean(expected)),
            ..Problem::new(found, mend)
        }
    }

    /// The same problem, in a place.
    pub fn at(self, file: &str, position: Option<Position>, field: impl fmt::Display) -> Self {
        let place = FilePlace {
            file: clean(file),
            position,
            field: clean(&field.to_string()),
        };
        Problem {
            place: Some(Box::new(place)),
            ..self
        }
    }

    /// What is wrong, without its place and its mend.
    pub fn sentence(&self) -> String {
        match &self.expected {
            Some(expected) => format!("expected {expected}, found {}", self.what),
            None => self.what.clone(),
        }
    }

    /// Where it is and what is wrong.
    fn placed(&self) -> String {
        let place = self.place.as_ref().map(ToString::to_string);
        place.unwrap_or_default() + &self.sentence()
    }

    /// Where it is in its file.
    pub fn position(&self) -> Option<Position> {
        self.place.as_ref()?.position
    }
}

impl Problems {
    /// The first problem and its mend in one line, and how many more there are.
    pub fn one_line(&self) -> String {
        let more = self.list.len().saturating_sub(1) + self.more;
        let [first, ..] = &self.list[..] else {
            return String::new();
        };
        let line = format!("{}; {}", first.placed(), first.mend);
        match more {
            0 => line,
            more => format!("{line} (and {more} more)"),
        }
    }
}

impl Position {
    /// Line and column of byte `at` of `text`.
    pub fn of(text: &str, at: usize) -> Self {
        let whole = (0..=at.min(text.len())).rfind(|&at| text.is_char_boundary(at));
        let before = &text[..whole.unwrap_or(0)];
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        Position {
            line: before.matches('\n').count() + 1,
            column: before[line_start..].chars().count() + 1,
        }
    }
}

/// How a message begins: `lantern.json:11:24: panels.face.sides: `.
impl fmt::Display for FilePlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        if let Some(Position { line, column }) = self.position {
            write!(f, ":{line}:{column}")?;
        }
        match self.field.as_str() {
            "" => f.write_str(": "),
            field => write!(f, ": {field}: "),
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "error: {}\n  mend: {}", self.placed(), self.mend)
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, problem) in self.list.iter().enumerate() {
            write!(f, "{}{problem}", if n == 0 { "" } else { "\n" })?;
        }
        match self.more {
            0 => Ok(()),
            more => write!(f, "\nand {more} more; mend these first"),
        }
    }
}

impl std::error::Error for Problems {}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Self {
        Problems {
            list: vec![problem],
            more: 0,
        }
    }
}

/// Text from a file as a message may show it: cleaned, and cut to a length
/// that a message can bear.
pub fn shown(text: &str) -> String {
    const LONGEST: usize = 60;
    // Cut before it is cleaned, so that a long text costs no more.
    let start: String = text.chars().take(LONGEST * 4).collect();
    let shown = clean(&start);
    if shown.chars().count() <= LONGEST && start.len() == text.len() {
        return shown;
    }
    shown.chars().take(LONGEST - 1).chain(['…']).collect()
}

/// The same in quotes: 'sea green'.
pub fn quoted(text: &str) -> String {
    format!("'{}'", shown(text))
}

/// Names in a row: 'a', 'b' and 'c'. A long list is cut.
pub fn names<T: AsRef<str>>(list: &[T], last: &str) -> String {
    const MOST: usize = 12;
    let names = list.iter().take(MOST).map(|name| quoted(name.as_ref()));
    let names: Vec<String> = names.collect();
    match &names[..] {
        [] => "none".to_string(),
        [one] => one.clone(),
        _ if list.len() > MOST => format!("{} and more", names.join(", ")),
        [most @ .., end] => format!("{} {last} {end}", most.join(", ")),
    }
}

/// The name nearest to a wrong one by slips of typing (a letter wrong, missing,
/// too many, or two swapped), if it is near enough to have been meant. Of names
/// equally near, the one whose numbers and letters are nearest: 0.15 to 0.16.
pub fn nearest<'n>(wrong: &str, names: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    // Longer words are no slips of the finger.
    const LONGEST: usize = 60;
    let length = wrong.chars().count();
    if length > LONGEST {
        return None;
    }
    let wrong = wrong.to_lowercase();
    names
        .into_iter()
        .filter(|name| name.chars().count() <= LONGEST)
        .map(|name| {
            let slips = strsim::damerau_levenshtein(&wrong, &name.to_lowercase());
            (slips, name)
        })
        // A slip in a word of up to three letters, then one more for each three.
        .filter(|(slips, _)| *slips <= 1 + length / 3 && *slips < length.max(2))
        .min_by_key(|(slips, name)| {
            let letters = wrong.chars().zip(name.chars());
            let apart = letters.map(|(a, b)| u32::from(a).abs_diff(b.into()));
            (*slips, apart.sum::<u32>())
        })
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_problem_says_where_it_is_and_how_it_is_mended() {
        let problem = Problem::expected("a number", "'x'", "put a number here");
        let position = Position::of("{\n  \"é\": x}", 10);
        assert_eq!(
            problem.at("a.json", Some(position), "make.é").to_string(),
            "error: a.json:2:8: make.é: expected a number, found 'x'\n  mend: put a number here"
        );
        assert_eq!(
            Problem::new("no room", "make room").to_string(),
            "error: no room\n  mend: make room"
        );
    }

    #[test]
    fn several_problems_are_told_in_one_line() {
        let position = Some(Position { line: 2, column: 8 });
        let problem = Problem::expected("a number", "'x'", "put a number here");
        let mut problems = Problems::from(problem.at("a.json", position, "make.é"));
        let first = "a.json:2:8: make.é: expected a number, found 'x'; put a number here";
        assert_eq!(problems.one_line(), first);
        problems.list.push(Problem::new("no room", "make room"));
        problems.more = 2;
        assert_eq!(problems.one_line(), format!("{first} (and 3 more)"));
    }

    #[test]
    fn what_is_quoted_is_clean_and_short() {
        assert_eq!(quoted("A \x1b[31mS"), "'A S'");
        let long = shown(&"A S ".repeat(5000));
        assert_eq!(long.chars().count(), 60);
        assert!(long.ends_with('…'));
    }

    #[test]
    fn a_slip_finds_its_name() {
        let names = ["sides", "rounds", "colours", "way"];
        assert_eq!(nearest("side", names), Some("sides"));
        assert_eq!(nearest("colors", names), Some("colours"));
        assert_eq!(nearest("Ruonds", names), Some("rounds"));
        assert_eq!(nearest("needle", names), None);
        assert_eq!(nearest(&"sides".repeat(100), names), None);
    }
}
