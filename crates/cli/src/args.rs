//! What can be typed after `twelvefold`.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum, value_parser};
use clap_complete::engine::{ArgValueCandidates, ArgValueCompleter};

use copyist::{Format, RoomPitch, RunPart};
use lesson::Paper;

use crate::command::list::catalogue::{Catalogue, CatalogueParser};
use crate::completion::{self, Shell};

/// Turns one lesson into finished exercise sheets: every key, every horn.
#[derive(Debug, Parser)]
#[command(name = "twelvefold", version = env!("TWELVEFOLD_VERSION"), after_help = EXIT_CODES)]
pub struct Args {
    #[command(subcommand)]
    pub command: Command,
}

const EXIT_CODES: &str = "Exit codes: 0 done; 1 something could not be written; 2 a lesson or the \
arguments are wrong, nothing was written; 3 done, but some sheets had to be left out, or edited \
ones were kept; 130 stopped.";

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write the sheets of lessons
    Write(WriteArgs),
    /// Compose lessons and report on them; writes nothing
    Check(CheckArgs),
    /// Make a lesson of a notated phrase
    Lift(LiftArgs),
    /// List what a lesson can name
    List(ListArgs),
    /// Spell a scale or a chord: "Gb lydian dominant", "Ab7(b9)"
    Spell {
        /// A root and a scale, or a chord symbol
        #[arg(add = ArgValueCompleter::new(completion::scales_on_roots))]
        what: String,
        /// An instrument: also spell it as that instrument reads it
        #[arg(long = "for", value_name = "INSTRUMENT", add = ArgValueCandidates::new(completion::instruments))]
        instrument: Option<String>,
        #[arg(long, value_enum, default_value_t = TextFormat::Text)]
        format: TextFormat,
    },
    /// Open lessons in the browser: see them, hear them, change them
    Desk(DeskArgs),
    /// Write a commented lesson or course to begin from
    Start(StartArgs),
    /// Print a JSON Schema: of lesson files, for editors, or of what is printed or kept as JSON
    Schema {
        #[arg(value_enum)]
        of: SchemaOf,
    },
    /// Print what makes a shell complete words after twelvefold
    Completions {
        #[arg(value_enum)]
        shell: Shell,
    },
    /// Write the manual's pages into a folder
    Man {
        #[arg(value_name = "DIR")]
        folder: PathBuf,
    },
}

#[derive(Debug, clap::Args)]
pub struct CheckArgs {
    /// Lesson files, and folders of them
    #[arg(required = true, value_name = "LESSON", add = ArgValueCompleter::new(completion::lessons))]
    pub lessons: Vec<PathBuf>,
    /// Say of every line over changes how it came about: bar by bar the chord, its scale and
    /// why, the degree and the variant, the join and its cost
    #[arg(long)]
    pub explain: bool,
    #[arg(long, value_enum, default_value_t = TextFormat::Text)]
    pub format: TextFormat,
}

#[derive(Debug, clap::Args)]
pub struct StartArgs {
    /// Where to; "-" prints it; lesson.toml if not said
    pub file: Option<PathBuf>,
    /// A course of the lessons beside it instead; course.toml if no file is said
    #[arg(long)]
    pub course: bool,
    /// Name in its first line, for editors, where the schema lies that `schema` printed
    #[arg(long, value_name = "PATH")]
    pub schema: Option<String>,
}

#[derive(Debug, clap::Args)]
#[command(arg_required_else_help = true)]
pub struct ListArgs {
    #[arg(value_parser = CatalogueParser)]
    pub what: Catalogue,
    /// More of one: a scale in every key, a chord's other spellings
    #[arg(add = ArgValueCandidates::new(completion::names))]
    pub name: Option<String>,
    /// Only scales with so many notes
    #[arg(long, value_name = "NUMBER")]
    pub notes: Option<usize>,
    /// Only instruments of this family
    #[arg(long, value_enum)]
    pub family: Option<Family>,
    #[arg(long, value_enum, default_value_t = TextFormat::Text)]
    pub format: TextFormat,
}

/// A family of instruments.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Family {
    Woodwind,
    Brass,
    Strings,
    Plucked,
    Keyboard,
    Percussion,
    Voice,
    /// Written for any instrument
    Generic,
}

#[derive(Debug, clap::Args)]
pub struct DeskArgs {
    /// A folder of lessons, or one lesson in it
    #[arg(default_value = ".", value_name = "FOLDER or LESSON")]
    pub place: PathBuf,
    /// The port; else always the same one, or the next that is free
    #[arg(long, value_name = "N")]
    pub port: Option<u16>,
    /// Where sheets go; else "out" in the folder
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// A General MIDI SoundFont (.sf2) that plays wav and flac
    #[arg(long, value_name = "FILE")]
    pub soundfont: Option<PathBuf>,
    /// Only print the address
    #[arg(long)]
    pub no_browser: bool,
}

#[derive(Debug, clap::Args)]
pub struct LiftArgs {
    /// A MusicXML file with a single line, plain or compressed
    #[arg(add = ArgValueCompleter::new(completion::notation))]
    pub file: PathBuf,
    /// Only these bars, by their printed numbers: 3-4
    #[arg(long, value_name = "BARS")]
    pub bars: Option<String>,
    /// The scale it stands on, with its root if you like: "dorian", "G dorian"; else the one that
    /// fits best
    #[arg(long, value_name = "NAME", add = ArgValueCandidates::new(completion::scales))]
    pub scale: Option<String>,
    /// A part by name, id or number; else the first with notes
    #[arg(long, value_name = "PART")]
    pub part: Option<String>,
    /// A staff of the part, 1 at the top; else the uppermost with notes
    #[arg(long, value_name = "STAFF")]
    pub staff: Option<u8>,
    /// A voice of the staff; else the one that lies highest
    #[arg(long, value_name = "VOICE")]
    pub voice: Option<String>,
    /// Where the lesson goes; else it is printed
    #[arg(long, value_name = "LESSON")]
    pub out: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
pub struct WriteArgs {
    /// Lesson files, and folders of them
    #[arg(required = true, value_name = "LESSON", add = ArgValueCompleter::new(completion::lessons))]
    pub lessons: Vec<PathBuf>,
    /// The folder that the lessons' folders go into
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub out: PathBuf,
    /// Only this player or instrument (may be repeated); an instrument the lesson doesn't name is
    /// added to it
    #[arg(long = "instrument", value_name = "NAME", add = ArgValueCandidates::new(completion::instruments))]
    pub instruments: Vec<String>,
    /// Only this key (may be repeated), named as the lesson names its keys: concert unless it says
    /// written
    #[arg(long = "key", value_name = "KEY", add = ArgValueCandidates::new(completion::keys))]
    pub keys: Vec<String>,
    /// Say how many files there would be, and write none
    #[arg(long)]
    pub dry_run: bool,
    /// Also write the completed sheets of what students are to write, beside theirs
    #[arg(long)]
    pub answers: bool,
    /// Kinds of files; "json" prints what each sheet contains instead
    #[arg(
        long = "format",
        value_enum,
        value_delimiter = ',',
        default_value = "musicxml"
    )]
    pub formats: Vec<SheetFormat>,
    /// The paper of pages; the lesson's own, or A4, if not said
    #[arg(long, value_enum)]
    pub paper: Option<PaperSize>,
    /// Dots to the inch of png
    #[arg(long, value_name = "NUMBER", default_value_t = 150, value_parser = value_parser!(u16).range(20..=600))]
    pub resolution: u16,
    /// Also a book for each player: every key and exercise, a page to each key
    #[arg(long)]
    pub gather: bool,
    /// Also a score with everyone in it for each key
    #[arg(long, value_enum, value_name = "PITCH")]
    pub room: Option<Pitch>,
    /// Also a grid for each player to sign off: keys by tempos
    #[arg(long)]
    pub sign_off: bool,
    /// The SoundFont (.sf2) that plays wav and flac, TWELVEFOLD_SOUNDFONT if not said; without one a
    /// plain voice sings
    #[arg(long, value_name = "FILE", add = ArgValueCompleter::new(completion::soundfonts))]
    pub soundfont: Option<PathBuf>,
    /// Cores to work on; all if not said
    #[arg(long, value_name = "NUMBER", value_parser = value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,
    /// Only this share of the sheets, as 3/16: the parts together are the whole
    #[arg(long, value_name = "PART")]
    pub part: Option<RunPart>,
    /// Take the new version of edited files; the edited one stays as NAME.edited
    #[arg(long)]
    pub replace: bool,
    /// Remove files that a lesson no longer makes and nobody edited
    #[arg(long)]
    pub tidy: bool,
    /// Wait until the disk has each file, so that a power cut loses nothing written
    #[arg(long)]
    pub durable: bool,
    /// Say nothing but what went wrong
    #[arg(long)]
    pub quiet: bool,
}

/// A size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperSize {
    /// 210 by 297 mm
    A4,
    /// 8½ by 11 inches
    Letter,
}

/// How a score with everyone in it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Pitch {
    /// As it sounds
    Concert,
    /// As each player reads it
    Transposed,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SheetFormat {
    /// MusicXML 4.0
    #[value(name = "musicxml")]
    MusicXml,
    /// Compressed MusicXML 4.0
    Mxl,
    /// What each sheet contains, printed
    Json,
    /// Practice tracks: Standard MIDI Files
    Midi,
    /// Practice tracks as audio, uncompressed
    Wav,
    /// Practice tracks as audio, compressed without loss
    Flac,
    /// Pages to print, and a bound book for each player
    Pdf,
    /// Pages as vector pictures
    Svg,
    /// Pages as pictures
    Png,
    /// A page for each player to practise with in a browser, its sound inside
    Page,
}

impl SheetFormat {
    /// The kind of file; none for what is printed.
    pub fn file(self) -> Option<Format> {
        match self {
            SheetFormat::MusicXml => Some(Format::MusicXml),
            SheetFormat::Mxl => Some(Format::Mxl),
            SheetFormat::Json => None,
            SheetFormat::Midi => Some(Format::Midi),
            SheetFormat::Wav => Some(Format::Wav),
            SheetFormat::Flac => Some(Format::Flac),
            SheetFormat::Pdf => Some(Format::Pdf),
            SheetFormat::Svg => Some(Format::Svg),
            SheetFormat::Png => Some(Format::Png),
            SheetFormat::Page => Some(Format::Page),
        }
    }
}

impl From<PaperSize> for Paper {
    fn from(size: PaperSize) -> Paper {
        match size {
            PaperSize::A4 => Paper::A4,
            PaperSize::Letter => Paper::Letter,
        }
    }
}

impl From<Pitch> for RoomPitch {
    fn from(pitch: Pitch) -> RoomPitch {
        match pitch {
            Pitch::Concert => RoomPitch::Concert,
            Pitch::Transposed => RoomPitch::Transposed,
        }
    }
}

/// What a schema tells the fields of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    /// A lesson file: editors complete and check it
    Lesson,
    /// A course file
    Course,
    /// What `write --format json` prints
    Sheets,
    /// What `check --format json` prints
    Check,
    /// What `list --format json` prints
    List,
    /// What `spell --format json` prints
    Spell,
    /// What each lesson's folder keeps as contents.json
    Contents,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TextFormat {
    Text,
    Json,
}
