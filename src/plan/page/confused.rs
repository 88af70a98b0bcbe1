//! What is easily confused: colours and letters.

use super::Page;
use crate::beadwork::Colour;
use crate::plan::colours::{Alike, Seen};

impl Page<'_> {
    pub(super) fn colours(&mut self) {
        let plan = self.plan;
        if plan.alike.is_empty() && plan.like_letters.is_empty() {
            return;
        }
        self.heading("Colours and letters");
        for alike in &plan.alike {
            let line = self.alike(alike);
            self.line(line);
            if let Some(better) = alike.better {
                self.line(format!(
                    "  {} for {} could be told apart",
                    better,
                    self.letter(alike.b)
                ));
            }
        }
        for like in &plan.like_letters {
            let (a, b) = (self.letter(like.a), self.letter(like.b));
            self.line(match like.better {
                Some(better) => {
                    format!("the letters {a} and {b} are easily misread: {better} for {b}?")
                }
                None => format!("the letters {a} and {b} are easily misread"),
            });
        }
    }

    fn alike(&self, alike: &Alike) -> String {
        // Kinds of light first, then colour-vision deficiencies.
        let seen = |way: &&Seen| alike.seen.iter().any(|(seen, _)| seen == *way);
        let ways: Vec<&str> = Seen::ALL
            .iter()
            .filter(seen)
            .map(|way| way.words())
            .collect();
        let ways = match ways.as_slice() {
            [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
            one => one.join(""),
        };
        format!(
            "! {} and {} are hard to tell apart {ways}",
            self.colour(alike.a),
            self.colour(alike.b),
        )
    }

    fn letter(&self, colour: Colour) -> char {
        self.plan.colour_names[usize::from(colour.0)].0
    }

    fn colour(&self, colour: Colour) -> String {
        let (letter, name) = &self.plan.colour_names[usize::from(colour.0)];
        format!("{letter} {name}")
    }
}
