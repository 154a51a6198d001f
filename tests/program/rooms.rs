//! The smallest lesson for every instrument there is, at every level: no
//! note out of range, nothing left out, flutes never transpose.

use serde_json::Value;
use theory::Pitch;

use crate::support::{fresh, lesson, plain, run};

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
        let ran = run([
            &["write", path.to_str().unwrap(), "--format", "json"],
            chosen.as_slice(),
        ]
        .concat());
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{level}");
        let sheets = ran.json();
        let sheets = sheets.as_array().unwrap();
        assert_eq!(sheets.len(), 12 * instruments.len(), "{level}");
        for sheet in sheets {
            let instrument = instruments
                .iter()
                .find(|one| one["id"] == sheet["instrument"])
                .unwrap();
            check_sheet(sheet, instrument, level);
        }
    }
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
