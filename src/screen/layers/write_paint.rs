//! Asks where to write what is painted.

use super::menu::Prompt;
use crate::progress::PlainText;
use crate::screen::face::same;
use crate::screen::furniture::TextEntry;
use crate::screen::furniture::text::styled;
use crate::screen::keys::{Keys, key_table, opener};
use crate::screen::layer::{Context as _, Flow, Opener};
use crate::screen::session::Session;
use std::path::PathBuf;

pub const OPENER: Opener<Session> =
    opener!(Session; "write paint" "" [] "" |_, session| open(session); || WRITE);

const WRITE: &Keys = &key_table!("Writing what is painted";
    write "Enter" ["Enter write"] "write what is painted to this file; asked once more if it is there and is another");

/// The longest name of a file that can be typed.
const LONGEST_NAME: usize = 1000;

fn open(session: &mut Session) -> Flow<Session> {
    if session.painted_parts().is_empty() {
        return session.say("Nothing is painted that the pattern does not have.");
    }
    let name = match session.piece.source() {
        Some(path) => path.to_string_lossy().into_owned(),
        None => format!("{}.json", session.piece.name()),
    };
    let asks = |session: &Session, _: &str| {
        let below = match session.said.is_empty() {
            true => "Only the colours of painted panels change in it; every other letter stays.",
            false => &session.said,
        };
        (
            "Write the colours to:",
            styled(below, session.look().quiet()),
        )
    };
    // The existing file about which the maker was asked.
    let mut asked = None;
    let write = move |session: &mut Session, typed: &str| {
        let is_asked = asked.replace(typed.to_string()).as_deref() == Some(typed);
        Ok(write(session, typed.trim(), is_asked))
    };
    let entry = TextEntry::text(LONGEST_NAME).with(&name);
    Flow::open(Prompt::new(WRITE, entry, asks, write))
}

/// Writes it to the file with this name; to one that exists and is not the
/// pattern's own only if the maker was asked.
fn write(session: &mut Session, typed: &str, is_asked: bool) -> Flow<Session> {
    if typed.is_empty() {
        return session.say("Type the name of a pattern file, such as star.json.");
    }
    let path = match session.piece.source() {
        // Its name may have characters that cannot be shown or typed.
        Some(own) if own.to_string_lossy() == typed => own.to_path_buf(),
        _ => PathBuf::from(typed),
    };
    let shown = PlainText::new(typed);
    let there = path.exists();
    let own = session.piece.source().is_some_and(|own| same(own, &path));
    if there && !own && !is_asked {
        return session.say(format!(
            "{shown} is there already. Enter again paints its panels and leaves all else in \
             it as it is."
        ));
    }
    match session.write_paint_to(&path, there) {
        Ok(true) => session.say(format!("Written to {shown}.")),
        Ok(false) => session.say(format!("{shown} says so already.")),
        Err(why) => {
            // It stays open, with the name as typed.
            let why = PlainText::new(&why);
            return session.say(format!("Not written, and nothing is lost: {why}"));
        }
    };
    session.face.brush.unsaved = false;
    Flow::Close
}
