//! The settings: the maker's settings for all pieces, or those of this piece;
//! the speech program, and keys of the maker's own.

use super::menu::Prompt;
use crate::progress::{PlainText, Value};
use crate::screen::keys::{self, Keys, key_table, keys, opener};
use crate::screen::layer::{Context, Flow, Layer, Opener};
use crate::screen::look::Ground;
use crate::screen::settings::{self, OwnKey, SAY};
use crate::screen::widgets::{ListRow, Scroll, TextEntry, choices, rows, text};
use ratatui::crossterm::event::{KeyCode, KeyEvent};
use ratatui::prelude::{Buffer, Line, Rect, Style};

/// How it is opened, from the stitches and from the tray.
pub const fn opener<C: Context>() -> Opener<C> {
    opener!(C; "settings" "s" ["s settings"] "what rings the bell, your hand, colours, units, what is said aloud, keys of your own" |_, context| Flow::open(SettingsPage::new(context)); <SettingsPage as Layer<C>>::table)
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
    keys! { C, "Settings" [scroll];
        change "Enter space" ["Enter change"] "change the setting"
        other "Tab" ["Tab all pieces or this"] "changes are for all your pieces, or for this piece only"
    }

    fn hides(&self, name: &str) -> bool {
        name == "other" && !self.has_choice
    }

    fn lines(&self, context: &C) -> Vec<Line<'static>> {
        let lines = settings::lines(context.settings());
        let words = lines
            .iter()
            .map(|line| format!("{}: {}", line.title, line.now));
        choices(context.look(), self.scroll.at, words)
    }

    fn draw(&mut self, context: &C, area: Rect, buf: &mut Buffer) {
        let look = context.look();
        text::line(area, buf, self.whose(), look.quiet());
        // The value is at the right end of a line that is not too long.
        let area = text::columns(rows(area, 1, area.height), 0, WIDEST);
        let lines = settings::lines(context.settings());
        let shown = (lines.len(), Some(self.scroll.at));
        let row = |nth: usize| ListRow {
            right: format!("[{}] ", lines[nth].now),
            ..ListRow::new(format!("  {}", lines[nth].title), Style::new())
        };
        self.scroll.rows(look, area, buf, shown, row);
    }
}

impl SettingsPage {
    fn new<C: Context>(context: &C) -> SettingsPage {
        let (all, one) = context.can_set();
        SettingsPage {
            scroll: Scroll::list(0, settings::lines(context.settings()).len()),
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

    fn other<C: Context>(&mut self, context: &mut C) {
        self.of_piece ^= self.has_choice;
        context.tell(self.whose().trim().trim_end_matches(':'));
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
        let mut lines = settings::lines(context.settings());
        match lines.swap_remove(self.scroll.at).next {
            Ok((name, value)) => self.set(context, name, value),
            Err(screen) => Flow::Screen(screen),
        }
    }
}

/// How the command of the speech program is asked for, from the settings.
pub const fn speech_command<C: Context>() -> Opener<C> {
    opener!(C; "speech command" "" [] "" |_, context| ask_command(context); || COMMAND)
}

const COMMAND: &Keys = &key_table!("The speech program";
    keep "Enter" ["Enter done"] "keep the command; without one nothing is read aloud");

/// The longest command.
const LONGEST: usize = 300;

/// Asks for the command, starting with the one that is set.
fn ask_command<C: Context>(context: &C) -> Flow<C> {
    let old = settings::text(context.settings(), SAY).unwrap_or_default();
    let asks = |_: &C, _: &str| ("Command that reads aloud what it gets:", "");
    let keep = |context: &mut C, typed: &str| {
        let command = PlainText::new(typed.trim());
        let failed = context.set_for_all(SAY, Value::Text(command));
        context.tell(&failed.unwrap_or("It is used from the next start of the program.".into()));
        Ok(Flow::Close)
    };
    let entry = TextEntry::text(LONGEST).with(old);
    Flow::open(Prompt::new(COMMAND, entry, asks, keep))
}

/// How a key of the maker's own is asked for, from the settings.
pub const fn own_key<C: Context>() -> Opener<C> {
    opener!(C; "own key" "" [] "" |_, _| Flow::open(OwnKeyAsked::default()); <OwnKeyAsked as Layer<C>>::table)
}

/// Asks for two keys: the next key pressed, then the key whose work it should
/// do.
#[derive(Default)]
pub struct OwnKeyAsked {
    pressed: Option<KeyCode>,
}

impl<C: Context> Layer<C> for OwnKeyAsked {
    keys! { C, "A key of your own";
        ~ "any_key" [] "the key to be used, then the key whose work it does; the same key twice gives it back its own"
    }

    fn lines(&self, _context: &C) -> Vec<Line<'static>> {
        let words = match self.pressed.and_then(keys::name) {
            None => {
                "Press the key that you want to use, for example that of a pedal. Esc: none.".into()
            }
            Some(pressed) => format!(
                "{pressed}: now press the key whose work it does; {pressed} again gives it back its own."
            ),
        };
        vec![Line::from(words)]
    }

    fn is_box(&mut self) -> bool {
        true
    }

    fn takes_every_key(&self) -> bool {
        true
    }

    fn opens(&self, _screen: &str) -> bool {
        false
    }

    fn other(&mut self, event: &KeyEvent, context: &mut C) -> Option<Flow<C>> {
        let code = event.code;
        match (self.pressed, keys::name(code)) {
            (None, _) if code == KeyCode::Esc => None,
            (_, None) => {
                context.tell("This key has no name here, so it cannot be used.");
                Some(Flow::Stay)
            }
            (None, Some(_)) => {
                self.pressed = Some(code);
                Some(Flow::Stay)
            }
            (Some(pressed), Some(stands_for)) => {
                let key = OwnKey {
                    pressed,
                    stands_for: code,
                };
                let value = settings::with_key(context.settings(), key);
                let pressed = keys::name(pressed).unwrap_or_default();
                let said = match pressed == stands_for {
                    true => format!("{pressed} does its own work again."),
                    false => format!("{pressed} does the work of {stands_for} now."),
                };
                let failed = context.set_for_all(settings::KEYS, value);
                context.tell(&failed.unwrap_or(said));
                Some(Flow::Close)
            }
        }
    }
}
