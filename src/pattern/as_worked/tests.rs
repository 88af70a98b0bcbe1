use super::*;
use crate::beadwork::amend::as_stitched::GapOfStep;
use crate::beadwork::amend::colours::ColourChange;
use crate::beadwork::amend::{Amendment, OpeningEnd, OwnStep, OwnStepKind};
use crate::beadwork::kaleidocycle::Kaleidocycle;
use crate::beadwork::movement::Kind;
use crate::beadwork::planner::PlanRule;
use crate::beadwork::record::Record;
use crate::beadwork::rules::Refusal;
use crate::beadwork::verify::verify;
use crate::beadwork::{Colour, Round, Step};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

const BEGUN: &str = r##"{
  "threadmark": 1,
  "title": "Sail",
  "beads": {
    "A": { "name": "first", "size": "cylinder 11/0", "colour": "#2f7f79" },
    "B": { "name": "second", "size": "cylinder 11/0", "colour": "#d98a24" }
  },
  "thread": "braided 0.12",
  "needle": 12,
  "panels": { "work": { "sides": 3, "ring": 3, "rounds": 2, "words": ["1*3"], "colours": ["all: A*"] } },
  "make": { "panel": "work" }
}"##;

const STRIP: &str = r#""stitch": "strip", "width": 6, "rows": 3, "colours": ["all: A*"]"#;

fn begun_as_strip() -> String {
    let (before, after) = (BEGUN.find("\"sides\""), BEGUN.find(" } },\n  \"make\""));
    let (before, after) = (before.unwrap(), after.unwrap());
    format!("{}{STRIP}{}", &BEGUN[..before], &BEGUN[after..])
}

/// A piece without a plan: a number of beads of a colour in each gap, and
/// as many rounds as needed.
fn worked_freely(begun: &str, gaps: &[(u8, u8)]) -> Sequence {
    let begun = read::read("begun", begun.as_bytes()).unwrap();
    let (mut seq, mut done) = (Sequence::new(begun.project), Step(0));
    for &(beads, colour) in gaps {
        let next = |seq: &Sequence| {
            let mut steps = (done.0 + 1..=seq.steps()).map(Step);
            steps.find(|step| seq.gap_of(*step).is_some())
        };
        if next(&seq).is_none() {
            let jobs = vec![seq.goal().order[0]];
            let rounds = seq.layout().kind(Panel(0)).rounds() + 1;
            let more = Amendment::Rounds { jobs, rounds };
            seq = seq.amended(done, &more).unwrap();
        }
        let step = next(&seq).unwrap();
        let take = ColourChange::Take {
            from: Bead(seq.strung_after(Step(step.0 - 1)) + 1),
            panel: Panel(0),
            beads: vec![Colour(colour)],
        };
        seq = seq.recoloured(Step(step.0 - 1), &take).unwrap();
        let gap = seq.gap_of(step).unwrap().gap;
        done = step;
        if gap.beads != beads {
            let before = Step(step.0 - 1);
            match seq.as_stitched(before, step, beads, None) {
                Ok(stitched) => (seq, done) = (stitched.sequence, Step(stitched.step)),
                // A round keeps a bead, and the edge of a strip has one.
                Err(Refusal::NoSuchGap | Refusal::EdgeOfStrip) => {}
                Err(refusal) => panic!("{refusal}"),
            }
        }
    }
    seq
}

fn read_again(text: &str) -> Sequence {
    Sequence::new(read::read("again", text.as_bytes()).unwrap().project)
}

/// The pattern written for a piece, and the piece that it gives: the needle goes
/// the same way, and the pattern written for that is the same.
fn assert_written(bytes: &[u8], seq: &Sequence) -> (String, Sequence) {
    let text = as_worked(bytes, seq).expect("a pattern");
    let again = read_again(&text);
    let passes = |seq: &Sequence| seq.iter().map(|m| m.passes).collect::<Vec<_>>();
    assert_eq!(passes(&again), passes(seq));
    assert_eq!(as_worked(text.as_bytes(), &again).as_ref(), Ok(&text));
    (text, again)
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 60,
        rng_seed: RngSeed::Fixed(12),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    /// Whatever was stitched without a plan, the pattern written from it is
    /// proved, and has the same rounds, beads and colours.
    #[test]
    fn free_work_is_written_as_a_pattern_with_the_same_beads(
        gaps in prop::collection::vec((0u8..5, 0u8..2), 0..60),
        is_strip in any::<bool>(),
    ) {
        let begun = if is_strip { begun_as_strip() } else { BEGUN.to_string() };
        let seq = worked_freely(&begun, &gaps);
        let text = as_worked(begun.as_bytes(), &seq).expect("a pattern");
        let again = read_again(&text);
        let seen = |seq: &Sequence| {
            let layout = seq.layout();
            let bead = |bead| (layout.seat(bead).round, layout.seat(bead).index, layout.colour(bead));
            (1..=layout.beads()).map(Bead).map(bead).collect::<Vec<_>>()
        };
        prop_assert_eq!(seen(&again), seen(&seq));
        prop_assert_eq!(&as_worked(text.as_bytes(), &again).expect("a pattern"), &text);
        prop_assert!(again.iter().map(|m| m.passes).eq(seq.iter().map(|m| m.passes)));
        let size = |bead| again.layout().bead_kind(again.layout().colour(bead)).size;
        let (project, goal) = (again.layout().project(), again.goal());
        let report = verify(project, goal, again.jobs(), again.iter(), size);
        prop_assert!(report.is_proved(), "{:?}", report.findings.first());
        // That pattern, worked otherwise again, is written as well.
        let other: Vec<_> = gaps.iter().rev().take(20).copied().collect();
        let other = worked_freely(&text, &other);
        let (project, goal) = (other.layout().project(), other.goal());
        let report = verify(project, goal, other.jobs(), other.iter(), size);
        prop_assert!(report.is_proved(), "{:?}", report.findings.first());
        let written = as_worked(text.as_bytes(), &other).expect("a pattern");
        let again = read_again(&written);
        prop_assert_eq!(seen(&again), seen(&other));
    }
}

/// Ways past full beads are written for any piece, a ring of more tetrahedra
/// among them, and the pattern gives the same steps.
#[test]
fn ways_through_the_row_next_door_are_written_with_the_piece() {
    let ring = "tests/data/patterns/draft-ring-of-six.json";
    for (file, tetrahedra) in [(ring, Some(8)), ("patterns/harbour-lantern.json", None)] {
        let bytes = std::fs::read(file).unwrap();
        let mut seq = Sequence::new(read::read(file, &bytes).unwrap().project);
        if let Some(tetrahedra) = tetrahedra {
            let other = Amendment::Tetrahedra(tetrahedra);
            seq = seq.amended(Step(0), &other).unwrap();
        }
        let zips: Vec<Step> = seq
            .iter()
            .filter(|m| m.kind == Kind::Zip)
            .map(|m| m.step)
            .collect();
        for step in zips.iter().step_by(zips.len() / 5) {
            let way = seq.next_door(*step)[0];
            let past = Amendment::Join(way.change);
            seq = seq.amended(Step(step.0 - 1), &past).unwrap();
        }
        let said = seq
            .layout()
            .panels()
            .iter()
            .map(|panel| panel.next_door.len());
        assert!(said.sum::<usize>() > 3);
        assert_written(&bytes, &seq);
    }
}

/// A row with gaps as stitched is written for any piece, at a hinge and round an
/// opening too, and the pattern gives the same steps.
#[test]
fn gaps_of_rows_are_written_with_the_piece() {
    let ring = "tests/data/patterns/draft-ring-of-six.json";
    for file in [ring, "patterns/harbour-lantern.json"] {
        let bytes = std::fs::read(file).unwrap();
        let mut seq = Sequence::new(read::read(file, &bytes).unwrap().project);
        let gaps = (1..=seq.steps()).map(Step);
        let gaps: Vec<Step> = gaps
            .filter(|step| seq.row_gap_of(*step).is_some())
            .collect();
        for (nth, step) in gaps.iter().enumerate().step_by(gaps.len() / 9) {
            let beads = 2 * (nth % 2) as u8;
            let at = (step.0..)
                .map(Step)
                .find(|at| seq.row_gap_of(*at).is_some())
                .unwrap();
            seq = seq
                .as_stitched(Step(at.0 - 1), at, beads, None)
                .unwrap()
                .sequence;
        }
        assert!(
            seq.layout()
                .rows()
                .filter(|(_, row)| !row.is_as_planned())
                .count()
                > 4
        );
        let (text, again) = assert_written(&bytes, &seq);
        let (layout, goal) = (again.layout(), again.goal());
        let size = |bead| layout.bead_kind(layout.colour(bead)).size;
        let report = verify(layout.project(), goal, again.jobs(), again.iter(), size);
        assert!(report.is_proved(), "{:?}", report.findings.first());
        // Sewn half way, it goes on from there.
        for done in [gaps[0].0 - 1, gaps[0].0, gaps[4].0 + 1] {
            let mut record = Record::default();
            record.play(&again.work().facts(0, done), done);
            let project = read::read("again", text.as_bytes()).unwrap().project;
            let resumed = Sequence::resume(project, &[], &record, PlanRule::default());
            assert_eq!(resumed.refused, None);
            assert!(resumed.sequence.iter().eq(again.iter()));
        }
    }
}

/// More steps of the maker's own than a pattern may have: none is left out in
/// silence.
#[test]
fn a_piece_with_too_many_steps_of_its_own_is_not_written() {
    let begun = read::read("begun", BEGUN.as_bytes()).unwrap();
    let mut seq = Sequence::new(begun.project);
    for n in 1..=201 {
        let text = format!("look {n}");
        let what = OwnStepKind::Note;
        let own = Amendment::Own(OwnStep { what, text });
        seq = seq.amended(Step(1), &own).unwrap();
        let written = as_worked(BEGUN.as_bytes(), &seq);
        match n {
            200 => assert_eq!(written.unwrap().matches("look").count(), 200),
            201 => {
                let why = written.unwrap_err();
                assert!(matches!(why, NotWritten::Refused(_)));
                let said = "a pattern file cannot say what was worked: own: ";
                let said = why.to_string().starts_with(said) && !why.to_string().contains('\n');
                assert!(said, "{why}");
            }
            _ => {}
        }
    }
}

/// A step of the maker's own is written where it was made, and comes there again when
/// the piece of that pattern is opened at any of its steps.
#[test]
fn own_steps_are_written_where_they_were_made() {
    for file in [
        "patterns/practice-pair.json",
        "tests/data/patterns/words-inward.json",
    ] {
        let bytes = std::fs::read(file).unwrap();
        let plain = Sequence::new(read::read(file, &bytes).unwrap().project);
        for first in (1..plain.steps()).step_by(23).map(Step) {
            let mut seq = plain.clone();
            // Two alike, and another in between.
            for (later, text) in [(0, "look"), (3, "count"), (40, "look")] {
                let done = Step((first.0 + later).min(seq.steps()));
                let what = OwnStepKind::Note;
                let text = text.to_string();
                let own = Amendment::Own(OwnStep { what, text });
                seq = seq.amended(done, &own).unwrap();
            }
            let text = as_worked(&bytes, &seq).unwrap();
            let again = read_again(&text);
            let own = |seq: &Sequence| -> Vec<(u32, u32)> {
                let own = seq.iter().filter(|m| m.kind == Kind::Own);
                let before = |step| seq.movements_before(seq.job_of(step), step);
                own.map(|m| (seq.strung_after(m.step), before(m.step)))
                    .collect()
            };
            assert_eq!(own(&again), own(&seq), "{file} at {first}");
            assert_eq!(as_worked(text.as_bytes(), &again).as_ref(), Ok(&text));
            assert_proved(&again, &[]);
            for done in (first.0..first.0 + 46).step_by(3) {
                let done = done.min(again.steps());
                let mut record = Record::default();
                record.play(&again.work().facts(0, done), done);
                let project = read::read("again", text.as_bytes()).unwrap().project;
                let resumed = Sequence::resume(project, &[], &record, PlanRule::default());
                assert_eq!(resumed.refused, None);
                assert!(resumed.sequence.iter().eq(again.iter()), "{done}");
            }
        }
    }
}

/// A ring whose jobs were changed is written as a list of jobs. It has the same beads
/// at the same places, and turns as the ring does.
#[test]
fn a_changed_ring_is_written_as_jobs_that_make_the_ring() {
    let ring = std::fs::read_to_string("tests/data/patterns/ring-filled.json").unwrap();
    let wheel = std::fs::read_to_string("patterns/weather-wheel.json").unwrap();
    let i = ring.find("\"make\"").unwrap();
    let nets = format!(
        r#"{}"make": {{ "ring-of-nets": 6, "faces": ["face"],
          "close": [{{ "how": "set-in", "with": "face" }}, {{ "how": "fill", "with": "window" }}] }} }}"#,
        &ring[..i]
    );
    for text in [ring, nets, wheel] {
        let plain = read_again(&text);
        let change = |seq: &Sequence, nth: usize, what: &str| {
            let offered = seq.amendments(Step(0)).into_iter();
            let mut offered = offered.filter(|change| change.say(seq).contains(what));
            seq.amended(Step(0), &offered.nth(nth).unwrap()).unwrap()
        };
        let changed = change(&plain, 0, "1 tip bead at its corner");
        let changed = change(&changed, 0, "set in a finished '");
        let changed = change(&changed, 1, ": leave it open and");
        let (text, again) = assert_written(text.as_bytes(), &changed);
        assert!(text.contains("\"shape\": {"), "{text}");
        assert_proved(&again, &[]);
        let places = |seq: &Sequence| {
            let places = seq.work().bead_places();
            let beads = (1..=seq.layout().beads()).map(Bead);
            beads.map(|bead| places.bead(bead)).collect::<Vec<_>>()
        };
        let apart = places(&again).into_iter().zip(places(&changed));
        let apart = apart.map(|(a, b)| a.distance(b)).fold(0.0, f64::max);
        assert!(apart < 0.01, "{apart} mm");
        let ring = |seq: &Sequence| Kaleidocycle::of(seq.layout()).map(|ring| ring.tetrahedra);
        assert_eq!(ring(&again), ring(&changed));
        assert!(ring(&again).is_some());
    }
}

#[test]
fn repeats_are_written_in_brackets() {
    let word = |gaps: &[u8]| spell(&GapWord::new(gaps.iter().copied()));
    assert_eq!(word(&[2, 2, 2]), "2*3");
    assert_eq!(word(&[2, 1, 1, 2, 1, 1]), "(2 1*2)*2");
    assert_eq!(word(&[1, 1, 0, 2, 1]), "1*2 0 2 1");
}

/// A number below `n` that follows from `seed`: xorshift.
fn below(seed: &mut u64, n: usize) -> usize {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    (*seed >> 33) as usize % n.max(1)
}

/// Whatever was changed in a piece, and however its gaps were stitched, it is written
/// as a pattern that is proved and has the same beads.
#[test]
fn whatever_was_changed_is_written() {
    let mut seed = std::env::var("SEED").map_or(12, |seed| seed.parse().unwrap());
    let files = [
        "patterns/practice-pair.json",
        "patterns/harbour-lantern.json",
        "tests/data/patterns/pair-both-filled.json",
        "tests/data/patterns/cube-own-law.json",
        "tests/data/patterns/octahedron-filled.json",
        "tests/data/patterns/pair-open-filled.json",
        "tests/data/patterns/hand-pair-filled.json",
        "tests/data/patterns/ring-filled.json",
    ];
    let pieces = std::env::var("PIECES").map_or(32, |all| all.parse().unwrap());
    for file in files.iter().cycle().take(pieces) {
        let bytes = std::fs::read(file).unwrap();
        let mut seq = Sequence::new(read::read(file, &bytes).unwrap().project);
        let mut said = vec![file.to_string()];
        for _ in 0..1 + below(&mut seed, 6) {
            let done = Step(1 + below(&mut seed, seq.steps() as usize) as u32);
            if below(&mut seed, 2) == 0 {
                let back = below(&mut seed, 40) as u32;
                let at = Step((done.0 + 1).saturating_sub(back).max(1));
                let beads = below(&mut seed, 4) as u8;
                if let Ok(found) = seq.as_stitched(done, at, beads, None) {
                    said.push(format!("{beads} beads in step {at} at {done}"));
                    seq = found.sequence;
                }
                continue;
            }
            let mut offered = seq.amendments(done);
            // Thick thread fills the holes, which the proof finds.
            offered.retain(|change| !matches!(change, Amendment::Thread(_)));
            let nth = below(&mut seed, offered.len());
            if let Some(change) = offered.get(nth)
                && let Ok(changed) = seq.amended(done, change)
            {
                said.push(format!("{} at {done}", change.say(&seq)));
                seq = changed;
            }
        }
        let text = as_worked(&bytes, &seq).unwrap_or_else(|why| panic!("{said:?}: {why}"));
        let again = read_again(&text);
        assert_proved(&again, &said);
        assert_eq!(as_worked(text.as_bytes(), &again), Ok(text), "{said:?}");
    }
}

fn assert_proved(seq: &Sequence, said: &[String]) {
    let (layout, goal) = (seq.layout(), seq.goal());
    let size = |bead| layout.bead_kind(layout.colour(bead)).size;
    let report = verify(layout.project(), goal, seq.jobs(), seq.iter(), size);
    assert!(
        report.is_proved(),
        "{said:?}: {:?}",
        report.findings.first()
    );
}

/// The first round of a fill with a bead too many on its first side and one too few on
/// its second, worked over plainly: the pattern says so, and gives the same steps.
#[test]
fn a_changed_first_round_of_a_fill_is_written() {
    let file = "tests/data/patterns/pair-both-filled.json";
    let bytes = std::fs::read(file).unwrap();
    let mut seq = Sequence::new(read::read(file, &bytes).unwrap().project);
    let fill = |job: &JobKind| match job {
        JobKind::Fill { panel, .. } => Some(*panel),
        _ => None,
    };
    let panel = seq.goal().jobs.iter().find_map(fill).unwrap();
    let last = seq.layout().kind(panel).last();
    let of_rim = |seq: &Sequence| -> Vec<Step> {
        let steps = (1..=seq.steps()).map(Step);
        let is_there = |step: &Step| {
            let at = seq.gap_of(*step);
            at.is_some_and(|at| at.panel == panel && at.gap.round == last)
        };
        steps.filter(is_there).collect()
    };
    let on_side = seq.layout().kind(panel).on_side(last, Side(0)) as usize;
    for (nth, beads) in [(1, 2), (on_side + 1, 0)] {
        let at = of_rim(&seq)[nth];
        let found = seq.as_stitched(Step(at.0 - 1), at, beads, None).unwrap();
        seq = found.sequence;
    }
    let (text, again) = assert_written(&bytes, &seq);
    assert!(text.contains("\"gaps\": ["), "{text}");
    assert_proved(&again, &[]);
    let edges = [0, 1, 2].map(|side| again.layout().kind(panel).edge(Side(side)) as usize);
    assert_eq!(edges, [on_side + 1, on_side - 1, on_side]);
}

/// Of four faces of one kind the first has a bead more in a gap: the three others keep
/// the name of their kind.
#[test]
fn the_panel_that_differs_gets_a_name_of_its_own() {
    let file = "patterns/lamp-pull.json";
    let bytes = std::fs::read(file).unwrap();
    let plain = Sequence::new(read::read(file, &bytes).unwrap().project);
    let mut steps = (1..=plain.steps()).map(Step);
    let is_plain = |at: GapOfStep| (at.gap.round, at.gap.beads) == (Round(6), 1);
    let in_six = |step: &Step| plain.gap_of(*step).is_some_and(is_plain);
    let at = steps.find(in_six).unwrap();
    let odd = plain
        .as_stitched(Step(at.0 - 1), at, 2, Some(Round(7)))
        .unwrap();
    let (text, _) = assert_written(&bytes, &odd.sequence);
    for said in [
        r#"{ "panel": "Face 1" }"#,
        r#"{ "panel": "face", "as": "Face 2" }"#,
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
}

/// An opening is filled after all with a panel that has one bead at its corners.
#[test]
fn a_fill_with_corner_beads_is_written() {
    let panel = r#""sides": 3, "rounds": 6, "corners": [2, 1, 0], "start": "sides", "colours": ["all: A*"]"#;
    let (panels, _) = BEGUN.split_once("\"panels\"").unwrap();
    let text = format!(
        r#"{panels}"panels": {{ "face": {{ {panel} }}, "lid": {{ {panel}, "way": "inward" }} }},
  "make": {{ "solid": "tetrahedron", "faces": ["face"] }} }}"#
    );
    let plain = read_again(&text);
    let kind = plain.layout().kind_of(1);
    assert_eq!(kind.corner(kind.last()), 1);
    let offered = plain.amendments(Step(0)).into_iter();
    let mut fills = offered.filter(|change| change.say(&plain).contains("fill with 'lid' to"));
    let filled = plain.amended(Step(0), &fills.next().unwrap()).unwrap();
    let (text, again) = assert_written(text.as_bytes(), &filled);
    assert!(text.contains("\"fill\": \"lid\""), "{text}");
    assert_proved(&again, &[]);
}

/// A fill takes a panel that is worked outward elsewhere: stopped early, with a stone,
/// with a panel in its middle or a gap as stitched, it is written as an inward one.
#[test]
fn a_changed_fill_of_an_outward_panel_is_written() {
    let (panels, _) = BEGUN.split_once("\"panels\"").unwrap();
    let text = format!(
        r#"{panels}"panels": {{ "face": {{ "sides": 3, "rounds": 6, "colours": ["all: A*"] }} }},
  "make": {{ "solid": "tetrahedron", "faces": ["face"], "close": "fill" }} }}"#
    );
    let plain = read_again(&text);
    let fill = plain.jobs().last().unwrap();
    let panel = fill.panel();
    let mut open = 0;
    let job = *plain.goal().order.last().unwrap();
    let (kind, in_time) = (0, true);
    let stones = [20, 30, 40].map(|tenths| OpeningEnd::Stone {
        kind,
        tenths,
        in_time,
    });
    let stones = stones.map(|how| Amendment::Opening { job, how });
    for done in [fill.steps_before - 3, fill.steps_before + 40].map(Step) {
        for change in plain.amendments(done).into_iter().chain(stones.clone()) {
            let Ok(changed) = plain.amended(done, &change) else {
                continue;
            };
            if panel.index() < changed.layout().panels().len()
                && changed.layout().panel(panel).rim.is_some()
                && changed.layout().panel(panel).open() > 0
            {
                open += 1;
                let (text, again) = assert_written(text.as_bytes(), &changed);
                assert!(text.contains("\"way\": \"inward\""), "{text}");
                assert_proved(&again, &[]);
            }
        }
    }
    assert!(open > 4, "{open}");
    let is_later = |step: &Step| {
        let gap = plain.gap_of(*step).filter(|at| at.panel == panel);
        gap.is_some_and(|at| at.gap.round == Round(4) && at.gap.gap == 2)
    };
    let at = (1..=plain.steps()).map(Step).find(is_later).unwrap();
    let changed = plain.as_stitched(Step(at.0 - 1), at, 2, None).unwrap();
    let (_, again) = assert_written(text.as_bytes(), &changed.sequence);
    assert_proved(&again, &[]);
}

/// A side with a bead more is eased into another, a panel is set in the middle of
/// a fill, and a join is sewn twice.
#[test]
fn unlike_sides_a_panel_in_a_middle_and_a_reinforced_join_are_written() {
    let file = "patterns/harbour-lantern.json";
    let bytes = std::fs::read(file).unwrap();
    let mut seq = Sequence::new(read::read(file, &bytes).unwrap().project);
    // A bead more on a side of the second panel.
    let second = Panel(1);
    let last = seq.layout().kind(second).last();
    let is_in_last = |step: &Step| {
        let at = seq.gap_of(*step);
        at.is_some_and(|at| at.panel == second && at.gap.round == last && at.gap.gap == 3)
    };
    let at = (1..=seq.steps()).map(Step).find(is_in_last).unwrap();
    seq = seq
        .as_stitched(Step(at.0 - 1), at, 2, None)
        .unwrap()
        .sequence;
    let done = Step(at.0);
    let offered = seq.amendments(done);
    let mut fits = offered
        .iter()
        .filter(|change| change.say(&seq).contains("ease"));
    seq = seq.amended(done, fits.next().unwrap()).unwrap();
    let offered = seq.amendments(done);
    let mut middles = offered
        .iter()
        .filter(|change| change.say(&seq).contains("locks into"));
    seq = seq.amended(done, middles.next().unwrap()).unwrap();
    let end = Step(seq.steps());
    let offered = seq.amendments(end);
    let mut again = offered
        .iter()
        .filter(|change| change.say(&seq).contains("reinforce it"));
    seq = seq.amended(end, again.next().unwrap()).unwrap();
    let text = as_worked(&bytes, &seq).expect("a pattern");
    let again = read_again(&text);
    assert_eq!(as_worked(text.as_bytes(), &again).as_ref(), Ok(&text));
    for said in [
        "\"gaps\": [",
        "\"eased\": true",
        "\"set-in\": ",
        "\"reinforce\": ",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert_proved(&again, &[]);
}
