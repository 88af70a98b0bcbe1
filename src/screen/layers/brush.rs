//! Colouring on the whole face: strokes are entries of the journal, so no key
//! of it is lost; the pattern file is written when the maker says so.

use crate::beadwork::paint::{Coat, Part, Reach, is_even};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::{Colour, Panel, plural};
use crate::progress::{Entry, PlainText};
use crate::screen::face::{NoStroke, Stroke, palette, part_of, picture, title, touch};
use crate::screen::furniture::text::{self, rows};
use crate::screen::keys::{keys, letter, opener};
use crate::screen::layer::{Busy, Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::woken::Touch;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use std::sync::Arc;

pub const OPENER: Opener<Session> =
    opener!(Session; "brush" "" [] "" |_, session| take_up(session); Colouring);

/// What the brush does.
const ABOUT: [&str; 5] = [
    "Space paints the bead pointed at in the colour in hand, and a click the bead that it hits. c and x turn through \
     the piece's colours, a large letter takes the bead of that letter, e the colour pointed at.",
    "s says what is painted with a bead: only itself, its mirror image, its like on every side, both, or the whole \
     round. The mirror stands on the middle of the side that is up.",
    "Paint belongs to a kind of panel: all panels of that kind are alike. Its tip beads \
     are all alike.",
    "Every stroke is kept with the piece at once, and no step moves by it. What is sewn already stays on the mat as \
     it is; painting it says so.",
    "w writes what is painted into a pattern file, as lines of its colours. Every other letter of the file stays.",
];

/// Rows that the word to the maker may take while one paints, before the
/// picture has to move under the mouse.
const WORD_ROWS: u16 = 2;

fn take_up(session: &mut Session) -> Flow<Session> {
    let colours = session.seq.layout().project().beads.len();
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
    keys! { Session, "Colouring on the whole face";
        paint "space Enter click" ["space paint"] "paint the bead pointed at, and what goes with it, in the colour in hand; a click of the mouse paints the bead that it hits" => |s| paint_bead(s);
        put_away "f q Esc Backspace" ["f done"] "put the brush away"
        next_colour "c" ["c colour"] "the next of the piece's colours in hand" => |s| turn(s, true);
        colour_before "x" [] "the colour before it in hand" => |s| turn(s, false);
        take "e" [] "the colour of the bead pointed at in hand"
        reach "s" ["s reach"] "what is painted with a bead: itself, its mirror image, its like on every side, both, the whole round. The mirror stands on the side that is up"
        undo "z" ["z undo"] "undo the last stroke"
        redo "y" [] "do it again"
        write "w" ["w write"] "write what is painted to a pattern file" => |_| Flow::Screen("write paint");
        ~ "A-Z" [] "the bead of that letter in hand"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        Some((title(session, "Colouring"), session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        palette::below(session, 60, 2)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        // A narrow window keeps the picture where it is whether a word is long
        // or short.
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

    fn opens(&self, screen: &str) -> bool {
        matches!(screen, "help" | "words" | "solid")
    }

    fn about(&self, _session: &Session) -> Vec<Line<'static>> {
        ABOUT.map(Line::from).to_vec()
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        let brush = session.face.brush.look();
        Busy::waiting(brush | session.face.passes.look(&session.seq))
    }

    fn takes_mouse(&self) -> bool {
        true
    }

    /// The mouse paints the bead that it hits; a large letter takes the bead
    /// of that letter.
    fn other(&mut self, input: Touch, session: &mut Session) -> Option<Flow<Session>> {
        if let Touch::Key(event) = input {
            let c = letter(&event).filter(|c| c.is_alphabetic() && !c.is_ascii_lowercase())?;
            let beads = &session.seq.layout().project().beads;
            let Some(at) = beads.iter().position(|bead| bead.letter == c) else {
                return Some(session.say(format!("No bead of this piece has the letter {c}.")));
            };
            session.face.brush.hand = Colour(at as u8);
        } else if touch(session, input) {
            paint_bead(session);
        }
        Some(Flow::Stay)
    }
}

/// The next of the piece's colours in hand, or the one before.
fn turn(session: &mut Session, forward: bool) -> Flow<Session> {
    let colours = session.seq.layout().project().beads.len();
    session.face.brush.turn(colours, forward);
    Flow::Stay
}

impl Colouring {
    fn put_away(&mut self, session: &mut Session) -> Flow<Session> {
        let brush = &session.face.brush;
        if brush.unsaved && !brush.made.is_empty() {
            session.say(match session.only_looking() {
                true => "Only looking: the paint is not kept. c and then w write it to a file.",
                false => {
                    "The paint is kept with this piece; c and then w write it to the pattern file."
                }
            });
        }
        Flow::Close
    }

    fn take(&mut self, session: &mut Session) -> Flow<Session> {
        if let Some(seat) = session.face.at {
            session.face.brush.hand = session.seq.layout().colour_of(seat);
        }
        Flow::Stay
    }

    fn reach(&mut self, session: &mut Session) -> Flow<Session> {
        session.face.brush.reach = session.face.brush.reach.next();
        Flow::Stay
    }

    fn undo(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(stroke) = session.face.brush.made.pop() else {
            return session.say("There is no stroke of this sitting to undo.");
        };
        put(session, stroke.spec, &stroke.before, &stroke.was);
        session.said = format!("Undone: {}.", of_stroke(session, &stroke));
        session.face.brush.undone.push(stroke);
        Flow::Stay
    }

    fn redo(&mut self, session: &mut Session) -> Flow<Session> {
        let Some(stroke) = session.face.brush.undone.pop() else {
            return session.say("No stroke was undone.");
        };
        put(session, stroke.spec, &stroke.after, &stroke.now);
        session.said = format!("Done again: {}.", of_stroke(session, &stroke));
        session.face.brush.keep(stroke);
        Flow::Stay
    }
}

/// How many panels are of the same kind as one.
fn alike(session: &Session, panel: Panel) -> usize {
    let layout = session.seq.layout();
    let spec = layout.panel(panel).spec;
    layout
        .begun_panels()
        .filter(|(_, p)| p.spec == spec)
        .count()
}

fn kind_name(session: &Session, panel: Panel) -> PlainText {
    let layout = session.seq.layout();
    PlainText::new(&layout.project().panels[layout.panel(panel).spec].name)
}

fn paint_bead(session: &mut Session) -> Flow<Session> {
    let Some(seat) = session.face.at else {
        return Flow::Stay;
    };
    let layout = session.seq.layout();
    let spec = layout.panel(seat.panel).spec;
    let was = words_of(session, spec, part_of(seat));
    let up = session.face.up;
    let beads = &layout.project().beads;
    let before = beads[usize::from(layout.colour_of(seat).0)].size;
    let other_size = before != beads[usize::from(session.face.brush.hand.0)].size;
    match session.face.brush.stroke(layout, seat, up, was) {
        Ok(stroke) => {
            put(session, stroke.spec, &stroke.after, &stroke.now);
            session.said = painted(session, &stroke);
            if other_size {
                session.said += " Its beads are of another size: the panel may not lie flat.";
            }
            session.face.brush.undone.clear();
            session.face.brush.keep(stroke);
        }
        Err(NoStroke::Already) => {
            let beads = &session.seq.layout().project().beads;
            let letter = beads[usize::from(session.face.brush.hand.0)].letter;
            session.said = format!("It is {letter} already.");
        }
        Err(NoStroke::TooLong) => {
            session.said = "This round has too many changes of colour for one line of a pattern \
                         file."
                .into();
        }
    }
    Flow::Stay
}

/// The words that a part was painted with; none as the pattern has it.
fn words_of(session: &Session, spec: SpecIndex, part: Part) -> String {
    let name = &session.seq.layout().project().panels[spec].name;
    let place = (PlainText::new(name), PlainText::new(&part.to_string()));
    let painted = session.piece.state().painted.get(&place);
    painted.map_or(String::new(), |words| words.as_str().into())
}

/// Puts a coat on, and writes that down first.
fn put(session: &mut Session, spec: SpecIndex, coat: &Coat, words: &str) {
    let colours = &session.seq.layout().project().panels[spec].colours;
    let before = colours.coat(coat.part());
    let name = session.seq.layout().project().panels[spec].name.clone();
    session.record(Entry::paint(
        &name,
        &coat.part().to_string(),
        words,
        session.now,
    ));
    let layout = session.seq.layout();
    session.face.brush.recount(layout, spec, &before, coat);
    session.face.brush.unsaved = true;
    // Whoever works something out apart goes on with the colours it had.
    Arc::make_mut(&mut session.seq).paint(spec, coat.clone());
    session.plan = None;
    session.stats.recolour();
    session.recolour_solid(spec);
}

fn of_stroke(session: &Session, stroke: &Stroke) -> String {
    let name = PlainText::new(&session.seq.layout().project().panels[stroke.spec].name);
    match stroke.after.part() {
        Part::Round(round) => format!("round {round} of '{name}'"),
        Part::Row => format!("the join rows of '{name}'"),
        Part::Tip => format!("the tip beads of '{name}'"),
    }
}

/// What a stroke did, and what of it is sewn already.
fn painted(session: &Session, stroke: &Stroke) -> String {
    let layout = session.seq.layout();
    let hand = &layout.project().beads[usize::from(session.face.brush.hand.0)];
    let beads = match (stroke.after.part(), stroke.beads) {
        (Part::Tip, _) => "All tip beads".into(),
        (Part::Row, n) => format!("{} of its join rows", plural(n, "bead")),
        (Part::Round(_), n) => plural(n, "bead"),
    };
    let is = match stroke.beads {
        1 if !matches!(stroke.after.part(), Part::Tip) => "is",
        _ => "are",
    };
    let Some(seat) = session.face.at else {
        return String::new();
    };
    let panels = alike(session, seat.panel);
    let all = match panels {
        1 => String::new(),
        n => format!(", alike in {n} panels"),
    };
    let mut said = format!("{beads} {is} {} now{all}.", hand.letter);
    let reach = session.face.brush.reach;
    if let Part::Round(round) = stroke.after.part()
        && !matches!(reach, Reach::Bead | Reach::Round)
        && !is_even(layout.kind(seat.panel), round)
    {
        said += " This round is not alike on every side: a bead is painted alone.";
    }
    let strung = session.seq.strung_after(session.done());
    let spec = layout.panel(seat.panel).spec;
    let same = layout.begun_panels();
    let sewn = same.filter(|(panel, made)| {
        made.spec == spec
            && match stroke.after.part() {
                Part::Round(round) => {
                    layout.making(*panel).innermost() <= round
                        && layout.bead(*panel, round, seat.index).0 <= strung
                }
                // Tip beads are strung behind the join beads of their row.
                part => layout.row_on(*panel, seat.side).is_some_and(|row| {
                    let before = match part {
                        Part::Tip => layout.row(row).beads,
                        _ => 0,
                    };
                    layout.row_bead(row, before + seat.place).0 <= strung
                }),
            }
    });
    match (sewn.count(), panels) {
        (0, _) => {}
        (_, 1) => said += " Sewn already: the work on the mat stays as it is.",
        (n, _) => said += &format!(" Sewn already in {n}: that stays as it is."),
    }
    said
}
