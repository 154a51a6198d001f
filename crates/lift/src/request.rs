//! What may be asked of lifting, how well it went, or why it didn't.

use theory::{NameError, PitchName, Scale};

/// A scale that is asked for instead of the best-fitting one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LiftScale {
    /// The scale.
    pub scale: Scale,
    /// Its root, in the phrase's pitch; none: the best-fitting one.
    pub root: Option<PitchName>,
}

/// `G dorian`, or `dorian` on whichever root fits best.
impl std::str::FromStr for LiftScale {
    type Err = NameError;

    fn from_str(text: &str) -> Result<LiftScale, NameError> {
        if let Ok((root, scale)) = Scale::with_root(text) {
            return Ok(LiftScale {
                scale,
                root: Some(root),
            });
        }
        let scale = Scale::named(text)?;
        Ok(LiftScale { scale, root: None })
    }
}

/// How well a scale fits a phrase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fit {
    /// The phrase's notes.
    pub notes: usize,
    /// Those that are not the scale's own but lead to one that is, by a half
    /// step from below or above.
    pub borrowed: usize,
}

/// As a report says it: `all 8 notes are the scale's own`.
impl std::fmt::Display for Fit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let own = self.notes - self.borrowed.min(self.notes);
        match (self.notes, self.borrowed) {
            (1, 0) => f.write_str("its one note is the scale's own"),
            (notes, 0) => write!(f, "all {notes} notes are the scale's own"),
            (notes, 1) => write!(
                f,
                "{own} of {notes} notes are the scale's own, 1 leads to the next"
            ),
            (notes, borrowed) => {
                write!(
                    f,
                    "{own} of {notes} notes are the scale's own, {borrowed} lead to the next"
                )
            }
        }
    }
}

/// Why a phrase can't be said as a figure, in a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct LiftError(pub String);
