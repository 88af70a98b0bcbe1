//! One run of the program: what lies in its directory, how it is called, and
//! what must come of it.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::rc::Rc;

use serde_json::Value;
use tempfile::TempDir;
use threadmark::progress::{Mode, Moment, Piece, Tray};

use crate::schema;

/// The program under test.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_threadmark");

/// A directory, a call, and what is expected. Nothing on standard error and
/// exit code 0, unless said otherwise.
pub struct Whole {
    dir: Rc<TempDir>,
    through: Vec<String>,
    variables: Vec<(String, String)>,
    args: Vec<String>,
    stdin: Vec<u8>,
    stdout: Option<String>,
    stderr: String,
    code: i32,
}

/// A run with these arguments, parted by spaces.
pub fn threadmark(args: &str) -> Whole {
    let dir = TempDir::new().expect("a directory for the test");
    within(Rc::new(dir), args)
}

fn within(dir: Rc<TempDir>, args: &str) -> Whole {
    Whole {
        dir,
        through: vec![],
        variables: vec![],
        args: args.split_whitespace().map(String::from).collect(),
        stdin: vec![],
        stdout: None,
        stderr: String::new(),
        code: 0,
    }
}

impl Whole {
    /// Another run in the same directory, with the same tray.
    pub fn again(&self, args: &str) -> Whole {
        within(self.dir.clone(), args)
    }

    /// One more argument, spaces and all.
    pub fn arg(mut self, arg: &str) -> Self {
        self.args.push(arg.into());
        self
    }

    /// Started by another program, which gets ours and its arguments as its
    /// last: `bash -c 'ulimit -f 1; exec "$0" "$@"'`, say.
    pub fn through(mut self, words: &[&str]) -> Self {
        self.through = words.iter().map(|word| word.to_string()).collect();
        self
    }

    /// An environment variable.
    pub fn variable(mut self, name: &str, value: &str) -> Self {
        self.variables.push((name.into(), value.into()));
        self
    }

    /// A file in the directory.
    pub fn file(self, name: &str, text: impl AsRef<[u8]>) -> Self {
        std::fs::write(self.dir.path().join(name), text).expect("the file is written");
        self
    }

    /// What comes in on standard input.
    pub fn stdin(mut self, text: impl AsRef<[u8]>) -> Self {
        self.stdin = text.as_ref().into();
        self
    }

    /// All that is printed, to the letter. `[dir]` is the run's directory.
    pub fn stdout(mut self, text: &str) -> Self {
        self.stdout = Some(text.into());
        self
    }

    /// All that is said on standard error, to the letter.
    pub fn stderr(mut self, text: &str) -> Self {
        self.stderr = text.into();
        self
    }

    /// The exit code.
    pub fn code(mut self, code: i32) -> Self {
        self.code = code;
        self
    }

    /// What is called, and with which arguments.
    pub fn call(&self) -> (&str, Vec<&str>) {
        let ours = self.args.iter().map(String::as_str);
        match self.through.split_first() {
            None => (PROGRAM, ours.collect()),
            Some((other, words)) => {
                let words = words.iter().map(String::as_str);
                (other, words.chain([PROGRAM]).chain(ours).collect())
            }
        }
    }

    /// The program called in this directory, for a test to run as it likes.
    pub fn call_of(&self, args: &str) -> Command {
        let mut command = Command::new(PROGRAM);
        prepare(&mut command, self.dir.path()).args(args.split_whitespace());
        command
    }

    /// What the program finds in its environment.
    pub fn environment(&self) -> Vec<(String, Option<PathBuf>)> {
        let own = |(name, value): &(String, String)| (name.clone(), Some(value.into()));
        let usual = environment(self.dir()).into_iter();
        let usual = usual.map(|(name, value)| (name.to_string(), value));
        usual.chain(self.variables.iter().map(own)).collect()
    }

    /// The directory of the run.
    pub fn dir(&self) -> &Path {
        self.dir.path()
    }

    /// Its tray.
    pub fn tray(&self) -> PathBuf {
        self.dir.path().join("tray")
    }

    /// A piece of its tray, looked at from outside.
    #[track_caller]
    pub fn piece(&self, name: &str) -> Piece {
        let tray = Tray::open(&self.tray());
        let piece = tray.open_piece(name, Mode::Look, Moment::now());
        piece.unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// Its steps, or those of a pattern, are proved.
    #[track_caller]
    pub fn is_proved(&self, name: &str) {
        let said = self.again(&format!("verify {name}")).run();
        assert!(said.contains(": proved"), "{said}");
    }

    /// Runs, and gives what came of it, to be looked at by the test itself.
    #[track_caller]
    pub fn output(&self) -> Output {
        let (program, args) = self.call();
        let mut command = Command::new(program);
        let mut child = prepare(&mut command, self.dir.path())
            .envs(self.variables.iter().map(|(name, value)| (name, value)))
            .args(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program starts");
        // One that does not read it may have ended already.
        let _ = child.stdin.take().map(|mut to| to.write_all(&self.stdin));
        child.wait_with_output().expect("the program ends")
    }

    /// Runs, compares, and gives what was printed.
    #[track_caller]
    pub fn run(&self) -> String {
        let output = self.output();
        let (stdout, stderr) = (self.plain(output.stdout), self.plain(output.stderr));
        assert_eq!(stderr, self.stderr, "standard error of {:?}", self.args);
        assert_eq!(
            output.status.code(),
            Some(self.code),
            "exit code of {:?}; it printed\n{stdout}",
            self.args
        );
        if let Some(wanted) = &self.stdout {
            assert_eq!(&stdout, wanted, "standard output of {:?}", self.args);
        }
        stdout
    }

    /// Runs, and gives the objects that were printed, one a line, each held
    /// against the schema of that name in docs/outputs/.
    #[track_caller]
    pub fn objects(&self, schema: &str) -> Vec<Value> {
        let printed = self.run();
        let schema = schema::named(schema);
        printed.lines().map(|line| schema.read(line)).collect()
    }

    fn plain(&self, bytes: Vec<u8>) -> String {
        let text = String::from_utf8(bytes).expect("text");
        text.replace(&self.dir.path().display().to_string(), "[dir]")
    }
}

/// A command in a world of its own: the tray in the directory, no colour
/// asked for or refused, and one time zone.
pub fn prepare<'c>(command: &'c mut Command, dir: &Path) -> &'c mut Command {
    command.current_dir(dir);
    for (name, value) in environment(dir) {
        match value {
            Some(value) => command.env(name, value),
            None => command.env_remove(name),
        };
    }
    command
}

/// What the program finds in its environment.
pub fn environment(dir: &Path) -> Vec<(&'static str, Option<PathBuf>)> {
    vec![
        ("THREADMARK_TRAY", Some(dir.join("tray"))),
        ("THREADMARK_SETTINGS", Some(dir.join("settings.json"))),
        ("HOME", Some(dir.into())),
        ("XDG_DATA_HOME", Some(dir.join("data"))),
        ("TZ", Some("UTC".into())),
        ("TERM", Some("xterm-256color".into())),
        ("NO_COLOR", None),
        ("CLICOLOR", None),
        ("CLICOLOR_FORCE", None),
        ("COLORTERM", None),
        ("RUST_BACKTRACE", None),
    ]
}
