//! The card at opening: for a piece that rested, what its maker was doing and
//! how to be sure of the place; for a new one, the cautions.

use crate::beadwork::{Bead, Sequence, Step};
use crate::screen::layer::{Busy, Choice, Context as _, Exit, Flow, Layer, Opener, keys, opener};
use crate::screen::phrases;
use crate::screen::session::Session;
use crate::screen::widgets::{Scroll, bold, scene, sections, styled, text};
use crate::tracking::count::{self, BeadsInRound};
use crate::tracking::pace;
use crate::words::care;
use ratatui::prelude::{Buffer, Line, Rect};

pub const OPENER: Opener<Session> =
    opener!(Session; "card" "" [] "" |_, _| Flow::open(Card::new()); Card::table);

pub struct Card {
    scroll: Scroll,
}

impl Layer<Session> for Card {
    keys! { Session, "A piece is opened" [scroll page] opens ["help" "words" "plan" "locate" "count"];
        go_on "space Enter right" ["space go on"] "go on stitching" => |_| Flow::Close;
        way_back "b" [] "back to where you were before you went to a place" => |s| s.way_back();
        tour "e" [] "take the beginner's tour"
        tray "t" ["t tray"] "put the piece away again" => |_| Flow::Leave(Exit::Tray);
        quit "q" ["q quit"] "end; every step is kept already" => |_| Flow::Leave(Exit::Quit);
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        lines(session, 0)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let inside = text::inset(area, 1);
        let lines = lines(session, inside.width);
        self.scroll.page(inside, buf, lines);
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        Busy::waiting(session.tick())
    }
}

impl Card {
    /// The card, at its top.
    pub fn new() -> Card {
        let scroll = Scroll::new();
        Card { scroll }
    }

    fn tour(&mut self, session: &mut Session) -> Flow<Session> {
        match session.offers_tour() {
            true => Flow::Leave(Exit::Open(Choice::Tour)),
            false => Flow::Screen("lesson"),
        }
    }
}

/// The work round the needle in this width, if there is room for it.
fn picture(session: &Session, width: u16) -> Vec<Line<'static>> {
    let height = match (width, session.size.1) {
        (0, _) | (_, 0..20) => return vec![],
        (_, 20..38) => 8,
        _ => 14,
    };
    let mut cells = Buffer::empty(Rect::new(0, 0, width, height));
    scene::draw(session, cells.area, &mut cells);
    text::lines_of(&cells)
}

/// The text of the card, with a picture of the work where it rested, if it has a
/// width.
fn lines(session: &Session, width: u16) -> Vec<Line<'static>> {
    let look = session.look();
    let mut lines: Vec<Line> = vec![];
    for told in session.piece.notices() {
        lines.push(styled(
            format!("{} {told}", look.signs().watch),
            look.ahead(),
        ));
    }
    if session.source_changed {
        let own = match session.painted_parts().is_empty() {
            true => "the piece keeps to its own copy.",
            false => "the piece keeps to its own copy, with what you painted on it.",
        };
        let changed = "The pattern file has changed since this piece was begun";
        lines.push(styled(format!("{changed}: {own}"), look.ahead()));
    }
    match session.piece.state().furthest {
        0 => lines.extend(fresh(session)),
        _ => lines.extend(rested(session, picture(session, width))),
    }
    lines
}

/// What a beginner reads before the first step of a tour.
const TOUR: [&str; 3] = [
    "Sew along: {on} when a movement is made, {back} to go back. The first time a movement comes up, a \
     lesson comes with it: what the hands do, where to look, what to be careful of.",
    "Leave the thread loose until the look is right, then pull. Stop whenever you like with q: the \
     tour goes on where you left it.",
    "{see:e shows the lesson on a page and leaves or repeats the tour; a explains any word on the screen; \
     l mirrors pictures for the left hand.}{hear:e tells the lesson again, a explains the words.}",
];

/// The very first keys.
const KEYS: &str = "{on} goes on, {back} goes back, ? explains where you are. Quit with q whenever you like: the piece \
    remembers every step.";

/// What is offered to a beginner.
const OFFER: &str = "New to this? {see:Press}{hear:Type} e for the beginner's tour: ten minutes, two little triangles, every \
     movement explained as you make it.";

fn fresh(session: &Session) -> Vec<Line<'static>> {
    let (reader, seat) = (session.reader(), session.look().seat());
    let first = "A new piece. Every key is one movement of the needle.";
    let mut lines = vec![styled(first, bold())];
    if session.tour_is_on() {
        lines.push(Line::default());
        lines.push(styled("The beginner's tour", seat));
        lines.push(Line::from(needed(&session.seq)));
        lines.extend(TOUR.map(|words| Line::from(reader.text(words))));
    } else {
        lines.push(Line::from(reader.text(KEYS)));
        if session.offers_tour() {
            lines.push(Line::default());
            lines.push(styled(reader.text(OFFER), seat));
        }
    }
    lines.push(Line::default());
    lines.push(styled("Before you begin", bold()));
    let cautions = care::CAUTIONS.iter();
    lines.extend(cautions.map(|words| Line::from(format!("- {words}"))));
    lines
}

/// What must be ready for a small piece: `You need 18 beads L (linen), …`.
fn needed(seq: &Sequence) -> String {
    let beads = seq.layout().bead_kinds();
    let mut counts = vec![0_u32; beads.len()];
    // A big piece has its plan; here nobody waits for its beads to be counted.
    let small = seq.layout().beads().min(MOST_COUNTED);
    for bead in 1..=small {
        counts[usize::from(seq.layout().colour(Bead(bead)).0)] += 1;
    }
    let kinds = beads.iter().zip(counts);
    let kinds = kinds.filter(|(_, n)| *n > 0).map(|(kind, n)| match small {
        MOST_COUNTED => format!("beads {} ({})", kind.letter, kind.name),
        _ => format!("{n} beads {} ({})", kind.letter, kind.name),
    });
    let kinds = kinds.collect::<Vec<_>>().join(", ");
    format!(
        "You need {kinds}, thread, a needle, scissors, and a cloth or mat that beads do not roll on."
    )
}

/// The most beads of a piece that are counted for a card.
const MOST_COUNTED: u32 = 2000;

/// Where the last jump began, if it can be gone back to.
fn came_from(session: &Session) -> Option<String> {
    let (seq, state) = (&session.seq, session.piece.state());
    let from = state.way_back.last()?;
    let next = Step(from + 1);
    let place = match seq.step(next) {
        Some(m) => {
            let mut place = vec![seq.job(m.job).title.clone(), seq.say_where(&m)];
            place.retain(|words| !words.is_empty());
            format!("step {next} ({})", place.join(", "))
        }
        None => "the end of the piece".into(),
    };
    Some(format!("You came here from {place}: b goes back there."))
}

fn rested(session: &Session, mut picture: Vec<Line<'static>>) -> Vec<Line<'static>> {
    let (seq, done) = (&session.seq, session.done());
    let state = session.piece.state();
    let ago = |at| format!(", last worked on {}", phrases::ago(at, session.now));
    let when = state.last_worked.map(ago).unwrap_or_default();
    let info = seq.job(session.job());
    let at = format!("You were at: {}{when}", info.title);
    let mut lines = vec![styled(at, bold())];
    lines.extend(came_from(session).map(Line::from));
    let first = done.0.saturating_sub(2).max(1);
    let last: Vec<String> = (first..=done.0)
        .filter_map(|s| seq.step(Step(s)))
        .map(|m| {
            let place = seq.say_where(&m);
            let place = match place.as_str() {
                "" => place,
                place => format!(" ({place})"),
            };
            format!("step {}: {}{place}", m.step, seq.say(&m))
        })
        .collect();
    let needle = match seq.leaves(done) {
        Some(bead) => format!(
            "The needle comes out of {}.",
            phrases::bead_words(seq, bead)
        ),
        None => phrases::no_thread(session),
    };
    let next = session.movement().map(|m| {
        let beads = seq.say_passed(&m);
        let beads = beads.map_or_else(String::new, |beads| format!(" ({beads})"));
        format!("Next: {}{beads}.", seq.say(&m))
    });
    let mut parts = vec![("The needle", [needle].into_iter().chain(next).collect())];
    let there = count::current_question(seq, done).and_then(|q| {
        let beads = BeadsInRound::at(seq, q.job, q.round, Some(done))?;
        Some(q.say_beads(seq, done, &beads))
    });
    if let Some(there) = there {
        let type_it = "Type what you count and Enter, to have it compared.";
        let texts = vec![format!("{there}."), type_it.into()];
        parts.push(("To be sure, count", texts));
    }
    if session.tour_is_on() {
        let told = session.shown().count();
        let words = match told {
            1 => "1 lesson has come up; e shows it again.".into(),
            n => format!("{n} lessons have come up; e shows them again."),
        };
        parts.push(("The beginner's tour goes on", vec![words]));
    }
    if let Some(hand) = pace::current_thread(seq, done, &state.threads) {
        let unit = session.thread_unit();
        let left = unit.say(hand.loose_mm);
        parts.push(("Thread", vec![format!("About {left} should be left.")]));
    }
    if !last.is_empty() {
        parts.push(("Your last movements", last));
    }
    let notes = state
        .notes
        .range(info.steps_before..=info.steps_before + info.steps);
    let notes: Vec<String> = notes.map(|(s, n)| format!("step {s}: {n}")).collect();
    if !notes.is_empty() {
        parts.push(("Your notes on this job", notes));
    }
    let parts = parts.into_iter().map(|(head, texts): (&str, Vec<String>)| {
        let texts = texts.into_iter().map(Line::from);
        // The picture shows where the needle is.
        (head, texts.chain(std::mem::take(&mut picture)).collect())
    });
    lines.push(Line::default());
    lines.extend(sections(bold(), parts));
    lines
}
