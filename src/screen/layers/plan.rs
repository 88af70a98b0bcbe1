//! The plan: what `threadmark plan` prints, part by part, worked out in the
//! background when it is opened; on a wide screen with a list of its parts
//! beside it.

use crate::beadwork::Kind;
use crate::plan::ahead::Ahead;
use crate::plan::page::{PlanSection, parts};
use crate::plan::{Plan, Wishes};
use crate::progress::Entry;
use crate::screen::background_task::BackgroundTask;
use crate::screen::layer::{Busy, Context as _, Flow, Layer, Opener, keys, opener};
use crate::screen::look::Look;
use crate::screen::session::Session;
use crate::screen::settings;
use crate::screen::widgets::{Scroll, bold, rows, text};
use crate::tracking::pace::own_cut_mm;
use ratatui::prelude::{Buffer, Line, Rect, Style};
use std::sync::Arc;

pub const OPENER: Opener<Session> = opener!(Session; "plan" "p" ["p plan"] "the plan of the piece: beads, thread, holes, size, joins, colours; and what is left of it from here on" |_, session| Flow::open(PlanPage::of(session)); PlanPage::table);

/// From this width on, a list of the parts is shown beside the plan.
const WIDE: u16 = 110;
/// Columns of that list.
const PARTS: u16 = 30;
/// The widest line of the plan: longer ones are hard to read.
const LINE: u16 = 100;
/// The fewest timed stitches for the plan to use the maker's own pace.
const TIMED: usize = 20;

const FAILED: &str =
    "The plan could not be worked out. `threadmark plan` on the pattern file says why.";

/// The plan and its parts.
type Planned = (Arc<Plan>, Vec<PlanSection>);

pub struct PlanPage {
    planned: BackgroundTask<Planned>,
    scroll: Scroll,
    /// Its rows at the width last drawn.
    set: PlanRows,
}

/// Rows at a width.
#[derive(Default)]
struct PlanRows {
    width: u16,
    rows: Vec<PlanRow>,
}

struct PlanRow {
    words: String,
    kind: RowKind,
    /// The line of the plan to which it belongs.
    line: usize,
}

/// The kind of a row of the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum RowKind {
    /// The heading of a part.
    Heading,
    /// Text below a heading.
    Words,
    /// A line that begins with `!`.
    Watch,
}

impl Layer<Session> for PlanPage {
    keys! { Session, "The plan" [scroll page];
        next_part "Tab right" ["Tab next part"] "to the next part"
        part_before "Shift-Tab left" [] "to the part before"
        unit "i" ["i mm or inches"] "millimetres or inches; kept with the piece"
    }

    fn lines(&self, _session: &Session) -> Vec<Line<'static>> {
        let parts = match self.parts() {
            Ok(parts) => parts,
            Err(words) => return vec![Line::from(words)],
        };
        let part = |part: &PlanSection| {
            let heading = text::styled(format!("{}:", part.heading), bold());
            let lines = part.lines.iter().map(|line| Line::from(line.clone()));
            std::iter::once(heading).chain(lines).collect::<Vec<_>>()
        };
        parts.iter().flat_map(part).collect()
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        let busy = self.planned.look();
        if let Some((plan, _)) = self.planned.get() {
            session.plan = Some(plan.clone());
        }
        Busy::waiting(busy)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let look = session.look();
        if let Err(words) = self.parts() {
            text::line(rows(area, 1, 1), buf, " The plan", bold());
            text::wrapped(text::inset(rows(area, 2, 2), 1), buf, &words, look.quiet());
            return;
        }
        self.set(columns(area.width));
        let set = &self.set;
        let rows_to_last = set.begin(usize::MAX) + usize::from(area.height);
        self.scroll.fit(rows_to_last, area.height);
        let from = self.scroll.at;
        let here = set.part(from);
        let more = match from + usize::from(area.height) < set.rows.len() {
            true => "; more below",
            false => "",
        };
        let (part, parts) = (here + 1, set.begins().count());
        self.scroll.note = Some(format!(" part {part} of {parts}{more}"));
        let mut left = 0;
        if area.width >= WIDE {
            left = PARTS;
            let beside = text::columns(area, 0, PARTS - 1);
            contents(look, self.parts().unwrap_or_default(), here, beside, buf);
        }
        let space = text::columns(area, left, set.width);
        for (y, row) in (0..space.height).zip(&set.rows[from..]) {
            let style = match row.kind {
                RowKind::Heading => look.seat(),
                RowKind::Words => Style::new(),
                RowKind::Watch => look.ahead(),
            };
            text::line(rows(space, y, 1), buf, &row.words, style);
        }
    }
}

impl PlanPage {
    /// Starts working it out. A plan already made with the same settings is
    /// used again.
    fn of(session: &Session) -> PlanPage {
        let settings = &session.piece.state().settings;
        let own = session.stats.pace.usual(Kind::Stitch);
        let own = (own.timed >= TIMED).then_some((own.mean * 2.0).round().max(1.0) / 2.0);
        let wishes = Wishes {
            spare_percent: settings::spare_percent(settings),
            stitch_seconds: own.unwrap_or(Wishes::default().stitch_seconds),
            own_pace: own.is_some(),
            stone_mm: None,
        };
        let known = session.plan.clone().filter(|plan| plan.wishes == wishes);
        let threads = (*session.piece.state().threads).clone();
        let (seq, unit, done) = (
            session.seq.clone(),
            settings::unit(settings),
            session.done(),
        );
        let planned = move || {
            let plan = known.unwrap_or_else(|| Arc::new(Plan::of(&seq, wishes)));
            let ahead = (done.0 > 0).then(|| Ahead::of(&seq, &plan, done));
            let cut = |length| own_cut_mm(&seq, &threads, length);
            let shown = Plan::clone(&plan).with_own_cuts(cut);
            let parts = parts(&shown, ahead.as_ref(), unit);
            (plan, parts)
        };
        PlanPage {
            planned: BackgroundTask::begin(planned),
            scroll: Scroll::new(),
            set: PlanRows::default(),
        }
    }

    /// The parts, or a message while there are none.
    fn parts(&self) -> Result<&[PlanSection], String> {
        match self.planned.get() {
            Some((_, parts)) => Ok(parts),
            None if self.planned.failed() => Err(FAILED.into()),
            None => {
                let tenths = self.planned.since().as_millis() / 100;
                let dots = ".".repeat(1 + (tenths as usize / 3) % 3);
                let (seconds, tenths) = (tenths / 10, tenths % 10);
                Err(format!(
                    "Going through all steps{dots} {seconds}.{tenths} s"
                ))
            }
        }
    }

    /// Arranges the rows for a width; the row at the top stays there.
    fn set(&mut self, width: u16) {
        if self.set.width == width {
            return;
        }
        let set = PlanRows::of(self.parts().unwrap_or_default(), width);
        let rows = &self.set.rows;
        if let Some(top) = rows.get(self.scroll.at).or(rows.last()) {
            self.scroll.at = set.rows.partition_point(|row| row.line < top.line);
        }
        self.set = set;
    }

    fn next_part(&mut self, _session: &mut Session) {
        let part = self.set.part(self.scroll.at);
        self.scroll.at = self.set.begin(part + 1);
    }

    /// Goes to the start of this part first, then to the part before.
    fn part_before(&mut self, _session: &mut Session) {
        let begins = self.set.begins();
        let before = begins.take_while(|row| *row < self.scroll.at).last();
        self.scroll.at = before.unwrap_or(0);
    }

    fn unit(&mut self, session: &mut Session) {
        if let Ok((name, value)) = settings::unit_line(session.settings()).next {
            session.record(Entry::set(name, value, session.now));
        }
        *self = PlanPage {
            scroll: self.scroll.clone(),
            ..PlanPage::of(session)
        };
    }
}

impl PlanRows {
    fn of(parts: &[PlanSection], width: u16) -> PlanRows {
        let mut set = PlanRows {
            width,
            ..PlanRows::default()
        };
        let mut line_of = 0;
        for part in parts {
            if !set.rows.is_empty() {
                set.push(String::new(), RowKind::Words, line_of);
            }
            line_of += 1;
            set.push(part.heading.to_string(), RowKind::Heading, line_of);
            for line in &part.lines {
                line_of += 1;
                let kind = match line.trim_start().starts_with('!') {
                    true => RowKind::Watch,
                    false => RowKind::Words,
                };
                for words in hung(line, width) {
                    set.push(words, kind, line_of);
                }
            }
        }
        set
    }

    fn push(&mut self, words: String, kind: RowKind, line: usize) {
        self.rows.push(PlanRow { words, kind, line });
    }

    /// The rows at which the parts begin.
    fn begins(&self) -> impl Iterator<Item = usize> {
        let rows = self.rows.iter().enumerate();
        let headings = rows.filter(|(_, row)| row.kind == RowKind::Heading);
        headings.map(|(at, _)| at)
    }

    /// The row at which a part begins; after the last part, at which that one
    /// begins.
    fn begin(&self, part: usize) -> usize {
        self.begins()
            .take(part.saturating_add(1))
            .last()
            .unwrap_or(0)
    }

    /// The part to which a row belongs, from 0.
    fn part(&self, row: usize) -> usize {
        let begun = self.begins().take_while(|begin| *begin <= row);
        begun.count().saturating_sub(1)
    }
}

/// Columns of the plan's own lines on a screen of this width.
fn columns(width: u16) -> u16 {
    match width {
        WIDE.. => (width - PARTS).min(LINE),
        _ => width,
    }
}

/// A line wrapped between words; the rows after the first are indented.
fn hung(line: &str, width: u16) -> Vec<String> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let words = words.join(" ");
    let indent = 1 + line.len() - line.trim_start().len();
    let [first, rest] = [indent, indent + 2].map(|blanks| " ".repeat(blanks));
    let options = text::wrap_options(width.max(indent as u16 + 6))
        .initial_indent(&first)
        .subsequent_indent(&rest)
        .break_words(false);
    let rows = textwrap::wrap(&words, options);
    rows.into_iter().map(String::from).collect()
}

/// The list of the parts, with the visible one marked.
fn contents(look: Look, parts: &[PlanSection], here: usize, area: Rect, buf: &mut Buffer) {
    for (nth, part) in parts.iter().enumerate() {
        let style = match nth == here {
            true => look.bar(),
            false => look.quiet(),
        };
        let line = rows(area, nth as u16, 1);
        // Text in brackets explains the heading and is not part of its name.
        let name = part.heading.split(" (").next().unwrap_or_default();
        let name = text::fit(name, usize::from(area.width).saturating_sub(2));
        if line.height > 0 {
            text::band(line, buf, &format!(" {name}"), style);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wrapped_rows_are_indented_below_their_line() {
        assert_eq!(hung("  one two three", 10), ["   one two", "     three"]);
        assert_eq!(hung("ein", 1), [" ein"]);
    }
}
