//! Parses values on the command line: lengths, percentages, shapes, colours.

use clap::builder::{PossibleValuesParser, TypedValueParser};

use crate::plan::draft::{ColourAsk, DraftShape};
use crate::tracking::count::numbers;

/// A number from `least` (or above it, if `above`) to `most`.
fn number(text: &str, least: f64, above: bool, most: f64) -> Result<f64, String> {
    let found: f64 = text.parse().map_err(|_| "not a number".to_string())?;
    let low = if above { found > least } else { found >= least };
    match low && found <= most {
        true => Ok(found),
        false => Err(format!(
            "expected a number {} {least} up to {most}",
            if above { "above" } else { "from" }
        )),
    }
}

/// A whole number from `least` to `most`.
pub(super) fn whole<T: TryFrom<u32>>(
    least: u32,
    most: u32,
) -> impl Fn(&str) -> Result<T, String> + Clone {
    move |text| {
        let found = text.parse().ok().filter(|n| (least..=most).contains(n));
        let found = found.and_then(|n| T::try_from(n).ok());
        found.ok_or_else(|| format!("expected a whole number from {least} to {most}"))
    }
}

/// A length, mm, or another measure above zero.
pub(super) fn millimetres(text: &str) -> Result<f64, String> {
    number(text, 0.0, true, 100_000.0)
}

/// Spare beads to buy, percent.
pub(super) fn percent(text: &str) -> Result<f64, String> {
    number(text, 0.0, false, 1000.0)
}

/// Seconds for a stitch.
pub(super) fn seconds(text: &str) -> Result<f64, String> {
    number(text, 0.0, true, 3600.0)
}

/// Tetrahedra of a ring.
pub(super) fn tetrahedra(text: &str) -> Result<u16, String> {
    match text.parse() {
        Ok(n @ 6..=1000) if n % 2 == 0 => Ok(n),
        _ => Err("expected an even number from 6 to 1000".into()),
    }
}

/// A count: one number, or one for each side.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Counts(pub(super) Vec<u32>);

/// A count as the screen takes it too.
pub(super) fn counted(text: &str) -> Result<Counts, String> {
    let numbers = numbers(text).filter(|numbers| !numbers.is_empty());
    let wanted = "expected a whole number, or one for each side as in 5,5,6 or '5 5 6'";
    numbers.map(Counts).ok_or_else(|| wanted.into())
}

/// A shape by its name.
pub(super) fn shape() -> impl TypedValueParser<Value = DraftShape> {
    PossibleValuesParser::new(DraftShape::ALL.map(|(name, _)| name)).map(|name| {
        let mut all = DraftShape::ALL.into_iter();
        let found = all.find(|(known, _)| *known == name);
        found.expect("the parser takes no other name").1
    })
}

/// A colour as LETTER:NAME:#RRGGBB; the name may have colons.
pub(super) fn bead_colour(text: &str) -> Result<ColourAsk, String> {
    let wanted = || "expected LETTER:NAME:#RRGGBB, such as 'P:plum:#4a2145'".to_string();
    let (letter, rest) = text.split_once(':').ok_or_else(wanted)?;
    let (name, colour) = rest.rsplit_once(':').ok_or_else(wanted)?;
    let mut letters = letter.chars();
    let (Some(letter), None) = (letters.next(), letters.next()) else {
        return Err(wanted());
    };
    Ok(ColourAsk {
        letter,
        name: name.into(),
        colour: colour.parse().map_err(|_| wanted())?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::Rgb;

    #[test]
    fn a_colour_is_a_letter_a_name_and_a_look() {
        let plum = bead_colour("P:plum: old lot:#4A2145").unwrap();
        assert_eq!((plum.letter, plum.name.as_str()), ('P', "plum: old lot"));
        assert_eq!(plum.colour, Rgb(0x4a, 0x21, 0x45));
        for wrong in [
            "P",
            "P:plum",
            "PP:plum:#4a2145",
            "P:plum:4a2145",
            "P:x:#4a214é",
        ] {
            assert!(bead_colour(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_count_has_commas_or_blanks_between_its_numbers() {
        for text in ["5,5,6", "5 5 6", "5, 5, 6", " 5 5  6 "] {
            assert_eq!(counted(text), Ok(Counts(vec![5, 5, 6])), "{text}");
        }
        assert_eq!(counted("16"), Ok(Counts(vec![16])));
        for wrong in ["", " ", "5 x", "5.5", "-5", "99999999999"] {
            assert!(
                counted(wrong).unwrap_err().starts_with("expected "),
                "{wrong}"
            );
        }
    }

    #[test]
    fn numbers_have_their_ranges() {
        assert!(millimetres("0").is_err() && millimetres("NaN").is_err());
        assert!(percent("0").is_ok() && percent("-1").is_err());
        assert!(tetrahedra("7").is_err() && tetrahedra("8").is_ok());
        assert_eq!(whole::<u16>(100, 1200)("1200"), Ok(1200));
        for wrong in ["5", "99", "1201", "-100", "99999999999", "1.5", "many", ""] {
            let why = Err("expected a whole number from 100 to 1200".to_string());
            assert_eq!(whole::<u16>(100, 1200)(wrong), why);
        }
    }
}
