//! The text of a chord symbol against its kind and degrees: which of them is
//! believed.

use theory::{Chord, Degree, DegreeChange};

use crate::chord_degree::same_place;
use crate::shown::shown;
use crate::symbol_kind::SymbolKind;

/// Whether kind and degrees only spell out the chord that the text names: the
/// kind's third and seventh are the chord's, or of a suspension's making, and
/// each degree changes a place where the chord has a tone of its own. The text
/// is then the plainer of the two, and nothing is applied twice.
pub(crate) fn spelled_out(text: &Chord, said: SymbolKind<'_>, tones: &[Degree]) -> bool {
    if said.changes.is_empty() || text.bass().is_some() {
        return false;
    }
    let named = text.degrees();
    let at = |tones: &[Degree], number: u8| {
        tones
            .iter()
            .find(|tone| same_place(tone.number, number))
            .copied()
    };
    let alike = |number: u8| {
        at(named, number).map(|tone| tone.alteration)
            == at(tones, number).map(|tone| tone.alteration)
    };
    let added_seventh = said
        .changes
        .iter()
        .any(|change| change.value == 7 && at(named, 7).is_some());
    let changed = said.changes.iter().all(|change| {
        let own = at(named, change.value);
        match change.change {
            DegreeChange::Subtract => own.is_none(),
            DegreeChange::Add | DegreeChange::Alter => own.is_some_and(|own| {
                change.value == 7 || own.alteration == change.alter || change.alter == 0
            }),
        }
    });
    // What the text alone has is what its own degrees say: nothing beyond the
    // places that kind and degrees name.
    let within = named.iter().all(|tone| at(tones, tone.number).is_some());
    alike(3) && (alike(7) || added_seventh) && changed && within
}

/// What the text knows better than kind and degrees do.
pub(crate) fn by_text(
    chord: Chord,
    text: Option<Chord>,
    said: SymbolKind<'_>,
    tones: &[Degree],
) -> (Chord, Option<String>) {
    let Some(text) = text.filter(|text| text.id() != chord.id()) else {
        return (chord, None);
    };
    // An altered dominant has no one formula (common practice): whatever
    // degrees spell it, the text names it.
    if text.id() == "7alt" && tones.iter().all(is_altered) {
        return (text, None);
    }
    if !said.changes.is_empty() {
        return (chord, None);
    }
    let more =
        text.musicxml_kind() == said.kind || tones.iter().all(|tone| text.degrees().contains(tone));
    let guess = |taken: &Chord| {
        Some(format!(
            "the text says {}, the kind {}: {} was taken",
            shown(said.text.unwrap_or_default()),
            shown(said.kind),
            name(taken)
        ))
    };
    if more {
        let guess = guess(&text);
        (text, guess)
    } else {
        let guess = guess(&chord);
        (chord, guess)
    }
}

/// Tones of an altered dominant.
fn is_altered(tone: &Degree) -> bool {
    match tone.number % 7 {
        1 | 3 => tone.alteration == 0,
        0 => tone.alteration == -1,
        _ => tone.alteration != 0,
    }
}

/// What messages call a chord.
pub(crate) fn name(chord: &Chord) -> String {
    match chord.suffix() {
        "" => "a major triad".to_owned(),
        suffix => suffix.to_owned(),
    }
}
