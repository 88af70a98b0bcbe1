//! What is being typed, in a box over the stitches.

use super::text::{self, rows, styled};
use super::{Shown, foot};
use crate::pace::thread::taken_up_at;
use crate::screen::session::going::CUT_MM;
use crate::screen::session::{Pane, Session};
use crate::screen::settings;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;
use ratatui::widgets::{Clear, Widget as _};

/// Draws the box at the foot of the screen.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    let lines = lines(shown);
    let wide = area.width.saturating_sub(2);
    let high: u16 = lines.iter().map(|l| text::height(l.clone(), wide)).sum();
    let high = (high + 1).min(area.height.saturating_sub(1));
    let space = rows(area, area.height.saturating_sub(1 + high), high);
    Clear.render(space, buf);
    let rule: String = std::iter::repeat_n(look.signs().rule[0], usize::from(area.width)).collect();
    text::line(space, buf, &rule, look.seat());
    let inside = text::inset(rows(space, 1, high.saturating_sub(1)), 1);
    text::scrolled(inside, buf, lines, usize::MAX);
    foot::keys(
        look,
        shown.session.place(),
        rows(area, area.height - 1, 1),
        buf,
    );
}

/// What the box says.
pub fn lines(shown: &Shown) -> Vec<Line<'static>> {
    let (session, look) = (shown.session, shown.session.look());
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let cursor = if look.unicode { '█' } else { '_' };
    match &session.pane {
        Pane::Count { typed, question } => {
            let round = foot::round_words(shown, question.job, question.round);
            let what = match question.side {
                Some(side) => format!("Beads on side {side} of {round}, corner halves with it"),
                None => format!("Beads of {round} all round"),
            };
            vec![
                styled(format!("{what}: {typed}{cursor}"), bold),
                styled(
                    "Each side by itself: a number for each, as in 5 5 6.",
                    look.quiet(),
                ),
            ]
        }
        Pane::Jump { typed, found } => {
            let where_to = match found {
                Ok(step) => {
                    let seq = &session.seq;
                    let job = seq.job_of(*step);
                    let m = seq.step(*step);
                    let say = m.map_or(String::new(), |m| seq.say(&m));
                    format!("step {step}, job {job} ({}): {say}", seq.job(job).title)
                }
                Err(error) => error.to_string(),
            };
            vec![
                styled(format!("Go to: {typed}{cursor}"), bold),
                styled(where_to, Style::new()),
            ]
        }
        Pane::Note { typed } => {
            let step = session.done().0 + 1;
            vec![styled(
                format!("Note on step {step}: {typed}{cursor}"),
                bold,
            )]
        }
        Pane::WritePaint { typed, .. } => vec![
            styled(format!("Write the colours to: {typed}{cursor}"), bold),
            styled(write_words(session), look.quiet()),
        ],
        Pane::Thread { typed } => thread(shown, typed, cursor, bold),
        _ => vec![],
    }
}

fn write_words(session: &Session) -> String {
    match session.said.is_empty() {
        true => "Only the colours of painted panels change in it; every other letter stays.".into(),
        false => session.said.clone(),
    }
}

fn thread(shown: &Shown, typed: &str, cursor: char, bold: Style) -> Vec<Line<'static>> {
    let session = shown.session;
    let unit = settings::thread_unit(&session.piece.state().settings);
    let usual = unit.say(f64::from(session.usual_cut_mm()));
    let after = taken_up_at(&session.seq, session.done());
    let below = match session.typed_cut_mm(typed) {
        Some(_) => format!("Enter without a number: {usual}, tails included."),
        None => format!(
            "No thread is cut like that: from {} to {}, please.",
            unit.say(f64::from(*CUT_MM.start()) + unit.mm - 1e-3),
            unit.say(f64::from(*CUT_MM.end()))
        ),
    };
    vec![
        styled(
            format!(
                "A new thread after step {after}. How long is it cut, in {}? {typed}{cursor}",
                unit.name
            ),
            bold,
        ),
        styled(below, Style::new()),
    ]
}
