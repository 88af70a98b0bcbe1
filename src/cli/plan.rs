//! `plan`: what a piece takes, before the first bead.

use super::args;
use super::exit::Outcome;
use super::failure::Failure;
use super::line::Lines;
use super::{out, source};
use crate::beadwork::Sequence;
use crate::plan::page::{Unit, page};
use crate::plan::{Plan, Wishes, json};

/// Runs the command.
///
/// # Errors
/// A pattern that cannot be had, or thread cut too short.
pub(super) fn run(args: &args::Plan) -> Result<Outcome, Failure> {
    let mut found = source::pattern(&args.pattern.pattern)?.pattern;
    let thread = &mut found.project.thread;
    if let Some(cut_mm) = args.cut {
        if cut_mm <= 2.0 * thread.tail_mm {
            let tail_mm = thread.tail_mm;
            return Err(Failure::new(
                format!(
                    "thread cut to {cut_mm} mm leaves nothing to sew with between its ends of {tail_mm} mm"
                ),
                format!("give more than {} mm after --cut", 2.0 * tail_mm),
            ));
        }
        thread.cut_mm = cut_mm;
    }
    let wishes = Wishes {
        spare_percent: args.spare,
        stitch_seconds: args.pace,
        stone_mm: args.stone,
        ..Wishes::default()
    };
    let unit = match args.inches {
        true => Unit::Inches,
        false => Unit::Millimetres,
    };
    let plan = Plan::of(&Sequence::new(found.project), wishes);
    out::print(|out| {
        match args.json.json {
            true => Lines::new(out).write(&json::object(&plan))?,
            false => out.write_all(page(&found.title, &plan, unit).as_bytes())?,
        }
        Ok(())
    })?;
    Ok(Outcome::Done)
}
