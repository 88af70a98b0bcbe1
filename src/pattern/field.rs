//! Where in a pattern something stands, as a path of names and places.

use std::fmt;

use super::error::Quote;

/// A path from the top of the file. Each part borrows the one before it, so
/// that walking a file costs nothing until something is wrong.
#[derive(Clone, Copy, Debug)]
pub(super) enum Field<'p> {
    /// The whole file.
    Top,
    /// The entry of a group in { }.
    Key(&'p Field<'p>, &'p str),
    /// The entry of a list, from 0; shown from 1, as everything in a pattern.
    Place(&'p Field<'p>, usize),
}

impl<'p> Field<'p> {
    /// The entry `key` of this group.
    pub(super) fn key<'c>(&'c self, key: &'c str) -> Field<'c>
    where
        'p: 'c,
    {
        Field::Key(self, key)
    }

    /// The entry at `place` (from 0) of this list.
    pub(super) fn place<'c>(&'c self, place: usize) -> Field<'c>
    where
        'p: 'c,
    {
        Field::Place(self, place)
    }

    /// What this is an entry of.
    pub(super) fn parent(&self) -> Option<&'p Field<'p>> {
        match self {
            Field::Top => None,
            Field::Key(parent, _) | Field::Place(parent, _) => Some(parent),
        }
    }
}

impl fmt::Display for Field<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Field::Top => Ok(()),
            Field::Place(parent, place) => write!(f, "{parent}[{}]", place + 1),
            Field::Key(parent, key) => {
                if !matches!(parent, Field::Top) {
                    write!(f, "{parent}.")?;
                }
                let plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
                match Quote::new(key) {
                    name if !key.is_empty() && key.chars().all(plain) => f.write_str(name.bare()),
                    name => write!(f, "\"{}\"", name.bare()),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_reads_as_a_maker_counts() {
        let panels = Field::Top.key("panels");
        let face = panels.key("left face\x1b[2J");
        let colours = face.key("colours");
        assert_eq!(
            colours.place(1).to_string(),
            "panels.\"left face\".colours[2]"
        );
        assert_eq!(Field::Top.key("folded-pair").to_string(), "folded-pair");
    }
}
