use theory::{Chord, Form, NameFault, Scale, SpellingStyle, spell_scale};

use crate::differences::{SCALE_NAMES, SHARED_ALIASES};
use crate::table::{Row, degrees, plain, spelled, table};

fn rows() -> Vec<(Row, Scale)> {
    let (rows, scales) = (table("scales"), Scale::catalogue());
    assert_eq!(rows.len(), scales.len());
    rows.into_iter().zip(scales).collect()
}

#[test]
fn ids_names_and_formulas() {
    for (row, scale) in rows() {
        let id = row.get("id");
        assert_eq!(scale.id.as_deref(), Some(id));
        let ours = SCALE_NAMES.iter().find(|(other, _)| *other == id);
        assert_eq!(
            plain(&scale.name),
            ours.map_or(row.get("name"), |(_, name)| name),
            "{id}"
        );
        assert_eq!(scale.degrees, degrees(row.get("formula")), "{id}");
        let falling = row.get("formula_descending");
        assert_eq!(
            scale.descending,
            Some(degrees(falling)).filter(|_| !falling.is_empty()),
            "{id}"
        );
        let semitones: Vec<String> = scale
            .degrees
            .iter()
            .map(|d| d.interval().semitones().to_string())
            .collect();
        assert_eq!(semitones.join(" "), row.get("semitones"), "{id}");
    }
}

#[test]
fn both_forms_have_as_many_notes() {
    for (_, scale) in rows() {
        if let Some(falling) = &scale.descending {
            assert_eq!(falling.len(), scale.degrees.len(), "{}", scale.name);
        }
    }
}

#[test]
fn notes_on_c() {
    for (row, scale) in rows() {
        let notes = spell_scale(
            "C".parse().unwrap(),
            &scale,
            Form::Rising,
            SpellingStyle::Strict,
        );
        assert_eq!(spelled(&notes), row.get("notes_on_c"), "{}", row.get("id"));
    }
}

#[test]
fn every_id_name_and_alias_finds_its_scale() {
    for (row, scale) in rows() {
        let mut names = vec![row.get("id"), &scale.name];
        names.extend(row.list("aliases"));
        names.extend(scale.aliases());
        for name in names {
            match Scale::named(name) {
                Ok(found) => assert_eq!(found, scale, "{name}"),
                Err(error) => {
                    assert!(SHARED_ALIASES.contains(&name), "{name}: {error}");
                    let NameFault::Several(names) = error.fault else {
                        panic!("{name}: {:?}", error.fault)
                    };
                    assert!(names.contains(&scale.name.to_string()), "{name}: {names:?}");
                }
            }
        }
    }
}

/// The tones of a chord that a scale lacks, as the tables write them.
pub fn gaps(chord: &Chord, scale: &Scale) -> String {
    let class = |degree: &theory::Degree| degree.interval().semitones() % 12;
    let lacks =
        |degree: &&theory::Degree| !scale.degrees.iter().any(|own| class(own) == class(degree));
    chord
        .degrees()
        .iter()
        .filter(lacks)
        .map(ToString::to_string)
        .collect::<Vec<String>>()
        .join(",")
}

#[test]
fn the_chord_is_the_first_that_fits_without_a_gap() {
    for (row, scale) in rows() {
        let mut first = None;
        for id in row
            .list("fits_chords")
            .into_iter()
            .filter(|id| *id != "any")
        {
            let chord = Chord::catalogue()
                .into_iter()
                .find(|chord| chord.id() == id)
                .unwrap();
            let gaps = gaps(&chord, &scale);
            let listed = row
                .list("fit_gaps")
                .into_iter()
                .find_map(|gap| gap.strip_prefix(&format!("{id} lacks ")));
            assert_eq!(gaps, listed.unwrap_or_default(), "{id} on {}", scale.name);
            if gaps.is_empty() {
                first = first.or(Some(chord));
            }
        }
        assert_eq!(scale.chord, first, "{}", scale.name);
    }
}
