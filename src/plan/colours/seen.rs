//! How a colour is seen: in daylight, in lamp light, with a colour-vision
//! deficiency.

use crate::beadwork::Rgb;
use palette::color_difference::Ciede2000;
use palette::white_point::D65;
use palette::{IntoColor, Lab, LinSrgb, Srgb};

/// Below this CIEDE2000 difference, two beads that lie apart on a mat are
/// easily mistaken for each other (common practice, no source; side by side and
/// large, a difference of about 2 is just visible).
pub const HARD_TO_TELL: f32 = 8.0;

/// A way of seeing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// In daylight, with full colour vision.
    Daylight,
    /// Under a filament lamp or another warm one.
    LampLight,
    /// Without the cones for long waves: red is dark, and like green.
    Protanopia,
    /// Without the cones for middle waves: green is like red.
    Deuteranopia,
    /// Without the cones for short waves: blue is like green.
    Tritanopia,
}

impl Seen {
    /// All of them.
    pub const ALL: [Seen; 5] = [
        Seen::Daylight,
        Seen::LampLight,
        Seen::Protanopia,
        Seen::Deuteranopia,
        Seen::Tritanopia,
    ];

    /// In words, to follow "hard to tell apart".
    pub fn words(self) -> &'static str {
        match self {
            Seen::Daylight => "in daylight",
            Seen::LampLight => "in lamp light",
            Seen::Protanopia => "with red-blindness (protanopia)",
            Seen::Deuteranopia => "with green-blindness (deuteranopia)",
            Seen::Tritanopia => "with blue-blindness (tritanopia)",
        }
    }

    /// Its name in output.
    pub fn name(self) -> &'static str {
        match self {
            Seen::Daylight => "daylight",
            Seen::LampLight => "lamp-light",
            Seen::Protanopia => "protanopia",
            Seen::Deuteranopia => "deuteranopia",
            Seen::Tritanopia => "tritanopia",
        }
    }

    /// The matrix applied to linear red, green and blue.
    fn matrix(self) -> Option<[[f32; 3]; 3]> {
        match self {
            Seen::Daylight => None,
            Seen::LampLight => Some(LAMP),
            Seen::Protanopia => Some(PROTANOPIA),
            Seen::Deuteranopia => Some(DEUTERANOPIA),
            Seen::Tritanopia => Some(TRITANOPIA),
        }
    }
}

/// CIE illuminant A (XYZ 1.0985, 1, 0.3558) as linear red, green and blue with
/// the largest value 1: what a lamp leaves of the three, for an eye that has
/// not adapted to it. This is approximate, because real beads have spectra.
const LAMP: [[f32; 3]; 3] = [[1.0, 0.0, 0.0], [0.0, 0.4480, 0.0], [0.0, 0.0, 0.1264]];

/// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based
/// Model for Simulation of Color Vision Deficiency", 2009, severity 1.0
/// (figures from memory; each row adds up to 1, which a test checks).
const PROTANOPIA: [[f32; 3]; 3] = [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
];

/// The same source.
const DEUTERANOPIA: [[f32; 3]; 3] = [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.011820, 0.042940, 0.968881],
];

/// The same source.
const TRITANOPIA: [[f32; 3]; 3] = [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.303900],
];

/// A colour as it is seen, in L*a*b*.
pub fn colour_seen(Rgb(red, green, blue): Rgb, seen: Seen) -> Lab<D65, f32> {
    let light: LinSrgb<f32> = Srgb::new(red, green, blue)
        .into_format::<f32>()
        .into_linear();
    let light = match seen.matrix() {
        None => light,
        Some(matrix) => {
            let part = |row: [f32; 3]| {
                (row[0] * light.red + row[1] * light.green + row[2] * light.blue).clamp(0.0, 1.0)
            };
            LinSrgb::new(part(matrix[0]), part(matrix[1]), part(matrix[2]))
        }
    };
    light.into_color()
}

/// The CIEDE2000 difference of two colours as they are seen.
pub fn difference(a: Rgb, b: Rgb, seen: Seen) -> f32 {
    colour_seen(a, seen).difference(colour_seen(b, seen))
}

#[cfg(test)]
mod tests {
    use super::*;
    use palette::Xyz;
    use palette::convert::FromColorUnclamped;

    /// White and every grey stay the same for an eye that lacks one kind of
    /// cone.
    #[test]
    fn greys_stay_grey_with_every_deficiency() {
        for matrix in [PROTANOPIA, DEUTERANOPIA, TRITANOPIA] {
            for row in matrix {
                assert!((row.iter().sum::<f32>() - 1.0).abs() < 1e-5, "{row:?}");
            }
        }
        for seen in [Seen::Protanopia, Seen::Deuteranopia, Seen::Tritanopia] {
            let grey = colour_seen(Rgb(120, 120, 120), seen);
            assert!(grey.a.abs() < 0.2 && grey.b.abs() < 0.2, "{grey:?}");
        }
    }

    /// The lamp's parts from the published white of CIE illuminant A (XYZ
    /// 1.09850, 1, 0.35585), by the library's own conversion.
    #[test]
    fn the_lamp_is_illuminant_a() {
        let white: Xyz<D65, f32> = Xyz::new(1.09850, 1.0, 0.35585);
        // Brighter than a screen's red can be, so not clamped.
        let light = LinSrgb::<f32>::from_color_unclamped(white);
        let most = light.red.max(light.green).max(light.blue);
        for (found, wanted) in [
            (light.red / most, LAMP[0][0]),
            (light.green / most, LAMP[1][1]),
            (light.blue / most, LAMP[2][2]),
        ] {
            assert!((found - wanted).abs() < 0.002, "{found} {wanted}");
        }
    }
}
