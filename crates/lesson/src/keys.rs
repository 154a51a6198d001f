//! Which keys, in which order, named how.

use theory::{KeyOrder, PitchName, Preference};

/// The keys of a lesson, a player or an exercise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Keys {
    /// The order, or exactly these.
    pub choice: KeyChoice,
    /// Whether the names said are concert or written.
    pub named: Named,
    /// Which way ties between names go.
    pub prefer: Option<Preference>,
}

/// An order of twelve, or exactly these.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeyChoice {
    /// All twelve.
    Order {
        /// Which order.
        order: KeyOrder,
        /// The key it begins with.
        from: PitchName,
    },
    /// Exactly these, in this order; no sounding root twice.
    Only(Vec<PitchName>),
}

/// Whether key names are concert or written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Named {
    /// The same sounding roots for all.
    #[default]
    Concert,
    /// The same written roots for all, each sounding root following from the
    /// horn.
    Written,
}

impl Keys {
    /// The pitch classes of the keys in order; written classes where they are
    /// named so.
    pub fn classes(&self) -> Vec<u8> {
        match &self.choice {
            KeyChoice::Order { order, from } => order.classes(from.class()).to_vec(),
            KeyChoice::Only(names) => names.iter().map(|name| name.class()).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use theory::Cycle;

    use super::*;

    fn check(choice: KeyChoice, expected: &[u8]) {
        let keys = Keys {
            choice,
            named: Named::Concert,
            prefer: None,
        };
        assert_eq!(keys.classes(), expected);
    }

    #[test]
    fn classes_follow_the_choice() {
        let names = |names: &[&str]| names.iter().flat_map(|name| name.parse()).collect();
        check(KeyChoice::Only(names(&["F", "Bb", "F#"])), &[5, 10, 6]);
        let order = KeyOrder::Cycle {
            cycle: Cycle::Fifths,
            down: false,
        };
        let from = PitchName::from_fifths(2);
        check(
            KeyChoice::Order { order, from },
            &[2, 9, 4, 11, 6, 1, 8, 3, 10, 5, 0, 7],
        );
    }
}
