//! The bytes of files, against the published tables, and read back.

use midly::{Format, MetaMessage, MidiMessage, Smf, Timing, TrackEventKind};
use score::Transposition;
use theory::{Interval, KeySignature, Mode, Signature};

use super::{sheet, tempo};
use crate::{Take, Tuning, midi, perform};

fn file(take: &Take) -> Vec<u8> {
    let mut score = sheet(2, "6/8", &["D7@B4/3 B4/3"]);
    score.part.transposition = Transposition::of(Interval::from_steps(-5, -9));
    score.part.measures[0].key = Some(KeySignature {
        signature: Signature::new(2).unwrap(),
        mode: Some(Mode::Minor),
    });
    score.part.measures[0]
        .directions
        .push(tempo(rhythm::ValueKind::Quarter, 1, 80));
    midi(&perform(&[&score], take).unwrap())
}

fn has(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

#[test]
fn bytes_of_the_published_tables() {
    let bytes = file(&Take::default());
    let check = |part: &[u8], what: &str| assert!(has(&bytes, part), "{what}: {part:02X?}");
    // Standard MIDI Files 1.0
    check(
        b"MThd\x00\x00\x00\x06\x00\x01\x00\x05\x01\xE0",
        "format 1, 5 tracks, 480 ticks",
    );
    check(
        b"\xFF\x51\x03\x07\xA1\x20",
        "Set Tempo: 500,000 microseconds, 120 a minute",
    );
    check(
        b"\xFF\x58\x04\x06\x03\x24\x08",
        "Time Signature: 6/8, 36 clocks a beat",
    );
    check(b"\xFF\x59\x02\xFF\x01", "Key Signature: one flat, minor");
    check(b"\xFF\x03\x0AFive Gates", "Sequence Name");
    check(b"\xFF\x03\x06Chords", "Track Name");
    check(b"\xFF\x03\x05Click", "Track Name");
    check(b"\xFF\x2F\x00", "End of Track");
    // General MIDI Level 1 sound set, numbers from 1
    check(b"\xC0\x41", "66 Alto Sax");
    check(b"\xC1\x00", "1 Acoustic Grand Piano");
    check(b"\xC2\x20", "33 Acoustic Bass");
    // General MIDI Level 1 percussion key map, channel 10
    check(b"\x99\x4C\x70", "76 Hi Wood Block");
    check(b"\x99\x4D\x60", "77 Low Wood Block");
    // written B4 on the alto saxophone is D4
    check(b"\x90\x3E", "note on, channel 1, D4");
    check(b"\x80\x3E\x40", "note off");
    assert!(bytes.ends_with(b"\xFF\x2F\x00"));
}

#[test]
fn another_tuning_is_said_to_every_pitched_channel() {
    let tuned = file(&Take {
        tuning: Tuning::new(442).unwrap(),
        ..Take::default()
    });
    // MIDI 1.0 registered parameters 2 (coarse) and 1 (fine), running status
    for channel in [0xB0, 0xB1, 0xB2] {
        let said = [
            channel, 101, 0, 0, 100, 2, 0, 6, 64, 0, 101, 0, 0, 100, 1, 0, 6, 69, 0, 38, 3,
        ];
        assert!(has(&tuned, &said), "{channel:X}");
    }
    assert!(!has(&file(&Take::default()), &[0xB0, 101]));
}

#[test]
fn programs_are_the_instruments() {
    // General MIDI Level 1 sound set
    for (program, byte) in [
        (57, 56),
        (58, 57),
        (67, 66),
        (72, 71),
        (74, 73),
        (1, 0),
        (128, 127),
        (0, 0),
        (200, 127),
    ] {
        let mut score = sheet(1, "4/4", &["C5/4"]);
        score.part.midi_program = program;
        let bytes = midi(&perform(&[&score], &Take::default()).unwrap());
        assert!(has(&bytes, &[0xC0, byte]), "{program}");
    }
}

#[test]
fn read_back_as_tracks_with_names() {
    let bytes = file(&Take::default());
    let file = Smf::parse(&bytes).unwrap();
    assert_eq!(file.header.format, Format::Parallel);
    assert_eq!(file.header.timing, Timing::Metrical(480.into()));
    let names: Vec<&str> = file
        .tracks
        .iter()
        .filter_map(|track| match track.first()?.kind {
            TrackEventKind::Meta(MetaMessage::TrackName(name)) => std::str::from_utf8(name).ok(),
            _ => None,
        })
        .collect();
    assert_eq!(
        names,
        [
            "Five Gates",
            "Alto Saxophone in Eb",
            "Chords",
            "Bass",
            "Click"
        ]
    );
    for track in &file.tracks {
        let length: u32 = track.iter().map(|event| event.delta.as_int()).sum();
        assert_eq!(length, 2 * 3 * 480);
    }
}

#[test]
fn a_repeated_note_ends_before_it_begins_again() {
    let bytes = file(&Take::default());
    let file = Smf::parse(&bytes).unwrap();
    let messages: Vec<(u32, bool)> = file.tracks[1]
        .iter()
        .filter_map(|event| match event.kind {
            TrackEventKind::Midi {
                message: MidiMessage::NoteOn { .. },
                ..
            } => Some((event.delta.as_int(), true)),
            TrackEventKind::Midi {
                message: MidiMessage::NoteOff { .. },
                ..
            } => Some((event.delta.as_int(), false)),
            _ => None,
        })
        .collect();
    assert_eq!(
        messages,
        [(1_440, true), (720, false), (0, true), (720, false)]
    );
}
