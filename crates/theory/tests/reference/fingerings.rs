use theory::{Instrument, Lengthening};

use crate::table::table;

#[test]
fn as_charts_have_them() {
    for row in table("fingerings") {
        let horn = Instrument::named(row.get("instrument")).unwrap();
        let written = row.get("written").parse().unwrap();
        let found = horn.fingering(written).map(|found| found.to_string());
        let place = format!("{} {}", horn.id, row.get("written"));
        assert_eq!(found.as_deref(), Some(row.get("fingering")), "{place}");
    }
}

#[test]
fn every_brass_instrument_has_two_octaves_and_a_half_checked() {
    let rows = table("fingerings");
    for horn in Instrument::catalogue() {
        let checked = rows.iter().filter(|row| row.get("instrument") == horn.id);
        let notes = checked.count();
        assert!((notes > 30) == horn.tube.is_some(), "{} {notes}", horn.id);
    }
}

#[test]
fn tubes_are_those_of_the_table() {
    for row in table("instruments") {
        let horn = Instrument::named(row.get("id")).unwrap();
        let found = horn.tube.map(|tube| {
            let by = match tube.lengthening {
                Lengthening::Valves => "valves",
                Lengthening::Slide => "slide",
            };
            (tube.fundamental.to_string(), by)
        });
        let (fundamental, by) = found.unwrap_or_default();
        assert_eq!(
            fundamental,
            row.get("tube_fundamental_sounding"),
            "{}",
            horn.id
        );
        assert_eq!(by, row.get("tube_lengthened_by"), "{}", horn.id);
    }
}
