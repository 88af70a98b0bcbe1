//! The plan of unpicking, made before anything is pulled out, with warnings.

use super::undo::Undo;
use crate::beadwork::{Kind, Movement, Round, Sequence, Step, plural};

/// The most stops listed.
const MAX_STOPS: usize = 200;

/// A good place to stop and look while unpicking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stop {
    /// The last step that is left there.
    pub step: Step,
    /// What is finished there.
    pub at: StopAt,
}

/// What is finished at a stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopAt {
    /// This round, with its step-up or step-down.
    Round(Round),
    /// A side.
    Side,
    /// A job.
    Job,
}

/// The plan of unpicking.
#[derive(Clone, Debug, PartialEq)]
pub struct UnpickPlan {
    /// The last step that is done now.
    pub from: Step,
    /// The last step that stays; 0 takes everything apart.
    pub to: Step,
    /// Beads that come off.
    pub beads: u32,
    /// How often the thread is pulled out of a bead, including those that come
    /// off.
    pub passes: u64,
    /// Thread that is free again, mm; without tails.
    pub thread_back_mm: f64,
    /// Thread that comes out but is cut and lost, mm.
    pub thread_lost_mm: f64,
    /// Warnings, in the order in which to read them.
    pub warnings: Vec<Warning>,
    /// Good places to stop on the way, in order; without the last.
    pub stops: Vec<Stop>,
}

impl UnpickPlan {
    /// The plan of unpicking from `from`, the last step done, to `to`, the last
    /// step that stays. `None` if `to` is not before `from` or the piece has no
    /// such step.
    ///
    /// The time grows with the steps that come out, the memory does not.
    pub fn new(seq: &Sequence, from: Step, to: Step) -> Option<UnpickPlan> {
        if to >= from || from.0 > seq.steps() {
            return None;
        }
        let mut walk = UnpickWalk::default();
        let taken = seq.iter_from(Step(to.0 + 1)).take_while(|m| m.step <= from);
        taken.for_each(|m| walk.take(&m));
        // Only thread used since the last cut is still on the needle's thread.
        let since = walk.last_cut.unwrap_or(to).max(to);
        Some(UnpickPlan {
            from,
            to,
            beads: seq.strung_after(from) - seq.strung_after(to),
            passes: seq.passes_after(from) - seq.passes_after(to),
            thread_back_mm: seq.drawn_mm(since, from),
            thread_lost_mm: seq.drawn_mm(to, since),
            warnings: walk.warnings(seq, to),
            stops: walk.stops(to),
        })
    }

    /// The steps taken back, the last step first.
    pub fn undo<'a>(&self, seq: &'a Sequence) -> impl Iterator<Item = Undo> + use<'a> {
        let steps = self.to.0 + 1..=self.from.0;
        steps
            .rev()
            .filter_map(|n| seq.step(Step(n)))
            .map(|m| Undo::of(&m))
    }

    /// The plan in one sentence.
    pub fn say(&self) -> String {
        let steps = self.from.0 - self.to.0;
        let mut said = format!(
            "{} come{} out, step {} is then the next: {} off, {} cm of thread back",
            plural(steps as usize, "step"),
            if steps == 1 { "s" } else { "" },
            Step(self.to.0 + 1),
            match self.beads {
                0 => "no bead comes".into(),
                1 => "1 bead comes".to_string(),
                n => format!("{n} beads come"),
            },
            (self.thread_back_mm / 10.0).round(),
        );
        if self.thread_lost_mm > 0.0 {
            said += &format!(", {} cm lost", (self.thread_lost_mm / 10.0).round());
        }
        said
    }
}

/// A warning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Warning {
    /// The needle comes off first.
    NeedleOff,
    /// No sewing backwards.
    NoSewingBack,
    /// The thread may be split or caught.
    SplitThread,
    /// A thread was woven in and cut in these steps, first and last.
    WovenEnd(Step, Step),
    /// The thread of the work that stays is cut: a new one is needed there.
    NewThreadAt(Step),
    /// A join comes apart.
    Join,
    /// Beads roll and needles are sharp.
    Loose,
}

impl Warning {
    /// The warning in a sentence or two.
    pub fn say(&self) -> String {
        match self {
            Warning::NeedleOff => {
                "Take the needle off the thread and put it where it can hurt nobody.".into()
            }
            Warning::NoSewingBack => "Do not sew backwards through a bead: the needle splits the \
                                      thread that is in it, and then neither comes out."
                .into(),
            Warning::SplitThread => "If the thread will not pull, it is split or caught: look \
                                     from both ends, ease it with the blunt end of a needle, and \
                                     do not force the bead; a broken bead is sharp."
                .into(),
            Warning::WovenEnd(first, last) if first == last => format!(
                "Step {first} wove in a thread and cut it. It comes out only bead by bead and is \
                 too short to be used again."
            ),
            Warning::WovenEnd(first, last) => format!(
                "Steps {first} to {last} wove in a thread and cut it. It comes out only bead by \
                 bead and is too short to be used again."
            ),
            Warning::NewThreadAt(step) => format!(
                "The thread that made what stays is cut. Begin a new thread behind step {step}, \
                 woven in where the work is firm."
            ),
            Warning::Join => "A join comes apart: hold the two sides and free one tooth at a \
                              time, or the edge beads pull loose."
                .into(),
            Warning::Loose => "Put beads that come off into a dish at once, away from children \
                               and pets."
                .into(),
        }
    }
}

/// What the steps that come out contain, in forward order.
#[derive(Default)]
struct UnpickWalk {
    last_cut: Option<Step>,
    ends: Vec<(Step, Step)>,
    joins: bool,
    beads: bool,
    stops: Vec<Stop>,
    before: Option<Movement>,
}

impl UnpickWalk {
    fn take(&mut self, m: &Movement) {
        if m.kind == Kind::EndThread {
            self.last_cut = Some(m.step);
            match self.ends.last_mut() {
                Some(end) if end.1.0 + 1 == m.step.0 => end.1 = m.step,
                _ => self.ends.push((m.step, m.step)),
            }
        }
        self.joins |= m.kind == Kind::Zip;
        self.beads |= !m.strings.is_empty();
        if let Some(before) = self.before.take() {
            let at = match before.kind {
                _ if before.job != m.job => Some(StopAt::Job),
                Kind::StepUp | Kind::StepDown => before.round.map(StopAt::Round),
                _ if before.side.is_some() && m.side.is_some() && before.side != m.side => {
                    Some(StopAt::Side)
                }
                _ => None,
            };
            if let Some(at) = at {
                self.stops.push(Stop {
                    step: before.step,
                    at,
                });
            }
        }
        self.before = Some(m.clone());
        // A long way back has stops at rounds only, a very long one at jobs
        // only.
        if self.stops.len() > 2 * MAX_STOPS {
            let sides = self.stops.iter().any(|s| s.at == StopAt::Side);
            self.stops.retain(|s| match s.at {
                StopAt::Side => false,
                StopAt::Round(_) => sides,
                StopAt::Job => true,
            });
        }
    }

    fn stops(&self, to: Step) -> Vec<Stop> {
        let way = self.stops.iter().rev().filter(|s| s.step > to);
        way.take(MAX_STOPS).copied().collect()
    }

    fn warnings(&self, seq: &Sequence, to: Step) -> Vec<Warning> {
        let mut warnings = vec![
            Warning::NeedleOff,
            Warning::NoSewingBack,
            Warning::SplitThread,
        ];
        let ends = self.ends.iter().rev();
        warnings.extend(ends.map(|&(first, last)| Warning::WovenEnd(first, last)));
        let cut_before = to.0 > 0 && seq.leaves(to).is_some();
        if self.last_cut.is_some() && cut_before {
            warnings.push(Warning::NewThreadAt(to));
        }
        if self.joins {
            warnings.push(Warning::Join);
        }
        if self.beads {
            warnings.push(Warning::Loose);
        }
        warnings
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Bead, testing};
    use proptest::prelude::*;

    fn tetrahedron() -> Sequence {
        Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn))
    }

    #[test]
    fn one_stitch_back_is_one_bead_off_and_two_passes() {
        let seq = Sequence::new(testing::single(testing::panel(3, 5)));
        let stitch = seq
            .iter()
            .find(|m| m.kind == Kind::Stitch && m.passes.len() == 2)
            .unwrap();
        let plan = UnpickPlan::new(&seq, stitch.step, Step(stitch.step.0 - 1)).unwrap();
        assert_eq!((plan.beads, plan.passes), (1, 2));
        let words = format!(
            "1 step comes out, step {} is then the next: 1 bead",
            stitch.step
        );
        assert!(plan.say().starts_with(&words), "{}", plan.say());
        assert!((plan.thread_back_mm - 2.0 * seq.layout().pass_mm()).abs() < 1e-9);
        let undo = plan.undo(&seq).next().unwrap();
        assert_eq!(undo.say(&seq), "Pull the thread out of 1 bead, take off S");
        assert_eq!(undo.freed[0], stitch.passes[1]);
    }

    #[test]
    fn there_is_no_unpicking_to_the_same_step_or_a_later_one() {
        let seq = tetrahedron();
        assert_eq!(UnpickPlan::new(&seq, Step(5), Step(5)), None);
        assert_eq!(UnpickPlan::new(&seq, Step(5), Step(9)), None);
        assert_eq!(UnpickPlan::new(&seq, Step(seq.steps() + 1), Step(9)), None);
    }

    #[test]
    fn a_woven_end_gives_a_warning_and_its_thread_is_lost() {
        let seq = tetrahedron();
        let end = seq.iter().find(|m| m.kind == Kind::EndThread).unwrap();
        let last = Step(seq.steps().min(end.step.0 + 40));
        let plan = UnpickPlan::new(&seq, last, Step(end.step.0 - 10)).unwrap();
        assert!(plan.thread_lost_mm > 0.0);
        assert!(
            plan.warnings
                .iter()
                .any(|w| matches!(w, Warning::WovenEnd(first, _) if *first == end.step))
        );
        assert!(plan.warnings.contains(&Warning::NewThreadAt(plan.to)));
    }

    #[test]
    fn unpicking_a_round_leaves_the_round_before_finished() {
        let seq = Sequence::new(testing::single(testing::panel(3, 6)));
        let inside = seq
            .iter()
            .find(|m| m.round == Some(Round(5)) && m.round_beads == 7)
            .unwrap();
        let to = super::super::before_round(&seq, inside.step, 0);
        let stays = seq.step(to).unwrap();
        assert_eq!((stays.kind, stays.round), (Kind::StepUp, Some(Round(4))));
        let further = super::super::before_round(&seq, inside.step, 1);
        assert_eq!(seq.step(further).unwrap().round, Some(Round(3)));
        let plan = UnpickPlan::new(&seq, inside.step, further).unwrap();
        assert!(plan.stops.contains(&Stop {
            step: to,
            at: StopAt::Round(Round(4))
        }));
    }

    proptest! {
        /// What the steps strung comes off, once each, the last one first.
        #[test]
        fn beads_come_off_in_the_opposite_order(
            a in any::<prop::sample::Index>(),
            b in any::<prop::sample::Index>(),
        ) {
            let seq = tetrahedron();
            let steps = seq.steps() as usize + 1;
            let (a, b) = (a.index(steps) as u32, b.index(steps) as u32);
            prop_assume!(a != b);
            let plan = UnpickPlan::new(&seq, Step(a.max(b)), Step(a.min(b))).unwrap();
            let off: Vec<Bead> = plan.undo(&seq).flat_map(|u| u.off).collect();
            let first = seq.strung_after(plan.to) + 1;
            let last = seq.strung_after(plan.from);
            let wanted: Vec<Bead> = (first..=last).rev().map(Bead).collect();
            prop_assert_eq!(&off, &wanted);
            prop_assert_eq!(off.len() as u32, plan.beads);
            let freed: u64 = plan.undo(&seq).map(|u| u.freed.len() as u64).sum();
            prop_assert_eq!(freed, plan.passes);
            let all = plan.thread_back_mm + plan.thread_lost_mm;
            prop_assert!((all - freed as f64 * seq.layout().pass_mm()).abs() < 1e-6);
            for stop in &plan.stops {
                prop_assert!(plan.to < stop.step && stop.step < plan.from);
            }
        }
    }
}
