//! The most memory that this program has taken, as Linux tells it.

use std::fs;

/// Resident memory at its most since the start or the last
/// [`forget`], as `14956 kB`; none where the system does not tell.
pub fn most() -> Option<String> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_string())
}

/// Counts from what is taken now.
// The bench of the plan is one run.
#[allow(dead_code)]
pub fn forget() {
    let _ = fs::write("/proc/self/clear_refs", "5");
}
