//! Below the least size: words only, as many as there is room for.

use super::text::{self, rows};
use super::{
    LEAST, Shown, card, count, face, going, lesson, lesson_page, locate, mend, prompt, unpick,
    warn, words,
};
use crate::beadwork::number::Step;
use crate::screen::gist;
use crate::screen::session::Pane;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Writes what matters most first.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let lines = match &shown.session.pane {
        Pane::Card => card::lines(shown),
        Pane::Count { .. }
        | Pane::Jump { .. }
        | Pane::Note { .. }
        | Pane::WritePaint { .. }
        | Pane::Thread { .. } => prompt::lines(shown),
        Pane::Going(_) => going::lines(shown),
        Pane::Face => face::said(shown.session),
        Pane::Answer(answered) => {
            let (question, answer) = (&answered.question, &answered.answer);
            vec![Line::from(count::verdict(shown, question, answer))]
        }
        Pane::Mend(answered) => mend::lines(shown, answered),
        Pane::Locate { typed, at } => locate::lines(shown, typed, *at),
        Pane::Unpick { .. } | Pane::WayBack { .. } | Pane::Unpicking { .. } => unpick::lines(shown),
        Pane::Overview(_) | Pane::Settings(_) | Pane::Help(_) | Pane::Plan(_) | Pane::Solid => {
            let least = format!("This needs {} x {} letters. Esc leaves.", LEAST.0, LEAST.1);
            vec![Line::from(least)]
        }
        Pane::Lesson { at, .. } => lesson_page::page(shown.session, *at),
        Pane::Words { asking, .. } => match asking.open() {
            Some(word) => words::explained(word, left_handed(shown), shown.session.look()),
            None => asking
                .list()
                .skip(asking.at)
                .take(usize::from(area.height))
                .map(|word| Line::from(word.word))
                .collect(),
        },
        Pane::Stitch => stitch(shown),
    };
    let mut from = 0;
    for line in lines {
        let style = line.spans.first().map_or(Style::new(), |s| s.style);
        from += text::wrapped(
            rows(area, from, area.height),
            buf,
            &line.to_string(),
            style.patch(line.style),
        );
    }
}

fn left_handed(shown: &Shown) -> bool {
    shown.session.left_handed()
}

fn stitch(shown: &Shown) -> Vec<Line<'static>> {
    let session = shown.session;
    let (seq, look) = (&session.seq, session.look());
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let mut lines = vec![];
    let Some(m) = session.movement() else {
        return vec![text::styled("Finished: all steps are done.", bold)];
    };
    lines.push(text::styled(seq.say(&m), bold));
    if let Some(trouble) = &shown.trouble {
        lines.push(text::styled(trouble.clone(), look.alarm()));
    }
    if let Some((words, style)) = warn::urgent(shown, 0) {
        lines.push(text::styled(words, style));
    }
    let place = seq.say_where(&m);
    if !place.is_empty() {
        lines.push(Line::from(place));
    }
    if m.round_target > 0 {
        let words = format!("{} of {} after it", m.round_beads, m.round_target);
        lines.push(Line::from(words));
    }
    let next = seq.step(Step(m.step.0 + 1));
    if let Some(words) = next.and_then(|n| gist::announced(seq, Some(&m), &n)) {
        lines.push(text::styled(format!("next: {words}"), look.ahead()));
    }
    if let Some(lesson) = session.lesson() {
        lines.push(text::styled(lesson::line(lesson), look.seat()));
    }
    if !session.said.is_empty() {
        lines.push(Line::from(session.said.clone()));
    }
    lines.push(Line::from(format!("step {} of {}", m.step, seq.steps())));
    lines
}
