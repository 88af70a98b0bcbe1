//! How the piece stands, in numbers and words: for the lines of the stitch
//! view and for the card of a piece that rested.

use crate::beadwork::layout::{Part, Seat};
use crate::beadwork::number::{Bead, Panel, Round, Side, Step};
use crate::beadwork::sequence::Sequence;
use crate::progress::Moment;

/// A bead in words: `S (slate), Panel 2, round 5, side 1, bead 3`.
pub fn bead_words(seq: &Sequence, bead: Bead) -> String {
    let layout = seq.layout();
    let seat = layout.seat(bead);
    let colour = layout.colour_of(seat);
    let kind = &layout.project().beads[usize::from(colour.0)];
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

/// What should be seen on the mat, for a maker to be sure of the place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToSee {
    /// The panel.
    pub panel: Panel,
    /// The round that is in hand.
    pub round: Round,
    /// Beads of it in place, side by side.
    pub sides: Vec<u32>,
    /// Beads of the whole round.
    pub whole: u32,
}

/// The round in hand once `done` steps are done: the one that the last bead
/// was strung in.
pub fn to_see(seq: &Sequence, done: Step) -> Option<ToSee> {
    let layout = seq.layout();
    let strung = seq.strung_after(done);
    let seat = layout.seat(Bead((strung > 0).then_some(strung)?));
    let kind = layout.kind(seat.panel);
    if seat.round > kind.last() {
        let rows = (0..kind.sides()).map(Side).map(|side| {
            let row = layout.row_on(seat.panel, side)?;
            let info = layout.row(row);
            let all = info.beads + info.tips;
            let before = layout.row_bead(row, 0).0 - 1;
            Some((strung.saturating_sub(before).min(all), all))
        });
        let rows: Vec<_> = rows.map(|r| r.unwrap_or((0, 0))).collect();
        return Some(ToSee {
            panel: seat.panel,
            round: seat.round,
            sides: rows.iter().map(|(n, _)| *n).collect(),
            whole: rows.iter().map(|(_, all)| all).sum(),
        });
    }
    let on_side = |side: Side| {
        let places = 0..kind.on_side(seat.round, side);
        let there = |place: &u32| {
            let index = kind.index(seat.round, side, *place);
            layout.bead(seat.panel, seat.round, index).0 <= strung
        };
        places.filter(there).count() as u32
    };
    Some(ToSee {
        panel: seat.panel,
        round: seat.round,
        sides: (0..kind.sides()).map(|s| on_side(Side(s))).collect(),
        whole: kind.in_round(seat.round),
    })
}

impl ToSee {
    /// `Panel 2, round 5: 7 of 15 beads so far; side 1: 5, side 2: 2, side 3: none`
    pub fn say(&self, seq: &Sequence) -> String {
        let name = &seq.layout().panel(self.panel).name;
        let all: u32 = self.sides.iter().sum();
        let sides = self.sides.iter().enumerate().map(|(s, n)| {
            let beads = match n {
                0 => "none".to_string(),
                n => n.to_string(),
            };
            format!("side {}: {beads}", s + 1)
        });
        let sides = sides.collect::<Vec<_>>().join(", ");
        let what = match self.round > seq.layout().kind(self.panel).last() {
            true => "join rows".to_string(),
            false => format!("round {}", self.round),
        };
        format!(
            "{name}, {what}: {all} of {} beads so far; {sides}",
            self.whole
        )
    }
}

/// How long ago, in words: `today`, `yesterday`, `9 days ago`. `then` is by
/// the machine's clock, which may have been wrong.
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
    use crate::beadwork::movement::Kind;
    use crate::beadwork::project::Closing;
    use crate::screen::proof;

    /// The beads said to be there are those that the steps have strung.
    #[test]
    fn what_is_to_be_seen_agrees_with_the_steps() {
        for seq in [
            proof::panel(3, 5),
            proof::inward(3, 5, 1),
            proof::tetrahedron(4, Closing::Fill, 1),
        ] {
            for done in 1..=seq.steps() {
                let m = seq.step(Step(done)).unwrap();
                let Some(seen) = to_see(&seq, Step(done)) else {
                    assert_eq!(seq.strung_after(Step(done)), 0);
                    continue;
                };
                let all: u32 = seen.sides.iter().sum();
                assert!(all <= seen.whole);
                let panel = seq.job(m.job).panel();
                let face = m.strings.first().map(|&b| seq.layout().seat(b).part);
                if face == Some(Part::Face) && m.kind != Kind::Ring && panel == seen.panel {
                    assert_eq!((all, seen.whole), (m.round_beads, m.round_target));
                }
            }
        }
    }

    #[test]
    fn days_are_said_as_people_say_them() {
        let day = 86_400_000;
        let said = |days: i64| ago(Moment(0), Moment(days * day + 5));
        assert_eq!(said(0), "less than an hour ago");
        assert_eq!(said(1), "a day ago");
        assert_eq!(said(9), "9 days ago");
        assert_eq!(said(100), "3 months ago");
        assert!(ago(Moment(day), Moment(0)).contains("clock"));
    }
}
