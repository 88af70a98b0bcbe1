//! Panels: made by themselves, or filled into an opening.

use super::Builder;
use super::repeat::Made;
use crate::beadwork::end::Hole;
use crate::beadwork::frame::Frame;
use crate::beadwork::job::JobKind;
use crate::beadwork::layout::RowIndex;
use crate::beadwork::making::Begin;
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Panel, Round, Side};
use crate::beadwork::project::{SpecIndex, Way};
use crate::beadwork::stage::{FreeStart, RimRound, Ring, Rounds, Run, Still, Through};

impl Builder {
    /// Makes a panel by itself, with thread of its own.
    pub(in crate::beadwork) fn panel(
        &mut self,
        name: String,
        spec: SpecIndex,
        frame: Frame,
    ) -> Panel {
        self.end_thread();
        let begin = match self.layout.project().panels[spec].way {
            Way::Outward => Begin::Ring,
            Way::Inward => Begin::FreeStart,
        };
        let title = name.clone();
        let panel = self.layout.add_panel(name, spec, begin, None, frame);
        self.begin(JobKind::Panel(panel), title);
        let known = (spec, begin);
        if let Some(like) = self.made.get(&known).cloned() {
            self.repeat(&like, panel);
            return panel;
        }
        let (from, spans, threads) = (self.tally(), self.spans.len(), self.threads.len());
        self.take_thread(vec![]);
        self.work_panel(panel, begin);
        let made = Made {
            from,
            to: self.tally(),
            spans: spans..self.spans.len(),
            threads: threads..self.threads.len(),
            reach: self.reach,
            needle: self.needle,
        };
        self.made.insert(known, made);
        panel
    }

    pub(super) fn work_panel(&mut self, panel: Panel, begin: Begin) {
        match begin {
            Begin::Ring => {
                self.push(Ring { panel });
                for k in 1..self.layout.kind(panel).rounds() {
                    let on = Round(k);
                    self.push(Rounds { panel, on });
                }
                self.leave(self.first_of(panel, self.layout.kind(panel).last()));
                self.count_edge(panel);
            }
            Begin::FreeStart | Begin::Rim => {
                self.push(FreeStart { panel });
                let before = self.layout.kind(panel).rounds() - 1;
                self.inward(panel, Round(before));
            }
        }
    }

    /// Fills the opening that a rim surrounds.
    pub(in crate::beadwork) fn fill(
        &mut self,
        name: String,
        spec: SpecIndex,
        rim: Vec<(Panel, Side)>,
        frame: Frame,
    ) -> Panel {
        let rows: Vec<RowIndex> = rim.iter().map(|&side| self.row_on(side)).collect();
        self.meet_round(&rim);
        let corners = self.corner_ways(spec, &rim);
        let first = *corners
            .last()
            .and_then(|way| way.last())
            .expect("a rim has corners, and each a bead");
        let sides = rim.clone();
        let rim = self.layout.add_rim(rim, corners);
        let title = format!("Fill {name}");
        let panel = self
            .layout
            .add_panel(name, spec, Begin::Rim, Some(rim), frame);
        for (s, row) in rows.into_iter().enumerate() {
            self.seams.fill(row, (panel, Side(s as u8)));
        }
        for (s, (p, side)) in sides.into_iter().enumerate() {
            let start = (p, self.layout.kind(p).side_before(side));
            self.seams.meet((panel, Side(s as u8)), start);
        }
        self.begin_at(JobKind::Fill(panel), title, first);
        self.push(RimRound { panel, rim });
        self.inward(panel, self.layout.kind(panel).last());
        panel
    }

    /// Works a panel inward from round `from`, which is whole, and closes its
    /// middle or firms it.
    pub(super) fn inward(&mut self, panel: Panel, from: Round) {
        let innermost = self.layout.making(panel).innermost();
        for k in (innermost.0 + 1..=from.0).rev() {
            self.push(Rounds {
                panel,
                on: Round(k),
            });
        }
        self.leave(self.first_of(panel, innermost));
        let (kind, run) = if innermost.0 == 1 {
            (Kind::Close, Run::Close(panel))
        } else {
            (Kind::Firm, Run::Centre(panel))
        };
        self.push(Through {
            kind,
            round: Some(innermost),
            side: None,
            run,
        });
        if innermost.0 == 1 {
            let beads = self.layout.kind(panel).in_round(innermost);
            let start = self.layout.making(panel).start(innermost);
            let last = self.layout.bead(panel, innermost, (start + 1) % beads);
            self.leave(Hole::front(last));
        }
    }

    pub(super) fn count_edge(&mut self, panel: Panel) {
        let kind = self.layout.kind(panel);
        let beads = kind.in_round(kind.last());
        self.push(Still {
            kind: Kind::Count,
            round: Some(kind.last()),
            side: None,
            beads,
        });
    }
}
