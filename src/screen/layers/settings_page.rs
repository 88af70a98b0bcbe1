//! The settings: the maker's, for all pieces, or those of this piece.

use crate::progress::{Entry, PlainText, Setting, Value};
use crate::screen::bell;
use crate::screen::furniture::text::{self, rows};
use crate::screen::furniture::{Scroll, choice};
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::look::Ground;
use crate::screen::session::Session;
use crate::screen::settings::{self, LINES};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr as _;

pub const OPENER: Opener<Session> = opener!(Session; "settings" "s" ["s settings"] "what rings the bell, your hand, colours, units, what is said aloud, keys of your own" |_, _| Flow::open(SettingsPage::new()); SettingsPage);

/// Columns of a line at most.
const WIDEST: u16 = 84;

/// The settings.
pub struct SettingsPage {
    scroll: Scroll,
    /// Whether a change is for this piece only.
    of_piece: bool,
}

impl Layer<Session> for SettingsPage {
    keys! { Session, "Settings";
        change "Enter space" ["Enter change"] "change the setting"
        other "Tab" ["Tab all pieces or this"] "changes are for all your pieces, or for this piece only"
    }

    fn lines(&self, session: &Session) -> Vec<Line<'static>> {
        let line = |(at, line): (usize, &settings::SettingLine)| {
            let (what, how) = line.words(&session.piece.state().settings);
            choice(
                session.look(),
                at == self.scroll.at,
                &format!("{what}: {how}"),
            )
        };
        LINES.iter().enumerate().map(line).collect()
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn draw(&mut self, session: &Session, area: Rect, buf: &mut Buffer) {
        let look = session.look();
        text::line(area, buf, self.whose(session), look.quiet());
        // What is set stands at the right end of a line that is not too long.
        let area = Rect {
            width: area.width.min(WIDEST),
            ..rows(area, 1, area.height)
        };
        let from = self.scroll.from(LINES.len(), self.scroll.at, area.height);
        for (y, (at, line)) in (0..area.height).zip(LINES.iter().enumerate().skip(from)) {
            let (what, how) = line.words(&session.piece.state().settings);
            let style = match at == self.scroll.at {
                true => look.bar(),
                false => Style::new(),
            };
            let how = format!("[{how}]");
            let wide = usize::from(area.width).saturating_sub(how.width() + 4);
            let what = text::fit(&what, wide);
            text::band(
                rows(area, y, 1),
                buf,
                &format!("  {what:wide$} {how}"),
                style,
            );
        }
    }
}

impl SettingsPage {
    fn new() -> SettingsPage {
        let scroll = Scroll::list(0, LINES.len());
        SettingsPage {
            scroll,
            of_piece: false,
        }
    }

    fn whose(&self, session: &Session) -> &'static str {
        match self.of_piece || !session.piece.has_maker() {
            true => " Changes are kept with this piece:",
            false => " Changes are for all your pieces:",
        }
    }

    fn other(&mut self, session: &mut Session) -> Flow<Session> {
        self.of_piece = !self.of_piece;
        session.say(self.whose(session).trim().trim_end_matches(':'))
    }

    /// Sets it for all pieces; or for this one, if it has its own setting.
    fn set(&self, session: &mut Session, name: &'static str, value: Value) -> Flow<Session> {
        let ground = match &value {
            Value::Text(text) if name == settings::GROUND => Ground::named(text.as_str()),
            _ => None,
        };
        if let Some(ground) = ground {
            session.lies_on(ground);
        }
        let own = session.piece.state().settings.is_own(name) && session.piece.has_maker();
        if !self.of_piece
            && let Some(why) = session.set_for_all(name, value.clone())
        {
            return session.say(why);
        }
        if self.of_piece || own {
            session.record(Entry::set(name, value, session.now));
        }
        Flow::Stay
    }

    fn change(&mut self, session: &mut Session) -> Flow<Session> {
        let settings = &session.piece.state().settings;
        let (name, value) = match LINES[self.scroll.at] {
            settings::SettingLine::Hand => {
                (Setting::LEFT_HANDED, Value::Flag(!settings.left_handed()))
            }
            settings::SettingLine::Colours => {
                let next = PlainText::new(settings::next_colours(settings));
                (settings::COLOURS, Value::Text(next))
            }
            settings::SettingLine::Bell(name) => {
                let on = bell::switched(settings, name);
                let on = on.iter().map(|n| PlainText::new(n)).collect();
                (Setting::BELL, Value::Words(on))
            }
            settings::SettingLine::Say => return Flow::Screen("speech command"),
            settings::SettingLine::Keys => return Flow::Screen("own key"),
            line => match settings::next(line, settings) {
                Some(next) => next,
                None => return Flow::Stay,
            },
        };
        self.set(session, name, value)
    }
}
