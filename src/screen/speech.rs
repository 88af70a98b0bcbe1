//! What is said aloud: lines given to a speech program chosen by the maker,
//! together with the screen or with the plain mode.
//!
//! The program is started for each text, reads it on its standard input, and
//! ends when it has said it. If it is still speaking when there is something
//! new, it is stopped.

use super::plain::is_new;
use std::io::{self, Write};
use std::process::{Child, Command, Stdio};

/// A speech program.
#[derive(Debug)]
pub struct Speech {
    program: String,
    args: Vec<String>,
    speaking: Option<Child>,
    /// The lines that were said last.
    heard: Vec<String>,
}

impl Speech {
    /// From a command: the program and its arguments, separated by spaces.
    pub fn new(command: &str) -> Speech {
        let mut words = command.split_whitespace().map(str::to_string);
        Speech {
            program: words.next().unwrap_or_default(),
            args: words.collect(),
            speaking: None,
            heard: vec![],
        }
    }

    /// Says lines.
    ///
    /// # Errors
    /// The program cannot be started.
    pub fn say(&mut self, lines: &[String]) -> io::Result<()> {
        let text: String = lines.iter().map(|line| sayable(line) + "\n").collect();
        if text.trim().is_empty() {
            return Ok(());
        }
        self.start(text)
    }

    /// Checks whether the program can be started at all.
    ///
    /// # Errors
    /// It cannot.
    pub fn try_out(&mut self) -> io::Result<()> {
        self.start(String::new())?;
        self.hush();
        Ok(())
    }

    fn start(&mut self, text: String) -> io::Result<()> {
        self.hush();
        let mut child = Command::new(&self.program)
            .args(&self.args)
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()?;
        if let Some(mut input) = child.stdin.take() {
            // In a thread of its own, because the program may read as slowly as
            // it speaks. Whether it reads to the end does not matter.
            std::thread::spawn(move || drop(input.write_all(text.as_bytes())));
        }
        self.speaking = Some(child);
        Ok(())
    }

    /// Says what there is to hear, if any of it is new: everything on the
    /// lowest screen, on others what has changed.
    ///
    /// # Errors
    /// As [`Speech::say`].
    pub fn tell(&mut self, lines: Vec<String>, is_lowest: bool) -> io::Result<()> {
        if lines == self.heard {
            return Ok(());
        }
        let new = |line: &&String| is_lowest || is_new(line, &self.heard);
        let new: Vec<String> = lines.iter().filter(new).cloned().collect();
        self.heard = lines;
        self.say(&new)
    }

    /// Stops what is being said.
    fn hush(&mut self) {
        if let Some(mut child) = self.speaking.take() {
            // One that has already ended cannot be stopped; it is waited for,
            // so that the system releases it.
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

/// A line without the signs that are only for the eye.
fn sayable(line: &str) -> String {
    let is_said = |c: &char| c.is_ascii() && !c.is_ascii_control() || c.is_alphanumeric();
    line.chars().filter(is_said).collect()
}

/// An output whose lines are also said; everything between two flushes is said
/// together.
#[derive(Debug)]
pub struct Aloud<W> {
    out: W,
    speech: Option<Speech>,
    unsaid: Vec<u8>,
}

impl<W> Aloud<W> {
    /// With a speech program, or without.
    pub fn new(out: W, speech: Option<Speech>) -> Aloud<W> {
        let unsaid = vec![];
        Aloud {
            out,
            speech,
            unsaid,
        }
    }
}

impl<W: Write> Write for Aloud<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.out.write(bytes)?;
        if self.speech.is_some() {
            self.unsaid.extend(&bytes[..written]);
        }
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.out.flush()?;
        let unsaid = String::from_utf8_lossy(&self.unsaid).into_owned();
        self.unsaid.clear();
        let lines: Vec<String> = unsaid.lines().map(str::to_string).collect();
        match &mut self.speech {
            Some(speech) => speech.say(&lines),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_only_for_the_eye_are_not_said() {
        assert_eq!(sayable("\u{25b2} Count: 5\u{2588}\u{7}"), " Count: 5");
        assert_eq!(sayable("Gr\u{fc}n, 2 of 3"), "Gr\u{fc}n, 2 of 3");
    }

    #[test]
    fn a_program_that_is_not_there_is_an_error() {
        let mut speech = Speech::new("no-such-program-as-this --loud");
        assert!(speech.say(&["Step 1".to_string()]).is_err());
        // Nothing to say starts nothing.
        assert!(speech.say(&[]).is_ok());
    }
}
