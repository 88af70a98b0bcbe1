//! Colours that are hard to tell apart: in daylight, in lamp light, and with
//! the common colour-vision deficiencies; and shades and letters that can be.

mod apart;
mod letters;
mod seen;
mod shade;

pub use apart::{Alike, alike};
pub use letters::{LikeLetters, like_letters};
pub use seen::{HARD_TO_TELL, Seen, colour_seen, difference};
pub use shade::better_shade;
