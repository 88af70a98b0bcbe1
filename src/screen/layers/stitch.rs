//! The stitches: the next movement, where it is, what follows, and the picture.
//! The lowest layer of a piece.

use super::lesson;
use crate::beadwork::{Kind, Movement, Sequence, Step, capitalised};
use crate::progress::MoveReason;
use crate::screen::layer::{Busy, Context as _, Exit, Flow, Layer, Opener, keys, opener};
use crate::screen::session::{Session, entered};
use crate::screen::widgets::{big, bold, rows, scene, styled, text};
use crate::screen::{phrases, settings, solid};
use crate::tracking::count;
use crate::tracking::pace::thread::ThreadVerdict;
use ratatui::prelude::{Buffer, Line, Modifier, Rect, Style};
use unicode_width::UnicodeWidthStr as _;

/// From this many columns on, a movement is one row of text.
const WIDE: u16 = 72;

/// The most rows for the text of a movement.
const MOST_SENTENCE: u16 = 4;

/// Columns of the numbers beside the big letters.
const NUMBERS: u16 = 23;

pub struct Stitches;

pub const OPENER: Opener<Session> =
    opener!(Session; "stitches" "" [] "" |_, _| Flow::Lowest; Stitches::table);

impl Layer<Session> for Stitches {
    keys! { Session, "Stitching";
        on "space Enter right PageDown" ["space on"] "the movement is made: one step on. Held down it goes on and on; a foot pedal types one of these"
        back "Backspace left PageUp -" ["bksp back"] "one step back"
        ..
        way_back "b" ["b way back"] "back to where you were before you went to a place" => |s| s.way_back();
        undo "z" ["z undo"] "take back the last movement or the last change of mind, whichever came later" => |s| s.undo();
        redo "y" [] "do again what was taken back last" => |s| s.redo();
        split "x" ["x one at a time"] "take the beads of this movement one at a time, when the needle does not go through all at once"
        hand "l" ["l hand"] "mirror picture and directions for the left hand, and back" => |s| s.switch_hand();
        again "r" [] "say this step once more, in the plain mode" => |_| Flow::Stay;
        tray "t" ["t tray"] "put the piece away and look at the tray" => |_| Flow::Leave(Exit::Tray);
        quit "q" ["q quit"] "end; every step is kept already" => |_| Flow::Leave(Exit::Quit);
        stay "Esc" [] "nothing is open to close: t goes to the tray, q ends" => |s| s.say("t goes to the tray, q ends; every step is kept already.");
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        few_words(session)
    }

    fn spoken(&self, session: &Session) -> Vec<Line<'static>> {
        spoken(session)
    }

    fn opens(&self, _screen: &str) -> bool {
        true
    }

    fn tick(&mut self, session: &mut Session) -> Busy {
        Busy::waiting(session.tick())
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let high = session.size.1;
        let foot = area.height.saturating_sub(1);
        progress(session, rows(area, foot, 1), buf);
        let mut top = 0;
        let body = rows(area, 0, foot);
        let movement = session.movement();
        match &movement {
            Some(m) if high >= 20 => {
                let letters = if high >= 38 { 8 } else { 4 };
                large(session, m, rows(body, top, letters), buf);
                top += letters;
                let sentence = sentence(session, m);
                let least = if body.width < WIDE { 2 } else { 1 };
                let high = text::height(sentence.as_str(), body.width);
                let high = high.clamp(least, MOST_SENTENCE);
                text::wrapped(rows(body, top, high), buf, &sentence, bold());
                top += high;
            }
            Some(m) => top += compact(session, m, rows(body, top, 4), buf),
            None => top += finished(session, rows(body, top, 5), buf),
        }
        if let Some(m) = &movement {
            ahead(session, m, rows(body, top, 1), buf);
            top += 1;
        }
        let space = rows(body, top, body.height.saturating_sub(top));
        let space = match lesson::has_room(session.size) {
            true => lesson::share(session, &scene::of(session, session.done()), space, buf),
            false => space,
        };
        if !solid::before_and_after(session, space, buf) {
            scene::draw(session, space, buf);
        }
    }
}

impl Stitches {
    fn on(&mut self, session: &mut Session) -> Flow<Session> {
        let now = session.next_step();
        if now.0 > session.seq.steps() {
            return session.say("The piece is finished: there is no step after this.");
        }
        if let Some(taken) = session.one_at_a_time
            && session.movement().is_some_and(|m| taken + 1 < entered(&m))
        {
            session.one_at_a_time = Some(taken + 1);
            return Flow::Stay;
        }
        session.lesson_came_up();
        session.move_to(now.0, MoveReason::Forward);
        session.pass_what_is_made();
        session.bell |= wants_bell(session, Step(now.0 + 2));
        Flow::Stay
    }

    fn back(&mut self, session: &mut Session) {
        match (session.one_at_a_time, session.done().0) {
            (Some(taken @ 1..), _) => session.one_at_a_time = Some(taken - 1),
            (_, 0) => drop(session.say("This is the first step.")),
            (_, done) => session.move_to(done - 1, MoveReason::Back),
        }
    }

    fn split(&mut self, session: &mut Session) -> Flow<Session> {
        let beads = session.movement().map_or(0, |m| entered(&m));
        session.one_at_a_time = match session.one_at_a_time {
            None if beads < 2 => {
                return session.say("This movement goes through one bead only.");
            }
            None => Some(0),
            Some(_) => None,
        };
        Flow::Stay
    }
}

/// Whether the maker wishes to hear the bell one step ahead of a step.
fn wants_bell(session: &Session, step: Step) -> bool {
    let on = session.piece.state().settings.bell().unwrap_or_default();
    let next = (!on.is_empty()).then(|| session.seq.step(step)).flatten();
    next.is_some_and(|next| {
        let now = session.movement();
        settings::rings(&on, next.kind)
            && phrases::announced(&session.seq, now.as_ref(), &next).is_some()
    })
}

/// What to do: the movement, or the next bead of it while they are taken one at a
/// time.
fn sentence(session: &Session, m: &Movement) -> String {
    match one_bead(session, m) {
        Some((bead, sew)) => format!("Bead {bead}: {sew}"),
        None => session.seq.say_fully(m),
    }
}

/// Which bead comes next while they are taken one at a time, and the way into it:
/// `3 of 8` and `sew back through S (round 4 side 3 bead 1) of Panel 6`.
fn one_bead(session: &Session, m: &Movement) -> Option<(String, String)> {
    let taken = session.one_at_a_time?;
    let bead = session.seq.say_one_passed(m, taken)?;
    Some((
        format!("{} of {}", taken + 1, entered(m)),
        sew_through(&bead),
    ))
}

/// `sew through A`, or where an end of thread turns back at once `sew back through
/// N`.
fn sew_through(beads: &str) -> String {
    match beads.starts_with("back ") {
        true => format!("sew {beads}"),
        false => format!("sew through {beads}"),
    }
}

/// For a screen too small for the picture: the most important things first.
fn few_words(session: &Session) -> Vec<Line<'static>> {
    let (seq, look) = (&session.seq, session.look());
    let mut lines = vec![];
    let Some(m) = session.movement() else {
        return vec![styled("Finished: all steps are done.", bold())];
    };
    lines.push(styled(sentence(session, &m), bold()));
    if let Some(trouble) = session.trouble() {
        lines.push(styled(trouble, look.alarm()));
    }
    if let Some((words, style)) = session.urgent(0) {
        lines.push(styled(words, style));
    }
    let place = seq.say_where(&m);
    if !place.is_empty() {
        lines.push(Line::from(place));
    }
    lines.extend(count::say_before(seq, &m).map(Line::from));
    if let Some(words) = phrases::announced_after(seq, &m) {
        lines.push(styled(format!("next: {words}"), look.ahead()));
    }
    if let Some(lesson) = session.lesson() {
        lines.push(styled(lesson::line(lesson), look.seat()));
    }
    if !session.said.is_empty() {
        lines.push(Line::from(session.said.clone()));
    }
    lines.push(Line::from(format!("step {} of {}", m.step, seq.steps())));
    lines
}

/// For the plain mode: the step, and everything shown with it on the screen.
fn spoken(session: &Session) -> Vec<Line<'static>> {
    let seq = &session.seq;
    let is_heard = session.heard_at == Some(session.done());
    let mut lines = match session.lesson().filter(|_| !is_heard) {
        Some(lesson) => lesson::told(lesson, session.reader(), session.look()),
        None => vec![],
    };
    let Some(m) = session.movement() else {
        let words = format!("All {} steps are done: the piece is finished.", seq.steps());
        lines.push(Line::from(words));
        return lines;
    };
    lines.push(Line::from(match one_bead(session, &m) {
        Some((bead, sew)) => format!("step {} of {}, bead {bead}: {sew}.", m.step, seq.steps()),
        None => step_line(seq, m.step),
    }));
    if let Some(words) = phrases::announced_after(seq, &m) {
        lines.push(Line::from(format!("Next: {words}.")));
    }
    lines.extend(session.warnings().into_iter().map(Line::from));
    if let Some(note) = session.piece.state().notes.get(&m.step.0) {
        lines.push(Line::from(format!("Note: {note}")));
    }
    if let Some(q) = session.offered() {
        let what = q.say(seq, session.done());
        let words = format!("If you like, count {what} and type the number.");
        lines.push(Line::from(words));
    }
    lines
}

/// A step in one line: `step 41 of 989: Pick up 1 S, sew through the next bead.
/// Round 4 of 8 outward, side 2 of 3, bead 3 of 4. Sew through A. 8 of 12 in place.`
pub fn step_line(seq: &Sequence, step: Step) -> String {
    let Some(m) = seq.step(step) else {
        return String::new();
    };
    let mut line = format!("step {step} of {}: {}.", seq.steps(), seq.say(&m));
    let place = seq.say_where(&m);
    if !place.is_empty() {
        line.push_str(&format!(" {}.", capitalised(&place)));
    }
    if let Some(corners) = seq.say_corners(&m) {
        line.push_str(&format!(" The corners: {corners}."));
    }
    if let Some(beads) = seq.say_passed(&m) {
        line.push_str(&format!(" {}.", capitalised(&sew_through(&beads))));
    }
    if let Some(beads) = count::say_before(seq, &m) {
        line.push_str(&format!(" {beads}."));
    }
    line
}

/// The movement in big letters, the bead's patch, and the numbers.
fn large(session: &Session, m: &Movement, area: Rect, buf: &mut Buffer) {
    let (look, seq) = (session.look(), &session.seq);
    let special = phrases::announced(seq, None, m).is_some();
    let style = if special { look.seat() } else { Style::new() };
    let patch = big::patch_width(m);
    big::patch(look, seq, m, text::columns(area, 0, patch), buf);
    let left = if patch > 0 { patch + 1 } else { 0 };
    let numbers = NUMBERS.min(area.width / 3);
    let letters = text::columns(area, left, area.width.saturating_sub(left + numbers));
    big::write(look, &phrases::short_label(seq, m), letters, buf, style);
    let column = text::last_columns(area, numbers);
    let place = seq.say_where(m);
    let lines = place.split(", ").map(str::to_string);
    let lines = lines.chain(count::say_before(seq, m));
    for (y, line) in (0..).zip(lines.filter(|line| !line.is_empty())) {
        text::line(rows(column, y, 1), buf, &line, bold());
    }
}

/// The same in two or three rows, for small terminals; returns how many.
fn compact(session: &Session, m: &Movement, area: Rect, buf: &mut Buffer) -> u16 {
    let (look, seq) = (session.look(), &session.seq);
    let patch = 4 * m.strings.len() as u16;
    let narrow = text::columns(area, patch, area.width);
    // A bead that is taken by itself is said whole.
    let most = if session.one_at_a_time.is_some() {
        3
    } else {
        2
    };
    let taken = text::wrapped(rows(narrow, 0, most), buf, &sentence(session, m), bold());
    let here = text::columns(rows(area, 0, taken), 0, patch.saturating_sub(1));
    big::patch(look, seq, m, here, buf);
    let place = seq.say_where(m);
    if place.is_empty() {
        return taken;
    }
    let place = match place.width() > usize::from(area.width) {
        true => place.replace(" of ", "/"),
        false => place,
    };
    text::line(rows(area, taken, 1), buf, &place, Style::new());
    taken + 1
}

fn finished(session: &Session, area: Rect, buf: &mut Buffer) -> u16 {
    let look = session.look();
    let high = if area.height >= 5 { 4 } else { 1 };
    big::write(look, "finished", rows(area, 0, high), buf, look.seat());
    let words = format!(
        "All {} steps are done: {} beads. Look it over, and wear or give it with joy.",
        session.seq.steps(),
        session.seq.layout().beads()
    );
    high + text::wrapped(rows(area, high, 2), buf, &words, Style::new())
}

/// What comes next: in a striking band if it is not a plain stitch.
fn ahead(session: &Session, m: &Movement, area: Rect, buf: &mut Buffer) {
    let (look, seq) = (session.look(), &session.seq);
    let times = if look.unicode { '×' } else { 'x' };
    if m.step.0 == seq.steps() {
        return text::line(area, buf, "This is the last step.", look.quiet());
    }
    match phrases::announced_after(seq, m) {
        Some(words) => {
            let watch = look.signs().watch;
            let line = format!(" {watch} NEXT: {words} {watch}");
            text::band(area, buf, &line, look.ahead());
            // What follows that, if there is room.
            let rest = phrases::then(seq, Step(m.step.0 + 1), 2, times);
            let rest = match rest.is_empty() {
                true => rest,
                false => format!("then {rest} "),
            };
            let room = usize::from(area.width).saturating_sub(line.width() + 1);
            if !rest.is_empty() && rest.width() < room {
                let style = look.ahead().remove_modifier(Modifier::BOLD);
                text::right(area, buf, &rest, style);
            }
        }
        None => {
            // Whole movements, as many as fit.
            let fits = |groups| format!("then {}", phrases::then(seq, m.step, groups, times));
            let mut lines = (1..=3).rev().map(fits);
            let found = lines.find(|line| line.width() <= usize::from(area.width));
            text::line(area, buf, &found.unwrap_or_else(|| fits(1)), look.quiet());
        }
    }
}

/// The round as a progress bar, the piece in numbers, the thread left.
fn progress(session: &Session, area: Rect, buf: &mut Buffer) {
    let (look, seq, done) = (session.look(), &session.seq, session.done());
    let signs = look.signs();
    let mut line = String::new();
    let bar = match area.width {
        0..60 => 10,
        60..100 => 16,
        _ => 30,
    };
    let movement = session.movement();
    let beads = movement.as_ref().and_then(|m| count::before(seq, m));
    if let Some((m, (there, whole))) = movement.zip(beads) {
        let what = match m.kind {
            Kind::Zip => "join",
            _ => "round",
        };
        let full = text::bar(signs.bar, there.into(), whole.into(), bar);
        line = format!("{what} {full} {there} of {whole}");
    }
    let dot = signs.dot;
    let percent = u64::from(done.0) * 100 / u64::from(seq.steps().max(1));
    let mut more = vec![format!("piece {percent} %")];
    if let Some(current) = session.current_thread() {
        let unit = session.thread_unit();
        let left = unit.say(current.loose_mm);
        let short = match current.verdict {
            ThreadVerdict::Enough => String::new(),
            ThreadVerdict::LastSide | ThreadVerdict::TooShort => {
                format!(" {}", look.signs().watch)
            }
        };
        more.push(match area.width {
            0..60 => format!("thread {left}{short}"),
            _ => format!("thread left about {left}{short}"),
        });
    }
    if !session.stats.full(Step(done.0 + 1)).is_empty() {
        more.push(format!("{} full bead", look.signs().watch));
    }
    if session.left_handed() {
        more.push("left hand".into());
    }
    for words in more {
        let next = match line.is_empty() {
            true => words,
            false => format!("{line}{dot}{words}"),
        };
        if next.width() <= usize::from(area.width) {
            line = next;
        }
    }
    text::line(area, buf, &line, Style::new());
}
