//! Colours that do not read or do not fit.

use super::{face, lantern};

refused! {
    no_colon:
        face(r#""sides": 3, "rounds": 8, "colours": ["S*"]"#),
r#"error: lantern.json:11:52: panels.face.colours[1]: no colon parts the rounds from their colours
  mend: write it like "1-8: A S* A" or "all: S*""#;

    no_rounds:
        face(r#""sides": 3, "rounds": 8, "colours": [": S*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: no rounds stand before the colon
  mend: write rounds there, such as all, 3 or 1-8";

    a_round_in_words:
        face(r#""sides": 3, "rounds": 8, "colours": ["last: S*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: 'last' is not a round
  mend: write rounds as 3, 1-8, 1-9 by 2, or all";

    a_round_that_is_not_there:
        face(r#""sides": 3, "rounds": 8, "colours": ["1-9: S*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: there is no round 9: the panel has rounds 1 to 8
  mend: name a round that is there, or write all";

    a_range_backwards:
        face(r#""sides": 3, "rounds": 8, "colours": ["8-1: S*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: rounds 8 to 1 run backwards
  mend: write 1-8";

    by_nothing:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*", "1-8 by: A*"]"#),
r"error: lantern.json:11:63: panels.face.colours[2]: 'by' stands between a range and a number from 1
  mend: write it like 1-9 by 2";

    rounds_without_colour:
        face(r#""sides": 3, "rounds": 8, "colours": ["1-2 5 8: S*"]"#),
r#"error: lantern.json:11:51: panels.face.colours: rounds 3 to 4 have no colour
  mend: begin the list with a line for all rounds, such as "all: S*"
error: lantern.json:11:51: panels.face.colours: rounds 6 to 7 have no colour
  mend: begin the list with a line for all rounds, such as "all: S*""#;

    two_words_for_three_sides:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S* / A*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: 2 words for 3 sides
  mend: give one word for every side, or 3 parted by /";

    no_lines:
        face(r#""sides": 3, "rounds": 8, "colours": []"#),
r"error: lantern.json:11:51: panels.face.colours: nothing is in here
  mend: add at least one entry";

    a_letter_without_a_bead:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S* Q"]"#),
r#"error: lantern.json:11:52: panels.face.colours[1]: no bead has the letter 'Q' of the word 'S* Q'
  mend: add a bead "Q", or use 'S' or 'A'"#;

    no_bead_with_a_letter:
        lantern(r#""S": {"#, r#""Sea": {"#).replace(r#""A": {"#, r#""Am": {"#),
r#"error: lantern.json:5:5: beads.Sea: 'Sea' is not one letter
  mend: name the bead by a single letter such as "S"; its full name goes into "name"
error: lantern.json:6:5: beads.Am: 'Am' is not one letter
  mend: name the bead by a single letter such as "S"; its full name goes into "name"
error: lantern.json:11:52: panels.face.colours[1]: no bead has the letter 'S' of the word 'S*'
  mend: add a bead "S"
error: lantern.json:12:82: panels.window.colours[1]: no bead has the letter 'A' of the word 'A*'
  mend: add a bead "A""#;

    a_letter_of_the_other_case:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: s*"]"#),
r#"error: lantern.json:11:52: panels.face.colours[1]: no bead has the letter 's' of the word 's*'
  mend: write 'S', or add a bead "s""#;

    a_word_too_short:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*", "5: A S S"]"#),
r"error: lantern.json:11:63: panels.face.colours[2]: the word 'A S S' gives 3 beads, round 5 has 5 on a side
  mend: give 5 letters, or put * after the letter that may repeat, such as 'A S* A'";

    a_word_too_long:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*", "1-3: A S S"]"#),
r"error: lantern.json:11:63: panels.face.colours[2]: the word 'A S S' gives 3 beads, round 1 has 1 on a side
  mend: give 1 letter, or put * after the letter that may repeat, such as 'A S* A'";

    a_word_too_long_to_stretch:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S3 A*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word 'S3 A*' gives at least 3 beads, round 1 has 1 on a side
  mend: give at most 1 letter besides the one with *";

    half_a_word_too_short:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*", "7: A S mirror"]"#),
r"error: lantern.json:11:63: panels.face.colours[2]: the word 'A S mirror' gives 2 beads, round 7 has 7 on a side, so half a side is 4
  mend: give 4 letters, or put * after the letter that may repeat, such as 'A S* mirror'";

    one_side_too_long:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*", "2: S S / S S S / S*"]"#),
r"error: lantern.json:11:63: panels.face.colours[2]: the word 'S S S' gives 3 beads, round 2 has 2 on side 2
  mend: give 2 letters, or put * after the letter that may repeat, such as 'A S* A'";

    sides_that_differ:
        face(r#""sides": 3, "rounds": 2, "ring": 4, "words": ["1*4"], "colours": ["all: S S"]"#),
r"error: lantern.json:11:81: panels.face.colours[1]: the word 'S S' gives 2 beads, round 1 has 1 on side 2
  mend: give 1 letter, or put * after the letter that may repeat, such as 'A S* A'";

    an_empty_word:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S* / / S*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word '' is empty
  mend: write at least one letter, such as S*";

    a_sign_that_means_nothing:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S* - A"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word 'S* - A' has '-', which means nothing there
  mend: write letters of beads, numbers, ( ), * and at the end mirror";

    brackets_that_do_not_match:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: (S A"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word '(S A' has brackets that do not match
  mend: close each ( with a ), with letters but no other brackets between";

    two_stars:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S* A*"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word 'S* A*' has more than one *
  mend: let only one letter or group repeat as needed";

    a_star_of_nothing:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: *S"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word '*S' has a * where nothing can repeat
  mend: put * after a letter or after a closing bracket";

    a_number_of_nothing:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: 3S"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word '3S' has a number with no letter to repeat
  mend: put the number, from 1, after its letter or bracket, such as S3";

    a_mirror_within:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S mirror A"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word 'S mirror A' has mirror before its end
  mend: write mirror once, at the end of the first half";

    too_many_letters:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S5000"]"#),
r"error: lantern.json:11:52: panels.face.colours[1]: the word 'S5000' gives more than 4096 letters
  mend: put * after the letter that may repeat";

    a_row_that_does_not_fit_between_corner_beads:
        face(r#""sides": 3, "rounds": 6, "corners": [2, 1, 0], "colours": ["all: S*"], "row": "S A S S""#),
r"error: lantern.json:11:93: panels.face.row: the word 'S A S S' gives 4 beads, a join row has 3
  mend: give 3 letters, or put * after the letter that may repeat, such as 'A S* A'";

    a_row_that_does_not_fit:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*"], "row": "S A S""#),
r"error: lantern.json:11:71: panels.face.row: the word 'S A S' gives 3 beads, a join row has 7
  mend: give 7 letters, or put * after the letter that may repeat, such as 'A S* A'";

    rows_for_too_few_sides:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*"], "row": "S* / A*""#),
r"error: lantern.json:11:71: panels.face.row: 2 words for 3 sides
  mend: give one word for every side, or 3 parted by /";

    one_row_of_three_that_does_not_fit:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*"], "row": "S* / A S / S*""#),
r"error: lantern.json:11:71: panels.face.row: the word 'A S' gives 2 beads, a join row has 7
  mend: give 7 letters, or put * after the letter that may repeat, such as 'A S* A'";

    a_tip_of_two:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*"], "tip": "SS""#),
r#"error: lantern.json:11:71: panels.face.tip: 'SS' is not the letter of one bead
  mend: write a single letter, such as "A""#;

    a_tip_without_a_bead:
        face(r#""sides": 3, "rounds": 8, "colours": ["all: S*"], "tip": "Q""#),
r#"error: lantern.json:11:71: panels.face.tip: no bead has the letter 'Q' of the word 'Q'
  mend: add a bead "Q", or use 'S' or 'A'"#;
}
