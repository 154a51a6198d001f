//! Which horn a part is for: by its name, its instrument's name or sound, or,
//! where only the transposition is there, the horn that mostly has it.

use lesson::Phrase;
use theory::Instrument;

/// Half steps that a part sounds above what is written, and the horn that
/// first comes to mind (common practice).
const BY_TRANSPOSITION: [(i16, &str); 9] = [
    (-2, "b-flat-treble"),
    (-9, "e-flat-treble"),
    (-7, "f-treble"),
    (-14, "tenor-saxophone"),
    (-21, "baritone-saxophone"),
    (-3, "a-clarinet"),
    (3, "e-flat-clarinet"),
    (-5, "alto-flute"),
    (12, "piccolo"),
];

/// The horn, if one is found that sounds as the part does, and whether only
/// its transposition speaks for it.
pub(crate) fn part_horn(phrase: &Phrase) -> Option<(Instrument, bool)> {
    let said = &phrase.played_by;
    let names = [&said.part, &said.instrument];
    // In keys that were renamed for the horn the letters differ.
    let sounds = |instrument: &Instrument| {
        instrument.written_to_sounding.semitones() == phrase.written_to_sounding.semitones()
    };
    let named = names
        .into_iter()
        .flatten()
        .filter_map(|name| by_name(name))
        .find(&sounds);
    if let Some(instrument) = named {
        return Some((instrument, false));
    }
    let by_sound = said.sound_id.as_deref().and_then(|id| {
        let of_sound = |instrument: &Instrument| instrument.sound_id == id;
        Instrument::catalogue()
            .into_iter()
            .find(|instrument| of_sound(instrument) && sounds(instrument))
    });
    if let Some(instrument) = by_sound {
        return Some((instrument, false));
    }
    let half_steps = phrase.written_to_sounding.semitones();
    let (_, id) = BY_TRANSPOSITION.iter().find(|(by, _)| *by == half_steps)?;
    Some((Instrument::named(id).ok().filter(sounds)?, true))
}

/// A name as scores write it: `Alto Saxophone 2`, `1st Trumpet in Bb`.
fn by_name(name: &str) -> Option<Instrument> {
    let plain = |word: &&str| {
        let word = word.trim_matches(['.', ',', '(', ')']);
        let lower = word.to_lowercase();
        let numeral = matches!(lower.as_str(), "i" | "ii" | "iii" | "iv" | "solo");
        let ordinal = lower
            .chars()
            .next()
            .is_some_and(|first| first.is_ascii_digit());
        !(word.is_empty() || numeral || ordinal)
    };
    let words: Vec<&str> = name.split_whitespace().filter(plain).collect();
    Instrument::named(name)
        .or_else(|_| Instrument::named(&words.join(" ")))
        .ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_as_scores_write_them() {
        let check = |name: &str, id: Option<&str>| {
            assert_eq!(
                by_name(name).map(|found| found.id.into_owned()).as_deref(),
                id,
                "{name}"
            );
        };
        check("Alto Saxophone 2", Some("alto-saxophone"));
        check("2nd Trumpet in Bb", Some("b-flat-trumpet"));
        check("Flute I", Some("flute"));
        check("Melody", None);
    }

    #[test]
    fn horns_have_the_transposition_they_are_named_for() {
        for (by, id) in BY_TRANSPOSITION {
            let instrument = Instrument::named(id).unwrap();
            assert_eq!(instrument.written_to_sounding.semitones(), by, "{id}");
        }
    }
}
