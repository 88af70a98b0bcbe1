//! A movement in plain words: what to do now, and where that is.
//!
//! All sentences about movements are made here, so that the screen, the plain
//! mode, the lists and the handouts say the same.

use super::job::JobKind;
use super::layout::{Part, Seat};
use super::making::Begin;
use super::movement::{Kind, Movement};
use super::number::{Bead, Panel, Step};
use super::sequence::Sequence;
use super::stage::{Own, Stage};

impl Sequence {
    /// What to do: one short sentence, without a full stop.
    ///
    /// `Pick up 1 S, go through the next bead`
    pub fn say(&self, m: &Movement) -> String {
        let (letters, passed) = (self.letters(m), m.passes.len());
        let old = passed - m.strings.len();
        let beads = plural(passed, "bead");
        match m.kind {
            Kind::Ring if m.strings.is_empty() => {
                "Close the ring: through the first bead again".into()
            }
            Kind::Ring if self.is_of_a_strip(m) => {
                format!("Pick up {letters} for rows 1 and 2")
            }
            Kind::Ring => format!("Pick up {letters} for the ring"),
            Kind::Stitch | Kind::Increase if self.is_tip(m) => {
                format!("Tip: pick up {letters}, go through the next side's first bead")
            }
            Kind::Stitch if old == 0 => format!("Pick up {letters} for the last gap of the round"),
            Kind::Stitch if m.round_beads == 1 && self.is_of_a_strip(m) => {
                format!("Turn the work: pick up {letters}, go through the next high bead")
            }
            Kind::Stitch => format!("Pick up {letters}, go through {}", self.next_bead(m)),
            Kind::Increase if old == 0 => {
                format!("Increase: pick up {letters} for the last gap of the round")
            }
            Kind::Increase => format!("Increase: pick up {letters}, go through the next bead"),
            Kind::Decrease if self.is_corner(m) => "Corner: no bead, draw the two together".into(),
            Kind::Decrease => "Decrease: no bead, draw the two together".into(),
            Kind::StepUp => "Step up: through two beads".into(),
            Kind::StepDown if self.closes_free_start(m) => {
                "Close the ring and step down: through two beads".into()
            }
            Kind::StepDown => "Step down: through two beads".into(),
            Kind::PassThrough => format!("Pass through {beads}, adding none"),
            Kind::Zip => self.zip(m),
            Kind::Fold if passed > 0 => {
                format!("Draw the corners together: through {beads}")
            }
            Kind::Fold => self.fold(m),
            Kind::Close => format!("Close the middle: through {beads}"),
            Kind::Firm if matches!(self.job(m.job).kind, JobKind::Reinforce(..)) => {
                format!("Reinforce the join: through {beads}")
            }
            Kind::Firm => format!("Firm the rim: through {beads}"),
            Kind::StartThread => self.new_thread(m),
            Kind::EndThread if passed == 0 => "End the thread and cut it".into(),
            Kind::EndThread => format!("End the thread: weave through {beads}, then cut it"),
            Kind::Own => match self.stage_of(m.step) {
                Stage::Own(Own(own)) => own.say(),
                _ => String::new(),
            },
            Kind::Count if self.is_of_a_strip(m) => {
                let beads = plural(m.round_target as usize, "bead");
                format!("Count the row that ends the strip: {beads}")
            }
            Kind::Count => {
                let sides = u32::from(self.layout().kind(self.job(m.job).panel()).sides());
                format!(
                    "Count the edge: {} high beads, {} on each side",
                    m.round_target,
                    m.round_target / sides
                )
            }
        }
    }

    /// Where that is: `round 5 of 8 outward, side 2 of 3, bead 3 of 5`.
    /// Empty where there is nothing to say.
    pub fn say_where(&self, m: &Movement) -> String {
        let layout = self.layout();
        let mut parts = vec![];
        let bead = match m.kind {
            // The first of its two beads may be an anchor of another panel.
            Kind::StepDown => m.passes.last(),
            _ => m.strings.first().or(m.passes.first()),
        };
        let panel = match bead {
            Some(&bead) => layout.seat(bead).panel,
            None => self.job(m.job).panel(),
        };
        let kind = layout.kind(panel);
        match m.round {
            Some(round) if round > kind.last() => parts.push("join row".to_string()),
            Some(round) => {
                let of = kind.rounds();
                parts.push(match layout.making(panel).begin {
                    Begin::Ring => format!("round {round} of {of} outward"),
                    Begin::FreeStart | Begin::Rim => format!("round {round} of {of} inward"),
                    Begin::TwoRows => format!("row {round} of {of}"),
                });
            }
            None => {}
        }
        if let Some(side) = m.side.filter(|_| kind.sides() > 1) {
            parts.push(format!("side {side} of {}", kind.sides()));
        }
        if let Some(&bead) = m.strings.first() {
            let seat = layout.seat(bead);
            let nth = match kind.strip() {
                // As they are picked up, whichever way the row is worked.
                Some(_) => m.round_beads,
                None => seat.place + 1,
            };
            parts.push(format!("bead {nth} of {}", seat.of));
        } else if m.kind == Kind::Zip {
            parts.push(format!("tooth {} of {}", m.round_beads, m.round_target));
        }
        parts.join(", ")
    }

    /// The beads already there that a movement goes through: `A, S`, and those of
    /// another panel than the job's `A of Panel 3`. Nothing if it goes through
    /// none.
    pub fn say_passed(&self, m: &Movement) -> Option<String> {
        let old = m.passes.iter().filter(|bead| !m.strings.contains(bead));
        let mut said: Vec<(Panel, Vec<String>)> = vec![];
        for &bead in old {
            let panel = self.layout().seat(bead).panel;
            let letter = self.letter(bead).to_string();
            match said.last_mut() {
                Some((last, letters)) if *last == panel => letters.push(letter),
                _ => said.push((panel, vec![letter])),
            }
        }
        let own = self.job(m.job).panel();
        let parts = said.into_iter().map(|(panel, letters)| {
            let letters = letters.join(", ");
            match panel == own {
                true => letters,
                false => format!("{letters} of {}", self.layout().panel(panel).name),
            }
        });
        let parts: Vec<String> = parts.collect();
        (!parts.is_empty()).then(|| parts.join(", then "))
    }

    /// The letters of the beads picked up: `1 S`, `2 S`, `1 S and 1 A`.
    pub fn letters(&self, m: &Movement) -> String {
        let letter = |b: &Bead| self.letter(*b);
        match m.strings.as_slice() {
            [a, b] if letter(a) != letter(b) => format!("1 {} and 1 {}", letter(a), letter(b)),
            [a, ..] => format!("{} {}", m.strings.len(), letter(a)),
            [] => String::new(),
        }
    }

    /// The letter of a bead's colour.
    pub fn letter(&self, bead: Bead) -> char {
        let colour = self.layout().colour(bead);
        self.layout().bead_kind(colour).letter
    }

    fn seat_strung(&self, m: &Movement) -> Option<Seat> {
        m.strings.first().map(|&b| self.layout().seat(b))
    }

    /// Whether a movement belongs to the making of a strip.
    fn is_of_a_strip(&self, m: &Movement) -> bool {
        let job = &self.job(m.job).kind;
        let is_making = matches!(job, JobKind::Panel(_));
        is_making && self.layout().kind(job.panel()).strip().is_some()
    }

    /// Whether a movement strings tip beads.
    pub fn is_tip(&self, m: &Movement) -> bool {
        matches!(self.seat_strung(m), Some(s) if matches!(s.part, Part::Tip(_)))
    }

    /// The bead that a stitch ends in: of a fill's first round a join bead, or
    /// the corner.
    fn next_bead(&self, m: &Movement) -> &'static str {
        let into = m.passes.last().map(|&b| self.layout().seat(b));
        let strung = self.seat_strung(m);
        match (into, strung) {
            (Some(into), Some(strung)) if into.panel != strung.panel => match into.part {
                Part::JoinRow(_) => "the next join bead",
                Part::Tip(_) => "the tip bead",
                Part::Face => "the corner bead",
            },
            _ => "the next bead",
        }
    }

    /// Whether a movement draws together two beads of different sides.
    pub fn is_corner(&self, m: &Movement) -> bool {
        let before = self.step(Step(m.step.0.saturating_sub(1)));
        let last = before.and_then(|b| b.passes.last().copied());
        match (last, m.passes.first()) {
            (Some(a), Some(&b)) => {
                let (a, b) = (self.layout().seat(a), self.layout().seat(b));
                a.side != b.side || a.panel != b.panel
            }
            _ => true,
        }
    }

    /// Whether a step-down closes the string of a free start to a ring.
    pub fn closes_free_start(&self, m: &Movement) -> bool {
        let panel = self.job(m.job).panel();
        let layout = self.layout();
        layout.making(panel).begin == Begin::FreeStart
            && m.round.map(|r| r.0 + 1) == Some(layout.kind(panel).rounds())
    }

    fn zip(&self, m: &Movement) -> String {
        let Stage::Lock(lock) = self.stage_of(m.step) else {
            return match m.passes.len() {
                1 => "Zip: no join bead here, through the edge bead, the two drawn together".into(),
                2 => "Zip: through the join bead and the edge bead".into(),
                _ => "Zip: through 2 join beads and the edge bead".into(),
            };
        };
        let ring = lock.ring(self.layout());
        match m.passes.len() {
            2 => format!("Zip: through a bead of round {ring} and the next edge bead"),
            _ => {
                format!("Zip at the corner: through 2 beads of round {ring} and the next edge bead")
            }
        }
    }

    fn fold(&self, m: &Movement) -> String {
        let job = self.job(m.job);
        match (&job.kind, m.side) {
            (JobKind::Zip(panel, joins) | JobKind::SetIn(panel, joins), Some(side)) => {
                let onto = joins.iter().find(|j| j.side == side);
                let onto = onto.map_or("the next panel", |j| {
                    self.layout().panel(j.onto).name.as_str()
                });
                let name = &self.layout().panel(*panel).name;
                format!("Fold {name} over until its side {side} meets {onto}")
            }
            _ => "Fold the work along its middle until the two corners meet".into(),
        }
    }

    fn new_thread(&self, m: &Movement) -> String {
        let cut = self
            .thread_of(m.step)
            .map_or(0.0, |length| self.cut_mm(length));
        let cut = (cut / 10.0).round();
        let tail = (self.layout().project().thread.tail_mm / 10.0).round();
        let from = match m.passes.len() {
            0 => format!("leave a tail of {tail} cm"),
            n => format!("tail {tail} cm, weave in through {}", plural(n, "bead")),
        };
        format!("New thread: cut {cut} cm, {from}")
    }
}

/// `1 bead`, `3 beads`.
pub fn plural(n: usize, what: &str) -> String {
    many(n, what, &format!("{what}s"))
}

/// A number and its word: `1 tooth`, `3 teeth`.
pub fn many(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;

    fn lines(project: crate::beadwork::Project, kind: Kind) -> Vec<String> {
        let seq = Sequence::new(project);
        let mut said: Vec<String> = seq
            .iter()
            .filter(|m| m.kind == kind)
            .map(|m| format!("{} | {}", seq.say(&m), seq.say_where(&m)))
            .collect();
        said.dedup();
        said
    }

    #[test]
    fn a_decrease_is_said_as_a_beader_says_it() {
        let said = lines(testing::single(testing::inward(3, 4, 0)), Kind::Decrease);
        assert_eq!(
            said[0],
            "Corner: no bead, draw the two together | round 2 of 4 inward, side 1 of 3"
        );
    }

    #[test]
    fn a_stitch_says_colour_round_side_and_place() {
        let said = lines(testing::single(testing::panel(3, 4)), Kind::Stitch);
        assert_eq!(
            said.last().unwrap(),
            "Pick up 1 S for the last gap of the round | \
             round 4 of 4 outward, side 3 of 3, bead 3 of 4"
        );
    }

    #[test]
    fn a_strip_is_said_in_rows_and_turns() {
        let strip = || testing::single(testing::strip(2, 4));
        let strung = lines(strip(), Kind::Ring);
        assert_eq!(
            strung[..2],
            [
                "Pick up 1 S for rows 1 and 2 | row 2 of 4, bead 1 of 2",
                "Pick up 1 S for rows 1 and 2 | row 1 of 4, bead 1 of 2"
            ]
        );
        let stitched = lines(strip(), Kind::Stitch);
        assert_eq!(
            stitched[..2],
            [
                "Turn the work: pick up 1 S, go through the next high bead | row 3 of 4, bead 1 of 2",
                "Pick up 1 S, go through the next bead | row 3 of 4, bead 2 of 2"
            ]
        );
        let counted = lines(strip(), Kind::Count);
        assert_eq!(
            counted,
            ["Count the row that ends the strip: 2 beads | row 4 of 4"]
        );
    }

    #[test]
    fn a_fold_names_the_panel_that_the_side_is_to_meet() {
        let said = lines(
            testing::solid(Solid::Tetrahedron, 3, Closing::SetIn),
            Kind::Fold,
        );
        assert_eq!(said.len(), 2);
        assert!(said[0].starts_with("Fold Face 4 over until its side 2 meets Face"));
    }

    #[test]
    fn the_step_down_of_a_fill_s_first_round_is_inward() {
        let said = lines(
            testing::solid(Solid::Tetrahedron, 3, Closing::Fill),
            Kind::StepDown,
        );
        assert!(said[0].ends_with("| round 3 of 3 inward"), "{said:?}");
    }
}
