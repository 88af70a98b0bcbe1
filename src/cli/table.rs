//! Text in columns.

use std::io::{self, Write};

use unicode_width::UnicodeWidthStr;

/// How the text of a column is aligned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// Rows of as many texts as there are columns.
pub(super) struct Table<const N: usize> {
    align: [Align; N],
    rows: Vec<[String; N]>,
}

impl<const N: usize> Table<N> {
    /// A table of its headings.
    pub(super) fn new(columns: [(&str, Align); N]) -> Self {
        Table {
            align: columns.map(|(_, align)| align),
            rows: vec![columns.map(|(heading, _)| heading.to_string())],
        }
    }

    pub(super) fn push(&mut self, row: [String; N]) {
        self.rows.push(row);
    }

    /// Writes the rows, two spaces before each column, without spaces at the
    /// end.
    ///
    /// # Errors
    /// The output cannot be written.
    pub(super) fn write(&self, out: &mut dyn Write) -> io::Result<()> {
        let widths: [usize; N] = std::array::from_fn(|column| {
            let widths = self.rows.iter().map(|row| row[column].width());
            widths.max().unwrap_or(0)
        });
        for row in &self.rows {
            let mut line = String::new();
            for ((text, width), align) in row.iter().zip(widths).zip(self.align) {
                let room = " ".repeat(width - text.width());
                match align {
                    Align::Left => line.extend(["  ", text, &room]),
                    Align::Right => line.extend(["  ", &room, text]),
                }
            }
            writeln!(out, "{}", line.trim_end())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_as_wide_as_their_contents() {
        let mut table = Table::new([
            ("n", Align::Right),
            ("name", Align::Left),
            ("", Align::Left),
        ]);
        table.push(["12".into(), "星".into(), "x".into()]);
        let mut out = Vec::new();
        table.write(&mut out).unwrap();
        assert_eq!(
            String::from_utf8(out).unwrap(),
            "   n  name\n  12  星    x\n"
        );
    }
}
