//! The thread: where the needle leaves the work, and where it can go in next.
//!
//! Thread that goes in at one end of a bead comes out at the other. From the
//! end that it leaves, it can go
//!
//! - into a new bead, by its back;
//! - into an end that thread has drawn to this one;
//! - into an end that lies together with this one against a third;
//! - at a corner, into any end at the corners that have come together there.
//!
//! What is drawn together for the first time by a round, a row or a zip is
//! joined here by its reader, because only the law of the work can say it.

use super::corners::Corners;
use super::end::BeadEnd;
use super::finding::Fault;
use super::links::Links;
use crate::beadwork::number::Bead;

/// The thread in the work.
#[derive(Debug)]
pub(super) struct ThreadState {
    pub links: Links,
    pub corners: Corners,
    needle: NeedlePlace,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum NeedlePlace {
    /// No thread is in the work.
    Out,
    /// New thread that is not in a bead yet.
    New,
    /// It leaves the last bead by one of these ends; by both while the steps
    /// have not decided it.
    Leaves { back: bool, bead: Bead, front: bool },
}

impl ThreadState {
    pub fn new(beads: u32) -> Self {
        ThreadState {
            links: Links::new(beads),
            corners: Corners::default(),
            needle: NeedlePlace::Out,
        }
    }

    /// Whether thread is in the work.
    pub fn is_in(&self) -> bool {
        self.needle != NeedlePlace::Out
    }

    /// Whether the thread is not in any bead yet.
    pub fn is_new(&self) -> bool {
        self.needle == NeedlePlace::New
    }

    pub fn start(&mut self) {
        self.needle = NeedlePlace::New;
    }

    pub fn end(&mut self) {
        self.needle = NeedlePlace::Out;
    }

    /// The ends by which the needle may be leaving.
    pub fn leaving(&self) -> impl Iterator<Item = BeadEnd> + use<> {
        let ends = match self.needle {
            NeedlePlace::Leaves { back, bead, front } => [
                back.then(|| BeadEnd::back(bead)),
                front.then(|| BeadEnd::front(bead)),
            ],
            _ => [None, None],
        };
        ends.into_iter().flatten()
    }

    /// The bead that the needle leaves.
    pub fn at(&self) -> Option<Bead> {
        match self.needle {
            NeedlePlace::Leaves { bead, .. } => Some(bead),
            _ => None,
        }
    }

    fn set(&mut self, end: BeadEnd) {
        self.needle = NeedlePlace::Leaves {
            back: !end.is_front(),
            bead: end.bead(),
            front: end.is_front(),
        };
    }

    /// Requires that the needle leaves this end; afterwards it counts as
    /// leaving it, even if it did not.
    pub fn must_leave(&mut self, end: BeadEnd) -> Result<(), Fault> {
        let leaves = self.leaving().any(|e| e == end);
        let fault = match self.needle {
            _ if leaves => None,
            NeedlePlace::Out => Some(Fault::NoThread),
            _ => Some(Fault::NeedleElsewhere {
                expected: end,
                found: self.at(),
            }),
        };
        self.set(end);
        fault.map_or(Ok(()), Err)
    }

    /// Strings a new bead.
    pub fn string(&mut self, bead: Bead) -> Result<(), Fault> {
        let mut ends = self.leaving();
        if let (Some(from), None) = (ends.next(), ends.next()) {
            self.links.join(from, BeadEnd::back(bead));
        }
        let fault = (self.needle == NeedlePlace::Out).then_some(Fault::NoThread);
        self.set(BeadEnd::front(bead));
        fault.map_or(Ok(()), Err)
    }

    /// Passes a bead that is already there.
    pub fn pass(&mut self, bead: Bead) -> Result<(), Fault> {
        let was = self.needle;
        let [by_back, by_front] =
            BeadEnd::both(bead).map(|into| self.leaving().any(|from| self.may_go(from, into)));
        let free = matches!(was, NeedlePlace::New | NeedlePlace::Out);
        let lost = free || !(by_back || by_front);
        // Whether it could only continue from the end where it went in.
        let turned = !free && lost && {
            let entered = self.leaving().map(BeadEnd::through);
            let may_go = |from| {
                BeadEnd::both(bead)
                    .iter()
                    .any(|&into| self.may_go(from, into))
            };
            entered.into_iter().any(may_go)
        };
        self.needle = NeedlePlace::Leaves {
            back: by_front || lost,
            bead,
            front: by_back || lost,
        };
        match was {
            NeedlePlace::Out => Err(Fault::NoThread),
            NeedlePlace::Leaves { bead: from, .. } if lost && turned => {
                Err(Fault::TurnsInside(from))
            }
            NeedlePlace::Leaves { bead: from, .. } if lost => Err(Fault::Jump { from, to: bead }),
            _ => Ok(()),
        }
    }

    /// Whether thread turns back between two ends: they were not drawn together
    /// and are not at a corner, but both lie against a third.
    pub fn is_turn(&self, from: BeadEnd, into: BeadEnd) -> bool {
        !self.links.are_joined(from, into) && !self.corners.lie_together(from, into)
    }

    /// Whether thread that leaves an end can go in at another.
    pub fn may_go(&self, from: BeadEnd, into: BeadEnd) -> bool {
        if self.links.are_joined(from, into) {
            return true;
        }
        from.bead() != into.bead()
            && (self.links.meet_at_a_third(from, into) || self.corners.lie_together(from, into))
    }
}
