//! The settings, kept with the piece.

use crate::progress::{Entry, PlainText, Setting, Value};
use crate::screen::bell;
use crate::screen::furniture::text::{self, rows};
use crate::screen::furniture::{Scroll, choice};
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context as _, Flow, Layer, Opener};
use crate::screen::session::Session;
use crate::screen::settings::{self, LINES};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

pub const OPENER: Opener<Session> = opener!(Session; "settings" "s" ["s settings"] "what rings the bell, your hand, colours, units" |_, _| Flow::open(SettingsPage::new()); SettingsPage);

/// The settings.
pub struct SettingsPage {
    scroll: Scroll,
}

impl Layer<Session> for SettingsPage {
    keys! { Session, "Settings";
        change "Enter space" ["Enter change"] "change the setting"
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
        text::line(area, buf, " Kept with this piece:", look.quiet());
        let area = rows(area, 1, area.height);
        let from = self.scroll.from(LINES.len(), self.scroll.at, area.height);
        for (y, (at, line)) in (0..area.height).zip(LINES.iter().enumerate().skip(from)) {
            let (what, how) = line.words(&session.piece.state().settings);
            let style = match at == self.scroll.at {
                true => look.bar(),
                false => Style::new(),
            };
            let how = format!("[{how}]");
            let wide = usize::from(area.width)
                .saturating_sub(how.len() + 4)
                .min(60);
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
        SettingsPage { scroll }
    }

    fn change(&mut self, session: &mut Session) -> Flow<Session> {
        let (settings, now) = (&session.piece.state().settings, session.now);
        let entry = match LINES[self.scroll.at] {
            settings::SettingLine::Hand => {
                session.switch_hand();
                return Flow::Stay;
            }
            settings::SettingLine::Colours => {
                let next = PlainText::new(settings::next_colours(settings));
                Entry::set(settings::COLOURS, Value::Text(next), now)
            }
            settings::SettingLine::Bell(name) => {
                let on = bell::switched(settings, name);
                let on = on.iter().map(|n| PlainText::new(n)).collect();
                Entry::set(Setting::BELL, Value::Words(on), now)
            }
            line => match settings::next(line, settings) {
                Some((name, value)) => Entry::set(name, value, now),
                None => return Flow::Stay,
            },
        };
        session.record(entry);
        Flow::Stay
    }
}
