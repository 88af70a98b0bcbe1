//! The plan's own room: what `threadmark plan` prints, part by part, worked
//! out apart when it is opened.

use super::{Pane, Session};
use crate::beadwork::{Kind, Sequence, Step};
use crate::plan::ahead::Ahead;
use crate::plan::page::{Part, Unit, parts};
use crate::plan::{Plan, Wishes};
use crate::progress::Entry;
use crate::screen::apart::Apart;
use crate::screen::settings;
use std::sync::Arc;
use unicode_width::UnicodeWidthStr as _;

/// Stitches timed before the maker's own pace goes into the plan.
const TIMED: usize = 20;

/// The plan, once it is worked out.
struct Planned {
    plan: Arc<Plan>,
    parts: Vec<Part>,
}

/// The room.
#[derive(Default)]
pub struct PlanRoom {
    asked: Option<Apart<Planned>>,
}

/// A row of the room.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// The heading of a part.
    Heading(&'static str),
    /// Words below it.
    Words(String),
    /// A line that begins with `!`.
    Watch(String),
}

impl PlanRoom {
    /// Opens it for a piece at a step. A plan that was made for the same
    /// wishes is not made again.
    pub fn open(&mut self, seq: &Arc<Sequence>, wishes: Wishes, unit: Unit, done: Step) {
        let known = self.asked.as_ref().and_then(Apart::get);
        let known = known.map(|p| p.plan.clone()).filter(|p| p.wishes == wishes);
        let seq = seq.clone();
        self.asked = Some(Apart::begin(move || {
            let plan = known.unwrap_or_else(|| Arc::new(Plan::of(&seq, wishes)));
            let ahead = (done.0 > 0).then(|| Ahead::of(&seq, &plan, done));
            let parts = parts(&plan, ahead.as_ref(), unit);
            Planned { plan, parts }
        }));
    }

    /// Takes in the plan, if it has come; whether it is still waited for.
    pub fn look(&mut self) -> bool {
        self.asked.as_mut().is_some_and(Apart::look)
    }

    /// The parts, or a word while there are none.
    pub fn parts(&self) -> Result<&[Part], String> {
        match &self.asked {
            Some(asked) => match asked.get() {
                Some(planned) => Ok(&planned.parts),
                None if asked.failed() => Err(FAILED.into()),
                None => {
                    let tenths = asked.since().as_millis() / 100;
                    let dots = ".".repeat(1 + (tenths as usize / 3) % 3);
                    Err(format!(
                        "Going through all steps{dots} {}.{} s",
                        tenths / 10,
                        tenths % 10
                    ))
                }
            },
            None => Err(String::new()),
        }
    }

    /// The rows at a width, and for each part the row that it begins at.
    pub fn rows(&self, width: u16) -> (Vec<Row>, Vec<usize>) {
        let (rows, begins, _) = self.set(width);
        (rows, begins)
    }

    /// The row at a width that shows what is at a row of another width.
    pub fn same_row(&self, at: usize, from: u16, to: u16) -> usize {
        let (_, _, lines) = self.set(from);
        let line = lines.get(at).or(lines.last()).copied().unwrap_or(0);
        self.set(to).2.partition_point(|l| *l < line)
    }

    /// Rows, where parts begin, and which line each row belongs to.
    fn set(&self, width: u16) -> (Vec<Row>, Vec<usize>, Vec<usize>) {
        let (mut rows, mut begins, mut lines) = (vec![], vec![], vec![]);
        let mut line_of = 0;
        for part in self.parts().unwrap_or_default() {
            if !rows.is_empty() {
                rows.push(Row::Words(String::new()));
            }
            lines.resize(rows.len(), line_of);
            line_of += 1;
            begins.push(rows.len());
            rows.push(Row::Heading(part.heading));
            for line in &part.lines {
                lines.resize(rows.len(), line_of);
                line_of += 1;
                let watch = line.trim_start().starts_with('!');
                rows.extend(hung(line, width).into_iter().map(|words| match watch {
                    true => Row::Watch(words),
                    false => Row::Words(words),
                }));
            }
        }
        lines.resize(rows.len(), line_of);
        (rows, begins, lines)
    }
}

const FAILED: &str =
    "The plan could not be worked out. `threadmark plan` on the pattern file says why.";

/// A line broken between words, what follows set in below what it belongs to.
fn hung(line: &str, width: u16) -> Vec<String> {
    let indent = 1 + line.len() - line.trim_start().len();
    let width = usize::from(width).max(indent + 6);
    let mut rows = vec![" ".repeat(indent)];
    for word in line.split_whitespace() {
        let row = rows.last_mut().expect("there is a first row");
        let empty = row.trim_start().is_empty();
        if !empty && row.width() + 1 + word.width() > width {
            rows.push(format!("{}{word}", " ".repeat(indent + 2)));
        } else {
            row.push_str(if empty { "" } else { " " });
            row.push_str(word);
        }
    }
    rows
}

impl Session {
    /// Opens the plan.
    pub(super) fn open_plan(&mut self) {
        self.pane = Pane::Plan(0);
        self.plan_again();
    }

    fn plan_again(&mut self) {
        let set = &self.piece.state().settings;
        let own = self.going.pace.usual(Kind::Stitch);
        let own = (own.timed >= TIMED).then_some((own.mean * 2.0).round().max(1.0) / 2.0);
        let wishes = Wishes {
            spare_percent: settings::spare_percent(set),
            stitch_seconds: own.unwrap_or(Wishes::default().stitch_seconds),
            own_pace: own.is_some(),
            stone_mm: None,
        };
        let (unit, done) = (settings::unit(set), self.done());
        self.plan.open(&self.seq, wishes, unit, done);
    }

    /// To the next part, or to the one before.
    pub(super) fn turn_part(&mut self, by: isize) {
        let Pane::Plan(at) = self.pane else { return };
        let (_, begins) = self.plan.rows(self.width);
        let part = begins.partition_point(|b| *b <= at).saturating_sub(1);
        let to = match (by, begins.get(part)) {
            // Back to the head of this part first.
            (-1, Some(&head)) if at > head => head,
            _ => {
                let to = part
                    .saturating_add_signed(by)
                    .min(begins.len().saturating_sub(1));
                begins.get(to).copied().unwrap_or(0)
            }
        };
        self.pane = Pane::Plan(to);
    }

    /// Millimetres or inches.
    pub(super) fn switch_unit(&mut self) {
        let next = settings::next(settings::Line::Unit, &self.piece.state().settings);
        if let Some((name, value)) = next {
            self.record(Entry::set(name, value, self.now));
        }
        if matches!(self.pane, Pane::Plan(_)) {
            self.plan_again();
        }
    }

    /// Lines are so many letters wide from now on.
    pub fn set_width(&mut self, width: u16) {
        if let Pane::Plan(at) = &mut self.pane
            && width != self.width
        {
            *at = self.plan.same_row(*at, self.width, width);
        }
        self.width = width;
    }

    /// The last row that the plan may be scrolled to.
    pub(super) fn plan_last(&self) -> usize {
        let (rows, begins) = self.plan.rows(self.width);
        let full = rows.len().saturating_sub(self.page);
        full.max(begins.last().copied().unwrap_or(0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_follows_hangs_below_its_line() {
        assert_eq!(hung("  one two three", 10), ["   one two", "     three"]);
        assert_eq!(hung("ein", 1), [" ein"]);
    }
}
