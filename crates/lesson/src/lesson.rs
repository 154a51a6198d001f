//! The lesson itself.

use theory::{Chord, Scale, SignatureStyle, SpellingStyle};

use crate::{
    Breath, Dynamic, Exercise, Feel, Figure, Keys, Label, NoteNames, OwnWords, Paper, Player,
    Tempo, Track,
};

/// Everything one lesson file asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lesson {
    /// The name of its folder: `id`, or the file's stem.
    pub id: String,
    /// Printed at the head of every sheet.
    pub title: String,
    /// Printed under the title.
    pub subtitle: Option<String>,
    /// The class it is for.
    pub class: Option<String>,
    /// The teacher's own words on every sheet.
    pub own: OwnWords,
    /// What the sheets are printed on, if the lesson says it.
    pub paper: Option<Paper>,
    /// Who plays, in the lesson's order; never empty.
    pub players: Vec<Player>,
    /// Tempo, if one is said.
    pub tempo: Option<Tempo>,
    /// Straight or swing.
    pub feel: Feel,
    /// How signatures are chosen.
    pub signature: SignatureStyle,
    /// How notes are spelled.
    pub spelling: SpellingStyle,
    /// Rows of labels under the notes.
    pub labels: Vec<Label>,
    /// The keys and their order.
    pub keys: Keys,
    /// Its scales; exercises point into them. Never empty.
    pub scales: Vec<LessonScale>,
    /// Its figures; exercises point into them.
    pub figures: Vec<Figure>,
    /// What is on the sheets, in order; never empty.
    pub exercises: Vec<Exercise>,
    /// Whether all players turn, jump and end at the same place.
    pub together: bool,
    /// Its practice tracks.
    pub track: Track,
    /// What is to be said of the lesson whatever the horn: one sentence each.
    pub remarks: Vec<String>,
    /// What notes and keys are called.
    pub note_names: NoteNames,
    /// Whether it is set large, for those who read better so.
    pub large_print: bool,
    /// How loud, if it is said.
    pub dynamic: Option<Dynamic>,
    /// What becomes of the places where players breathe.
    pub breath: Breath,
    /// Whether completed sheets are wanted beside those that leave something
    /// to be written.
    pub answers: bool,
    /// Whether the sheets ask players to take care of themselves.
    pub care: bool,
}

/// A scale of the lesson, with the name other parts of the file call it by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonScale {
    /// Its name in the lesson (`[[scale]] name = …` may be one of the
    /// catalogue's names, or the lesson's own beside `degrees`).
    pub scale: Scale,
    /// The chord shown over it, which is also the scale's `chord`.
    pub chord: Option<Chord>,
}
