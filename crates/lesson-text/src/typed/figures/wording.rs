//! Where a figure goes, in the lesson's words: moves, degrees or rungs, before
//! any scale is known.

use theory::Degree;

use crate::mistakes::saying::Spanned;

/// The words of a figure's line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Wording {
    /// `start, step up, …`
    Moves(Vec<Spanned<MoveWord>>),
    /// `1 2 3 5`, as degrees or as rungs.
    Notes(Vec<Spanned<NoteWord>>),
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

/// One note, by its degree or its rung, or a rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoteWord {
    Degree(DegreeWord),
    /// Rungs from the root, and octaves beside them.
    Rung {
        rungs: i32,
        octaves: i32,
    },
    Rest,
}

impl DegreeWord {
    /// As a lesson writes it: `low b7`, `high 1`.
    pub(crate) fn typed(self) -> String {
        shifted(self.octaves, &self.degree.to_string())
    }

    /// As a sheet prints it: `low ♭7`.
    pub(crate) fn printed(self) -> String {
        shifted(self.octaves, &self.degree.signs())
    }
}

impl NoteWord {
    /// As a lesson writes it.
    pub(crate) fn typed(self) -> String {
        self.said(DegreeWord::typed)
    }

    /// As a sheet prints it.
    pub(crate) fn printed(self) -> String {
        self.said(DegreeWord::printed)
    }

    fn said(self, degree: impl Fn(DegreeWord) -> String) -> String {
        match self {
            NoteWord::Rest => "rest".to_owned(),
            NoteWord::Degree(word) => degree(word),
            NoteWord::Rung { rungs, octaves } => shifted(octaves, &(rungs + 1).to_string()),
        }
    }
}

fn shifted(octaves: i32, said: &str) -> String {
    let word = if octaves < 0 { "low " } else { "high " };
    word.repeat(octaves.unsigned_abs() as usize) + said
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
            Wording::Notes(_) => self
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
    pub(crate) fn beats(&self) -> Vec<Spanned<Beat>> {
        match self {
            Wording::Moves(moves) => moves
                .iter()
                .map(|said| beat(said, MoveWord::beat))
                .collect(),
            Wording::Notes(places) => places
                .iter()
                .map(|said| beat(said, NoteWord::beat))
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

impl NoteWord {
    fn beat(&self) -> Beat {
        match self {
            NoteWord::Rest => Beat::Rest,
            NoteWord::Degree(_) | NoteWord::Rung { .. } => Beat::Note,
        }
    }
}

fn beat<T>(said: &Spanned<T>, beat: fn(&T) -> Beat) -> Spanned<Beat> {
    Spanned {
        value: beat(&said.value),
        span: said.span.clone(),
    }
}
