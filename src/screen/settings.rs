//! The settings that a maker can change, line by line.

use crate::progress::{Settings, Value};
use crate::screen::bell;
use crate::screen::look::Depth;

/// The setting of this name keeps how many colours the maker wants.
pub const COLOURS: &str = "colours";

/// One line of the settings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// Left hand or right.
    Hand,
    /// How many colours.
    Colours,
    /// Whether a group of movements rings the bell.
    Bell(&'static str),
}

/// The lines.
pub const LINES: [Line; 2 + bell::GROUPS.len()] = lines();

const fn lines() -> [Line; 2 + bell::GROUPS.len()] {
    let mut lines = [Line::Hand; 2 + bell::GROUPS.len()];
    lines[1] = Line::Colours;
    let mut at = 0;
    while at < bell::GROUPS.len() {
        lines[at + 2] = Line::Bell(bell::GROUPS[at].name);
        at += 1;
    }
    lines
}

/// The name of the colours that are set: `auto` if none were.
pub fn colours(settings: &Settings) -> &str {
    match settings.get(COLOURS) {
        Some(Value::Text(name)) if Depth::named(name.as_str()).is_some() => name.as_str(),
        _ => "auto",
    }
}

/// The name after it.
pub fn next_colours(settings: &Settings) -> &'static str {
    let now = colours(settings);
    let at = Depth::ALL.iter().position(|(name, _)| *name == now);
    match at {
        None => Depth::ALL[0].0,
        Some(at) => Depth::ALL.get(at + 1).map_or("auto", |(name, _)| name),
    }
}

impl Line {
    /// What the setting is, and how it is set.
    pub fn words(self, settings: &Settings) -> (String, String) {
        let on = |is: bool| if is { "yes" } else { "no" }.to_string();
        match self {
            Line::Hand => (
                "Mirrored for the left hand".into(),
                on(settings.left_handed()),
            ),
            Line::Colours => (
                "Colours".into(),
                match colours(settings) {
                    "auto" => "as the terminal says".into(),
                    "none" => "none".into(),
                    "true" => "all (true colour)".into(),
                    n => n.to_string(),
                },
            ),
            Line::Bell(name) => {
                let group = bell::GROUPS.iter().find(|g| g.name == name);
                let title = group.map_or(name, |g| g.title);
                (
                    format!("Bell one step before {title}"),
                    on(bell::is_on(settings, name)),
                )
            }
        }
    }
}
