//! Rule 1: what the twelve roots are called, at concert pitch and on a horn's
//! sheet, and the transposition that follows from the two names.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use crate::signature::tonic_signature;
use crate::{Interval, PitchName, Scale};

/// Which way a tie between two names goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Preference {
    /// C#, F#, G#.
    Sharps,
    /// Db, Gb, Ab.
    Flats,
}

/// The concert name of a sounding root (pitch class, C = 0).
pub fn concert_root(class: u8, scale: &Scale, prefer: Option<Preference>) -> PitchName {
    root(class, scale, prefer, None)
}

/// The written name of a concert root on a horn.
pub fn written_root(
    concert: PitchName,
    written_to_sounding: Interval,
    scale: &Scale,
    prefer: Option<Preference>,
) -> PitchName {
    if written_to_sounding.fifths() == 0 {
        return concert;
    }
    let literal = concert - written_to_sounding;
    root(literal.class(), scale, prefer, Some(literal))
}

/// The written-to-sounding interval that a sheet prints: as many semitones as
/// the horn's own, its letters those between the two names (concert B for a B
/// flat horn written D flat: −2 letters, −2 semitones).
pub fn transposition(
    written: PitchName,
    concert: PitchName,
    written_to_sounding: Interval,
) -> Interval {
    let fifths = concert.fifths() - written.fifths();
    let octaves = (written_to_sounding.semitones() - 7 * fifths).div_euclid(12);
    Interval::from_coordinates(fifths, octaves)
}

/// The twelve roots on the line of fifths, C to B, those with a choice by
/// their flat name.
const ROOTS: [i16; 12] = [0, -5, 2, -3, 4, -1, -6, 1, -4, 3, -2, 5];
const F_SHARP: PitchName = PitchName::from_fifths(6);

fn root(
    class: u8,
    scale: &Scale,
    prefer: Option<Preference>,
    literal: Option<PitchName>,
) -> PitchName {
    let class = class % 12;
    let flat = PitchName::from_fifths(ROOTS[usize::from(class)]);
    if !matches!(class, 1 | 6 | 8) {
        return flat;
    }
    let sharp = PitchName::from_fifths(flat.fifths() + 12);
    match cost(sharp, scale).cmp(&cost(flat, scale)) {
        Ordering::Less => return sharp,
        Ordering::Greater => return flat,
        Ordering::Equal => {}
    }
    match prefer {
        Some(Preference::Sharps) => return sharp,
        Some(Preference::Flats) => return flat,
        None => {}
    }
    match (
        tonic_signature(scale, sharp).is_some(),
        tonic_signature(scale, flat).is_some(),
    ) {
        (true, false) => sharp,
        (false, true) => flat,
        _ if sharp == F_SHARP && literal == Some(F_SHARP) => sharp,
        _ => flat,
    }
}

/// Double accidentals, then single signs, of the strictly spelled scale; a
/// degree that both forms have counts once.
fn cost(root: PitchName, scale: &Scale) -> (usize, u16) {
    let degrees: BTreeSet<_> = scale.all_degrees().collect();
    let alterations: Vec<u16> = degrees
        .iter()
        .map(|degree| (root + degree.interval()).alteration().unsigned_abs())
        .collect();
    (
        alterations.iter().filter(|&&signs| signs > 1).count(),
        alterations.iter().sum(),
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::Instrument;

    fn name(text: &str) -> PitchName {
        text.parse().unwrap()
    }

    fn check_concert(scale: &str, expected: &str) {
        let scale = Scale::named(scale).unwrap();
        let names: Vec<String> = (0..12)
            .map(|class| concert_root(class, &scale, None).to_string())
            .collect();
        assert_eq!(names.join(" "), expected, "{}", scale.name);
    }

    #[test]
    fn fewest_double_then_single_accidentals() {
        check_concert("major", "C Db D Eb E F Gb G Ab A Bb B");
        check_concert("natural minor", "C C# D Eb E F F# G G# A Bb B");
        check_concert("dorian", "C C# D Eb E F F# G Ab A Bb B"); // six signs each way: Ab
        check_concert("lydian dominant", "C Db D Eb E F Gb G Ab A Bb B");
        check_concert("harmonic minor", "C C# D Eb E F F# G Ab A Bb B"); // G# has an F##, Ab none
        check_concert("altered", "C C# D Eb E F F# G G# A Bb B");
    }

    #[test]
    fn a_preference_moves_ties_only() {
        let major = Scale::named("major").unwrap();
        let check = |class: u8, prefer: Preference, expected: &str| {
            assert_eq!(
                concert_root(class, &major, Some(prefer)).to_string(),
                expected
            );
        };
        check(6, Preference::Sharps, "F#");
        check(6, Preference::Flats, "Gb");
        check(1, Preference::Sharps, "Db");
        check(8, Preference::Sharps, "Ab");
        check(3, Preference::Sharps, "Eb");
    }

    fn check_written(scale: &str, concert: &str, instrument: &str, expected: &str) {
        let horn = Instrument::named(instrument).unwrap().written_to_sounding;
        let scale = Scale::named(scale).unwrap();
        let written = written_root(name(concert), horn, &scale, None);
        assert_eq!(
            written.to_string(),
            expected,
            "concert {concert} for {instrument}"
        );
    }

    #[test]
    fn written_names() {
        check_written("major", "Gb", "alto saxophone", "Eb");
        check_written("major", "B", "b-flat trumpet", "Db");
        check_written("major", "E", "alto saxophone", "Db");
        check_written("major", "E", "tenor saxophone", "F#"); // tie: literally F#
        check_written("major", "Db", "alto flute", "Gb"); // tie: literally Gb
        check_written("major", "B", "horn in f", "F#");
        check_written("major", "Db", "a clarinet", "E");
    }

    #[test]
    fn instruments_in_c_never_rename() {
        for instrument in [
            "flute",
            "piccolo",
            "double bass",
            "glockenspiel",
            "alto recorder",
        ] {
            for concert in ["C#", "Cb", "Gb", "F#", "G#"] {
                check_written("major", concert, instrument, concert);
            }
        }
    }

    #[test]
    fn the_transposition_is_the_letters_between_the_names() {
        let check = |concert: &str, instrument: &str, expected: (i16, i16)| {
            let horn = Instrument::named(instrument).unwrap().written_to_sounding;
            let major = Scale::named("major").unwrap();
            let written = written_root(name(concert), horn, &major, None);
            let printed = transposition(written, name(concert), horn);
            assert_eq!(
                (printed.steps(), printed.semitones()),
                expected,
                "{concert} for {instrument}"
            );
            assert_eq!(written + printed, name(concert));
        };
        check("B", "b-flat trumpet", (-2, -2));
        check("C", "b-flat trumpet", (-1, -2));
        check("E", "alto saxophone", (-6, -9));
        check("C", "alto saxophone", (-5, -9));
        check("B", "baritone saxophone", (-13, -21));
        check("B", "tenor saxophone", (-9, -14));
        check("Db", "e-flat clarinet", (2, 3));
        check("C#", "flute", (0, 0));
        check("C#", "piccolo", (7, 12));
    }

    proptest! {
        #[test]
        fn a_sheet_always_sounds_its_concert_root(
            class in 0u8..12,
            row in 0..Scale::catalogue().len(),
            horn in 0..Instrument::catalogue().len(),
        ) {
            let scale = &Scale::catalogue()[row];
            let horn = Instrument::catalogue()[horn].written_to_sounding;
            let concert = concert_root(class, scale, None);
            prop_assert_eq!(concert.class(), class);
            let written = written_root(concert, horn, scale, None);
            let printed = transposition(written, concert, horn);
            prop_assert_eq!(written + printed, concert);
            prop_assert_eq!(printed.semitones(), horn.semitones());
            prop_assert!((printed.steps() - horn.steps()).abs() <= 1);
        }
    }
}
