//! The brush in words: the bead pointed at, the current bead and what it
//! paints, and how many of each colour the piece takes now.

use crate::beadwork::paint::Symmetry;
use crate::plan::materials::{self, ColourAmount};
use crate::screen::layer::Context as _;
use crate::screen::look::Look;
use crate::screen::session::Session;
use crate::screen::widgets::{bold, styled};
use crate::screen::{phrases, settings};
use ratatui::prelude::{Line, Span};
use unicode_width::UnicodeWidthStr as _;

/// The beads of each colour, and how many more or fewer than before.
fn tallies(session: &Session) -> Option<Vec<(ColourAmount, i64)>> {
    let (counts, since): (Vec<u32>, Vec<i64>) = session.face.brush.tally()?.into_iter().unzip();
    let spare = settings::spare_percent(&session.piece.state().settings);
    let beads = materials::bought(session.seq.layout(), &counts, spare);
    Some(beads.into_iter().zip(since).collect())
}

/// The letter of a bead, on its colour.
fn letter(session: &Session, look: Look, nth: usize) -> Span<'static> {
    let kind = &session.seq.layout().bead_kinds()[nth];
    let fits = look.unicode || kind.letter.is_ascii();
    let letter = if fits { kind.letter } else { '?' };
    Span::styled(format!(" {letter} "), look.solid(kind.colour))
}

fn pointed(session: &Session) -> String {
    let Some(seat) = session.face.at else {
        return String::new();
    };
    let layout = session.seq.layout();
    let kind = layout.bead_kind(layout.colour_of(seat));
    let place = phrases::seat_words(&session.seq, seat);
    format!("{place}: {} ({})", kind.letter, kind.name)
}

fn colour_in_hand(session: &Session, look: Look, width: u16) -> Line<'static> {
    let hand = usize::from(session.face.brush.hand.0);
    let name = match width {
        // Where there is little room, the letter is enough.
        0..50 => "",
        _ => &session.seq.layout().bead_kinds()[hand].name,
    };
    let reach = reach_words(session.face.brush.reach);
    let parted = if name.is_empty() { "" } else { ", " };
    Line::from(vec![
        Span::styled("In hand ", bold()),
        letter(session, look, hand),
        Span::raw(format!(" {name}{parted}{reach}")),
    ])
}

/// Beside the face: a line for each colour.
pub fn beside(session: &Session) -> Vec<Line<'static>> {
    let look = session.look();
    let mut lines = vec![
        Line::from(pointed(session)),
        Line::default(),
        colour_in_hand(session, look, u16::MAX),
        Line::default(),
    ];
    let Some(tallies) = tallies(session) else {
        lines.push(styled("The beads are being counted ...", look.quiet()));
        return lines;
    };
    for (nth, (beads, since)) in tallies.iter().enumerate() {
        let here = nth == usize::from(session.face.brush.hand.0);
        let words = format!(" {:>7}{:>8}", beads.count, changed(*since));
        lines.push(Line::from(vec![
            Span::raw(format!(
                "{} ",
                if here { look.signs().enter[1] } else { ' ' }
            )),
            letter(session, look, nth),
            Span::raw(words),
            Span::raw(format!("  {}", beads.to_buy())),
        ]));
    }
    let spare = settings::spare_percent(&session.piece.state().settings);
    lines.push(Line::default());
    lines.push(styled(
        format!("Beads in the whole piece, more or fewer than before, and what to buy, {spare} % spare included."),
        look.quiet(),
    ));
    if session.face.brush.unsaved {
        let words = match session.only_looking {
            true => LOOKING,
            false => UNSAVED,
        };
        lines.push(styled(words, look.ahead()));
    }
    lines
}

const LOOKING: &str = "Only looking: this is not kept; w writes it to a pattern file.";
const UNSAVED: &str = "Kept with this piece; w writes it to the pattern file.";

/// Below the face: as many colours as fit, in lines.
pub fn below(session: &Session, width: u16, rows: u16) -> Vec<Line<'static>> {
    let look = session.look();
    let mut lines = vec![colour_in_hand(session, look, width)];
    if rows > 2 {
        lines.insert(0, Line::from(pointed(session)));
    }
    let Some(tallies) = tallies(session) else {
        return lines;
    };
    // The current colour first, because it is the one that changes.
    let hand = usize::from(session.face.brush.hand.0);
    let mut order: Vec<usize> = (0..tallies.len()).collect();
    order.sort_by_key(|nth| *nth != hand);
    let (mut line, mut used) = (Line::default(), 0);
    for nth in order {
        let (beads, since) = &tallies[nth];
        let since = match since {
            0 => String::new(),
            since => format!(" ({})", changed(*since)),
        };
        let words = format!(" {}{since} {}   ", beads.count, beads.to_buy());
        let wide = 3 + words.trim_end().width();
        if used > 0 && used + wide > usize::from(width) {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        if lines.len() >= usize::from(rows) {
            return lines;
        }
        used += 3 + words.width();
        line.push_span(letter(session, look, nth));
        line.push_span(words);
    }
    lines.push(line);
    lines
}

fn changed(since: i64) -> String {
    match since {
        0 => String::new(),
        since => format!("{since:+}"),
    }
}

/// What is painted with a bead, in words.
fn reach_words(reach: Symmetry) -> &'static str {
    match reach {
        Symmetry::Bead => "one bead",
        Symmetry::Mirror => "its mirror image too",
        Symmetry::Sides => "on every side",
        Symmetry::SidesMirror => "on every side, mirrored",
        Symmetry::Round => "the whole round",
    }
}
