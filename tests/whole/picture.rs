//! `threadmark picture`.

use crate::builder::threadmark;
use crate::pattern::triangle;

/// Width and height of a PNG, after its signature and the length and name of its
/// first chunk (PNG specification, third edition, 11.2.1).
fn size(png: &[u8]) -> (u32, u32) {
    assert!(png.starts_with(b"\x89PNG\r\n\x1a\n"));
    let number = |at: usize| u32::from_be_bytes(png[at..at + 4].try_into().unwrap());
    (number(16), number(20))
}

#[test]
fn a_png_has_the_size_asked_for_and_is_told_of() {
    let run = threadmark("picture night-kite --width 120 -o kite.png")
        .stdout("kite.png: 120 by 120 points\n");
    run.run();
    let png = std::fs::read(run.dir().join("kite.png")).unwrap();
    assert_eq!(size(&png), (120, 120));
    let told = run.again("picture night-kite --width 100 -o other.png --json");
    let line = &told.objects("picture")[0];
    assert_eq!((&line["to"], &line["width"]), (&"png".into(), &100.into()));
}

/// 18 beads of a triangle of three rounds (OEIS A045943), each a shape.
#[test]
fn an_svg_has_a_shape_for_every_bead() {
    let run = threadmark("picture mine.json -o mine.svg").file("mine.json", triangle(3));
    run.run();
    let svg = std::fs::read_to_string(run.dir().join("mine.svg")).unwrap();
    let read = roxmltree::Document::parse(&svg).unwrap();
    let paths = read.descendants().filter_map(|n| n.attribute("d"));
    assert_eq!(paths.map(|d| d.matches('Z').count()).sum::<usize>(), 18);
    assert!(svg.contains("<title>The finished piece</title>"));
}

#[test]
fn of_a_piece_what_is_worked_is_drawn() {
    let begun = threadmark("stitch practice-triangle --plain").stdin("\n".repeat(12));
    begun.run();
    let pieces = begun.again("pieces --json").objects("pieces");
    let name = pieces[0]["piece"].as_str().unwrap();
    let drawn = begun.again(&format!("picture {name} --worked -o so-far.svg --json"));
    assert_eq!(drawn.objects("picture")[0]["worked"], 12);
    let svg = std::fs::read_to_string(drawn.dir().join("so-far.svg")).unwrap();
    let steps = begun
        .again("steps practice-triangle --count 12 --json")
        .objects("steps");
    let strung: usize = steps
        .iter()
        .map(|s| s["strings"].as_array().unwrap().len())
        .sum();
    assert_eq!(svg.matches('Z').count(), strung);
}

#[test]
fn what_cannot_be_drawn_is_told() {
    threadmark("picture night-kite -o kite.gif")
        .stderr(
            "error: kite.gif: a picture is a PNG or an SVG\n  \
             mend: end the file's name in .png or .svg\n",
        )
        .code(2)
        .run();
    threadmark("picture night-kite --worked -o kite.png")
        .stderr(
            "error: night-kite is a pattern, of which nothing is worked\n  \
             mend: name a piece of the tray, or leave --worked out\n",
        )
        .code(2)
        .run();
}

/// `THREADMARK_WRITE_PICTURE=1 cargo test --test whole readme_shows` draws it anew.
#[test]
fn the_readme_shows_the_demo_as_it_is_drawn_today() {
    let run = threadmark("picture harbour-lantern --width 400 -o demo.svg");
    run.run();
    let drawn = std::fs::read_to_string(run.dir().join("demo.svg")).unwrap();
    let kept = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/harbour-lantern.svg");
    if std::env::var_os("THREADMARK_WRITE_PICTURE").is_some() {
        std::fs::write(kept, &drawn).unwrap();
    }
    assert!(std::fs::read_to_string(kept).unwrap() == drawn);
    let readme = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
    let readme = std::fs::read_to_string(readme).unwrap();
    assert!(readme.contains("](docs/harbour-lantern.svg)"));
}
