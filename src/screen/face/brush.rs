//! The brush: the current bead, what it paints, the strokes made with it, and
//! what is painted, written to a pattern file.

use crate::beadwork::amend::colours::ColourChange;
use crate::beadwork::colour::{ColourWord, Colours};
use crate::beadwork::layout::{Layout, Part, Seat};
use crate::beadwork::paint::{PaintedPart, RoundColours, Symmetry, reached, reached_on_rows};
use crate::beadwork::panel::PanelLayout;
use crate::beadwork::project::SpecIndex;
use crate::beadwork::{Bead, Colour, Panel, Project, Sequence, Side};
use crate::pattern::paint;
use crate::plan::materials;
use crate::screen::background_task::BackgroundTask;
use crate::screen::session::Session;
use crate::{atomic_file, plain_file};
use std::collections::HashSet;
use std::path::Path;
use std::sync::Arc;
use std::{fs, io};

/// The longest text that a line of the pattern file has room for.
const LONGEST_WORDS: usize = 9_900;

/// One stroke, as it is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    pub change: ColourChange,
    /// Beads to come whose colour it changes, in the panel with the most of
    /// them.
    pub beads: usize,
    /// In how many panels.
    pub panels: usize,
    /// In how many identical panels the bead is already sewn.
    pub sewn: usize,
    /// Whether the bead under the brush is already sewn.
    pub is_sewn: bool,
    /// How many more or fewer beads of each colour the piece takes.
    pub more: Vec<i64>,
}

/// Why there is no stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoStroke {
    /// Everything it would paint already has the current colour.
    Already,
    /// Everything it would paint is already sewn, in this many identical
    /// panels.
    Sewn(usize),
    /// The text of the round would be longer than a line of the pattern file.
    TooLong,
}

#[derive(Debug, Default)]
pub struct Brush {
    /// The current bead.
    pub hand: Colour,
    /// What is painted together with a bead.
    pub reach: Symmetry,
    /// Whether something is painted that is not in a pattern file.
    pub unsaved: bool,
    /// Strokes made, the last one last.
    pub made: Vec<Stroke>,
    /// Strokes undone, the last one last.
    pub undone: Vec<Stroke>,
    counted: Option<BackgroundTask<Vec<u32>>>,
    since: Vec<i64>,
}

impl Brush {
    /// Counts the beads by colour in the background.
    pub fn count(&mut self, seq: &Arc<Sequence>) {
        self.since = vec![0; seq.layout().bead_kinds().len()];
        let seq = seq.clone();
        self.counted = Some(BackgroundTask::begin(move || {
            materials::count(seq.layout())
        }));
    }

    /// Takes the count; returns whether it is still waited for.
    pub fn look(&mut self) -> bool {
        self.counted.as_mut().is_some_and(BackgroundTask::look)
    }

    /// Beads of each colour in the whole piece, and how many more or fewer than
    /// when the brush was opened.
    pub fn tally(&self) -> Option<Vec<(u32, i64)>> {
        let counted = self.counted.as_ref()?.get()?;
        let now = counted.iter().zip(&self.since);
        let now = now.map(|(all, since)| ((i64::from(*all) + since).max(0) as u32, *since));
        Some(now.collect())
    }

    /// Changes to the next bead, or the one before.
    pub fn turn(&mut self, colours: usize, forward: bool) {
        let (at, all) = (usize::from(self.hand.0), colours.max(1));
        let by = if forward { 1 } else { all - 1 };
        self.hand = Colour(((at + by) % all) as u8);
    }

    /// The stroke at a bead, with `strung` beads sewn.
    ///
    /// # Errors
    /// Nothing would change, or it could not be saved.
    pub fn stroke(
        &self,
        layout: &Layout,
        seat: Seat,
        up: Side,
        sewn: u32,
    ) -> Result<Stroke, NoStroke> {
        // Paint goes onto the panel as planned; an extra bead goes with the one
        // before it.
        let (kind, part) = (&layout.planned_kind(seat.panel), part_of(seat));
        let mut sides = spelt(
            kind,
            &layout.planned_colours(seat.panel).round_colours(part),
        );
        let bead = match part {
            PaintedPart::Round(round) => {
                layout.coloured_like(seat.panel, round)[seat.index as usize]
            }
            PaintedPart::Row => (seat.side, seat.place.min(join_beads(kind) - 1)),
            PaintedPart::Tip => (Side(0), 0),
        };
        let painted = match part {
            PaintedPart::Round(round) => reached(kind, round, bead, self.reach, up),
            PaintedPart::Row => {
                reached_on_rows(kind.sides(), join_beads(kind), bead, self.reach, up)
            }
            PaintedPart::Tip => vec![bead],
        };
        for &(side, place) in &painted {
            sides[side.index()][place as usize] = self.hand;
        }
        let now = paint::spell(layout.bead_kinds(), &sides);
        if now.chars().count() > LONGEST_WORDS {
            return Err(NoStroke::TooLong);
        }
        let round_colours =
            paint::round_colours(layout.bead_kinds(), kind, part, &now).ok_or(NoStroke::TooLong)?;
        let mut stroke = Stroke {
            change: ColourChange::Paint {
                from: Bead(sewn + 1),
                panel: seat.panel,
                round_colours,
            },
            beads: 0,
            panels: 0,
            sewn: 0,
            is_sewn: layout.bead_in(seat).0 <= sewn,
            more: vec![0; layout.bead_kinds().len()],
        };
        let alike = |panel: Panel| {
            let colours = layout.panel(panel).planned.colours.to_come();
            (layout.kind_by_pattern(panel), colours.round_colours(part))
        };
        let wanted = alike(seat.panel);
        let alike = layout.begun_panels().filter(|(p, _)| alike(*p) == wanted);
        let (mut all, mut to_come) = (0, 0);
        for (panel, _) in alike {
            all += 1;
            let is_sewn = |bead: &Bead| bead.0 <= sewn;
            let here = beads_of(layout, panel, part, &[bead]);
            stroke.sewn += usize::from(here.iter().any(is_sewn));
            let mut changed = 0;
            for bead in beads_of(layout, panel, part, &painted) {
                if is_sewn(&bead) {
                    continue;
                }
                to_come += 1;
                let was = layout.colour(bead);
                changed += usize::from(was != self.hand);
                stroke.more[usize::from(was.0)] -= 1;
                stroke.more[usize::from(self.hand.0)] += 1;
            }
            stroke.beads = stroke.beads.max(changed);
            stroke.panels += usize::from(changed > 0);
        }
        match (to_come, stroke.beads) {
            (0, _) => Err(NoStroke::Sewn(all)),
            (_, 0) => Err(NoStroke::Already),
            _ => Ok(stroke),
        }
    }

    /// Takes into account that a stroke was made, or undone (-1).
    pub fn recount(&mut self, stroke: &Stroke, sign: i64) {
        for (since, more) in self.since.iter_mut().zip(&stroke.more) {
            *since += sign * more;
        }
        self.unsaved = true;
    }
}

/// The beads of a panel, or of its join rows, at these places of a part as
/// planned.
fn beads_of(layout: &Layout, panel: Panel, part: PaintedPart, places: &[(Side, u32)]) -> Vec<Bead> {
    let tips = |side: u8| {
        let row = layout.row_on(panel, Side(side));
        row.map_or(vec![], |at| {
            let row = layout.row(at);
            let tips = row.beads..row.beads + row.tips;
            tips.map(|nth| layout.row_bead(at, nth)).collect()
        })
    };
    let on_row = |&(side, place): &(Side, u32)| {
        let row = layout.row_on(panel, side)?;
        (place < layout.row(row).beads).then(|| layout.row_bead(row, place))
    };
    match part {
        PaintedPart::Round(round)
            if round < layout.making(panel).innermost() || round > layout.kind(panel).last() =>
        {
            vec![]
        }
        PaintedPart::Round(round) => {
            let places: HashSet<&(Side, u32)> = places.iter().collect();
            let likes = (0..).zip(layout.coloured_like(panel, round));
            let painted = likes.filter(|(_, like)| places.contains(like));
            painted
                .map(|(index, _)| layout.bead(panel, round, index))
                .collect()
        }
        PaintedPart::Row => places.iter().filter_map(on_row).collect(),
        PaintedPart::Tip => (0..layout.kind(panel).sides()).flat_map(tips).collect(),
    }
}

/// The part of its panel with which a bead is painted.
pub fn part_of(seat: Seat) -> PaintedPart {
    match seat.part {
        Part::Face => PaintedPart::Round(seat.round),
        Part::JoinRow(_) => PaintedPart::Row,
        Part::Tip(_) => PaintedPart::Tip,
    }
}

fn join_beads(kind: &PanelLayout) -> u32 {
    kind.edge(Side(0)).saturating_sub(1)
}

/// Round colours bead by bead: the sides of a round or their join rows, or one
/// tip.
fn spelt(kind: &PanelLayout, round_colours: &RoundColours) -> Vec<Vec<Colour>> {
    let sides = |words: &[ColourWord], of: &dyn Fn(Side) -> u32| {
        let on = |side: Side| {
            let word = &words[side.index() % words.len()];
            let of = of(side);
            (0..of).map(|place| word.at(place, of)).collect()
        };
        (0..kind.sides()).map(Side).map(on).collect()
    };
    match round_colours {
        RoundColours::Round(round, words) => sides(words, &|side| kind.on_side(*round, side)),
        RoundColours::Row(words) => sides(words, &|_| join_beads(kind)),
        RoundColours::Tip(colour) => vec![vec![*colour]],
    }
}

impl Session {
    /// The pattern with the beads and the colours that a panel begun now would
    /// have.
    fn painted_project(&self) -> Project {
        let mut project = Project::clone(&self.seq.layout().shared_project());
        let goal = self.seq.goal();
        project.beads = goal.beads.to_vec();
        for (spec, colours) in project.panels.iter_mut().zip(&goal.colours) {
            spec.colours = Colours::clone(colours);
        }
        project
    }

    /// The parts of panels that are planned differently from the pattern.
    pub fn painted_parts(&self) -> Vec<(SpecIndex, PaintedPart)> {
        paint::differing(&self.seq.layout().shared_project(), &self.painted_project())
    }

    /// Whether the pattern file from which the piece was begun already has
    /// them.
    pub fn is_written(&self, parts: &[(SpecIndex, PaintedPart)]) -> bool {
        let Some(bytes) = self.piece.source().and_then(|path| read(path).ok()) else {
            return false;
        };
        let again = paint::rewritten("", &bytes, &self.painted_project(), parts);
        again.is_ok_and(|again| again == bytes)
    }

    /// Writes it to an existing file, or to a new one; returns whether anything
    /// changed.
    ///
    /// # Errors
    /// The file cannot be read, changed or written.
    pub fn write_paint_to(&self, path: &Path, there: bool) -> Result<bool, String> {
        let old = match there {
            true => read(path).map_err(|error| plain_file::reason(&error))?,
            false => self.piece.pattern().to_vec(),
        };
        let name = path.display().to_string();
        let new = paint::rewritten(&name, &old, &self.painted_project(), &self.painted_parts());
        let new = new.map_err(|why| why.to_string())?;
        if there && new == old {
            return Ok(false);
        }
        atomic_file::save(path, &new, there).map_err(|error| plain_file::reason(&error))?;
        Ok(true)
    }
}

fn read(path: &Path) -> io::Result<Vec<u8>> {
    plain_file::read_up_to(plain_file::open(path)?, plain_file::PATTERN_BYTES)
}

/// Whether two paths lead to the same file.
pub fn same(a: &Path, b: &Path) -> bool {
    let whole = |path: &Path| fs::canonicalize(path).ok();
    whole(a).is_some() && whole(a) == whole(b)
}
