//! The keys: one table, from which come what a key does, the bar at the foot
//! of the screen, the help and docs/keys.md. So all four are true.

mod face;
mod going;
mod mending;
mod solid;
mod table;
mod tour;

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
    /// The mend of a wrong count.
    Mend,
    /// A question about a lost place.
    Locate,
    /// A lost place that was found.
    Found,
    /// How far to unpick.
    Unpick,
    /// What unpicking takes.
    WayBack,
    /// Unpicking, movement by movement.
    Unpicking,
    /// The plan.
    Plan,
    /// Thread and time.
    Going,
    /// The length of a new thread being typed.
    Thread,
    /// The whole solid.
    Solid,
    /// The tray.
    Tray,
    /// A lesson of the tour.
    Lesson,
    /// The list of words to ask about.
    Words,
    /// A word explained.
    Word,
    /// The whole face.
    Face,
    /// The brush on it.
    Colouring,
    /// Where to write what is painted.
    WritePaint,
}

impl Place {
    /// All places, with their names.
    #[cfg(test)]
    const ALL: [(Place, &'static str); 26] = [
        (Place::Stitch, "Stitching"),
        (Place::Card, "A piece is opened"),
        (Place::Count, "Counting"),
        (Place::Answer, "The answer to a count"),
        (Place::Jump, "Going to a place"),
        (Place::Note, "Writing a note"),
        (Place::Overview, "Overview"),
        (Place::Settings, "Settings"),
        (Place::Help, "Help"),
        (Place::Mend, "Mending a wrong count"),
        (Place::Locate, "A lost place"),
        (Place::Found, "A lost place is found"),
        (Place::Unpick, "How far to unpick"),
        (Place::WayBack, "The way back"),
        (Place::Unpicking, "Unpicking"),
        (Place::Plan, "The plan"),
        (Place::Going, "Thread and time"),
        (Place::Thread, "A new thread"),
        (Place::Solid, "The whole solid"),
        (Place::Tray, "The tray"),
        (Place::Lesson, "A lesson of the tour"),
        (Place::Words, "Asking about a word"),
        (Place::Word, "A word explained"),
        (Place::Face, "The whole face"),
        (Place::Colouring, "Colouring on the whole face"),
        (Place::WritePaint, "Writing what is painted"),
    ];

    fn takes_digits(self) -> bool {
        matches!(self, Place::Stitch | Place::Word | Place::Locate)
    }

    fn takes_text(self) -> bool {
        matches!(
            self,
            Place::Jump
                | Place::Note
                | Place::Count
                | Place::Thread
                | Place::Unpick
                | Place::WritePaint
        )
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
    /// Ask about a word.
    Ask,
    /// The lesson on a page.
    Lesson,
    /// Leave the tour, or take it up.
    TourOnOff,
    /// All lessons again.
    TourAgain,
    /// The piece of the tour.
    Tour,
    /// Settings.
    Settings,
    /// The plan.
    Plan,
    /// To the next part of the plan.
    NextPart,
    /// To the part before.
    PartBefore,
    /// Millimetres or inches.
    Unit,
    /// Where am I.
    Locate,
    /// The answer cannot be told.
    CannotTell,
    /// The work does not look like this.
    NotThis,
    /// How far to unpick.
    Unpick,
    /// Keep what was counted, as stitched.
    Keep,
    /// Thread and time.
    Going,
    /// A new thread, and how long it is cut.
    NewThread,
    /// Something at the whole solid.
    Solid(super::solid::Do),
    /// To the tray.
    Tray,
    /// End the program.
    Quit,
    /// Into the background, as Ctrl-Z does.
    Suspend,
    /// Something at the whole face.
    Face(super::face::Do),
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

/// All lines. A bar shows its words in this order.
fn table() -> impl Iterator<Item = &'static Binding> {
    let rooms = tour::TABLE.iter().chain(mending::TABLE).chain(going::TABLE);
    rooms
        .chain(table::TABLE)
        .chain(face::TABLE)
        .chain(solid::TABLE)
}

/// What a key does there.
pub fn action(place: Place, event: &KeyEvent) -> Option<Action> {
    let here = table().filter(|b| b.places.contains(&place));
    let bound = here.filter(|b| b.keys.iter().any(|k| k.is(event)));
    let found = bound.map(|b| b.action).next();
    let plain = !event
        .modifiers
        .intersects(KeyModifiers::CONTROL | KeyModifiers::ALT);
    match (found, event.code) {
        (Some(action), _) => Some(action),
        (None, KeyCode::Char(c)) if place.takes_text() && plain => Some(Action::Type(c)),
        // The letters of beads; small ones are keys.
        (None, KeyCode::Char(c))
            if place == Place::Colouring
                && plain
                && c.is_alphabetic()
                && !c.is_ascii_lowercase() =>
        {
            Some(Action::Face(super::face::Do::Letter(c)))
        }
        (None, KeyCode::Char(c)) if place.takes_digits() && c.is_ascii_digit() && plain => {
            Some(Action::Type(c))
        }
        _ => None,
    }
}

/// The bar's words there: key and what it does, the most needed first.
pub fn bar(place: Place) -> impl Iterator<Item = (&'static str, &'static str)> {
    let here = table().filter(move |b| b.places.contains(&place));
    here.filter_map(|b| b.bar)
}

/// The lines of the help there: keys and what they do.
pub fn help(place: Place) -> impl Iterator<Item = &'static Binding> {
    table().filter(move |b| b.places.contains(&place))
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
    use super::Action::*;
    use super::Place::Stitch;
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
