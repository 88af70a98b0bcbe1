//! The page held against an accessibility checker, where the machine has one
//! and a browser. The script says when it has not, and how to get it.

use std::io::Write;
use std::process::Command;

#[test]
fn an_accessibility_checker_finds_nothing_where_there_is_one() {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/access/check");
    let checked = Command::new("bash")
        .args([script, "--here"])
        .env("THREADMARK", env!("CARGO_BIN_EXE_threadmark"))
        .output()
        .expect("bash starts");
    let said = String::from_utf8_lossy(&checked.stdout);
    // Past the harness, which keeps the words of a test that passes.
    let _ = write!(std::io::stderr(), "{said}");
    assert!(checked.status.success(), "{said}");
}
