//! `plan`: what a piece needs, before the first bead.

use super::CommandEnd;
use super::args;
use super::failure::Failure;
use super::{out, source};
use crate::plan::page::{Unit, page};
use crate::plan::{Plan, Wishes, json};
use crate::progress::Tray;
use crate::tracking::pace::own_cut_mm;

/// Runs the command.
///
/// # Errors
/// The pattern or piece cannot be opened, or the thread is cut too short.
pub(super) fn run(args: &args::PlanArgs, tray: &Tray) -> Result<CommandEnd, Failure> {
    let found = source::changed_sequence(tray, &args.of.name, |project| {
        let thread = &mut project.thread;
        let tail_mm = thread.tail_mm;
        match args.cut {
            Some(cut_mm) if cut_mm <= 2.0 * tail_mm => {
                return Err(Failure::new(
                    format!(
                        "thread cut to {cut_mm} mm leaves nothing to sew with between its ends of {tail_mm} mm"
                    ),
                    format!("give more than {} mm after --cut", 2.0 * tail_mm),
                ));
            }
            cut_mm => thread.cut_mm = cut_mm.unwrap_or(thread.cut_mm),
        }
        Ok(())
    })?;
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
    let plan = Plan::of(&found.seq, wishes)
        .with_own_cuts(|length| own_cut_mm(&found.seq, &found.threads, length));
    out::answer(args.json, [json::object(&plan)], |out| {
        Ok(out.write_all(page(&found.title, &plan, unit).as_bytes())?)
    })
}
