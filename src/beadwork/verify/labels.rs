//! Side numbers on the steps of a panel.

use super::finding::Fault;
use crate::beadwork::number::Side;

/// Side numbers in the steps compared with sides as they are read here. A panel
/// looks the same from every side, so the first number in a panel decides how
/// its sides are numbered, and all others must agree.
#[derive(Clone, Debug)]
pub(super) struct Labels {
    sides: u8,
    turn: Option<u8>,
}

impl Labels {
    pub fn new(sides: usize) -> Self {
        Labels {
            sides: sides as u8,
            turn: None,
        }
    }

    /// Sides numbered as they are read.
    pub fn straight(sides: usize) -> Self {
        Labels {
            sides: sides as u8,
            turn: Some(0),
        }
    }

    /// The side number of a side as it is read.
    pub fn number(&self, read: u8) -> Side {
        Side((read + self.turn.unwrap_or(0)) % self.sides)
    }

    /// Checks the number given in a step.
    pub fn check(&mut self, read: u8, found: Option<Side>) -> Result<(), Fault> {
        if self.turn.is_none() {
            let turn = |side: Side| (side.0 % self.sides + self.sides - read) % self.sides;
            self.turn = found.map(turn);
        }
        let expected = self.number(read);
        match found == Some(expected) {
            true => Ok(()),
            false => Err(Fault::SideNumber { expected, found }),
        }
    }
}
