//! The program on a terminal: keys in, screen out.
//!
//! ```text
//! let mut screen = Screen::open(&whole, 80, 24);
//! screen.sees("Practice triangle").keys("<space>3 <right> 12 <enter>");
//! ```
//!
//! The notation of keys: `<name>` is a key by its name, `<name>3` the same
//! three times; anything else between spaces is typed as it stands.

use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::process::Command;
use std::sync::{Arc, Condvar, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

use crate::builder::Whole;

/// How long the program may take for what is waited for. Long, since the
/// machine may be busy with other tests; nothing waits longer than it must.
pub const PATIENCE: Duration = Duration::from_secs(30);

/// A screen is settled when nothing has come for so long.
const QUIET: Duration = Duration::from_millis(60);

/// What ends every painting: no colour and no style is left on.
pub const PAINTED: &[u8] = b"\x1b[59m\x1b[0m";

/// How long an answer to a key is waited for; a key may change nothing.
const ANSWER: Duration = Duration::from_millis(400);

/// A running program and what its terminal shows.
pub struct Screen {
    shown: Arc<(Mutex<Shown>, Condvar)>,
    master: Box<dyn MasterPty + Send>,
    /// How the terminal was set before the program started.
    found: String,
    keyboard: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
    reader: Option<JoinHandle<()>>,
}

/// What came from the program.
struct Shown {
    terminal: vt100::Parser,
    /// All bytes so far.
    came: Vec<u8>,
    last: Instant,
    /// The program has let go of the terminal.
    ended: bool,
}

impl Screen {
    /// Starts the program of a run on a terminal of this size.
    pub fn open(whole: &Whole, columns: u16, rows: u16) -> Screen {
        let pty = native_pty_system();
        let pair = pty.openpty(size(columns, rows)).expect("a terminal");
        let found = pair.master.get_termios().expect("how it is set");
        let (program, args) = whole.call();
        let mut command = CommandBuilder::new(program);
        command.args(args);
        command.cwd(whole.dir());
        for (name, value) in whole.environment() {
            match value {
                Some(value) => command.env(name, value),
                None => command.env_remove(name),
            }
        }
        let child = pair
            .slave
            .spawn_command(command)
            .expect("the program starts");
        drop(pair.slave);
        let shown = Shown {
            terminal: vt100::Parser::new(cells(rows), cells(columns), 0),
            came: vec![],
            last: Instant::now(),
            ended: false,
        };
        let shown = Arc::new((Mutex::new(shown), Condvar::new()));
        let from = pair.master.try_clone_reader().expect("its output");
        let reader = std::thread::spawn({
            let shown = shown.clone();
            move || read(from, &shown)
        });
        Screen {
            shown,
            keyboard: pair.master.take_writer().expect("its input"),
            master: pair.master,
            found: format!("{found:?}"),
            child,
            reader: Some(reader),
        }
    }

    /// Starts it on a piece that is new, 80 by 24, and leaves the cautions
    /// behind.
    pub fn begun(whole: &Whole) -> Screen {
        let mut screen = Screen::open(whole, 80, 24);
        screen.sees("A new piece").keys("<space>");
        screen.loses("A new piece");
        screen
    }

    /// Presses keys, and waits after each until the screen has settled.
    #[track_caller]
    pub fn keys(&mut self, notation: &str) -> &mut Self {
        for bytes in bytes_of(notation) {
            let before = self.came();
            self.press(&bytes);
            self.wait(ANSWER, |shown| shown.came.len() > before || shown.ended);
            self.settle();
        }
        self
    }

    /// Presses keys, and waits after each for one whole painting: the way
    /// through a list, where nothing comes after it.
    #[track_caller]
    pub fn walk(&mut self, notation: &str) -> &mut Self {
        for bytes in bytes_of(notation) {
            let before = self.came();
            self.press(&bytes);
            self.wait(ANSWER, |shown| {
                shown.came.len() > before && shown.came.ends_with(PAINTED) || shown.ended
            });
        }
        self
    }

    /// Presses keys as fast as a held key comes, and waits once at the end.
    #[track_caller]
    pub fn rush(&mut self, notation: &str) -> &mut Self {
        let before = self.came();
        for bytes in bytes_of(notation) {
            self.press(&bytes);
        }
        self.wait(ANSWER, |shown| shown.came.len() > before || shown.ended);
        self.settle()
    }

    /// Bytes as they are, say for a key that has no name here.
    #[track_caller]
    pub fn press(&mut self, bytes: &[u8]) -> &mut Self {
        self.keyboard.write_all(bytes).expect("a key is pressed");
        self.keyboard.flush().expect("a key is pressed");
        self
    }

    /// Waits until nothing has come for a moment; a program that paints on and
    /// on unasked never gets there, and that is a fault.
    #[track_caller]
    pub fn settle(&mut self) -> &mut Self {
        let end = Instant::now() + PATIENCE;
        loop {
            let (lock, _) = &*self.shown;
            let (since, ended) = {
                let shown = lock.lock().expect("a screen");
                (shown.last.elapsed(), shown.ended)
            };
            if ended || since >= QUIET {
                return self;
            }
            assert!(
                Instant::now() < end,
                "it paints on and on:\n{}",
                self.text()
            );
            std::thread::sleep(QUIET - since);
        }
    }

    /// Waits until this text is on the screen.
    #[track_caller]
    pub fn sees(&mut self, text: &str) -> &mut Self {
        let there = |shown: &Shown| shown.terminal.screen().contents().contains(text);
        let seen = self.wait(PATIENCE, there);
        assert!(seen, "never saw '{text}'; the screen is\n{}", self.text());
        self
    }

    /// Waits until this sentence is on the screen, wherever its lines break.
    #[track_caller]
    pub fn says(&mut self, sentence: &str) -> &mut Self {
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let there = |shown: &Shown| words(&shown.terminal.screen().contents()).contains(sentence);
        let said = self.wait(PATIENCE, there);
        assert!(
            said,
            "never said '{sentence}'; the screen is\n{}",
            self.text()
        );
        self
    }

    /// Waits until the terminal itself is so: its modes, say.
    #[track_caller]
    pub fn waits(&mut self, what: &str, is_so: impl Fn(&vt100::Screen) -> bool) -> &mut Self {
        let became = self.wait(PATIENCE, |shown| is_so(shown.terminal.screen()));
        assert!(became, "waited in vain until {what}:\n{}", self.text());
        self
    }

    /// Waits until what was sent is so.
    #[track_caller]
    pub fn sends(&mut self, what: &str, is_so: impl Fn(&[u8]) -> bool) -> &mut Self {
        let became = self.wait(PATIENCE, |shown| is_so(&shown.came));
        assert!(became, "waited in vain until {what}:\n{}", self.text());
        self
    }

    /// Waits until this many bytes have come, at most for a given time;
    /// whether they have.
    pub fn came_within(&mut self, most: Duration, bytes: usize) -> bool {
        self.wait(most, |shown| shown.came.len() >= bytes)
    }

    /// Waits until the whole screen is painted, at most for a given time; whether
    /// it is.
    pub fn painted_within(&mut self, most: Duration) -> bool {
        self.wait(most, |shown| shown.came.ends_with(PAINTED))
    }

    /// Waits until this text is no longer on the screen.
    #[track_caller]
    pub fn loses(&mut self, text: &str) -> &mut Self {
        let gone = |shown: &Shown| !shown.terminal.screen().contents().contains(text);
        let lost = self.wait(PATIENCE, gone);
        assert!(lost, "still see '{text}'; the screen is\n{}", self.text());
        self
    }

    /// What the screen shows, line by line, nothing trailing.
    pub fn text(&self) -> String {
        self.look(|terminal| terminal.contents())
    }

    /// Looks at the screen itself: colours, cursor, single cells.
    pub fn look<T>(&self, look: impl FnOnce(&vt100::Screen) -> T) -> T {
        let (lock, _) = &*self.shown;
        look(lock.lock().expect("a screen").terminal.screen())
    }

    /// Gives the terminal another size, and waits until it is redrawn.
    #[track_caller]
    pub fn resize(&mut self, columns: u16, rows: u16) -> &mut Self {
        let before = self.came();
        self.becomes(columns, rows);
        self.wait(ANSWER, |shown| shown.came.len() > before || shown.ended);
        self.settle()
    }

    /// Gives the terminal another size.
    pub fn becomes(&mut self, columns: u16, rows: u16) {
        {
            let (lock, _) = &*self.shown;
            let mut shown = lock.lock().expect("a screen");
            shown
                .terminal
                .screen_mut()
                .set_size(cells(rows), cells(columns));
        }
        self.master
            .resize(size(columns, rows))
            .expect("it is resized");
    }

    /// Kills the program as nothing can be killed harder.
    pub fn kill(&mut self) {
        let id = rustix::process::Pid::from_raw(self.id() as i32).expect("a process");
        rustix::process::kill_process(id, rustix::process::Signal::KILL).expect("it is killed");
        let _ = self.child.wait();
        self.wait(PATIENCE, |shown| shown.ended);
    }

    /// Sends a signal, such as `-TERM`.
    pub fn signal(&mut self, signal: &str) -> &mut Self {
        let id = self.id().to_string();
        let sent = Command::new("kill").args([signal, &id]).status();
        assert!(sent.is_ok_and(|s| s.success()), "{signal} was not sent");
        self
    }

    /// Waits until the program ends by itself, and gives its exit code and
    /// what it left on the screen.
    #[track_caller]
    pub fn ends(mut self) -> (u32, String) {
        let code = self.ended();
        (code, self.text())
    }

    /// Waits until the program ends by itself, and gives its exit code; the
    /// terminal can still be looked at.
    #[track_caller]
    pub fn ended(&mut self) -> u32 {
        let ended = self.wait(PATIENCE, |shown| shown.ended);
        assert!(ended, "it does not end; the screen is\n{}", self.text());
        self.child.wait().expect("it has ended").exit_code()
    }

    fn came(&self) -> usize {
        let (lock, _) = &*self.shown;
        lock.lock().expect("a screen").came.len()
    }

    /// All that came from the program so far, byte for byte.
    pub fn bytes(&self) -> Vec<u8> {
        let (lock, _) = &*self.shown;
        lock.lock().expect("a screen").came.clone()
    }

    /// How the terminal is set (echo, line by line, signals of keys), and how
    /// it was set before the program started.
    pub fn set_now_and_before(&self) -> (String, String) {
        let now = self.master.get_termios().expect("how it is set");
        (format!("{now:?}"), self.found.clone())
    }

    /// Whether the program has let go of the terminal.
    pub fn is_over(&self) -> bool {
        let (lock, _) = &*self.shown;
        lock.lock().expect("a screen").ended
    }

    /// The number of the process.
    pub fn id(&self) -> u32 {
        self.child.process_id().expect("it runs")
    }

    /// Waits until it is so, at most so long; whether it is.
    fn wait(&self, most: Duration, is_so: impl Fn(&Shown) -> bool) -> bool {
        let (lock, changed) = &*self.shown;
        let shown = lock.lock().expect("a screen");
        let (shown, _) = changed
            .wait_timeout_while(shown, most, |shown| !is_so(shown) && !shown.ended)
            .expect("a screen");
        is_so(&shown)
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        // The reader ends with the program; a test that failed need not wait.
        if !std::thread::panicking() {
            self.reader.take().map(JoinHandle::join);
        }
    }
}

fn cells(along: u16) -> NonZeroU16 {
    NonZeroU16::new(along).expect("a terminal has at least one cell")
}

fn size(columns: u16, rows: u16) -> PtySize {
    PtySize {
        rows,
        cols: columns,
        pixel_width: 0,
        pixel_height: 0,
    }
}

fn read(mut from: Box<dyn Read + Send>, shown: &(Mutex<Shown>, Condvar)) {
    let (lock, changed) = shown;
    let mut bytes = [0; 1 << 14];
    loop {
        // At its end a terminal gives nothing, or an error.
        let came = from.read(&mut bytes).unwrap_or(0);
        let mut shown = lock.lock().expect("a screen");
        shown.terminal.process(&bytes[..came]);
        shown.came.extend_from_slice(&bytes[..came]);
        shown.last = Instant::now();
        shown.ended = came == 0;
        changed.notify_all();
        if came == 0 {
            return;
        }
    }
}

/// The bytes of each key of a notation.
fn bytes_of(notation: &str) -> Vec<Vec<u8>> {
    let mut keys = vec![];
    for word in notation.split_whitespace() {
        let named = word.strip_prefix('<').and_then(|rest| rest.split_once('>'));
        match named {
            None => keys.extend(word.chars().map(|c| c.to_string().into_bytes())),
            Some((name, times)) => {
                let times = match times {
                    "" => 1,
                    times => times
                        .parse()
                        .unwrap_or_else(|_| panic!("how often is {word}?")),
                };
                keys.extend(std::iter::repeat_n(key(name), times));
            }
        }
    }
    keys
}

/// What a terminal of the xterm kind sends for a key.
fn key(name: &str) -> Vec<u8> {
    let bytes: &[u8] = match name {
        "space" => b" ",
        "enter" => b"\r",
        "tab" => b"\t",
        "backtab" => b"\x1b[Z",
        "esc" => b"\x1b",
        "backspace" => b"\x7f",
        "delete" => b"\x1b[3~",
        "up" => b"\x1b[A",
        "down" => b"\x1b[B",
        "right" => b"\x1b[C",
        "left" => b"\x1b[D",
        "home" => b"\x1b[H",
        "end" => b"\x1b[F",
        "pageup" => b"\x1b[5~",
        "pagedown" => b"\x1b[6~",
        "f1" => b"\x1bOP",
        _ => match name.strip_prefix("ctrl-").map(str::as_bytes) {
            Some([letter @ b'a'..=b'z']) => return vec![letter - b'a' + 1],
            _ => panic!("no key is named <{name}>"),
        },
    };
    bytes.to_vec()
}

#[test]
fn the_notation_of_keys() {
    let typed = bytes_of("<space>3 <right> 12 <enter> <ctrl-c>");
    let typed: Vec<&[u8]> = typed.iter().map(Vec::as_slice).collect();
    let wanted: [&[u8]; 8] = [b" ", b" ", b" ", b"\x1b[C", b"1", b"2", b"\r", b"\x03"];
    assert_eq!(typed, wanted);
}

#[test]
fn a_command_on_a_terminal_prints_and_ends() {
    let whole =
        crate::builder::threadmark("rounds a.json").file("a.json", crate::pattern::triangle(2));
    let (code, text) = Screen::open(&whole, 80, 24).ends();
    assert_eq!(code, 0);
    assert!(text.starts_with("Job 1: face\n"), "{text}");
}
