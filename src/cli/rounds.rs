//! `rounds`: the table of rounds.

use std::io::Write;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::Format;
use super::table::{Align, Table};
use super::{out, source};
use crate::beadwork::round_info::{RoundBase, RoundDirection, RoundInfo, rounds};
use crate::beadwork::{Sequence, Side};
use crate::progress::Tray;
use crate::words::short;

/// One round as `rounds --json` prints it; docs/outputs.md says what each
/// field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "A line of rounds --json")]
pub(super) struct RoundLine<'a> {
    format: Format,
    #[schemars(length(min = 1))]
    job: &'a str,
    #[schemars(length(min = 1))]
    panel: &'a str,
    #[schemars(range(min = 1))]
    round: u32,
    #[schemars(extend("enum" = [RoundDirection::Outward, RoundDirection::Inward, RoundDirection::Onward].map(RoundDirection::name)))]
    direction: &'static str,
    #[schemars(range(min = 1))]
    beads: u32,
    #[schemars(length(min = 1, max = 12))]
    per_side: Vec<u32>,
    #[schemars(range(min = 1))]
    total: u32,
}

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened.
pub(super) fn run(args: &args::PatternOrPieceArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let seq = source::sequence(tray, &args.of.name)?.seq;
    let lines = rounds(&seq).map(|round| line(&seq, round));
    out::answer(args.json, lines, |out| text(&seq, out))
}

fn line(seq: &Sequence, round: RoundInfo) -> RoundLine<'_> {
    RoundLine {
        format: Format,
        job: &seq.job(round.job).title,
        panel: &seq.layout().panel(round.panel).name,
        round: round.round.0,
        direction: round.direction.name(),
        beads: round.beads(),
        per_side: round.per_side,
        total: round.total,
    }
}

fn text(seq: &Sequence, out: &mut dyn Write) -> Result<(), Failure> {
    let rounds: Vec<RoundInfo> = rounds(seq).collect();
    for (nth, of_job) in rounds.chunk_by(|a, b| a.job == b.job).enumerate() {
        if nth > 0 {
            writeln!(out)?;
        }
        let job = of_job[0].job;
        writeln!(out, "Job {job}: {}", seq.job(job).title)?;
        let mut table = Table::new([
            ("round", Align::Right),
            ("", Align::Left),
            ("beads", Align::Right),
            ("per side", Align::Left),
            ("total", Align::Right),
            ("into gaps", Align::Left),
            ("colours", Align::Left),
        ]);
        for round in of_job {
            table.push(row(seq, round));
        }
        table.write(out)?;
    }
    letters(seq, out)
}

fn row(seq: &Sequence, round: &RoundInfo) -> [String; 7] {
    [
        round.round.to_string(),
        round.direction.name().into(),
        round.beads().to_string(),
        per_side(&round.per_side),
        round.total.to_string(),
        gap_word(seq, round),
        colours(seq, round),
    ]
}

fn per_side(beads: &[u32]) -> String {
    match beads {
        [only] => only.to_string(),
        [first, rest @ ..] if rest.iter().all(|b| b == first) => format!("{first} each"),
        _ => beads
            .iter()
            .map(u32::to_string)
            .collect::<Vec<_>>()
            .join(" "),
    }
}

fn gap_word(seq: &Sequence, round: &RoundInfo) -> String {
    match round.base {
        RoundBase::Ring => "the ring".into(),
        RoundBase::String => "of the string".into(),
        RoundBase::Rim => "on the rim".into(),
        RoundBase::Edge => "join row".into(),
        RoundBase::Round(_) => short::gaps(&round.gaps(seq), round.per_side.len()),
    }
}

/// The colours of each side, written once where all sides are the same.
fn colours(seq: &Sequence, round: &RoundInfo) -> String {
    let beads = seq.layout().bead_kinds();
    let words: Vec<(Side, String)> = (0..round.per_side.len() as u8)
        .map(Side)
        .filter(|side| round.per_side[side.index()] > 0)
        .map(|side| {
            let letters = round
                .colours(seq, side)
                .map(|c| beads[usize::from(c.0)].letter);
            (side, short::colours(letters))
        })
        .collect();
    match &words[..] {
        [(_, only)] if round.per_side.len() == 1 => only.clone(),
        [(_, first), rest @ ..]
            if words.len() == round.per_side.len() && rest.iter().all(|(_, w)| w == first) =>
        {
            format!("each side: {first}")
        }
        _ => {
            let sides = words
                .iter()
                .map(|(side, word)| format!("side {side}: {word}"));
            sides.collect::<Vec<_>>().join("; ")
        }
    }
}

/// The legend: the name of each letter's colour.
fn letters(seq: &Sequence, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out)?;
    for bead in seq.layout().bead_kinds() {
        writeln!(out, "{}  {}", bead.letter, bead.name)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Project, testing};

    fn printed(project: Project) -> String {
        let mut out = Vec::new();
        text(&Sequence::new(project), &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn the_fourth_round_of_a_triangle_in_json() {
        let seq = Sequence::new(testing::single(testing::panel(3, 4)));
        let last = rounds(&seq).last().unwrap();
        assert_eq!(
            serde_json::to_string(&line(&seq, last)).unwrap(),
            "{\"format\":1,\"job\":\"face\",\"panel\":\"face\",\"round\":4,\"direction\":\"outward\",\
             \"beads\":12,\"per_side\":[4,4,4],\"total\":30}"
        );
    }

    #[test]
    fn the_table_of_a_triangle() {
        assert_eq!(
            printed(testing::single(testing::panel(3, 3))),
            "\
Job 1: face
  round           beads  per side  total  into gaps  colours
      1  outward      3  1 each        3  the ring   each side: S
      2  outward      6  2 each        9  2*3        each side: S2
      3  outward      9  3 each       18  (2 1)*3    each side: S3

S  slate
"
        );
    }

    #[test]
    fn the_table_of_an_inward_triangle_shows_decreases() {
        assert_eq!(
            printed(testing::single(testing::inward(3, 4, 1))),
            "\
Job 1: inward
  round          beads  per side  total  into gaps      colours
      4  inward     12  4 each       12  of the string  each side: S4
      3  inward      9  3 each       21  of the string  each side: S3
      2  inward      6  2 each       27  (1*2 0)*3      each side: S2

S  slate
"
        );
    }
}
