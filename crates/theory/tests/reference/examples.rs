use theory::{
    Chord, ChordSymbol, Form, Instrument, Interval, KeyOrder, Letter, Level, Pitch, PitchName,
    Range, RootWish, Scale, Signature, SignatureStyle, SpellingStyle, concert_root, key_signature,
    spell_scale, written_root,
};

use crate::differences::{NO_INSTRUMENT, SCHOOL_RANGES};
use crate::keys::tonic;
use crate::table::{Row, spelled, table};

fn each(category: &str, check: impl Fn(&Row)) {
    let rows: Vec<Row> = table("examples")
        .into_iter()
        .filter(|row| row.get("category") == category)
        .collect();
    assert!(!rows.is_empty(), "{category}");
    rows.iter().for_each(check);
}

fn pitch(text: &str) -> Pitch {
    text.parse()
        .unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn major_fifths(root: PitchName) -> i8 {
    key_signature(
        &Scale::named("major").unwrap(),
        root,
        SignatureStyle::Fitting,
        SpellingStyle::Readable,
    )
    .signature
    .fifths()
}

#[test]
fn key_transposition() {
    each("key-transposition", |row| {
        let concert = tonic(row.get("given").strip_prefix("concert ").unwrap());
        let name = row.get("operation").strip_prefix("write for ").unwrap();
        let horn = Instrument::named(&name[..name.rfind(" (").unwrap()]).unwrap();
        let written = written_root(
            concert,
            horn.written_to_sounding,
            &Scale::named("major").unwrap(),
            None,
        );
        let found = format!("{written} major, fifths {}", major_fifths(written));
        assert_eq!(found, row.get("expected"), "{}", row.get("id"));
    });
}

#[test]
fn note_transposition() {
    each("note-transposition", |row| {
        let id = row.get("id");
        if row.get("operation") == "written pitch" {
            let part = Instrument::named("euphonium treble clef").unwrap();
            let written = pitch("Bb2") - part.written_to_sounding;
            assert!(row.get("given").starts_with("trombone written Bb2"), "{id}");
            assert_eq!(written.to_string(), row.get("expected"), "{id}");
            return;
        }
        let (name, written) = row.get("given").split_once(", written ").unwrap();
        let sound = pitch(written) + Instrument::named(name).unwrap().written_to_sounding;
        assert_eq!(
            format!("{sound} (MIDI {})", sound.midi()),
            row.get("expected"),
            "{id}"
        );
    });
}

#[test]
fn scale_spelling() {
    each("scale-spelling", |row| {
        let spell = |given: &str, form| {
            let given = given.replace(" (ascending form both ways)", "");
            let (root, scale) = Scale::with_root(&given).unwrap();
            spelled(&spell_scale(root, &scale, form, SpellingStyle::Strict))
        };
        let found = match row.get("operation") {
            "spell one octave" => spell(row.get("given"), Form::Rising),
            "spell one octave down" => {
                let given = row.get("given").strip_suffix(", descending").unwrap();
                format!("{} A", spell(given, Form::Falling))
            }
            other => panic!("{other}"),
        };
        assert_eq!(found, row.get("expected"), "{}", row.get("id"));
    });
}

#[test]
fn intervals() {
    each("interval", |row| {
        let found = match (row.get("given").split_once(" up to "), row.get("operation")) {
            (Some((low, high)), "name the interval") => {
                let interval = pitch(high) - pitch(low);
                format!("{interval} ({} semitones)", interval.semitones())
            }
            (None, "invert within the octave") => row
                .get("given")
                .parse::<Interval>()
                .unwrap()
                .inverted()
                .to_string(),
            (None, operation) => {
                let (name, direction) = operation.split_once(' ').unwrap();
                // the table writes a descending sixth `M-6 down`
                let interval: Interval = name.replace('-', "").parse().unwrap();
                let moved = if direction == "up" {
                    interval
                } else {
                    -interval
                };
                (pitch(row.get("given")) + moved).to_string()
            }
            other => panic!("{other:?}"),
        };
        assert_eq!(found, row.get("expected"), "{}", row.get("id"));
    });
}

#[test]
fn chord_spelling() {
    each("chord-spelling", |row| {
        let symbol: ChordSymbol = row.get("given").parse().unwrap();
        assert_eq!(
            spelled(&symbol.tones()),
            row.get("expected"),
            "{}",
            row.get("id")
        );
    });
}

#[test]
fn midi_numbers() {
    each("midi-frequency", |row| {
        let midi = pitch(row.get("given")).midi();
        assert!(
            row.get("expected").starts_with(&format!("MIDI {midi}, ")),
            "{}",
            row.get("id")
        );
    });
}

#[test]
fn key_orders_and_keys() {
    let major = Scale::named("major").unwrap();
    each("key-order", |row| {
        let cycle = |words: &str| {
            let classes = KeyOrder::from_words(words).unwrap().classes(0);
            spelled(&classes.map(|class| concert_root(class, &major, RootWish::default())))
        };
        let expected = row.get("expected");
        match row.get("given") {
            "12 keys from C" if row.get("operation").starts_with("circle of fourths") => {
                assert_eq!(cycle("fourths"), expected);
            }
            "12 keys from C" => assert_eq!(cycle("half steps"), expected),
            "whole-step cycle from C" => assert!(cycle("whole steps").starts_with(expected)),
            "minor-third cycle from C" => assert!(cycle("minor thirds").starts_with(expected)),
            "key signature" => assert_eq!(order_of_sharps(), expected),
            key => {
                let relative = PitchName::from_fifths(tonic(key).fifths() + 3);
                let found = format!("{relative} minor, fifths {}", major_fifths(tonic(key)));
                assert_eq!(found, expected);
                let minor = Scale::named("natural minor").unwrap();
                let signature = key_signature(
                    &minor,
                    relative,
                    SignatureStyle::Fitting,
                    SpellingStyle::Readable,
                )
                .signature;
                assert_eq!(signature.fifths(), major_fifths(tonic(key)), "{key}");
            }
        }
    });
}

fn order_of_sharps() -> String {
    let sharps = |fifths: i16, letter| Signature::new(fifths).unwrap().alteration(letter) == 1;
    let new = |fifths: i16| {
        Letter::ALL
            .into_iter()
            .find(|&l| sharps(fifths, l) && !sharps(fifths - 1, l))
            .unwrap()
    };
    (1..=7)
        .map(|fifths| new(fifths).to_string())
        .collect::<Vec<String>>()
        .join(" ")
}

#[test]
fn range_fit() {
    each("range-fit", |row| {
        let mut parts = row.get("given").split(", ");
        let instrument = Instrument::named(parts.next().unwrap()).unwrap();
        let word = parts.next().unwrap();
        let level = Level::ALL
            .into_iter()
            .find(|level| level.word() == word)
            .unwrap();
        let written = parts.next().unwrap().strip_prefix("written ").unwrap();
        let (low, high) = written.split(' ').next().unwrap().split_once('-').unwrap();
        let fits = |range: Range| range.holds(pitch(low)) && range.holds(pitch(high));
        let mut range = instrument.range(level);
        if SCHOOL_RANGES.contains(&row.get("id")) {
            assert!(fits(range), "{}: now wide enough", row.get("id"));
            let table = table("instruments");
            let row = table
                .iter()
                .find(|row| row.get("id") == instrument.id)
                .unwrap();
            range = Range {
                low: pitch(row.get("school_6_8_low")),
                high: pitch(row.get("school_6_8_high")),
            };
        }
        assert_eq!(
            if fits(range) { "yes" } else { "no" },
            row.get("expected"),
            "{}",
            row.get("id")
        );
    });
}

#[test]
fn general_midi() {
    let instruments = table("instruments");
    each("general-midi", |row| {
        let sound = row.get("given");
        let program = row.get("expected").split(' ').next().unwrap();
        let users: Vec<&Row> = instruments
            .iter()
            .filter(|other| other.get("gm_name") == sound)
            .collect();
        assert_eq!(users.is_empty(), NO_INSTRUMENT.contains(&sound), "{sound}");
        for user in users {
            let instrument = Instrument::named(user.get("id")).unwrap();
            assert_eq!(
                instrument.midi_program.to_string(),
                program,
                "{}",
                instrument.id
            );
        }
    });
}

#[test]
fn musicxml() {
    each("musicxml", |row| {
        let expected = row.get("expected");
        match (row.get("given"), row.get("operation")) {
            (name, "transpose element") => {
                let interval = Instrument::named(name).unwrap().written_to_sounding;
                let mut number = [0; 3];
                for part in expected.split(", ") {
                    let (element, value) = part.split_once(' ').unwrap();
                    let place = ["diatonic", "chromatic", "octave-change"]
                        .iter()
                        .position(|e| *e == element);
                    number[place.unwrap()] = value.parse().unwrap();
                }
                let [diatonic, chromatic, octaves] = number;
                let found = (interval.steps(), interval.semitones());
                assert_eq!(
                    found,
                    (diatonic + 7 * octaves, chromatic + 12 * octaves),
                    "{name}"
                );
            }
            ("treble clef for tenors", "clef-octave-change") => {
                let clef = Instrument::named("tenor").unwrap().clef;
                assert_eq!(clef.octave_change.to_string(), expected);
            }
            ("Cdim7 chord symbol", "kind") | ("Cm(maj7)", "kind") => {
                let symbol: ChordSymbol =
                    row.get("given").split(' ').next().unwrap().parse().unwrap();
                assert_eq!(symbol.chord.musicxml_kind(), expected);
            }
            ("C7sus4", _) => {
                let chord = Chord::parse("7sus4").unwrap();
                let (changes, _) = chord.musicxml_degrees();
                let found: Vec<String> = changes
                    .iter()
                    .map(|d| format!("{:?} {}", d.change, d.value).to_lowercase())
                    .collect();
                assert_eq!(
                    format!("{} + {}", chord.musicxml_kind(), found.join(" + ")),
                    expected
                );
            }
            ("degree type add, value 7, alter 1", _) => {
                let symbol: ChordSymbol = "Cdim(maj7)".parse().unwrap();
                let (changes, _) = symbol.chord.musicxml_degrees();
                assert_eq!((changes[0].value, changes[0].alter), (7, 1));
                assert_eq!(symbol.tones()[3].to_string(), expected);
            }
            ("kind text already shows the alterations", _) => {
                assert!(!Chord::parse("7alt").unwrap().musicxml_degrees().1);
                assert_eq!(expected, "no");
            }
            ("score without chords", _) => {
                let kind = Chord::parse("N.C.").unwrap().musicxml_kind();
                assert!(expected.starts_with(&format!("{kind}, ")));
            }
            // elements that only the score and the writer know
            (
                "transposition of less than an octave" | "pitch element" | "concert-score present",
                _,
            ) => {}
            other => panic!("{other:?} is checked nowhere"),
        }
    });
}
