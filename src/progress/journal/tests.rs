use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;
use crate::beadwork::amend::colours::{BeadSwap, ColourChange, NewBead, SwapScope};
use crate::beadwork::amend::{Amendment, OwnStep, OwnStepKind};
use crate::beadwork::colour::ColourWord;
use crate::beadwork::number::{Bead, Job, Panel, Round, Side, Step};
use crate::beadwork::paint::RoundColours;
use crate::beadwork::{Colour, Rgb, Sequence, testing};
use crate::progress::{Check, Event, Moment, MoveReason, Stitched, Value};

/// The written form. Changing it breaks every existing journal.
const PINNED: &str = r#"{"threadmark":"journal","major":1,"minor":8} 9c61bf17
{"at":1700000000000,"did":"opened"} 2d6ccd25
{"at":1700000001400,"did":{"move":{"step":1,"why":"forward","made":[{"change":{"begin":1}},{"run":{"stage":{"through":{"kind":"start-thread","path":{"beads":[]}}},"from":0,"to":1}}]}}} cd851da9
{"at":1700000001500,"did":{"move":{"step":17,"why":"forward","made":[{"run":{"stage":{"rounds":{"panel":1,"on":3}},"from":0,"to":1}}]}}} 57ed3cd8
{"at":1700000002500,"did":{"move":{"step":0,"why":"back"}}} 6f9395a7
{"at":1700000003500,"did":{"move":{"step":90,"why":"jump"}}} 442b11ff
{"at":1700000004500,"did":{"move":{"step":0,"why":"return"}}} cc66908c
{"at":1700000004700,"did":{"move":{"step":0,"why":"unpick"}}} 14ece5ff
{"at":1700000005500,"did":{"check":{"step":30,"job":1,"round":4,"side":2,"expected":4,"counted":5}}} 24e437c7
{"at":1700000006500,"did":{"check":{"step":30,"job":1,"round":4,"expected":12,"counted":12}}} 8063e9b5
{"at":1700000006700,"did":{"as-stitched":{"step":30,"job":1,"round":9,"side":2,"by":-1}}} 344193bd
{"at":1700000006800,"did":{"thread":{"step":30,"place":{"bead":35,"then":0},"cut_mm":1500}}} 290fb2dc
{"at":1700000006900,"did":{"paint":{"panel":"wall","part":"5","colours":"A S* A / S* / S*"}}} 76c8adac
{"at":1700000006950,"did":{"amend":{"colours":{"new-bead":{"letter":"P","name":"plum","size":"round 11/0","colour":[74,33,69]}}}}} 8f58b857
{"at":1700000006960,"did":{"amend":{"colours":{"swap":{"from":38,"old":1,"new":4,"scope":{"round":[1,5]}}}}}} 00bed0da
{"at":1700000006970,"did":{"amend":{"colours":{"paint":{"from":38,"panel":1,"coat":{"round":[5,[{"head":[1],"middle":[0],"tail":[1]}]]}}}}}} 98bb2a19
{"at":1700000006975,"did":{"amend":{"colours":{"take":{"from":38,"panel":1,"beads":[1,0]}}}}} bc3bc131
{"at":1700000006976,"did":{"amend":{"colours":{"as-planned":{"from":40}}}}} 915d8708
{"at":1700000006977,"did":{"amend":{"colours":{"strung":{"from":20,"beads":[1]}}}}} e617e1a9
{"at":1700000006978,"did":{"amend":{"own":{"what":"stone","text":"the blue one"}}}} 3fad97c4
{"at":1700000006979,"did":{"restated":{"after":16,"step":18,"made":[{"change":{"as-stitched":{"panel":1,"round":4,"gap":0,"beads":3}}},{"run":{"stage":{"rounds":{"panel":1,"on":3}},"from":0,"to":2}}]}}} 4d1dd965
{"at":1700000006980,"did":"undo"} 2f24d483
{"at":1700000006982,"did":{"move":{"step":21,"why":"forward","made":[{"run":{"stage":{"break-out":{"panel":1,"round":4,"gap":1,"colour":0}},"from":0,"to":1}}]}}} 3e77f4c6
{"at":1700000007500,"did":{"note":{"step":30,"place":{"bead":35,"then":0},"text":"corner \"loose\", pulled firm"}}} 6f6f1a7d
{"at":1700000008500,"did":{"set":{"name":"left-handed","value":true}}} 2ea86d63
{"at":1700000009500,"did":{"set":{"name":"bell","value":["decrease","step-down"]}}} a833242d
{"at":1700000010500,"did":"rested"} a1bb3a37
"#;

fn recoloured(change: ColourChange, at: Moment) -> Entry {
    let did = Event::Amend(Amendment::Colours(change));
    Entry { at, did }
}

fn pinned_entries() -> Vec<Entry> {
    let seq = Sequence::new(testing::single(testing::panel(3, 8)));
    let restated = seq.as_stitched(Step(18), Step(17), 3, None).unwrap();
    let broken = seq.break_out(Step(20), Step(18), false).unwrap();
    let at = |after: i64| Moment(1_700_000_000_000 + after);
    let check = |side, expected, counted| {
        Event::Check(Check {
            step: 30,
            job: Job(0),
            round: Round(4),
            side,
            expected,
            counted,
        })
    };
    vec![
        Entry {
            at: at(0),
            did: Event::Opened,
        },
        Entry::played(&seq, (0, 1), MoveReason::Forward, at(1400)),
        Entry::played(&seq, (16, 17), MoveReason::Forward, at(1500)),
        Entry::to(0, MoveReason::Back, at(2500)),
        Entry::to(90, MoveReason::Jump, at(3500)),
        Entry::to(0, MoveReason::Return, at(4500)),
        Entry::to(0, MoveReason::Unpick, at(4700)),
        Entry {
            at: at(5500),
            did: check(Some(Side(1)), 4, 5),
        },
        Entry {
            at: at(6500),
            did: check(None, 12, 12),
        },
        Entry {
            at: at(6700),
            did: Event::AsStitched(Stitched {
                step: 30,
                job: Job(0),
                round: Round(9),
                side: Side(1),
                by: -1,
            }),
        },
        Entry::thread(&seq, 30, 1500, at(6800)),
        Entry::paint("wall", "5", "A S* A / S* / S*", at(6900)),
        recoloured(
            ColourChange::NewBead(NewBead {
                letter: 'P',
                name: "plum".into(),
                size: Some("round 11/0".into()),
                colour: Rgb(74, 33, 69),
            }),
            at(6950),
        ),
        recoloured(
            ColourChange::Swap(BeadSwap {
                from: Bead(38),
                old: Colour(1),
                new: Colour(4),
                scope: SwapScope::Round(Panel(0), Round(5)),
            }),
            at(6960),
        ),
        recoloured(
            ColourChange::Paint {
                from: Bead(38),
                panel: Panel(0),
                round_colours: RoundColours::Round(
                    Round(5),
                    vec![ColourWord {
                        head: vec![Colour(1)],
                        middle: vec![Colour(0)],
                        tail: vec![Colour(1)],
                        mirror: false,
                    }],
                ),
            },
            at(6970),
        ),
        recoloured(
            ColourChange::Take {
                from: Bead(38),
                panel: Panel(0),
                beads: vec![Colour(1), Colour(0)],
            },
            at(6975),
        ),
        recoloured(ColourChange::AsPlanned { from: Bead(40) }, at(6976)),
        recoloured(
            ColourChange::Strung {
                from: Bead(20),
                beads: vec![Colour(1)],
            },
            at(6977),
        ),
        Entry {
            at: at(6978),
            did: Event::Amend(Amendment::Own(OwnStep {
                what: OwnStepKind::Stone,
                text: "the blue one".into(),
            })),
        },
        Entry {
            at: at(6979),
            did: Event::Restated {
                after: restated.after,
                step: restated.step,
                made: restated.made,
            },
        },
        Entry {
            at: at(6980),
            did: Event::Undo,
        },
        Entry {
            at: at(6982),
            did: Event::Move {
                step: broken.step,
                why: MoveReason::Forward,
                made: broken.made,
            },
        },
        Entry::note(&seq, 30, "corner \"loose\", pulled firm", at(7500)),
        Entry::left_handed(true, at(8500)),
        Entry::bell(&["decrease", "step-down"], at(9500)),
        Entry {
            at: at(10_500),
            did: Event::Rested,
        },
    ]
}

fn written(entries: &[Entry]) -> Vec<u8> {
    entries.iter().fold(header(), |mut bytes, entry| {
        bytes.extend(line(entry));
        bytes
    })
}

fn state_after(entries: &[Entry]) -> State {
    let mut state = State::default();
    entries.iter().for_each(|entry| state.apply(entry));
    state
}

fn read_all(bytes: &[u8]) -> (Reading, Vec<Entry>) {
    let mut entries = Vec::new();
    let reading = read(bytes, |entry| entries.push(entry.clone())).unwrap();
    (reading, entries)
}

#[test]
fn the_written_form_is_this() {
    assert_eq!(
        String::from_utf8(written(&pinned_entries())).unwrap(),
        PINNED
    );
    assert_eq!(read_all(PINNED.as_bytes()).1, pinned_entries());
    assert!(
        include_str!("../../../docs/keeping.md").contains(PINNED),
        "docs/keeping.md shows it"
    );
}

/// The check value of this CRC-32 in catalogues of CRCs, from memory:
/// "123456789" gives cbf43926.
#[test]
fn the_checksum_is_the_crc_32_of_rfc_1952() {
    assert_eq!(
        with_checksum(Ok(b"123456789".to_vec())),
        b"123456789 cbf43926\n"
    );
}

#[test]
fn a_journal_cut_anywhere_gives_every_line_before_the_cut() {
    let (bytes, entries) = (PINNED.as_bytes(), pinned_entries());
    for cut in 0..=bytes.len() {
        let part = &bytes[..cut];
        let feeds = part.iter().filter(|&&byte| byte == b'\n').count();
        // A line that lacks only its line feed is whole.
        let whole = feeds + usize::from(bytes.get(cut) == Some(&b'\n'));
        let expected = &entries[..whole.saturating_sub(1)];

        let (reading, read) = read_all(part);
        assert_eq!(read, expected, "cut at byte {cut}");
        assert_eq!(reading.state, state_after(expected));
        assert_eq!(reading.lacks_line_feed, whole > feeds);
        assert_eq!(
            reading.damage.is_some(),
            whole == 0 || (whole == feeds && !part.ends_with(b"\n"))
        );
        if let Some(damage) = reading.damage {
            let incomplete = cut as u64
                - part
                    .iter()
                    .rposition(|&b| b == b'\n')
                    .map_or(0, |at| at as u64 + 1);
            assert_eq!(damage.bytes, incomplete);
            assert_eq!(damage.only_torn_end, whole > 0);
        }
        let repaired = repaired(part).unwrap();
        assert!(bytes.starts_with(&repaired), "cut at byte {cut}");
        let (again, read) = read_all(&repaired);
        assert!(again.damage.is_none() && !again.lacks_line_feed);
        assert_eq!(read, expected);
    }
}

#[test]
fn a_damaged_byte_costs_its_line_and_no_other() {
    const FLIPS: [u8; 9] = [1, 2, 4, 8, 16, 32, 64, 128, 255];
    let (bytes, entries) = (PINNED.as_bytes(), pinned_entries());
    for at in 0..bytes.len() {
        // Lines from 0: the header, then the entries.
        let hit = bytes[..at].iter().filter(|&&byte| byte == b'\n').count();
        let feed = bytes[at] == b'\n';
        let lost = |line: usize| line == hit || (feed && line == hit + 1);
        let expected: Vec<_> = (1..)
            .zip(&entries)
            .filter(|(n, _)| !lost(*n))
            .map(|(_, e)| e.clone())
            .collect();
        // Every bit of the header and of an entry; of the rest one in turn.
        let flips = match hit {
            0 | 1 => &FLIPS[..],
            _ => &FLIPS[at % FLIPS.len()..][..1],
        };
        for flip in flips {
            let mut damaged = bytes.to_vec();
            damaged[at] ^= flip;
            let (reading, read) = read_all(&damaged);
            assert_eq!(read, expected, "byte {at} flipped by {flip}");
            assert_eq!(reading.state, state_after(&expected));
            let damage = reading.damage.expect("reported");
            assert_eq!(damage.kept, expected.len() as u64);
            assert_eq!(damage.stretches, 1);
            assert_eq!(damage.no_header, lost(0));

            let (again, read) = read_all(&repaired(&damaged[..]).unwrap());
            assert!(again.damage.is_none() && again.version == Some(Version::OURS));
            assert_eq!(read, expected);
        }
    }
}

#[test]
fn two_damaged_places_are_reported_as_two() {
    let mut damaged = PINNED.as_bytes().to_vec();
    // One in the second line, and one in the last.
    damaged[60] = b'#';
    let last = damaged.len() - 3;
    damaged[last] = b'#';
    let damage = read_all(&damaged).0.damage.unwrap();
    assert_eq!(
        (damage.stretches, damage.kept),
        (2, PINNED.lines().count() as u64 - 3)
    );
    assert!(
        damage
            .to_string()
            .contains("bytes in 2 places are left out"),
        "{damage}"
    );
}

#[test]
fn entries_of_a_newer_minor_version_are_skipped_and_kept() {
    let newer = r#"{"threadmark":"journal","major":1,"minor":8} 9c61bf17
{"at":1700000001500,"did":{"move":{"step":1,"why":"forward"}}} 3432ffb8
{"at":1700000003000,"did":{"unpick":{"from":9,"to":1}},"lamp":"warm"} 17e4a5e7
{"at":1700000003000,"did":{"move":{"step":2,"why":"teleport","hand":"left"}},"lamp":"warm"} fcbef11e
"#;
    let (reading, entries) = read_all(newer.as_bytes());
    assert_eq!(reading.version, Some(Version { major: 1, minor: 8 }));
    assert!(reading.version.unwrap().is_readable() && reading.damage.is_none());
    assert_eq!((reading.entries, reading.unknown), (2, 1));
    assert_eq!(
        entries[1],
        Entry::to(2, MoveReason::Other, Moment(1_700_000_003_000))
    );
    assert_eq!(reading.state.step, 2);

    // Repairing an incomplete end keeps them byte for byte.
    let incomplete = format!("{newer}{{\"at\":17");
    assert_eq!(repaired(incomplete.as_bytes()).unwrap(), newer.as_bytes());
}

#[test]
fn a_newer_major_version_is_read_from_the_first_line() {
    let newer = b"{\"threadmark\":\"journal\",\"major\":2,\"minor\":0} 2326e7ef\n\xff\xfe";
    let FirstLine::Format(found) = first_line(&newer[..]).unwrap() else {
        panic!("not seen")
    };
    assert_eq!(found, Version { major: 2, minor: 0 });
    assert!(!found.is_readable());
}

#[test]
fn an_undamaged_first_line_is_an_entry_or_has_a_format() {
    let first = |json: &str| first_line(&with_checksum(Ok(json.into()))[..]).unwrap();
    for unknown in [
        r#"{"threadmark":"journal","major":"2","minor":0}"#,
        r#"{"threadmark":"journal","major":-1,"minor":0}"#,
        r#"{"threadmark":"journal","major":4294967296,"minor":0}"#,
        r#"{"threadmark":"journal","version":"2.0"}"#,
        r#"{"threadmark":"journal 2","major":1,"minor":0}"#,
        r#"{"threadmark":"journal","at":1}"#,
        r#"["journal",2]"#,
        "journal 2",
    ] {
        let found = first(unknown);
        assert!(matches!(found, FirstLine::UnknownFormat), "{unknown}");
    }
    for entry in [r#"{"at":1,"did":"opened"}"#, r#"{"at":1,"did":{"lamp":1}}"#] {
        assert!(matches!(first(entry), FirstLine::Other), "{entry}");
    }
    let damaged = b"{\"threadmark\":\"journal\",\"major\":\"2\"} 00000000\n";
    assert!(matches!(
        first_line(&damaged[..]).unwrap(),
        FirstLine::Other
    ));
}

#[test]
fn control_characters_in_a_journal_are_removed() {
    let json = br#"{"at":1,"did":{"note":{"step":3,"text":"a\u001b[31mb\u202ec\nd"}}}"#;
    let (_, entries) = read_all(&with_checksum(Ok(json.to_vec())));
    let did = Event::Note {
        step: 3,
        place: None,
        text: "abc d".into(),
    };
    assert_eq!(entries, [Entry { at: Moment(1), did }]);
}

#[test]
fn a_line_without_end_is_left_out_without_filling_memory() {
    let mut bytes = header();
    bytes.extend(std::iter::repeat_n(b'x', 2 * MAX_LINE_BYTES as usize + 77));
    bytes.push(b'\n');
    bytes.extend(line(&Entry::to(5, MoveReason::Forward, Moment(1))));
    let reading = read_all(&bytes).0;
    assert_eq!(reading.state.step, 5);
    assert_eq!(reading.damage.unwrap().bytes, 2 * MAX_LINE_BYTES + 78);
}

fn any_entry() -> impl Strategy<Value = Entry> {
    let why = prop::sample::select(vec![
        MoveReason::Forward,
        MoveReason::Back,
        MoveReason::Jump,
        MoveReason::Return,
        MoveReason::Unpick,
    ]);
    let side = prop::option::of(0..=u8::MAX);
    let value = prop_oneof![
        any::<bool>().prop_map(Value::Flag),
        any::<i64>().prop_map(Value::Number),
        any::<String>().prop_map(|text| Value::Text(text.into())),
        prop::collection::vec(any::<String>().prop_map(Into::into), 0..4).prop_map(Value::Words),
    ];
    let did = prop_oneof![
        6 => (any::<u32>(), why).prop_map(|(step, why)| Event::Move { step, why, made: vec![] }),
        1 => (any::<(u32, u16, u32, u32, u32)>(), side).prop_map(
            |((step, job, round, expected, counted), side)| Event::Check(Check {
                step,
                job: Job(job),
                round: Round(round),
                side: side.map(Side),
                expected,
                counted,
            })
        ),
        1 => (0..9u32, any::<String>()).prop_map(|(step, text)| Event::Note {
            step,
            place: None,
            text: text.into(),
        }),
        1 => ("[a-d]", value).prop_map(|(name, value)| Event::Set { name: name.into(), value }),
        1 => any::<(u32, u16, u32, u8, i32)>().prop_map(|(step, job, round, side, by)| {
            let (job, round, side) = (Job(job), Round(round), Side(side));
            Event::AsStitched(Stitched { step, job, round, side, by })
        }),
        1 => (0..9u32, 0..3u32).prop_map(|(step, cut_mm)| Event::Thread {
            step,
            place: None,
            cut_mm,
        }),
        1 => Just(Event::Opened),
        1 => Just(Event::Rested),
    ];
    (any::<i64>(), did).prop_map(|(at, did)| Entry {
        at: Moment(at),
        did,
    })
}

proptest! {
    #[test]
    fn reading_a_journal_gives_the_state_after_its_entries(
        entries in prop::collection::vec(any_entry(), 0..60)
    ) {
        let (reading, read) = read_all(&written(&entries));
        prop_assert_eq!(&reading.state, &state_after(&entries));
        prop_assert_eq!(read, entries);
        prop_assert!(reading.damage.is_none() && reading.unknown == 0);
    }

    #[test]
    fn notes_are_the_last_written_on_each_step(
        entries in prop::collection::vec(any_entry(), 0..60)
    ) {
        let mut notes = BTreeMap::new();
        for entry in &entries {
            if let Event::Note { step, text, .. } = &entry.did {
                notes.insert(*step, text.clone());
            }
        }
        notes.retain(|_, text| !text.is_empty());
        prop_assert_eq!(&*state_after(&entries).notes, &notes);
    }

    #[test]
    fn no_bytes_make_reading_fail(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let (reading, _) = read_all(&bytes);
        prop_assert!(reading.damage.is_some());
        let (again, _) = read_all(&repaired(&bytes[..]).unwrap());
        prop_assert!(again.damage.is_none());
    }

    #[test]
    fn any_damage_leaves_the_untouched_lines(
        entries in prop::collection::vec(any_entry(), 1..20),
        flips in prop::collection::vec((any::<prop::sample::Index>(), 1..=255u8), 1..4),
    ) {
        let mut bytes = written(&entries);
        let mut hit = std::collections::BTreeSet::new();
        for (at, flip) in &flips {
            let at = at.index(bytes.len());
            hit.insert(at);
            bytes[at] ^= flip;
        }
        let mut from = header().len();
        let mut untouched = Vec::new();
        for entry in &entries {
            let to = from + line(entry).len();
            // The line feed before it is part of what a line needs.
            if hit.range(from - 1..to).next().is_none() {
                untouched.push(entry.clone());
            }
            from = to;
        }
        let (_, read) = read_all(&bytes);
        let mut read = read.iter();
        prop_assert!(untouched.iter().all(|entry| read.any(|other| other == entry)));
    }
}
