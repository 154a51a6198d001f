//! A performance made audible: each role rendered once into a scratch file,
//! in blocks of 16 bits, while its loudness is measured; every form of a
//! track is summed from there.
#![allow(clippy::float_arithmetic)]

use std::io::{Read, Seek, SeekFrom, Write};

use crate::balance::Balance;
use crate::loudness::Meter;
use crate::voice::{FontPlayer, PlainPlayer, Player, Stem};
use crate::{Performance, RATE, Role, SoundError, Voice};

/// Where a recording is kept while forms are made of it: an unnamed file, or
/// memory.
pub trait Scratch: Read + Write + Seek {}

impl<T: Read + Write + Seek> Scratch for T {}

/// Where a form is written whose beginning is known last.
pub trait Output: Write + Seek {}

impl<T: Write + Seek> Output for T {}

/// The longest track that is rendered: as much as a WAV file holds.
const MOST_MINUTES: u32 = 360;

/// Frames of quiet before the first click, and of ringing after the last bar.
const LEAD: u64 = RATE as u64 * 3 / 10;
const RING: u64 = RATE as u64;

/// Frames over which the ringing fades at the very end.
const FADE: u64 = RATE as u64 / 5;

/// Frames of a block.
pub(crate) const BLOCK: usize = 8_192;

/// What a stem's 1.0 is in 16 bits: room for a few notes at once.
const SCALE: f32 = 7_000.0;

/// Every role of a performance, by itself.
pub struct Recording {
    scratch: Box<dyn Scratch>,
    frames: u64,
    stems: Vec<Stem>,
    /// Where each block of each stem lies; none where it is silent.
    blocks: Vec<Vec<Option<u64>>>,
    /// Mean squares of tenths of a second, by stems.
    quarters: Vec<Vec<f32>>,
    pub(crate) levels: crate::Levels,
}

impl Recording {
    /// Renders a performance.
    ///
    /// # Errors
    /// A track of more than six hours, a SoundFont that breaks while it
    /// plays, or a scratch that can't be written.
    pub fn new(
        performance: &Performance,
        voice: Voice<'_>,
        scratch: impl Scratch + 'static,
    ) -> Result<Recording, SoundError> {
        Recording::render(performance, voice, Box::new(scratch))
    }

    // Of one type, so that it is compiled here, where loops are made fast.
    fn render(
        performance: &Performance,
        voice: Voice<'_>,
        scratch: Box<dyn Scratch>,
    ) -> Result<Recording, SoundError> {
        let length = performance.clock().sample(performance.end, RATE);
        if length > u64::from(60 * MOST_MINUTES * RATE) {
            return Err(SoundError::TooLongToRender {
                minutes: MOST_MINUTES,
            });
        }
        let frames = LEAD + length + RING;
        match voice {
            Voice::Plain => {
                let player = PlainPlayer::new(performance, LEAD);
                Recording::of(player, frames, performance.levels, scratch)
            }
            Voice::Font(font) => {
                let player = FontPlayer::new(font, performance, LEAD)?;
                Recording::of(player, frames, performance.levels, scratch)
            }
        }
    }

    fn of(
        mut player: impl Player,
        frames: u64,
        levels: crate::Levels,
        mut scratch: Box<dyn Scratch>,
    ) -> Result<Recording, SoundError> {
        let stems = player.stems();
        let signals = signals(&stems);
        let mut meter = Meter::new(signals.len());
        let mut buffers: Vec<Vec<f32>> = stems
            .iter()
            .map(|stem| vec![0.0; BLOCK * stem.channels()])
            .collect();
        let mut blocks = Vec::new();
        let mut end = 0;
        let mut bytes = Vec::with_capacity(4 * BLOCK);
        let mut at = 0;
        while at < frames {
            let count = BLOCK.min((frames - at) as usize);
            for (buffer, stem) in buffers.iter_mut().zip(&stems) {
                buffer.clear();
                buffer.resize(count * stem.channels(), 0.0);
            }
            player.render(count, &mut buffers)?;
            let value = |signal: usize, frame: usize| {
                let found = signals.get(signal);
                found.map_or(0.0, |(stem, channels, channel)| {
                    buffers[*stem][frame * channels + channel]
                })
            };
            meter.take_in(count, value);
            let mut places = Vec::with_capacity(stems.len());
            for buffer in &buffers {
                if buffer.iter().all(|value| *value == 0.0) {
                    places.push(None);
                    continue;
                }
                bytes.clear();
                let rounded = buffer.iter().map(|value| (SCALE * value).round() as i16);
                bytes.extend(rounded.flat_map(i16::to_le_bytes));
                scratch.write_all(&bytes).map_err(SoundError::scratch)?;
                places.push(Some(end));
                end += bytes.len() as u64;
            }
            blocks.push(places);
            at += count as u64;
        }
        Ok(Recording {
            scratch,
            frames,
            quarters: by_stems(&meter, &signals, stems.len()),
            stems,
            blocks,
            levels,
        })
    }

    /// Frames, of two channels each.
    pub fn frames(&self) -> u64 {
        self.frames
    }

    /// How loud each role is to be, so that all together are as loud as a
    /// track should be.
    ///
    /// # Errors
    /// A scratch that can't be read.
    pub fn balance(&mut self) -> Result<Balance, SoundError> {
        let mut balance = Balance::of(&self.stems, &self.quarters, self.levels);
        let mut peaks = crate::true_peak::Peaks::default();
        let full = balance;
        self.sum(
            |_| true,
            &full,
            |block| {
                peaks.take_in(block);
                Ok(())
            },
        )?;
        balance.keep_under(peaks.highest());
        Ok(balance)
    }

    /// Sums the roles that are heard, block by block: 16 bits, left and right
    /// by turns.
    ///
    /// # Errors
    /// A scratch that can't be read, and what `put` gives.
    pub fn form(
        &mut self,
        heard: fn(Role) -> bool,
        balance: &Balance,
        put: &mut dyn FnMut(&[i16]) -> Result<(), SoundError>,
    ) -> Result<(), SoundError> {
        let mut rounded = Vec::with_capacity(2 * BLOCK);
        self.sum(heard, balance, |block| {
            rounded.clear();
            rounded.extend(block.iter().map(|value| value.round() as i16));
            put(&rounded)
        })
    }

    fn sum(
        &mut self,
        heard: fn(Role) -> bool,
        balance: &Balance,
        mut put: impl FnMut(&[f32]) -> Result<(), SoundError>,
    ) -> Result<(), SoundError> {
        let mut bytes = Vec::with_capacity(4 * BLOCK);
        let mut sum = Vec::with_capacity(2 * BLOCK);
        let mut at = 0;
        for places in &self.blocks {
            let count = BLOCK.min((self.frames - at) as usize);
            sum.clear();
            sum.resize(2 * count, 0.0f32);
            for (stem, place) in self.stems.iter().zip(places) {
                let Some(place) = place.filter(|_| heard(stem.role)) else {
                    continue;
                };
                bytes.resize(2 * count * stem.channels(), 0);
                self.scratch
                    .seek(SeekFrom::Start(place))
                    .map_err(SoundError::scratch)?;
                self.scratch
                    .read_exact(&mut bytes)
                    .map_err(SoundError::scratch)?;
                add(&bytes, stem, balance.gain(stem) / SCALE, &mut sum);
            }
            fade(&mut sum, at, self.frames);
            put(&sum)?;
            at += count as u64;
        }
        Ok(())
    }
}

/// A signal to measure for each channel: its stem, that one's channels, and
/// which of them it is.
fn signals(stems: &[Stem]) -> Vec<(usize, usize, usize)> {
    let of = |(stem, one): (usize, &Stem)| {
        let channels = one.channels();
        (0..channels).map(move |channel| (stem, channels, channel))
    };
    stems.iter().enumerate().flat_map(of).collect()
}

/// What a meter measured of signals, by stems.
fn by_stems(meter: &Meter, signals: &[(usize, usize, usize)], stems: usize) -> Vec<Vec<f32>> {
    let sums = meter.quarters.iter().map(|means| {
        let mut by_stem = vec![0.0f32; stems];
        for ((stem, ..), mean) in signals.iter().zip(means) {
            by_stem[*stem] += mean;
        }
        by_stem
    });
    sums.collect()
}

fn add(bytes: &[u8], stem: &Stem, gain: f32, sum: &mut [f32]) {
    let value = |bytes: &[u8]| f32::from(i16::from_le_bytes([bytes[0], bytes[1]]));
    match stem.place {
        Some(place) => {
            let (left, right) = (gain * (1.0 - place.max(0.0)), gain * (1.0 + place.min(0.0)));
            for (frame, bytes) in sum.chunks_exact_mut(2).zip(bytes.chunks_exact(2)) {
                let value = value(bytes);
                frame[0] += left * value;
                frame[1] += right * value;
            }
        }
        None => {
            for (sum, bytes) in sum.iter_mut().zip(bytes.chunks_exact(2)) {
                *sum += gain * value(bytes);
            }
        }
    }
}

/// Fades what rings at the very end.
fn fade(block: &mut [f32], at: u64, frames: u64) {
    let from = frames.saturating_sub(FADE);
    if at + (block.len() / 2) as u64 <= from {
        return;
    }
    for (frame, values) in (at..).zip(block.chunks_exact_mut(2)) {
        if frame >= from {
            let left = (frames - 1 - frame) as f32 / FADE as f32;
            values.iter_mut().for_each(|value| *value *= left);
        }
    }
}

impl std::fmt::Debug for Recording {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Recording")
            .field("frames", &self.frames)
            .field("stems", &self.stems)
            .finish_non_exhaustive()
    }
}
