//! The full-screen stitch-along.

pub mod look;
pub mod picture;
#[cfg(test)]
mod proof;
