//! Chord symbols as musicians write them.

use std::str::FromStr;

use crate::{Degree, Interval, NameError, PitchName};

/// What a chord is, without its root: `7(#11)`, `m7b5`, `maj7`, `N.C.`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chord {
    row: usize,
}

/// A change that MusicXML prints beside a kind: `add 9 −1`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChordDegree {
    /// Add, alter or subtract.
    pub change: DegreeChange,
    /// 1 to 13.
    pub value: u8,
    /// Semitones, as the standard counts them (`degree-alter`).
    pub alter: i8,
}

/// What a chord degree does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DegreeChange {
    /// Adds a note.
    Add,
    /// Alters a note of the kind.
    Alter,
    /// Takes a note away.
    Subtract,
}

impl Chord {
    /// Every chord kind of the catalogue, in the order they are listed.
    pub fn catalogue() -> Vec<Chord> {
        todo!()
    }

    /// A kind as it stands after the root: `7(#11)`, `M7` (not `m7`), `△`.
    ///
    /// # Errors
    /// What was typed, with near misses.
    pub fn parse(text: &str) -> Result<Chord, NameError> {
        todo!()
    }

    /// Its id in the catalogue.
    pub fn id(&self) -> &'static str {
        todo!()
    }

    /// As it is printed after a root: `7(#11)`; empty for a plain major triad.
    pub fn suffix(&self) -> &'static str {
        todo!()
    }

    /// Its tones against the root; empty for N.C.
    pub fn degrees(&self) -> &'static [Degree] {
        todo!()
    }

    /// The other ways to write it.
    pub fn spellings(&self) -> &'static [&'static str] {
        todo!()
    }

    /// The `kind` value of the standard (MusicXML 4.0 kind-value).
    pub fn musicxml_kind(&self) -> &'static str {
        todo!()
    }

    /// The `text` that spells only the kind, degrees left out (pitfall 20),
    /// with ♭ ♯ as signs: `7` for `7(#11)`.
    pub fn musicxml_text(&self) -> &'static str {
        todo!()
    }

    /// The degrees beside the kind, and whether they are shown (false where
    /// the text already says them: sus and alt chords, pitfall 21).
    pub fn musicxml_degrees(&self) -> (&'static [ChordDegree], bool) {
        todo!()
    }

    /// Ids of its default scale and of the alternates.
    pub fn scales(&self) -> (&'static str, &'static [&'static str]) {
        todo!()
    }
}

/// A chord on its root, with a bass of its own if it has one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChordSymbol {
    /// The root; meaningless for N.C.
    pub root: PitchName,
    /// What it is.
    pub chord: Chord,
    /// The bass after the slash.
    pub bass: Option<PitchName>,
}

impl ChordSymbol {
    /// The same chord an interval away.
    pub fn transposed(&self, by: Interval) -> ChordSymbol {
        ChordSymbol { root: self.root + by, chord: self.chord.clone(), bass: self.bass.map(|b| b + by) }
    }

    /// The spelled names of its tones, root first.
    pub fn tones(&self) -> Vec<PitchName> {
        self.chord.degrees().iter().map(|d| self.root + d.interval()).collect()
    }
}

/// `Ab7(b9)`, `C/E`, `F♯m7♭5`, `N.C.`
impl FromStr for ChordSymbol {
    type Err = NameError;
    fn from_str(text: &str) -> Result<ChordSymbol, NameError> {
        todo!()
    }
}
