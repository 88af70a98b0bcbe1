//! `beads`: every bead of the piece.

use std::io::Write;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::Format;
use super::{out, source};
use crate::beadwork::job::JobInfo;
use crate::beadwork::{Bead, Sequence};
use crate::progress::Tray;

/// One bead as `beads --json` prints it; docs/outputs.md says what each field
/// means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "A line of beads --json")]
pub(super) struct BeadLine<'a> {
    format: Format,
    #[schemars(range(min = 1))]
    bead: u32,
    colour: char,
    #[schemars(length(min = 1))]
    job: &'a str,
    #[schemars(length(min = 1))]
    panel: &'a str,
    #[schemars(range(min = 1))]
    round: u32,
    #[schemars(range(min = 1, max = 12))]
    side: u32,
    #[schemars(range(min = 1))]
    place: u32,
    x: f64,
    y: f64,
    z: f64,
    #[schemars(range(min = 1))]
    passes: u16,
}

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened.
pub(super) fn run(args: &args::PatternOrPieceArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let seq = source::sequence(tray, &args.of.name)?.seq;
    out::answer(args.json, beads(&seq), |out| text(&seq, out))
}

fn text(seq: &Sequence, out: &mut dyn Write) -> Result<(), Failure> {
    let mut last_heading = None;
    for b in beads(seq) {
        if last_heading.replace((b.job, b.panel)) != Some((b.job, b.panel)) {
            match b.job == b.panel {
                true => writeln!(out, "{}", b.job)?,
                false => writeln!(out, "{}, panel {}", b.job, b.panel)?,
            }
            writeln!(
                out,
                "{:>9} colour round side place {:>10} {:>10} {:>10} passes",
                "bead", "x mm", "y mm", "z mm"
            )?;
        }
        writeln!(
            out,
            "{:>9} {:<6} {:>5} {:>4} {:>5} {:>10.2} {:>10.2} {:>10.2} {:>6}",
            b.bead, b.colour, b.round, b.side, b.place, b.x, b.y, b.z, b.passes
        )?;
    }
    Ok(())
}

/// All beads, in the order in which they are strung.
fn beads(seq: &Sequence) -> impl Iterator<Item = BeadLine<'_>> {
    let layout = seq.layout();
    let kinds = layout.bead_kinds();
    let places = seq.work().bead_places();
    let passes = seq.work().passes_by_bead();
    // A job that strings nothing has no bead to look up.
    let stringing: Vec<&JobInfo> = seq.jobs().iter().filter(|job| job.beads > 0).collect();
    (1..=layout.beads()).map(move |number| {
        let seat = layout.seat(Bead(number));
        let at = places.seat(seat);
        let job = stringing.partition_point(|job| job.beads_before < number) - 1;
        BeadLine {
            format: Format,
            bead: seq.bead_as_made(Bead(number)).0,
            colour: kinds[usize::from(layout.colour_of(seat).0)].letter,
            job: &stringing[job].title,
            panel: &layout.panel(seat.panel).name,
            round: seat.round.0,
            side: seat.side.number(),
            place: seat.place + 1,
            x: millimetres(at.x),
            y: millimetres(at.y),
            z: millimetres(at.z),
            passes: passes[number as usize - 1],
        }
    })
}

/// To a ten-thousandth of a millimetre: smaller differences are noise of the
/// arithmetic. Zero has no sign.
fn millimetres(exact: f64) -> f64 {
    (exact * 1e4).round() / 1e4 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    #[test]
    fn a_bead_of_a_join_row_belongs_to_the_panel_that_carries_it() {
        let rounds = 4;
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, rounds, Closing::SetIn));
        let rows: Vec<_> = beads(&seq).filter(|b| b.round == rounds + 1).collect();
        // Six joins of one row each, a bead fewer than the edge has.
        assert_eq!(rows.len() as u32, 6 * (rounds - 1));
        assert!(rows.iter().all(|b| b.job.contains(b.panel)));
        assert!(rows.iter().all(|b| b.job.starts_with("Join row on ")));
    }

    #[test]
    fn passes_add_up_to_those_of_all_steps() {
        let seq = Sequence::new(testing::folded_pair(6, 2));
        let total: u64 = seq.work().passes_by_bead().into_iter().map(u64::from).sum();
        assert_eq!(total, seq.passes());
    }

    #[test]
    fn zero_has_no_sign_and_rounding_noise_is_dropped() {
        assert_eq!(millimetres(-1e-17).to_string(), "0");
        assert_eq!(millimetres(2.25000000001).to_string(), "2.25");
    }

    #[test]
    fn the_text_has_a_heading_with_columns_for_each_job() {
        // The ring is so wide that the pairs of round 2 have room: their beads
        // reach 1.95 mm along the side, so 1.95 / tan 60° + 0.597 mm less the
        // 0.7506 mm from round to round; side 2 is at 120°.
        let seq = Sequence::new(testing::single(testing::panel(3, 1)));
        let mut out = Vec::new();
        text(&seq, &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert_eq!(
            text.lines().next_back().unwrap(),
            "        3 S          1    2     1      -0.49       0.84       0.00      2"
        );
        assert!(text.starts_with("face\n     bead colour round side place       x mm"));
    }
}
