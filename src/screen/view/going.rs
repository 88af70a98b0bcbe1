//! Thread and time: what is in hand and how far it reaches, beads that get
//! full, hours left, pace.

use super::text::{self, rows, styled};
use super::{Shown, foot};
use crate::beadwork::{Kind, Step};
use crate::pace::thread::Word;
use crate::pace::{InHand, Reach, Rest};
use crate::screen::keys::Place;
use crate::screen::settings;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::Line;

/// Draws it from row `at` on.
pub fn draw(shown: &Shown, at: usize, area: Rect, buf: &mut Buffer) {
    let look = shown.session.look();
    foot::head(shown, rows(area, 0, 1), buf);
    foot::keys(look, Place::Going, rows(area, area.height - 1, 1), buf);
    let space = text::inset(rows(area, 1, area.height.saturating_sub(3)), 1);
    if text::scrolled(space, buf, lines(shown), at) {
        let words = " more below: down arrow";
        text::line(rows(area, area.height - 2, 1), buf, words, look.quiet());
    }
}

/// What it says.
pub fn lines(shown: &Shown) -> Vec<Line<'static>> {
    let look = shown.session.look();
    let mut lines = vec![];
    let parts = [
        ("Thread in hand", thread(shown)),
        ("Full beads", full(shown)),
        ("Time left", left(shown)),
        ("Your pace", pace(shown)),
        ("Rest", rest(shown)),
    ];
    for (head, texts) in parts {
        if !lines.is_empty() {
            lines.push(Line::default());
        }
        lines.push(styled(head, look.seat()));
        lines.extend(texts.into_iter().map(|(text, style)| styled(text, style)));
    }
    lines
}

type Said = Vec<(String, Style)>;

fn plain(text: impl Into<String>) -> (String, Style) {
    (text.into(), Style::new())
}

fn strong(text: impl Into<String>) -> (String, Style) {
    (text.into(), Style::new().add_modifier(Modifier::BOLD))
}

fn thread(shown: &Shown) -> Said {
    let session = shown.session;
    let state = session.piece.state();
    let unit = settings::thread_unit(&state.settings);
    let Some(hand) = session.going.hand() else {
        return vec![plain(
            "No thread is in the work: the next movement takes up a new one.",
        )];
    };
    let mut said = vec![strong(format!(
        "About {} hang at the needle: {} to stitch with, and {} to weave in.",
        unit.say(hand.loose_mm),
        unit.say(hand.left_mm),
        unit.say(hand.weave_in_mm)
    ))];
    let whose = match hand.taken.own {
        true => "as you said",
        false => "by the pattern",
    };
    said.push(plain(format!(
        "It was taken up after step {}, cut to {} {whose}. Cut otherwise, or a new one? n.",
        hand.taken.after,
        unit.say(hand.taken.cut_mm)
    )));
    said.push(plain(reach(shown, hand)));
    let look = session.look();
    let (side, next) = (unit.say(hand.side_mm), unit.say(hand.next_side_mm));
    match hand.word {
        Word::Enough => {}
        Word::LastSide => said.push((
            format!(
                "It does for this side ({side}) and not for the one after ({next} more): end it in \
                 good time and take up a new one."
            ),
            look.ahead(),
        )),
        Word::WillNotDo => said.push((
            format!("It does not do for this side ({side}): end it now and take up a new one."),
            look.alarm(),
        )),
    }
    if !hand.good_ends.is_empty() {
        said.push(plain(
            "Good places to end it and to begin another, mid-side, away from corners and hinges:",
        ));
        said.extend(hand.good_ends.iter().map(|&step| {
            let place = session.seq.step(step).map(|m| session.seq.say_where(&m));
            plain(format!(
                "  after step {step}: {}",
                place.unwrap_or_default()
            ))
        }));
    }
    said
}

fn reach(shown: &Shown, hand: &InHand) -> String {
    let session = shown.session;
    match hand.reach {
        Reach::Piece => "It reaches to the end of the piece.".into(),
        Reach::PlannedEnd(step) => {
            format!("It reaches to step {step}, behind which the pattern ends it anyway.")
        }
        Reach::Step(step) => {
            let steps = step.0.saturating_sub(session.done().0);
            let place = session.seq.step(step).map(|m| session.seq.say_where(&m));
            let place = place.filter(|p| !p.is_empty());
            let place = place.map_or(String::new(), |p| format!(" ({p})"));
            format!("It reaches about {steps} movements on, to step {step}{place}.")
        }
    }
}

fn full(shown: &Shown) -> Said {
    let session = shown.session;
    let look = session.look();
    let next = Step(session.done().0 + 1);
    let mut said: Said = vec![];
    for full in session.going.full(next) {
        let words = full.explain(&session.seq).into_iter();
        let styles = std::iter::once(look.ahead()).chain(std::iter::repeat(Style::new()));
        said.extend(words.zip(styles));
    }
    let Some(fulls) = session.going.fulls() else {
        said.push((
            String::from("All steps are being gone through ..."),
            look.quiet(),
        ));
        return said;
    };
    match fulls.next(Step(next.0 + 1)) {
        _ if fulls.left(next).0 == 0 => said.push(plain(
            "From here on the needle goes through every bead comfortably.",
        )),
        Some(full) => said.push(plain(format!(
            "The next after this movement: step {}, bead {} with {} threads in it.",
            full.step, full.bead, full.threads
        ))),
        None => {}
    }
    said
}

fn left(shown: &Shown) -> Said {
    let look = shown.session.look();
    let Some(left) = shown.session.going.left() else {
        return vec![("The steps ahead are being counted ...".into(), look.quiet())];
    };
    vec![
        plain(format!("This round: {}", left.round.say())),
        plain(format!("This job: {}", left.job.say())),
        strong(format!("The piece: {}", left.piece.say())),
        (
            "In brackets: as on your quick days, and as on your slow ones; rests left out.".into(),
            look.quiet(),
        ),
    ]
}

fn pace(shown: &Shown) -> Said {
    let session = shown.session;
    let usual = |kind| session.going.pace.usual(kind);
    let timed = Kind::ALL.iter().filter(|(kind, _)| usual(*kind).timed > 0);
    let mut said: Said = timed
        .map(|(kind, name)| {
            let usual = usual(*kind);
            plain(format!(
                "{name}: {:.0} s ({:.0} to {:.0}), {} timed",
                usual.mean, usual.quick, usual.slow, usual.timed
            ))
        })
        .collect();
    if said.is_empty() {
        let usual = usual(Kind::Stitch);
        said.push(plain(format!(
            "Nothing is timed yet. Until then {:.0} s a stitch are reckoned with: common \
             practice, no source.",
            usual.mean
        )));
    }
    said
}

fn rest(shown: &Shown) -> Said {
    let session = shown.session;
    let minutes = settings::rest_minutes(&session.piece.state().settings);
    let working = session.going.working(session.now).as_secs() / 60;
    let mut said = vec![];
    if session.going.reminds() {
        said.push((format!("{}.", Rest::say()), session.look().ahead()));
    }
    said.push(plain(match minutes {
        0 => "The reminder to rest is off (s, settings).".to_string(),
        _ => format!(
            "{working} min without a rest; a reminder comes after {minutes} min (s, settings)."
        ),
    }));
    said
}
