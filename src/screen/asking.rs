//! Asking about a word: the words that stand on the screen first, then all;
//! and the page of one word, from which its neighbours can be gone to.

use super::keys::{Action, Place};
use crate::words::{self, Word};

/// What is asked, and how far the maker has gone from word to word.
#[derive(Clone, Debug, PartialEq)]
pub struct Asking {
    /// The words that stood on the screen.
    here: Vec<&'static Word>,
    /// All others.
    others: Vec<&'static Word>,
    /// The line of the list that the maker is on.
    pub at: usize,
    /// The words opened, one from another, the last one shown.
    trail: Vec<&'static Word>,
    /// Lines of the page scrolled past.
    pub scroll: usize,
}

impl Asking {
    /// About what stands in the text of a screen; those words first that are
    /// about what is going on, if they stand there.
    pub fn about(screen: &str, going_on: &[&'static Word]) -> Asking {
        let mut here = words::found(screen);
        here.sort_by_key(|word| {
            let at = going_on.iter().position(|w| w == word);
            at.unwrap_or(going_on.len())
        });
        let others = words::all().filter(|w| !here.contains(w)).collect();
        Asking {
            here,
            others,
            at: 0,
            trail: vec![],
            scroll: 0,
        }
    }

    /// The words that stood on the screen.
    pub fn here(&self) -> &[&'static Word] {
        &self.here
    }

    /// All words in the order of the list.
    pub fn list(&self) -> impl Iterator<Item = &'static Word> {
        self.here.iter().chain(&self.others).copied()
    }

    /// The word that is explained, if one is open.
    pub fn open(&self) -> Option<&'static Word> {
        self.trail.last().copied()
    }

    /// What keys mean.
    pub fn place(&self) -> Place {
        match self.open() {
            Some(_) => Place::Word,
            None => Place::Words,
        }
    }

    /// Does what a key asks for; whether the asking goes on.
    pub fn apply(&mut self, action: Action, page: usize) -> bool {
        match (self.open(), action) {
            (_, Action::Leave) => return false,
            (None, Action::Up) => self.at = self.at.saturating_sub(1),
            (None, Action::Down) => self.go(1),
            (None, Action::PageUp) => self.at = self.at.saturating_sub(page),
            (None, Action::PageDown) => self.go(page),
            (None, Action::Choose) => {
                let word = self.list().nth(self.at);
                self.read(word);
            }
            (Some(_), Action::Up) => self.scroll = self.scroll.saturating_sub(1),
            (Some(_), Action::Down) => self.scroll += 1,
            (Some(_), Action::PageUp) => self.scroll = self.scroll.saturating_sub(page),
            (Some(_), Action::PageDown) => self.scroll += page,
            (Some(word), Action::Type(digit)) => {
                let nth = digit.to_digit(10).and_then(|d| d.checked_sub(1));
                let next = nth.and_then(|n| word.neighbours().nth(n as usize));
                self.read(next);
            }
            (Some(_), Action::Back) => {
                self.trail.pop();
                self.scroll = 0;
            }
            _ => {}
        }
        self.scroll = self.scroll.min(LONGEST_PAGE);
        true
    }

    fn go(&mut self, on: usize) {
        let last = self.here.len() + self.others.len();
        self.at = (self.at + on).min(last.saturating_sub(1));
    }

    fn read(&mut self, word: Option<&'static Word>) {
        if let Some(word) = word {
            // Round in a circle, the way back stays short.
            self.trail.retain(|w| *w != word);
            self.trail.push(word);
            self.scroll = 0;
        }
    }
}

/// No page has as many lines.
const LONGEST_PAGE: usize = 60;

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(screen: &str, actions: &[Action]) -> Asking {
        let mut asking = Asking::about(screen, &[]);
        for action in actions {
            assert!(asking.apply(*action, 5));
        }
        asking
    }

    #[test]
    fn what_stands_on_the_screen_comes_first_and_nothing_twice() {
        let asking = asked("Step up: through two beads", &[]);
        let list: Vec<_> = asking.list().map(|w| w.word).collect();
        assert_eq!(list[..2], ["step-up", "bead"]);
        assert_eq!(list.len(), words::all().count());
    }

    #[test]
    fn what_is_going_on_goes_before_the_rest_of_the_screen() {
        let screen = "job 1, step 9: Step up: through two beads";
        let going_on = [
            words::named("step-up").unwrap(),
            words::named("gap").unwrap(),
        ];
        let asking = Asking::about(screen, &going_on);
        let here: Vec<_> = asking.here().iter().map(|w| w.word).collect();
        assert_eq!(here, ["step-up", "job", "step", "bead"]);
    }

    #[test]
    fn from_a_word_to_its_neighbour_and_back() {
        let digit = Action::Type('1');
        let asking = asked("zip", &[Action::Choose, digit]);
        assert_eq!(asking.open().unwrap().word, "join row");
        let back = asked("zip", &[Action::Choose, digit, Action::Back]);
        assert_eq!(back.open().unwrap().word, "zip");
        assert_eq!(back.place(), Place::Word);
        let list = asked("zip", &[Action::Choose, Action::Back]);
        assert_eq!(list.place(), Place::Words);
    }

    #[test]
    fn a_digit_without_a_neighbour_does_nothing() {
        for digit in ['0', '9'] {
            let asking = asked("zip", &[Action::Choose, Action::Type(digit)]);
            assert_eq!(asking.open().unwrap().word, "zip");
        }
    }

    #[test]
    fn the_list_ends_where_it_ends() {
        let mut asking = asked("", &[Action::Up]);
        assert_eq!(asking.at, 0);
        for _ in 0..100 {
            asking.apply(Action::PageDown, 7);
        }
        assert_eq!(asking.at, words::all().count() - 1);
        assert!(!asking.apply(Action::Leave, 7));
    }
}
