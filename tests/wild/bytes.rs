//! Files spoiled byte by byte.

use proptest::prelude::*;
use proptest::sample::Index;

use super::chain::goes_through;
use super::{bases, cases};

/// One way to spoil a file.
#[derive(Clone, Debug)]
enum Spoil {
    Flip(Index, u8),
    Put(Index, Vec<u8>),
    Cut(Index, Index),
    /// A part of it, once more somewhere else.
    Again(Index, Index, Index),
    /// A number in place of another.
    Number(Index, String),
    /// A part of another file.
    Graft(Index, Index, Index),
}

/// Bits of text that are trouble: brackets in brackets, numbers beyond
/// everything, text that is no text, sequences that steer a terminal.
fn trouble() -> impl Strategy<Value = Vec<u8>> {
    let bits: Vec<Vec<u8>> = vec![
        b"[".repeat(40),
        b"[".repeat(100_000),
        b"{\"a\":".repeat(50_000),
        b"1e999".to_vec(),
        b"-1e-999".to_vec(),
        b"9".repeat(4_000),
        b"0x7f".to_vec(),
        b"\"\\u0000\"".to_vec(),
        b"\"\\ud800\"".to_vec(),
        b"\"\x1b[2J\x1b]0;x\x07\"".to_vec(),
        "\"\u{202e}\u{2066}\"".into(),
        b"\xff\xfe".to_vec(),
        b"\xef\xbb\xbf".to_vec(),
        b"/* ".to_vec(),
        b"//".to_vec(),
        [b"\"".to_vec(), b"x".repeat(500_000), b"\"".to_vec()].concat(),
        b"\"S*****\"".to_vec(),
        b"\"all: ((((((S)*)*)*)*)*)*\"".to_vec(),
        b",".repeat(300),
        vec![0; 64],
    ];
    prop_oneof![
        prop::sample::select(bits),
        prop::collection::vec(any::<u8>(), 1..30),
        "[\\[\\]{}:,\"0-9a-z*| ()-]{1,20}".prop_map(String::into_bytes),
    ]
}

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => (0..40_i64).prop_map(|n| n.to_string()),
        2 => (0..1_200_i64).prop_map(|n| n.to_string()),
        2 => any::<i64>().prop_map(|n| n.to_string()),
        1 => any::<f64>().prop_map(|x| format!("{x}")),
    ]
}

fn spoil() -> impl Strategy<Value = Spoil> {
    let at = any::<Index>;
    prop_oneof![
        3 => (at(), 1..=255_u8).prop_map(|(i, by)| Spoil::Flip(i, by)),
        2 => (at(), trouble()).prop_map(|(i, text)| Spoil::Put(i, text)),
        2 => (at(), at()).prop_map(|(i, j)| Spoil::Cut(i, j)),
        2 => (at(), at(), at()).prop_map(|(i, j, k)| Spoil::Again(i, j, k)),
        6 => (at(), number()).prop_map(|(i, n)| Spoil::Number(i, n)),
        2 => (at(), at(), at()).prop_map(|(i, j, k)| Spoil::Graft(i, j, k)),
    ]
}

/// A stretch of at most 60 bytes.
fn stretch(bytes: &[u8], from: &Index, long: &Index) -> std::ops::Range<usize> {
    let from = from.index(bytes.len() + 1);
    from..(from + long.index(60)).min(bytes.len())
}

fn spoiled(mut bytes: Vec<u8>, spoil: &Spoil, other: &[u8]) -> Vec<u8> {
    match spoil {
        Spoil::Flip(at, by) if !bytes.is_empty() => {
            let at = at.index(bytes.len());
            bytes[at] ^= by;
        }
        Spoil::Flip(..) => {}
        Spoil::Put(at, text) => {
            let at = at.index(bytes.len() + 1);
            bytes.splice(at..at, text.iter().copied());
        }
        Spoil::Cut(from, long) => drop(bytes.drain(stretch(&bytes, from, long))),
        Spoil::Again(from, long, to) => {
            let part = bytes[stretch(&bytes, from, long)].to_vec();
            let to = to.index(bytes.len() + 1);
            bytes.splice(to..to, part);
        }
        Spoil::Number(which, number) => {
            let starts = |at: &usize| {
                bytes[*at].is_ascii_digit() && (*at == 0 || !bytes[at - 1].is_ascii_alphanumeric())
            };
            let numbers: Vec<usize> = (0..bytes.len()).filter(starts).collect();
            if !numbers.is_empty() {
                let from = numbers[which.index(numbers.len())];
                let rest = &bytes[from..];
                let long = rest.iter().take_while(|b| b.is_ascii_digit()).count();
                bytes.splice(from..from + long, number.bytes());
            }
        }
        Spoil::Graft(from, long, to) => {
            let part = other[stretch(other, from, long)].to_vec();
            let to = to.index(bytes.len() + 1);
            bytes.splice(to..to, part);
        }
    }
    bytes
}

proptest! {
    #![proptest_config(cases(2_000))]

    #[test]
    fn a_spoiled_file_is_refused_or_sewn(
        (base, other) in (prop::sample::select(bases()), prop::sample::select(bases())),
        spoils in prop::collection::vec(spoil(), 1..5),
    ) {
        let begin = base.into_bytes();
        let bytes = spoils.iter().fold(begin, |bytes, one| spoiled(bytes, one, other.as_bytes()));
        goes_through(&bytes)?;
    }

    #[test]
    fn bytes_of_no_meaning_are_refused(bytes in prop::collection::vec(any::<u8>(), 0..2_000)) {
        prop_assert!(!goes_through(&bytes)?);
    }

    #[test]
    fn trouble_alone_is_refused(parts in prop::collection::vec(trouble(), 1..4)) {
        prop_assert!(!goes_through(&parts.concat())?);
    }
}

/// The longest files: more than may be read, or all that may be read and one
/// kind of thing only.
#[test]
fn files_of_a_megabyte_are_refused_soon() {
    for part in [
        "[",
        "{\"a\":",
        "\"",
        "1",
        " ",
        "[],",
        "{\"a\":1},",
        "\\",
        "//",
        "\u{202e}",
        "é",
    ] {
        for bytes in [1 << 20, 3 << 20] {
            let text = part.repeat(bytes / part.len());
            let through = goes_through(text.as_bytes());
            assert!(matches!(through, Ok(false)), "{part:?}: {through:?}");
        }
    }
}
