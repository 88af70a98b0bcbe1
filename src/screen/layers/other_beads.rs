//! Other beads from here on: one that replaces another, or one that the pattern
//! does not have.
//!
//! ```text
//! which bead -> which one instead -> how far -> before and after
//! letter, name, size, colour ----------------->-/
//! ```
//!
//! Or a bead strung before was another one: its step and its letter.

use super::changes::ask;
use super::menu::{Menu, row};
use super::preview::look_at;
use crate::beadwork::amend::Amendment;
use crate::beadwork::amend::colours::{BeadSwap, ColourChange, NewBead, SwapScope};
use crate::beadwork::bead::PRESETS;
use crate::beadwork::{Bead, Colour, Panel, Rgb, Step, plural};
use crate::plan::materials;
use crate::screen::layer::{Flow, Keys, LOOK, Opener, key_table, opener};
use crate::screen::session::Session;
use crate::screen::widgets::TextEntry;

pub const SWAP: Opener<Session> = opener!(Session; "another bead" "" [] "" |_, session| which(session, None); || WHICH, || HOW_FAR, || STRUNG);

pub const NEW: Opener<Session> =
    opener!(Session; "new bead" "" [] "" |_, _| new_bead(); || DESCRIBED);

const WHICH: &Keys = &key_table!("One bead in place of another";
    choose "Enter" ["Enter choose"] "this bead"
    ~ "A-Z" ["A-Z its letter"] "the bead of that letter");

const HOW_FAR: &Keys = &Keys::new("How far another bead goes", LOOK);

const STRUNG: &Keys = &Keys::new("A bead strung before was another", LOOK);

const DESCRIBED: &Keys = &Keys::new("A bead that the pattern lacks", LOOK);

/// The colour of a new bead if none is given.
const GREY: Rgb = Rgb(0x80, 0x80, 0x80);

/// Asks which bead is replaced, or by which one `old` is.
fn which(session: &mut Session, old: Option<Colour>) -> Flow<Session> {
    let (layout, strung) = (
        session.seq.layout(),
        session.seq.strung_after(session.done()),
    );
    let to_come = materials::to_come(layout, strung);
    let kinds = layout.bead_kinds();
    let line = |(at, (kind, beads)): (usize, (&crate::beadwork::BeadKind, u32))| {
        let colour = Colour(at as u8);
        let is_offered = match old {
            None => beads > 0,
            Some(old) => colour != old,
        };
        let (letter, name) = (kind.letter, &kind.name);
        let grams = f64::from(beads) / kind.size.per_gram;
        let words = format!("{letter} ({name}): {beads} still to come, {grams:.2} g");
        let chosen = move |session: &mut Session| match old {
            None if session.seq.layout().bead_kinds().len() == 1 => session
                .say("The piece has no other bead. Choose 'a bead that the pattern lacks' first."),
            None => which(session, Some(colour)).instead(),
            Some(old) => how_far(session, old, colour).instead(),
        };
        is_offered.then(|| row(words, chosen))
    };
    let rows: Vec<_> = kinds
        .iter()
        .zip(to_come)
        .enumerate()
        .filter_map(line)
        .collect();
    let asked = match old {
        None if rows.is_empty() => return session.say("No bead is to come: all are sewn."),
        None => "Which bead runs out, or is not to be used any more?".into(),
        Some(old) => format!("Which bead instead of {}?", layout.bead_kind(old).letter),
    };
    Flow::open(Menu::new(WHICH, asked, rows))
}

/// Asks how far the replacement goes.
fn how_far(session: &Session, old: Colour, new: Colour) -> Flow<Session> {
    let (seq, layout) = (&session.seq, session.seq.layout());
    let strung = seq.strung_after(session.done());
    let seats = (strung + 1..=layout.beads()).map(|bead| layout.seat(Bead(bead)));
    let seats: Vec<_> = seats
        .filter(|seat| layout.colour_of(*seat) == old)
        .collect();
    let name = |panel: Panel| &layout.panel(panel).name;
    let line = |scope: SwapScope| {
        let far = match scope {
            SwapScope::Round(panel, round) => {
                format!("This round: round {round} of {}", name(panel))
            }
            SwapScope::Row(panel, side) => {
                format!("This join row, on side {side} of {}", name(panel))
            }
            SwapScope::Panel(panel) => {
                format!("The rest of this panel, {}, and its join rows", name(panel))
            }
            SwapScope::All => "Everything still to come".into(),
        };
        let beads = seats.iter().filter(|seat| scope.takes_in(**seat)).count();
        row(
            format!("{far}: {}", plural(beads, "bead")),
            move |session: &mut Session| {
                let from = Bead(session.seq.strung_after(session.done()) + 1);
                let swap = BeadSwap {
                    from,
                    old,
                    new,
                    scope,
                };
                look_at(session, Amendment::Colours(ColourChange::Swap(swap)))
            },
        )
    };
    let rows: Vec<_> = seq
        .swap_scopes(session.done())
        .into_iter()
        .map(line)
        .collect();
    let letter = |colour| layout.bead_kind(colour).letter;
    let asked = format!("{} instead of {}: how far?", letter(new), letter(old));
    Flow::open(Menu::new(HOW_FAR, asked, rows))
}

/// Asks for a step, and which beads it really strung.
pub(super) fn strung() -> Flow<Session> {
    let asks = |session: &Session, typed: &str| {
        let step = typed.split(' ').next().unwrap_or_default();
        let help = match step.parse().map(|step| strung_by(session, Step(step))) {
            Ok(Ok((_, words))) => words,
            Ok(Err(why)) => why,
            Err(_) => "Type a step: this line says what it strung. A letter for each bead.".into(),
        };
        ("Which step, and what did it string? (41 P)", help)
    };
    ask(STRUNG, TextEntry::text(20), asks, |session, typed| {
        let (step, letters) = typed.trim().split_once(' ').unwrap_or_default();
        let Ok(step) = step.parse() else {
            return Err("A step and the letter of a bead, please, as in 41 P.".into());
        };
        let (sewn, words) = strung_by(session, Step(step))?;
        let kinds = session.seq.layout().bead_kinds();
        let colour = |letter: char| match kinds.iter().position(|kind| kind.letter == letter) {
            Some(at) => Ok(Colour(at as u8)),
            None => Err(format!("{letter} is no bead of this piece.")),
        };
        let letters = letters.chars().filter(|letter| !letter.is_whitespace());
        let beads = letters.map(colour).collect::<Result<Vec<_>, _>>()?;
        match (sewn.first(), sewn.len() == beads.len()) {
            (Some(&from), true) => Ok(Amendment::Colours(ColourChange::Strung { from, beads })),
            _ => Err(format!("{words} A letter for each, please.")),
        }
    })
}

/// The beads that a step done has strung, and the same in words.
fn strung_by(session: &Session, step: Step) -> Result<(Vec<Bead>, String), String> {
    let m = session.seq.step(step).filter(|_| step <= session.done());
    let sewn = m.map(|m| m.strings.to_vec()).unwrap_or_default();
    if sewn.is_empty() {
        return Err(format!("Step {step} did not string a bead."));
    }
    let layout = session.seq.layout();
    let letter = |bead: &Bead| layout.bead_kind(layout.colour(*bead)).letter.to_string();
    let letters: Vec<String> = sewn.iter().map(letter).collect();
    let beads = plural(sewn.len(), "bead");
    let words = format!("Step {step} strung {beads}: {} now.", letters.join(" "));
    Ok((sewn, words))
}

/// Asks for a bead that the pattern does not have.
fn new_bead() -> Flow<Session> {
    let asks = |session: &Session, _: &str| {
        let first = session.seq.layout().bead_kinds()[0].letter;
        let help = format!(
            "Letter and name, and if you like size and colour: P plum, round 11/0, #4a2145. \
             Without a size it is as large as {first}."
        );
        ("The bead:", help)
    };
    ask(DESCRIBED, TextEntry::text(100), asks, |_, typed| {
        Ok(Amendment::Colours(ColourChange::NewBead(described(typed)?)))
    })
}

/// Reads a bead: `P plum, round 11/0, #4a2145`.
fn described(typed: &str) -> Result<NewBead, String> {
    let mut parts = typed.split(',').map(str::trim);
    let first = parts.next().unwrap_or("");
    let mut letters = first.chars();
    let letter = letters
        .next()
        .ok_or("Type a letter and a name, such as: P plum")?;
    let name = letters.as_str();
    if name.is_empty() || !name.starts_with(' ') {
        return Err("Type a letter, a blank and a name, such as: P plum".into());
    }
    let mut bead = NewBead {
        letter,
        name: name.trim().into(),
        size: None,
        colour: GREY,
    };
    for part in parts {
        if part.starts_with('#') {
            let six = "A colour is # and six digits, such as #4a2145.";
            bead.colour = part.parse().map_err(|_| six)?;
        } else if PRESETS.iter().any(|(name, _)| *name == part) {
            bead.size = Some(part.into());
        } else {
            let sizes = PRESETS.map(|(name, _)| name).join(", ");
            return Err(format!("'{part}' is no size. The sizes are: {sizes}."));
        }
    }
    Ok(bead)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bead_is_read_as_it_is_typed() {
        let bead = described("P dark plum, #4a2145, round 11/0").unwrap();
        assert_eq!((bead.letter, bead.name.as_str()), ('P', "dark plum"));
        assert_eq!(bead.size.as_deref(), Some("round 11/0"));
        assert_eq!(bead.colour, Rgb(0x4a, 0x21, 0x45));
        let bead = described("P plum").unwrap();
        assert_eq!((bead.size, bead.colour), (None, GREY));
        for (typed, why) in [
            ("", "Type a letter"),
            ("P", "a blank and a name"),
            ("plum", "a blank and a name"),
            ("P plum, 11/0", "'11/0' is no size"),
            ("P plum, #4a21", "six digits"),
        ] {
            let said = described(typed).unwrap_err();
            assert!(said.contains(why), "{said}");
        }
    }
}
