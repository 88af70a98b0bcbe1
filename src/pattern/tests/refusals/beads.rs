//! Beads, thread and needle that cannot be sewn with.

use super::{amber, lantern, needle};

refused! {
    a_bead_of_two_letters:
        lantern(r#""A": {"#, r#""Am": {"#),
r#"error: lantern.json:6:5: beads.Am: 'Am' is not one letter
  mend: name the bead by a single letter such as "S"; its full name goes into "name"
error: lantern.json:12:82: panels.window.colours[1]: no bead has the letter 'A' of the word 'A*'
  mend: add a bead "A", or use 'S'"#;

    a_bead_that_is_a_digit:
        lantern(r#""A": {"#, r#""7": {"#),
r#"error: lantern.json:6:5: beads.7: '7' is not one letter
  mend: name the bead by a single letter such as "S"; its full name goes into "name"
error: lantern.json:12:82: panels.window.colours[1]: no bead has the letter 'A' of the word 'A*'
  mend: add a bead "A", or use 'S'"#;

    a_bead_two_cells_wide:
        lantern(r#""A": {"#, r#""Ａ": {"#),
r#"error: lantern.json:6:5: beads.Ａ: 'Ａ' is not one letter
  mend: name the bead by a single letter such as "S"; its full name goes into "name"
error: lantern.json:12:82: panels.window.colours[1]: no bead has the letter 'A' of the word 'A*'
  mend: add a bead "A", or use 'S'"#;

    a_bead_that_cannot_be_seen:
        lantern(r#""A": {"#, r#""\u202e": {"#),
r#"error: lantern.json:6:5: beads."": '' is not one letter
  mend: name the bead by a single letter such as "S"; its full name goes into "name"
error: lantern.json:12:82: panels.window.colours[1]: no bead has the letter 'A' of the word 'A*'
  mend: add a bead "A", or use 'S'"#;

    a_name_of_nothing:
        lantern(r#""amber""#, r#""\u0007""#),
r#"error: lantern.json:6:20: beads.A.name: this name has nothing that can be seen
  mend: write a name, such as "sea green""#;

    a_colour_in_words:
        lantern(r##""#d98a24""##, r#""amber""#),
r##"error: lantern.json:6:64: beads.A.colour: 'amber' is no colour: # and six digits, such as "#2f7f79"
  mend: write two digits each of red, green and blue, from 00 to ff"##;

    a_short_colour:
        lantern(r##""#d98a24""##, r##""#d98""##),
r##"error: lantern.json:6:64: beads.A.colour: '#d98' is no colour: # and six digits, such as "#2f7f79"
  mend: write "#dd9988""##;

    a_colour_without_its_sign:
        lantern(r##""#d98a24""##, r#""d98a24""#),
r##"error: lantern.json:6:64: beads.A.colour: 'd98a24' is no colour: # and six digits, such as "#2f7f79"
  mend: write "#d98a24""##;

    a_letter_for_a_digit:
        lantern(r##""#d98a24""##, r##""#d98aO4""##),
r##"error: lantern.json:6:64: beads.A.colour: '#d98aO4' is no colour: # and six digits, such as "#2f7f79"
  mend: write "#d98a04""##;

    a_digit_too_few:
        lantern(r##""#d98a24""##, r##""#d98a2""##),
r##"error: lantern.json:6:64: beads.A.colour: '#d98a2' is no colour: # and six digits, such as "#2f7f79"
  mend: write six digits; these are 5"##;

    no_such_size:
        amber(r#""cylinder 11""#),
r"error: lantern.json:6:37: beads.A.size: expected one of 'cylinder 15/0', 'cylinder 11/0', 'cylinder 10/0', 'cylinder 8/0', 'round 15/0', 'round 11/0', 'round 8/0', found the text 'cylinder 11'
  mend: write 'cylinder 11/0'";

    a_size_of_nought:
        amber(r#"{"name": "cylinder 11/0", "length_mm": 0}"#),
r"error: lantern.json:6:76: beads.A.size.length_mm: expected a number from 0.01 to 1000, found 0
  mend: put a number from 0.01 to 1000 here";

    a_size_below_nought:
        amber(r#"{"name": "cylinder 11/0", "hole_mm": -0.8}"#),
r"error: lantern.json:6:74: beads.A.size.hole_mm: expected a number from 0.01 to 1000, found -0.8
  mend: put a number from 0.01 to 1000 here";

    a_size_without_end:
        amber(r#"{"name": "cylinder 11/0", "per_gram": 1e999}"#),
r"error: lantern.json:6:75: beads.A.size.per_gram: expected a number from 0.01 to 100000, found 1e999
  mend: put a number from 0.01 to 100000 here";

    half_measured:
        amber(r#"{"diameter_mm": 1.6, "hole_mm": 0.8}"#),
r#"error: lantern.json:6:37: beads.A.size: the field 'length_mm' is missing, and no "name" gives it
  mend: add "length_mm", or a "name" to take it from
error: lantern.json:6:37: beads.A.size: the field 'per_gram' is missing, and no "name" gives it
  mend: add "per_gram", or a "name" to take it from"#;

    a_hole_as_wide_as_its_bead:
        amber(r#"{"name": "cylinder 11/0", "hole_mm": 1.6}"#),
r"error: lantern.json:6:74: beads.A.size.hole_mm: a hole of 1.6 mm in a bead 1.6 mm across
  mend: measure again: the hole must be narrower than the bead";

    a_hole_narrower_than_the_needle:
        amber(r#"{"name": "cylinder 11/0", "hole_mm": 0.3}"#),
r"error: lantern.json:6:37: beads.A.size: the needle is 0.36 mm across and does not go through a hole of 0.3 mm
  mend: take a finer needle or a bead with a wider hole; forcing it breaks the bead";

    a_thread_wider_than_the_hole:
        lantern(r#""braided 0.15""#, r#"{"diameter_mm": 0.9}"#),
r"error: lantern.json:5:41: beads.S.size: the thread is 0.9 mm across and does not go through a hole of 0.8 mm
  mend: take a finer thread or a bead with a wider hole; forcing it breaks the bead
error: lantern.json:6:37: beads.A.size: the thread is 0.9 mm across and does not go through a hole of 0.8 mm
  mend: take a finer thread or a bead with a wider hole; forcing it breaks the bead";

    no_such_thread:
        lantern(r#""braided 0.15""#, r#""braided 0.16""#),
r"error: lantern.json:8:13: thread: expected one of 'braided 0.12', 'braided 0.15', 'braided 0.18', 'nylon 0.20', 'nylon 0.30', found the text 'braided 0.16'
  mend: write 'braided 0.15'";

    a_thread_of_no_width:
        lantern(r#""braided 0.15""#, r#"{"diameter_mm": 0}"#),
r"error: lantern.json:8:29: thread.diameter_mm: expected a number from 0.01 to 1000, found 0
  mend: put a number from 0.01 to 1000 here";

    a_thread_without_width:
        lantern(r#""braided 0.15""#, r#"{"cut_mm": 2000}"#),
r#"error: lantern.json:8:13: thread: the field 'diameter_mm' is missing, and no "name" gives it
  mend: add "diameter_mm", or a "name" to take it from"#;

    tails_that_leave_nothing:
        lantern(r#""braided 0.15""#, r#"{"name": "braided 0.15", "cut_mm": 300}"#),
r"error: lantern.json:8:13: thread: two tails of 150 mm leave nothing of a thread of 300 mm to sew with
  mend: cut the thread longer, or leave shorter tails";

    a_thread_too_short_to_be_worth_threading:
        lantern(r#""braided 0.15""#, r#"{"name": "braided 0.15", "cut_mm": 380}"#),
r#"error: lantern.json:8:13: thread: a thread of 380 mm with two tails of 150 mm is too short: between the tails these beads need 82 mm
  mend: write "cut_mm": 382 or more, or leave shorter tails"#;

    more_threads_than_a_piece_may_have:
        lantern(r#""braided 0.15""#, r#"{"name": "braided 0.15", "cut_mm": 400}"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "ring": 1000, "faces": ["face"] }"#)
            .replace(r#""sides": 3, "rounds": 8"#, r#""sides": 3, "rounds": 24"#),
r#"error: lantern.json:8:13: thread: about 152129 threads of 400 mm would be needed; 40000 is the most
  mend: write "cut_mm": 681 or more, or take fewer rounds"#;

    a_thread_that_is_a_number:
        lantern(r#""braided 0.15""#, "0.15"),
r"error: lantern.json:8:13: thread: expected one of 'braided 0.12', 'braided 0.15', 'braided 0.18', 'nylon 0.20', 'nylon 0.30' or a group in { }, found 0.15
  mend: put one of 'braided 0.12', 'braided 0.15', 'braided 0.18', 'nylon 0.20', 'nylon 0.30' or a group in { } here";

    no_such_needle:
        needle(r#""needle": 9"#),
r"error: lantern.json:9:13: needle: expected one of 10, 11, 12, 13, 15, found 9
  mend: write one of them";

    a_needle_in_words:
        needle(r#""needle": "size 12""#),
r"error: lantern.json:9:13: needle: expected one of 10, 11, 12, 13, 15 or a group in { }, found the text 'size 12'
  mend: put one of 10, 11, 12, 13, 15 or a group in { } here";

    a_needle_of_no_width:
        needle(r#""needle": {"diameter_mm": 0}"#),
r"error: lantern.json:9:29: needle.diameter_mm: expected a number from 0.01 to 1000, found 0
  mend: put a number from 0.01 to 1000 here";
}
