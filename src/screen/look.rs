//! The look: every colour and every sign of the screen, all in this file.
//!
//! A terminal shows true colour, 256 colours, 16, or none, on a dark or a light
//! background. Nothing depends on colour alone: a bead in place is a solid
//! brick, one to come a hollow one, and each shows its letter.
//!
//! On both backgrounds text has a contrast of 4.5 : 1 and marks of 3 : 1
//! (relative luminance, Web Content Accessibility Guidelines 2).

use crate::beadwork::Rgb;
use palette::Srgb;
use palette::color_difference::Wcag21RelativeContrast as _;
use ratatui::prelude::{Color, Modifier, Style};
use std::cell::RefCell;
use supports_color::Stream;

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
    /// All depths, with their names in settings and flags.
    pub const ALL: [(&'static str, Depth); 4] = [
        ("true", Depth::True),
        ("256", Depth::Indexed),
        ("16", Depth::Sixteen),
        ("none", Depth::None),
    ];

    /// How strong light and shade are in a picture, 0 to 1: with few colours a
    /// shade would be mistaken for another colour.
    pub fn shading(self) -> f64 {
        match self {
            Depth::True | Depth::None => 1.0,
            Depth::Indexed => 0.5,
            Depth::Sixteen => 0.0,
        }
    }

    /// What the environment and the system's list of terminals say about this
    /// terminal. `NO_COLOR` (not empty) comes first, then `CLICOLOR_FORCE` (not
    /// 0), then `CLICOLOR=0`.
    pub fn detect() -> Depth {
        let is_set = |name, off: &str| std::env::var_os(name).is_some_and(|v| v != off);
        let is_off = std::env::var_os("CLICOLOR").is_some_and(|v| v == "0");
        if is_set("NO_COLOR", "") || is_off && !is_set("CLICOLOR_FORCE", "0") {
            return Depth::None;
        }
        let Some(level) = supports_color::on(Stream::Stdout) else {
            return Depth::None;
        };
        if level.has_16m {
            return Depth::True;
        }
        let listed = termini::TermInfo::from_env().ok();
        let is_listed = |name| {
            listed
                .as_ref()
                .is_some_and(|l| l.extended_cap(name).is_some())
        };
        let colours = |l: &termini::TermInfo| l.number_cap(termini::NumberCapability::MaxColors);
        match listed.as_ref().and_then(colours) {
            _ if is_listed("RGB") || is_listed("Tc") => Depth::True,
            Some(256..) => Depth::Indexed,
            _ if level.has_256 => Depth::Indexed,
            _ => Depth::Sixteen,
        }
    }

    /// The depth with that name.
    pub fn named(name: &str) -> Option<Depth> {
        Depth::ALL.iter().find(|(n, _)| *n == name).map(|(_, d)| *d)
    }
}

/// The terminal's background.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ground {
    /// Light letters on dark.
    #[default]
    Dark,
    /// Dark letters on light.
    Light,
}

impl Ground {
    /// The background with that name: `light` or `dark`.
    pub fn named(name: &str) -> Option<Ground> {
        match name {
            "light" => Some(Ground::Light),
            "dark" => Some(Ground::Dark),
            _ => None,
        }
    }

    /// The background of this colour: it is light if black text reads better on
    /// it.
    pub fn of(rgb: Rgb) -> Ground {
        match better_letters(rgb) {
            BLACK => Ground::Light,
            _ => Ground::Dark,
        }
    }
}

/// Colours and signs for one terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// How many colours there are.
    pub depth: Depth,
    /// Whether signs beyond ASCII can be shown.
    pub unicode: bool,
    /// Its background.
    pub ground: Ground,
}

const BLACK: Rgb = Rgb(0, 0, 0);
const WHITE: Rgb = Rgb(255, 255, 255);

/// The colours that are not beads, for one background.
struct Palette {
    /// What stands out for the work: the place of the new bead, and everything
    /// to notice now.
    lamp: Rgb,
    /// The bead that the needle enters.
    enter: Rgb,
    /// The bead that the needle leaves.
    needle: Rgb,
    /// Trouble.
    alarm: Rgb,
    /// Lines and small print.
    quiet: Rgb,
}

const ON_DARK: Palette = Palette {
    lamp: Rgb(255, 196, 64),
    enter: Rgb(120, 220, 255),
    needle: WHITE,
    alarm: Rgb(255, 120, 110),
    quiet: Rgb(168, 168, 168),
};

const ON_LIGHT: Palette = Palette {
    lamp: Rgb(140, 72, 0),
    enter: Rgb(0, 90, 140),
    needle: BLACK,
    alarm: Rgb(176, 24, 28),
    quiet: Rgb(90, 90, 90),
};

thread_local! {
    /// The result for each colour asked for. A piece has a few colours, and
    /// every cell of every frame asks.
    static NEAREST: RefCell<Vec<(anstyle::RgbColor, u8)>> = const { RefCell::new(vec![]) };
    static LETTERS: RefCell<Vec<(Rgb, Rgb)>> = const { RefCell::new(vec![]) };
}

/// The result for a colour, worked out once.
fn known<C: Copy + PartialEq, T: Copy>(known: &mut Vec<(C, T)>, of: C, found: fn(C) -> T) -> T {
    if let Some((_, found)) = known.iter().find(|(colour, _)| *colour == of) {
        return *found;
    }
    let found = found(of);
    known.push((of, found));
    found
}

fn nearest_of_256(exact: anstyle::RgbColor) -> u8 {
    let nearest = |exact| anstyle_lossy::rgb_to_xterm(exact).index();
    NEAREST.with_borrow_mut(|all| known(all, exact, nearest))
}

impl Look {
    /// The look for this terminal, from the environment; its background is not
    /// known yet.
    pub fn detect() -> Look {
        Look {
            depth: Depth::detect(),
            unicode: supports_unicode::on(supports_unicode::Stream::Stdout),
            ground: Ground::Dark,
        }
    }

    fn palette(self) -> &'static Palette {
        match self.ground {
            Ground::Dark => &ON_DARK,
            Ground::Light => &ON_LIGHT,
        }
    }

    /// The nearest colour that the terminal has.
    pub fn colour(self, rgb: Rgb) -> Color {
        self.found(rgb, nearest_of_256)
    }

    /// The same, but not remembered: for the very many colours of a picture.
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

    /// Solid: letters on a background of that colour.
    pub fn solid(self, ground: Rgb) -> Style {
        match self.depth {
            Depth::None => Style::new().add_modifier(Modifier::REVERSED),
            _ => self.on(ground, letters_on(self.shown(ground))),
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
            _ => Style::new().fg(self.colour(self.palette().quiet)),
        }
    }

    /// The place of the new bead.
    pub fn seat(self) -> Style {
        self.mark(self.palette().lamp)
    }

    /// The bead that the needle enters.
    pub fn enter(self) -> Style {
        self.mark_in_a_bead(self.palette().enter)
    }

    /// Signs that point to the bead to enter, on the screen's own background.
    pub fn enter_sign(self) -> Style {
        self.mark(self.palette().enter)
    }

    /// The bead that the needle leaves.
    pub fn needle(self) -> Style {
        self.mark_in_a_bead(self.palette().needle)
    }

    /// A mark. With 16 colours any colour may be a bead's, so a mark has none.
    fn mark(self, rgb: Rgb) -> Style {
        match self.depth {
            Depth::None | Depth::Sixteen => bold(),
            _ => bold().fg(self.colour(rgb)),
        }
    }

    fn mark_in_a_bead(self, rgb: Rgb) -> Style {
        match self.depth {
            Depth::None | Depth::Sixteen => bold(),
            _ => self.solid(rgb).add_modifier(Modifier::BOLD),
        }
    }

    /// What is announced one step ahead.
    pub fn ahead(self) -> Style {
        self.block(self.palette().lamp)
    }

    /// A problem with saving, or a count that is wrong.
    pub fn alarm(self) -> Style {
        self.block(self.palette().alarm)
    }

    /// The same without a background.
    pub fn alarm_words(self) -> Style {
        self.mark(self.palette().alarm)
    }

    /// Small print.
    pub fn quiet(self) -> Style {
        match self.depth {
            Depth::None => Style::new(),
            _ => Style::new().fg(self.colour(self.palette().quiet)),
        }
    }

    /// The line at the top and the names of keys.
    pub fn bar(self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED)
    }

    fn block(self, rgb: Rgb) -> Style {
        match self.depth {
            Depth::None => bold().add_modifier(Modifier::REVERSED),
            _ => self.solid(rgb).add_modifier(Modifier::BOLD),
        }
    }

    /// The signs that the terminal can show.
    pub fn signs(self) -> &'static Signs {
        if self.unicode { &FULL } else { &ASCII }
    }

    /// A text with its signs changed to those that the terminal can show.
    pub fn letters(self, text: &str) -> String {
        self.signs().letters(text)
    }
}

/// Bold text.
pub fn bold() -> Style {
    Style::new().add_modifier(Modifier::BOLD)
}

fn letters_on(ground: Rgb) -> Rgb {
    LETTERS.with_borrow_mut(|all| known(all, ground, better_letters))
}

/// Black or white, whichever reads better on a colour.
fn better_letters(ground: Rgb) -> Rgb {
    match contrast(ground, BLACK) >= contrast(ground, WHITE) {
        true => BLACK,
        false => WHITE,
    }
}

/// The contrast of two colours, 1 to 21 (Web Content Accessibility Guidelines
/// 2).
fn contrast(a: Rgb, b: Rgb) -> f32 {
    let srgb = |Rgb(r, g, b): Rgb| Srgb::new(r, g, b).into_format::<f32>();
    srgb(a).relative_contrast(srgb(b))
}

/// How light a colour looks, 0 to 255 (the luma weights of ITU-R BT.601).
fn lightness(Rgb(r, g, b): Rgb) -> u32 {
    (299 * u32::from(r) + 587 * u32::from(g) + 114 * u32::from(b)) / 1000
}

/// A shade that is visible on the colour.
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

/// The signs of the picture and of the lines around it.
#[derive(Debug)]
pub struct Signs {
    /// Right edge of a solid brick.
    pub edge: char,
    /// Lower edge of a solid brick.
    pub floor: char,
    /// The corners and lines of a hollow brick: upper left, upper right,
    /// lower left, lower right, across, down.
    pub hollow: [char; 6],
    /// The same for the place of the new bead.
    pub seat: [char; 6],
    /// The needle comes out here.
    pub needle: char,
    /// Enter here, when the needle goes to the left, and to the right.
    pub enter: [char; 2],
    /// A line, its left end and its right end.
    pub rule: [char; 3],
    /// An arrow to the left, and to the right.
    pub arrow: [char; 2],
    /// Arrows: to the right, then clockwise in steps of an eighth turn.
    pub ways: [char; 8],
    /// A progress bar: done, and to come.
    pub bar: [char; 2],
    /// Between parts of a line.
    pub dot: &'static str,
    /// A job that is done, one in progress, one to come.
    pub job: [char; 3],
    pub note: char,
    /// A warning.
    pub watch: char,
    /// A line between things side by side.
    pub upright: char,
    /// The new bead, where there is room for only one sign.
    pub new: char,
    /// The thread as it lies, and its path from here.
    pub thread: [char; 2],
}

impl Signs {
    /// The signs used in texts and drawings.
    fn in_texts(&self) -> [char; 17] {
        let [a, b, c, d, e, f] = self.hollow;
        let [g, h, i, j, k, l] = self.seat;
        let [m, n] = self.enter;
        let [o, p] = self.arrow;
        [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, self.needle]
    }

    /// A text written with the signs of [`FULL`], changed to these.
    pub fn letters(&self, text: &str) -> String {
        let (full, own) = (FULL.in_texts(), self.in_texts());
        let own = |sign: char| match full.iter().position(|s| *s == sign) {
            Some(at) => own[at],
            None => sign,
        };
        text.chars().map(own).collect()
    }
}

/// For terminals that show all characters.
pub static FULL: Signs = Signs {
    edge: '▕',
    floor: '▁',
    hollow: ['┌', '┐', '└', '┘', '╌', '╎'],
    seat: ['╔', '╗', '╚', '╝', '═', '║'],
    needle: '◆',
    enter: ['◀', '▶'],
    rule: ['─', '├', '┤'],
    arrow: ['←', '→'],
    ways: ['→', '↘', '↓', '↙', '←', '↖', '↑', '↗'],
    bar: ['█', '░'],
    dot: " · ",
    job: ['✓', '▶', ' '],
    note: '✎',
    watch: '▲',
    upright: '│',
    new: '◇',
    thread: ['•', '∘'],
};

/// For terminals that show only ASCII.
pub static ASCII: Signs = Signs {
    edge: '|',
    floor: '_',
    hollow: ['.', '.', '\'', '\'', ' ', ' '],
    seat: ['#', '#', '#', '#', '#', '#'],
    needle: '@',
    enter: ['<', '>'],
    rule: ['-', '|', '|'],
    arrow: ['<', '>'],
    ways: ['>', '\\', 'v', '/', '<', '\\', '^', '/'],
    bar: ['#', '.'],
    dot: " - ",
    job: ['x', '>', ' '],
    note: '*',
    watch: '!',
    upright: '|',
    new: 'O',
    thread: ['*', 'o'],
};

#[cfg(test)]
mod tests {
    use super::*;

    fn look(depth: Depth, ground: Ground) -> Look {
        Look {
            depth,
            unicode: true,
            ground,
        }
    }

    /// What a terminal shows for a colour of a style.
    fn shown(colour: Option<Color>, else_it_is: Rgb) -> Rgb {
        match colour {
            Some(Color::Rgb(r, g, b)) => Rgb(r, g, b),
            Some(Color::Indexed(index)) => {
                let palette = anstyle_lossy::palette::VGA;
                let shown = anstyle_lossy::xterm_to_rgb(anstyle::Ansi256Color(index), palette);
                Rgb(shown.r(), shown.g(), shown.b())
            }
            _ => else_it_is,
        }
    }

    /// 4.5 : 1 for text and 3 : 1 for marks: Web Content Accessibility
    /// Guidelines 2, success criteria 1.4.3 and 1.4.11. The backgrounds tested
    /// are black and white, and as far from them as terminals usually are.
    #[test]
    fn words_and_marks_have_enough_contrast_on_both_backgrounds() {
        let grounds = [
            (Ground::Dark, BLACK),
            (Ground::Dark, Rgb(44, 44, 44)),
            (Ground::Light, WHITE),
            (Ground::Light, Rgb(242, 236, 224)),
        ];
        for (ground, paper) in grounds {
            for depth in [Depth::True, Depth::Indexed, Depth::Sixteen] {
                let look = look(depth, ground);
                let ink = match ground {
                    Ground::Dark => WHITE,
                    Ground::Light => BLACK,
                };
                let reads = |style: Style| {
                    let back = shown(style.bg, paper);
                    contrast(shown(style.fg, ink), back)
                };
                for (what, style) in [
                    ("seat", look.seat()),
                    ("hollow", look.hollow()),
                    ("enter sign", look.enter_sign()),
                    ("enter", look.enter()),
                    ("needle", look.needle()),
                    ("ahead", look.ahead()),
                    ("alarm", look.alarm()),
                    ("alarming words", look.alarm_words()),
                    ("quiet", look.quiet()),
                ] {
                    let reads = reads(style);
                    assert!(
                        reads >= 4.5,
                        "{what} {depth:?} {ground:?} {paper:?}: {reads}"
                    );
                }
                for (what, style) in [("enter", look.enter()), ("needle", look.needle())] {
                    let stands = contrast(shown(style.bg, paper), paper);
                    let none = style.bg.is_none();
                    assert!(
                        none || stands >= 3.0,
                        "{what} {depth:?} {paper:?}: {stands}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_letter_on_any_bead_reads_at_least_as_well_in_the_other_of_black_and_white() {
        for depth in [Depth::True, Depth::Indexed, Depth::Sixteen] {
            let look = look(depth, Ground::Dark);
            for n in 0..512 {
                let part = |at: u32| ((n >> (3 * at) & 7) * 36) as u8;
                let bead = Rgb(part(0), part(1), part(2));
                let style = look.solid(bead);
                let back = shown(style.bg, BLACK);
                let reads = contrast(shown(style.fg, BLACK), back);
                // On any colour, black or white has a contrast of at least the
                // square root of 21.
                assert!(reads > 4.5, "{bead:?} {depth:?}: {reads}");
            }
        }
    }

    #[test]
    fn with_16_colours_marks_have_no_colour() {
        for ground in [Ground::Dark, Ground::Light] {
            let look = look(Depth::Sixteen, ground);
            for style in [look.seat(), look.enter(), look.enter_sign(), look.needle()] {
                assert_eq!((style.fg, style.bg), (None, None));
            }
        }
    }

    #[test]
    fn a_background_is_light_if_black_reads_better() {
        assert_eq!(Ground::of(Rgb(253, 250, 240)), Ground::Light);
        assert_eq!(Ground::of(Rgb(30, 30, 46)), Ground::Dark);
    }

    #[test]
    fn no_colour_means_no_colour_at_all() {
        let look = look(Depth::None, Ground::Dark);
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
            look.quiet(),
        ] {
            assert!(style.fg.is_none() && style.bg.is_none(), "{style:?}");
        }
        // Done and to come still differ.
        assert_ne!(look.solid(red), look.hollow());
    }
}
