//! How much a file may hold: enough for any score, little enough that nothing
//! made to harm can fill the memory.

/// Bytes of a file as it is handed over.
pub(crate) const FILE_BYTES: usize = 32 * 1024 * 1024;
/// Bytes of a document after unpacking.
pub(crate) const DOCUMENT_BYTES: u64 = 32 * 1024 * 1024;
/// Bytes of an archive's table of contents.
pub(crate) const CONTAINER_BYTES: u64 = 64 * 1024;
/// Files in an archive.
pub(crate) const ARCHIVE_FILES: usize = 4_096;
/// Elements inside each other; the standard's own go about a dozen deep.
pub(crate) const DEPTH: usize = 64;
/// Elements inside one note, chord symbol or other child of a measure.
pub(crate) const CHILD_ELEMENTS: usize = 2_000;
/// Bytes of text inside one element that is read.
pub(crate) const TEXT_BYTES: usize = 10_000;
/// Attributes of one element.
pub(crate) const ATTRIBUTES: usize = 200;
/// Parts of a score.
pub(crate) const PARTS: usize = 500;
/// Measures, all parts together.
pub(crate) const MEASURES: usize = 100_000;
/// Notes and chord symbols, all parts together.
pub(crate) const EVENTS: usize = 250_000;
/// Chord symbols of one bar, and of one part: those past it are left out.
pub(crate) const CHORDS_IN_BAR: usize = 32;
pub(crate) const CHORDS: usize = 5_000;
/// Warnings kept of one part.
pub(crate) const WARNINGS: usize = 100;
/// How often a repeat may be played.
pub(crate) const TIMES: u16 = 99;
/// Letters of a name or of a file's own words in a message.
pub(crate) const SHOWN_LETTERS: usize = 40;
