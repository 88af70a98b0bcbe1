//! The plan as one JSON object, format 1. Programs rely on it: keys may be
//! added, but those here keep their meaning. Its schema,
//! docs/outputs/plan.schema.json, is made from these types.

use std::borrow::Cow;
use std::collections::BTreeMap;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Serialize;

use super::colours::{Alike, LikeLetters, Seen};
use super::cuts::JoinedLengths;
use super::flat::{Flatness, Flattest};
use super::fullest::{FullBead, Help};
use super::kinds::{Kinds, KindsReason, PanelKind};
use super::lining::Lining;
use super::materials::ColourAmount;
use super::order::Order;
use super::size::Size;
use super::stone::{Opening, OtherPanel, StoneFit};
use super::turning::Turning;
use super::{Plan, PlannedJob, PlannedThread};
use crate::beadwork::corner_law::Start;
use crate::beadwork::hole::Passing;
use crate::beadwork::kaleidocycle::RingVerdict;

/// The version of the format, in the object's first field.
const FORMAT: u8 = 1;

/// Millimetres, grams, minutes and other measures, to thousandths.
#[derive(Clone, Copy, Debug, Serialize)]
struct Amount(f64);

fn amount(value: f64) -> Amount {
    Amount(thousandths(value))
}

/// A measure rounded to thousandths, as JSON output has them.
pub fn thousandths(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
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

/// Objects of the output: each field with its type and the value it takes.
/// Fields are in alphabetical order, as they have always been printed.
macro_rules! objects {
    ($($(#[$doc:meta])* $vis:vis $name:ident of $it:pat_param in $from:ty {
        $($(#[$of:meta])* $field:ident: $type:ty = $value:expr,)*
    })*) => {$(
        #[derive(Clone, Debug, Serialize, JsonSchema)]
        $(#[$doc])*
        $vis struct $name {
            $($(#[$of])* $field: $type,)*
        }

        impl From<$from> for $name {
            fn from($it: $from) -> Self {
                $name { $($field: $value,)* }
            }
        }
    )*};
}

/// Objects of a list.
fn each<'a, T: 'a, O: From<&'a T>>(list: &'a [T]) -> Vec<O> {
    list.iter().map(O::from).collect()
}

/// Objects of a list of the plan that need the plan as well.
fn with<'a, T: 'a, O: From<(&'a Plan, &'a T)>>(plan: &'a Plan, list: &'a [T]) -> Vec<O> {
    list.iter().map(|item| O::from((plan, item))).collect()
}

objects! {
    /// The plan as it is printed for other programs.
    #[schemars(title = "The object of plan --json")]
    pub PlanObject of plan in &Plan {
        #[schemars(extend("const" = FORMAT))]
        format: u8 = FORMAT,
        beads: BTreeMap<char, BeadsObject> = plan.beads.iter().map(|b| (b.letter, b.into())).collect(),
        colours_alike: Vec<AlikeObject> = with(plan, &plan.alike),
        fullest: Option<FullObject> = plan.fullest.worst.first().map(Into::into),
        grams: Amount = amount(plan.grams()),
        holes: HolesObject = plan.into(),
        jobs: Vec<JobObject> = each(&plan.jobs),
        joining: JoiningObject = (&plan.order).into(),
        letters_alike: Vec<LettersObject> = with(plan, &plan.like_letters),
        lining: Option<LiningObject> = plan.lining.as_ref().map(Into::into),
        minutes: Amount = amount(plan.minutes),
        needle: NeedleObject = plan.into(),
        openings: Vec<OpeningObject> = each(&plan.openings),
        panel_kinds: KindsObject = (&plan.kinds).into(),
        panels: Vec<PanelObject> = each(&plan.panels),
        ring: Option<RingObject> = plan.ring.as_ref().map(Into::into),
        size_mm: SizeObject = (&plan.size).into(),
        spare_percent: f64 = plan.wishes.spare_percent,
        stitch_seconds: f64 = plan.wishes.stitch_seconds,
        stone: Vec<StoneObject> = each(&plan.stones),
        thread: ThreadObject = plan.into(),
        thread_lengths: Vec<LengthObject> = with(plan, &plan.threads),
        thread_mm: Amount = amount(plan.thread_mm()),
        threads: usize = plan.threads.len(),
        total_beads: u32 = plan.total_beads,
        total_steps: u32 = plan.total_steps,
    }

    BeadsObject of beads in &ColourAmount {
        buy_grams: Amount = amount(beads.buy_grams),
        count: u32 = beads.count,
        grams: Amount = amount(beads.grams),
        name: String = beads.name.clone(),
        spare: u32 = beads.spare,
    }

    AlikeObject of (plan, alike) in (&Plan, &Alike) {
        a: char = plan.beads_of(alike.a).letter,
        b: char = plan.beads_of(alike.b).letter,
        better_b: Option<String> = alike.better.map(|better| better.to_string()),
        seen: Vec<SeenObject> = each(&alike.seen),
    }

    SeenObject of (seen, far) in &(Seen, f32) {
        difference: Amount = amount(f64::from(*far)),
        #[schemars(extend("enum" = Seen::ALL.map(Seen::name)))]
        how: &'static str = seen.name(),
    }

    FullObject of bead in &FullBead {
        bead: u32 = bead.number.0,
        colour: char = bead.letter,
        job: String = bead.job.clone(),
        passes: u32 = bead.passes,
        place: u32 = bead.place,
        round: u32 = bead.round,
        side: u32 = bead.side,
        #[schemars(extend("enum" = PASSINGS.map(verdict)))]
        verdict: &'static str = verdict(bead.verdict),
    }

    HolesObject of plan in &Plan {
        beads_by_passes: Vec<u32> = plan.fullest.histogram.clone(),
        blocked: u32 = plan.fullest.blocked,
        help: Vec<HelpObject> = each(&plan.fullest.help),
        tight: u32 = plan.fullest.tight,
        worst: Vec<FullObject> = each(&plan.fullest.worst),
    }

    /// A needle, a thread, both, or another path.
    HelpObject of help in &Help {
        #[serde(skip_serializing_if = "Option::is_none")]
        needle: Option<u8> = match *help {
            Help::Needle(size) | Help::Both(size, _) => Some(size),
            Help::Thread(_) | Help::NextDoor => None,
        },
        #[serde(skip_serializing_if = "Option::is_none")]
        route: Option<&'static str> = (*help == Help::NextDoor).then_some("another row of beads next door"),
        #[serde(skip_serializing_if = "Option::is_none")]
        thread: Option<&'static str> = match *help {
            Help::Thread(name) | Help::Both(_, name) => Some(name),
            Help::Needle(_) | Help::NextDoor => None,
        },
    }

    JobObject of job in &PlannedJob {
        job: String = job.title.clone(),
        minutes: Amount = amount(job.minutes),
        steps: u32 = job.steps,
        thread_mm: Amount = amount(job.thread_mm),
    }

    JoiningObject of order in &Order {
        fewest_threads: usize = order.fewest_threads,
        further_threads: usize = order.further_threads,
        hinges: usize = order.hinges,
        joins: usize = order.joins,
        least_with_one_thread: u64 = order.one_thread.cost,
        least_with_one_thread_is_reached: bool = order.one_thread.exact,
        least_with_these_threads: u64 = order.with_panel_threads.cost,
        panel_threads: usize = order.panel_threads,
        passes_only_to_get_there: u32 = order.retravel,
    }

    LettersObject of (plan, like) in (&Plan, &LikeLetters) {
        a: char = plan.beads_of(like.a).letter,
        b: char = plan.beads_of(like.b).letter,
        better_b: Option<char> = like.better,
    }

    LiningObject of lining in &Lining {
        depth_mm: Amount = amount(lining.depth_mm),
        edge_mm: Amount = amount(lining.edge_mm),
        fits: Option<bool> = lining.made_rounds.map(|made| made <= lining.rounds),
        longest_edge_mm: Amount = amount(lining.longest_edge_mm),
        room_behind_mm: Amount = amount(lining.room_behind_mm),
        rounds: u32 = lining.rounds,
    }

    NeedleObject of plan in &Plan {
        diameter_mm: f64 = plan.needle.diameter_mm,
        size: Option<u8> = plan.needle.size(),
        widest_comfortable_size: Option<u8> = plan.fullest.widest_comfortable,
    }

    OpeningObject of opening in &Opening {
        beads_per_side: u32 = opening.beads.iter().copied().min().unwrap_or(0),
        incircle_mm: Amount = amount(opening.incircle_mm),
        panel: String = opening.panel.clone(),
        set_stone_mm: Option<Amount> = opening.stone_mm.map(amount),
        stone_mm: [Amount; 2] = <[f64; 2]>::from(opening.holds_mm()).map(amount),
        stop_at_round: u32 = opening.stop_at.0,
    }

    KindsObject of kinds in &Kinds {
        fewest: usize = kinds.fewest,
        kinds: Vec<KindObject> = each(&kinds.kinds),
        why: Option<WhyObject> = why(kinds.why),
    }

    KindObject of kind in &PanelKind {
        count: usize = kind.count,
        join_rows: u32 = kind.rows,
        panel: String = kind.panel.clone(),
        side_by_side: bool = kind.side_by_side,
    }

    UnevenObject of (panels, rows) in (usize, u32) {
        panels: usize = panels,
        rows: u32 = rows,
    }

    PanelObject of panel in &Flatness {
        flatness: Amount = amount(panel.flatness),
        flattest: LawObject = (&panel.flattest).into(),
        panel: String = panel.panel.clone(),
        rounds: u32 = panel.rounds,
        sides: u8 = panel.sides,
        verdict: &'static str = panel.lie.words(),
    }

    LawObject of flattest in &Flattest {
        #[schemars(inner(range(min = 0, max = 2)))]
        corners: Vec<u8> = flattest.law.word().to_vec(),
        flatness: Amount = amount(flattest.flatness),
        #[schemars(extend("enum" = ["sides", "points"]))]
        start: &'static str = start(flattest.law.start()),
    }

    RingObject of ring in &Turning {
        face_height_mm: Amount = amount(ring.face_height_mm),
        face_height_needed_mm: Amount = amount(ring.face_height_needed_mm),
        hinge_mm: Amount = amount(ring.hinge_mm),
        longest_hinge_mm: Amount = amount(ring.longest_hinge_mm),
        margin_mm: Amount = amount(ring.margin_mm),
        plates_margin_mm: Amount = amount(ring.plates_margin_mm),
        smallest_that_turns: u16 = ring.smallest,
        tetrahedra: u16 = ring.tetrahedra,
        turns: bool = ring.verdict != RingVerdict::Binds,
        #[schemars(extend("enum" = ["turns", "tight", "binds"]))]
        verdict: &'static str = match ring.verdict {
            RingVerdict::Turns => "turns",
            RingVerdict::Tight => "tight",
            RingVerdict::Binds => "binds",
        },
    }

    SizeObject of size in &Size {
        edge: Amount = amount(size.edge_mm),
        edge_to: Option<Amount> = size.bellied.map(|most| amount(most.edge_mm)),
        height: Option<Amount> = size.height_mm.map(amount),
        height_to: Option<Amount> = size.bellied.and_then(|most| most.height_mm).map(amount),
        hole: Option<Amount> = size.hole_mm.map(amount),
        through: Option<Amount> = size.through_mm.map(amount),
        through_to: Option<Amount> = size.bellied.and_then(|most| most.through_mm).map(amount),
    }

    StoneObject of fit in &StoneFit {
        held: Option<OpeningObject> = fit.held.as_ref().map(Into::into),
        nearest: Vec<OpeningObject> = each(&fit.nearest),
        other_panels: Vec<OtherPanelObject> = each(&fit.others),
        panel: String = fit.panel.clone(),
        stone_mm: f64 = fit.stone_mm,
    }

    OtherPanelObject of other in &OtherPanel {
        rounds: u32 = other.rounds,
        sides: u8 = other.sides,
        stop_at: u32 = other.stop_at.0,
    }

    ThreadObject of plan in &Plan {
        cut_mm: f64 = plan.thread.cut_mm,
        diameter_mm: f64 = plan.thread.diameter_mm,
        left_over_fitted_mm: Amount = amount(plan.cuts.left_over_fitted_mm()),
        left_over_mm: Amount = amount(plan.cuts.left_over_mm()),
        longer_than_cut: usize = plan.too_long(),
        one_length: Vec<JoinedLengthsObject> = each(&plan.cuts.joined),
        tail_mm: f64 = plan.thread.tail_mm,
    }

    JoinedLengthsObject of joined in &JoinedLengths {
        cut_mm: f64 = joined.cut_mm,
        first: usize = joined.first,
        last: usize = joined.last,
    }

    LengthObject of (plan, thread) in (&Plan, &PlannedThread) {
        begins_in: String = plan.jobs[thread.jobs.0].title.clone(),
        cut_mm: f64 = thread.choice.thread.cut_mm,
        diameter_mm: f64 = thread.choice.thread.diameter_mm,
        ends_in: String = plan.jobs[thread.jobs.1].title.clone(),
        fitted_mm: f64 = thread.fitted_mm,
        first_bead: Option<u32> = thread.first_bead.map(|bead| bead.0),
        first_step: u32 = thread.steps.first.0,
        last_bead: Option<u32> = thread.last_bead.map(|bead| bead.0),
        last_step: u32 = thread.steps.last.0,
        mm: Amount = amount(thread.takes_mm),
    }
}

/// The whole plan as an object.
pub fn object(plan: &Plan) -> PlanObject {
    plan.into()
}

/// Why there are not fewer kinds of panel.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
enum WhyObject {
    Text(&'static str),
    Uneven(UnevenObject),
}

fn why(why: KindsReason) -> Option<WhyObject> {
    match why {
        KindsReason::OneEach => Some(WhyObject::Text("one kind for each pattern of panel")),
        KindsReason::Uneven { rows, panels } => Some(WhyObject::Uneven((panels, rows).into())),
        KindsReason::NotProved => None,
    }
}

/// How the needle goes through a bead, from comfortable to blocked.
const PASSINGS: [Passing; 3] = [Passing::Comfortable, Passing::Tight, Passing::Blocked];

/// The verdict's name in output.
pub fn verdict(passing: Passing) -> &'static str {
    match passing {
        Passing::Comfortable => "comfortable",
        Passing::Tight => "tight",
        Passing::Blocked => "blocked",
    }
}

/// What a ring is made of, by its name in output.
pub fn start(start: Start) -> &'static str {
    match start {
        Start::Sides => "sides",
        Start::Points => "points",
    }
}
