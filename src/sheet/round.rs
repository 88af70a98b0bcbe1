//! A round in words: what to do, and the counts to check.

use crate::beadwork::many;
use crate::beadwork::project::WorkDirection;
use crate::beadwork::round_info::{RoundBase, RoundInfo};
use crate::beadwork::{Bead, Round, Sequence};
use crate::words::short;

use super::own_steps::OwnStepOnPaper;

/// A round of a panel as described on a handout.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundOnPaper {
    /// Its number, from 1 in the middle.
    pub round: u32,
    /// What to do.
    pub how: String,
    /// Beads in the round.
    pub beads: u32,
    /// Beads on each side.
    pub per_side: Vec<u32>,
    /// Beads of the panel once the round is whole, with those strung together with
    /// it.
    pub total: u32,
    /// The beads to pick up, in order: `3 × (T2 D7)`. Empty for a round that
    /// was strung together with the one before.
    pub pick_up: String,
    /// Own steps of the maker in it, or at its end: a stone to be set.
    pub own: Vec<String>,
}

/// The most letters of colours listed for one round; a longer list is cut
/// short.
pub(super) const LETTERS_LISTED: usize = 120;

/// The most groups of stitches for which a gap word is described; a longer one
/// is shown as it is.
const GROUPS_LISTED: usize = 7;

impl RoundOnPaper {
    pub(super) fn of(seq: &Sequence, info: &RoundInfo, own: &[OwnStepOnPaper]) -> RoundOnPaper {
        let kind = seq.layout().kind(info.panel);
        let strung_with = info
            .strung_with(seq)
            .map_or(0, |other| kind.in_round(other));
        RoundOnPaper {
            round: info.round.0,
            how: how(seq, info),
            beads: info.beads(),
            per_side: info.per_side.clone(),
            total: info.total + strung_with,
            pick_up: pick_up(seq, info),
            own: own
                .iter()
                .filter(|own| own.round == Some(info.round))
                .map(|own| own.words.clone())
                .collect(),
        }
    }

    /// Beads on each side: `4` if all are the same, or `4 4 3`.
    pub fn each_side(&self) -> String {
        each(&self.per_side)
    }
}

/// One number if all are the same, otherwise all of them.
pub(super) fn each(beads: &[u32]) -> String {
    match beads {
        [first, rest @ ..] if rest.iter().all(|b| b == first) => first.to_string(),
        _ => {
            let all: Vec<String> = beads.iter().map(u32::to_string).collect();
            all.join(" ")
        }
    }
}

fn how(seq: &Sequence, info: &RoundInfo) -> String {
    let beads = info.beads();
    let steps_up = seq.layout().making(info.panel).steps_up();
    let strips = seq.layout().begins_with_strips(info.panel);
    match info.base {
        RoundBase::Ring => format!("Ring: pick up {beads} beads, close through the first"),
        RoundBase::String => match info.strung_with(seq) {
            Some(other) if strips => format!(
                "String a strip of rounds {} and {other} for each side, in the order given",
                info.round,
            ),
            Some(other) => format!(
                "String {} {} and {other} together, in the order given",
                if steps_up { "rounds" } else { "rows" },
                info.round,
            ),
            None if strips => {
                "It is on the strips already: draw the last and the first together and step down"
                    .into()
            }
            None if steps_up => "It is on the string already: close the ring and step down".into(),
            None => "It is on the string already".into(),
        },
        RoundBase::Rim => {
            "One bead in each gap of the rim; at corners sew through, adding none".into()
        }
        RoundBase::Edge => "Join row: one bead in each gap of the edge".into(),
        RoundBase::Round(_) => {
            let way = seq.layout().making(info.panel).begin.way();
            let step = match way {
                _ if !steps_up => "turn",
                WorkDirection::Outward => "step up",
                WorkDirection::Inward => "step down",
            };
            format!("{}; {step}", stitches(&info.gaps(seq), info.per_side.len()))
        }
    }
}

/// A gap word as stitches: `3 times: 1 increase, 2 plain stitches`.
fn stitches(word: &[u8], sides: usize) -> String {
    let side = short::side(word, sides);
    let runs = short::runs(side.unwrap_or(word).iter().copied());
    if runs.len() > GROUPS_LISTED {
        return format!("beads in each gap, in turn: {}", short::gaps(word, sides));
    }
    let times = |n: u32, one: &str, more: &str| many(n as usize, one, more);
    let words: Vec<String> = runs
        .into_iter()
        .map(|(beads, n)| match beads {
            0 => times(n, "decrease", "decreases"),
            1 => times(n, "plain stitch", "plain stitches"),
            _ => times(n, "increase", "increases"),
        })
        .collect();
    match side.is_some() && sides > 1 {
        true => format!("{sides} times: {}", words.join(", ")),
        false => words.join(", "),
    }
}

/// The colours of the beads in the order in which they are picked up; what
/// repeats is written once.
fn pick_up(seq: &Sequence, info: &RoundInfo) -> String {
    let layout = seq.layout();
    let kind = layout.kind(info.panel);
    let of_round = |round: Round| {
        let indices = 0..kind.in_round(round);
        indices.map(move |index| layout.bead(info.panel, round, index))
    };
    let mut beads: Vec<Bead> = match (info.base, info.strung_with(seq)) {
        // The two rounds of the string are picked up together.
        (RoundBase::String, Some(other)) => of_round(info.round).chain(of_round(other)).collect(),
        (RoundBase::String, None) => return String::new(),
        _ => of_round(info.round).collect(),
    };
    // Beads are numbered as they are strung.
    beads.sort();
    let all = layout.bead_kinds();
    let letters: Vec<char> = beads
        .into_iter()
        .map(|bead| all[usize::from(layout.colour(bead).0)].letter)
        .collect();
    let listed = in_order(&letters);
    match listed.char_indices().nth(LETTERS_LISTED) {
        None => listed,
        Some((at, _)) => {
            let whole = listed[..at].rfind(' ').unwrap_or(at);
            format!("{} … (too long to print)", &listed[..whole])
        }
    }
}

/// Letters in order, with what repeats written once: `3 × (T2 D7)`.
fn in_order(letters: &[char]) -> String {
    let n = letters.len();
    let again =
        |p: &usize| n.is_multiple_of(*p) && letters.iter().eq(letters[..*p].iter().cycle().take(n));
    let period = (1..=n / 2)
        .filter(|p| n.is_multiple_of(*p))
        .find(again)
        .unwrap_or(n);
    let once = short::colours(letters[..period].iter().copied());
    match n / period.max(1) {
        1 if n == 1 => once,
        times if period == 1 => format!("all {once} ({times})"),
        1 => once,
        times => format!("{times} × ({once})"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::round_info::rounds;
    use crate::beadwork::testing;

    fn lines(project: crate::beadwork::Project) -> Vec<RoundOnPaper> {
        let seq = Sequence::new(project);
        rounds(&seq)
            .map(|info| RoundOnPaper::of(&seq, &info, &[]))
            .collect()
    }

    /// OEIS A045943, triangular matchstick numbers.
    #[test]
    fn totals_of_a_triangle_are_a045943() {
        let lines = lines(testing::single(testing::panel(3, 8)));
        let totals: Vec<u32> = lines.iter().map(|l| l.total).collect();
        assert_eq!(totals, [3, 9, 18, 30, 45, 63, 84, 108]);
        let sides: Vec<String> = lines.iter().map(RoundOnPaper::each_side).collect();
        assert_eq!(sides, ["1", "2", "3", "4", "5", "6", "7", "8"]);
    }

    #[test]
    fn an_outward_round_says_its_stitches_side_by_side() {
        let lines = lines(testing::single(testing::panel(3, 4)));
        assert_eq!(
            lines[0].how,
            "Ring: pick up 3 beads, close through the first"
        );
        assert_eq!(lines[1].how, "3 times: 1 increase; step up");
        assert_eq!(
            lines[3].how,
            "3 times: 1 increase, 2 plain stitches; step up"
        );
        assert_eq!(lines[3].pick_up, "all S (12)");
    }

    #[test]
    fn what_repeats_is_written_once() {
        let text = |letters: &str| in_order(&letters.chars().collect::<Vec<_>>());
        assert_eq!(text("TTDDDDTTDDDD"), "2 × (T2 D4)");
        assert_eq!(text("DDD"), "all D (3)");
        assert_eq!(text("D"), "D");
        assert_eq!(text("TDD"), "T D2");
        assert_eq!(text("TDTDTD"), "3 × (T D)");
    }

    /// The order of picking up: an increase at a corner takes the last bead of
    /// one side and the first bead of the next.
    #[test]
    fn beads_are_picked_up_in_the_order_of_the_steps() {
        use crate::beadwork::project::{Closing, Solid};
        let stripes = |mut project: crate::beadwork::Project| {
            let mut other = project.beads[0].clone();
            other.letter = 'A';
            project.beads.push(other);
            let word = crate::beadwork::colour::ColourWord {
                head: vec![crate::beadwork::Colour(1)],
                middle: vec![crate::beadwork::Colour(0)],
                tail: vec![],
                mirror: false,
            };
            for panel in &mut project.panels {
                for rule in &mut panel.colours.rules {
                    rule.sides = vec![word.clone()];
                }
            }
            project
        };
        for project in [
            testing::single(testing::panel(3, 6)),
            testing::single(testing::panel(6, 9)),
            testing::single(testing::inward(3, 6, 1)),
            testing::solid(Solid::Octahedron, 5, Closing::Fill),
        ] {
            let seq = Sequence::new(stripes(project));
            let strung: Vec<Bead> = seq.iter().flat_map(|m| m.strings).collect();
            let letter = |bead: &Bead| {
                let colour = seq.layout().colour(*bead);
                seq.layout().bead_kind(colour).letter
            };
            let mut from = 0;
            for info in rounds(&seq).filter(|info| info.base != RoundBase::Edge) {
                let line = RoundOnPaper::of(&seq, &info, &[]);
                let also = match (
                    info.base,
                    info.round == seq.layout().kind(info.panel).last(),
                ) {
                    (RoundBase::String, true) => {
                        let within = Round(info.round.0 - 1);
                        seq.layout().kind(info.panel).in_round(within) as usize
                    }
                    (RoundBase::String, false) => continue,
                    _ => 0,
                };
                from =
                    seq.job(info.job).beads_before as usize + (info.total - info.beads()) as usize;
                let beads = &strung[from..from + info.beads() as usize + also];
                let letters: Vec<char> = beads.iter().map(letter).collect();
                assert_eq!(line.pick_up, in_order(&letters));
            }
            assert!(from > 0);
        }
    }

    #[test]
    fn an_inward_round_says_its_decreases() {
        let lines = lines(testing::single(testing::inward(3, 4, 1)));
        let rounds: Vec<u32> = lines.iter().map(|l| l.round).collect();
        assert_eq!(rounds, [4, 3, 2]);
        // Rounds 4 and 3 come on one string.
        let totals: Vec<u32> = lines.iter().map(|l| l.total).collect();
        assert_eq!(totals, [21, 21, 27]);
        assert_eq!(
            lines[2].how,
            "3 times: 2 plain stitches, 1 decrease; step down"
        );
    }

    #[test]
    fn a_long_list_of_colours_is_cut_short_and_says_so() {
        let mut project = testing::single(testing::panel(3, 90));
        let mut other = project.beads[0].clone();
        other.letter = 'A';
        project.beads.push(other);
        let turns = crate::beadwork::colour::ColourWord {
            head: vec![],
            middle: vec![crate::beadwork::Colour(0), crate::beadwork::Colour(1)],
            tail: vec![],
            mirror: false,
        };
        let plain = crate::beadwork::colour::ColourWord {
            middle: vec![crate::beadwork::Colour(0)],
            ..turns.clone()
        };
        for rule in &mut project.panels[0].colours.rules {
            rule.sides = vec![turns.clone(), plain.clone(), plain.clone()];
        }
        let last = lines(project).pop().unwrap();
        assert!(
            last.pick_up.ends_with("A … (too long to print)")
                || last.pick_up.ends_with("S … (too long to print)")
        );
        assert!(last.pick_up.chars().count() < 150);
    }
}
