//! The lessons that came up, and at which step: kept as words such as
//! `step-up@9`, so that a newer version's lessons do no harm.

use super::{Lesson, lessons};
use crate::beadwork::number::Step;

/// The lessons that came up.
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

    /// The lesson that came up before this step was made.
    pub fn at(&self, step: Step) -> Option<&'static Lesson> {
        let (name, _) = self.each().find(|(_, at)| *at == step)?;
        lessons().iter().find(|lesson| lesson.name == name)
    }

    /// With one more, which came up before a step was made.
    pub fn with(mut self, lesson: &Lesson, step: Step) -> Shown {
        self.0.push(format!("{}@{step}", lesson.name));
        self
    }

    /// How many came up.
    pub fn count(&self) -> usize {
        lessons().iter().filter(|l| self.came_up(l)).count()
    }
}
