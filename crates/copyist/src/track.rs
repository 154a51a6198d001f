//! Practice tracks beside the sheets, as MIDI and as audio.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use rayon::prelude::*;
use score::Score;
use sound::{Channels, Font, Performance, Samples, SoundError, Voice, midi, perform, render};

use crate::contents::{TrackEntry, TrackSubject};
use crate::error::CopyError;
use crate::format::Format;
use crate::input;
use crate::options::Options;
use crate::stop::Stop;
use crate::track_version::Version;

/// What a run makes of tracks.
#[derive(Debug)]
pub struct Tracks {
    formats: Vec<Format>,
    font: Option<Font>,
}

/// A track that could not be made.
#[derive(Debug)]
pub struct TrackFailure {
    /// The file within the lesson's folder; without an ending where none of
    /// its formats could be made.
    pub file: String,
    /// Why.
    pub error: SoundError,
}

/// What became of a sheet's tracks.
#[derive(Debug, Default)]
pub struct TrackSet {
    pub tracks: Vec<TrackEntry>,
    pub failed: Vec<TrackFailure>,
}

impl Tracks {
    /// The tracks a run was asked for. Where its SoundFont can't be used,
    /// what is wrong with it, too, and the audio is left out.
    pub fn new(options: &Options) -> (Tracks, Option<String>) {
        let wanted = |format: &&Format| format.is_track();
        let mut formats: Vec<Format> = options.formats.iter().filter(wanted).copied().collect();
        let mut font = None;
        let mut fault = None;
        if formats.iter().any(|format| format.is_audio()) {
            match options.soundfont.as_deref().map(read) {
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
    /// cores, and puts each file where it belongs. `stem` is the sheet's file
    /// within the lesson's folder, without its ending.
    ///
    /// # Errors
    /// The first that `put` gives, or that the run was stopped.
    pub fn make(
        &self,
        scores: &[&Score],
        versions: &[Version],
        stem: &str,
        of: &TrackSubject,
        stop: &Stop,
        put: impl Fn(&str, &[u8]) -> Result<(), CopyError> + Sync,
    ) -> Result<TrackSet, CopyError> {
        if !self.any() {
            return Ok(TrackSet::default());
        }
        let made: Vec<TrackSet> = versions
            .par_iter()
            .map(|version| {
                stop.check()?;
                self.version(scores, version, stem, of, &put)
            })
            .collect::<Result<_, CopyError>>()?;
        let mut all = TrackSet::default();
        for one in made {
            all.add(one);
        }
        Ok(all)
    }

    fn version(
        &self,
        scores: &[&Score],
        version: &Version,
        stem: &str,
        of: &TrackSubject,
        put: &(impl Fn(&str, &[u8]) -> Result<(), CopyError> + Sync),
    ) -> Result<TrackSet, CopyError> {
        let mut made = TrackSet::default();
        let stem = format!("{stem}{}", version.suffix);
        let performance = match perform(scores, &version.take) {
            Ok(performance) => performance,
            Err(error) => {
                made.failed.push(TrackFailure { file: stem, error });
                return Ok(made);
            }
        };
        let seconds = performance
            .microseconds(performance.end)
            .div_ceil(1_000_000);
        let mut samples = None;
        for format in &self.formats {
            let file = format!("{stem}.{}", format.ending());
            match self.bytes(*format, &performance, &mut samples) {
                Ok(bytes) => {
                    put(&file, &bytes)?;
                    made.tracks.push(TrackEntry {
                        file,
                        of: of.clone(),
                        form: version.form.to_owned(),
                        tempo: version.take.tempo,
                        seconds,
                    });
                }
                Err(error) => made.failed.push(TrackFailure { file, error }),
            }
        }
        Ok(made)
    }

    /// A performance in one format. Its samples are rendered once.
    fn bytes(
        &self,
        format: Format,
        performance: &Performance,
        samples: &mut Option<Samples>,
    ) -> Result<Vec<u8>, SoundError> {
        if !format.is_audio() {
            return Ok(midi(performance));
        }
        let rendered = match samples.take() {
            Some(samples) => samples,
            None => self.render(performance)?,
        };
        let rendered = samples.insert(rendered);
        match format {
            Format::Flac => rendered.flac(),
            _ => rendered.wav(),
        }
    }

    /// A font's samples lie left and right; the plain voice is one.
    fn render(&self, performance: &Performance) -> Result<Samples, SoundError> {
        match &self.font {
            Some(font) => render(performance, Voice::Font(font), Channels::Stereo),
            None => render(performance, Voice::Plain, Channels::Mono),
        }
    }
}

impl TrackSet {
    pub fn add(&mut self, other: TrackSet) {
        self.tracks.extend(other.tracks);
        self.failed.extend(other.failed);
    }
}

fn read(path: &Path) -> Result<Font, String> {
    let bytes = bytes(path).map_err(|error| {
        let reason = match error.kind() {
            std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
            std::io::ErrorKind::Unsupported => error.to_string(),
            _ => format!("can't be read: {error}"),
        };
        format!("{}: {reason}", path.display())
    })?;
    Font::read(&bytes).map_err(|error| format!("{}: {error}", path.display()))
}

/// A RIFF file says its length (of what follows it) after its name; no more
/// than that is read, and nothing of what isn't one but its first words.
fn bytes(path: &Path) -> std::io::Result<Vec<u8>> {
    const HEAD: u64 = 8;
    input::plain(path)?;
    let mut file = File::open(path)?;
    let mut bytes = Vec::new();
    (&mut file).take(HEAD).read_to_end(&mut bytes)?;
    if let [b'R', b'I', b'F', b'F', a, b, c, d] = bytes[..] {
        let length = u32::from_le_bytes([a, b, c, d]);
        file.take(length.into()).read_to_end(&mut bytes)?;
    }
    Ok(bytes)
}
