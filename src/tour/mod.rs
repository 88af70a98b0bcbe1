//! The beginner's tour: lessons that come up while the maker stitches, each at
//! the movement that it speaks of.
//!
//! The tour is no program of its own. It runs on real steps of a real piece,
//! whose progress is kept as ever; on any piece, if the maker wants it. A
//! lesson comes up once, the first time its movement does. Where it came up is
//! kept with the piece, so that it is there again when the maker goes back to
//! that step, and so that the tour goes on where it was left.
//!
//! ```text
//! step done, movement to be made  ->  when.rs  ->  the lesson due, if any
//! lessons that came up, with their steps  <->  shown.rs  <->  the journal
//! ```

mod reader;
mod shown;
mod when;

pub use reader::Reader;
pub use shown::Shown;
pub use when::When;

use std::sync::LazyLock;

use serde::Deserialize;

use crate::beadwork::number::Step;
use crate::beadwork::sequence::Sequence;
use crate::words::kept::{text, texts};

/// A lesson.
#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// Its name, by which the journal knows it. Never changed.
    #[serde(deserialize_with = "text")]
    pub name: &'static str,
    /// What it is called on the screen.
    #[serde(deserialize_with = "text")]
    pub title: &'static str,
    /// When it comes up.
    pub when: When,
    /// The words of the trade that it is about, the first with its drawing.
    #[serde(deserialize_with = "texts")]
    pub words: &'static [&'static str],
    /// What the hands do. What stands in braces is for [`Reader::text`].
    #[serde(deserialize_with = "text")]
    pub hands: &'static str,
    /// What to look at before the thread is drawn tight.
    #[serde(deserialize_with = "text")]
    pub look: &'static str,
    /// What commonly goes wrong (common practice, no source).
    #[serde(deserialize_with = "text")]
    pub wrong: &'static str,
}

/// All lessons, in the order in which they are due.
pub fn lessons() -> &'static [Lesson] {
    static LESSONS: LazyLock<Vec<Lesson>> = LazyLock::new(|| {
        serde_json::from_str(include_str!("lessons.json")).expect("the tests read these lessons")
    });
    &LESSONS
}

/// The lesson that is due once a step is done: the one that came up here
/// before, or else the first that has not come up and is about the movement to
/// be made.
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

#[cfg(test)]
mod tests;
