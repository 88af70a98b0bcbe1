//! Small patterns.

/// A pattern of these panels, made into this. Each panel is a name and its
/// fields; the colours are plain sea green unless the fields say otherwise.
pub fn pattern(panels: &[(&str, &str)], make: &str) -> String {
    let panels: Vec<String> = panels
        .iter()
        .map(|(name, fields)| match fields.contains("\"colours\"") {
            true => format!("\"{name}\": {{ {fields} }}"),
            false => format!("\"{name}\": {{ {fields}, \"colours\": [\"all: S*\"] }}"),
        })
        .collect();
    format!(
        r##"{{
  "threadmark": 1,
  "title": "Evening star",
  "beads": {{
    "S": {{ "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" }},
    "A": {{ "name": "amber", "size": "cylinder 11/0", "colour": "#d98a24" }}
  }},
  "thread": "braided 0.12",
  "needle": 12,
  "panels": {{ {} }},
  "make": {make}
}}
"##,
        panels.join(",\n    ")
    )
}

/// One triangle, worked outward.
pub fn triangle(rounds: u32) -> String {
    let fields = format!("\"sides\": 3, \"rounds\": {rounds}");
    pattern(&[("face", &fields)], r#"{ "panel": "face" }"#)
}

/// One triangle, worked inward from a free start.
pub fn inward(rounds: u32) -> String {
    let fields = format!("\"sides\": 3, \"rounds\": {rounds}, \"way\": \"inward\"");
    pattern(&[("face", &fields)], r#"{ "panel": "face" }"#)
}

/// A tetrahedron, its last face set in.
pub fn tetrahedron(rounds: u32) -> String {
    let fields = format!("\"sides\": 3, \"rounds\": {rounds}");
    pattern(
        &[("face", &fields)],
        r#"{ "solid": "tetrahedron", "faces": ["face"] }"#,
    )
}

/// A folded pair with both faces left open, and an insert for each.
pub fn lined_pair(rounds: u32, insert: u32) -> String {
    let [face, lining] = [rounds, insert].map(|n| format!("\"sides\": 3, \"rounds\": {n}"));
    pattern(
        &[("face", &face), ("lining", &lining)],
        r#"{ "folded-pair": ["face"], "close": [{ "how": "open" }, { "how": "open" }],
            "insert": ["lining"] }"#,
    )
}

/// A folded pair: one face set in, one filled around an opening.
pub fn folded_pair(rounds: u32, open: u32) -> String {
    let outward = format!("\"sides\": 3, \"rounds\": {rounds}");
    let window = format!("{outward}, \"way\": \"inward\", \"open\": {open}");
    pattern(
        &[("face", &outward), ("window", &window)],
        r#"{ "folded-pair": ["face"], "close": [
            { "how": "set-in", "with": "face" }, { "how": "fill", "with": "window" }] }"#,
    )
}

/// A ring of hinged tetrahedra.
pub fn ring(tetrahedra: u32, rounds: u32) -> String {
    let fields = format!("\"sides\": 3, \"rounds\": {rounds}");
    let make = format!(r#"{{ "ring": {tetrahedra}, "faces": ["face"] }}"#);
    pattern(&[("face", &fields)], &make)
}
