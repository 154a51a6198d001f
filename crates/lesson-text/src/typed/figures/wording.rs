//! Where a figure goes, in the lesson's words: moves, degrees or rungs, before
//! any scale is known.

use theory::Degree;

use crate::mistakes::said::Said;

/// The words of a figure's line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Wording {
    /// `start, step up, …`
    Moves(Vec<Said<MoveWord>>),
    /// `1 2 3 5`, as degrees or as rungs.
    Places(Vec<Said<PlaceWord>>),
}

/// One move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum MoveWord {
    /// On the root, or on a degree.
    Start(Option<DegreeWord>),
    /// So many rungs up or down.
    Steps(i32),
    Repeat,
    /// One octave up (1) or down (−1).
    Octave(i32),
    Rest,
    FromBelow,
    FromAbove,
    Enclose,
}

/// A degree, shifted by octaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct DegreeWord {
    pub degree: Degree,
    pub octaves: i32,
}

/// One place of the scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PlaceWord {
    Degree(DegreeWord),
    /// Rungs from the root, and octaves beside them.
    Rung {
        rungs: i32,
        octaves: i32,
    },
    Rest,
}

/// What one word of the line takes of the count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Beat {
    Note,
    /// Two notes.
    Pair,
    Rest,
}

impl Wording {
    /// Of each tone that sounds, in order, whether it is an ornament.
    pub(crate) fn tones(&self) -> Vec<bool> {
        let words: Vec<(Beat, bool)> = match self {
            Wording::Moves(moves) => moves
                .iter()
                .map(|said| (said.value.beat(), said.value.is_ornament()))
                .collect(),
            Wording::Places(_) => self
                .beats()
                .iter()
                .map(|beat| (beat.value, false))
                .collect(),
        };
        words
            .into_iter()
            .flat_map(|(beat, ornament)| match beat {
                Beat::Note => vec![ornament],
                Beat::Pair => vec![ornament; 2],
                Beat::Rest => Vec::new(),
            })
            .collect()
    }

    /// What each word takes of the count, in order.
    pub(crate) fn beats(&self) -> Vec<Said<Beat>> {
        match self {
            Wording::Moves(moves) => moves
                .iter()
                .map(|said| beat(said, MoveWord::beat))
                .collect(),
            Wording::Places(places) => places
                .iter()
                .map(|said| beat(said, PlaceWord::beat))
                .collect(),
        }
    }
}

impl MoveWord {
    pub(crate) fn beat(&self) -> Beat {
        match self {
            MoveWord::Rest => Beat::Rest,
            MoveWord::Enclose => Beat::Pair,
            _ => Beat::Note,
        }
    }

    /// Whether it leads to the next rung.
    pub(crate) fn is_ornament(&self) -> bool {
        matches!(
            self,
            MoveWord::FromBelow | MoveWord::FromAbove | MoveWord::Enclose
        )
    }
}

impl PlaceWord {
    fn beat(&self) -> Beat {
        match self {
            PlaceWord::Rest => Beat::Rest,
            PlaceWord::Degree(_) | PlaceWord::Rung { .. } => Beat::Note,
        }
    }
}

fn beat<T>(said: &Said<T>, beat: fn(&T) -> Beat) -> Said<Beat> {
    Said {
        value: beat(&said.value),
        place: said.place.clone(),
    }
}
