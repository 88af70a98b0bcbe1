//! The look: every colour and every sign of the screen, in this one place.
//!
//! A terminal shows true colour, 256 colours, 16, or none. No meaning rests
//! on colour alone: a bead in place is a solid brick, one to come a hollow
//! one, and each bears its letter.

use super::glyphs::{self, Signs};
use crate::beadwork::Rgb;
use ratatui::style::{Color, Modifier, Style};
use std::cell::RefCell;

/// How many colours the terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// 16 million.
    True,
    /// 256.
    Indexed,
    /// The 16 of the first colour terminals.
    Sixteen,
    /// None: only bold, dim and reversed text.
    None,
}

impl Depth {
    /// All depths, with the words that name them in settings and flags.
    pub const ALL: [(&'static str, Depth); 4] = [
        ("true", Depth::True),
        ("256", Depth::Indexed),
        ("16", Depth::Sixteen),
        ("none", Depth::None),
    ];

    /// What the environment says of the terminal: `NO_COLOR` (not empty)
    /// first, then `COLORTERM`, then `TERM`.
    pub fn detect(variable: impl Fn(&str) -> Option<String>) -> Depth {
        let is_set = |name: &str| variable(name).is_some_and(|v| !v.is_empty());
        let term = variable("TERM").unwrap_or_default();
        if is_set("NO_COLOR") || term.is_empty() || term == "dumb" || term.ends_with("-m") {
            return Depth::None;
        }
        match variable("COLORTERM").as_deref() {
            Some("truecolor" | "24bit") => Depth::True,
            _ if term.contains("direct") => Depth::True,
            _ if term.contains("256") => Depth::Indexed,
            _ => Depth::Sixteen,
        }
    }

    /// The depth of that name.
    pub fn named(name: &str) -> Option<Depth> {
        Depth::ALL.iter().find(|(n, _)| *n == name).map(|(_, d)| *d)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        Depth::ALL[self as usize].0
    }
}

/// Whether the locale's letters are UTF-8: the first of `LC_ALL`, `LC_CTYPE`
/// and `LANG` that is set decides.
pub fn is_utf8(variable: impl Fn(&str) -> Option<String>) -> bool {
    let set = |name: &&str| variable(name).filter(|v| !v.is_empty());
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(set);
    locale.is_some_and(|l| {
        let l = l.to_ascii_lowercase();
        l.contains("utf-8") || l.contains("utf8")
    })
}

/// Colours and signs for one terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// How many colours there are.
    pub depth: Depth,
    /// Whether signs beyond ASCII can be shown.
    pub unicode: bool,
}

/// What stands out for the hands: the seat of the new bead, and all that is
/// to be noticed now.
const LAMP: Rgb = Rgb(255, 196, 64);
/// The bead that the needle goes into.
const ENTER: Rgb = Rgb(120, 220, 255);
/// Trouble.
const ALARM: Rgb = Rgb(214, 48, 49);
/// What is right.
const GOOD: Rgb = Rgb(96, 190, 110);
/// Lines and small print.
const QUIET: Rgb = Rgb(140, 140, 140);

thread_local! {
    /// What each colour asked for came to. A piece has a few, and every cell
    /// of every frame asks.
    static NEAREST: RefCell<Vec<(anstyle::RgbColor, u8)>> = const { RefCell::new(vec![]) };
}

/// The nearest of the 256, each looked for once.
fn nearest_of_256(exact: anstyle::RgbColor) -> u8 {
    NEAREST.with_borrow_mut(|known| {
        if let Some((_, index)) = known.iter().find(|(colour, _)| *colour == exact) {
            return *index;
        }
        let index = anstyle_lossy::rgb_to_xterm(exact).index();
        known.push((exact, index));
        index
    })
}

impl Look {
    /// The look for the environment's terminal.
    pub fn detect() -> Look {
        let variable = |name: &str| std::env::var(name).ok();
        Look {
            depth: Depth::detect(variable),
            unicode: is_utf8(variable),
        }
    }

    /// The nearest colour that the terminal has.
    pub fn colour(self, rgb: Rgb) -> Color {
        self.found(rgb, nearest_of_256)
    }

    /// The same, not kept in mind: for the very many colours of a picture.
    pub fn nearest(self, rgb: Rgb) -> Color {
        self.found(rgb, |exact| anstyle_lossy::rgb_to_xterm(exact).index())
    }

    fn found(self, rgb: Rgb, of_256: impl Fn(anstyle::RgbColor) -> u8) -> Color {
        let Rgb(r, g, b) = rgb;
        let exact = anstyle::RgbColor(r, g, b);
        match self.depth {
            Depth::True => Color::Rgb(r, g, b),
            Depth::Indexed => Color::Indexed(of_256(exact)),
            Depth::Sixteen => {
                let palette = anstyle_lossy::palette::VGA;
                let ansi = anstyle_lossy::rgb_to_ansi(exact, palette);
                Color::Indexed(anstyle::Ansi256Color::from_ansi(ansi).index())
            }
            Depth::None => Color::Reset,
        }
    }

    /// The colour as the terminal really shows it.
    fn shown(self, rgb: Rgb) -> Rgb {
        let palette = anstyle_lossy::palette::VGA;
        match self.colour(rgb) {
            Color::Indexed(index) => {
                let index = anstyle::Ansi256Color(index);
                let shown = anstyle_lossy::xterm_to_rgb(index, palette);
                Rgb(shown.r(), shown.g(), shown.b())
            }
            _ => rgb,
        }
    }

    fn on(self, back: Rgb, front: Rgb) -> Style {
        Style::new().bg(self.colour(back)).fg(self.colour(front))
    }

    /// Solid: letters on a ground of that colour.
    pub fn solid(self, ground: Rgb) -> Style {
        match self.depth {
            Depth::None => Style::new().add_modifier(Modifier::REVERSED),
            _ => {
                let front = if is_dark(self.shown(ground)) {
                    Rgb(255, 255, 255)
                } else {
                    Rgb(0, 0, 0)
                };
                self.on(ground, front)
            }
        }
    }

    /// The edge of a solid brick, so that it does not run into its neighbour.
    pub fn brick_edge(self, ground: Rgb) -> Style {
        match self.depth {
            Depth::None => Style::new().add_modifier(Modifier::REVERSED),
            Depth::Sixteen => self.solid(ground),
            _ => self.on(ground, shaded(self.shown(ground))),
        }
    }

    /// A bead that is still to come.
    pub fn hollow(self) -> Style {
        match self.depth {
            Depth::None => Style::new().add_modifier(Modifier::DIM),
            _ => Style::new().fg(self.colour(QUIET)),
        }
    }

    /// Text in a bead's colour, where its letter stands beside it.
    pub fn tinted(self, rgb: Rgb) -> Style {
        match self.depth {
            Depth::None => Style::new().add_modifier(Modifier::BOLD),
            _ => Style::new().fg(self.colour(rgb)),
        }
    }

    /// Where the new bead goes.
    pub fn seat(self) -> Style {
        self.bold(LAMP)
    }

    /// The bead that the needle goes into.
    pub fn enter(self) -> Style {
        match self.depth {
            Depth::None => bold(),
            _ => self.on(ENTER, Rgb(0, 0, 0)).add_modifier(Modifier::BOLD),
        }
    }

    /// Signs that point at the bead to enter, on the screen's own ground.
    pub fn enter_sign(self) -> Style {
        self.bold(ENTER)
    }

    /// The bead that the needle comes out of.
    pub fn needle(self) -> Style {
        match self.depth {
            Depth::None => bold(),
            _ => self
                .on(Rgb(250, 250, 250), Rgb(0, 0, 0))
                .add_modifier(Modifier::BOLD),
        }
    }

    /// What is announced one step ahead.
    pub fn ahead(self) -> Style {
        self.block(LAMP)
    }

    /// Trouble with keeping, or a count that is not right.
    pub fn alarm(self) -> Style {
        self.block(ALARM)
    }

    /// A count that is right.
    pub fn good(self) -> Style {
        self.block(GOOD)
    }

    /// Small print.
    pub fn quiet(self) -> Style {
        match self.depth {
            Depth::None => Style::new(),
            _ => Style::new().fg(self.colour(QUIET)),
        }
    }

    /// The line at the top and the names of keys.
    pub fn bar(self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED)
    }

    /// A part of a bar of progress that is done.
    pub fn done(self) -> Style {
        self.bold(LAMP)
    }

    fn bold(self, rgb: Rgb) -> Style {
        match self.depth {
            Depth::None => bold(),
            _ => bold().fg(self.colour(rgb)),
        }
    }

    fn block(self, rgb: Rgb) -> Style {
        match self.depth {
            Depth::None => bold().add_modifier(Modifier::REVERSED),
            _ => self.solid(rgb).add_modifier(Modifier::BOLD),
        }
    }

    /// The signs that the terminal can show.
    pub fn signs(self) -> &'static Signs {
        if self.unicode {
            &glyphs::FULL
        } else {
            &glyphs::ASCII
        }
    }

    /// A text with signs, in those that the terminal can show.
    pub fn letters(self, text: &str) -> String {
        self.signs().letters(text)
    }
}

fn bold() -> Style {
    Style::new().add_modifier(Modifier::BOLD)
}

/// How light a colour looks, 0 to 255 (the luma weights of ITU-R BT.601).
fn lightness(Rgb(r, g, b): Rgb) -> u32 {
    (299 * u32::from(r) + 587 * u32::from(g) + 114 * u32::from(b)) / 1000
}

fn is_dark(rgb: Rgb) -> bool {
    lightness(rgb) < 140
}

/// A shade that shows on the colour.
fn shaded(rgb: Rgb) -> Rgb {
    let Rgb(r, g, b) = rgb;
    if lightness(rgb) < 70 {
        let lighter = |c: u8| c / 2 + 110;
        Rgb(lighter(r), lighter(g), lighter(b))
    } else {
        let darker = |c: u8| (u16::from(c) * 5 / 10) as u8;
        Rgb(darker(r), darker(g), darker(b))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn env(pairs: &'static [(&str, &str)]) -> impl Fn(&str) -> Option<String> {
        |name| {
            let pair = pairs.iter().find(|(n, _)| *n == name);
            pair.map(|(_, v)| v.to_string())
        }
    }

    #[test]
    fn the_environment_says_how_many_colours_there_are() {
        let depth = |pairs| Depth::detect(env(pairs));
        assert_eq!(depth(&[("TERM", "vt100-m")]), Depth::None);
        assert_eq!(depth(&[("TERM", "xterm")]), Depth::Sixteen);
        assert_eq!(depth(&[("TERM", "xterm-256color")]), Depth::Indexed);
        let truly = &[("TERM", "xterm-256color"), ("COLORTERM", "truecolor")];
        assert_eq!(depth(truly), Depth::True);
        let none = &[
            ("TERM", "xterm-256color"),
            ("COLORTERM", "truecolor"),
            ("NO_COLOR", "1"),
        ];
        assert_eq!(depth(none), Depth::None);
        // The convention: an empty NO_COLOR is as good as none.
        assert_eq!(
            depth(&[("TERM", "xterm"), ("NO_COLOR", "")]),
            Depth::Sixteen
        );
        assert_eq!(depth(&[]), Depth::None);
    }

    #[test]
    fn the_first_locale_that_is_set_decides() {
        assert!(is_utf8(env(&[("LANG", "de_AT.UTF-8")])));
        assert!(!is_utf8(env(&[("LC_ALL", "C"), ("LANG", "de_AT.UTF-8")])));
        assert!(is_utf8(env(&[("LC_ALL", ""), ("LC_CTYPE", "C.utf8")])));
        assert!(!is_utf8(env(&[])));
    }

    #[test]
    fn no_colour_means_no_colour_at_all() {
        let look = Look {
            depth: Depth::None,
            unicode: true,
        };
        let red = Rgb(200, 0, 0);
        for style in [
            look.solid(red),
            look.brick_edge(red),
            look.hollow(),
            look.seat(),
            look.enter(),
            look.needle(),
            look.ahead(),
            look.alarm(),
            look.good(),
            look.quiet(),
            look.tinted(red),
        ] {
            assert!(style.fg.is_none() && style.bg.is_none(), "{style:?}");
        }
        // Done and to come differ all the same.
        assert_ne!(look.solid(red), look.hollow());
    }

    #[test]
    fn letters_stand_out_from_their_bead() {
        for depth in [Depth::True, Depth::Indexed, Depth::Sixteen] {
            let look = Look {
                depth,
                unicode: true,
            };
            assert_ne!(
                look.solid(Rgb(20, 20, 30)).fg,
                look.solid(Rgb(240, 240, 200)).fg
            );
            let style = look.solid(Rgb(90, 100, 120));
            assert_ne!(style.fg, style.bg);
        }
    }
}
