//! Chord symbols: `harmony` as the file writes it, children in any order.

use theory::{Chord, ChordDegree, ChordSymbol, Degree, DegreeChange, Interval, Mode, PitchName};

use crate::chord_kind::NONE;
use crate::chord_match::matched;
use crate::element::Element;
use crate::key::Key;
use crate::pitch::{alteration, name};
use crate::shown::shown;
use crate::symbol_kind::SymbolKind;
use crate::time::integer;

/// A chord symbol as it is written, with what was guessed for it.
///
/// # Errors
/// The element at fault, and why.
pub(crate) fn symbol(
    harmony: &Element,
    key: Option<Key>,
) -> Result<(ChordSymbol, Vec<String>), (&'static str, String)> {
    let mut guesses = Vec::new();
    let first = first_chord(harmony, &mut guesses);
    let child = |name: &str| first.iter().copied().find(|child| child.name() == name);
    let kind = child("kind");
    let text = kind
        .and_then(|kind| kind.attribute("text"))
        .filter(|text| !text.is_empty());
    let said_kind = match kind.map(Element::text) {
        Some(kind) if !kind.is_empty() => kind,
        _ if text.is_some() => "",
        _ => {
            guesses.push("the chord has no kind: a major triad was taken".to_owned());
            "major"
        }
    };
    let mut changes = Vec::new();
    for degree in first.iter().filter(|child| child.name() == "degree") {
        match change(degree, said_kind) {
            Ok((change, guess)) => {
                changes.push(change);
                guesses.extend(guess);
            }
            Err(why) => guesses.push(why),
        }
    }
    let said = SymbolKind {
        kind: said_kind,
        text,
        changes: &changes,
    };
    let found = matched(said).ok_or_else(|| ("kind", "the chord is unknown".to_owned()))?;
    guesses.extend(found.guesses);
    if found.chord.is_none() || said_kind == NONE {
        let symbol = ChordSymbol {
            root: PitchName::from_fifths(0),
            chord: found.chord,
            bass: None,
        };
        return Ok((symbol, guesses));
    }
    let root = root(&first, key, &mut guesses)?;
    let bass = bass(&first, root, &found.tones, &mut guesses)?;
    let symbol = ChordSymbol {
        root,
        chord: found.chord,
        bass,
    };
    Ok((symbol, guesses))
}

/// The children of the first of several chords stacked on each other (`V of
/// II`).
fn first_chord<'e>(harmony: &'e Element, guesses: &mut Vec<String>) -> Vec<&'e Element> {
    let is_root = |child: &Element| matches!(child.name(), "root" | "numeral" | "function");
    let roots = harmony.inside.iter().filter(|child| is_root(child)).count();
    if roots < 2 {
        return harmony.inside.iter().collect();
    }
    guesses.push("several chords stand in one symbol: the first was taken".to_owned());
    let mut seen = 0;
    harmony
        .inside
        .iter()
        .take_while(|child| {
            seen += usize::from(is_root(child));
            seen < 2
        })
        .collect()
}

fn root(
    first: &[&Element],
    key: Option<Key>,
    guesses: &mut Vec<String>,
) -> Result<PitchName, (&'static str, String)> {
    for child in first {
        match child.name() {
            "root" => {
                let (root, guess) = name(child, "root-step", "root-alter")?;
                guesses.extend(guess);
                return Ok(root);
            }
            "numeral" | "function" => {
                let element = if child.name() == "numeral" {
                    "numeral"
                } else {
                    "function"
                };
                let degree = if element == "numeral" {
                    numeral(child)
                } else {
                    roman(child.text())
                };
                let degree = degree.ok_or_else(|| {
                    (
                        element,
                        "the chord's place in its key can't be read".to_owned(),
                    )
                })?;
                let key = key.ok_or_else(|| {
                    (
                        element,
                        "the chord is named by its place in a key, but there is no key".to_owned(),
                    )
                })?;
                let root = in_key(degree, key);
                guesses.push(format!(
                    "the root {} was worked out from the key",
                    root.signs()
                ));
                return Ok(root);
            }
            _ => {}
        }
    }
    Err(("harmony", "the chord has no root".to_owned()))
}

fn numeral(numeral: &Element) -> Option<Degree> {
    let number =
        integer(numeral.said("numeral-root")?).filter(|number| (1..=7).contains(number))?;
    let alteration = match numeral.said("numeral-alter") {
        Some(text) => alteration(text).ok()?.0,
        None => 0,
    };
    Some(Degree::new(
        u8::try_from(number).ok()?,
        i8::try_from(alteration).ok()?,
    ))
}

/// `ii`, `V`, `bVI`, `#iv`.
fn roman(text: &str) -> Option<Degree> {
    const NUMERALS: [&str; 7] = ["i", "ii", "iii", "iv", "v", "vi", "vii"];
    let (alteration, rest) = match text.trim().chars().next()? {
        'b' | '♭' => (-1, text.trim().trim_start_matches(['b', '♭'])),
        '#' | '♯' => (1, text.trim().trim_start_matches(['#', '♯'])),
        _ => (0, text.trim()),
    };
    let numeral: String = rest
        .chars()
        .take_while(|letter| matches!(letter.to_ascii_lowercase(), 'i' | 'v'))
        .collect();
    let numeral = numeral.to_ascii_lowercase();
    let place = NUMERALS.iter().position(|name| *name == numeral)?;
    Some(Degree::new(u8::try_from(place + 1).ok()?, alteration))
}

/// The note on a degree of a key; a minor key's are those of natural minor.
fn in_key(degree: Degree, key: Key) -> PitchName {
    let minor = key.mode == Some(Mode::Minor);
    let tonic = PitchName::from_fifths(key.fifths + if minor { 3 } else { 0 });
    let lowered = minor && matches!(degree.number, 3 | 6 | 7);
    let own = Degree::new(degree.number, degree.alteration - i8::from(lowered));
    tonic + own.interval()
}

/// The bass that is written, or that an inversion names.
fn bass(
    first: &[&Element],
    root: PitchName,
    tones: &[Degree],
    guesses: &mut Vec<String>,
) -> Result<Option<PitchName>, (&'static str, String)> {
    let child = |name: &str| first.iter().copied().find(|child| child.name() == name);
    if let Some(bass) = child("bass") {
        let (bass, guess) = name(bass, "bass-step", "bass-alter")?;
        guesses.extend(guess);
        return Ok(Some(bass).filter(|bass| *bass != root));
    }
    let Some(inversion) = child("inversion").map(Element::text) else {
        return Ok(None);
    };
    let which = integer(inversion).and_then(|number| u8::try_from(number).ok());
    // The first inversion stands on the third, or on what stands for it.
    let places: &[u8] = match which {
        Some(0) => return Ok(None),
        Some(1) => &[3, 4, 2],
        Some(2) => &[5],
        Some(3) => &[7, 6],
        _ => &[],
    };
    let tone = places.iter().find_map(|place| {
        tones
            .iter()
            .find(|tone| tone.number == *place)
            .map(|tone| root + tone.interval())
    });
    if tone.is_none() {
        guesses.push(format!(
            "the chord has no tone for inversion {}: its root was kept in the bass",
            shown(inversion)
        ));
    }
    Ok(tone)
}

/// A degree, with a word on what was guessed for it.
///
/// # Errors
/// Why it was left out.
fn change(degree: &Element, kind: &str) -> Result<(ChordDegree, Option<String>), String> {
    let text = degree.said("degree-value").unwrap_or_default();
    let value = integer(text)
        .filter(|value| (1..=13).contains(value))
        .and_then(|value| u8::try_from(value).ok())
        .ok_or_else(|| {
            format!(
                "a degree of {} was left out: degrees go from 1 to 13",
                shown(text)
            )
        })?;
    let (alter, mut guess) = match degree.said("degree-alter") {
        Some(text) => alteration(text).map_err(|why| format!("a degree was left out: {why}"))?,
        None => (0, None),
    };
    let change = match degree.said("degree-type") {
        Some("add") => DegreeChange::Add,
        Some("alter") => DegreeChange::Alter,
        Some("subtract") => DegreeChange::Subtract,
        other => {
            let has = crate::chord_kind::tones(kind).unwrap_or_default();
            let (change, word) = if has.iter().any(|tone| tone.number == value) {
                (DegreeChange::Alter, "alter")
            } else {
                (DegreeChange::Add, "add")
            };
            guess = Some(format!(
                "a degree's type {} is none of add, alter, subtract: {word} was taken",
                shown(other.unwrap_or_default())
            ));
            change
        }
    };
    let alter = i8::try_from(alter).unwrap_or(0);
    Ok((
        ChordDegree {
            change,
            value,
            alter,
        },
        guess,
    ))
}

/// The symbol at another pitch; N.C. has none.
pub(crate) fn moved(symbol: &ChordSymbol, by: Interval) -> ChordSymbol {
    if Chord::is_none(&symbol.chord) {
        symbol.clone()
    } else {
        symbol.transposed(by)
    }
}
