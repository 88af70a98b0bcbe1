//! Kinds of panel: panels that are made alike are described and drawn once.

use crate::beadwork::job::JobKind;
use crate::beadwork::layout::PanelMaking;
use crate::beadwork::making::Begin;
use crate::beadwork::round_info::{RoundInfo, of_job};
use crate::beadwork::{Job, Panel, Sequence, Side};

use super::drawing::Drawing;
use super::round::RoundOnPaper;
use super::{Hand, draw, left_out, own_steps};

/// Panels that are made alike.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelOnPaper {
    /// The name of their pattern.
    pub name: String,
    /// The names of the panels, in the order in which they are made.
    pub panels: Vec<String>,
    /// How they begin and continue, in words.
    pub begins: String,
    /// Number of beads in one of them.
    pub beads: u32,
    /// The rounds that are listed, in the order in which they are made.
    pub rounds: Vec<RoundOnPaper>,
    /// Number of rounds that are not listed.
    pub more_rounds: u32,
    /// How to count the finished edge and the rim of an open middle, if there
    /// are any.
    pub edge: Option<String>,
    /// Side 1 of each listed round, its beads as letters, the outermost round
    /// first.
    pub side_letters: Vec<(u32, String)>,
    /// The drawing.
    pub drawing: Drawing,
}

impl PanelOnPaper {
    /// What the finished panels are used as.
    pub fn become_words(&self) -> String {
        const NAMED: usize = 12;
        match &self.panels[..] {
            [] => String::new(),
            [one] => format!("It becomes {one}."),
            all if all.len() > NAMED => format!(
                "They become {} and {} more.",
                all[..NAMED].join("; "),
                all.len() - NAMED
            ),
            all => format!("They become {}.", all.join("; ")),
        }
    }

    /// Whether it is a strip, which has one side.
    pub fn is_strip(&self) -> bool {
        self.rounds.iter().any(|round| round.per_side.len() == 1)
    }

    /// What it is called: `Panel 'face'`, `Strip 'band'`.
    pub fn heading(&self) -> String {
        let what = if self.is_strip() { "Strip" } else { "Panel" };
        format!("{what} '{}'", self.name)
    }

    /// What its rounds are called: `round`, or of a strip `row`.
    pub fn round_word(&self) -> &'static str {
        if self.is_strip() { "row" } else { "round" }
    }

    /// Says how many more rounds there are, if any.
    pub fn more_words(&self) -> Option<String> {
        let word = self.round_word();
        left_out(self.more_rounds as usize, word, &format!("{word}s"))
    }
}

/// The most rounds listed for one kind of panel.
pub(super) const ROUNDS_LISTED: usize = 400;

/// How a panel is made, and whether another is set in its middle.
type MadeAlike = (PanelMaking, bool);

/// The kinds of panel in a piece, in the order in which they are first made.
pub(super) fn kinds(seq: &Sequence, hand: Hand, budget: &mut draw::Budget) -> Vec<PanelOnPaper> {
    let layout = seq.layout();
    let mut kinds: Vec<(MadeAlike, Vec<(Job, Panel)>)> = vec![];
    for (at, job) in seq.jobs().iter().enumerate() {
        let (JobKind::Panel(panel) | JobKind::Fill { panel, .. }) = job.kind else {
            continue;
        };
        let key = (layout.making_of(panel), has_middle(seq, panel));
        let made = (Job(at as u16), panel);
        match kinds.iter_mut().find(|(known, _)| *known == key) {
            Some((_, alike)) => alike.push(made),
            None => kinds.push((key, vec![made])),
        }
    }
    let kinds = kinds.into_iter();
    kinds
        .map(|(_, alike)| kind(seq, &alike, hand, budget))
        .collect()
}

/// Whether another panel is set in the open middle of this one.
fn has_middle(seq: &Sequence, panel: Panel) -> bool {
    seq.seams().in_middle_of(panel).is_some()
}

fn kind(
    seq: &Sequence,
    alike: &[(Job, Panel)],
    hand: Hand,
    budget: &mut draw::Budget,
) -> PanelOnPaper {
    let layout = seq.layout();
    let (job, panel) = alike[0];
    let spec = &layout.project().panels[layout.panel(panel).spec];
    let (kind, making) = (layout.kind(panel), layout.making(panel));
    let rounds = of_job(seq, job);
    // What is not done in every panel of the kind stands in its stage alone.
    let own_of = |job: &Job| own_steps::in_job(seq, seq.job(*job));
    let own = own_of(&job);
    let is_in_all = alike.iter().all(|(job, _)| own_of(job) == own);
    let own = if is_in_all { own } else { vec![] };
    // A piece with a single stage has its list of stages on the same page.
    let stages = if seq.jobs().len() == 1 { 6 } else { 0 };
    let more_rounds = rounds.len().saturating_sub(ROUNDS_LISTED) as u32;
    let all_sides = |on_side: &dyn Fn(Side) -> u32| {
        let sides: Vec<u32> = (0..kind.sides()).map(|s| on_side(Side(s))).collect();
        match sides.iter().all(|&s| s == sides[0]) {
            true => format!("{} along each side", sides[0]),
            false => sides
                .iter()
                .map(u32::to_string)
                .collect::<Vec<_>>()
                .join(", "),
        }
    };
    // The edge of a fill is locked into the rim that it fills.
    let outer = (kind.can_be_joined() && making.begin != Begin::Rim).then(|| {
        let high = kind.in_round(kind.last());
        let each = all_sides(&|side| kind.edge(side));
        let shared = match kind.corner(kind.last()) {
            1 => ", a corner bead counted on both its sides",
            _ => "",
        };
        format!("Count the edge: {high} up beads, {each}{shared}.")
    });
    let inner = (making.innermost().0 > 1).then(|| {
        let round = making.innermost();
        let high = kind.in_round(round);
        let each = all_sides(&|side| kind.on_side(round, side));
        format!("Count the rim of the opening: {high} up beads, {each}.")
    });
    let counts: Vec<String> = outer.into_iter().chain(inner).collect();
    let edge = (!counts.is_empty()).then(|| counts.join(" "));
    PanelOnPaper {
        name: spec.name.clone(),
        panels: alike
            .iter()
            .map(|(_, panel)| layout.panel(*panel).name.clone())
            .collect(),
        begins: begins(
            making.begin,
            layout.begins_with_strips(panel),
            (making.innermost().0, has_middle(seq, panel)),
            kind.rounds(),
        ),
        beads: making.beads(),
        rounds: rounds
            .iter()
            .take(ROUNDS_LISTED)
            .map(|round| RoundOnPaper::of(seq, round, &own))
            .collect(),
        more_rounds,
        edge,
        side_letters: side_letters(seq, &rounds),
        drawing: draw::panel(
            seq,
            panel,
            hand,
            budget,
            draw::height(rounds.len() + stages, alike.len()),
        ),
    }
}

fn side_letters(seq: &Sequence, rounds: &[RoundInfo]) -> Vec<(u32, String)> {
    let beads = seq.layout().bead_kinds();
    let letters = |made: &RoundInfo| {
        let side = made.colours(seq, Side(0));
        let letters = side
            .map(|colour| beads[usize::from(colour.0)].letter)
            .collect();
        (made.round.0, letters)
    };
    let mut all: Vec<_> = rounds.iter().take(ROUNDS_LISTED).map(letters).collect();
    all.sort_by_key(|(round, _)| std::cmp::Reverse(*round));
    all
}

fn begins(begin: Begin, strips: bool, innermost: (u32, bool), last: u32) -> String {
    let open = match innermost {
        (1, _) => "until the middle closes: go once more round the last beads".to_string(),
        (inner, true) => {
            format!("and stop at round {inner}: another panel is set in its middle")
        }
        (inner, false) => format!(
            "and stop at round {inner}: its middle stays open; go twice round the rim to reinforce it"
        ),
    };
    match begin {
        Begin::Ring => format!(
            "Begin in the middle with the ring and work outward to round {last}. Each round ends with \
             a step-up through two beads."
        ),
        Begin::TwoRows => format!(
            "String rows 1 and 2 together, then turn and work back, and so on back and forth to row \
             {last}: pick up a bead, sew through the next up bead. At the end of a \
             row the work only turns."
        ),
        Begin::FreeStart if strips => format!(
            "Begin at the outer edge with a strip for each side: string rounds {last} and {} of the side together and weave \
             the end in; the thread of the last strip goes on. The corners of the next round draw them together. Work \
             inward, {open}. Each round ends with a step-down through two beads.",
            last - 1
        ),
        Begin::FreeStart => format!(
            "Begin at the outer edge with a free start: string rounds {last} and {} together, close them to a ring, and \
             work inward, {open}. Each round ends with a step-down through two beads.",
            last - 1
        ),
        Begin::Rim => format!(
            "Begin on the rim of the opening, a bead in each gap along its sides, and work inward, \
             {open}. Each round ends with a step-down through two beads."
        ),
    }
}
