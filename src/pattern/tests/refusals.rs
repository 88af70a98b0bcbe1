//! Everything that is refused, each with its complete message.

/// A test for each refusal: its name, the pattern, and the message.
macro_rules! refused {
    ($($name:ident: $text:expr, $says:expr;)*) => {$(
        #[test]
        fn $name() {
            $crate::pattern::tests::refused($text, $says);
        }
    )*};
}

mod beads;
mod colours;
mod jobs;
mod make;
mod panels;
mod reading;
mod shape;

use super::{lantern, making};

/// The lantern with another face.
fn face(fields: &str) -> String {
    let face = r#""sides": 3, "rounds": 8, "colours": ["all: S*"] }"#;
    lantern(face, &format!("{fields} }}"))
}

/// The lantern with amber beads of another size.
fn amber(size: &str) -> String {
    let amber = r#""amber", "size": "#;
    lantern(
        &format!("{amber}\"cylinder 11/0\""),
        &format!("{amber}{size}"),
    )
}

/// The lantern with another text for its needle.
fn needle(field: &str) -> String {
    lantern("\"needle\": 12", field)
}
