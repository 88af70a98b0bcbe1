//! A scene as SVG: each bead is a shape, and the faces are drawn from the
//! farthest to the nearest.

use super::camera::Camera;
use super::painter::{NOT_MADE, light, scaled};
use super::scene::Scene;
use crate::beadwork::frame::{Frame, middle_of, outward};
use crate::beadwork::layout::{Layout, Part, Seat};
use crate::beadwork::number::Step;
use crate::beadwork::{Bead, Colour, Sequence};
use glam::{DVec2, DVec3};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The most beads that are drawn one by one: a file of about 10 MB.
pub const MOST_BEADS: u32 = 100_000;
/// Width of a bead's outline, relative to the bead.
const OUTLINE: f64 = 0.72;

impl Scene {
    /// Draws it as SVG; for a piece in progress, only the beads that are in
    /// place after a step. Nearer parts cover those farther away. A piece with
    /// more than [`MOST_BEADS`] beads makes a very large file.
    pub fn svg(&self, seq: &Sequence, worked: Option<Step>) -> String {
        let strung = worked.map_or(seq.layout().beads(), |step| seq.strung_after(step));
        let mut beads: BTreeMap<usize, Vec<Bead>> = BTreeMap::new();
        for bead in (1..=strung).map(Bead) {
            let panel = seq.layout().panel_of(bead);
            beads.entry(panel.index()).or_default().push(bead);
        }
        let (wide, high) = self.camera.size;
        let title = match worked {
            Some(_) => "The piece as far as it is worked",
            None => "The finished piece",
        };
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{wide}\" height=\"{high}\" \
             viewBox=\"0 0 {wide} {high}\">\n<title>{title}</title>\n"
        );
        for face in self.far_to_near() {
            match beads.get(&face) {
                Some(beads) => self.face(seq, face, beads, &mut svg),
                None => self.ghost(face, &mut svg),
            }
        }
        svg.push_str("</svg>\n");
        svg
    }

    /// The faces from the farthest to the nearest: solid by solid, and face by
    /// face within a solid.
    fn far_to_near(&self) -> Vec<usize> {
        let near = |face: usize| self.camera.seen(middle_of(&self.places[face])).z;
        let mut solids: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        for (face, solid) in self.solids.iter().enumerate() {
            solids.entry(*solid).or_default().push(near(face));
        }
        let solid = |face: usize| {
            let all = &solids[&self.solids[face]];
            all.iter().sum::<f64>() / all.len() as f64
        };
        let mut faces: Vec<usize> = (0..self.places.len()).collect();
        faces.sort_by(|a, b| {
            let by_solid = solid(*a).total_cmp(&solid(*b));
            by_solid.then(near(*a).total_cmp(&near(*b)))
        });
        faces
    }

    /// The beads of a face, those of one colour as one path.
    fn face(&self, seq: &Sequence, face: usize, beads: &[Bead], svg: &mut String) {
        let layout = seq.layout();
        let frame = Frame::new(self.places[face].clone());
        let light = light(self.towards_eye(face));
        let mut paths: BTreeMap<Colour, String> = BTreeMap::new();
        for bead in beads {
            let seat = layout.seat(*bead);
            let corners = cell(layout, &frame, seat);
            let on: Vec<DVec2> = corners.iter().map(|c| self.on_picture(*c)).collect();
            outline(&on, paths.entry(layout.colour_of(seat)).or_default());
        }
        for (colour, path) in paths {
            let colour = layout.bead_kind(colour).colour;
            let (fill, stroke) = (scaled(colour, light), scaled(colour, light * OUTLINE));
            let _ = writeln!(
                svg,
                "<path fill=\"{fill}\" stroke=\"{stroke}\" d=\"{path}\"/>"
            );
        }
    }

    /// Outline of a face that is not made yet.
    fn ghost(&self, face: usize, svg: &mut String) {
        let corners: Vec<DVec2> = self.places[face]
            .iter()
            .map(|c| self.on_picture(*c))
            .collect();
        let mut path = String::new();
        outline(&corners, &mut path);
        let _ = writeln!(
            svg,
            "<path fill=\"{NOT_MADE}\" fill-opacity=\"0.2\" stroke=\"{NOT_MADE}\" d=\"{path}\"/>"
        );
    }

    fn on_picture(&self, point: DVec3) -> DVec2 {
        self.camera.on_picture(self.camera.seen(point))
    }

    /// The normal of the visible side of a face, as it is seen.
    fn towards_eye(&self, face: usize) -> DVec3 {
        let seen: Vec<DVec3> = self.places[face]
            .iter()
            .map(|c| self.camera.seen(*c))
            .collect();
        let normal = outward(&seen);
        match normal.dot(Camera::eye() - middle_of(&seen)) < 0.0 {
            true => -normal,
            false => normal,
        }
    }
}

/// The corners of the part of a face that belongs to a bead, mm: where
/// [`Layout::bead_at`] finds that bead.
fn cell(layout: &Layout, frame: &Frame, seat: Seat) -> Vec<DVec3> {
    let kind = layout.kind(seat.panel);
    let (_, along) = layout.flat(seat);
    if let Some(strip) = kind.strip() {
        let middle = strip.middle(seat.spot());
        let half = strip.cell() / 2.0;
        let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
        return corners
            .map(|(x, y)| frame.in_rectangle(middle + DVec2::new(x, y) * half))
            .to_vec();
    }
    let (round, rounds) = (f64::from(seat.round.0), f64::from(kind.rounds()));
    let of = f64::from(seat.of);
    let (inner, outer, half) = match seat.part {
        // The last round fills the space up to the join line where there is no
        // row.
        Part::Face
            if seat.round.0 == kind.rounds() && layout.row_on(seat.panel, seat.side).is_none() =>
        {
            (round - 1.0, round + 0.5, 0.5 / of)
        }
        Part::Face => (round - 1.0, round, 0.5 / of),
        Part::JoinRow(_) => (rounds, rounds + 0.5, 0.5 / (of + 1.0)),
        Part::Tip(_) => (rounds, rounds + 0.5, 0.5 / (rounds + 1.0)),
    };
    let (inner, outer) = (inner / (rounds + 0.5), outer / (rounds + 0.5));
    let side = seat.side.index();
    let (from, to) = (along - half, along + half);
    let mut edge = vec![(side, from), (side, to.min(1.0))];
    if to > 1.0 + 1e-9 {
        // It lies across the corner.
        edge.push(((side + 1) % usize::from(kind.sides()), to - 1.0));
    }
    let point = |out: f64| move |(side, along): &(usize, f64)| frame.point(*side, out, *along);
    let there = edge.iter().map(point(outer));
    there.chain(edge.iter().rev().map(point(inner))).collect()
}

/// Adds a closed outline to a path, rounded to a hundredth of a point.
fn outline(corners: &[DVec2], path: &mut String) {
    for (nth, corner) in corners.iter().enumerate() {
        let sign = if nth == 0 { 'M' } else { 'L' };
        let round = |v: f64| (v * 100.0).round() / 100.0 + 0.0;
        let _ = write!(path, "{sign}{} {}", round(corner.x), round(corner.y));
    }
    path.push('Z');
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beadwork::Panel;
    use crate::beadwork::project::{Closing, Solid};
    use crate::beadwork::testing;
    use crate::picture::picture;

    fn beads(svg: &str) -> usize {
        svg.matches('M').count()
    }

    #[test]
    fn every_bead_is_a_shape_within_the_picture() {
        for project in [
            testing::single(testing::panel(3, 8)),
            testing::solid(Solid::Tetrahedron, 5, Closing::Fill),
            testing::ring(8, 3, Closing::SetIn),
            testing::folded_pair(4, 1),
        ] {
            let seq = Sequence::new(project);
            let svg = Scene::of(&seq, None, (400, 300), 1.0).svg(&seq, None);
            assert_eq!(beads(&svg), seq.layout().beads() as usize);
            let path = svg
                .split(" d=\"")
                .skip(1)
                .filter_map(|rest| rest.split('"').next());
            let numbers = path.flat_map(|path| path.split(['M', 'L', 'Z', ' ']));
            for number in numbers.filter(|n| !n.is_empty()) {
                let number: f64 = number.parse().unwrap();
                assert!((-20.0..420.0).contains(&number), "{number}");
            }
        }
    }

    /// The middle of a bead's shape is where the raster sees that bead.
    #[test]
    fn a_bead_lies_where_the_raster_sees_it() {
        let panels = [
            testing::panel(3, 6),
            testing::panel(6, 6),
            testing::strip(8, 5),
        ];
        for project in panels.map(testing::single) {
            let seq = Sequence::new(project);
            let scene = Scene::of(&seq, None, (600, 600), 1.0);
            let layout = seq.layout();
            let frame = Frame::new(scene.places[0].clone());
            let seen = picture(&scene.camera, &scene.places);
            for bead in (1..=layout.beads()).map(Bead) {
                let seat = layout.seat(bead);
                let at = scene.on_picture(middle_of(&cell(layout, &frame, seat)));
                let spot = seen.at(at.x as usize, at.y as usize).unwrap();
                let (out, along) = (f64::from(spot.out), f64::from(spot.along));
                let found = layout.bead_at(Panel(0), spot.side as usize, out, along);
                assert_eq!(found.unwrap().seat, seat);
            }
        }
    }

    #[test]
    fn a_piece_in_progress_shows_what_is_strung_and_outlines_the_rest() {
        let seq = Sequence::new(testing::solid(Solid::Tetrahedron, 4, Closing::SetIn));
        let done = Step(12);
        let svg = Scene::of(&seq, Some(done), (300, 300), 1.0).svg(&seq, Some(done));
        let ghosts = svg.matches("fill-opacity").count();
        assert_eq!(ghosts, 3);
        assert_eq!(beads(&svg) - ghosts, seq.strung_after(done) as usize);
    }
}
