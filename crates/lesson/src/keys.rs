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
    /// How many are drawn, for a jury, if not all are played.
    pub draw: Option<Draw>,
}

/// Some keys of an order: so many, leaving out those already heard.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draw {
    /// How many keys are drawn.
    pub count: usize,
    /// Keys that are not drawn again.
    pub heard: Vec<PitchName>,
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
    /// The name that was typed for a key, by its pitch class: one of exactly
    /// these, or the one that the order begins with.
    pub fn typed(&self, class: u8) -> Option<PitchName> {
        let named = |name: &&PitchName| name.class() == class;
        match &self.choice {
            KeyChoice::Order { from, .. } => Some(from).filter(named).copied(),
            KeyChoice::Only(names) => names.iter().find(named).copied(),
        }
    }

    /// The pitch classes of the keys in order; written classes where they are
    /// named so.
    pub fn classes(&self) -> Vec<u8> {
        let (order, from) = match &self.choice {
            KeyChoice::Order { order, from } => (order, from),
            KeyChoice::Only(names) => return names.iter().map(|name| name.class()).collect(),
        };
        let mut classes = order.classes(from.class()).to_vec();
        if let Some(draw) = &self.draw {
            classes.retain(|class| draw.heard.iter().all(|heard| heard.class() != *class));
            classes.truncate(draw.count);
        }
        classes
    }
}

#[cfg(test)]
mod tests {
    use theory::KeyOrder;

    use super::*;

    #[test]
    fn a_typed_name_is_kept_for_its_own_key() {
        let name = |text: &str| text.parse::<PitchName>().unwrap();
        let keys = |choice| Keys {
            choice,
            named: Named::Concert,
            prefer: None,
            draw: None,
        };
        let only = keys(KeyChoice::Only(vec![name("F#"), name("C")]));
        assert_eq!(only.typed(6), Some(name("F#")));
        assert_eq!(only.typed(7), None);
        let order = keys(KeyChoice::Order {
            order: KeyOrder::Shuffled { seed: 1 },
            from: name("G#"),
        });
        assert_eq!(order.typed(8), Some(name("G#")));
        assert_eq!(order.typed(6), None);
    }

    #[test]
    fn a_draw_leaves_out_what_was_heard() {
        let drawn = |count, heard: &[&str]| {
            let keys = Keys {
                choice: KeyChoice::Order {
                    order: KeyOrder::Shuffled { seed: 7 },
                    from: PitchName::from_fifths(0),
                },
                named: Named::Concert,
                prefer: None,
                draw: Some(Draw {
                    count,
                    heard: heard.iter().map(|name| name.parse().unwrap()).collect(),
                }),
            };
            keys.classes()
        };
        let all = drawn(12, &[]);
        assert_eq!(all.len(), 12);
        assert_eq!(drawn(3, &[]), all[..3]);
        let heard = PitchName::from_fifths(0).to_string();
        let rest: Vec<u8> = all.iter().copied().filter(|class| *class != 0).collect();
        assert_eq!(drawn(11, &[&heard]), rest);
        assert_eq!(drawn(12, &["C", "Db", "C#"]).len(), 10);
    }
}
