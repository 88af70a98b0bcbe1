//! What each action does to the session and to the piece.

use super::counting::Answered;
use super::{Effect, Leaving, OverviewLine, Pane, Session, entered};
use crate::beadwork::number::Step;
use crate::progress::{Entry, Moment, PlainText, Saved, Setting, Value, Why};
use crate::screen::keys::Action;
use crate::screen::place::{self, NoPlace};
use crate::screen::{bell, gist, settings};

/// The longest note that can be typed here.
const LONGEST_NOTE: usize = 500;

/// The longest name of a file that can be typed.
const LONGEST_NAME: usize = 1000;

/// No card has as many lines.
const LONGEST_CARD: usize = 60;

impl Session {
    /// Does what a key asks for.
    pub fn apply(&mut self, action: Action, now: Moment) -> Effect {
        self.now = now;
        self.said.clear();
        if let Pane::Words { asking, from } = &mut self.pane
            && !matches!(action, Action::Quit | Action::Suspend)
        {
            if !asking.apply(action, self.page) {
                self.pane = (**from).clone();
            }
            return Effect::default();
        }
        let mut effect = Effect::default();
        let before = self.done();
        match action {
            Action::Quit => effect.leave = Some(Leaving::Quit),
            Action::Suspend => effect.suspend = true,
            Action::Tray => effect.leave = Some(Leaving::Tray),
            Action::Forward => effect.bell = self.go_on(),
            Action::Back => self.go_back(),
            Action::OneAtATime => self.split(),
            Action::Hand => self.switch_hand(),
            Action::WayBack => self.way_back(),
            Action::Count => self.open_count(String::new()),
            Action::Type(c) => self.letter(c),
            Action::Erase => self.erase(),
            Action::Whole => self.whole_or_side(),
            Action::Choose => self.choose(),
            Action::Leave if matches!(self.pane, Pane::WritePaint { .. }) => {
                self.pane = Pane::Face;
            }
            Action::Leave if matches!(self.pane, Pane::Help(_)) && self.face.asked => {
                self.pane = Pane::Face;
            }
            Action::Leave => self.pane = Pane::Stitch,
            Action::Locate => self.open_locate(),
            Action::Unpick => self.open_unpick(),
            Action::CannotTell => self.cannot_tell(),
            Action::NotThis => self.not_this(),
            Action::Keep => {
                if let Pane::Answer(answered) | Pane::Mend(answered) = self.pane.clone() {
                    self.keep(&answered);
                }
            }
            Action::Up => self.scroll(-1),
            Action::Down => self.scroll(1),
            Action::PageUp => self.scroll(-(self.page as isize)),
            Action::PageDown => self.scroll(self.page as isize),
            Action::Ask => self.ask(),
            Action::Lesson => self.open_lesson(),
            Action::TourOnOff => self.switch_tour(),
            Action::TourAgain => self.repeat_tour(),
            Action::Tour if self.offers_tour() => effect.leave = Some(Leaving::Tour),
            Action::Tour => self.open_lesson(),
            Action::Help => {
                self.face.asked = self.pane == Pane::Face;
                self.pane = Pane::Help(0);
            }
            Action::Settings => self.pane = Pane::Settings(0),
            Action::Plan => self.open_plan(),
            Action::Going => self.open_going(),
            Action::NewThread => self.open_thread(),
            Action::NextPart => self.turn_part(1),
            Action::PartBefore => self.turn_part(-1),
            Action::Unit => self.switch_unit(),
            Action::Face(what) => self.look_at_face(what),
            Action::Solid(what) => self.look_at_solid(what),
            Action::Note => self.open_note(),
            Action::Jump => {
                self.pane = Pane::Jump {
                    typed: String::new(),
                    found: Err(NoPlace::Empty),
                };
            }
            Action::Overview => {
                let here = OverviewLine::Job(self.job());
                let at = self.overview().iter().position(|l| *l == here);
                self.pane = Pane::Overview(at.unwrap_or(0));
            }
        }
        if matches!(self.pane, Pane::Stitch | Pane::Going(_)) {
            self.going.renew(&self.seq);
        }
        if !matches!(action, Action::Type(_) | Action::Erase) {
            self.look_ahead(self.done() != before);
        }
        effect
    }

    pub(super) fn record(&mut self, entry: Entry) {
        self.going.hear(&self.seq, &entry);
        // What became of it is asked for at each painting.
        let (Saved::Written | Saved::Held | Saved::LookOnly) = self.piece.record(entry);
    }

    pub(super) fn move_to(&mut self, step: u32, why: Why) {
        self.taken = 0;
        self.one_at_a_time = false;
        let from = self.piece.state().step;
        self.record(Entry::played(&self.seq, (from, step), why, self.now));
    }

    /// On, in what is in front of the maker; whether the bell rings.
    fn go_on(&mut self) -> bool {
        match &self.pane {
            Pane::WayBack { plan, .. } => {
                let (from, to) = (plan.from, plan.to);
                self.pane = Pane::Unpicking { from, to };
            }
            Pane::Unpicking { from, to } => {
                let (from, to) = (*from, *to);
                self.unpick_one(from, to);
            }
            _ => return self.forward(),
        }
        false
    }

    fn go_back(&mut self) {
        match self.pane {
            Pane::Unpicking { from, .. } => self.unpick_less(from),
            _ => self.back(),
        }
    }

    /// One step on; whether the bell rings.
    fn forward(&mut self) -> bool {
        let Some(now) = self.movement() else {
            self.said = "The piece is finished: there is no step after this.".into();
            return false;
        };
        if self.one_at_a_time && self.taken + 1 < entered(&now) {
            self.taken += 1;
            return false;
        }
        self.lesson_came_up();
        self.move_to(now.step.0, Why::Forward);
        let Some(next) = self.seq.step(Step(now.step.0 + 2)) else {
            return false;
        };
        let wanted = bell::rings(&self.piece.state().settings, next.kind);
        wanted && gist::announced(&self.seq, self.movement().as_ref(), &next).is_some()
    }

    fn back(&mut self) {
        if self.one_at_a_time && self.taken > 0 {
            self.taken -= 1;
        } else if self.done().0 == 0 {
            self.said = "This is the first step.".into();
        } else {
            self.move_to(self.done().0 - 1, Why::Back);
        }
    }

    fn split(&mut self) {
        let beads = self.movement().map_or(0, |m| entered(&m));
        if self.one_at_a_time {
            self.one_at_a_time = false;
            self.taken = 0;
        } else if beads < 2 {
            self.said = "This movement goes through one bead only.".into();
        } else {
            self.one_at_a_time = true;
            self.taken = 0;
        }
    }

    fn switch_hand(&mut self) {
        let left = !self.left_handed();
        self.record(Entry::left_handed(left, self.now));
        self.said = match left {
            true => "Mirrored for the left hand.".into(),
            false => "As for the right hand.".into(),
        };
    }

    fn way_back(&mut self) {
        match self.piece.state().way_back.last().copied() {
            Some(step) => {
                self.move_to(step, Why::Return);
                self.pane = Pane::Stitch;
                self.said = "Back to where you were.".into();
            }
            None => self.said = "There is no way back: you have gone to no other place.".into(),
        }
    }

    /// To a step that is to be made next.
    pub(super) fn jump(&mut self, next: Step) {
        let done = next.0 - 1;
        if done != self.done().0 {
            self.move_to(done, Why::Jump);
            self.said = "b leads back to where you were.".into();
        }
        self.pane = Pane::Stitch;
    }

    fn open_note(&mut self) {
        let step = self.done().0 + 1;
        let old = self.piece.state().notes.get(&step);
        let typed = old.map_or(String::new(), |n| n.as_str().to_string());
        self.pane = Pane::Note { typed };
    }

    fn letter(&mut self, c: char) {
        let here = self.job();
        match &mut self.pane {
            Pane::Stitch if c.is_ascii_digit() => self.open_count(c.into()),
            Pane::Count { typed, .. } => Session::count_letter(typed, c),
            Pane::Locate { .. } => self.locate_letter(c),
            Pane::Unpick { typed, .. } if typed.len() < 40 => {
                self.unpick_letter(|typed| typed.push_str(PlainText::new(&c.to_string()).as_str()));
            }
            Pane::Thread { typed } if "0123456789.".contains(c) && typed.len() < 6 => typed.push(c),
            Pane::Jump { typed, found } if typed.len() < 40 => {
                typed.push_str(PlainText::new(&c.to_string()).as_str());
                *found = place::find(&self.seq, typed, here);
            }
            Pane::WritePaint { typed, over } if typed.len() < LONGEST_NAME => {
                typed.push_str(PlainText::new(&c.to_string()).as_str());
                *over = false;
            }
            Pane::Note { typed } if typed.chars().count() < LONGEST_NOTE => {
                typed.push_str(PlainText::new(&c.to_string()).as_str());
            }
            _ => {}
        }
    }

    fn erase(&mut self) {
        let here = self.job();
        match &mut self.pane {
            Pane::Count { typed, .. } | Pane::Note { typed } | Pane::Thread { typed } => {
                typed.pop();
            }
            Pane::WritePaint { typed, over } => {
                typed.pop();
                *over = false;
            }
            Pane::Locate { .. } => self.locate_erase(),
            Pane::Unpick { .. } => self.unpick_letter(|typed| {
                typed.pop();
            }),
            Pane::Jump { typed, found } => {
                typed.pop();
                *found = place::find(&self.seq, typed, here);
            }
            _ => {}
        }
    }

    fn choose(&mut self) {
        match &self.pane {
            Pane::Count { typed, question } => {
                let (question, typed) = (*question, typed.clone());
                self.compare(question, &typed);
            }
            Pane::Answer(answered) => {
                let answered = answered.clone();
                self.open_mend(answered);
            }
            Pane::Mend(answered) => {
                let answered = answered.clone();
                self.do_mend(&answered);
            }
            Pane::Locate { .. } => self.locate_choose(),
            Pane::Unpick { .. } => self.choose_target(),
            Pane::WayBack { plan, .. } => {
                let to = plan.to;
                self.unpicked(to);
            }
            Pane::Jump {
                found: Ok(step), ..
            } => {
                let step = *step;
                self.jump(step);
            }
            Pane::Thread { typed } => {
                let typed = typed.clone();
                self.take_thread(&typed);
            }
            Pane::Note { typed } => {
                let step = self.done().0 + 1;
                let text = typed.trim().to_string();
                self.said = match text.is_empty() {
                    true => String::new(),
                    false => "The note is kept with this step.".into(),
                };
                self.record(Entry::note(&self.seq, step, &text, self.now));
                self.pane = Pane::Stitch;
            }
            Pane::Overview(at) => match self.overview().get(*at) {
                Some(OverviewLine::Job(job)) => {
                    self.jump(Step(self.seq.job(*job).steps_before + 1))
                }
                Some(OverviewLine::Note(step)) => {
                    let step = (*step).clamp(1, self.seq.steps() + 1);
                    self.jump(Step(step));
                }
                None => {}
            },
            Pane::Settings(at) => self.change_setting(*at),
            Pane::Face => self.go_to_bead(),
            Pane::WritePaint { typed, over } => {
                let (typed, over) = (typed.clone(), *over);
                self.write_paint(&typed, over);
            }
            _ => {}
        }
    }

    fn change_setting(&mut self, at: usize) {
        let settings = &self.piece.state().settings;
        let entry = match settings::LINES.get(at) {
            Some(settings::Line::Hand) => return self.switch_hand(),
            Some(settings::Line::Colours) => {
                let next = settings::next_colours(settings);
                Entry::set(
                    settings::COLOURS,
                    Value::Text(PlainText::new(next)),
                    self.now,
                )
            }
            Some(settings::Line::Bell(name)) => {
                let on = bell::switched(settings, name);
                let on = on.iter().map(|n| PlainText::new(n)).collect();
                Entry::set(Setting::BELL, Value::Words(on), self.now)
            }
            Some(&line) => match settings::next(line, settings) {
                Some((name, value)) => Entry::set(name, value, self.now),
                None => return,
            },
            None => return,
        };
        self.record(entry);
    }

    fn scroll(&mut self, by: isize) {
        if self.pane == Pane::Card {
            self.scroll = self.scroll.saturating_add_signed(by).min(LONGEST_CARD);
            return;
        }
        if matches!(self.pane, Pane::Lesson { .. }) {
            return self.turn_lesson(by);
        }
        let last = match &self.pane {
            Pane::Overview(_) => self.overview().len().saturating_sub(1),
            Pane::Settings(_) => settings::LINES.len() - 1,
            Pane::Help(_) | Pane::Going(_) | Pane::WayBack { .. } => 500,
            Pane::Answer(answered) => answered.answer.causes.len().saturating_sub(1),
            Pane::Mend(answered) => answered.choices().saturating_sub(1),
            Pane::Unpick { .. } => self.unpick_targets().len().saturating_sub(1),
            Pane::Locate { .. } => {
                let lines = self.locating.as_ref().map_or(0, |l| l.lines());
                lines.saturating_sub(1)
            }
            Pane::Plan(_) => self.plan_last(),
            _ => return,
        };
        if let Pane::Overview(at)
        | Pane::Settings(at)
        | Pane::Help(at)
        | Pane::Plan(at)
        | Pane::Going(at)
        | Pane::WayBack { at, .. }
        | Pane::Unpick { at, .. }
        | Pane::Locate { at, .. }
        | Pane::Answer(Answered { cause: at, .. })
        | Pane::Mend(Answered { place: at, .. }) = &mut self.pane
        {
            *at = at.saturating_add_signed(by).min(last);
        }
    }
}
