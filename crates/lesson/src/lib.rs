//! The plain model of a lesson: what a teacher asked for, checked and whole.
//!
//! Values only. It knows no TOML, no XML and no scores; whoever makes a
//! [`Lesson`] has already found every mistake in it.
#![deny(missing_docs)]

mod changes;
mod counted;
mod course;
mod exercise;
mod feel;
mod figure;
mod keys;
mod kind;
mod kind_table;
mod lesson;
mod literal;
mod mark;
mod over;
mod own_words;
mod phrase;
mod player;
mod slug;
mod tempo;
mod tone;
mod track;
mod variant;
mod way;

pub use changes::{Bar, Changes, NumberedEnding, PlacedChord, Section};
pub use counted::counted;
pub use course::{Course, Week};
pub use exercise::{Exercise, Given, Hide, Label};
pub use feel::{Feel, Swing};
pub use figure::{Figure, FigureMarks, Move, Moves};
pub use keys::{Draw, KeyChoice, Keys, Named};
pub use kind::{ExerciseKind, Material, Once, Say, ScaleRun, Sequence, Study, Trade};
pub use kind_table::{FigureUse, KindName, KindRow, SayName};
pub use lesson::{Lesson, LessonScale};
pub use literal::{Literal, LiteralNote};
pub use mark::{Breath, Dynamic, NoteNames};
pub use over::{
    BarTime, ChordTime, Chorus, ChorusKind, Connect, Over, PhraseWeights, Phrasing, RhythmPlan,
    ScaleRule, Shift, Weights,
};
pub use own_words::{OwnWords, Paper, WordsOver, WordsPlace};
pub use phrase::{Around, Home, Phrase, PhraseNote, PlayedBy};
pub use player::Player;
pub use slug::slug;
pub use tempo::Tempo;
pub use tone::{CellTone, flipped, reversed, tones};
pub use track::{Loudness, Track, TrackClick, TrackForm, TrackStyle};
pub use variant::{NoVariant, Ornament, Variant};
pub use way::{ComingDown, Direction, Ending, Span, TooWide};
