//! A lighter or darker shade of a colour that can be told from the others.

use super::seen::{HARD_TO_TELL, Seen, difference};
use crate::beadwork::{BeadKind, Rgb};
use palette::{FromColor, Oklch, Srgb};

/// Steps of lightness that are tried each way.
const STEPS: i32 = 40;

/// The shade of bead `which` nearest its own that can be told from every
/// other colour in every way of seeing; lightness is changed, hue is kept.
pub fn better_shade(beads: &[BeadKind], which: usize) -> Option<Rgb> {
    let Rgb(red, green, blue) = beads[which].colour;
    let own = Oklch::from_color(Srgb::new(red, green, blue).into_format::<f32>());
    let tells = |shade: &Rgb| {
        let others = beads.iter().enumerate().filter(|&(nth, _)| nth != which);
        others.map(|(_, bead)| bead.colour).all(|other| {
            Seen::ALL
                .into_iter()
                .all(|s| difference(*shade, other, s) >= HARD_TO_TELL)
        })
    };
    (1..=STEPS)
        .flat_map(|step| [step, -step])
        .map(|step| own.l + step as f32 / STEPS as f32)
        .filter(|light| (0.08..=0.97).contains(light))
        .map(|light| shade(Oklch { l: light, ..own }))
        .find(tells)
}

/// A colour that a screen can show, paler if it must be.
fn shade(colour: Oklch) -> Rgb {
    let mut colour = colour;
    loop {
        let rgb = Srgb::from_color(colour);
        let inside = |part: f32| (-0.001..=1.001).contains(&part);
        if (inside(rgb.red) && inside(rgb.green) && inside(rgb.blue)) || colour.chroma < 0.005 {
            let rgb: Srgb<u8> = rgb.into_format();
            return Rgb(rgb.red, rgb.green, rgb.blue);
        }
        colour.chroma *= 0.9;
    }
}
