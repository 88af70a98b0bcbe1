//! Unpicking: how far, what it takes, and back movement by movement.

use super::text::{self, rows, styled};
use super::{Shown, room, scene};
use crate::beadwork::Step;
use crate::screen::session::Pane;
use crate::screen::standing;
use crate::unpick::{Plan, StopAt};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Movements that are listed at the most.
const LISTED: usize = 300;
/// Places to stop that are told at the most.
const STOPS: usize = 5;

/// Draws what is in front of the maker, if it is any of this.
pub fn draw(shown: &Shown, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    match &shown.session.pane {
        Pane::Unpick { at, .. } => {
            let heading = ("Unpick: how far back?", look.seat());
            let space = room::frame(shown, heading, area, buf);
            room::list(space, buf, lines(shown), *at);
        }
        Pane::WayBack { plan, at } => {
            let heading = (&*plan.say(), look.seat());
            let space = room::frame(shown, heading, area, buf);
            text::scrolled(space, buf, lines(shown), *at);
        }
        Pane::Unpicking { to, .. } => {
            let left = shown.session.done().0 - to.0;
            let heading = match left {
                1 => "Unpicking: the last movement".to_string(),
                n => format!("Unpicking: {n} movements to go"),
            };
            let space = room::frame(shown, (&heading, look.alarm()), area, buf);
            let words = lines(shown);
            let high = words.iter().map(|l| text::height(l.clone(), space.width));
            let high = high.sum::<u16>().min(space.height);
            text::scrolled(rows(space, 0, high), buf, words, 0);
            let picture = rows(space, high + 1, space.height.saturating_sub(high + 1));
            let picture = Rect {
                x: area.x,
                width: area.width,
                ..picture
            };
            // The movement as it was made: what comes off, what is freed.
            let before = Step(shown.session.done().0.saturating_sub(1));
            scene::draw_at(shown, before, &scene::UNPICKING, picture, buf);
        }
        _ => {}
    }
}

/// The same in lines.
pub fn lines(shown: &Shown) -> Vec<Line<'static>> {
    match &shown.session.pane {
        Pane::Unpick { at, typed, .. } => targets(shown, *at, typed),
        Pane::WayBack { plan, .. } => way_back(shown, plan),
        Pane::Unpicking { .. } => undo(shown),
        _ => vec![],
    }
}

fn targets(shown: &Shown, at: usize, typed: &str) -> Vec<Line<'static>> {
    let (session, look) = (shown.session, shown.session.look());
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let mut lines = vec![];
    for (i, target) in session.unpick_targets().iter().enumerate() {
        let steps = session.done().0 - target.to.0;
        let words = match steps {
            1 => target.words.clone(),
            n => format!("{} ({n} steps)", target.words),
        };
        lines.push(room::choice(shown, typed.is_empty() && i == at, &words));
    }
    let cursor = if look.unicode { '█' } else { '_' };
    lines.push(Line::default());
    lines.push(styled(
        format!("Or type the step, job or round to begin again with: {typed}{cursor}"),
        if typed.is_empty() { Style::new() } else { bold },
    ));
    if let (false, Pane::Unpick { found, .. }) = (typed.is_empty(), &session.pane) {
        let words = match found {
            Ok(next) => {
                let m = session.seq.step(*next);
                let say = m.map_or(String::new(), |m| session.seq.say(&m));
                format!("step {next} is then the next: {say}")
            }
            Err(error) => error.to_string(),
        };
        lines.push(styled(words, Style::new()));
    }
    lines
}

fn way_back(shown: &Shown, plan: &Plan) -> Vec<Line<'static>> {
    let seq = &shown.session.seq;
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let plain = Style::new();
    let mut lines = vec![styled("First", bold)];
    lines.extend(
        plan.warnings
            .iter()
            .map(|w| styled(format!("- {}", w.say()), plain)),
    );
    if !plan.stops.is_empty() {
        lines.push(Line::default());
        lines.push(styled("Good places to stop and look on the way", bold));
        for stop in plan.stops.iter().take(STOPS) {
            let whole = match stop.at {
                StopAt::Round(round) => format!("round {round} is whole"),
                StopAt::Side => "a side is whole".into(),
                StopAt::Job => "a job is whole".into(),
            };
            lines.push(styled(format!("- step {}: {whole}", stop.step), plain));
        }
    }
    lines.push(Line::default());
    lines.push(styled("In this order", bold));
    for undo in plan.undo(seq).take(LISTED) {
        lines.push(styled(
            format!("step {}: {}", undo.step, undo.say(seq)),
            plain,
        ));
    }
    let more = ((plan.from.0 - plan.to.0) as usize).saturating_sub(LISTED);
    if more > 0 {
        lines.push(styled(format!("and {more} more"), plain));
    }
    lines
}

fn undo(shown: &Shown) -> Vec<Line<'static>> {
    let (session, seq) = (shown.session, &shown.session.seq);
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let Some(undo) = session.undo() else {
        return vec![];
    };
    let mut lines = vec![styled(
        format!("Step {}: {}", undo.step, undo.say(seq)),
        bold,
    )];
    for &bead in &undo.frees {
        let what = match undo.off.contains(&bead) {
            true => "comes off",
            false => "thread out of",
        };
        let words = standing::bead_words(seq, bead);
        lines.push(styled(format!("- {what}: {words}"), Style::new()));
    }
    lines
}
