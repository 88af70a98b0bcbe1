//! `manual`: the man page and shell completions, from the definitions of the
//! commands.

use std::io::{self, Write};

use clap::{Command, CommandFactory};
use clap_complete::env::{Bash, EnvCompleter, Fish, Powershell, Zsh};
use clap_mangen::Man;

use super::CommandEnd;
use super::args::{self, Cli, ManualKind};
use super::failure::Failure;
use super::{completion, out};

/// Runs the command.
///
/// # Errors
/// The output cannot be written.
pub(super) fn run(args: &args::ManualArgs) -> Result<CommandEnd, Failure> {
    out::print(|out| Ok(write(args.to, out)?))
}

fn write(kind: ManualKind, out: &mut dyn Write) -> io::Result<()> {
    let shell: &dyn EnvCompleter = match kind {
        ManualKind::Man => return man(out),
        ManualKind::Bash => &Bash,
        ManualKind::Zsh => &Zsh,
        ManualKind::Fish => &Fish,
        ManualKind::Powershell => &Powershell,
    };
    completion::script(shell, out)
}

/// One page for the program and all its commands.
fn man(out: &mut dyn Write) -> io::Result<()> {
    let mut program = Cli::command();
    program.build();
    let page = Man::new(program.clone());
    page.render_title(out)?;
    page.render_name_section(out)?;
    page.render_synopsis_section(out)?;
    page.render_description_section(out)?;
    page.render_options_section(out)?;
    sections(&program, "COMMAND:", out)?;
    extra(&program, ".SH", out)?;
    page.render_version_section(out)
}

/// The commands of a command as sections of the page.
fn sections(of: &Command, heading: &str, out: &mut dyn Write) -> io::Result<()> {
    for command in of.get_subcommands().filter(|c| c.get_name() != "help") {
        let heading = format!("{heading} {}", command.get_name().to_uppercase());
        section(command, &heading, out)?;
        sections(command, &heading, out)?;
    }
    Ok(())
}

/// A command as a section of the page, its parts as subsections.
fn section(command: &Command, heading: &str, out: &mut dyn Write) -> io::Result<()> {
    let page = Man::new(command.clone());
    writeln!(out, ".SH {heading}")?;
    let mut parts = Vec::new();
    page.render_synopsis_section(&mut parts)?;
    page.render_description_section(&mut parts)?;
    page.render_options_section(&mut parts)?;
    let parts = String::from_utf8_lossy(&parts).replace(".SH ", ".SS ");
    out.write_all(parts.as_bytes())?;
    extra(command, ".SS", out)
}

/// What follows the options in the help, such as examples: parts of a heading
/// and indented lines, which are not refilled.
fn extra(command: &Command, heading: &str, out: &mut dyn Write) -> io::Result<()> {
    let after = command
        .get_after_long_help()
        .or(command.get_after_help())
        .map(ToString::to_string)
        .unwrap_or_default();
    for part in after.split("\n\n") {
        let Some((title, lines)) = part.split_once(":\n") else {
            continue;
        };
        writeln!(out, "{heading} {}\n.nf", title.to_uppercase())?;
        for line in lines.lines() {
            writeln!(out, "{}", escaped(line.trim_start()))?;
        }
        writeln!(out, ".fi")?;
    }
    Ok(())
}

/// A line of text, escaped for roff.
fn escaped(line: &str) -> String {
    let line = line.replace('\\', "\\e").replace('-', "\\-");
    match line.starts_with(['.', '\'']) {
        true => format!("\\&{line}"),
        false => line,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(kind: ManualKind) -> String {
        let mut out = Vec::new();
        write(kind, &mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn the_page_has_every_command_with_its_examples() {
        let page = written(ManualKind::Man);
        for command in Cli::command().get_subcommands() {
            let name = command.get_name().to_uppercase();
            assert!(page.contains(&format!("\n.SH COMMAND: {name}\n")), "{name}");
        }
        let examples = page.matches("\n.SS EXAMPLES\n").count();
        assert_eq!(examples, Cli::command().get_subcommands().count());
        assert!(page.contains("\nthreadmark steps star.json \\-\\-from 41 \\-\\-count 3\n"));
        assert_eq!(page.matches("\n.SH NAME\n").count(), 1);
    }

    #[test]
    fn the_script_of_each_shell_calls_the_program() {
        for kind in [
            ManualKind::Bash,
            ManualKind::Zsh,
            ManualKind::Fish,
            ManualKind::Powershell,
        ] {
            let script = written(kind);
            for word in ["threadmark", "THREADMARK_COMPLETE"] {
                assert!(script.contains(word), "{kind:?} lacks {word}");
            }
        }
    }
}
