//! What wakes the program: keys, the mouse, signals, or the time. Keys, clicks and
//! answers are read from the bytes that a terminal sends.
//!
//! ```text
//! q         a letter                    ESC          the Esc key, if nothing follows
//! ^C        Ctrl and a letter           ESC q        Alt and a letter
//! ESC [ numbers letter                  a key, the mouse, or the terminal's attributes
//! ESC O letter                          a key
//! ESC P, X, ], ^ or _ ... ESC \         a string, such as the answer about pictures
//! ```
//!
//! A sequence may arrive in several reads. One that is not continued is given
//! up after a short time. One with a control character in it, or with a byte
//! that belongs to no sequence, is given up at once, and that byte is read as a
//! key, so that nothing a terminal sends keeps Ctrl-C from being read.
//!
//! The source for the sequences is "XTerm Control Sequences"; those of the
//! Linux console (`ESC [ [ A`) are in its `console_codes(4)`.

use crate::beadwork::Rgb;
use crate::screen::graphics;
use crate::screen::look::Ground;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

#[cfg(not(unix))]
use ratatui::crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
use std::time::{Duration, Instant};

/// What woke the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ScreenEvent {
    /// Keys and clicks, in order, and perhaps a new size.
    Input(Vec<Input>),
    /// The time asked for has passed.
    Waited,
    /// Go into the background.
    #[cfg(unix)]
    Suspend,
    /// The system asks the program to end, or the terminal is closed.
    #[cfg(unix)]
    End,
}

/// What the maker did, or what the terminal answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    Key(KeyEvent),
    /// A click on a cell: its column and its row, from 0.
    Click(u16, u16),
    /// The mouse at a cell with its button held.
    Drag(u16, u16),
    /// The wheel, up or down.
    Wheel(bool),
    /// Whether the terminal shows pictures: its answer, or no answer in time.
    Pictures(bool),
    /// The terminal's background: its answer.
    Ground(Ground),
}

#[cfg(not(unix))]
impl Input {
    /// What the mouse did, if it matters here.
    pub(super) fn of(mouse: MouseEvent) -> Option<Input> {
        match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Input::Click(mouse.column, mouse.row)),
            MouseEventKind::Drag(MouseButton::Left) => Some(Input::Drag(mouse.column, mouse.row)),
            MouseEventKind::ScrollUp => Some(Input::Wheel(true)),
            MouseEventKind::ScrollDown => Some(Input::Wheel(false)),
            _ => None,
        }
    }
}

const ESC: u8 = 0x1b;
const BEL: u8 = 0x07;
const DEL: u8 = 0x7f;

/// How long to wait after an ESC, which may be the Esc key or the first byte of
/// a sequence. No maker notices it.
const ESC_WAITS: Duration = Duration::from_millis(20);

/// How long to wait for the rest of a sequence, from its first byte.
const REST_WAITS: Duration = Duration::from_millis(80);

/// The most bytes of a sequence. The longest useful one, the answer about
/// pictures, has about 20.
const LONGEST: usize = 256;

/// Bytes that have arrived but are not complete yet.
#[derive(Debug, Default)]
pub struct Parser {
    bytes: Vec<u8>,
    /// When the first of them arrived.
    since: Option<Instant>,
}

impl Parser {
    /// Reads more bytes, which arrived at `now`.
    pub fn read(&mut self, bytes: &[u8], now: Instant) -> Vec<Input> {
        self.bytes.extend(bytes);
        let mut found = vec![];
        let mut read = 0;
        while let Some((length, input)) = first(&self.bytes[read..]) {
            read += length;
            found.extend(input);
        }
        self.bytes.drain(..read);
        if self.bytes.len() > LONGEST {
            self.bytes.clear();
        }
        let since = self.since.filter(|_| read == 0).unwrap_or(now);
        self.since = (!self.bytes.is_empty()).then_some(since);
        found
    }

    /// How much longer to wait for the rest of an unfinished sequence, if there
    /// is one.
    pub fn patience(&self, now: Instant) -> Option<Duration> {
        let waits = match self.bytes[..] {
            [ESC] => ESC_WAITS,
            _ => REST_WAITS,
        };
        let since = self.since?;
        Some(waits.saturating_sub(now.saturating_duration_since(since)))
    }

    /// Gives up an unfinished sequence whose time is over. An ESC alone was the
    /// Esc key.
    pub fn give_up(&mut self, now: Instant) -> Option<Input> {
        if self.patience(now)? > Duration::ZERO {
            return None;
        }
        let is_esc = self.bytes == [ESC];
        *self = Parser::default();
        is_esc.then(|| plain(KeyCode::Esc))
    }
}

/// The length of the first complete sequence, and what it means, if it matters
/// here; `None` while it is incomplete.
fn first(bytes: &[u8]) -> Option<(usize, Option<Input>)> {
    match bytes {
        [] | [ESC] | [ESC, b'[', b'['] => None,
        [ESC, ESC, ..] => Some((1, Some(plain(KeyCode::Esc)))),
        [ESC, b'[', b'[', letter @ b'A'..=b'E', ..] => Some((4, console_function(*letter))),
        // The mouse of old terminals: three bytes that are not letters.
        [ESC, b'[', b'M', place @ ..] if place.iter().take(3).all(|b| *b >= b' ') => {
            (place.len() >= 3).then_some((6, None))
        }
        [ESC, b'[' | b'O', rest @ ..] => {
            let length = rest.iter().position(|b| !(b' '..=b'?').contains(b))?;
            Some(match rest[length] {
                last @ b'@'..=b'~' => (length + 3, sequence(bytes[1], &rest[..length], last)),
                _ => (length + 2, None),
            })
        }
        [ESC, b'P' | b'X' | b']' | b'^' | b'_', rest @ ..] => {
            let length = rest.iter().position(|b| *b < b' ')?;
            let input = match bytes[1] {
                b'_' if graphics::shows(&rest[..length]) => Some(Input::Pictures(true)),
                b']' => ground(&rest[..length]),
                _ => None,
            };
            match rest[length..] {
                [ESC] => None,
                [ESC, b'\\', ..] => Some((length + 4, input)),
                [BEL, ..] => Some((length + 3, input)),
                _ => Some((length + 2, None)),
            }
        }
        [ESC, rest @ ..] => {
            let (length, input) = first(rest)?;
            Some((length + 1, input.map(with_alt)))
        }
        [control @ (..b' ' | DEL), ..] => Some((1, key(char::from(*control), KeyModifiers::NONE))),
        _ => match letter(&bytes[..bytes.len().min(4)]) {
            Ok(letter) => Some((letter.len_utf8(), key(letter, KeyModifiers::NONE))),
            Err(wrong) => wrong.map(|length| (length, None)),
        },
    }
}

/// The first letter; otherwise how many bytes are not a letter, or `None` if
/// more may arrive.
fn letter(bytes: &[u8]) -> Result<char, Option<usize>> {
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) if error.valid_up_to() == 0 => return Err(error.error_len()),
        Err(error) => std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or_default(),
    };
    text.chars().next().ok_or(None)
}

/// The meaning of a complete sequence that begins with `ESC [` or `ESC O`.
fn sequence(kind: u8, parameters: &[u8], last: u8) -> Option<Input> {
    let text = std::str::from_utf8(parameters).ok()?;
    if last == b'c' && text.starts_with('?') {
        // Its attributes: it has answered everything it was asked before.
        return Some(Input::Pictures(false));
    }
    if let Some(place) = text.strip_prefix('<') {
        return mouse(&numbers(place), last);
    }
    let numbers = numbers(text);
    let number = numbers.first().copied().unwrap_or(0);
    Some(match (kind, last, number) {
        (_, b'A', _) => plain(KeyCode::Up),
        (_, b'B', _) => plain(KeyCode::Down),
        (_, b'C', _) => plain(KeyCode::Right),
        (_, b'D', _) => plain(KeyCode::Left),
        (_, b'H', _) | (b'[', b'~', 1 | 7) => plain(KeyCode::Home),
        (_, b'F', _) | (b'[', b'~', 4 | 8) => plain(KeyCode::End),
        (_, b'P', _) | (b'[', b'~', 11) => plain(KeyCode::F(1)),
        (b'[', b'Z', _) => plain(KeyCode::BackTab),
        (b'[', b'~', 3) => plain(KeyCode::Delete),
        (b'[', b'~', 5) => plain(KeyCode::PageUp),
        (b'[', b'~', 6) => plain(KeyCode::PageDown),
        (b'[', b'u', _) => {
            let held = numbers.get(1).map_or(0, |held| held.saturating_sub(1));
            let mut keys = KeyModifiers::NONE;
            keys.set(KeyModifiers::ALT, held & 2 != 0);
            keys.set(KeyModifiers::CONTROL, held & 4 != 0);
            return key(char::from_u32(number)?, keys);
        }
        // The number pad, where its keys differ from the others.
        (b'O', b'M', _) => plain(KeyCode::Enter),
        (b'O', b'j'..=b'y', _) => plain(KeyCode::Char(char::from(last - b'j' + b'*'))),
        _ => return None,
    })
}

/// The terminal's background, from its answer to the question for its
/// background colour (`11;rgb:ffff/ffff/ffff`, with one to four hex digits
/// each).
fn ground(answer: &[u8]) -> Option<Input> {
    let colour = std::str::from_utf8(answer).ok()?.strip_prefix("11;rgb:")?;
    let part = |digits: &str| {
        let most = 16_u32.checked_pow(u32::try_from(digits.len()).ok()?)? - 1;
        let part = u32::from_str_radix(digits, 16).ok()?;
        u8::try_from((part * 255).checked_div(most)?).ok()
    };
    let parts: Vec<u8> = colour.split('/').map(part).collect::<Option<_>>()?;
    match parts[..] {
        [r, g, b] => Some(Input::Ground(Ground::of(Rgb(r, g, b)))),
        _ => None,
    }
}

/// The numbers between semicolons; what follows a colon is ignored.
fn numbers(text: &str) -> Vec<u32> {
    let number = |part: &str| {
        part.split(':')
            .next()
            .and_then(|number| number.parse().ok())
    };
    text.split(';')
        .map(|part| number(part).unwrap_or(0))
        .collect()
}

/// A function key of the Linux console: F1 to F5 are `A` to `E`.
fn console_function(letter: u8) -> Option<Input> {
    (letter == b'A').then(|| plain(KeyCode::F(1)))
}

/// The mouse: which button and how, then the column and the row, from 1. `M`
/// means that the button is pressed or held, `m` that it is released.
fn mouse(numbers: &[u32], last: u8) -> Option<Input> {
    let &[what, column, row] = numbers else {
        return None;
    };
    let from_0 = |n: u32| u16::try_from(n.checked_sub(1)?).ok();
    let (column, row) = (from_0(column)?, from_0(row)?);
    // Shift, Alt and Ctrl held at the same time change nothing.
    Some(match (what & !0b1_1100, last) {
        (0, b'M') => Input::Click(column, row),
        (32, b'M') => Input::Drag(column, row),
        (64, b'M') => Input::Wheel(true),
        (65, b'M') => Input::Wheel(false),
        _ => return None,
    })
}

/// The key for a character.
fn key(character: char, held: KeyModifiers) -> Option<Input> {
    let (code, held) = match character {
        '\r' => (KeyCode::Enter, held),
        '\t' => (KeyCode::Tab, held),
        '\x1b' => (KeyCode::Esc, held),
        '\x7f' => (KeyCode::Backspace, held),
        '\x01'..='\x1a' => {
            let letter = (b'a' + character as u8 - 1).into();
            (KeyCode::Char(letter), held | KeyModifiers::CONTROL)
        }
        _ if character.is_control() => return None,
        _ => (KeyCode::Char(character), held),
    };
    Some(Input::Key(KeyEvent::new(code, held)))
}

fn plain(code: KeyCode) -> Input {
    Input::Key(KeyEvent::new(code, KeyModifiers::NONE))
}

fn with_alt(mut input: Input) -> Input {
    if let Input::Key(key) = &mut input {
        key.modifiers |= KeyModifiers::ALT;
    }
    input
}

#[cfg(test)]
mod tests {
    use super::*;
    use KeyCode::{
        BackTab, Backspace, Char, Delete, Down, End, Enter, Esc, F, Home, Left, PageDown, PageUp,
        Right, Tab, Up,
    };
    use std::fmt::Write as _;

    /// The form of the answer is in "XTerm Control Sequences", OSC 11; its
    /// colours are written as in `XParseColor(3)`.
    #[test]
    fn the_background_is_read_from_the_answer_of_the_terminal() {
        let read = |bytes: &[u8]| Parser::default().read(bytes, Instant::now());
        let light = [Input::Ground(Ground::Light)];
        assert_eq!(read(b"\x1b]11;rgb:ffff/fafa/f0f0\x1b\\"), light);
        assert_eq!(read(b"\x1b]11;rgb:f/f/f\x07"), light);
        assert_eq!(
            read(b"\x1b]11;rgb:1e1e/1e1e/2e2e\x1b\\q")[..],
            [Input::Ground(Ground::Dark), plain(Char('q'))]
        );
        for odd in [
            "",
            "11;rgb:",
            "11;rgb:ff/ff",
            "11;rgb:ffffffffff/0/0",
            "10;rgb:f/f/f",
        ] {
            assert_eq!(read(format!("\x1b]{odd}\x07").as_bytes()), [], "{odd}");
        }
    }

    fn keys(found: Vec<Input>) -> Vec<KeyCode> {
        let code = |input| match input {
            Input::Key(key) => key.code,
            other => panic!("{other:?}"),
        };
        found.into_iter().map(code).collect()
    }

    fn read(bytes: &[u8]) -> Vec<Input> {
        Parser::default().read(bytes, Instant::now())
    }

    /// The result of bytes in one read, followed by nothing more.
    fn settled(bytes: &[u8]) -> Vec<Input> {
        let (mut parser, now) = (Parser::default(), Instant::now());
        let mut found = parser.read(bytes, now);
        found.extend(parser.give_up(now + REST_WAITS));
        assert_eq!(
            parser.patience(now),
            None,
            "{}",
            parser.bytes.escape_ascii()
        );
        found
    }

    /// What is sent for a key by xterm ("XTerm Control Sequences", PC-style
    /// function keys), by rxvt (`7~`, `8~`) and by the Linux console.
    #[test]
    fn keys_are_read_from_what_terminals_send() {
        let all: [(&[u8], KeyCode); 28] = [
            (b"q", Char('q')),
            (b" ", Char(' ')),
            (b"\r", Enter),
            (b"\t", Tab),
            (b"\x7f", Backspace),
            ("ä".as_bytes(), Char('ä')),
            ("🧵".as_bytes(), Char('🧵')),
            (b"\x1b[A", Up),
            (b"\x1bOB", Down),
            (b"\x1b[C", Right),
            (b"\x1b[1;5D", Left),
            (b"\x1b[H", Home),
            (b"\x1bOF", End),
            (b"\x1b[1~", Home),
            (b"\x1b[7~", Home),
            (b"\x1b[8~", End),
            (b"\x1b[3~", Delete),
            (b"\x1b[5~", PageUp),
            (b"\x1b[6;2~", PageDown),
            (b"\x1b[Z", BackTab),
            (b"\x1bOP", F(1)),
            (b"\x1b[11~", F(1)),
            (b"\x1b[[A", F(1)),
            (b"\x1bOM", Enter),
            (b"\x1bOw", Char('7')),
            (b"\x1b[13u", Enter),
            (b"\x1b[27;1u", Esc),
            (b"\x1b[228u", Char('ä')),
        ];
        for (bytes, code) in all {
            assert_eq!(keys(read(bytes)), [code], "{}", bytes.escape_ascii());
            // The same in parts, and between other keys.
            let (mut parser, mut found) = (Parser::default(), vec![]);
            let around = [b"x", bytes, b"y"].concat();
            for byte in around {
                found.extend(parser.read(&[byte], Instant::now()));
            }
            assert_eq!(keys(found), [Char('x'), code, Char('y')]);
        }
    }

    #[test]
    fn ctrl_and_alt_differ_from_the_letter_alone() {
        let held = |code, held| Input::Key(KeyEvent::new(code, held));
        let ctrl = held(Char('c'), KeyModifiers::CONTROL);
        assert_eq!(read(b"\x03"), [ctrl]);
        assert_eq!(read(b"\x1b[99;5u"), [ctrl]);
        assert_eq!(read(b"\x1bx"), [held(Char('x'), KeyModifiers::ALT)]);
        assert_eq!(read(b"\x1b[120;3u"), [held(Char('x'), KeyModifiers::ALT)]);
        assert_eq!(read(b"\x1b "), [held(Char(' '), KeyModifiers::ALT)]);
    }

    #[test]
    fn the_mouse_is_read_with_places_from_0() {
        let found =
            read(b"\x1b[<0;9;4M\x1b[<0;9;4m\x1b[<32;10;4M\x1b[<68;1;1M\x1b[<65;1;1M\x1b[<0;0;0M");
        let wanted = [
            Input::Click(8, 3),
            Input::Drag(9, 3),
            Input::Wheel(true),
            Input::Wheel(false),
        ];
        assert_eq!(found, wanted);
        // Old terminals send the place as three bytes, which are not keys.
        assert_eq!(keys(read(b"\x1b[M !!q")), [Char('q')]);
    }

    #[test]
    fn esc_is_a_key_when_nothing_follows() {
        let (mut parser, now) = (Parser::default(), Instant::now());
        assert_eq!(parser.read(b"\x1b", now), []);
        assert_eq!(parser.patience(now), Some(ESC_WAITS));
        assert_eq!(parser.give_up(now), None);
        assert_eq!(parser.give_up(now + ESC_WAITS), Some(plain(Esc)));
        assert_eq!(keys(settled(b"\x1b\x1b")), [Esc, Esc]);
        // Some terminals send Alt and an arrow like this.
        assert_eq!(keys(settled(b"\x1b\x1b[A")), [Esc, Up]);
    }

    #[test]
    fn an_answer_is_never_read_as_keys() {
        let shows = b"\x1b_Gi=29800;OK\x1b\\\x1b[?62;4c";
        assert_eq!(read(shows), [Input::Pictures(true), Input::Pictures(false)]);
        let refuses = b"\x1b_Gi=29800;EINVAL:no\x1b\\\x1b[?62c";
        assert_eq!(read(refuses), [Input::Pictures(false)]);
        // Answers to other questions, for example a colour and a version, are
        // ignored.
        assert_eq!(
            read(b"\x1b]10;rgb:0000/0000/0000\x07\x1bP>|term 1\x1b\\\x1b[3;4R"),
            []
        );
    }

    /// Half an answer is given up; the keys before and after it are read.
    #[test]
    fn half_an_answer_loses_no_key() {
        let answer = b"\x1b_Gi=29800;OK\x1b\\\x1b[?62c";
        for cut in 1..answer.len() {
            let (mut parser, now) = (Parser::default(), Instant::now());
            let mut found = parser.read(&[b"j", &answer[..cut]].concat(), now);
            found.extend(parser.give_up(now + REST_WAITS));
            found.extend(parser.read(b"q", now + REST_WAITS));
            found.retain(|input| !matches!(input, Input::Pictures(_)));
            let wanted: &[KeyCode] = match answer[cut - 1] {
                ESC if cut == 1 || answer[cut - 2] == b'\\' => &[Char('j'), Esc, Char('q')],
                _ => &[Char('j'), Char('q')],
            };
            assert_eq!(keys(found), wanted, "{}", answer[..cut].escape_ascii());
        }
    }

    /// No sequence contains a control character, so one ends any sequence at
    /// once.
    #[test]
    fn ctrl_c_is_read_in_the_middle_of_anything() {
        for start in [
            "\x1b",
            "\x1b[",
            "\x1b[5",
            "\x1b[[",
            "\x1b[M",
            "\x1b[M !",
            "\x1bO",
            "\x1b]11;rgb",
            "\x1b_Gi=298",
            "\x1bP1$",
            "\x1bX",
            "\x1b^",
        ] {
            let found = read(format!("{start}\x03q").as_bytes());
            let is_ctrl = |touch: &Input| matches!(touch, Input::Key(key) if key.code == Char('c') && key.modifiers.contains(KeyModifiers::CONTROL));
            assert!(
                found.iter().any(is_ctrl),
                "{}: {found:?}",
                start.escape_default()
            );
            assert_eq!(
                keys(found).last(),
                Some(&Char('q')),
                "{}",
                start.escape_default()
            );
        }
    }

    #[test]
    fn bytes_that_are_not_text_are_not_keys() {
        for byte in 0x80..=0xff {
            let found = [settled(&[byte]), read(&[byte, b'q'])].concat();
            assert_eq!(keys(found), [Char('q')], "{byte:x}");
        }
        // Controls of one character beyond those, as UTF-8.
        assert_eq!(read("\u{9b}\u{80}".as_bytes()), []);
    }

    /// The program never waits without end, whatever the bytes begin with.
    #[test]
    fn anything_unfinished_is_given_up() {
        let mut all = String::new();
        for start in [
            "\x1b[",
            "\x1b[?1",
            "\x1b[<0;1",
            "\x1bO",
            "\x1bN",
            "\x1b_G",
            "\x1b]",
            "\x1b",
        ] {
            for last in ' '..='\x7f' {
                settled(format!("{start}{last}").as_bytes());
                let _ = write!(all, "{start}{last}");
            }
        }
        settled(all.as_bytes());
        let endless = ["\x1b]", &"x".repeat(10_000)].concat();
        let mut parser = Parser::default();
        assert_eq!(parser.read(endless.as_bytes(), Instant::now()), []);
        assert_eq!(parser.patience(Instant::now()), None);
    }
}
