//! Counting: what is counted, the answer, and what the maker does next.
//!
//! ```text
//! count -> answer -> a cause -> its mend -> unpick, move, count again
//!                 \-> keep: as stitched
//! ```

use super::{as_stitched, way_back};
use crate::beadwork::{Side, Step, many, plural};
use crate::progress::{Check, Entry, Event};
use crate::screen::layer::{Context as _, Flow, Keys, Layer, Opener, key_table, keys, opener};
use crate::screen::session::Session;
use crate::screen::stack::Stack;
use crate::screen::widgets::{Scroll, TextEntry, bold, choice, choices, styled};
use crate::tracking::count::{
    self, Answer, BeadsInRound, Cause, CountQuestion, Mend, Mistake, RoundPlace, Verdict,
};
use ratatui::prelude::{Line, Style};

pub const OPENER: Opener<Session> = opener!(Session; "count" "c 0-9" ["0-9 count"] "compare a count with what should be there: type the number, or one for each side (5 5 6), then Enter" open; Count::table, || ANSWERED, || MENDING);

/// The most characters of a count: a number for each of twelve sides.
const LONGEST_COUNT: usize = 60;

fn open(_: &mut Stack<Session>, session: &mut Session) -> Flow<Session> {
    match count::current_question(&session.seq, session.done()) {
        Some(question) => Flow::open(Count::new(question)),
        None => session.say("There are no beads to count yet."),
    }
}

/// A count being typed.
pub struct Count {
    question: CountQuestion,
    entry: TextEntry,
}

impl Layer<Session> for Count {
    keys! { Session, "Counting" [entry];
        compare "Enter" ["Enter done"] "compare what was typed"
        whole "Tab w" ["Tab side or round"] "the count is that of the side, or of the whole round"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let (seq, question) = (&session.seq, &self.question);
        let what = question.say(seq, session.done());
        let what = match question.is_of_a_zip(seq) {
            true => format!("Locked, of {what}:"),
            false => format!("Beads of {what}:"),
        };
        let sides = self.sides(session);
        let each = match question.is_of_a_zip(seq) {
            true => "Or teeth locked and teeth still open: two numbers, as in 5 2.".into(),
            false if sides == 1 => String::new(),
            false => format!(
                "Or a number for each side ({}6); of a corner pair, each side has one bead.",
                "5 ".repeat(sides - 1)
            ),
        };
        vec![
            self.entry.line(session.look(), &what),
            styled(each, session.look().quiet()),
        ]
    }
}

impl Count {
    fn new(question: CountQuestion) -> Count {
        Count {
            question,
            entry: TextEntry::numbers(LONGEST_COUNT),
        }
    }

    fn whole(&mut self, session: &mut Session) -> Flow<Session> {
        let is_whole = self.question.side.is_some() && !self.question.is_of_a_zip(&session.seq);
        self.question.side = match is_whole {
            true => None,
            false => self.question.side.or_else(|| current_side(session)),
        };
        Flow::Stay
    }

    /// Number of sides that can be counted separately.
    fn sides(&self, session: &Session) -> usize {
        let panel = session.seq.job(self.question.job).panel();
        usize::from(session.seq.layout().kind(panel).sides())
    }

    fn compare(&mut self, session: &mut Session) -> Flow<Session> {
        let found = match count::numbers(&self.entry.typed).as_deref() {
            None => Err("That is more than can be counted.".into()),
            Some([]) => return Flow::Stay,
            Some([counted]) => self.one_number(session, *counted),
            Some([locked, open]) if self.question.is_of_a_zip(&session.seq) => {
                self.teeth(session, *locked, *open)
            }
            Some(each) => self.each_side(session, each),
        };
        let (question, answer) = match found {
            Ok(found) => self.or_round_below(session, found),
            Err(why) => return session.say(why),
        };
        let did = Event::Check(Check {
            step: session.done().0,
            job: question.job,
            round: question.round,
            side: question.side,
            expected: answer.expected,
            counted: answer.counted,
        });
        let at = session.now;
        session.record(Entry { at, did });
        if answer.verdict == Verdict::Match {
            session.say(answer.say(&session.seq, &question, session.done()));
            return Flow::Lowest;
        }
        Flow::replace(Answered {
            is_of_a_zip: question.is_of_a_zip(&session.seq),
            scroll: Scroll::list(0, answer.causes.len()),
            place: None,
            question,
            answer,
        })
    }

    /// The answer to one number: for the side that is asked about, or for the
    /// whole round if the number fits that.
    fn one_number(&self, session: &Session, counted: u32) -> Compared {
        let (seq, at) = (&session.seq, Some(session.done()));
        let answer = |q| count::answer(seq, &q, at, counted).map(|a| (q, a));
        let is_match = |(_, a): &(CountQuestion, Answer)| a.verdict == Verdict::Match;
        let asked = answer(self.question);
        let asked = asked.ok_or("There is no such round or side to count here.")?;
        let side = None;
        let whole = answer(CountQuestion { side, ..asked.0 });
        let whole = whole.filter(|whole| is_match(whole) && !is_match(&asked));
        Ok(whole.unwrap_or(asked))
    }

    /// What was found, or what the round below has if that explains the count.
    fn or_round_below(
        &self,
        session: &Session,
        found: (CountQuestion, Answer),
    ) -> (CountQuestion, Answer) {
        let (seq, at) = (&session.seq, Some(session.done()));
        let counted = count::numbers(&self.entry.typed).unwrap_or_default();
        count::answer_of_round_below(seq, &found.0, at, &found.1, &counted).unwrap_or(found)
    }

    /// The answer to the number of locked teeth of a zip and of open ones.
    fn teeth(&self, session: &Session, locked: u32, open: u32) -> Compared {
        let (question, answer) = self.one_number(session, locked)?;
        let (all, whole) = (locked.saturating_add(open), answer.whole);
        match all == whole {
            true => Ok((question, answer)),
            false => Err(format!(
                "Locked and open together are {all}, but there are {whole} teeth. Count once more."
            )),
        }
    }

    /// The answer to a number for each side. A side that is not begun can be
    /// left out.
    fn each_side(&self, session: &Session, numbers: &[u32]) -> Compared {
        let (job, round) = (self.question.job, self.question.round);
        let (seq, at) = (&session.seq, Some(session.done()));
        let sides = self.sides(session);
        let there = BeadsInRound::at(seq, job, round, at);
        let mut each = numbers.to_vec();
        let left_out = there.map_or(vec![], |beads| beads.there);
        let left_out = left_out.get(each.len()..).unwrap_or_default();
        if left_out.iter().all(|&n| n == 0) {
            each.extend(left_out);
        }
        if each.len() != sides {
            let (n, has) = (each.len(), many(sides, "side", "sides"));
            return Err(match n < sides {
                true => format!(
                    "That is {}, but the panel has {has}: side {} is missing. Type 0 for a side \
                     without beads.",
                    plural(n, "number"),
                    n + 1
                ),
                false => format!("That is {}, but the panel has {has}.", plural(n, "number")),
            });
        }
        let answer = count::answer_sides(seq, job, round, at, &each);
        let side = None;
        let question = CountQuestion {
            side,
            ..self.question
        };
        let answer = answer.ok_or("There is no such round to count here.")?;
        Ok((question, answer))
    }
}

/// The question and the answer, or why there is no answer.
type Compared = Result<(CountQuestion, Answer), String>;

/// The side of the last movement that had a side.
fn current_side(session: &Session) -> Option<Side> {
    let done = session.done().0;
    let near = (done.saturating_sub(4)..=done + 1).rev();
    near.filter_map(|s| session.seq.step(Step(s))?.side).next()
}

const ANSWERED: &Keys = &key_table!("The answer to a count";
    mend "Enter" ["Enter it was this"] "it was this: how it is mended. If you are at another place, go there"
    keep "k" ["k keep as stitched"] "keep the difference, as stitched: it becomes part of the work"
    break_out "!" ["! break it out"] "the bead too many is broken out, where nothing is sewn onto it"
    go_on "space right" ["space go on"] "go on stitching"
    again "c" ["c count again"] "count again"
    again "0-9" [] "count again, the number at once");

const MENDING: &Keys = &key_table!("Mending a wrong count";
    begin "Enter" ["Enter mend"] "begin to mend it"
    keep "k" ["k keep as stitched"] "keep the difference, as stitched: it becomes part of the work"
    break_out "!" ["! break it out"] "the bead too many is broken out, where nothing is sewn onto it");

/// A count after comparison: its causes, then the mend of one of them.
pub struct Answered {
    /// What was counted.
    question: CountQuestion,
    answer: Answer,
    /// The chosen cause, from 0.
    scroll: Scroll,
    /// While it is mended, the chosen place of that cause; 0 means any place.
    place: Option<Scroll>,
    /// Whether teeth of a zip were counted.
    is_of_a_zip: bool,
}

impl Layer<Session> for Answered {
    fn keys(&self) -> &'static Keys {
        match self.place {
            Some(_) => MENDING,
            None => ANSWERED,
        }
    }

    fn run(&mut self, name: &str, session: &mut Session) -> Flow<Session> {
        match name {
            "mend" => self.mend(session),
            "begin" => self.begin(session),
            "keep" => self.keep(session),
            "break_out" => self.break_out(session),
            "again" => self.again(session),
            _ => Flow::Lowest,
        }
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        self.place.as_mut().or(Some(&mut self.scroll))
    }

    fn hides(&self, name: &str) -> bool {
        match name {
            "break_out" => self.is_of_a_zip || self.answer.counted <= self.answer.expected,
            "keep" => self.is_of_a_zip || self.answer.counted == self.answer.expected,
            _ => false,
        }
    }

    fn heading(&self, session: &Session) -> Option<(String, Style)> {
        let verdict = self
            .answer
            .say(&session.seq, &self.question, session.done());
        Some((verdict, session.look().alarm()))
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        if let (Some(cause), Some(place)) = (self.cause(), &self.place) {
            return self.mending(session, cause, place.at);
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
}

impl Answered {
    /// The mend of a cause, with the chosen place.
    fn mending(&self, session: &Session, cause: &Cause, place: usize) -> Vec<Line<'static>> {
        let mut lines = vec![
            styled(format!("If it was this: {}", cause.cause), bold()),
            Line::from(format!("Look: {}.", cause.look)),
            Line::default(),
        ];
        if self.choices() > 0 {
            lines.push(styled("Where do you see it?", bold()));
            let any = "I have not found it yet".to_string();
            let places = std::iter::once(any).chain(cause.places.iter().map(place_words));
            lines.extend(choices(session.look(), place, places));
            lines.push(Line::default());
        }
        let mend = self.mend_of(session, cause);
        lines.push(styled(format!("{}.", mend.say(&session.seq)), bold()));
        lines.push(Line::from(match mend {
            Mend::Unpick { .. } => "Enter shows the way back, bead by bead.",
            Mend::MoveTo(_) => "Enter goes there; b leads back.",
            Mend::CountAgain => "Enter counts again.",
        }));
        if cause.mistake.is_in_the_work() {
            let keep =
                "Or leave it as it is: k keeps it, as stitched, and the work goes on from it.";
            lines.push(Line::from(keep));
            if self.places(session).iter().any(|(_, by)| *by > 0) {
                lines.push(Line::from("Or ! breaks the bead too many out."));
            }
        }
        lines
    }

    fn mend_of(&self, session: &Session, cause: &Cause) -> Mend {
        let (seq, done) = (&session.seq, session.done());
        count::mend(seq, &self.question, cause, self.place(), done)
    }

    fn mend(&mut self, session: &mut Session) -> Flow<Session> {
        match self.cause().map(|cause| &cause.mistake) {
            Some(Mistake::OtherStep(done)) => session.jump(Step(done.0 + 1)),
            Some(_) => {
                self.place = Some(Scroll::list(0, self.choices()));
                Flow::Stay
            }
            None => Flow::Close,
        }
    }

    fn begin(&mut self, session: &mut Session) -> Flow<Session> {
        match self.cause().map(|cause| self.mend_of(session, cause)) {
            Some(Mend::Unpick { back_to, .. }) => way_back(session, back_to),
            Some(Mend::MoveTo(done)) => session.jump(Step(done.0 + 1)),
            Some(Mend::CountAgain) => Flow::replace(Count::new(self.question)),
            None => Flow::Lowest,
        }
    }

    /// Asks the next question, as if it were asked from the stitches.
    fn again(&self, session: &Session) -> Flow<Session> {
        let question = count::current_question(&session.seq, session.done());
        Flow::replace(Count::new(question.unwrap_or(self.question)))
    }

    /// Keeps what was counted, as stitched.
    fn keep(&self, session: &mut Session) -> Flow<Session> {
        if self.is_of_a_zip {
            return session
                .say("A zip has the teeth that its row has: keep a difference in the row.");
        }
        let by = self.answer.counted as i32 - self.answer.expected as i32;
        if by == 0 {
            return session.say(
                "The sides differ, but no bead is too many or too few in all: m, and name the gaps.",
            );
        }
        as_stitched::found(session, &self.places(session))
    }

    /// Breaks out the extra bead.
    fn break_out(&self, session: &mut Session) -> Flow<Session> {
        if self.answer.counted <= self.answer.expected {
            return session.say("No bead too many was counted, so none is broken out.");
        }
        as_stitched::found_to_break_out(session, &self.places(session))
    }

    /// The place that was named, or the places of the chosen cause; if that
    /// cause is not in the work, the places of all the others. Each with the beads
    /// that a gap there has more, or negative fewer; none where the sides are right.
    fn places(&self, session: &Session) -> Vec<(RoundPlace, i32)> {
        let places = match (self.place(), self.cause()) {
            (Some(place), _) => vec![*place],
            (None, Some(cause)) if !cause.places.is_empty() => cause.places.clone(),
            (None, _) => {
                let causes = self.answer.causes.iter();
                causes.flat_map(|cause| cause.places.clone()).collect()
            }
        };
        let by = |place: &RoundPlace| self.answer.by_at(&session.seq, self.question.job, place);
        let places = places.into_iter().map(|place| (place, by(&place)));
        places.filter(|(_, by)| *by != 0).collect()
    }

    /// The chosen cause.
    fn cause(&self) -> Option<&Cause> {
        self.answer.causes.get(self.scroll.at)
    }

    /// Its place, if the maker named one or there is only one.
    fn place(&self) -> Option<&RoundPlace> {
        match self.cause()?.places.as_slice() {
            [only] => Some(only),
            places => places.get(self.place.as_ref()?.at.checked_sub(1)?),
        }
    }

    /// The number of places to choose from, including any of them; 0 if there
    /// is no choice.
    fn choices(&self) -> usize {
        match self.cause().map_or(0, |c| c.places.len()) {
            0 | 1 => 0,
            places => places + 1,
        }
    }
}

/// `side 2, one of gaps 1 to 4 (steps 40 to 43)`.
fn place_words(place: &RoundPlace) -> String {
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
