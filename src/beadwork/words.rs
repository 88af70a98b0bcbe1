//! A movement in plain words: what to do now, and where that is.
//!
//! All sentences about movements are made here, so that the screen, the plain
//! mode, the lists and the handouts say the same.

use super::broken_out::BrokenOut;
use super::route::{WOVEN, WOVEN_TURNS, is_turn};
use super::stage::Own;
use super::{Bead, Begin, JobKind, Kind, Movement, Panel, Part, Seat, Sequence, Side, Stage, Step};

impl Sequence {
    /// What to do: one short sentence, without a full stop.
    ///
    /// `Pick up 1 S, sew through the next bead`
    pub fn say(&self, m: &Movement) -> String {
        let (letters, passed) = (self.letters(m), m.passes.len());
        let old = passed - m.strings.len();
        let beads = plural(passed, "bead");
        match m.kind {
            Kind::Ring if m.strings.is_empty() => {
                "Close the ring: sew through the first bead again".into()
            }
            Kind::Ring if self.is_of_a_strip(m) => {
                format!("Pick up {letters} for rows 1 and 2")
            }
            Kind::Ring => match self.stage_of(m.step) {
                Stage::FreeStart(start) => match self.layout().begins_with_strips(start.panel) {
                    true => format!("Pick up {letters} for the strip"),
                    false => format!("Pick up {letters} for the string"),
                },
                _ => format!("Pick up {letters} for the ring"),
            },
            Kind::Stitch | Kind::Increase if self.is_tip(m) => {
                format!("Tip: pick up {letters}, sew through the next side's first bead")
            }
            Kind::Stitch if old == 0 => format!("Pick up {letters} for the last gap of the round"),
            Kind::Stitch if m.round_beads == 1 && self.is_of_a_strip(m) => {
                format!("Turn the work: pick up {letters}, sew through the next up bead")
            }
            Kind::Stitch => format!("Pick up {letters}, sew through {}", self.next_bead(m)),
            Kind::Increase if old == 0 => {
                format!("Increase: pick up {letters} for the last gap of the round")
            }
            Kind::Increase => format!("Increase: pick up {letters}, sew through the next bead"),
            Kind::Decrease if self.is_corner(m) => "Corner: no bead, draw the two together".into(),
            Kind::Decrease => "Decrease: no bead, draw the two together".into(),
            Kind::StepUp => "Step up: sew through two beads".into(),
            Kind::StepDown if self.closes_free_start(m) => {
                match self.layout().begins_with_strips(self.job(m.job).panel()) {
                    true => "Draw this strip and the first together and step down: sew through two beads"
                        .into(),
                    false => "Close the ring and step down: sew through two beads".into(),
                }
            }
            Kind::StepDown => "Step down: sew through two beads".into(),
            Kind::PassThrough => format!("Sew through {beads}, adding none"),
            Kind::Zip => self.zip(m),
            Kind::Fold if passed > 0 => {
                format!("Draw the corners together: sew through {beads}")
            }
            Kind::Fold => self.fold(m),
            Kind::Close => format!("Close the middle: sew through {beads}"),
            Kind::Firm if matches!(self.job(m.job).kind, JobKind::Reinforce(..)) => {
                format!("Reinforce the join: sew through {beads}")
            }
            Kind::Firm => format!("Reinforce the rim: sew through {beads}"),
            Kind::StartThread => self.new_thread(m),
            Kind::EndThread if passed == 0 && self.layout().begins_with_strips(self.job(m.job).panel()) => {
                "The strip is whole: cut the thread, let its end hang and weave it in when the panel is made".into()
            }
            Kind::EndThread if passed == 0 => "End the thread: knot it and cut it".into(),
            Kind::EndThread if self.holds(m) => {
                format!("End the thread: weave in through {beads}, then cut it")
            }
            Kind::EndThread => {
                format!("End the thread: weave in through {beads} and knot it, then cut it")
            }
            Kind::Own => match self.stage_of(m.step) {
                Stage::Own(Own(own)) => own.say(),
                _ => String::new(),
            },
            Kind::BreakOut => self.say_break_out(m),
            Kind::Count if self.is_of_a_strip(m) => {
                let beads = plural(m.round_target as usize, "bead");
                format!("Count the row that ends the strip: {beads}")
            }
            Kind::Count => {
                let kind = self.layout().kind(self.job(m.job).panel());
                let sides = (0..kind.sides()).map(Side);
                let beads: Vec<u32> = sides.map(|s| kind.on_side(kind.last(), s)).collect();
                let sides = match beads.iter().all(|other| *other == beads[0]) {
                    true => format!("{} on each side", beads[0]),
                    false => {
                        let beads: Vec<String> = beads.iter().map(u32::to_string).collect();
                        format!("on its sides {}", beads.join(", "))
                    }
                };
                format!("Count the edge: {} up beads, {sides}", m.round_target)
            }
        }
    }

    /// The same, and of a way through beads already there which beads, in order; of
    /// a fold that is tied which corners.
    ///
    /// `Sew through 2 beads, adding none: A (side 1 bead 8) of Panel 4, then F (side 3 join bead 1) of Panel 5`
    pub fn say_fully(&self, m: &Movement) -> String {
        let said = self.say(m);
        let passed = || self.is_named(m).then(|| self.say_passed(m)).flatten();
        match self.say_corners(m).or_else(passed) {
            Some(more) => format!("{said}: {more}"),
            None => said,
        }
    }

    /// The corners that meet in a fold that is tied.
    pub fn say_corners(&self, m: &Movement) -> Option<String> {
        let is_fold = m.kind == Kind::Fold && m.passes.is_empty();
        match self.job(m.job).kind {
            JobKind::Tie(from, to) if is_fold => {
                let [from, to] = [from, to].map(|(panel, side)| {
                    let name = &self.layout().panel(panel).name;
                    format!("at the end of side {side} of {name}")
                });
                Some(format!("{from}, and {to}"))
            }
            _ => None,
        }
    }

    /// Whether the beads that a movement goes through are named: on a way, and
    /// at the corner of a fill, where it leaves the join beads.
    fn is_named(&self, m: &Movement) -> bool {
        let own = self.job(m.job).panel();
        let layout = self.layout();
        let is_in_row = |bead| matches!(layout.seat(bead).part, Part::JoinRow(_));
        let is_elsewhere = |&bead: &Bead| layout.panel_of(bead) != own && !is_in_row(bead);
        is_a_way(m)
            || matches!(m.kind, Kind::Stitch | Kind::StepDown) && m.passes.iter().any(is_elsewhere)
    }

    /// Where that is: `round 5 of 8 outward, side 2 of 3, bead 3 of 5`, or
    /// `corner before side 3`. Empty where there is nothing to say.
    pub fn say_where(&self, m: &Movement) -> String {
        let layout = self.layout();
        let mut parts = vec![];
        let panel = match (self.stage_of(m.step), m.strings.first()) {
            (Stage::RimRound(fill), _) => fill.panel,
            (_, Some(&bead)) => layout.panel_of(bead),
            _ => match m.passes.first() {
                Some(&bead) => layout.panel_of(bead),
                None => self.job(m.job).panel(),
            },
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
        if let Some(side) = self.corner_before(m) {
            parts.push(format!("corner before side {side}"));
            return parts.join(", ");
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

    /// The side behind the corner at which a movement of outward work strings
    /// its beads, if it does: a corner pair, or the bead of a corner.
    pub fn corner_before(&self, m: &Movement) -> Option<Side> {
        let seats = m.strings.iter().map(|&bead| self.layout().seat(bead));
        let seats: Vec<Seat> = seats.filter(|seat| seat.part == Part::Face).collect();
        let (first, last) = (seats.first()?, seats.last()?);
        let kind = self.layout().kind(first.panel);
        let is_outward = self.layout().making(first.panel).begin == Begin::Ring;
        let is_corner =
            first.side != last.side || kind.corner(first.round) == 1 && first.place + 1 == first.of;
        let is_corner = is_corner && is_outward && first.round.0 > 1;
        is_corner.then(|| kind.next_side(first.side))
    }

    /// The beads already there that a movement goes through: `A, S`, and those of
    /// another panel than the job's `A of Panel 3`; on a way through beads
    /// already there with their places: `A (side 1 bead 8) of Panel 3`. A way over
    /// several panels, or in a job of two, names the panel of each. Nothing if it
    /// goes through none.
    pub fn say_passed(&self, m: &Movement) -> Option<String> {
        let own = self.job(m.job).panel();
        let mut said: Vec<(Panel, Vec<String>)> = vec![];
        for (back, bead) in self.entered(m) {
            let seat = self.layout().seat(bead);
            let placed = is_a_way(m) || seat.panel != own && m.kind != Kind::Zip;
            let bead = match placed {
                true => format!("{back}{}", self.say_placed(bead)),
                false => format!("{back}{}", self.letter(bead)),
            };
            match said.last_mut() {
                Some((last, beads)) if *last == seat.panel => beads.push(bead),
                _ => said.push((seat.panel, vec![bead])),
            }
        }
        let is_of_two = matches!(self.job(m.job).kind, JobKind::Tie(..));
        let all = is_a_way(m) && (is_of_two || said.len() > 1);
        let parts = said.into_iter().map(|(panel, beads)| {
            let beads = beads.join(", ");
            match panel == own && !all {
                true => beads,
                false => format!("{beads} of {}", self.layout().panel(panel).name),
            }
        });
        let parts: Vec<String> = parts.collect();
        (!parts.is_empty()).then(|| parts.join(", then "))
    }

    /// One of these beads, counted from 0, when they are taken one at a time:
    /// `back through S (round 4 side 3 bead 1) of Panel 6`.
    pub fn say_one_passed(&self, m: &Movement, nth: usize) -> Option<String> {
        let (back, bead) = self.entered(m).into_iter().nth(nth)?;
        let panel = self.layout().panel_of(bead);
        let name = &self.layout().panel(panel).name;
        Some(format!("{back}{} of {name}", self.say_placed(bead)))
    }

    /// The beads already there that a movement goes through, and the words `back
    /// through ` where an end of thread turns back on its way into one.
    fn entered(&self, m: &Movement) -> Vec<(&'static str, Bead)> {
        let turns = match m.kind {
            Kind::StartThread | Kind::EndThread => self.turns(m),
            _ => vec![],
        };
        let beads = m.passes.iter().enumerate();
        let old = beads.filter(|(_, bead)| !m.strings.contains(bead));
        old.map(|(nth, &bead)| match turns.get(nth) {
            Some(true) => ("back through ", bead),
            _ => ("", bead),
        })
        .collect()
    }

    /// A bead with its place in its panel: `S (round 4 side 3 bead 1)`.
    fn say_placed(&self, bead: Bead) -> String {
        let place = self.say_place(self.layout().seat(bead));
        format!("{} ({place})", self.letter(bead))
    }

    /// Where in its panel a bead sits: `side 1 bead 8`, `round 5 side 2 bead 3`,
    /// `side 3 join bead 1`.
    fn say_place(&self, seat: Seat) -> String {
        let kind = self.layout().kind(seat.panel);
        let (side, bead) = (seat.side, seat.place + 1);
        match seat.part {
            Part::JoinRow(_) => format!("side {side} join bead {bead}"),
            Part::Tip(_) => format!("side {side} tip bead {bead}"),
            Part::Face if kind.strip().is_some() => format!("row {} bead {bead}", seat.round),
            Part::Face if seat.round == kind.last() => format!("side {side} bead {bead}"),
            Part::Face => format!("round {} side {side} bead {bead}", seat.round),
        }
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
        let layout = self.layout();
        match (m.passes.last(), m.strings.first()) {
            (Some(&into), Some(&strung)) if layout.panel_of(into) != layout.panel_of(strung) => {
                match layout.seat(into).part {
                    Part::JoinRow(_) => "the next join bead",
                    Part::Tip(_) => "the tip bead",
                    Part::Face => "the corner bead",
                }
            }
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
            return match m.passes.as_slice() {
                [_] => "Zip: no join bead here, sew through the edge bead, the two drawn together"
                    .into(),
                [first, second] => {
                    let [first, second] = [first, second].map(|bead| self.say_zipped(*bead, m));
                    let said = format!("Zip: sew through {first} and {second}");
                    said.trim_end_matches(',').to_string()
                }
                beads => format!(
                    "Zip: sew through {} join beads and the edge bead",
                    beads.len() - 1
                ),
            };
        };
        let ring = lock.ring(self.layout());
        match m.passes.len() {
            2 => format!("Zip: sew through a bead of round {ring} and the next edge bead"),
            _ => {
                format!(
                    "Zip at the corner: sew through 2 beads of round {ring} and the next edge bead"
                )
            }
        }
    }

    /// A bead of a tooth: `the join bead`, or where two edges are locked directly
    /// `the edge bead of Panel 3`.
    fn say_zipped(&self, bead: Bead, m: &Movement) -> String {
        let layout = self.layout();
        let seat = layout.seat(bead);
        let Some((Stage::Zip(zip), i)) = self.stage_at(m.step) else {
            return String::new();
        };
        let at = m.passes.iter().position(|passed| *passed == bead);
        let place = at.and_then(|at| zip.places(layout, i).get(at).copied());
        if let Some(place) =
            place.filter(|place| layout.panel(zip.panel).goes_next_door(zip.side, *place))
            && zip.next_door(layout, place).map(|hole| hole.bead) == Some(bead)
        {
            let (name, place_there) = (&layout.panel(seat.panel).name, self.say_place(seat));
            let past = if place % 2 == 0 { "edge" } else { "join" };
            return format!("the bead next door ({name}, {place_there}), past the {past} bead,");
        }
        let is_direct = layout.row(zip.row).is_edge;
        match seat.part {
            Part::Face if is_direct => {
                format!("the edge bead of {}", layout.panel(seat.panel).name)
            }
            Part::Face => "the edge bead".into(),
            _ => "the join bead".into(),
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
            _ => match self.layout().project().make.ties_by_a_fold() {
                true => "Fold the work along its middle until the two corners meet".into(),
                false => "Fold the work until the two corners meet".into(),
            },
        }
    }

    fn say_break_out(&self, m: &Movement) -> String {
        let broken = self.broken_out().iter();
        let mut broken = broken.filter(|bead| bead.removed == m.step);
        let Some(bead) = broken.next() else {
            return String::new();
        };
        let BrokenOut { gap, strung, .. } = bead;
        let letter = self.layout().bead_kind(gap.colour).letter;
        let place = match gap.side {
            Some(side) => format!("the join row on side {side}"),
            None => format!("round {}", gap.round),
        };
        format!("Break out 1 {letter} of {place}, step {strung}")
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
        let knot = match m.passes.is_empty() || self.holds(m) {
            true => "",
            false => " and knot it",
        };
        format!("New thread: cut {cut} cm, {from}{knot}")
    }

    /// Whether an end of thread that a movement weaves in cannot slide. A piece may
    /// have too few beads for that.
    fn holds(&self, m: &Movement) -> bool {
        let turns = self.turns(m).into_iter().filter(|turns| *turns).count();
        m.passes.len() >= WOVEN && turns as u32 >= WOVEN_TURNS
    }

    /// For each bead of an end of thread, whether the thread turns back on its way
    /// into it.
    fn turns(&self, m: &Movement) -> Vec<bool> {
        let touching = self.work().touching();
        let mut before = (1..m.step.0).rev().map(Step);
        let mut from = match m.kind {
            Kind::EndThread => before.find_map(|step| self.holes(step).last().copied()),
            _ => None,
        };
        let holes = self.holes(m.step).into_iter();
        let turns = holes.map(|hole| {
            let from = from.replace(hole);
            from.is_some_and(|from| is_turn(touching, from, hole.through()))
        });
        turns.collect()
    }
}

/// Whether a movement is a way through beads already there, which no rule of
/// the stitch tells.
fn is_a_way(m: &Movement) -> bool {
    use Kind::{Close, EndThread, Firm, Fold, PassThrough, StartThread};
    matches!(
        m.kind,
        PassThrough | EndThread | StartThread | Fold | Firm | Close
    )
}

/// With a capital letter first.
pub fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
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
                "Turn the work: pick up 1 S, sew through the next up bead | row 3 of 4, bead 1 of 2",
                "Pick up 1 S, sew through the next bead | row 3 of 4, bead 2 of 2"
            ]
        );
        let counted = lines(strip(), Kind::Count);
        assert_eq!(
            counted,
            ["Count the row that ends the strip: 2 beads | row 4 of 4"]
        );
    }

    /// A triangle has k up beads on each side after round k; a third bead at a corner
    /// is one more on one side.
    #[test]
    fn the_count_of_an_edge_is_that_of_its_sides() {
        let plain = Sequence::new(testing::single(testing::panel(3, 4)));
        let said = |seq: &Sequence| {
            let count = seq.iter().find(|m| m.kind == Kind::Count);
            seq.say(&count.expect("a panel ends with a count"))
        };
        assert_eq!(said(&plain), "Count the edge: 12 up beads, 4 on each side");
        let at = plain.iter().filter(|m| m.kind == Kind::Increase).last();
        let at = at.expect("the corners of round 4").step;
        let more = plain.as_stitched(Step(at.0 - 1), at, 3, None).unwrap();
        let count = "Count the edge: 13 up beads, on its sides 4, 4, 5";
        assert_eq!(said(&more.sequence), count);
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
    fn a_fold_that_is_tied_names_its_corners_and_its_net() {
        let seq = Sequence::new(testing::ring_of_nets(6, 3, 0));
        let fold = seq.iter().find(|m| m.kind == Kind::Fold).expect("a fold");
        assert_eq!(
            seq.say_fully(&fold),
            "Fold the work along its middle until the two corners meet: \
             at the end of side 3 of Net 1, panel 1, and at the end of side 1 of Net 1, panel 4"
        );
        assert_eq!(seq.job(fold.job).title, "Fold Net 1 and tie its corners");
    }

    #[test]
    fn the_step_down_of_a_fill_s_first_round_is_inward() {
        let said = lines(
            testing::solid(Solid::Tetrahedron, 3, Closing::Fill),
            Kind::StepDown,
        );
        assert!(said[0].ends_with("| round 3 of 3 inward"), "{said:?}");
    }

    #[test]
    fn the_corner_of_a_fill_is_inward_and_names_its_beads_in_order() {
        let seq = Sequence::new(testing::folded_pair(4, 0));
        let turn = |m: &Movement| {
            let fill = matches!(seq.stage_of(m.step), Stage::RimRound(_));
            fill && m.kind == Kind::PassThrough
        };
        let turns: Vec<Movement> = seq.iter().filter(turn).collect();
        assert!(!turns.is_empty());
        for m in turns {
            let (said, at) = (seq.say_fully(&m), seq.say_where(&m));
            assert!(at.starts_with("round 4 of 4 inward"), "{at}");
            let (_, named) = said.split_once("adding none: ").expect("beads with names");
            assert_eq!(named.matches('(').count(), m.passes.len(), "{said}");
        }
    }

    /// By ear, a bead without the name of its panel could be on either.
    #[test]
    fn the_beads_of_a_tie_and_of_a_way_over_several_panels_are_named_with_their_panels() {
        let seq = Sequence::new(testing::folded_pair(4, 0));
        let is_tie = |m: &Movement| matches!(seq.job(m.job).kind, JobKind::Tie(..));
        let (mut ties, mut over_several) = (0, 0);
        for m in seq.iter().filter(is_a_way) {
            let said = seq.say_passed(&m).unwrap_or_default();
            let parts: Vec<&str> = said.split(", then ").collect();
            if is_tie(&m) && !said.is_empty() || parts.len() > 1 {
                ties += usize::from(is_tie(&m));
                over_several += usize::from(parts.len() > 1);
                assert!(parts.iter().all(|part| part.contains(") of ")), "{said}");
            }
        }
        assert!(ties > 1 && over_several > 1, "{ties} {over_several}");
    }

    #[test]
    fn one_bead_of_an_end_of_thread_is_said_whole() {
        let seq = Sequence::new(testing::folded_pair(4, 0));
        let end = seq
            .iter()
            .find(|m| m.kind == Kind::EndThread && m.passes.len() > 4);
        let end = end.expect("an end that is woven in");
        let said: Vec<String> = (0..end.passes.len())
            .filter_map(|nth| seq.say_one_passed(&end, nth))
            .collect();
        assert_eq!(said.len(), end.passes.len());
        assert!(
            said.iter().all(|said| said.contains(") of Panel ")),
            "{said:?}"
        );
        assert!(
            said.iter().any(|said| said.starts_with("back through ")),
            "{said:?}"
        );
        assert_eq!(seq.say_one_passed(&end, end.passes.len()), None);
    }

    #[test]
    fn a_round_begins_at_the_corner_before_side_1() {
        let said = lines(testing::single(testing::panel(3, 4)), Kind::Increase);
        let begin = "| round 4 of 4 outward, corner before side 1";
        assert!(said.iter().any(|line| line.ends_with(begin)), "{said:?}");
    }
}
