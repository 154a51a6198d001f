//! What is to be made of lessons, and where.

use std::path::PathBuf;

use lesson::Paper;

use crate::choice::Choice;
use etude::RoomPitch;

use crate::format::Format;
use crate::run_part::RunPart;

/// A run's wishes. `Options::default()` makes every sheet as MusicXML under
/// `out`.
#[derive(Debug, Clone)]
pub struct Options {
    /// The folder that the lessons' folders go into.
    pub out: PathBuf,
    /// Which players and keys.
    pub choice: Choice,
    /// The kinds of files; none where sheets are only described.
    pub formats: Vec<Format>,
    /// Whether it is told what each sheet contains.
    pub describe: bool,
    /// Whether nothing is written, only counted.
    pub dry_run: bool,
    /// Whether the completed sheets go beside those that leave something to be
    /// written; a lesson may ask for them too.
    pub answers: bool,
    /// The paper of pages, where it isn't the lesson's own.
    pub paper: Option<Paper>,
    /// Dots to the inch of pictures made of dots.
    pub resolution: u16,
    /// Whether each player gets a book of all sheets.
    pub gather: bool,
    /// A score with everyone in it for each key, written so.
    pub room: Option<RoomPitch>,
    /// Whether each player gets a grid of keys and tempos to tick.
    pub sign_off: bool,
    /// The SoundFont that plays audio; without one a plain voice sings.
    pub soundfont: Option<PathBuf>,
    /// Only this share of the sheets.
    pub part: Option<RunPart>,
    /// Whether the new version of edited files is taken, the edited one set
    /// aside.
    pub replace: bool,
    /// Whether files are removed that a lesson no longer makes and nobody
    /// edited.
    pub tidy: bool,
    /// Whether the disk is waited for at each file.
    pub durable: bool,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            out: PathBuf::from("out"),
            choice: Choice::default(),
            formats: vec![Format::MusicXml],
            describe: false,
            dry_run: false,
            answers: false,
            paper: None,
            resolution: 150,
            gather: false,
            room: None,
            sign_off: false,
            soundfont: None,
            part: None,
            replace: false,
            tidy: false,
            durable: false,
        }
    }
}
