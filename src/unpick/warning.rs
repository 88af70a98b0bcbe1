//! What can go wrong while unpicking.

use crate::beadwork::Step;

/// A caution, as data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Warning {
    /// The needle comes off first.
    NeedleOff,
    /// No sewing backwards.
    NoSewingBack,
    /// The thread may be split.
    SplitThread,
    /// A thread was woven in and cut in these steps, first and last.
    WovenEnd(Step, Step),
    /// The thread that made what stays is cut: a new one is needed there.
    NewThreadAt(Step),
    /// A join comes apart.
    Join,
    /// Beads roll and needles are sharp.
    Loose,
}

impl Warning {
    /// The caution in a sentence.
    pub fn say(&self) -> String {
        match self {
            Warning::NeedleOff => {
                "Take the needle off the thread and stick it where it can hurt nobody.".into()
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
