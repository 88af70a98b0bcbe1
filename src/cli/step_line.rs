//! A step as a line of JSON, written by hand for speed: a large piece has
//! millions of lines, each nearly the same as the one before. The tests compare
//! it with a struct serialized by the library.

use std::io;

use super::line::Format;
use crate::beadwork::movement::Movement;
use crate::beadwork::{Bead, Sequence, Step};

/// Makes the lines of one piece.
pub(super) struct StepLines<'a> {
    seq: &'a Sequence,
    /// The last step done, if it is a piece.
    at: Option<Step>,
    /// Titles of the jobs, as JSON.
    jobs: Vec<String>,
    /// Letters of the colours, as JSON.
    letters: Vec<String>,
    head: String,
    line: Vec<u8>,
    digits: itoa::Buffer,
}

impl<'a> StepLines<'a> {
    /// # Errors
    /// None in practice: titles and letters are text.
    pub(super) fn new(seq: &'a Sequence, at: Option<Step>) -> io::Result<Self> {
        let titles = seq
            .jobs()
            .iter()
            .map(|job| serde_json::to_string(&job.title));
        let beads = seq.layout().bead_kinds();
        let letters = beads.iter().map(|bead| serde_json::to_string(&bead.letter));
        Ok(StepLines {
            seq,
            at,
            jobs: titles.collect::<Result<_, _>>()?,
            letters: letters.collect::<Result<_, _>>()?,
            head: format!("{{\"format\":{},\"step\":", Format::VERSION),
            line: Vec::with_capacity(512),
            digits: itoa::Buffer::new(),
        })
    }

    /// The line of a step, with its line feed.
    ///
    /// # Errors
    /// As [`StepLines::new`].
    pub(super) fn line(&mut self, m: Movement) -> io::Result<&[u8]> {
        let text = say(self.seq, &m);
        let m = self.seq.as_made(m);
        self.line.clear();
        self.line.extend_from_slice(self.head.as_bytes());
        self.number(m.step.0);
        self.text(",\"job\":");
        self.line
            .extend_from_slice(self.jobs[m.job.index()].as_bytes());
        self.text(",\"job_number\":");
        self.number(m.job.number());
        self.text(",\"kind\":\"");
        self.text(m.kind.name());
        self.text("\",\"round\":");
        self.number_or_null(m.round.map(|round| round.0));
        self.text(",\"side\":");
        self.number_or_null(m.side.map(|side| side.number()));
        self.text(",\"strings\":[");
        self.strings(&m.strings);
        self.text("],\"passes\":[");
        self.passes(&m.passes);
        if let Some(bead) = m.removes {
            self.text("],\"removes\":[");
            self.number(bead.0);
        }
        self.text("],\"text\":");
        serde_json::to_writer(&mut self.line, &text)?;
        self.text(",\"round_beads\":");
        self.number(m.round_beads);
        self.text(",\"round_target\":");
        self.number(m.round_target);
        self.text(match self.at.map(|at| m.step <= at) {
            None => "}\n",
            Some(true) => ",\"worked\":true}\n",
            Some(false) => ",\"worked\":false}\n",
        });
        Ok(&self.line)
    }

    fn strings(&mut self, beads: &[Bead]) {
        for (n, &bead) in beads.iter().enumerate() {
            self.text(if n == 0 { "{\"bead\":" } else { ",{\"bead\":" });
            self.number(bead.0);
            self.text(",\"colour\":");
            let colour = usize::from(self.seq.colour_as_made(bead).0);
            self.line.extend_from_slice(self.letters[colour].as_bytes());
            self.text("}");
        }
    }

    fn passes(&mut self, beads: &[Bead]) {
        for (n, bead) in beads.iter().enumerate() {
            if n > 0 {
                self.text(",");
            }
            self.number(bead.0);
        }
    }

    fn text(&mut self, text: &str) {
        self.line.extend_from_slice(text.as_bytes());
    }

    fn number(&mut self, number: u32) {
        let digits = self.digits.format(number);
        self.line.extend_from_slice(digits.as_bytes());
    }

    fn number_or_null(&mut self, number: Option<u32>) {
        match number {
            Some(number) => self.number(number),
            None => self.text("null"),
        }
    }
}

/// A movement in words, with the beads of it that were broken out since.
pub(super) fn say(seq: &Sequence, m: &Movement) -> String {
    let said = seq.say(m);
    match seq.say_broken_out(m.step) {
        Some(more) => format!("{said}; {more}"),
        None => said,
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::beadwork::movement::Kind;
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::testing;
    use schemars::JsonSchema;
    use serde::Serialize;

    /// One step as `steps --json` prints it; docs/outputs.md says what each
    /// field means.
    #[derive(Serialize, JsonSchema)]
    #[schemars(title = "A line of steps --json")]
    pub(in crate::cli) struct StepLine<'a> {
        format: Format,
        #[schemars(range(min = 1))]
        step: u32,
        #[schemars(length(min = 1))]
        job: &'a str,
        #[schemars(range(min = 1))]
        job_number: u32,
        #[schemars(extend("enum" = Kind::ALL.map(|(_, name)| name)))]
        kind: &'static str,
        #[schemars(range(min = 1))]
        round: Option<u32>,
        #[schemars(range(min = 1, max = 12))]
        side: Option<u32>,
        #[schemars(length(max = 4))]
        strings: Vec<Strung>,
        #[schemars(inner(range(min = 1)))]
        passes: Vec<u32>,
        /// The bead that is broken out, of a break-out only.
        #[serde(skip_serializing_if = "Option::is_none")]
        #[schemars(inner(range(min = 1)), length(min = 1, max = 1))]
        removes: Option<Vec<u32>>,
        #[schemars(length(min = 1))]
        text: String,
        round_beads: u32,
        round_target: u32,
        #[serde(skip_serializing_if = "Option::is_none")]
        worked: Option<bool>,
    }

    #[derive(Serialize, JsonSchema)]
    struct Strung {
        #[schemars(range(min = 1))]
        bead: u32,
        colour: char,
    }

    fn serialized(seq: &Sequence, at: Option<Step>, m: &Movement) -> String {
        let text = say(seq, m);
        let m = &seq.as_made(m.clone());
        let kinds = seq.layout().bead_kinds();
        let strung = |bead: &Bead| Strung {
            bead: bead.0,
            colour: kinds[usize::from(seq.colour_as_made(*bead).0)].letter,
        };
        let line = StepLine {
            format: Format,
            step: m.step.0,
            job: &seq.job(m.job).title,
            job_number: m.job.0 as u32 + 1,
            kind: m.kind.name(),
            round: m.round.map(|round| round.0),
            side: m.side.map(|side| side.number()),
            strings: m.strings.iter().map(strung).collect(),
            passes: m.passes.iter().map(|bead| bead.0).collect(),
            removes: m.removes.map(|bead| vec![bead.0]),
            text,
            round_beads: m.round_beads,
            round_target: m.round_target,
            worked: at.map(|at| m.step <= at),
        };
        serde_json::to_string(&line).unwrap() + "\n"
    }

    fn awkward(mut project: Project) -> Project {
        project.panels[0].name = "wall \"\\\u{7f} ☆".into();
        project.beads[0].letter = 'Ж';
        project
    }

    #[test]
    fn lines_written_by_hand_are_those_of_the_library() {
        for project in [
            testing::single(testing::panel(6, 7)),
            awkward(testing::single(testing::inward(3, 6, 2))),
            awkward(testing::solid(Solid::Octahedron, 4, Closing::Fill)),
            testing::folded_pair(6, 2),
        ] {
            let seq = Sequence::new(project);
            for at in [None, Some(Step(0)), Some(Step(9))] {
                let mut lines = StepLines::new(&seq, at).unwrap();
                for m in seq.iter_from(Step(1)) {
                    let want = serialized(&seq, at, &m);
                    let line = lines.line(m).unwrap();
                    assert_eq!(std::str::from_utf8(line).unwrap(), want);
                }
            }
        }
    }
}
