//! The planner continues from any state of the work.

use crate::beadwork::verify::verify;
use crate::beadwork::{Closing, Kind, Movement, Part, Project, Seat, Solid, Step};
use crate::beadwork::{Sequence, testing};

fn shapes() -> Vec<(&'static str, Project)> {
    use Closing::{Fill, Open, SetIn};
    let tipped = |mut project: Project| {
        if let crate::beadwork::project::Make::Solid { tips, .. } = &mut project.make {
            *tips = 2;
        }
        project
    };
    let short_thread = |mut project: Project| {
        project.thread.cut_mm = 500.0;
        project
    };
    vec![
        ("triangle", testing::single(testing::panel(3, 6))),
        ("hexagon", testing::single(testing::panel(6, 9))),
        ("inward", testing::single(testing::inward(3, 6, 0))),
        ("inward open", testing::single(testing::inward(6, 7, 3))),
        ("set in", testing::solid(Solid::Tetrahedron, 4, SetIn)),
        ("filled", testing::solid(Solid::Tetrahedron, 4, Fill)),
        ("open", testing::solid(Solid::Octahedron, 3, Open)),
        ("tips", tipped(testing::solid(Solid::Tetrahedron, 4, Fill))),
        ("cube", testing::solid(Solid::Cube, 5, Fill)),
        ("pair", testing::folded_pair(4, 2)),
        ("ring", testing::ring(8, 3, Fill)),
        ("strip", testing::single(testing::strip(5, 12))),
        ("narrow strip", testing::single(testing::strip(1, 7))),
        (
            "short strip",
            short_thread(testing::single(testing::strip(6, 30))),
        ),
        ("list", testing::listed_tetrahedron(4)),
        (
            "short",
            short_thread(testing::solid(Solid::Tetrahedron, 6, Fill)),
        ),
    ]
}

fn steps(seq: &Sequence) -> Vec<Movement> {
    seq.iter().collect()
}

fn assert_proved(name: &str, seq: &Sequence) {
    let size = |bead| {
        let layout = seq.layout();
        layout.bead_kind(layout.colour(bead)).size
    };
    let report = verify(
        seq.layout().project(),
        seq.goal(),
        seq.jobs(),
        seq.iter(),
        size,
    );
    assert!(report.is_proved(), "{name}: {:?}", report.findings.first());
}

/// The rules allow every movement that the planner makes, one by one.
#[test]
fn the_rules_allow_every_planned_movement() {
    for (name, project) in shapes() {
        let whole = Sequence::new(project);
        let mut work = whole.work_at(Step(0));
        for done in 0..whole.steps() {
            for fact in whole.work().facts(done, done + 1) {
                let played = work.try_play(fact.clone());
                assert_eq!(played, Ok(()), "{name} after step {done}: {fact:?}");
            }
            assert_eq!(
                work.needle().map(|h| h.bead),
                whole.leaves(Step(done + 1)),
                "{name}"
            );
        }
        assert_eq!(work.strung, whole.layout().beads(), "{name}");
    }
}

/// Whatever step is done, the facts up to it give the same work, and the plan
/// from there leads to the same piece and is proved.
#[test]
fn the_plan_goes_on_from_any_step() {
    let mut other = 0;
    let mut all = 0;
    for (name, project) in shapes() {
        let whole = Sequence::new(project);
        let planned = steps(&whole);
        for done in (0..=whole.steps()).step_by(3) {
            let work = whole.work_at(Step(done));
            assert_eq!(work.steps(), done, "{name}");
            assert_eq!(work.strung, whole.strung_after(Step(done)), "{name} {done}");
            let again = Sequence::from_work(work);
            let replanned = steps(&again);
            assert_eq!(
                replanned[..done as usize],
                planned[..done as usize],
                "{name} {done}"
            );
            assert_eq!(again.layout().beads(), whole.layout().beads());
            all += 1;
            if replanned != planned {
                other += 1;
                assert_proved(&format!("{name} from step {done}"), &again);
            }
        }
    }
    // From the middle of a path, another shortest path may be found.
    assert!(other < all / 20, "{other} of {all} plans go another way");
}

/// Ends lie inside a panel, away from its edge.
#[test]
fn ends_are_woven_in_away_from_edges() {
    let seq = Sequence::new(testing::ring(8, 8, Closing::SetIn));
    let layout = seq.layout();
    for m in seq.iter().filter(|m| m.kind == Kind::EndThread) {
        let seats = m.passes.iter().map(|&bead| layout.seat(bead));
        let away = |seat: &Seat| seat.part == Part::Face && seat.round.0 + 2 <= 8;
        assert!(seats.skip(2).all(|seat| away(&seat)), "step {}", m.step);
    }
}

/// Where a bead has no room, the end goes elsewhere or is knotted.
#[test]
fn no_end_goes_into_a_bead_without_room() {
    for diameter_mm in [0.18, 0.2, 0.25, 0.3] {
        let mut project = testing::single(testing::panel(3, 8));
        project.thread.diameter_mm = diameter_mm;
        project.thread.cut_mm = 500.0;
        let seq = Sequence::new(project);
        let size = |bead| seq.layout().bead_kind(seq.layout().colour(bead)).size;
        let project = seq.layout().project();
        let report = verify(project, seq.goal(), seq.jobs(), seq.iter(), size);
        assert!(
            report.is_proved(),
            "{diameter_mm}: {:?}",
            report.findings.first()
        );
    }
}
