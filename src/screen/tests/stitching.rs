//! Stitching, counting, going to a place, notes, settings, key by key.

use super::*;
use crate::beadwork::amend::as_stitched::GapPlace;
use crate::beadwork::movement::Kind;
use crate::beadwork::project::Closing;
use crate::beadwork::{Job, Round, Side};
use crate::screen::layer::Context as _;
use crate::screen::look::Depth;
use crate::screen::settings;
use crate::tracking::count;

#[test]
fn a_new_piece_shows_the_cautions_first_and_then_steps() {
    let mut s = sit(proof::panel(3, 4));
    assert_eq!(s.open(), "A piece is opened");
    s.press("_");
    assert_eq!((s.open(), s.done()), ("Stitching", Step(0)));
    s.press("___<_");
    assert_eq!(s.done(), Step(3));
    assert_eq!(s.piece.state().step, 3);
}

#[test]
fn no_key_leads_past_either_end() {
    let mut s = sit(proof::panel(3, 2));
    s.press("_<<<");
    assert_eq!(s.done(), Step(0));
    assert!(s.said.contains("first step"));
    let all = s.seq.steps();
    s.press(&"_".repeat(all as usize + 5));
    assert_eq!(s.done(), Step(all));
    assert!(s.said.contains("finished"));
    assert_eq!(s.movement(), None);
}

#[test]
fn digits_begin_a_count_and_the_answer_is_kept() {
    let mut s = sit(proof::panel(3, 4));
    // To where the first round is closed.
    s.press("_______");
    while s.offered().is_none() {
        s.press("_");
    }
    let question = s.offered().unwrap();
    let right = count::answer(&s.seq, &question, None, 0).unwrap().expected;
    s.press(&format!("{}!", right + 1));
    let text = s.shown(80, 24);
    assert!(
        text.contains("1 too many") && text.contains("Most likely"),
        "{text}"
    );
    s.press(&format!("c{right}!"));
    let checks = &s.piece.state().checks;
    assert_eq!(checks.len(), 2);
    assert_eq!(checks[0].counted, right + 1);
    assert_eq!(checks[1].counted, checks[1].expected);
    // After a correct count there is nothing to mend.
    assert_eq!(s.open(), "Stitching");
}

/// Ten of the twenty-one beads of a round are in place: sides of 7, 3 and 0.
fn in_the_middle_of_a_round() -> Sitting {
    let seq = proof::inward(3, 9, 0);
    let m = seq
        .iter()
        .find(|m| m.round == Some(Round(7)) && m.round_beads == 10);
    let done = m.unwrap().step.0;
    at(seq, done as usize)
}

#[test]
fn a_count_in_the_middle_of_a_round_is_compared_with_what_is_in_place() {
    for right in ["10!", "7 3 0!", "7 3!"] {
        let mut s = in_the_middle_of_a_round();
        assert!(s.shown(80, 24).contains("10 of 21 in place"));
        s.press(right);
        let text = s.shown(80, 24);
        let yes = "Round 7: 10. Yes, that is right so far; 11 to come.";
        assert!(text.contains(yes), "{right}\n{text}");
        assert_eq!(s.open(), "Stitching");
        assert!(!text.contains("mend"), "{text}");
    }
}

#[test]
fn the_numbers_of_the_whole_round_lead_to_its_end() {
    let mut s = in_the_middle_of_a_round();
    let done = s.done();
    s.press("7 7 7!");
    let text = s.shown(80, 24);
    assert!(text.contains("there should be 10: 11 too many"), "{text}");
    assert!(text.contains("movements ahead of the screen"), "{text}");
    s.press("!");
    assert_eq!(s.open(), "Stitching");
    let here = s.seq.step(s.done()).unwrap();
    assert_eq!((here.round, here.round_beads), (Some(Round(7)), 21));
    s.press("b");
    assert_eq!(s.done(), done);
}

#[test]
fn a_right_sum_and_a_missing_side_are_reported() {
    let mut s = in_the_middle_of_a_round();
    s.press("6 4 0!");
    let text = s.shown(120, 40);
    assert!(
        text.contains(
            "10 in all is right, but the sides differ: side 1 has 1 too few, side 2 has 1"
        ),
        "{text}"
    );
    let mut s = at(proof::panel(3, 6), 9);
    s.press("2 2!");
    let text = s.shown(80, 24);
    assert!(text.contains("side 3 is missing"), "{text}");
}

/// With a bead too few there is none to break out, so no key offers it.
#[test]
fn a_bead_is_broken_out_only_where_one_is_too_many() {
    for (counted, is_offered) in [("9", false), ("11", true)] {
        let mut s = in_the_middle_of_a_round();
        for (keys, screen) in [
            (format!("{counted}!"), "The answer to a count"),
            ("↓!".into(), "Mending a wrong count"),
        ] {
            s.press(&keys);
            assert_eq!(s.open(), screen);
            let text = s.shown(120, 40);
            assert_eq!(text.contains("! break it out"), is_offered, "{text}");
        }
    }
}

#[test]
fn what_is_kept_as_stitched_shows_in_the_numbers_at_once() {
    let mut s = in_the_middle_of_a_round();
    s.press("7 4!k");
    // In which gap it is, and a look at the result.
    for _ in 0..3 {
        if s.open() != "Stitching" {
            s.press("!");
        }
    }
    let text = s.shown(80, 24);
    assert!(text.contains("11 of 22 in place"), "{text}");
    assert!(text.contains("11 of 22"), "{text}");
    s.press("11!");
    assert!(s.shown(80, 24).contains("Yes, that is right"));
}

/// Goes down a list to the line with these words.
fn choose(s: &mut Sitting, words: &str) {
    let is_chosen = |line: &str| line.contains('▶') && line.contains(words);
    for _ in 0..40 {
        if s.shown(120, 40).lines().any(is_chosen) {
            return;
        }
        s.press("↓");
    }
    panic!("{words}\n{}", s.shown(120, 40));
}

/// Each gap that a count may have found is named as it lies on the mat, and its
/// picture is below.
#[test]
fn the_gap_of_a_count_is_named_by_its_side_and_shown() {
    let mut s = in_the_middle_of_a_round();
    s.press("8 3!");
    choose(&mut s, "a bead at a corner");
    s.press("k");
    let text = s.shown(80, 24);
    assert!(text.contains("the corner behind side 1: 1 bead"), "{text}");
    s.press("^");
    choose(&mut s, "two beads in one gap");
    for key in ['k', '!'] {
        s.key(KeyCode::Char(key));
        let mut pictures = vec![];
        for nth in 1..=7 {
            let text = s.shown(80, 24);
            let line = format!(", round 7, gap {nth} of side 1: 2 beads");
            let is_chosen = |l: &str| l.contains('▶') && l.contains(&line);
            assert!(text.lines().any(is_chosen), "{line}\n{text}");
            let picture: String = text
                .lines()
                .skip_while(|l| !l.contains("side 1 of 3"))
                .collect();
            let new = picture.matches('╔').count() - picture.matches("╔╗").count();
            assert_eq!(new, 1, "{text}");
            assert!(!pictures.contains(&picture), "{text}");
            pictures.push(picture);
            s.press("↓");
        }
        // In a small terminal there is the list alone.
        assert!(!s.shown(40, 12).contains("side 1 of 3"));
        s.press("^");
    }
}

/// A gap is named by the number of its step, and says where it lies as the
/// number is typed.
#[test]
fn a_step_that_is_typed_says_which_gap_it_worked() {
    let mut s = in_the_middle_of_a_round();
    s.press("m");
    choose(&mut s, "A gap worked before");
    s.press("!");
    let last = format!("Your last step is {}.", s.done());
    let text = s.shown(80, 24);
    assert!(text.contains(&last), "{text}");
    let third = (1..=s.done().0).rev().map(Step).find(|step| {
        let place = s.seq.place_of_gap(*step);
        place == Some(GapPlace::OnSide(Side(0), 2))
    });
    let third = third.unwrap();
    s.press(&third.to_string());
    let text = s.shown(80, 24);
    let gap = format!("Step {third}, round 7, gap 3 of side 1: 1 bead now");
    assert!(text.contains(&gap), "{text}");
    s.press("99");
    let text = s.shown(80, 24);
    assert!(text.contains("did not work a gap"), "{text}");
}

/// What was strung wrong and stays is told by its step and letter.
#[test]
fn a_bead_of_another_colour_that_stays_is_told_afterwards() {
    let seq = proof::tetrahedron(5, Closing::SetIn, 2);
    let in_round_3 = |m: &crate::beadwork::Movement| m.round == Some(Round(3));
    let done = 90;
    let m = seq.iter().find(|m| in_round_3(m) && m.strings.len() == 1);
    let mut s = at(seq.clone(), done);
    let (step, bead) = m.map(|m| (m.step, m.strings[0])).unwrap();
    let was = s.seq.layout().colour(bead);
    let kinds = s.seq.layout().bead_kinds().iter().enumerate();
    let other = kinds.map(|(at, kind)| (crate::beadwork::Colour(at as u8), kind.letter));
    let (other, letter) = other.clone().find(|(colour, _)| *colour != was).unwrap();
    let done = s.done();
    for (typed, answer) in [
        (format!("{step}"), "A step and the letter of a bead, please"),
        (
            format!("{step} {letter}{letter}"),
            "A letter for each, please",
        ),
        (format!("{step} X"), "X is no bead of this piece"),
        (format!("{} {letter}", done.0 + 1), "did not string a bead"),
        (format!("{step} {letter}"), "No movement changes"),
    ] {
        s.press("m");
        choose(&mut s, "A bead strung before was another");
        s.press(&format!("!{typed}!"));
        let text = s.shown(80, 24);
        assert!(text.contains(answer), "{typed}: {text}");
        if !typed.ends_with(&format!("{step} {letter}")) {
            s.press("^^");
        }
    }
    s.press("!");
    assert_eq!(s.seq.layout().colour(bead), other);
    assert_eq!(s.done(), done);
    s.press("mi");
    let text = s.shown(80, 24);
    assert!(
        text.contains(&format!("Step {step} strung {letter}, as stitched")),
        "{text}"
    );
    // Unpicked, it is planned as it was strung; the pattern's bead is one key away.
    s.press(&format!("^^u{}!!_", step.0 - 1));
    let text = s.shown(80, 24);
    assert_eq!(s.next_step(), step);
    assert!(
        text.contains("planned as you strung it, and not as in the pattern"),
        "{text}"
    );
    s.press("zz");
    assert_eq!(s.seq.layout().colour(bead), was);
}

/// An extra bead in a row of a strip is kept in one of its gaps, or broken out.
#[test]
fn a_bead_too_many_in_a_strip_is_kept_or_broken_out() {
    let seq = proof::strip(5, 12);
    let third = seq
        .iter()
        .find(|m| m.round_beads == 5 && m.kind == Kind::Stitch);
    let done = third.unwrap().step.0 as usize;
    for key in ['k', '!'] {
        let mut s = at(seq.clone(), done);
        s.press("6!");
        s.key(KeyCode::Char(key));
        let text = s.shown(80, 24);
        assert!(text.contains("Step 12, row 3, gap 1: 2 beads"), "{text}");
        s.press("!!");
        let more = s.seq.layout().beads() - seq.layout().beads();
        assert_eq!(more, if key == 'k' { 10 } else { 0 });
    }
}

/// The edge has three up beads on each of its sides.
/// Where a side has one too few, no bead too many is looked for, whatever the others
/// have.
#[test]
fn the_gaps_of_a_count_by_sides_are_those_of_the_sides_that_differ() {
    let seq = proof::panel(3, 5);
    let mut all = seq.iter();
    let at = all.find(|m| m.round == Some(Round(5)) && m.round_beads == 12);
    let at = at.unwrap().step;
    let question = count::current_question(&seq, at).unwrap();
    let there = count::BeadsInRound::at(&seq, question.job, question.round, Some(at));
    let there = there.unwrap().there;
    let touches_1 = |at| {
        let corners = [2, 0].map(|side| GapPlace::AtCorner(Side(side)));
        let place = seq.place_of_gap(at).unwrap();
        matches!(place, GapPlace::OnSide(Side(0), _)) || corners.contains(&place)
    };
    for (side_1, side_3, key) in [
        (-1, 2, 'k'),
        (-1, 2, '\u{21}'),
        (1, 0, 'k'),
        (1, 0, '\u{21}'),
    ] {
        let mut s = super::at(seq.clone(), at.0 as usize);
        let side = |side: usize, by| there[side].saturating_add_signed(by);
        s.press(&format!(
            "{} {} {}!",
            side(0, side_1),
            there[1],
            side(2, side_3)
        ));
        assert_eq!(s.open(), "The answer to a count");
        s.key(KeyCode::Char(key));
        let text = s.shown(120, 60);
        let gaps: Vec<&str> = text.lines().filter(|line| line.contains("Step ")).collect();
        assert_eq!(gaps.is_empty(), side_1 < 0, "{text}");
        for gap in gaps {
            let step = gap
                .split(['p', ','])
                .nth(1)
                .and_then(|step| step.trim().parse().ok());
            assert!(touches_1(Step(step.unwrap())), "{text}");
        }
    }
}

#[test]
fn the_count_of_one_side_is_told_first_and_changes_nothing() {
    let seq = proof::panel(3, 3);
    let done = seq.steps();
    let mut s = at(seq, done as usize);
    s.press("c");
    let asked = s.shown(80, 24);
    assert!(
        asked.contains("Or a number for each side (5 5 6); of a corner pair"),
        "{asked}"
    );
    s.press("3!");
    let text = s.shown(80, 24);
    let words = "Most likely: that is one side; all round there should be 9";
    assert!(text.contains(words), "{text}");
    s.press("!");
    assert!(s.shown(80, 24).contains("Nothing to unpick. Count again"));
    s.press("!");
    assert_eq!((s.open(), s.done()), ("Counting", Step(done)));
}

#[test]
fn the_teeth_of_a_zip_are_counted_locked_and_open() {
    let seq = proof::tetrahedron(5, Closing::SetIn, 0);
    let second = seq
        .iter()
        .find(|m| m.kind == Kind::Zip && m.round_beads == 2);
    let done = second.unwrap().step.0 as usize;
    for (typed, says) in [
        (
            "2!",
            "The teeth of side 3: 2. Yes, that is right so far; 2 to come.",
        ),
        ("2 2!", "Yes, that is right so far"),
        (
            "2 3!",
            "Locked and open together are 5, but there are 4 teeth.",
        ),
        ("3!", "you are 1 movement ahead of the screen"),
    ] {
        let mut s = at(seq.clone(), done);
        s.press(typed);
        let text = s.shown(120, 40);
        assert!(text.contains(says), "{typed}\n{text}");
    }
}

/// A piece that rested is counted on its card.
#[test]
fn the_card_of_a_piece_that_rested_takes_the_count() {
    let mut s = in_the_middle_of_a_round();
    s.stack.open(layers::Card::new());
    let text = s.shown(80, 24);
    assert!(
        text.contains("10 of 21 beads so far; side 1: 7, side 2: 3, side 3: none"),
        "{text}"
    );
    s.press("10!");
    assert!(s.said.contains("Yes, that is right"), "{}", s.said);
    assert_eq!(s.open(), "Stitching");
}

/// In the search for a lost place, Enter gives no answer that was not chosen.
#[test]
fn a_lost_place_begins_with_what_is_half_done_and_enter_alone_answers_nothing() {
    let mut s = at(proof::tetrahedron(4, Closing::Fill, 1), 3);
    s.press("w");
    let text = s.shown(80, 24);
    assert!(
        text.contains("What is half done?") && text.contains("~~[N][N][N]"),
        "{text}"
    );
    s.press("!!!");
    assert!(s.shown(80, 24).contains("question 1"));
    // Each answer takes one Enter, whether it is marked or typed.
    s.press("1");
    assert!(s.shown(80, 24).contains("question 1"));
    s.press("!");
    assert!(s.shown(80, 24).contains("question 2"));
    s.press("<↓!");
    assert!(s.shown(80, 24).contains("question 2"));
}

/// A piece that is only looked at need not be open elsewhere, and one that is finished
/// takes up no thread.
#[test]
fn a_finished_piece_that_is_only_looked_at_is_called_no_more_than_that() {
    let mut s = sit(proof::panel(3, 3));
    s.session.only_looking = true;
    s.press("_");
    let text = s.shown(80, 24);
    assert!(text.contains("Only looking: steps are not kept."), "{text}");
    assert!(!text.contains("elsewhere"), "{text}");
    s.press("nloose!");
    assert_eq!(s.said, "Only looking: the note is not kept.");
    s.press("hn200!");
    assert_eq!(s.said, "Only looking: the new thread is not kept.");
    s.press(&"_".repeat(s.seq.steps() as usize));
    assert_eq!(s.session.movement(), None);
    s.stack.open(layers::Card::new());
    let text = s.shown(80, 24);
    assert!(text.contains("No thread is in the work."), "{text}");
    s.press("^h");
    let text = s.shown(80, 24);
    assert!(text.contains("No thread is in the work.\n"), "{text}");
}

#[test]
fn a_jump_has_a_way_back() {
    let mut s = sit(proof::tetrahedron(4, Closing::SetIn, 0));
    s.press("____gj3!");
    assert_eq!(s.job(), Job(2));
    s.press("_b");
    assert_eq!(s.done(), Step(3));
    s.press("b");
    assert!(s.said.contains("no way back"));
    s.press("gnowhere!");
    assert!(s.shown(80, 24).contains("is no place"));
    s.press("^");
    assert_eq!((s.open(), s.done()), ("Stitching", Step(3)));
}

/// A look at another job, left there, and opened again.
#[test]
fn the_card_tells_where_a_jump_began_and_goes_back_there() {
    let mut s = sit(proof::tetrahedron(4, Closing::SetIn, 0));
    s.press("____");
    s.stack.open(layers::Card::new());
    assert!(!s.shown(80, 24).contains("You came here"));
    s.press("b");
    assert!(s.said.contains("no way back"), "{}", s.said);
    s.press("^gj3!__");
    s.stack.open(layers::Card::new());
    let text = s.shown(80, 24);
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let from = &s.seq.job(Job(0)).title;
    assert!(
        words.contains(&format!("You came here from step 4 ({from}, ")),
        "{text}"
    );
    assert!(words.contains("b goes back there."), "{text}");
    s.press("b");
    assert_eq!((s.open(), s.done()), ("Stitching", Step(3)));
    // A finished piece has no next step.
    let last = s.seq.steps();
    s.session.jump(Step(last + 1));
    s.press("gj3!");
    s.stack.open(layers::Card::new());
    assert!(
        s.shown(80, 24)
            .contains("You came here from the end of the piece")
    );
}

#[test]
fn a_note_is_kept_on_its_step_and_listed_in_the_overview() {
    let mut s = sit(proof::panel(3, 3));
    s.press("___ncorner is loose!");
    assert_eq!(s.piece.state().notes[&3].as_str(), "corner is loose");
    s.press("_____o");
    assert!(s.shown(80, 24).contains("step 3: corner is loose"));
    s.press("↓!");
    assert_eq!(s.done(), Step(2), "the note's step is to be made next");
    s.press("n<<<<<!");
    assert_eq!(s.piece.state().notes[&3].as_str(), "corner is");
}

#[test]
fn the_bell_rings_one_step_ahead_of_what_is_chosen_and_only_then() {
    let mut s = sit(proof::inward(3, 5, 0));
    s.press("_");
    let mut lines = settings::lines(&s.piece.state().settings).into_iter();
    let is_it = |line: settings::SettingLine| line.title.ends_with("gaps without a bead");
    let at = lines.position(is_it).unwrap();
    s.press(&format!("s{}!^", "↓".repeat(at)));
    let mut rung = vec![];
    while let Some(m) = s.movement() {
        s.press("_");
        if std::mem::take(&mut s.bell) {
            rung.push(m.step.0 + 2);
        }
    }
    let corners: Vec<_> = s
        .seq
        .iter()
        .filter(|m| m.kind == Kind::Decrease)
        .map(|m| m.step.0)
        .collect();
    assert_eq!(rung, corners);
}

#[test]
fn several_beads_can_be_taken_one_at_a_time() {
    let mut s = sit(proof::panel(3, 3));
    s.press("_");
    while s.movement().unwrap().kind != Kind::StepUp {
        s.press("_");
    }
    let before = s.done();
    s.press("x_");
    assert_eq!((s.done(), s.taken()), (before, 1));
    s.press("<");
    assert_eq!((s.done(), s.taken()), (before, 0));
    s.press("__");
    assert_eq!((s.done(), s.taken()), (Step(before.0 + 1), 0));
    assert_eq!(s.one_at_a_time, None);
}

#[test]
fn hand_and_colours_are_kept_with_the_piece() {
    let mut s = sit(proof::panel(3, 3));
    s.press("_ls↓!");
    let settings = &s.piece.state().settings;
    assert!(settings.left_handed());
    assert_eq!(settings::text(settings, "colours"), Some("true"));
    // NO_COLOR overrides it.
    assert_eq!(s.look().depth, Depth::None);
}

#[test]
fn q_quits_and_t_leads_to_the_tray_unless_text_is_typed() {
    let mut s = sit(proof::panel(3, 3));
    assert_eq!(s.press("_q"), Some(Exit::Quit));
    assert_eq!(s.press("t"), Some(Exit::Tray));
    s.press("nq");
    assert!(s.shown(80, 24).contains("Note on step 1: q█"));
}

/// Esc closes what is open, layer by layer, and then does nothing.
#[test]
fn esc_leaves_what_is_open_and_stops_there() {
    for keys in [
        "", "_?", "_o", "_s", "_p", "_h", "_hn", "_g", "_n", "_w", "_f", "_fc", "_v", "_a!",
        "_?a!", "_fcva", "___u", "___u!", "___u!_",
    ] {
        let mut s = sit(proof::panel(3, 4));
        s.press(keys);
        for _ in 0..9 {
            assert_eq!(s.press("^"), None, "{keys}");
        }
        assert_eq!(s.open(), "Stitching", "{keys}");
    }
}

/// The key that opened a screen closes it, and so do q and Backspace.
#[test]
fn the_key_that_opened_a_screen_leaves_it() {
    for key in ["?", "o", "s", "p", "h", "f", "v", "e"] {
        for leave in [key, "q", "<"] {
            let mut s = at(proof::panel(3, 4), 3);
            s.press(key);
            assert_ne!(s.open(), "Stitching", "{key}");
            s.press(leave);
            assert_eq!(
                (s.open(), s.done()),
                ("Stitching", Step(3)),
                "{key} {leave}"
            );
        }
    }
}

/// A wrong count is mended, and can be typed again at once.
#[test]
fn after_an_answer_the_next_count_is_typed_at_once() {
    let mut s = at(proof::panel(3, 4), 9);
    s.press("5!");
    assert_eq!(s.open(), "The answer to a count");
    s.press("6!");
    assert!(s.shown(80, 24).contains("Yes, that is right"));
    assert_eq!((s.open(), s.done()), ("Stitching", Step(9)));
}

/// Every screen of the list is opened by each of its keys, can be drawn at
/// every size, and can be said in lines.
#[test]
fn every_screen_opens_by_its_keys_and_says_itself() {
    for opener in layers::OF_A_PIECE {
        let keys = opener
            .key
            .keys
            .split(' ')
            .filter_map(crate::screen::keys::code);
        for key in keys {
            let mut s = at(proof::tetrahedron(4, Closing::SetIn, 1), 12);
            s.key(key);
            s.wait();
            let titles: Vec<_> = opener.tables.iter().map(|table| table().title).collect();
            assert!(titles.contains(&s.open()), "{key:?}: {}", s.open());
            assert!(!s.stack.top().lines(&s.session).is_empty(), "{key:?}");
            let stitches = at(proof::tetrahedron(4, Closing::SetIn, 1), 12).shown(80, 24);
            for (wide, high) in [(80, 24), (40, 12), (20, 6)] {
                let text = s.shown(wide, high);
                assert!(
                    !text.trim().is_empty() && text != stitches,
                    "{key:?}\n{text}"
                );
            }
        }
    }
}

/// A ring of which only one bead is strung is not reported as complete.
#[test]
fn without_a_plan_the_ring_is_finished_first() {
    let said = |done| {
        let mut s = at(proof::panel(3, 4), done);
        s.press("d");
        s.shown(80, 24)
    };
    assert!(said(0).contains("A number begins with the ring"));
    for done in [2, 3, 4] {
        assert!(
            said(done).contains("A number finishes the ring"),
            "{}",
            said(done)
        );
    }
    assert!(said(5).contains("Gap 1 of 3: how many"), "{}", said(5));
}

#[test]
fn a_capital_letter_that_is_no_key_is_told_and_does_nothing() {
    let mut s = at(proof::panel(3, 5), 5);
    for (capital, small) in [("G", "g"), ("U", "u"), ("S", "s")] {
        s.press(capital);
        assert_eq!(s.open(), "Stitching");
        let said = format!("{capital} is no key here, {small} is: is Caps Lock on?");
        assert_eq!(s.said, said);
        s.press(small);
        assert_ne!(s.open(), "Stitching");
        s.press("^");
    }
    // Where nothing is meant, or where letters are text, nothing is said.
    s.press("J");
    assert_eq!(s.said, "");
    s.press("nG^");
    assert_eq!((s.said.as_str(), s.done()), ("", Step(5)));
}
