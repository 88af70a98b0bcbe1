//! Pieces that cannot be made.

use super::{lantern, making};

refused! {
    no_such_panel:
        making(r#"{ "panel": "fase" }"#),
r#"error: lantern.json:14:22: make.panel: there is no panel 'fase'
  mend: write 'face', or add the panel to "panels""#;

    no_such_panel_at_all:
        making(r#"{ "panel": "lid" }"#),
r"error: lantern.json:14:22: make.panel: there is no panel 'lid'
  mend: name one of 'face' and 'window'";

    nothing_known:
        making(r#"{ "pyramid": 3 }"#),
r"error: lantern.json:14:11: make: nothing here says what it is: no 'panel', 'solid', 'folded-pair', 'ring', 'ring-of-nets' or 'jobs'
  mend: add one of these fields";

    a_head_misspelt:
        making(r#"{ "soild": "cube", "faces": ["face"] }"#),
r"error: lantern.json:14:13: make.soild: there is no field 'soild' here
  mend: write 'solid'";

    an_empty_make:
        making("{}"),
r"error: lantern.json:14:11: make: nothing here says what it is: no 'panel', 'solid', 'folded-pair', 'ring', 'ring-of-nets' or 'jobs'
  mend: add one of these fields";

    a_make_in_words:
        making(r#""ring""#),
r"error: lantern.json:14:11: make: expected a group in { }, found the text 'ring'
  mend: put a group in { } here";

    no_such_solid:
        making(r#"{ "solid": "octohedron", "faces": ["face"] }"#),
r"error: lantern.json:14:22: make.solid: expected one of 'tetrahedron', 'octahedron', 'icosahedron', 'cube', found the text 'octohedron'
  mend: write 'octahedron'";

    no_faces:
        making(r#"{ "solid": "cube", "faces": [] }"#),
r"error: lantern.json:14:39: make.faces: nothing is in here
  mend: add at least one entry";

    triangles_for_a_cube:
        making(r#"{ "solid": "cube", "faces": ["face"] }"#),
r#"error: lantern.json:14:39: make.faces: the panel 'face' has 3 sides, a face of the cube has 4
  mend: take a panel with "sides": 4"#;

    five_faces_of_four:
        making(r#"{ "solid": "tetrahedron", "faces": ["face", "face", "face", "face", "face"] }"#),
r"error: lantern.json:14:46: make.faces: 5 faces for a piece of 4
  mend: list at most 4; a shorter list is taken round again";

    three_tips:
        making(r#"{ "solid": "tetrahedron", "faces": ["face"], "tips": 3 }"#),
r"error: lantern.json:14:64: make.tips: expected a whole number from 0 to 2, found 3
  mend: put a whole number from 0 to 2 here";

    an_odd_ring:
        making(r#"{ "ring": 7, "faces": ["face"] }"#),
r"error: lantern.json:14:21: make.ring: expected an even whole number from 6 to 1000, found 7
  mend: put an even whole number from 6 to 1000 here";

    a_ring_of_four:
        making(r#"{ "ring": 4, "faces": ["face"] }"#),
r"error: lantern.json:14:21: make.ring: expected an even whole number from 6 to 1000, found 4
  mend: put an even whole number from 6 to 1000 here";

    no_such_face:
        making(r#"{ "ring": 8, "faces": ["face", "windou"] }"#),
r#"error: lantern.json:14:42: make.faces[2]: there is no panel 'windou'
  mend: write 'window', or add the panel to "panels""#;

    no_such_close:
        making(r#"{ "ring": 8, "faces": ["face"], "close": "setin" }"#),
r"error: lantern.json:14:52: make.close: expected one of 'set-in', 'fill', 'open', found the text 'setin'
  mend: write 'set-in'";

    one_opening_of_two:
        making(r#"{ "folded-pair": ["face"], "close": [{ "how": "open" }] }"#),
r"error: lantern.json:14:47: make.close: expected 2 entries, found 1
  mend: add what is missing";

    closed_with_nothing:
        making(r#"{ "folded-pair": ["face"], "close": [{ "how": "open" }, { "how": "fill" }] }"#),
r#"error: lantern.json:14:67: make.close[2]: nothing says which panel closes the opening
  mend: add "with" and the name of a panel"#;

    filled_outward:
        making(r#"{ "folded-pair": ["face"], "close": [{ "how": "open" }, { "how": "fill", "with": "face" }] }"#),
r#"error: lantern.json:14:92: make.close[2].with: an opening is filled inward, and the panel 'face' is worked outward
  mend: write "way": "inward" in the panel 'face', or name another panel"#;

    a_ring_beyond_the_limit:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 3, "rounds": 80, "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "ring": 1000, "faces": ["face"] }"#),
r"error: lantern.json:14:11: make: about 39275000 beads; 4000000 is the most
  mend: take fewer rounds or fewer panels";

    sides_of_different_lengths:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 3, "rounds": 7, "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "solid": "tetrahedron", "faces": ["face", "window"] }"#),
r#"error: lantern.json:14:46: make.faces: a side of 'window' has 8 up beads and one of 'face' has 7, so they cannot be joined
  mend: give both panels the same "rounds""#;

    corners_that_are_gaps:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 3, "rounds": 4, "corners": [2, 1, 0], "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "solid": "tetrahedron", "faces": ["face"] }"#),
r#"error: lantern.json:14:46: make.faces: the panel 'face' cannot be joined: its last round, 4, has no bead at its corners
  mend: end the panel on a round whose corners take 1 or 2 beads: change "rounds" or "corners""#;

    own_gap_words_joined:
        kind(r#""rounds": 2, "ring": 3, "words": ["2*3"]"#, r#"{ "solid": "tetrahedron", "faces": ["face"] }"#),
r#"error: lantern.json:14:46: make.faces: the panel 'face' cannot be joined: gap words of its own do not say where its corners are
  mend: say which beads of its last round end its sides: "corner_beads""#;

    a_solid_of_rings:
        kind(r#""rounds": 1"#, r#"{ "solid": "octahedron", "faces": ["face"] }"#),
r#"error: lantern.json:14:45: make.faces: the panel 'face' cannot be joined: its one round has no edge
  mend: give it at least 2 "rounds""#;

    tips_without_corner_pairs:
        kind(CORNER_BEADS, r#"{ "ring": 6, "faces": ["face"], "tips": 2 }"#),
r#"error: lantern.json:14:51: make.tips: tip beads lie inside a corner pair, and the last round of the panel 'face', 3, has 1 bead at its corners
  mend: take "tips" out, or end the panel on a round whose corners take 2 beads"#;

    a_pair_with_tips_and_without_corner_pairs:
        kind(CORNER_BEADS, r#"{ "folded-pair": ["face"], "close": [{ "how": "open" }, { "how": "open" }], "tips": 1 }"#),
r#"error: lantern.json:14:95: make.tips: tip beads lie inside a corner pair, and the last round of the panel 'face', 3, has 1 bead at its corners
  mend: take "tips" out, or end the panel on a round whose corners take 2 beads"#;

    a_solid_filled_without_corner_pairs:
        kind(CORNER_BEADS, r#"{ "solid": "tetrahedron", "faces": ["face"], "close": "fill" }"#),
r#"error: lantern.json:14:65: make.close: an opening is filled with corner pairs, and the last round of the panel 'face', 3, has 1 bead at its corners
  mend: end the panel on a round whose corners take 2 beads: change "rounds" or "corners""#;

    an_insert_without_an_open_face:
        making(r#"{ "solid": "tetrahedron", "faces": ["face"], "insert": ["face"] }"#),
r#"error: lantern.json:14:66: make.insert: an insert, but no face stays open for it
  mend: let a face stay open ("open" in "close"), or leave the insert out"#;

    an_insert_in_a_cube:
        making(r#"{ "solid": "cube", "faces": ["face"], "close": "open", "insert": ["window"] }"#)
            .replacen("\"sides\": 3", "\"sides\": 4", 1),
r"error: lantern.json:14:76: make.insert: an insert of three faces does not fit a face of four sides
  mend: leave it out, or take a solid of triangles";

    a_ring_filled_without_corner_pairs:
        kind(CORNER_BEADS, r#"{ "ring": 8, "faces": ["face"], "close": "fill" }"#),
r#"error: lantern.json:14:52: make.close: an opening is filled with corner pairs, and the last round of the panel 'face', 3, has 1 bead at its corners
  mend: end the panel on a round whose corners take 2 beads: change "rounds" or "corners""#;

    a_pair_filled_without_corner_pairs:
        kind(&format!(r#"{CORNER_BEADS}, "way": "inward""#), r#"{ "folded-pair": ["face"], "close": [{ "how": "open" }, { "how": "fill", "with": "face" }] }"#),
r#"error: lantern.json:14:92: make.close[2].with: an opening is filled with corner pairs, and the last round of the panel 'face', 3, has 1 bead at its corners
  mend: end the panel on a round whose corners take 2 beads: change "rounds" or "corners""#;
}

/// Gives a triangle a bead at each corner, in round 3.
const CORNER_BEADS: &str = r#""rounds": 3, "corners": [2, 1, 0]"#;

/// The lantern with these rounds in its face, making `make`.
fn kind(rounds: &str, make: &str) -> String {
    lantern(
        r#""rounds": 8, "colours": ["all: S*"]"#,
        &format!(r#"{rounds}, "colours": ["all: S*"]"#),
    )
    .replace(r#"{ "panel": "face" }"#, make)
}

/// A panel that ends in corner beads can be zipped, and can be any face of a
/// filled solid except the filled one.
#[test]
fn corner_beads_can_be_joined() {
    let set_in = kind(
        CORNER_BEADS,
        r#"{ "solid": "tetrahedron", "faces": ["face"] }"#,
    );
    crate::pattern::tests::loaded(&set_in);
    let filled = set_in
        .replace(
            r#""rounds": 8, "way": "inward", "open": 2"#,
            r#""rounds": 3, "way": "inward", "open": 1"#,
        )
        .replace(
            r#"["face"]"#,
            r#"["face", "face", "face", "window"], "close": "fill""#,
        );
    crate::pattern::tests::loaded(&filled);
}

/// Every panel from two rounds on, by a law with a bead or a pair at its
/// corners, has at least two up beads on a side, so that a row has a bead.
#[test]
fn what_can_be_joined_has_an_edge() {
    use crate::beadwork::corner_law::{CornerLaw, Start};
    use crate::beadwork::number::Side;
    use crate::beadwork::panel::PanelLayout;
    use crate::beadwork::project::Growth;
    for start in [Start::Sides, Start::Points] {
        for nth in 0..3_u32.pow(5) {
            let law: Vec<u8> = (0..5).map(|i| (nth / 3_u32.pow(i) % 3) as u8).collect();
            let Ok(law) = CornerLaw::new(start, &law) else {
                continue;
            };
            for rounds in 2..8 {
                let layout = PanelLayout::grown(3, rounds, &Growth::Law(law.clone()));
                assert!(!layout.can_be_joined() || layout.edge(Side(2)) >= 2);
            }
        }
    }
}
