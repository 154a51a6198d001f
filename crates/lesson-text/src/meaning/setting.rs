//! What a lesson says of all its exercises.

use lesson::{Keys, Label, Player};

/// What a lesson says of all its exercises; each `None` where it is unclear.
pub(crate) struct Setting<'a> {
    pub keys: Option<&'a Keys>,
    /// Who plays.
    pub players: Option<&'a [Player]>,
    /// Whom the lesson itself names: others, where its course says who plays.
    pub own: Option<&'a [Player]>,
    pub labels: Option<Vec<Label>>,
    pub chord_symbols: Option<bool>,
}
