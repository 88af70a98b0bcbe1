//! Files that somebody else has laid: links, pipes, devices, directories and
//! files without end, under the names that the program reads and writes.
//! Nothing outside the piece is touched, and nothing is waited on.

use std::fs;
use std::os::unix::fs::symlink;
use std::os::unix::net::UnixListener;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use super::dice::Dice;
use super::{at_once, stitching};
use crate::builder::Whole;
use crate::pty::Screen;

/// Ends a program that hangs, with exit code 124, and gives it a gigabyte of
/// addresses and no more.
const GUARD: [&str; 3] = [
    "sh",
    "-c",
    "ulimit -v 1048576; exec timeout -k 1 30 \"$0\" \"$@\"",
];

/// What the file of the maker says that nobody may touch.
const LETTER: &str = "dear friend\n";

/// A piece that rests after step 3.
fn resting() -> Whole {
    super::resting().file("letter", LETTER)
}

/// The same piece for many trials, each of which begins with these files.
struct Resting {
    whole: Whole,
    files: Vec<(PathBuf, Vec<u8>)>,
}

impl Resting {
    fn new() -> Resting {
        let whole = resting();
        let piece = ["piece.json", "pattern.json", "journal", "lock"].map(|name| at(&whole, name));
        let own = ["a.json", "letter"].map(|name| whole.dir().join(name));
        let read = |path: PathBuf| (path.clone(), fs::read(path).expect("a file"));
        let files = piece.into_iter().chain(own).map(read).collect();
        Resting { whole, files }
    }

    /// As it was at first, and nothing beside.
    fn again(&self) -> &Whole {
        for found in fs::read_dir(self.whole.dir()).expect("the directory") {
            remove(&found.expect("a name").path());
        }
        fs::create_dir_all(at(&self.whole, "")).expect("a directory");
        for (path, bytes) in &self.files {
            fs::write(path, bytes).expect("a file");
        }
        &self.whole
    }
}

fn at(whole: &Whole, name: &str) -> PathBuf {
    whole.tray().join("evening-star").join(name)
}

/// Runs the program within [`GUARD`].
#[track_caller]
fn run(whole: &Whole, args: &str, typed: &str) -> Output {
    let whole = whole.again(args).through(&GUARD).stdin(typed);
    let output = whole.output();
    let code = output.status.code();
    assert!(
        matches!(code, Some(0..=2)),
        "{args} ended with {code:?}: {output:?}"
    );
    output
}

/// Runs it, and gives what it says when it refuses.
#[track_caller]
fn refused(whole: &Whole, args: &str) -> String {
    let output = run(whole, args, "q\n");
    let said = String::from_utf8(output.stderr).expect("text");
    assert_eq!(output.status.code(), Some(2), "{args}: {said}");
    assert!(
        said.starts_with("error: ") && said.contains("\n  mend: "),
        "{said}"
    );
    said
}

/// Things that can lie where a file should.
#[derive(Clone, Copy, Debug)]
enum Thing {
    LinkToFile,
    LinkToNothing,
    LinkToDirectory,
    LinkToDevice,
    Pipe,
    Socket,
    Directory,
    Endless,
}

const THINGS: [Thing; 8] = [
    Thing::LinkToFile,
    Thing::LinkToNothing,
    Thing::LinkToDirectory,
    Thing::LinkToDevice,
    Thing::Pipe,
    Thing::Socket,
    Thing::Directory,
    Thing::Endless,
];

fn remove(path: &Path) {
    match path.symlink_metadata() {
        Ok(found) if found.is_dir() => fs::remove_dir_all(path).expect("it is removed"),
        Ok(_) => fs::remove_file(path).expect("it is removed"),
        Err(_) => {}
    }
}

fn pipe(path: &Path) {
    let made = Command::new("mkfifo").arg(path).status();
    assert!(made.expect("mkfifo runs").success());
}

impl Thing {
    /// Lays it there, in place of what was there.
    fn plant(self, whole: &Whole, path: &Path) {
        remove(path);
        let in_dir = |name| whole.dir().join(name);
        match self {
            Thing::LinkToFile => symlink(in_dir("letter"), path).expect("a link"),
            Thing::LinkToNothing => symlink(in_dir("nothing"), path).expect("a link"),
            Thing::LinkToDirectory => symlink(in_dir("box"), path).expect("a link"),
            Thing::LinkToDevice => symlink("/dev/zero", path).expect("a link"),
            Thing::Pipe => pipe(path),
            Thing::Socket => {
                // The name of a socket has 107 bytes at most.
                let short = in_dir("s");
                drop(UnixListener::bind(&short).expect("a socket"));
                fs::rename(short, path).expect("it is moved");
            }
            Thing::Directory => fs::create_dir(path).expect("a directory"),
            Thing::Endless => {
                let file = fs::File::create(path).expect("a file");
                file.set_len(1 << 40).expect("a length");
            }
        }
    }
}

/// A file and a directory that belong to somebody.
fn lay_possessions(whole: &Whole) {
    fs::create_dir(whole.dir().join("box")).expect("a directory");
    for name in ["journal", "lock", "photograph", "pattern.json"] {
        fs::write(whole.dir().join("box").join(name), LETTER).expect("a file");
    }
}

#[track_caller]
fn possessions_are_untouched(whole: &Whole, after: &str) {
    let said = fs::read_to_string(whole.dir().join("letter"));
    assert_eq!(said.expect("the letter"), LETTER, "{after}");
    assert!(!whole.dir().join("nothing").exists(), "{after}");
    let files = fs::read_dir(whole.dir().join("box")).expect("the box");
    let files: Vec<_> = files.map(|file| file.expect("a file").path()).collect();
    assert_eq!(files.len(), 4, "{after}: {files:?}");
    for file in files {
        assert_eq!(fs::read_to_string(file).expect("text"), LETTER, "{after}");
    }
}

#[test]
fn writing_a_journal_or_piece_json_anew_follows_no_link() {
    let whole = resting();
    for name in ["journal.new", "piece.new"] {
        symlink(whole.dir().join("letter"), at(&whole, name)).expect("a link");
    }
    // Both have to be written anew: a torn line, and a number that is wrong.
    let journal = fs::read(at(&whole, "journal")).expect("the journal");
    fs::write(at(&whole, "journal"), [&journal[..], b"{\"at\":"].concat()).expect("torn");
    let facts = fs::read_to_string(at(&whole, "piece.json")).expect("piece.json");
    let facts = facts.replace("\"steps\": ", "\"steps\": 1");
    fs::write(at(&whole, "piece.json"), &facts).expect("another number");
    run(&whole, "stitch evening-star --plain", "\nq\n");
    assert_eq!(
        fs::read_to_string(whole.dir().join("letter")).expect("the letter"),
        LETTER
    );
    assert_ne!(
        fs::read_to_string(at(&whole, "piece.json")).expect("piece.json"),
        facts
    );
    let piece = whole.piece("evening-star");
    assert_eq!((piece.state().step, piece.notices()), (4, &[][..]));
    let is_file = |name| at(&whole, name).symlink_metadata().expect(name).is_file();
    assert!(is_file("journal") && is_file("piece.json"));
}

#[test]
fn a_link_named_like_a_half_begun_piece_is_left_alone() {
    let whole = resting();
    lay_possessions(&whole);
    symlink(whole.dir().join("box"), whole.tray().join(".begin-1-1")).expect("a link");
    // Its name is that of a piece cut short, but somebody put something in.
    let with_photograph = whole.tray().join(".begin-1-2");
    fs::create_dir(&with_photograph).expect("a directory");
    fs::write(with_photograph.join("lock"), "").expect("a lock");
    fs::write(with_photograph.join("photograph"), LETTER).expect("a file");
    let other_name = whole.tray().join(".begin-to-sew");
    fs::create_dir(&other_name).expect("a directory");
    fs::write(other_name.join("lock"), "").expect("a lock");
    fs::write(other_name.join("journal"), LETTER).expect("a file");
    run(&whole, "stitch a.json --new --plain", "q\n");
    possessions_are_untouched(&whole, "a new piece");
    assert!(whole.tray().join(".begin-1-1").is_symlink());
    assert!(with_photograph.join("photograph").exists());
    assert!(other_name.join("journal").exists());
}

#[test]
fn a_piece_s_files_are_plain_files_and_nothing_else_is_waited_on() {
    let resting = Resting::new();
    for thing in THINGS {
        for name in ["piece.json", "pattern.json", "journal", "lock"] {
            if matches!((thing, name), (Thing::Endless, "lock")) {
                // The lock file is never read.
                continue;
            }
            let whole = resting.again();
            lay_possessions(whole);
            thing.plant(whole, &at(whole, name));
            let said = refused(whole, "stitch evening-star --plain");
            let why = match thing {
                Thing::Endless => "cannot be read: it is longer than the ",
                _ => "is not a plain file: move it away",
            };
            assert!(said.contains(&format!("{name} {why}")), "{thing:?}: {said}");
            // The tray shows it among the others all the same.
            let tray = run(whole, "pieces", "").stdout;
            assert!(String::from_utf8_lossy(&tray).contains("evening-star"));
            possessions_are_untouched(whole, &format!("{thing:?} as {name}"));
        }
    }
}

#[test]
fn json_without_end_is_refused_before_it_takes_memory() {
    let whole = resting();
    let long = format!("{{\"a\":[{}0]}}", "[],".repeat(11_000_000));
    for name in ["piece.json", "pattern.json"] {
        let own = fs::read(at(&whole, name)).expect("a file");
        fs::write(at(&whole, name), &long).expect("a long file");
        let said = refused(&whole, "stitch evening-star --plain");
        assert!(said.contains(" KiB that it may have"), "{said}");
        run(&whole, "pieces", "");
        fs::write(at(&whole, name), own).expect("a file");
    }
}

#[test]
fn a_pattern_is_a_plain_file() {
    let whole = resting();
    for (thing, name) in [
        (Thing::Pipe, "pipe.json"),
        (Thing::Socket, "socket.json"),
        (Thing::Directory, "directory.json"),
        (Thing::LinkToDevice, "device.json"),
    ] {
        thing.plant(&whole, &whole.dir().join(name));
        for command in ["rounds", "steps", "stitch --plain"] {
            let said = refused(&whole, &format!("{command} {name}"));
            assert!(
                said.contains("it is not a plain file"),
                "{command}, {thing:?}: {said}"
            );
        }
    }
    // A link to a plain file is one, where the maker named it.
    symlink("a.json", whole.dir().join("link.json")).expect("a link");
    assert!(run(&whole, "rounds link.json", "").status.success());
}

#[test]
fn output_to_a_pipe_without_a_reader_is_told_at_once() {
    let whole = resting();
    pipe(&whole.dir().join("pipe"));
    let said = refused(&whole, "sheet a.json --to text -o pipe --force");
    assert!(
        said.contains("it is a pipe that no program reads from"),
        "{said}"
    );
    fs::create_dir(whole.dir().join("box")).expect("a directory");
    let said = refused(&whole, "sheet a.json --to text -o box --force");
    assert!(
        said.contains("box: cannot be written: it is a directory"),
        "{said}"
    );
}

#[test]
fn output_to_a_pipe_with_a_reader_arrives_and_a_reader_may_leave() {
    let whole = resting();
    pipe(&whole.dir().join("pipe"));
    let wanted = run(&whole, "sheet a.json --to html", "").stdout;
    for (reader, all) in [("cat pipe > got", true), ("head -c 1 pipe > got", false)] {
        let words = format!("{reader} & sleep 0.2; \"$0\" \"$@\"; code=$?; wait; exit $code");
        let again = whole.again("sheet a.json --to html -o pipe --force");
        let output = again.through(&["bash", "-c", &words]).output();
        assert!(output.status.success(), "{reader}: {output:?}");
        let got = fs::read(whole.dir().join("got")).expect("what arrived");
        assert_eq!(got == wanted, all, "{reader}");
    }
}

#[test]
fn a_line_without_end_is_not_taken_in() {
    let whole = resting();
    let typed = format!("{}\n\nq\n", "x".repeat(3 << 20));
    let output = run(&whole, "stitch evening-star --plain", &typed);
    let said = String::from_utf8(output.stdout).expect("text");
    assert!(
        said.contains("That line is longer than 64 KiB, and nothing was done."),
        "{said}"
    );
    assert_eq!(whole.piece("evening-star").state().step, 4);
    // No gigabyte holds it all.
    let words = "head -c 3000000000 /dev/zero | \"$0\" \"$@\"";
    let again = whole.again("stitch evening-star --plain");
    let within = format!("ulimit -v 1048576; {words}");
    let output = again.through(&["bash", "-c", &within]).output();
    assert!(output.status.success(), "{output:?}");
}

#[test]
fn a_journal_of_an_unknown_format_is_refused_and_left_alone() {
    let whole = resting();
    let journal = fs::read_to_string(at(&whole, "journal")).expect("the journal");
    let (_, entries) = journal.split_once('\n').expect("a first line");
    for json in [
        "{\"threadmark\":\"journal\",\"major\":\"2\",\"minor\":0}",
        "{\"threadmark\":\"journal\",\"major\":4294967296,\"minor\":0}",
        "{\"threadmark\":\"journal\",\"edition\":2}",
    ] {
        let sum = crc32_of(json);
        let newer = format!("{json} {sum:08x}\n{entries}");
        fs::write(at(&whole, "journal"), &newer).expect("a newer journal");
        let said = refused(&whole, "stitch evening-star --plain");
        assert!(
            said.contains("names a format that this threadmark cannot read"),
            "{said}"
        );
        let now = fs::read_to_string(at(&whole, "journal")).expect("the journal");
        assert_eq!(now, newer);
        assert!(!at(&whole, "journal.damaged-1").exists());
        let tray = String::from_utf8(run(&whole, "pieces", "").stdout).expect("text");
        assert!(tray.contains("evening-star"), "{tray}");
    }
}

/// CRC-32 as RFC 1952 describes it, bit by bit.
fn crc32_of(text: &str) -> u32 {
    !text.bytes().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(byte), |sum, _| {
            (sum >> 1) ^ (0xedb8_8320 & 0u32.wrapping_sub(sum & 1))
        })
    })
}

#[test]
fn a_step_beyond_the_end_is_told() {
    let whole = resting();
    let json = "{\"at\":1,\"did\":{\"move\":{\"step\":4000000000,\"why\":\"jump\"}}}";
    let line = format!("{json} {:08x}\n", crc32_of(json));
    let journal = fs::read_to_string(at(&whole, "journal")).expect("the journal") + &line;
    fs::write(at(&whole, "journal"), journal).expect("a journal");
    let output = run(&whole, "stitch evening-star --plain", "g 4\nq\n");
    let said = String::from_utf8(output.stdout).expect("text");
    assert!(
        said.contains("the journal stands at step 4000000000, and this piece has "),
        "{said}"
    );
    assert_eq!(whole.piece("evening-star").state().step, 3);
}

#[test]
fn a_lock_file_removed_by_hand_lets_no_second_writer_in() {
    let (whole, mut first) = stitching();
    fs::remove_file(at(&whole, "lock")).expect("it is removed");
    let mut second = Screen::open(&whole.again("stitch evening-star"), 80, 24);
    second.says("this piece is open elsewhere: you may look, but nothing is written");
    second.keys("<space>4 q");
    assert_eq!(second.ends().0, 0);
    first.keys("<space> q");
    assert_eq!(first.ends().0, 0);
    let piece = whole.piece("evening-star");
    assert_eq!((piece.state().step, piece.notices()), (4, &[][..]));
}

/// In the sitting in which a piece was begun, and in a later one.
#[test]
fn a_journal_taken_away_or_replaced_is_made_again_with_every_step() {
    // The program looks after its journal once a second, and each thing waits for that.
    at_once(&[false, true], |&later| {
        let (whole, mut screen) = stitching();
        if later {
            screen.keys("q");
            assert_eq!(screen.ends().0, 0);
            screen = Screen::open(&whole.again("stitch evening-star"), 80, 24);
            screen.sees("You were at").keys("<space>");
        }
        let whole = whole.file("letter", LETTER);
        lay_possessions(&whole);
        let journal = at(&whole, "journal");
        remove(&journal);
        let mut step = whole.piece("evening-star").state().step.max(3);
        let work_on = |screen: &mut Screen, step: &mut u32, after: &str| {
            *step += 1;
            screen.press(b" ").sees(&format!("step {} of ", *step + 1));
            screen.settle().loses("Not kept");
            let piece = whole.piece("evening-star");
            assert_eq!(
                (piece.state().step, piece.notices()),
                (*step, &[][..]),
                "{after}"
            );
        };
        work_on(&mut screen, &mut step, "it was deleted");
        for thing in THINGS.into_iter().filter(|t| !matches!(t, Thing::Endless)) {
            thing.plant(&whole, &journal);
            work_on(&mut screen, &mut step, &format!("{thing:?}"));
        }
        remove(&journal);
        fs::write(&journal, LETTER).expect("another file");
        work_on(&mut screen, &mut step, "another file");
        fs::write(&journal, "").expect("emptied");
        work_on(&mut screen, &mut step, "emptied");
        fs::write(&journal, LETTER).expect("written over");
        work_on(&mut screen, &mut step, "written over");
        for beside in ["journal.other-8", "journal.other-9"] {
            let kept = fs::read_to_string(at(&whole, beside));
            assert_eq!(kept.expect("kept beside"), LETTER);
        }
        screen.keys("q");
        assert_eq!(screen.ends().0, 0);
        possessions_are_untouched(&whole, "a sitting");
    });
}

/// Anything under any name, and any command: nothing else is touched, nothing
/// is waited on, and no memory is filled.
#[test]
fn whatever_is_planted_wherever_no_command_touches_anything_else() {
    const TRIES: u64 = 150;
    let mut dice = Dice::seeded();
    println!("SEED={}", dice.0);
    let names = [
        "evening-star/piece.json",
        "evening-star/pattern.json",
        "evening-star/journal",
        "evening-star/lock",
        "evening-star/journal.new",
        "evening-star/piece.new",
        "evening-star/journal.damaged-1",
        "evening-star/piece.json.damaged-1",
        "evening-star/journal.other-1",
        "evening-star",
        "evening-star-2",
        ".begin-1-1",
        ".away",
        "../a.json",
        "../out",
    ];
    let commands = [
        "pieces",
        "pieces --json",
        "stitch evening-star --plain",
        "stitch evening-star --plain --look",
        "stitch a.json --new --plain",
        "stitch a.json --plain",
        "check evening-star --job 1 --round 4 --sides 5,4,4 --keep",
        "locate evening-star",
        "rounds a.json",
        "sheet a.json --to text -o out --force",
        "draft triangle -o out --force",
        "pieces export evening-star -o out --force",
        "pieces import out",
        "pieces rename evening-star night",
        "pieces put-away evening-star",
        "pieces bring-back evening-star",
    ];
    let resting = Resting::new();
    for trial in 0..TRIES {
        let whole = resting.again();
        lay_possessions(whole);
        let mut planted = vec![];
        for _ in 0..1 + dice.roll(3) {
            let thing = THINGS[dice.roll(THINGS.len() as u64) as usize];
            let name = names[dice.roll(names.len() as u64) as usize];
            let path = whole.tray().join(name);
            // What was named for output is written to: that is what it is for.
            let named =
                name == "../out" && matches!(thing, Thing::LinkToFile | Thing::LinkToNothing);
            // A piece may lie elsewhere; its files are then those of the piece.
            let moved = !name.contains(['/', '.']) && matches!(thing, Thing::LinkToDirectory);
            if named
                || moved
                || path
                    .parent()
                    .is_none_or(|dir| !dir.is_dir() || dir.is_symlink())
            {
                continue;
            }
            thing.plant(whole, &path);
            planted.push((thing, name));
        }
        if dice.roll(2) == 0
            && at(whole, "journal")
                .metadata()
                .is_ok_and(|f| f.len() < 1 << 20)
        {
            // Damaged, so that it is kept beside and written anew; through no
            // link, which would be this test's own doing.
            let journal = at(whole, "journal");
            if journal
                .symlink_metadata()
                .is_ok_and(|found| found.is_file())
            {
                fs::write(journal, "{\"threadmark\":").expect("a damaged journal");
            }
        }
        for _ in 0..2 {
            let command = commands[dice.roll(commands.len() as u64) as usize];
            run(whole, command, "\n\nq\n");
            possessions_are_untouched(whole, &format!("trial {trial}: {command} with {planted:?}"));
        }
    }
}
