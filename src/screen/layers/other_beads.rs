//! Other beads from here on: one that replaces another, or one that the pattern
//! does not have.
//!
//! ```text
//! which bead -> which one instead -> how far -> before and after
//! letter, name, size, colour ----------------->-/
//! ```

use super::changes::previewed;
use crate::beadwork::amend::Amendment;
use crate::beadwork::amend::colours::{BeadSwap, ColourChange, NewBead, SwapScope};
use crate::beadwork::bead::{PRESETS, Rgb};
use crate::beadwork::{Bead, Colour, plural};
use crate::plan::materials;
use crate::screen::event::Input;
use crate::screen::furniture::{Scroll, TextEntry, choices};
use crate::screen::keys::{keys, letter, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use ratatui::style::Style;
use ratatui::text::Line;

pub const SWAP: Opener<Session> =
    opener!(Session; "another bead" "" [] "" |_, session| swap(session); OtherBeads, HowFar);

pub const NEW: Opener<Session> =
    opener!(Session; "new bead" "" [] "" |_, _| Flow::open(Described::new()); Described);

/// The colour of a new bead if none is given.
const GREY: Rgb = Rgb(0x80, 0x80, 0x80);

fn swap(session: &mut Session) -> Flow<Session> {
    let beads = OtherBeads::new(session, None);
    match beads.rows.is_empty() {
        true => session.say("No bead is to come: all are sewn."),
        false => Flow::open(beads),
    }
}

/// Beads of each kind that are still to come.
fn to_come(session: &Session) -> Vec<u32> {
    let strung = session.seq.strung_after(session.done());
    materials::to_come(session.seq.layout(), strung)
}

/// The beads of the piece, to choose from.
pub struct OtherBeads {
    /// The bead to replace, once it is chosen.
    old: Option<Colour>,
    rows: Vec<(Colour, String)>,
    scroll: Scroll,
}

impl Layer<Session> for OtherBeads {
    keys! { Session, "One bead in place of another";
        choose "Enter" ["Enter choose"] "this bead"
        ~ "A-Z" ["A-Z its letter"] "the bead of that letter"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let words = match self.old {
            None => "Which bead runs out, or is not to be used any more?".into(),
            Some(old) => {
                let letter = session.seq.layout().bead_kind(old).letter;
                format!("Which bead instead of {letter}?")
            }
        };
        Some((words, session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let words = self.rows.iter().map(|(_, words)| words.as_str());
        choices(session.look(), self.scroll.at, words)
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn other(&mut self, input: Input, session: &mut Session) -> Option<Flow<Session>> {
        let Input::Key(event) = input else {
            return None;
        };
        let c = letter(&event).filter(|c| c.is_alphabetic() && !c.is_ascii_lowercase())?;
        let kinds = session.seq.layout().bead_kinds();
        let is_it = |(colour, _): &(Colour, String)| kinds[usize::from(colour.0)].letter == c;
        let Some(at) = self.rows.iter().position(is_it) else {
            return Some(session.say(format!("{c} is no bead of this list.")));
        };
        self.scroll.at = at;
        Some(self.choose(session))
    }
}

impl OtherBeads {
    fn new(session: &Session, old: Option<Colour>) -> OtherBeads {
        let kinds = session.seq.layout().bead_kinds().iter();
        let all = kinds.zip(to_come(session)).enumerate();
        let rows = all.filter_map(|(at, (kind, beads))| {
            let colour = Colour(at as u8);
            let is_offered = match old {
                None => beads > 0,
                Some(old) => colour != old,
            };
            let grams = f64::from(beads) / kind.size.per_gram;
            let words = format!(
                "{} ({}): {beads} still to come, {grams:.2} g",
                kind.letter, kind.name
            );
            is_offered.then_some((colour, words))
        });
        let rows: Vec<_> = rows.collect();
        let scroll = Scroll::list(0, rows.len());
        OtherBeads { old, rows, scroll }
    }

    fn choose(&mut self, session: &mut Session) -> Flow<Session> {
        let Some((chosen, _)) = self.rows.get(self.scroll.at) else {
            return Flow::Stay;
        };
        match self.old {
            None if session.seq.layout().bead_kinds().len() == 1 => session
                .say("The piece has no other bead. Choose 'a bead that the pattern lacks' first."),
            None => Flow::replace(OtherBeads::new(session, Some(*chosen))),
            Some(old) => Flow::replace(HowFar::new(session, old, *chosen)),
        }
    }
}

/// How far the replacement goes.
pub struct HowFar {
    rows: Vec<(SwapScope, String)>,
    old: Colour,
    new: Colour,
    scroll: Scroll,
}

impl Layer<Session> for HowFar {
    keys! { Session, "How far another bead goes";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let letter = |colour| session.seq.layout().bead_kind(colour).letter;
        let words = format!(
            "{} instead of {}: how far?",
            letter(self.new),
            letter(self.old)
        );
        Some((words, session.look().seat()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let words = self.rows.iter().map(|(_, words)| words.as_str());
        choices(session.look(), self.scroll.at, words)
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }
}

impl HowFar {
    fn new(session: &Session, old: Colour, new: Colour) -> HowFar {
        let (seq, layout) = (&session.seq, session.seq.layout());
        let mut scopes: Vec<(SwapScope, u32)> = vec![];
        scopes.extend(seq.swap_scopes(session.done()).into_iter().map(|s| (s, 0)));
        let strung = seq.strung_after(session.done());
        let seats = (strung + 1..=layout.beads()).map(|bead| layout.seat(Bead(bead)));
        for seat in seats.filter(|seat| layout.colour_of(*seat) == old) {
            for (scope, beads) in &mut scopes {
                *beads += u32::from(scope.takes_in(seat));
            }
        }
        let words = |scope: SwapScope, beads: u32| {
            let name = |panel: crate::beadwork::Panel| &layout.panel(panel).name;
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
            format!("{far}: {}", plural(beads as usize, "bead"))
        };
        let scopes = scopes.into_iter();
        let rows: Vec<_> = scopes
            .map(|(scope, beads)| (scope, words(scope, beads)))
            .collect();
        let scroll = Scroll::list(0, rows.len());
        HowFar {
            rows,
            old,
            new,
            scroll,
        }
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let Some((scope, _)) = self.rows.get(self.scroll.at) else {
            return Flow::Stay;
        };
        let swap = BeadSwap {
            from: Bead(session.seq.strung_after(session.done()) + 1),
            old: self.old,
            new: self.new,
            scope: *scope,
        };
        match previewed(session, Amendment::Colours(ColourChange::Swap(swap))) {
            Ok(layer) => Flow::open(layer),
            Err(why) => session.say(why),
        }
    }
}

/// A bead that the pattern does not have, being typed.
pub struct Described {
    entry: TextEntry,
}

impl Layer<Session> for Described {
    keys! { Session, "A bead that the pattern lacks";
        look "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let size = &session.seq.layout().bead_kinds()[0];
        let help = format!(
            "Letter and name, and if you like size and colour: P plum, round 11/0, #4a2145. \
             Without a size it is as large as {}.",
            size.letter
        );
        let asked = self.entry.line(session.look(), "The bead:");
        vec![asked, self.entry.below(help)]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }
}

impl Described {
    fn new() -> Described {
        Described {
            entry: TextEntry::text(100),
        }
    }

    fn look(&mut self, session: &mut Session) -> Flow<Session> {
        let previewed = described(&self.entry.typed)
            .and_then(|bead| previewed(session, Amendment::Colours(ColourChange::NewBead(bead))));
        match previewed {
            Ok(layer) => Flow::replace(layer),
            Err(why) => {
                self.entry.refuse(why);
                Flow::Stay
            }
        }
    }
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
