//! A limit on the size of files, which a system may set for its users.

use std::io;

/// Makes a write beyond the limit an error like that of a full disk, which can
/// be told and waited out. Otherwise the system would end the program.
///
/// # Errors
/// When the system refuses.
#[cfg(unix)]
pub(super) fn becomes_an_error() -> io::Result<()> {
    use signal_hook::{consts::SIGXFSZ, flag};
    use std::sync::{Arc, atomic::AtomicBool};
    flag::register(SIGXFSZ, Arc::new(AtomicBool::new(false))).map(drop)
}

/// On this system no such limit ends a program.
#[cfg(not(unix))]
pub(super) fn becomes_an_error() -> io::Result<()> {
    Ok(())
}
