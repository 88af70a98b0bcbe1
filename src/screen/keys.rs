//! Keys: every screen declares its own, one line each (see [`keys!`]). From
//! these lines come what a key does, the bar at the foot of the screen, the
//! help, what the plain mode understands, and docs/keys.md.

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// One line: keys that do the same thing.
#[derive(Debug, PartialEq, Eq)]
pub struct KeyLine {
    /// Its name, which is also the name of the screen's method that it runs.
    pub name: &'static str,
    /// The keys, separated by spaces: `space Enter right`. `0-9` is any digit;
    /// words that are not names of keys (`click`) are only for the reader.
    pub keys: &'static str,
    /// How the bar shows it, the key first: `space on`. Empty if it is not
    /// important enough for the bar.
    pub bar: &'static str,
    /// What it does, for the help.
    pub does: &'static str,
}

/// The keys of one screen.
#[derive(Debug, PartialEq, Eq)]
pub struct Keys {
    /// The name of the screen in docs/keys.md.
    pub title: &'static str,
    /// The lines, the most important first.
    pub lines: &'static [KeyLine],
    /// Lines less important than the keys that open other screens.
    pub rest: &'static [KeyLine],
}

/// The table of the keys of a screen: for each line a name, the keys, its words
/// on the bar, and what it does for the maker. Keys after `~` are read by the
/// screen itself; those after `..` are less important than the keys that open
/// other screens.
macro_rules! key_table {
    (@line $name:expr, $keys:literal [$($bar:literal)?] $does:literal) => {
        crate::screen::keys::KeyLine { name: $name, keys: $keys, bar: concat!($($bar)?), does: $does }
    };
    ($title:literal;
     $($name:ident $keys:literal $bar:tt $does:literal)*
     $(~ $letters:literal $shown:tt $means:literal)*
     $(.. $($rest:ident $rest_keys:literal $rest_bar:tt $rest_does:literal)*)?) => {
        crate::screen::keys::Keys {
            title: $title,
            lines: &[
                $(crate::screen::keys::key_table!(@line stringify!($name), $keys $bar $does),)*
                $(crate::screen::keys::key_table!(@line "typed", $letters $shown $means),)*
            ],
            rest: &[$($(crate::screen::keys::key_table!(@line stringify!($rest), $rest_keys $rest_bar $rest_does),)*)?],
        }
    };
}
pub(crate) use key_table;

/// Declares the keys of a screen inside its `impl Layer`: a [`key_table!`] in
/// which each name is that of the method that it runs, unless the code follows
/// after `=>`. An action that gives nothing back stays on the screen. Behind the
/// title are the fields of the layer that the stack handles (`scroll`, `entry`,
/// `filter`), whether it takes the `mouse` and whether it is a `page` after which
/// the plain mode goes on; and, unless they are help and words, the screens that
/// can be opened from it.
macro_rules! keys {
    (@act $layer:ident, $at:ident, $name:ident) => {
        crate::screen::layer::acted(|at| $layer.$name(at), $at)
    };
    (@act $layer:ident, $at:ident, $name:ident, $act:expr) => {
        crate::screen::layer::acted($act, $at)
    };
    (@part scroll) => {
        fn scroll(&mut self) -> Option<&mut crate::screen::widgets::Scroll> {
            Some(&mut self.scroll)
        }
    };
    (@part filter) => {
        fn filter(&mut self) -> Option<&mut crate::screen::widgets::Filter> {
            Some(&mut self.filter)
        }
    };
    (@part entry) => {
        fn entry(&mut self) -> Option<&mut crate::screen::widgets::TextEntry> {
            Some(&mut self.entry)
        }
    };
    (@part page) => {
        fn waits(&self) -> bool {
            false
        }
    };
    (@part mouse) => {
        fn takes_mouse(&self) -> bool {
            true
        }
    };
    ($context:ty, $title:literal $([$($part:ident)*])? $(opens [$($screen:literal)*])?;
     $($name:ident $keys:literal $bar:tt $does:literal $(=> $act:expr;)?)*
     $(~ $letters:literal $shown:tt $means:literal)*
     $(.. $($rest:ident $rest_keys:literal $rest_bar:tt $rest_does:literal $(=> $rest_act:expr;)?)*)?) => {
        fn table() -> &'static crate::screen::keys::Keys {
            const KEYS: crate::screen::keys::Keys = crate::screen::keys::key_table!($title;
                $($name $keys $bar $does)*
                $(~ $letters $shown $means)*
                $(.. $($rest $rest_keys $rest_bar $rest_does)*)?);
            &KEYS
        }

        $($(crate::screen::keys::keys!(@part $part);)*)?

        $(fn opens(&self, screen: &str) -> bool {
            [$($screen),*].contains(&screen)
        })?

        fn keys(&self) -> &'static crate::screen::keys::Keys {
            <Self as crate::screen::layer::Layer<$context>>::table()
        }

        fn run(&mut self, name: &str, context: &mut $context) -> crate::screen::layer::Flow<$context> {
            match name {
                $(_ if name == stringify!($name) => crate::screen::keys::keys!(@act self, context, $name $(, $act)?),)*
                $($(_ if name == stringify!($rest) => crate::screen::keys::keys!(@act self, context, $rest $(, $rest_act)?),)*)?
                _ => { let _ = context; crate::screen::layer::Flow::Stay }
            }
        }
    };
}
pub(crate) use keys;

/// Declares how a screen is opened: the name, the keys, words for the bar, what
/// it does, and the function that opens it; then the tables of its keys.
macro_rules! opener {
    ($context:ty; $name:literal $keys:literal $bar:tt $does:literal $open:expr; $($table:expr),*) => {
        crate::screen::layer::Opener {
            key: crate::screen::keys::key_table!(@line $name, $keys $bar $does),
            open: $open,
            #[cfg(test)]
            tables: &[$($table),*],
        }
    };
}
pub(crate) use opener;

/// The key of every screen that asks for what a change needs.
pub const LOOK: &[KeyLine] = key_table!("";
    choose "Enter" ["Enter look at it"] "what comes of it; nothing is changed yet")
.lines;

/// Keys that mean the same on every screen.
pub const EVERYWHERE: Keys = key_table!("";
    quit "Ctrl-C" [] "end, from anywhere"
    suspend "Ctrl-Z" [] "into the background, if the system can do that");

/// Keys of every screen that is open over another.
pub const BACK: Keys = key_table!("";
    back "Esc q Backspace" ["Esc back"] "back to what was open before; the key that opened this does the same");

/// The same where text is typed.
pub const CANCEL: Keys = key_table!(""; back "Esc" ["Esc back"] "back to what was open before");

/// Keys of every list and of every page that can be longer than the screen.
pub const SCROLLING: Keys = key_table!("";
    down "down" ["up/down move"] "down a line"
    up "up" [] "up a line"
    page_down "PageDown" [] "down a page"
    page_up "PageUp" [] "up a page"
    first "Home" [] "to the first line"
    last "End" [] "to the last line");

/// The key of every list that can be filtered.
pub const FINDING: Keys = key_table!("";
    find "/" ["/ find"] "only the lines that have the letters typed then; Esc shows all again");

/// Keys of every text field.
pub const TYPING: Keys = key_table!("";
    erase "Backspace Ctrl-H" [] "take away the last letter"
    clear "Ctrl-U" [] "take away all that is typed");

/// The key for help where letters are text.
pub const TYPED_HELP: Keys = key_table!("";
    help "F1" ["F1 help"] "what this screen shows, where you are, and all keys");

/// The key that ends the filter.
pub const FOUND: Keys = key_table!(""; found "Esc" ["Esc all lines"] "show all lines again");

impl Keys {
    /// A screen with these keys.
    pub const fn new(title: &'static str, lines: &'static [KeyLine]) -> Keys {
        let rest = &[];
        Keys { title, lines, rest }
    }

    /// All lines.
    pub fn all(&self) -> impl Iterator<Item = &'static KeyLine> + use<> {
        self.lines.iter().chain(self.rest)
    }

    /// The name of the line to which a key belongs.
    pub fn find(&self, event: &KeyEvent) -> Option<&'static str> {
        let found = self.all().find(|key| key.is(event));
        found.map(|key| key.name).filter(|name| *name != "typed")
    }
}

impl KeyLine {
    /// Whether an event is one of its keys.
    pub fn is(&self, event: &KeyEvent) -> bool {
        let ctrl = event.modifiers.contains(KeyModifiers::CONTROL);
        self.keys.split(' ').any(|word| {
            if let Some(letter) = word.strip_prefix("Ctrl-") {
                let letter = letter.to_ascii_lowercase().chars().next();
                return ctrl && letter.is_some_and(|c| event.code == KeyCode::Char(c));
            }
            match (word, letter(event)) {
                ("0-9", Some(c)) => c.is_ascii_digit(),
                ("A-Z", Some(c)) => c.is_ascii_uppercase(),
                (_, Some(c)) => code(word) == Some(KeyCode::Char(c)),
                _ => !matches!(event.code, KeyCode::Char(_)) && code(word) == Some(event.code),
            }
        })
    }

    /// The keys in words: `space, Enter, right arrow`.
    pub fn named(&self) -> String {
        let names = self.keys.split(' ').map(|word| match word {
            "left" | "right" | "up" | "down" => format!("{word} arrow"),
            "|" => "\\|".into(),
            _ => word.replace('_', " "),
        });
        names.collect::<Vec<_>>().join(", ")
    }

    /// The words on the bar: the key and what it does.
    pub fn on_bar(&self) -> Option<(&'static str, &'static str)> {
        self.bar.split_once(' ')
    }
}

/// The letter that an event types, if it types one.
pub fn letter(event: &KeyEvent) -> Option<char> {
    let held = KeyModifiers::CONTROL | KeyModifiers::ALT;
    match event.code {
        KeyCode::Char(c) if !event.modifiers.intersects(held) => Some(c),
        _ => None,
    }
}

/// Keys that are not letters, by their names.
const NAMED: [(&str, KeyCode); 16] = [
    ("space", KeyCode::Char(' ')),
    ("Enter", KeyCode::Enter),
    ("Esc", KeyCode::Esc),
    ("Tab", KeyCode::Tab),
    ("Shift-Tab", KeyCode::BackTab),
    ("Backspace", KeyCode::Backspace),
    ("left", KeyCode::Left),
    ("right", KeyCode::Right),
    ("up", KeyCode::Up),
    ("down", KeyCode::Down),
    ("PageUp", KeyCode::PageUp),
    ("PageDown", KeyCode::PageDown),
    ("Home", KeyCode::Home),
    ("End", KeyCode::End),
    ("Insert", KeyCode::Insert),
    ("Delete", KeyCode::Delete),
];

/// The key with a name: a letter, `F1` to `F24`, or a word.
pub fn code(word: &str) -> Option<KeyCode> {
    let mut letters = word.chars();
    if let (Some(c), None) = (letters.next(), letters.next()) {
        return Some(KeyCode::Char(c));
    }
    let number = word.strip_prefix(['F', 'f']).and_then(|n| n.parse().ok());
    if let Some(number @ 1..=24) = number {
        return Some(KeyCode::F(number));
    }
    let named = NAMED
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(word));
    named.map(|(_, code)| *code)
}

/// The name of a key, if it has one.
pub fn name(code: KeyCode) -> Option<String> {
    let named = NAMED.iter().find(|(_, named)| *named == code);
    match (named, code) {
        (Some((name, _)), _) => Some((*name).into()),
        (None, KeyCode::F(number @ 1..=24)) => Some(format!("F{number}")),
        (None, KeyCode::Char(c)) if !c.is_control() && !c.is_whitespace() => Some(c.into()),
        _ => None,
    }
}
