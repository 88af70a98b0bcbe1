//! How it is sewn: the fullest holes, kinds of panel, the order of joins.

use super::Page;
use crate::beadwork::hole::Passing;
use crate::beadwork::many;
use crate::plan::BeadPlace;
use crate::plan::fullest::Help;
use crate::plan::json::verdict;
use crate::plan::kinds::KindsReason;

impl Page<'_> {
    pub(super) fn holes(&mut self) {
        let plan = self.plan;
        self.heading("Fullest holes");
        for (full, place) in plan.fullest.worst.iter().zip(&plan.fullest_places) {
            self.line(format!(
                "bead {} ({}): {} passes, {}",
                place.number,
                place_words(place),
                full.passes,
                verdict(full.verdict)
            ));
        }
        let worst = plan.fullest.worst.first().map(|f| f.verdict);
        self.line(match worst {
            None | Some(Passing::Comfortable) => {
                "the needle goes through every bead comfortably to the last".to_string()
            }
            _ => format!(
                "! on the last pass {} tight, and {} too full for this needle",
                many(plan.fullest.tight as usize, "bead is", "beads are"),
                many(plan.fullest.blocked as usize, "bead is", "beads are")
            ),
        });
        for help in &plan.fullest.help {
            self.line(format!("  {}", help_words(*help)));
        }
        if let Some(size) = plan.fullest.widest_comfortable
            && plan.needle.size() != Some(size)
        {
            self.line(format!(
                "the widest needle that goes through all beads comfortably: size {size}"
            ));
        }
    }

    pub(super) fn joining(&mut self) {
        let plan = self.plan;
        let order = &plan.order;
        if order.joins == 0 {
            return;
        }
        self.heading("Joining");
        for kind in &plan.kinds.kinds {
            self.line(format!(
                "{} of '{}' {}",
                many(kind.count, "panel", "panels"),
                kind.panel,
                match (kind.rows, kind.side_by_side) {
                    (0, _) => "with no join row".to_string(),
                    (1, _) => "with one join row".to_string(),
                    (rows, true) => format!("with join rows on {rows} sides, one after another"),
                    (rows, false) => format!("with join rows on {rows} sides"),
                }
            ));
        }
        let kinds = plan.kinds.kinds.len();
        self.line(match plan.kinds.why {
            KindsReason::OneEach => format!("{}: one for each pattern of panel, so no fewer", many(kinds, "kind", "kinds")),
            KindsReason::Uneven { rows, panels } => format!(
                "{kinds} kinds, and no fewer: {rows} rows cannot lie evenly on the {panels} panels that carry them"
            ),
            KindsReason::NotProved => format!(
                "{kinds} kinds; at least {} are needed, and whether fewer than {kinds} can do is not known",
                plan.kinds.fewest
            ),
        });
        self.line(format!(
            "{}; {} to begin panels and {} more; by length and panels at least {} in all",
            many(order.joins, "join", "joins"),
            many(order.panel_threads, "thread", "threads"),
            order.further_threads,
            order.fewest_threads
        ));
        self.line(format!(
            "{} passed only to move the needle (the least with as many threads, by route inspection: {})",
            many(order.retravel as usize, "bead is", "beads are"),
            order.with_panel_threads.cost
        ));
        self.line(match (order.one_thread.exact, order.one_thread.cost) {
            (_, 0) => "all joins could be sewn in one thread without passing a bead again".into(),
            (exact, cost) => format!(
                "all joins in one thread: {} {} passed again",
                if exact { "at best" } else { "no fewer than" },
                many(cost as usize, "bead is", "beads are")
            ),
        });
        if let Some(words) = order.says_of_hinges() {
            self.line(words);
        }
    }
}

fn place_words(place: &BeadPlace) -> String {
    format!(
        "{}, {}, round {}, side {}, place {}",
        place.letter, place.job, place.round, place.side, place.place
    )
}

/// What would let the needle through, in words.
pub fn help_words(help: Help) -> String {
    match help {
        Help::Needle(size) => format!("a needle of size {size} would go through comfortably"),
        Help::Thread(name) => format!("thread {name} would go through comfortably"),
        Help::Both(size, name) => {
            format!("a needle of size {size} with thread {name} would go through comfortably")
        }
        Help::NextDoor => {
            "no usual needle and thread would: use another row of beads next to these, \
                           or beads with wider holes"
                .to_string()
        }
    }
}
