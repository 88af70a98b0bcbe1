//! The plan as a page for a beader: all its sentences, made here.

use super::colours::Alike;
use super::flat::{Flatness, Lie};
use super::fullest::Help;
use super::json::{hex, needle_size, verdict};
use super::kinds::Why;
use super::size::{MM_PER_INCH, Size};
use super::stone::{Opening, StoneFit};
use super::turning::Turning;
use super::walk::ThreadLength;
use super::{Place, Plan};
use crate::beadwork::Colour;
use crate::beadwork::corner_law::{CornerLaw, Start};
use crate::beadwork::hole::Passing;
use std::fmt::Write as _;

/// Lengths of thread told one by one; of more the rest is only counted.
const THREADS_TOLD: usize = 12;

/// Jobs told one by one.
const JOBS_TOLD: usize = 24;

/// In which unit sizes are told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches.
    Inches,
}

impl Unit {
    /// A length in this unit.
    pub fn length(self, mm: f64) -> String {
        match self {
            Unit::Millimetres => format!("{mm:.1} mm"),
            Unit::Inches => format!("{:.2} in", mm / MM_PER_INCH),
        }
    }

    /// A length of thread: in metres, or in feet of twelve inches.
    fn thread(self, mm: f64) -> String {
        match self {
            Unit::Millimetres => format!("{:.2} m", mm / 1000.0),
            Unit::Inches => format!("{:.1} ft", mm / MM_PER_INCH / 12.0),
        }
    }
}

/// A page being written.
struct Page<'a> {
    plan: &'a Plan,
    unit: Unit,
    text: String,
}

/// The whole page. Headings stand at the margin, what belongs to them is set
/// in by two.
pub fn page(title: &str, plan: &Plan, unit: Unit) -> String {
    let mut page = Page {
        plan,
        unit,
        text: format!("{title}\n"),
    };
    page.beads();
    page.thread();
    page.time();
    page.size();
    page.flatness();
    page.ring();
    page.openings();
    page.holes();
    page.joining();
    page.colours();
    page.cautions();
    page.text
}

impl Page<'_> {
    fn heading(&mut self, heading: &str) {
        let _ = write!(self.text, "\n{heading}\n");
    }

    fn line(&mut self, line: impl AsRef<str>) {
        let _ = writeln!(self.text, "  {}", line.as_ref());
    }

    fn beads(&mut self) {
        let plan = self.plan;
        self.heading("Beads");
        for beads in &plan.beads {
            self.line(format!(
                "{} {}: {} beads, {:.1} g; with {} over for odd ones buy {:.1} g",
                beads.letter, beads.name, beads.count, beads.grams, beads.spare, beads.buy_grams
            ));
        }
        self.line(format!(
            "in all {} beads, {:.1} g ({} % over are reckoned in what to buy)",
            plan.total_beads,
            plan.grams(),
            plan.wishes.spare_percent
        ));
    }

    fn thread(&mut self) {
        let plan = self.plan;
        let threads = plan.walk.threads.len();
        self.heading("Thread and needle");
        self.line(format!(
            "{} of thread, {} mm thick: {} cut to {} with {} left at each end",
            self.unit.thread(plan.thread_mm()),
            plan.thread.diameter_mm,
            many(threads, "length", "lengths"),
            self.unit.thread(plan.thread.cut_mm),
            self.unit.length(plan.thread.tail_mm),
        ));
        for nth in 0..threads.min(THREADS_TOLD) {
            let (ThreadLength { first, last, .. }, jobs) =
                (plan.walk.threads[nth], plan.thread_jobs[nth]);
            let titles = match jobs.0 == jobs.1 {
                true => plan.job_titles[jobs.0].clone(),
                false => format!("{} to {}", plan.job_titles[jobs.0], plan.job_titles[jobs.1]),
            };
            self.line(format!(
                "  {:>3}. steps {first} to {last}: {titles}, {}",
                nth + 1,
                self.unit.thread(plan.length_mm(nth))
            ));
        }
        if threads > THREADS_TOLD {
            let more = threads - THREADS_TOLD;
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
        let needle = match needle_size(plan) {
            Some(size) => format!("needle: size {size}"),
            None => "needle".to_string(),
        };
        self.line(format!("{needle}, {} mm", plan.needle.diameter_mm));
    }

    fn time(&mut self) {
        let plan = self.plan;
        self.heading("Steps and time");
        let pace = plan.wishes.stitch_seconds;
        let whose = match pace == super::pace::STITCH {
            true => " (a common pace: common practice, no source)",
            false => "",
        };
        self.line(format!(
            "{} steps, about {} at {pace} s a stitch{whose}",
            plan.total_steps,
            hours(plan.minutes),
        ));
        let jobs = plan.job_titles.len();
        for job in 0..jobs.min(JOBS_TOLD) {
            self.line(format!(
                "  {}: {} of thread, {}",
                plan.job_titles[job],
                self.unit.thread(plan.job_thread_mm(job)),
                hours(plan.job_minutes(job))
            ));
        }
        if jobs > JOBS_TOLD {
            self.line(format!(
                "  and {} more jobs (--json lists every one)",
                jobs - JOBS_TOLD
            ));
        }
    }

    fn size(&mut self) {
        let Size {
            edge_mm,
            height_mm,
            through_mm,
            hole_mm,
        } = self.plan.size;
        self.heading("Finished size (outside about one bead more)");
        self.line(format!("edge {}", self.unit.length(edge_mm)));
        if let (Some(height), Some(through)) = (height_mm, through_mm) {
            self.line(format!("height {}", self.unit.length(height)));
            self.line(format!(
                "through {}, at its widest",
                self.unit.length(through)
            ));
        } else {
            self.line("how jobs in your own order fold is not known, so no height is told");
        }
        if let Some(hole) = hole_mm {
            self.line(format!(
                "its hole, as the ring lies, {}",
                self.unit.length(hole)
            ));
        }
    }

    fn flatness(&mut self) {
        let plan = self.plan;
        self.heading("Flatness (F: 1 is flat, less cups, more ruffles)");
        for panel in &plan.panels {
            let Flatness {
                panel: name,
                flatness,
                lie,
                flattest,
                ..
            } = panel;
            self.line(format!("{name}: {}, F = {flatness:.2}", lie.words()));
            let better = (flattest.flatness - 1.0).abs() + 1e-9 < (flatness - 1.0).abs();
            if *lie != Lie::Flat && better {
                self.line(format!(
                    "  flattest of {} sides with these beads: {}, F = {:.2}",
                    panel.sides,
                    law(&flattest.law),
                    flattest.flatness
                ));
            }
        }
    }

    fn ring(&mut self) {
        let Some(ring) = &self.plan.ring else { return };
        self.heading("Does the ring turn?");
        for line in ring_lines(ring, self.unit, self.plan.bead_mm) {
            self.line(line);
        }
    }

    fn openings(&mut self) {
        let plan = self.plan;
        if plan.openings.is_empty() && plan.stones.is_empty() && plan.lining.is_none() {
            return;
        }
        self.heading("Openings");
        for opening in &plan.openings {
            self.line(format!(
                "{}: stops at round {}, {} a side, {} across",
                opening.panel,
                opening.stop_at,
                many(opening.beads as usize, "bead", "beads"),
                self.unit.length(opening.incircle_mm)
            ));
            self.line(format!("  {}", self.holds(opening)));
        }
        for stone in &plan.stones {
            let line = self.stone(stone);
            self.line(line);
        }
        if let Some(lining) = plan.lining {
            self.line(match lining.rounds {
                0 => "an open face is too small for a lining of three faces".to_string(),
                rounds => format!(
                    "a lining of three faces for the open face: at most {rounds} rounds a face, \
                     edge {}, {} deep; {} stay behind it",
                    self.unit.length(lining.edge_mm),
                    self.unit.length(lining.depth_mm),
                    self.unit.length(lining.room_behind_mm)
                ),
            });
        }
    }

    fn holds(&self, opening: &Opening) -> String {
        let (least, most) = opening.holds_mm();
        match opening.incircle_mm > 0.0 {
            true => format!(
                "holds a round stone of {} to {} that fits behind",
                self.unit.length(least),
                self.unit.length(most)
            ),
            false => "the beads leave no light: no stone".to_string(),
        }
    }

    fn stone(&self, fit: &StoneFit) -> String {
        let stone = self.unit.length(fit.stone_mm);
        if let Some(held) = &fit.held {
            return format!(
                "a stone of {stone} in {}: work inward and stop at round {} (\"open\": {}), {} across",
                fit.panel,
                held.stop_at,
                held.stop_at.0 - 1,
                self.unit.length(held.incircle_mm)
            );
        }
        let near = fit.nearest.iter().map(|opening| {
            let (least, most) = opening.holds_mm();
            format!(
                "round {} holds {} to {}",
                opening.stop_at,
                self.unit.length(least),
                self.unit.length(most)
            )
        });
        let near: Vec<String> = near.collect();
        let near = match near.is_empty() {
            true => "it has no round that leaves an opening".to_string(),
            false => near.join(", "),
        };
        format!(
            "a stone of {stone} in {}: no round holds it; {near}",
            fit.panel
        )
    }

    fn holes(&mut self) {
        let plan = self.plan;
        self.heading("Fullest holes");
        for (full, place) in plan.fullest.worst.iter().zip(&plan.fullest_places) {
            self.line(format!(
                "bead {} ({}): {} passes, {}",
                full.bead,
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
                "! the last time {} tightly, and {} would not be gone through at all",
                many(
                    plan.fullest.tight as usize,
                    "bead is gone through",
                    "beads are gone through"
                ),
                many(plan.fullest.blocked as usize, "bead", "beads")
            ),
        });
        for help in &plan.fullest.help {
            self.line(format!("  {}", help_words(*help)));
        }
        if let Some(size) = plan.fullest.widest_comfortable
            && needle_size(plan) != Some(size)
        {
            self.line(format!(
                "the widest needle that goes through all comfortably: size {size}"
            ));
        }
    }

    fn joining(&mut self) {
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
            Why::OneEach => format!("{}: one for each pattern of panel, so no fewer", many(kinds, "kind", "kinds")),
            Why::Uneven { rows, panels } => format!(
                "{kinds} kinds, and no fewer: {rows} rows cannot lie evenly on the {panels} panels that carry them"
            ),
            Why::NotProved => format!(
                "{kinds} kinds; no fewer than {} can be, which is not shown to be enough",
                plan.kinds.fewest
            ),
        });
        self.line(format!(
            "{}; {} begin panels, {} are taken up besides; by length and panels no fewer than {} in all",
            many(order.joins, "join", "joins"),
            many(order.panel_threads, "thread", "threads"),
            order.further_threads,
            order.fewest_threads
        ));
        self.line(format!(
            "{} passed only to get there (least with as many threads, by route inspection: {})",
            many(order.retravel as usize, "bead is", "beads are"),
            order.with_panel_threads.cost
        ));
        self.line(format!(
            "all joins in one thread: {} {} passed again",
            match order.one_thread.exact {
                true => "at best",
                false => "no fewer than",
            },
            many(order.one_thread.cost as usize, "bead is", "beads are")
        ));
    }

    fn colours(&mut self) {
        let plan = self.plan;
        if plan.alike.is_empty() && plan.like_letters.is_empty() {
            return;
        }
        self.heading("Colours and letters");
        for alike in &plan.alike {
            let line = self.alike(alike);
            self.line(line);
            if let Some(better) = alike.better {
                self.line(format!(
                    "  {} for {} could be told apart",
                    hex(better),
                    self.letter(alike.b)
                ));
            }
        }
        for like in &plan.like_letters {
            let (a, b) = (self.letter(like.a), self.letter(like.b));
            self.line(match like.better {
                Some(better) => {
                    format!("the letters {a} and {b} are easily misread: {better} for {b}?")
                }
                None => format!("the letters {a} and {b} are easily misread"),
            });
        }
    }

    fn alike(&self, alike: &Alike) -> String {
        let ways: Vec<&str> = alike.seen.iter().map(|(seen, _)| seen.words()).collect();
        format!(
            "! {} and {} are hard to tell apart {}",
            self.colour(alike.a),
            self.colour(alike.b),
            ways.join(", ")
        )
    }

    fn letter(&self, colour: Colour) -> char {
        self.plan.colour_names[usize::from(colour.0)].0
    }

    fn colour(&self, colour: Colour) -> String {
        let (letter, name) = &self.plan.colour_names[usize::from(colour.0)];
        format!("{letter} {name}")
    }

    fn cautions(&mut self) {
        self.heading("Take care");
        for line in CAUTIONS {
            self.line(line);
        }
    }
}

/// What can hurt.
const CAUTIONS: [&str; 4] = [
    "Needles and broken glass are sharp: protect your eyes when you break out a bead,",
    "and keep beads and needles from small children and pets. Rest your eyes and hands.",
    "Old and painted beads may contain lead. Never force a needle through a full bead:",
    "it can break.",
];

/// What a ring's page says of its turning.
fn ring_lines(ring: &Turning, unit: Unit, bead_mm: f64) -> Vec<String> {
    if ring.turns() {
        return vec![
            format!(
                "yes: {} tetrahedra turn right through, with {} to spare at the middle",
                ring.tetrahedra,
                unit.length(ring.margin_mm)
            ),
            format!(
                "the fewest of these tetrahedra that turn: {}",
                ring.smallest
            ),
        ];
    }
    let mut lines = vec![format!(
        "! no: {} tetrahedra bind at the middle by {}",
        ring.tetrahedra,
        unit.length(-ring.margin_mm)
    )];
    if ring.may_give(bead_mm) {
        lines.push("soft beadwork may take that up: it is no more than a bead".to_string());
    }
    lines.push(format!(
        "what would let it turn: {} tetrahedra or more;",
        ring.smallest
    ));
    lines.push(format!(
        "  or faces {} high on the hinge (these are {});",
        unit.length(ring.face_height_needed_mm),
        unit.length(ring.face_height_mm)
    ));
    lines.push(format!(
        "  or hinges of {} at most, no closer together than they are ({} long now)",
        unit.length(ring.longest_hinge_mm),
        unit.length(ring.hinge_mm)
    ));
    lines
}

/// A corner law in words.
pub fn law(law: &CornerLaw) -> String {
    let corners: Vec<String> = law.word().iter().map(u8::to_string).collect();
    let start = match law.start() {
        Start::Sides => "sides",
        Start::Points => "points",
    };
    format!("corners {} on a ring of {start}", corners.join(" "))
}

fn place_words(place: &Place) -> String {
    format!(
        "{}, {}, round {}, side {}, place {}",
        place.letter, place.job, place.round, place.side, place.place
    )
}

fn help_words(help: Help) -> String {
    match help {
        Help::Needle(size) => format!("a needle of size {size} would go through comfortably"),
        Help::Thread(name) => format!("with thread {name} it would go through comfortably"),
        Help::Both(size, name) => {
            format!("a needle of size {size} and thread {name} together would go comfortably")
        }
        Help::NextDoor => "no usual needle and thread would: take another row of beads next door, \
                           or beads with wider holes"
            .to_string(),
    }
}

fn many(count: usize, one: &str, more: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { more })
}

/// Minutes as a maker says them.
pub fn hours(minutes: f64) -> String {
    let whole = minutes.round() as u64;
    match (whole / 60, whole % 60) {
        (0, 0) => "under a minute".to_string(),
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Sequence, testing};
    use crate::plan::Wishes;

    #[test]
    fn minutes_are_said_as_makers_say_them() {
        let said = [0.2, 45.0, 60.0, 154.6].map(hours);
        assert_eq!(said, ["under a minute", "45 min", "1 h", "2 h 35 min"]);
    }

    #[test]
    fn an_inch_is_25_4_mm() {
        assert_eq!(Unit::Inches.length(25.4), "1.00 in");
        assert_eq!(Unit::Inches.thread(304.8), "1.0 ft");
        assert_eq!(Unit::Millimetres.thread(1500.0), "1.50 m");
    }

    #[test]
    fn a_ring_that_binds_hears_what_would_let_it_turn() {
        let seq = Sequence::new(testing::ring(6, 8, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        let page = page("Six", &plan, Unit::Millimetres);
        for words in [
            "no: 6 tetrahedra bind at the middle by 1.9 mm",
            "8 tetrahedra or more",
            "faces 20.8 mm high on the hinge (these are 18.0 mm)",
        ] {
            assert!(page.contains(words), "{words}\n{page}");
        }
    }

    #[test]
    fn lines_are_short_enough_to_read() {
        let seq = Sequence::new(testing::solid(Solid::Octahedron, 6, Closing::SetIn));
        let plan = Plan::of(&seq, Wishes::default());
        for line in page("Eight", &plan, Unit::Millimetres).lines() {
            assert!(line.chars().count() <= 110, "{line}");
        }
    }
}
