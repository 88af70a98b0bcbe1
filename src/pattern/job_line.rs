//! One line of a maker's own list of jobs, as it is read; and the list that
//! the lines make.

use crate::beadwork::job::{JobKind, SideJoin};
use crate::beadwork::number::{Panel, Side};
use crate::beadwork::project::{JobList, NamedPanel, SpecIndex};
use crate::beadwork::seams::Direction;

/// A panel named by a job list: an index into the panels made so far, from 0.
pub(super) type MadePanel = usize;

/// A line of the list.
pub(super) enum JobLine {
    Panel {
        name: String,
        spec: SpecIndex,
    },
    Row {
        panel: MadePanel,
        sides: Vec<Side>,
        tips: u8,
    },
    Zip {
        panel: MadePanel,
        /// Its side, and the panel and side that carry the row.
        sides: Vec<(Side, MadePanel, Side)>,
    },
    Fill {
        name: String,
        spec: SpecIndex,
        rim: Vec<(MadePanel, Side)>,
    },
    FirmRim {
        rim: Vec<(MadePanel, Side)>,
    },
    Tie {
        from: (MadePanel, Side),
        to: (MadePanel, Side),
    },
}

/// The list, `sides_of` telling how many sides a kind of panel has.
pub(super) fn list(lines: Vec<JobLine>, sides_of: impl Fn(SpecIndex) -> u8) -> JobList {
    let mut list = JobList::default();
    let number = |panel: MadePanel| Panel(panel as u16);
    let corner = |(panel, side): (MadePanel, Side)| (number(panel), side);
    for line in lines {
        let job = match line {
            JobLine::Panel { name, spec } => {
                list.panels.push(NamedPanel { name, spec });
                JobKind::Panel(number(list.panels.len() - 1))
            }
            JobLine::Row { panel, sides, tips } => JobKind::JoinRow {
                panel: number(panel),
                sides,
                tips,
            },
            JobLine::Zip { panel, sides } => {
                let whole = sides.len() == usize::from(sides_of(list.panels[panel].spec));
                let join = |(side, onto, at)| SideJoin {
                    side,
                    onto: number(onto),
                    at,
                    runs: Direction::Against,
                };
                let joins = sides.into_iter().map(join).collect();
                match whole {
                    true => JobKind::SetIn(number(panel), joins),
                    false => JobKind::Zip(number(panel), joins),
                }
            }
            JobLine::Fill { name, spec, rim } => {
                list.panels.push(NamedPanel { name, spec });
                JobKind::Fill {
                    panel: number(list.panels.len() - 1),
                    rim: rim.into_iter().map(corner).collect(),
                }
            }
            JobLine::FirmRim { rim } => JobKind::FirmRim(rim.into_iter().map(corner).collect()),
            JobLine::Tie { from, to } => JobKind::Tie(corner(from), corner(to)),
        };
        list.jobs.push(job);
    }
    list
}
