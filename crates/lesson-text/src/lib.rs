//! From a lesson file's text to a [`lesson::Lesson`], from a course's and its
//! lessons' to a [`lesson::Course`], or every mistake with its span.
//!
//! The folders are the walk: a text's broken lines are told and set aside
//! (`lines`), the rest becomes plain tables (`tables`), is read key by key by
//! the words that the lesson's `language` knows into what was `typed`, and is
//! then given its `meaning`. Beside it stand the `mistakes` that any of them
//! tells, and `edit`, which changes a text and keeps its comments.
//!
//! It opens no file and draws no picture of a mistake: it returns span,
//! message and help.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod limit;
mod mistakes;

mod language;

mod lines;

mod tables;

mod typed;

mod meaning;

mod course;
mod read;

pub mod edit;

pub use course::{
    CourseMistakes, LessonFile, LessonMistakes, NamedLesson, course_lessons, is_course, read_course,
};
pub use language::schema::{course_schema, lesson_schema};
pub use language::writing::quoted;
pub use mistakes::mistake::Mistake;
pub use read::{lead_sheet, read, read_with};
pub use typed::changes::changes_text::LeadSheet;
