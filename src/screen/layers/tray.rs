//! The tray: the pieces, and patterns to begin. The lowest layer when no piece
//! is open.

use super::free_start::free_asked;
use super::tray_actions::actions;
use crate::beadwork::{Sequence, Step};
use crate::progress::{
    Condition, Error, MakerSettings, Moment, PieceSummary, PlainText, Settings, Tray, Value,
};
use crate::screen::background_task::BackgroundTask;
use crate::screen::layer::{Busy, Choice, Context, Exit, Flow, Layer, Opener, keys, opener};
use crate::screen::look::{Ground, Look};
use crate::screen::phrases;
use crate::screen::run::PatternOffer;
use crate::screen::settings;
use crate::screen::solid::SmallPicture;
use crate::screen::widgets::{Filter, ListRow, Scroll, bold, choices, rows, text};
use ratatui::prelude::{Buffer, Line, Rect, Style};
use std::path::{Path, PathBuf};
use unicode_width::UnicodeWidthStr as _;

pub const OPENER: Opener<TrayState> = opener!(TrayState; "tray" "" [] "" |_, _| Flow::Lowest; TrayList::table, || super::tray_actions::ACTIONS, || super::tray_actions::NAME, || super::free_start::ASKED);

/// Takes in a piece from a file, and returns its name, or says why it cannot.
pub type TakeIn = fn(&Tray, &Path) -> Result<String, String>;

/// A piece as a sequence, and how far it is worked; or a pattern as a sequence.
/// `None` if it cannot be read.
pub type LookAt = fn(&Tray, Choice) -> Option<(Sequence, Option<Step>)>;

/// What lies in the tray.
pub struct TrayState {
    /// Where the pieces lie.
    pub tray: Tray,
    /// How a piece is taken in from a file.
    pub take_in: TakeIn,
    /// How a line is read for its picture.
    pub look_at: LookAt,
    /// The pieces, the last worked on first.
    pub pieces: Vec<PieceSummary>,
    /// Pieces that are put away.
    pub away: Vec<PieceSummary>,
    /// Patterns to begin.
    pub patterns: Vec<PatternOffer>,
    /// The message about the last action.
    pub said: String,
    /// The time of the last action.
    pub now: Moment,
    /// The look of the terminal.
    pub look: Look,
    /// The file with the maker's settings for all pieces, if the platform has a
    /// place for it.
    pub settings_file: Option<PathBuf>,
    /// The settings in that file.
    pub settings: Settings,
}

impl TrayState {
    /// Reads the pieces and settings again.
    ///
    /// # Errors
    /// When the tray or the settings cannot be read.
    pub fn read(&mut self) -> Result<(), Error> {
        if let Some(file) = &self.settings_file {
            self.settings = MakerSettings::open(file)?.settings();
        }
        self.pieces = self.tray.pieces()?;
        self.away = self.tray.away().pieces()?;
        Ok(())
    }

    /// After something was done with a piece: back to the updated list.
    pub fn did(&mut self, done: String) -> Flow<TrayState> {
        self.said = match self.read() {
            Ok(()) => done,
            Err(error) => error.to_string(),
        };
        Flow::Lowest
    }
}

impl Context for TrayState {
    fn screens() -> &'static [Opener<TrayState>] {
        super::OF_THE_TRAY
    }

    fn lies_on(&mut self, ground: Ground) {
        self.look.ground = ground;
    }

    fn look(&self) -> Look {
        settings::look(self.look, &self.settings)
    }

    fn settings(&self) -> &Settings {
        &self.settings
    }

    fn can_set(&self) -> (bool, bool) {
        (true, false)
    }

    fn set_for_all(&mut self, name: &'static str, value: Value) -> Option<String> {
        let Some(file) = &self.settings_file else {
            return Some("There is no directory here that keeps settings.".into());
        };
        let set = MakerSettings::open(file).and_then(|mut maker| {
            maker.set(name, value)?;
            Ok(maker.settings())
        });
        match set {
            Ok(settings) => self.settings = settings,
            Err(error) => return Some(error.to_string()),
        }
        None
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
        text::band(area, buf, " Your tray", self.look().bar());
    }

    fn word(&self, _lowest: bool, _width: u16) -> Option<(String, Style)> {
        let said = Some(&self.said).filter(|said| !said.is_empty());
        said.map(|said| (said.clone(), self.look().alarm()))
    }

    fn explained(&self) -> Vec<Line<'static>> {
        ABOUT.map(Line::from).to_vec()
    }
}

/// What the tray is.
const ABOUT: [&str; 3] = [
    "The tray holds your pieces, the last worked on first, and below them patterns to begin.",
    "Enter opens the piece or begins the pattern that is chosen. Every piece keeps its own copy of its pattern, \
     your place in it, and your notes.",
    "Nothing is ever deleted: a piece that is put away stands at the end of the list and can be brought back.",
];

/// A line of the tray that can be chosen.
struct TrayLine<'a> {
    /// The heading above the lines of its kind.
    group: &'static str,
    title: String,
    /// The name of a piece, where others have the same title.
    name: String,
    piece: Option<&'a PieceSummary>,
    /// What it opens or begins; nothing if it is put away.
    choice: Option<Choice>,
    about: Option<String>,
}

impl TrayState {
    /// Pieces, patterns, pieces put away.
    fn lines(&self) -> impl Iterator<Item = TrayLine<'_>> {
        let pieces = self.pieces.iter().map(|piece| TrayLine {
            group: " Pieces",
            title: piece.title.to_string(),
            name: own_name(piece, &self.pieces),
            piece: Some(piece),
            choice: Some(Choice::Piece(piece.name.clone())),
            about: match &piece.condition {
                Condition::Sound => None,
                Condition::Damaged(damage) => Some(damage.to_string()),
                Condition::Newer(version) => Some(format!(
                    "This piece is of format {version}, newer than this program: it is left alone."
                )),
                Condition::Unreadable(why) => Some(why.clone()),
            },
        });
        let patterns = self
            .patterns
            .iter()
            .enumerate()
            .map(|(at, offer)| TrayLine {
                group: " Begin a new piece",
                title: match offer.about.lines().next() {
                    None | Some("") => offer.title.clone(),
                    Some(about) => format!("{}: {about}", offer.title),
                },
                name: String::new(),
                piece: None,
                choice: Some(Choice::Pattern(at)),
                about: Some(offer.about.clone()),
            });
        let away = self.away.iter().map(|piece| TrayLine {
            group: " Put away",
            title: piece.title.to_string(),
            name: own_name(piece, &self.away),
            piece: Some(piece),
            choice: None,
            about: Some("Put away; d brings it back.".into()),
        });
        pieces.chain(patterns).chain(away)
    }

    /// A piece as a question calls it: `'Star'`, or `'Star' (star-2)` if others
    /// have the same title.
    pub fn called(&self, piece: &PieceSummary) -> String {
        let is_away = self.away.iter().any(|away| away.dir == piece.dir);
        let beside = if is_away { &self.away } else { &self.pieces };
        format!("'{}'{}", piece.title, own_name(piece, beside))
    }
}

/// The name of a piece behind its title, if several pieces have that title.
fn own_name(piece: &PieceSummary, pieces: &[PieceSummary]) -> String {
    let alike = pieces.iter().filter(|other| other.title == piece.title);
    match alike.count() {
        1 => String::new(),
        _ => format!(" ({})", PlainText::new(&piece.name)),
    }
}

impl TrayLine<'_> {
    fn words(&self) -> String {
        format!("{}{}", self.title, self.name)
    }

    /// The same in this many columns: the title is shortened rather than the
    /// name, and the name at its front, as the numbers stand at the ends.
    fn fitted(&self, room: usize) -> String {
        let left = room.saturating_sub(self.name.width());
        match left {
            _ if self.name.is_empty() => text::fit(&self.title, room),
            0..LEAST_TITLE => text::fit_end(self.name.trim_start(), room),
            _ => text::fit(&self.title, left) + &self.name,
        }
    }
}

pub struct TrayList {
    /// The chosen line, among those that pass the filter.
    scroll: Scroll,
    filter: Filter,
    /// The picture of a line, once it is drawn.
    picture: Option<(Choice, BackgroundTask<Option<SmallPicture>>)>,
}

/// The size of the picture, and the width from which there is room for it.
const PICTURE: (u16, u16) = (44, 22);
const WIDE: u16 = 110;

impl Layer<TrayState> for TrayList {
    keys! { TrayState, "The tray" [scroll filter] opens ["help" "words" "settings"];
        choose "Enter space right" ["Enter open"] "open the piece or begin the pattern"
        more "d" ["d more"] "give the piece another name, copy it to a file, put it away or bring it back; take in a piece from a file"
        free "n" ["n no pattern"] "begin a piece without a pattern: a ring, a string or a strip, and its name" => |_| Flow::open(free_asked(None));
        ..
        tour "e" ["e beginner's tour"] "take the beginner's tour" => |_| Flow::Leave(Exit::Open(Choice::Tour));
        quit "q" ["q quit"] "end" => |_| Flow::Leave(Exit::Quit);
        stay "Esc" [] "nothing is open to close: q ends" => |_| Flow::Stay;
    }

    fn lines(&self, tray: &TrayState) -> Vec<Line<'static>> {
        let words = self.rows(tray).into_iter().map(|row| row.words());
        choices(tray.look(), self.scroll.at, words)
    }

    fn spoken(&self, tray: &TrayState) -> Vec<Line<'static>> {
        let rows = self.rows(tray).into_iter().skip(self.scroll.at);
        rows.map(|row| Line::from(row.words())).collect()
    }

    fn edited(&mut self, tray: &TrayState) {
        self.scroll = Scroll::list(0, self.rows(tray).len());
    }

    fn tick(&mut self, _tray: &mut TrayState) -> Busy {
        let waiting = |(_, task): &mut (Choice, BackgroundTask<_>)| task.look();
        Busy::waiting(self.picture.as_mut().is_some_and(waiting))
    }

    fn draw(&mut self, tray: &TrayState, mut area: Rect, buf: &mut Buffer) {
        if area.width >= WIDE && area.height > PICTURE.1 {
            let beside = text::last_columns(area, PICTURE.0);
            area.width -= PICTURE.0;
            self.draw_picture(tray, beside, buf);
        }
        // A piece may have been added or removed since.
        let rows_now = self.rows(tray).len();
        self.scroll = Scroll::list(self.scroll.at.min(rows_now.saturating_sub(1)), rows_now);
        let about = self.about(tray, area.width, area.height / 3);
        let foot = area.height - about.len() as u16;
        for (row, line) in (foot..).zip(&about) {
            let space = text::inset(rows(area, row, 1), 1);
            text::line(space, buf, line, tray.look().quiet());
        }
        self.draw_lines(tray, rows(area, 0, foot), buf);
    }
}

impl TrayList {
    /// With the first line chosen.
    pub fn new(tray: &TrayState) -> TrayList {
        let mut list = TrayList {
            scroll: Scroll::new(),
            filter: Filter::default(),
            picture: None,
        };
        list.edited(tray);
        list
    }

    /// The lines that pass the filter.
    fn rows<'a>(&self, tray: &'a TrayState) -> Vec<TrayLine<'a>> {
        let lines = tray.lines();
        lines
            .filter(|line| self.filter.fits(&line.words()))
            .collect()
    }

    fn chosen<'a>(&self, tray: &'a TrayState) -> Option<TrayLine<'a>> {
        self.rows(tray).into_iter().nth(self.scroll.at)
    }

    /// The picture of the chosen line, as soon as it is drawn.
    fn draw_picture(&mut self, tray: &TrayState, area: Rect, buf: &mut Buffer) {
        let Some(chosen) = self.chosen(tray).and_then(|line| line.choice) else {
            return;
        };
        if self.picture.as_ref().is_none_or(|(of, _)| *of != chosen) {
            let (look_at, tray, of) = (tray.look_at, tray.tray.clone(), chosen.clone());
            let task = BackgroundTask::begin(move || {
                let (seq, worked) = look_at(&tray, of)?;
                Some(SmallPicture::of(seq, worked, PICTURE))
            });
            self.picture = Some((chosen, task));
        }
        if let Some((_, task)) = &self.picture
            && let Some(Some(picture)) = task.get()
        {
            picture.draw(tray.look(), area, buf);
        }
    }

    fn choose(&mut self, tray: &mut TrayState) -> Flow<TrayState> {
        match self.chosen(tray).map(|line| line.choice) {
            Some(Some(choice)) => Flow::Leave(Exit::Open(choice)),
            Some(None) => self.more(tray),
            None => Flow::Stay,
        }
    }

    fn more(&mut self, tray: &mut TrayState) -> Flow<TrayState> {
        let chosen = self.chosen(tray);
        let is_away = chosen.as_ref().is_some_and(|line| line.choice.is_none());
        actions(tray, chosen.and_then(|line| line.piece), is_away)
    }

    /// What there is to say about the chosen line, row by row.
    fn about(&self, tray: &TrayState, width: u16, most: u16) -> Vec<String> {
        let Some(words) = self.chosen(tray).and_then(|line| line.about) else {
            return vec![];
        };
        let rows = text::wrap(&words, width.saturating_sub(2)).into_iter();
        rows.take(most.into()).map(String::from).collect()
    }

    fn draw_lines(&mut self, tray: &TrayState, area: Rect, buf: &mut Buffer) {
        let (look, plain) = (tray.look(), Style::new());
        let (mut lines, mut here) = (vec![], None);
        if tray.pieces.is_empty() {
            let words = " No pieces yet. Choose a pattern and begin one.";
            lines.push(ListRow::new(words, bold()));
        }
        let mut heading = "";
        let shown = self.rows(tray);
        let columns = Columns::of(&shown, tray.now, area.width);
        for (at, row) in shown.into_iter().enumerate() {
            if heading != row.group {
                if !lines.is_empty() {
                    lines.push(ListRow::new("", plain));
                }
                lines.push(ListRow::new(row.group, look.seat()));
                heading = row.group;
            }
            let (right, style) = match row.piece {
                Some(piece) => piece_words(piece, look, tray.now, columns),
                None => (String::new(), plain),
            };
            if at == self.scroll.at {
                here = Some(lines.len());
            }
            let room = usize::from(area.width).saturating_sub(right.width() + 1 + INDENT);
            let left = format!("{:INDENT$}{}", "", row.fitted(room));
            let row = ListRow::new(left, style);
            lines.push(ListRow { right, ..row });
        }
        let shown = (lines.len(), here);
        self.scroll
            .rows(look, area, buf, shown, |nth| lines[nth].clone());
    }
}

/// What stands at the right of a piece, and the style of its line.
fn piece_words(piece: &PieceSummary, look: Look, now: Moment, columns: Columns) -> (String, Style) {
    match &piece.condition {
        Condition::Newer(version) => {
            let words = format!("of a newer format ({version}): left alone ");
            (words, look.quiet())
        }
        Condition::Unreadable(why) => (format!("cannot be read: {why} "), look.quiet()),
        Condition::Damaged(_) => {
            let words = "its journal is damaged: opening mends it ";
            (words.into(), look.alarm_words())
        }
        Condition::Sound => (progress(piece, look, now, columns), Style::new()),
    }
}

/// Columns before each line.
const INDENT: usize = 3;
/// The fewest columns in which a part of a title says something.
const LEAST_TITLE: usize = 4;
/// The columns of a title that come before those of the bar.
const TITLE: usize = 24;
/// The widest bar, the narrowest that says something, and what follows it.
const BAR: usize = 16;
const LEAST_BAR: usize = 4;
const PERCENT: usize = " 100 %".len();
/// The widest time; a longer one takes of its own title.
const WHEN: usize = 21;

/// How wide the columns of progress and time are; 0 where they are left out.
#[derive(Clone, Copy)]
struct Columns {
    bar: usize,
    when: usize,
}

impl Columns {
    /// The times as wide as they are, and a bar in what the titles leave.
    fn of(lines: &[TrayLine], now: Moment, width: u16) -> Columns {
        if width < 60 {
            return Columns { bar: 0, when: 0 };
        }
        let pieces = || lines.iter().filter(|line| line.piece.is_some());
        let times = pieces().filter_map(|line| line.piece?.last_worked);
        let when = times.map(|at| phrases::ago(at, now).width()).max();
        let when = when.unwrap_or(0).min(WHEN);
        let titles = pieces().map(|line| line.title.width().min(TITLE) + line.name.width());
        let taken = INDENT + titles.max().unwrap_or(0) + 1 + PERCENT + 2 + when + 1;
        let bar = usize::from(width).saturating_sub(taken).min(BAR);
        let bar = if bar < LEAST_BAR { 0 } else { bar };
        Columns { bar, when }
    }
}

fn progress(piece: &PieceSummary, look: Look, now: Moment, columns: Columns) -> String {
    let Columns { bar, when } = columns;
    let (step, steps) = (u64::from(piece.step), piece.steps.map(u64::from));
    let percent = steps.map(|steps| step * 100 / steps.max(1));
    let progress = match steps.zip(percent) {
        _ if piece.finished => "finished".to_string(),
        Some((steps, percent)) if bar > 0 => {
            let bar = text::bar(look.signs().bar, step, steps, bar);
            format!("{bar} {percent:3} %")
        }
        Some((_, percent)) => format!("{percent} %"),
        None => format!("step {step}"),
    };
    if when == 0 {
        return format!("{progress} ");
    }
    let ago = piece.last_worked.map(|at| phrases::ago(at, now));
    format!("{progress}  {:>when$} ", ago.unwrap_or_default())
}
