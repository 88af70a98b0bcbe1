//! The brush: the bead in hand, what it reaches, and the strokes that were
//! made with it.

use crate::beadwork::colour::ColourWord;
use crate::beadwork::layout::{Layout, Part as Seated, Seat};
use crate::beadwork::paint::{Coat, Part, Reach, reached, reached_on_rows};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::{Colour, Panel, Sequence, Side};
use crate::pattern::paint;
use crate::plan::materials;
use crate::screen::apart::Apart;
use std::sync::Arc;

/// Strokes that can be undone.
const STROKES: usize = 1000;

/// The longest words that a line of the pattern file has room for.
const LONGEST_WORDS: usize = 9_900;

/// One stroke: a part of a kind of panel before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// The kind of panel.
    pub spec: SpecIndex,
    /// What it was made of.
    pub before: Coat,
    /// What it is made of.
    pub after: Coat,
    /// Words for what it was; none as the pattern has it.
    pub was: String,
    /// Words for what it is.
    pub now: String,
    /// Beads of one panel whose colour the stroke changed.
    pub beads: usize,
}

/// Why there is no stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoStroke {
    /// All that it reaches has the colour in hand.
    Already,
    /// The round would be longer than a line of the pattern file may be.
    TooLong,
}

/// The brush.
#[derive(Debug, Default)]
pub struct Brush {
    /// The bead in hand.
    pub hand: Colour,
    /// What goes with a bead.
    pub reach: Reach,
    /// Whether something is painted that no pattern file has.
    pub unsaved: bool,
    /// Strokes made, the last one last.
    pub made: Vec<Stroke>,
    /// Strokes undone, the last one last.
    pub undone: Vec<Stroke>,
    counted: Option<Apart<Vec<u32>>>,
    since: Vec<i64>,
}

impl Brush {
    /// Counts the beads by colour, apart from the keys.
    pub fn count(&mut self, seq: &Arc<Sequence>) {
        self.since = vec![0; seq.layout().project().beads.len()];
        let seq = seq.clone();
        self.counted = Some(Apart::begin(move || materials::count(seq.layout())));
    }

    /// Takes in what was counted; whether it is waited for.
    pub fn look(&mut self) -> bool {
        self.counted.as_mut().is_some_and(Apart::look)
    }

    /// Beads of each colour in the whole piece, and how many more or fewer
    /// than when the brush was taken up.
    pub fn tally(&self) -> Option<Vec<(u32, i64)>> {
        let counted = self.counted.as_ref()?.get()?;
        let now = counted.iter().zip(&self.since);
        let now = now.map(|(all, since)| ((i64::from(*all) + since).max(0) as u32, *since));
        Some(now.collect())
    }

    /// The next bead in hand, or the one before.
    pub fn turn(&mut self, colours: usize, forward: bool) {
        let (at, all) = (usize::from(self.hand.0), colours.max(1));
        let by = if forward { 1 } else { all - 1 };
        self.hand = Colour(((at + by) % all) as u8);
    }

    /// The stroke at a bead. `was` are the words that the part was painted
    /// with before, if any.
    ///
    /// # Errors
    /// Nothing would change, or it could not be kept.
    pub fn stroke(
        &self,
        layout: &Layout,
        seat: Seat,
        up: Side,
        was: String,
    ) -> Result<Stroke, NoStroke> {
        let spec = layout.panel(seat.panel).spec;
        let project = layout.project();
        let (kind, colours) = (layout.kind(seat.panel), &project.panels[spec].colours);
        let part = part_of(seat);
        let before = colours.coat(part);
        let mut sides = spelt(layout, seat.panel, &before);
        let bead = (seat.side, seat.place);
        let painted = match part {
            Part::Round(round) => reached(kind, round, bead, self.reach, up),
            Part::Row => reached_on_rows(kind.sides(), seat.of, bead, self.reach, up),
            Part::Tip => vec![(Side(0), 0)],
        };
        let mut beads = 0;
        for (side, place) in painted {
            let colour = &mut sides[side.index()][place as usize];
            beads += usize::from(*colour != self.hand);
            *colour = self.hand;
        }
        if beads == 0 {
            return Err(NoStroke::Already);
        }
        let now = paint::spell(project, &sides);
        if now.chars().count() > LONGEST_WORDS {
            return Err(NoStroke::TooLong);
        }
        let after = paint::coat(project, kind, part, &now).ok_or(NoStroke::TooLong)?;
        Ok(Stroke {
            spec,
            before,
            after,
            was,
            now,
            beads,
        })
    }

    /// Takes in that a coat goes over another.
    pub fn recount(&mut self, layout: &Layout, spec: SpecIndex, before: &Coat, after: &Coat) {
        let panels = layout.begun_panels();
        let of_spec = panels.filter(|(_, made)| made.spec == spec);
        let Some((panel, _)) = of_spec.clone().next() else {
            return;
        };
        let rows = layout.rows().iter();
        let rows = rows.filter(|row| layout.panel(row.panel).spec == spec);
        // How often each side is there.
        let mut times = vec![0_i64; usize::from(layout.kind(panel).sides())];
        match before.part() {
            Part::Round(round) => {
                let made = |(panel, _): &(Panel, _)| layout.making(*panel).innermost() <= round;
                times.fill(of_spec.filter(made).count() as i64);
            }
            Part::Row => rows.for_each(|row| times[row.side.index()] += 1),
            Part::Tip => times[0] = rows.map(|row| i64::from(row.tips)).sum(),
        }
        for (coat, sign) in [(before, -1), (after, 1)] {
            for (side, times) in spelt(layout, panel, coat).into_iter().zip(&times) {
                for colour in side {
                    if let Some(since) = self.since.get_mut(usize::from(colour.0)) {
                        *since += sign * times;
                    }
                }
            }
        }
    }

    /// Keeps a stroke for undoing.
    pub fn keep(&mut self, stroke: Stroke) {
        if self.made.len() == STROKES {
            self.made.remove(0);
        }
        self.made.push(stroke);
    }
}

/// The part of its panel that a bead is painted with.
pub fn part_of(seat: Seat) -> Part {
    match seat.part {
        Seated::Face => Part::Round(seat.round),
        Seated::JoinRow(_) => Part::Row,
        Seated::Tip(_) => Part::Tip,
    }
}

/// A coat bead by bead: the sides of a round or their join rows, or one tip.
fn spelt(layout: &Layout, panel: Panel, coat: &Coat) -> Vec<Vec<Colour>> {
    let kind = layout.kind(panel);
    let sides = |words: &[ColourWord], of: &dyn Fn(Side) -> u32| {
        let on = |side: Side| {
            let word = &words[side.index() % words.len()];
            let of = of(side);
            (0..of).map(|place| word.at(place, of)).collect()
        };
        (0..kind.sides()).map(Side).map(on).collect()
    };
    match coat {
        Coat::Round(round, words) => sides(words, &|side| kind.on_side(*round, side)),
        Coat::Row(words) => sides(words, &|_| kind.edge(Side(0)).saturating_sub(1)),
        Coat::Tip(colour) => vec![vec![*colour]],
    }
}
