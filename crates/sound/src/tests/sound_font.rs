//! A tiny SoundFont made here, and what happens when it is damaged.
#![allow(clippy::float_arithmetic)]

use std::f64::consts::TAU;
use std::io::Cursor;

use rustysynth::SoundFont;

use super::{heard, sheet};
use crate::voice::FontFile;
use crate::{Font, SoundError, Take, Voice, perform};

/// One preset, one instrument, one sine: A 4 at 44.1 kHz, looped over 22
/// whole periods in 2,205 samples (SoundFont 2.04 technical specification).
pub(super) fn sine() -> Font {
    Font::read(Cursor::new(bytes())).unwrap()
}

/// The same sine as piano and drums, a hundred times softer than as bass and
/// as what plays the line.
pub(super) fn uneven() -> Font {
    const SOFT: u16 = 600;
    let sounds = [
        Sounding {
            bank: 0,
            preset: 0,
            softer: SOFT,
        },
        Sounding {
            bank: 0,
            preset: 32,
            softer: 0,
        },
        Sounding {
            bank: 0,
            preset: 73,
            softer: 0,
        },
        Sounding {
            bank: 128,
            preset: 0,
            softer: SOFT,
        },
    ];
    Font::read(Cursor::new(font(&sounds))).unwrap()
}

const LOOP: u32 = 2_205;
const START: u32 = 8;

/// A preset that plays the sine, softer by so many centibels (section 8.1.2,
/// `initialAttenuation`).
struct Sounding {
    bank: u16,
    preset: u16,
    softer: u16,
}

fn bytes() -> Vec<u8> {
    font(&[Sounding {
        bank: 0,
        preset: 0,
        softer: 0,
    }])
}

fn font(sounds: &[Sounding]) -> Vec<u8> {
    let wave = (0..START + LOOP + 8).map(|at| {
        let turns = 440.0 * (f64::from(at) - f64::from(START)) / 44_100.0;
        (20_000.0 * (TAU * turns).sin()).round() as i16
    });
    let mut samples: Vec<u8> = wave.flat_map(i16::to_le_bytes).collect();
    samples.extend([0; 92]); // 46 silent samples after each, section 6.1
    let info = list(
        b"INFO",
        &[
            chunk(b"ifil", &[2, 0, 4, 0]),
            chunk(b"isng", b"EMU8000\0"),
            chunk(b"INAM", b"One sine\0\0"),
        ],
    );
    let (mut presets, mut bags, mut generators) = (Vec::new(), Vec::new(), Vec::new());
    for (zone, sound) in (0u16..).zip(sounds) {
        presets.extend(preset("Sine", [sound.preset, sound.bank, zone]));
        bags.extend([generators.len() as u16 / 2, 0]);
        if sound.softer > 0 {
            generators.extend([48, sound.softer]);
        }
        generators.extend([41, 0]); // instrument 0
    }
    let last = sounds.len() as u16;
    presets.extend(preset("EOP", [0, 0, last]));
    bags.extend([generators.len() as u16 / 2, 0]);
    generators.extend([0, 0]);
    let tables = list(
        b"pdta",
        &[
            chunk(b"phdr", &presets),
            chunk(b"pbag", &words(&bags)),
            chunk(b"pmod", &[0; 10]),
            chunk(b"pgen", &words(&generators)),
            chunk(
                b"inst",
                &[instrument("Sine", 0), instrument("EOI", 1)].concat(),
            ),
            chunk(b"ibag", &words(&[0, 0, 2, 0])),
            chunk(b"imod", &[0; 10]),
            chunk(b"igen", &words(&[54, 1, 53, 0, 0, 0])), // looped, sample 0
            chunk(b"shdr", &[header("Sine"), vec![0; 46]].concat()),
        ],
    );
    let lists = [info, list(b"sdta", &[chunk(b"smpl", &samples)]), tables].concat();
    chunk(b"RIFF", &[b"sfbk".as_slice(), &lists].concat())
}

fn chunk(name: &[u8; 4], inside: &[u8]) -> Vec<u8> {
    [name, (inside.len() as u32).to_le_bytes().as_slice(), inside].concat()
}

fn list(name: &[u8; 4], chunks: &[Vec<u8>]) -> Vec<u8> {
    chunk(b"LIST", &[name.as_slice(), &chunks.concat()].concat())
}

fn words(words: &[u16]) -> Vec<u8> {
    words.iter().flat_map(|word| word.to_le_bytes()).collect()
}

fn name(text: &str) -> Vec<u8> {
    let mut name = text.as_bytes().to_vec();
    name.resize(20, 0);
    name
}

fn preset(text: &str, number_bank_zone: [u16; 3]) -> Vec<u8> {
    [name(text), words(&number_bank_zone), vec![0; 12]].concat()
}

fn instrument(text: &str, zone: u16) -> Vec<u8> {
    [name(text), words(&[zone])].concat()
}

fn header(text: &str) -> Vec<u8> {
    let numbers = [0, START + LOOP + 8, START, START + LOOP, 44_100];
    let numbers: Vec<u8> = numbers.into_iter().flat_map(u32::to_le_bytes).collect();
    [name(text), numbers, vec![69, 0], words(&[0, 1])].concat()
}

/// Reads and plays; the words of what went wrong, if anything did.
fn play(bytes: &[u8]) -> Result<(), String> {
    let font = Font::read(Cursor::new(bytes.to_vec())).map_err(|error| error.to_string())?;
    let score = sheet(1, "4/4", &["C@C4/1 A4/1 C6/1 r/1"]);
    let take = Take {
        tempo: Some(2_000),
        ..Take::default()
    };
    let performance = perform(&[&score], &take).unwrap();
    let rendered = heard(&performance, Voice::Font(&font));
    rendered.map(|_| ()).map_err(|error| error.to_string())
}

#[test]
fn a_font_that_can_not_be_read_says_why() {
    let check = |bytes: &[u8], expected: &str| {
        assert_eq!(
            play(bytes),
            Err(format!("the SoundFont can't be used: {expected}"))
        );
    };
    let whole = bytes();
    assert_eq!(play(&whole), Ok(()));
    check(b"", "it is not a SoundFont file");
    check(b"MThd", "it is not a SoundFont file");
    check(b"RIFF\0\0\0\0WAVE", "it is not a SoundFont file");
    check(&whole[..whole.len() - 1], "it is cut short");
    check(&whole[..12], "it is cut short");
    let place = |name: &[u8; 4]| whole.windows(4).position(|window| window == name).unwrap();
    let damaged = |at: usize, values: &[u8]| {
        let mut bytes = whole.clone();
        bytes[at..at + values.len()].copy_from_slice(values);
        bytes
    };
    check(&damaged(place(b"smpl") + 4, &[0xFF; 4]), "it is cut short");
    check(
        &damaged(place(b"phdr") + 8 + 24, &[9]),
        "its tables are damaged",
    );
    check(
        &damaged(place(b"inst") + 8 + 22 + 20, &[9]),
        "its tables are damaged",
    );
    check(
        &damaged(place(b"igen") + 8 + 6, &[200]),
        "its tables are damaged",
    );
}

#[test]
fn no_damage_panics() {
    let whole = bytes();
    let smpl = whole
        .windows(4)
        .position(|window| window == b"smpl")
        .unwrap();
    let pdta = whole
        .windows(4)
        .position(|window| window == b"pdta")
        .unwrap();
    let mut refused = 0;
    for at in (0..smpl + 8).chain(pdta - 8..whole.len()) {
        for value in [0x00, 0x01, 0x7F, 0x80, 0xFF] {
            let mut bytes = whole.clone();
            bytes[at] = value;
            refused += usize::from(play(&bytes).is_err());
        }
        refused += usize::from(play(&whole[..at]).is_err());
    }
    assert!(refused > 500, "{refused}");
}

#[test]
fn a_font_that_breaks_while_it_plays_is_an_error_not_a_panic() {
    // a loop far shorter than the step of a high note runs past the samples
    let mut bytes = bytes();
    let shdr = bytes
        .windows(4)
        .position(|window| window == b"shdr")
        .unwrap();
    let at = shdr + 8 + 20;
    let end = START + LOOP + 8 + 40;
    bytes[at + 4..at + 8].copy_from_slice(&end.to_le_bytes());
    bytes[at + 8..at + 12].copy_from_slice(&(end - 1).to_le_bytes());
    bytes[at + 12..at + 16].copy_from_slice(&end.to_le_bytes());
    bytes[at + 16..at + 20].copy_from_slice(&4_000_000u32.to_le_bytes());
    let font = Font::read(Cursor::new(bytes)).unwrap();
    let performance = perform(&[&sheet(1, "4/4", &["C7/4"])], &Take::default()).unwrap();
    let rendered = heard(&performance, Voice::Font(&font));
    assert!(matches!(rendered, Err(SoundError::Font(_))), "{rendered:?}");
}

#[test]
fn what_a_font_lacks_is_said_by_name() {
    // one preset in bank 0, General MIDI 1
    let font = sine();
    let score = sheet(1, "4/4", &["C@C4/4"]);
    let performance = perform(&[&score], &Take::default()).unwrap();
    let stands_in = "another of its sounds stands in";
    assert_eq!(
        font.lacks(&performance),
        [
            format!(
                "the SoundFont has no sound for Alto Saxophone in E♭ (General MIDI 66); {stands_in}"
            ),
            format!("the SoundFont has no sound for bass (General MIDI 33); {stands_in}"),
            "the SoundFont has no drums: drums and the click have a sound of another kind"
                .to_owned(),
        ]
    );
}

/// Two presets with an instrument and a sample of their own, the second's
/// moved by its zone.
fn two() -> Vec<u8> {
    let wave: Vec<u8> = (0..400i16).flat_map(i16::to_le_bytes).collect();
    let sample = |text: &str, places: [u32; 4]| {
        let places: Vec<u8> = places.into_iter().flat_map(u32::to_le_bytes).collect();
        let rest = [
            44_100u32.to_le_bytes().to_vec(),
            vec![60, 0],
            words(&[0, 1]),
        ];
        [name(text), places, rest.concat()].concat()
    };
    let tables = list(
        b"pdta",
        &[
            chunk(
                b"phdr",
                &[
                    preset("First", [0, 0, 0]),
                    preset("Second", [7, 0, 1]),
                    preset("EOP", [0, 0, 2]),
                ]
                .concat(),
            ),
            chunk(b"pbag", &words(&[0, 0, 1, 0, 2, 0])),
            chunk(b"pgen", &words(&[41, 0, 41, 1, 0, 0])),
            chunk(
                b"inst",
                &[
                    instrument("First", 0),
                    instrument("Second", 1),
                    instrument("EOI", 3),
                ]
                .concat(),
            ),
            chunk(b"ibag", &words(&[0, 0, 2, 0, 3, 0, 6, 0])),
            // looped sample 0; for all zones looped, then three samples late
            chunk(
                b"igen",
                &words(&[54, 1, 53, 0, 54, 1, 0, 3, 45, 0, 53, 1, 0, 0]),
            ),
            chunk(
                b"shdr",
                &[
                    sample("First", [10, 60, 20, 50]),
                    sample("Second", [200, 300, 220, 290]),
                    vec![0; 46],
                ]
                .concat(),
            ),
        ],
    );
    let lists = [
        list(b"INFO", &[chunk(b"ifil", &[2, 0, 4, 0])]),
        list(b"sdta", &[chunk(b"smpl", &wave)]),
        tables,
    ];
    chunk(b"RIFF", &[b"sfbk".as_slice(), &lists.concat()].concat())
}

#[test]
fn a_preset_by_itself_plays_what_it_plays_in_the_whole_font() {
    let whole = SoundFont::new(&mut two().as_slice()).unwrap();
    let mut file = FontFile::read(Box::new(Cursor::new(two()))).unwrap();
    for preset in 0..2 {
        let cut = file.cut(preset).unwrap();
        assert!(cut.len() < two().len());
        let cut = SoundFont::new(&mut cut.as_slice()).unwrap();
        assert_eq!(cut.get_presets().len(), 1);
        assert_eq!(
            cut.get_presets()[0].get_patch_number(),
            whole.get_presets()[preset].get_patch_number()
        );
        let played = |font: &SoundFont, instrument: usize| {
            let regions = font.get_instruments()[instrument].get_regions().iter();
            let played = regions.map(|region| {
                let from = |place: i32| place - region.get_sample_start();
                let all = region.get_sample_start() as usize..region.get_sample_end() as usize + 1;
                (
                    from(region.get_sample_start_loop()),
                    from(region.get_sample_end_loop()),
                    font.get_wave_data()[all].to_vec(),
                )
            });
            played.collect::<Vec<_>>()
        };
        assert_eq!(played(&cut, 0), played(&whole, preset));
    }
}

#[test]
fn what_stands_in_for_a_missing_sound() {
    let tables = FontFile::read(Box::new(Cursor::new(two()))).unwrap().tables;
    assert_eq!(tables.preset(0, 7), Some(1));
    assert_eq!(tables.preset(0, 6), None);
    assert_eq!(tables.preset(128, 0), None);
    assert_eq!(tables.usual(), 0);
    assert!(tables.has_bank(0) && !tables.has_bank(128));
}
