//! The smallest lesson for every instrument there is, at every level: no
//! note out of range, nothing left out but what can't fit, flutes never
//! transpose.

use serde_json::Value;
use theory::Pitch;

use crate::support::{fresh, lesson, plain, run, tree};

/// Semitones that the lesson's figure spans: a fifth.
const FIGURE: i16 = 7;

#[test]
fn every_horn_gets_sensible_sheets_at_every_level() {
    let folder = fresh("rooms");
    let instruments = run(["list", "instruments", "--format", "json"]).json();
    let instruments = instruments.as_array().unwrap();
    let chosen: Vec<&str> = instruments
        .iter()
        .flat_map(|one| ["--instrument", one["id"].as_str().unwrap()])
        .collect();
    for level in ["beginner", "intermediate", "advanced"] {
        let path = lesson(
            &folder,
            "small.toml",
            &plain(&format!("level = \"{level}\"")),
        );
        let out = folder.join(level);
        let written = [
            "write",
            path.to_str().unwrap(),
            "--out",
            out.to_str().unwrap(),
            "--format",
            "musicxml,json",
        ];
        let ran = run([&written, chosen.as_slice()].concat());
        let instrument = |sheet: &Value| {
            instruments
                .iter()
                .find(|one| one["id"] == sheet["instrument"])
                .unwrap()
        };
        let sheets = ran.json();
        let sheets = sheets.as_array().unwrap();
        for sheet in sheets {
            check_sheet(sheet, instrument(sheet), level);
        }
        let contents: Value = serde_json::from_slice(&tree(&out)["small/contents.json"]).unwrap();
        let left_out = contents["left_out"].as_array().unwrap();
        for sheet in left_out {
            check_left_out(sheet, instrument(sheet), level);
        }
        assert_eq!(
            sheets.len() + left_out.len(),
            12 * instruments.len(),
            "{level}"
        );
        assert_eq!(ran.code, if left_out.is_empty() { 0 } else { 3 }, "{level}");
    }
}

/// Only where the figure on its root lies in the range in no octave.
fn check_left_out(sheet: &Value, instrument: &Value, level: &str) {
    let root = sheet["written_key"].as_str().unwrap();
    let (low, high) = range(instrument, level);
    let fits = |octave: i32| {
        let root = midi(&format!("{root}{octave}"));
        low <= root && root + FIGURE <= high
    };
    assert!(
        !(0..=8).any(fits),
        "{level} {} {root}: {}",
        sheet["instrument"],
        sheet["why"]
    );
}

fn range(instrument: &Value, level: &str) -> (i16, i16) {
    let end = |end: &str| midi(instrument[level][end].as_str().unwrap());
    (end("low"), end("high"))
}

fn midi(pitch: &str) -> i16 {
    pitch.parse::<Pitch>().unwrap().midi()
}

fn check_sheet(sheet: &Value, instrument: &Value, level: &str) {
    let name = format!("{level} {} {}", sheet["instrument"], sheet["written_key"]);
    let midi = |text: &Value| text.as_str().unwrap().parse::<Pitch>().unwrap().midi();
    let (low, high) = (
        midi(&instrument[level]["low"]),
        midi(&instrument[level]["high"]),
    );
    let semitones = instrument["chromatic"].as_i64().unwrap();
    let notes = sheet["notes"].as_array().unwrap();
    assert!(notes.len() > 8, "{name}");
    for note in notes {
        let written = midi(&note["written"]);
        assert!(
            (low..=high).contains(&written),
            "{name}: {}",
            note["written"]
        );
        assert_eq!(
            i64::from(midi(&note["sounding"])) - i64::from(written),
            semitones,
            "{name}: {}",
            note["written"]
        );
    }
    assert_eq!(sheet["transposition"].is_null(), semitones == 0, "{name}");
    let signature = sheet["measures"][0]["signature"].as_i64().unwrap();
    assert!((-6..=6).contains(&signature), "{name}: {signature}");
}
