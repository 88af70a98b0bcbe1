//! The settings: the maker's settings for all pieces, or those of this piece.

use crate::progress::{PlainText, Setting, Value};
use crate::screen::bell;
use crate::screen::furniture::text::{self, rows};
use crate::screen::furniture::{Scroll, choice};
use crate::screen::keys::{keys, opener};
use crate::screen::layer::{Context, Flow, Layer, Opener};
use crate::screen::look::Ground;
use crate::screen::settings::{self, LINES};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr as _;

/// How it is opened, from the stitches and from the tray.
pub const fn opener<C: Context>() -> Opener<C> {
    opener!(C; "settings" "s" ["s settings"] "what rings the bell, your hand, colours, units, what is said aloud, keys of your own" |_, context| Flow::open(SettingsPage::new(context.can_set())); SettingsPage)
}

/// The most columns of a line.
const WIDEST: u16 = 84;

pub struct SettingsPage {
    scroll: Scroll,
    /// Whether a change is for this piece only.
    of_piece: bool,
    /// Whether the maker can choose between the two.
    has_choice: bool,
}

impl<C: Context> Layer<C> for SettingsPage {
    keys! { C, "Settings";
        change "Enter space" ["Enter change"] "change the setting"
        other "Tab" ["Tab all pieces or this"] "changes are for all your pieces, or for this piece only"
    }

    fn hides(&self, name: &str) -> bool {
        name == "other" && !self.has_choice
    }

    fn lines(&self, context: &C) -> Vec<Line<'static>> {
        let line = |(at, line): (usize, &settings::SettingLine)| {
            let (what, how) = line.words(context.settings());
            choice(
                context.look(),
                at == self.scroll.at,
                &format!("{what}: {how}"),
            )
        };
        LINES.iter().enumerate().map(line).collect()
    }

    fn scroll(&mut self) -> Option<&mut Scroll> {
        Some(&mut self.scroll)
    }

    fn draw(&mut self, context: &C, area: Rect, buf: &mut Buffer) {
        let look = context.look();
        text::line(area, buf, self.whose(), look.quiet());
        // The value is at the right end of a line that is not too long.
        let area = Rect {
            width: area.width.min(WIDEST),
            ..rows(area, 1, area.height)
        };
        let from = self.scroll.from(LINES.len(), self.scroll.at, area.height);
        for (y, (at, line)) in (0..area.height).zip(LINES.iter().enumerate().skip(from)) {
            let (what, how) = line.words(context.settings());
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
    fn new((all, one): (bool, bool)) -> SettingsPage {
        SettingsPage {
            scroll: Scroll::list(0, LINES.len()),
            of_piece: !all && one,
            has_choice: all && one,
        }
    }

    fn whose(&self) -> &'static str {
        match self.of_piece {
            true => " Changes are kept with this piece:",
            false => " Changes are for all your pieces:",
        }
    }

    fn other<C: Context>(&mut self, context: &mut C) -> Flow<C> {
        self.of_piece ^= self.has_choice;
        context.tell(self.whose().trim().trim_end_matches(':'));
        Flow::Stay
    }

    /// Sets it for all pieces, or for this one if it has its own setting.
    fn set<C: Context>(&self, context: &mut C, name: &'static str, value: Value) -> Flow<C> {
        let ground = match &value {
            Value::Text(text) if name == settings::GROUND => Ground::named(text.as_str()),
            _ => None,
        };
        if let Some(ground) = ground {
            context.lies_on(ground);
        }
        let own = context.settings().is_own(name);
        if !self.of_piece
            && let Some(why) = context.set_for_all(name, value.clone())
        {
            context.tell(&why);
            return Flow::Stay;
        }
        if self.of_piece || own {
            context.set_for_piece(name, value);
        }
        Flow::Stay
    }

    fn change<C: Context>(&mut self, context: &mut C) -> Flow<C> {
        let settings = context.settings();
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
        self.set(context, name, value)
    }
}
