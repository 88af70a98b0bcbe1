//! Thread and needle that go through every bead comfortably to the last.

use super::Ask;
use crate::pattern::file::{File, NeedleFile, NeedleSize, ThreadFile};
use crate::plan::Plan;
use crate::plan::fullest::Help;

/// Takes a finer needle or a thinner thread where the usual would get tight,
/// unless the maker named them. Whether anything was changed.
pub(super) fn fit(ask: &Ask, plan: &Plan, file: &mut File) -> bool {
    let (mut needle, mut thread) = (None, None);
    for help in &plan.fullest.help {
        let (with_needle, with_thread) = match help {
            Help::Needle(size) => (Some(*size), None),
            Help::Thread(name) => (None, Some(*name)),
            Help::Both(size, name) => (Some(*size), Some(*name)),
            // As fine as may be; the plan tells of what stays tight.
            Help::NextDoor => (Some(15), Some("braided 0.12")),
        };
        let allowed = (with_needle.is_none() || ask.needle.is_none())
            && (with_thread.is_none() || ask.thread.is_none());
        if allowed {
            (needle, thread) = (with_needle, with_thread);
            break;
        }
    }
    if let Some(size) = needle {
        file.needle = NeedleFile::Sized(NeedleSize(size.into()));
    }
    if let Some(name) = thread {
        file.thread = ThreadFile::Named(name.into());
    }
    needle.is_some() || thread.is_some()
}
