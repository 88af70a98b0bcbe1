//! Colours that are hard to tell apart: in daylight, in lamp light, and with
//! the common colour-vision deficiencies; and shades and letters that can be.

mod apart;
mod letters;
mod seen;
mod shade;

pub use apart::{Alike, HARD_TO_TELL, alike, difference};
pub use letters::{LikeLetters, like_letters};
pub use seen::{Seen, colour_seen};
pub use shade::better_shade;
