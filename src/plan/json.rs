//! The plan as one JSON object, format 1: a promise to those who read it by
//! program. Keys may be added; those here keep their meaning. Its schema,
//! docs/outputs/plan.schema.json, is made from these types.

use std::borrow::Cow;
use std::collections::BTreeMap;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Serialize;

use super::colours::Seen;
use super::fullest::{FullBead, Help};
use super::kinds::Why;
use super::stone::Opening;
use super::{Place, Plan};
use crate::beadwork::corner_law::Start;
use crate::beadwork::hole::Passing;
use crate::beadwork::kaleidocycle::Verdict;
use crate::beadwork::thread::NEEDLES;
use crate::beadwork::{Colour, Rgb};

/// The version of the object, its first field.
const FORMAT: u8 = 1;

/// Millimetres, grams, minutes and other measures, to thousandths.
#[derive(Clone, Copy, Debug, Serialize)]
struct Amount(f64);

impl From<f64> for Amount {
    fn from(value: f64) -> Self {
        Amount((value * 1000.0).round() / 1000.0)
    }
}

impl JsonSchema for Amount {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Amount".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "number" })
    }
}

/// Objects of the output. Their fields are in the order of the alphabet, as
/// they have always been printed.
macro_rules! objects {
    ($($(#[$doc:meta])* struct $name:ident {
        $($(#[$of:meta])* $field:ident: $type:ty,)*
    })*) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, Serialize, JsonSchema)]
        #[schemars(deny_unknown_fields)]
        struct $name {
            $($(#[$of])* $field: $type,)*
        }
    )*};
}

/// The plan as it is printed for other programs.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, title = "The object of plan --json")]
pub struct PlanObject {
    #[schemars(extend("const" = FORMAT))]
    format: u8,
    beads: BTreeMap<char, BeadsObject>,
    colours_alike: Vec<AlikeObject>,
    fullest: Option<FullObject>,
    grams: Amount,
    holes: HolesObject,
    jobs: Vec<JobObject>,
    joining: JoiningObject,
    letters_alike: Vec<LettersObject>,
    lining: Option<LiningObject>,
    minutes: Amount,
    needle: NeedleObject,
    openings: Vec<OpeningObject>,
    panel_kinds: KindsObject,
    panels: Vec<PanelObject>,
    ring: Option<RingObject>,
    size_mm: SizeObject,
    spare_percent: f64,
    stitch_seconds: f64,
    stone: Vec<StoneObject>,
    thread: ThreadObject,
    thread_lengths: Vec<LengthObject>,
    thread_mm: Amount,
    threads: usize,
    total_beads: u32,
    total_steps: u32,
}

objects! {
    struct BeadsObject {
        buy_grams: Amount,
        count: u32,
        grams: Amount,
        name: String,
        spare: u32,
    }

    struct AlikeObject {
        a: char,
        b: char,
        better_b: Option<String>,
        seen: Vec<SeenObject>,
    }

    struct SeenObject {
        difference: Amount,
        #[schemars(extend("enum" = Seen::ALL.map(Seen::name)))]
        how: &'static str,
    }

    struct FullObject {
        bead: u32,
        colour: char,
        job: String,
        passes: u32,
        place: u32,
        round: u32,
        side: u32,
        #[schemars(extend("enum" = PASSINGS.map(verdict)))]
        verdict: &'static str,
    }

    struct HolesObject {
        beads_by_passes: Vec<u32>,
        blocked: u32,
        help: Vec<HelpObject>,
        tight: u32,
        worst: Vec<FullObject>,
    }

    /// A needle, a thread or both, or another way round.
    struct HelpObject {
        #[serde(skip_serializing_if = "Option::is_none")]
        needle: Option<u8>,
        #[serde(skip_serializing_if = "Option::is_none")]
        route: Option<&'static str>,
        #[serde(skip_serializing_if = "Option::is_none")]
        thread: Option<&'static str>,
    }

    struct JobObject {
        job: String,
        minutes: Amount,
        steps: u32,
        thread_mm: Amount,
    }

    struct JoiningObject {
        fewest_threads: usize,
        further_threads: usize,
        joins: usize,
        least_with_one_thread: u64,
        least_with_one_thread_is_reached: bool,
        least_with_these_threads: u64,
        panel_threads: usize,
        passes_only_to_get_there: u32,
    }

    struct LettersObject {
        a: char,
        b: char,
        better_b: Option<char>,
    }

    struct LiningObject {
        depth_mm: Amount,
        edge_mm: Amount,
        longest_edge_mm: Amount,
        room_behind_mm: Amount,
        rounds: u32,
    }

    struct NeedleObject {
        diameter_mm: f64,
        size: Option<u8>,
        widest_comfortable_size: Option<u8>,
    }

    struct OpeningObject {
        beads_per_side: u32,
        incircle_mm: Amount,
        panel: String,
        stone_mm: [Amount; 2],
        stop_at_round: u32,
    }

    struct KindsObject {
        fewest: usize,
        kinds: Vec<KindObject>,
        why: Option<WhyObject>,
    }

    struct KindObject {
        count: usize,
        join_rows: u32,
        panel: String,
        side_by_side: bool,
    }

    struct UnevenObject {
        panels: usize,
        rows: u32,
    }

    struct PanelObject {
        flatness: Amount,
        flattest: LawObject,
        panel: String,
        rounds: u32,
        sides: u8,
        verdict: &'static str,
    }

    struct LawObject {
        #[schemars(inner(range(min = 0, max = 2)))]
        corners: Vec<u8>,
        flatness: Amount,
        #[schemars(extend("enum" = ["sides", "points"]))]
        start: &'static str,
    }

    struct RingObject {
        face_height_mm: Amount,
        face_height_needed_mm: Amount,
        hinge_mm: Amount,
        longest_hinge_mm: Amount,
        margin_mm: Amount,
        plates_margin_mm: Amount,
        smallest_that_turns: u16,
        tetrahedra: u16,
        turns: bool,
        #[schemars(extend("enum" = ["turns", "tight", "binds"]))]
        verdict: &'static str,
    }

    struct SizeObject {
        edge: Amount,
        height: Option<Amount>,
        hole: Option<Amount>,
        through: Option<Amount>,
    }

    struct StoneObject {
        held: Option<OpeningObject>,
        nearest: Vec<OpeningObject>,
        panel: String,
        stone_mm: f64,
    }

    struct ThreadObject {
        cut_mm: f64,
        diameter_mm: f64,
        longer_than_cut: usize,
        tail_mm: f64,
    }

    struct LengthObject {
        begins_in: String,
        ends_in: String,
        first_bead: Option<u32>,
        first_step: u32,
        last_bead: Option<u32>,
        last_step: u32,
        mm: Amount,
    }
}

/// Why there are no fewer kinds of panel.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
enum WhyObject {
    Text(&'static str),
    Uneven(UnevenObject),
}

/// The whole plan.
pub fn object(plan: &Plan) -> PlanObject {
    let full = |(bead, place): (&FullBead, &Place)| FullObject {
        bead: bead.bead.0,
        colour: place.letter,
        job: place.job.clone(),
        passes: bead.passes,
        place: place.place,
        round: place.round,
        side: place.side,
        verdict: verdict(bead.verdict),
    };
    let worst = plan.fullest.worst.iter().zip(&plan.fullest_places);
    let worst: Vec<FullObject> = worst.map(full).collect();
    let letter = |colour: Colour| plan.colour_names[usize::from(colour.0)].0;
    let (size, order) = (&plan.size, &plan.order);
    PlanObject {
        format: FORMAT,
        beads: beads(plan),
        colours_alike: plan
            .alike
            .iter()
            .map(|alike| AlikeObject {
                a: letter(alike.a),
                b: letter(alike.b),
                better_b: alike.better.map(hex),
                seen: alike
                    .seen
                    .iter()
                    .map(|(seen, far)| SeenObject {
                        difference: f64::from(*far).into(),
                        how: seen.name(),
                    })
                    .collect(),
            })
            .collect(),
        fullest: worst.first().cloned(),
        grams: plan.grams().into(),
        holes: HolesObject {
            beads_by_passes: plan.fullest.histogram.clone(),
            blocked: plan.fullest.blocked,
            help: plan.fullest.help.iter().map(help).collect(),
            tight: plan.fullest.tight,
            worst,
        },
        jobs: plan
            .job_titles
            .iter()
            .enumerate()
            .map(|(nth, title)| JobObject {
                job: title.clone(),
                minutes: plan.job_minutes(nth).into(),
                steps: plan.walk.jobs[nth].kinds.iter().sum(),
                thread_mm: plan.job_thread_mm[nth].into(),
            })
            .collect(),
        joining: JoiningObject {
            fewest_threads: order.fewest_threads,
            further_threads: order.further_threads,
            joins: order.joins,
            least_with_one_thread: order.one_thread.cost,
            least_with_one_thread_is_reached: order.one_thread.exact,
            least_with_these_threads: order.with_panel_threads.cost,
            panel_threads: order.panel_threads,
            passes_only_to_get_there: order.retravel,
        },
        letters_alike: plan
            .like_letters
            .iter()
            .map(|like| LettersObject {
                a: letter(like.a),
                b: letter(like.b),
                better_b: like.better,
            })
            .collect(),
        lining: plan.lining.map(|lining| LiningObject {
            depth_mm: lining.depth_mm.into(),
            edge_mm: lining.edge_mm.into(),
            longest_edge_mm: lining.longest_edge_mm.into(),
            room_behind_mm: lining.room_behind_mm.into(),
            rounds: lining.rounds,
        }),
        minutes: plan.minutes.into(),
        needle: NeedleObject {
            diameter_mm: plan.needle.diameter_mm,
            size: needle_size(plan),
            widest_comfortable_size: plan.fullest.widest_comfortable,
        },
        openings: plan.openings.iter().map(opening).collect(),
        panel_kinds: kinds(plan),
        panels: panels(plan),
        ring: plan.ring.as_ref().map(|ring| RingObject {
            face_height_mm: ring.face_height_mm.into(),
            face_height_needed_mm: ring.face_height_needed_mm.into(),
            hinge_mm: ring.hinge_mm.into(),
            longest_hinge_mm: ring.longest_hinge_mm.into(),
            margin_mm: ring.margin_mm.into(),
            plates_margin_mm: ring.plates_margin_mm.into(),
            smallest_that_turns: ring.smallest,
            tetrahedra: ring.tetrahedra,
            turns: ring.verdict != Verdict::Binds,
            verdict: match ring.verdict {
                Verdict::Turns => "turns",
                Verdict::Tight => "tight",
                Verdict::Binds => "binds",
            },
        }),
        size_mm: SizeObject {
            edge: size.edge_mm.into(),
            height: size.height_mm.map(Amount::from),
            hole: size.hole_mm.map(Amount::from),
            through: size.through_mm.map(Amount::from),
        },
        spare_percent: plan.wishes.spare_percent,
        stitch_seconds: plan.wishes.stitch_seconds,
        stone: plan
            .stones
            .iter()
            .map(|fit| StoneObject {
                held: fit.held.as_ref().map(opening),
                nearest: fit.nearest.iter().map(opening).collect(),
                panel: fit.panel.clone(),
                stone_mm: fit.stone_mm,
            })
            .collect(),
        thread: ThreadObject {
            cut_mm: plan.thread.cut_mm,
            diameter_mm: plan.thread.diameter_mm,
            longer_than_cut: plan.too_long(),
            tail_mm: plan.thread.tail_mm,
        },
        thread_lengths: thread_lengths(plan),
        thread_mm: plan.thread_mm().into(),
        threads: plan.threads.len(),
        total_beads: plan.total_beads,
        total_steps: plan.total_steps,
    }
}

/// The ways through a bead, from wide to full.
const PASSINGS: [Passing; 3] = [Passing::Comfortable, Passing::Tight, Passing::Blocked];

/// The verdict's name in output.
pub fn verdict(passing: Passing) -> &'static str {
    match passing {
        Passing::Comfortable => "comfortable",
        Passing::Tight => "tight",
        Passing::Blocked => "blocked",
    }
}

fn beads(plan: &Plan) -> BTreeMap<char, BeadsObject> {
    let beads = plan.beads.iter().map(|beads| {
        let object = BeadsObject {
            buy_grams: beads.buy_grams.into(),
            count: beads.count,
            grams: beads.grams.into(),
            name: beads.name.clone(),
            spare: beads.spare,
        };
        (beads.letter, object)
    });
    beads.collect()
}

fn panels(plan: &Plan) -> Vec<PanelObject> {
    let panels = plan.panels.iter().map(|panel| PanelObject {
        flatness: panel.flatness.into(),
        flattest: LawObject {
            corners: panel.flattest.law.word().to_vec(),
            flatness: panel.flattest.flatness.into(),
            start: match panel.flattest.law.start() {
                Start::Sides => "sides",
                Start::Points => "points",
            },
        },
        panel: panel.panel.clone(),
        rounds: panel.rounds,
        sides: panel.sides,
        verdict: panel.lie.words(),
    });
    panels.collect()
}

fn help(help: &Help) -> HelpObject {
    let (needle, thread, route) = match *help {
        Help::Needle(size) => (Some(size), None, None),
        Help::Thread(name) => (None, Some(name), None),
        Help::Both(size, name) => (Some(size), Some(name), None),
        Help::NextDoor => (None, None, Some("another row of beads next door")),
    };
    HelpObject {
        needle,
        route,
        thread,
    }
}

fn thread_lengths(plan: &Plan) -> Vec<LengthObject> {
    let each = plan.threads.iter().map(|thread| LengthObject {
        begins_in: plan.job_titles[thread.jobs.0].clone(),
        ends_in: plan.job_titles[thread.jobs.1].clone(),
        first_bead: thread.first_bead.map(|bead| bead.0),
        first_step: thread.steps.first.0,
        last_bead: thread.last_bead.map(|bead| bead.0),
        last_step: thread.steps.last.0,
        mm: thread.takes_mm.into(),
    });
    each.collect()
}

/// The size number of the plan's needle, if it is a usual one.
pub fn needle_size(plan: &Plan) -> Option<u8> {
    let usual = NEEDLES.iter();
    let mut same = usual.filter(|(_, mm)| (mm - plan.needle.diameter_mm).abs() < 1e-9);
    same.next().map(|(size, _)| *size)
}

fn opening(opening: &Opening) -> OpeningObject {
    let (least, most) = opening.holds_mm();
    OpeningObject {
        beads_per_side: opening.beads,
        incircle_mm: opening.incircle_mm.into(),
        panel: opening.panel.clone(),
        stone_mm: [least.into(), most.into()],
        stop_at_round: opening.stop_at.0,
    }
}

fn kinds(plan: &Plan) -> KindsObject {
    let kinds = plan.kinds.kinds.iter().map(|kind| KindObject {
        count: kind.count,
        join_rows: kind.rows,
        panel: kind.panel.clone(),
        side_by_side: kind.side_by_side,
    });
    KindsObject {
        fewest: plan.kinds.fewest,
        kinds: kinds.collect(),
        why: match plan.kinds.why {
            Why::OneEach => Some(WhyObject::Text("one kind for each pattern of panel")),
            Why::Uneven { rows, panels } => Some(WhyObject::Uneven(UnevenObject { panels, rows })),
            Why::NotProved => None,
        },
    }
}

/// A colour as a pattern file writes it.
pub fn hex(Rgb(red, green, blue): Rgb) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}
