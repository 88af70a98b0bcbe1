//! `threadmark manual`.

use crate::builder::threadmark;

#[test]
fn the_man_page_is_one_page() {
    let page = threadmark("manual --to man").run();
    assert!(page.contains("\n.TH threadmark 1"), "{page}");
    for command in [
        "STITCH",
        "ROUNDS",
        "STEPS",
        "BEADS",
        "VERIFY",
        "CHECK",
        "PIECES",
        "PATTERNS",
        "PIECES RENAME",
    ] {
        assert!(
            page.contains(&format!("\n.SH COMMAND: {command}\n")),
            "{command}"
        );
    }
}

#[test]
fn a_shell_gets_completions() {
    assert!(threadmark("manual --to bash").run().contains("complete -o"));
    assert!(
        threadmark("manual --to zsh")
            .run()
            .starts_with("#compdef threadmark")
    );
    assert!(threadmark("manual --to fish").run().contains("threadmark"));
    assert!(
        threadmark("manual --to powershell")
            .run()
            .contains("Register-ArgumentCompleter")
    );
}
