//! `verify`: proves that the steps keep the rules.

use std::io::Write;

use schemars::JsonSchema;
use serde::Serialize;

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::line::Format;
use super::{out, source};
use crate::beadwork::verify::{Finding, Report, verify};
use crate::beadwork::{Bead, Job, Round, Sequence, Step};
use crate::progress::Tray;

/// The proof as `verify --json` prints it; docs/outputs.md says what each
/// field means.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "The object of verify --json")]
pub(super) struct ReportLine<'a> {
    format: Format,
    proved: bool,
    steps: u32,
    beads: u32,
    passes: u64,
    rounds: u32,
    joins: u32,
    threads: u32,
    fullest: u32,
    findings: Vec<FindingLine<'a>>,
    more: u64,
}

/// One thing that is against a rule.
#[derive(Serialize, JsonSchema)]
struct FindingLine<'a> {
    #[schemars(range(min = 1))]
    step: Option<u32>,
    job: Option<&'a str>,
    #[schemars(range(min = 1))]
    round: Option<u32>,
    #[schemars(length(min = 1))]
    finding: String,
}

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened.
pub(super) fn run(args: &args::PatternOrPieceArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let source::PatternAt { seq, title, .. } = source::sequence(tray, &args.of.name)?;
    let (project, layout) = (seq.layout().project(), seq.layout());
    let size_of = |bead: Bead| layout.bead_kind(seq.colour_as_made(bead)).size;
    let (goal, jobs) = (seq.goal(), seq.jobs());
    let report = verify(project, goal, jobs, seq.iter_as_made(), size_of);
    out::answer(args.json, [line(&seq, &report)], |out| {
        text(&title, &report, out)
    })?;
    Ok(match report.is_proved() {
        true => CommandEnd::Done,
        false => CommandEnd::No,
    })
}

fn line<'a>(seq: &'a Sequence, report: &Report) -> ReportLine<'a> {
    let title = |job: Job| Some(seq.jobs().get(job.index())?.title.as_str());
    let finding = |f: &Finding| FindingLine {
        step: f.step.map(|Step(step)| step),
        job: f.job.and_then(title),
        round: f.round.map(|Round(round)| round),
        finding: f.fault.to_string(),
    };
    ReportLine {
        format: Format,
        proved: report.is_proved(),
        steps: report.steps,
        beads: report.beads,
        passes: report.passes,
        rounds: report.rounds,
        joins: report.joins,
        threads: report.threads,
        fullest: report.fullest,
        findings: report.findings.iter().map(finding).collect(),
        more: report.more,
    }
}

fn text(title: &str, report: &Report, out: &mut dyn Write) -> Result<(), Failure> {
    match report.is_proved() {
        true => writeln!(out, "{title}: proved")?,
        false => writeln!(out, "{title}: not proved")?,
    }
    for (what, count) in [
        ("steps read", u64::from(report.steps)),
        ("beads strung", u64::from(report.beads)),
        ("beads gone through", report.passes),
        ("rounds", u64::from(report.rounds)),
        ("sides joined", u64::from(report.joins)),
        ("lengths of thread", u64::from(report.threads)),
        ("passes through the fullest bead", u64::from(report.fullest)),
    ] {
        writeln!(out, "  {count:>9}  {what}")?;
    }
    for finding in &report.findings {
        writeln!(out, "{finding}")?;
    }
    if report.more > 0 {
        writeln!(out, "and {} more", report.more)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::movement::Movement;
    use crate::beadwork::testing;

    fn report(spoil: impl Fn(&mut Movement)) -> (Sequence, Report) {
        let seq = Sequence::new(testing::single(testing::panel(3, 4)));
        let size = seq.layout().bead_kinds()[0].size;
        let steps = seq.iter().map(|mut movement| {
            spoil(&mut movement);
            movement
        });
        let report = verify(
            seq.layout().project(),
            seq.goal(),
            seq.jobs(),
            steps,
            |_| size,
        );
        (seq, report)
    }

    fn printed(seq: &Sequence, report: &Report) -> (String, String) {
        let as_json = serde_json::to_string(&line(seq, report)).unwrap();
        let mut as_text = Vec::new();
        text("Harbour lantern", report, &mut as_text).unwrap();
        (as_json, String::from_utf8(as_text).unwrap())
    }

    #[test]
    fn a_triangle_is_proved_with_its_numbers() {
        let (seq, report) = report(|_| {});
        let (json, text) = printed(&seq, &report);
        assert!(
            json.starts_with("{\"format\":1,\"proved\":true,\"steps\":"),
            "{json}"
        );
        assert!(json.ends_with("\"findings\":[],\"more\":0}"), "{json}");
        assert!(text.starts_with("Harbour lantern: proved\n"), "{text}");
        assert!(text.contains("\n         30  beads strung\n"), "{text}");
    }

    #[test]
    fn a_step_up_of_one_bead_is_found_and_named() {
        let (seq, report) = report(|movement| {
            if movement.step == Step(9) {
                movement.passes.pop();
            }
        });
        let (json, text) = printed(&seq, &report);
        assert!(json.contains("\"proved\":false"), "{json}");
        assert!(
            json.contains("\"findings\":[{\"step\":9,\"job\":\"face\",\"round\":2,\"finding\":\""),
            "{json}"
        );
        assert!(text.contains("\nstep 9, job 1, round 2: "), "{text}");
    }
}
