//! `steps`: the movements in order.

use std::io::Write;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::step_line::StepLines;
use super::{out, source};
use crate::beadwork::movement::Movement;
use crate::beadwork::{Sequence, Step};
use crate::progress::Tray;

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened, or there is no such step.
pub(super) fn run(args: &args::StepsArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let source::PatternAt { seq, at, .. } = source::sequence(tray, &args.of.name)?;
    let from = args.from;
    if from > seq.steps() {
        let steps = seq.steps();
        return Err(Failure::new(
            format!("there is no step {from}: the piece has {steps} steps"),
            format!("give a number from 1 to {steps} after --from"),
        ));
    }
    let count = args.count.map_or(usize::MAX, |n| n as usize);
    let steps = seq.iter_from(Step(from)).take(count);
    out::print(|out| match args.json.json {
        true => json(&seq, at, steps, out),
        false => text(&seq, steps, out),
    })
}

fn json(
    seq: &Sequence,
    at: Option<Step>,
    steps: impl Iterator<Item = Movement>,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let mut lines = StepLines::new(seq, at)?;
    for movement in steps {
        out.write_all(lines.line(movement)?)?;
    }
    Ok(())
}

fn text(
    seq: &Sequence,
    steps: impl Iterator<Item = Movement>,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let width = seq.steps().to_string().len();
    let mut job = None;
    for m in steps {
        if job.replace(m.job) != Some(m.job) {
            writeln!(out, "Job {}: {}", m.job, seq.job(m.job).title)?;
        }
        let at = seq.say_where(&m);
        let mut words = seq.say_fully(&m);
        if let Some(more) = seq.say_broken_out(m.step) {
            words = format!("{words}; {more}");
        }
        match at.is_empty() {
            true => writeln!(out, "  {:>width$}  {words}", m.step)?,
            false => writeln!(out, "  {:>width$}  {words} ({at})", m.step)?,
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::testing;

    fn printed(first: u32, count: usize, json_wanted: bool) -> String {
        let seq = Sequence::new(testing::single(testing::panel(3, 4)));
        let steps = seq.iter_from(Step(first)).take(count);
        let mut out = Vec::new();
        match json_wanted {
            true => json(&seq, None, steps, &mut out),
            false => text(&seq, steps, &mut out),
        }
        .unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn an_increase_strings_two_beads_and_passes_three() {
        // Round 1 strung and closed, then the corner of round 2.
        assert_eq!(
            printed(6, 1, true),
            "{\"format\":1,\"step\":6,\"job\":\"face\",\"job_number\":1,\"kind\":\"increase\",\"round\":2,\"side\":3,\
             \"strings\":[{\"bead\":4,\"colour\":\"S\"},{\"bead\":5,\"colour\":\"S\"}],\
             \"passes\":[4,5,2],\"text\":\"Increase: pick up 2 S, sew through the next bead\",\
             \"round_beads\":2,\"round_target\":6}\n"
        );
    }

    #[test]
    fn a_step_without_round_or_side_says_null() {
        let line = printed(1, 1, true);
        assert!(line.contains("\"kind\":\"start-thread\",\"round\":null,\"side\":null,"));
    }

    #[test]
    fn the_text_names_the_job_once() {
        assert_eq!(
            printed(1, 3, false),
            "Job 1: face\n   \
             1  New thread: cut 150 cm, leave a tail of 15 cm\n   \
             2  Pick up 1 S for the ring (round 1 of 4 outward, side 3 of 3, bead 1 of 1)\n   \
             3  Pick up 1 S for the ring (round 1 of 4 outward, side 1 of 3, bead 1 of 1)\n"
        );
    }
}
