use theory::{ClefSign, Family, Instrument, Level, Pitch};

use crate::table::{Row, plain, table};

fn rows() -> Vec<(Row, Instrument)> {
    let (rows, instruments) = (table("instruments"), Instrument::catalogue());
    assert_eq!(rows.len(), instruments.len());
    rows.into_iter().zip(instruments).collect()
}

fn pitch(row: &Row, column: &str) -> Pitch {
    row.get(column).parse().unwrap()
}

#[test]
fn names_families_and_clefs() {
    for (row, instrument) in rows() {
        assert_eq!(instrument.id, row.get("id"));
        assert_eq!(plain(&instrument.name), row.get("name"));
        assert_eq!(instrument.abbreviation, row.get("abbreviation"));
        let family = match row.get("family") {
            "woodwind" => Family::Woodwind,
            "brass" => Family::Brass,
            "strings" => Family::Strings,
            "plucked" => Family::Plucked,
            "keyboard" => Family::Keyboard,
            "percussion" => Family::Percussion,
            "voice" => Family::Voice,
            "generic" => Family::Generic,
            other => panic!("{other}"),
        };
        assert_eq!(instrument.family, family, "{}", instrument.id);
        let sign = match instrument.clef.sign {
            ClefSign::G => "G",
            ClefSign::F => "F",
            ClefSign::C => "C",
        };
        assert_eq!(sign, row.get("clef_sign"), "{}", instrument.id);
        assert_eq!(i16::from(instrument.clef.line), row.number("clef_line"));
        assert_eq!(
            i16::from(instrument.clef.octave_change),
            row.number("clef_octave_change")
        );
        assert_eq!(i16::from(instrument.midi_program), row.number("gm_program"));
        assert_eq!(instrument.sound_id, row.get("musicxml_sound"));
    }
}

#[test]
fn transpositions() {
    for (row, instrument) in rows() {
        let interval = instrument.written_to_sounding;
        let octaves = row.number("octave_change");
        assert_eq!(
            interval.steps(),
            row.number("diatonic") + 7 * octaves,
            "{}",
            instrument.id
        );
        assert_eq!(
            interval.semitones(),
            row.number("chromatic") + 12 * octaves,
            "{}",
            instrument.id
        );
        assert_eq!(
            interval.semitones(),
            row.number("total_semitones"),
            "{}",
            instrument.id
        );
        let middle_c: Pitch = "C4".parse().unwrap();
        assert_eq!(
            (middle_c + interval).to_string(),
            row.get("written_c4_sounds"),
            "{}",
            instrument.id
        );
    }
}

#[test]
fn ranges() {
    for (row, instrument) in rows() {
        for level in Level::ALL {
            let range = instrument.range(level);
            let word = level.word();
            assert_eq!(
                range.low,
                pitch(&row, &format!("{word}_low")),
                "{} {word}",
                instrument.id
            );
            assert_eq!(
                range.high,
                pitch(&row, &format!("{word}_high")),
                "{} {word}",
                instrument.id
            );
        }
        assert_eq!(
            instrument.extreme.low,
            pitch(&row, "extreme_low"),
            "{}",
            instrument.id
        );
        assert_eq!(
            instrument.extreme.high,
            pitch(&row, "extreme_high"),
            "{}",
            instrument.id
        );
        let advanced = instrument.range(Level::Advanced);
        let sounding =
            [advanced.low, advanced.high].map(|end| (end + instrument.written_to_sounding).midi());
        let listed = ["advanced_sounding_low", "advanced_sounding_high"]
            .map(|column| pitch(&row, column).midi());
        assert_eq!(sounding, listed, "{}", instrument.id);
    }
}

#[test]
fn every_id_name_and_alias_finds_its_instrument() {
    for (row, instrument) in rows() {
        let mut names = vec![row.get("id"), row.get("name"), &instrument.name];
        names.extend(instrument.aliases());
        for name in names {
            assert_eq!(Instrument::named(name).unwrap(), instrument, "{name}");
        }
    }
}
