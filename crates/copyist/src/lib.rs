//! Whoever copies the music out: every file of a lesson, made in parallel and
//! kept in folders where nothing is lost. Wishes come as plain values
//! ([`Options`]); how far it is and what became of each file go out as plain
//! values too ([`News`], [`LessonOutcome`]). Nothing is printed here, and
//! nothing is known of arguments, terminals or browsers.
//!
//! - Read lessons and courses from disk: [`gathered`], [`read_source`].
//! - A lesson's sheets until someone asks to [`Stop`]: [`composer`].
//! - What to know before writing: [`Survey`], [`surprise_lines`], of a course
//!   [`CourseSurvey`].
//! - Everything, with progress and a way to stop: [`Run`].
//! - One printed sheet or book: [`Pictures`].
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod error;
mod folder_outcome;
mod format;
mod news;
mod options;
mod outcome;
mod refusal;
mod run_part;
mod stop;
mod stopped;
mod track_failure;

mod input;
mod lead_sheet;
mod lesson_source;

mod choice;
mod composing;
mod folder;
mod sheets;
mod surprise;
mod survey;

mod course_survey;
mod seconds;

mod course_job;
mod job;
mod lesson_tracks;
mod lesson_writing;
mod run;
mod sheet_json;
mod sheet_writing;
mod work;
mod writing;

mod compilation;
mod course_lesson;
mod course_tracks;
mod course_writing;
mod folder_file;
mod packet;
mod pictures;
mod practice_page;
mod printed_book;
mod run_file;
mod track;
mod track_name;
mod track_remark;
mod track_version;

mod contents;
mod store;

pub use choice::Choice;
pub use composing::{composer, unless_stopped};
pub use contents::{Contents, Heading, LeftOutEntry, SheetEntry, TrackEntry, key_words};
pub use course_survey::{CourseSurvey, Meeting, PlayerWeek, WeekSurvey};
pub use error::{CopyError, Doing};
pub use etude::RoomPitch;
pub use folder::player_folders;
pub use folder_outcome::{FolderOutcome, KeptFile, Leftover};
pub use format::Format;
pub use lead_sheet::{MusicFile, music_file};
pub use lesson_source::{
    CourseSource, FileFault, LessonFault, LessonSource, Source, gathered, read_lesson, read_source,
};
pub use news::{Count, News, Tell};
pub use options::Options;
pub use outcome::{CourseOutcome, LessonOutcome};
pub use pictures::Pictures;
pub use refusal::Refusal;
pub use run::{Run, RunOutcome, use_threads};
pub use run_part::RunPart;
pub use stop::Stop;
pub use store::create;
pub use surprise::{SurpriseLine, surprise_lines};
pub use survey::{BeginnerReach, Survey};
pub use track_failure::TrackFailure;
pub use track_remark::track_remarks;
pub use track_version::take;
