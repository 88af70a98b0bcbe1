//! Pieces that earlier builds made. Each is copied into a tray, opened, and must
//! stand at the same bead with all that its maker did.
//!
//! `tests/data/old_trays/` has a directory for each: the `tray` as that build
//! left it, and `expected.json`, which is what that build said of it:
//!
//! | field | meaning |
//! |---|---|
//! | `step`, `furthest`, `steps` | steps done, most steps ever done, steps in all |
//! | `strung`, `needle` | beads strung, and the bead that the needle leaves |
//! | `next` | the next step's line of `steps --json` |
//! | `says`, `says_at` | the line of the plain mode: of the next step, and of some others |
//! | `sewn` | CRC-32 of the steps up to `furthest`, see [`sewn`] |
//! | others | what its maker did, as the journal writes it |

use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use threadmark::progress::State;

use crate::builder::{Whole, threadmark};

fn cases() -> Vec<PathBuf> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/old_trays");
    let cases = std::fs::read_dir(dir).expect("the old trays");
    let mut cases: Vec<PathBuf> = cases.map(|case| case.expect("a case").path()).collect();
    cases.sort();
    assert!(cases.len() >= 14);
    cases
}

/// An old piece in a tray of its own.
struct OldPiece {
    case: String,
    whole: Whole,
    expected: Value,
}

impl OldPiece {
    fn new(case: &Path) -> OldPiece {
        let expected = std::fs::read(case.join("expected.json")).expect("what is expected");
        let expected: Value = serde_json::from_slice(&expected).expect("JSON");
        let whole = threadmark("pieces");
        let name = expected["piece"].as_str().expect("a name");
        let (from, to) = (case.join("tray").join(name), whole.tray().join(name));
        std::fs::create_dir_all(&to).expect("a directory");
        for file in ["journal", "pattern.json", "piece.json"] {
            std::fs::copy(from.join(file), to.join(file)).expect("a copy");
        }
        OldPiece {
            case: case.display().to_string(),
            whole,
            expected,
        }
    }

    fn named(case: &str) -> OldPiece {
        let all = cases();
        let found = all.iter().find(|path| path.ends_with(case));
        OldPiece::new(found.expect("there is such a case"))
    }

    fn name(&self) -> &str {
        self.expected["piece"].as_str().expect("a name")
    }

    fn number(&self, field: &str) -> u64 {
        self.expected[field].as_u64().expect("a number")
    }

    fn state(&self) -> State {
        self.whole.piece(self.name()).state().clone()
    }

    fn steps(&self) -> Vec<Value> {
        let args = format!("steps {} --json", self.name());
        self.whole.again(&args).objects("steps")
    }

    /// The lines that the plain mode says when a piece is looked at.
    fn plain(&self, typed: &str) -> String {
        let args = format!("stitch {} --plain --look", self.name());
        self.whole.again(&args).stdin(typed).run()
    }

    fn is(&self, field: &str, found: &Value) {
        assert_eq!(found, &self.expected[field], "{field} of {}", self.case);
    }

    /// The movement and its place; how the beads are counted is said in other
    /// words today.
    fn says(&self, said: &str, line: &Value) {
        let line = line.as_str().expect("a line");
        let counted = line
            .strip_suffix(" in this round.")
            .and_then(|l| l.rsplit_once(". "));
        let line = counted.map_or(line, |(line, _)| line);
        let line = &in_words_of_today(line);
        // A string was called a ring.
        let said = said.replace("for the string", "for the ring");
        let is_said = said.lines().any(|l| l.starts_with(line.as_str()));
        assert!(is_said, "{}: '{line}' is not in\n{said}", self.case);
    }
}

/// A line that was recorded then, in the words that are used now.
fn in_words_of_today(line: &str) -> String {
    let words = [
        ("go through", "sew through"),
        ("weave through", "weave in through"),
        ("Pass through", "Sew through"),
        (": through", ": sew through"),
        ("through 4 beads, then", "through 4 beads and knot it, then"),
    ];
    let said = words.iter();
    said.fold(line.to_string(), |line, (was, is)| line.replace(was, is))
}

/// A sum of steps that no colour and no word enters: a line for each, its
/// number, its kind and the beads that it passes.
fn sewn(steps: &[Value]) -> String {
    let mut sum = crc32fast::Hasher::new();
    for step in steps {
        let beads = step["passes"].as_array().expect("a list");
        let beads: Vec<String> = beads.iter().map(Value::to_string).collect();
        let kind = step["kind"].as_str().expect("a kind");
        sum.update(format!("{} {kind} {}\n", step["step"], beads.join(",")).as_bytes());
    }
    format!("{:08x}", sum.finalize())
}

/// The bead that the needle leaves after these steps.
fn needle(steps: &[Value]) -> Value {
    for step in steps.iter().rev() {
        let last = step["passes"].as_array().and_then(|beads| beads.last());
        match (step["kind"].as_str(), last) {
            (Some("end-thread"), _) | (Some("start-thread"), None) => break,
            (_, Some(bead)) => return bead.clone(),
            _ => {}
        }
    }
    Value::Null
}

#[test]
fn an_old_piece_lies_in_the_tray_as_it_was() {
    for case in cases() {
        let old = OldPiece::new(&case);
        let line = &old.whole.again("pieces --json").objects("pieces")[0];
        for field in ["piece", "title", "step", "steps", "condition"] {
            old.is(field, &line[field]);
        }
    }
}

#[test]
fn an_old_piece_stands_at_the_same_bead() {
    for case in cases() {
        let old = OldPiece::new(&case);
        let steps = old.steps();
        old.is("steps", &json!(steps.len()));
        let done = &steps[..old.number("step") as usize];
        old.is("needle", &needle(done));
        let strung = done.iter().map(|s| s["strings"].as_array().unwrap().len());
        old.is("strung", &json!(strung.sum::<usize>()));
        let next = old.expected["next"].as_str();
        let next = next.map(|line| {
            let mut step: Value = serde_json::from_str(line).expect("JSON");
            step.as_object_mut().expect("an object").remove("text");
            step
        });
        // What was recorded then has no fields that came later, and says it in
        // other words.
        let now = steps.get(done.len()).cloned().map(|mut step| {
            let fields = step.as_object_mut().expect("an object");
            assert_eq!(fields.remove("worked"), Some(json!(false)));
            assert!(fields.remove("job_number").is_some());
            assert!(fields.remove("text").is_some());
            step
        });
        assert_eq!(now, next, "{}", old.case);
        let furthest = old.number("furthest") as usize;
        old.is("sewn", &json!(sewn(&steps[..furthest])));
    }
}

#[test]
fn an_old_piece_says_the_same_step() {
    for case in cases() {
        let old = OldPiece::new(&case);
        old.says(&old.plain("q\n"), &old.expected["says"]);
        for (step, line) in old.expected["says_at"].as_object().expect("steps") {
            old.says(&old.plain(&format!("g {step}\nq\n")), line);
        }
    }
}

#[test]
fn an_old_piece_keeps_all_that_its_maker_did() {
    for case in cases() {
        let old = OldPiece::new(&case);
        let state = old.state();
        old.is("furthest", &json!(state.furthest));
        old.is("way_back", &json!(state.way_back));
        old.is("notes", &json!(*state.notes));
        old.is("checks", &json!(state.checks));
        old.is("as_stitched", &json!(state.stitched));
        old.is("threads", &json!(*state.threads));
        let painted: Vec<_> = state.painting().collect();
        old.is("painted", &json!(painted));
        old.is("left_handed", &json!(state.settings.left_handed()));
    }
}

/// A difference that was kept for counts only can be named as a gap now.
#[test]
fn what_an_old_piece_kept_for_counts_is_listed_to_be_named() {
    let kept = |old: &&OldPiece| !old.state().stitched.is_empty();
    let cases: Vec<OldPiece> = cases().iter().map(|case| OldPiece::new(case)).collect();
    let mut cases = cases.iter().filter(kept).peekable();
    assert!(cases.peek().is_some());
    for old in cases {
        let args = format!("stitch {} --plain", old.name());
        let said = old.whole.again(&args).stdin("\nm\nq\n").run();
        assert!(said.contains("kept for counts: name its gap"), "{said}");
    }
}

/// One movement is made, and then the piece is opened again.
#[test]
fn an_old_piece_goes_on_from_the_same_bead() {
    for case in cases() {
        let old = OldPiece::new(&case);
        let args = format!("stitch {} --plain", old.name());
        old.whole.again(&args).stdin("\nq\n").run();
        let step = (old.number("step") + 1).min(old.number("steps"));
        assert_eq!(u64::from(old.state().step), step, "{}", old.case);
        let furthest = old.number("furthest") as usize;
        old.is("sewn", &json!(sewn(&old.steps()[..furthest])));
    }
}

/// Up to version 1.3 a fill turned its corner at a hinge through a bead of the
/// solid across it. What was planned so is sewn so, and told when it is asked.
#[test]
fn an_old_piece_that_is_sewn_across_the_hinge_says_so() {
    let old = OldPiece::named("demo-worked-on");
    let whole = old.whole.again("verify harbour-lantern --json");
    let report = &whole.code(1).objects("verify")[0];
    let findings = report["findings"].as_array().expect("a list");
    assert_eq!(findings.len(), 1, "{report}");
    assert_eq!(findings[0]["step"], 877);
    let finding = "the face is sewn to bead 346, which belongs to the solid across the hinge";
    assert_eq!(findings[0]["finding"], finding);
    // A piece begun now is not.
    let new = threadmark("stitch harbour-lantern --plain").stdin("q\n");
    new.run();
    new.again("verify harbour-lantern").run();
}

/// Either of its files tells in which version a piece was begun.
#[test]
fn an_old_piece_that_lost_a_file_keeps_its_steps() {
    let spoil_first_line = |piece: &Path| {
        let journal = piece.join("journal");
        let mut bytes = std::fs::read(&journal).expect("a journal");
        bytes[5] ^= 1;
        std::fs::write(journal, bytes).expect("it is written");
    };
    let lose_metadata = |piece: &Path| std::fs::remove_file(piece.join("piece.json")).unwrap();
    let losses: [&dyn Fn(&Path); 2] = [&spoil_first_line, &lose_metadata];
    for lose in losses {
        let old = OldPiece::named("demo-worked-on");
        lose(&old.whole.tray().join(old.name()));
        let furthest = old.number("furthest") as usize;
        // Looked at, worked on, and opened again after that.
        for _ in 0..2 {
            old.is("sewn", &json!(sewn(&old.steps()[..furthest])));
            old.whole
                .again("stitch harbour-lantern --plain")
                .stdin("\nq\n")
                .run();
        }
        old.is("sewn", &json!(sewn(&old.steps()[..furthest])));
    }
}
