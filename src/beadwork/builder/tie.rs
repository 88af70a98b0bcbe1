//! The corner tie: two corners of a folded net drawn together.

use super::{Builder, FAR, WOVEN};
use crate::beadwork::end::Hole;
use crate::beadwork::job::JobKind;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::Bead;
use crate::beadwork::route;
use crate::beadwork::seams::Corner;
use crate::beadwork::stage::{Run, Still, Through};

impl Builder {
    /// Folds the work and draws two corners together.
    pub(in crate::beadwork) fn tie(&mut self, from: Corner, to: Corner) {
        let (there, here) = (self.loop_at(to), self.loop_at(from));
        let title = "Fold and tie the corners".to_string();
        let at_corner: Vec<Hole> = self.corner_holes(from);
        let work = self.work();
        let way = self.needle.and_then(|needle| {
            route::shortest(work, needle, FAR, |h| {
                at_corner.iter().any(|c| c.bead == h.bead && c.end == h.end)
            })
        });
        match way {
            Some(beads) => {
                self.begin(JobKind::Tie(from, to), title);
                self.pass(beads);
            }
            None => {
                self.end_thread();
                self.begin(JobKind::Tie(from, to), title);
                let beads = route::weave_out(self.work(), at_corner[0], WOVEN);
                self.take_thread(beads);
            }
        }
        self.push(Still {
            kind: Kind::Fold,
            round: None,
            side: None,
            beads: 0,
        });
        self.seams.meet(from, to);
        for _ in 0..2 {
            for beads in [&there, &here] {
                self.push(Through {
                    kind: Kind::Fold,
                    round: None,
                    side: None,
                    run: Run::Beads(beads.clone().into()),
                });
            }
        }
        self.leave(self.leaving_after(&here, &at_corner));
    }

    /// The shortest loop that goes in at a corner and comes out at it again.
    pub(super) fn loop_at(&self, corner: Corner) -> Vec<Bead> {
        let holes = self.corner_holes(corner);
        let work = self.work();
        let ways = holes.iter().filter_map(|into| {
            let out = into.through();
            let way = route::shortest(work, out, FAR, |h| {
                h.bead != into.bead && holes.contains(&h)
            })?;
            Some([vec![into.bead], way].concat())
        });
        ways.min_by_key(Vec::len)
            .unwrap_or_else(|| vec![holes[0].bead])
    }

    pub(super) fn leaving_after(&self, beads: &[Bead], holes: &[Hole]) -> Hole {
        let last = *beads.last().expect("a loop has beads");
        let at = holes.iter().find(|h| h.bead == last);
        at.copied().unwrap_or(Hole::front(last))
    }

    pub(in crate::beadwork) fn corner_holes(&self, corner: Corner) -> Vec<Hole> {
        let work = self.work();
        let alone = [corner];
        let together = match self.seams.together(corner) {
            [] => &alone[..],
            together => together,
        };
        together.iter().flat_map(|&c| work.holes_at(c)).collect()
    }
}
