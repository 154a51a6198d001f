use theory::{
    Interval, PitchName, Scale, SignatureStyle, SpellingStyle, key_signature, transposition,
    written_root,
};

use crate::differences::KEPT_IN_C;
use crate::table::table;

/// The tonic of `Bb major` or `C# minor`.
pub fn tonic(key: &str) -> PitchName {
    key.split(' ').next().unwrap().parse().unwrap()
}

fn written_to_sounding(class: &str) -> Interval {
    let (steps, semitones) = match class {
        "C" => (0, 0),
        "Bb" => (-1, -2),
        "Eb" => (-5, -9),
        "F" => (-4, -7),
        "A" => (-2, -3),
        "G" => (-3, -5),
        other => panic!("{other}"),
    };
    Interval::from_steps(steps, semitones)
}

#[test]
fn written_keys_follow_from_concert_keys() {
    let (major, minor) = (
        Scale::named("major").unwrap(),
        Scale::named("natural minor").unwrap(),
    );
    let fifths = |scale: &Scale, root| {
        i16::from(
            key_signature(
                scale,
                root,
                SignatureStyle::Fitting,
                SpellingStyle::Readable,
            )
            .signature
            .fifths(),
        )
    };
    for row in table("keys") {
        let place = format!(
            "concert {} on an instrument in {}",
            row.get("concert_key"),
            row.get("transposition_class")
        );
        let horn = written_to_sounding(row.get("transposition_class"));
        assert_eq!(
            (-horn).to_string(),
            row.get("written_above_concert"),
            "{place}"
        );
        let concert = tonic(row.get("concert_key"));
        assert_eq!(concert.fifths(), row.number("concert_fifths"), "{place}");
        assert_eq!(
            concert - horn,
            tonic(row.get("strict_written_key")),
            "{place}"
        );

        let written = written_root(concert, horn, &major, None);
        if horn == Interval::UNISON && KEPT_IN_C.contains(&row.get("concert_key")) {
            assert_eq!(written, concert, "{place}");
            continue;
        }
        assert_eq!(written, tonic(row.get("usual_written_key")), "{place}");
        assert_eq!(
            fifths(&major, written),
            row.number("usual_fifths"),
            "{place}"
        );
        assert_eq!(
            fifths(&major, written).abs(),
            row.number("accidentals"),
            "{place}"
        );
        assert_eq!(
            written != concert - horn,
            row.get("respelled") == "yes",
            "{place}"
        );
        let relative = tonic(row.get("written_relative_minor"));
        assert_eq!(
            fifths(&minor, relative),
            row.number("usual_fifths"),
            "{place}"
        );
        let printed = transposition(written, concert, horn);
        assert_eq!(
            (written + printed, printed.semitones()),
            (concert, horn.semitones()),
            "{place}"
        );
    }
}
