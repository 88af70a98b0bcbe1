//! Files that are not JSON, or not of this version.

use super::{lantern, needle};

refused! {
    an_empty_file:
        "",
r"error: lantern.json:1:1: not JSON: the file is empty
  mend: write a pattern into it";

    a_file_of_blanks:
        "  \n\n",
r"error: lantern.json:1:1: not JSON: the file holds nothing but blanks
  mend: write a pattern into it";

    a_missing_comma:
        lantern(r#""needle": 12,"#, r#""needle": 12"#),
r"error: lantern.json:9:15: not JSON: a comma is missing
  mend: put a comma here";

    a_comma_too_many:
        lantern(r#""make": { "panel": "face" }"#, r#""make": { "panel": "face" },"#),
r"error: lantern.json:14:30: not JSON: no comma may stand before a closing bracket
  mend: take the comma out";

    a_comment:
        lantern(r#""needle": 12,"#, r#""needle": 12, // fine"#),
r#"error: lantern.json:9:17: not JSON: comments cannot be written here
  mend: take it out; put what you want to say into "about""#;

    single_quotes:
        lantern(r#""Harbour lantern""#, "'Harbour lantern'"),
r#"error: lantern.json:3:12: not JSON: names and texts stand in double quotes
  mend: put double quotes round it: "…""#;

    a_bare_name:
        needle("needle: 12"),
r#"error: lantern.json:9:3: not JSON: names and texts stand in double quotes
  mend: put double quotes round it: "…""#;

    a_bare_word:
        needle(r#""needle": twelve"#),
r"error: lantern.json:9:13: not JSON: this sign cannot stand here
  mend: look for a bracket, comma or quote too many or too few just before";

    no_colon:
        needle(r#""needle" 12"#),
r"error: lantern.json:9:12: not JSON: a colon is missing after the name
  mend: write the name, a colon, then what it is";

    no_value:
        r#"{"needle":"#,
r"error: lantern.json:1:11: not JSON: nothing stands after the colon
  mend: write what the name stands for";

    an_open_list:
        r#"{"panels": [1"#,
r"error: lantern.json:1:12: not JSON: the list that begins here is never closed
  mend: close it with ]";

    an_open_group:
        r#"{"panels": {"#,
r"error: lantern.json:1:12: not JSON: the group that begins here is never closed
  mend: close it with }";

    an_open_text:
        r#"{"title": "Harbour"#,
r#"error: lantern.json:1:11: not JSON: the text that begins here is never closed
  mend: close it with ""#;

    a_bad_escape:
        lantern(r#""Harbour lantern""#, r#""Harbour \lantern""#),
r"error: lantern.json:3:21: not JSON: a backslash here is followed by what it cannot be
  mend: take the backslash out, or write \\ for a plain one";

    two_patterns:
        "{} {}",
r"error: lantern.json:1:4: not JSON: something stands after the end of the pattern
  mend: take it out; a file holds one pattern";

    a_number_of_another_kind:
        needle(r#""needle": 0x12"#),
r"error: lantern.json:9:13: not JSON: this is not how a number is written
  mend: write it as 12 or 0.15";

    a_stray_bracket:
        needle(r#""needle": ]"#),
r"error: lantern.json:9:13: not JSON: this sign cannot stand here
  mend: look for a bracket, comma or quote too many or too few just before";

    a_line_break_in_a_text:
        lantern(r#""Harbour lantern""#, r#""Harbour
lantern""#),
r"error: lantern.json:3:19: not JSON: a text runs over a line end, or holds a sign that cannot be seen
  mend: close the text with a quote on its own line, or write \n for a line break";

    a_control_character:
        lantern(r#""Harbour lantern""#, "\"Harbour\x1b[2J\""),
r"error: lantern.json:3:19: not JSON: a text runs over a line end, or holds a sign that cannot be seen
  mend: close the text with a quote on its own line, or write \n for a line break";

    a_text_that_is_not_closed:
        needle(r#""needle: 12"#),
r#"error: lantern.json:9:3: not JSON: the text that begins here does not end on its line
  mend: put a quote at its end"#;

    a_curled_quote_at_both_ends:
        lantern(r#""title""#, "“title”"),
r#"error: lantern.json:3:3: not JSON: this is not the quote that is typed on a keyboard
  mend: write " in its place, at both ends"#;

    a_curled_quote_at_one_end:
        lantern(r#""title""#, "\"title”"),
r#"error: lantern.json:3:9: not JSON: this is not the quote that is typed on a keyboard
  mend: write " in its place, at both ends"#;

    a_decimal_comma:
        needle(r#""needle": { "diameter_mm": 0,36 }"#),
r"error: lantern.json:9:30: not JSON: a number has a point, not a comma
  mend: write 0.36";

    a_number_that_begins_with_nought:
        needle(r#""needle": 012"#),
r"error: lantern.json:9:13: not JSON: a number does not begin with 0
  mend: write 12";

    a_panel_that_is_not_closed:
        lantern(r#" },
    "window""#, r#",
    "window""#),
r"error: lantern.json:11:13: not JSON: the group that begins here is not closed before line 12
  mend: close it with }";

    the_last_panel_that_is_not_closed:
        lantern(r#""all: A*"] }"#, r#""all: A*"]"#),
r"error: lantern.json:12:15: not JSON: the group that begins here is not closed before line 13
  mend: close it with }";

    a_bracket_too_many:
        lantern(r#" },
    "window""#, r#" }},
    "window""#),
r"error: lantern.json:11:64: not JSON: this bracket closes a group or a list before its end
  mend: take it out";

    a_newer_version:
        lantern(r#""threadmark": 1"#, r#""threadmark": 2"#),
r"error: lantern.json:2:17: threadmark: the pattern is of format version 2; this threadmark knows version 1
  mend: open it with a newer threadmark";

    no_version_at_all:
        lantern(r#"  "threadmark": 1,
"#, ""),
r#"error: lantern.json:1:1: the field 'threadmark' is missing
  mend: add "threadmark" with the number 1"#;

    version_nought:
        lantern(r#""threadmark": 1"#, r#""threadmark": 0"#),
r#"error: lantern.json:2:17: threadmark: there is no format version 0; this threadmark knows version 1
  mend: write "threadmark": 1"#;

    half_a_version:
        lantern(r#""threadmark": 1"#, r#""threadmark": 1.5"#),
r#"error: lantern.json:2:17: threadmark: there is no format version 1.5; this threadmark knows version 1
  mend: write "threadmark": 1"#;

    a_version_in_quotes:
        lantern(r#""threadmark": 1"#, r#""threadmark": "1""#),
r"error: lantern.json:2:17: threadmark: expected the number 1, found the text '1'
  mend: write 1 without quotes";
}
