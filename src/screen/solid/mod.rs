//! The whole solid in cells: letters or quarters of cells for what
//! [`crate::picture`] shows.

mod cells;
mod fine_picture;
mod labels;
mod pictures;
pub mod view;

use cells::{CELL, label, on_cells, show};

pub use fine_picture::{FinePicture, FineShown};
use labels::Writing;

pub use labels::{meetings, word};
pub use pictures::{SmallPicture, before_and_after, draw_view};
pub use view::SolidView;
