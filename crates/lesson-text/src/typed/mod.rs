//! What was typed: each table as the lesson says it, with its spans.

pub(crate) mod changes;
pub(crate) mod course_text;
pub(crate) mod exercise;
pub(crate) mod feel;
pub(crate) mod figures;
pub(crate) mod head;
pub(crate) mod idle;
pub(crate) mod keys;
pub(crate) mod lesson_text;
pub(crate) mod over_text;
pub(crate) mod own_instrument;
pub(crate) mod own_words;
pub(crate) mod player;
pub(crate) mod scale;
pub(crate) mod tempo;
pub(crate) mod track;
pub(crate) mod variant;
