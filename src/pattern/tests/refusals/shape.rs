//! Fields that are unknown, missing, duplicated or of the wrong kind.

use super::{face, lantern, needle};

refused! {
    an_unknown_field:
        lantern(r#""thread":"#, r#""threads":"#),
r"error: lantern.json:8:3: threads: there is no field 'threads' here
  mend: write 'thread'";

    an_unknown_field_like_no_other:
        needle(r#""needle": 12, "weather": "fine""#),
r"error: lantern.json:9:17: weather: there is no field 'weather' here
  mend: take it out; here may stand 'about', 'joins' and 'own'";

    an_unknown_field_of_a_panel:
        lantern(r#""open": 2"#, r#""opening": 2"#),
r"error: lantern.json:12:59: panels.window.opening: there is no field 'opening' here
  mend: write 'open'";

    a_missing_field:
        face(r#""sides": 3, "colours": ["all: S*"]"#),
r#"error: lantern.json:11:13: panels.face: the field 'rounds' is missing
  mend: add "rounds" with a whole number from 1 to 1000"#;

    a_missing_make:
        lantern(r#",
  "make": { "panel": "face" }"#, ""),
r#"error: lantern.json:1:1: the field 'make' is missing
  mend: add "make" with a group in { }"#;

    a_field_given_twice:
        lantern(r#""needle": 12,"#, r#""needle": 12,
  "needle": 10,"#),
r"error: lantern.json:10:3: needle: 'needle' is given twice
  mend: take one of the two out";

    a_bead_given_twice:
        lantern(r#""A": {"#, r#""S": {"#),
r"error: lantern.json:6:5: beads.S: 'S' is given twice
  mend: take one of the two out, or give it a name of its own";

    no_pattern_at_all:
        "[1, 2]",
r"error: lantern.json:1:1: expected a group in { }, found a list in [ ]
  mend: put a group in { } here";

    a_number_in_quotes:
        face(r#""sides": "3", "rounds": 8, "colours": ["all: S*"]"#),
r"error: lantern.json:11:24: panels.face.sides: expected a whole number from 3 to 12, found the text '3'
  mend: write 3 without quotes";

    half_a_side:
        face(r#""sides": 3.5, "rounds": 8, "colours": ["all: S*"]"#),
r"error: lantern.json:11:24: panels.face.sides: expected a whole number from 3 to 12, found 3.5
  mend: put a whole number from 3 to 12 here";

    too_few_sides:
        face(r#""sides": 2, "rounds": 8, "colours": ["all: S*"]"#),
r"error: lantern.json:11:24: panels.face.sides: expected a whole number from 3 to 12, found 2
  mend: put a whole number from 3 to 12 here";

    too_many_sides:
        face(r#""sides": 13, "rounds": 8, "colours": ["all: S*"]"#),
r"error: lantern.json:11:24: panels.face.sides: expected a whole number from 3 to 12, found 13
  mend: put a whole number from 3 to 12 here";

    no_rounds:
        face(r#""sides": 3, "rounds": 0, "colours": ["all: S*"]"#),
r"error: lantern.json:11:37: panels.face.rounds: expected a whole number from 1 to 1000, found 0
  mend: put a whole number from 1 to 1000 here";

    too_many_rounds:
        face(r#""sides": 3, "rounds": 1001, "colours": ["all: S*"]"#),
r"error: lantern.json:11:37: panels.face.rounds: expected a whole number from 1 to 1000, found 1001
  mend: put a whole number from 1 to 1000 here";

    fewer_rounds_than_none:
        face(r#""sides": 3, "rounds": -8, "colours": ["all: S*"]"#),
r"error: lantern.json:11:37: panels.face.rounds: expected a whole number from 1 to 1000, found -8
  mend: put a whole number from 1 to 1000 here";

    a_needle_in_quotes:
        needle(r#""needle": "12""#),
r"error: lantern.json:9:13: needle: expected one of 10, 11, 12, 13, 15 or a group in { }, found the text '12'
  mend: write 12 without quotes";

    a_text_for_a_list:
        face(r#""sides": 3, "rounds": 8, "colours": "all: S*""#),
r"error: lantern.json:11:51: panels.face.colours: expected a list in [ ], found the text 'all: S*'
  mend: put [ ] round it";

    all_that_is_wrong_at_once:
        face(r#""sides": "3", "rounds": 0, "colors": ["all: S*"]"#),
r"error: lantern.json:11:24: panels.face.sides: expected a whole number from 3 to 12, found the text '3'
  mend: write 3 without quotes
error: lantern.json:11:39: panels.face.rounds: expected a whole number from 1 to 1000, found 0
  mend: put a whole number from 1 to 1000 here
error: lantern.json:11:42: panels.face.colors: there is no field 'colors' here
  mend: write 'colours'";

    null:
        lantern(r#""way": "inward""#, r#""way": null"#),
r"error: lantern.json:12:49: panels.window.way: expected one of 'outward', 'inward', 'inward-from-strips', found null
  mend: write one of them";

    no_such_way:
        lantern(r#""way": "inward""#, r#""way": "inwards""#),
r"error: lantern.json:12:49: panels.window.way: expected one of 'outward', 'inward', 'inward-from-strips', found the text 'inwards'
  mend: write 'inward'";

    a_corner_of_three:
        face(r#""sides": 3, "rounds": 8, "corners": [3], "colours": ["all: S*"]"#),
r"error: lantern.json:11:52: panels.face.corners[1]: expected a whole number from 0 to 2, found 3
  mend: put a whole number from 0 to 2 here";

    no_corners:
        face(r#""sides": 3, "rounds": 8, "corners": [], "colours": ["all: S*"]"#),
r"error: lantern.json:11:51: panels.face.corners: nothing is in here
  mend: add at least one entry";

    a_long_title:
        lantern(r#""Harbour lantern""#, r#""lalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalalala""#),
r"error: lantern.json:3:12: title: this text has 122 characters; 120 is the most
  mend: shorten it";

    no_title:
        lantern(r#""Harbour lantern""#, r#""""#),
r"error: lantern.json:3:12: title: this text is empty
  mend: write something here";

    a_title_of_nothing_to_see:
        lantern(r#""Harbour lantern""#, r#""\u202e ""#),
r"error: lantern.json:3:12: title: this text is empty
  mend: write something here";

    no_beads:
        lantern(r##""S": { "name": "sea green", "size": "cylinder 11/0", "colour": "#2f7f79" },
    "A": { "name": "amber", "size": "cylinder 11/0", "colour": "#d98a24" }"##, ""),
r"error: lantern.json:4:12: beads: nothing is in here
  mend: add at least one entry";
}
