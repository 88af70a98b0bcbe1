//! The rounds of a piece, job by job, in the order in which they are made.

use super::{Begin, Colour, Job, JobKind, Panel, Round, Sequence, Side, WorkDirection};

/// Which way a round goes on from the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoundDirection {
    /// Away from the middle.
    Outward,
    /// Towards the middle.
    Inward,
    /// Along a strip, away from its first row.
    Onward,
}

impl RoundDirection {
    /// Its name in output.
    pub fn name(self) -> &'static str {
        match self {
            RoundDirection::Outward => "outward",
            RoundDirection::Inward => "inward",
            RoundDirection::Onward => "onward",
        }
    }
}

/// What a round is worked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoundBase {
    /// Nothing: it is the ring in the middle.
    Ring,
    /// Nothing: it is half of the string that a free start closes, or that a
    /// strip begins with.
    String,
    /// The round before.
    Round(Round),
    /// The rim of an opening.
    Rim,
    /// The edge of a finished panel: it is a join row.
    Edge,
}

/// One round as a job makes it.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundInfo {
    /// The job.
    pub job: Job,
    /// The panel; of join rows the one that carries them.
    pub panel: Panel,
    /// The round; of join rows the one after the panel's last.
    pub round: Round,
    /// Which way the panel is worked.
    pub direction: RoundDirection,
    /// What the round is worked on.
    pub base: RoundBase,
    /// Beads on each side, tip beads with the row before them.
    pub per_side: Vec<u32>,
    /// Beads of the job, this round and those before it.
    pub total: u32,
}

impl RoundInfo {
    /// Beads of the round.
    pub fn beads(&self) -> u32 {
        self.per_side.iter().sum()
    }

    /// The other of two rounds that are strung together, of the one that comes
    /// first in the list.
    pub fn strung_with(&self, seq: &Sequence) -> Option<Round> {
        let (layout, round) = (seq.layout(), self.round.0);
        let last = layout.kind(self.panel).rounds();
        match (self.base, layout.making(self.panel).begin) {
            (RoundBase::String, Begin::TwoRows) if round == 1 => Some(Round(2)),
            (RoundBase::String, Begin::FreeStart) if round == last => Some(Round(last - 1)),
            _ => None,
        }
    }

    /// The colours along a side, from its first place to its last.
    pub fn colours<'a>(
        &'a self,
        seq: &'a Sequence,
        side: Side,
    ) -> impl Iterator<Item = Colour> + 'a {
        let layout = seq.layout();
        let row = layout.row_on(self.panel, side);
        let beads = self.per_side[side.index()];
        (0..beads).map(move |place| {
            layout.colour_of(match (self.base, row) {
                (RoundBase::Edge, Some(row)) => layout.row_seat(row, place),
                _ => layout.face_seat(self.panel, self.round, side, place),
            })
        })
    }

    /// Beads for each gap of the round that it is worked on, in order; none
    /// where it is worked on no round.
    pub fn gaps(&self, seq: &Sequence) -> Vec<u8> {
        let RoundBase::Round(on) = self.base else {
            return vec![];
        };
        let layout = seq.layout();
        let work = layout.work(self.panel, on);
        // A corner drawn together before the first bead is a gap of the round
        // too, its first in working order.
        let turn = work.gaps() - work.skipped();
        let gaps = (0..work.gaps()).map(|j| work.in_gap((j + turn) % work.gaps()) as u8);
        gaps.collect()
    }
}

/// All rounds, in the order in which they are made.
pub fn rounds(seq: &Sequence) -> impl Iterator<Item = RoundInfo> + '_ {
    let jobs = (0..seq.jobs().len()).map(|at| Job(at as u16));
    jobs.flat_map(move |job| of_job(seq, job))
}

/// The rounds of one job; a join or a fold has none.
pub fn of_job(seq: &Sequence, job: Job) -> Vec<RoundInfo> {
    let mut rounds = match &seq.job(job).kind {
        JobKind::Panel(panel) | JobKind::Fill { panel, .. } => of_panel(seq, job, *panel),
        JobKind::JoinRow { panel, sides, .. } => vec![join_row(seq, job, *panel, sides)],
        JobKind::Zip(..)
        | JobKind::SetIn(..)
        | JobKind::SetInMiddle { .. }
        | JobKind::Reinforce(..)
        | JobKind::FirmRim(_)
        | JobKind::Tie(..) => vec![],
    };
    let mut total = 0;
    for round in &mut rounds {
        total += round.beads();
        round.total = total;
    }
    rounds
}

fn of_panel(seq: &Sequence, job: Job, panel: Panel) -> Vec<RoundInfo> {
    let layout = seq.layout();
    let (kind, making) = (layout.kind(panel), layout.making(panel));
    let strung = making.strung_rounds(kind);
    let made = |round: Round| RoundInfo {
        job,
        panel,
        round,
        direction: match making.begin {
            Begin::Ring => RoundDirection::Outward,
            Begin::TwoRows => RoundDirection::Onward,
            Begin::FreeStart | Begin::Rim => RoundDirection::Inward,
        },
        base: match layout.worked_on(panel, round) {
            _ if strung.contains(&round.0) && making.begin == Begin::Ring => RoundBase::Ring,
            _ if strung.contains(&round.0) => RoundBase::String,
            Some(on) => RoundBase::Round(on),
            None => RoundBase::Rim,
        },
        per_side: (0..kind.sides())
            .map(|side| kind.on_side(round, Side(side)))
            .collect(),
        total: 0,
    };
    let rounds = (making.innermost().0..=kind.rounds()).map(Round);
    match making.begin.way() {
        WorkDirection::Outward => rounds.map(made).collect(),
        WorkDirection::Inward => rounds.rev().map(made).collect(),
    }
}

fn join_row(seq: &Sequence, job: Job, panel: Panel, sides: &[Side]) -> RoundInfo {
    let layout = seq.layout();
    let kind = layout.kind(panel);
    let on_side = |side: u8| {
        let worked = sides.contains(&Side(side));
        let row = layout.row_on(panel, Side(side)).filter(|_| worked);
        row.map_or(0, |row| layout.row(row).beads + layout.row(row).tips)
    };
    RoundInfo {
        job,
        panel,
        round: Round(kind.rounds() + 1),
        direction: RoundDirection::Outward,
        base: RoundBase::Edge,
        per_side: (0..kind.sides()).map(on_side).collect(),
        total: 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::amend::colours::ColourChange;
    use crate::beadwork::paint::RoundColours;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::{Bead, ColourWord, Project, testing};

    fn numbers(project: Project) -> Vec<(u32, u32, u32)> {
        let seq = Sequence::new(project);
        rounds(&seq)
            .map(|r| (r.round.0, r.beads(), r.total))
            .collect()
    }

    /// OEIS A045943, triangular matchstick numbers: 3, 9, 18, 30, 45, 63.
    #[test]
    fn the_running_total_of_a_triangle_is_a045943() {
        let made = numbers(testing::single(testing::panel(3, 6)));
        let totals: Vec<u32> = made.iter().map(|r| r.2).collect();
        assert_eq!(totals, [3, 9, 18, 30, 45, 63]);
    }

    #[test]
    fn a_free_start_makes_the_two_outer_rounds_first() {
        let made = numbers(testing::single(testing::inward(3, 5, 1)));
        assert_eq!(made, [(5, 15, 15), (4, 12, 27), (3, 9, 36), (2, 6, 42)]);
    }

    #[test]
    fn all_rounds_together_are_all_beads() {
        for project in [
            testing::solid(Solid::Octahedron, 5, Closing::Fill),
            testing::solid(Solid::Cube, 9, Closing::SetIn),
            testing::folded_pair(8, 3),
            testing::ring(8, 5, Closing::Fill),
        ] {
            let seq = Sequence::new(project);
            let mut beads = 0;
            for round in rounds(&seq) {
                beads += round.beads();
                if round.total == seq.job(round.job).beads {
                    assert_eq!(beads, seq.job(round.job).beads_before + round.total);
                }
            }
            assert_eq!(beads, seq.layout().beads());
        }
    }

    #[test]
    fn a_join_row_is_the_round_after_the_last_on_its_sides_alone() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 6, Closing::SetIn));
        let row = rounds(&seq).find(|r| r.base == RoundBase::Edge).unwrap();
        assert_eq!(row.round, Round(7));
        assert!(row.per_side.iter().all(|&beads| beads == 0 || beads == 5));
        assert!(row.beads() > 0);
    }

    /// From the middle of round 4 on another colour is strung.
    #[test]
    fn the_colours_of_a_round_are_those_of_its_beads() {
        for spec in [testing::panel(3, 5), testing::inward(3, 5, 1)] {
            let mut project = testing::single(spec);
            project.beads.push(project.beads[0].clone());
            let plain = Sequence::new(project);
            let in_four = plain.iter().filter(|m| m.round == Some(Round(4)));
            let done = in_four.map(|m| m.step).nth(3).expect("a stitch of round 4");
            let paint = ColourChange::Paint {
                from: Bead(plain.strung_after(done) + 1),
                panel: Panel(0),
                round_colours: RoundColours::Round(Round(4), vec![ColourWord::plain(Colour(1))]),
            };
            let seq = plain.recoloured(done, &paint).unwrap();
            let layout = seq.layout();
            let mut painted = 0;
            for round in rounds(&seq) {
                for side in (0..3).map(Side) {
                    for (place, colour) in (0..).zip(round.colours(&seq, side)) {
                        let seat = layout.face_seat(Panel(0), round.round, side, place);
                        assert_eq!(colour, layout.colour(layout.bead_in(seat)));
                        painted += colour.0;
                    }
                }
            }
            assert!((1..12).contains(&painted), "{painted}");
        }
    }

    #[test]
    fn the_gap_word_of_a_round_strings_its_beads() {
        for project in [
            testing::single(testing::panel(6, 12)),
            testing::single(testing::inward(6, 13, 4)),
            testing::single(testing::inward(3, 7, 0)),
        ] {
            let seq = Sequence::new(project);
            for round in rounds(&seq) {
                if let RoundBase::Round(on) = round.base {
                    let gaps = round.gaps(&seq);
                    let strung: u32 = gaps.iter().map(|&g| u32::from(g)).sum();
                    assert_eq!(strung, round.beads());
                    assert_eq!(
                        gaps.len() as u32,
                        seq.layout().kind(round.panel).in_round(on)
                    );
                }
            }
        }
    }
}
