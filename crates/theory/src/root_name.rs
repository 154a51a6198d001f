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

/// What a teacher's words add to rule 1, where the rule itself leaves a tie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RootWish {
    /// The name that was typed for this root; one for another sound says
    /// nothing.
    pub typed: Option<PitchName>,
    /// Which way other ties go.
    pub prefer: Option<Preference>,
}

/// A root as it sounds and as a player reads it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Root {
    /// Its concert name.
    pub concert: PitchName,
    /// Its name on the player's sheet.
    pub written: PitchName,
}

impl Root {
    /// The names of a sounding root (pitch class, C = 0) for an instrument,
    /// the wish being about concert names. Where two concert names tie, a horn
    /// names the one from which its written root follows by its plain interval.
    pub fn sounding(class: u8, horn: Interval, scale: &Scale, wish: RootWish) -> Root {
        let concert = concert_root(class, scale, wish);
        let written = written_root(concert, horn, scale, wish.prefer);
        Root::following(concert, written, horn, scale)
    }

    /// The names of a written root (pitch class), the wish being about written
    /// names: the same for every horn, each sounding root following from it.
    pub fn written(class: u8, horn: Interval, scale: &Scale, wish: RootWish) -> Root {
        let written = concert_root(class, scale, wish);
        if horn.fifths() == 0 {
            return Root {
                concert: written,
                written,
            };
        }
        let prefer = RootWish {
            typed: None,
            prefer: wish.prefer,
        };
        let concert = concert_root((written + horn).class(), scale, prefer);
        Root::following(concert, written, horn, scale)
    }

    /// The written-to-sounding interval that a sheet prints.
    pub fn written_to_sounding(self, horn: Interval) -> Interval {
        transposition(self.written, self.concert, horn)
    }

    fn following(concert: PitchName, written: PitchName, horn: Interval, scale: &Scale) -> Root {
        let plain = written + horn;
        let tied = Candidates::of(concert.class(), scale).tied();
        let follows = tied.filter(|names| names.contains(&plain));
        Root {
            concert: follows.map_or(concert, |_| plain),
            written,
        }
    }
}

/// The concert name of a sounding root (pitch class, C = 0), as instruments in
/// C read it.
pub fn concert_root(class: u8, scale: &Scale, wish: RootWish) -> PitchName {
    Candidates::of(class, scale).choose(wish, None)
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
    let wish = RootWish {
        typed: None,
        prefer,
    };
    Candidates::of(literal.class(), scale).choose(wish, Some(literal))
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

/// What a root may be called.
enum Candidates {
    One(PitchName),
    Tied { flat: PitchName, sharp: PitchName },
}

impl Candidates {
    fn of(class: u8, scale: &Scale) -> Candidates {
        let class = class % 12;
        let flat = PitchName::from_fifths(ROOTS[usize::from(class)]);
        if !matches!(class, 1 | 6 | 8) {
            return Candidates::One(flat);
        }
        let sharp = PitchName::from_fifths(flat.fifths() + 12);
        match cost(sharp, scale).cmp(&cost(flat, scale)) {
            Ordering::Less => Candidates::One(sharp),
            Ordering::Greater => Candidates::One(flat),
            Ordering::Equal => Candidates::Tied { flat, sharp },
        }
    }

    fn tied(&self) -> Option<[PitchName; 2]> {
        match *self {
            Candidates::One(_) => None,
            Candidates::Tied { flat, sharp } => Some([flat, sharp]),
        }
    }

    fn choose(&self, wish: RootWish, literal: Option<PitchName>) -> PitchName {
        let (flat, sharp) = match *self {
            Candidates::One(name) => return name,
            Candidates::Tied { flat, sharp } => (flat, sharp),
        };
        match (wish.typed, wish.prefer) {
            (Some(typed), _) if typed == sharp || typed == flat => typed,
            (_, Some(Preference::Sharps)) => sharp,
            (_, Some(Preference::Flats)) => flat,
            _ if sharp == F_SHARP && literal == Some(F_SHARP) => sharp,
            _ => flat,
        }
    }
}

/// Whether a scale with a third has a tonic signature of more than seven
/// signs; then double accidentals, then single signs, of the strictly spelled
/// scale; a degree that both forms have counts once.
fn cost(root: PitchName, scale: &Scale) -> (bool, usize, u16) {
    let degrees: BTreeSet<_> = scale.all_degrees().collect();
    let has_third = degrees.iter().any(|degree| degree.number == 3);
    let names = || degrees.iter().map(|degree| root + degree.interval());
    let signs = |name: PitchName| name.alteration().unsigned_abs();
    (
        has_third && tonic_signature(scale, root).is_none(),
        names().filter(|name| name.is_double()).count(),
        names().map(signs).sum(),
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
            .map(|class| concert_root(class, &scale, RootWish::default()).to_string())
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
        check_concert("melodic minor", "C C# D Eb E F F# G Ab A Bb B");
        check_concert("altered", "C C# D Eb E F F# G G# A Bb B");
        check_concert("major flat 6 pentatonic", "C C# D Eb E F F# G Ab A Bb B");
    }

    #[test]
    fn a_preference_moves_ties_only() {
        let major = Scale::named("major").unwrap();
        let wish = |typed, prefer| RootWish { typed, prefer };
        let check = |class: u8, prefer: Preference, expected: &str| {
            assert_eq!(
                concert_root(class, &major, wish(None, Some(prefer))).to_string(),
                expected
            );
        };
        check(6, Preference::Sharps, "F#");
        check(6, Preference::Flats, "Gb");
        check(1, Preference::Sharps, "Db");
        check(8, Preference::Sharps, "Ab");
        check(3, Preference::Sharps, "Eb");
    }

    #[test]
    fn no_third_no_tonic_signature() {
        let check = |scale: &str, root: &str, too_far: bool| {
            let scale = Scale::named(scale).unwrap();
            assert_eq!(cost(name(root), &scale).0, too_far, "{root} {}", scale.name);
        };
        check("natural minor", "Db", true); // eight flats
        check("melodic minor", "Db", true);
        check("natural minor", "Ab", false); // seven
        check("major", "G#", true);
        check("major", "C#", false);
        check("suspended pentatonic", "G#", false);
    }

    fn check_pair(scale: &str, class: u8, instrument: &str, wish: &str, expected: [&str; 2]) {
        let horn = Instrument::named(instrument).unwrap().written_to_sounding;
        let scale = Scale::named(scale).unwrap();
        let wish = RootWish {
            typed: wish.parse().ok(),
            prefer: match wish {
                "sharps" => Some(Preference::Sharps),
                "flats" => Some(Preference::Flats),
                _ => None,
            },
        };
        let Root { concert, written } = Root::sounding(class, horn, &scale, wish);
        let found = [concert, written].map(|name| name.to_string());
        assert_eq!(
            found, expected,
            "{class} {} {instrument} {wish:?}",
            scale.name
        );
    }

    #[test]
    fn a_typed_name_stays_on_a_true_tie() {
        check_pair("major", 6, "flute", "", ["Gb", "Gb"]);
        check_pair("major", 6, "flute", "F#", ["F#", "F#"]);
        check_pair("major", 6, "flute", "Gb", ["Gb", "Gb"]);
        check_pair("major", 6, "trombone", "sharps", ["F#", "F#"]);
        check_pair("major", 1, "flute", "C#", ["Db", "Db"]); // no tie
        check_pair("melodic minor", 1, "flute", "Db", ["C#", "C#"]);
        check_pair("natural minor", 6, "flute", "Gb", ["F#", "F#"]); // no twin in minor
        check_pair("dorian", 8, "flute", "", ["Ab", "Ab"]);
        check_pair("dorian", 8, "flute", "G#", ["G#", "G#"]);
        check_pair("major", 3, "flute", "D#", ["Eb", "Eb"]); // no choice
        check_pair("major", 6, "flute", "C#", ["Gb", "Gb"]); // of another root
        // a typed name goes before a preference
        let horn = Interval::UNISON;
        let major = Scale::named("major").unwrap();
        let wish = RootWish {
            typed: Some(name("F#")),
            prefer: Some(Preference::Flats),
        };
        assert_eq!(Root::sounding(6, horn, &major, wish).concert, name("F#"));
    }

    #[test]
    fn a_horn_names_the_concert_root_that_its_own_follows_from() {
        check_pair("major", 6, "alto saxophone", "F#", ["Gb", "Eb"]);
        check_pair("major", 6, "b-flat trumpet", "F#", ["Gb", "Ab"]);
        check_pair("major", 6, "horn in f", "F#", ["Gb", "Db"]);
        check_pair("major", 6, "a clarinet", "", ["F#", "A"]);
        check_pair("major", 6, "alto flute", "", ["F#", "B"]);
        check_pair("dorian", 8, "alto saxophone", "G#", ["Ab", "F"]);
        check_pair("dorian", 8, "a clarinet", "", ["G#", "B"]);
        check_pair("major", 4, "tenor saxophone", "", ["E", "F#"]); // the written names tie
        check_pair("major", 4, "tenor saxophone", "flats", ["E", "Gb"]);
        check_pair("major", 1, "alto saxophone", "C#", ["Db", "Bb"]);
        check_pair("natural minor", 1, "alto saxophone", "", ["C#", "Bb"]); // no tie: C# stays
    }

    fn check_from_written(scale: &str, class: u8, instrument: &str, typed: &str, pair: [&str; 2]) {
        let horn = Instrument::named(instrument).unwrap().written_to_sounding;
        let scale = Scale::named(scale).unwrap();
        let wish = RootWish {
            typed: typed.parse().ok(),
            prefer: None,
        };
        let Root { concert, written } = Root::written(class, horn, &scale, wish);
        let found = [concert, written].map(|name| name.to_string());
        assert_eq!(found, pair, "{class} {} {instrument} {typed}", scale.name);
    }

    #[test]
    fn written_roots_are_the_same_for_all_horns() {
        check_from_written("major", 6, "flute", "F#", ["F#", "F#"]);
        check_from_written("major", 6, "alto saxophone", "F#", ["A", "F#"]);
        check_from_written("major", 6, "tenor saxophone", "F#", ["E", "F#"]);
        check_from_written("major", 6, "tenor saxophone", "", ["E", "Gb"]);
        check_from_written("major", 8, "tenor saxophone", "", ["Gb", "Ab"]); // from A flat: G flat
        check_from_written("major", 9, "a clarinet", "", ["F#", "A"]);
        check_from_written("major", 4, "e-flat clarinet", "", ["G", "E"]);
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
            let root = Root {
                concert: name(concert),
                written,
            };
            assert_eq!(root.written_to_sounding(horn), printed);
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
            let sounding = Root::sounding(class, horn, scale, RootWish::default());
            prop_assert_eq!(sounding.concert.class(), class);
            let below = Root::written(class, horn, scale, RootWish::default());
            prop_assert_eq!(below.written.class(), class);
            for Root { concert, written } in [sounding, below] {
                let printed = transposition(written, concert, horn);
                prop_assert_eq!(written + printed, concert);
                prop_assert_eq!(printed.semitones(), horn.semitones());
            }
            let Root { concert, written } = sounding;
            let printed = transposition(written, concert, horn);
            prop_assert_eq!(printed.semitones(), horn.semitones());
            prop_assert!((printed.steps() - horn.steps()).abs() <= 1);
        }
    }
}
