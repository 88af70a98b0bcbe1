//! The state of the piece, in numbers and words: for the lines of the stitch
//! view and for the card of a piece that rested.

use crate::beadwork::layout::{Part, Seat};
use crate::beadwork::number::Bead;
use crate::beadwork::sequence::Sequence;
use crate::progress::Moment;

/// A bead in words: `S (slate), Panel 2, round 5, side 1, bead 3`.
pub fn bead_words(seq: &Sequence, bead: Bead) -> String {
    let layout = seq.layout();
    let seat = layout.seat(bead);
    let colour = layout.colour_of(seat);
    let kind = layout.bead_kind(colour);
    format!("{} ({}), {}", kind.letter, kind.name, seat_words(seq, seat))
}

/// A seat in words: `Panel 2, round 5, side 1, bead 3`.
pub fn seat_words(seq: &Sequence, seat: Seat) -> String {
    let name = &seq.layout().panel(seat.panel).name;
    let (side, bead) = (seat.side, seat.place + 1);
    match seat.part {
        Part::Face => format!("{name}, round {}, side {side}, bead {bead}", seat.round),
        Part::JoinRow(_) => format!("{name}, side {side}, join bead {bead}"),
        Part::Tip(_) => format!("{name}, side {side}, tip bead {bead}"),
    }
}

/// How long ago, in words: `today`, `yesterday`, `9 days ago`. `then` comes
/// from the machine's clock, which may have been wrong.
pub fn ago(then: Moment, now: Moment) -> String {
    let Some(since) = now.since(then) else {
        return "at a time to come (was a clock set back?)".into();
    };
    let hours = since.as_secs() / 3600;
    match (hours, hours / 24) {
        (0, _) => "less than an hour ago".into(),
        (1, _) => "an hour ago".into(),
        (h, 0) => format!("{h} hours ago"),
        (_, 1) => "a day ago".into(),
        (_, d) if d < 60 => format!("{d} days ago"),
        (_, d) if d < 730 => format!("{} months ago", d / 30),
        (_, d) => format!("{} years ago", d / 365),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_written_as_people_say_them() {
        let day = 86_400_000;
        let said = |days: i64| ago(Moment(0), Moment(days * day + 5));
        assert_eq!(said(0), "less than an hour ago");
        assert_eq!(said(1), "a day ago");
        assert_eq!(said(9), "9 days ago");
        assert_eq!(said(100), "3 months ago");
        assert!(ago(Moment(day), Moment(0)).contains("clock"));
    }
}
