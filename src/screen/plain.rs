//! The plain mode: the same layers and the same keys as on the full screen, in
//! lines, for screen readers and speech programs. It reads lines, so it also
//! works from a pipe.
//!
//! A line is a key (`u`), a key and the text typed after it (`g 120`, `g120`,
//! `h n 34`), the name of a key that types no letter (`esc`, `down`), how often it
//! is pressed in a list (`down 3`), the number of a line of a list, or empty, which
//! is Enter. Where text is asked for, the line is the text.

use super::input::Input;
use super::keys;
use super::layer::{Busy, Exit};
use super::layers;
use super::look::{Depth, Ground, Look};
use super::run::Error;
use super::session::Session;
use super::stack::Stack;
use super::widgets::is_of_numbers;
use crate::beadwork::Sequence;
use crate::plain_file::{self, Line};
use crate::progress::{Moment, Piece};
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use std::io::{BufRead, Write};
use std::time::Duration;

/// How often to check for what is worked out in the background.
const A_MOMENT: Duration = Duration::from_millis(10);

/// Sews a piece line by line, and closes it at the end.
///
/// # Errors
/// [`Error::Io`] when output fails, or [`Error::NotSaved`].
pub fn plain(
    seq: Sequence,
    piece: Piece,
    mut input: impl BufRead,
    out: impl Write,
) -> Result<Exit, Error> {
    let look = Look {
        depth: Depth::None,
        unicode: false,
        ground: Ground::Dark,
    };
    let mut session = Session::new(seq, piece, look, Moment::now());
    session.plain = true;
    let mut plain = Plain {
        stack: layers::sitting(&session),
        session,
        out,
        heard: vec![],
    };
    let outcome = plain.talk(&mut input);
    let kept = plain.session.close(Moment::now());
    let outcome = outcome?;
    kept.map_err(Error::NotSaved)?;
    Ok(outcome)
}

/// Whether a line is new to the listener. A line of a list that is no longer
/// chosen is not new: the newly chosen line says so.
pub fn is_new(line: &String, heard: &[String]) -> bool {
    let chosen = line.strip_prefix("  ").map(|words| format!("> {words}"));
    !heard.contains(line) && chosen.is_none_or(|chosen| !heard.contains(&chosen))
}

struct Plain<W> {
    stack: Stack<Session>,
    session: Session,
    out: W,
    /// The last lines that were said about what is open over the stitches.
    heard: Vec<String>,
}

impl<W: Write> Plain<W> {
    fn talk(&mut self, input: &mut impl BufRead) -> Result<Exit, Error> {
        self.say_pages()?;
        let keys = self.keys();
        writeln!(self.out, "{keys}")?;
        self.say_layer()?;
        let mut told = None;
        loop {
            self.out.flush()?;
            self.session.piece.sync();
            let line = match plain_file::line(input)? {
                Line::End => return Ok(Exit::Ended),
                Line::Text(line) => line,
                Line::TooLong => {
                    let most = plain_file::LINE_BYTES >> 10;
                    let words = "and nothing was done";
                    writeln!(self.out, "That line is longer than {most} KiB, {words}.")?;
                    continue;
                }
            };
            match self.obey(&line)? {
                Some(Exit::Suspend) | None => {}
                Some(Exit::Tray) => return Ok(Exit::Quit),
                Some(exit) => return Ok(exit),
            }
            let trouble = self.session.piece.trouble();
            if trouble != told {
                if let Some(trouble) = &trouble {
                    writeln!(self.out, "Not kept: {trouble}")?;
                }
                told = trouble;
            }
        }
    }

    /// Does what a line asks for, and says the result.
    fn obey(&mut self, line: &str) -> Result<Option<Exit>, Error> {
        let was_lowest = self.stack.is_lowest();
        let at = |session: &Session| (session.movement(), session.one_at_a_time);
        let before = at(&self.session);
        self.session.said.clear();
        let (understood, exit) = self.press(line);
        if exit.is_some() {
            return Ok(exit);
        }
        if std::mem::take(&mut self.session.bell) {
            write!(self.out, "\x07")?;
        }
        if !understood {
            let leave = if was_lowest { "" } else { ", esc goes back" };
            writeln!(self.out, "That is not understood. ? tells the keys{leave}.")?;
        }
        if !self.session.said.is_empty() {
            writeln!(self.out, "{}", self.session.said)?;
            // That is the answer, so the screen where it was asked is not said
            // again.
            self.leave_pages();
        }
        self.say_pages()?;
        let moved = before != at(&self.session);
        let lowest = self.stack.is_lowest();
        if !lowest || moved || !was_lowest || line == "r" {
            self.say_layer()?;
        }
        Ok(None)
    }

    /// Presses the keys of a line; returns whether they are known, and how the
    /// stack is left.
    fn press(&mut self, line: &str) -> (bool, Option<Exit>) {
        // Keys that type no letter work where text is typed as well.
        let named = keys::code(line).filter(|code| !matches!(code, KeyCode::Char(_)));
        let is_text = !line.is_empty() && named.is_none();
        if let Some(entry) = self.stack.top_mut().entry() {
            if is_text {
                entry.typed.clear();
            }
            let exit = match named.filter(|code| self.knows(*code)) {
                Some(code) => self.key(code),
                None => self.type_in(line),
            };
            return (true, exit);
        }
        if is_text && self.stack.top_mut().filter().is_some_and(|f| f.is_open()) {
            // Removes what was typed before.
            self.key(KeyCode::Esc);
            let typed = line.trim_start_matches('/').trim().chars();
            let mut keys = std::iter::once('/').chain(typed);
            return (true, keys.find_map(|c| self.key(KeyCode::Char(c))));
        }
        let (word, rest) = match line.split_once(char::is_whitespace) {
            Some((word, rest)) => (word, rest.trim()),
            None => (line, ""),
        };
        // A number may stand at its key: `g120`.
        let digit = line.find(|c: char| c.is_ascii_digit());
        let at_key = digit.map(|at| line.split_at(at));
        let at_key = at_key.filter(|(key, number)| {
            keys::code(word).is_none()
                && keys::code(key).is_some()
                && number.chars().all(is_of_numbers)
        });
        let (word, rest) = at_key.unwrap_or((word, rest));
        let code = match word {
            "" => Some(KeyCode::Enter),
            word => keys::code(word),
        };
        match code {
            _ if !line.is_empty() && line.chars().all(is_of_numbers) => {
                let known = self.knows(KeyCode::Char(line.chars().next().unwrap_or('0')));
                let mut letters = line.chars();
                let exit = letters.next().and_then(|c| self.key(KeyCode::Char(c)));
                let exit = match self.stack.top_mut().entry() {
                    Some(_) => {
                        // The answer is said in full, however similar it is to
                        // the last one.
                        self.heard.clear();
                        exit.or_else(|| self.type_in(letters.as_str()))
                    }
                    None if !known => return (self.choose(line), None),
                    None => exit.or_else(|| {
                        let mut keys = letters.filter(|c| *c != ' ');
                        keys.find_map(|c| self.key(KeyCode::Char(c)))
                    }),
                };
                (known, exit)
            }
            Some(code) if self.moves(code) && rest.parse::<u16>().is_ok() => {
                let times = rest.parse::<u16>().unwrap_or_default();
                (true, (0..times).find_map(|_| self.key(code)))
            }
            Some(code) if self.knows(code) => {
                let exit = self.key(code);
                match rest.is_empty() || exit.is_some() {
                    true => (true, exit),
                    false => self.press(rest),
                }
            }
            Some(code) => (
                self.stack.tell_caps_lock(&mut self.session, &code.into()),
                None,
            ),
            None => (false, None),
        }
    }

    /// Types text where it is asked for, and sends it. What is still open after
    /// that has said why, and is closed.
    fn type_in(&mut self, text: &str) -> Option<Exit> {
        for c in text.chars() {
            self.key(KeyCode::Char(c));
        }
        let exit = self.key(KeyCode::Enter);
        if self.stack.top_mut().entry().is_some() {
            let lines = self.stack.top().lines(&self.session);
            if self.session.said.is_empty()
                && let Some(last) = lines.last()
            {
                self.session.said = last.to_string();
            }
            self.stack.close();
        }
        exit
    }

    fn key(&mut self, code: KeyCode) -> Option<Exit> {
        let event = KeyEvent::new(code, KeyModifiers::NONE);
        let now = Moment::now();
        self.stack.handle(&mut self.session, Input::Key(event), now)
    }

    /// Chooses the line of a list with this number, from 1; returns whether there
    /// is a list.
    fn choose(&mut self, number: &str) -> bool {
        let list = self.stack.top_mut().scroll();
        let Some((list, lines)) = list.and_then(|list| list.lines().map(|n| (list, n))) else {
            return false;
        };
        match number.parse::<usize>() {
            Ok(nth) if (1..=lines).contains(&nth) => list.at = nth - 1,
            _ => self.session.said = format!("The lines of this list are 1 to {lines}."),
        }
        true
    }

    /// Whether a key moves in an open list, and a number is no key there.
    fn moves(&mut self, code: KeyCode) -> bool {
        keys::SCROLLING.find(&code.into()).is_some()
            && self.stack.top_mut().scroll().is_some()
            && !self.knows(KeyCode::Char('1'))
    }

    fn knows(&mut self, code: KeyCode) -> bool {
        let event = KeyEvent::new(code, KeyModifiers::NONE);
        self.stack.keys().iter().any(|key| key.is(&event))
    }

    /// Says pages, and closes them, and then the list from which a page came.
    fn say_pages(&mut self) -> Result<(), Error> {
        while !self.stack.is_lowest() && !self.stack.top().waits() {
            self.heard.clear();
            self.say_layer()?;
            self.stack.close();
            let used = self.stack.top_mut().entry().map(|e| !e.typed.is_empty());
            if used == Some(true) {
                self.stack.close();
            }
        }
        Ok(())
    }

    fn leave_pages(&mut self) {
        while !self.stack.is_lowest() && !self.stack.top().waits() {
            self.stack.close();
        }
    }

    /// Says what is open: all of it at first, then what has changed.
    fn say_layer(&mut self) -> Result<(), Error> {
        let lowest = self.stack.is_lowest();
        while self.stack.tick(&mut self.session) == Busy::Waiting && !lowest {
            std::thread::sleep(A_MOMENT);
        }
        let lines: Vec<String> = self.stack.spoken_of_top(&self.session).collect();
        for line in lines.iter().filter(|line| !line.is_empty()) {
            if lowest || is_new(line, &self.heard) {
                writeln!(self.out, "{line}")?;
            }
        }
        if lowest {
            self.session.heard_at = Some(self.session.done());
        }
        self.heard = if lowest { vec![] } else { lines };
        Ok(())
    }

    /// The keys in one line: `Enter: on; -: back; ?: help`.
    fn keys(&mut self) -> String {
        let mut words = vec![];
        for key in self.stack.keys() {
            let Some((_, does)) = key.on_bar() else {
                continue;
            };
            let typed = |word: &&str| *word == "Enter" || word.chars().count() == 1;
            if let Some(word) = key.keys.split(' ').find(typed) {
                words.push(format!("{word}: {does}"));
            }
        }
        format!("{}.", words.join("; "))
    }
}
