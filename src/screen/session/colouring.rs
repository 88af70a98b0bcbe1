//! Colouring on the whole face: strokes are entries of the journal, so no key
//! of it is lost; the pattern file is written when the maker says so.

use super::Session;
use crate::beadwork::paint::{Coat, Part, Reach, is_even};
use crate::beadwork::project::SpecIndex;
use crate::beadwork::{Colour, Panel, plural};
use crate::progress::{Entry, PlainText};
use crate::screen::face::{Do, NoStroke, Stroke, part_of};
use crate::screen::session::plan_room::PlanRoom;
use std::sync::Arc;

impl Session {
    /// Does what a key of the brush asks for.
    pub(super) fn colour(&mut self, what: Do) {
        let colours = self.seq.layout().project().beads.len();
        match what {
            Do::Colouring if self.face.brush.on => self.put_brush_away(),
            Do::Colouring => self.take_brush_up(),
            Do::Paint => self.paint_bead(),
            Do::Hand(forward) => self.face.brush.turn(colours, forward),
            Do::Letter(letter) => {
                let beads = &self.seq.layout().project().beads;
                match beads.iter().position(|bead| bead.letter == letter) {
                    Some(at) => self.face.brush.hand = Colour(at as u8),
                    None => self.said = format!("No bead of this piece has the letter {letter}."),
                }
            }
            Do::Take => {
                if let Some(seat) = self.face.at {
                    self.face.brush.hand = self.seq.layout().colour_of(seat);
                }
            }
            Do::Reach => self.face.brush.reach = self.face.brush.reach.next(),
            Do::Undo => match self.face.brush.made.pop() {
                Some(stroke) => {
                    self.put(stroke.spec, &stroke.before, &stroke.was);
                    self.said = format!("Undone: {}.", self.of_stroke(&stroke));
                    self.face.brush.undone.push(stroke);
                }
                None => self.said = "There is no stroke of this sitting to undo.".into(),
            },
            Do::Redo => match self.face.brush.undone.pop() {
                Some(stroke) => {
                    self.put(stroke.spec, &stroke.after, &stroke.now);
                    self.said = format!("Done again: {}.", self.of_stroke(&stroke));
                    self.face.brush.keep(stroke);
                }
                None => self.said = "No stroke was undone.".into(),
            },
            Do::Write => self.ask_where_to_write(),
            _ => {}
        }
    }

    fn take_brush_up(&mut self) {
        let hand = self.seq.layout().project().beads.len() - 1;
        let brush = &mut self.face.brush;
        brush.on = true;
        if usize::from(brush.hand.0) > hand {
            brush.hand = Colour(0);
        }
        brush.count(&self.seq);
        let painted = self.parts();
        self.face.brush.unsaved = !painted.is_empty() && !self.is_written(&painted);
        if let Some(seat) = self.face.at {
            let panels = self.alike(seat.panel);
            let name = self.kind_name(seat.panel);
            self.said = match panels {
                1 => format!("You paint the panel '{name}'."),
                n => format!("You paint all {n} panels of the kind '{name}': they are alike."),
            };
        }
    }

    fn put_brush_away(&mut self) {
        self.face.brush.on = false;
        if self.face.brush.unsaved && !self.face.brush.made.is_empty() {
            self.said = match self.only_looking() {
                true => "Only looking: the paint is not kept. c and then w write it to a file.",
                false => {
                    "The paint is kept with this piece; c and then w write it to the pattern file."
                }
            }
            .into();
        }
    }

    /// How many panels are of the same kind as one.
    fn alike(&self, panel: Panel) -> usize {
        let layout = self.seq.layout();
        let spec = layout.panel(panel).spec;
        layout.panels().iter().filter(|p| p.spec == spec).count()
    }

    fn kind_name(&self, panel: Panel) -> PlainText {
        let layout = self.seq.layout();
        PlainText::new(&layout.project().panels[layout.panel(panel).spec].name)
    }

    pub(super) fn paint_bead(&mut self) {
        let Some(seat) = self.face.at else { return };
        let layout = self.seq.layout();
        let spec = layout.panel(seat.panel).spec;
        let was = self.words_of(spec, part_of(seat));
        let up = self.face.up;
        let beads = &layout.project().beads;
        let before = beads[usize::from(layout.colour_of(seat).0)].size;
        let other_size = before != beads[usize::from(self.face.brush.hand.0)].size;
        match self.face.brush.stroke(layout, seat, up, was) {
            Ok(stroke) => {
                self.put(stroke.spec, &stroke.after, &stroke.now);
                self.said = self.painted(&stroke);
                if other_size {
                    self.said += " Its beads are of another size: the panel may not lie flat.";
                }
                self.face.brush.undone.clear();
                self.face.brush.keep(stroke);
            }
            Err(NoStroke::Already) => {
                let beads = &self.seq.layout().project().beads;
                let letter = beads[usize::from(self.face.brush.hand.0)].letter;
                self.said = format!("It is {letter} already.");
            }
            Err(NoStroke::TooLong) => {
                self.said = "This round has too many changes of colour for one line of a pattern \
                             file."
                    .into();
            }
        }
    }

    /// The words that a part was painted with; none as the pattern has it.
    fn words_of(&self, spec: SpecIndex, part: Part) -> String {
        let name = &self.seq.layout().project().panels[spec].name;
        let place = (PlainText::new(name), PlainText::new(&part.to_string()));
        let painted = self.piece.state().painted.get(&place);
        painted.map_or(String::new(), |words| words.as_str().into())
    }

    /// Puts a coat on, and writes that down first.
    fn put(&mut self, spec: SpecIndex, coat: &Coat, words: &str) {
        let colours = &self.seq.layout().project().panels[spec].colours;
        let before = colours.coat(coat.part());
        let name = self.seq.layout().project().panels[spec].name.clone();
        self.record(Entry::paint(
            &name,
            &coat.part().to_string(),
            words,
            self.now,
        ));
        let layout = self.seq.layout();
        self.face.brush.recount(layout, spec, &before, coat);
        self.face.brush.unsaved = true;
        // Whoever works something out apart goes on with the colours it had.
        Arc::make_mut(&mut self.seq).paint(spec, coat.clone());
        self.plan = PlanRoom::default();
        self.going.recolour();
        self.recolour_solid(spec);
    }

    fn of_stroke(&self, stroke: &Stroke) -> String {
        let name = PlainText::new(&self.seq.layout().project().panels[stroke.spec].name);
        match stroke.after.part() {
            Part::Round(round) => format!("round {round} of '{name}'"),
            Part::Row => format!("the join rows of '{name}'"),
            Part::Tip => format!("the tip beads of '{name}'"),
        }
    }

    /// What a stroke did, and what of it is sewn already.
    fn painted(&self, stroke: &Stroke) -> String {
        let layout = self.seq.layout();
        let hand = &layout.project().beads[usize::from(self.face.brush.hand.0)];
        let beads = match (stroke.after.part(), stroke.beads) {
            (Part::Tip, _) => "All tip beads".into(),
            (Part::Row, n) => format!("{} of its join rows", plural(n, "bead")),
            (Part::Round(_), n) => plural(n, "bead"),
        };
        let is = match stroke.beads {
            1 if !matches!(stroke.after.part(), Part::Tip) => "is",
            _ => "are",
        };
        let Some(seat) = self.face.at else {
            return String::new();
        };
        let panels = self.alike(seat.panel);
        let all = match panels {
            1 => String::new(),
            n => format!(", alike in {n} panels"),
        };
        let mut said = format!("{beads} {is} {} now{all}.", hand.letter);
        let reach = self.face.brush.reach;
        if let Part::Round(round) = stroke.after.part()
            && !matches!(reach, Reach::Bead | Reach::Round)
            && !is_even(layout.kind(seat.panel), round)
        {
            said += " This round is not alike on every side: a bead is painted alone.";
        }
        let strung = self.seq.strung_after(self.done());
        let spec = layout.panel(seat.panel).spec;
        let same = (0..).map(Panel).zip(layout.panels());
        let sewn = same.filter(|(panel, made)| {
            made.spec == spec
                && match stroke.after.part() {
                    Part::Round(round) => {
                        layout.making(*panel).innermost() <= round
                            && layout.bead(*panel, round, seat.index).0 <= strung
                    }
                    // Tip beads are strung behind the join beads of their row.
                    part => layout.row_on(*panel, seat.side).is_some_and(|row| {
                        let before = match part {
                            Part::Tip => layout.row(row).beads,
                            _ => 0,
                        };
                        layout.row_bead(row, before + seat.place).0 <= strung
                    }),
                }
        });
        match (sewn.count(), panels) {
            (0, _) => {}
            (_, 1) => said += " Sewn already: the work on the mat stays as it is.",
            (n, _) => said += &format!(" Sewn already in {n}: that stays as it is."),
        }
        said
    }
}

/// What is painted with a bead, in words.
pub fn reach_words(reach: Reach) -> &'static str {
    match reach {
        Reach::Bead => "one bead",
        Reach::Mirror => "its mirror image too",
        Reach::Sides => "on every side",
        Reach::SidesMirror => "on every side, mirrored",
        Reach::Round => "the whole round",
    }
}

#[cfg(test)]
#[path = "colouring_tests.rs"]
mod tests;
