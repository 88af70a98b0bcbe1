//! The colours of a panel: lines of rounds and words, and whether they fit the
//! panel.

use super::colour_text::{self, Letters};
use super::file::PanelFile;
use super::limit;
use super::round_text::{self, Range};
use super::source::Field;
use crate::beadwork::bead::Colour;
use crate::beadwork::colour::{ColourWord, Colours, Rule};
use crate::beadwork::number::{Round, Side};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::plural;
use crate::problem::{Problem, quoted};

/// What the reader of colours must know about the panel.
pub(super) struct Panel<'p> {
    pub(super) file: &'p PanelFile,
    pub(super) letters: &'p Letters,
    /// Its layout, unless its growth cannot be read.
    pub(super) layout: Option<&'p PanelLayout>,
    /// Rounds that are left open and need no colour.
    pub(super) open: u32,
}

/// One line of colours after reading, with the text of each word.
struct ColourLine<'t> {
    ranges: Vec<Range>,
    rule: Rule,
    texts: Vec<&'t str>,
}

/// Reads the colours of a panel. `spent` counts the letters of all panels.
pub(super) fn read(panel: &Panel, at: Field, spent: &mut usize) -> Option<Colours> {
    let before = at.problems();
    let list = at.key("colours");
    let texts = panel.file.colours.iter().enumerate();
    let lines = texts.map(|(place, text)| {
        let line = line(text, panel, spent);
        line.map_err(|problem| list.entry(place).note(problem)).ok()
    });
    let lines: Vec<Option<ColourLine>> = lines.collect();
    let of_round = of_round(&lines, panel.file.rounds());
    // A line that cannot be read may be the one that colours the missing
    // rounds.
    if lines.iter().all(Option::is_some) {
        bare(&of_round, panel.open, list);
    }
    misfits(panel, &lines, &of_round, list);
    let row = row(panel, at.key("row"));
    let tip = tip(panel, at.key("tip"));
    if at.problems() > before {
        return None;
    }
    Some(Colours {
        rules: lines.into_iter().flatten().map(|line| line.rule).collect(),
        of_round: of_round.into_iter().map(|rule| rule.unwrap_or(0)).collect(),
        row: row?,
        tip: tip?,
    })
}

fn line<'t>(text: &'t str, panel: &Panel, spent: &mut usize) -> Result<ColourLine<'t>, Problem> {
    if *spent > limit::PATTERN_LETTERS {
        let most = limit::PATTERN_LETTERS;
        return Err(Problem::new(
            format!("the colour words up to here give more than {most} letters"),
            "take out lines, or put * after letters that may repeat",
        ));
    }
    not_too_long(text)?;
    let (rounds, words) = text.split_once(':').ok_or_else(|| {
        Problem::new(
            "no colon parts the rounds from their colours",
            "write it like \"1-8: A S* A\" or \"all: S*\"",
        )
    })?;
    let ranges = round_text::read(rounds, panel.file.rounds())?;
    let (texts, sides) = side_words(words, panel)?;
    let letters = |word: &ColourWord| word.given().0 + word.middle.len();
    *spent += sides.iter().map(letters).sum::<usize>();
    Ok(ColourLine {
        ranges,
        rule: Rule { sides },
        texts,
    })
}

fn not_too_long(text: &str) -> Result<(), Problem> {
    let most = limit::LINE_CHARS;
    match text.len() > most {
        true => Err(Problem::new(
            format!("this line has more than {most} characters"),
            "shorten it: write S20 for twenty S, S* for as many as it takes",
        )),
        false => Ok(()),
    }
}

/// One word, or one for each side: their texts and what they mean.
fn side_words<'t>(
    text: &'t str,
    panel: &Panel,
) -> Result<(Vec<&'t str>, Vec<ColourWord>), Problem> {
    let texts: Vec<&str> = text.split('/').map(str::trim).collect();
    let (given, sides) = (texts.len(), panel.file.sides());
    if given != 1 && given != sides as usize {
        return Err(Problem::new(
            format!("{given} words for {sides} sides"),
            format!("give one word for every side, or {sides} parted by /"),
        ));
    }
    let words = texts
        .iter()
        .map(|text| colour_text::read(text, panel.letters));
    let words = words.collect::<Result<_, _>>()?;
    Ok((texts, words))
}

/// For each round, the line that colours it: the last one that names it.
fn of_round(lines: &[Option<ColourLine>], rounds: u32) -> Vec<Option<u16>> {
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

/// Reports rounds that are worked and have no colour.
fn bare(of_round: &[Option<u16>], open: u32, list: Field) {
    let bare = |round: &u32| of_round[*round as usize - 1].is_none();
    let mut rounds = (open + 1..=of_round.len() as u32).filter(bare).peekable();
    while let Some(from) = rounds.next() {
        let mut to = from;
        while rounds.next_if_eq(&(to + 1)).is_some() {
            to += 1;
        }
        let what = match from == to {
            true => format!("round {from} has no colour"),
            false => format!("rounds {from} to {to} have no colour"),
        };
        let mend = "begin the list with a line for all rounds, such as \"all: S*\"";
        list.refuse(what, mend);
    }
}

/// Reports words that do not fit a side that they colour: the first such round
/// of each line.
fn misfits(panel: &Panel, lines: &[Option<ColourLine>], of_round: &[Option<u16>], list: Field) {
    let Some(layout) = panel.layout else {
        return;
    };
    let mut noted = vec![false; lines.len()];
    for round in panel.open + 1..=of_round.len() as u32 {
        let Some(place) = of_round[round as usize - 1].map(usize::from) else {
            continue;
        };
        let Some(line) = lines[place].as_ref().filter(|_| !noted[place]) else {
            continue;
        };
        if let Some(problem) = misfit(line, layout, Round(round)) {
            list.entry(place).note(problem);
            noted[place] = true;
        }
    }
}

fn misfit(line: &ColourLine, layout: &PanelLayout, round: Round) -> Option<Problem> {
    let words = &line.rule.sides;
    let sides = layout.sides();
    let beads = |side: u8| layout.on_side(round, Side(side));
    let even = (1..sides).all(|side| beads(side) == beads(0));
    (0..sides).find_map(|side| {
        let (which, beads) = (usize::from(side) % words.len(), beads(side));
        let room = || match even && words.len() == 1 {
            true => format!("round {round} has {beads} on a side"),
            false => format!("round {round} has {beads} on side {}", Side(side).number()),
        };
        length(&words[which], line.texts[which], beads, room)
    })
}

/// Reports a word that is too short or too long for `beads` beads; `room` says
/// where they are.
fn length(word: &ColourWord, text: &str, beads: u32, room: impl Fn() -> String) -> Option<Problem> {
    if word.fits(beads) {
        return None;
    }
    let (given, stretches) = word.given();
    let half = beads.div_ceil(2);
    let (wanted, halves, example) = match word.mirror {
        true => (half, format!(", so half a side is {half}"), "A S* mirror"),
        false => (beads, String::new(), "A S* A"),
    };
    let (given, letters) = (plural(given, "bead"), plural(wanted as usize, "letter"));
    let at_least = if stretches { "at least " } else { "" };
    Some(Problem::new(
        format!(
            "the word {} gives {at_least}{given}, {}{halves}",
            quoted(text),
            room()
        ),
        match stretches {
            true => format!("give at most {letters} besides the one with *"),
            false => format!(
                "give {letters}, or put * after the letter that may repeat, such as '{example}'"
            ),
        },
    ))
}

/// The words of join rows: one for all, or one for each side; without any, the
/// first bead throughout.
fn row(panel: &Panel, at: Field) -> Option<Rule> {
    let Some(text) = &panel.file.row else {
        return Some(Rule::plain(Colour(0)));
    };
    let read = not_too_long(text).and_then(|()| side_words(text, panel));
    let (texts, sides) = at.accept(read)?;
    let joined = panel.layout.filter(|layout| layout.can_be_joined());
    let misfit = joined.and_then(|layout| {
        let words = sides.iter().zip(texts).cycle();
        let mut each = (0..layout.sides()).map(Side).zip(words);
        // A bead in each gap between the up beads.
        each.find_map(|(side, (word, text))| {
            let beads = layout.edge(side) - 1;
            length(word, text, beads, || format!("a join row has {beads}"))
        })
    });
    if let Some(problem) = misfit {
        at.note(problem);
    }
    Some(Rule { sides })
}

/// The bead of tips; without a word, the first.
fn tip(panel: &Panel, at: Field) -> Option<Colour> {
    let Some(text) = &panel.file.tip else {
        return Some(Colour(0));
    };
    let mut chars = text.trim().chars();
    let tip = match (chars.next(), chars.next()) {
        (Some(letter), None) if letter.is_alphabetic() => {
            colour_text::read(text, panel.letters).map(|word| word.head[0])
        }
        _ => Err(Problem::new(
            format!("{} is not the letter of one bead", quoted(text)),
            "write a single letter, such as \"A\"",
        )),
    };
    at.accept(tip)
}
