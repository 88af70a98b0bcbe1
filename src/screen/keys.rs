//! The keys: one table, from which come what a key does, the bar at the foot
//! of the screen, the help and docs/keys.md. So all four are true.

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// Where the maker is: what a key means depends on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// Stitching.
    Stitch,
    /// The card shown when a piece that rested is opened, or a new one.
    Card,
    /// A count being typed.
    Count,
    /// The answer to a count.
    Answer,
    /// A place to go to being typed.
    Jump,
    /// A note being written.
    Note,
    /// The overview of the piece.
    Overview,
    /// The settings.
    Settings,
    /// The help.
    Help,
    /// The tray.
    Tray,
}

impl Place {
    /// All places, with their names.
    #[cfg(test)]
    const ALL: [(Place, &'static str); 10] = [
        (Place::Stitch, "Stitching"),
        (Place::Card, "A piece is opened"),
        (Place::Count, "Counting"),
        (Place::Answer, "The answer to a count"),
        (Place::Jump, "Going to a place"),
        (Place::Note, "Writing a note"),
        (Place::Overview, "Overview"),
        (Place::Settings, "Settings"),
        (Place::Help, "Help"),
        (Place::Tray, "The tray"),
    ];

    fn takes_text(self) -> bool {
        matches!(self, Place::Jump | Place::Note | Place::Count)
    }
}

/// What a key does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// One step on.
    Forward,
    /// One step back.
    Back,
    /// A letter typed.
    Type(char),
    /// The last letter taken away.
    Erase,
    /// Yes: go on, choose, send.
    Choose,
    /// Out of here.
    Leave,
    /// Up a line.
    Up,
    /// Down a line.
    Down,
    /// Up a page.
    PageUp,
    /// Down a page.
    PageDown,
    /// The count for the side or the round.
    Count,
    /// The side or the whole round.
    Whole,
    /// Overview.
    Overview,
    /// Go to a job, a round, a step.
    Jump,
    /// Back to where the last jump began.
    WayBack,
    /// Write a note on this step.
    Note,
    /// Left hand or right.
    Hand,
    /// The beads of this movement one at a time.
    OneAtATime,
    /// Help.
    Help,
    /// Settings.
    Settings,
    /// To the tray.
    Tray,
    /// End the program.
    Quit,
    /// Into the background, as Ctrl-Z does.
    Suspend,
}

/// One line of the table.
pub struct Binding {
    places: &'static [Place],
    keys: &'static [Key],
    action: Action,
    /// The keys in words.
    pub named: &'static str,
    /// A word for the bar, if it is worth its room there.
    pub bar: Option<(&'static str, &'static str)>,
    /// What it does, for the help.
    pub does: &'static str,
}

enum Key {
    Code(KeyCode),
    Char(char),
    Ctrl(char),
}

use Action::*;
use Place::{Answer, Card, Jump as JumpTo, Stitch, Tray as TheTray};

const ANYWHERE: &[Place] = &[
    Stitch,
    Card,
    Place::Count,
    Answer,
    JumpTo,
    Place::Note,
    Place::Overview,
    Place::Settings,
    Place::Help,
    TheTray,
];
const LISTS: &[Place] = &[Place::Overview, Place::Settings, Place::Help, TheTray];
const DIALOGS: &[Place] = &[
    Place::Count,
    JumpTo,
    Place::Note,
    Place::Overview,
    Place::Settings,
    Place::Help,
];

/// The table. The bar shows its words in this order, as many as there is room
/// for.
pub const TABLE: &[Binding] = &[
    Binding {
        places: &[Stitch],
        keys: &[
            Key::Char(' '),
            Key::Code(KeyCode::Enter),
            Key::Code(KeyCode::Right),
            Key::Code(KeyCode::PageDown),
        ],
        action: Forward,
        named: "space, Enter, right arrow, PageDown",
        bar: Some(("space", "on")),
        does: "the movement is made: one step on. Held down it goes on and on; a foot pedal types one of these",
    },
    Binding {
        places: &[Stitch],
        keys: &[
            Key::Code(KeyCode::Backspace),
            Key::Code(KeyCode::Left),
            Key::Code(KeyCode::PageUp),
        ],
        action: Back,
        named: "Backspace, left arrow, PageUp",
        bar: Some(("bksp", "back")),
        does: "one step back",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('?'), Key::Code(KeyCode::F(1))],
        action: Help,
        named: "?, F1",
        bar: Some(("?", "help")),
        does: "what this movement is, where you are, and all keys",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('c')],
        action: Count,
        named: "c, or the number itself",
        bar: Some(("0-9", "count")),
        does: "compare a count with what must be there: type the number, then Enter",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('o')],
        action: Overview,
        named: "o",
        bar: Some(("o", "overview")),
        does: "the piece by its jobs, with your notes; from there to any of them",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('g')],
        action: Jump,
        named: "g",
        bar: Some(("g", "go to")),
        does: "go to a step (a number), a job (j3) or a round (r5, j3 r5)",
    },
    Binding {
        places: &[Stitch, Place::Overview],
        keys: &[Key::Char('b')],
        action: WayBack,
        named: "b",
        bar: Some(("b", "way back")),
        does: "back to where you were before you went to a place",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('n')],
        action: Note,
        named: "n",
        bar: Some(("n", "note")),
        does: "write a note on this step; an empty one takes it away",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('x')],
        action: OneAtATime,
        named: "x",
        bar: Some(("x", "one at a time")),
        does: "take the beads of this movement one at a time, when the needle does not go through all at once",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('s')],
        action: Settings,
        named: "s",
        bar: Some(("s", "settings")),
        does: "what rings the bell, your hand, colours",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('l')],
        action: Hand,
        named: "l",
        bar: Some(("l", "hand")),
        does: "mirror picture and directions for the left hand, and back",
    },
    Binding {
        places: &[Stitch],
        keys: &[Key::Char('t'), Key::Code(KeyCode::Esc)],
        action: Tray,
        named: "t, Esc",
        bar: Some(("t", "tray")),
        does: "put the piece away and look at the tray",
    },
    Binding {
        places: &[Card, Answer],
        keys: &[
            Key::Char(' '),
            Key::Code(KeyCode::Enter),
            Key::Code(KeyCode::Right),
            Key::Code(KeyCode::PageDown),
            Key::Code(KeyCode::Esc),
        ],
        action: Leave,
        named: "space, Enter, Esc",
        bar: Some(("space", "go on")),
        does: "go on stitching",
    },
    Binding {
        places: &[Card],
        keys: &[Key::Char('t')],
        action: Tray,
        named: "t",
        bar: Some(("t", "tray")),
        does: "put the piece away again",
    },
    Binding {
        places: &[Card],
        keys: &[Key::Char('?')],
        action: Help,
        named: "?",
        bar: Some(("?", "help")),
        does: "help and all keys",
    },
    Binding {
        places: &[Answer],
        keys: &[Key::Char('c')],
        action: Count,
        named: "c",
        bar: Some(("c", "count again")),
        does: "count again",
    },
    Binding {
        places: LISTS,
        keys: &[Key::Code(KeyCode::Up), Key::Char('k')],
        action: Up,
        named: "up arrow, k",
        bar: None,
        does: "up a line",
    },
    Binding {
        places: LISTS,
        keys: &[Key::Code(KeyCode::Down), Key::Char('j')],
        action: Down,
        named: "down arrow, j",
        bar: Some(("up/down", "move")),
        does: "down a line",
    },
    Binding {
        places: LISTS,
        keys: &[Key::Code(KeyCode::PageUp)],
        action: PageUp,
        named: "PageUp",
        bar: None,
        does: "up a page",
    },
    Binding {
        places: LISTS,
        keys: &[Key::Code(KeyCode::PageDown)],
        action: PageDown,
        named: "PageDown",
        bar: None,
        does: "down a page",
    },
    Binding {
        places: &[Place::Count, JumpTo, Place::Note],
        keys: &[Key::Code(KeyCode::Enter)],
        action: Choose,
        named: "Enter",
        bar: Some(("Enter", "done")),
        does: "send what was typed",
    },
    Binding {
        places: &[Place::Overview, TheTray],
        keys: &[
            Key::Code(KeyCode::Enter),
            Key::Char(' '),
            Key::Code(KeyCode::Right),
        ],
        action: Choose,
        named: "Enter, space",
        bar: Some(("Enter", "go there")),
        does: "go there: to the job or note, or open the piece or begin the pattern",
    },
    Binding {
        places: &[Place::Settings],
        keys: &[Key::Code(KeyCode::Enter), Key::Char(' ')],
        action: Choose,
        named: "Enter, space",
        bar: Some(("Enter", "change")),
        does: "change the setting",
    },
    Binding {
        places: &[Place::Count, JumpTo, Place::Note],
        keys: &[Key::Code(KeyCode::Backspace), Key::Ctrl('h')],
        action: Erase,
        named: "Backspace",
        bar: None,
        does: "take away the last letter",
    },
    Binding {
        places: &[Place::Count],
        keys: &[Key::Code(KeyCode::Tab), Key::Char(' ')],
        action: Whole,
        named: "Tab, space",
        bar: Some(("Tab", "side or round")),
        does: "the count is that of the side, or of the whole round",
    },
    Binding {
        places: DIALOGS,
        keys: &[Key::Code(KeyCode::Esc)],
        action: Leave,
        named: "Esc",
        bar: Some(("Esc", "leave")),
        does: "back to the stitches",
    },
    Binding {
        places: &[Place::Overview, Place::Settings, Place::Help],
        keys: &[
            Key::Char('o'),
            Key::Char('s'),
            Key::Char('?'),
            Key::Char('q'),
            Key::Code(KeyCode::Backspace),
            Key::Code(KeyCode::Left),
        ],
        action: Leave,
        named: "the key that opened it, q, Backspace",
        bar: None,
        does: "back to the stitches",
    },
    Binding {
        places: &[Stitch, Card, TheTray],
        keys: &[Key::Char('q')],
        action: Quit,
        named: "q",
        bar: Some(("q", "quit")),
        does: "end; every step is kept already",
    },
    Binding {
        places: &[TheTray],
        keys: &[Key::Code(KeyCode::Esc)],
        action: Quit,
        named: "Esc",
        bar: None,
        does: "end",
    },
    Binding {
        places: ANYWHERE,
        keys: &[Key::Ctrl('c')],
        action: Quit,
        named: "Ctrl-C",
        bar: None,
        does: "end, from anywhere",
    },
    Binding {
        places: ANYWHERE,
        keys: &[Key::Ctrl('z')],
        action: Suspend,
        named: "Ctrl-Z",
        bar: None,
        does: "into the background, where the system knows that",
    },
];

impl Key {
    fn is(&self, event: &KeyEvent) -> bool {
        let ctrl = event.modifiers.contains(KeyModifiers::CONTROL);
        let alt = event.modifiers.contains(KeyModifiers::ALT);
        match self {
            Key::Code(code) => event.code == *code,
            Key::Char(c) => event.code == KeyCode::Char(*c) && !ctrl && !alt,
            Key::Ctrl(c) => event.code == KeyCode::Char(*c) && ctrl,
        }
    }
}

/// What a key does there.
pub fn action(place: Place, event: &KeyEvent) -> Option<Action> {
    let here = TABLE.iter().filter(|b| b.places.contains(&place));
    let bound = here.filter(|b| b.keys.iter().any(|k| k.is(event)));
    let found = bound.map(|b| b.action).next();
    let plain = !event
        .modifiers
        .intersects(KeyModifiers::CONTROL | KeyModifiers::ALT);
    match (found, event.code) {
        (Some(action), _) => Some(action),
        (None, KeyCode::Char(c)) if place.takes_text() && plain => Some(Type(c)),
        (None, KeyCode::Char(c)) if place == Stitch && c.is_ascii_digit() && plain => Some(Type(c)),
        _ => None,
    }
}

/// The bar's words there: key and what it does, the most needed first.
pub fn bar(place: Place) -> impl Iterator<Item = (&'static str, &'static str)> {
    let here = TABLE.iter().filter(move |b| b.places.contains(&place));
    here.filter_map(|b| b.bar)
}

/// The lines of the help there: keys and what they do.
pub fn help(place: Place) -> impl Iterator<Item = &'static Binding> {
    TABLE.iter().filter(move |b| b.places.contains(&place))
}

/// docs/keys.md, from the table.
#[cfg(test)]
fn manual() -> String {
    let mut out = String::from(
        "# Keys\n\nThis page is made from the table that the program itself goes by \
         (src/screen/keys.rs); a test sees to it that they agree.\n",
    );
    for (place, name) in Place::ALL {
        out.push_str(&format!(
            "\n## {name}\n\n| keys | what they do |\n|---|---|\n"
        ));
        for b in help(place) {
            out.push_str(&format!("| {} | {} |\n", b.named, b.does));
        }
    }
    out.push_str(
        "\nFoot pedals for turning pages type PageDown or an arrow, and so work at once.\n",
    );
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(code: KeyCode) -> KeyEvent {
        KeyEvent::new(code, KeyModifiers::NONE)
    }

    #[test]
    fn the_pedal_s_keys_all_go_on() {
        for code in [
            KeyCode::Char(' '),
            KeyCode::Enter,
            KeyCode::Right,
            KeyCode::PageDown,
        ] {
            assert_eq!(action(Stitch, &key(code)), Some(Forward));
        }
        for code in [KeyCode::Backspace, KeyCode::Left, KeyCode::PageUp] {
            assert_eq!(action(Stitch, &key(code)), Some(Back));
        }
    }

    /// Two lines of the table never want the same key in the same place.
    #[test]
    fn no_key_has_two_meanings() {
        for (place, name) in Place::ALL {
            let here: Vec<_> = help(place).collect();
            for (i, a) in here.iter().enumerate() {
                for b in &here[i + 1..] {
                    let same = |x: &Key, y: &Key| match (x, y) {
                        (Key::Code(x), Key::Code(y)) => x == y,
                        (Key::Char(x), Key::Char(y)) | (Key::Ctrl(x), Key::Ctrl(y)) => x == y,
                        _ => false,
                    };
                    let clash = a.keys.iter().any(|x| b.keys.iter().any(|y| same(x, y)));
                    assert!(!clash, "{name}: '{}' and '{}'", a.named, b.named);
                }
            }
        }
    }

    #[test]
    fn letters_are_text_where_text_is_typed() {
        assert_eq!(
            action(Place::Note, &key(KeyCode::Char('q'))),
            Some(Type('q'))
        );
        assert_eq!(
            action(Place::Note, &key(KeyCode::Char(' '))),
            Some(Type(' '))
        );
        assert_eq!(action(Stitch, &key(KeyCode::Char('7'))), Some(Type('7')));
        assert_eq!(action(Stitch, &key(KeyCode::Char('q'))), Some(Quit));
        let ctrl_c = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
        assert_eq!(action(Place::Note, &ctrl_c), Some(Quit));
    }

    #[test]
    fn the_page_about_keys_is_the_table() {
        let page = include_str!("../../docs/keys.md").replace("\r\n", "\n");
        if page != manual() {
            let path = std::env::temp_dir().join("threadmark-keys.md");
            let _ = std::fs::write(&path, manual());
            panic!("docs/keys.md differs from the table; what it should be: {path:?}");
        }
    }
}
