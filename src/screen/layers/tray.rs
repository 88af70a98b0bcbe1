//! The tray: the pieces, and patterns to begin. The lowest layer where no
//! piece is open.

use crate::progress::{Condition, Moment, PieceSummary, PlainText};
use crate::screen::furniture::text::{self, rows};
use crate::screen::furniture::{Scroll, bold};
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context, Exit, Flow, Layer, Opener};
use crate::screen::look::{Ground, Look};
use crate::screen::standing;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr as _;

pub const OPENER: Opener<TrayState> =
    opener!(TrayState; "tray" "" [] "" |_, _| Flow::Lowest; TrayList);

/// What lies in the tray.
pub struct TrayState {
    /// The pieces, the last worked on first.
    pub pieces: Vec<PieceSummary>,
    /// Patterns to begin: title, and a word about it.
    pub patterns: Vec<(String, String)>,
    /// A word about the last action.
    pub said: String,
    /// The time of the last action.
    pub now: Moment,
    /// The look.
    pub look: Look,
}

impl Context for TrayState {
    fn screens() -> &'static [Opener<TrayState>] {
        super::OF_THE_TRAY
    }

    fn lies_on(&mut self, ground: Ground) {
        self.look.ground = ground;
    }

    fn look(&self) -> Look {
        self.look
    }

    fn said(&self) -> &str {
        &self.said
    }

    fn tell(&mut self, words: &str) {
        self.said = words.into();
    }

    fn begin(&mut self, now: Moment, anew: bool) {
        self.now = now;
        if anew {
            self.said.clear();
        }
    }

    fn head(&self, area: Rect, buf: &mut Buffer) {
        text::band(area, buf, " Your tray", self.look.bar());
    }

    fn word(&self, _lowest: bool, _width: u16) -> Option<(String, Style)> {
        let said = Some(&self.said).filter(|said| !said.is_empty());
        said.map(|said| (said.clone(), self.look.alarm()))
    }

    fn explained(&self) -> Vec<Line<'static>> {
        ABOUT.map(Line::from).to_vec()
    }
}

/// What the tray is.
const ABOUT: [&str; 2] = [
    "The tray holds your pieces, the last worked on first, and below them patterns to begin.",
    "Enter opens the piece or begins the pattern that is chosen. Every piece keeps its own copy of its pattern, \
     your place in it, and your notes.",
];

/// The list of the tray.
pub struct TrayList {
    /// The line that the maker is on: pieces first, then patterns.
    scroll: Scroll,
}

impl Layer<TrayState> for TrayList {
    keys! { TrayState, "The tray";
        choose "Enter space right" ["Enter go there"] "open the piece or begin the pattern"
        tour "e" ["e beginner's tour"] "take the beginner's tour" => |_| Flow::Leave(Exit::Tour);
        ..
        quit "q" ["q quit"] "end" => |_| Flow::Leave(Exit::Quit);
        stay "Esc" [] "nothing is open here, so nothing is left: q ends" => |_| Flow::Stay;
    }

    fn lines(&self, tray: &TrayState) -> Vec<Line<'static>> {
        let pieces = tray.pieces.iter().map(|piece| piece.title.to_string());
        let titles = pieces.chain(tray.patterns.iter().map(|(title, _)| title.clone()));
        titles.skip(self.scroll.at).map(Line::from).collect()
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn draw(&mut self, tray: &TrayState, area: Rect, buf: &mut Buffer) {
        let about = self.about(tray, area.width, area.height / 3);
        let foot = area.height - about.len() as u16;
        for (row, line) in (foot..).zip(&about) {
            let space = text::inset(rows(area, row, 1), 1);
            text::line(space, buf, line, tray.look.quiet());
        }
        self.draw_lines(tray, rows(area, 0, foot), buf);
    }
}

impl TrayList {
    /// On the first line.
    pub fn new(tray: &TrayState) -> TrayList {
        let scroll = Scroll::list(0, tray.pieces.len() + tray.patterns.len());
        TrayList { scroll }
    }

    fn choose(&mut self, tray: &mut TrayState) -> Flow<TrayState> {
        match tray.pieces.is_empty() && tray.patterns.is_empty() {
            true => Flow::Stay,
            false => Flow::Leave(Exit::Choose(self.scroll.at)),
        }
    }

    /// What there is to say about the line the maker is on, row by row.
    fn about(&self, tray: &TrayState, width: u16, most: u16) -> Vec<String> {
        let words = match tray.pieces.get(self.scroll.at) {
            Some(piece) => match &piece.condition {
                Condition::Sound => return vec![],
                Condition::Damaged(damage) => damage.to_string(),
                Condition::Newer(version) => format!(
                    "This piece is of format {version}, newer than this program: it is left alone."
                ),
                Condition::Unreadable(why) => why.clone(),
            },
            None => match tray.patterns.get(self.scroll.at - tray.pieces.len()) {
                Some((_, about)) => about.clone(),
                None => return vec![],
            },
        };
        text::broken(&words, width.saturating_sub(2), most)
    }

    fn draw_lines(&mut self, tray: &TrayState, area: Rect, buf: &mut Buffer) {
        let look = tray.look;
        // Each line: what it says, how, and whether it can be chosen.
        let mut lines: Vec<(String, String, Style, Option<usize>)> = vec![];
        let head = |text: &str| (text.to_string(), String::new(), look.seat(), None);
        if tray.pieces.is_empty() {
            let words = " No pieces yet. Choose a pattern and begin one.";
            lines.push((words.into(), String::new(), bold(), None));
        } else {
            lines.push(head(" Pieces"));
        }
        for (i, piece) in tray.pieces.iter().enumerate() {
            let (right, style) = piece_words(piece, look, tray.now, area.width);
            let alike = |other: &&PieceSummary| other.title == piece.title;
            let title = match tray.pieces.iter().filter(alike).count() {
                1 => format!("   {}", piece.title),
                // Told apart by the names that they have in the tray.
                _ => format!("   {} ({})", piece.title, PlainText::new(&piece.name)),
            };
            lines.push((title, right, style, Some(i)));
        }
        if !tray.patterns.is_empty() {
            lines.push((String::new(), String::new(), Style::new(), None));
            lines.push(head(" Begin a new piece"));
        }
        for (i, (title, about)) in tray.patterns.iter().enumerate() {
            let about = about.lines().next().unwrap_or_default();
            let left = match about.is_empty() {
                true => format!("   {title}"),
                false => format!("   {title}: {about}"),
            };
            let at = tray.pieces.len() + i;
            lines.push((left, String::new(), Style::new(), Some(at)));
        }
        let here = lines
            .iter()
            .position(|l| l.3 == Some(self.scroll.at))
            .unwrap_or(0);
        let high = usize::from(area.height.max(1));
        let from = self.scroll.from(lines.len(), here, area.height);
        for (row, (left, right, style, at)) in lines.iter().enumerate().skip(from).take(high) {
            let space = rows(area, (row - from) as u16, 1);
            let style = match *at == Some(self.scroll.at) {
                true => style.patch(look.bar()),
                false => *style,
            };
            buf.set_style(space, style);
            let room = usize::from(space.width).saturating_sub(right.width() + 1);
            text::line(space, buf, &text::fit(left, room), style);
            text::right(space, buf, right, style);
        }
    }
}

fn piece_words(piece: &PieceSummary, look: Look, now: Moment, width: u16) -> (String, Style) {
    let plain = Style::new();
    match &piece.condition {
        Condition::Newer(version) => {
            let words = format!("of a newer format ({version}): left alone ");
            return (words, look.quiet());
        }
        Condition::Unreadable(why) => return (format!("cannot be read: {why} "), look.quiet()),
        Condition::Damaged(_) => {
            return (
                "its journal is damaged: opening mends it ".into(),
                look.alarm_words(),
            );
        }
        Condition::Sound => {}
    }
    let when = match piece.last_worked {
        Some(at) => standing::ago(at, now),
        None => String::new(),
    };
    let (step, steps) = (u64::from(piece.step), piece.steps.map(u64::from));
    let progress = match steps {
        _ if piece.finished => "finished".to_string(),
        Some(steps) if width >= 60 => format!(
            "{} {:3} %",
            text::bar(look.signs().bar, step, steps, 16),
            step * 100 / steps.max(1)
        ),
        Some(steps) => format!("{} %", step * 100 / steps.max(1)),
        None => format!("step {step}"),
    };
    match width {
        0..60 => (format!("{progress} "), plain),
        _ => (format!("{progress}  {when:>21} "), plain),
    }
}
