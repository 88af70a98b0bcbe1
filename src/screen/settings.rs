//! The settings that a maker can change, line by line: what each is called, what
//! it is now and what comes next.

use crate::beadwork::Kind;
use crate::plan::page::Unit;
use crate::plan::size::MM_PER_INCH;
use crate::progress::{PlainText, Setting, Settings, Value};
use crate::screen::keys;
use crate::screen::look::{Depth, Look};
use crate::tracking::pace::Rest;
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// The setting for how many colours the maker wants.
const COLOURS: &str = "colours";
/// The setting for the unit of lengths: `mm` or `in`.
const UNIT: &str = "unit";
/// The setting for the terminal's background.
pub const GROUND: &str = "ground";
/// The setting for the command of the speech program.
pub const SAY: &str = "say";
/// The setting for how many spare beads are bought, percent.
const SPARE: &str = "spare-percent";
/// The setting for the maker's own keys.
pub const KEYS: &str = "keys";

/// Minutes after which the maker is reminded to rest; 0 is never.
const REST_MINUTES: [i64; 5] = [30, 45, 60, 20, 0];
/// Choices for spare beads, percent.
const SPARES: [i64; 6] = [5, 10, 15, 20, 0, 2];

/// One line of the settings.
pub struct SettingLine {
    pub title: String,
    /// What is set, in words.
    pub now: String,
    /// The setting and its next value; or the name of the screen that asks for
    /// it.
    pub next: Result<(&'static str, Value), &'static str>,
}

/// All lines.
pub fn lines(settings: &Settings) -> Vec<SettingLine> {
    let left_handed = settings.left_handed();
    let mut lines = vec![
        SettingLine {
            title: "Mirrored for the left hand".into(),
            now: yes_or_no(left_handed),
            next: Ok((Setting::LEFT_HANDED, Value::Flag(!left_handed))),
        },
        one_of(
            (settings, COLOURS),
            "Colours",
            &[
                ("auto", "as the terminal says"),
                ("true", "all (true colour)"),
                ("256", "256"),
                ("16", "16"),
                ("none", "none"),
            ],
        ),
        one_of(
            (settings, GROUND),
            "Light or dark",
            &[
                ("auto", "as the terminal says"),
                ("light", "light"),
                ("dark", "dark"),
            ],
        ),
    ];
    lines.extend(BELL_GROUPS.iter().map(|group| bell(settings, group)));
    let rest = |minutes| match minutes {
        0 => "off".into(),
        minutes => format!("after {minutes} min"),
    };
    let spare = |percent| format!("{percent} %");
    let command = text(settings, SAY).filter(|command| !command.is_empty());
    let keys: Vec<String> = own_keys(settings).filter_map(OwnKey::words).collect();
    let keys = Some(keys.join(", ")).filter(|keys| !keys.is_empty());
    lines.extend([
        number(
            (settings, Rest::SETTING),
            "Reminder to rest eyes and hands",
            &REST_MINUTES,
            rest,
        ),
        number(
            (settings, SPARE),
            "Spare beads, in the plan",
            &SPARES,
            spare,
        ),
        unit_line(settings),
        SettingLine {
            title: "Said aloud by".into(),
            now: command.unwrap_or("nothing").into(),
            next: Err("speech command"),
        },
        SettingLine {
            title: "Keys of your own".into(),
            now: keys.unwrap_or("none".into()),
            next: Err("own key"),
        },
    ]);
    lines
}

/// The line for the unit of lengths.
pub fn unit_line(settings: &Settings) -> SettingLine {
    let units = [("mm", "mm, cm"), ("in", "inches")];
    one_of((settings, UNIT), "Lengths", &units)
}

/// One of several texts, each with its words; the first by default.
fn one_of(
    (settings, name): (&Settings, &'static str),
    title: &str,
    all: &[(&str, &str)],
) -> SettingLine {
    let now = text(settings, name);
    let at = all.iter().position(|(text, _)| Some(*text) == now);
    let at = at.unwrap_or(0);
    let (next, _) = all[(at + 1) % all.len()];
    SettingLine {
        title: title.into(),
        now: all[at].1.into(),
        next: Ok((name, Value::Text(PlainText::new(next)))),
    }
}

/// A number, said in words; the first of those offered by default.
fn number(
    (settings, name): (&Settings, &'static str),
    title: &str,
    all: &[i64],
    say: fn(i64) -> String,
) -> SettingLine {
    let now = settings.number(name).unwrap_or(all[0]);
    let at = all.iter().position(|n| *n == now);
    let next = at.map_or(0, |at| (at + 1) % all.len());
    SettingLine {
        title: title.into(),
        now: say(now),
        next: Ok((name, Value::Number(all[next]))),
    }
}

/// Whether a group of movements rings the bell. Names of groups from a newer
/// version are kept.
fn bell(settings: &Settings, (name, title, _): &BellGroup) -> SettingLine {
    let mut on = settings.bell().unwrap_or_default();
    let at = on.iter().position(|group| group == name);
    match at {
        Some(at) => drop(on.remove(at)),
        None => on.push(name),
    }
    SettingLine {
        title: format!("Bell before {title}"),
        now: yes_or_no(at.is_some()),
        next: Ok((Setting::BELL, words(on))),
    }
}

fn yes_or_no(is: bool) -> String {
    if is { "yes" } else { "no" }.into()
}

/// The text that is set.
pub fn text<'a>(settings: &'a Settings, name: &str) -> Option<&'a str> {
    match settings.get(name) {
        Some(Value::Text(text)) => Some(text.as_str()),
        _ => None,
    }
}

fn words<'a>(words: impl IntoIterator<Item = &'a str>) -> Value {
    Value::Words(words.into_iter().map(PlainText::new).collect())
}

/// The look of a terminal with the colours that are set.
pub fn look(terminal: Look, settings: &Settings) -> Look {
    let depth = match (
        terminal.depth,
        text(settings, COLOURS).and_then(Depth::named),
    ) {
        // NO_COLOR and similar variables override the setting.
        (Depth::None, _) | (_, None) => terminal.depth,
        (_, Some(depth)) => depth,
    };
    Look { depth, ..terminal }
}

/// After how many minutes of work to remind of a rest; 0 is never.
pub fn rest_minutes(settings: &Settings) -> u32 {
    let set = settings.number(Rest::SETTING).unwrap_or(REST_MINUTES[0]);
    set.clamp(0, 24 * 60) as u32
}

/// Spare beads, percent.
pub fn spare_percent(settings: &Settings) -> f64 {
    let set = settings.number(SPARE).unwrap_or(SPARES[0]);
    set.clamp(0, 1000) as f64
}

/// The unit of lengths.
pub fn unit(settings: &Settings) -> Unit {
    match text(settings, UNIT) {
        Some("in") => Unit::Inches,
        _ => Unit::Millimetres,
    }
}

/// The unit in which thread is measured.
pub struct ThreadUnit {
    /// Its short name.
    pub name: &'static str,
    /// Its length, mm.
    pub mm: f64,
}

impl ThreadUnit {
    /// A length, never rounded up: whole, or in tenths if it is short.
    pub fn say(&self, mm: f64) -> String {
        let long = mm / self.mm + 1e-6;
        let told = match long < 10.0 {
            true => (long * 10.0).floor() / 10.0,
            false => long.floor(),
        };
        format!("{told} {}", self.name)
    }
}

/// The unit in which thread is measured: cm, or inches.
pub fn thread_unit(settings: &Settings) -> ThreadUnit {
    let (name, mm) = match unit(settings) {
        Unit::Millimetres => ("cm", 10.0),
        Unit::Inches => ("in", MM_PER_INCH),
    };
    ThreadUnit { name, mm }
}

/// A group of movements before which the bell can ring: its name in the
/// settings, its title on the screen, and the kinds of movements.
type BellGroup = (&'static str, &'static str, &'static [Kind]);

const BELL_GROUPS: [BellGroup; 9] = [
    (
        "decrease",
        "corners and gaps without a bead",
        &[Kind::Decrease],
    ),
    ("increase", "increases and corner pairs", &[Kind::Increase]),
    ("step-up", "step-ups", &[Kind::StepUp]),
    ("step-down", "step-downs", &[Kind::StepDown]),
    (
        "pass-through",
        "sewing through, closing, reinforcing",
        &[Kind::PassThrough, Kind::Close, Kind::Firm],
    ),
    ("zip", "zips and folds", &[Kind::Zip, Kind::Fold]),
    (
        "thread",
        "thread that ends and begins",
        &[Kind::StartThread, Kind::EndThread],
    ),
    ("count", "counts asked for", &[Kind::Count]),
    ("own", "steps of your own", &[Kind::Own, Kind::BreakOut]),
];

/// Whether the bell rings one step ahead of a kind of movement, if it is `on` for
/// these groups.
pub fn rings(on: &[&str], kind: Kind) -> bool {
    let group = BELL_GROUPS.iter().find(|(.., kinds)| kinds.contains(&kind));
    group.is_some_and(|(name, ..)| on.contains(name))
}

/// A key of the maker's own that does the work of another, for example a foot
/// pedal. They are stored as words, `End as space`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OwnKey {
    pub pressed: KeyCode,
    /// The key whose work it does.
    pub stands_for: KeyCode,
}

impl OwnKey {
    /// Reads `End as space`. Esc cannot be changed.
    fn read(words: &str) -> Option<OwnKey> {
        let (pressed, stands_for) = words.split_once(" as ")?;
        let (pressed, stands_for) = (keys::code(pressed)?, keys::code(stands_for)?);
        (pressed != KeyCode::Esc).then_some(OwnKey {
            pressed,
            stands_for,
        })
    }

    /// In the words that are stored, if both keys have names.
    fn words(self) -> Option<String> {
        let (pressed, stands_for) = (keys::name(self.pressed)?, keys::name(self.stands_for)?);
        Some(format!("{pressed} as {stands_for}"))
    }
}

/// The keys that are set.
fn own_keys(settings: &Settings) -> impl Iterator<Item = OwnKey> {
    let words = settings.words(KEYS).unwrap_or_default();
    words.into_iter().filter_map(OwnKey::read)
}

/// These keys and a new one, as they are stored; a key that stands for itself
/// is removed.
pub fn with_key(settings: &Settings, new: OwnKey) -> Value {
    let others = own_keys(settings).filter(|key| key.pressed != new.pressed);
    let new = (new.pressed != new.stands_for).then_some(new);
    let all: Vec<String> = others.chain(new).filter_map(OwnKey::words).collect();
    words(all.iter().map(String::as_str))
}

/// The key whose work a pressed key does: its own, unless the maker has given
/// it another's.
pub fn stands_for(settings: &Settings, event: KeyEvent) -> KeyEvent {
    let held = KeyModifiers::CONTROL | KeyModifiers::ALT;
    match own_keys(settings).find(|key| key.pressed == event.code) {
        Some(own) if !event.modifiers.intersects(held) => own.stands_for.into(),
        _ => event,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read_again() {
        for (pressed, stands_for) in [
            (KeyCode::PageDown, KeyCode::Char(' ')),
            (KeyCode::F(9), KeyCode::Backspace),
            (KeyCode::Char('='), KeyCode::Char('a')),
            (KeyCode::Char(' '), KeyCode::End),
        ] {
            let key = OwnKey {
                pressed,
                stands_for,
            };
            assert_eq!(OwnKey::read(&key.words().unwrap()), Some(key));
        }
        for words in ["Esc as space", "space", "Hyper as space", ""] {
            assert_eq!(OwnKey::read(words), None, "{words}");
        }
    }
}
