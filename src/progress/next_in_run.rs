//! Reads a line of a journal that continues the run of the line before it.
//!
//! Most lines of a journal are such lines, and there can be hundreds of
//! thousands of them. They differ in four numbers:
//!
//! ```text
//! {"at":…,"did":{"move":{"step":…,"why":"forward","made":[{"run":{"stage":{"rounds":…},"from":…,"to":…}}]}}}
//! ```
//!
//! So only these numbers are read here, in a tenth of the time that a JSON
//! parser takes. Every other line is left to the JSON parser.

use super::entry::{Entry, Event, MoveReason};
use super::moment::Moment;
use crate::beadwork::stage::Stage;
use crate::beadwork::work::{Fact, Run};
use std::str::FromStr;

/// The stage of the last entry's run, and its JSON.
#[derive(Default)]
pub(super) struct NextInRun(Option<(Stage, Vec<u8>)>);

impl NextInRun {
    /// The entry of a line, if it continues the last run.
    pub(super) fn entry(&self, json: &[u8]) -> Option<Entry> {
        let (stage, written) = self.0.as_ref()?;
        let (at, rest) = number(json.strip_prefix(br#"{"at":"#)?)?;
        let (step, rest) = number(rest.strip_prefix(br#","did":{"move":{"step":"#)?)?;
        let rest = rest.strip_prefix(br#","why":"forward","made":[{"run":{"stage":"#)?;
        let rest = rest.strip_prefix(&written[..])?;
        let (from, rest) = number(rest.strip_prefix(br#","from":"#)?)?;
        let (to, rest) = number(rest.strip_prefix(br#","to":"#)?)?;
        let stage = stage.clone();
        (rest == b"}}]}}}").then(|| Entry {
            at: Moment(at),
            did: Event::Move {
                step,
                why: MoveReason::Forward,
                made: vec![Fact::Run(Run { stage, from, to })],
            },
        })
    }

    /// The entry of any line. The next line may continue its run.
    pub(super) fn as_json(&mut self, json: &[u8]) -> Option<Entry> {
        let entry: Entry = serde_json::from_slice(json).ok()?;
        if let Event::Move { made, .. } = &entry.did
            && let [Fact::Run(run)] = &made[..]
        {
            let written = serde_json::to_vec(&run.stage).ok();
            self.0 = written.map(|written| (run.stage.clone(), written));
        }
        Some(entry)
    }
}

/// The whole number at the start, as JSON writes it, not negative; and the
/// rest.
fn number<T: FromStr>(text: &[u8]) -> Option<(T, &[u8])> {
    let length = text.iter().take_while(|byte| byte.is_ascii_digit()).count();
    let (digits, rest) = text.split_at(length);
    if length > 1 && digits[0] == b'0' {
        return None;
    }
    Some((str::from_utf8(digits).ok()?.parse().ok()?, rest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::{Sequence, testing};

    /// Whether a line is left to the JSON parser. If it is read here, the JSON
    /// parser must give the same entry.
    fn read_as_json(next: &NextInRun, json: &[u8]) -> bool {
        let quick = next.entry(json);
        if let Some(quick) = &quick {
            assert_eq!(
                serde_json::from_slice::<Entry>(json).ok().as_ref(),
                Some(quick)
            );
        }
        quick.is_none()
    }

    #[test]
    fn a_line_is_read_as_json_would_be() {
        let seq = Sequence::new(testing::folded_pair(4, 1));
        let (mut next, mut quick) = (NextInRun::default(), 0);
        for step in 1..=seq.steps() {
            let at = Moment(1_700_000_000_000 + i64::from(step));
            let entry = Entry::played(&seq, (step - 1, step), MoveReason::Forward, at);
            let json = serde_json::to_vec(&entry).unwrap();
            match read_as_json(&next, &json) {
                true => assert_eq!(next.as_json(&json), Some(entry)),
                false => quick += 1,
            }
        }
        assert!(2 * quick > seq.steps(), "{quick} of {}", seq.steps());
    }

    #[test]
    fn a_line_written_in_any_other_way_is_left_to_json() {
        let line = r#"{"at":5,"did":{"move":{"step":7,"why":"forward","made":[{"run":{"stage":{"ring":{"panel":1}},"from":0,"to":1}}]}}}"#;
        let mut next = NextInRun::default();
        assert!(read_as_json(&next, line.as_bytes()), "nothing came before");
        assert!(next.as_json(line.as_bytes()).is_some());
        assert!(!read_as_json(&next, line.as_bytes()));
        for (old, new) in [
            ("\"at\":5", "\"at\":-5"),
            ("\"at\":5", "\"at\": 5"),
            ("\"at\":5", "\"at\":05"),
            ("\"at\":5", "\"at\":"),
            ("\"step\":7", "\"step\":4294967296"),
            ("\"to\":1", "\"to\":1.0"),
            ("forward", "jump"),
            ("\"panel\":1", "\"panel\":2"),
            ("}}]}}}", "}}]}},\"more\":1}"),
            ("}}]}}}", "}}]}}} "),
        ] {
            let other = line.replace(old, new);
            assert_ne!(other, line);
            assert!(read_as_json(&next, other.as_bytes()), "{other}");
        }
    }
}
