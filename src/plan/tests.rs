use super::*;
use crate::beadwork::kaleidocycle::RingVerdict;
use crate::beadwork::project::Project;
use crate::beadwork::testing;

fn plan(project: Project) -> Plan {
    Plan::of(&Sequence::new(project), Wishes::default())
}

/// Closed forms of the model: a tetrahedron of K rounds has 4·3K(K+1)/2 +
/// 6(K−1) beads, a ring of N has 4N·3K(K+1)/2 + 5N(K−1).
#[test]
fn totals_are_the_closed_forms() {
    for k in [3u32, 6, 9] {
        let face = 3 * k * (k + 1) / 2;
        let tetrahedron = plan(testing::solid(Solid::Tetrahedron, k, Closing::SetIn));
        assert_eq!(tetrahedron.total_beads, 4 * face + 6 * (k - 1));
        let ring = plan(testing::ring(8, k, Closing::SetIn));
        assert_eq!(ring.total_beads, 32 * face + 40 * (k - 1));
        for plan in [tetrahedron, ring] {
            let counted: u32 = plan.beads.iter().map(|b| b.count).sum();
            assert_eq!(counted, plan.total_beads);
        }
    }
}

/// Added up by job or by length, the total thread is the same.
#[test]
fn jobs_and_lengths_add_up_to_all_the_thread() {
    for project in [
        testing::folded_pair(8, 2),
        testing::ring(8, 9, Closing::Fill),
        testing::solid(Solid::Cube, 9, Closing::Open),
    ] {
        let plan = plan(project);
        let by_job: f64 = plan.jobs.iter().map(|job| job.thread_mm).sum();
        assert!((by_job - plan.thread_mm()).abs() < 1e-6);
        let minutes: f64 = plan.jobs.iter().map(|job| job.minutes).sum();
        assert!((minutes - plan.minutes).abs() < 1e-9);
        assert_eq!(plan.too_long(), 0);
        assert_eq!(plan.too_long() > 0, plan.over_cut_mm() > 0.0);
    }
}

#[test]
fn an_open_face_takes_a_lining_and_a_ring_a_word_on_turning() {
    assert!(
        plan(testing::solid(Solid::Tetrahedron, 9, Closing::Open))
            .lining
            .is_some()
    );
    assert!(
        plan(testing::solid(Solid::Cube, 9, Closing::Open))
            .lining
            .is_none()
    );
    let closed = plan(testing::solid(Solid::Tetrahedron, 9, Closing::SetIn));
    assert!(closed.lining.is_none() && closed.ring.is_none());
    assert!(
        plan(testing::ring(6, 5, Closing::SetIn))
            .ring
            .is_some_and(|r| r.verdict == RingVerdict::Turns)
    );
}

/// The documented keys of the output and their values.
#[test]
fn the_json_object_has_what_is_promised() {
    let plan = plan(testing::ring(8, 5, Closing::SetIn));
    let object = serde_json::to_value(json::object(&plan)).unwrap();
    let line = serde_json::to_string(&json::object(&plan)).unwrap();
    assert!(line.starts_with(r#"{"format":1,"#));
    assert_eq!(object["beads"]["S"]["count"], plan.total_beads);
    assert_eq!(object["total_steps"], plan.total_steps);
    assert_eq!(object["threads"], plan.threads.len());
    assert_eq!(object["panels"][0]["flatness"], 0.938);
    let fullest = &plan.fullest.worst[0];
    assert_eq!(object["fullest"]["bead"], fullest.number.0);
    assert_eq!(object["fullest"]["passes"], fullest.passes);
    assert_eq!(object["fullest"]["verdict"], json::verdict(fullest.verdict));
    assert_eq!(object["size_mm"]["edge"], 13.0);
    assert_eq!(object["ring"]["turns"], true);
    assert!(object["minutes"].as_f64().is_some_and(|m| m > 0.0));
    assert!(object["thread_mm"].as_f64().is_some_and(|m| m > 1000.0));
}
