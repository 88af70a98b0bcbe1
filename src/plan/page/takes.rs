//! What a piece takes (beads, thread, time), how big it gets, and what is still
//! ahead once work has begun.

use super::{Page, hours};
use crate::beadwork::many;
use crate::plan::ahead::Ahead;
use crate::plan::pace;
use crate::plan::size::WHY_RANGES;

/// The most lengths of thread listed one by one; the rest is only counted.
const THREADS_LISTED: usize = 12;

/// The most ways to cut lengths listed on one line.
const CUTS_IN_A_LINE: usize = 5;

/// The most groups of lengths that can be one, listed one by one.
const JOINED_LISTED: usize = 6;

/// The most jobs listed one by one.
const JOBS_LISTED: usize = 24;

impl Page<'_> {
    pub(super) fn beads(&mut self) {
        let plan = self.plan;
        self.heading("Beads");
        for beads in &plan.beads {
            self.line(format!(
                "{} {}{}: {} beads, {:.1} g; buy {:.1} g with {} spare",
                beads.letter,
                beads.name,
                beads.size.map_or(String::new(), |size| format!(", {size}")),
                beads.count,
                beads.grams,
                beads.buy_grams,
                beads.spare
            ));
        }
        self.line(format!(
            "in all {} beads, {:.1} g (what to buy includes {} % spare)",
            plan.total_beads,
            plan.grams(),
            plan.wishes.spare_percent
        ));
    }

    pub(super) fn thread(&mut self) {
        let plan = self.plan;
        let threads = plan.threads.len();
        self.heading("Thread and needle");
        let lengths = many(threads, "length", "lengths");
        let tails = self.unit.length(plan.thread.tail_mm);
        let how = match plan.threads_alike().len() {
            0 | 1 => format!(
                ", {} mm: {lengths} cut to {} with {tails} left at each end",
                match plan.thread.name() {
                    Some(name) => name.to_string(),
                    None => plan.thread.diameter_mm.to_string(),
                },
                self.unit.thread(plan.thread.cut_mm),
            ),
            _ => format!(": {lengths} with {tails} left at each end"),
        };
        self.line(format!(
            "{} of thread{how}",
            self.unit.thread(plan.thread_mm())
        ));
        let alike = plan.threads_alike();
        if alike.len() > 1 {
            alike
                .into_iter()
                .for_each(|alike| self.line(self.unit.lengths(alike)));
        }
        let cuts = &plan.cuts;
        for (nth, fitted) in self.unit.fitted(cuts).chunks(CUTS_IN_A_LINE).enumerate() {
            let what = if nth == 0 { "cut to fit:" } else { "  and" };
            self.line(format!("{what} {}", fitted.join(", ")));
        }
        self.line(format!("  in all {}", self.unit.left_over(cuts)));
        for joined in cuts.joined.iter().take(JOINED_LISTED) {
            self.line(format!(
                "lengths {} to {} can be one of {}: fewer ends to weave in",
                joined.first,
                joined.last,
                self.unit.thread(joined.cut_mm)
            ));
        }
        if cuts.joined.len() > JOINED_LISTED {
            let more = cuts.joined.len() - JOINED_LISTED;
            self.line(format!("and {more} times more (--json lists every one)"));
        }
        if threads > 1 {
            self.line("what each length takes, with both its ends:");
        }
        for (nth, thread) in plan.threads.iter().take(THREADS_LISTED).enumerate() {
            let jobs = thread.jobs;
            let titles = match jobs.0 == jobs.1 {
                true => plan.job_titles[jobs.0].clone(),
                false => format!(
                    "from {}; to {}",
                    plan.job_titles[jobs.0], plan.job_titles[jobs.1]
                ),
            };
            self.line(format!(
                "  {:>3}. {}, steps {} to {}: {titles}",
                nth + 1,
                self.unit.thread(thread.takes_mm),
                thread.steps.first,
                thread.steps.last,
            ));
        }
        if threads > THREADS_LISTED {
            let more = threads - THREADS_LISTED;
            self.line(format!("  and {more} more (--json lists every one)"));
        }
        match plan.too_long() {
            0 => {}
            long => self.line(format!(
                "! {} more thread than is cut, by up to {}: cut longer, or leave shorter ends",
                many(long, "length takes", "lengths take"),
                self.unit.length(plan.over_cut_mm())
            )),
        }
        let needle = match plan.needle.size() {
            Some(size) => format!("needle: size {size}"),
            None => "needle".to_string(),
        };
        self.line(format!("{needle}, {} mm", plan.needle.diameter_mm));
    }

    pub(super) fn time(&mut self) {
        let plan = self.plan;
        self.heading("Steps and time");
        let pace = plan.wishes.stitch_seconds;
        let whose = match pace == pace::STITCH {
            _ if plan.wishes.own_pace => " (your own pace at this piece)",
            true => " (a typical pace)",
            false => "",
        };
        self.line(format!(
            "{} steps, about {} at {} s a stitch{whose}",
            plan.total_steps,
            hours(plan.minutes),
            (pace * 10.0).round() / 10.0,
        ));
        let jobs = plan.job_titles.len();
        for job in 0..jobs.min(JOBS_LISTED) {
            self.line(format!(
                "  {}: {} of thread, {}",
                plan.job_titles[job],
                self.unit.thread(plan.job_thread_mm[job]),
                hours(plan.job_minutes(job))
            ));
        }
        if jobs > JOBS_LISTED {
            self.line(format!(
                "  and {} (--json lists every one)",
                many(jobs - JOBS_LISTED, "more job", "more jobs")
            ));
        }
    }

    pub(super) fn size(&mut self) {
        let size = self.plan.size;
        self.heading("Finished size (outside about one bead more)");
        for (what, least, most) in size.measures() {
            self.line(format!("{what} {}", self.unit.range(least, most)));
        }
        if size.through_mm.is_none() {
            self.line("these jobs leave loose pieces, so there is no overall size");
        }
        if size.bellied.is_some() {
            self.line(format!("({WHY_RANGES})"));
        }
    }

    pub(super) fn ahead(&mut self, ahead: &Ahead) {
        let plan = self.plan;
        self.heading("From here on");
        self.line(format!(
            "{} of {} steps are left, about {} of {}",
            ahead.steps,
            plan.total_steps,
            hours(ahead.minutes),
            hours(plan.minutes)
        ));
        for (beads, &count) in plan.beads.iter().zip(&ahead.beads) {
            let grams = match beads.count {
                0 => 0.0,
                all => beads.grams * f64::from(count) / f64::from(all),
            };
            self.line(format!(
                "{} {}: {count} of {} beads left to string, {grams:.1} g",
                beads.letter, beads.name, beads.count
            ));
        }
        self.line(format!(
            "thread left to draw in, with tails: {} of {}",
            self.unit.thread(ahead.thread_mm),
            self.unit.thread(plan.thread_mm())
        ));
    }
}
