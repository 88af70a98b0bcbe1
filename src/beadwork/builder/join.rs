//! Joins: rows worked, bare sides zipped onto them, rims firmed.

use super::Builder;
use crate::beadwork::end::Hole;
use crate::beadwork::job::{JobKind, SideJoin};
use crate::beadwork::movement::Kind;
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::seams::Direction;
use crate::beadwork::stage::{RowStage, Run, Still, Through, Zip};

impl Builder {
    /// Works join rows.
    pub(in crate::beadwork) fn row(&mut self, panel: Panel, sides: &[Side], tips: u32) {
        let name = self.name(panel);
        let title = format!("Join row on {name}, {}", sides_in_words(sides));
        let first = Hole::front(self.layout.edge_bead(panel, sides[0], 0));
        self.begin_at(JobKind::JoinRow(panel, sides.to_vec()), title, first);
        for &side in sides {
            self.weave_to(Hole::front(self.layout.edge_bead(panel, side, 0)));
            let row = self.layout.add_row(panel, side, tips);
            self.push(RowStage { row });
            let end = match tips {
                0 => self.layout.edge_end(panel, side),
                _ => {
                    let next = self.layout.kind(panel).next_side(side);
                    self.layout.edge_bead(panel, next, 0)
                }
            };
            self.leave(Hole::front(end));
        }
    }

    /// Zips bare sides of a panel onto the rows of others.
    pub(in crate::beadwork) fn zip(&mut self, panel: Panel, joins: &[SideJoin]) {
        let name = self.name(panel);
        let whole = joins.len() == usize::from(self.layout.kind(panel).sides());
        let (kind, title) = if whole {
            (
                JobKind::SetIn(panel, joins.to_vec()),
                format!("Set in {name}"),
            )
        } else {
            let onto: Vec<String> = joins.iter().map(|j| self.name(j.onto)).collect();
            let title = format!("Zip {name} to {}", onto.join(" and "));
            (JobKind::Zip(panel, joins.to_vec()), title)
        };
        let mut begun = false;
        for (nth, join) in joins.iter().enumerate() {
            let row = self.row_on((join.onto, join.at));
            let (ours, theirs) = (self.layout.kind(panel), self.layout.kind(join.onto));
            let start = (panel, ours.side_before(join.side));
            let end = (panel, join.side);
            let row_start = (join.onto, theirs.side_before(join.at));
            let row_end = (join.onto, join.at);
            let (at_start, at_end) = match join.runs {
                Direction::Against => (row_end, row_start),
                Direction::With => (row_start, row_end),
            };
            self.seams.meet(start, at_start);
            self.seams.meet(end, at_end);
            let ahead = Hole::front(self.layout.edge_bead(panel, join.side, 0));
            let astern = Hole::back(self.layout.edge_end(panel, join.side));
            let forward = self.is_nearer(ahead, astern);
            let first = if forward { ahead } else { astern };
            if !begun {
                self.begin_at(kind.clone(), title.clone(), first);
                begun = true;
            }
            if nth > 0 {
                self.push(Still {
                    kind: Kind::Fold,
                    round: None,
                    side: Some(join.side),
                    beads: 0,
                });
            }
            self.weave_to(first);
            let zip = Zip {
                row,
                panel,
                side: join.side,
                runs: join.runs,
                forward,
                entered: true,
            };
            self.push(zip);
            let last = zip.edge(&self.layout, self.layout.row(row).beads);
            self.leave(if forward {
                Hole::front(last)
            } else {
                Hole::back(last)
            });
            self.seams.zip((panel, join.side), row, join.runs);
        }
    }

    /// Firms the rim of an opening between panels.
    pub(in crate::beadwork) fn firm_rim(&mut self, rim: Vec<(Panel, Side)>) {
        self.meet_round(&rim);
        let (panel, side) = rim[0];
        let first = Hole::back(self.layout.edge_end(panel, side));
        let names: Vec<String> = rim.iter().map(|&(p, _)| self.name(p)).collect();
        let title = format!("Firm the opening between {}", names.join(", "));
        let index = self.layout.add_rim(rim.clone(), vec![]);
        self.begin_at(JobKind::FirmRim(rim), title, first);
        self.push(Through {
            kind: Kind::Firm,
            round: None,
            side: None,
            run: Run::Rim(index),
        });
        self.leave(first);
    }
}

fn sides_in_words(sides: &[Side]) -> String {
    let numbers: Vec<String> = sides.iter().map(Side::to_string).collect();
    match numbers.as_slice() {
        [one] => format!("side {one}"),
        [most @ .., last] => format!("sides {} and {last}", most.join(", ")),
        [] => String::new(),
    }
}
