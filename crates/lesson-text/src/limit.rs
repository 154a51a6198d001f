//! How much a lesson may hold: enough for any class, little enough that a
//! slip (or a file that is no lesson) never runs away.

/// Bytes of a lesson file.
pub(crate) const LESSON_BYTES: usize = 1_000_000;
/// Exercises of a lesson.
pub(crate) const EXERCISES: usize = 200;
/// Notes of a figure that is put in every order: 120 orders.
pub(crate) const ORDERED_NOTES: usize = 5;
/// Lessons of a course.
pub(crate) const LESSONS: usize = 200;
/// Weeks of a course: two years.
pub(crate) const WEEKS: usize = 104;
/// Players, or instruments, of a lesson.
pub(crate) const PLAYERS: usize = 100;
/// Figures of a lesson.
pub(crate) const FIGURES: usize = 50;
/// Scales of a lesson.
pub(crate) const SCALES: usize = 50;
/// Moves, or degrees or rungs, of a figure.
pub(crate) const MOVES: usize = 256;
/// Letters of a title, a subtitle or a name.
pub(crate) const TITLE_LETTERS: usize = 300;
/// Letters of a text of the teacher's own.
pub(crate) const TEXT_LETTERS: usize = 4_000;
/// Letters of a count.
pub(crate) const COUNT_LETTERS: usize = 4_000;
/// Steps said in one move.
pub(crate) const STEPS: i64 = 99;
/// Rungs a figure may wander from its first note: more than any instrument
/// has.
pub(crate) const RUNGS: i32 = 120;
/// Copies of one player's sheets.
pub(crate) const COPIES: i64 = 1_000;
/// The seed of a shuffle.
pub(crate) const SEED: i64 = 4_294_967_295;
/// What a line is chosen by.
pub(crate) const WEIGHT: std::ops::RangeInclusive<i64> = 0..=5;
/// Bars of an exercise that are given, written or answered.
pub(crate) const BARS: std::ops::RangeInclusive<i64> = 1..=64;
/// Rows of labels under the notes.
pub(crate) const LABEL_ROWS: usize = 4;
/// Bars of changes, repeats played out.
pub(crate) const CHANGES_BARS: usize = 1_000;
/// The parts of a lead sheet, by number.
pub(crate) const PARTS: std::ops::RangeInclusive<i64> = 1..=1_000;
/// Letters of a line of changes.
pub(crate) const CHANGES_LETTERS: usize = 20_000;
/// Sections that a form names.
pub(crate) const FORM: usize = 64;
/// Choruses of an exercise.
pub(crate) const CHORUSES: usize = 16;
/// Times that a section is played.
pub(crate) const SECTION_TIMES: std::ops::RangeInclusive<i64> = 1..=32;
/// Beats a minute.
pub(crate) const TEMPO: std::ops::RangeInclusive<i64> = 20..=400;
/// Letters of a message or a help.
pub(crate) const SENTENCE_LETTERS: usize = 400;
/// Mistakes told in one go; past these the file is better mended first.
pub(crate) const MISTAKES: usize = 200;
/// Broken lines mended in one go so that the rest can be read.
pub(crate) const BROKEN_LINES: usize = 20;
/// Faults past which a file is hardly a lesson, and is not mended further.
pub(crate) const FAULTS: usize = 2_000;
/// Letters past which a word is not compared with the known ones.
pub(crate) const COMPARED_LETTERS: usize = 64;
/// Bars clicked before a track.
pub(crate) const COUNT_IN: std::ops::RangeInclusive<i64> = 1..=2;
/// How often a track plays a sheet.
pub(crate) const TIMES: std::ops::RangeInclusive<i64> = 1..=20;
/// The A above middle C, in hertz: a whole step below and above 440.
pub(crate) const TUNING: std::ops::RangeInclusive<i64> = 392..=494;
/// How loud one of a track plays, in hundredths of the usual.
pub(crate) const LOUDNESS: std::ops::RangeInclusive<i64> = 0..=150;
/// Parts of a swing eighth.
pub(crate) const SWING_PARTS: u8 = 12;
