//! Counting: what is counted, the answer, and what the maker does about it.
//!
//! ```text
//! count -> answer -> a cause -> its mend -> unpick, move, count again
//!                 \-> keep: as stitched
//! ```

use super::{as_stitched, way_back};
use crate::beadwork::movement::Movement;
use crate::beadwork::number::{Side, Step};
use crate::count::{self, Answer, Cause, Mend, Place, Question, Verdict};
use crate::progress::{Check, Did, Entry};
use crate::screen::furniture::text::{self, styled};
use crate::screen::furniture::{Scroll, TextEntry, bold, choice};
use crate::screen::keys::{keys, letter, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::session::stitched::more_or_fewer;
use crate::screen::stack::Stack;
use crate::screen::woken::Touch;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "count" "c 0-9" ["0-9 count"] "compare a count with what should be there: type the number, or one for each side (5 5 6), then Enter" open; Count, Answered, Mending);

/// Letters in a count at the most: a number for each of twelve sides.
const LONGEST_COUNT: usize = 60;

fn open(_: &mut Stack<Session>, session: &mut Session) -> Flow<Session> {
    match question(session) {
        Some(question) => Flow::open(Count::new(question)),
        None => session.say("There is no round to count here."),
    }
}

/// What a count typed now is about: what is offered, or else the round of the
/// last movement.
fn question(session: &Session) -> Option<Question> {
    session.offered().or_else(|| {
        let at = [session.done(), Step(session.done().0 + 1)];
        let round = |m: Movement| Some((m.job, m.round?));
        let (job, round) = at
            .iter()
            .find_map(|&s| session.seq.step(s).and_then(round))?;
        Some(Question {
            job,
            round,
            side: None,
        })
    })
}

/// A count that is typed.
pub struct Count {
    question: Question,
    entry: TextEntry,
}

impl Layer<Session> for Count {
    keys! { Session, "Counting";
        compare "Enter" ["Enter done"] "compare what was typed"
        whole "Tab w" ["Tab side or round"] "the count is that of the side, or of the whole round"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let look = session.look();
        let round = session.round_words(self.question.job, self.question.round);
        let what = match self.question.side {
            Some(side) => format!("Beads on side {side} of {round}, corner halves with it:"),
            None => format!("Beads of {round} all round:"),
        };
        let each = "Each side by itself: a number for each, as in 5 5 6.";
        vec![self.entry.line(look, &what), styled(each, look.quiet())]
    }

    fn entry(&mut self) -> Option<&mut TextEntry> {
        Some(&mut self.entry)
    }

    fn is_box(&self) -> bool {
        true
    }
}

impl Count {
    fn new(question: Question) -> Count {
        let takes = |c: char| c.is_ascii_digit() || c == ' ' || c == ',';
        Count {
            question,
            entry: TextEntry::of(LONGEST_COUNT, takes),
        }
    }

    fn whole(&mut self, session: &mut Session) -> Flow<Session> {
        self.question.side = match self.question.side {
            Some(_) => None,
            None => side_in_hand(session),
        };
        Flow::Stay
    }

    fn compare(&mut self, session: &mut Session) -> Flow<Session> {
        let question = self.question;
        let numbers = self.entry.typed.split([' ', ',']);
        let numbers = numbers.filter(|word| !word.is_empty()).map(str::parse);
        let Ok(numbers) = numbers.collect::<Result<Vec<u32>, _>>() else {
            return session.say("That is more than can be counted.");
        };
        let (at, kept) = (Some(session.done()), session.kept());
        let seq = &session.seq;
        let (question, answer, sides) = match numbers.as_slice() {
            [] => return Flow::Stay,
            [counted] => {
                let answer = count::answer_as_stitched(seq, &question, at, *counted, &kept);
                (question, answer, None)
            }
            each => {
                let (job, round) = (question.job, question.round);
                let sides = seq.layout().kind(seq.job(job).panel()).sides();
                if each.len() != usize::from(sides) {
                    return session.say(format!("There are {sides} sides: type {sides} numbers."));
                }
                let answer = count::answer_sides_as_stitched(seq, job, round, at, each, &kept);
                let side = None;
                (Question { side, ..question }, answer, Some(numbers))
            }
        };
        let Some(answer) = answer else {
            session.say("There is no such round or side to count here.");
            return Flow::Close;
        };
        let did = Did::Check(Check {
            step: session.done().0,
            job: question.job,
            round: question.round,
            side: question.side,
            expected: answer.expected,
            counted: answer.counted,
        });
        let at = session.now;
        session.record(Entry { at, did });
        Flow::replace(Answered {
            scroll: Scroll::list(0, answer.causes.len()),
            question,
            sides,
            answer,
            place: 0,
        })
    }
}

/// The side of the last movement that had one.
fn side_in_hand(session: &Session) -> Option<Side> {
    let done = session.done().0;
    let near = (done.saturating_sub(4)..=done + 1).rev();
    near.filter_map(|s| session.seq.step(Step(s))?.side).next()
}

/// A count that was compared.
#[derive(Clone, Debug)]
pub struct Answered {
    /// What was counted.
    question: Question,
    /// The count of each side, if each was counted by itself.
    sides: Option<Vec<u32>>,
    /// The answer.
    answer: Answer,
    /// The place of the cause that the maker is at; 0 is any of them.
    place: usize,
    /// The cause that the maker is at, from 0.
    scroll: Scroll,
}

impl Layer<Session> for Answered {
    keys! { Session, "The answer to a count";
        mend "Enter" ["Enter mend"] "it was this: how it is mended"
        keep "k" ["k keep as stitched"] "keep the difference, as stitched: later counts go by the work as it is"
        go_on "space right" ["space go on"] "go on stitching" => |_| Flow::Lowest;
        again "c" ["c count again"] "count again"
        ~ "0-9" [] "count again, the number at once"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let look = session.look();
        let style = match self.may_be_kept() {
            false => look.good(),
            true => look.alarm(),
        };
        Some((verdict(session, &self.question, &self.answer), style))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        if !self.may_be_kept() {
            return vec![Line::from("The count is kept with the piece.")];
        }
        if self.answer.causes.is_empty() {
            return vec![Line::from(
                "No one or two mistakes of this round give that number. Count again, each side by \
                 itself (5 5 6); then the round before.",
            )];
        }
        let mut lines = vec![];
        for (i, cause) in self.answer.causes.iter().enumerate() {
            let head = match i {
                0 => "Most likely",
                _ => "Or",
            };
            let words = format!("{head}: {}", cause.cause);
            lines.push(choice(session.look(), i == self.scroll.at, &words));
            lines.push(Line::from(format!("  Look: {}", cause.look)));
            lines.push(Line::default());
        }
        lines
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        // A cause is three lines: itself, the look, and a gap.
        let (lines, at) = (self.lines(session), 3 * self.scroll.at);
        self.scroll.chosen(text::inset(area, 2), buf, lines, at);
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn other(&mut self, input: Touch, session: &mut Session) -> Option<Flow<Session>> {
        let Touch::Key(event) = input else {
            return None;
        };
        letter(&event).filter(char::is_ascii_digit)?;
        let mut count = Count::new(self.asked_again(session));
        count.entry.input(&event);
        Some(Flow::replace(count))
    }

    fn waits(&self) -> bool {
        self.may_be_kept()
    }
}

impl Answered {
    fn mend(&mut self, _session: &mut Session) -> Flow<Session> {
        match self.cause() {
            Some(_) => Flow::replace(Mending {
                scroll: Scroll::list(0, self.choices()),
                answered: self.clone(),
            }),
            None => Flow::Close,
        }
    }

    fn again(&mut self, session: &mut Session) -> Flow<Session> {
        Flow::replace(Count::new(self.asked_again(session)))
    }

    /// What is counted next: as if it were asked for at the stitches.
    fn asked_again(&self, session: &Session) -> Question {
        question(session).unwrap_or(self.question)
    }

    /// Keeps what was counted: as stitched.
    fn keep(&mut self, session: &mut Session) -> Flow<Session> {
        if !self.may_be_kept() {
            return session.say("The count is right: there is no difference to keep.");
        }
        let by = self.answer.counted as i32 - self.answer.expected as i32;
        let places = match self.place() {
            Some(place) => std::slice::from_ref(place),
            None => self.cause().map_or(&[][..], |cause| &cause.places),
        };
        if by != 0
            && let Some(gaps) = as_stitched::found(session, places, by)
        {
            return Flow::open(gaps);
        }
        let Some(differences) = self.differences(session) else {
            return session.say(
                "On which side is the difference? Count each side by itself, as in 5 5 6, and \
                 keep that.",
            );
        };
        let (job, round) = (self.question.job, self.question.round);
        let mut said = vec![];
        for (side, by) in differences {
            let state = session.piece.state();
            let did = state.keeping(job, round, (side, by));
            let by = by + state.kept_at(job, round, side);
            let at = session.now;
            session.record(Entry { at, did });
            said.push(format!("side {side} {}", more_or_fewer(by)));
        }
        let said = said.join(", ");
        session.say(format!(
            "Kept as stitched: {said}. Counts go by it from here on."
        ));
        Flow::Lowest
    }

    /// Beads more or fewer, side by side; nothing if the side is not known.
    fn differences(&self, session: &Session) -> Option<Vec<(Side, i32)>> {
        let (q, answer) = (self.question, &self.answer);
        if let Some(seen) = &self.sides {
            return count::differences(&session.seq, q.job, q.round, seen, &session.kept());
        }
        let of_cause = || self.place().map(|place| place.side);
        let side = q.side.or_else(of_cause)?;
        Some(vec![(side, answer.counted as i32 - answer.expected as i32)])
    }

    /// The cause that the maker is at.
    fn cause(&self) -> Option<&Cause> {
        self.answer.causes.get(self.scroll.at)
    }

    /// Its place, if the maker named one or there is only one.
    fn place(&self) -> Option<&Place> {
        match self.cause()?.places.as_slice() {
            [only] => Some(only),
            places => places.get(self.place.checked_sub(1)?),
        }
    }

    /// Places to choose from, any of them counted; 0 if there is no choice.
    fn choices(&self) -> usize {
        match self.cause().map_or(0, |c| c.places.len()) {
            0 | 1 => 0,
            places => places + 1,
        }
    }

    /// Whether the maker may keep what was counted, as stitched.
    fn may_be_kept(&self) -> bool {
        self.answer.verdict != Verdict::Match || self.differs_by_side()
    }

    fn differs_by_side(&self) -> bool {
        self.sides.is_some() && !self.answer.causes.is_empty()
    }
}

/// The mend of one of the causes.
pub struct Mending {
    answered: Answered,
    /// The place that the maker is at; 0 is any of them.
    scroll: Scroll,
}

impl Layer<Session> for Mending {
    keys! { Session, "Mending a wrong count";
        begin "Enter" ["Enter mend"] "begin to mend it"
        keep "k" ["k keep as stitched"] "keep the difference, as stitched: later counts go by the work as it is"
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let answered = &self.answered;
        let words = verdict(session, &answered.question, &answered.answer);
        Some((words, session.look().alarm()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let Some(cause) = self.answered.cause() else {
            return vec![];
        };
        let mut lines = vec![
            styled(format!("If it was this: {}", cause.cause), bold()),
            Line::from(format!("Look: {}.", cause.look)),
            Line::default(),
        ];
        if self.answered.choices() > 0 {
            lines.push(styled("Where do you see it?", bold()));
            let any = "I have not found it yet".to_string();
            let places = std::iter::once(any).chain(cause.places.iter().map(place_words));
            for (i, words) in places.enumerate() {
                lines.push(choice(session.look(), i == self.scroll.at, &words));
            }
            lines.push(Line::default());
        }
        let Some(mend) = self.mend(session) else {
            return lines;
        };
        lines.push(styled(format!("{}.", mend.say(&session.seq)), bold()));
        lines.push(Line::from(match mend {
            Mend::Unpick { .. } => "Enter shows the way back, bead by bead.",
            Mend::MoveTo(_) => "Enter goes there; b leads back.",
            Mend::CountAgain => "Enter counts again.",
            Mend::GoOn(_) => "Enter goes on.",
        }));
        if cause.mistake.is_in_the_work() {
            let keep = "Or leave it as it is: k keeps it, as stitched, and later counts go by it.";
            lines.push(Line::from(keep));
        }
        lines
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let (lines, at) = (self.lines(session), 4 + self.scroll.at);
        self.scroll.chosen(text::inset(area, 2), buf, lines, at);
    }
}

impl Mending {
    /// The count, at the place that the maker named.
    fn answered(&self) -> Answered {
        let place = self.scroll.at;
        Answered {
            place,
            ..self.answered.clone()
        }
    }

    fn mend(&self, session: &Session) -> Option<Mend> {
        let answered = self.answered();
        let (cause, place) = (answered.cause()?, answered.place());
        let (seq, question) = (&session.seq, &answered.question);
        Some(count::mend(seq, question, cause, place, session.done()))
    }

    fn begin(&mut self, session: &mut Session) -> Flow<Session> {
        match self.mend(session) {
            Some(Mend::Unpick { back_to, .. }) => way_back(session, back_to),
            Some(Mend::MoveTo(done)) => session.jump(Step(done.0 + 1)),
            Some(Mend::CountAgain) => Flow::replace(Count::new(self.answered.question)),
            Some(Mend::GoOn(_)) | None => Flow::Lowest,
        }
    }

    fn keep(&mut self, session: &mut Session) -> Flow<Session> {
        self.answered().keep(session)
    }
}

/// `Side 2 of round 5: 6 counted, 5 must be there. 1 too many.`
fn verdict(session: &Session, q: &Question, answer: &Answer) -> String {
    let round = session.round_words(q.job, q.round);
    let what = match q.side {
        Some(side) => format!("Side {side} of {round}"),
        None => {
            let mut letters = round.chars();
            let first = letters.next().map(|c| c.to_ascii_uppercase());
            first.into_iter().chain(letters).collect()
        }
    };
    let (counted, expected) = (answer.counted, answer.expected);
    match answer.verdict {
        Verdict::Match if !answer.causes.is_empty() => {
            format!("{what}: {counted} in all, as it must be, but not side by side.")
        }
        Verdict::Match => format!("{what}: {counted}. Yes, that is right."),
        Verdict::Over => format!(
            "{what}: {counted} counted, {expected} must be there: {} too many.",
            counted - expected
        ),
        Verdict::Under => format!(
            "{what}: {counted} counted, {expected} must be there: {} too few.",
            expected - counted
        ),
    }
}

/// `side 2, one of gaps 1 to 4 (steps 40 to 43)`.
fn place_words(place: &Place) -> String {
    let steps = match place.steps {
        (first, last) if first == last => format!("step {first}"),
        (first, last) => format!("steps {first} to {last}"),
    };
    let side = place.side;
    match (place.corner, place.gaps) {
        (true, _) => format!("at the corner behind side {side} ({steps})"),
        (false, 1) => format!("on side {side}, in one gap ({steps})"),
        (false, gaps) => format!("on side {side}, in one of {gaps} gaps ({steps})"),
    }
}
