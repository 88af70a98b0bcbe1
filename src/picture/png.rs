//! A scene in pixels: the same camera and colours, with beads shaded to look
//! round.

use super::Scene;
use super::camera::Camera;
use super::painter::{SolidPainter, SpotKind};
use super::raster::{Picture, PictureSpot, picture};
use crate::beadwork::layout::Layout;
use crate::beadwork::number::Panel;
use crate::geometry::FaceColours;
use std::cell::Cell;

/// Samples for each pixel, across and down: their mean makes slanting sides
/// smooth.
const SAMPLES: usize = 2;
/// From this many samples per bead on, shading shows that it is round.
const ROUND_FROM: f64 = 60.0;
/// The most pixels that are drawn; a larger picture is drawn smaller, and the
/// terminal stretches it.
const MAX_PIXELS: usize = 700_000;

/// The size in pixels of a picture for a space of this size, within the limit.
pub fn size((wide, high): (usize, usize)) -> (usize, usize) {
    let pixels = wide * high;
    if pixels <= MAX_PIXELS {
        return (wide.max(1), high.max(1));
    }
    let by = (MAX_PIXELS as f64 / pixels as f64).sqrt();
    let less = |n: usize| ((n as f64 * by) as usize).max(1);
    (less(wide), less(high))
}

impl Scene {
    /// Draws it as a PNG; transparent where nothing is seen.
    pub fn png(&self, layout: &Layout) -> Vec<u8> {
        let (wide, high) = self.camera.size;
        let camera = Camera {
            size: (wide * SAMPLES, high * SAMPLES),
            ..self.camera
        };
        let seen = picture(&camera, &self.places);
        let face_colours = FaceColours::new(layout);
        let painter = SolidPainter {
            layout,
            face_colours: &face_colours,
            standing: self.standing.as_ref(),
            shading: 1.0,
            last: Cell::default(),
        };
        let mut pixels = Vec::with_capacity(wide * high * 4);
        for (y, x) in (0..high).flat_map(|y| (0..wide).map(move |x| (y, x))) {
            let samples = (0..SAMPLES * SAMPLES).map(|n| (n % SAMPLES, n / SAMPLES));
            let (mut sum, mut found) = ([0f64; 3], 0u32);
            for (right, down) in samples {
                if let Some(spot) = seen.at(SAMPLES * x + right, SAMPLES * y + down) {
                    let colour = sample_colour(&painter, &seen, spot);
                    (0..3).for_each(|c| sum[c] += colour[c]);
                    found += 1;
                }
            }
            let all = (SAMPLES * SAMPLES) as u32;
            let mean = sum.map(|c| (c / f64::from(found.max(1))).min(255.0) as u8);
            pixels.extend(mean);
            pixels.push((255 * found / all) as u8);
        }
        encoded((wide, high), &pixels)
    }
}

/// The colour of a sample: red, green and blue from 0 to 255.
fn sample_colour(painter: &SolidPainter, seen: &Picture, spot: &PictureSpot) -> [f64; 3] {
    let painted = painter.paint(seen, spot);
    let light = match painted.kind {
        SpotKind::Face { bead: Some(_), .. } => roundness(painter.layout, seen, spot),
        _ => 1.0,
    };
    let rgb = painted.rgb;
    [rgb.0, rgb.1, rgb.2].map(|c| f64::from(c) * light)
}

/// How much brighter (above 1) or darker a sample of a bead is, because the
/// bead is round.
fn roundness(layout: &Layout, seen: &Picture, spot: &PictureSpot) -> f64 {
    let panel = Panel(spot.plate as u16);
    let beads = layout.kind(panel).beads().max(1);
    if seen.faces[spot.plate as usize].spots / f64::from(beads) < ROUND_FROM {
        return 1.0;
    }
    let (out, along) = (f64::from(spot.out), f64::from(spot.along));
    let Some(found) = layout.bead_at(panel, spot.side as usize, out, along) else {
        return 1.0;
    };
    // A bead is round across its hole; along the hole only its rims are.
    let across = (std::f64::consts::PI * found.out.clamp(0.0, 1.0)).sin();
    let rim = (found.along.min(1.0 - found.along) * 8.0).clamp(0.0, 1.0);
    0.62 + 0.5 * across * (0.6 + 0.4 * rim)
}

fn encoded((wide, high): (usize, usize), pixels: &[u8]) -> Vec<u8> {
    let mut png = Vec::new();
    let mut encoder = png::Encoder::new(&mut png, wide as u32, high as u32);
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Balanced);
    // Writing into memory fails only if the number of pixels does not match the
    // size.
    let written = encoder
        .write_header()
        .and_then(|mut writer| writer.write_image_data(pixels));
    debug_assert!(written.is_ok(), "{written:?}");
    png
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::Sequence;
    use crate::beadwork::testing as project;

    fn drawn(size: (usize, usize)) -> (Sequence, Vec<u8>) {
        let seq = Sequence::new(project::single(project::panel(3, 8)));
        let png = Scene::of(&seq, None, size, 1.0).png(seq.layout());
        (seq, png)
    }

    /// Read back with the library's decoder, the PNG has the size asked for, is
    /// transparent beside the piece, and shows the bead's colour, brighter or
    /// darker in the light.
    #[test]
    fn a_panel_is_drawn_in_its_colour_on_a_transparent_background() {
        let (seq, png) = drawn((240, 180));
        let decoder = png::Decoder::new(std::io::Cursor::new(&png));
        let mut reader = decoder.read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut pixels).unwrap();
        assert_eq!((info.width, info.height), (240, 180));
        let at = |x: usize, y: usize| &pixels[(y * 240 + x) * 4..][..4];
        assert_eq!(at(0, 0)[3], 0);
        let middle = at(120, 90);
        assert_eq!(middle[3], 255);
        let own = seq.layout().bead_kinds()[0].colour;
        let ratios = |rgb: [u8; 3]| {
            let most = f64::from(*rgb.iter().max().unwrap());
            rgb.map(|c| f64::from(c) / most)
        };
        let (seen, own) = (
            ratios([middle[0], middle[1], middle[2]]),
            ratios([own.0, own.1, own.2]),
        );
        for (seen, own) in seen.into_iter().zip(own) {
            assert!((seen - own).abs() < 0.05, "{seen} {own}");
        }
        // Round beads: the face is not equally bright everywhere.
        let light: std::collections::BTreeSet<u8> = (100..140).map(|x| at(x, 90)[0]).collect();
        assert!(light.len() > 3, "{light:?}");
    }

    #[test]
    fn a_picture_is_no_larger_than_the_limit() {
        assert_eq!(size((800, 600)), (800, 600));
        assert_eq!(size((0, 0)), (1, 1));
        let (wide, high) = size((4000, 2000));
        assert!(wide * high <= MAX_PIXELS && wide * high > MAX_PIXELS * 9 / 10);
        assert!((wide as f64 / high as f64 - 2.0).abs() < 0.01);
    }
}
