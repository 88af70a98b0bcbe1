//! The colours of a panel: lines of rounds and words, and whether they fit.

use super::colour_text::{self, Letters, Unread};
use super::error::{BadSelector, ColourFault, Quote, Span};
use super::faults::Faults;
use super::field::Field;
use super::file::PanelFile;
use super::limit;
use super::round_text::{self, Range};
use crate::beadwork::bead::Colour;
use crate::beadwork::colour::{ColourWord, Colours, Rule};
use crate::beadwork::number::{Round, Side};
use crate::beadwork::panel::PanelLayout;

/// What a reader of colours must know of its panel.
pub(super) struct Panel<'p> {
    pub(super) file: &'p PanelFile,
    pub(super) letters: &'p Letters,
    /// How it is laid out, unless its growth does not read.
    pub(super) layout: Option<&'p PanelLayout>,
    /// Rounds that stay open and need no colour.
    pub(super) open: u32,
}

/// One line of colours as read, with the text of each word.
struct Line<'t> {
    ranges: Vec<Range>,
    rule: Rule,
    texts: Vec<&'t str>,
}

/// Reads the colours of a panel. `spent` counts the letters of all panels.
pub(super) fn read(
    panel: &Panel,
    at: &Field,
    spent: &mut usize,
    faults: &mut Faults,
) -> Option<Colours> {
    let before = faults.len();
    let list = at.key("colours");
    let lines: Vec<Option<Line>> = panel
        .file
        .colours
        .iter()
        .enumerate()
        .map(|(place, text)| {
            let read = line(text, panel, spent);
            read.map_err(|fault| faults.add(&list.place(place), fault))
                .ok()
        })
        .collect();
    let of_round = of_round(&lines, panel.file.rounds);
    // A line that does not read may be the one that colours what is bare.
    if lines.iter().all(Option::is_some) {
        bare(&of_round, panel.open, &list, faults);
    }
    misfits(panel, &lines, &of_round, &list, faults);
    let row = row(panel, at, faults);
    let tip = tip(panel, at, faults);
    if faults.len() > before {
        return None;
    }
    Some(Colours {
        rules: lines.into_iter().flatten().map(|line| line.rule).collect(),
        of_round: of_round.into_iter().map(|rule| rule.unwrap_or(0)).collect(),
        row: row?,
        tip: tip?,
    })
}

fn line<'t>(text: &'t str, panel: &Panel, spent: &mut usize) -> Result<Line<'t>, ColourFault> {
    if *spent > limit::PATTERN_LETTERS {
        return Err(ColourFault::TooManyLetters);
    }
    if text.len() > limit::LINE_CHARS {
        return Err(ColourFault::Rounds(BadSelector::TooLong));
    }
    let (rounds, words) = text
        .split_once(':')
        .ok_or(ColourFault::Rounds(BadSelector::NoColon))?;
    let ranges = round_text::read(rounds, panel.file.rounds)?;
    let (texts, sides) = side_words(words, panel)?;
    *spent += sides
        .iter()
        .map(|word| word.given().0 + word.middle.len())
        .sum::<usize>();
    Ok(Line {
        ranges,
        rule: Rule { sides },
        texts,
    })
}

/// One word, or one for each side: their texts and what they say.
fn side_words<'t>(
    text: &'t str,
    panel: &Panel,
) -> Result<(Vec<&'t str>, Vec<ColourWord>), ColourFault> {
    let texts: Vec<&str> = text.split('/').map(str::trim).collect();
    let sides = panel.file.sides as u8;
    if texts.len() != 1 && texts.len() != usize::from(sides) {
        let given = texts.len();
        return Err(ColourFault::SideWords { given, sides });
    }
    let words: Result<Vec<ColourWord>, ColourFault> =
        texts.iter().map(|text| word(text, panel.letters)).collect();
    Ok((texts, words?))
}

fn word(text: &str, letters: &Letters) -> Result<ColourWord, ColourFault> {
    colour_text::read(text, letters).map_err(|unread| match unread {
        Unread::Bad(bad) => ColourFault::Word {
            word: Quote::new(text),
            bad,
        },
        Unread::NoBead(letter) => ColourFault::NoBead {
            letter,
            word: Quote::new(text),
            nearest: letters.nearest(letter),
            known: letters.names(),
        },
    })
}

/// For each round the line that colours it: the last that names it.
fn of_round(lines: &[Option<Line>], rounds: u32) -> Vec<Option<u16>> {
    let mut of_round = vec![None; rounds as usize];
    for (place, line) in lines.iter().enumerate() {
        for round in line
            .iter()
            .flat_map(|line| &line.ranges)
            .flat_map(|r| r.rounds())
        {
            of_round[round as usize - 1] = Some(place as u16);
        }
    }
    of_round
}

/// Rounds that are worked and have no colour.
fn bare(of_round: &[Option<u16>], open: u32, list: &Field, faults: &mut Faults) {
    let bare = |round: &u32| of_round[*round as usize - 1].is_none();
    let mut rounds = (open + 1..=of_round.len() as u32).filter(bare).peekable();
    while let Some(from) = rounds.next() {
        let mut to = from;
        while rounds.next_if_eq(&(to + 1)).is_some() {
            to += 1;
        }
        faults.add(list, ColourFault::NoColour(from, to));
    }
}

/// Words that do not fit a side they colour: the first such round of each line.
fn misfits(
    panel: &Panel,
    lines: &[Option<Line>],
    of_round: &[Option<u16>],
    list: &Field,
    faults: &mut Faults,
) {
    let Some(layout) = panel.layout else {
        return;
    };
    let mut told = vec![false; lines.len()];
    for round in panel.open + 1..=of_round.len() as u32 {
        let Some(place) = of_round[round as usize - 1].map(usize::from) else {
            continue;
        };
        let Some(line) = lines[place].as_ref().filter(|_| !told[place]) else {
            continue;
        };
        if let Some(fault) = misfit(line, layout, Round(round)) {
            faults.add(&list.place(place), fault);
            told[place] = true;
        }
    }
}

fn misfit(line: &Line, layout: &PanelLayout, round: Round) -> Option<ColourFault> {
    let words = &line.rule.sides;
    let sides = layout.sides();
    let beads = |side: u8| layout.on_side(round, Side(side));
    let even = (1..sides).all(|side| beads(side) == beads(0));
    (0..sides).find_map(|side| {
        let which = usize::from(side) % words.len();
        let span = match even && words.len() == 1 {
            true => Span::EachSide(round.0),
            false => Span::OneSide(round.0, Side(side).number()),
        };
        length(&words[which], line.texts[which], span, beads(side))
    })
}

fn length(word: &ColourWord, text: &str, span: Span, beads: u32) -> Option<ColourFault> {
    let (given, stretches) = word.given();
    (!word.fits(beads)).then(|| ColourFault::Length {
        word: Quote::new(text),
        given,
        stretches,
        mirror: word.mirror,
        span,
        beads,
    })
}

/// The words of join rows, one or one for each side; without any, the first
/// bead throughout.
fn row(panel: &Panel, at: &Field, faults: &mut Faults) -> Option<Rule> {
    let Some(text) = &panel.file.row else {
        return Some(Rule::plain(Colour(0)));
    };
    let at = at.key("row");
    if text.len() > limit::LINE_CHARS {
        faults.add(&at, ColourFault::Rounds(BadSelector::TooLong));
        return None;
    }
    let (texts, sides) = side_words(text, panel)
        .map_err(|fault| faults.add(&at, fault))
        .ok()?;
    let joined = panel.layout.filter(|layout| layout.can_be_joined());
    let misfit = joined.and_then(|layout| {
        // A bead in each gap between the high beads, as many on every side.
        let beads = layout.edge(Side(0)) - 1;
        let mut words = sides.iter().zip(texts);
        words.find_map(|(word, text)| length(word, text, Span::Row, beads))
    });
    if let Some(fault) = misfit {
        faults.add(&at, fault);
    }
    Some(Rule { sides })
}

/// The bead of tips; without a word, the first.
fn tip(panel: &Panel, at: &Field, faults: &mut Faults) -> Option<Colour> {
    let Some(text) = &panel.file.tip else {
        return Some(Colour(0));
    };
    let at = at.key("tip");
    let mut chars = text.trim().chars();
    match (chars.next(), chars.next()) {
        (Some(letter), None) if letter.is_alphabetic() => match word(text, panel.letters) {
            Ok(word) => Some(word.head[0]),
            Err(fault) => {
                faults.add(&at, fault);
                None
            }
        },
        _ => {
            faults.add(&at, ColourFault::Tip(Quote::new(text)));
            None
        }
    }
}
