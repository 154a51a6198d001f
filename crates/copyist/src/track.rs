//! Practice tracks beside the sheets, as MIDI and as audio.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

use rayon::prelude::*;
use score::Score;
use sound::{Balance, Font, Performance, Recording, Role, SoundError, Tags, Voice, midi, perform};

use crate::contents::{TrackEntry, TrackSubject};
use crate::error::CopyError;
use crate::format::Format;
use crate::input;
use crate::options::Options;
use crate::run_file::RunFile;
use crate::stop::Stop;
use crate::store::Content;
use crate::track_failure::TrackFailure;
use crate::track_name::TrackName;
use crate::track_version::{Version, VersionForm};

/// What a run makes of tracks.
#[derive(Debug)]
pub struct Tracks {
    formats: Vec<Format>,
    font: Option<Font>,
}

/// A sheet, or several joined, of which tracks are made.
#[derive(Debug)]
pub struct TrackSheet<'a> {
    pub scores: &'a [&'a Score],
    pub name: TrackName,
    pub of: TrackSubject,
    /// What a player shows of it: the key, in words.
    pub key: String,
    /// The sheet's edition; empty for several sheets.
    pub edition: &'a str,
    /// How many of the player's sheets come before it.
    pub before: usize,
}

/// What became of a sheet's tracks.
#[derive(Debug, Default)]
pub struct TrackSet {
    pub tracks: Vec<TrackEntry>,
    pub failed: Vec<TrackFailure>,
    /// What the SoundFont lacks, in words.
    pub told: BTreeSet<String>,
}

/// Whether a role is heard.
type RoleFilter = fn(Role) -> bool;

impl Tracks {
    /// The tracks a run was asked for. Where its SoundFont can't be used,
    /// what is wrong with it, too, and the audio is left out.
    pub fn new(options: &Options, stop: &Stop) -> (Tracks, Option<String>) {
        let wanted = |format: &&Format| format.is_track();
        let mut formats: Vec<Format> = options.formats.iter().filter(wanted).copied().collect();
        let mut font = None;
        let mut fault = None;
        if formats.iter().any(|format| format.is_audio()) {
            match options.soundfont.as_deref().map(|path| read(path, stop)) {
                Some(Ok(read)) => font = Some(read),
                Some(Err(message)) => {
                    formats.retain(|format| !format.is_audio());
                    fault = Some(message);
                }
                None => {}
            }
        }
        (Tracks { formats, font }, fault)
    }

    /// Whether there are any.
    pub fn any(&self) -> bool {
        !self.formats.is_empty()
    }

    /// Makes every version of a sheet's track, or of several joined, on all
    /// cores, and puts each file where it belongs. What is played at one tempo
    /// shares one recording.
    ///
    /// # Errors
    /// The first that `put` gives, or that the run was stopped.
    pub fn make(
        &self,
        sheet: &TrackSheet<'_>,
        versions: &[Version],
        stop: &Stop,
        put: impl Fn(&str, Content<'_>) -> Result<(), CopyError> + Sync,
    ) -> Result<TrackSet, CopyError> {
        if !self.any() {
            return Ok(TrackSet::default());
        }
        let numbered: Vec<(usize, &Version)> = versions.iter().enumerate().collect();
        let together: Vec<&[(usize, &Version)]> = numbered
            .chunk_by(|(_, a), (_, b)| a.take.tempo == b.take.tempo)
            .collect();
        let made: Vec<TrackSet> = together
            .par_iter()
            .map(|together| {
                let making = Making {
                    tracks: self,
                    sheet,
                    versions: versions.len(),
                    stop,
                    put: &put,
                };
                making.at_one_tempo(together)
            })
            .collect::<Result<_, CopyError>>()?;
        let mut all = TrackSet::default();
        for one in made {
            all.add(one);
        }
        Ok(all)
    }
}

/// The making of one sheet's tracks.
struct Making<'a, P> {
    tracks: &'a Tracks,
    sheet: &'a TrackSheet<'a>,
    /// How many versions each sheet has.
    versions: usize,
    stop: &'a Stop,
    put: &'a P,
}

impl<P: Fn(&str, Content<'_>) -> Result<(), CopyError> + Sync> Making<'_, P> {
    fn at_one_tempo(&self, versions: &[(usize, &Version)]) -> Result<TrackSet, CopyError> {
        let mut made = TrackSet::default();
        let mut whole: Option<(Recording, Balance)> = None;
        for (number, version) in versions {
            self.stop.check()?;
            let midi_file = self.sheet.name.midi(&version.suffix);
            let performance = match perform(self.sheet.scores, &version.take) {
                Ok(performance) => performance,
                Err(error) => {
                    made.failed.push(TrackFailure {
                        file: midi_file,
                        error,
                    });
                    continue;
                }
            };
            if let Some(font) = &self.tracks.font {
                made.told.extend(font.lacks(&performance));
            }
            let seconds = performance
                .microseconds(performance.end)
                .div_ceil(1_000_000);
            for format in &self.tracks.formats {
                self.stop.check()?;
                let file = self.sheet.name.file(&version.suffix, *format);
                let done = if format.is_audio() {
                    let tags = self.tags(*number, version);
                    self.audio(*format, version, &performance, &tags, &mut whole)
                        .map(|sound| (self.put)(&file, Content::File(&sound)))
                } else {
                    Ok((self.put)(&file, Content::Bytes(&midi(&performance))))
                };
                match done {
                    Ok(put) => {
                        put?;
                        made.tracks.push(TrackEntry {
                            file,
                            of: self.sheet.of.clone(),
                            form: version.form.word().to_owned(),
                            tempo: version.take.tempo,
                            seconds,
                            sheet: self.sheet.name.sheet.clone(),
                        });
                    }
                    Err(error) => {
                        // What is half done when a run stops is no failure.
                        self.stop.check()?;
                        made.failed.push(TrackFailure { file, error });
                    }
                }
            }
        }
        Ok(made)
    }

    /// A version as sound, in an unnamed file. Those that keep the sheet's
    /// time are parts of one recording, those that don't have its balance.
    fn audio(
        &self,
        format: Format,
        version: &Version,
        performance: &Performance,
        tags: &Tags,
        whole: &mut Option<(Recording, Balance)>,
    ) -> Result<RunFile, SoundError> {
        let kept = match whole.take() {
            Some(kept) => kept,
            None => {
                let full = match version.form {
                    VersionForm::Everything | VersionForm::Slow => None,
                    _ => Some(perform(self.sheet.scores, &version.everything())?),
                };
                let mut recording = self.record(full.as_ref().unwrap_or(performance))?;
                let balance = recording.balance()?;
                (recording, balance)
            }
        };
        let (recording, balance) = whole.insert(kept);
        let heard: RoleFilter = match version.form {
            VersionForm::Everything | VersionForm::Slow | VersionForm::Answer => |_| true,
            VersionForm::Backing => |role| role != Role::Line,
            VersionForm::LineAlone => |role| matches!(role, Role::Line | Role::Count),
        };
        let out = self.scratch()?;
        if version.form == VersionForm::Answer {
            let mut answer = self.record(performance)?;
            return encode(format, &mut answer, heard, balance, tags, out);
        }
        encode(format, recording, heard, balance, tags, out)
    }

    fn record(&self, performance: &Performance) -> Result<Recording, SoundError> {
        let voice = match &self.tracks.font {
            Some(font) => Voice::Font(font),
            None => Voice::Plain,
        };
        Recording::new(performance, voice, self.scratch()?)
    }

    fn scratch(&self) -> Result<RunFile, SoundError> {
        RunFile::unnamed(self.stop).map_err(unwritten)
    }

    fn tags(&self, number: usize, version: &Version) -> Tags {
        let first = self.sheet.scores.first();
        let title = first.map_or("", |score| score.title.as_str());
        let mut words = vec![title.to_owned(), self.sheet.key.clone()];
        if version.form != VersionForm::Everything {
            words.push(version.form.word().to_owned());
        }
        if let Some(tempo) = version.take.tempo {
            words.push(tempo.to_string());
        }
        words.retain(|word| !word.is_empty());
        Tags {
            title: words.join(", "),
            performer: first
                .map_or("", |score| score.part.name.as_str())
                .to_owned(),
            album: title.to_owned(),
            number: (self.sheet.before * self.versions + number + 1) as u32,
            tempo: version.beats_a_minute,
            edition: self.sheet.edition.to_owned(),
        }
    }
}

fn encode(
    format: Format,
    recording: &mut Recording,
    heard: RoleFilter,
    balance: &Balance,
    tags: &Tags,
    out: RunFile,
) -> Result<RunFile, SoundError> {
    let mut out = BufWriter::with_capacity(1 << 18, out);
    match format {
        Format::Flac => recording.flac(heard, balance, tags, &mut out)?,
        _ => recording.wav(heard, balance, tags, &mut out)?,
    }
    out.flush().map_err(unwritten)?;
    out.into_inner()
        .map_err(|error| unwritten(error.into_error()))
}

fn unwritten(error: std::io::Error) -> SoundError {
    SoundError::File {
        doing: "kept meanwhile",
        reason: error.to_string(),
    }
}

impl TrackSet {
    pub fn add(&mut self, other: TrackSet) {
        self.tracks.extend(other.tracks);
        self.failed.extend(other.failed);
        self.told.extend(other.told);
    }
}

fn read(path: &Path, stop: &Stop) -> Result<Font, String> {
    let file = input::plain(path).and_then(|()| File::open(path));
    let file = file.map_err(|error| {
        let reason = match error.kind() {
            std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
            std::io::ErrorKind::Unsupported => error.to_string(),
            _ => format!("can't be read: {error}"),
        };
        format!("{}: {reason}", path.display())
    })?;
    Font::read(RunFile::new(file, stop)).map_err(|error| format!("{}: {error}", path.display()))
}
