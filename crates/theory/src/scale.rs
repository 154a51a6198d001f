//! Scales: a name, its degrees, and the chord it is at home on.

use std::borrow::Cow;

use crate::{Chord, Degree, NameError, PitchName};

/// A scale of a lesson: from the catalogue or given by its degrees.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scale {
    /// Its id in the catalogue, when it has one there.
    pub id: Option<Cow<'static, str>>,
    /// What it is called on the page.
    pub name: Cow<'static, str>,
    /// Degrees upward from the root.
    pub degrees: Vec<Degree>,
    /// Degrees upward of the form used coming down, where it differs; always
    /// as many as `degrees`.
    pub descending: Option<Vec<Degree>>,
    /// The first chord it fits without a gap, or none.
    pub chord: Option<Chord>,
}

impl Scale {
    /// Every scale of the catalogue, in the order they are listed.
    pub fn catalogue() -> Vec<Scale> {
        todo!()
    }

    /// The names that also find it, besides id and name.
    pub fn aliases(&self) -> Vec<&'static str> {
        todo!()
    }

    /// By id, name or alias.
    ///
    /// # Errors
    /// A name that no scale has, with near misses, or that several have.
    pub fn named(text: &str) -> Result<Scale, NameError> {
        todo!()
    }

    /// By its degrees, root first and rising; the chord is that of the
    /// catalogue's row with the same formula, else none.
    ///
    /// # Errors
    /// A sentence that says what is wrong: not beginning with 1, not rising,
    /// a number past 7, fewer than three notes (the caller places it).
    pub fn from_degrees(degrees: &[Degree]) -> Result<Scale, String> {
        todo!()
    }

    /// A root and a scale said together: `Gb lydian dominant`.
    ///
    /// # Errors
    /// As [`Scale::named`]; a missing root counts as an unknown name.
    pub fn with_root(text: &str) -> Result<(PitchName, Scale), NameError> {
        todo!()
    }

    /// All degrees of both forms.
    pub fn all_degrees(&self) -> impl Iterator<Item = Degree> + '_ {
        self.degrees.iter().chain(self.descending.iter().flatten()).copied()
    }
}
