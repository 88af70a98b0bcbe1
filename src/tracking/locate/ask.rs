//! The questions, each about one thing that can be seen or counted. Their texts
//! are in questions.json.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::beadwork::{Panel, Sequence};

/// What a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Ask {
    /// What is half done.
    HalfDone,
    /// The kind of bead that the thread comes out of.
    Leaves,
    /// The colour of the last bead strung.
    LastColour,
    /// The colour of the bead that the thread comes out of.
    LeavesColour,
    /// Sides of the newest panel that are joined.
    Joined,
    /// Finished join rows on the newest panel.
    Rows,
    /// Pair, point or gap at the corners of the newest round.
    Corner,
    /// Finished sides of the newest round.
    SidesWhole,
    /// Finished panels.
    Faces,
    /// Teeth locked in the current join.
    Locked,
    /// Beads in the current join row.
    RowBeads,
    /// Beads of the newest round on the current side.
    Edge,
    /// Beads between the one that the thread comes out of and the corner ahead.
    Ahead,
    /// Rounds of the current panel.
    Rounds,
    /// The round of the bead that the thread comes out of.
    LeavesRound,
    /// Beads in the newest round.
    InRound,
}

/// The possible answers to a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choices {
    /// A number from 0 to this.
    Number(u32),
    /// One of these, each with its value.
    OneOf(Vec<(u32, String)>),
}

/// A question in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What it asks about.
    pub ask: Ask,
    /// The question, with its question mark.
    pub text: String,
    /// The possible answers, besides 'can't tell'.
    pub choices: Choices,
}

/// The words of a question.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct QuestionWords {
    /// Its name in output.
    name: String,
    text: String,
    /// The question where all is strips, which have rows, no middle and no
    /// corner; `None` if it is the same.
    of_a_strip: Option<String>,
    /// The answers from 0; empty if the answer is a number. For a question
    /// about colours, the colours of the piece come after them.
    #[serde(default)]
    answers: Vec<AnswerWords>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AnswerWords {
    says: String,
    /// A drawing of it, in the signs of the picture.
    #[serde(default)]
    drawing: Vec<String>,
}

impl Ask {
    /// All of them, the easiest first.
    pub const ALL: [Ask; 16] = [
        Ask::HalfDone,
        Ask::Leaves,
        Ask::LastColour,
        Ask::LeavesColour,
        Ask::Joined,
        Ask::Rows,
        Ask::Corner,
        Ask::SidesWhole,
        Ask::Faces,
        Ask::Locked,
        Ask::RowBeads,
        Ask::Edge,
        Ask::Ahead,
        Ask::Rounds,
        Ask::LeavesRound,
        Ask::InRound,
    ];

    /// Its place in [`Ask::ALL`].
    pub fn index(self) -> usize {
        self as usize
    }

    fn words(self) -> &'static QuestionWords {
        static WORDS: LazyLock<Vec<QuestionWords>> = LazyLock::new(|| {
            serde_json::from_str(include_str!("questions.json")).expect("the tests read these")
        });
        &WORDS[self.index()]
    }

    /// Its name in output.
    pub fn name(self) -> &'static str {
        &self.words().name
    }

    /// Whether its answer is a number of beads or other things.
    pub fn is_counted(self) -> bool {
        !matches!(
            self,
            Ask::HalfDone | Ask::Leaves | Ask::LastColour | Ask::LeavesColour | Ask::Corner
        )
    }

    /// Whether it has the same answer throughout a round or a row.
    pub(super) fn is_coarse(self) -> bool {
        matches!(self, Ask::Faces | Ask::Rounds | Ask::Rows | Ask::Corner)
    }

    /// The question in words. `values` are the answers that are still possible,
    /// in order.
    pub(super) fn question(self, seq: &Sequence, values: &[u32]) -> Question {
        let most = values.last().copied().unwrap_or(0);
        Question {
            ask: self,
            text: self.text(seq).into(),
            choices: match self.is_counted() {
                true => Choices::Number(most),
                false => Choices::OneOf(
                    values
                        .iter()
                        .map(|&v| (v, self.value_in_words(seq, v)))
                        .collect(),
                ),
            },
        }
    }

    /// The question.
    pub fn text(self, seq: &Sequence) -> &'static str {
        let words = self.words();
        let of_a_strip = words.of_a_strip.as_deref().filter(|_| is_of_strips(seq));
        of_a_strip.unwrap_or(&words.text)
    }

    /// Whether it says anything of a piece: strips have no corners.
    pub fn is_about(self, seq: &Sequence) -> bool {
        self != Ask::Corner || !is_of_strips(seq)
    }

    /// The words of an answer, if there are any; the last ones for all greater
    /// values.
    fn answer(self, value: u32) -> Option<&'static AnswerWords> {
        let answers = &self.words().answers;
        answers.get(value as usize).or(answers.last())
    }

    /// A drawing of an answer, in the signs of the picture; empty for most.
    pub fn drawing(self, value: u32) -> &'static [String] {
        self.answer(value).map_or(&[], |answer| &answer.drawing)
    }

    /// An answer in words.
    pub fn value_in_words(self, seq: &Sequence, value: u32) -> String {
        match (self, value) {
            (Ask::LastColour | Ask::LeavesColour, 1..) => {
                let bead = seq.layout().bead_kinds().get(value as usize - 1);
                bead.map_or(String::new(), |b| format!("{} ({})", b.name, b.letter))
            }
            _ => match self.answer(value) {
                Some(answer) => answer.says.clone(),
                None => value.to_string(),
            },
        }
    }
}

fn is_of_strips(seq: &Sequence) -> bool {
    let layout = seq.layout();
    let mut panels = (0..layout.panels().len()).map(|nth| Panel(nth as u16));
    panels.all(|panel| layout.kind(panel).strip().is_some())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    /// A strip is worked in rows, to and fro; it has no middle and no corner.
    #[test]
    fn of_a_strip_rows_are_asked_about() {
        let strip = Sequence::new(testing::single(testing::strip(6, 9)));
        for ask in Ask::ALL.into_iter().filter(|ask| ask.is_about(&strip)) {
            let text = ask.text(&strip);
            for word in ["round", "middle", "corner"] {
                assert!(!text.contains(word), "{text}");
            }
        }
        let panel = Sequence::new(testing::single(testing::panel(3, 4)));
        assert!(Ask::Corner.is_about(&panel) && !Ask::Corner.is_about(&strip));
        assert!(Ask::LeavesRound.text(&panel).contains("from the middle"));
    }

    #[test]
    fn every_question_has_its_words() {
        for ask in Ask::ALL {
            assert!(ask.words().text.contains('?') && !ask.name().is_empty());
            assert_eq!(ask.is_counted(), ask.words().answers.is_empty());
        }
        assert_eq!(Ask::Corner.name(), "corner");
        assert_eq!(Ask::InRound.name(), "round-beads");
        assert_eq!(Ask::HalfDone.drawing(1), ["~~[N][N][N]◆"]);
    }
}
