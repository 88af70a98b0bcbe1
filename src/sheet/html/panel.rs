//! A kind of panel: how many to make, its drawing, its rounds.

use super::Page;
use super::top::{panel_heading, panel_id};
use crate::sheet::panel::PanelKind;

/// Boxes for one round: one for each panel of the kind, if they are not more.
const BOXES: usize = 8;

impl Page<'_> {
    pub(super) fn panels(&mut self) {
        for (nth, panel) in self.sheet.panels.iter().enumerate() {
            self.part((&panel_id(nth), &panel_heading(&panel.name)), "panel");
            self.panel(panel);
            self.m.close();
        }
    }

    fn panel(&mut self, panel: &PanelKind) {
        self.m.open("p", &[]);
        let make = format!("Make {} of these", panel.panels.len());
        self.m.say("span", &[("class", "make")], &make);
        let rest = match panel.panels.len() {
            1 => format!(" {} beads. {}", panel.beads, panel.become_words()),
            _ => format!(" {} beads each. {}", panel.beads, panel.become_words()),
        };
        self.m.text(&rest);
        self.m.close();
        self.m.say("p", &[], &panel.begins);
        self.drawing(&panel.drawing);
        self.rounds(panel);
        if let Some(edge) = &panel.edge {
            self.m.open("p", &[("class", "keep")]);
            self.m.say("strong", &[], edge);
            self.m.close();
        }
    }

    fn rounds(&mut self, panel: &PanelKind) {
        let boxes = match panel.panels.len() {
            few @ 1..=BOXES => few,
            _ => 1,
        };
        let caption = match panel.panels.len() {
            1 => format!("Rounds of '{}', in the order of the work", panel.name),
            n if n > BOXES => format!(
                "Rounds of '{}', in the order of the work; boxes for the first of the {n}, the others are \
                 ticked off stage by stage",
                panel.name
            ),
            n => format!(
                "Rounds of '{}', in the order of the work, a box for each of the {n}",
                panel.name
            ),
        };
        let class = if boxes > 1 { "boxes" } else { "short" };
        self.table(
            &caption,
            &[
                ("Done", class),
                ("Round", "n"),
                ("What to do", ""),
                ("Beads to pick up, in order", ""),
                ("Each side", "n"),
                ("In the round", "n"),
                ("In all", "n"),
            ],
        );
        for round in &panel.rounds {
            self.m.open("tr", &[]);
            self.m.open("td", &[("class", class)]);
            for nth in 1..=boxes {
                let label = match boxes {
                    1 => format!("round {} of {}", round.round, panel.name),
                    _ => format!("round {} of {}, panel {nth}", round.round, panel.name),
                };
                self.tick(&label, "");
            }
            self.m.close();
            self.m.say(
                "th",
                &[("scope", "row"), ("class", "n")],
                &round.round.to_string(),
            );
            self.m.say("td", &[], &round.how);
            self.m.say("td", &[("class", "letters")], &round.pick_up);
            self.number(round.each_side());
            self.number(round.beads);
            self.number(round.total);
            self.m.close();
            self.m.line();
        }
        self.end_table();
        if let Some(more) = panel.more_words() {
            self.m.say("p", &[], &more);
        }
    }
}
