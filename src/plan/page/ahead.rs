//! What is still ahead, once the work goes.

use super::Page;
use super::say::hours;
use crate::plan::ahead::Ahead;

impl Page<'_> {
    pub(super) fn ahead(&mut self, ahead: &Ahead) {
        let plan = self.plan;
        self.heading("From here on");
        self.line(format!(
            "{} of {} steps are ahead, about {} of {}",
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
                "{} {}: {count} of {} beads still to string, {grams:.1} g",
                beads.letter, beads.name, beads.count
            ));
        }
        self.line(format!(
            "thread still to draw in, tails with it: {} of {}",
            self.unit.thread(ahead.thread_mm),
            self.unit.thread(plan.thread_mm())
        ));
    }
}
