//! Colouring on the whole face. Strokes are entries of the journal, so none is
//! lost; the pattern file is written when the maker asks for it.

use super::menu::{Prompt, is_bead_letter};
use crate::beadwork::amend::Amendment;
use crate::beadwork::paint::{PaintedPart, Symmetry, is_even};
use crate::beadwork::{Colour, Panel, plural};
use crate::progress::{PlainText, paths};
use crate::screen::face::{NoStroke, Stroke, palette, part_of, picture, same, title, touch};
use crate::screen::input::Input;
use crate::screen::layer::{
    Busy, Context as _, Flow, Keys, Layer, Opener, key_table, keys, opener,
};
use crate::screen::session::Session;
use crate::screen::widgets::{TextEntry, rows, styled, text};
use ratatui::prelude::{Buffer, Line, Rect, Style};

pub const OPENER: Opener<Session> =
    opener!(Session; "brush" "" [] "" |_, session| take_up(session); Colouring::table);

/// What the brush does.
const ABOUT: [&str; 5] = [
    "Space paints the bead pointed at in the colour of the brush, and a click the bead there. c and x go through the \
     piece's colours, a capital letter takes the bead of that letter, e the colour pointed at.",
    "s sets what is painted together: only the bead, also its mirror image, also the same bead on every side, both, or \
     the whole round. The mirror is at the middle of the side at the top.",
    "Paint is for what is still to come: what is sewn keeps its colour. It belongs to a kind of panel: all panels \
     that are alike so far get it. Tip beads are all alike.",
    "Every stroke is kept with the piece at once, and no movement changes.",
    "w writes what is painted into a pattern file, as lines of its colours. Every other letter of the file stays.",
];

/// Rows that the message can take while painting, before the picture has to
/// move under the mouse.
const WORD_ROWS: u16 = 2;

fn take_up(session: &mut Session) -> Flow<Session> {
    let colours = session.seq.layout().bead_kinds().len();
    let brush = &mut session.face.brush;
    if usize::from(brush.hand.0) >= colours {
        brush.hand = Colour(0);
    }
    brush.count(&session.seq);
    let painted = session.painted_parts();
    session.face.brush.unsaved = !painted.is_empty() && !session.is_written(&painted);
    if let Some(seat) = session.face.at {
        let name = kind_name(session, seat.panel);
        session.said = match alike(session, seat.panel) {
            1 => format!("You paint the panel '{name}'."),
            n => format!("You paint all {n} panels of the kind '{name}': they are alike."),
        };
    }
    Flow::open(Colouring)
}

/// The brush, over the face.
pub struct Colouring;

impl Layer<Session> for Colouring {
    keys! { Session, "Colouring on the whole face" [mouse] opens ["help" "words" "solid"];
        paint "space Enter click" ["space paint"] "paint the bead pointed at, and what goes with it, in the colour of the brush; a click of the mouse paints the bead there" => paint_bead;
        put_away "f q Esc Backspace" ["f done"] "put the brush away"
        next_colour "c" ["c colour"] "the brush takes the next of the piece's colours" => |s| turn(s, true);
        colour_before "x" [] "the brush takes the colour before" => |s| turn(s, false);
        take "e" [] "the brush takes the colour of the bead pointed at" => take_colour;
        reach "s" ["s reach"] "what is painted together: the bead, also its mirror image, also the same bead on every side, both, or the whole round. The mirror is at the middle of the side at the top" => |s| s.face.brush.reach = s.face.brush.reach.next();
        undo "z" ["z undo"] "undo the last stroke"
        redo "y" [] "do it again"
        write "w" ["w write"] "write what is painted to a pattern file" => |_| Flow::Screen("write paint");
        ~ "A-Z" [] "the brush takes the bead of that letter"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((title(session, "Colouring"), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        palette::below(session, 60, 2)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        // In a narrow window the picture stays where it is whether a message is
        // long or short.
        let word = session.word(false, session.size.0);
        let high = word.map_or(1, |(words, _)| text::height(words.as_str(), session.size.0));
        let spare = match session.size.0 < 80 {
            true => WORD_ROWS.saturating_sub(high),
            false => 0,
        };
        let area = rows(area, 0, area.height.saturating_sub(spare));
        let words = picture(session, text::inset(area, 2), buf);
        let lines = match words.height > 6 {
            true => palette::beside(session),
            false => palette::below(session, words.width, words.height),
        };
        text::scrolled(words, buf, lines, 0);
    }

    fn extends_below(&self) -> bool {
        true
    }

    fn about(&self, _session: &Session) -> Vec<Line<'static>> {
        ABOUT.map(Line::from).to_vec()
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        let brush = session.face.brush.look();
        Busy::waiting(brush | session.face.passes.look())
    }

    /// A capital letter takes the bead with that letter.
    fn typed(&mut self, c: char, session: &mut Session) -> Option<Flow<Session>> {
        if !is_bead_letter(c) {
            return None;
        }
        let beads = session.seq.layout().bead_kinds();
        match beads.iter().position(|bead| bead.letter == c) {
            Some(at) => session.face.brush.hand = Colour(at as u8),
            None => drop(session.say(format!("No bead of this piece has the letter {c}."))),
        }
        Some(Flow::Stay)
    }

    fn mouse(&mut self, input: Input, session: &mut Session) {
        if touch(session, input) {
            paint_bead(session);
        }
    }
}

/// Takes the next of the piece's colours, or the one before.
fn turn(session: &mut Session, forward: bool) {
    let colours = session.seq.layout().bead_kinds().len();
    session.face.brush.turn(colours, forward);
}

/// Takes the colour of the bead pointed at.
fn take_colour(session: &mut Session) {
    if let Some(seat) = session.face.at {
        session.face.brush.hand = session.seq.layout().colour_of(seat);
    }
}

impl Colouring {
    fn put_away(&mut self, session: &mut Session) -> Flow<Session> {
        let brush = &session.face.brush;
        if brush.unsaved && !brush.made.is_empty() {
            session.say(match session.only_looking {
                true => "Only looking: the paint is not kept. c and then w write it to a file.",
                false => {
                    "The paint is kept with this piece; c and then w write it to the pattern file."
                }
            });
        }
        Flow::Close
    }

    fn undo(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(stroke) = session.face.brush.made.last() else {
            return session.say("There is no stroke to undo since you opened the piece.");
        };
        let last = session.piece.state().record.last_amendment();
        if last != Some(&Amendment::Colours(stroke.change.clone())) {
            return session.say("You went on since that stroke: on the stitches, z takes back one thing after the other.");
        }
        let words = session.take_back().unwrap_or_default();
        if let Some(stroke) = session.face.brush.made.pop() {
            session.face.brush.recount(&stroke, -1);
            session.face.brush.undone.push(stroke);
        }
        session.say(format!("Undone: {words}."))
    }

    fn redo(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(stroke) = session.face.brush.undone.pop() else {
            return session.say("No stroke was undone.");
        };
        let words = stroke.change.say(&session.seq);
        put(session, stroke);
        session.say(format!("Done again: {words}."))
    }
}

/// How many panels are of the same kind as one.
fn alike(session: &Session, panel: Panel) -> usize {
    let layout = session.seq.layout();
    let kind = layout.kind_by_pattern(panel);
    layout
        .begun_panels()
        .filter(|(p, _)| layout.kind_by_pattern(*p) == kind)
        .count()
}

fn kind_name(session: &Session, panel: Panel) -> PlainText {
    let layout = session.seq.layout();
    PlainText::new(&layout.project().panels[layout.kind_by_pattern(panel)].name)
}

fn paint_bead(session: &mut Session) {
    let Some(seat) = session.face.at else {
        return;
    };
    let layout = session.seq.layout();
    let up = session.face.up;
    let hand = layout.bead_kind(session.face.brush.hand).clone();
    let other_size = layout.bead_kind(layout.colour_of(seat)).size != hand.size;
    let sewn = session.seq.strung_after(session.done());
    let is_sewn = layout.bead_in(seat).0 <= sewn;
    let made = session.face.brush.stroke(layout, seat, up, sewn);
    session.said = match made {
        Ok(stroke) => {
            let mut said = painted(session, &stroke);
            if other_size {
                said += " Its beads are of another size: the panel may not lie flat.";
            }
            session.face.brush.undone.clear();
            put(session, stroke);
            said
        }
        Err(NoStroke::Sewn(0 | 1)) => format!("{SEWN}."),
        Err(NoStroke::Sewn(n)) => format!("{SEWN}, in all {n} panels."),
        Err(NoStroke::Already) if is_sewn => {
            format!("{SEWN}. What is to come is {} already.", hand.letter)
        }
        Err(NoStroke::Already) => format!("It is {} already.", hand.letter),
        Err(NoStroke::TooLong) => {
            "This round has too many changes of colour for one line of a pattern file.".into()
        }
    };
}

const SEWN: &str = "This bead is sewn: it keeps its colour";

/// Makes a stroke, which is recorded first.
fn put(session: &mut Session, stroke: Stroke) {
    if session.recolour(stroke.change.clone()).is_ok() {
        session.face.brush.recount(&stroke, 1);
        session.face.brush.made.push(stroke);
    }
}

/// What a stroke does, and which part of it is already sewn.
fn painted(session: &Session, stroke: &Stroke) -> String {
    let Some(seat) = session.face.at else {
        return String::new();
    };
    let layout = session.seq.layout();
    let hand = layout.bead_kind(session.face.brush.hand);
    let part = part_of(seat);
    let beads = match (part, stroke.beads) {
        (PaintedPart::Tip, _) => "All tip beads".into(),
        (PaintedPart::Row, n) => format!("{} of its join rows", plural(n, "bead")),
        (PaintedPart::Round(_), n) => plural(n, "bead"),
    };
    let to_come = if stroke.sewn > 0 { " to come" } else { "" };
    let is = match stroke.beads {
        1 if part != PaintedPart::Tip => "is",
        _ => "are",
    };
    let all = match stroke.panels {
        1 => String::new(),
        n => format!(", alike in {n} panels"),
    };
    let mut said = match (stroke.is_sewn, stroke.sewn) {
        (true, _) => format!("{SEWN}. "),
        (false, 0) => String::new(),
        (false, 1) => "In one panel it is sewn and keeps its colour. ".into(),
        (false, n) => format!("In {n} panels it is sewn and keeps its colour. "),
    };
    said += &format!("{beads}{to_come} {is} {} now{all}.", hand.letter);
    let reach = session.face.brush.reach;
    if let PaintedPart::Round(round) = part
        && !matches!(reach, Symmetry::Bead | Symmetry::Round)
        && !is_even(&layout.planned_kind(seat.panel), round)
    {
        said += " This round is not alike on every side: a bead is painted alone.";
    }
    said
}

pub const WRITE_PAINT: Opener<Session> =
    opener!(Session; "write paint" "" [] "" |_, session| ask_where(session); || WRITE);

const WRITE: &Keys = &key_table!("Writing what is painted";
    write "Enter" ["Enter write"] "write what is painted to this file; asked once more if it is there and is another");

/// The longest name of a file that can be typed.
const LONGEST_NAME: usize = 1000;

/// Asks where to write what is painted.
fn ask_where(session: &mut Session) -> Flow<Session> {
    if session.painted_parts().is_empty() {
        return session.say("Nothing is painted that the pattern does not have.");
    }
    let name = match session.piece.source() {
        Some(path) => path.to_string_lossy().into_owned(),
        None => format!("{}.json", session.piece.name()),
    };
    let asks = |session: &Session, _: &str| {
        let below = "Only the colours of painted panels change in it; every other letter stays.";
        (
            "Write the colours to:",
            styled(below, session.look().quiet()),
        )
    };
    // The existing file about which the maker was asked.
    let mut asked = None;
    let write = move |session: &mut Session, typed: &str| {
        let is_asked = asked.replace(typed.to_string()).as_deref() == Some(typed);
        write(session, typed.trim(), is_asked)
    };
    let entry = TextEntry::text(LONGEST_NAME).with(&name);
    Flow::open(Prompt::new(WRITE, entry, asks, write))
}

/// Writes it to the file with this name; to one that exists and is not the
/// pattern's own only if the maker was asked.
///
/// # Errors
/// Why it is not written; it stays open then, with the name as typed.
fn write(session: &mut Session, typed: &str, is_asked: bool) -> Result<Flow<Session>, String> {
    if typed.is_empty() {
        return Err("Type the name of a pattern file, such as star.json.".into());
    }
    let path = match session.piece.source() {
        // Its name may have characters that cannot be shown or typed.
        Some(own) if own.to_string_lossy() == typed => own.to_path_buf(),
        _ => paths::typed(typed),
    };
    let shown = PlainText::new(typed);
    let there = path.exists();
    let own = session.piece.source().is_some_and(|own| same(own, &path));
    if there && !own && !is_asked {
        return Err(format!(
            "{shown} is there already. Enter again paints its panels and leaves all else in \
             it as it is."
        ));
    }
    match session.write_paint_to(&path, there) {
        Ok(true) => session.say(format!("Written to {shown}.")),
        Ok(false) => session.say(format!("{shown} says so already.")),
        Err(why) => {
            let why = PlainText::new(&why);
            return Err(format!("Not written, and nothing is lost: {why}"));
        }
    };
    session.face.brush.unsaved = false;
    Ok(Flow::Close)
}
