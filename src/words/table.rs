//! The table, in groups; each group is a file.

mod beads;
mod joins;
mod rounds;
mod shapes;
mod stitches;
mod thread;
mod tool;

use super::Group;

/// The groups, in the order in which a maker meets them.
pub const GROUPS: &[Group] = &[
    rounds::GROUP,
    stitches::GROUP,
    beads::GROUP,
    joins::GROUP,
    thread::GROUP,
    shapes::GROUP,
    tool::GROUP,
];
