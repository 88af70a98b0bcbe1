//! The whole program: files and arguments in, exact output and exit code out.
//! A file for each command; [`builder`] runs the real binary in a directory of
//! its own, [`pty`] runs it on a terminal and reads the screen.

mod as_stitched;
mod beads;
mod break_out;
mod builder;
mod check;
mod completion;
mod docs;
mod draft;
mod errors;
mod help;
mod list_of_changes;
mod locate;
mod manual;
mod mending;
mod old_trays;
mod pattern;
mod patterns;
mod picture;
mod pieces;
mod plan;
mod readme;
mod recorded;
mod rounds;
mod schema;
mod sheet;
mod steps;
mod stitch;
mod strips;
mod verify;

#[cfg(unix)]
mod changing;
#[cfg(unix)]
mod colours;
#[cfg(unix)]
mod face;
mod faults;
mod fine;
#[cfg(unix)]
mod free;
mod going;
#[cfg(unix)]
mod joins;
#[cfg(unix)]
mod pty;
#[cfg(unix)]
mod settings;
#[cfg(unix)]
mod solid;
#[cfg(unix)]
mod speech;
#[cfg(unix)]
mod stitching;
#[cfg(unix)]
mod terminals;
#[cfg(unix)]
mod tour;
#[cfg(unix)]
mod tray;
#[cfg(unix)]
mod unlike;
