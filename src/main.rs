//! Starts the program; everything else is in the library.

fn main() -> std::process::ExitCode {
    threadmark::cli::run()
}
