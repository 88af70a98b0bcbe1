//! Panels that cannot be worked.

use super::{face, lantern};

refused! {
    a_law_that_cannot_follow_itself:
        face(r#""sides": 3, "rounds": 8, "corners": [2, 1], "colours": ["all: S*"]"#),
r"error: lantern.json:11:51: panels.face.corners: the law ends with 1; when it repeats, its first, 2, cannot follow
  mend: add 0 at the end";

    a_law_that_cannot_follow_the_ring:
        face(r#""sides": 3, "rounds": 8, "corners": [0, 2], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:51: panels.face.corners: the law begins with 0, which cannot follow the 0 of the ring
  mend: write 1 or 2 there: one of them follows a corner of 0 or 2 beads; or change "start""#;

    a_law_that_breaks_within:
        face(r#""sides": 3, "rounds": 8, "corners": [2, 0, 2], "colours": ["all: S*"]"#),
r"error: lantern.json:11:51: panels.face.corners: corner 2 of the law has 0, which cannot follow 2
  mend: write 1 or 2 there: one of them follows a corner of 0 or 2 beads";

    a_start_that_the_law_cannot_follow:
        face(r#""sides": 3, "rounds": 8, "start": "points", "colours": ["all: S*"]"#),
r#"error: lantern.json:11:49: panels.face.start: the usual corners of a panel of 3 sides cannot follow this ring
  mend: write "start": "sides", or add "corners" that follow it"#;

    corners_that_are_not_the_ends_of_sides:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["2*3"], "corner_beads": [1, 6, 3], "colours": ["all: S*"]"#),
r"error: lantern.json:11:85: panels.face.corner_beads: the last round has 6 beads, and these are not the ends of 3 sides
  mend: name 3 beads in working order, from 1 to 6";

    some_corners_in_pairs_and_some_single:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["2*3"], "corner_beads": [1, 3, 6], "colours": ["all: S*"]"#),
r"error: lantern.json:11:85: panels.face.corner_beads: some of these beads are the first of a pair, and some are single
  mend: let all corners be pairs, or all single beads";

    gaps_of_a_round_that_stays_open:
        face(r#""sides": 3, "rounds": 5, "way": "inward", "open": 2, "gaps": [{ "round": 4, "gap": 2, "beads": 2 }, { "round": 2, "gap": 1, "beads": 2 }], "colours": ["all: S*"]"#),
r"error: lantern.json:11:115: panels.face.gaps[2]: round 2 is not worked
  mend: name a round from 3 to 5";

    a_gap_that_a_round_does_not_have:
        face(r#""sides": 3, "rounds": 5, "gaps": [{ "round": 3, "gap": 3, "beads": 2 }, { "round": 4, "gap": 11, "beads": 0 }], "colours": ["all: S*"]"#),
r"error: lantern.json:11:87: panels.face.gaps[2]: round 4 has no gap 11
  mend: name a gap from 1 to 9";

    gaps_that_leave_no_ring:
        face(r#""sides": 3, "rounds": 5, "gaps": [{ "round": 1, "gap": 3, "beads": 0 }], "colours": ["all: S*"]"#),
r"error: lantern.json:11:49: panels.face.gaps[1]: the ring in the middle would have fewer than three beads
  mend: leave fewer gaps empty";

    gaps_beside_words:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["2*3"], "gaps": [{ "round": 2, "gap": 1, "beads": 1 }], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:69: panels.face.gaps: a panel with 'words' of its own says there what each gap holds
  mend: take out "gaps""#;

    corners_of_a_law:
        face(r#""sides": 3, "rounds": 2, "corner_beads": [2, 4, 6], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:40: panels.face.corner_beads: only a panel with 'words' of its own is told where its corners are
  mend: take out "corner_beads""#;

    a_stone_that_the_opening_does_not_hold:
        face(r#""sides": 3, "rounds": 8, "way": "inward", "open": 3, "stone": 8, "colours": ["all: S*"]"#),
r#"error: lantern.json:11:77: panels.face.stone: the opening is 4.4 mm across and does not hold a stone of 8 mm
  mend: write "open": 5, or take another stone"#;

    a_stone_without_an_opening:
        face(r#""sides": 3, "rounds": 8, "stone": 5, "colours": ["all: S*"]"#),
r#"error: lantern.json:11:49: panels.face.stone: this panel has no open middle that holds a stone
  mend: write "open" with the rounds that stay open, or take "stone" out"#;

    a_strip_of_an_odd_width:
        face(r#""stitch": "strip", "width": 7, "rows": 8, "colours": ["all: S*"]"#),
r#"error: lantern.json:11:43: panels.face.width: a strip 7 beads wide needs a turn of its own at one edge, which is not made yet
  mend: make it 6 or 8 wide"#;

    a_strip_with_rounds_and_a_join_row:
        face(r#""stitch": "strip", "width": 6, "rounds": 8, "colours": ["all: S*"], "row": "A*""#),
r#"error: lantern.json:11:13: panels.face: the field 'rows' is missing
  mend: add "rows" with a whole number from 2 to 10000
error: lantern.json:11:46: panels.face.rounds: a strip has no 'rounds'
  mend: write "rows" instead
error: lantern.json:11:83: panels.face.row: a strip has no 'row'
  mend: take "row" out"#;

    a_width_without_a_strip:
        face(r#""sides": 3, "rounds": 8, "width": 6, "colours": ["all: S*"]"#),
r#"error: lantern.json:11:40: panels.face.width: only a strip has 'width'
  mend: write "stitch": "strip", or take "width" out"#;

    a_strip_whose_colours_do_not_fit:
        face(r#""stitch": "strip", "width": 6, "rows": 8, "colours": ["all: S*", "3: S S"]"#),
r"error: lantern.json:11:80: panels.face.colours[2]: the word 'S S' gives 2 beads, round 3 has 3 on a side
  mend: give 3 letters, or put * after the letter that may repeat, such as 'A S* A'";

    a_strip_whose_gap_words_do_not_fit:
        face(r#""stitch": "strip", "width": 6, "rows": 6, "words": ["1*3", "1 2 1", "1*3"], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:83: panels.face.words[3]: the gap word of round 5 is for 3 gaps, round 4 has 4 beads
  mend: give 4 numbers, one for each bead"#;

    a_strip_without_a_bead_at_its_edge:
        face(r#""stitch": "strip", "width": 6, "rows": 6, "words": ["1*3", "0 2 1"], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:74: panels.face.words[2]: row 4 has no bead in its first gap, at the edge where the needle turns
  mend: begin the gap word with 1 or more"#;

    a_strip_with_more_gap_words_than_rows:
        face(r#""stitch": "strip", "width": 6, "rows": 3, "words": ["1*3", "1*3"], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:66: panels.face.words: a strip of 3 rows takes 1 gap word at the most, found 2
  mend: write "rows": 4, or take words out; the first is that of row 3"#;

    a_strip_with_corners_of_its_own:
        face(r#""stitch": "strip", "width": 6, "rows": 3, "ring": 3, "corner_beads": [1, 2, 3], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:57: panels.face.ring: a strip has no 'ring'
  mend: take "ring" out
error: lantern.json:11:68: panels.face.corner_beads: a strip has no 'corner_beads'
  mend: take "corner_beads" out"#;

    a_strip_as_a_face:
        face(r#""stitch": "strip", "width": 6, "rows": 8, "colours": ["all: S*"]"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "solid": "tetrahedron", "faces": ["face"] }"#),
r#"error: lantern.json:14:46: make.faces: the panel 'face' is a strip, and strips cannot be joined yet
  mend: make the strip by itself, or take another panel"#;

    a_strip_with_a_join_row_in_a_job:
        face(r#""stitch": "strip", "width": 6, "rows": 8, "colours": ["all: S*"]"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "jobs": [{ "panel": "face" }, { "row": "face", "sides": [1] }] }"#),
r"error: lantern.json:14:70: make.jobs[2].sides[1]: the panel 'face' is a strip, and strips cannot be joined yet
  mend: make the strip by itself, or take another panel";

    words_and_a_law:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["2*3"], "corners": [2], "start": "sides", "colours": ["all: S*"]"#),
r#"error: lantern.json:11:69: panels.face.corners: a panel with 'words' of its own cannot have 'corners'
  mend: take out "corners", or take out "words" and "ring"
error: lantern.json:11:85: panels.face.start: a panel with 'words' of its own cannot have 'start'
  mend: take out "start", or take out "words" and "ring""#;

    words_without_a_ring:
        face(r#""sides": 3, "rounds": 2, "words": ["2*3"], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:13: panels.face: 'ring' and 'words' go together, and 'ring' is missing
  mend: add "ring" with the beads of round 1"#;

    a_ring_without_words:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "colours": ["all: S*"]"#),
r#"error: lantern.json:11:13: panels.face: 'ring' and 'words' go together, and 'words' is missing
  mend: add "words" with a gap word for round 2 and on, or take "ring" out"#;

    a_word_too_few:
        face(r#""sides": 3, "rounds": 8, "ring": 3, "words": ["2*3"], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:60: panels.face.words: 8 rounds need 7 gap words after the ring, found 1
  mend: give a word for each round from 2 on, or "corners" by which the rest goes on, or write "rounds": 2"#;

    words_that_show_no_corners:
        face(r#""sides": 3, "rounds": 4, "ring": 3, "words": ["1*3"], "corners": [2], "colours": ["all: S*"]"#),
r"error: lantern.json:11:80: panels.face.corners: the words before them do not show where the corners are
  mend: end the words with a round of pairs at the corners and one bead in each other gap, and the rounds after it";

    a_corner_that_cannot_follow_the_words:
        face(r#""sides": 3, "rounds": 4, "ring": 3, "words": ["2*3"], "corners": [0], "colours": ["all: S*"]"#),
r"error: lantern.json:11:80: panels.face.corners: a corner of 0 cannot follow in round 3
  mend: after 2 beads or none write 1 or 2, after 1 write 0";

    a_word_for_other_gaps:
        face(r#""sides": 3, "rounds": 3, "ring": 3, "words": ["2*3", "1*5"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:68: panels.face.words[2]: the gap word of round 3 is for 5 gaps, round 2 has 6 beads
  mend: give 6 numbers, one for each bead";

    a_round_of_no_beads:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["0*3"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: round 2 has no beads
  mend: put a bead into at least one gap, or end the panel a round earlier";

    three_in_a_gap:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["5 2 1"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 puts '5' beads into a gap
  mend: a gap takes 0 to 4; part the numbers by spaces";

    an_empty_word:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": [""], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 is empty
  mend: write a number for each gap, such as 2*3";

    letters_in_a_gap_word:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["2 x 1"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 has 'x', which means nothing there
  mend: write the numbers 0 to 4, brackets ( ) and *, such as (2 1)*6";

    a_star_with_no_times:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["2*"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 has a * without something to repeat or how often
  mend: write 1*6 or (2 1)*6";

    an_open_bracket:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["(2 1"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 has brackets that do not match
  mend: close each ( with a ), with something between";

    brackets_too_deep:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["(((((((((1)))))))))"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 has brackets within brackets within brackets
  mend: write it with fewer brackets";

    gaps_without_end:
        face(r#""sides": 3, "rounds": 2, "ring": 3, "words": ["(1*4000000000)*4000000000"], "colours": ["all: S*"]"#),
r"error: lantern.json:11:61: panels.face.words[1]: the gap word of round 2 is for more gaps than a piece may have beads
  mend: look for a number of times that is too high";

    a_panel_beyond_the_limit:
        face(r#""sides": 12, "rounds": 1000, "corners": [2], "start": "sides", "colours": ["all: S*"]"#),
r"error: lantern.json:11:13: panels.face: the panels up to this one take 6006000 beads; 4000000 is the most
  mend: take fewer rounds, or take out panels that nothing is made of";

    strips_without_corner_pairs:
        face(r#""sides": 4, "rounds": 10, "way": "inward-from-strips", "colours": ["all: S*"]"#),
r#"error: lantern.json:11:48: panels.face.way: a strip for each side ends in a corner pair, and the last round here, 10, has 1 bead at its corners
  mend: end on a round whose corners take 2 beads, or write "inward" for one string"#;

    an_open_middle_outward:
        face(r#""sides": 3, "rounds": 8, "open": 2, "colours": ["all: S*"]"#),
r#"error: lantern.json:11:48: panels.face.open: a panel worked outward begins in the middle, which cannot stay open
  mend: write "way": "inward", or take "open" out"#;

    all_rounds_open:
        lantern(r#""open": 2"#, r#""open": 8"#),
r"error: lantern.json:12:67: panels.window.open: 8 of 8 rounds stay open, and inward work needs at least two
  mend: leave at most 6 open";

    all_rounds_open_but_one:
        lantern(r#""open": 2"#, r#""open": 7"#),
r"error: lantern.json:12:67: panels.window.open: 7 of 8 rounds stay open, and inward work needs at least two
  mend: leave at most 6 open";

    nothing_can_stay_open:
        lantern(r#""rounds": 8, "way": "inward", "open": 2"#, r#""rounds": 2, "way": "inward", "open": 1"#),
r#"error: lantern.json:12:67: panels.window.open: 1 of 2 rounds stay open, and inward work needs at least two
  mend: take "open" out, or give it more "rounds""#;

    a_ring_worked_inward:
        lantern(r#""rounds": 8, "way": "inward", "open": 2"#, r#""rounds": 1, "way": "inward""#),
r#"error: lantern.json:12:39: panels.window.rounds: inward work begins with two rounds, and this panel has 1
  mend: give it at least 2 "rounds", or take "way" out"#;

    own_words_that_do_not_read_backwards:
        face(r#""sides": 3, "rounds": 3, "way": "inward", "ring": 4, "words": ["1 0 0 2", "1*3"], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:78: panels.face.words[1]: worked inward, a gap of round 2 would have to take more than two beads, or the whole of round 1
  mend: let no two gaps side by side go without a bead, or take "way" out"#;

    own_words_whose_beads_lie_in_one_gap:
        face(r#""sides": 3, "rounds": 3, "way": "inward", "ring": 3, "words": ["1 1 0", "2 0"], "colours": ["all: S*"]"#),
r#"error: lantern.json:11:87: panels.face.words[2]: worked inward, a gap of round 3 would have to take more than two beads, or the whole of round 2
  mend: let no two gaps side by side go without a bead, or take "way" out"#;

    a_name_that_cannot_be_seen:
        lantern(r#""window": {"#, r#""win\u202edow": {"#),
r#"error: lantern.json:12:5: panels."window": 'window' cannot be a name: it is empty, too long, or has a sign that cannot be seen
  mend: take 1 to 60 characters, all of which can be seen"#;

    a_name_of_nothing:
        lantern(r#""window": {"#, r#""": {"#),
r#"error: lantern.json:12:5: panels."": '' cannot be a name: it is empty, too long, or has a sign that cannot be seen
  mend: take 1 to 60 characters, all of which can be seen"#;
}
