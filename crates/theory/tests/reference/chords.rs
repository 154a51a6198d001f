use theory::{Chord, ChordDegree, ChordSymbol, DegreeChange, PitchName, Scale};

use crate::scales::gaps;
use crate::table::{Row, degrees, plain, spelled, table};

fn rows() -> Vec<(Row, Chord)> {
    let (rows, chords) = (table("chords"), Chord::catalogue());
    assert_eq!(rows.len(), chords.len());
    rows.into_iter().zip(chords).collect()
}

#[test]
fn ids_suffixes_and_tones() {
    for (row, chord) in rows() {
        let id = row.get("id");
        assert_eq!((chord.id(), chord.suffix()), (id, row.get("suffix")));
        assert_eq!(chord.degrees(), degrees(row.get("formula")), "{id}");
        let semitones: Vec<String> = chord
            .degrees()
            .iter()
            .map(|d| d.interval().semitones().to_string())
            .collect();
        assert_eq!(semitones.join(" "), row.get("semitones"), "{id}");
        let on_c = ChordSymbol::on("C".parse().unwrap(), &chord);
        assert_eq!(spelled(&on_c.tones()), row.get("notes_on_c"), "{id}");
    }
}

#[test]
fn every_spelling_finds_its_chord() {
    for (row, chord) in rows() {
        assert_eq!(Chord::parse(row.get("id")).unwrap(), chord);
        assert_eq!(Chord::parse(row.get("suffix")).unwrap(), chord);
        for text in row.list("accepted_spellings") {
            match chord.bass() {
                None => assert_eq!(Chord::parse(text).unwrap(), chord, "{text}"),
                Some(degree) => {
                    // a slash row is a major triad over one of its own degrees
                    let c: PitchName = "C".parse().unwrap();
                    let symbol: ChordSymbol = text.parse().unwrap();
                    assert_eq!(
                        (symbol.chord.id(), symbol.bass),
                        ("maj", Some(c + degree.interval())),
                        "{text}"
                    );
                    assert_eq!(symbol, ChordSymbol::on(c, &chord));
                    assert_eq!(symbol.scales(), chord.scales());
                }
            }
        }
        assert_eq!(chord.spellings(), row.list("accepted_spellings"));
    }
}

#[test]
fn musicxml_kinds_and_degrees() {
    for (row, chord) in rows() {
        let id = row.get("id");
        assert_eq!(chord.musicxml_kind(), row.get("musicxml_kind"), "{id}");
        let (changes, shown) = chord.musicxml_degrees();
        let listed: Vec<String> = changes.iter().map(written).collect();
        assert_eq!(listed, row.list("musicxml_degrees"), "{id}");
        // the table's text is the whole suffix; ours leaves shown degrees out
        if !shown && chord.bass().is_none() {
            assert_eq!(plain(chord.musicxml_text()), row.get("kind_text"), "{id}");
        }
    }
}

fn written(degree: &ChordDegree) -> String {
    let change = match degree.change {
        DegreeChange::Add => "add",
        DegreeChange::Alter => "alter",
        DegreeChange::Subtract => "subtract",
    };
    format!("{change}:{}:{}", degree.value, degree.alter)
}

#[test]
fn scales_and_what_they_lack() {
    for (row, chord) in rows() {
        let (default, others) = chord.scales();
        assert_eq!(
            (default, others),
            (
                row.get("default_scale"),
                row.list("alternate_scales").as_slice()
            )
        );
        for id in [default].iter().chain(others).filter(|id| !id.is_empty()) {
            let scale = Scale::named(id).unwrap();
            let listed = row
                .list("scale_gaps")
                .into_iter()
                .find_map(|gap| gap.strip_prefix(&format!("{id} lacks ")));
            assert_eq!(
                gaps(&chord, &scale),
                listed.unwrap_or_default(),
                "{} on {id}",
                chord.id()
            );
        }
    }
}
