//! The commands.

/// Runs the program on the arguments it was called with.
pub fn run() -> std::process::ExitCode {
    std::process::ExitCode::SUCCESS
}
