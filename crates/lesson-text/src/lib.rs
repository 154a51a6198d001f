//! From a lesson file's text to a [`lesson::Lesson`], from a course's and its
//! lessons' to a [`lesson::Course`], or every mistake with its place.
//!
//! The text is parsed with its broken lines set aside (`mend`, `line`,
//! `slip`, `value_slip`), becomes plain tables (`tree`), is read key by key
//! into what was typed (`lesson_text` and its parts), and then given its
//! meaning (`meaning`, `assignment`, `resolve`).
//!
//! It opens no file and draws no picture of a mistake: it returns place,
//! message and help.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod mistake;
mod read;

mod limit;
mod report;
mod said;
mod study;
mod suggestion;
mod within;

mod fault;
mod half_open;
mod line;
mod mend;
mod slip;
mod steering;
mod tree;
mod value_slip;

mod choice;
mod known;
mod known_table;
mod text;
mod value;
mod variant;
mod variant_words;
mod walk;
mod words;

mod agree;
mod bars;
mod changes_text;
mod choose;
mod course;
mod course_text;
mod exercise;
mod feel;
mod figure;
mod figure_marks;
mod head;
mod idle;
mod keys;
mod lesson_text;
mod literal;
mod mismatch;
mod moves;
mod name_fault;
mod over_text;
mod own_instrument;
mod own_words;
mod places;
mod player;
mod scale;
mod tempo;
mod track;
mod wording;

mod assignment;
pub mod edit;

mod meaning;
mod over;
mod progression;
mod resolve;

mod schema;

pub use changes_text::LeadSheet;
pub use course::{
    CourseFault, LessonFile, LessonMistakes, NamedLesson, Unread, course_lessons, is_course,
    read_course,
};
pub use mistake::Mistake;
pub use read::{Reading, lead_sheet, read, read_with};
pub use schema::{course_schema, lesson_schema};
