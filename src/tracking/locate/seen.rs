//! What is half done and what the thread leaves: answers that are words.

/// What is half done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HalfDone {
    /// Nothing: all that is there is whole.
    Nothing,
    /// A string not yet closed to a ring.
    String,
    /// A panel.
    Panel,
    /// The filling of an opening.
    Fill,
    /// A join row.
    Row,
    /// A join.
    Join,
}

impl HalfDone {
    const ALL: [HalfDone; 6] = [
        HalfDone::Nothing,
        HalfDone::String,
        HalfDone::Panel,
        HalfDone::Fill,
        HalfDone::Row,
        HalfDone::Join,
    ];

    pub(super) fn of(value: u32) -> HalfDone {
        Self::ALL[(value as usize).min(Self::ALL.len() - 1)]
    }

    pub(super) fn say(self) -> &'static str {
        match self {
            HalfDone::Nothing => "nothing: panels, rows and joins are all whole",
            HalfDone::String => "a string of beads, not yet closed to a ring",
            HalfDone::Panel => "a panel",
            HalfDone::Fill => "the filling of an opening",
            HalfDone::Row => "a join row along a side",
            HalfDone::Join => "a join, some teeth locked and some open",
        }
    }
}

impl HalfDone {
    /// What it looks like, in the signs of the picture.
    pub fn drawing(self) -> &'static [&'static str] {
        match self {
            HalfDone::Nothing => &[],
            HalfDone::String => &["~~[N][N][N]◆"],
            HalfDone::Panel => &["[N] [N]◆┌╌┐", "  [A] [A]"],
            HalfDone::Fill => &["[J]   [J]   [J]", "   [N]◆  ┌╌┐"],
            HalfDone::Row => &["   [J]◆  ┌╌┐", "[A]   [A]   [A]"],
            HalfDone::Join => &["[E]   [E]◆    [E]", "   [J]     [J]"],
        }
    }
}

/// What kind of bead the thread comes out of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaves {
    /// No thread is in the work, or it is cut.
    Nothing,
    /// The bead strung last.
    Newest,
    /// Another bead of the newest round or the outermost one.
    High,
    /// A bead further in.
    Low,
    /// A join bead.
    Join,
    /// A tip bead.
    Tip,
}

impl Leaves {
    const ALL: [Leaves; 6] = [
        Leaves::Nothing,
        Leaves::Newest,
        Leaves::High,
        Leaves::Low,
        Leaves::Join,
        Leaves::Tip,
    ];

    pub(super) fn of(value: u32) -> Leaves {
        Self::ALL[(value as usize).min(Self::ALL.len() - 1)]
    }

    pub(super) fn say(self) -> &'static str {
        match self {
            Leaves::Nothing => "no thread in the work, or it is cut",
            Leaves::Newest => "the bead that was strung last",
            Leaves::High => "another up bead, of the newest round or an edge",
            Leaves::Low => "a low bead, further in",
            Leaves::Join => "a join bead",
            Leaves::Tip => "a tip bead",
        }
    }
}
