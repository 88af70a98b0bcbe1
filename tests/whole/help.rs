//! `threadmark help`.

use crate::builder::threadmark;

#[test]
fn help_with_a_command_is_the_help_of_that_command() {
    for command in [
        "stitch", "patterns", "rounds", "steps", "beads", "verify", "plan", "sheet", "check",
        "draft", "locate", "pieces", "manual",
    ] {
        let help = threadmark(&format!("help {command}")).run();
        assert_eq!(help, threadmark(&format!("{command} --help")).run());
        assert!(help.contains(&format!("threadmark {command}")), "{help}");
    }
    assert!(
        threadmark("help pieces rename")
            .run()
            .contains("<PIECE> <NAME>")
    );
    assert!(threadmark("help").run().contains("\nCommands:\n"));
}
