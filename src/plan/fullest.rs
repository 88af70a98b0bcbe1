//! Fullest holes: the beads through which the needle passes most often for the
//! size of their holes, where they lie, and what would help.

use super::walk::Walk;
use crate::beadwork::hole::{self, Passing};
use crate::beadwork::thread::{NEEDLES, Needle, THREADS, Thread, ThreadChoice};
use crate::beadwork::{Bead, BeadSize, Sequence};

/// How many of the worst beads are listed one by one.
pub const LISTED: usize = 8;

/// A bead, where it lies, and how full its hole gets.
#[derive(Clone, Debug, PartialEq)]
pub struct FullBead {
    /// Its number among all that were strung.
    pub number: Bead,
    /// Its colour's letter.
    pub letter: char,
    /// The job that strings it.
    pub job: String,
    /// Its round.
    pub round: u32,
    /// Its side, from 1.
    pub side: u32,
    /// Its place on the side, from 1.
    pub place: u32,
    /// How often thread goes through it in the whole piece.
    pub passes: u32,
    /// How the needle goes through it on the last pass.
    pub verdict: Passing,
}

impl FullBead {
    fn of(seq: &Sequence, (verdict, passes, bead): (Passing, u32, Bead)) -> FullBead {
        let layout = seq.layout();
        let seat = layout.seat(bead);
        let job = seq.job_of(seq.step_of(bead));
        FullBead {
            number: seq.bead_as_made(bead),
            letter: layout.bead_kind(layout.colour_of(seat)).letter,
            job: seq.job(job).title.clone(),
            round: seat.round.0,
            side: seat.side.number(),
            place: seat.place + 1,
            passes,
            verdict,
        }
    }
}

/// The fullest holes of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Fullest {
    /// The worst beads, worst first.
    pub worst: Vec<FullBead>,
    /// Beads that the needle goes through tightly on the last pass.
    pub tight: u32,
    /// Beads that the needle cannot go through on the last pass.
    pub blocked: u32,
    /// For each number of passes from 0, how many beads have it.
    pub histogram: Vec<u32>,
    /// What would let the needle through comfortably.
    pub help: Vec<Help>,
    /// The widest of the usual needles, by size number, that goes through
    /// every bead comfortably.
    pub widest_comfortable: Option<u8>,
}

/// Something that lets the needle through every bead comfortably.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Help {
    /// A finer needle, by its size number.
    Needle(u8),
    /// A thinner thread, by its name.
    Thread(&'static str),
    /// Both.
    Both(u8, &'static str),
    /// None of the usual needles and threads will do: skip these beads and go
    /// through another row of beads next to them.
    NextDoor,
}

impl Help {
    /// In words.
    pub fn words(&self) -> String {
        match self {
            Help::Needle(size) => format!("a needle of size {size} would go through comfortably"),
            Help::Thread(name) => format!("thread {name} would go through comfortably"),
            Help::Both(size, name) => {
                format!("a needle of size {size} with thread {name} would go through comfortably")
            }
            Help::NextDoor => "no usual needle and thread would: use another row of beads next to \
                               these, or beads with wider holes"
                .to_string(),
        }
    }
}

/// How the needle goes through a bead on the last of `passes` passes.
fn last_pass(passes: u32, bead: BeadSize, thread: Thread, needle: Needle) -> Passing {
    hole::verdict(passes.saturating_sub(1), bead, thread, needle)
}

/// Finds the fullest holes, from how often each bead is passed.
pub fn fullest(seq: &Sequence, walk: &Walk) -> Fullest {
    let layout = seq.layout();
    let ThreadChoice { thread, needle, .. } = seq.goal().thread_to_come();
    let sizes: Vec<BeadSize> = layout.bead_kinds().iter().map(|b| b.size).collect();
    let is_one_size = sizes.iter().all(|size| *size == sizes[0]);
    // The most passes of a bead of each size.
    let mut most = vec![0; sizes.len()];
    let (mut tight, mut blocked, mut histogram) = (0, 0, vec![0]);
    let mut worst: Vec<(Passing, u32, Bead)> = vec![];
    for (nth, &passes) in walk.passes.iter().enumerate() {
        let bead = Bead(nth as u32 + 1);
        let kind = match is_one_size {
            true => 0,
            false => usize::from(layout.colour(bead).0),
        };
        let thread = (walk.threads.get(nth)).map_or(thread, |threads| threads.mean(thread));
        if histogram.len() <= usize::from(passes) {
            histogram.resize(usize::from(passes) + 1, 0);
        }
        histogram[usize::from(passes)] += 1;
        let passes = u32::from(passes);
        most[kind] = passes.max(most[kind]);
        let verdict = last_pass(passes, sizes[kind], thread, needle);
        tight += u32::from(verdict == Passing::Tight);
        blocked += u32::from(verdict == Passing::Blocked);
        let at = worst.partition_point(|worse| (worse.0, worse.1) >= (verdict, passes));
        if at < LISTED {
            worst.insert(at, (verdict, passes, bead));
            worst.truncate(LISTED);
        }
    }
    let fits = |thread: Thread, needle: Needle| {
        let fit = |(&size, &most): (&BeadSize, &u32)| {
            most == 0 || last_pass(most, size, thread, needle) == Passing::Comfortable
        };
        sizes.iter().zip(&most).all(fit)
    };
    let help = match fits(thread, needle) {
        true => vec![],
        false => help(thread, needle, fits),
    };
    let widest_comfortable = NEEDLES
        .iter()
        .find(|&&(_, diameter_mm)| fits(thread, Needle { diameter_mm }))
        .map(|&(size, _)| size);
    Fullest {
        worst: worst
            .into_iter()
            .map(|bead| FullBead::of(seq, bead))
            .collect(),
        tight,
        blocked,
        histogram,
        help,
        widest_comfortable,
    }
}

fn help(thread: Thread, needle: Needle, fits: impl Fn(Thread, Needle) -> bool) -> Vec<Help> {
    let finer = || NEEDLES.into_iter().filter(|&(_, d)| d < needle.diameter_mm);
    let thinner = || {
        let all = THREADS.into_iter().rev();
        all.filter(|&(_, d)| d < thread.diameter_mm)
    };
    let with = |diameter_mm| Thread {
        diameter_mm,
        ..thread
    };
    let mut help = vec![];
    let a_needle = finer().find(|&(_, diameter_mm)| fits(thread, Needle { diameter_mm }));
    help.extend(a_needle.map(|(size, _)| Help::Needle(size)));
    let a_thread = thinner().find(|&(_, d)| fits(with(d), needle));
    help.extend(a_thread.map(|(name, _)| Help::Thread(name)));
    if help.is_empty() {
        let both = thinner().find_map(|(name, d)| {
            let fit = |&(_, diameter_mm): &(u8, f64)| fits(with(d), Needle { diameter_mm });
            finer().find(fit).map(|(size, _)| Help::Both(size, name))
        });
        help.push(both.unwrap_or(Help::NextDoor));
    }
    help
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Project, Solid};
    use crate::beadwork::{Sequence, testing};
    use crate::plan::walk::Walk;

    fn of(project: Project) -> Fullest {
        let seq = Sequence::new(project);
        fullest(&seq, &Walk::over(&seq))
    }

    /// The simple way: bead by bead.
    #[test]
    fn the_worst_beads_are_the_worst() {
        let project = testing::folded_pair(8, 2);
        let seq = Sequence::new(project.clone());
        let passes = Walk::over(&seq).passes;
        let found = of(project);
        let mut sorted: Vec<u16> = passes.clone();
        sorted.sort_unstable_by(|a, b| b.cmp(a));
        let worst: Vec<u32> = found.worst.iter().map(|f| f.passes).collect();
        let wanted: Vec<u32> = sorted[..LISTED].iter().map(|&p| u32::from(p)).collect();
        assert_eq!(worst, wanted);
        for full in &found.worst {
            let passed = passes[full.number.0 as usize - 1];
            assert_eq!(u32::from(passed), full.passes);
        }
        assert_eq!(found.histogram.iter().sum::<u32>(), seq.layout().beads());
    }

    /// By hand: a hole of 0.5 mm, thread of 0.12 and a needle of 0.36. Beside
    /// one thread 0.12 + 0.36 = 0.48 goes, beside two 0.24 + 0.36 does not;
    /// by area 2·0.0144 + 0.1296 = 0.1584 is under 0.75·0.25 = 0.1875, and
    /// with five threads 0.2016 is over it.
    #[test]
    fn verdicts_and_help_are_as_by_hand() {
        let mut project = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        project.beads[0].size.hole_mm = 0.5;
        let found = of(project.clone());
        let verdict = |threads| {
            hole::verdict(
                threads,
                project.beads[0].size,
                project.thread,
                project.needle,
            )
        };
        assert_eq!(verdict(1), Passing::Comfortable);
        assert_eq!(verdict(2), Passing::Tight);
        assert_eq!(verdict(5), Passing::Blocked);
        let beads = |passes: std::ops::RangeInclusive<usize>| -> u32 {
            let all = found.histogram.iter().enumerate();
            all.filter(|(p, _)| passes.contains(p))
                .map(|(_, n)| n)
                .sum()
        };
        assert_eq!(found.tight, beads(3..=5));
        assert_eq!(found.blocked, beads(6..=1000));
        assert!(!found.help.is_empty());
    }

    #[test]
    fn what_helps_does_help() {
        let mut project = testing::solid(Solid::Tetrahedron, 6, Closing::SetIn);
        // Five passes at the fullest: 2.4142·0.18 + 0.41 = 0.845 mm.
        project.thread.diameter_mm = 0.18;
        project.needle.diameter_mm = 0.41;
        project.beads[0].size.hole_mm = 0.75;
        let found = of(project.clone());
        assert!(found.worst[0].verdict > Passing::Comfortable);
        assert_ne!(found.help, [Help::NextDoor]);
        for help in found.help {
            let mut mended = project.clone();
            let (size, name) = match help {
                Help::Needle(size) => (Some(size), None),
                Help::Thread(name) => (None, Some(name)),
                Help::Both(size, name) => (Some(size), Some(name)),
                Help::NextDoor => (None, None),
            };
            for (number, diameter_mm) in NEEDLES {
                if Some(number) == size {
                    mended.needle.diameter_mm = diameter_mm;
                }
            }
            for (called, diameter_mm) in THREADS {
                if Some(called) == name {
                    mended.thread.diameter_mm = diameter_mm;
                }
            }
            let mended = of(mended);
            assert_eq!(mended.worst[0].verdict, Passing::Comfortable, "{help:?}");
            assert!(mended.help.is_empty());
        }
    }
}
