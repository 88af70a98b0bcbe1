//! The plan as one JSON object, format 1: a promise to those who read it by
//! program. Keys may be added; those here keep their meaning.

use super::colours::{Alike, LikeLetters};
use super::flat::{Flatness, Flattest};
use super::fullest::{FullBead, Help};
use super::kinds::Why;
use super::stone::{Opening, StoneFit};
use super::turning::Turning;
use super::{Place, Plan};
use crate::beadwork::corner_law::Start;
use crate::beadwork::hole::Passing;
use crate::beadwork::thread::NEEDLES;
use crate::beadwork::{Colour, Rgb};
use serde::Serialize;
use serde_json::{Map, Value, json};

/// The version of the object, its first field.
const FORMAT: u8 = 1;

/// The plan as it is printed for other programs.
#[derive(Clone, Debug, Serialize)]
pub struct PlanObject {
    format: u8,
    #[serde(flatten)]
    fields: Value,
}

/// The whole plan. Millimetres, grams and minutes, rounded to thousandths.
pub fn object(plan: &Plan) -> PlanObject {
    let fields = json!({
        "beads": beads(plan),
        "total_beads": plan.total_beads,
        "total_steps": plan.total_steps,
        "thread_mm": mm(plan.thread_mm()),
        "threads": plan.threads.len(),
        "panels": plan.panels.iter().map(flatness).collect::<Vec<_>>(),
        "fullest": plan.fullest.worst.first().map(|f| full(f, &plan.fullest_places[0])),
        "size_mm": {
            "edge": mm(plan.size.edge_mm),
            "height": plan.size.height_mm.map(mm),
            "through": plan.size.through_mm.map(mm),
            "hole": plan.size.hole_mm.map(mm),
        },
        "ring": plan.ring.as_ref().map(ring),
        "minutes": mm(plan.minutes),
        "grams": mm(plan.grams()),
        "spare_percent": plan.wishes.spare_percent,
        "stitch_seconds": plan.wishes.stitch_seconds,
        "jobs": jobs(plan),
        "thread_lengths": thread_lengths(plan),
        "thread": thread(plan),
        "needle": needle(plan),
        "holes": holes(plan),
        "openings": plan.openings.iter().map(opening).collect::<Vec<_>>(),
        "stone": plan.stones.iter().map(stone).collect::<Vec<_>>(),
        "lining": plan.lining.map(|l| json!({
            "longest_edge_mm": mm(l.longest_edge_mm),
            "rounds": l.rounds,
            "edge_mm": mm(l.edge_mm),
            "depth_mm": mm(l.depth_mm),
            "room_behind_mm": mm(l.room_behind_mm),
        })),
        "panel_kinds": kinds(plan),
        "joining": joining(plan),
        "colours_alike": plan.alike.iter().map(|a| alike(plan, a)).collect::<Vec<_>>(),
        "letters_alike": plan.like_letters.iter().map(|l| letters(plan, l)).collect::<Vec<_>>(),
    });
    PlanObject {
        format: FORMAT,
        fields,
    }
}

/// The verdict's name in output.
pub fn verdict(passing: Passing) -> &'static str {
    match passing {
        Passing::Comfortable => "comfortable",
        Passing::Tight => "tight",
        Passing::Blocked => "blocked",
    }
}

/// To thousandths.
fn mm(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

fn beads(plan: &Plan) -> Value {
    let mut by_colour = Map::new();
    for beads in &plan.beads {
        by_colour.insert(
            beads.letter.to_string(),
            json!({
                "name": beads.name,
                "count": beads.count,
                "grams": mm(beads.grams),
                "spare": beads.spare,
                "buy_grams": mm(beads.buy_grams),
            }),
        );
    }
    Value::Object(by_colour)
}

fn law(flattest: &Flattest) -> Value {
    json!({
        "start": match flattest.law.start() {
            Start::Sides => "sides",
            Start::Points => "points",
        },
        "corners": flattest.law.word(),
        "flatness": mm(flattest.flatness),
    })
}

fn flatness(panel: &Flatness) -> Value {
    json!({
        "panel": panel.panel,
        "sides": panel.sides,
        "rounds": panel.rounds,
        "flatness": mm(panel.flatness),
        "verdict": panel.lie.words(),
        "flattest": law(&panel.flattest),
    })
}

fn full(full: &FullBead, place: &Place) -> Value {
    json!({
        "bead": full.bead.0,
        "passes": full.passes,
        "verdict": verdict(full.verdict),
        "colour": place.letter.to_string(),
        "job": place.job,
        "round": place.round,
        "side": place.side,
        "place": place.place,
    })
}

fn holes(plan: &Plan) -> Value {
    let worst = plan.fullest.worst.iter().zip(&plan.fullest_places);
    json!({
        "worst": worst.map(|(f, p)| full(f, p)).collect::<Vec<_>>(),
        "tight": plan.fullest.tight,
        "blocked": plan.fullest.blocked,
        "beads_by_passes": plan.fullest.histogram,
        "help": plan.fullest.help.iter().map(help).collect::<Vec<_>>(),
    })
}

fn help(help: &Help) -> Value {
    match help {
        Help::Needle(size) => json!({ "needle": size }),
        Help::Thread(name) => json!({ "thread": name }),
        Help::Both(size, name) => json!({ "needle": size, "thread": name }),
        Help::NextDoor => json!({ "route": "another row of beads next door" }),
    }
}

fn ring(ring: &Turning) -> Value {
    json!({
        "tetrahedra": ring.tetrahedra,
        "turns": ring.turns(),
        "margin_mm": mm(ring.margin_mm),
        "smallest_that_turns": ring.smallest,
        "face_height_mm": mm(ring.face_height_mm),
        "face_height_needed_mm": mm(ring.face_height_needed_mm),
        "hinge_mm": mm(ring.hinge_mm),
        "longest_hinge_mm": mm(ring.longest_hinge_mm),
    })
}

fn jobs(plan: &Plan) -> Value {
    let job = |nth: usize| {
        json!({
            "job": plan.job_titles[nth],
            "steps": plan.walk.jobs[nth].kinds.iter().sum::<u32>(),
            "thread_mm": mm(plan.job_thread_mm[nth]),
            "minutes": mm(plan.job_minutes(nth)),
        })
    };
    (0..plan.job_titles.len()).map(job).collect()
}

fn thread_lengths(plan: &Plan) -> Value {
    let each = plan.threads.iter();
    each.map(|thread| {
        json!({
            "first_step": thread.steps.first.0,
            "last_step": thread.steps.last.0,
            "begins_in": plan.job_titles[thread.jobs.0],
            "ends_in": plan.job_titles[thread.jobs.1],
            "first_bead": thread.first_bead.map(|b| b.0),
            "last_bead": thread.last_bead.map(|b| b.0),
            "mm": mm(thread.takes_mm),
        })
    })
    .collect()
}

fn thread(plan: &Plan) -> Value {
    json!({
        "diameter_mm": plan.thread.diameter_mm,
        "cut_mm": plan.thread.cut_mm,
        "tail_mm": plan.thread.tail_mm,
        "longer_than_cut": plan.too_long(),
    })
}

/// The size number of the plan's needle, if it is a usual one.
pub fn needle_size(plan: &Plan) -> Option<u8> {
    let usual = NEEDLES.iter();
    let mut same = usual.filter(|(_, mm)| (mm - plan.needle.diameter_mm).abs() < 1e-9);
    same.next().map(|(size, _)| *size)
}

fn needle(plan: &Plan) -> Value {
    json!({
        "diameter_mm": plan.needle.diameter_mm,
        "size": needle_size(plan),
        "widest_comfortable_size": plan.fullest.widest_comfortable,
    })
}

fn opening(opening: &Opening) -> Value {
    let (least, most) = opening.holds_mm();
    json!({
        "panel": opening.panel,
        "stop_at_round": opening.stop_at.0,
        "beads_per_side": opening.beads,
        "incircle_mm": mm(opening.incircle_mm),
        "stone_mm": [mm(least), mm(most)],
    })
}

fn stone(fit: &StoneFit) -> Value {
    json!({
        "panel": fit.panel,
        "stone_mm": fit.stone_mm,
        "held": fit.held.as_ref().map(opening),
        "nearest": fit.nearest.iter().map(opening).collect::<Vec<_>>(),
    })
}

fn kinds(plan: &Plan) -> Value {
    let kinds = plan.kinds.kinds.iter().map(|kind| {
        json!({
            "panel": kind.panel,
            "join_rows": kind.rows,
            "side_by_side": kind.side_by_side,
            "count": kind.count,
        })
    });
    json!({
        "kinds": kinds.collect::<Vec<_>>(),
        "fewest": plan.kinds.fewest,
        "why": match plan.kinds.why {
            Why::OneEach => json!("one kind for each pattern of panel"),
            Why::Uneven { rows, panels } => json!({ "rows": rows, "panels": panels }),
            Why::NotProved => json!(null),
        },
    })
}

fn joining(plan: &Plan) -> Value {
    let order = &plan.order;
    json!({
        "joins": order.joins,
        "panel_threads": order.panel_threads,
        "further_threads": order.further_threads,
        "fewest_threads": order.fewest_threads,
        "passes_only_to_get_there": order.retravel,
        "least_with_these_threads": order.with_panel_threads.cost,
        "least_with_one_thread": order.one_thread.cost,
        "least_with_one_thread_is_reached": order.one_thread.exact,
    })
}

fn letter(plan: &Plan, colour: Colour) -> String {
    plan.colour_names[usize::from(colour.0)].0.to_string()
}

/// A colour as a pattern file writes it.
pub fn hex(Rgb(red, green, blue): Rgb) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn alike(plan: &Plan, alike: &Alike) -> Value {
    let seen = alike.seen.iter();
    json!({
        "a": letter(plan, alike.a),
        "b": letter(plan, alike.b),
        "seen": seen.map(|(seen, far)| json!({
            "how": seen.name(),
            "difference": mm(f64::from(*far)),
        })).collect::<Vec<_>>(),
        "better_b": alike.better.map(hex),
    })
}

fn letters(plan: &Plan, like: &LikeLetters) -> Value {
    json!({
        "a": letter(plan, like.a),
        "b": letter(plan, like.b),
        "better_b": like.better.map(String::from),
    })
}
