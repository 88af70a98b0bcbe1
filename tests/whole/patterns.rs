//! `threadmark patterns`.

use crate::builder::threadmark;
use crate::pattern::{ring, tetrahedron, triangle};

#[test]
fn the_patterns_come_easiest_first_with_size_beads_and_time() {
    let printed = threadmark("patterns").run();
    assert!(
        printed.starts_with(
            "  pattern            title            mm  beads        time  level
  practice-triangle  First sail       32     63       9 min  beginner
      A practice triangle, worked outward from a ring of three.
"
        ),
        "{printed}"
    );
    assert!(
        printed.lines().all(|line| line.chars().count() <= 80),
        "{printed}"
    );
    let levels = ["beginner", "intermediate", "advanced"];
    let level = |line: &serde_json::Value| {
        let level = levels.iter().position(|&level| line["level"] == level);
        (level, line["minutes"].as_f64())
    };
    let lines = threadmark("patterns --json").objects("patterns");
    assert!(lines.is_sorted_by(|a, b| level(a) <= level(b)));
    let named = |name: &str| lines.iter().find(|line| line["pattern"] == name).unwrap();
    assert_eq!(named("practice-pair")["level"], "beginner");
    assert_eq!(named("lamp-pull")["level"], "intermediate");
    assert_eq!(named("weather-wheel")["level"], "advanced");
}

#[test]
fn they_say_what_the_plan_says() {
    for line in threadmark("patterns --json").objects("patterns") {
        let args = format!("plan {} --json", line["pattern"].as_str().unwrap());
        let plan = &threadmark(&args).objects("plan")[0];
        assert_eq!(line["total_beads"], plan["total_beads"]);
        assert_eq!(line["minutes"], plan["minutes"]);
        assert_eq!(line["edge_mm"], plan["size_mm"]["edge"]);
        assert_eq!(line["through_mm"], plan["size_mm"]["through"]);
    }
}

#[test]
fn pattern_files_of_the_directory_are_listed_and_other_files_are_not() {
    let whole = threadmark("patterns --json")
        .file("mine.json", tetrahedron(3))
        .file("big.json", ring(8, 6))
        .file("package.json", "{}")
        .file("broken.json", triangle(3).replace("rounds", "round"))
        .file("notes.txt", triangle(3));
    let lines = whole.objects("patterns");
    let own: Vec<_> = lines
        .iter()
        .filter(|line| line["own_file"] == true)
        .collect();
    let names: Vec<_> = own
        .iter()
        .map(|line| line["pattern"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["mine.json", "big.json"]);
}
