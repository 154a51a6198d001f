//! What is rendered: pitches found by a Fourier transform, onsets, length,
//! loudness, and the files' own readers. Both voices are held to the same.
#![allow(clippy::float_arithmetic)]

use std::f64::consts::TAU;

use std::io::Cursor;

use super::{heard, sheet, sound_font, swinging};
use crate::{
    Performance, RATE, Recording, Role, SoundError, Tags, Take, Tracks, Tuning, Voice, perform,
};

/// Frames of quiet before the first tick, and after the last.
const LEAD: usize = 13_230;
const RING: usize = 44_100;

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

/// Renders with the built-in voice and with a one-sine font; what is left.
fn with_both(performance: &Performance, check: impl Fn(&[i16], &str)) {
    let font = sound_font::sine();
    for (voice, name) in [(Voice::Plain, "plain"), (Voice::Font(&font), "font")] {
        let samples = heard(performance, voice).unwrap();
        let left: Vec<i16> = samples.iter().step_by(2).copied().collect();
        check(&left, name);
    }
}

fn frame(performance: &Performance, tick: u32) -> usize {
    let samples = performance.microseconds(tick) * u64::from(RATE) / 1_000_000;
    LEAD + samples as usize
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
                let found = pitch(&samples[from..to]);
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
            let note = &samples[from..frame(&performance, strike.end)];
            let peak = note.iter().map(|value| value.unsigned_abs()).max().unwrap();
            let loud = |value: &i16| value.unsigned_abs() > peak / 10;
            let heard = note.iter().position(loud).unwrap();
            // a wind rises in 25 to 40 milliseconds
            let late = if voice == "plain" { 441 } else { 88 };
            assert!(heard < late, "{voice}: heard {heard} samples late");
            let before = &samples[from.saturating_sub(1_000)..from];
            assert!(!before.iter().any(loud), "{voice}: heard before {from}");
        }
    });
}

#[test]
fn repeated_notes_are_heard_apart() {
    let performance = perform(&[&sheet(1, "4/4", &["A4/1 A4/1 A4/2"])], &alone(440)).unwrap();
    with_both(&performance, |samples, voice| {
        let loudest = |values: &[i16]| values.iter().map(|value| value.abs()).max().unwrap();
        let peak = loudest(samples);
        for strike in &performance.strikes(Role::Line)[1..] {
            let onset = frame(&performance, strike.onset);
            let windows = samples[onset - 1_500..onset + 200].chunks(100);
            let quietest = windows.map(loudest).min().unwrap();
            assert!(quietest < peak / 3, "{voice}: {quietest}");
            assert!(
                loudest(&samples[onset + 1_500..onset + 2_000]) > peak / 2,
                "{voice}"
            );
            assert!(
                loudest(&samples[onset - 4_000..onset - 3_500]) > peak / 2,
                "{voice}"
            );
        }
    });
}

/// The loudness of 10 milliseconds around a frame.
fn around(samples: &[i16], at: usize) -> f64 {
    let window = &samples[at - 220..at + 220];
    let sum: f64 = window.iter().map(|value| f64::from(*value).powi(2)).sum();
    (sum / window.len() as f64).sqrt()
}

/// How many decibels the sound dips where one note turns into the next.
fn dip(marks: impl Fn(usize) -> score::Marks) -> f64 {
    let mut score = sheet(1, "4/4", &["A4/1 C5/1 r/2"]);
    for (number, element) in score.part.measures[0].elements.iter_mut().enumerate() {
        if let score::Element::Note(note) = element {
            note.marks = marks(number);
        }
    }
    let performance = perform(&[&score], &alone(440)).unwrap();
    let samples = heard(&performance, Voice::Plain).unwrap();
    let left: Vec<i16> = samples.iter().step_by(2).copied().collect();
    let join = frame(&performance, performance.strikes(Role::Line)[1].onset);
    let places = (join - 3_000..join + 1_000).step_by(50);
    let lowest = places.map(|at| around(&left, at)).fold(f64::MAX, f64::min);
    let usual = around(&left, join - 8_000).min(around(&left, join + 8_000));
    20.0 * (usual / lowest.max(1.0)).log10()
}

#[test]
fn slurred_notes_are_joined_and_plain_and_tenuto_are_not_alike() {
    let slurred = dip(|number| score::Marks {
        slur_begins: number == 0,
        slur_ends: number == 1,
        ..score::Marks::default()
    });
    let tenuto = dip(|_| score::Marks {
        tenuto: true,
        ..score::Marks::default()
    });
    let plain = dip(|_| score::Marks::default());
    assert!(slurred < 3.0, "{slurred}");
    assert!(
        slurred < tenuto && tenuto < 6.0 && plain > tenuto + 3.0,
        "{tenuto} {plain}"
    );
}

#[test]
fn winds_differ_by_their_partials() {
    let colours = [72, 74, 66, 57].map(|program| {
        let mut score = sheet(1, "4/4", &["A4/4"]);
        score.part.midi_program = program;
        let performance = perform(&[&score], &alone(440)).unwrap();
        let samples = heard(&performance, Voice::Plain).unwrap();
        let left: Vec<i16> = samples.iter().step_by(2).copied().collect();
        let here = &left[LEAD + 10_000..LEAD + 30_000];
        let first = strength(here, 440.0);
        let over: f64 = (3..9).map(|n| strength(here, 440.0 * f64::from(n))).sum();
        (over / first, strength(here, 880.0) / first)
    });
    let [clarinet, flute, saxophone, brass] = colours;
    // a clarinet's second partial is weak, its third is not
    assert!(clarinet.1 < 0.15 && clarinet.0 > 0.4, "{colours:?}");
    assert!(flute.0 < clarinet.0 && flute.0 < saxophone.0, "{colours:?}");
    assert!(brass.0 > 1.0 && saxophone.0 > 1.0, "{colours:?}");
}

#[test]
fn every_role_is_heard_without_clipping() {
    let score = sheet(2, "4/4", &["C7@C5/1 D5/1 r/6", "F7@r/8"]);
    let performance = perform(&[&score], &Take::default()).unwrap();
    let font = sound_font::sine();
    for voice in [Voice::Plain, Voice::Font(&font)] {
        let samples = heard(&performance, voice).unwrap();
        // 12 quarters at 90
        let length = 12 * 44_100 * 2 / 3;
        assert_eq!(samples.len(), 2 * (LEAD + length + RING));
        let peak = samples.iter().map(|value| value.unsigned_abs()).max();
        assert!(peak <= Some(29_205), "{peak:?}");
        assert!(samples[..2 * LEAD].iter().all(|value| *value == 0));
        let quarter = 2 * length / 12;
        let sound = &samples[2 * LEAD..2 * (LEAD + length)];
        for (at, beat) in sound.chunks(quarter).enumerate() {
            let heard = beat[..quarter / 4].iter().any(|value| value.abs() > 300);
            assert!(heard, "beat {at}");
        }
        let last = &samples[samples.len() - 4..];
        assert!(last.iter().all(|value| value.abs() < 4));
    }
}

/// What a file of everything holds.
fn file(voice: Voice<'_>, performance: &Performance, flac: bool, tags: &Tags) -> Vec<u8> {
    let scratch = Cursor::new(Vec::new());
    let mut recording = Recording::new(performance, voice, scratch).unwrap();
    let balance = recording.balance().unwrap();
    let mut out = Cursor::new(Vec::new());
    let written = if flac {
        recording.flac(|_| true, &balance, tags, &mut out)
    } else {
        recording.wav(|_| true, &balance, tags, &mut out)
    };
    written.unwrap();
    out.into_inner()
}

fn tags() -> Tags {
    Tags {
        title: "Five Gates – C♭".into(),
        performer: "Flute".into(),
        album: "Gates".into(),
        number: 3,
        tempo: 120,
        edition: "0a1b2c".into(),
    }
}

#[test]
fn the_same_bytes_again_and_read_back_sample_for_sample() {
    let performance = perform(&[&sheet(2, "4/4", &["G7@C5/3 D5/5"])], &Take::default()).unwrap();
    let font = sound_font::sine();
    for voice in [Voice::Plain, Voice::Font(&font)] {
        let bytes = |flac| file(voice, &performance, flac, &tags());
        assert!(bytes(false) == bytes(false) && bytes(true) == bytes(true));
        let samples = heard(&performance, voice).unwrap();
        let wav = bytes(false);
        let mut reader = hound::WavReader::new(wav.as_slice()).unwrap();
        let spec = reader.spec();
        assert_eq!((spec.channels, spec.sample_rate), (2, 44_100));
        let read: Result<Vec<i16>, _> = reader.samples().collect();
        assert!(read.unwrap() == samples);
        let flac = bytes(true);
        let mut reader = claxon::FlacReader::new(flac.as_slice()).unwrap();
        let info = reader.streaminfo();
        assert_eq!((info.channels, info.sample_rate), (2, 44_100));
        assert_eq!(info.samples, Some(samples.len() as u64 / 2));
        let read = reader.samples().map(|value| value.unwrap() as i16);
        assert!(read.collect::<Vec<_>>() == samples);
    }
}

#[test]
fn files_say_what_they_are() {
    let performance = perform(&[&sheet(2, "4/4", &["C5/8"])], &Take::default()).unwrap();
    let flac = file(Voice::Plain, &performance, true, &tags());
    let reader = claxon::FlacReader::new(flac.as_slice()).unwrap();
    let said: Vec<(&str, &str)> = reader.tags().collect();
    let expected = [
        ("TITLE", "Five Gates – C♭"),
        ("ARTIST", "Flute"),
        ("PERFORMER", "Flute"),
        ("ALBUM", "Gates"),
        ("TRACKNUMBER", "3"),
        ("BPM", "120"),
        ("VERSION", "0a1b2c"),
    ];
    assert_eq!(said, expected);
    let wav = file(Voice::Plain, &performance, false, &tags());
    let size = u32::from_le_bytes(wav[4..8].try_into().unwrap()) as usize;
    assert_eq!(size + 8, wav.len());
    let at = wav.windows(8).rposition(|part| &part[4..] == b"INFO");
    let at = at.unwrap();
    let length = u32::from_le_bytes(wav[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!(at + 4 + length, wav.len());
    let mut rest = &wav[at + 8..];
    let mut said = Vec::new();
    while rest.len() > 8 {
        let name = std::str::from_utf8(&rest[..4]).unwrap();
        let size = u32::from_le_bytes(rest[4..8].try_into().unwrap()) as usize;
        let text = std::str::from_utf8(&rest[8..8 + size - 1]).unwrap();
        said.push(format!("{name} {text}"));
        rest = &rest[8 + size.next_multiple_of(2)..];
    }
    assert_eq!(
        said,
        [
            "INAM Five Gates – C♭",
            "IART Flute",
            "IPRD Gates",
            "ITRK 3",
            "ICMT Edition 0a1b2c, 120 beats a minute"
        ]
    );
    let bare = file(Voice::Plain, &performance, false, &Tags::default());
    assert!(!bare.windows(4).any(|part| part == b"INFO"));
}

/// A form has the gain of the whole: what is taken away leaves the rest as it
/// is.
#[test]
fn forms_are_parts_of_the_whole() {
    let mut score = swinging(2, "4/4", &["C7@C5/3 D5/5", "F7@E5/8"]);
    super::grounded(&mut score, Some(2));
    let performance = perform(&[&score], &Take::default()).unwrap();
    let scratch = Cursor::new(Vec::new());
    let mut recording = Recording::new(&performance, Voice::Plain, scratch).unwrap();
    let balance = recording.balance().unwrap();
    let mut form = |heard: fn(Role) -> bool| {
        let mut samples: Vec<i16> = Vec::new();
        let mut put = |block: &[i16]| {
            samples.extend_from_slice(block);
            Ok(())
        };
        recording.form(heard, &balance, &mut put).unwrap();
        samples
    };
    let (all, line, others) = (
        form(|_| true),
        form(|role| role == Role::Line),
        form(|role| role != Role::Line),
    );
    for ((all, line), others) in all.iter().zip(line).zip(others) {
        assert!((all - line - others).abs() <= 1);
    }
}

#[test]
fn a_track_longer_than_six_hours_is_said() {
    let bars = vec!["C4/1000"; 36];
    let score = sheet(1, "4/4", &bars);
    let performance = perform(&[&score], &alone(440)).unwrap();
    assert_eq!(
        heard(&performance, Voice::Plain),
        Err(SoundError::TooLongToRender { minutes: 360 })
    );
}
