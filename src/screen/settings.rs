//! The settings that a maker can change, line by line.

use crate::plan::page::Unit;
use crate::plan::size::MM_PER_INCH;
use crate::progress::{PlainText, Settings, Value};
use crate::screen::bell;
use crate::screen::look::{Depth, Look};
use crate::screen::own_keys;
use crate::tracking::pace::Rest;

/// The setting for how many colours the maker wants.
pub const COLOURS: &str = "colours";
/// The setting for the unit of lengths: `mm` or `in`.
const UNIT: &str = "unit";
/// The setting for the terminal's background.
pub const GROUND: &str = "ground";
/// The setting for the command of the speech program.
pub const SAY: &str = "say";
/// The setting for how many spare beads are bought, percent.
pub const SPARE: &str = "spare-percent";

/// Minutes after which the maker is reminded to rest; 0 is never.
const REST_MINUTES: [i64; 5] = [30, 45, 60, 20, 0];
/// Choices for spare beads, percent.
const SPARES: [i64; 6] = [5, 10, 15, 20, 0, 2];

/// One line of the settings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SettingLine {
    /// Left hand or right.
    Hand,
    /// How many colours.
    Colours,
    /// Light or dark.
    Ground,
    /// What says everything aloud.
    Say,
    /// Keys of the maker's own.
    Keys,
    /// Whether a group of movements rings the bell.
    Bell(&'static str),
    /// When to remind of a rest.
    Rest,
    /// How many spare beads.
    Spare,
    /// Millimetres or inches.
    Unit,
}

pub const LINES: [SettingLine; 8 + bell::GROUPS.len()] = lines();

const fn lines() -> [SettingLine; 8 + bell::GROUPS.len()] {
    let mut lines = [SettingLine::Hand; 8 + bell::GROUPS.len()];
    lines[1] = SettingLine::Colours;
    lines[2] = SettingLine::Ground;
    let mut at = 0;
    while at < bell::GROUPS.len() {
        lines[at + 3] = SettingLine::Bell(bell::GROUPS[at].name);
        at += 1;
    }
    lines[at + 3] = SettingLine::Rest;
    lines[at + 4] = SettingLine::Spare;
    lines[at + 5] = SettingLine::Unit;
    lines[at + 6] = SettingLine::Say;
    lines[at + 7] = SettingLine::Keys;
    lines
}

/// The look of a terminal with the colours that are set.
pub fn look(terminal: Look, settings: &Settings) -> Look {
    let depth = match (terminal.depth, Depth::named(colours(settings))) {
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
    match settings.get(UNIT) {
        Some(Value::Text(name)) if name.as_str() == "in" => Unit::Inches,
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
    match unit(settings) {
        Unit::Millimetres => ThreadUnit {
            name: "cm",
            mm: 10.0,
        },
        Unit::Inches => ThreadUnit {
            name: "in",
            mm: MM_PER_INCH,
        },
    }
}

/// The next choice, for a line with a series of numbers or words.
pub fn next(line: SettingLine, settings: &Settings) -> Option<(&'static str, Value)> {
    let after = |row: &[i64], now: i64| {
        let at = row.iter().position(|n| *n == now);
        Value::Number(row[at.map_or(0, |at| (at + 1) % row.len())])
    };
    match line {
        SettingLine::Rest => {
            let now = i64::from(rest_minutes(settings));
            Some((Rest::SETTING, after(&REST_MINUTES, now)))
        }
        SettingLine::Spare => Some((SPARE, after(&SPARES, spare_percent(settings) as i64))),
        SettingLine::Unit => {
            let next = match unit(settings) {
                Unit::Millimetres => "in",
                Unit::Inches => "mm",
            };
            Some((UNIT, Value::Text(PlainText::new(next))))
        }
        SettingLine::Ground => {
            let next = match ground(settings) {
                "auto" => "light",
                "light" => "dark",
                _ => "auto",
            };
            Some((GROUND, Value::Text(PlainText::new(next))))
        }
        SettingLine::Hand
        | SettingLine::Colours
        | SettingLine::Bell(_)
        | SettingLine::Say
        | SettingLine::Keys => None,
    }
}

/// The name of the colours that are set: `auto` by default.
pub fn colours(settings: &Settings) -> &str {
    match settings.get(COLOURS) {
        Some(Value::Text(name)) if Depth::named(name.as_str()).is_some() => name.as_str(),
        _ => "auto",
    }
}

/// The background: `light`, `dark`, or `auto`, as the terminal answers.
fn ground(settings: &Settings) -> &str {
    match settings.get(GROUND) {
        Some(Value::Text(name)) => name.as_str(),
        _ => "auto",
    }
}

/// The next name.
pub fn next_colours(settings: &Settings) -> &'static str {
    let now = colours(settings);
    let at = Depth::ALL.iter().position(|(name, _)| *name == now);
    match at {
        None => Depth::ALL[0].0,
        Some(at) => Depth::ALL.get(at + 1).map_or("auto", |(name, _)| name),
    }
}

impl SettingLine {
    /// The name of the setting, and its value.
    pub fn words(self, settings: &Settings) -> (String, String) {
        let on = |is: bool| if is { "yes" } else { "no" }.to_string();
        match self {
            SettingLine::Hand => (
                "Mirrored for the left hand".into(),
                on(settings.left_handed()),
            ),
            SettingLine::Colours => (
                "Colours".into(),
                match colours(settings) {
                    "auto" => "as the terminal says".into(),
                    "none" => "none".into(),
                    "true" => "all (true colour)".into(),
                    n => n.to_string(),
                },
            ),
            SettingLine::Ground => (
                "Light or dark".into(),
                match ground(settings) {
                    "auto" => "as the terminal says".into(),
                    name => name.into(),
                },
            ),
            SettingLine::Say => (
                "Said aloud by".into(),
                match settings.get(SAY) {
                    Some(Value::Text(command)) if !command.as_str().is_empty() => {
                        command.as_str().into()
                    }
                    _ => "nothing".into(),
                },
            ),
            SettingLine::Keys => (
                "Keys of your own".into(),
                match own_keys::all(settings) {
                    keys if keys.is_empty() => "none".into(),
                    keys => {
                        let words = keys.into_iter().filter_map(own_keys::OwnKey::words);
                        words.collect::<Vec<_>>().join(", ")
                    }
                },
            ),
            SettingLine::Rest => (
                "Reminder to rest eyes and hands".into(),
                match rest_minutes(settings) {
                    0 => "off".into(),
                    n => format!("after {n} min"),
                },
            ),
            SettingLine::Spare => (
                "Spare beads, in the plan".into(),
                format!("{} %", spare_percent(settings)),
            ),
            SettingLine::Unit => (
                "Lengths".into(),
                match unit(settings) {
                    Unit::Millimetres => "mm, cm".into(),
                    Unit::Inches => "inches".into(),
                },
            ),
            SettingLine::Bell(name) => {
                let group = bell::GROUPS.iter().find(|g| g.name == name);
                let title = group.map_or(name, |g| g.title);
                (
                    format!("Bell before {title}"),
                    on(bell::is_on(settings, name)),
                )
            }
        }
    }
}
