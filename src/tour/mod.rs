//! The beginner's tour: lessons that come up while the maker stitches, each at
//! the movement that it is about.
//!
//! The tour runs on the steps of a real piece, whose progress is saved as
//! usual; any piece will do. A lesson comes up once, the first time its
//! movement does. The step is saved with the piece, so that the lesson is shown
//! again when the maker goes back to that step, and the tour continues where it
//! stopped.
//!
//! ```text
//! step done, next movement  ->  when.rs  ->  the lesson due, if any
//! lessons that came up, with their steps  <->  the journal
//! ```
//!
//! ```
//! use threadmark::beadwork::{Sequence, Step};
//! use threadmark::tour::{self, Shown};
//!
//! let project = threadmark::pattern::load("patterns/practice-pair.json")?.project;
//! let sequence = Sequence::new(project);
//! let lesson = tour::due(&sequence, Step(0), &Shown::default());
//! assert!(lesson.is_some_and(|lesson| !lesson.hands.is_empty()));
//! # Ok::<(), threadmark::problem::Problems>(())
//! ```

mod reader;
mod when;

pub use reader::Reader;
pub use when::When;

use std::sync::LazyLock;

use serde::Deserialize;

use crate::beadwork::number::Step;
use crate::beadwork::sequence::Sequence;
use crate::words::{static_text, static_texts};

/// A lesson.
#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// Its name in the journal. Never changed.
    #[serde(deserialize_with = "static_text")]
    pub name: &'static str,
    /// Its title on the screen.
    #[serde(deserialize_with = "static_text")]
    pub title: &'static str,
    /// When it comes up.
    pub when: When,
    /// The words of the trade that it is about, the first with its drawing.
    #[serde(deserialize_with = "static_texts")]
    pub words: &'static [&'static str],
    /// What the hands do. [`Reader::text`] replaces the parts in braces.
    #[serde(deserialize_with = "static_text")]
    pub hands: &'static str,
    /// What to check before the thread is pulled tight.
    #[serde(deserialize_with = "static_text")]
    pub look: &'static str,
    /// What commonly goes wrong (common practice, no source).
    #[serde(deserialize_with = "static_text")]
    pub wrong: &'static str,
}

/// All lessons, in the order in which they are due.
pub fn lessons() -> &'static [Lesson] {
    static LESSONS: LazyLock<Vec<Lesson>> = LazyLock::new(|| {
        serde_json::from_str(include_str!("lessons.json")).expect("the tests read these lessons")
    });
    &LESSONS
}

/// The lesson that is due after a step: the one that came up here before, or
/// else the first that has not come up and is about the next movement.
pub fn due(seq: &Sequence, done: Step, shown: &Shown) -> Option<&'static Lesson> {
    let here = Step(done.0 + 1);
    if let Some(lesson) = shown.at(here) {
        return Some(lesson);
    }
    let movement = seq.step(here);
    lessons()
        .iter()
        .find(|lesson| !shown.came_up(lesson) && lesson.when.is(seq, done, movement.as_ref()))
}

impl Lesson {
    /// Its place in the list, from 0.
    pub fn index(&self) -> usize {
        let at = lessons().iter().position(|l| l.name == self.name);
        at.unwrap_or(0)
    }
}

/// The lessons that came up, and before which step: saved as words such as
/// `step-up@9`, so that lessons of a newer version do no harm.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shown(Vec<String>);

impl Shown {
    /// From the words of the journal.
    pub fn from_words(words: Vec<&str>) -> Shown {
        Shown(words.into_iter().map(String::from).collect())
    }

    /// The words for the journal.
    pub fn words(&self) -> &[String] {
        &self.0
    }

    fn each(&self) -> impl Iterator<Item = (&str, Step)> {
        self.0.iter().filter_map(|word| {
            let (name, step) = word.split_once('@')?;
            Some((name, Step(step.parse().ok()?)))
        })
    }

    /// Whether a lesson came up.
    pub fn came_up(&self, lesson: &Lesson) -> bool {
        self.each().any(|(name, _)| name == lesson.name)
    }

    /// The lesson that came up before this step.
    pub fn at(&self, step: Step) -> Option<&'static Lesson> {
        let (name, _) = self.each().find(|(_, at)| *at == step)?;
        lessons().iter().find(|lesson| lesson.name == name)
    }

    /// With one more lesson, which came up before `step`.
    pub fn with(mut self, lesson: &Lesson, step: Step) -> Shown {
        self.0.push(format!("{}@{step}", lesson.name));
        self
    }

    /// How many came up.
    pub fn count(&self) -> usize {
        lessons().iter().filter(|l| self.came_up(l)).count()
    }
}

#[cfg(test)]
mod tests;
