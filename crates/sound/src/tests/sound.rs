//! What is rendered: pitches found by a Fourier transform, onsets, length,
//! loudness, and the files' own readers. Both voices are held to the same.
#![allow(clippy::float_arithmetic)]

use std::f64::consts::TAU;

use super::{sheet, sound_font, swinging};
use crate::{
    Channels, Performance, RATE, Role, Samples, SoundError, Take, Tracks, Tuning, Voice, perform,
    render,
};

/// Two octaves up, a rest after each note.
const SCALE: [&str; 4] = [
    "C4/1 r/1 D4/1 r/1 E4/1 r/1 F4/1 r/1",
    "G4/1 r/1 A4/1 r/1 B4/1 r/1 C5/1 r/1",
    "D5/1 r/1 E5/1 r/1 F5/1 r/1 G5/1 r/1",
    "A5/1 r/1 B5/1 r/1 C6/1 r/1 r/2",
];

fn alone(tuning: u16) -> Take {
    Take {
        tracks: Tracks::LINE_ALONE,
        count_in: 0,
        tuning: Tuning::new(tuning).unwrap(),
        ..Take::default()
    }
}

/// Renders with the built-in voice and with a one-sine font.
fn with_both(performance: &Performance, check: impl Fn(&Samples, &str)) {
    let font = sound_font::sine();
    check(
        &render(performance, Voice::Plain, Channels::Mono).unwrap(),
        "plain",
    );
    check(
        &render(performance, Voice::Font(&font), Channels::Mono).unwrap(),
        "font",
    );
}

fn frame(performance: &Performance, tick: u32) -> usize {
    let samples = performance.microseconds(tick) * u64::from(RATE) / 1_000_000;
    samples as usize
}

/// How strong a frequency is in a windowed stretch.
fn strength(values: &[i16], frequency: f64) -> f64 {
    let length = values.len() as f64;
    let (mut x, mut y) = (0.0, 0.0);
    for (at, value) in values.iter().enumerate() {
        let window = 0.5 - 0.5 * (TAU * at as f64 / length).cos();
        let angle = TAU * frequency * at as f64 / f64::from(RATE);
        x += window * f64::from(*value) * angle.cos();
        y += window * f64::from(*value) * angle.sin();
    }
    x.hypot(y)
}

/// The strongest frequency: the loudest semitone, then cent by cent.
fn pitch(values: &[i16]) -> f64 {
    let semitone = |key: i32| 440.0 * (f64::from(key - 69) / 12.0).exp2();
    let key = (36..100)
        .max_by(|a, b| strength(values, semitone(*a)).total_cmp(&strength(values, semitone(*b))));
    let cents = |cents: i32| semitone(key.unwrap()) * (f64::from(cents) / 1_200.0).exp2();
    let nearest = (-60..=60)
        .max_by(|a, b| strength(values, cents(*a)).total_cmp(&strength(values, cents(*b))));
    cents(nearest.unwrap())
}

#[test]
fn a_scale_is_in_tune() {
    for tuning in [440, 415] {
        let performance = perform(&[&sheet(2, "4/4", &SCALE)], &alone(tuning)).unwrap();
        with_both(&performance, |samples, voice| {
            for strike in performance.strikes(Role::Line) {
                let from = frame(&performance, strike.onset) + 400;
                let to = frame(&performance, strike.end) - 1_000;
                let found = pitch(&samples.values[from..to]);
                let expected =
                    f64::from(tuning) * (f64::from(i32::from(strike.key) - 69) / 12.0).exp2();
                let cents = 1_200.0 * (found / expected).log2();
                assert!(
                    cents.abs() < 2.0,
                    "{voice} {}: {cents} cents off",
                    strike.key
                );
            }
        });
    }
}

#[test]
fn onsets_are_within_two_milliseconds() {
    let score = swinging(
        2,
        "4/4",
        &["C4/1 r/2 C5/1 r/1 G4/1 r/1 A5/1", "r/1 E4/1 r/6"],
    );
    let performance = perform(&[&score], &alone(440)).unwrap();
    assert_eq!(
        super::onsets(&performance, Role::Line),
        "0 5/3 8/3 11/3 14/3"
    );
    with_both(&performance, |samples, voice| {
        for strike in performance.strikes(Role::Line) {
            let from = frame(&performance, strike.onset);
            let note = &samples.values[from..frame(&performance, strike.end)];
            let peak = note.iter().map(|value| value.unsigned_abs()).max().unwrap();
            let loud = |value: &i16| value.unsigned_abs() > peak / 10;
            let heard = note.iter().position(loud).unwrap();
            assert!(heard < 88, "{voice}: heard {heard} samples late");
            let before = &samples.values[from.saturating_sub(1_000)..from];
            assert!(!before.iter().any(loud), "{voice}: heard before {from}");
        }
    });
}

#[test]
fn repeated_notes_are_heard_apart() {
    let performance = perform(&[&sheet(1, "4/4", &["A4/1 A4/1 A4/2"])], &alone(440)).unwrap();
    with_both(&performance, |samples, voice| {
        let peak = 29_195;
        for strike in &performance.strikes(Role::Line)[1..] {
            let onset = frame(&performance, strike.onset);
            let loudest = |values: &[i16]| values.iter().map(|value| value.abs()).max().unwrap();
            assert!(
                loudest(&samples.values[onset - 50..onset]) < peak / 8,
                "{voice}"
            );
            assert!(
                loudest(&samples.values[onset + 200..onset + 500]) > peak / 2,
                "{voice}"
            );
            assert!(
                loudest(&samples.values[onset - 2_000..onset - 1_500]) > peak / 2,
                "{voice}"
            );
        }
    });
}

#[test]
fn every_role_is_heard_without_clipping() {
    let score = sheet(2, "4/4", &["C7@C5/1 D5/1 r/6", "F7@r/8"]);
    let performance = perform(&[&score], &Take::default()).unwrap();
    for channels in [Channels::Mono, Channels::Stereo] {
        let font = sound_font::sine();
        for voice in [Voice::Plain, Voice::Font(&font)] {
            let samples = render(&performance, voice, channels).unwrap();
            assert_eq!(samples.frames(), 12 * 44_100 * 2 / 3); // 12 quarters at 90
            let peak = samples
                .values
                .iter()
                .map(|value| value.unsigned_abs())
                .max();
            assert_eq!(peak, Some(29_195));
            let quarter = samples.values.len() / 12;
            for (at, beat) in samples.values.chunks(quarter).enumerate() {
                assert!(
                    beat[..quarter / 4].iter().any(|value| value.abs() > 900),
                    "beat {at}"
                );
            }
            assert_eq!(samples.values.last(), Some(&0));
        }
    }
}

#[test]
fn the_same_bytes_again() {
    let performance = perform(&[&sheet(2, "4/4", &["G7@C5/3 D5/5"])], &Take::default()).unwrap();
    let font = sound_font::sine();
    for voice in [Voice::Plain, Voice::Font(&font)] {
        let bytes = || render(&performance, voice, Channels::Stereo).unwrap();
        assert_eq!(bytes().flac(), bytes().flac());
        assert_eq!(bytes().wav(), bytes().wav());
    }
}

#[test]
fn files_are_read_back_sample_for_sample() {
    let performance = perform(&[&sheet(2, "4/4", &["G7@C5/3 D5/5"])], &Take::default()).unwrap();
    let lengths = [0, 2, 30, 8_192, 8_194, 20_000];
    for channels in [Channels::Mono, Channels::Stereo] {
        let whole = render(&performance, Voice::Plain, channels).unwrap();
        for length in lengths {
            let samples = Samples {
                channels,
                values: whole.values[..length].to_vec(),
            };
            check_wav(&samples);
            check_flac(&samples);
        }
        check_flac(&whole);
    }
}

fn check_wav(samples: &Samples) {
    let bytes = samples.wav().unwrap();
    let mut reader = hound::WavReader::new(bytes.as_slice()).unwrap();
    let spec = reader.spec();
    assert_eq!(
        (spec.channels, spec.sample_rate),
        (samples.channels.count(), 44_100)
    );
    let read: Result<Vec<i16>, _> = reader.samples().collect();
    assert_eq!(read.unwrap(), samples.values);
}

fn check_flac(samples: &Samples) {
    let bytes = samples.flac().unwrap();
    let mut reader = claxon::FlacReader::new(bytes.as_slice()).unwrap();
    let info = reader.streaminfo();
    assert_eq!(
        (info.channels, info.sample_rate),
        (u32::from(samples.channels.count()), 44_100)
    );
    assert_eq!(info.samples.unwrap_or(0), samples.frames() as u64);
    let read: Vec<i16> = reader
        .samples()
        .map(|value| value.unwrap() as i16)
        .collect();
    assert_eq!(read, samples.values);
}

#[test]
fn a_track_longer_than_an_hour_is_said() {
    let bars = vec!["C4/1000"; 6];
    let score = sheet(1, "4/4", &bars);
    let performance = perform(&[&score], &alone(440)).unwrap();
    assert_eq!(
        render(&performance, Voice::Plain, Channels::Mono),
        Err(SoundError::TooLongToRender { minutes: 60 })
    );
}
