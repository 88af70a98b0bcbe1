//! A program in a pseudo-terminal, and how long its paints take.
//!
//! A paint is over when the program has been silent for a while; its time is
//! that of the last byte that came.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// Silence after which a paint counts as over.
const SILENCE: Duration = Duration::from_millis(25);

/// A running program.
pub struct Running {
    child: Box<dyn Child + Send + Sync>,
    writer: Box<dyn Write + Send>,
    bytes: Receiver<(Instant, usize)>,
    _master: Box<dyn MasterPty + Send>,
    /// When it was started.
    pub begun: Instant,
}

impl Running {
    /// Starts a program in 80 columns and 24 rows.
    pub fn start(command: CommandBuilder) -> Running {
        let size = PtySize {
            rows: 24,
            cols: 80,
            ..PtySize::default()
        };
        let pty = native_pty_system().openpty(size).expect("a pty");
        let mut reader = pty.master.try_clone_reader().expect("a reader");
        let writer = pty.master.take_writer().expect("a writer");
        let (send, bytes) = channel();
        let begun = Instant::now();
        let child = pty.slave.spawn_command(command).expect("it starts");
        std::thread::spawn(move || {
            let mut buffer = [0; 65536];
            while let Ok(n @ 1..) = reader.read(&mut buffer) {
                if send.send((Instant::now(), n)).is_err() {
                    break;
                }
            }
        });
        Running {
            child,
            writer,
            bytes,
            _master: pty.master,
            begun,
        }
    }

    /// The time of the last byte of the paint that is going on.
    pub fn painted(&self) -> Instant {
        let mut last = match self.bytes.recv_timeout(Duration::from_secs(10)) {
            Ok((at, _)) => at,
            Err(_) => panic!("nothing was painted"),
        };
        loop {
            match self.bytes.recv_timeout(SILENCE) {
                Ok((at, _)) => last = at,
                Err(RecvTimeoutError::Timeout) => return last,
                Err(RecvTimeoutError::Disconnected) => return last,
            }
        }
    }

    /// Presses a key; how long until it is painted.
    pub fn key(&mut self, key: &[u8]) -> Duration {
        let pressed = Instant::now();
        self.writer.write_all(key).expect("a key");
        self.painted().duration_since(pressed)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The middle one of several times.
pub fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}
