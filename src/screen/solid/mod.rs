//! The whole solid in cells: letters or quarters of cells for what
//! [`crate::picture`] shows.

mod cells;
mod fine_picture;
mod fold;
mod labels;
mod room;
pub mod said;
mod small;

pub use cells::{CELL, label, on_cells, show};
pub use fine_picture::{FinePicture, FineShown};
pub use fold::before_and_after;
pub use labels::{Writing, word};
pub use room::SolidRoom;
pub use small::SmallPicture;
