//! A word about thread, holes and rest, for the line below the stitches.

use super::Shown;
use crate::beadwork::Step;
use crate::beadwork::hole::Passing;
use crate::pace::Rest;
use crate::pace::thread::Word;
use crate::screen::settings;
use ratatui::style::Style;

/// Below this width a few words must do.
const NARROW: u16 = 70;

/// All of it in whole sentences, for the plain mode.
pub fn plain(shown: &Shown) -> Vec<String> {
    let wide = u16::MAX;
    let words = [urgent(shown, wide), in_time(shown, wide)];
    words
        .into_iter()
        .flatten()
        .map(|(words, _)| words)
        .collect()
}

/// What cannot wait: a full bead that the movement goes through, a thread too
/// short for this side.
pub fn urgent(shown: &Shown, width: u16) -> Option<(String, Style)> {
    let session = shown.session;
    let look = session.look();
    let full = session.going.full(Step(session.done().0 + 1));
    let worst = full.iter().max_by_key(|f| f.passing);
    if let Some(full) = worst {
        let words = match width {
            0..NARROW => full.say_shortly(),
            _ => full.say(&session.seq),
        };
        let style = match full.passing {
            Passing::Blocked => look.alarm(),
            _ => look.ahead(),
        };
        return Some((format!("{} {words}", look.signs().watch), style));
    }
    thread(shown, width, Word::WillNotDo, look.alarm())
}

/// What is good to know in time: the last side that the thread does for, and
/// that a rest is due.
pub fn in_time(shown: &Shown, width: u16) -> Option<(String, Style)> {
    let look = shown.session.look();
    if let Some(word) = thread(shown, width, Word::LastSide, look.ahead()) {
        return Some(word);
    }
    let words = match width {
        0..NARROW => "Rest your eyes and hands a moment.".to_string(),
        _ => format!("{}.", Rest::say()),
    };
    shown
        .session
        .going
        .reminds()
        .then_some((words, look.ahead()))
}

fn thread(shown: &Shown, width: u16, wanted: Word, style: Style) -> Option<(String, Style)> {
    let hand = shown.session.going.hand()?;
    if hand.word != wanted {
        return None;
    }
    let unit = settings::thread_unit(&shown.session.piece.state().settings);
    let words = match width {
        0..NARROW => hand.say_shortly(|mm| unit.say(mm))?,
        _ => hand.say(|mm| unit.say(mm))?,
    };
    let watch = shown.session.look().signs().watch;
    Some((format!("{watch} {words}"), style))
}
