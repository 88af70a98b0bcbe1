//! Of all changes that are offered, and of those offered after each, some are made:
//! everything that shows a piece can handle the result, and leaves out what is left
//! out.

use super::*;
use crate::beadwork::amend::Amendment;
use crate::beadwork::job::JobKind;
use crate::geometry::net::Net;
use crate::geometry::shape::Shape;
use crate::plan::page::{Unit, page};
use crate::plan::{Plan, Wishes, json};
use crate::progress::{Entry, Event, MoveReason};
use crate::screen::layers::OF_A_PIECE;
use crate::sheet::{Sheet, SheetOptions, html, svg, text};
use crate::tracking::locate::{Next, Reply, Search};

use crate::geometry::ring::RingCycle;
use crate::geometry::standing::Standing;

/// A piece, its current step, and the changes that led there.
struct Changed {
    seq: Sequence,
    done: u32,
    changes: Vec<Amendment>,
}

impl Changed {
    /// The piece with one change more.
    fn with(&self, amendment: Amendment) -> Option<Changed> {
        Some(Changed {
            seq: self.seq.amended(Step(self.done), &amendment).ok()?,
            changes: [&self.changes[..], &[amendment]].concat(),
            ..*self
        })
    }

    /// The piece as it is read back from its journal.
    fn piece(&self, before: &Sequence) -> Piece {
        let mut piece = Piece::in_memory("Trial", b"{}", before.steps(), Moment(0));
        if self.done > 0 {
            let entry = Entry::played(before, (0, self.done), MoveReason::Jump, Moment(1));
            let _ = piece.record(entry);
        }
        for amendment in &self.changes {
            let did = Event::Amend(amendment.clone());
            let _ = piece.record(Entry { at: Moment(1), did });
        }
        let again = piece.resume(self.seq.layout().project().clone(), &[]);
        assert_eq!(piece.notices(), []);
        assert!(again.iter().eq(self.seq.iter()));
        piece
    }
}

/// The first step, and the start and the middle of each job.
fn places(seq: &Sequence) -> Vec<u32> {
    let jobs = seq.jobs().iter();
    let mut places: Vec<u32> = jobs
        .flat_map(|job| [job.steps_before, job.steps_before + job.steps / 2])
        .collect();
    places.dedup();
    places
}

fn look_at_the_plan(seq: &Sequence) {
    let beads = seq.layout().beads();
    let plan = Plan::of(seq, Wishes::default());
    let counted: u32 = plan.beads.iter().map(|b| b.count).sum();
    assert_eq!((plan.total_beads, counted), (beads, beads));
    assert!(!page("Trial", &plan, Unit::Inches).is_empty());
    assert!(serde_json::to_string(&json::object(&plan)).is_ok());
    let makes = |job: &&crate::beadwork::job::JobInfo| job.kind.makes().is_some();
    let panels = seq.jobs().iter().filter(makes).count();
    let kinds: usize = plan.kinds.kinds.iter().map(|kind| kind.count).sum();
    assert_eq!(kinds, panels, "{:?}", plan.kinds);

    let sheet = Sheet::of(seq, &plan, "Trial", "", SheetOptions::default());
    let told: usize = sheet.panels.iter().map(|kind| kind.panels.len()).sum();
    assert_eq!(told, panels);
    let rows = |kind: &JobKind| matches!(kind, JobKind::JoinRow { .. });
    if !seq.jobs().iter().any(|job| rows(&job.kind)) {
        let beads_told = sheet
            .panels
            .iter()
            .map(|kind| kind.beads * kind.panels.len() as u32);
        assert_eq!(beads_told.sum::<u32>(), beads);
    }
    for told in [html::page(&sheet), svg::file(&sheet), text::page(&sheet)] {
        assert!(!told.is_empty());
    }
}

fn look_at_the_solid(seq: &Sequence, done: u32) {
    let body = Shape::of(seq);
    for standing in [
        Standing::at(seq, &body, Step(done)),
        Standing::finished(seq, &body),
    ] {
        assert!(!format!("{standing:?}").is_empty());
    }
    let places = Net::of(&body).at(0.5);
    assert_eq!(places.len(), body.plates.len());
    let _ = RingCycle::of(&body).map(|ring| ring.at(0.5));
}

/// Searches for a lost place, with vague answers.
fn look_for_a_place(seq: &Sequence) {
    let mut search = Search::new(std::sync::Arc::new(seq.clone()));
    for said in [Reply::Value(3), Reply::CannotTell, Reply::Value(1)] {
        match search.turn() {
            Next::Ask(question) => search.reply(question.ask, said),
            Next::Found(_) => search.deny_result(),
        }
    }
}

fn look_at_the_screens(changed: &Changed, before: &Sequence) {
    let piece = changed.piece(before);
    let session = Session::new(changed.seq.clone(), piece, LOOK, Moment(1));
    let mut s = Sitting::of(session);
    for screen in OF_A_PIECE {
        let mut keys = screen.key.keys.split(' ').filter(|key| key.len() == 1);
        let Some(opens) = keys.next() else { continue };
        while !s.stack.is_lowest() {
            s.press("^");
        }
        s.press(opens);
        s.wait();
        s.shown(40, 12);
        let lines = screen.tables.iter().flat_map(|table| {
            let keys = table();
            keys.lines.iter().chain(keys.rest)
        });
        for key in lines.flat_map(|line| line.keys.split(' ')) {
            match key {
                "up" => s.press("↑"),
                "down" => s.press("↓"),
                "right" => s.press("→"),
                "Enter" => s.press("!"),
                "Tab" => s.press("⇥"),
                // These would undo the changes.
                "z" | "u" => None,
                key if key.len() == 1 => s.press(key),
                _ => None,
            };
            s.wait();
            s.shown(80, 24);
        }
    }
    let lines = "\n\np\nv\nm\nesc\nh\nesc\no\nesc\nw\nesc\n";
    let piece = changed.piece(before);
    let mut out = vec![];
    crate::screen::plain(changed.seq.clone(), piece, lines.as_bytes(), &mut out).unwrap();
    assert!(!out.is_empty());
}

/// One offer in this many is made, drawn on paper and as a solid, and changed again;
/// `SEED` decides which.
const PAPER: usize = 53;
/// One offer in this many is made and drawn on every screen.
const SCREENS: usize = 211;

#[test]
fn whatever_is_changed_can_be_shown_everywhere() {
    let given = std::env::var("SEED").ok();
    let seed: usize = given.and_then(|seed| seed.parse().ok()).unwrap_or(0);
    let (mut offered, mut papers, mut screens) = (0, 0, 0);
    for before in proof::pieces() {
        let place = |done| Changed {
            seq: before.clone(),
            done,
            changes: vec![],
        };
        let mut open: Vec<Changed> = places(&before).into_iter().map(place).collect();
        while let Some(changed) = open.pop() {
            for amendment in changed.seq.amendments(Step(changed.done)) {
                offered += 1;
                let is_one_of = |many: usize| (offered + seed).is_multiple_of(many);
                if !is_one_of(PAPER) && !is_one_of(SCREENS) {
                    continue;
                }
                let Some(changed) = changed.with(amendment) else {
                    continue;
                };
                if is_one_of(SCREENS) {
                    look_for_a_place(&changed.seq);
                    look_at_the_screens(&changed, &before);
                    screens += 1;
                }
                if is_one_of(PAPER) {
                    look_at_the_plan(&changed.seq);
                    look_at_the_solid(&changed.seq, changed.done);
                    papers += 1;
                    if changed.changes.len() == 1 {
                        open.push(changed);
                    }
                }
            }
        }
    }
    assert!(
        papers > 100 && screens > 25,
        "{papers} on paper, {screens} on screens of {offered}"
    );
}
