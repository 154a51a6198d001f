//! Whose turn it is in each tab of the page: what is asked for a newer text
//! ends the work for an older one.

use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use copyist::Stop;

/// The newest turn of each tab.
#[derive(Debug, Default)]
pub(crate) struct Turns {
    tabs: Mutex<BTreeMap<String, Turn>>,
}

/// A turn, and what ends the work for it.
#[derive(Debug, Clone, Default)]
struct Turn {
    number: u64,
    stop: Stop,
}

/// So many tabs are told apart at most.
const TABS: usize = 256;

/// Letters of a tab's name that are kept.
const LETTERS: usize = 40;

impl Turns {
    /// What ends the work for a turn of a tab, once a newer one comes; the work
    /// for an older one is asked to stop. None where a newer one came before.
    pub(crate) fn take(&self, tab: &str, number: u64) -> Option<Stop> {
        let mut tabs = self.held();
        if tabs.len() >= TABS {
            tabs.clear();
        }
        let turn = tabs.entry(tab.chars().take(LETTERS).collect()).or_default();
        if number < turn.number {
            return None;
        }
        if number > turn.number {
            let before = std::mem::replace(
                turn,
                Turn {
                    number,
                    stop: Stop::default(),
                },
            );
            before.stop.ask();
        }
        Some(turn.stop.clone())
    }

    /// Ends the work for all.
    pub(crate) fn stop(&self) {
        for turn in self.held().values() {
            turn.stop.ask();
        }
    }

    fn held(&self) -> MutexGuard<'_, BTreeMap<String, Turn>> {
        self.tabs.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_turn_of_a_tab_ends_older_ones() {
        let turns = Turns::default();
        let (look, rest) = (turns.take("a", 1).unwrap(), turns.take("a", 1).unwrap());
        let other = turns.take("b", 1).unwrap();
        let newer = turns.take("a", 2).unwrap();
        assert!(look.is_asked() && rest.is_asked());
        assert!(!other.is_asked() && !newer.is_asked());
        assert!(turns.take("a", 1).is_none());
        turns.stop();
        assert!(other.is_asked() && newer.is_asked());
    }
}
