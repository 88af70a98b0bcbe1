//! Jobs that cannot be done.

use super::{lantern, making};

refused! {
    no_such_panel:
        making(r#"{ "jobs": [
    { "panel": "fase" }
  ] }"#),
r#"error: lantern.json:15:16: make.jobs[1].panel: there is no panel 'fase'
  mend: write 'face', or add the panel to "panels""#;

    a_panel_not_made:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "lefty", "sides": [1] }
  ] }"#),
r"error: lantern.json:16:14: make.jobs[2].row: no job before this one makes a panel 'lefty'
  mend: write 'left'";

    nothing_made:
        making(r#"{ "jobs": [
    { "row": "left", "sides": [1] }
  ] }"#),
r"error: lantern.json:15:14: make.jobs[1].row: no job before this one makes a panel 'left'
  mend: make the panel in an earlier job";

    made_twice:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "panel": "face", "as": "left" }
  ] }"#),
r#"error: lantern.json:16:5: make.jobs[2]: a job before this one has made a panel 'left'
  mend: give this one another name with "as""#;

    a_join_of_no_zip:
        making(r#"{ "solid": "tetrahedron", "faces": ["face"] },
  "joins": [
    { "job": 1, "side": 1, "past": [4] },
    { "job": 5, "side": 1, "past": [4] },
    { "job": 99, "side": 1, "past": [4] }
  ]"#),
r"error: lantern.json:16:25: joins[1].side: job 1 does not zip side 1 of a panel
  mend: write the number of a job that does, as the overview has it
error: lantern.json:17:25: joins[2].side: job 5 does not zip side 1 of a panel
  mend: write side 3, or the number of another job
error: lantern.json:18:26: joins[3].side: job 99 does not zip side 1 of a panel
  mend: write the number of a job that does, as the overview has it";

    a_row_with_gaps_that_do_not_fit:
        making(r#"{ "solid": "tetrahedron", "faces": ["face"] },
  "joins": [
    { "job": 2, "side": 1, "gaps": "1*7 2" },
    { "job": 2, "side": 2, "gaps": "1*6 3" },
    { "job": 2, "side": 3, "gaps": "1*7" },
    { "job": 4, "side": 1, "gaps": "1*7", "past": [3] },
    { "job": 2, "side": 2 }
  ]"#),
r#"error: lantern.json:16:36: joins[1].gaps: these are 8 gaps, and side 1 has 7 between its up beads
  mend: give 7 numbers
error: lantern.json:17:36: joins[2].gaps: a gap of a join row takes two beads at the most
  mend: write 0, 1 or 2 for each gap
error: lantern.json:18:25: joins[3].side: job 2 does not work a row on side 3 of a panel
  mend: write side 1 or 2, or the number of another job
error: lantern.json:19:5: joins[4]: nothing is said of this join, or too much
  mend: give it "past", if the job is a zip, or "gaps", if it is a row
error: lantern.json:20:5: joins[5]: nothing is said of this join, or too much
  mend: give it "past", if the job is a zip, or "gaps", if it is a row"#;

    a_join_with_ways_that_do_not_lead_past:
        making(r#"{ "solid": "tetrahedron", "faces": ["face"] },
  "joins": [
    { "job": 5, "side": 3, "past": [4, 6, 99] },
    { "job": 5, "side": 3, "past": [9] }
  ]"#),
r#"error: lantern.json:16:40: joins[1].past[2]: the needle goes past a bead beside this one already, so the sides would lie open there
  mend: let the numbers be 3 or more apart
error: lantern.json:16:43: joins[1].past[3]: no single bead next door leads past bead 99 of this join
  mend: take it out, or name another bead of the join
error: lantern.json:17:5: joins[2]: side 3 of job 5 is listed already
  mend: put all of it into one entry"#;

    no_such_side:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [4] }
  ] }"#),
r"error: lantern.json:16:32: make.jobs[2].sides[1]: 'left' has no side 4: its sides are 1 to 3
  mend: name a side that it has";

    side_nought:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [0] }
  ] }"#),
r"error: lantern.json:16:32: make.jobs[2].sides[1]: expected a whole number from 1 to 12, found 0
  mend: put a whole number from 1 to 12 here";

    two_rows_on_a_side:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 1] }
  ] }"#),
r"error: lantern.json:16:35: make.jobs[2].sides[2]: side 1 of 'left' has a join row already
  mend: take the side out here";

    a_join_with_no_row:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "panel": "face", "as": "right" },
    { "zip": "right", "sides": [{ "side": 1, "onto": "left", "at": 1 }] }
  ] }"#),
r#"error: lantern.json:17:33: make.jobs[3].sides[1]: side 1 of 'left' has no join row
  mend: work one in a job before: {"row": "left", "sides": [1]}"#;

    a_join_with_two_rows:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "panel": "face", "as": "right" },
    { "row": "left", "sides": [1] },
    { "row": "right", "sides": [1] },
    { "zip": "right", "sides": [{ "side": 1, "onto": "left", "at": 1 }] }
  ] }"#),
r"error: lantern.json:19:33: make.jobs[5].sides[1]: both sides of this join have a row, side 1 of 'right' among them
  mend: leave out the row on side 1 of 'right'";

    a_row_on_the_wrong_side:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "panel": "face", "as": "right" },
    { "row": "left", "sides": [1] },
    { "zip": "left", "sides": [{ "side": 1, "onto": "right", "at": 1 }] }
  ] }"#),
r"error: lantern.json:18:32: make.jobs[4].sides[1]: side 1 of 'left' has the row, and the side it is zipped onto has none
  mend: zip the other panel onto this one, or work the row on the other side";

    a_side_joined_twice:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "panel": "face", "as": "right" },
    { "row": "left", "sides": [1] },
    { "zip": "right", "sides": [{ "side": 1, "onto": "left", "at": 1 }, { "side": 2, "onto": "left", "at": 1 }] }
  ] }"#),
r"error: lantern.json:18:73: make.jobs[4].sides[2]: side 1 of 'left' is joined already
  mend: name a side that is still open";

    a_row_on_a_joined_side:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "panel": "face", "as": "right" },
    { "row": "left", "sides": [1] },
    { "zip": "right", "sides": [{ "side": 1, "onto": "left", "at": 1 }] },
    { "row": "right", "sides": [1] }
  ] }"#),
r"error: lantern.json:19:33: make.jobs[5].sides[1]: side 1 of 'right' is joined already
  mend: name a side that is still open";

    a_side_joined_to_itself:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1] },
    { "zip": "left", "sides": [{ "side": 1, "onto": "left", "at": 1 }] }
  ] }"#),
r"error: lantern.json:17:32: make.jobs[3].sides[1]: side 1 of 'left' cannot be joined to itself
  mend: name the side that it meets";

    zipped_onto_nothing:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "zip": "left", "sides": [{ "side": 1, "onto": "lift", "at": 1 }] }
  ] }"#),
r"error: lantern.json:16:53: make.jobs[2].sides[1].onto: no job before this one makes a panel 'lift'
  mend: write 'left'";

    sides_of_different_lengths:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 3, "rounds": 7, "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "jobs": [ { "panel": "face" }, { "row": "face", "sides": [1] }, { "panel": "window" }, { "zip": "window", "sides": [{ "side": 1, "onto": "face", "at": 1 }] } ] }"#),
r#"error: lantern.json:14:129: make.jobs[4].sides[1]: a side of 'window' has 8 up beads and one of 'face' has 7, so they cannot be joined
  mend: leave out the row: sides that differ by one lock directly"#;

    a_row_on_the_shorter_of_two_sides:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 3, "rounds": 6, "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "jobs": [ { "panel": "face" }, { "row": "face", "sides": [1] }, { "panel": "window" }, { "zip": "window", "sides": [{ "side": 1, "onto": "face", "at": 1 }] } ] }"#),
r#"error: lantern.json:14:129: make.jobs[4].sides[1]: a side of 'window' has 8 up beads and one of 'face' has 6, so they cannot be joined
  mend: sides that differ by two take a row on the longer, a bead in each gap: work it there, and zip the shorter onto it"#;

    sides_that_take_an_easing_row:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 3, "rounds": 5, "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "jobs": [ { "panel": "face" }, { "row": "face", "sides": [1] }, { "panel": "window" }, { "zip": "window", "sides": [{ "side": 1, "onto": "face", "at": 1 }] } ] }"#),
r#"error: lantern.json:14:129: make.jobs[4].sides[1]: a side of 'window' has 8 up beads and one of 'face' has 5, so they cannot be joined
  mend: write "eased": true in this side of the zip, or give both panels the same "rounds""#;

    a_row_on_corners_that_are_gaps:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 3, "rounds": 4, "corners": [2, 1, 0], "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "jobs": [ { "panel": "face" }, { "row": "face", "sides": [1] } ] }"#),
r#"error: lantern.json:14:71: make.jobs[2].sides[1]: the panel 'face' cannot be joined: its last round, 4, has no bead at its corners
  mend: end the panel on a round whose corners take 1 or 2 beads: change "rounds" or "corners""#;

    a_name_that_cannot_be_seen:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "\u001b[2J" }
  ] }"#),
r"error: lantern.json:15:30: make.jobs[1].as: '' cannot be a name: it is empty, too long, or has a sign that cannot be seen
  mend: take 1 to 60 characters, all of which can be seen";

    a_job_that_says_nothing:
        making(r#"{ "jobs": [
    { "as": "left" }
  ] }"#),
r"error: lantern.json:15:5: make.jobs[1]: nothing here says what it is: no 'panel', 'row', 'zip', 'fill', 'firm', 'tie', 'set-in' or 'reinforce'
  mend: add one of these fields";

    a_job_misspelt:
        making(r#"{ "jobs": [
    { "pannel": "face" }
  ] }"#),
r"error: lantern.json:15:7: make.jobs[1].pannel: there is no field 'pannel' here
  mend: write 'panel'";

    a_rim_of_too_few_sides:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 2, 3] },
    { "fill": "window", "rim": [{ "panel": "left", "side": 3 }, { "panel": "left", "side": 1 }] }
  ] }"#),
r"error: lantern.json:17:32: make.jobs[3].rim: 'window' has 3 sides, and the rim has 2 sides
  mend: list 3 sides";

    a_rim_the_wrong_way_round:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 2, 3] },
    { "fill": "window", "rim": [{ "panel": "left", "side": 1 }, { "panel": "left", "side": 2 }, { "panel": "left", "side": 3 }] }
  ] }"#),
r"error: lantern.json:17:32: make.jobs[3].rim: the rim is listed the wrong way round
  mend: list its sides in the opposite order: each is met against its own direction";

    a_rim_of_two_sides:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 2] },
    { "firm": [{ "panel": "left", "side": 2 }, { "panel": "left", "side": 1 }] }
  ] }"#),
r"error: lantern.json:17:48: make.jobs[3].firm[2]: the rim does not close: side 1 of 'left' does not meet side 2 of 'left'
  mend: zip the panels between them first, or list the sides in the order in which they meet";

    a_rim_without_rows:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 2] },
    { "firm": [{ "panel": "left", "side": 3 }, { "panel": "left", "side": 2 }, { "panel": "left", "side": 1 }] }
  ] }"#),
r#"error: lantern.json:17:16: make.jobs[3].firm[1]: side 3 of 'left' has no join row
  mend: work one in a job before: {"row": "left", "sides": [3]}"#;

    a_rim_that_is_joined:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 2, 3] },
    { "fill": "window", "rim": [{ "panel": "left", "side": 3 }, { "panel": "left", "side": 2 }, { "panel": "left", "side": 1 }] },
    { "firm": [{ "panel": "left", "side": 3 }, { "panel": "left", "side": 2 }, { "panel": "left", "side": 1 }] }
  ] }"#),
r"error: lantern.json:18:16: make.jobs[4].firm[1]: side 3 of 'left' is joined already
  mend: name a side that is still open
error: lantern.json:18:48: make.jobs[4].firm[2]: side 2 of 'left' is joined already
  mend: name a side that is still open
error: lantern.json:18:80: make.jobs[4].firm[3]: side 1 of 'left' is joined already
  mend: name a side that is still open";

    a_fill_worked_outward:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1, 2, 3] },
    { "fill": "face", "rim": [{ "panel": "left", "side": 3 }, { "panel": "left", "side": 2 }, { "panel": "left", "side": 1 }] }
  ] }"#),
r#"error: lantern.json:17:15: make.jobs[3].fill: an opening is filled inward, and the panel 'face' is worked outward
  mend: write "way": "inward" in the panel 'face', or name another panel"#;

    an_own_step_after_more_movements_than_its_job_has:
        making(r#"{ "panel": "face" },
  "own": [{ "after_job": 1, "after_steps": 1000, "do": "stone" }]"#),
r"error: lantern.json:15:44: own[1].after_steps: job 1 has 96 movements
  mend: write a number from 0 to 96, or take it out for the end of the job";

    gaps_for_too_few_sides:
        filled(r#""gaps": ["1*8", "1*8"]"#),
r"error: lantern.json:17:33: make.jobs[3].gaps: 2 words of gaps for a rim of 3 sides
  mend: write a word for each side";

    gaps_of_another_rim:
        filled(r#""gaps": ["1*8", "1*9", "1*8"]"#),
r"error: lantern.json:17:41: make.jobs[3].gaps[2]: these are 9 gaps, and this side of the rim has 8
  mend: give 8 numbers";

    gaps_that_are_no_word:
        filled(r#""gaps": ["1*8", "x", "1*8"]"#),
r"error: lantern.json:17:41: make.jobs[3].gaps[2]: the gap word of round 8 has 'x', which means nothing there
  mend: write the numbers 0 to 4, brackets ( ) and *, such as (2 1)*6";

    a_corner_of_a_rim_without_a_bead:
        filled(r#""gaps": ["1*8", "0 2 1*6", "1*8"]"#),
r"error: lantern.json:17:41: make.jobs[3].gaps[2]: at the corner of an opening the fill needs a bead
  mend: put at least one bead into the first and the last gap";

    gaps_of_a_rim_with_a_bead_too_many:
        filled(r#""gaps": ["1*8", "1*3 2 1*4", "1*8"]"#),
r#"error: lantern.json:17:33: make.jobs[3].gaps: the gaps hold 25 beads, and the last round of the panel has 24
  mend: let them hold as many, or change "gaps" of the panel"#;

    a_panel_too_large_for_a_middle:
        making(r#"{ "jobs": [
    { "panel": "window" },
    { "panel": "face" },
    { "set-in": "face", "within": "window" }
  ] }"#),
r#"error: lantern.json:17:5: make.jobs[3]: 'face' does not fit into the open middle of 'window'
  mend: take a panel worked outward, of the same corners, with as many "rounds" as the other leaves "open""#;

    a_panel_with_a_row_set_in_a_middle:
        making(r#"{ "jobs": [
    { "panel": "window" },
    { "panel": "face" },
    { "row": "face", "sides": [2] },
    { "set-in": "face", "within": "window" }
  ] }"#),
r#"error: lantern.json:18:5: make.jobs[4]: 'face' does not fit into the open middle of 'window'
  mend: take a panel worked outward, of the same corners, with as many "rounds" as the other leaves "open"
error: lantern.json:18:17: make.jobs[4].set-in: side 2 of 'face' has a row, or is joined already
  mend: set in a panel whose sides are all bare"#;

    two_panels_in_a_middle:
        making(r#"{ "jobs": [
    { "panel": "window" },
    { "panel": "small" },
    { "set-in": "small", "within": "window" },
    { "panel": "small", "as": "other" },
    { "set-in": "other", "within": "window" }
  ] }"#)
        .replace(r#""panels": {"#, r#""panels": { "small": { "sides": 3, "rounds": 2, "colours": ["all: S*"] },"#),
r"error: lantern.json:19:36: make.jobs[5].within: another panel is set in 'window' already
  mend: name another panel";

    a_side_reinforced_that_is_not_zipped:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1] },
    { "reinforce": "left", "side": 1 }
  ] }"#),
r"error: lantern.json:17:5: make.jobs[3]: side 1 of 'left' is not zipped onto another
  mend: name a side that a zip before this job joins, and not the side with the row";

    a_fill_of_another_length:
        lantern(r#""rounds": 8, "way": "inward""#, r#""rounds": 9, "way": "inward""#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "jobs": [ { "panel": "face" }, { "row": "face", "sides": [1, 2, 3] }, { "fill": "window", "rim": [{ "panel": "face", "side": 3 }, { "panel": "face", "side": 2 }, { "panel": "face", "side": 1 }] } ] }"#),
r#"error: lantern.json:14:110: make.jobs[3].rim: a side of 'window' has 9 up beads and one of 'face' has 8, so they cannot be joined
  mend: give both panels the same "rounds""#;

    a_square_rim_for_a_triangle:
        lantern(r#""face": { "sides": 3, "rounds": 8, "colours": ["all: S*"] }"#, r#""face": { "sides": 4, "rounds": 8, "corners": [2], "start": "sides", "colours": ["all: S*"] }"#)
            .replace(r#"{ "panel": "face" }"#, r#"{ "jobs": [ { "panel": "face" }, { "row": "face", "sides": [1, 2, 3, 4] }, { "fill": "window", "rim": [{ "panel": "face", "side": 4 }, { "panel": "face", "side": 3 }, { "panel": "face", "side": 2 }, { "panel": "face", "side": 1 }] } ] }"#),
r"error: lantern.json:14:113: make.jobs[3].rim: 'window' has 3 sides, and the rim has 4 sides
  mend: list 3 sides";

    a_corner_tied_to_itself:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "tie": { "panel": "left", "side": 2 }, "to": { "panel": "left", "side": 2 } }
  ] }"#),
r"error: lantern.json:16:5: make.jobs[2]: the corner at the end of side 2 of 'left' cannot be tied to itself
  mend: name the corner that it is drawn to";

    a_tie_to_no_side:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "tie": { "panel": "left", "side": 2 }, "to": { "panel": "left", "side": 5 } }
  ] }"#),
r"error: lantern.json:16:79: make.jobs[2].to.side: 'left' has no side 5: its sides are 1 to 3
  mend: name a side that it has";

    a_row_on_gap_words:
        kind(r#""rounds": 2, "ring": 3, "words": ["2*3"]"#, r#"{ "row": "face", "sides": [1] }"#),
r#"error: lantern.json:14:71: make.jobs[2].sides[1]: the panel 'face' cannot be joined: gap words of its own do not say where its corners are
  mend: say which beads of its last round end its sides: "corner_beads""#;

    a_tie_of_gap_words:
        kind(r#""rounds": 2, "ring": 3, "words": ["2*3"]"#, r#"{ "tie": { "panel": "face", "side": 1 }, "to": { "panel": "face", "side": 2 } }"#),
r#"error: lantern.json:14:53: make.jobs[2].tie: the panel 'face' cannot be joined: gap words of its own do not say where its corners are
  mend: say which beads of its last round end its sides: "corner_beads""#;

    a_row_on_a_ring:
        kind(r#""rounds": 1"#, r#"{ "row": "face", "sides": [1] }"#),
r#"error: lantern.json:14:71: make.jobs[2].sides[1]: the panel 'face' cannot be joined: its one round has no edge
  mend: give it at least 2 "rounds""#;

    tips_on_corner_beads:
        kind(r#""rounds": 3, "corners": [2, 1, 0]"#, r#"{ "row": "face", "sides": [1], "tips": 1 }"#),
r#"error: lantern.json:14:83: make.jobs[2].tips: tip beads lie inside a corner pair, and the last round of the panel 'face', 3, has 1 bead at its corners
  mend: take "tips" out, or end the panel on a round whose corners take 2 beads"#;

    a_fill_with_corner_beads_on_an_uneven_row:
        kind(r#""rounds": 3, "way": "inward", "corners": [2, 1, 0]"#, r#"{ "row": "face", "sides": [1, 2, 3], "beads": 3 }, { "fill": "face", "as": "lid", "rim": [{ "panel": "face", "side": 3 }, { "panel": "face", "side": 2 }, { "panel": "face", "side": 1 }] }"#),
r#"error: lantern.json:14:133: make.jobs[3].rim: 'face' has one bead at each corner, and so one join bead in each gap of its rim, but not on side 3 of 'face'
  mend: take "beads" and "gaps" of that row out, or fill with a panel that ends in corner pairs"#;

    a_rim_with_a_side_twice:
        making(r#"{ "jobs": [
    { "panel": "face", "as": "left" },
    { "row": "left", "sides": [1] },
    { "tie": { "panel": "left", "side": 3 }, "to": { "panel": "left", "side": 1 } },
    { "firm": [{ "panel": "left", "side": 1 }, { "panel": "left", "side": 1 }] }
  ] }"#),
r"error: lantern.json:18:48: make.jobs[4].firm[2]: side 1 of 'left' is in this rim already
  mend: list each side of the rim once";
}

/// A triangle of which the rim is filled, with this in the job.
fn filled(gaps: &str) -> String {
    making(&format!(
        r#"{{ "jobs": [
    {{ "panel": "face" }},
    {{ "row": "face", "sides": [1, 2, 3] }},
    {{ "fill": "window", {gaps}, "rim": [{{ "panel": "face", "side": 3 }}, {{ "panel": "face", "side": 2 }}, {{ "panel": "face", "side": 1 }}] }}
  ] }}"#
    ))
}

/// The lantern with these rounds in its face, made and then worked on in a job.
fn kind(rounds: &str, job: &str) -> String {
    lantern(
        r#""rounds": 8, "colours": ["all: S*"]"#,
        &format!(r#"{rounds}, "colours": ["all: S*"]"#),
    )
    .replace(
        r#"{ "panel": "face" }"#,
        &format!(r#"{{ "jobs": [ {{ "panel": "face" }}, {job} ] }}"#),
    )
}
